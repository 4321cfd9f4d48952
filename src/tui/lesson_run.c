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
    return true;
}

bool lesson_begin(struct tui *t, const char *name, struct base_diag *why)
{
    struct practice_run *run;
    int i = lesson_book(t, why) ? practice_find(t->lesson->book, name, why) : -1;
    if (i < 0 || practice_begin(t->lesson->book, t->o.handbook, i, &run, why) != BASE_OK)
        return false;
    struct lesson *l = t->lesson;
    struct practice_run *before = l->run;
    if (!before)
        l->own_look = t->o.look;
    l->run = run;
    l->at = i;
    l->step = STEP_FIND;
    l->tried = l->hints = 0;
    l->taken = false;
    tui_use(t, practice_run_job(run), false);
    practice_end(before);
    tui_say(t, "a copy in memory, no job is touched; q leaves practice");
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
    t->lesson->run = NULL;
    tui_use(t, t->o.job, t->lesson->own_look);
    practice_end(run);
    tui_say(t, "back in %s", job_title(t->job));
    return true;
}

void lesson_done(struct tui *t)
{
    if (!t->lesson)
        return;
    practice_end(t->lesson->run);
    practice_free(t->lesson->book);
    base_map_done(&t->lesson->mended);
    free(t->lesson);
    t->lesson = NULL;
}

void lesson_look(struct tui *t)
{
    struct lesson *l = t->lesson;
    if (!lesson_runs(t) || !l->taken || tui_depth(t) || job_trying(t->job))
        return;
    l->taken = false;
    if (l->step == STEP_FIND)
        return;
    struct base_text says = {0};
    enum practice_state state = practice_look(l->run, &says);
    tui_changed(t); /* it was judged anew */
    if (state == PRACTICE_MENDED) {
        l->step = STEP_LEARNT;
        base_map_put(&l->mended, lesson_about(t)->name, 1);
        tui_open(t, "learnt", "");
    } else {
        l->step = STEP_MEND;
        tui_complain(t, "%s", base_text_get(&says));
    }
    base_text_done(&says);
}
