/* table/cell.h - numbers in cells, units at the ends of column names, words of confidence */
#ifndef DIEWRIGHT_TABLE_CELL_H
#define DIEWRIGHT_TABLE_CELL_H

#include "diewright/table.h"

/* The whole of TEXT is a number: 12, -0.5, .25, 1e3, 5/32, "1 1/64". No other sign, word or
 * group of digits is one, nor what is too large to hold. */
bool cell_read_number(const char *text, double *out);

/* The unit at the end of a column's name, longest first and in either case: its place in
 * NAME (of the "_"), with DIM and the FACTOR to base units. Without one: the name's length,
 * a plain number and 1. Minutes and hours are no endings, for _min and _h mean other things
 * to those who write tables. */
size_t cell_column_unit(const char *name, struct unit_dim *dim, double *factor);

/* What a word of confidence at the head of TEXT says; an unknown word is as good as memory. */
enum table_confidence cell_confidence(const char *text);

bool cell_is_confidence(const char *text); /* begins with one of those words */

/* The less sure of the two. */
enum table_confidence cell_less_sure(enum table_confidence a, enum table_confidence b);

#endif
