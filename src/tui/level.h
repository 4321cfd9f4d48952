/* tui/level.h - the pile of levels over the main screen: a field, a list, a full view, each left with Esc
 *
 * A level is a struct of its own that begins with a struct level and is freed by its operation `done`. A key
 * goes to the top level first, then through the table of keys to an action, which asks the level to do it.
 * The pile is the only one that knows how many there are.
 */
#ifndef DIEWRIGHT_TUI_LEVEL_H
#define DIEWRIGHT_TUI_LEVEL_H

#include "tui/list.h"

struct tui;
struct level;
struct level_ops {
    unsigned place; /* of the key table */
    bool full;      /* hides the main screen */
    void (*draw)(struct tui *t, struct level *l);
    /* Keys and pastes before the table; true when it was meant for the level alone. May be NULL. */
    bool (*event)(struct tui *t, struct level *l, const struct terminal_event *e);
    void (*move)(struct tui *t, struct level *l, enum move m);
    void (*far)(struct tui *t, struct level *l, enum move m); /* H J K L: larger steps */
    void (*enter)(struct tui *t, struct level *l);
    void (*leave)(struct tui *t, struct level *l); /* NULL: just taken off */
    void (*tab)(struct tui *t, struct level *l, int by);
    /* puts the cursor on what stands at a cell; may be NULL */
    enum hit (*at)(struct tui *t, struct level *l, int y, int x);
    /* the value at its cursor, for `w`; the key of the finding that it shows; may be NULL */
    const char *(*path)(struct tui *t, struct level *l);
    const char *(*finding)(struct tui *t, struct level *l);
    void (*settle)(struct tui *t, struct level *l);         /* the die set was bound anew; may be NULL */
    /* while `pending` and no key waits: a little work, then back */
    void (*idle)(struct tui *t, struct level *l);
    /* before a picture: what all keys since the last asked for */
    void (*catch_up)(struct tui *t, struct level *l);
    void (*done)(struct level *l);
};
/* pace: between two calls of idle; listed: where its list stood in the last picture */
struct level { const struct level_ops *ops; bool pending, due; int pace_ms; struct area listed; };
enum { LEVELS = 12 };
struct pile { struct level *levels[LEVELS]; int n; };

void tui_push(struct tui *t, struct level *l); /* adopted; one too many is freed at once */
void tui_pop(struct tui *t);                   /* the top one, freed */
void tui_clear(struct tui *t);                 /* all of them */
int tui_depth(const struct tui *t);
struct level *tui_level(const struct tui *t, int i);               /* counted from the lowest */
struct level *tui_top(const struct tui *t);                        /* NULL: the main screen */
struct level *tui_level_of(const struct tui *t, unsigned place);   /* the topmost at PLACE, NULL: none is */

#endif
