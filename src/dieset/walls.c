/* Walls between holes, and the pairs of holes of a plate that have one.
 *
 * A hole is a box with round corners or an outline of lines and arcs. Held against an outline a circle stays
 * a circle, any other box becomes an outline itself.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>

/* ---- walls -------------------------------------------------------------------------------- */

static struct shape_round hole_round(const struct dieset_hole *h)
{
    if (h->length <= 0 || h->width <= 0)
        return (struct shape_round){h->x, h->y, 0, 0, h->diameter / 2};
    return (struct shape_round){h->x, h->y, h->length / 2 - h->corner, h->width / 2 - h->corner, h->corner};
}

/* A has an outline. */
static double outline_wall(const struct dieset_hole *a, const struct dieset_hole *b)
{
    double x = b->x - a->x, y = b->y - a->y;
    struct shape_round q = hole_round(b);
    struct shape_side sides[8];
    if (b->n_sides)
        return shape_apart(a->sides, a->n_sides, b->sides, b->n_sides, x, y);
    if (q.along > 0 || q.across > 0)
        return shape_apart(a->sides, a->n_sides, sides,
                           shape_rectangle(q.along + q.corner, q.across + q.corner, q.corner, sides), x, y);
    double from = shape_from(a->sides, a->n_sides, x, y);
    return (shape_inside(a->sides, a->n_sides, x, y) ? -from : from) - q.corner;
}

bool dieset_covers(const struct dieset_hole *h, double x, double y)
{
    static const double rim = 1e-9;
    if (h->n_sides)
        return shape_inside(h->sides, h->n_sides, x - h->x, y - h->y) ||
               shape_from(h->sides, h->n_sides, x - h->x, y - h->y) <= rim;
    struct shape_round round = hole_round(h);
    return shape_round_from(&round, x, y) <= rim;
}

bool dieset_lies_in(const struct dieset_hole *a, const struct dieset_hole *b)
{
    enum { RECTANGLE = 8, PLACES = 4 };
    struct shape_side box[RECTANGLE];
    struct shape_round q = hole_round(a);
    const struct shape_side *sides = a->n_sides ? a->sides : box;
    int n = a->n_sides ? a->n_sides : shape_rectangle(q.along + q.corner, q.across + q.corner, q.corner, box);
    for (int i = 0; i < n * PLACES; i++) {
        double x, y;
        shape_side_place(&sides[i / PLACES], (double)(i % PLACES) / PLACES, &x, &y);
        if (!dieset_covers(b, a->x + x, a->y + y))
            return false;
    }
    return n > 0;
}

struct shape_box hole_box(const struct dieset_hole *h)
{
    return (struct shape_box){h->left, h->right, h->front, h->back};
}

static double shared_depth(const struct dieset_hole *p, const struct dieset_hole *q)
{
    return fmax(0, fmin(p->high, q->high) - fmax(p->low, q->low));
}

double dieset_wall(const struct dieset_hole *a, const struct dieset_hole *b, double *shared)
{
    if (shared)
        *shared = shared_depth(a, b);
    if (a->n_sides || b->n_sides)
        return a->n_sides ? outline_wall(a, b) : outline_wall(b, a);
    struct shape_round p = hole_round(a), q = hole_round(b);
    return shape_rounds_apart(&p, &q);
}

/* ---- pairs of holes of a plate ------------------------------------------------------------------- */

struct plate_pairs {
    const struct build *b;
    const struct dieset_hole *holes;
    int first;
    dieset_pair_fn *visit;
    void *arg;
};

/* One fastener on one axis: a counterbore and the clear hole under it, a bushing round its post. */
static bool one_axis(const struct build *b, const struct dieset_hole *p, const struct dieset_hole *q)
{
    bool same = p->item == q->item ||
                (p->point >= 0 && q->point >= 0 && item_points(b, p->item) == item_points(b, q->item));
    return same && p->point == q->point && hypot(p->x - q->x, p->y - q->y) < 1e-6;
}

static double wall_of_pair(void *arg, int i, int k)
{
    const struct plate_pairs *pp = arg;
    const struct dieset_hole *p = &pp->holes[i], *q = &pp->holes[k];
    if (base_give_up()) /* what is found then is dropped, whole */
        return INFINITY;
    bool pair = shared_depth(p, q) > 0 && !p->nowhere && !q->nowhere && !one_axis(pp->b, p, q);
    return pair ? dieset_wall(p, q, NULL) : INFINITY;
}

static void visit_pair(void *arg, int i, int k, double wall)
{
    const struct plate_pairs *pp = arg;
    pp->visit(pp->arg, pp->first + i, pp->first + k, wall, shared_depth(&pp->holes[i], &pp->holes[k]));
}

void dieset_pairs(const struct dieset *d, int plate, enum dieset_state s, double within,
                  dieset_pair_fn *visit, void *arg)
{
    int first, n = dieset_plate_holes(d, plate, &first);
    if (n < 2)
        return;
    struct dieset_hole *holes = base_alloc((size_t)n * sizeof *holes);
    struct shape_box *boxes = base_alloc((size_t)n * sizeof *boxes);
    for (int i = 0; i < n && !base_given_up(); i++) {
        dieset_hole(d, first + i, s, &holes[i]);
        boxes[i] = hole_box(&holes[i]);
    }
    struct plate_pairs pairs = {d->now, holes, first, visit, arg};
    shape_pairs(boxes, n, within, wall_of_pair, visit_pair, &pairs);
    free(boxes);
    free(holes);
}
