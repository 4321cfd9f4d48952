/* tui/panes/stack.c - the stack pane: the section as a matrix, which is also the list of items
 *
 * A matrix row may take several lines when drawn to scale; an item of the list below takes one.
 */

#include "tui/panes.h"

#include "tui/form.h"
#include "tui/marks.h"
#include "tui/stack.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- drawing ---- */

static bool height_moved(const struct tui *t, int r)
{
    if (!job_trying(t->job))
        return false;
    for (int b = 0; b < t->stack->before.n_rows; b++)
        if (strcmp(t->stack->before.rows[b].title, t->stack->matrix.rows[r].title) == 0)
            return t->stack->before.rows[b].height != t->stack->matrix.rows[r].height;
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
    return job_trying(t->job) &&
           fabs(whole_height(&t->stack->before) - whole_height(&t->stack->matrix)) > 1e-6;
}

static bool is_remarked(const struct tui *t, int item)
{
    return review_open_remarks(t->d, NULL, dieset_item_name(t->d, item)) > 0;
}

/* Letter, title and what it is: "s die screws   6 on die plate". */
static void draw_item(struct tui *t, struct area a, int y, int item, enum ink ink)
{
    int kind = dieset_item_kind(t->d, item), points = dieset_point_count(t->d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
    int x = paint_cut(&t->p, a, y, 1, a.w, ink, dieset_item_title(t->d, item));
    if (is_remarked(t, item))
        x = paint_text(&t->p, a, y, x, INK_STRONG, REVIEW_MARK);
    if (marks_has(t, dieset_item_name(t->d, item)))
        paint_text(&t->p, a, y, 0, INK_STRONG, "*");
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
    int x = view_stack_x(t->d, &t->stack->matrix, o, width, t->stack->column);
    if (x < 0)
        return;
    const struct stack_row *row = &t->stack->rows.at[t->stack->list.at];
    char ch = t->stack->matrix.cells[row->matrix][t->stack->column];
    paint_char(&t->p, a, y, x, INK_TYPED, ch == '|' ? 0x2502 : ch ? (uint32_t)(unsigned char)ch : ' ');
    if (focus)
        tui_cursor(t, a, y, x);
}

/* Lines of the whole pane, drawn or not: line -> row, -1 for heading and foot. */
static int lay_lines(struct tui *t, struct area a, struct view_canvas *c, int **row_of)
{
    int others = (int)t->stack->rows.count - t->stack->matrix.n_rows;
    int least = t->stack->matrix.n_rows + STACK_FRAME;
    int high = a.h - others > least ? a.h - others : least;
    if (others > a.h / 3 && a.h - a.h / 3 > high)
        high = a.h - a.h / 3;
    struct view_options o = tui_view(t);
    view_canvas_init(c, a.w, high);
    *row_of = base_alloc((size_t)(high + others + 1) * sizeof **row_of);
    view_stack(t->d, &t->stack->matrix, &o, c, *row_of);
    int used = high;
    for (int y = high - 1; y > 0 && (*row_of)[y] < 0 && (*row_of)[y - 1] < 0; y--)
        used = y; /* unused lines at the end; the foot stays */
    for (int i = 0; i < others; i++)
        (*row_of)[used + i] = t->stack->matrix.n_rows + i;
    return used + others;
}

static int line_of(const int *row_of, int n, int row)
{
    for (int y = 0; y < n; y++)
        if (row_of[y] == row)
            return y;
    return 0;
}

/* Beside a row of the matrix, on its first line: marked, moved by what is tried, spoken of by a remark. */
static void draw_row_marks(struct tui *t, struct area a, int y, int row)
{
    int plate = t->stack->matrix.rows[row].plate;
    if (plate >= 0 && marks_has(t, dieset_item_name(t->d, plate)))
        paint_text(&t->p, a, y, 0, INK_STRONG, "*");
    if (height_moved(t, row))
        paint_text(&t->p, a, y, 21, INK_STRONG, "?");
    else if (plate >= 0 && is_remarked(t, plate))
        paint_text(&t->p, a, y, 21, INK_STRONG, REVIEW_MARK);
}

static void stack_draw(struct tui *t, struct area a, bool focus)
{
    struct view_canvas c;
    struct view_options o = tui_view(t);
    int *row_of;
    int n = lay_lines(t, a, &c, &row_of), at = line_of(row_of, n, t->stack->list.at);
    struct list scroll = {.at = at, .top = t->stack->list.top, .n = n};
    if (t->stack->list.at == 0)
        scroll.top = 0;
    list_fit(&scroll, a.h);
    t->stack->list.top = scroll.top;
    int matrix_lines = n - ((int)t->stack->rows.count - t->stack->matrix.n_rows);
    struct area part = {a.y, a.x, matrix_lines - scroll.top < a.h ? matrix_lines - scroll.top : a.h, a.w};
    if (part.h > 0)
        paint_canvas(&t->p, part, &c, scroll.top);
    for (int y = 0; y < a.h && scroll.top + y < n; y++) {
        int row = row_of[scroll.top + y];
        if (row >= t->stack->matrix.n_rows)
            draw_item(t, a, y, t->stack->rows.at[row].item,
                      row != t->stack->list.at ? INK_PLAIN
                      : focus                  ? INK_HERE
                                               : INK_STRONG);
        else if (row >= 0 && (scroll.top + y == 0 || row_of[scroll.top + y - 1] != row))
            draw_row_marks(t, a, y, row);
        else if (row < 0 && scroll.top + y > 0 && row_of[scroll.top + y - 1] == t->stack->matrix.n_rows - 1 &&
                 foot_moved(t))
            paint_text(&t->p, a, y, 20, INK_STRONG, "?");
    }
    int y = at - scroll.top;
    paint_text(&t->p, a, y, 0, focus ? INK_HERE : INK_STRONG, focus ? ">" : ":");
    if (t->stack->list.at < t->stack->matrix.n_rows) {
        const char *title = t->stack->matrix.rows[t->stack->list.at].title;
        paint_over(&t->p, a, y, 1, paint_width(title) < 14 ? paint_width(title) : 14,
                   focus ? INK_HERE : INK_STRONG);
    }
    if (focus && scroll.top == 0)
        paint_over(&t->p, a, 0, 0, 7, INK_HERE);
    if (focus)
        tui_cursor(t, a, y, 0);
    if (t->stack->column >= 0 && t->stack->list.at < t->stack->matrix.n_rows)
        draw_cell_cursor(t, a, y, &o, c.width, focus);
    view_canvas_done(&c);
    free(row_of);
}

/* ---- moving ---- */

static void stack_move(struct tui *t, enum move m)
{
    bool on_matrix = t->stack->list.at < t->stack->matrix.n_rows;
    if (m == MOVE_LEFT || m == MOVE_RIGHT) {
        if (!on_matrix)
            return;
        int next = t->stack->column + (m == MOVE_RIGHT ? 1 : -1);
        t->stack->column = next < -1                            ? -1
                           : next >= t->stack->matrix.n_columns ? t->stack->matrix.n_columns - 1
                                                                : next;
    } else {
        list_move(&t->stack->list, m, tui_alone(t) ? t->at.body.h : t->at.stack.h);
        if (t->stack->list.at >= t->stack->matrix.n_rows)
            t->stack->column = -1;
    }
    stack_moved(t);
}

static void stack_enter(struct tui *t)
{
    form_take_keys(t);
}

/* The matrix column that is drawn in column X of the pane, -1: none. */
static int column_at(struct tui *t, const struct view_options *o, int width, int x)
{
    for (int c = 0; c < t->stack->matrix.n_columns; c++)
        if (view_stack_x(t->d, &t->stack->matrix, o, width, c) == x)
            return c;
    return -1;
}

static enum hit stack_at(struct tui *t, struct area a, int y, int x)
{
    struct view_canvas c;
    struct view_options o = tui_view(t);
    int *row_of, n = lay_lines(t, a, &c, &row_of), line = t->stack->list.top + y - a.y;
    int row = line < n ? row_of[line] : -1;
    int column = row >= 0 && row < t->stack->matrix.n_rows ? column_at(t, &o, c.width, x - a.x) : -1;
    bool here = row == t->stack->list.at && column == t->stack->column;
    view_canvas_done(&c);
    free(row_of);
    if (row < 0)
        return HIT_NOTHING;
    t->stack->list.at = row;
    t->stack->column = column;
    stack_moved(t);
    return here ? HIT_HERE : HIT_MOVED;
}

const struct pane_ops stack_pane = {AT_STACK, stack_draw, stack_move, stack_enter, stack_at, true};
