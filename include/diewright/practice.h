/* diewright/practice.h - jobs with a planted mistake, and the handbook's worked examples as exercises
 *
 * A practice job is a record under DATA/practice: a sound job (a demo job or a template, some values
 * changed), the changes that plant one mistake, the findings that come of it, what counts as found, three
 * hints, a mend, and what is learnt. The job is opened in memory; no file is touched. Nothing here draws,
 * asks or remembers beyond one run. Exercises are the tries of the worked examples, in the handbook's order,
 * those aside that keep a source's slip. Uses: job, findings, dieset, handbook and below.
 */
#ifndef DIEWRIGHT_PRACTICE_H
#define DIEWRIGHT_PRACTICE_H

#include "diewright/job.h"

enum { PRACTICE_HINTS = 3 };

struct practice_change { const char *path, *formula, *reason; };       /* reason NULL: none */
struct practice_finding { const char *rule, *item; };                  /* item NULL: of the whole set */
struct practice_changes { const struct practice_change *at; int n; };

struct practice_base {
    const char *name, *title, *like;
    struct practice_changes sets;
    /* values, items: not the learner's to change, but for what is `found` */
    const char *const *given; int n_given;
};
struct practice_job {
    const char *name, *title, *question;
    const struct practice_base *base;
    struct practice_changes first;   /* typed before, the job still sound */
    struct practice_changes plants;  /* the mistake */
    struct practice_changes mends;   /* one way to mend it */
    /* that come of it, above a note; may be none: then `wrong` */
    const struct practice_finding *findings; int n_findings;
    const char *wrong;               /* a formula, yes while the mistake stands; NULL: the findings tell */
    const char *const *found; int n_found; /* names of values, or of items: any of their values */
    /* names that bear on it where no formula tells, as places of holes do */
    const char *const *near; int n_near;
    const char *hints[PRACTICE_HINTS];
    const char *learnt, *source;
    struct handbook_place place;
};

struct practice_book;

/* Read DATA/practice/NN-*.txt in the order of their names. */
NODISCARD enum base_err practice_load(const char *data, struct practice_book **out, struct base_diag *why);
void practice_free(struct practice_book *b);
int practice_count(const struct practice_book *b);
const struct practice_job *practice_job(const struct practice_book *b, int i);
/* By name or by number from 1; -1 with the reason, naming those that are near. */
int practice_find(const struct practice_book *b, const char *name, struct base_diag *why);

/* The job in memory, sound or with its mistake. What was typed cannot be undone into the sound one. Yours to
   close. */
NODISCARD enum base_err practice_open(const struct practice_book *b, const struct handbook *h, int i,
                                      bool planted, struct job **out, struct base_diag *why);

/* ---- looking for it ------------------------------------------------------------------ */

/* One mistake being looked for: its job, and how the sound one stood. */
struct practice_run;
NODISCARD enum base_err practice_begin(const struct practice_book *b, const struct handbook *h, int i,
                                       struct practice_run **out, struct base_diag *why);
void practice_end(struct practice_run *r); /* closes the job too */
struct job *practice_run_job(struct practice_run *r);
const struct practice_job *practice_run_about(const struct practice_run *r);

enum practice_answer { PRACTICE_NOT_THAT, PRACTICE_CLOSE, PRACTICE_FOUND };
/* Is PATH what is wrong? SAYS gets one sentence: what was found, or what holds of that value, as the rules
   stand. */
enum practice_answer practice_answer(struct practice_run *r, const char *path, struct base_text *says);

enum practice_state { PRACTICE_STANDS, PRACTICE_OTHER, PRACTICE_MENDED };
/* How the job stands now: the mistake is still there or was only talked away (what is given changed, a fact
 * typed over, something taken out, a finding waived), something else has come instead, or all is as sound as
 * it was, by whatever cure. */
enum practice_state practice_look(struct practice_run *r, struct base_text *says);

/* ---- exercises -------------------------------------------------------------------------- */

struct practice_exercises;
/* DATA is where templates are looked for. The handbook must outlive them. */
struct practice_exercises *practice_exercises_new(const struct handbook *h, const char *data);
void practice_exercises_free(struct practice_exercises *x);
int practice_exercise_count(const struct practice_exercises *x);
const char *practice_exercise_title(const struct practice_exercises *x, int i);
/* Lines that put the question: the givens, then what is asked for and in what kind of unit. */
NODISCARD enum base_err practice_exercise_ask(struct practice_exercises *x, int i, struct base_text *out,
                                              struct base_diag *why);
/* Lines with the formula, no number put in: a hint. */
NODISCARD enum base_err practice_exercise_hint(struct practice_exercises *x, int i, struct base_text *out,
                                               struct base_diag *why);
/* Lines that work it: the number, formula, numbers put in, what the source prints, source. */
NODISCARD enum base_err practice_exercise_solve(struct practice_exercises *x, int i, struct base_text *out,
                                                struct base_diag *why);
/* Does ANSWER, a number with its unit, agree within the rounding of what is printed? SAYS gets one sentence:
 * right, or in what it differs (no unit, another kind of unit, the number of another unit, a factor of ten or
 * two). Arithmetic is taken; what asks a function of the handbook is not. */
bool practice_exercise_answer(struct practice_exercises *x, int i, const char *answer,
                              struct base_text *says);

#endif
