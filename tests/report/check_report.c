/* Papers: text, CSV and JSON. */

#include "report.h"

int main(void)
{
    Suite *s = suite_create("report");
    suite_add_tcase(s, paper_case());
    suite_add_tcase(s, lists_case());
    suite_add_tcase(s, stroke_case());
    suite_add_tcase(s, sharpening_case());
    suite_add_tcase(s, told_case());
    return run_suite(s);
}
