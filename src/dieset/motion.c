/* Values along the ram's travel: bound when asked for, run with the ram's height as their argument. */

#include "diewright/dieset.h"

static const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}};
static const struct formula_type yesno_type = {.sort = FORMULA_YESNO};

/* TREE of ITEM with the ram at RAM. Text of the handbook, checked when it was loaded: what does not bind has no value. */
static struct formula_value run(struct dieset *d, const struct formula_tree *tree, int item, enum dieset_state s,
                                const struct formula_type *want, double ram)
{
    static const char *const names[] = {"ram"};
    const struct dieset_block block = {names, &length_type, 1};
    const unsigned char fine = FORMULA_FINE;
    struct formula_code *code;
    if (dieset_compile(d, tree, item, -1, s, &block, want, &code, NULL) != BASE_OK)
        return (struct formula_value){.error = FORMULA_EMPTY, .origin = -1};
    struct formula_value v = model_run(dieset_model(d), code, &ram, &fine);
    formula_code_free(code);
    return v;
}

static bool applies(struct dieset *d, const struct handbook_motion *m, int item, enum dieset_state s, double ram)
{
    if (!m->when)
        return true;
    struct formula_value v = run(d, m->when, item, s, &yesno_type, ram);
    return !v.error && v.number != 0;
}

int dieset_motions(struct dieset *d, enum dieset_state s, double ram, struct dieset_motion *out, int room)
{
    int n = 0;
    for (int item = 0; item < dieset_item_count(d); item++) {
        int kind = dieset_item_kind(d, item);
        const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(d), kind);
        for (int i = 0; k && i < k->n_motions && n < room; i++)
            if (applies(d, &k->motions[i], item, s, ram))
                out[n++] = (struct dieset_motion){item, &k->motions[i], run(d, k->motions[i].tree, item, s, &k->motions[i].type.type, ram)};
    }
    return n;
}
