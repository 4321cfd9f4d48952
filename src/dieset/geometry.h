/* Plan geometry without a die set: spots, nearest ones, farthest ones. */
#ifndef DIESET_GEOMETRY_H
#define DIESET_GEOMETRY_H

#include <stdbool.h>
#include <stddef.h>

/* A place in the plan; only spots of one class can stand for each other. */
struct spot { double x, y; int class; };

/* Ways to lay a plate down otherwise. Turns go round the vertical axis; a plate turned over shows its other
   face. */
enum way { TURN_HALF, TURN_LEFT, TURN_RIGHT, OVER_LENGTH, OVER_WIDTH, OVER_LEFT, OVER_RIGHT, WAY_COUNT };
struct spot spot_moved(struct spot s, double middle_x, double middle_y, enum way way);

/* The greatest distance from an image to the nearest spot of its class; infinite when a class has no spot. */
double spots_miss(const struct spot *spots, const struct spot *images, size_t n);
/* The greatest distance between two of them; 0 for fewer than two. */
double spots_farthest(const struct spot *spots, size_t n);
/* The widest span between neighbours: the longest link when all are linked by the shortest links there
   are. */
double spots_widest_span(const struct spot *spots, size_t n);

#endif
