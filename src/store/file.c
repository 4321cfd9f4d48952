/* A job's file: looked at before SQLite has it, opened with distrust, checked, closed.
 *
 * Looking reads 100 bytes and closes again before SQLite opens the file; nothing here opens it
 * afterwards, for closing any descriptor of it would drop this process's locks.
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

/* ---- looking first ------------------------------------------------------------------- */

struct head {
    unsigned char bytes[100];
    long read;
    long long size;
    int unlockable; /* errno; 0: it can be locked */
};

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
    h->unlockable = store_lock_fault_of(fd);
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

/* SUFFIX behind the name that SQLite gives the file, which is that behind all links. Yours to free(). */
static char *beside(const char *path, const char *suffix)
{
    char *real = realpath(path, NULL), *name = base_format("%s%s", real ? real : path, suffix);
    free(real);
    return name;
}

static bool lies_beside(const char *path, const char *suffix)
{
    struct stat st;
    char *name = beside(path, suffix);
    bool there = lstat(name, &st) == 0;
    free(name);
    return there;
}

/* Shorter than it says, with no journal beside it that would make it whole again. */
static bool cut_short(const char *path, const struct head *h)
{
    return !lies_beside(path, "-journal") && number_at(h, 24) == number_at(h, 92) && h->size < size_told(h);
}

/* Files of a way of keeping edits that a job never has: whose they are nobody can tell, and SQLite would take
   them in. */
static enum base_err refuse_log(const char *path, struct base_diag *why)
{
    static const char *const suffixes[] = {"-wal", "-shm"};
    for (size_t i = 0; i < COUNT_OF(suffixes); i++)
        if (lies_beside(path, suffixes[i]))
            return base_fail(
                why, BASE_UNREADABLE,
                "%s%s lies beside the job: another program has had the job open, or left that file behind. "
                "End that program, or put the file elsewhere.",
                path, suffixes[i]);
    return BASE_OK;
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
        return base_fail(why, BASE_UNREADABLE,
                         "%s is empty. A job file never is: take the last good copy, or begin a new job.",
                         path);
    if (memcmp(h.bytes, magic, h.read < 16 ? (size_t)h.read : sizeof magic) != 0)
        return base_fail(why, BASE_UNREADABLE, "%s is not a job file: it does not begin like one.", path);
    if (h.read < (long)sizeof h.bytes)
        return base_fail(why, BASE_UNREADABLE,
                         "%s is cut short: only %ld bytes are left. Take the last good copy.", path, h.read);
    if (number_at(&h, 68) != APPLICATION)
        return base_fail(why, BASE_UNREADABLE, "%s is not a job file: it is a database of another program.",
                         path);
    if (number_at(&h, 60) == 0 || number_at(&h, 60) > 1000000)
        return base_fail(why, BASE_UNREADABLE, "%s is damaged: it does not say which form it has.", path);
    *form = (int)number_at(&h, 60);
    if (*form > schema->form)
        return base_fail(why, BASE_UNREADABLE,
                         "%s was written by a newer version of diewright (form %d; this version knows "
                         "forms up to %d). Open it with that version.",
                         path, *form, schema->form);
    if (h.bytes[18] != 1 || h.bytes[19] != 1)
        return base_fail(why, BASE_UNREADABLE,
                         "%s is set to keep its edits in a second file beside it, which a job file never is.",
                         path);
    if (h.unlockable)
        return base_fail(why, BASE_UNREADABLE,
                         "%s lies where files cannot be locked (%s), so that two people could write to it at "
                         "once. Copy it to "
                         "a disk where they can, and work on it there.",
                         path, strerror(h.unlockable));
    if (refuse_log(path, why))
        return BASE_UNREADABLE;
    if (cut_short(path, &h))
        return base_fail(why, BASE_UNREADABLE,
                         "%s is cut short: %lld bytes of %lld are left. Take the last good copy.", path,
                         h.size, size_told(&h));
    return BASE_OK;
}

static bool may_write(const char *path)
{
    char *real = beside(path, ""), *folder = store_folder(real);
    bool may = access(real, W_OK) == 0 && access(folder, W_OK | X_OK) == 0;
    free(folder);
    free(real);
    return may;
}

/* ---- what is told at opening ----------------------------------------------------------- */

/* File systems that lie on another machine, or whose locks depend on the one who wrote them: statfs(2). */
static void warn_of_network(struct store *s)
{
    static const struct { unsigned long type; const char *name;
    } kinds[] = {
        {NFS_SUPER_MAGIC, "NFS"},   {SMB_SUPER_MAGIC, "SMB"},
        {0xFF534D42u, "SMB"},       {0xFE534D42u, "SMB"},
        {FUSE_SUPER_MAGIC, "FUSE"}, {AFS_SUPER_MAGIC, "AFS"},
        {V9FS_MAGIC, "9P"},         {CODA_SUPER_MAGIC, "Coda"},
        {NCP_SUPER_MAGIC, "NCP"},   {0x00C36400u, "Ceph"},
        {0x0BD00BD0u, "Lustre"},    {0x786F4256u, "a virtual machine's shared folder"},
    };
    struct statfs fs;
    if (statfs(s->path, &fs) == 0)
        for (size_t i = 0; i < COUNT_OF(kinds); i++)
            if (((unsigned long)fs.f_type & 0xFFFFFFFFu) == kinds[i].type)
                store_warn(s,
                           "%s lies on another machine or a file system whose locks may not hold (%s): let "
                           "one person at a time edit it.",
                           s->path, kinds[i].name);
}

/* A journal has the name under which the file was opened: under the other nobody sees it. */
static void warn_of_names(struct store *s)
{
    struct stat st;
    if (stat(s->path, &st) == 0 && st.st_nlink > 1)
        store_warn(s,
                   "%s has another name as well (a hard link): edit it under one of them only, or make a "
                   "copy of it.",
                   s->path);
}

/* ---- opening --------------------------------------------------------------------------- */

/* May what was read of the file be shown from a copy in memory? It may where only leave, or a lock, is
   missing to put it right. */
static bool serves_healed(const struct store *s, bool asked_readonly)
{
    int rc = s->rc & 0xff;
    return s->healed && (rc == SQLITE_READONLY || rc == SQLITE_CANTOPEN || rc == SQLITE_PERM ||
                         rc == SQLITE_IOERR || rc == SQLITE_FULL || (rc == SQLITE_BUSY && asked_readonly));
}

static enum base_err open_checked(const char *path, bool readonly, const struct schema *schema,
                                  struct store **out, struct base_diag *why)
{
    struct store *s = store_new(path, readonly, schema), *healed;
    enum base_err err = guard_connect(s, may_write(path)) ? store_check(s, why) : sql_unreadable(s, why);
    if (err && serves_healed(s, readonly)) {
        healed = s->healed;
        s->healed = NULL;
        store_close(s);
        store_warn(healed,
                   "The last edit of %s was cut off half way, and it cannot be put right from here: a copy "
                   "without that edit is shown, "
                   "for looking only.",
                   path);
        *out = healed;
        return BASE_OK;
    }
    if (err) {
        store_close(s);
        return err;
    }
    store_close(s->healed);
    s->healed = NULL;
    if (sqlite3_db_readonly(s->db, "main") == 1)
        s->readonly = true;
    store_keep(s);
    *out = s;
    return BASE_OK;
}

/* ---- the public calls -------------------------------------------------------------------------- */

enum base_err store_open_as(const char *path, bool readonly, const struct schema *schema, struct store **out,
                            struct base_diag *why)
{
    int form = 0;
    *out = NULL;
    enum base_err err = look(path, schema, &form, why);
    if (err)
        return err;
    readonly = readonly || !may_write(path);
    if (readonly && !schema_reads(schema, form))
        return base_fail(why, BASE_UNREADABLE,
                         "%s has an older form. Open it once for editing, which brings it up to date.", path);
    if (form < schema->form && !readonly)
        err = store_upgrade(path, schema, form, why);
    if (!err)
        err = open_checked(path, readonly, schema, out, why);
    if (!err) {
        warn_of_network(*out);
        warn_of_names(*out);
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
