/* The plate from above: holes as they are seen there, and their marks. */

#include "sheet/inside.h"

#include <math.h>
#include <stdlib.h>

static const double PI = 3.14159265358979323846;
static const double OVER = 2; /* mm of paper that a centre line runs over the rim */

double sheet_at_x(const struct sheet_view *v, double x) { return v->x + (x - v->left) * v->scale; }
double sheet_at_y(const struct sheet_view *v, double y) { return v->y + (y - v->front) * v->scale; }

static void side(struct draw_sheet *s, const struct sheet_view *v, enum draw_pen pen,
                 const struct shape_side *a, double x, double y)
{
    if (a->radius > 0)
        draw_arc(s, pen, sheet_at_x(v, x + a->cx), sheet_at_y(v, y + a->cy), a->radius * v->scale,
                 atan2(a->y0 - a->cy, a->x0 - a->cx), a->way * a->sweep);
    else
        draw_line(s, pen, sheet_at_x(v, x + a->x0), sheet_at_y(v, y + a->y0), sheet_at_x(v, x + a->x1),
                  sheet_at_y(v, y + a->y1));
}

/* Rings of a round hole, the thread as three quarters of a circle (ISO 6410-1, from memory). */
static void round_hole(struct draw_sheet *s, const struct sheet_view *v, enum draw_pen pen,
                       const struct dieset_hole *h)
{
    double x = sheet_at_x(v, h->x), y = sheet_at_y(v, h->y), r = h->diameter / 2 * v->scale;
    draw_circle(s, pen, x, y, r);
    if (*h->thread && h->nominal > h->diameter)
        draw_arc(s, pen == DRAW_WIDE ? DRAW_NARROW : pen, x, y, h->nominal / 2 * v->scale, 0.1, 1.5 * PI);
}

static void shaped_hole(struct draw_sheet *s, const struct sheet_view *v, enum draw_pen pen,
                        const struct dieset_hole *h)
{
    struct shape_side box[8];
    const struct shape_side *sides = h->sides;
    int n = h->n_sides;
    if (!n) {
        n = shape_rectangle(h->length / 2, h->width / 2, h->corner, box);
        sides = box;
    }
    for (int i = 0; i < n; i++)
        side(s, v, pen, &sides[i], h->x, h->y);
}

void sheet_plan_hole(struct draw_sheet *s, const struct sheet_view *v, const struct dieset_hole *h,
                     double thickness)
{
    enum draw_pen pen = h->high > thickness - 1e-6 ? DRAW_WIDE : DRAW_HIDDEN;
    if (h->nowhere)
        return;
    bool is_round = !h->n_sides && !(h->length > 0 && h->width > 0);
    (is_round ? round_hole : shaped_hole)(s, v, pen, h);
    double x = sheet_at_x(v, h->x), y = sheet_at_y(v, h->y);
    double rx = is_round ? h->diameter / 2 * v->scale + OVER : 2 * OVER, ry = rx;
    draw_line(s, DRAW_CENTRE, x - rx, y, x + rx, y);
    draw_line(s, DRAW_CENTRE, x, y - ry, x, y + ry);
}

struct draw_box sheet_hole_box(const struct sheet_view *v, const struct dieset_hole *h)
{
    double in = h->n_sides || h->length > 0 ? 0 : h->diameter * 0.14; /* a circle leaves its corners free */
    return (struct draw_box){sheet_at_x(v, h->left + in), sheet_at_x(v, h->right - in),
                             sheet_at_y(v, h->front + in), sheet_at_y(v, h->back - in)};
}

/* The boxes of all holes on the sheet and of the cutting plane, for marks to keep off. */
static struct draw_box *boxes(const struct sheet_view *v, const struct report_chart *c, double cut, int *n)
{
    struct draw_box *out = base_alloc((size_t)(c->n + 1) * sizeof *out);
    double y = sheet_at_y(v, cut);
    *n = 0;
    out[(*n)++] = (struct draw_box){-INFINITY, INFINITY, y, y};
    for (int i = 0; i < c->n; i++)
        if (!c->at[i].hole.nowhere)
            out[(*n)++] = sheet_hole_box(v, &c->at[i].hole);
    return out;
}

/* Half of what the place takes on the sheet, from its middle to its rim. */
static double reach(const struct sheet_view *v, const struct report_chart *c, int i)
{
    double most = 0;
    for (int k = i; k < c->n && (k == i || !c->at[k].first); k++) {
        const struct dieset_hole *h = &c->at[k].hole;
        most = fmax(most, fmin(h->right - h->left, h->back - h->front) / 2);
        most = fmax(most, *h->thread ? h->nominal / 2 : 0);
    }
    return most * v->scale;
}

void sheet_plan_marks(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c,
                      double cut)
{
    int n;
    struct draw_box *busy = boxes(v, c, cut, &n);
    char mark[16];
    for (int i = 0; i < c->n; i++)
        if (c->at[i].first && !c->at[i].hole.nowhere)
            sheet_label(s, sheet_at_x(v, c->at[i].hole.x), sheet_at_y(v, c->at[i].hole.y), reach(v, c, i),
                        report_mark(&c->at[i], mark, sizeof mark), busy, n);
    free(busy);
}
