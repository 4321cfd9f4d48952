/* Lengths, areas, boxes and offsets, against school geometry and against Steiner's formula: a convex shape of
 * length L and area A, grown by g, has the length L + 2 pi g and the area A + L g + pi g^2 (J. Steiner,
 * "Ueber parallele Flaechen", 1840; from memory).
 */

#include "suites.h"

START_TEST(a_circle_of_two_arcs_either_way_round)
{
    struct shape_side s[2];
    for (int way = -1; way <= 1; way += 2) {
        ck_assert(shape_arc(-10, 0, 10, 0, 10, way, false, &s[0]));
        ck_assert(shape_arc(10, 0, -10, 0, 10, way, false, &s[1]));
        near_to(shape_length(s, 2), 20 * PI);
        near_to(shape_area(s, 2), way * 100 * PI);
        struct shape_box b = shape_box(s, 2);
        near_to(b.left, -10);
        near_to(b.right, 10);
        near_to(b.front, -10);
        near_to(b.back, 10);
    }
    shape_reverse(s, 2);
    near_to(shape_area(s, 2), -100 * PI);
    near_to(s[0].x0, s[1].x1);
}
END_TEST

/* Three quarters of a circle and the quarter that is left. */
START_TEST(a_long_arc_is_the_rest_of_its_circle)
{
    struct shape_side s, rest;
    ck_assert(shape_arc(10, 0, 0, -10, 10, 1, true, &s));
    ck_assert(shape_arc(10, 0, 0, -10, 10, -1, false, &rest));
    near_to(shape_side_length(&s), 15 * PI);
    near_to(shape_side_length(&rest), 5 * PI);
    near_to(s.cx, 0);
    near_to(s.cy, 0);
    near_to(s.sweep, 1.5 * PI);
}
END_TEST

START_TEST(an_arc_that_cannot_reach_is_none)
{
    struct shape_side s;
    ck_assert(!shape_arc(0, 0, 10, 0, 4.9, 1, false, &s));
    ck_assert(!shape_arc(0, 0, 10, 0, 0, 1, false, &s));
    ck_assert(!shape_arc(0, 0, 10, 0, NAN, 1, false, &s));
    ck_assert(!shape_arc(3, 3, 3, 3, 5, 1, false, &s));
    ck_assert(shape_arc(0, 0, 10, 0, 5 - SHAPE_NEAR / 2, 1, false, &s)); /* within the rounding of figures */
    near_to(s.radius, 5);
}
END_TEST

START_TEST(directions_are_those_of_the_tangent)
{
    struct shape_side s;
    double x, y;
    ck_assert(shape_arc(10, 0, 0, 10, 10, 1, false, &s));
    shape_side_direction(&s, false, &x, &y);
    near_to(x, 0);
    near_to(y, 1);
    shape_side_direction(&s, true, &x, &y);
    near_to(x, -1);
    near_to(y, 0);
    s = shape_straight(1, 1, 4, 5);
    shape_side_direction(&s, true, &x, &y);
    near_to(x, 0.6);
    near_to(y, 0.8);
}
END_TEST

static const struct { double half_x, half_y, corner; int sides; } rectangles[] = {
    {20, 10, 0, 4}, {20, 10, 4, 8}, {20, 10, 10, 6}, {10, 10, 10, 4},
};

START_TEST(rectangles_with_round_corners)
{
    double x = rectangles[_i].half_x, y = rectangles[_i].half_y, r = rectangles[_i].corner;
    struct shape_side s[8], grown[16];
    int n = shape_rectangle(x, y, r, s), first, second;
    ck_assert_int_eq(n, rectangles[_i].sides);
    near_to(shape_area(s, n), 4 * x * y - (4 - PI) * r * r);
    near_to(shape_length(s, n), 4 * (x + y) - (8 - 2 * PI) * r);
    ck_assert_int_eq(shape_crossings(s, n, &first, &second), 0);
    near_to(shape_inside_corner(s, n), r);
    int m = shape_offset(s, n, 1.5, grown); /* Steiner */
    ck_assert_int_gt(m, 0);
    near_to(shape_length(grown, m), shape_length(s, n) + 2 * PI * 1.5);
    near_to(shape_area(grown, m), shape_area(s, n) + 1.5 * shape_length(s, n) + PI * 1.5 * 1.5);
    struct shape_box b = shape_box(grown, m);
    near_to(b.right, x + 1.5);
    near_to(b.front, -y - 1.5);
    m = shape_offset(s, n, 0, grown);
    ck_assert_int_eq(m, n);
}
END_TEST

START_TEST(polygons_grow_by_steiner_and_shrink_by_their_corners)
{
    struct shape_side s[12], out[24];
    double at[12][2];
    for (int n = 3; n <= 12; n++) {
        double grow = 0.7, inner = 10 * cos(PI / n);
        for (int i = 0; i < n; i++)
            at[i][0] = 10 * cos(2 * PI * i / n), at[i][1] = 10 * sin(2 * PI * i / n);
        polygon((const double (*)[2])at, n, s);
        double length = shape_length(s, n), area = shape_area(s, n);
        near_to(length, 20 * n * sin(PI / n));
        near_to(area, 50 * n * sin(2 * PI / n));
        int m = shape_offset(s, n, grow, out);
        ck_assert_int_eq(m, 2 * n);
        near_to(shape_length(out, m), length + 2 * PI * grow);
        near_to(shape_area(out, m), area + length * grow + PI * grow * grow);
        m = shape_offset(s, n, -grow, out); /* a smaller one of the same form */
        ck_assert_int_eq(m, n);
        near_to(shape_area(out, m), area * pow((inner - grow) / inner, 2));
        ck_assert_int_eq(shape_offset(s, n, -inner - 0.1, out), 0);
    }
}
END_TEST

START_TEST(an_arc_with_nothing_left_is_left_out)
{
    struct shape_side s[8], out[16];
    int n = shape_rectangle(20, 10, 2, s), m = shape_offset(s, n, -3, out);
    ck_assert_int_eq(m, 4);
    near_to(shape_area(out, m), 4 * 17 * 7);
    ck_assert_int_eq(shape_offset(s, n, -10, out), 0);
}
END_TEST

/* An L: its inward corner gets an arc when it shrinks, the others when it grows. */
START_TEST(an_inward_corner)
{
    static const double at[6][2] = {{0, 0}, {20, 0}, {20, 5}, {5, 5}, {5, 20}, {0, 20}};
    struct shape_side s[6], out[12];
    polygon(at, 6, s);
    near_to(shape_area(s, 6), 175);
    near_to(shape_inside_corner(s, 6), 0);
    int m = shape_offset(s, 6, -1, out);
    ck_assert_int_eq(m, 7);
    near_to(shape_area(out, m), 18 * 3 + 3 * 15 + (1 - PI / 4)); /* two bars, and what is left between them */
    m = shape_offset(s, 6, 1, out);
    ck_assert_int_eq(m, 11);
    near_to(shape_area(out, m), 175 + 80 + 5 * PI / 4 - 1);
}
END_TEST

/* Each corner kept: of a polygon the area grows by its length and by the corners' kites, tan(a / 2) of the
 * turn a for each (school geometry); arcs that run into lines grow as circles do. */
START_TEST(sharp_corners_stay)
{
    static const double at[6][2] = {{0, 0}, {20, 0}, {20, 5}, {5, 5}, {5, 20}, {0, 20}};
    struct shape_side s[8], out[8];
    polygon(at, 6, s);
    ck_assert(shape_offset_sharp(s, 6, 1, out));
    near_to(shape_area(out, 6), 175 + 80 + 5 - 1);
    ck_assert(shape_offset_sharp(s, 6, -1, out));
    near_to(shape_area(out, 6), 175 - 80 + 5 - 1);
    ck_assert(!shape_offset_sharp(s, 6, -3, out));
    /* a side that goes on straight: its two parts have no crossing, and meet as they did */
    static const double on[5][2] = {{3, 2}, {8, 2}, {13, 2}, {13, 12}, {3, 12}};
    polygon(on, 5, s);
    ck_assert(shape_offset_sharp(s, 5, 1, out));
    near_to(shape_area(out, 5), 12 * 12);
    near_to(out[0].x1, 8);
    near_to(out[0].y1, 1);
    int n = shape_rectangle(20, 10, 2, s);
    ck_assert(shape_offset_sharp(s, n, 1, out));
    near_to(shape_area(out, n), 42 * 22 - (4 - PI) * 9);
    ck_assert(!shape_offset_sharp(s, n, -2.5, out)); /* nothing is left of its arcs */
    /* three quarters of a circle, closed by a corner: the lines part from the arc at an angle */
    s[0] = shape_straight(0, 0, 10, 0);
    ck_assert(shape_arc(10, 0, 0, -10, 10, 1, true, &s[1]));
    s[2] = shape_straight(0, -10, 0, 0);
    ck_assert(shape_offset_sharp(s, 3, 1, out));
    near_to(out[0].x0, 1); /* the notch gets narrower */
    near_to(out[0].y0, -1);
    near_to(hypot(out[1].x0 - s[1].cx, out[1].y0 - s[1].cy), 11);
    near_to(out[1].y0, -1);
}
END_TEST

START_TEST(turned_and_shifted_it_is_the_same)
{
    struct shape_side s[8];
    int n = shape_rectangle(20, 10, 4, s);
    double length = shape_length(s, n), area = shape_area(s, n);
    shape_turn(s, n, PI / 6);
    shape_shift(s, n, 300, -200);
    near_to(shape_length(s, n), length);
    ck_assert_double_eq_tol(shape_area(s, n), area, 1e-8);
    struct shape_box b = shape_box(s, n); /* the inner box turned, and the corner on each side of it */
    near_to(b.right, 300 + 16 * sqrt(3) / 2 + 6 * 0.5 + 4);
    near_to(b.back, -200 + 16 * 0.5 + 6 * sqrt(3) / 2 + 4);
}
END_TEST

TCase *outline_tests(void)
{
    TCase *t = tcase_create("outlines");
    tcase_add_test(t, a_circle_of_two_arcs_either_way_round);
    tcase_add_test(t, a_long_arc_is_the_rest_of_its_circle);
    tcase_add_test(t, an_arc_that_cannot_reach_is_none);
    tcase_add_test(t, directions_are_those_of_the_tangent);
    tcase_add_loop_test(t, rectangles_with_round_corners, 0, COUNT_OF(rectangles));
    tcase_add_test(t, polygons_grow_by_steiner_and_shrink_by_their_corners);
    tcase_add_test(t, an_arc_with_nothing_left_is_left_out);
    tcase_add_test(t, an_inward_corner);
    tcase_add_test(t, sharp_corners_stay);
    tcase_add_test(t, turned_and_shifted_it_is_the_same);
    return t;
}
