/* tests/screen/bed.h - a program on a terminal of our own
 *
 * A bed is one program running on a pseudo-terminal whose other end is a terminal emulator in memory
 * (libvterm). Keys go in as a person would press them, the rendered cells come out. The environment is fixed:
 * TERM, LC_ALL, HOME, XDG_* and PATH only, and what the test adds.
 * No sleeps: wait for words, or for quiet. When words do not come the screen is printed and the test fails.
 */
#ifndef DIEWRIGHT_TESTS_SCREEN_BED_H
#define DIEWRIGHT_TESTS_SCREEN_BED_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>
#include <vterm.h>

struct bed_start {
    const char *const *argv;     /* program and arguments, NULL at the end */
    int rows, columns;           /* 0: 24 x 80 */
    const char *term;            /* NULL: xterm-256color; "": not set at all */
    const char *locale;          /* NULL: C.UTF-8 */
    const char *const *more;     /* "NAME=value", NULL at the end; may be NULL */
    const char *folder;          /* HOME and XDG_* ; NULL: a fresh one */
    const char *where;           /* working folder; NULL: the tests' own */
};

struct bed;

struct bed *bed_open(const struct bed_start *start);
/* Ends the program by force when it still runs. */
void bed_close(struct bed *b);

/* ---- keys ---- */
void bed_type(struct bed *b, const char *text);         /* characters one by one; "\r" is Enter */
/* arrows and their like, as the terminal's mode asks */
void bed_key(struct bed *b, VTermKey key);
void bed_control(struct bed *b, char letter);           /* bed_control(b, 'C') */
void bed_paste(struct bed *b, const char *text);        /* bracketed where the program asked for that */
/* Reports of the mouse as a terminal sends them that was asked for their long form; rows and columns from
   0. */
void bed_click(struct bed *b, int row, int column);     /* pressed and let go */
void bed_wheel(struct bed *b, int row, int column, int by); /* -1 up, 1 down */
/* bytes as they are; stops when the program has gone */
void bed_raw(struct bed *b, const void *bytes, size_t n);
void bed_resize(struct bed *b, int rows, int columns);
void bed_hang_up(struct bed *b);                        /* the line is gone: close this end */
void bed_signal(struct bed *b, int signal);
/* as the terminal sends it for a key where the shell's modes hold */
void bed_typed_signal(struct bed *b, int signal);
bool bed_blocked(const struct bed *b);                  /* it waits for the terminal to take what it writes */

/* ---- what is seen ---- */
#define bed_wait(b, text) bed_wait_at((b), (text), true, __FILE__, __LINE__)
#define bed_wait_gone(b, text) bed_wait_at((b), (text), false, __FILE__, __LINE__)
void bed_wait_at(struct bed *b, const char *text, bool there, const char *file, int line);
/* Until nothing has come for MS milliseconds and the program sleeps: on a busy machine it may be quiet while
   it works. */
void bed_settle(struct bed *b, int ms);
long bed_quiet(struct bed *b, int ms); /* the same; the bytes that came since the last call */
bool bed_shows(struct bed *b, const char *text);
/* The first row that holds TEXT and its column in cells; -1 when none. */
int bed_find(struct bed *b, const char *text, int *column);
/* A row as UTF-8, blanks at its end cut. Static buffer. */
const char *bed_row(struct bed *b, int row);
/* The whole screen, a line a row; static buffer. */
const char *bed_screen(struct bed *b);
/* The last few hundred bytes that the program sent, those shown that cannot be seen: what a library says as
 * it ends the program stands among them. Yours to free(). */
char *bed_last_bytes(const struct bed *b);
struct bed_cell {
    uint32_t ch;
    bool bold, reverse, underline, coloured;
    int colour; /* its number; -1: none */
};
struct bed_cell bed_cell(struct bed *b, int row, int column);
bool bed_any_colour(struct bed *b);
void bed_cursor(struct bed *b, int *row, int *column);
bool bed_alternate(const struct bed *b);      /* on the alternate screen */
bool bed_cursor_visible(const struct bed *b);
bool bed_paste_asked(const struct bed *b);    /* the program wants pastes bracketed */
bool bed_mouse_asked(const struct bed *b);    /* and reports of the mouse */
/* how often it has spoken of the mouse to the terminal at all */
int bed_mouse_told(const struct bed *b);

/* ---- the end ---- */
/* Wait for the program's end (a bound ends what hangs); exit status, or 128 + signal. */
int bed_wait_end(struct bed *b);
int bed_wait_end_unread(struct bed *b); /* the same, and nothing that it writes is read until then */
bool bed_ended(struct bed *b); /* it has ended by now */
/* The terminal's modes are those from before the start. */
bool bed_modes_restored(struct bed *b);
pid_t bed_pid(const struct bed *b);

#endif
