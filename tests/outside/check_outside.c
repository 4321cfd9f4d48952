/* The trade against the outside: published figures, standards' tables, and laws of nature and of the
   workshop. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static struct handbook *book;

void outside_load(void) { ck_ok(handbook_load("data", &book, why)); }
void outside_unload(void) { handbook_free(book); }
const struct handbook *outside_handbook(void) { return book; }

static struct formula_value worked_out(const char *expression, struct formula_type *type)
{
    struct formula_value v;
    struct base_diag why = {0};
    ck_assert_msg(handbook_eval(book, expression, &v, type, &why) == BASE_OK, "%s: %s", expression,
                  why.message);
    ck_assert_msg(!v.error, "%s: %s", expression, formula_error_text((enum formula_error)v.error));
    return v;
}

double outside_value(const char *expression)
{
    struct formula_type type;
    return worked_out(expression, &type).number;
}

double outside_value_of(const char *format, ...)
{
    char expression[400];
    va_list args;
    va_start(args, format);
    int n = vsnprintf(expression, sizeof expression, format, args);
    va_end(args);
    ck_assert_int_lt(n, (int)sizeof expression);
    return outside_value(expression);
}

void outside_holds(const struct row *r)
{
    static const char *const words[] = {[PRINTED] = "printed",
                                        [MEMORY] = "from memory",
                                        [PRACTICE] = "common practice",
                                        [PAPER] = "on paper"};
    struct formula_type is, should, slack;
    double got = worked_out(r->expression, &is).number, wanted = worked_out(r->expected, &should).number;
    ck_assert_msg(unit_same(is.dim, should.dim), "%s and %s are not of one dimension", r->expression,
                  r->expected);
    double within = 1e-9 * fabs(wanted);
    if (r->within) {
        within = worked_out(r->within, &slack).number;
        ck_assert_msg(unit_same(is.dim, slack.dim), "%s and %s are not of one dimension", r->expression,
                      r->within);
    }
    ck_assert_msg(fabs(got - wanted) <= within, "%s is %.9g of %s = %.9g (%s: %s)", r->expression, got,
                  r->expected, wanted, words[r->origin], r->source);
}

int main(void)
{
    Suite *s = suite_create("outside");
    suite_add_tcase(s, cutting_tests());
    suite_add_tcase(s, strength_tests());
    suite_add_tcase(s, fastener_tests());
    suite_add_tcase(s, limit_tests());
    suite_add_tcase(s, law_tests());
    suite_add_tcase(s, set_tests());
    return run_suite(s);
}
