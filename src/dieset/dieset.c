/* What a die set reads of its handbook by name, and its builds. */

#include "dieset/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the names that geometry reads -------------------------------------------------------------- */

static enum base_err find_kind(struct dieset *d, const char *name, int *out, struct base_diag *why)
{
    if (!base_map_get(&d->kinds, name, out))
        return base_fail(why, BASE_REFUSED, "The handbook lacks the kind %s, which the program reads.", name);
    return BASE_OK;
}

static enum base_err find_property(struct dieset *d, int kind, const char *name, enum handbook_sort sort,
                                   int *out, struct base_diag *why)
{
    const struct handbook_kind *k = handbook_kind(d->h, kind);
    if (!base_map_get(&d->properties[kind], name, out))
        return base_fail(why, BASE_REFUSED, "The handbook's kind %s lacks %s, which the program reads.",
                         k->name, name);
    struct handbook_type t = k->properties[*out].type;
    if (t.sort != sort || (sort == HANDBOOK_NUMBER && !unit_same(t.type.dim, UNIT_LENGTH)))
        return base_fail(why, BASE_REFUSED, "The handbook's %s.%s is of another type than the program reads.",
                         k->name, name);
    return BASE_OK;
}

/* How far the ram goes and the strip is lifted: a handbook may do without. */
static void find_ram(struct dieset *d)
{
    struct contract *k = &d->contract;
    if (find_property(d, k->stack, "travel", HANDBOOK_NUMBER, &k->travel, NULL) != BASE_OK)
        k->travel = -1;
    if (find_property(d, k->strip, "width", HANDBOOK_NUMBER, &k->strip_width, NULL) != BASE_OK)
        k->strip_width = -1;
    if (find_property(d, k->strip, "lift", HANDBOOK_NUMBER, &k->strip_lift, NULL) != BASE_OK)
        k->strip_lift = -1;
    if (find_kind(d, "press", &k->press, NULL) != BASE_OK ||
        find_property(d, k->press, "stroke", HANDBOOK_NUMBER, &k->stroke, NULL) != BASE_OK)
        k->press = k->stroke = -1;
}

static enum base_err find_contract(struct dieset *d, struct base_diag *why)
{
    struct contract *k = &d->contract;
    const struct {
        const char *name;
        int *out;
    } kinds[] = {{DIESET_PLATE, &k->plate},
                 {DIESET_STACK, &k->stack},
                 {DIESET_JOB, &k->job},
                 {DIESET_STRIP, &k->strip}};
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < COUNT_OF(kinds) && !err; i++)
        err = find_kind(d, kinds[i].name, kinds[i].out, why);
    if (err)
        return err;
    const struct { int kind; const char *name; enum handbook_sort sort; int *out;
    } properties[] = {
        {k->plate, "length", HANDBOOK_NUMBER, &k->length},
        {k->plate, "width", HANDBOOK_NUMBER, &k->width},
        {k->plate, "thickness", HANDBOOK_NUMBER, &k->thickness},
        {k->plate, "top", HANDBOOK_NUMBER, &k->top},
        {k->plate, "bottom", HANDBOOK_NUMBER, &k->bottom},
        {k->plate, "left", HANDBOOK_NUMBER, &k->left},
        {k->plate, "right", HANDBOOK_NUMBER, &k->right},
        {k->plate, "front", HANDBOOK_NUMBER, &k->front},
        {k->plate, "back", HANDBOOK_NUMBER, &k->back},
        {k->plate, "middle_x", HANDBOOK_NUMBER, &k->middle_x},
        {k->plate, "middle_y", HANDBOOK_NUMBER, &k->middle_y},
        {k->plate, "thickness_now", HANDBOOK_NUMBER, &k->thickness_now},
        {k->plate, "moves", HANDBOOK_CHOICE, &k->moves},
        {k->plate, "hardened", HANDBOOK_YESNO, &k->hardened},
        {k->stack, "die_plate", HANDBOOK_ITEM, &k->die_plate},
        {k->stack, "shut_height", HANDBOOK_NUMBER, &k->shut_height},
        {k->job, "unit", HANDBOOK_CHOICE, &k->unit},
        {k->strip, "thickness", HANDBOOK_NUMBER, &k->strip_thickness},
    };
    for (size_t i = 0; i < COUNT_OF(properties) && !err; i++)
        err = find_property(d, properties[i].kind, properties[i].name, properties[i].sort, properties[i].out,
                            why);
    if (!err)
        find_ram(d);
    return err;
}

/* What sides and measures of outlines read of their kind. */
static enum base_err find_outlines(struct dieset *d, struct base_diag *why)
{
    int n = handbook_kind_count(d->h), turn, mirrored;
    d->contract.outlines = base_alloc((size_t)(n + 1) * sizeof *d->contract.outlines);
    enum base_err err = BASE_OK;
    for (int k = 0; k < n && !err; k++) {
        struct outline_contract *o = &d->contract.outlines[k];
        if (!handbook_kind(d->h, k)->outlines)
            continue;
        err = find_property(d, k, "opening_grow", HANDBOOK_NUMBER, &o->opening_grow, why);
        err = err ? err : find_property(d, k, "punch_grow", HANDBOOK_NUMBER, &o->punch_grow, why);
        err = err ? err : find_property(d, k, "outline_mirrored", HANDBOOK_YESNO, &mirrored, why);
        if (!err && !base_map_get(&d->properties[k], "outline_turn", &turn))
            err = base_fail(why, BASE_REFUSED,
                            "The handbook's kind %s lacks outline_turn, which the program reads.",
                            handbook_kind(d->h, k)->name);
    }
    return err;
}

static enum base_err check_measures(const struct dieset *d, struct base_diag *why)
{
    for (int k = 0; k < handbook_kind_count(d->h); k++) {
        const struct handbook_kind *kind = handbook_kind(d->h, k);
        for (int p = 0; p < kind->n_properties; p++)
            if (kind->properties[p].how == HANDBOOK_MEASURE && !measure_known(kind->properties[p].name))
                return base_fail(why, BASE_REFUSED,
                                 "The handbook's %s.%s is no measure that the program works out.", kind->name,
                                 kind->properties[p].name);
    }
    return BASE_OK;
}

static void map_names(struct dieset *d)
{
    const struct handbook *h = d->h;
    for (int i = 0; i < handbook_factor_count(h); i++) {
        const struct handbook_factor *f = handbook_factor(h, i);
        base_map_put(&d->factors, f->name, i);
        if (f->formerly)
            base_map_put(&d->factors, f->formerly, i);
    }
    for (int i = 0; i < handbook_function_count(h); i++)
        base_map_put(&d->functions, handbook_function(h, i)->f.name, i);
    for (int i = 0; i < handbook_pattern_count(h); i++)
        base_map_put(&d->patterns, handbook_pattern(h, i)->name, i);
    d->properties = base_alloc((size_t)(handbook_kind_count(h) + 1) * sizeof *d->properties);
    for (int i = 0; i < handbook_kind_count(h); i++) {
        const struct handbook_kind *k = handbook_kind(h, i);
        base_map_put(&d->kinds, k->name, i);
        for (int p = 0; p < k->n_properties; p++)
            base_map_put(&d->properties[i], k->properties[p].name, p);
    }
}

enum base_err contract_find(struct dieset *d, struct base_diag *why)
{
    map_names(d);
    enum base_err err = find_contract(d, why);
    if (!err)
        err = find_outlines(d, why);
    return err ? err : check_measures(d, why);
}

/* ---- builds ---------------------------------------------------------------------------------------- */

static void look_up(void *arg, const struct formula_pick *pick, const double *values,
                    struct formula_value *out)
{
    static const unsigned char errors[] = {[TABLE_FOUND] = FORMULA_FINE,
                                           [TABLE_NO_ROW] = FORMULA_NO_ROW,
                                           [TABLE_SEVERAL] = FORMULA_SEVERAL,
                                           [TABLE_EMPTY_CELL] = FORMULA_EMPTY};
    const struct build *b = arg;
    out->error = errors[table_run(b->tables, pick->query, values, &out->number, NULL)];
}

static enum unit_system job_system(const struct build *b)
{
    const struct contract *k = &b->d->contract;
    const struct rows *jobs = &b->rows[k->job];
    if (!jobs->items.count)
        return UNIT_METRIC;
    const struct cell *c = b->items.at[jobs->items.at[0]].properties[k->unit];
    return c->typed && strstr(c->typed, "\"in\"") ? UNIT_INCH : UNIT_METRIC;
}

static enum base_err bind_all(struct build *b, struct base_diag *why)
{
    b->system = job_system(b);
    enum base_err err = bind_cells(b, why);
    if (!err)
        err = build_holes(b, why);
    if (!err)
        build_bodies(b);
    b->bound = true;
    if (!err)
        err = model_settle(b->model, why);
    return err;
}

struct build *build_new(struct dieset *d, struct texts *texts, struct base_diag *why)
{
    struct build *b = base_alloc(sizeof *b);
    static const struct bind_asks asks = {frame_scope, build_points};
    b->d = d;
    b->asks = &asks;
    b->texts = *texts;
    *texts = (struct texts){0};
    b->model = model_new(look_up, b);
    enum base_err err = build_tables(b, why);
    if (!err)
        err = build_expand(b, why);
    if (!err)
        err = bind_all(b, why);
    if (err) {
        if (b->failed)
            *why = b->why;
        build_free(b);
        return NULL;
    }
    build_quantities(b);
    for (int i = 0; i < (int)b->items.count; i++)
        build_entries(b, i);
    build_measures(b, NULL);
    if (base_given_up()) {
        base_fail_given_up(why);
        build_free(b);
        return NULL;
    }
    b->garbage_floor = b->texts.memory.bytes + b->memory.bytes;
    return b;
}

void build_free(struct build *b)
{
    if (!b)
        return;
    build_tables_done(b);
    for (size_t i = 0; i < b->cells.count; i++)
        if (b->cells.at[i]->parsed)
            formula_tree_free(b->cells.at[i]->parsed);
    for (int k = 0; b->rows && k < handbook_kind_count(b->d->h); k++)
        base_vec_done(&b->rows[k].items);
    for (size_t i = 0; i < b->items.count; i++)
        base_vec_done(&b->items.at[i].values);
    struct formula_tree *own[] = {b->mean_x,   b->mean_y,   b->mean_cos, b->mean_sin, b->turn_cos,
                                  b->turn_sin, b->turn_all, b->turn_sum, b->turn_none};
    for (size_t i = 0; i < COUNT_OF(own); i++)
        formula_tree_free(own[i]);
    free(b->rows);
    free(b->plate_holes);
    base_vec_done(&b->items);
    base_vec_done(&b->cells);
    base_vec_done(&b->points);
    base_vec_done(&b->sides);
    build_uses_done(b);
    build_outlines_done(b);
    build_holes_done(b);
    base_vec_done(&b->path);
    base_vec_done(&b->trail);
    base_map_done(&b->sums);
    base_map_done(&b->item_names);
    base_map_done(&b->paths);
    model_free(b->model);
    texts_done(&b->texts);
    base_arena_done(&b->memory);
    free(b);
}
