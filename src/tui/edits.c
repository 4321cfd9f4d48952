/* tui/edits.c - whether one may edit, and taking or dropping what is tried */

#include "tui/edits.h"

#include "tui/lesson.h"
#include "tui/marks.h"
#include "tui/outcome.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void edit_take_in(struct tui *t)
{
    struct base_text told = {0};
    if (lesson_hides(t))
        return;
    int taken = job_take_in(t->job, &told);
    if (taken || told.length) { /* what was not taken may have been read anew with what another wrote */
        tui_changed(t);
        tui_settle(t);
    }
    if (told.length)
        tui_say(t, "%s", base_text_get(&told));
    base_text_done(&told);
}

void edit_follow(struct tui *t)
{
    const struct typed_event *e;
    bool came = job_refresh(t->job);
    if (came) {
        tui_changed(t);
        tui_settle(t);
    }
    if (came && job_history(t->job, &e, 1))
        tui_say(t, "%s meanwhile: %s; shown as it is now", e->who && *e->who ? e->who : "somebody", e->title);
    edit_take_in(t);
    tui_warn(t);
}

bool edit_allowed(struct tui *t)
{
    if (t->o.look) {
        tui_complain(t, "looking only: nothing is changed here");
        return false;
    }
    if (lesson_hides(t)) {
        tui_complain(
            t, "first find it: put the cursor on the value that is wrong, and Enter; then it can be changed");
        return false;
    }
    if (job_trying(t->job))
        return true;
    edit_follow(t);
    return true;
}

void edit_drop(struct tui *t)
{
    if (!job_trying(t->job))
        return;
    job_drop(t->job);
    tui_changed(t);
}

void edit_forget(struct tui *t)
{
    for (int i = 0; i < t->last->n; i++)
        free(t->last->moves[i]);
    free(t->last->moves);
    t->last->moves = NULL;
    t->last->n = 0;
    base_text_clear(&t->last->title);
}

void edit_remember(struct tui *t, const struct job_outcome *o)
{
    edit_forget(t);
    t->last->moves = edit_move_lines(t, o);
    t->last->n = o->n_moves;
    base_text_add(&t->last->title, o->title);
}

enum base_err edit_try(struct tui *t, const char *path, const char *text, struct base_diag *why)
{
    if (!*text && strstr(path, ".outline.")) { /* the row would be gone from under the field */
        edit_drop(t);
        return base_fail(why, BASE_REFUSED, "%s: an empty line; Del in the form takes a line out.", path);
    }
    if (!*text)
        return job_unset(t->job, path, why);
    enum { MOST = 100 };
    char *paths[MOST];
    const char *texts[MOST];
    int n = marks_paths(t, path, paths, MOST);
    for (int i = 0; i < n; i++)
        texts[i] = text;
    enum base_err err = job_set_many(t->job, (const char *const *)paths, texts, n, why);
    for (int i = 0; i < n; i++)
        free(paths[i]);
    return err;
}

enum base_err edit_try_stations(struct tui *t, const char *words, struct base_diag *why)
{
    enum base_err err = job_station_line(t->job, words, why);
    tui_changed(t);
    return err;
}

bool edit_take(struct tui *t)
{
    struct base_diag why = {0};
    struct base_text line = {0};
    if (job_changes_nothing(t->job)) {
        edit_drop(t);
        tui_say(t, "it stands so already: nothing to take");
        return true;
    }
    const struct job_outcome *o = job_outcome(t->job);
    bool words = job_trying_words(t->job); /* which undo passes by */
    base_text_addf(&line, "taken: %s; ", o->title);
    edit_counts_line(o, &line);
    edit_remember(t, o);
    enum base_err err = job_take(t->job, &why);
    tui_changed(t);
    lesson_taken(t);
    if (err == BASE_OK)
        tui_say(t, words ? "%s" : "%s. u takes it back", base_text_get(&line));
    else if (err == BASE_NOT_SAVED)
        tui_complain(t, "%s The edit is kept here; :save-as FILE saves it", why.message);
    else
        tui_complain(t, "%s", why.message);
    base_text_done(&line);
    return err == BASE_OK;
}
