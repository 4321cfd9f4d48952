/* tests/base/characters.h - the case of characters */
#ifndef DIEWRIGHT_TESTS_BASE_CHARACTERS_H
#define DIEWRIGHT_TESTS_BASE_CHARACTERS_H

#include <check.h>

TCase *character_tests(void);

#endif
