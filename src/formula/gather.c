/* From the compiler's list of operations to code that is kept: what the result hangs on, numbered anew. */

#include "formula/compile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void mark_live(const struct compiler *c, int reg, bool *live, int *stack)
{
    int depth = 0;
    stack[depth++] = reg;
    live[reg] = true;
    while (depth) {
        const struct op *op = &c->ops.at[stack[--depth]];
        int operands[3] = {op->a, op->b, op->c}, n = op_arity((enum op_what)op->what);
        const int *from = operands;
        if (op->what == OP_PICK) {
            from = c->picks.at[op->a].registers;
            n = c->picks.at[op->a].n;
        }
        for (int i = 0; i < n; i++)
            if (!live[from[i]]) {
                live[from[i]] = true;
                stack[depth++] = from[i];
            }
    }
}

static bool is_among(const int *list, int n, int slot)
{
    while (n > 0)
        if (list[--n] == slot)
            return true;
    return false;
}

/* Sums over many rows read many slots; all else reads a few, for which a look along them is quicker. */
static void note_reads(struct formula_code *out)
{
    enum { FEW = 24 };
    struct base_map seen = {0};
    int *reads = code_reads(out);
    for (int i = 0; i < out->n_ops; i++) {
        char key[16];
        int slot = out->ops[i].a, near = out->n_reads < FEW ? out->n_reads : FEW;
        if (out->ops[i].what != OP_LOAD || is_among(reads, near, slot))
            continue;
        if (out->n_reads >= FEW) {
            snprintf(key, sizeof key, "%d", slot);
            if (base_map_get(&seen, key, NULL))
                continue;
            base_map_put(&seen, key, 1);
        }
        reads[out->n_reads++] = slot;
    }
    base_map_done(&seen);
}

/* Code and its lists lie in one piece of memory: a large job has a hundred thousand, most of them short. */
static struct formula_code *new_code(struct formula_type type, size_t ops, size_t loads)
{
    struct formula_code *out = base_alloc(sizeof *out + ops * sizeof *out->ops + loads * sizeof(int));
    out->type = type;
    return out;
}

static void renumber(struct op *op, const int *now)
{
    int *const operands[3] = {&op->a, &op->b, &op->c};
    for (int i = 0; i < op_arity((enum op_what)op->what); i++)
        *operands[i] = now[*operands[i]];
}

/* Move a live pick into OUT; the compiler's list forgets its keys. */
static int take_pick(struct compiler *c, struct formula_code *out, int pick, const int *now)
{
    struct op_pick *p = &out->picks[out->n_picks];
    *p = c->picks.at[pick];
    c->picks.at[pick].pick.keys = NULL;
    for (int k = 0; k < p->n; k++)
        p->registers[k] = now[p->registers[k]];
    return out->n_picks++;
}

/* Operations that the result does not hang on are left out; registers are numbered anew. */
struct formula_code *compile_gather(struct compiler *c, struct result *r)
{
    enum { HERE = 64 }; /* operations for which no memory is asked: most formulas have fewer */
    int here[2 * HERE + 1];
    bool live_here[HERE] = {false};
    int last = compile_register(c, r);
    size_t n = c->ops.count;
    bool *live = n <= HERE ? live_here : base_alloc(n);
    int *stack = n <= HERE ? here : base_alloc((2 * n + 1) * sizeof *stack), *now = stack + n + 1;
    mark_live(c, last, live, stack);
    size_t kept = 0, loads = 0;
    for (int i = 0; i <= last; i++) {
        kept += live[i];
        loads += live[i] && c->ops.at[i].what == OP_LOAD;
    }
    struct formula_code *out = new_code(r->type, kept, loads);
    out->picks = c->picks.count ? base_alloc(c->picks.count * sizeof *out->picks) : NULL;
    for (int i = 0; i <= last; i++) {
        if (!live[i])
            continue;
        struct op op = c->ops.at[i];
        now[i] = out->n_ops;
        if (op.what == OP_PICK)
            op.a = take_pick(c, out, op.a, now);
        else
            renumber(&op, now);
        out->ops[out->n_ops++] = op;
    }
    note_reads(out);
    if (n > HERE) {
        free(live);
        free(stack);
    }
    return out;
}

void compile_free_keys(struct op_pick *picks, size_t n)
{
    for (size_t i = 0; i < n; i++)
        free((void *)(uintptr_t)picks[i].pick.keys); /* const for readers, ours to free */
}

static bool same_op(const struct op *a, const struct op *b)
{
    return a->what == b->what && a->error == b->error && a->a == b->a &&
           memcmp(&a->number, &b->number, sizeof a->number) == 0;
}

bool formula_code_same(const struct formula_code *a, const struct formula_code *b)
{
    if (!a || !b || a->n_picks || b->n_picks || a->n_ops != b->n_ops || a->type.sort != b->type.sort ||
        a->type.kind != b->type.kind || !unit_same(a->type.dim, b->type.dim))
        return false;
    for (int i = 0; i < a->n_ops; i++)
        if (!same_op(&a->ops[i], &b->ops[i]))
            return false;
    return true;
}

void formula_code_free(struct formula_code *c)
{
    if (!c)
        return;
    compile_free_keys(c->picks, (size_t)c->n_picks);
    free(c->picks);
    free(c);
}

struct formula_code *formula_code_of_constant(struct formula_type type, double number)
{
    struct formula_code *c = new_code(type, 1, 0);
    c->ops[0] = (struct op){.what = OP_CONST, .a = -1, .number = number};
    c->n_ops = 1;
    return c;
}
