/* diewright/tui.h - the screens of one job
 *
 * Drawn through the room terminal. Reads a die set, changes it only through the job room's commands.
 * The caller has set LC_CTYPE and unset LINES and COLUMNS, and passes what it found in the environment.
 * Uses: job, view, report and below.
 */
#ifndef DIEWRIGHT_TUI_H
#define DIEWRIGHT_TUI_H

#include "diewright/job.h"

enum tui_colour { TUI_COLOUR_AUTO, TUI_COLOUR_NEVER };

struct tui_options {
    const struct handbook *handbook;
    /* open; stays the caller's, and is the same one at the end; NULL: practice alone */
    struct job *job;
    const char *data;        /* the folder with practice jobs, demo jobs, templates */
    const char *own;         /* the folder with starts of the shop's own, NULL: none */
    const char *shop;        /* the file of the shop's settings, NULL: none */
    const char *who;         /* for the history of a job that is begun here */
    /* a file that is not there yet: its start is chosen first, and `job`, in memory, is shown till then;
       NULL: none */
    const char *begin;
    const char *practice;    /* the practice job to begin with, by name or number; NULL: none */
    bool look;               /* only looking: follows other people's edits, refuses its own */
    /* clicks and the wheel from the start; the terminal's own selecting is given up for them */
    bool mouse;
    bool ascii;              /* no box and block characters even where the locale has them */
    enum tui_colour colour;  /* NEVER: --color=never, or NO_COLOR was not empty */
    const char *term;        /* $TERM, NULL when not set */
    const char *codeset;     /* nl_langinfo(CODESET) after setlocale */
    const char *settings;    /* the file of this person's keys and colours, NULL: there is none */
    const char *state;       /* the folder of what programs keep for this person; NULL: there is none */
    int escape_ms;           /* $ESCDELAY when set, else 0: 25 ms */
};

/* Run the screens until the person leaves or a signal ends them. Returns the exit status: 0, 2 when this is
 * no terminal to draw on (*WHY is filled then, and only then; nothing was drawn), 4 when an edit that could
 * not be saved was left behind, 128 + signal. The terminal is as it was before, on every road out. */
int tui_run(const struct tui_options *o, struct base_diag *why);

/* All keys as the program itself knows them, for the manual: a line each "keys <tab> where <tab> name <tab>
 * what it does", then the commands of the ":" line as ":usage <tab> everywhere <tab> name <tab> what it
 * does". With the keys that SETTINGS tells (a file, NULL: none); COMPLAINTS: what of it cannot be taken,
 * a line each. */
void tui_keys(const char *settings, struct base_text *out, struct base_text *complaints);

#endif
