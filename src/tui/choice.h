/* tui/choice.h - a short list to choose from, on a panel over the form */
#ifndef DIEWRIGHT_TUI_CHOICE_H
#define DIEWRIGHT_TUI_CHOICE_H

#include "tui/tui.h"

struct choice { char *label, *value, *note; };
/* A list to choose from; TRIED (may be NULL) is called for the choice at the cursor as it moves, TAKEN on
 * Enter, DROPPED (may be NULL) on Esc. The choices are adopted. */
typedef void choice_fn(struct tui *t, const char *subject, const struct choice *c);
void choice_open(struct tui *t, const char *title, const char *subject, struct choice *choices, int n, int at,
                 choice_fn *tried, choice_fn *taken, choice_fn *dropped);

#endif
