/* view/frame.h - millimetres to cells, and the characters that pictures are drawn with */
#ifndef DIEWRIGHT_VIEW_FRAME_H
#define DIEWRIGHT_VIEW_FRAME_H

#include "diewright/view.h"

/* A picture's scale and where its origin falls. The origin stands on the middle of a cell and both directions
 * round alike about it, so a symmetric pattern gives a symmetric picture. Rows count downwards, heights
 * upwards. */
struct frame {
    double column_mm, row_mm;
    int column0, row0; /* the cell of the origin */
    int way;           /* 1: X runs to the right, -1: turned over */
};
int frame_column(const struct frame *f, double x);
int frame_row(const struct frame *f, double y);
double frame_x(const struct frame *f, int column);
double frame_y(const struct frame *f, int row);

/* Step number I of the scales: 0 is 1 mm, 1 is 1.25 mm, -1 is 0.8 mm ... */
double scale_step(int i);
/* The smallest step, from 1 mm up, at which LENGTH takes no more than ROOM cells. */
double scale_fit(double length, int room, double unit);

double cell_ratio(const struct view_options *o);

struct glyphs {
    uint32_t across, down, left_top, right_top, left_bottom, right_bottom, metal, other_metal, middle, edge,
        solid; /* a body too slim for two sides */
};
const struct glyphs *frame_glyphs(bool ascii);

/* The cell at X, Y for more than view_put() sets; NULL outside. */
struct view_cell *canvas_cell(const struct view_canvas *c, int x, int y);
/* Put a letter of ITEM there; STRONG when it belongs to what the cursor is on. */
void canvas_letter(struct view_canvas *c, int x, int y, uint32_t ch, int item, bool strong);

int letter_small(int ch); /* ASCII only, whatever the locale says */
int letter_caps(int ch);
bool letter_is_caps(int ch);

#endif
