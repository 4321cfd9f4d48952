/* The shipped figures against the outside: formulas of the standards, and general-purpose
 * programs. Each check names its source; the formulas of ISO 898-1, ASME B1.1, ISO 965-1,
 * ISO 286-1 and ISO 3 are written here from memory of those standards. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "table/cell.h"

static const double INCH = 25.4, PI = 3.14159265358979323846;

static const char *const metric_sizes[] = {"M3",  "M4",  "M5",  "M6",  "M8", "M10",
                                           "M12", "M14", "M16", "M20", "M24"};
static const char *const inch_sizes[] = {
    "10-24", "1/4-20", "5/16-18", "3/8-16", "7/16-14", "1/2-13", "5/8-11", "3/4-10", "7/8-9", "1-8"};

/* The screw of this size and its holes. */
struct screw { struct bench b; int screws, screw, holes, hole; };

static void open_screw(struct screw *s, const char *system, const char *size)
{
    char file[60];
    bench_open(&s->b);
    snprintf(file, sizeof file, "cap-screws-%s.csv", system);
    s->screws = bench_shipped(&s->b, file);
    s->screw = bench_row(&s->b, s->screws, "size", size);
    snprintf(file, sizeof file, "screw-holes-%s.csv", system);
    s->holes = bench_shipped(&s->b, file);
    s->hole = bench_row(&s->b, s->holes, "size", size);
}

static double of_screw(const struct screw *s, const char *column)
{
    return bench_number(&s->b, s->screws, s->screw, column);
}

static double of_hole(const struct screw *s, const char *column)
{
    return bench_number(&s->b, s->holes, s->hole, column);
}

/* ISO 898-1: nominal stress area pi/4 (d - 0.9382 p)^2, to three figures or a tenth of a mm2.
 * ISO 4762: the head is as high as the screw is thick (k max = d).
 * ISO 2306: tap drill d - p, to a tenth. ISO 965-1: minor diameter 6H at least d - 1.0825 p. */
START_TEST(metric_screw_is_by_its_standards)
{
    struct screw s;
    open_screw(&s, "metric", metric_sizes[_i]);
    double d = of_screw(&s, "diameter_mm"), p = of_screw(&s, "pitch_mm"), core = d - 0.9382 * p;
    ck_assert_double_eq(d, atof(metric_sizes[_i] + 1));
    ck_assert_double_eq_tol(of_screw(&s, "stress_area_mm2"), PI / 4 * core * core, d < 5 ? 0.005 : 0.05);
    ck_assert_double_eq(of_screw(&s, "head_height_mm"), d);
    ck_assert_double_eq(of_hole(&s, "diameter_mm"), d);
    ck_assert_double_eq_tol(of_hole(&s, "tap_drill_mm"), d - p, 0.0501);
    ck_assert_double_eq_tol(of_hole(&s, "minor_diameter_least_mm"), d - 1.0825 * p, 0.00051);
    bench_close(&s.b);
}
END_TEST

/* What must hold whatever the figures: common practice. */
START_TEST(metric_hole_takes_its_screw)
{
    struct screw s;
    open_screw(&s, "metric", metric_sizes[_i]);
    double d = of_screw(&s, "diameter_mm");
    ck_assert(d < of_hole(&s, "clear_fine_mm"));
    ck_assert(of_hole(&s, "clear_fine_mm") < of_hole(&s, "clear_medium_mm"));
    ck_assert(of_hole(&s, "clear_medium_mm") < of_hole(&s, "clear_coarse_mm"));
    ck_assert(of_screw(&s, "head_diameter_mm") < of_screw(&s, "head_diameter_knurled_mm"));
    ck_assert(of_screw(&s, "head_diameter_knurled_mm") < of_hole(&s, "counterbore_diameter_mm"));
    ck_assert_double_eq_tol(of_hole(&s, "counterbore_depth_mm"),
                            of_screw(&s, "head_height_mm") + of_hole(&s, "head_recess_mm"), 1e-9);
    ck_assert(of_hole(&s, "minor_diameter_least_mm") <= of_hole(&s, "tap_drill_mm"));
    ck_assert(of_hole(&s, "tap_drill_mm") <= of_hole(&s, "minor_diameter_most_mm"));
    bench_close(&s.b);
}
END_TEST

/* ASME B1.1: stress area 0.7854 (d - 0.9743/n)^2, to four decimals, and least minor diameter 2B
 * d - 1.0825/n, to three. ASME B18.3: the head is as high as the screw is thick. */
START_TEST(inch_screw_is_by_its_standards)
{
    struct screw s;
    open_screw(&s, "inch", inch_sizes[_i]);
    double d = of_screw(&s, "diameter_in") / INCH, n = of_screw(&s, "threads_per_inch");
    double core = d - 0.9743 / n;
    ck_assert_double_eq(n, atof(strchr(inch_sizes[_i], '-') + 1));
    ck_assert_double_eq_tol(of_screw(&s, "pitch_in"), INCH / n, 1e-12);
    ck_assert_double_eq_tol(of_screw(&s, "stress_area_in2") / (INCH * INCH), 0.7854 * core * core, 0.000051);
    ck_assert_double_eq_tol(of_screw(&s, "head_height_in"), d * INCH, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "diameter_in"), d * INCH, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "minor_diameter_least_in"), (d - 1.0825 / n) * INCH, 0.00051 * INCH);
    bench_close(&s.b);
}
END_TEST

START_TEST(inch_hole_takes_its_screw)
{
    struct screw s;
    open_screw(&s, "inch", inch_sizes[_i]);
    double d = of_screw(&s, "diameter_in");
    ck_assert(d < of_hole(&s, "clear_socket_close_in"));
    ck_assert(of_hole(&s, "clear_socket_close_in") <= of_hole(&s, "clear_close_in"));
    ck_assert(of_hole(&s, "clear_socket_normal_in") <= of_hole(&s, "clear_normal_in"));
    ck_assert(of_hole(&s, "clear_close_in") < of_hole(&s, "clear_normal_in"));
    ck_assert(of_hole(&s, "clear_normal_in") < of_hole(&s, "clear_loose_in"));
    ck_assert(of_screw(&s, "head_diameter_in") < of_hole(&s, "counterbore_diameter_in"));
    ck_assert(of_hole(&s, "minor_diameter_least_in") <= of_hole(&s, "tap_drill_in"));
    ck_assert(of_hole(&s, "tap_drill_in") <= of_hole(&s, "minor_diameter_most_in"));
    bench_close(&s.b);
}
END_TEST

/* ---- heads and holes against the standards' tables ------------------------------------- */

/* ISO 4762, table 1: greatest diameter of a plain head (its height is the thread's diameter). ISO 273: clear
 * holes of the fine, medium and coarse series. DIN 974-1, row 1: counterbores for these heads; DIN 974-2: how
 * far the head lies under the face. Written from memory of these tables: the prints were not read for this
 * test. */
static const struct {
    const char *size;
    double head, fine, medium, coarse, counterbore, recess;
} metric_table[] = {
    {"M3", 5.5, 3.2, 3.4, 3.6, 6.5, 0.4}, {"M4", 7, 4.3, 4.5, 4.8, 8, 0.4},
    {"M5", 8.5, 5.3, 5.5, 5.8, 10, 0.4},  {"M6", 10, 6.4, 6.6, 7, 11, 0.4},
    {"M8", 13, 8.4, 9, 10, 15, 0.6},      {"M10", 16, 10.5, 11, 12, 18, 0.6},
    {"M12", 18, 13, 13.5, 14.5, 20, 0.6}, {"M14", 21, 15, 15.5, 16.5, 24, 0.6},
    {"M16", 24, 17, 17.5, 18.5, 26, 0.6}, {"M20", 30, 21, 22, 24, 33, 0.6},
    {"M24", 36, 25, 26, 28, 40, 0.8},
};

START_TEST(metric_heads_and_holes_are_those_of_the_standards)
{
    struct screw s;
    open_screw(&s, "metric", metric_table[_i].size);
    ck_assert_double_eq(of_screw(&s, "head_diameter_mm"), metric_table[_i].head);
    ck_assert_double_eq(of_screw(&s, "head_height_mm"), atof(metric_table[_i].size + 1));
    ck_assert_double_eq(of_hole(&s, "clear_fine_mm"), metric_table[_i].fine);
    ck_assert_double_eq(of_hole(&s, "clear_medium_mm"), metric_table[_i].medium);
    ck_assert_double_eq(of_hole(&s, "clear_coarse_mm"), metric_table[_i].coarse);
    ck_assert_double_eq(of_hole(&s, "counterbore_diameter_mm"), metric_table[_i].counterbore);
    ck_assert_double_eq(of_hole(&s, "head_recess_mm"), metric_table[_i].recess);
    bench_close(&s.b);
}
END_TEST

/* ASME B18.3, table of socket head cap screws: greatest head diameter (one and a half of the thread's,
 * rounded) and height; its appendix: close and normal clear holes for them; ASME B18.2.8: close, normal and
 * loose holes in general. From memory, as above. */
static const struct {
    const char *size;
    double head, height, socket_close, socket_normal, close, normal, loose;
} inch_table[] = {
    {"10-24", 0.312, 0.190, 0.2055, 0.221, 0.2055, 0.221, 0.238},
    {"1/4-20", 0.375, 0.250, 17 / 64., 9 / 32., 17 / 64., 9 / 32., 19 / 64.},
    {"5/16-18", 0.469, 0.3125, 21 / 64., 11 / 32., 21 / 64., 11 / 32., 23 / 64.},
    {"3/8-16", 0.562, 0.375, 25 / 64., 13 / 32., 25 / 64., 13 / 32., 27 / 64.},
    {"7/16-14", 0.656, 0.4375, 29 / 64., 15 / 32., 29 / 64., 15 / 32., 31 / 64.},
    {"1/2-13", 0.750, 0.500, 33 / 64., 17 / 32., 17 / 32., 9 / 16., 39 / 64.},
    {"5/8-11", 0.938, 0.625, 41 / 64., 21 / 32., 21 / 32., 11 / 16., 47 / 64.},
    {"3/4-10", 1.125, 0.750, 49 / 64., 25 / 32., 25 / 32., 13 / 16., 29 / 32.},
    {"7/8-9", 1.312, 0.875, 57 / 64., 29 / 32., 29 / 32., 15 / 16., 1 + 1 / 32.},
    {"1-8", 1.500, 1.000, 1 + 1 / 64., 1 + 1 / 32., 1 + 1 / 32., 1 + 3 / 32., 1 + 5 / 32.},
};

START_TEST(inch_heads_and_holes_are_those_of_the_standards)
{
    struct screw s;
    open_screw(&s, "inch", inch_table[_i].size);
    ck_assert_double_eq_tol(of_screw(&s, "head_diameter_in") / INCH, inch_table[_i].head, 1e-9);
    ck_assert_double_eq_tol(of_screw(&s, "head_height_in") / INCH, inch_table[_i].height, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "clear_socket_close_in") / INCH, inch_table[_i].socket_close, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "clear_socket_normal_in") / INCH, inch_table[_i].socket_normal, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "clear_close_in") / INCH, inch_table[_i].close, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "clear_normal_in") / INCH, inch_table[_i].normal, 1e-9);
    ck_assert_double_eq_tol(of_hole(&s, "clear_loose_in") / INCH, inch_table[_i].loose, 1e-9);
    bench_close(&s.b);
}
END_TEST

/* ---- drills against GNU units ------------------------------------------------------------ */

/* Every drill of the inch holes: the column that names it, and the one with its diameter. */
static const struct { const char *name, *diameter; } drills[] = {
    {"tap_drill_name", "tap_drill_in"},
    {"clear_socket_close_drill", "clear_socket_close_in"},
    {"clear_socket_normal_drill", "clear_socket_normal_in"},
};
enum { DRILLS = COUNT_OF(drills) * COUNT_OF(inch_sizes) };
static double by_units[DRILLS]; /* in inches, by GNU units, asked once for all */

static const char *drill_name(const struct bench *b, int table, int i)
{
    int row = bench_row(b, table, "size", inch_sizes[(size_t)i / COUNT_OF(drills)]);
    return bench_text(b, table, row, drills[(size_t)i % COUNT_OF(drills)].name);
}

/* "No7" is drillgauge(7), "F" is drillF, "1 1/64" is a sum of inches. */
static void ask_for_drill(struct base_text *question, const char *name)
{
    if (strncmp(name, "No", 2) == 0)
        base_text_addf(question, "drillgauge(%s)\\nin\\n", name + 2);
    else if (name[0] >= 'A' && name[0] <= 'Z')
        base_text_addf(question, "drill%s\\nin\\n", name);
    else if (strchr(name, ' '))
        base_text_addf(question, "(%.*s+%s) in\\nin\\n", (int)strcspn(name, " "), name,
                       strchr(name, ' ') + 1);
    else
        base_text_addf(question, "(%s) in\\nin\\n", name);
}

static void ask_units(void)
{
    struct bench b;
    struct base_text question = {0};
    bench_open(&b);
    int t = bench_shipped(&b, "screw-holes-inch.csv");
    base_text_add(&question, "printf '");
    for (int i = 0; i < DRILLS; i++)
        ask_for_drill(&question, drill_name(&b, t, i));
    base_text_add(&question, "' | units --terse --quiet");
    const char *answer = output_of(base_text_get(&question), NULL);
    for (int i = 0; i < DRILLS; i++) {
        by_units[i] = strtod(answer, NULL);
        answer = strchr(answer, '\n') ? strchr(answer, '\n') + 1 : "";
    }
    base_text_done(&question);
    bench_close(&b);
}

START_TEST(drill_agrees_with_gnu_units)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, "screw-holes-inch.csv");
    int row = bench_row(&b, t, "size", inch_sizes[(size_t)_i / COUNT_OF(drills)]);
    double diameter = bench_number(&b, t, row, drills[(size_t)_i % COUNT_OF(drills)].diameter) / INCH;
    ck_assert_msg(fabs(diameter - by_units[_i]) < 1e-6, "drill %s: %.6f in here, %.6f in by units",
                  drill_name(&b, t, _i), diameter, by_units[_i]);
    bench_close(&b);
}
END_TEST

/* ---- property classes, ISO 898-1 --------------------------------------------------------- */

static const struct {
    const char *class;
    int row;
} classes[] = {{"8.8", 0}, {"8.8", 1}, {"10.9", 2}, {"12.9", 3}};

/* The name of a class is its strength: first figure a hundredth of the nominal tensile strength,
 * second the tenths of it at which it yields. The proof share is proof stress over least yield. */
START_TEST(property_class_means_its_strength)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, "screw-classes-metric.csv"), row = classes[_i].row;
    ck_assert_str_eq(bench_text(&b, t, row, "class"), classes[_i].class);
    double first = strtod(classes[_i].class, NULL), second = strtod(strchr(classes[_i].class, '.') + 1, NULL);
    first = floor(first);
    ck_assert_double_eq(bench_number(&b, t, row, "tensile_nominal_mpa"), 100 * first);
    ck_assert_double_eq(bench_number(&b, t, row, "yield_nominal_mpa"), 10 * first * second);
    ck_assert_double_eq_tol(bench_number(&b, t, row, "proof_mpa") /
                                bench_number(&b, t, row, "yield_least_mpa"),
                            bench_number(&b, t, row, "proof_share"), 0.0051);
    ck_assert(bench_number(&b, t, row, "proof_mpa") < bench_number(&b, t, row, "yield_least_mpa"));
    ck_assert(bench_number(&b, t, row, "yield_least_mpa") < bench_number(&b, t, row, "tensile_least_mpa"));
    bench_close(&b);
}
END_TEST

/* ---- fits, ISO 286 ------------------------------------------------------------------------- */

enum { FIT_ROWS = 138 };

struct fit_row { const char *fit; double over, upto, upper, lower; }; /* deviations in micrometres */

static struct fit_row fit_row(const struct bench *b, int t, int row)
{
    return (struct fit_row){bench_text(b, t, row, "fit"), bench_number(b, t, row, "over_mm"),
                            bench_number(b, t, row, "upto_mm"), bench_number(b, t, row, "upper_um") * 1000,
                            bench_number(b, t, row, "lower_um") * 1000};
}

/* The standard reckons with its main ranges of size, some of which are parted for some letters. */
static double range_mean(struct fit_row r)
{
    static const double ends[] = {1, 3, 6, 10, 18, 30, 50, 80, 120};
    int i = 1;
    while (ends[i] < r.upto)
        i++;
    return sqrt(ends[i - 1] * ends[i]);
}

/* i = 0.45 D^(1/3) + 0.001 D, D the geometric mean of the range in mm. IT5 = 7 i, IT6 = 10 i, IT7 = 16 i,
 * IT8 = 25 i, IT1 = 0.8 + 0.02 D, IT3 the geometric mean of IT1 and IT5,
 * rounded to a whole micrometre either way; up to 10 mm the standard rounds up further. */
static double tolerance_by_formula(struct fit_row r)
{
    double d = range_mean(r), i = 0.45 * cbrt(d) + 0.001 * d;
    if (strchr(r.fit, '3'))
        return sqrt((0.8 + 0.02 * d) * 7 * i);
    return i * (strchr(r.fit, '5') ? 7 : strchr(r.fit, '6') ? 10 : strchr(r.fit, '7') ? 16 : 25);
}

START_TEST(tolerance_is_by_iso_286_1)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, "fits.csv");
    ck_assert_int_eq(table_rows(b.set, t), FIT_ROWS);
    struct fit_row r = fit_row(&b, t, _i);
    double formula = tolerance_by_formula(r), width = r.upper - r.lower;
    ck_assert_msg(width > formula - 1 && width < formula + (r.upto <= 10 ? 1.5 : 1),
                  "%s over %g: %g, by the formula %g", r.fit, r.over, width, formula);
    bench_close(&b);
}
END_TEST

/* The deviation nearest to nominal, by the letter; NAN where the standard has no formula that gives it
 * within a micrometre (r, and g m n p up to 3 mm). */
static double deviation_by_formula(struct fit_row r)
{
    double d = range_mean(r), it6 = 10 * (0.45 * cbrt(d) + 0.001 * d), it7 = 1.6 * it6;
    switch (r.fit[0]) {
    case 'H':
    case 'h': return 0;
    case 'f': return -5.5 * pow(d, 0.41);
    case 'g': return r.upto <= 3 ? NAN : -2.5 * pow(d, 0.34);
    case 'j': return -it6 / 2;
    case 'k': return r.upto <= 3 ? 0 : 0.6 * cbrt(d);
    case 'm': return r.upto <= 3 ? NAN : it7 - it6;
    case 'n': return r.upto <= 3 ? NAN : 5 * pow(d, 0.34);
    case 'p': return r.upto <= 3 ? NAN : it7 + 2; /* IT7 and 0 to 5 */
    case 'P': return -(it7 + 2) + 0.3 * it6;      /* the same, less what IT6 has over IT5 */
    default: return NAN;
    }
}

START_TEST(deviation_is_by_iso_286_1)
{
    struct bench b;
    bench_open(&b);
    struct fit_row r = fit_row(&b, bench_shipped(&b, "fits.csv"), _i);
    bool below = strchr("fghP", r.fit[0]) != NULL;
    double is = below ? r.upper : r.lower, formula = deviation_by_formula(r);
    double slack = r.fit[0] == 'p' || r.fit[0] == 'P' ? 3 : 1;
    ck_assert_msg(isnan(formula) || fabs(is - formula) <= slack, "%s over %g: %g, by the formula %g",
                  r.fit, r.over, is, formula);
    if (r.fit[0] == 'j')
        ck_assert_double_eq_tol(r.upper, -r.lower, 1e-9);
    bench_close(&b);
}
END_TEST

/* ---- preferred numbers, ISO 3 ----------------------------------------------------------------- */

static const struct {
    const char *series;
    int per_decade;
} series[] = {{"R5", 5}, {"R10", 10}, {"R20", 20}, {"R40", 40}};

/* The standard's rounding: no number lies more than 1.26 % over or 1.01 % under 10^(k/n). */
START_TEST(preferred_number_is_by_iso_3)
{
    int s = 0, k = _i;
    while (k > 2 * series[s].per_decade)
        k -= 2 * series[s++].per_decade + 1;
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, "preferred-lengths-metric.csv");
    double exact = 10 * pow(10, (double)k / series[s].per_decade);
    int row = bench_row(&b, t, "series", series[s].series) + k;
    ck_assert_str_eq(bench_text(&b, t, row, "series"), series[s].series);
    double ratio = bench_number(&b, t, row, "lengths_mm") / exact;
    ck_assert_msg(ratio > 1 - 0.01015 && ratio < 1 + 0.01265, "%s: %g for %g", series[s].series,
                  ratio * exact, exact);
    bench_close(&b);
}
END_TEST
enum { PREFERRED = 11 + 21 + 41 + 81 };

/* ISO 6753-1 plates: widths and lengths are R10 numbers. */
START_TEST(plate_is_of_the_r10_series)
{
    struct bench b;
    bench_open(&b);
    int numbers = bench_shipped(&b, "preferred-lengths-metric.csv"), t = bench_shipped(&b, "plates.csv");
    const struct table_key keys[] = {{0, TABLE_EQUAL}, {1, TABLE_EQUAL}};
    int query = table_query(b.set, numbers, 1, TABLE_COUNT, keys, 2);
    for (int row = 0; row < table_rows(b.set, t); row++) {
        double size = bench_number(&b, t, row, _i ? "length_mm" : "width_mm"), count = 0;
        const double values[] = {base_pool_put(b.pool, "R10"), size};
        ck_assert_int_eq(table_run(b.set, query, values, &count, NULL), TABLE_FOUND);
        ck_assert_msg(count == 1, "%g is not of the series", size);
    }
    bench_close(&b);
}
END_TEST

TCase *outside_tests(void)
{
    TCase *t = tcase_create("outside");
    tcase_add_unchecked_fixture(t, ask_units, NULL);
    tcase_add_loop_test(t, metric_screw_is_by_its_standards, 0, COUNT_OF(metric_sizes));
    tcase_add_loop_test(t, metric_hole_takes_its_screw, 0, COUNT_OF(metric_sizes));
    tcase_add_loop_test(t, inch_screw_is_by_its_standards, 0, COUNT_OF(inch_sizes));
    tcase_add_loop_test(t, inch_hole_takes_its_screw, 0, COUNT_OF(inch_sizes));
    tcase_add_loop_test(t, metric_heads_and_holes_are_those_of_the_standards, 0, COUNT_OF(metric_table));
    tcase_add_loop_test(t, inch_heads_and_holes_are_those_of_the_standards, 0, COUNT_OF(inch_table));
    tcase_add_loop_test(t, drill_agrees_with_gnu_units, 0, DRILLS);
    tcase_add_loop_test(t, property_class_means_its_strength, 0, COUNT_OF(classes));
    tcase_add_loop_test(t, tolerance_is_by_iso_286_1, 0, FIT_ROWS);
    tcase_add_loop_test(t, deviation_is_by_iso_286_1, 0, FIT_ROWS);
    tcase_add_loop_test(t, preferred_number_is_by_iso_3, 0, PREFERRED);
    tcase_add_loop_test(t, plate_is_of_the_r10_series, 0, 2);
    return t;
}
