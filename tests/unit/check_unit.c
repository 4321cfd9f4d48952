/* Units, dimensions, printed numbers. */

#include "suites.h"

int main(void)
{
    Suite *s = suite_create("unit");
    suite_add_tcase(s, units_case());
    suite_add_tcase(s, dims_case());
    suite_add_tcase(s, print_case());
    suite_add_tcase(s, outside_case());
    return run_suite(s);
}
