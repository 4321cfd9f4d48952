/* place/own.h - what the files of this room share */
#ifndef DIEWRIGHT_PLACE_OWN_H
#define DIEWRIGHT_PLACE_OWN_H

#include "diewright/place.h"

#define PLACE_SAME 1e-6 /* mm: the same place */
enum { PLACE_PATH = 240 };

/* ---- place.c ---- */
void place_forget_way(struct place_way *w);
struct formula_value place_value(const struct place *p, const char *name); /* "lay.turn" of the item */
struct formula_value place_take_value(const struct place *p, const struct handbook_take *take);
bool place_is_length(const struct handbook_take *take);
bool place_stands(const struct place *p, const char *path); /* something is typed there in the job */
/* Take away what stands at PATH, or leave it alone where nothing does. */
void place_take_away(struct place *p, const char *path);

/* ---- from.c ---- */
/* Is TEXT one value, which needs no brackets? */
bool place_is_simple(const char *text);
/* From where the place was dimensioned that TEXT says. */
enum place_from place_from_of(const struct place *p, int axis, const char *text);

#endif
