/* tui/caution.c - what can hurt: at the foot of panes and views, and whole in a list of its own
 *
 * The words that defer to local codes and the licensed person come first and are never cut. What has no room
 * below them is read in the list, which scrolls.
 */

#include "tui/tui.h"

#include "tui/act.h"

#include <stdlib.h>
#include <string.h>

/* ---- at the foot ---- */

static void add_text(struct base_text *out, const char *text)
{
    base_text_addf(out, "%s%s", out->length ? " " : "", text);
}

void caution_words(const struct tui *t, int item, bool drilled, struct base_text *out)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(t->d, item, drilled, &list);
    for (int i = 0; i < n; i++)
        add_text(out, list[i]->text);
    free(list);
}

bool caution_any(const struct tui *t, int item)
{
    const struct handbook_caution **list;
    int n = item < 0 ? 0 : dieset_cautions(t->d, item, false, &list);
    if (item >= 0)
        free(list);
    return n > handbook_caution_count(dieset_handbook(t->d));
}

static int rows_of(const char *text, int width)
{
    size_t skip;
    int n = 0;
    for (; *text; n++)
        text += paint_wrap(text, width, &skip) + skip;
    return n;
}

/* Bytes of TEXT to the end of its first sentence. */
static size_t sentence(const char *text)
{
    const char *end = strstr(text, ". ");
    return end ? (size_t)(end - text) + 1 : strlen(text);
}

/* Names the key of the list; its blank is put in when it is drawn, so that no line ends there. */
#define MORE "!_more"

/* What is shown of WORDS in MOST rows of WIDTH; yours to free(). */
static char *fitted(const char *words, int width, int most)
{
    size_t n = sentence(words);
    if (!words[n] || rows_of(words, width) <= most)
        return base_copy(words);
    char *best = base_format("%.*s " MORE, (int)n, words);
    while (words[n]) {
        n += strspn(words + n, " ");
        n += sentence(words + n);
        char *longer = base_format("%.*s " MORE, (int)n, words);
        bool fits = words[n] && rows_of(longer, width) <= most;
        free(fits ? best : longer);
        if (!fits)
            break;
        best = longer;
    }
    return best;
}

int caution_foot(struct tui *t, struct area a, const char *words, int most, bool draw)
{
    int width = a.w - 2;
    char *text = fitted(words, width, most);
    int rows = rows_of(text, width), y = a.h - rows;
    size_t n, skip;
    for (const char *p = text; draw && *p; p += n + skip) {
        n = paint_wrap(p, width, &skip);
        char *line = base_copy_n(p, n), *more = strstr(line, MORE);
        if (more)
            more[1] = ' ';
        paint_text(&t->p, a, y++, 1, INK_DIM, line);
        free(line);
    }
    free(text);
    return rows;
}

struct area caution_below(struct tui *t, struct area a, int item, bool drilled, int most)
{
    struct base_text words = {0};
    caution_words(t, item, drilled, &words);
    a.h -= caution_foot(t, a, base_text_get(&words), most, true);
    base_text_done(&words);
    return a;
}

/* ---- whole ---- */

/* What the list tells, each with where it has it from; NULL: from the job. */
struct told { BASE_VEC(char *) texts, sources; };

static void tell(struct told *all, const char *text, const char *source)
{
    for (size_t i = 0; i < all->texts.count; i++)
        if (strcmp(all->texts.at[i], text) == 0)
            return;
    base_vec_push(&all->texts, base_copy(text));
    base_vec_push(&all->sources, source ? base_copy(source) : NULL);
}

static void tell_cautions(struct tui *t, struct told *all, int item)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(t->d, item, false, &list);
    for (int i = 0; i < n; i++)
        tell(all, list[i]->text, list[i]->source);
    free(list);
}

static void tell_stamps(struct tui *t, struct told *all)
{
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        struct base_text stamp = {0};
        if (dieset_stamp(t->d, i, &stamp))
            tell(all, base_text_get(&stamp), NULL);
        base_text_done(&stamp);
    }
}

static void tell_wrapped(const char *text, int width, const char *in, lines_tell_fn *to, void *arg)
{
    size_t n, skip;
    for (const char *p = text; *p; p += n + skip) {
        n = paint_wrap(p, width - (int)strlen(in), &skip);
        char *line = base_format("%s%.*s", p == text ? in : in[0] ? in : "   ", (int)n, p);
        to(arg, line, NULL);
        free(line);
    }
}

static void make(const void *source, int width, lines_tell_fn *to, void *arg)
{
    const struct told *all = source;
    int room = width < LAYOUT_READ ? width : LAYOUT_READ;
    for (size_t i = 0; i < all->texts.count; i++) {
        tell_wrapped(all->texts.at[i], room - 3, "", to, arg);
        if (all->sources.at[i])
            tell_wrapped(all->sources.at[i], room, "      ", to, arg);
    }
}

static void drop(void *source)
{
    struct told *all = source;
    for (size_t i = 0; i < all->texts.count; i++) {
        free(all->texts.at[i]);
        free(all->sources.at[i]);
    }
    base_vec_done(&all->texts);
    base_vec_done(&all->sources);
    free(all);
}

/* Those of the item at the cursor stand before those of the rest of the job. */
void act_cautions(struct tui *t)
{
    struct told *all = base_alloc(sizeof *all);
    int item = *t->form_item ? dieset_find_item(t->d, t->form_item) : -1;
    if (item >= 0)
        tell_cautions(t, all, item);
    tell_cautions(t, all, -1);
    tell_stamps(t, all);
    lines_open_made(t, "cautions: what can hurt", all, make, drop);
}
