/* The plate's four sides, with the slots that are open there.
 *
 * Between two heights where an open slot begins or ends the sides of the plate are one closed line, the rim,
 * anticlockwise seen from above, which goes into each slot and out again. Where the rim changes, what lies
 * between the one below and the one above is a flat face.
 */

#include "solid/shell.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIDES = 4 };
static const char *const side_names[SIDES] = {"front", "right", "back", "left"};

struct line { double x, y, dx, dy, length; }; /* one side of the plate */

/* A side of a rim; PLATE: the number of the plate's side that it is a part of, -1: it is a slot's. */
struct rim_side { struct shape_side s; int plate; const char *name; };
struct rim { BASE_VEC(struct rim_side) at; int low, high; };

/* A rim at a height: each side has become some edges. */
struct edging { int *first, *corner; BASE_VEC(struct body_use) uses; };

struct rims {
    const struct openings *o;
    struct body *body;
    struct line lines[SIDES];
    BASE_VEC(struct rim) at; /* from below */
};

static void find_lines(struct rims *r)
{
    double l = r->o->length, w = r->o->width;
    const struct line lines[SIDES] = {{0, 0, 1, 0, l}, {l, 0, 0, 1, w}, {l, w, -1, 0, l}, {0, w, 0, -1, w}};
    memcpy(r->lines, lines, sizeof lines);
}

/* How far inside of the side a place is, and how far along it. */
static double inside(const struct line *l, double x, double y)
{
    return l->dx * (y - l->y) - l->dy * (x - l->x);
}
static double along(const struct line *l, double x, double y)
{
    return l->dx * (x - l->x) + l->dy * (y - l->y);
}

/* ---- the part of a slot that is inside of the plate ------------------------------------------ */

struct chain { BASE_VEC(struct shape_side) at; double from, to; const char *name; };

static struct shape_side part(const struct shape_side *s, double from, double to)
{
    struct shape_side out = *s;
    shape_side_place(s, from, &out.x0, &out.y0);
    shape_side_place(s, to, &out.x1, &out.y1);
    out.sweep = s->sweep * (to - from);
    return out;
}

static double share_of(const struct shape_side *s, double x, double y)
{
    if (!(s->radius > 0))
        return hypot(x - s->x0, y - s->y0) / shape_side_length(s);
    double turn = s->way * (atan2(y - s->cy, x - s->cx) - atan2(s->y0 - s->cy, s->x0 - s->cx));
    return (turn < -1e-9 ? turn + 2 * 3.14159265358979323846 : turn) / s->sweep;
}

/* The parts of a side that lie on one side of the plate's line. */
static void split_side(const struct line *l, const struct shape_side *s, struct chain *out)
{
    static const double none = 1e-9, far = 1e5;
    struct shape_side line = shape_straight(l->x - far * l->dx, l->y - far * l->dy, l->x + far * l->dx,
                                            l->y + far * l->dy);
    double x[2], y[2], cuts[4] = {0};
    int n = shape_sides_meet(s, &line, false, x, y), count = 1;
    for (int i = 0; i < n; i++) {
        double share = share_of(s, x[i], y[i]);
        if (share > none && share < 1 - none)
            cuts[count++] = share;
    }
    if (count == 3 && cuts[1] > cuts[2])
        cuts[1] += cuts[2], cuts[2] = cuts[1] - cuts[2], cuts[1] -= cuts[2];
    cuts[count++] = 1;
    for (int i = 0; i + 1 < count; i++)
        base_vec_push(&out->at, part(s, cuts[i], cuts[i + 1]));
}

static bool is_inside(const struct line *l, const struct shape_side *s)
{
    double x, y;
    shape_side_place(s, 0.5, &x, &y);
    return inside(l, x, y) > SHAPE_NEAR;
}

/* Of the parts the one run that is inside, from its beginning; false: it is not one. */
static bool keep_inside(const struct line *l, struct chain *c)
{
    size_t n = c->at.count, begin = n, kept = 0;
    struct shape_side *out = base_alloc((n + 1) * sizeof *out);
    for (size_t i = 0; i < n && begin == n; i++)
        if (is_inside(l, &c->at.at[i]) && !is_inside(l, &c->at.at[(i + n - 1) % n]))
            begin = i;
    for (size_t i = 0; i < n && begin < n && is_inside(l, &c->at.at[(begin + i) % n]); i++)
        out[kept++] = c->at.at[(begin + i) % n];
    bool one = kept > 0;
    for (size_t i = kept; i < n && one; i++)
        one = !is_inside(l, &c->at.at[(begin + i) % n]);
    memcpy(c->at.at, out, kept * sizeof *out);
    c->at.count = kept;
    free(out);
    return one;
}

static void put_on_line(const struct line *l, double t, double *x, double *y)
{
    *x = l->x + t * l->dx;
    *y = l->y + t * l->dy;
}

/* From the side of the plate into the slot and out again, as the rim goes. */
static bool chain_of(const struct rims *r, int piece, int side, struct chain *out)
{
    const struct line *l = &r->lines[side];
    int n;
    struct shape_side *s = section_sides(r->o, piece, r->o->pieces.at[piece].low, &n);
    *out = (struct chain){.name = piece_opening(r->o, piece)->name};
    for (int i = 0; i < n && s; i++)
        split_side(l, &s[i], out);
    free(s);
    if (!keep_inside(l, out))
        return false;
    n = (int)out->at.count;
    shape_reverse(out->at.at, n);
    struct shape_side *first = &out->at.at[0], *last = &out->at.at[n - 1];
    out->from = along(l, first->x0, first->y0), out->to = along(l, last->x1, last->y1);
    put_on_line(l, out->from, &first->x0, &first->y0);
    put_on_line(l, out->to, &last->x1, &last->y1);
    return out->from > SHAPE_NEAR && out->to > out->from && out->to < l->length - SHAPE_NEAR;
}

/* The side of the plate that a slot breaks; -1: it is not one alone. */
static int broken_side(const struct rims *r, int piece)
{
    int n, found = -1, count = 0;
    struct shape_side *s = section_sides(r->o, piece, r->o->pieces.at[piece].low, &n);
    struct shape_box b = shape_box(s, n);
    free(s);
    const bool over[SIDES] = {b.front <= SHAPE_NEAR, b.right >= r->o->length - SHAPE_NEAR,
                              b.back >= r->o->width - SHAPE_NEAR, b.left <= SHAPE_NEAR};
    for (int i = 0; i < SIDES; i++)
        if (over[i])
            found = i, count++;
    return count == 1 ? found : -1;
}

/* ---- rims ------------------------------------------------------------------------------------ */

static int by_place(const void *a, const void *b)
{
    double p = ((const struct chain *)a)->from, q = ((const struct chain *)b)->from;
    return p < q ? -1 : p > q;
}

enum { RIGHT_THROUGH = -1 }; /* instead of a level */

static bool stands(const struct openings *o, const struct wall *w, int level)
{
    bool there = level == RIGHT_THROUGH ? w->low == 0 && w->high == (int)o->levels.count - 1
                                        : w->low <= level && level < w->high;
    return there && piece_opening(o, w->piece)->open;
}

static void add_line(struct rim *rim, const struct line *l, int side, double from, double to)
{
    double x0, y0, x1, y1;
    put_on_line(l, from, &x0, &y0);
    put_on_line(l, to, &x1, &y1);
    base_vec_push(&rim->at, ((struct rim_side){shape_straight(x0, y0, x1, y1), side, side_names[side]}));
}

static void add_side(const struct rims *r, struct rim *rim, int side, const struct chain *chains, size_t n)
{
    const struct line *l = &r->lines[side];
    double at = 0;
    for (size_t i = 0; i < n; i++) {
        add_line(rim, l, side, at, chains[i].from);
        for (size_t k = 0; k < chains[i].at.count; k++)
            base_vec_push(&rim->at, ((struct rim_side){chains[i].at.at[k], -1, chains[i].name}));
        at = chains[i].to;
    }
    add_line(rim, l, side, at, l->length);
}

static enum base_err refuse_corner(const struct openings *o, int piece, struct base_diag *why)
{
    const struct opening *w = piece_opening(o, piece);
    return base_fail(why, BASE_REFUSED,
                     "In %s a slot of %s lies over a corner of the plate or wholly outside of it: move it "
                     "along its edge.",
                     dieset_item_name(o->d, o->plate), dieset_item_name(o->d, w->hole.item));
}

/* The slots that are open in one side of the plate in the slab over LEVEL. */
static enum base_err rim_side(const struct rims *r, struct rim *rim, int side, int level,
                              struct base_diag *why)
{
    BASE_VEC(struct chain) chains = {0};
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < r->o->walls.count && !err; i++) {
        const struct wall *w = &r->o->walls.at[i];
        if (!stands(r->o, w, level))
            continue;
        int broken = broken_side(r, w->piece);
        struct chain c = {0};
        if (broken < 0 || (broken == side && !chain_of(r, w->piece, side, &c)))
            err = refuse_corner(r->o, w->piece, why);
        if (broken == side)
            base_vec_push(&chains, c);
    }
    if (chains.count)
        qsort(chains.at, chains.count, sizeof *chains.at, by_place);
    if (!err)
        add_side(r, rim, side, chains.at, chains.count);
    for (size_t i = 0; i < chains.count; i++)
        base_vec_done(&chains.at[i].at);
    base_vec_done(&chains);
    return err;
}

static bool changes_at(const struct openings *o, int level)
{
    for (size_t i = 0; i < o->walls.count; i++) {
        const struct wall *w = &o->walls.at[i];
        if (piece_opening(o, w->piece)->open && (w->low == level || w->high == level))
            return true;
    }
    return false;
}

static enum base_err find_rims(struct rims *r, struct base_diag *why)
{
    int top = (int)r->o->levels.count - 1;
    enum base_err err = BASE_OK;
    for (int low = 0, high = 1; low < top && !err; low = high, high++) {
        while (high < top && !changes_at(r->o, high))
            high++;
        struct rim rim = {.low = low, .high = high};
        for (int s = 0; s < SIDES && !err; s++)
            err = rim_side(r, &rim, s, low, why);
        base_vec_push(&r->at, rim);
    }
    return err;
}

/* ---- a rim at a height ----------------------------------------------------------------------- */

struct height { struct body *body; size_t first_corner, first_edge; double z; };

static int corner_at(const struct height *h, double x, double y)
{
    for (size_t i = h->first_corner; i < h->body->corners.count; i++) {
        const struct body_corner *c = &h->body->corners.at[i];
        if (c->z == h->z && hypot(c->x - x, c->y - y) <= SHAPE_NEAR)
            return (int)i;
    }
    return body_corner(h->body, x, y, h->z);
}

static bool same_edge(const struct body_edge *a, const struct body_edge *b)
{
    return a->from == b->from && a->to == b->to && a->curve == b->curve &&
           (a->curve == BODY_STRAIGHT || hypot(a->cx - b->cx, a->cy - b->cy) <= SHAPE_NEAR);
}

/* The edge along S, the one that is there already where the other rim has it too. */
static struct body_use edge_at(const struct height *h, const struct shape_side *s)
{
    struct body_use use = body_side(h->body, corner_at(h, s->x0, s->y0), corner_at(h, s->x1, s->y1), s);
    const struct body_edge *added = &h->body->edges.at[use.edge];
    for (size_t i = h->first_edge; i + 1 < h->body->edges.count; i++)
        if (same_edge(&h->body->edges.at[i], added)) {
            h->body->edges.count--;
            use.edge = (int)i;
            return use;
        }
    return use;
}

/* Where the corners of the other rim cut a side of the plate, in order; with its ends. */
static int cuts_of(const struct rim_side *side, const struct line *l, const struct rim *other, double *out)
{
    int n = 0;
    double from = along(l, side->s.x0, side->s.y0), to = along(l, side->s.x1, side->s.y1);
    out[n++] = from;
    for (size_t i = 0; other && i < other->at.count; i++) {
        const struct shape_side *s = &other->at.at[i].s;
        double t = along(l, s->x0, s->y0);
        if (fabs(inside(l, s->x0, s->y0)) <= SHAPE_NEAR && t > out[n - 1] + SHAPE_NEAR && t < to - SHAPE_NEAR)
            out[n++] = t;
    }
    out[n++] = to;
    return n;
}

static void edge_side(const struct rims *r, const struct height *h, const struct rim_side *side,
                      const struct rim *other, struct edging *out)
{
    if (side->plate < 0) {
        base_vec_push(&out->uses, edge_at(h, &side->s));
        return;
    }
    const struct line *l = &r->lines[side->plate];
    double *cuts = base_alloc(((other ? other->at.count : 0) + 2) * sizeof *cuts);
    int n = cuts_of(side, l, other, cuts);
    for (int i = 0; i + 1 < n; i++) {
        struct shape_side s = shape_straight(0, 0, 0, 0);
        put_on_line(l, cuts[i], &s.x0, &s.y0);
        put_on_line(l, cuts[i + 1], &s.x1, &s.y1);
        base_vec_push(&out->uses, edge_at(h, &s));
    }
    free(cuts);
}

static void edging_new(const struct rims *r, const struct height *h, const struct rim *rim,
                       const struct rim *other, struct edging *out)
{
    *out = (struct edging){0};
    out->first = base_alloc((rim->at.count + 1) * sizeof *out->first);
    out->corner = base_alloc((rim->at.count + 1) * sizeof *out->corner);
    for (size_t i = 0; i < rim->at.count; i++) {
        out->first[i] = (int)out->uses.count;
        edge_side(r, h, &rim->at.at[i], other, out);
        out->corner[i] = body_begins(h->body, out->uses.at[out->first[i]]);
    }
    out->first[rim->at.count] = (int)out->uses.count;
    out->corner[rim->at.count] = out->corner[0];
}

static void edging_done(struct edging *e)
{
    free(e->first);
    free(e->corner);
    base_vec_done(&e->uses);
}

/* ---- faces ----------------------------------------------------------------------------------- */

static struct body_face standing_face(const struct rim_side *side, double z)
{
    const struct shape_side *s = &side->s;
    struct body_face f = {.at = {s->x0, s->y0, z}, .name = side->name};
    if (s->radius > 0) {
        f.surface = BODY_CYLINDER;
        f.at.x = s->cx, f.at.y = s->cy;
        f.normal.z = 1;
        f.radius = s->radius;
        f.inward = s->way < 0; /* the rim has the material to its left */
        return f;
    }
    double x, y;
    shape_side_direction(s, false, &x, &y);
    f.normal = (struct body_corner){y, -x, 0};
    return f;
}

static void stand(const struct rims *r, const struct rim *rim, const struct edging *low,
                  const struct edging *high)
{
    struct body *body = r->body;
    int n = (int)rim->at.count, *up = base_alloc((size_t)(n + 1) * sizeof *up);
    for (int i = 0; i < n; i++)
        up[i] = body_straight(body, low->corner[i], high->corner[i]);
    up[n] = up[0];
    for (int i = 0; i < n; i++) {
        body_face(body, standing_face(&rim->at.at[i], r->o->levels.at[rim->low]));
        body_loop(body);
        body_uses(body, low->uses.at + low->first[i], low->first[i + 1] - low->first[i], true);
        body_use(body, up[i + 1], true);
        body_uses(body, high->uses.at + high->first[i], high->first[i + 1] - high->first[i], false);
        body_use(body, up[i], false);
    }
    free(up);
}

static bool has_use(const struct edging *e, struct body_use u)
{
    for (size_t i = 0; i < e->uses.count; i++)
        if (e->uses.at[i].edge == u.edge)
            return true;
    return false;
}

static bool has_corner(const struct body *b, const struct edging *e, int corner)
{
    for (size_t i = 0; i < e->uses.count; i++)
        if (body_begins(b, e->uses.at[i]) == corner)
            return true;
    return false;
}

/* The area to the left of some edges that are one closed line, seen from above. */
static double area_of(const struct body *b, const struct body_use *uses, int n)
{
    double area = 0;
    for (int i = 0; i < n; i++) {
        const struct body_corner *p = &b->corners.at[body_begins(b, uses[i])];
        const struct body_corner *q = &b->corners.at[body_ends(b, uses[i])];
        area += (p->x * q->y - q->x * p->y) / 2;
    }
    return area; /* arcs left out: slots go far further in than their ends bulge */
}

/* From a corner where the rims part to where they come together again: the lower one on, the upper one
   back. */
static void part_face(const struct rims *r, const struct edging *under, const struct edging *over, size_t at,
                      const char *name)
{
    struct body *b = r->body;
    size_t n = under->uses.count, m = over->uses.count;
    BASE_VEC(struct body_use) loop = {0};
    int begin = body_begins(b, under->uses.at[at]), end;
    do {
        base_vec_push(&loop, under->uses.at[at % n]);
        end = body_ends(b, under->uses.at[at++ % n]);
    } while (!has_corner(b, over, end));
    size_t back = 0;
    while (body_ends(b, over->uses.at[back]) != end)
        back++;
    for (bool done = false; !done; back += m - 1) {
        struct body_use u = over->uses.at[back % m];
        base_vec_push(&loop, ((struct body_use){u.edge, !u.forward}));
        done = body_begins(b, u) == begin;
    }
    bool up = area_of(b, loop.at, (int)loop.count) > 0;
    body_face(b, (struct body_face){.surface = BODY_FLAT, .at = b->corners.at[begin],
                                    .normal = {0, 0, up ? 1 : -1}, .name = name});
    body_loop(b);
    body_uses(b, loop.at, (int)loop.count, true);
    base_vec_done(&loop);
}

/* The first open slot that begins or ends there tells the name. */
static const char *name_at(const struct openings *o, int level)
{
    for (size_t i = 0; i < o->walls.count; i++) {
        const struct wall *w = &o->walls.at[i];
        if (piece_opening(o, w->piece)->open && (w->low == level || w->high == level))
            return piece_opening(o, w->piece)->name;
    }
    return "";
}

static void lie(const struct rims *r, const struct edging *under, const struct edging *over, int level)
{
    size_t n = under->uses.count;
    for (size_t i = 0; i < n; i++) {
        struct body_use u = under->uses.at[i], before = under->uses.at[(i + n - 1) % n];
        if (has_use(over, u))
            continue;
        if (has_use(over, before) || has_corner(r->body, over, body_begins(r->body, u)))
            part_face(r, under, over, i, name_at(r->o, level));
    }
}

static void take(struct edging *e, struct body_use **out, int *n)
{
    *n = (int)e->uses.count;
    *out = base_alloc((size_t)*n * sizeof **out);
    memcpy(*out, e->uses.at, (size_t)*n * sizeof **out);
}

static void build(struct rims *r, struct body_use **top, int *n_top, struct body_use **bottom, int *n_bottom)
{
    size_t n = r->at.count;
    struct edging *low = base_alloc(n * sizeof *low), *high = base_alloc(n * sizeof *high);
    for (size_t i = 0; i <= n; i++) {
        const struct rim *under = i > 0 ? &r->at.at[i - 1] : NULL, *over = i < n ? &r->at.at[i] : NULL;
        struct height h = {r->body, r->body->corners.count, r->body->edges.count,
                           r->o->levels.at[over ? over->low : under->high]};
        if (under)
            edging_new(r, &h, under, over, &high[i - 1]);
        if (over)
            edging_new(r, &h, over, under, &low[i]);
    }
    for (size_t i = 0; i < n; i++)
        stand(r, &r->at.at[i], &low[i], &high[i]);
    for (size_t i = 1; i < n; i++)
        lie(r, &high[i - 1], &low[i], r->at.at[i].low);
    take(&high[n - 1], top, n_top);
    take(&low[0], bottom, n_bottom);
    for (size_t i = 0; i < n; i++) {
        edging_done(&low[i]);
        edging_done(&high[i]);
    }
    free(low);
    free(high);
}

enum base_err rim_build(const struct openings *o, struct body *body, struct body_use **top, int *n_top,
                        struct body_use **bottom, int *n_bottom, struct base_diag *why)
{
    struct rims r = {.o = o, .body = body};
    find_lines(&r);
    enum base_err err = find_rims(&r, why);
    if (!err)
        build(&r, top, n_top, bottom, n_bottom);
    for (size_t i = 0; i < r.at.count; i++)
        base_vec_done(&r.at.at[i].at);
    base_vec_done(&r.at);
    return err;
}

enum base_err rim_outline(const struct openings *o, struct shape_side **out, int *n, struct base_diag *why)
{
    struct rims r = {.o = o};
    struct rim rim = {.low = 0};
    enum base_err err = BASE_OK;
    find_lines(&r);
    for (int s = 0; s < SIDES && !err; s++)
        err = rim_side(&r, &rim, s, RIGHT_THROUGH, why);
    *n = 0;
    *out = err ? NULL : base_alloc((rim.at.count + 1) * sizeof **out);
    for (size_t i = 0; i < rim.at.count && !err; i++)
        (*out)[(*n)++] = rim.at.at[i].s;
    base_vec_done(&rim.at);
    return err;
}
