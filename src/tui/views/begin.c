/* tui/views/begin.c - a job that has no file yet: the way for who is new, then the starts, each with when to
 * take it, and its page then
 */

#include "tui/form.h"
#include "tui/go.h"
#include "tui/narrow.h"
#include "tui/views.h"

#include "diewright/start.h"

#include <stdlib.h>
#include <string.h>

struct begin {
    struct level level;
    struct start_list starts;
    struct narrow narrow; /* entry 0 is practice, the starts follow */
};

static const char learn_name[] = "begin here",
                  learn_line[] = "new to it: a first set in steps, then mistakes to find",
                  learn_text[] =
                      "Guides in steps show what hangs on what in a set, and which keys do it. Behind them "
                      "stand sets with one mistake planted in each, easy ones first. No file is made; q "
                      "comes back here.";

/* NULL: practice. */
static const struct start *start_of(const struct begin *b, int i)
{
    return i ? &b->starts.at.at[i - 1] : NULL;
}

/* ---- drawing ---- */

enum { NAME_AT = 3, LINE_AT = 25 };

static int draw_list(struct tui *t, struct begin *b, struct area a, int y, int rows)
{
    struct list *l = &b->narrow.list;
    list_fit(l, rows);
    b->level.listed = (struct area){a.y + y, a.x, rows, a.w};
    for (int i = l->top; i < l->n && i - l->top < rows; i++, y++) {
        const struct start *s = start_of(b, b->narrow.shown[i]);
        bool here = i == l->at;
        paint_cut(&t->p, a, y, NAME_AT, LINE_AT - 1, here ? INK_STRONG : INK_PLAIN, s ? s->name : learn_name);
        paint_format(&t->p, a, y, LINE_AT, here ? INK_STRONG : INK_PLAIN, "%s%s",
                     s && s->shelf == START_OWN    ? "own: "
                     : s && s->shelf == START_DEMO ? "demo: "
                                                   : "",
                     s ? s->line : learn_line);
        if (here) {
            paint_text(&t->p, a, y, 1, INK_STRONG, ">");
            tui_cursor(t, a, y, 1);
        }
    }
    return y;
}

static void draw(struct tui *t, struct level *level)
{
    struct begin *b = (struct begin *)level;
    struct area a = t->at.body, text = layout_read(a);
    struct start_paragraph paragraphs[START_PARAGRAPHS];
    int most = a.h / 2 + 1, rows = b->narrow.list.n < most ? b->narrow.list.n : most;
    int end = narrow_draw(&t->p, a, 0, a.w - 1, &b->narrow);
    struct area head = {a.y, a.x, a.h, end};
    const char *slash = strrchr(t->o.begin, '/');
    paint_format(&t->p, head, 0, 1, INK_STRONG, "%s is not there yet: begin it from",
                 slash ? slash + 1 : t->o.begin);
    int y = draw_list(t, b, a, 1, rows > 0 ? rows : 1);
    paint_row(&t->p, a, y++, INK_DIM);
    const struct start *s = start_of(b, narrow_at(&b->narrow));
    int n = s ? start_page_text(s, paragraphs) : 0;
    if (!s)
        y = tui_paragraph(t, text, y, 1, INK_PLAIN, learn_text);
    for (int i = 0; i < n && y < a.h; i++) {
        paint_text(&t->p, a, y, 1, INK_DIM, paragraphs[i].head);
        y = tui_paragraph(t, text, y + 1, 3, INK_PLAIN, paragraphs[i].text);
    }
}

/* ---- keys ---- */

static enum fit fit_of(const void *whose, int i, const char *text)
{
    const struct start *s = start_of(whose, i);
    enum fit name = narrow_fit(s ? s->name : learn_name, text);
    return name ? name : narrow_fit(s ? s->line : learn_line, text) ? FIT_BESIDE : FIT_NONE;
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct begin *b = (struct begin *)level;
    return narrow_event(t, &b->narrow, e, fit_of, b);
}

static void move(struct tui *t, struct level *level, enum move m)
{
    struct begin *b = (struct begin *)level;
    (void)t;
    list_move(&b->narrow.list, m, level->listed.h);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    (void)t;
    return list_hit(&((struct begin *)level)->narrow.list, level->listed, y, x);
}

/* The job is made and shown with its page; where it cannot be made the list stays. */
static void enter(struct tui *t, struct level *level)
{
    struct begin *b = (struct begin *)level;
    const struct start *s = start_of(b, narrow_at(&b->narrow));
    struct base_diag why = {0};
    struct job *made = NULL;
    if (!s) {
        tui_open(t, "practice", "");
        return;
    }
    char *text = NULL, *name = base_copy(s->name);
    if (base_read_file(s->path, &text, NULL, &why) ||
        start_begin(t->o.handbook, t->o.begin, text, s->name, NULL, NULL, 0, &made, &why)) {
        tui_complain(t, "%s", why.message);
    } else {
        job_set_who(made, t->o.who);
        int taken;
        struct base_diag no_shop = {0}; /* the job is begun all the same, and that is said */
        if (t->o.shop && (start_shop_try(made, t->o.shop, &taken, NULL, &no_shop) ||
                          (taken && job_take(made, &no_shop))))
            why = no_shop;
        tui_use(t, made, false); /* this level is gone */
        t->made = t->o.job = made;
        t->o.begin = NULL;
        tui_settle(t); /* the page stands over the item that it chooses */
        tui_say(t, "begun from %s%s", name,
                form_show_page(t) ? "; Enter types a value of the page, :page brings it back" : "");
        if (*why.message)
            tui_complain(t, "%s", why.message);
    }
    free(text);
    free(name);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    t->leaving = 0;
}

static void done(struct level *level)
{
    struct begin *b = (struct begin *)level;
    narrow_done(&b->narrow);
    start_list_done(&b->starts);
    free(b);
}

static const struct level_ops ops = {.place = AT_CHOICE,
                                     .full = true,
                                     .draw = draw,
                                     .event = event,
                                     .move = move,
                                     .enter = enter,
                                     .leave = leave,
                                     .at = at,
                                     .done = done};

void begin_open(struct tui *t, const char *unused)
{
    struct begin *b = base_alloc(sizeof *b);
    (void)unused;
    b->level.ops = &ops;
    start_list_read(t->o.data, t->o.own, &b->starts);
    const struct start *usual = start_find(&b->starts, start_usual);
    int n = (int)b->starts.at.count;
    narrow_init(&b->narrow, n + 1, usual ? (int)(usual - b->starts.at.at) + 1 : 0);
    tui_push(t, &b->level);
}
