/* tui/field.c - a value being typed in its row of the form
 *
 * Every text that can be taken opens a try, so the whole screen shows how it would turn out; any other text
 * drops it. `refused` keeps the reason and the place of the fault.
 */

#include "tui/values.h"

#include "tui/complete.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/marks.h"
#include "tui/outcome.h"
#include "tui/stock.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct edit {
    struct level level;
    char path[PATH_MOST], item[80];
    char *was;         /* text at the start */
    char old[80];      /* the value at the start, as printed */
    char *usual;       /* the usual formula, NULL: none */
    bool over;         /* a usual formula holds now: typing over it asks for a reason */
    struct field *field;
    bool refused;
    struct base_diag why;
    struct base_text words; /* what Tab found */
};

/* Where the row of the form is, drawn by the pane before this. */
static struct area form_area(const struct tui *t)
{
    return tui_alone(t) ? t->at.body : t->swap == SWAP_PLAN ? t->at.plan : t->at.swap;
}

static void blank(struct tui *t, struct area a, int y, int from)
{
    for (int x = from; x < a.w; x++)
        paint_char(&t->p, a, y, x, INK_PLAIN, ' ');
}

/* The fault's place, under the field. */
static void draw_fault(struct tui *t, struct edit *e, struct area a, int y)
{
    if (!e->refused || strcmp(e->why.source, field_text(e->field)) != 0) {
        field_mark(e->field, 0, 0);
        return;
    }
    int x = field_column(e->field, e->why.start) - a.x;
    field_mark(e->field, e->why.start, e->why.length);
    if (x < 0)
        return;
    blank(t, a, y, 0);
    int n = e->why.length > 0 ? e->why.length : 1;
    for (int i = 0; i < n; i++)
        paint_char(&t->p, a, y, x + i, INK_STRONG, '^');
}

/* A reason without the path that stands in its row anyway. */
static const char *bare(const struct edit *e)
{
    size_t n = strlen(e->path);
    return strncmp(e->why.message, e->path, n) == 0 && strncmp(e->why.message + n, ": ", 2) == 0
               ? e->why.message + n + 2
               : e->why.message;
}

static void draw_message(struct tui *t, struct edit *e)
{
    struct base_text line = {0};
    bool fault = e->refused && !e->words.length;
    int q = dieset_find(t->d, e->path);
    const struct handbook_property *property = q >= 0 ? dieset_quantity(t->d, q)->property : NULL;
    const char *help = property ? property->help : NULL;
    if (e->words.length)
        base_text_add(&line, base_text_get(&e->words));
    else if (fault)
        base_text_add(&line, bare(e));
    else if (job_trying(t->job))
        edit_outcome_line(t, &line);
    else if (*field_text(e->field))
        base_text_add(&line, field_offered(e->field) ? "as it was; typing replaces it, an arrow goes into it"
                                                     : "as it was");
    else if (e->usual)
        base_text_addf(&line, "nothing typed; the usual formula holds: %s", e->usual);
    else
        base_text_addf(&line, "nothing typed%s%s", help ? ": " : "", help ? help : "");
    tui_message_row(t, fault ? INK_TROUBLE : INK_PLAIN, base_text_get(&line));
    base_text_done(&line);
}

/* The row: title, the value as it was, the field. A long text gets the old value's room as well, a longer one
   the whole row. */
static void draw(struct tui *t, struct level *level)
{
    struct edit *e = (struct edit *)level;
    struct area a = form_area(t);
    int y = 1 + t->form->list.at - t->form->list.top, q = dieset_find(t->d, e->path);
    char label[200];
    const char *title = q >= 0 ? form_label(t, q, label, sizeof label) : e->path;
    int x = 3 + paint_width(title) + 1;
    int old = paint_width(e->old), want = paint_width(field_text(e->field)) + 2;
    want = want > 10 ? want : 10;
    x = x > a.w - 12 ? a.w - 12 : x;
    if (x + want >= a.w) {
        a = (struct area){a.y, t->at.body.x, a.h, t->at.body.w};
        blank(t, a, y, 0);
        x = paint_format(&t->p, a, y, 1, INK_PLAIN, ": %s -> ", title);
    } else {
        blank(t, a, y, x);
        if (x + 1 + old + 4 + want < a.w)
            x = paint_format(&t->p, a, y, x + 1, INK_PLAIN, "%s -> ", e->old);
    }
    x = x > a.w - 12 ? a.w - 12 : x; /* some of a long title is typed over */
    int w = a.w - x - 1, rows = (want - 2 + w) / w;
    rows = rows < 1 ? 1 : rows > FIELD_ROWS ? FIELD_ROWS : rows;
    int top = a.y + y, most = t->at.message.y - rows;
    top = top > most ? most : top;
    for (int i = 0; i < rows; i++)
        if (top + i != a.y + y)
            blank(t, (struct area){top, a.x, rows, a.w}, i, 0);
    field_place(e->field, top, a.x + x, w, rows);
    draw_fault(t, e, a, y + 1 < a.h ? y + 1 : y - 1);
    draw_message(t, e);
    tui_live(t, e->field);
}

/* Try what stands in the field. */
static void attempt(struct tui *t, struct edit *e)
{
    const char *text = field_text(e->field);
    e->level.due = e->refused = false;
    base_text_clear(&e->words);
    if (strcmp(text, e->was) == 0) {
        edit_drop(t);
        return;
    }
    char *copy = base_copy(text);
    size_t n = strlen(copy);
    while (n > 0 && copy[n - 1] == ' ')
        copy[--n] = '\0';
    e->why = (struct base_diag){0};
    enum base_err err = edit_try(t, e->path, copy, &e->why);
    e->refused = err != BASE_OK;
    free(copy);
    tui_changed(t);
}

static void catch_up(struct tui *t, struct level *level)
{
    if (level->due)
        attempt(t, (struct edit *)level);
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *ev)
{
    struct edit *e = (struct edit *)level;
    enum field_did did = ev->what == TERMINAL_PASTE ? field_paste(e->field, ev->text)
                                                    : field_key(e->field, ev->key);
    if (did == FIELD_CHANGED)
        level->due = true;
    else if (did == FIELD_MOVED)
        base_text_clear(&e->words);
    else if (ev->what == TERMINAL_PASTE && *ev->text) {
        base_text_clear(&e->words);
        base_text_add(&e->words, tui_too_long);
    }
    if (did != FIELD_NOTHING)
        tui_quick(t);
    else if (ev->what != TERMINAL_PASTE)
        catch_up(t, level); /* the key asks what has come of the text */
    return did != FIELD_NOTHING || ev->what == TERMINAL_PASTE;
}

/* Up and Down: the neighbouring stock size. */
static void step(struct tui *t, struct level *level, enum move m)
{
    struct edit *e = (struct edit *)level;
    if (m != MOVE_UP && m != MOVE_DOWN)
        return;
    char *size = stock_step(t, e->path, m == MOVE_UP ? 1 : -1);
    if (!size) {
        base_text_clear(&e->words);
        base_text_add(&e->words, "no further stock size; this value has none, or this is the last one");
        return;
    }
    field_set(e->field, size, -1);
    free(size);
    attempt(t, e);
}

static void enter(struct tui *t, struct level *level)
{
    struct edit *e = (struct edit *)level;
    if (e->refused) {
        tui_complain(t, "%s", e->why.message);
        return;
    }
    if (!job_trying(t->job)) {
        tui_pop(t);
        form_go_down(t);
        return;
    }
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s", e->path);
    bool over = e->over && *field_text(e->field);
    marks_took(t, path, field_text(e->field));
    bool taken = edit_take(t);
    if (!taken && job_saved(t->job) && dieset_find(t->d, path) < 0) { /* renamed or taken out by somebody */
        char *said = base_format("%s It was: %s", tui_said(t), field_text(e->field));
        tui_pop(t);
        tui_settle(t);
        tui_complain(t, "%s", said);
        free(said);
        return;
    }
    if (!taken && job_saved(t->job)) { /* somebody was quicker: stay, Enter takes it over theirs */
        e->refused = false;
        tui_settle(t);
        snprintf(e->why.message, sizeof e->why.message, "%s", tui_said(t));
        base_text_clear(&e->words);
        base_text_addf(&e->words, "%s Change it once more and press Enter to take yours over it.",
                       tui_said(t));
        return;
    }
    tui_pop(t);
    tui_settle(t);
    form_go_down(t);
    if (taken && over)
        edit_ask_reason(t, path);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    edit_drop(t);
    tui_pop(t);
    tui_say(t, "left as it was");
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct edit *e = (struct edit *)level;
    struct base_text words = {0};
    (void)by;
    if (complete_name(t, e->field, e->item, &words))
        attempt(t, e);
    base_text_clear(&e->words);
    base_text_add(&e->words, base_text_get(&words));
    base_text_done(&words);
}

static void done(struct level *level)
{
    struct edit *e = (struct edit *)level;
    field_free(e->field);
    base_text_done(&e->words);
    free(e->was);
    free(e->usual);
    free(e);
}

static const char *edit_path(struct tui *t, struct level *level)
{
    (void)t;
    return ((struct edit *)level)->path;
}

static const struct level_ops ops = {.place = AT_FIELD,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .path = edit_path,
                                     .catch_up = catch_up,
                                     .done = done};

static void open_field(struct tui *t, const char *path, bool instead)
{
    int q = dieset_find(t->d, path);
    if (q < 0)
        return;
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    if (strcmp(t->path, path) != 0 && !go_to_quantity(t, q))
        return;
    q = dieset_find(t->d, path);
    quantity = dieset_quantity(t->d, q);
    struct edit *e = base_alloc(sizeof *e);
    e->level.ops = &ops;
    snprintf(e->path, sizeof e->path, "%s", quantity->path);
    snprintf(e->item, sizeof e->item, "%s", dieset_item_name(t->d, quantity->item));
    e->was = base_copy(quantity->typed && quantity->text ? quantity->text : "");
    e->usual = base_copy(quantity->usual);
    e->over = edit_is_over(t, path);
    char unit[40];
    form_split(t, q, e->old, sizeof e->old, unit, sizeof unit);
    e->field = field_new(e->was);
    if (instead)
        field_offer(e->field);
    tui_hush(t);
    t->focus = t->swap == SWAP_PLAN ? PANE_PLAN : PANE_SWAP;
    if (t->swap == SWAP_SECTION)
        t->swap = SWAP_FORM;
    tui_push(t, &e->level);
}

void edit_open_field(struct tui *t, const char *path) { open_field(t, path, true); }
void edit_open_formula(struct tui *t, const char *path) { open_field(t, path, false); }

void edit_open_typed(struct tui *t, const char *path, const char *text)
{
    edit_open_field(t, path);
    struct level *l = tui_top(t);
    if (!l || l->ops != &ops)
        return;
    struct edit *e = (struct edit *)l;
    field_set(e->field, text, -1);
    attempt(t, e);
}

void edit_empty_field(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && l->ops == &ops)
        field_set(((struct edit *)l)->field, "", 0);
}
