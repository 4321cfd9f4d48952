/* report/words.h - values as cells: what the papers share */
#ifndef DIEWRIGHT_REPORT_WORDS_H
#define DIEWRIGHT_REPORT_WORDS_H

#include "diewright/report.h"

/* The text form, added to OUT; where in it a page may end, in bytes, is added to BREAKS: not within a row,
 * nor behind a heading. */
struct words_breaks { size_t *at, count, room; };
void words_text(const struct report_paper *p, struct base_text *out, struct words_breaks *breaks);

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
/* The same, and which papers tell what can hurt; all of it where none does. */
void words_elsewhere(struct report_paper *p, struct dieset *d);
/* What no finding covers of the set as it stands, below P. */
void words_unjudged(struct report_paper *p, struct dieset *d);
/* The cautions of no kind, then those of the kinds that stand in the job that are told on PAPER (NULL: all),
   each once, and what is to be stamped on the set. */
void words_cautions(struct report_paper *p, struct dieset *d, const char *paper);

/* Its rows by letter, then by figure: an array of c->n, yours to free(). */
const struct report_place **words_by_mark(const struct report_chart *c);

/* ---- holes, machining.c: as the chart tells them ---- */
double words_start(const struct report_chart *c,
                   const struct dieset_hole *h); /* below the face it is made from */
double words_depth(const struct report_chart *c,
                   const struct dieset_hole *h); /* of its end, from that face */
void words_number(const struct dieset *d, double mm,
                  struct base_text *out); /* in the job's unit; "?": not known */
const char *words_title(const struct dieset_hole *h); /* "die opening", "ream" */
bool words_by_outline(const struct dieset_hole *h);
bool words_round(const struct dieset_hole *h);
/* The other plates in which the item of H has a hole on its axis, "die backing, lower shoe"; with TOGETHER
 * those alone in which that is made together with this one. */
void words_other_plates(const struct report_chart *c, const struct dieset_hole *h, bool together,
                        struct base_text *t);
/* "before hardening", "after hardening", "": its plate stays as it is. */
const char *words_hardening(const struct report_chart *c, const struct dieset_hole *h);
/* "H7 +0.015/0": the fit with its limits for SIZE (NaN: the fit alone). */
void words_fit(const struct dieset *d, const char *fit, double size, struct base_text *t);
/* "counterbore", "die opening 26.0 x 44.0 corner 5.0", "bore from 12.0" */
void words_operation(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t);
/* The same with diameter, thread, fit, depth and face: "tap M8, drill 6.8, through, from below". */
void words_machining(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t);

#endif
