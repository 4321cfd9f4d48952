/* terminal/send.c - a picture is sent: the panels over it, the cursor where it belongs */

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <panel.h>

void paint_send(const struct paint *p, int y, int x, struct field *field, bool on_panel)
{
    wmove(p->window, y, x);
    if (field)
        field_show(field);
    update_panels();
    if (!field && !on_panel)
        wnoutrefresh(p->window); /* the cursor belongs to the last window refreshed */
    terminal_send_picture();
}

void paint_send_now(const struct paint *p)
{
    wnoutrefresh(p->window);
    terminal_send_picture();
}
