/* A canvas: cells in rows, top left first, each one character wide.
 *
 * Whatever is put outside falls away, so that no picture has to clip. A text is cut into code points; what
 * has no width of one cell (control characters, combining marks, wide letters) never gets into a cell.
 */

#include "diewright/view.h"

#include <assert.h>
#include <stdlib.h>

enum { MOST = 4096 }; /* cells along one side */

static int clamped(int n) { return n < 0 ? 0 : n > MOST ? MOST : n; }

void view_canvas_init(struct view_canvas *c, int width, int height)
{
    c->width = clamped(width);
    c->height = clamped(height);
    size_t n = (size_t)c->width * (size_t)c->height;
    c->cells = base_alloc(n * sizeof *c->cells);
    for (size_t i = 0; i < n; i++)
        c->cells[i] = (struct view_cell){.ch = ' ', .role = VIEW_PLAIN, .item = -1};
}

void view_canvas_done(struct view_canvas *c)
{
    free(c->cells);
    *c = (struct view_canvas){0};
}

/* ---- characters ------------------------------------------------------------ */

/* What a cell shows for CH: itself, or "?" when it would not fill exactly one cell. */
static uint32_t shown(uint32_t ch)
{
    return base_char_hidden(ch) || ch > 0x10ffff || base_char_columns(ch) != 1 ? '?' : ch;
}

/* ---- putting and printing --------------------------------------------------- */

void view_put(struct view_canvas *c, int x, int y, uint32_t ch, enum view_role role)
{
    if (x < 0 || y < 0 || x >= c->width || y >= c->height)
        return;
    c->cells[(size_t)y * (size_t)c->width + (size_t)x] =
        (struct view_cell){.ch = shown(ch), .role = (unsigned char)role, .item = -1};
}

void view_text(struct view_canvas *c, int x, int y, const char *utf8, enum view_role role)
{
    while (*utf8 && x < c->width) {
        uint32_t ch = base_next_char(&utf8);
        if (base_char_columns(ch) > 0) /* a combining mark has no cell of its own */
            view_put(c, x++, y, ch, role);
    }
}

/* The rows up to the last one that shows something. */
static int used_rows(const struct view_canvas *c)
{
    size_t n = (size_t)c->width * (size_t)c->height;
    while (n > 0 && c->cells[n - 1].ch == ' ')
        n--;
    return n == 0 ? 0 : (int)((n - 1) / (size_t)c->width) + 1;
}

void view_print(const struct view_canvas *c, struct base_text *out)
{
    for (int y = 0, rows = used_rows(c); y < rows; y++) {
        const struct view_cell *row = c->cells + (size_t)y * (size_t)c->width;
        int end = c->width;
        while (end > 0 && row[end - 1].ch == ' ')
            end--;
        for (int x = 0; x < end; x++)
            {
            char ch[5];
            base_text_add_n(out, ch, base_char_write(ch, row[x].ch));
        }
        base_text_add(out, "\n");
    }
}
