/* The strip followed over its stations, kept with a build: what cuts.c works out and strip.c reads of it. */
#ifndef DIESET_STRIP_H
#define DIESET_STRIP_H

#include "dieset/build.h"
#include "diewright/shape.h"

/* Farther apart than so many pitches nothing is looked for. A tool that with the metal beside it (mm, each
 * way) is longer than so many pitches is not followed: a value half typed, as a pitch of 0.01 mm, would be
 * cut by itself thousands of times, which takes minutes and all memory and means nothing. */
enum { STRIP_FAR = 100000, STRIP_BESIDE = 50, STRIP_LONGEST = 256 };

/* A line that is cut, at its place. IN, SLUG: of what lies in metal when it cuts; LINE, IN_BAND: its whole
 * length, and what of it lies in the strip, cut before or not. SPARES: what it outlines stays. */
struct tool {
    int item, n;
    struct shape_side *sides;
    struct shape_box box;
    double x, y, order, line, in_band, slug;
    struct shape_cut in;
    bool known, spares, crosses;
};

typedef BASE_VEC(struct tool) tools_vec;

/* Of all tools of an item: sums; WEB, EDGE, MEETS, OVER the least of what their names say, INFINITY: none. */
struct strip_item {
    int points;
    bool known;
    double x, y, line, in_band, slug, side, web, edge, meets, over; /* SIDE: the longest chord of one */
    struct shape_cut in;
};

/* Of a piece, or a hole, of what the tools find as they come down; RIMS: borrowed of REST. */
struct strip_loop { shape_rims rims; double area; struct shape_box box; bool main, loose; };

struct strip {
    double width, pitch;
    int way;
    bool banded, fresh;
    tools_vec tools;
    tools_vec folds; /* what is formed where, one for each of the build's; nothing of it is cut */
    struct strip_item *items;
    bool webs;                 /* WEB and its like are worked out */
    bool pieces, pieces_known; /* what is below is tried, and is known */
    shape_rims rest;
    struct strip_loop *loops;
    int n_loops, n_loose;
    double parted;             /* area of what comes loose with each stroke, slugs not counted */
    struct shape_section narrowest;
};

/* As it is now, worked out anew where something moved. */
const struct strip *strip_of(const struct build *b);
/* The sides of a line or a body at its place, anticlockwise, yours to free(); NULL: a value is missing. */
struct shape_side *strip_line_sides(const struct build *b, const struct hole *h, int *n);
/* The pitches, *FIRST and the last, over which T comes to lie between LEFT and RIGHT; none: last < first. */
int strip_pitches(const struct strip *s, const struct tool *t, double left, double right, int *first);
/* Has a tool that stands a pitch or more before the place cut the strip away there? */
bool strip_gone(const struct strip *s, double x, double y);
/* ---- profile.c: folds as they lie ---- */

bool fold_is(const struct hole *h, const char *what);
/* A rectangle as it lies: its middle, half of it along and across, unit vectors of both. False: it is round,
 * or a value is missing. */
struct fold_lying { double x, y, along, across, ux, uy, vx, vy; };
bool fold_lying_of(const struct build *b, const struct hole *h, struct fold_lying *out);
/* From the fold to the item's point, the way across. */
double fold_off(const struct build *b, const struct hole *h, const struct fold_lying *l);

void strip_add_shifted(const struct tool *t, double by, struct shape_part *out); /* its sides are yours */

#endif
