/* Variation runs: asking, both roads, the plot. */

#include "explore.h"

int main(void)
{
    Suite *s = suite_create("explore");
    suite_add_tcase(s, run_tests());
    suite_add_tcase(s, point_tests());
    suite_add_tcase(s, plot_tests());
    suite_add_tcase(s, mend_tests());
    suite_add_tcase(s, small_mend_tests());
    return run_suite(s);
}
