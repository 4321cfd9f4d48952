/* The calculator, printing, and single worked examples. */

#include "book.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct { const char *text, *printed; } sums[] = {
    {"2 + 3 * 4", "14"},
    {"1 1/4 in + 1/2 in", "44.45 mm"},
    {"wanted * 8 mm", "12.0 mm"},
    {"mass_of(1 m, 1 m)", "78.5 kg"},
    {"mass_of(1 m, 1 m, height: 20 mm)", "157.0 kg"},
    {"mass_of(1 m)", "0.002 kg"},
    {"play", "0.02 mm"},
    {"if(wanted > 1, \"more\", \"less\")", "more"},
    {"1 mm < 2 mm", "yes"},
    {"not yes", "no"},
    {"1 / 0", "division by zero"},
    {"sqrt(0 mm2 - 4 mm2)", "no such root"},
    {"8 %", "0.08"},
};

START_TEST(the_calculator_knows_factors_and_functions)
{
    struct handbook *h = read_more("");
    struct formula_value v;
    struct formula_type type;
    char buf[80];
    ck_ok(handbook_eval(h, sums[_i].text, &v, &type, why));
    ck_assert_str_eq(handbook_print(h, v, type, UNIT_METRIC, buf, sizeof buf), sums[_i].printed);
    handbook_free(h);
}
END_TEST

static const struct { const char *text, *mark, *says; } wrong[] = {
    {"25 mm + 3 kN", "25 mm + 3 kN", "added"},
    {"wnted", "wnted", "wanted"},
    {"stack.high", "stack", ""},
    {"mass_of(1 N)", "1 N", "length"},
    {"mass_of(", NULL, ""},
    {"", NULL, ""},
};

START_TEST(the_calculator_refuses_in_words)
{
    struct handbook *h = read_more("");
    struct formula_value v;
    struct formula_type type;
    struct base_diag why = {0};
    ck_assert_int_ne(handbook_eval(h, wrong[_i].text, &v, &type, &why), BASE_OK);
    ck_assert_msg(*why.message && strstr(why.message, wrong[_i].says), "%s", why.message);
    ck_assert_str_eq(why.source, wrong[_i].text);
    if (wrong[_i].mark)
        ck_assert_int_eq(strncmp(why.source + why.start, wrong[_i].mark, strlen(wrong[_i].mark)), 0);
    handbook_free(h);
}
END_TEST

/* 1 m x 1 m x 10 mm of 7850 kg/m3 is 78.5 kg. */
static const struct { const char *lines; bool agrees; } tries[] = {
    {"  try mass_of(1 m, 1 m)\n    expect 78.5 kg\n", true},
    {"  try mass_of(1 m, 1 m)\n    expect 78.6 kg\n", false},
    {"  try mass_of(1 m, 1 m)\n    expect 78.6 kg within 0.1 kg\n", true},
    {"  try mass_of(1 m, 1 m)\n    expect 78.6 kg within 0.09 kg\n", false},
    {"  try mass_of(1 m, 1 m)\n    expect 78.4 kg within 0.1 kg\n", true},
    {"  try mass_of(1 m, 1 m)\n    expect 78.6 kg within 0.09 kg\n    disagrees\n", true},
    {"  try mass_of(1 m, 1 m)\n    expect 78.6 kg within 0.1 kg\n    disagrees\n", false},
    {"  try mass_of(1 m, 1 m / 0)\n    expect 78.6 kg\n    disagrees\n", false},
    {"  try mass_of(1 m, 1 m / 0)\n    expect 78.6 kg\n", false},
    {"  try -3 mm\n    expect -3 mm\n", true},
    {"  try 0.1 + 0.2\n    expect 0.3\n", true},
};

START_TEST(a_try_agrees_within_what_it_says)
{
    char *text = base_format("example e\n%s", tries[_i].lines);
    struct handbook *h = read_more(text);
    struct formula_value got;
    struct formula_type type;
    double expected;
    ck_assert_msg(handbook_try_run(h, &handbook_example(h, 0)->tries[0], &got, &expected, &type) ==
                      tries[_i].agrees,
                  "%s", tries[_i].lines);
    ck_assert(!isnan(expected));
    handbook_free(h);
    free(text);
}
END_TEST

TCase *eval_case(void)
{
    TCase *t = tcase_create("eval");
    tcase_add_loop_test(t, the_calculator_knows_factors_and_functions, 0, COUNT_OF(sums));
    tcase_add_loop_test(t, the_calculator_refuses_in_words, 0, COUNT_OF(wrong));
    tcase_add_loop_test(t, a_try_agrees_within_what_it_says, 0, COUNT_OF(tries));
    return t;
}
