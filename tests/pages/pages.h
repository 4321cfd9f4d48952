/* tests/pages/pages.h - the blocks of README.md and the manual pages, and the list of what is done with each
 *
 * A block is what a page shows as printed: in README.md lines that are indented by four blanks, in a manual
 * page what stands between .Bd -literal and .Ed.
 */
#ifndef DIEWRIGHT_TESTS_PAGES_PAGES_H
#define DIEWRIGHT_TESTS_PAGES_PAGES_H

#include "../common.h"

struct block {
    char *text;        /* as a reader sees it: not indented, without escapes, each line with its end */
    char *prose;       /* what the page says between the block before and this one */
    size_t start, end; /* where its lines stand in the page */
};

/* Block NUMBER, from 0, of the page at PATH; false where it has fewer. */
bool block_read(const char *path, int number, struct block *b);
void block_done(struct block *b);
/* Puts TEXT, as a reader is to see it, in the place of the block in the page. */
void block_keep(const char *path, const struct block *b, const char *text);

/* What is to be done with one block: a "block" of tests/pages/pages.txt. */
struct entry {
    char *page, *first; /* its page; words of its first line */
    int number, line;   /* which block of the page; where it stands in the list */
    char *acts;         /* what to do, a line each */
};

/* All of the list; entries live until the program ends. */
const struct entry *entries_read(int *n);

#endif
