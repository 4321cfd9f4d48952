/* practice/practice.h - what the files of this room share */
#ifndef DIEWRIGHT_PRACTICE_PRACTICE_H
#define DIEWRIGHT_PRACTICE_PRACTICE_H

#include "diewright/practice.h"

struct practice_book {
    char *data;
    struct base_arena memory;
    BASE_VEC(struct record_document) documents;
    BASE_VEC(struct practice_base *) bases; /* pointed to by jobs: each stays where it is */
    BASE_VEC(struct practice_job) jobs;
};

/* The demo job or template NAME below DATA, opened in memory. */
NODISCARD enum base_err practice_open_like(const struct handbook *h, const char *data, const char *name, struct job **out,
                                           struct base_diag *why);

/* Which values hang on quantity Q, itself among them. done with base_map_done(); by path. */
void practice_hanging(struct job *j, int q, struct base_map *out);

#endif
