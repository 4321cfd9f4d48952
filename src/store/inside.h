/* store/inside.h - what the files of this room share
 *
 *   schema.c   what stands in a file, and how an older form becomes the newest
 *   sql.c      every statement the room runs, in one table; faults as sentences
 *   file.c     looking at a file before SQLite does, opening, checking, copying
 *   state.c    items and entries lent out
 *   apply.c    one change done to items and entries
 *   log.c      events: taking, undo, redo, history
 *   parts.c    parts tables
 *   seal.c     check sums over all of it
 *
 * A call of the room begins with store_begin (or store_begin_write) and runs until its first fault; that
 * fault stays in `rc` and all later statements of the call do nothing, so that one look at
 * the end of a run of statements is enough. No transaction outlives the call that began it.
 */
#ifndef DIEWRIGHT_STORE_INSIDE_H
#define DIEWRIGHT_STORE_INSIDE_H

#include <sqlite3.h>

#include "diewright/store.h"

enum sql {
    SQL_READ, SQL_WRITE, SQL_COMMIT, SQL_ROLLBACK, SQL_DATA_VERSION, SQL_QUICK_CHECK, SQL_SCHEMA,
    SQL_ITEMS, SQL_ENTRIES,
    SQL_ITEM, SQL_ITEM_COUNT, SQL_ITEM_ADD, SQL_ITEM_KIND, SQL_ITEM_DROP, SQL_ITEMS_UP, SQL_ITEMS_DOWN, SQL_ITEM_PLACE,
    SQL_ENTRY, SQL_ENTRY_COUNT, SQL_ENTRY_ADD, SQL_ENTRY_TEXT, SQL_ENTRY_DROP, SQL_ENTRIES_UP, SQL_ENTRIES_DOWN,
    SQL_ENTRY_PLACE, SQL_ENTRY_LAST, SQL_ENTRIES_RENAME,
    SQL_EVENT_ADD, SQL_EVENT_SUM, SQL_EVENT, SQL_EVENTS_AFTER, SQL_CHANGE_ADD, SQL_CHANGES, SQL_LAST_CHANGE,
    SQL_TABLE_PUT, SQL_TABLE_COUNT, SQL_TABLE, SQL_ROW_ADD, SQL_ROWS_DROP,
    SQL_SEAL, SQL_SEAL_PUT, SQL_SUM_ITEMS, SQL_SUM_ENTRIES, SQL_SUM_TABLES, SQL_SUM_ROWS,
    SQL_COUNT
};

enum { STORE_TEXT_LIMIT = 990000 }; /* bytes of one text, a parts table among them; its row stays under 1,000,000 */

/* One step from form FROM to the next; its SQL runs in one transaction with the new form's number. */
struct schema_step { int from; const char *sql; };
struct schema { int form; const char *sql; const struct schema_step *steps; int n_steps; };
extern const struct schema store_schema;

/* Changes with texts of their own. */
struct applied { BASE_VEC(struct store_change) at; struct base_arena memory; };

struct store {
    sqlite3 *db;
    sqlite3_stmt *statements[SQL_COUNT]; /* prepared when first wanted */
    int rc;                              /* the call's first fault, SQLite's extended code */
    char *path;                          /* "" in memory */
    char *warning;
    bool readonly;
    int data_version;
    struct base_arena lent;              /* what the last call lent out */

    /* The log as far as it was read: event i has the number i + 1. */
    BASE_VEC(bool) taken_back;           /* an edit that does not hold at present */
    BASE_VEC(int64_t) done, undone;        /* edits to undo, to redo; the next one last */
    uint64_t chain;                      /* sum of the last event */
    size_t seen;                         /* events that stood there when the items were last lent */
};

/* ---- sql.c ----------------------------------------------------------------------- */

/* The statement with its values bound: 't' text or NULL, 'b' text and size_t length, 'i' int64_t. NULL after a fault. */
sqlite3_stmt *sql_get(struct store *s, enum sql which, const char *types, ...);
/* The next row; false at the end and at a fault, and the statement is at rest again. */
bool sql_row(struct store *s, sqlite3_stmt *st);
/* Run a statement that gives no rows (or whose rows do not matter). False after a fault. */
bool sql_do(struct store *s, enum sql which, const char *types, ...);
/* Its first column as a number; FALLBACK without a row. */
int64_t sql_number(struct store *s, enum sql which, int64_t fallback, const char *types, ...);
const char *sql_text(sqlite3_stmt *st, int column); /* NULL is NULL; good until the next step */
char *sql_copy(struct base_arena *a, sqlite3_stmt *st, int column);
void sql_finish(struct store *s);

enum base_err sql_not_saved(const struct store *s, struct base_diag *why); /* the sentence of S->rc after a write */
enum base_err sql_unreadable(const struct store *s, struct base_diag *why); /* ... after a read */

void store_begin(struct store *s);
NODISCARD enum base_err store_begin_write(struct store *s, struct base_diag *why);
void store_rollback(struct store *s);

/* ---- the other files ------------------------------------------------------------- */

/* Write the schema into an empty database. */
bool schema_write(struct store *s, const struct schema *schema);
/* Is what stands in the file exactly this schema? */
bool schema_matches(struct store *s, const struct schema *schema);
/* Bring an open file of form FORM to the schema's, one transaction a step. */
NODISCARD enum base_err schema_upgrade(struct store *s, const struct schema *schema, int form, struct base_diag *why);
/* store_open for a schema of the caller's. */
NODISCARD enum base_err store_open_as(const char *path, bool readonly, const struct schema *schema, struct store **out,
                                      struct base_diag *why);

/* Do C to items and entries, first checking its `before`; what was done is added to DONE, with moves
 * to the end put before what is taken out, so that DONE can be taken back change by change. */
NODISCARD enum base_err apply_change(struct store *s, const struct store_change *c, struct applied *done, struct base_diag *why);
void applied_add(struct applied *a, enum store_what what, const char *item, const char *path, const char *before, const char *after);
void applied_done(struct applied *a);

/* Read the events that came since; a broken chain of sums is SQLITE_CORRUPT. */
void log_catch_up(struct store *s);

/* The sums of what stands there now, and the row that keeps them. */
uint64_t seal_of_state(struct store *s);
uint64_t seal_of_parts(struct store *s);
void seal_put(struct store *s, const char *part, uint64_t sum);
uint64_t seal_get(struct store *s, const char *part);
/* Commit what gave PART this SUM in place of BEFORE. A commit that fails while the journal is being put away may have
 * reached the file all the same: then it is looked for there, and made sure by one more. */
bool seal_commit(struct store *s, const char *part, uint64_t before, uint64_t sum);
/* Add a row's columns to a text to be summed. */
void seal_row(struct base_text *t, sqlite3_stmt *st, int columns);

#endif
