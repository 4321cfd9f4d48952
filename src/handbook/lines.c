/* The lines below a record: which words may stand there. */

#include "handbook/book.h"

#include <stdlib.h>
#include <string.h>

static const struct book_word *find_word(const struct book_vocabulary *v, const char *key)
{
    for (int i = 0; i < v->n; i++)
        if (v->words[i].word[0] == *key && strcmp(v->words[i].word, key) == 0)
            return &v->words[i];
    return NULL;
}

static bool stood_before(const struct record *first, const struct record *at)
{
    while (first != at && strcmp(first->key, at->key) != 0)
        first = first->next;
    return first != at;
}

static void refuse_word(struct book_reader *r, const struct record *at, const struct record *line,
                        const struct book_vocabulary *v)
{
    struct base_text all = {0}, near = {0};
    const char **words = base_alloc(((size_t)v->n + 1) * sizeof *words);
    for (int i = 0; i < v->n; i++) {
        words[i] = v->words[i].word;
        base_text_addf(&all, "%s%s", i ? " " : "", words[i]);
    }
    base_nearest(&near, line->key, words, (size_t)v->n);
    book_refuse(r, line, "\"%s\" cannot stand under \"%s\"%s%s; there may stand: %s.", line->key, at->key,
                near.length ? "; near it: " : "", base_text_get(&near),
                v->n ? base_text_get(&all) : "nothing");
    base_text_done(&all);
    base_text_done(&near);
    free(words);
}

void book_lines(struct book_reader *r, const struct record *at, const struct book_vocabulary *v, void *into)
{
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        const struct book_word *word = find_word(v, c->key);
        if (!word)
            refuse_word(r, at, c, v);
        else if (!word->several && stood_before(at->child, c))
            book_refuse(r, c, "\"%s\" stands here twice.", c->key);
    }
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        const struct book_word *word = find_word(v, c->key);
        if (word->read)
            word->read(r, c, word, into);
    }
}

void book_no_lines(struct book_reader *r, const struct record *at)
{
    static const struct book_vocabulary none = {.record = ""};
    book_lines(r, at, &none, NULL);
}
