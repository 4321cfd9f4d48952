/* tests/start/paths.c - outlines from files: path data of the SVG recommendation, and what is refused */

#include "parts.h"

#include "diewright/start.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

#define PI 3.14159265358979323846

static struct handbook *handbook;
static struct job *job;

static void open_job(void)
{
    char *text = read_text("data/templates/first-estimate.txt");
    ck_ok(job_open_handbook("data", &handbook, why));
    ck_ok(job_from_text(handbook, text, "estimate", &job, why));
    free(text);
}

static void close_job(void)
{
    job_close(job);
    handbook_free(handbook);
}

static double value(const char *path)
{
    struct dieset *d = job_dieset(job);
    return dieset_value(d, dieset_find(d, path), DIESET_NEW).number;
}

/* ---- what is understood: areas and lengths by hand ---- */

/* A quarter of an ellipse of 20 by 10 is pi * 20 * 10 / 4 = 157.08, as straight sides somewhat less; the
 * cubic that stands for a quarter circle of radius 10 with handles of 5.5228 encloses 78.54 to 0.03 %. */
static const struct {
    const char *text, *unit, *scale;
    int lines, curves;
    double area, within;
} drawn[] = {
    {"M0 0H20V10H0Z", "mm", NULL, 4, 0, 200, 1e-6},
    {"m5,5 20,0 0,10 -20,0z", "mm", NULL, 4, 0, 200, 1e-6},
    {"M0,0L20-0,20,10,0,10,0,0", "mm", NULL, 4, 0, 200, 1e-6},
    {"M0 0h1v1h-1z", "in", "2", 4, 0, 4 * 645.16, 1e-3},
    {"M0 0h2v1h-2z", "cm", NULL, 4, 0, 200, 1e-6},
    {"M-5 0A5 5 0 0 1 5 0A5 5 0 0 1-5 0Z", "mm", NULL, 3, 0, PI * 25, 1e-3},
    {"M-5 0a5 5 0 015 5 5 5 0 005 5l-10 0z", "mm", NULL, 4, 0, 50, 1e-3},    /* flags without blanks */
    {"M0 0A10 10 0 1 1 10 10L0 10Z", "mm", NULL, 3, 0, 75 * PI + 100, 0.01}, /* three quarters of a circle */
    {"M0 0H20A20 10 0 0 1 0 10Z", "mm", NULL, -1, 1, PI * 50, 0.2},
    {"M0 0L10 0C10 5.5228 5.5228 10 0 10Z", "mm", NULL, -1, 1, 78.54, 0.1},
    {"M0 0l10 0c0 5.5228-4.4772 10-10 10z", "mm", NULL, -1, 1, 78.54, 0.1},
    {"<svg width='50mm' viewBox='0 0 100 100'><!-- <path d='M0 0'/> --><g><path\n d=\"M0 "
     "0h40v20h-40z\"/></g></svg>",
     NULL, NULL, 4, 0, 200, 1e-6},
    {"<svg viewBox='0 0 9 9'><path id='d' style='a>b' d='M0 0h20v10h-20z'/></svg>", "mm", NULL, 4, 0, 200,
     1e-6},
    {"# ours\n\nat 0 mm, 0 mm\n  line by 20 mm, 0 mm\nline by 0 mm, 10 mm\nline by -20 mm, 0 mm\n", NULL,
     NULL, 4, 0, 200, 1e-6},
};

static struct start_outline_wish wish_of(const char *unit, const char *scale, const char *which)
{
    struct start_outline_wish w = {0};
    if (unit)
        ck_ok(start_outline_wish_set(&w, "unit", unit, why));
    if (scale)
        ck_ok(start_outline_wish_set(&w, "scale", scale, why));
    if (which)
        ck_ok(start_outline_wish_set(&w, "path", which, why));
    return w;
}

static const char *put(const char *text)
{
    static char path[1000];
    snprintf(path, sizeof path, "%s/part.svg", fresh_folder());
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fputs(text, f);
    ck_assert_int_eq(fclose(f), 0);
    return path;
}

/* The first is taken by a rectangle, which becomes an outline by one edit; all others by an outline, where
   some change nothing. */
START_TEST(a_drawing_becomes_an_outline)
{
    struct start_outline_wish w = wish_of(drawn[_i].unit, drawn[_i].scale, NULL);
    struct start_outline out;
    const struct typed_event *events;
    int before = job_history(job, &events, 100);
    ck_ok(start_outline_take(job, "blank", put(drawn[_i].text), &w, &out, why));
    ck_assert_int_le(job_history(job, &events, 100), before + 1);
    if (drawn[_i].lines > 0)
        ck_assert_int_eq((int)out.lines.count, drawn[_i].lines);
    ck_assert_int_eq(out.curves, drawn[_i].curves);
    ck_assert_double_eq_tol(value("blank.product_area"), drawn[_i].area, drawn[_i].within);
    start_outline_done(&out);
}
END_TEST

START_TEST(a_curve_is_off_by_no_more_than_is_allowed)
{
    static const char circle[] = "M10 0C10 5.5228 5.5228 10 0 10L0 0Z";
    static const char *const within[] = {"0.1 mm", "0.001mm", "0.01"};
    int last = 0;
    for (size_t i = 0; i < COUNT_OF(within); i++) {
        struct start_outline_wish w = wish_of("mm", NULL, NULL);
        struct start_outline out;
        ck_ok(start_outline_wish_set(&w, "within", within[i], why));
        ck_ok(start_outline_read(circle, "c", &w, &out, why));
        /* the curve is 0.0027 off the circle at most; the area is short by the sagitta over its length */
        ck_ok(job_outline(job, "blank", (const char *const *)out.lines.at, (int)out.lines.count, why));
        double area = value("blank.product_area");
        ck_assert(fabs(area - 78.55) < 15.71 * w.within_mm + 0.03);
        ck_assert(i != 1 || (int)out.lines.count > last);
        last = (int)out.lines.count;
        job_drop(job);
        start_outline_done(&out);
    }
}
END_TEST

/* ---- what is not ---- */

static const struct {
    const char *text, *unit, *which, *says;
} refused[] = {
    {"M0 0h10v10z", NULL, NULL, "does not say how long one of its units is"},
    {"M0 0L10 0Q5 5 0 10Z", "mm", NULL, "the curve Q is not understood"},
    {"M0 0L10 0S5 5 0 10Z", "mm", NULL, "It stands at \"S5 5 0 10Z\", 9 characters into the path."},
    {"M0 0L10 0L10Z", "mm", NULL, "the command L lacks a number."},
    {"M0 0A5 5 0 2 1 10 0Z", "mm", NULL, "the command A lacks a number."},
    {"M0 0h10 x", "mm", NULL, "a command is wanted here"},
    {"M", "mm", NULL, "the command M lacks a number."},
    {"M0 0", "mm", NULL, "the path goes nowhere."},
    {"M0 0h1v1z M5 5h1v1z", "mm", NULL, "has 2 outlines (1: 1 x 1 mm, 2: 1 x 1 mm)"},
    {"M0 0h1v1z", "mm", "2", "has 1 outline (1: 1 x 1 mm)"},
    {"<svg><rect width='3'/></svg>", "mm", NULL, "has no path."},
    {"<svg><g transform='scale(2)'><path d='M0 0h1v1z'/></g></svg>", "mm", NULL, "a transform"},
    {"at 0, 0\nline by 1, 0\n", "mm", NULL, "which say their units themselves"},
    {"hello", "mm", NULL, "is no outline"},
    {"", "mm", NULL, "is no outline"},
    {"M0 0C1e9 0 0 0 1 1Z", "mm", NULL, "lacks a number"},
};

START_TEST(what_is_not_understood_is_refused_where_it_stands)
{
    struct start_outline_wish w = wish_of(refused[_i].unit, NULL, refused[_i].which);
    struct start_outline out;
    struct base_diag because = {0};
    ck_assert_int_eq(start_outline_read(refused[_i].text, "part.svg", &w, &out, &because), BASE_REFUSED);
    ck_assert_msg(strstr(because.message, refused[_i].says) != NULL, "%s", because.message);
    ck_assert_uint_eq(out.lines.count, 0);
}
END_TEST

START_TEST(what_is_refused_changes_nothing)
{
    struct start_outline_wish w = wish_of("mm", NULL, NULL);
    struct start_outline out;
    struct base_diag because = {0};
    char *before = job_dump(job);
    ck_assert_int_ne(start_outline_take(job, "blank", put("M0 0L10 10L10 0L0 10Z"), &w, &out, &because),
                     BASE_OK);
    start_outline_done(&out);
    ck_assert_int_ne(start_outline_take(job, "stack", put("M0 0h9v9z"), &w, &out, &because), BASE_OK);
    start_outline_done(&out);
    char *after = job_dump(job);
    ck_assert_str_eq(after, before);
    free(before);
    free(after);
}
END_TEST

START_TEST(a_wish_is_read_whole)
{
    static const struct {
        const char *what, *text;
    } wrong[] = {{"unit", "px"},      {"scale", "0"},    {"scale", "2x"},
                 {"within", "-1 mm"}, {"within", "1 m"}, {"path", "1.5"}};
    struct start_outline_wish w = {0};
    for (size_t i = 0; i < COUNT_OF(wrong); i++) {
        struct base_diag because = {0};
        ck_assert_int_eq(start_outline_wish_set(&w, wrong[i].what, wrong[i].text, &because), BASE_REFUSED);
    }
    ck_ok(start_outline_wish_set(&w, "within", "0.001in", why));
    ck_assert_double_eq_tol(w.within_mm, 0.0254, 1e-12);
}
END_TEST

TCase *path_tests(void)
{
    TCase *c = tcase_create("paths");
    tcase_add_unchecked_fixture(c, open_job, close_job);
    tcase_add_test(c, what_is_refused_changes_nothing);
    tcase_add_loop_test(c, a_drawing_becomes_an_outline, 0, (int)COUNT_OF(drawn));
    tcase_add_test(c, a_curve_is_off_by_no_more_than_is_allowed);
    tcase_add_loop_test(c, what_is_not_understood_is_refused_where_it_stands, 0, (int)COUNT_OF(refused));
    tcase_add_test(c, a_wish_is_read_whole);
    return c;
}
