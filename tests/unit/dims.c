/* Dimensions: their arithmetic in sixths of powers, their names read and told. */

#include "suites.h"

#include <string.h>

/* Texts and the exponents of length, force, time and angle in sixths. */
static const struct { const char *text; struct unit_dim dim; } readings[] = {
    {"number", {0, 0, 0, 0}},
    {"length", {6, 0, 0, 0}},
    {"area", {12, 0, 0, 0}},
    {"force", {0, 6, 0, 0}},
    {"pressure", {-12, 6, 0, 0}},
    {"rate", {-6, 6, 0, 0}},
    {"work", {6, 6, 0, 0}},
    {"power", {6, 6, -6, 0}},
    {"mass", {-6, 6, 12, 0}},
    {"density", {-24, 6, 12, 0}},
    {"angle", {0, 0, 0, 6}},
    {"frequency", {0, 0, -6, 0}},
    {"length^4", {24, 0, 0, 0}},
    {"length ^ 4", {24, 0, 0, 0}},
    {"  force  /  length  ", {-6, 6, 0, 0}},
    {"force/length/length", {-12, 6, 0, 0}},
    {"force * length", {6, 6, 0, 0}},
    {"length^-1", {-6, 0, 0, 0}},
    {"length^0.5", {3, 0, 0, 0}},
    {"length^1.5 * force", {9, 6, 0, 0}},
    {"pressure * area", {0, 6, 0, 0}},
    {"density * length^3", {-6, 6, 12, 0}},
    {"number / frequency", {0, 0, 6, 0}},
    {"work * frequency", {6, 6, -6, 0}},
    {"angle / length", {-6, 0, 0, 6}},
};

START_TEST(a_dimension_is_read)
{
    struct unit_dim dim;
    ck_ok(unit_parse_dim(readings[_i].text, &dim, why));
    ck_assert_msg(unit_same(dim, readings[_i].dim), "%s: %d %d %d %d", readings[_i].text, dim.length,
                  dim.force, dim.time, dim.angle);
}
END_TEST

/* What is refused, and what the sentence must name. */
static const struct { const char *text, *says;
} refusals[] = {
    {"", "is no dimension"},
    {"lenght", "\"lenght\" is no dimension"},
    {"length force", "\"*\" or \"/\""},
    {"length *", "is no dimension"},
    {"/ length", "is no dimension"},
    {"length^", "power"},
    {"length^x", "power"},
    {"length^0.3", "power"},
    {"length^99", "power"},
    {"mm", "\"mm\" is no dimension"},
    {"Length", "\"Length\" is no dimension"},
    {"length + area", "\"*\" or \"/\""},
    {"length^20 * length^20", "too high"},
    {"length2", "\"*\" or \"/\""},
    {"length^4^2", "\"*\" or \"/\""},
};

START_TEST(what_is_no_dimension_is_refused_in_words)
{
    struct unit_dim dim;
    struct base_diag why = {0};
    ck_assert_int_eq(unit_parse_dim(refusals[_i].text, &dim, &why), BASE_REFUSED);
    ck_assert_msg(strstr(why.message, refusals[_i].says), "\"%s\": %s", refusals[_i].text, why.message);
    ck_assert_str_eq(why.source, refusals[_i].text);
    ck_assert_int_ge(why.start, 0);
    ck_assert_int_le(why.start, (int)strlen(refusals[_i].text));
    ck_assert_int_eq(unit_parse_dim(refusals[_i].text, &dim, NULL), BASE_REFUSED);
}
END_TEST

static const struct { const char *text, *name; } names[] = {
    {"number", "a number"},     {"length", "a length"}, {"area", "an area"},          {"angle", "an angle"},
    {"density", "a density"},   {"force * length", "a work"}, {"force / length^2", "a pressure"},
    {"length^3", "length^3"},   {"length^4", "length^4"}, {"length^3 * force", "length^3 * force"},
    {"length^-1", "length^-1"}, {"length^0.5", "length^(3/6)"}, {"force^2 / angle", "force^2 * angle^-1"},
};

START_TEST(a_dimension_is_told)
{
    struct unit_dim dim;
    char buf[80];
    ck_ok(unit_parse_dim(names[_i].text, &dim, why));
    ck_assert_str_eq(unit_dim_name(dim, buf, sizeof buf), names[_i].name);
}
END_TEST

START_TEST(products_and_quotients_undo_each_other)
{
    for (size_t i = 0; i < COUNT_OF(readings); i++)
        for (size_t k = 0; k < COUNT_OF(readings); k++) {
            struct unit_dim product, back;
            ck_assert(unit_multiply(readings[i].dim, readings[k].dim, &product));
            ck_assert(unit_divide(product, readings[k].dim, &back));
            ck_assert(unit_same(back, readings[i].dim));
        }
}
END_TEST

START_TEST(roots_and_powers_undo_each_other)
{
    static const double powers[] = {2, 3, 0.5, 1.0 / 3, -1, 1.5};
    for (size_t i = 0; i < COUNT_OF(powers); i++) {
        struct unit_dim raised, back;
        ck_assert(unit_raise(UNIT_LENGTH, powers[i], &raised));
        ck_assert_int_eq(raised.length, (int)(6 * powers[i] + (powers[i] < 0 ? -0.5 : 0.5)));
        ck_assert(unit_raise(raised, 1 / powers[i], &back));
        ck_assert(unit_same(back, UNIT_LENGTH));
    }
}
END_TEST

START_TEST(a_power_out_of_range_is_refused)
{
    struct unit_dim far = {120, -120, 0, 0}, out;
    ck_assert(!unit_multiply(far, UNIT_AREA, &out));
    ck_assert(!unit_divide(far, UNIT_PRESSURE, &out));
    ck_assert(!unit_raise(far, 2, &out));
    ck_assert(!unit_raise(UNIT_LENGTH, 0.25, &out));
    ck_assert(!unit_raise(UNIT_LENGTH, 1e300, &out));
    ck_assert(unit_raise(UNIT_NUMBER, 1e300, &out));
    ck_assert(unit_same(out, UNIT_NUMBER));
    ck_assert(unit_raise(far, 0, &out));
    ck_assert(unit_same(out, UNIT_NUMBER));
}
END_TEST

TCase *dims_case(void)
{
    TCase *t = tcase_create("dimensions");
    tcase_add_loop_test(t, a_dimension_is_read, 0, COUNT_OF(readings));
    tcase_add_loop_test(t, what_is_no_dimension_is_refused_in_words, 0, COUNT_OF(refusals));
    tcase_add_loop_test(t, a_dimension_is_told, 0, COUNT_OF(names));
    tcase_add_test(t, products_and_quotients_undo_each_other);
    tcase_add_test(t, roots_and_powers_undo_each_other);
    tcase_add_test(t, a_power_out_of_range_is_refused);
    return t;
}
