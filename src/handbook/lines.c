/* The lines below a record: which words may stand there, and the readers that several records share. */

#include "handbook/book.h"

#include <stdlib.h>
#include <string.h>

static const struct book_word *find_word(const struct book_vocabulary *v, const char *key)
{
    for (int i = 0; i < v->n; i++)
        if (strcmp(v->words[i].word, key) == 0)
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

/* ---- readers of one field ------------------------------------------------------------------------- */

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

void book_one_letter(struct book_reader *r, const struct record *line, const struct book_word *word,
                     void *into)
{
    char c = line->rest[0];
    bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (!letter || line->rest[1])
        book_refuse(r, line, "One letter is wanted here.");
    FIELD(char, into, word) = c;
}

/* ---- what it all is ------------------------------------------------------------------------------- */

static const struct book_vocabulary *const vocabularies[] = {
    &book_work_words,    &book_factor_words,        &book_function_words, &book_takes_words,
    &book_pattern_words, &book_pattern_takes_words, &book_point_words,    &book_table_words,
    &book_kind_words,    &book_property_words,      &book_outline_words,  &book_frame_words,
    &book_hole_words,    &book_body_words,          &book_card_words,     &book_card_column_words,
    &book_order_words,   &book_event_words,         &book_motion_words,   &book_rule_words,
    &book_rung_words,    &book_example_words,       &book_try_words,      &book_word_words,
    &book_caution_words, &book_differ_words,        &book_cut_words,
};

const char *handbook_vocabulary(int record, int word, bool *several)
{
    if (record < 0 || record >= (int)COUNT_OF(vocabularies) || word >= vocabularies[record]->n)
        return NULL;
    if (several)
        *several = word >= 0 && vocabularies[record]->words[word].several;
    return word < 0 ? vocabularies[record]->record : vocabularies[record]->words[word].word;
}
