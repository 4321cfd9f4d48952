/* sheet/inside.h - what the files of this room share */
#ifndef DIEWRIGHT_SHEET_INSIDE_H
#define DIEWRIGHT_SHEET_INSIDE_H

#include "diewright/sheet.h"

enum { SHEET_LEFT = 20, SHEET_EDGE = 10 }; /* mm from the sheet's edge to its frame: left, elsewhere */
enum { SHEET_BLOCK_WIDE = 180, SHEET_BLOCK_HIGH = 36 };
enum { SHEET_COLUMN = 92, SHEET_ROW = 4 };
#define SHEET_LETTERS 2.5 /* height of dimensions, tables, notes */
#define SHEET_HEADING 3.5
#define SHEET_CAPTION 1.8

struct sheet_size { const char *name; double width, height; };

/* A sheet that is being filled, with what its title block says beside sheet_title. */
struct sheet_page {
    struct draw_sheet *s;
    const struct sheet_size *size;
    double scale; /* of the paper, 0.5 for 1:2 */
    const char *title, *kind; /* "die plate", "part drawing" */
    char number[60];
    int item;     /* the plate, -1: the set */
};

/* ---- frame.c ---- */
/* The largest scale, and the smallest of the first LARGEST sheets, at which WIDE x HIGH of the real thing,
 * and FIXED mm beside and below it, stand in the frame; false: on none. */
enum { SHEET_THIRD = 3, SHEET_ANY = 4 };
bool sheet_choose(const struct dieset *d, int largest, double wide, double high, double fixed_wide,
                  double fixed_high, const struct sheet_size **size, double *scale);
const char *sheet_scale_text(double scale, char *buf, size_t size);
void sheet_frame(struct sheet_page *p);
/* Title blocks on all sheets of B, once it is known how many there are. */
void sheet_title_blocks(struct sheet_book *b, const struct sheet_page *p, struct dieset *d,
                        const struct sheet_title *t);
void sheet_begin(struct sheet_book *b, struct sheet_page *p); /* one sheet more, with its frame */

/* ---- place.c ---- */
/* TEXT near x, y, off by REACH, where no words stand yet and as little else as can be is crossed; BUSY:
 * boxes that it should leave alone. With a thin line to it where it had to go further off. False: there is
 * no room. */
bool sheet_label(struct draw_sheet *s, double x, double y, double reach, const char *text,
                 const struct draw_box *busy, int n);
bool sheet_words_free(const struct draw_sheet *s, const struct draw_box *b); /* is no text there? */

/* ---- dims.c ---- */
/* Running dimensions: figures for N places AT of the sheet (in any order), VALUES in mm; along x below the
 * edge at EDGE, read from the right, or along y left of it; from LOW to HIGH there is room for them. Places
 * alike have one figure. False: they do not go in, and none is drawn. */
struct sheet_dim { double at, value; };
bool sheet_dims_x(struct draw_sheet *s, const struct dieset *d, struct sheet_dim *at, int n, double edge,
                  double low, double high);
bool sheet_dims_y(struct draw_sheet *s, const struct dieset *d, struct sheet_dim *at, int n, double edge,
                  double low, double high);

/* ---- balloons.c ---- */
/* Lines of the order list that are one item's, for the part at X, Y of the sheet. */
enum { SHEET_LINES = 8 };
struct sheet_balloon { double x, y; int first, n, lines[SHEET_LINES]; };
/* N of them in a row at height Y between LOW and HIGH, in any order. False: there is no room for all, and
 * none is drawn. */
bool sheet_balloons(struct draw_sheet *s, struct sheet_balloon *b, int n, double y, double low, double high);

/* ---- flow.c ---- */
/* Rows that go down a column, to the next column and on to sheets of their own. */
struct sheet_flow {
    struct sheet_book *book;
    struct sheet_page *page;
    double x, y, low, top; /* the row's upper edge; the column's lowest and highest */
    double free;           /* from there on to the right the first sheet is free for columns */
    int sheets;            /* begun by the flow */
};
/* Begins in the right hand column of a drawing, above its title block. */
struct sheet_flow sheet_flow_beside(struct sheet_book *book, struct sheet_page *page);
/* Room for a row HIGH; x and y then are its left upper corner. NEED: that much is to stay together. */
void sheet_room(struct sheet_flow *f, double need);
void sheet_flow_words(struct sheet_flow *f, double indent, const char *text); /* wrapped */
void sheet_flow_heading(struct sheet_flow *f, const char *text, int rows);    /* with room for so many rows */
/* A ruled table: cells of a row, widths in mm that add up to at most a column; numbers to the right. */
struct sheet_cell { const char *text; double width; bool right; };
void sheet_flow_row(struct sheet_flow *f, const struct sheet_cell *cells, int n);

/* ---- plan.c, section.c ---- */
struct sheet_view { double x, y, scale, left, front; }; /* where the plan's left, front is on the sheet */
double sheet_at_x(const struct sheet_view *v, double x);
double sheet_at_y(const struct sheet_view *v, double y);
void sheet_plan_hole(struct draw_sheet *s, const struct sheet_view *v, const struct dieset_hole *h,
                     double thickness);
/* What it takes of the sheet, for words to keep off. */
struct draw_box sheet_hole_box(const struct sheet_view *v, const struct dieset_hole *h);
/* Marks beside the places of the chart, off the cutting plane at CUT. */
void sheet_plan_marks(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c,
                      double cut);
/* The line through as many kinds of holes as can be, its y in the plan. */
double sheet_cut_line(const struct report_chart *c, double middle);
/* The plate cut along y CUT, its lower left corner at x, y of V. */
void sheet_section(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c, double cut,
                   double length);

/* ---- bent.c ---- */
/* Metal so THICK, in mm, about the N places AT, in section: both faces, and ends where it ends. */
void sheet_metal(struct draw_sheet *s, const struct sheet_view *v, const struct dieset_bent *at, int n,
                 double thick, enum draw_pen pen);

/* ---- stack.c ---- */
/* The stack in elevation within a box, PLATE hatched, names beside it. */
void sheet_stack(struct draw_sheet *s, struct dieset *d, enum dieset_state state, int plate, double x,
                 double y, double wide, double high);
/* A line of 100 mm, or 4 in, to be measured first, what the sums are, how the views lie. */
void sheet_foot(struct draw_sheet *s, const struct dieset *d, const struct sheet_title *t, double x,
                double y);

#endif
