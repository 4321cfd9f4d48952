/* tui/settings.h - one person's own keys and colours
 *
 * A file of records:
 *
 *     keys
 *       undo u Ctrl-U
 *     colours
 *       fault red
 *
 * A line that cannot be taken is complained of and leaves what is shipped; the screens open all the same.
 */
#ifndef DIEWRIGHT_TUI_SETTINGS_H
#define DIEWRIGHT_TUI_SETTINGS_H

#include "diewright/terminal.h"

/* The keys of keys_table() and OUT, as shipped where PATH (NULL: there is no file) says nothing else.
 * COMPLAINTS: a line each, "FILE:LINE: what and why". */
void settings_read(const char *path, short out[PAINT_OWN], struct base_text *complaints);

#endif
