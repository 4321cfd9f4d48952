/* tui/field.h - one line that is being typed
 *
 * A one-field form of the curses form library on a panel of its own. The text is ours: after a resize the form is
 * built anew from it. Used wherever something is typed: values, reasons, commands, searches.
 */
#ifndef DIEWRIGHT_TUI_FIELD_H
#define DIEWRIGHT_TUI_FIELD_H

#include "diewright/base.h"

enum { FIELD_MOST = 900 }; /* bytes */

struct field;

struct field *field_new(const char *text); /* the cursor stands at the end */
void field_free(struct field *f);
/* The text is only offered: the first character typed, or what is pasted, takes its place; any other key keeps it. */
void field_offer(struct field *f);

/* Show it at row Y, columns X .. X + W - 1 of the screen; cheap when it is there already. */
void field_place(struct field *f, int y, int x, int w);
/* Draw it again over what was drawn below, and put the terminal's cursor into it. */
void field_show(struct field *f);
void field_hide(struct field *f);

const char *field_text(const struct field *f);
int field_cursor(const struct field *f);  /* byte offset */
void field_set(struct field *f, const char *text, int cursor);
/* Replace bytes FROM..TO by TEXT, cursor behind it. */
void field_replace(struct field *f, int from, int to, const char *text);

enum field_did { FIELD_NOTHING, FIELD_MOVED, FIELD_CHANGED };
/* A key as terminal.h gives it: characters, Left Right Home End Backspace Delete, Ctrl-A E W U K. */
enum field_did field_key(struct field *f, int key);
enum field_did field_paste(struct field *f, const char *text);
/* A column of the screen for a byte offset of the text, -1 when it is scrolled out. */
int field_column(const struct field *f, int offset);

#endif
