/* tests/outside/suites.h - the trade held against the outside: rows of expressions, and laws that need no
   figure */
#ifndef DIEWRIGHT_TESTS_OUTSIDE_SUITES_H
#define DIEWRIGHT_TESTS_OUTSIDE_SUITES_H

#include "common.h"

#include "diewright/job.h"

/* Where the expected figure of a row comes from. */
enum origin {
    /* printed in a public text or a standard's table; the text is named and its figure was read there */
    PRINTED,
    MEMORY,   /* as remembered from the book or standard named; not read again for this test */
    PRACTICE, /* common practice of the trade */
    PAPER,    /* follows from a definition with paper and pencil */
};

/* EXPRESSION has to give EXPECTED within WITHIN (NULL: a billionth of it). All three are formulas for the
   calculator. */
struct row { const char *expression, *expected, *within; enum origin origin; const char *source; };

/* The shipped handbook, read once for all tests. */
const struct handbook *outside_handbook(void);
void outside_load(void);
void outside_unload(void);

double outside_value(const char *expression);
void outside_holds(const struct row *r);
/* The same with FORMAT and a text in its place. */
double outside_value_of(const char *format, ...) PRINTF_LIKE(1, 2);

TCase *cutting_tests(void);
TCase *strength_tests(void);
TCase *fastener_tests(void);
TCase *limit_tests(void);
TCase *law_tests(void);
TCase *set_tests(void);

#endif
