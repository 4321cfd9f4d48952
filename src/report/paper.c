/* A paper is columns and rows; here they become text, CSV and JSON.
 *
 * Cells stand row by row. In the text form each column is as wide as its widest cell; numbers stand on the
 * decimal point; where the whole is wider than 80, the widest columns of plain text are narrowed and their
 * cells wrapped; a folded column stands on lines of its own under the row, indented and wrapped.
 */

#include "report/words.h"

#include "diewright/table.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PAPER = 80, GAP = 2, LEAST_WRAPPED = 12, MOST_WORD = 40, FOLD_INDENT = 4 };

bool report_format_named(const char *name, enum report_format *out)
{
    static const char *const names[] = {[REPORT_TEXT] = "text", [REPORT_CSV] = "csv", [REPORT_JSON] = "json"};
    for (size_t i = 0; i < COUNT_OF(names); i++) {
        if (strcmp(name, names[i]) != 0)
            continue;
        *out = (enum report_format)i;
        return true;
    }
    return false;
}

/* ---- filling ---------------------------------------------------------------- */

void report_begin(struct report_paper *p, const struct report_column *columns, int n)
{
    assert(n > 0);
    *p = (struct report_paper){.n_columns = n};
    struct report_column *own = base_arena_alloc(&p->memory, (size_t)n * sizeof *own);
    for (int i = 0; i < n; i++)
        own[i] = (struct report_column){
            .name = columns[i].name ? base_arena_copy(&p->memory, columns[i].name) : NULL,
            .heading = columns[i].heading ? base_arena_copy(&p->memory, columns[i].heading) : NULL,
            .right = columns[i].right,
        };
    p->columns = own;
    p->folded = base_arena_alloc(&p->memory, (size_t)n);
}

void report_fold(struct report_paper *p, int column)
{
    assert(column >= 0 && column < p->n_columns);
    p->folded[column] = true;
}

void report_cut(struct report_paper *p) { p->cut = true; }

/* The cell above has it often (names, hours, yes and no): a long paper keeps that once. */
static const char *kept_above(const struct report_paper *p, const char *text)
{
    size_t columns = (size_t)p->n_columns;
    const char *above = p->cells.count >= columns ? p->cells.at[p->cells.count - columns].text : NULL;
    return above && strcmp(above, text) == 0 ? above : NULL;
}

void report_text(struct report_paper *p, const char *text)
{
    struct report_cell cell = {0};
    if (text && *text) {
        const char *kept = kept_above(p, text);
        cell.text = kept ? kept : base_arena_copy(&p->memory, text);
    }
    base_vec_push(&p->cells, cell);
}

void report_number(struct report_paper *p, double number, int decimals)
{
    struct report_cell cell = {.number = number == 0 ? 0 : number,
                               .is_number = isfinite(number),
                               .decimals = decimals};
    base_vec_push(&p->cells, cell);
}

void report_unknown(struct report_paper *p)
{
    base_vec_push(&p->cells, ((struct report_cell){.text = "?", .only_text = true}));
}

static const char *formatted(struct report_paper *p, const char *fmt, va_list args)
    __attribute__((format(printf, 2, 0)));
static const char *formatted(struct report_paper *p, const char *fmt, va_list args)
{
    va_list again;
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, fmt, again);
    va_end(again);
    assert(n >= 0);
    char *line = base_arena_alloc(&p->memory, (size_t)n + 1);
    vsnprintf(line, (size_t)n + 1, fmt, args);
    return line;
}

void report_line_above(struct report_paper *p, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_vec_push(&p->above, formatted(p, fmt, args));
    va_end(args);
}

void report_line_first(struct report_paper *p, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_vec_push(&p->above, formatted(p, fmt, args));
    va_end(args);
    for (size_t i = p->above.count - 1; i > 0; i--) {
        const char *line = p->above.at[i];
        p->above.at[i] = p->above.at[i - 1];
        p->above.at[i - 1] = line;
    }
}

void report_line_below(struct report_paper *p, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_vec_push(&p->below, formatted(p, fmt, args));
    va_end(args);
}

void report_line_within(struct report_paper *p, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    struct report_line line = {report_rows(p), formatted(p, fmt, args)};
    base_vec_push(&p->within, line);
    va_end(args);
}

int report_rows(const struct report_paper *p) { return (int)(p->cells.count / (size_t)p->n_columns); }

void report_done(struct report_paper *p)
{
    base_vec_done(&p->cells);
    base_vec_done(&p->above);
    base_vec_done(&p->below);
    base_vec_done(&p->within);
    base_arena_done(&p->memory);
    *p = (struct report_paper){0};
}

static const struct report_cell *cell_at(const struct report_paper *p, int row, int column)
{
    return &p->cells.at[(size_t)row * (size_t)p->n_columns + (size_t)column];
}

/* ---- text --------------------------------------------------------------------- */

static int width_of(const char *text, size_t n) { return base_columns(text, n); }
static int paper_width(const struct report_paper *p) { return p->width ? p->width : PAPER; }

static const char *cell_words(const struct report_cell *cell, char *buf, size_t size)
{
    if (!cell->is_number)
        return cell->text ? cell->text : "";
    if (cell->decimals < 0)
        return unit_print_plain(cell->number, buf, size);
    snprintf(buf, size, "%.*f", cell->decimals, cell->number);
    if (strspn(buf, "-0.") == strlen(buf) && buf[0] == '-')
        memmove(buf, buf + 1, strlen(buf)); /* never "-0.0" */
    return buf;
}

const char *report_cell_words(const struct report_paper *p, int row, int column, char *buf, size_t size)
{
    return cell_words(cell_at(p, row, column), buf, size);
}

/* A column's place in the text form: `whole` and `part` are the cells before and after the end of whole
 * numbers, `least` is what it cannot be narrowed below without breaking a word. */
struct place { bool shown, wraps, cut; int width, least, whole, part; };

/* Cells of the longest word; names in our texts are words, so they are never broken. */
static int longest_word(const char *text)
{
    int longest = 0;
    for (size_t n; *text; text += n + strspn(text + n, " \n")) {
        n = strcspn(text, " \n");
        int width = width_of(text, n);
        longest = width > longest ? width : longest;
    }
    return longest < MOST_WORD ? longest : MOST_WORD;
}

static void measure_cell(struct place *at, const struct report_cell *cell)
{
    char buf[400];
    const char *words = cell_words(cell, buf, sizeof buf);
    int width = width_of(words, strlen(words));
    if (cell->is_number) {
        int whole = (int)strcspn(words, ".");
        at->wraps = false;
        at->whole = whole > at->whole ? whole : at->whole;
        at->part = width - whole > at->part ? width - whole : at->part;
        width = at->whole + at->part;
    }
    int word = longest_word(words);
    at->least = word > at->least ? word : at->least;
    at->width = width > at->width ? width : at->width;
}

/* Takes cells from a column that may be cut, then from the widest ones of plain text, until the paper fits or
   none can give more. */
static void shrink(const struct report_paper *p, struct place *places, int used)
{
    while (used > paper_width(p)) {
        struct place *widest = NULL;
        for (int c = 0; c < p->n_columns; c++)
            if (places[c].wraps && places[c].width > (places[c].cut ? LEAST_WRAPPED : places[c].least) &&
                (!widest || places[c].cut || (!widest->cut && places[c].width > widest->width)))
                widest = &places[c];
        if (!widest)
            return;
        widest->width--;
        used--;
    }
}

static void lay_out(const struct report_paper *p, struct place *places)
{
    int used = -GAP, last = -1;
    for (int c = 0; c < p->n_columns; c++) {
        const char *heading = p->columns[c].heading;
        places[c].shown = heading && !p->folded[c];
        if (!places[c].shown)
            continue;
        places[c].width = width_of(heading, strlen(heading));
        places[c].wraps = !p->columns[c].right;
        places[c].least = places[c].width > LEAST_WRAPPED ? places[c].width : LEAST_WRAPPED;
        for (int r = 0; r < report_rows(p); r++)
            measure_cell(&places[c], cell_at(p, r, c));
        used += places[c].width + GAP;
        last = c;
    }
    if (last >= 0)
        places[last].cut = p->cut && places[last].wraps;
    shrink(p, places, used);
}

/* Bytes of TEXT that make a line of at most WIDTH cells, broken at a blank; hard where a word is longer than
   that. */
static size_t line_bytes(const char *text, int width)
{
    size_t n = 0, blank = 0, step;
    for (int cells = 0; text[n] && text[n] != '\n'; n += step) {
        step = base_step(text + n, strnlen(text + n, 4), &cells);
        if (cells > width)
            return blank ? blank : n ? n : step;
        if (text[n] == ' ')
            blank = n;
    }
    return n;
}

static void pad(struct base_text *out, int n)
{
    while (n-- > 0)
        base_text_add(out, " ");
}

/* TEXT wrapped to WIDTH; the first line stands where OUT is, the others are indented by INDENT. */
static void wrap(struct base_text *out, const char *text, int width, int indent)
{
    for (;;) {
        size_t n = line_bytes(text, width);
        base_text_add_visible(out, text, n, false);
        text += n;
        while (*text == ' ' || *text == '\n')
            text++;
        if (!*text)
            return;
        base_text_add(out, "\n");
        pad(out, indent);
    }
}

/* TEXT, wider than WIDTH, on one line; " .." tells that it goes on. */
static void cut(struct base_text *out, const char *text, int width)
{
    size_t n = 0, step;
    for (int cells = 0; text[n]; n += step) {
        step = base_step(text + n, strnlen(text + n, 4), &cells);
        if (cells > width - 3)
            break;
    }
    base_text_add_visible(out, text, n, false);
    base_text_add(out, " ..");
}

static void trim(struct base_text *out)
{
    while (out->length > 0 && out->data[out->length - 1] == ' ')
        out->data[--out->length] = '\0';
}

static void write_cell(struct base_text *out, const struct report_cell *cell, const struct place *at,
                       bool right)
{
    char buf[400];
    const char *words = cell_words(cell, buf, sizeof buf);
    int width = width_of(words, strlen(words)), before = right ? at->width - width : 0;
    if (cell->is_number) {
        int whole = (int)strcspn(words, ".");
        before = at->whole - whole + (right ? at->width - at->whole - at->part : 0);
    }
    pad(out, before);
    base_text_add_visible(out, words, strlen(words), false);
    pad(out, at->width - width - before);
}

static void write_folded(const struct report_paper *p, int row, struct base_text *out)
{
    for (int c = 0; c < p->n_columns; c++) {
        const struct report_cell *cell = cell_at(p, row, c);
        if (!p->folded[c] || cell->is_number || !cell->text)
            continue;
        pad(out, FOLD_INDENT);
        const char *heading = p->columns[c].heading ? p->columns[c].heading : "";
        base_text_add(out, heading);
        int extra = width_of(heading, strlen(heading));
        wrap(out, cell->text, paper_width(p) - FOLD_INDENT - extra, FOLD_INDENT + extra);
        base_text_add(out, "\n");
    }
}

/* A line of a text cell, as wide as its column; returns what still stands to be written of it. */
static const char *write_some(struct base_text *out, const char *rest, const struct place *at)
{
    if (at->cut && width_of(rest, strlen(rest)) > at->width) {
        cut(out, rest, at->width);
        return "";
    }
    size_t n = line_bytes(rest, at->width);
    base_text_add_visible(out, rest, n, false);
    pad(out, at->width - width_of(rest, n));
    rest += n;
    return rest + strspn(rest, " \n");
}

static void write_row(const struct report_paper *p, const struct place *places, int row, const char **rest,
                      struct base_text *out)
{
    bool more = true;
    for (int line = 0; more; line++) {
        more = false;
        for (int c = 0; c < p->n_columns; c++) {
            const struct report_cell *cell = cell_at(p, row, c);
            if (!places[c].shown)
                continue;
            if (line == 0)
                rest[c] = places[c].wraps && cell->text ? cell->text : "";
            if (places[c].wraps)
                rest[c] = write_some(out, rest[c], &places[c]);
            else if (line == 0)
                write_cell(out, cell, &places[c], p->columns[c].right);
            else
                pad(out, places[c].width);
            pad(out, GAP);
            more = more || *rest[c];
        }
        trim(out);
        base_text_add(out, "\n");
    }
    write_folded(p, row, out);
}

static void write_headings(const struct report_paper *p, const struct place *places, struct base_text *out)
{
    size_t start = out->length;
    for (int c = 0; c < p->n_columns; c++) {
        if (!places[c].shown)
            continue;
        struct report_cell cell = {.text = p->columns[c].heading};
        write_cell(out, &cell, &places[c], p->columns[c].right);
        pad(out, GAP);
    }
    trim(out);
    if (out->length > start)
        base_text_add(out, "\n");
}

static void write_line(const struct report_paper *p, const char *text, struct base_text *out)
{
    wrap(out, text, paper_width(p) - 2, 2);
    base_text_add(out, "\n");
}

void words_text(const struct report_paper *p, struct base_text *out, struct words_breaks *breaks)
{
    struct place *places = base_alloc((size_t)p->n_columns * sizeof *places);
    const char **rest = base_alloc((size_t)p->n_columns * sizeof *rest);
    for (size_t i = 0; i < p->above.count; i++) {
        base_vec_push(breaks, out->length);
        write_line(p, p->above.at[i], out);
    }
    if (report_rows(p) > 0) {
        lay_out(p, places);
        write_headings(p, places, out);
    }
    size_t within = 0;
    for (int r = 0; r < report_rows(p); r++) {
        if (r > 0)
            base_vec_push(breaks, out->length);
        for (; within < p->within.count && p->within.at[within].row <= r; within++) {
            base_text_add(out, r > 0 ? "\n" : "");
            write_line(p, p->within.at[within].text, out);
        }
        write_row(p, places, r, rest, out);
    }
    for (size_t i = 0; i < p->below.count; i++) {
        base_vec_push(breaks, out->length);
        write_line(p, p->below.at[i], out);
    }
    free(places);
    free(rest);
}

/* ---- data ---------------------------------------------------------------------------- */

/* To 0.001 of its unit, or as far as the text form goes, where the paper does not tell exact values; a figure
 * that is smaller than that stays as it is. */
static const char *data_words(const struct report_paper *p, const struct report_cell *cell, char *buf,
                              size_t size)
{
    int places = cell->decimals > 3 ? cell->decimals : 3;
    double number = cell->number;
    if (!p->exact && cell->decimals >= 0 && (fabs(number) > 0.5 * pow(10, -places) || fabs(number) < 1e-9)) {
        snprintf(buf, size, "%.*f", places, number); /* as the text form rounds */
        number = strtod(buf, NULL) + 0.0;            /* never "-0" */
    }
    return unit_print_plain(number, buf, size);
}

/* CSV: RFC 4180 */

static void csv_field(struct base_text *out, const char *text)
{
    if (!text[strcspn(text, ",\"\r\n")] && text[0] != ' ' && (!*text || text[strlen(text) - 1] != ' ')) {
        base_text_add(out, text);
        return;
    }
    base_text_add(out, "\"");
    for (; *text; text++)
        base_text_add_n(out, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    base_text_add(out, "\"");
}

/* Nothing is hidden in a cell but the ends of its lines. */
static void csv_text(struct base_text *out, const char *text)
{
    struct base_text held = {0};
    if (table_cell_runs(text))
        base_text_add(&held, "'");
    base_text_add_visible(&held, text, strlen(text), true);
    csv_field(out, base_text_get(&held));
    base_text_done(&held);
}

static void write_csv(const struct report_paper *p, struct base_text *out)
{
    for (int r = -1; r < report_rows(p); r++) {
        const char *comma = "";
        for (int c = 0; c < p->n_columns; c++) {
            char buf[64];
            if (!p->columns[c].name)
                continue;
            base_text_add(out, comma);
            const struct report_cell *cell = r < 0 ? NULL : cell_at(p, r, c);
            if (cell && cell->is_number)
                csv_field(out, data_words(p, cell, buf, sizeof buf));
            else
                csv_text(out, !cell                              ? p->columns[c].name
                              : cell->text && !cell->only_text ? cell->text
                                                               : "");
            comma = ",";
        }
        base_text_add(out, "\r\n");
    }
}

/* ---- JSON: RFC 8259 ------------------------------------------------------------------ */

static void json_string(struct base_text *out, const char *text)
{
    base_text_add(out, "\"");
    while (*text) {
        uint32_t ch;
        size_t n = base_char(text, strnlen(text, 4), &ch);
        if (n == 0)
            base_text_add(out, "\\ufffd"); /* a byte that is no character */
        else if (ch == '"' || ch == '\\')
            base_text_addf(out, "\\%c", (int)ch);
        else if (base_char_hidden(ch) && ch > 0xffff)
            base_text_addf(out, "\\u%04x\\u%04x", (unsigned)(0xd800 + ((ch - 0x10000) >> 10)),
                           (unsigned)(0xdc00 + (ch & 0x3ff)));
        else if (base_char_hidden(ch))
            base_text_addf(out, "\\u%04x", (unsigned)ch);
        else
            base_text_add_n(out, text, n);
        text += n ? n : 1;
    }
    base_text_add(out, "\"");
}

static void json_value(const struct report_paper *p, struct base_text *out, const struct report_cell *cell)
{
    char buf[64];
    if (cell->is_number)
        base_text_add(out, data_words(p, cell, buf, sizeof buf));
    else if (cell->text && !cell->only_text)
        json_string(out, cell->text);
    else
        base_text_add(out, "null");
}

static void write_json(const struct report_paper *p, struct base_text *out)
{
    base_text_add(out, "[");
    for (int r = 0; r < report_rows(p); r++) {
        base_text_add(out, r ? ",\n {" : "\n {");
        const char *comma = "";
        for (int c = 0; c < p->n_columns; c++) {
            if (!p->columns[c].name)
                continue;
            base_text_add(out, comma);
            json_string(out, p->columns[c].name);
            base_text_add(out, ": ");
            json_value(p, out, cell_at(p, r, c));
            comma = ", ";
        }
        base_text_add(out, "}");
    }
    base_text_add(out, report_rows(p) ? "\n]\n" : "]\n");
}

void report_write(const struct report_paper *p, enum report_format f, struct base_text *out)
{
    assert(p->cells.count % (size_t)p->n_columns == 0);
    if (f == REPORT_CSV)
        write_csv(p, out);
    else if (f == REPORT_JSON)
        write_json(p, out);
    else {
        struct words_breaks breaks = {0};
        words_text(p, out, &breaks);
        base_vec_done(&breaks);
    }
}
