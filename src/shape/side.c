/* Outlines of lines and arcs: sides, lengths, areas, boxes. See shape.h. */

#include "shape/side.h"

#include <math.h>

#define PI 3.14159265358979323846

/* ---- one side ------------------------------------------------------------------------------- */

struct shape_side shape_straight(double x0, double y0, double x1, double y1)
{
    return (struct shape_side){.x0 = x0, .y0 = y0, .x1 = x1, .y1 = y1, .cuts = true};
}

bool shape_arc(double x0, double y0, double x1, double y1, double radius, int way, bool long_way,
              struct shape_side *out)
{
    double dx = x1 - x0, dy = y1 - y0, chord = hypot(dx, dy), rest = radius * radius - chord * chord / 4;
    if (!(chord > SHAPE_NEAR) || !(radius > chord / 2 - SHAPE_NEAR))
        return false;
    /* the middle stands so far to the side it turns to */
    double rise = rest > 0 ? sqrt(rest) * (long_way ? -1 : 1) : 0;
    *out = (struct shape_side){.x0 = x0, .y0 = y0, .x1 = x1, .y1 = y1, .way = way, .cuts = true};
    out->cx = (x0 + x1) / 2 - way * rise * dy / chord;
    out->cy = (y0 + y1) / 2 + way * rise * dx / chord;
    out->radius = hypot(rise, chord / 2);
    out->sweep = 2 * atan2(chord / 2, rise);
    return true;
}

struct shape_side side_round(double cx, double cy, double radius, int way, double x0, double y0,
                                    double x1, double y1)
{
    struct shape_side s = {.x0 = x0,
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

double shape_side_length(const struct shape_side *s)
{
    return s->radius > 0 ? s->radius * s->sweep : hypot(s->x1 - s->x0, s->y1 - s->y0);
}

void shape_side_place(const struct shape_side *s, double share, double *x, double *y)
{
    if (s->radius > 0) {
        double turn = s->way * share * s->sweep, ax = s->x0 - s->cx, ay = s->y0 - s->cy;
        *x = s->cx + ax * cos(turn) - ay * sin(turn);
        *y = s->cy + ax * sin(turn) + ay * cos(turn);
        return;
    }
    *x = s->x0 + share * (s->x1 - s->x0);
    *y = s->y0 + share * (s->y1 - s->y0);
}

void shape_side_direction(const struct shape_side *s, bool at_end, double *x, double *y)
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

double shape_length(const struct shape_side *s, int n)
{
    double length = 0;
    for (int i = 0; i < n; i++)
        length += shape_side_length(&s[i]);
    return length;
}

double shape_area(const struct shape_side *s, int n)
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
static bool bulges(const struct shape_side *s, double x, double y)
{
    double px = s->cx + s->radius * x - s->x0, py = s->cy + s->radius * y - s->y0;
    return s->way * ((s->x1 - s->x0) * py - (s->y1 - s->y0) * px) < 0;
}

struct shape_box shape_box(const struct shape_side *s, int n)
{
    struct shape_box b = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (int i = 0; i < n; i++) {
        b.left = fmin(b.left, fmin(s[i].x0, s[i].x1)), b.right = fmax(b.right, fmax(s[i].x0, s[i].x1));
        b.front = fmin(b.front, fmin(s[i].y0, s[i].y1)), b.back = fmax(b.back, fmax(s[i].y0, s[i].y1));
        if (!(s[i].radius > 0))
            continue;
        b.left = bulges(&s[i], -1, 0) ? fmin(b.left, s[i].cx - s[i].radius) : b.left;
        b.right = bulges(&s[i], 1, 0) ? fmax(b.right, s[i].cx + s[i].radius) : b.right;
        b.front = bulges(&s[i], 0, -1) ? fmin(b.front, s[i].cy - s[i].radius) : b.front;
        b.back = bulges(&s[i], 0, 1) ? fmax(b.back, s[i].cy + s[i].radius) : b.back;
    }
    return b;
}

void shape_shift(struct shape_side *s, int n, double x, double y)
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

void shape_turn(struct shape_side *s, int n, double turn)
{
    double cosine = cos(turn), sine = sin(turn);
    for (int i = 0; i < n; i++) {
        turn_place(cosine, sine, &s[i].x0, &s[i].y0);
        turn_place(cosine, sine, &s[i].x1, &s[i].y1);
        turn_place(cosine, sine, &s[i].cx, &s[i].cy);
    }
}

void shape_reverse(struct shape_side *s, int n)
{
    for (int i = 0, k = n - 1; i <= k; i++, k--) {
        struct shape_side a = s[i], b = s[k];
        s[i] = b, s[k] = a;
    }
    for (int i = 0; i < n; i++) {
        struct shape_side a = s[i];
        s[i].x0 = a.x1, s[i].y0 = a.y1, s[i].x1 = a.x0, s[i].y1 = a.y0;
        s[i].way = -a.way;
    }
}

void side_turn(const struct shape_side *a, const struct shape_side *b, double *sine, double *cosine)
{
    double ax, ay, bx, by;
    shape_side_direction(a, true, &ax, &ay);
    shape_side_direction(b, false, &bx, &by);
    *sine = ax * by - ay * bx;
    *cosine = ax * bx + ay * by;
}

double shape_inside_corner(const struct shape_side *s, int n)
{
    static const double smooth = 1e-6; /* rad */
    int round = shape_area(s, n) < 0 ? -1 : 1;
    double least = INFINITY;
    for (int i = 0; i < n; i++) {
        double sine, cosine;
        side_turn(&s[i], &s[(i + 1) % n], &sine, &cosine);
        if (round * sine > smooth || (fabs(sine) <= smooth && cosine < 0))
            return 0;
        if (s[i].radius > 0 && s[i].way == round)
            least = fmin(least, s[i].radius);
    }
    return least;
}

int shape_rectangle(double half_x, double half_y, double corner, struct shape_side *out)
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
            out[n++] = side_round(c[0] * in_x, c[1] * in_y, corner, 1, ax, ay, bx, by);
        else
            bx = c[0] * half_x, by = c[1] * half_y, nx = d[0] * half_x, ny = d[1] * half_y;
        if (hypot(nx - bx, ny - by) > SHAPE_NEAR)
            out[n++] = shape_straight(bx, by, nx, ny);
    }
    return n;
}
