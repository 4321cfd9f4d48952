/* tui/paint.h - characters onto the screen, clipped
 *
 * All drawing goes through here: cut by columns as wcwidth counts them, never by bytes; characters that the
 * locale cannot show are drawn as their plain fellows. Attributes by role; nothing is told by colour alone.
 */
#ifndef DIEWRIGHT_TUI_PAINT_H
#define DIEWRIGHT_TUI_PAINT_H

#include "diewright/view.h"
#include "tui/layout.h"

#ifndef NCURSES_NOMACROS
#define NCURSES_NOMACROS 1 /* names such as move stay free */
#endif
#include <curses.h>

enum ink { INK_PLAIN, INK_STRONG, INK_DIM, INK_TYPED, INK_TROUBLE, INK_GRAVE, INK_STOCK, INK_LINK };

struct paint {
    WINDOW *window;
    WINDOW *kept; /* NULL, or the panes as they were painted last, without what lies over them */
    bool utf8, colour, dim;
};

/* Once colours have been started. */
void paint_start(struct paint *p, bool utf8, bool colour);
void paint_end(struct paint *p);
attr_t paint_attributes(const struct paint *p, enum ink ink);

/* TEXT at row Y and column X of A, cut at its edges. Returns the column after it. */
int paint_text(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *text);
int paint_format(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *fmt, ...) PRINTF_LIKE(6, 7);
/* So that it ends before column END. */
void paint_right(const struct paint *p, struct area a, int y, int end, enum ink ink, const char *text);
void paint_char(const struct paint *p, struct area a, int y, int x, enum ink ink, uint32_t ch);
void paint_row(const struct paint *p, struct area a, int y, enum ink ink);      /* horizontal line */
void paint_bar(const struct paint *p, int x, int y, int h, enum ink ink);       /* vertical line */
/* Rows FIRST.. of a canvas into A; TRIED as bold, letters of freed points underlined. */
void paint_canvas(const struct paint *p, struct area a, const struct view_canvas *c, int first);
/* A is left as it was kept; and all that is painted by now is kept. */
void paint_again(const struct paint *p, struct area a);
void paint_keep(struct paint *p);
/* Last of all: blanks between two alike take the weight and colour of these, which nobody sees, and the terminal need not
 * be told of a change there and back. */
void paint_blanks(const struct paint *p);

/* Columns that TEXT takes. */
int paint_width(const char *text);
/* How many bytes of TEXT fit into WIDTH columns. */
size_t paint_fit(const char *text, int width);
/* The same, but ending at a blank where there is one: for lines of a paragraph. At least 1 byte of a
 * text that is not empty. *SKIP: bytes to pass over before the next line. */
size_t paint_wrap(const char *text, int width, size_t *skip);

#endif
