/* tui/again.c - the value typed last, typed once more elsewhere */

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/marks.h"
#include "tui/tui.h"
#include "tui/values.h"

#include <stdio.h>

/* Where the last value is typed again: at the cursor of the form, else the same value of the item. */
static void repeat_path(const struct tui *t, char *buf, size_t size)
{
    const char *rest = marks_behind(t->marks->path);
    bool form = tui_pane_has_keys(t, AT_FORM) && *t->path;
    snprintf(buf, size, "%s", form ? t->path : "");
    if (!form && rest)
        snprintf(buf, size, "%s.%s", t->item, rest);
}

void act_repeat(struct tui *t)
{
    struct base_diag why = {0};
    char path[PATH_MOST];
    if (!*t->marks->path) {
        tui_say(t, "no value has been typed yet that could be typed again here");
        return;
    }
    repeat_path(t, path, sizeof path);
    if (!*path || dieset_find(t->d, path) < 0)
        tui_complain(t, "%s has no %s to type %s at", t->item,
                     marks_behind(t->marks->path) ? marks_behind(t->marks->path) : "such value",
                     t->marks->text);
    else {
        bool over = edit_is_over(t, path);
        if (edit_try(t, path, t->marks->text, &why) != BASE_OK)
            tui_complain(t, "%s", why.message);
        else if (edit_take(t) && over && *t->marks->text)
            edit_ask_reason(t, path);
    }
    tui_changed(t);
}
