/* tui/keys.h - one table of keys
 *
 * It feeds dispatch, the hint row, the help screen, the ":" line (by name) and the manual page.
 */
#ifndef DIEWRIGHT_TUI_KEYS_H
#define DIEWRIGHT_TUI_KEYS_H

#include "diewright/base.h"

struct tui;

/* Where the keys go. */
enum place {
    PLACE_STACK = 1, PLACE_FORM = 2, PLACE_PLAN = 4, PLACE_SECTION = 8, PLACE_FINDINGS = 16, /* panes */
    PLACE_FIELD = 32,    /* something is being typed */
    PLACE_CHOICE = 64,   /* a list to choose from */
    PLACE_SIZES = 128,
    PLACE_WHY = 256,
    PLACE_FINDING = 512, /* an opened finding */
    PLACE_LINES = 1024,
    PLACE_HELP = 2048,
    PLACE_COMMAND = 4096, /* the ":" and "/" rows */
    PLACE_SMALL = 8192,   /* a terminal that is too small */
    PLACE_STROKE = 16384,
    PLACE_VARY = 32768,
    PLACE_PRACTICE = 262144, /* what was learnt; an exercise */
    PLACE_RUNS = PLACE_STROKE | PLACE_VARY,
    PLACE_PLACING = 65536, /* something is being moved on the plan */
    PLACE_REVIEW = 131072,
    PLACE_EXACT = 524288,  /* and the values of its place are being typed */
    PLACE_MAIN = PLACE_STACK | PLACE_FORM | PLACE_PLAN | PLACE_SECTION | PLACE_FINDINGS,
    PLACE_READ = PLACE_MAIN | PLACE_WHY | PLACE_FINDING | PLACE_LINES | PLACE_REVIEW,
    PLACE_LISTS = PLACE_READ | PLACE_RUNS,
    PLACE_PICK = PLACE_CHOICE | PLACE_SIZES, /* lists to choose from: what is typed narrows them */
    PLACE_TYPED = PLACE_FIELD | PLACE_COMMAND | PLACE_HELP | PLACE_PRACTICE,
    PLACE_WRITES = PLACE_TYPED | PLACE_PICK | PLACE_EXACT, /* letters are text there */
    PLACE_ALL = PLACE_LISTS | PLACE_PICK | PLACE_TYPED | PLACE_PLACING | PLACE_EXACT,
};

enum { KEYS_EACH = 5 };

struct key_row {
    unsigned places;
    int keys[KEYS_EACH];   /* as terminal.h gives them; 0 ends */
    const char *name;      /* its word on the ":" row */
    const char *hint;      /* a word for the hint row, NULL: not there */
    const char *help;
    void (*run)(struct tui *t);
    bool edits;            /* refused when only looking */
};

const struct key_row *keys_table(int *count);
/* Does KEY begin a value: a digit, a quote, a sign, a point, a bracket? */
bool keys_begins_value(int key);
/* The row for KEY at PLACE, NULL: none. */
const struct key_row *keys_find(unsigned place, int key);
const struct key_row *keys_named(const char *name);
/* "Enter", "Ctrl-T", "PgUp", "a". Returns BUF. */
const char *keys_label(int key, char *buf, size_t size);
/* All keys of a row, parted by blanks. */
void keys_labels(const struct key_row *r, struct base_text *out);
/* "stack, form" */
void keys_places(unsigned places, struct base_text *out);

#endif
