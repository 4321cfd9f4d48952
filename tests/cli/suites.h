/* tests/cli/suites.h - the cases of this suite, one a file */
#ifndef DIEWRIGHT_TESTS_CLI_SUITES_H
#define DIEWRIGHT_TESTS_CLI_SUITES_H

#include "bench.h"

TCase *list_tests(void);
TCase *refusal_tests(void);
TCase *file_tests(void);
TCase *saving_tests(void);
TCase *edit_tests(void);
TCase *place_tests(void);
TCase *book_tests(void);
TCase *review_tests(void);
TCase *manual_tests(void);
TCase *practice_tests(void);
TCase *door_tests(void);
TCase *caution_tests(void);
TCase *paper_tests(void);
TCase *straight_tests(void);

#endif
