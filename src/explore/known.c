/* What stands about a value beside the run: the sizes that are listed for it, and the limits set to it. */

#include "explore/explore.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- listed sizes ---------------------------------------------------------------------------------- */

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void add_rows(struct making *m, int table, int column, const int *rows, int n)
{
    struct explore *x = m->x;
    const struct table_set *set = dieset_tables(m->d);
    const struct table_column_spec *c = &table_spec(set, table)->columns[column];
    if (c->is_text || !unit_same(c->dim, x->type.type.dim))
        return;
    x->stock = base_arena_alloc(&x->memory, (size_t)(n + 1) * sizeof *x->stock);
    for (int i = 0; i < n; i++) {
        const struct table_cell *cell = table_cell(set, table, rows ? rows[i] : i, column);
        if (!cell->empty)
            x->stock[x->n_stock++] = cell->number;
    }
    qsort(x->stock, (size_t)x->n_stock, sizeof *x->stock, by_size);
    int kept = 0;
    for (int i = 0; i < x->n_stock; i++)
        if (!kept || x->stock[i] != x->stock[kept - 1])
            x->stock[kept++] = x->stock[i];
    x->n_stock = kept;
}

/* The rows that the value's own look-up by size leaves. */
static bool from_pick(struct dieset *d, const struct dieset_quantity *q, struct explore_listed *out)
{
    double values[16];
    int slot = q->usual_slot >= 0 ? q->usual_slot : q->slot[DIESET_NEW];
    const struct formula_pick *pick = slot < 0 ? NULL : model_pick(dieset_model(d), slot, values);
    if (!pick || (pick->mode != FORMULA_OVER && pick->mode != FORMULA_UNDER && pick->mode != FORMULA_NEAR))
        return false;
    out->table = pick->table;
    out->column = pick->column;
    out->n = table_candidates(dieset_tables(d), pick->query, values, &out->rows);
    return true;
}

bool explore_listed(struct dieset *d, int quantity, struct explore_listed *out)
{
    const struct dieset_quantity *q = dieset_quantity(d, quantity);
    *out = (struct explore_listed){0};
    if (from_pick(d, q, out))
        return true;
    if (!q->property || !q->property->from_table)
        return false;
    const struct table_set *set = dieset_tables(d);
    out->table = table_find(set, q->property->from_table);
    out->column = out->table < 0 ? -1 : table_column(set, out->table, q->property->from_column);
    out->n = out->column < 0 ? 0 : table_rows(set, out->table);
    return out->column >= 0;
}

void explore_stock(struct making *m)
{
    struct explore_listed l;
    if (explore_listed(m->d, m->ask->quantity, &l))
        add_rows(m, l.table, l.column, l.rows, l.n);
}

/* --- limits --------------------------------------------------------------------------------------------- */

/* Limits on all shown values with the die set at one point. */
struct place { int shown; enum dieset_state state; };
struct sample { BASE_VEC(struct findings_limit) at; BASE_VEC(struct place) places; };

static void sample_value(struct making *m, int shown, enum dieset_state state, struct sample *s)
{
    enum { ROOM = 50 };
    struct findings_limit found[ROOM];
    int n = findings_limits(m->f, dieset_find(m->d, m->x->shown[shown].path), state, found, ROOM);
    for (int i = 0; i < n; i++) {
        base_vec_push(&s->at, found[i]);
        base_vec_push(&s->places, ((struct place){shown, state}));
    }
}

static void sample_point(struct making *m, int point, struct sample *s)
{
    struct typed_change changes[2];
    int n = explore_changes(m->d, m->ask->quantity, m->x->text[point], changes);
    if (dieset_try(m->d, changes, n, NULL) == BASE_OK)
        for (int i = 0; i < m->x->n_shown; i++)
            for (int state = 0; state < (m->x->shown[i].stateful ? DIESET_STATES : 1); state++)
                sample_value(m, i, (enum dieset_state)state, s);
    dieset_drop(m->d);
}

static bool same_limit(const struct findings_limit *a, const struct findings_limit *b)
{
    return a->rule == b->rule && a->rung == b->rung && a->item == b->item && a->limit == b->limit;
}

/* One line is enough for several items with one limit. */
static bool told_before(const struct explore *x, int shown, enum dieset_state s,
                        const struct findings_limit *l)
{
    for (size_t i = 0; i < x->limits.count; i++) {
        const struct explore_limit *o = &x->limits.at[i];
        if (o->shown == shown && o->state == s && o->limit == l->limit &&
            strcmp(o->rule, l->rule->name) == 0 && o->relation == l->rule->rungs[l->rung].relation)
            return true;
    }
    return false;
}

static bool in_sample(const struct sample *s, const struct findings_limit *limit, struct place place)
{
    for (size_t i = 0; i < s->at.count; i++)
        if (s->places.at[i].shown == place.shown && s->places.at[i].state == place.state &&
            same_limit(&s->at.at[i], limit))
            return true;
    return false;
}

/* Those that are the same at both ends and in the middle stand still. */
void explore_limits(struct making *m)
{
    struct explore *x = m->x;
    const int points[] = {0, x->n / 2, x->n - 1};
    struct sample samples[COUNT_OF(points)] = {0};
    for (size_t i = 0; i < COUNT_OF(points); i++)
        sample_point(m, points[i], &samples[i]);
    for (size_t k = 0; k < samples[0].at.count; k++) {
        const struct findings_limit *l = &samples[0].at.at[k];
        struct place p = samples[0].places.at[k];
        if (!in_sample(&samples[1], l, p) || !in_sample(&samples[2], l, p) ||
            told_before(x, p.shown, p.state, l))
            continue;
        const struct handbook_rule *r = l->rule;
        struct explore_limit limit = {p.shown,
                                      p.state,
                                      base_arena_copy(&x->memory, r->name),
                                      base_arena_copy(&x->memory, r->title),
                                      r->rungs[l->rung].relation,
                                      l->limit};
        base_vec_push(&x->limits, limit);
    }
    for (size_t i = 0; i < COUNT_OF(points); i++) {
        base_vec_done(&samples[i].at);
        base_vec_done(&samples[i].places);
    }
}
