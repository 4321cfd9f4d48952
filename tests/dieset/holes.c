/* Holes follow from the items that make them, through the plates they pass. */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <string.h>

/* The die screws come from below through the lower shoe (50) and the backing (10) into the die plate (30):
 * M10, head 12 deep, 48 clamped, 65 long, 17 in the thread, drilled 4 deeper. Diameters: ISO 273 medium, ISO
 * 2306, DIN 974-1. */
static const struct {
    const char *plate, *item, *operation;
    int count;
    double diameter, depth, low, high;
    bool through, from_top;
} holes[] = {
    {"lower_shoe", "die_screws", "counterbore", 6, 18, 12, 0, 12, false, false},
    {"lower_shoe", "die_screws", "clear", 6, 11, 50, 0, 50, true, true},
    {"die_backing", "die_screws", "clear", 6, 11, 10, 0, 10, true, true},
    {"die_plate", "die_screws", "tap", 6, 8.5, 21, 0, 21, false, false},
    {"upper_shoe", "punch_screws", "counterbore", 4, 15, 12, 28, 40, false, true},
    {"punch_plate", "punch_screws", "tap", 4, 6.8, 20, 0, 20, true, true}, /* 17 + 4 is more than the plate */
    {"punch_backing", "punch_screws", "clear", 4, 9, 10, 0, 10, true, true},
    {"stripper", "punch_screws", "clear", 0, 0, 0, 0, 0, false, false},
    {"lower_shoe", "posts", "bore", 4, 25, 50, 0, 50, true, true},
    {"upper_shoe", "bushings", "bore", 4, 40, 40, 0, 40, true, true},
    {"upper_shoe", "stripper_springs", "pocket", 4, 25, 20, 0, 20, false, false},
    {"die_plate", "die_dowels", "ream", 2, 8, 30, 0, 30, true, true},
    {"die_backing", "die_dowels", "ream", 2, 8, 10, 0, 10, true, true},
    {"lower_shoe", "die_dowels", "ream", 2, 8, 50, 0, 50, true, true},
};

START_TEST(each_plate_has_its_holes)
{
    struct bench b;
    struct dieset_hole h;
    bench_open(&b);
    ck_assert_int_eq(bench_count_holes(&b, holes[_i].plate, holes[_i].item, holes[_i].operation),
                     holes[_i].count);
    if (holes[_i].count) {
        ck_assert(bench_hole(&b, holes[_i].plate, holes[_i].item, holes[_i].operation, DIESET_NEW, &h));
        near_to(h.diameter, holes[_i].diameter);
        near_to(h.depth, holes[_i].depth);
        near_to(h.low, holes[_i].low);
        near_to(h.high, holes[_i].high);
        ck_assert_int_eq(h.through, holes[_i].through);
        ck_assert_int_eq(h.from_top, holes[_i].from_top);
        ck_assert(!h.broken);
    }
    bench_close(&b);
}
END_TEST

START_TEST(a_hole_knows_its_place_fit_and_thread)
{
    struct bench b;
    struct dieset_hole h;
    bench_open(&b);
    ck_assert(bench_hole(&b, "die_plate", "die_screws", "tap", DIESET_NEW, &h));
    near_to(h.x, -75);
    near_to(h.y, -55);
    near_to(h.edge, 25);
    near_to(h.nominal, 10);
    ck_assert_str_eq(h.thread, "M10");
    ck_assert_str_eq(h.fit, "");
    ck_assert_int_eq(h.letter, 's');
    ck_assert_int_eq(h.point, 0);
    ck_assert(bench_hole(&b, "upper_shoe", "punch_screws", "counterbore", DIESET_NEW, &h));
    ck_assert_int_eq(h.letter, 'S');
    ck_assert(bench_hole(&b, "die_plate", "die_dowels", "ream", DIESET_NEW, &h));
    ck_assert_str_eq(h.fit, "H7");
    bench_close(&b);
}
END_TEST

START_TEST(a_ground_plate_has_ground_holes)
{
    struct bench b;
    struct dieset_hole h;
    bench_open_with(&b, "screws deep\n  head_in = lower_shoe\n  thread_in = die_plate\n  through = yes\n  "
                        "lay one on die_plate\n");
    ck_assert(bench_hole(&b, "die_plate", "deep", "tap", DIESET_GROUND, &h));
    near_to(h.depth, 26);
    ck_assert(h.through);
    ck_assert(bench_hole(&b, "die_plate", "die_screws", "tap", DIESET_GROUND, &h));
    near_to(h.depth, 21);
    near_to(h.high, 21);
    ck_assert(!h.through);
    ck_assert(bench_hole(&b, "die_plate", "die_dowels", "ream", DIESET_GROUND, &h));
    near_to(h.depth, 26);
    bench_close(&b);
}
END_TEST

/* What is deeper than its plate ends at the far face, from above and from below; by how much it was too deep
   is told. 1 nm short of the plate is right through. */
static const struct { const char *item, *plate, *sunk; double depth, left; bool through; } cut_back[] = {
    {"punch_screws", "upper_shoe", "55 mm", 40, -15, true},
    {"punch_screws", "upper_shoe", "40 mm", 40, 0, true},
    {"punch_screws", "upper_shoe", "39.9999995 mm", 40, 5e-7, true},
    {"punch_screws", "upper_shoe", "39.99 mm", 39.99, 0.01, false},
    {"die_screws", "lower_shoe", "55 mm", 50, -5, true},
    {"die_screws", "lower_shoe", "49 mm", 49, 1, false},
};

START_TEST(a_depth_is_cut_back_to_the_plate)
{
    struct bench b;
    struct dieset_hole h;
    bench_open(&b);
    bench_set(&b, cut_back[_i].item, "sunk", cut_back[_i].sunk);
    ck_assert(bench_hole(&b, cut_back[_i].plate, cut_back[_i].item, "counterbore", DIESET_NEW, &h));
    near_to(h.depth, cut_back[_i].depth);
    near_to(h.high - h.low, cut_back[_i].depth);
    near_to(h.left_under, cut_back[_i].left);
    ck_assert_int_eq(h.through, cut_back[_i].through);
    bench_close(&b);
}
END_TEST

START_TEST(holes_of_a_plate_stand_together)
{
    struct bench b;
    bench_open(&b);
    int total = 0;
    for (int i = 0; i < dieset_item_count(b.d); i++) {
        int first, n = dieset_plate_holes(b.d, i, &first);
        for (int k = first; k < first + n; k++) {
            struct dieset_hole h;
            dieset_hole(b.d, k, DIESET_NEW, &h);
            ck_assert_int_eq(h.plate, i);
        }
        total += n;
    }
    ck_assert_int_eq(total, dieset_hole_count(b.d));
    ck_assert_int_eq(total, 4 * 6 + 4 * 4 + 3 * 2 + 4 + 4 + 4);
    bench_close(&b);
}
END_TEST

START_TEST(clamps_stand_round_a_turned_post)
{
    struct bench b;
    bench_open_with(&b, "posts flanged\n  seat_in = lower_shoe\n  clamps = 3\n  lay one on lower_shoe\n    "
                        "at_x = 20 mm\n    turn = 90 deg\n");
    int first, found = 0, n = dieset_plate_holes(b.d, dieset_find_item(b.d, "lower_shoe"), &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(b.d, i, DIESET_NEW, &h);
        if (strcmp(h.operation, "clamp_tap") != 0)
            continue;
        double angle = (90 + h.index * 120) * acos(-1) / 180;
        ck_assert_double_eq_tol(h.x, 20 + 24.5 * cos(angle), 1e-9);
        ck_assert_double_eq_tol(h.y, 24.5 * sin(angle), 1e-9);
        ck_assert_int_eq(h.index, found++);
    }
    ck_assert_int_eq(found, 3);
    bench_close(&b);
}
END_TEST

START_TEST(a_hole_with_an_unknown_field_is_broken_and_goes_through)
{
    struct bench b;
    struct dieset_hole h;
    bench_open_with(
        &b,
        "screws sc\n  head_in = lower_shoe\n  size = \"M7\"\n  sunk = 12 mm / 0\n  lay one on lower_shoe\n"
        "window w\n  in_plate = die_plate\n  along = 30 mm\n");
    ck_assert(bench_hole(&b, "lower_shoe", "sc", "counterbore", DIESET_NEW, &h));
    ck_assert(h.broken && h.through);
    near_to(h.diameter, 0);
    near_to(h.depth, 50);
    ck_assert(bench_hole(&b, "die_plate", "w", "opening", DIESET_NEW, &h));
    ck_assert(h.broken);
    ck_assert_int_eq(bench_count_holes(&b, "die_plate", "sc", "tap"), 0); /* its plate is not filled in */
    bench_close(&b);
}
END_TEST

START_TEST(a_window_is_a_rectangle_at_its_own_place)
{
    struct bench b;
    struct dieset_hole h;
    bench_open_with(&b, "window w\n  in_plate = die_plate\n  x = 48 mm\n  along = 26 mm\n  across = 44 mm\n  "
                        "corner = 5 mm\n");
    ck_assert(bench_hole(&b, "die_plate", "w", "opening", DIESET_NEW, &h));
    near_to(h.x, 48);
    near_to(h.length, 26);
    near_to(h.width, 44);
    near_to(h.corner, 5);
    near_to(h.diameter, hypot(26, 44));
    ck_assert_int_eq(h.point, -1);
    bench_close(&b);
}
END_TEST

TCase *hole_tests(void)
{
    TCase *t = tcase_create("holes");
    tcase_set_timeout(t, 30);
    tcase_add_loop_test(t, each_plate_has_its_holes, 0, COUNT_OF(holes));
    tcase_add_test(t, a_hole_knows_its_place_fit_and_thread);
    tcase_add_test(t, a_ground_plate_has_ground_holes);
    tcase_add_loop_test(t, a_depth_is_cut_back_to_the_plate, 0, COUNT_OF(cut_back));
    tcase_add_test(t, holes_of_a_plate_stand_together);
    tcase_add_test(t, clamps_stand_round_a_turned_post);
    tcase_add_test(t, a_hole_with_an_unknown_field_is_broken_and_goes_through);
    tcase_add_test(t, a_window_is_a_rectangle_at_its_own_place);
    return t;
}
