/* tui/layout.h - all rectangles of the main screen from its size alone
 *
 * Pure arithmetic: no curses. No width or height is ever negative and nothing reaches outside the screen.
 */
#ifndef DIEWRIGHT_TUI_LAYOUT_H
#define DIEWRIGHT_TUI_LAYOUT_H

#include "diewright/terminal.h"

/* The least there is; the least that has room for all four panes. */
enum { LAYOUT_LEAST_ROWS = 16, LAYOUT_LEAST_COLUMNS = 60, LAYOUT_ALL_ROWS = 24, LAYOUT_ALL_COLUMNS = 80,
       LAYOUT_READ = 100 };

struct layout {
    bool small;           /* under 60x16: `title` alone is there, for one line */
    bool alone;           /* under 80x24: the pane with the keys has the body, and each pane's area is that */
    struct area title;    /* first row */
    struct area stack;    /* upper left: section and item list */
    struct area swap;     /* beside it: form, or plan, or section */
    struct area side;     /* from 110 columns: what hangs on the value at the cursor */
    struct area section;  /* from 160 columns: the section as well */
    /* lower left: plan (or the form when it was swapped); its first row is on the rule */
    struct area plan;
    struct area findings; /* lower right; so is this one's */
    struct area message, hint; /* last two rows */
    struct area body;     /* all between title and message, for full views */
};

/* A for running text: no wider than a line that is read with ease. */
struct area layout_read(struct area a);
/* STACK_ROWS: rows that the stack and its list would like to have. */
struct layout layout_main(int rows, int columns, int stack_rows);

#endif
