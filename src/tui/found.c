/* tui/found.c - the findings as they stand, and which the cursor is on */

#include "tui/found.h"

#include "tui/lesson.h"
#include "tui/tui.h"

const char *findings_mark(const struct finding *f)
{
    static const char *const marks[] = {
        [HANDBOOK_NOTE] = " .", [HANDBOOK_CAUTION] = " !", [HANDBOOK_FAULT] = "!!"};
    return f->waiver ? " ~" : marks[f->grade];
}

const char *states_text(enum handbook_states s)
{
    return s == HANDBOOK_NEW ? "new" : s == HANDBOOK_GROUND ? "ground" : "";
}

static void settle_moved(struct tui *t)
{
    base_map_done(&t->found->moved);
    if (!job_trying(t->job))
        return;
    const struct job_outcome *o = job_outcome(t->job);
    for (int i = 0; i < o->n_moves; i++)
        if (!base_map_get(&t->found->moved, o->moves[i].path, NULL))
            base_map_put(&t->found->moved, o->moves[i].path, i);
}

void found_settle(struct tui *t)
{
    struct found *f = t->found;
    settle_moved(t);
    f->n = findings_list(job_findings(t->job), &f->findings);
    if (lesson_hides(t))
        f->n = 0;
    f->list.n = f->n;
    list_move(&f->list, MOVE_LEFT, 0);
}

void found_reset(struct tui *t)
{
    t->found->list = (struct list){0};
    base_map_done(&t->found->moved);
}

const struct finding *found_here(const struct tui *t)
{
    const struct found *f = t->found;
    return f->list.at < f->n ? &f->findings[f->list.at] : NULL;
}
