/* The die set: binding, edits, holes, geometry, orders. */

#include "suites.h"

#include "common.h"

int main(void)
{
    Suite *s = suite_create("dieset");
    suite_add_tcase(s, contract_tests());
    suite_add_tcase(s, bind_tests());
    suite_add_tcase(s, edit_tests());
    suite_add_tcase(s, hole_tests());
    suite_add_tcase(s, geometry_tests());
    suite_add_tcase(s, body_tests());
    suite_add_tcase(s, outline_tests());
    suite_add_tcase(s, cut_tests());
    suite_add_tcase(s, strip_tests());
    suite_add_tcase(s, paper_tests());
    suite_add_tcase(s, stroke_tests());
    suite_add_tcase(s, shipped_tests());
    return run_suite(s);
}
