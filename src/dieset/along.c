/* Measures along the strip: what stands a whole number of pitches from what, and how far apart.
 *
 * found_miss   of an item's points: how far the one that is worst off stands from where a round hole that is
 *              cut before it comes to, so many pitches on
 * found_size   the diameter of the smallest hole that is found so
 * all_first, all_last, all_step: of the points of all items of the kind, along the feed
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct cell *pitch_cell(const struct build *b)
{
    return only_cell(b, b->d->contract.strip, b->d->contract.strip_pitch);
}

static struct cell *way_cell(const struct build *b)
{
    return only_cell(b, b->d->contract.strip, b->d->contract.strip_way);
}

/* 1: the strip runs to the right, as where no way is known; -1: to the left. */
static int feed_sign(const struct build *b)
{
    const struct cell *c = way_cell(b);
    return c && cell_amount(b, c, DIESET_NEW) < 0 ? -1 : 1;
}

struct found { double miss, size; };

/* The hole that comes nearest to X, Y, from a station before it. False: a value is not known. */
static bool find(const struct build *b, int item, double x, double y, struct found *out)
{
    const struct cell *c = pitch_cell(b);
    double pitch = c ? cell_amount(b, c, DIESET_NEW) : NAN;
    int sign = feed_sign(b);
    *out = (struct found){INFINITY, INFINITY};
    for (size_t i = 0; i < b->cuts.count; i++) {
        const struct hole *h = &b->cuts.at[i];
        struct dieset_hole at = {.origin = -1};
        if (h->item == item || !h->spec->diameter)
            continue;
        hole_shape(b, h, DIESET_NEW, &at);
        double dx = sign * (x - at.x), steps = fmax(1, round(dx / pitch));
        double miss = hypot(dx - steps * pitch, y - at.y);
        if (isnan(miss) || isnan(at.diameter))
            return false;
        if (miss < out->miss - 1e-9 || (miss < out->miss + 1e-9 && at.diameter < out->size))
            *out = (struct found){miss, at.diameter};
    }
    return pitch > 0;
}

static bool found_of(const struct build *b, int item, struct found *out)
{
    const struct item *own = item_points(b, item);
    *out = (struct found){0, INFINITY};
    for (int i = 0; i < own->n_points; i++) {
        double x = cell_amount(b, own->points[i].x, DIESET_NEW),
               y = cell_amount(b, own->points[i].y, DIESET_NEW);
        struct found one;
        if (isnan(x) || isnan(y) || !find(b, item, x, y, &one))
            return false;
        out->miss = fmax(out->miss, one.miss);
        out->size = fmin(out->size, one.size);
    }
    return own->n_points > 0 && isfinite(out->miss);
}

bool along_found_miss(const struct build *b, int item, double *out)
{
    struct found f;
    bool known = found_of(b, item, &f);
    *out = f.miss;
    return known;
}

bool along_found_size(const struct build *b, int item, double *out)
{
    struct found f;
    bool known = found_of(b, item, &f);
    *out = f.size;
    return known;
}

/* ---- all of a kind ------------------------------------------------------------------------------------ */

static bool all_spots(const struct build *b, int item, spots_vec *out)
{
    const struct rows *rows = &b->rows[b->items.at[item].kind];
    for (size_t i = 0; i < rows->items.count; i++)
        if (!points_spots(b, rows->items.at[i], 0, out))
            return false;
    return out->count > 0;
}

static int by_x(const void *a, const void *b)
{
    const struct shape_spot *p = a, *q = b;
    return (p->x > q->x) - (p->x < q->x);
}

struct run { double first, last, step; };

static bool run_of(const struct build *b, int item, struct run *out)
{
    spots_vec spots = {0};
    bool known = all_spots(b, item, &spots);
    *out = (struct run){0};
    if (known) {
        qsort(spots.at, spots.count, sizeof *spots.at, by_x);
        *out = (struct run){spots.at[0].x, spots.at[spots.count - 1].x, 0};
    }
    for (size_t i = 1; i < spots.count && known; i++)
        out->step = fmax(out->step, spots.at[i].x - spots.at[i - 1].x);
    base_vec_done(&spots);
    return known;
}

bool along_first(const struct build *b, int item, double *out)
{
    struct run r;
    bool known = run_of(b, item, &r);
    *out = r.first;
    return known;
}

bool along_last(const struct build *b, int item, double *out)
{
    struct run r;
    bool known = run_of(b, item, &r);
    *out = r.last;
    return known;
}

bool along_step(const struct build *b, int item, double *out)
{
    struct run r;
    bool known = run_of(b, item, &r);
    *out = r.step;
    return known;
}

bool along_any(const struct build *b, cell_fn *is, void *arg)
{
    const struct cell *pitch = pitch_cell(b), *way = way_cell(b);
    if ((pitch && is(b, pitch, arg)) || (way && is(b, way, arg)))
        return true;
    for (size_t i = 0; i < b->cuts.count; i++)
        for (int f = 0; f < FIELD_COUNT; f++)
            if (b->cuts.at[i].fields[f] && is(b, b->cuts.at[i].fields[f], arg))
                return true;
    return false;
}
