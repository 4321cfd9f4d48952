/* tests/place/parts.h - the parts of this suite */
#ifndef DIEWRIGHT_TESTS_PLACE_PARTS_H
#define DIEWRIGHT_TESTS_PLACE_PARTS_H

#include <check.h>

void add_laying(Suite *s);
void add_asks(Suite *s);

#endif
