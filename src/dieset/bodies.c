/* Bodies: what stands outside of plates, held against each other.
 *
 * A body is an outline over a range of heights. Where it is inside a plate that is drilled for it, walls
 * between holes tell what there is to tell; what is left of its range are its *free* pieces, and only these
 * meet. Bodies ride with their plate: the bed's stay, the stripper's rise once its travel is used up (or, of
 * one that hangs on the lower half, until it is), the slide's rise at once. Against each other they only ever
 * move apart as the ram goes up from shut, so a pair is looked at over the whole way that it has.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double thin = 1e-6; /* mm: no less is a common height */

/* ---- which plates are drilled for an item ------------------------------------------------------ */

enum { MOST_PLATES = 64 }; /* bits; the stack's further plates count as not drilled */

/* The item whose points ITEM has, as a number. */
static size_t points_of(const struct build *b, int item)
{
    return (size_t)(item_points(b, item) - b->items.at);
}

/* Items that stand at the same points drill for each other: a bushing's bore is the post's way. */
void build_bodies(struct build *b)
{
    size_t items = b->items.count;
    const struct rows *plates = &b->rows[b->d->contract.plate];
    b->drilled = base_arena_alloc(&b->memory, (items + 1) * sizeof *b->drilled);
    memset(b->drilled, 0, (items + 1) * sizeof *b->drilled);
    for (size_t p = 0; p < plates->items.count && p < MOST_PLATES; p++) {
        const struct plate_holes *range = &b->plate_holes[plates->items.at[p]];
        for (int h = range->first; h < range->first + range->count; h++)
            b->drilled[points_of(b, b->holes.at[h].item)] |= (uint64_t)1 << p;
    }
}

/* ---- one body ------------------------------------------------------------------------------------- */

int dieset_body_count(const struct dieset *d) { return d->now ? (int)d->now->bodies.count : 0; }

void dieset_body(const struct dieset *d, int body, enum dieset_state s, struct dieset_body *out)
{
    const struct build *b = d->now;
    const struct hole *h = &b->bodies.at[body];
    hole_shape(b, h, s, &out->plan);
    out->from = hole_field(b, h, FIELD_FROM, s, NAN, &out->plan);
    out->to = hole_field(b, h, FIELD_TO, s, NAN, &out->plan);
    out->low = fmin(out->from, out->to);
    out->high = fmax(out->from, out->to);
    out->end_plate = h->end_plate;
    out->known = !out->plan.broken;
    struct formula_value bore = {0};
    if (h->fields[FIELD_BORE])
        bore = cell_outcome(b, h->fields[FIELD_BORE], s);
    out->bore = bore.error ? 0 : bore.number; /* without its bore a body is none the less there */
}

void dieset_body_raised(const struct dieset *d, int body, enum dieset_state s, double ram,
                        struct dieset_body *out)
{
    dieset_body(d, body, s, out);
    out->from += dieset_rise(d, out->plan.plate, s, ram);
    out->to += dieset_rise(d, out->end_plate, s, ram);
    out->low = fmin(out->from, out->to);
    out->high = fmax(out->from, out->to);
}

/* ---- free pieces ------------------------------------------------------------------------------------ */

enum { MOST_PIECES = MOST_PLATES + 1 }; /* one under each plate, one over all */

struct piece { double low, high; };
struct standing {
    int body;
    enum dieset_moves rides;
    int n;
    struct piece pieces[MOST_PIECES];
};

struct layer { double bottom, top; };

struct meetings {
    const struct build *b;
    const struct dieset_body *bodies;
    struct standing *at; /* bodies with free pieces */
    struct shape_box *boxes;
    int n;
    struct layer layers[MOST_PLATES]; /* from the top plate down */
    int n_layers;
    double travel, stroke;            /* 0: not known */
    bool below;                       /* the stripper hangs on the lower half */
    dieset_meeting_fn *visit;
    void *arg;
};

static void add_piece(struct standing *s, double low, double high)
{
    if (high - low > thin)
        s->pieces[s->n++] = (struct piece){low, high};
}

/* What of the body is outside of the plates that are drilled for it, from below. */
static void find_pieces(const struct meetings *m, const struct dieset_body *body, struct standing *s)
{
    uint64_t drilled = m->b->drilled[points_of(m->b, body->plan.item)];
    double low = body->low;
    for (int p = m->n_layers - 1; p >= 0; p--) {
        const struct layer *l = &m->layers[p];
        if (!(drilled >> p & 1) || l->top <= low || l->bottom >= body->high)
            continue;
        add_piece(s, low, l->bottom);
        low = l->top;
    }
    add_piece(s, low, body->high);
}

/* ---- two bodies ---------------------------------------------------------------------------------------- */

/* How far the higher rider moves up against the other in a whole stroke. */
static double way_between(const struct meetings *m, enum dieset_moves lower, enum dieset_moves upper)
{
    double own = fmin(m->travel, m->stroke), after = fmax(0, m->stroke - m->travel);
    return lower == upper                   ? 0
           : lower == DIESET_MOVES_STRIPPER ? (m->below ? after : own)
           : upper == DIESET_MOVES_STRIPPER ? (m->below ? own : after)
                                            : m->stroke;
}

static bool round_and_whole(const struct dieset_hole *h) { return !h->n_sides && !(h->length > 0); }

/* Does B stand inside A, which is bored for it? */
static bool inside_bore(const struct dieset_body *a, const struct dieset_body *b)
{
    const struct dieset_hole *p = &a->plan, *q = &b->plan;
    return a->bore > 0 && round_and_whole(q) &&
           shape_distance(p->x - q->x, p->y - q->y) + q->diameter / 2 <= a->bore / 2 + thin;
}

/* Parts of one thing: the flange of a post and the clamps that hold it. */
static bool one_part(const struct dieset_hole *p, const struct dieset_hole *q)
{
    return p->item == q->item && p->point == q->point && (p->point >= 0 || p->index == q->index);
}

/* The greatest height that pieces of both have in common on their way, and where; nothing: 0. */
static double common(const struct meetings *m, const struct standing *lower, const struct standing *upper,
                     struct dieset_meeting *out)
{
    double way = way_between(m, lower->rides, upper->rides), most = 0;
    for (int i = 0; i < upper->n; i++)
        for (int k = 0; k < lower->n; k++) {
            struct piece u = upper->pieces[i], l = lower->pieces[k];
            double up = fmin(fmax(0, fmin(l.low - u.low, l.high - u.high)), way);
            double low = fmax(u.low + up, l.low), high = fmin(u.high + up, l.high);
            if (high - low <= most)
                continue;
            most = high - low;
            out->low = low;
            out->high = high;
            bool later = (m->below ? lower : upper)->rides == DIESET_MOVES_STRIPPER;
            out->ram = up > 0 && later ? up + m->travel : up;
        }
    return most;
}

static double meet(const struct meetings *m, int i, int k, struct dieset_meeting *out)
{
    const struct standing *a = &m->at[i], *b = &m->at[k];
    return a->rides <= b->rides ? common(m, a, b, out) : common(m, b, a, out);
}

static double wall_of_pair(void *arg, int i, int k)
{
    const struct meetings *m = arg;
    const struct dieset_body *a = &m->bodies[m->at[i].body], *b = &m->bodies[m->at[k].body];
    struct dieset_meeting ignored;
    bool may_meet = !one_part(&a->plan, &b->plan) && !inside_bore(a, b) && !inside_bore(b, a) &&
                    meet(m, i, k, &ignored) > thin;
    return may_meet ? dieset_wall(&a->plan, &b->plan, NULL) : INFINITY;
}

static void tell_pair(void *arg, int i, int k, double wall)
{
    const struct meetings *m = arg;
    struct dieset_meeting out = {.a = m->at[i].body, .b = m->at[k].body, .wall = wall};
    meet(m, i, k, &out);
    m->visit(m->arg, &out);
}

/* -- all of them ----------------------------------------------------------------------------------------- */

static void find_layers(struct meetings *m, const struct dieset *d, enum dieset_state s)
{
    struct dieset_layer layers[MOST_PLATES];
    m->n_layers = dieset_stack(d, s, layers, MOST_PLATES);
    for (int i = 0; i < m->n_layers; i++) {
        bool known = isfinite(layers[i].top) && isfinite(layers[i].bottom);
        m->layers[i] = known ? (struct layer){layers[i].bottom, layers[i].top}
                             : (struct layer){INFINITY, -INFINITY};
    }
}

void dieset_meetings(const struct dieset *d, const struct dieset_body *bodies, enum dieset_state s,
                     double within, dieset_meeting_fn *visit, void *arg)
{
    const struct build *b = d->now;
    const struct contract *k = &d->contract;
    size_t count = b->bodies.count + 1;
    struct meetings m = {.b = b, .bodies = bodies, .visit = visit, .arg = arg};
    m.at = base_alloc(count * sizeof *m.at);
    m.boxes = base_alloc(count * sizeof *m.boxes);
    m.travel = only_way(b, k->stack, k->travel, s);
    m.below = stripper_is_below(b);
    m.stroke = only_way(b, k->press, k->stroke, s);
    find_layers(&m, d, s);
    for (int i = 0; i < (int)b->bodies.count; i++) {
        struct standing *at = &m.at[m.n];
        at->body = i;
        at->n = 0;
        if (bodies[i].known)
            find_pieces(&m, &bodies[i], at);
        if (!at->n)
            continue;
        at->rides = plate_moves(b, bodies[i].plan.plate);
        m.boxes[m.n++] = hole_box(&bodies[i].plan);
    }
    shape_pairs(m.boxes, m.n, within, wall_of_pair, tell_pair, &m);
    free(m.at);
    free(m.boxes);
}

/* Is any so of what bodies hang on: their plates' faces, the stroke, and their own? */
static bool any_of_bodies(const struct build *b, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int faces[] = {k->top, k->bottom};
    for (size_t i = 0; i < b->rows[k->plate].items.count; i++)
        for (size_t f = 0; f < COUNT_OF(faces); f++)
            if (is(b, b->items.at[b->rows[k->plate].items.at[i]].properties[faces[f]], arg))
                return true;
    const struct cell *travel = only_cell(b, k->stack, k->travel),
                      *stroke = only_cell(b, k->press, k->stroke);
    if ((travel && is(b, travel, arg)) || (stroke && is(b, stroke, arg)))
        return true;
    for (size_t i = 0; i < b->bodies.count; i++)
        if (hole_any(b, &b->bodies.at[i], is, arg))
            return true;
    return false;
}

bool dieset_bodies_moved(const struct dieset *d, long since)
{
    return any_of_bodies(d->now, cell_has_moved, &since);
}
