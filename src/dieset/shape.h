/* Closed outlines of lines and arcs: measured, offset, held against each other. No die set, no trade.
 *
 * A shape is an array of sides, each beginning where the one before ends, the first where the last ends.
 * Lengths in mm, angles in rad. What touches within SHAPE_NEAR counts as touching.
 */
#ifndef DIESET_SHAPE_H
#define DIESET_SHAPE_H

#include "diewright/dieset.h"

#define SHAPE_NEAR 1e-7 /* mm */

struct shape_box { double left, right, front, back; };

/* ---- shape.c ---- */

struct dieset_side side_straight(double x0, double y0, double x1, double y1);
/* From one place to another round a middle; false when there is no such arc: no radius, or the radius does
   not reach. */
bool side_arc(double x0, double y0, double x1, double y1, double radius, int way, bool long_way,
              struct dieset_side *out);
double side_length(const struct dieset_side *s);
/* The direction in which it begins, or ends: a unit vector. */
void side_direction(const struct dieset_side *s, bool at_end, double *x, double *y);

double shape_length(const struct dieset_side *s, int n);
double shape_area(const struct dieset_side *s, int n); /* negative: clockwise */
struct shape_box shape_box(const struct dieset_side *s, int n);
void shape_shift(struct dieset_side *s, int n, double x, double y);
void shape_turn(struct dieset_side *s, int n, double turn); /* about the origin, rad, anticlockwise */
void shape_reverse(struct dieset_side *s, int n);
/* The smallest radius among the arcs that bend the way the outline goes round; 0 when a corner of that kind
   is sharp. */
double shape_inside_corner(const struct dieset_side *s, int n);
/* All places that are at most GROW outside of the anticlockwise shape (at least -GROW inside of it): corners
 * that gape get an arc, others are cut back. Room for 2 * N sides in OUT. How many; 0 when it cannot be: a
 * side would be left with nothing. */
int shape_offset(const struct dieset_side *s, int n, double grow, struct dieset_side *out);
/* A rectangle of half extents with round corners, anticlockwise round 0, 0; room for 8. */
int shape_rectangle(double half_x, double half_y, double corner, struct dieset_side *out);

/* ---- near.c ---- */

/* Where two sides meet: at most two places, how many. WHOLE: as endless lines and whole circles. */
int sides_meet(const struct dieset_side *a, const struct dieset_side *b, bool whole, double x[2],
               double y[2]);
/* Pairs of sides that meet elsewhere than where one goes over into the next; the first such pair, counted
   from 0. */
int shape_crossings(const struct dieset_side *s, int n, int *first, int *second);
bool shape_inside(const struct dieset_side *s, int n, double x, double y);
double shape_from(const struct dieset_side *s, int n, double x, double y); /* to the rim, from either side */
/* The least distance between two shapes, B shifted by X, Y; negative when they overlap: how deep the deepest
 * corner or middle of a side of one lies in the other. */
double shapes_apart(const struct dieset_side *a, int n_a, const struct dieset_side *b, int n_b, double x,
                    double y);

#endif
