/* Reading comma-separated text.
 *
 * One pass over the bytes; the reader stands at AT in line LINE. Cells gather in TEXT and
 * move to the arena when they are whole.
 */

#include "table/csv.h"
#include "diewright/table.h"

#include <stdlib.h>
#include <string.h>

struct reader {
    const char *at, *end;
    const char *file;
    int line;
    struct base_text text;
    struct base_diag *why;
};

static enum base_err fault(struct reader *r, int line, const char *message)
{
    base_fail(r->why, BASE_UNREADABLE, "%s", message);
    base_diag_place(r->why, r->file, line);
    return BASE_UNREADABLE;
}

/* ---- bytes ---------------------------------------------------------------- */

static enum base_err check_bytes(struct reader *r)
{
    const char *first = r->at;
    int line = 1;
    for (const char *p = first; p < r->end;) {
        p += base_plain(p, (size_t)(r->end - p));
        if (p == r->end)
            break;
        unsigned char c = (unsigned char)*p;
        uint32_t ch;
        size_t n = base_char(p, (size_t)(r->end - p), &ch);
        if (n == 0)
            return fault(r, line, "The text is not UTF-8 here.");
        if ((ch < ' ' && c != '\n' && c != '\r' && c != '\t') || (ch >= 0x7f && ch < 0xa0))
            return fault(r, line, "A control character stands here.");
        /* the mark of the byte order may come first */
        if (ch >= 0xa0 && base_char_hidden(ch) && (ch != 0xfeff || p > first))
            return fault(r, line, "A character stands here that is not seen.");
        line += c == '\n';
        p += n;
    }
    return BASE_OK;
}

static bool at_line_end(const struct reader *r)
{
    return r->at == r->end || *r->at == '\n' || (*r->at == '\r' && r->at + 1 < r->end && r->at[1] == '\n')
        || (*r->at == '\r' && r->at + 1 == r->end);
}

static void pass_line_end(struct reader *r)
{
    if (r->at < r->end && *r->at == '\r')
        r->at++;
    if (r->at < r->end && *r->at == '\n')
        r->at++;
    r->line++;
}

static bool pass_empty_line(struct reader *r)
{
    const char *start = r->at;
    while (r->at < r->end && (*r->at == ' ' || *r->at == '\t'))
        r->at++;
    if (r->at < r->end && at_line_end(r)) {
        pass_line_end(r);
        return true;
    }
    if (r->at < r->end)
        r->at = start;
    return false;
}

/* ---- cells and rows -------------------------------------------------------- */

static enum base_err read_quoted(struct reader *r)
{
    int opened = r->line;
    for (r->at++; r->at < r->end; r->at++) {
        if (*r->at == '"' && (r->at + 1 == r->end || r->at[1] != '"'))
            break;
        r->at += *r->at == '"';
        r->line += *r->at == '\n';
        base_text_add_n(&r->text, r->at, 1);
    }
    if (r->at == r->end)
        return fault(r, opened, "A quotation mark opens here and is never closed.");
    r->at++;
    if (!at_line_end(r) && *r->at != ',')
        return fault(r, r->line, "After a closing quotation mark stands something other than a comma.");
    return BASE_OK;
}

static bool goes_on(char c) { return c != ',' && c != '"' && c != '\r' && c != '\n'; }

static enum base_err read_bare(struct reader *r)
{
    const char *start = r->at;
    while (r->at < r->end && goes_on(*r->at))
        r->at++;
    if (!at_line_end(r) && *r->at == '"')
        return fault(r, r->line, "A quotation mark stands inside a cell that does not begin with one.");
    if (!at_line_end(r) && *r->at != ',')
        return fault(r, r->line, "A carriage return stands inside a line.");
    const char *end = r->at;
    while (start < end && (*start == ' ' || *start == '\t'))
        start++;
    while (start < end && (end[-1] == ' ' || end[-1] == '\t'))
        end--;
    base_text_add_n(&r->text, start, (size_t)(end - start));
    return BASE_OK;
}

bool table_cell_runs(const char *text)
{
    static const char figures[] = "+-.0123456789eE";
    char *end;
    if (!*text || !strchr("=+-@\t\r", *text))
        return false;
    strtod(text, &end);
    return end == text || *end || text[strspn(text, figures)];
}

/* One row's cells into C; the number of cells in *COUNT. */
static enum base_err read_row(struct reader *r, struct csv *c, int *count)
{
    *count = 0;
    base_vec_push(&c->lines, r->line);
    for (;;) {
        base_text_clear(&r->text);
        bool quoted = r->at < r->end && *r->at == '"';
        enum base_err err = quoted ? read_quoted(r) : read_bare(r);
        if (err)
            return err;
        /* the apostrophe of a CSV of ours, against spreadsheets, does not belong to the cell */
        const char *cell = base_text_get(&r->text);
        size_t guard = r->text.length > 1 && *cell == '\'' && table_cell_runs(cell + 1);
        base_vec_push(&c->cells, base_arena_copy_n(&c->arena, cell + guard, r->text.length - guard));
        ++*count;
        if (at_line_end(r))
            break;
        r->at++;
    }
    pass_line_end(r);
    return BASE_OK;
}

static void read_remark(struct reader *r, struct csv *c)
{
    while (r->at < r->end && (*r->at == '#' || *r->at == ' '))
        r->at++;
    const char *start = r->at;
    while (!at_line_end(r))
        r->at++;
    base_vec_push(&c->remarks, base_arena_copy_n(&c->arena, start, (size_t)(r->at - start)));
    pass_line_end(r);
}

static enum base_err read_header(struct reader *r, struct csv *c)
{
    while (r->at < r->end) {
        if (*r->at == '#')
            read_remark(r, c);
        else if (!pass_empty_line(r))
            break;
    }
    if (r->at == r->end)
        return fault(r, r->line, "There is no header line with the names of the columns.");
    enum base_err err = read_row(r, c, &c->columns);
    if (err)
        return err;
    for (int i = 0; i < c->columns; i++) {
        if (!c->cells.at[i][0])
            return fault(r, c->lines.at[0], "A column has no name.");
        if (csv_column(c, c->cells.at[i]) == i)
            continue;
        base_fail(r->why, BASE_UNREADABLE, "Two columns are named %s.", c->cells.at[i]);
        base_diag_place(r->why, r->file, c->lines.at[0]);
        return BASE_UNREADABLE;
    }
    return BASE_OK;
}

static enum base_err read_rows(struct reader *r, struct csv *c)
{
    while (r->at < r->end) {
        if (pass_empty_line(r) || r->at == r->end)
            continue;
        int count, line = r->line;
        enum base_err err = read_row(r, c, &count);
        if (err)
            return err;
        if (count == c->columns)
            continue;
        base_fail(r->why, BASE_UNREADABLE, "The line has %d cells, the header %d.", count, c->columns);
        base_diag_place(r->why, r->file, line);
        return BASE_UNREADABLE;
    }
    return BASE_OK;
}

enum base_err csv_read(struct csv *out, const char *file, const char *text, size_t length,
                       struct base_diag *why)
{
    *out = (struct csv){0};
    struct reader r = {text, text + length, file, 1, {0}, why};
    enum base_err err = check_bytes(&r);
    if (!err) {
        if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
            r.at += 3;
        err = read_header(&r, out);
    }
    if (!err)
        err = read_rows(&r, out);
    base_text_done(&r.text);
    if (err)
        csv_done(out);
    return err;
}

/* ---- what was read ----------------------------------------------------------- */

void csv_done(struct csv *c)
{
    base_arena_done(&c->arena);
    base_vec_done(&c->remarks);
    base_vec_done(&c->cells);
    base_vec_done(&c->lines);
    c->columns = 0;
}

int csv_rows(const struct csv *c) { return (int)c->lines.count - 1; }

const char *csv_cell(const struct csv *c, int row, int column)
{
    return c->cells.at[(size_t)(row + 1) * (size_t)c->columns + (size_t)column];
}

const char *csv_column_name(const struct csv *c, int column) { return c->cells.at[column]; }

int csv_column(const struct csv *c, const char *name)
{
    for (int i = 0; i < c->columns; i++)
        if (strcmp(c->cells.at[i], name) == 0)
            return i;
    return -1;
}
