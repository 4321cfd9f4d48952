/* Which listed sizes serve a value: the rows that its own look-up by size leaves, or those of its property's
 * table. */

#include "explore/explore.h"

#include <math.h>
#include <stdlib.h>

static int by_number(const void *a, const void *b)
{
    double x = ((const struct explore_size *)a)->number, y = ((const struct explore_size *)b)->number;
    return (x > y) - (x < y);
}

/* The rows of a table that serve; ROWS NULL: all of it, N. */
struct rows { const int *rows; int n; };

/* The look-up behind the value, typed over or not. */
static bool from_pick(struct dieset *d, const struct dieset_quantity *q, enum dieset_state s,
                      struct explore_sizes *out, struct rows *r)
{
    double values[16];
    int slot = q->usual_slot >= 0 ? q->usual_slot : q->slot[s];
    const struct formula_pick *pick = slot < 0 ? NULL : model_pick(dieset_model(d), slot, values);
    if (!pick || (pick->mode != FORMULA_OVER && pick->mode != FORMULA_UNDER && pick->mode != FORMULA_NEAR))
        return false;
    out->table = pick->table;
    out->column = pick->column;
    out->has_need = true;
    out->need = values[pick->n_keys];
    r->n = table_candidates(dieset_tables(d), pick->query, values, &r->rows);
    return true;
}

static bool from_table(struct dieset *d, const struct dieset_quantity *q, struct explore_sizes *out,
                       struct rows *r)
{
    const struct table_set *set = dieset_tables(d);
    if (!q->property || !q->property->from_table)
        return false;
    out->table = table_find(set, q->property->from_table);
    out->column = out->table < 0 ? -1 : table_column(set, out->table, q->property->from_column);
    r->n = out->column < 0 ? 0 : table_rows(set, out->table);
    return out->column >= 0;
}

static char *typed(struct dieset *d, const struct table_column_spec *c, const struct table_cell *cell)
{
    return c->is_text ? base_format("\"%s\"", base_pool_text(handbook_pool(dieset_handbook(d)), cell->text))
                      : unit_typed(c->dim, dieset_system(d), cell->number);
}

/* The series whose numbers are offered, as the table's column has it: that of the value that stands, else the
 * job's; -1: all, where the table knows no such series as jobs are of. */
static double own_series(struct dieset *d, int quantity, enum dieset_state s, const struct explore_sizes *out,
                         int column)
{
    const struct table_set *set = dieset_tables(d);
    struct formula_value stands = dieset_value(d, quantity, s),
                         job = dieset_get(d, "job.series", s);
    double own = -1;
    bool known = false;
    for (int row = 0; column >= 0 && !job.error && row < table_rows(set, out->table); row++) {
        const struct table_cell *cell = table_cell(set, out->table, row, out->column),
                                *of = table_cell(set, out->table, row, column);
        known |= of->text == job.number;
        if (own < 0 && !stands.error && !cell->empty && fabs(cell->number - stands.number) < 1e-6)
            own = of->text;
    }
    return !known ? -1 : own < 0 ? job.number : own;
}

static void add_rows(struct dieset *d, int quantity, enum dieset_state s, const struct rows *r,
                     struct explore_sizes *out)
{
    const struct table_set *set = dieset_tables(d);
    const struct table_column_spec *c = &table_spec(set, out->table)->columns[out->column];
    int column = c->is_text ? -1 : table_column(set, out->table, "series");
    double own = own_series(d, quantity, s, out, column);
    for (int i = 0; i < r->n; i++) {
        int row = r->rows ? r->rows[i] : i;
        const struct table_cell *cell = table_cell(set, out->table, row, out->column);
        double number = c->is_text ? cell->text : cell->number;
        bool there = cell->empty || (own >= 0 && table_cell(set, out->table, row, column)->text != own);
        for (size_t k = 0; k < out->at.count && !there; k++)
            there = out->at.at[k].number == number;
        if (!there)
            base_vec_push(&out->at, ((struct explore_size){typed(d, c, cell), number, row}));
    }
    if (!c->is_text && out->at.count)
        qsort(out->at.at, out->at.count, sizeof *out->at.at, by_number);
}

bool explore_sizes(struct dieset *d, int quantity, enum dieset_state s, struct explore_sizes *out)
{
    const struct dieset_quantity *q = dieset_quantity(d, quantity);
    struct rows r = {0};
    *out = (struct explore_sizes){0};
    if (!from_pick(d, q, s, out, &r) && !from_table(d, q, out, &r))
        return false;
    add_rows(d, quantity, s, &r, out);
    return true;
}

void explore_sizes_done(struct explore_sizes *s)
{
    for (size_t i = 0; i < s->at.count; i++)
        free(s->at.at[i].text);
    base_vec_done(&s->at);
}
