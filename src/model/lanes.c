/* Lanes: many variants of one slot at once.
 *
 * All slots have a row of L lanes; slot s in lane l stands at [s * L + l], as formulas read them. Rows of
 * slots that do not hang on the varied one are filled once and never again; the others are run in the order
 * of ranks, each formula over all lanes before the next.
 */

#include "model/model.h"

#include <stdlib.h>

struct model_lanes {
    struct model *m;
    int slot, lanes;
    int *reach, n_reach; /* what hangs on SLOT, by rank */
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

static void aim(struct model_lanes *l, int slot)
{
    l->slot = slot;
    l->n_reach = model_reach(l->m, slot, l->reach);
}

/* SLOT stands in all lanes as in the model. */
static void let_go(struct model_lanes *l, int slot)
{
    for (int lane = 0; lane < l->lanes; lane++)
        lane_put(l, slot, lane, model_value(l->m, slot));
}

void model_lanes_turn(struct model_lanes *l, int slot)
{
    let_go(l, l->slot);
    for (int i = 0; i < l->n_reach; i++)
        let_go(l, l->reach[i]);
    aim(l, slot);
}

struct model_lanes *model_lanes_new(struct model *m, int slot, int lanes)
{
    struct model_lanes *l = base_alloc(sizeof *l);
    size_t slots = m->slots.count, all = slots * (size_t)lanes;
    *l = (struct model_lanes){.m = m, .lanes = lanes};
    l->reach = base_alloc((slots + 1) * sizeof *l->reach);
    aim(l, slot);
    l->value = base_alloc(all * sizeof *l->value);
    l->error = base_alloc(all);
    l->origin = base_alloc(all * sizeof *l->origin);
    l->out = base_alloc((size_t)lanes * sizeof *l->out);
    for (size_t s = 0; s < slots && !base_give_up(); s++)
        for (int lane = 0; lane < lanes; lane++)
            lane_put(l, (int)s, lane, model_value(m, (int)s));
    return l;
}

void model_lanes_free(struct model_lanes *l)
{
    if (!l)
        return;
    free(l->reach);
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
    for (int lane = 0; lane < l->lanes; lane++)
        lane_put(l, l->slot, lane,
                 (struct formula_value){numbers[lane < n ? lane : n - 1], FORMULA_FINE, -1});
    for (int i = 0; i < l->n_reach && !base_give_up(); i++)
        lane_run(l, l->reach[i]);
}
