/* tui/message.h - what is said in the message row */
#ifndef DIEWRIGHT_TUI_MESSAGE_H
#define DIEWRIGHT_TUI_MESSAGE_H

#include "diewright/terminal.h"

struct tui;

/* level: how many levels there were when it was said; it is hidden while there are more */
struct message { struct base_text text; bool trouble; int level; };

void tui_say(struct tui *t, const char *fmt, ...) PRINTF_LIKE(2, 3);
void tui_complain(struct tui *t, const char *fmt, ...) PRINTF_LIKE(2, 3);
void tui_hush(struct tui *t);                  /* what was said is not of this */
const char *tui_said(const struct tui *t);     /* "": nothing */
bool tui_complained(const struct tui *t);      /* and it was a complaint */
bool tui_told(const struct tui *t);            /* something was said for the level at hand */
void tui_message_row(struct tui *t, enum ink ink, const char *text); /* now, for the level at hand */
/* In the message row at once, between two steps of something long. */
void tui_progress(struct tui *t, const char *text);
void tui_warn(struct tui *t); /* what is to be known of the job's file, if there is anything new */
extern const char tui_too_long[]; /* of a paste that was not taken */

#endif
