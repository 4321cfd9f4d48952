/* What a trial says of one subject: step by step, so that one subject and many variants are judged alike. */

#include "findings/findings.h"

#include <math.h>

struct formula_value findings_value(const struct findings *f, const struct formula_code *c,
                                   const struct findings_subject *s)
{
    return model_run(dieset_model(f->d), c, s->args, s->errors);
}

/* 1 nm and float noise are forgiven, as in formulas. */
static double forgiven(const struct findings_trial *t, double limit)
{
    double noise = 1e-9 * fabs(limit);
    return t->type.sort == FORMULA_NUMBER && unit_same(t->type.dim, UNIT_LENGTH) && noise < 1e-6 ? 1e-6
                                                                                                 : noise;
}

static bool rung_holds(const struct findings_trial *t, const struct handbook_rung *g, double value,
                       double limit, double *margin)
{
    double noise = forgiven(t, limit);
    switch (g->relation) {
    case FORMULA_AT_LEAST:
        *margin = value - limit;
        return *margin >= -noise;
    case FORMULA_AT_MOST:
        *margin = limit - value;
        return *margin >= -noise;
    case FORMULA_MORE:
        *margin = value - limit;
        return *margin > noise;
    case FORMULA_LESS:
        *margin = limit - value;
        return *margin > noise;
    case FORMULA_EQUAL:
        *margin = -fabs(value - limit);
        return *margin >= -noise;
    case FORMULA_UNEQUAL:
        *margin = fabs(value - limit);
        return *margin > noise;
    }
    return true;
}

static bool block_on(struct findings_verdict *v, struct formula_value x)
{
    if (!x.error)
        return false;
    v->blocked = true;
    v->origin = x.origin;
    v->error = (enum formula_error)x.error;
    return true;
}

bool findings_verdict_when(struct findings_verdict *v, struct formula_value when)
{
    if (!block_on(v, when))
        v->applies = when.number != 0;
    return !v->blocked && v->applies;
}

bool findings_verdict_rung(const struct findings_trial *t, int rung, struct formula_value value,
                           struct formula_value limit, struct findings_verdict *v)
{
    const struct handbook_rung *g = &t->rule->rungs[rung];
    if ((!g->yesno && block_on(v, value)) || block_on(v, limit))
        return false;
    double margin = limit.number != 0 ? 0 : -1;
    bool holds = g->yesno ? limit.number != 0 : rung_holds(t, g, value.number, limit.number, &margin);
    if (!g->yesno && (!v->measured || margin < v->margin || !holds)) {
        v->measured = true;
        v->limit = limit.number;
        v->margin = margin;
    }
    if (!holds) {
        v->fails = true;
        v->rung = rung;
    }
    return holds;
}

struct findings_verdict findings_verdict_of(const struct findings *f, const struct findings_trial *t,
                                            struct findings_subject *s)
{
    struct findings_verdict v = {.applies = true};
    if (t->when && !findings_verdict_when(&v, findings_value(f, t->when, s)))
        return v;
    struct formula_value value = {0};
    if (t->value) {
        value = findings_value(f, t->value, s);
        v.value = s->args[t->block->value] = value.number;
        s->errors[t->block->value] = value.error;
    }
    for (int i = 0; i < t->rule->n_rungs; i++)
        if (!findings_verdict_rung(t, i, value, findings_value(f, t->rungs[i], s), &v))
            break;
    if (t->value)
        s->args[t->block->limit] = v.limit;
    return v;
}

/* Arguments of a trial, the same in each lane: argument a of lane k stands at [a * lanes + k]. */
struct in_lanes {
    double args[FINDINGS_NAMES * FINDINGS_LANES];
    unsigned char errors[FINDINGS_NAMES * FINDINGS_LANES];
};

void findings_verdicts(struct model_lanes *l, int n, const struct findings_trial *t,
                       const struct findings_subject *s, struct findings_verdict *v)
{
    struct in_lanes in = {{0}, {0}};
    struct formula_value out[FINDINGS_LANES], value[FINDINGS_LANES] = {{0}};
    bool open[FINDINGS_LANES];
    for (int a = 0; a < FINDINGS_NAMES * n; a++) {
        in.args[a] = s->args[a / n];
        in.errors[a] = s->errors[a / n];
    }
    for (int k = 0; k < n; k++) {
        v[k] = (struct findings_verdict){.applies = true};
        open[k] = true;
    }
    if (t->when) {
        model_lanes_code(l, t->when, in.args, in.errors, out);
        for (int k = 0; k < n; k++)
            open[k] = findings_verdict_when(&v[k], out[k]);
    }
    if (t->value) {
        model_lanes_code(l, t->value, in.args, in.errors, value);
        for (int k = 0; k < n; k++) {
            v[k].value = in.args[t->block->value * n + k] = value[k].number;
            in.errors[t->block->value * n + k] = value[k].error;
        }
    }
    for (int i = 0; i < t->rule->n_rungs; i++) {
        model_lanes_code(l, t->rungs[i], in.args, in.errors, out);
        for (int k = 0; k < n; k++)
            open[k] = open[k] && findings_verdict_rung(t, i, value[k], out[k], &v[k]);
    }
}

int findings_measures(const struct findings_trial *t)
{
    return t->block->value >= 0 ? t->block->value : t->block->count;
}

void findings_fill(const struct findings *f, const struct findings_trial *t, struct findings_subject *s)
{
    bool joint = t->rule->over == HANDBOOK_EACH_JOINT;
    int item = joint ? t->joint.member : t->item;
    *s = (struct findings_subject){.item = item, .like = item < 0 ? "" : dieset_item_name(f->d, item)};
    for (int i = 0; i < findings_measures(t); i++) {
        const char *name = t->block->names[i];
        if (!(t->asks >> i & 1))
            continue;
        bool known = joint ? dieset_joint_measure(f->d, &t->joint, name, &s->args[i])
                           : dieset_measure(f->d, t->item, name, t->state, &s->args[i]);
        if (!known)
            s->errors[i] = FORMULA_EMPTY;
    }
}
