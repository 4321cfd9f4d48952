/* Edits of an outline: a line put in, taken out, all of it at once.
 *
 * Lines are the entries outline/1, outline/2 ...; one put in or taken out counts all behind it anew, each
 * with its reason.
 */

#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct lines { BASE_VEC(const char *) text, reason; };

static void lines_done(struct lines *l)
{
    base_vec_done(&l->text);
    base_vec_done(&l->reason);
}

/* The path of a line, or of its reason; yours to free(). */
static char *line_path(int line, bool reason)
{
    char *path = typed_of_line(line), *of_reason = reason ? typed_of_reason(path) : NULL;
    if (reason)
        free(path);
    return reason ? of_reason : path;
}

static const char *entry_of_line(struct job *j, int item, int line, bool reason)
{
    char *path = line_path(line, reason);
    const char *text = dieset_entry(j->dieset, item, path);
    free(path);
    return text;
}

/* As they stand; the texts are the die set's. */
static void lines_read(struct job *j, int item, struct lines *out)
{
    for (int l = 1, n = dieset_outline_lines(j->dieset, item); l <= n; l++) {
        base_vec_push(&out->text, entry_of_line(j, item, l, false));
        base_vec_push(&out->reason, entry_of_line(j, item, l, true));
    }
}

static void change(struct job_changes *c, const char *item, int line, bool reason, const char *was,
                   const char *is)
{
    if (was == is || (was && is && strcmp(was, is) == 0))
        return;
    char *path = line_path(line, reason);
    job_changes_add(c, TYPED_ENTRY, item, path, was, is);
    free(path);
}

/* From the lines that stand to NOW. */
static void lines_change(struct job *j, int item, const struct lines *now, struct job_changes *c)
{
    struct lines was = {0};
    lines_read(j, item, &was);
    const char *name = dieset_item_name(j->dieset, item);
    for (size_t i = 0; i < was.text.count || i < now->text.count; i++) {
        bool had = i < was.text.count, has = i < now->text.count;
        change(c, name, (int)i + 1, false, had ? was.text.at[i] : NULL, has ? now->text.at[i] : NULL);
        change(c, name, (int)i + 1, true, had ? was.reason.at[i] : NULL, has ? now->reason.at[i] : NULL);
    }
    lines_done(&was);
}

static enum base_err find_drawn(struct job *j, const char *item, int *out, struct base_diag *why)
{
    *out = dieset_find_item(j->dieset, item);
    if (*out < 0)
        return base_fail(why, BASE_UNKNOWN, "The job has no item \"%s\".", item);
    int kind = dieset_item_kind(j->dieset, *out);
    if (kind < 0 || !handbook_kind(j->handbook, kind)->outlines)
        return base_fail(why, BASE_REFUSED, "%s has no outline.", item);
    return BASE_OK;
}

bool job_outline_line(struct job *j, const char *path, const char **item, int *line)
{
    const char *at = strstr(path, ".outline.");
    char name[100], *end;
    if (!at)
        return false;
    snprintf(name, sizeof name, "%.*s", (int)(at - path), path);
    int found = dieset_find_item(j->dieset, name), kind = found < 0 ? -1 : dieset_item_kind(j->dieset, found);
    long n = strtol(at + strlen(".outline."), &end, 10);
    if (kind < 0 || !handbook_kind(j->handbook, kind)->outlines || *end || n < 1 || n > 9999)
        return false;
    *item = dieset_item_name(j->dieset, found);
    *line = (int)n;
    return true;
}

enum base_err job_outline_insert(struct job *j, const char *item, int line, const char *text,
                                 struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = find_drawn(j, item, &i, why);
    if (err)
        return err;
    struct lines now = {0}, was = {0};
    struct job_changes c = {0};
    lines_read(j, i, &was);
    int n = (int)was.text.count;
    line = line < 1 || line > n ? n + 1 : line;
    char *path = base_format("%s.outline.%d", item, line), *whole = dieset_complete(j->dieset, path, text);
    for (int l = 0; l <= n; l++) {
        if (l + 1 == line) {
            base_vec_push(&now.text, whole);
            base_vec_push(&now.reason, NULL);
        }
        if (l < n) {
            base_vec_push(&now.text, was.text.at[l]);
            base_vec_push(&now.reason, was.reason.at[l]);
        }
    }
    lines_change(j, i, &now, &c);
    err = job_try(j, &c, base_format("%s put in: %s", path, whole), why);
    if (!err)
        err = job_check_used(j, path, why);
    lines_done(&was);
    lines_done(&now);
    free(path);
    free(whole);
    return err;
}

enum base_err job_outline_remove(struct job *j, const char *item, int line, struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = find_drawn(j, item, &i, why);
    if (err)
        return err;
    struct lines now = {0};
    struct job_changes c = {0};
    lines_read(j, i, &now);
    int n = (int)now.text.count;
    if (line < 1 || line > n)
        err = base_fail(why, BASE_UNKNOWN, "The outline of %s has no line %d.", item, line);
    for (int l = line; l < n && !err; l++)
        now.text.at[l - 1] = now.text.at[l], now.reason.at[l - 1] = now.reason.at[l];
    if (!err) {
        now.text.count--, now.reason.count--;
        lines_change(j, i, &now, &c);
        err = job_try(j, &c, base_format("%s.outline.%d taken out", item, line), why);
    }
    lines_done(&now);
    return err;
}

/* An outline given as a whole is to be one: the try is dropped otherwise. */
static enum base_err check_whole(struct job *j, const char *item, struct base_diag *why)
{
    struct base_text flaw = {0};
    enum base_err err = BASE_OK;
    if (dieset_outline_flaw(j->dieset, dieset_find_item(j->dieset, item), &flaw)) {
        err = base_fail(why, BASE_REFUSED, "%s", base_text_get(&flaw));
        job_drop(j);
    }
    base_text_done(&flaw);
    return err;
}

enum base_err job_outline(struct job *j, const char *item, const char *const *texts, int n,
                          struct base_diag *why)
{
    return job_outline_with(j, item, NULL, NULL, texts, n, why);
}

enum base_err job_outline_with(struct job *j, const char *item, const char *entry, const char *text,
                               const char *const *texts, int n, struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = find_drawn(j, item, &i, why);
    if (err)
        return err;
    struct lines now = {0};
    struct job_changes c = {0};
    char **whole = base_alloc((size_t)(n + 1) * sizeof *whole);
    for (int l = 0; l < n; l++) {
        char *path = base_format("%s.outline.%d", item, l + 1);
        whole[l] = dieset_complete(j->dieset, path, texts[l]);
        base_vec_push(&now.text, whole[l]);
        base_vec_push(&now.reason, NULL);
        free(path);
    }
    if (entry)
        job_change_entry(j, &c, item, entry, text);
    lines_change(j, i, &now, &c);
    err = job_try(j, &c,
                  n ? base_format("outline of %s, %d lines", item, n)
                    : base_format("outline of %s taken out", item),
                  why);
    char *first = base_format("%s.outline.1", item);
    if (!err)
        err = job_check_used(j, first, why);
    free(first);
    if (!err)
        err = check_whole(j, item, why);
    for (int l = 0; l < n; l++)
        free(whole[l]);
    free(whole);
    lines_done(&now);
    return err;
}

char *job_line_renamed(const char *text, char *(*renamed)(const char *formula, const void *arg),
                       const void *arg)
{
    struct dieset_line line;
    char *out = NULL;
    if (dieset_read_line(text, &line, NULL) != BASE_OK)
        return NULL;
    /* from the end, so that what stands before keeps its place */
    for (int p = DIESET_PARTS - 1; p >= 0; p--) {
        int start = line.parts[p].start, length = line.parts[p].length;
        char *part = length ? base_copy_n(text + start, (size_t)length) : NULL,
             *now = part ? renamed(part, arg) : NULL;
        const char *held = out ? out : text;
        if (now) {
            char *next = base_format("%.*s%s%s", start, held, now, held + start + length);
            free(out);
            out = next;
        }
        free(part);
        free(now);
    }
    return out;
}
