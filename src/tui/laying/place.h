/* tui/laying/place.h - what the files of laying out on the plan share
 *
 * place.c: the level, moving and taking; place_draw.c: its large plan and column. exact.c: the fields above
 * it. place_new.c: which pattern, and a group that is not there yet. The level lies below the fields and
 * lists, so all of them find it by place_at_hand().
 */
#ifndef DIEWRIGHT_TUI_PLACE_H
#define DIEWRIGHT_TUI_PLACE_H

#include "tui/laying/laying.h"
#include "tui/laying/near.h"

struct placing {
    struct level level;
    struct laying l;
    struct near_all near;
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

struct placing *place_at_hand(const struct tui *t); /* NULL: nothing is being placed */
void place_catch_up(struct tui *t); /* try what keys have moved */
/* Take it all and leave; false: it stays, and the message says why. */
bool place_take(struct tui *t);
void place_drop(struct tui *t); /* leave, nothing taken */
/* Where the plan stands in the level's picture. */
struct area place_picture(const struct tui *t);
void place_draw(struct tui *t, struct level *level);
struct placing *place_open(struct tui *t, const char *item);

void exact_open(struct tui *t);
void place_choose_pattern(struct tui *t);
#endif
