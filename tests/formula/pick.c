/* Picks and sums, from a parts table and over the items of a kind. */

#include "formula.h"

#include <math.h>
#include <string.h>

static const struct { const char *text; double value; enum formula_error error;
} rows[] = {
    /* the parts table */
    {"size_over(screw.length, 21 mm, size = size)", 25, 0},
    {"size_over(screw.length, 25 mm, size = \"M8\")", 25, 0},
    {"size_over(screw.length, 41 mm, size = \"M8\")", 0, FORMULA_NO_ROW},
    {"size_under(screw.length, 29 mm, size = \"M8\")", 25, 0},
    {"size_under(screw.length, 3 mm, size = \"M8\")", 0, FORMULA_NO_ROW},
    {"size_near(screw.length, 29 mm, size = \"M8\")", 30, 0},
    {"listed(screw.head, size = \"M8\")", 8, 0},
    {"listed(screw.length, size = \"M8\")", 0, FORMULA_SEVERAL},
    {"listed(screw.head, size = \"M99\")", 0, FORMULA_NO_ROW},
    {"listed(screw.length, size = \"M6\", length > 20 mm)", 25, 0},
    {"count(screw)", 8, 0},
    {"count(screw, size != \"M8\")", 4, 0},
    {"count(screw, length >= 25 mm, length < 40 mm)", 3, 0},
    {"total(screw.length, size = \"M6\")", 61, 0},
    {"largest(screw.length)", 40, 0},
    {"smallest(screw.length, size = \"M8\")", 20, 0},
    {"size_over(screw.length, a * 7, size = if(on, \"M6\", \"M8\"))", 25, 0},
    {"size_over(screw.length, empty, size = \"M8\")", 0, FORMULA_EMPTY},
    {"size_over(screw.length, 0, size = \"M8\")", 20, 0},
    {"2 * listed(screw.head, size = size)", 16, 0},
    /* the items of a kind */
    {"total(plate.thickness)", 60, 0},
    {"count(plate)", 3, 0},
    {"largest(plate.thickness)", 30, 0},
    {"smallest(plate.thickness)", 10, 0},
    {"total(plate.thickness, moves = \"bed\")", 50, 0},
    {"total(plate.thickness, fits = yes)", 40, 0},
    {"count(plate, fits = yes)", 2, 0},
    {"count(plate, fits = no)", 1, 0},
    {"largest(plate.thickness, fits = yes)", 30, 0},
    {"smallest(plate.thickness, fits = yes)", 10, 0},
    {"smallest(plate.thickness, fits = yes, order > 1)", 30, 0},
    {"total(plate.thickness, thickness > 2 * a, thickness < 30 mm)", 30, 0},
    {"largest(plate.thickness, thickness > 99 mm)", 0, FORMULA_NO_ROW},
    {"largest(plate.thickness, order > 9)", 0, FORMULA_NO_ROW},
    {"total(plate.thickness, order > 9)", 0, 0},
    {"total(plate.thickness, thickness > 99 mm)", 0, 0},
    {"count(plate, order > 9)", 0, 0},
    {"listed(plate.thickness, order = 2)", 20, 0},
    {"listed(plate.thickness)", 0, FORMULA_SEVERAL},
    {"listed(plate.thickness, order = 7)", 0, FORMULA_NO_ROW},
    {"listed(plate.thickness, fits = no)", 20, 0},
    {"listed(plate.moves, order > 1) = \"bed\"", 1, 0},
    {"size_over(plate.thickness, 11 mm)", 20, 0},
    {"size_under(plate.thickness, 29 mm)", 20, 0},
    {"size_over(plate.thickness, 31 mm)", 0, FORMULA_NO_ROW},
    {"size_over(plate.thickness, a)", 10, 0},
    {"total(all.thickness)", 60, 0},
    {"largest(all.thickness, order != this.order)", 30, 0},
    {"total(all.thickness, moves = \"bed\")", 50, 0},
    {"count(all, moves = \"bed\")", 2, 0},
    {"count(all, thickness > 20 mm, moves = \"bed\")", 1, 0},
    {"count(all, thickness > 99 mm)", 0, 0},
    {"smallest(all.thickness, moves = \"bed\", fits = no)", 20, 0},
    {"smallest(all.thickness)", 10, 0},
    {"largest(all.thickness, thickness > 99 mm)", 0, FORMULA_NO_ROW},
    {"largest(all.thickness, thickness > 99 mm, none: 7 mm)", 7, 0},
    {"smallest(all.thickness, none: 7 mm)", 10, 0},
    {"size_over(all.thickness, 11 mm)", 20, 0},
    {"total(all.thickness, thickness > 99 mm)", 0, 0},
    {"largest(station.thickness, none: 0 mm)", 0, 0},
    {"largest(station.thickness, none: 0)", 0, 0},
    {"smallest(station.thickness, none: 2 * a)", 6, 0},
    {"largest(station.thickness, none: 1 mm / 0)", 0, FORMULA_DIVISION},
    {"largest(plate.thickness, fits = yes, none: 99 mm)", 30, 0},
    {"largest(plate.thickness, thickness > 99 mm, none: a)", 3, 0},
    {"smallest(plate.thickness, thickness > empty, none: a)", 0, FORMULA_EMPTY},
    {"total(station.thickness) + 1 mm", 1, 0},
    {"count(station)", 0, 0},
    {"total(station.thickness)", 0, 0},
    {"largest(station.thickness)", 0, FORMULA_NO_ROW},
    {"total(plate.thickness, order != this.order)", 40, 0},
    {"if(count(station) > 0, largest(station.thickness), 0 mm)", 0, 0},
    {"known(largest(station.thickness))", 0, 0},
    {"total(plate.thickness, thickness > empty)", 0, FORMULA_EMPTY},
};

START_TEST(a_pick_gives_its_row)
{
    struct formula_value v = value_of(rows[_i].text);
    ck_assert_msg(v.error == rows[_i].error, "%s: %s", rows[_i].text, formula_error_text(v.error));
    if (!v.error)
        ck_assert_msg(v.number == rows[_i].value, "%s gives %g", rows[_i].text, v.number);
}
END_TEST

static const struct { const char *text, *words; int start;
} refused[] = {
    {"listed(screw.colour, size = \"M8\")", "colour", 7},
    {"listed(screw.head, colour = \"M8\")", "colour", 19},
    {"listed(rivet.head)", "rivet", 7},
    {"listed(screw)", "begins with", 7},
    {"listed()", "begins with", 0},
    {"count(screw.length)", "begins with", 6},
    {"listed(screw.head, size)", "match", 19},
    {"listed(screw.head, 1 = 1)", "match", 19},
    {"listed(screw.head, size = 5 mm)", "a text", 19},
    {"listed(screw.head, size < \"M8\")", "= or !=", 19},
    {"listed(screw.head, length = 3 kN)", "a length", 19},
    {"size_over(screw.length)", "size that is wanted", 0},
    {"size_over(screw.length, 3 kN)", "a length", 24},
    {"total(screw.size)", "numbers", 6},
    {"total(plate.moves)", "numbers", 6},
    {"total(plate.colour)", "colour", 6},
    {"total(plate.thickness, colour = 1)", "colour", 23},
    {"total(plate.thickness, thickness > force)", "cannot be compared", 23},
    {"total(station.colour)", "colour", 6},
    {"listed(screw.head, size: \"M8\")", "names", 25},
    {"total(plate.thickness, none: 0 mm)", "of nothing is 0", 29},
    {"count(plate, none: 0)", "of nothing is 0", 19},
    {"size_over(plate.thickness, 5 mm, none: 0 mm)", "has to be there", 39},
    {"largest(screw.length, none: 0 mm)", "items of a kind", 28},
    {"largest(plate.thickness, none: 3 kN)", "cannot be chosen between", 31},
    {"largest(plate.thickness, none: 1 mm, none: 2 mm)", "have no names", 43},
    {"total(all.colour)", "No kind has a \"colour\"", 6},
    {"count(all, colour = 3)", "No kind has a \"colour\"", 11},
    {"count(all.thickness)", "begins with", 6},
    {"listed(all.thickness)", "does not look into all kinds", 0},
    {"total(all.moves)", "same sort of number", 6},
};

START_TEST(a_pick_that_cannot_be_is_refused_and_marked)
{
    struct base_diag why = refusal_of(refused[_i].text, NULL);
    ck_assert_msg(strcasestr(why.message, refused[_i].words), "%s: \"%s\" does not say \"%s\"",
                  refused[_i].text, why.message, refused[_i].words);
    ck_assert_msg(why.start == refused[_i].start, "%s: marked at %d (%s)", refused[_i].text, why.start,
                  why.message);
}
END_TEST

/* ---- what was asked ------------------------------------------------------------------------ */

static const struct { const char *text; bool has; double need;
} needs[] = {
    {"size_over(screw.length, 21 mm, size = size)", true, 21},
    {"if(on, size_over(screw.length, a * 7, size = size), a)", true, 21},
    {"if(off, a, size_near(screw.length, 29 mm, size = size))", true, 29},
    {"if(off, size_over(screw.length, 21 mm, size = size), a)", false, 0},
    {"a + b", false, 0},
    {"listed(screw.head, size = size)", false, 0},
    {"largest(screw.length)", false, 0},
    {"size_over(screw.length, empty, size = size)", false, 0},
};

START_TEST(the_need_behind_a_size_is_remembered)
{
    struct formula_memory m;
    double need = -1;
    struct formula_code *code = code_of(needs[_i].text, NULL);
    run_code(code, &m);
    ck_assert_msg(formula_code_need(code, &m, &need) == needs[_i].has, "%s", needs[_i].text);
    if (needs[_i].has)
        ck_assert(fabs(need - needs[_i].need) < 1e-12);
    formula_code_free(code);
}
END_TEST

START_TEST(a_pick_is_told_with_its_keys_and_need)
{
    struct formula_memory m;
    double keys[16] = {0};
    struct formula_code *code = code_of("size_over(screw.length, 99 mm, size = size, head >= 8 mm)", NULL);
    ck_assert_int_eq(run_code(code, &m).error, FORMULA_NO_ROW);
    const struct formula_pick *p = formula_code_pick(code, &m, keys);
    ck_assert_ptr_nonnull(p);
    ck_assert(p->mode == FORMULA_OVER && p->table == 7 && p->column == 1 && p->n_keys == 2);
    ck_assert(p->keys[0].column == 0 && p->keys[0].relation == FORMULA_EQUAL &&
              p->keys[1].relation == FORMULA_AT_LEAST);
    ck_assert(keys[0] == job_values[SIZE] && keys[1] == 8 && keys[2] == 99);
    formula_code_free(code);
    code = code_of("a + b", NULL);
    run_code(code, &m);
    ck_assert_ptr_null(formula_code_pick(code, &m, keys));
    formula_code_free(code);
}
END_TEST

TCase *pick_cases(void)
{
    TCase *t = tcase_create("picks");
    tcase_add_loop_test(t, a_pick_gives_its_row, 0, COUNT_OF(rows));
    tcase_add_loop_test(t, a_pick_that_cannot_be_is_refused_and_marked, 0, COUNT_OF(refused));
    tcase_add_loop_test(t, the_need_behind_a_size_is_remembered, 0, COUNT_OF(needs));
    tcase_add_test(t, a_pick_is_told_with_its_keys_and_need);
    return t;
}
