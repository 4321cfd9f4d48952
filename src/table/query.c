/* Binding and running queries.
 *
 * An index is made at binding: its rows are sorted by key, then by the column's value, then
 * by their place in the table, and cut into runs. Running one looks up its run and walks no
 * more of it than the mode needs.
 */

#include "table/set.h"

#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- comparing ------------------------------------------------------------- */

double forgiveness(struct unit_dim dim, double number)
{
    /* a little over 1 nm, so that exactly 1 nm is forgiven whatever the rounding */
    return unit_same(dim, UNIT_LENGTH) ? 1.001e-6 : 1e-9 * fabs(number);
}

bool cell_relates(const struct table *t, int row, const struct table_key *key, double value)
{
    const struct table_cell *cell = cell_at(t, row, key->column);
    const struct table_column_spec *col = &t->spec.columns[key->column];
    if (cell->empty || isnan(value))
        return false;
    double number = col->is_text ? cell->text : cell->number;
    double slack = col->is_text ? 0 : forgiveness(col->dim, value);
    switch (key->relation) {
    case TABLE_EQUAL: return fabs(number - value) <= slack;
    case TABLE_UNEQUAL: return fabs(number - value) > slack;
    case TABLE_LESS: return number < value - slack;
    case TABLE_AT_MOST: return number <= value + slack;
    case TABLE_MORE: return number > value + slack;
    case TABLE_AT_LEAST: return number >= value - slack;
    }
    return false;
}

static bool column_is_text(const struct table *t, int column) { return t->spec.columns[column].is_text; }

/* ---- levels ---------------------------------------------------------------- */

static int by_number(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void make_levels(const struct table *t, int column)
{
    struct levels *l = &t->levels[column];
    if (l->made || column_is_text(t, column))
        return;
    double *numbers = base_alloc((size_t)t->rows * sizeof *numbers);
    int n = 0;
    for (int row = 0; row < t->rows; row++)
        if (!cell_at(t, row, column)->empty)
            numbers[n++] = cell_at(t, row, column)->number;
    qsort(numbers, (size_t)n, sizeof *numbers, by_number);
    l->at = base_alloc((size_t)n * sizeof *l->at);
    for (int i = 0; i < n; i++) {
        struct level *last = l->count ? &l->at[l->count - 1] : NULL;
        if (last && numbers[i] - last->low <= forgiveness(t->spec.columns[column].dim, last->low))
            last->high = numbers[i];
        else
            l->at[l->count++] = (struct level){numbers[i], numbers[i]};
    }
    free(numbers);
    l->made = true;
}

static double miss(const struct level *l, double value)
{
    return value < l->low ? l->low - value : value > l->high ? value - l->high : 0;
}

/* The level nearest to VALUE that forgives the difference, -1 when there is none. */
static int level_of(const struct table *t, int column, double value)
{
    const struct levels *l = &t->levels[column];
    int low = 0, high = l->count; /* the first level whose low end is over VALUE */
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (l->at[middle].low > value)
            high = middle;
        else
            low = middle + 1;
    }
    int best = low - 1;
    if (low < l->count && (best < 0 || miss(&l->at[low], value) < miss(&l->at[best], value)))
        best = low;
    double slack = forgiveness(t->spec.columns[column].dim, value);
    return best >= 0 && miss(&l->at[best], value) <= slack ? best : -1;
}

/* The whole number that stands for VALUE in COLUMN, -1 when no cell has it. */
static int key_number(const struct table *t, int column, double value)
{
    if (!column_is_text(t, column))
        return isnan(value) ? -1 : level_of(t, column, value);
    return value >= 0 && value <= INT_MAX ? (int)value : -1;
}

static int cell_key_number(const struct table *t, int row, int column)
{
    const struct table_cell *cell = cell_at(t, row, column);
    return column_is_text(t, column) ? cell->text : level_of(t, column, cell->number);
}

/* ---- building an index -------------------------------------------------------- */

/* NUMBERS: the key's numbers of each row, row by row, looked up once before the rows are compared. */
struct ordering { const struct table *t; const struct index *ix; int *numbers; };

static const int *key_of(const struct ordering *o, int row) { return o->numbers + row * o->ix->n_equal; }

static int by_key(const struct ordering *o, int a, int b)
{
    const int *x = key_of(o, a), *y = key_of(o, b);
    for (int i = 0; i < o->ix->n_equal; i++)
        if (x[i] != y[i])
            return x[i] < y[i] ? -1 : 1;
    return 0;
}

static int by_value(const struct ordering *o, int a, int b)
{
    if (o->ix->column < 0)
        return 0;
    const struct table_cell *x = cell_at(o->t, a, o->ix->column), *y = cell_at(o->t, b, o->ix->column);
    if (x->empty || y->empty)
        return x->empty - y->empty;
    if (column_is_text(o->t, o->ix->column))
        return 0;
    return (x->number > y->number) - (x->number < y->number);
}

static int by_key_and_value(const void *a, const void *b, void *ordering)
{
    int x = *(const int *)a, y = *(const int *)b;
    int order = by_key(ordering, x, y);
    if (!order)
        order = by_value(ordering, x, y);
    return order ? order : (x > y) - (x < y);
}

static bool key_is_filled(const struct table *t, const struct index *ix, int row)
{
    for (int i = 0; i < ix->n_equal; i++)
        if (cell_at(t, row, ix->equal[i])->empty)
            return false;
    return true;
}

static uint64_t mix(uint64_t hash, int number)
{
    hash = (hash ^ (uint32_t)number) * 1099511628211u;
    return hash ^ hash >> 32;
}

static int home(const struct index *ix, uint64_t hash) { return (int)(hash & (uint64_t)(ix->room - 1)); }

static void cut_runs(const struct ordering *o, struct index *ix)
{
    for (int i = 0; i < ix->n_order; i++) {
        if (i == 0 || by_key(o, ix->order[i - 1], ix->order[i]) != 0)
            base_vec_push(&ix->runs, ((struct run){.start = i}));
        struct run *run = &ix->runs.at[ix->runs.count - 1];
        run->count++;
        run->filled += ix->column >= 0 && !cell_at(o->t, ix->order[i], ix->column)->empty;
    }
}

static void hash_runs(const struct ordering *o, struct index *ix)
{
    ix->room = 4;
    while ((size_t)ix->room < 2 * ix->runs.count)
        ix->room *= 2;
    ix->cells = base_alloc((size_t)ix->room * sizeof *ix->cells);
    for (size_t r = 0; r < ix->runs.count; r++) {
        const int *key = key_of(o, ix->order[ix->runs.at[r].start]);
        uint64_t hash = 0;
        for (int i = 0; i < ix->n_equal; i++)
            hash = mix(hash, key[i]);
        int at = home(ix, hash);
        while (ix->cells[at])
            at = (at + 1) & (ix->room - 1);
        ix->cells[at] = (int)r + 1;
    }
}

static struct index *index_new(const struct table *t, const struct index *like)
{
    struct index *ix = base_alloc(sizeof *ix);
    ix->table = like->table;
    ix->column = like->column;
    ix->n_equal = like->n_equal;
    memcpy(ix->equal, like->equal, sizeof ix->equal);
    for (int i = 0; i < ix->n_equal; i++)
        make_levels(t, ix->equal[i]);
    ix->order = base_alloc((size_t)t->rows * sizeof *ix->order);
    struct ordering o = {t, ix, base_alloc((size_t)t->rows * (size_t)ix->n_equal * sizeof *o.numbers)};
    for (int row = 0; row < t->rows; row++) {
        if (!key_is_filled(t, ix, row))
            continue;
        ix->order[ix->n_order++] = row;
        for (int i = 0; i < ix->n_equal; i++)
            o.numbers[row * ix->n_equal + i] = cell_key_number(t, row, ix->equal[i]);
    }
    qsort_r(ix->order, (size_t)ix->n_order, sizeof *ix->order, by_key_and_value, &o);
    cut_runs(&o, ix);
    hash_runs(&o, ix);
    free(o.numbers);
    return ix;
}

void index_free(struct index *ix)
{
    free(ix->order);
    base_vec_done(&ix->runs);
    free(ix->cells);
    free(ix);
}

static bool same_index(const struct index *a, const struct index *b)
{
    return a->table == b->table && a->column == b->column && a->n_equal == b->n_equal
        && memcmp(a->equal, b->equal, (size_t)a->n_equal * sizeof *a->equal) == 0;
}

/* The number of the index LIKE, made when there is none yet. */
static int index_for(struct table_set *s, const struct index *like)
{
    for (size_t i = 0; i < s->indexes.count; i++)
        if (same_index(s->indexes.at[i], like))
            return (int)i;
    base_vec_push(&s->indexes, index_new(s->tables.at[like->table], like));
    return (int)s->indexes.count - 1;
}

/* ---- binding -------------------------------------------------------------------- */

static bool same_query(const struct table_set *s, const struct query *q, int table, int column,
                       enum table_mode mode, const struct table_key *keys, int n_keys)
{
    const struct index *ix = s->indexes.at[q->index];
    if (ix->table != table || ix->column != column || q->mode != mode || q->n_keys != n_keys)
        return false;
    for (int i = 0; i < n_keys; i++)
        if (q->keys[i].column != keys[i].column || q->keys[i].relation != keys[i].relation)
            return false;
    return true;
}

/* Part the keys into those that the index LIKE will answer and the others. */
static void part_keys(struct query *q, struct index *like)
{
    q->others = base_alloc((size_t)q->n_keys * sizeof *q->others);
    for (int i = 0; i < q->n_keys; i++) {
        if (q->keys[i].relation == TABLE_EQUAL && like->n_equal < MOST_EQUAL) {
            q->equal[like->n_equal] = i;
            like->equal[like->n_equal++] = q->keys[i].column;
        } else {
            q->others[q->n_others++] = i;
        }
    }
}

int table_query(struct table_set *s, int table, int column, enum table_mode mode,
                const struct table_key *keys, int n_keys)
{
    const struct table *t = s->tables.at[table];
    assert(column >= 0 || mode == TABLE_COUNT);
    assert(mode == TABLE_LISTED || mode == TABLE_COUNT || !column_is_text(t, column));
    for (size_t i = 0; i < s->queries.count; i++)
        if (same_query(s, s->queries.at[i], table, column, mode, keys, n_keys))
            return (int)i;
    struct query *q = base_alloc(sizeof *q);
    struct index like = {.table = table, .column = column};
    q->mode = mode;
    q->n_keys = n_keys;
    q->keys = base_alloc((size_t)n_keys * sizeof *keys);
    for (int i = 0; i < n_keys; i++) {
        q->keys[i] = keys[i];
        assert(keys[i].relation <= TABLE_UNEQUAL || !column_is_text(t, keys[i].column));
    }
    part_keys(q, &like);
    q->index = index_for(s, &like);
    base_vec_push(&s->queries, q);
    return (int)s->queries.count - 1;
}

void query_free(struct query *q)
{
    free(q->keys);
    free(q->others);
    free(q);
}

/* ---- running ---------------------------------------------------------------------- */

static bool run_has_key(const struct table *t, const struct index *ix, const struct query *q,
                        const struct run *run, const double *values)
{
    int row = ix->order[run->start];
    for (int i = 0; i < ix->n_equal; i++)
        if (cell_key_number(t, row, ix->equal[i]) != key_number(t, ix->equal[i], values[q->equal[i]]))
            return false;
    return true;
}

struct run query_run(const struct table_set *s, const struct query *q, const double *values)
{
    const struct index *ix = s->indexes.at[q->index];
    const struct table *t = s->tables.at[ix->table];
    uint64_t hash = 0;
    for (int i = 0; i < ix->n_equal; i++) {
        int number = key_number(t, ix->equal[i], values[q->equal[i]]);
        if (number < 0)
            return (struct run){0};
        hash = mix(hash, number);
    }
    for (int at = home(ix, hash); ix->cells[at]; at = (at + 1) & (ix->room - 1)) {
        const struct run *run = &ix->runs.at[ix->cells[at] - 1];
        if (run_has_key(t, ix, q, run, values))
            return *run;
    }
    return (struct run){0};
}

bool query_fits(const struct table *t, const struct query *q, int row, const double *values)
{
    for (int i = 0; i < q->n_others; i++)
        if (!cell_relates(t, row, &q->keys[q->others[i]], values[q->others[i]]))
            return false;
    return true;
}

/* One running: the filled rows of the run come first and in the order of their numbers. */
struct walk {
    const struct table *t;
    const struct query *q;
    const int *order;
    const double *values;
    struct run run;
    int column;
};

static double number_at(const struct walk *w, int i) { return cell_at(w->t, w->order[i], w->column)->number; }

static bool fits_at(const struct walk *w, int i) { return query_fits(w->t, w->q, w->order[i], w->values); }

/* The place of the first filled row whose number is at least LEAST; the end when none is. */
static int place_of(const struct walk *w, double least)
{
    int low = w->run.start, high = w->run.start + w->run.filled;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (number_at(w, middle) >= least)
            high = middle;
        else
            low = middle + 1;
    }
    return low;
}

static int first_fitting(const struct walk *w, int from)
{
    int end = w->run.start + w->run.filled;
    while (from < end && !fits_at(w, from))
        from++;
    return from < end ? from : -1;
}

static int last_fitting(const struct walk *w, int from)
{
    while (from >= w->run.start && !fits_at(w, from))
        from--;
    return from >= w->run.start ? from : -1;
}

static enum table_result pick(const struct walk *w, double need, double *out, int *row)
{
    double slack = forgiveness(w->t->spec.columns[w->column].dim, need);
    int over = -1, under = -1;
    if (isnan(need))
        return TABLE_NO_ROW;
    if (w->q->mode != TABLE_UNDER)
        over = first_fitting(w, place_of(w, w->q->mode == TABLE_NEAR ? need : need - slack));
    if (w->q->mode == TABLE_UNDER)
        under = last_fitting(w, place_of(w, nextafter(need + slack, INFINITY)) - 1);
    if (w->q->mode == TABLE_NEAR)
        under = last_fitting(w, place_of(w, need) - 1);
    int at = over < 0 ? under : over;
    if (over >= 0 && under >= 0)
        at = number_at(w, over) - need <= need - number_at(w, under) + slack ? over : under;
    if (at < 0)
        return TABLE_NO_ROW;
    *out = number_at(w, at);
    *row = w->order[at];
    return TABLE_FOUND;
}

bool same_value(const struct table *t, int column, int a, int b)
{
    const struct table_cell *x = cell_at(t, a, column), *y = cell_at(t, b, column);
    if (x->empty || y->empty)
        return x->empty == y->empty;
    if (column_is_text(t, column))
        return x->text == y->text;
    return fabs(x->number - y->number) <= forgiveness(t->spec.columns[column].dim, x->number);
}

static enum table_result only(const struct walk *w, double *out, int *row)
{
    int found = -1;
    for (int i = w->run.start; i < w->run.start + w->run.count; i++) {
        if (!fits_at(w, i))
            continue;
        if (found < 0)
            found = w->order[i];
        else if (!same_value(w->t, w->column, found, w->order[i]))
            return TABLE_SEVERAL;
    }
    if (found < 0)
        return TABLE_NO_ROW;
    const struct table_cell *cell = cell_at(w->t, found, w->column);
    *row = found;
    *out = column_is_text(w->t, w->column) ? cell->text : cell->number;
    return cell->empty ? TABLE_EMPTY_CELL : TABLE_FOUND;
}

static enum table_result gather(const struct walk *w, double *out, int *row)
{
    int count = 0, first = -1, last = -1, empty = -1;
    double total = 0;
    for (int i = w->run.start; i < w->run.start + w->run.count; i++) {
        if (!fits_at(w, i))
            continue;
        count++;
        if (i >= w->run.start + w->run.filled) {
            empty = w->order[i];
            continue;
        }
        first = first < 0 ? i : first;
        last = i;
        if (w->q->mode == TABLE_TOTAL)
            total += number_at(w, i);
    }
    *out = w->q->mode == TABLE_COUNT ? count : total;
    if (w->q->mode == TABLE_COUNT)
        return TABLE_FOUND;
    if (empty >= 0) {
        *row = empty;
        return TABLE_EMPTY_CELL;
    }
    if (w->q->mode == TABLE_TOTAL)
        return TABLE_FOUND;
    int at = w->q->mode == TABLE_LARGEST ? last : first;
    if (at < 0)
        return TABLE_NO_ROW;
    *out = number_at(w, at);
    *row = w->order[at];
    return TABLE_FOUND;
}

enum table_result table_run(const struct table_set *s, int query, const double *values, double *out, int *row)
{
    const struct query *q = s->queries.at[query];
    const struct index *ix = s->indexes.at[q->index];
    int ignored;
    row = row ? row : &ignored;
    *row = -1;
    *out = 0;
    struct walk w = {s->tables.at[ix->table], q, ix->order, values, query_run(s, q, values), ix->column};
    switch (q->mode) {
    case TABLE_LISTED: return only(&w, out, row);
    case TABLE_OVER:
    case TABLE_UNDER:
    case TABLE_NEAR: return pick(&w, values[q->n_keys], out, row);
    case TABLE_TOTAL:
    case TABLE_LARGEST:
    case TABLE_SMALLEST:
    case TABLE_COUNT: return gather(&w, out, row);
    }
    return TABLE_NO_ROW;
}

int table_candidates(const struct table_set *s, int query, const double *values, const int **rows)
{
    const struct query *q = s->queries.at[query];
    struct run run = query_run(s, q, values);
    *rows = s->indexes.at[q->index]->order + run.start;
    return run.count;
}

int table_query_table(const struct table_set *s, int query, int *column)
{
    const struct index *ix = s->indexes.at[s->queries.at[query]->index];
    if (column)
        *column = ix->column;
    return ix->table;
}
