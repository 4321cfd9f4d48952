/* Which way round: whether a plate goes on turned or turned over, and whether the halves do.
 *
 * What is laid down the wrong way finds a place of its own: no middle is given to turn it about. Pins let it
 * into that place alone in which each meets a hole; whether screws then meet their holes is seen there. Two
 * equal pins, or posts, always change places under a half turn about the middle between them, however far
 * they are off the plate's middle. Two screws that meet hold a plate that has pins. Own derivation.
 *
 * A place that is off by more than a tenth of the plate's width is seen by anybody, and is none for a plate.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SEEN 0.1            /* of the width: what lies so far off is seen */
#define ALIKE 2.0           /* mm: sides that differ by less are taken for square */
#define ONE_SIZE (1 - 1e-6) /* mm: posts whose diameters differ by less than this are taken for equal */

struct base {
    double x, y, length, width;
    bool square;
};

static double amount(const struct build *b, int plate, int property)
{
    double v = plate < 0 ? 0 : cell_amount(b, b->items.at[plate].properties[property], DIESET_NEW);
    return isnan(v) ? 0 : v;
}

static struct base base_of(const struct build *b, int plate)
{
    const struct contract *k = &b->d->contract;
    struct base p = {amount(b, plate, k->middle_x), amount(b, plate, k->middle_y),
                     amount(b, plate, k->length), amount(b, plate, k->width), false};
    p.square = fabs(p.length - p.width) < ALIKE;
    return p;
}

static void turn_all(const struct shape_spot *from, size_t n, const struct base *p, enum shape_way way,
                     struct shape_spot *to)
{
    for (size_t i = 0; i < n; i++)
        to[i] = shape_spot_moved(from[i], p->x, p->y, way);
}

/* ---- plates -------------------------------------------------------------------------------------------- */

/* A hole as it takes part: PINS and posts locate, by a fit; SCREWS hold; the rest only meets or not. */
enum part { PINS, SCREWS, REST, PARTS };
struct hole_class {
    const char *operation;
    double diameter, length;
    int face;
};

/* The spots of a plate's holes, and the classes that they have when it is turned over. */
struct lying {
    spots_vec spots[PARTS], flipped[PARTS];
    bool odd;
};

/* The class of a hole: what must be equal for one hole to stand for another. FLIPPED: seen on the plate
   turned over. */
static int class_of(struct hole_class *classes, int *n, const struct dieset_hole *h, bool flipped)
{
    int face = h->through && h->start == 0 ? 0 : h->from_top != flipped ? 1 : 2;
    for (int i = 0; i < *n; i++)
        if (classes[i].face == face && fabs(classes[i].diameter - h->diameter) < 1e-6 &&
            fabs(classes[i].length - h->length) < 1e-6 && strcmp(classes[i].operation, h->operation) == 0)
            return i;
    classes[*n] = (struct hole_class){h->operation, h->diameter, h->length, face};
    return (*n)++;
}

static enum part part_of(const struct dieset_hole *h)
{
    return !h->spec->fastens ? REST : *h->fit ? PINS : SCREWS;
}

/* Holes of PLATE that are whole; what is neither round nor a straight rectangle is like no other. */
static void lie_down(const struct build *b, int plate, struct lying *l)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    struct hole_class *classes = base_alloc((size_t)(2 * range->count + 1) * sizeof *classes);
    int n = 0;
    *l = (struct lying){0};
    for (int i = range->first; i < range->first + range->count; i++) {
        struct dieset_hole h;
        build_hole(b, i, DIESET_NEW, &h);
        if (h.broken)
            continue;
        enum part part = part_of(&h);
        l->odd = l->odd || (part == REST && h.n_sides > 0);
        struct shape_spot s = {h.x, h.y, class_of(classes, &n, &h, false)},
                          over = {h.x, h.y, class_of(classes, &n, &h, true)};
        base_vec_push(&l->spots[part], s);
        base_vec_push(&l->flipped[part], over);
    }
    free(classes);
}

static void lying_done(struct lying *l)
{
    for (int i = 0; i < PARTS; i++) {
        base_vec_done(&l->spots[i]);
        base_vec_done(&l->flipped[i]);
    }
}

static struct shape_spot *moved(const spots_vec *from, const struct base *p, enum shape_way way, double x,
                                double y)
{
    struct shape_spot *out = base_alloc((from->count + 1) * sizeof *out);
    turn_all(from->at, from->count, p, way, out);
    for (size_t i = 0; i < from->count; i++)
        out[i].x += x, out[i].y += y;
    return out;
}

/* How far the second best of the images is off: two that meet hold the plate. Of one alone its own. */
static double second_miss(const spots_vec *spots, const struct shape_spot *images)
{
    double best = INFINITY, second = INFINITY;
    for (size_t i = 0; i < spots->count; i++) {
        double least = INFINITY;
        for (size_t k = 0; k < spots->count; k++)
            if (spots->at[k].class == images[i].class)
                least = fmin(least, hypot(spots->at[k].x - images[i].x, spots->at[k].y - images[i].y));
        second = fmin(second, fmax(best, least));
        best = fmin(best, least);
    }
    return spots->count == 0 ? 0 : spots->count == 1 ? best : second;
}

/* Does all that is neither pin nor screw meet its like as well? Then the wrong way does no harm. */
static bool harmless(const struct lying *l, const spots_vec *from, const struct base *p, enum shape_way way,
                     double x, double y)
{
    if (l->odd)
        return false;
    struct shape_spot *images = moved(from, p, way, x, y);
    bool same = shape_spots_miss(l->spots[REST].at, images, l->spots[REST].count) < 0.05;
    free(images);
    return same;
}

/* The miss of the plate laid WAY; INFINITY: it does not go on, or does no harm. */
static double miss_of(const struct lying *l, const struct base *p, enum shape_way way, bool over)
{
    const spots_vec *from = over ? l->flipped : l->spots;
    enum part leads = l->spots[PINS].count ? PINS : SCREWS;
    struct shape_spot *images = moved(&from[leads], p, way, 0, 0);
    double x, y,
        miss = shape_spots_fit(l->spots[leads].at, images, l->spots[leads].count, SEEN * p->width, &x, &y);
    free(images);
    if (isinf(miss) || leads == SCREWS)
        return isinf(miss) || harmless(l, &from[REST], p, way, x, y) ? INFINITY : miss;
    images = moved(&from[SCREWS], p, way, x, y);
    miss = fmax(miss, second_miss(&l->spots[SCREWS], images));
    free(images);
    return miss;
}

static bool plate_miss(const struct build *b, int plate, bool over, double *out)
{
    static const enum shape_way turns[] = {SHAPE_TURN_HALF, SHAPE_TURN_LEFT, SHAPE_TURN_RIGHT},
                                overs[] = {SHAPE_OVER_LENGTH, SHAPE_OVER_WIDTH, SHAPE_OVER_LEFT,
                                           SHAPE_OVER_RIGHT};
    struct lying l;
    struct base p = base_of(b, plate);
    lie_down(b, plate, &l);
    bool any = l.spots[PINS].count + l.spots[SCREWS].count > 0;
    size_t n = over ? (p.square ? 4 : 2) : p.square ? 3 : 1;
    *out = hypot(p.length, p.width);
    for (size_t i = 0; i < n && any; i++)
        *out = fmin(*out, miss_of(&l, &p, over ? overs[i] : turns[i], over));
    lying_done(&l);
    return any;
}

bool swap_turned(const struct build *b, int plate, double *out) { return plate_miss(b, plate, false, out); }
bool swap_flipped(const struct build *b, int plate, double *out) { return plate_miss(b, plate, true, out); }

/* ---- halves -------------------------------------------------------------------------------------------- */

bool points_spots(const struct build *b, int item, int class, spots_vec *out)
{
    const struct item *own = item_points(b, item);
    for (int i = 0; i < own->n_points; i++) {
        struct shape_spot s = {cell_amount(b, own->points[i].x, DIESET_NEW),
                               cell_amount(b, own->points[i].y, DIESET_NEW), class};
        if (isnan(s.x) || isnan(s.y))
            return false;
        base_vec_push(out, s);
    }
    return true;
}

int swap_size(const struct build *b, int item)
{
    int n;
    return base_map_get(&b->d->properties[b->items.at[item].kind], "diameter", &n) ? n : -1;
}

/* All points of the items of ITEM's kind, those of one diameter in one class, which is the first item of it.
   False: one is not known. */
static bool all_spots(const struct build *b, int item, spots_vec *out)
{
    const struct rows *rows = &b->rows[b->items.at[item].kind];
    int size = swap_size(b, item);
    for (size_t i = 0; i < rows->items.count; i++) {
        size_t class = i;
        for (size_t k = 0; k < i && class == i && size >= 0; k++)
            if (fabs(amount(b, rows->items.at[k], size) - amount(b, rows->items.at[i], size)) < ONE_SIZE)
                class = k;
        if (!points_spots(b, rows->items.at[i], (int)class, out))
            return false;
    }
    return out->count > 0;
}

/* The least miss of all points under a half turn, also a quarter where the plate is square; *SHIFT how far
   the plate's middle then lies off. */
static bool all_miss(const struct build *b, int item, double *out, double *shift)
{
    static const enum shape_way turns[] = {SHAPE_TURN_HALF, SHAPE_TURN_LEFT, SHAPE_TURN_RIGHT};
    struct base p = base_of(b, item_points(b, item)->plate);
    spots_vec spots = {0};
    bool known = all_spots(b, item, &spots);
    *out = INFINITY, *shift = 0;
    for (size_t i = 0; i < (p.square ? 3 : 1) && known; i++) {
        double x, y, miss;
        struct shape_spot *images = moved(&spots, &p, turns[i], 0, 0);
        miss = shape_spots_fit(spots.at, images, spots.count, INFINITY, &x, &y);
        free(images);
        if (miss < *out - 1e-9)
            *out = miss, *shift = hypot(x, y);
    }
    if (isinf(*out)) /* no turn brings all onto posts of their size */
        *out = hypot(p.length, p.width);
    base_vec_done(&spots);
    return known;
}

bool swap_all(const struct build *b, int item, double *out)
{
    double shift;
    return all_miss(b, item, out, &shift);
}

bool swap_all_shift(const struct build *b, int item, double *out)
{
    double miss;
    return all_miss(b, item, &miss, out);
}
