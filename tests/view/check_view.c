/* Pictures on a canvas of character cells. */

#include "view.h"

int main(void)
{
    Suite *s = suite_create("view");
    suite_add_tcase(s, canvas_case());
    suite_add_tcase(s, plan_case());
    suite_add_tcase(s, stack_case());
    suite_add_tcase(s, section_case());
    return run_suite(s);
}
