/* tui/finder.c - "/": a line that is typed, and above it what it finds, best first
 *
 * With nothing typed the list has what was looked for before. Enter goes to the line at the cursor; n and N
 * then go on from there.
 */

#include "tui/act.h"
#include "tui/find.h"
#include "tui/go.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS = 14 };

struct finder {
    struct level level;
    struct field *field;
    find_vec hits;
    struct list list;
};

static struct finder *of(struct level *level) { return (struct finder *)level; }

/* What is looked for: the text without blanks at its ends. */
static void wanted(const struct finder *f, char *buf, size_t size)
{
    const char *text = field_text(f->field);
    text += strspn(text, " ");
    snprintf(buf, size, "%s", text);
    for (size_t n = strlen(buf); n > 0 && buf[n - 1] == ' ';)
        buf[--n] = '\0';
}

static bool is_past(const struct finder *f)
{
    char text[FIELD_MOST + 1];
    wanted(f, text, sizeof text);
    return !*text;
}

static void gather(struct tui *t, struct finder *f)
{
    char text[FIELD_MOST + 1];
    wanted(f, text, sizeof text);
    f->hits.count = 0;
    if (*text)
        find_all(t->d, t->state, text, &f->hits);
    f->list = (struct list){.n = *text ? (int)f->hits.count : t->visits->n_past};
}

/* ---- drawing ---- */

static void draw_hit(struct tui *t, struct area a, int y, const struct find_hit *h, enum ink ink)
{
    char value[120] = "";
    int x = 3, end = a.w - 2;
    if (h->what == FIND_ITEM) {
        int kind = dieset_item_kind(t->d, h->number);
        x = paint_cut(&t->p, a, y, x, end, ink, dieset_item_title(t->d, h->number));
        paint_cut(&t->p, a, y, x + 2, end, INK_DIM,
                  kind < 0 ? "" : handbook_kind(dieset_handbook(t->d), kind)->title);
    } else if (h->what == FIND_VALUE) {
        const struct dieset_quantity *q = dieset_quantity(t->d, h->number);
        dieset_print(t->d, h->number, t->state, value, sizeof value);
        end -= paint_width(value) + 2;
        paint_right(&t->p, a, y, a.w - 2, INK_PLAIN, value);
        x = paint_cut(&t->p, a, y, x, end, ink, q->path);
        if (q->title && x + 2 < end)
            paint_cut(&t->p, a, y, x + 2, end, INK_DIM, q->title);
    } else if (h->what == FIND_REMARK) {
        int n = review_remarks(t->d, NULL, 0);
        struct review_remark *all = base_alloc((size_t)(n + 1) * sizeof *all);
        review_remarks(t->d, all, n);
        x = paint_cut(&t->p, a, y, x, end, ink, all[h->number].says);
        paint_cut(&t->p, a, y, x + 2, end, INK_DIM, "remark");
        free(all);
    } else {
        const struct handbook_word *w = handbook_word(dieset_handbook(t->d), h->number);
        x = paint_cut(&t->p, a, y, x, end, ink, w->name);
        paint_cut(&t->p, a, y, x + 2, end, INK_DIM, w->also ? w->also : "word");
    }
}

static void blank(struct tui *t, struct area a)
{
    for (int y = 0; y < a.h; y++)
        for (int x = 0; x < a.w; x++)
            paint_char(&t->p, a, y, x, INK_PLAIN, ' ');
}

static void draw_list(struct tui *t, struct finder *f)
{
    struct area body = t->at.body;
    int rows = f->list.n < ROWS ? f->list.n : ROWS;
    rows = rows > body.h - 3 ? body.h - 3 : rows;
    int w = body.w < LAYOUT_READ ? body.w : LAYOUT_READ;
    struct area box = {body.y + body.h - rows - 2, body.x, rows + 2, w}, in = {box.y + 1, box.x, rows, w};
    blank(t, box);
    list_fit(&f->list, rows);
    for (int y = 0; y < rows && f->list.top + y < f->list.n; y++) {
        int i = f->list.top + y;
        bool here = i == f->list.at;
        if (is_past(f))
            paint_cut(&t->p, in, y, 3, w - 2, here ? INK_HERE : INK_PLAIN, t->visits->past[i]);
        else
            draw_hit(t, in, y, &f->hits.at[i], here ? INK_HERE : INK_PLAIN);
        if (here)
            paint_text(&t->p, in, y, 1, INK_HERE, ">");
    }
    paint_box(&t->p, box, INK_DIM);
    paint_format(&t->p, box, 0, 2, INK_STRONG, " %s ", is_past(f) ? "looked for before" : "found");
    char count[40];
    snprintf(count, sizeof count, " %d of %d ", f->list.n ? f->list.at + 1 : 0, f->list.n);
    paint_right(&t->p, box, 0, w - 2, INK_DIM, count);
    f->level.listed = in;
}

static void draw(struct tui *t, struct level *level)
{
    struct finder *f = of(level);
    struct area row = t->at.message;
    if (f->list.n > 0)
        draw_list(t, f);
    blank(t, row);
    int end = row.w;
    if (!is_past(f) && f->list.n == 0) {
        const char *none = "nothing has that in its name, value or remark";
        end -= paint_width(none) + 2;
        paint_text(&t->p, row, 0, end, INK_TROUBLE, none);
    }
    int x = paint_text(&t->p, row, 0, 1, INK_STRONG, "/");
    field_place(f->field, row.y, x, end - x - 1, 1);
    tui_live(t, f->field);
}

/* ---- keys ---- */

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct finder *f = of(level);
    enum field_did did = e->what == TERMINAL_PASTE ? field_paste(f->field, e->text)
                                                   : field_key(f->field, e->key);
    if (did == FIELD_CHANGED)
        level->due = true;
    (void)t;
    return did != FIELD_NOTHING || e->what == TERMINAL_PASTE;
}

static void catch_up(struct tui *t, struct level *level)
{
    if (level->due)
        gather(t, of(level));
    level->due = false;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    catch_up(t, level);
    list_move(&of(level)->list, m, ROWS);
}

static void enter(struct tui *t, struct level *level)
{
    struct finder *f = of(level);
    char text[FIELD_MOST + 1];
    catch_up(t, level);
    wanted(f, text, sizeof text);
    if (!*text && f->list.n > 0) { /* one of before is looked for anew */
        field_set(f->field, t->visits->past[f->list.at], -1);
        gather(t, f);
        return;
    }
    bool any = f->list.n > 0;
    struct find_hit hit = any ? f->hits.at[f->list.at] : (struct find_hit){0};
    tui_pop(t);
    if (*text)
        go_keep_search(t, text);
    go_search(t, text);
    if (any)
        go_to_hit(t, &hit);
    else
        act_search_next(t);
}

/* Somebody else's edit: what was found has other numbers now. */
static void settle(struct tui *t, struct level *level)
{
    struct finder *f = of(level);
    int was = f->list.at;
    gather(t, f);
    f->list.at = was < f->list.n ? was : f->list.n ? f->list.n - 1 : 0;
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    (void)t;
    return list_hit(&of(level)->list, level->listed, y, x);
}

static void done(struct level *level)
{
    field_free(of(level)->field);
    base_vec_done(&of(level)->hits);
    free(level);
}

static const struct level_ops ops = {.place = AT_COMMAND,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .at = at,
                                     .catch_up = catch_up,
                                     .settle = settle,
                                     .done = done};

void act_search(struct tui *t)
{
    struct finder *f = base_alloc(sizeof *f);
    f->level.ops = &ops;
    f->field = field_new("");
    gather(t, f);
    tui_push(t, &f->level);
}
