/* tui/views/why.c - why a value is what it is: its tree, folded and unfolded, and the tree of what it reaches
 *
 * Lines stand as drawn, depth first, the value itself first; unfolding a line asks the job for one level and
 * puts those lines in. From 160 columns both trees stand side by side; what is at the cursor is told below
 * them.
 */

#include "tui/tui.h"
#include "tui/go.h"
#include "tui/views.h"

#include "tui/act.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BELOW = 400, BESIDE = 160, WIDE = 96 };
enum way { COMES_FROM, REACHES, WAYS };

/* seen: where it stood in the last picture */
struct tree {
    BASE_VEC(struct job_why_line) lines;
    struct list list;
    struct area seen;
};

struct why {
    struct level level;
    char path[PATH_MOST];
    struct tree trees[WAYS];
    enum way way; /* whose cursor moves */
};

/* ---- the trees ---- */

static int ask(struct tui *t, enum way way, int q, enum dieset_state s, int depth, struct job_why_line *out)
{
    return way == REACHES ? job_reach(t->job, q, s, depth, out, BELOW)
                          : job_why(t->job, q, s, depth, out, BELOW);
}

/* Put one level below line I in; false when there is nothing. */
static bool unfold(struct tui *t, enum way way, struct tree *w, int i)
{
    struct job_why_line *below = base_alloc(BELOW * sizeof *below);
    struct job_why_line line = w->lines.at[i];
    int n = line.quantity < 0 ? 0 : ask(t, way, line.quantity, line.state, 1, below);
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

static bool is_open(const struct tree *w, int i)
{
    return (size_t)i + 1 < w->lines.count && w->lines.at[i + 1].depth > w->lines.at[i].depth;
}

static void fold(struct tree *w, int i)
{
    size_t end = (size_t)i + 1;
    while (end < w->lines.count && w->lines.at[end].depth > w->lines.at[i].depth)
        end++;
    memmove(w->lines.at + i + 1, w->lines.at + end, (w->lines.count - end) * sizeof *w->lines.at);
    w->lines.count -= end - (size_t)i - 1;
    w->lines.at[i].more = true;
    w->list.n = (int)w->lines.count;
}

/* As many levels as the screen has room for: two at least of what it comes from, one of what it reaches. */
static void plant(struct tui *t, struct why *w, enum way way)
{
    struct tree *tree = &w->trees[way];
    struct job_why_line *lines = base_alloc(BELOW * sizeof *lines);
    int q = dieset_find(t->d, w->path), n = 0, room = t->at.body.h - 10;
    tree->lines.count = 0;
    for (int depth = 4; q >= 0 && depth >= (way == REACHES ? 1 : 2); depth--) {
        n = ask(t, way, q, t->state, depth, lines);
        if (n <= room)
            break;
    }
    for (int i = 0; i < n; i++)
        base_vec_push(&tree->lines, lines[i]);
    tree->list.n = n;
    free(lines);
}

static void plant_both(struct tui *t, struct why *w)
{
    plant(t, w, COMES_FROM);
    plant(t, w, REACHES);
}

/* ---- drawing ---- */

static void draw_line(struct tui *t, struct area a, int y, const struct tree *w, int i, bool here)
{
    const struct job_why_line *l = &w->lines.at[i];
    int x = 3 + 2 * l->depth, value_end = a.w >= WIDE ? 56 : 46;
    const char *mark = is_open(w, i) ? "v" : l->more || l->seen ? "+" : ".";
    struct area label = {a.y, a.x, a.h, value_end - paint_width(l->value) - 1};
    enum ink ink = l->folded ? INK_DIM : here ? INK_STRONG : INK_PLAIN;
    paint_text(&t->p, label, y, x, ink, mark);
    paint_text(&t->p, label, y, x + 2, ink, l->label);
    paint_right(&t->p, a, y, value_end, l->folded ? INK_DIM : INK_PLAIN, l->value);
    int end = value_end + 2;
    if (l->folded)
        end = paint_text(&t->p, a, y, end, INK_DIM, "not asked now  ");
    const char *cited = l->pick[0] && paint_width(l->source) + 20 > a.w - end ? l->pick : l->source;
    int source = paint_width(cited);
    struct area formula = {a.y, a.x, a.h, source && a.w - source - 2 > end + 12 ? a.w - source - 2 : a.w};
    if (i > 0) /* the first one's stands above */
        paint_text(&t->p, formula, y, end, INK_DIM, l->formula);
    if (formula.w < a.w)
        paint_right(&t->p, a, y, a.w - 1, INK_DIM, cited);
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

/* Title, formula, what holds of it, that with its values, a function's sum; returns the rows taken. */
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
        x = paint_format(
            &t->p, a, 0, x + 3, INK_STOCK, "spare %s over the need of %s",
            unit_print(spare, dieset_quantity(t->d, q)->type.type.dim, dieset_system(t->d), s, sizeof s),
            unit_print(need, dieset_quantity(t->d, q)->type.type.dim, dieset_system(t->d), n, sizeof n));
    }
    if (t->state == DIESET_GROUND)
        paint_right(&t->p, a, 0, a.w - 1, INK_PLAIN, "ground");
    const struct tree *tree = &w->trees[COMES_FROM];
    const struct job_why_line *l = tree->lines.count ? &tree->lines.at[0] : NULL;
    const char *const texts[] = {l ? l->formula : "", l ? l->taken : "", l ? l->filled : "",
                                 l ? l->worked : ""};
    int y = 1;
    for (size_t i = 0; i < COUNT_OF(texts); i++)
        if (texts[i][0] && (i == 0 || strcmp(texts[i], l->value) != 0)) {
            paint_text(&t->p, a, y, 1, INK_PLAIN, "=");
            y += draw_wrapped(t, layout_read((struct area){a.y + y, a.x, a.h, a.w}), 0, 3, INK_PLAIN,
                              texts[i], 3);
        }
    return y;
}

static void draw_tree(struct tui *t, struct area a, struct why *w, enum way way)
{
    struct tree *tree = &w->trees[way];
    struct area body = {a.y + 1, a.x, a.h - 1, a.w};
    bool live = way == w->way;
    tree->seen = body;
    paint_text(&t->p, a, 0, 1, live ? INK_PLAIN : INK_DIM, way == REACHES ? "it reaches" : "it comes from");
    list_fit(&tree->list, body.h);
    if (way == REACHES && tree->list.n <= 1)
        paint_text(&t->p, body, 1, 3, INK_DIM, "nothing hangs on it");
    for (int y = 0; y < body.h && tree->list.top + y < tree->list.n; y++) {
        int i = tree->list.top + y;
        draw_line(t, body, y, tree, i, live && i == tree->list.at);
        if (live && i == tree->list.at) {
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
            tui_cursor(t, body, y, 1);
        }
    }
    if (tree->list.top + body.h < tree->list.n)
        paint_format(&t->p, a, 0, a.w - 10, INK_DIM, "%d more", tree->list.n - tree->list.top - body.h);
}

/* The value at the cursor: what it is, its formula, and that with its numbers put in. It follows when the
   cursor rests. */
static void draw_foot(struct tui *t, struct area a, const struct why *w)
{
    const struct tree *tree = &w->trees[w->way];
    const struct job_why_line *l = tree->list.at < tree->list.n ? &tree->lines.at[tree->list.at] : NULL;
    struct base_text text = {0};
    if (tui_stays(t, a))
        return;
    paint_row(&t->p, a, 0, INK_DIM);
    if (!l || l->quantity < 0)
        return;
    job_describe(t->job, l->quantity, &text);
    for (char *p = text.data; p && *p; p++)
        if (*p == '\n')
            *p = ' ';
    struct area read = layout_read(a);
    int y = 1 + draw_wrapped(t, read, 1, 1, INK_PLAIN, base_text_get(&text), a.h - 1);
    const char *const texts[] = {l->formula, l->taken, l->filled};
    for (size_t i = 0; i < COUNT_OF(texts) && tree->list.at > 0; i++) {
        base_text_clear(&text);
        base_text_addf(&text, "%s = %s", i ? " " : l->label, texts[i]);
        if (texts[i][0] && (i || l->filled[0] || l->taken[0]))
            y += draw_wrapped(t, read, y, 1, INK_DIM, base_text_get(&text), a.h - y);
    }
    base_text_done(&text);
}

static void draw(struct tui *t, struct level *level)
{
    struct why *w = (struct why *)level;
    struct area a = t->at.body;
    int head = draw_head(t, a, w), foot = a.h > 30 ? 8 : 5;
    struct area body = {a.y + head, a.x, a.h - head - foot, a.w}, left = body, right = body;
    w->trees[COMES_FROM].seen = w->trees[REACHES].seen = (struct area){0};
    if (a.w >= BESIDE) {
        left.w = a.w / 2 - 1;
        right.x = left.x + left.w + 2;
        right.w = a.w - left.w - 2;
        draw_tree(t, left, w, COMES_FROM);
        draw_tree(t, right, w, REACHES);
    } else {
        draw_tree(t, body, w, w->way);
    }
    draw_foot(t, (struct area){a.y + a.h - foot, a.x, foot, a.w}, w);
}

/* ---- keys ---- */

static int at_cursor(const struct why *w)
{
    const struct tree *tree = &w->trees[w->way];
    return tree->list.at < tree->list.n ? tree->lines.at[tree->list.at].quantity : -1;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct why *w = (struct why *)level;
    struct tree *tree = &w->trees[w->way];
    int i = tree->list.at;
    if (m == MOVE_RIGHT && i < tree->list.n) {
        if (is_open(tree, i))
            tree->list.at++;
        else if (!unfold(t, w->way, tree, i))
            tui_say(t, w->way == REACHES ? "nothing hangs on it" : "nothing below it");
    } else if (m == MOVE_LEFT && i < tree->list.n) {
        if (is_open(tree, i))
            fold(tree, i);
        else
            while (tree->list.at > 0 && tree->lines.at[tree->list.at].depth >= tree->lines.at[i].depth)
                tree->list.at--;
    } else {
        list_move(&tree->list, m, t->at.body.h - 9);
        tui_quick(t);
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
    w->way = w->way == REACHES ? COMES_FROM : REACHES;
}

static void settle(struct tui *t, struct level *level) { plant_both(t, (struct why *)level); }

static const char *path_at(struct tui *t, struct level *level)
{
    int q = at_cursor((struct why *)level);
    return q >= 0 ? dieset_quantity(t->d, q)->path : NULL;
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct why *w = (struct why *)level;
    (void)t;
    for (int way = 0; way < WAYS; way++) {
        enum hit hit = list_hit(&w->trees[way].list, w->trees[way].seen, y, x);
        if (hit == HIT_NOTHING)
            continue;
        bool live = (int)w->way == way;
        w->way = (enum way)way;
        return live ? hit : HIT_MOVED;
    }
    return HIT_NOTHING;
}

static void done(struct level *level)
{
    struct why *w = (struct why *)level;
    for (int way = 0; way < WAYS; way++)
        base_vec_done(&w->trees[way].lines);
    free(w);
}

static const struct level_ops ops = {.place = AT_WHY,
                                     .full = true,
                                     .draw = draw,
                                     .move = step,
                                     .enter = enter,
                                     .tab = tab,
                                     .at = at,
                                     .path = path_at,
                                     .settle = settle,
                                     .done = done};

void why_open(struct tui *t, const char *path)
{
    struct why *w = base_alloc(sizeof *w);
    tui_hush(t);
    w->level.ops = &ops;
    snprintf(w->path, sizeof w->path, "%s", path);
    plant_both(t, w);
    w->trees[REACHES].list.at = w->trees[REACHES].list.n > 1; /* the first that it reaches */
    tui_push(t, &w->level);
}

void act_why(struct tui *t)
{
    const char *path = go_value(t);
    if (path && dieset_find(t->d, path) >= 0)
        why_open(t, path);
    else if (path)
        tui_say(t, "the job has no value %s any more", path);
    else
        tui_say(t, "no value stands at the cursor");
}
