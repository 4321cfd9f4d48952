/* diewright/table.h - columns with units, and ordered look-up
 *
 * A parts table is read from CSV text (RFC 4180, UTF-8): comment lines "# key: words" on top
 * (title, standard, source, confidence, note; each may be repeated), one header line, then
 * rows. A column's unit stands at the end of its name in the file (_mm, _in, _um, _mm2, _in2,
 * _MPa, _psi, _kN, _n_per_mm, _kg, _kg_m3, _deg, _arcmin, _pct, _per_min ...; case does not
 * matter); without one it is a plain number. Numbers are decimals (12, .25, 1e3) or fractions
 * (5/32, 1 1/64). A cell that is empty or does not read is "not filled in". Uses: unit, base.
 */
#ifndef DIEWRIGHT_TABLE_H
#define DIEWRIGHT_TABLE_H

#include "diewright/unit.h"

/* How the handbook declares a table; texts are borrowed for the life of the set. */
struct table_column_spec {
    const char *name;
    bool is_text;
    struct unit_dim dim;
    const char *const *from; int n_from; /* names in files, first present wins */
    bool each;                           /* the cell lists values parted by blanks: one row each */
    const char *otherwise;               /* the text in rows of files that have no such column, NULL: none */
};
struct table_spec {
    const char *name, *help;
    const char *const *files; int n_files;
    const struct table_column_spec *columns; int n_columns;
    const char *figure;        /* small dimension drawing in characters, may be NULL */
    /* columns that tell one row from another; none: own rows are only added */
    const char *const *keys; int n_keys;
};

enum table_confidence {
    TABLE_PUBLISHED,
    TABLE_CONFIRMED,
    TABLE_PRACTICE,
    TABLE_DERIVED,
    TABLE_MEMORY,
    TABLE_INVENTED
};
const char *table_confidence_text(enum table_confidence c);

/* text: in the pool; also the raw text of a number (fractions). An empty number cell whose text is
 * not "" did not read. */
struct table_cell { double number; int text; bool empty; };

struct table_set;
struct table_set *table_set_new(struct base_pool *pool);
void table_set_free(struct table_set *s);
const struct base_pool *table_pool(const struct table_set *s); /* of the texts in its cells */

/* Give the set a file's CSV text (copied). Source, standard and confidence are read from the
 * comment lines; a `source`, `standard`, `confidence` or `status` column gives them row by row,
 * and a column `x_confidence` that of column x (or x_mm ...) alone. Words of confidence are those
 * of table_confidence_text, and "estimate" for derived; no word or another one is memory.
 * A damaged text is BASE_UNREADABLE with file and line. */
NODISCARD enum base_err table_set_file(struct table_set *s, const char *file, const char *csv, size_t length,
                                       struct base_diag *why);
/* Declare a table over files already given; its rows are those of its files, one after the other.
 * In a file that has none of a column's names its cells are empty; a column that no file has, a
 * file that was not given, or a unit of another dimension is refused. Its number in *OUT. */
NODISCARD enum base_err table_set_declare(struct table_set *s, const struct table_spec *spec, int *out,
                                          struct base_diag *why);

/* Rows that somebody adds to table TABLE, as a CSV text of their own under the name NAME. */
struct table_own { const char *table, *name, *csv; size_t length; };
/* A new set with the files and tables of S and, behind them, OWN rows in their order. A row whose keys are
 * those of a row before it stands in its place. Own texts are held to more than shipped ones: source and
 * confidence must be stated for each row, each column must be one of the table's by its own name and a unit
 * of its dimension (stroke_in; the names of shipped files do not count), the keys filled in, no key twice,
 * and what is not empty must read. Reasons tell NAME, line and column. The new set borrows the specs of S. */
NODISCARD enum base_err table_set_with(const struct table_set *s, const struct table_own *own, int n,
                                       struct table_set **out, struct base_diag *why);

int table_count(const struct table_set *s);
int table_find(const struct table_set *s, const char *name); /* -1: none */
const struct table_spec *table_spec(const struct table_set *s, int table);
int table_column(const struct table_set *s, int table, const char *name); /* -1: none */
int table_rows(const struct table_set *s, int table);
const struct table_cell *table_cell(const struct table_set *s, int table, int row, int column);
enum table_confidence table_cell_confidence(const struct table_set *s, int table, int row, int column);
/* By what share of itself an estimated or invented figure may be out, as the remark "# spread: rate_n_per_mm
 * 10 %, all 5 %" on top of its file states by the names of the file's columns; 0: it is no guess (also by "0
 * %": chosen out of a series), NaN: a guess whose spread is not stated. */
double table_cell_spread(const struct table_set *s, int table, int row, int column);
/* "estimate, +- 10 %", "invented", "published": how sure the cell is, and its spread where one is stated.
   Returns BUF. */
const char *table_cell_sureness(const struct table_set *s, int table, int row, int column, char *buf,
                                size_t size);
/* of its least sure cell */
enum table_confidence table_row_confidence(const struct table_set *s, int table, int row);
/* the table's when the row has none */
const char *table_row_source(const struct table_set *s, int table, int row);
const char *table_row_standard(const struct table_set *s, int table, int row); /* likewise */
/* The file that states the row, and the line there; LINE may be NULL. */
void table_row_place(const struct table_set *s, int table, int row, const char **file, int *line);
const char *table_standard(const struct table_set *s, int table); /* of all its files, parted by "; " */
const char *table_title(const struct table_set *s, int table);
const char *table_note(const struct table_set *s, int table);
enum table_confidence table_worst_confidence(const struct table_set *s, int table);

/* The files given, for storing them: name, text, length, checksum (base_hash). Any of the four may be
   NULL. */
int table_file_count(const struct table_set *s);
void table_file(const struct table_set *s, int i, const char **name, const char **csv, size_t *length,
                uint64_t *checksum);

/* Would a spreadsheet run a cell of this text as a formula? It begins with = + - @, tab or carriage return,
 * and is no number. Written as CSV it has an apostrophe before it, which reading takes off again. */
bool table_cell_runs(const char *text);

/* Call ROW for each row of a file's CSV text, in order: the line it begins on, the names of its N columns
 * (each name once) and its N cells. Refuses what table_set_file refuses. */
typedef void table_row_fn(void *arg, int line, const char *const *names, const char *const *cells, int n);
NODISCARD enum base_err table_each_row(const char *file, const char *csv, size_t length, table_row_fn *row,
                                       void *arg, struct base_diag *why);

/* ---- look-up --------------------------------------------------------------- */

/* The modes and relations are those of formula.h, by the same numbers (checked where they
 * are joined); this room does not know formulas. */
enum table_mode {
    TABLE_LISTED,
    TABLE_OVER,
    TABLE_UNDER,
    TABLE_NEAR,
    TABLE_TOTAL,
    TABLE_LARGEST,
    TABLE_SMALLEST,
    TABLE_COUNT
};
enum table_relation { TABLE_EQUAL, TABLE_UNEQUAL, TABLE_LESS, TABLE_AT_MOST, TABLE_MORE, TABLE_AT_LEAST };
struct table_key { int column; enum table_relation relation; };
enum table_result { TABLE_FOUND, TABLE_NO_ROW, TABLE_SEVERAL, TABLE_EMPTY_CELL };

/* What each mode gives, of the rows that meet every key (an empty cell meets none):
 *   listed    the one value that all of them have; several when they differ
 *   over      the least value at or over the need; under the greatest at or under it; near the
 *             nearest, the greater of two equally near. Rows without a value are passed over.
 *   total largest smallest    of all; an empty cell among them gives TABLE_EMPTY_CELL, for what
 *             is not known cannot be summed. No rows: total 0, the others TABLE_NO_ROW.
 *   count     how many rows; COLUMN may be -1.
 * Over, under, near and the sums take a column of numbers; texts are only compared with = and !=.
 *
 * Bind a query once: equal keys get an index, rows in it stand ordered by COLUMN, so a pick
 * costs a hash and a binary search. The same question asked again gives the same number. */
int table_query(struct table_set *s, int table, int column, enum table_mode mode,
                const struct table_key *keys, int n_keys);

/* Run it. VALUES: the keys in order (texts as pool numbers), then the need for over, under, near.
 * Sizes are compared with 1 nm of forgiveness (a stock size 1 nm under the need fits). *ROW (may be NULL) is
 * the row that gave the value, -1 for sums. Allocates nothing. */
enum table_result table_run(const struct table_set *s, int query, const double *values, double *out,
                            int *row);

/* Why it found nothing or several, and what nearly fitted: "no length of guide_post reaches 468 mm
 * (diameter = 32 mm): the longest is 315 mm". S says mm or inch. */
void table_explain(const struct table_set *s, int query, const double *values, struct unit_system system,
                   struct base_text *out);

/* The rows a query's equal keys leave, ordered by its column: for pickers. Returns how many;
 * *ROWS borrowed until the next query is bound. */
int table_candidates(const struct table_set *s, int query, const double *values, const int **rows);
int table_query_table(const struct table_set *s, int query, int *column);

#endif
