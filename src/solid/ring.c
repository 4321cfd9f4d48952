/* Closed rings at a height, and the walls between two of them. */

#include "solid/shell.h"

#include <math.h>
#include <stdlib.h>

void ring_done(struct ring *r)
{
    free(r->sides);
    free(r->corners);
    free(r->uses);
}

/* One closed edge, from the place farthest along x on, or only a tip. */
static void round_ring(const struct opening *w, double radius, struct body *body, struct ring *r)
{
    r->round = true;
    r->n = 1;
    r->x = w->x, r->y = w->y, r->radius = radius;
    r->point = radius <= SHAPE_NEAR;
    r->corners = base_alloc(sizeof *r->corners);
    r->uses = base_alloc(sizeof *r->uses);
    r->corners[0] = body_corner(body, r->point ? w->x : w->x + radius, w->y, r->z);
    if (!r->point)
        r->uses[0] = (struct body_use){body_circle(body, r->corners[0], w->x, w->y, radius), true};
}

bool ring_new(const struct openings *o, int piece, double z, struct body *body, struct ring *out)
{
    const struct opening *w = piece_opening(o, piece);
    *out = (struct ring){.piece = piece, .z = z};
    if (w->round) {
        round_ring(w, piece_size(&o->pieces.at[piece], z), body, out);
        return true;
    }
    out->sides = section_sides(o, piece, z, &out->n);
    if (!out->sides)
        return false;
    out->corners = base_alloc((size_t)out->n * sizeof *out->corners);
    out->uses = base_alloc((size_t)out->n * sizeof *out->uses);
    for (int i = 0; i < out->n; i++)
        out->corners[i] = body_corner(body, out->sides[i].x0, out->sides[i].y0, z);
    for (int i = 0; i < out->n; i++)
        out->uses[i] = body_side(body, out->corners[i], out->corners[(i + 1) % out->n], &out->sides[i]);
    return true;
}

/* ---- walls ----------------------------------------------------------------------------------- */

/* By how much a piece widens as it goes up: the tangent of its lean. */
static double lean(const struct openings *o, int piece)
{
    const struct piece *p = &o->pieces.at[piece];
    return (p->size_high - p->size_low) / (p->high - p->low);
}

/* Upright about X, Y: cylinder, or cone with its radius at Z. WIDENS: upwards, by so much. */
static struct body_face upright(double x, double y, double z, double radius, double widens, bool inward,
                                const char *name)
{
    return (struct body_face){.surface = widens != 0 ? BODY_CONE : BODY_CYLINDER,
                              .at = {x, y, z},
                              .normal = {0, 0, widens < 0 ? -1 : 1},
                              .radius = radius,
                              .angle = atan(fabs(widens)),
                              .inward = inward,
                              .name = name};
}

static void round_wall(const struct openings *o, int piece, const struct ring *low, const struct ring *high,
                       struct body *body)
{
    const struct ring *wide = low->radius > high->radius ? low : high;
    body_face(body, upright(wide->x, wide->y, wide->z, wide->radius, lean(o, piece), true,
                            piece_opening(o, piece)->name));
    body_loop(body);
    int seam = body_straight(body, high->corners[0], low->corners[0]);
    if (!high->point)
        body_use(body, high->uses[0].edge, true);
    body_use(body, seam, true);
    if (!low->point)
        body_use(body, low->uses[0].edge, false);
    body_use(body, seam, false);
}

/* The wall along a side looks into the opening: to the left, and down where it widens downwards. */
static struct body_corner wall_normal(const struct shape_side *s, bool at_end, double widens)
{
    double x, y, length = sqrt(1 + widens * widens);
    shape_side_direction(s, at_end, &x, &y);
    return (struct body_corner){-y / length, x / length, widens / length};
}

static struct body_face side_face(const struct shape_side *s, double z, double widens, const char *name)
{
    if (s->radius > 0) /* an arc that bulges into the opening gets narrower where the opening widens */
        return upright(s->cx, s->cy, z, s->radius, widens * s->way, s->way > 0, name);
    return (struct body_face){.surface = BODY_FLAT, .at = {s->x0, s->y0, z},
                              .normal = wall_normal(s, false, widens), .name = name};
}

static struct body_corner cross(struct body_corner a, struct body_corner b)
{
    return (struct body_corner){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
static double dot(struct body_corner a, struct body_corner b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
static struct body_corner less(struct body_corner a, struct body_corner b)
{
    return (struct body_corner){a.x - b.x, a.y - b.y, a.z - b.z};
}

/* Where two lines of one plane, from P along T and from Q along U, come nearest to each other. */
static struct body_corner lines_meet(struct body_corner p, struct body_corner t, struct body_corner q,
                                     struct body_corner u)
{
    struct body_corner n = cross(t, u);
    double k = dot(cross(less(q, p), u), n) / dot(n, n);
    return (struct body_corner){p.x + k * t.x, p.y + k * t.y, p.z + k * t.z};
}

/* The direction in which two leaning walls that meet at a corner of a ring run on together. */
static struct body_corner together(const struct ring *r, int corner, double widens)
{
    const struct shape_side *before = &r->sides[(corner + r->n - 1) % r->n], *after = &r->sides[corner];
    return cross(wall_normal(before, true, widens), wall_normal(after, false, widens));
}

/* The middle pole and its weight, from one true place midway: in shares of the poles (b0, b1, b2) that place
 * tells the weight, b1 / (2 sqrt(b0 b2)). Own derivation from the rational form of a conic. */
static void bend(struct body_edge *e, struct body_corner p, struct body_corner q, struct body_corner pole,
                 struct body_corner midway)
{
    struct body_corner a = less(p, pole), b = less(q, pole), m = less(midway, pole), n = cross(a, b);
    double whole = dot(n, n), b0 = dot(cross(m, b), n) / whole, b2 = dot(cross(a, m), n) / whole;
    e->curve = BODY_CONIC;
    e->pole = pole;
    e->weight = (1 - b0 - b2) / (2 * sqrt(b0 * b2));
}

/* From corner I of the upper ring to that of the lower. Walls that lean and meet at an angle, one of them
 * round, meet along a conic: they have one slope, so what is as far in both lies in one plane. */
static int down_edge(const struct openings *o, int piece, const struct ring *low, const struct ring *high,
                     int i, struct body *body)
{
    static const double smooth = 1e-6; /* sine of the corner */
    int edge = body_straight(body, high->corners[i], low->corners[i]);
    double widens = lean(o, piece);
    const struct shape_side *before = &high->sides[(i + high->n - 1) % high->n], *after = &high->sides[i];
    struct body_corner t = together(high, i, widens), u = together(low, i, widens);
    if (widens == 0 || (!(before->radius > 0) && !(after->radius > 0)) || dot(t, t) <= smooth * smooth)
        return edge;
    int n;
    double middle = (low->z + high->z) / 2;
    struct shape_side *between = section_sides(o, piece, middle, &n);
    if (between)
        bend(&body->edges.at[edge], body->corners.at[high->corners[i]], body->corners.at[low->corners[i]],
             lines_meet(body->corners.at[high->corners[i]], t, body->corners.at[low->corners[i]], u),
             (struct body_corner){between[i].x0, between[i].y0, middle});
    free(between);
    return edge;
}

void ring_walls(const struct openings *o, int piece, const struct ring *low, const struct ring *high,
                struct body *body)
{
    if (high->round) {
        round_wall(o, piece, low, high, body);
        return;
    }
    int *down = base_alloc((size_t)high->n * sizeof *down);
    for (int i = 0; i < high->n; i++)
        down[i] = down_edge(o, piece, low, high, i, body);
    for (int i = 0; i < high->n; i++) {
        int next = (i + 1) % high->n;
        body_face(body, side_face(&high->sides[i], high->z, lean(o, piece), piece_opening(o, piece)->name));
        body_loop(body);
        body_use(body, high->uses[i].edge, high->uses[i].forward);
        body_use(body, down[next], true);
        body_use(body, low->uses[i].edge, !low->uses[i].forward);
        body_use(body, down[i], false);
    }
    free(down);
}
