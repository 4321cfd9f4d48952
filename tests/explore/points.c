/* Points of a run, held against the same value typed alone and judged whole: every quantity and every finding
 * is compared, over values of many kinds, on both demo jobs. */

#include "explore.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct row { const char *job, *path, *from, *to, *step; } rows[] = {
    {"cover-plate", "die_plate.thickness", "16", "60", "0.5"},
    {"cover-plate", "die_backing.thickness", "6", "25", "0.25"},
    {"cover-plate", "upper_shoe.thickness", "25 mm", "80 mm", "2.5 mm"},
    {"cover-plate", "stripper.thickness", "10", "40", "1"},
    {"cover-plate", "strip.thickness", "0.3", "6", "0.1"},
    {"cover-plate", "stack.punch_length", "60", "90", "1.5"},
    {"cover-plate", "stack.entry", "0", "4", "0.25"},
    {"cover-plate", "stack.die_regrind", "0", "12", "0.5"},
    {"cover-plate", "stack.margin_in", "5", "60", "2.5"},
    {"cover-plate", "die_screws.lay.end", "8", "60", "2"},
    {"cover-plate", "die_screws.length", "20", "90", "2.5"},      /* typed over its usual */
    {"cover-plate", "die_dowels.diameter", "4", "20", "1"},
    {"cover-plate", "posts.length", "120", "320", "10"},
    {"cover-plate", "posts.right_back.x", "-220", "260", "20"},   /* moves holes */
    {"cover-plate", "posts.diameter", "16", "50", "1"},
    {"cover-plate", "stripper_springs.rate", "20 N/mm", "400 N/mm", "10 N/mm"},
    {"cover-plate", "dimples.forming_force", "0", "40", "1"},     /* in kN */
    {"cover-plate", "strip.clearance_share", "0.02", "0.2", "0.01"},
    {"cover-plate", "screw_reserve", "1", "10", "0.5"},            /* a factor */
    {"cover-plate", "risers.height", "20", "120", "5"},
    {"cover-plate", "press.stroke", "20", "160", "10"},
    /* what is cut of the strip is geometry */
    {"cover-plate", "middle_hole.size", "0.5", "30", "0.5"},
    {"cover-plate", "strip.pitch", "20", "40", "1"},
    /* a count: makes and takes away holes */
    {"cover-plate", "dimples.lay.columns", "1", "6", "1"},
    {"cover-plate", "stripper_springs.lay.end", "10", "70", "5"},
    {"spacer-plate", "die_plate.thickness", "12", "50", "1"},
    {"spacer-plate", "strip.thickness", "0.3", "5", "0.1"},
    {"spacer-plate", "lower_shoe.thickness", "20", "70", "2"},
    {"spacer-plate", "stack.punch_regrind", "0", "10", "0.5"},
    {"spacer-plate", "die_screws.lay.side", "8", "40", "2"},
};

static struct bench bench;
static void close_bench(void) { bench_close(&bench); }

static void open_job(const char *job)
{
    char *path = base_format("data/demo/%s.txt", job);
    bench_open(&bench, path);
    free(path);
}

static struct explore *run_all(const struct row *r)
{
    struct explore_ask ask;
    struct explore *x;
    int n = dieset_quantity_count(bench.d), *all = base_alloc((size_t)n * sizeof *all);
    for (int i = 0; i < n; i++)
        all[i] = i;
    ck_ok(explore_read(bench.d, r->path, r->from, r->to, r->step, &ask, why));
    ask.show = all;
    ask.n_show = n;
    ck_ok(explore_run(bench.f, &ask, &x, why));
    free(all);
    return x;
}

/* POINT of X, typed alone. */
static void try_alone(const struct row *r, const struct explore *x, int point)
{
    int q = dieset_find(bench.d, r->path), item = dieset_quantity(bench.d, q)->item;
    const struct typed_change changes[] = {
        {TYPED_ITEM, r->path, "", NULL, "factor"},
        {TYPED_ENTRY, item < 0 ? r->path : dieset_item_name(bench.d, item),
         item < 0 ? "value" : dieset_quantity(bench.d, q)->entry, NULL, x->text[point]}};
    ck_ok(dieset_try(bench.d, item < 0 ? changes : changes + 1, item < 0 ? 2 : 1, why));
}

static void same_values(const struct row *r, const struct explore *x, int point)
{
    for (int i = 0; i < x->n_shown; i++)
        for (int s = 0; s < DIESET_STATES; s++) {
            struct formula_value v = explore_value(x, i, (enum dieset_state)s, point),
                                 w = dieset_get(bench.d, x->shown[i].path, (enum dieset_state)s);
            if (v.error != w.error || (!v.error && v.number != w.number))
                ck_abort_msg("%s at %s: %s is %.17g (%d) in the run, %.17g (%d) alone", r->path,
                             x->text[point], x->shown[i].path, v.number, v.error, w.number, w.error);
        }
}

static const struct explore_finding *fellow(const struct explore *x, const char *key)
{
    for (size_t i = 0; i < x->findings.count; i++)
        if (strcmp(x->findings.at[i].key, key) == 0)
            return &x->findings.at[i];
    return NULL;
}

static void same_findings(const struct row *r, const struct explore *x, int point)
{
    struct findings *whole = findings_new(bench.d);
    const struct finding *list;
    int n = findings_judge(whole, &list), here = 0, alone = 0;
    for (int i = 0; i < n; i++) {
        int same = 0; /* two that stand in the way of one rule have one key */
        while (strcmp(list[same].key, list[i].key) != 0)
            same++;
        alone += same == i;
        const struct explore_finding *f = fellow(x, list[i].key);
        ck_assert_msg(f && f->grades[point] == (int)list[i].grade, "%s at %s: only alone there is %s",
                      r->path, x->text[point], list[i].key);
    }
    for (size_t i = 0; i < x->findings.count; i++)
        here += x->findings.at[i].grades[point] >= 0;
    ck_assert_msg(here == alone, "%s at %s: %d findings, alone %d", r->path, x->text[point], here, alone);
    findings_free(whole);
}

START_TEST(a_point_is_as_its_value_typed_alone)
{
    const struct row *r = &rows[_i];
    open_job(r->job);
    struct explore *x = run_all(r);
    for (int i = 0; i < 3; i++) {
        int point = (x->n - 1) * i / 2;
        try_alone(r, x, point);
        same_values(r, x, point);
        same_findings(r, x, point);
        dieset_drop(bench.d);
    }
    explore_free(x);
}
END_TEST

/* A test of the rows themselves: over them findings come and go, or the comparison would say little. */
START_TEST(findings_change_over_the_ranges)
{
    open_job("cover-plate");
    int changing = 0, values = 0;
    for (size_t k = 0; k < COUNT_OF(rows); k++) {
        if (strcmp(rows[k].job, "cover-plate") != 0)
            continue;
        struct explore *x = run_all(&rows[k]);
        for (size_t i = 0; i < x->findings.count; i++)
            changing += x->findings.at[i].count < x->n;
        values += x->n;
        explore_free(x);
    }
    ck_assert_int_gt(changing, 60);
    ck_assert_int_gt(values, 500);
}
END_TEST

/* ---- waivers ---- */

static const struct { const char *finding, *grade, *states, *margin; } waived[] = {
    /* 42.5 are wanted, 33 are left where the plate is 34 thick */
    {"opening-wall-straight blank", "caution", "new", "-9.5 mm"},
    {"turn-proof die_plate", "caution", "new", "-1 mm"},
    {"post-end posts", "fault", "ground", "-3 mm"},
    {"screw-bottom die_screws", "caution", "both", "-9 mm"},    /* a fault it does not cover */
};

static void waive(const char *name, size_t i)
{
    const char *const lines[][2] = {{"", "waiver"},
                                    {"finding", waived[i].finding},
                                    {"grade", waived[i].grade},
                                    {"states", waived[i].states},
                                    {"margin", waived[i].margin},
                                    {"says", "for the test"}};
    struct typed_change changes[COUNT_OF(lines)] = {0};
    for (size_t k = 0; k < COUNT_OF(lines); k++)
        changes[k] = (struct typed_change){
            .what = k ? TYPED_ENTRY : TYPED_ITEM, .item = name, .path = lines[k][0], .after = lines[k][1]};
    ck_ok(dieset_try(bench.d, changes, (int)COUNT_OF(changes), why));
    dieset_keep(bench.d);
}

START_TEST(what_is_waived_is_so_as_far_as_its_waiver_goes)
{
    static const struct row row = {"cover-plate", "die_plate.thickness", "16", "48", "0.5"};
    open_job(row.job);
    waive("waiver_1", 0);
    waive("waiver_2", 1);
    waive("waiver_3", 2);
    waive("waiver_4", 3);
    struct explore *best = run_all(&row);
    const struct explore_finding *wall = fellow(best, "opening-wall-straight blank"),
                                 *bottom = fellow(best, "screw-bottom die_screws");
    int at = explore_nearest(best, 34);
    ck_assert_int_eq(wall->grades[at], EXPLORE_WAIVED);
    /* shorter by half a millimetre than what was waived */
    ck_assert_int_eq(wall->grades[at + 1], HANDBOOK_CAUTION);
    ck_assert_int_eq(wall->grades[0], EXPLORE_ABSENT);
    ck_assert(explore_clear(best, at));
    ck_assert(!explore_clear(best, at + 1));
    ck_assert_int_eq(bottom->waived, 0);
    ck_assert_int_gt(fellow(best, "post-end posts")->waived, 0);
    ck_assert_int_lt(fellow(best, "post-end posts")->waived, fellow(best, "post-end posts")->count);
    ck_assert_int_eq(fellow(best, "turn-proof die_plate")->waived, best->n);
    struct base_text t = {0};
    explore_findings_at(best, at, &t);
    ck_assert_ptr_nonnull(
        strstr(base_text_get(&t), "; waived opening-wall-straight blank; waived turn-proof die_plate"));
    base_text_clear(&t);
    explore_plot(best, 0, 100, 8, &t);
    ck_assert_ptr_nonnull(strstr(base_text_get(&t), "~~XX"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&t), "~ waived"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&t), "turned (die plate), waived"));
    base_text_done(&t);
    explore_free(best);
}
END_TEST

TCase *point_tests(void)
{
    TCase *t = tcase_create("points");
    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, NULL, close_bench);
    tcase_add_loop_test(t, a_point_is_as_its_value_typed_alone, 0, (int)COUNT_OF(rows));
    tcase_add_test(t, findings_change_over_the_ranges);
    tcase_add_test(t, what_is_waived_is_so_as_far_as_its_waiver_goes);
    return t;
}
