/* tui/panes/stack.c - the stack pane: the section as a matrix, which is also the list of items
 *
 * Rows: those of the matrix from the top down, then every item that is not one of its rows, in the job's
 * order. `t->stack.at` is the row, `t->column` a group of the matrix (-1: the plate itself). A matrix row may
 * take several lines when drawn to scale; the list below takes one line each.
 */

#include "tui/tui.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MATRIX_FRAME = 2 }; /* heading and foot of the matrix */

static bool in_matrix(const struct tui *t, int item)
{
    int strip = dieset_item_of_kind(t->d, DIESET_STRIP);
    for (int r = 0; r < t->matrix.n_rows; r++) {
        const struct view_row *row = &t->matrix.rows[r];
        if (row->plate == item || (row->what == VIEW_ROW_STRIP && item == strip))
            return true;
    }
    return false;
}

static int row_item(const struct tui *t, const struct stack_row *row)
{
    if (row->matrix < 0)
        return row->item;
    const struct view_row *m = &t->matrix.rows[row->matrix];
    if (m->what == VIEW_ROW_STRIP)
        return dieset_item_of_kind(t->d, DIESET_STRIP);
    return m->what == VIEW_ROW_PLATE ? m->plate : dieset_item_of_kind(t->d, DIESET_STACK);
}

int stack_item(const struct tui *t)
{
    if (t->rows.count == 0)
        return -1;
    const struct stack_row *row = &t->rows.at[t->stack.at];
    if (row->matrix >= 0 && t->column >= 0 && t->column < t->matrix.n_columns) {
        int item = t->matrix.items[row->matrix][t->column];
        return item >= 0 ? item : t->matrix.columns[t->column].item;
    }
    return row_item(t, row);
}

/* The plate whose plan belongs to the row: its own, else the one shown before while the group is in it. */
static void follow_plate(struct tui *t)
{
    if (t->rows.count == 0)
        return;
    const struct stack_row *row = &t->rows.at[t->stack.at];
    if (row->matrix >= 0 && t->matrix.rows[row->matrix].what == VIEW_ROW_PLATE)
        t->plan_plate = t->matrix.rows[row->matrix].plate;
    if (row->matrix >= 0 || t->n_levels || points_in(t, row->item, t->plan_plate))
        return;
    for (int r = 0; r < t->matrix.n_rows; r++) /* a group of the list: the first plate it is fixed in */
        for (int c = 0; c < t->matrix.n_columns; c++)
            if (t->matrix.items[r][c] == row->item && t->matrix.cells[r][c] != '|' &&
                points_in(t, row->item, t->matrix.rows[r].plate)) {
                t->plan_plate = t->matrix.rows[r].plate;
                return;
            }
}

static void remember(struct tui *t)
{
    int item = stack_item(t);
    snprintf(t->item, sizeof t->item, "%s", item >= 0 ? dieset_item_name(t->d, item) : "");
    follow_plate(t);
}

void stack_show(struct tui *t, int item)
{
    int at = -1, column = -1;
    for (int i = 0; i < t->stack.n && at < 0; i++)
        if (row_item(t, &t->rows.at[i]) == item)
            at = i;
    for (int r = 0; r < t->matrix.n_rows; r++)
        for (int c = 0; t->matrix.rows[r].plate == t->plan_plate && c < t->matrix.n_columns; c++)
            if (t->matrix.items[r][c] == item && t->matrix.cells[r][c]) {
                at = r;
                column = c;
            }
    t->stack.at = at < 0 ? t->stack.at : at;
    t->column = column;
    remember(t);
    form_settle(t);
}

/* Rows of the newest binding; the cursor goes where its item is now. */
void stack_settle(struct tui *t)
{
    t->rows.count = 0;
    for (int r = 0; r < t->matrix.n_rows; r++)
        base_vec_push(&t->rows, ((struct stack_row){r, -1}));
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (!in_matrix(t, i) && !dieset_item_words(t->d, i))
            base_vec_push(&t->rows, ((struct stack_row){-1, i}));
    t->stack.n = (int)t->rows.count;
    list_move(&t->stack, MOVE_LEFT, 0);
    if (t->column >= t->matrix.n_columns)
        t->column = -1;
    int plates = dieset_item_count(t->d);
    if (t->plan_plate >= plates)
        t->plan_plate = -1;
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1;
    if (item >= 0 && stack_item(t) != item) {
        for (int i = 0; i < t->stack.n; i++)
            if (row_item(t, &t->rows.at[i]) == item) {
                t->stack.at = i;
                t->column = -1;
                break;
            }
    }
    remember(t);
    if (t->plan_plate < 0)
        for (int r = 0; r < t->matrix.n_rows && t->plan_plate < 0; r++)
            t->plan_plate = t->matrix.rows[r].plate;
    t->plan_shown = t->plan_plate;
}

int stack_wish(const struct tui *t)
{
    int others = (int)t->rows.count - t->matrix.n_rows;
    return t->matrix.n_rows + MATRIX_FRAME + (others < 24 ? others : 24);
}

/* ---- drawing ---- */

static bool height_moved(const struct tui *t, int r)
{
    if (!job_trying(t->job))
        return false;
    for (int b = 0; b < t->before.n_rows; b++)
        if (strcmp(t->before.rows[b].title, t->matrix.rows[r].title) == 0)
            return t->before.rows[b].height != t->matrix.rows[r].height;
    return true;
}

static double whole_height(const struct view_matrix *m)
{
    double sum = 0;
    for (int r = 0; r < m->n_rows; r++)
        sum += m->rows[r].height;
    return sum;
}

/* The foot tells the shut height: would it be another? */
static bool foot_moved(const struct tui *t)
{
    return job_trying(t->job) && fabs(whole_height(&t->before) - whole_height(&t->matrix)) > 1e-6;
}

/* Letter, title and what it is: "s die screws   6 on die plate". */
static void draw_item(struct tui *t, struct area a, int y, int item, bool here)
{
    int kind = dieset_item_kind(t->d, item), points = dieset_point_count(t->d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
    int x = paint_text(&t->p, a, y, 1, here ? INK_STRONG : INK_PLAIN, dieset_item_title(t->d, item));
    if (!k)
        return;
    char text[80];
    if (k->lays)
        snprintf(text, sizeof text, "%c  at %d point%s", k->letter ? k->letter : ' ', points,
                 points == 1 ? "" : "s");
    else
        snprintf(text, sizeof text, "%s",
                 strcmp(k->title, dieset_item_title(t->d, item)) == 0 ? "" : k->title);
    x = x + 2 > 22 ? x + 2 : 22;
    if (x + paint_width(text) < a.w)
        paint_text(&t->p, a, y, x, INK_DIM, text);
}

/* The column of the cell that the cursor is in, and its mark. */
static void draw_cell_cursor(struct tui *t, struct area a, int y, const struct view_options *o, int width,
                             bool focus)
{
    int x = view_stack_x(t->d, &t->matrix, o, width, t->column);
    if (x < 0)
        return;
    const struct stack_row *row = &t->rows.at[t->stack.at];
    char ch = t->matrix.cells[row->matrix][t->column];
    paint_char(&t->p, a, y, x, INK_TYPED, ch == '|' ? 0x2502 : ch ? (uint32_t)(unsigned char)ch : ' ');
    if (focus)
        tui_cursor(t, a, y, x);
}

/* Lines of the whole pane, drawn or not: line -> row, -1 for heading and foot. */
static int lay_lines(struct tui *t, struct area a, struct view_canvas *c, int **row_of)
{
    int others = (int)t->rows.count - t->matrix.n_rows;
    int least = t->matrix.n_rows + MATRIX_FRAME;
    int high = a.h - others > least ? a.h - others : least;
    if (others > a.h / 3 && a.h - a.h / 3 > high)
        high = a.h - a.h / 3;
    struct view_options o = tui_view(t);
    view_canvas_init(c, a.w, high);
    *row_of = base_alloc((size_t)(high + others + 1) * sizeof **row_of);
    view_stack(t->d, &t->matrix, &o, c, *row_of);
    int used = high;
    for (int y = high - 1; y > 0 && (*row_of)[y] < 0 && (*row_of)[y - 1] < 0; y--)
        used = y; /* unused lines at the end; the foot stays */
    for (int i = 0; i < others; i++)
        (*row_of)[used + i] = t->matrix.n_rows + i;
    return used + others;
}

static int line_of(const int *row_of, int n, int row)
{
    for (int y = 0; y < n; y++)
        if (row_of[y] == row)
            return y;
    return 0;
}

static void stack_draw(struct tui *t, struct area a, bool focus)
{
    struct view_canvas c;
    struct view_options o = tui_view(t);
    int *row_of;
    int n = lay_lines(t, a, &c, &row_of), at = line_of(row_of, n, t->stack.at);
    struct list scroll = {.at = at, .top = t->stack.top, .n = n};
    if (t->stack.at == 0)
        scroll.top = 0;
    list_fit(&scroll, a.h);
    t->stack.top = scroll.top;
    int matrix_lines = n - ((int)t->rows.count - t->matrix.n_rows);
    struct area part = {a.y, a.x, matrix_lines - scroll.top < a.h ? matrix_lines - scroll.top : a.h, a.w};
    if (part.h > 0)
        paint_canvas(&t->p, part, &c, scroll.top);
    for (int y = 0; y < a.h && scroll.top + y < n; y++) {
        int row = row_of[scroll.top + y];
        if (row >= t->matrix.n_rows)
            draw_item(t, a, y, t->rows.at[row].item, row == t->stack.at);
        else if (row >= 0 && (scroll.top + y == 0 || row_of[scroll.top + y - 1] != row) &&
                 height_moved(t, row))
            paint_text(&t->p, a, y, 21, INK_STRONG, "?");
        else if (row < 0 && scroll.top + y > 0 && row_of[scroll.top + y - 1] == t->matrix.n_rows - 1 &&
                 foot_moved(t))
            paint_text(&t->p, a, y, 20, INK_STRONG, "?");
    }
    int y = at - scroll.top;
    paint_text(&t->p, a, y, 0, INK_STRONG, focus ? ">" : ":");
    if (focus)
        tui_cursor(t, a, y, 0);
    if (t->column >= 0 && t->stack.at < t->matrix.n_rows)
        draw_cell_cursor(t, a, y, &o, c.width, focus);
    view_canvas_done(&c);
    free(row_of);
}

/* ---- moving ---- */

static void stack_move(struct tui *t, enum move m)
{
    bool on_matrix = t->stack.at < t->matrix.n_rows;
    if (m == MOVE_LEFT || m == MOVE_RIGHT) {
        if (!on_matrix)
            return;
        int next = t->column + (m == MOVE_RIGHT ? 1 : -1);
        t->column = next < -1 ? -1 : next >= t->matrix.n_columns ? t->matrix.n_columns - 1 : next;
    } else {
        list_move(&t->stack, m, t->zoomed ? t->at.body.h : t->at.stack.h);
        if (t->stack.at >= t->matrix.n_rows)
            t->column = -1;
    }
    remember(t);
    form_settle(t);
}

static void stack_enter(struct tui *t)
{
    t->zoomed = false;
    t->focus = t->swap == SWAP_PLAN ? PANE_PLAN : PANE_SWAP;
    if (t->swap == SWAP_SECTION)
        t->swap = SWAP_FORM;
}

/* The matrix column that is drawn in column X of the pane, -1: none. */
static int column_at(struct tui *t, const struct view_options *o, int width, int x)
{
    for (int c = 0; c < t->matrix.n_columns; c++)
        if (view_stack_x(t->d, &t->matrix, o, width, c) == x)
            return c;
    return -1;
}

static enum hit stack_at(struct tui *t, struct area a, int y, int x)
{
    struct view_canvas c;
    struct view_options o = tui_view(t);
    int *row_of, n = lay_lines(t, a, &c, &row_of), line = t->stack.top + y - a.y;
    int row = line < n ? row_of[line] : -1;
    int column = row >= 0 && row < t->matrix.n_rows ? column_at(t, &o, c.width, x - a.x) : -1;
    bool here = row == t->stack.at && column == t->column;
    view_canvas_done(&c);
    free(row_of);
    if (row < 0)
        return HIT_NOTHING;
    t->stack.at = row;
    t->column = column;
    remember(t);
    form_settle(t);
    return here ? HIT_HERE : HIT_MOVED;
}

const struct pane_ops stack_pane = {PLACE_STACK, stack_draw, stack_move, stack_enter, stack_at, true};
