/* Dimensions and types: what goes together, what a formula gives, how a call takes its arguments. */

#include "formula.h"

#include <string.h>

/* ---- what is given ---------------------------------------------------------------------- */

static const struct { const char *text, *gives;
} given[] = {
    {"a + b", "length"},
    {"a * b", "length^2"},
    {"force / (a * b)", "pressure"},
    {"a / b", "number"},
    {"sqrt(a * b)", "length"},
    {"a^3 * b", "length^4"},
    {"(a * b)^(1/2)", "length"},
    {"sin(turn)", "number"},
    {"atan2(a, b)", "angle"},
    {"a + 0", "length"},
    {"0 + a", "length"},
    {"max(0, a)", "length"},
    {"if(on, 0, a)", "length"},
    {"if(on, force, 0)", "force"},
    {"-a", "length"},
    {"abs(force)", "force"},
    {"rise_to(a, 5 mm)", "length"},
    {"rest(a, b)", "length"},
    {"whole(a / b)", "number"},
    {"force * a", "work"},
    {"2 kg * 9.81 m / (1 s)^2", "force"},
    {"area(a)", "length^2"},
    {"top.thickness", "length"},
    {"min(a, b, 2 mm, 0)", "length"},
    {"n^m", "number"},
    {"a^2 / a", "length"},
};

START_TEST(a_formula_has_the_dimension_of_its_parts)
{
    struct unit_dim want;
    struct base_diag why;
    ck_assert_int_eq(unit_parse_dim(given[_i].gives, &want, &why), BASE_OK);
    struct formula_code *code = code_of(given[_i].text, NULL);
    struct formula_type t = formula_code_type(code);
    ck_assert_int_eq(t.sort, FORMULA_NUMBER);
    ck_assert_msg(unit_same(t.dim, want), "%s is no %s", given[_i].text, given[_i].gives);
    formula_code_free(code);
}
END_TEST

static const struct { const char *text; enum formula_sort sort;
} sorts[] = {
    {"a < b", FORMULA_YESNO},         {"on and off", FORMULA_YESNO}, {"\"M8\"", FORMULA_TEXT},
    {"size", FORMULA_TEXT},           {"this", FORMULA_ITEM},        {"if(on, \"x\", size)", FORMULA_TEXT},
    {"size = \"M8\"", FORMULA_YESNO}, {"known(a)", FORMULA_YESNO},   {"top.moves", FORMULA_TEXT},
    {"this = middle", FORMULA_YESNO},
};

START_TEST(a_formula_has_the_sort_of_its_parts)
{
    struct formula_code *code = code_of(sorts[_i].text, NULL);
    ck_assert_int_eq(formula_code_type(code).sort, sorts[_i].sort);
    formula_code_free(code);
}
END_TEST

/* ---- what is refused -------------------------------------------------------------------------- */

/* START and LENGTH: the mark; LENGTH 0 is not looked at. */
static const struct { const char *text, *words; int start, length;
} refused[] = {
    {"25 mm + 3 kN", "a length and a force cannot be added", 0, 12},
    {"a - force", "cannot be subtracted", 0, 9},
    {"1 + (a + force)", "a length and a force cannot be added", 5, 0},
    {"a + 1", "a length and a number cannot be added", 0, 5},
    {"a < force", "cannot be compared", 0, 9},
    {"a = \"x\"", "cannot be compared", 0, 7},
    {"max(a, force)", "cannot be compared", 0, 13},
    {"if(on, a, force)", "cannot be chosen between", 0, 16},
    {"if(a, 1, 2)", "condition", 3, 1},
    {"sin(30)", "30 deg", 4, 2},
    {"sin(a)", "angle", 4, 1},
    {"a and on", "yes or no", 0, 1},
    {"not a", "yes or no", 4, 1},
    {"a + size", "number", 4, 4},
    {"a^n", "written as a number", 2, 1},
    {"2^a", "plain number", 2, 1},
    {"a^0.51", "power", 0, 6},
    {"whole(a)", "number", 6, 1},
    {"numbers_in(a)", "a list of numbers", 0, 13},
    {"number_at(\"2\", on)", "works on numbers", 0, 18},
    {"least_figure(a)", "looks for figures in a text", 0, 15},
    {"rise_to(a, force)", "cannot be", 0, 17},
    {"atan2(a, 1)", "cannot be", 0, 11},
    {"size < \"M9\"", "number", 0, 4},
    {"-size", "number", 1, 4},
    {"abs(on)", "numbers", 0, 7},
    /* names */
    {"forse", "force", 0, 5},
    {"2 * lenght", "\"lenght\"", 4, 6},
    {"top.thicknes", "thicknes", 0, 12},
    {"nobody.thicknes", "nobody has no \"thicknes\"", 0, 15},
    {"a.b", "no item", 0, 3},
    {"nonsense(1)", "no function", 0, 11},
    {"circle", "hangs on itself", 0, 6},
    /* calls */
    {"area()", "needs long", 0, 6},
    {"area(wide: 2 mm)", "needs long", 0, 16},
    {"area(1 mm, 2 mm, 3 mm)", "too many", 17, 4},
    {"area(1 mm, long: 2 mm)", "given twice", 17, 4},
    {"area(tall: 1 mm)", "tall", 11, 4},
    {"area(3 kN)", "a force", 5, 4},
    {"area(5)", "a length", 5, 1},
    {"if(on)", "if()", 0, 6},
    {"sqrt()", "there are 0", 0, 6},
    {"sqrt(1, 2)", "too many", 8, 1},
    {"min()", "nothing", 0, 5},
    {"min(x: 1)", "names", 7, 1},
    {"spin(a)", "calls itself", 0, 7},
    {"1 mm + bad(a)", "In bad()", 7, 6},
    {"reaches_out(a)", "\"a\"", 0, 14},
    {"between(top, a)", "an item", 13, 1},
};

START_TEST(what_does_not_go_together_is_refused_and_marked)
{
    struct base_diag why = refusal_of(refused[_i].text, NULL);
    ck_assert_msg(strcasestr(why.message, refused[_i].words), "%s: \"%s\" does not say \"%s\"",
                  refused[_i].text, why.message, refused[_i].words);
    ck_assert_msg(why.start == refused[_i].start, "%s: marked at %d (%s)", refused[_i].text, why.start,
                  why.message);
    if (refused[_i].length)
        ck_assert_msg(why.length == refused[_i].length, "%s: %d bytes marked", refused[_i].text, why.length);
}
END_TEST

static const struct { const char *text; const struct formula_type *want; const char *words;
} wanted[] = {
    {"force", &length_type, "a length is wanted here, and this gives a force"},
    {"25", &length_type, "with its unit"},
    {"a", &yesno_type, "yes or no"},
    {"yes", &number_type, "a number"},
    {"size", &length_type, "this gives a text"},
    {"5 mm", &text_type, "a text"},
    {"a", &plate_type, "an item"},
};

START_TEST(a_result_of_the_wrong_type_is_refused)
{
    struct base_diag why = refusal_of(wanted[_i].text, wanted[_i].want);
    ck_assert_msg(strcasestr(why.message, wanted[_i].words), "%s: %s", wanted[_i].text, why.message);
    ck_assert_int_eq(why.start, 0);
    ck_assert_int_eq(why.length, (int)strlen(wanted[_i].text));
}
END_TEST

START_TEST(a_literal_nothing_fits_what_is_wanted)
{
    static const struct formula_type *const types[] = {&length_type, &force_type, &number_type, &angle_type};
    for (size_t i = 0; i < COUNT_OF(types); i++) {
        struct formula_code *code = code_of("0", types[i]);
        ck_assert(unit_same(formula_code_type(code).dim, types[i]->dim));
        formula_code_free(code);
    }
}
END_TEST

START_TEST(an_unknown_name_is_told_apart_and_the_nearest_are_named)
{
    struct base_diag why = refusal_of("forc", NULL);
    ck_assert_int_eq(why.code, BASE_UNKNOWN);
    ck_assert_msg(strstr(why.message, "force"), "%s", why.message);
}
END_TEST

TCase *type_cases(void)
{
    TCase *t = tcase_create("types");
    tcase_add_loop_test(t, a_formula_has_the_dimension_of_its_parts, 0, COUNT_OF(given));
    tcase_add_loop_test(t, a_formula_has_the_sort_of_its_parts, 0, COUNT_OF(sorts));
    tcase_add_loop_test(t, what_does_not_go_together_is_refused_and_marked, 0, COUNT_OF(refused));
    tcase_add_loop_test(t, a_result_of_the_wrong_type_is_refused, 0, COUNT_OF(wanted));
    tcase_add_test(t, a_literal_nothing_fits_what_is_wanted);
    tcase_add_test(t, an_unknown_name_is_told_apart_and_the_nearest_are_named);
    return t;
}
