/* Papers as files: all of them are made in memory first, then each is brought whole to the disk under its
 * name. */

#include "shop/inside.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void shop_files_done(struct shop_files *f)
{
    for (size_t i = 0; i < f->at.count; i++) {
        free(f->at.at[i].path);
        base_text_done(&f->at.at[i].text);
    }
    base_vec_done(&f->at);
}

struct base_text *shop_file(struct shop_files *f, char *path)
{
    base_vec_push(&f->at, ((struct shop_file){.path = path}));
    return &f->at.at[f->at.count - 1].text;
}

/* Does PATH hold something else than F? A file that is not there holds nothing. */
static bool differs(const struct shop_file *f)
{
    char *was = NULL;
    size_t length = 0;
    if (access(f->path, F_OK) != 0)
        return false;
    bool same = base_read_file(f->path, &was, &length, NULL) == BASE_OK && length == f->text.length &&
                memcmp(was, base_text_get(&f->text), length) == 0;
    free(was);
    return !same;
}

const char *shop_files_differ(const struct shop_files *f)
{
    for (size_t i = 0; i < f->at.count; i++)
        if (differs(&f->at.at[i]))
            return f->at.at[i].path;
    return NULL;
}

static enum base_err write_one(const struct shop_file *f, struct base_diag *why)
{
    char *part = base_format("%s.part", f->path);
    unlink(part);
    FILE *out = fopen(part, "wx");
    bool whole = out && fwrite(base_text_get(&f->text), 1, f->text.length, out) == f->text.length &&
                 fflush(out) == 0 && fsync(fileno(out)) == 0;
    int cause = errno;
    if (out && fclose(out) != 0)
        whole = false;
    if (whole && rename(part, f->path) != 0) {
        whole = false;
        cause = errno;
    }
    if (!whole && out)
        unlink(part);
    free(part);
    return whole ? BASE_OK
                 : base_fail(why, BASE_NOT_SAVED,
                             "%s cannot be written: %s. Choose another folder, or make room.", f->path,
                             strerror(cause));
}

enum base_err shop_write(const char *path, const struct base_text *text, struct base_diag *why)
{
    struct shop_file f = {base_copy(path), *text};
    enum base_err err = write_one(&f, why);
    free(f.path);
    return err;
}

enum base_err shop_files_write(const struct shop_files *f, const char *folder, struct base_diag *why)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST)
        return base_fail(why, BASE_NOT_SAVED, "The folder %s cannot be made: %s.", folder, strerror(errno));
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < f->at.count && !err; i++)
        err = write_one(&f->at.at[i], why);
    return err;
}
