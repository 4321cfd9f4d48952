/* tui/views/lesson.h - practice in the screens: a job with a planted mistake in place of one's own
 *
 * Three steps: find it (Enter in the form says which value; edits and findings are held back), mend it
 * (findings are shown), read what was learnt. One's own job stays open behind it and comes back with q.
 */
#ifndef DIEWRIGHT_TUI_LESSON_H
#define DIEWRIGHT_TUI_LESSON_H

#include "tui/tui.h"

/* Begin practice job NAME (or number). False with the reason; then all is as it was. */
bool lesson_begin(struct tui *t, const char *name, struct base_diag *why);
void lesson_done(struct tui *t); /* at the end of the program */
bool lesson_runs(const struct tui *t);
/* The mistake is still being looked for: findings, cures and edits are held back. */
bool lesson_hides(const struct tui *t);
/* While it is looked for WHAT, which would give it away, is held back; that is said. */
bool lesson_holds_back(struct tui *t, const char *what);
/* "practice 10 of 16: Will it go together one way only?" Returns BUF. */
const char *lesson_title(const struct tui *t, char *buf, size_t size);
/* Enter on the value PATH while looking. */
void lesson_answer(struct tui *t, const char *path);
/* Something was taken, undone or made again: looked at when no level is open. */
void lesson_taken(struct tui *t);
void lesson_look(struct tui *t);
/* The findings pane's rows for practice, from the top of A; how many were taken (all of them while
   looking). */
int lesson_draw(struct tui *t, struct area a);
int lesson_rows(const struct tui *t, struct area a); /* those rows */
/* Back to one's own job; false when no practice runs. Leaves the program when there is none. */
bool lesson_leave(struct tui *t);

#endif
