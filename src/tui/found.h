/* tui/found.h - the findings as they stand, and what the open try moves */
#ifndef DIEWRIGHT_TUI_FOUND_H
#define DIEWRIGHT_TUI_FOUND_H

#include "diewright/findings.h"
#include "tui/list.h"

struct tui;

struct found {
    const struct finding *findings;
    int n;
    struct list list;      /* counts findings, not lines */
    int above;             /* rows of practice over them in the last picture */
    struct base_map moved; /* paths that the open try moves, to the number of the move */
};

void found_settle(struct tui *t);
void found_reset(struct tui *t); /* another job */
const struct finding *found_here(const struct tui *t); /* at the cursor of the list, NULL: none */
const char *findings_mark(const struct finding *f);
const char *states_text(enum handbook_states s);

#endif
