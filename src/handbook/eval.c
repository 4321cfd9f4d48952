/* The calculator: formulas of factors, functions and tables, without a job; and worked examples. */

#include "handbook/scope.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DEEPEST_FACTOR = 20 };

struct evaluation { const struct handbook *h; int depth; };

static enum base_err run(struct evaluation *e, const struct formula_tree *t, const struct formula_type *want,
                         struct formula_value *value, struct formula_type *type, struct base_diag *why);

/* A factor is worked out where it is named; factors may name each other. */
static enum base_err find_name(void *arg, const char *name, bool in_body, struct formula_found *out,
                               struct base_diag *why)
{
    (void)in_body;
    struct evaluation *e = arg;
    int i = handbook_find_factor(e->h, name);
    if (i < 0)
        return BASE_UNKNOWN;
    if (e->depth >= DEEPEST_FACTOR)
        return base_fail(why, BASE_REFUSED, "The factor %s goes in a circle.", name);
    const struct handbook_factor *f = &e->h->factors.at[i];
    struct formula_value v;
    e->depth++;
    enum base_err err = run(e, f->tree, &f->type.type, &v, NULL, why);
    e->depth--;
    *out = (struct formula_found){
        .how = FORMULA_CONSTANT, .type = f->type.type, .constant = v.number, .error = v.error};
    return err;
}

static enum base_err no_property(void *arg, int item, int kind, const char *property,
                                 struct formula_found *out, struct base_diag *why)
{
    (void)arg, (void)item, (void)kind, (void)out;
    return base_fail(why, BASE_REFUSED, "\"%s\" belongs to an item, and there is no job here.", property);
}

static const struct formula_function *find_function(void *arg, const char *name)
{
    return scope_function(((struct evaluation *)arg)->h, name);
}
static void nearest(void *arg, const char *name, struct base_text *out)
{
    scope_nearest(((struct evaluation *)arg)->h, name, out);
}
static int find_table(void *arg, const char *name)
{
    return scope_table(((struct evaluation *)arg)->h, name);
}
static int pick(void *arg, const struct formula_pick *p)
{
    return scope_pick(((struct evaluation *)arg)->h, p);
}

static bool column(void *arg, int table, const char *name, struct formula_column *out)
{
    return scope_column(((struct evaluation *)arg)->h, table, name, out);
}

static int find_kind(void *arg, const char *name)
{
    (void)arg, (void)name;
    return -1;
}

static int no_rows(void *arg, int kind, const int **items)
{
    (void)arg, (void)kind;
    *items = NULL;
    return 0;
}

static int state(void *arg, int s)
{
    (void)arg, (void)s;
    return -1;
}

static void run_code(const struct handbook *h, const struct formula_code *code, struct formula_value *value)
{
    int n = formula_code_registers(code);
    double *registers = base_alloc((size_t)n * sizeof *registers);
    unsigned char *errors = base_alloc((size_t)n);
    int *origins = base_alloc((size_t)n * sizeof *origins);
    struct formula_memory m = {.lanes = 1,
                               .lookup = scope_lookup,
                               .lookup_arg = (void *)(uintptr_t)h,
                               .registers = registers,
                               .register_errors = errors,
                               .register_origins = origins};
    formula_run(code, &m, value);
    free(registers);
    free(errors);
    free(origins);
}

static enum base_err run(struct evaluation *e, const struct formula_tree *t, const struct formula_type *want,
                         struct formula_value *value, struct formula_type *type, struct base_diag *why)
{
    struct formula_scope scope = {.arg = e,
                                  .name = find_name,
                                  .property = no_property,
                                  .function = find_function,
                                  .nearest = nearest,
                                  .kind = find_kind,
                                  .rows = no_rows,
                                  .table = find_table,
                                  .column = column,
                                  .pick = pick,
                                  .state = state,
                                  .pool = e->h->pool};
    struct formula_code *code;
    enum base_err err = formula_compile(t, &scope, want, &code, why);
    if (err)
        return err;
    run_code(e->h, code, value);
    if (type)
        *type = formula_code_type(code);
    formula_code_free(code);
    return BASE_OK;
}

enum base_err handbook_eval_tree(const struct handbook *h, const struct formula_tree *t,
                                 const struct formula_type *want, struct formula_value *value,
                                 struct formula_type *type, struct base_diag *why)
{
    struct evaluation e = {.h = h};
    return run(&e, t, want, value, type, why);
}

enum base_err handbook_eval(const struct handbook *h, const char *expression, struct formula_value *value,
                            struct formula_type *type, struct base_diag *why)
{
    struct formula_tree *t;
    bool bare;
    char *alone = formula_number_alone(expression, false, &bare);
    enum base_err err = formula_parse(alone ? alone : expression, &t, why);
    free(alone);
    if (err)
        return err;
    err = handbook_eval_tree(h, t, NULL, value, type, why);
    formula_tree_free(t);
    return err;
}

bool handbook_try_run(const struct handbook *h, const struct handbook_try *t, struct formula_value *got,
                      double *expected, struct formula_type *type)
{
    struct formula_value want = {0}, within = {0};
    *got = (struct formula_value){.error = FORMULA_EMPTY, .origin = -1};
    *expected = NAN;
    if (handbook_eval_tree(h, t->tree, NULL, got, type, NULL) ||
        handbook_eval_tree(h, t->expect, type, &want, NULL, NULL))
        return false;
    if (t->within && handbook_eval_tree(h, t->within, type, &within, NULL, NULL))
        return false;
    *expected = want.number;
    if (got->error || want.error || within.error)
        return false;
    double noise = 1e-9 * fabs(want.number);
    bool agrees = fabs(got->number - want.number) <= within.number + noise;
    return agrees != t->disagrees;
}

const char *handbook_print(const struct handbook *h, struct formula_value v, struct formula_type t,
                           struct unit_system s, char *buf, size_t size)
{
    if (v.error)
        snprintf(buf, size, "%s", formula_error_text(v.error));
    else if (t.sort == FORMULA_TEXT)
        snprintf(buf, size, "%s", base_pool_text(h->pool, (int)v.number));
    else if (t.sort == FORMULA_YESNO)
        snprintf(buf, size, "%s", v.number != 0 ? "yes" : "no");
    else if (t.sort == FORMULA_ITEM)
        snprintf(buf, size, "item %d", (int)v.number);
    else
        unit_print(v.number, t.dim, s, buf, size);
    return buf;
}

/* ---- a call, taken apart ----------------------------------------------------------------------- */

static int parameter_of(const struct formula_function *f, const char *name, int next)
{
    int at = *name ? 0 : next;
    while (*name && at < f->n_parameters && strcmp(f->parameters[at].name, name) != 0)
        at++;
    return at;
}

bool handbook_call(const struct handbook *h, const struct formula_tree *tree, struct handbook_call *out)
{
    const char *name;
    struct formula_given given[HANDBOOK_ARGUMENTS];
    int n = formula_call(tree, &name, given, HANDBOOK_ARGUMENTS), next = 0,
        f = n < 0 ? -1 : handbook_find_function(h, name);
    *out = (struct handbook_call){.function = f < 0 ? NULL : handbook_function(h, f)};
    for (int i = 0; i < n && out->function; i++) {
        int at = parameter_of(&out->function->f, given[i].name, next);
        if (at >= out->function->f.n_parameters || at >= HANDBOOK_ARGUMENTS || out->arguments[at]) {
            handbook_call_done(out);
            break;
        }
        out->arguments[at] = base_copy_n(formula_text(tree) + given[i].start, (size_t)given[i].length);
        next = at + 1;
    }
    return out->function != NULL;
}

void handbook_call_done(struct handbook_call *c)
{
    for (int i = 0; i < HANDBOOK_ARGUMENTS; i++)
        free(c->arguments[i]);
    *c = (struct handbook_call){0};
}
