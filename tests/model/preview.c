/* Edits that can be dropped: all as it was, bit for bit and without work, or kept. */

#include "model.h"

#include <string.h>

enum { COUNT = 7 };

static struct model *built(void)
{
    static const char *const formulas[COUNT] = {"2",        "3",       "q0 * q1", "q2 / (q0 - 2)",
                                                "sqrt(q2)", "q4 + q0", "q1 + 1"};
    struct model *m = numbers(COUNT);
    for (int i = 0; i < COUNT; i++)
        must_set(m, i, formulas[i]);
    must_settle(m);
    return m;
}

static void remember(struct model *m, struct formula_value *values, const struct formula_code **codes)
{
    for (int i = 0; i < COUNT; i++) {
        values[i] = model_value(m, i);
        codes[i] = model_code(m, i);
    }
}

static void check_same(struct model *m, const struct formula_value *values,
                       const struct formula_code *const *codes)
{
    for (int i = 0; i < COUNT; i++) {
        ck_assert_msg(same_value(values[i], model_value(m, i)), "%s", model_name(m, i));
        ck_assert_ptr_eq(codes[i], model_code(m, i));
    }
}

START_TEST(a_dropped_preview_leaves_no_trace)
{
    struct formula_value values[COUNT];
    const struct formula_code *codes[COUNT];
    struct model *m = built();
    remember(m, values, codes);
    for (int round = 0; round < 3; round++) {
        model_preview_begin(m);
        must_set(m, 0, "5");
        model_recalculate(m);
        ck_assert(number_of(m, 3) == 5);
        must_set(m, 0, "q1 + 4"); /* a new edge against the order of slots */
        must_set(m, 4, "0 - 1");
        must_set(m, 4, "q6 * q6");
        model_recalculate(m);
        ck_assert(number_of(m, 5) == 23);
        long before = model_evaluations(m);
        model_preview_drop(m);
        ck_assert_int_eq(model_evaluations(m), before);
        check_same(m, values, codes);
        ck_assert_int_eq(model_recalculate(m), 0);
        check_same(m, values, codes);
    }
    model_set_constant(m, 1, 4);
    model_recalculate(m);
    ck_assert(number_of(m, 2) == 8 && number_of(m, 6) == 5);
    model_free(m);
}
END_TEST

START_TEST(a_preview_dropped_before_it_was_worked_out_leaves_no_trace)
{
    struct formula_value values[COUNT];
    const struct formula_code *codes[COUNT];
    struct model *m = built();
    remember(m, values, codes);
    model_preview_begin(m);
    model_set_constant(m, 0, 9);
    model_preview_drop(m);
    ck_assert_int_eq(model_recalculate(m), 0);
    check_same(m, values, codes);
    model_free(m);
}
END_TEST

START_TEST(a_preview_tells_what_differs_with_the_old_values_in_order)
{
    const int *slots;
    struct model *m = built();
    model_preview_begin(m);
    ck_assert_int_eq(model_preview_changes(m, &slots), 0);
    model_set_constant(m, 0, 8);
    model_recalculate(m);
    int n = model_preview_changes(m, &slots), place[COUNT];
    ck_assert_int_eq(n, 5); /* q0 q2 q3 q4 q5 */
    memset(place, -1, sizeof place);
    for (int i = 0; i < n; i++)
        place[slots[i]] = i;
    ck_assert(place[1] < 0 && place[6] < 0 && place[0] == 0);
    ck_assert(place[2] < place[3] && place[2] < place[4] && place[4] < place[5]);
    ck_assert(model_preview_old(m, 0).number == 2 && model_preview_old(m, 2).number == 6);
    ck_assert(model_preview_old(m, 3).error == FORMULA_DIVISION && model_preview_old(m, 6).number == 4);
    model_set_constant(m, 0, 2); /* back again: nothing differs */
    model_recalculate(m);
    ck_assert_int_eq(model_preview_changes(m, &slots), 0);
    model_preview_drop(m);
    model_free(m);
}
END_TEST

START_TEST(a_kept_preview_stays)
{
    const int *slots;
    struct model *m = built();
    model_preview_begin(m);
    must_set(m, 1, "q0 * 10");
    model_recalculate(m);
    model_preview_keep(m);
    ck_assert(number_of(m, 2) == 40 && number_of(m, 6) == 21);
    model_set_constant(m, 0, 3);
    model_recalculate(m);
    ck_assert(number_of(m, 2) == 90);
    model_preview_begin(m);
    ck_assert_int_eq(model_preview_changes(m, &slots), 0);
    model_set_constant(m, 0, 4);
    model_recalculate(m);
    model_preview_drop(m);
    ck_assert(number_of(m, 2) == 90);
    model_free(m);
}
END_TEST

START_TEST(a_circle_refused_in_a_preview_changes_nothing)
{
    struct formula_value values[COUNT];
    const struct formula_code *codes[COUNT];
    struct base_diag why = {0};
    struct model *m = built();
    remember(m, values, codes);
    model_preview_begin(m);
    ck_assert_int_eq(set(m, 0, "q5", &why), BASE_REFUSED);
    ck_assert(strstr(why.message, "q0 -> ") || strstr(why.message, " -> q0"));
    model_recalculate(m);
    check_same(m, values, codes);
    model_preview_drop(m);
    check_same(m, values, codes);
    model_free(m);
}
END_TEST

TCase *preview_cases(void)
{
    TCase *t = tcase_create("preview");
    tcase_add_test(t, a_dropped_preview_leaves_no_trace);
    tcase_add_test(t, a_preview_dropped_before_it_was_worked_out_leaves_no_trace);
    tcase_add_test(t, a_preview_tells_what_differs_with_the_old_values_in_order);
    tcase_add_test(t, a_kept_preview_stays);
    tcase_add_test(t, a_circle_refused_in_a_preview_changes_nothing);
    return t;
}
