/* map.c - two values at once as a map in characters: which finding stands where */

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LETTERS = 26, NONE = -1 };

/* Findings above note that stand open at some points and not at others, gravest first, as they are lettered.
 * */
struct letters { int finding[LETTERS], n, hidden; };

static bool stands(const struct explore *x, size_t finding, int point)
{
    return x->findings.at[finding].grades[point] >= (int)HANDBOOK_CAUTION;
}

static int points_of(const struct explore *x, size_t finding)
{
    int n = 0;
    for (int i = 0; i < x->n; i++)
        n += stands(x, finding, i);
    return n;
}

static int taken(const struct explore *x)
{
    int n = 0;
    for (int i = 0; i < x->n; i++)
        n += !x->refused[i];
    return n;
}

static void give_letters(const struct explore *x, struct letters *l)
{
    int all = taken(x);
    for (size_t i = 0; i < x->findings.count; i++) {
        int n = points_of(x, i);
        if (n && n < all && l->n < LETTERS)
            l->finding[l->n++] = (int)i;
        else
            l->hidden += n && n < all;
    }
}

/* The gravest lettered one that stands at POINT, or NONE. */
static int letter_at(const struct explore *x, const struct letters *l, int point)
{
    for (int i = 0; i < l->n; i++)
        if (stands(x, (size_t)l->finding[i], point))
            return i;
    return NONE;
}

static char mark_at(const struct explore *x, const struct letters *l, int point)
{
    if (x->refused[point])
        return '?';
    int letter = letter_at(x, l, point);
    return (char)(letter == NONE ? '.' : 'a' + letter);
}

static const char *bare(const struct explore *x, double at, const char *text,
                        struct handbook_type type, char *buf, size_t size)
{
    if (type.type.sort != FORMULA_NUMBER)
        snprintf(buf, size, "%s", text);
    else
        unit_print_number(at, type.type.dim, x->system, buf, size);
    return buf;
}

static int label_width(const struct explore *x)
{
    char buf[80];
    size_t widest = 0;
    for (int r = 0; r < x->across.n; r++) {
        size_t n = strlen(bare(x, x->across.at[r], x->across.text[r], x->across.type, buf, sizeof buf));
        widest = n > widest ? n : widest;
    }
    return (int)(widest < 16 ? widest : 16);
}

/* Which of N stands in place I of ROOM: all of them where there is room, else evenly chosen. */
static int chosen(int i, int n, int room)
{
    return n <= room ? i : room < 2 ? 0 : (int)((long)i * (n - 1) / (room - 1));
}

static void put_scale(const struct explore *x, int width, int shown, int step, struct base_text *out)
{
    char from[80], to[80];
    bare(x, x->at[0], x->text[0], x->type, from, sizeof from);
    bare(x, x->at[x->columns - 1], x->text[x->columns - 1], x->type, to, sizeof to);
    base_text_addf(out, "%*s  %s", width, "", from);
    int gap = shown * step - (int)strlen(from) - (int)strlen(to);
    base_text_addf(out, "%*s%s\n", gap > 1 ? gap : 1, "", to);
}

static void put_finding(const struct explore_finding *f, struct base_text *out)
{
    base_text_addf(out, "%s: %s%s%s", handbook_grade_text(f->grade), f->title, *f->subject ? ", " : "",
                   f->subject);
}

static void put_legend(const struct explore *x, const struct letters *l, struct base_text *out)
{
    int free_of = 0, all = taken(x), told = 0;
    for (int i = 0; i < x->n; i++)
        free_of += !x->refused[i] && letter_at(x, l, i) == NONE;
    base_text_addf(out, ".  none of these, at %d of %d points\n", free_of, x->n);
    for (int i = 0; i < l->n; i++) {
        base_text_addf(out, "%c  ", 'a' + i);
        put_finding(&x->findings.at[l->finding[i]], out);
        base_text_addf(out, ", at %d\n", points_of(x, (size_t)l->finding[i]));
    }
    if (l->hidden)
        base_text_addf(out, "   %d more that no letter is left for\n", l->hidden);
    if (all < x->n)
        base_text_addf(out, "?  not taken, at %d\n", x->n - all);
    for (size_t i = 0; i < x->findings.count; i++)
        if (all && points_of(x, i) == all) {
            base_text_add(out, told++ ? "; " : "At every point: ");
            put_finding(&x->findings.at[i], out);
        }
    base_text_add(out, told ? ".\n" : "");
}

void explore_map(const struct explore *x, int width, int height, struct base_text *out)
{
    struct letters l = {.n = 0};
    char label[80];
    int side = label_width(x), room = width - side - 3, step = x->columns * 2 <= room ? 2 : 1,
        shown = x->columns < room / step ? x->columns : room / step, rows = x->across.n < height ?
    x->across.n : height; give_letters(x, &l);
    base_text_addf(out, "%s up, %s along%s\n", x->across.path, x->path,
                   x->done < x->n ? "; broken off" : "");
    for (int i = rows - 1; i >= 0; i--) {
        int r = chosen(i, x->across.n, rows);
        bare(x, x->across.at[r], x->across.text[r], x->across.type, label, sizeof label);
        base_text_addf(out, "%*.16s |", side, label);
        for (int c = 0; c < shown; c++)
            base_text_addf(out, "%c%s", mark_at(x, &l, r * x->columns + chosen(c, x->columns, shown)),
                           step > 1 && c + 1 < shown ? " " : "");
        base_text_add(out, "\n");
    }
    put_scale(x, side, shown, step, out);
    put_legend(x, &l, out);
    if (shown < x->columns || rows < x->across.n)
        base_text_add(out, "The map leaves points out; CSV has them all.\n");
}
