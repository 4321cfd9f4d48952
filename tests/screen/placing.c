/* tests/screen/placing.c - laying out on the plan, key by key: what is shown before it is taken, and what the
 * file holds afterwards
 *
 * The places are those of the demo job, worked out by hand: the die plate is 264 x 170 about the plan's zero,
 * its eight screws stand in two rows 38 from the sides, the outer ones 19 from the ends (so the left front
 * one at -113, -47) and the inner ones at thirds between them; its dowels stand 22 from the ends, 11 before
 * and 6 behind the centre line.
 */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];
static char *before; /* the job's text as it was */
static struct bed *b;

static void begin(void) { b = demo_screens(job, sizeof job, &before); }
static void finish(void) { free(before); }

static void holds(const char *line)
{
    const char *text = dumped(job);
    ck_assert_msg(strstr(text, line) != NULL, "the job does not hold \"%s\":\n%s", line, text);
}

static void shows(const char *words)
{
    bed_quiet(b, 40);
    bed_wait(b, words); /* the form follows when the plan's cursor rests */
}

/* The plan of PLATE, its cursor on GROUP. */
static void to_plan(const char *plate, const char *group)
{
    char keys[200];
    snprintf(keys, sizeof keys, ":go-to %s\r:go-to %s\r\t", plate, group);
    bed_type(b, keys);
    bed_wait(b, "Enter form");
    bed_quiet(b, 40);
}

/* Down the list that is open to LABEL, a line at a time. */
static void walk_to(const char *label)
{
    char here[80];
    snprintf(here, sizeof here, ">%s", label);
    bed_quiet(b, 60);
    for (int i = 0; i < 40 && !bed_shows(b, here); i++) {
        char *was = base_copy(bed_screen(b));
        bed_key(b, VTERM_KEY_DOWN);
        for (int k = 0; k < 300 && strcmp(was, bed_screen(b)) == 0; k++)
            bed_quiet(b, 10);
        bed_quiet(b, 20);
        free(was);
    }
    ck_assert_msg(bed_shows(b, here), "the list has no \"%s\":\n%s", label, bed_screen(b));
}

static void choose(const char *label)
{
    walk_to(label);
    bed_type(b, "\r");
}

/* What was taken is one step: taken back, the job reads as it did. */
static void one_step_back(void)
{
    bed_type(b, "u");
    bed_quiet(b, 60);
    bed_wait(b, "undone: ");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}

START_TEST(the_plans_cursor_walks_the_points_and_the_form_follows)
{
    to_plan("die_plate", "die_screws");
    shows("die screws, left front, 1 of 8   at -113.0 mm, -47.0 mm");
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, "die dowels, left, 1 of 2   at -110.0 mm, -11.0 mm");
    shows("dowels 2 of 2");
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, "die screws, left back, 5 of 8   at -113.0 mm, 47.0 mm");
    bed_key(b, VTERM_KEY_PAGEDOWN);
    bed_wait(b, "die screws, inner left back, 6 of 8   at -37.667 mm, 47.0 mm");
    bed_type(b, "+++");
    bed_wait(b, " 5 mm/col"); /* 12.5, 10, 8, 5 */
    int row, column;
    bed_quiet(b, 40);
    bed_cursor(b, &row, &column);
    ck_assert_int_eq((int)bed_cell(b, row, column).ch, 's');
    bed_type(b, "\r");
    bed_wait(b, "> head in");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(a_group_moves_as_one_while_its_outcome_is_shown_and_esc_leaves_all)
{
    to_plan("die_plate", "die_screws");
    bed_type(b, "p");
    bed_wait(b, "laying die screws, 2 of 2");
    shows("corners and two between on die plate");
    bed_key(b, VTERM_KEY_RIGHT);
    bed_type(b, "KK");
    bed_wait(b, "not yet taken");
    shows("along     -112.0   across     -37.0");
    shows("left        20.0   front       48.0");
    shows("from the ends                  20.0");
    /* tapping drill 6.8 of M8 (ISO 2306), dowel 10: sqrt(2 * 2 + 26 * 26) - 8.4 */
    shows("d 17.677");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* By how much a key moves is the job's, and through it the handbook's. */
START_TEST(steps_are_those_of_the_job)
{
    bed_type(b, ":set job.plan_step=2.5\r");
    bed_wait(b, "taken: job.plan_step");
    bed_type(b, ":set job.plan_stride=job.plan_step * 4\r");
    bed_wait(b, "taken: job.plan_stride");
    to_plan("die_plate", "die_screws");
    bed_type(b, "p");
    bed_wait(b, "laying die screws, 2 of 2");
    bed_key(b, VTERM_KEY_RIGHT);
    bed_type(b, "K");
    bed_wait(b, "not yet taken");
    shows("along     -110.5   across     -37.0");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":set job.plan_step=1 mm / 0\r");
    bed_wait(b, "taken: job.plan_step");
    bed_type(b, "p");
    bed_wait(b, "laying die screws, 2 of 2");
    bed_key(b, VTERM_KEY_RIGHT);
    bed_wait(b, "nothing moves");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    leave(b);
}
END_TEST

START_TEST(a_line_is_offered_taken_and_placed_with_exact_values_in_one_step)
{
    to_plan("die_plate", "die_dowels");
    bed_type(b, "p");
    bed_wait(b, "two near the ends on die plate");
    bed_type(b, "l");
    bed_wait(b, "lines up? column of s at -113.0");
    bed_type(b, "Kkk");
    bed_wait(b, "lines up? centre line at 0.0");
    bed_type(b, "\r");
    bed_wait(b, "on the column of s at -113.0");
    shows("on the centre line at 0.0");
    bed_type(b, "\r");
    bed_wait(b, "> from the ends");
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, "> left one, from the");
    bed_type(b, "-12");
    bed_wait(b, "across     -12.0");
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, "> from the ends");
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, "> left one, from the");
    bed_type(b, "-13"); /* come back to it is typed over */
    bed_wait(b, "across     -13.0");
    bed_type(b, "\r");
    bed_wait(b, "taken: ");
    holds("    left_across = -13 mm\n");
    one_step_back();
}
END_TEST

START_TEST(one_point_is_freed_measured_from_an_edge_given_a_reason_and_given_back)
{
    to_plan("die_plate", "die_screws");
    bed_type(b, "f");
    bed_wait(b, "left front, alone");
    bed_type(b, "lll");
    bed_wait(b, "off its place along             3.0");
    int row, column;
    bed_quiet(b, 40);
    bed_cursor(b, &row, &column);
    ck_assert_int_eq((int)bed_cell(b, row, column).ch, 's');
    bed_type(b, "e");
    bed_wait(b, "> off its place along  3 mm");
    bed_type(b, "\t");
    bed_wait(b, "> from the left edge   22 mm");
    bed_type(b, "\r");
    bed_wait(b, "stands off its group, because:");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "> from the left edge");
    shows("not yet taken");
    bed_type(b, "\rso that the plate goes on one way\r");
    bed_wait(b, "taken: ");
    holds("    point left_front\n      x = left + 22 mm\n        reason so that the plate goes on one way\n");
    bed_type(b, "f");
    bed_wait(b, "-> usual");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(flange_parts_turn_and_bushings_follow_their_posts)
{
    to_plan("upper_shoe", "bushings");
    bed_type(b, "t");
    bed_wait(b, "left front, alone, freed    150 deg"); /* the odd one turns by itself */
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_key(b, VTERM_KEY_PAGEDOWN);
    bed_wait(b, "bushings, right front, 2 of 4");
    bed_type(b, "t");
    bed_wait(b, "right front, with its group 150 deg"); /* from 60 */
    shows("bushings stand with posts: both move");
    bed_type(b, "f");
    bed_wait(b, "alone");
    bed_type(b, "e\r");
    bed_wait(b, "taken: ");
    holds("  lay corners on lower_shoe\n    end = 42 mm\n    side = 50 mm\n    turn = 150 deg\n");
    bed_type(b, "pfL");
    bed_wait(b, "off its place along             5.0");
    bed_type(b, "e\r\r");
    bed_wait(b, "taken: posts.right_front.x");
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    bed_type(b, "pp");
    choose("corners and two between");
    bed_wait(b, "corners and two between on lower");
    bed_type(b, "\t\t");
    bed_wait(b, "inner left back, with its group");
    bed_wait(b, "turned                      150 deg"); /* too long a name for both on one line */
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to die_screws\r\tt");
    bed_wait(b, "nothing of it lies beside its axes");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    one_step_back();
}
END_TEST

START_TEST(another_pattern_is_seen_before_it_is_chosen)
{
    to_plan("die_plate", "die_screws");
    bed_type(b, "pp");
    bed_wait(b, ">corners and two between");
    walk_to("rows");
    bed_wait(b, "rows on die plate");
    bed_wait(b, "not yet taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "corners and two between on die plate");
    bed_wait(b, "as it stands");
    bed_type(b, "p");
    choose("rows");
    bed_wait(b, "p1, with its group");
    bed_type(b, "e");
    bed_wait(b, "  columns              3");
    bed_key(b, VTERM_KEY_DOWN);
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, "> columns");
    bed_type(b, "4\r");
    bed_wait(b, "taken: die_screws laid rows on die_plate");
    holds("  lay rows on die_plate\n    columns = 4\n    end = 19 mm\n    side = 38 mm\n");
    one_step_back();
}
END_TEST

START_TEST(a_new_group_is_placed_at_once_and_is_one_step)
{
    to_plan("die_plate", "die_screws");
    bed_type(b, "a");
    bed_wait(b, "add on this plate");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    bed_type(b, "a");
    choose("screws");
    bed_wait(b, "screws: head in");
    bed_wait(b, ">lower shoe");
    bed_type(b, "\r");
    bed_wait(b, "screws: thread in");
    bed_wait(b, ">die plate");
    bed_type(b, "\r");
    bed_wait(b, ">four corners");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, "a");
    choose("screws");
    bed_type(b, "\r\r\r");
    bed_wait(b, "laying screws, 3 of 3");
    shows("left        35.0   front       20.0"); /* 264 / 8 and 170 / 8, in steps of 5 */
    bed_type(b, "Le\r");
    bed_wait(b, "taken: screws added, corners on die_plate");
    holds("screws screws\n  head_in = lower_shoe\n  thread_in = die_plate\n  lay corners on die_plate\n    "
          "end = 40 mm\n    side = 20 mm\n");
    one_step_back();
}
END_TEST

START_TEST(a_group_like_another_takes_its_sizes_along)
{
    to_plan("die_plate", "die_screws");
    bed_type(b, "a");
    choose("like die dowels");
    bed_wait(b, "laying die dowels 2");
    bed_wait(b, ">two near the ends");
    bed_type(b, "\r");
    bed_wait(b, "left, with its group");
    bed_type(b, "e\r");
    bed_wait(b, "taken: die_dowels_2 added");
    holds("dowels die_dowels_2\n  first = die_plate\n  second = lower_shoe\n  diameter = 10 mm\n  lay ends "
          "on die_plate\n");
    one_step_back();
}
END_TEST

START_TEST(new_bushings_stand_on_the_axes_of_their_posts)
{
    to_plan("upper_shoe", "punch_screws");
    bed_type(b, ":remove bushings\r");
    bed_wait(b, "taken: bushings taken out");
    bed_type(b, "a");
    choose("bushings");
    bed_wait(b, ">posts");
    bed_type(b, "\r");
    bed_wait(b, ">upper shoe");
    bed_type(b, "\r");
    bed_wait(b, ">with posts");
    bed_wait(b, "not yet taken");
    bed_type(b, "\r");
    bed_wait(b, "taken: bushings added, with posts");
    holds("bushings bushings\n  of = posts\n  seat_in = upper_shoe\n  lay with posts\n");
    bed_type(b, "u");
    bed_wait(b, "undone: bushings added");
    one_step_back();
}
END_TEST

/* A group that is there already can be laid anew on the points of what it names. */
START_TEST(bushings_that_stand_apart_are_laid_with_their_posts)
{
    to_plan("upper_shoe", "bushings");
    bed_type(b, ":lay bushings corners on upper_shoe\r");
    bed_wait(b, "taken: bushings laid corners");
    bed_type(b, "p");
    bed_wait(b, " with posts");
    bed_type(b, "with");
    bed_wait(b, ">with posts");
    bed_type(b, "\r");
    bed_wait(b, "taken: bushings laid with posts");
    bed_type(b, "u");
    bed_wait(b, "undone: bushings laid with");
}
END_TEST

/* p, f and t need no walk to the plan; < comes back from there. */
START_TEST(a_group_is_placed_from_the_stack_and_from_its_form)
{
    bed_type(b, ":go-to press\r");
    bed_wait(b, ":press");
    ck_assert(!bed_shows(b, "p place"));
    bed_type(b, "p");
    bed_wait(b, "press stands on no plan");
    bed_type(b, ":go-to die_screws\r");
    bed_wait(b, ":die screws");
    shows("p place");
    bed_type(b, "p");
    bed_wait(b, "die plate 264.0 x 170.0 from above");
    shows("left front, with its group");
    bed_type(b, "Le\r");
    bed_wait(b, "taken: die_screws.lay.end 19 mm -> 24 mm");
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    bed_type(b, "<");
    bed_wait(b, ":die screws");
    bed_type(b, ":go-to upper_shoe\r:go-to posts.lay.end\r"); /* another plate than theirs is shown */
    bed_wait(b, "> from the ends");
    bed_type(b, "t");
    bed_wait(b, "lower shoe 400.0 x 306.0 from above");
    /* the first post is freed: a measure of the group does not lead to it */
    bed_wait(b, "right front, with its group 150 deg");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to posts\rpL");
    bed_wait(b, "right front, with its group");
    bed_wait(b, "from the ends                  37.0");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to posts.left_front.y\rp");
    bed_wait(b, "left front, alone, freed");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to die_plate\rp");
    bed_wait(b, "the plan of die plate: arrows walk its points");
    bed_wait(b, "p place");
    bed_key(b, VTERM_KEY_LEFT);
    bed_wait(b, " of ");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* The pilot holes are a pair 50 apart about the centre line of 170: the front one stands 60 from the front
   edge. */
START_TEST(a_pair_is_measured_from_an_edge_together_with_its_group)
{
    bed_type(b, ":go-to die_plate\r:go-to pilot_holes\rpe");
    bed_wait(b, "> along");
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, "> across               0 mm");
    bed_type(b, "\t");
    bed_wait(b, "> from the front edge  60 mm");
    bed_type(b, "56");
    bed_wait(b, "front       56.0");
    bed_type(b, "\r");
    bed_wait(b, "taken: pilot_holes.lay.across");
    holds("    across = front + 56 mm + apart / 2\n");
    bed_type(b, ":set pilot_holes.lay.apart=64 mm\r");
    bed_wait(b, "taken: pilot_holes.lay.apart");
    bed_type(b, "p");
    bed_wait(b, "from the front edge            56.0");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    one_step_back();
}
END_TEST

/* A value of a freed point leads to that point: it is the one that is given back. */
START_TEST(the_point_of_the_forms_value_is_the_one_that_is_taken_hold_of)
{
    to_plan("die_plate", "die_screws");
    bed_key(b, VTERM_KEY_PAGEDOWN);
    bed_wait(b, "die screws, inner left front, 2 of 8");
    bed_type(b, "fl");
    bed_wait(b, "off its place along             1.0");
    bed_type(b, "e\r\r");
    bed_wait(b, "taken: die_screws.inner_left_front.x");
    bed_key(b, VTERM_KEY_PAGEUP);
    bed_wait(b, "die screws, left front, 1 of 8");
    bed_type(b, ":go-to die_screws.inner_left_front.x\rp");
    bed_wait(b, "inner left front, alone, freed");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to die_screws.inner_left_front.x\rf");
    bed_wait(b, "-> usual");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

static const struct { int rows, columns; const char *locale, *line;
} sizes[] = {
    {24, 80, "C.UTF-8", "\xe2\x94\x82"},
    {24, 80, "C", "|"},
    {30, 100, "C.UTF-8", "\xe2\x94\x82"},
    {60, 200, "C", "|"},
};

START_TEST(a_new_size_while_placing_loses_nothing)
{
    const char *argv[] = {program(), job, NULL};
    struct bed *own = bed_open(&(struct bed_start){
        .argv = argv, .rows = sizes[_i].rows, .columns = sizes[_i].columns, .locale = sizes[_i].locale});
    bed_wait(own, "? help");
    bed_type(own, ":go-to die_plate\r:go-to die_dowels\r\tpHJ");
    bed_wait(own, "along     -115.0   across     -16.0");
    ck_assert(bed_shows(own, sizes[_i].line));
    bed_resize(own, 12, 60);
    bed_wait(own, "needs 60x16");
    bed_resize(own, 40, 132);
    bed_wait(own, "along     -115.0   across     -16.0");
    bed_type(own, "e");
    bed_wait(own, "> from the ends        17 mm");
    bed_resize(own, 24, 80);
    bed_wait(own, "> from the ends        17 mm");
    bed_key(own, VTERM_KEY_ESCAPE);
    bed_wait(own, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    leave(own);
    leave(b);
}
END_TEST

START_TEST(who_only_looks_places_nothing)
{
    struct bed *looker = screens(job, 24, 80, NULL, "--look");
    bed_type(looker, "\t\tp");
    bed_wait(looker, "looking only");
    bed_type(looker, "a");
    bed_wait(looker, "looking only");
    leave(looker);
    leave(b);
    ck_assert_str_eq(dumped(job), before);
}
END_TEST

START_TEST(a_place_that_came_second_is_not_taken_over_the_first)
{
    char command[900];
    int status;
    to_plan("die_plate", "die_screws");
    bed_type(b, "pL");
    bed_wait(b, "not yet taken");
    snprintf(command, sizeof command, "ASAN_OPTIONS=detect_leaks=0 %s set %s die_screws.lay.end=22 2>&1",
             program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    bed_type(b, "e");
    bed_wait(b, "> from the ends        24 mm");
    bed_type(b, "\r");
    bed_wait(b, "not taken");
    holds("    end = 22 mm\n");
    bed_wait(b, "> from the ends        24 mm");
    bed_type(b, "\r"); /* knowing that, over theirs */
    bed_wait(b, "taken: die_screws.lay.end 22 mm -> 24 mm");
    holds("    end = 24 mm\n");
    leave(b);
}
END_TEST

/* The letters' cells and the digits that differ; more only where a finding comes or goes. */
START_TEST(moving_sends_few_bytes)
{
    enum { MOVES = 8, EACH = 300 };
    char place[40];
    to_plan("die_plate", "die_dowels");
    bed_type(b, "pl");
    bed_wait(b, "along     -109.0");
    bed_quiet(b, 80);
    for (int i = 1; i <= MOVES; i++) { /* one at a time: keys that wait are drawn together */
        snprintf(place, sizeof place, "along%9d.0", -109 + i);
        bed_type(b, "l");
        bed_wait(b, place);
    }
    long bytes = bed_quiet(b, 80);
    ck_assert_msg(bytes > 0 && bytes <= MOVES * EACH, "%d moves sent %ld bytes", MOVES, bytes);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    leave(b);
}
END_TEST

void add_placing(Suite *s)
{
    TCase *c = tcase_create("placing");
    tcase_set_timeout(c, 120);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, the_plans_cursor_walks_the_points_and_the_form_follows);
    tcase_add_test(c, a_group_moves_as_one_while_its_outcome_is_shown_and_esc_leaves_all);
    tcase_add_test(c, steps_are_those_of_the_job);
    tcase_add_test(c, a_line_is_offered_taken_and_placed_with_exact_values_in_one_step);
    tcase_add_test(c, one_point_is_freed_measured_from_an_edge_given_a_reason_and_given_back);
    tcase_add_test(c, flange_parts_turn_and_bushings_follow_their_posts);
    tcase_add_test(c, another_pattern_is_seen_before_it_is_chosen);
    tcase_add_test(c, a_new_group_is_placed_at_once_and_is_one_step);
    tcase_add_test(c, a_group_like_another_takes_its_sizes_along);
    tcase_add_test(c, new_bushings_stand_on_the_axes_of_their_posts);
    tcase_add_test(c, bushings_that_stand_apart_are_laid_with_their_posts);
    tcase_add_test(c, a_group_is_placed_from_the_stack_and_from_its_form);
    tcase_add_test(c, a_pair_is_measured_from_an_edge_together_with_its_group);
    tcase_add_test(c, the_point_of_the_forms_value_is_the_one_that_is_taken_hold_of);
    tcase_add_loop_test(c, a_new_size_while_placing_loses_nothing, 0, (int)COUNT_OF(sizes));
    tcase_add_test(c, who_only_looks_places_nothing);
    tcase_add_test(c, a_place_that_came_second_is_not_taken_over_the_first);
    tcase_add_test(c, moving_sends_few_bytes);
    suite_add_tcase(s, c);
}
