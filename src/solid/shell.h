/* The shell of a plate: its faces round all openings. */
#ifndef SOLID_SHELL_H
#define SOLID_SHELL_H

#include "solid/body.h"
#include "solid/opening.h"

/* BODY begins empty; on failure, too, it is yours to body_done(). Names of faces are those of openings. */
NODISCARD enum base_err shell_build(const struct openings *o, struct body *body, struct base_diag *why);

/* ---- ring.c ---- */

/* What a wall begins or ends with: a closed line at one height, anticlockwise seen from above. Of each side
 * the corner where it begins and the edge. POINT: nothing but one corner, the tip of a cone. */
struct ring {
    int n;
    struct shape_side *sides; /* one that is round has one */
    int *corners;
    struct body_use *uses;
    bool round, point;
    double x, y, radius, z;
    int piece;
    bool above, below;        /* is it used by a wall on that side? */
};
/* False: nothing is left of the sides there. */
bool ring_new(const struct openings *o, int piece, double z, struct body *body, struct ring *out);
void ring_done(struct ring *r);
/* The faces between two rings of one piece. */
void ring_walls(const struct openings *o, int piece, const struct ring *low, const struct ring *high,
                struct body *body);

/* ---- rim.c: the plate's own sides, with the slots that are open there ---- */

/* The sides of the plate, and what lies flat between them. TOP and BOTTOM: the rims of its two faces, yours
 * to free(); on failure there are none. */
NODISCARD enum base_err rim_build(const struct openings *o, struct body *body, struct body_use **top,
                                  int *n_top, struct body_use **bottom, int *n_bottom, struct base_diag *why);
/* The rim with the slots that go right through. Yours to free(); on failure there is none. */
NODISCARD enum base_err rim_outline(const struct openings *o, struct shape_side **out, int *n,
                                    struct base_diag *why);

#endif
