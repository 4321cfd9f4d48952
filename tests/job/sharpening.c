/* The sharpening book against the two states that the job is laid out for: an empty book is the new state, a
 * book with all that may be ground off is the ground state, and what lies between lies between. Nothing
 * bought or cut hangs on it. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const jobs[] = {
    "data/demo/cover-plate.txt", "data/demo/spacer-plate.txt", "tests/job/all-sorts.txt",
    "data/templates/spring-stripper.txt", "data/templates/fixed-stripper.txt",
};

/* What stands in the book's group and the value with two states that it must meet. "KIND.": of each item of
   the kind. */
static const struct pair { const char *kind, *now, *state; bool shims_bring_back; } pairs[] = {
    {"stack", "now_shut", "shut_height", true},      {"stack", "now_height", "height_on_bolster", true},
    {"stack", "now_open", "open", true},             {"stack", "now_feed_line", "feed_line", true},
    {"stack", "now_punch", "punch_now", false},      {"stack", "now_travel", "travel", true},
    {"stack", "now_room", "stripper_room", true},    {"springs", "now_pressed", "pressed", true},
    {"springs", "now_share", "share", true},         {"springs", "now_force", "force_shut", true},
    {"shoulder_screws", "now_room", "room", true},
};

static struct job *without_pages(const char *file)
{
    struct job *j = bench_file(file);
    for (int i; (i = dieset_item_of_kind(job_dieset(j), "sharpening")) >= 0;) {
        ck_ok(job_remove(j, dieset_item_name(job_dieset(j), i), why));
        bench_take(j);
    }
    return j;
}

static struct job *with_pages(const char *file)
{
    static const char *const pages[] = {"first", "second", "third"};
    struct job *j = without_pages(file);
    for (size_t i = 0; i < COUNT_OF(pages); i++) {
        ck_ok(job_add(j, "sharpening", pages[i], -1, why));
        bench_take(j);
    }
    return j;
}

/* So much of the allowances off, on three pages, and so much of that made up by shims. */
static void grind(struct job *j, double punches, double die, double shims)
{
    static const char *const paths[] = {"first.off_punches",   "second.off_punches", "third.off_die",
                                        "second.under_punches", "third.under_die",   "first.off_die"};
    char text[COUNT_OF(paths)][80];
    const char *formulas[COUNT_OF(paths)];
    snprintf(text[0], sizeof text[0], "%.17g * stack.punch_regrind", punches / 4);
    snprintf(text[1], sizeof text[1], "%.17g * stack.punch_regrind", punches - punches / 4);
    snprintf(text[2], sizeof text[2], "%.17g * stack.die_plate.regrind", die);
    snprintf(text[3], sizeof text[3], "%.17g * stack.punch_regrind", punches * shims);
    snprintf(text[4], sizeof text[4], "%.17g * stack.die_plate.regrind", die * shims);
    snprintf(text[5], sizeof text[5], "0 mm");
    for (size_t i = 0; i < COUNT_OF(paths); i++)
        formulas[i] = text[i];
    ck_ok(job_set_many(j, paths, formulas, COUNT_OF(paths), why));
    bench_take(j);
}

/* ITEM's values of pair P: now, new, ground; false where the job has none. */
static bool values_of(struct job *j, int item, const struct pair *p, double v[3])
{
    const char *name = dieset_item_name(job_dieset(j), item);
    char *now = base_format("%s.%s", name, p->now), *state = base_format("%s.%s", name, p->state);
    bool there = !dieset_get(job_dieset(j), now, DIESET_NEW).error;
    if (there) {
        v[0] = bench_number(j, now, DIESET_NEW);
        v[1] = bench_number(j, state, DIESET_NEW);
        v[2] = bench_number(j, state, DIESET_GROUND);
        ck_assert_msg(bench_number(j, now, DIESET_GROUND) == v[0], "%s hangs on the state", now);
    }
    free(now);
    free(state);
    return there;
}

enum wanted { AS_NEW, AS_GROUND, BETWEEN };

static void meets(const struct pair *p, const double v[3], enum wanted w, const char *when)
{
    double low = fmin(v[1], v[2]) - 1e-9, high = fmax(v[1], v[2]) + 1e-9;
    bool good = w == BETWEEN ? v[0] >= low && v[0] <= high
                             : fabs(v[0] - v[w == AS_NEW ? 1 : 2]) < 1e-9 * fmax(1, fabs(v[0]));
    ck_assert_msg(good, "%s, %s.%s is %.12g; new %.12g, ground %.12g", when, p->kind, p->now, v[0], v[1],
                  v[2]);
}

static int each(struct job *j, enum wanted w, bool shims, const char *when)
{
    int seen = 0;
    struct dieset *d = job_dieset(j);
    for (size_t i = 0; i < COUNT_OF(pairs); i++)
        for (int item = 0; item < dieset_item_count(d); item++) {
            double v[3];
            int kind = dieset_item_kind(d, item);
            if (kind < 0 || strcmp(handbook_kind(bench_handbook, kind)->name, pairs[i].kind) != 0 ||
                !values_of(j, item, &pairs[i], v))
                continue;
            if (shims && !pairs[i].shims_bring_back)
                continue;
            seen++;
            meets(&pairs[i], v, w, when);
        }
    return seen;
}

static const char *const after[] = {"\"shoulder screws left alone\"", "\"stripper set up again\""};

START_TEST(an_empty_book_is_the_new_state_and_a_full_one_the_ground)
{
    struct job *j = without_pages(jobs[_i]);
    ck_assert_int_ge(each(j, AS_NEW, false, "no page"), 7);
    job_close(j);
    j = with_pages(jobs[_i]);
    for (size_t a = 0; a < COUNT_OF(after); a++) {
        bench_set(j, "stack.after_grinding", after[a]);
        grind(j, 0, 0, 0);
        each(j, AS_NEW, false, "pages of nothing");
        grind(j, 1, 1, 0);
        each(j, AS_GROUND, false, "all ground off");
        ck_assert_double_eq_tol(number(j, "stack.punches_left"), 0, 1e-9);
        ck_assert_double_eq_tol(number(j, "stack.die_left"), 0, 1e-9);
        grind(j, 1, 1, 1);
        each(j, AS_NEW, true, "all ground off, all shimmed");
        ck_assert_double_eq_tol(number(j, "stack.punches_left"), 0, 1e-9); /* shims give no steel back */
    }
    job_close(j);
}
END_TEST

START_TEST(what_lies_between_lies_between_and_never_turns_back)
{
    static const double shares[][3] = {{0.1, 0, 0},     {0.1, 0.2, 0.5}, {0.3, 0.3, 0},
                                       {0.9, 0.1, 0.7}, {0.5, 1, 0.25},  {1, 1, 0.01}};
    struct job *j = with_pages(jobs[_i]);
    for (size_t i = 0; i < COUNT_OF(shares); i++) {
        grind(j, shares[i][0], shares[i][1], shares[i][2]);
        each(j, BETWEEN, false, "part of it ground off");
    }
    double shut = number(j, "stack.shut_height"), travel = 0;
    for (int step = 0; step <= 8; step++) {
        grind(j, step / 8.0, step / 8.0, 0);
        ck_assert_double_lt(number(j, "stack.now_shut"), step ? shut : shut + 1e-6);
        ck_assert_double_ge(number(j, "stack.now_travel"), travel);
        shut = number(j, "stack.now_shut");
        travel = number(j, "stack.now_travel");
    }
    job_close(j);
}
END_TEST

/* All that is typed, picked, laid or ordered, a line each. */
static char *as_built(struct job *j)
{
    struct dieset *d = job_dieset(j);
    struct base_text out = {0};
    char buf[80];
    for (int q = 0; q < dieset_quantity_count(d); q++) {
        const struct dieset_quantity *x = dieset_quantity(d, q);
        bool page = x->item >= 0 &&
                    dieset_item_kind(d, x->item) == handbook_find_kind(bench_handbook, "sharpening");
        if (x->can_type && !page)
            base_text_addf(&out, "%s %s\n", x->path, dieset_print(d, q, DIESET_NEW, buf, sizeof buf));
    }
    struct dieset_orders orders;
    dieset_orders(d, &orders);
    for (int i = 0; i < orders.count; i++)
        base_text_addf(&out, "%g %s %s %s\n", orders.at[i].pieces, orders.at[i].designation,
                       orders.at[i].size, orders.at[i].material);
    dieset_orders_free(&orders);
    return base_text_take(&out);
}

START_TEST(nothing_that_is_bought_or_cut_hangs_on_the_book)
{
    struct job *j = with_pages(jobs[_i]);
    char *before = as_built(j);
    ck_assert_int_gt((int)strlen(before), 4000);
    grind(j, 0.7, 0.9, 0.3);
    char *then = as_built(j);
    ck_assert_str_eq(before, then);
    free(before);
    free(then);
    job_close(j);
}
END_TEST

/* By hand: 0.25, 0.2 and 0.3 off the punches; 0.15 and 0.2 off the die plate; a shim of 0.5 behind the
   punches with the third. */
START_TEST(each_page_tells_how_the_set_stood_after_it)
{
    static const struct { const char *path; const char *text; } typed[] = {
        {"first.off_punches", "0.25 mm"}, {"first.off_die", "0.15 mm"},   {"first.strokes", "41000"},
        {"second.off_punches", "0.2 mm"}, {"second.off_die", "0.2 mm"},   {"second.strokes", "38000"},
        {"third.off_punches", "0.3 mm"},  {"third.under_punches", "0.5 mm"}, {"third.strokes", "35000"},
    };
    static const struct { const char *path; double value; } wanted[] = {
        {"first.punches_left", 2.75}, {"second.punches_left", 2.55}, {"third.punches_left", 2.25},
        {"first.die_left", 4.35},     {"second.die_left", 4.15},     {"third.die_left", 4.15},
        {"first.shut_after", 223.8},  {"second.shut_after", 223.4},  {"third.shut_after", 223.6},
        {"stack.now_shut", 223.6},    {"stack.now_height", 278.6},   {"stack.now_travel", 2.85},
        {"stack.now_land", 6.65},     {"stack.strokes", 114000},     {"stack.strokes_per_grind", 38000},
    };
    /* 224.2 high, on risers of 55; travel 0.6 + 1.2 + 0.8; land 7 */
    struct job *j = with_pages("data/demo/cover-plate.txt");
    for (size_t i = 0; i < COUNT_OF(typed); i++)
        bench_set(j, typed[i].path, typed[i].text);
    for (size_t i = 0; i < COUNT_OF(wanted); i++)
        ck_assert_double_eq_tol(number(j, wanted[i].path), wanted[i].value, 1e-9);
    ck_ok(job_remove(j, "second", why)); /* a page torn out is as if it had never been */
    bench_take(j);
    ck_assert_double_eq_tol(number(j, "third.punches_left"), 2.45, 1e-9);
    ck_assert_double_eq_tol(number(j, "stack.now_shut"), 224.0, 1e-9);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

TCase *sharpening_tests(void)
{
    TCase *c = tcase_create("sharpening");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(c, an_empty_book_is_the_new_state_and_a_full_one_the_ground, 0, (int)COUNT_OF(jobs));
    tcase_add_loop_test(c, what_lies_between_lies_between_and_never_turns_back, 0, (int)COUNT_OF(jobs));
    tcase_add_loop_test(c, nothing_that_is_bought_or_cut_hangs_on_the_book, 0, (int)COUNT_OF(jobs));
    tcase_add_test(c, each_page_tells_how_the_set_stood_after_it);
    return c;
}
