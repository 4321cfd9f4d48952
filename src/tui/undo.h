/* tui/undo.h - edits taken back and made again */
#ifndef DIEWRIGHT_TUI_UNDO_H
#define DIEWRIGHT_TUI_UNDO_H

#include <stdbool.h>

struct tui;

/* Take back (BACK) or make again the edit EDIT, 0: one's own last; somebody else's once its writer and hour
   were told and y was typed. */
void undo_step(struct tui *t, bool back, long edit);

#endif
