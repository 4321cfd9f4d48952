/* The text behind a tree: what it is, which names it reads, with other names, with values put in. */

#include "formula/tree.h"

#include <stdlib.h>
#include <string.h>

const char *formula_text(const struct formula_tree *t) { return t->text; }

bool formula_is_bare_number(const struct formula_tree *t, double *number)
{
    const struct node *n = tree_root(t);
    double sign = 1;
    if (n->what == NODE_MINUS) {
        sign = -1;
        n = n->a;
    }
    /* "(25)" is none: a unit written behind it would not belong to the number */
    if (n->what != NODE_NUMBER || !n->bare || strchr(t->text, ')'))
        return false;
    if (number)
        *number = sign * n->number;
    return true;
}

bool formula_is_literal(const struct formula_tree *t)
{
    const struct node *n = tree_root(t);
    while (n->what == NODE_MINUS)
        n = n->a;
    return n->what == NODE_NUMBER || n->what == NODE_TEXT || n->what == NODE_YESNO;
}

bool formula_is_name(const struct formula_tree *t, const char **name)
{
    if (tree_root(t)->what != NODE_PATH || tree_root(t)->n_parts != 1)
        return false;
    *name = tree_root(t)->name;
    return true;
}

bool formula_is_text(const struct formula_tree *t, const char **text)
{
    if (tree_root(t)->what != NODE_TEXT)
        return false;
    *text = tree_root(t)->name;
    return true;
}

/* ---- units left out --------------------------------------------------------------------- */

struct given { const char *text, *unit; int at; struct base_text out; };

/* Numbers alone, none with a unit: their product or quotient is a number. */
static bool is_pure(const struct node *n)
{
    switch (n->what) {
    case NODE_NUMBER: return n->bare;
    case NODE_MINUS: return is_pure(n->a);
    case NODE_ADD:
    case NODE_SUBTRACT:
    case NODE_MULTIPLY:
    case NODE_DIVIDE: return is_pure(n->a) && is_pure(n->b);
    default: return false;
    }
}

/* N is wanted in the unit's dimension; numbers are met in the order of the text. */
static void give(struct given *g, const struct node *n)
{
    switch (n->what) {
    case NODE_NUMBER:
        if (!n->bare || n->number == 0)
            return;
        base_text_addf(&g->out, "%.*s %s", n->start + n->length - g->at, g->text + g->at, g->unit);
        g->at = n->start + n->length;
        return;
    case NODE_MINUS: give(g, n->a); return;
    case NODE_ADD:
    case NODE_SUBTRACT:
        give(g, n->a);
        give(g, n->b);
        return;
    case NODE_MULTIPLY:
    case NODE_DIVIDE:
        if (is_pure(n))
            give(g, n->a);
        return;
    case NODE_CALL:
        if (strcmp(n->name, "min") != 0 && strcmp(n->name, "max") != 0 && strcmp(n->name, "if") != 0)
            return;
        for (const struct argument *a = n->arguments; a; a = a->next)
            if (a != n->arguments || *n->name != 'i')
                give(g, a->value);
        return;
    default: return;
    }
}

char *formula_with_unit(const char *text, const char *unit)
{
    struct formula_tree *tree;
    struct given g = {.text = text, .unit = unit};
    /* Without a number, or with names in products alone, nothing can be completed: it is not read for it. */
    bool number = text[strcspn(text, "0123456789")], sum = text[strcspn(text, "+-(")];
    bool names = text[strcspn(text, "abcdefghijklmnopqrstuvwxyz")];
    if (!number || (names && !sum) || formula_parse(text, &tree, NULL) != BASE_OK)
        return NULL;
    give(&g, tree_root(tree));
    formula_tree_free(tree);
    if (!g.at)
        return NULL;
    base_text_add(&g.out, text + g.at);
    return base_text_take(&g.out);
}

/* ---- names ------------------------------------------------------------------------------ */

static bool picks_rows(const char *name)
{
    static const char *const calls[] = {"listed", "size_over", "size_under", "size_near",
                                        "total",  "largest",   "smallest",   "count"};
    for (size_t i = 0; i < COUNT_OF(calls); i++)
        if (strcmp(calls[i], name) == 0)
            return true;
    return false;
}

typedef void visit_path(const struct node *path, void *arg);

static void walk(const struct node *n, visit_path *visit, void *arg);

/* In picks and sums the first argument is a column and so is the left side of a match: neither is a name. */
static void walk_arguments(const struct node *n, visit_path *visit, void *arg)
{
    bool rows = picks_rows(n->name), first = true;
    for (const struct argument *a = n->arguments; a; a = a->next, first = false) {
        const struct node *v = a->value;
        bool match = rows && v->what >= NODE_EQUAL && v->what <= NODE_AT_LEAST && v->a->what == NODE_PATH;
        if (!(rows && first))
            walk(match ? v->b : v, visit, arg);
    }
}

static void walk(const struct node *n, visit_path *visit, void *arg)
{
    if (!n)
        return;
    if (n->what == NODE_PATH)
        visit(n, arg);
    if (n->what == NODE_CALL)
        walk_arguments(n, visit, arg);
    walk(n->a, visit, arg);
    walk(n->b, visit, arg);
}

struct naming { formula_name_fn *visit; void *arg; };

static void tell(const struct node *path, void *arg)
{
    struct naming *n = arg;
    n->visit(path->name, path->start, n->arg);
}

void formula_names(const struct formula_tree *t, formula_name_fn *visit, void *arg)
{
    struct naming n = {visit, arg};
    walk(tree_root(t), tell, &n);
}

/* The columns of picks and sums, wherever they stand. */
static void walk_columns(const struct node *n, visit_path *visit, void *arg)
{
    if (!n)
        return;
    if (n->what == NODE_CALL && picks_rows(n->name) && n->arguments && n->arguments->value->what == NODE_PATH)
        visit(n->arguments->value, arg);
    for (const struct argument *a = n->what == NODE_CALL ? n->arguments : NULL; a; a = a->next)
        walk_columns(a->value, visit, arg);
    walk_columns(n->a, visit, arg);
    walk_columns(n->b, visit, arg);
}

void formula_columns(const struct formula_tree *t, formula_name_fn *visit, void *arg)
{
    struct naming n = {visit, arg};
    walk_columns(tree_root(t), tell, &n);
}

/* ---- rewriting: names are met in the order of the text ------------------------------------ */

struct rewriting {
    const char *text;
    int at; /* copied up to here */
    struct base_text out;
    const char *old, *property, *now;
    formula_print_fn *print;
    void *arg;
    int changes;
};

static void copy_to(struct rewriting *r, int to)
{
    base_text_add_n(&r->out, r->text + r->at, (size_t)(to - r->at));
    r->at = to;
}

static void rename_path(const struct node *n, void *arg)
{
    struct rewriting *r = arg;
    if (strcmp(n->parts[0], r->old) != 0 ||
        (r->property && (n->n_parts < 2 || strcmp(n->parts[1], r->property) != 0)))
        return;
    int start = n->start + (r->property ? (int)strlen(n->parts[0]) + 1 : 0);
    copy_to(r, start);
    base_text_add(&r->out, r->now);
    r->at = start + (int)strlen(r->property ? r->property : r->old);
    r->changes++;
}

char *formula_renamed(const struct formula_tree *t, const char *old, const char *old_property,
                      const char *now)
{
    struct rewriting r = {.text = t->text, .old = old, .property = old_property, .now = now};
    walk(tree_root(t), rename_path, &r);
    copy_to(&r, (int)strlen(t->text));
    if (r.changes)
        return base_text_take(&r.out);
    base_text_done(&r.out);
    return NULL;
}

static void fill_path(const struct node *n, void *arg)
{
    struct rewriting *r = arg;
    copy_to(r, n->start);
    r->print(r->arg, n->name, &r->out);
    r->at = n->start + n->length;
}

void formula_filled(const struct formula_tree *t, formula_print_fn *print, void *arg, struct base_text *out)
{
    struct rewriting r = {.text = t->text, .print = print, .arg = arg};
    walk(tree_root(t), fill_path, &r);
    copy_to(&r, (int)strlen(t->text));
    base_text_add(out, base_text_get(&r.out));
    base_text_done(&r.out);
}

/* ---- calls, and what an `if` takes ----------------------------------------------------------- */

int formula_call(const struct formula_tree *t, const char **name, struct formula_given *out, int room)
{
    const struct node *n = tree_root(t);
    int count = 0;
    if (n->what != NODE_CALL)
        return -1;
    *name = n->name;
    for (const struct argument *a = n->arguments; a; a = a->next, count++)
        if (count < room)
            out[count] = (struct formula_given){a->name ? a->name : "", a->value->start, a->value->length};
    return count <= room ? count : -1;
}

struct taking {
    struct rewriting r;
    formula_holds_fn *holds;
    formula_name_fn *dead;
    void *arg;
};

static bool is_operation(const struct node *n) { return n->what >= NODE_MINUS; }

static void skip(struct taking *k, const struct node *n)
{
    struct naming left = {k->dead, k->arg};
    if (k->dead)
        walk(n, tell, &left);
}

static void take(struct taking *k, const struct node *n, bool within);

/* The arm that holds in place of the whole; bracketed where it stands in a sum or product. False: left. */
static bool take_arm(struct taking *k, const struct node *n, bool within)
{
    const struct argument *if_so = n->arguments ? n->arguments->next : NULL,
                          *else_so = if_so ? if_so->next : NULL;
    if (strcmp(n->name, "if") != 0 || !else_so)
        return false;
    const struct node *asked = n->arguments->value;
    char *condition = base_copy_n(k->r.text + asked->start, (size_t)asked->length);
    int holds = k->holds(k->arg, condition);
    free(condition);
    if (holds < 0)
        return false;
    const struct node *arm = holds ? if_so->value : else_so->value;
    copy_to(&k->r, n->start);
    base_text_add(&k->r.out, within && is_operation(arm) ? "(" : "");
    k->r.at = arm->start;
    take(k, arm, within && !is_operation(arm));
    copy_to(&k->r, arm->start + arm->length);
    base_text_add(&k->r.out, within && is_operation(arm) ? ")" : "");
    k->r.at = n->start + n->length;
    k->r.changes++;
    skip(k, holds ? else_so->value : if_so->value);
    return true;
}

static void take(struct taking *k, const struct node *n, bool within)
{
    if (!n || (n->what == NODE_CALL && take_arm(k, n, within)))
        return;
    for (const struct argument *a = n->what == NODE_CALL ? n->arguments : NULL; a; a = a->next)
        take(k, a->value, false);
    take(k, n->a, true);
    take(k, n->b, true);
}

bool formula_taken(const struct formula_tree *t, formula_holds_fn *holds, formula_name_fn *dead, void *arg,
                   struct base_text *out)
{
    struct taking k = {{.text = t->text}, holds, dead, arg};
    take(&k, tree_root(t), false);
    copy_to(&k.r, (int)strlen(t->text));
    base_text_add(out, base_text_get(&k.r.out));
    base_text_done(&k.r.out);
    return k.r.changes > 0;
}
