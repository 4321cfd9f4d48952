/* tui/tui.h - the face that panes and views see: what is shown, at which level, and what may be asked for
 *
 * The main screen has four panes; above it lies a pile of levels (a field, a list, a full view), each left
 * with Esc. What the cursor stands on is kept by name (item, path), so that it survives every new binding;
 * indices into the die set are looked up again in tui_settle() whenever `changed` has gone up.
 *
 * What belongs to one owner is a struct of its own, told in the owner's header (form.h, stack.h, plan.h,
 * found.h, go.h, edits.h, command.h, lesson.h); who reads it includes that. Views are asked for by name
 * (open.h).
 */
#ifndef DIEWRIGHT_TUI_TUI_H
#define DIEWRIGHT_TUI_TUI_H

#include "diewright/terminal.h"
#include "diewright/tui.h"
#include "diewright/view.h"
#include "tui/frame.h"
#include "tui/keys.h"
#include "tui/layout.h"
#include "tui/level.h"
#include "tui/list.h"
#include "tui/message.h"
#include "tui/open.h"

enum { PATH_MOST = 240 };

enum pane { PANE_STACK, PANE_SWAP, PANE_PLAN, PANE_FINDINGS, PANES };
enum swap { SWAP_FORM, SWAP_PLAN, SWAP_SECTION };

struct tui {
    struct tui_options o;
    struct job *job;
    struct job *made; /* begun here; NULL: none */
    struct dieset *d;
    struct terminal *terminal;
    struct paint p;
    struct layout at;
    double cell_ratio;
    bool ascii;

    enum dieset_state state;
    enum pane focus;
    enum swap swap;
    bool zoomed; /* the pane with the keys has the body */
    char item[80], path[PATH_MOST]; /* what the cursor of the stack is on, and of the form */

    int key;              /* the one being dealt with */
    bool mouse;           /* its reports come */
    int mouse_y, mouse_x; /* of the click being dealt with; -1: it is none */
    int leaving;          /* -1: stays; else the exit status */
    bool asked_to_leave;  /* q was pressed once over an unsaved edit */

    long changed, settled; /* values may differ since; last looked up */
    char revision[REVIEW_LETTER]; /* the latest, "" before the first */
    int edits_since;

    struct pile pile;
    struct message message;
    struct frame frame;
    const struct names *names; /* all that there is by name */

    struct form *form;
    struct stack *stack;
    struct plan *plan;
    struct found *found;
    struct visits *visits;
    struct last *last;
    struct typed *typed;
    struct marks *marks;
    struct lesson *lesson; /* NULL until practice is asked for */
};

unsigned tui_place(const struct tui *t);                 /* where keys go now, for the key table */
unsigned tui_pane_place(const struct tui *t, enum pane p); /* what stands there: AT_FORM ... */
bool tui_alone(const struct tui *t); /* the pane with the keys has the body, wished or for lack of room */
bool tui_pane_has_keys(const struct tui *t, unsigned place); /* of the panes, whatever lies over them */
/* A step of the screens in mm, as the job has it: its plan_step, plan_stride, ram_step or ram_fine. Where it
 * has no value a sentence says so and 0 comes back: nothing moves then. */
double tui_step(struct tui *t, const char *name);
struct view_options tui_view(const struct tui *t);
struct unit_display tui_lengths(const struct tui *t);
void tui_changed(struct tui *t); /* values may differ: look all up again before drawing */
void tui_settle(struct tui *t);  /* look it up now */
/* Show JOB from now on, from its top; all levels are left. */
void tui_use(struct tui *t, struct job *job, bool look);

#endif
