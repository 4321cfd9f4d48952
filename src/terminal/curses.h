/* terminal/curses.h - the library, for the files of this room */
#ifndef DIEWRIGHT_TERMINAL_CURSES_H
#define DIEWRIGHT_TERMINAL_CURSES_H

#define NCURSES_NOMACROS 1 /* names such as move stay free */
#include <curses.h>

struct area;

void terminal_send_picture(void); /* what is to be seen, as far as it differs from what the terminal shows */
/* W lies as it was made: a new size of the screen cuts, widens and moves windows. */
bool terminal_stands(const WINDOW *w, struct area a);

#endif
