/* tui/lines.c - a full view of lines to read, some of which lead to a value; and what last moved */

#include "tui/tui.h"

#include "tui/act.h"

#include <stdlib.h>
#include <string.h>

struct lines {
    struct level level;
    char *title;
    char **lines, **paths; /* paths may be NULL, and so may each of them */
    struct list list;
};

static void draw(struct tui *t, struct level *level)
{
    struct lines *l = (struct lines *)level;
    struct area a = t->at.body;
    paint_text(&t->p, a, 0, 1, INK_STRONG, l->title);
    struct area body = {a.y + 2, a.x, a.h - 2, a.w};
    list_fit(&l->list, body.h);
    for (int y = 0; y < body.h && l->list.top + y < l->list.n; y++) {
        int i = l->list.top + y;
        paint_text(&t->p, body, y, 3, INK_PLAIN, l->lines[i]);
        if (i == l->list.at) {
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
            tui_cursor(t, body, y, 1);
        }
    }
    if (l->list.n == 0)
        paint_text(&t->p, body, 0, 3, INK_DIM, "nothing");
    if (l->list.top + body.h < l->list.n)
        paint_format(&t->p, a, 0, a.w - 12, INK_DIM, "%d more", l->list.n - l->list.top - body.h);
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct lines *l = (struct lines *)level;
    list_move(&l->list, m, t->at.body.h - 2);
}

static const char *path_at(struct tui *t, struct level *level)
{
    struct lines *l = (struct lines *)level;
    (void)t;
    return l->paths && l->list.at < l->list.n ? l->paths[l->list.at] : NULL;
}

static void enter(struct tui *t, struct level *level)
{
    const char *path = path_at(t, level);
    int q = path ? dieset_find(t->d, path) : -1;
    if (q >= 0)
        go_to_quantity(t, q);
    else if (path && dieset_find_item(t->d, path) >= 0)
        go_to(t, path, NULL);
    else
        tui_pop(t);
}

static void done(struct level *level)
{
    struct lines *l = (struct lines *)level;
    for (int i = 0; i < l->list.n; i++) {
        free(l->lines[i]);
        if (l->paths)
            free(l->paths[i]);
    }
    free(l->lines);
    free(l->paths);
    free(l->title);
    free(l);
}

static const struct level_ops ops = {.place = PLACE_LINES, .full = true, .draw = draw, .move = step, .enter = enter,
                                     .path = path_at, .done = done};

void lines_open(struct tui *t, const char *title, char **lines, char **paths, int n)
{
    struct lines *l = base_alloc(sizeof *l);
    l->level.ops = &ops;
    l->title = base_copy(title);
    l->lines = lines;
    l->paths = paths;
    l->list.n = n;
    tui_push(t, &l->level);
}

/* What the last taken edit, undo or redo moved. */
void act_moved(struct tui *t)
{
    if (!t->last_title.length) {
        tui_say(t, "nothing has been changed yet since the start");
        return;
    }
    int n = t->n_last_moves;
    char **lines = base_alloc((size_t)(n + 1) * sizeof *lines), **paths = base_alloc((size_t)(n + 1) * sizeof *paths);
    for (int i = 0; i < n; i++) {
        lines[i] = base_copy(t->last_moves[i]);
        paths[i] = base_copy_n(lines[i], strcspn(lines[i], " "));
    }
    char *title = base_format("moved by: %s", base_text_get(&t->last_title));
    lines_open(t, title, lines, paths, n);
    free(title);
}
