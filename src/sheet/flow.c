/* Tables and notes: rows down a column, to the next one, to the next sheet. */

#include "sheet/inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double LINE = 3.9; /* from one line of words to the next */

struct sheet_flow sheet_flow_beside(struct sheet_book *book, struct sheet_page *page)
{
    double top = page->size->height - SHEET_EDGE - 3;
    return (struct sheet_flow){.book = book,
                               .page = page,
                               .x = page->size->width - SHEET_EDGE - SHEET_COLUMN + 2,
                               .y = top,
                               .top = top,
                               .low = SHEET_EDGE + SHEET_BLOCK_HIGH + 13,
                               .free = INFINITY};
}

/* A sheet of columns alone, from its left edge on. */
static void next_sheet(struct sheet_flow *f)
{
    sheet_begin(f->book, f->page);
    f->sheets++;
    f->x = SHEET_LEFT + 4;
    f->top = f->y = f->page->size->height - SHEET_EDGE - 6;
    f->low = SHEET_EDGE + SHEET_BLOCK_HIGH + 14;
}

void sheet_room(struct sheet_flow *f, double need)
{
    if (f->y - need >= f->low)
        return;
    double next = f->sheets ? f->x + SHEET_COLUMN + 4 : f->x - SHEET_COLUMN - 2;
    if (f->sheets ? next + SHEET_COLUMN > f->page->size->width - SHEET_EDGE - 2 : next < f->free) {
        next_sheet(f);
        return;
    }
    f->x = next;
    f->y = f->top;
}

void sheet_flow_words(struct sheet_flow *f, double indent, const char *text)
{
    const double most = SHEET_COLUMN - 4;
    for (double in = 0; *text; in = indent) {
        size_t n = draw_fit(text, SHEET_LETTERS, most - in);
        char *line = base_copy_n(text, n);
        sheet_room(f, LINE);
        f->y -= LINE;
        draw_words(f->page->s, f->x + in, f->y + 0.7, SHEET_LETTERS, DRAW_LEFT, most - in, line);
        free(line);
        text += n + strspn(text + n, " ");
    }
}

void sheet_flow_heading(struct sheet_flow *f, const char *text, int rows)
{
    sheet_room(f, 9 + SHEET_ROW * rows);
    f->y -= 8;
    draw_words(f->page->s, f->x, f->y + 2, SHEET_HEADING, DRAW_LEFT, SHEET_COLUMN - 4, text);
}

/* Lines that the widest of the cells wraps to. */
static int lines_of(const struct sheet_cell *cells, int n)
{
    int most = 1;
    for (int i = 0; i < n; i++) {
        int lines = 0;
        for (const char *at = cells[i].text; *at; lines++) {
            at += draw_fit(at, SHEET_LETTERS, cells[i].width - 2);
            at += strspn(at, " ");
        }
        most = lines > most ? lines : most;
    }
    return most;
}

static void cell_words(struct draw_sheet *s, const struct sheet_cell *c, double x, double y)
{
    for (const char *at = c->text; *at; y -= SHEET_ROW) {
        size_t n = draw_fit(at, SHEET_LETTERS, c->width - 2);
        char *line = base_copy_n(at, n);
        draw_words(s, c->right ? x + c->width - 1 : x + 1, y - SHEET_ROW + 1, SHEET_LETTERS,
                   c->right ? DRAW_RIGHT : DRAW_LEFT, c->width - 2, line);
        free(line);
        at += n;
        at += strspn(at, " ");
    }
}

void sheet_flow_row(struct sheet_flow *f, const struct sheet_cell *cells, int n)
{
    double high = SHEET_ROW * lines_of(cells, n), wide = 0;
    sheet_room(f, high);
    struct draw_sheet *s = f->page->s;
    for (int i = 0; i < n; i++) {
        cell_words(s, &cells[i], f->x + wide, f->y);
        draw_line(s, DRAW_FINE, f->x + wide, f->y, f->x + wide, f->y - high);
        wide += cells[i].width;
    }
    draw_line(s, DRAW_FINE, f->x + wide, f->y, f->x + wide, f->y - high);
    draw_line(s, DRAW_FINE, f->x, f->y, f->x + wide, f->y);
    draw_line(s, DRAW_FINE, f->x, f->y - high, f->x + wide, f->y - high);
    f->y -= high;
}
