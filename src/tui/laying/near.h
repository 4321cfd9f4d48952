/* tui/laying/near.h - what stands about a point that is being placed: lines it may stand on, walls to other
   holes */
#ifndef DIEWRIGHT_TUI_NEAR_H
#define DIEWRIGHT_TUI_NEAR_H

#include "tui/laying/laying.h"

/* A row (or column) of what stands already, or a centre line. */
struct near_line {
    bool there;
    double at;      /* mm */
    char letter;    /* 0: the plate's centre line */
};
struct near_wall { double wall; char letter; int item, plate; };
enum { NEAR_WALLS = 3 };
struct near_all {
    /* near by where it was moved to, but not on it; on it already. Along, across */
    struct near_line hint[2], on[2];
    struct near_wall walls[NEAR_WALLS]; /* the thinnest in the plate shown, each letter once */
    int n_walls;
    struct near_wall other;          /* thinner than those, in another plate; plate -1: none */
};
/* With half a column, and half a row, of the picture as the reach of a hint. */
void near_find(const struct tui *t, const struct laying *l, int plate, double column_mm,
               struct near_all *out);
#endif
