/* A job begun from a start, its page, and a job kept as a start. */

#include "diewright/start.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- beginning ------------------------------------------------------------------------------------ */

enum base_err start_begin(const struct handbook *h, const char *path, const char *text, const char *name,
                          const char *const *paths, const char *const *formulas, int n, struct job **out,
                          struct base_diag *why)
{
    *out = NULL;
    if (n == 0)
        return job_create(h, path, text, name, out, why);
    struct job *j = NULL;
    char *typed = NULL;
    enum base_err err = job_from_text(h, text, name, &j, why);
    if (!err)
        err = job_set_many(j, paths, formulas, n, why);
    if (!err)
        err = job_take(j, why);
    if (!err)
        typed = job_dump(j); /* so that its history begins with what was asked */
    job_close(j);
    if (!err)
        err = job_create(h, path, typed, name, out, why);
    free(typed);
    return err;
}

/* ---- the page ------------------------------------------------------------------------------------- */

static int start_item(struct job *j)
{
    struct dieset *d = job_dieset(j);
    int kind = handbook_find_kind(dieset_handbook(d), DIESET_START);
    for (int i = 0; i < dieset_item_count(d) && kind >= 0; i++)
        if (dieset_item_kind(d, i) == kind)
            return i;
    return -1;
}

/* Those of NAMES that are used as the job stands: of a round blank the diameter, of another its sides. */
static int read_names(struct dieset *d, const char *names, int *out)
{
    int n = 0;
    while (names && *names && n < START_PAGE) {
        char path[200];
        size_t length = strcspn(names, ",");
        snprintf(path, sizeof path, "%.*s", (int)length, names);
        path[strcspn(path, " ")] = '\0';
        int q = dieset_find(d, path);
        if (q >= 0 && dieset_applies(d, q))
            out[n++] = q;
        names += length;
        names += strspn(names, ", ");
    }
    return n;
}

void start_page(struct job *j, struct start_page *out)
{
    struct dieset *d = job_dieset(j);
    int item = start_item(j);
    *out = (struct start_page){0};
    if (item < 0)
        return;
    out->n_asks = read_names(d, dieset_entry(d, item, "asks"), out->asks);
    out->n_tells = read_names(d, dieset_entry(d, item, "tells"), out->tells);
}

/* ---- keeping one's own ---------------------------------------------------------------------------- */

/* The folder and those above it that are missing. */
static enum base_err make_folder(const char *folder, struct base_diag *why)
{
    char *path = base_copy(folder);
    bool failed = false;
    for (char *p = path + 1; !failed; p++) {
        char was = *p;
        if (was != '/' && was != '\0')
            continue;
        *p = '\0';
        failed = mkdir(path, 0777) != 0 && errno != EEXIST;
        *p = was;
        if (!was)
            break;
    }
    free(path);
    return failed
               ? base_fail(why, BASE_NOT_SAVED, "The folder %s cannot be made: %s.", folder, strerror(errno))
               : BASE_OK;
}

/* Whole or not there; never over a file that stands. */
static enum base_err write_new(const char *path, const char *text, struct base_diag *why)
{
    char *part = base_format("%s.part", path);
    size_t n = strlen(text);
    int file = open(part, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    bool done = file >= 0 && write(file, text, n) == (ssize_t)n && fsync(file) == 0;
    int failed = errno;
    if (file >= 0 && close(file) != 0 && done)
        done = false, failed = errno;
    if (done && link(part, path) != 0)
        done = false, failed = errno;
    unlink(part);
    free(part);
    return done ? BASE_OK
                : base_fail(why, BASE_NOT_SAVED, "%s cannot be written: %s.", path, strerror(failed));
}

static enum base_err check_name(const char *data, const char *own, const char *name, struct base_diag *why)
{
    size_t n = strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789-_");
    if (n == 0 || name[n])
        return base_fail(why, BASE_REFUSED,
                         "A start's name has small letters, figures, \"-\" and \"_\": \"%s\" has others.",
                         name);
    struct start_list all;
    start_list_read(data, own, &all);
    const struct start *other = start_find(&all, name);
    enum base_err err = other ? base_fail(why, BASE_REFUSED,
                                          "There is a start %s already, %s: take another name, or take that "
                                          "file away first.",
                                          name, other->path)
                              : BASE_OK;
    start_list_done(&all);
    return err;
}

static void add_line(struct base_text *out, const char *key, const char *text)
{
    if (text && *text)
        record_write(out, 1, key, false, text);
}

/* J as a start whose page says LINE and TAKE; NULL: what its own says. */
static char *as_start(struct job *j, const char *line, const char *take)
{
    static const char *const kept[] = {"leave", "first", "asks", "tells"};
    struct dieset *d = job_dieset(j);
    int item = start_item(j);
    struct base_text out = {0};
    char *set = dieset_text_write_set(d);
    if (item >= 0 || line) {
        record_write(&out, 0, DIESET_START, false, "page");
        add_line(&out, "line", line ? line : dieset_entry(d, item, "line"));
        add_line(&out, "take", line ? take : dieset_entry(d, item, "take"));
        for (size_t i = line ? 2 : 0; item >= 0 && i < COUNT_OF(kept); i++)
            add_line(&out, kept[i], dieset_entry(d, item, kept[i]));
        base_text_add(&out, "\n");
    }
    base_text_add(&out, set);
    free(set);
    return base_text_take(&out);
}

char *start_text_like(struct job *j) { return as_start(j, NULL, NULL); }

static enum base_err check_words(const char *text, struct base_diag *why)
{
    enum { LONGEST = 900 };
    for (const char *p = text; *p; p++)
        if ((unsigned char)*p < ' ' || *p == 127)
            return base_fail(why, BASE_REFUSED,
                             "What a start says stands on one line: there is a line break "
                             "or a control character in it.");
    return strlen(text) > LONGEST
               ? base_fail(why, BASE_REFUSED, "What a start says has at most %d bytes.", LONGEST)
               : BASE_OK;
}

enum base_err start_keep(struct job *j, const char *data, const char *own, const char *name, const char *line,
                         const char *take, char **path, struct base_diag *why)
{
    *path = NULL;
    if (!own)
        return base_fail(why, BASE_NOT_SAVED,
                         "There is no folder for own starts: neither XDG_DATA_HOME nor HOME is set.");
    enum base_err err = check_name(data, own, name, why);
    if (!err && !*line)
        err = base_fail(why, BASE_REFUSED, "A start says in a line what it is: that is missing.");
    if (!err)
        err = check_words(line, why);
    if (!err)
        err = check_words(take, why);
    if (!err)
        err = make_folder(own, why);
    if (err)
        return err;
    char *text = as_start(j, line, take);
    *path = base_format("%s/%s.txt", own, name);
    err = write_new(*path, text, why);
    free(text);
    if (err) {
        free(*path);
        *path = NULL;
    }
    return err;
}
