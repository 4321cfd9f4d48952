/* tui/kept.h - what stays from one run of the screens to the next: commands, searches, where one was in a job
 *
 * A text of lines in the folder of the person's state: "command LINE", "search TEXT", "place FILE TAB ITEM
 * TAB PATH", the oldest first. What cannot be read or written is not kept, and nobody is bothered.
 */
#ifndef DIEWRIGHT_TUI_KEPT_H
#define DIEWRIGHT_TUI_KEPT_H

struct tui;

void kept_read(struct tui *t);  /* once the job is shown */
void kept_write(struct tui *t); /* at the end */

#endif
