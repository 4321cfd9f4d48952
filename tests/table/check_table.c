/* Parts tables: reading them, picking from them, and the shipped ones against the outside. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "table/cell.h"

void bench_open(struct bench *b)
{
    *b = (struct bench){.pool = base_pool_new()};
    b->set = table_set_new(b->pool);
}

void bench_close(struct bench *b)
{
    table_set_free(b->set);
    base_pool_free(b->pool);
    base_arena_done(&b->texts);
}

/* The names in the header line of CSV text without quotes. */
static int header_names(struct base_arena *a, const char *csv, const char **names, int room)
{
    while (*csv == '#' || *csv == '\n')
        csv = strchr(csv, '\n') + 1;
    int n = 0;
    for (const char *p = csv; n < room; p++) {
        size_t length = strcspn(p, ",\r\n");
        names[n++] = base_arena_copy_n(a, p, length);
        p += length;
        if (*p != ',')
            break;
    }
    return n;
}

int bench_table(struct bench *b, const char *file, const char *csv)
{
    enum { ROOM = 40 };
    ck_ok(table_set_file(b->set, file, csv, strlen(csv), why));
    const char **names = base_arena_alloc(&b->texts, ROOM * sizeof *names);
    struct table_column_spec *columns = base_arena_alloc(&b->texts, ROOM * sizeof *columns);
    int n = header_names(&b->texts, csv, names, ROOM);
    for (int i = 0; i < n; i++) {
        struct table_column_spec *c = &columns[i];
        *c = (struct table_column_spec){.name = names[i], .from = &names[i], .n_from = 1};
        double factor;
        c->is_text = cell_column_unit(names[i], &c->dim, &factor) == strlen(names[i]);
        c->each = !c->is_text && (strncmp(names[i], "lengths_", 8) == 0 ||
                                  strncmp(names[i], "thicknesses_", 12) == 0);
    }
    const char **files = base_arena_alloc(&b->texts, sizeof *files);
    files[0] = base_arena_copy(&b->texts, file);
    int table = -1;
    struct table_spec spec = {
        .name = files[0], .files = files, .n_files = 1, .columns = columns, .n_columns = n};
    ck_ok(table_set_declare(b->set, &spec, &table, why));
    return table;
}

int bench_shipped(struct bench *b, const char *file)
{
    char path[200];
    snprintf(path, sizeof path, "data/parts/%s", file);
    char *csv = read_text(path);
    int table = bench_table(b, file, csv);
    free(csv);
    return table;
}

static const struct table_cell *cell_of(const struct bench *b, int table, int row, const char *column)
{
    int c = table_column(b->set, table, column);
    ck_assert_msg(c >= 0, "no column %s", column);
    return table_cell(b->set, table, row, c);
}

const char *bench_text(const struct bench *b, int table, int row, const char *column)
{
    return base_pool_text(b->pool, cell_of(b, table, row, column)->text);
}

double bench_number(const struct bench *b, int table, int row, const char *column)
{
    const struct table_cell *cell = cell_of(b, table, row, column);
    double number = cell->number;
    ck_assert_msg(!cell->empty, "%s is not filled in", column);
    if (table_spec(b->set, table)->columns[table_column(b->set, table, column)].is_text)
        ck_assert_msg(cell_read_number(bench_text(b, table, row, column), &number), "%s", column);
    return number;
}

int bench_row(const struct bench *b, int table, const char *column, const char *text)
{
    for (int row = 0; row < table_rows(b->set, table); row++)
        if (strcmp(bench_text(b, table, row, column), text) == 0)
            return row;
    ck_abort_msg("no row has %s %s", column, text);
    return -1;
}

int main(void)
{
    Suite *s = suite_create("table");
    suite_add_tcase(s, file_tests());
    suite_add_tcase(s, pick_tests());
    suite_add_tcase(s, shipped_tests());
    suite_add_tcase(s, outside_tests());
    suite_add_tcase(s, own_tests());
    return run_suite(s);
}
