/* Sound sets stay quiet, wrong ones are caught: the designs of tests/designs, all in one process.
 *
 *     base spring data/templates/spring-stripper.txt      a job's text
 *     sound back_posts                                    brings no finding above a note
 *       title two posts at the back
 *       like spring                                       a base, or another sound design
 *       set posts lay back_pair on lower_shoe             as in a job: a value, or where a group stands
 *       add plate riser
 *       drop die_backing
 *     wrong no_bushings                                   brings FINDING at GRADE or graver
 *       cause bushings left out                           one cause may have several designs
 *       like spring
 *       drop bushings
 *       finding post-bushing posts                        the rule, and what it is about where that matters
 *       grade fault
 *
 * With DESIGNS=1 all that are missed go to the standard output, with what they bring above a note.
 */

#include "bench.h"

#include "diewright/record.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct base { const char *name; struct bench b; };
struct design { const struct record *r; char name[80]; };

static struct {
    struct handbook *h;
    BASE_VEC(struct record_document) files;
    BASE_VEC(struct base *) bases;
    BASE_VEC(struct design) sound, wrong;
} all;

static void take(const struct record *r)
{
    struct design d = {.r = r};
    const char *rest = record_word(r->rest, d.name, sizeof d.name);
    if (strcmp(r->key, "base") == 0) {
        struct base *b = base_alloc(sizeof *b);
        b->name = base_copy(d.name);
        bench_open_on(&b->b, all.h, rest);
        base_vec_push(&all.bases, b);
    } else if (strcmp(r->key, "sound") == 0) {
        base_vec_push(&all.sound, d);
    } else {
        ck_assert_msg(strcmp(r->key, "wrong") == 0, "line %d: '%s' is no design", r->line, r->key);
        base_vec_push(&all.wrong, d);
    }
}

static void read_folder(const char *files)
{
    glob_t found;
    ck_assert_int_eq(glob(files, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        char *text = read_text(found.gl_pathv[i]);
        struct record_document doc;
        ck_ok(record_read(text, strlen(text), found.gl_pathv[i], &doc, why));
        base_vec_push(&all.files, doc);
        for (const struct record *r = doc.first; r; r = r->next)
            take(r);
        free(text);
    }
    globfree(&found);
}

static void open_all(void)
{
    ck_ok(handbook_load("data", &all.h, why));
    read_folder("tests/designs/sound/*.txt");
    read_folder("tests/designs/wrong/*.txt");
}

static void close_all(void)
{
    for (size_t i = 0; i < all.bases.count; i++) {
        bench_leave(&all.bases.at[i]->b);
        free((char *)all.bases.at[i]->name);
        free(all.bases.at[i]);
    }
    for (size_t i = 0; i < all.files.count; i++)
        record_done(&all.files.at[i]);
    base_vec_done(&all.files);
    base_vec_done(&all.bases);
    base_vec_done(&all.sound);
    base_vec_done(&all.wrong);
    handbook_free(all.h);
}

/* The edits of the design that NAME is like, and of those behind it, into OUT; its base. */
static struct bench *edits_like(const char *name, struct base_text *out);

static struct bench *edits_of(const struct record *r, struct base_text *out)
{
    struct bench *b = edits_like(record_text(r, "like", ""), out);
    for (const struct record *c = r->child; c; c = c->next) {
        const char *how = strcmp(c->key, "set") == 0    ? ""
                          : strcmp(c->key, "add") == 0  ? "+ "
                          : strcmp(c->key, "drop") == 0 ? "- "
                                                        : NULL;
        if (how)
            base_text_addf(out, "%s%s; ", how, c->rest);
    }
    return b;
}

static struct bench *edits_like(const char *name, struct base_text *out)
{
    for (size_t i = 0; i < all.bases.count; i++)
        if (strcmp(all.bases.at[i]->name, name) == 0)
            return &all.bases.at[i]->b;
    for (size_t i = 0; i < all.sound.count; i++)
        if (strcmp(all.sound.at[i].name, name) == 0)
            return edits_of(all.sound.at[i].r, out);
    ck_abort_msg("no base and no sound design is called '%s'", name);
    return NULL;
}

/* Its findings above a note, as lines; with the FINDING of a wrong one *CAUGHT whether it is among all of
   them, at its grade or graver. */
static void judge(const struct design *d, struct base_text *out, bool *caught)
{
    static const char *const grades[] = {"note", "caution", "fault"};
    struct base_text edits = {0};
    struct bench *b = edits_of(d->r, &edits);
    const struct finding *list;
    char rule[80];
    const char *subject = record_word(record_text(d->r, "finding", ""), rule, sizeof rule);
    int least = 0;
    while (least < 2 && strcmp(grades[least], record_text(d->r, "grade", "")) != 0)
        least++;
    struct base_diag why = {0};
    *caught = false;
    bool refused = bench_may_try(b, base_text_get(&edits), &why) != BASE_OK;
    int n = refused ? 0 : findings_judge(b->f, &list);
    if (refused)
        base_text_addf(out, "    refused: %s\n", why.message);
    for (int i = 0; i < n; i++) {
        if (list[i].grade > HANDBOOK_NOTE)
            base_text_addf(out, "    %s: %s: %s\n", handbook_grade_text(list[i].grade), list[i].key,
                           list[i].message);
        *caught = *caught || (strcmp(list[i].rule, rule) == 0 && strstr(list[i].key, subject) &&
                              (int)list[i].grade >= (int)HANDBOOK_NOTE + least);
    }
    bench_drop(b);
    base_text_done(&edits);
}

START_TEST(sound_sets_stay_quiet)
{
    struct base_text loud = {0};
    for (size_t i = 0; i < all.sound.count; i++) {
        struct base_text said = {0};
        bool caught;
        judge(&all.sound.at[i], &said, &caught);
        if (said.length)
            base_text_addf(&loud, "%s:\n%s", all.sound.at[i].name, base_text_get(&said));
        base_text_done(&said);
    }
    ck_assert_msg(!loud.length, "sound sets that bring findings:\n%.3000s", base_text_get(&loud));
    ck_assert_int_ge((int)all.sound.count, 50);
    base_text_done(&loud);
}
END_TEST

START_TEST(wrong_sets_are_caught)
{
    struct base_text missed = {0};
    int n_missed = 0;
    for (size_t i = 0; i < all.wrong.count; i++) {
        const struct design *d = &all.wrong.at[i];
        struct base_text said = {0};
        bool caught;
        judge(d, &said, &caught);
        n_missed += !caught;
        if (!caught)
            base_text_addf(&missed, "%s, %s: no %s '%s'\n%s", d->name, record_text(d->r, "cause", "?"),
                           record_text(d->r, "grade", "?"), record_text(d->r, "finding", "?"),
                           base_text_get(&said));
        base_text_done(&said);
    }
    if (getenv("DESIGNS"))
        printf("%s", base_text_get(&missed));
    ck_assert_msg(!missed.length, "%d of %d wrong sets missed:\n%.3000s", n_missed, (int)all.wrong.count,
                  base_text_get(&missed));
    base_text_done(&missed);
}
END_TEST

/* Each wrong one says its cause, its finding and a grade; no name stands twice. */
START_TEST(the_folders_are_as_large_as_they_say)
{
    int causes = 0;
    for (size_t i = 0; i < all.wrong.count; i++) {
        const struct record *r = all.wrong.at[i].r;
        bool first = true;
        for (size_t k = 0; k < i; k++) {
            const char *cause = record_text(all.wrong.at[k].r, "cause", "");
            first = first && strcmp(cause, record_text(r, "cause", "")) != 0;
            ck_assert_str_ne(all.wrong.at[k].name, all.wrong.at[i].name);
        }
        causes += first;
        const char *grade = record_text(r, "grade", "");
        bool graded = strcmp(grade, "fault") == 0 || strcmp(grade, "caution") == 0 ||
                      strcmp(grade, "note") == 0;
        ck_assert_msg(graded && *record_text(r, "cause", "") && *record_text(r, "finding", ""),
                      "%s tells no cause, finding or grade", all.wrong.at[i].name);
    }
    ck_assert_int_ge((int)all.wrong.count, 100);
    ck_assert_int_ge(causes, 60);
}
END_TEST

TCase *design_tests(void)
{
    TCase *c = tcase_create("designs");
    tcase_set_timeout(c, 120);
    tcase_add_unchecked_fixture(c, open_all, close_all);
    tcase_add_test(c, sound_sets_stay_quiet);
    tcase_add_test(c, wrong_sets_are_caught);
    tcase_add_test(c, the_folders_are_as_large_as_they_say);
    return c;
}
