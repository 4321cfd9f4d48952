/* diewright/typed.h - what is typed in a job: items, entries, changes, as texts
 *
 * An *item* has a kind, a name and a place in the job's order. An *entry* is what somebody typed: item, path,
 * text. Paths: "thickness", "thickness/reason", "lay", "lay/end", "lay/right_front/x", "title", "note". A
 * *change* turns one such text into another. The store keeps them, the die set binds them; nothing here
 * understands them. Uses: base.
 */
#ifndef DIEWRIGHT_TYPED_H
#define DIEWRIGHT_TYPED_H

#include "diewright/base.h"

struct typed_item { const char *kind, *name; };
struct typed_entry { const char *item, *path, *text; };

enum typed_what {
    TYPED_ENTRY,  /* item, path: before -> after; NULL is "not there" */
    TYPED_ITEM,   /* the item itself: kind before -> after; NULL before: added, NULL after: taken out */
    TYPED_NAME,   /* item renamed: before -> after; `item` is the name before */
    TYPED_PLACE,  /* its place in the order, as a decimal number counting from 0: before -> after */
    TYPED_ORDER,  /* place of an entry among its item's (groups of own values): path, before -> after */
};
struct typed_change { enum typed_what what; const char *item, *path, *before, *after; };

/* Changes taken together. */
struct typed_event {
    long seq;
    const char *title;  /* one line: "die_plate.thickness 32 mm -> 36 mm" */
    const char *who, *when; /* when: ISO 8601 local time */
    bool edit;          /* somebody's edit; false: an undo or redo of one */
    long of;            /* that one; 0 of an edit */
    bool undone;
    /* Of store_standing() and store_taken_back() alone: the event that did the edit last (itself or a redo),
     * or took it back; who made that one, and when. CHANGES are those of that event. */
    long last;
    const char *by, *at;
    const struct typed_change *changes; int n_changes;
};

#endif
