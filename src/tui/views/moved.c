/* tui/views/moved.c - all that a try would move, and all that the last edit moved */

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/found.h"
#include "tui/lines.h"
#include "tui/outcome.h"

#include <stdlib.h>
#include <string.h>

/* All that the open try would move, to be read; Esc comes back to the field. */
void act_moves(struct tui *t)
{
    if (!job_trying(t->job)) {
        tui_say(t, "nothing would move");
        return;
    }
    const struct job_outcome *o = job_outcome(t->job);
    char **lines = base_alloc((size_t)(o->n_moves + o->n_came + o->n_went + 1) * sizeof *lines);
    int n = 0;
    for (int i = 0; i < o->n_came; i++)
        lines[n++] = base_format("+%s  %s: %s", findings_mark(&o->came[i]), o->came[i].title,
                                 o->came[i].message);
    for (int i = 0; i < o->n_went; i++)
        lines[n++] = base_format("-%s  %s: %s", findings_mark(&o->went[i]), o->went[i].title,
                                 o->went[i].message);
    char **moves = edit_move_lines(t, o);
    for (int i = 0; i < o->n_moves; i++)
        lines[n++] = moves[i];
    free(moves);
    char *title = base_format("not yet taken: %s", o->title);
    lines_open(t, title, lines, NULL, n);
    free(title);
}

/* What the last taken edit, undo or redo moved. */
void act_moved(struct tui *t)
{
    if (!t->last->title.length) {
        tui_say(t, "nothing has been changed yet since the start");
        return;
    }
    int n = t->last->n;
    char **lines = base_alloc((size_t)(n + 1) * sizeof *lines),
         **paths = base_alloc((size_t)(n + 1) * sizeof *paths);
    for (int i = 0; i < n; i++) {
        lines[i] = base_copy(t->last->moves[i]);
        paths[i] = base_copy_n(lines[i], strcspn(lines[i], " "));
    }
    char *title = base_format("moved by: %s", base_text_get(&t->last->title));
    lines_open(t, title, lines, paths, n);
    free(title);
}
