/* tui/edits.h - edits: whether one may, what is tried, taken and dropped, and what the last one moved */
#ifndef DIEWRIGHT_TUI_EDITS_H
#define DIEWRIGHT_TUI_EDITS_H

#include "diewright/job.h"

struct tui;

/* The last edit that was taken, undone or made again. */
struct last {
    char **moves; /* as lines */
    int n;
    struct base_text title;
    struct base_text reason_for; /* what the edit did whose reason is asked for, "": it was another time */
};

/* Refuses with a sentence when only looking; takes in what others did meanwhile. */
bool edit_allowed(struct tui *t);
/* Take in what others did meanwhile, and say what was last. */
/* Remarks that were left beside the job are taken in, and told. */
void edit_take_in(struct tui *t);
void edit_follow(struct tui *t);
/* Try TEXT at PATH, and at the same value of all marked items where PATH's is one of them; an empty text:
 * back to the usual formula. */
enum base_err edit_try(struct tui *t, const char *path, const char *text, struct base_diag *why);
/* Try an edit of stations told in WORDS, "move blank 6". */
enum base_err edit_try_stations(struct tui *t, const char *words, struct base_diag *why);
/* Keep the open try and say what moved. False: it was not taken or not saved. */
bool edit_take(struct tui *t);
void edit_drop(struct tui *t);
void edit_remember(struct tui *t, const struct job_outcome *o);
void edit_forget(struct tui *t); /* nothing has been edited: another job */

#endif
