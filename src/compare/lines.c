/* lines.c - the differences as lines for people
 *
 *     typed differently: 2              as it was        as it is
 *       die_plate.thickness                 32 mm           36 mm
 *       posts.length
 *         as it was: size_over(guide_post.length, ...)
 *         as it is: 200 mm
 *
 * Two texts stand in their columns where both fit, else below the name.
 */

#include "compare/compare.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct lines {
    const struct compare *c;
    const char *const *names;
    int width, side; /* side: columns of one side */
    compare_line_fn *tell;
    void *arg;
};

static int columns(const char *text) { return base_columns(text, strlen(text)); }

/* Bytes of TEXT that fit into ROOM columns, ended at a blank where there is one. */
static size_t fitting(const char *text, int room)
{
    size_t n = 0, blank = 0, step;
    for (int at = 0; text[n]; n += step) {
        step = base_step(text + n, strnlen(text + n, 4), &at);
        if (at > room)
            return blank ? blank : n ? n : step;
        if (text[n] == ' ')
            blank = n;
    }
    return n;
}

/* WORDS wrapped, all lines of it leading to PATH. */
static void put_words(struct lines *l, int indent, const char *words, const char *path)
{
    for (int more = 0; *words || !more; more = 2) {
        int room = l->width - indent - more;
        size_t n = fitting(words, room > 20 ? room : 20);
        char *line = base_format("%*s%.*s", indent + more, "", (int)n, words);
        l->tell(l->arg, line, path);
        free(line);
        words += n + strspn(words + n, " ");
    }
}

static void put_columns(struct lines *l, const char *name, const char *first, const char *second,
                        const char *path)
{
    int room = l->width - 2 * l->side;
    char *line = base_format("%s%*s%*s%s%*s%s", name, room - columns(name), "", l->side - columns(first), "",
                             first, l->side - columns(second), "", second);
    l->tell(l->arg, line, path);
    free(line);
}

static char *name_of(const struct compare_row *r)
{
    return base_format("  %s%s", r->name, !r->stateful ? "" : r->state == DIESET_NEW ? ", new" : ", ground");
}

static void put_row(struct lines *l, const struct compare_row *r)
{
    const char *first = r->text[COMPARE_FIRST] ? r->text[COMPARE_FIRST] : "-";
    const char *second = r->text[COMPARE_SECOND] ? r->text[COMPARE_SECOND] : "-";
    char *name = name_of(r),
         *path = r->what == COMPARE_FINDING ? NULL : base_copy_n(r->name, strcspn(r->name, " :"));
    if (columns(first) < l->side && columns(second) < l->side && columns(name) <= l->width - 2 * l->side) {
        put_columns(l, name, first, second, path);
    } else {
        put_words(l, 2, name + 2, path);
        for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++) {
            char *words = base_format("%s: %s", l->names[s], s == COMPARE_FIRST ? first : second);
            put_words(l, 4, words, path);
            free(words);
        }
    }
    free(name);
    free(path);
}

static void put_rows(struct lines *l, enum compare_what what, const char *title)
{
    if (!l->c->counts[what])
        return;
    char *head = base_format("%s: %d", title, l->c->counts[what]);
    put_columns(l, head, l->names[COMPARE_FIRST], l->names[COMPARE_SECOND], NULL);
    free(head);
    for (size_t i = 0; i < l->c->rows.count; i++)
        if (l->c->rows.at[i].what == what)
            put_row(l, &l->c->rows.at[i]);
    l->tell(l->arg, "", NULL);
}

/* Those of one side only, or (SIDE COMPARE_SIDES) those that both grade differently. */
static void put_findings(struct lines *l, enum compare_side side)
{
    int n = 0;
    for (size_t i = 0; i < l->c->rows.count; i++) {
        const struct compare_row *r = &l->c->rows.at[i];
        enum compare_side has = r->text[0] && r->text[1] ? COMPARE_SIDES
                                : r->text[0]             ? COMPARE_FIRST
                                                         : COMPARE_SECOND;
        if (r->what != COMPARE_FINDING || has != side)
            continue;
        char *head = side == COMPARE_SIDES ? base_copy("findings graded or waived differently")
                                           : base_format("findings only in: %s", l->names[side]);
        if (n++ == 0)
            put_words(l, 0, head, NULL);
        free(head);
        if (side == COMPARE_SIDES)
            put_row(l, r);
        else
            put_words(l, 2, r->text[side], NULL);
    }
    if (n)
        l->tell(l->arg, "", NULL);
}

void compare_lines(const struct compare *c, const char *const names[COMPARE_SIDES], int width,
                   compare_line_fn *tell, void *arg)
{
    struct lines l = {.c = c, .names = names, .width = width, .side = width / 4, .tell = tell, .arg = arg};
    l.side = l.side > 40 ? 40 : l.side;
    if (!c->rows.count)
        tell(arg, "nothing differs", NULL);
    put_rows(&l, COMPARE_ITEM, "items");
    put_rows(&l, COMPARE_TYPED, "typed differently");
    for (enum compare_side s = COMPARE_FIRST; s <= COMPARE_SIDES; s++)
        put_findings(&l, s);
    put_rows(&l, COMPARE_ORDER, "order lines that differ");
    put_rows(&l, COMPARE_VALUE, "values that differ"); /* the most, so last */
}
