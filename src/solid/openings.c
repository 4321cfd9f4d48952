/* From the holes of a plate to pieces, levels and walls; what is no solid is refused here. */

#include "solid/opening.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double thin = 1e-6; /* mm: no less is a height */
static const double pi = 3.14159265358979323846;

void openings_done(struct openings *o)
{
    base_vec_done(&o->at);
    base_vec_done(&o->pieces);
    base_vec_done(&o->levels);
    base_vec_done(&o->walls);
    base_arena_done(&o->memory);
}

/* ---- refusals -------------------------------------------------------------------------------- */

/* "a hole of die_screws (tap) at 25.0 mm, 40.0 mm" */
static char *hole_words(const struct openings *o, const struct opening *w)
{
    char x[40], y[40];
    struct unit_system system = dieset_system(o->d);
    const char *title = w->hole.spec->title ? w->hole.spec->title : w->hole.operation;
    return base_format("a hole of %s (%s) at %s, %s", dieset_item_name(o->d, w->hole.item), title,
                       unit_print(w->hole.x, UNIT_LENGTH, system, x, sizeof x),
                       unit_print(w->hole.y, UNIT_LENGTH, system, y, sizeof y));
}

static enum base_err refuse(const struct openings *o, const struct opening *w, const char *says,
                            struct base_diag *why)
{
    char *words = hole_words(o, w);
    enum base_err err = base_fail(why, BASE_REFUSED, "In %s %s %s.", dieset_item_name(o->d, o->plate), words,
                                  says);
    free(words);
    return err;
}

enum base_err openings_refuse(const struct openings *o, int a, int b, struct base_diag *why)
{
    char *p = hole_words(o, piece_opening(o, a)), *q = hole_words(o, piece_opening(o, b));
    enum base_err err = base_fail(why, BASE_REFUSED,
                                  "In %s %s and %s touch or cut each other: that is no solid until one of "
                                  "them is moved or resized.",
                                  dieset_item_name(o->d, o->plate), p, q);
    free(p);
    free(q);
    return err;
}

/* ---- one opening ----------------------------------------------------------------------------- */

/* B goes on as A does. */
static bool goes_on(const struct shape_side *a, const struct shape_side *b)
{
    double ax, ay, bx, by;
    if (a->radius > 0 || b->radius > 0)
        return a->way == b->way && fabs(a->radius - b->radius) <= SHAPE_NEAR &&
               hypot(a->cx - b->cx, a->cy - b->cy) <= SHAPE_NEAR;
    shape_side_direction(a, false, &ax, &ay);
    shape_side_direction(b, false, &bx, &by);
    return fabs(ax * by - ay * bx) <= 1e-12 && ax * bx + ay * by > 0;
}

static void join_sides(struct shape_side *a, const struct shape_side *b)
{
    a->x1 = b->x1, a->y1 = b->y1;
    a->sweep += b->sweep;
}

/* Sides that go on as the one before are one with it, so that a slot's end is one face; how many are left. */
static int join_all(struct shape_side *s, int n)
{
    int kept = 1;
    for (int i = 1; i < n; i++)
        if (goes_on(&s[kept - 1], &s[i]))
            join_sides(&s[kept - 1], &s[i]);
        else
            s[kept++] = s[i];
    if (kept > 1 && goes_on(&s[kept - 1], &s[0])) {
        join_sides(&s[kept - 1], &s[0]);
        s[0] = s[--kept];
    }
    return kept;
}

/* An arc whose ends are both as far from its middle as it says. */
static void fit_arc(struct shape_side *s)
{
    struct shape_side fitted;
    bool long_way = s->sweep > pi;
    if (!(s->radius > 0) || s->sweep >= 2 * pi - 1e-9 ||
        !shape_arc(s->x0, s->y0, s->x1, s->y1, s->radius, s->way, long_way, &fitted))
        return;
    fitted.cuts = s->cuts;
    *s = fitted;
}

/* Where its sides come out one circle, it is round. */
static void read_shape(struct openings *o, struct opening *w, double left, double front)
{
    enum { RECTANGLE = 8 };
    const struct dieset_hole *h = &w->hole;
    w->x = h->x - left, w->y = h->y - front;
    bool flat = h->length > 0 && h->width > 0;
    w->round = !h->n_sides && !flat;
    if (w->round)
        return;
    w->n = h->n_sides ? h->n_sides : RECTANGLE;
    w->sides = base_arena_alloc(&o->memory, (size_t)(w->n + 1) * sizeof *w->sides);
    if (h->n_sides)
        memcpy(w->sides, h->sides, (size_t)w->n * sizeof *w->sides);
    else
        w->n = shape_rectangle(h->length / 2, h->width / 2, h->corner, w->sides);
    if (shape_area(w->sides, w->n) < 0)
        shape_reverse(w->sides, w->n);
    shape_shift(w->sides, w->n, w->x, w->y);
    w->n = join_all(w->sides, w->n);
    if (w->n == 1) {
        w->round = true;
        w->x = w->sides[0].cx, w->y = w->sides[0].cy;
        w->hole.diameter = 2 * w->sides[0].radius;
    }
    for (int i = 0; i < w->n && !w->round; i++)
        fit_arc(&w->sides[i]);
}

static const char *opening_name(struct openings *o, const struct dieset_hole *h)
{
    const char *title = h->spec->title ? h->spec->title : h->operation;
    const char *item = dieset_item_name(o->d, h->item);
    const char *told = *h->thread ? h->thread : h->fit;
    char deep[60] = "", length[40];
    if (*h->thread && h->thread_depth > 0)
        snprintf(deep, sizeof deep, " %s deep",
                 unit_print(h->thread_depth, UNIT_LENGTH, dieset_system(o->d), length, sizeof length));
    return base_arena_format(&o->memory, "%s: %s%s%s%s", item, title, *told ? " " : "", told, deep);
}

/* ---- its pieces ------------------------------------------------------------------------------ */

/* A piece as far as it is inside the plate. */
static void add_piece(struct openings *o, struct piece p)
{
    struct piece cut = p;
    cut.low = fmax(0, p.low), cut.high = fmin(o->thickness, p.high);
    if (!(cut.high - cut.low > thin))
        return;
    cut.size_low = piece_size(&p, cut.low), cut.size_high = piece_size(&p, cut.high);
    base_vec_push(&o->pieces, cut);
}

/* From NEAR on, measured from the face that the hole is made from, as far as FAR. */
static void add_between(struct openings *o, int opening, double near, double far, double size_near,
                        double size_far)
{
    const struct dieset_hole *h = &o->at.at[opening].hole;
    double from = h->from_top ? h->high - near : h->low + near;
    double to = h->from_top ? h->high - far : h->low + far;
    add_piece(o, h->from_top ? (struct piece){opening, to, from, size_far, size_near}
                             : (struct piece){opening, from, to, size_near, size_far});
}

/* Straight as far as its land; wider below that, where it has a relief; then the tip of the drill. What is
 * ground off has a land above the face, so that the opening is the wider there. */
static void add_pieces(struct openings *o, int opening)
{
    const struct opening *w = &o->at.at[opening];
    const struct dieset_hole *h = &w->hole;
    double size = w->round ? h->diameter / 2 : 0, depth = h->high - h->low, lean = tan(h->relief);
    double land = lean > 0 ? fmin(h->land, depth) : depth;
    add_between(o, opening, fmin(0, land), land, size, size);
    if (land < depth)
        add_between(o, opening, land, depth, size, size + (depth - land) * lean);
    if (w->round && h->tip > 0)
        add_between(o, opening, depth, depth + h->tip, size, 0);
}

/* Does its widest section stay inside of the plate? */
static bool stays_inside(const struct openings *o, const struct opening *w)
{
    double wider = fmax(0, w->hole.high - w->hole.low - w->hole.land) * tan(w->hole.relief);
    double r = w->hole.diameter / 2 + wider;
    struct shape_box box = w->round ? (struct shape_box){w->x - r, w->x + r, w->y - r, w->y + r}
                                    : shape_box(w->sides, w->n);
    double least = SHAPE_NEAR + (w->round ? 0 : wider);
    return box.left > least && box.right < o->length - least && box.front > least &&
           box.back < o->width - least;
}

static enum base_err read_opening(struct openings *o, int hole, double left, double front,
                                  struct base_diag *why)
{
    struct opening w = {.round = true};
    dieset_hole(o->d, hole, o->state, &w.hole);
    if (w.hole.broken)
        return refuse(o, &w, "has a value that cannot be worked out; check tells which", why);
    if (!(w.hole.diameter > 2 * SHAPE_NEAR))
        return refuse(o, &w, "has no size", why);
    read_shape(o, &w, left, front);
    w.open = !stays_inside(o, &w);
    if (w.open && !w.hole.spec->open)
        return refuse(o, &w, "breaks the edge of the plate, or has nothing left beside it: move it inwards",
                      why);
    w.name = opening_name(o, &w.hole);
    base_vec_push(&o->at, w);
    add_pieces(o, (int)o->at.count - 1);
    return BASE_OK;
}

/* ---- pairs that may lie in one another ------------------------------------------------------- */

struct pair { int a, b; };
struct pairs { BASE_VEC(struct pair) at; };

static struct shape_box piece_box(const struct openings *o, const struct piece *p)
{
    const struct opening *w = &o->at.at[p->opening];
    double most = fmax(p->size_low, p->size_high);
    struct shape_box box = w->round ? (struct shape_box){w->x, w->x, w->y, w->y}
                                    : shape_box(w->sides, w->n);
    /* a sharp corner goes further out than its sides; no opening has one of less than a right angle's half */
    double out = w->round ? most : 3 * fmax(0, most);
    return (struct shape_box){box.left - out, box.right + out, box.front - out, box.back + out};
}

struct gathering { struct openings *o; struct pairs *pairs; };

static double pair_of(void *arg, int i, int k)
{
    const struct openings *o = ((const struct gathering *)arg)->o;
    const struct piece *p = &o->pieces.at[i], *q = &o->pieces.at[k];
    return p->low <= q->high + thin && q->low <= p->high + thin ? 0 : INFINITY;
}

static void keep_pair(void *arg, int i, int k, double wall)
{
    (void)wall;
    struct gathering *g = arg;
    base_vec_push(&g->pairs->at, ((struct pair){i, k}));
}

/* Pieces whose boxes meet and that have a height in common, if only one. */
static void find_pairs(struct openings *o, struct pairs *out)
{
    int n = (int)o->pieces.count;
    struct shape_box *boxes = base_alloc((size_t)(n + 1) * sizeof *boxes);
    for (int i = 0; i < n; i++)
        boxes[i] = piece_box(o, &o->pieces.at[i]);
    shape_pairs(boxes, n, 2 * thin, pair_of, keep_pair, &(struct gathering){o, out});
    free(boxes);
}

/* ---- levels ---------------------------------------------------------------------------------- */

static int by_height(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

/* Where a cone and what lies on its axis are equally wide, the wider one changes. */
static void add_crossing(struct openings *o, const struct piece *a, const struct piece *b)
{
    double low = fmax(a->low, b->low), high = fmin(a->high, b->high);
    double at_low = piece_size(a, low) - piece_size(b, low);
    double at_high = piece_size(a, high) - piece_size(b, high);
    if (high - low > thin && at_low * at_high < 0)
        base_vec_push(&o->levels, low + (high - low) * at_low / (at_low - at_high));
}

static void find_levels(struct openings *o, const struct pairs *pairs)
{
    base_vec_push(&o->levels, 0);
    base_vec_push(&o->levels, o->thickness);
    for (size_t i = 0; i < o->pieces.count; i++) {
        base_vec_push(&o->levels, o->pieces.at[i].low);
        base_vec_push(&o->levels, o->pieces.at[i].high);
    }
    for (size_t i = 0; i < pairs->at.count; i++)
        if (section_one_axis(o, pairs->at.at[i].a, pairs->at.at[i].b))
            add_crossing(o, &o->pieces.at[pairs->at.at[i].a], &o->pieces.at[pairs->at.at[i].b]);
    qsort(o->levels.at, o->levels.count, sizeof *o->levels.at, by_height);
    size_t kept = 1;
    for (size_t i = 1; i < o->levels.count; i++)
        if (o->levels.at[i] - o->levels.at[kept - 1] > thin)
            o->levels.at[kept++] = o->levels.at[i];
    o->levels.count = kept;
    o->levels.at[kept - 1] = o->thickness;
}

static int level_of(const struct openings *o, double z)
{
    int best = 0;
    for (int i = 1; i < (int)o->levels.count; i++)
        if (fabs(o->levels.at[i] - z) < fabs(o->levels.at[best] - z))
            best = i;
    return best;
}

/* ---- walls ----------------------------------------------------------------------------------- */

/* How two pieces lie to each other all the way between two heights. */
static enum relation between(const struct openings *o, int a, int b, double low, double high)
{
    if (section_one_axis(o, a, b))
        return section_relation(o, a, b, (low + high) / 2);
    enum relation at_low = section_relation(o, a, b, low), at_high = section_relation(o, a, b, high);
    return at_low == at_high ? at_low : CUTS;
}

/* HIDDEN: a row of slabs for each piece, in those of which a wider one holds it. */
static enum base_err hide(const struct openings *o, const struct pair *p, const int (*ends)[2], bool *hidden,
                          struct base_diag *why)
{
    size_t slabs = o->levels.count;
    int low = ends[p->a][0] > ends[p->b][0] ? ends[p->a][0] : ends[p->b][0];
    int high = ends[p->a][1] < ends[p->b][1] ? ends[p->a][1] : ends[p->b][1];
    for (int k = low; k < high; k++) {
        enum relation r = between(o, p->a, p->b, o->levels.at[k], o->levels.at[k + 1]);
        if (r == CUTS)
            return openings_refuse(o, p->a, p->b, why);
        if (r == HOLDS || r == SAME)
            hidden[(size_t)p->b * slabs + (size_t)k] = true;
        if (r == HELD)
            hidden[(size_t)p->a * slabs + (size_t)k] = true;
    }
    return BASE_OK;
}

static void add_walls(struct openings *o, int piece, const int ends[2], const bool *hidden)
{
    for (int k = ends[0]; k < ends[1]; k++) {
        if (hidden[k])
            continue;
        int low = k;
        while (k + 1 < ends[1] && !hidden[k + 1])
            k++;
        base_vec_push(&o->walls, ((struct wall){piece, low, k + 1}));
    }
}

static enum base_err find_walls(struct openings *o, const struct pairs *pairs, struct base_diag *why)
{
    size_t n = o->pieces.count, slabs = o->levels.count;
    bool *hidden = base_alloc((n + 1) * slabs);
    int(*ends)[2] = base_alloc((n + 1) * sizeof *ends);
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < n; i++) {
        ends[i][0] = level_of(o, o->pieces.at[i].low), ends[i][1] = level_of(o, o->pieces.at[i].high);
        o->pieces.at[i].low = o->levels.at[ends[i][0]], o->pieces.at[i].high = o->levels.at[ends[i][1]];
    }
    for (size_t i = 0; i < pairs->at.count && !err; i++)
        err = base_give_up() ? base_fail_given_up(why)
                             : hide(o, &pairs->at.at[i], (const int(*)[2])ends, hidden, why);
    for (size_t i = 0; i < n && !err; i++)
        add_walls(o, (int)i, ends[i], hidden + i * slabs);
    free(hidden);
    free(ends);
    return err;
}

/* ---- all of it ------------------------------------------------------------------------------- */

enum base_err openings_read(struct dieset *d, int plate, enum dieset_state s, struct openings *out,
                            struct base_diag *why)
{
    struct dieset_plate p = dieset_plate(d, plate, s);
    *out = (struct openings){.d = d, .plate = plate, .state = s, .length = p.length, .width = p.width,
                             .thickness = p.thickness_now};
    if (!(p.length > thin && p.width > thin && p.thickness_now > thin) || !isfinite(p.left + p.front))
        return base_fail(why, BASE_REFUSED, "The size or the place of %s is not known; check tells why.",
                         dieset_item_name(d, plate));
    int first, n = dieset_plate_holes(d, plate, &first);
    enum base_err err = BASE_OK;
    for (int i = 0; i < n && !err; i++)
        err = read_opening(out, first + i, p.left, p.front, why);
    struct pairs pairs = {0};
    if (!err) {
        find_pairs(out, &pairs);
        find_levels(out, &pairs);
        err = find_walls(out, &pairs, why);
    }
    base_vec_done(&pairs.at);
    if (err)
        openings_done(out);
    return err;
}
