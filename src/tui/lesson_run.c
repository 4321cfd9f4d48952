/* tui/lesson_run.c - practice begun, looked at after an edit, and left */

#include "tui/lesson.h"

#include <stdlib.h>

bool lesson_book(struct tui *t, struct base_diag *why)
{
    if (t->lesson)
        return true;
    struct practice_book *book;
    if (practice_load(t->o.data, &book, why) != BASE_OK)
        return false;
    t->lesson = base_alloc(sizeof *t->lesson);
    t->lesson->book = book;
    practice_done_read(t->o.state, &t->lesson->done);
    return true;
}

/* What ran before is ended once the new job is shown. */
static void end_runs(struct practice_run *run, struct practice_walk *walk)
{
    practice_end(run);
    practice_walk_end(walk);
}

bool lesson_begin(struct tui *t, const char *name, struct base_diag *why)
{
    struct practice_run *run = NULL;
    struct practice_walk *walk = NULL;
    if (!lesson_book(t, why))
        return false;
    struct lesson *l = t->lesson;
    int i = practice_find_guide(l->book, name);
    bool guides = i >= 0;
    i = guides ? i : practice_find(l->book, name, why);
    if (i < 0 || (guides ? practice_walk_begin(l->book, t->o.handbook, i, &walk, why)
                         : practice_begin(l->book, t->o.handbook, i, &run, why)) != BASE_OK)
        return false;
    struct practice_run *run_before = l->run;
    struct practice_walk *walk_before = l->walk;
    if (!lesson_runs(t))
        l->own_look = t->o.look;
    l->run = run;
    l->walk = walk;
    l->at = i;
    l->step = STEP_FIND;
    l->tried = l->hints = 0;
    l->taken = false;
    tui_use(t, guides ? practice_walk_job(walk) : practice_run_job(run), false);
    end_runs(run_before, walk_before);
    tui_say(t, "a copy in memory, no job is touched; q leaves %s", guides ? "the guide" : "practice");
    return true;
}

bool lesson_leave(struct tui *t)
{
    if (!lesson_runs(t))
        return false;
    if (!t->o.job) {
        t->leaving = 0;
        return true;
    }
    struct practice_run *run = t->lesson->run;
    struct practice_walk *walk = t->lesson->walk;
    t->lesson->run = NULL;
    t->lesson->walk = NULL;
    tui_use(t, t->o.job, t->lesson->own_look);
    end_runs(run, walk);
    if (t->o.begin)
        tui_open(t, "begin", "");
    else
        tui_say(t, "back in %s", job_title(t->job));
    return true;
}

void lesson_done(struct tui *t)
{
    if (!t->lesson)
        return;
    end_runs(t->lesson->run, t->lesson->walk);
    practice_free(t->lesson->book);
    base_map_done(&t->lesson->done);
    free(t->lesson);
    t->lesson = NULL;
}

static void is_done(struct tui *t, const char *name)
{
    base_map_put(&t->lesson->done, name, 1);
    practice_done_add(t->o.state, name);
}

/* The steps that are done now: the last of them tells what is seen. */
static void walk_on(struct tui *t, const char *seen)
{
    struct lesson *l = t->lesson;
    int passed = practice_walk_look(l->walk, seen), at = practice_walk_at(l->walk);
    const struct practice_guide *g = practice_walk_about(l->walk);
    if (!passed)
        return;
    struct base_text says = {0};
    practice_walk_say(l->walk, g->steps[at - 1].learnt, &says);
    l->hints = 0;
    tui_changed(t);
    if (at == g->n_steps)
        is_done(t, g->name);
    tui_say(t, "%s", base_text_get(&says));
    base_text_done(&says);
}

void lesson_seen(struct tui *t, const char *name)
{
    if (lesson_guide(t) && !job_trying(t->job))
        walk_on(t, name);
}

void lesson_look(struct tui *t)
{
    struct lesson *l = t->lesson;
    if (!lesson_runs(t) || !l->taken || tui_depth(t) || job_trying(t->job))
        return;
    l->taken = false;
    if (l->walk)
        walk_on(t, NULL);
    if (l->walk || l->step == STEP_FIND)
        return;
    struct base_text says = {0};
    enum practice_state state = practice_look(l->run, &says);
    tui_changed(t); /* it was judged anew */
    if (state == PRACTICE_MENDED) {
        l->step = STEP_LEARNT;
        is_done(t, lesson_about(t)->name);
        tui_open(t, "learnt", "");
    } else {
        l->step = STEP_MEND;
        tui_complain(t, "%s", base_text_get(&says));
    }
    base_text_done(&says);
}
