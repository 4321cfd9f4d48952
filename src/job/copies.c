/* The copies of parts tables that a job's file carries. */

#include "job/job.h"

#include <stdlib.h>

static bool any_differs(struct job *j)
{
    struct table_set *shipped = handbook_tables(j->handbook);
    for (int i = 0; i < table_file_count(shipped); i++) {
        const char *file;
        uint64_t sum;
        struct store_table c;
        table_file(shipped, i, &file, NULL, NULL, &sum);
        if (store_table(j->store, file, &c) && c.checksum != sum)
            return true;
    }
    return false;
}

enum base_err job_copied_tables(struct job *j, struct base_diag *why)
{
    struct table_set *shipped = handbook_tables(j->handbook);
    enum base_err err = BASE_OK;
    int number;
    j->tables_sum = store_tables_sum(j->store);
    j->tables = NULL;
    if (!any_differs(j))
        return BASE_OK;
    struct table_set *set = table_set_new(handbook_pool(j->handbook));
    for (int i = 0; i < table_file_count(shipped) && !err; i++) {
        struct store_table c;
        const char *file, *csv;
        size_t length;
        table_file(shipped, i, &file, &csv, &length, NULL);
        err = store_table(j->store, file, &c) ? table_set_file(set, file, c.csv, c.length, why)
                                              : table_set_file(set, file, csv, length, why);
    }
    for (int i = 0; i < table_count(shipped) && !err; i++)
        err = table_set_declare(set, table_spec(shipped, i), &number, why);
    if (err) { /* copies too old for this handbook: the shipped ones serve */
        table_set_free(set);
        return BASE_OK;
    }
    j->tables = set;
    return BASE_OK;
}

enum base_err job_put_shipped(struct job *j, struct base_diag *why)
{
    struct table_set *set = handbook_tables(j->handbook);
    int n = table_file_count(set);
    struct store_table *tables = base_alloc((size_t)(n + 1) * sizeof *tables);
    for (int i = 0; i < n; i++) {
        tables[i].shipped = true;
        table_file(set, i, &tables[i].file, &tables[i].csv, &tables[i].length, &tables[i].checksum);
    }
    enum base_err err = store_put_tables(j->store, tables, n, why);
    free(tables);
    return err;
}

void job_tables_renewed(struct job *j)
{
    table_set_free(j->tables);
    j->tables = NULL;
    j->tables_sum = store_tables_sum(j->store);
}
