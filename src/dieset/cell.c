/* Cells: made, read, and the reasons why one of them cannot be bound. The rest of the room stands on this. */

#include "dieset/build.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct cell *build_cell(struct build *b, const struct cell *proto)
{
    struct cell *c = base_arena_alloc(&b->memory, sizeof *c);
    *c = *proto;
    c->slot[DIESET_NEW] = c->slot[DIESET_GROUND] = -1;
    c->quantity = -1;
    c->id = (int)b->cells.count;
    base_vec_push(&b->cells, c);
    return c;
}

const struct item *item_points(const struct build *b, int item)
{
    while (b->items.at[item].with >= 0 && !b->items.at[item].framed)
        item = b->items.at[item].with;
    return &b->items.at[item];
}

const struct handbook_property *cell_property(const struct build *b, const struct cell *c)
{
    if (c->what != CELL_PROPERTY && c->what != CELL_MEASURE)
        return NULL;
    return &handbook_kind(b->d->h, b->items.at[c->item].kind)->properties[c->number];
}

void cell_range(const struct build *b, const struct cell *c, const struct formula_tree **low,
                const struct formula_tree **high)
{
    const struct handbook_property *p = cell_property(b, c);
    const struct handbook_take *t = c->what == CELL_TAKE ? &b->items.at[c->item].pattern->takes[c->number]
                                                         : NULL;
    const struct handbook_factor *f = c->what == CELL_FACTOR ? handbook_factor(b->d->h, c->number) : NULL;
    *low = p ? p->low : t ? t->low : f ? f->low : NULL;
    *high = p ? p->high : t ? t->high : f ? f->high : NULL;
}

bool has_usual(const struct build *b, const struct cell *c)
{
    const struct handbook_property *p = cell_property(b, c);
    if (c->what == CELL_TAKE || c->what == CELL_TURN_ALL)
        return false; /* a pattern asks for them; what it starts with is no formula typed over */
    const struct handbook_pattern *pattern = c->point < 0 ? NULL : b->items.at[c->item].pattern;
    if ((c->what == CELL_X || c->what == CELL_Y) && pattern && pattern->free)
        return false; /* each of its points is asked for its place */
    return c->can_type && c->tree && (!p || p->how == HANDBOOK_USUAL);
}

/* ---- values of cells -------------------------------------------------------------------------- */

struct formula_value cell_outcome(const struct build *b, const struct cell *c, enum dieset_state s)
{
    return c->folded[s] ? c->constant[s] : model_value(b->model, c->slot[s]);
}

double cell_amount(const struct build *b, const struct cell *c, enum dieset_state s)
{
    struct formula_value v = cell_outcome(b, c, s);
    return v.error ? NAN : v.number;
}

struct cell *only_cell(const struct build *b, int kind, int property)
{
    bool any = kind >= 0 && property >= 0 && b->rows[kind].items.count > 0;
    return any ? b->items.at[b->rows[kind].items.at[0]].properties[property] : NULL;
}

/* ---- asked of many ---- */

bool cell_is_changed(const struct build *b, const struct cell *c, void *arg)
{
    const bool *changed = arg;
    (void)b;
    return c->slot[0] >= 0 && (changed[c->slot[0]] || changed[c->slot[1]]);
}

bool cell_has_moved(const struct build *b, const struct cell *c, void *arg)
{
    const long *since = arg;
    for (int s = 0; s < DIESET_STATES; s++)
        if (c->slot[s] >= 0 && model_moved(b->model, c->slot[s], *since))
            return true;
    return false;
}

bool cell_is_broken(const struct build *b, const struct cell *c, void *arg)
{
    struct cell_origin *origin = arg;
    struct formula_value v = cell_outcome(b, c, origin->state);
    if (v.error) /* what needs no working out is told without the place where it stands */
        origin->slot = v.origin >= 0 ? v.origin : c->slot[0];
    /* a measure is unknown for some other reason, which is looked for */
    int q = v.error && origin->slot >= 0 ? b->slot_quantity[origin->slot] : -1;
    return v.error && origin->slot >= 0 &&
           (q < 0 || b->quantity_cells[q / DIESET_STATES]->what != CELL_MEASURE);
}

/* ---- reasons -------------------------------------------------------------------------------- */

static enum base_err keep(struct build *b, struct base_diag *why, const struct base_diag *reason)
{
    if (!b->failed)
        b->why = *reason;
    b->failed = true;
    if (why)
        *why = b->why;
    return BASE_REFUSED;
}

enum base_err bind_fail(struct build *b, struct base_diag *why, const char *fmt, ...)
{
    struct base_diag reason = {0};
    va_list args;
    va_start(args, fmt);
    base_fail_args(&reason, BASE_REFUSED, fmt, args);
    va_end(args);
    return keep(b, why, &reason);
}

enum base_err bind_fail_given_up(struct build *b, struct base_diag *why)
{
    struct base_diag reason = {0};
    base_fail_given_up(&reason);
    return keep(b, why, &reason);
}

enum base_err bind_fail_at(struct build *b, const char *path, const struct base_diag *inner,
                           struct base_diag *why)
{
    struct base_diag reason = {0};
    base_fail(&reason, BASE_REFUSED, "%s: %s", path, inner->message);
    base_diag_mark(&reason, inner->source, inner->start, inner->length);
    reason.file[0] = '\0';
    reason.line = 0;
    return keep(b, why, &reason);
}
