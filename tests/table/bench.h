/* tests/table/bench.h - a set of tables for a test, and the parts of the suite */
#ifndef DIEWRIGHT_TESTS_TABLE_BENCH_H
#define DIEWRIGHT_TESTS_TABLE_BENCH_H

#include "../common.h"
#include "diewright/table.h"

struct bench {
    struct base_pool *pool;
    struct table_set *set;
    struct base_arena texts; /* specs and names, for the life of the set */
};

void bench_open(struct bench *b);
void bench_close(struct bench *b);

/* Give the bench CSV text as a file, and declare a table of the same name with all its columns
 * under their names in the file: "lengths_..." and "thicknesses_..." each, those with a unit numbers, the
 * rest text. */
int bench_table(struct bench *b, const char *file, const char *csv);

/* The same for a file of data/parts. */
int bench_shipped(struct bench *b, const char *file);

/* A number of any column, in base units; a text column's must read as a number. */
double bench_number(const struct bench *b, int table, int row, const char *column);
const char *bench_text(const struct bench *b, int table, int row, const char *column);

/* The row whose COLUMN reads TEXT; fails the test when there is none. */
int bench_row(const struct bench *b, int table, const char *column, const char *text);

TCase *file_tests(void);
TCase *pick_tests(void);
TCase *shipped_tests(void);
TCase *outside_tests(void);
TCase *own_tests(void);

#endif
