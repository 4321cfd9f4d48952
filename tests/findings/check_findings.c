/* Findings: the machine that judges, on a handbook of a few lines; and the shipped rules, each from both
   sides. */

#include "bench.h"

int main(void)
{
    Suite *s = suite_create("findings");
    suite_add_tcase(s, machine_tests());
    suite_add_tcase(s, rule_tests());
    suite_add_tcase(s, joint_tests());
    suite_add_tcase(s, usual_tests());
    suite_add_tcase(s, design_tests());
    suite_add_tcase(s, moved_tests());
    return run_suite(s);
}
