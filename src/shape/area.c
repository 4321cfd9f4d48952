/* What areas have in common, what of it is cut, and how narrow it gets. See diewright/shape.h.
 *
 * Each side is parted where it meets another rim; a piece between two such places is all in or all out, so
 * its middle tells. Rims that run along each other are told apart by their direction: the same one
 * bounds both areas on one side, the opposite one leaves nothing between them.
 */

#include "shape/side.h"

#include <math.h>
#include <stdlib.h>

/* ---- places along a side ------------------------------------------------------------------------ */

/* How far along the side the place is: 0 at its beginning, 1 at its end. */
static double share_at(const struct shape_side *s, double x, double y)
{
    if (s->radius > 0) {
        double ax = s->x0 - s->cx, ay = s->y0 - s->cy, bx = x - s->cx, by = y - s->cy;
        double turn = s->way * atan2(ax * by - ay * bx, ax * bx + ay * by);
        return (turn < 0 ? turn + 8 * atan(1) : turn) / s->sweep;
    }
    double dx = s->x1 - s->x0, dy = s->y1 - s->y0;
    return ((x - s->x0) * dx + (y - s->y0) * dy) / (dx * dx + dy * dy);
}

/* The piece from one share of a side to another. */
static struct shape_side piece_of(const struct shape_side *s, double from, double to)
{
    struct shape_side p = *s;
    shape_side_place(s, from, &p.x0, &p.y0);
    shape_side_place(s, to, &p.x1, &p.y1);
    p.sweep = s->sweep * (to - from);
    return p;
}

static bool boxes_meet(const struct shape_box *a, const struct shape_box *b)
{
    return a->left <= b->right + SHAPE_NEAR && b->left <= a->right + SHAPE_NEAR &&
           a->front <= b->back + SHAPE_NEAR && b->front <= a->back + SHAPE_NEAR;
}

/* ---- one side among the other parts ---------------------------------------------------------------- */

struct meeting { int a, b; };

struct among {
    const struct shape_part *parts;
    struct shape_box *boxes;
    BASE_VEC(struct meeting) meetings; /* parts whose boxes meet, each pair once, in order */
    int *first, *all;        /* those that part I meets stand from FIRST[I] on in ALL, in order */
    const int *near; int n_near; /* those of the part at hand */
    BASE_VEC(double) shares; /* where its side is parted */
    shape_rims *out;
};

static void add_share(struct among *a, const struct shape_side *s, double x, double y)
{
    if (side_from(s, x, y) <= SHAPE_NEAR)
        base_vec_push(&a->shares, fmin(fmax(share_at(s, x, y), 0), 1));
}

/* Where S meets OTHER, the ends of the other counted: of sides that run along each other. */
static void part_at(struct among *a, const struct shape_side *s, const struct shape_side *other)
{
    double x[2], y[2];
    for (int m = shape_sides_meet(s, other, false, x, y); m > 0; m--)
        add_share(a, s, x[m - 1], y[m - 1]);
    add_share(a, s, other->x0, other->y0);
    add_share(a, s, other->x1, other->y1);
}

static int by_share(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static void part_side(struct among *a, const struct shape_side *s)
{
    struct shape_box box = shape_box(s, 1);
    a->shares.count = 0;
    base_vec_push(&a->shares, 0);
    base_vec_push(&a->shares, 1);
    for (int i = 0; i < a->n_near; i++) {
        const struct shape_part *p = &a->parts[a->near[i]];
        for (int k = 0; k < p->n && boxes_meet(&box, &a->boxes[a->near[i]]); k++) {
            struct shape_box of = shape_box(&p->sides[k], 1);
            if (boxes_meet(&box, &of))
                part_at(a, s, &p->sides[k]);
        }
    }
    qsort(a->shares.at, a->shares.count, sizeof *a->shares.at, by_share);
}

enum lies { LIES_OUT, LIES_IN, LIES_ALONG, LIES_AGAINST };

/* Does a rim run along the place in the direction DX, DY, or against it? */
static enum lies lies_along(const struct shape_side *s, double x, double y, double dx, double dy)
{
    double ax = s->x1 - s->x0, ay = s->y1 - s->y0;
    if (s->radius > 0)
        ax = -s->way * (y - s->cy), ay = s->way * (x - s->cx);
    return ax * dx + ay * dy > 0 ? LIES_ALONG : LIES_AGAINST;
}

/* Where the middle of a side of an anticlockwise rim lies, seen from another PART. */
static enum lies lies_in(const struct shape_part *part, const struct shape_side *s)
{
    double x, y, dx = s->x1 - s->x0, dy = s->y1 - s->y0;
    shape_side_place(s, 0.5, &x, &y);
    if (s->radius > 0)
        dx = -s->way * (y - s->cy), dy = s->way * (x - s->cx);
    for (int i = 0; i < part->n; i++)
        if (side_from(&part->sides[i], x, y) <= SHAPE_NEAR)
            return lies_along(&part->sides[i], x, y, dx, dy);
    return shape_inside(part->sides, part->n, x, y) ? LIES_IN : LIES_OUT;
}

/* Is the piece, of part OF, in the rim of what all have in common? */
static bool in_common(const struct among *a, int of, const struct shape_side *piece)
{
    struct shape_box box = shape_box(piece, 1);
    for (int i = 0; i < a->n_near; i++) {
        int other = a->near[i];
        const struct shape_part *p = &a->parts[other];
        enum lies lies = boxes_meet(&box, &a->boxes[other]) ? lies_in(p, piece) : LIES_OUT;
        bool alike = p->outside == a->parts[of].outside, along = alike == (lies == LIES_ALONG);
        if (lies == LIES_IN || lies == LIES_OUT ? (lies == LIES_IN) == p->outside : !along || other < of)
            return false;
    }
    return true;
}

static void add_side(struct among *a, int of, const struct shape_side *s)
{
    double length = shape_side_length(s);
    part_side(a, s);
    for (size_t i = 1; i < a->shares.count; i++) {
        double from = a->shares.at[i - 1], to = a->shares.at[i];
        struct shape_side piece = piece_of(s, from, to);
        if ((to - from) * length <= SHAPE_NEAR || !in_common(a, of, &piece))
            continue;
        if (a->parts[of].outside)
            shape_reverse(&piece, 1);
        base_vec_push(a->out, ((struct shape_rim){piece, of, -1}));
    }
}

static double wall_of_boxes(void *arg, int i, int k)
{
    const struct among *a = arg;
    return boxes_meet(&a->boxes[i], &a->boxes[k]) ? 0 : INFINITY;
}

static void note_meeting(void *arg, int i, int k, double wall)
{
    struct among *a = arg;
    (void)wall;
    base_vec_push(&a->meetings, ((struct meeting){i, k}));
}

static void find_meetings(struct among *a, int n)
{
    shape_pairs(a->boxes, n, 2 * SHAPE_NEAR, wall_of_boxes, note_meeting, a);
    a->first = base_alloc(((size_t)n + 2) * sizeof *a->first);
    a->all = base_alloc((2 * a->meetings.count + 1) * sizeof *a->all);
    for (size_t i = 0; i < a->meetings.count; i++) {
        a->first[a->meetings.at[i].a + 2]++;
        a->first[a->meetings.at[i].b + 2]++;
    }
    for (int i = 2; i < n + 2; i++)
        a->first[i] += a->first[i - 1];
    for (size_t i = 0; i < a->meetings.count; i++) {
        struct meeting m = a->meetings.at[i];
        a->all[a->first[m.a + 1]++] = m.b;
        a->all[a->first[m.b + 1]++] = m.a;
    }
}

/* The parts that part OF meets; false: it has nothing in common with one of the INSIDE that are no holes. */
static bool find_near(struct among *a, int of, int inside)
{
    a->near = a->all + a->first[of];
    a->n_near = a->first[of + 1] - a->first[of];
    int met = !a->parts[of].outside;
    for (int i = 0; i < a->n_near; i++)
        met += !a->parts[a->near[i]].outside;
    return met == inside;
}

void shape_common(const struct shape_part *parts, int n, shape_rims *out)
{
    struct among a = {.parts = parts, .out = out, .boxes = base_alloc((size_t)(n + 1) * sizeof *a.boxes)};
    int inside = 0;
    for (int i = 0; i < n; i++) {
        a.boxes[i] = shape_box(parts[i].sides, parts[i].n);
        inside += !parts[i].outside;
    }
    find_meetings(&a, n);
    for (int i = 0; i < n; i++) {
        bool common = find_near(&a, i, inside);
        for (int k = 0; common && k < parts[i].n; k++)
            add_side(&a, i, &parts[i].sides[k]);
    }
    base_vec_done(&a.meetings);
    base_vec_done(&a.shares);
    free(a.first);
    free(a.all);
    free(a.boxes);
}

/* ---- rims ------------------------------------------------------------------------------------------- */

static const double touch = 1e-5; /* mm: ends that belong together */

static int by_left(const void *a, const void *b)
{
    const struct shape_rim *p = a, *q = b;
    return (p->side.x0 > q->side.x0) - (p->side.x0 < q->side.x0);
}

/* The first piece that begins no further left than X. */
static size_t first_from(const shape_rims *r, double x)
{
    size_t low = 0, high = r->count;
    while (low < high) {
        size_t middle = (low + high) / 2;
        if (r->at[middle].side.x0 < x)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The piece that goes on where S ends, of several the one farthest to the left: so areas that touch in a
 * place stay apart. -1: none is left. */
static int goes_on(const shape_rims *r, const struct shape_side *s)
{
    int best = -1;
    double most = -INFINITY;
    for (size_t i = first_from(r, s->x1 - touch); i < r->count && r->at[i].side.x0 <= s->x1 + touch; i++) {
        const struct shape_side *next = &r->at[i].side;
        double sine, cosine;
        if (r->at[i].loop >= 0 || fabs(next->y0 - s->y1) > touch)
            continue;
        side_turn(s, next, &sine, &cosine);
        if (atan2(sine, cosine) > most)
            most = atan2(sine, cosine), best = (int)i;
    }
    return best;
}

int shape_loops(shape_rims *r)
{
    shape_rims ordered = {0};
    int loops = 0;
    if (r->count)
        qsort(r->at, r->count, sizeof *r->at, by_left);
    for (size_t i = 0; i < r->count; i++) {
        int at = r->at[i].loop < 0 ? (int)i : -1;
        if (at >= 0)
            loops++;
        for (; at >= 0; at = goes_on(r, &r->at[at].side)) {
            r->at[at].loop = loops - 1;
            base_vec_push(&ordered, r->at[at]);
        }
    }
    base_vec_done(r);
    r->at = ordered.at, r->count = ordered.count, r->room = ordered.room;
    return loops;
}

double shape_rims_area(const shape_rims *r, int loop)
{
    double area = 0;
    const struct shape_side *from = r->count ? &r->at[0].side : NULL;
    for (size_t i = 0; i < r->count; i++) {
        struct shape_side s = r->at[i].side;
        if (loop >= 0 && r->at[i].loop != loop)
            continue;
        shape_shift(&s, 1, -from->x0, -from->y0);
        area += (s.x0 * s.y1 - s.x1 * s.y0) / 2;
        if (s.radius > 0)
            area += s.way * s.radius * s.radius * (s.sweep - sin(s.sweep)) / 2;
    }
    return area;
}

struct shape_box shape_rims_box(const shape_rims *r, int loop)
{
    struct shape_box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (size_t i = 0; i < r->count; i++) {
        if (loop >= 0 && r->at[i].loop != loop)
            continue;
        struct shape_box b = shape_box(&r->at[i].side, 1);
        box.left = fmin(box.left, b.left), box.right = fmax(box.right, b.right);
        box.front = fmin(box.front, b.front), box.back = fmax(box.back, b.back);
    }
    return box;
}

bool shape_rims_inside(const shape_rims *r, int loop, double x, double y)
{
    double turn = 0;
    for (size_t i = 0; i < r->count; i++)
        if (loop < 0 || r->at[i].loop == loop)
            turn += side_seen_turn(&r->at[i].side, x, y);
    return fabs(turn) > 4 * atan(1);
}

struct shape_cut shape_rims_cut(const shape_rims *r, int of)
{
    struct shape_cut c = {0};
    for (size_t i = 0; i < r->count; i++) {
        const struct shape_side *s = &r->at[i].side;
        double length = shape_side_length(s);
        if (r->at[i].of != of || !s->cuts)
            continue;
        c.length += length;
        c.chord_x += s->x1 - s->x0;
        c.chord_y += s->y1 - s->y0;
        if (s->radius > 0) {
            c.along += length * s->cx + s->radius * s->way * (s->y1 - s->y0);
            c.across += length * s->cy - s->radius * s->way * (s->x1 - s->x0);
        } else {
            c.along += length * (s->x0 + s->x1) / 2;
            c.across += length * (s->y0 + s->y1) / 2;
        }
    }
    return c;
}
