/* What stands about a value beside the run: the sizes that are listed for it, and the limits set to it. */

#include "explore/explore.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- listed sizes ---------------------------------------------------------------------------------- */

void explore_stock(struct making *m)
{
    struct explore *x = m->x;
    struct explore_sizes s;
    if (!explore_sizes(m->d, m->ask->quantity, DIESET_NEW, &s))
        return;
    const struct table_column_spec *c = &table_spec(dieset_tables(m->d), s.table)->columns[s.column];
    if (!c->is_text && unit_same(c->dim, x->type.type.dim)) {
        x->stock = base_arena_alloc(&x->memory, (s.at.count + 1) * sizeof *x->stock);
        for (size_t i = 0; i < s.at.count; i++)
            x->stock[x->n_stock++] = s.at.at[i].number;
    }
    explore_sizes_done(&s);
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
