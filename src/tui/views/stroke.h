/* tui/views/stroke.h - the stroke: where the ram stands, and the picture of it
 *
 * A happening is an event of either state: the two are told apart by title and item. Bars are values along
 * the stroke that have a limit or a whole; the others stand in the list below the happenings. All numbers are
 * the die set's (dieset_events, dieset_motions); nothing is worked out here but where they are drawn.
 */
#ifndef DIEWRIGHT_TUI_STROKE_H
#define DIEWRIGHT_TUI_STROKE_H

#include "tui/tui.h"

enum { STROKE_EVENTS = 64, STROKE_VALUES = 64 };

/* NaN: not in that state */
struct happening { char title[120]; int item; bool broken; double at[DIESET_STATES]; };

struct stroke {
    struct level level; /* pending while it glides */
    double ram;         /* mm above shut */
    double top;         /* of the stroke, or the first thing that happens */
    struct happening happen[STROKE_EVENTS]; /* in the order of the state at hand */
    int n_happen;
    int first_bar;      /* bars above it have been scrolled away */
};

/* The nearest happening over (BY 1) or under the ram in state S, -1 none. */
int stroke_next(const struct stroke *k, enum dieset_state s, int by);
bool stroke_is_at(const struct stroke *k, const struct happening *e, enum dieset_state s);
void stroke_draw(struct tui *t, struct stroke *k, struct area a);

#endif
