/* tests/start/parts.h - the parts of this suite */
#ifndef DIEWRIGHT_TESTS_START_PARTS_H
#define DIEWRIGHT_TESTS_START_PARTS_H

#include <check.h>

TCase *path_tests(void); /* outlines from files */

#endif
