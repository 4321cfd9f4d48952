/* job/job.h - what the files of this room share */
#ifndef DIEWRIGHT_JOB_JOB_H
#define DIEWRIGHT_JOB_JOB_H

#include "diewright/job.h"

/* Changes with texts of their own. */
struct job_changes {
    BASE_VEC(struct store_change) at;
    struct base_arena memory;
};

struct job {
    const struct handbook *handbook;
    struct store *store;
    struct table_set *tables; /* of the job's own, NULL: the handbook's */
    struct dieset *dieset;
    struct findings *findings;
    char *name; /* of the file, without folder and suffix */
    char *who;

    bool trying;
    struct job_changes tried;   /* what the open try holds */
    char *title;                /* and its line in the history */
    struct job_changes unsaved; /* taken, but not on disk */
    char *unsaved_title;

    struct findings_kept *before; /* findings as they stood before the try or edit */
    struct job_outcome outcome;
    bool judged;
    BASE_VEC(struct dieset_move) moves; /* copies that outlive the try */
    BASE_VEC(struct finding) came, went;
    struct base_arena outcome_memory;
};

void job_changes_done(struct job_changes *c);
/* Add one change; all texts are copied. */
void job_changes_add(struct job_changes *c, enum store_what what, const char *item, const char *path,
                     const char *before, const char *after);

/* begin.c: the changes that type what a new item NAME of kind K begins with. */
void job_begin_item(struct job *j, const struct handbook_kind *k, const char *name, struct job_changes *c);

/* job.c: the event with which every job begins. */
bool job_is_beginning(const struct store_event *e);
/* A job over STORE, which it owns from here on; nothing of it is read yet. */
NODISCARD enum base_err job_adopt(const struct handbook *h, struct store *store, struct job **out, struct base_diag *why);
/* Read the store, bind, judge. */
NODISCARD enum base_err job_load(struct job *j, struct base_diag *why);

/* Open a try with CHANGES (emptied: the job takes them over) under TITLE (adopted). */
NODISCARD enum base_err job_try(struct job *j, struct job_changes *changes, char *title, struct base_diag *why);

#endif
