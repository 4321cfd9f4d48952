/* Tree to code: types checked, constants folded, dead arms left out.
 *
 * An `if` whose condition is constant compiles its live arm only: the names of the other are not even resolved, so
 * that a dead arm can make no circle. (That arm's types were checked when the handbook was loaded, with
 * nothing constant.)
 */

#include "formula/compile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct formula_type compile_yesno = {.sort = FORMULA_YESNO};

/* ---- complaints ------------------------------------------------------------------- */

static void mark(struct compiler *c, const struct node *n)
{
    struct frame *f = c->frame;
    while (f && f->up)
        f = f->up;
    if (f)
        n = f->call;
    base_diag_mark(c->why, c->tree->text, n->start, n->length);
}

bool compile_refuse(struct compiler *c, const struct node *n, const char *fmt, ...)
{
    char sentence[500];
    va_list args;
    va_start(args, fmt);
    int used = 0;
    if (c->frame)
        used = snprintf(sentence, sizeof sentence, "In %s(): ", c->frame->function->name);
    vsnprintf(sentence + used, sizeof sentence - (size_t)used, fmt, args);
    va_end(args);
    if (strncmp(sentence, "a ", 2) == 0 || strncmp(sentence, "an ", 3) == 0) /* a type begins the sentence */
        sentence[0] = 'A';
    base_fail(c->why, BASE_REFUSED, "%s", sentence);
    mark(c, n);
    return false;
}

bool compile_pass(struct compiler *c, const struct node *n)
{
    if (c->why && !c->why->source[0])
        mark(c, n);
    return false;
}

const char *compile_type_name(struct formula_type t, char *buf, size_t size)
{
    switch (t.sort) {
    case FORMULA_NUMBER:
        return unit_dim_name(t.dim, buf, size);
    case FORMULA_TEXT:
        return "a text";
    case FORMULA_YESNO:
        return "a yes or no";
    case FORMULA_ITEM:
        return "an item";
    }
    return "a value";
}

/* ---- results ----------------------------------------------------------------------- */

struct formula_type compile_number(struct unit_dim dim) { return (struct formula_type){.sort = FORMULA_NUMBER, .dim = dim}; }

struct result compile_constant(struct formula_type type, double number, unsigned char error)
{
    return (struct result){.type = type, .constant = true, .number = number, .error = error, .origin = -1, .reg = -1};
}

double compile_forgiven(struct formula_type t)
{
    return t.sort == FORMULA_NUMBER && unit_same(t.dim, UNIT_LENGTH) ? 1e-6 : 0; /* 1 nm */
}

static bool same_op(const struct op *a, const struct op *b)
{
    return a->what == b->what && a->error == b->error && a->a == b->a && a->b == b->b && a->c == b->c &&
           memcmp(&a->number, &b->number, sizeof a->number) == 0;
}

/* The register of OP; an operation that stands already (among the latest) is used again. */
static int add_op(struct compiler *c, struct op op)
{
    enum { BACK = 256 };
    size_t from = c->ops.count > BACK ? c->ops.count - BACK : 0;
    for (size_t i = c->ops.count; i > from; i--)
        if (same_op(&c->ops.at[i - 1], &op))
            return (int)i - 1;
    base_vec_push(&c->ops, op);
    return (int)c->ops.count - 1;
}

int compile_register(struct compiler *c, struct result *r)
{
    if (r->constant) {
        r->reg = add_op(c, (struct op){.what = OP_CONST, .error = r->error, .a = r->origin, .number = r->number});
        r->constant = false;
    }
    return r->reg;
}

static struct result fold(enum op_what what, struct formula_type type, const struct result *const operands[3], double number)
{
    double v[4] = {0};
    unsigned char e[4] = {0};
    int o[4] = {-1, -1, -1, -1};
    struct op op = {.what = (unsigned char)what, .number = number, .a = 0, .b = 1, .c = 2};
    for (int i = 0; i < 3; i++)
        if (operands[i])
            v[i] = operands[i]->number, e[i] = operands[i]->error, o[i] = operands[i]->origin;
    struct formula_memory m = {.lanes = 1, .registers = v, .register_errors = e, .register_origins = o};
    op_run(&op, 3, NULL, &m);
    struct result r = compile_constant(type, v[3], e[3]);
    r.origin = o[3];
    return r;
}

struct result compile_emit(struct compiler *c, enum op_what what, struct formula_type type, struct result *a,
                           struct result *b, struct result *cc, double number)
{
    const struct result *const operands[3] = {a, b, cc};
    if (a->constant && (!b || b->constant) && (!cc || cc->constant))
        return fold(what, type, operands, number);
    struct op op = {.what = (unsigned char)what, .number = number};
    op.a = compile_register(c, a);
    op.b = b ? compile_register(c, b) : 0;
    op.c = cc ? compile_register(c, cc) : 0;
    return (struct result){.type = type, .reg = add_op(c, op)};
}

/* ---- names ---------------------------------------------------------------------------- */

bool compile_found(struct compiler *c, const struct node *n, const struct formula_found *f, struct result *out)
{
    (void)n;
    if (f->how == FORMULA_CONSTANT) {
        *out = compile_constant(f->type, f->constant, f->error);
        out->origin = f->error ? f->arisen - 1 : -1;
        return true;
    }
    struct op op = {.what = f->how == FORMULA_SLOT ? OP_LOAD : OP_ARGUMENT, .a = f->index};
    *out = (struct result){.type = f->type, .reg = add_op(c, op)};
    return true;
}

static bool unknown_name(struct compiler *c, const struct node *n, const char *name)
{
    struct base_text near = {0};
    if (c->scope->nearest)
        c->scope->nearest(c->scope->arg, name, &near);
    const char *words = base_text_get(&near);
    compile_refuse(c, n, "There is no \"%s\" here%s%s.", name, *words ? "; near it: " : "", words);
    base_text_done(&near);
    if (c->why)
        c->why->code = BASE_UNKNOWN;
    return false;
}

static bool frame_name(struct compiler *c, const char *name, struct result *out)
{
    const struct formula_function *f = c->frame ? c->frame->function : NULL;
    for (int i = 0; f && i < c->frame->known; i++) {
        const char *known = i < f->n_parameters ? f->parameters[i].name : f->lets[i - f->n_parameters].name;
        if (strcmp(known, name) == 0) {
            *out = c->frame->names[i];
            return true;
        }
    }
    return false;
}

static bool compile_leading(struct compiler *c, const struct node *n, const char *name, struct result *out)
{
    if (frame_name(c, name, out))
        return true;
    struct formula_found found;
    enum base_err err = c->scope->name(c->scope->arg, name, c->frame != NULL, &found, c->why);
    if (!err)
        return compile_found(c, n, &found, out);
    if (err == BASE_UNKNOWN && strcmp(name, "pi") == 0) {
        *out = compile_constant(compile_number(UNIT_NUMBER), 3.14159265358979323846, 0);
        return true;
    }
    return err == BASE_UNKNOWN ? unknown_name(c, n, name) : compile_pass(c, n);
}

static bool compile_path(struct compiler *c, const struct node *n, struct result *out)
{
    if (!compile_leading(c, n, n->parts[0], out))
        return false;
    for (int i = 1; i < n->n_parts; i++) {
        if (out->type.sort != FORMULA_ITEM)
            return compile_refuse(c, n, "%s is no item: nothing can stand behind its point.", n->parts[i - 1]);
        if (!out->constant)
            return compile_refuse(c, n, "Which item %s is would be known only when numbers are: its properties cannot be read here.", n->parts[i - 1]);
        if (out->error) { /* a reference that is not filled in: its properties are not either */
            struct formula_found type;
            enum base_err err = c->scope->property(c->scope->arg, -1, out->type.kind, n->parts[i], &type, c->why);
            if (err == BASE_UNKNOWN && !c->why->message[0])
                return compile_refuse(c, n, "%s has no \"%s\".", n->parts[i - 1], n->parts[i]);
            if (err)
                return compile_pass(c, n);
            int origin = out->origin;
            *out = compile_constant(type.type, 0, out->error);
            out->origin = origin;
            continue;
        }
        struct formula_found found;
        enum base_err err = c->scope->property(c->scope->arg, (int)out->number, out->type.kind, n->parts[i], &found, c->why);
        if (err == BASE_UNKNOWN) {
            if (!c->why || !c->why->message[0])
                return compile_refuse(c, n, "%s has no \"%s\".", n->parts[i - 1], n->parts[i]);
            return compile_pass(c, n);
        }
        if (err)
            return compile_pass(c, n);
        if (!compile_found(c, n, &found, out))
            return false;
    }
    return true;
}

/* ---- operators ------------------------------------------------------------------------- */

bool compile_alike(struct compiler *c, const struct node *n, struct result *a, struct result *b, const char *what)
{
    char x[80], y[80];
    if (a->type.sort == FORMULA_NUMBER && b->type.sort == FORMULA_NUMBER) {
        if (a->zero && !unit_same(a->type.dim, b->type.dim))
            a->type = b->type;
        else if (b->zero && !unit_same(a->type.dim, b->type.dim))
            b->type = a->type;
    }
    bool same = a->type.sort == b->type.sort && (a->type.sort != FORMULA_NUMBER || unit_same(a->type.dim, b->type.dim));
    return same || compile_refuse(c, n, "%s and %s cannot be %s.", compile_type_name(a->type, x, sizeof x),
                                  compile_type_name(b->type, y, sizeof y), what);
}

static bool want_number(struct compiler *c, const struct node *n, const struct result *r)
{
    char buf[80];
    return r->type.sort == FORMULA_NUMBER ||
           compile_refuse(c, n, "A number is wanted here, and this is %s.", compile_type_name(r->type, buf, sizeof buf));
}

static bool want_yesno(struct compiler *c, const struct node *n, const struct result *r)
{
    char buf[80];
    return r->type.sort == FORMULA_YESNO ||
           compile_refuse(c, n, "A yes or no is wanted here, and this is %s.", compile_type_name(r->type, buf, sizeof buf));
}

static bool compile_sum(struct compiler *c, const struct node *n, struct result *a, struct result *b, struct result *out)
{
    if (!want_number(c, n->a, a) || !want_number(c, n->b, b) ||
        !compile_alike(c, n, a, b, n->what == NODE_ADD ? "added" : "subtracted"))
        return false;
    *out = compile_emit(c, n->what == NODE_ADD ? OP_ADD : OP_SUBTRACT, a->type, a, b, NULL, 0);
    return true;
}

static bool compile_product(struct compiler *c, const struct node *n, struct result *a, struct result *b, struct result *out)
{
    struct unit_dim dim;
    if (!want_number(c, n->a, a) || !want_number(c, n->b, b))
        return false;
    bool times = n->what == NODE_MULTIPLY;
    if (!(times ? unit_multiply(a->type.dim, b->type.dim, &dim) : unit_divide(a->type.dim, b->type.dim, &dim)))
        return compile_refuse(c, n, "The powers of this grow too high.");
    *out = compile_emit(c, times ? OP_MULTIPLY : OP_DIVIDE, compile_number(dim), a, b, NULL, 0);
    return true;
}

static bool compile_power(struct compiler *c, const struct node *n, struct result *a, struct result *b, struct result *out)
{
    struct unit_dim dim = UNIT_NUMBER;
    if (!want_number(c, n->a, a) || !want_number(c, n->b, b))
        return false;
    if (!unit_same(b->type.dim, UNIT_NUMBER))
        return compile_refuse(c, n->b, "A power is a plain number, without unit.");
    bool plain = unit_same(a->type.dim, UNIT_NUMBER);
    if (!plain && (!b->constant || b->error))
        return compile_refuse(c, n->b, "The power of a value with a unit must be written as a number.");
    if (!plain && !unit_raise(a->type.dim, b->number, &dim))
        return compile_refuse(c, n, "This power leaves no dimension that could be named.");
    *out = compile_emit(c, OP_POWER, compile_number(dim), a, b, NULL, 0);
    return true;
}

static bool compile_comparison(struct compiler *c, const struct node *n, struct result *a, struct result *b, struct result *out)
{
    static const enum op_what ops[] = {OP_EQUAL, OP_UNEQUAL, OP_LESS, OP_AT_MOST, OP_MORE, OP_AT_LEAST};
    if (!compile_alike(c, n, a, b, "compared"))
        return false;
    bool equality = n->what == NODE_EQUAL || n->what == NODE_UNEQUAL;
    if (!equality && !want_number(c, n->a, a))
        return false;
    *out = compile_emit(c, ops[n->what - NODE_EQUAL], compile_yesno, a, b, NULL, compile_forgiven(a->type));
    return true;
}

/* `and`, `or`: a constant side that decides leaves the other out altogether. */
static bool compile_both(struct compiler *c, const struct node *n, struct result *out)
{
    struct result a, b;
    bool decides = n->what == NODE_OR;
    if (!compile_node(c, n->a, &a) || !want_yesno(c, n->a, &a))
        return false;
    if (a.constant && !a.error && (a.number != 0) == decides) {
        *out = a;
        return true;
    }
    if (!compile_node(c, n->b, &b) || !want_yesno(c, n->b, &b))
        return false;
    if ((a.constant && !a.error) || (b.constant && !b.error && (b.number != 0) == decides))
        *out = b;
    else if (b.constant && !b.error)
        *out = a;
    else
        *out = compile_emit(c, decides ? OP_OR : OP_AND, compile_yesno, &a, &b, NULL, 0);
    return true;
}

static bool compile_one(struct compiler *c, const struct node *n, struct result *out)
{
    struct result a;
    if (!compile_node(c, n->a, &a))
        return false;
    if (n->what == NODE_NOT ? !want_yesno(c, n->a, &a) : !want_number(c, n->a, &a))
        return false;
    *out = compile_emit(c, n->what == NODE_NOT ? OP_NOT : OP_MINUS, a.type, &a, NULL, NULL, 0);
    out->zero = a.zero;
    return true;
}

static bool compile_two(struct compiler *c, const struct node *n, struct result *out)
{
    struct result a, b;
    if (!compile_node(c, n->a, &a) || !compile_node(c, n->b, &b))
        return false;
    switch (n->what) {
    case NODE_ADD:
    case NODE_SUBTRACT:
        return compile_sum(c, n, &a, &b, out);
    case NODE_MULTIPLY:
    case NODE_DIVIDE:
        return compile_product(c, n, &a, &b, out);
    case NODE_POWER:
        return compile_power(c, n, &a, &b, out);
    default:
        return compile_comparison(c, n, &a, &b, out);
    }
}

bool compile_node(struct compiler *c, const struct node *n, struct result *out)
{
    switch (n->what) {
    case NODE_NUMBER:
        *out = compile_constant(compile_number(n->dim), n->number, 0);
        out->zero = n->bare && n->number == 0;
        return true;
    case NODE_TEXT:
        *out = compile_constant((struct formula_type){.sort = FORMULA_TEXT}, base_pool_put(c->scope->pool, n->name), 0);
        return true;
    case NODE_YESNO:
        *out = compile_constant(compile_yesno, n->number, 0);
        return true;
    case NODE_PATH:
        return compile_path(c, n, out);
    case NODE_CALL:
        return compile_call(c, n, out);
    case NODE_MINUS:
    case NODE_NOT:
        return compile_one(c, n, out);
    case NODE_AND:
    case NODE_OR:
        return compile_both(c, n, out);
    default:
        return compile_two(c, n, out);
    }
}

/* ---- the whole --------------------------------------------------------------------------- */

static bool check_want(struct compiler *c, struct result *r, const struct formula_type *want)
{
    char x[80], y[80];
    const struct node *root = c->tree->root;
    if (!want)
        return true;
    if (want->sort == FORMULA_NUMBER && r->type.sort == FORMULA_NUMBER && r->zero)
        r->type = *want;
    bool same = want->sort == r->type.sort && (want->sort != FORMULA_NUMBER || unit_same(want->dim, r->type.dim)) &&
                (want->sort != FORMULA_ITEM || want->kind < 0 || r->type.kind < 0 || want->kind == r->type.kind);
    if (same)
        return true;
    if (want->sort == FORMULA_ITEM && r->type.sort == FORMULA_ITEM)
        return compile_refuse(c, root, "This is an item of another kind than is wanted here.");
    const struct node *n = root;
    if (want->sort == FORMULA_NUMBER && n->what == NODE_NUMBER && n->bare)
        return compile_refuse(c, root, "%s is wanted here: write the number with its unit.", compile_type_name(*want, x, sizeof x));
    return compile_refuse(c, root, "%s is wanted here, and this gives %s.", compile_type_name(*want, x, sizeof x),
                          compile_type_name(r->type, y, sizeof y));
}

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

static void note_reads(struct formula_code *out)
{
    struct base_map seen = {0};
    out->reads = base_alloc((size_t)out->n_ops * sizeof *out->reads);
    for (int i = 0; i < out->n_ops; i++) {
        if (out->ops[i].what != OP_LOAD)
            continue;
        char key[16];
        snprintf(key, sizeof key, "%d", out->ops[i].a);
        if (!base_map_get(&seen, key, NULL)) {
            base_map_put(&seen, key, 1);
            out->reads[out->n_reads++] = out->ops[i].a;
        }
    }
    base_map_done(&seen);
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
static struct formula_code *gather(struct compiler *c, struct result *r)
{
    int last = compile_register(c, r);
    size_t n = c->ops.count;
    bool *live = base_alloc(n);
    int *stack = base_alloc((n + 1) * sizeof *stack), *now = base_alloc(n * sizeof *now);
    mark_live(c, last, live, stack);
    struct formula_code *out = base_alloc(sizeof *out);
    out->type = r->type;
    out->ops = base_alloc(n * sizeof *out->ops);
    out->picks = base_alloc((c->picks.count + 1) * sizeof *out->picks);
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
    free(live);
    free(stack);
    free(now);
    return out;
}

static void free_keys(struct op_pick *picks, size_t n)
{
    for (size_t i = 0; i < n; i++)
        free((void *)(uintptr_t)picks[i].pick.keys); /* const for readers, ours to free */
}

enum base_err formula_compile(const struct formula_tree *t, const struct formula_scope *scope, const struct formula_type *want,
                              struct formula_code **out, struct base_diag *why)
{
    struct base_diag unheard = {0};
    struct compiler c = {.scope = scope, .tree = t, .why = why ? why : &unheard};
    struct result r;
    *out = NULL;
    *c.why = (struct base_diag){0};
    bool good = compile_node(&c, t->root, &r) && check_want(&c, &r, want);
    if (good)
        *out = gather(&c, &r);
    free_keys(c.picks.at, c.picks.count);
    base_vec_done(&c.ops);
    base_vec_done(&c.picks);
    return good ? BASE_OK : c.why->code ? c.why->code : BASE_REFUSED;
}

void formula_code_free(struct formula_code *c)
{
    if (!c)
        return;
    free_keys(c->picks, (size_t)c->n_picks);
    free(c->ops);
    free(c->picks);
    free(c->reads);
    free(c);
}

struct formula_code *formula_code_of_constant(struct formula_type type, double number)
{
    struct formula_code *c = base_alloc(sizeof *c);
    c->type = type;
    c->ops = base_alloc(sizeof *c->ops);
    c->ops[0] = (struct op){.what = OP_CONST, .a = -1, .number = number};
    c->n_ops = 1;
    return c;
}
