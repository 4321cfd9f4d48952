/* tui/values.h - typing a value: its field in the form, a list of choices, the reason for it */
#ifndef DIEWRIGHT_TUI_VALUES_H
#define DIEWRIGHT_TUI_VALUES_H

#include <stdbool.h>

struct tui;

/* Open whatever types PATH: a field, a list of choices, its sizes. */
void edit_open(struct tui *t, const char *path);

/* ---- field.c ---- */
void edit_open_field(struct tui *t,
                     const char *path); /* what is typed takes the place of what stands there */
void edit_open_formula(struct tui *t, const char *path); /* is typed into it */
/* The same with TEXT typed in it already: tried, not taken. */
void edit_open_typed(struct tui *t, const char *path, const char *text);
void edit_empty_field(struct tui *t); /* where the field is on top: what comes is typed anew */

/* ---- reason.c ---- */
/* Would a value typed at PATH now stand over its formula? */
bool edit_is_over(const struct tui *t, const char *path);
void edit_ask_reason(struct tui *t, const char *path);

#endif
