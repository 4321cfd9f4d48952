/* Worked examples that stand on a whole set: a template opened in memory, some values typed, others
   compared. */

#include "cli/cli.h"

#include <math.h>
#include <stdlib.h>

static enum base_err type_settings(struct job *j, const struct handbook_example *e, struct base_diag *why)
{
    if (!e->n_settings)
        return BASE_OK;
    const char **paths = base_alloc((size_t)e->n_settings * sizeof *paths),
               **texts = base_alloc((size_t)e->n_settings * sizeof *texts);
    for (int i = 0; i < e->n_settings; i++) {
        paths[i] = e->settings[i].path;
        texts[i] = formula_text(e->settings[i].tree);
    }
    enum base_err err = job_set_many(j, paths, texts, e->n_settings, why);
    free(paths);
    free(texts);
    return err;
}

/* The template's job with the example's values tried; NULL with the reason. */
static struct job *job_of(struct cli_call *c, const struct handbook *h, const struct handbook_example *e,
                          struct base_diag *why)
{
    struct job *j = NULL;
    char *path = cli_template(c, e->like), *text = NULL;
    if (!path) {
        base_fail(why, BASE_UNREADABLE,
                  "The worked example %s stands on a template \"%s\" that is not there.", e->name, e->like);
        base_diag_place(why, e->place.file, e->place.line);
    } else if (base_read_file(path, &text, NULL, why) == BASE_OK &&
               job_from_text(h, text, e->like, &j, why) == BASE_OK && type_settings(j, e, why) != BASE_OK) {
        base_diag_place(why, e->place.file, e->place.line);
        job_close(j);
        j = NULL;
    }
    free(path);
    free(text);
    return j;
}

/* TREE as a number of TYPE; NaN when it has none. */
static double number_of(const struct handbook *h, const struct formula_tree *tree,
                        const struct formula_type *type)
{
    struct formula_value v;
    struct formula_type got;
    struct base_diag why = {0};
    return handbook_eval_tree(h, tree, type, &v, &got, &why) == BASE_OK && !v.error ? v.number : NAN;
}

static bool agrees(const struct handbook *h, const struct handbook_try *t, struct formula_value got,
                   const struct formula_type *type)
{
    double expected = number_of(h, t->expect, type), within = t->within ? number_of(h, t->within, type) : 0;
    return !got.error && (fabs(got.number - expected) <= within) != t->disagrees;
}

/* Adds one row; false when the example does not come out as it should. */
static bool try_row(const struct handbook *h, struct dieset *d, const struct handbook_example *e,
                    const struct handbook_try *t, struct report_paper *p)
{
    const char *path = formula_text(t->tree);
    int q = dieset_find(d, path);
    enum dieset_state state = t->ground ? DIESET_GROUND : DIESET_NEW;
    bool good = q >= 0 && agrees(h, t, dieset_value(d, q, state), &dieset_quantity(d, q)->type.type);
    char buf[200], *tried = base_format("%s%s, like %s", path, t->ground ? " in ground" : "", e->like);
    report_text(p, e->name);
    report_text(p, tried);
    report_text(p, q < 0 ? "there is no such value" : dieset_print(d, q, state, buf, sizeof buf));
    report_text(p, e->printed ? e->printed : formula_text(t->expect));
    report_text(p, t->within ? formula_text(t->within) : NULL);
    report_text(p, good ? "yes" : "no");
    report_text(p, e->source);
    report_text(p, e->seen);
    free(tried);
    return good;
}

enum base_err cli_set_examples(struct cli_call *c, struct handbook *h, struct report_paper *p, int *tried,
                               int *failed, struct base_diag *why)
{
    for (int i = 0; i < handbook_example_count(h); i++) {
        const struct handbook_example *e = handbook_example(h, i);
        struct job *j = e->like ? job_of(c, h, e, why) : NULL;
        if (e->like && !j)
            return why->code;
        for (int k = 0; j && k < e->n_tries; k++, ++*tried)
            *failed += !try_row(h, job_dieset(j), e, &e->tries[k], p);
        job_close(j);
    }
    return BASE_OK;
}
