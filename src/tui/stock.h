/* tui/stock.h - the standard sizes behind a value, and which of them stands in the job */
#ifndef DIEWRIGHT_TUI_STOCK_H
#define DIEWRIGHT_TUI_STOCK_H

#include "diewright/explore.h"

struct tui;

/* Those of the value at PATH, for explore_sizes_done(), names of the series that stands in the job first.
   False: not typed, or no table stands behind it. */
bool stock_gather(struct tui *t, const char *path, struct explore_sizes *out);
int stock_standing(struct tui *t, const char *path, const struct explore_sizes *s); /* -1: none of them */
/* Is I a name out of another file than the one STANDING (-1: none) is: an inch screw beside a metric one? */
bool stock_of_another(struct tui *t, const struct explore_sizes *s, int standing, int i);
/* The size next to what stands in the job, BY steps; yours to free(), NULL when there is none. */
char *stock_step(struct tui *t, const char *path, int by);

#endif
