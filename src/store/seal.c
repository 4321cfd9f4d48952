/* Check sums over what a file holds, made anew with each edit and compared at opening.
 *
 * SQLite's own checks see a broken tree of pages, not a changed digit inside a text. All rows
 * that the program reads are covered: items and entries by `state`, events and changes by a chain
 * of sums ending in `log` (log.c), parts tables by `parts`.
 */

#include "store/inside.h"

#include <stdio.h>
#include <stdlib.h>

/* "12:"; the C library's printing would take most of the time of a long log. */
static void add_length(struct base_text *t, size_t length)
{
    char text[24];
    size_t at = sizeof text;
    text[--at] = ':';
    do
        text[--at] = (char)('0' + length % 10);
    while (length /= 10);
    base_text_add_n(t, text + at, sizeof text - at);
}

void seal_row(struct base_text *t, sqlite3_stmt *st, int columns)
{
    for (int i = 0; i < columns; i++) {
        if (sqlite3_column_type(st, i) == SQLITE_NULL) {
            base_text_add(t, "-;");
            continue;
        }
        const char *text = sql_text(st, i);
        size_t n = (size_t)sqlite3_column_bytes(st, i);
        add_length(t, n);
        base_text_add_n(t, text, n);
    }
}

static uint64_t sum_of(struct store *s, enum sql first, enum sql second)
{
    struct base_text t = {0};
    sqlite3_stmt *st = sql_get(s, first, "");
    while (sql_row(s, st))
        seal_row(&t, st, sqlite3_column_count(st));
    base_text_add(&t, "|");
    st = sql_get(s, second, "");
    while (sql_row(s, st))
        seal_row(&t, st, sqlite3_column_count(st));
    uint64_t sum = base_hash(t.data, t.length);
    base_text_done(&t);
    return sum;
}

uint64_t seal_of_state(struct store *s) { return sum_of(s, SQL_SUM_ITEMS, SQL_SUM_ENTRIES); }
uint64_t seal_of_parts(struct store *s) { return sum_of(s, SQL_SUM_TABLES, SQL_SUM_ROWS); }

void seal_put(struct store *s, const char *part, uint64_t sum)
{
    sql_do(s, SQL_SEAL_PUT, "ti", part, (int64_t)sum);
}

uint64_t seal_get(struct store *s, const char *part)
{
    return (uint64_t)sql_number(s, SQL_SEAL, 0, "t", part);
}

/* Does the file hold SUM after all, and does one more commit go through? */
static bool stands(struct store *s, const char *part, uint64_t sum)
{
    if (!sql_do(s, SQL_WRITE, "") || seal_get(s, part) != sum)
        return false;
    seal_put(s, part, sum);
    return sql_do(s, SQL_COMMIT, "");
}

bool seal_commit(struct store *s, const char *part, uint64_t before, uint64_t sum)
{
    if (sql_do(s, SQL_COMMIT, ""))
        return true;
    store_rollback(s);
    int rc = s->rc;
    s->rc = SQLITE_OK;
    if (sum != before && stands(s, part, sum))
        return true;
    store_rollback(s);
    s->rc = rc;
    return false;
}
