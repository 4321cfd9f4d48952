/* What of an outline lies in an area. See diewright/shape.h.
 *
 * Each side is parted where it meets the area's rim; a piece between two such places is all in or all out, so
 * its middle tells. What runs along the rim is not in: there nothing holds the metal any more.
 */

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>

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

/* The shares at which S is to be parted, in order, from 0 to 1; how many. Room for 2 + 2 * N_AREA. */
static int part(const struct shape_side *s, const struct shape_side *area, int n_area, double *shares)
{
    int n = 0;
    shares[n++] = 0;
    for (int i = 0; i < n_area; i++) {
        double x[2], y[2];
        int meet = shape_sides_meet(s, &area[i], false, x, y);
        for (int m = 0; m < meet; m++) {
            double share = fmin(fmax(share_at(s, x[m], y[m]), 0), 1);
            int at = n++;
            for (; at > 0 && shares[at - 1] > share; at--)
                shares[at] = shares[at - 1];
            shares[at] = share;
        }
    }
    shares[n++] = 1;
    return n;
}

/* The piece from share FROM to share TO of S. */
static void add_piece(const struct shape_side *s, double from, double to, struct shape_cut *out)
{
    double x0, y0, x1, y1, length = shape_side_length(s) * (to - from);
    shape_side_place(s, from, &x0, &y0);
    shape_side_place(s, to, &x1, &y1);
    out->length += length;
    if (s->radius > 0) {
        out->along += length * s->cx + s->radius * s->way * (y1 - y0);
        out->across += length * s->cy - s->radius * s->way * (x1 - x0);
    } else {
        out->along += length * (x0 + x1) / 2;
        out->across += length * (y0 + y1) / 2;
    }
}

static void add_side(const struct shape_side *s, const struct shape_side *area, int n_area, double *shares,
                     struct shape_cut *out)
{
    int n = part(s, area, n_area, shares);
    double length = shape_side_length(s), x, y;
    for (int i = 1; i < n; i++) {
        if ((shares[i] - shares[i - 1]) * length <= SHAPE_NEAR)
            continue;
        shape_side_place(s, (shares[i - 1] + shares[i]) / 2, &x, &y);
        if (shape_inside(area, n_area, x, y) && shape_from(area, n_area, x, y) > SHAPE_NEAR)
            add_piece(s, shares[i - 1], shares[i], out);
    }
}

struct shape_cut shape_cut_in(const struct shape_side *s, int n, const struct shape_side *area, int n_area)
{
    struct shape_cut cut = {0};
    double *shares = base_alloc((size_t)(2 + 2 * n_area) * sizeof *shares);
    for (int i = 0; i < n; i++)
        if (s[i].cuts)
            add_side(&s[i], area, n_area, shares, &cut);
    free(shares);
    return cut;
}
