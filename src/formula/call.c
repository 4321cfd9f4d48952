/* Calls: what is built in, and the handbook's functions, laid open where they are called. */

#include "formula/compile.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_ARGUMENTS = 32, DEEPEST_CALL = 40 };

static const struct formula_type number = {.sort = FORMULA_NUMBER};
static const struct formula_type angle = {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}};

static int count_arguments(const struct node *n)
{
    int count = 0;
    for (const struct argument *a = n->arguments; a; a = a->next)
        count++;
    return count;
}

/* Compile exactly N positional arguments. */
static bool plain_arguments(struct compiler *c, const struct node *n, int wanted, struct result *out)
{
    int i = 0;
    for (const struct argument *a = n->arguments; a; a = a->next) {
        if (a->name)
            return compile_refuse(c, a->value, "%s() takes its values in order, without names.", n->name);
        if (i == wanted)
            return compile_refuse(c, a->value, "%s() takes %d value%s; this is one too many.", n->name,
                                  wanted, wanted == 1 ? "" : "s");
        if (!c->node(c, a->value, &out[i++]))
            return false;
    }
    return i == wanted || compile_refuse(c, n, "%s() takes %d value%s; there %s %d.", n->name, wanted,
                                         wanted == 1 ? "" : "s", i == 1 ? "is" : "are", i);
}

static bool want_dim(struct compiler *c, const struct node *n, struct result *r, struct formula_type want)
{
    char x[80], y[80];
    if (r->zero)
        r->type = want;
    if (r->type.sort == FORMULA_NUMBER && unit_same(r->type.dim, want.dim))
        return true;
    const struct node *at = n->arguments->value;
    if (unit_same(want.dim, UNIT_ANGLE) && r->type.sort == FORMULA_NUMBER &&
        unit_same(r->type.dim, UNIT_NUMBER))
        return compile_refuse(c, at, "An angle is wanted in %s(): write 30 deg or 0.5 rad.", n->name);
    return compile_refuse(c, at, "%s is wanted in %s(), and this is %s.",
                          compile_type_name(want, x, sizeof x), n->name,
                          compile_type_name(r->type, y, sizeof y));
}

static bool want_any_number(struct compiler *c, const struct node *n, const struct result *r)
{
    char buf[80];
    return r->type.sort == FORMULA_NUMBER ||
           compile_refuse(c, n, "%s() works on numbers, and this is %s.", n->name,
                          compile_type_name(r->type, buf, sizeof buf));
}

/* ---- built in --------------------------------------------------------------------------- */

/* The arms of if(). Without a second one there is no value where the condition does not hold. */
static bool both_arms(struct compiler *c, const struct node *n, struct result *yes, struct result *no)
{
    const struct argument *a = n->arguments->next;
    if (!c->node(c, a->value, yes))
        return false;
    if (!a->next) {
        *no = compile_constant(yes->type, 0, FORMULA_IMPOSSIBLE);
        return true;
    }
    return c->node(c, a->next->value, no) && compile_alike(c, n, yes, no, "chosen between");
}

/* Neither arm is ever taken, whatever the numbers are: the result is ERROR. Names in them are asked for their
 * types alone, lest a dead arm make a circle. */
static bool call_dead_if(struct compiler *c, const struct node *n, unsigned char error, int origin,
                         struct result *out)
{
    struct result yes, no;
    int before = c->scope->types_only ? c->scope->types_only(c->scope->arg, 1) : 0;
    bool good = both_arms(c, n, &yes, &no);
    if (c->scope->types_only)
        c->scope->types_only(c->scope->arg, before);
    if (!good)
        return false;
    *out = compile_constant(yes.type, 0, error);
    out->origin = origin;
    return true;
}

static bool call_if(struct compiler *c, const struct node *n, struct result *out)
{
    char buf[80];
    const struct argument *a = n->arguments;
    struct result condition, yes, no;
    int count = count_arguments(n);
    if (count != 2 && count != 3)
        return compile_refuse(
            c, n,
            "if() takes a condition, the value when it holds and, where there is one, the value when not.");
    if (!c->node(c, a->value, &condition))
        return false;
    if (condition.type.sort != FORMULA_YESNO)
        return compile_refuse(c, a->value, "The condition of if() is a yes or no, and this is %s.",
                              compile_type_name(condition.type, buf, sizeof buf));
    if (condition.constant && !condition.error && condition.number == 0 && count == 2)
        return call_dead_if(c, n, FORMULA_IMPOSSIBLE, -1, out);
    if (condition.constant && !condition.error)
        return c->node(c, condition.number != 0 ? a->next->value : a->next->next->value, out);
    if (condition.constant && c->scope->types_only)
        return call_dead_if(c, n, condition.error, condition.origin, out);
    if (!both_arms(c, n, &yes, &no))
        return false;
    if (yes.type.sort == FORMULA_ITEM && yes.type.kind != no.type.kind)
        return compile_refuse(c, n, "The two items of if() are of different kinds.");
    *out = compile_emit(c, OP_SELECT, yes.type, &condition, &yes, &no);
    return true;
}

static bool call_min_max(struct compiler *c, const struct node *n, struct result *out)
{
    enum op_what what = strcmp(n->name, "min") == 0 ? OP_MIN : OP_MAX;
    bool first = true;
    for (const struct argument *a = n->arguments; a; a = a->next) {
        struct result r;
        if (a->name)
            return compile_refuse(c, a->value, "%s() takes its values in order, without names.", n->name);
        if (!c->node(c, a->value, &r) || !want_any_number(c, n, &r))
            return false;
        if (!first && !compile_alike(c, n, out, &r, "compared"))
            return false;
        *out = first ? r : compile_emit(c, what, out->type, out, &r, NULL);
        first = false;
    }
    return !first || compile_refuse(c, n, "%s() of nothing has no value.", n->name);
}

static bool call_one(struct compiler *c, const struct node *n, struct result *out)
{
    static const struct { const char *name; enum op_what what;
    } ones[] = {
        {"abs", OP_ABS}, {"whole", OP_WHOLE}, {"sin", OP_SIN},
        {"cos", OP_COS}, {"tan", OP_TAN},     {"sqrt", OP_SQRT},
        {"log10", OP_LOG10},
    };
    struct result r;
    size_t i = 0;
    while (strcmp(ones[i].name, n->name) != 0)
        i++;
    if (!plain_arguments(c, n, 1, &r) || !want_any_number(c, n, &r))
        return false;
    struct formula_type type = r.type;
    if (ones[i].what == OP_SIN || ones[i].what == OP_COS || ones[i].what == OP_TAN) {
        if (!want_dim(c, n, &r, angle))
            return false;
        type = number;
    } else if (ones[i].what == OP_WHOLE || ones[i].what == OP_LOG10) {
        if (!want_dim(c, n, &r, number))
            return false;
    } else if (ones[i].what == OP_SQRT && !unit_raise(r.type.dim, 0.5, &type.dim))
        return compile_refuse(c, n, "The root of this leaves no dimension that could be named.");
    *out = compile_emit(c, ones[i].what, type, &r, NULL, NULL);
    return true;
}

static bool call_two(struct compiler *c, const struct node *n, struct result *out)
{
    static const struct { const char *name; enum op_what what; } twos[] = {
        {"rise_to", OP_RISE}, {"drop_to", OP_DROP}, {"rest", OP_REST}, {"atan2", OP_ATAN2},
    };
    struct result r[2];
    size_t i = 0;
    while (strcmp(twos[i].name, n->name) != 0)
        i++;
    if (!plain_arguments(c, n, 2, r) || !want_any_number(c, n, &r[0]) || !want_any_number(c, n, &r[1]) ||
        !compile_alike(c, n, &r[0], &r[1], "used together"))
        return false;
    *out = compile_emit(c, twos[i].what, twos[i].what == OP_ATAN2 ? angle : r[0].type, &r[0], &r[1], NULL);
    return true;
}

static bool call_known(struct compiler *c, const struct node *n, struct result *out)
{
    struct result r;
    if (!plain_arguments(c, n, 1, &r))
        return false;
    *out = compile_emit(c, OP_KNOWN, compile_yesno, &r, NULL, NULL);
    return true;
}

/* What a settled list holds. Of a text that is not known before anything is worked out it cannot be told. */
static bool of_list(struct compiler *c, const struct node *n, const struct result *list, double at,
                    struct result *out)
{
    enum { ROOM = 10000 };
    char buf[80];
    if (list->type.sort != FORMULA_TEXT)
        return compile_refuse(c, n, "%s() looks into a list of numbers, and this is %s.", n->name,
                              compile_type_name(list->type, buf, sizeof buf));
    *out = compile_constant(number, 0, list->constant ? list->error : FORMULA_IMPOSSIBLE);
    out->origin = list->constant ? list->origin : -1;
    if (!list->constant || list->error)
        return true;
    int *numbers = base_alloc(ROOM * sizeof *numbers);
    int count = formula_numbers(base_pool_text(c->scope->pool, (int)list->number), numbers, ROOM);
    bool there = at >= 1 && at <= count && at == (int)at;
    if (count < 0 || (at != 0 && !there))
        out->error = FORMULA_IMPOSSIBLE;
    else
        out->number = at == 0 ? count : numbers[(int)at - 1];
    free(numbers);
    return true;
}

static bool call_numbers_in(struct compiler *c, const struct node *n, struct result *out)
{
    struct result list;
    return plain_arguments(c, n, 1, &list) && of_list(c, n, &list, 0, out);
}

static bool call_number_at(struct compiler *c, const struct node *n, struct result *out)
{
    struct result r[2];
    if (!plain_arguments(c, n, 2, r) || !want_any_number(c, n, &r[1]))
        return false;
    return of_list(c, n, &r[0], r[1].constant && !r[1].error && r[1].number >= 1 ? r[1].number : -1, out);
}

/* What a settled text has of figures. */
static bool call_figure(struct compiler *c, const struct node *n, struct result *out)
{
    struct result text;
    char buf[80];
    double least, most;
    if (!plain_arguments(c, n, 1, &text))
        return false;
    if (text.type.sort != FORMULA_TEXT)
        return compile_refuse(c, n, "%s() looks for figures in a text, and this is %s.", n->name,
                              compile_type_name(text.type, buf, sizeof buf));
    bool good = text.constant && !text.error &&
                formula_figures(base_pool_text(c->scope->pool, (int)text.number), &least, &most);
    *out = compile_constant(number, 0,
                            good                          ? 0
                            : text.constant && text.error ? text.error
                                                          : FORMULA_IMPOSSIBLE);
    out->origin = text.constant ? text.origin : -1;
    if (good)
        out->number = strcmp(n->name, "least_figure") == 0 ? least : most;
    return true;
}

static bool call_state(struct compiler *c, const struct node *n, struct result *out)
{
    if (count_arguments(n) != 1 || n->arguments->name)
        return compile_refuse(c, n, "%s() takes one formula.", n->name);
    int old = c->scope->state(c->scope->arg, strcmp(n->name, "at_ground") == 0);
    bool good = c->node(c, n->arguments->value, out);
    c->scope->state(c->scope->arg, old);
    return good;
}

/* ---- the handbook's functions ------------------------------------------------------------- */

static bool check_argument(struct compiler *c, const struct node *at, const struct formula_function *f,
                           const struct formula_parameter *p, struct result *r)
{
    char x[80], y[80];
    if (p->type.sort == FORMULA_NUMBER && r->zero)
        r->type = p->type;
    bool fits = p->type.sort == r->type.sort &&
                (p->type.sort != FORMULA_NUMBER || unit_same(p->type.dim, r->type.dim));
    if (!fits)
        return compile_refuse(c, at, "%s of %s() is %s, and this is %s.", p->name, f->name,
                              compile_type_name(p->type, x, sizeof x),
                              compile_type_name(r->type, y, sizeof y));
    if (p->type.sort == FORMULA_ITEM && p->type.kind >= 0 && r->type.kind >= 0 &&
        p->type.kind != r->type.kind)
        return compile_refuse(c, at, "%s of %s() is an item of another kind.", p->name, f->name);
    return true;
}

static int parameter_named(const struct formula_function *f, const char *name)
{
    for (int i = 0; i < f->n_parameters; i++)
        if (strcmp(f->parameters[i].name, name) == 0)
            return i;
    return -1;
}

/* Arguments given in the call, compiled in the caller's frame. */
static bool given_arguments(struct compiler *c, const struct node *n, const struct formula_function *f,
                            struct result *r, bool *given)
{
    int next = 0;
    for (const struct argument *a = n->arguments; a; a = a->next) {
        int i = a->name ? parameter_named(f, a->name) : next++;
        if (i < 0)
            return compile_refuse(c, a->value, "%s() has no argument \"%s\".", f->name, a->name);
        if (i >= f->n_parameters)
            return compile_refuse(c, a->value, "%s() takes %d value%s; this is one too many.", f->name,
                                  f->n_parameters, f->n_parameters == 1 ? "" : "s");
        if (given[i])
            return compile_refuse(c, a->value, "%s is given twice.", f->parameters[i].name);
        if (!c->node(c, a->value, &r[i]) || !check_argument(c, a->value, f, &f->parameters[i], &r[i]))
            return false;
        given[i] = true;
    }
    return true;
}

static bool is_open(const struct compiler *c, const struct formula_function *f)
{
    for (const struct frame *up = c->frame; up; up = up->up)
        if (up->function == f)
            return true;
    return false;
}

/* The usual values of arguments not given, the lets and the result, compiled in the function's own frame. */
static bool lay_open(struct compiler *c, const struct node *n, const struct formula_function *f,
                     struct result *r, const bool *given, struct result *out)
{
    struct frame frame = {.function = f, .call = n, .names = r, .up = c->frame};
    c->frame = &frame;
    bool good = true;
    for (int i = 0; i < f->n_parameters && good; i++) {
        if (!given[i])
            good = c->node(c, tree_root(f->parameters[i].usual), &r[i]) &&
                   check_argument(c, n, f, &f->parameters[i], &r[i]);
        frame.known = i + 1;
    }
    for (int i = 0; i < f->n_lets && good; i++) {
        good = c->node(c, tree_root(f->lets[i].tree), &r[f->n_parameters + i]);
        frame.known = f->n_parameters + i + 1;
    }
    good = good && c->node(c, tree_root(f->gives), out);
    if (good && f->type.sort == FORMULA_NUMBER && out->zero)
        out->type = f->type;
    c->frame = frame.up;
    char x[80], y[80];
    if (good && (out->type.sort != f->type.sort ||
                 (f->type.sort == FORMULA_NUMBER && !unit_same(out->type.dim, f->type.dim))))
        return compile_refuse(c, n, "%s() gives %s, but its formula gives %s.", f->name,
                              compile_type_name(f->type, x, sizeof x),
                              compile_type_name(out->type, y, sizeof y));
    return good;
}

static bool call_function(struct compiler *c, const struct node *n, const struct formula_function *f,
                          struct result *out)
{
    if (is_open(c, f))
        return compile_refuse(c, n, "%s() calls itself; a function cannot.", f->name);
    if (++c->depth > DEEPEST_CALL)
        return compile_refuse(c, n, "Functions call each other more than %d deep here.", DEEPEST_CALL);
    int names = f->n_parameters + f->n_lets;
    struct result *r = base_alloc((size_t)(names + 1) * sizeof *r);
    bool *given = base_alloc((size_t)(f->n_parameters + 1) * sizeof *given);
    bool good = given_arguments(c, n, f, r, given);
    for (int i = 0; i < f->n_parameters && good; i++)
        if (!given[i] && !f->parameters[i].usual)
            good = compile_refuse(c, n, "%s() needs %s.", f->name, f->parameters[i].name);
    good = good && lay_open(c, n, f, r, given, out);
    c->depth--;
    free(r);
    free(given);
    return good;
}

/* ---- which ------------------------------------------------------------------------------------ */

typedef bool builtin(struct compiler *c, const struct node *n, struct result *out);

static const struct { const char *name; builtin *call;
} builtins[] = {
    {"if", call_if},     {"min", call_min_max}, {"max", call_min_max},  {"abs", call_one},
    {"sqrt", call_one},  {"sin", call_one},     {"cos", call_one},      {"tan", call_one},
    {"whole", call_one}, {"atan2", call_two},   {"rise_to", call_two},  {"drop_to", call_two},
    {"rest", call_two},  {"known", call_known}, {"at_new", call_state}, {"at_ground", call_state},
    {"numbers_in", call_numbers_in}, {"number_at", call_number_at}, {"log10", call_one},
    {"least_figure", call_figure},   {"most_figure", call_figure},
};

static const struct { const char *name; enum formula_pick_mode mode;
} row_calls[] = {
    {"listed", FORMULA_LISTED},     {"size_over", FORMULA_OVER}, {"size_under", FORMULA_UNDER},
    {"size_near", FORMULA_NEAR},    {"total", FORMULA_TOTAL},    {"largest", FORMULA_LARGEST},
    {"smallest", FORMULA_SMALLEST}, {"count", FORMULA_COUNT},
};

static bool same(const char *a, const char *b) { return a[0] == b[0] && strcmp(a, b) == 0; }

bool formula_is_reserved(const char *name)
{
    static const char *const words[] = {"and", "or", "not", "yes", "no", "pi", "this"};
    for (size_t i = 0; i < COUNT_OF(builtins); i++)
        if (same(builtins[i].name, name))
            return true;
    for (size_t i = 0; i < COUNT_OF(row_calls); i++)
        if (same(row_calls[i].name, name))
            return true;
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (same(words[i], name))
            return true;
    return false;
}

bool compile_call(struct compiler *c, const struct node *n, struct result *out)
{
    if (count_arguments(n) > MOST_ARGUMENTS)
        return compile_refuse(c, n, "%s() has too many arguments.", n->name);
    for (size_t i = 0; i < COUNT_OF(builtins); i++)
        if (strcmp(builtins[i].name, n->name) == 0)
            return builtins[i].call(c, n, out);
    for (size_t i = 0; i < COUNT_OF(row_calls); i++)
        if (strcmp(row_calls[i].name, n->name) == 0)
            return compile_rows(c, n, row_calls[i].mode, out);
    const struct formula_function *f = c->scope->function(c->scope->arg, n->name);
    if (f)
        return call_function(c, n, f, out);
    struct base_text near = {0};
    if (c->scope->nearest)
        c->scope->nearest(c->scope->arg, n->name, &near);
    const char *words = base_text_get(&near);
    compile_refuse(c, n, "There is no function %s()%s%s.", n->name, *words ? "; near it: " : "", words);
    base_text_done(&near);
    return false;
}
