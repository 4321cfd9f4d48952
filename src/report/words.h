/* report/words.h - values as cells: what the papers share */
#ifndef DIEWRIGHT_REPORT_WORDS_H
#define DIEWRIGHT_REPORT_WORDS_H

#include "diewright/report.h"

/* A number of the text form shows this many decimals: as the unit's, lengths one more when they have it. NUMBER is
 * already in DISPLAY's unit. */
int words_decimals(double number, struct unit_dim dim, struct unit_display display);

/* A length in the job's unit as a cell; NaN: empty. */
void words_length(struct report_paper *p, const struct dieset *d, double mm);

/* A value as two cells, first the exact one, then the one of the text form: a number in the display unit, a text, yes or
 * no, an item's name; an error value is empty in the first and its words in the second. */
void words_value(struct report_paper *p, const struct dieset *d, struct formula_value v, struct formula_type t, int decimals);
/* Its unit, "" when it has none. */
const char *words_unit(const struct dieset *d, struct formula_type t);

const char *words_state(enum dieset_state s, bool stateful); /* "new", "ground", "" */
const char *words_grade(enum handbook_grade g); /* with its mark, " ! caution" */
/* What is to be stamped on the set, the cautions of the kinds that stand in the job, each once, then the standing one, below P. */
void words_cautions(struct report_paper *p, struct dieset *d);

#endif
