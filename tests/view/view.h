/* tests/view/view.h - what the files of this suite share */
#ifndef DIEWRIGHT_TESTS_VIEW_H
#define DIEWRIGHT_TESTS_VIEW_H

#include "../common.h"

#include "diewright/view.h"

TCase *canvas_case(void);
TCase *plan_case(void);
TCase *stack_case(void);
TCase *section_case(void);

#endif
