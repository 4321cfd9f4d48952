/* What lies in the strip is cut, and nothing else: lengths and middles of cuts that hang over its edges,
 * against figures of school geometry and against stepping along the line.
 *
 * The strip is 60 wide, so its edges lie at 30 and -30. A station `edge` stands at one point.
 */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846
#define HALF 30.0

static const char station[] = "\nstation edge\n  does = \"notch\"\n  shape = \"rectangle\"\n  along = 20 mm\n"
                              "  across = 30 mm\n  lay one on die_plate\n    along = 20 mm\n";

static void open_cut(struct bench *b)
{
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    char *text = read_text("data/demo/cover-plate.txt"), *all = base_format("%s%s", text, station);
    ck_ok(bench_load(b->d, all, why));
    bench_set(b, "strip", "width", "60 mm");
    bench_set(b, "strip", "pitch", "1000 mm"); /* nothing has cut before it there */
    bench_set(b, "strip", "first", "-2400 mm");
    free(text);
    free(all);
}

static double of_cut(const struct bench *b, const char *property)
{
    char path[60];
    snprintf(path, sizeof path, "edge.%s", property);
    return bench_value(b, path, DIESET_NEW);
}

/* EDITS "path = text; ...", taken one after the other. */
static void edit(struct bench *b, const char *edits)
{
    char *copy = base_copy(edits), *rest = NULL;
    for (char *e = strtok_r(copy, ";", &rest); e; e = strtok_r(NULL, ";", &rest)) {
        e += strspn(e, " ");
        char *equals = strstr(e, " = ");
        ck_assert_ptr_nonnull(equals);
        *equals = '\0';
        bench_set(b, "edge", e, equals + 3);
    }
    free(copy);
}

/* ---- figures of school geometry ------------------------------------------------------------------- */

static const struct figure { const char *edits; double cut, x, y; } figures[] = {
    /* 20 along, from 10 to 40 across: 20 at 10, and 20 on either side, their middle at 20 */
    {"lay/across = 25 mm", 60, 20, (20 * 10 + 40 * 20) / 60.},
    {"lay/across = -25 mm", 60, 20, -(20 * 10 + 40 * 20) / 60.},
    /* the open side on the edge: three sides */
    {"lay/across = 15 mm", 80, 20, (20 * 0 + 60 * 15) / 80.},
    /* turned by 90 degrees: 30 along, from 15 to 35 */
    {"lay/across = 25 mm; lay/middle/turn = 90 deg", 60, 20, (30 * 15 + 30 * 22.5) / 60},
    {"lay/across = 25 mm; lay/middle/turn = -90 deg", 60, 20, (30 * 15 + 30 * 22.5) / 60},
    /* a square on its corner, its middle on the edge: two sides of 20, their middle 5 sqrt(2) below */
    {"across = 20 mm; lay/across = 30 mm; lay/middle/turn = 45 deg", 40, 20, 30 - 10 / sqrt(2)},
    /* turned by 30 degrees, its middle on the edge: half of what is round */
    {"across = 20 mm; lay/across = 30 mm; lay/middle/turn = 30 deg", 40, NAN, NAN},
    /* a square of 20 with corners of 5, half in: 10 below, two sides of 5, two quarters of a circle */
    {"across = 20 mm; corner = 5 mm; lay/across = 30 mm", 10 + 10 + 5 * PI, 20,
     30 - (10 * 10 + 10 * 2.5 + 5 * PI * (5 + 10 / PI)) / (20 + 5 * PI)},
    /* half a circle: its middle is 2 r / pi from the edge */
    {"shape = \"round\"; size = 20 mm; lay/across = 30 mm", 10 * PI, 20, 30 - 20 / PI},
    /* a circle that touches the edge from within is whole */
    {"shape = \"round\"; size = 20 mm; lay/across = 20 mm", 20 * PI, 20, 20},
    /* a circle of 20 whose middle is 5 beyond the edge: a third of it */
    {"shape = \"round\"; size = 20 mm; lay/across = 35 mm", 20 * PI / 3, 20,
     35 - 10 * sin(PI / 3) / (PI / 3)},
    /* an obround of 30 by 10 along: a straight side and two quarter circles; upright: two halves
       of 10 and half a circle */
    {"shape = \"obround\"; along = 30 mm; across = 10 mm; lay/across = 30 mm", 20 + 5 * PI, 20,
     30 - (20 * 5 + 5 * PI * (10 / PI)) / (20 + 5 * PI)},
    {"shape = \"obround\"; along = 30 mm; across = 10 mm; lay/across = 30 mm; lay/middle/turn = 90 deg",
     20 + 5 * PI, 20, 30 - (20 * 5 + 5 * PI * (10 + 10 / PI)) / (20 + 5 * PI)},
    /* over both edges: what crosses the strip */
    {"across = 80 mm; lay/across = 3 mm", 120, 20, 0},
    /* beside the strip, and with one side on its edge from without: nothing, at the point */
    {"lay/across = 60 mm", 0, 20, 60},
    {"lay/across = 45 mm", 0, 20, 45},
    /* an outline: a triangle on its point, 40 wide and 20 high, that goes 10 into the strip */
    {"shape = \"outline\"; outline/1 = at 0 mm, 0 mm; outline/2 = line to 20 mm, 20 mm; "
     "outline/3 = line to -20 mm, 20 mm; lay/across = 20 mm",
     20 * sqrt(2), 20, 25},
    /* the same turned by a quarter to the left: 20 high, 40 wide, its point to the right; below the
       edge two halves */
    {"shape = \"outline\"; outline/1 = at 0 mm, 0 mm; outline/2 = line to 20 mm, 20 mm; "
     "outline/3 = line to -20 mm, 20 mm; lay/across = 30 mm; lay/middle/turn = 90 deg",
     20 * sqrt(2) + 20, 20 - (20 * sqrt(2) * 10 + 20 * 20) / (20 * sqrt(2) + 20), 20},
    /* a half disc of 10 of which the line is not cut, hanging over with the arc down: 3 beyond is not cut */
    {"shape = \"outline\"; outline/1 = at -10 mm, 0 mm; outline/2 = arc to 10 mm, 0 mm radius 10 mm left; "
     "lay/across = 30 mm",
     10 * PI, 20, 30 - 20 / PI},
};

START_TEST(what_lies_in_the_strip_is_cut)
{
    const struct figure *f = &figures[_i];
    struct bench b;
    open_cut(&b);
    edit(&b, f->edits);
    near_to(of_cut(&b, "cut"), f->cut);
    near_to(of_cut(&b, "cut_line") - of_cut(&b, "off_strip"), f->cut);
    if (!isnan(f->x)) {
        near_to(of_cut(&b, "x"), f->x);
        near_to(of_cut(&b, "y"), f->y);
    }
    near_to(of_cut(&b, "plain_force"), bench_value(&b, "strip.shear", DIESET_NEW) *
                                           bench_value(&b, "strip.thickness", DIESET_NEW) * f->cut *
                                           bench_value(&b, "dull_edge", DIESET_NEW));
    near_to(of_cut(&b, "moment_y"), (of_cut(&b, "cutting") + of_cut(&b, "push")) * of_cut(&b, "y"));
    bench_close(&b);
}
END_TEST

/* ---- stepping along ----------------------------------------------------------------------------------- */

/* A place at SHARE of the way round a rectangle of half extents A and C with corners R, about 0, 0. */
static void place_round(double a, double c, double r, double share, double *x, double *y)
{
    double straight[4] = {2 * (c - r), 2 * (a - r), 2 * (c - r), 2 * (a - r)}, arc = PI / 2 * r;
    double at = share * (straight[0] + straight[1] + straight[2] + straight[3] + 4 * arc);
    static const double ways[4][2] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    for (int i = 0; i < 4; i++) {
        double nx = ways[i][0], ny = ways[i][1], reach = i % 2 ? c : a;
        if (at <= straight[i]) { /* along the side that looks to N */
            double s = at - straight[i] / 2;
            *x = nx * reach - ny * s, *y = ny * reach + nx * s;
            return;
        }
        at -= straight[i];
        if (at <= arc && arc > 0) { /* round the corner behind it */
            double turn = atan2(ny, nx) + at / r, mx = (i == 0 || i == 3 ? 1 : -1) * (a - r),
                   my = (i < 2 ? 1 : -1) * (c - r);
            *x = mx + r * cos(turn), *y = my + r * sin(turn);
            return;
        }
        at -= arc;
    }
    *x = a, *y = -(c - r);
}

static double dice(unsigned *seed, double from, double to)
{
    *seed = *seed * 1103515245u + 12345u;
    return from + (to - from) * (*seed >> 16 & 0x7fff) / 32767.;
}

START_TEST(stepping_along_the_line_says_the_same)
{
    enum { STEPS = 40000, TRIES = 60 };
    struct bench b;
    char text[400];
    unsigned seed = 417;
    int over = 0;
    open_cut(&b);
    for (int i = 0; i < TRIES; i++) {
        double along = dice(&seed, 5, 60), across = dice(&seed, 5, 60), turn = dice(&seed, -180, 180),
               x = dice(&seed, -60, 60), y = dice(&seed, -50, 50),
               corner = i % 3 == 0   ? 0
                        : i % 3 == 1 ? fmin(along, across) / 2
                                     : fmin(along, across) / 5;
        snprintf(text, sizeof text,
                 "shape = \"%s\"; along = %.17g mm; across = %.17g mm; corner = %.17g mm; "
                 "lay/along = %.17g mm; lay/across = %.17g mm; lay/middle/turn = %.17g deg",
                 i % 3 == 1 ? "obround" : "rectangle", along, across, i % 3 == 2 ? corner : 0, x, y, turn);
        edit(&b, text);
        double in = 0, sum_x = 0, sum_y = 0, c = cos(turn * PI / 180), s = sin(turn * PI / 180), px, py;
        for (int k = 0; k < STEPS; k++) {
            place_round(along / 2, across / 2, corner, (k + 0.5) / STEPS, &px, &py);
            double qx = x + c * px - s * py, qy = y + s * px + c * py;
            if (fabs(qy) < HALF)
                in++, sum_x += qx, sum_y += qy;
        }
        double line = of_cut(&b, "cut_line");
        ck_assert_double_eq_tol(of_cut(&b, "cut"), line * in / STEPS, 4 * line / STEPS);
        if (in > STEPS / 20) {
            ck_assert_double_eq_tol(of_cut(&b, "x"), sum_x / in, 0.05);
            ck_assert_double_eq_tol(of_cut(&b, "y"), sum_y / in, 0.05);
        }
        over += in > 0 && in < STEPS;
    }
    ck_assert_int_gt(over, TRIES / 4);
    bench_close(&b);
}
END_TEST

/* ---- several points, the strip's width, circles -------------------------------------------------------- */

/* One of two at the edge, the other within: the mean for one punch, and both together for force and
   middle. */
START_TEST(punches_that_differ_count_each_as_it_lies)
{
    struct bench b;
    open_cut(&b);
    ck_ok(bench_try(&b, "edge", "lay", "places on die_plate", why));
    dieset_keep(b.d);
    edit(&b, "along = 20 mm; across = 20 mm; lay/along = 0 mm; lay/across = 15 mm; lay/pitch = 1 mm; "
             "lay/columns = 1; lay/apart = 30 mm; lay/rows = 2");
    /* at 0 all round, 80; at 30 half, 20 at 20 and 20 at 25 */
    near_to(of_cut(&b, "cut"), (80 + 40) / 2.);
    near_to(of_cut(&b, "cutting"), 2 * of_cut(&b, "plain_force"));
    near_to(of_cut(&b, "y"), (20 * 20 + 20 * 25) / 120.);
    bench_set(&b, "strip", "width", "200 mm");
    near_to(of_cut(&b, "cut"), 80);
    near_to(of_cut(&b, "y"), 15);
    bench_set(&b, "edge", "does", "\"form\"");
    near_to(of_cut(&b, "cut"), 0);
    near_to(of_cut(&b, "y"), 15);
    bench_close(&b);
}
END_TEST

START_TEST(a_try_takes_back_what_it_changed)
{
    struct bench b;
    open_cut(&b);
    edit(&b, "lay/across = 25 mm");
    double x = bench_value(&b, "stack.centre_x", DIESET_NEW);
    double y = bench_value(&b, "stack.centre_y", DIESET_NEW);
    ck_ok(bench_try(&b, "strip", "width", "40 mm", why));
    near_to(of_cut(&b, "cut"), 20 + 2 * 10);
    ck_assert_double_gt(fabs(bench_value(&b, "stack.centre_y", DIESET_NEW) - y), 0.01);
    dieset_drop(b.d);
    near_to(of_cut(&b, "cut"), 60);
    near_to(bench_value(&b, "stack.centre_x", DIESET_NEW), x);
    near_to(bench_value(&b, "stack.centre_y", DIESET_NEW), y);
    bench_close(&b);
}
END_TEST

START_TEST(a_place_that_hangs_on_what_is_cut_there_is_refused)
{
    static const struct { const char *item, *path, *text; } circles[] = {
        {"edge", "lay/across", "edge.cut / 4"},
        {"edge", "across", "edge.y + 30 mm"},
        {"strip", "width", "total(station.cut)"},
        {"edge", "lay/middle/turn", "edge.off_strip / 1 mm * 1 deg"},
    };
    struct bench b;
    open_cut(&b);
    edit(&b, "lay/across = 25 mm");
    for (size_t i = 0; i < COUNT_OF(circles); i++) {
        struct base_diag why = {0};
        ck_assert(bench_try(&b, circles[i].item, circles[i].path, circles[i].text, &why) != BASE_OK);
        ck_assert_msg(strstr(why.message, "circle"), "%s: %s", circles[i].text, why.message);
        near_to(of_cut(&b, "cut"), 60);
    }
    ck_ok(bench_try(&b, "stack", "set_across", "edge.y", why)); /* what does not come back may read it */
    dieset_drop(b.d);
    bench_close(&b);
}
END_TEST

TCase *cut_tests(void)
{
    TCase *t = tcase_create("cuts");
    tcase_add_loop_test(t, what_lies_in_the_strip_is_cut, 0, COUNT_OF(figures));
    tcase_add_test(t, stepping_along_the_line_says_the_same);
    tcase_add_test(t, punches_that_differ_count_each_as_it_lies);
    tcase_add_test(t, a_try_takes_back_what_it_changed);
    tcase_add_test(t, a_place_that_hangs_on_what_is_cut_there_is_refused);
    return t;
}
