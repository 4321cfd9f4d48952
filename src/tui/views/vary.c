/* tui/views/vary.c - a value over a range: asking, running, walking along it */

#include "tui/views/vary.h"

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/go.h"
#include "tui/lesson.h"
#include "tui/lines.h"
#include "tui/values.h"
#include "tui/views.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ---- the run ---------------------------------------------------------------------- */

/* Progress is told each so many seconds. */
#define TOLD_EVERY 0.2

enum { MAP_COLUMNS = 76, MAP_ROWS = 14 };

struct pass { struct tui *t; struct vary *v; double since; };

static bool go_on(void *arg, int done)
{
    struct pass *p = arg;
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    double seconds = (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
    if (terminal_key_waits(p->t->terminal))
        return false;
    if (!p->since)
        p->since = seconds;
    if (seconds - p->since > TOLD_EVERY) {
        char text[80];
        p->since = seconds;
        snprintf(text, sizeof text, "%d points tried; any key breaks in", done);
        tui_progress(p->t, text);
    }
    return true;
}

/* The value drawn before stays the one drawn, where it still moves; at first, the one that is nearest to a
   limit. */
static int same_shown(const struct explore *was, int shown, const struct explore *is, int at)
{
    for (int i = 0; was && i < is->n_shown; i++)
        if (strcmp(was->shown[shown].path, is->shown[i].path) == 0)
            return i;
    return explore_closest(is, at);
}

static void take_over(struct vary *v, struct explore *run)
{
    v->at = explore_nearest(run, isnan(v->about) ? run->at[run->n / 2] : v->about);
    v->shown = same_shown(v->run, v->shown, run, v->at);
    explore_free(v->run);
    v->run = run;
    v->mark = -1;
    v->refused[0] = '\0';
}

static void run(struct tui *t, struct vary *v)
{
    int shown[VARY_SHOWN];
    struct base_diag why = {0};
    struct explore *x = NULL;
    struct pass pass = {t, v, 0};
    v->ask.quantity = dieset_find(t->d, v->path);
    if (v->ask.quantity < 0) {
        snprintf(v->refused, sizeof v->refused, "%s is no longer there", v->path);
        return;
    }
    v->ask.n_show = explore_movers(t->d, &v->ask, shown, VARY_SHOWN);
    if (!v->ask.n_show)
        shown[v->ask.n_show++] = v->ask.quantity;
    v->ask.show = shown;
    v->ask.go_on = go_on;
    v->ask.arg = &pass;
    enum base_err err = explore_run(job_findings(t->job), &v->ask, &x, &why);
    v->ask.show = NULL;
    /* broken off: what is done is shown, and all begins again once the key is done with */
    v->level.pending = terminal_key_waits(t->terminal) && (err || x->done < x->n);
    if (!err)
        take_over(v, x);
    else if (!v->level.pending)
        snprintf(v->refused, sizeof v->refused, "%.599s", why.message);
    v->mine = true;
    tui_changed(t); /* the findings were judged anew */
}

static void idle(struct tui *t, struct level *level)
{
    level->pending = false;
    run(t, (struct vary *)level);
}

/* Somebody changed the job: the run no longer holds. */
static void settle(struct tui *t, struct level *level)
{
    struct vary *v = (struct vary *)level;
    (void)t;
    if (v->mine)
        v->mine = false;
    else
        level->pending = true;
}

/* ---- keys ------------------------------------------------------------------------------ */

static void along(struct tui *t, struct level *level, enum move m)
{
    enum { PAGE = 11 };
    struct vary *v = (struct vary *)level;
    struct list l = {.at = v->at, .n = v->run ? v->run->n : 0};
    (void)t;
    if (!v->run)
        return;
    if (m == MOVE_UP || m == MOVE_DOWN) {
        v->top += m == MOVE_DOWN ? 1 : -1; /* kept within the picture when it is drawn */
        return;
    }
    list_move(&l, m == MOVE_LEFT ? MOVE_UP : m == MOVE_RIGHT ? MOVE_DOWN : m, PAGE);
    v->at = l.at;
    v->about = v->run->at[v->at];
}

/* A click into the picture chooses the point of its column. */
static enum hit at_cell(struct tui *t, struct level *level, int y, int x)
{
    struct vary *v = (struct vary *)level;
    struct area a = level->listed;
    int point = y >= a.y && y < a.y + a.h && !level->pending ? vary_point_at(v, x) : -1;
    (void)t;
    if (point < 0 || point == v->at)
        return point < 0 ? HIT_NOTHING : HIT_HERE;
    v->at = point;
    v->about = v->run->at[point];
    return HIT_MOVED;
}

static void other_shown(struct tui *t, struct level *level, int by)
{
    struct vary *v = (struct vary *)level;
    (void)t;
    if (v->run && v->run->n_shown)
        v->shown = (v->shown + by + v->run->n_shown) % v->run->n_shown;
}

/* The point's value into the form's field; of a factor, which has no form, into the command row. */
static void enter(struct tui *t, struct level *level)
{
    struct vary *v = (struct vary *)level;
    if (!v->run || v->run->refused[v->at]) {
        tui_say(t, "this value is not taken%s%s", v->run ? ": " : "", v->run ? v->run->refused[v->at] : "");
        return;
    }
    char *path = base_copy(v->path), *text = base_copy(v->run->text[v->at]);
    int q = dieset_find(t->d, path);
    bool form = q >= 0 && dieset_quantity(t->d, q)->item >= 0;
    tui_pop(t);
    if (form) {
        edit_open_typed(t, path, text);
    } else {
        char *line = base_format("set %s=%s", path, text);
        tui_open(t, "command", line);
        free(line);
    }
    free(path);
    free(text);
}

static struct vary *here(struct tui *t) { return (struct vary *)tui_top(t); }

static void zoom(struct tui *t, int by)
{
    struct vary *v = here(t);
    v->ask.points = NULL;
    if (v->run)
        v->about = v->run->at[v->at];
    explore_zoom(t->d, &v->ask, v->about, by);
    v->level.pending = true;
}

void act_finer(struct tui *t) { zoom(t, -1); }
void act_wider(struct tui *t) { zoom(t, 1); }

/* The listed sizes of the range; where it holds less than two, those on both sides of the cursor. */
static int pick_listed(const struct vary *v, const double **first)
{
    enum { FEW = 8 };
    const struct explore *x = v->run;
    int from = 0, n = 0;
    while (from < x->n_stock && x->stock[from] < v->ask.from - 1e-9)
        from++;
    while (from + n < x->n_stock && x->stock[from + n] <= v->ask.to + 1e-9)
        n++;
    if (n < 2) {
        from = from > FEW / 2 ? from - FEW / 2 : 0;
        n = x->n_stock - from < FEW ? x->n_stock - from : FEW;
    }
    *first = x->stock + from;
    return n;
}

void act_listed(struct tui *t)
{
    struct vary *v = here(t);
    const double *first;
    if (!v->run)
        return;
    v->about = v->run->at[v->at];
    v->level.pending = true;
    if (v->ask.points) {
        v->ask = v->range;
        return;
    }
    int n = pick_listed(v, &first);
    if (!n) {
        v->level.pending = false;
        tui_say(t, "no table lists sizes for %s", v->path);
        return;
    }
    v->range = v->ask;
    free(v->listed);
    v->listed = base_alloc((size_t)n * sizeof *v->listed);
    memcpy(v->listed, first, (size_t)n * sizeof *v->listed);
    v->ask.points = v->listed;
    v->ask.n_points = n;
    v->ask.from = v->listed[0];
    v->ask.to = v->listed[n - 1];
}

/* Of the range below, which stays as it is while this is read. */
static void make_both(const void *source, int width, lines_tell_fn *tell, void *arg)
{
    const struct vary *v = source;
    struct base_text both = {0};
    explore_beside(v->run, v->mark, v->at, width, &both);
    for (const char *p = base_text_get(&both); *p; p += strcspn(p, "\n"), p += *p == '\n') {
        char *line = base_copy_n(p, strcspn(p, "\n"));
        tell(arg, line, NULL);
        free(line);
    }
    base_text_done(&both);
}

static void show_both(struct tui *t, struct vary *v)
{
    char *title = base_format("%s  %s beside %s", v->path, v->run->text[v->mark], v->run->text[v->at]);
    lines_open_made(t, title, v, make_both, NULL);
    free(title);
}

void act_beside(struct tui *t)
{
    struct vary *v = here(t);
    if (!v->run)
        return;
    if (v->mark == v->at) {
        v->mark = -1;
    } else if (v->mark < 0) {
        v->mark = v->at;
        tui_say(t, "marked %s; c at another point shows both side by side", v->run->text[v->at]);
    } else if (vary_both_fit(t->at.body)) {
        v->mark = v->at; /* both are shown anyway */
    } else {
        show_both(t, v);
    }
}

/* ---- the level ----------------------------------------------------------------------------- */

static void draw(struct tui *t, struct level *level)
{
    vary_draw(t, (struct vary *)level, t->at.body);
}

static const char *path_of(struct tui *t, struct level *level)
{
    (void)t;
    return ((struct vary *)level)->path;
}

static void done(struct level *level)
{
    struct vary *v = (struct vary *)level;
    explore_free(v->run);
    free(v->listed);
    free(v);
}

/* FROM, TO, STEP as typed, or NULL: a range about the present value. */
static void vary(struct tui *t, const char *path, const char *from, const char *to, const char *step)
{
    enum { AROUND = 10 };
    static const struct level_ops ops = {.place = AT_VARY,
                                         .full = true,
                                         .draw = draw,
                                         .move = along,
                                         .enter = enter,
                                         .tab = other_shown,
                                         .at = at_cell,
                                         .path = path_of,
                                         .settle = settle,
                                         .idle = idle,
                                         .done = done};
    struct base_diag why = {0};
    struct explore_ask ask;
    edit_drop(t);
    if (lesson_holds_back(t, "a range of values"))
        return;
    if ((from ? explore_read(t->d, path, from, to, step, &ask, &why)
              : explore_propose(t->d, path, AROUND, &ask, &why)) != BASE_OK) {
        tui_complain(t, "%s", why.message);
        return;
    }
    struct vary *v = base_alloc(sizeof *v);
    struct formula_value now = dieset_value(t->d, ask.quantity, DIESET_NEW);
    v->level = (struct level){.ops = &ops, .pending = true};
    snprintf(v->path, sizeof v->path, "%s", path);
    v->ask = ask;
    v->about = now.error ? NAN : now.number;
    v->mark = -1;
    tui_hush(t);
    tui_push(t, &v->level);
}

void act_vary(struct tui *t)
{
    const char *path = go_value(t);
    if (path)
        vary(t, path, NULL, NULL, NULL);
    else
        tui_say(t, "no value stands at the cursor; :vary NAME FROM TO STEP names one");
}

static void vary_one(struct tui *t, const char *text)
{
    enum { WORD = 200 };
    char path[WORD], from[WORD], to[WORD], more[WORD];
    const char *step = record_word(record_word(record_word(text, path, WORD), from, WORD), to, WORD);
    record_word(step, more, WORD);
    if (*path && !*from)
        vary(t, path, NULL, NULL, NULL);
    else if (*more)
        vary(t, path, from, to, step);
    else if (!*path)
        act_vary(t);
    else
        tui_complain(t, "vary wants NAME, or NAME FROM TO STEP, such as vary die_plate.thickness 20 40 1");
}

/* "RANGE across RANGE": a map of what stands where; a key breaks in, and what is done by then is shown. */
static void map(struct tui *t, const char *first, const char *second)
{
    struct explore_axis along, across = {0};
    struct base_diag why = {0};
    struct vary told = {.mark = -1};
    struct pass pass = {t, &told, 0};
    struct explore *x = NULL;
    struct base_text text = {0};
    enum base_err err = explore_axis_text(t->d, first, &along, &why);
    err = err ? err : explore_axis_text(t->d, second, &across, &why);
    along.ask.across = &across.ask;
    along.ask.show = &along.ask.quantity;
    along.ask.n_show = 1;
    along.ask.go_on = go_on;
    along.ask.arg = &pass;
    if (!err && along.ask.quantity == across.ask.quantity)
        err = base_fail(&why, BASE_REFUSED, "one value does not run across itself");
    err = err ? err : explore_run(job_findings(t->job), &along.ask, &x, &why);
    tui_changed(t); /* the findings were judged anew */
    if (err) {
        tui_complain(t, "%s", why.message);
    } else {
        explore_map(x, MAP_COLUMNS, MAP_ROWS, &text);
        lines_open_text(t, "two values, each with each", &text);
    }
    base_text_done(&text);
    explore_free(x);
    explore_axis_done(&along);
    explore_axis_done(&across);
}

void vary_open(struct tui *t, const char *text)
{
    const char *second = strstr(text, " across ");
    if (second) {
        char *first = base_format("%.*s", (int)(second - text), text);
        map(t, first, second + strlen(" across "));
        free(first);
        return;
    }
    vary_one(t, text);
}
