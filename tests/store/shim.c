/* A layer over SQLite's own way to the disk. Each open file is followed in memory by the real one. Some calls
 * to the system stand here, too, in the place of the library's own. */

#include "shim.h"

#include "diewright/base.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <sys/vfs.h>
#include <unistd.h>

struct shim_file { sqlite3_file base; bool journal; };

static struct {
    sqlite3_vfs vfs, *real;
    long left; /* calls until the refused one; 0: none is waited for */
    long every; /* the next is this many behind it; 0: there is no next */
    bool full, for_good, half, hit, recording;
    BASE_VEC(struct shim_op) ops;
} shim;

static sqlite3_file *under(sqlite3_file *f) { return (sqlite3_file *)((struct shim_file *)f + 1); }
static bool is_journal(sqlite3_file *f) { return ((struct shim_file *)f)->journal; }

/* ---- refusing -------------------------------------------------------------------------- */

static bool refused(void)
{
    if (shim.hit && shim.for_good)
        return true;
    if (shim.left == 0 || --shim.left > 0)
        return false;
    shim.hit = true;
    shim.left = shim.every;
    return true;
}

void shim_fail(long at, bool full, bool for_good)
{
    shim.left = at;
    shim.full = full;
    shim.for_good = for_good;
    shim.every = 0;
    shim.half = shim.hit = false;
}

void shim_fail_every(long n, bool full, bool half)
{
    shim_fail(n, full, false);
    shim.every = n;
    shim.half = half;
}

bool shim_hit(void) { return shim.hit; }

/* ---- recording ------------------------------------------------------------------------- */

static void record(enum shim_kind kind, bool journal, long long offset, const void *bytes, size_t length)
{
    if (!shim.recording)
        return;
    struct shim_op op = {.kind = kind, .journal = journal, .offset = offset, .length = length};
    op.bytes = length ? memcpy(base_alloc(length), bytes, length) : NULL;
    base_vec_push(&shim.ops, op);
}

void shim_record(bool on) { shim.recording = on; }

const struct shim_op *shim_ops(size_t *count)
{
    *count = shim.ops.count;
    return shim.ops.at;
}

/* ---- files ------------------------------------------------------------------------------- */

static int file_close(sqlite3_file *f) { return under(f)->pMethods->xClose(under(f)); }

static int file_read(sqlite3_file *f, void *p, int n, sqlite3_int64 at)
{
    return under(f)->pMethods->xRead(under(f), p, n, at);
}

static int file_write(sqlite3_file *f, const void *p, int n, sqlite3_int64 at)
{
    if (refused()) {
        if (shim.half)
            under(f)->pMethods->xWrite(under(f), p, n / 2, at);
        return shim.full ? SQLITE_FULL : SQLITE_IOERR_WRITE;
    }
    record(SHIM_WRITE, is_journal(f), at, p, (size_t)n);
    return under(f)->pMethods->xWrite(under(f), p, n, at);
}

static int file_truncate(sqlite3_file *f, sqlite3_int64 size)
{
    if (refused())
        return shim.full ? SQLITE_FULL : SQLITE_IOERR_TRUNCATE;
    record(SHIM_TRUNCATE, is_journal(f), size, NULL, 0);
    return under(f)->pMethods->xTruncate(under(f), size);
}

static int file_sync(sqlite3_file *f, int flags)
{
    if (refused())
        return SQLITE_IOERR_FSYNC;
    record(SHIM_SYNC, is_journal(f), 0, NULL, 0);
    (void)flags;
    return SQLITE_OK; /* no test here outlives the machine */
}

static int file_size(sqlite3_file *f, sqlite3_int64 *size)
{
    return under(f)->pMethods->xFileSize(under(f), size);
}
static long locks;
long shim_locks(void) { return locks; }

static int file_lock(sqlite3_file *f, int lock)
{
    locks++;
    return under(f)->pMethods->xLock(under(f), lock);
}
static int file_unlock(sqlite3_file *f, int lock) { return under(f)->pMethods->xUnlock(under(f), lock); }
static int file_reserved(sqlite3_file *f, int *out)
{
    return under(f)->pMethods->xCheckReservedLock(under(f), out);
}
static int file_control(sqlite3_file *f, int op, void *arg)
{
    return under(f)->pMethods->xFileControl(under(f), op, arg);
}
static int file_sector(sqlite3_file *f) { return under(f)->pMethods->xSectorSize(under(f)); }

/* A disk that promises nothing, whatever this one does. */
static int file_traits(sqlite3_file *f) { (void)f; return 0; }

static const sqlite3_io_methods methods = {
    1, file_close, file_read, file_write, file_truncate, file_sync, file_size, file_lock, file_unlock,
    file_reserved, file_control, file_sector, file_traits, NULL, NULL, NULL, NULL, NULL, NULL,
};

/* ---- the file system ------------------------------------------------------------------------ */

static bool names_journal(const char *name)
{
    return name && strlen(name) > 8 && strcmp(name + strlen(name) - 8, "-journal") == 0;
}

static int vfs_open(sqlite3_vfs *v, const char *name, sqlite3_file *f, int flags, int *out_flags)
{
    (void)v;
    f->pMethods = NULL;
    if (refused())
        return SQLITE_CANTOPEN;
    int there = 1;
    if (name)
        shim.real->xAccess(shim.real, name, SQLITE_ACCESS_EXISTS, &there);
    int rc = shim.real->xOpen(shim.real, name, under(f), flags, out_flags);
    if (rc != SQLITE_OK)
        return rc;
    ((struct shim_file *)f)->journal = names_journal(name);
    f->pMethods = &methods;
    if (!there)
        record(SHIM_CREATE, is_journal(f), 0, NULL, 0);
    return SQLITE_OK;
}

static int vfs_delete(sqlite3_vfs *v, const char *name, int folder_too)
{
    (void)v;
    if (refused())
        return SQLITE_IOERR_DELETE;
    record(SHIM_DELETE, names_journal(name), 0, NULL, 0);
    if (shim.recording)
        shim.ops.at[shim.ops.count - 1].folder_too = folder_too != 0;
    return shim.real->xDelete(shim.real, name, folder_too);
}

void shim_install(void)
{
    locks = 0;
    shim.real = sqlite3_vfs_find(NULL);
    shim.vfs = *shim.real; /* the other calls need no file of ours */
    shim.vfs.zName = "shim";
    shim.vfs.szOsFile = (int)sizeof(struct shim_file) + shim.real->szOsFile;
    shim.vfs.xOpen = vfs_open;
    shim.vfs.xDelete = vfs_delete;
    shim_fail(0, false, false);
    sqlite3_vfs_register(&shim.vfs, 1);
}

void shim_remove(void)
{
    sqlite3_vfs_unregister(&shim.vfs);
    sqlite3_vfs_register(shim.real, 1);
    for (size_t i = 0; i < shim.ops.count; i++)
        free(shim.ops.at[i].bytes);
    base_vec_done(&shim.ops);
    shim.recording = false;
}

/* ---- calls to the system --------------------------------------------------------------------- */

static struct { long left, type; int error, lock_error; bool for_good, hit; } calls;

void shim_refuse(long at, int error, bool for_good)
{
    calls.left = at;
    calls.error = error;
    calls.for_good = for_good;
    shim.hit = calls.hit = false;
}

void shim_no_locks(int error) { calls.lock_error = error; }
void shim_file_system(long type) { calls.type = type; }

static bool call_refused(void)
{
    bool now = (calls.hit && calls.for_good) || (calls.left > 0 && --calls.left == 0);
    if (now) {
        shim.hit = calls.hit = true;
        errno = calls.error;
    }
    return now;
}

ssize_t write(int fd, const void *bytes, size_t n)
{
    /* Half of it, where the disk fills up. */
    if (call_refused())
        return calls.error == ENOSPC && n > 1 && !calls.for_good ? syscall(SYS_write, fd, bytes, n / 2) : -1;
    return syscall(SYS_write, fd, bytes, n);
}

int fsync(int fd) { return call_refused() ? -1 : (int)syscall(SYS_fsync, fd); }

int linkat(int a, const char *from, int b, const char *to, int flags)
{
    return call_refused() ? -1 : (int)syscall(SYS_linkat, a, from, b, to, flags);
}

int renameat2(int a, const char *from, int b, const char *to, unsigned flags)
{
    return call_refused() ? -1 : (int)syscall(SYS_renameat2, a, from, b, to, flags);
}

int fcntl(int fd, int command, ...)
{
    va_list args;
    va_start(args, command);
    void *arg = va_arg(args, void *);
    va_end(args);
    if (calls.lock_error && (command == F_SETLK || command == F_SETLKW || command == F_GETLK)) {
        errno = calls.lock_error;
        return -1;
    }
    return (int)syscall(SYS_fcntl, fd, command, arg);
}

int fcntl64(int fd, int command, ...) __attribute__((alias("fcntl")));

int statfs(const char *path, struct statfs *out)
{
    int rc = (int)syscall(SYS_statfs, path, out);
    if (rc == 0 && calls.type)
        out->f_type = calls.type;
    return rc;
}
