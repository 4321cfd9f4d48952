/* tui/items.h - new items: their names and where they go */
#ifndef DIEWRIGHT_TUI_ITEMS_H
#define DIEWRIGHT_TUI_ITEMS_H

#include <stddef.h>

struct tui;

/* "screws", then "screws_2" ... */
void item_free_name(const struct tui *t, const char *stem, char *buf, size_t size);
/* Where a new item of KIND goes: below the one at the cursor where that is of the same kind, else -1 (last of
   its kind). */
int item_place_of_new(const struct tui *t, const char *kind);

#endif
