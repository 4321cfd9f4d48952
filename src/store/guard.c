/* The way to the disk: SQLite's own, with a guard at the door.
 *
 * Each store has its own. It lets SQLite see a journal only when that is the job's own (journal.c), asked at
 * the moment at which SQLite looks for one: it then holds the file for reading and nobody holds it for
 * writing, so that neither file can change under the answer. It opens no super-journal and no write-ahead
 * log, and deletes nothing but the job's journal.
 */

#include "store/inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool is_beside(const struct guard *g, const char *name, const char *suffix)
{
    size_t n = g->name ? strlen(g->name) : 0;
    return name && n && strncmp(name, g->name, n) == 0 && strcmp(name + n, suffix) == 0;
}

/* ---- putting aside ----------------------------------------------------------------------- */

/* Rename without taking anybody's name; the folder may know no such call, and then a look has to do. */
static int rename_free(const char *from, const char *to)
{
    struct stat st;
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return 0;
    if (errno != EINVAL && errno != ENOSYS)
        return -1;
    if (lstat(to, &st) == 0) {
        errno = EEXIST;
        return -1;
    }
    return rename(from, to);
}

/* Give FROM a name that nobody has, JOURNAL.aside or with a number behind it. Yours to free(); NULL with
   errno. */
static char *put_aside(const char *from, const char *journal)
{
    for (int i = 1; i < 1000; i++) {
        char *name = i == 1 ? base_format("%s.aside", journal) : base_format("%s.aside-%d", journal, i);
        if (rename_free(from, name) == 0)
            return name;
        int cause = errno;
        free(name);
        errno = cause;
        if (cause != EEXIST && cause != ENOTEMPTY)
            return NULL;
    }
    return NULL;
}

/* A new journal of the same pages in the place of JOURNAL, which goes aside: at no moment is there none. */
static char *exchange(const char *journal, const struct store_bytes *pages)
{
    char *part = base_format("%s.part", journal), *aside = NULL;
    int fd = open(part, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd >= 0) {
        bool written = write(fd, pages->at, pages->length) == (ssize_t)pages->length && fsync(fd) == 0;
        close(fd);
        if (written && renameat2(AT_FDCWD, part, AT_FDCWD, journal, RENAME_EXCHANGE) == 0)
            aside = put_aside(part, journal);
        else
            unlink(part);
    }
    free(part);
    return aside;
}

/* ---- the question whether there is a journal ------------------------------------------------ */

static int read_job(sqlite3_file *f, struct store_bytes *out)
{
    sqlite3_int64 size = 0;
    int rc = f->pMethods->xFileSize(f, &size);
    *out = (struct store_bytes){0};
    if (rc == SQLITE_OK && size > INT32_MAX)
        rc = SQLITE_TOOBIG;
    if (rc != SQLITE_OK || size == 0)
        return rc;
    *out = (struct store_bytes){base_alloc((size_t)size), (size_t)size};
    return f->pMethods->xRead(f, out->at, (int)size, 0);
}

static const char *last_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void tell(struct store *s, const char *journal, const char *aside, enum journal verdict)
{
    int cause = errno;
    if (verdict == JOURNAL_MARRED)
        store_warn(s,
                   "%s lay beside the job and named another file to be deleted. That was not done; the edit "
                   "that was cut off was "
                   "taken back, and what lay there is now %s.",
                   last_name(journal), last_name(aside));
    else if (aside)
        store_warn(
            s, "%s lay beside the job and is not of it; the job is whole without it. It was put aside as %s.",
            last_name(journal), last_name(aside));
    else
        store_warn(s,
                   "%s lies beside the job and is not of it; the job is whole without it. It may not be put "
                   "aside (%s), so the job is open "
                   "for looking only.",
                   last_name(journal), strerror(cause));
}

/* Do what the verdict asks for; *THERE is what SQLite is told. */
static int act_on(struct guard *g, const char *journal, struct journal_found *f, int *there)
{
    struct store *s = g->store;
    char *aside = NULL;
    int rc = SQLITE_OK;
    *there = f->verdict == JOURNAL_OWN || f->verdict == JOURNAL_IDLE || f->verdict == JOURNAL_MARRED;
    if (f->verdict == JOURNAL_HOPELESS)
        return SQLITE_CORRUPT;
    if (f->verdict == JOURNAL_MARRED && sqlite3_db_readonly(s->db, "main") == 0)
        aside = exchange(journal, &f->pages);
    else if (f->verdict == JOURNAL_FOREIGN)
        aside = put_aside(journal, journal);
    if (f->verdict == JOURNAL_FOREIGN || aside)
        tell(s, journal, aside, f->verdict);
    if (f->verdict == JOURNAL_FOREIGN && !aside) {
        s->readonly = true;
        if (lstat(journal, &g->passed_by) != 0)
            g->passed_by = (struct stat){0};
    }
    if (f->verdict == JOURNAL_MARRED && !aside)
        rc = SQLITE_READONLY_ROLLBACK;
    free(aside);
    return rc;
}

/* A journal that could not be put aside, and is still the same. */
static bool is_passed_by(const struct guard *g, const char *journal)
{
    struct stat st;
    const struct stat *p = &g->passed_by;
    return p->st_ino && lstat(journal, &st) == 0 && st.st_dev == p->st_dev && st.st_ino == p->st_ino &&
           st.st_size == p->st_size && st.st_mtim.tv_sec == p->st_mtim.tv_sec &&
           st.st_mtim.tv_nsec == p->st_mtim.tv_nsec;
}

static int settle(struct guard *g, const char *journal, int *there)
{
    struct store *s = g->store;
    struct store_bytes job;
    struct journal_found found = {0};
    struct stat st;
    int moved = 0;
    *there = 0;
    if (lstat(journal, &st) != 0 || is_passed_by(g, journal))
        return SQLITE_OK;
    if (g->file->pMethods->xFileControl(g->file, SQLITE_FCNTL_HAS_MOVED, &moved) == SQLITE_OK && moved)
        return SQLITE_OK; /* another file has the name now, and what lies beside it is of that one */
    int rc = g->file->pMethods->xCheckReservedLock(g->file, there);
    if (rc != SQLITE_OK || *there) /* somebody is at work: it is theirs, or our own */
        return rc;
    rc = read_job(g->file, &job);
    if (rc == SQLITE_OK)
        journal_judge(s, journal, &job, &found);
    free(job.at);
    if (rc == SQLITE_OK)
        rc = act_on(g, journal, &found, there);
    if (*there && !s->healed) { /* for those who may not put the file right */
        s->healed = found.before;
        found.before = NULL;
    }
    journal_found_done(&found);
    return rc;
}

/* ---- SQLite's calls --------------------------------------------------------------------------- */

static int guard_open(sqlite3_vfs *v, sqlite3_filename name, sqlite3_file *f, int flags, int *out_flags)
{
    struct guard *g = (struct guard *)v;
    f->pMethods = NULL;
    if (flags & (SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL))
        return SQLITE_CANTOPEN;
    if ((flags & SQLITE_OPEN_MAIN_JOURNAL) && (flags & SQLITE_OPEN_CREATE) && g->store->readonly)
        return SQLITE_CANTOPEN;
    int rc = g->below->xOpen(g->below, name, f, flags, out_flags);
    if (rc == SQLITE_OK && (flags & SQLITE_OPEN_MAIN_DB) && !g->name) {
        g->name = base_copy(name);
        g->file = f;
    }
    return rc;
}

static int guard_delete(sqlite3_vfs *v, const char *name, int folder_too)
{
    struct guard *g = (struct guard *)v;
    return is_beside(g, name, "-journal") ? g->below->xDelete(g->below, name, folder_too)
                                          : SQLITE_IOERR_DELETE;
}

static int guard_access(sqlite3_vfs *v, const char *name, int flags, int *out)
{
    struct guard *g = (struct guard *)v;
    *out = 0;
    if (is_beside(g, name, "-wal"))
        return SQLITE_OK;
    if (is_beside(g, name, "-journal") && flags == SQLITE_ACCESS_EXISTS)
        return settle(g, name, out);
    return g->below->xAccess(g->below, name, flags, out);
}

/* SQLite knows the way by the name that is given back. */
static const char *install(struct guard *g, struct store *s)
{
    g->below = sqlite3_vfs_find(NULL);
    g->store = s;
    g->vfs = *g->below; /* what is not guarded goes straight there */
    snprintf(g->own_name, sizeof g->own_name, "job-%p", (void *)g);
    g->vfs.zName = g->own_name;
    g->vfs.xOpen = guard_open;
    g->vfs.xDelete = guard_delete;
    g->vfs.xAccess = guard_access;
    sqlite3_vfs_register(&g->vfs, 0);
    return g->own_name;
}

bool guard_connect(struct store *s, bool write)
{
    return store_connect(s, write, *s->path ? install(&s->guard, s) : NULL);
}
