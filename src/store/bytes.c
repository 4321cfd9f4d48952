/* A job's file as bytes: where it lies, whether it can be locked, what is to be told of it, and the copy of
 * it that is kept for the day on which the file comes to harm. */

#include "store/inside.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

char *store_folder(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? base_copy_n(path, slash == path ? 1 : (size_t)(slash - path)) : base_copy(".");
}

/* Why the file system gives no lock at all; 0: it does, be it to somebody else just now. SQLite takes the one
   for the other. */
int store_lock_fault_of(int fd)
{
    /* where SQLite locks to read */
    struct flock l = {.l_type = F_RDLCK, .l_whence = SEEK_SET, .l_start = 0x40000002, .l_len = 510};
    if (fcntl(fd, F_SETLK, &l) == 0 || errno == EAGAIN || errno == EACCES || errno == EINTR)
        return 0;
    return errno;
}

int store_lock_fault(const struct store *s)
{
    /* Closing a descriptor of the file drops this process's locks: not in the middle of a transaction. */
    int fd = *s->path && s->db && sqlite3_get_autocommit(s->db)
                 ? open(s->path, O_RDONLY | O_NONBLOCK | O_CLOEXEC)
                 : -1;
    int fault = fd >= 0 ? store_lock_fault_of(fd) : 0;
    if (fd >= 0)
        close(fd);
    return fault;
}

void store_warn(struct store *s, const char *fmt, ...)
{
    va_list args;
    char *text = NULL;
    va_start(args, fmt);
    if (vasprintf(&text, fmt, args) < 0)
        text = NULL;
    va_end(args);
    if (text) {
        char *both = base_format("%s%s%s", s->warning, *s->warning ? " " : "", text);
        free(s->warning);
        s->warning = both;
    }
    free(text);
}

bool store_take_bytes(struct store *s, struct store_bytes *out)
{
    sqlite3_int64 size = 0;
    unsigned char *all = sqlite3_serialize(s->db, "main", &size, 0);
    *out = (struct store_bytes){0};
    if (all && size > 0)
        *out = (struct store_bytes){all, (size_t)size};
    else
        sqlite3_free(all);
    return out->length > 0;
}

void store_keep(struct store *s)
{
    struct store_bytes now;
    if (!*s->path || !s->guard.name || !store_take_bytes(s, &now))
        return;
    sqlite3_free(s->kept.at);
    s->kept = now;
}
