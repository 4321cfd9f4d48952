/* tui/stack.h - the stack: the section as a matrix, which is also the list of items */
#ifndef DIEWRIGHT_TUI_STACK_H
#define DIEWRIGHT_TUI_STACK_H

#include "diewright/view.h"
#include "tui/list.h"

struct tui;

enum { STACK_FRAME = 2 }; /* heading and foot of the matrix */

struct stack_row { int matrix; int item; }; /* matrix row, or -1 and an item of the list below */
struct stack {
    struct view_matrix matrix, before; /* before: as it stood before the open try */
    BASE_VEC(struct stack_row) rows;
    struct list list;
    int column; /* of the matrix, -1: the plate itself */
};

void stack_settle(struct tui *t);
void stack_reset(struct tui *t);         /* another job */
int stack_wish(const struct tui *t);     /* rows it would like */
int stack_item(const struct tui *t);     /* the item at the cursor, -1 */
/* The cursor on ITEM, in the plate shown where it has a cell there. */
void stack_show(struct tui *t, int item);
void stack_moved(struct tui *t); /* the cursor has: item, plan and form follow */

#endif
