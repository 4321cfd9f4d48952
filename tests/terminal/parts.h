/* tests/terminal/parts.h - the parts of this suite */
#ifndef DIEWRIGHT_TESTS_TERMINAL_PARTS_H
#define DIEWRIGHT_TESTS_TERMINAL_PARTS_H

#include <check.h>

void add_paint(Suite *s);
void add_field(Suite *s);

#endif
