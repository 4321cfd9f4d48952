/* What is formed of the strip, by the lines `fold` of kinds: how near to it holes were pierced before, what
 * cuts it once it is formed, whether a bend's ends are free, and whether a leg still hangs in the strip; and
 * what a part of an item meets of solid steel.
 *
 * A fold lies in the flat strip, where its item works. What was cut at an earlier station has come there by
 * so many pitches; what comes later meets it by as many on the other side.
 */

#include "dieset/strip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>


/* ---- cuts and what is formed ------------------------------------------------------------------------ */

/* From F to T, shifted on by so many pitches. */
static double apart_by(const struct strip *s, const struct tool *f, const struct tool *t, int pitches)
{
    double by = pitches ? pitches * s->way * s->pitch : 0;
    return shape_apart(f->sides, f->n, t->sides, t->n, by, 0);
}

static bool all_round(const struct tool *t) { return t->n && t->in.length >= t->line - SHAPE_NEAR; }

static const double far = STRIP_BESIDE; /* mm: farther off than that nothing is looked at */

/* The bottom of the form that the fold at INDEX is of; NULL: it has none. */
static const struct tool *bottom_of(const struct build *b, const struct strip *s, size_t index)
{
    const struct hole *h = &b->folds.at[index];
    for (size_t i = 0; i < b->folds.count; i++) {
        const struct hole *o = &b->folds.at[i];
        if (o->item == h->item && o->point == h->point && fold_is(o, HANDBOOK_FOLD_BOTTOM) &&
            s->folds.at[i].n)
            return &s->folds.at[i];
    }
    return NULL;
}

/* From the round cut T, shifted on, to the rim of the bottom that it lies in; false: it does not. */
static bool in_bottom(const struct strip *s, const struct tool *bottom, const struct tool *t, int pitches,
                      double *left)
{
    double by = pitches ? pitches * s->way * s->pitch : 0;
    if (!bottom || !shape_inside(bottom->sides, bottom->n, t->x + by, t->y))
        return false;
    *left = shape_from(bottom->sides, bottom->n, t->x + by, t->y) - (t->box.right - t->box.left) / 2;
    return true;
}

/* Is the cut T, shifted on, the hole that the collar F is made of? */
static bool is_own_hole(const struct strip *s, const struct hole *h, const struct tool *f,
                        const struct tool *t, int pitches)
{
    static const double about = 0.1; /* mm */
    return fold_is(h, HANDBOOK_FOLD_COLLAR) &&
           hypot(f->x - t->x - pitches * s->way * s->pitch, f->y - t->y) <= about;
}

static double hole_left_to(const struct build *b, size_t fold, const struct tool *t)
{
    const struct strip *s = strip_of(b);
    const struct tool *f = &s->folds.at[fold], *bottom = bottom_of(b, s, fold);
    double least = INFINITY;
    int first, last = strip_pitches(s, t, f->box.left - far, f->box.right + far, &first);
    for (int p = first > 1 ? first : 1; p <= last && all_round(t); p++) {
        double left;
        if (is_own_hole(s, &b->folds.at[fold], f, t, p))
            continue;
        least = fmin(least, in_bottom(s, bottom, t, p, &left) ? left : apart_by(s, f, t, p));
    }
    return least;
}

/* The least from bends and forms of ITEM to holes that were pierced before it. */
bool form_hole_left(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    *out = INFINITY;
    for (size_t i = 0; i < b->folds.count; i++) {
        const struct hole *h = &b->folds.at[i];
        bool looks = h->item == item && s->folds.at[i].n && !fold_is(h, HANDBOOK_FOLD_LEG) &&
                     !fold_is(h, HANDBOOK_FOLD_BOTTOM);
        for (size_t k = 0; k < s->tools.count && looks; k++)
            *out = fmin(*out, hole_left_to(b, i, &s->tools.at[k]));
    }
    return isfinite(*out);
}

static double own_hole_of(const struct strip *s, const struct hole *h, const struct tool *f)
{
    for (size_t k = 0; k < s->tools.count; k++) {
        const struct tool *t = &s->tools.at[k];
        int first, last = strip_pitches(s, t, f->box.left, f->box.right, &first);
        for (int p = first > 1 ? first : 1; p <= last && all_round(t); p++)
            if (is_own_hole(s, h, f, t, p))
                return t->box.right - t->box.left;
    }
    return 0;
}

/* The smallest of the holes that collars of ITEM are made of; 0: to one of them none comes. */
bool form_widens(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    *out = INFINITY;
    for (size_t i = 0; i < b->folds.count; i++)
        if (b->folds.at[i].item == item && fold_is(&b->folds.at[i], HANDBOOK_FOLD_COLLAR) && s->folds.at[i].n)
            *out = fmin(*out, own_hole_of(s, &b->folds.at[i], &s->folds.at[i]));
    return isfinite(*out) && s->pitch > 0;
}

/* Does all of F lie inside of T, shifted on? Then T cuts round it. */
static bool cuts_round(const struct strip *s, const struct tool *f, const struct tool *t, int pitches)
{
    double by = pitches ? pitches * s->way * s->pitch : 0;
    for (int i = 0; i < f->n; i++)
        if (!shape_inside(t->sides, t->n, f->sides[i].x0 - by, f->sides[i].y0))
            return false;
    return true;
}

/* How many cuts of later stations run into the fold at INDEX; INSIDE: those that lie in its bottom alone. */
static int count_later(const struct build *b, size_t index, bool inside)
{
    static const double touch = 0.05; /* mm */
    const struct strip *s = strip_of(b);
    const struct tool *f = &s->folds.at[index], *bottom = bottom_of(b, s, index);
    int n = 0;
    for (size_t k = 0; k < s->tools.count; k++) {
        const struct tool *t = &s->tools.at[k];
        int first, last = strip_pitches(s, t, f->box.left, f->box.right, &first);
        for (int p = first; p <= last && p < 0; p++) {
            double left = 0;
            bool flat = all_round(t) && in_bottom(s, bottom, t, p, &left) && left >= 0;
            n += t->n && flat == inside && apart_by(s, f, t, p) < -touch && !cuts_round(s, f, t, p);
        }
    }
    return n;
}

static bool sum_later(const struct build *b, int item, bool inside, double *out)
{
    const struct strip *s = strip_of(b);
    *out = 0;
    for (size_t i = 0; i < s->folds.count; i++)
        if (s->folds.at[i].item == item && s->folds.at[i].n &&
            !fold_is(&b->folds.at[i], HANDBOOK_FOLD_BOTTOM))
            *out += count_later(b, i, inside);
    return s->pitch > 0;
}

/* How many cuts of later stations run into what ITEM has formed. */
bool form_cut_later(const struct build *b, int item, double *out) { return sum_later(b, item, false, out); }

/* How many pierce the flat bottom of what it has formed. */
bool form_bottom_cut(const struct build *b, int item, double *out) { return sum_later(b, item, true, out); }

/* ---- ends of bends, and legs ------------------------------------------------------------------------- */

/* The side of the bend that its base lies on: where the item's point is. */
static double base_side(const struct build *b, const struct hole *h, const struct fold_lying *l)
{
    return fold_off(b, h, l) < 0 ? -1 : 1;
}

static bool gone_at(const struct strip *s, const struct fold_lying *l, double along, double across)
{
    return strip_gone(s, l->x + along * l->ux + across * l->vx, l->y + along * l->uy + across * l->vy);
}

static const double beside = 0.1; /* mm: what is looked at beside a rim */

/* From the bend's outer edge towards its base, how far the strip is free beyond one end, counted from the
 * tangent on; BASE: on which side that is, 0: on none. */
static double free_end(const struct strip *s, const struct fold_lying *l, double end, double base)
{
    enum { MOST = 10 };
    static const double step = 0.1; /* mm */
    double at = -2 * l->across + beside;
    while (at < MOST && gone_at(s, l, end * (l->along + beside), base * (l->across + at)))
        at += step;
    return at;
}

/* How far the ends of bends of ITEM are free beyond their tangents; where metal holds the bend itself,
 * negative. */
bool form_relief(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    *out = INFINITY;
    for (size_t i = 0; i < b->folds.count; i++) {
        const struct hole *h = &b->folds.at[i];
        struct fold_lying l;
        if (h->item != item || !fold_is(h, HANDBOOK_FOLD_BEND) || !fold_lying_of(b, h, &l))
            continue;
        double base = base_side(b, h, &l);
        *out = fmin(*out, fmin(free_end(s, &l, 1, base), free_end(s, &l, -1, base)));
    }
    return isfinite(*out) && s->pitch > 0;
}

/* Of places beside a leg - its ends, and its edge away from the bend - the share in metal. */
static double tied(const struct strip *s, const struct fold_lying *l, double base)
{
    enum { PLACES = 16 };
    int held = 0;
    for (int i = 0; i < PLACES; i++) {
        double share = 2 * (i + 0.5) / PLACES - 1;
        held += !gone_at(s, l, share * l->along, -base * (l->across + beside));
        held += !gone_at(s, l, l->along + beside, share * l->across);
        held += !gone_at(s, l, -l->along - beside, share * l->across);
    }
    return (double)held / (3 * PLACES);
}

bool form_leg_tied(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    *out = 0;
    for (size_t i = 0; i < b->folds.count; i++) {
        const struct hole *h = &b->folds.at[i];
        struct fold_lying l;
        if (h->item == item && fold_is(h, HANDBOOK_FOLD_LEG) && fold_lying_of(b, h, &l))
            *out = fmax(*out, tied(s, &l, base_side(b, h, &l)));
    }
    return s->pitch > 0;
}

/* ---- solid steel --------------------------------------------------------------------------------------- */

/* The sides of a hole or a body at its place; yours to free(). */
static struct shape_side *sides_of(const struct dieset_hole *h, int *n)
{
    enum { RECTANGLE = 8 };
    struct shape_side *sides;
    if (h->n_sides) {
        *n = h->n_sides;
        sides = base_alloc((size_t)h->n_sides * sizeof *sides);
        memcpy(sides, h->sides, (size_t)h->n_sides * sizeof *sides);
    } else {
        bool round = !(h->length > 0);
        double along = (round ? h->diameter : h->length) / 2, across = round ? along : h->width / 2;
        sides = base_alloc(RECTANGLE * sizeof *sides);
        *n = shape_rectangle(along, across, round ? along : h->corner, sides);
    }
    shape_shift(sides, *n, h->x, h->y);
    if (shape_area(sides, *n) < 0)
        shape_reverse(sides, *n);
    return sides;
}

struct steel {
    const struct build *b;
    const struct dieset_hole *body; /* its place and size */
    struct shape_part whole;        /* the same */
    struct shape_side plate[8];     /* its rim */
    double bottom;                  /* of the plate */
    BASE_VEC(struct dieset_hole) holes;
    BASE_VEC(double) heights;
};

/* The holes of PLATE that lie round the body, and the heights at which one of them begins or ends. */
static void find_holes(struct steel *at, int plate, double low, double high)
{
    const struct plate_holes *range = &at->b->plate_holes[plate];
    base_vec_push(&at->heights, low);
    base_vec_push(&at->heights, high);
    for (int i = range->first; i < range->first + range->count; i++) {
        struct dieset_hole h = *build_hole(at->b, i, DIESET_NEW);
        if (h.nowhere || h.left > at->body->right || h.right < at->body->left ||
            h.front > at->body->back || h.back < at->body->front)
            continue;
        h.low += at->bottom, h.high += at->bottom;
        base_vec_push(&at->holes, h);
        if (h.low > low && h.low < high)
            base_vec_push(&at->heights, h.low);
        if (h.high > low && h.high < high)
            base_vec_push(&at->heights, h.high);
    }
}

static int by_height(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* What of the body no hole between these heights leaves room for. */
static double area_in_steel(const struct steel *at, double low, double high)
{
    static const double about = 1e-6;
    BASE_VEC(struct shape_part) parts = {0};
    shape_rims rims = {0};
    for (size_t i = 0; i < at->holes.count; i++) {
        const struct dieset_hole *h = &at->holes.at[i];
        if (h->low > low + about || h->high < high - about)
            continue;
        struct shape_part part = {.outside = true};
        part.sides = sides_of(h, &part.n);
        base_vec_push(&parts, part);
    }
    base_vec_push(&parts, ((struct shape_part){at->plate, 4, false}));
    base_vec_push(&parts, at->whole);
    shape_common(parts.at, (int)parts.count, &rims);
    double area = shape_rims_area(&rims, -1);
    for (size_t i = 0; i + 2 < parts.count; i++)
        free((void *)parts.at[i].sides);
    base_vec_done(&parts);
    base_vec_done(&rims);
    return area;
}

/* The height over which the body stands in steel of PLATE. */
static double in_plate(struct steel *at, int plate, double low, double high)
{
    static const double thin = 1e-3, small = 0.05; /* mm, mm2 */
    double deep = 0;
    if (!(high - low > thin))
        return 0;
    find_holes(at, plate, low, high);
    qsort(at->heights.at, at->heights.count, sizeof *at->heights.at, by_height);
    for (size_t i = 0; i + 1 < at->heights.count; i++) {
        double from = at->heights.at[i], to = at->heights.at[i + 1];
        if (to - from > thin && area_in_steel(at, from, to) > small)
            deep += to - from;
    }
    base_vec_done(&at->holes);
    base_vec_done(&at->heights);
    return deep;
}

/* The rim of PLATE; false: the body lies beside it. */
static bool find_rim(struct steel *at, int plate)
{
    const struct contract *k = &at->b->d->contract;
    struct cell *const *of = at->b->items.at[plate].properties;
    double left = cell_amount(at->b, of[k->left], DIESET_NEW),
           right = cell_amount(at->b, of[k->right], DIESET_NEW),
           front = cell_amount(at->b, of[k->front], DIESET_NEW),
           back = cell_amount(at->b, of[k->back], DIESET_NEW);
    const struct dieset_hole *h = at->body;
    if (!(right > left && back > front) || h->left > right || h->right < left || h->front > back ||
        h->back < front)
        return false;
    shape_rectangle((right - left) / 2, (back - front) / 2, 0, at->plate);
    shape_shift(at->plate, 4, (left + right) / 2, (front + back) / 2);
    return true;
}

static double body_in_steel(const struct build *b, const struct hole *body)
{
    const struct contract *k = &b->d->contract;
    const struct rows *plates = &b->rows[k->plate];
    struct dieset_hole told;
    struct steel at = {.b = b, .body = &told};
    double most = 0;
    hole_shape(b, body, DIESET_NEW, &told);
    double from = hole_field(b, body, FIELD_FROM, DIESET_NEW, NAN, &told),
           to = hole_field(b, body, FIELD_TO, DIESET_NEW, NAN, &told);
    if (told.broken)
        return 0;
    at.whole.sides = sides_of(&told, &at.whole.n);
    for (size_t p = 0; p < plates->items.count; p++) {
        int plate = plates->items.at[p];
        at.bottom = cell_amount(b, b->items.at[plate].properties[k->bottom], DIESET_NEW);
        double top = cell_amount(b, b->items.at[plate].properties[k->top], DIESET_NEW);
        if (isfinite(at.bottom) && isfinite(top) && find_rim(&at, plate))
            most = fmax(most, in_plate(&at, plate, fmax(fmin(from, to), at.bottom),
                                       fmin(fmax(from, to), top)));
    }
    free((void *)at.whole.sides);
    return most;
}

/* How high its bodies stand in the steel of plates at shut, where no hole of any item makes room for them. */
bool form_in_steel(const struct build *b, int item, double *out)
{
    *out = 0;
    for (size_t i = 0; i < b->bodies.count; i++)
        if (b->bodies.at[i].item == item)
            *out = fmax(*out, body_in_steel(b, &b->bodies.at[i]));
    return true;
}

/* ---- place by place ------------------------------------------------------------------------------------ */

bool dieset_has_folds(const struct dieset *d, int item)
{
    int kind = dieset_item_kind(d, item);
    return kind >= 0 && handbook_kind(d->h, kind)->n_folds > 0;
}

const char *dieset_formed_at(const struct dieset *d, double x, double y, int *item)
{
    const struct strip *s = d->now ? strip_of(d->now) : NULL;
    *item = -1;
    for (size_t i = 0; s && i < s->folds.count; i++) {
        const struct tool *f = &s->folds.at[i];
        int first, last = strip_pitches(s, f, x, x, &first);
        if (!f->n || f->box.front > y || f->box.back < y)
            continue;
        for (int p = first > 0 ? first : 0; p <= last; p++)
            if (shape_inside(f->sides, f->n, x - p * s->way * s->pitch, y)) {
                *item = f->item;
                return d->now->folds.at[i].spec->operation;
            }
    }
    return NULL;
}

/* ---- what they hang on --------------------------------------------------------------------------------- */

static bool any_field(const struct build *b, const struct hole *h, cell_fn *is, void *arg)
{
    for (int f = 0; f < FIELD_COUNT; f++)
        if (h->fields[f] && is(b, h->fields[f], arg))
            return true;
    return false;
}

bool form_any(const struct build *b, int item, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const struct rows *plates = &b->rows[k->plate];
    const int of_plate[] = {k->top, k->bottom, k->left, k->right, k->front, k->back};
    if (handbook_kind(b->d->h, b->items.at[item].kind)->n_folds == 0)
        return false;
    for (size_t i = 0; i < b->folds.count; i++)
        if (b->folds.at[i].item == item && any_field(b, &b->folds.at[i], is, arg))
            return true;
    for (size_t i = 0; i < b->bodies.count; i++)
        if (b->bodies.at[i].item == item && any_field(b, &b->bodies.at[i], is, arg))
            return true;
    for (size_t p = 0; p < plates->items.count; p++)
        for (size_t i = 0; i < COUNT_OF(of_plate); i++)
            if (is(b, b->items.at[plates->items.at[p]].properties[of_plate[i]], arg))
                return true;
    for (size_t i = 0; i < b->holes.count; i++)
        if (any_field(b, &b->holes.at[i], is, arg))
            return true;
    return false;
}
