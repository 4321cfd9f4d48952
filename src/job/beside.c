/* Remarks of those who may not write to the job: files beside it, one a remark, until somebody who may takes
 * them in.
 *
 * Who said it is the account that owns the file, whatever stands in it; so the file counts only if nobody
 * else can have made it so: it is a plain file with one name, which its owner alone may write to, and it
 * tells of this job. When it was said is when it was written.
 */

#include "job/job.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

static const char mark[] = "-said-";

enum { LONGEST = 4000 }; /* bytes of a file */

/* The job's file itself, whatever name it was opened by; yours to free(). */
static char *own_path(const struct job *j) { return realpath(job_file(j), NULL); }

/* What tells this job, and copies of it, from all others: its beginning. */
static const char *own_id(struct job *j, char buf[20])
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, INT_MAX);
    char *first = n ? base_format("%s %s", e[n - 1].when ? e[n - 1].when : "", e[n - 1].title)
                    : base_copy("");
    snprintf(buf, 20, "%016llx", (unsigned long long)base_hash(first, strlen(first)));
    free(first);
    return buf;
}

/* ---- left there ------------------------------------------------------------------------- */

/* All of TEXT under a name that nobody else has: whole, or not there. */
static bool leave(const char *path, const struct base_text *text)
{
    uint64_t id = 0;
    bool good = getrandom(&id, sizeof id, 0) == (ssize_t)sizeof id;
    char *name = base_format("%s%s%016llx", path, mark, (unsigned long long)id),
         *fresh = base_format("%s-saying-%016llx", path, (unsigned long long)id);
    int f = good ? open(fresh, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0644) : -1;
    if (f >= 0) {
        good = fchmod(f, 0644) == 0 && write(f, text->data, text->length) == (ssize_t)text->length &&
               fsync(f) == 0;
        good = close(f) == 0 && good && rename(fresh, name) == 0;
        if (!good)
            unlink(fresh);
    }
    free(name);
    free(fresh);
    return f >= 0 && good;
}

/* As a shell reads it as one word. */
static void add_quoted(struct base_text *out, const char *text)
{
    base_text_add(out, "'");
    for (const char *c = text; *c; c++)
        base_text_addf(out, *c == '\'' ? "'\\''" : "%c", *c);
    base_text_add(out, "'");
}

enum base_err job_remark_beside(struct job *j, const char *subject, const char *text, struct base_text *told,
                                struct base_diag *why)
{
    char id[20];
    struct base_text note = {0};
    struct job_spoken on;
    enum base_err err = job_spoken_of(j, subject, text, &on, why);
    char *path = err ? NULL : own_path(j);
    if (!err && strpbrk(text, "\n\r"))
        err = base_fail(why, BASE_REFUSED, "A remark stands on one line; there is a line break in this one.");
    if (!err && strlen(text) > 900)
        err = base_fail(why, BASE_REFUSED, "A remark has at most 900 bytes; this one has %zu.", strlen(text));
    if (!err) {
        const char *called = on.answers ? on.answers : on.key ? on.key : on.item;
        record_write(&note, 0, "remark", false, NULL);
        record_write(&note, 1, "job", false, own_id(j, id));
        record_write(&note, 1, "on", false, called);
        record_write(&note, 1, "says", false, text);
        if (path && leave(path, &note)) {
            base_text_addf(told, "Your remark on %s lies beside the job; the next who may write takes it in.",
                           called);
        } else {
            base_text_add(told,
                          "The job's folder is closed to you. Send this line to somebody who may write; it "
                          "is said under the name of whoever runs it:\n  diewright remark ");
            add_quoted(told, j->name);
            base_text_add(told, " ");
            add_quoted(told, called);
            base_text_add(told, " ");
            add_quoted(told, text);
            base_text_add(told, "\n");
        }
    }
    base_text_done(&note);
    free(path);
    return err;
}

/* ---- taken in --------------------------------------------------------------------------- */

struct note {
    char *on, *says, by[100], when[40];
};

/* Why the open file is nobody's remark; NULL: it is its owner's. */
static const char *not_owned(int f, struct stat *s)
{
    if (f < 0 || fstat(f, s) != 0)
        return "it cannot be read";
    return !S_ISREG(s->st_mode)   ? "it is no plain file"
           : s->st_nlink != 1     ? "it has several names, so that who put it there is not known"
           : s->st_mode & 022     ? "others than its owner may write to it"
           : s->st_size > LONGEST ? "it is too long for a remark"
                                  : NULL;
}

/* Who owns the file, on this machine, as the one who takes it in is called: "eva@ws1". */
static void owner(const struct job *j, uid_t uid, char buf[100])
{
    const struct passwd *p = getpwuid(uid);
    const char *host = strchr(j->who, '@');
    if (p && p->pw_name)
        snprintf(buf, 100, "%.32s%.60s", p->pw_name, host ? host : "");
    else
        snprintf(buf, 100, "%lu%.60s", (unsigned long)uid, host ? host : "");
}

static const char *read_note(struct job *j, const char *text, size_t length, struct note *out)
{
    char id[20];
    struct record_document doc;
    struct base_diag why = {0};
    if (record_read(text, length, "", &doc, &why))
        return "it is no record text";
    const struct record *r = doc.first;
    const char *job = r ? record_text(r, "job", "") : "";
    bool whole = r && strcmp(r->key, "remark") == 0 && !r->next;
    if (whole && strcmp(job, own_id(j, id)) == 0) {
        out->on = base_copy(record_text(r, "on", ""));
        out->says = base_copy(record_text(r, "says", ""));
    }
    record_done(&doc);
    return !whole ? "it is no remark" : !out->on ? "it was said of another job" : NULL;
}

/* Was the note ID taken in once, whatever became of it since? */
static bool is_in(struct job *j, const char *id)
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, INT_MAX);
    for (int i = 0; i < n; i++)
        for (int c = 0; c < e[i].n_changes; c++)
            if (e[i].changes[c].what == TYPED_ENTRY && strcmp(e[i].changes[c].path, "note") == 0 &&
                e[i].changes[c].after && strcmp(e[i].changes[c].after, id) == 0)
                return true;
    return false;
}

static bool take_in(struct job *j, const char *path, const char *id, struct base_text *told)
{
    struct stat s;
    struct note note = {0};
    struct base_diag why = {0};
    char text[LONGEST + 1];
    int f = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    const char *wrong = not_owned(f, &s);
    ssize_t n = wrong ? -1 : read(f, text, sizeof text - 1);
    if (f >= 0)
        close(f);
    if (!wrong)
        wrong = n < 0 ? "it cannot be read" : read_note(j, text, (size_t)n, &note);
    bool old = !wrong && is_in(j, id), taken = false;
    if (!wrong && !old && job_readonly(j)) {
        owner(j, s.st_uid, note.by);
        base_text_addf(told, "%sNot taken in yet: %s on %s: %s", told->length ? " " : "", note.by, note.on,
                       note.says);
    } else if (!wrong && !old) {
        owner(j, s.st_uid, note.by);
        store_time(s.st_mtime, note.when, sizeof note.when);
        taken = job_remark_as(j, note.on, note.says, note.by, note.when, id, &why) == BASE_OK &&
                job_take(j, &why) == BASE_OK;
        if (taken)
            base_text_addf(told, "%sRemark of %s on %s taken in: %s", told->length ? " " : "", note.by,
                           note.on, note.says);
        else
            wrong = why.message;
        if (why.code == BASE_CONFLICT) /* it passes: looked at again the next time */
            j->beside = (struct timespec){0};
    }
    if ((taken || old) && !job_readonly(j))
        unlink(path);
    if (wrong && !job_readonly(j))
        base_text_addf(told, "%s%s is not taken in: %s%s", told->length ? " " : "", path, wrong,
                       wrong == why.message ? "" : ".");
    free(note.on);
    free(note.says);
    return taken;
}

static int by_text(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

int job_take_in(struct job *j, struct base_text *told)
{
    char *path = j->trying || !job_saved(j) || !*job_file(j) ? NULL : own_path(j),
         *slash = path ? strrchr(path, '/') : NULL;
    BASE_VEC(char *) names = {0};
    struct stat s;
    int taken = 0;
    if (!slash)
        return free(path), 0;
    char *folder = base_copy_n(path, (size_t)(slash - path) + 1),
         *begins = base_format("%s%s", slash + 1, mark);
    bool there = stat(folder, &s) == 0, same = there && s.st_mtim.tv_sec == j->beside.tv_sec &&
                                               s.st_mtim.tv_nsec == j->beside.tv_nsec;
    DIR *d = !there || same ? NULL : opendir(folder);
    if (there)
        j->beside = s.st_mtim;
    for (struct dirent *e; d && (e = readdir(d));)
        if (strncmp(e->d_name, begins, strlen(begins)) == 0)
            base_vec_push(&names, base_copy(e->d_name));
    if (d)
        closedir(d);
    if (names.count)
        qsort(names.at, names.count, sizeof *names.at, by_text);
    for (size_t i = 0; i < names.count; i++) {
        char *file = base_format("%s%s", folder, names.at[i]);
        taken += take_in(j, file, names.at[i] + strlen(begins), told);
        free(file);
        free(names.at[i]);
    }
    base_vec_done(&names);
    free(begins);
    free(folder);
    free(path);
    return taken;
}
