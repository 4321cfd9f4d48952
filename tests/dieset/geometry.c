/* Walls, pairs and patterns, held against plain counting. */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct dieset_hole circle(double x, double y, double diameter)
{
    return (struct dieset_hole){.x = x, .y = y, .diameter = diameter, .high = 10};
}

static struct dieset_hole box(double x, double y, double length, double width, double corner)
{
    return (
        struct dieset_hole){.x = x, .y = y, .length = length, .width = width, .corner = corner, .high = 10};
}

START_TEST(walls_between_circles_and_rectangles)
{
    const struct { struct dieset_hole a, b; double wall; } rows[] = {
        {circle(0, 0, 10), circle(20, 0, 6), 12},
        {circle(0, 0, 10), circle(3, 4, 4), -2},
        {circle(0, 0, 10), box(20, 0, 10, 10, 0), 10},
        {circle(0, 0, 10), box(13, 14, 20, 20, 0), 0},   /* corner at (3, 4), on the circle */
        {circle(0, 0, 10), box(13, 14, 20, 20, 5), hypot(8, 9) - 10},
        {circle(0, 0, 2), box(0, 0, 20, 40, 0), -11},
        {box(0, 0, 10, 10, 0), box(20, 0, 10, 10, 0), 10},
        {box(0, 0, 10, 10, 0), box(13, 14, 10, 10, 0), 5},
        {box(0, 0, 10, 10, 0), box(8, 3, 10, 10, 0), -2},
        {box(0, 0, 10, 10, 2), box(13, 14, 10, 10, 2), hypot(7, 8) - 4},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        double shared = -1;
        ck_assert_double_eq_tol(dieset_wall(&rows[i].a, &rows[i].b, &shared), rows[i].wall, 1e-9);
        ck_assert_double_eq_tol(dieset_wall(&rows[i].b, &rows[i].a, NULL), rows[i].wall, 1e-9);
        near_to(shared, 10);
    }
}
END_TEST

/* 40 by 20 turned by 30 degrees about 10, 5: its corner at 20, 10 comes to 20 cos 30 - 10 sin 30, 20 sin 30 +
   10 cos 30 from there. */
START_TEST(a_turned_rectangle_is_told_by_its_sides)
{
    static const char job[] = "\nwindow one\n  in_plate = die_plate\n  x = 10 mm\n  y = 5 mm\n  along = 40 "
                              "mm\n  across = 20 mm\n  turned = 30 deg\n";
    struct bench b;
    struct dieset_hole h, plain;
    double c = sqrt(3) / 2, s = 0.5;
    bench_open_with(&b, job);
    ck_assert(bench_hole(&b, "die_plate", "one", "opening", DIESET_NEW, &h));
    ck_assert_int_eq(h.n_sides, 4);
    near_to(h.turn, acos(-1) / 6);
    near_to(h.right, 10 + 20 * c + 10 * s);
    near_to(h.left, 10 - 20 * c - 10 * s);
    near_to(h.back, 5 + 20 * s + 10 * c);
    near_to(h.front, 5 - 20 * s - 10 * c);
    ck_assert(dieset_covers(&h, 10 + 20 * c - 10 * s - 1e-10, 5 + 20 * s + 10 * c - 1e-10));
    ck_assert(!dieset_covers(&h, 10 + 19, 5 - 9.9)); /* in the plain one */
    struct dieset_hole small = circle(10 + 30 * -s, 5 + 30 * c, 10); /* 30 out along its short axis */
    near_to(dieset_wall(&h, &small, NULL), 30 - 10 - 5);
    bench_set(&b, "one", "turned", "180 deg");
    ck_assert(bench_hole(&b, "die_plate", "one", "opening", DIESET_NEW, &plain));
    ck_assert_int_eq(plain.n_sides, 0); /* itself again */
    near_to(plain.right, 30);
    bench_set(&b, "one", "turned", "90 deg");
    bench_set(&b, "one", "corner", "3 mm");
    ck_assert(bench_hole(&b, "die_plate", "one", "opening", DIESET_NEW, &h));
    ck_assert_int_eq(h.n_sides, 8);
    near_to(h.right, 20);
    near_to(h.back, 25);
    small = circle(10 + 20, 5 + 25, 2); /* from the middle of the corner, 17, 22: 13, 8 */
    near_to(dieset_wall(&h, &small, NULL), hypot(13, 8) - 3 - 1);
    bench_close(&b);
}
END_TEST

START_TEST(shared_depth_is_what_both_have)
{
    struct dieset_hole a = circle(0, 0, 5), b = circle(10, 0, 5);
    double shared;
    a.low = 0, a.high = 12, b.low = 8, b.high = 40;
    dieset_wall(&a, &b, &shared);
    near_to(shared, 4);
    b.low = 13;
    dieset_wall(&a, &b, &shared);
    near_to(shared, 0);
}
END_TEST

struct seen { int count; double sum; int last_a, last_b; };

static void see(void *arg, int a, int b, double wall, double shared)
{
    struct seen *s = arg;
    ck_assert(a > s->last_a || (a == s->last_a && b > s->last_b));
    ck_assert_int_lt(a, b);
    ck_assert_double_gt(shared, 0);
    s->last_a = a, s->last_b = b;
    s->count++;
    s->sum += wall + a * 3 + b * 7;
}

/* The same by looking at every pair. */
static struct seen plainly(const struct bench *b, int plate, enum dieset_state s, double within)
{
    struct seen out = {.last_a = -1};
    int first, n = dieset_plate_holes(b->d, plate, &first);
    for (int i = first; i < first + n; i++)
        for (int k = i + 1; k < first + n; k++) {
            struct dieset_hole p, q;
            double shared;
            dieset_hole(b->d, i, s, &p);
            dieset_hole(b->d, k, s, &q);
            double wall = dieset_wall(&p, &q, &shared);
            bool together = p.item == q.item && p.point == q.point && hypot(p.x - q.x, p.y - q.y) < 1e-6;
            if (!together && shared > 0 && wall < within)
                see(&out, i, k, wall, shared);
        }
    return out;
}

static const struct { const char *extra; double within;
} fields[] = {
    {"", 22},
    {"", 40},
    {"", 400},
    {"", 0},
    {"dowels many\n  first = die_plate\n  second = die_plate\n  diameter = 4 mm\n  lay rows on die_plate\n   "
     " columns = 23\n"
     "    rows = 17\n    end = 5 mm\n    side = 5 mm\n",
     6},
    {"window w\n  in_plate = die_plate\n  x = 10 mm\n  along = 90 mm\n  across = 44 mm\n  corner = 5 mm\n"
     "dowels many\n  first = die_plate\n  second = die_plate\n  diameter = 3 mm\n  lay ring on die_plate\n   "
     " many = 60\n"
     "    across = 120 mm\n",
     8},
};

START_TEST(the_search_grid_finds_what_plain_looking_finds)
{
    struct bench b;
    bench_open_with(&b, fields[_i].extra);
    int found = 0;
    for (int s = 0; s < DIESET_STATES; s++)
        for (int i = 0; i < dieset_item_count(b.d); i++) {
            struct seen by_grid = {.last_a = -1},
                        by_eye = plainly(&b, i, (enum dieset_state)s, fields[_i].within);
            dieset_pairs(b.d, i, (enum dieset_state)s, fields[_i].within, see, &by_grid);
            ck_assert_int_eq(by_grid.count, by_eye.count);
            ck_assert_double_eq_tol(by_grid.sum, by_eye.sum, 1e-6);
            found += by_eye.count;
        }
    ck_assert_int_eq(found > 0, fields[_i].within > 0);
    bench_close(&b);
}
END_TEST

/* By how much a plate's fastening holes miss themselves, turned half round. */
static double by_definition(const struct bench *b, int plate)
{
    int first, n = dieset_plate_holes(b->d, plate, &first);
    double worst = 0;
    for (int i = first; i < first + n; i++) {
        struct dieset_hole p, q;
        dieset_hole(b->d, i, DIESET_NEW, &p);
        double best = INFINITY;
        for (int k = first; k < first + n; k++) {
            dieset_hole(b->d, k, DIESET_NEW, &q);
            if (q.spec->fastens && strcmp(p.operation, q.operation) == 0 && p.diameter == q.diameter &&
                p.from_top == q.from_top)
                best = fmin(best, hypot(-p.x - q.x, -p.y - q.y));
        }
        if (p.spec->fastens)
            worst = fmax(worst, best);
    }
    return worst;
}

START_TEST(a_plate_turned_round_misses_by_the_moved_hole)
{
    struct bench b;
    double miss, mirrored;
    bench_open(&b);
    int plate = dieset_find_item(b.d, "die_plate");
    ck_assert(dieset_measure(b.d, plate, "turned_miss", DIESET_NEW, &miss));
    near_to(miss, hypot(200, 160)); /* six screws and two dowels in corners: turned it is as it should be */
    bench_set(&b, "die_dowels", "lay/left_front/y", "usual + 0.5 mm");
    ck_assert(dieset_measure(b.d, plate, "turned_miss", DIESET_NEW, &miss));
    near_to(miss, 0.5);
    bench_set(&b, "die_dowels", "lay/left_front/y", "usual + 5 mm");
    ck_assert(dieset_measure(b.d, plate, "turned_miss", DIESET_NEW, &miss));
    near_to(miss, 5);
    near_to(miss, by_definition(&b, plate));
    near_to(bench_value(&b, "die_plate.turned_miss", DIESET_NEW), 5);
    near_to(bench_value(&b, "die_plate.turned_miss", DIESET_GROUND), 5);
    ck_assert(dieset_measure(b.d, plate, "mirrored_miss", DIESET_NEW, &mirrored));
    near_to(mirrored, hypot(200, 160)); /* blind threads from below: turned over, no thread fits */
    ck_assert(!dieset_measure(b.d, plate, "all_turned_miss", DIESET_NEW, &miss));
    ck_assert(!dieset_measure(b.d, dieset_find_item(b.d, "stripper"), "turned_miss", DIESET_NEW, &miss));
    bench_close(&b);
}
END_TEST

/* Four pins that a quarter turn brings onto each other, their middle 6 beside the plate's. Turned half round
   the plate lands 12 off, which is seen at 100 wide; by a quarter only 8.5. The first stands OFF. */
static double pins_on(const char *length, double off)
{
    const double at[][2] = {{36, 10 + off}, {-4, 30}, {-24, -10}, {16, -30}};
    struct bench b;
    struct base_text job = {0};
    double miss;
    base_text_addf(&job, "plate square\n  length = %s\n  width = 100 mm\n  thickness = 10 mm\n", length);
    for (size_t i = 0; i < COUNT_OF(at); i++)
        base_text_addf(&job,
                       "dowels pin%zu\n  first = square\n  second = square\n  lay one on square\n"
                       "    at_x = %g mm\n    at_y = %g mm\n",
                       i, at[i][0], at[i][1]);
    bench_open_with(&b, base_text_get(&job));
    ck_assert(dieset_measure(b.d, dieset_find_item(b.d, "square"), "turned_miss", DIESET_NEW, &miss));
    base_text_done(&job);
    bench_close(&b);
    return miss;
}

START_TEST(a_square_plate_also_turns_by_a_quarter)
{
    ck_assert_double_lt(pins_on("100 mm", 0.2), 0.2);
    ck_assert_double_lt(pins_on("101.9 mm", 0.2), 0.2);
    ck_assert_double_gt(pins_on("102.1 mm", 0.2), 10);
    ck_assert_double_gt(pins_on("100 mm", 0), 100); /* every hole meets another: the same as it should be */
}
END_TEST

START_TEST(measures_follow_an_edit_and_its_drop)
{
    struct bench b;
    bench_open(&b);
    near_to(bench_value(&b, "posts.all_turned_miss", DIESET_NEW), 4.5);
    near_to(bench_value(&b, "posts.farthest", DIESET_NEW), hypot(245, 130));
    near_to(bench_value(&b, "die_plate.pair_distance", DIESET_NEW), hypot(90, 110));
    near_to(bench_value(&b, "die_plate.holes_in", DIESET_NEW), 8);
    ck_ok(bench_try(&b, "posts", "lay/right_back/x", "usual - 14 mm", why));
    near_to(bench_value(&b, "posts.all_turned_miss", DIESET_NEW), 7);
    near_to(bench_value(&b, "lower_shoe.turned_miss", DIESET_NEW), 7);
    dieset_drop(b.d);
    near_to(bench_value(&b, "posts.all_turned_miss", DIESET_NEW), 4.5);
    near_to(bench_value(&b, "lower_shoe.turned_miss", DIESET_NEW), 4.5);
    bench_close(&b);
}
END_TEST

START_TEST(the_widest_span_is_between_neighbours)
{
    struct bench b;
    double span;
    bench_open(&b);
    int posts = dieset_find_item(b.d, "posts");
    ck_assert(dieset_measure(b.d, posts, "widest_span", DIESET_NEW, &span));
    near_to(span, 236); /* along the back, where one post is shifted by 9; 130 across */
    bench_set(&b, "posts", "lay/side", "10 mm");
    ck_assert(dieset_measure(b.d, posts, "widest_span", DIESET_NEW, &span));
    near_to(span, 236);
    bench_close(&b);
}
END_TEST

START_TEST(many_holes_are_searched_quickly)
{
    struct bench b;
    bench_open_with(&b, "dowels many\n  first = lower_shoe\n  second = lower_shoe\n  diameter = 0.5 mm\n  "
                        "lay rows on lower_shoe\n"
                        "    columns = 160\n    rows = 125\n    end = 2 mm\n    side = 2 mm\n");
    int plate = dieset_find_item(b.d, "lower_shoe");
    struct seen s = {.last_a = -1};
    dieset_pairs(b.d, plate, DIESET_NEW, 1.5, see, &s);
    ck_assert_int_gt(s.count, 0);
    near_to(bench_value(&b, "lower_shoe.pair_distance", DIESET_NEW), hypot(311, 196));
    bench_close(&b);
}
END_TEST

TCase *geometry_tests(void)
{
    TCase *t = tcase_create("geometry");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, walls_between_circles_and_rectangles);
    tcase_add_test(t, a_turned_rectangle_is_told_by_its_sides);
    tcase_add_test(t, shared_depth_is_what_both_have);
    tcase_add_loop_test(t, the_search_grid_finds_what_plain_looking_finds, 0, COUNT_OF(fields));
    tcase_add_test(t, a_plate_turned_round_misses_by_the_moved_hole);
    tcase_add_test(t, a_square_plate_also_turns_by_a_quarter);
    tcase_add_test(t, measures_follow_an_edit_and_its_drop);
    tcase_add_test(t, the_widest_span_is_between_neighbours);
    tcase_add_test(t, many_holes_are_searched_quickly);
    return t;
}
