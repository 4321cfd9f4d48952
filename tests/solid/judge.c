/* Is a closed shell a solid? Its edges, loops, surfaces, sides and volume by the file alone.
 *
 * Sources: B-rep as ISO 10303-42 has it (edge_curve, face_bound, closed_shell); Euler and Poincare:
 * V - E + F - (L - F) = 2 (S - G); the volume by the theorem of Gauss with the field (0, 0, z), so that only
 * what does not stand upright counts, and each face by Green's theorem along its edges. From memory, school
 * books.
 */

#include "solid.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double near = 1e-6; /* mm: the uncertainty that the file states */

struct judging {
    const struct step_file *f;
    struct judged *out;
    BASE_VEC(int) uses;    /* by the number of an edge: 1 forward, 2 backward, 4 more */
    BASE_VEC(int) corners; /* by the number of a vertex: seen */
};

static void complain(struct judging *j, const char *fmt, ...) PRINTF_LIKE(2, 3);
static void complain(struct judging *j, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    if (!j->out->wrong[0])
        vsnprintf(j->out->wrong, sizeof j->out->wrong, fmt, args);
    va_end(args);
}

/* ---- vectors --------------------------------------------------------------------------------- */

static struct vec sum(struct vec a, double k, struct vec b)
{
    return (struct vec){a.x + k * b.x, a.y + k * b.y, a.z + k * b.z};
}
static double dot(struct vec a, struct vec b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
static struct vec cross(struct vec a, struct vec b)
{
    return (struct vec){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
static double size(struct vec a) { return sqrt(dot(a, a)); }

struct vec step_point(const struct step_file *f, int number)
{
    return (struct vec){step_number(f, number, 0), step_number(f, number, 1), step_number(f, number, 2)};
}

/* Origin and right-handed axes of a placement. */
struct axes { struct vec o, x, y, z; };
static struct axes axes_of(const struct step_file *f, int number)
{
    struct axes a = {.o = step_point(f, step_reference(f, number, 0)),
                     .z = step_point(f, step_reference(f, number, 1)),
                     .x = step_point(f, step_reference(f, number, 2))};
    a.y = cross(a.z, a.x);
    return a;
}

/* ---- edges ----------------------------------------------------------------------------------- */

/* An edge as a curve over 0 .. 1, from its first vertex to its second. */
struct curve {
    int kind; /* 0 line, 1 circle, 2 rational spline */
    struct vec from, to, pole;
    struct axes a;
    double radius, begin, turn, weight;
};

static double angle_in(const struct axes *a, struct vec p)
{
    struct vec d = sum(p, -1, a->o);
    return atan2(dot(d, a->y), dot(d, a->x));
}

static struct curve curve_of(const struct step_file *f, int edge)
{
    struct curve c = {0};
    int v0 = step_reference(f, edge, 0), v1 = step_reference(f, edge, 1), on = step_reference(f, edge, 2);
    c.from = step_point(f, step_reference(f, v0, 0));
    c.to = step_point(f, step_reference(f, v1, 0));
    c.kind = step_is(f, on, "LINE") ? 0 : step_is(f, on, "CIRCLE") ? 1 : 2;
    if (c.kind == 1) {
        c.a = axes_of(f, step_reference(f, on, 0));
        c.radius = step_number(f, on, 0);
        c.begin = angle_in(&c.a, c.from);
        c.turn = angle_in(&c.a, c.to) - c.begin;
        if (v0 == v1 || c.turn <= 0)
            c.turn += 2 * pi;
    }
    if (c.kind == 2) { /* its numbers: degree, multiplicities 3 3, knots 0 1, weights */
        c.pole = step_point(f, step_reference(f, on, 1));
        c.weight = step_number(f, on, 6);
    }
    return c;
}

static struct vec curve_at(const struct curve *c, double t)
{
    if (c->kind == 0)
        return sum(c->from, t, sum(c->to, -1, c->from));
    if (c->kind == 1) {
        double u = c->begin + t * c->turn;
        return sum(sum(c->a.o, c->radius * cos(u), c->a.x), c->radius * sin(u), c->a.y);
    }
    double b0 = (1 - t) * (1 - t), b1 = 2 * t * (1 - t) * c->weight, b2 = t * t, w = b0 + b1 + b2;
    struct vec p = sum(sum((struct vec){0, 0, 0}, b0 / w, c->from), b1 / w, c->pole);
    return sum(p, b2 / w, c->to);
}

/* Its direction there, as fast as it goes. */
static struct vec curve_along(const struct curve *c, double t)
{
    struct vec none = {0, 0, 0};
    if (c->kind == 0)
        return sum(c->to, -1, c->from);
    if (c->kind == 1) {
        double u = c->begin + t * c->turn, k = c->radius * c->turn;
        return sum(sum(none, -k * sin(u), c->a.x), k * cos(u), c->a.y);
    }
    double w = (1 - t) * (1 - t) + 2 * t * (1 - t) * c->weight + t * t;
    double d0 = -2 * (1 - t), d1 = 2 * (1 - 2 * t) * c->weight, d2 = 2 * t;
    struct vec d = sum(sum(sum(none, d0, c->from), d1, c->pole), d2, c->to);
    return sum(none, 1 / w, sum(d, -(d0 + d1 + d2), curve_at(c, t)));
}

/* The curve goes through both vertices; a line along its direction. */
static void check_curve(struct judging *j, int edge)
{
    const struct step_file *f = j->f;
    struct curve c = curve_of(f, edge);
    int on = step_reference(f, edge, 2);
    if (size(sum(curve_at(&c, 0), -1, c.from)) > near || size(sum(curve_at(&c, 1), -1, c.to)) > near)
        complain(j, "edge #%d does not end at its vertices", edge);
    if (c.kind == 0) {
        struct vec p = step_point(f, step_reference(f, on, 0));
        struct vec d = step_point(f, step_reference(f, step_reference(f, on, 1), 0));
        struct vec way = sum(c.to, -1, c.from);
        if (fabs(size(d) - 1) > 1e-9 || size(cross(sum(c.from, -1, p), d)) > near ||
            size(sum(way, -size(way), d)) > near || size(way) < near)
            complain(j, "edge #%d does not run along its line", edge);
    }
    if (c.kind == 1 && (!(c.radius > near) || fabs(c.a.z.z - 1) > 1e-12))
        complain(j, "edge #%d is no circle that lies level", edge);
}

static void count_use(struct judging *j, int edge, bool forward)
{
    while (j->uses.count <= (size_t)edge)
        base_vec_push(&j->uses, 0);
    int *use = &j->uses.at[edge], mark = forward ? 1 : 2;
    if (!*use) {
        j->out->edges++;
        check_curve(j, edge);
    }
    if (*use & mark)
        complain(j, "edge #%d is used twice in one sense", edge);
    *use |= mark;
}

static void count_corner(struct judging *j, int vertex)
{
    while (j->corners.count <= (size_t)vertex)
        base_vec_push(&j->corners, 0);
    if (j->corners.at[vertex])
        return;
    j->corners.at[vertex] = 1;
    struct vec p = step_point(j->f, step_reference(j->f, vertex, 0));
    struct judged *o = j->out;
    if (!o->corners)
        o->low = o->high = p;
    o->corners++;
    o->low = (struct vec){fmin(o->low.x, p.x), fmin(o->low.y, p.y), fmin(o->low.z, p.z)};
    o->high = (struct vec){fmax(o->high.x, p.x), fmax(o->high.y, p.y), fmax(o->high.z, p.z)};
}

/* ---- surfaces -------------------------------------------------------------------------------- */

struct surface { int kind; struct axes a; double radius, angle; }; /* 0 plane, 1 cylinder, 2 cone */

static struct surface surface_of(struct judging *j, int number)
{
    const struct step_file *f = j->f;
    struct surface s = {.a = axes_of(f, step_reference(f, number, 0))};
    s.kind = step_is(f, number, "PLANE") ? 0 : step_is(f, number, "CYLINDRICAL_SURFACE") ? 1 : 2;
    if (s.kind == 2 && !step_is(f, number, "CONICAL_SURFACE"))
        complain(j, "surface #%d is of a kind that is not looked for", number);
    if (s.kind)
        s.radius = step_number(f, number, 0);
    if (s.kind == 2)
        s.angle = step_number(f, number, 1);
    if (fabs(size(s.a.x) - 1) + fabs(size(s.a.z) - 1) + fabs(dot(s.a.x, s.a.z)) > 1e-9)
        complain(j, "surface #%d has no right axes", number);
    return s;
}

/* How far a place is from the surface, and from its axis. */
static double off_surface(const struct surface *s, struct vec p)
{
    struct vec d = sum(p, -1, s->a.o);
    double up = dot(d, s->a.z), out = size(sum(d, -up, s->a.z));
    return s->kind == 0   ? up
           : s->kind == 1 ? out - s->radius
                          : (out - s->radius - up * tan(s->angle)) * cos(s->angle);
}

/* ---- one face -------------------------------------------------------------------------------- */

/* Points and weights of Gauss and Legendre, five (Abramowitz and Stegun, table 25.4; from memory), on each of
   some equal parts of an edge. */
enum { POINTS = 5, PARTS = 24 };
static const double gauss_at[POINTS] = {-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831,
                                        0.9061798459386640};
static const double gauss_weight[POINTS] = {0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                                            0.4786286704993665, 0.2369268850561891};

/* What is summed up along the loops of a face. */
struct sums { double area, solid; };

/* Along a plane: the area in it, and the part of the volume under it. */
static void plane_step(const struct surface *s, struct vec p, struct vec d, struct sums *out)
{
    struct vec q = sum(p, -1, s->a.o);
    double u = dot(q, s->a.x), dv = dot(d, s->a.y);
    out->area += u * dv;
    if (fabs(s->a.z.z) > 1e-12) {
        /* z over the plan is a plane: a + b x + c y */
        double b = -s->a.z.x / s->a.z.z, c = -s->a.z.y / s->a.z.z;
        double a = s->a.o.z - b * s->a.o.x - c * s->a.o.y;
        out->solid += (a * p.x + b * p.x * p.x / 2 + c * p.x * p.y) * d.y;
    }
}

/* Round an upright axis: of a cylinder the area in angle and height, of a cone that in the plan, for its tip
 * has no angle; and the part of the volume under it. */
static void round_step(const struct surface *s, struct vec p, struct vec d, struct sums *out)
{
    double x = p.x - s->a.o.x, y = p.y - s->a.o.y, square = x * x + y * y, r = sqrt(square);
    double turn = square > near * near ? (x * d.y - y * d.x) / square : 0;
    out->area += s->kind == 1 ? -(p.z - s->a.o.z) * turn : square * turn / 2;
    if (s->kind == 2) { /* z = z0 + k (r - r0); the integral of z r dr from the axis */
        double k = s->a.z.z / tan(s->angle), z0 = s->a.o.z - k * s->radius;
        out->solid += (z0 * square / 2 + k * square * r / 3) * turn;
    }
}

static void along_edge(struct judging *j, const struct surface *s, int edge, bool forward, struct sums *out)
{
    struct curve c = curve_of(j->f, edge);
    for (int i = 0; i < PARTS * POINTS; i++) {
        double t = (i / POINTS + 0.5 + gauss_at[i % POINTS] / 2) / PARTS;
        struct vec p = curve_at(&c, t), d = curve_along(&c, t);
        d = sum((struct vec){0, 0, 0}, (forward ? 1 : -1) * gauss_weight[i % POINTS] / 2 / PARTS, d);
        if (fabs(off_surface(s, p)) > near)
            complain(j, "edge #%d runs %g beside a surface that it bounds", edge, off_surface(s, p));
        if (s->kind)
            round_step(s, p, d, out);
        else
            plane_step(s, p, d, out);
    }
}

static void walk_loop(struct judging *j, int loop, const struct surface *s, struct sums *out)
{
    const struct step_file *f = j->f;
    int n = step_references(f, loop), first = 0, last = 0;
    for (int i = 0; i < n; i++) {
        int use = step_reference(f, loop, i), edge = step_reference(f, use, 0);
        bool forward = step_true(f, use);
        if (!step_true(f, edge))
            complain(j, "edge #%d goes against its curve", edge);
        int from = step_reference(f, edge, forward ? 0 : 1), to = step_reference(f, edge, forward ? 1 : 0);
        count_use(j, edge, forward);
        count_corner(j, from);
        if (i && from != last)
            complain(j, "loop #%d does not close at vertex #%d", loop, from);
        first = i ? first : from;
        last = to;
        along_edge(j, s, edge, forward, out);
    }
    if (first != last)
        complain(j, "loop #%d does not close", loop);
}

/* Loops run anticlockwise round what they enclose, as seen against the face's own direction. */
static void check_side(struct judging *j, int face, bool same, const struct surface *s,
                       const struct sums *all)
{
    /* what looks away from a cone's axis looks down where the cone widens upwards */
    double towards = s->kind == 2 ? -s->a.z.z : 1;
    if (!((same ? towards : -towards) * all->area > 0))
        complain(j, "face #%d looks into the material", face);
}

static void judge_face(struct judging *j, int face)
{
    const struct step_file *f = j->f;
    int n = step_references(f, face);
    struct surface s = surface_of(j, step_reference(f, face, n - 1));
    struct sums all = {0};
    int outer = 0;
    if (s.kind && fabs(fabs(s.a.z.z) - 1) > 1e-12)
        complain(j, "face #%d is round about an axis that does not stand upright", face);
    for (int i = 0; i + 1 < n; i++) {
        int bound = step_reference(f, face, i);
        outer += step_is(f, bound, "FACE_OUTER_BOUND");
        if (!step_true(f, bound))
            complain(j, "bound #%d is turned round", bound);
        walk_loop(j, step_reference(f, bound, 0), &s, &all);
        j->out->loops++;
    }
    if (outer != 1)
        complain(j, "face #%d has %d outer bounds", face, outer);
    check_side(j, face, step_true(f, face), &s, &all);
    j->out->volume += all.solid;
    j->out->faces++;
}

void judge_shell(const struct step_file *f, int shell, struct judged *out)
{
    *out = (struct judged){0};
    struct judging j = {.f = f, .out = out};
    for (int i = 0, n = step_references(f, shell); i < n; i++)
        judge_face(&j, step_reference(f, shell, i));
    for (size_t i = 0; i < j.uses.count; i++)
        if (j.uses.at[i] && j.uses.at[i] != 3)
            complain(&j, "edge #%zu is not used by two faces", i);
    int euler = out->corners - out->edges + out->faces - (out->loops - out->faces);
    if (euler > 2 || euler % 2)
        complain(&j, "V %d - E %d + F %d - holes %d is %d", out->corners, out->edges, out->faces,
                 out->loops - out->faces, euler);
    out->through = (2 - euler) / 2;
    base_vec_done(&j.uses);
    base_vec_done(&j.corners);
}

/* ---- round faces ----------------------------------------------------------------------------- */

static void heights_of(const struct step_file *f, int face, struct round_face *out)
{
    int loop = step_reference(f, step_reference(f, face, 0), 0);
    out->low = INFINITY, out->high = -INFINITY;
    for (int i = 0; i < step_references(f, loop); i++) {
        int edge = step_reference(f, step_reference(f, loop, i), 0);
        for (int k = 0; k < 2; k++) {
            struct vec p = step_point(f, step_reference(f, step_reference(f, edge, k), 0));
            out->low = fmin(out->low, p.z), out->high = fmax(out->high, p.z);
        }
    }
}

void judge_rounds(const struct step_file *f, int shell, struct round_faces *out)
{
    *out = (struct round_faces){0};
    for (int i = 0, n = step_references(f, shell); i < n; i++) {
        int face = step_reference(f, shell, i), on = step_reference(f, face, step_references(f, face) - 1);
        if (step_is(f, on, "PLANE"))
            continue;
        struct axes a = axes_of(f, step_reference(f, on, 0));
        struct round_face r = {.cone = step_is(f, on, "CONICAL_SURFACE"), .inward = !step_true(f, face),
                               .x = a.o.x, .y = a.o.y, .z = a.o.z, .radius = step_number(f, on, 0),
                               .name = step_text_at(f, face, 0)};
        r.angle = r.cone ? step_number(f, on, 1) : 0;
        heights_of(f, face, &r);
        base_vec_push(&out->at, r);
    }
}
