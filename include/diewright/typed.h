/* diewright/typed.h - what is typed in a job: items, entries, changes, as texts; and where an entry stands
 *
 * An *item* has a kind, a name and a place in the job's order. An *entry* is what somebody typed: item, path,
 * text. A *change* turns one such text into another. The store keeps them, the die set binds them; what a
 * text says is nothing to this room, but for the path and for `lay`, which are read and written here alone.
 * Uses: record, base.
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

/* ---- where an entry stands -------------------------------------------------------------------- */

enum typed_place {
    TYPED_AT_NAME,  /* "thickness", "title", "value" of a factor, "reach" of a group of own values */
    TYPED_AT_LAY,   /* "lay" */
    TYPED_AT_TAKE,  /* what a pattern asks for, and the turn of all: "lay/end", "lay/turn" */
    TYPED_AT_POINT, /* of a point that is freed: "lay/right_front/x" */
    TYPED_AT_LINE,  /* of an outline, counted from 1: "outline/3" */
    TYPED_AT_ROW,   /* of the job's own sizes, counted from 1: "line/3" */
};
enum typed_axis { TYPED_X, TYPED_Y, TYPED_TURN, TYPED_AXES };
/* What is told of it, in the order of a dump: "thickness/reason"; all but a reason of own values alone. */
enum typed_detail {
    TYPED_ITSELF,
    TYPED_TYPE,
    TYPED_HELP,
    TYPED_CHOICES,
    TYPED_FROM,
    TYPED_REASON,
    TYPED_DETAILS
};

struct typed_path {
    enum typed_place place;
    enum typed_detail detail;
    const char *name; /* of the property, the take or the point: LENGTH bytes of the text that was read */
    size_t length;
    size_t base; /* bytes of the path without its detail */
    int axis;   /* of a point, enum typed_axis; -1: none that there is */
    int number; /* of a line or a row; 0: not one */
};
/* Every text has a place; whether there is anything at it, the die set knows. */
struct typed_path typed_path_read(const char *text);
bool typed_path_names(const struct typed_path *p, const char *name);
bool typed_is_reason(const char *path);
bool typed_is_laid(const char *path); /* a measure of the pattern, or of a point; not "lay" itself */
/* It is BASE, or stands under it: "outline/3/reason" under "outline/3" and under "outline". */
bool typed_belongs(const char *path, const char *base);
/* The name by which people know what stands there: "posts.right_back.x" of "lay/right_back/x",
 * "posts.lay.end" of "lay/end", "posts" of "". Yours to free(). */
char *typed_known(const char *item, const char *path);
/* Paths. Yours to free(). */
char *typed_of_take(const char *take);
char *typed_of_point(const char *point, enum typed_axis axis);
char *typed_of_line(int number);
char *typed_of_row(int number);
char *typed_of_reason(const char *path);
char *typed_of_detail(const char *path, enum typed_detail detail); /* none that is TYPED_ITSELF */
const char *typed_axis_name(enum typed_axis axis);       /* "x", "y", "turn" */

/* ---- the text at "lay" ----------------------------------------------------------------------- */

enum { TYPED_LAY_WORD = 100 };
/* "corners on die_plate", or "with posts": then PATTERN is "". */
struct typed_lay { bool with; char pattern[TYPED_LAY_WORD], on[TYPED_LAY_WORD]; };
/* False: it is neither; PATTERN is its first word all the same. TEXT may be NULL: nothing is typed. */
bool typed_lay_read(const char *text, struct typed_lay *out);
char *typed_lay_on(const char *pattern, const char *plate); /* yours to free() */
char *typed_lay_with(const char *item);                     /* yours to free() */

#endif
