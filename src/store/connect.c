/* A store over an open database, on the disk or in memory: hardened, checked whole, closed.
 *
 * What leads to the disk, and who stands guard there, is handed down by the caller.
 */

#include "store/inside.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* SQLite takes "file:..." for an address and ":memory:" for no file; a path with a slash in front is only a
   path. */
static char *plain_path(const char *path) { return base_format("%s%s", *path == '/' ? "" : "./", path); }

static void harden(sqlite3 *db)
{
    static const struct { int what, on;
    } settings[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},      {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
        {SQLITE_DBCONFIG_ENABLE_TRIGGER, 0}, {SQLITE_DBCONFIG_ENABLE_VIEW, 0},
        {SQLITE_DBCONFIG_ENABLE_FKEY, 1},    {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},        {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
    };
    static const struct { int what, most; } limits[] = {
        {SQLITE_LIMIT_LENGTH, 1000000}, {SQLITE_LIMIT_SQL_LENGTH, 100000}, {SQLITE_LIMIT_ATTACHED, 0},
        {SQLITE_LIMIT_TRIGGER_DEPTH, 10},
    };
    for (size_t i = 0; i < COUNT_OF(settings); i++)
        sqlite3_db_config(db, settings[i].what, settings[i].on, NULL);
    for (size_t i = 0; i < COUNT_OF(limits); i++)
        sqlite3_limit(db, limits[i].what, limits[i].most);
}

/* Whoever waits asks again after a few milliseconds by chance, not after ever more of them: where several
   write all the time, the library's own way of waiting lets the one wait longest who has waited longest. */
static int wait_for_turn(void *store, int times)
{
    enum { LONGEST_MS = 3000, STEPS = 6 };
    struct store *s = store;
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    if (times == 0)
        s->waits_since = now;
    long ms = (now.tv_sec - s->waits_since.tv_sec) * 1000L +
              (now.tv_nsec - s->waits_since.tv_nsec) / 1000000L;
    if (ms > LONGEST_MS)
        return 0;
    nanosleep(&(struct timespec){.tv_nsec = (1 + now.tv_nsec / 1000 % STEPS) * 1000000L}, NULL);
    return 1;
}

bool store_connect(struct store *s, bool write, const char *way)
{
    int flags = write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY;
    char *path = *s->path ? plain_path(s->path) : base_copy(":memory:");
    s->rc = sqlite3_open_v2(path, &s->db, flags | SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOMUTEX, way);
    free(path);
    if (s->rc != SQLITE_OK)
        return false;
    harden(s->db);
    sqlite3_busy_handler(s->db, wait_for_turn, s);
    s->rc = sqlite3_exec(s->db,
                         "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA temp_store = MEMORY",
                         NULL, NULL, NULL);
    if (s->rc == SQLITE_OK && !s->readonly)
        s->rc = sqlite3_exec(s->db, "PRAGMA journal_mode = TRUNCATE; PRAGMA synchronous = EXTRA", NULL, NULL,
                             NULL);
    return s->rc == SQLITE_OK;
}

struct store *store_new(const char *path, bool readonly, const struct schema *schema)
{
    struct store *s = base_alloc(sizeof *s);
    s->path = base_copy(path);
    s->warning = base_copy("");
    s->readonly = readonly;
    s->schema = schema;
    return s;
}

static bool passes_quick_check(struct store *s)
{
    sqlite3_stmt *st = sql_get(s, SQL_QUICK_CHECK, "");
    bool good = sql_row(s, st) && strcmp(sql_text(st, 0), "ok") == 0;
    while (sql_row(s, st))
        good = false;
    return good;
}

enum base_err store_check_older(struct store *s, struct base_diag *why)
{
    if (s->rc == SQLITE_OK && !passes_quick_check(s) && s->rc == SQLITE_OK)
        s->rc = SQLITE_CORRUPT;
    return s->rc == SQLITE_OK ? BASE_OK : sql_unreadable(s, why);
}

enum base_err store_check(struct store *s, struct base_diag *why)
{
    sql_do(s, SQL_READ, ""); /* one view, so that somebody else's edit cannot fall between the checks */
    bool known = schema_matches(s, s->schema);
    bool whole = known && passes_quick_check(s);
    if (whole) {
        log_catch_up(s);
        whole = s->chain == seal_get(s, "log") && seal_of_state(s) == seal_get(s, "state")
             && seal_of_parts(s) == seal_get(s, "parts");
    }
    if (s->rc == SQLITE_OK && known && !whole)
        s->rc = SQLITE_CORRUPT;
    enum base_err err = BASE_OK;
    if (s->rc != SQLITE_OK)
        err = sql_unreadable(s, why);
    else if (!known)
        err = base_fail(
            why, BASE_UNREADABLE,
            "%s is damaged, or another program has altered its tables. It was left as it is; take "
            "the last good copy.",
            s->path);
    if (!err)
        sql_do(s, SQL_COMMIT, "");
    else
        store_rollback(s);
    s->seen = s->taken_back.count;
    s->data_version = (int)sql_number(s, SQL_DATA_VERSION, 0, "");
    return err;
}

struct store *store_of_bytes(const struct store_bytes *bytes, const struct store *as)
{
    struct store *s = store_new("", true, as->schema);
    unsigned char *copy = bytes->length >= 100 ? sqlite3_malloc64(bytes->length) : NULL;
    bool good = copy && store_connect(s, true, NULL);
    if (good) {
        memcpy(copy, bytes->at, bytes->length);
        s->rc = sqlite3_deserialize(s->db, "main", copy, (sqlite3_int64)bytes->length,
                                    (sqlite3_int64)bytes->length,
                                    SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_READONLY);
        bool newest = schema_reads(s->schema, bytes->at[63]) && !bytes->at[60] && !bytes->at[61] &&
                      !bytes->at[62];
        good = s->rc == SQLITE_OK && (newest ? store_check(s, NULL) : store_check_older(s, NULL)) == BASE_OK;
    } else {
        sqlite3_free(copy);
    }
    free(s->path);
    s->path = base_copy(as->path);
    if (good)
        return s;
    store_close(s);
    return NULL;
}

struct store *store_open_memory(void)
{
    struct store *s = store_new("", false, &store_schema);
    bool made = store_connect(s, true, NULL) && schema_write(s, &store_schema);
    assert(made); /* nothing to fail but memory, and our own SQL */
    (void)made;
    store_changed(s); /* what was made is known */
    return s;
}

static void leave_guard(struct guard *g)
{
    if (g->store)
        sqlite3_vfs_unregister(&g->vfs);
    free(g->name);
    *g = (struct guard){0};
}

void store_close(struct store *s)
{
    if (!s)
        return;
    sql_finish(s);
    if (s->db && *s->path && !s->readonly) { /* leave no empty journal beside the file, if nobody is in it */
        sqlite3_busy_timeout(s->db, 0);
        sqlite3_exec(s->db, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL);
    }
    sqlite3_close(s->db);
    leave_guard(&s->guard);
    store_close(s->healed);
    base_vec_done(&s->taken_back);
    base_vec_done(&s->done);
    base_vec_done(&s->undone);
    base_arena_done(&s->lent);
    sqlite3_free(s->kept.at);
    free(s->path);
    free(s->warning);
    free(s);
}

bool store_changed(struct store *s)
{
    s->rc = SQLITE_OK;
    int version = (int)sql_number(s, SQL_DATA_VERSION, s->data_version, "");
    bool changed = version != s->data_version;
    s->data_version = version;
    return changed;
}
