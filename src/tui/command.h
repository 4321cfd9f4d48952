/* tui/command.h - the words of the ":" row that take arguments; those without are names of the key table */
#ifndef DIEWRIGHT_TUI_COMMAND_H
#define DIEWRIGHT_TUI_COMMAND_H

#include <stdbool.h>

struct tui;

struct command {
    const char *name, *usage, *help;
    void (*run)(struct tui *t, const char *rest);
    bool edits;
};
const struct command *command_table(int *count);

#endif
