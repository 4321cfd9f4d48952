/* Outlines held against each other: where they meet, what lies inside, how far apart they are. See shape.h.
 *
 * The least distance of two sides that do not meet is between an end of one and the other, or along a line
 * that stands square on both; such a line goes through the middle of each that is an arc. So the ends and
 * those few places of the arcs are all that must be looked at.
 */

#include "shape/side.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

/* ---- a place and a side ----------------------------------------------------------------------- */

/* Is the place, seen from the arc's middle, in a direction through which the arc goes? */
static bool in_sweep(const struct shape_side *s, double x, double y)
{
    double x0 = s->x0 - s->cx, y0 = s->y0 - s->cy, x1 = s->x1 - s->cx, y1 = s->y1 - s->cy;
    x -= s->cx, y -= s->cy;
    double from_first = s->way * (x0 * y - y0 * x), to_last = s->way * (x * y1 - y * x1);
    return s->sweep <= PI ? from_first >= 0 && to_last >= 0 : from_first >= 0 || to_last >= 0;
}

double side_from(const struct shape_side *s, double x, double y)
{
    if (s->radius > 0 && in_sweep(s, x, y))
        return fabs(shape_distance(x - s->cx, y - s->cy) - s->radius);
    double dx = s->x1 - s->x0, dy = s->y1 - s->y0, square = dx * dx + dy * dy,
           along = (x - s->x0) * dx + (y - s->y0) * dy;
    if (s->radius > 0 || along <= 0 || along >= square)
        return fmin(shape_distance(x - s->x0, y - s->y0), shape_distance(x - s->x1, y - s->y1));
    return fabs((x - s->x0) * dy - (y - s->y0) * dx) / sqrt(square);
}

/* ---- where two sides meet ----------------------------------------------------------------------- */

struct places { double x[4], y[4]; int n; };

static void add_place(struct places *p, double x, double y)
{
    if (p->n < 4)
        p->x[p->n] = x, p->y[p->n++] = y;
}

/* The ends of each that lie on the other: of sides that run along each other. */
static void add_ends(struct places *p, const struct shape_side *a, const struct shape_side *b)
{
    const double ends[4][2] = {{a->x0, a->y0}, {a->x1, a->y1}, {b->x0, b->y0}, {b->x1, b->y1}};
    for (int i = 0; i < 4; i++)
        if (side_from(i < 2 ? b : a, ends[i][0], ends[i][1]) <= SHAPE_NEAR)
            add_place(p, ends[i][0], ends[i][1]);
}

static void meet_lines(const struct shape_side *a, const struct shape_side *b, bool whole, struct places *p)
{
    static const double parallel = 1e-12; /* sine */
    double ax = a->x1 - a->x0, ay = a->y1 - a->y0, bx = b->x1 - b->x0, by = b->y1 - b->y0,
           cross = ax * by - ay * bx;
    if (fabs(cross) > parallel * shape_distance(ax, ay) * shape_distance(bx, by)) {
        double t = ((b->x0 - a->x0) * by - (b->y0 - a->y0) * bx) / cross;
        add_place(p, a->x0 + t * ax, a->y0 + t * ay);
    } else if (!whole) {
        add_ends(p, a, b);
    }
}

/* Both places at the distance SQUARE (squared) along X, Y from the foot; one when they are the same. */
static void add_both(struct places *p, double foot_x, double foot_y, double x, double y, double square)
{
    double off = square > 0 ? sqrt(square) : 0;
    add_place(p, foot_x + off * x, foot_y + off * y);
    if (off > 0)
        add_place(p, foot_x - off * x, foot_y - off * y);
}

static void meet_line_arc(const struct shape_side *l, const struct shape_side *c, struct places *p)
{
    double x, y;
    shape_side_direction(l, false, &x, &y);
    double along = (c->cx - l->x0) * x + (c->cy - l->y0) * y, off = (c->cx - l->x0) * y - (c->cy - l->y0) * x;
    if (fabs(off) <= c->radius + SHAPE_NEAR)
        add_both(p, l->x0 + along * x, l->y0 + along * y, x, y, c->radius * c->radius - off * off);
}

static void meet_arcs(const struct shape_side *a, const struct shape_side *b, bool whole, struct places *p)
{
    double dx = b->cx - a->cx, dy = b->cy - a->cy, apart = shape_distance(dx, dy);
    if (apart <= SHAPE_NEAR) {
        if (!whole && fabs(a->radius - b->radius) <= SHAPE_NEAR)
            add_ends(p, a, b);
        return;
    }
    if (apart > a->radius + b->radius + SHAPE_NEAR || apart < fabs(a->radius - b->radius) - SHAPE_NEAR)
        return;
    double along = (apart * apart + a->radius * a->radius - b->radius * b->radius) / (2 * apart);
    dx /= apart, dy /= apart;
    add_both(p, a->cx + along * dx, a->cy + along * dy, -dy, dx, a->radius * a->radius - along * along);
}

int shape_sides_meet(const struct shape_side *a, const struct shape_side *b, bool whole, double x[2],
                     double y[2])
{
    struct places p = {.n = 0};
    if (a->radius > 0 && b->radius > 0)
        meet_arcs(a, b, whole, &p);
    else if (a->radius > 0)
        meet_line_arc(b, a, &p);
    else if (b->radius > 0)
        meet_line_arc(a, b, &p);
    else
        meet_lines(a, b, whole, &p);
    int n = 0;
    for (int i = 0; i < p.n && n < 2; i++) {
        if (!whole &&
            (side_from(a, p.x[i], p.y[i]) > SHAPE_NEAR || side_from(b, p.x[i], p.y[i]) > SHAPE_NEAR))
            continue;
        if (n == 1 && shape_distance(p.x[i] - x[0], p.y[i] - y[0]) <= SHAPE_NEAR)
            continue;
        x[n] = p.x[i], y[n++] = p.y[i];
    }
    return n;
}

int shape_crossings(const struct shape_side *s, int n, int *first, int *second)
{
    static const double at_the_corner = 1e-6; /* mm */
    int count = 0;
    for (int i = 0; i < n; i++)
        for (int k = i + 1; k < n; k++) {
            double x[2], y[2];
            int meet = shape_sides_meet(&s[i], &s[k], false, x, y), real = 0;
            for (int m = 0; m < meet; m++)
                real += !(k == i + 1 && shape_distance(x[m] - s[i].x1, y[m] - s[i].y1) <= at_the_corner) &&
                        !((k + 1) % n == i &&
                          shape_distance(x[m] - s[k].x1, y[m] - s[k].y1) <= at_the_corner);
            if (real && count++ == 0)
                *first = i, *second = k;
        }
    return count;
}

/* ---- inside ------------------------------------------------------------------------------------- */

/* By how much one turns who looks along the side from the place; an arc's bulge, when one stands in it, is a
 * full turn more than its chord. */
double side_seen_turn(const struct shape_side *s, double x, double y)
{
    double ax = s->x0 - x, ay = s->y0 - y, bx = s->x1 - x, by = s->y1 - y;
    double turn = atan2(ax * by - ay * bx, ax * bx + ay * by);
    bool in_bulge = s->radius > 0 && shape_distance(x - s->cx, y - s->cy) < s->radius &&
                    s->way * ((s->x1 - s->x0) * (y - s->y0) - (s->y1 - s->y0) * (x - s->x0)) < 0;
    return in_bulge ? turn + s->way * 2 * PI : turn;
}

bool shape_inside(const struct shape_side *s, int n, double x, double y)
{
    double turn = 0;
    for (int i = 0; i < n; i++)
        turn += side_seen_turn(&s[i], x, y);
    return fabs(turn) > PI;
}

double shape_from(const struct shape_side *s, int n, double x, double y)
{
    double least = INFINITY;
    for (int i = 0; i < n; i++)
        least = fmin(least, side_from(&s[i], x, y));
    return least;
}

/* ---- two shapes ----------------------------------------------------------------------------------- */

/* The least distance from the places of arc A that a line square on both sides can go through. */
static double square_on(const struct shape_side *a, const struct shape_side *b)
{
    double x = b->cx - a->cx, y = b->cy - a->cy;
    if (!(a->radius > 0))
        return INFINITY;
    if (!(b->radius > 0)) {
        double dx, dy;
        shape_side_direction(b, false, &dx, &dy);
        x = dy, y = -dx;
    }
    double length = shape_distance(x, y), least = INFINITY;
    for (int way = -1; way <= 1 && length > 0; way += 2) {
        double px = a->cx + way * a->radius * x / length, py = a->cy + way * a->radius * y / length;
        if (in_sweep(a, px, py))
            least = fmin(least, side_from(b, px, py));
    }
    return least;
}

static double sides_apart(const struct shape_side *a, const struct shape_side *b)
{
    double x[2], y[2];
    if (shape_sides_meet(a, b, false, x, y))
        return 0;
    double ends = fmin(fmin(side_from(a, b->x0, b->y0), side_from(a, b->x1, b->y1)),
                       fmin(side_from(b, a->x0, a->y0), side_from(b, a->x1, a->y1)));
    return fmin(ends, fmin(square_on(a, b), square_on(b, a)));
}

/* How deep the deepest place of A's rim lies in B; 0: none lies in it. */
static double depth_in(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b)
{
    enum { PLACES = 8 };
    double deep = 0;
    for (int i = 0; i < n_a; i++)
        for (int k = 0; k < PLACES; k++) {
            double x, y;
            shape_side_place(&a[i], k / (double)PLACES, &x, &y);
            if (shape_inside(b, n_b, x, y))
                deep = fmax(deep, shape_from(b, n_b, x, y));
        }
    return deep;
}

double shape_rims_apart(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b)
{
    double apart = INFINITY;
    for (int i = 0; i < n_a; i++)
        for (int k = 0; k < n_b; k++)
            apart = fmin(apart, sides_apart(&a[i], &b[k]));
    return apart;
}

double shape_apart(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b, double x,
                    double y)
{
    struct shape_side *shifted = base_alloc((size_t)n_b * sizeof *shifted);
    memcpy(shifted, b, (size_t)n_b * sizeof *shifted);
    shape_shift(shifted, n_b, x, y);
    double apart = shape_rims_apart(a, n_a, shifted, n_b);
    if (apart <= SHAPE_NEAR || shape_inside(a, n_a, shifted[0].x0, shifted[0].y0) ||
        shape_inside(shifted, n_b, a[0].x0, a[0].y0))
        apart = -fmax(depth_in(a, n_a, shifted, n_b), depth_in(shifted, n_b, a, n_a));
    free(shifted);
    return apart;
}

/* ---- boxes with round corners ---------------------------------------------------------------------- */

double shape_rounds_apart(const struct shape_round *a, const struct shape_round *b)
{
    double along = fabs(a->x - b->x) - a->along - b->along;
    double across = fabs(a->y - b->y) - a->across - b->across;
    double apart = shape_distance(fmax(along, 0), fmax(across, 0)) + fmin(fmax(along, across), 0);
    return apart - a->corner - b->corner;
}

double shape_round_from(const struct shape_round *a, double x, double y)
{
    const struct shape_round place = {.x = x, .y = y};
    return shape_rounds_apart(a, &place);
}
