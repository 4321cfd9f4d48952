/* view/matrix.h - what the drawing of the stack shares with its matrix */
#ifndef DIEWRIGHT_VIEW_MATRIX_H
#define DIEWRIGHT_VIEW_MATRIX_H

#include "diewright/view.h"

/* What ITEM's holes in the plate of ROW show when that is drawn N lines high, top line first, into OUT (left
 * alone where there is none). BETWEEN: the item goes on above and below. False when it has no hole there. */
bool matrix_lines(struct dieset *d, enum dieset_state s, const struct view_row *row, int item, char letter,
                  bool between, int n, char *out);

/* The strip's thickness, NaN when there is none. */

#endif
