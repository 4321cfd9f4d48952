/* The openings of a plate, and the walls that they leave standing in it.
 *
 * All in the plate's own place: x and y from its left front corner, z from its bottom face. An opening is one
 * hole, cut into *pieces* from height to height: a straight one, one that widens below a land, the point of a
 * drill. At each height the widest of those that lie in one another counts; what is left of a piece by that
 * is a *wall*.
 */
#ifndef SOLID_OPENING_H
#define SOLID_OPENING_H

#include "diewright/dieset.h"

struct opening {
    struct dieset_hole hole;
    bool round;                 /* about x, y; else by its sides, anticlockwise */
    double x, y;
    struct shape_side *sides;
    int n;
    bool open;                  /* breaks an edge of the plate, and may */
    const char *name;           /* "die_screws tapped hole M10" */
};
/* SIZE at its ends: the radius of a round one, else by how much its outline is grown. */
struct piece { int opening; double low, high, size_low, size_high; };
/* From one level to another. */
struct wall { int piece, low, high; };

struct openings {
    struct dieset *d;
    int plate;
    enum dieset_state state;
    double length, width, thickness;
    BASE_VEC(struct opening) at;
    BASE_VEC(struct piece) pieces;
    BASE_VEC(double) levels;    /* from 0 to the thickness */
    BASE_VEC(struct wall) walls;
    struct base_arena memory;
};

/* All holes of PLATE; refused where they are no solid, with the names of what is in the way. On failure
 * nothing is left to give back. */
NODISCARD enum base_err openings_read(struct dieset *d, int plate, enum dieset_state s, struct openings *out,
                                      struct base_diag *why);
void openings_done(struct openings *o);
/* The refusal of two openings that touch or cut each other. */
enum base_err openings_refuse(const struct openings *o, int a, int b, struct base_diag *why);

/* ---- section.c: what a piece is at a height ---- */

double piece_size(const struct piece *p, double z);
const struct opening *piece_opening(const struct openings *o, int piece);
/* The sides of a piece at a height: yours to free(). A round one gets two. NULL: nothing is left of them. */
struct shape_side *section_sides(const struct openings *o, int piece, double z, int *n);

enum relation { APART, HOLDS, HELD, SAME, CUTS };
/* Of two pieces at a height: A holds B, A is held by B; CUTS: they touch or cross. */
enum relation section_relation(const struct openings *o, int a, int b, double z);
bool section_one_axis(const struct openings *o, int a, int b); /* two round ones */

#endif
