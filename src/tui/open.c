/* tui/open.c - see open.h */

#include "tui/open.h"

#include "tui/tui.h"

#include <string.h>

void tui_open(struct tui *t, const char *view, const char *subject)
{
    for (int i = 0; i < t->names->n_views; i++)
        if (strcmp(t->names->views[i].name, view) == 0) {
            t->names->views[i].open(t, subject);
            return;
        }
    tui_complain(t, "there is no view \"%s\"", view);
}

void tui_do(struct tui *t, const char *action)
{
    for (int i = 0; i < t->names->n_actions; i++)
        if (strcmp(t->names->actions[i].name, action) == 0) {
            t->names->actions[i].run(t);
            return;
        }
    tui_complain(t, "there is no action \"%s\"", action);
}
