/* tui/papers.h - papers of the job on the screens, and into files */
#ifndef DIEWRIGHT_TUI_PAPERS_H
#define DIEWRIGHT_TUI_PAPERS_H

#include "tui/tui.h"

/* The paper of that name (diewright/shop.h), of the plate that REST names, live; false: there is none of that
   name. */
bool papers_open(struct tui *t, const char *name, const char *rest);
/* What stands behind :paper, :write, :papers, :drawing and :solid. */
void papers_run(struct tui *t, const char *rest);
void papers_write(struct tui *t, const char *rest);
void papers_folder(struct tui *t, const char *rest);
void papers_drawing(struct tui *t, const char *rest);
void papers_solid(struct tui *t, const char *rest);

#endif
