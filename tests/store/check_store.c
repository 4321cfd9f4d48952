/* The store: edits and the log, files and their faults, failing disks, sudden ends. */

#include "../common.h"
#include "suites.h"

int main(void)
{
    Suite *s = suite_create("store");
    suite_add_tcase(s, store_edits_case());
    suite_add_tcase(s, store_files_case());
    suite_add_tcase(s, store_faults_case());
    suite_add_tcase(s, store_deaths_case());
    suite_add_tcase(s, store_journals_case());
    return run_suite(s);
}
