/* Tree to code: types checked, constants folded, dead arms left out.
 *
 * An `if` whose condition is constant compiles its live arm only: the names of the other are not even
 * resolved, so that a dead arm can make no circle. (That arm's types were checked when the handbook was
 * loaded, with nothing constant.)
 */

#include "formula/compile.h"

#include <stdlib.h>
#include <string.h>

static bool compile_node(struct compiler *c, const struct node *n, struct result *out);

/* ---- names ---------------------------------------------------------------------------- */

static bool unknown_name(struct compiler *c, const struct node *n, const char *name)
{
    struct base_text near = {0};
    if (c->scope->nearest)
        c->scope->nearest(c->scope->arg, name, &near);
    const char *words = base_text_get(&near);
    if (name[0] == 'M' && name[1] && strspn(name + 1, "0123456789") == strlen(name + 1))
        compile_refuse(c, n,
                       "%s is no name; as a length write its nominal diameter, %s mm, as a text \"%s\".",
                       name, name + 1, name); /* ISO 68-1 */
    else
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
            return compile_refuse(c, n, "%s is no item: nothing can stand behind its point.",
                                  n->parts[i - 1]);
        if (!out->constant)
            return compile_refuse(
                c, n,
                "Which item %s is would be known only when numbers are: its properties cannot be read here.",
                n->parts[i - 1]);
        if (out->error) { /* a reference that is not filled in: its properties are not either */
            struct formula_found type;
            enum base_err err = c->scope->property(c->scope->arg, -1, out->type.kind, n->parts[i], &type,
                                                   c->why);
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
        enum base_err err = c->scope->property(c->scope->arg, (int)out->number, out->type.kind, n->parts[i],
                                               &found, c->why);
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

static bool want_number(struct compiler *c, const struct node *n, const struct result *r)
{
    char buf[80];
    return r->type.sort == FORMULA_NUMBER || compile_refuse(c, n, "A number is wanted here, and this is %s.",
                                                            compile_type_name(r->type, buf, sizeof buf));
}

static bool want_yesno(struct compiler *c, const struct node *n, const struct result *r)
{
    char buf[80];
    return r->type.sort == FORMULA_YESNO ||
           compile_refuse(c, n, "A yes or no is wanted here, and this is %s.",
                          compile_type_name(r->type, buf, sizeof buf));
}

static bool compile_sum(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                        struct result *out)
{
    if (!want_number(c, n->a, a) || !want_number(c, n->b, b) ||
        !compile_alike(c, n, a, b, n->what == NODE_ADD ? "added" : "subtracted"))
        return false;
    *out = compile_emit(c, n->what == NODE_ADD ? OP_ADD : OP_SUBTRACT, a->type, a, b, NULL);
    return true;
}

static bool compile_product(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                            struct result *out)
{
    struct unit_dim dim;
    if (!want_number(c, n->a, a) || !want_number(c, n->b, b))
        return false;
    bool times = n->what == NODE_MULTIPLY;
    if (!(times ? unit_multiply(a->type.dim, b->type.dim, &dim)
                : unit_divide(a->type.dim, b->type.dim, &dim)))
        return compile_refuse(c, n, "The powers of this grow too high.");
    *out = compile_emit(c, times ? OP_MULTIPLY : OP_DIVIDE, compile_number(dim), a, b, NULL);
    return true;
}

static bool compile_power(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                          struct result *out)
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
    *out = compile_emit(c, OP_POWER, compile_number(dim), a, b, NULL);
    return true;
}

static bool compile_comparison(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                               struct result *out)
{
    static const enum op_what ops[] = {OP_EQUAL, OP_UNEQUAL, OP_LESS, OP_AT_MOST, OP_MORE, OP_AT_LEAST};
    if (!compile_alike(c, n, a, b, "compared"))
        return false;
    bool equality = n->what == NODE_EQUAL || n->what == NODE_UNEQUAL;
    if (!equality && !want_number(c, n->a, a))
        return false;
    *out = compile_emit(c, ops[n->what - NODE_EQUAL], compile_yesno, a, b, NULL);
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
        *out = compile_emit(c, decides ? OP_OR : OP_AND, compile_yesno, &a, &b, NULL);
    return true;
}

static bool compile_one(struct compiler *c, const struct node *n, struct result *out)
{
    struct result a;
    if (!compile_node(c, n->a, &a))
        return false;
    if (n->what == NODE_NOT ? !want_yesno(c, n->a, &a) : !want_number(c, n->a, &a))
        return false;
    *out = compile_emit(c, n->what == NODE_NOT ? OP_NOT : OP_MINUS, a.type, &a, NULL, NULL);
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

static bool compile_node(struct compiler *c, const struct node *n, struct result *out)
{
    switch (n->what) {
    case NODE_NUMBER:
        *out = compile_constant(compile_number(n->dim), n->number, 0);
        out->zero = n->bare && n->number == 0;
        return true;
    case NODE_TEXT:
        *out = compile_constant((struct formula_type){.sort = FORMULA_TEXT},
                                base_pool_put(c->scope->pool, n->name), 0);
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
    const struct node *root = tree_root(c->tree);
    if (!want)
        return true;
    if (want->sort == FORMULA_NUMBER && r->type.sort == FORMULA_NUMBER && r->zero)
        r->type = *want;
    bool same = want->sort == r->type.sort &&
                (want->sort != FORMULA_NUMBER || unit_same(want->dim, r->type.dim)) &&
                (want->sort != FORMULA_ITEM || want->kind < 0 || r->type.kind < 0 ||
                 want->kind == r->type.kind);
    if (same)
        return true;
    if (want->sort == FORMULA_ITEM && r->type.sort == FORMULA_ITEM)
        return compile_refuse(c, root, "This is an item of another kind than is wanted here.");
    const struct node *n = root;
    if (want->sort == FORMULA_NUMBER && n->what == NODE_NUMBER && n->bare)
        return compile_refuse(c, root, "%s is wanted here: write the number with its unit.",
                              compile_type_name(*want, x, sizeof x));
    return compile_refuse(c, root, "%s is wanted here, and this gives %s.",
                          compile_type_name(*want, x, sizeof x), compile_type_name(r->type, y, sizeof y));
}

enum base_err formula_compile(const struct formula_tree *t, const struct formula_scope *scope,
                              const struct formula_type *want, struct formula_code **out,
                              struct base_diag *why)
{
    struct base_diag unheard = {0};
    struct compiler c = {.scope = scope, .tree = t, .node = compile_node, .why = why ? why : &unheard};
    struct result r;
    *out = NULL;
    *c.why = (struct base_diag){0};
    bool good = compile_node(&c, tree_root(t), &r) && check_want(&c, &r, want);
    if (good)
        *out = compile_gather(&c, &r);
    compile_free_keys(c.picks.at, c.picks.count);
    base_vec_done(&c.ops);
    base_vec_done(&c.before);
    base_vec_done(&c.picks);
    return good ? BASE_OK : c.why->code ? c.why->code : BASE_REFUSED;
}
