/* tui/reason.c - why a value is typed over its formula */

#include "tui/values.h"

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/line.h"
#include "tui/tui.h"

#include <stdlib.h>
#include <string.h>

/* What the edit before did is told along: the question stood in the place of its message. */
static void reason_given(struct tui *t, const char *path, const char *text)
{
    struct base_diag why = {0};
    char *edit = t->last->reason_for.length ? base_format("%s; ", base_text_get(&t->last->reason_for))
                                            : base_copy("");
    if (!*text)
        tui_say(t, "%sno reason given: it stays a note until there is one (^ gives it)", edit);
    else if (job_reason(t->job, path, text, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else if (edit_take(t) && *edit)
        tui_say(t, "%sbecause: %s. u takes the reason back", edit, text);
    free(edit);
    tui_changed(t);
}

bool edit_is_over(const struct tui *t, const char *path)
{
    int q = dieset_find(t->d, path);
    return q >= 0 && dieset_quantity(t->d, q)->usual && !dieset_quantity(t->d, q)->typed;
}

void edit_ask_reason(struct tui *t, const char *path)
{
    static const char back[] = ". u takes it back";
    int q = dieset_find(t->d, path);
    const char *reason = q >= 0 ? dieset_quantity(t->d, q)->reason : NULL, *said = tui_said(t),
               *end = strstr(said, back);
    base_text_clear(&t->last->reason_for);
    if (strncmp(said, "taken: ", 7) == 0 && end)
        base_text_addf(&t->last->reason_for, "%.*s", (int)(end - said), said);
    ask_open(t, "typed over its formula, because: ", path, reason ? reason : "", reason_given);
}

void act_keep(struct tui *t)
{
    int q = form_quantity(t);
    if (q < 0)
        return;
    if (dieset_mark(t->d, q) != DIESET_TYPED_OVER) {
        tui_say(t, "%s is not typed over a formula", t->path);
        return;
    }
    tui_hush(t); /* of an edit before */
    edit_ask_reason(t, t->path);
}
