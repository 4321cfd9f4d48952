/* tui/lines.h - a full view of lines to read, some of which lead to a value */
#ifndef DIEWRIGHT_TUI_LINES_H
#define DIEWRIGHT_TUI_LINES_H

#include "tui/tui.h"

/* Lines to read; ITEMS may be NULL or a path for each line that Enter goes to. Both adopted. */
void lines_open(struct tui *t, const char *title, char **lines, char **paths, int n);
/* The same for lines that are laid out for the width: MAKE tells them all of SOURCE, at once and anew
 * whenever the width changes; lines set in by more than two columns go on what stands above them. SOURCE is
 * adopted; DROP (may be NULL) frees it. */
typedef void lines_tell_fn(void *arg, const char *line, const char *path);
typedef void lines_make_fn(const void *source, int width, lines_tell_fn *tell, void *arg);
void lines_open_made(struct tui *t, const char *title, void *source, lines_make_fn *make,
                     void (*drop)(void *source));
/* The same, made anew for each picture: they show what stands, and while a line is typed what would. */
void lines_open_live(struct tui *t, const char *title, void *source, lines_make_fn *make,
                     void (*drop)(void *source));

#endif
