/* compare/compare.h - what the files of this room share */
#ifndef COMPARE_COMPARE_H
#define COMPARE_COMPARE_H

#include "diewright/compare.h"

/* A comparison while it is made. */
struct comparing {
    struct compare *c;
    struct findings *f[COMPARE_SIDES];
    struct dieset *d[COMPARE_SIDES];
};

/* A row with both texts copied; NULL: not there. The row is borrowed until the next one. */
struct compare_row *comparing_add(struct comparing *c, enum compare_what what, const char *name,
                                  const char *first, const char *second);
/* The same, where TEXT is on SIDE only. */
void comparing_add_only(struct comparing *c, enum compare_what what, const char *name, enum compare_side side,
                        const char *text);

void comparing_items(struct comparing *c);    /* items.c */
void comparing_typed(struct comparing *c);
void comparing_values(struct comparing *c);   /* values.c */
void comparing_findings(struct comparing *c); /* outcome.c */
void comparing_orders(struct comparing *c);

#endif
