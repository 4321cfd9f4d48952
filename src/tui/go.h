/* tui/go.h - going to places, back and forward, and searching */
#ifndef DIEWRIGHT_TUI_GO_H
#define DIEWRIGHT_TUI_GO_H

#include "tui/find.h"
#include "tui/tui.h"

/* A place left behind; review: that lay over it. */
struct spot { char item[80], path[PATH_MOST]; enum pane focus; enum swap swap; bool review; };
enum { GO_PAST = 20 };
struct visits {
    BASE_VEC(struct spot) visited;
    long seen; /* the job's last event when one was here before; -1: one was not */
    int spot; /* where in visited: their count when at a new place, -1 when none has been left */
    char search[80];
    struct find_hit hit; /* of what was looked for, where we went last */
    char past[GO_PAST][80]; int n_past; /* what was looked for, the latest first */
    char review[PATH_MOST + 20]; /* the line of the review that its cursor was on last */
};

void go_reset(struct tui *t); /* another job */
/* Where the cursor is can be gone back to. */
void go_remember(struct tui *t);
/* Put the cursor on an item or a value; remembers where it was. False: no such path. */
bool go_to(struct tui *t, const char *item, const char *path);
/* To an item whose form has the keys: what is typed next is meant for its values. */
bool go_to_form(struct tui *t, const char *item);
bool go_to_quantity(struct tui *t, int quantity);
/* To an item, a value or a finding, whose key it is; that there is none now is said. */
bool go_to_subject(struct tui *t, const char *subject);
/* Look for TEXT ("": as before) from here on: what n and N go through. */
void go_search(struct tui *t, const char *text);
/* To what was found, told with its place among all that were. */
void go_to_hit(struct tui *t, const struct find_hit *h);
/* TEXT is what was looked for last: it heads the list of those. */
void go_keep_search(struct tui *t, const char *text);
/* The value that is meant by the cursor: a finding's cause, else that of the form; NULL: none. */
const char *go_value(struct tui *t);

#endif
