/* tests/fuzz/suites.h - the test cases of strangers' bytes */
#ifndef DIEWRIGHT_TESTS_FUZZ_SUITES_H
#define DIEWRIGHT_TESTS_FUZZ_SUITES_H

#include <check.h>

TCase *fuzz_mutated_case(void);

#endif
