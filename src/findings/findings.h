/* findings/findings.h - what the files of this room share
 *
 * A rule becomes *trials*: one for each subject and state, bound once a binding of the die set. A
 * trial over holes or pairs belongs to a plate and is run over that plate's rows.
 */
#ifndef DIEWRIGHT_FINDINGS_FINDINGS_H
#define DIEWRIGHT_FINDINGS_FINDINGS_H

#include "diewright/findings.h"

enum {
    FINDINGS_NAMES = 48, /* most names a block can have */
    FINDINGS_HOLE = 17,  /* names of one hole */
    FINDINGS_WEAK = 64,  /* most tables from memory that are told */
};

/* The names of a block and where value and limit stand among them. */
struct findings_block {
    const char *names[FINDINGS_NAMES];
    struct formula_type types[FINDINGS_NAMES];
    int count;
    int value, limit; /* argument numbers, -1 none */
};

/* A trial is compiled when it is first run, its sentences when they are first told: most never are. */
struct findings_trial {
    const struct handbook_rule *rule;
    int item, plate;
    struct dieset_joint joint; /* of a rule over joints */
    unsigned state : 2; /* enum dieset_state */
    unsigned quiet : 1; /* it had nothing to say when all were judged last */
    enum { FINDINGS_UNTRIED, FINDINGS_READY, FINDINGS_UNBOUND } how : 2;
    unsigned lent; /* a bit for each of its codes that belongs to a trial before it; in their order */
    const struct findings_block *block; /* shared by the trials of a rule */
    struct formula_type type; /* of value */
    struct formula_code *when, *value, *within;
    struct formula_code **rungs;
    uint64_t asks; /* a bit for each argument that one of these reads */
    struct dieset_words **words; /* by enum findings_says, then one a rung; NULL: not told yet */
};
enum findings_says { FINDINGS_SAYS, FINDINGS_TELLS, FINDINGS_RUNG };

struct findings_leaning { int slot, q; };

/* All trials of one binding. */
struct findings_bound {
    long binding; /* -1: empty */
    bool whole;   /* all trials are ready, those that do not bind are gone */
    bool worded;  /* their sentences were tried as well */
    long judged;  /* when all of them were, model_now(); 0: not yet */
    /* slots picked from tables on which fault-grade rules hang, near and far, with their quantities (-1:
       none), in the job's order; as they were at a moment */
    struct { long when; BASE_VEC(struct findings_leaning) at; } leaning;
    BASE_VEC(struct findings_trial) trials;
    BASE_VEC(struct findings_block *) blocks;
    struct base_text faults; /* rules that do not bind, for the developer's eye; empty in a sound handbook */
};

struct findings {
    struct dieset *d;
    struct findings_bound bound[2]; /* of the die set as it stands and of the one before a try */
    int latest;
    struct findings_bound *now;
    BASE_VEC(struct finding) list;
    struct base_arena memory; /* of the list's texts */
    /* over the model's slots: those met in this round bear its number */
    struct { int *queue, *round, room, rounds; } walk;
};

/* bind.c */
void findings_bind(struct dieset *d, struct findings_bound *out); /* nothing is compiled yet */
void findings_unbind(struct findings_bound *b);
/* Compile T; false: it does not bind, which is noted. */
bool findings_ready(struct dieset *d, struct findings_bound *b, struct findings_trial *t);
void findings_ready_all(struct dieset *d, struct findings_bound *b);
/* The words that T has for WHICH, NULL: none. */
const struct dieset_words *findings_words(struct dieset *d, const struct findings_trial *t, int which,
                                          struct base_diag *why);

/* What one origin of errors stands in the way of: COUNT rules, LAST the latest of them. */
struct findings_blocked {
    int origin;
    enum formula_error error;
    int count;
    enum handbook_grade grade;
    const struct handbook_rule *last;
    struct finding sample;
};
/* One subject of a trial: arguments by number, and what tells it from others. */
struct findings_subject {
    double args[FINDINGS_NAMES];
    unsigned char errors[FINDINGS_NAMES];
    int item;            /* for the finding */
    const char *like;    /* subjects with the same words are joined into one finding */
    const struct dieset_hole *a, *b; /* instead: a hole, a pair; joined by items and operations */
};
/* What a trial says of a subject. */
struct findings_verdict {
    bool applies, fails, blocked;
    bool measured;       /* limit and margin hold: of the rung that fails, else of the nearest */
    int rung;
    double value, limit, margin;
    int origin;
    enum formula_error error;
};
/* verdict.c */
/* What code C gives for subject S of a trial. */
struct formula_value findings_value(const struct findings *f, const struct formula_code *c,
                                    const struct findings_subject *s);
/* how many of its first arguments are measures of its item */
int findings_measures(const struct findings_trial *t);
/* Those measures that its formulas read; the sentences want the others as well. */
void findings_fill(const struct findings *f, const struct findings_trial *t, struct findings_subject *s);
/* Step by step, so that one subject and many variants are judged alike. False: the verdict stands, no more is
   asked. */
struct findings_verdict findings_verdict_of(const struct findings *f, const struct findings_trial *t,
                                            struct findings_subject *s);
/* The same of subject S in the first N lanes of L, at most FINDINGS_LANES, into V. */
enum { FINDINGS_LANES = 32 };
void findings_verdicts(struct model_lanes *l, int n, const struct findings_trial *t,
                       const struct findings_subject *s, struct findings_verdict *v);
bool findings_verdict_when(struct findings_verdict *v, struct formula_value when);
/* VALUE is what the rule judges. An error in it stands in the way of rungs that compare it, not of a
   yes-or-no rung before them. */
bool findings_verdict_rung(const struct findings_trial *t, int rung, struct formula_value value,
                           struct formula_value limit, struct findings_verdict *v);

/* judge.c: findings out of verdicts */
/* The origin of what stands in the way, where the rule's formulas alone do not tell it. */
void findings_trace(const struct findings *f, const struct findings_trial *t,
                    const struct findings_subject *s, struct findings_verdict *v);

/* A table from memory on which fault-grade rules lean: one subject. */
struct findings_weak { int table; struct base_text quantities; int told, last; /* how many, the latest */ };

/* A hole as rules ask for it, and the numbers of its texts: many rules look at the same hole. */
struct findings_drilled { struct dieset_hole hole; int operation, fit, thread, title; };

struct findings_pass {
    struct findings *f;
    bool bare; /* findings without words and cures */
    BASE_VEC(struct findings_blocked) blocked;
    struct base_map places; /* key -> number in the list */
    struct base_map spots;  /* where two holes or bodies were found to meet */
    struct base_text key;   /* of what is told at this moment */
    struct findings_drilled *drilled[DIESET_STATES]; /* one a hole once any is asked for, those that are */
    bool *is_drilled[DIESET_STATES];
    struct findings_guesses *guesses; /* NULL: not asked for yet */
    long said; /* how often anything was found or stood in the way */
    /* of each item, a plate: have its holes, since all was judged last? 0: not asked yet; and bodies */
    signed char *plates_moved, bodies_moved;
    struct dieset_body *bodies[DIESET_STATES]; /* all, once a rule asks for two of them; NULL: not yet */
};
void findings_pass_done(struct findings_pass *p);
void findings_run(struct findings_pass *p, const struct findings_trial *t);
/* Has anything that T hangs on moved since all were judged last? */
bool findings_moved(struct findings_pass *p, const struct findings_trial *t);
bool findings_stand(struct findings *f, const struct findings_trial *t, struct finding *out);

/* weak.c */
int findings_weak_tables(struct findings *f, struct findings_weak *out, int room);

/* guess.c: estimated and invented figures as the die set stands. */
struct findings_guesses;
struct findings_guesses *findings_guesses_new(struct findings *f);
void findings_guesses_free(struct findings_guesses *g);
/* " Leans on press.stroke (invented, +- 5 %)." of a trial that does, else nothing. */
void findings_say_guesses(const struct findings *f, const struct findings_guesses *g,
                          const struct findings_trial *t, struct base_text *out);
/* "spring rate of stripper springs" */
void findings_say_quantity(const struct findings *f, int q, struct base_text *out);
/* Each guess that could turn a rule which holds: the quantity, how sure it is, the rules with what they hold
   by. */
typedef void findings_guess_fn(void *arg, int q, const char *sureness, const char *rules);
void findings_each_guess(struct findings *f, struct findings_guesses *g, findings_guess_fn *tell, void *arg);

/* waive.c */
void findings_waive(struct findings *f); /* mark those of the list that a waiver lets stand */

/* findings.c */
void findings_bind_now(struct findings *f);  /* all of them */
void findings_begin_now(struct findings *f); /* none of them compiled */
void findings_forget(struct findings *f); /* the list */
struct finding findings_unjudged(struct findings *f, const struct findings_blocked *b, bool bare);

#endif
