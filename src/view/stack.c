/* The matrix of the stack, drawn: names and heights at the left, plate metal and the groups' letters beside
 * them.
 *
 *      stack, shut, new   mm        g  b  s  d  c        heading
 *      upper shoe       50.0     ░░░B░S░░D░░░B░░░░░      a row of the matrix
 *      shut height     243.5   ground 235.5              foot
 *
 * Widths of plates are to scale, columns are spread: inner ones over the narrowest plate, outer ones over the
 * margin at its left and, mirrored, at its right.
 */

#include "view/frame.h"
#include "view/matrix.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    NAME_AT = 1, NAME_WIDTH = 14, POINT_AT = 18, /* the decimal point of heights */
    AREA_AT = 22, AREA_WIDE_AT = 31, WIDE = 60,  /* with room, the top's height stands between */
    AREA_MOST = 61, TITLE_ROWS = 1, FOOT_ROWS = 1, MOST_LINES = 64
};

struct area { int at, width; double left, right; int inner_a, inner_b; bool margins; };

/* ---- where things stand --------------------------------------------------------- */

static int area_column(const struct area *a, double x)
{
    double share = (x - a->left) / (a->right - a->left);
    return isfinite(share) ? (int)lround(fmin(fmax(share, 0), 1) * a->width) : 0;
}

static int outer_count(const struct view_matrix *m)
{
    int n = 0;
    for (int i = 0; i < m->n_columns; i++)
        n += m->columns[i].outer;
    return n;
}

static struct area area_of(struct dieset *d, const struct view_matrix *m, const struct view_options *o,
                           int width)
{
    struct area a = {.at = width >= WIDE ? AREA_WIDE_AT : AREA_AT, .left = INFINITY, .right = -INFINITY};
    a.width = width - a.at < AREA_MOST ? width - a.at : AREA_MOST;
    a.width -= a.width % 2 == 0; /* odd: a middle column */
    if (a.width < 1)
        return (struct area){.at = a.at};
    bool any = false;
    struct dieset_plate narrow = {0};
    double least = INFINITY;
    for (int i = 0; i < m->n_rows; i++) {
        if (m->rows[i].what != VIEW_ROW_PLATE)
            continue;
        struct dieset_plate plate = dieset_plate(d, m->rows[i].plate, o->state);
        a.left = fmin(a.left, plate.left);
        a.right = fmax(a.right, plate.right);
        if (plate.right - plate.left < least) {
            least = plate.right - plate.left;
            narrow = plate;
            any = true;
        }
    }
    a.inner_b = a.width;
    int outer = outer_count(m);
    if (!any || outer == 0)
        return a;
    int x = area_column(&a, narrow.left);
    a.margins = x >= outer;
    if (a.margins) {
        a.inner_a = x;
        a.inner_b = area_column(&a, narrow.right);
    }
    return a;
}

/* The I-th of N columns spread over cells FROM up to, not with, TO; -1 when there are more columns than
   cells. */
static int spread(int i, int n, int from, int to)
{
    return i < to - from ? from + (n <= to - from ? (to - from) * (2 * i + 1) / (2 * n) : i) : -1;
}

/* Within the area. */
static int column_at(const struct area *a, const struct view_matrix *m, int column)
{
    int outer = outer_count(m), before = 0, like = 0;
    bool is_outer = m->columns[column].outer && a->margins;
    for (int i = 0; i < m->n_columns; i++) {
        bool same = (m->columns[i].outer && a->margins) == is_outer;
        before += same && i < column;
        like += same;
    }
    return is_outer ? spread(before, outer, 0, a->inner_a) : spread(before, like, a->inner_a, a->inner_b);
}

int view_stack_x(struct dieset *d, const struct view_matrix *m, const struct view_options *o, int width,
                 int column)
{
    struct area a = area_of(d, m, o, width);
    int at = column < 0 || column >= m->n_columns ? -1 : column_at(&a, m, column);
    return at < 0 ? -1 : a.at + at;
}

/* ---- how many lines a row takes ----------------------------------------------------- */

static int row_lines(const struct view_row *r, double mm)
{
    double n = mm > 0 ? round(r->height / mm) : 1;
    return n >= 1 ? (int)fmin(n, MOST_LINES) : 1; /* a height that is not known takes one */
}

/* The finest of the scales at which all rows fit into ROOM lines; 0: one line each. */
static double row_scale(const struct view_matrix *m, int room, double unit)
{
    static const double scales[] = {8, 10, 12.5, 16};
    for (size_t s = 0; s < COUNT_OF(scales); s++) {
        int lines = 0;
        for (int i = 0; i < m->n_rows; i++)
            lines += row_lines(&m->rows[i], scales[s] * unit);
        if (lines <= room)
            return scales[s] * unit;
    }
    return 0;
}

/* The first row drawn, so that the plate at the cursor is among ROOM lines. */
static int first_row(const struct view_matrix *m, const struct view_options *o, int room)
{
    for (int i = room > 0 ? room : 1; i < m->n_rows; i++)
        if (m->rows[i].plate >= 0 && m->rows[i].plate == o->item)
            return i - room + 1;
    return 0;
}

/* ---- drawing -------------------------------------------------------------------------- */

struct drawing {
    struct dieset *d;
    const struct view_matrix *m;
    const struct view_options *o;
    struct view_canvas *c;
    const struct glyphs *g;
    struct area a;
};

/* A height with its decimal point in column AT. */
static void number(const struct drawing *w, int at, int y, double value)
{
    char buf[40] = "?";
    if (isfinite(value))
        unit_print_number(value, UNIT_LENGTH, dieset_system(w->d), buf, sizeof buf);
    int shift = unit_is_inch(dieset_system(w->d)) ? 2 : 0;
    view_text(w->c, at - shift - (int)strcspn(buf, "."), y, buf, VIEW_PLAIN);
}

static void title(const struct drawing *w, int y, const char *text, enum view_role role, bool strong)
{
    enum { END = NAME_AT + NAME_WIDTH };
    view_text(w->c, NAME_AT, y, text, role);
    if (base_columns(text, strlen(text)) > NAME_WIDTH)
        view_text(w->c, END - 3, y, " ..", role);
    for (int x = NAME_AT; x < w->c->width; x++) {
        struct view_cell *cell = canvas_cell(w->c, x, y);
        if (!cell)
            continue;
        if (x >= END)
            *cell = (struct view_cell){.ch = ' ', .item = -1};
        cell->strong = strong && cell->ch != ' ';
    }
}

/* PUT a column's letter, and for an outer one its fellow at the other side. */
static void letter(const struct drawing *w, int column, int y, int ch, int item)
{
    int at = column_at(&w->a, w->m, column);
    if (!ch || at < 0)
        return;
    bool strong = item >= 0 && item == w->o->item && ch != '|';
    int sides[2] = {at, w->m->columns[column].outer && w->a.margins ? w->a.width - 1 - at : at};
    for (int i = 0; i < 2; i++) {
        if (ch == '|')
            view_put(w->c, w->a.at + sides[i], y, w->g->down, VIEW_LINE);
        else
            canvas_letter(w->c, w->a.at + sides[i], y, (uint32_t)ch, item, strong);
    }
}

static void metal(const struct drawing *w, int plate, int y)
{
    struct dieset_plate edges = dieset_plate(w->d, plate, w->o->state);
    int a = area_column(&w->a, edges.left), b = area_column(&w->a, edges.right);
    for (int x = a; x < b; x++)
        view_put(w->c, w->a.at + x, y, w->g->metal, VIEW_METAL);
}

static void plate_lines(const struct drawing *w, int r, int y, int n)
{
    const struct view_row *row = &w->m->rows[r];
    for (int i = 0; i < n; i++)
        metal(w, row->plate, y + i);
    for (int k = 0; k < w->m->n_columns; k++) {
        char lines[MOST_LINES] = {0};
        int item = w->m->items[r][k];
        bool holes = item >= 0 && n > 1 && w->m->cells[r][k] != '|' &&
                     matrix_lines(w->d, w->o->state, row, item, w->m->columns[k].letter, false, n, lines);
        for (int i = 0; i < n; i++)
            letter(w, k, y + i, holes ? lines[i] : w->m->cells[r][k], item);
    }
}

static void strip_line(const struct drawing *w, int r, int y)
{
    for (int x = 0; x < w->a.width; x++)
        view_put(w->c, w->a.at + x, y, w->g->across, VIEW_LINE);
    for (int k = 0; k < w->m->n_columns; k++)
        if (w->m->columns[k].outer && w->a.margins)
            letter(w, k, y, w->m->cells[r][k], w->m->items[r][k]);
}

static void gap_lines(const struct drawing *w, int r, int y, int n)
{
    for (int i = 0; i < n; i++)
        for (int k = 0; k < w->m->n_columns; k++)
            letter(w, k, y + i, w->m->cells[r][k], w->m->items[r][k]);
}

static void draw_row(const struct drawing *w, int r, int y, int n)
{
    const struct view_row *row = &w->m->rows[r];
    bool plate = row->what == VIEW_ROW_PLATE;
    char name[sizeof row->title + 2];
    snprintf(name, sizeof name, "%s%s", plate ? "" : "  ", row->title);
    title(w, y, name, plate ? VIEW_NAME : VIEW_PLAIN, plate && row->plate == w->o->item);
    number(w, POINT_AT, y, row->height);
    if (w->a.at == AREA_WIDE_AT)
        number(w, POINT_AT + 8, y, row->top);
    if (plate)
        plate_lines(w, r, y, n);
    else if (row->what == VIEW_ROW_STRIP)
        strip_line(w, r, y);
    else
        gap_lines(w, r, y, n);
}

static void heading(const struct drawing *w)
{
    view_text(w->c, NAME_AT, 0, w->o->state == DIESET_GROUND ? "shut, ground" : "stack, shut, new",
              VIEW_PLAIN);
    view_text(w->c, POINT_AT + 1, 0, unit_is_inch(dieset_system(w->d)) ? "in" : "mm", VIEW_PLAIN);
    if (w->a.at == AREA_WIDE_AT)
        view_text(w->c, POINT_AT + 5, 0, "up to", VIEW_PLAIN);
    for (int k = 0; k < w->m->n_columns; k++)
        letter(w, k, 0, w->m->columns[k].letter, w->m->columns[k].item);
}

static void foot(const struct drawing *w, int y, double scale)
{
    char text[80], height[40];
    double shut = dieset_shut_height(w->d, w->o->state), ground = dieset_shut_height(w->d, DIESET_GROUND);
    view_text(w->c, NAME_AT, y, "shut height", VIEW_PLAIN);
    number(w, POINT_AT, y, shut);
    if (scale > 0)
        snprintf(text, sizeof text, "1 row = %s",
                 view_scale_text(scale, dieset_system(w->d), height, sizeof height));
    else if (w->o->state == DIESET_GROUND || !isfinite(ground))
        return;
    else
        snprintf(text, sizeof text, "ground %s",
                 unit_print_number(ground, UNIT_LENGTH, dieset_system(w->d), height, sizeof height));
    view_text(w->c, AREA_AT, y, text, VIEW_PLAIN);
}

double view_stack(struct dieset *d, const struct view_matrix *m, const struct view_options *o,
                  struct view_canvas *c, int *row_at)
{
    struct drawing w = {d, m, o, c, frame_glyphs(o->ascii), area_of(d, m, o, c->width)};
    for (int y = 0; y < c->height; y++)
        row_at[y] = -1;
    bool titled = c->height > m->n_rows, footed = c->height > m->n_rows + TITLE_ROWS;
    int y = titled ? TITLE_ROWS : 0, room = c->height - y - (footed ? FOOT_ROWS : 0);
    double scale = row_scale(m, room, view_scale_unit(dieset_system(d)));
    if (titled)
        heading(&w);
    for (int r = scale > 0 ? 0 : first_row(m, o, room); r < m->n_rows && y < c->height; r++) {
        int n = row_lines(&m->rows[r], scale);
        draw_row(&w, r, y, n);
        for (int i = 0; i < n && y < c->height; i++)
            row_at[y++] = r;
    }
    if (footed)
        foot(&w, y, scale);
    return scale;
}
