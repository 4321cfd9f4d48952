/* What a plate's holes take off it, as a share of its block: what is lifted is the plate as it is drilled.
 *
 * Of the holes that stand at one place of an item, a counterbore over a clear hole, each depth counts once,
 * with the largest of them there. Where holes of two items cut each other both count.
 * What runs out of the plate, as clamp slots do, is left to the plate's own mass.
 */

#include "dieset/build.h"

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>

struct bite { int item, point; double x, y, area, low, high; };

static double area_of(const struct dieset_hole *h)
{
    if (h->length > 0)
        return h->length * h->width - (4 - M_PI) * h->corner * h->corner;
    return h->n_sides ? fabs(shape_area(h->sides, h->n_sides)) : M_PI / 4 * h->diameter * h->diameter;
}

/* By place, the largest of a place first. */
static int by_place(const void *a, const void *b)
{
    const struct bite *p = a, *q = b;
    if (p->item != q->item)
        return p->item < q->item ? -1 : 1;
    if (p->point != q->point)
        return p->point < q->point ? -1 : 1;
    return (p->area < q->area) - (p->area > q->area);
}

/* The depth of bite I that no larger one of its place has; those stand before it. Overlaps among these count
   twice, so that rather too little is taken off. */
static double own_depth(const struct bite *bites, size_t i)
{
    const struct bite *own = &bites[i];
    double depth = own->high - own->low;
    for (size_t k = i; k > 0 && bites[k - 1].item == own->item && bites[k - 1].point == own->point; k--)
        if (hypot(bites[k - 1].x - own->x, bites[k - 1].y - own->y) < SHAPE_NEAR)
            depth -= fmax(0, fmin(own->high, bites[k - 1].high) - fmax(own->low, bites[k - 1].low));
    return fmax(0, depth);
}

static double volume(struct bite *bites, size_t n)
{
    double sum = 0;
    qsort(bites, n, sizeof *bites, by_place);
    for (size_t i = 0; i < n; i++)
        sum += bites[i].area * own_depth(bites, i);
    return sum;
}

bool taken_share(const struct build *b, int plate, double *out)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    const struct contract *k = &b->d->contract;
    struct cell **of = b->items.at[plate].properties;
    double block = cell_amount(b, of[k->length], DIESET_NEW) * cell_amount(b, of[k->width], DIESET_NEW) *
                   cell_amount(b, of[k->thickness], DIESET_NEW);
    struct bite *bites = base_alloc((size_t)(range->count + 1) * sizeof *bites);
    size_t n = 0;
    for (int i = range->first; i < range->first + range->count; i++) {
        const struct dieset_hole *h = build_hole(b, i, DIESET_NEW);
        if (!h->broken && !h->nowhere && isfinite(h->high - h->low) && !(h->rim < 0))
            bites[n++] = (struct bite){h->item, h->point, h->x, h->y, area_of(h), h->low, h->high};
    }
    *out = fmin(1, volume(bites, n) / block);
    free(bites);
    return isfinite(*out);
}
