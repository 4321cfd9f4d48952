/* terminal/send.c - a picture is sent: the panels over it, the cursor where it belongs */

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <panel.h>

/* A panel that a smaller screen no longer holds is not sent: the library would write beside its rows (ncurses
   6.4, wnoutrefresh). The level that owns it builds it anew when it is drawn again. */
static void hide_outside(void)
{
    for (PANEL *next, *p = panel_above(NULL); p; p = next) {
        const WINDOW *w = panel_window(p);
        next = panel_above(p);
        if (getbegy(w) + getmaxy(w) > LINES || getbegx(w) + getmaxx(w) > COLS)
            hide_panel(p);
    }
}

void paint_send(const struct paint *p, int y, int x, struct field *field, bool on_panel)
{
    wmove(p->window, y, x);
    if (field)
        field_show(field);
    hide_outside();
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
