/* Items and entries as they stand, lent out. */

#include "store/inside.h"

#include <stdlib.h>
#include <string.h>

enum base_err store_items(struct store *s, const struct typed_item **items, int *n, struct base_diag *why)
{
    BASE_VEC(struct typed_item) v = {0};
    size_t known = s->taken_back.count;
    store_begin(s);
    log_catch_up(s);
    s->seen = s->taken_back.count;
    if (s->rc == SQLITE_OK && s->seen != known)
        store_keep(s);
    sqlite3_stmt *st = sql_get(s, SQL_ITEMS, "");
    while (sql_row(s, st)) {
        struct typed_item item = {sql_copy(&s->lent, st, 0), sql_copy(&s->lent, st, 1)};
        base_vec_push(&v, item);
    }
    struct typed_item *lent = base_arena_alloc(&s->lent, (v.count + 1) * sizeof *lent);
    if (v.count)
        memcpy(lent, v.at, v.count * sizeof *lent);
    *items = lent;
    *n = (int)v.count;
    base_vec_done(&v);
    return s->rc == SQLITE_OK ? BASE_OK : sql_unreadable(s, why);
}

enum base_err store_entries(struct store *s, const struct typed_entry **entries, int *n,
                            struct base_diag *why)
{
    BASE_VEC(struct typed_entry) v = {0};
    store_begin(s);
    sqlite3_stmt *st = sql_get(s, SQL_ENTRIES, "");
    while (sql_row(s, st)) {
        struct typed_entry e = {sql_copy(&s->lent, st, 0), sql_copy(&s->lent, st, 1),
                                sql_copy(&s->lent, st, 2)};
        base_vec_push(&v, e);
    }
    struct typed_entry *lent = base_arena_alloc(&s->lent, (v.count + 1) * sizeof *lent);
    if (v.count)
        memcpy(lent, v.at, v.count * sizeof *lent);
    *entries = lent;
    *n = (int)v.count;
    base_vec_done(&v);
    return s->rc == SQLITE_OK ? BASE_OK : sql_unreadable(s, why);
}
