/* Items and entries as they stand, lent out. */

#include "store/inside.h"

#include <stdlib.h>
#include <string.h>

/* What V holds, moved to what S lends. */
#define LEND(s, to, n, v)                                                         \
    do {                                                                          \
        void *lent_ = base_arena_alloc(&(s)->lent, ((v).count + 1) * sizeof *(v).at); \
        if ((v).count)                                                            \
            memcpy(lent_, (v).at, (v).count * sizeof *(v).at);                    \
        (to) = lent_;                                                             \
        (n) = (int)(v).count;                                                     \
        base_vec_done(&(v));                                                      \
    } while (0)

static void lend_items(struct store *s, struct store_state *out)
{
    BASE_VEC(struct typed_item) v = {0};
    sqlite3_stmt *st = sql_get(s, SQL_ITEMS, "");
    while (sql_row(s, st)) {
        struct typed_item item = {sql_copy(&s->lent, st, 0), sql_copy(&s->lent, st, 1)};
        base_vec_push(&v, item);
    }
    LEND(s, out->items, out->n_items, v);
}

static void lend_entries(struct store *s, struct store_state *out)
{
    BASE_VEC(struct typed_entry) v = {0};
    sqlite3_stmt *st = sql_get(s, SQL_ENTRIES, "");
    while (sql_row(s, st)) {
        struct typed_entry e = {sql_copy(&s->lent, st, 0), sql_copy(&s->lent, st, 1),
                                sql_copy(&s->lent, st, 2)};
        base_vec_push(&v, e);
    }
    LEND(s, out->entries, out->n_entries, v);
}

enum base_err store_read(struct store *s, struct store_state *out, struct base_diag *why)
{
    size_t known = s->taken_back.count;
    store_begin(s);
    sql_do(s, SQL_READ, ""); /* one view: somebody else's edit falls before it or behind it, not between */
    log_catch_up(s);
    lend_items(s, out);
    lend_entries(s, out);
    if (s->rc == SQLITE_OK)
        sql_do(s, SQL_COMMIT, "");
    if (s->rc != SQLITE_OK) {
        store_rollback(s);
        return sql_unreadable(s, why);
    }
    s->seen = s->taken_back.count;
    if (s->seen != known)
        store_keep(s);
    return BASE_OK;
}
