/* diewright/store.h - a job's file: one SQLite file, every edit durable
 *
 * Knows items, entries, parts tables and events as texts; no trade. The only room with SQLite.
 * Items, entries and changes are those of typed.h; an *event* is a group of changes taken together, with who
 * and when; undo appends the inverse to the same log, whichever edit it takes back.
 * Uses: typed, table, record, unit, base.
 */
#ifndef DIEWRIGHT_STORE_H
#define DIEWRIGHT_STORE_H

#include "diewright/typed.h"

#include <time.h>

struct store;

/* An existing file. Checked before use: foreign, newer, truncated, damaged files are BASE_UNREADABLE, each
 * with its sentence; not a byte is written to them. READONLY: for looking; also taken (and told by
 * store_readonly) when the file or its folder cannot be written. */
NODISCARD enum base_err store_open(const char *path, bool readonly, struct store **out,
                                   struct base_diag *why);
/* In memory only: the demo printed, tests, practice. */
struct store *store_open_memory(void);
void store_close(struct store *s);
bool store_readonly(const struct store *s);
const char *store_path(const struct store *s); /* "" in memory */
/* A sentence when the file lies where locking cannot be relied on (NFS, SMB, FUSE ...); "" elsewhere. */
const char *store_warning(const struct store *s);

/* All items in order, all entries in order of their items and places, as one edit left them. Borrowed until
 * the next call on S. */
struct store_state {
    const struct typed_item *items; int n_items;
    const struct typed_entry *entries; int n_entries;
};
NODISCARD enum base_err store_read(struct store *s, struct store_state *out, struct base_diag *why);


/* Take an event: all changes or none, on disk when it returns BASE_OK. Each change finds what those before it
 * left. BASE_CONFLICT when a before does not match what the file holds now (somebody else's edit): nothing is
 * taken, *WHY says what stands there. BASE_NOT_SAVED: disk full, read-only, input/output fault: nothing is
 * taken, the file is as before. BASE_REFUSED: a text of more than 990,000 bytes. What changes nothing is not
 * kept as an event.
 *
 * What is added stands last. What is taken out is moved to the end first, and an item's entries go before it,
 * each as a change that the event then holds as well: so an event can be taken back change by change. A place
 * or order without a `before` is not compared; one beyond the ends means the end. */
NODISCARD enum base_err store_take(struct store *s, const char *title, const char *who,
                                   const struct typed_change *changes, int n, struct base_diag *why);
/* The same, but BASE_CONFLICT when somebody's event came after this store was last read
   (store_read). */
NODISCARD enum base_err store_take_seen(struct store *s, const char *title, const char *who,
                                        const struct typed_change *changes, int n, struct base_diag *why);
/* Take back EDIT, which stands, or do it again, which was taken back, by CHANGES: those that store_standing()
 * and store_taken_back() tell of it, turned round, as far as they fit the job as it is. An edit is taken back
 * wherever it stands among the others. The log gets an event of its own, "undone: TITLE" or "done again:
 * TITLE". BASE_UNKNOWN: it does not stand (was not taken back). BASE_CONFLICT: as store_take(), and as
 * store_take_seen(): nothing is undone unseen. */
NODISCARD enum base_err store_undo(struct store *s, long edit, const char *who,
                                   const struct typed_change *changes, int n, struct base_diag *why);
NODISCARD enum base_err store_redo(struct store *s, long edit, const char *who,
                                   const struct typed_change *changes, int n, struct base_diag *why);
/* The newest events first, at most ROOM; borrowed until the next call. */
int store_history(struct store *s, const struct typed_event **events, int room);
long store_event_count(struct store *s);
uint64_t store_event_sum(struct store *s, long event); /* over it and all before it; 0: there is none */
/* The edits that stand, those taken back left out, the one done last first; those taken back that can be done
 * again (a writer's new edit ends what that writer took back), the one taken back last first. At most ROOM;
 * borrowed until the next call. */
int store_standing(struct store *s, const struct typed_event **events, int room);
int store_taken_back(struct store *s, const struct typed_event **events, int room);
/* The changes of an event that take it back, the last first. Turns them round where they stand. */
void store_turn_round(struct typed_change *changes, int n);
/* This moment as events tell it, "2024-05-01T10:20:30+02:00". Returns BUF. */
const char *store_now(char *buf, size_t size);
const char *store_time(time_t when, char *buf, size_t size);

/* Has somebody else changed the file since last asked? */
bool store_changed(struct store *s);

/* Parts tables kept in the job: file name, CSV text, checksum, and whether it is the shipped text; all that
   are put or none. */
struct store_table { const char *file, *csv; size_t length; uint64_t checksum; bool shipped; };
NODISCARD enum base_err store_put_tables(struct store *s, const struct store_table *tables, int n,
                                         struct base_diag *why);
uint64_t store_tables_sum(struct store *s); /* another one when any of them has changed */
/* The table of this file name; the first whose name comes behind FILE ("": of all). False: there is none.
 * What is told is borrowed until the next call on S. */
bool store_table(struct store *s, const char *file, struct store_table *out);
bool store_table_after(struct store *s, const char *file, struct store_table *out);

/* A whole copy under a new name, checked before it takes the name. */
NODISCARD enum base_err store_copy(struct store *s, const char *path, struct base_diag *why);

#endif
