/* The job's parts tables: the copies that its file carries, and rows of its own. */

#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- copies ------------------------------------------------------------------------ */

/* ---- what is newer ------------------------------------------------------------------- */

struct rows { struct base_map seen; struct base_text row; int others; bool adding; };

/* A row as names and cells, whatever the order of its columns. */
static void count_row(void *arg, int line, const char *const *names, const char *const *cells, int n)
{
    struct rows *r = arg;
    (void)line;
    base_text_clear(&r->row);
    for (int i = 0; i < n; i++)
        base_text_addf(&r->row, "%s=%s\n", names[i], cells[i]);
    if (r->adding)
        base_map_put(&r->seen, base_text_get(&r->row), 1);
    else if (!base_map_get(&r->seen, base_text_get(&r->row), NULL))
        r->others++;
}

/* Rows of text B that text A has not. */
static int rows_beyond(const char *file, const char *a, size_t a_length, const char *b, size_t b_length)
{
    struct rows r = {.adding = true};
    struct base_diag ignored = {0};
    (void)!table_each_row(file, a, a_length, count_row, &r, &ignored);
    r.adding = false;
    (void)!table_each_row(file, b, b_length, count_row, &r, &ignored);
    base_map_done(&r.seen);
    base_text_done(&r.row);
    return r.others;
}

void job_renewals(struct job *j, job_renewal_fn *tell, void *arg)
{
    struct table_set *shipped = handbook_tables(j->handbook);
    for (int i = 0; i < table_file_count(shipped); i++) {
        struct store_table c;
        const char *file, *csv;
        size_t length;
        uint64_t sum;
        table_file(shipped, i, &file, &csv, &length, &sum);
        if (!store_table(j->store, file, &c) || c.checksum == sum)
            continue;
        tell(arg, file, rows_beyond(file, c.csv, c.length, csv, length),
             rows_beyond(file, csv, length, c.csv, c.length));
    }
}

/* ---- own rows --------------------------------------------------------------------------- */

static const struct handbook_kind *kind_of_rows(const struct job *j)
{
    for (int i = 0; i < handbook_kind_count(j->handbook); i++)
        if (handbook_kind(j->handbook, i)->rows)
            return handbook_kind(j->handbook, i);
    return NULL;
}

/* "shop/Our presses-2.csv" -> "our_presses_2"; yours to free(). */
static char *item_name(const char *file)
{
    const char *slash = strrchr(file, '/'), *start = slash ? slash + 1 : file, *dot = strrchr(start, '.');
    size_t n = dot && dot != start ? (size_t)(dot - start) : strlen(start);
    struct base_text out = {0};
    for (size_t i = 0; i < n; i++) {
        char c = start[i] >= 'A' && start[i] <= 'Z' ? (char)(start[i] + 'a' - 'A') : start[i];
        bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (i == 0 && !(c >= 'a' && c <= 'z'))
            base_text_add(&out, "own_");
        base_text_add_n(&out, word ? &c : "_", 1);
    }
    return base_text_take(&out);
}

/* A line that the job's text can hold, blanks for tabs; NULL: an empty one. Yours to free(). */
static char *plain_line(const char *start, size_t n)
{
    while (n && (start[n - 1] == ' ' || start[n - 1] == '\t' || start[n - 1] == '\r'))
        n--;
    char *line = base_copy_n(start, n);
    for (char *p = line; *p; p++)
        *p = *p == '\t' ? ' ' : *p;
    if (line[strspn(line, " ")])
        return line;
    free(line);
    return NULL;
}

/* The lines of CSV as entries of ITEM; those it has beyond are taken out. */
static enum base_err add_lines(struct job *j, struct job_changes *c, const char *item, const char *file,
                               const char *csv, size_t length, struct base_diag *why)
{
    enum { LONGEST = 900 };
    int kept = 0, number = 1, at = dieset_find_item(j->dieset, item);
    bool mark = length >= 3 && memcmp(csv, "\xEF\xBB\xBF", 3) == 0;
    for (const char *p = csv + (mark ? 3 : 0), *end = csv + length; p < end; number++) {
        const char *stop = memchr(p, '\n', (size_t)(end - p));
        char *line = plain_line(p, (size_t)((stop ? stop : end) - p));
        p = stop ? stop + 1 : end;
        if (line && strlen(line) > LONGEST) {
            free(line);
            base_fail(why, BASE_REFUSED, "This line is longer than %d bytes.", LONGEST);
            base_diag_place(why, file, number);
            return BASE_REFUSED;
        }
        if (!line)
            continue;
        char *path = typed_of_row(++kept);
        job_change_entry(j, c, item, path, line);
        free(path);
        free(line);
    }
    const struct typed_entry *entries;
    int n = at < 0 ? 0 : dieset_entries(j->dieset, at, &entries);
    for (int i = 0; i < n; i++)
        if (typed_path_read(entries[i].path).place == TYPED_AT_ROW &&
            typed_path_read(entries[i].path).number > kept)
            job_change_entry(j, c, item, entries[i].path, NULL);
    return BASE_OK;
}

static enum base_err check_item(struct job *j, const char *name, const char *table,
                                const struct handbook_kind *rows, struct base_diag *why)
{
    int item = dieset_find_item(j->dieset, name), kind = item < 0 ? -1 : dieset_item_kind(j->dieset, item);
    if (item < 0)
        return BASE_OK;
    const char *holds = dieset_entry(j->dieset, item, "table");
    if (kind < 0 || handbook_kind(j->handbook, kind) != rows)
        return base_fail(why, BASE_REFUSED,
                         "The job has an item \"%s\" that holds no sizes: give the file another name.", name);
    if (holds && strcmp(holds, table) != 0)
        return base_fail(why, BASE_REFUSED,
                         "The job's %s holds rows of %s, not of %s: give the file another name.", name, holds,
                         table);
    return BASE_OK;
}

/* Said of the file itself, so that a slip is found by its line. */
static enum base_err check_rows(struct job *j, const struct table_own *own, struct base_diag *why)
{
    struct table_set *set;
    enum base_err err = table_set_with(j->tables ? j->tables : handbook_tables(j->handbook), own, 1, &set,
                                       why);
    if (!err)
        table_set_free(set);
    return err == BASE_UNREADABLE ? why->code = BASE_REFUSED : err;
}

enum base_err job_import(struct job *j, const char *table, const char *file, const char *csv, size_t length,
                         struct base_diag *why)
{
    job_drop(j);
    const struct handbook_kind *rows = kind_of_rows(j);
    if (!rows)
        return base_fail(why, BASE_REFUSED,
                         "This handbook has no kind of item for own rows of parts tables.");
    struct table_own own = {table, file, csv, length};
    enum base_err err = check_rows(j, &own, why);
    char *name = item_name(file);
    struct job_changes c = {0};
    if (!err)
        err = check_item(j, name, table, rows, why);
    if (!err && dieset_find_item(j->dieset, name) < 0)
        job_changes_add(&c, TYPED_ITEM, name, "", NULL, rows->name);
    if (!err) {
        job_change_entry(j, &c, name, "table", table);
        err = add_lines(j, &c, name, file, csv, length, why);
    }
    if (!err)
        err = job_try(j, &c, base_format("%s: rows of %s from %s", name, table, file), why);
    else
        job_changes_done(&c);
    free(name);
    return err;
}
