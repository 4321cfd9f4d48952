/* Facts of the trade, each on the job in trade.txt: what a toolmaker would work out on paper. All are common
   practice. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct job *trade(void) { return bench_file("tests/job/trade.txt"); }

static struct dieset_point point(struct job *j, const char *item, const char *name)
{
    struct dieset *d = job_dieset(j);
    int i = dieset_find_item(d, item);
    for (int p = 0; p < dieset_point_count(d, i); p++) {
        struct dieset_point out;
        dieset_point(d, i, p, &out);
        if (strcmp(out.name, name) == 0)
            return out;
    }
    ck_abort_msg("%s has no point %s", item, name);
    return (struct dieset_point){0};
}

static void stands_at(struct job *j, const char *item, const char *name, double x, double y)
{
    struct dieset_point p = point(j, item, name);
    ck_assert_msg(fabs(p.x - x) < 1e-9 && fabs(p.y - y) < 1e-9, "%s.%s stands at %g, %g, not %g, %g", item,
                  name, p.x, p.y, x, y);
}

static const struct finding *found(struct job *j, const char *key)
{
    const struct finding *list;
    int n = findings_list(job_findings(j), &list);
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return &list[i];
    return NULL;
}

static void is(struct job *j, const char *path, double wanted)
{
    double got = number(j, path);
    ck_assert_msg(fabs(got - wanted) < 1e-9, "%s is %.9g, not %.9g", path, got, wanted);
}

/* ---- places --------------------------------------------------------------------------------------- */

static const struct size {
    const char *length, *width;
} sizes[] = {{"210 mm", "188 mm"}, {"270 mm", "188 mm"}, {"271 mm", "244.6 mm"}, {"11 in", "7 in"}};

START_TEST(corner_screws_stay_so_far_from_the_edges_and_the_others_at_thirds_between)
{
    struct job *j = trade();
    bench_set(j, "die_plate.length", sizes[_i].length);
    bench_set(j, "die_plate.width", sizes[_i].width);
    double along = number(j, "die_plate.length") / 2 - 22, across = number(j, "die_plate.width") / 2 - 27;
    ck_assert_int_eq(dieset_point_count(job_dieset(j), dieset_find_item(job_dieset(j), "die_screws")), 8);
    stands_at(j, "die_screws", "left_front", -along, -across);
    stands_at(j, "die_screws", "inner_left_front", -along / 3, -across);
    stands_at(j, "die_screws", "inner_right_front", along / 3, -across);
    stands_at(j, "die_screws", "right_front", along, -across);
    stands_at(j, "die_screws", "left_back", -along, across);
    stands_at(j, "die_screws", "inner_left_back", -along / 3, across);
    stands_at(j, "die_screws", "inner_right_back", along / 3, across);
    stands_at(j, "die_screws", "right_back", along, across);
    job_close(j);
}
END_TEST

START_TEST(dowels_keep_their_distance_from_the_sides_and_the_ends)
{
    struct job *j = trade();
    stands_at(j, "die_dowels", "left_front", -105 + 38, -94 + 31);
    stands_at(j, "die_dowels", "right_back", 105 - 38, 94 - 31);
    bench_set(j, "die_plate.length", "270 mm");
    stands_at(j, "die_dowels", "left_front", -135 + 38, -94 + 31);
    stands_at(j, "die_dowels", "right_back", 135 - 38, 94 - 31);
    job_close(j);
}
END_TEST

/* Stations 52 apart and half a pitch at either end: 78. Nothing but two margins is edited. */
START_TEST(margins_at_the_sides_and_the_lead_in_move_everything_outward)
{
    struct job *j = trade();
    is(j, "die_plate.length", 78 + 66 + 66);
    is(j, "die_plate.width", 44 + 2 * 72);
    const char *const paths[] = {"stack.margin_sides", "stack.margin_in"}, *const formulas[] = {"131 mm",
                                                                                                "84 mm"};
    ck_ok(job_set_many(j, paths, formulas, 2, why));
    bench_take(j);
    is(j, "die_plate.length", 78 + 84 + 66);
    is(j, "die_plate.width", 44 + 2 * 131);
    is(j, "die_plate.left", -39 - 84); /* the lead-in grew, the far end stays */
    is(j, "die_plate.right", 39 + 66);
    static const char *const like[] = {"punch_backing", "punch_plate", "stripper", "die_backing"};
    for (size_t i = 0; i < COUNT_OF(like); i++) {
        char length[60], width[60];
        snprintf(length, sizeof length, "%s.length", like[i]);
        snprintf(width, sizeof width, "%s.width", like[i]);
        is(j, length, 228);
        is(j, width, 306);
    }
    /* shoes 64 beyond the ends, 52 beyond the sides */
    is(j, "upper_shoe.left", -123 - 64);
    is(j, "lower_shoe.right", 105 + 64);
    is(j, "lower_shoe.width", 306 + 104);
    /* what stands at the edges goes out with them; 228 - 2 * 22 = 184 between the corners */
    stands_at(j, "die_screws", "left_front", -123 + 22, -153 + 27);
    stands_at(j, "die_screws", "inner_left_back", -101 + 184 / 3.0, 153 - 27);
    stands_at(j, "die_screws", "right_back", 105 - 22, 153 - 27);
    stands_at(j, "die_dowels", "left_front", -123 + 38, -153 + 31);
    stands_at(j, "posts", "left_front", -187 + 48, -205 + 54 - 7);
    stands_at(j, "posts", "right_back", 169 - 48, 205 - 54);
    stands_at(j, "bushings", "left_front", -187 + 48, -205 + 54 - 7);
    /* what stands in the strip stays */
    stands_at(j, "pierce", "middle", -26, 0);
    stands_at(j, "blank", "middle", 26, 0);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

START_TEST(one_more_station_makes_plates_and_shoes_longer)
{
    struct job *j = trade();
    ck_ok(job_add_like(j, "blank", "second_blank", why));
    bench_take(j);
    bench_set(j, "second_blank.number", "5");
    is(j, "die_plate.length", 78 + 52 + 132);
    is(j, "lower_shoe.length", 78 + 52 + 132 + 128);
    job_close(j);
}
END_TEST

/* ---- screws ------------------------------------------------------------------------------------------ */

/* Head seat 8.6 deep, so a screw passes what is left of the shoe and the backing; then 1.5 x 8 of thread and
 * a pitch of 1.25 for its point. Stock lengths of M8 (ISO 4762): 12 16 20 to 70 by fives, 80. */
static const struct thickness { const char *plate, *thickness; double passed, length; } thicknesses[] = {
    {"die_backing", "10 mm", 51.4, 65},
    {"die_backing", "10.3 mm", 51.7, 65},
    {"die_backing", "10.4 mm", 51.8, 70},  /* 65.05 */
    {"die_backing", "15 mm", 56.4, 70},
    {"die_backing", "16 mm", 57.4, 80},    /* 70.65, and there is no 75 */
    {"lower_shoe", "45 mm", 46.4, 60},
    {"lower_shoe", "40 mm", 41.4, 55},
    {"die_plate", "40 mm", 51.4, 65},      /* tapped, not passed */
};

START_TEST(a_screw_is_as_long_as_what_it_passes_and_its_seating_in_the_next_stock_length)
{
    const struct thickness *t = &thicknesses[_i];
    struct job *j = trade();
    char path[80];
    snprintf(path, sizeof path, "%s.thickness", t->plate);
    bench_set(j, path, t->thickness);
    is(j, "die_screws.grip", t->passed);
    is(j, "die_screws.length_need", t->passed + 12 + 1.25);
    is(j, "die_screws.length", t->length);
    job_close(j);
}
END_TEST

START_TEST(a_plate_put_between_is_passed_by_the_screws_and_drilled_for_them)
{
    struct job *j = trade();
    int first,
        before = dieset_plate_holes(job_dieset(j), dieset_find_item(job_dieset(j), "die_backing"), &first);
    ck_ok(job_add_like(j, "die_backing", "spacer", why));
    bench_take(j);
    bench_set(j, "spacer.thickness", "12 mm");
    is(j, "die_screws.grip", 51.4 + 12);
    is(j, "die_screws.length", 80);
    is(j, "stack.shut_height", 50 + 10 + 12 + 30 + 50 + 20 + 10 + 40);
    ck_assert_int_eq(dieset_plate_holes(job_dieset(j), dieset_find_item(job_dieset(j), "spacer"), &first),
                     before);
    job_close(j);
}
END_TEST

START_TEST(where_no_stock_screw_is_long_enough_it_is_said_what_is_missing)
{
    struct job *j = trade();
    bench_set(j, "die_backing.thickness", "30 mm"); /* 84.65 */
    ck_assert_int_eq(dieset_get(job_dieset(j), "die_screws.length", DIESET_NEW).error, FORMULA_NO_ROW);
    const struct finding *x = found(j, "cannot-judge die_screws.length");
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq((int)x->grade, HANDBOOK_FAULT);
    ck_assert_msg(strstr(x->message, "84.65 mm") && strstr(x->message, "80.0 mm"), "%s", x->message);
    job_close(j);
}
END_TEST

/* -- dowels ---------------------------------------------------------------------------------------------- */

/* Shared: in the middle of both plates, whatever stands between. 2 x 8 wanted in either. Stock lengths of 8
 * (ISO 8734): ... 35 40 45 50 55. */
static const struct shared { const char *backing; double length, each; } shareds[] = {
    {"10 mm", 45, 17.5}, /* 16 + 10 + 16 = 42 */
    {"13 mm", 45, 16},
    {"13.1 mm", 50, 18.45},
    {"18 mm", 50, 16},
};

START_TEST(a_shared_dowel_is_centred_in_the_plates_that_it_locates)
{
    struct job *j = trade();
    bench_set(j, "die_backing.thickness", shareds[_i].backing);
    is(j, "die_dowels.length", shareds[_i].length);
    is(j, "die_dowels.in_first", shareds[_i].each);
    is(j, "die_dowels.in_second", shareds[_i].each);
    job_close(j);
}
END_TEST

/* ---- posts --------------------------------------------------------------------------------------------- */

START_TEST(posts_keep_their_distance_from_the_shoes_edges_and_the_odd_one_tells_the_halves_apart)
{
    struct job *j = trade();
    double half = number(j, "upper_shoe.length") / 2, side = number(j, "upper_shoe.width") / 2;
    stands_at(j, "posts", "left_front", -half + 48, -side + 54 - 7);
    stands_at(j, "posts", "right_front", half - 48, -side + 54);
    stands_at(j, "posts", "left_back", -half + 48, side - 54);
    stands_at(j, "posts", "right_back", half - 48, side - 54);
    ck_assert_ptr_null(found(j, "post-turn posts"));
    struct finding s;
    ck_assert(findings_standing(job_findings(j), "post-turn", dieset_find_item(job_dieset(j), "posts"),
                                DIESET_NEW, &s));
    ck_assert_double_eq_tol(s.value, 3.5, 1e-9); /* half of what it is moved by: the best wrong place */
    ck_ok(job_unset(j, "posts.left_front.y", why));
    const struct job_outcome *o = job_outcome(j);
    bool came = false;
    for (int i = 0; i < o->n_came; i++)
        came = came || strcmp(o->came[i].key, "post-turn posts") == 0;
    ck_assert(came);
    bench_take(j);
    ck_assert_ptr_nonnull(found(j, "post-turn posts"));
    stands_at(j, "posts", "left_front", -half + 48, -side + 54);
    stands_at(j, "bushings", "left_front", -half + 48, -side + 54); /* on their axes */
    job_close(j);
}
END_TEST

/* The holes for the clamps of ITEM's POINT in the order in which they are made. */
static int clamps_of(struct job *j, const char *item, int number_of_point, struct dieset_hole *out, int room)
{
    struct dieset *d = job_dieset(j);
    int n = 0;
    for (int h = 0; h < dieset_hole_count(d) && n < room; h++) {
        dieset_hole(d, h, DIESET_NEW, &out[n]);
        n += out[n].item == dieset_find_item(d, item) && out[n].point == number_of_point &&
             strcmp(out[n].spec->title, "tapped hole for a clamp") == 0;
    }
    return n;
}

static void clamps_stand(struct job *j, int number_of_point, double turn)
{
    struct dieset_hole holes[8];
    struct dieset_point p;
    int item = dieset_find_item(job_dieset(j), "posts");
    dieset_point(job_dieset(j), item, number_of_point, &p);
    ck_assert_int_eq(clamps_of(j, "posts", number_of_point, holes, 8), 3);
    double reach = (25 + 28) / 2.0;
    for (int i = 0; i < 3; i++) {
        double angle = (turn + 120 * i) * 3.14159265358979323846 / 180;
        ck_assert_double_eq_tol(holes[i].x, p.x + reach * cos(angle), 1e-9);
        ck_assert_double_eq_tol(holes[i].y, p.y + reach * sin(angle), 1e-9);
        ck_assert_double_eq_tol(holes[i].diameter, 5, 1e-9); /* M6 is tapped from 5 */
    }
}

START_TEST(posts_turned_turn_their_clamps_holes_with_them)
{
    struct job *j = trade();
    bench_set(j, "posts.form", "\"flanged\"");
    for (int p = 0; p < 4; p++)
        clamps_stand(j, p, 0);
    bench_set(j, "posts.lay.turn", "35 deg");
    for (int p = 0; p < 4; p++)
        clamps_stand(j, p, 35);
    bench_set(j, "posts.left_front.turn", "usual + 20 deg");
    clamps_stand(j, 0, 55);
    clamps_stand(j, 1, 35);
    job_close(j);
}
END_TEST

/* A post of the upper half reaches from its shoe down past backing, punch plate, the gap down to the
 * stripper, stripper, strip, die plate and die backing into the bushing of the lower shoe, there 1.5
 * diameters and its chamfer; above, its seat. What counts is the gap as it stands when the stripper first
 * touches the strip, wider than at shut by the stripper's travel. Stock lengths of 25 (ISO 9182, from
 * memory): ... 160 180 200 224 250. */
START_TEST(a_posts_length_counts_the_gap_as_it_stands_at_the_first_touch)
{
    struct job *j = trade();
    double seat = 40 - 2, entry = 1.5 * 25, chamfer = 3, travel = 1 + 1 + 1;
    double gap_at_shut = 71 - 20 - 1 - 1 - 20, gap_at_touch = gap_at_shut + travel;
    /* backing, punch plate, stripper, strip, die plate, die backing */
    double rest = 10 + 20 + 20 + 1 + 30 + 10;
    is(j, "stack.stripper_room", gap_at_shut);
    is(j, "stack.first_touch", travel);
    is(j, "posts.length_need", rest + gap_at_touch + entry + chamfer + seat);
    is(j, "posts.length_need", 201.5);
    is(j, "posts.length", 224);
    ck_assert_ptr_null(found(j, "post-entry posts"));
    /* with the gap at shut a post of 200 would do, and be short by what the stripper travels */
    double with_shut = rest + gap_at_shut + entry + chamfer + seat;
    ck_assert_double_eq_tol(with_shut, 198.5, 1e-9);
    ck_assert_double_eq_tol(number(j, "posts.length_need") - with_shut, number(j, "stack.travel"), 1e-9);
    bench_set(j, "posts.length", "200 mm");
    const struct finding *x = found(j, "post-entry posts");
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq((int)x->grade, HANDBOOK_FAULT);
    ck_assert_double_eq_tol(x->value, entry - 1.5, 1e-9);
    ck_assert_double_eq_tol(x->margin, -1.5, 1e-9);
    job_close(j);
}
END_TEST

static const struct longer { const char *path, *formula; double more; } longers[] = {
    {"punch_backing.thickness", "14 mm", 4},
    {"die_backing.thickness", "14 mm", 4},
    {"die_plate.thickness", "34 mm", 4},
    {"stack.punch_length", "75 mm", 4},
    {"punch_plate.thickness", "24 mm", 0},     /* the punches stay as long: the gap gives way */
    {"stripper.thickness", "24 mm", 0},
    {"strip.thickness", "2 mm", 1},            /* the stripper meets it 1 higher */
    {"stack.lead", "2 mm", 1},
    {"stack.entry", "2 mm", -1 + 1},           /* shut 1 lower, the touch 1 higher above it */
    {"upper_shoe.thickness", "45 mm", 5},      /* its seat */
    {"posts.sunk", "4 mm", -2},
    {"posts.lead", "5 mm", 2},
    {"lower_shoe.thickness", "60 mm", 0},
};

START_TEST(a_posts_length_follows_what_it_passes)
{
    struct job *j = trade();
    double before = number(j, "posts.length_need");
    bench_set(j, longers[_i].path, longers[_i].formula);
    is(j, "posts.length_need", before + longers[_i].more);
    job_close(j);
}
END_TEST

static const struct near { const char *shoe; double diameter;
} nears[] = {
    {"40 mm", 40}, {"36.1 mm", 40}, {"35.9 mm", 32}, {"30 mm", 32},
    {"28 mm", 25}, {"50 mm", 50},   {"2 in", 50},
};

START_TEST(a_post_diameter_typed_as_nearest_to_the_shoes_thickness_follows_the_shoe)
{
    struct job *j = trade();
    bench_set(j, "posts.diameter", "size_near(guide_post.diameter, upper_shoe.thickness)");
    bench_set(j, "upper_shoe.thickness", nears[_i].shoe);
    is(j, "posts.diameter", nears[_i].diameter);
    is(j, "posts.entry_wanted", 1.5 * nears[_i].diameter);
    is(j, "bushings.post_diameter", nears[_i].diameter);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

/* Metric and inch stand in one table: a size picked without saying which is of the job's series; said, it is
   of the one named, and a set may be mixed. */
START_TEST(sizes_are_picked_of_the_jobs_series)
{
    struct job *j = trade();
    bench_set(j, "bushings.length", "usual");
    bench_set(j, "upper_shoe.thickness", "32.5 mm");
    bench_set(j, "posts.diameter", "size_near(guide_post.diameter, upper_shoe.thickness)");
    is(j, "posts.diameter", 32);
    bench_set(j, "job.series", "\"inch\"");
    is(j, "posts.diameter", 31.75);
    is(j, "bushings.outside", 1.625 * 25.4);
    bench_set(j, "posts.diameter", "size_over(guide_post.diameter, 26 mm, series = \"metric\")");
    is(j, "posts.diameter", 32);
    is(j, "bushings.outside", 48);
    bench_set(j, "job.unit", "\"in\"");
    is(j, "posts.diameter", 32);
    bench_set(j, "job.series", "\"metric\"");
    bench_set(j, "posts.diameter", "1 1/4");
    is(j, "posts.diameter", 31.75);
    is(j, "bushings.outside", 1.625 * 25.4);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

/* A metric set may be looked at in inches: what nobody has typed, as sizes of the series, stays. */
START_TEST(showing_it_in_another_unit_moves_nothing)
{
    static const char *const in_step[] = {"job.plan_step", "job.plan_stride", "job.ram_step", "job.ram_fine"};
    struct job *j = trade();
    struct dieset *d = job_dieset(j);
    bench_set(j, "die_screws.size", "usual");
    int n = dieset_quantity_count(d), moved = 0, at = dieset_find(d, "strip.pitch");
    struct formula_value *were = base_alloc((size_t)n * sizeof *were);
    char text[40];
    for (int i = 0; i < n; i++)
        were[i] = dieset_value(d, i, DIESET_NEW);
    bench_set(j, "job.shown", "\"in\"");
    ck_assert_int_eq(dieset_quantity_count(d), n);
    for (int i = 0; i < n; i++) {
        struct formula_value v = dieset_value(d, i, DIESET_NEW);
        bool step = false;
        for (size_t k = 0; k < COUNT_OF(in_step); k++)
            step = step || strcmp(dieset_quantity(d, i)->path, in_step[k]) == 0;
        bool number = !v.error && dieset_quantity(d, i)->type.sort == HANDBOOK_NUMBER;
        moved += !step && (v.error != were[i].error || (number && v.number != were[i].number));
    }
    ck_assert_int_eq(moved, 0);
    dieset_print(d, at, DIESET_NEW, text, sizeof text);
    ck_assert_msg(strstr(text, "in") != NULL, "%s", text);
    bench_set(j, "strip.pitch", "2"); /* a bare number is taken as it is shown */
    is(j, "strip.pitch", 50.8);
    free(were);
    job_close(j);
}
END_TEST

TCase *trade_tests(void)
{
    TCase *c = tcase_create("trade");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(c, corner_screws_stay_so_far_from_the_edges_and_the_others_at_thirds_between, 0,
                        (int)COUNT_OF(sizes));
    tcase_add_test(c, sizes_are_picked_of_the_jobs_series);
    tcase_add_test(c, showing_it_in_another_unit_moves_nothing);
    tcase_add_test(c, dowels_keep_their_distance_from_the_sides_and_the_ends);
    tcase_add_test(c, margins_at_the_sides_and_the_lead_in_move_everything_outward);
    tcase_add_test(c, one_more_station_makes_plates_and_shoes_longer);
    tcase_add_loop_test(c, a_screw_is_as_long_as_what_it_passes_and_its_seating_in_the_next_stock_length, 0,
                        (int)COUNT_OF(thicknesses));
    tcase_add_test(c, a_plate_put_between_is_passed_by_the_screws_and_drilled_for_them);
    tcase_add_test(c, where_no_stock_screw_is_long_enough_it_is_said_what_is_missing);
    tcase_add_loop_test(c, a_shared_dowel_is_centred_in_the_plates_that_it_locates, 0,
                        (int)COUNT_OF(shareds));
    tcase_add_test(c, posts_keep_their_distance_from_the_shoes_edges_and_the_odd_one_tells_the_halves_apart);
    tcase_add_test(c, posts_turned_turn_their_clamps_holes_with_them);
    tcase_add_test(c, a_posts_length_counts_the_gap_as_it_stands_at_the_first_touch);
    tcase_add_loop_test(c, a_posts_length_follows_what_it_passes, 0, (int)COUNT_OF(longers));
    tcase_add_loop_test(c, a_post_diameter_typed_as_nearest_to_the_shoes_thickness_follows_the_shoe, 0,
                        (int)COUNT_OF(nears));
    return c;
}
