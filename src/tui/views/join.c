/* tui/views/join.c - two copies of the job that were edited apart: what each changed, side by side, chosen
 * and taken in
 *
 * The other copy is only read, and closed when the view is left. What a clash brings in findings is worked
 * out for the one at the cursor.
 */

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/lesson.h"
#include "tui/views.h"

#include "diewright/shop.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct joining {
    struct level level;
    struct job *theirs;
    struct job_join *join;
    struct list list;
    int told; /* the difference that BRINGS is of; -1: none */
    struct base_text brings[JOB_SIDES];
};

static const char *const sides[JOB_SIDES] = {"mine", "theirs"};

enum { FOOT = 6 }; /* rows below the list */

static void forget_brings(struct joining *g)
{
    for (int s = 0; s < JOB_SIDES; s++)
        base_text_clear(&g->brings[s]);
    g->told = -1;
}

static void find_brings(struct joining *g)
{
    if (g->told == g->list.at || !g->list.n)
        return;
    forget_brings(g);
    struct job_joined x = job_join_at(g->join, g->list.at);
    if (x.clash && !x.stuck)
        job_join_brings(g->join, g->list.at, g->brings);
    g->told = g->list.at;
}

/* ---- drawing ---- */

static void draw_row(struct tui *t, struct area a, int y, const struct job_joined *x, bool here)
{
    int name = a.w * 3 / 10, each = (a.w - name - 11) / 2;
    enum ink ink = here ? INK_STRONG : x->side < 0 ? INK_PLAIN : INK_DIM;
    const char *stays = shop_joined_stays(x);
    if (here) {
        paint_text(&t->p, a, y, 0, INK_STRONG, ">");
        tui_cursor(t, a, y, 0);
    }
    paint_cut(&t->p, a, y, 2, name, here ? INK_STRONG : INK_PLAIN, x->name);
    for (int s = 0; s < JOB_SIDES; s++)
        paint_cut(&t->p, a, y, name + 1 + s * each, name + (s + 1) * each, x->side == s ? INK_PLAIN : ink,
                  x->is[s] ? x->is[s] : "-");
    paint_text(&t->p, a, y, a.w - 8, x->side < 0 ? INK_STRONG : INK_PLAIN, stays);
}

static void draw_foot(struct tui *t, struct area a, int y, const struct joining *g)
{
    struct job_joined x = job_join_at(g->join, g->list.at);
    paint_row(&t->p, a, y++, INK_DIM);
    int at = paint_text(&t->p, a, y, 1, INK_DIM, "both had  ");
    paint_cut(&t->p, a, y++, at, a.w - 1, INK_PLAIN, x.was ? x.was : "nothing");
    for (int s = 0; s < JOB_SIDES; s++, y += 2) {
        at = paint_format(&t->p, a, y, 1, INK_DIM, "%-8s  ", sides[s]);
        if (*x.when[s])
            at = paint_format(&t->p, a, y, at, INK_DIM, "%s %.10s %.5s  ", *x.who[s] ? x.who[s] : "somebody",
                              x.when[s], strlen(x.when[s]) > 11 ? x.when[s] + 11 : "");
        paint_cut(&t->p, a, y, at, a.w - 1, INK_PLAIN, x.is[s] ? x.is[s] : "nothing");
        const char *says = x.stuck && s == JOB_THEIRS ? x.stuck : base_text_get(&g->brings[s]);
        if (*says)
            at = paint_text(&t->p, a, y + 1, 11, INK_DIM, x.stuck ? "cannot stand here: " : "brings ");
        if (*says)
            paint_cut(&t->p, a, y + 1, at, a.w - 1, INK_STRONG, says);
    }
}

static void draw(struct tui *t, struct level *level)
{
    struct joining *g = (struct joining *)level;
    struct area a = t->at.body;
    int name = a.w * 3 / 10, each = (a.w - name - 11) / 2, x = paint_text(&t->p, a, 0, 1, INK_STRONG, "join");
    paint_cut(&t->p, a, 0, x + 3, a.w - 1, INK_PLAIN, job_join_words(g->join));
    for (int s = 0; s < JOB_SIDES; s++)
        paint_text(&t->p, a, 1, name + 1 + s * each, INK_DIM, sides[s]);
    paint_text(&t->p, a, 1, a.w - 8, INK_DIM, "stays");
    int open = job_join_open(g->join), taken = job_join_taken(g->join);
    if (open)
        paint_format(&t->p, a, 1, 2, INK_STRONG, "%d to choose", open);
    else
        paint_format(&t->p, a, 1, 2, INK_DIM, "%d of theirs", taken);
    struct area body = {a.y + 2, a.x, a.h - 2 - FOOT, a.w};
    level->listed = body;
    list_fit(&g->list, body.h);
    find_brings(g);
    for (int y = 0; y < body.h && g->list.top + y < g->list.n; y++) {
        struct job_joined at = job_join_at(g->join, g->list.top + y);
        draw_row(t, body, y, &at, g->list.top + y == g->list.at);
    }
    if (g->list.n)
        draw_foot(t, a, a.h - FOOT, g);
}

/* ---- keys ---- */

static void step(struct tui *t, struct level *level, enum move m)
{
    struct joining *g = (struct joining *)level;
    list_move(&g->list, m, t->at.body.h - 2 - FOOT);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    (void)t;
    return list_hit(&((struct joining *)level)->list, level->listed, y, x);
}

static void enter(struct tui *t, struct level *level)
{
    struct joining *g = (struct joining *)level;
    struct base_diag why = {0};
    int taken, open = job_join_open(g->join);
    bool failed = job_join_take(g->join, &taken, &why) != BASE_OK;
    tui_pop(t);
    tui_changed(t);
    tui_settle(t);
    if (failed)
        tui_complain(t, "%s%s", taken ? "Not all of it was taken in. " : "", why.message);
    else
        tui_say(t, "%d taken in of the other copy%s", taken,
                open ? "; what both changed and is not chosen stays as it was" : "");
}

static void done(struct level *level)
{
    struct joining *g = (struct joining *)level;
    job_join_free(g->join);
    job_close(g->theirs);
    for (int s = 0; s < JOB_SIDES; s++)
        base_text_done(&g->brings[s]);
    free(g);
}

static const struct level_ops ops = {
    .place = AT_JOIN, .full = true, .draw = draw, .move = step, .enter = enter, .at = at, .done = done};

/* All clashes stand first: the cursor goes on to the next that is not chosen. */
static void choose(struct tui *t, enum job_side side)
{
    struct level *l = tui_top(t);
    struct joining *g = l && l->ops == &ops ? (struct joining *)l : NULL;
    struct base_diag why = {0};
    if (!g || !g->list.n)
        return;
    forget_brings(g);
    if (job_join_choose(g->join, job_join_at(g->join, g->list.at).name, side, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else if (g->list.at + 1 < g->list.n && job_join_at(g->join, g->list.at + 1).side < 0)
        g->list.at++;
}

void act_mine(struct tui *t) { choose(t, JOB_MINE); }
void act_theirs(struct tui *t) { choose(t, JOB_THEIRS); }

void join_open(struct tui *t, const char *file)
{
    struct base_diag why = {0};
    struct joining *g = base_alloc(sizeof *g);
    if (lesson_holds_back(t, "a joining")) {
        free(g);
        return;
    }
    edit_drop(t);
    tui_settle(t);
    char *path = job_path(file);
    g->level.ops = &ops;
    g->told = -1;
    enum base_err err = !*file ? base_fail(&why, BASE_REFUSED, "join wants the file of the other copy")
                               : job_open(dieset_handbook(t->d), path, true, &g->theirs, &why);
    err = err ? err : job_join_new(t->job, g->theirs, &g->join, &why);
    free(path);
    if (!err && job_join_count(g->join)) {
        g->list.n = job_join_count(g->join);
        tui_push(t, &g->level);
        return;
    }
    if (err)
        tui_complain(t, "%s", why.message);
    else
        tui_say(t, "the two copies say the same");
    done(&g->level);
}
