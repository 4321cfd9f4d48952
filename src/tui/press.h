/* tui/press.h - a key finds its row by place, and what it does by name */
#ifndef DIEWRIGHT_TUI_PRESS_H
#define DIEWRIGHT_TUI_PRESS_H

#include "diewright/terminal.h"

struct tui;

/* A key or a paste: to the top level, else through the table of keys. */
void press_event(struct tui *t, const struct terminal_event *e);
void press_key(struct tui *t, int key); /* as if KEY had come */

#endif
