/* tui/narrow.h - a list to choose from that narrows to what is typed
 *
 * The one way of all such lists: each character leaves only the entries that hold what was typed so far, and
 * the cursor goes to one that begins with it. A character that would leave none is not taken, so the list is
 * never empty. Backspace widens it again.
 */
#ifndef DIEWRIGHT_TUI_NARROW_H
#define DIEWRIGHT_TUI_NARROW_H

#include "tui/tui.h"

/* BESIDE: only words beside the label hold it; such entries are left where no label does. */
enum fit { FIT_NONE, FIT_BESIDE, FIT_HOLDS, FIT_BEGINS };
/* How entry I of WHOSE list fits TEXT, which is not empty. */
typedef enum fit narrow_fn(const void *whose, int i, const char *text);
/* The usual fit of LABEL: it begins with TEXT, or holds it, large and small letters alike. */
enum fit narrow_fit(const char *label, const char *text);

struct narrow {
    char text[60];
    int *shown;       /* numbers of the entries that are left, in their order */
    struct list list; /* the cursor among those */
    int all;          /* how many there are in all */
};

void narrow_init(struct narrow *n, int all, int at); /* all of them, the cursor on AT */
void narrow_done(struct narrow *n);
int narrow_at(const struct narrow *n); /* the entry at the cursor, -1: there is none at all */
/* A key or paste that narrows or widens is used up: true. Entries or cursor may then be others. */
bool narrow_event(struct tui *t, struct narrow *n, const struct terminal_event *e, narrow_fn *fit,
                  const void *whose);
/* What is typed and how much it leaves, before column END of row Y. Returns the column in which it begins,
   END: nothing is typed. */
int narrow_draw(const struct paint *p, struct area a, int y, int end, const struct narrow *n);

#endif
