/* tui/press.c - see press.h */

#include "tui/press.h"

#include "tui/edits.h"
#include "tui/lesson.h"
#include "tui/tui.h"

#include <string.h>

/* While something is typed Alt with a letter must not leave it, and run as a command what the letter is.
 * Elsewhere it is Esc and the letter, which may have been pressed one after the other on a slow line. */
static void on_alt(struct tui *t, int key)
{
    const struct level *l = tui_top(t);
    unsigned place = tui_place(t);
    bool reads = place == AT_PRACTICE && l && !l->ops->event; /* what was learnt: nothing is typed there */
    if ((place & AT_WRITES) && !reads && !t->at.small)
        return;
    press_key(t, '\033');
    press_key(t, key - KEY_ALT);
}

void press_event(struct tui *t, const struct terminal_event *e)
{
    struct level *l = tui_top(t);
    bool by_mouse = e->what == TERMINAL_KEY && e->key >= KEY_CLICK && e->key < KEY_ALT;
    t->key = e->what == TERMINAL_KEY ? e->key : 0;
    t->mouse_y = by_mouse ? e->y : -1;
    t->mouse_x = by_mouse ? e->x : -1;
    if (l && !t->at.small && l->ops->event && l->ops->event(t, l, e))
        return;
    if (e->what == TERMINAL_KEY && e->key >= KEY_ALT) {
        on_alt(t, e->key);
        return;
    }
    if (e->what == TERMINAL_PASTE) {
        tui_complain(t, "pasted text is taken only where something is being typed");
        return;
    }
    const struct key_row *row = keys_find(tui_place(t), e->key);
    if (!row) {
        char label[20];
        if (!t->at.small && !by_mouse)
            tui_say(t, "%s does nothing here; ? shows the keys that do",
                    keys_label(e->key, label, sizeof label));
        return;
    }
    if (strcmp(row->action, "quit") != 0)
        t->asked_to_leave = false;
    bool answers = lesson_hides(t) && strcmp(row->action, "enter") == 0;
    if (row->edits && !answers && !edit_allowed(t))
        return;
    tui_do(t, row->action);
    lesson_seen(t, row->action);
}

void press_key(struct tui *t, int key)
{
    press_event(t, &(struct terminal_event){.what = TERMINAL_KEY, .key = key});
}
