/* What pieces of openings are at a height, and how they lie to each other there. */

#include "solid/opening.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

double piece_size(const struct piece *p, double z)
{
    return p->size_low == p->size_high
               ? p->size_low
               : p->size_low + (p->size_high - p->size_low) * (z - p->low) / (p->high - p->low);
}

const struct opening *piece_opening(const struct openings *o, int piece)
{
    return &o->at.at[o->pieces.at[piece].opening];
}

static struct shape_side half_circle(double x, double y, double radius, int side)
{
    return (struct shape_side){.x0 = x - side * radius, .y0 = y, .x1 = x + side * radius, .y1 = y,
                               .cx = x, .cy = y, .radius = radius, .sweep = pi, .way = 1};
}

struct shape_side *section_sides(const struct openings *o, int piece, double z, int *n)
{
    const struct piece *p = &o->pieces.at[piece];
    const struct opening *w = &o->at.at[p->opening];
    double size = piece_size(p, z);
    *n = w->round ? 2 : w->n;
    struct shape_side *out = base_alloc((size_t)*n * sizeof *out);
    if (w->round) {
        out[0] = half_circle(w->x, w->y, size, 1);
        out[1] = half_circle(w->x, w->y, size, -1);
        return out;
    }
    memcpy(out, w->sides, (size_t)*n * sizeof *out);
    if (size != 0 && !shape_offset_sharp(w->sides, w->n, size, out)) {
        free(out);
        return NULL;
    }
    return out;
}

bool section_one_axis(const struct openings *o, int a, int b)
{
    const struct opening *p = piece_opening(o, a), *q = piece_opening(o, b);
    return p->round && q->round && hypot(p->x - q->x, p->y - q->y) <= SHAPE_NEAR;
}

static bool same_sides(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b)
{
    bool same = n_a == n_b;
    for (int i = 0; i < n_a && same; i++)
        same = hypot(a[i].x0 - b[i].x0, a[i].y0 - b[i].y0) <= SHAPE_NEAR &&
               fabs(a[i].radius - b[i].radius) <= SHAPE_NEAR && a[i].way == b[i].way &&
               (!(a[i].radius > 0) || hypot(a[i].cx - b[i].cx, a[i].cy - b[i].cy) <= SHAPE_NEAR);
    return same;
}

static bool meet(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b)
{
    double x[2], y[2];
    for (int i = 0; i < n_a; i++)
        for (int k = 0; k < n_b; k++)
            if (shape_sides_meet(&a[i], &b[k], false, x, y) > 0)
                return true;
    return false;
}

static enum relation by_sides(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b)
{
    return same_sides(a, n_a, b, n_b)               ? SAME
           : meet(a, n_a, b, n_b)                   ? CUTS
           : shape_inside(a, n_a, b[0].x0, b[0].y0) ? HOLDS
           : shape_inside(b, n_b, a[0].x0, a[0].y0) ? HELD
                                                    : APART;
}

static enum relation by_radius(double a, double b)
{
    return fabs(a - b) <= SHAPE_NEAR ? SAME : a > b ? HOLDS : HELD;
}

enum relation section_relation(const struct openings *o, int a, int b, double z)
{
    const struct opening *p = piece_opening(o, a), *q = piece_opening(o, b);
    double r = piece_size(&o->pieces.at[a], z), s = piece_size(&o->pieces.at[b], z);
    double apart = hypot(p->x - q->x, p->y - q->y);
    if (section_one_axis(o, a, b))
        return by_radius(r, s);
    if (p->round && q->round)
        return apart > r + s + SHAPE_NEAR   ? APART
               : apart + s < r - SHAPE_NEAR ? HOLDS
               : apart + r < s - SHAPE_NEAR ? HELD
                                            : CUTS;
    int n_a, n_b;
    struct shape_side *x = section_sides(o, a, z, &n_a), *y = section_sides(o, b, z, &n_b);
    enum relation out = x && y ? by_sides(x, n_a, y, n_b) : CUTS;
    free(x);
    free(y);
    return out;
}
