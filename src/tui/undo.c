/* tui/undo.c - edits taken back and made again; somebody else's only once that is confirmed */

#include "tui/undo.h"

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/lesson.h"
#include "tui/line.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

void undo_step(struct tui *t, bool back, long edit)
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

void act_undo(struct tui *t) { undo_step(t, true, 0); }

void act_redo(struct tui *t) { undo_step(t, false, 0); }
