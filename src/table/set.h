/* table/set.h - what a set of parts tables holds
 *
 * A file is its text, its cells and what its remarks say. A table is its cells, row by row,
 * in the order of its files and of their lines; each row remembers where it came from, so
 * that source and confidence are read there and stored nowhere else.
 *
 * An index belongs to a table, a column and the columns asked to be equal. It holds the rows
 * whose equal cells are filled, as runs of one key; a run is ordered by the column's value,
 * empty cells last. Equal numbers are those of one level: a level is a cluster of a column's
 * numbers that lie within the forgiveness of one another. So a key is a row of whole numbers
 * (levels, or numbers of texts in the pool), and finding a run costs one binary search a
 * number and one hash.
 */
#ifndef DIEWRIGHT_TABLE_SET_H
#define DIEWRIGHT_TABLE_SET_H

#include "diewright/table.h"
#include "table/csv.h"

struct file {
    char *name, *csv;
    const char *own;       /* the one table that it adds rows to; NULL: a shipped file */
    size_t length;
    uint64_t checksum;
    struct csv text;
    char *title, *standard, *source, *note, *spread; /* from the remarks, "" when they say nothing */
    enum table_confidence confidence;
    int confidence_column, source_column, standard_column; /* -1: none */
};

struct origin { int file, row; }; /* of a table's row; FILE counts in the table's files */

/* Where a table's column is found in one of its files. */
struct place { int column, confidence_column; double factor; }; /* -1: not there */

struct level { double low, high; };

struct levels { struct level *at; int count; bool made; };

struct table {
    struct table_spec spec; /* with the own files behind its files */
    const char **file_names; /* of the spec */
    int *files;            /* of the set, n_files of the spec */
    struct place *places;  /* file by file, n_columns of the spec each */
    struct table_cell *cells;
    struct origin *origins;
    int rows;
    struct levels *levels; /* one a column, made when first asked for */
    char *standard, *title, *note;
};

enum { MOST_EQUAL = 8 }; /* equal keys beyond these are tried row by row */

struct run { int start, count, filled; };

struct index {
    int table, column; /* -1: no column, for counting */
    int equal[MOST_EQUAL], n_equal;
    int *order, n_order;
    BASE_VEC(struct run) runs;
    int *cells, room; /* open addressing: run number + 1, 0 is free; ROOM a power of two */
};

struct query {
    int index;
    enum table_mode mode;
    struct table_key *keys;
    int n_keys;
    int equal[MOST_EQUAL]; /* which keys the index answers, in its order */
    int *others, n_others; /* which keys are tried row by row */
};

struct table_set {
    struct base_pool *pool;
    BASE_VEC(struct file *) files;
    BASE_VEC(struct table *) tables;
    BASE_VEC(struct index *) indexes;
    BASE_VEC(struct query *) queries;
};

static inline const struct table_cell *cell_at(const struct table *t, int row, int column)
{
    return &t->cells[(size_t)row * (size_t)t->spec.n_columns + (size_t)column];
}

/* table_set_file() for a file of table OWN alone, under any name; NULL: for all. */
NODISCARD enum base_err set_add_file(struct table_set *s, const char *file, const char *csv, size_t length,
                                     const char *own, struct base_diag *why);

/* The column that an own file means by NAME: the column's own name, and a unit behind it; -1: none. The names
 * of shipped files do not count, for one table's "width" may be another's "length". */
int own_column(const struct table_spec *spec, const char *name);

/* Hold an own file to what table_set_with() asks, before its rows are read; and after: no key twice, replaced
   rows go. */
NODISCARD enum base_err own_check(const struct table *t, const struct file *f, struct base_diag *why);
NODISCARD enum base_err own_replace(const struct table_set *s, struct table *t, struct base_diag *why);

/* How far numbers of this dimension may lie apart and still be one: 1 nm for lengths. */
double forgiveness(struct unit_dim dim, double number);

/* Does the cell stand in RELATION to VALUE? An empty cell stands in none. */
bool cell_relates(const struct table *t, int row, const struct table_key *key, double value);

/* Both cells say the same: one number, one text, or nothing. */
bool same_value(const struct table *t, int column, int a, int b);

/* The rows that the equal keys of Q leave; a run of none when there are none. */
struct run query_run(const struct table_set *s, const struct query *q, const double *values);

/* Row ROW meets the keys of Q that the index does not answer. */
bool query_fits(const struct table *t, const struct query *q, int row, const double *values);

void index_free(struct index *ix);
void query_free(struct query *q);

#endif
