/* place: groups and points laid out by words, as on the plan of the screens; where they stand is worked out
   by hand from the demo job's die plate of 264 x 170 about its middle. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* Where POINT of GROUP stands, along and across. */
static void stands(const char *group, const char *point, double along, double across)
{
    char *line = base_format("d place cp %s --format csv", group);
    struct said s = bench_want(&bench, line, 0);
    char *x = rows_find(s.out, point, NULL, 1), *y = rows_find(s.out, point, NULL, 2);
    ck_assert_msg(x && y, "%s has no point %s:\n%s", group, point, s.out);
    ck_assert_msg(fabs(strtod(x, NULL) - along) < 1e-6 && fabs(strtod(y, NULL) - across) < 1e-6,
                  "%s.%s stands at %s, %s instead of %g, %g", group, point, x, y, along, across);
    free(x);
    free(y);
    free(line);
    said_done(&s);
}

START_TEST(a_group_is_told_point_by_point_and_a_point_from_every_edge)
{
    stands("die_screws", "left_front", -113, -47);
    static const struct { const char *name; double mm; } from[] = {
        {"left", 19}, {"right", 245}, {"front", 38}, {"back", 132}, {"middle_x", -113}, {"y", -47},
    };
    struct said s = bench_want(&bench, "d place cp die_screws.left_front --format csv", 0);
    for (size_t i = 0; i < COUNT_OF(from); i++) {
        char *mm = rows_find(s.out, from[i].name, NULL, 2);
        ck_assert_msg(mm && fabs(strtod(mm, NULL) - from[i].mm) < 1e-6, "%s: %s", from[i].name, mm);
        free(mm);
    }
    said_done(&s);
    s = bench_want(&bench, "d place cp die_screws.left_front", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "wall to die dowels: 27.725 mm")); /* hypot(3, 36) - 3.4 - 5 */
    said_done(&s);
    bench_do(&bench, "d place cp die_screws --format json", 0);
}
END_TEST

/* 45 from the left edge is -87, 30 from the front -55. */
START_TEST(a_freed_point_is_measured_from_edges_and_given_back)
{
    bench_do(&bench,
             "d place cp die_screws.left_front left=45mm front=30 --free --reason 'a chute lies there'", 0);
    stands("die_screws", "left_front", -87, -55);
    struct said s = bench_want(&bench, "d dump cp", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "left + 45mm"));
    ck_assert_ptr_nonnull(strstr(s.out, "a chute lies there"));
    said_done(&s);
    bench_do(&bench, "d place cp die_screws.left_front right=40", 0); /* it is its own already */
    stands("die_screws", "left_front", 92, -55);
    bench_do(&bench, "d place cp die_screws.left_front --group", 0);
    stands("die_screws", "left_front", -113, -47);
    bench_do(&bench, "d undo cp", 0);
    stands("die_screws", "left_front", 92, -55);
}
END_TEST

/* Four corners 25 from the ends and 30 from the sides; the middle of a corner's edge is measured as well. */
START_TEST(a_group_is_laid_out_in_another_pattern_and_moved_with_it)
{
    bench_do(&bench, "d place cp die_screws --pattern corners end=25 side=30mm", 0);
    stands("die_screws", "left_front", -107, -55);
    stands("die_screws", "right_back", 107, 55);
    bench_do(&bench, "d place cp die_screws.right_back right=20", 0);
    stands("die_screws", "left_front", -112, -55);
    bench_do(&bench, "d place cp die_screws.right_back middle_x=100", 0);
    stands("die_screws", "left_front", -100, -55);
    bench_do(&bench, "d place cp die_screws end=", 0); /* as usual: it is to be filled in again */
}
END_TEST

START_TEST(a_group_is_added_with_its_pattern)
{
    bench_do(&bench, "d place cp more --add dowels --pattern corners --on die_plate end=50 side=60", 0);
    stands("more", "left_front", -82, -25);
    struct said s = bench_want(&bench, "d history cp --format csv", 0);
    ck_assert_int_eq(rows_count(s.out), 2); /* begun, and one edit, which undo takes back whole */
    said_done(&s);
    bench_do(&bench, "d undo cp", 0);
    s = bench_want(&bench, "d place cp more", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "no group \"more\""));
    said_done(&s);
}
END_TEST

START_TEST(what_is_not_round_is_turned_by_a_quarter)
{
    struct said s = bench_want(&bench, "d place cp die_screws --turn", 2); /* round, and on their axes */
    ck_assert_ptr_nonnull(strstr(s.err, "a turn would change nothing"));
    said_done(&s);
    bench_do(&bench, "d place cp blank --turn", 0);
    s = bench_want(&bench, "d dump cp", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "turn = 90 deg"));
    said_done(&s);
}
END_TEST

START_TEST(a_try_is_told_and_keeps_nothing)
{
    struct said s =
        bench_want(&bench, "d place cp die_screws.left_front left=45 --free --try --format csv", 0);
    char *is = rows_find(s.out, "die_screws.left_front.x", NULL, 3);
    ck_assert_msg(is && strtod(is, NULL) == -87, "%s", s.out);
    free(is);
    said_done(&s);
    stands("die_screws", "left_front", -113, -47);
    s = bench_want(&bench, "d history cp --format csv", 0);
    ck_assert_int_eq(rows_count(s.out), 1); /* begun */
    said_done(&s);
}
END_TEST

START_TEST(what_stands_so_already_is_not_taken)
{
    struct said s = bench_want(&bench, "d place cp die_screws.left_front left=19 front=38 --free", 0);
    said_done(&s);
    s = bench_want(&bench, "d place cp die_screws.left_front left=19 front=38", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "nothing is taken"));
    said_done(&s);
}
END_TEST

static const struct { const char *line, *says; } refused[] = {
    {"d place cp die_screw", "near it: die_screws"},
    {"d place cp die_plate", "stands at no points"},
    {"d place cp die_screws.middle left=20", "has no point \"middle\". Its points: left_front"},
    {"d place cp die_screws left", "write NAME=LENGTH, such as left=45mm"},
    {"d place cp die_screws left=20 left=30", "given twice"},
    {"d place cp die_screws.left_front left=20 right=30 --free", "left and right say the same of one place"},
    {"d place cp die_screws.left_front top=20 --free", "\"top\" is no measure of die_screws"},
    {"d place cp die_screws.left_front left=20kN --free", "left"},
    {"d place cp die_screws --pattern circle", "There is no pattern \"circle\": it is "},
    {"d place cp die_screws --pattern corners --on posts", "has no plate \"posts\"; its plates:"},
    {"d place cp more --add dowels --pattern corners", "On which plate? Name it: --on PLATE."},
    {"d place cp more --add plate --on die_plate", "No kind \"plate\" is laid out at points"},
    {"d place cp die_screws --add screws --on die_plate", "die_screws"},
    {"d place cp die_screws --free", "Which point?"},
    {"d place cp die_screws.left_front --free --group", "one of them"},
};

START_TEST(what_cannot_be_placed_is_refused_and_changes_nothing)
{
    struct said before = bench_want(&bench, "d dump cp", 0);
    struct said s = bench_want(&bench, refused[_i].line, 2);
    ck_assert_msg(strstr(s.err, refused[_i].says), "%s: %s", refused[_i].line, s.err);
    struct said after = bench_want(&bench, "d dump cp", 0);
    ck_assert_str_eq(before.out, after.out);
    said_done(&s);
    said_done(&before);
    said_done(&after);
}
END_TEST

TCase *place_tests(void)
{
    TCase *c = tcase_create("place");
    tcase_add_checked_fixture(c, open_job, NULL);
    tcase_set_timeout(c, 120);
    tcase_add_test(c, a_group_is_told_point_by_point_and_a_point_from_every_edge);
    tcase_add_test(c, a_freed_point_is_measured_from_edges_and_given_back);
    tcase_add_test(c, a_group_is_laid_out_in_another_pattern_and_moved_with_it);
    tcase_add_test(c, a_group_is_added_with_its_pattern);
    tcase_add_test(c, what_is_not_round_is_turned_by_a_quarter);
    tcase_add_test(c, a_try_is_told_and_keeps_nothing);
    tcase_add_test(c, what_stands_so_already_is_not_taken);
    tcase_add_loop_test(c, what_cannot_be_placed_is_refused_and_changes_nothing, 0, (int)COUNT_OF(refused));
    return c;
}
