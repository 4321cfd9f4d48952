/* view/parts.h - what stands where in the section, at a height of the ram */
#ifndef DIEWRIGHT_VIEW_PARTS_H
#define DIEWRIGHT_VIEW_PARTS_H

#include "diewright/view.h"

struct part {
    double low, high;   /* over the lower shoe's bottom face */
    double left, right; /* along the feed */
    int item;
    char letter;        /* 0: none */
    bool coil;          /* its ends move with two plates */
    bool shares;        /* a longer part of the item on its axis bears the letter */
    struct dieset_bent *bent; /* of what is formed and so seen as it is bent: N_BENT places; else NULL */
    int n_bent;
};
typedef BASE_VEC(struct part) part_list;

struct parts {
    struct part plates[VIEW_ROWS / 2]; /* from the top down; those whose heights are known */
    int n_plates;
    struct part strip; /* low NaN: none */
    part_list holes;
    part_list bodies; /* what stands behind comes first */
};

/* All that stands in the section with the slide RAM mm above shut. */
void parts_find(struct dieset *d, double ram, enum dieset_state s, struct parts *out);
void parts_done(struct parts *p);

#endif
