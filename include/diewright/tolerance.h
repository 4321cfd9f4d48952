/* diewright/tolerance.h - what a set is when it is made: limits of sizes, and what comes of them
 *
 * A size that is typed, usual or picked is drawn; it is made within its limits. What follows from it moves
 * with it, what is drawn elsewhere does not: nobody draws a plate anew because another came out thin. Limits
 * are the handbook's (the line "limits" of a property), those of a chain's links, or the job's own (items of
 * the kind DIESET_LIMITS). What hangs on them is told at the worst case, as the root of squares, and sampled.
 * Uses: findings and below. Holes and measures of geometry are as drawn.
 */
#ifndef DIEWRIGHT_TOLERANCE_H
#define DIEWRIGHT_TOLERANCE_H

#include "diewright/findings.h"

enum { TOLERANCE_SAMPLES = 10000 }; /* usual */

/* One size that is made, or one link: LOW and HIGH are what it may be off, base units; DOWN and UP the least
   and the most by which it alone moves the value. */
struct tolerance_part {
    const char *title, *path;     /* path: of the quantity; "": a link of the chain */
    const char *source;           /* whose limits they are: "typed", "own" (of the job), "usual", "chain" */
    struct formula_type type;
    double drawn, low, high;      /* drawn NaN: of a link */
    double down, up;
    double share, squares; /* of all at the worst case, and of the sum of squares; all together are 1 */
};

/* What is asked for: an expression of the job ("stack.shut_height", "a - b"), or a chain of the handbook. */
struct tolerance_ask {
    const char *expression;       /* NULL: a chain */
    int chain, item;              /* the chain and its item (-1: it is told once) */
    enum dieset_state state;
    unsigned seed;                /* the same seed, the same figures */
    int samples;                  /* 0: none */
};
struct tolerance {
    const char *title;            /* the expression; the chain's title, and of which item */
    const char *help, *source;    /* of a chain, else NULL */
    struct formula_type type;
    double drawn;
    double worst_low, worst_high;
    double middle, root;          /* root of squares: MIDDLE, ROOT each way */
    /* sampled, each part evenly between its limits, no matter what the others are: the least and the most
       met, and between which all but 0.135 percent at either end are (three standard deviations of what is
       normal) */
    double least, most, nearly_low, nearly_high, mean, deviation;
    int samples;
    unsigned seed;
    BASE_VEC(struct tolerance_part) parts; /* what moves it most first */
    struct base_arena memory;
};

/* What words name: a chain (all its items that use it, or ITEM's alone), else an expression. Into OUT, which
 * holds ROOM; *N how many. Refused in one sentence. */
NODISCARD enum base_err tolerance_read(struct dieset *d, const char *word, const char *item,
                                       struct tolerance_ask *out, int room, int *n, struct base_diag *why);
/* Has chain CHAIN something to say as the job stands, of ITEM (-1: once)? */
bool tolerance_applies(struct dieset *d, int chain, int item);
/* Yours: tolerance_free(). Refused where the expression cannot be read, has no value as drawn, or a limit of
   the job's own cannot be used. */
NODISCARD enum base_err tolerance_run(struct dieset *d, const struct tolerance_ask *ask,
                                      struct tolerance **out, struct base_diag *why);
void tolerance_free(struct tolerance *t);

/* Each rule that holds as drawn and does not with every size at the worse of its limits, or fails by a graver
 * grade then: once each rule and item, gravest first, then in the handbook's order. *OUT is yours:
 * tolerance_worst_done(). */
struct tolerance_turned {
    struct findings_turned f;
    const char *parts; /* the sizes that take most of its margin: "thickness of die plate 0.02 mm; ..." */
};
struct tolerance_worst { BASE_VEC(struct tolerance_turned) at; int sizes; struct base_arena memory; };
NODISCARD enum base_err tolerance_rules(struct findings *f, struct tolerance_worst *out,
                                        struct base_diag *why);
void tolerance_worst_done(struct tolerance_worst *w);

#endif
