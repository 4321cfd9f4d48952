/* tui/panes.c - which pane stands where */

#include "tui/panes.h"

const struct pane_ops *tui_pane(const struct tui *t, enum pane p)
{
    static const struct pane_ops *const panes[] = {&stack_pane, &form_pane, &plan_pane, &section_pane,
                                                   &findings_pane};
    unsigned place = tui_pane_place(t, p);
    for (size_t i = 0; i < COUNT_OF(panes); i++)
        if (panes[i]->place == place)
            return panes[i];
    return panes[0];
}
