/* Joints: two neighbouring plates that do not move against each other, and all that joins them. */

#include "dieset/build.h"
#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool dieset_joint(const struct dieset *d, int i, struct dieset_joint *out)
{
    const struct rows *plates = &d->now->rows[d->contract.plate];
    for (size_t p = 0; p + 1 < plates->items.count; p++) {
        int upper = plates->items.at[p], lower = plates->items.at[p + 1];
        enum dieset_moves moves = plate_moves(d->now, upper);
        if (moves != plate_moves(d->now, lower) || i-- > 0)
            continue;
        bool hangs = moves == DIESET_MOVES_SLIDE;
        *out = (struct dieset_joint){upper, lower, hangs ? lower : upper, hangs ? upper : lower};
        return true;
    }
    return false;
}

/* ---- measures ------------------------------------------------------------------------------------ */

/* Marks the items of which a hole of PLATE that fastens is there: BIT for the plate, TAPPED where they have a
   thread in any plate. */
enum { IN_UPPER = 1, IN_LOWER = 2, IN_BOTH = 3, TAPPED = 4 };

static void mark(const struct build *b, int plate, unsigned char bit, unsigned char *marks)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    for (int i = range->first; i < range->first + range->count; i++)
        if (b->holes.at[i].spec->fastens)
            marks[b->holes.at[i].item] |= bit;
}

static void mark_tapped(const struct build *b, unsigned char *marks)
{
    for (size_t i = 0; i < b->holes.count; i++)
        if (strcmp(b->holes.at[i].spec->operation, "tap") == 0)
            marks[b->holes.at[i].item] |= TAPPED;
}

/* The places of all screws of the joint, each once. False: one is not known. */
static bool screws_of(const struct build *b, const struct dieset_joint *j, struct shape_spot **out,
                      size_t *n)
{
    unsigned char *marks = base_alloc(b->items.count + 1);
    BASE_VEC(struct shape_spot) spots = {0};
    bool known = true;
    mark(b, j->upper, IN_UPPER, marks);
    mark(b, j->lower, IN_LOWER, marks);
    mark_tapped(b, marks);
    for (int item = 0; item < (int)b->items.count; item++) {
        if (marks[item] != (IN_BOTH | TAPPED))
            continue;
        const struct item *own = item_points(b, item);
        for (int p = 0; p < own->n_points; p++) {
            double x = cell_amount(b, own->points[p].x, DIESET_NEW),
                   y = cell_amount(b, own->points[p].y, DIESET_NEW);
            known = known && !isnan(x) && !isnan(y);
            struct shape_spot s = {x, y, 0};
            base_vec_push(&spots, s);
        }
    }
    free(marks);
    *out = spots.at;
    *n = spots.count;
    return known;
}

static bool screw_gap(const struct build *b, const struct dieset_joint *j, double *out)
{
    enum { MOST = 2000 }; /* every spot is held against every other one */
    struct shape_spot *spots;
    size_t n;
    bool known = screws_of(b, j, &spots, &n) && n >= 2 && n <= MOST;
    *out = known ? shape_spots_widest_span(spots, n) : 0;
    free(spots);
    return known;
}

bool dieset_joint_measure(const struct dieset *d, const struct dieset_joint *j, const char *name, double *out)
{
    *out = NAN;
    return strcmp(name, "screw_gap") == 0 && screw_gap(d->now, j, out);
}
