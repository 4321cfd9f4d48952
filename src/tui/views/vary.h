/* tui/views/vary.h - a value over a range: the run, where the cursor stands in it, and the picture of it
 *
 * A run is asked for by `pending` and made in the idle call, so that the screen is there first and any key
 * breaks in; what was broken off begins again once the key is done with. The die set is as it was between
 * calls.
 */
#ifndef DIEWRIGHT_TUI_VARY_H
#define DIEWRIGHT_TUI_VARY_H

#include "tui/tui.h"

#include "diewright/explore.h"

enum { VARY_SHOWN = 16 };

struct vary {
    struct level level;
    char path[PATH_MOST];
    struct explore_ask ask;      /* its quantity is looked up again for every run */
    struct explore_ask range;    /* to come back to from the listed sizes */
    double *listed;              /* its points then */
    double about;                /* the value at which the cursor stands after the run */
    struct explore *run;         /* NULL: none yet */
    char refused[600];           /* why there is none, "" */
    int shown, at, mark;         /* mark -1: none */
    int top;                     /* first line of the picture */
    int plot_width, plot_height; /* of the picture drawn last; where it stood is the level's `listed` */
    bool mine;                   /* the next settling is of the run itself */
};

/* The point whose column of the plot drawn last is nearest to X of the screen, -1: none is near. */
int vary_point_at(const struct vary *v, int x);
void vary_draw(struct tui *t, struct vary *v, struct area a);
bool vary_both_fit(struct area a); /* the two points have room beside the picture */

#endif
