/* diewright/practice.h - guides in steps, jobs with a planted mistake, the handbook's worked examples asked
 *
 * A practice job is a record under DATA/practice: a sound job (a demo job or a template, some values
 * changed), the changes that plant one mistake, the findings that come of it, what counts as found, three
 * hints, a mend, and what is learnt. A guide is a record there too: such a job, and steps, each with what to
 * do, a formula that holds once it is done, and what is seen then. The job is opened in memory; no file is
 * touched. Nothing here draws or asks; what was done is kept where a caller says (practice_done). Exercises
 * are the tries of the worked examples, in the handbook's order, those aside that keep a source's slip. Uses:
 * job, findings, dieset, handbook and below.
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
/* What of the shop a job is about, in the order in which jobs of a level stand; an easy one is of level 1. */
enum { PRACTICE_LEVELS = 3 };
struct practice_job {
    const char *name, *title, *question, *theme;
    int level;
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

/* One step of a guide. It is done once `until` holds, or once one of the words of `looks`, an action of the
   keys or a word of the ":" row, was run; one of the two is NULL. */
struct practice_step {
    const char *says, *until, *looks;
    const char *hint, *learnt; /* hint NULL: none; learnt with values in braces */
    const char *const *does;
    int n_does; /* one way to do it: "NAME = FORMULA", "stations WORDS" */
};
struct practice_guide {
    const char *name, *title, *question;
    const struct practice_base *base;
    const struct practice_step *steps;
    int n_steps;
    const char *source;
    struct handbook_place place;
};

struct practice_book;

/* Read DATA/practice/NN-*.txt in the order of their names. Jobs come by level, then by theme. */
NODISCARD enum base_err practice_load(const char *data, struct practice_book **out, struct base_diag *why);
void practice_free(struct practice_book *b);
int practice_count(const struct practice_book *b);
const struct practice_job *practice_job(const struct practice_book *b, int i);
int practice_guide_count(const struct practice_book *b);
const struct practice_guide *practice_guide(const struct practice_book *b, int i);
int practice_find_guide(const struct practice_book *b, const char *name); /* -1: none has that name */
/* A job by name or by number from 1; -1 with the reason, naming jobs and guides that are near. */
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

/* ---- a guide in steps ---------------------------------------------------------------- */

struct practice_walk;
/* What is done from the start is passed by at once. */
NODISCARD enum base_err practice_walk_begin(const struct practice_book *b, const struct handbook *h, int i,
                                            struct practice_walk **out, struct base_diag *why);
void practice_walk_end(struct practice_walk *w); /* closes the job too */
struct job *practice_walk_job(struct practice_walk *w);
const struct practice_guide *practice_walk_about(const struct practice_walk *w);
int practice_walk_at(const struct practice_walk *w); /* the step at hand; n_steps: all are done */
/* The job was changed (SEEN NULL), or what is named SEEN was run; "": there are no screens to look at, and
 * steps that only look count as done. Steps that are done now are passed by; how many. A step once passed
 * stays so. */
int practice_walk_look(struct practice_walk *w, const char *seen);
/* TEXT of a step, each {FORMULA} in it as its value now ("?": it has none); added to OUT. */
void practice_walk_say(struct practice_walk *w, const char *text, struct base_text *out);
/* Take DOES, as a step writes it, as one edit. */
NODISCARD enum base_err practice_walk_do(struct practice_walk *w, const char *does, struct base_diag *why);

/* ---- what is done -------------------------------------------------------------------- */

/* The names of guides and jobs that were done, kept a line each in STATE/diewright/practice; STATE NULL:
 * nothing is kept. What cannot be read or written is not kept, and nobody is bothered. Read adds to OUT. */
void practice_done_read(const char *state, struct base_map *out);
void practice_done_add(const char *state, const char *name);

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
