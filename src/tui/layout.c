/* tui/layout.c - see layout.h
 *
 *     title
 *     stack | swap | section | side     upper half
 *     -plan--------+-findings--------   lower half; the rule between them bears its titles
 *                  |
 *     message
 *     hint
 */

#include "tui/layout.h"

enum { FRAME_ROWS = 3, LEAST_UPPER = 12, LEAST_LOWER = 9, WIDE = 110, WIDER = 160 };

static int least(int a, int b) { return a < b ? a : b; }
static int most(int a, int b) { return a > b ? a : b; }
static int within(int n, int low, int high) { return most(low, least(n, high)); }

static struct layout too_small(int rows, int columns)
{
    struct layout l = {.small = true};
    l.title = (struct area){.h = rows > 0, .w = most(columns, 0)};
    l.body = (struct area){.h = most(rows, 0), .w = most(columns, 0)};
    return l;
}

/* Cut the next column of WIDTH off what is left of the upper half; one column for the bar. */
static struct area cut(struct area *left, int width)
{
    struct area a = {left->y, left->x, left->h, least(width, left->w)};
    int used = least(a.w + 1, left->w);
    left->x += used;
    left->w -= used;
    return a;
}

static void upper(struct layout *l, int columns, int h)
{
    struct area left = {1, 0, h, columns};
    l->stack = cut(&left, columns >= WIDER ? 52 : 44);
    if (columns < WIDE) {
        l->swap = left;
        return;
    }
    l->swap = cut(&left, columns >= WIDER ? 42 : within(columns - 44 - 30, 36, 42));
    if (columns >= WIDER)
        l->section = cut(&left, (left.w - 1) * 45 / 100);
    l->side = left;
}

struct area layout_read(struct area a)
{
    a.w = least(a.w, LAYOUT_READ);
    return a;
}

struct layout layout_main(int rows, int columns, int stack_rows)
{
    if (rows < LAYOUT_LEAST_ROWS || columns < LAYOUT_LEAST_COLUMNS)
        return too_small(rows, columns);
    struct layout l = {0};
    int body = rows - FRAME_ROWS;
    l.title = (struct area){0, 0, 1, columns};
    l.message = (struct area){rows - 2, 0, 1, columns};
    l.hint = (struct area){rows - 1, 0, 1, columns};
    l.body = (struct area){1, 0, body, columns};
    l.alone = rows < LAYOUT_ALL_ROWS || columns < LAYOUT_ALL_COLUMNS;
    if (l.alone) {
        l.stack = l.swap = l.plan = l.findings = l.body;
        return l;
    }
    int high = most(LEAST_UPPER, least(body * 62 / 100, body - LEAST_LOWER));
    int h = within(stack_rows, LEAST_UPPER, high);
    upper(&l, columns, h);
    struct area left = {1 + h, 0, body - h, columns};
    l.plan = cut(&left, within(columns * 37 / 100, 29, 100));
    l.findings = left;
    return l;
}
