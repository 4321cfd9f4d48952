/* diewright/review.h - what is said of a job when it is looked over: remarks, waivers, revisions, values
 * typed over
 *
 * All three are items of the job, of kinds of words (data/handbook/66-review.txt). So they live where
 * everything lives: an edit of them is one durable event, a dump holds them as records, two people's edits
 * meet as any others do, and no second table can disagree with the first. Undo passes them by: each is taken
 * out, or withdrawn, by an act of its own. Being words, they have no quantities: nothing computes with them,
 * and adding one binds no formula anew that matters. A waiver's effect is worked out where findings are
 * judged (findings.h); this room reads what stands and says what may be done. It changes nothing: job.h does.
 *
 * A revision keeps its letter and the check sum of the job's text as it was, without the three; the text
 * itself is in the file's history, whose every event is chained by sums, so the job as it was issued can be
 * had again and held against the sum. Uses: findings, dieset and below. Texts are borrowed from the die set
 * until its next edit; "" where a line is missing.
 */
#ifndef DIEWRIGHT_REVIEW_H
#define DIEWRIGHT_REVIEW_H

#include "diewright/findings.h"

enum { REVIEW_LETTER = 3 }; /* bytes of a letter: one or two, and the end */

/* ITEM is the number of the record's own item. */
/* ANSWERS: the remark that it answers, if that stands; DONE: when somebody said that it is, "" while open. */
struct review_remark {
    int item;
    const char *name, *on_item, *finding, *answers, *by, *when, *says, *done, *done_by;
};
struct review_waiver {
    int item;
    const char *name, *finding, *grade, *states, *margin, *by, *when, *says;
    const struct finding *stands; /* of the last list, NULL: there is no such finding now */
    bool holds;                   /* it lets that finding stand; false: the finding is open again */
};
struct review_revision {
    int item;
    const char *name, *letter, *by, *when, *says, *sum;
    const char *handbook, *verdict[3]; /* the handbook's sum, review_verdict() under it; "": none was kept */
    const char *withdrawn, *withdrawn_by, *because; /* WITHDRAWN: when, "" while it is in force */
    const char *made_by;              /* who had edited the job last, "": it is not told */
    const char *ordered, *ordered_by; /* when parts were ordered by it, "" not yet */
};

#define REVIEW_MARK "\"" /* stands beside what open remarks speak of */
/* Remarks that are open, answers not counted: of finding KEY; else of ITEM, values of it included, or of one
 * value's path; else all. */
int review_open_remarks(const struct dieset *d, const char *key, const char *item);

/* "2 remarks are open: remark_1 on die_plate, ..." added to OUT, to be told before a job is issued; nothing
 * where none is. */
void review_open_words(const struct dieset *d, struct base_text *out);

/* In the job's order; how many there are is returned, at most ROOM are written. OUT may be NULL with ROOM
   0. */
int review_remarks(const struct dieset *d, struct review_remark *out, int room);
int review_waivers(const struct findings *f, struct review_waiver *out, int room);
int review_revisions(const struct dieset *d, struct review_revision *out, int room);
/* How many remarks speak of finding KEY, or, KEY NULL, of ITEM itself and its values. */
int review_remarks_of(const struct dieset *d, const char *key, int item);
/* The waiver item of finding KEY, whether or not it holds; -1: none. */
int review_waiver_of(const struct dieset *d, const char *key);

/* The margin that a waiver was given at, kept to the last digit, as people read it; "": none. Returns BUF. */
const char *review_margin(const struct review_waiver *w, char *buf, size_t size);

/* "open again: waived by mh on 2024-05-01 at a margin of -2 mm (front is marked)" of a finding whose waiver
 * has lapsed, added to OUT. False: it was not waived, or is still. */
bool review_lapsed(const struct findings *f, const struct finding *x, struct base_text *out);

/* The latest revision in force, by its letter; false: none. */
bool review_latest(const struct dieset *d, struct review_revision *out);
/* The latest by which parts were ordered, be it withdrawn since: they are on their way; false: none. */
bool review_ordered(const struct dieset *d, struct review_revision *out);
/* The latest that was given and withdrawn since, later than any in force; false: none. */
bool review_withdrawn(const struct dieset *d, struct review_revision *out);
bool review_find(const struct dieset *d, const char *letter, struct review_revision *out);
/* The letter after the latest that was ever given, in force or not, and after GIVEN, "" or one that is known
 * from elsewhere: A, B, ... without I O Q S X Z, then AA (ASME Y14.35). Returns BUF. */
const char *review_next_letter(const struct dieset *d, const char *given, char buf[REVIEW_LETTER]);
/* LETTER as it will stand ("b" -> "B"): one or two letters, later than all of those. */
NODISCARD enum base_err review_letter(const struct dieset *d, const char *given, const char *letter,
                                      char out[REVIEW_LETTER], struct base_diag *why);
int review_compare_letters(const char *a, const char *b); /* A before B ... before Z before AA */
/* May the job be issued? Refused while a fault is open (the last list of F). */
NODISCARD enum base_err review_may_issue(const struct findings *f, struct base_diag *why);
/* May finding X be waived for REASON? A fault needs one; what cannot be judged is not waived. */
NODISCARD enum base_err review_may_waive(const struct finding *x, const char *reason, struct base_diag *why);

/* " new 282.0 mm  ground 274.0 mm  most 305.0 mm  23.0 mm to spare" of a rule tried once, and what it tells
 * beside, added to OUT: least or most, and spare, are those of the tighter state. False: it does
 * not apply, or cannot be judged. */
bool review_stands(struct findings *f, const struct handbook_rule *rule, bool *fails, struct base_text *out);

/* Quantities typed over their usual formula, in the job's order; measures of a pattern are there to be typed
   and are not told, nor is what comes to what the formula gives. */
int review_typed_over(struct dieset *d, int *out, int room);
/* What the usual formula of quantity Q gives, as people read it; "" when it is not typed over. Returns
   BUF. */
const char *review_usual(struct dieset *d, int q, char *buf, size_t size);

/* ---- verdicts ---- */

/* What handbook and program make of a set, as lines of a revision: its findings with their grades, the
 * figures that the stack's form shows at first, sums of its order list and of each plate's holes. LINE into
 * the empty text OUT. */
enum { REVIEW_VERDICT_LINES = 3 };
extern const char *const review_verdict_lines[REVIEW_VERDICT_LINES]; /* "found", "figures", "made" */
void review_verdict(struct findings *f, int line, struct base_text *out);
/* Call TELL for each thing that two such lines have otherwise: "wall blank", "need", "order list",
 * "holes of die_plate"; WAS, NOW NULL: not there. How many. */
typedef void review_change_fn(void *arg, const char *what, const char *was, const char *now);
int review_verdicts_differ(const char *was, const char *now, review_change_fn *tell, void *arg);

#endif
