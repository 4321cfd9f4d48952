/* Papers of rows: what is told of the job row by row, or once for each item of a kind. */

#include "handbook/book.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

struct paper_parts {
    struct handbook_paper p; /* first: its fields are read into it by their place */
    const char *part;        /* heading of the rows that follow */
    BASE_VEC(struct handbook_paper_column) columns;
    BASE_VEC(struct handbook_paper_row) rows;
    BASE_VEC(struct handbook_template) above;
    BASE_VEC(struct handbook_paper_line) below;
};

static const struct book_word column_words[] = {
    {.word = "heading", .read = book_text, .at = offsetof(struct handbook_paper_column, heading)},
    {.word = "number", .read = book_flag, .at = offsetof(struct handbook_paper_column, number)},
    {.word = "counted", .read = book_flag, .at = offsetof(struct handbook_paper_column, counted)},
    {.word = "noted", .read = book_flag, .at = offsetof(struct handbook_paper_column, noted)},
};
const struct book_vocabulary book_paper_column_words = BOOK_VOCABULARY("column of a paper", column_words);

static void read_column(struct book_reader *r, const struct record *at, const struct book_word *word,
                        void *into)
{
    struct paper_parts *parts = into;
    struct handbook_paper_column c = {.name = at->rest, .heading = at->rest};
    (void)word;
    book_name(r, at, at->rest);
    book_lines(r, at, &book_paper_column_words, &c);
    if (parts->rows.count)
        book_refuse(r, at, "The columns of a paper stand before its rows.");
    base_vec_push(&parts->columns, c);
}

static void read_part(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    (void)word;
    book_no_lines(r, at);
    ((struct paper_parts *)into)->part = at->rest;
}

struct row_parts {
    struct handbook_paper_row row;
    struct handbook_template *cells;
    struct paper_parts *of;
};

static bool filled_in(const struct handbook_paper_column *c) { return !c->counted && !c->noted; }

static int column_named(const struct paper_parts *parts, const char *name)
{
    for (size_t i = 0; i < parts->columns.count; i++)
        if (strcmp(parts->columns.at[i].name, name) == 0 && filled_in(&parts->columns.at[i]))
            return (int)i;
    return -1;
}

/* "cell COLUMN words" */
static void read_cell(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    struct row_parts *row = into;
    char name[80];
    (void)word;
    const char *says = record_word(at->rest, name, sizeof name);
    int column = column_named(row->of, name);
    book_no_lines(r, at);
    if (column < 0)
        book_refuse_word(r, at, name, "The paper has no column \"%s\" that is filled in.", name);
    else if (row->cells[column].n_pieces)
        book_refuse(r, at, "The row has something in \"%s\" already.", name);
    else
        row->cells[column] = book_template(r, at, says);
}

static const struct book_word row_words[] = {
    {.word = "when", .read = book_formula, .at = offsetof(struct row_parts, row.when)},
    {.word = "cell", .several = true, .read = read_cell},
};
const struct book_vocabulary book_paper_row_words = BOOK_VOCABULARY("row of a paper", row_words);

/* KIND is the first word of SAYS; returns what stands behind it. */
static const char *read_kind(struct book_reader *r, const struct record *at, const char *says, int *kind)
{
    char name[80];
    says = record_word(says, name, sizeof name);
    if (!base_map_get(&r->h->kind_names, name, kind))
        book_refuse_word(r, at, name,
                         "There is no kind \"%s\": what is told of each item is written \"each KIND words\", "
                         "or \"below_each KIND words\".",
                         name);
    return says;
}

/* "row WORDS" of the job, "each KIND WORDS" of each item of a kind; the words stand in the first column that
   is filled in. */
static void read_row(struct book_reader *r, const struct record *at, const struct book_word *word, void *into)
{
    struct paper_parts *parts = into;
    struct row_parts row = {.row = {.kind = -1, .part = parts->part, .place = book_place(r, at)},
                            .of = parts};
    const char *says = at->rest;
    size_t first = 0;
    while (first < parts->columns.count && !filled_in(&parts->columns.at[first]))
        first++;
    if (first == parts->columns.count) {
        book_refuse(r, at, "A paper has columns, \"column NAME\", before its rows.");
        return;
    }
    if (strcmp(word->word, "each") == 0)
        says = read_kind(r, at, says, &row.row.kind);
    row.cells = base_arena_alloc(&r->h->memory, parts->columns.count * sizeof *row.cells);
    if (*says)
        row.cells[first] = book_template(r, at, says);
    book_lines(r, at, &book_paper_row_words, &row);
    row.row.cells = row.cells;
    base_vec_push(&parts->rows, row.row);
}

static void read_sentence(struct book_reader *r, const struct record *at, const struct book_word *word,
                          void *into)
{
    struct paper_parts *parts = into;
    struct handbook_paper_line line = {.kind = -1};
    const char *says = at->rest;
    if (strcmp(word->word, "below_each") == 0)
        says = read_kind(r, at, says, &line.kind);
    line.says = book_template(r, at, says);
    book_no_lines(r, at);
    if (strcmp(word->word, "above") == 0)
        base_vec_push(&parts->above, line.says);
    else
        base_vec_push(&parts->below, line);
}

static const struct book_word paper_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "above", .several = true, .read = read_sentence},
    {.word = "column", .several = true, .read = read_column},
    {.word = "part", .several = true, .read = read_part},
    {.word = "row", .several = true, .read = read_row},
    {.word = "each", .several = true, .read = read_row},
    {.word = "below", .several = true, .read = read_sentence},
    {.word = "below_each", .several = true, .read = read_sentence},
    {.word = "cautions", .read = book_flag, .at = offsetof(struct handbook_paper, cautions)},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_paper_words = BOOK_VOCABULARY("paper", paper_words);

void book_read_paper(struct book_reader *r, const struct record *at)
{
    struct paper_parts parts = {.p = {.name = at->rest, .place = book_place(r, at)}};
    struct handbook_paper *p = &parts.p;
    book_name(r, at, at->rest);
    if (!r->failed && handbook_find_paper(r->h, at->rest) >= 0)
        book_refuse(r, at, "There is a paper \"%s\" already.", at->rest);
    p->title = book_title(r, at, p->name);
    p->help = book_help(r, at);
    book_lines(r, at, &book_paper_words, &parts);
    p->source = book_sources(r, at, p->name, &p->seen);
    if (!r->failed && !parts.rows.count)
        book_refuse(r, at, "A paper has rows: \"row WORDS\" or \"each KIND WORDS\".");
    BOOK_TAKE_OVER(r->h, p->columns, p->n_columns, parts.columns);
    BOOK_TAKE_OVER(r->h, p->rows, p->n_rows, parts.rows);
    BOOK_TAKE_OVER(r->h, p->above, p->n_above, parts.above);
    BOOK_TAKE_OVER(r->h, p->below, p->n_below, parts.below);
    base_vec_push(&r->h->papers, *p);
}
