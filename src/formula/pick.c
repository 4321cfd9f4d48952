/* Picks and sums: rows of a parts table by a look-up, rows of a kind laid open one by one.
 *
 *     size_over(cap_screw_length.length, need, size = this.size)
 *     total(plate.thickness, order > one.order, order < other.order)
 */

#include "formula/compile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "column REL formula": the left side a bare column name. */
struct match { const char *column; enum formula_relation relation; const struct node *node, *left, *right; };

enum { MOST_MATCHES = PICK_OPERANDS - 1 };

struct rows {
    const char *table, *column; /* column NULL: count */
    const struct node *subject, *need;
    struct match matches[MOST_MATCHES];
    int n;
};

static bool needs_size(enum formula_pick_mode mode)
{
    return mode == FORMULA_OVER || mode == FORMULA_UNDER || mode == FORMULA_NEAR;
}

static bool read_match(struct compiler *c, const struct node *n, struct match *m)
{
    if (n->what < NODE_EQUAL || n->what > NODE_AT_LEAST || n->a->what != NODE_PATH || n->a->n_parts != 1)
        return compile_refuse(c, n, "A match is a comparison whose left side is a column: size = this.size.");
    *m = (struct match){n->a->parts[0], (enum formula_relation)(n->what - NODE_EQUAL), n, n->a, n->b};
    return true;
}

static bool read_rows(struct compiler *c, const struct node *n, enum formula_pick_mode mode, struct rows *out)
{
    *out = (struct rows){0};
    const struct argument *a = n->arguments;
    int parts = mode == FORMULA_COUNT ? 1 : 2;
    if (!a || a->value->what != NODE_PATH || a->value->n_parts != parts)
        return compile_refuse(c, a ? a->value : n, mode == FORMULA_COUNT ? "%s() begins with a table or kind: count(lift_holes)."
                              : "%s() begins with a column: a table or kind, a point, and the column's name.", n->name);
    out->subject = a->value;
    out->table = a->value->parts[0];
    out->column = parts == 2 ? a->value->parts[1] : NULL;
    a = a->next;
    if (needs_size(mode)) {
        if (!a)
            return compile_refuse(c, n, "%s() needs the size that is wanted behind the column.", n->name);
        out->need = a->value;
        a = a->next;
    }
    for (; a; a = a->next) {
        if (a->name)
            return compile_refuse(c, a->value, "Matches have no names: write %s = ...", a->name);
        if (out->n == MOST_MATCHES)
            return compile_refuse(c, a->value, "There are too many matches here.");
        if (!read_match(c, a->value, &out->matches[out->n++]))
            return false;
    }
    return true;
}

/* ---- parts tables ----------------------------------------------------------------------- */

static bool table_column(struct compiler *c, const struct node *n, int table, const char *table_name, const char *name,
                         struct formula_column *out)
{
    return c->scope->column(c->scope->arg, table, name, out) ||
           compile_refuse(c, n, "The table %s has no column \"%s\".", table_name, name);
}

static bool fits(struct compiler *c, const struct node *n, struct formula_type column, struct result *value, const char *name)
{
    char x[80], y[80];
    if (value->zero && column.sort == FORMULA_NUMBER)
        value->type = column;
    bool good = column.sort == value->type.sort && (column.sort != FORMULA_NUMBER || unit_same(column.dim, value->type.dim));
    return good || compile_refuse(c, n, "%s is %s, and this is %s.", name, compile_type_name(column, x, sizeof x),
                                  compile_type_name(value->type, y, sizeof y));
}

static bool pick_keys(struct compiler *c, const struct rows *r, int table, struct formula_pick_key *keys, struct op_pick *p)
{
    for (int i = 0; i < r->n; i++) {
        const struct match *m = &r->matches[i];
        struct formula_column column;
        struct result value;
        if (!table_column(c, m->left, table, r->table, m->column, &column) || !c->node(c, m->right, &value) ||
            !fits(c, m->node, column.type, &value, m->column))
            return false;
        if (column.type.sort == FORMULA_TEXT && m->relation > FORMULA_UNEQUAL)
            return compile_refuse(c, m->node, "Texts are only alike or not: use = or !=.");
        keys[i] = (struct formula_pick_key){column.index, m->relation};
        p->registers[p->n++] = compile_register(c, &value);
    }
    return true;
}

static bool pick_need(struct compiler *c, const struct rows *r, struct formula_type column, struct op_pick *p)
{
    struct result need;
    if (!r->need)
        return true;
    if (!c->node(c, r->need, &need) || !fits(c, r->need, column, &need, r->column))
        return false;
    p->registers[p->n++] = compile_register(c, &need);
    return true;
}

static bool from_table(struct compiler *c, const struct node *n, const struct rows *r, enum formula_pick_mode mode, int table,
                       struct result *out)
{
    struct formula_column column = {.type = {.sort = FORMULA_NUMBER}, .index = -1};
    if (r->column && !table_column(c, r->subject, table, r->table, r->column, &column))
        return false;
    if (mode != FORMULA_LISTED && column.type.sort != FORMULA_NUMBER)
        return compile_refuse(c, r->subject, "%s() works on numbers, and %s is no number.", n->name, r->column);
    struct formula_pick_key *keys = base_alloc((size_t)(r->n + 1) * sizeof *keys);
    struct op_pick p = {.pick = {.mode = mode, .table = table, .column = column.index, .n_keys = r->n, .keys = keys}};
    if (!pick_keys(c, r, table, keys, &p) || !pick_need(c, r, column.type, &p)) {
        free(keys);
        return false;
    }
    p.pick.query = c->scope->pick(c->scope->arg, &p.pick);
    base_vec_push(&c->picks, p);
    base_vec_push(&c->ops, ((struct op){.what = OP_PICK, .a = (int)c->picks.count - 1}));
    *out = (struct result){.type = column.type, .reg = (int)c->ops.count - 1};
    return true;
}

/* ---- kinds ---------------------------------------------------------------------------------- */

static bool row_value(struct compiler *c, const struct node *n, int item, int kind, const char *column, struct result *out)
{
    struct formula_found found;
    enum base_err err = c->scope->property(c->scope->arg, item, kind, column, &found, c->why);
    if (err == BASE_UNKNOWN && (!c->why->message[0] || c->why->source[0]))
        return compile_refuse(c, n, "This kind has no \"%s\".", column);
    return err ? compile_pass(c, n) : compile_found(c, n, &found, out);
}

/* Does the row fit? Constant no: *OUT is a constant no, and the matches behind it are not looked at. */
static bool row_fits(struct compiler *c, const struct rows *r, struct result *rights, int item, int kind, struct result *out)
{
    static const enum op_what ops[] = {OP_EQUAL, OP_UNEQUAL, OP_LESS, OP_AT_MOST, OP_MORE, OP_AT_LEAST};
    *out = compile_constant(compile_yesno, 1, 0);
    for (int i = 0; i < r->n; i++) {
        const struct match *m = &r->matches[i];
        struct result left, right = rights[i];
        if (!row_value(c, m->left, item, kind, m->column, &left) || !compile_alike(c, m->node, &left, &right, "compared"))
            return false;
        struct result one = compile_emit(c, ops[m->relation], compile_yesno, &left, &right, NULL, compile_forgiven(left.type));
        rights[i].type = right.type;
        if (one.constant && !one.error && one.number == 0) {
            *out = one;
            return true;
        }
        if (one.constant && !one.error)
            continue;
        *out = out->constant ? one : compile_emit(c, OP_AND, compile_yesno, out, &one, NULL, 0);
    }
    return true;
}

/* For sizes of a kind: the row must also reach, or stay under, the need. */
static bool row_reaches(struct compiler *c, const struct rows *r, enum formula_pick_mode mode, struct result *value, struct result *fits_so_far)
{
    struct result need;
    if (!c->node(c, r->need, &need) || !compile_alike(c, r->need, value, &need, "compared"))
        return false;
    struct result reaches = compile_emit(c, mode == FORMULA_OVER ? OP_AT_LEAST : OP_AT_MOST, compile_yesno, value, &need, NULL,
                                         compile_forgiven(value->type));
    *fits_so_far = compile_emit(c, OP_AND, compile_yesno, fits_so_far, &reaches, NULL, 0);
    return true;
}

static enum op_what row_op(enum formula_pick_mode mode)
{
    switch (mode) {
    case FORMULA_TOTAL:
    case FORMULA_COUNT:
        return OP_SUM_IF;
    case FORMULA_LARGEST:
    case FORMULA_UNDER:
        return OP_MAX_IF;
    case FORMULA_SMALLEST:
    case FORMULA_OVER:
        return OP_MIN_IF;
    default:
        return OP_ONE_IF;
    }
}

/* What type the column has is asked of no item, so that it is known where a kind has no items. */
static bool kind_type(struct compiler *c, const struct rows *r, int kind, struct formula_type *out)
{
    struct formula_found found;
    *out = compile_number(UNIT_NUMBER);
    if (!r->column)
        return true;
    *c->why = (struct base_diag){0};
    if (c->scope->property(c->scope->arg, -1, kind, r->column, &found, c->why) != BASE_OK)
        return compile_refuse(c, r->subject, "The kind %s has no \"%s\".", r->table, r->column);
    *out = found.type;
    return true;
}

static bool from_kind(struct compiler *c, const struct node *n, const struct rows *r, enum formula_pick_mode mode, int kind,
                      struct result *out)
{
    struct formula_type type;
    if (mode == FORMULA_NEAR)
        return compile_refuse(c, n, "size_near() looks into parts tables only.");
    if (!kind_type(c, r, kind, &type))
        return false;
    if (mode != FORMULA_LISTED && type.sort != FORMULA_NUMBER)
        return compile_refuse(c, r->subject, "%s() works on numbers, and %s is no number.", n->name, r->column);
    struct result rights[MOST_MATCHES];
    for (int i = 0; i < r->n; i++)
        if (!c->node(c, r->matches[i].right, &rights[i]))
            return false;
    bool sum = mode == FORMULA_TOTAL || mode == FORMULA_COUNT;
    struct result so_far = compile_constant(type, 0, sum ? FORMULA_FINE : OP_NOTHING_YET);
    const int *items;
    int rows = c->scope->rows(c->scope->arg, kind, &items);
    for (int i = 0; i < rows; i++) {
        struct result fit, value = compile_constant(type, 1, 0);
        if (!row_fits(c, r, rights, items[i], kind, &fit))
            return false;
        if (fit.constant && !fit.error && fit.number == 0)
            continue;
        if (r->column && !row_value(c, r->subject, items[i], kind, r->column, &value))
            return false;
        if (r->need && !row_reaches(c, r, mode, &value, &fit))
            return false;
        so_far = compile_emit(c, row_op(mode), type, &so_far, &fit, &value, 0);
    }
    *out = sum ? so_far : compile_emit(c, OP_CLOSE, type, &so_far, NULL, NULL, 0);
    return true;
}

bool compile_rows(struct compiler *c, const struct node *n, enum formula_pick_mode mode, struct result *out)
{
    struct rows r;
    if (!read_rows(c, n, mode, &r))
        return false;
    int kind = c->scope->kind(c->scope->arg, r.table);
    if (kind >= 0)
        return from_kind(c, n, &r, mode, kind, out);
    int table = c->scope->table(c->scope->arg, r.table);
    if (table >= 0)
        return from_table(c, n, &r, mode, table, out);
    return compile_refuse(c, r.subject, "There is no table or kind \"%s\".", r.table);
}
