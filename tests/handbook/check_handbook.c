/* The handbook: its records, what is refused, what its formulas may name, its examples; and the shipped
   one. */

#include "book.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char small_book[] =
    "factor wanted : number = 1.5\n"
    "  help Diameters of thread wanted.\n"
    "  range 1 .. 3\n"
    "  source common practice\n"
    "factor play : length = 0.02 mm\n"
    "  source own figure\n"
    "function mass_of\n"
    "  help Mass of a block.\n"
    "  takes long_side : length\n"
    "    help the longer\n"
    "  takes short_side : length = play\n"
    "  takes height : length = 10 mm\n"
    "  let face = long_side * short_side\n"
    "  gives mass = face * height * 7850 kg/m3\n"
    "  source common practice\n"
    "kind stack\n"
    "  single\n"
    "  title stack of plates\n"
    "  help The plates.\n"
    "  asked top : plate\n"
    "  follows high : length = total(plate.thickness)\n"
    "kind plate\n"
    "  plural plates\n"
    "  letter q\n"
    "  group Size\n"
    "  asked thickness : length = 20 mm\n"
    "    range 1 mm .. 400 mm\n"
    "  asked wide : length\n"
    "    detail\n"
    "    decimals 3\n"
    "  group Way\n"
    "  asked moves : choice = \"bed\"\n"
    "    choices \"bed\", \"slide, free\"\n"
    "  asked steel : text = \"S235\"\n"
    "  usual weight : mass = mass_of(wide, wide, height: thickness)\n"
    "    help Without holes.\n"
    "    help Rounded.\n"
    "  measure turned_miss : length\n"
    "kind screws\n"
    "  title screws\n"
    "  lay\n"
    "  asked head_in : plate\n"
    "  asked thread_in : plate\n"
    "  asked size : text = \"M8\"\n"
    "  asked diameter : length = 8 mm\n"
    "  usual long : length = head_in.thickness + wanted * diameter\n";

struct handbook *read_more(const char *text)
{
    const char *texts[] = {small_book, text}, *names[] = {"small.txt", "more.txt"};
    struct handbook *h = NULL;
    ck_ok(handbook_read(texts, names, 2, NULL, &h, why));
    ck_assert_ptr_nonnull(h);
    return h;
}

void read_refused(const char *text, struct base_diag *why)
{
    const char *texts[] = {small_book, text}, *names[] = {"small.txt", "more.txt"};
    struct handbook *h = (struct handbook *)1;
    *why = (struct base_diag){0};
    ck_assert_msg(handbook_read(texts, names, 2, NULL, &h, why) != BASE_OK, "taken:\n%s", text);
    ck_assert_ptr_null(h);
}

/* ---- the shipped texts ------------------------------------------------------------------------- */

static int in_texts(const struct dirent *e)
{
    size_t n = strlen(e->d_name);
    return n > 4 && strcmp(e->d_name + n - 4, ".txt") == 0;
}

void texts_read(struct texts *t)
{
    struct dirent **found;
    *t = (struct texts){0};
    int n = scandir("data/handbook", &found, in_texts, alphasort);
    ck_assert_int_gt(n, 0);
    ck_assert_int_le(n, (int)COUNT_OF(t->text));
    for (; t->n < n; t->n++) {
        char *path = base_format("data/handbook/%s", found[t->n]->d_name);
        t->text[t->n] = read_text(path);
        t->name[t->n] = base_copy(found[t->n]->d_name);
        free(path);
        free(found[t->n]);
    }
    free(found);
}

void texts_done(struct texts *t)
{
    for (int i = 0; i < t->n; i++) {
        free(t->text[i]);
        free(t->name[i]);
    }
    t->n = 0;
}

int texts_change(struct texts *t, const char *old, const char *now)
{
    int which = -1;
    for (int i = 0; i < t->n; i++) {
        const char *found = strstr(t->text[i], old);
        if (!found)
            continue;
        ck_assert_msg(which < 0 && !strstr(found + 1, old), "\"%s\" stands in several places", old);
        char *changed = base_format("%.*s%s%s", (int)(found - t->text[i]), t->text[i], now,
                                    found + strlen(old));
        free(t->text[i]);
        t->text[i] = changed;
        which = i;
    }
    ck_assert_msg(which >= 0, "\"%s\" stands nowhere", old);
    return which;
}

enum base_err texts_load(const struct texts *t, struct handbook **out, struct base_diag *why)
{
    return handbook_read((const char *const *)t->text, (const char *const *)t->name, t->n, "data", out, why);
}

int main(void)
{
    Suite *s = suite_create("handbook");
    suite_add_tcase(s, records_case());
    suite_add_tcase(s, refusals_case());
    suite_add_tcase(s, types_case());
    suite_add_tcase(s, eval_case());
    suite_add_tcase(s, shipped_case());
    return run_suite(s);
}
