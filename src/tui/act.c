/* tui/act.c - keys that belong to no one view: moving, panes, undo, items, quitting */

#include "tui/act.h"

#include "tui/line.h"
#include "tui/views/lesson.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- moving ---- */

static void move_by(struct tui *t, enum move m)
{
    struct level *l = tui_top(t);
    if (l && l->ops->move) {
        l->ops->move(t, l, m);
    } else if (!l) {
        tui_pane(t, t->focus)->move(t, m);
        t->quick = true;
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
    else
        base_text_clear(&t->message);
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
    bool with_form = tui_pane(t, t->focus) == &form_pane;
    t->swap = s;
    if (with_form && s != SWAP_FORM)
        t->focus = PANE_SWAP;
    t->zoomed = false;
}

void act_show_form(struct tui *t) { swap_to(t, SWAP_FORM); }
void act_show_plan(struct tui *t) { swap_to(t, SWAP_PLAN); }
void act_show_section(struct tui *t) { swap_to(t, SWAP_SECTION); }

void act_zoom(struct tui *t)
{
    t->zoomed = !t->zoomed;
}

void act_state(struct tui *t)
{
    t->state = t->state == DIESET_NEW ? DIESET_GROUND : DIESET_NEW;
    tui_changed(t);
}

void act_all(struct tui *t)
{
    t->all = !t->all;
    form_settle(t);
    tui_say(t, t->all ? "all values" : "the plain values; v shows all");
}

/* ---- plan ---- */

static void larger(struct tui *t, int by)
{
    if (tui_pane(t, t->focus) == &section_pane)
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
void act_below(struct tui *t) { t->see_through = !t->see_through; }
void act_turn_over(struct tui *t) { t->from_below = !t->from_below; }

/* ---- undo and redo ---- */

static void take_step(struct tui *t, bool back, long edit)
{
    struct base_diag why = {0};
    enum base_err err = job_step_take(t->job, back, edit, &why);
    tui_changed(t);
    if (err) {
        tui_complain(t, "%s", why.message);
        return;
    }
    const struct job_outcome *o = job_outcome(t->job);
    lesson_taken(t);
    edit_remember(t, o);
    tui_say(t, "%s; %d moved, %d finding%s came, %d went. %s", o->title, o->n_moves, o->n_came,
            o->n_came == 1 ? "" : "s", o->n_went, back ? "Ctrl-R makes it again" : "u takes it back");
}

static void asked_undo(struct tui *t, const char *edit, const char *text)
{
    if (strcmp(text, "y") == 0)
        take_step(t, true, strtol(edit, NULL, 10));
    else
        tui_say(t, "nothing taken back");
}

static void asked_redo(struct tui *t, const char *edit, const char *text)
{
    if (strcmp(text, "y") == 0)
        take_step(t, false, strtol(edit, NULL, 10));
    else
        tui_say(t, "nothing made again");
}

void act_step(struct tui *t, bool back, long edit)
{
    struct job_step s;
    char number[24];
    if (!job_step_next(t->job, back, edit, &s) || s.own) {
        take_step(t, back, edit);
        return;
    }
    snprintf(number, sizeof number, "%ld", s.edit);
    struct line *l = line_open(t, back ? "y takes it back: " : "y makes it again: ", number, "",
                               back ? asked_undo : asked_redo);
    base_text_addf(&l->above, "%s %s at %s: %s", s.who, back ? "edited" : "took back", s.when, s.title);
}

void act_undo(struct tui *t) { act_step(t, true, 0); }
void act_redo(struct tui *t) { act_step(t, false, 0); }

/* ---- items ---- */

static void added(struct tui *t, enum base_err err, const struct base_diag *why, const char *name)
{
    if (err) {
        tui_complain(t, "%s", why->message);
        return;
    }
    if (!edit_take(t))
        return;
    tui_settle(t);
    char message[900];
    snprintf(message, sizeof message, "%s", base_text_get(&t->message));
    go_to_form(t, name);
    tui_say(t, "%s", message);
}

int tui_place_of_new(const struct tui *t, const char *kind)
{
    int here = dieset_find_item(t->d, t->item);
    return here >= 0 && dieset_item_kind(t->d, here) == handbook_find_kind(dieset_handbook(t->d), kind)
               ? here + 1
               : -1;
}

static void named(struct tui *t, const char *kind, const char *name)
{
    struct base_diag why = {0};
    enum base_err err = job_add(t->job, kind, name, tui_place_of_new(t, kind), &why);
    tui_changed(t);
    added(t, err, &why, name);
}

/* "plate", then "plate_2" ...: a name that is free. */
void tui_free_name(const struct tui *t, const char *stem, char *buf, size_t size)
{
    snprintf(buf, size, "%s", stem);
    for (int n = 2; dieset_find_item(t->d, buf) >= 0 && n < 1000; n++)
        snprintf(buf, size, "%s_%d", stem, n);
}

static void kind_chosen(struct tui *t, const char *subject, const struct choice *c)
{
    char name[100];
    (void)subject;
    tui_free_name(t, c->value, name, sizeof name);
    if (handbook_kind(dieset_handbook(t->d), handbook_find_kind(dieset_handbook(t->d), c->value))->single) {
        named(t, c->value, name); /* it is named after its kind */
        return;
    }
    char *title = base_format("name of the new %s: ", c->label);
    ask_open(t, title, c->value, name, named);
    free(title);
}

void act_add(struct tui *t)
{
    const struct handbook *h = dieset_handbook(t->d);
    if (outline_add_here(t))
        return;
    int kinds = handbook_kind_count(h), n = 0, at = 0;
    int here = dieset_find_item(t->d, t->item);
    struct choice *choices = base_alloc((size_t)(kinds + 1) * sizeof *choices);
    for (int i = 0; i < kinds; i++) {
        const struct handbook_kind *k = handbook_kind(h, i);
        if ((k->single && dieset_item_of_kind(t->d, k->name) >= 0) || k->n_words)
            continue;
        if (here >= 0 && dieset_item_kind(t->d, here) == i)
            at = n;
        choices[n++] = (struct choice){base_copy(k->title), base_copy(k->name), base_copy(k->help)};
    }
    if (n == 0) {
        free(choices);
        tui_say(t, "the handbook knows no kind of item that could be added");
        return;
    }
    choice_open(t, "add an item", "", choices, n, at, NULL, kind_chosen, NULL);
}

static void named_like(struct tui *t, const char *item, const char *name)
{
    struct base_diag why = {0};
    enum base_err err = job_add_like(t->job, item, name, &why);
    tui_changed(t);
    added(t, err, &why, name);
}

void act_like(struct tui *t)
{
    char name[100];
    if (!*t->item)
        return;
    tui_free_name(t, t->item, name, sizeof name);
    char *title = base_format("name of the item like %s: ", t->item);
    ask_open(t, title, t->item, name, named_like);
    free(title);
}

static void take_out(struct tui *t, const char *item)
{
    struct base_diag why = {0};
    if (job_remove(t->job, item, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        edit_take(t);
    tui_changed(t);
}

static void asked_to_take_out(struct tui *t, const char *item, const char *text)
{
    if (strcmp(text, "y") == 0)
        take_out(t, item);
    else
        tui_say(t, "%s stays", item);
}

/* What there is once only holds what the whole set is told by, and a new one begins blank: that is asked
   first. */
void act_remove(struct tui *t)
{
    int i = dieset_find_item(t->d, t->item);
    if (i < 0)
        return;
    if (!handbook_kind(dieset_handbook(t->d), dieset_item_kind(t->d, i))->single) {
        take_out(t, t->item);
        return;
    }
    char *title = base_format("take out the %s and all typed in it? y, Enter: ", dieset_item_title(t->d, i));
    ask_open(t, title, t->item, "", asked_to_take_out);
    free(title);
}

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
