/* The offset of an outline.
 *
 * An offset moves each side sideways; an arc's radius takes the move or gives it, and an arc that has nothing
 * left is left out. Where two moved sides gape, an arc round the old corner joins them, which is what a disc
 * rolling along the outline does; where they cross, both end at the crossing.
 */

#include "shape/side.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* S moved by GROW to its right. False: nothing is left of it. */
static bool moved(const struct shape_side *s, double grow, struct shape_side *out)
{
    *out = *s;
    if (s->radius > 0) {
        double radius = s->radius + s->way * grow, share = radius / s->radius;
        if (radius <= SHAPE_NEAR)
            return false;
        out->radius = radius;
        out->x0 = s->cx + (s->x0 - s->cx) * share, out->y0 = s->cy + (s->y0 - s->cy) * share;
        out->x1 = s->cx + (s->x1 - s->cx) * share, out->y1 = s->cy + (s->y1 - s->cy) * share;
        return true;
    }
    double x, y;
    shape_side_direction(s, false, &x, &y);
    out->x0 += grow * y, out->x1 += grow * y;
    out->y0 -= grow * x, out->y1 -= grow * x;
    return true;
}

/* Both end at the crossing of their whole lines and circles that is nearest to the old corner. */
static bool cut_back(struct shape_side *a, struct shape_side *b, double x, double y)
{
    double px[2], py[2];
    int n = shape_sides_meet(a, b, true, px, py), best = 0;
    if (n == 0)
        return false;
    if (n == 2 && hypot(px[1] - x, py[1] - y) < hypot(px[0] - x, py[0] - y))
        best = 1;
    a->x1 = b->x0 = px[best];
    a->y1 = b->y0 = py[best];
    return true;
}

/* Is what was cut back from S, which was WAS, still a piece of it that goes the same way? */
static bool left_over(struct shape_side *s, const struct shape_side *was)
{
    if (!(s->radius > 0))
        return (s->x1 - s->x0) * (was->x1 - was->x0) + (s->y1 - s->y0) * (was->y1 - was->y0) > 0;
    struct shape_side now = side_round(s->cx, s->cy, s->radius, s->way, s->x0, s->y0, s->x1, s->y1);
    s->sweep = now.sweep;
    return now.sweep <= was->sweep + 1e-6;
}

/* A's end and B's beginning: one place already, or to be joined by an arc round the old corner X, Y, or cut
   back. */
static bool join(struct shape_side *a, struct shape_side *b, double x, double y, double sine, double grow,
                 struct shape_side *arc, bool *gapes)
{
    *gapes = false;
    static const double one_place = 1e-5; /* mm: ends of sides that were typed to run into each other */
    if (hypot(a->x1 - b->x0, a->y1 - b->y0) <= one_place) {
        b->x0 = a->x1, b->y0 = a->y1;
        return true;
    }
    *gapes = sine * grow > 0;
    if (!*gapes)
        return cut_back(a, b, x, y);
    *arc = side_round(x, y, fabs(grow), grow > 0 ? 1 : -1, a->x1, a->y1, b->x0, b->y0);
    arc->cuts = a->cuts || b->cuts;
    return true;
}

/* The sides that are left when moved, and for each the old side; how many. */
static int move_all(const struct shape_side *s, int n, double grow, struct shape_side *out,
                    const struct shape_side **was)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (moved(&s[i], grow, &out[kept]))
            was[kept++] = &s[i];
    return kept;
}

int shape_offset(const struct shape_side *s, int n, double grow, struct shape_side *out)
{
    if (fabs(grow) <= SHAPE_NEAR) {
        memcpy(out, s, (size_t)n * sizeof *out);
        return n;
    }
    struct shape_side *sides = base_alloc((size_t)n * sizeof *sides),
                       *arcs = base_alloc((size_t)n * sizeof *arcs);
    const struct shape_side **was = base_alloc((size_t)n * sizeof(*was));
    bool *gape = base_alloc((size_t)n * sizeof *gape), good = true;
    int kept = move_all(s, n, grow, sides, was), count = 0;
    good = kept > 1;
    for (int i = 0; i < kept && good; i++) {
        int next = (i + 1) % kept;
        double sine, cosine;
        side_turn(was[i], was[next], &sine, &cosine);
        good = join(&sides[i], &sides[next], was[i]->x1, was[i]->y1, sine, grow, &arcs[i], &gape[i]);
    }
    for (int i = 0; i < kept && good; i++) {
        good = left_over(&sides[i], was[i]);
        out[count++] = sides[i];
        if (gape[i])
            out[count++] = arcs[i];
    }
    free(sides);
    free(arcs);
    free(was);
    free(gape);
    int first, second;
    return good && shape_crossings(out, count, &first, &second) == 0 ? count : 0;
}


/* A's end and B's beginning where both go on to their crossing; ends that are one place already stay. */
static bool meet_sharp(struct shape_side *a, struct shape_side *b, double x, double y)
{
    static const double one_place = 1e-5; /* mm: ends of sides that were typed to run into each other */
    double mid_x = (a->x1 + b->x0) / 2, mid_y = (a->y1 + b->y0) / 2;
    if (hypot(a->x1 - b->x0, a->y1 - b->y0) > one_place)
        return cut_back(a, b, x, y);
    a->x1 = b->x0 = mid_x;
    a->y1 = b->y0 = mid_y;
    return true;
}

/* The same of a side whose corners were kept: an arc may be longer than it was, but not all the way round. */
static bool still_there(struct shape_side *s, const struct shape_side *was)
{
    if (s->radius > 0) {
        s->sweep = side_round(s->cx, s->cy, s->radius, s->way, s->x0, s->y0, s->x1, s->y1).sweep;
        return s->sweep < was->sweep / 2 + 3.14159265358979323846;
    }
    return left_over(s, was);
}

bool shape_offset_sharp(const struct shape_side *s, int n, double grow, struct shape_side *out)
{
    bool good = true;
    for (int i = 0; i < n && good; i++)
        good = moved(&s[i], grow, &out[i]);
    for (int i = 0; i < n && good; i++)
        good = meet_sharp(&out[i], &out[(i + 1) % n], s[i].x1, s[i].y1);
    for (int i = 0; i < n && good; i++)
        good = still_there(&out[i], &s[i]);
    int first, second;
    return good && shape_crossings(out, n, &first, &second) == 0;
}
