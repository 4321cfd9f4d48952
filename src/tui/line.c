/* tui/line.c - see line.h */

#include "tui/line.h"

#include "tui/edits.h"

#include <stdlib.h>
#include <string.h>

static void draw(struct tui *t, struct level *level)
{
    struct line *l = (struct line *)level;
    struct area row = t->at.message, above = {row.y - 1, row.x, 1, row.w};
    for (int x = 0; x < row.w; x++)
        paint_char(&t->p, row, 0, x, INK_PLAIN, ' ');
    int x = paint_text(&t->p, row, 0, 1, INK_STRONG, l->title);
    field_place(l->field, row.y, x, row.w - x - 1, 1);
    if (l->above.length) {
        for (int c = 0; c < above.w; c++)
            paint_char(&t->p, above, 0, c, INK_PLAIN, ' ');
        paint_text(&t->p, above, 0, 1, l->why.message[0] ? INK_TROUBLE : INK_PLAIN, base_text_get(&l->above));
    }
    tui_live(t, l->field);
}

static void changed(struct tui *t, struct line *l)
{
    base_text_clear(&l->above);
    l->why.message[0] = '\0';
    if (l->changed)
        l->changed(t, l);
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct line *l = (struct line *)level;
    enum field_did did = e->what == TERMINAL_PASTE ? field_paste(l->field, e->text)
                                                   : field_key(l->field, e->key);
    if (did == FIELD_CHANGED)
        changed(t, l);
    if (e->what == TERMINAL_PASTE && did == FIELD_NOTHING && *e->text) {
        base_text_clear(&l->above);
        base_text_add(&l->above, tui_too_long);
    }
    return did != FIELD_NOTHING || e->what == TERMINAL_PASTE;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct line *l = (struct line *)level;
    if (!l->remembers || (m != MOVE_UP && m != MOVE_DOWN))
        return;
    int past = l->past + (m == MOVE_UP ? -1 : 1);
    if (past < 0 || past > t->typed->n)
        return;
    l->past = past;
    field_set(l->field, past < t->typed->n ? t->typed->lines[past] : "", -1);
    changed(t, l);
}

static void enter(struct tui *t, struct level *level)
{
    struct line *l = (struct line *)level;
    char *text = base_copy(field_text(l->field)), *subject = base_copy(l->subject);
    ask_fn *done = l->done;
    tui_pop(t); /* what is done may open levels of its own */
    done(t, subject, text);
    free(text);
    free(subject);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    edit_drop(t);
    tui_pop(t);
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct line *l = (struct line *)level;
    (void)by;
    if (l->complete)
        l->complete(t, l);
}

static void done(struct level *level)
{
    struct line *l = (struct line *)level;
    field_free(l->field);
    base_text_done(&l->above);
    free(l->title);
    free(l->subject);
    free(l);
}

static const struct level_ops ops = {.place = AT_COMMAND,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .done = done};

struct line *line_open(struct tui *t, const char *title, const char *subject, const char *text,
                       ask_fn *finished)
{
    struct line *l = base_alloc(sizeof *l);
    l->level.ops = &ops;
    l->title = base_copy(title);
    l->subject = base_copy(subject ? subject : "");
    l->field = field_new(text);
    l->done = finished;
    l->past = t->typed->n;
    tui_push(t, &l->level);
    return l;
}

void ask_open(struct tui *t, const char *title, const char *subject, const char *text, ask_fn *finished)
{
    field_offer(line_open(t, title, subject, text, finished)->field);
}
