/* tui/lines.h - a full view of lines to read, some of which lead to a value */
#ifndef DIEWRIGHT_TUI_LINES_H
#define DIEWRIGHT_TUI_LINES_H

#include "tui/tui.h"

#include "diewright/report.h"

/* Lines to read; ITEMS may be NULL or a path for each line that Enter goes to. Both adopted. */
void lines_open(struct tui *t, const char *title, char **lines, char **paths, int n);
/* The same for lines that are laid out for the width: MAKE tells them all of SOURCE, at once and anew
 * whenever the width changes; lines set in by more than two columns go on what stands above them. SOURCE is
 * adopted; DROP (may be NULL) frees it. */
typedef void lines_tell_fn(void *arg, const char *line, const char *path);
typedef void lines_make_fn(const void *source, int width, lines_tell_fn *tell, void *arg);
void lines_open_made(struct tui *t, const char *title, void *source, lines_make_fn *make,
                     void (*drop)(void *source));
/* The same, made anew when the job has changed: they show what stands, and while a line is typed what
 * would. */
void lines_open_live(struct tui *t, const char *title, void *source, lines_make_fn *make,
                     void (*drop)(void *source));
/* All lines of TEXT, each with the path that PATH_OF (NULL: none) finds for it; what it returns is freed. */
typedef char *lines_path_fn(const void *source, const char *line);
void lines_tell_text(const struct base_text *text, lines_path_fn *path_of, const void *source,
                     lines_tell_fn *tell, void *arg);
/* Those of P, made for WIDTH; with ERR (it could not be made) what WHY says instead. P is done with. */
void lines_tell_paper(enum base_err err, struct report_paper *p, const struct base_diag *why, int width,
                      lines_path_fn *path_of, const void *source, lines_tell_fn *tell, void *arg);
/* The lines of TEXT, as they are. */
void lines_open_text(struct tui *t, const char *title, const struct base_text *text);

#endif
