/* New files: made whole in memory, checked, brought to the disk, and only then given their name.
 *
 * Until then a new file has no name at all where the file system allows that (O_TMPFILE), so that a program
 * killed half way leaves nothing behind; elsewhere it is NAME.part.
 */

#include "store/inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum base_err refuse_taken(const char *path, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "%s exists already: choose another name.", path);
}

static enum base_err cannot_make(const char *path, int cause, struct base_diag *why)
{
    if (cause == ENOSPC || cause == EDQUOT)
        return base_fail(why, BASE_NOT_SAVED,
                         "not saved: the disk is full. %s was not made; make room, or choose a place on "
                         "another disk.",
                         path);
    return base_fail(why, BASE_NOT_SAVED, "not saved: %s cannot be made: %s. Choose another place.", path,
                     strerror(cause));
}

/* ---- bytes to the disk -------------------------------------------------------------------- */

/* A file under way: NAME is NULL while it has none. */
struct part { int fd; char *name; };

static int sync_folder_of(const char *path)
{
    char *folder = store_folder(path);
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC), rc = fd < 0 ? -1 : fsync(fd), cause = errno;
    if (fd >= 0)
        close(fd);
    free(folder);
    errno = cause;
    return rc;
}

/* An empty file beside PATH with a name nobody has. */
static bool begin_named(const char *path, const char *word, struct part *p)
{
    for (int i = 1; i < 1000; i++) {
        p->name = i == 1 ? base_format("%s.%s", path, word) : base_format("%s.%s-%d", path, word, i);
        p->fd = open(p->name, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (p->fd >= 0)
            return true;
        int cause = errno;
        free(p->name);
        p->name = NULL;
        errno = cause;
        if (cause != EEXIST)
            return false;
    }
    return false;
}

static bool begin_nameless(const char *path, struct part *p)
{
    char *folder = store_folder(path);
    *p = (struct part){open(folder, O_TMPFILE | O_RDWR | O_CLOEXEC, 0666), NULL};
    free(folder);
    return p->fd >= 0;
}

static bool fill(struct part *p, const struct store_bytes *b)
{
    for (size_t at = 0; at < b->length;) {
        ssize_t n = write(p->fd, b->at + at, b->length - at);
        if (n < 0 && errno != EINTR)
            return false;
        at += n > 0 ? (size_t)n : 0;
    }
    return fsync(p->fd) == 0;
}

/* Does it read back as it was written? */
static bool reads_back(const struct part *p, const struct store_bytes *b)
{
    unsigned char page[65536];
    for (size_t at = 0; at < b->length;) {
        ssize_t n = pread(p->fd, page, sizeof page, (off_t)at);
        if (n <= 0 || (size_t)n > b->length - at || memcmp(page, b->at + at, (size_t)n) != 0)
            return false;
        at += (size_t)n;
    }
    return true;
}

/* Give the finished file its name, which must be free. */
static bool give_name(struct part *p, const char *path)
{
    char own[40];
    if (!p->name) {
        snprintf(own, sizeof own, "/proc/self/fd/%d", p->fd);
        return linkat(AT_FDCWD, own, AT_FDCWD, path, AT_SYMLINK_FOLLOW) == 0;
    }
    if (renameat2(AT_FDCWD, p->name, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
        return true;
    return (errno == EINVAL || errno == ENOSYS) && link(p->name, path) == 0 && unlink(p->name) == 0;
}

static void end(struct part *p, bool drop)
{
    if (p->fd >= 0)
        close(p->fd);
    if (drop && p->name)
        unlink(p->name);
    free(p->name);
    *p = (struct part){.fd = -1};
}

static enum base_err finish(struct part *p, const struct store_bytes *b, const char *path,
                            struct base_diag *why)
{
    if (!fill(p, b))
        return cannot_make(path, errno, why);
    if (!reads_back(p, b))
        return base_fail(
            why, BASE_NOT_SAVED,
            "not saved: what was written for %s does not read back as it should. Choose a place on "
            "another disk.",
            path);
    return BASE_OK;
}

static enum base_err write_new(const struct store_bytes *b, const char *path, struct base_diag *why)
{
    struct part p;
    struct stat st;
    if (lstat(path, &st) == 0)
        return refuse_taken(path, why);
    bool nameless = begin_nameless(path, &p);
    enum base_err err = nameless ? finish(&p, b, path, why) : BASE_OK;
    bool named = nameless && !err && give_name(&p, path);
    if (nameless && !err && !named && errno == EEXIST)
        err = refuse_taken(path, why);
    if (!named && !err) { /* no files without a name here */
        end(&p, false);
        if (!begin_named(path, "part", &p))
            return cannot_make(path, errno, why);
        err = finish(&p, b, path, why);
        if (!err && !give_name(&p, path))
            err = errno == EEXIST ? refuse_taken(path, why) : cannot_make(path, errno, why);
        named = !err;
    }
    if (named && sync_folder_of(path) != 0) {
        err = cannot_make(path, errno, why);
        unlink(path);
    }
    end(&p, err != BASE_OK);
    return err;
}

/* ---- copies ---------------------------------------------------------------------------------- */

/* Whole, and with the same history as far as S has read it. */
static bool is_ours(struct store *s, const struct store_bytes *b)
{
    struct store *copy = store_of_bytes(b, s);
    bool ours = copy && log_holds(copy, s);
    store_close(copy);
    return ours;
}

enum base_err store_copy(struct store *s, const char *path, struct base_diag *why)
{
    struct store_bytes b = {0};
    store_begin(s);
    enum base_err err = BASE_OK;
    bool now = store_take_bytes(s, &b) && is_ours(s, &b);
    if (!now && s->kept.length && is_ours(s, &s->kept))
        err = write_new(&s->kept, path, why);
    else if (!now)
        err = base_fail(why, BASE_NOT_SAVED,
                        "not saved: %s has been damaged and cannot be copied whole. Take the last good copy.",
                        s->path);
    else
        err = write_new(&b, path, why);
    sqlite3_free(b.at);
    return err;
}

/* ---- older forms ----------------------------------------------------------------------------- */

/* Give the file at PATH a second name that nobody has: PATH.formN, or with a number behind it. */
static bool keep_old(const char *path, int form)
{
    int rc = -1;
    errno = EEXIST;
    for (int i = 1; i < 1000 && rc != 0 && errno == EEXIST; i++) {
        char *name = i == 1 ? base_format("%s.form%d", path, form)
                            : base_format("%s.form%d-%d", path, form, i);
        rc = link(path, name);
        int cause = errno;
        free(name);
        errno = cause;
    }
    return rc == 0;
}

/* Put the finished PART in the place of OLD's file, keeping that under a name of its own. OLD holds
 * the file for itself meanwhile, so that nobody's edit goes into a file that is about to be put aside. */
static enum base_err exchange(struct store *old, const char *part, int form, struct base_diag *why)
{
    int version = (int)sql_number(old, SQL_DATA_VERSION, 0, "");
    if (old->rc == SQLITE_OK)
        old->rc = sqlite3_exec(old->db, "BEGIN EXCLUSIVE", NULL, NULL, NULL);
    if (old->rc != SQLITE_OK)
        return sql_unreadable(old, why);
    enum base_err err = BASE_OK;
    if (version != old->data_version || sql_number(old, SQL_DATA_VERSION, 0, "") != version)
        err = base_fail(why, BASE_UNREADABLE,
                        "%s was edited while it was being brought up to date. Try again.", old->path);
    else if (!keep_old(old->path, form) || rename(part, old->path) != 0 || sync_folder_of(old->path) != 0)
        err = base_fail(why, BASE_UNREADABLE, "%s cannot be brought up to date: %s.", old->path,
                        strerror(errno));
    store_rollback(old);
    return err;
}

/* The bytes of OLD in the newest form. */
static enum base_err renew(struct store *old, const struct schema *schema, int form, struct store_bytes *out,
                           struct base_diag *why)
{
    struct store *new = store_new("", false, schema);
    sqlite3_int64 size = 0;
    enum base_err err = BASE_OK;
    unsigned char *bytes = sqlite3_serialize(old->db, "main", &size, 0);
    if (!bytes || !store_connect(new, true, NULL)) {
        sqlite3_free(bytes);
        err = base_fail(why, BASE_UNREADABLE, "%s cannot be read whole, and so not be brought up to date.",
                        old->path);
    } else {
        new->rc = sqlite3_deserialize(new->db, "main", bytes, size, size,
                                      SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_RESIZEABLE);
        free(new->path);
        new->path = base_copy(old->path);
        err = new->rc == SQLITE_OK ? schema_upgrade(new, schema, form, why) : sql_unreadable(new, why);
    }
    if (!err && !store_take_bytes(new, out))
        err = sql_unreadable(new, why);
    free(new->path);
    new->path = base_copy(""); /* it has no file, and closes as such */
    store_close(new);
    return err;
}

/* Write B to a file beside OLD and put it in OLD's place. */
static enum base_err replace(struct store *old, const struct store_bytes *b, int form, struct base_diag *why)
{
    struct part p;
    struct store *copy = store_of_bytes(b, old);
    if (!copy)
        return base_fail(why, BASE_UNREADABLE,
                         "%s cannot be brought up to date: it would not read back as it should.", old->path);
    store_close(copy);
    if (!begin_named(old->path, "part", &p))
        return cannot_make(old->path, errno, why);
    enum base_err err = finish(&p, b, old->path, why);
    if (!err)
        err = exchange(old, p.name, form, why);
    end(&p, err != BASE_OK);
    return err;
}

enum base_err store_upgrade(const char *path, const struct schema *schema, int form, struct base_diag *why)
{
    struct store *old = store_new(path, false, schema);
    struct store_bytes b = {0};
    if (guard_connect(old, true))
        old->data_version = (int)sql_number(old, SQL_DATA_VERSION, 0, "");
    enum base_err err = store_check_older(old, why);
    if (!err)
        err = renew(old, schema, form, &b, why);
    if (!err)
        err = replace(old, &b, form, why);
    sqlite3_free(b.at);
    store_close(old);
    return err;
}
