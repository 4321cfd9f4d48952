/* Chains: what adds up when the set is put together. */

#include "handbook/book.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

struct chain_parts {
    struct handbook_chain chain; /* first: its fields are read into it by their place */
    BASE_VEC(struct handbook_link) links;
    bool told; /* of what it is told: once, or of each item of a kind */
};

static const struct book_word link_words[] = {
    {.word = "limits", .read = book_limits, .at = offsetof(struct handbook_link, limits)},
};
const struct book_vocabulary book_link_words = BOOK_VOCABULARY("link", link_words);

static void read_link(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    struct chain_parts *parts = into;
    struct handbook_link link = {.title = at->rest, .place = book_place(r, at)};
    (void)word;
    book_lines(r, at, &book_link_words, &link);
    if (!r->failed && (!*at->rest || !link.limits.high))
        book_refuse(r, at, "A link says what is off, and below it how far: \"limits low .. high\".");
    base_vec_push(&parts->links, link);
}

/* "once", or "each KIND" */
static void read_of(struct book_reader *r, const struct record *at, const struct book_word *word, void *into)
{
    struct chain_parts *parts = into;
    if (parts->told)
        book_refuse(r, at, "Of what the chain is told is said twice.");
    parts->told = true;
    if (strcmp(word->word, "each") == 0 && !base_map_get(&r->h->kind_names, at->rest, &parts->chain.kind))
        book_refuse(r, at, "There is no kind \"%s\" for this chain.", at->rest);
}

static const struct book_word chain_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "once", .read = read_of},
    {.word = "each", .read = read_of},
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_chain, when)},
    {.word = "value", .read = book_formula, .at = offsetof(struct handbook_chain, value)},
    {.word = "link", .several = true, .read = read_link},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_chain_words = BOOK_VOCABULARY("chain", chain_words);

void book_read_chain(struct book_reader *r, const struct record *at)
{
    struct chain_parts parts = {.chain = {.name = at->rest, .kind = -1, .place = book_place(r, at)}};
    struct handbook_chain *c = &parts.chain;
    c->title = book_title(r, at, c->name);
    c->help = book_help(r, at);
    c->source = book_sources(r, at, c->name, &c->seen);
    book_lines(r, at, &book_chain_words, &parts);
    if (!r->failed && handbook_find_chain(r->h, c->name) >= 0)
        book_refuse(r, at, "There is a chain \"%s\" already.", c->name);
    if (!r->failed && (!c->value || !c->help || !c->source || !parts.told))
        book_refuse(r, at, "A chain has help, \"once\" or \"each KIND\", its value and a source.");
    BOOK_TAKE_OVER(r->h, c->links, c->n_links, parts.links);
    base_vec_push(&r->h->chains, *c);
}
