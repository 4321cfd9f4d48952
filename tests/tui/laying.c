/* tests/tui/laying.c - a group being laid out, without a screen: which measure moves a point, and what is
   then typed */

#include "parts.h"

#include "tui/laying/near.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static struct handbook *handbook;
static struct tui t;
static struct laying l;

static void open_handbook(void)
{
    ck_ok(job_open_handbook("data", &handbook, why));
}

static void close_handbook(void)
{
    handbook_free(handbook);
}

/* The demo job, metric (0) or in inches (1). */
static void begin(int inch)
{
    char *text = read_text(inch ? "data/demo/spacer-plate.txt" : "data/demo/cover-plate.txt");
    t = (struct tui){.cell_ratio = 2};
    l = (struct laying){0};
    ck_ok(job_from_text(handbook, text, "demo", &t.job, why));
    t.d = job_dieset(t.job);
    free(text);
}

static void end(void)
{
    laying_done(&l);
    job_close(t.job);
}

static void lay(const char *pattern)
{
    snprintf(l.item, sizeof l.item, "die_screws");
    ck_assert_msg(laying_pattern(&t, &l, pattern, "die_plate"), "%s: %s", pattern, l.why.message);
}

/* ---- every pattern of the handbook ---- */

/* Whatever the pattern and the point: after a move by hand the point stands exactly there, and what is typed
   is few. */
static void moves_as_asked(const char *pattern, const char *point)
{
    struct dieset_point was, is;
    double by[2] = {7.25, -3.5};
    l.alone = false;
    laying_grab(&t, &l, point);
    ck_assert(laying_point(&t, &l, &was, NULL));
    double x = was.x, y = was.y;
    for (int a = 0; a < 2; a++)
        by[a] = laying_move(&t, &l, a, by[a]) ? by[a] : 0;
    ck_assert_msg(laying_try(&t, &l), "%s, %s: %s", pattern, point, l.why.message);
    ck_assert(laying_point(&t, &l, &is, NULL));
    ck_assert_msg(fabs(is.x - x - by[0]) < 1e-5 && fabs(is.y - y - by[1]) < 1e-5,
                  "%s, %s: moved by %g, %g instead of %g, %g", pattern, point, is.x - x, is.y - y, by[0],
                  by[1]);
    for (int a = 0; a < 2; a++)
        laying_move(&t, &l, a, -by[a]);
    ck_assert(laying_try(&t, &l) && laying_point(&t, &l, &is, NULL));
    ck_assert(fabs(is.x - x) < 1e-5 && fabs(is.y - y) < 1e-5);
}

START_TEST(a_point_of_any_pattern_goes_where_it_is_moved)
{
    for (int i = 0; i < handbook_pattern_count(handbook); i++) {
        const char *pattern = handbook_pattern(handbook, i)->name;
        char points[200][48];
        begin(_i);
        lay(pattern);
        int n = dieset_point_count(t.d, laying_item(&t, &l));
        ck_assert_int_gt(n, 0);
        for (int p = 0; p < n && p < 200; p++) {
            struct dieset_point at;
            dieset_point(t.d, laying_item(&t, &l), p, &at);
            ck_assert_msg(!at.broken, "%s: a point stands nowhere", pattern);
            snprintf(points[p], sizeof points[p], "%s", at.name);
        }
        for (int p = 0; p < n && p < 200; p += p == 1 && n > 3 ? n - 2 : 1) /* the first two and the last */
            moves_as_asked(pattern, points[p]);
        end();
    }
}
END_TEST

/* Which measure moves which point, along and across; "" the pattern holds it, "alone" none of it moves with
   its group. */
static const struct { const char *pattern, *point, *along, *across;
} handles[] = {
    {"corners", "left_front", "end", "side"},
    {"corners", "right_back", "end", "side"},
    {"six", "middle_back", "", "side"},
    {"ends", "left", "end", "left_across"},
    {"ends", "right", "end", "right_across"},
    {"fours", "left_inner_back", "inner", "side"},
    {"fours", "right_outer_back", "outer", "side"},
    {"ring", "p1", "along_shift", "across_shift"},
    {"ring", "p2", "along_shift", "across_shift"},
    {"one", "middle", "along", "across"},
    {"pair", "back", "along", "across"},
    {"places", "p1", "along", "across"},
    {"rows", "p1", "end", "side"},
    {"rows", "p2", "", "side"},
    {"loose", "p1", "alone", "alone"},
};

START_TEST(the_measure_that_moves_a_point_is_found_by_trying)
{
    const char *wanted[] = {handles[_i].along, handles[_i].across};
    begin(0);
    lay(handles[_i].pattern);
    laying_grab(&t, &l, handles[_i].point);
    for (int a = 0; a < 2; a++) {
        int take = l.ways[a].take;
        const char *got = l.alone ? "alone" : !l.ways[a].moves ? "" : laying_has(&t, &l)->takes[take].name;
        ck_assert_str_eq(got, wanted[a]);
    }
    end();
}
END_TEST

/* ---- what is typed ---- */

/* What a place of the four corners is typed as when it is measured so. NULL: nothing, as its group. With its
 * group the measure is counted from the corner's own edge, whatever the place is measured from. */
static const struct {
    const char *point;
    bool alone;
    int axis;
    enum from from;
    const char *measured, *typed;
} texts[] = {
    {"left_front", false, 0, FROM_OWN, "25", "25 mm"},
    {"left_front", false, 0, FROM_OWN, "posts.diameter + 5 mm", "posts.diameter + 5 mm"},
    {"left_front", false, 0, FROM_CENTRE, "-100", "middle_x - 100 mm - left"},
    {"right_back", false, 0, FROM_CENTRE, "100", "right - (middle_x + 100 mm)"},
    {"right_back", false, 1, FROM_LOW, "150", "back - (front + 150 mm)"},
    {"left_front", true, 0, FROM_OWN, "3 mm", "usual + 3 mm"},
    {"left_front", true, 1, FROM_OWN, "-3", "usual - 3 mm"},
    {"left_front", true, 1, FROM_OWN, "0 mm", NULL},
    {"left_front", true, 0, FROM_LOW, "45", "left + 45 mm"},
    {"left_front", true, 0, FROM_HIGH, "45 mm", "right - 45 mm"},
    {"left_front", true, 0, FROM_HIGH, "-5 mm", "right + 5 mm"},
    {"left_front", true, 1, FROM_LOW, "1/2 in", "front + 1/2 in"},
    {"left_front", true, 1, FROM_HIGH, "posts.diameter + 5 mm", "back - (posts.diameter + 5 mm)"},
    {"left_front", true, 1, FROM_CENTRE, "-8 mm", "middle_y - 8 mm"},
    {"left_front", true, 0, FROM_CENTRE, "0", "middle_x"},
    {"left_front", true, 0, FROM_ORIGIN, "-8", "-8 mm"},
};

START_TEST(a_place_is_typed_as_it_is_measured)
{
    begin(0);
    lay("corners");
    l.alone = texts[_i].alone;
    laying_grab(&t, &l, texts[_i].point);
    ck_assert(laying_may(&l, texts[_i].axis, texts[_i].from));
    char *text = laying_text(&t, texts[_i].axis, &l, texts[_i].from, texts[_i].measured);
    if (texts[_i].typed)
        ck_assert_str_eq(text, texts[_i].typed);
    else
        ck_assert_ptr_null(text);
    free(text);
    end();
}
END_TEST

/* Whatever edge it is measured from, with its group or alone: typed so, the point stands where it was moved
 * to, and who comes back finds it measured from there. */
static const struct { const char *pattern, *point; bool alone;
} edged[] = {
    {"corners", "left_front", false},
    {"corners", "right_back", false},
    {"corners", "right_back", true},
    {"ends", "right", false},
    {"one", "middle", false},
    {"pair", "back", false},
    {"pair", "front", false},
    {"ring", "p1", false},
    {"ring", "p2", false},
    {"places", "p1", false},
    {"six", "middle_back", true},
    {"fours", "left_inner_back", false},
};

static void typed_from(int axis, enum from from)
{
    struct dieset_point at;
    laying_grab(&t, &l, "");
    l.ways[axis].from = from;
    ck_assert(laying_move(&t, &l, axis, 2.5));
    double wanted = l.ways[axis].at;
    ck_assert_msg(laying_try(&t, &l), "%s", l.why.message);
    ck_assert(laying_point(&t, &l, &at, NULL));
    ck_assert_msg(fabs((axis ? at.y : at.x) - wanted) < 1e-5, "axis %d from %d: %g instead of %g", axis, from,
                  axis ? at.y : at.x, wanted);
    laying_grab(&t, &l, "");
    ck_assert_int_eq(l.ways[axis].from, from);
}

START_TEST(a_place_measured_from_any_edge_stands_there_and_is_known_again)
{
    begin(0);
    lay(edged[_i].pattern);
    snprintf(l.point, sizeof l.point, "%s", edged[_i].point);
    l.alone = edged[_i].alone;
    laying_grab(&t, &l, "");
    for (int axis = 0; axis < 2; axis++)
        for (int from = FROM_OWN; from < FROMS; from++)
            if (laying_may(&l, axis, (enum from)from))
                typed_from(axis, (enum from)from);
    end();
}
END_TEST

/* With its group, where the pattern adds more than the measure: that is taken off, by name, so that it may
 * change. "columns" and "rows" are typed first where they are not 0. */
static const struct {
    const char *pattern, *point;
    int rows, axis;
    enum from from;
    const char *measured, *typed;
} grouped[] = {
    {"pair", "back", 0, 1, FROM_HIGH, "30", "back - 30 mm - apart / 2"},
    {"pair", "front", 0, 1, FROM_LOW, "20 mm", "front + 20 mm + apart / 2"},
    {"pair", "front", 0, 1, FROM_HIGH, "100", "back - 100 mm + apart / 2"},
    {"pair", "back", 0, 1, FROM_CENTRE, "posts.diameter", "middle_y + (posts.diameter) - apart / 2"},
    {"pair", "back", 0, 0, FROM_LOW, "45", "left + 45 mm"},
    {"ring", "p1", 0, 0, FROM_HIGH, "50",
     "right - 50 mm - middle_x - across / 2 * cos(first + 0 * 360 deg / many)"},
    {"ring", "p2", 0, 1, FROM_LOW, "50",
     "front + 50 mm - middle_y - across / 2 * sin(first + 1 * 360 deg / many)"},
    {"places", "p1", 0, 1, FROM_LOW, "40", "front + 40 mm"},
    {"places", "p3", 3, 1, FROM_LOW, "40", "front + 40 mm - apart * (whole(2 / columns) - (rows - 1) / 2)"},
    {"fours", "left_inner_back", 0, 0, FROM_LOW, "70", "middle_x - (left + 70 mm)"},
};

START_TEST(a_group_measured_from_an_edge_lets_its_other_measures_change)
{
    struct dieset_point before, after;
    int axis = grouped[_i].axis;
    begin(0);
    lay(grouped[_i].pattern);
    if (grouped[_i].rows) {
        laying_put(&l, "lay/rows", "3");
        laying_put(&l, "lay/apart", "24 mm");
        ck_assert(laying_try(&t, &l));
    }
    laying_grab(&t, &l, grouped[_i].point);
    ck_assert_msg(laying_may(&l, axis, grouped[_i].from), "it may not be measured from there");
    char *text = laying_text(&t, axis, &l, grouped[_i].from, grouped[_i].measured),
         *entry = laying_entry(&t, &l, axis);
    ck_assert_str_eq(text, grouped[_i].typed);
    laying_put(&l, entry, text);
    ck_assert_msg(laying_try(&t, &l), "%s", l.why.message);
    ck_assert(laying_point(&t, &l, &before, NULL));
    /* the other measure that the pattern adds */
    static const char *const others[] = {"lay/apart", "lay/across"};
    bool ring = strcmp(grouped[_i].pattern, "ring") == 0;
    if (strstr(text, "apart") || ring) {
        laying_put(&l, others[ring], "36 mm");
        ck_assert_msg(laying_try(&t, &l), "%s", l.why.message);
        ck_assert(laying_point(&t, &l, &after, NULL));
        ck_assert(fabs(axis ? after.y - before.y : after.x - before.x) < 1e-9);
    }
    free(text);
    free(entry);
    end();
}
END_TEST

/* By hand: the left front screw stands 19 from the left and 38 from the front edge of 264 x 170. */
static const struct { enum from from; double along, across;
} measured[] = {
    {FROM_OWN, 0, 0},         {FROM_LOW, 19, 38},       {FROM_HIGH, 245, 132},
    {FROM_CENTRE, -113, -47}, {FROM_ORIGIN, -113, -47},
};

START_TEST(a_place_is_measured_from_every_edge)
{
    begin(0);
    snprintf(l.item, sizeof l.item, "die_screws");
    l.alone = true;
    laying_grab(&t, &l, "left_front");
    ck_assert(fabs(laying_measured(&t, &l, 0, measured[_i].from) - measured[_i].along) < 1e-9);
    ck_assert(fabs(laying_measured(&t, &l, 1, measured[_i].from) - measured[_i].across) < 1e-9);
    end();
}
END_TEST

START_TEST(a_freed_place_keeps_the_edge_that_it_is_measured_from)
{
    begin(0);
    ck_ok(job_set(t.job, "die_screws.left_back.y", "back - 30 mm", why));
    ck_ok(job_take(t.job, why));
    snprintf(l.item, sizeof l.item, "die_screws");
    laying_grab(&t, &l, "left_back");
    ck_assert(l.alone);
    ck_assert_int_eq(l.ways[1].from, FROM_HIGH);
    ck_assert(laying_move(&t, &l, 1, -2));
    ck_assert_str_eq(laying_typed(&l, "lay/left_back/y"), "back - 32 mm");
    ck_assert(laying_move(&t, &l, 1, 2));
    ck_assert_ptr_null(laying_typed(&l, "lay/left_back/y"));
    laying_give_back(&t, &l);
    ck_assert(laying_try(&t, &l));
    struct dieset_point at;
    ck_assert(laying_point(&t, &l, &at, NULL));
    ck_assert(!at.freed && fabs(at.y - 47) < 1e-9);
    end();
}
END_TEST

START_TEST(four_quarter_turns_are_none)
{
    /* a quarter turn stands in the job */
    static const char *const turns[] = {"180 deg", "270 deg", NULL, "90 deg"};
    begin(0);
    ck_ok(job_set(t.job, "posts.lay.turn", "90 deg", why));
    ck_ok(job_take(t.job, why));
    snprintf(l.item, sizeof l.item, "posts");
    laying_grab(&t, &l, "right_front");
    for (int i = 0; i < 4; i++) {
        laying_turn(&t, &l);
        const char *text = laying_typed(&l, "lay/turn");
        ck_assert(turns[i] ? text && strcmp(text, turns[i]) == 0 : !text);
        ck_assert(laying_try(&t, &l));
    }
    ck_assert(!job_trying(t.job));
    end();
}
END_TEST

/* ---- what stands about it ---- */

static double wall_to(const struct near_all *near, char letter)
{
    for (int i = 0; i < near->n_walls; i++)
        if (near->walls[i].letter == letter)
            return near->walls[i].wall;
    return NAN;
}

/* By hand: left front screw of M8 at -113, -47, tapping drill 6.8 (ISO 2306); left dowel of 10 at -110, -11;
 * the notches 56 apart, so their front row at -28, openings on the centre line. A picture of 8 mm a column
 * reaches 4 along and 8 across. */
START_TEST(lines_and_walls_are_those_of_the_neighbours)
{
    struct near_all near;
    begin(0);
    int plate = dieset_find_item(t.d, "die_plate");
    snprintf(l.item, sizeof l.item, "die_screws");
    laying_grab(&t, &l, "left_front");
    near_find(&t, &l, plate, 8, &near);
    /* it has not moved yet */
    ck_assert(!near.hint[0].there && !near.hint[1].there && !near.on[0].there && !near.on[1].there);
    ck_assert(fabs(wall_to(&near, 'd') - (hypot(3, 36) - 3.4 - 5)) < 1e-9);
    ck_assert(laying_move(&t, &l, 0, 3) && laying_try(&t, &l)); /* above the dowel */
    near_find(&t, &l, plate, 8, &near);
    ck_assert(near.on[0].there && fabs(near.on[0].at + 110) < 1e-9 && near.on[0].letter == 'd');
    ck_assert(fabs(wall_to(&near, 'd') - (36 - 3.4 - 5)) < 1e-9);
    /* -106.5, -33 */
    ck_assert(laying_move(&t, &l, 0, 3.5) && laying_move(&t, &l, 1, 14) && laying_try(&t, &l));
    near_find(&t, &l, plate, 8, &near);
    ck_assert(near.hint[0].there && fabs(near.hint[0].at + 110) < 1e-9);
    ck_assert(near.hint[1].there && fabs(near.hint[1].at + 28) < 1e-9);
    ck_assert(fabs(wall_to(&near, 'd') - (hypot(3.5, 22) - 8.4)) < 1e-9);
    near_find(&t, &l, plate, 4, &near); /* the same place at a larger scale */
    ck_assert(!near.hint[0].there && !near.hint[1].there);
    /* on the centre line */
    ck_assert(laying_move(&t, &l, 0, 0.5) && laying_move(&t, &l, 1, 33) && laying_try(&t, &l));
    near_find(&t, &l, plate, 8, &near);
    ck_assert(near.on[1].there && near.on[1].letter == 0 && fabs(near.on[1].at) < 1e-9);
    for (int i = 1; i < near.n_walls; i++)
        ck_assert(near.walls[i - 1].wall <= near.walls[i].wall);
    end();
}
END_TEST

/* A point alone lines up with its own group too. */
START_TEST(a_point_alone_sees_the_rest_of_its_group)
{
    struct near_all near;
    begin(0);
    snprintf(l.item, sizeof l.item, "die_screws");
    l.alone = true;
    laying_grab(&t, &l, "left_front");
    near_find(&t, &l, dieset_find_item(t.d, "die_plate"), 8, &near);
    ck_assert(near.on[1].there && near.on[1].letter == 's' && fabs(near.on[1].at + 47) < 1e-9);
    end();
}
END_TEST

void add_laying(Suite *s)
{
    TCase *c = tcase_create("laying");
    tcase_add_unchecked_fixture(c, open_handbook, close_handbook);
    tcase_set_timeout(c, 60);
    tcase_add_loop_test(c, a_point_of_any_pattern_goes_where_it_is_moved, 0, 2);
    tcase_add_loop_test(c, the_measure_that_moves_a_point_is_found_by_trying, 0, (int)COUNT_OF(handles));
    tcase_add_loop_test(c, a_place_is_typed_as_it_is_measured, 0, (int)COUNT_OF(texts));
    tcase_add_loop_test(c, a_place_measured_from_any_edge_stands_there_and_is_known_again, 0,
                        (int)COUNT_OF(edged));
    tcase_add_loop_test(c, a_group_measured_from_an_edge_lets_its_other_measures_change, 0,
                        (int)COUNT_OF(grouped));
    tcase_add_loop_test(c, a_place_is_measured_from_every_edge, 0, (int)COUNT_OF(measured));
    tcase_add_test(c, a_freed_place_keeps_the_edge_that_it_is_measured_from);
    tcase_add_test(c, lines_and_walls_are_those_of_the_neighbours);
    tcase_add_test(c, a_point_alone_sees_the_rest_of_its_group);
    tcase_add_test(c, four_quarter_turns_are_none);
    suite_add_tcase(s, c);
}
