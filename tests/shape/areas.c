/* What areas have in common: what is cut of it, its area, its pieces, how narrow it gets. By hand: a straight
 * piece has its middle half way, an arc's sum over the height is radius times the chord. */

#include "suites.h"

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>

/* ---- what a tool cuts of the square from 0 to 10 ------------------------------------------------------- */

struct tool { struct shape_side sides[8]; int n; };

static struct tool box_tool(double x, double y, double half_x, double half_y, double corner)
{
    struct tool t = {.n = 0};
    t.n = shape_rectangle(half_x, half_y, corner, t.sides);
    shape_shift(t.sides, t.n, x, y);
    return t;
}

static const struct figure { double x, y, half_x, half_y, corner, length, along, across, area; } figures[] = {
    /* wholly inside */
    {5, 5, 2, 1, 0, 12, 12 * 5, 12 * 5, 8},
    /* over the left edge: two sides and an end */
    {0, 5, 3, 1, 0, 6 + 2, 6 * 1.5 + 2 * 3, 8 * 5, 6},
    /* over a corner: two sides */
    {10, 10, 2, 3, 0, 5, 2 * 9 + 3 * 8, 2 * 7 + 3 * 8.5, 6},
    /* right across */
    {5, 5, 1, 9, 0, 20, 20 * 5, 20 * 5, 20},
    /* its side on the edge, from within and from without */
    {2, 5, 2, 1, 0, 2 * 4 + 2, 8 * 2 + 2 * 4, 10 * 5, 8},
    {-2, 5, 2, 1, 0, 0, 0, 0, 0},
    /* beside it, all round it, and just as large */
    {20, 20, 1, 1, 0, 0, 0, 0, 0},
    {5, 5, 9, 9, 0, 0, 0, 0, 100},
    {5, 5, 5, 5, 0, 0, 0, 0, 100},
    /* a circle inside, one half in, one of a quarter, one that touches from within */
    {5, 5, 2, 2, 2, 4 * PI, 4 * PI * 5, 4 * PI * 5, 4 * PI},
    {5, 10, 3, 3, 3, 3 * PI, 3 * PI * 5, 3 * PI * 10 - 3 * 6, 4.5 * PI},
    {0, 0, 4, 4, 4, 2 * PI, 4 * 4, 4 * 4, 4 * PI},
    {3, 5, 3, 3, 3, 6 * PI, 6 * PI * 3, 6 * PI * 5, 9 * PI},
    /* an obround half in: two sides and half a circle */
    {0, 5, 6, 2, 2, 8 + 2 * PI, 8 * 2 + 2 * PI * 4 + 2 * 4, (8 + 2 * PI) * 5, 16 + 2 * PI},
};

static const struct shape_side square[] = {
    {.x0 = 0, .y0 = 0, .x1 = 10, .y1 = 0},
    {.x0 = 10, .y0 = 0, .x1 = 10, .y1 = 10},
    {.x0 = 10, .y0 = 10, .x1 = 0, .y1 = 10},
    {.x0 = 0, .y0 = 10, .x1 = 0, .y1 = 0},
};

/* What of the square is left by the first N tools, and taken by the next. */
static void take(const struct tool *tools, int n, shape_rims *out)
{
    struct shape_part parts[8] = {{square, 4, false}};
    ck_assert_int_lt(n + 1, 8);
    for (int i = 0; i <= n; i++)
        parts[i + 1] = (struct shape_part){tools[i].sides, tools[i].n, i < n};
    shape_common(parts, n + 2, out);
}

START_TEST(what_lies_in_metal_is_cut)
{
    const struct figure *f = &figures[_i];
    struct tool t = box_tool(f->x, f->y, f->half_x, f->half_y, f->corner);
    shape_rims rims = {0};
    take(&t, 0, &rims);
    struct shape_cut c = shape_rims_cut(&rims, 1);
    near_to(c.length, f->length);
    near_to(c.along, f->along);
    near_to(c.across, f->across);
    near_to(shape_rims_area(&rims, -1), f->area);
    base_vec_done(&rims);
}
END_TEST

START_TEST(a_side_that_is_no_cut_does_not_count)
{
    struct tool t = box_tool(5, 5, 2, 1, 0);
    shape_rims rims = {0};
    t.sides[0].cuts = false;
    double not_cut = shape_side_length(&t.sides[0]);
    take(&t, 0, &rims);
    near_to(shape_rims_cut(&rims, 1).length, 12 - not_cut);
    near_to(shape_rims_area(&rims, -1), 8);
    base_vec_done(&rims);
}
END_TEST

/* ---- after others have cut --------------------------------------------------------------------------- */

static const struct { struct { double x, y, half_x, half_y, corner; } tools[3]; int n; double length, area;
} afters[] = {
    /* the same place once more */
    {{{5, 5, 2, 1, 0}, {5, 5, 2, 1, 0}}, 1, 0, 0},
    {{{5, 5, 2, 2, 2}, {5, 5, 2, 2, 2}}, 1, 0, 0},
    /* half of it once more */
    {{{4, 5, 2, 1, 0}, {6, 5, 2, 1, 0}}, 1, 2 * 2 + 2, 4},
    /* end to end: the shared side has been cut */
    {{{3, 5, 1, 1, 0}, {5, 5, 1, 1, 0}}, 1, 6, 4},
    /* round a hole: the hole is no metal */
    {{{5, 5, 1, 1, 1}, {5, 5, 3, 3, 0}}, 1, 24, 36 - PI},
    /* within what is gone */
    {{{5, 5, 3, 3, 0}, {5, 5, 1, 1, 1}}, 1, 0, 0},
    /* between two notches: only its long sides */
    {{{5, 0, 2, 2, 0}, {5, 10, 2, 2, 0}, {5, 5, 1, 4, 0}}, 2, 2 * 6, 2 * 6},
    /* two circles that cross at right angles: r = 1, a chord of sqrt 2, quarter segments */
    {{{5, 5, 1, 1, 1}, {5 + 1.41421356237309515, 5, 1, 1, 1}}, 1, 1.5 * PI, PI - (PI / 2 - 1)},
    /* two that touch from without */
    {{{4, 5, 1, 1, 1}, {6, 5, 1, 1, 1}}, 1, 2 * PI, PI},
};

START_TEST(what_is_gone_is_not_cut_again)
{
    struct tool tools[3];
    for (int i = 0; i <= afters[_i].n; i++)
        tools[i] = box_tool(afters[_i].tools[i].x, afters[_i].tools[i].y, afters[_i].tools[i].half_x,
                            afters[_i].tools[i].half_y, afters[_i].tools[i].corner);
    shape_rims rims = {0};
    take(tools, afters[_i].n, &rims);
    near_to(shape_rims_cut(&rims, afters[_i].n + 1).length, afters[_i].length);
    near_to(shape_rims_area(&rims, -1), afters[_i].area);
    base_vec_done(&rims);
}
END_TEST

/* A notch 16 long and 7 deep: three sides, 30, the middle 1.633 from the inner side (7^2 / 30). A parting
 * slug of 8 across a strip of 70: 140. Own arithmetic, as in texts on press tools: open sides cut nothing. */
START_TEST(notch_and_parting_cut_their_sides)
{
    struct shape_side strip[4];
    shape_rims rims = {0};
    shape_rectangle(200, 35, 0, strip);
    struct tool notch = box_tool(0, 35, 8, 7, 0), parting = box_tool(0, 0, 4, 37, 0);
    struct shape_part parts[2] = {{strip, 4, false}, {notch.sides, notch.n, false}};
    shape_common(parts, 2, &rims);
    struct shape_cut c = shape_rims_cut(&rims, 1);
    near_to(c.length, 30);
    near_to(c.across / c.length, 28 + 49 / 30.);
    near_to(shape_rims_area(&rims, -1), 16 * 7);
    base_vec_done(&rims);
    parts[1] = (struct shape_part){parting.sides, parting.n, false};
    shape_common(parts, 2, &rims);
    near_to(shape_rims_cut(&rims, 1).length, 140);
    near_to(shape_rims_area(&rims, -1), 8 * 70);
    base_vec_done(&rims);
}
END_TEST

/* ---- pieces, and how narrow ---------------------------------------------------------------------------- */

/* The square with all tools taken out of it. */
static int rest_of(const struct tool *tools, int n, shape_rims *out)
{
    struct shape_part parts[8] = {{square, 4, false}};
    for (int i = 0; i < n; i++)
        parts[i + 1] = (struct shape_part){tools[i].sides, tools[i].n, true};
    shape_common(parts, n + 1, out);
    return shape_loops(out);
}

START_TEST(loops_tell_pieces_and_holes)
{
    struct tool tools[] = {box_tool(5, 5, 1, 6, 0), box_tool(2, 5, 1, 1, 1)};
    shape_rims rims = {0};
    ck_assert_int_eq(rest_of(tools, 2, &rims), 3);
    double areas = 0, left = 0;
    for (int loop = 0; loop < 3; loop++) {
        double area = shape_rims_area(&rims, loop);
        struct shape_box box = shape_rims_box(&rims, loop);
        areas += area;
        if (area > 0 && box.left < 1)
            left = area * (box.right < 4 + 1e-9);
        ck_assert_int_eq(shape_rims_inside(&rims, loop, 2, 5), box.left < 4);
    }
    near_to(left, 40);
    near_to(areas, 80 - PI);
    base_vec_done(&rims);
    /* two squares that touch at a corner only: what is left between them stays one piece, they are two */
    struct tool corners[] = {box_tool(2.5, 7.5, 2.5, 2.5, 0), box_tool(7.5, 2.5, 2.5, 2.5, 0)};
    ck_assert_int_eq(rest_of(corners, 2, &rims), 2);
    near_to(shape_rims_area(&rims, 0), 25);
    near_to(shape_rims_area(&rims, 1), 25);
    base_vec_done(&rims);
}
END_TEST

/* Rows of circles of radius 1, 3 apart, the first of each row half over the left edge; every second row's
 * circles are there twice. */
START_TEST(a_field_of_holes_is_taken_out)
{
    enum { ROWS = 30, COLUMNS = 30, MOST = ROWS * COLUMNS * 3 / 2 };
    static struct tool tools[MOST];
    static struct shape_part parts[MOST + 1];
    struct shape_side plate[4];
    int n = 0;
    shape_rectangle(50, 50, 0, plate);
    parts[0] = (struct shape_part){plate, 4, false};
    for (int row = 0; row < ROWS; row++)
        for (int i = 0; i < COLUMNS * (1 + row % 2); i++) {
            tools[n] = box_tool(-50 + 3 * (i % COLUMNS), -48 + 3 * row, 1, 1, 1);
            parts[n + 1] = (struct shape_part){tools[n].sides, tools[n].n, true};
            n++;
        }
    shape_rims rims = {0};
    shape_common(parts, n + 1, &rims);
    ck_assert_double_eq_tol(shape_rims_area(&rims, -1), 100 * 100 - ROWS * (COLUMNS - 0.5) * PI, 1e-6);
    ck_assert_int_eq(shape_loops(&rims), 1 + ROWS * (COLUMNS - 1));
    base_vec_done(&rims);
}
END_TEST

START_TEST(the_narrowest_section_is_found)
{
    struct tool tools[] = {box_tool(5, 5, 2, 2, 2), box_tool(2, 10, 1, 4.5, 0)};
    struct shape_section s;
    shape_rims rims = {0};
    rest_of(tools, 2, &rims);
    ck_assert(shape_narrowest(&rims, 0, 10, &s)); /* under the notch 5.5, beside the circle twice 3 */
    ck_assert_double_eq_tol(s.wide, 5.5, 1e-5);
    ck_assert_int_eq(s.strands, 1);
    ck_assert(shape_narrowest(&rims, 3.5, 10, &s));
    ck_assert_double_eq_tol(s.wide, 6, 1e-5);
    ck_assert_double_eq_tol(s.narrow, 3, 1e-5);
    ck_assert_double_eq_tol(s.x, 5, 1e-4);
    ck_assert_int_eq(s.strands, 2);
    ck_assert(!shape_narrowest(&rims, 4, 4, &s));
    base_vec_done(&rims);
    /* between the middles of two circles of 3 at 4 and 5: the widths of both are largest together half way,
       2 sqrt(9 - 1 / 4) each, of 20 */
    struct shape_side strip[4];
    shape_rectangle(20, 10, 0, strip);
    struct tool two[] = {box_tool(4, 5, 3, 3, 3), box_tool(5, -5, 3, 3, 3)};
    struct shape_part parts[] = {
        {strip, 4, false}, {two[0].sides, two[0].n, true}, {two[1].sides, two[1].n, true}};
    shape_common(parts, 3, &rims);
    shape_loops(&rims);
    ck_assert(shape_narrowest(&rims, -10, 10, &s));
    ck_assert_double_eq_tol(s.wide, 20 - 4 * sqrt(8.75), 1e-6);
    ck_assert_double_eq_tol(s.x, 4.5, 1e-4);
    base_vec_done(&rims);
    /* through the round corners of a hole, 3 left of its middle: 1 past the corners' own middles */
    struct tool hole = box_tool(0, 0, 4, 3, 2);
    struct shape_part holed[] = {{strip, 4, false}, {hole.sides, hole.n, true}};
    shape_common(holed, 2, &rims);
    shape_loops(&rims);
    ck_assert(shape_narrowest(&rims, -3.9, -3, &s));
    ck_assert_double_eq_tol(s.wide, 20 - 2 * (1 + sqrt(3)), 1e-5);
    ck_assert_double_eq_tol(s.narrow, 9 - sqrt(3), 1e-5);
    ck_assert_double_eq_tol(s.x, -3, 1e-4);
    base_vec_done(&rims);
}
END_TEST

TCase *area_tests(void)
{
    TCase *t = tcase_create("areas");
    tcase_add_loop_test(t, what_lies_in_metal_is_cut, 0, COUNT_OF(figures));
    tcase_add_test(t, a_side_that_is_no_cut_does_not_count);
    tcase_add_loop_test(t, what_is_gone_is_not_cut_again, 0, COUNT_OF(afters));
    tcase_add_test(t, notch_and_parting_cut_their_sides);
    tcase_add_test(t, loops_tell_pieces_and_holes);
    tcase_add_test(t, a_field_of_holes_is_taken_out);
    tcase_add_test(t, the_narrowest_section_is_found);
    return t;
}
