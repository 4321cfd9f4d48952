/* tui/mouse.c - clicks and the wheel, once they have been asked for
 *
 * A click puts the cursor on what stands at the cell: the pane or level there tells, by its operation `at`.
 * On what has the cursor already it is Enter, through the key table as the key itself; not so while something
 * is typed, where Enter would take it.
 */

#include "tui/act.h"
#include "tui/panes.h"
#include "tui/press.h"

static bool within(struct area a, int y, int x)
{
    return y >= a.y && y < a.y + a.h && x >= a.x && x < a.x + a.w;
}

/* The pane at the cell, and where it is; -1: none. */
static int pane_at(const struct tui *t, int y, int x, struct area *where)
{
    const struct area areas[PANES] = {t->at.stack, t->at.swap, t->at.plan, t->at.findings};
    if (tui_alone(t)) {
        *where = t->at.body;
        return within(*where, y, x) ? (int)t->focus : -1;
    }
    for (int p = 0; p < PANES; p++)
        if (within(areas[p], y, x)) {
            *where = areas[p];
            return p;
        }
    return -1;
}

static enum hit hit_pane(struct tui *t)
{
    struct area a;
    int p = pane_at(t, t->mouse_y, t->mouse_x, &a);
    if (p < 0)
        return HIT_NOTHING;
    const struct pane_ops *pane = tui_pane(t, (enum pane)p);
    bool had_keys = (int)t->focus == p;
    t->focus = (enum pane)p;
    enum hit hit = pane->at ? pane->at(t, a, t->mouse_y, t->mouse_x) : HIT_NOTHING;
    return hit == HIT_HERE && !had_keys ? HIT_MOVED : hit; /* the keys have come to it */
}

void act_click(struct tui *t)
{
    enum { RETURN = 13 };
    struct level *l = tui_top(t);
    if (t->mouse_y < 0) {
        tui_say(t, "it is the mouse that clicks; C turns it on");
        return;
    }
    enum hit hit = !l ? hit_pane(t) : l->ops->at ? l->ops->at(t, l, t->mouse_y, t->mouse_x) : HIT_NOTHING;
    if (hit == HIT_HERE)
        press_key(t, RETURN);
}

/* A level's list wherever the mouse is; else that of the pane below it, which does not get the keys. */
static void turn_wheel(struct tui *t, enum move m)
{
    enum { LINES_EACH = 3 };
    struct area a;
    struct level *l = tui_top(t);
    int p = l || t->mouse_y < 0 ? (int)t->focus : pane_at(t, t->mouse_y, t->mouse_x, &a);
    const struct pane_ops *pane = l || p < 0 ? NULL : tui_pane(t, (enum pane)p);
    for (int i = 0; i < LINES_EACH; i++)
        if (l && l->ops->move)
            l->ops->move(t, l, m);
        else if (pane && pane->listed)
            pane->move(t, m);
}

void act_wheel_up(struct tui *t) { turn_wheel(t, MOVE_UP); }
void act_wheel_down(struct tui *t) { turn_wheel(t, MOVE_DOWN); }

void act_mouse(struct tui *t)
{
    bool wanted = !t->mouse;
    t->mouse = terminal_mouse(t->terminal, wanted);
    if (wanted && !t->mouse)
        tui_complain(t, "this terminal's description knows of no mouse (TERM=%s)", t->o.term);
    else if (t->mouse)
        tui_say(t, "mouse on: a click goes there, on what has the cursor it is Enter; to select text hold "
                   "Shift. P: off");
    else
        tui_say(t, "mouse off: the terminal selects text by itself again");
}
