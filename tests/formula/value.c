/* Values: built-in functions, forgiveness, folding, what is read, functions laid open, lanes. */

#include "formula.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- values ---------------------------------------------------------------------------- */

static const struct { const char *text; double value;
} worked[] = {
    {"a + b", 7},
    {"a * b", 12},
    {"force / a", 100.0 / 3},
    {"min(a, b, 2 mm)", 2},
    {"max(a, b)", 4},
    {"max(a)", 3},
    {"abs(a - b)", 1},
    {"sqrt(a^2 + b^2)", 5},
    {"sin(turn)", 0.5},
    {"cos(60 deg)", 0.5},
    {"tan(45 deg)", 1},
    {"atan2(b, b) / 1 deg", 45},
    {"atan2(0 mm, -b) / 1 deg", 180},
    {"n^m", 32},
    {"(8 mm3)^(1/3)", 2},
    {"if(on, a, b)", 3},
    {"if(off, a, b)", 4},
    {"if(a < b, a, b)", 3},
    {"size = \"M8\"", 1},
    {"size != \"M8\"", 0},
    {"on and off", 0},
    {"on or off", 1},
    {"not off", 1},
    {"this = middle", 1},
    {"top != low", 1},
    {"this.order", 2},
    {"low.thickness", 30},
    {"known(a)", 1},
    {"share * b", 1},
    /* steps: up and down to a multiple, and noise of the step is none */
    {"rise_to(a, 5 mm)", 5},
    {"rise_to(15 mm, 5 mm)", 15},
    {"rise_to(15.000001 mm, 5 mm)", 15},
    {"rise_to(15.1 mm, 5 mm)", 20},
    {"drop_to(b, 3 mm)", 3},
    {"drop_to(14.999999 mm, 5 mm)", 15},
    {"drop_to(14.9 mm, 5 mm)", 10},
    {"rise_to(-7 mm, 5 mm)", -5},
    {"drop_to(-7 mm, 5 mm)", -10},
    {"rise_to(0.1 mm + 0.2 mm, 0.1 mm)", 0.3},
    /* whole goes toward nothing; 0.3 / 0.1 is three */
    {"whole(2.9)", 2},
    {"whole(-2.9)", -2},
    {"whole(0.3 / 0.1)", 3},
    {"whole(n / m)", 0},
    {"rest(7, 3)", 1},
    {"rest(6, 3)", 0},
    {"rest(0.3 mm, 0.1 mm)", 0},
    {"rest(7.5 mm, 2 mm)", 1.5},
    /* forgiveness: 1 nm for lengths, 1e-9 of the value for all */
    {"0.1 mm + 0.2 mm = 0.3 mm", 1},
    {"1 mm = 1.0000009 mm", 1},
    {"1 mm = 1.000002 mm", 0},
    {"1 mm < 1.0000009 mm", 0},
    {"1 mm <= 0.9999995 mm", 1},
    {"1 mm >= 1.0000005 mm", 1},
    {"1 mm > 0.9999995 mm", 0},
    {"1 = 1.0000005", 0},
    {"1 < 1.0000005", 1},
    {"0.1 + 0.2 = 0.3", 1},
    {"0.1 + 0.2 <= 0.3", 1},
    {"0.1 + 0.2 > 0.3", 0},
    {"1 kN = 1000.0000005 N", 1},
    {"0 = 0", 1},
    {"0 mm = 0.0000005 mm", 1},
    {"1 mm != 1.0000009 mm", 0},
    /* functions */
    {"area(a)", 6},
    {"area(a, b)", 12},
    {"area(a, wide: b)", 12},
    {"area(wide: b, long: a)", 12},
    {"twice(twice(a))", 12},
    {"between(top, low)", 20},
    {"between(low, top)", 20},
    {"between(top, middle)", 0},
    {"area(twice(a), twice(b))", 48},
    {"at_new(a)", 3},
    {"at_ground(a)", 4},
    {"at_ground(at_new(a)) + a", 6},
    {"at_ground(a) - at_new(a)", 1},
};

START_TEST(a_formula_gives_its_value)
{
    struct formula_value v = value_of(worked[_i].text);
    ck_assert_msg(v.error == FORMULA_FINE, "%s: %s", worked[_i].text, formula_error_text(v.error));
    ck_assert_msg(fabs(v.number - worked[_i].value) < 1e-12 * fmax(1, fabs(v.number)), "%s gives %.17g",
                  worked[_i].text, v.number);
    ck_assert_int_eq(v.origin, -1);
}
END_TEST

/* Less, equal and greater are one of three, whatever the noise. */
START_TEST(of_less_equal_and_greater_just_one_holds)
{
    for (double d = -3e-6; d <= 3e-6; d += 1e-7)
        for (double base = 0; base < 20000; base = base * 10 + 1) {
            static const char *const signs[] = {"<", "=", ">", "<=", ">=", "!="};
            double r[6];
            for (int i = 0; i < 6; i++) {
                char text[20];
                job_values[A] = base;
                job_values[B] = base + d;
                snprintf(text, sizeof text, "a %s b", signs[i]);
                r[i] = value_of(text).number;
            }
            ck_assert(r[0] + r[1] + r[2] == 1);
            ck_assert(r[3] == r[0] + r[1] && r[4] == r[1] + r[2] && r[5] == 1 - r[1]);
        }
}
END_TEST

/* ---- folding and reading ---------------------------------------------------------------------- */

static const struct { const char *text; bool constant; int reads;
} folds[] = {
    {"2 mm + 3 mm", true, 0},
    {"share * 4", true, 0},
    {"this.order + 1", true, 0},
    {"if(yes, 1, 2)", true, 0},
    {"area(2 mm, 3 mm)", true, 0},
    {"moves = \"bed\"", true, 0},
    {"a + 2 mm", false, 1},
    {"a + a * 2", false, 1},
    {"a + b", false, 2},
    {"if(moves = \"bed\", a, b)", false, 1},
    {"if(this.order > 1, 1 mm, b)", true, 0},
    {"if(on, a, b)", false, 3},
    {"no and on", true, 0},
    {"yes or on", true, 0},
    {"yes and on", false, 1},
    {"on and no", true, 0},
    {"total(plate.thickness, order < 3)", false, 2},
    {"count(plate, moves = \"bed\")", true, 0},
    {"between(top, low)", false, 1},
    {"twice(3 mm)", true, 0},
    {"known(share)", true, 0},
    {"sqrt(4)", true, 0},
};

START_TEST(constants_fold_and_only_live_slots_are_read)
{
    int n;
    struct formula_value v;
    struct formula_code *code = code_of(folds[_i].text, NULL);
    formula_code_reads(code, &n);
    ck_assert_msg(formula_code_constant(code, &v) == folds[_i].constant, "%s: %d operations", folds[_i].text,
                  formula_code_length(code));
    ck_assert_msg(n == folds[_i].reads, "%s reads %d slots", folds[_i].text, n);
    formula_code_free(code);
}
END_TEST

START_TEST(slots_are_listed_once_in_order_of_reading)
{
    int n;
    struct formula_code *code = code_of("b * force / a + b * force / b", NULL);
    const int *reads = formula_code_reads(code, &n);
    ck_assert_int_eq(n, 3);
    ck_assert(reads[0] == B && reads[1] == FORCE && reads[2] == A);
    formula_code_free(code);
}
END_TEST

/* A dead arm's names are never asked for, so they can make no circle. */
START_TEST(a_dead_arm_is_not_even_resolved)
{
    static const char *const texts[] = {"if(moves = \"bed\", a, circle)", "if(this.order = 1, circle, a)",
                                        "if(no, circle, a)"};
    for (size_t i = 0; i < COUNT_OF(texts); i++)
        ck_assert(value_of(texts[i]).number == 3);
    ck_assert(value_of("no and circle").number == 0);
    ck_assert(value_of("yes or circle").number == 1);
    ck_assert(!job_asked_name("circle"));
}
END_TEST

START_TEST(a_row_that_cannot_fit_is_not_asked_for_its_value)
{
    ck_assert(value_of("total(plate.thickness, order > this.order)").number == 30);
    ck_assert(job_asked_property(2, "thickness"));
    ck_assert(!job_asked_property(0, "thickness") && !job_asked_property(1, "thickness"));
}
END_TEST

START_TEST(what_is_said_twice_is_worked_out_once)
{
    struct formula_code *one = code_of("sqrt(a * b)", NULL),
                        *two = code_of("sqrt(a * b) + sqrt(a * b)", NULL);
    ck_assert_int_eq(formula_code_length(two), formula_code_length(one) + 1);
    formula_code_free(one);
    formula_code_free(two);
}
END_TEST

START_TEST(reserved_words_are_told)
{
    static const char *const words[] = {"if", "and", "pi", "this", "size_over", "at_ground", "count", "yes"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        ck_assert(formula_is_reserved(words[i]));
    ck_assert(!formula_is_reserved("die_plate"));
}
END_TEST

/* ---- arguments of a block ------------------------------------------------------------------------ */

static enum base_err argument_name(void *arg, const char *name, bool in_body, struct formula_found *out,
                                   struct base_diag *why)
{
    (void)arg;
    (void)in_body;
    (void)why;
    *out = (struct formula_found){.how = FORMULA_ARGUMENT, .type = length_type, .index = name[0] - 'p'};
    return name[1] == '\0' ? BASE_OK : BASE_UNKNOWN;
}

START_TEST(arguments_are_handed_in_at_each_run)
{
    struct formula_scope scope = *job_scope();
    struct formula_tree *t;
    struct formula_code *code;
    scope.name = argument_name;
    ck_ok(formula_parse("p - q * 2", &t, why));
    ck_ok(formula_compile(t, &scope, NULL, &code, why));
    const double arguments[] = {10, 3, 20, 4}; /* p in two lanes, q in two lanes */
    double by_lane[] = {10, 20, 3, 4}, registers[32];
    unsigned char errors[32], argument_errors[] = {0, 0, 0, FORMULA_EMPTY};
    int origins[32];
    struct formula_value out[2];
    struct formula_memory m = {.lanes = 2,
                               .arguments = by_lane,
                               .registers = registers,
                               .register_errors = errors,
                               .register_origins = origins};
    formula_run(code, &m, out);
    for (int l = 0; l < 2; l++)
        ck_assert(out[l].number == arguments[2 * l] - 2 * arguments[2 * l + 1] &&
                  out[l].error == FORMULA_FINE);
    m.argument_errors = argument_errors;
    formula_run(code, &m, out);
    ck_assert(out[0].number == 4 && out[1].error == FORMULA_EMPTY);
    formula_code_free(code);
    formula_tree_free(t);
}
END_TEST

/* ---- lanes ------------------------------------------------------------------------------------------ */

static unsigned long long seed;

static double random_part(void)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static const char *const lane_formulas[] = {
    "a + b * 2 - a * b / (a + b)",
    "sqrt(a * b) + abs(a - b)",
    "if(a < b, a, b)",
    "min(a, b, 3 mm) + max(a, b)",
    "rise_to(a, b) + drop_to(b, a)",
    "sin(turn) * a + cos(turn) * b",
    "total(plate.thickness, fits = yes)",
    "largest(plate.thickness, fits = on)",
    "smallest(plate.thickness, thickness > a)",
    "if(known(empty), empty, a)",
    "(a / b)^n",
    "rest(a, b) + whole(n / m) * a",
    "if(on and a < b or not off, a, b) / (n - m)",
    "listed(plate.thickness, fits = yes, thickness > b)",
    "atan2(a, b) / turn",
};

enum { LANES = 37 };

static void spread(int lane, const double *values, const unsigned char *errors, const int *origins)
{
    for (int s = 0; s < SLOTS; s++) {
        job_values[s] = values[s * LANES + lane];
        job_errors[s] = errors[s * LANES + lane];
        job_origins[s] = origins[s * LANES + lane];
    }
}

START_TEST(many_lanes_give_what_one_lane_gives)
{
    double values[SLOTS * LANES], *registers;
    unsigned char errors[SLOTS * LANES], *register_errors;
    int origins[SLOTS * LANES], *register_origins;
    seed = 20240611 + (unsigned)_i;
    for (int i = 0; i < SLOTS * LANES; i++) {
        int slot = i / LANES;
        bool yesno = slot == YES || slot == NO || slot == EMPTY_YESNO || slot >= FIT0;
        values[i] = yesno ? random_part() < 0.5 : floor(random_part() * 12) - 1;
        errors[i] = random_part() < 0.1 ? FORMULA_EMPTY : FORMULA_FINE;
        origins[i] = errors[i] ? slot : -1;
    }
    struct formula_code *code = code_of(lane_formulas[_i], NULL);
    size_t n = (size_t)formula_code_registers(code) * LANES;
    registers = base_alloc(n * sizeof *registers);
    register_errors = base_alloc(n);
    register_origins = base_alloc(n * sizeof *register_origins);
    struct formula_value out[LANES];
    struct formula_memory one, m = {.lanes = LANES,
                                    .values = values,
                                    .errors = errors,
                                    .origins = origins,
                                    .registers = registers,
                                    .register_errors = register_errors,
                                    .register_origins = register_origins};
    formula_run(code, &m, out);
    for (int l = 0; l < LANES; l++) {
        spread(l, values, errors, origins);
        struct formula_value v = run_code(code, &one);
        ck_assert_msg(v.error == out[l].error && v.origin == out[l].origin &&
                          memcmp(&v.number, &out[l].number, sizeof v.number) == 0,
                      "%s, lane %d: %g and %g", lane_formulas[_i], l, v.number, out[l].number);
    }
    formula_code_free(code);
    free(registers);
    free(register_errors);
    free(register_origins);
}
END_TEST

TCase *value_cases(void)
{
    TCase *t = tcase_create("values");
    tcase_add_loop_test(t, a_formula_gives_its_value, 0, COUNT_OF(worked));
    tcase_add_test(t, of_less_equal_and_greater_just_one_holds);
    tcase_add_loop_test(t, constants_fold_and_only_live_slots_are_read, 0, COUNT_OF(folds));
    tcase_add_test(t, slots_are_listed_once_in_order_of_reading);
    tcase_add_test(t, a_dead_arm_is_not_even_resolved);
    tcase_add_test(t, a_row_that_cannot_fit_is_not_asked_for_its_value);
    tcase_add_test(t, what_is_said_twice_is_worked_out_once);
    tcase_add_test(t, reserved_words_are_told);
    tcase_add_test(t, arguments_are_handed_in_at_each_run);
    tcase_add_loop_test(t, many_lanes_give_what_one_lane_gives, 0, COUNT_OF(lane_formulas));
    return t;
}
