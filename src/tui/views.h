/* tui/views.h - how each view is opened; called through the table in names.c alone */
#ifndef DIEWRIGHT_TUI_VIEWS_H
#define DIEWRIGHT_TUI_VIEWS_H

struct tui;

void begin_open(struct tui *t, const char *unused);     /* what t->o.begin is begun from */
void command_open(struct tui *t, const char *text);     /* the ":" row with TEXT in it */
/* The job beside itself as it was so many edits ago, or as it was issued, or beside another job: TEXT is a
   number, a revision or a file ("": a list of edits). */
void compare_open(struct tui *t, const char *text);
void detail_open(struct tui *t, const char *key);       /* a finding by its key */
void exercise_open(struct tui *t, const char *number);  /* an exercise ("": the first) */
void join_open(struct tui *t, const char *file);         /* beside another copy of the job */
void learnt_open(struct tui *t, const char *unused);    /* what was learnt of the practice job at hand */
void lessons_open(struct tui *t, const char *name);    /* a practice job by name or number ("": their list) */
void review_open(struct tui *t, const char *unused);
void review_remark(struct tui *t, const char *words);  /* "[[NAME] TEXT]"; "": they are asked for */
void sizes_open(struct tui *t, const char *path);
/* a name, an expression, "CHAIN ITEM", "chains" or "worst" as it is made ("": the value at hand) */
void tolerance_open(struct tui *t, const char *words);
/* "PATH FROM TO STEP": a value over a range; PATH alone: about its present value ("": the value at hand) */
void vary_open(struct tui *t, const char *text);
void why_open(struct tui *t, const char *path);
void words_open(struct tui *t, const char *filter);     /* the words of the trade that hold FILTER */
/* laying/begin.c: a new group of KIND on the plate at the cursor of the stack */
void group_open(struct tui *t, const char *kind);

#endif
