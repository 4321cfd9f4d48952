/* tui/clip.c - the value at the cursor to the terminal's clipboard */

#include "tui/act.h"
#include "tui/go.h"

void act_clip(struct tui *t)
{
    char value[400];
    const char *path = go_value(t);
    int q = path ? dieset_find(t->d, path) : -1;
    if (q < 0) {
        tui_say(t, "there is no value at the cursor");
        return;
    }
    dieset_print(t->d, q, t->state, value, sizeof value);
    terminal_clip(t->terminal, value);
    tui_say(t, "%s of %s is sent to the terminal's clipboard", value, dieset_quantity(t->d, q)->path);
}
