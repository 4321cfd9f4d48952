/* Numbers of parts in circles beside a view, with a line to what they number: in a row over it and in one
 * below it, those of one item side by side on one line. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double RADIUS = 3, APART = 2.5, DOT = 0.5;

static int by_anchor(const void *a, const void *b)
{
    const struct sheet_balloon *p = a, *q = b;
    return p->x != q->x ? (p->x > q->x) - (p->x < q->x) : (p->first > q->first) - (p->first < q->first);
}

static double wide(const struct sheet_balloon *b) { return b->n * 2 * RADIUS + APART; }

/* Their left ends, in order: each as near over its part as those beside it let it be. False: no room. */
static bool place(const struct sheet_balloon *b, int n, double low, double high, double *left)
{
    double at = low;
    for (int i = 0; i < n; i++) {
        left[i] = fmax(at, b[i].x - b[i].n * RADIUS);
        at = left[i] + wide(&b[i]);
    }
    at = high;
    for (int i = n - 1; i >= 0; i--) {
        left[i] = fmin(left[i], at - wide(&b[i]));
        at = left[i];
    }
    return !n || left[0] > low - 1e-6;
}

static void one(struct draw_sheet *s, const struct sheet_balloon *b, double left, double y)
{
    double middle = left + b->n * RADIUS, side = y > b->y ? -RADIUS : RADIUS;
    draw_line(s, DRAW_FINE, middle, y + side, b->x, b->y);
    draw_circle(s, DRAW_WIDE, b->x, b->y, DOT / 2);
    for (int i = 0; i < b->n; i++) {
        char number[16];
        double x = left + (2 * i + 1) * RADIUS;
        snprintf(number, sizeof number, "%d", b->lines[i]);
        draw_circle(s, DRAW_NARROW, x, y, RADIUS);
        draw_words(s, x, y - SHEET_LETTERS / 2, SHEET_LETTERS, DRAW_MIDDLE, 2 * RADIUS - 1, number);
    }
}

bool sheet_balloons(struct draw_sheet *s, struct sheet_balloon *b, int n, double y, double low, double high)
{
    double *left = base_alloc((size_t)n * sizeof *left + 1);
    if (n)
        qsort(b, (size_t)n, sizeof *b, by_anchor);
    bool fits = place(b, n, low, high, left);
    for (int i = 0; i < n && fits; i++)
        one(s, &b[i], left[i], y);
    free(left);
    return fits;
}
