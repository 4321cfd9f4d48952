/* tui/panes.h - the four panes of the main screen
 *
 * A pane draws itself from its owner's state (form.h, stack.h, plan.h, found.h) into any area; form, plan and
 * section change places.
 */
#ifndef DIEWRIGHT_TUI_PANES_H
#define DIEWRIGHT_TUI_PANES_H

#include "tui/tui.h"

struct pane_ops {
    unsigned place; /* of the key table */
    void (*draw)(struct tui *t, struct area a, bool focus);
    void (*move)(struct tui *t, enum move m);
    void (*enter)(struct tui *t);
    /* as a level's, of a pane drawn in A; may be NULL */
    enum hit (*at)(struct tui *t, struct area a, int y, int x);
    bool listed; /* it is a list, which the wheel moves in */
};
extern const struct pane_ops stack_pane, form_pane, plan_pane, section_pane, findings_pane;
const struct pane_ops *tui_pane(const struct tui *t, enum pane p);

/* ---- panes/side.c: what hangs on the value at the cursor ---- */
void side_draw(struct tui *t, struct area a);

/* ---- panes/plan.c ---- */
void plan_zoom(struct tui *t, int by);
void plan_pan(struct tui *t, enum move m);
void plan_legend(struct tui *t, struct area a, int y); /* only letters that are there */

/* ---- panes/practice.c: the findings pane's rows for practice, from the top of A ---- */
/* Returns how many were taken: all of them while the mistake is looked for. */
int practice_pane_draw(struct tui *t, struct area a);

#endif
