/* tui/outcome.h - what an edit moves, brings and clears, in lines */
#ifndef DIEWRIGHT_TUI_OUTCOME_H
#define DIEWRIGHT_TUI_OUTCOME_H

#include "diewright/job.h"

struct tui;

/* How the open try would turn out, in one line. */
void edit_outcome_line(struct tui *t, struct base_text *out);
/* "3 moved, 1 finding came" */
void edit_counts_line(const struct job_outcome *o, struct base_text *out);
/* Its moves as lines, what one looks for first; all yours to free(). */
char **edit_move_lines(struct tui *t, const struct job_outcome *o);
void edit_moves(struct tui *t, const struct dieset_move *m, struct base_text *out); /* one move as a line */
bool edit_seen(const struct tui *t, const struct dieset_move *m); /* it differs as people read it */
int edit_weight(const struct tui *t, const struct dieset_move *m); /* what one looks for comes first: 0 */

#endif
