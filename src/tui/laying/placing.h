/* tui/laying/placing.h - what the files of laying out on the plan share
 *
 * placing.c: what is being placed, tried, taken and dropped. draw.c: its large plan and column. exact.c: the
 * fields above it. moving.c: the level. begin.c: which pattern, and a group that is not there yet. keys.c:
 * how it is begun from stack, form and plan. The level lies below the fields and lists, so all of them find
 * it by placing_at_hand().
 */
#ifndef DIEWRIGHT_TUI_PLACING_H
#define DIEWRIGHT_TUI_PLACING_H

#include "diewright/place.h"
#include "tui/tui.h"

struct placing {
    struct level level;
    struct place l;
    struct place_near near;
    char plate[80];      /* the one that is shown */
    bool due;            /* keys have moved it since the last try */
    int fields;          /* rows that the column keeps free for fields */
    struct area place;   /* of those rows, as last drawn */
    /* the layout before another pattern was tried, and the point that was grabbed */
    char was[160], was_point[48];
    bool unplaced;       /* while a pattern is chosen: it stands nowhere yet */
    char from[80];       /* what the plan's cursor was on: the group, or what stands with it; "": a new one */
    int asked;           /* a new group: the next property that names a plate */
};

struct placing *placing_at_hand(const struct tui *t); /* NULL: nothing is being placed */
void placing_catch_up(struct tui *t); /* try what keys have moved */
/* Take it all and leave; false: it stays, and the message says why. */
bool placing_take(struct tui *t);
void placing_drop(struct tui *t); /* leave, nothing taken */
/* Where the plan stands in the level's picture. */
struct area placing_picture(const struct tui *t);
void placing_draw(struct tui *t, struct level *level);
struct placing *placing_open(struct tui *t, const char *item);

/* The kind of ITEM, NULL: it has none. */
const struct handbook_kind *placing_kind(const struct tui *t, int item);
/* Is the item at the cursor laid out on a plan, by itself or with another? */
bool placing_may(const struct tui *t);

/* What stands about the point in the plate shown; half a column, and half a row, is the reach of a line. */
void placing_look_about(struct tui *t, struct placing *p, double column_mm);

void exact_open(struct tui *t);
void placing_choose_pattern(struct tui *t);

#endif
