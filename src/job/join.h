/* job/join.h - what the two files of joining share: the two copies, the items of both, what differs */
#ifndef DIEWRIGHT_JOB_JOIN_H
#define DIEWRIGHT_JOB_JOIN_H

#include "job/job.h"

/* An item as both copies know it. OWN are its names in the files, NULL: it is not there; WAS that which it
 * had when they parted, NULL: it was not there. NAME is what all three are made to call it: as mine does. */
struct join_row {
    const char *name, *was, *own[JOB_SIDES];
};

enum join_what { JOIN_RENAME, JOIN_ADD, JOIN_ENTRY, JOIN_ORDER, JOIN_REMOVE };

/* One thing that differs, net, and how it is told. */
struct join_unit {
    enum join_what what;
    int row;          /* -1: the order of the items */
    const char *path; /* JOIN_ENTRY: all that stands under it; "": all of the item */
    bool issues;      /* theirs brings a revision */
    long seq;         /* theirs' last edit of it */
    const char *title;
    struct job_joined told;
};

struct job_join {
    struct job *mine, *theirs;             /* borrowed */
    struct job *copy[JOB_SIDES], *base;    /* in memory, the names brought in line; ours */
    struct typed_event *events[JOB_SIDES]; /* since the copies have anything of their own, newest first */
    int n_events[JOB_SIDES];
    long common; /* how many edits both files have in common */
    long upto;   /* the edit of theirs that is looked at as the last */
    long seen;   /* of mine, when this was made */
    char *parted;
    BASE_VEC(struct join_row) rows;
    BASE_VEC(struct join_unit) units;
    BASE_VEC(struct typed_event) issued; /* events of theirs that issue a revision, the newest first */
    struct base_arena memory;
};

/* As job_join_new(), of theirs as it was after its edit UPTO, 0: as it is. FROM: edits of mine and theirs
 * that are known to have left the same, NULL: what the files tell. */
NODISCARD enum base_err join_make(struct job *mine, struct job *theirs, long upto, const long *from,
                                  struct job_join **out, struct base_diag *why);
/* What is typed under PATH of ITEM, "" all of it, as one text that people read: NULL: nothing. */
const char *join_text(struct job_join *jj, struct job *j, int item, const char *path);
bool join_is_words(const struct job *j, int item);

#endif
