/* A run while it is made: what is typed at a point, and what is taken down there. */

#include "explore/explore.h"

#include <stdlib.h>
#include <string.h>

int explore_changes(const struct dieset *d, int q, const char *text, struct typed_change changes[2])
{
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    if (quantity->item >= 0) {
        changes[0] = (struct typed_change){TYPED_ENTRY, dieset_item_name(d, quantity->item), quantity->entry,
                                           NULL, text};
        return 1;
    }
    changes[0] = (struct typed_change){TYPED_ITEM, quantity->path, "", NULL, "factor"};
    changes[1] = (struct typed_change){TYPED_ENTRY, quantity->path, "value", NULL, text};
    return 2;
}

static size_t place(const struct explore *x, int shown, enum dieset_state s, int point)
{
    return ((size_t)shown * DIESET_STATES + (size_t)s) * (size_t)x->n + (size_t)point;
}

void making_value(struct making *m, int shown, enum dieset_state s, int point, struct formula_value v)
{
    m->x->values[place(m->x, shown, s, point)] = v;
}

struct formula_value explore_value(const struct explore *x, int shown, enum dieset_state s, int point)
{
    return x->values[place(x, shown, s, point)];
}

static int finding_of(struct making *m, const struct finding *f)
{
    struct explore *x = m->x;
    struct base_arena *a = &x->memory;
    int at;
    if (base_map_get(&m->keys, f->key, &at))
        return at;
    struct explore_finding mine = {base_arena_copy(a, f->key),
                                   base_arena_copy(a, f->rule),
                                   base_arena_copy(a, f->title),
                                   base_arena_copy(a, f->item >= 0 ? dieset_item_title(m->d, f->item) : ""),
                                   f->grade,
                                   f->states,
                                   0,
                                   0,
                                   base_arena_alloc(a, (size_t)x->n)};
    memset(mine.grades, EXPLORE_ABSENT, (size_t)x->n);
    base_map_put(&m->keys, f->key, (int)x->findings.count);
    base_vec_push(&x->findings, mine);
    base_vec_push(&m->told, ((struct told){f->type, base_alloc((size_t)x->n * sizeof(struct worst))}));
    return (int)x->findings.count - 1;
}

/* Finding I of the run as it was told last at POINT. */
struct finding making_told_at(const struct making *m, int i, int point)
{
    const struct explore_finding *f = &m->x->findings.at[i];
    const struct worst *w = &m->told.at[i].at[point];
    return (struct finding){.key = f->key,
                            .rule = f->rule,
                            .grade = (enum handbook_grade)f->grades[point],
                            .states = (enum handbook_states)w->states,
                            .type = m->told.at[i].type,
                            .measured = w->measured,
                            .margin = w->margin,
                            .limit = w->limit};
}

void making_finding(struct making *m, int point, const struct finding *finding)
{
    int at = finding_of(m, finding);
    struct explore_finding *mine = &m->x->findings.at[at];
    if (finding->grade > mine->grade)
        mine->grade = finding->grade;
    mine->states |= finding->states;
    struct worst *w = &m->told.at[at].at[point];
    bool known = mine->grades[point] >= 0;
    struct finding old = making_told_at(m, at, point);
    mine->count += !known;
    if (!known || findings_graver(finding, &old)) {
        mine->grades[point] = (signed char)finding->grade;
        *w = (struct worst){finding->margin, finding->limit, finding->measured, w->states};
    }
    w->states |= (unsigned char)finding->states;
}

bool making_goes_on(struct making *m, int done)
{
    if (m->ask->go_on && !m->ask->go_on(m->ask->arg, done))
        m->broken_off = true;
    m->broken_off = m->broken_off || base_given_up();
    return !m->broken_off;
}
