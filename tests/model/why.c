/* What a value hangs on, what hangs on it, and what a pick was asked. */

#include "model.h"

START_TEST(reads_readers_and_reach_follow_the_formulas)
{
    struct model *m = numbers(6);
    int n, slots[6];
    must_set(m, 0, "1");
    must_set(m, 1, "q0 + q0 * q2");
    must_set(m, 2, "3");
    must_set(m, 3, "q1 + 1");
    must_set(m, 4, "q3 + q1");
    must_set(m, 5, "q2");
    must_settle(m);
    const int *reads = model_reads(m, 1, &n);
    ck_assert(n == 2 && reads[0] == 0 && reads[1] == 2);
    model_readers(m, 1, &n);
    ck_assert_int_eq(n, 2);
    ck_assert_int_eq(model_reach(m, 0, slots), 3);
    ck_assert(slots[0] == 1 && slots[1] == 3 && slots[2] == 4);
    ck_assert_int_eq(model_reach(m, 4, slots), 0);
    must_set(m, 3, "7");
    model_recalculate(m);
    const int *readers = model_readers(m, 1, &n);
    ck_assert(n == 1 && readers[0] == 4);
    ck_assert_int_eq(model_reach(m, 0, slots), 2);
    model_free(m);
}
END_TEST

START_TEST(the_need_and_the_pick_of_a_size_are_told)
{
    struct model *m = numbers(4);
    double need = 0, values[16] = {0};
    must_set(m, 0, "23");
    must_set(m, 1, "size_over(stock.length, q0 + 1)");
    must_set(m, 2, "q1 - 1");
    must_settle(m);
    ck_assert(number_of(m, 1) == 30);
    ck_assert(model_need(m, 1, &need) && need == 24);
    ck_assert(!model_need(m, 2, &need) && !model_need(m, 3, &need));
    model_set_constant(m, 0, 200);
    model_recalculate(m);
    struct formula_value v = model_value(m, 2);
    ck_assert(v.error == FORMULA_NO_ROW && v.origin == 1);
    const struct formula_pick *p = model_pick(m, v.origin, values);
    ck_assert_ptr_nonnull(p);
    ck_assert(p->table == 3 && p->query == 9 && values[0] == 201);
    ck_assert_ptr_null(model_pick(m, 0, values));
    model_free(m);
}
END_TEST

START_TEST(code_runs_against_the_present_values_with_arguments)
{
    struct model *m = numbers(2);
    const double arguments[] = {5, 7};
    const unsigned char errors[] = {FORMULA_FINE, FORMULA_NO_ROW};
    must_set(m, 0, "2");
    must_settle(m);
    struct formula_code *code = code_for("q0 * p0 + if(p0 > 4, 1, p1)"), *plain = code_for("q0 + 1"),
                        *broken = code_for("q1 + 1");
    ck_assert(model_run(m, code, arguments, NULL).number == 11);
    ck_assert(model_run(m, code, arguments, errors).number == 11);
    ck_assert(model_run(m, plain, NULL, NULL).number == 3);
    struct formula_value v = model_run(m, broken, NULL, NULL);
    ck_assert(v.error == FORMULA_EMPTY && v.origin == 1);
    model_set_constant(m, 0, 10);
    model_recalculate(m);
    ck_assert(model_run(m, plain, NULL, NULL).number == 11);
    ck_assert_int_eq(model_recalculate(m), 0);
    formula_code_free(code);
    formula_code_free(plain);
    formula_code_free(broken);
    model_free(m);
}
END_TEST

START_TEST(names_and_types_are_kept)
{
    struct model *m = model_new(NULL, NULL);
    ck_assert_int_eq(model_add(m, "die_plate.thickness",
                               (struct formula_type){.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH}),
                     0);
    ck_assert_str_eq(model_name(m, 0), "die_plate.thickness");
    ck_assert_int_eq(model_count(m), 1);
    ck_assert_ptr_null(model_code(m, 0));
    model_free(m);
}
END_TEST

TCase *why_cases(void)
{
    TCase *t = tcase_create("why");
    tcase_add_test(t, reads_readers_and_reach_follow_the_formulas);
    tcase_add_test(t, the_need_and_the_pick_of_a_size_are_told);
    tcase_add_test(t, code_runs_against_the_present_values_with_arguments);
    tcase_add_test(t, names_and_types_are_kept);
    return t;
}
