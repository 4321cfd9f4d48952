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
    const struct node *none; /* what it is where no row fits, NULL: an error */
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
        return compile_refuse(
            c, a ? a->value : n,
            mode == FORMULA_COUNT
                ? "%s() begins with a table or kind: count(lift_holes)."
                : "%s() begins with a column: a table or kind, a point, and the column's name.",
            n->name);
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
        if (a->name && strcmp(a->name, "none") == 0 && !out->none) {
            if (mode != FORMULA_LARGEST && mode != FORMULA_SMALLEST)
                return compile_refuse(
                    c, a->value,
                    "\"none\" is for largest() and smallest(): a total or a count of nothing "
                    "is 0, and a size has to be there.");
            out->none = a->value;
            continue;
        }
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

static bool table_column(struct compiler *c, const struct node *n, int table, const char *table_name,
                         const char *name, struct formula_column *out)
{
    return c->scope->column(c->scope->arg, table, name, out) ||
           compile_refuse(c, n, "The table %s has no column \"%s\".", table_name, name);
}

static bool fits(struct compiler *c, const struct node *n, struct formula_type column, struct result *value,
                 const char *name)
{
    char x[80], y[80];
    if (value->zero && column.sort == FORMULA_NUMBER)
        value->type = column;
    bool good = column.sort == value->type.sort &&
                (column.sort != FORMULA_NUMBER || unit_same(column.dim, value->type.dim));
    return good ||
           compile_refuse(c, n, "%s is %s, and this is %s.", name, compile_type_name(column, x, sizeof x),
                          compile_type_name(value->type, y, sizeof y));
}

static bool pick_keys(struct compiler *c, const struct rows *r, int table, struct formula_pick_key *keys,
                      struct op_pick *p)
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

/* Sizes of one series: the table's own match, where the formula has none of that column. */
static bool keep_apart(struct compiler *c, enum formula_pick_mode mode, int table, struct rows *r)
{
    const struct formula_tree *own =
        needs_size(mode) && c->scope->apart ? c->scope->apart(c->scope->arg, table) : NULL;
    struct match m;
    if (!own)
        return true;
    if (!read_match(c, tree_root(own), &m))
        return false;
    for (int i = 0; i < r->n; i++)
        if (strcmp(r->matches[i].column, m.column) == 0)
            return true;
    if (r->n == MOST_MATCHES)
        return compile_refuse(c, r->subject, "There are too many matches here.");
    r->matches[r->n++] = m;
    return true;
}

static bool from_table(struct compiler *c, const struct node *n, struct rows *r, enum formula_pick_mode mode,
                       int table, struct result *out)
{
    struct formula_column column = {.type = {.sort = FORMULA_NUMBER}, .index = -1};
    if (r->none)
        return compile_refuse(c, r->none, "\"none\" is for the items of a kind: a parts table has rows.");
    if (!keep_apart(c, mode, table, r))
        return false;
    if (r->column && !table_column(c, r->subject, table, r->table, r->column, &column))
        return false;
    if (mode != FORMULA_LISTED && column.type.sort != FORMULA_NUMBER)
        return compile_refuse(c, r->subject, "%s() works on numbers, and %s is no number.", n->name,
                              r->column);
    struct formula_pick_key *keys = base_alloc((size_t)(r->n + 1) * sizeof *keys);
    struct op_pick p = {
        .pick = {.mode = mode, .table = table, .column = column.index, .n_keys = r->n, .keys = keys}};
    if (!pick_keys(c, r, table, keys, &p) || !pick_need(c, r, column.type, &p)) {
        free(keys);
        return false;
    }
    p.pick.query = c->scope->pick(c->scope->arg, &p.pick);
    base_vec_push(&c->picks, p);
    base_vec_push(&c->ops, ((struct op){.what = OP_PICK, .a = (int)c->picks.count - 1}));
    base_vec_push(&c->before, 0); /* no two are the same */
    *out = (struct result){.type = column.type, .reg = (int)c->ops.count - 1};
    return true;
}

/* ---- kinds ---------------------------------------------------------------------------------- */

static bool row_value(struct compiler *c, const struct node *n, int item, int kind, const char *column,
                      struct result *out)
{
    struct formula_found found;
    enum base_err err = c->scope->property(c->scope->arg, item, kind, column, &found, c->why);
    if (err == BASE_UNKNOWN && (!c->why->message[0] || c->why->source[0]))
        return compile_refuse(c, n, "This kind has no \"%s\".", column);
    return err ? compile_pass(c, n) : compile_found(c, n, &found, out);
}

/* Does the row fit? Constant no: *OUT is a constant no, and the matches behind it are not looked at. */
static bool row_fits(struct compiler *c, const struct rows *r, struct result *rights, int item, int kind,
                     struct result *out)
{
    static const enum op_what ops[] = {OP_EQUAL, OP_UNEQUAL, OP_LESS, OP_AT_MOST, OP_MORE, OP_AT_LEAST};
    *out = compile_constant(compile_yesno, 1, 0);
    base_give_up(); /* a step of what may be long: told here, and asked by those who bind */
    for (int i = 0; i < r->n; i++) {
        const struct match *m = &r->matches[i];
        struct result left, right = rights[i];
        if (!row_value(c, m->left, item, kind, m->column, &left) ||
            !compile_alike(c, m->node, &left, &right, "compared"))
            return false;
        struct result one = compile_emit(c, ops[m->relation], compile_yesno, &left, &right, NULL);
        rights[i].type = right.type;
        if (one.constant && !one.error && one.number == 0) {
            *out = one;
            return true;
        }
        if (one.constant && !one.error)
            continue;
        *out = out->constant ? one : compile_emit(c, OP_AND, compile_yesno, out, &one, NULL);
    }
    return true;
}

/* For sizes of a kind: the row must also reach, or stay under, the need. */
static bool row_reaches(struct compiler *c, const struct rows *r, enum formula_pick_mode mode,
                        struct result *value, struct result *fits_so_far)
{
    struct result need;
    if (!c->node(c, r->need, &need) || !compile_alike(c, r->need, value, &need, "compared"))
        return false;
    struct result reaches = compile_emit(c, mode == FORMULA_OVER ? OP_AT_LEAST : OP_AT_MOST, compile_yesno,
                                         value, &need, NULL);
    *fits_so_far = compile_emit(c, OP_AND, compile_yesno, fits_so_far, &reaches, NULL);
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

/* The rows from FIRST on, and before END, that are looked at; TAKEN: matches that hold for all of them. */
struct reach { const int *items; int first, end; bool taken[MOST_MATCHES]; };

/* How the COLUMN of row I stands to RIGHT; false when the reason stands. */
static bool row_stands(struct compiler *c, const struct match *m, int item, int kind, double right, int *out)
{
    struct result left;
    if (!row_value(c, m->left, item, kind, m->column, &left))
        return false;
    *out = left.number < right ? -1 : left.number > right;
    return true;
}

/* The first row of the reach whose column is at least (PAST: more than) RIGHT. */
static bool find_row(struct compiler *c, const struct match *m, const struct reach *at, int kind,
                     double right, bool past, int *out)
{
    int low = at->first, high = at->end;
    while (low < high) {
        int middle = low + (high - low) / 2, stands;
        if (!row_stands(c, m, at->items[middle], kind, right, &stands))
            return false;
        if (past ? stands > 0 : stands >= 0)
            high = middle;
        else
            low = middle + 1;
    }
    *out = low;
    return true;
}

/* Rows stand in the order of their places, and a place is mostly what is asked for: the others need not be
   asked one by one. */
static bool narrow(struct compiler *c, const struct rows *r, struct result *rights, int kind,
                   struct reach *at)
{
    for (int i = 0; i < r->n && at->first < at->end; i++) {
        const struct match *m = &r->matches[i];
        if (!rights[i].constant || rights[i].error || m->relation == FORMULA_UNEQUAL ||
            !c->scope->ascending || !c->scope->ascending(c->scope->arg, kind, m->column))
            continue;
        struct result left;
        if (!row_value(c, m->left, at->items[at->first], kind, m->column, &left) ||
            !compile_alike(c, m->node, &left, &rights[i], "compared"))
            return false;
        int low, high;
        if (!find_row(c, m, at, kind, rights[i].number, false, &low) ||
            !find_row(c, m, at, kind, rights[i].number, true, &high))
            return false;
        if (m->relation == FORMULA_MORE)
            at->first = high;
        else if (m->relation == FORMULA_AT_LEAST || m->relation == FORMULA_EQUAL)
            at->first = low;
        if (m->relation == FORMULA_LESS)
            at->end = low;
        else if (m->relation == FORMULA_AT_MOST || m->relation == FORMULA_EQUAL)
            at->end = high;
        at->taken[i] = true;
    }
    return true;
}

static struct rows without_taken(const struct rows *r, const struct reach *at, struct result *rights)
{
    struct rows left = *r;
    left.n = 0;
    for (int i = 0; i < r->n; i++)
        if (!at->taken[i]) {
            rights[left.n] = rights[i];
            left.matches[left.n++] = r->matches[i];
        }
    return left;
}

/* What is left of a large sum is told in sums of the same rows for all who ask: rows in twos, fours, eights
 * ... from SHARED_LEAST on. A sum of fewer rows than SHARED_MOST is added up one by one, as it is written. */
enum { SHARED_LEAST = 32, SHARED_MOST = 64 };

/* A constant as it is written, into T; false: it cannot be. */
static bool write_constant(const struct compiler *c, const struct result *r, struct base_text *t)
{
    if (!r->constant || r->error)
        return false;
    if (r->type.sort == FORMULA_YESNO)
        base_text_add(t, r->number != 0 ? "yes" : "no");
    else if (r->type.sort == FORMULA_NUMBER && unit_same(r->type.dim, UNIT_NUMBER))
        base_text_addf(t, "%.17g", r->number);
    else if (r->type.sort == FORMULA_TEXT && !strchr(base_pool_text(c->scope->pool, (int)r->number), '"'))
        base_text_addf(t, "\"%s\"", base_pool_text(c->scope->pool, (int)r->number));
    else
        return false;
    return true;
}

/* The matches that are left, each behind a comma; false: they hang on the place that asks. */
static bool write_matches(const struct compiler *c, const struct rows *r, const struct result *rights,
                          struct base_text *t)
{
    static const char *const relations[] = {"=", "!=", "<", "<=", ">", ">="};
    for (int i = 0; i < r->n; i++) {
        base_text_addf(t, ", %s %s ", r->matches[i].column, relations[r->matches[i].relation]);
        if (!write_constant(c, &rights[i], t))
            return false;
    }
    return true;
}

/* The largest block of rows that begins at AT, in the reach but less than all of it; 0: none worth
   sharing. */
static int block_at(const struct reach *reach, int at)
{
    int size = SHARED_LEAST;
    if (at % size || at + size > reach->end)
        return 0;
    while (at % (2 * size) == 0 && at + 2 * size <= reach->end && 2 * size < reach->end - reach->first)
        size *= 2;
    return size;
}

static const char *ascending_column(const struct rows *r, const struct reach *at)
{
    for (int i = 0; i < r->n; i++)
        if (at->taken[i])
            return r->matches[i].column;
    return NULL;
}

/* The sum of the rows from ITEMS[0] to ITEMS[SIZE - 1], which stand in the order of COLUMN; BASE_UNKNOWN: it
   is not shared here. */
static enum base_err shared_block(struct compiler *c, const struct rows *r, int kind, const char *column,
                                  const char *matches, struct formula_type type, const int *items, int size,
                                  struct formula_found *found)
{
    struct result first, last;
    if (!row_value(c, r->subject, items[0], kind, column, &first) ||
        !row_value(c, r->subject, items[size - 1], kind, column, &last))
        return BASE_REFUSED;
    char *text = base_format("total(%s.%s, %s >= %.17g, %s <= %.17g%s)", r->table, r->column, column,
                             first.number, column, last.number, matches);
    enum base_err err = c->scope->shared(c->scope->arg, text, type, found, c->why);
    free(text);
    return err;
}

static bool add_row(struct compiler *c, const struct rows *r, enum formula_pick_mode mode,
                    struct result *rights, int item, int kind, struct formula_type type,
                    struct result *so_far)
{
    struct result fit, value = compile_constant(type, 1, 0);
    if (!row_fits(c, r, rights, item, kind, &fit))
        return false;
    if (fit.constant && !fit.error && fit.number == 0)
        return true;
    if (r->column && !row_value(c, r->subject, item, kind, r->column, &value))
        return false;
    if (r->need && !row_reaches(c, r, mode, &value, &fit))
        return false;
    *so_far = compile_emit(c, row_op(mode), type, so_far, &fit, &value);
    return true;
}

/* When all rows are looked at. A sum of nothing is 0; the least or the most of nothing is what the formula
   says behind "none", else an error. */
static bool close_rows(struct compiler *c, const struct rows *r, bool sum, struct result *so_far,
                       struct result *out)
{
    struct formula_type type = so_far->type;
    struct result none = compile_constant(type, 0, FORMULA_NO_ROW), row = none;
    if (r->none && (!c->node(c, r->none, &none) || !compile_alike(c, r->none, &row, &none, "chosen between")))
        return false;
    *out = sum ? *so_far : compile_emit(c, OP_CLOSE, type, so_far, &none, NULL);
    return true;
}

enum { TALLY_NONE, TALLY_FILLED, TALLY_UNKNOWN };

/* *OUT[I]: how many of the first I of N rows fit, counted once for all who ask; NULL: that hangs on what is
   to be worked out. False when the reason stands. */
static bool tally(struct compiler *c, const struct rows *r, struct result *rights, int kind,
                  const char *matches, const int *items, int n, const int **out)
{
    char *text = base_format("%d%s", kind, matches);
    int *before = c->scope->kept ? c->scope->kept(c->scope->arg, text, n + 2) : NULL;
    free(text);
    for (int i = 0; before && i < n && before[n + 1] == TALLY_NONE; i++) {
        struct result fit;
        if (!row_fits(c, r, rights, items[i], kind, &fit))
            return false;
        before[i + 1] = before[i] + (fit.number != 0);
        if (!fit.constant || fit.error)
            before[n + 1] = TALLY_UNKNOWN;
    }
    if (before && before[n + 1] == TALLY_NONE)
        before[n + 1] = TALLY_FILLED;
    *out = before && before[n + 1] == TALLY_FILLED ? before : NULL;
    return true;
}

static bool from_kind(struct compiler *c, const struct node *n, const struct rows *r,
                      enum formula_pick_mode mode, int kind, struct result *out)
{
    struct formula_type type;
    if (mode == FORMULA_NEAR)
        return compile_refuse(c, n, "size_near() looks into parts tables only.");
    if (!kind_type(c, r, kind, &type))
        return false;
    if (mode != FORMULA_LISTED && type.sort != FORMULA_NUMBER)
        return compile_refuse(c, r->subject, "%s() works on numbers, and %s is no number.", n->name,
                              r->column);
    struct result rights[MOST_MATCHES];
    for (int i = 0; i < r->n; i++)
        if (!c->node(c, r->matches[i].right, &rights[i]))
            return false;
    bool sum = mode == FORMULA_TOTAL || mode == FORMULA_COUNT;
    struct result so_far = compile_constant(type, 0, sum ? FORMULA_FINE : OP_NOTHING_YET);
    struct reach reach = {0};
    reach.end = c->scope->rows(c->scope->arg, kind, &reach.items);
    if (!narrow(c, r, rights, kind, &reach))
        return false;
    const char *column = ascending_column(r, &reach);
    struct rows left = without_taken(r, &reach, rights);
    struct base_text matches = {0};
    bool same = sum && column && reach.end - reach.first > SHARED_MOST &&
                write_matches(c, &left, rights, &matches);
    bool share = same && mode == FORMULA_TOTAL && c->scope->shared, good = true;
    const int *before = NULL;
    if (same && mode == FORMULA_COUNT)
        good = tally(c, &left, rights, kind, base_text_get(&matches), reach.items,
                     c->scope->rows(c->scope->arg, kind, &reach.items), &before);
    if (good && before) {
        so_far = compile_constant(type, before[reach.end] - before[reach.first], FORMULA_FINE);
        reach.first = reach.end;
    }
    for (int i = reach.first, size; i < reach.end && good; i += size) {
        struct formula_found found;
        enum base_err err = BASE_UNKNOWN;
        size = share ? block_at(&reach, i) : 0;
        if (size)
            err = shared_block(c, &left, kind, column, base_text_get(&matches), type, reach.items + i, size,
                               &found);
        if (size && !err) {
            struct result yes = compile_constant(compile_yesno, 1, 0), value;
            good = compile_found(c, n, &found, &value);
            so_far = compile_emit(c, OP_SUM_IF, type, &so_far, &yes, &value);
        } else if (err != BASE_UNKNOWN) {
            good = compile_pass(c, n);
        } else {
            good = add_row(c, &left, mode, rights, reach.items[i], kind, type, &so_far);
            size = 1;
        }
    }
    base_text_done(&matches);
    return good && close_rows(c, &left, sum, &so_far, out);
}

/* ---- all kinds ------------------------------------------------------------------------------ */

static bool kind_has(struct compiler *c, int kind, const char *column, struct formula_type *type)
{
    struct formula_found found;
    struct base_diag unheard = {0};
    if (c->scope->property(c->scope->arg, -1, kind, column, &found, &unheard) != BASE_OK)
        return false;
    *type = found.type;
    return true;
}

/* Does it have what is summed, or counted by, and each column of a match? */
static bool kind_takes_part(struct compiler *c, const struct rows *r, int kind, struct formula_type *type)
{
    struct formula_type unread;
    for (int i = 0; i < r->n; i++)
        if (!kind_has(c, kind, r->matches[i].column, &unread))
            return false;
    return !r->column || kind_has(c, kind, r->column, type);
}

/* No kind takes part: because none has one of the columns, or none has them all. */
static bool refuse_all(struct compiler *c, const struct rows *r)
{
    const int kinds = c->scope->kinds(c->scope->arg);
    struct base_text columns = {0};
    if (r->column)
        base_text_addf(&columns, "\"%s\"", r->column);
    for (int i = -1; i < r->n; i++) {
        const char *column = i < 0 ? r->column : r->matches[i].column;
        struct formula_type unread;
        int kind = 0;
        while (column && kind < kinds && !kind_has(c, kind, column, &unread))
            kind++;
        if (column && kind == kinds) {
            base_text_done(&columns);
            return compile_refuse(c, i < 0 ? r->subject : r->matches[i].left, "No kind has a \"%s\".",
                                  column);
        }
        if (i >= 0)
            base_text_addf(&columns, "%s\"%s\"", columns.length ? " and " : "", column);
    }
    compile_refuse(c, r->subject, "No kind has %s together.", base_text_get(&columns));
    base_text_done(&columns);
    return false;
}

/* "total(all.mass, rides = x)": the items of every kind that has all of these columns. */
static bool from_all(struct compiler *c, const struct node *n, const struct rows *r,
                     enum formula_pick_mode mode, struct result *out)
{
    struct formula_type type = compile_number(UNIT_NUMBER), here = type;
    struct result rights[MOST_MATCHES], so_far = {0};
    bool any = false, sum = mode == FORMULA_TOTAL || mode == FORMULA_COUNT;
    if (mode == FORMULA_NEAR || mode == FORMULA_LISTED)
        return compile_refuse(c, n, "%s() does not look into all kinds.", n->name);
    for (int i = 0; i < r->n; i++)
        if (!c->node(c, r->matches[i].right, &rights[i]))
            return false;
    for (int kind = 0; kind < c->scope->kinds(c->scope->arg); kind++) {
        const int *items;
        if (!kind_takes_part(c, r, kind, &here))
            continue;
        if (here.sort != FORMULA_NUMBER || (any && !unit_same(type.dim, here.dim)))
            return compile_refuse(c, r->subject,
                                  "%s is not the same sort of number in all kinds that have it.", r->column);
        if (!any)
            so_far = compile_constant(type = here, 0, sum ? FORMULA_FINE : OP_NOTHING_YET);
        any = true;
        int rows = c->scope->rows(c->scope->arg, kind, &items);
        for (int i = 0; i < rows; i++)
            if (!add_row(c, r, mode, rights, items[i], kind, type, &so_far))
                return false;
    }
    return any ? close_rows(c, r, sum, &so_far, out) : refuse_all(c, r);
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
    if (c->scope->kinds && strcmp(r.table, "all") == 0)
        return from_all(c, n, &r, mode, out);
    return compile_refuse(c, r.subject, "There is no table or kind \"%s\".", r.table);
}
