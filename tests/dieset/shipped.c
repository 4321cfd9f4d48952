/* The shipped handbook with the shipped jobs: all binds, nothing is left broken. */

#include "bench.h"
#include "suites.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Calls CHECK with each job that is shipped. */
static void each_job(void (*check)(const char *job))
{
    glob_t found;
    ck_assert_int_eq(glob("data/demo/*.txt", 0, NULL, &found), 0);
    ck_assert_int_eq(glob("data/templates/*.txt", GLOB_APPEND, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++)
        check(found.gl_pathv[i]);
    globfree(&found);
}

static void open_shipped(struct bench *b, const char *job)
{
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    char *text = read_text(job);
    ck_ok(bench_load(b->d, text, why));
    free(text);
}

static void has_its_holes(const char *job)
{
    struct bench b;
    open_shipped(&b, job);
    ck_assert_int_gt(dieset_quantity_count(b.d), 400);
    ck_assert_int_gt(dieset_hole_count(b.d), 20);
    for (int h = 0; h < dieset_hole_count(b.d); h++)
        for (int s = 0; s < DIESET_STATES; s++) {
            struct dieset_hole hole;
            dieset_hole(b.d, h, (enum dieset_state)s, &hole);
            ck_assert_msg(!hole.broken, "%s: %s of %s in %s", job, hole.operation,
                          dieset_item_name(b.d, hole.item), dieset_item_name(b.d, hole.plate));
            ck_assert_double_ge(hole.low, -1e-9);
        }
    bench_close(&b);
}

START_TEST(every_shipped_job_binds_and_has_its_holes)
{
    each_job(has_its_holes);
}
END_TEST

/* The demo jobs were worked out a second time by plain arithmetic; after each edit the sheets must still
   agree. */
static const struct { const char *job, *change, *item, *path, *text; } sheets[] = {
    {"cover-plate", "", NULL, NULL, NULL},
    {"cover-plate", "die_backing=16", "die_backing", "thickness", "16 mm"},
    {"cover-plate", "die_plate=36", "die_plate", "thickness", "36 mm"},
    {"cover-plate", "die_plate=40", "die_plate", "thickness", "40 mm"},
    {"spacer-plate", "", NULL, NULL, NULL},
};

static int compare_line(const struct bench *b, char *line)
{
    char *name = strtok(line, ","), *state = strtok(NULL, ","), *value = strtok(NULL, ",");
    int q = dieset_find(b->d, name), compared = 0;
    if (strncmp(name, "wanted.", 7) == 0)
        return 0; /* a rule's limit */
    ck_assert_msg(q >= 0, "there is no %s", name);
    bool mass = unit_same(dieset_quantity(b->d, q)->type.type.dim, UNIT_MASS);
    double wanted = strtod(value, NULL) * (mass ? 1e-3 : 1); /* kg */
    for (int s = 0; s < DIESET_STATES; s++) {
        if (strcmp(state, s ? "new" : "ground") == 0)
            continue;
        struct formula_value v = dieset_value(b->d, q, (enum dieset_state)s);
        ck_assert_msg(!v.error && fabs(v.number - wanted) <= 1e-6 * fmax(1e-3, fabs(wanted)),
                      "%s, %s: %.9g is %.9g on the sheet", name, s ? "ground" : "new", v.number, wanted);
        compared++;
    }
    return compared;
}

/* No half forgets an item that has a mass. */
START_TEST(the_mass_of_the_set_is_that_of_all_its_items)
{
    struct bench b;
    char *path = base_format("data/demo/%s.txt", sheets[_i].job);
    double total = 0;
    open_shipped(&b, path);
    for (int i = 0; i < dieset_item_count(b.d); i++) {
        double mass = dieset_number(b.d, i, "mass", DIESET_NEW);
        total += isfinite(mass) ? mass : 0;
    }
    ck_assert_double_gt(total, 0);
    ck_assert_double_eq_tol(dieset_get(b.d, "stack.whole_mass", DIESET_NEW).number, total, 1e-12);
    bench_close(&b);
    free(path);
}
END_TEST

START_TEST(the_demo_agrees_with_an_independent_sheet)
{
    struct bench b;
    int status, compared = 0;
    char *path = base_format("data/demo/%s.txt", sheets[_i].job);
    char *command = base_format("python3 tests/demo/expected.py %s %s", sheets[_i].job, sheets[_i].change);
    open_shipped(&b, path);
    if (sheets[_i].item)
        bench_set(&b, sheets[_i].item, sheets[_i].path, sheets[_i].text);
    char *sheet = base_copy(output_of(command, &status)), *rest = sheet;
    ck_assert_int_eq(status, 0);
    while (*rest) {
        char *line = rest;
        rest += strcspn(rest, "\n");
        if (*rest)
            *rest++ = '\0';
        compared += compare_line(&b, line);
    }
    ck_assert_int_gt(compared, 40);
    free(sheet);
    free(path);
    free(command);
    bench_close(&b);
}
END_TEST

/* A job of N plates 10 mm thick, the die plate in the middle, bound: what all its formulas read together. */
static long reads_of(int n)
{
    struct bench b;
    struct base_text job = {0};
    long reads = 0;
    base_text_add(&job, "job\n\nstack\n  die_plate = p1\n\n");
    for (int i = 0; i < n; i++)
        base_text_addf(&job, "plate p%d\n  thickness = %d mm\n  moves = \"with the bed\"\n\n", i, 10 + i % 3);
    ck_ok(handbook_load("data", &b.h, why));
    ck_ok(dieset_new(b.h, NULL, &b.d, why));
    ck_ok(bench_load(b.d, base_text_get(&job), why));
    for (int slot = 0; slot < model_count(dieset_model(b.d)); slot++) {
        int count;
        model_reads(dieset_model(b.d), slot, &count);
        reads += count;
    }
    double down = 0;
    for (int i = 2; i < n; i++) { /* what is below p1 stands under it, whole, however it is added up */
        char *path = base_format("p%d.top", i);
        ck_assert_double_eq_tol(bench_value(&b, "p1.bottom", DIESET_NEW) - bench_value(&b, path, DIESET_NEW),
                                down, 1e-6);
        down += 10 + i % 3;
        free(path);
    }
    base_text_done(&job);
    bench_close(&b);
    return reads;
}

START_TEST(what_formulas_read_grows_with_the_plates_and_no_faster)
{
    long one = reads_of(200), two = reads_of(400), four = reads_of(800);
    ck_assert_msg(two < 2.5 * (double)one, "%ld reads of 200 plates, %ld of 400", one, two);
    ck_assert_msg(four < 2.5 * (double)two, "%ld reads of 400 plates, %ld of 800", two, four);
}
END_TEST

TCase *shipped_tests(void)
{
    TCase *t = tcase_create("shipped");
    tcase_set_timeout(t, 30);
    tcase_add_test(t, every_shipped_job_binds_and_has_its_holes);
    tcase_add_loop_test(t, the_demo_agrees_with_an_independent_sheet, 0, COUNT_OF(sheets));
    tcase_add_loop_test(t, the_mass_of_the_set_is_that_of_all_its_items, 0, COUNT_OF(sheets));
    tcase_add_test(t, what_formulas_read_grows_with_the_plates_and_no_faster);
    return t;
}
