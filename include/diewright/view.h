/* diewright/view.h - pictures on a canvas of character cells
 *
 * Plan view of a plate, section of the stack, the stack as a matrix of plates and groups. Draws from a die
 * set into a canvas; knows no terminal: the command line prints a canvas, the screens copy it. Uses:
 * findings, dieset and below.
 */
#ifndef DIEWRIGHT_VIEW_H
#define DIEWRIGHT_VIEW_H

#include "diewright/findings.h"

/* What a cell is, for the screen to choose an attribute; nothing is told by it alone. */
enum view_role {
    VIEW_PLAIN,
    VIEW_METAL,
    VIEW_LINE,
    VIEW_NAME,
    VIEW_MARK,
    VIEW_CURSOR,
    VIEW_TRIED,
    VIEW_TROUBLE,
    VIEW_STOCK
};

struct view_cell {
    uint32_t ch;
    unsigned char role;
    bool strong, freed;
    short item; /* -1 none: the item drawn here; freed: its point stands on its own */
};
struct view_canvas { int width, height; struct view_cell *cells; };

void view_canvas_init(struct view_canvas *c, int width, int height); /* blanks */
void view_canvas_done(struct view_canvas *c);
void view_put(struct view_canvas *c, int x, int y, uint32_t ch, enum view_role role);
void view_text(struct view_canvas *c, int x, int y, const char *utf8, enum view_role role);
/* As UTF-8 lines; blanks at line ends and empty lines at the end are cut. */
void view_print(const struct view_canvas *c, struct base_text *out);

struct view_options {
    bool ascii;            /* no box and block characters */
    double cell_ratio;     /* cell height over width; 0: 2.0 */
    enum dieset_state state;
    int item;              /* the item at the cursor: its letters stand out; -1 none */
    int point;             /* one point of it, -1: all */
    bool from_below;       /* plan seen from below, turned over */
    bool see_through;      /* plates below shown through */
    double scale;          /* mm a column; 0: the smallest of the steps that fits */
    /* section: mm a row, no finer than this, for pictures that are compared; 0: what fits */
    double least_row;
    double pan_x, pan_y;   /* plan point at the middle */
};

/* mm a column that was used (of 1 1.25 2 2.5 4 5 8 10 12.5 16 20 25 ...). Draws plate outline, centre lines,
 * openings, holes as letters (CAPS when seated or driven from the face one looks at), posts, strip path
 * edges; of flanges and clamps that stand on the plate the rim, dim, in small letters. */
double view_plan(struct dieset *d, int plate, const struct view_options *o, struct view_canvas *c);
/* Where a plan point falls on that canvas, and back. */
bool view_plan_cell(struct dieset *d, int plate, const struct view_options *o, const struct view_canvas *c,
                    double x, double y, int *column, int *row);
/* The plan point at the middle of a cell; false outside the canvas. */
bool view_plan_point(struct dieset *d, int plate, const struct view_options *o, const struct view_canvas *c,
                     int column, int row, double *x, double *y);
/* What scales count in: 1 mm, or 1.016 mm where people measure in inches (25 of them are one inch). */
double view_scale_unit(struct unit_system s);
/* The step BY steps coarser (finer when negative) than SCALE, of those that count in UNIT: for zooming. */
double view_scale_next(double scale, int by, double unit);
/* "12.5 mm", "0.5 in". Returns BUF. */
const char *view_scale_text(double scale, struct unit_system s, char *buf, size_t size);
/* Only letters present: "s screw  d dowel ..."; CAPS explained. */
void view_legend(struct dieset *d, int plate, struct base_text *out);
/* The same for a plan as drawn: also "* several" when that stands on it. */
void view_plan_legend(struct dieset *d, int plate, const struct view_canvas *c, struct base_text *out);

/* Section of the whole stack with RAM millimetres above shut, true to scale in height, and in width by a
 * scale of its own: plates, what is cut out of them, and all bodies that the handbook's records tell, each
 * with its letter. Returns mm a row, 0 when the stack's heights are not known. */
double view_section(struct dieset *d, double ram, const struct view_options *o, struct view_canvas *c);

/* The strip seen from above with the stations FIRST to LAST: what is gone is left out, what is cut there is
 * `#`, what has been parted from the strip is hatched otherwise; what stands in stations by the letters of
 * their kinds, `~` what is formed; above it the stations' numbers and which way it is fed, under it what
 * works in each. Returns mm a column, 0 when the strip's width or pitch is not known or no station is among
 * these. */
double view_strip(struct dieset *d, int first, int last, const struct view_options *o, struct view_canvas *c);
/* All stations as lines of WIDTH columns, as many beside each other as have room, and what is what; nothing
 * is drawn where the strip cannot be. */
void view_strip_bands(struct dieset *d, const struct view_options *o, int width, struct base_text *out);
/* The part alone, as it comes off the strip: flat, from above, and where it is bent or formed in section
 * along and across the feed, as lines of WIDTH columns. False: no part comes of the strip, or nothing is
 * known. */
bool view_part(struct dieset *d, const struct view_options *o, int width, struct base_text *out);

/* The stack as a matrix (which is also the list of plates and gaps): a row a plate or gap, a column a group.
 * Items of one kind share a column (punch screws above, die screws below), unless they fasten and meet in a
 * plate. */
enum view_row_what { VIEW_ROW_PLATE, VIEW_ROW_GAP, VIEW_ROW_STRIP };
enum { VIEW_ROWS = 64, VIEW_COLUMNS = 24 };
/* plate -1: none */
struct view_row { enum view_row_what what; int plate; char title[40]; double height, top; };
/* item: the first; outer: stands outside the narrowest plate */
struct view_column { char letter; int item; bool outer; };
struct view_matrix {
    struct view_row rows[VIEW_ROWS];
    int n_rows;
    struct view_column columns[VIEW_COLUMNS];
    int n_columns;
    /* 'S' head or driven end, 's' thread or held end, '|' clear, 0 nothing; whose it is, -1 nobody's */
    char cells[VIEW_ROWS][VIEW_COLUMNS];
    short items[VIEW_ROWS][VIEW_COLUMNS];
};
void view_matrix(struct dieset *d, enum dieset_state s, struct view_matrix *out);
/* Draw it: heading, names, heights, columns, plate metal to scale in width; one row each, or rows to scale
 * when HEIGHT allows (mm a row returned, 0 when not to scale). ROW_AT[y] tells the matrix row of each line,
 * -1 for heading and foot (room for canvas height). The first column of cells stays free for a row mark. */
double view_stack(struct dieset *d, const struct view_matrix *m, const struct view_options *o,
                  struct view_canvas *c, int *row_at);
/* The canvas column in which a matrix column is drawn on a canvas of this width; -1: not drawn. */
int view_stack_x(struct dieset *d, const struct view_matrix *m, const struct view_options *o, int width,
                 int column);

#endif
