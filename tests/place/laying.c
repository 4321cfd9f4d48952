/* tests/place/laying.c - a group being laid out, without a screen: which measure moves a point, and what is
   then typed */

#include "parts.h"

#include "diewright/place.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static struct handbook *handbook;
static struct job *job;
static struct dieset *d;
static struct place p;

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
    ck_ok(job_from_text(handbook, text, "demo", &job, why));
    d = job_dieset(job);
    place_init(&p, job, "die_screws");
    free(text);
}

static void end(void)
{
    place_done(&p);
    job_close(job);
}

static void lay(const char *pattern)
{
    place_init(&p, job, "die_screws");
    ck_assert_msg(place_pattern(&p, pattern, "die_plate"), "%s: %s", pattern, p.why.message);
}

/* ---- every pattern of the handbook ---- */

/* Whatever the pattern and the point: after a move by hand the point stands exactly there, and what is typed
   is few. */
static void moves_as_asked(const char *pattern, const char *point)
{
    struct dieset_point was, is;
    double by[2] = {7.25, -3.5};
    p.alone = false;
    place_grab(&p, point);
    ck_assert(place_point(&p, &was, NULL));
    double x = was.x, y = was.y;
    for (int a = 0; a < 2; a++)
        by[a] = place_move(&p, a, by[a]) ? by[a] : 0;
    ck_assert_msg(place_try(&p), "%s, %s: %s", pattern, point, p.why.message);
    ck_assert(place_point(&p, &is, NULL));
    ck_assert_msg(fabs(is.x - x - by[0]) < 1e-5 && fabs(is.y - y - by[1]) < 1e-5,
                  "%s, %s: moved by %g, %g instead of %g, %g", pattern, point, is.x - x, is.y - y, by[0],
                  by[1]);
    for (int a = 0; a < 2; a++)
        place_move(&p, a, -by[a]);
    ck_assert(place_try(&p) && place_point(&p, &is, NULL));
    ck_assert(fabs(is.x - x) < 1e-5 && fabs(is.y - y) < 1e-5);
}

START_TEST(a_point_of_any_pattern_goes_where_it_is_moved)
{
    for (int i = 0; i < handbook_pattern_count(handbook); i++) {
        const char *pattern = handbook_pattern(handbook, i)->name;
        char points[200][48];
        begin(_i);
        lay(pattern);
        int n = dieset_point_count(d, place_item(&p));
        ck_assert_int_gt(n, 0);
        for (int k = 0; k < n && k < 200; k++) {
            struct dieset_point at;
            dieset_point(d, place_item(&p), k, &at);
            ck_assert_msg(!at.broken, "%s: a point stands nowhere", pattern);
            snprintf(points[k], sizeof points[k], "%s", at.name);
        }
        for (int k = 0; k < n && k < 200; k += k == 1 && n > 3 ? n - 2 : 1) /* the first two and the last */
            moves_as_asked(pattern, points[k]);
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
    place_grab(&p, handles[_i].point);
    for (int a = 0; a < 2; a++) {
        int take = p.ways[a].take;
        const char *got = p.alone ? "alone" : !p.ways[a].moves ? "" : place_has(&p)->takes[take].name;
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
    enum place_from from;
    const char *measured, *typed;
} texts[] = {
    {"left_front", false, 0, PLACE_FROM_OWN, "25", "25 mm"},
    {"left_front", false, 0, PLACE_FROM_OWN, "posts.diameter + 5 mm", "posts.diameter + 5 mm"},
    {"left_front", false, 0, PLACE_FROM_CENTRE, "-100", "middle_x - 100 mm - left"},
    {"right_back", false, 0, PLACE_FROM_CENTRE, "100", "right - (middle_x + 100 mm)"},
    {"right_back", false, 1, PLACE_FROM_LOW, "150", "back - (front + 150 mm)"},
    {"left_front", true, 0, PLACE_FROM_OWN, "3 mm", "usual + 3 mm"},
    {"left_front", true, 1, PLACE_FROM_OWN, "-3", "usual - 3 mm"},
    {"left_front", true, 1, PLACE_FROM_OWN, "0 mm", NULL},
    {"left_front", true, 0, PLACE_FROM_LOW, "45", "left + 45 mm"},
    {"left_front", true, 0, PLACE_FROM_HIGH, "45 mm", "right - 45 mm"},
    {"left_front", true, 0, PLACE_FROM_HIGH, "-5 mm", "right + 5 mm"},
    {"left_front", true, 1, PLACE_FROM_LOW, "1/2 in", "front + 1/2 in"},
    {"left_front", true, 1, PLACE_FROM_HIGH, "posts.diameter + 5 mm", "back - (posts.diameter + 5 mm)"},
    {"left_front", true, 1, PLACE_FROM_CENTRE, "-8 mm", "middle_y - 8 mm"},
    {"left_front", true, 0, PLACE_FROM_CENTRE, "0", "middle_x"},
    {"left_front", true, 0, PLACE_FROM_ORIGIN, "-8", "-8 mm"},
};

START_TEST(a_place_is_typed_as_it_is_measured)
{
    begin(0);
    lay("corners");
    p.alone = texts[_i].alone;
    place_grab(&p, texts[_i].point);
    ck_assert(place_may(&p, texts[_i].axis, texts[_i].from));
    char *text = place_text(&p, texts[_i].axis, texts[_i].from, texts[_i].measured);
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

static void typed_from(int axis, enum place_from from)
{
    struct dieset_point at;
    place_grab(&p, "");
    p.ways[axis].from = from;
    ck_assert(place_move(&p, axis, 2.5));
    double wanted = p.ways[axis].at;
    ck_assert_msg(place_try(&p), "%s", p.why.message);
    ck_assert(place_point(&p, &at, NULL));
    ck_assert_msg(fabs((axis ? at.y : at.x) - wanted) < 1e-5, "axis %d from %d: %g instead of %g", axis, from,
                  axis ? at.y : at.x, wanted);
    place_grab(&p, "");
    ck_assert_int_eq(p.ways[axis].from, from);
}

START_TEST(a_place_measured_from_any_edge_stands_there_and_is_known_again)
{
    begin(0);
    lay(edged[_i].pattern);
    snprintf(p.point, sizeof p.point, "%s", edged[_i].point);
    p.alone = edged[_i].alone;
    place_grab(&p, "");
    for (int axis = 0; axis < 2; axis++)
        for (int from = PLACE_FROM_OWN; from < PLACE_FROMS; from++)
            if (place_may(&p, axis, (enum place_from)from))
                typed_from(axis, (enum place_from)from);
    end();
}
END_TEST

/* With its group, where the pattern adds more than the measure: that is taken off, by name, so that it may
 * change. "columns" and "rows" are typed first where they are not 0. */
static const struct {
    const char *pattern, *point;
    int rows, axis;
    enum place_from from;
    const char *measured, *typed;
} grouped[] = {
    {"pair", "back", 0, 1, PLACE_FROM_HIGH, "30", "back - 30 mm - apart / 2"},
    {"pair", "front", 0, 1, PLACE_FROM_LOW, "20 mm", "front + 20 mm + apart / 2"},
    {"pair", "front", 0, 1, PLACE_FROM_HIGH, "100", "back - 100 mm + apart / 2"},
    {"pair", "back", 0, 1, PLACE_FROM_CENTRE, "posts.diameter", "middle_y + (posts.diameter) - apart / 2"},
    {"pair", "back", 0, 0, PLACE_FROM_LOW, "45", "left + 45 mm"},
    {"ring", "p1", 0, 0, PLACE_FROM_HIGH, "50",
     "right - 50 mm - middle_x - across / 2 * cos(first + 0 * 360 deg / many)"},
    {"ring", "p2", 0, 1, PLACE_FROM_LOW, "50",
     "front + 50 mm - middle_y - across / 2 * sin(first + 1 * 360 deg / many)"},
    {"places", "p1", 0, 1, PLACE_FROM_LOW, "40", "front + 40 mm"},
    {"places", "p3", 3, 1, PLACE_FROM_LOW, "40",
     "front + 40 mm - apart * (whole(2 / columns) - (rows - 1) / 2)"},
    {"fours", "left_inner_back", 0, 0, PLACE_FROM_LOW, "70", "middle_x - (left + 70 mm)"},
};

START_TEST(a_group_measured_from_an_edge_lets_its_other_measures_change)
{
    struct dieset_point before, after;
    int axis = grouped[_i].axis;
    begin(0);
    lay(grouped[_i].pattern);
    if (grouped[_i].rows) {
        place_put(&p, "lay/rows", "3");
        place_put(&p, "lay/apart", "24 mm");
        ck_assert(place_try(&p));
    }
    place_grab(&p, grouped[_i].point);
    ck_assert_msg(place_may(&p, axis, grouped[_i].from), "it may not be measured from there");
    char *text = place_text(&p, axis, grouped[_i].from, grouped[_i].measured),
         *entry = place_entry(&p, axis);
    ck_assert_str_eq(text, grouped[_i].typed);
    place_put(&p, entry, text);
    ck_assert_msg(place_try(&p), "%s", p.why.message);
    ck_assert(place_point(&p, &before, NULL));
    /* the other measure that the pattern adds */
    static const char *const others[] = {"lay/apart", "lay/across"};
    bool ring = strcmp(grouped[_i].pattern, "ring") == 0;
    if (strstr(text, "apart") || ring) {
        place_put(&p, others[ring], "36 mm");
        ck_assert_msg(place_try(&p), "%s", p.why.message);
        ck_assert(place_point(&p, &after, NULL));
        ck_assert(fabs(axis ? after.y - before.y : after.x - before.x) < 1e-9);
    }
    free(text);
    free(entry);
    end();
}
END_TEST

/* By hand: the left front screw stands 19 from the left and 38 from the front edge of 264 x 170. */
static const struct { enum place_from from; double along, across;
} measured[] = {
    {PLACE_FROM_OWN, 0, 0},         {PLACE_FROM_LOW, 19, 38},       {PLACE_FROM_HIGH, 245, 132},
    {PLACE_FROM_CENTRE, -113, -47}, {PLACE_FROM_ORIGIN, -113, -47},
};

START_TEST(a_place_is_measured_from_every_edge)
{
    begin(0);
    place_init(&p, job, "die_screws");
    p.alone = true;
    place_grab(&p, "left_front");
    ck_assert(fabs(place_measured(&p, 0, measured[_i].from) - measured[_i].along) < 1e-9);
    ck_assert(fabs(place_measured(&p, 1, measured[_i].from) - measured[_i].across) < 1e-9);
    end();
}
END_TEST

START_TEST(a_freed_place_keeps_the_edge_that_it_is_measured_from)
{
    begin(0);
    ck_ok(job_set(job, "die_screws.left_back.y", "back - 30 mm", why));
    ck_ok(job_take(job, why));
    place_init(&p, job, "die_screws");
    place_grab(&p, "left_back");
    ck_assert(p.alone);
    ck_assert_int_eq(p.ways[1].from, PLACE_FROM_HIGH);
    ck_assert(place_move(&p, 1, -2));
    ck_assert_str_eq(place_typed(&p, "lay/left_back/y"), "back - 32 mm");
    ck_assert(place_move(&p, 1, 2));
    ck_assert_ptr_null(place_typed(&p, "lay/left_back/y"));
    place_give_back(&p);
    ck_assert(place_try(&p));
    struct dieset_point at;
    ck_assert(place_point(&p, &at, NULL));
    ck_assert(!at.freed && fabs(at.y - 47) < 1e-9);
    end();
}
END_TEST

START_TEST(four_quarter_turns_are_none)
{
    /* a quarter turn stands in the job */
    static const char *const turns[] = {"180 deg", "270 deg", NULL, "90 deg"};
    begin(0);
    ck_ok(job_set(job, "posts.lay.turn", "90 deg", why));
    ck_ok(job_take(job, why));
    place_init(&p, job, "posts");
    place_grab(&p, "right_front");
    for (int i = 0; i < 4; i++) {
        place_turn(&p, 90);
        const char *text = place_typed(&p, "lay/turn");
        ck_assert(turns[i] ? text && strcmp(text, turns[i]) == 0 : !text);
        ck_assert(place_try(&p));
    }
    ck_assert(!job_trying(job));
    end();
}
END_TEST

/* ---- what stands about it ---- */

/* A picture of so many mm a column, twice that a row, offers lines within half of them. */
static void look(int plate, double column_mm, struct place_near *near)
{
    place_near(&p, plate, DIESET_NEW, (const double[PLACE_AXES]){column_mm / 2, column_mm}, near);
}

static double wall_to(const struct place_near *near, char letter)
{
    for (int i = 0; i < near->n_walls; i++)
        if (near->walls[i].letter == letter)
            return near->walls[i].wall;
    return NAN;
}

/* By hand: left front screw of M8 at -113, -47, tapping drill 6.8 (ISO 2306); left dowel of 10 at -110, -11;
 * the notches 58 apart, so their front row at -29, openings on the centre line. A picture of 8 mm a column
 * reaches 4 along and 8 across. */
START_TEST(lines_and_walls_are_those_of_the_neighbours)
{
    struct place_near near;
    begin(0);
    int plate = dieset_find_item(d, "die_plate");
    place_init(&p, job, "die_screws");
    place_grab(&p, "left_front");
    look(plate, 8, &near);
    /* it has not moved yet */
    ck_assert(!near.hint[0].there && !near.hint[1].there && !near.on[0].there && !near.on[1].there);
    ck_assert(fabs(wall_to(&near, 'd') - (hypot(3, 36) - 3.4 - 5)) < 1e-9);
    ck_assert(place_move(&p, 0, 3) && place_try(&p)); /* above the dowel */
    look(plate, 8, &near);
    ck_assert(near.on[0].there && fabs(near.on[0].at + 110) < 1e-9 && near.on[0].letter == 'd');
    ck_assert(fabs(wall_to(&near, 'd') - (36 - 3.4 - 5)) < 1e-9);
    /* -106.5, -34 */
    ck_assert(place_move(&p, 0, 3.5) && place_move(&p, 1, 13) && place_try(&p));
    look(plate, 8, &near);
    ck_assert(near.hint[0].there && fabs(near.hint[0].at + 110) < 1e-9);
    ck_assert(near.hint[1].there && fabs(near.hint[1].at + 29) < 1e-9);
    ck_assert(fabs(wall_to(&near, 'd') - (hypot(3.5, 23) - 8.4)) < 1e-9);
    look(plate, 4, &near); /* the same place at a larger scale */
    ck_assert(!near.hint[0].there && !near.hint[1].there);
    /* on the centre line */
    ck_assert(place_move(&p, 0, 0.5) && place_move(&p, 1, 34) && place_try(&p));
    look(plate, 8, &near);
    ck_assert(near.on[1].there && near.on[1].letter == 0 && fabs(near.on[1].at) < 1e-9);
    for (int i = 1; i < near.n_walls; i++)
        ck_assert(near.walls[i - 1].wall <= near.walls[i].wall);
    end();
}
END_TEST

/* A point alone lines up with its own group too. */
START_TEST(a_point_alone_sees_the_rest_of_its_group)
{
    struct place_near near;
    begin(0);
    place_init(&p, job, "die_screws");
    p.alone = true;
    place_grab(&p, "left_front");
    look(dieset_find_item(d, "die_plate"), 8, &near);
    ck_assert(near.on[1].there && near.on[1].letter == 's' && fabs(near.on[1].at + 47) < 1e-9);
    end();
}
END_TEST

/* The pilots stand where the holes are that they find: no measure of theirs moves one, which goes alone. */
START_TEST(a_group_laid_with_another_has_no_measure_of_its_own)
{
    struct dieset_point at;
    begin(0);
    place_init(&p, job, "pilots");
    dieset_point(d, dieset_find_item(d, "pilots"), 0, &at);
    place_grab(&p, at.name);
    ck_assert(p.alone && p.ways[PLACE_ALONG].take < 0 && p.ways[PLACE_ACROSS].take < 0);
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
    tcase_add_test(c, a_group_laid_with_another_has_no_measure_of_its_own);
    suite_add_tcase(s, c);
}
