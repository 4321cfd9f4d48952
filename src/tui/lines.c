/* tui/lines.c - see lines.h */

#include "tui/lines.h"

#include "tui/go.h"

#include <stdlib.h>
#include <string.h>

struct lines {
    struct level level;
    char *title;
    char **lines, **paths; /* paths may be NULL, and so may each of them */
    struct list list;
    void *source;        /* of lines that are laid out for the width */
    lines_make_fn *make; /* NULL: they are as they are */
    void (*drop)(void *source);
    int width; /* that they were made for */
    bool live; /* made anew when the job has changed, or is shown ground */
    bool due;
    enum dieset_state state;
};

static void forget(struct lines *l)
{
    for (int i = 0; i < l->list.n; i++) {
        free(l->lines[i]);
        if (l->paths)
            free(l->paths[i]);
    }
    free(l->lines);
    free(l->paths);
    l->lines = l->paths = NULL;
    l->list.n = 0;
}

/* ---- made for a width ---- */

struct told {
    BASE_VEC(char *) lines, paths;
};

static void keep(void *arg, const char *line, const char *path)
{
    struct told *g = arg;
    base_vec_push(&g->lines, base_copy(line));
    base_vec_push(&g->paths, path ? base_copy(path) : NULL);
}

static bool goes_on(const char *line)
{
    size_t in = strspn(line, " ");
    return in > 2 || !line[in];
}

/* The entry that line AT belongs to, counted from the top, and how far below its first line it is. */
static int entry_of(const struct lines *l, int at, int *below)
{
    int n = -1;
    *below = 0;
    for (int i = 0; i <= at && i < l->list.n; i++) {
        *below = goes_on(l->lines[i]) ? *below + 1 : 0;
        n += !goes_on(l->lines[i]);
    }
    return n;
}

static int line_of(const struct lines *l, int entry, int below)
{
    int n = -1, at = 0;
    for (int i = 0; i < l->list.n && n <= entry; i++) {
        n += !goes_on(l->lines[i]);
        if (n == entry && (!goes_on(l->lines[i]) || below-- > 0))
            at = i;
    }
    return at;
}

/* The cursor stays on the same entry. */
static void make(struct tui *t, struct lines *l)
{
    enum { MARGIN = 4 };
    struct told told = {0};
    int below, entry = entry_of(l, l->list.at, &below);
    l->width = t->at.body.w;
    l->state = t->state;
    l->due = false;
    forget(l);
    l->make(l->source, l->width - MARGIN, keep, &told);
    l->lines = told.lines.at;
    l->paths = told.paths.at;
    l->list.n = (int)told.lines.count;
    l->list.at = line_of(l, entry, below);
}

/* ---- the level ---- */

static void draw(struct tui *t, struct level *level)
{
    struct lines *l = (struct lines *)level;
    struct area a = t->at.body;
    if (l->make && (l->width != a.w || (l->live && (l->due || l->state != t->state))))
        make(t, l);
    paint_text(&t->p, a, 0, 1, INK_STRONG, l->title);
    struct area body = {a.y + 2, a.x, a.h - 2, a.w};
    level->listed = body;
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

static void settle(struct tui *t, struct level *level)
{
    (void)t;
    ((struct lines *)level)->due = true;
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
    if (path)
        go_to_subject(t, path);
    else
        tui_pop(t);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    (void)t;
    return list_hit(&((struct lines *)level)->list, level->listed, y, x);
}

static void done(struct level *level)
{
    struct lines *l = (struct lines *)level;
    forget(l);
    if (l->drop)
        l->drop(l->source);
    free(l->title);
    free(l);
}

static const struct level_ops ops = {.place = AT_LINES,
                                     .full = true,
                                     .draw = draw,
                                     .move = step,
                                     .enter = enter,
                                     .path = path_at,
                                     .at = at,
                                     .settle = settle,
                                     .done = done};

static struct lines *new_lines(const char *title)
{
    struct lines *l = base_alloc(sizeof *l);
    l->level.ops = &ops;
    l->title = base_copy(title);
    return l;
}

void lines_open(struct tui *t, const char *title, char **lines, char **paths, int n)
{
    struct lines *l = new_lines(title);
    l->lines = lines;
    l->paths = paths;
    l->list.n = n;
    tui_push(t, &l->level);
}

static void open_made(struct tui *t, struct lines *l, void *source, lines_make_fn *maker,
                      void (*drop)(void *source))
{
    l->source = source;
    l->make = maker;
    l->drop = drop;
    make(t, l);
    tui_push(t, &l->level);
}

void lines_open_made(struct tui *t, const char *title, void *source, lines_make_fn *maker,
                     void (*drop)(void *source))
{
    open_made(t, new_lines(title), source, maker, drop);
}

void lines_open_live(struct tui *t, const char *title, void *source, lines_make_fn *maker,
                     void (*drop)(void *source))
{
    struct lines *l = new_lines(title);
    l->live = true;
    open_made(t, l, source, maker, drop);
}

void lines_tell_text(const struct base_text *text, lines_path_fn *path_of, const void *source,
                     lines_tell_fn *tell, void *arg)
{
    for (const char *at = base_text_get(text); *at; at += strcspn(at, "\n"), at += *at == '\n') {
        char *line = base_copy_n(at, strcspn(at, "\n")), *path = path_of ? path_of(source, line) : NULL;
        tell(arg, line, path);
        free(path);
        free(line);
    }
}

void lines_tell_paper(enum base_err err, struct report_paper *p, const struct base_diag *why, int width,
                      lines_path_fn *path_of, const void *source, lines_tell_fn *tell, void *arg)
{
    struct base_text text = {0};
    if (err) {
        tell(arg, why->message, NULL);
        return;
    }
    p->width = width;
    report_write(p, REPORT_TEXT, &text);
    report_done(p);
    lines_tell_text(&text, path_of, source, tell, arg);
    base_text_done(&text);
}

void lines_open_text(struct tui *t, const char *title, const struct base_text *text)
{
    struct told told = {0};
    lines_tell_text(text, NULL, NULL, keep, &told);
    lines_open(t, title, told.lines.at, told.paths.at, (int)told.lines.count);
}
