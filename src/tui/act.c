/* tui/act.c - keys that belong to no one view: moving, panes, quitting */

#include "tui/act.h"

#include "tui/form.h"
#include "tui/marks.h"
#include "tui/lesson.h"
#include "tui/panes.h"
#include "tui/plan.h"

#include <stdio.h>
#include <string.h>

/* ---- moving ---- */

static void move_by(struct tui *t, enum move m)
{
    struct level *l = tui_top(t);
    if (l && l->ops->move) {
        l->ops->move(t, l, m);
    } else if (!l) {
        tui_pane(t, t->focus)->move(t, m);
        tui_quick(t);
    }
}

void act_up(struct tui *t) { move_by(t, MOVE_UP); }
void act_down(struct tui *t) { move_by(t, MOVE_DOWN); }
void act_left(struct tui *t) { move_by(t, MOVE_LEFT); }
void act_right(struct tui *t) { move_by(t, MOVE_RIGHT); }
void act_page_up(struct tui *t) { move_by(t, MOVE_PAGE_UP); }
void act_page_down(struct tui *t) { move_by(t, MOVE_PAGE_DOWN); }
void act_first(struct tui *t) { move_by(t, MOVE_FIRST); }
void act_last(struct tui *t) { move_by(t, MOVE_LAST); }

void act_enter(struct tui *t)
{
    struct level *l = tui_top(t);
    if (!l)
        tui_pane(t, t->focus)->enter(t);
    else if (l->ops->enter)
        l->ops->enter(t, l);
}

void act_leave(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && l->ops->leave)
        l->ops->leave(t, l);
    else if (l)
        tui_pop(t);
    else if (t->zoomed)
        t->zoomed = false;
    else if (t->marks->items.count) {
        marks_clear(t);
        tui_say(t, "nothing is marked any more");
    }
    else
        tui_hush(t);
}

/* Run from help: the list does it itself as letters come. */
void act_narrow(struct tui *t)
{
    tui_say(t, "type a few letters or figures of it; Backspace widens the list again");
}

/* ---- panes ---- */

static void pane_by(struct tui *t, int by)
{
    t->focus = (enum pane)(((int)t->focus + by + PANES) % PANES);
}

void act_next(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && l->ops->tab)
        l->ops->tab(t, l, 1);
    else if (!l)
        pane_by(t, 1);
}

void act_previous(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && l->ops->tab)
        l->ops->tab(t, l, -1);
    else if (!l)
        pane_by(t, -1);
}

/* The keys stay with what they were with, also when form and plan change places. */
static void swap_to(struct tui *t, enum swap s)
{
    bool with_form = tui_pane_has_keys(t, AT_FORM);
    t->swap = s;
    if (with_form && s != SWAP_FORM)
        t->focus = PANE_SWAP;
    t->zoomed = false;
    if (t->at.alone)
        t->focus = PANE_SWAP;
}

void act_show_form(struct tui *t) { swap_to(t, SWAP_FORM); }
void act_show_plan(struct tui *t) { swap_to(t, SWAP_PLAN); }
void act_show_section(struct tui *t) { swap_to(t, SWAP_SECTION); }

void act_zoom(struct tui *t)
{
    if (t->at.alone)
        tui_say(t, "a terminal under %dx%d has room for one pane; Tab shows the next", LAYOUT_ALL_COLUMNS,
                LAYOUT_ALL_ROWS);
    else
        t->zoomed = !t->zoomed;
}

void act_state(struct tui *t)
{
    t->state = t->state == DIESET_NEW ? DIESET_GROUND : DIESET_NEW;
    tui_changed(t);
}

void act_all(struct tui *t)
{
    t->form->all = !t->form->all;
    form_settle(t);
    tui_say(t, t->form->all ? "all values" : "the plain values; v shows all");
}

/* ---- plan ---- */

static void larger(struct tui *t, int by)
{
    if (tui_pane_has_keys(t, AT_SECTION))
        tui_pane(t, t->focus)->move(t, by > 0 ? MOVE_UP : by < 0 ? MOVE_DOWN : MOVE_LAST);
    else
        plan_zoom(t, by > 0 ? -1 : by < 0 ? 1 : 0);
}

void act_larger(struct tui *t) { larger(t, 1); }
void act_smaller(struct tui *t) { larger(t, -1); }
void act_fit(struct tui *t) { larger(t, 0); }
static void far(struct tui *t, enum move m)
{
    struct level *l = tui_top(t);
    if (l && l->ops->far)
        l->ops->far(t, l, m);
    else if (!l)
        plan_pan(t, m);
}

void act_far_left(struct tui *t) { far(t, MOVE_LEFT); }
void act_far_right(struct tui *t) { far(t, MOVE_RIGHT); }
void act_far_up(struct tui *t) { far(t, MOVE_UP); }
void act_far_down(struct tui *t) { far(t, MOVE_DOWN); }
void act_below(struct tui *t) { t->plan->see_through = !t->plan->see_through; }
void act_turn_over(struct tui *t) { t->plan->from_below = !t->plan->from_below; }

/* ---- the terminal, and the end ---- */

void act_repaint(struct tui *t)
{
    terminal_repaint(t->terminal);
}

void act_suspend(struct tui *t)
{
    terminal_suspend(t->terminal);
}

void act_quit(struct tui *t)
{
    if (lesson_leave(t))
        return;
    if (!job_saved(t->job) && !t->asked_to_leave) {
        t->asked_to_leave = true;
        tui_complain(t, "an edit is not saved: :save-as FILE keeps it, q once more loses it");
        return;
    }
    t->leaving = 0;
}
