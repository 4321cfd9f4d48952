/* Numbers as they are shown. */

#include "suites.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A value in some unit, and how it is told in millimetres and in inches. */
static const struct { double number; const char *unit, *metric, *inch; } shown[] = {
    {25, "mm", "25.0 mm", "0.9843 in"},
    {25.4, "mm", "25.4 mm", "1.000 in"},
    {25.25, "mm", "25.25 mm", "0.9941 in"},
    {25.254, "mm", "25.254 mm", "0.9943 in"},
    {20.125, "mm", "20.125 mm", "0.7923 in"},
    {29.991, "mm", "29.991 mm", "1.1807 in"},
    {0.1 + 0.2, "mm", "0.3 mm", "0.0118 in"},
    {0.0004, "mm", "0.0 mm", "0.000 in"},
    {0, "mm", "0.0 mm", "0.000 in"},
    {-0.001, "mm", "-0.001 mm", "0.000 in"},
    {-0.04, "mm", "-0.04 mm", "-0.0016 in"},
    {-12.5, "mm", "-12.5 mm", "-0.4921 in"},
    {0.999999, "mm", "1.0 mm", "0.0394 in"},
    {24.9999999, "mm", "25.0 mm", "0.9843 in"},
    {1.0625, "in", "26.988 mm", "1.0625 in"},
    {0.5, "in", "12.7 mm", "0.500 in"},
    {100, "mm2", "100.0 mm2", "0.1550 in2"},
    {156900, "N", "156.9 kN", "156.9 kN"},
    {100, "N", "0.1 kN", "0.1 kN"},
    {99.9, "N", "99.9 N", "99.9 N"},
    {-42, "N", "-42.0 N", "-42.0 N"},
    {0, "N", "0.0 kN", "0.0 kN"},
    {360.4, "MPa", "360 MPa", "360 MPa"},
    {-0.4, "MPa", "-0.4 MPa", "-0.4 MPa"},
    {22.25, "deg", "22.25 deg", "22.25 deg"},
    {0.0451, "kg", "0.045 kg", "0.045 kg"},
    {41.2, "N/mm", "41.2 N/mm", "41.2 N/mm"},
    {973.89, "J", "973.9 N m", "973.9 N m"},
    {1.963, "kW", "1.96 kW", "1.96 kW"},
    {78.5, "kg", "78.5 kg", "78.5 kg"},
    {7850, "kg/m3", "7850 kg/m3", "7850 kg/m3"},
    {45, "deg", "45.0 deg", "45.0 deg"},
    {10, "/min", "10 /min", "10 /min"},
    {1500, "mm3", "1500 mm3", "1500 mm3"},
    {30, "mm4", "30 mm4", "30 mm4"},
    {8, "%", "0.08", "0.08"},
    {150, "%", "1.5", "1.5"},
    {-0.00001, "%", "0", "0"},
};

START_TEST(a_value_is_told_with_its_unit)
{
    struct unit_dim dim;
    double factor;
    char buf[80];
    ck_assert_uint_gt(unit_scan(shown[_i].unit, &dim, &factor), 0);
    ck_assert_str_eq(unit_print(shown[_i].number * factor, dim, UNIT_METRIC, buf, sizeof buf),
                     shown[_i].metric);
    ck_assert_str_eq(unit_print(shown[_i].number * factor, dim, UNIT_INCH, buf, sizeof buf), shown[_i].inch);
}
END_TEST

START_TEST(a_bare_number_is_in_the_unit_shown_for_its_dimension)
{
    char buf[80];
    ck_assert_str_eq(unit_print_number(25, UNIT_LENGTH, UNIT_METRIC, buf, sizeof buf), "25.0");
    ck_assert_str_eq(unit_print_number(25.4, UNIT_LENGTH, UNIT_INCH, buf, sizeof buf), "1.000");
    ck_assert_str_eq(unit_print_number(50, UNIT_FORCE, UNIT_METRIC, buf, sizeof buf), "0.05");
    ck_assert_str_eq(unit_print_number(-0.0, UNIT_LENGTH, UNIT_METRIC, buf, sizeof buf), "0.0");
    ck_assert_str_eq(unit_display(UNIT_FORCE, UNIT_METRIC).name, "kN");
    ck_assert_str_eq(unit_display(UNIT_LENGTH, UNIT_INCH).name, "in");
    ck_assert_str_eq(unit_display(UNIT_NUMBER, UNIT_METRIC).name, "");
}
END_TEST

START_TEST(no_zero_bears_a_minus)
{
    static const double tiny[] = {-0.0, -1e-300, -1e-9, -1e-5};
    const struct unit_dim *dims[] = {&UNIT_NUMBER, &UNIT_LENGTH,  &UNIT_AREA, &UNIT_PRESSURE, &UNIT_RATE,
                                     &UNIT_WORK,   &UNIT_DENSITY, &UNIT_ANGLE};
    char buf[80];
    for (size_t d = 0; d < COUNT_OF(dims); d++)
        for (size_t i = 0; i < COUNT_OF(tiny); i++) {
            struct unit_display u = unit_display(*dims[d], UNIT_METRIC);
            unit_print(tiny[i] * u.factor, *dims[d], UNIT_METRIC, buf, sizeof buf);
            ck_assert_msg(buf[0] != '-', "%s", buf);
        }
}
END_TEST

START_TEST(what_is_no_number_is_a_question_mark)
{
    char buf[80];
    ck_assert_str_eq(unit_print_number(NAN, UNIT_LENGTH, UNIT_METRIC, buf, sizeof buf), "?");
    ck_assert_str_eq(unit_print_number(INFINITY, UNIT_FORCE, UNIT_METRIC, buf, sizeof buf), "?");
}
END_TEST

START_TEST(a_short_buffer_is_filled_and_closed)
{
    char buf[6];
    memset(buf, 'x', sizeof buf);
    unit_print(123456.5, UNIT_LENGTH, UNIT_METRIC, buf, sizeof buf);
    ck_assert_uint_lt(strlen(buf), sizeof buf);
    memset(buf, 'x', sizeof buf);
    unit_print_exact(1.0 / 3, buf, sizeof buf);
    ck_assert_uint_lt(strlen(buf), sizeof buf);
}
END_TEST

static const struct { double number; const char *text;
} exact[] = {
    {0, "0"},
    {-0.0, "0"},
    {25, "25"},
    {0.1, "0.1"},
    {-12.5, "-12.5"},
    {25.4, "25.4"},
    {1.0 / 3, "0.3333333333333333"},
    {1e-6, "1e-06"},
    {7850, "7850"},
    {123456789, "123456789"},
    {0.1 + 0.2, "0.30000000000000004"},
};

START_TEST(the_shortest_text_of_a_number)
{
    char buf[40];
    ck_assert_str_eq(unit_print_exact(exact[_i].number, buf, sizeof buf), exact[_i].text);
}
END_TEST

/* A fixed sequence of numbers over all magnitudes. */
static double nth_number(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    double mantissa = (double)(int64_t)(*state >> 11) / 9007199254740992.0 - 0.5;
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return ldexp(mantissa, (int)(*state >> 40) % 1200 - 600);
}

/* Between 0 and 1, of the same sequence. */
static double nth_share(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* Whatever length is told, its text read back is it to 0.001 mm or 0.0001 in, and has no digits that the
   value does not have. */
START_TEST(a_length_in_print_is_the_length)
{
    uint64_t state = 7;
    char buf[80];
    for (int i = 0; i < 20000; i++) {
        bool inch = i % 2, round_one = i % 3 == 0;
        struct unit_system s = inch ? UNIT_INCH : UNIT_METRIC;
        double unit = inch ? 25.4 : 1, finest = inch ? 1e-4 : 1e-3;
        double x = (nth_share(&state) - 0.5) * pow(10, floor(nth_share(&state) * 6) - 1);
        if (round_one)
            x = round(x * 10) / 10;
        unit_print(x * unit, UNIT_LENGTH, s, buf, sizeof buf);
        ck_assert_msg(fabs(strtod(buf, NULL) - x) <= finest / 2 + 1e-9 * fabs(x), "%.9g is told as %s", x,
                      buf);
        const char *point = strchr(buf, '.');
        size_t decimals = strspn(point + 1, "0123456789");
        ck_assert_msg(!round_one || decimals == (inch ? 3 : 1), "%.9g is told as %s", x, buf);
        ck_assert_msg(decimals == (inch ? 3 : 1) || point[decimals] != '0', "%.9g is told as %s", x, buf);
        unit_print_number(x * unit, UNIT_LENGTH, s, buf, sizeof buf);
        ck_assert_msg(fabs(strtod(buf, NULL) - x) <= finest / 2 + 1e-9 * fabs(x), "%.9g is told as %s", x,
                      buf);
        unit_print_plain(x, buf, sizeof buf);
        ck_assert_msg(fabs(strtod(buf, NULL) - x) <= 1e-9 + 1e-11 * fabs(x), "%.17g as data is %s", x, buf);
        ck_assert_msg(strlen(buf) <= 19, "%s", buf);
    }
}
END_TEST

/* Two values that are not one never read as one, however near they are. */
START_TEST(a_value_is_told_from_the_one_beside_it)
{
    static const struct unit_dim *const dims[] = {&UNIT_LENGTH, &UNIT_FORCE, &UNIT_PRESSURE,
                                                  &UNIT_NUMBER, &UNIT_MASS,  &UNIT_WORK};
    uint64_t state = 11;
    char a[80], b[80];
    for (int i = 0; i < 20000; i++) {
        const struct unit_dim d = *dims[(size_t)i % COUNT_OF(dims)];
        struct unit_system s = i % 4 == 0 ? UNIT_INCH : UNIT_METRIC;
        double f = unit_display(d, s).factor, x = nth_share(&state) * 1000 * f,
               off = pow(10, -1 - 4 * nth_share(&state)) * f, y = x + off;
        unit_print_apart(x, y, d, s, -1, a, sizeof a);
        unit_print_apart(y, x, d, s, -1, b, sizeof b);
        ck_assert_msg(strcmp(a, b) != 0, "%.12g and %.12g both read %s", x, y, a);
        ck_assert_msg(strcmp(strchr(a, ' ') ? strchr(a, ' ') : "", strchr(b, ' ') ? strchr(b, ' ') : "") !=
                              0 ||
                          strtod(a, NULL) < strtod(b, NULL),
                      "%s is not under %s", a, b);
    }
    ck_assert_str_eq(unit_print_apart(4.9996, 5, UNIT_LENGTH, UNIT_METRIC, -1, a, sizeof a), "4.9996 mm");
    ck_assert_str_eq(unit_print_apart(5, 4.9996, UNIT_LENGTH, UNIT_METRIC, -1, a, sizeof a), "5.0 mm");
    ck_assert_str_eq(unit_print_apart(360.4, 360, UNIT_PRESSURE, UNIT_METRIC, -1, a, sizeof a), "360.4 MPa");
    ck_assert_str_eq(unit_print_apart(5 + 1e-12, 5, UNIT_LENGTH, UNIT_METRIC, -1, a, sizeof a), "5.0 mm");
    ck_assert_str_eq(unit_print_in(0.10004, 0.1, "%", a, sizeof a), "10.004");
    ck_assert_str_eq(unit_print_in(0.1, 0.10004, "%", a, sizeof a), "10");
    ck_assert_str_eq(unit_print_in(20.125, NAN, "mm", a, sizeof a), "20.125");
}
END_TEST

START_TEST(data_has_no_noise_of_floating_point)
{
    static const struct { double number; const char *text;
    } rows[] = {
        {0.1 + 0.2, "0.3"},
        {-0.0, "0"},
        {0.1 + 0.2 - 0.3, "0"},
        {-1e-13, "0"},
        {29.991, "29.991"},
        {1.0 / 3, "0.333333333333"},
        {25.4 / 25.4 * 0.03125, "0.03125"},
        {1e-5, "1e-05"},
        {-14.748711305964292, "-14.748711306"},
    };
    char buf[40];
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        ck_assert_str_eq(unit_print_plain(rows[i].number, buf, sizeof buf), rows[i].text);
}
END_TEST

START_TEST(exact_text_reads_back_as_the_same_number)
{
    static const double edges[] = {DBL_MAX,        -DBL_MAX, DBL_MIN, DBL_EPSILON, 4.9406564584124654e-324,
                                   1 + DBL_EPSILON};
    uint64_t state = 1;
    char buf[40];
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        ck_assert(strtod(unit_print_exact(edges[i], buf, sizeof buf), NULL) == edges[i]);
    for (int i = 0; i < 20000; i++) {
        double x = nth_number(&state);
        ck_assert_msg(strtod(unit_print_exact(x, buf, sizeof buf), NULL) == x, "%a as %s", x, buf);
    }
}
END_TEST

/* Chosen for a job, values are told in these units; what hangs on them follows. */
START_TEST(a_value_is_told_in_the_unit_chosen)
{
    static const struct { const char *choose; double number; const char *unit, *text;
    } rows[] = {
        {"lbf", 156900, "N", "35273 lbf"},    {"lbf", 4.4482216152605, "N", "1 lbf"},
        {"ton_us", 156900, "N", "17.64 ton_us"}, {"ton_us", 400, "N", "90 lbf"},
        {"N", 156900, "N", "156900 N"},       {"kN", 156900, "N", "156.9 kN"},
        {"psi", 360, "MPa", "52214 psi"},     {"ksi", 360, "MPa", "52.2 ksi"},
        {"N/mm2", 360, "MPa", "360 N/mm2"},   {"lb", 20, "kg", "44.1 lb"},
        {"lb", 7850, "kg/m3", "0.284 lb/in3"}, {"lbf", 41.2, "N/mm", "235 lbf/in"},
        {"lbf ft", 82, "N m", "60.5 lbf ft"}, {"lbf in", 82, "N m", "726 lbf in"},
        {"in", 100, "mm2", "0.1550 in2"},     {"lb", 25, "mm", "25.0 mm"},
    };
    struct unit_dim dim;
    double factor;
    char buf[80];
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct unit_system s = UNIT_METRIC;
        ck_assert_msg(unit_choose(&s, rows[i].choose), "%s", rows[i].choose);
        unit_scan(rows[i].unit, &dim, &factor);
        ck_assert_str_eq(unit_print(rows[i].number * factor, dim, s, buf, sizeof buf), rows[i].text);
    }
    struct unit_system s = UNIT_INCH;
    ck_assert(!unit_choose(&s, "furlong") && !unit_choose(&s, "kW") && !unit_choose(&s, ""));
    ck_assert(unit_is_inch(s));
    ck_assert(!unit_choose(&s, "mm2") && unit_choose(&s, "mm") && !unit_is_inch(s));
}
END_TEST

/* No unit is dropped where none has a name. */
START_TEST(what_has_no_unit_of_its_own_is_told_in_powers)
{
    static const struct { struct unit_dim dim; const char *text;
    } rows[] = {
        {{3, 0, 0, 0}, "2 mm^1/2"},     {{30, 0, 0, 0}, "2 mm5"},  {{0, 6, 6, 0}, "2 N s"},
        {{0, 6, 12, 0}, "2 N s2"},      {{-6, 0, 0, 0}, "2 mm^-1"}, {{2, 0, 0, 6}, "2 mm^1/3 rad"},
        {{0, 0, -9, 0}, "2 s^-3/2"},    {{0, 1, 0, 0}, "2 N^1/6"}, {{0, 0, 0, 0}, "2"},
    };
    char buf[80];
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        ck_assert_str_eq(unit_print(2, rows[i].dim, UNIT_METRIC, buf, sizeof buf), rows[i].text);
}
END_TEST

TCase *print_case(void)
{
    TCase *t = tcase_create("print");
    tcase_add_test(t, a_length_in_print_is_the_length);
    tcase_add_test(t, a_value_is_told_from_the_one_beside_it);
    tcase_add_test(t, data_has_no_noise_of_floating_point);
    tcase_add_loop_test(t, a_value_is_told_with_its_unit, 0, COUNT_OF(shown));
    tcase_add_test(t, a_bare_number_is_in_the_unit_shown_for_its_dimension);
    tcase_add_test(t, a_value_is_told_in_the_unit_chosen);
    tcase_add_test(t, what_has_no_unit_of_its_own_is_told_in_powers);
    tcase_add_test(t, no_zero_bears_a_minus);
    tcase_add_test(t, what_is_no_number_is_a_question_mark);
    tcase_add_test(t, a_short_buffer_is_filled_and_closed);
    tcase_add_loop_test(t, the_shortest_text_of_a_number, 0, COUNT_OF(exact));
    tcase_add_test(t, exact_text_reads_back_as_the_same_number);
    return t;
}
