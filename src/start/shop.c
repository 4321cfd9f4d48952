/* The settings of a shop: read as a job of one item, typed where a job has nothing. */

#include "diewright/start.h"

#include <stdlib.h>
#include <string.h>

static enum base_err read_shop(const struct handbook *h, const char *file, struct job **out,
                               struct base_diag *why)
{
    char *text = NULL;
    struct base_diag own = {0};
    enum base_err err = base_read_file(file, &text, NULL, why);
    if (err)
        return err;
    err = job_from_text(h, text, "shop", out, &own);
    free(text);
    if (err)
        return base_fail(why, err, "%s, the shop's settings: %s", file, own.message);
    struct dieset *d = job_dieset(*out);
    for (int i = 0; i < dieset_item_count(d) && !err; i++)
        if (i != dieset_item_of_kind(d, DIESET_JOB))
            err = base_fail(
                why, BASE_REFUSED,
                "%s, the shop's settings: %s does not belong there; they are values of job alone.", file,
                dieset_item_name(d, i));
    return err;
}

/* What SHOP types and J does not; what both type, and otherwise, is told. */
static int gather(struct job *shop, struct job *j, const char **paths, const char **formulas,
                  struct base_text *own)
{
    struct dieset *from = job_dieset(shop), *to = job_dieset(j);
    int n = 0;
    for (int i = 0; i < dieset_quantity_count(from); i++) {
        const struct dieset_quantity *q = dieset_quantity(from, i);
        int there = q->typed && q->text ? dieset_find(to, q->path) : -1;
        const struct dieset_quantity *has = there < 0 ? NULL : dieset_quantity(to, there);
        if (has && !has->typed) {
            paths[n] = q->path;
            formulas[n++] = q->text;
        } else if (has && own && strcmp(has->text, q->text) != 0) {
            base_text_addf(own, "%s = %s (the shop's: %s)\n", has->path, has->text, q->text);
        }
    }
    return n;
}

enum base_err start_shop_try(struct job *j, const char *file, int *n, struct base_text *own,
                             struct base_diag *why)
{
    struct job *shop = NULL;
    *n = 0;
    enum base_err err = read_shop(dieset_handbook(job_dieset(j)), file, &shop, why);
    if (!err) {
        size_t room = (size_t)dieset_quantity_count(job_dieset(shop)) + 1;
        const char **paths = base_alloc(room * sizeof *paths),
                   **formulas = base_alloc(room * sizeof *formulas);
        *n = gather(shop, j, paths, formulas, own);
        if (*n)
            err = job_set_many(j, paths, formulas, *n, why);
        free(paths);
        free(formulas);
    }
    job_close(shop);
    return err;
}
