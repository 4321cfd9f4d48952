/* Files and the tables declared over them. */

#include "table/set.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "table/cell.h"

/* ---- files ----------------------------------------------------------------- */

static void file_free(struct file *f)
{
    csv_done(&f->text);
    free(f->name);
    free(f->csv);
    free(f->title);
    free(f->standard);
    free(f->source);
    free(f->note);
    free(f->spread);
    free(f);
}

/* What the remarks "key: words" say under KEY, joined by blanks; yours to free(). */
static char *remarks_of(const struct csv *c, const char *key)
{
    struct base_text out = {0};
    size_t n = strlen(key);
    for (size_t i = 0; i < c->remarks.count; i++) {
        const char *remark = c->remarks.at[i];
        if (strncmp(remark, key, n) != 0 || remark[n] != ':')
            continue;
        const char *words = remark + n + 1 + strspn(remark + n + 1, " ");
        base_text_addf(&out, "%s%s", out.length ? " " : "", words);
    }
    return base_text_take(&out);
}

static void read_remarks(struct file *f)
{
    const struct csv *c = &f->text;
    f->title = remarks_of(c, "title");
    f->standard = remarks_of(c, "standard");
    f->source = remarks_of(c, "source");
    f->note = remarks_of(c, "note");
    f->spread = remarks_of(c, "spread");
    char *confidence = remarks_of(c, "confidence");
    f->confidence = cell_confidence(confidence);
    free(confidence);
    f->confidence_column = csv_column(c, "confidence");
    if (f->confidence_column < 0)
        f->confidence_column = csv_column(c, "status");
    f->source_column = csv_column(c, "source");
    f->standard_column = csv_column(c, "standard");
}

static int find_file(const struct table_set *s, const char *name)
{
    for (size_t i = 0; i < s->files.count; i++)
        if (!s->files.at[i]->own && strcmp(s->files.at[i]->name, name) == 0)
            return (int)i;
    return -1;
}

enum base_err set_add_file(struct table_set *s, const char *file, const char *csv, size_t length,
                           const char *own, struct base_diag *why)
{
    struct csv text;
    enum base_err err = csv_read(&text, file, csv, length, why);
    if (err)
        return err;
    struct file *f = base_alloc(sizeof *f);
    f->name = base_copy(file);
    f->csv = base_copy_n(csv, length);
    f->own = own;
    f->length = length;
    f->checksum = base_hash(csv, length);
    f->text = text;
    read_remarks(f);
    base_vec_push(&s->files, f);
    return BASE_OK;
}

enum base_err table_set_file(struct table_set *s, const char *file, const char *csv, size_t length,
                             struct base_diag *why)
{
    if (find_file(s, file) >= 0)
        return base_fail(why, BASE_REFUSED, "The file %s is here already.", file);
    return set_add_file(s, file, csv, length, NULL, why);
}

int table_file_count(const struct table_set *s) { return (int)s->files.count; }

void table_file(const struct table_set *s, int i, const char **name, const char **csv,
                size_t *length, uint64_t *checksum)
{
    const struct file *f = s->files.at[i];
    if (name)
        *name = f->name;
    if (csv)
        *csv = f->csv;
    if (length)
        *length = f->length;
    if (checksum)
        *checksum = f->checksum;
}

/* ---- the set ---------------------------------------------------------------- */

struct table_set *table_set_new(struct base_pool *pool)
{
    struct table_set *s = base_alloc(sizeof *s);
    s->pool = pool;
    return s;
}

static void table_free(struct table *t)
{
    for (int i = 0; t->levels && i < t->spec.n_columns; i++)
        free(t->levels[i].at);
    free(t->levels);
    free(t->file_names);
    free(t->files);
    free(t->places);
    free(t->cells);
    free(t->origins);
    free(t->standard);
    free(t->title);
    free(t->note);
    free(t);
}

void table_set_free(struct table_set *s)
{
    if (!s)
        return;
    for (size_t i = 0; i < s->queries.count; i++)
        query_free(s->queries.at[i]);
    for (size_t i = 0; i < s->indexes.count; i++)
        index_free(s->indexes.at[i]);
    for (size_t i = 0; i < s->tables.count; i++)
        table_free(s->tables.at[i]);
    for (size_t i = 0; i < s->files.count; i++)
        file_free(s->files.at[i]);
    base_vec_done(&s->queries);
    base_vec_done(&s->indexes);
    base_vec_done(&s->tables);
    base_vec_done(&s->files);
    free(s);
}

const struct base_pool *table_pool(const struct table_set *s) { return s->pool; }

/* ---- declaring: where the columns are ---------------------------------------- */

static struct place *place_at(const struct table *t, int file, int column)
{
    return &t->places[file * t->spec.n_columns + column];
}

/* The confidence column of one column: "lengths_mm" has "lengths_confidence". */
static int confidence_beside(const struct csv *c, const char *name, size_t without_unit)
{
    char *beside = base_format("%.*s_confidence", (int)without_unit, name);
    int column = csv_column(c, beside);
    free(beside);
    return column;
}

/* Look for column COL of T in one file. A name whose unit is of another dimension is refused. */
static enum base_err find_place(const struct table *t, const struct file *f,
                                const struct table_column_spec *col, struct place *out,
                                struct base_diag *why)
{
    *out = (struct place){-1, -1, 1};
    for (int i = 0; i < col->n_from && !f->own && out->column < 0; i++)
        out->column = csv_column(&f->text, col->from[i]);
    for (int i = 0; f->own && i < f->text.columns && out->column < 0; i++)
        if (own_column(&t->spec, csv_column_name(&f->text, i)) == (int)(col - t->spec.columns))
            out->column = i;
    if (out->column < 0)
        return BASE_OK;
    const char *name = csv_column_name(&f->text, out->column);
    struct unit_dim dim;
    size_t without_unit = cell_column_unit(name, &dim, &out->factor);
    out->confidence_column = confidence_beside(&f->text, name, without_unit);
    if (col->is_text || unit_same(dim, col->dim))
        return BASE_OK;
    char wanted[80], found[80];
    base_fail(why, BASE_REFUSED, "Table %s: %s is to be %s, but %s at the end of its name gives %s.",
              t->spec.name, name, unit_dim_name(col->dim, wanted, sizeof wanted),
              name[without_unit] ? name + without_unit + 1 : "no unit",
              unit_dim_name(dim, found, sizeof found));
    base_diag_place(why, f->name, f->text.lines.at[0]);
    return BASE_REFUSED;
}

static enum base_err refuse_missing(const struct table_set *s, const struct table *t, int column,
                                    struct base_diag *why)
{
    const struct table_column_spec *col = &t->spec.columns[column];
    const struct csv *c = &s->files.at[t->files[0]]->text;
    const char *wanted = col->n_from ? col->from[0] : col->name;
    struct base_text near = {0};
    base_nearest(&near, wanted, c->cells.at, (size_t)c->columns);
    base_fail(why, BASE_UNKNOWN, "Table %s: no file has a column %s%s%s.", t->spec.name, wanted,
              near.length ? "; there is " : "", base_text_get(&near));
    base_text_done(&near);
    return BASE_UNKNOWN;
}

static enum base_err find_places(struct table_set *s, struct table *t, struct base_diag *why)
{
    int n = t->spec.n_columns;
    t->places = base_alloc((size_t)(t->spec.n_files * n) * sizeof *t->places);
    for (int c = 0; c < n; c++) {
        bool found = false;
        for (int f = 0; f < t->spec.n_files; f++) {
            enum base_err err = find_place(t, s->files.at[t->files[f]], &t->spec.columns[c],
                                           place_at(t, f, c), why);
            if (err)
                return err;
            found = found || (place_at(t, f, c)->column >= 0 && !s->files.at[t->files[f]]->own);
        }
        if (!found)
            return refuse_missing(s, t, c, why);
    }
    return BASE_OK;
}

static bool is_own_of(const struct file *f, const struct table *t)
{
    return f->own && strcmp(f->own, t->spec.name) == 0;
}

/* The files of the spec, and behind them the own ones of the table. */
static enum base_err find_files(struct table_set *s, struct table *t, struct base_diag *why)
{
    size_t room = (size_t)t->spec.n_files + s->files.count;
    int n = 0;
    t->files = base_alloc(room * sizeof *t->files);
    t->file_names = base_alloc(room * sizeof *t->file_names);
    for (int f = 0; f < t->spec.n_files; f++) {
        t->files[n] = find_file(s, t->spec.files[f]);
        if (t->files[n] < 0)
            return base_fail(why, BASE_UNKNOWN, "Table %s: the file %s is not there.", t->spec.name,
                             t->spec.files[f]);
        t->file_names[n++] = t->spec.files[f];
    }
    for (size_t i = 0; i < s->files.count; i++)
        if (is_own_of(s->files.at[i], t)) {
            t->files[n] = (int)i;
            t->file_names[n++] = s->files.at[i]->name;
        }
    t->spec.files = t->file_names;
    t->spec.n_files = n;
    return BASE_OK;
}

static enum base_err check_spec(const struct table_set *s, const struct table_spec *spec,
                                struct base_diag *why)
{
    if (table_find(s, spec->name) >= 0)
        return base_fail(why, BASE_REFUSED, "Two tables are named %s.", spec->name);
    if (spec->n_files == 0 || spec->n_columns == 0)
        return base_fail(why, BASE_REFUSED, "Table %s names no %s.", spec->name,
                         spec->n_files ? "column" : "file");
    int lists = 0;
    for (int c = 0; c < spec->n_columns; c++) {
        lists += spec->columns[c].each;
        for (int d = 0; d < c; d++)
            if (strcmp(spec->columns[c].name, spec->columns[d].name) == 0)
                return base_fail(why, BASE_REFUSED, "Table %s has two columns named %s.", spec->name,
                                 spec->columns[c].name);
    }
    if (lists > 1)
        return base_fail(why, BASE_REFUSED, "Table %s: only one column may say each.", spec->name);
    return BASE_OK;
}

/* ---- declaring: the rows -------------------------------------------------------- */

struct rows { BASE_VEC(struct table_cell) cells; BASE_VEC(struct origin) origins; };

static struct table_cell read_cell(struct table_set *s, const struct table_column_spec *col,
                                   const struct place *p, const char *text)
{
    struct table_cell cell = {.text = base_pool_put(s->pool, text)};
    if (col->is_text)
        cell.empty = !*text;
    else if (cell_read_number(text, &cell.number))
        cell.number *= p->factor;
    else
        cell = (struct table_cell){.text = cell.text, .empty = true};
    return cell;
}

/* Add the row of one line; the column LIST, when there is one, reads LISTED. */
static void add_row(struct table_set *s, const struct table *t, int file, int row, int list,
                    const char *listed, struct rows *out)
{
    const struct csv *c = &s->files.at[t->files[file]]->text;
    base_vec_push(&out->origins, ((struct origin){file, row}));
    for (int i = 0; i < t->spec.n_columns; i++) {
        const struct place *p = place_at(t, file, i);
        const char *none = t->spec.columns[i].otherwise ? t->spec.columns[i].otherwise : "",
                   *text = i == list ? listed : p->column < 0 ? none : csv_cell(c, row, p->column);
        base_vec_push(&out->cells, read_cell(s, &t->spec.columns[i], p, text));
    }
}

/* One row for each of the values, parted by blanks, in the cell of column LIST. */
static void add_list(struct table_set *s, const struct table *t, int file, int row, int list,
                     struct rows *out)
{
    const struct csv *c = &s->files.at[t->files[file]]->text;
    const char *p = csv_cell(c, row, place_at(t, file, list)->column);
    for (p += strspn(p, " "); *p; p += strspn(p, " ")) {
        size_t n = strcspn(p, " ");
        char *value = base_copy_n(p, n);
        add_row(s, t, file, row, list, value, out);
        free(value);
        p += n;
    }
}

static void read_rows(struct table_set *s, struct table *t)
{
    struct rows rows = {0};
    for (int f = 0; f < t->spec.n_files; f++) {
        int list = -1;
        for (int i = 0; i < t->spec.n_columns; i++)
            if (t->spec.columns[i].each && place_at(t, f, i)->column >= 0)
                list = i;
        int n = csv_rows(&s->files.at[t->files[f]]->text);
        for (int row = 0; row < n; row++)
            if (list < 0)
                add_row(s, t, f, row, -1, NULL, &rows);
            else
                add_list(s, t, f, row, list, &rows);
    }
    t->cells = rows.cells.at;
    t->origins = rows.origins.at;
    t->rows = (int)rows.origins.count;
}

/* Add the words of a file unless they are there. */
static void join(struct base_text *out, const char *words)
{
    if (*words && !strstr(base_text_get(out), words))
        base_text_addf(out, "%s%s", out->length ? "; " : "", words);
}

static void join_remarks(const struct table_set *s, struct table *t)
{
    struct base_text title = {0}, standard = {0}, note = {0};
    for (int i = 0; i < t->spec.n_files; i++) {
        const struct file *f = s->files.at[t->files[i]];
        join(&title, f->title);
        join(&standard, f->standard);
        join(&note, f->note);
    }
    t->title = base_text_take(&title);
    t->standard = base_text_take(&standard);
    t->note = base_text_take(&note);
}

enum base_err table_set_declare(struct table_set *s, const struct table_spec *spec, int *out,
                                struct base_diag *why)
{
    *out = -1;
    enum base_err err = check_spec(s, spec, why);
    if (err)
        return err;
    struct table *t = base_alloc(sizeof *t);
    t->spec = *spec;
    err = find_files(s, t, why);
    if (!err)
        err = find_places(s, t, why);
    for (int f = 0; f < t->spec.n_files && !err; f++)
        if (s->files.at[t->files[f]]->own)
            err = own_check(t, s->files.at[t->files[f]], why);
    if (!err) {
        read_rows(s, t);
        err = own_replace(s, t, why);
    }
    if (err) {
        table_free(t);
        return err;
    }
    t->levels = base_alloc((size_t)spec->n_columns * sizeof *t->levels);
    join_remarks(s, t);
    *out = (int)s->tables.count;
    base_vec_push(&s->tables, t);
    return BASE_OK;
}

/* ---- asking ---------------------------------------------------------------------- */

int table_count(const struct table_set *s) { return (int)s->tables.count; }

int table_find(const struct table_set *s, const char *name)
{
    for (size_t i = 0; i < s->tables.count; i++)
        if (strcmp(s->tables.at[i]->spec.name, name) == 0)
            return (int)i;
    return -1;
}

const struct table_spec *table_spec(const struct table_set *s, int table)
{
    return &s->tables.at[table]->spec;
}

int table_column(const struct table_set *s, int table, const char *name)
{
    const struct table_spec *spec = table_spec(s, table);
    for (int i = 0; i < spec->n_columns; i++)
        if (strcmp(spec->columns[i].name, name) == 0)
            return i;
    return -1;
}

int table_rows(const struct table_set *s, int table) { return s->tables.at[table]->rows; }

const struct table_cell *table_cell(const struct table_set *s, int table, int row, int column)
{
    return cell_at(s->tables.at[table], row, column);
}

static const struct file *file_of(const struct table_set *s, const struct table *t, int row)
{
    return s->files.at[t->files[t->origins[row].file]];
}

/* What column COLUMN of the file says in the line of ROW, "" when there is no such column. */
static const char *beside(const struct table_set *s, const struct table *t, int row, int column)
{
    return column < 0 ? "" : csv_cell(&file_of(s, t, row)->text, t->origins[row].row, column);
}

enum table_confidence table_cell_confidence(const struct table_set *s, int table, int row, int column)
{
    const struct table *t = s->tables.at[table];
    const struct file *f = file_of(s, t, row);
    const char *own = beside(s, t, row, place_at(t, t->origins[row].file, column)->confidence_column);
    const char *line = beside(s, t, row, f->confidence_column);
    return *own ? cell_confidence(own) : *line ? cell_confidence(line) : f->confidence;
}

/* What the remark "# spread: rate_n_per_mm 10 %, all 5 %" says of column NAME; NaN: nothing. */
static double spread_said(const char *remark, const char *name)
{
    double all = NAN;
    for (const char *p = remark; *p; p += strcspn(p, ","), p += *p == ',') {
        p += strspn(p, " ");
        size_t n = strcspn(p, " ,");
        char *end;
        double percent = strtod(p + n, &end);
        if (end == p + n || end[strspn(end, " ")] != '%')
            continue;
        if (strlen(name) == n && strncmp(p, name, n) == 0)
            return percent / 100;
        if (n == 3 && strncmp(p, "all", n) == 0)
            all = percent / 100;
    }
    return all;
}

double table_cell_spread(const struct table_set *s, int table, int row, int column)
{
    const struct table *t = s->tables.at[table];
    const struct file *f = file_of(s, t, row);
    enum table_confidence sure = table_cell_confidence(s, table, row, column);
    int at = place_at(t, t->origins[row].file, column)->column;
    return at < 0 || (sure != TABLE_DERIVED && sure != TABLE_INVENTED)
               ? 0
               : spread_said(f->spread, csv_column_name(&f->text, at));
}

enum table_confidence table_row_confidence(const struct table_set *s, int table, int row)
{
    enum table_confidence worst = table_cell_confidence(s, table, row, 0);
    for (int i = 1; i < table_spec(s, table)->n_columns; i++)
        worst = cell_less_sure(worst, table_cell_confidence(s, table, row, i));
    return worst;
}

enum table_confidence table_worst_confidence(const struct table_set *s, int table)
{
    int n = table_rows(s, table);
    enum table_confidence worst = n ? table_row_confidence(s, table, 0) : TABLE_MEMORY;
    for (int row = 1; row < n; row++)
        worst = cell_less_sure(worst, table_row_confidence(s, table, row));
    return worst;
}

const char *table_cell_sureness(const struct table_set *s, int table, int row, int column, char *buf,
                                size_t size)
{
    enum table_confidence sure = table_cell_confidence(s, table, row, column);
    double spread = table_cell_spread(s, table, row, column);
    bool guess = sure == TABLE_DERIVED || sure == TABLE_INVENTED;
    const char *word = guess && spread == 0    ? "from a series"
                       : sure == TABLE_DERIVED ? "estimate"
                                               : table_confidence_text(sure);
    if (spread > 0)
        snprintf(buf, size, "%s, +- %.4g %%", word, 100 * spread);
    else
        snprintf(buf, size, "%s", word);
    return buf;
}

const char *table_row_source(const struct table_set *s, int table, int row)
{
    const struct table *t = s->tables.at[table];
    const struct file *f = file_of(s, t, row);
    const char *own = beside(s, t, row, f->source_column);
    return *own ? own : f->source;
}

const char *table_row_standard(const struct table_set *s, int table, int row)
{
    const struct table *t = s->tables.at[table];
    const struct file *f = file_of(s, t, row);
    const char *own = beside(s, t, row, f->standard_column);
    return *own ? own : f->standard;
}

void table_row_place(const struct table_set *s, int table, int row, const char **file, int *line)
{
    const struct table *t = s->tables.at[table];
    const struct file *f = file_of(s, t, row);
    *file = f->name;
    if (line)
        *line = f->text.lines.at[t->origins[row].row + 1];
}

const char *table_standard(const struct table_set *s, int table) { return s->tables.at[table]->standard; }
const char *table_title(const struct table_set *s, int table) { return s->tables.at[table]->title; }
const char *table_note(const struct table_set *s, int table) { return s->tables.at[table]->note; }
