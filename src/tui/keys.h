/* tui/keys.h - one table of keys
 *
 * It feeds dispatch, the hint row, the help screen, the ":" line (by name) and the manual page.
 */
#ifndef DIEWRIGHT_TUI_KEYS_H
#define DIEWRIGHT_TUI_KEYS_H

#include "diewright/base.h"

struct tui;

/* Where the keys go. */
enum keys_at {
    AT_STACK = 1, AT_FORM = 2, AT_PLAN = 4, AT_SECTION = 8, AT_FINDINGS = 16, /* panes */
    AT_FIELD = 32,    /* something is being typed */
    AT_CHOICE = 64,   /* a list to choose from */
    AT_SIZES = 128,
    AT_WHY = 256,
    AT_FINDING = 512, /* an opened finding */
    AT_LINES = 1024,
    AT_HELP = 2048,
    AT_COMMAND = 4096, /* the ":" and "/" rows */
    AT_SMALL = 8192,   /* a terminal that is too small */
    AT_STROKE = 16384,
    AT_VARY = 32768,
    AT_PRACTICE = 262144, /* what was learnt; an exercise */
    AT_RUNS = AT_STROKE | AT_VARY,
    AT_PLACING = 65536, /* something is being moved on the plan */
    AT_REVIEW = 131072,
    AT_JOIN = 1048576,  /* two copies of a job side by side */
    AT_EXACT = 524288,  /* and the values of its place are being typed */
    AT_MAIN = AT_STACK | AT_FORM | AT_PLAN | AT_SECTION | AT_FINDINGS,
    AT_READ = AT_MAIN | AT_WHY | AT_FINDING | AT_LINES | AT_REVIEW,
    AT_LISTS = AT_READ | AT_RUNS | AT_JOIN,
    AT_PICK = AT_CHOICE | AT_SIZES, /* lists to choose from: what is typed narrows them */
    AT_TYPED = AT_FIELD | AT_COMMAND | AT_HELP | AT_PRACTICE,
    AT_PAGED = (AT_LISTS & ~AT_STROKE) | AT_PICK | AT_HELP | AT_PRACTICE, /* a page at a time */
    AT_WHEELED = AT_MAIN | AT_PICK | AT_WHY | AT_REVIEW | AT_LINES | AT_HELP,
    AT_WRITES = AT_TYPED | AT_PICK | AT_EXACT, /* letters are text there */
    AT_ALL = AT_LISTS | AT_PICK | AT_TYPED | AT_PLACING | AT_EXACT,
};

enum { KEYS_EACH = 5 };

struct key_row {
    unsigned places;
    int keys[KEYS_EACH];   /* as terminal.h gives them; 0 ends */
    const char *name;      /* its word on the ":" row */
    const char *hint;      /* a word for the hint row, NULL: not there */
    const char *action;    /* what it does, by its name in names.c */
    bool edits;            /* refused when only looking */
    const char *help;
};

/* What a key is for, in the order in which help lists them. */
enum key_use { KEY_HERE, KEY_CHANGES, KEY_SHOWS, KEY_GOES, KEY_SCREEN, KEY_USES };

const struct key_row *keys_table(int *count);
enum key_use keys_use(const struct key_row *r);
/* Does KEY begin a value: a digit, a quote, a sign, a point, a bracket? */
bool keys_begins_value(int key);
/* The row for KEY at PLACE, NULL: none. */
const struct key_row *keys_find(unsigned place, int key);
const struct key_row *keys_named(const char *name);
/* Own keys, before the screens open. The keys as shipped; the row NAME has those that LABELS tells
 * ("u Ctrl-U"), which stood in LINE of a file: refused, and left as it was, when there is no such row or
 * key. */
void keys_shipped(void);
NODISCARD enum base_err keys_take(const char *name, const char *labels, int line, struct base_diag *why);
/* Once all are taken: does an own key do something else as well in one of its places? *WHY says what, and its
 * row has the shipped keys again. */
bool keys_clash(int *line, struct base_diag *why);
/* "Enter", "Ctrl-T", "PgUp", "a". Returns BUF. */
const char *keys_label(int key, char *buf, size_t size);
/* All keys of a row, parted by blanks. */
void keys_labels(const struct key_row *r, struct base_text *out);
/* "stack, form" */
void keys_places(unsigned places, struct base_text *out);

#endif
