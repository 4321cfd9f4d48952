/* diewright/cli.h - the command line: one command, one file, one row of the table
 *
 * Results go to stdout, messages to stderr. Exit status: 0 done (check: nothing open above note);
 * 1 cautions or faults open (check), not right yet (practice); 2 usage or refused input; 3 unreadable or
 * foreign file; 4 not saved; 5 saved, but what was to be printed could not be written whole.
 * Uses: job, report, view and below.
 */
#ifndef DIEWRIGHT_CLI_H
#define DIEWRIGHT_CLI_H

#include "diewright/job.h"

#include <stdio.h>

enum {
    CLI_DONE = 0,
    CLI_OPEN = 1,
    CLI_REFUSED = 2,
    CLI_UNREADABLE = 3,
    CLI_NOT_SAVED = 4,
    CLI_NOT_PRINTED = 5
};

/* What main found in the environment. */
struct cli_options {
    const char *data;    /* the folder with handbook, parts, templates */
    const char *own;     /* the folder with starts of the shop's own, NULL: none */
    const char *shop;    /* the file of the shop's settings, NULL: none */
    const char *who;     /* for the history */
    const char *state;   /* the folder of what programs keep for this person, NULL: there is none */
    const char *now;     /* a fixed date for papers, NULL: none is printed */
    bool ascii;
    int width;           /* columns of the terminal or 80 */
    /* the keys and commands of the screens, as tui_keys() tells them, for help; NULL: not known */
    const char *screens;
};

/* The door to standard output and standard error: no hidden character of a text gets through as it is
 * (diewright/base.h), ends of lines do. Nothing prints beside it. */
void cli_put(FILE *where, const char *text);
/* The same for a table of the program's own, whose cells a tab parts. */
void cli_put_cells(FILE *where, const char *text);
void cli_say(FILE *where, const char *fmt, ...) PRINTF_LIKE(2, 3);
void cli_say_args(FILE *where, const char *fmt, va_list args) PRINTF_LIKE(2, 0);

/* Is WORD a command? */
bool cli_is_command(const char *word);
/* Run argv[0] (a command word) with its arguments. Returns the exit status. */
int cli_run(const struct cli_options *o, int argc, char **argv);
/* The --help text, from the table of commands. */
void cli_help(struct base_text *out);
/* The table for the manual page and completion: "name <tab> usage <tab> what it does", a line each. */
void cli_commands(struct base_text *out);
/* Append the commands nearest to WORD, "show or set"; nothing when none is near. */
void cli_nearest_command(const char *word, struct base_text *out);
/* Tell that the job NAME has no file PATH, and how one is begun. Returns CLI_UNREADABLE. */
int cli_no_job(const char *path, const char *name);
/* Print a reason to stderr: the sentence, the place, the marked text. Returns the exit status that goes with
   it. */
int cli_complain(const struct base_diag *why);

#endif
