/* Which way round: whether a plate goes on turned or turned over, and whether the halves do.
 *
 * What is laid down the wrong way finds a place of its own: no middle is given to turn it about. Pins let it
 * into that place alone in which each meets a hole; whether screws then meet their holes is seen there. Two
 * equal pins, or posts, always change places under a half turn about the middle between them, however far
 * they are off the plate's middle. Two screws that meet hold a plate that has pins. What goes through a plate
 * and is held elsewhere, a punch through the stripper or a shoulder screw through the punch plate, must find
 * a hole there too; where it finds none, the plate does not go on. Own derivation.
 *
 * A place that is off by more than a share of the plate's width is seen by anybody, and is none for a plate.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define AS_MADE 0.05 /* mm: holes that meet so closely are the same hole to a machinist */

struct base {
    double x, y, length, width;
    bool square;
};

static double amount(const struct build *b, int plate, int property)
{
    double v = plate < 0 ? 0 : cell_amount(b, b->items.at[plate].properties[property], DIESET_NEW);
    return isnan(v) ? 0 : v;
}

/* A factor that geometry goes by; OTHERWISE where the handbook knows no such one. */
static double share(const struct build *b, int factor, double otherwise)
{
    double v = factor < 0 ? otherwise : cell_amount(b, b->factors[factor], DIESET_NEW);
    return isnan(v) ? otherwise : v;
}

static struct base base_of(const struct build *b, int plate)
{
    const struct contract *k = &b->d->contract;
    struct base p = {amount(b, plate, k->middle_x), amount(b, plate, k->middle_y),
                     amount(b, plate, k->length), amount(b, plate, k->width), false};
    p.square = fabs(p.length - p.width) < share(b, k->square_within, 0);
    return p;
}

static bool is_quarter(enum shape_way way)
{
    return way == SHAPE_TURN_LEFT || way == SHAPE_TURN_RIGHT || way == SHAPE_OVER_LEFT ||
           way == SHAPE_OVER_RIGHT;
}

bool swap_any(const struct build *b, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int read[] = {k->seen_off, k->square_within, k->one_size_within};
    for (size_t i = 0; i < COUNT_OF(read); i++)
        if (read[i] >= 0 && is(b, b->factors[read[i]], arg))
            return true;
    return false;
}

/* ---- a plate's holes ----------------------------------------------------------------------------- */

/* A hole as it takes part: PINS and posts locate, by a fit; SCREWS hold; the rest meets or not. */
enum part { PINS, SCREWS, REST, PARTS };
enum { OVER = 1, QUARTER = 2, LIES = 4 }; /* how a plate lies: as it is, turned over, turned by a quarter */

struct hole_class {
    const char *operation;
    double diameter, along, across;
    int face;
};

/* What a hole lets through: half its extents; the circle inside it. */
struct pass {
    double x, y, along, across, inside;
    bool round, straight, through;
    bool passed; /* by what is held in another plate */
};

/* The spots of a plate's holes with the classes that they have as the plate LIES, and what goes through. */
struct lying {
    spots_vec spots[LIES][PARTS];
    BASE_VEC(struct pass) passes; /* of all holes */
    bool odd;                     /* one is neither round nor a straight rectangle, and like no other */
    bool edges;                   /* it is the die plate: turned over its edges are not the same */
};

static bool same_text(const char *a, const char *b) { return a == b || strcmp(a, b) == 0; }

/* The class of a hole: what must be equal for one hole to stand for another, seen on the plate as it LIES. */
static int class_of(struct hole_class *classes, int *n, const struct dieset_hole *h, int lies)
{
    double x = h->right - h->left, y = h->back - h->front;
    int face = h->through && h->start == 0 ? 0 : h->from_top != (bool)(lies & OVER) ? 1 : 2;
    struct hole_class own = {h->operation, h->diameter, lies & QUARTER ? y : x, lies & QUARTER ? x : y, face};
    for (int i = 0; i < *n; i++)
        if (classes[i].face == face && fabs(classes[i].diameter - own.diameter) < 1e-6 &&
            fabs(classes[i].along - own.along) < 1e-6 && fabs(classes[i].across - own.across) < 1e-6 &&
            same_text(classes[i].operation, own.operation))
            return i;
    classes[*n] = own;
    return (*n)++;
}

static enum part part_of(const struct dieset_hole *h)
{
    return !h->spec->fastens ? REST : *h->fit ? PINS : SCREWS;
}

static bool on_bed(const struct build *b, int plate) { return plate_moves(b, plate) == DIESET_MOVES_BED; }

static int die_plate(const struct build *b)
{
    const struct cell *c = only_cell(b, b->d->contract.stack, b->d->contract.die_plate);
    return !c || c->constant[0].error ? -1 : (int)c->constant[0].number;
}

/* Does something of ITEM that is held in another plate go through PLATE when the set is put together? What
   meets the die plate only as the halves close is no part of that: it strikes. */
static bool goes_through(const struct build *b, int item, int plate)
{
    bool guides = on_bed(b, plate) && plate < die_plate(b); /* a fixed stripper */
    size_t low = 0, high = b->bodies.count;
    while (low < high) {
        size_t mid = (low + high) / 2;
        if (b->bodies.at[mid].item < item)
            low = mid + 1;
        else
            high = mid;
    }
    for (; low < b->bodies.count && b->bodies.at[low].item == item; low++) {
        const struct hole *h = &b->bodies.at[low];
        if (h->plate != plate && h->end_plate != plate &&
            (guides || on_bed(b, h->plate) == on_bed(b, plate)))
            return true;
    }
    return false;
}

/* PASSED: goes something of its item through the plate? */
static void add_pass(const struct dieset_hole *h, bool passed, struct lying *l)
{
    struct pass p = {.x = h->x, .y = h->y, .along = (h->right - h->left) / 2,
                     .across = (h->back - h->front) / 2, .through = h->through};
    p.round = !(h->length > 0) && !h->n_sides;
    p.straight = h->length > 0 && !h->n_sides;
    p.inside = p.round || p.straight ? fmin(p.along, p.across) : 0;
    p.passed = part_of(h) == REST && passed;
    base_vec_push(&l->passes, p);
}

/* Holes of PLATE that are whole. */
static void lie_down(const struct build *b, int plate, struct lying *l)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    struct hole_class *classes = base_alloc((size_t)(LIES * range->count + 1) * sizeof *classes);
    int n = 0, item = -1;
    bool passed = false;
    *l = (struct lying){.edges = plate == die_plate(b)};
    for (int i = range->first; i < range->first + range->count; i++) {
        const struct dieset_hole *h = build_hole(b, i, DIESET_NEW);
        if (h->broken)
            continue;
        enum part part = part_of(h);
        l->odd = l->odd || (part == REST && h->n_sides > 0);
        for (int lies = 0; lies < LIES; lies++) {
            struct shape_spot s = {h->x, h->y, class_of(classes, &n, h, lies)};
            base_vec_push(&l->spots[lies][part], s);
        }
        if (h->item != item)
            passed = goes_through(b, item = h->item, plate);
        add_pass(h, passed, l);
    }
    free(classes);
}

static void lying_done(struct lying *l)
{
    for (int lies = 0; lies < LIES; lies++)
        for (int i = 0; i < PARTS; i++)
            base_vec_done(&l->spots[lies][i]);
    base_vec_done(&l->passes);
}

/* ---- laid down another way ----------------------------------------------------------------------- */

/* The way, and how far the plate is shifted then. */
struct laying {
    const struct base *p;
    enum shape_way way;
    double x, y;
};

static struct shape_spot spot_moved(struct shape_spot s, const struct laying *to)
{
    s = shape_spot_moved(s, to->p->x, to->p->y, to->way);
    s.x += to->x, s.y += to->y;
    return s;
}

static struct shape_spot *moved(const spots_vec *from, const struct laying *to)
{
    struct shape_spot *out = base_alloc((from->count + 1) * sizeof *out);
    for (size_t i = 0; i < from->count; i++)
        out[i] = spot_moved(from->at[i], to);
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
                least = fmin(least, shape_distance(spots->at[k].x - images[i].x,
                                                   spots->at[k].y - images[i].y));
        second = fmin(second, fmax(best, least));
        best = fmin(best, least);
    }
    return spots->count == 0 ? 0 : spots->count == 1 ? best : second;
}

/* Does every hole meet its like? Then the wrong way round is the right one. */
static bool harmless(const struct lying *l, const spots_vec *from, const struct laying *to, bool over)
{
    bool same = !l->odd && !(over && l->edges);
    for (int i = 0; i < PARTS && same; i++) {
        struct shape_spot *images = moved(&from[i], to);
        same = shape_spots_miss(l->spots[0][i].at, images, l->spots[0][i].count) < AS_MADE;
        free(images);
    }
    return same;
}

/* By how much what goes through hole A is kept out of the hole whose image is AT, its number as class; never
   more than it is. */
static double kept_out(const struct pass *a, const struct lying *l, struct shape_spot at, bool quarter)
{
    const struct pass *h = &l->passes.at[at.class];
    double along = quarter ? h->across : h->along, across = quarter ? h->along : h->across;
    double off = shape_distance(a->x - at.x, a->y - at.y);
    if (h->round)
        return fmax(0, off + a->inside - along);
    if (!h->straight)
        return fmax(0, off - shape_distance(along, across));
    return fmax(0, fmax(fabs(a->x - at.x) + a->inside - along, fabs(a->y - at.y) + a->inside - across));
}

static int by_x(const void *a, const void *b)
{
    const struct shape_spot *p = a, *q = b;
    return (p->x > q->x) - (p->x < q->x);
}

/* By how much A is kept out of all holes; SORTED: their images from left to right, their numbers as classes.
   REACH: the most that a hole reaches from its middle. */
static double kept_out_of_all(const struct lying *l, const struct pass *a, const struct shape_spot *sorted,
                              double reach, bool quarter)
{
    size_t n = l->passes.count, low = 0, high = n;
    while (low < high) {
        size_t mid = (low + high) / 2;
        if (sorted[mid].x < a->x)
            low = mid + 1;
        else
            high = mid;
    }
    double best = INFINITY;
    for (size_t i = low; i < n && sorted[i].x - a->x - reach < best; i++)
        best = fmin(best, kept_out(a, l, sorted[i], quarter));
    for (size_t i = low; i > 0 && a->x - sorted[i - 1].x - reach < best; i--)
        best = fmin(best, kept_out(a, l, sorted[i - 1], quarter));
    return best;
}

/* By how much what goes through the plate is kept out of it, the worst of it. */
static double barred(const struct lying *l, const struct laying *to, bool over)
{
    size_t n = l->passes.count;
    struct shape_spot *sorted = base_alloc((n + 1) * sizeof *sorted);
    double reach = 0, worst = 0;
    for (size_t i = 0; i < n; i++) {
        const struct pass *p = &l->passes.at[i];
        sorted[i] = spot_moved((struct shape_spot){p->x, p->y, (int)i}, to);
        reach = fmax(reach, shape_distance(p->along, p->across));
    }
    qsort(sorted, n, sizeof *sorted, by_x);
    for (size_t i = 0; i < n; i++) {
        const struct pass *p = &l->passes.at[i];
        if (p->passed && (p->through || !over)) /* a pocket shows its bottom on a plate turned over */
            worst = fmax(worst, kept_out_of_all(l, p, sorted, reach, is_quarter(to->way)));
    }
    free(sorted);
    return worst;
}

/* The miss of the plate laid WAY; INFINITY: it does not go on, or is then as it should be. */
static double miss_of(const struct lying *l, const struct base *p, enum shape_way way, bool over, double seen)
{
    const spots_vec *is = l->spots[0], *from = l->spots[(over ? OVER : 0) | (is_quarter(way) ? QUARTER : 0)];
    struct laying to = {p, way, 0, 0};
    enum part leads = is[PINS].count ? PINS : SCREWS;
    struct shape_spot *images = moved(&from[leads], &to);
    double miss = shape_spots_fit(is[leads].at, images, is[leads].count, seen * p->width, &to.x, &to.y);
    free(images);
    if (isinf(miss) || harmless(l, from, &to, over))
        return INFINITY;
    if (leads == PINS) {
        images = moved(&from[SCREWS], &to);
        miss = fmax(miss, second_miss(&is[SCREWS], images));
        free(images);
    }
    return fmax(miss, barred(l, &to, over));
}

static bool plate_miss(const struct build *b, int plate, bool over, double *out)
{
    static const enum shape_way turns[] = {SHAPE_TURN_HALF, SHAPE_TURN_LEFT, SHAPE_TURN_RIGHT},
                                overs[] = {SHAPE_OVER_LENGTH, SHAPE_OVER_WIDTH, SHAPE_OVER_LEFT,
                                           SHAPE_OVER_RIGHT};
    struct lying l;
    struct base p = base_of(b, plate);
    double seen = share(b, b->d->contract.seen_off, INFINITY);
    lie_down(b, plate, &l);
    bool any = l.spots[0][PINS].count + l.spots[0][SCREWS].count > 0;
    size_t n = over ? (p.square ? 4 : 2) : p.square ? 3 : 1;
    *out = shape_distance(p.length, p.width);
    for (size_t i = 0; i < n && any; i++)
        *out = fmin(*out, miss_of(&l, &p, over ? overs[i] : turns[i], over, seen));
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
    double alike = share(b, b->d->contract.one_size_within, 0) - 1e-6; /* just so much is another size */
    for (size_t i = 0; i < rows->items.count; i++) {
        size_t class = i;
        for (size_t k = 0; k < i && class == i && size >= 0; k++)
            if (fabs(amount(b, rows->items.at[k], size) - amount(b, rows->items.at[i], size)) < alike)
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
        struct laying to = {&p, turns[i], 0, 0};
        struct shape_spot *images = moved(&spots, &to);
        miss = shape_spots_fit(spots.at, images, spots.count, INFINITY, &x, &y);
        free(images);
        if (miss < *out - 1e-9)
            *out = miss, *shift = shape_distance(x, y);
    }
    if (isinf(*out)) /* no turn brings all onto posts of their size */
        *out = shape_distance(p.length, p.width);
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
