/* tui/stack.c - the rows of the stack: those of the section's matrix from the top down, then every item that
 * is not one of them, in the job's order
 *
 * `list.at` is the row, `column` a group of the matrix (-1: the plate itself). The plan follows: its plate is
 * that of the row, or the one shown before while the group at the cursor has a hole in it.
 */

#include "tui/stack.h"

#include "diewright/place.h"
#include "tui/form.h"
#include "tui/plan.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool in_matrix(const struct tui *t, int item)
{
    int strip = dieset_item_of_kind(t->d, DIESET_STRIP);
    for (int r = 0; r < t->stack->matrix.n_rows; r++) {
        const struct view_row *row = &t->stack->matrix.rows[r];
        if (row->plate == item || (row->what == VIEW_ROW_STRIP && item == strip))
            return true;
    }
    return false;
}

static int row_item(const struct tui *t, const struct stack_row *row)
{
    if (row->matrix < 0)
        return row->item;
    const struct view_row *m = &t->stack->matrix.rows[row->matrix];
    if (m->what == VIEW_ROW_STRIP)
        return dieset_item_of_kind(t->d, DIESET_STRIP);
    return m->what == VIEW_ROW_PLATE ? m->plate : dieset_item_of_kind(t->d, DIESET_STACK);
}

int stack_item(const struct tui *t)
{
    if (t->stack->rows.count == 0)
        return -1;
    const struct stack_row *row = &t->stack->rows.at[t->stack->list.at];
    if (row->matrix >= 0 && t->stack->column >= 0 && t->stack->column < t->stack->matrix.n_columns) {
        int item = t->stack->matrix.items[row->matrix][t->stack->column];
        return item >= 0 ? item : t->stack->matrix.columns[t->stack->column].item;
    }
    return row_item(t, row);
}

/* The plate whose plan belongs to the row: its own, else the one shown before while the group is in it. */
static void follow_plate(struct tui *t)
{
    if (t->stack->rows.count == 0)
        return;
    const struct stack_row *row = &t->stack->rows.at[t->stack->list.at];
    if (row->matrix >= 0 && t->stack->matrix.rows[row->matrix].what == VIEW_ROW_PLATE)
        t->plan->plate = t->stack->matrix.rows[row->matrix].plate;
    if (row->matrix >= 0 || tui_depth(t) || place_stands_in(t->d, row->item, t->plan->plate, t->state))
        return;
    /* a group of the list: the first plate it is fixed in */
    for (int r = 0; r < t->stack->matrix.n_rows; r++)
        for (int c = 0; c < t->stack->matrix.n_columns; c++)
            if (t->stack->matrix.items[r][c] == row->item && t->stack->matrix.cells[r][c] != '|' &&
                place_stands_in(t->d, row->item, t->stack->matrix.rows[r].plate, t->state)) {
                t->plan->plate = t->stack->matrix.rows[r].plate;
                return;
            }
}

static void follow(struct tui *t)
{
    int item = stack_item(t);
    snprintf(t->item, sizeof t->item, "%s", item >= 0 ? dieset_item_name(t->d, item) : "");
    follow_plate(t);
}

void stack_moved(struct tui *t)
{
    follow(t);
    form_settle(t);
}

void stack_show(struct tui *t, int item)
{
    int at = -1, column = -1;
    for (int i = 0; i < t->stack->list.n && at < 0; i++)
        if (row_item(t, &t->stack->rows.at[i]) == item)
            at = i;
    for (int r = 0; r < t->stack->matrix.n_rows; r++)
        for (int c = 0; t->stack->matrix.rows[r].plate == t->plan->plate && c < t->stack->matrix.n_columns;
             c++)
            if (t->stack->matrix.items[r][c] == item && t->stack->matrix.cells[r][c]) {
                at = r;
                column = c;
            }
    t->stack->list.at = at < 0 ? t->stack->list.at : at;
    t->stack->column = column;
    stack_moved(t);
}

/* Rows of the newest binding; the cursor goes where its item is now. */
void stack_settle(struct tui *t)
{
    view_matrix(t->d, t->state, &t->stack->matrix);
    if (!job_trying(t->job))
        t->stack->before = t->stack->matrix;
    t->stack->rows.count = 0;
    for (int r = 0; r < t->stack->matrix.n_rows; r++)
        base_vec_push(&t->stack->rows, ((struct stack_row){r, -1}));
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (!in_matrix(t, i) && !dieset_item_words(t->d, i))
            base_vec_push(&t->stack->rows, ((struct stack_row){-1, i}));
    t->stack->list.n = (int)t->stack->rows.count;
    list_move(&t->stack->list, MOVE_LEFT, 0);
    if (t->stack->column >= t->stack->matrix.n_columns)
        t->stack->column = -1;
    int plates = dieset_item_count(t->d);
    if (t->plan->plate >= plates)
        t->plan->plate = -1;
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1;
    if (item >= 0 && stack_item(t) != item) {
        for (int i = 0; i < t->stack->list.n; i++)
            if (row_item(t, &t->stack->rows.at[i]) == item) {
                t->stack->list.at = i;
                t->stack->column = -1;
                break;
            }
    }
    follow(t);
    if (t->plan->plate < 0)
        for (int r = 0; r < t->stack->matrix.n_rows && t->plan->plate < 0; r++)
            t->plan->plate = t->stack->matrix.rows[r].plate;
    t->plan->shown = t->plan->plate;
}

int stack_wish(const struct tui *t)
{
    int others = (int)t->stack->rows.count - t->stack->matrix.n_rows;
    return t->stack->matrix.n_rows + STACK_FRAME + (others < 24 ? others : 24);
}

void stack_reset(struct tui *t)
{
    t->stack->list = (struct list){0};
    t->stack->column = -1;
}
