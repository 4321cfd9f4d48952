/* diewright/shape.h - plane geometry: outlines of lines and arcs, boxes, spots. No die set, no trade.
 *
 * A *shape* is an array of sides, each beginning where the one before ends, the first where the last ends.
 * Lengths in mm, angles in rad, areas in mm2; x to the right, y away from the eye, turns anticlockwise. What
 * touches within SHAPE_NEAR counts as touching. Arrays are the caller's. Nothing here fails but where it says
 * so. Formulas are school geometry unless a source is named. Uses: base.
 */
#ifndef DIEWRIGHT_SHAPE_H
#define DIEWRIGHT_SHAPE_H

#include "diewright/base.h"

#include <math.h>

#define SHAPE_NEAR 1e-7 /* mm */

/* One side, from its first end to its second. RADIUS 0: straight; else an arc round cx, cy that turns WAY
 * (1 left, -1 right) by SWEEP, rad. CUTS: what is outlined is cut along it; carried along, not looked at. */
struct shape_side { double x0, y0, x1, y1, cx, cy, radius, sweep; int way; bool cuts; };

struct shape_box { double left, right, front, back; };

/* hypot() guards against overflow as well, which no length in a tool needs, and takes longer. */
static inline double shape_distance(double x, double y) { return sqrt(x * x + y * y); }

/* ---- sides ---- */

struct shape_side shape_straight(double x0, double y0, double x1, double y1);
/* From one place to another with a radius; false when there is no such arc: no radius, or the radius does
 * not reach. */
bool shape_arc(double x0, double y0, double x1, double y1, double radius, int way, bool long_way,
               struct shape_side *out);
double shape_side_length(const struct shape_side *s);
/* The place at a SHARE of its length, 0 .. 1. */
void shape_side_place(const struct shape_side *s, double share, double *x, double *y);
/* The direction in which it begins, or ends: a unit vector. */
void shape_side_direction(const struct shape_side *s, bool at_end, double *x, double *y);
/* Where two sides meet: at most two places, how many. WHOLE: as endless lines and whole circles. */
int shape_sides_meet(const struct shape_side *a, const struct shape_side *b, bool whole, double x[2],
                     double y[2]);

/* ---- shapes ---- */

double shape_length(const struct shape_side *s, int n);
double shape_area(const struct shape_side *s, int n); /* negative: clockwise */
struct shape_box shape_box(const struct shape_side *s, int n); /* of sides that need not be closed */
void shape_shift(struct shape_side *s, int n, double x, double y);
void shape_turn(struct shape_side *s, int n, double turn); /* about the origin */
void shape_reverse(struct shape_side *s, int n);
/* A rectangle of half extents with round corners, anticlockwise round 0, 0; room for 8. How many sides. */
int shape_rectangle(double half_x, double half_y, double corner, struct shape_side *out);
/* The smallest radius among the arcs that bend the way the outline goes round; 0 when a corner of that kind
 * is sharp. */
double shape_inside_corner(const struct shape_side *s, int n);
/* All places that are at most GROW outside of the anticlockwise shape (at least -GROW inside of it): corners
 * that gape get an arc, others are cut back. Room for 2 * N sides in OUT. How many; 0 when it cannot be: a
 * side would be left with nothing. */
int shape_offset(const struct shape_side *s, int n, double grow, struct shape_side *out);
/* The same for walls that lean out: each corner stays one, where the moved sides, as endless lines and whole
 * circles, meet next to it, so that the sides keep their number. Room for N in OUT. False: it cannot be. */
bool shape_offset_sharp(const struct shape_side *s, int n, double grow, struct shape_side *out);
/* Pairs of sides that meet elsewhere than where one goes over into the next; the first such pair, counted
 * from 0. */
int shape_crossings(const struct shape_side *s, int n, int *first, int *second);
bool shape_inside(const struct shape_side *s, int n, double x, double y);
double shape_from(const struct shape_side *s, int n, double x, double y); /* to the rim, from either side */
/* The least distance between two shapes, B shifted by X, Y; negative when they overlap: how deep the deepest
 * corner or middle of a side of one lies in the other. */
double shape_apart(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b, double x,
                   double y);

/* The least distance between the two rims, 0 when they meet: of a hole within an outline what is left. */
double shape_rims_apart(const struct shape_side *a, int n_a, const struct shape_side *b, int n_b);

/* ---- areas ---- */

/* What lies inside of a closed outline, or, OUTSIDE, all but that. The outline goes round anticlockwise and
 * does not cross itself. */
struct shape_part { const struct shape_side *sides; int n; bool outside; };
/* A piece of an area's rim, the area on its left; OF: which of the parts it comes from. LOOP: see below. */
struct shape_rim { struct shape_side side; int of, loop; };
typedef BASE_VEC(struct shape_rim) shape_rims;

/* Add the rim of what N parts have in common to OUT. Where rims run along each other the first of them is
 * told; where they leave nothing between them, none. Own derivation: each side is parted where it meets
 * another rim, and the middle of a piece tells for all of it. */
void shape_common(const struct shape_part *parts, int n, shape_rims *out);
/* Put the pieces in order, one after the other all round, and number the loops from 0: an outer rim goes
 * anticlockwise, a hole's clockwise. How many loops. Areas that touch in a place only are told apart. */
int shape_loops(shape_rims *rims);
/* Of the pieces of one LOOP, all together if it is -1. */
double shape_rims_area(const shape_rims *rims, int loop);
struct shape_box shape_rims_box(const shape_rims *rims, int loop);
bool shape_rims_inside(const shape_rims *rims, int loop, double x, double y);

/* A length, the length times its middle along and across, and from where it begins to where it ends: 0 of
 * what is closed. */
struct shape_cut { double length, along, across, chord_x, chord_y; };
/* Of the sides of part OF that cut, as far as they are in the rim. */
struct shape_cut shape_rims_cut(const shape_rims *rims, int of);

/* What of the area is left on a line across: at X, from front to back, in so many strands, all together WIDE,
 * the narrowest NARROW. */
struct shape_section { double x, wide, narrow; int strands; };
/* The narrowest section between two places along, of several alike the one nearest to FROM; false: the range
 * is empty. Between two places where the rim turns a corner or an arc is farthest the width is searched by
 * thirds. */
bool shape_narrowest(const shape_rims *rims, double from, double to, struct shape_section *out);

/* ---- boxes with round corners ---- */

/* Its middle, the half extents inside of the corners' radius, that radius. A circle has no extents. */
struct shape_round { double x, y, along, across, corner; };
/* Negative: by how much they overlap, the way on which they part soonest. */
double shape_rounds_apart(const struct shape_round *a, const struct shape_round *b);
double shape_round_from(const struct shape_round *a, double x, double y); /* negative: inside */

/* ---- pairs ---- */

/* Between the Ith and the Kth, I < K; INFINITY: they are no pair. */
typedef double shape_wall_fn(void *arg, int i, int k);
typedef void shape_pair_fn(void *arg, int i, int k, double wall);
/* Visit the pairs whose wall is under WITHIN, in order. Walls are asked of those alone whose boxes are nearer
 * to each other than that. */
void shape_pairs(const struct shape_box *boxes, int n, double within, shape_wall_fn *wall,
                 shape_pair_fn *visit, void *arg);

/* ---- spots ---- */

/* A place; only spots of one class can stand for each other. */
struct shape_spot { double x, y; int class; };

/* Ways to lay a plate down otherwise. Turns go round the vertical axis; a plate turned over shows its other
 * face. */
enum shape_way {
    SHAPE_TURN_HALF,
    SHAPE_TURN_LEFT,
    SHAPE_TURN_RIGHT,
    SHAPE_OVER_LENGTH,
    SHAPE_OVER_WIDTH,
    SHAPE_OVER_LEFT,
    SHAPE_OVER_RIGHT,
    SHAPE_WAYS
};
struct shape_spot shape_spot_moved(struct shape_spot s, double middle_x, double middle_y, enum shape_way way);

/* The greatest distance from an image to the nearest spot of its class; infinite when a class has no spot. */
double shape_spots_miss(const struct shape_spot *spots, const struct shape_spot *images, size_t n);
/* The least that the greatest distance can be when the images are shifted together, so that the first of the
 * rarest class moves by at most MOST; *X, *Y that shift. Own derivation: a shift that is best for N images
 * lies in the middle of the least circle round what each of them is off its spot. Sure where the spots of a
 * class stand further apart than four times what is told; else it may be told too large. */
double shape_spots_fit(const struct shape_spot *spots, const struct shape_spot *images, size_t n, double most,
                       double *x, double *y);
/* The greatest distance between two of them; 0 for fewer than two. */
double shape_spots_farthest(const struct shape_spot *spots, size_t n);
/* The widest span between neighbours: the longest link when all are linked by the shortest there are. */
double shape_spots_widest_span(const struct shape_spot *spots, size_t n);

#endif
