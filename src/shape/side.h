/* What the outlines' files share. */
#ifndef SHAPE_SIDE_H
#define SHAPE_SIDE_H

#include "diewright/shape.h"

/* An arc whose ends and middle are known to fit each other. */
struct shape_side side_round(double cx, double cy, double radius, int way, double x0, double y0, double x1,
                             double y1);
/* Sine and cosine of the turn from the end of A into B. */
void side_turn(const struct shape_side *a, const struct shape_side *b, double *sine, double *cosine);
/* From the place to the nearest of the side, its ends counted. */
double side_from(const struct shape_side *s, double x, double y);
/* By how much one turns who looks along the side from the place. */
double side_seen_turn(const struct shape_side *s, double x, double y);

#endif
