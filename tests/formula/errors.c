/* Errors as values: where they arise, how they travel, what stops them. */

#include "formula.h"

#include <stdlib.h>

/* ---- arising and travelling ------------------------------------------------------------- */

/* ORIGIN -1: the formula itself. */
static const struct { const char *text; enum formula_error error; int origin;
} rows[] = {
    {"a / 0", FORMULA_DIVISION, -1},
    {"1 / 0", FORMULA_DIVISION, -1},
    {"sqrt(a - b)", FORMULA_ROOT, -1},
    {"log10(n - n)", FORMULA_IMPOSSIBLE, -1},
    {"log10(0 - n)", FORMULA_IMPOSSIBLE, -1},
    {"(0 - n)^0.5", FORMULA_ROOT, -1},
    {"0^(0 - n)", FORMULA_DIVISION, -1},
    {"10^400", FORMULA_LARGE, -1},
    {"10^(n * 200)", FORMULA_LARGE, -1},
    {"rise_to(a, 0 mm)", FORMULA_DIVISION, -1},
    {"drop_to(a, a - a)", FORMULA_DIVISION, -1},
    {"rest(a, 0 mm)", FORMULA_DIVISION, -1},
    {"empty", FORMULA_EMPTY, EMPTY},
    {"empty + a", FORMULA_EMPTY, EMPTY},
    {"a + empty", FORMULA_EMPTY, EMPTY},
    {"broken * 2", FORMULA_DIVISION, A},
    {"empty + broken", FORMULA_EMPTY, EMPTY},
    {"broken + empty", FORMULA_DIVISION, A},
    {"-empty", FORMULA_EMPTY, EMPTY},
    {"max(a, empty)", FORMULA_EMPTY, EMPTY},
    {"empty < a", FORMULA_EMPTY, EMPTY},
    {"not blank", FORMULA_EMPTY, EMPTY_YESNO},
    {"sqrt(empty / a)", FORMULA_EMPTY, EMPTY},
    {"empty * 0", FORMULA_EMPTY, EMPTY},
    {"empty / 0", FORMULA_EMPTY, EMPTY},
    {"if(blank, a, b)", FORMULA_EMPTY, EMPTY_YESNO},
    {"if(on, empty, a)", FORMULA_EMPTY, EMPTY},
    {"if(off, a, broken)", FORMULA_DIVISION, A},
    {"if(a < b, a) + b", FORMULA_FINE, -1},
    {"if(a > b, a) + b", FORMULA_IMPOSSIBLE, -1},
    {"if(off, a)", FORMULA_IMPOSSIBLE, -1},
    {"if(no, a) * 2", FORMULA_IMPOSSIBLE, -1},
    {"if(blank, a)", FORMULA_EMPTY, EMPTY_YESNO},
    {"if(a > b, empty)", FORMULA_IMPOSSIBLE, -1},
    {"area(empty)", FORMULA_EMPTY, EMPTY},
    {"number_at(\"2, 3\", 3)", FORMULA_IMPOSSIBLE, -1},
    {"number_at(\"2, 3\", 0)", FORMULA_IMPOSSIBLE, -1},
    {"number_at(\"2, 3\", 1.5)", FORMULA_IMPOSSIBLE, -1},
    {"number_at(\"2, 3\", a / 1 mm)", FORMULA_IMPOSSIBLE, -1}, /* not settled */
    {"numbers_in(\"5 to 2\")", FORMULA_IMPOSSIBLE, -1},
    {"numbers_in(\"2, 2\")", FORMULA_IMPOSSIBLE, -1},
    {"numbers_in(\"2,\")", FORMULA_IMPOSSIBLE, -1},
    {"numbers_in(\"0\")", FORMULA_IMPOSSIBLE, -1},
    {"numbers_in(\"2 - 4\")", FORMULA_IMPOSSIBLE, -1},
    {"numbers_in(\"1 to 10000\")", FORMULA_IMPOSSIBLE, -1},
    {"least_figure(\"as the steel gives\")", FORMULA_IMPOSSIBLE, -1},
    {"most_figure(\"\")", FORMULA_IMPOSSIBLE, -1},
    {"nobody.thickness", FORMULA_EMPTY, -1},
    {"nobody.thickness + a", FORMULA_EMPTY, -1},
};

START_TEST(an_error_travels_with_the_place_it_arose_in)
{
    struct formula_value v = value_of(rows[_i].text);
    ck_assert_msg(v.error == rows[_i].error, "%s: %s", rows[_i].text, formula_error_text(v.error));
    ck_assert_msg(v.origin == rows[_i].origin, "%s: from %d", rows[_i].text, v.origin);
}
END_TEST

static const struct { const char *text; double value;
} stopped[] = {
    {"if(on, a, empty)", 3},
    {"if(off, broken, b)", 4},
    {"known(empty)", 0},
    {"known(a)", 1},
    {"known(a / 0)", 0},
    {"known(nobody.thickness)", 0},
    {"if(known(empty), empty, a)", 3},
    {"known(blank)", 0},
    {"known(size)", 1},
    {"known(known(empty))", 1},
    {"numbers_in(\"\")", 0},
    {"numbers_in(\" 2, 3,5 to 8 \")", 6},
    {"number_at(\"2, 3, 5 to 8\", 1)", 2},
    {"number_at(\"2, 3, 5 to 8\", 4)", 6},
    {"number_at(\"2, 3, 5 to 8\", 2 * 3)", 8},
    {"least_figure(\"43..45 HRC\")", 43},
    {"most_figure(\"43..45 HRC\")", 45},
    {"least_figure(\"62 HRC\")", 62},
    {"most_figure(\"62 - 58 HRC\")", 62},
    {"least_figure(\"57.5 to 59,5\")", 57.5},
    {"most_figure(\"57.5 to 59,5\")", 59.5},
    {"least_figure(\"60 +-1 HRC\")", 59},
    {"most_figure(\"60 ± 1 HRC\")", 61},
};

START_TEST(only_the_arm_taken_and_known_look_at_errors)
{
    struct formula_value v = value_of(stopped[_i].text);
    ck_assert_msg(v.error == FORMULA_FINE && v.number == stopped[_i].value && v.origin == -1, "%s: %g %s",
                  stopped[_i].text, v.number, formula_error_text(v.error));
}
END_TEST

/* ---- truth tables, with yes, no and not filled in ------------------------------------------- */

static const char *const three[] = {"off", "on", "blank"};
enum { U = 2 };
static const int truth_and[3][3] = {{0, 0, 0}, {0, 1, U}, {0, U, U}};
static const int truth_or[3][3] = {{0, 1, U}, {1, 1, 1}, {U, 1, U}};

static void check_truth(const char *left, const char *word, const char *right, int want)
{
    char *text = base_format("%s %s %s", left, word, right);
    struct formula_value v = value_of(text);
    int got = v.error ? U : (int)v.number;
    ck_assert_msg(got == want, "%s gives %d, not %d", text, got, want);
    if (v.error)
        ck_assert(v.error == FORMULA_EMPTY && v.origin == EMPTY_YESNO);
    free(text);
}

START_TEST(and_or_with_errors_follow_their_tables_in_either_order)
{
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            check_truth(three[i], "and", three[k], truth_and[i][k]);
            check_truth(three[i], "or", three[k], truth_or[i][k]);
        }
    static const char *const constants[] = {"no", "yes"};
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 3; k++) {
            check_truth(constants[i], "and", three[k], truth_and[i][k]);
            check_truth(three[k], "and", constants[i], truth_and[k][i]);
            check_truth(constants[i], "or", three[k], truth_or[i][k]);
            check_truth(three[k], "or", constants[i], truth_or[k][i]);
        }
}
END_TEST

START_TEST(every_error_has_its_words)
{
    static const struct { enum formula_error error; const char *words;
    } words[] = {
        {FORMULA_EMPTY, "not filled in"},      {FORMULA_NO_ROW, "no row fits"},
        {FORMULA_SEVERAL, "several rows fit"}, {FORMULA_DIVISION, "division by zero"},
        {FORMULA_ROOT, "no such root"},
    };
    for (size_t i = 0; i < COUNT_OF(words); i++)
        ck_assert_str_eq(formula_error_text(words[i].error), words[i].words);
}
END_TEST

/* ---- lists of numbers ----------------------------------------------------------------------- */

static const struct { int numbers[8], n; const char *text;
} lists[] = {
    {{0}, 0, ""},
    {{7}, 1, "7"},
    {{2, 3}, 2, "2, 3"},
    {{2, 3, 4}, 3, "2 to 4"},
    {{2, 4, 6}, 3, "2, 4, 6"},
    {{1, 3, 4, 5, 9, 10, 12}, 7, "1, 3 to 5, 9, 10, 12"},
    {{5, 6, 7, 8, 1, 2, 3}, 7, "5 to 8, 1 to 3"},
};

START_TEST(three_in_a_row_are_told_by_their_ends)
{
    struct base_text out = {0};
    formula_numbers_text(lists[_i].numbers, lists[_i].n, &out);
    ck_assert_str_eq(base_text_get(&out), lists[_i].text);
    base_text_done(&out);
}
END_TEST

TCase *error_cases(void)
{
    TCase *t = tcase_create("errors");
    tcase_add_loop_test(t, an_error_travels_with_the_place_it_arose_in, 0, COUNT_OF(rows));
    tcase_add_loop_test(t, only_the_arm_taken_and_known_look_at_errors, 0, COUNT_OF(stopped));
    tcase_add_test(t, and_or_with_errors_follow_their_tables_in_either_order);
    tcase_add_test(t, every_error_has_its_words);
    tcase_add_loop_test(t, three_in_a_row_are_told_by_their_ends, 0, COUNT_OF(lists));
    return t;
}
