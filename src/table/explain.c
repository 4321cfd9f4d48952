/* Why a query found nothing or several, in one plain sentence.
 *
 * A query that finds no row has, as a rule, one key that spoils it: the rows that meet all
 * the others are there. That key is named, with the values of its column that came nearest.
 */

#include "table/set.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct telling {
    const struct table_set *s;
    const struct table *t;
    const struct query *q;
    int column;
    const double *values;
    struct unit_system system;
    struct base_text *out;
};

enum { ALL_KEYS = -1 };

/* ---- words ------------------------------------------------------------------ */

static void say_value(const struct telling *e, int column, double value)
{
    const struct table_column_spec *col = &e->t->spec.columns[column];
    char buf[80];
    if (col->is_text)
        base_text_addf(e->out, "\"%s\"", base_pool_text(e->s->pool, (int)value));
    else
        base_text_add(e->out, unit_print(value, col->dim, e->system, buf, sizeof buf));
}

static void say_key(const struct telling *e, int key)
{
    static const char *const signs[] = {
        [TABLE_EQUAL] = "=", [TABLE_UNEQUAL] = "!=", [TABLE_LESS] = "<",
        [TABLE_AT_MOST] = "<=", [TABLE_MORE] = ">", [TABLE_AT_LEAST] = ">=",
    };
    const struct table_key *k = &e->q->keys[key];
    base_text_addf(e->out, "%s %s ", e->t->spec.columns[k->column].name, signs[k->relation]);
    say_value(e, k->column, e->values[key]);
}

/* " (diameter = 32 mm, load = "heavy")", without the key BUT; nothing when no key is left. */
static void say_keys(const struct telling *e, int but)
{
    bool open = false;
    for (int i = 0; i < e->q->n_keys; i++) {
        if (i == but)
            continue;
        base_text_add(e->out, open ? ", " : " (");
        say_key(e, i);
        open = true;
    }
    if (open)
        base_text_add(e->out, ")");
}

static const char *column_name(const struct telling *e) { return e->t->spec.columns[e->column].name; }

/* ---- rows --------------------------------------------------------------------- */

static bool meets(const struct telling *e, int row, int key)
{
    return cell_relates(e->t, row, &e->q->keys[key], e->values[key]);
}

/* The row meets every key, or every key but BUT. */
static bool meets_all(const struct telling *e, int row, int but)
{
    for (int i = 0; i < e->q->n_keys; i++)
        if (i != but && !meets(e, row, i))
            return false;
    return true;
}

static int count_meeting(const struct telling *e, int but)
{
    int n = 0;
    for (int row = 0; row < e->t->rows; row++)
        n += meets_all(e, row, but);
    return n;
}

static bool met_somewhere(const struct telling *e, int key)
{
    for (int row = 0; row < e->t->rows; row++)
        if (meets(e, row, key))
            return true;
    return false;
}

/* The filled numbers of COLUMN nearest to VALUE on either side, among the rows that meet all
 * keys but BUT; the nearest is NAN on a side that has none. */
static void nearest_numbers(const struct telling *e, int column, double value, int but,
                            double *under, double *over)
{
    *under = *over = NAN;
    for (int row = 0; row < e->t->rows; row++) {
        const struct table_cell *cell = cell_at(e->t, row, column);
        if (cell->empty || !meets_all(e, row, but))
            continue;
        if (cell->number <= value && !(cell->number <= *under))
            *under = cell->number;
        if (cell->number >= value && !(cell->number >= *over))
            *over = cell->number;
    }
}

/* ---- the key that spoils it ------------------------------------------------------ */

/* The key without which rows are left: first one that no row of the table meets, else the
 * last; ALL_KEYS when no single key is to blame. */
static int spoiling_key(const struct telling *e)
{
    int found = ALL_KEYS;
    for (int i = 0; i < e->q->n_keys; i++) {
        if (count_meeting(e, i) == 0)
            continue;
        found = i;
        if (!met_somewhere(e, i))
            break;
    }
    return found;
}

static void say_near_numbers(const struct telling *e, int key)
{
    int column = e->q->keys[key].column;
    double under, over;
    nearest_numbers(e, column, e->values[key], key, &under, &over);
    if (isnan(under) && isnan(over))
        return;
    base_text_add(e->out, ": there is ");
    if (!isnan(under))
        say_value(e, column, under);
    if (!isnan(under) && !isnan(over))
        base_text_add(e->out, " and ");
    if (!isnan(over))
        say_value(e, column, over);
}

static void say_near_texts(const struct telling *e, int key)
{
    int column = e->q->keys[key].column;
    struct base_map seen = {0};
    BASE_VEC(const char *) texts = {0};
    for (int row = 0; row < e->t->rows; row++) {
        const struct table_cell *cell = cell_at(e->t, row, column);
        const char *text = base_pool_text(e->s->pool, cell->text);
        if (cell->empty || !meets_all(e, row, key) || base_map_get(&seen, text, NULL))
            continue;
        base_map_put(&seen, text, 1);
        base_vec_push(&texts, text);
    }
    struct base_text near = {0};
    enum { FEW = 6 };
    base_nearest(&near, base_pool_text(e->s->pool, (int)e->values[key]), texts.at, texts.count);
    if (near.length == 0 && texts.count <= FEW)
        for (size_t i = 0; i < texts.count; i++)
            base_text_addf(&near, "%s%s", i == 0 ? "" : i + 1 == texts.count ? " and " : ", ", texts.at[i]);
    if (near.length)
        base_text_addf(e->out, ": there is %s", base_text_get(&near));
    base_text_done(&near);
    base_vec_done(&texts);
    base_map_done(&seen);
}

/* The end of the column that KEY's relation reaches for: its largest or smallest number. */
static void say_end(const struct telling *e, int key, bool largest)
{
    int column = e->q->keys[key].column;
    double under, over;
    nearest_numbers(e, column, largest ? INFINITY : -INFINITY, key, &under, &over);
    double end = largest ? under : over;
    if (isnan(end))
        return;
    base_text_add(e->out, largest ? ": the largest is " : ": the smallest is ");
    say_value(e, column, end);
}

static void say_spoiling(const struct telling *e, int key)
{
    base_text_addf(e->out, "no row of %s has ", e->t->spec.name);
    say_key(e, key);
    say_keys(e, key);
    switch (e->q->keys[key].relation) {
    case TABLE_EQUAL:
        if (e->t->spec.columns[e->q->keys[key].column].is_text)
            say_near_texts(e, key);
        else
            say_near_numbers(e, key);
        break;
    case TABLE_MORE:
    case TABLE_AT_LEAST: say_end(e, key, true); break;
    case TABLE_LESS:
    case TABLE_AT_MOST: say_end(e, key, false); break;
    case TABLE_UNEQUAL: break;
    }
}

static void say_no_row(const struct telling *e)
{
    int key = spoiling_key(e);
    if (key != ALL_KEYS) {
        say_spoiling(e, key);
        return;
    }
    base_text_addf(e->out, "no row of %s fits", e->t->spec.name);
    say_keys(e, ALL_KEYS);
}

/* ---- no size reaches, several rows, an empty cell ----------------------------------- */

static void say_no_size(const struct telling *e)
{
    bool under = e->q->mode == TABLE_UNDER;
    bool is_length = unit_same(e->t->spec.columns[e->column].dim, UNIT_LENGTH)
                  && strstr(column_name(e), "length") != NULL;
    double smallest, largest, ignored;
    nearest_numbers(e, e->column, -INFINITY, ALL_KEYS, &ignored, &smallest);
    nearest_numbers(e, e->column, INFINITY, ALL_KEYS, &largest, &ignored);
    base_text_addf(e->out, "no %s of %s ", column_name(e), e->t->spec.name);
    if (isnan(smallest)) {
        base_text_add(e->out, "is filled in");
        say_keys(e, ALL_KEYS);
        return;
    }
    base_text_add(e->out, under ? "is as small as " : "reaches ");
    say_value(e, e->column, e->values[e->q->n_keys]);
    say_keys(e, ALL_KEYS);
    base_text_addf(e->out, ": the %s is ",
                   under ? (is_length ? "shortest" : "smallest") : (is_length ? "longest" : "largest"));
    say_value(e, e->column, under ? smallest : largest);
}

static double cell_value(const struct telling *e, int row)
{
    const struct table_cell *cell = cell_at(e->t, row, e->column);
    return e->t->spec.columns[e->column].is_text ? cell->text : cell->number;
}

/* Up to three of the values that differ. */
static void say_several(const struct telling *e)
{
    enum { SHOWN = 3 };
    int rows[SHOWN + 1], n = 0;
    for (int row = 0; row < e->t->rows && n <= SHOWN; row++) {
        bool is_new = meets_all(e, row, ALL_KEYS);
        for (int i = 0; i < n && is_new; i++)
            is_new = !same_value(e->t, e->column, row, rows[i]);
        if (is_new)
            rows[n++] = row;
    }
    base_text_addf(e->out, "%d rows of %s fit", count_meeting(e, ALL_KEYS), e->t->spec.name);
    say_keys(e, ALL_KEYS);
    base_text_addf(e->out, " and differ in %s: ", column_name(e));
    for (int i = 0; i < n && i < SHOWN; i++) {
        base_text_add(e->out, i == 0 ? "" : i + 1 == n ? " and " : ", ");
        if (cell_at(e->t, rows[i], e->column)->empty)
            base_text_add(e->out, "not filled in");
        else
            say_value(e, e->column, cell_value(e, rows[i]));
    }
    if (n > SHOWN)
        base_text_add(e->out, " and others");
}

static void say_empty(const struct telling *e, int table, int row)
{
    const char *file, *raw = base_pool_text(e->s->pool, cell_at(e->t, row, e->column)->text);
    int line;
    table_row_place(e->s, table, row, &file, &line);
    base_text_addf(e->out, "%s of %s is not filled in", column_name(e), e->t->spec.name);
    say_keys(e, ALL_KEYS);
    base_text_addf(e->out, ": %s, line %d", file, line);
    if (*raw)
        base_text_addf(e->out, ", has \"%s\" there", raw);
}

static void say_found(const struct telling *e, double value, int row)
{
    if (e->column < 0 || e->q->mode == TABLE_COUNT) {
        base_text_addf(e->out, "%.0f rows of %s fit", value, e->t->spec.name);
        say_keys(e, ALL_KEYS);
        return;
    }
    base_text_addf(e->out, "%s%s of %s", row < 0 ? "the total of " : "", column_name(e), e->t->spec.name);
    say_keys(e, ALL_KEYS);
    base_text_add(e->out, " is ");
    say_value(e, e->column, value);
}

void table_explain(const struct table_set *s, int query, const double *values,
                   struct unit_system system, struct base_text *out)
{
    int column, row, table = table_query_table(s, query, &column);
    struct telling e = {s, s->tables.at[table], s->queries.at[query], column, values, system, out};
    double value;
    switch (table_run(s, query, values, &value, &row)) {
    case TABLE_FOUND: say_found(&e, value, row); break;
    case TABLE_SEVERAL: say_several(&e); break;
    case TABLE_EMPTY_CELL: say_empty(&e, table, row); break;
    case TABLE_NO_ROW:
        if (count_meeting(&e, ALL_KEYS) > 0)
            say_no_size(&e);
        else
            say_no_row(&e);
        break;
    }
}
