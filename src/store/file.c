/* A job's file: looked at before SQLite has it, opened with distrust, checked, copied, closed.
 *
 * Looking reads 100 bytes and closes again before SQLite opens the file; nothing here opens it
 * afterwards, for closing any descriptor of it would drop this process's locks. New files are made whole under
 * a name beside the wanted one, checked, brought to the disk and only then given the name.
 */

#include "store/inside.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <linux/magic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

enum { APPLICATION = 0x44574A42 }; /* "DWJB" */

/* SQLite takes "file:..." for an address and ":memory:" for no file; a path with a slash in front is only a path. */
static char *plain_path(const char *path) { return base_format("%s%s", *path == '/' ? "" : "./", path); }

static char *folder_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? base_copy_n(path, slash == path ? 1 : (size_t)(slash - path)) : base_copy(".");
}

/* ---- looking first ------------------------------------------------------------------- */

struct head { unsigned char bytes[100]; long read; long long size; };

static unsigned long number_at(const struct head *h, int offset)
{
    const unsigned char *p = h->bytes + offset;
    return (unsigned long)p[0] << 24 | (unsigned long)p[1] << 16 | (unsigned long)p[2] << 8 | p[3];
}

static enum base_err read_head(const char *path, struct head *h, struct base_diag *why)
{
    struct stat st;
    *h = (struct head){0};
    if (stat(path, &st) != 0)
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read: %s.", path, strerror(errno));
    if (S_ISDIR(st.st_mode))
        return base_fail(why, BASE_UNREADABLE, "%s is a folder, not a job file.", path);
    if (!S_ISREG(st.st_mode))
        return base_fail(why, BASE_UNREADABLE, "%s is not an ordinary file.", path);
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0)
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read: %s.", path, strerror(errno));
    h->read = read(fd, h->bytes, sizeof h->bytes);
    int cause = errno;
    close(fd);
    h->size = st.st_size;
    if (h->read < 0)
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read: %s.", path, strerror(cause));
    return BASE_OK;
}

static long long size_told(const struct head *h)
{
    int page = h->bytes[16] << 8 | h->bytes[17];
    return (long long)number_at(h, 28) * (page == 1 ? 65536 : page);
}

/* Shorter than it says, with no journal beside it that would make it whole again. */
static bool cut_short(const char *path, const struct head *h)
{
    char *journal = base_format("%s-journal", path);
    bool alone = access(journal, F_OK) != 0;
    free(journal);
    return alone && number_at(h, 24) == number_at(h, 92) && h->size < size_told(h);
}

/* What the first bytes tell. *FORM is the form of the file. */
static enum base_err look(const char *path, const struct schema *schema, int *form, struct base_diag *why)
{
    struct head h;
    enum base_err err = read_head(path, &h, why);
    if (err)
        return err;
    static const char magic[16] = "SQLite format 3";
    if (h.read == 0)
        return base_fail(why, BASE_UNREADABLE, "%s is empty. A job file never is: take the last good copy, or begin a new job.",
                         path);
    if (memcmp(h.bytes, magic, h.read < 16 ? (size_t)h.read : sizeof magic) != 0)
        return base_fail(why, BASE_UNREADABLE, "%s is not a job file: it does not begin like one.", path);
    if (h.read < (long)sizeof h.bytes)
        return base_fail(why, BASE_UNREADABLE, "%s is cut short: only %ld bytes are left. Take the last good copy.", path, h.read);
    if (number_at(&h, 68) != APPLICATION)
        return base_fail(why, BASE_UNREADABLE, "%s is not a job file: it is a database of another program.", path);
    if (number_at(&h, 60) == 0 || number_at(&h, 60) > 1000000)
        return base_fail(why, BASE_UNREADABLE, "%s is damaged: it does not say which form it has.", path);
    *form = (int)number_at(&h, 60);
    if (*form > schema->form)
        return base_fail(why, BASE_UNREADABLE, "%s was written by a newer version of diewright (form %d; this version knows "
                         "forms up to %d). Open it with that version.", path, *form, schema->form);
    if (h.bytes[18] != 1 || h.bytes[19] != 1)
        return base_fail(why, BASE_UNREADABLE, "%s is set to keep its edits in a second file beside it, which a job file never is.",
                         path);
    if (cut_short(path, &h))
        return base_fail(why, BASE_UNREADABLE, "%s is cut short: %lld bytes of %lld are left. Take the last good copy.", path,
                         h.size, size_told(&h));
    return BASE_OK;
}

static bool may_write(const char *path)
{
    char *folder = folder_of(path);
    bool may = access(path, W_OK) == 0 && access(folder, W_OK | X_OK) == 0;
    free(folder);
    return may;
}

static char *network_warning(const char *path)
{
    static const struct { unsigned long type; const char *name; } kinds[] = {
        {NFS_SUPER_MAGIC, "NFS"}, {SMB_SUPER_MAGIC, "SMB"},   {0xFF534D42u, "SMB"},
        {0xFE534D42u, "SMB"},     {FUSE_SUPER_MAGIC, "FUSE"}, {AFS_SUPER_MAGIC, "AFS"},
    };
    struct statfs fs;
    if (statfs(path, &fs) == 0)
        for (size_t i = 0; i < COUNT_OF(kinds); i++)
            if (((unsigned long)fs.f_type & 0xFFFFFFFFu) == kinds[i].type)
                return base_format("%s lies on another machine or a file system that may not lock (%s): let one person at a "
                                   "time edit it.", path, kinds[i].name);
    return base_copy("");
}

/* ---- opening --------------------------------------------------------------------------- */

static void harden(sqlite3 *db)
{
    static const struct { int what, on; } settings[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},   {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0}, {SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
        {SQLITE_DBCONFIG_ENABLE_VIEW, 0}, {SQLITE_DBCONFIG_ENABLE_FKEY, 1},    {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},     {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
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

/* The database at S->path ("" in memory) with all settings; nothing is read from the file's tables yet. */
static bool connect(struct store *s)
{
    int flags = s->readonly ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE;
    char *path = *s->path ? plain_path(s->path) : base_copy(":memory:");
    s->rc = sqlite3_open_v2(path, &s->db, flags | SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOMUTEX, NULL);
    free(path);
    if (s->rc != SQLITE_OK)
        return false;
    harden(s->db);
    sqlite3_busy_timeout(s->db, 3000);
    s->rc = sqlite3_exec(s->db, "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA temp_store = MEMORY", NULL, NULL, NULL);
    if (s->rc == SQLITE_OK && !s->readonly)
        s->rc = sqlite3_exec(s->db, "PRAGMA journal_mode = TRUNCATE; PRAGMA synchronous = EXTRA", NULL, NULL, NULL);
    return s->rc == SQLITE_OK;
}

static struct store *store_new(const char *path, bool readonly)
{
    struct store *s = base_alloc(sizeof *s);
    s->path = base_copy(path);
    s->warning = base_copy("");
    s->readonly = readonly;
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

/* All checks in one view of the file, so that somebody else's edit cannot fall between them. */
static enum base_err check(struct store *s, const struct schema *schema, struct base_diag *why)
{
    sql_do(s, SQL_READ, "");
    bool known = schema_matches(s, schema);
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
        err = base_fail(why, BASE_UNREADABLE, "%s is damaged, or another program has altered its tables. It was left as it is; take "
                        "the last good copy.", s->path);
    if (!err)
        sql_do(s, SQL_COMMIT, "");
    else
        store_rollback(s);
    s->seen = s->taken_back.count;
    s->data_version = (int)sql_number(s, SQL_DATA_VERSION, 0, "");
    return err;
}

static enum base_err open_checked(const char *path, bool readonly, const struct schema *schema, struct store **out,
                                  struct base_diag *why)
{
    struct store *s = store_new(path, readonly);
    enum base_err err = connect(s) ? check(s, schema, why) : sql_unreadable(s, why);
    if (err) {
        store_close(s);
        return err;
    }
    if (sqlite3_db_readonly(s->db, "main") == 1)
        s->readonly = true;
    *out = s;
    return BASE_OK;
}

struct store *store_open_memory(void)
{
    struct store *s = store_new("", false);
    bool made = connect(s) && schema_write(s, &store_schema);
    assert(made); /* nothing to fail but memory, and our own SQL */
    (void)made;
    store_changed(s); /* what was made is known */
    return s;
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
    base_vec_done(&s->taken_back);
    base_vec_done(&s->done);
    base_vec_done(&s->undone);
    base_arena_done(&s->lent);
    free(s->path);
    free(s->warning);
    free(s);
}

/* ---- new files --------------------------------------------------------------------------- */

static enum base_err refuse_taken(const char *path, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "%s exists already: choose another name.", path);
}

static enum base_err cannot_make(const char *path, int cause, struct base_diag *why)
{
    if (cause == ENOSPC || cause == EDQUOT)
        return base_fail(why, BASE_NOT_SAVED, "not saved: the disk is full. %s was not made; make room, or choose a place on "
                         "another disk.", path);
    return base_fail(why, BASE_NOT_SAVED, "not saved: %s cannot be made: %s. Choose another place.", path, strerror(cause));
}

/* An empty file beside PATH with a name nobody has. Yours to free(); NULL with errno. */
static char *name_beside(const char *path, const char *word)
{
    for (int i = 1; i < 1000; i++) {
        char *name = i == 1 ? base_format("%s.%s", path, word) : base_format("%s.%s-%d", path, word, i);
        int fd = open(name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd >= 0) {
            close(fd);
            return name;
        }
        int cause = errno;
        free(name);
        errno = cause;
        if (cause != EEXIST)
            return NULL;
    }
    return NULL;
}

static int sync_path(const char *path, int flags)
{
    int fd = open(path, flags | O_CLOEXEC);
    if (fd < 0)
        return -1;
    int rc = fsync(fd), cause = errno;
    close(fd);
    errno = cause;
    return rc;
}

static int sync_folder_of(const char *path)
{
    char *folder = folder_of(path);
    int rc = sync_path(folder, O_RDONLY | O_DIRECTORY), cause = errno;
    free(folder);
    errno = cause;
    return rc;
}

/* Give a finished file its name, which must be free. */
static int give_name(const char *from, const char *path)
{
    if (renameat2(AT_FDCWD, from, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
        return 0;
    if (errno != EINVAL && errno != ENOSYS)
        return -1;
    return link(from, path) == 0 ? unlink(from) : -1; /* a file system without that call */
}

/* Everything in S as a new file under the name PART, which is an empty file now. */
static enum base_err write_whole(struct store *s, const char *part, const char *path, struct base_diag *why)
{
    char *target = plain_path(part);
    char *sql = sqlite3_mprintf("VACUUM INTO %Q", target);
    free(target);
    sqlite3_limit(s->db, SQLITE_LIMIT_ATTACHED, 1);
    s->rc = sql ? sqlite3_exec(s->db, sql, NULL, NULL, NULL) : SQLITE_NOMEM;
    sqlite3_limit(s->db, SQLITE_LIMIT_ATTACHED, 0);
    sqlite3_free(sql);
    switch (s->rc & 0xff) {
    case SQLITE_OK:
        return BASE_OK;
    case SQLITE_FULL:
        return cannot_make(path, ENOSPC, why);
    case SQLITE_IOERR:
        return cannot_make(path, EIO, why);
    case SQLITE_CORRUPT:
        return base_fail(why, BASE_NOT_SAVED, "not saved: %s has been damaged and cannot be copied whole. Take the last good copy.",
                         s->path);
    default:
        return base_fail(why, BASE_NOT_SAVED, "not saved: %s cannot be made (%s).", path, sqlite3_errstr(s->rc));
    }
}

static enum base_err check_copy(const char *part, const char *path, const struct schema *schema, struct base_diag *why)
{
    struct store *copy;
    struct base_diag cause = {0};
    enum base_err err = open_checked(part, true, schema, &copy, &cause);
    if (err)
        return base_fail(why, BASE_NOT_SAVED, "not saved: what was written for %s does not read back as it should. Choose a place on "
                         "another disk.", path);
    store_close(copy);
    return sync_path(part, O_RDWR) == 0 ? BASE_OK : cannot_make(path, errno, why);
}

enum base_err store_copy(struct store *s, const char *path, struct base_diag *why)
{
    store_begin(s);
    struct stat st;
    if (lstat(path, &st) == 0)
        return refuse_taken(path, why);
    char *part = name_beside(path, "part");
    if (!part)
        return cannot_make(path, errno, why);
    enum base_err err = write_whole(s, part, path, why);
    if (!err)
        err = check_copy(part, path, &store_schema, why);
    if (!err && give_name(part, path) != 0)
        err = errno == EEXIST ? refuse_taken(path, why) : cannot_make(path, errno, why);
    if (err)
        unlink(part);
    else if (sync_folder_of(path) != 0)
        err = cannot_make(path, errno, why);
    free(part);
    return err;
}

enum base_err store_create(const char *path, struct store **out, struct base_diag *why)
{
    *out = NULL;
    struct store *fresh = store_open_memory();
    enum base_err err = store_copy(fresh, path, why);
    store_close(fresh);
    return err ? err : store_open(path, false, out, why);
}

/* ---- older forms ----------------------------------------------------------------------------- */

/* Put the finished PART in the place of PATH, keeping the old file under a name of its own. OLD holds
 * the file for itself meanwhile, so that nobody's edit goes into a file that is about to be put aside. */
static enum base_err exchange(struct store *old, const char *part, int form, struct base_diag *why)
{
    char word[32];
    snprintf(word, sizeof word, "form%d", form);
    int version = (int)sql_number(old, SQL_DATA_VERSION, 0, "");
    if (old->rc == SQLITE_OK)
        old->rc = sqlite3_exec(old->db, "BEGIN EXCLUSIVE", NULL, NULL, NULL);
    if (old->rc != SQLITE_OK)
        return sql_unreadable(old, why);
    enum base_err err = BASE_OK;
    char *aside = NULL;
    if (version != old->data_version || sql_number(old, SQL_DATA_VERSION, 0, "") != version)
        err = base_fail(why, BASE_UNREADABLE, "%s was edited while it was being brought up to date. Try again.", old->path);
    else if (aside = name_beside(old->path, word), !aside || unlink(aside) != 0 || link(old->path, aside) != 0
             || rename(part, old->path) != 0 || sync_folder_of(old->path) != 0)
        err = base_fail(why, BASE_UNREADABLE, "%s cannot be brought up to date: %s.", old->path, strerror(errno));
    free(aside);
    store_rollback(old);
    return err;
}

/* Make PART, empty now, a copy of OLD in the newest form. */
static enum base_err write_upgraded(struct store *old, const char *part, const struct schema *schema, int form, struct base_diag *why)
{
    enum base_err err = write_whole(old, part, part, why);
    if (err)
        return err;
    struct store *new = store_new(part, false);
    err = connect(new) ? schema_upgrade(new, schema, form, why) : sql_unreadable(new, why);
    store_close(new);
    return err ? err : check_copy(part, old->path, schema, why);
}

static enum base_err upgrade(const char *path, const struct schema *schema, int form, struct base_diag *why)
{
    struct store *old = store_new(path, false);
    char *part = NULL;
    enum base_err err = BASE_OK;
    if (connect(old))
        old->data_version = (int)sql_number(old, SQL_DATA_VERSION, 0, "");
    if (old->rc == SQLITE_OK && !passes_quick_check(old) && old->rc == SQLITE_OK)
        old->rc = SQLITE_CORRUPT;
    if (old->rc != SQLITE_OK)
        err = sql_unreadable(old, why);
    else if (part = name_beside(path, "part"), !part)
        err = cannot_make(path, errno, why);
    if (!err)
        err = write_upgraded(old, part, schema, form, why);
    if (!err)
        err = exchange(old, part, form, why);
    if (err && part)
        unlink(part);
    free(part);
    store_close(old);
    return err;
}

/* ---- the public calls -------------------------------------------------------------------------- */

enum base_err store_open_as(const char *path, bool readonly, const struct schema *schema, struct store **out, struct base_diag *why)
{
    int form = 0;
    *out = NULL;
    enum base_err err = look(path, schema, &form, why);
    if (err)
        return err;
    readonly = readonly || !may_write(path);
    if (form < schema->form && readonly)
        return base_fail(why, BASE_UNREADABLE, "%s has an older form. Open it once for editing, which brings it up to date.", path);
    if (form < schema->form)
        err = upgrade(path, schema, form, why);
    if (!err)
        err = open_checked(path, readonly, schema, out, why);
    if (!err) {
        free((*out)->warning);
        (*out)->warning = network_warning(path);
    }
    return err;
}

enum base_err store_open(const char *path, bool readonly, struct store **out, struct base_diag *why)
{
    return store_open_as(path, readonly, &store_schema, out, why);
}

bool store_readonly(const struct store *s) { return s->readonly; }
const char *store_path(const struct store *s) { return s->path; }
const char *store_warning(const struct store *s) { return s->warning; }

bool store_changed(struct store *s)
{
    s->rc = SQLITE_OK;
    int version = (int)sql_number(s, SQL_DATA_VERSION, s->data_version, "");
    bool changed = version != s->data_version;
    s->data_version = version;
    return changed;
}
