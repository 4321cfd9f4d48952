/* diewright/draw.h - drawings on paper: a list of marks in millimetres, and its writers, SVG and PDF
 *
 * A sheet is a list of lines, arcs and words; x to the right and y upwards from its lower left corner, mm,
 * angles in rad, anticlockwise. Pens are those of ISO 128-2 (groups 0.5 and 0.25, from memory). Words stand
 * in single-stroke letters of the program's own, in the proportions of ISO 3098 type B (line a tenth of the
 * height, from memory), so that a sheet looks alike wherever it is shown and needs no font. The writers give
 * the same bytes for the same sheets: neither the clock nor the machine is in them.
 * Uses: base.    Nothing here fails; sheets are the caller's, draw_done().
 */
#ifndef DIEWRIGHT_DRAW_H
#define DIEWRIGHT_DRAW_H

#include "diewright/base.h"

enum draw_pen {
    DRAW_WIDE,   /* 0.5: what is seen */
    DRAW_NARROW, /* 0.25: dimensions, hatches, threads */
    DRAW_FINE,   /* 0.18: rules of tables */
    DRAW_FRAME,  /* 0.7: frame, ends of cutting planes */
    DRAW_HIDDEN, /* 0.25, dashes */
    DRAW_CENTRE, /* 0.18, chain */
    DRAW_PENS
};
enum draw_sort { DRAW_LINE, DRAW_ARC, DRAW_BLANK, DRAW_WORDS };
enum draw_anchor { DRAW_LEFT, DRAW_MIDDLE, DRAW_RIGHT };

/* LINE: from x, y to x1, y1. ARC: round x, y with RADIUS, from the angle FROM by SWEEP, left about where it
 * is positive. BLANK: the paper between x, y and x1, y1, over what was drawn before. WORDS: TEXT begins at
 * x, y on its base line, HEIGHT high, SQUEEZE times as wide as its letters are; UP: read from the right. */
struct draw_mark {
    enum draw_sort sort;
    enum draw_pen pen;
    double x, y, x1, y1, radius, from, sweep;
    const char *text;
    double height, squeeze;
    bool up;
};
struct draw_sheet {
    double width, height;
    BASE_VEC(struct draw_mark) marks;
    struct base_arena memory;
};
void draw_begin(struct draw_sheet *s, double width, double height);
void draw_done(struct draw_sheet *s);

void draw_line(struct draw_sheet *s, enum draw_pen pen, double x, double y, double x1, double y1);
void draw_rectangle(struct draw_sheet *s, enum draw_pen pen, double x, double y, double x1, double y1);
void draw_arc(struct draw_sheet *s, enum draw_pen pen, double x, double y, double radius, double from,
              double sweep);
void draw_circle(struct draw_sheet *s, enum draw_pen pen, double x, double y, double radius);
void draw_blank(struct draw_sheet *s, double x, double y, double x1, double y1);
/* TEXT at x, y by its ANCHOR; no wider than MOST (0: any) down to DRAW_TIGHTEST of its width, then cut,
 * with two points at its end. A character without a letter here stands as its code, "<U+4E2D>". */
#define DRAW_TIGHTEST 0.7
void draw_words(struct draw_sheet *s, double x, double y, double height, enum draw_anchor anchor, double most,
                const char *text);
/* The same turned by a quarter, read from the right: y is where the anchor is. */
void draw_words_up(struct draw_sheet *s, double x, double y, double height, enum draw_anchor anchor,
                   const char *text);
double draw_width(const char *text, double height); /* of the words, mm, as they are drawn unsqueezed */
/* Bytes of TEXT that a line MOST mm wide takes, broken at a blank. */
size_t draw_fit(const char *text, double height, double most);

/* A rectangle hatched under 45 degrees, lines PITCH apart, but for what is cut out of it: N rectangles. */
struct draw_box { double left, right, front, back; };
void draw_hatch(struct draw_sheet *s, const struct draw_box *box, const struct draw_box *out, int n,
                double pitch);
/* The box round words, with what hangs below their line. */
struct draw_box draw_words_box(const struct draw_mark *m);

/* Where N figures wanted at AT (in order) stand when none is nearer to the next than PITCH, as near to their
 * places as can be: least squares, neighbours that would meet are moved together. */
void draw_spread(const double *at, int n, double pitch, double *out);

/* The sheets as one file, added to OUT: plain ASCII; pages of PDF 1.4, or one below the other in SVG 1.1.
 * TITLE is what viewers show as the file's name. In the SVG words are strokes, and invisible text for those
 * who search. */
void draw_pdf(const struct draw_sheet *sheets, int n, const char *title, struct base_text *out);
void draw_svg(const struct draw_sheet *sheets, int n, const char *title, struct base_text *out);

#endif
