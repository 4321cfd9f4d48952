/* Quantities: the cells that people see, item by item in the form's order, and reading them. */

#include "dieset/build.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the list ------------------------------------------------------------------------------------ */

static bool is_own_formula(const struct cell *c)
{
    return c->what == CELL_MEAN_X || c->what == CELL_MEAN_Y || c->what == CELL_MEASURE;
}

void quantity_refresh(struct build *b, int q)
{
    struct dieset_quantity *out = &b->quantities[q];
    const struct cell *c = b->quantity_cells[q];
    bool usual = has_usual(b, c);
    *out = (struct dieset_quantity){.item = c->item,
                                    .path = c->path,
                                    .name = c->name,
                                    .entry = c->entry,
                                    .title = c->title,
                                    .property = cell_property(b, c),
                                    .type = c->type,
                                    .can_type = c->can_type,
                                    .typed = c->typed != NULL,
                                    .reason = c->reason,
                                    .usual_slot = -1};
    out->text = c->typed ? c->typed : c->tree && !is_own_formula(c) ? formula_text(c->tree) : NULL;
    out->usual = usual ? formula_text(c->tree) : NULL;
    cell_range(b, c, &out->low, &out->high);
    for (int s = 0; s < DIESET_STATES; s++)
        out->slot[s] = c->slot[s];
    if (usual && c->typed && c->usual)
        out->usual_slot = c->usual->slot[0];
}

typedef BASE_VEC(struct cell *) cell_list;

static void list_item(const struct build *b, int i, cell_list *out)
{
    const struct item *it = &b->items.at[i];
    if (it->kind < 0) {
        base_vec_push(out, b->factors[it->factor]);
        return;
    }
    int n = handbook_kind(b->d->h, it->kind)->n_properties;
    for (int p = 0; p < n; p++)
        base_vec_push(out, it->properties[p]);
    for (size_t v = 0; v < it->values.count; v++)
        base_vec_push(out, it->values.at[v]);
    for (int l = 0; l < it->n_lines; l++)
        base_vec_push(out, it->lines[l]);
    for (int t = 0; it->pattern && t < it->pattern->n_takes; t++)
        base_vec_push(out, it->takes[t]);
    if (it->turn_all)
        base_vec_push(out, it->turn_all);
    for (int p = 0; p < it->n_points; p++) {
        base_vec_push(out, it->points[p].x);
        base_vec_push(out, it->points[p].y);
        base_vec_push(out, it->points[p].turn);
    }
    if (it->mean_x) {
        base_vec_push(out, it->mean_x);
        base_vec_push(out, it->mean_y);
    }
}

void build_quantities(struct build *b)
{
    cell_list list = {0};
    for (int i = 0; i < (int)b->items.count; i++) {
        b->items.at[i].first_quantity = (int)list.count;
        list_item(b, i, &list);
        b->items.at[i].n_quantities = (int)list.count - b->items.at[i].first_quantity;
    }
    for (int i = 0; i < handbook_factor_count(b->d->h); i++)
        if (b->factors[i]->item < 0)
            base_vec_push(&list, b->factors[i]);
    int n = b->n_quantities = (int)list.count, slots = model_count(b->model);
    b->quantity_cells = base_arena_alloc(&b->memory, (size_t)n * sizeof *b->quantity_cells + 1);
    b->quantities = base_arena_alloc(&b->memory, (size_t)n * sizeof *b->quantities + 1);
    b->slot_quantity = base_arena_alloc(&b->memory, (size_t)slots * sizeof *b->slot_quantity + 1);
    memset(b->slot_quantity, -1, (size_t)slots * sizeof *b->slot_quantity);
    for (int q = 0; q < n; q++) {
        struct cell *c = b->quantity_cells[q] = list.at[q];
        c->quantity = q;
        base_map_put(&b->paths, c->path, q);
        for (int s = DIESET_STATES - 1; s >= 0; s--)
            if (c->slot[s] >= 0)
                b->slot_quantity[c->slot[s]] = q * DIESET_STATES + s;
        quantity_refresh(b, q);
    }
    base_vec_done(&list);
}

int dieset_quantity_count(const struct dieset *d) { return d->now ? d->now->n_quantities : 0; }

/* An item may be taken out under whoever asks for a value of it, by another person too. */
static const struct dieset_quantity not_there = {
    .item = -1, .path = "", .name = "", .entry = "", .title = "", .slot = {-1, -1}, .usual_slot = -1};

const struct dieset_quantity *dieset_quantity(const struct dieset *d, int q)
{
    return q < 0 ? &not_there : &d->now->quantities[q];
}

int dieset_find(const struct dieset *d, const char *path)
{
    int q;
    if (!d->now)
        return -1;
    if (base_map_get(&d->now->paths, path, &q))
        return q;
    /* A factor answers by the name that it had before, too. */
    return base_map_get(&d->factors, path, &q) &&
                   base_map_get(&d->now->paths, handbook_factor(d->h, q)->name, &q)
               ? q
               : -1;
}

int dieset_item_quantities(const struct dieset *d, int item, int *first)
{
    *first = d->now->items.at[item].first_quantity;
    return d->now->items.at[item].n_quantities;
}

int dieset_of_slot(const struct dieset *d, int slot, enum dieset_state *s)
{
    int at = d->now && slot >= 0 && slot < model_count(d->now->model) ? d->now->slot_quantity[slot] : -1;
    if (at >= 0 && s)
        *s = (enum dieset_state)(at % DIESET_STATES);
    return at < 0 ? -1 : at / DIESET_STATES;
}

void dieset_nearest(struct dieset *d, const char *path, struct base_text *out)
{
    const struct build *b = d->now;
    if (!b)
        return;
    char head[100];
    snprintf(head, sizeof head, "%.*s", (int)strcspn(path, "."), path);
    int item;
    BASE_VEC(const char *) names = {0};
    if (base_map_get(&b->item_names, head, &item) && strchr(path, '.')) {
        const struct item *it = &b->items.at[item];
        const char *last = strrchr(path, '.');
        /* a measure of its pattern by its own word alone, before all that is only like it */
        for (int all = 0; all < 2 && names.count == 0; all++)
            for (int q = 0; q < it->n_quantities; q++) {
                const char *own = b->quantities[it->first_quantity + q].path;
                if (dieset_shown(d, it->first_quantity + q) && (all || strcmp(strrchr(own, '.'), last) == 0))
                    base_vec_push(&names, own);
            }
    } else {
        path = head;
        for (size_t i = 0; i < b->items.count; i++)
            base_vec_push(&names, b->items.at[i].name);
        for (int i = 0; i < handbook_factor_count(d->h); i++)
            base_vec_push(&names, handbook_factor(d->h, i)->name);
    }
    base_nearest(out, path, names.at, names.count);
    base_vec_done(&names);
}

/* ---- reading ----------------------------------------------------------------------------------------- */

struct formula_value dieset_value(const struct dieset *d, int q, enum dieset_state s)
{
    return q < 0 ? (struct formula_value){.error = FORMULA_EMPTY, .origin = -1}
                 : cell_outcome(d->now, d->now->quantity_cells[q], s);
}

struct formula_value dieset_get(const struct dieset *d, const char *path, enum dieset_state s)
{
    return dieset_value(d, dieset_find(d, path), s);
}

static const struct cell *named_cell(const struct dieset *d, int item, const char *property)
{
    int p;
    if (!d->now || item < 0 || item >= (int)d->now->items.count)
        return NULL;
    const struct item *it = &d->now->items.at[item];
    return it->kind >= 0 && base_map_get(&d->properties[it->kind], property, &p) ? it->properties[p] : NULL;
}

double dieset_number(const struct dieset *d, int item, const char *property, enum dieset_state s)
{
    const struct cell *c = named_cell(d, item, property);
    return c ? cell_amount(d->now, c, s) : NAN;
}

const char *dieset_text(const struct dieset *d, int item, const char *property)
{
    const struct cell *c = named_cell(d, item, property);
    if (!c || c->type.type.sort != FORMULA_TEXT)
        return "";
    struct formula_value v = cell_outcome(d->now, c, DIESET_NEW);
    return v.error ? "" : base_pool_text(d->pool, (int)v.number);
}

int dieset_reference(const struct dieset *d, int item, const char *property)
{
    const struct cell *c = named_cell(d, item, property);
    if (!c || c->type.type.sort != FORMULA_ITEM)
        return -1;
    struct formula_value v = cell_outcome(d->now, c, DIESET_NEW);
    return v.error ? -1 : (int)v.number;
}

/* --- marks ---------------------------------------------------------------------------------------------- */

bool dieset_spare(struct dieset *d, int q, double *spare, double *need)
{
    const struct cell *c = d->now->quantity_cells[q];
    struct formula_value v = dieset_value(d, q, DIESET_NEW);
    double wanted;
    if (v.error || c->slot[0] < 0 || !model_need(d->now->model, c->slot[0], &wanted))
        return false;
    if (need)
        *need = wanted;
    if (spare)
        *spare = v.number - wanted;
    return true;
}

static bool is_picked(const struct build *b, const struct cell *c)
{
    double values[16];
    return c->slot[0] >= 0 && model_pick(b->model, c->slot[0], values) != NULL;
}

enum dieset_mark dieset_mark(struct dieset *d, int q)
{
    if (q < 0)
        return DIESET_BLANK;
    const struct build *b = d->now;
    const struct cell *c = b->quantity_cells[q];
    if (c->typed && !dieset_applies(d, q))
        return DIESET_UNUSED;
    struct formula_value v = dieset_value(d, q, DIESET_NEW);
    if (!v.error)
        v = dieset_value(d, q, DIESET_GROUND);
    if (v.error == FORMULA_EMPTY && !c->typed && (!c->tree || is_own_formula(c)))
        return DIESET_BLANK;
    if (v.error)
        return DIESET_BROKEN;
    if (c->typed && has_usual(b, c))
        return DIESET_TYPED_OVER;
    if (c->what == CELL_LINE)
        return DIESET_TYPED;
    if (c->typed && (formula_is_literal(c->parsed) || c->type.sort == HANDBOOK_ITEM))
        return DIESET_TYPED;
    return is_picked(b, c) ? DIESET_PICKED : DIESET_FORMULA;
}

/*  sentences --------------------------------------------------------------------------------------------- */

const char *dieset_print(const struct dieset *d, int q, enum dieset_state s, char *buf, size_t size)
{
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    struct formula_value v = dieset_value(d, q, s);
    struct formula_type t = quantity->type.type;
    int decimals = quantity->property ? quantity->property->decimals : -1;
    /* an inch is the coarser unit */
    int finer = unit_is_inch(d->now->system) && unit_same(quantity->type.type.dim, UNIT_LENGTH);
    if (v.error)
        snprintf(buf, size, "%s", formula_error_text((enum formula_error)v.error));
    else if (t.sort == FORMULA_ITEM)
        snprintf(buf, size, "%s", dieset_item_title(d, (int)v.number));
    else if (t.sort == FORMULA_NUMBER && decimals >= 0)
        unit_print_apart(v.number, NAN, t.dim, d->now->system, decimals + finer, buf, size);
    else
        handbook_print(d->h, v, t, d->now->system, buf, size);
    return buf;
}

static struct slot_cell find_slot_cell(const struct build *b, int slot)
{
    double values[16], got;
    struct slot_cell c = {.row = -1};
    const struct formula_pick *pick = model_pick(b->model, slot, values);
    c.any = pick && table_run(b->tables, pick->query, values, &got, &c.row) == TABLE_FOUND && c.row >= 0;
    if (c.any) {
        c.table = pick->table;
        c.column = pick->column;
    }
    c.when = model_now(b->model);
    return c;
}

bool dieset_slot_cell(struct dieset *d, int slot, int *table, int *row, int *column)
{
    struct build *b = d->now;
    *row = -1;
    if (slot < 0 || !model_code(b->model, slot) || !formula_code_picks(model_code(b->model, slot)))
        return false;
    if (!b->slot_cells)
        b->slot_cells = base_alloc((size_t)model_count(b->model) * sizeof *b->slot_cells);
    struct slot_cell *c = &b->slot_cells[slot];
    if (!c->when || model_codes_moved(b->model, c->when) ||
        model_code_moved(b->model, model_code(b->model, slot), c->when))
        *c = find_slot_cell(b, slot);
    if (!c->any)
        return false;
    *table = c->table;
    *row = c->row;
    *column = c->column;
    return true;
}

static const char *slot_path(const struct dieset *d, int slot)
{
    int q = dieset_of_slot(d, slot, NULL);
    return q >= 0 ? d->now->quantities[q].path : model_name(d->now->model, slot);
}

/* What is wrong in SLOT itself. */
static void explain_origin(struct dieset *d, int slot, enum formula_error error, struct base_text *out)
{
    double values[16];
    const struct formula_pick *pick = model_pick(d->now->model, slot, values);
    base_text_addf(out, "%s", slot_path(d, slot));
    if (pick && (error == FORMULA_NO_ROW || error == FORMULA_SEVERAL || error == FORMULA_EMPTY)) {
        base_text_add(out, ": ");
        table_explain(d->now->tables, pick->query, values, d->now->system, out);
        return;
    }
    base_text_addf(out, error == FORMULA_EMPTY ? " is %s" : ": %s", formula_error_text(error));
}

void dieset_explain_error(struct dieset *d, int q, enum dieset_state s, struct base_text *out)
{
    const struct cell *c = d->now->quantity_cells[q];
    struct formula_value v = dieset_value(d, q, s);
    if (!v.error)
        return;
    int origin = v.origin >= 0 ? v.origin : c->slot[s];
    if (origin != c->slot[s])
        base_text_addf(out, "%s cannot be worked out: ", c->path);
    explain_origin(d, origin, (enum formula_error)v.error, out);
    size_t n = out->length;
    if (n && out->data[n - 1] != '.')
        base_text_add(out, ".");
}
