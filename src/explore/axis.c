/* axis.c - what runs: a value from here to there by a step, over a list of values, or over the rows of its
 * table; or several values at once, a row of them a point */

#include "explore/explore.h"

#include "diewright/record.h"
#include "diewright/table.h"

#include <stdlib.h>
#include <string.h>

/* A value of a list or a row: what is typed, and where it stands along the run. */
static void add_point(struct explore_axis *a, const char *text, double at)
{
    a->texts[a->ask.n_points] = base_arena_copy(&a->memory, text);
    a->points[a->ask.n_points++] = at;
}

static void make_room(struct explore_axis *a, size_t n)
{
    a->texts = base_arena_alloc(&a->memory, (n + 1) * sizeof *a->texts);
    a->points = base_arena_alloc(&a->memory, (n + 1) * sizeof *a->points);
    a->ask.texts = a->texts;
    a->ask.points = a->points;
}

static enum base_err read_rows(struct dieset *d, struct explore_axis *a, const char *path,
                               struct base_diag *why)
{
    struct explore_sizes s;
    if (!explore_sizes(d, a->ask.quantity, DIESET_NEW, &s))
        return base_fail(why, BASE_REFUSED,
                         "No parts table stands behind %s: tell a range, or values parted by commas.", path);
    bool number = dieset_quantity(d, a->ask.quantity)->type.type.sort == FORMULA_NUMBER;
    make_room(a, s.at.count);
    for (size_t i = 0; i < s.at.count && i < EXPLORE_MOST; i++)
        add_point(a, s.at.at[i].text, number ? s.at.at[i].number : (double)i);
    explore_sizes_done(&s);
    return a->ask.n_points ? BASE_OK : base_fail(why, BASE_REFUSED, "No row of the table serves %s.", path);
}

/* Values as people type them, parted by commas; a number stands where it is, anything else in its turn. */
static enum base_err read_list(struct dieset *d, struct explore_axis *a, const char *path, const char *list,
                               struct base_diag *why)
{
    char *text = base_copy(list), *place = NULL;
    enum base_err err = BASE_OK;
    bool number = dieset_quantity(d, a->ask.quantity)->type.type.sort == FORMULA_NUMBER;
    make_room(a, strlen(list));
    for (char *one = strtok_r(text, ",", &place); one && !err; one = strtok_r(NULL, ",", &place)) {
        char *whole = dieset_complete(d, path, one);
        double at = a->ask.n_points;
        err = number ? explore_number(d, a->ask.quantity, "value", one, &at, why) : BASE_OK;
        if (!err && a->ask.n_points && number && at <= a->points[a->ask.n_points - 1])
            err = base_fail(why, BASE_REFUSED, "Values of a list ascend; %s does not.", one);
        add_point(a, whole, at);
        free(whole);
    }
    free(text);
    return !err && !a->ask.n_points ? base_fail(why, BASE_REFUSED, "The list of %s is empty.", path) : err;
}

enum base_err explore_axis_read(struct dieset *d, const char *const *words, int n, struct explore_axis *out,
                                struct base_diag *why)
{
    *out = (struct explore_axis){0};
    if (n == 4)
        return explore_read(d, words[0], words[1], words[2], words[3], &out->ask, why);
    if (n != 2)
        return base_fail(
            why, BASE_REFUSED,
            "What runs is NAME FROM TO STEP, NAME listed, or NAME and values parted by commas.");
    enum base_err err = dieset_named(d, words[0], &out->ask.quantity, why);
    if (!err && !dieset_quantity(d, out->ask.quantity)->can_type)
        err = base_fail(why, BASE_REFUSED, "%s follows from other values and cannot be typed.", words[0]);
    if (err)
        return err;
    return strcmp(words[1], "listed") == 0 ? read_rows(d, out, words[0], why)
                                           : read_list(d, out, words[0], words[1], why);
}

enum base_err explore_axis_text(struct dieset *d, const char *text, struct explore_axis *out,
                                struct base_diag *why)
{
    enum { WORDS = 5, LONG = 200 };
    char words[WORDS][LONG];
    const char *at[WORDS];
    int n = 0;
    for (; *text && n < WORDS; n++) {
        text = record_word(text, words[n], LONG);
        at[n] = words[n];
    }
    return explore_axis_read(d, at, n, out, why);
}

/* ---- variants ----------------------------------------------------------------------------------------- */

static const char name_column[] = "variant";

/* A file of variants while it is read. */
struct variants {
    struct dieset *d;
    struct explore_axis *axis;
    const char *file;
    int name, n_values;   /* column of the names, -1: none; columns of values */
    int column[EXPLORE_VALUES], quantity[EXPLORE_VALUES];
    BASE_VEC(const char *) names, cells; /* of a row after the other, N_VALUES each */
    enum base_err err;
    struct base_diag *why;
};

static void refuse(struct variants *v, int line, const char *fmt, const char *word)
{
    struct base_text text = {0};
    base_text_addf(&text, fmt, word);
    v->err = base_fail(v->why, BASE_REFUSED, "%s", base_text_get(&text));
    base_diag_place(v->why, v->file, line);
    base_text_done(&text);
}

/* Which column is which value. */
static void read_head(struct variants *v, const char *const *names, int n)
{
    v->name = -1;
    for (int i = 0; i < n && !v->err; i++) {
        int q;
        if (strcmp(names[i], name_column) == 0) {
            v->name = i;
            continue;
        }
        v->err = dieset_named(v->d, names[i], &q, v->why);
        if (v->err)
            base_diag_place(v->why, v->file, 1);
        else if (!dieset_quantity(v->d, q)->can_type)
            refuse(v, 1, "%s follows from other values and cannot be typed.", names[i]);
        else if (v->n_values == EXPLORE_VALUES)
            refuse(v, 1, "From %s on there are more values than a variant can type.", names[i]);
        for (int k = 0; k < v->n_values && !v->err; k++)
            if (v->quantity[k] == q)
                refuse(v, 1, "%s has two columns.", names[i]);
        if (v->err)
            return;
        v->column[v->n_values] = i;
        v->quantity[v->n_values++] = q;
    }
    if (!v->err && !v->n_values)
        refuse(v, 1, "No column is named after a value%s.", "");
}

static void read_variant(void *arg, int line, const char *const *names, const char *const *cells, int n)
{
    struct variants *v = arg;
    struct base_arena *memory = &v->axis->memory;
    struct base_text called = {0};
    if (!v->n_values && !v->err)
        read_head(v, names, n);
    if (!v->err && v->names.count == EXPLORE_MOST)
        refuse(v, line, "There are more rows than a run has points%s.", "");
    for (int k = 0; k < v->n_values && !v->err; k++) {
        const char *cell = cells[v->column[k]];
        char *whole = *cell ? dieset_complete(v->d, dieset_quantity(v->d, v->quantity[k])->path, cell)
                            : base_copy("");
        base_vec_push(&v->cells, base_arena_copy(memory, whole));
        base_text_addf(&called, "%s%s", k ? ", " : "", *cell ? cell : "-");
        free(whole);
    }
    const char *name = v->name >= 0 && *cells[v->name] ? cells[v->name] : base_text_get(&called);
    for (size_t i = 0; i < v->names.count && !v->err; i++)
        if (strcmp(v->names.at[i], name) == 0)
            refuse(v, line, "Two variants are called %s.", name);
    if (!v->err)
        base_vec_push(&v->names, base_arena_copy(memory, name));
    base_text_done(&called);
}

/* Column K of the cells as a list of its own. */
static const char **column_of(const struct variants *v, int k)
{
    const char **texts = base_arena_alloc(&v->axis->memory, (v->names.count + 1) * sizeof *texts);
    for (size_t i = 0; i < v->names.count; i++)
        texts[i] = v->cells.at[i * (size_t)v->n_values + (size_t)k];
    return texts;
}

static void make_rows(struct variants *v)
{
    struct explore_axis *a = v->axis;
    struct explore_also *also = base_arena_alloc(&a->memory, (size_t)v->n_values * sizeof *also);
    const char **names = base_arena_alloc(&a->memory, (v->names.count + 1) * sizeof *names);
    make_room(a, v->names.count);
    a->ask.quantity = v->quantity[0];
    a->ask.n_points = (int)v->names.count;
    a->ask.texts = column_of(v, 0);
    for (size_t i = 0; i < v->names.count; i++) {
        names[i] = v->names.at[i];
        a->points[i] = (double)i;
    }
    for (int k = 1; k < v->n_values; k++)
        also[k - 1] = (struct explore_also){v->quantity[k], column_of(v, k)};
    a->ask.names = names;
    a->ask.also = also;
    a->ask.n_also = v->n_values - 1;
}

enum base_err explore_axis_rows(struct dieset *d, const char *file, const char *csv, size_t length,
                                struct explore_axis *out, struct base_diag *why)
{
    struct variants v = {.d = d, .axis = out, .file = file, .why = why};
    *out = (struct explore_axis){0};
    enum base_err err = table_each_row(file, csv, length, read_variant, &v, why);
    err = err ? err : v.err;
    if (!err)
        make_rows(&v);
    base_vec_done(&v.names);
    base_vec_done(&v.cells);
    return err;
}

void explore_axis_done(struct explore_axis *a) { base_arena_done(&a->memory); }
