/* Outlines of lines and arcs: lengths, areas, boxes, offsets. See shape.h.
 *
 * An offset moves each side sideways; an arc's radius takes the move or gives it, and an arc that has nothing
 * left is left out. Where two moved sides gape, an arc round the old corner joins them, which is what a disc
 * rolling along the outline does; where they cross, both end at the crossing.
 */

#include "dieset/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

/* ---- one side ------------------------------------------------------------------------------- */

struct dieset_side side_straight(double x0, double y0, double x1, double y1)
{
    return (struct dieset_side){.x0 = x0, .y0 = y0, .x1 = x1, .y1 = y1, .cuts = true};
}

bool side_arc(double x0, double y0, double x1, double y1, double radius, int way, bool long_way,
              struct dieset_side *out)
{
    double dx = x1 - x0, dy = y1 - y0, chord = hypot(dx, dy), rest = radius * radius - chord * chord / 4;
    if (!(chord > SHAPE_NEAR) || !(radius > chord / 2 - SHAPE_NEAR))
        return false;
    /* the middle stands so far to the side it turns to */
    double rise = rest > 0 ? sqrt(rest) * (long_way ? -1 : 1) : 0;
    *out = (struct dieset_side){.x0 = x0, .y0 = y0, .x1 = x1, .y1 = y1, .way = way, .cuts = true};
    out->cx = (x0 + x1) / 2 - way * rise * dy / chord;
    out->cy = (y0 + y1) / 2 + way * rise * dx / chord;
    out->radius = hypot(rise, chord / 2);
    out->sweep = 2 * atan2(chord / 2, rise);
    return true;
}

/* An arc whose ends and middle are known to fit each other. */
static struct dieset_side arc_round(double cx, double cy, double radius, int way, double x0, double y0,
                                    double x1, double y1)
{
    struct dieset_side s = {.x0 = x0,
                            .y0 = y0,
                            .x1 = x1,
                            .y1 = y1,
                            .cx = cx,
                            .cy = cy,
                            .radius = radius,
                            .way = way,
                            .cuts = true};
    double turn = way * (atan2(y1 - cy, x1 - cx) - atan2(y0 - cy, x0 - cx));
    s.sweep = turn < 0 ? turn + 2 * PI : turn;
    return s;
}

double side_length(const struct dieset_side *s)
{
    return s->radius > 0 ? s->radius * s->sweep : hypot(s->x1 - s->x0, s->y1 - s->y0);
}

void side_direction(const struct dieset_side *s, bool at_end, double *x, double *y)
{
    double dx = s->x1 - s->x0, dy = s->y1 - s->y0, length = hypot(dx, dy);
    if (s->radius > 0) {
        double rx = (at_end ? s->x1 : s->x0) - s->cx, ry = (at_end ? s->y1 : s->y0) - s->cy;
        dx = -s->way * ry, dy = s->way * rx, length = s->radius;
    }
    *x = dx / length;
    *y = dy / length;
}

/* ---- all of them ------------------------------------------------------------------------------ */

double shape_length(const struct dieset_side *s, int n)
{
    double length = 0;
    for (int i = 0; i < n; i++)
        length += side_length(&s[i]);
    return length;
}

double shape_area(const struct dieset_side *s, int n)
{
    double area = 0;
    for (int i = 0; i < n; i++) {
        double x0 = s[i].x0 - s[0].x0, y0 = s[i].y0 - s[0].y0, x1 = s[i].x1 - s[0].x0, y1 = s[i].y1 - s[0].y0;
        area += (x0 * y1 - x1 * y0) / 2;
        if (s[i].radius > 0)
            area += s[i].way * s[i].radius * s[i].radius * (s[i].sweep - sin(s[i].sweep)) / 2;
    }
    return area;
}

/* Does the arc go through the place where its circle is farthest in the direction X, Y? It bends away from
 * its chord to the side it does not turn to. */
static bool bulges(const struct dieset_side *s, double x, double y)
{
    double px = s->cx + s->radius * x - s->x0, py = s->cy + s->radius * y - s->y0;
    return s->way * ((s->x1 - s->x0) * py - (s->y1 - s->y0) * px) < 0;
}

struct shape_box shape_box(const struct dieset_side *s, int n)
{
    struct shape_box b = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (int i = 0; i < n; i++) {
        b.left = fmin(b.left, s[i].x0), b.right = fmax(b.right, s[i].x0);
        b.front = fmin(b.front, s[i].y0), b.back = fmax(b.back, s[i].y0);
        if (!(s[i].radius > 0))
            continue;
        b.left = bulges(&s[i], -1, 0) ? fmin(b.left, s[i].cx - s[i].radius) : b.left;
        b.right = bulges(&s[i], 1, 0) ? fmax(b.right, s[i].cx + s[i].radius) : b.right;
        b.front = bulges(&s[i], 0, -1) ? fmin(b.front, s[i].cy - s[i].radius) : b.front;
        b.back = bulges(&s[i], 0, 1) ? fmax(b.back, s[i].cy + s[i].radius) : b.back;
    }
    return b;
}

void shape_shift(struct dieset_side *s, int n, double x, double y)
{
    for (int i = 0; i < n; i++) {
        s[i].x0 += x, s[i].x1 += x, s[i].cx += x;
        s[i].y0 += y, s[i].y1 += y, s[i].cy += y;
    }
}

static void turn_place(double c, double s, double *x, double *y)
{
    double was = *x;
    *x = c * was - s * *y;
    *y = s * was + c * *y;
}

void shape_turn(struct dieset_side *s, int n, double turn)
{
    double cosine = cos(turn), sine = sin(turn);
    for (int i = 0; i < n; i++) {
        turn_place(cosine, sine, &s[i].x0, &s[i].y0);
        turn_place(cosine, sine, &s[i].x1, &s[i].y1);
        turn_place(cosine, sine, &s[i].cx, &s[i].cy);
    }
}

void shape_reverse(struct dieset_side *s, int n)
{
    for (int i = 0, k = n - 1; i <= k; i++, k--) {
        struct dieset_side a = s[i], b = s[k];
        s[i] = b, s[k] = a;
    }
    for (int i = 0; i < n; i++) {
        struct dieset_side a = s[i];
        s[i].x0 = a.x1, s[i].y0 = a.y1, s[i].x1 = a.x0, s[i].y1 = a.y0;
        s[i].way = -a.way;
    }
}

/* Sine and cosine of the turn from the end of A into B. */
static void turn_between(const struct dieset_side *a, const struct dieset_side *b, double *sine,
                         double *cosine)
{
    double ax, ay, bx, by;
    side_direction(a, true, &ax, &ay);
    side_direction(b, false, &bx, &by);
    *sine = ax * by - ay * bx;
    *cosine = ax * bx + ay * by;
}

double shape_inside_corner(const struct dieset_side *s, int n)
{
    static const double smooth = 1e-6; /* rad */
    int round = shape_area(s, n) < 0 ? -1 : 1;
    double least = INFINITY;
    for (int i = 0; i < n; i++) {
        double sine, cosine;
        turn_between(&s[i], &s[(i + 1) % n], &sine, &cosine);
        if (round * sine > smooth || (fabs(sine) <= smooth && cosine < 0))
            return 0;
        if (s[i].radius > 0 && s[i].way == round)
            least = fmin(least, s[i].radius);
    }
    return least;
}

/* ---- offset ----------------------------------------------------------------------------------- */

/* S moved by GROW to its right. False: nothing is left of it. */
static bool moved(const struct dieset_side *s, double grow, struct dieset_side *out)
{
    *out = *s;
    if (s->radius > 0) {
        double radius = s->radius + s->way * grow, share = radius / s->radius;
        if (radius <= SHAPE_NEAR)
            return false;
        out->radius = radius;
        out->x0 = s->cx + (s->x0 - s->cx) * share, out->y0 = s->cy + (s->y0 - s->cy) * share;
        out->x1 = s->cx + (s->x1 - s->cx) * share, out->y1 = s->cy + (s->y1 - s->cy) * share;
        return true;
    }
    double x, y;
    side_direction(s, false, &x, &y);
    out->x0 += grow * y, out->x1 += grow * y;
    out->y0 -= grow * x, out->y1 -= grow * x;
    return true;
}

/* Both end at the crossing of their whole lines and circles that is nearest to the old corner. */
static bool cut_back(struct dieset_side *a, struct dieset_side *b, double x, double y)
{
    double px[2], py[2];
    int n = sides_meet(a, b, true, px, py), best = 0;
    if (n == 0)
        return false;
    if (n == 2 && hypot(px[1] - x, py[1] - y) < hypot(px[0] - x, py[0] - y))
        best = 1;
    a->x1 = b->x0 = px[best];
    a->y1 = b->y0 = py[best];
    return true;
}

/* Is what was cut back from S, which was WAS, still a piece of it that goes the same way? */
static bool left_over(struct dieset_side *s, const struct dieset_side *was)
{
    if (!(s->radius > 0))
        return (s->x1 - s->x0) * (was->x1 - was->x0) + (s->y1 - s->y0) * (was->y1 - was->y0) > 0;
    struct dieset_side now = arc_round(s->cx, s->cy, s->radius, s->way, s->x0, s->y0, s->x1, s->y1);
    s->sweep = now.sweep;
    return now.sweep <= was->sweep + 1e-6;
}

/* A's end and B's beginning: one place already, or to be joined by an arc round the old corner X, Y, or cut
   back. */
static bool join(struct dieset_side *a, struct dieset_side *b, double x, double y, double sine, double grow,
                 struct dieset_side *arc, bool *gapes)
{
    *gapes = false;
    static const double one_place = 1e-5; /* mm: ends of sides that were typed to run into each other */
    if (hypot(a->x1 - b->x0, a->y1 - b->y0) <= one_place) {
        b->x0 = a->x1, b->y0 = a->y1;
        return true;
    }
    *gapes = sine * grow > 0;
    if (!*gapes)
        return cut_back(a, b, x, y);
    *arc = arc_round(x, y, fabs(grow), grow > 0 ? 1 : -1, a->x1, a->y1, b->x0, b->y0);
    arc->cuts = a->cuts || b->cuts;
    return true;
}

/* The sides that are left when moved, and for each the old side; how many. */
static int move_all(const struct dieset_side *s, int n, double grow, struct dieset_side *out,
                    const struct dieset_side **was)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (moved(&s[i], grow, &out[kept]))
            was[kept++] = &s[i];
    return kept;
}

int shape_offset(const struct dieset_side *s, int n, double grow, struct dieset_side *out)
{
    if (fabs(grow) <= SHAPE_NEAR) {
        memcpy(out, s, (size_t)n * sizeof *out);
        return n;
    }
    struct dieset_side *sides = base_alloc((size_t)n * sizeof *sides),
                       *arcs = base_alloc((size_t)n * sizeof *arcs);
    const struct dieset_side **was = base_alloc((size_t)n * sizeof(*was));
    bool *gape = base_alloc((size_t)n * sizeof *gape), good = true;
    int kept = move_all(s, n, grow, sides, was), count = 0;
    good = kept > 1;
    for (int i = 0; i < kept && good; i++) {
        int next = (i + 1) % kept;
        double sine, cosine;
        turn_between(was[i], was[next], &sine, &cosine);
        good = join(&sides[i], &sides[next], was[i]->x1, was[i]->y1, sine, grow, &arcs[i], &gape[i]);
    }
    for (int i = 0; i < kept && good; i++) {
        good = left_over(&sides[i], was[i]);
        out[count++] = sides[i];
        if (gape[i])
            out[count++] = arcs[i];
    }
    free(sides);
    free(arcs);
    free(was);
    free(gape);
    int first, second;
    return good && shape_crossings(out, count, &first, &second) == 0 ? count : 0;
}

int shape_rectangle(double half_x, double half_y, double corner, struct dieset_side *out)
{
    static const int ways[4][2] = {{1, -1}, {1, 1}, {-1, 1}, {-1, -1}}; /* corners, anticlockwise */
    double in_x = half_x - corner, in_y = half_y - corner;
    int n = 0;
    for (int i = 0; i < 4; i++) {
        const int *c = ways[i], *d = ways[(i + 1) % 4];
        /* the side that ends at this corner goes along x for even corners, along y for odd ones */
        double ax = c[0] * (i % 2 ? half_x : in_x), ay = c[1] * (i % 2 ? in_y : half_y);
        double bx = c[0] * (i % 2 ? in_x : half_x), by = c[1] * (i % 2 ? half_y : in_y);
        double nx = d[0] * (i % 2 ? in_x : half_x), ny = d[1] * (i % 2 ? half_y : in_y);
        if (corner > SHAPE_NEAR)
            out[n++] = arc_round(c[0] * in_x, c[1] * in_y, corner, 1, ax, ay, bx, by);
        else
            bx = c[0] * half_x, by = c[1] * half_y, nx = d[0] * half_x, ny = d[1] * half_y;
        if (hypot(nx - bx, ny - by) > SHAPE_NEAR)
            out[n++] = side_straight(bx, by, nx, ny);
    }
    return n;
}
