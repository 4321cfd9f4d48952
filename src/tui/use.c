/* tui/use.c - another job is shown from its top: one's own, or one of practice */

#include "tui/edits.h"
#include "tui/form.h"
#include "tui/found.h"
#include "tui/go.h"
#include "tui/marks.h"
#include "tui/plan.h"
#include "tui/stack.h"
#include "tui/tui.h"

void tui_use(struct tui *t, struct job *job, bool look)
{
    tui_clear(t);
    if (t->job)
        job_drop(t->job);
    t->job = job;
    t->d = job_dieset(job);
    t->o.look = look;
    t->state = DIESET_NEW;
    t->focus = PANE_STACK;
    t->swap = SWAP_FORM;
    t->zoomed = false;
    t->item[0] = t->path[0] = '\0';
    form_reset(t);
    stack_reset(t);
    plan_reset(t);
    found_reset(t);
    go_reset(t);
    edit_forget(t);
    marks_clear(t);
    tui_changed(t);
}
