/* terminal/signals.h - signals, and a terminal that is given back whatever comes
 *
 * Handlers write the signal's number into a pipe; what is done about it is done where the loop reads it. What
 * has to be done at once (a crash; an end asked for while the terminal takes no more bytes) is done here,
 * with calls that a handler may make.
 * A key that the terminal made a signal, because the shell's modes held for a moment, is told as the key it
 * was.
 */
#ifndef DIEWRIGHT_TERMINAL_SIGNALS_H
#define DIEWRIGHT_TERMINAL_SIGNALS_H

#include <stdbool.h>
#include <stddef.h>
#include <termios.h>

enum { SIGNALS_TYPED_INTERRUPT = 200 }; /* in the pipe beside the numbers: Ctrl-C was pressed */

/* Wait, as every job does, until the terminal is this process group's; then its modes as they are. */
void signals_wait_for_turn(struct termios *modes);
/* From now on signals go into the pipe WAKE; BEFORE are the modes to give back. */
void signals_begin(int wake, const struct termios *before);
/* Once curses has begun: its own answer to a new size runs before ours; N bytes of RESET put the terminal's
   picture back. */
void signals_ready(const char *reset, size_t n);
/* The terminal has been given back. Typed interrupts are left alone until the process has gone: it is ending
   already. */
void signals_end(void);
void signals_mouse(bool asked); /* reports come, so the end has to turn them off */

/* Has one of TERM, HUP, INT come? */
bool signals_ending(void);
/* Stop as any job stops, after the terminal was given back; returns when continued and in the foreground
 * again, when the end was asked for meanwhile, or at once when nobody could continue it. Until signals_back()
 * nothing is sent. */
void signals_stop(bool whole_group);
void signals_back(const struct termios *before);
/* The terminal is another's: wait for it in the same way. */
void signals_wait_in_front(void);
bool signals_in_front(void);
bool signals_away(void);

/* Output that Ctrl-S holds goes on: nothing that gives the terminal back may wait for Ctrl-Q. */
void signals_let_flow(void);
/* Between these two writing may block; an end that is asked for then does not wait for ever. */
void signals_sending(bool now);
void signals_write(const char *text, size_t n);

#endif
