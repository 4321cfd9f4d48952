/* tui/stock.h - the standard sizes behind a value, and which of them stands in the job */
#ifndef DIEWRIGHT_TUI_STOCK_H
#define DIEWRIGHT_TUI_STOCK_H

#include "diewright/explore.h"

struct tui;

/* Those of the value at PATH, for explore_sizes_done(). False: not typed, or no table stands behind it. */
bool stock_gather(struct tui *t, const char *path, struct explore_sizes *out);
int stock_standing(struct tui *t, const char *path, const struct explore_sizes *s); /* -1: none of them */
/* The size next to what stands in the job, BY steps; yours to free(), NULL when there is none. */
char *stock_step(struct tui *t, const char *path, int by);

#endif
