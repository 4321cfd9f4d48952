/* Joints: two neighbouring plates that do not move against each other, and all that joins them. */

#include "dieset/build.h"
#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool dieset_joint(const struct dieset *d, int *at, struct dieset_joint *out)
{
    const struct rows *plates = &d->now->rows[d->contract.plate];
    for (; *at + 1 < (int)plates->items.count; ++*at) {
        int upper = plates->items.at[*at], lower = plates->items.at[*at + 1];
        enum dieset_moves moves = plate_moves(d->now, upper);
        if (moves != plate_moves(d->now, lower))
            continue;
        bool hangs = moves == DIESET_MOVES_SLIDE;
        *out = (struct dieset_joint){upper, lower, hangs ? lower : upper, hangs ? upper : lower};
        ++*at;
        return true;
    }
    return false;
}

/* ---- measures ------------------------------------------------------------------------------------ */

struct spots { BASE_VEC(struct shape_spot) at; };

/* The places of the points of ITEM to SPOTS. False: one is not known. */
static bool add_spots(const struct build *b, int item, struct spots *spots)
{
    const struct item *own = item_points(b, item);
    bool known = true;
    for (int p = 0; p < own->n_points; p++) {
        double x = cell_amount(b, own->points[p].x, DIESET_NEW),
               y = cell_amount(b, own->points[p].y, DIESET_NEW);
        known = known && !isnan(x) && !isnan(y);
        struct shape_spot s = {x, y, 0};
        base_vec_push(&spots->at, s);
    }
    return known;
}

/* The next item from hole *I of R on of which a hole fastens, -1: none. The holes of a plate stand in the
   order of their items. */
static int next_fastener(const struct build *b, const struct plate_holes *r, int *i)
{
    while (*i < r->first + r->count && !b->holes.at[*i].spec->fastens)
        ++*i;
    if (*i >= r->first + r->count)
        return -1;
    int item = b->holes.at[*i].item;
    while (*i < r->first + r->count && b->holes.at[*i].item == item)
        ++*i;
    return item;
}

/* The places of all screws of the joint, each once: of what fastens both plates and has a thread in any.
   False: one is not known. */
static bool screws_of(const struct build *b, const struct dieset_joint *j, struct spots *out)
{
    const struct plate_holes *upper = &b->plate_holes[j->upper], *lower = &b->plate_holes[j->lower];
    int i = upper->first, k = lower->first;
    int above = next_fastener(b, upper, &i), below = next_fastener(b, lower, &k);
    bool known = true;
    while (above >= 0 && below >= 0)
        if (above < below) {
            above = next_fastener(b, upper, &i);
        } else if (below < above) {
            below = next_fastener(b, lower, &k);
        } else {
            if (b->tapped[above])
                known = add_spots(b, above, out) && known;
            above = next_fastener(b, upper, &i);
            below = next_fastener(b, lower, &k);
        }
    return known;
}

static bool screw_gap(const struct build *b, const struct dieset_joint *j, double *out)
{
    enum { MOST = 2000 }; /* every spot is held against every other one */
    struct spots spots = {0};
    bool known = screws_of(b, j, &spots) && spots.at.count >= 2 && spots.at.count <= MOST;
    *out = known ? shape_spots_widest_span(spots.at.at, spots.at.count) : 0;
    base_vec_done(&spots.at);
    return known;
}

/* Over which share of the member the screws reach, along and across: the lesser of the two. */
static bool screw_spread(const struct build *b, const struct dieset_joint *j, double *out)
{
    const struct contract *k = &b->d->contract;
    struct cell **of = b->items.at[j->member].properties;
    struct spots spots = {0};
    bool known = screws_of(b, j, &spots) && spots.at.count >= 2;
    double left = INFINITY, right = -INFINITY, front = INFINITY, back = -INFINITY;
    for (size_t i = 0; i < spots.at.count; i++) {
        left = fmin(left, spots.at.at[i].x), right = fmax(right, spots.at.at[i].x);
        front = fmin(front, spots.at.at[i].y), back = fmax(back, spots.at.at[i].y);
    }
    base_vec_done(&spots.at);
    *out = fmin((right - left) / cell_amount(b, of[k->length], DIESET_NEW),
                (back - front) / cell_amount(b, of[k->width], DIESET_NEW));
    return known && isfinite(*out);
}

bool dieset_joint_measure(const struct dieset *d, const struct dieset_joint *j, const char *name, double *out)
{
    *out = NAN;
    return strcmp(name, "screw_gap") == 0    ? screw_gap(d->now, j, out)
           : strcmp(name, "screw_spread") == 0 ? screw_spread(d->now, j, out)
                                               : false;
}
