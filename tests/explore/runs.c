/* Runs: what is refused, which points there are, what is taken down, and that the die set stays as it was. */

#include "explore.h"

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;
static void open_cover(void) { bench_open(&bench, "data/demo/cover-plate.txt"); }
static void close_bench(void) { bench_close(&bench); }

/* ---- what is refused ---- */

static const struct { const char *path, *from, *to, *step, *says;
} refusals[] = {
    {"die_plate.thicknes", "10", "20", "1", "The job has no \"die_plate.thicknes\"; near it: "},
    {"die_plate.material", "10", "20", "1",
     "die_plate.material is no number: only a number can run over a range."},
    {"die_plate.hardened", "0", "1", "1",
     "die_plate.hardened is no number: only a number can run over a range."},
    {"stack.shut_height", "200", "300", "10", "stack.shut_height follows from other values ("},
    {"die_plate.thickness", "20", "10", "1", "The range ends before it begins: from 20.0 mm to 10.0 mm."},
    {"die_plate.thickness", "10", "20", "0", "The step must be more than nothing; it is 0.0 mm."},
    {"die_plate.thickness", "10", "20", "-1", "The step must be more than nothing; it is -1.0 mm."},
    {"die_plate.thickness", "10", "20", "0.001",
     "From 10.0 mm to 20.0 mm by 0.001 mm are 10001 points; 5000 are the most."},
    {"die_plate.thickness", "10", "20 kN", "1", "A length is wanted"},
    {"die_plate.thickness", "10", "much", "1", "There is no \"much\" here."},
    {"die_plate.thickness", "10", "1 / 0", "1", ""},
    {"die_plate.thickness", "", "20", "1", ""},
};

START_TEST(a_range_that_is_none_is_refused_in_a_whole_sentence)
{
    struct explore_ask ask;
    struct base_diag reason = {0};
    enum base_err err = explore_read(bench.d, refusals[_i].path, refusals[_i].from, refusals[_i].to,
                                     refusals[_i].step, &ask, &reason);
    ck_assert(err == BASE_REFUSED || err == BASE_UNKNOWN);
    size_t n = strlen(reason.message);
    ck_assert_msg(n > 10 && strchr(".?", reason.message[n - 1]), "'%s'", reason.message);
    ck_assert_msg(strstr(reason.message, refusals[_i].says), "'%s' does not say '%s'", reason.message,
                  refusals[_i].says);
}
END_TEST

START_TEST(a_run_checks_its_range_too)
{
    struct explore *x;
    struct base_diag reason;
    struct explore_ask ask = {
        .quantity = dieset_find(bench.d, "die_plate.thickness"), .from = 10, .to = NAN, .step = 1};
    ck_assert_int_eq(explore_run(bench.f, &ask, &x, &reason), BASE_REFUSED);
    ck_assert_ptr_null(x);
    ck_assert_str_eq(reason.message, "A range runs between two numbers by a third; one of them is none.");
}
END_TEST

/* ---- points ---- */

static const struct {
    const char *path, *from, *to, *step;
    int n;
    const char *second, *last;
    double last_at;
} points[] = {
    {"die_plate.thickness", "20", "30", "1", 11, "21 mm", "30 mm", 30},
    {"die_plate.thickness", "0.7 in", "20 mm", "0.1", 23, "17.88 mm", "19.98 mm", 19.98},
    /* float noise takes no point away */
    {"strip.thickness", "0", "1", "0.1", 11, "0.1 mm", "1 mm", 1},
    {"strip.thickness", "0.1", "0.75", "0.2", 4, "0.3 mm", "0.7 mm", 0.7},
    {"die_plate.thickness", "strip.thickness * 2", "10", "3.8", 3, "6.2 mm", "10 mm", 10},
    {"dimples.forming_force", "1", "3", "0.5", 5, "1.5 kN", "3 kN", 3000},
    {"stripper_springs.rate", "50", "51", "0.25", 5, "50.25 N/mm", "51 N/mm", 51},
    {"posts.right_back.x", "-20", "20", "20", 3, "0 mm", "20 mm", 20},
    {"screw_reserve", "3", "3", "1", 1, NULL, "3", 3},
    {"dimples.lay.columns", "1", "4", "1", 4, "2", "4", 4},
};

START_TEST(points_run_to_the_end_and_are_typed_plainly)
{
    struct explore *x = bench_run(&bench, points[_i].path, points[_i].from, points[_i].to, points[_i].step,
                                  "");
    ck_assert_int_eq(x->n, points[_i].n);
    if (points[_i].second)
        ck_assert_str_eq(x->text[1], points[_i].second);
    ck_assert_str_eq(x->text[x->n - 1], points[_i].last);
    ck_assert_double_eq_tol(x->at[x->n - 1], points[_i].last_at, 1e-9);
    for (int i = 0; i < x->n; i++)
        ck_assert_int_eq(explore_nearest(x, x->at[i]), i);
    explore_free(x);
}
END_TEST

START_TEST(an_inch_job_is_run_in_inches)
{
    close_bench();
    bench_open(&bench, "data/demo/spacer-plate.txt");
    struct explore *x = bench_run(&bench, "die_plate.thickness", "1", "2", "0.25", "die_plate.thickness");
    ck_assert_int_eq(x->n, 5);
    ck_assert_str_eq(x->text[1], "1.25 in");
    ck_assert_double_eq_tol(x->at[1], 31.75, 1e-12);
    ck_assert_double_eq_tol(explore_value(x, 0, DIESET_NEW, 1).number, 31.75, 1e-12);
    explore_free(x);
}
END_TEST

/* Dimensions with a unit of their own and without; also roots of one. */
static const struct unit_dim dims[] = {
    {0, 0, 0, 0},   {6, 0, 0, 0},  {12, 0, 0, 0}, {18, 0, 0, 0}, {24, 0, 0, 0},  {0, 6, 0, 0},
    {-12, 6, 0, 0}, {-6, 6, 0, 0}, {6, 6, 0, 0},  {6, 6, -6, 0}, {-6, 6, 12, 0}, {-24, 6, 12, 0},
    {0, 0, 0, 6},   {0, 0, -6, 0}, {0, 0, 6, 0},  {30, 0, 0, 0}, {6, 0, -6, 0},  {0, 0, -6, 6},
    {3, 0, 0, 0},   {-3, 2, 0, 0}, {0, -6, 0, 0},
};

START_TEST(a_value_is_typed_so_that_it_reads_back)
{
    static const double values[] = {0, 1, -2.5, 0.1, 12345.678, 3e-7, -1e9};
    struct unit_system systems[] = {UNIT_METRIC, UNIT_INCH, {"in", "ton_us", "psi", "lb", "lbf ft"},
                                    {"mm", "lbf", "N/mm2", "kg", "lbf in"}};
    for (size_t k = 0; k < COUNT_OF(systems); k++)
        for (size_t i = 0; i < COUNT_OF(values); i++) {
            struct formula_value v;
            struct formula_type t;
            char *text = unit_typed(dims[_i], systems[k], values[i]);
            ck_ok(handbook_eval(bench.h, text, &v, &t, why));
            ck_assert_msg(!v.error && unit_same(t.dim, dims[_i]) &&
                              fabs(v.number - values[i]) <= 1e-11 * fabs(values[i]),
                          "%.17g as '%s' is %.17g", values[i], text, v.number);
            free(text);
        }
}
END_TEST

/* ---- what is taken down ---- */

/* Shut height and risers stand on each other, so that the height on the bolster is their sum; new and ground
 * differ by what is ground off punches and die (3 and 4.5 mm). The press takes 250 mm to 305 mm (bench
 * figures of the demo job). */
START_TEST(a_riser_lifts_the_set_until_the_press_is_full)
{
    struct explore *x = bench_run(&bench, "risers.height", "0", "160", "1",
                                  "stack.height_on_bolster stack.shut_height");
    double shut = explore_value(x, 1, DIESET_NEW, 0).number;
    const struct explore_finding *press = NULL;
    for (size_t i = 0; i < x->findings.count && !press; i++)
        press = strcmp(x->findings.at[i].rule, "press-window") == 0 ? &x->findings.at[i] : NULL;
    ck_assert(press && press->states == HANDBOOK_BOTH && press->grade == HANDBOOK_FAULT);
    for (int p = 0; p < x->n; p++) {
        double new = explore_value(x, 0, DIESET_NEW, p).number,
               ground = explore_value(x, 0, DIESET_GROUND, p).number;
        ck_assert_double_eq_tol(new, shut + p, 1e-9);
        ck_assert_double_eq_tol(ground, new - 7.5, 1e-9);
        bool fits = ground >= 250 - 1e-6 && new <= 305 + 1e-6;
        ck_assert_msg(fits == (press->grades[p] < 0), "risers of %s", x->text[p]);
    }
    ck_assert_uint_eq(x->limits.count, 4); /* least and most, new and ground */
    for (size_t i = 0; i < x->limits.count; i++)
        ck_assert_double_eq_tol(x->limits.at[i].limit,
                                x->limits.at[i].relation == FORMULA_AT_LEAST ? 250 : 305, 1e-9);
    explore_free(x);
}
END_TEST

START_TEST(the_job_as_it_stands_is_one_of_the_points)
{
    const struct finding *list;
    int n = findings_judge(bench.f, &list);
    struct findings_kept *kept = findings_keep(bench.f);
    struct explore *x = bench_run(&bench, "die_plate.thickness", "30", "34", "1", "posts.length");
    ck_assert_double_eq(x->now, 34);
    int here = explore_nearest(x, x->now), stands = 0;
    for (size_t i = 0; i < x->findings.count; i++)
        stands += x->findings.at[i].grades[here] >= 0;
    n = findings_kept_list(kept, &list);
    for (int i = 0; i < n; i++) {
        bool met = false;
        for (size_t k = 0; k < x->findings.count && !met; k++)
            met = strcmp(x->findings.at[k].key, list[i].key) == 0 &&
                  x->findings.at[k].grades[here] == (int)list[i].grade;
        ck_assert_msg(met, "%s is not met", list[i].key);
    }
    ck_assert_int_eq(stands, n);
    ck_assert_int_eq(explore_value(x, 0, DIESET_NEW, here).error, 0);
    ck_assert_double_eq(explore_value(x, 0, DIESET_NEW, here).number,
                        dieset_get(bench.d, "posts.length", DIESET_NEW).number);
    findings_kept_free(kept);
    explore_free(x);
}
END_TEST

static char *all_of(struct bench *b)
{
    struct base_text t = {0};
    const struct finding *list;
    char buf[200];
    for (int q = 0; q < dieset_quantity_count(b->d); q++)
        for (int s = 0; s < DIESET_STATES; s++)
            base_text_addf(&t, "%s %s %.17g\n", dieset_quantity(b->d, q)->path,
                           dieset_print(b->d, q, (enum dieset_state)s, buf, sizeof buf),
                           dieset_value(b->d, q, (enum dieset_state)s).number);
    for (int i = 0; i < dieset_item_count(b->d); i++) {
        const struct typed_entry *e;
        int n = dieset_entries(b->d, i, &e);
        for (int k = 0; k < n; k++)
            base_text_addf(&t, "%s/%s %s\n", e[k].item, e[k].path, e[k].text);
    }
    int n = findings_list(b->f, &list);
    for (int i = 0; i < n; i++)
        base_text_addf(&t, "%s %s\n", list[i].key, list[i].message);
    return base_text_take(&t);
}

static const struct { const char *path, *from, *to, *step;
} leaves[] = {
    {"die_plate.thickness", "10", "50", "5"},
    {"die_screws.length", "20", "90", "10"},
    {"dimples.lay.columns", "0", "5", "0.5"},
    {"screw_reserve", "1", "5", "1"},
    {"posts.right_back.x", "-50", "250", "25"},
};

START_TEST(a_run_leaves_all_as_it_was)
{
    findings_judge(bench.f, NULL);
    long binding = dieset_binding(bench.d);
    char *before = all_of(&bench);
    struct explore *x = bench_run(&bench, leaves[_i].path, leaves[_i].from, leaves[_i].to, leaves[_i].step,
                                  "stack.shut_height");
    char *after = all_of(&bench);
    ck_assert_str_eq(before, after);
    ck_assert(!dieset_trying(bench.d));
    ck_assert_int_eq(dieset_binding(bench.d), binding);
    free(before);
    free(after);
    explore_free(x);
}
END_TEST

START_TEST(a_point_that_is_not_taken_says_why_and_has_no_values)
{
    struct explore *x = bench_run(&bench, "dimples.lay.columns", "1", "2", "0.5", "stack.shut_height");
    ck_assert_int_eq(x->n, 3);
    ck_assert_ptr_null(x->refused[0]);
    ck_assert_ptr_null(x->refused[2]);
    ck_assert_ptr_nonnull(x->refused[1]);
    ck_assert_msg(strstr(x->refused[1], "whole number"), "'%s'", x->refused[1]);
    ck_assert_int_eq(explore_value(x, 0, DIESET_NEW, 1).error, FORMULA_EMPTY);
    ck_assert(!explore_clear(x, 1));
    for (size_t i = 0; i < x->findings.count; i++)
        ck_assert_int_lt(x->findings.at[i].grades[1], 0);
    explore_free(x);
}
END_TEST

START_TEST(listed_sizes_are_those_of_the_values_own_look_up)
{
    struct explore *x = bench_run(&bench, "posts.length", "100", "400", "20", "");
    double now = dieset_get(bench.d, "posts.length", DIESET_NEW).number;
    bool stands = false;
    ck_assert_int_gt(x->n_stock, 3);
    for (int i = 0; i < x->n_stock; i++) {
        stands = stands || x->stock[i] == now;
        ck_assert(i == 0 || x->stock[i] > x->stock[i - 1]);
    }
    ck_assert(stands);
    explore_free(x);
    x = bench_run(&bench, "strip.pitch", "20", "40", "1", "");
    ck_assert_int_eq(x->n_stock, 0);
    explore_free(x);
}
END_TEST

START_TEST(movers_move_the_most_moved_first)
{
    enum { ROOM = 500 };
    int shown[ROOM];
    double before = INFINITY;
    struct explore_ask ask;
    ck_ok(explore_read(bench.d, "die_backing.thickness", "6", "20", "7", &ask, why));
    ask.n_show = explore_movers(bench.d, &ask, shown, ROOM);
    ck_assert_int_gt(ask.n_show, 10);
    ck_assert_int_lt(ask.n_show, ROOM);
    ask.show = shown;
    struct explore *x;
    ck_ok(explore_run(bench.f, &ask, &x, why));
    for (int i = 0; i < x->n_shown; i++) {
        double most = 0;
        ck_assert_str_ne(x->shown[i].path, "die_backing.thickness");
        for (int s = 0; s < DIESET_STATES; s++) {
            double low = INFINITY, high = -INFINITY;
            for (int p = 0; p < x->n; p++) {
                low = fmin(low, explore_value(x, i, (enum dieset_state)s, p).number);
                high = fmax(high, explore_value(x, i, (enum dieset_state)s, p).number);
            }
            most = fmax(most, (high - low) / fmax(fabs(low), fabs(high)));
        }
        ck_assert_msg(most > 0 && most <= before + 1e-12, "%s moves by %g, the one before by %g",
                      x->shown[i].path, most, before);
        before = most;
    }
    explore_free(x);
}
END_TEST

START_TEST(findings_at_a_point_are_told_gravest_first)
{
    struct base_text t = {0};
    struct explore *x = bench_run(&bench, "die_plate.thickness", "20", "32", "12", "");
    explore_findings_at(x, 0, &t);
    const char *first = strstr(base_text_get(&t), "fault screw-bottom die_screws"),
               *note = strstr(base_text_get(&t), "note ");
    ck_assert_msg(first && note && first < note, "%s", base_text_get(&t));
    ck_assert_ptr_null(strstr(note, "fault "));
    ck_assert_ptr_null(strstr(base_text_get(&t), " ;"));
    base_text_clear(&t);
    explore_findings_at(x, 1, &t);
    ck_assert_ptr_null(strstr(base_text_get(&t), "screw-bottom"));
    base_text_done(&t);
    explore_free(x);
}
END_TEST

/* Penetration moves nothing that forms show at once, but where the strip is through: 2.5 - 0.2 x 1.5 to 2.5 -
   0.6 x 1.5. */
START_TEST(where_nothing_plain_moves_details_do)
{
    int shown[20];
    struct explore_ask ask = {
        .quantity = dieset_find(bench.d, "penetration"), .from = 0.2, .to = 0.6, .step = 0.1};
    int n = explore_movers(bench.d, &ask, shown, 20);
    bool there = false;
    for (int i = 0; i < n; i++) {
        ck_assert(!dieset_quantity(bench.d, shown[i])->property->plain);
        there = there || strcmp(dieset_quantity(bench.d, shown[i])->path, "stack.cut_through") == 0;
    }
    ck_assert(there);
    ask = (struct explore_ask){
        .quantity = dieset_find(bench.d, "die_plate.thickness"), .from = 20, .to = 40, .step = 1};
    n = explore_movers(bench.d, &ask, shown, 20);
    ck_assert_int_ge(n, 5);
    for (int i = 0; i < n; i++)
        ck_assert(dieset_quantity(bench.d, shown[i])->property->plain);
}
END_TEST

/* ---- ranges that are proposed ---- */

/* About the demo job's values; steps by hand: a twentieth of the value, up to the next of 1, 2, 5. */
static const struct { const char *path; int around; double from, step, to; } proposals[] = {
    {"posts.length", 10, 100, 10, 300},       /* 200: 200 / 20 */
    {"die_plate.thickness", 10, 14, 2, 54},   /* 34: 1.7 */
    {"die_plate.regrind", 10, 0.5, 0.5, 10.5}, /* 4.5: 0.225, and the range begins above nothing */
    {"strip.thickness", 10, 0.2, 0.1, 2.2},   /* 1.2: 0.06 */
    {"stack.margin_in", 2, 0, 0, 0},          /* whatever it is: below */
};

START_TEST(a_range_is_proposed_about_the_value_in_round_steps)
{
    struct explore_ask ask;
    ck_ok(explore_propose(bench.d, proposals[_i].path, proposals[_i].around, &ask, why));
    double now = dieset_value(bench.d, ask.quantity, DIESET_NEW).number;
    int n = (int)((ask.to - ask.from) / ask.step + 1.5);
    ck_assert_int_eq(n, 2 * proposals[_i].around + 1);
    /* it is one of the points */
    ck_assert_double_eq_tol((now - ask.from) / ask.step, round((now - ask.from) / ask.step), 1e-6);
    ck_assert(now <= 0 || ask.from > 0);
    if (proposals[_i].step > 0) {
        ck_assert_double_eq_tol(ask.from, proposals[_i].from, 1e-9);
        ck_assert_double_eq_tol(ask.step, proposals[_i].step, 1e-9);
        ck_assert_double_eq_tol(ask.to, proposals[_i].to, 1e-9);
    }
}
END_TEST

START_TEST(what_has_no_value_or_is_none_has_no_range)
{
    struct explore_ask ask;
    struct base_diag reason;
    ck_assert_int_eq(explore_propose(bench.d, "press.work", 10, &ask, &reason), BASE_REFUSED);
    ck_assert_str_eq(
        reason.message,
        "press.work has no value to run about: not filled in. Tell the range: vary press.work FROM TO STEP.");
    ck_assert_int_eq(explore_propose(bench.d, "stack.shut_height", 10, &ask, &reason), BASE_REFUSED);
    ck_assert_int_eq(explore_propose(bench.d, "posts.lenght", 10, &ask, &reason), BASE_UNKNOWN);
}
END_TEST

/* 1, 2, 5, 10: about 200 with 21 points; a step of 3 lies between 2 and 5. */
static const struct { double step; int by; double then;
} zooms[] = {
    {10, -1, 5}, {5, -1, 2},    {2, -1, 1},  {1, -1, 0.5}, {0.5, -1, 0.2}, {0.1, -1, 0.05},
    {10, 1, 20}, {0.2, 1, 0.5}, {0.5, 1, 1}, {3, 1, 5},    {3, -1, 2},
};

START_TEST(a_step_goes_to_the_next_round_one_and_the_points_stay_as_many)
{
    double step = zooms[_i].step;
    struct explore_ask ask = {.quantity = dieset_find(bench.d, "posts.length"),
                              .from = 200 - 10 * step,
                              .to = 200 + 10 * step,
                              .step = step};
    explore_zoom(bench.d, &ask, 200, zooms[_i].by);
    ck_assert_double_eq_tol(ask.step, zooms[_i].then, 1e-9);
    ck_assert_double_eq_tol((ask.to - ask.from) / ask.step, 20, 1e-6);
    ck_assert_double_gt(ask.from, 0);
}
END_TEST

/* ---- points that are told ---- */

START_TEST(points_may_be_told_one_by_one)
{
    static const double sizes[] = {180, 200, 224, 250};
    int show = dieset_find(bench.d, "posts.end_room");
    struct explore *x;
    struct explore_ask ask = {.quantity = dieset_find(bench.d, "posts.length"),
                              .show = &show,
                              .n_show = 1,
                              .points = sizes,
                              .n_points = 4};
    ck_ok(explore_run(bench.f, &ask, &x, why));
    ck_assert(!x->even);
    ck_assert_int_eq(x->n, 4);
    for (int i = 0; i < 4; i++) {
        ck_assert_double_eq_tol(x->at[i], sizes[i], 1e-9);
        /* 22.2 left at 200 */
        ck_assert_double_eq_tol(explore_value(x, 0, DIESET_NEW, i).number, 222.2 - sizes[i], 1e-6);
    }
    struct base_text plot = {0};
    explore_plot(x, 0, 80, 8, &plot);
    ck_assert_ptr_nonnull(strstr(base_text_get(&plot), "posts.length  180 .. 250 mm, 4 sizes\n"));
    base_text_done(&plot);
    explore_free(x);
    ask.n_points = 0;
    ck_assert_int_eq(explore_run(bench.f, &ask, &x, NULL), BASE_REFUSED);
}
END_TEST

/* ---- breaking off ---- */

static bool until(void *arg, int done) { return done < *(int *)arg; }

START_TEST(what_is_done_of_a_run_that_is_broken_off_is_kept_and_all_is_as_it_was)
{
    int most = 5;
    struct base_diag reason;
    struct explore *x;
    long binding = dieset_binding(bench.d);
    struct explore_ask ask = {.quantity = dieset_find(bench.d, "die_plate.thickness"),
                              .from = 20,
                              .to = 60,
                              .step = 0.1,
                              .go_on = until,
                              .arg = &most};
    ck_ok(explore_run(bench.f, &ask, &x, why));
    ck_assert_int_eq(x->done, 5);
    ck_assert_ptr_null(x->refused[4]);
    ck_assert_str_eq(x->refused[5], "broken off before it was tried");
    explore_free(x);
    most = 0;
    ck_assert_int_eq(explore_run(bench.f, &ask, &x, &reason), BASE_REFUSED);
    ck_assert_ptr_null(x);
    ck_assert_str_eq(reason.message, "Broken off before any of the 401 points was taken down.");
    ck_assert(!dieset_trying(bench.d));
    ck_assert_int_eq(dieset_binding(bench.d), binding);
    ck_assert_double_eq_tol(dieset_get(bench.d, "die_plate.thickness", DIESET_NEW).number, 34, 1e-9);
    most = 100000;
    ask.step = 10;
    ck_ok(explore_run(bench.f, &ask, &x, why));
    explore_free(x);
}
END_TEST

/* ---- two values, lists, rows ---- */

/* Each point of a map is what an edit comes to there; the letters are its findings. */
START_TEST(two_values_run_across_each_other)
{
    static const char *const up[] = {"die_plate.thickness", "30", "38", "4"},
                      *const along[] = {"posts.length", "180,200,224"};
    struct explore_axis a, b;
    struct explore *x;
    struct base_text map = {0};
    int shown = dieset_find(bench.d, "stack.shut_height");
    ck_ok(explore_axis_read(bench.d, along, 2, &a, why));
    ck_ok(explore_axis_read(bench.d, up, 4, &b, why));
    a.ask.across = &b.ask;
    a.ask.show = &shown;
    a.ask.n_show = 1;
    ck_ok(explore_run(bench.f, &a.ask, &x, why));
    ck_assert_int_eq(x->n, 9);
    ck_assert_int_eq(x->columns, 3);
    ck_assert_int_eq(x->done, 9);
    const struct typed_change both[] = {{TYPED_ENTRY, "posts", "length", NULL, "224 mm"},
                                        {TYPED_ENTRY, "die_plate", "thickness", NULL, "38 mm"}};
    ck_ok(dieset_try(bench.d, both, 2, why));
    double there = dieset_get(bench.d, "stack.shut_height", DIESET_NEW).number;
    dieset_drop(bench.d);
    ck_assert_double_eq_tol(explore_value(x, 0, DIESET_NEW, 8).number, there, 1e-9);
    explore_map(x, 80, 20, &map);
    ck_assert_ptr_nonnull(strstr(base_text_get(&map), "die_plate.thickness up, posts.length along\n"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&map), "\n38.0 |"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&map), "a  fault: "));
    base_text_done(&map);
    explore_free(x);
    explore_axis_done(&a);
    explore_axis_done(&b);
}
END_TEST

/* The rows of the table of presses: as many points, each typed as its row is called. */
START_TEST(rows_of_a_table_run)
{
    static const char *const rows[] = {"press.size", "listed"};
    struct explore_axis a;
    struct explore *x;
    int shown = dieset_find(bench.d, "press.rated"), table = table_find(dieset_tables(bench.d), "press_size");
    ck_ok(explore_axis_read(bench.d, rows, 2, &a, why));
    a.ask.show = &shown;
    a.ask.n_show = 1;
    ck_ok(explore_run(bench.f, &a.ask, &x, why));
    ck_assert_int_eq(x->n, table_rows(dieset_tables(bench.d), table));
    for (int i = 0; i < x->n; i++)
        ck_assert(!x->refused[i] && explore_value(x, 0, DIESET_NEW, i).number > 0);
    explore_free(x);
    explore_axis_done(&a);
}
END_TEST

/* A row is a set: what it types together is what an edit of all of it comes to; an empty one is the job as it
   stands. */
START_TEST(the_rows_of_a_file_are_variants)
{
    static const char csv[] = "variant,die_plate.thickness,posts.length\nas it is,,\nthick,38,224\n"
                              "no such,38,x\n";
    struct explore_axis a;
    struct explore *x;
    int shown = dieset_find(bench.d, "stack.shut_height");
    double was = dieset_get(bench.d, "stack.shut_height", DIESET_NEW).number;
    ck_ok(explore_axis_rows(bench.d, "v.csv", csv, strlen(csv), &a, why));
    a.ask.show = &shown;
    a.ask.n_show = 1;
    ck_ok(explore_run(bench.f, &a.ask, &x, why));
    ck_assert_int_eq(x->n, 3);
    ck_assert(x->named && !x->even);
    ck_assert_str_eq(x->text[1], "thick");
    const struct typed_change both[] = {{TYPED_ENTRY, "posts", "length", NULL, "224 mm"},
                                        {TYPED_ENTRY, "die_plate", "thickness", NULL, "38 mm"}};
    ck_ok(dieset_try(bench.d, both, 2, why));
    double there = dieset_get(bench.d, "stack.shut_height", DIESET_NEW).number;
    const struct finding *list;
    int n = findings_judge(bench.f, &list);
    for (int i = 0; i < n; i++)
        for (size_t k = 0; k < x->findings.count; k++)
            if (strcmp(x->findings.at[k].key, list[i].key) == 0 && !list[i].waiver)
                ck_assert_int_eq(x->findings.at[k].grades[1], (int)list[i].grade);
    dieset_drop(bench.d);
    findings_judge(bench.f, &list);
    ck_assert_double_eq_tol(explore_value(x, 0, DIESET_NEW, 0).number, was, 1e-9);
    ck_assert_double_eq_tol(explore_value(x, 0, DIESET_NEW, 1).number, there, 1e-9);
    ck_assert_double_ne(was, there);
    ck_assert_ptr_nonnull(x->refused[2]);
    explore_free(x);
    explore_axis_done(&a);
}
END_TEST

static const struct { const char *csv, *says; int line;
} no_variants[] = {
    {"die_plate.thikness\n3\n", "near it: ", 1},
    {"variant,stack.shut_height\na,3\n", "stack.shut_height follows from other values", 1},
    {"variant\na\n", "No column is named after a value.", 1},
    {"variant,posts.length\na,180\na,200\n", "Two variants are called a.", 3},
};

START_TEST(a_file_that_holds_no_variants_is_refused_by_line)
{
    struct explore_axis a;
    struct base_diag reason = {0};
    const char *csv = no_variants[_i].csv;
    ck_assert_int_ne(explore_axis_rows(bench.d, "v.csv", csv, strlen(csv), &a, &reason), BASE_OK);
    ck_assert_msg(strstr(reason.message, no_variants[_i].says) != NULL, "%s", reason.message);
    ck_assert_str_eq(reason.file, "v.csv");
    ck_assert_int_eq(reason.line, no_variants[_i].line);
    explore_axis_done(&a);
}
END_TEST

TCase *run_tests(void)
{
    TCase *t = tcase_create("runs");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, open_cover, close_bench);
    tcase_add_loop_test(t, a_range_that_is_none_is_refused_in_a_whole_sentence, 0, (int)COUNT_OF(refusals));
    tcase_add_test(t, where_nothing_plain_moves_details_do);
    tcase_add_loop_test(t, a_range_is_proposed_about_the_value_in_round_steps, 0, (int)COUNT_OF(proposals));
    tcase_add_test(t, what_has_no_value_or_is_none_has_no_range);
    tcase_add_loop_test(t, a_step_goes_to_the_next_round_one_and_the_points_stay_as_many, 0,
                        (int)COUNT_OF(zooms));
    tcase_add_test(t, points_may_be_told_one_by_one);
    tcase_add_test(t, what_is_done_of_a_run_that_is_broken_off_is_kept_and_all_is_as_it_was);
    tcase_add_test(t, two_values_run_across_each_other);
    tcase_add_test(t, rows_of_a_table_run);
    tcase_add_test(t, the_rows_of_a_file_are_variants);
    tcase_add_loop_test(t, a_file_that_holds_no_variants_is_refused_by_line, 0, (int)COUNT_OF(no_variants));
    tcase_add_test(t, a_run_checks_its_range_too);
    tcase_add_loop_test(t, points_run_to_the_end_and_are_typed_plainly, 0, (int)COUNT_OF(points));
    tcase_add_test(t, an_inch_job_is_run_in_inches);
    tcase_add_loop_test(t, a_value_is_typed_so_that_it_reads_back, 0, (int)COUNT_OF(dims));
    tcase_add_test(t, a_riser_lifts_the_set_until_the_press_is_full);
    tcase_add_test(t, the_job_as_it_stands_is_one_of_the_points);
    tcase_add_loop_test(t, a_run_leaves_all_as_it_was, 0, (int)COUNT_OF(leaves));
    tcase_add_test(t, a_point_that_is_not_taken_says_why_and_has_no_values);
    tcase_add_test(t, listed_sizes_are_those_of_the_values_own_look_up);
    tcase_add_test(t, movers_move_the_most_moved_first);
    tcase_add_test(t, findings_at_a_point_are_told_gravest_first);
    return t;
}
