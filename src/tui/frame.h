/* tui/frame.h - one picture: its cursor, its field, and what may stay as it was */
#ifndef DIEWRIGHT_TUI_FRAME_H
#define DIEWRIGHT_TUI_FRAME_H

#include "diewright/terminal.h"

struct tui;

struct frame {
    bool quick;        /* the key at hand is answered where the cursor is: panes beside it may follow later */
    bool whole;        /* the next picture shows all; else, and with quick keys alone, some panes stay */
    bool behind;       /* they stayed */
    struct area drawn; /* the stack in the last picture: all else follows from it and the size */
    int cursor_y, cursor_x;
    struct field *live; /* the field that has the cursor, NULL: none */
    bool on_panel;      /* a panel has the cursor */
};

void tui_quick(struct tui *t);
/* While quick keys come A stays as it was, and is drawn when the cursor rests. False: draw it now. */
bool tui_stays(struct tui *t, struct area a);
void tui_cursor(struct tui *t, struct area a, int y, int x); /* the terminal's cursor for this frame */
void tui_live(struct tui *t, struct field *f);               /* the field has it */
void tui_on_panel(struct tui *t);                            /* a panel has it */
/* The first row of a pane: marker, title, and words at its right end where they fit. */
void tui_head(struct tui *t, struct area a, bool focus, const char *title, const char *right);
/* TEXT wrapped from row Y and column X on, ending a column before A does; the row below it. */
int tui_paragraph(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text);

#endif
