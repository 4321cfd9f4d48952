/* tui/outline.h - lines of an outline: rows of the form, one added by `a`, all of them by the command row */
#ifndef DIEWRIGHT_TUI_OUTLINE_H
#define DIEWRIGHT_TUI_OUTLINE_H

#include <stdbool.h>

struct tui;

/* `a` at a line of an outline, or where one is to begin; false: it means something else */
bool outline_add_here(struct tui *t);
/* TEXT's lines, parted by ";" or in pasted text by line ends. */
void outline_run(struct tui *t, const char *item, const char *text);

#endif
