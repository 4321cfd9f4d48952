/* What of an outline's sides lies in an area: its length, and length times the middle of each piece. By
 * hand: a straight piece has its middle half way, an arc's sum over the height is radius times the chord. */

#include "suites.h"

#include "diewright/shape.h"

#include <math.h>

/* The area is the square from 0 to 10. */
static const struct shape_side square[] = {
    {.x0 = 0, .y0 = 0, .x1 = 10, .y1 = 0},
    {.x0 = 10, .y0 = 0, .x1 = 10, .y1 = 10},
    {.x0 = 10, .y0 = 10, .x1 = 0, .y1 = 10},
    {.x0 = 0, .y0 = 10, .x1 = 0, .y1 = 0},
};

#define PI 3.14159265358979323846
#define LINE(fx, fy, tx, ty) {.x0 = (fx), .y0 = (fy), .x1 = (tx), .y1 = (ty), .cuts = true}

static const struct { struct shape_side side; double length, along, across; } rows[] = {
    {LINE(2, 3, 8, 3), 6, 6 * 5, 6 * 3},                   /* wholly inside */
    {LINE(5, 5, 15, 5), 5, 5 * 7.5, 5 * 5},                /* leaves it */
    {LINE(-5, 4, 5, 4), 5, 5 * 2.5, 5 * 4},                /* comes in */
    {LINE(-5, 6, 15, 6), 10, 10 * 5, 10 * 6},              /* goes through */
    {LINE(6, -20, 6, 11), 10, 10 * 6, 10 * 5},             /* likewise, far from its middle */
    {LINE(-5, 11, 15, 11), 0, 0, 0},                       /* goes past */
    {LINE(0, 0, 10, 0), 0, 0, 0},                          /* along the edge: cuts nothing off */
    {LINE(-2, 2, 2, -2), 0, 0, 0},                         /* through a corner */
    {{.x0 = 2, .y0 = 3, .x1 = 8, .y1 = 3}, 0, 0, 0},       /* is no cut */
    {{.x0 = 8, .x1 = 2, .cx = 5, .radius = 3, .sweep = PI, .way = 1, .cuts = true}, /* half a circle above */
     3 * PI, 3 * PI * 5, 3 * 6},
    {{.x0 = 8, .x1 = 2, .cx = 5, .radius = 3, .sweep = PI, .way = -1, .cuts = true}, 0, 0, 0}, /* below */
    /* a half above the middle of the left edge, of which a quarter is inside */
    {{.x0 = 4, .y0 = 5, .x1 = -4, .y1 = 5, .cy = 5, .radius = 4, .sweep = PI, .way = 1, .cuts = true},
     2 * PI, 4 * 4, 2 * PI * 5 + 4 * 4},
};

START_TEST(what_lies_inside_is_summed)
{
    struct shape_cut c = shape_cut_in(&rows[_i].side, 1, square, 4);
    ck_assert_double_eq_tol(c.length, rows[_i].length, 1e-9);
    ck_assert_double_eq_tol(c.along, rows[_i].along, 1e-9);
    ck_assert_double_eq_tol(c.across, rows[_i].across, 1e-9);
}
END_TEST

START_TEST(sides_add_up)
{
    const struct shape_side two[] = {LINE(2, 3, 8, 3), LINE(5, 5, 15, 5)};
    struct shape_cut c = shape_cut_in(two, 2, square, 4);
    ck_assert_double_eq_tol(c.length, 11, 1e-9);
    ck_assert_double_eq_tol(c.along, 6 * 5 + 5 * 7.5, 1e-9);
    ck_assert_double_eq_tol(c.across, 6 * 3 + 5 * 5, 1e-9);
}
END_TEST

TCase *cut_in_tests(void)
{
    TCase *t = tcase_create("cut-in");
    tcase_add_loop_test(t, what_lies_inside_is_summed, 0, COUNT_OF(rows));
    tcase_add_test(t, sides_add_up);
    return t;
}
