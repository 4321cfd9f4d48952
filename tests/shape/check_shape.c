/* Plane geometry. */

#include "suites.h"

int main(void)
{
    Suite *s = suite_create("shape");
    suite_add_tcase(s, outline_tests());
    suite_add_tcase(s, near_tests());
    suite_add_tcase(s, spot_tests());
    suite_add_tcase(s, area_tests());
    suite_add_tcase(s, kept_tests());
    return run_suite(s);
}
