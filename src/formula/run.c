/* Running code: one pass over the operations, each over all lanes. */

#include "formula/code.h"

#include <math.h>

const char *formula_error_text(enum formula_error e)
{
    switch (e) {
    case FORMULA_FINE:
        return "no error";
    case FORMULA_EMPTY:
        return "not filled in";
    case FORMULA_NO_ROW:
        return "no row fits";
    case FORMULA_SEVERAL:
        return "several rows fit";
    case FORMULA_DIVISION:
        return "division by zero";
    case FORMULA_ROOT:
        return "no such root";
    case FORMULA_LARGE:
        return "too large";
    case FORMULA_IMPOSSIBLE:
        return "not possible";
    }
    return "an error";
}

int op_arity(enum op_what what)
{
    switch (what) {
    case OP_CONST:
    case OP_LOAD:
    case OP_ARGUMENT:
    case OP_PICK:
        return 0;
    case OP_MINUS:
    case OP_NOT:
    case OP_KNOWN:
    case OP_ABS:
    case OP_SQRT:
    case OP_LOG10:
    case OP_SIN:
    case OP_COS:
    case OP_TAN:
    case OP_WHOLE:
        return 1;
    case OP_SELECT:
    case OP_SUM_IF:
    case OP_MAX_IF:
    case OP_MIN_IF:
    case OP_ONE_IF:
        return 3;
    default:
        return 2;
    }
}

/* ---- arithmetic with forgiveness for float noise --------------------------------------- */

static bool same(double a, double b, double forgiven)
{
    double noise = 1e-9 * fmax(fabs(a), fabs(b));
    return fabs(a - b) <= (noise > forgiven ? noise : forgiven) || a == b;
}

static double rise(double x, double step) { return ceil(x / step - 1e-6) * step; }
static double drop(double x, double step) { return floor(x / step + 1e-6) * step; }
static double whole(double x) { return trunc(x + copysign(1e-9 * fmax(1, fabs(x)), x)); }

static double rest(double a, double b)
{
    double n = floor(a / b + 1e-9);
    double r = a - n * b;
    return fabs(r) < 1e-9 * fabs(b) ? 0 : r;
}

/* ---- the operations ----------------------------------------------------------------------
 * V, E, O: value, error byte and origin of an operand in lane l. */

#define V(r) m->registers[(size_t)(r) * n + l]
#define E(r) m->register_errors[(size_t)(r) * n + l]
#define O(r) m->register_origins[(size_t)(r) * n + l]
#define FORGIVEN (op->c ? 1e-6 : 0) /* 1 nm of lengths */
#define LANES for (size_t l = 0; l < n; l++)

static inline void put(const struct formula_memory *m, size_t at, double value, unsigned char error,
                       int origin)
{
    m->registers[at] = value;
    m->register_errors[at] = error;
    m->register_origins[at] = origin;
}

/* FAULT tells which error a value that is no finite number stands for. */
#define ONE(expression, fault)                                                        \
    LANES                                                                             \
    {                                                                                 \
        double x = V(op->a);                                                          \
        double y = E(op->a) ? 0 : (expression);                                       \
        unsigned char e = E(op->a) ? E(op->a) : isfinite(y) ? FORMULA_FINE : (fault); \
        put(m, (size_t)to *n + l, e ? 0 : y, e, E(op->a) ? O(op->a) : -1);            \
    }                                                                                 \
    break

#define TWO(expression, fault)                                  \
    LANES                                                       \
    {                                                           \
        double x = V(op->a), y = V(op->b);                      \
        unsigned char e = E(op->a) ? E(op->a) : E(op->b);       \
        int o = E(op->a) ? O(op->a) : E(op->b) ? O(op->b) : -1; \
        double z = e ? 0 : (expression);                        \
        if (!e && !isfinite(z))                                 \
            e = (fault);                                        \
        put(m, (size_t)to *n + l, e ? 0 : z, e, o);             \
    }                                                           \
    break

/* `known`, `and`, `or` and `if` are the only ones that look at errors. */
static void run_both(const struct op *op, int to, const struct formula_memory *m, bool decides)
{
    size_t n = (size_t)m->lanes;
    LANES {
        bool a_known = !E(op->a), b_known = !E(op->b);
        bool a = V(op->a) != 0, b = V(op->b) != 0;
        size_t at = (size_t)to * n + l;
        if ((a_known && a == decides) || (b_known && b == decides))
            put(m, at, decides, FORMULA_FINE, -1);
        else if (!a_known)
            put(m, at, 0, E(op->a), O(op->a));
        else if (!b_known)
            put(m, at, 0, E(op->b), O(op->b));
        else
            put(m, at, !decides, FORMULA_FINE, -1);
    }
}

static void run_select(const struct op *op, int to, const struct formula_memory *m)
{
    size_t n = (size_t)m->lanes;
    LANES {
        int from = E(op->a) ? op->a : V(op->a) != 0 ? op->b : op->c;
        put(m, (size_t)to * n + l, V(from), E(from), O(from));
    }
}

static void run_pick(const struct op_pick *p, int to, const struct formula_memory *m)
{
    size_t n = (size_t)m->lanes;
    double keys[PICK_OPERANDS];
    LANES {
        struct formula_value out = {.origin = -1};
        for (int i = 0; i < p->n && !out.error; i++) {
            int r = p->registers[i];
            keys[i] = V(r);
            if (E(r)) {
                out.error = E(r);
                out.origin = O(r);
            }
        }
        if (!out.error)
            m->lookup(m->lookup_arg, &p->pick, keys, &out);
        put(m, (size_t)to * n + l, out.error ? 0 : out.number, out.error, out.origin);
    }
}

/* One more row of a kind: so far (a), fits (b), value (c). */
static void run_row(const struct op *op, int to, const struct formula_memory *m)
{
    size_t n = (size_t)m->lanes;
    LANES {
        size_t at = (size_t)to * n + l;
        bool nothing = E(op->a) == OP_NOTHING_YET;
        if (E(op->a) && !nothing)
            put(m, at, 0, E(op->a), O(op->a));
        else if (E(op->b))
            put(m, at, 0, E(op->b), O(op->b));
        else if (V(op->b) == 0)
            put(m, at, V(op->a), E(op->a), O(op->a));
        else if (E(op->c) || nothing)
            put(m, at, V(op->c), E(op->c), O(op->c));
        else if (op->what == OP_SUM_IF) {
            double sum = V(op->a) + V(op->c);
            bool fits = isfinite(sum);
            put(m, at, fits ? sum : 0, fits ? FORMULA_FINE : FORMULA_LARGE, -1);
        }
        else if (op->what == OP_MAX_IF)
            put(m, at, fmax(V(op->a), V(op->c)), FORMULA_FINE, -1);
        else if (op->what == OP_MIN_IF)
            put(m, at, fmin(V(op->a), V(op->c)), FORMULA_FINE, -1);
        else if (same(V(op->a), V(op->c), 0))
            put(m, at, V(op->a), FORMULA_FINE, -1);
        else
            put(m, at, 0, FORMULA_SEVERAL, -1);
    }
}

static void run_load(int to, const struct formula_memory *m, const double *values,
                     const unsigned char *errors, const int *origins, int from)
{
    size_t n = (size_t)m->lanes;
    LANES {
        size_t at = (size_t)from * n + l;
        unsigned char e = errors ? errors[at] : FORMULA_FINE;
        put(m, (size_t)to * n + l, values[at], e, e && origins ? origins[at] : -1);
    }
}

void op_run(const struct op *op, int to, const struct op_pick *picks, const struct formula_memory *m)
{
    const size_t n = (size_t)m->lanes;
    switch ((enum op_what)op->what) {
    case OP_CONST:
        LANES put(m, (size_t)to * n + l, op->number, op->error, op->error ? op->a : -1);
        break;
    case OP_LOAD:
        run_load(to, m, m->values, m->errors, m->origins, op->a);
        break;
    case OP_ARGUMENT:
        run_load(to, m, m->arguments, m->argument_errors, NULL, op->a);
        break;
    case OP_ADD:
        TWO(x + y, FORMULA_LARGE);
    case OP_SUBTRACT:
        TWO(x - y, FORMULA_LARGE);
    case OP_MULTIPLY:
        TWO(x * y, FORMULA_LARGE);
    case OP_DIVIDE:
        TWO(x / y, y == 0 ? FORMULA_DIVISION : FORMULA_LARGE);
    case OP_POWER:
        TWO(pow(x, y), x == 0 && y < 0 ? FORMULA_DIVISION : x < 0 ? FORMULA_ROOT : FORMULA_LARGE);
    case OP_MINUS:
        ONE(-x, FORMULA_LARGE);
    case OP_EQUAL:
        TWO(same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_UNEQUAL:
        TWO(!same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_LESS:
        TWO(x < y && !same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_AT_MOST:
        TWO(x < y || same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_MORE:
        TWO(x > y && !same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_AT_LEAST:
        TWO(x > y || same(x, y, FORGIVEN), FORMULA_LARGE);
    case OP_AND:
        run_both(op, to, m, false);
        break;
    case OP_OR:
        run_both(op, to, m, true);
        break;
    case OP_NOT:
        ONE(x == 0, FORMULA_LARGE);
    case OP_KNOWN:
        LANES put(m, (size_t)to * n + l, !E(op->a), FORMULA_FINE, -1);
        break;
    case OP_SELECT:
        run_select(op, to, m);
        break;
    case OP_MIN:
        TWO(fmin(x, y), FORMULA_LARGE);
    case OP_MAX:
        TWO(fmax(x, y), FORMULA_LARGE);
    case OP_ABS:
        ONE(fabs(x), FORMULA_LARGE);
    case OP_SQRT:
        ONE(sqrt(x), FORMULA_ROOT);
    case OP_LOG10:
        ONE(log10(x), x <= 0 ? FORMULA_IMPOSSIBLE : FORMULA_LARGE);
    case OP_SIN:
        ONE(sin(x), FORMULA_LARGE);
    case OP_COS:
        ONE(cos(x), FORMULA_LARGE);
    case OP_TAN:
        ONE(tan(x), FORMULA_LARGE);
    case OP_ATAN2:
        TWO(atan2(x, y), FORMULA_LARGE);
    case OP_RISE:
        TWO(rise(x, y), y == 0 ? FORMULA_DIVISION : FORMULA_LARGE);
    case OP_DROP:
        TWO(drop(x, y), y == 0 ? FORMULA_DIVISION : FORMULA_LARGE);
    case OP_WHOLE:
        ONE(whole(x), FORMULA_LARGE);
    case OP_REST:
        TWO(rest(x, y), y == 0 ? FORMULA_DIVISION : FORMULA_LARGE);
    case OP_PICK:
        run_pick(&picks[op->a], to, m);
        break;
    case OP_SUM_IF:
    case OP_MAX_IF:
    case OP_MIN_IF:
    case OP_ONE_IF:
        run_row(op, to, m);
        break;
    case OP_CLOSE:
        LANES
        {
            int from = E(op->a) == OP_NOTHING_YET ? op->b : op->a;
            put(m, (size_t)to * n + l, V(from), E(from), O(from));
        }
        break;
    }
}

void formula_run(const struct formula_code *c, const struct formula_memory *m, struct formula_value *out)
{
    for (int i = 0; i < c->n_ops; i++)
        op_run(&c->ops[i], i, c->picks, m);
    size_t n = (size_t)m->lanes, last = (size_t)c->n_ops - 1;
    LANES out[l] = (struct formula_value){m->registers[last * n + l], m->register_errors[last * n + l],
                                          m->register_origins[last * n + l]};
}

/* The pick in which the result's error arose: the first operand with an error is followed down, as errors
   are. */
static const struct op_pick *failed_pick(const struct formula_code *c, const struct formula_memory *m, int r)
{
    for (;;) {
        const struct op *op = &c->ops[r];
        if (op->what == OP_PICK)
            return &c->picks[op->a];
        const int operands[3] = {op->a, op->b, op->c};
        int n = op_arity((enum op_what)op->what), i = 0;
        if (op->what == OP_SELECT && !m->register_errors[op->a]) {
            r = m->registers[op->a] != 0 ? op->b : op->c;
            continue;
        }
        while (i < n && !m->register_errors[operands[i]])
            i++;
        if (i == n)
            return NULL;
        r = operands[i];
    }
}

/* The pick that the result stands for: followed back through the arms that were taken. */
static const struct op_pick *pick_behind(const struct formula_code *c, const struct formula_memory *m)
{
    int r = c->n_ops - 1;
    while (c->ops[r].what == OP_SELECT) {
        if (m->register_errors[c->ops[r].a])
            return NULL;
        r = m->registers[c->ops[r].a] != 0 ? c->ops[r].b : c->ops[r].c;
    }
    return c->ops[r].what == OP_PICK ? &c->picks[c->ops[r].a] : NULL;
}

static bool sized(enum formula_pick_mode mode)
{
    return mode == FORMULA_OVER || mode == FORMULA_UNDER || mode == FORMULA_NEAR;
}

bool formula_code_need(const struct formula_code *c, const struct formula_memory *m, double *need)
{
    const struct op_pick *p = pick_behind(c, m);
    if (!p || !sized(p->pick.mode) || m->register_errors[p->registers[p->n - 1]])
        return false;
    *need = m->registers[p->registers[p->n - 1]];
    return true;
}

const struct formula_pick *formula_code_pick(const struct formula_code *c, const struct formula_memory *m,
                                             double *values)
{
    int last = c->n_ops - 1;
    const struct op_pick *p = m->register_errors[last] ? failed_pick(c, m, last) : pick_behind(c, m);
    if (!p)
        return NULL;
    for (int i = 0; i < p->n; i++)
        values[i] = m->registers[p->registers[i]];
    return &p->pick;
}

struct formula_type formula_code_type(const struct formula_code *c) { return c->type; }
int formula_code_length(const struct formula_code *c) { return c->n_ops; }
int formula_code_registers(const struct formula_code *c) { return c->n_ops; }

const int *formula_code_reads(const struct formula_code *c, int *count)
{
    *count = c->n_reads;
    return code_reads(c);
}

int formula_code_picks(const struct formula_code *c) { return c->n_picks; }

uint64_t formula_code_asked(const struct formula_code *c)
{
    uint64_t asked = 0;
    for (int i = 0; i < c->n_ops; i++)
        if (c->ops[i].what == OP_ARGUMENT && c->ops[i].a < 64)
            asked |= UINT64_C(1) << c->ops[i].a;
    return asked;
}

bool formula_code_constant(const struct formula_code *c, struct formula_value *out)
{
    const struct op *last = &c->ops[c->n_ops - 1];
    if (last->what != OP_CONST)
        return false;
    *out = (struct formula_value){last->number, last->error, last->error ? last->a : -1};
    return true;
}
