/* tui/views/sizes.c - picking a standard size, each judged before it is taken
 *
 * The rows are those that the value's own look-up leaves (same table, same keys), or all of a property's
 * table. A row that is seen is tried when no key waits: what would come and go is counted, then the try is
 * dropped.
 */

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/narrow.h"
#include "tui/stock.h"
#include "tui/values.h"
#include "tui/marks.h"
#include "tui/views.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What taking a size would bring. */
struct said {
    bool judged, refused;
    int came[3], went;
};

struct sizes {
    struct level level;
    char path[PATH_MOST];
    struct explore_sizes listed;
    struct said *said; /* of each */
    int n, standing;   /* that of the job, -1: none of them */
    struct narrow narrow;
};

/* ---- judging ---- */

static void judge(struct tui *t, const struct sizes *s, int at)
{
    struct base_diag why = {0};
    struct said *z = &s->said[at];
    z->judged = true;
    if (at == s->standing) /* taking it changes nothing */
        return;
    z->refused = job_set(t->job, s->path, s->listed.at.at[at].text, &why) != BASE_OK;
    if (!z->refused) {
        const struct job_outcome *o = job_outcome(t->job);
        for (int i = 0; i < o->n_came && !base_given_up(); i++)
            z->came[o->came[i].grade]++;
        z->went = o->n_went;
        job_drop(t->job);
    }
    if (base_given_up())
        z->judged = z->refused = false;
    tui_changed(t);
}

enum { FIGURE_AT = 76, LIST_AT = 4, LEAST_LIST = 7 };

static const char *figure_of(const struct tui *t, const struct sizes *s)
{
    const char *figure = table_spec(dieset_tables(t->d), s->listed.table)->figure;
    return figure ? figure : "";
}

static int figure_rows(const char *figure)
{
    int n = 0;
    for (const char *p = figure; *p; n++)
        p += strcspn(p, "\n") + (p[strcspn(p, "\n")] == '\n');
    return n;
}

/* Rows for what the table states of a size: fewer where its figure stands below as well. */
static int stated_rows(const struct tui *t, const struct sizes *s) { return *figure_of(t, s) ? 2 : 4; }

static bool figure_beside(const struct tui *t) { return t->at.body.w >= FIGURE_AT + 40; }

/* Rows of the list: the figure stands below it where it has no room beside it. */
static int rows_seen(const struct tui *t, const struct sizes *s)
{
    int rows = t->at.body.h - LIST_AT - stated_rows(t, s), figure = figure_rows(figure_of(t, s));
    return figure_beside(t) || rows - figure - 1 < LEAST_LIST ? rows : rows - figure - 1;
}

static int next_unjudged(const struct tui *t, const struct sizes *s)
{
    const struct list *l = &s->narrow.list;
    for (int i = l->top; i < l->n && i < l->top + rows_seen(t, s); i++)
        if (!s->said[s->narrow.shown[i]].judged)
            return s->narrow.shown[i];
    return -1;
}

/* The row at the cursor first, the others one at a time while no key waits. */
static void judge_seen(struct tui *t, struct sizes *s)
{
    int at = narrow_at(&s->narrow);
    list_fit(&s->narrow.list, rows_seen(t, s));
    if (at >= 0 && !s->said[at].judged)
        judge(t, s, at);
    s->level.pending = next_unjudged(t, s) >= 0;
}

static void idle(struct tui *t, struct level *level)
{
    struct sizes *s = (struct sizes *)level;
    int i = next_unjudged(t, s);
    if (i >= 0)
        judge(t, s, i);
    s->level.pending = next_unjudged(t, s) >= 0;
}

/* ---- drawing ---- */

static void draw_head(struct tui *t, struct area a, struct sizes *s)
{
    const struct table_set *set = dieset_tables(t->d);
    int q = dieset_find(t->d, s->path), x;
    char now[80], need[60];
    dieset_print(t->d, q, t->state, now, sizeof now);
    x = paint_format(&t->p, a, 0, 1, INK_STRONG, "sizes  %s, now %s", s->path, now);
    if (s->listed.has_need)
        paint_format(&t->p, a, 0, x + 3, INK_PLAIN, "need %s",
                     unit_print(s->listed.need, dieset_quantity(t->d, q)->type.type.dim, dieset_system(t->d),
                                need, sizeof need));
    const char *standard = table_standard(set, s->listed.table);
    paint_format(&t->p, a, 1, 1, INK_DIM, "table %s   %s   %s", table_spec(set, s->listed.table)->name,
                 standard ? standard : "",
                 table_confidence_text(table_worst_confidence(set, s->listed.table)));
}

static void draw_row(struct tui *t, struct area a, int y, const struct sizes *s, int i)
{
    const struct explore_size *size = &s->listed.at.at[i];
    const struct said *z = &s->said[i];
    enum ink ink = i == narrow_at(&s->narrow)                        ? INK_STRONG
                   : stock_of_another(t, &s->listed, s->standing, i) ? INK_DIM
                                                                     : INK_PLAIN;
    char text[80];
    bool named = *size->text == '"';
    paint_format(&t->p, a, y, 3, ink, "%.*s", (int)strlen(size->text) - 2 * named, size->text + named);
    if (s->listed.has_need) {
        const struct dieset_quantity *q = dieset_quantity(t->d, dieset_find(t->d, s->path));
        unit_print_number(size->number - s->listed.need, q->type.type.dim, dieset_system(t->d), text,
                          sizeof text);
        paint_right(&t->p, a, y, 32, size->number - s->listed.need < -1e-6 ? INK_TROUBLE : ink, text);
    }
    int x = 36;
    if (!z->judged)
        x = paint_text(&t->p, a, y, x, INK_DIM, "..");
    else if (z->refused)
        x = paint_text(&t->p, a, y, x, INK_TROUBLE, "refused");
    else if (z->came[0] || z->came[1] || z->came[2]) {
        for (int g = HANDBOOK_FAULT; g >= HANDBOOK_NOTE; g--)
            if (z->came[g])
                x = paint_format(&t->p, a, y, x,
                                 g == HANDBOOK_FAULT ? INK_GRAVE
                                 : g                 ? INK_TROUBLE
                                                     : INK_PLAIN,
                                 "+%d %s%s  ", z->came[g], handbook_grade_text((enum handbook_grade)g),
                                 z->came[g] == 1 ? "" : "s");
    }
    if (z->went)
        x = paint_format(&t->p, a, y, x, ink, "-%d", z->went);
    const struct table_set *set = dieset_tables(t->d);
    x = x < 62 ? 62 : x + 2;
    paint_text(&t->p, a, y, x, INK_DIM,
               table_confidence_text(table_row_confidence(set, s->listed.table, size->row)));
}

/* "diameter 8.0 mm   pitch 1.250 mm ...": all that the row at the cursor states beside the size. */
static void draw_stated(struct tui *t, struct area a, const struct sizes *s)
{
    const struct table_set *set = dieset_tables(t->d);
    const struct table_spec *spec = table_spec(set, s->listed.table);
    struct base_text text = {0};
    char number[60];
    int at = narrow_at(&s->narrow), row = at < 0 ? -1 : s->listed.at.at[at].row;
    for (int i = 0; i < spec->n_columns && row >= 0; i++) {
        const struct table_cell *c = table_cell(set, s->listed.table, row, i);
        bool told = spec->columns[i].is_text ? *base_pool_text(table_pool(set), c->text) : !c->empty;
        if (!told || i == s->listed.column)
            continue;
        base_text_addf(&text, "%s", *base_text_get(&text) ? "   " : "");
        for (const char *p = spec->columns[i].name; *p; p++)
            base_text_add_n(&text, *p == '_' ? " " : p, 1);
        base_text_addf(&text, " %s",
                       spec->columns[i].is_text ? base_pool_text(table_pool(set), c->text)
                                                : unit_print(c->number, spec->columns[i].dim,
                                                             dieset_system(t->d), number, sizeof number));
    }
    const char *standard = row < 0 ? NULL : table_row_standard(set, s->listed.table, row);
    if (standard)
        base_text_addf(&text, "%s%s", *base_text_get(&text) ? "   " : "", standard);
    tui_paragraph(t, a, 0, 3, INK_PLAIN, base_text_get(&text));
    base_text_done(&text);
}

static void draw_figure(struct tui *t, struct area a, const struct sizes *s)
{
    const char *figure = figure_of(t, s);
    int y = figure_beside(t) ? LIST_AT : a.h - figure_rows(figure), x = figure_beside(t) ? FIGURE_AT : 3;
    if (!figure_beside(t) && y < LIST_AT + rows_seen(t, s))
        return;
    while (*figure) {
        size_t n = strcspn(figure, "\n");
        paint_format(&t->p, a, y++, x, INK_PLAIN, "%.*s", (int)n, figure);
        figure += n + (figure[n] == '\n');
    }
}

static void draw(struct tui *t, struct level *level)
{
    struct sizes *s = (struct sizes *)level;
    struct area a = t->at.body;
    draw_head(t, a, s);
    paint_text(&t->p, a, 3, 3, INK_DIM, "size");
    if (s->listed.has_need)
        paint_right(&t->p, a, 3, 32, INK_DIM, "spare");
    paint_text(&t->p, a, 3, 36, INK_DIM, "findings that would come, go");
    narrow_draw(&t->p, a, 2, a.w - 1, &s->narrow);
    struct area body = level->listed = (struct area){a.y + LIST_AT, a.x, rows_seen(t, s), a.w};
    struct list *l = &s->narrow.list;
    list_fit(l, body.h);
    for (int y = 0; y < body.h && l->top + y < l->n; y++) {
        draw_row(t, body, y, s, s->narrow.shown[l->top + y]);
        if (l->top + y == l->at) {
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
            tui_cursor(t, body, y, 1);
        }
    }
    draw_stated(
        t, (struct area){body.y + body.h, a.x, stated_rows(t, s), figure_beside(t) ? FIGURE_AT - 2 : a.w}, s);
    draw_figure(t, a, s);
    if (s->n == 0)
        paint_text(&t->p, body, 0, 3, INK_DIM, "no row of the table fits the rest of what is chosen");
}

/* ---- keys ---- */

static void step(struct tui *t, struct level *level, enum move m)
{
    struct sizes *s = (struct sizes *)level;
    list_move(&s->narrow.list, m, rows_seen(t, s));
    judge_seen(t, s);
}

/* A size by its first figures, a name by any part of it. */
static enum fit fit_of(const void *whose, int i, const char *text)
{
    const char *label = ((const struct sizes *)whose)->listed.at.at[i].text;
    bool named = *label == '"';
    enum fit fit = narrow_fit(label + named, text);
    return named || fit == FIT_BEGINS ? fit : FIT_NONE;
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct sizes *s = (struct sizes *)level;
    if (!narrow_event(t, &s->narrow, e, fit_of, s))
        return false;
    judge_seen(t, s);
    return true;
}

/* Is the size at AT what the formula picks by itself? Then a try is open that takes away what is typed. */
static bool is_usual(struct tui *t, struct sizes *s, int at)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, dieset_find(t->d, s->path));
    if (!v->usual || !v->typed || job_unset(t->job, s->path, NULL) != BASE_OK)
        return false;
    bool usual = stock_standing(t, s->path, &s->listed) == at;
    if (!usual)
        edit_drop(t);
    tui_changed(t);
    return usual;
}

static void enter(struct tui *t, struct level *level)
{
    struct sizes *s = (struct sizes *)level;
    struct base_diag why = {0};
    int at = narrow_at(&s->narrow);
    if (at < 0 || !edit_allowed(t))
        return;
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s", s->path);
    bool over = edit_is_over(t, path);
    if (stock_standing(t, s->path, &s->listed) == at) {
        tui_pop(t);
        return;
    }
    if (is_usual(t, s, at)) {
        tui_pop(t);
        edit_take(t);
        return;
    }
    char text[FIELD_MOST];
    snprintf(text, sizeof text, "%s", s->listed.at.at[at].text);
    if (edit_try(t, path, text, &why) != BASE_OK) {
        tui_complain(t, "%s", why.message);
        return;
    }
    tui_pop(t);
    marks_took(t, path, text);
    bool taken = edit_take(t);
    tui_settle(t);
    if (taken)
        form_go_down(t);
    if (taken && over)
        edit_ask_reason(t, path);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct sizes *s = (struct sizes *)level;
    enum hit hit = list_hit(&s->narrow.list, level->listed, y, x);
    if (hit == HIT_MOVED)
        judge_seen(t, s);
    return hit;
}

static void done(struct level *level)
{
    struct sizes *s = (struct sizes *)level;
    explore_sizes_done(&s->listed);
    free(s->said);
    narrow_done(&s->narrow);
    free(s);
}

static const struct level_ops ops = {.place = AT_SIZES,
                                     .full = true,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .at = at,
                                     .idle = idle,
                                     .done = done};

void sizes_open(struct tui *t, const char *path)
{
    struct sizes *s = base_alloc(sizeof *s);
    s->level.ops = &ops;
    snprintf(s->path, sizeof s->path, "%s", path);
    if (!stock_gather(t, s->path, &s->listed)) {
        free(s);
        tui_say(t, "no table of standard sizes stands behind %s", path);
        return;
    }
    s->n = (int)s->listed.at.count;
    s->said = base_alloc((size_t)(s->n + 1) * sizeof *s->said);
    s->standing = stock_standing(t, s->path, &s->listed);
    narrow_init(&s->narrow, s->n, s->standing < 0 ? 0 : s->standing);
    struct list *l = &s->narrow.list;
    l->top = l->at - rows_seen(t, s) / 2;
    l->top = l->top < 0 ? 0 : l->top;
    judge_seen(t, s);
    tui_push(t, &s->level);
}

void act_sizes(struct tui *t)
{
    if (form_quantity(t) >= 0)
        sizes_open(t, t->path);
}
