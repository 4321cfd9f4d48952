/* report/words.h - values as cells: what the papers share */
#ifndef DIEWRIGHT_REPORT_WORDS_H
#define DIEWRIGHT_REPORT_WORDS_H

#include "diewright/report.h"

/* A length in the job's unit as a cell; NaN: empty. */
void words_length(struct report_paper *p, const struct dieset *d, double mm);

/* The unit in which A and B are told side by side; without a name where they are no numbers. */
struct unit_display words_display(const struct dieset *d, struct formula_type t, struct formula_value a,
                                  struct formula_value b);

/* A value as two cells, first the exact one, then the one of the text form: a number in unit U with LEAST
 * decimals (-1: as the unit's) and those that it has, a text, yes or no, an item's name; an error value is
 * empty in the first and its words in the second. */
void words_value(struct report_paper *p, const struct dieset *d, struct formula_value v,
                 struct formula_type t, int least, struct unit_display u);

const char *words_state(enum dieset_state s, bool stateful); /* "new", "ground", "" */
const char *words_grade(enum handbook_grade g); /* with its mark, " ! caution" */
/* The cautions of no kind, below P. */
void words_general(struct report_paper *p, const struct dieset *d);
/* The same, then those of the kinds that stand in the job, each once, and what is to be stamped on the
   set. */
void words_cautions(struct report_paper *p, struct dieset *d);

#endif
