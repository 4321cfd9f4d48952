/* A file's rows as they stand, for whoever stores or shows them. */

#include "diewright/table.h"
#include "table/csv.h"

enum base_err table_each_row(const char *file, const char *csv, size_t length, table_row_fn *row, void *arg,
                             struct base_diag *why)
{
    struct csv c;
    enum base_err err = csv_read(&c, file, csv, length, why);
    if (err)
        return err;
    const char *const *names = c.cells.at;
    for (int i = 0; i < csv_rows(&c); i++)
        row(arg, c.lines.at[i + 1], names, names + (size_t)(i + 1) * (size_t)c.columns, c.columns);
    csv_done(&c);
    return BASE_OK;
}
