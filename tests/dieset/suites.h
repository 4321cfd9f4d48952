#ifndef DIESET_SUITES_H
#define DIESET_SUITES_H

#include <check.h>

TCase *contract_tests(void);
TCase *bind_tests(void);
TCase *body_tests(void);
TCase *cut_tests(void);
TCase *strip_tests(void);
TCase *edit_tests(void);
TCase *hole_tests(void);
TCase *geometry_tests(void);
TCase *outline_tests(void);
TCase *paper_tests(void);
TCase *shipped_tests(void);
TCase *stroke_tests(void);

#endif
