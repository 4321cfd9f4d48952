/* Many variants of one typed value at once: the model's lanes, and what geometry derives from them.
 *
 * A variant is shown by putting its lane's values into the model and working the measures out again; holes,
 * points, walls then read as in any other die set.
 */

#include "dieset/build.h"

#include <stdlib.h>

struct dieset_lanes {
    struct dieset *d;
    struct build *b;
    struct model_lanes *model;
    bool *changed; /* slots that hang on the value, measures left out */
    bool *shown;   /* slots of measures that hang on it */
    BASE_VEC(const struct cell *) measures;
};

/* Whatever number is typed, the build stays the same. */
static bool keeps_the_build(const struct build *b, int q)
{
    const struct dieset_quantity *quantity = &b->quantities[q];
    const struct cell *c = b->quantity_cells[q];
    struct formula_value ignored;
    return quantity->type.type.sort == FORMULA_NUMBER && !handbook_settled(quantity->type) &&
           quantity->typed && !c->folded[0] && !c->folded[1] && !c->stateful && c->slot[0] >= 0 &&
           model_code(b->model, c->slot[0]) &&
           formula_code_constant(model_code(b->model, c->slot[0]), &ignored);
}

static void find_measures(struct dieset_lanes *l)
{
    const struct build *b = l->b;
    for (int i = 0; i < (int)b->items.count && !base_give_up(); i++) {
        const struct item *it = &b->items.at[i];
        if (it->kind < 0 || !measures_hang(b, i, l->changed))
            continue;
        int n = handbook_kind(b->d->h, it->kind)->n_properties;
        for (int p = 0; p < n; p++)
            if (it->properties[p]->what == CELL_MEASURE) {
                base_vec_push(&l->measures, it->properties[p]);
                l->shown[it->properties[p]->slot[0]] = true;
            }
    }
}

struct dieset_lanes *dieset_lanes_new(struct dieset *d, int q, int lanes)
{
    if (!dieset_trying(d) || !keeps_the_build(d->now, q))
        return NULL;
    struct dieset_lanes *l = base_alloc(sizeof *l);
    l->d = d;
    l->b = d->now;
    l->model = model_lanes_new(l->b->model, l->b->quantity_cells[q]->slot[0], lanes);
    size_t slots = (size_t)model_count(l->b->model);
    l->changed = base_alloc(slots + 1);
    l->shown = base_alloc(slots + 1);
    for (size_t s = 0; s < slots; s++)
        l->changed[s] = model_lanes_hang(l->model, (int)s);
    find_measures(l);
    if (measures_lead(l->b, l->changed)) { /* lanes run formulas alone */
        dieset_lanes_free(l);
        return NULL;
    }
    return l;
}

void dieset_lanes_free(struct dieset_lanes *l)
{
    if (!l)
        return;
    model_lanes_free(l->model);
    base_vec_done(&l->measures);
    free(l->changed);
    free(l->shown);
    free(l);
}

struct model_lanes *dieset_lanes_model(struct dieset_lanes *l) { return l->model; }

enum dieset_hang dieset_lanes_hang(const struct dieset_lanes *l, int slot)
{
    return l->shown[slot] ? DIESET_HANGS_SHOWN : l->changed[slot] ? DIESET_HANGS : DIESET_HANGS_NOT;
}

bool dieset_lanes_measures(const struct dieset_lanes *l, int item)
{
    return item >= 0 && measures_hang(l->b, item, l->changed);
}

bool dieset_lanes_holes(const struct dieset_lanes *l, int plate)
{
    const struct plate_holes *range = &l->b->plate_holes[plate];
    for (int i = range->first; i < range->first + range->count; i++)
        if (hole_any(l->b, &l->b->holes.at[i], cell_is_changed, l->changed))
            return true;
    return false;
}

/* Is any so of what bodies hang on: their plates' faces, the stroke, and their own? */
static bool any_of_bodies(const struct build *b, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int faces[] = {k->top, k->bottom};
    for (size_t i = 0; i < b->rows[k->plate].items.count; i++)
        for (size_t f = 0; f < COUNT_OF(faces); f++)
            if (is(b, b->items.at[b->rows[k->plate].items.at[i]].properties[faces[f]], arg))
                return true;
    const struct cell *travel = only_cell(b, k->stack, k->travel),
                      *stroke = only_cell(b, k->press, k->stroke);
    if ((travel && is(b, travel, arg)) || (stroke && is(b, stroke, arg)))
        return true;
    for (size_t i = 0; i < b->bodies.count; i++)
        if (hole_any(b, &b->bodies.at[i], is, arg))
            return true;
    return false;
}

bool dieset_lanes_bodies(const struct dieset_lanes *l)
{
    return any_of_bodies(l->b, cell_is_changed, l->changed);
}

bool dieset_bodies_moved(const struct dieset *d, long since)
{
    return any_of_bodies(d->now, cell_has_moved, &since);
}

void dieset_lanes_show(struct dieset_lanes *l, int lane)
{
    model_lanes_show(l->model, lane);
    strip_stale(l->b);
    for (size_t i = 0; i < l->measures.count; i++)
        measure_show(l->b, l->measures.at[i]);
}
