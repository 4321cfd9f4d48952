/* draw/letters.h - the alphabet: strokes of each letter on a grid of a tenth of its height */
#ifndef DIEWRIGHT_DRAW_LETTERS_H
#define DIEWRIGHT_DRAW_LETTERS_H

#include "diewright/draw.h"

/* One step of a stroke, in tenths of the height: move there, a line there, or a curve there by one control
   point (a quadratic one). */
enum letter_step { LETTER_MOVE, LETTER_STRAIGHT, LETTER_CURVE };
typedef void letter_fn(void *arg, enum letter_step step, double cx, double cy, double x, double y);

/* Does CH have strokes (a blank has none of its own, and is known)? */
bool letter_known(uint32_t ch);
double letter_advance(uint32_t ch); /* to where the next one begins, tenths of the height */
void letter_draw(uint32_t ch, letter_fn *step, void *arg);

/* draw.c: V as both writers write it, with up to four decimals. */
void draw_number(struct base_text *out, double v);

#endif
