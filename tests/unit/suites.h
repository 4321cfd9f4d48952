/* tests/unit/suites.h - the cases of the room and what they share */
#ifndef DIEWRIGHT_TESTS_UNIT_SUITES_H
#define DIEWRIGHT_TESTS_UNIT_SUITES_H

#include "../common.h"

#include "diewright/unit.h"

TCase *units_case(void);
TCase *dims_case(void);
TCase *print_case(void);
TCase *outside_case(void);

#endif
