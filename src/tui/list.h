/* tui/list.h - a cursor in lines of which some are seen: pure arithmetic */
#ifndef DIEWRIGHT_TUI_LIST_H
#define DIEWRIGHT_TUI_LIST_H

#include "diewright/terminal.h"

enum move { MOVE_UP, MOVE_DOWN, MOVE_LEFT, MOVE_RIGHT, MOVE_PAGE_UP, MOVE_PAGE_DOWN, MOVE_FIRST, MOVE_LAST };

/* A cursor in N lines of which some are seen. */
struct list { int at, top, n; };
void list_move(struct list *l, enum move m, int page);
void list_fit(struct list *l, int rows); /* keeps `at` valid and seen */

/* What stands at a cell, once the cursor is on it. */
enum hit { HIT_NOTHING, HIT_MOVED, HIT_HERE }; /* here: it was on it already */
/* Row Y of the screen in BODY, where the list is seen. */
enum hit list_hit(struct list *l, struct area body, int y, int x);

#endif
