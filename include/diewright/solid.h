/* diewright/solid.h - plates as solids: files for machines and for other drawing programs
 *
 * A plate with all its holes, or the whole set in two halves, as a file of ISO 10303-21 after the application
 * protocol 214 (automotive_design): solids of plane, cylindrical and conical faces, in mm. The same die set
 * gives the same bytes: nothing in a file comes from the clock or from the machine. Plates, halves and faces
 * bear the names of the job.
 *
 * A plate stands in its own place: x and y from its left front corner, z from its bottom face, as its hole
 * chart counts. A tapped hole is its core hole, its face named after the thread; a drilled one that is blind
 * ends in the point of the drill; a die opening leans out below its land. An opening that lies in a wider
 * one, on its axis or not, is a step of it. What is no solid is refused with its names: holes that touch or
 * cut each other, or break an edge of the plate where no slot is meant to be open, or have a value that
 * cannot be worked out.
 * Uses: dieset and below.
 */
#ifndef DIEWRIGHT_SOLID_H
#define DIEWRIGHT_SOLID_H

#include "diewright/dieset.h"

/* What the head of a file says. Texts are borrowed, in UTF-8. */
struct solid_head {
    const char *job;     /* its title */
    const char *issued;  /* its revision, as papers tell it */
    const char *open;    /* what is not settled, in a sentence; NULL: nothing is */
    const char *date;    /* of its revision, "2026-11-24" (ISO 8601); "" where it has none */
};

/* One plate, added to OUT. On failure nothing is added; BASE_REFUSED: *WHY says what is in the way. */
NODISCARD enum base_err solid_plate(struct dieset *d, int plate, enum dieset_state s,
                                    const struct solid_head *head, struct base_text *out,
                                    struct base_diag *why);

/* All plates of the stack, in an upper and a lower half with the ram RAM mm above shut. Plates on one half
 * keep their places in it, a spring stripper's but for its own travel; the upper half's place in the set is
 * where the ram stands. Z counts from the lower shoe's bottom face, x and y as the job's plan. */
NODISCARD enum base_err solid_set(struct dieset *d, enum dieset_state s, double ram,
                                  const struct solid_head *head, struct base_text *out,
                                  struct base_diag *why);

/* What goes right through PLATE as curves for wire and laser, added to OUT: a picture in SVG of the plate's
 * size in mm, its rim and the narrowest section of each opening, one closed path of lines and arcs of circles
 * each. */
NODISCARD enum base_err solid_curves(struct dieset *d, int plate, enum dieset_state s,
                                     const struct solid_head *head, struct base_text *out,
                                     struct base_diag *why);

#endif
