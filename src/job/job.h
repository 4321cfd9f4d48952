/* job/job.h - what the files of this room share */
#ifndef DIEWRIGHT_JOB_JOB_H
#define DIEWRIGHT_JOB_JOB_H

#include "diewright/job.h"
#include "diewright/store.h"

#include <time.h>

/* Changes with texts of their own. */
struct job_changes {
    BASE_VEC(struct typed_change) at;
    struct base_arena memory;
};

struct job {
    const struct handbook *handbook;
    struct store *store;
    struct table_set *tables; /* of the job's own, NULL: the handbook's */
    uint64_t tables_sum;      /* store_tables_sum() when they were read */
    struct dieset *dieset;
    struct findings *findings;
    char *name; /* of the file, without folder and suffix */
    char *who;
    char *warned; /* what the store has to say, as far as it was told */

    struct timespec beside;     /* of its folder, when notes were last looked for there */
    bool edited;                /* something was saved since it was opened */
    bool trying;
    bool renewing;              /* the try is of the shipped parts tables */
    bool seen_only;             /* the try is taken only while nobody has edited since */
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

/* ---- changes.c: what is meant by a name, and changes ------------------------------- */

void job_changes_done(struct job_changes *c);
/* Add one change; all texts are copied. */
void job_changes_add(struct job_changes *c, enum typed_what what, const char *item, const char *path,
                     const char *before, const char *after);
/* What was just tried at PATH is used, and within the range of the handbook; else the try is to be dropped.
   Taking a value back is let through: it is kept while it is not used. */
NODISCARD enum base_err job_check_typed(struct job *j, const char *path, const char *text,
                                        struct base_diag *why);
/* Entry ENTRY of ITEM from what stands there to AFTER; NULL: taken out. */
void job_change_entry(struct job *j, struct job_changes *c, const char *item, const char *entry,
                      const char *after);
void job_place_at(struct job *j, struct job_changes *c, const char *name, int from, int to);
NODISCARD enum base_err job_find_item(struct job *j, const char *name, int *item, struct base_diag *why);
enum base_err job_no_such(struct job *j, const char *path, struct base_diag *why);
const struct handbook_kind *job_kind_of(struct job *j, int item); /* NULL: a factor typed over */
bool job_is_revision(struct job *j, int item); /* what was issued stays on record */
int job_last_of_kind(struct job *j, const char *kind); /* -1: none */
/* "die_plate.thickness 32 mm -> 36 mm" */
char *job_value_title(struct job *j, const char *path, const char *formula);

/* ---- said.c: events ---------------------------------------------------------------- */

extern const char job_begun[]; /* what the title of the event begins with that every job begins with */
bool job_is_beginning(const struct typed_event *e);
/* are A and B one? "mh@ws1" is not "mh@ws2"; "mh" of an old file is either. */
bool job_same_person(const char *a, const char *b);
/* a copy of E in M; is change C of event E one of words, a remark's, a waiver's, a revision's? */
struct typed_event job_copy_event(struct base_arena *m, const struct typed_event *e);
bool job_says(const struct job *j, const struct typed_event *e, const struct typed_change *c);

/* ---- review.c: remarks ------------------------------------------------------------------ */

/* What a remark on SUBJECT speaks of: finding KEY, else ITEM, or a value; the remark that it ANSWERS, or
   NULL. Borrowed of the die set. */
struct job_spoken { const char *key, *item, *answers; };
NODISCARD enum base_err job_spoken_of(struct job *j, const char *subject, const char *text,
                                      struct job_spoken *out, struct base_diag *why);
/* "remark_1", "remark_2" ...: the first that is free. */
void job_free_name(struct job *j, const char *kind, char *buf, size_t size);
/* A remark that BY said WHEN; NOTE: of the file that it was told in, NULL: none. */
NODISCARD enum base_err job_remark_as(struct job *j, const char *subject, const char *text, const char *by,
                                      const char *when, const char *note, struct base_diag *why);

/* ---- copies.c: parts tables that the file carries ------------------------------------ */

/* Make j->tables of the parts tables that the file carries, where they are not those that are shipped now;
   else it stays NULL. */
NODISCARD enum base_err job_copied_tables(struct job *j, struct base_diag *why);
/* All shipped tables into the file, all or none. */
NODISCARD enum base_err job_put_shipped(struct job *j, struct base_diag *why);
/* After job_renew(): the shipped tables are the job's from now on. */
void job_tables_renewed(struct job *j);

/* ---- job.c ----------------------------------------------------------------------------- */

/* A job over STORE, which it owns from here on; nothing of it is read yet. */
NODISCARD enum base_err job_adopt(const struct handbook *h, struct store *store, struct job **out,
                                  struct base_diag *why);
/* The store's items and entries into D, a die set over the job's tables. */
NODISCARD enum base_err job_load_into(struct job *j, struct dieset *d, struct base_diag *why);
/* Everything of TEXT as one event, and the shipped tables. */
NODISCARD enum base_err job_fill(struct job *j, const struct dieset_text *text, struct base_diag *why);
NODISCARD enum base_err job_check_all_dates(struct job *j, struct base_diag *why);
/* Read the store, bind, judge. */
NODISCARD enum base_err job_load(struct job *j, struct base_diag *why);

/* Open a try with CHANGES (emptied: the job takes them over) under TITLE (adopted). */
NODISCARD enum base_err job_try(struct job *j, struct job_changes *changes, char *title,
                                struct base_diag *why);
/* PATH, typed in the open try, is used as the job would stand; refused otherwise, and the try is dropped. */
NODISCARD enum base_err job_check_used(struct job *j, const char *path, struct base_diag *why);
/* Take the open try as the event that takes EDIT back, or does it again. It is dropped when that fails. */
NODISCARD enum base_err job_take_step(struct job *j, bool back, long edit, struct base_diag *why);

/* ---- the edits -------------------------------------------------------------------------- */

/* begin.c: the changes that type what a new item NAME of kind K begins with. */
void job_begin_item(struct job *j, const struct handbook_kind *k, const char *name, struct job_changes *c);

/* outline.c: is PATH a line of the outline of an item that may have one, be it there or not? */
bool job_outline_line(struct job *j, const char *path, const char **item, int *line);
/* The line TEXT with each of its formulas renamed; NULL when none changes. */
char *job_line_renamed(const char *text, char *(*renamed)(const char *formula, const void *arg),
                       const void *arg);

/* edit.c: may NAME be that of a new item? */
NODISCARD enum base_err job_check_name(struct job *j, const char *name, struct base_diag *why);
/* Item ITEM is taken out, whoever said it. */
NODISCARD enum base_err job_take_out(struct job *j, const char *item, struct base_diag *why);
/* The same as changes, added to C. */
NODISCARD enum base_err job_take_out_with(struct job *j, struct job_changes *c, int item,
                                          struct base_diag *why);
/* told.c: what tells a job of the old form by station numbers; BASE_UNKNOWN: it is not of the old form.
 * OUT is to be done with in any case. */
NODISCARD enum base_err job_station_changes(struct job *j, struct job_changes *out, struct base_diag *why);
/* The die set tried with C, left open if no hole and no plate moves, else dropped; false. */
bool job_try_still(struct job *j, const struct job_changes *c);
void job_read_told(struct job *j); /* the die set as it would be told; the store stays as it is */
/* edit.c: TEXT of entry PATH as it is once item OLD is called NOW; NULL: it does not name it. Yours to
   free(). */
char *job_text_renamed(const char *path, const char *text, const char *old, const char *now);

/* before.c: the job as it was after event EVENT, as job_before() gives it. */
NODISCARD enum base_err job_after(struct job *j, long event, struct job **out, struct base_diag *why);

#endif
