/* tui/tui.c - what all of this room ask of the state */

#include "tui/tui.h"

#include <math.h>
#include <string.h>

unsigned tui_pane_place(const struct tui *t, enum pane p)
{
    static const unsigned swaps[] = {AT_FORM, AT_PLAN, AT_SECTION};
    switch (p) {
    case PANE_STACK: return AT_STACK;
    case PANE_SWAP: return swaps[t->swap];
    case PANE_PLAN: return t->swap == SWAP_PLAN ? AT_FORM : AT_PLAN; /* they change places */
    default: return AT_FINDINGS;
    }
}

bool tui_alone(const struct tui *t) { return t->zoomed || t->at.alone; }

bool tui_pane_has_keys(const struct tui *t, unsigned place)
{
    return tui_pane_place(t, t->focus) == place;
}

unsigned tui_place(const struct tui *t)
{
    const struct level *l = tui_top(t);
    return t->at.small ? AT_SMALL : l ? l->ops->place : tui_pane_place(t, t->focus);
}

void tui_changed(struct tui *t) { t->changed++; }

double tui_step(struct tui *t, const char *name)
{
    int job = dieset_item_of_kind(t->d, DIESET_JOB);
    double mm = job < 0 ? NAN : dieset_number(t->d, job, name, DIESET_NEW);
    if (isfinite(mm) && mm > 0)
        return mm;
    tui_complain(t, "job.%s is no length above 0, so nothing moves: type one there", name);
    return 0;
}

struct view_options tui_view(const struct tui *t)
{
    return (struct view_options){.ascii = t->ascii, .cell_ratio = t->cell_ratio, .state = t->state,
                                 .item = dieset_find_item(t->d, t->item), .point = -1};
}

struct unit_display tui_lengths(const struct tui *t)
{
    return unit_display(UNIT_LENGTH, dieset_system(t->d));
}
