/* Lanes: many variants of some slots at once.
 *
 * All slots have a row of L lanes; slot s in lane l stands at [s * L + l], as formulas read them. Rows of
 * slots that do not hang on the varied ones are filled once and never again; the others are run in the order
 * of ranks, each formula over all lanes before the next.
 */

#include "model/model.h"

#include <stdlib.h>

struct model_lanes {
    struct model *m;
    int lanes;
    int *slots, n_slots; /* that are varied */
    int *reach, n_reach; /* what hangs on them, by rank */
    bool *seen;          /* one a slot, false between calls */
    double *value;
    unsigned char *error;
    int *origin;
    double *registers;
    unsigned char *register_errors;
    int *register_origins;
    int n_registers;
    struct formula_value *out; /* one a lane */
};

static void lane_put(struct model_lanes *l, int slot, int lane, struct formula_value v)
{
    size_t at = (size_t)slot * (size_t)l->lanes + (size_t)lane;
    l->value[at] = v.number;
    l->error[at] = v.error;
    l->origin[at] = v.origin;
}

static void lane_registers(struct model_lanes *l, const struct formula_code *code)
{
    int n = formula_code_registers(code);
    if (n <= l->n_registers)
        return;
    l->n_registers = n * 2;
    size_t all = (size_t)l->n_registers * (size_t)l->lanes;
    l->registers = base_grow(l->registers, all * sizeof *l->registers);
    l->register_errors = base_grow(l->register_errors, all);
    l->register_origins = base_grow(l->register_origins, all * sizeof *l->register_origins);
}

/* SLOT stands in all lanes as in the model. */
static void let_go(struct model_lanes *l, int slot)
{
    for (int lane = 0; lane < l->lanes; lane++)
        lane_put(l, slot, lane, model_value(l->m, slot));
}

/* What reads SLOT and is not told yet joins the reach, unless it stays. */
static void add_readers(struct model_lanes *l, int slot, const bool *stays)
{
    int n;
    const int *readers = model_readers(l->m, slot, &n);
    for (int i = 0; i < n; i++)
        if (!l->seen[readers[i]] && !(stays && stays[readers[i]])) {
            l->seen[readers[i]] = true;
            l->reach[l->n_reach++] = readers[i];
        }
}

void model_lanes_aim(struct model_lanes *l, const int *slots, int n, const bool *stays)
{
    for (int i = 0; i < l->n_slots; i++)
        let_go(l, l->slots[i]);
    for (int i = 0; i < l->n_reach; i++)
        let_go(l, l->reach[i]);
    l->n_reach = l->n_slots = 0;
    for (int i = 0; i < n; i++)
        l->seen[l->slots[l->n_slots++] = slots[i]] = true;
    for (int i = 0; i < n; i++)
        add_readers(l, slots[i], stays);
    for (int i = 0; i < l->n_reach; i++)
        add_readers(l, l->reach[i], stays);
    for (int i = 0; i < n; i++)
        l->seen[slots[i]] = false;
    for (int i = 0; i < l->n_reach; i++)
        l->seen[l->reach[i]] = false;
    model_rank(l->m, l->reach, l->n_reach);
}

const int *model_lanes_reach(const struct model_lanes *l, int *n)
{
    *n = l->n_reach;
    return l->reach;
}

struct model_lanes *model_lanes_new(struct model *m, int lanes)
{
    struct model_lanes *l = base_alloc(sizeof *l);
    size_t slots = m->slots.count, all = slots * (size_t)lanes;
    *l = (struct model_lanes){.m = m, .lanes = lanes};
    l->slots = base_alloc((slots + 1) * sizeof *l->slots);
    l->reach = base_alloc((slots + 1) * sizeof *l->reach);
    l->seen = base_alloc(slots + 1);
    l->value = base_alloc(all * sizeof *l->value);
    l->error = base_alloc(all);
    l->origin = base_alloc(all * sizeof *l->origin);
    l->out = base_alloc((size_t)lanes * sizeof *l->out);
    for (size_t s = 0; s < slots && !base_give_up(); s++)
        let_go(l, (int)s);
    return l;
}

void model_lanes_free(struct model_lanes *l)
{
    if (!l)
        return;
    free(l->slots);
    free(l->reach);
    free(l->seen);
    free(l->value);
    free(l->error);
    free(l->origin);
    free(l->registers);
    free(l->register_errors);
    free(l->register_origins);
    free(l->out);
    free(l);
}

void model_lanes_code(struct model_lanes *l, const struct formula_code *code, const double *arguments,
                      const unsigned char *argument_errors, struct formula_value *out)
{
    lane_registers(l, code);
    struct formula_memory memory = {
        .lanes = l->lanes,
        .values = l->value,
        .errors = l->error,
        .origins = l->origin,
        .arguments = arguments,
        .argument_errors = argument_errors,
        .lookup = l->m->lookup,
        .lookup_arg = l->m->lookup_arg,
        .registers = l->registers,
        .register_errors = l->register_errors,
        .register_origins = l->register_origins,
    };
    formula_run(code, &memory, out);
}

static void lane_run(struct model_lanes *l, int slot)
{
    const struct formula_code *code = l->m->slots.at[slot].code;
    if (!code)
        return;
    model_lanes_code(l, code, NULL, NULL, l->out);
    for (int lane = 0; lane < l->lanes; lane++) {
        struct formula_value v = l->out[lane];
        v.origin = !v.error ? -1 : v.origin < 0 ? slot : v.origin;
        lane_put(l, slot, lane, v);
    }
}

void model_lanes_run(struct model_lanes *l, const double *numbers, int n)
{
    for (int i = 0; i < l->n_slots; i++)
        for (int lane = 0; lane < l->lanes; lane++)
            lane_put(l, l->slots[i], lane,
                     (struct formula_value){numbers[i * n + (lane < n ? lane : n - 1)], FORMULA_FINE, -1});
    for (int i = 0; i < l->n_reach && !base_give_up(); i++)
        lane_run(l, l->reach[i]);
}
