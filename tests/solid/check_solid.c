/* Solids: files read back by a reader of their own, and held against the job they are of. */

#include "suites.h"

int main(void)
{
    Suite *s = suite_create("solid");
    suite_add_tcase(s, shipped_tests());
    suite_add_tcase(s, mutation_tests());
    suite_add_tcase(s, curve_tests());
    suite_add_tcase(s, refusal_tests());
    return run_suite(s);
}
