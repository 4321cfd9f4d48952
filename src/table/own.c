/* Rows of somebody's own behind those of a shipped table.
 *
 * They stand in files of the set that belong to one table each. What is typed by hand is held to more than
 * what is shipped: a slip must be found where it was made, not where it is picked.
 */

#include "table/set.h"

#include <stdlib.h>
#include <string.h>

#include "table/cell.h"

int own_column(const struct table_spec *spec, const char *name)
{
    struct unit_dim dim;
    double factor;
    size_t n = cell_column_unit(name, &dim, &factor);
    for (int i = 0; i < spec->n_columns; i++) {
        const struct table_column_spec *c = &spec->columns[i];
        size_t length = strlen(c->name);
        if (strncmp(name, c->name, length) == 0 && (name[length] == '\0' || (length == n && !c->is_text)))
            return i;
    }
    return -1;
}

static enum base_err refuse(const struct file *f, int line, struct base_diag *why)
{
    base_diag_place(why, f->name, line);
    return BASE_REFUSED;
}

/* ---- what is stated ------------------------------------------------------------ */

static bool has_remark(const struct file *f, const char *key, bool is_word)
{
    size_t n = strlen(key);
    for (size_t i = 0; i < f->text.remarks.count; i++) {
        const char *r = f->text.remarks.at[i];
        const char *words = r + n + 1;
        if (strncmp(r, key, n) == 0 && r[n] == ':' && words[strspn(words, " ")])
            return !is_word || cell_is_confidence(words + strspn(words, " "));
    }
    return false;
}

/* Each row has its source and its confidence, of its own or by the remark on top. */
static enum base_err check_stated(const struct file *f, struct base_diag *why)
{
    bool source = has_remark(f, "source", false), confidence = has_remark(f, "confidence", true);
    for (int row = 0; row < csv_rows(&f->text); row++) {
        const char *own_source = f->source_column < 0 ? "" : csv_cell(&f->text, row, f->source_column);
        const char *own = f->confidence_column < 0 ? "" : csv_cell(&f->text, row, f->confidence_column);
        if (!*own_source && !source)
            base_fail(why, BASE_REFUSED,
                      "No source is stated for this row: fill in a column source, or write a line \"# "
                      "source: ...\" on top.");
        else if (*own ? !cell_is_confidence(own) : !confidence)
            base_fail(why, BASE_REFUSED,
                      "How sure this row is, is not stated: fill in a column confidence, or write a line \"# "
                      "confidence: ...\" on "
                      "top, with published, confirmed, common practice, derived, memory or invented.");
        else
            continue;
        return refuse(f, f->text.lines.at[row + 1], why);
    }
    return BASE_OK;
}

/* ---- columns --------------------------------------------------------------------- */

static bool is_aside(const char *name)
{
    static const char *const words[] = {"source", "standard", "confidence", "status", "note"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strcmp(words[i], name) == 0)
            return true;
    size_t n = strlen(name), m = strlen("_confidence");
    return n > m && strcmp(name + n - m, "_confidence") == 0;
}

static enum base_err refuse_column(const struct table *t, const struct file *f, int column,
                                   struct base_diag *why)
{
    BASE_VEC(const char *) names = {0};
    struct base_text near = {0};
    const char *name = csv_column_name(&f->text, column);
    for (int i = 0; i < t->spec.n_columns; i++)
        base_vec_push(&names, t->spec.columns[i].name);
    base_nearest(&near, name, names.at, names.count);
    base_fail(why, BASE_REFUSED, "Column %d, %s: the table %s has no such column%s%s.", column + 1, name,
              t->spec.name, near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    base_vec_done(&names);
    return refuse(f, f->text.lines.at[0], why);
}

static bool is_key(const struct table_spec *spec, int column)
{
    for (int i = 0; i < spec->n_keys; i++)
        if (strcmp(spec->keys[i], spec->columns[column].name) == 0)
            return true;
    return false;
}

/* The column of the table that each column of the file is, -1: one beside it. */
static enum base_err check_columns(const struct table *t, const struct file *f, int *column,
                                   struct base_diag *why)
{
    for (int i = 0; i < f->text.columns; i++) {
        const char *name = csv_column_name(&f->text, i);
        column[i] = own_column(&t->spec, name);
        if (column[i] < 0 && !is_aside(name))
            return refuse_column(t, f, i, why);
        for (int k = 0; k < i; k++)
            if (column[i] >= 0 && column[k] == column[i]) {
                base_fail(why, BASE_REFUSED, "Column %d, %s: column %d, %s, is the same one.", i + 1, name,
                          k + 1, csv_column_name(&f->text, k));
                return refuse(f, f->text.lines.at[0], why);
            }
    }
    for (int c = 0; c < t->spec.n_columns; c++) {
        bool there = false;
        for (int i = 0; i < f->text.columns; i++)
            there = there || column[i] == c;
        if (there || !is_key(&t->spec, c))
            continue;
        base_fail(why, BASE_REFUSED, "The column %s is missing: it tells the rows of %s apart.",
                  t->spec.columns[c].name, t->spec.name);
        return refuse(f, f->text.lines.at[0], why);
    }
    return BASE_OK;
}

/* ---- cells ------------------------------------------------------------------------ */

static bool reads(const struct table_column_spec *c, const char *text)
{
    double number;
    if (c->is_text || !*text)
        return true;
    if (!c->each)
        return cell_read_number(text, &number);
    for (text += strspn(text, " "); *text; text += strspn(text, " ")) {
        size_t n = strcspn(text, " ");
        char *one = base_copy_n(text, n);
        bool good = cell_read_number(one, &number);
        free(one);
        if (!good)
            return false;
        text += n;
    }
    return true;
}

static enum base_err check_cells(const struct table *t, const struct file *f, const int *column,
                                 struct base_diag *why)
{
    for (int row = 0; row < csv_rows(&f->text); row++)
        for (int i = 0; i < f->text.columns; i++) {
            const char *text = csv_cell(&f->text, row, i), *name = csv_column_name(&f->text, i);
            const struct table_column_spec *c = column[i] < 0 ? NULL : &t->spec.columns[column[i]];
            if (c && !*text && is_key(&t->spec, column[i]))
                base_fail(why, BASE_REFUSED, "Column %d, %s: this tells the rows apart and is empty here.",
                          i + 1, name);
            else if (c && !reads(c, text))
                base_fail(why, BASE_REFUSED, "Column %d, %s: \"%.60s\" is no number.", i + 1, name, text);
            else
                continue;
            return refuse(f, f->text.lines.at[row + 1], why);
        }
    return BASE_OK;
}

enum base_err own_check(const struct table *t, const struct file *f, struct base_diag *why)
{
    if (csv_rows(&f->text) == 0) {
        base_fail(why, BASE_REFUSED, "No row stands under the names of the columns.");
        return refuse(f, f->text.lines.at[0], why);
    }
    int *column = base_alloc((size_t)f->text.columns * sizeof *column);
    enum base_err err = check_columns(t, f, column, why);
    if (!err)
        err = check_cells(t, f, column, why);
    if (!err)
        err = check_stated(f, why);
    free(column);
    return err;
}

/* ---- rows in the place of others ------------------------------------------------------ */

static bool same_keys(const struct table *t, int a, int b)
{
    for (int i = 0; i < t->spec.n_keys; i++) {
        int column = 0;
        while (column < t->spec.n_columns - 1 && strcmp(t->spec.columns[column].name, t->spec.keys[i]) != 0)
            column++;
        if (!same_value(t, column, a, b))
            return false;
    }
    return t->spec.n_keys > 0;
}

static void drop_row(struct table *t, int row)
{
    size_t behind = (size_t)(t->rows - row - 1), width = (size_t)t->spec.n_columns;
    memmove(t->cells + (size_t)row * width, t->cells + (size_t)(row + 1) * width,
            behind * width * sizeof *t->cells);
    memmove(t->origins + row, t->origins + row + 1, behind * sizeof *t->origins);
    t->rows--;
}

enum base_err own_replace(const struct table_set *s, struct table *t, struct base_diag *why)
{
    for (int row = 0; row < t->rows; row++) {
        const struct file *f = s->files.at[t->files[t->origins[row].file]];
        for (int before = 0; f->own && before < row; before++) {
            if (!same_keys(t, row, before))
                continue;
            if (t->origins[before].file == t->origins[row].file) {
                base_fail(why, BASE_REFUSED, "This row stands here already, in line %d.",
                          f->text.lines.at[t->origins[before].row + 1]);
                return refuse(f, f->text.lines.at[t->origins[row].row + 1], why);
            }
            drop_row(t, before--);
            row--;
        }
    }
    return BASE_OK;
}
