/* diewright/record.h - indented record text: the one format of handbook and jobs
 *
 *     key rest of the line,
 *         which goes on here
 *       child rest
 *
 * Two blanks a level, five levels at most, no tabs; "#" starts a comment line, also between the lines of one
 * record. What stands two levels below the line above it, or deeper, goes on with that line, behind one
 * blank. A line, and a rest with all that goes on with it, has at most 1000 bytes, UTF-8, no control
 * characters. Knows lines, no trade.
 * Uses: base.     Ownership: a document owns all its records and texts.
 */
#ifndef DIEWRIGHT_RECORD_H
#define DIEWRIGHT_RECORD_H

#include "diewright/base.h"

struct record {
    const char *key;  /* letter { letter | digit | "_" | "-" } */
    const char *rest; /* "" when the line holds only a key */
    int line;         /* 1.. in the file */
    struct record *child, *next;
    struct record_more *more; /* the lines that go on with it, in their order; NULL: none */
};
/* Such a line: its text begins at AT of the rest. */
struct record_more { int at, line; struct record_more *next; };

struct record_document { struct record *first; struct base_arena memory; const char *name; };

/* Read TEXT (LENGTH bytes). NAME is the file's name for reasons. On failure the document
 * is empty and *WHY holds the sentence, file, line and column. */
NODISCARD enum base_err record_read(const char *text, size_t length, const char *name,
                                    struct record_document *out, struct base_diag *why);
void record_done(struct record_document *d);

/* First child with this key, NULL when none. */
const struct record *record_find(const struct record *r, const char *key);
/* The rest of that child, or FALLBACK. */
const char *record_text(const struct record *r, const char *key, const char *fallback);
/* All children's rests with this key joined by a blank ("help" may be repeated); in ARENA; NULL when none. */
const char *record_joined(const struct record *r, const char *key, struct base_arena *arena);

/* The line of the file in which byte OFFSET of R's rest stands; that line's text begins at *START of the
   rest. */
int record_place(const struct record *r, size_t offset, size_t *start);

/* First word of TEXT into BUF; returns the rest after blanks. */
const char *record_word(const char *text, char *buf, size_t size);

/* Writing: one line at LEVEL (0..4). VALUE NULL: a key alone. EQUALS: "key = value". */
void record_write(struct base_text *out, int level, const char *key, bool equals, const char *value);

/* A name by the grammar [a-z][a-z0-9_]* . */
bool record_is_name(const char *text);

#endif
