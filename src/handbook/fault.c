/* Reasons with their place: the line as it stands in its file, and a mark in it. */

#include "handbook/book.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *book_line(const struct handbook *h, const char *file, int line, size_t *length)
{
    size_t d = 0;
    while (d < h->documents.count && h->documents.at[d].name != file)
        d++;
    const char *text = d < h->texts.count ? h->texts.at[d] : "";
    for (int i = 1; i < line && *text; i++) {
        text += strcspn(text, "\n");
        text += *text == '\n';
    }
    *length = strcspn(text, "\r\n");
    return text;
}

/* A reason has room for a part of a long line only: then it begins a little before the mark. */
static void mark(struct base_diag *why, const char *line, int start, int length)
{
    enum { SHOWN = 390, BEFORE = 100 };
    int skip = start + length <= SHOWN ? 0 : start - BEFORE;
    if (skip > 0)
        skip = (int)base_char_start(line, (size_t)skip + 1);
    base_diag_mark(why, line + (skip > 0 ? skip : 0), start - (skip > 0 ? skip : 0), length);
}

/* The record that begins in LINE, among FIRST, those behind it and those below them; NULL: none does. */
static const struct record *record_at(const struct record *first, int line)
{
    while (first && first->next && first->next->line <= line)
        first = first->next;
    return !first || first->line == line ? first : record_at(first->child, line);
}

/* The line of WHY's mark, and the mark in it: where its source stands in the rest of R, which may go on over
 * several lines. The mark ends with its line. Else, where the source stands nowhere, the whole line. */
static int show_line(const struct handbook *h, const char *file, const struct record *r,
                     struct base_diag *why)
{
    const char *found = *why->source ? strstr(r->rest, why->source) : NULL;
    size_t offset = found ? (size_t)(found - r->rest) + (size_t)why->start : 0, begins, length;
    int line = found ? record_place(r, offset, &begins) : r->line;
    const char *raw = book_line(h, file, line, &length);
    size_t start = strspn(raw, " ");
    size_t marked = length - start;
    if (found && line == r->line)
        start += strlen(r->key) + strspn(raw + start + strlen(r->key), " ");
    if (found) {
        start += offset - begins;
        marked = why->length > 0 ? (size_t)why->length : 1;
        if (line != record_place(r, offset + marked - 1, &begins))
            marked = length - start;
    }
    char *text = base_copy_n(raw, length);
    mark(why, text, (int)start, (int)marked);
    free(text);
    return line;
}

void book_show(const struct handbook *h, const char *file, int line, struct base_diag *why)
{
    size_t d = 0;
    while (d < h->documents.count && h->documents.at[d].name != file)
        d++;
    const struct record *r = d < h->documents.count ? record_at(h->documents.at[d].first, line) : NULL;
    base_diag_place(why, file, r ? show_line(h, file, r, why) : line);
}

void book_failed(struct book_reader *r, const struct record *at)
{
    if (!r->why->file[0])
        book_show(r->h, r->file, at->line, r->why);
    r->failed = true;
}

static void refuse(struct book_reader *r, const struct record *at, const char *word, const char *fmt,
                   va_list args)
{
    if (r->failed)
        return; /* the first reason is the one to mend */
    base_fail_args(r->why, BASE_REFUSED, fmt, args);
    base_diag_mark(r->why, word, 0, (int)strlen(word));
    book_failed(r, at);
}

void book_refuse(struct book_reader *r, const struct record *at, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    refuse(r, at, at->rest, fmt, args);
    va_end(args);
}

void book_refuse_word(struct book_reader *r, const struct record *at, const char *word, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    refuse(r, at, word, fmt, args);
    va_end(args);
}
