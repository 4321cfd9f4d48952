/* tui/loop.c - the loop: wait, do, look up again, draw
 *
 * Every frame is drawn whole from the state; the terminal is sent what differs. Nothing runs between events.
 * The state and the part of each owner are one block of memory; the parts know nothing of each other but what
 * their headers say.
 */

#include "tui/edits.h"
#include "tui/form.h"
#include "tui/found.h"
#include "tui/go.h"
#include "tui/lesson.h"
#include "tui/line.h"
#include "tui/kept.h"
#include "tui/marks.h"
#include "tui/picture.h"
#include "tui/plan.h"
#include "tui/press.h"
#include "tui/settings.h"
#include "tui/stack.h"
#include "tui/tui.h"

#include <stdlib.h>
#include <string.h>

struct loop {
    struct tui t;
    struct form form;
    struct stack stack;
    struct plan plan;
    struct found found;
    struct visits visits;
    struct last last;
    struct typed typed;
    struct marks marks;
    bool at_work;   /* what takes long may be given up */
    bool following; /* but not by keys: what others did is shown as it came */
    bool idling;    /* by any key: nobody asked for it */
};

static struct loop *loop_new(const struct tui_options *o)
{
    struct loop *loop = base_alloc(sizeof *loop);
    struct tui *t = &loop->t;
    t->o = *o;
    t->o.look = o->job && (o->look || job_readonly(o->job));
    t->job = o->job;
    t->names = &tui_names;
    t->form = &loop->form;
    t->stack = &loop->stack;
    t->plan = &loop->plan;
    t->found = &loop->found;
    t->visits = &loop->visits;
    t->last = &loop->last;
    t->typed = &loop->typed;
    t->marks = &loop->marks;
    return loop;
}

static void loop_free(struct loop *loop)
{
    lesson_done(&loop->t);
    edit_forget(&loop->t);
    base_vec_done(&loop->stack.rows);
    base_vec_done(&loop->form.rows);
    base_vec_done(&loop->visits.visited);
    base_map_done(&loop->found.moved);
    base_text_done(&loop->last.reason_for);
    base_text_done(&loop->last.title);
    base_text_done(&loop->t.message.text);
    for (int i = 0; i < loop->typed.n; i++)
        free(loop->typed.lines[i]);
    free(loop->typed.lines);
    marks_done(&loop->t);
    free(loop);
}

/* ---- what takes long ---- */

/* Steps told before keys are looked at, so that the quick work of most jobs never takes a key out of its
   turn; and between two looks. */
enum { UNASKED = 100000, UNASKED_MORE = 2000 };

static bool give_up(void *arg)
{
    const struct loop *loop = arg;
    if (!loop->at_work)
        return false;
    enum terminal_asks asks = terminal_asks(loop->t.terminal);
    if (loop->idling && terminal_key_waits(loop->t.terminal))
        return true;
    return asks == TERMINAL_ASKS_END || (asks == TERMINAL_ASKS_GIVE_UP && !loop->following);
}

/* What was asked for took long and was given up: the job is as it was before, and so is what had been opened
 * for it. At the end of the program nothing long is begun any more. */
static void after_giving_up(struct tui *t, bool idling)
{
    if (idling) { /* what nobody asked for waits until the key is answered */
        tui_changed(t);
        if (terminal_asks(t->terminal) != TERMINAL_ASKS_END)
            base_go_on();
        return;
    }
    edit_drop(t);
    struct level *l = tui_top(t);
    if (l && l->ops->leave)
        l->ops->leave(t, l);
    else
        tui_pop(t);
    tui_changed(t);
    tui_complain(t, "given up; the job is as it was before");
    if (terminal_asks(t->terminal) == TERMINAL_ASKS_END)
        return;
    terminal_forget_typed(t->terminal);
    base_go_on();
}

/* ---- events ---- */

/* Edits of others are shown as they come, but not under somebody's hands: what is typed or tried is held
 * against what it was begun with. */
static bool follows(const struct tui *t)
{
    return t->o.look || (*job_file(t->job) && !job_trying(t->job) && (tui_place(t) & AT_READ) != 0);
}

static void on_waited(struct loop *loop)
{
    struct tui *t = &loop->t;
    struct level *l = tui_top(t);
    if (l && l->pending && !t->at.small) {
        loop->idling = true;
        l->ops->idle(t, l);
        return;
    }
    t->plan->shown = t->plan->plate;
    loop->following = true;
    if (follows(t))
        edit_follow(t);
    loop->following = false;
}

static void on_event(struct loop *loop, const struct terminal_event *e)
{
    struct tui *t = &loop->t;
    t->frame.quick = false;
    loop->at_work = true;
    loop->idling = false;
    if (!base_given_up())
        base_go_on();
    switch (e->what) {
    case TERMINAL_KEY:
    case TERMINAL_PASTE: press_event(t, e); break;
    case TERMINAL_RESIZED:
    case TERMINAL_REDRAW: t->cell_ratio = terminal_cell_ratio(t->terminal); break;
    case TERMINAL_SIGNAL: t->leaving = 128 + e->signal; break;
    case TERMINAL_WAITED: on_waited(loop); break;
    }
    if (!base_given_up())
        lesson_look(t);
    t->frame.whole = t->frame.whole || !t->frame.quick;
}

/* How long to wait for a key: for ever, but while there is work to do, when panes are behind, or when
 * somebody else may be editing. */
static int patience(const struct tui *t)
{
    enum { RESTS_MS = 80, FOLLOWING_MS = 500 };
    const struct level *l = tui_top(t);
    if (l && l->pending && !t->at.small)
        return l->pace_ms;
    if (t->frame.behind || t->plan->shown != t->plan->plate)
        return RESTS_MS;
    return follows(t) ? FOLLOWING_MS : -1;
}

/* Nothing is given up while a picture is drawn: keys that are read may bring a new size. */
static void settle(struct loop *loop)
{
    struct tui *t = &loop->t;
    tui_settle(t);
    loop->at_work = false;
    if (!base_given_up())
        return;
    after_giving_up(t, loop->idling);
    tui_settle(t);
}

static void run(struct loop *loop)
{
    struct tui *t = &loop->t;
    while (t->leaving < 0) {
        struct terminal_event e;
        struct level *l = tui_top(t);
        if (l && l->ops->catch_up)
            l->ops->catch_up(t, l);
        settle(loop);
        if (!base_given_up()) /* else the end waits */
            picture_draw(t);
        terminal_wait(t->terminal, patience(t), &e);
        on_event(loop, &e);
        /* typed ahead: one picture for all of it */
        while (t->leaving < 0 && terminal_key_waits(t->terminal)) {
            struct level *top = tui_top(t);
            if (!top || !top->due) /* what is typed is taken first, and tried as one text */
                settle(loop);
            picture_lay_out(t);
            terminal_wait(t->terminal, 0, &e);
            if (e.what == TERMINAL_WAITED)
                break;
            on_event(loop, &e);
        }
    }
}

/* ---- begin and end ---- */

static void on_no_memory(void *terminal)
{
    terminal_close(terminal);
}

static bool is_utf8(const char *codeset)
{
    return codeset && (strcmp(codeset, "UTF-8") == 0 || strcmp(codeset, "utf8") == 0);
}

static void tell_new(struct tui *t)
{
    const struct typed_event *e;
    int n = job_new_since(t->job, t->visits->seen, &e);
    if (n)
        tui_say(t, "%d edit%s or remark%s of others since you were here last, the latest by %s; "
                ":new lists them",
                n, n == 1 ? "" : "s", n == 1 ? "" : "s", e->who && *e->who ? e->who : "somebody");
}

static void take_settings(struct tui *t, short colours[PAINT_OWN])
{
    struct base_text complaints = {0};
    settings_read(t->o.settings, colours, &complaints);
    if (complaints.length)
        tui_complain(t, "%.*s", (int)strcspn(base_text_get(&complaints), "\n"), base_text_get(&complaints));
    base_text_done(&complaints);
}

static void begin(struct tui *t)
{
    short colours[PAINT_OWN];
    take_settings(t, colours);
    paint_start(&t->p, is_utf8(t->o.codeset) && !t->o.ascii, terminal_has_colour(t->terminal), colours);
    t->ascii = !t->p.utf8;
    t->cell_ratio = terminal_cell_ratio(t->terminal);
    t->leaving = -1;
    t->changed = 1;
    t->frame.whole = true;
    t->mouse_y = t->mouse_x = -1;
    t->mouse = t->o.mouse && terminal_mouse(t->terminal, true);
    if (t->job)
        tui_use(t, t->job, t->o.look);
    kept_read(t);
    if (t->o.begin) {
        tui_open(t, "begin", "");
        return;
    }
    if (t->o.look)
        tui_say(t, "looking only; changes by others are shown as they come");
    if (t->job) {
        tell_new(t);
        edit_take_in(t);
        tui_warn(t);
    }
    struct review_revision latest;
    if (t->o.look && review_latest(t->d, &latest))
        tui_open(t, "review", "");
}

int tui_run(const struct tui_options *o, struct base_diag *why)
{
    struct terminal_wish wish = {.term = o->term, .utf8 = is_utf8(o->codeset) && !o->ascii,
                                 .colour = o->colour != TUI_COLOUR_NEVER, .escape_ms = o->escape_ms};
    struct loop *loop = loop_new(o);
    struct tui *t = &loop->t;
    if ((o->practice && !lesson_begin(t, o->practice, why)) || !terminal_open(&wish, &t->terminal, why)) {
        loop_free(loop);
        return 2;
    }
    base_on_no_memory(on_no_memory, t->terminal);
    base_on_long_work(give_up, loop, UNASKED, UNASKED_MORE);
    begin(t);
    run(loop);
    struct terminal *terminal = t->terminal;
    int status = t->leaving;
    base_on_long_work(NULL, NULL, 0, 0);
    tui_clear(t); /* panels and windows first */
    job_drop(t->job);
    kept_write(t);
    paint_end(&t->p);
    if (status == 0 && t->o.job && !t->o.begin && !job_saved(t->o.job))
        status = 4;
    job_close(t->made);
    loop_free(loop);
    base_on_no_memory(NULL, NULL);
    terminal_close(terminal);
    return status;
}
