/* tui/why.c - why a value is what it is: its tree, folded and unfolded, and what it reaches
 *
 * Lines stand as drawn, depth first; unfolding a line asks the job for one level below it and puts those lines in.
 */

#include "tui/tui.h"

#include "tui/act.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BELOW = 200, REACHED = 400 };

struct why {
    struct level level;
    char path[PATH_MOST];
    BASE_VEC(struct job_why_line) lines;
    struct list list;
    bool reaches; /* the other list is shown */
    int reached[REACHED];
    struct list other;
};

/* ---- the tree ---- */

/* Put one level below line I in; false when there is nothing. */
static bool unfold(struct tui *t, struct why *w, int i)
{
    struct job_why_line *below = base_alloc(BELOW * sizeof *below);
    struct job_why_line line = w->lines.at[i];
    int n = line.quantity < 0 ? 0 : job_why(t->job, line.quantity, line.state, 1, below, BELOW);
    for (int k = 1; k < n; k++)
        base_vec_push(&w->lines, line); /* room */
    struct job_why_line *at = w->lines.at + i + 1;
    if (n > 1) {
        memmove(at + n - 1, at, (w->lines.count - (size_t)(n - 1) - (size_t)i - 1) * sizeof *at);
        for (int k = 1; k < n; k++) {
            at[k - 1] = below[k];
            at[k - 1].depth = line.depth + 1;
        }
        w->lines.at[i].more = false;
        w->lines.at[i].seen = false;
    }
    free(below);
    w->list.n = (int)w->lines.count;
    return n > 1;
}

static bool is_open(const struct why *w, int i)
{
    return (size_t)i + 1 < w->lines.count && w->lines.at[i + 1].depth > w->lines.at[i].depth;
}

static void fold(struct why *w, int i)
{
    size_t end = (size_t)i + 1;
    while (end < w->lines.count && w->lines.at[end].depth > w->lines.at[i].depth)
        end++;
    memmove(w->lines.at + i + 1, w->lines.at + end, (w->lines.count - end) * sizeof *w->lines.at);
    w->lines.count -= end - (size_t)i - 1;
    w->lines.at[i].more = true;
    w->list.n = (int)w->lines.count;
}

/* From the start: as many levels as the screen has room for, but two at least. */
static void plant(struct tui *t, struct why *w)
{
    struct job_why_line *lines = base_alloc(BELOW * sizeof *lines);
    int q = dieset_find(t->d, w->path), n = 0, room = t->at.body.h - 10;
    w->lines.count = 0;
    for (int depth = 4; q >= 0 && depth >= 2; depth--) {
        n = job_why(t->job, q, t->state, depth, lines, BELOW);
        if (n <= room)
            break;
    }
    for (int i = 0; i < n; i++)
        base_vec_push(&w->lines, lines[i]);
    w->list.n = n;
    w->other.n = q >= 0 ? job_reaches(t->job, q, w->reached, REACHED) : 0;
    free(lines);
}

/* ---- drawing ---- */

static void draw_line(struct tui *t, struct area a, int y, const struct why *w, int i)
{
    const struct job_why_line *l = &w->lines.at[i];
    int x = 3 + 2 * l->depth, value_end = a.w > 100 ? 62 : 46;
    const char *mark = is_open(w, i) ? "v" : l->more || l->seen ? "+" : ".";
    struct area label = {a.y, a.x, a.h, value_end - paint_width(l->value) - 1};
    enum ink ink = l->folded ? INK_DIM : i == w->list.at ? INK_STRONG : INK_PLAIN;
    paint_text(&t->p, label, y, x, ink, mark);
    paint_text(&t->p, label, y, x + 2, ink, l->label);
    paint_right(&t->p, a, y, value_end, ink, l->value);
    int end = value_end + 2;
    if (l->folded)
        end = paint_text(&t->p, a, y, end, INK_DIM, "not asked now  ");
    int source = paint_width(l->source);
    struct area formula = {a.y, a.x, a.h, source && a.w - source - 2 > end + 12 ? a.w - source - 2 : a.w};
    if (i > 0) /* the first one's stands above */
        paint_text(&t->p, formula, y, end, INK_DIM, l->formula);
    if (formula.w < a.w)
        paint_right(&t->p, a, y, a.w - 1, INK_DIM, l->source);
}

static int draw_wrapped(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text, int most)
{
    int rows = 0;
    while (*text && rows < most) {
        size_t skip, n = paint_wrap(text, a.w - x - 1, &skip);
        char line[600];
        snprintf(line, sizeof line, "%.*s", (int)n, text);
        paint_text(&t->p, a, y + rows++, x, ink, line);
        text += n + skip;
    }
    return rows;
}

/* Title, formula, formula with its values; returns the rows taken. */
static int draw_head(struct tui *t, struct area a, struct why *w)
{
    int q = dieset_find(t->d, w->path);
    char value[120];
    double spare, need;
    if (q < 0)
        return 1;
    dieset_print(t->d, q, t->state, value, sizeof value);
    int x = paint_format(&t->p, a, 0, 1, INK_STRONG, "why  %s = %s", w->path, value);
    if (dieset_spare(t->d, q, &spare, &need)) {
        char s[40], n[40];
        x = paint_format(&t->p, a, 0, x + 3, INK_STOCK, "spare %s over the need of %s", unit_print(spare, dieset_quantity(t->d, q)->type.type.dim, dieset_system(t->d), s, sizeof s),
                         unit_print(need, dieset_quantity(t->d, q)->type.type.dim, dieset_system(t->d), n, sizeof n));
    }
    if (t->state == DIESET_GROUND)
        paint_right(&t->p, a, 0, a.w - 1, INK_PLAIN, "ground");
    const char *texts[2] = {w->lines.count ? w->lines.at[0].formula : "", w->lines.count ? w->lines.at[0].filled : ""};
    int y = 1;
    for (int i = 0; i < 2; i++)
        if (texts[i][0]) {
            paint_text(&t->p, a, y, 1, INK_PLAIN, "=");
            y += draw_wrapped(t, (struct area){a.y + y, a.x, a.h, a.w}, 0, 3, INK_PLAIN, texts[i], 3);
        }
    return y;
}

static void draw_tree(struct tui *t, struct area body, struct why *w)
{
    list_fit(&w->list, body.h);
    for (int y = 0; y < body.h && w->list.top + y < w->list.n; y++) {
        int i = w->list.top + y;
        draw_line(t, body, y, w, i);
        if (i == w->list.at) {
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
            tui_cursor(t, body, y, 1);
        }
    }
}

static void draw_reaches(struct tui *t, struct area body, struct why *w)
{
    list_fit(&w->other, body.h);
    if (w->other.n == 0)
        paint_text(&t->p, body, 0, 3, INK_DIM, "nothing hangs on it");
    for (int y = 0; y < body.h && w->other.top + y < w->other.n; y++) {
        int i = w->other.top + y;
        char value[80];
        const struct dieset_quantity *q = dieset_quantity(t->d, w->reached[i]);
        dieset_print(t->d, w->reached[i], t->state, value, sizeof value);
        paint_text(&t->p, body, y, 3, i == w->other.at ? INK_STRONG : INK_PLAIN, q->path);
        paint_right(&t->p, body, y, 56, i == w->other.at ? INK_STRONG : INK_PLAIN, value);
        paint_text(&t->p, body, y, 58, INK_DIM, q->text ? q->text : "");
        if (i == w->other.at) {
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
            tui_cursor(t, body, y, 1);
        }
    }
}

static void draw(struct tui *t, struct level *level)
{
    struct why *w = (struct why *)level;
    struct area a = t->at.body;
    int head = draw_head(t, a, w) + 1, foot = a.h > 30 ? 6 : 4, q = dieset_find(t->d, w->path);
    paint_text(&t->p, a, head - 1, 1, INK_DIM, w->reaches ? "it reaches" : "it comes from");
    struct area body = {a.y + head, a.x, a.h - head - foot, a.w};
    if (w->reaches)
        draw_reaches(t, body, w);
    else
        draw_tree(t, body, w);
    paint_row(&t->p, a, a.h - foot, INK_DIM);
    if (q < 0)
        return;
    struct base_text words = {0};
    job_describe(t->job, q, &words);
    for (char *p = words.data; p && *p; p++)
        if (*p == '\n')
            *p = ' ';
    draw_wrapped(t, a, a.h - foot + 1, 1, INK_PLAIN, base_text_get(&words), foot - 1);
    base_text_done(&words);
}

/* ---- keys ---- */

static int at_cursor(const struct why *w)
{
    if (w->reaches)
        return w->other.at < w->other.n ? w->reached[w->other.at] : -1;
    return w->list.at < w->list.n ? w->lines.at[w->list.at].quantity : -1;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct why *w = (struct why *)level;
    int i = w->list.at;
    if (w->reaches) {
        list_move(&w->other, m, t->at.body.h - 8);
    } else if (m == MOVE_RIGHT && i < w->list.n) {
        if (is_open(w, i))
            w->list.at++;
        else if (!unfold(t, w, i))
            tui_say(t, "nothing below it");
    } else if (m == MOVE_LEFT && i < w->list.n) {
        if (is_open(w, i))
            fold(w, i);
        else
            while (w->list.at > 0 && w->lines.at[w->list.at].depth >= w->lines.at[i].depth)
                w->list.at--;
    } else {
        list_move(&w->list, m, t->at.body.h - 8);
    }
}

static void enter(struct tui *t, struct level *level)
{
    int q = at_cursor((struct why *)level);
    if (q >= 0)
        go_to_quantity(t, q);
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct why *w = (struct why *)level;
    (void)t;
    (void)by;
    w->reaches = !w->reaches;
}

static void settle(struct tui *t, struct level *level)
{
    plant(t, (struct why *)level);
}

static const char *path_at(struct tui *t, struct level *level)
{
    int q = at_cursor((struct why *)level);
    return q >= 0 ? dieset_quantity(t->d, q)->path : NULL;
}

static void done(struct level *level)
{
    struct why *w = (struct why *)level;
    base_vec_done(&w->lines);
    free(w);
}

static const struct level_ops ops = {.place = PLACE_WHY, .full = true, .draw = draw, .move = step, .enter = enter, .tab = tab,
                                     .path = path_at, .settle = settle, .done = done};

void why_open(struct tui *t, const char *path)
{
    struct why *w = base_alloc(sizeof *w);
    w->level.ops = &ops;
    snprintf(w->path, sizeof w->path, "%s", path);
    plant(t, w);
    tui_push(t, &w->level);
}

void act_why(struct tui *t)
{
    struct level *l = tui_top(t);
    const char *path = l && l->ops->path ? l->ops->path(t, l) : NULL;
    if (!l && t->focus == PANE_FINDINGS && t->finding.at < t->n_findings && t->findings[t->finding.at].cause >= 0)
        path = dieset_quantity(t->d, t->findings[t->finding.at].cause)->path;
    else if (!l && *t->path)
        path = t->path;
    if (path)
        why_open(t, path);
    else
        tui_say(t, "no value stands at the cursor");
}
