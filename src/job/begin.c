/* What a new item has typed in it from the start, as its kind's `begins` lines tell. */

#include "job/job.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A value as a person would have typed it; NULL when there is no such value now. Yours to free(). */
static char *typed(struct job *j, const struct formula_tree *tree, struct formula_type type,
                   struct formula_value v)
{
    struct dieset *d = j->dieset;
    char buf[400];
    if (formula_is_literal(tree))
        return base_copy(formula_text(tree));
    if (v.error)
        return NULL;
    if (type.sort == FORMULA_ITEM)
        return v.number < 0 ? NULL : base_copy(dieset_item_name(d, (int)v.number));
    if (type.sort == FORMULA_NUMBER)
        return unit_typed(type.dim, dieset_system(d), v.number);
    const char *text = handbook_print(j->handbook, v, type, dieset_system(d), buf, sizeof buf);
    return type.sort == FORMULA_TEXT ? base_format("\"%s\"", text) : base_copy(text);
}

static char *worked_out(struct job *j, const struct handbook_begun *b)
{
    struct formula_code *code;
    if (dieset_compile(j->dieset, b->tree, -1, -1, DIESET_NEW, NULL, NULL, &code, NULL) != BASE_OK)
        return NULL; /* what it asks for is not in this job */
    struct formula_value v = model_run(dieset_model(j->dieset), code, NULL, NULL);
    char *text = typed(j, b->tree, formula_code_type(code), v);
    formula_code_free(code);
    return text;
}

void job_begin_item(struct job *j, const struct handbook_kind *k, const char *name, struct job_changes *c)
{
    bool laid = false;
    for (int i = 0; i < k->n_begun; i++) {
        const struct handbook_begun *b = &k->begun[i];
        if (typed_is_laid(b->entry) && !laid)
            continue;
        char *text = worked_out(j, b);
        laid = laid || (text && b->pattern);
        char *whole = text && b->pattern ? typed_lay_on(b->pattern, text) : NULL;
        if (text)
            job_changes_add(c, TYPED_ENTRY, name, b->entry, NULL, whole ? whole : text);
        free(whole);
        free(text);
    }
}
