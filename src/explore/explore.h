/* explore/explore.h - what the files of this room share */
#ifndef EXPLORE_EXPLORE_H
#define EXPLORE_EXPLORE_H

#include "diewright/explore.h"

/* The worst that was told of one finding at one point. */
struct worst { double margin, limit; bool measured; unsigned char states; };
struct told { struct formula_type type; struct worst *at; };

/* A run while it is made. */
struct making {
    struct explore *x;
    struct dieset *d;
    struct findings *f;
    const struct explore_ask *ask;
    struct base_map keys; /* key -> finding */
    BASE_VEC(struct told) told; /* one a finding, till it is known which of them are waived where */
    bool broken_off;
};

/* explore.c */
/* The quantity at PATH that can run over a range. */
NODISCARD enum base_err explore_find(struct dieset *d, const char *path, int *q, struct base_diag *why);

/* A formula as people type it at quantity Q, WHAT it is in reasons. */
NODISCARD enum base_err explore_number(struct dieset *d, int q, const char *what, const char *text,
                                       double *out, struct base_diag *why);

/* making.c */
/* The changes that type TEXT at quantity Q: into CHANGES, room for 2. Their texts are borrowed from D and
   TEXT. */
int explore_changes(const struct dieset *d, int q, const char *text, struct typed_change changes[2]);
void making_value(struct making *m, int shown, enum dieset_state s, int point, struct formula_value v);
/* Asked between points: false ends the run. */
bool making_goes_on(struct making *m, int done);
/* Finding I of the run as it was told last at POINT. */
struct finding making_told_at(const struct making *m, int i, int point);
/* FINDING stands at POINT. */
void making_finding(struct making *m, int point, const struct finding *finding);

/* tries.c: fill values and findings of all points. */
void explore_by_tries(struct making *m);

/* known.c: what is known about the value beforehand */
void explore_stock(struct making *m);
void explore_limits(struct making *m);

/* plot.c: "at least", "at most" ... */
const char *explore_relation(enum formula_relation r);

#endif
