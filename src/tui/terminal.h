/* tui/terminal.h - the terminal: taken, listened to, given back
 *
 * One at a time. Everything that can end or change it (keys, pastes, sizes, signals, hang-up) arrives as one
 * stream of events; nothing runs inside a signal handler but a write into a pipe. A crash writes one
 * prepared string and sets the modes back. Knows nothing of jobs.
 */
#ifndef DIEWRIGHT_TUI_TERMINAL_H
#define DIEWRIGHT_TUI_TERMINAL_H

#include "diewright/base.h"

#ifndef NCURSES_NOMACROS
#define NCURSES_NOMACROS 1 /* names such as move stay free */
#endif
#include <curses.h>

struct terminal_wish {
    const char *term;  /* NULL or "": not set */
    bool utf8;         /* the locale can show lines and blocks */
    bool colour;
    int escape_ms;
};

struct terminal;

/* Take the terminal. False: *WHY says in one sentence why the screens cannot be shown; nothing was written. */
bool terminal_open(const struct terminal_wish *wish, struct terminal **out, struct base_diag *why);
/* Give it back as it was. NULL is fine. */
void terminal_close(struct terminal *t);

bool terminal_has_colour(const struct terminal *t);
/* Height of a character cell over its width, 2.0 when the terminal does not tell. */
double terminal_cell_ratio(const struct terminal *t);

enum terminal_what {
    TERMINAL_KEY,     /* .key */
    TERMINAL_PASTE,   /* .text: cleaned, on one line; borrowed until the next wait */
    TERMINAL_RESIZED, /* LINES and COLS are new */
    TERMINAL_REDRAW,  /* back from a stop: draw all */
    TERMINAL_SIGNAL,  /* .signal: HUP, INT or TERM came, or the line is gone (HUP) */
    TERMINAL_WAITED,  /* nothing within the time asked for */
};
/* A key: a character, or KEY_CODE + a curses key code, two spaces that must not be mixed. */
enum { KEY_CODE = 0x200000 };
/* No keys, but what is done by hand all the same, so that the key table tells of it: beyond all codes of curses. The mouse's come
 * with their cell; "letters" is never sent. */
enum { KEY_LETTERS = 0x400000, KEY_CLICK, KEY_WHEEL_UP, KEY_WHEEL_DOWN };
struct terminal_event {
    enum terminal_what what;
    int key;
    int y, x; /* of a click or the wheel, from 0 */
    int signal;
    const char *text;
    bool cut; /* a paste that was too long and lost its end */
};
/* Next event; MS -1: wait for ever. Sends nothing, wakes for nothing. */
void terminal_wait(struct terminal *t, int ms, struct terminal_event *out);
/* Is another key waiting already? Then a costly picture may wait. */
bool terminal_key_waits(struct terminal *t);

/* Ask for reports of the mouse, or no longer. Returns whether they come now: not every terminal has them. Until they are asked for
 * nothing is sent, and the terminal's own selecting works as everywhere. */
bool terminal_mouse(struct terminal *t, bool on);

/* Leave the terminal and stop this program's process group, as Ctrl-Z asks; returns when continued. */
void terminal_suspend(struct terminal *t);

#endif
