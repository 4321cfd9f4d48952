/* tolerance/tolerance.h - what the files of this room share */
#ifndef TOLERANCE_TOLERANCE_H
#define TOLERANCE_TOLERANCE_H

#include "diewright/tolerance.h"

/* A size that is made: its slots (one, or one a state), and what it may be off. */
struct made {
    int q;
    struct findings_size size;
    const char *source;
};
struct tolerance_made {
    BASE_VEC(struct made) at;
    bool *stays; /* one a slot of the model: it is drawn, and moves with nothing that is made */
    int *of;     /* one a slot: number of the size that is made, -1: none */
};

/* made.c */
/* All sizes of the job that are made within limits. Yours: tolerance_made_done(), also when it is refused. */
NODISCARD enum base_err tolerance_made(struct dieset *d, struct tolerance_made *out, struct base_diag *why);
void tolerance_made_done(struct tolerance_made *m);
/* LIMITS of ITEM (-1: once) as the set stands; false: none are told, or they have no value. */
bool tolerance_limits(struct dieset *d, const struct handbook_limits *limits, int item, double *low,
                      double *high);
/* "thickness of die plate", in A. */
const char *tolerance_title(const struct dieset *d, int q, struct base_arena *a);

#endif
