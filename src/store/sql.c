/* Every statement the room runs, and the sentences of what may go wrong with them. */

#include "store/inside.h"

#include <stdlib.h>
#include <string.h>

static const char *const texts[SQL_COUNT] = {
    [SQL_READ] = "BEGIN",
    [SQL_WRITE] = "BEGIN IMMEDIATE",
    [SQL_COMMIT] = "COMMIT",
    [SQL_ROLLBACK] = "ROLLBACK",
    [SQL_DATA_VERSION] = "PRAGMA data_version",
    [SQL_QUICK_CHECK] = "PRAGMA quick_check(1)",
    [SQL_SCHEMA] = "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY name, type",

    [SQL_ITEMS] = "SELECT kind, name FROM item ORDER BY place, name",
    [SQL_ENTRIES] = "SELECT e.item, e.path, e.text FROM item i JOIN entry e ON e.item = i.name"
                    " ORDER BY i.place, i.name, e.place, e.path",

    [SQL_ITEM] = "SELECT place, kind FROM item WHERE name = ?1",
    [SQL_ITEM_COUNT] = "SELECT count(*) FROM item",
    [SQL_ITEM_ADD] = "INSERT INTO item (name, kind, place) VALUES (?1, ?2, ?3)",
    [SQL_ITEM_KIND] = "UPDATE item SET kind = ?2 WHERE name = ?1",
    [SQL_ITEM_DROP] = "DELETE FROM item WHERE name = ?1",
    [SQL_ITEMS_UP] = "UPDATE item SET place = place + 1 WHERE place >= ?1 AND place < ?2",
    [SQL_ITEMS_DOWN] = "UPDATE item SET place = place - 1 WHERE place > ?1 AND place <= ?2",
    [SQL_ITEM_PLACE] = "UPDATE item SET place = ?2 WHERE name = ?1",

    [SQL_ENTRY] = "SELECT place, text FROM entry WHERE item = ?1 AND path = ?2",
    [SQL_ENTRY_COUNT] = "SELECT count(*) FROM entry WHERE item = ?1",
    [SQL_ENTRY_ADD] = "INSERT INTO entry (item, path, text, place) VALUES (?1, ?2, ?3, ?4)",
    [SQL_ENTRY_TEXT] = "UPDATE entry SET text = ?3 WHERE item = ?1 AND path = ?2",
    [SQL_ENTRY_DROP] = "DELETE FROM entry WHERE item = ?1 AND path = ?2",
    [SQL_ENTRIES_UP] = "UPDATE entry SET place = place + 1 WHERE item = ?1 AND place >= ?2 AND place < ?3",
    [SQL_ENTRIES_DOWN] = "UPDATE entry SET place = place - 1 WHERE item = ?1 AND place > ?2 AND place <= ?3",
    [SQL_ENTRY_PLACE] = "UPDATE entry SET place = ?3 WHERE item = ?1 AND path = ?2",
    [SQL_ENTRY_LAST] = "SELECT path, text FROM entry WHERE item = ?1 ORDER BY place DESC LIMIT 1",
    [SQL_ENTRIES_RENAME] = "UPDATE entry SET item = ?2 WHERE item = ?1",

    [SQL_EVENT_ADD] = "INSERT INTO event (seq, role, edit, title, who, at, sum)"
                      " VALUES (?1, ?2, nullif(?3, 0), ?4, ?5, ?6, 0)",
    [SQL_EVENT_SUM] = "UPDATE event SET sum = ?2 WHERE seq = ?1",
    [SQL_EVENT_SUM_OF] = "SELECT sum FROM event WHERE seq = ?1",
    [SQL_EVENTS_DOWN] =
        "SELECT seq, title, who, at, role, edit FROM event WHERE seq <= ?1 ORDER BY seq DESC",
    [SQL_EVENTS_AFTER] = "SELECT seq, role, edit, title, who, at, sum FROM event WHERE seq > ?1 ORDER BY seq",
    [SQL_CHANGE_ADD] =
        "INSERT INTO change (seq, n, what, item, path, before, after) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    [SQL_CHANGES_AFTER] = "SELECT n, what, item, path, before, after, seq FROM change WHERE seq > ?1"
                          " ORDER BY seq, n",
    [SQL_CHANGES_DOWN] = "SELECT n, what, item, path, before, after, seq FROM change WHERE seq <= ?1"
                         " ORDER BY seq DESC, n DESC",
    [SQL_LAST_CHANGE] = "SELECT e.who, e.at FROM change c JOIN event e ON e.seq = c.seq"
                        " WHERE c.item = ?1 AND c.path = ?2 ORDER BY c.seq DESC LIMIT 1",

    [SQL_TABLE_PUT] =
        "INSERT INTO part_table (file, checksum, shipped, csv) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (file)"
        " DO UPDATE SET checksum = ?2, shipped = ?3, csv = ?4",
    [SQL_TABLE] = "SELECT file, checksum, shipped, csv FROM part_table WHERE file = ?1",
    [SQL_TABLE_AFTER] =
        "SELECT file, checksum, shipped, csv FROM part_table WHERE file > ?1 ORDER BY file LIMIT 1",
    [SQL_ROW_ADD] = "INSERT INTO part_row (file, line, cells) VALUES (?1, ?2, ?3)",
    [SQL_ROWS_DROP] = "DELETE FROM part_row WHERE file = ?1",

    [SQL_SEAL] = "SELECT sum FROM seal WHERE part = ?1",
    [SQL_SEAL_PUT] = "UPDATE seal SET sum = ?2 WHERE part = ?1",
    [SQL_SUM_ITEMS] = "SELECT name, kind, place FROM item ORDER BY name",
    [SQL_SUM_ENTRIES] = "SELECT item, path, place, text FROM entry ORDER BY item, path",
    [SQL_SUM_TABLES] = "SELECT file, checksum, shipped, csv FROM part_table ORDER BY file",
    [SQL_SUM_ROWS] = "SELECT file, line, cells FROM part_row ORDER BY file, line",
};

static int bind(sqlite3_stmt *st, const char *types, va_list args)
{
    int rc = SQLITE_OK;
    for (int i = 1; *types && rc == SQLITE_OK; types++, i++) {
        if (*types == 'i') {
            rc = sqlite3_bind_int64(st, i, va_arg(args, int64_t));
            continue;
        }
        const char *text = va_arg(args, const char *);
        size_t length = *types == 'b' ? va_arg(args, size_t) : text ? strlen(text) : 0;
        rc = sqlite3_bind_text64(st, i, text, length, SQLITE_STATIC, SQLITE_UTF8);
    }
    return rc;
}

static sqlite3_stmt *get(struct store *s, enum sql which, const char *types, va_list args)
{
    if (s->rc != SQLITE_OK)
        return NULL;
    sqlite3_stmt **st = &s->statements[which];
    if (!*st)
        s->rc = sqlite3_prepare_v3(s->db, texts[which], -1, SQLITE_PREPARE_PERSISTENT, st, NULL);
    if (s->rc == SQLITE_OK)
        s->rc = bind(*st, types, args);
    return s->rc == SQLITE_OK ? *st : NULL;
}

sqlite3_stmt *sql_get(struct store *s, enum sql which, const char *types, ...)
{
    va_list args;
    va_start(args, types);
    sqlite3_stmt *st = get(s, which, types, args);
    va_end(args);
    return st;
}

bool sql_row(struct store *s, sqlite3_stmt *st)
{
    if (!st)
        return false;
    int rc = s->rc == SQLITE_OK ? sqlite3_step(st) : SQLITE_DONE;
    if (rc == SQLITE_ROW)
        return true;
    if (rc != SQLITE_DONE)
        s->rc = rc;
    sqlite3_reset(st);
    return false;
}

bool sql_do(struct store *s, enum sql which, const char *types, ...)
{
    va_list args;
    va_start(args, types);
    sqlite3_stmt *st = get(s, which, types, args);
    va_end(args);
    while (sql_row(s, st))
        ;
    return s->rc == SQLITE_OK;
}

int64_t sql_number(struct store *s, enum sql which, int64_t fallback, const char *types, ...)
{
    va_list args;
    va_start(args, types);
    sqlite3_stmt *st = get(s, which, types, args);
    va_end(args);
    if (!sql_row(s, st))
        return fallback;
    int64_t number = sqlite3_column_int64(st, 0);
    sqlite3_reset(st);
    return number;
}

const char *sql_text(sqlite3_stmt *st, int column)
{
    const char *text = (const char *)sqlite3_column_text(st, column);
    return text ? text : "";
}

char *sql_copy(struct base_arena *a, sqlite3_stmt *st, int column)
{
    return base_arena_copy(a, (const char *)sqlite3_column_text(st, column));
}

void sql_finish(struct store *s)
{
    for (int i = 0; i < SQL_COUNT; i++) {
        sqlite3_finalize(s->statements[i]);
        s->statements[i] = NULL;
    }
}

/* ---- calls and transactions -------------------------------------------------------- */

void store_begin(struct store *s)
{
    s->rc = SQLITE_OK;
    base_arena_done(&s->lent);
}

enum base_err store_begin_write(struct store *s, struct base_diag *why)
{
    s->rc = SQLITE_OK;
    if (s->readonly)
        return base_fail(
            why, BASE_NOT_SAVED,
            "not saved: %s is open for looking only. Save the job to another place to keep the edit.",
            s->path);
    return sql_do(s, SQL_WRITE, "") ? BASE_OK : sql_not_saved(s, why);
}

void store_rollback(struct store *s)
{
    /* A full disk or a fault may have ended the transaction already. */
    int rc = s->rc;
    s->rc = SQLITE_OK;
    if (!sqlite3_get_autocommit(s->db))
        sql_do(s, SQL_ROLLBACK, "");
    s->rc = rc;
}

/* ---- sentences --------------------------------------------------------------------- */

/* SQLite takes "there are no locks here" for "somebody else has it". */
static const char *no_locks = "%s%s lies where files cannot be locked (%s), so that two people could write "
                              "to it at once. Copy it to a disk where "
                              "they can, and work on it there.";

enum base_err sql_not_saved(const struct store *s, struct base_diag *why)
{
    const char *path = *s->path ? s->path : "the job in memory";
    switch (s->rc & 0xff) {
    case SQLITE_FULL:
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: the disk is full. %s is as it was before; make room on the disk, "
                         "or save the job to another place.",
                         path);
    case SQLITE_BUSY:
        if (store_lock_fault(s))
            return base_fail(why, BASE_NOT_SAVED, no_locks, "not saved: ", path,
                             strerror(store_lock_fault(s)));
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: somebody else has been writing to %s for 3 seconds. Try again.", path);
    case SQLITE_READONLY:
        if (s->rc == SQLITE_READONLY_DBMOVED)
            return base_fail(why, BASE_NOT_SAVED,
                             "not saved: %s has been moved, removed or replaced since it was opened. "
                             "Save the job to another place.",
                             path);
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: %s or its folder may not be written. Save the job to another place.",
                         path);
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: nothing can be written beside %s; its folder may be gone or closed. "
                         "Save the job to another place.",
                         path);
    case SQLITE_TOOBIG:
        return base_fail(why, BASE_REFUSED, "A text may have %d bytes at most; this one is longer.",
                         STORE_TEXT_LIMIT);
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_ERROR: /* a statement of ours finds no table: the file was cut or written over */
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: %s has been damaged. Save the job to another place, "
                         "and look for the last good copy.",
                         path);
    case SQLITE_IOERR:
        if (store_lock_fault(s))
            return base_fail(why, BASE_NOT_SAVED, no_locks, "not saved: ", path,
                             strerror(store_lock_fault(s)));
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: the disk reports a fault at %s. The file is as it was before; "
                         "save the job to another place.",
                         path);
    default:
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: %s cannot be written (%s). Save the job to another place.", path,
                         sqlite3_errstr(s->rc));
    }
}

enum base_err sql_unreadable(const struct store *s, struct base_diag *why)
{
    switch (s->rc & 0xff) {
    case SQLITE_BUSY:
        if (store_lock_fault(s))
            return base_fail(why, BASE_UNREADABLE, no_locks, "", s->path, strerror(store_lock_fault(s)));
        return base_fail(why, BASE_UNREADABLE,
                         "%s cannot be read: somebody else has been writing to it for 3 seconds. Try again.",
                         s->path);
    case SQLITE_READONLY:
    case SQLITE_CANTOPEN:
        return base_fail(
            why, BASE_UNREADABLE,
            "%s cannot be read: its last edit was cut off half way, and putting that right needs "
            "leave to write the file and its folder. Open it once with that leave.",
            s->path);
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_TOOBIG:
        return base_fail(
            why, BASE_UNREADABLE,
            "%s is damaged: it does not hold together. It was left as it is; take the last good copy.",
            s->path);
    case SQLITE_IOERR:
        return base_fail(
            why, BASE_UNREADABLE,
            "%s cannot be read: the disk reports a fault. Copy what can be copied to another disk.", s->path);
    default:
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read (%s).", s->path, sqlite3_errstr(s->rc));
    }
}
