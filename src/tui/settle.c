/* tui/settle.c - looking up again what stands at cursors and in lists, once values may differ */

#include "tui/tui.h"

#include "tui/form.h"
#include "tui/found.h"
#include "tui/stack.h"

#include <stdio.h>

static void settle_revision(struct tui *t)
{
    struct review_revision latest;
    if (job_trying(t->job))
        return;
    bool any = review_latest(t->d, &latest);
    snprintf(t->revision, sizeof t->revision, "%s", any ? latest.letter : "");
    t->edits_since = any ? job_edits_since(t->job, latest.letter) : 0;
}

void tui_settle(struct tui *t)
{
    if (t->settled == t->changed)
        return;
    found_settle(t); /* judges */
    stack_settle(t);
    form_settle(t);
    for (int i = 0; i < tui_depth(t); i++) {
        struct level *l = tui_level(t, i);
        if (l->ops->settle)
            l->ops->settle(t, l);
    }
    t->settled = t->changed;
    settle_revision(t);
}
