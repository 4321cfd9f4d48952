/* Parts tables in the job: the whole text, which is what the program reads, and beside it its
 * rows as JSON, so that `SELECT cells ->> 'size' FROM part_row` answers in the sqlite3 tool. */

#include "store/inside.h"

#include "diewright/table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void add_json(struct base_text *t, const char *text)
{
    base_text_add(t, "\"");
    for (; *text; text++) {
        if (*text == '"' || *text == '\\')
            base_text_addf(t, "\\%c", *text);
        else if ((unsigned char)*text < ' ')
            base_text_addf(t, "\\u%04x", (unsigned)*text);
        else
            base_text_add_n(t, text, 1);
    }
    base_text_add(t, "\"");
}

struct rows { struct store *store; const char *file; struct base_text json; };

static void add_row(void *arg, int line, const char *const *names, const char *const *cells, int n)
{
    struct rows *r = arg;
    base_text_clear(&r->json);
    for (int i = 0; i < n; i++) {
        base_text_add(&r->json, i ? ", " : "{");
        add_json(&r->json, names[i]);
        base_text_add(&r->json, ": ");
        add_json(&r->json, cells[i]);
    }
    base_text_add(&r->json, "}");
    sql_do(r->store, SQL_ROW_ADD, "tit", r->file, (int64_t)line, base_text_get(&r->json));
}

static enum base_err put(struct store *s, const struct store_table *t, struct base_diag *why)
{
    char hex[24];
    if (t->length > STORE_TEXT_LIMIT)
        return base_fail(why, BASE_REFUSED,
                         "%s is too long for a parts table: %zu bytes, and %d is the most.", t->file,
                         t->length, STORE_TEXT_LIMIT);
    snprintf(hex, sizeof hex, "%016llx", (unsigned long long)t->checksum);
    struct rows r = {.store = s, .file = t->file};
    sql_do(s, SQL_TABLE_PUT, "ttib", t->file, hex, (int64_t)t->shipped, t->csv, t->length);
    sql_do(s, SQL_ROWS_DROP, "t", t->file);
    enum base_err err = table_each_row(t->file, t->csv, t->length, add_row, &r, why);
    base_text_done(&r.json);
    return err;
}

enum base_err store_put_tables(struct store *s, const struct store_table *tables, int n,
                               struct base_diag *why)
{
    enum base_err err = store_begin_write(s, why);
    if (err)
        return err;
    uint64_t before = seal_get(s, "parts");
    for (int i = 0; i < n && !err; i++)
        err = put(s, &tables[i], why);
    uint64_t sum = err ? 0 : seal_of_parts(s);
    if (!err)
        seal_put(s, "parts", sum);
    if (!err && !seal_commit(s, "parts", before, sum))
        err = sql_not_saved(s, why);
    if (err)
        store_rollback(s);
    else
        store_keep(s);
    return err;
}

uint64_t store_tables_sum(struct store *s)
{
    s->rc = SQLITE_OK;
    return seal_get(s, "parts");
}

static bool lend_table(struct store *s, enum sql which, const char *file, struct store_table *out)
{
    store_begin(s);
    sqlite3_stmt *st = sql_get(s, which, "t", file);
    if (!sql_row(s, st))
        return false;
    out->file = sql_copy(&s->lent, st, 0);
    out->checksum = strtoull(sql_text(st, 1), NULL, 16);
    out->shipped = sqlite3_column_int(st, 2) != 0;
    out->csv = base_arena_copy_n(&s->lent, sql_text(st, 3), (size_t)sqlite3_column_bytes(st, 3));
    out->length = (size_t)sqlite3_column_bytes(st, 3);
    sqlite3_reset(st);
    return true;
}

bool store_table(struct store *s, const char *file, struct store_table *out)
{
    return lend_table(s, SQL_TABLE, file, out);
}
bool store_table_after(struct store *s, const char *file, struct store_table *out)
{
    return lend_table(s, SQL_TABLE_AFTER, file, out);
}
