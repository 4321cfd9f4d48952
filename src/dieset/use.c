/* What is used as the job stands: a property's `when`. */

#include "dieset/build.h"

#include <stdlib.h>

const struct formula_tree *quantity_when(const struct build *b, int q)
{
    const struct cell *c = b->quantity_cells[q];
    int kind = c->item < 0 ? -1 : b->items.at[c->item].kind;
    if (c->what == CELL_LINE && kind >= 0)
        return handbook_kind(b->d->h, kind)->outlines_when;
    return b->quantities[q].property ? b->quantities[q].property->when : NULL;
}

static bool holds(struct dieset *d, const struct formula_tree *when, int item, struct formula_code **code)
{
    const struct formula_type yesno = {.sort = FORMULA_YESNO};
    if (!when ||
        (!*code && dieset_compile(d, when, item, -1, DIESET_NEW, NULL, &yesno, code, NULL) != BASE_OK))
        return true;
    struct formula_value v = model_run(d->now->model, *code, NULL, NULL);
    return v.error || v.number != 0;
}

/* Compiled once in a build: moves ask for each value at each key. */
bool dieset_applies(struct dieset *d, int q)
{
    struct build *b = d->now;
    const struct formula_tree *when = quantity_when(b, q);
    if (when && !b->uses)
        b->uses = base_alloc((size_t)b->n_quantities * sizeof *b->uses);
    return !when || holds(d, when, b->quantities[q].item, &b->uses[q]);
}

void build_uses_done(struct build *b)
{
    for (int q = 0; b->uses && q < b->n_quantities; q++)
        formula_code_free(b->uses[q]);
    if (b->uses)
        free(b->uses);
}

bool dieset_shown(struct dieset *d, int q)
{
    const struct dieset_quantity *v = &d->now->quantities[q];
    bool let = v->property && v->property->how == HANDBOOK_LET;
    return !let && (v->typed || dieset_applies(d, q));
}

bool dieset_outlined(struct dieset *d, int item)
{
    int kind = item < 0 ? -1 : dieset_item_kind(d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(d->h, kind);
    struct formula_code *code = NULL;
    bool yes = k && k->outlines && holds(d, k->outlines_when, item, &code);
    formula_code_free(code);
    return yes;
}

