/* Readers of one field that several records share. */

#include "handbook/book.h"

#include <string.h>

#define FIELD(type, into, word) (*(type *)(void *)((char *)(into) + (word)->at))

void book_flag(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    (void)r, (void)line;
    FIELD(bool, into, word) = true;
}

void book_text(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    (void)r;
    FIELD(const char *, into, word) = line->rest;
}

void book_formula(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    FIELD(const struct formula_tree *, into, word) = book_tree(r, line, line->rest);
}

void book_value(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    FIELD(const struct formula_tree *, into, word) = book_equals(r, line);
}

void book_sentence(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    FIELD(struct handbook_template, into, word) = book_template(r, line, line->rest);
}

void book_limits(struct book_reader *r, const struct record *line, const struct book_word *word, void *into)
{
    struct handbook_limits *l = &FIELD(struct handbook_limits, into, word);
    const char *dots = strstr(line->rest, "..");
    if (dots)
        l->low = book_tree(r, line,
                           base_arena_copy_n(&r->h->memory, line->rest, (size_t)(dots - line->rest)));
    l->high = book_tree(r, line, dots ? dots + 2 : line->rest);
    book_no_lines(r, line);
}

void book_one_letter(struct book_reader *r, const struct record *line, const struct book_word *word,
                     void *into)
{
    char c = line->rest[0];
    bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (!letter || line->rest[1])
        book_refuse(r, line, "One letter is wanted here.");
    FIELD(char, into, word) = c;
}
