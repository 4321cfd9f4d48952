/* Reading units. Factors are those of the definitions: international inch 25.4 mm and pound 0.45359237 kg
 * (1959), standard gravity 9.80665 m/s2 (3rd General Conference on Weights and Measures, 1901), the units of
 * the SI. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct { const char *name, *dim; double factor;
} units[] = {
    {"mm", "length", 1},
    {"cm", "length", 10},
    {"m", "length", 1000},
    {"um", "length", 1e-3},
    {"in", "length", 25.4},
    {"ft", "length", 304.8},
    {"thou", "length", 0.0254},
    {"mm2", "area", 1},
    {"cm2", "area", 100},
    {"m2", "area", 1e6},
    {"in2", "area", 645.16},
    {"mm3", "length^3", 1},
    {"cm3", "length^3", 1e3},
    {"m3", "length^3", 1e9},
    {"mm4", "length^4", 1},
    {"N", "force", 1},
    {"kN", "force", 1e3},
    {"MN", "force", 1e6},
    {"lbf", "force", 4.4482216152605},
    {"kgf", "force", 9.80665},
    {"ton_us", "force", 8896.443230521},
    {"ton_metric", "force", 9806.65},
    {"ton_long", "force", 9964.01641818352},
    {"MPa", "pressure", 1},
    {"GPa", "pressure", 1e3},
    {"kPa", "pressure", 1e-3},
    {"Pa", "pressure", 1e-6},
    {"bar", "pressure", 0.1},
    {"psi", "pressure", 4.4482216152605 / 645.16},
    {"ksi", "pressure", 4448.2216152605 / 645.16},
    {"J", "work", 1e3},
    {"kJ", "work", 1e6},
    {"N*m", "work", 1e3},
    {"N m", "work", 1e3},
    {"Nm", "work", 1e3},
    {"W", "power", 1e3},
    {"kW", "power", 1e6},
    {"kg", "mass", 1e-3},
    {"g", "mass", 1e-6},
    {"lb", "mass", 0.45359237e-3},
    {"kg/m3", "density", 1e-12},
    {"kg/mm3", "density", 1e-3},
    {"N/mm", "rate", 1},
    {"lbf/in", "rate", 4.4482216152605 / 25.4},
    {"s", "time", 1},
    {"min", "time", 60},
    {"h", "time", 3600},
    {"/min", "frequency", 1.0 / 60},
    {"/s", "frequency", 1},
    {"deg", "angle", 0.017453292519943295},
    {"rad", "angle", 1},
    {"%", "number", 0.01},
    {"N/mm2", "pressure", 1},
    {"lbf ft", "work", 4.4482216152605 * 304.8},
    {"ft lbf", "work", 4.4482216152605 * 304.8},
    {"lbf in", "work", 4.4482216152605 * 25.4},
    {"in lbf", "work", 4.4482216152605 * 25.4},
    {"lb/in3", "density", 0.45359237e-3 / (25.4 * 25.4 * 25.4)},
    {"kN/mm", "rate", 1000},
    {"mm/s", "length * frequency", 1},
    {"m/s", "length * frequency", 1000},
    {"m/min", "length * frequency", 1000.0 / 60},
    {"in/s", "length * frequency", 25.4},
    {"\u00b0", "angle", 0.017453292519943295},
    {"\u00b5m", "length", 0.001},
    {"\u03bcm", "length", 0.001},
    {"mm\u00b2", "area", 1},
    {"cm\u00b2", "area", 100},
    {"m\u00b2", "area", 1e6},
    {"in\u00b2", "area", 645.16},
    {"mm\u00b3", "length^3", 1},
    {"cm\u00b3", "length^3", 1000},
    {"m\u00b3", "length^3", 1e9},
    {"mm\u2074", "length^4", 1},
    {"N/mm\u00b2", "pressure", 1},
    {"N\u00b7m", "work", 1e3},
};

static bool near(double a, double b) { return fabs(a - b) <= 1e-15 * fabs(b) * 4; }

START_TEST(each_unit_has_its_dimension_and_factor)
{
    struct unit_dim dim, want;
    double factor;
    ck_assert_uint_eq(unit_scan(units[_i].name, &dim, &factor), strlen(units[_i].name));
    ck_ok(unit_parse_dim(units[_i].dim, &want, why));
    ck_assert_msg(unit_same(dim, want), "%s is no %s", units[_i].name, units[_i].dim);
    ck_assert_msg(near(factor, units[_i].factor), "%s: %.17g, not %.17g", units[_i].name, factor,
                  units[_i].factor);
    ck_assert_msg(unit_is_word(units[_i].name), "%s", units[_i].name);
}
END_TEST

START_TEST(a_unit_ends_where_no_letter_goes_on)
{
    static const char *const tails[] = {"", " ", ")", ",", "+1", " * 2", "^2", "}", "\""};
    static const char *const run_on[] = {"x", "9", "_", "Z"};
    struct unit_dim dim;
    double factor;
    char text[40];
    size_t n = strlen(units[_i].name);
    for (size_t i = 0; i < COUNT_OF(tails); i++) {
        snprintf(text, sizeof text, "%s%s", units[_i].name, tails[i]);
        ck_assert_msg(unit_scan(text, &dim, &factor) == n, "\"%s\"", text);
    }
    for (size_t i = 0; i < COUNT_OF(run_on) && units[_i].name[n - 1] != '%'; i++) {
        snprintf(text, sizeof text, "%s%s", units[_i].name, run_on[i]);
        ck_assert_msg(unit_scan(text, &dim, &factor) < n, "\"%s\"", text);
        ck_assert_msg(!unit_is_word(text), "\"%s\"", text);
    }
}
END_TEST

START_TEST(to_base_and_back_gives_the_number_again)
{
    static const double numbers[] = {0, 1, -1, 25.4, 1e-6, 7850, -123456.789, 1e12, 0.1, 1.0 / 3};
    struct unit_dim dim;
    struct unit_display display;
    ck_assert(unit_display_named(units[_i].name, &dim, &display));
    ck_assert_str_eq(display.name, units[_i].name);
    for (size_t i = 0; i < COUNT_OF(numbers); i++)
        ck_assert_msg(near(numbers[i] * display.factor / display.factor, numbers[i]), "%.17g %s", numbers[i],
                      display.name);
}
END_TEST

/* What is taken from the front of a text, longest first. */
static const struct { const char *text; size_t length;
} scans[] = {
    {"mm", 2},      {"mm2", 3},    {"mm3", 3},         {"mm4", 3},      {"mm5", 0},  {"m", 1},
    {"m2)", 2},     {"m/s", 3},    {"in2 + 1", 3},     {"in", 2},       {"inch", 0}, {"N", 1},
    {"N/mm", 4},    {"N/mm2", 5},  {"N*m", 3},         {"N*mm", 1},     {"N m", 3},  {"N mm", 1},
    {"Nm", 2},      {"N min", 1},  {"N*2", 1},         {"N / mm", 1},   {"kg", 2},   {"kg/m3", 5},
    {"kg/mm3", 6},  {"kg/m", 2},   {"kg/cm3", 2},      {"lbf", 3},      {"lb", 2},   {"lbf/in", 6},
    {"lbf/in2", 3}, {"ton_us", 6}, {"ton_metric", 10}, {"ton_long", 8}, {"ton", 0},  {"ton_", 0},
    {"tons", 0},    {"MPa", 3},    {"Mpa", 0},         {"mPa", 0},      {"kn", 0},   {"KN", 0},
    {"MM", 0},      {"In", 0},     {"/min", 4},        {"/s", 2},       {"/m", 0},   {"/ min", 0},
    {"min", 3},     {"minute", 0}, {"deg", 3},         {"degree", 0},   {"%", 1},    {"%x", 1},
    {"%%", 1},      {"", 0},       {" mm", 0},         {"x", 0},        {"5", 0},    {"\"", 0},
    {"sin", 0},     {"h2", 0},     {"g/cm3", 1},         {"m/h", 1},
    {"ft lbf/in", 6}, {"ft lb", 2}, {"\u00b0C", 0}, {"mm\u00b3", 4}, {"\u00b5", 0},
};

START_TEST(the_longest_unit_is_taken)
{
    struct unit_dim dim;
    double factor;
    ck_assert_msg(unit_scan(scans[_i].text, &dim, &factor) == scans[_i].length, "\"%s\": %zu", scans[_i].text,
                  unit_scan(scans[_i].text, &dim, &factor));
    bool word = scans[_i].length && scans[_i].length == strlen(scans[_i].text);
    ck_assert_msg(unit_is_word(scans[_i].text) == word, "\"%s\"", scans[_i].text);
}
END_TEST

START_TEST(a_unit_that_is_none_is_not_shown_in)
{
    static const char *const wrong[] = {"", "mm ", "ton", "MM", "mm5", "N*mm", "lenght", "5 mm"};
    struct unit_dim dim;
    struct unit_display display;
    for (size_t i = 0; i < COUNT_OF(wrong); i++)
        ck_assert_msg(!unit_display_named(wrong[i], &dim, &display), "\"%s\"", wrong[i]);
}
END_TEST

TCase *units_case(void)
{
    TCase *t = tcase_create("units");
    tcase_add_loop_test(t, each_unit_has_its_dimension_and_factor, 0, COUNT_OF(units));
    tcase_add_loop_test(t, a_unit_ends_where_no_letter_goes_on, 0, COUNT_OF(units));
    tcase_add_loop_test(t, to_base_and_back_gives_the_number_again, 0, COUNT_OF(units));
    tcase_add_loop_test(t, the_longest_unit_is_taken, 0, COUNT_OF(scans));
    tcase_add_test(t, a_unit_that_is_none_is_not_shown_in);
    return t;
}
