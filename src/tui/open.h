/* tui/open.h - what there is by name: views that are opened, actions that keys run
 *
 * Nobody calls a view: who wants one asks for it here, by its name in the one table (names.c), with what it
 * is to be opened on. So a view knows of no other, and the table of keys of none.
 */
#ifndef DIEWRIGHT_TUI_OPEN_H
#define DIEWRIGHT_TUI_OPEN_H

struct tui;

/* SUBJECT is a path, a finding's key or what was typed behind the word, as the view has it; "": none */
struct opener { const char *name; void (*open)(struct tui *t, const char *subject); };
struct action { const char *name; void (*run)(struct tui *t); };
struct names { const struct opener *views; int n_views; const struct action *actions; int n_actions; };

/* All that there is; the loop hands it to the state, tests read it. */
extern const struct names tui_names;

void tui_open(struct tui *t, const char *view, const char *subject);
void tui_do(struct tui *t, const char *action);

#endif
