/* Writing ISO 10303-21: records by number. */
#ifndef SOLID_STEP_H
#define SOLID_STEP_H

#include "diewright/solid.h"
#include "solid/body.h"

struct step {
    struct base_text *out;
    int last;                  /* number of the last record */
    int application, part, part_view, context; /* what products and shapes refer to */
    int up, along;             /* directions that all axes share */
};

/* A product: its own definition and shape, the axes of its place. */
struct step_product { int definition, shape, axes; };

void step_begin(struct step *s, const struct solid_head *head, const char *what, struct base_text *out);
void step_end(struct step *s);
/* A record; its number. %s of a text goes through step_text() before. */
int step_add(struct step *s, const char *fmt, ...) PRINTF_LIKE(2, 3);
/* TEXT as the format writes it, in quotes; yours to free(). */
char *step_text(const char *text);
int step_axes(struct step *s, double x, double y, double z);
/* The solid as a product of its own. NAME is its name in the job, TITLE what it is called. */
struct step_product step_solid(struct step *s, const struct body *b, const char *name, const char *title);
/* A product that is put together of others, which follow by step_place(). */
struct step_product step_assembly(struct step *s, const char *name, const char *title, const int *places,
                                  int n);
/* CHILD stands in PARENT at PLACE, one of those that it was begun with. */
void step_place(struct step *s, struct step_product parent, struct step_product child, int place,
                const char *name);

#endif
