/* The metal of the strip in section: both faces of what is bent or formed, and its ends. */

#include "sheet/inside.h"

#include <math.h>

/* Square to the metal from A to B; false: nothing lies between them. */
static bool square_to(const struct dieset_bent *a, const struct dieset_bent *b, double *x, double *y)
{
    double dx = b->off - a->off, dy = b->high - a->high, by = hypot(dx, dy);
    *x = by > 0 ? -dy / by : 0;
    *y = by > 0 ? dx / by : 0;
    return by > 0;
}

/* From the place I to its face, half of THICK off; to the other one it is as far the other way. */
static void face_of(const struct dieset_bent *at, int n, int i, double thick, double *x, double *y)
{
    double ax, ay, bx, by;
    bool before = i > 0 && square_to(&at[i - 1], &at[i], &ax, &ay),
         after = i + 1 < n && square_to(&at[i], &at[i + 1], &bx, &by);
    if (!before)
        ax = after ? bx : 0, ay = after ? by : 0;
    if (!after)
        bx = ax, by = ay;
    double mitre = thick / 2 / fmax(0.2, 1 + ax * bx + ay * by);
    *x = (ax + bx) * mitre;
    *y = (ay + by) * mitre;
}

void sheet_metal(struct draw_sheet *s, const struct sheet_view *v, const struct dieset_bent *at, int n,
                 double thick, enum draw_pen pen)
{
    double fx[2], fy[2];
    bool ended = true;
    for (int i = 0; i < n; i++) {
        double nx, ny;
        bool goes_on = i + 1 < n && square_to(&at[i], &at[i + 1], &nx, &ny);
        face_of(at, n, i, thick, &fx[0], &fy[0]);
        if (ended != !goes_on)
            draw_line(s, pen, sheet_at_x(v, at[i].off + fx[0]), sheet_at_y(v, at[i].high + fy[0]),
                      sheet_at_x(v, at[i].off - fx[0]), sheet_at_y(v, at[i].high - fy[0]));
        if (goes_on)
            face_of(at, n, i + 1, thick, &fx[1], &fy[1]);
        for (int side = -1; goes_on && side < 2; side += 2)
            draw_line(s, pen, sheet_at_x(v, at[i].off + side * fx[0]),
                      sheet_at_y(v, at[i].high + side * fy[0]), sheet_at_x(v, at[i + 1].off + side * fx[1]),
                      sheet_at_y(v, at[i + 1].high + side * fy[1]));
        ended = !goes_on;
    }
}
