/* Rows that the job adds to parts tables.
 *
 * They stand in items of a kind with `rows`, as the lines of a CSV text: "table" names the parts table,
 * "line/1", "line/2" ... are its lines. Most edits leave them alone; so builds share the tables made of them.
 */

#include "dieset/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool has_rows(const struct dieset *d, const char *kind)
{
    int k;
    return base_map_get(&d->kinds, kind, &k) && handbook_kind(d->h, k)->rows;
}

bool is_row_entry(const struct build *b, int item, const char *path)
{
    struct typed_path at = typed_path_read(path);
    return has_rows(b->d, b->texts.items.at[item].kind) && at.detail == TYPED_ITSELF &&
           (at.place == TYPED_AT_ROW ? at.number > 0 : strcmp(path, "table") == 0);
}

struct line { int number; const char *text; };

static int by_number(const void *a, const void *b)
{
    return ((const struct line *)a)->number - ((const struct line *)b)->number;
}

/* The item's lines in order as one text; *NUMBERS, yours to free(), tells the number of each. */
static char *text_of(const struct build *b, int item, int **numbers)
{
    const struct text_item *t = &b->texts.items.at[item];
    BASE_VEC(struct line) lines = {0};
    struct base_text out = {0};
    for (size_t i = 0; i < t->entries.count; i++)
        if (is_row_entry(b, item, t->entries.at[i].path)) {
            struct line l = {typed_path_read(t->entries.at[i].path).number, t->entries.at[i].text};
            if (l.number)
                base_vec_push(&lines, l);
        }
    if (lines.count)
        qsort(lines.at, lines.count, sizeof *lines.at, by_number);
    *numbers = base_alloc((lines.count + 1) * sizeof **numbers);
    for (size_t i = 0; i < lines.count; i++) {
        base_text_addf(&out, "%s\n", lines.at[i].text);
        (*numbers)[i] = lines.at[i].number;
    }
    (*numbers)[lines.count] = lines.count ? lines.at[lines.count - 1].number : 0;
    base_vec_done(&lines);
    return base_text_take(&out);
}

struct own { BASE_VEC(struct table_own) rows; BASE_VEC(int *) numbers; BASE_VEC(int) counts; };

static void own_done(struct own *o)
{
    for (size_t i = 0; i < o->rows.count; i++) {
        free((char *)o->rows.at[i].csv);
        free(o->numbers.at[i]);
    }
    base_vec_done(&o->rows);
    base_vec_done(&o->numbers);
    base_vec_done(&o->counts);
}

static int count_lines(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += *text == '\n';
    return n;
}

static void gather(const struct build *b, struct own *o)
{
    for (size_t i = 0; i < b->texts.items.count; i++) {
        const struct text_item *t = &b->texts.items.at[i];
        const char *table = texts_entry(t, "table");
        if (!has_rows(b->d, t->kind))
            continue;
        int *numbers;
        char *csv = text_of(b, (int)i, &numbers);
        if (!table && !*csv) { /* just added, nothing in it yet */
            free(csv);
            free(numbers);
            continue;
        }
        struct table_own own = {table ? table : "", t->name, csv, strlen(csv)};
        base_vec_push(&o->rows, own);
        base_vec_push(&o->numbers, numbers);
        base_vec_push(&o->counts, count_lines(csv));
    }
}

/* All that the tables hang on, to know them again. */
static char *told(const struct own *o)
{
    struct base_text out = {0};
    for (size_t i = 0; i < o->rows.count; i++)
        base_text_addf(&out, "%s %s\n%s\n", o->rows.at[i].name, o->rows.at[i].table, o->rows.at[i].csv);
    return base_text_take(&out);
}

/* "our_press.line.4: Column 3, ..." */
static enum base_err refuse(struct build *b, const struct own *o, const struct base_diag *inner,
                            struct base_diag *why)
{
    for (size_t i = 0; i < o->rows.count; i++) {
        if (strcmp(o->rows.at[i].name, inner->file) != 0 || inner->line < 1)
            continue;
        int k = inner->line > o->counts.at[i] ? o->counts.at[i] : inner->line - 1;
        return bind_fail(b, why, "%s.line.%d: %s", o->rows.at[i].name, o->numbers.at[i][k], inner->message);
    }
    return bind_fail(b, why, "%s: %s", o->rows.at[0].name, inner->message);
}

enum base_err build_tables(struct build *b, struct base_diag *why)
{
    struct dieset *d = b->d;
    struct own o = {0};
    struct base_diag inner = {0};
    enum base_err err = BASE_OK;
    b->tables = d->tables;
    gather(b, &o);
    char *rows = o.rows.count ? told(&o) : NULL;
    if (rows && d->now && d->now->own && d->now->own->base == d->tables &&
        strcmp(d->now->own->rows, rows) == 0) {
        b->own = d->now->own;
        b->own->users++;
    } else if (rows) {
        struct table_set *set;
        if (table_set_with(d->tables, o.rows.at, (int)o.rows.count, &set, &inner))
            err = refuse(b, &o, &inner, why);
        else {
            b->own = base_alloc(sizeof *b->own);
            *b->own = (struct own_tables){d->tables, set, rows, 1};
            rows = NULL;
        }
    }
    if (b->own)
        b->tables = b->own->set;
    free(rows);
    own_done(&o);
    return err;
}

void build_tables_done(struct build *b)
{
    if (!b->own || --b->own->users)
        return;
    table_set_free(b->own->set);
    free(b->own->rows);
    free(b->own);
}
