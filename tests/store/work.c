/* Edits to make, and a second, plainer account of what they do. */

#include "work.h"

#include "../common.h"
#include "store/inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum base_err store_create(const char *path, struct store **out, struct base_diag *why)
{
    struct store *fresh = store_open_memory();
    enum base_err err = store_copy(fresh, path, why);
    *out = NULL;
    store_close(fresh);
    return err ? err : store_open(path, false, out, why);
}

enum base_err store_put_table(struct store *s, const char *file, const char *csv, size_t length,
                              uint64_t checksum, bool shipped, struct base_diag *why)
{
    struct store_table t = {file, csv, length, checksum, shipped};
    return store_put_tables(s, &t, 1, why);
}

int store_table_count(struct store *s)
{
    struct store_table t = {.file = ""};
    char file[200] = "";
    int n = 0;
    for (; store_table_after(s, file, &t); n++)
        snprintf(file, sizeof file, "%s", t.file);
    return n;
}

enum base_err work_begin(struct store *s, struct base_diag *why)
{
    static const struct typed_change changes[] = {
        {TYPED_ITEM, "strip", "", NULL, "strip"},
        {TYPED_ENTRY, "strip", "thickness", NULL, "2 mm"},
        {TYPED_ITEM, "die_plate", "", NULL, "plate"},
        {TYPED_ENTRY, "die_plate", "moves", NULL, "\"with the bed\""},
        {TYPED_ENTRY, "die_plate", "thickness", NULL, "32 mm"},
    };
    return store_take(s, "begun", "ann", changes, COUNT_OF(changes), why);
}

/* ---- edits ----------------------------------------------------------------------------- */

static char *entry_now(struct store *s, const char *item, const char *path)
{
    struct store_state is;
    if (store_read(s, &is, NULL) != BASE_OK)
        return NULL;
    for (int i = 0; i < is.n_entries; i++)
        if (strcmp(is.entries[i].item, item) == 0 && strcmp(is.entries[i].path, path) == 0)
            return base_copy(is.entries[i].text);
    return NULL;
}

static enum base_err take_thickness(struct store *s, int i, struct base_diag *why)
{
    char after[32];
    char *before = entry_now(s, "die_plate", "thickness");
    snprintf(after, sizeof after, "%d.5 mm", i);
    struct typed_change c = {TYPED_ENTRY, "die_plate", "thickness", before, after};
    enum base_err err = store_take(s, "die_plate.thickness", "ann", &c, 1, why);
    free(before);
    return err;
}

static enum base_err step(struct store *s, bool back, const char *who, struct base_diag *why)
{
    const struct typed_event *e;
    struct base_arena m = {0};
    int n = back ? store_standing(s, &e, 1) : store_taken_back(s, &e, 1), n_changes = n ? e->n_changes : 0;
    struct typed_change *c = base_arena_alloc(&m, (size_t)(n_changes + 1) * sizeof *c);
    for (int i = 0; i < n_changes; i++) {
        const struct typed_change *x = &e->changes[i];
        c[i] = (struct typed_change){x->what, base_arena_copy(&m, x->item), base_arena_copy(&m, x->path),
                                     base_arena_copy(&m, x->before), base_arena_copy(&m, x->after)};
    }
    store_turn_round(c, n_changes);
    enum base_err err = (back ? store_undo : store_redo)(s, n ? e->seq : 0, who, c, n_changes, why);
    base_arena_done(&m);
    return err;
}

enum base_err work_undo(struct store *s, const char *who, struct base_diag *why)
{
    return step(s, true, who, why);
}
enum base_err work_redo(struct store *s, const char *who, struct base_diag *why)
{
    return step(s, false, who, why);
}

enum base_err work_edit(struct store *s, int i, struct base_diag *why)
{
    char a[32], b[32];
    int first = i - i % 8 + 1; /* of this round */
    snprintf(a, sizeof a, "screws_%d", first);
    snprintf(b, sizeof b, "bolts_%d", first);
    const struct typed_change add[] = {
        {TYPED_ITEM, a, "", NULL, "screws"},          {TYPED_ENTRY, a, "size", NULL, "\"M8\""},
        {TYPED_ENTRY, a, "lay", NULL, "six"},         {TYPED_ENTRY, a, "lay/end", NULL, "25 mm"},
        {TYPED_PLACE, a, "", NULL, "1"},
    };
    const struct typed_change order[] = {
        {TYPED_ORDER, a, "lay/end", "2", "0"},
        {TYPED_ENTRY, a, "size", "\"M8\"", NULL},
    };
    const struct typed_change name = {TYPED_NAME, a, "", a, b};
    const struct typed_change drop = {TYPED_ITEM, b, "", "screws", NULL};
    switch (i % 8) {
    case 1: return store_take(s, "added", "ann", add, COUNT_OF(add), why);
    case 2: return store_take(s, "ordered", "bea", order, COUNT_OF(order), why);
    case 3: return store_take(s, "renamed", "ann", &name, 1, why);
    case 4: return store_take(s, "taken out", "", &drop, 1, why);
    case 5:
    case 6: return work_undo(s, "ann", why);
    case 7: return work_redo(s, "ann", why);
    default: return take_thickness(s, i, why);
    }
}

/* ---- our own account ---------------------------------------------------------------------- */

struct pair { const char *path, *text; };
struct thing { const char *kind, *name; BASE_VEC(struct pair) pairs; };
struct account { BASE_VEC(struct thing) things; };

static size_t find_thing(struct account *a, const char *name)
{
    size_t i = 0;
    while (i < a->things.count && strcmp(a->things.at[i].name, name) != 0)
        i++;
    return i;
}

static size_t find_pair(struct thing *t, const char *path)
{
    size_t i = 0;
    while (i < t->pairs.count && strcmp(t->pairs.at[i].path, path) != 0)
        i++;
    return i;
}

#define TAKE_OUT(v, i)                                                                         \
    (memmove((v)->at + (i), (v)->at + (i) + 1, ((v)->count - (i) - 1) * sizeof *(v)->at), (v)->count--)

/* Element FROM to place TO, one exchange of neighbours after the other. */
#define MOVE(v, type, from, to)                                             \
    for (size_t f_ = (from), t_ = (to); f_ != t_; f_ += f_ < t_ ? 1 : (size_t)-1) { \
        size_t n_ = f_ < t_ ? f_ + 1 : f_ - 1;                              \
        type held_ = (v)->at[f_];                                           \
        (v)->at[f_] = (v)->at[n_];                                          \
        (v)->at[n_] = held_;                                                \
    }

static void do_entry(struct thing *t, const struct typed_change *c)
{
    size_t i = find_pair(t, c->path);
    bool there = i < t->pairs.count;
    ck_assert(there == (c->before != NULL));
    if (there)
        ck_assert_str_eq(t->pairs.at[i].text, c->before);
    struct pair p = {c->path, c->after};
    if (!there)
        base_vec_push(&t->pairs, p);
    else if (c->after)
        t->pairs.at[i] = p;
    else
        TAKE_OUT(&t->pairs, i);
}

static void do_item(struct account *a, size_t i, const struct typed_change *c)
{
    bool there = i < a->things.count;
    ck_assert(there == (c->before != NULL));
    struct thing fresh = {.kind = c->after, .name = c->item};
    if (!there) {
        base_vec_push(&a->things, fresh);
    } else if (c->after) {
        a->things.at[i].kind = c->after;
    } else {
        ck_assert_uint_eq(a->things.at[i].pairs.count, 0); /* nothing vanishes unwritten */
        ck_assert_uint_eq(i, a->things.count - 1);
        base_vec_done(&a->things.at[i].pairs);
        TAKE_OUT(&a->things, i);
    }
}

static void do_change(struct account *a, const struct typed_change *c)
{
    size_t i = find_thing(a, c->item);
    if (c->what == TYPED_ITEM) {
        do_item(a, i, c);
        return;
    }
    ck_assert_msg(i < a->things.count, "no item %s", c->item);
    struct thing *t = &a->things.at[i];
    if (c->what == TYPED_ENTRY) {
        do_entry(t, c);
    } else if (c->what == TYPED_NAME) {
        t->name = c->after;
    } else if (c->what == TYPED_PLACE) {
        ck_assert_uint_eq(i, strtoul(c->before, NULL, 10));
        MOVE(&a->things, struct thing, i, strtoul(c->after, NULL, 10));
    } else {
        size_t p = find_pair(t, c->path);
        ck_assert_uint_eq(p, strtoul(c->before, NULL, 10));
        MOVE(&t->pairs, struct pair, p, strtoul(c->after, NULL, 10));
    }
}

char *work_replay(struct store *s)
{
    const struct typed_event *e;
    struct account a = {0};
    struct base_text out = {0};
    long count = store_event_count(s);
    int n = store_history(s, &e, (int)count);
    ck_assert_int_eq(n, count);
    for (int i = n - 1; i >= 0; i--)
        for (int k = 0; k < e[i].n_changes; k++)
            do_change(&a, &e[i].changes[k]);
    for (size_t i = 0; i < a.things.count; i++) {
        struct thing *t = &a.things.at[i];
        base_text_addf(&out, "%s %s\n", t->kind, t->name);
        for (size_t k = 0; k < t->pairs.count; k++)
            base_text_addf(&out, "  %s = %s\n", t->pairs.at[k].path, t->pairs.at[k].text);
        base_vec_done(&t->pairs);
    }
    base_vec_done(&a.things);
    return base_text_take(&out);
}

/* ---- the store's account ------------------------------------------------------------------- */

char *work_state(struct store *s)
{
    struct store_state is;
    int at = 0;
    struct base_text out = {0};
    ck_ok(store_read(s, &is, why));
    for (int i = 0; i < is.n_items; i++) {
        base_text_addf(&out, "%s %s\n", is.items[i].kind, is.items[i].name);
        for (; at < is.n_entries && strcmp(is.entries[at].item, is.items[i].name) == 0; at++)
            base_text_addf(&out, "  %s = %s\n", is.entries[at].path, is.entries[at].text);
    }
    ck_assert_int_eq(at, is.n_entries);
    return base_text_take(&out);
}

void work_check(struct store *s)
{
    char *state = work_state(s), *replay = work_replay(s);
    ck_assert_str_eq(state, replay);
    free(state);
    free(replay);
}

char *work_log(struct store *s)
{
    const struct typed_event *e;
    struct base_text out = {0};
    int n = store_history(s, &e, 100000);
    for (int i = n - 1; i >= 0; i--) {
        base_text_addf(&out, "%ld %s, %s%s\n", e[i].seq, e[i].title, e[i].who,
                       e[i].undone ? " (undone)" : "");
        for (int k = 0; k < e[i].n_changes; k++) {
            const struct typed_change *c = &e[i].changes[k];
            base_text_addf(&out, "  %d %s %s: %s -> %s\n", (int)c->what, c->item, c->path,
                           c->before ? c->before : "-", c->after ? c->after : "-");
        }
    }
    return base_text_take(&out);
}

/* ---- files ----------------------------------------------------------------------------------- */

struct bytes work_load(const char *path)
{
    struct bytes b = {0};
    char *text;
    ck_ok(base_read_file(path, &text, &b.length, why));
    b.at = (unsigned char *)text;
    return b;
}

void work_save(const char *path, const unsigned char *bytes, size_t length)
{
    FILE *f = fopen(path, "wb");
    ck_assert_ptr_nonnull(f);
    if (length)
        ck_assert_uint_eq(fwrite(bytes, 1, length, f), length);
    ck_assert_int_eq(fclose(f), 0);
}

void work_same_bytes(const char *path, struct bytes want)
{
    struct bytes now = work_load(path);
    ck_assert_uint_eq(now.length, want.length);
    ck_assert_msg(want.length == 0 || memcmp(now.at, want.at, want.length) == 0, "%s was written to", path);
    free(now.at);
}

static int rows_in(const char *path, const char *table)
{
    sqlite3 *db;
    sqlite3_stmt *st;
    char *sql = base_format("SELECT count(*) FROM %s", table);
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &st, NULL), SQLITE_OK);
    ck_assert_int_eq(sqlite3_step(st), SQLITE_ROW);
    int n = sqlite3_column_int(st, 0);
    sqlite3_finalize(st);
    sqlite3_close(db);
    free(sql);
    return n;
}

void work_reseal(const char *path)
{
    struct store s = {.path = base_copy(path)};
    ck_assert_int_eq(sqlite3_open_v2(path, &s.db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
    int64_t n = 0, last = (int64_t)rows_in(path, "event");
    for (uint64_t chain = 0; n < last; n++) {
        struct base_text t = {0};
        base_text_addf(&t, "%016llx", (unsigned long long)chain);
        sqlite3_stmt *st = sql_get(&s, SQL_EVENTS_AFTER, "i", n);
        if (sql_row(&s, st))
            seal_row(&t, st, 6);
        if (st)
            sqlite3_reset(st);
        st = sql_get(&s, SQL_CHANGES_AFTER, "i", n);
        while (sql_row(&s, st))
            if (sqlite3_column_int64(st, CHANGE_SEQ) == n + 1)
                seal_row(&t, st, CHANGE_SEQ);
        chain = base_hash(t.data, t.length);
        base_text_done(&t);
        sql_do(&s, SQL_EVENT_SUM, "ii", n + 1, (int64_t)chain);
        seal_put(&s, "log", chain);
    }
    seal_put(&s, "state", seal_of_state(&s));
    seal_put(&s, "parts", seal_of_parts(&s));
    ck_assert_int_eq(s.rc, SQLITE_OK);
    sql_finish(&s);
    ck_assert_int_eq(sqlite3_close(s.db), SQLITE_OK);
    free(s.path);
}

unsigned work_random(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return *seed >> 8;
}
