#ifndef DIEWRIGHT_TESTS_SOLID_SUITES_H
#define DIEWRIGHT_TESTS_SOLID_SUITES_H

#include "solid.h"

/* A die set of the shipped handbook with the job in FILE. */
struct bed { struct handbook *h; struct dieset *d; };
void bed_open(struct bed *b, const char *file);
void bed_open_more(struct bed *b, const char *file, const char *more); /* with the items of another file */
void bed_close(struct bed *b);
/* The solid of a plate as text, yours to free(). */
char *plate_text(struct dieset *d, const char *plate, enum dieset_state s);
/* The first thing that is wrong with the file of a plate, "" nothing is. */
void judge_plate(struct dieset *d, int plate, enum dieset_state s, const char *text, struct base_text *wrong);

TCase *shipped_tests(void);
TCase *mutation_tests(void);
TCase *curve_tests(void);
TCase *refusal_tests(void);

#endif
