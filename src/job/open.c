/* A job opened, from a file or a text; what is told by places is told by station numbers. */

#include "job/job.h"

#include <stdlib.h>

/* A job of the old form is told by station numbers as the first edit of those who open it to work on it.
 * What was issued stays as it was issued. */
static void tell_by_number(struct job *j)
{
    if (job_is_issued(j) || job_station_tell(j, NULL) != BASE_OK)
        return;
    if (job_take(j, NULL) != BASE_OK && job_load(j, NULL) == BASE_OK)
        job_drop(j);
    j->edited = false;
}

/* Who only reads sees it told so too, and judged as it is seen. */
static enum base_err load_to_read(struct job *j, struct base_diag *why)
{
    enum base_err err = job_load_into(j, j->dieset, why);
    if (err)
        return err;
    job_read_told(j);
    findings_judge(j->findings, NULL);
    return BASE_OK;
}

enum base_err job_open(const struct handbook *h, const char *path, bool readonly, struct job **out,
                       struct base_diag *why)
{
    struct store *store;
    *out = NULL;
    enum base_err err = store_open(path, readonly, &store, why);
    if (!err)
        err = job_adopt(h, store, out, why);
    if (!err)
        err = readonly ? load_to_read(*out, why) : job_load(*out, why);
    if (!err && !readonly)
        tell_by_number(*out);
    if (err && *out) {
        base_diag_place(why, path, 0);
        job_close(*out);
        *out = NULL;
    }
    return err;
}

/* The whole text, with its places for what is refused. */
static enum base_err check_text(const struct handbook *h, const struct dieset_text *text,
                                struct base_diag *why)
{
    struct dieset *d;
    enum base_err err = dieset_new(h, NULL, &d, why);
    if (err)
        return err;
    err = dieset_text_load(text, d, why);
    dieset_free(d);
    return err;
}

/* The text of J told by station numbers; NULL: it is told so already. Yours to free(). */
static char *told_text(struct job *j)
{
    struct job_changes c;
    char *text = NULL;
    if (job_station_changes(j, &c, NULL) == BASE_OK && job_try_still(j, &c))
        text = dieset_text_write(j->dieset);
    job_changes_done(&c);
    dieset_drop(j->dieset);
    return text;
}

enum base_err job_from_text(const struct handbook *h, const char *text, const char *text_name,
                            struct job **out, struct base_diag *why)
{
    struct dieset_text read;
    *out = NULL;
    enum base_err err = dieset_text_read(h, text, text_name, &read, why);
    if (err)
        return err;
    err = check_text(h, &read, why);
    if (!err)
        err = job_adopt(h, store_open_memory(), out, why);
    if (!err)
        err = job_fill(*out, &read, why);
    if (!err)
        err = job_load(*out, why);
    if (!err)
        err = job_check_all_dates(*out, why);
    char *told = err ? NULL : told_text(*out);
    if ((err || told) && *out) {
        job_close(*out);
        *out = NULL;
    }
    dieset_text_done(&read);
    if (told)
        err = job_from_text(h, told, text_name, out, why);
    free(told);
    return err;
}

/* All of it is made in memory first: at no moment is there half a job under the name. */
enum base_err job_create(const struct handbook *h, const char *path, const char *text, const char *text_name,
                         struct job **out, struct base_diag *why)
{
    enum base_err err = job_from_text(h, text, text_name, out, why);
    if (!err)
        err = job_save_as(*out, path, why);
    if (err && *out) {
        job_close(*out);
        *out = NULL;
    }
    return err;
}
