/* Rules at the worst case, with the sizes by their names. */

#include "tolerance/tolerance.h"

#include <stdlib.h>

struct gathering {
    struct findings *f;
    const struct tolerance_made *made;
    struct tolerance_worst *out;
};

static const char *parts_of(struct gathering *g, const struct findings_turned *t)
{
    struct dieset *d = findings_dieset(g->f);
    struct base_text text = {0};
    for (int i = 0; i < t->n_sizes; i++) {
        char by[60];
        unit_print(t->takes[i], t->type.dim, dieset_system(d), by, sizeof by);
        base_text_addf(&text, "%s%s %s", i ? "; " : "",
                       tolerance_title(d, g->made->at.at[t->sizes[i]].q, &g->out->memory), by);
    }
    if (t->n_all > t->n_sizes && t->n_sizes)
        base_text_addf(&text, "; %d more", t->n_all - t->n_sizes);
    const char *out = base_arena_copy(&g->out->memory, base_text_get(&text));
    base_text_done(&text);
    return out;
}

/* A rule in both states is told once, as it fails by more. */
static void gather(void *arg, const struct findings_turned *t)
{
    struct gathering *g = arg;
    struct tolerance_turned mine = {*t, parts_of(g, t)};
    for (size_t i = 0; i < g->out->at.count; i++) {
        struct tolerance_turned *old = &g->out->at.at[i];
        if (old->f.rule != t->rule || old->f.item != t->item)
            continue;
        if (t->grade > old->f.grade || (t->grade == old->f.grade && t->worst < old->f.worst))
            *old = mine;
        return;
    }
    base_vec_push(&g->out->at, mine);
}

static int gravest_first(const void *a, const void *b)
{
    const struct tolerance_turned *p = a, *q = b;
    if (p->f.grade != q->f.grade)
        return p->f.grade > q->f.grade ? -1 : 1;
    if (p->f.rule != q->f.rule)
        return p->f.rule < q->f.rule ? -1 : 1; /* they lie in the handbook's order */
    return (p->f.item > q->f.item) - (p->f.item < q->f.item);
}

enum base_err tolerance_rules(struct findings *f, struct tolerance_worst *out, struct base_diag *why)
{
    struct tolerance_made made;
    struct gathering g = {f, &made, out};
    *out = (struct tolerance_worst){0};
    enum base_err err = tolerance_made(findings_dieset(f), &made, why);
    if (!err) {
        struct findings_size *sizes = base_alloc((made.at.count + 1) * sizeof *sizes);
        for (size_t i = 0; i < made.at.count; i++)
            sizes[i] = made.at.at[i].size;
        const struct findings_off off = {sizes, (int)made.at.count, made.stays};
        out->sizes = off.n;
        findings_at_limits(f, &off, gather, &g);
        free(sizes);
        if (base_given_up())
            err = base_fail_given_up(why);
    }
    if (out->at.count)
        qsort(out->at.at, out->at.count, sizeof *out->at.at, gravest_first);
    tolerance_made_done(&made);
    return err;
}

void tolerance_worst_done(struct tolerance_worst *w)
{
    base_vec_done(&w->at);
    base_arena_done(&w->memory);
}
