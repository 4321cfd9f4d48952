/* tests/store/suites.h - the test cases of the store, one a file */
#ifndef DIEWRIGHT_TESTS_STORE_SUITES_H
#define DIEWRIGHT_TESTS_STORE_SUITES_H

#include <check.h>

TCase *store_edits_case(void);
TCase *store_files_case(void);
TCase *store_faults_case(void);
TCase *store_deaths_case(void);
TCase *store_journals_case(void);

#endif
