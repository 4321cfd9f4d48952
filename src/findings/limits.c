/* Limits that rules set to a quantity itself: for lines in a plot and figures beside a value. */

#include "findings/findings.h"

/* The rule's value is this slot and nothing else. */
static bool is_slot(const struct formula_code *value, int slot)
{
    int n = 0;
    const int *reads = value ? formula_code_reads(value, &n) : NULL;
    return n == 1 && formula_code_length(value) == 1 && reads[0] == slot;
}

static bool applies(const struct findings *f, const struct findings_trial *t,
                    const struct findings_subject *s)
{
    if (!t->when)
        return true;
    struct formula_value when = model_run(dieset_model(f->d), t->when, s->args, s->errors);
    return !when.error && when.number != 0;
}

static int limits_of(const struct findings *f, const struct findings_trial *t, struct findings_limit *out,
                     int room)
{
    struct findings_subject s;
    int n = 0;
    findings_fill(f, t, &s);
    if (!applies(f, t, &s))
        return 0;
    struct formula_value value = model_run(dieset_model(f->d), t->value, s.args, s.errors);
    s.args[t->block->value] = value.number;
    s.errors[t->block->value] = value.error;
    for (int i = 0; i < t->rule->n_rungs && n < room; i++) {
        if (t->rule->rungs[i].yesno)
            continue;
        struct formula_value limit = model_run(dieset_model(f->d), t->rungs[i], s.args, s.errors);
        if (!limit.error)
            out[n++] = (struct findings_limit){t->rule, t->item, i, limit.number};
    }
    return n;
}

int findings_limits(struct findings *f, int quantity, enum dieset_state s, struct findings_limit *out,
                    int room)
{
    int n = 0;
    findings_bind_now(f);
    if (quantity < 0)
        return 0;
    const struct dieset_quantity *q = dieset_quantity(f->d, quantity);
    bool both = q->slot[DIESET_NEW] == q->slot[DIESET_GROUND];
    for (size_t i = 0; i < f->now->trials.count && n < room; i++) {
        const struct findings_trial *t = &f->now->trials.at[i];
        bool single = t->rule->over == HANDBOOK_ONCE || t->rule->over == HANDBOOK_EACH_KIND;
        if (single && (t->state == s || both) && is_slot(t->value, q->slot[s]))
            n += limits_of(f, t, out + n, room - n);
    }
    return n;
}
