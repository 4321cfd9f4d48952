/* Formulas: grammar, dimensions, folding, functions, picks, errors, lanes, and bc for the arithmetic. */

#include "formula.h"

int main(void)
{
    Suite *s = suite_create("formula");
    TCase *cases[] = {parse_cases(), type_cases(), value_cases(),
                      error_cases(), pick_cases(), outside_cases()};
    for (size_t i = 0; i < COUNT_OF(cases); i++) {
        tcase_add_checked_fixture(cases[i], job_start, NULL);
        tcase_set_timeout(cases[i], 60);
        suite_add_tcase(s, cases[i]);
    }
    return run_suite(s);
}
