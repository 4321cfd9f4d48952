/* tests/screen/play.h - keys by their names in, rows as they are kept out */
#ifndef DIEWRIGHT_TESTS_SCREEN_PLAY_H
#define DIEWRIGHT_TESTS_SCREEN_PLAY_H

#include "bed.h"

enum {
    PLAY_RESTED_MS = 110
}; /* a person who looks: longer than the screens wait with what explains the cursor's place */

/* A key by its name in the help: "Up", "Ctrl-T", "a". Fails the test where it does not know how. */
void bed_named(struct bed *b, const char *label);
/* Words of LINE are names of keys, quoted ones are typed; then the screen comes to rest. */
void play_keys(struct bed *b, const char *line);
/* Days and times of day in TEXT become 2026-01-02 and 12:34, digit by digit. */
void play_fix_clock(char *text);
/* A row so, blanks at its end cut. Static buffer. */
const char *play_row(struct bed *b, int row);

#endif
