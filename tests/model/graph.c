/* Chains, fans, diamonds: each computed once, none in vain. Circles are refused. */

#include "model.h"

#include <stdio.h>
#include <string.h>

/* ---- how often ---------------------------------------------------------------------------- */

/* FORMULAS of q0 ...; then q0 becomes NOW: so many evaluations, and the last slot's value. */
static const struct {
    const char *what;
    const char *formulas[8];
    double now;
    int evaluations;
    double last;
} shapes[] = {
    {"chain", {"1", "q0 + 1", "q1 + 1", "q2 + 1", "q3 + 1"}, 5, 5, 9},
    {"chain, written backward", {"1", "q2 + 1", "q3 + 1", "q0 + 1", "q1 + 0"}, 5, 5, 8},
    {"fan", {"1", "q0", "q0 * 2", "q0 * 3", "q0 * 4", "q0 * 5"}, 2, 6, 10},
    {"fan in", {"1", "2", "3", "q0 + q1 + q2"}, 4, 2, 9},
    {"diamond", {"1", "q0 + 1", "q0 + 2", "q1 + q2"}, 3, 4, 9},
    {"two diamonds", {"1", "q0 + 1", "q0 + 2", "q1 * q2", "q3 + 1", "q3 + 2", "q4 + q5"}, 2, 7, 27},
    {"long and short way", {"1", "q0 + 1", "q1 + 1", "q2 + q0"}, 2, 4, 6},
    {"unchanged result stops", {"1.2", "whole(q0)", "q1 + 1", "q2 + 1"}, 1.4, 2, 3},
    {"not read", {"1", "2", "q1 * 2"}, 7, 1, 4},
    {"same constant again", {"1", "q0 + 1", "q1 + 1"}, 1, 1, 3},
    {"one arm of a diamond unchanged", {"1.2", "whole(q0)", "q0 * 2", "q1 + q2"}, 1.5, 4, 4},
    {"an error that stays the same", {"1", "q0 / 0", "q1 + 1", "q2 + 1"}, 2, 2, 0},
};

START_TEST(each_is_computed_once_and_an_unchanged_result_stops_the_wave)
{
    struct model *m = numbers(8);
    int n = 0;
    for (; n < 8 && shapes[_i].formulas[n]; n++)
        must_set(m, n, shapes[_i].formulas[n]);
    must_settle(m);
    ck_assert_int_eq(model_evaluations(m), 8);
    ck_assert_int_eq(model_recalculate(m), 0);
    model_set_constant(m, 0, shapes[_i].now);
    ck_assert_msg(model_recalculate(m) == shapes[_i].evaluations, "%s: %ld evaluations", shapes[_i].what,
                  model_evaluations(m) - 8);
    ck_assert_int_eq(model_evaluations(m), 8 + shapes[_i].evaluations);
    struct formula_value v = model_value(m, n - 1);
    ck_assert_msg(v.error || v.number == shapes[_i].last, "%s: %g", shapes[_i].what, v.number);
    ck_assert_int_eq(model_recalculate(m), 0);
    model_free(m);
}
END_TEST

START_TEST(two_edits_are_one_wave)
{
    struct model *m = numbers(4);
    must_set(m, 0, "1");
    must_set(m, 1, "2");
    must_set(m, 2, "q0 + q1");
    must_set(m, 3, "q2 * 10");
    must_settle(m);
    model_set_constant(m, 0, 5);
    model_set_constant(m, 1, 6);
    ck_assert_int_eq(model_recalculate(m), 4);
    ck_assert(number_of(m, 3) == 110);
    model_free(m);
}
END_TEST

START_TEST(a_slot_without_code_is_not_filled_in)
{
    struct model *m = numbers(3);
    must_set(m, 1, "q0 * 2");
    must_set(m, 2, "q1 + 1");
    must_settle(m);
    struct formula_value v = model_value(m, 2);
    ck_assert(v.error == FORMULA_EMPTY && v.origin == 0);
    model_set_constant(m, 0, 4);
    model_recalculate(m);
    ck_assert(number_of(m, 2) == 9);
    ck_assert_int_eq(model_value(m, 2).origin, -1);
    ck_ok(model_set_code(m, 0, NULL, why));
    model_recalculate(m);
    v = model_value(m, 2);
    ck_assert(v.error == FORMULA_EMPTY && v.origin == 0);
    model_free(m);
}
END_TEST

START_TEST(errors_name_where_they_arose_and_clear_with_their_cause)
{
    struct model *m = numbers(5);
    must_set(m, 0, "0");
    must_set(m, 1, "1 / q0");
    must_set(m, 2, "q1 + 1");
    must_set(m, 3, "if(q0 > 5, q2, 7)");
    must_set(m, 4, "q2 * 2");
    must_settle(m);
    for (int i = 1; i <= 4; i += i == 2 ? 2 : 1) {
        struct formula_value v = model_value(m, i);
        ck_assert(v.error == FORMULA_DIVISION && v.origin == 1);
    }
    ck_assert(number_of(m, 3) == 7);
    model_set_constant(m, 0, 2);
    ck_assert_int_eq(model_recalculate(m), 5);
    ck_assert(number_of(m, 4) == 3);
    must_set(m, 1, "0 - 4");
    must_set(m, 2, "sqrt(q1)");
    model_recalculate(m);
    ck_assert(model_value(m, 4).error == FORMULA_ROOT && model_value(m, 4).origin == 2);
    model_free(m);
}
END_TEST

/* ---- circles --------------------------------------------------------------------------------- */

/* The loop of the sentence: begins and ends with the same name, no other twice, as long as wanted. */
static void check_loop(const char *message, int length)
{
    char names[32][16];
    int n = 0;
    const char *at = strstr(message, "q");
    while (at && n < 32 && sscanf(at, "%15[q0-9]", names[n]) == 1) {
        n++;
        at = strstr(at, " -> ");
        at = at ? at + 4 : NULL;
    }
    ck_assert_msg(n == length + 1, "%s: %d names", message, n);
    ck_assert_msg(strcmp(names[0], names[n - 1]) == 0, "%s", message);
    for (int i = 0; i < n - 1; i++)
        for (int k = 0; k < i; k++)
            ck_assert_msg(strcmp(names[i], names[k]) != 0, "%s", message);
}

static const struct { int slot; const char *text; int length;
} circles[] = {
    {0, "q0 + 1", 1}, {0, "q1", 2},      {0, "q4", 5}, {2, "q4 + q1", 3},
    {1, "q3 * 2", 3}, {0, "q5 + q3", 4}, {4, "q4", 1},
};

START_TEST(a_circle_is_refused_by_name_and_the_formula_stays)
{
    struct model *m = numbers(6);
    struct base_diag why = {0};
    must_set(m, 0, "1");
    for (int i = 1; i < 5; i++) {
        char text[20];
        snprintf(text, sizeof text, "q%d + 1", i - 1);
        must_set(m, i, text);
    }
    must_set(m, 5, "100");
    must_settle(m);
    const struct formula_code *before = model_code(m, circles[_i].slot);
    ck_assert_int_eq(set(m, circles[_i].slot, circles[_i].text, &why), BASE_REFUSED);
    check_loop(why.message, circles[_i].length);
    ck_assert_ptr_eq(model_code(m, circles[_i].slot), before);
    model_recalculate(m);
    for (int i = 0; i < 5; i++)
        ck_assert(number_of(m, i) == i + 1);
    model_set_constant(m, 0, 10);
    ck_assert_int_eq(model_recalculate(m), 5);
    ck_assert(number_of(m, 4) == 14 && number_of(m, 5) == 100);
    model_free(m);
}
END_TEST

START_TEST(a_circle_in_what_was_built_is_refused_when_settling)
{
    struct model *m = numbers(5);
    struct base_diag why = {0};
    must_set(m, 0, "q3");
    must_set(m, 1, "q0 + q2");
    must_set(m, 2, "q1");
    must_set(m, 3, "1");
    must_set(m, 4, "q2 + q1");
    ck_assert_int_eq(model_settle(m, &why), BASE_REFUSED);
    check_loop(why.message, 2);
    must_set(m, 2, "5");
    must_settle(m);
    ck_assert(number_of(m, 4) == 11);
    model_free(m);
}
END_TEST

/* Edges against the order that stood are no circle: the order gives way. */
START_TEST(the_order_gives_way_to_a_new_edge)
{
    struct model *m = numbers(4);
    for (int i = 0; i < 4; i++)
        model_set_constant(m, i, i);
    must_settle(m);
    must_set(m, 0, "q1 + 10");
    must_set(m, 1, "q2 + 10");
    must_set(m, 2, "q3 + 10");
    model_recalculate(m);
    ck_assert(number_of(m, 0) == 33);
    model_set_constant(m, 3, 100);
    ck_assert_int_eq(model_recalculate(m), 4);
    ck_assert(number_of(m, 0) == 130);
    struct base_diag why = {0};
    ck_assert_int_eq(set(m, 3, "q0", &why), BASE_REFUSED);
    must_set(m, 0, "5");
    must_set(m, 3, "q0 + 1");
    model_recalculate(m);
    ck_assert(number_of(m, 1) == 26);
    model_free(m);
}
END_TEST

/* A circle is looked for before anything is recomputed: else what waits would run round it. */
START_TEST(a_circle_is_refused_while_edits_still_wait)
{
    static const char *const second[] = {"q1", "q1 + q0"};
    for (size_t i = 0; i < COUNT_OF(second); i++) {
        struct model *m = numbers(3);
        struct base_diag why = {0};
        must_set(m, 0, "1");
        must_set(m, 1, "q0");
        must_set(m, 2, second[i]);
        must_settle(m);
        model_set_constant(m, 0, 5);
        ck_assert_int_eq(set(m, 1, "q2 + 1", &why), BASE_REFUSED);
        check_loop(why.message, 2);
        model_recalculate(m);
        ck_assert(number_of(m, 1) == 5 && number_of(m, 2) == (i ? 10 : 5));
        model_free(m);
    }
}
END_TEST

START_TEST(edits_that_wait_follow_a_new_order)
{
    struct model *m = numbers(4);
    for (int i = 0; i < 4; i++)
        model_set_constant(m, i, i);
    must_settle(m);
    model_set_constant(m, 3, 50);
    must_set(m, 0, "q1 + 1");
    must_set(m, 1, "q2 + 1");
    must_set(m, 2, "q3 + 1");
    ck_assert_int_eq(model_recalculate(m), 4);
    ck_assert(number_of(m, 0) == 53);
    model_free(m);
}
END_TEST

/* ---- a long chain ------------------------------------------------------------------------------- */

enum { LONG = 100000 };

/* Each reads the one after it, so that the order of slots is the worst for the ranks. */
static struct model *long_chain(void)
{
    struct model *m = numbers(LONG);
    char text[24];
    for (int i = 0; i < LONG - 1; i++) {
        snprintf(text, sizeof text, "q%d + 1", i + 1);
        must_set(m, i, text);
    }
    must_set(m, LONG - 1, "1");
    return m;
}

START_TEST(a_chain_of_a_hundred_thousand_settles_and_follows_its_head)
{
    struct model *m = long_chain();
    struct base_diag why = {0};
    must_settle(m);
    ck_assert(number_of(m, 0) == LONG);
    model_set_constant(m, LONG - 1, 11);
    ck_assert_int_eq(model_recalculate(m), LONG);
    ck_assert(number_of(m, 0) == LONG + 10);
    ck_assert_int_eq(set(m, LONG - 1, "q0", &why), BASE_REFUSED);
    ck_assert(number_of(m, 0) == LONG + 10);
    model_free(m);
}
END_TEST

TCase *graph_cases(void)
{
    TCase *t = tcase_create("graph");
    tcase_add_loop_test(t, each_is_computed_once_and_an_unchanged_result_stops_the_wave, 0, COUNT_OF(shapes));
    tcase_add_test(t, two_edits_are_one_wave);
    tcase_add_test(t, a_slot_without_code_is_not_filled_in);
    tcase_add_test(t, errors_name_where_they_arose_and_clear_with_their_cause);
    tcase_add_loop_test(t, a_circle_is_refused_by_name_and_the_formula_stays, 0, COUNT_OF(circles));
    tcase_add_test(t, a_circle_in_what_was_built_is_refused_when_settling);
    tcase_add_test(t, the_order_gives_way_to_a_new_edge);
    tcase_add_test(t, a_circle_is_refused_while_edits_still_wait);
    tcase_add_test(t, edits_that_wait_follow_a_new_order);
    tcase_add_test(t, a_chain_of_a_hundred_thousand_settles_and_follows_its_head);
    return t;
}
