/* store/inside.h - what the files of this room share
 *
 *   schema.c   what stands in a file, and how an older form becomes the newest
 *   sql.c      every statement the room runs, in one table; faults as sentences
 *   bytes.c    a file as bytes: its folder, its locks, the copy kept of it
 *   connect.c  a store over an open database: hardened, checked whole, closed
 *   file.c     looking at a file before SQLite does, opening it
 *   fresh.c    new files: copies, older forms brought up to date
 *   guard.c    SQLite's way to the disk, with a guard at the door
 *   journal.c  is the journal that lies beside a job the job's own?
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
#include <sys/stat.h>

#include "diewright/store.h"

enum sql {
    SQL_READ,
    SQL_WRITE,
    SQL_COMMIT,
    SQL_ROLLBACK,
    SQL_DATA_VERSION,
    SQL_QUICK_CHECK,
    SQL_SCHEMA,
    SQL_ITEMS,
    SQL_ENTRIES,
    SQL_ITEM,
    SQL_ITEM_COUNT,
    SQL_ITEM_ADD,
    SQL_ITEM_KIND,
    SQL_ITEM_DROP,
    SQL_ITEMS_UP,
    SQL_ITEMS_DOWN,
    SQL_ITEM_PLACE,
    SQL_ENTRY,
    SQL_ENTRY_COUNT,
    SQL_ENTRY_ADD,
    SQL_ENTRY_TEXT,
    SQL_ENTRY_DROP,
    SQL_ENTRIES_UP,
    SQL_ENTRIES_DOWN,
    SQL_ENTRY_PLACE,
    SQL_ENTRY_LAST,
    SQL_ENTRIES_RENAME,
    SQL_EVENT_ADD,
    SQL_EVENT_SUM,
    SQL_EVENT_SUM_OF,
    SQL_EVENTS_DOWN,
    SQL_EVENTS_AFTER,
    SQL_CHANGE_ADD,
    SQL_CHANGES_AFTER,
    SQL_CHANGES_DOWN,
    SQL_LAST_CHANGE,
    SQL_TABLE_PUT,
    SQL_TABLE,
    SQL_TABLE_AFTER,
    SQL_ROW_ADD,
    SQL_ROWS_DROP,
    SQL_SEAL,
    SQL_SEAL_PUT,
    SQL_SUM_ITEMS,
    SQL_SUM_ENTRIES,
    SQL_SUM_TABLES,
    SQL_SUM_ROWS,
    SQL_COUNT
};
enum { CHANGE_SEQ = 6 }; /* the column of changes that tells their event */

/* bytes of one text, a parts table among them; its row stays under 1,000,000 */
enum { STORE_TEXT_LIMIT = 990000 };

/* One step from form FROM to the next; its SQL runs in one transaction with the new form's number. "": the
 * tables stay, what may stand in them is more, and a file of the form before is read as it is. */
struct schema_step { int from; const char *sql; };
struct schema { int form; const char *sql; const struct schema_step *steps; int n_steps; };
extern const struct schema store_schema;

/* Changes with texts of their own. */
struct applied { BASE_VEC(struct typed_change) at; struct base_arena memory; };

struct store_bytes { unsigned char *at; size_t length; };

/* A store's own way to the disk (guard.c). The file is SQLite's, the names are as SQLite spells them. */
struct guard {
    sqlite3_vfs vfs; /* first: SQLite hands back its address */
    sqlite3_vfs *below;
    struct store *store;
    char own_name[32];
    char *name;             /* of the job; NULL until it is open */
    sqlite3_file *file;
    struct stat passed_by;  /* the journal that is not the job's and could not be put aside; st_ino 0: none */
};

/* An edit that stands, or that was taken back: by event BY (the edit itself, an undo, a redo), which WHO
   made. */
struct stand { int64_t edit, by; uint64_t who; };

struct store {
    sqlite3 *db;
    struct guard guard;
    const struct schema *schema;
    sqlite3_stmt *statements[SQL_COUNT]; /* prepared when first wanted */
    int rc;                              /* the call's first fault, SQLite's extended code */
    char *path;                          /* "" in memory */
    char *warning;
    bool readonly;
    /* in memory: the job with its last, half written edit taken back; NULL: not needed */
    struct store *healed;
    struct store_bytes kept;             /* the whole file as it was last known to be good, for rescue */
    int data_version;
    struct timespec waits_since;         /* for somebody else's writing to end */
    struct base_arena lent;              /* what the last call lent out */

    /* The log as far as it was read: event i has the number i + 1. */
    BASE_VEC(bool) taken_back;           /* an edit that does not hold at present */
    BASE_VEC(struct stand) done, undone; /* edits to undo, to redo; the next one last */
    uint64_t chain;                      /* sum of the last event */
    size_t seen;                         /* events that stood there when the items were last lent */
};

/* ---- sql.c ----------------------------------------------------------------------- */

/* The statement with its values bound: 't' text or NULL, 'b' text and size_t length, 'i' int64_t. NULL after
   a fault. */
sqlite3_stmt *sql_get(struct store *s, enum sql which, const char *types, ...);
/* The next row; false at the end and at a fault, and the statement is at rest again. */
bool sql_row(struct store *s, sqlite3_stmt *st);
/* Run a statement that gives no rows (or whose rows do not matter). False after a fault. */
bool sql_do(struct store *s, enum sql which, const char *types, ...);
/* Its first column as a number; FALLBACK without a row. */
int64_t sql_number(struct store *s, enum sql which, int64_t fallback, const char *types, ...);
const char *sql_text(sqlite3_stmt *st, int column); /* NULL is ""; good until the next step */
/* NULL is NULL: a change without a text before it, or after. */
char *sql_copy(struct base_arena *a, sqlite3_stmt *st, int column);
void sql_finish(struct store *s);

/* the sentence of S->rc after a write */
enum base_err sql_not_saved(const struct store *s, struct base_diag *why);
enum base_err sql_unreadable(const struct store *s, struct base_diag *why); /* ... after a read */

void store_begin(struct store *s);
NODISCARD enum base_err store_begin_write(struct store *s, struct base_diag *why);
void store_rollback(struct store *s);

/* ---- the other files ------------------------------------------------------------- */

/* Write the schema into an empty database. */
bool schema_write(struct store *s, const struct schema *schema);
/* Is what stands in the file exactly this schema? */
bool schema_matches(struct store *s, const struct schema *schema);
/* May a file of form FORM be read by SCHEMA as it stands? */
bool schema_reads(const struct schema *schema, int form);
/* Bring an open file of form FORM to the schema's, one transaction a step. */
NODISCARD enum base_err schema_upgrade(struct store *s, const struct schema *schema, int form,
                                       struct base_diag *why);
/* store_open for a schema of the caller's. */
NODISCARD enum base_err store_open_as(const char *path, bool readonly, const struct schema *schema,
                                      struct store **out, struct base_diag *why);

/* A store without a file yet, closed as any other. */
struct store *store_new(const char *path, bool readonly, const struct schema *schema);
/* Open the database at S->path, for writing where WRITE, or in memory when the path is "", by the way to the
   disk that SQLite knows as WAY, NULL: its own. False: S->rc. */
bool store_connect(struct store *s, bool write, const char *way);
/* All checks, in one view of the file. */
NODISCARD enum base_err store_check(struct store *s, struct base_diag *why);
/* The job in BYTES, in memory, for looking only, called as S is; NULL when it is not whole. */
struct store *store_of_bytes(const struct store_bytes *bytes, const struct store *s);
char *store_folder(const char *path); /* "." of a bare name; yours to free() */
/* Of an older form only this is known: does it hang together? */
NODISCARD enum base_err store_check_older(struct store *s, struct base_diag *why);
/* Why the file system gives no lock at all to FD (errno); 0: it does, be it to somebody else just now. */
int store_lock_fault_of(int fd);
/* The same of the store's file; 0 as well where nothing can be asked now. */
int store_lock_fault(const struct store *s);
/* Add a sentence to the warning. */
void store_warn(struct store *s, const char *fmt, ...) PRINTF_LIKE(2, 3);
/* All of what S holds, as a file of it would be; yours to sqlite3_free(). False: there is nothing. */
bool store_take_bytes(struct store *s, struct store_bytes *out);
/* Keep the whole file as it is now, for store_copy after the file has come to harm. */
void store_keep(struct store *s);
/* Bring the file at PATH from FORM to the form of the schema; the old file is kept under a name of its
   own. */
NODISCARD enum base_err store_upgrade(const char *path, const struct schema *schema, int form,
                                      struct base_diag *why);

/* store_connect with a guard of the store's own before a file; store_close takes it away. */
bool guard_connect(struct store *s, bool write);

enum journal {
    JOURNAL_NONE,
    JOURNAL_IDLE,     /* begun, and nothing written to the job yet: SQLite passes it by */
    JOURNAL_OWN,      /* of the edit that was cut off: SQLite may play it back */
    JOURNAL_MARRED,   /* the same, but it names another file */
    JOURNAL_FOREIGN,  /* not of this job, which is whole without it */
    JOURNAL_HOPELESS, /* the job is whole neither with it nor without */
};
struct journal_found {
    enum journal verdict;
    struct store *before;     /* the job with it played back; NULL: that is not whole */
    struct store_bytes pages; /* MARRED: the journal without that name */
};
/* What lies at PATH beside S, whose bytes are JOB. */
void journal_judge(struct store *s, const char *path, const struct store_bytes *job, struct journal_found *f);
void journal_found_done(struct journal_found *f);

/* Do C to items and entries, first checking its `before`; what was done is added to DONE, with moves
 * to the end put before what is taken out, so that DONE can be taken back change by change. */
NODISCARD enum base_err apply_change(struct store *s, const struct typed_change *c, struct applied *done,
                                     struct base_diag *why);
void applied_add(struct applied *a, enum typed_what what, const char *item, const char *path,
                 const char *before, const char *after);
void applied_done(struct applied *a);

/* Read the events that came since; a broken chain of sums is SQLITE_CORRUPT. */
void log_catch_up(struct store *s);
/* Is the log of A that of B, or has one event more? Both are read to their ends. */
bool log_follows(struct store *a, struct store *b);
/* Does the log of A begin with all that S has read of its own? */
bool log_holds(struct store *a, const struct store *s);

/* The sums of what stands there now, and the row that keeps them. */
uint64_t seal_of_state(struct store *s);
uint64_t seal_of_parts(struct store *s);
void seal_put(struct store *s, const char *part, uint64_t sum);
uint64_t seal_get(struct store *s, const char *part);
/* Commit what gave PART this SUM in place of BEFORE. A commit that fails while the journal is being put away
 * may have reached the file all the same: then it is looked for there, and made sure by one more. */
bool seal_commit(struct store *s, const char *part, uint64_t before, uint64_t sum);
/* Add a row's columns to a text to be summed. */
void seal_row(struct base_text *t, sqlite3_stmt *st, int columns);

#endif
