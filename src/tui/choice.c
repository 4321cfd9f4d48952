/* tui/choice.c - see choice.h
 *
 * The panel keeps its size when the list narrows to what is typed, so that nothing below it has to be drawn.
 */

#include "tui/choice.h"

#include "tui/form.h"
#include "tui/narrow.h"
#include "tui/outcome.h"

#include <stdlib.h>
#include <string.h>

struct chooser {
    struct level level;
    char *title, *subject;
    struct choice *choices;
    int n;
    struct narrow narrow;
    choice_fn *tried, *taken, *dropped;
    char **labels, **notes; /* as the locale can show them */
    struct pick *pick;
    struct area placed;
    bool stale;   /* others are shown since */
};

static struct choice *chosen(const struct chooser *c) { return &c->choices[narrow_at(&c->narrow)]; }

/* Long lists and narrow panes: the lower part is scrolled by the menu. */
static struct area place(const struct tui *t, const struct chooser *c)
{
    int w = paint_width(c->title) + 4, most = t->at.body.w > 72 ? 72 : t->at.body.w;
    for (int i = 0; i < c->n; i++) {
        int own = paint_width(c->labels[i]) + paint_width(c->notes[i]) + 6;
        w = own > w ? own : w;
    }
    w = w < 30 ? 30 : w > most ? most : w;
    int h = c->n + 2;
    h = h > t->at.body.h - 2 ? t->at.body.h - 2 : h;
    struct area form = t->swap == SWAP_PLAN ? t->at.plan : t->at.swap;
    int y = form.y + 2 + t->form->list.at - t->form->list.top;
    if (y + h > t->at.message.y)
        y = t->at.message.y - h;
    int x = form.x + form.w - w;
    return (struct area){y < 1 ? 1 : y, x < 0 ? 0 : x, h, w};
}

/* The lines that are left by what is typed. False: there is no room for them. */
static bool show(struct chooser *c, struct area a)
{
    int n = c->narrow.list.n;
    const char **labels = base_alloc((size_t)(n + 1) * sizeof *labels),
               **notes = base_alloc((size_t)(n + 1) * sizeof *notes);
    for (int i = 0; i < n; i++) {
        labels[i] = c->labels[c->narrow.shown[i]];
        notes[i] = c->notes[c->narrow.shown[i]];
    }
    c->placed = a;
    bool shown = pick_show(c->pick, a, labels, notes, n, c->narrow.list.at, c->stale);
    c->stale = false;
    free(labels);
    free(notes);
    return shown;
}

static void draw(struct tui *t, struct level *level)
{
    struct chooser *c = (struct chooser *)level;
    struct area a = place(t, c);
    if (!show(c, a))
        return;
    struct paint p = pick_paint(c->pick, &t->p);
    struct area head = {0, 0, 1, a.w};
    paint_box(&p, (struct area){0, 0, a.h, a.w}, INK_DIM);
    head.w = narrow_draw(&p, head, 0, a.w - 1, &c->narrow);
    paint_format(&p, head, 0, 1, INK_STRONG, " %s ", c->title);
    struct base_text line = {0};
    bool told = tui_told(t);
    if (told)
        base_text_add(&line, tui_said(t));
    else if (job_trying(t->job))
        edit_outcome_line(t, &line);
    else
        base_text_add(&line, c->tried || !c->n ? "as it was" : c->notes[narrow_at(&c->narrow)]);
    tui_message_row(t, INK_PLAIN, base_text_get(&line));
    base_text_done(&line);
    pick_raise(c->pick);
    tui_on_panel(t);
}

/* The cursor is on another choice than WAS: how would that turn out? */
static void moved(struct tui *t, struct chooser *c, const struct choice *was)
{
    if (chosen(c) == was)
        return;
    tui_hush(t);
    if (c->tried)
        c->tried(t, c->subject, chosen(c));
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct chooser *c = (struct chooser *)level;
    const struct choice *was = chosen(c);
    list_move(&c->narrow.list, m, c->placed.h - 2);
    moved(t, c, was);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct chooser *c = (struct chooser *)level;
    const struct choice *was = chosen(c);
    struct area body = {c->placed.y + 1, c->placed.x, c->placed.h - 2, c->placed.w};
    if (c->stale || pick_top(c->pick) < 0)
        return HIT_NOTHING;
    c->narrow.list.top = pick_top(c->pick);
    enum hit hit = list_hit(&c->narrow.list, body, y, x);
    moved(t, c, was);
    return hit;
}

static enum fit fit_of(const void *whose, int i, const char *text)
{
    const struct choice *c = &((const struct chooser *)whose)->choices[i];
    enum fit label = narrow_fit(c->label, text);
    return label ? label : c->note && narrow_fit(c->note, text) ? FIT_BESIDE : FIT_NONE;
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct chooser *c = (struct chooser *)level;
    const struct choice *was = chosen(c);
    int left = c->narrow.list.n;
    if (!narrow_event(t, &c->narrow, e, fit_of, c))
        return false;
    c->stale = c->stale || left != c->narrow.list.n || chosen(c) != was;
    moved(t, c, was);
    return true;
}

/* Taken off first: what follows may open a level. */
static void finish(struct tui *t, struct chooser *c, choice_fn *then)
{
    struct choice taken = {base_copy(chosen(c)->label), base_copy(chosen(c)->value), NULL};
    char *subject = base_copy(c->subject);
    tui_pop(t);
    if (then)
        then(t, subject, &taken);
    free(taken.label);
    free(taken.value);
    free(subject);
}

static void enter(struct tui *t, struct level *level)
{
    struct chooser *c = (struct chooser *)level;
    finish(t, c, c->taken);
}

static void leave(struct tui *t, struct level *level)
{
    struct chooser *c = (struct chooser *)level;
    finish(t, c, c->dropped);
}

static void done(struct level *level)
{
    struct chooser *c = (struct chooser *)level;
    pick_free(c->pick);
    narrow_done(&c->narrow);
    for (int i = 0; i < c->n; i++) {
        free(c->choices[i].label);
        free(c->choices[i].value);
        free(c->choices[i].note);
        free(c->labels[i]);
        free(c->notes[i]);
    }
    free(c->choices);
    free(c->labels);
    free(c->notes);
    free(c->title);
    free(c->subject);
    free(c);
}

static const struct level_ops ops = {.place = AT_CHOICE,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .at = at,
                                     .leave = leave,
                                     .done = done};

/* The menu library refuses texts that the locale cannot show. */
static char *showable(const struct tui *t, const char *text)
{
    char *copy = base_copy(text && *text ? text : " ");
    for (char *p = copy; *p; p++)
        if ((t->ascii && (unsigned char)*p > 126) || (unsigned char)*p < ' ')
            *p = '?';
    return copy;
}

void choice_open(struct tui *t, const char *title, const char *subject, struct choice *choices, int n, int at,
                 choice_fn *tried, choice_fn *taken, choice_fn *dropped)
{
    struct chooser *c = base_alloc(sizeof *c);
    c->level.ops = &ops;
    c->pick = pick_new();
    c->title = base_copy(title);
    c->subject = base_copy(subject);
    c->choices = choices;
    c->n = n;
    narrow_init(&c->narrow, n, at);
    c->tried = tried;
    c->taken = taken;
    c->dropped = dropped;
    c->labels = base_alloc((size_t)(n + 1) * sizeof *c->labels);
    c->notes = base_alloc((size_t)(n + 1) * sizeof *c->notes);
    for (int i = 0; i < n; i++) {
        c->labels[i] = showable(t, choices[i].label);
        c->notes[i] = showable(t, choices[i].note);
    }
    tui_push(t, &c->level);
}
