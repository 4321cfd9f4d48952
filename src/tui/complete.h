/* tui/complete.h - completing the name before the cursor: items, values, functions of the handbook */
#ifndef DIEWRIGHT_TUI_COMPLETE_H
#define DIEWRIGHT_TUI_COMPLETE_H

#include "tui/tui.h"

/* Complete the word before the cursor among the job's names: the length that is shared is put in; true when
 * it changed. *WORDS gets what fits, "a  b  c". */
bool complete_name(struct tui *t, struct field *f, const char *item, struct base_text *words);

#endif
