/* Bodies other than plates. */
#ifndef SOLID_PARTS_H
#define SOLID_PARTS_H

#include "diewright/dieset.h"
#include "solid/body.h"

/* The body in its own place: its axis at 0, 0, its lower end at height 0. OUT begins empty. False: it is not
   known, has no height, or its outline is none. */
bool part_build(const struct dieset_body *d, struct body *out);
/* Of one shape and one item: one product stands for both. */
bool part_alike(const struct dieset_body *a, const struct dieset_body *b);

#endif
