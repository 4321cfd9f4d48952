/* A practice job in memory: base, what is typed first, the mistake.
 *
 * The finished job is written as text and read back, so that undo finds nothing that would tell.
 */

#include "practice/practice.h"

#include <stdlib.h>
#include <unistd.h>

enum base_err practice_open_like(const struct handbook *h, const char *data, const char *name,
                                 struct job **out, struct base_diag *why)
{
    static const char *const folders[] = {"demo", "templates"};
    char *text = NULL, *path = NULL;
    *out = NULL;
    for (size_t i = 0; i < COUNT_OF(folders) && !path; i++) {
        path = base_format("%s/%s/%s.txt", data, folders[i], name);
        if (access(path, R_OK) != 0) {
            free(path);
            path = NULL;
        }
    }
    enum base_err err = path ? base_read_file(path, &text, NULL, why)
                             : base_fail(why, BASE_UNREADABLE, "There is no demo job and no template \"%s\".",
                                         name);
    if (!err)
        err = job_from_text(h, text, name, out, why);
    free(text);
    free(path);
    return err;
}

/* All that have a formula are one edit; those without one go back to their usual, with the reason that was
   typed for them. */
enum base_err practice_type(struct job *j, struct practice_changes c, struct base_diag *why)
{
    const char **paths = base_alloc((size_t)(c.n + 1) * sizeof *paths),
               **formulas = base_alloc((size_t)(c.n + 1) * sizeof *formulas);
    int n = 0;
    for (int i = 0; i < c.n; i++) {
        paths[n] = c.at[i].path;
        formulas[n] = c.at[i].formula;
        n += *c.at[i].formula != '\0';
    }
    enum base_err err = n ? job_set_many(j, paths, formulas, n, why) : BASE_OK;
    if (!err && n)
        err = job_take(j, why);
    for (int i = 0; i < c.n && !err; i++) {
        if (*c.at[i].formula)
            continue;
        err = job_unset(j, c.at[i].path, why);
        if (!err)
            err = job_take(j, why);
    }
    for (int i = 0; i < c.n && !err; i++) {
        if (!c.at[i].reason)
            continue;
        err = job_reason(j, c.at[i].path, c.at[i].reason, why);
        if (!err)
            err = job_take(j, why);
    }
    free(paths);
    free(formulas);
    return err;
}

enum base_err practice_afresh(const struct handbook *h, struct job *j, const char *title, const char *name,
                              struct job **out, struct base_diag *why)
{
    enum base_err err = job_entry(j, DIESET_JOB, "title", title, why);
    if (!err)
        err = job_take(j, why);
    char *text = err ? NULL : job_dump(j);
    if (text)
        err = job_from_text(h, text, name, out, why);
    free(text);
    job_close(j);
    return err;
}

enum base_err practice_open(const struct practice_book *b, const struct handbook *h, int i, bool planted,
                            struct job **out, struct base_diag *why)
{
    const struct practice_job *p = practice_job(b, i);
    struct job *j;
    *out = NULL;
    enum base_err err = practice_open_like(h, b->data, p->base->like, &j, why);
    if (!err)
        err = practice_type(j, p->base->sets, why);
    if (!err)
        err = practice_type(j, p->first, why);
    if (!err && planted)
        err = practice_type(j, p->plants, why);
    if (err)
        job_close(j);
    else
        err = practice_afresh(h, j, p->title, p->name, out, why);
    if (err)
        base_diag_place(why, p->place.file, p->place.line);
    return err;
}
