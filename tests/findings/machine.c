/* The machine that judges, on a handbook of a few lines (tests/findings/small-handbook.txt). */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_small(void)
{
    char *handbook = read_text("tests/findings/small-handbook.txt"),
         *job = read_text("tests/findings/small-job.txt");
    bench_open(&bench, handbook, "tests/findings", job);
    free(handbook);
    free(job);
}

static void close_small(void) { bench_close(&bench); }

static int count_of(const char *rule)
{
    const struct finding *list;
    int n = findings_judge(bench.f, &list), count = 0;
    for (int i = 0; i < n; i++)
        count += strcmp(list[i].rule, rule) == 0;
    return count;
}

START_TEST(the_small_job_has_only_what_it_was_given)
{
    ck_assert_str_eq(findings_unbound(bench.f), "");
    char *list = bench_list(&bench);
    ck_assert_str_eq(list, "note weak-all 1 0 0 0 pin_length: first.length / pin_length / STD 1.\n"
                             "note weak pin_length 1 0 0 0 first.length stand on pin_length (STD 1).\n");
    free(list);
}
END_TEST

/* ---- rungs and states ------------------------------------------------------------------------- */

static const struct rung_row {
    const char *edit;
    int grade; /* -1: holds */
    enum handbook_states states;
    double value, limit, margin;
    const char *message;
} rung_rows[] = {
    {"first.length = 40 mm", -1, 0, 0, 0, 0, ""},
    {"first.length = 30 mm", -1, 0, 0, 0, 0, ""},
    {"first.length = 29 mm", HANDBOOK_CAUTION, HANDBOOK_BOTH, 29, 30, -1,
     "first: 29.0 mm is under what is wanted, 30.0 mm."},
    {"first.length = 20 mm", HANDBOOK_CAUTION, HANDBOOK_BOTH, 20, 30, -10,
     "first: 20.0 mm is under what is wanted, 30.0 mm."},
    {"first.length = 19 mm", HANDBOOK_FAULT, HANDBOOK_BOTH, 19, 20, -1,
     "first: 19.0 mm is under the least, 20.0 mm."},
    {"first.length = 79.9 mm", -1, 0, 0, 0, 0, ""},
    {"first.length = 80 mm", HANDBOOK_NOTE, HANDBOOK_BOTH, 80, 80, 0,
     "first: 80.0 mm is long; under 80.0 mm is enough."},
    /* fails in one state only */
    {"first.length = 32 mm; first.worn = 5 mm", HANDBOOK_CAUTION, HANDBOOK_GROUND, 27, 30, -3,
     "first: 27.0 mm is under what is wanted, 30.0 mm."},
    /* in both, and the worse state speaks, whichever comes first */
    {"first.length = 29 mm; first.worn = 5 mm", HANDBOOK_CAUTION, HANDBOOK_BOTH, 24, 30, -6,
     "first: 24.0 mm is under what is wanted, 30.0 mm."},
    {"first.length = 21 mm; first.worn = -5 mm", HANDBOOK_CAUTION, HANDBOOK_BOTH, 21, 30, -9,
     "first: 21.0 mm is under what is wanted, 30.0 mm."},
    /* a graver rung in one state outweighs a wider miss of a milder one in the other */
    {"first.length = 21 mm; first.worn = 2 mm", HANDBOOK_FAULT, HANDBOOK_BOTH, 19, 20, -1,
     "first: 19.0 mm is under the least, 20.0 mm."},
    /* limits follow factors that the job types over; 1 nm is forgiven */
    {"first.length = 25 mm; factor reach_least = 2.6", HANDBOOK_FAULT, HANDBOOK_BOTH, 25, 26, -1,
     "first: 25.0 mm is under the least, 26.0 mm."},
    {"first.length = 29.9999995 mm", -1, 0, 0, 0, 0, ""},
};

START_TEST(the_first_rung_that_fails_speaks_with_the_worse_states_figures)
{
    const struct rung_row *r = &rung_rows[_i];
    bench_try(&bench, r->edit);
    const struct finding *x = bench_find(&bench, "reach", "first", NAN);
    ck_assert_int_eq(count_of("reach"), r->grade >= 0);
    if (r->grade < 0)
        return;
    x = bench_find(&bench, "reach", "first", NAN);
    ck_assert_int_eq((int)x->grade, r->grade);
    ck_assert_int_eq((int)x->states, (int)r->states);
    ck_assert_double_eq_tol(x->value, r->value, 1e-9);
    ck_assert_double_eq_tol(x->limit, r->limit, 1e-9);
    ck_assert_double_eq_tol(x->margin, r->margin, 1e-9);
    ck_assert_str_eq(x->message, r->message);
    ck_assert_str_eq(x->title, "reach");
    ck_assert_str_eq(x->source, "a test");
}
END_TEST

static const struct window_row {
    const char *lift;
    enum dieset_state state;
    double value, limit, margin;
} window_rows[] = {
    {"0 mm", DIESET_NEW, 30, 20, 10}, /* 10 to spare below, 20 above: the smaller is told */
    {"0 mm", DIESET_GROUND, 26, 20, 6},  {"7 mm", DIESET_NEW, 37, 50, 13}, /* 17 below, 13 above */
    {"20 mm", DIESET_NEW, 50, 50, 0},    {"21 mm", DIESET_NEW, 51, 50, -1},
    {"21 mm", DIESET_GROUND, 47, 50, 3}, {"-8 mm", DIESET_GROUND, 18, 20, -2},
};

START_TEST(a_two_sided_rule_stands_by_its_smaller_margin)
{
    const struct window_row *r = &window_rows[_i];
    char *edit = base_format("stack.lift = %s", r->lift);
    bench_try(&bench, edit);
    free(edit);
    struct finding x;
    ck_assert(findings_standing(bench.f, "window", -1, r->state, &x));
    ck_assert_double_eq_tol(x.value, r->value, 1e-9);
    ck_assert_double_eq_tol(x.limit, r->limit, 1e-9);
    ck_assert_double_eq_tol(x.margin, r->margin, 1e-9);
    ck_assert_int_eq(count_of("window"), r->margin < 0 || strcmp(r->lift, "21 mm") == 0);
}
END_TEST

START_TEST(standing_is_told_of_rules_that_apply_and_can_be_judged)
{
    struct finding x;
    int first = dieset_find_item(bench.d, "first");
    ck_assert(findings_standing(bench.f, "reach", first, DIESET_GROUND, &x));
    ck_assert_int_eq((int)x.grade, HANDBOOK_FAULT);
    ck_assert(!findings_standing(bench.f, "gauge", first, DIESET_NEW, &x));    /* its `when` says no */
    ck_assert(!findings_standing(bench.f, "straight", first, DIESET_NEW, &x)); /* yes or no: no figures */
    ck_assert(!findings_standing(bench.f, "head", first, DIESET_GROUND, &x));  /* not judged when ground */
    ck_assert(!findings_standing(bench.f, "reach", -1, DIESET_NEW, &x));
    ck_assert(!findings_standing(bench.f, "no-such", first, DIESET_NEW, &x));
    bench_try(&bench, "first.length = 10 mm / (first.diameter - 10 mm) * 1 mm");
    ck_assert(!findings_standing(bench.f, "reach", first, DIESET_NEW, &x));
}
END_TEST

static const struct yesno_row { const char *edit; int count; } yesno_rows[] = {
    {"first.straight = yes", 0},
    {"first.straight = no", 1},
    {"first.straight = no; first.diameter = 5 mm", 0}, /* only over 5 */
};

START_TEST(a_yes_or_no_rung_needs_no_figure)
{
    bench_try(&bench, yesno_rows[_i].edit);
    ck_assert_int_eq(count_of("straight"), yesno_rows[_i].count);
    if (!yesno_rows[_i].count)
        return;
    const struct finding *x = bench_find(&bench, "straight", "first", NAN);
    ck_assert(!x->measured);
    ck_assert_str_eq(x->message, "first are bent.");
    ck_assert_int_eq(x->n_mends, 1);
    ck_assert_str_eq(dieset_quantity(bench.d, x->mends[0])->path, "first.straight");
}
END_TEST

START_TEST(each_item_of_the_kind_is_judged_by_itself)
{
    bench_try(&bench, "first.length = 29 mm; + pins second; second.seat_in = die_plate; second.wanted = 3 "
                      "mm; second.length = 19 mm; "
                      "+ pins third; third.wanted = 3 mm; third.length = 31 mm");
    ck_assert_int_eq(count_of("reach"), 2);
    ck_assert_int_eq((int)bench_find(&bench, "reach", "first", NAN)->grade, HANDBOOK_CAUTION);
    const struct finding *list;
    findings_list(bench.f, &list);
    ck_assert_str_eq(list[0].key, "reach second"); /* the gravest first */
    ck_assert_int_eq(list[0].item, dieset_find_item(bench.d, "second"));
    int counts[3];
    findings_counts(bench.f, counts);
    ck_assert_int_eq(counts[HANDBOOK_FAULT], 1);
    ck_assert_int_eq(counts[HANDBOOK_CAUTION], 1);
}
END_TEST

/* ---- causes and cures ---------------------------------------------------------------------------- */

START_TEST(a_finding_names_what_would_mend_it)
{
    bench_try(&bench, "stack.lift = 40 mm; first.worn = 1 mm; first.diameter = 15 mm");
    const struct finding *x = bench_find(&bench, "window", "", NAN);
    ck_assert_int_ge(x->n_mends, 1);
    ck_assert_str_eq(dieset_quantity(bench.d, x->mends[0])->path, "stack.lift");
    /* without `mend`: the nearest value typed by a person */
    x = bench_find(&bench, "reach", "first", NAN);
    ck_assert_str_eq(dieset_quantity(bench.d, x->cause)->path, "first.worn");
    x = bench_find(&bench, "head", "first", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_int_ge(x->cause, 0);
}
END_TEST

/* ---- holes and pairs -------------------------------------------------------------------------------- */

START_TEST(holes_alike_are_one_finding_with_the_worst_of_them)
{
    bench_try(&bench, "first.lay.end = 11 mm; first.left_back.x = usual - 3 mm");
    ck_assert_int_eq(count_of("edge"), 1);
    const struct finding *x = bench_find(&bench, "edge", "first", NAN);
    ck_assert_double_eq_tol(x->value, 8, 1e-9);
    ck_assert_double_eq_tol(x->margin, -4, 1e-9);
    ck_assert_str_eq(x->message,
                     "first: the seat at -92.0 mm, 30.0 mm is 8.0 mm from the edge of die plate.");
    ck_assert_int_eq(x->item, dieset_find_item(bench.d, "first"));
    ck_assert_int_eq(x->plate, dieset_find_item(bench.d, "die_plate"));
}
END_TEST

static const struct pair_row {
    const char *edit;
    int count, grade;
    double wall;
    const char *message;
} pair_rows[] = {
    {"second.lay.end = 40 mm", 0, 0, 0, ""},
    {"second.lay.end = 35 mm", 0, 0, 0, ""}, /* 15 apart, 5 each */
    {"second.lay.end = 34 mm", 1, HANDBOOK_CAUTION, 4,
     "In die plate 4.0 mm is left between first and second."},
    {"second.lay.end = 30 mm", 1, HANDBOOK_FAULT, 0,
     "In die plate a seat of first cuts one of second, of the same group: no."},
    {"second.lay.end = 28 mm", 1, HANDBOOK_FAULT, -2,
     "In die plate a seat of first cuts one of second, of the same group: no."},
    {"second.lay.end = 34 mm; second.lay.right_back.x = usual + 3 mm", 1, HANDBOOK_CAUTION, 1,
     "In die plate 1.0 mm is left between first and second."},
    /* one on top of the other by another group is no fastener on its own axis */
    {"second.lay.end = 20 mm", 1, HANDBOOK_FAULT, -10,
     "In die plate a seat of first cuts one of second, of the same group: no."},
};

START_TEST(two_holes_are_judged_by_the_wall_between_them)
{
    const struct pair_row *r = &pair_rows[_i];
    char *edit = base_format(
        "+ pins second; second.seat_in = die_plate; second.wanted = 3 mm; second lay corners on die_plate; "
        "second.lay.side = 20 mm; %s",
        r->edit);
    bench_try(&bench, edit);
    free(edit);
    ck_assert_int_eq(count_of("wall"), r->count);
    if (!r->count)
        return;
    const struct finding *x = bench_find(&bench, "wall", "first", NAN);
    ck_assert_int_eq((int)x->grade, r->grade);
    ck_assert_double_eq_tol(x->value, r->wall, 1e-9);
    ck_assert_str_eq(x->message, r->message);
    ck_assert_int_eq(x->plate, dieset_find_item(bench.d, "die_plate"));
}
END_TEST

START_TEST(pairs_of_one_group_are_judged_too)
{
    bench_try(&bench, "first.lay.side = 44 mm"); /* 12 apart across: 2 of wall */
    const struct finding *x = bench_find(&bench, "wall", "first", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_double_eq_tol(x->value, 2, 1e-9);
}
END_TEST

/* ---- typed over ---------------------------------------------------------------------------------------- */

static const struct typed_row { const char *edit, *path, *message;
} typed_rows[] = {
    {"first.length = 33 mm", "first.length",
     "first.length is 33 mm, not listed(pin_length.length, size = this.size), without a reason."},
    {"first.left_back.x = usual - 1 mm", "first.left_back.x",
     "first.left_back.x is usual - 1 mm, not left + end, without a reason."},
    {"factor reach_least = 2.5", "reach_least", "reach_least is 2.5, not 2, without a reason."},
    {"first.length = 33 mm; first.length.reason = on the shelf", NULL, NULL},
    {"first.diameter = 11 mm", NULL, NULL}, /* asked, not usual */
    {"first.lay.end = 25 mm", NULL, NULL},  /* a measure of a pattern is asked */
};

START_TEST(what_is_typed_over_wants_a_reason)
{
    const struct typed_row *r = &typed_rows[_i];
    bench_try(&bench, r->edit);
    ck_assert_int_eq(count_of("unreasoned"), r->path != NULL);
    if (!r->path)
        return;
    const struct finding *x = bench_find(&bench, "unreasoned", r->path, NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_str_eq(x->message, r->message);
    ck_assert_str_eq(dieset_quantity(bench.d, x->cause)->path, r->path);
}
END_TEST

/* - weak tables ------------------------------------------------------------------------------------------ */

START_TEST(a_table_from_memory_is_told_where_a_fault_leans_on_it)
{
    ck_assert_ptr_nonnull(bench_find(&bench, "weak", "pin_length", NAN));
    ck_assert_ptr_null(bench_find(&bench, "weak", "pin_head", NAN)); /* read from its standard */
    bench_try(&bench, "first.length = 33 mm");
    ck_assert_ptr_null(bench_find(&bench, "weak", "pin_length", NAN)); /* typed: the table is not asked */
    ck_assert_ptr_null(bench_find(&bench, "weak-all", "", NAN));
    bench_drop(&bench);
    bench_try(&bench, "first.size = \"B\"; + pins second; second.wanted = 3 mm");
    ck_assert_str_eq(bench_find(&bench, "weak", "pin_length", NAN)->message,
                     "first.length, second.length stand on pin_length (STD 1).");
}
END_TEST

/* ---- what cannot be judged ----------------------------------------------------------------------------- */

START_TEST(what_is_not_filled_in_is_told_once_for_all_rules_it_blocks)
{
    bench_try(&bench, "first.wanted = ");
    ck_assert_int_eq(count_of("cannot-judge"), 1);
    const struct finding *x = bench_find(&bench, "cannot-judge", "first.wanted", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq((int)x->grade, HANDBOOK_FAULT); /* as the gravest of them */
    ck_assert_str_eq(x->message, "2 rules cannot be judged: first.wanted is not filled in.");
    ck_assert_int_eq(x->n_mends, 1);
    ck_assert_str_eq(dieset_quantity(bench.d, x->mends[0])->path, "first.wanted");
    ck_assert_int_eq(count_of("gauge"), 0); /* silent: it asks known(...) first */
}
END_TEST

START_TEST(one_origin_that_blocks_one_rule_in_both_states_is_one_rule)
{
    bench_try(&bench, "first.size = \"Z\"; first.head = 12 mm");
    const struct finding *x = bench_find(&bench, "cannot-judge", "first.length", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq((int)x->states, HANDBOOK_BOTH);
    ck_assert_msg(strncmp(x->message, "The rule \"reach\" cannot be judged: first.length", 47) == 0, "%s",
                  x->message);
    ck_assert_int_eq(count_of("cannot-judge"), 1);
    ck_assert_int_eq(count_of("reach"), 0);
}
END_TEST

START_TEST(two_origins_are_two_findings)
{
    bench_try(&bench, "first.size = \"Z\"; first.wanted = ");
    ck_assert_int_eq(count_of("cannot-judge"), 3); /* length, head, wanted */
}
END_TEST

/* Holes and what geometry measures name what left them unknown, as a rule's own formula does. */
static const char *const origins[][2] = {
    {"die_plate.length = 1 mm / 0", "die_plate.length"},
    {"first.lay.end = 1 mm / 0", "first.lay.end"},
    {"first.size = \"B\"; first.lay.end = 1 mm / 0", "first.lay.end"},
    {"first.diameter = 1 mm / 0", "first.diameter"},
};

START_TEST(an_origin_behind_a_hole_or_a_measure_is_named_once)
{
    bench_try(&bench, origins[_i][0]);
    ck_assert_ptr_nonnull(bench_find(&bench, "cannot-judge", origins[_i][1], NAN));
    ck_assert_int_eq(count_of("cannot-judge"), 1);
}
END_TEST

START_TEST(a_yes_or_no_rung_speaks_though_the_figure_behind_it_is_not_known)
{
    bench_try(&bench,
              "first.size = \"B\"; first lay one_left on die_plate; first.lay.end = ; first.lay.side = ");
    ck_assert_str_eq(bench_find(&bench, "spread", "first", NAN)->message, "first: one pin is not enough.");
    ck_assert_int_eq(count_of("cannot-judge"), 0);
}
END_TEST

/* ---- lists compared ------------------------------------------------------------------------------------ */

static void judge_after(const char *edit)
{
    bench_drop(&bench);
    bench_try(&bench, edit);
    findings_judge(bench.f, NULL);
}

START_TEST(a_frozen_list_tells_what_came_and_what_went)
{
    bool came[20] = {0}, went[20] = {0};
    const struct finding *now, *old;
    judge_after("first.length = 29 mm; first.straight = no");
    struct findings_kept *k = findings_keep(bench.f);
    judge_after("first.length = 19 mm; stack.lift = 40 mm");
    int n_old = findings_kept_list(k, &old), n_now = findings_list(bench.f, &now);
    findings_compare(k, bench.f, came, went);
    for (int i = 0; i < n_now; i++) /* graver than before counts as come */
        ck_assert_int_eq(came[i], strcmp(now[i].rule, "window") == 0 || strcmp(now[i].rule, "reach") == 0);
    for (int i = 0; i < n_old; i++)
        ck_assert_int_eq(went[i], strcmp(old[i].rule, "straight") == 0);
    /* milder than before is neither */
    findings_kept_free(k);
    k = findings_keep(bench.f);
    judge_after("first.length = 29 mm; stack.lift = 40 mm");
    findings_compare(k, bench.f, came, went);
    n_now = findings_list(bench.f, &now);
    for (int i = 0; i < n_now; i++)
        ck_assert(!came[i]);
    ck_assert_int_eq(findings_kept_list(k, &old), n_now);
    /* outlives the list it was made of */
    ck_assert_str_eq(old[1].message, "first: 19.0 mm is under the least, 20.0 mm.");
    findings_kept_free(k);
}
END_TEST

START_TEST(a_kept_try_is_judged_as_it_was_while_tried)
{
    bench_try(&bench, "first.length = 19 mm; + pins second; second.wanted = 3 mm");
    char *tried = bench_list(&bench);
    dieset_keep(bench.d);
    char *kept = bench_list(&bench);
    ck_assert_str_eq(tried, kept);
    free(tried);
    free(kept);
}
END_TEST

static const char *const dropped[] = {
    "first.length = 19 mm",
    "first.size = \"Z\"",
    "+ pins second; second.wanted = 3 mm",
    "- first",
    "first.seat_in = ",
    "factor reach_least = 5",
    "first lay one_left on die_plate; first.lay.end = ; first.lay.side = ",
    "job.unit = \"in\"",
};

START_TEST(a_dropped_try_leaves_the_list_as_it_was)
{
    char *before = bench_list(&bench);
    for (int twice = 0; twice < 2; twice++) {
        bench_try(&bench, dropped[_i]);
        findings_judge(bench.f, NULL);
        bench_drop(&bench);
        char *after = bench_list(&bench);
        ck_assert_str_eq(before, after);
        free(after);
    }
    free(before);
}
END_TEST

START_TEST(figures_are_told_in_the_jobs_unit)
{
    bench_try(&bench, "job.unit = \"in\"; first.length = 0.75 in");
    ck_assert_str_eq(bench_find(&bench, "reach", "first", NAN)->message,
                     "first: 0.750 in is under the least, 0.7874 in.");
}
END_TEST

/* The demo with N plates more, bound and judged, in steps of the work that is told. */
static long steps_of(int n)
{
    char *demo = read_text("data/demo/cover-plate.txt");
    struct base_text job = {0};
    struct bench b = {0};
    struct dieset_text t;
    const struct finding *list;
    base_text_add(&job, demo);
    for (int i = 0; i < n; i++)
        base_text_addf(&job, "\nplate x%d\n", i);
    ck_ok(handbook_load("data", &b.h, why));
    ck_ok(dieset_text_read(b.h, base_text_get(&job), "job", &t, why));
    ck_ok(dieset_new(b.h, NULL, &b.d, why));
    base_go_on();
    ck_ok(dieset_text_load(&t, b.d, why));
    b.f = findings_new(b.d);
    ck_assert_int_gt(findings_judge(b.f, &list), 0);
    long steps = base_steps();
    dieset_text_done(&t);
    bench_close(&b);
    base_text_done(&job);
    free(demo);
    return steps;
}

/* Each plate asks for its place among the others, and each joint for what lies beyond it. */
START_TEST(work_grows_hardly_faster_than_the_plates)
{
    long steps[3];
    for (int i = 0; i < 3; i++)
        steps[i] = steps_of(250 << i);
    for (int i = 1; i < 3; i++)
        ck_assert_msg((double)steps[i] <= pow(2, 1.2) * (double)steps[i - 1],
                      "%d plates: %ld steps; %d: %ld", 250 << (i - 1), steps[i - 1], 250 << i, steps[i]);
}
END_TEST

TCase *machine_tests(void)
{
    TCase *c = tcase_create("machine");
    tcase_add_checked_fixture(c, open_small, close_small);
    tcase_add_test(c, the_small_job_has_only_what_it_was_given);
    tcase_add_test(c, work_grows_hardly_faster_than_the_plates);
    tcase_add_loop_test(c, the_first_rung_that_fails_speaks_with_the_worse_states_figures, 0,
                        (int)COUNT_OF(rung_rows));
    tcase_add_loop_test(c, a_two_sided_rule_stands_by_its_smaller_margin, 0, (int)COUNT_OF(window_rows));
    tcase_add_test(c, standing_is_told_of_rules_that_apply_and_can_be_judged);
    tcase_add_loop_test(c, a_yes_or_no_rung_needs_no_figure, 0, (int)COUNT_OF(yesno_rows));
    tcase_add_test(c, each_item_of_the_kind_is_judged_by_itself);
    tcase_add_test(c, a_finding_names_what_would_mend_it);
    tcase_add_test(c, holes_alike_are_one_finding_with_the_worst_of_them);
    tcase_add_loop_test(c, two_holes_are_judged_by_the_wall_between_them, 0, (int)COUNT_OF(pair_rows));
    tcase_add_test(c, pairs_of_one_group_are_judged_too);
    tcase_add_loop_test(c, what_is_typed_over_wants_a_reason, 0, (int)COUNT_OF(typed_rows));
    tcase_add_test(c, a_table_from_memory_is_told_where_a_fault_leans_on_it);
    tcase_add_test(c, what_is_not_filled_in_is_told_once_for_all_rules_it_blocks);
    tcase_add_test(c, one_origin_that_blocks_one_rule_in_both_states_is_one_rule);
    tcase_add_test(c, two_origins_are_two_findings);
    tcase_add_loop_test(c, an_origin_behind_a_hole_or_a_measure_is_named_once, 0, (int)COUNT_OF(origins));
    tcase_add_test(c, a_yes_or_no_rung_speaks_though_the_figure_behind_it_is_not_known);
    tcase_add_test(c, a_frozen_list_tells_what_came_and_what_went);
    tcase_add_test(c, a_kept_try_is_judged_as_it_was_while_tried);
    tcase_add_loop_test(c, a_dropped_try_leaves_the_list_as_it_was, 0, (int)COUNT_OF(dropped));
    tcase_add_test(c, figures_are_told_in_the_jobs_unit);
    return c;
}
