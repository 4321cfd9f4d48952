/* The names of a handbook, and a die set's builds. */

#include "dieset/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void dieset_map_names(struct dieset *d)
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

/* The unit that property P of the job names, by what is typed or as usual, in SYSTEM; what is no such text is
   refused by binding. */
static void choose_unit(const struct build *b, const struct item *job, int p, struct unit_system *system)
{
    const struct cell *c = p < 0 ? NULL : job->properties[p];
    const struct formula_tree *usual = c ? cell_property(b, c)->tree : NULL;
    size_t n = c && c->typed ? strlen(c->typed) : 0;
    char typed[20] = "";
    const char *name = typed;
    if (n > 2 && n - 2 < sizeof typed)
        snprintf(typed, sizeof typed, "%.*s", (int)n - 2, c->typed + 1);
    else if (!n && usual && !formula_is_text(usual, &name))
        return;
    unit_choose(system, name);
}

static struct unit_system job_system(const struct build *b)
{
    const struct contract *k = &b->d->contract;
    const struct rows *jobs = &b->rows[k->job];
    struct unit_system system = UNIT_METRIC;
    if (!jobs->items.count)
        return system;
    const struct item *job = &b->items.at[jobs->items.at[0]];
    choose_unit(b, job, k->units.length, &system);
    choose_unit(b, job, k->units.shown, &system);
    choose_unit(b, job, k->units.force, &system);
    choose_unit(b, job, k->units.pressure, &system);
    choose_unit(b, job, k->units.mass, &system);
    choose_unit(b, job, k->units.work, &system);
    return system;
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
    strip_new(b);
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
    if (build_circle(b, why) != BASE_OK) {
        build_free(b);
        return NULL;
    }
    build_measures(b, true, NULL);
    build_measures(b, false, NULL);
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
                                  b->turn_sin, b->turn_all, b->turn_sum, b->turn_none,
                                  b->no_length, b->framed_x, b->framed_y, b->turned_x, b->turned_y,
                                  b->turn_framed, b->beside_x, b->beside_y, b->beside_turn};
    for (size_t i = 0; i < COUNT_OF(own); i++)
        formula_tree_free(own[i]);
    free(b->rows);
    free(b->plate_holes);
    free(b->slot_cells);
    free(b->tapped);
    base_vec_done(&b->items);
    base_vec_done(&b->cells);
    base_vec_done(&b->points);
    base_vec_done(&b->sides);
    build_uses_done(b);
    build_outlines_done(b);
    build_holes_done(b);
    strip_free(b);
    base_vec_done(&b->path);
    base_vec_done(&b->trail);
    base_map_done(&b->sums);
    base_map_done(&b->tallies);
    base_vec_done(&b->tallied);
    base_map_done(&b->item_names);
    base_map_done(&b->paths);
    model_free(b->model);
    texts_done(&b->texts);
    base_arena_done(&b->memory);
    free(b);
}
