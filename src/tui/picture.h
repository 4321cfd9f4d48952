/* tui/picture.h - the whole picture */
#ifndef DIEWRIGHT_TUI_PICTURE_H
#define DIEWRIGHT_TUI_PICTURE_H

struct tui;

void picture_lay_out(struct tui *t); /* where all stands, from the terminal's size */
void picture_draw(struct tui *t);

#endif
