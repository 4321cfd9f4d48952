/* What is left of the strip: its pieces, its narrowest section, the metal between two cuts, and what finds
 * none. How it is followed: cuts.c. */

#include "dieset/strip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the whole strip as the tools find it -------------------------------------------------------------- */

/* Tools times pitches; of a longer strip its last pitches alone are looked at, eight at least. */
enum { MOST_PARTS = 1000, LEAST_PITCHES = 8 };

/* Along the feed, upwards: from before the first tool to after the last. */
struct stretch { double first, last; };

static bool stretch_of(const struct strip *s, struct stretch *out)
{
    *out = (struct stretch){INFINITY, -INFINITY};
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        if (!t->known)
            return false;
        out->first = fmin(out->first, s->way > 0 ? t->box.left : -t->box.right);
        out->last = fmax(out->last, s->way > 0 ? t->box.right : -t->box.left);
    }
    return s->banded && s->width > 0 && s->pitch > 0 && isfinite(out->last - out->first);
}

/* All tools that have cut, where they come to lie from one pitch on. */
static void take_tools(struct strip *s, const struct stretch *far, const struct shape_side *band)
{
    BASE_VEC(struct shape_part) parts = {0};
    base_vec_push(&parts, ((struct shape_part){band, 4, false}));
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        int first, last = strip_pitches(s, t, s->way > 0 ? far->first : -far->last,
                                        s->way > 0 ? far->last : -far->first, &first);
        for (int p = first > 1 ? first : 1; p <= last && !t->spares; p++) {
            struct shape_part part;
            strip_add_shifted(t, p * s->way * s->pitch, &part);
            base_vec_push(&parts, part);
        }
    }
    shape_common(parts.at, (int)parts.count, &s->rest);
    for (size_t i = 1; i < parts.count; i++)
        free((void *)parts.at[i].sides);
    base_vec_done(&parts);
}

/* Where a loop begins, and its middle, along the feed. */
static double first_of(const struct strip *s, const struct strip_loop *l)
{
    return s->way > 0 ? l->box.left : -l->box.right;
}

static double middle_of(const struct strip *s, const struct strip_loop *l)
{
    return s->way * (l->box.left + l->box.right) / 2;
}

static bool is_in_loop(const struct strip_loop *l, double x, double y)
{
    return x >= l->box.left && x <= l->box.right && y >= l->box.front && y <= l->box.back &&
           shape_rims_inside(&l->rims, -1, x, y);
}

/* The loose piece that the hole LOOP is in; -1: none. */
static int loose_round(const struct strip *s, int loop)
{
    const struct shape_side *side = &s->loops[loop].rims.at[0].side;
    for (int i = 0; i < s->n_loops; i++)
        if (s->loops[i].loose && s->loops[i].area > 0 && is_in_loop(&s->loops[i], side->x0, side->y0))
            return i;
    return -1;
}

/* What comes loose with one stroke: the pieces of the last pitch that is whole. */
static void sum_loose(struct strip *s, const struct stretch *far)
{
    for (int i = 0; i < s->n_loops; i++) {
        int of = s->loops[i].loose ? i : s->loops[i].area < 0 && s->n_loose ? loose_round(s, i) : -1;
        double back = of < 0 ? -1 : (far->last - middle_of(s, &s->loops[of])) / s->pitch;
        if (back >= 0.5 && back < 1.5)
            s->parted += s->loops[i].area;
        s->loops[i].loose = s->loops[i].loose || of >= 0;
    }
}

/* The rims of what hangs together with the strip that comes. */
static void find_narrowest(struct strip *s, const struct stretch *far)
{
    shape_rims main = {0};
    double last = -INFINITY, end = -INFINITY;
    for (size_t i = 0; i < s->rest.count; i++)
        if (!s->loops[s->rest.at[i].loop].loose)
            base_vec_push(&main, s->rest.at[i]);
    for (size_t i = 0; i < s->tools.count; i++)
        last = fmax(last, s->way * s->tools.at[i].x);
    for (int i = 0; i < s->n_loops; i++)
        if (s->loops[i].main)
            end = s->way > 0 ? s->loops[i].box.right : -s->loops[i].box.left;
    last = fmin(last, end - s->pitch / 2);
    if (!shape_narrowest(&main, s->way * far->first, s->way * last, &s->narrowest))
        s->narrowest.wide = s->width;
    base_vec_done(&main);
}

static void find_pieces(struct strip *s)
{
    enum { AFTER = 3 }; /* pitches: room for what comes loose at the end */
    struct stretch far;
    struct shape_side band[8];
    s->pieces = true;
    s->pieces_known = s->tools.count > 0 && stretch_of(s, &far);
    if (!s->pieces_known)
        return;
    double pitches = fmax(LEAST_PITCHES, MOST_PARTS / (double)s->tools.count);
    far.first = fmax(far.first - s->pitch, far.last - pitches * s->pitch);
    far.last += AFTER * s->pitch;
    shape_rectangle((far.last - far.first) / 2, s->width / 2, 0, band);
    shape_shift(band, 4, s->way * (far.first + far.last) / 2, 0);
    take_tools(s, &far, band);
    s->n_loops = shape_loops(&s->rest);
    s->loops = base_alloc((size_t)(s->n_loops + 1) * sizeof *s->loops);
    for (size_t i = 0; i < s->rest.count; i++) {
        shape_rims *r = &s->loops[s->rest.at[i].loop].rims;
        r->at = r->count ? r->at : &s->rest.at[i];
        r->count++;
    }
    for (int i = 0; i < s->n_loops; i++) {
        struct strip_loop *l = &s->loops[i];
        l->area = shape_rims_area(&l->rims, -1);
        l->box = shape_rims_box(&l->rims, -1);
        l->main = l->area > 0 && first_of(s, l) < far.first + SHAPE_NEAR;
        l->loose = l->area > 0 && !l->main;
        s->n_loose += l->loose;
    }
    sum_loose(s, &far);
    find_narrowest(s, &far);
}

static const struct strip *pieces_of(const struct build *b)
{
    const struct strip *s = strip_of(b);
    if (!s->pieces)
        find_pieces(b->strip);
    return s;
}

bool strip_parted(const struct build *b, int item, double *out)
{
    const struct strip *s = pieces_of(b);
    (void)item;
    *out = s->parted;
    return s->pieces_known || s->tools.count == 0;
}

bool strip_narrowest(const struct build *b, int item, double *out)
{
    const struct strip *s = pieces_of(b);
    (void)item;
    *out = s->narrowest.wide;
    return s->pieces_known;
}

bool strip_narrowest_at(const struct build *b, int item, double *out)
{
    const struct strip *s = pieces_of(b);
    (void)item;
    *out = s->narrowest.x;
    return s->pieces_known;
}

/* ---- the metal between two cuts ------------------------------------------------------------------------ */

static const double reach = 20; /* mm: farther apart than that is not looked at */

static void keep_less(double *least, double x) { *least = fmin(*least, x); }

/* How far the boxes of A and B, shifted on by so much, are apart at least; 0: they meet. */
static double boxes_apart(const struct tool *a, const struct tool *b, double by)
{
    double along = fmax(b->box.left + by - a->box.right, a->box.left - b->box.right - by),
           across = fmax(b->box.front - a->box.back, a->box.front - b->box.back);
    return hypot(fmax(along, 0), fmax(across, 0));
}

/* A and B, shifted on by so much. Of holes in a grid most pairs are no nearer than one held before. */
static void hold_pair(struct strip *s, const struct tool *a, const struct tool *b, double by)
{
    struct strip_item *of_a = &s->items[a->item], *of_b = &s->items[b->item];
    struct shape_part moved;
    if (boxes_apart(a, b, by) > fmax(SHAPE_NEAR, fmax(of_a->web, of_b->web) - SHAPE_NEAR))
        return;
    strip_add_shifted(b, by, &moved);
    double apart = shape_rims_apart(a->sides, a->n, moved.sides, moved.n);
    if (apart > SHAPE_NEAR) {
        keep_less(&of_a->web, apart);
        keep_less(&of_b->web, apart);
    } else {
        double deep = -shape_apart(a->sides, a->n, b->sides, b->n, by, 0);
        keep_less(&of_a->meets, deep);
        keep_less(&of_b->meets, deep);
    }
    free((void *)moved.sides);
}

static void hold_pairs(struct strip *s, size_t i, size_t k)
{
    const struct tool *a = &s->tools.at[i], *b = &s->tools.at[k];
    if (!a->n || !b->n || b->box.front > a->box.back + reach || a->box.front > b->box.back + reach)
        return;
    int first, last = strip_pitches(s, b, a->box.left - reach, a->box.right + reach, &first);
    for (int p = i == k && first < 1 ? 1 : first; p <= last; p++)
        hold_pair(s, a, b, p ? p * s->way * s->pitch : 0);
}

/* How far the tool goes over the strip's edges: over the one that it is nearest to, and over the other as
 * well if it ends about there. */
static void hold_edges(struct strip *s, const struct tool *t)
{
    static const double about = 1; /* mm */
    struct strip_item *of = &s->items[t->item];
    double back = t->box.back - s->width / 2, front = -s->width / 2 - t->box.front;
    double most = fmax(back, front), other = fmin(back, front);
    keep_less(&of->over, other > -about ? other : most);
    if (most < -SHAPE_NEAR)
        keep_less(&of->edge, -most);
}

static const struct strip_item *webs_of(const struct build *b, int item)
{
    struct strip *s = b->strip;
    strip_of(b);
    for (size_t i = 0; i < b->items.count && !s->webs; i++)
        s->items[i].web = s->items[i].edge = s->items[i].meets = s->items[i].over = INFINITY;
    for (size_t i = 0; i < s->tools.count && !s->webs; i++) {
        if (s->banded && s->tools.at[i].n)
            hold_edges(s, &s->tools.at[i]);
        for (size_t k = i; k < s->tools.count; k++)
            hold_pairs(s, i, k);
    }
    s->webs = true;
    return &s->items[item];
}

bool strip_web(const struct build *b, int item, double *out)
{
    *out = webs_of(b, item)->web;
    return isfinite(*out);
}

bool strip_edge(const struct build *b, int item, double *out)
{
    *out = webs_of(b, item)->edge;
    return isfinite(*out);
}

bool strip_meets(const struct build *b, int item, double *out)
{
    *out = webs_of(b, item)->meets;
    return isfinite(*out);
}

bool strip_over(const struct build *b, int item, double *out)
{
    *out = webs_of(b, item)->over;
    return isfinite(*out);
}

/* ---- what finds no strip ------------------------------------------------------------------------------- */

bool strip_gone(const struct strip *s, double x, double y)
{
    if (fabs(y) >= s->width / 2)
        return true;
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        if (t->n == 0 || t->spares || t->box.front > y || t->box.back < y)
            continue;
        int first, last = strip_pitches(s, t, x, x, &first);
        for (int p = first > 1 ? first : 1; p <= last; p++)
            if (shape_inside(t->sides, t->n, x - p * s->way * s->pitch, y))
                return true;
    }
    return false;
}

static bool is_loose(const struct strip *s, double x, double y)
{
    for (int i = 0; i < s->n_loops; i++)
        if (s->loops[i].loose && s->loops[i].area > 0 && is_in_loop(&s->loops[i], x, y))
            return true;
    return false;
}

/* Does something of the rim lie in the strip that hangs together? */
static bool finds_strip(const struct strip *s, const struct shape_side *sides, int n)
{
    enum { PLACES = 4 };
    for (int i = 0; i < n; i++)
        for (int k = 0; k < PLACES; k++) {
            double x, y;
            shape_side_place(&sides[i], (k + 0.5) / PLACES, &x, &y);
            if (!strip_gone(s, x, y) && !is_loose(s, x, y))
                return true;
        }
    return false;
}

static void count_misses(const struct build *b, const struct strip *s, const struct hole *h, double *out)
{
    int n;
    struct shape_side *sides = strip_line_sides(b, h, &n);
    *out += sides && !finds_strip(s, sides, n);
    free(sides);
}

/* Of its lines, or, where it has none, of its bends and what else it forms, or of its bodies. */
bool strip_misses(const struct build *b, int item, double *out)
{
    const struct strip *s = pieces_of(b);
    *out = 0;
    if (!s->pieces_known)
        return false;
    for (size_t i = 0; i < s->tools.count && s->items[item].points; i++) {
        const struct tool *t = &s->tools.at[i];
        bool cuts = t->in.length > SHAPE_NEAR && !(s->n_loose && !finds_strip(s, t->sides, t->n));
        *out += t->item == item && !cuts;
    }
    bool folds = handbook_kind(b->d->h, b->items.at[item].kind)->n_folds > 0;
    const struct hole *at = folds ? b->folds.at : b->bodies.at;
    for (size_t i = 0, n = folds ? b->folds.count : b->bodies.count; i < n && !s->items[item].points; i++)
        if (at[i].item == item && strcmp(at[i].spec->operation, HANDBOOK_FOLD_LEG) != 0 &&
            strcmp(at[i].spec->operation, HANDBOOK_FOLD_BOTTOM) != 0)
            count_misses(b, s, &at[i], out);
    return true;
}

/* ---- holes that pilots find, and find cut into --------------------------------------------------------- */

static bool meets_after(const struct strip *s, const struct tool *hole, double by)
{
    bool met = false;
    struct shape_part at;
    strip_add_shifted(hole, by, &at);
    struct shape_box box = shape_box(at.sides, at.n);
    for (size_t i = 0; i < s->tools.count && !met; i++) {
        const struct tool *t = &s->tools.at[i];
        int first, last = strip_pitches(s, t, box.left, box.right, &first);
        bool beside = t->box.back < box.front - SHAPE_NEAR || t->box.front > box.back + SHAPE_NEAR;
        if (t == hole || t->n == 0 || t->spares || beside)
            continue;
        for (int p = first > 1 ? first : 1; p <= last && !met; p++)
            met = shape_apart(at.sides, at.n, t->sides, t->n, p * s->way * s->pitch, 0) <= SHAPE_NEAR;
    }
    free((void *)at.sides);
    return met;
}

/* The hole that has come to the place; NULL: none has. */
static const struct tool *hole_at(const struct strip *s, double x, double y, double *by)
{
    static const double about = 0.1; /* mm */
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        double pitches = round(s->way * (x - t->x) / s->pitch);
        *by = pitches * s->way * s->pitch;
        if (t->n && pitches >= 1 && hypot(x - t->x - *by, y - t->y) <= about)
            return t;
    }
    return NULL;
}

bool strip_found_cut(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    const struct item *own = item_points(b, item);
    *out = 0;
    for (int i = 0; i < own->n_points && s->pitch > 0; i++) {
        double by, x = cell_amount(b, own->points[i].x, DIESET_NEW),
                   y = cell_amount(b, own->points[i].y, DIESET_NEW);
        const struct tool *hole = hole_at(s, x, y, &by);
        *out += hole && meets_after(s, hole, by);
    }
    return s->pitch > 0;
}

/* ---- what passes over what stands in the die --------------------------------------------------------- */

/* Across the feed, from a round body to what is cut before it and passes over it; negative: by how much of
   the body that covers, which is never more than it is long. */
static double beside_lane(const struct strip *s, const struct dieset_hole *pin)
{
    double least = INFINITY, half = pin->diameter / 2;
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        double begins = s->way > 0 ? t->box.left : -t->box.right,
               beside = fmax(t->box.front - pin->y - half, pin->y - half - t->box.back),
               covered = fmin(fmin(t->box.back, pin->y + half) - fmax(t->box.front, pin->y - half),
                              t->box.right - t->box.left);
        if (t->n && !t->spares && begins < s->way * pin->x + half)
            least = fmin(least, beside >= 0 ? beside : -covered);
    }
    return least;
}

bool strip_lane(const struct build *b, int item, double *out)
{
    const struct strip *s = strip_of(b);
    *out = INFINITY;
    for (size_t i = 0; i < b->bodies.count; i++) {
        struct dieset_hole pin = {.origin = -1};
        if (b->bodies.at[i].item != item || !b->bodies.at[i].spec->diameter)
            continue;
        hole_shape(b, &b->bodies.at[i], DIESET_NEW, &pin);
        *out = fmin(*out, beside_lane(s, &pin));
    }
    return isfinite(*out);
}

/* ---- place by place --------------------------------------------------------------------------------- */

bool dieset_cuts_strip(const struct dieset *d, int item)
{
    return d->now && item >= 0 && pieces_of(d->now)->items[item].points > 0;
}

enum dieset_metal dieset_strip_at(const struct dieset *d, double x, double y, int *item)
{
    const struct strip *s = d->now ? pieces_of(d->now) : NULL;
    *item = -1;
    if (!s || !(fabs(y) < s->width / 2))
        return DIESET_NO_STRIP;
    if (strip_gone(s, x, y))
        return DIESET_GONE;
    for (size_t i = 0; i < s->tools.count && *item < 0; i++) {
        const struct tool *t = &s->tools.at[i];
        bool near = t->n && t->box.left <= x && t->box.right >= x && t->box.front <= y && t->box.back >= y;
        if (near && shape_inside(t->sides, t->n, x, y))
            *item = t->item;
    }
    return *item >= 0 ? DIESET_CUT : is_loose(s, x, y) ? DIESET_LOOSE : DIESET_WHOLE;
}

void dieset_strip_lines(const struct dieset *d, bool formed, dieset_line_fn *visit, void *arg)
{
    const struct strip *s = d->now ? pieces_of(d->now) : NULL;
    const tools_vec *lines = s ? formed ? &s->folds : &s->tools : NULL;
    for (size_t i = 0; lines && i < lines->count; i++)
        if (lines->at[i].n)
            visit(arg, lines->at[i].item, lines->at[i].sides, lines->at[i].n);
}

bool dieset_parted_box(const struct dieset *d, struct shape_box *out)
{
    const struct strip *s = d->now ? pieces_of(d->now) : NULL;
    const struct strip_loop *first = NULL;
    for (int i = 0; s && i < s->n_loops; i++) {
        const struct strip_loop *l = &s->loops[i];
        if (l->loose && l->area > 0 && (!first || first_of(s, l) < first_of(s, first)))
            first = l;
    }
    *out = first ? first->box : (struct shape_box){0};
    return first;
}
