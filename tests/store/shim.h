/* tests/store/shim.h - SQLite's file calls, counted, refused and recorded
 *
 * Once installed it is the default way to the disk for all connections opened later. Nothing is really
 * synced, which is faster.
 */
#ifndef DIEWRIGHT_TESTS_STORE_SHIM_H
#define DIEWRIGHT_TESTS_STORE_SHIM_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stddef.h>

void shim_install(void);
void shim_remove(void); /* forgets what was recorded, too */

/* Refuse the AT-th call from now (1 is the next; 0: none) that writes, syncs, truncates, deletes
 * or opens; with FOR_GOOD all later ones too. FULL: writing finds the disk full, else a fault. */
void shim_fail(long at, bool full, bool for_good);
/* Every N-th of them, until it is told otherwise; HALF: what is refused to a write has gone out by half. */
void shim_fail_every(long n, bool full, bool half);
bool shim_hit(void); /* has a call been refused since? */
long shim_locks(void); /* locks asked for by SQLite since the shim was installed */

/* The program's own calls to the system, beside SQLite's: refuse the AT-th write, fsync, link or rename from
 * now with errno ERROR, with FOR_GOOD all later ones too; 0: none. And all locks of files with errno ERROR,
 * 0: none. And let statfs tell this type of file system, 0: the true one. */
void shim_refuse(long at, int error, bool for_good);
void shim_no_locks(int error);
void shim_file_system(long type);

enum shim_kind { SHIM_WRITE, SHIM_TRUNCATE, SHIM_SYNC, SHIM_CREATE, SHIM_DELETE };
struct shim_op {
    enum shim_kind kind;
    bool journal;     /* of the journal, else of the file itself */
    bool folder_too;  /* SHIM_DELETE: the folder was brought to the disk */
    long long offset; /* SHIM_TRUNCATE: the new size */
    unsigned char *bytes;
    size_t length;
};
/* Record from here on. */
void shim_record(bool on);
const struct shim_op *shim_ops(size_t *count);

#endif
