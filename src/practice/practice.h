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
    BASE_VEC(struct practice_guide) guides;
};

/* The demo job or template NAME below DATA, opened in memory. */
NODISCARD enum base_err practice_open_like(const struct handbook *h, const char *data, const char *name,
                                           struct job **out, struct base_diag *why);

/* Type C into the job J; a change without a formula, and a reason, are edits of their own. */
NODISCARD enum base_err practice_type(struct job *j, struct practice_changes c, struct base_diag *why);
/* J under TITLE as text and read back as NAME, so that undo finds nothing of how it was made. J is closed. */
NODISCARD enum base_err practice_afresh(const struct handbook *h, struct job *j, const char *title,
                                        const char *name, struct job **out, struct base_diag *why);

/* FORMULA, a yes or no, as the job stands; false also where it has no value. */
bool practice_holds(struct dieset *d, const char *formula);

/* How the planted job stood: its items, and the formula of each value that can be typed. */
struct practice_item { char *name; int kind; };
struct practice_kept {
    BASE_VEC(struct practice_item) items;
    BASE_VEC(char *) texts;
    struct base_map at; /* path -> place in texts */
};
void practice_keep(struct practice_kept *k, struct job *j);
void practice_kept_done(struct practice_kept *k);
/* Was what P gives changed, a fact typed over, something taken away? Then SAYS gets one sentence. */
bool practice_talked_away(const struct practice_kept *k, const struct practice_job *p, struct job *j,
                          struct base_text *says);

/* Is PATH the value NAME, or one of those of the item or group NAME? */
bool practice_named(const char *name, const char *path);
bool practice_among(const char *const *names, int n, const char *path);

/* Which values hang on quantity Q, itself among them. done with base_map_done(); by path. */
void practice_hanging(struct job *j, int q, struct base_map *out);

#endif
