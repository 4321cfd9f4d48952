/* Variation runs: asking, both roads, the plot. */

#include "explore.h"

int main(void)
{
    Suite *s = suite_create("explore");
    suite_add_tcase(s, road_tests());
    return run_suite(s);
}
