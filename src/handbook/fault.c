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

/* Where PART begins in LINE behind its key; -1 when it is not there. */
static int find_part(const char *line, const char *part)
{
    const char *rest = line + strspn(line, " ");
    const char *found = *part ? strstr(rest + strcspn(rest, " "), part) : NULL;
    return found ? (int)(found - line) : -1;
}

void book_show(const struct handbook *h, const char *file, int line, struct base_diag *why)
{
    size_t length;
    const char *raw = book_line(h, file, line, &length);
    char *text = base_copy_n(raw, length);
    int part = find_part(text, why->source);
    if (part >= 0)
        mark(why, text, part + why->start, why->length ? why->length : 1);
    else
        mark(why, text, (int)strspn(text, " "), (int)(length - strspn(text, " ")));
    base_diag_place(why, file, line);
    free(text);
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
    char sentence[sizeof r->why->message];
    vsnprintf(sentence, sizeof sentence, fmt, args);
    base_fail(r->why, BASE_REFUSED, "%s", sentence);
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
