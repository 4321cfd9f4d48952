/* tui/lesson.h - practice in the screens: a guide, or a job with a planted mistake, in place of one's own
 *
 * A mistake has three steps: find it (Enter in the form says which value; edits and findings are held back),
 * mend it (findings are shown), read what was learnt. A guide has steps of its own, nothing is held back; the
 * step at hand stands above the findings. One's own job stays open behind it and comes back with q.
 */
#ifndef DIEWRIGHT_TUI_LESSON_H
#define DIEWRIGHT_TUI_LESSON_H

#include "diewright/practice.h"
#include "tui/tui.h"

enum step { STEP_FIND = 1, STEP_MEND, STEP_LEARNT, STEPS = 3 };

struct lesson {
    struct practice_book *book;
    struct practice_run *run;   /* a mistake; NULL: none runs */
    struct practice_walk *walk; /* a guide; NULL: none runs. One of the two at a time */
    int at;                     /* which of the jobs, or of the guides */
    enum step step;
    int tried, hints;
    bool taken;                /* look once no level is open */
    struct base_map done;      /* names of guides and jobs, also of runs before */
    bool own_look;             /* of the job behind it */
};

/* Guides and practice jobs are there to choose from. False with the reason. */
bool lesson_book(struct tui *t, struct base_diag *why);
/* Begin guide NAME or practice job NAME (or number). False with the reason; then all is as it was. */
bool lesson_begin(struct tui *t, const char *name, struct base_diag *why);
void lesson_done(struct tui *t); /* at the end of the program */
const struct practice_job *lesson_about(const struct tui *t);   /* the mistake that is at hand, NULL: none */
const struct practice_guide *lesson_guide(const struct tui *t); /* the guide, NULL: none */
bool lesson_runs(const struct tui *t); /* one of the two */
int lesson_count_done(const struct tui *t); /* guides and jobs that were done */
/* The mistake is still being looked for: findings, cures and edits are held back. */
bool lesson_hides(const struct tui *t);
/* While it is looked for WHAT, which would give it away, is held back; that is said. */
bool lesson_holds_back(struct tui *t, const char *what);
/* "practice 14 of 16: Will it go together one way only?", or "guide: TITLE". Returns BUF. */
const char *lesson_title(const struct tui *t, char *buf, size_t size);
/* Enter on the value PATH while looking. */
void lesson_answer(struct tui *t, const char *path);
/* Something was taken, undone or made again: looked at when no level is open. */
void lesson_taken(struct tui *t);
void lesson_look(struct tui *t);
/* The action or word NAME of the screens was run: a step of a guide may have asked for it. */
void lesson_seen(struct tui *t, const char *name);
/* Back to one's own job; false when no practice runs. Leaves the program when there is none. */
bool lesson_leave(struct tui *t);

#endif
