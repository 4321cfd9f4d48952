/* What a set is when it is made: against printed sums, against sampling by another program, and against the
 * rules themselves with the worst sizes typed. */

#include "../common.h"

#include "diewright/tolerance.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct handbook *shipped;
static struct { struct dieset *d; struct findings *f; } bench;

static void open_handbook(void) { ck_ok(handbook_load("data", &shipped, why)); }
static void close_handbook(void) { handbook_free(shipped); }

/* The demo job with MORE behind it. */
static void open_with(const char *more)
{
    struct dieset_text t;
    char *text = read_text("data/demo/cover-plate.txt"), *all = base_format("%s\n%s", text, more);
    ck_ok(dieset_text_read(shipped, all, "job", &t, why));
    ck_ok(dieset_new(shipped, NULL, &bench.d, why));
    ck_ok(dieset_text_load(&t, bench.d, why));
    bench.f = findings_new(bench.d);
    dieset_text_done(&t);
    free(all);
    free(text);
}

static void close_job(void)
{
    findings_free(bench.f);
    dieset_free(bench.d);
}

static struct tolerance *run(const char *expression, unsigned seed, int samples)
{
    const struct tolerance_ask ask = {.expression = expression, .item = -1, .seed = seed, .samples = samples};
    struct tolerance *t = NULL;
    ck_ok(tolerance_run(bench.d, &ask, &t, why));
    return t;
}

/* ---- printed sums ------------------------------------------------------------------------------------- */

#define SIZE(name, lower, upper) \
    "limits of_" name "\n  of = \"v." name "\"\n  lower = " lower "\n  upper = " upper "\n"

static const struct {
    const char *source, *sizes, *limits, *expression;
    double drawn, low, high, root, within; /* mm */
} sums[] = {
    /* 0.005 +- 0.010 in */
    {"J. E. Shigley, Mechanical Engineering Design, chapter 1, example on dimensions and tolerances: from "
     "memory",
     "  a : length = 1.750 in\n  b : length = 0.750 in\n  c : length = 0.120 in\n  d : length = 0.875 in\n",
     SIZE("a", "-0.003 in", "0.003 in") SIZE("b", "-0.001 in", "0.001 in") SIZE("c", "-0.005 in", "0.005 in")
         SIZE("d", "-0.001 in", "0.001 in"),
     "v.a - v.b - v.c - v.d", 0.005 * 25.4, -0.005 * 25.4, 0.015 * 25.4, 0.006 * 25.4, 1e-6},
    /* 0.007 to 0.041 tight */
    {"U. C. Jindal, Machine Design, example 4-2, p. 112: 25 H7 r6, hole +21/0, shaft +41/+28",
     "  bore : length = 25 mm\n  shaft : length = 25 mm\n",
     SIZE("bore", "0 mm", "0.021 mm") SIZE("shaft", "0.028 mm", "0.041 mm"), "v.shaft - v.bore", 0, 0.007,
     0.041, 0.01235, 1e-4},
    /* 0.018 to 0.059 tight */
    {"V. B. Bhandari, Machine Design, example 3.3, p. 70: 50 H7 s6, hole +25/0, shaft +59/+43",
     "  bore : length = 50 mm\n  shaft : length = 50 mm\n",
     SIZE("bore", "0 mm", "0.025 mm") SIZE("shaft", "0.043 mm", "0.059 mm"), "v.shaft - v.bore", 0, 0.018,
     0.059, 0.01484, 1e-4},
    /* 3.00, +- 0.23, root of squares 0.126 */
    {"own arithmetic: a gap of four parts",
     "  a : length = 40 mm\n  b : length = 25 mm\n  c : length = 2 mm\n  d : length = 10 mm\n",
     SIZE("a", "-0.10 mm", "0.10 mm") SIZE("b", "-0.05 mm", "0.05 mm") SIZE("c", "-0.03 mm", "0.03 mm")
         SIZE("d", "-0.05 mm", "0.05 mm"),
     "v.a - v.b - v.c - v.d", 3, 2.77, 3.23, 0.126, 5e-4},
};

START_TEST(sums_are_those_that_are_printed)
{
    char *more = base_format("values v\n%s%s", sums[_i].sizes, sums[_i].limits);
    open_with(more);
    struct tolerance *t = run(sums[_i].expression, 1, 2000);
    ck_assert_double_eq_tol(t->drawn, sums[_i].drawn, 1e-9);
    ck_assert_double_eq_tol(t->worst_low, sums[_i].low, 1e-6);
    ck_assert_double_eq_tol(t->worst_high, sums[_i].high, 1e-6);
    ck_assert_double_eq_tol(t->root, sums[_i].root, sums[_i].within);
    ck_assert_double_eq_tol(t->middle, (sums[_i].low + sums[_i].high) / 2, 1e-6);
    ck_assert(t->least >= t->worst_low && t->most <= t->worst_high);
    double share = 0, squares = 0;
    for (size_t i = 0; i < t->parts.count; i++) {
        share += t->parts.at[i].share;
        squares += t->parts.at[i].squares;
        ck_assert(i == 0 || t->parts.at[i].share <= t->parts.at[i - 1].share + 1e-9);
    }
    ck_assert_double_eq_tol(share, 1, 1e-9);
    ck_assert_double_eq_tol(squares, 1, 1e-9);
    tolerance_free(t);
    close_job();
    free(more);
}
END_TEST

/* ---- samples ------------------------------------------------------------------------------------------ */

/* Five plates and the punches, each even within 0.02 each way: the deviation of an even figure is the half
 * width over the root of three, that of a sum the root of how many there are times as much (common
 * statistics). */
START_TEST(samples_of_a_sum_have_the_deviation_of_a_sum)
{
    open_with("");
    struct tolerance *t = run("stack.shut_height", 1, 20000);
    ck_assert_int_eq((int)t->parts.count, 6);
    ck_assert_double_eq_tol(t->mean, t->drawn, 4 * 0.0283 / sqrt(20000));
    ck_assert_double_eq_tol(t->deviation, 0.02 * sqrt(6.0 / 3), 0.03 * 0.0283);
    tolerance_free(t);
    close_job();
}
END_TEST

START_TEST(the_same_seed_gives_the_same_figures)
{
    open_with("");
    struct tolerance *a = run("stack.shut_height", 7, 1000), *b = run("stack.shut_height", 7, 1000),
                     *c = run("stack.shut_height", 8, 1000);
    ck_assert_double_eq(a->mean, b->mean);
    ck_assert_double_eq(a->nearly_low, b->nearly_low);
    ck_assert_double_ne(a->mean, c->mean);
    tolerance_free(a);
    tolerance_free(b);
    tolerance_free(c);
    close_job();
}
END_TEST

/* Force of eight springs pressed by their preload and lead, a product: sampled by another program with a
 * seed of its own. Means may differ by five times their standard error, deviations by 3 percent, the limits
 * of 99.73 percent by 2 percent of the force. */
START_TEST(samples_of_a_product_are_those_of_another_program)
{
    static const char script[] =
        "python3 -c 'import random as r, statistics as s\n"
        "r.seed(4711)\n"
        "v = sorted(%d * r.uniform(%.9f, %.9f) * (r.uniform(%.9f, %.9f) - %.9f) for i in range(20000))\n"
        "print(s.mean(v), s.stdev(v), v[27], v[-28])'";
    open_with(
        "limits rate_off\n  of = \"stripper_springs.rate\"\n  share = 8 %\n"
        "limits free_off\n  of = \"stripper_springs.free_length\"\n  lower = -0.5 mm\n  upper = 1 mm\n"
        "values v\n  force : force = 6 * stripper_springs.rate * (stripper_springs.free_length - 80 mm)\n");
    double rate = dieset_get(bench.d, "stripper_springs.rate", DIESET_NEW).number,
           length = dieset_get(bench.d, "stripper_springs.free_length", DIESET_NEW).number, mean, deviation,
           low, high;
    struct tolerance *t = run("v.force", 3, 20000);
    char *command = base_format(script, 6, rate * 0.92, rate * 1.08, length - 0.5, length + 1, 80.0);
    FILE *from = popen(command, "r");
    ck_assert_int_eq(fscanf(from, "%lf %lf %lf %lf", &mean, &deviation, &low, &high), 4);
    ck_assert_int_eq(pclose(from), 0);
    ck_assert_double_eq_tol(t->mean, mean, 5 * deviation * sqrt(2.0 / 20000));
    ck_assert_double_eq_tol(t->deviation, deviation, 0.03 * deviation);
    ck_assert_double_eq_tol(t->nearly_low, low, 0.02 * mean);
    ck_assert_double_eq_tol(t->nearly_high, high, 0.02 * mean);
    ck_assert_double_eq_tol(t->worst_low, 6 * rate * 0.92 * (length - 0.5 - 80), 1e-6 * mean);
    ck_assert_double_eq_tol(t->worst_high, 6 * rate * 1.08 * (length + 1 - 80), 1e-6 * mean);
    tolerance_free(t);
    free(command);
    close_job();
}
END_TEST

/* ---- what is made and what is drawn ------------------------------------------------------------------- */

/* A plate that comes out thick moves the stack, and no size that is picked by it. */
START_TEST(what_is_drawn_does_not_move_with_what_is_made)
{
    open_with("");
    struct tolerance *t = run("posts.length", 1, 0);
    ck_assert_int_eq((int)t->parts.count, 1);
    ck_assert_str_eq(t->parts.at[0].path, "posts.length");
    ck_assert_double_eq_tol(t->worst_high - t->drawn, 0.5, 1e-9); /* ISO 2768-1 medium, over 120 to 400 */
    tolerance_free(t);
    t = run("blank.opening - blank.punch", 1, 0); /* the clearance is drawn by the strip as it is ordered */
    ck_assert_int_eq((int)t->parts.count, 0);
    tolerance_free(t);
    t = run("strip.channel - strip.width", 1, 0);
    ck_assert_str_eq(t->parts.at[0].path, "strip.width");
    ck_assert_double_eq_tol(t->worst_low, 0, 1e-9);
    tolerance_free(t);
    close_job();
}
END_TEST

START_TEST(limits_that_are_typed_count_and_say_so)
{
    open_with("limits of_die\n  of = \"die_plate.thickness\"\n  lower = 0 mm\n  upper = 0.05 mm\n");
    struct tolerance *t = run("stack.shut_height", 1, 0);
    ck_assert_str_eq(t->parts.at[0].path, "die_plate.thickness");
    ck_assert_str_eq(t->parts.at[0].source, "own");
    ck_assert_double_eq_tol(t->worst_high - t->drawn, 5 * 0.02 + 0.05, 1e-9);
    ck_assert_double_eq_tol(t->drawn - t->worst_low, 5 * 0.02, 1e-9);
    tolerance_free(t);
    close_job();
}
END_TEST

static const struct { const char *more, *expression, *says;
} refused[] = {
    {"limits l\n  of = \"die_plate.thikness\"\n  lower = 0 mm\n  upper = 1 mm\n", "stack.shut_height",
     "near it: die_plate.thickness"},
    {"limits l\n  of = \"die_plate.thickness\"\n  lower = 1 mm\n  upper = 0 mm\n", "stack.shut_height",
     "l: the lower limit is over the upper one."},
    {"limits l\n  of = \"die_plate.thickness\"\n  lower = 1 mm\n", "stack.shut_height",
     "type both, or a share."},
    {"limits l\n  of = \"die_plate.material\"\n  share = 5 %\n", "stack.shut_height", "is no number"},
    {"", "die_plate.material", "is no number: only a number has limits."},
    {"", "stack.shut_heigt", "stack has no \"shut_heigt\""},
    {"", "stack.shut_height +", ""},
};

START_TEST(what_cannot_be_is_refused)
{
    open_with(refused[_i].more);
    const struct tolerance_ask ask = {.expression = refused[_i].expression, .item = -1};
    struct tolerance *t = NULL;
    struct base_diag diag = {0};
    ck_assert_int_ne(tolerance_run(bench.d, &ask, &t, &diag), BASE_OK);
    ck_assert_ptr_null(t);
    ck_assert_ptr_nonnull(strstr(diag.message, refused[_i].says));
    close_job();
}
END_TEST

/* ---- chains ------------------------------------------------------------------------------------------- */

/* By hand: clearance 0.072 (6 percent of 1.2); a side 0.005 + 0.005 of sizes at 0.01 over the diameter, four
 * places of 0.01, pins H7 on m6 at 10: (15 - 6)/2 um twice, posts h3 in H5 at 32: (11 + 4)/2 um. */
static const struct { const char *chain, *item; double drawn, low, high; } chains[] = {
    {"stack-height", NULL, 224.2, 224.08, 224.32},
    {"punch-to-opening", "blank", 0.072, 0.072 - 0.0665, 0.072 + 0.0665},
    {"post-play", "bushings", 0, 0, 0.015},
    {"dowel-to-hole", "die_dowels", 0, -0.015, 0.009}, /* 10 H7 m6: +15/0 and +15/+6, ISO 286-2 */
    {"strip-in-channel", NULL, 0.2, -0.02, 0.42},
};

START_TEST(chains_come_to_what_a_hand_adds_up)
{
    struct tolerance_ask ask[20];
    struct tolerance *t = NULL;
    int n;
    open_with("");
    ck_ok(tolerance_read(bench.d, chains[_i].chain, chains[_i].item, ask, 20, &n, why));
    ck_assert_int_eq(n, 1);
    ck_ok(tolerance_run(bench.d, &ask[0], &t, why));
    ck_assert_double_eq_tol(t->drawn, chains[_i].drawn, 1e-6);
    ck_assert_double_eq_tol(t->worst_low, chains[_i].low, 1e-6);
    ck_assert_double_eq_tol(t->worst_high, chains[_i].high, 1e-6);
    tolerance_free(t);
    close_job();
}
END_TEST

/* ---- rules -------------------------------------------------------------------------------------------- */

/* A rule that turns is short by as much as it is with the worse size typed in its place: the strip's
 * thickness alone tells the greatest land. */
START_TEST(rules_at_the_worst_case_are_those_with_the_worst_typed)
{
    struct tolerance_worst w;
    struct finding as_typed;
    const struct typed_change thin = {TYPED_ENTRY, "strip", "thickness", NULL, "1.14 mm"};
    open_with("");
    ck_ok(tolerance_rules(bench.f, &w, why));
    size_t i = 0;
    while (i < w.at.count && strcmp(w.at.at[i].f.rule->name, "land-long") != 0)
        i++;
    ck_assert_uint_lt(i, w.at.count);
    ck_assert_double_gt(w.at.at[i].f.margin, 0);
    ck_assert_ptr_nonnull(strstr(w.at.at[i].parts, "thickness of strip"));
    ck_ok(dieset_try(bench.d, &thin, 1, why));
    ck_assert(findings_standing(bench.f, "land-long", -1, w.at.at[i].f.state, &as_typed));
    ck_assert_double_eq_tol(w.at.at[i].f.worst, as_typed.margin, 1e-6);
    dieset_drop(bench.d);
    tolerance_worst_done(&w);
    close_job();
}
END_TEST

/* Ground plates and a strip that is never off turn nothing; and a rule that fails as drawn is not told
 * again. */
START_TEST(without_limits_no_rule_turns)
{
    struct tolerance_worst w;
    open_with("");
    const struct typed_change none[] = {
        {TYPED_ENTRY, "strip", "deviation_thickness", NULL, "0 mm"},
        {TYPED_ENTRY, "strip", "deviation_width", NULL, "0 mm"},
        {TYPED_ENTRY, "job", "stack_limits", NULL, "0 mm"},
        {TYPED_ENTRY, "job", "tolerances", NULL, "\"not told\""},
        {TYPED_ITEM, "spring_rate_off", "", NULL, "factor"},
        {TYPED_ENTRY, "spring_rate_off", "value", NULL, "0"},
        {TYPED_ITEM, "free", "", NULL, "limits"},
        {TYPED_ENTRY, "free", "of", NULL, "\"stripper_springs.free_length\""},
        {TYPED_ENTRY, "free", "share", NULL, "0"},
        {TYPED_ITEM, "bolts", "", NULL, "limits"},
        {TYPED_ENTRY, "bolts", "of", NULL, "\"stripper_bolts.length\""},
        {TYPED_ENTRY, "bolts", "share", NULL, "0"},
        {TYPED_ITEM, "thin", "", NULL, "limits"},
        {TYPED_ENTRY, "thin", "of", NULL, "\"pilots.diameter\""},
        {TYPED_ENTRY, "thin", "share", NULL, "0"},
    };
    ck_ok(dieset_try(bench.d, none, (int)COUNT_OF(none), why));
    ck_ok(tolerance_rules(bench.f, &w, why));
    ck_assert_uint_eq(w.at.count, 0);
    tolerance_worst_done(&w);
    dieset_drop(bench.d);
    close_job();
}
END_TEST

int main(void)
{
    Suite *s = suite_create("tolerance");
    TCase *t = tcase_create("made");
    tcase_add_unchecked_fixture(t, open_handbook, close_handbook);
    tcase_add_loop_test(t, sums_are_those_that_are_printed, 0, (int)COUNT_OF(sums));
    tcase_add_test(t, samples_of_a_sum_have_the_deviation_of_a_sum);
    tcase_add_test(t, the_same_seed_gives_the_same_figures);
    tcase_add_test(t, samples_of_a_product_are_those_of_another_program);
    tcase_add_test(t, what_is_drawn_does_not_move_with_what_is_made);
    tcase_add_test(t, limits_that_are_typed_count_and_say_so);
    tcase_add_loop_test(t, what_cannot_be_is_refused, 0, (int)COUNT_OF(refused));
    tcase_add_loop_test(t, chains_come_to_what_a_hand_adds_up, 0, (int)COUNT_OF(chains));
    tcase_add_test(t, rules_at_the_worst_case_are_those_with_the_worst_typed);
    tcase_add_test(t, without_limits_no_rule_turns);
    suite_add_tcase(s, t);
    return run_suite(s);
}
