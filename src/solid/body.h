/* A body as faces, edges and corners: what a solid's file is written from. Knows no die set.
 *
 * Lengths in mm, z up. Circles lie level. A loop has what it encloses to its left, seen from outside of the
 * material.
 */
#ifndef SOLID_BODY_H
#define SOLID_BODY_H

#include "diewright/shape.h"

struct body_corner { double x, y, z; };

/* From one corner to another, which may be the same: straight; round cx, cy, anticlockwise seen from above;
 * or a plane conic: a rational curve of the second degree with its middle pole and that one's weight. */
enum body_curve { BODY_STRAIGHT, BODY_ROUND, BODY_CONIC };
struct body_edge {
    int from, to;
    enum body_curve curve;
    double cx, cy, radius;
    struct body_corner pole;
    double weight;
};
struct body_use { int edge; bool forward; };
struct body_loop { int first, count; }; /* of its uses */

/* A flat one faces along its normal. A cylinder or cone stands upright about `at`; a cone has its radius at
 * that height, and by its angle a larger one in the direction of normal.z. INWARD: the material is outside
 * of the surface, as at a hole. */
enum body_surface { BODY_FLAT, BODY_CYLINDER, BODY_CONE };
struct body_face {
    enum body_surface surface;
    struct body_corner at, normal;
    double radius, angle;
    bool inward;
    const char *name; /* borrowed */
    int first, count; /* of its loops, the outer one first */
};

struct body {
    BASE_VEC(struct body_corner) corners;
    BASE_VEC(struct body_edge) edges;
    BASE_VEC(struct body_use) uses;
    BASE_VEC(struct body_loop) loops;
    BASE_VEC(struct body_face) faces;
};

void body_done(struct body *b);
int body_corner(struct body *b, double x, double y, double z);
int body_straight(struct body *b, int from, int to);
/* The side of an outline between two corners; *FORWARD: the edge goes as the side does. */
struct body_use body_side(struct body *b, int from, int to, const struct shape_side *s);
int body_circle(struct body *b, int corner, double cx, double cy, double radius);
/* Begin a face; its loops follow, the outer one first. */
void body_face(struct body *b, struct body_face face);
void body_loop(struct body *b);                      /* begin a loop of the last face */
void body_use(struct body *b, int edge, bool forward); /* the next edge of the last loop */
/* all of them, on or back */
void body_uses(struct body *b, const struct body_use *uses, int n, bool forward);
/* Where an edge begins, or ends, as it is used. */
int body_begins(const struct body *b, struct body_use use);
int body_ends(const struct body *b, struct body_use use);

#endif
