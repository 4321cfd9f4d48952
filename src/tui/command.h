/* tui/command.h - the words of the ":" row that take arguments; those without are names of the key table */
#ifndef DIEWRIGHT_TUI_COMMAND_H
#define DIEWRIGHT_TUI_COMMAND_H

#include <stdbool.h>

struct tui;

struct command {
    const char *name, *usage, *help;
    bool edits;
    const char *opens; /* the view that it opens with what is typed behind the word; NULL: it runs */
    void (*run)(struct tui *t, const char *rest);
};
const struct command *command_table(int *count);

/* LINE is among those that Up brings back. */
void command_remember(struct tui *t, const char *line);

#endif
