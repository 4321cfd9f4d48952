/* tui/marks.h - items that are marked: a value typed for one of them is meant for all */
#ifndef DIEWRIGHT_TUI_MARKS_H
#define DIEWRIGHT_TUI_MARKS_H

#include "diewright/base.h"

struct tui;

/* Names of the items; and what was typed last, and where, to be typed again elsewhere. */
struct marks {
    BASE_VEC(char *) items;
    char path[240], text[1000];
};

bool marks_has(const struct tui *t, const char *item);
/* The paths that what is typed at PATH is meant for, PATH first: the same value of all marked items that
 * can be typed, where PATH's own item is marked. At most ROOM of them; each yours to free(). */
int marks_paths(const struct tui *t, const char *path, char **out, int room);
/* What stands behind the item's name in PATH; NULL: nothing does. */
const char *marks_behind(const char *path);
/* TEXT was taken at PATH. */
void marks_took(struct tui *t, const char *path, const char *text);
void marks_clear(struct tui *t);
void marks_done(struct tui *t);

#endif
