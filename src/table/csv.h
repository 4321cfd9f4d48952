/* table/csv.h - comma-separated text as rows of cells (RFC 4180)
 *
 * Remarks ("# ..." lines) stand on top, then one header line, then rows of as many cells.
 * Lines may end in LF or CRLF; a byte order mark and empty lines are passed over. Blanks
 * round a bare cell do not belong to it. What is not UTF-8, or holds a control character
 * outside quotes, is refused.
 */
#ifndef DIEWRIGHT_TABLE_CSV_H
#define DIEWRIGHT_TABLE_CSV_H

#include "diewright/base.h"

struct csv {
    struct base_arena arena;
    BASE_VEC(const char *) remarks; /* without the "#" and the blanks after it */
    BASE_VEC(const char *) cells;   /* row by row, the header's first */
    BASE_VEC(int) lines;            /* where each row begins */
    int columns;
};

/* On failure OUT is empty and *WHY tells file and line. */
NODISCARD enum base_err csv_read(struct csv *out, const char *file, const char *text,
                                 size_t length, struct base_diag *why);
void csv_done(struct csv *c);

int csv_rows(const struct csv *c); /* without the header */
/* ROW counts from 0 below the header. */
const char *csv_cell(const struct csv *c, int row, int column);
const char *csv_column_name(const struct csv *c, int column);
int csv_column(const struct csv *c, const char *name); /* -1: none */

#endif
