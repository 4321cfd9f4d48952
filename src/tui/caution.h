/* tui/caution.h - what can hurt, at the foot of panes and views
 *
 * The words that defer to local codes and the licensed person come first and are never cut. What has no room
 * below them is read in the view "cautions", which scrolls.
 */
#ifndef DIEWRIGHT_TUI_CAUTION_H
#define DIEWRIGHT_TUI_CAUTION_H

#include "diewright/terminal.h"

struct tui;

/* What dieset_cautions() has of ITEM, one behind the other. */
void caution_words(const struct tui *t, int item, bool drilled, struct base_text *out);
/* WORDS in the last rows of A, at most MOST of them: all, or as many whole sentences as have room and "!
 * more". The first sentence is never cut, however many rows it takes. Returns the rows; with DRAW false they
 * are only counted. */
int caution_foot(struct tui *t, struct area a, const char *words, int most, bool draw);
/* The same of ITEM's cautions, drawn; returns what is left of A above them. */
struct area caution_below(struct tui *t, struct area a, int item, bool drilled, int most);
/* Is anything to be said of ITEM's kind? */
bool caution_any(const struct tui *t, int item);

#endif
