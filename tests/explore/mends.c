/* What would clear a finding: figures by hand, and on every finding that stands: what is proposed clears it,
   one step less does not. */

#include "explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_cover(void) { bench_open(&bench, "data/demo/cover-plate.txt"); }
static void close_cover(void) { bench_close(&bench); }

/* Type TEXT at PATH for good. */
static void set(const char *path, const char *text)
{
    int q = dieset_find(bench.d, path);
    ck_assert_int_ge(q, 0);
    const struct dieset_quantity *v = dieset_quantity(bench.d, q);
    struct typed_change c = {TYPED_ENTRY, dieset_item_name(bench.d, v->item), v->entry, NULL, text};
    ck_ok(dieset_try(bench.d, &c, 1, why));
    dieset_keep(bench.d);
}

static bool stands(const char *key)
{
    const struct finding *list;
    int n = findings_judge(bench.f, &list);
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return true;
    return false;
}

/* Would the finding stand with TEXT at PATH? */
static bool stands_with(const char *key, const char *path, const char *text)
{
    const struct dieset_quantity *v = dieset_quantity(bench.d, dieset_find(bench.d, path));
    struct typed_change c = {TYPED_ENTRY, dieset_item_name(bench.d, v->item), v->entry, NULL, text};
    ck_ok(dieset_try(bench.d, &c, 1, why));
    bool there = stands(key);
    dieset_drop(bench.d);
    return there;
}

static struct explore_mend *mend(const char *key)
{
    findings_judge(bench.f, NULL);
    struct explore_mend *m = explore_mend_new(bench.f, key);
    while (m && explore_mend_more(bench.f, m))
        ;
    return m;
}

static const struct explore_proposal *proposal(const struct explore_mend *m, const char *path)
{
    for (size_t i = 0; i < m->at.count; i++)
        if (strcmp(m->at.at[i].path, path) == 0)
            return &m->at.at[i];
    return NULL;
}

/* EDIT "path=text" or NULL, the finding, the value, and what is proposed; COMES: what that brings, ""
   nothing. */
static const struct {
    const char *path, *text, *key, *value, *typed, *is;
    bool listed;
    const char *comes, *sizes;
} by_hand[] = {
    /* the wall of 33 mm lacks 9.5: the margin of 30 mm at the outgoing end grows to 39.5 */
    {NULL, NULL, "opening-wall-straight blank", "stack.margin_out", "39.5 mm", "39.5 mm", false, NULL, ""},
    /* the demo's third change: need 200.7 mm takes a post of 224; 0.7 mm deeper the need is 200.0, a length
       of ISO 3 R20 */
    {"die_plate.thickness", "40 mm", "post-end posts", "posts.sunk", "2.7 mm", "2.7 mm", false, NULL,
     "posts.length 224.0 mm -> 200.0 mm"},
    /* 224 is 3.3 mm too long; the next shorter one is 200 */
    {"die_plate.thickness", "40 mm", "post-end posts", "posts.length", "200 mm", "200.0 mm", true, NULL, ""},
    /* 28 x 40 with corners of 6 in 34 x 60 is 0.5339; a width that uses 75 %: 60 mm x 0.5339 / 0.75 = 42.71,
       in a shop's half millimetres 42.5 */
    {NULL, NULL, "strip-use", "strip.width", "42.5 mm", "42.5 mm", false, NULL, NULL},
    /* 53 are passed: 65 would have 10.75 of thread, 12 are wanted */
    {"die_screws.length", "60 mm", "screw-engagement die_screws", "die_screws.length", "70 mm", "70.0 mm",
     true, NULL, ""},
};

START_TEST(a_proposal_is_the_nearest_value_that_clears)
{
    if (by_hand[_i].path)
        set(by_hand[_i].path, by_hand[_i].text);
    struct explore_mend *m = mend(by_hand[_i].key);
    ck_assert_msg(m != NULL, "%s does not stand", by_hand[_i].key);
    const struct explore_proposal *p = proposal(m, by_hand[_i].value);
    ck_assert_msg(p != NULL, "%s: nothing for %s", by_hand[_i].key, by_hand[_i].value);
    ck_assert_str_eq(p->text, by_hand[_i].typed);
    ck_assert_str_eq(p->is, by_hand[_i].is);
    ck_assert_int_eq(p->listed, by_hand[_i].listed);
    ck_assert_msg(!by_hand[_i].sizes || strcmp(p->sizes, by_hand[_i].sizes) == 0, "%s", p->sizes);
    ck_assert(!stands_with(by_hand[_i].key, by_hand[_i].value, p->text));
    explore_mend_free(m);
}
END_TEST

/* Everything as lines, to see that trying leaves no trace. */
static char *all_of(void)
{
    struct base_text out = {0};
    char buf[200];
    const struct finding *list;
    for (int q = 0; q < dieset_quantity_count(bench.d); q++)
        base_text_addf(&out, "%s %s\n", dieset_quantity(bench.d, q)->path,
                       dieset_print(bench.d, q, DIESET_GROUND, buf, sizeof buf));
    int n = findings_judge(bench.f, &list);
    for (int i = 0; i < n; i++)
        base_text_addf(&out, "%s: %s\n", list[i].key, list[i].message);
    return base_text_take(&out);
}

/* Findings of GRADE and worse, as it stands or with TEXT at PATH. */
static int as_bad_with(enum handbook_grade grade, const char *path, const char *text)
{
    const struct finding *list;
    int bad = 0;
    if (path) {
        const struct dieset_quantity *v = dieset_quantity(bench.d, dieset_find(bench.d, path));
        struct typed_change c = {TYPED_ENTRY, dieset_item_name(bench.d, v->item), v->entry, NULL, text};
        ck_ok(dieset_try(bench.d, &c, 1, why));
    }
    for (int i = findings_judge(bench.f, &list); i-- > 0;)
        bad += list[i].grade >= grade;
    if (path)
        dieset_drop(bench.d);
    return bad;
}

/* One step less of a length that is typed freely: the finding stands, or something as bad has come for it. */
static void not_less(const struct explore_mend *m, const struct explore_proposal *p)
{
    struct unit_dim dim;
    double factor, is = strtod(p->text, NULL), was = strtod(p->was, NULL);
    const char *unit = strchr(p->text, ' ');
    double step = strstr(p->path, ".lay.") ? 1 : was >= 100 ? 1 : was >= 10 ? 0.5 : 0.1;
    /* else no shop's figure does, and the last digit was looked for */
    bool on_grid = fabs(is / step - round(is / step)) < 1e-6;
    if (p->listed || !on_grid || !unit || !unit_scan(unit + 1, &dim, &factor) ||
        !unit_same(dim, UNIT_LENGTH) || fabs(is - was) < 1.5 * step)
        return;
    char *less = base_format("%.10g%s", is > was ? is - step : is + step, unit);
    ck_assert_msg(stands_with(m->key, p->path, less) ||
                      as_bad_with(m->grade, p->path, less) >= as_bad_with(m->grade, NULL, NULL),
                  "%s: %s clears %s already", p->path, less, m->key);
    free(less);
}

/* 400 tries of one finding, and what halving takes beside them. */
enum { MOST_TRIES = 400 + 40 };

/* What brings many findings of all sorts. */
static const char *const edits[][2] = {
    {"die_plate.thickness", "16 mm"}, {"posts.length", "140 mm"}, {"die_screws.size", "\"M16\""},
};

START_TEST(every_proposal_clears_its_finding_and_trying_leaves_no_trace)
{
    char **keys = NULL;
    const struct finding *list;
    set(edits[_i][0], edits[_i][1]);
    char *before = all_of();
    int n = findings_list(bench.f, &list), proposed = 0;
    keys = base_alloc((size_t)(n + 1) * sizeof *keys);
    for (int i = 0; i < n; i++)
        keys[i] = base_copy(list[i].key);
    for (int i = 0; i < n; i++) {
        struct explore_mend *m = mend(keys[i]);
        ck_assert_ptr_nonnull(m);
        ck_assert_int_le(m->tries, MOST_TRIES);
        for (size_t k = 0; k < m->at.count; k++, proposed++) {
            ck_assert_msg(!stands_with(keys[i], m->at.at[k].path, m->at.at[k].text), "%s: %s at %s", keys[i],
                          m->at.at[k].text, m->at.at[k].path);
            not_less(m, &m->at.at[k]);
        }
        explore_mend_free(m);
        free(keys[i]);
    }
    ck_assert_int_ge(proposed, 2);
    char *after = all_of();
    ck_assert_str_eq(before, after);
    free(keys);
    free(before);
    free(after);
}
END_TEST

/* 400 tries or 450,000 steps are what a finding has: with that made already none is made any more, and each
   value is told as one that was not come to. */
START_TEST(a_search_ends_when_its_tries_or_its_work_are_spent)
{
    set("die_plate.thickness", "40 mm");
    struct explore_mend *whole = mend("post-end posts");
    struct explore_mend *m = explore_mend_new(bench.f, "post-end posts");
    ck_assert_ptr_nonnull(m);
    size_t values = m->left.count;
    ck_assert_int_gt(values, 0);
    ck_assert_int_gt(whole->tries, 1);
    ck_assert_int_eq(whole->untried.count, 0);
    int made = m->tries = _i ? 0 : 400;
    m->steps = _i ? 450000 : 0;
    while (explore_mend_more(bench.f, m))
        ;
    ck_assert_int_eq(m->tries, made);
    ck_assert_int_eq(m->untried.count, values);
    ck_assert_int_eq(m->at.count, 0);
    explore_mend_free(m);
    explore_mend_free(whole);
}
END_TEST

START_TEST(what_comes_and_goes_along_is_told)
{
    set("die_plate.thickness", "40 mm");
    struct explore_mend *m = mend("post-end posts");
    const struct explore_proposal *p = proposal(m, "posts.length");
    ck_assert_ptr_nonnull(p);
    ck_assert_msg(strstr(p->comes, "note unreasoned posts.length") &&
                      strstr(p->comes, "fault post-entry posts"),
                  "%s", p->comes);
    ck_assert_int_ge(p->came[HANDBOOK_FAULT], 1);
    ck_assert_int_gt(p->moved, 0);
    ck_assert(!strstr(p->goes, "post-end"));
    explore_mend_free(m);
    findings_judge(bench.f, NULL);
    ck_assert_ptr_null(explore_mend_new(bench.f, "post-end"));
}
END_TEST

/* The walls between holes name no cure: what the work of the opening is, or which plate a spring sits in, is
   not offered. */
START_TEST(no_choice_is_offered_that_the_rule_does_not_name)
{
    set("strip.pitch", "22 mm"); /* the stations move together, into screws and dowels */
    const struct finding *list;
    int n = findings_judge(bench.f, &list), seen = 0;
    char **keys = base_alloc((size_t)(n + 1) * sizeof *keys);
    for (int i = 0; i < n; i++)
        keys[i] = base_copy(strncmp(list[i].key, "hole-wall ", 10) == 0 ? list[i].key : "");
    for (int i = 0; i < n; i++) {
        struct explore_mend *m = *keys[i] ? mend(keys[i]) : NULL;
        seen += m != NULL;
        for (size_t k = 0; m && k < m->at.count; k++)
            ck_assert_msg(dieset_quantity(bench.d, dieset_find(bench.d, m->at.at[k].path))->type.sort ==
                              HANDBOOK_NUMBER,
                          "%s", m->at.at[k].path);
        explore_mend_free(m);
        free(keys[i]);
    }
    free(keys);
    ck_assert_int_gt(seen, 0);
}
END_TEST

/* Too heavy without lifting holes: these have to be added, and nobody makes the shoe thin for it. */
START_TEST(a_rule_may_say_that_no_value_mends_it)
{
    set("upper_shoe.thickness", "120 mm");
    struct explore_mend *m = mend("lift-hole upper_shoe");
    ck_assert_ptr_nonnull(m);
    ck_assert(m->at.count == 0 && m->hopeless.count == 0 && m->untried.count == 0);
    explore_mend_free(m);
}
END_TEST

/* A hardness is proposed as one of the bands that are called for. */
START_TEST(a_hardness_is_proposed_as_a_band)
{
    set("die_plate.hardness", "\"48..52 HRC\"");
    struct explore_mend *m = mend("die-soft");
    ck_assert(m && m->at.count == 1);
    ck_assert_str_eq(m->at.at[0].text, "\"56..60 HRC\"");
    explore_mend_free(m);
}
END_TEST

/* ---- on the small set of the rules' tests ---- */

static void open_small(void) { bench_open(&bench, "tests/findings/base.txt"); }

/* The post that stands off its corner is put back: the set goes together either way round again. */
START_TEST(a_place_is_proposed_as_what_follows_its_plate)
{
    struct typed_change without = {TYPED_ENTRY, "posts", "lay/right_back/x/reason", NULL, NULL};
    set("posts.right_back.x", "usual + 1 mm");
    ck_ok(dieset_try(bench.d, &without, 1, why));
    dieset_keep(bench.d);
    struct explore_mend *m = mend("post-turn posts");
    ck_assert_ptr_nonnull(m);
    const struct explore_proposal *p = proposal(m, "posts.right_back.x");
    ck_assert_ptr_nonnull(p);
    ck_assert_msg(strncmp(p->text, "usual ", 6) == 0, "%s", p->text);
    ck_assert_msg(!*p->against, "%s", p->against);
    set(p->path, p->text);
    double was = dieset_get(bench.d, p->path, DIESET_NEW).number;
    explore_mend_free(m);
    set("stack.shoe_margin_ends", "70 mm"); /* either shoe 20 longer at either end */
    ck_assert_double_eq_tol(dieset_get(bench.d, "posts.right_back.x", DIESET_NEW).number, was + 20, 1e-9);
    ck_assert(!stands("post-turn posts"));
}
END_TEST

/* A loose point has no usual place of its own: it is held from its plate's middle. */
START_TEST(a_loose_point_is_held_from_its_plate)
{
    struct typed_change c[] = {{TYPED_ENTRY, "set_holes", "lay", NULL, "loose on lower_shoe"},
                               {TYPED_ENTRY, "set_holes", "lay/end", NULL, NULL}};
    ck_ok(dieset_try(bench.d, c, 2, why));
    dieset_keep(bench.d);
    set("set_holes.lay.many", "2");
    set("set_holes.p1.x", "lower_shoe.left + 5 mm");
    set("set_holes.p1.y", "0 mm");
    set("set_holes.p2.x", "141 mm");
    set("set_holes.p2.y", "0 mm");
    struct explore_mend *m = mend("hole-inside set_holes tap lower_shoe");
    ck_assert_ptr_nonnull(m);
    for (size_t i = 0; i < m->at.count; i++)
        if (strstr(m->at.at[i].path, ".x"))
            ck_assert_msg(strstr(m->at.at[i].text, "usual") || strstr(m->at.at[i].text, "lower_shoe"), "%s",
                          m->at.at[i].text);
    explore_mend_free(m);
}
END_TEST

/* What was typed by a formula is proposed as that formula and so much more. */
START_TEST(a_formula_stays_a_formula)
{
    set("posts.lay.side", "stack.shoe_margin_sides - 33 mm"); /* 12: out at the edge by 0.5 */
    struct explore_mend *m = mend("hole-inside posts post bore lower_shoe");
    ck_assert_ptr_nonnull(m);
    const struct explore_proposal *p = proposal(m, "posts.lay.side");
    ck_assert_ptr_nonnull(p);
    ck_assert_msg(strncmp(p->text, "stack.shoe_margin_sides - 33 mm + ", 34) == 0, "%s", p->text);
    explore_mend_free(m);
}
END_TEST

/* EDIT a;b, the finding, the value that clears it, and what stands against taking it. */
static const struct { const char *path, *text, *key, *value, *against;
} bad[] = {
    /* 600 mm2 of a strip of 50: for 75 % a pitch of 16, and the blanks are 20 long */
    {"strip.width", "50 mm", "strip-use", "strip.pitch", "brings fault strip-bridge"},
    /* names no cure: nothing is offered at all */
    {"press.most_height", "193 mm", "press-window", "press.most_height", NULL},
    {"strip.shear", "3000 MPa", "shear-strength-sane", "strip.shear", "it is given with the job"},
    {"strip.clearance_share", "30 %", "clearance-range", "strip.clearance_share",
     "typed with a reason: round figures"},
};

START_TEST(what_is_as_bad_stands_last_and_marked)
{
    set(bad[_i].path, bad[_i].text);
    struct explore_mend *m = mend(bad[_i].key);
    ck_assert_ptr_nonnull(m);
    const struct explore_proposal *p = proposal(m, bad[_i].value);
    ck_assert(bad[_i].against ? p != NULL : p == NULL);
    ck_assert_msg(!p || strstr(p->against, bad[_i].against), "%s: %s", p ? p->text : "", p ? p->against : "");
    for (size_t i = 1; i < m->at.count; i++)
        ck_assert_msg(!*m->at.at[i - 1].against || *m->at.at[i].against, "%s stands before %s",
                      m->at.at[i - 1].path, m->at.at[i].path);
    explore_mend_free(m);
}
END_TEST

/* Whatever is wrong: what is offered without a mark brings no fault, worsens none, and is no place in bare
   figures. */
static const char *const wrongs[][2] = {
    {"strip.pitch", "19 mm"}, {"posts.lay.end", "12 mm"}, {"die_dowels.lay.right_across", "30 mm"},
};

START_TEST(no_unmarked_proposal_brings_a_fault)
{
    set(wrongs[_i][0], wrongs[_i][1]);
    const struct finding *list;
    int n = findings_judge(bench.f, &list), offered = 0;
    char **keys = base_alloc((size_t)(n + 1) * sizeof *keys);
    for (int i = 0; i < n; i++)
        keys[i] = base_copy(list[i].key);
    for (int i = 0; i < n; i++) {
        struct explore_mend *m = mend(keys[i]);
        for (size_t k = 0; k < m->at.count; k++) {
            const struct explore_proposal *p = &m->at.at[k];
            size_t end = strlen(p->path) - 2;
            bool place = (strcmp(p->path + end, ".x") == 0 || strcmp(p->path + end, ".y") == 0);
            ck_assert_msg(!place || strstr(p->text, "usual"), "%s = %s", p->path, p->text);
            ck_assert_msg(*p->against || !strstr(p->comes, "fault "), "%s: %s = %s brings %s", keys[i],
                          p->path, p->text, p->comes);
            offered += !*p->against;
        }
        explore_mend_free(m);
        free(keys[i]);
    }
    free(keys);
    ck_assert_int_gt(offered, 0);
}
END_TEST

/* Numbers of the series that the standing one is of, or else the job is of: 34 is in neither. */
START_TEST(sizes_are_of_one_series)
{
    static const struct { const char *series, *stands; double step; } cases[] = {
        {"\"metric\"", "34 mm", 1}, {"\"inch\"", "34 mm", 25.4 / 16}, {"\"inch\"", "32 mm", 1},
        {"\"metric\"", "1 1/4 in", 25.4 / 16}};
    struct explore_sizes s;
    set("job.series", cases[_i].series);
    set("die_plate.thickness", cases[_i].stands);
    ck_assert(explore_sizes(bench.d, dieset_find(bench.d, "die_plate.thickness"), DIESET_NEW, &s));
    ck_assert_uint_ge(s.at.count, 8);
    for (size_t i = 0; i < s.at.count; i++)
        ck_assert_msg(fabs(remainder(s.at.at[i].number, cases[_i].step)) < 1e-6, "%s", s.at.at[i].text);
    explore_sizes_done(&s);
    /* of a table whose series are others, of steps, all are offered */
    ck_assert(explore_sizes(bench.d, dieset_find(bench.d, "posts.length"), DIESET_NEW, &s));
    ck_assert_uint_ge(s.at.count, 10);
    explore_sizes_done(&s);
}
END_TEST

/* An item that all others read may be taken out: each size is asked for all the same. */
START_TEST(sizes_of_a_set_that_lacks_an_item)
{
    static const char *const out[] = {"job", "strip", "press", "stack"};
    const struct typed_change taken = {TYPED_ITEM, out[_i], "", "", NULL};
    ck_ok(dieset_try(bench.d, &taken, 1, why));
    dieset_keep(bench.d);
    ck_assert_int_lt(dieset_find_item(bench.d, out[_i]), 0);
    for (int q = -1; q < dieset_quantity_count(bench.d); q++)
        for (int s = 0; s < DIESET_STATES; s++) {
            struct explore_sizes sizes;
            char buf[80];
            dieset_print(bench.d, q, (enum dieset_state)s, buf, sizeof buf);
            ck_assert(q >= 0 || dieset_mark(bench.d, q) == DIESET_BLANK);
            if (explore_sizes(bench.d, q, (enum dieset_state)s, &sizes))
                explore_sizes_done(&sizes);
        }
}
END_TEST

TCase *small_mend_tests(void)
{
    TCase *t = tcase_create("mends of the small set");
    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, open_small, close_cover);
    tcase_add_test(t, a_place_is_proposed_as_what_follows_its_plate);
    tcase_add_test(t, a_loose_point_is_held_from_its_plate);
    tcase_add_test(t, a_formula_stays_a_formula);
    tcase_add_loop_test(t, what_is_as_bad_stands_last_and_marked, 0, COUNT_OF(bad));
    tcase_add_loop_test(t, no_unmarked_proposal_brings_a_fault, 0, COUNT_OF(wrongs));
    return t;
}

TCase *mend_tests(void)
{
    TCase *t = tcase_create("mends");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, open_cover, close_cover);
    tcase_add_loop_test(t, a_proposal_is_the_nearest_value_that_clears, 0, COUNT_OF(by_hand));
    tcase_add_loop_test(t, every_proposal_clears_its_finding_and_trying_leaves_no_trace, 0, COUNT_OF(edits));
    tcase_add_test(t, no_choice_is_offered_that_the_rule_does_not_name);
    tcase_add_test(t, a_rule_may_say_that_no_value_mends_it);
    tcase_add_test(t, a_hardness_is_proposed_as_a_band);
    tcase_add_loop_test(t, a_search_ends_when_its_tries_or_its_work_are_spent, 0, 2);
    tcase_add_test(t, what_comes_and_goes_along_is_told);
    tcase_add_loop_test(t, sizes_are_of_one_series, 0, 4);
    tcase_add_loop_test(t, sizes_of_a_set_that_lacks_an_item, 0, 4);
    return t;
}
