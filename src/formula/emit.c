/* What the compiler says and writes down: complaints with their place marked, results, operations.
 *
 * The lowest of the compiler's files: it knows no grammar and no names.
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
    char sentence[2 * sizeof(((struct base_diag *)0)->message)]; /* base_fail() cuts it where it may be cut */
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

struct formula_type compile_number(struct unit_dim dim)
{
    return (struct formula_type){.sort = FORMULA_NUMBER, .dim = dim};
}

struct result compile_constant(struct formula_type type, double number, unsigned char error)
{
    return (struct result){
        .type = type, .constant = true, .number = number, .error = error, .origin = -1, .reg = -1};
}

/* What stands where the operation has no third operand: a comparison must know whether it is of lengths. */
static int forgives(enum op_what what, struct formula_type t)
{
    bool compares = what >= OP_EQUAL && what <= OP_AT_LEAST;
    return compares && t.sort == FORMULA_NUMBER && unit_same(t.dim, UNIT_LENGTH);
}

static bool same_op(const struct op *a, const struct op *b)
{
    return a->what == b->what && a->error == b->error && a->a == b->a &&
           memcmp(&a->number, &b->number, sizeof a->number) == 0;
}

/* The register of OP; an operation that stands already (among the latest) is used again. */
static int add_op(struct compiler *c, struct op op)
{
    enum { BACK = 256 };
    int from = (int)c->ops.count - BACK;
    int *latest = &c->latest[(op.what * 7u + (unsigned)op.a * 5u + (unsigned)op.b) % COUNT_OF(c->latest)];
    for (int i = *latest; i > 0 && i > from; i = c->before.at[i - 1])
        if (same_op(&c->ops.at[i - 1], &op))
            return i - 1;
    base_vec_push(&c->ops, op);
    base_vec_push(&c->before, *latest);
    *latest = (int)c->ops.count;
    return *latest - 1;
}

int compile_register(struct compiler *c, struct result *r)
{
    if (r->constant) {
        r->reg = add_op(
            c, (struct op){.what = OP_CONST, .error = r->error, .a = r->origin, .number = r->number});
        r->constant = false;
    }
    return r->reg;
}

static struct result fold(enum op_what what, struct formula_type type, const struct result *const operands[3])
{
    double v[4] = {0};
    unsigned char e[4] = {0};
    int o[4] = {-1, -1, -1, -1};
    struct op op = {.what = (unsigned char)what, .a = 0, .b = 1, .c = 2};
    if (!operands[2])
        op.c = forgives(what, operands[0]->type);
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
                           struct result *b, struct result *cc)
{
    const struct result *const operands[3] = {a, b, cc};
    if (a->constant && (!b || b->constant) && (!cc || cc->constant))
        return fold(what, type, operands);
    struct op op = {.what = (unsigned char)what};
    op.a = compile_register(c, a);
    op.b = b ? compile_register(c, b) : 0;
    op.c = cc ? compile_register(c, cc) : forgives(what, a->type);
    return (struct result){.type = type, .reg = add_op(c, op)};
}

bool compile_found(struct compiler *c, const struct node *n, const struct formula_found *f,
                   struct result *out)
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

/* The bare number on one side of N, as it is written; NULL: there is none. */
static const struct node *bare_side(const struct node *n)
{
    const struct node *sides[] = {n->b, n->a};
    for (size_t i = 0; i < COUNT_OF(sides) && n->what != NODE_CALL; i++)
        if (sides[i] && sides[i]->what == NODE_NUMBER && sides[i]->bare)
            return sides[i];
    return NULL;
}

bool compile_alike(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                   const char *what)
{
    char x[80], y[80];
    if (a->type.sort == FORMULA_NUMBER && b->type.sort == FORMULA_NUMBER) {
        if (a->zero && !unit_same(a->type.dim, b->type.dim))
            a->type = b->type;
        else if (b->zero && !unit_same(a->type.dim, b->type.dim))
            b->type = a->type;
    }
    bool same = a->type.sort == b->type.sort &&
                (a->type.sort != FORMULA_NUMBER || unit_same(a->type.dim, b->type.dim));
    const struct node *bare = same ? NULL : bare_side(n);
    char *unit = bare ? base_format(": write %.*s with its unit", bare->length, c->tree->text + bare->start)
                      : base_copy("");
    same = same || compile_refuse(c, n, "%s and %s cannot be %s%s.", compile_type_name(a->type, x, sizeof x),
                                  compile_type_name(b->type, y, sizeof y), what, unit);
    free(unit);
    return same;
}
