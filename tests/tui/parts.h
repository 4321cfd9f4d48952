/* tests/tui/parts.h - the parts of this suite */
#ifndef DIEWRIGHT_TESTS_TUI_PARTS_H
#define DIEWRIGHT_TESTS_TUI_PARTS_H

#include <check.h>

void add_layout(Suite *s);
void add_keys(Suite *s);
void add_narrow(Suite *s);
void add_find(Suite *s);

#endif
