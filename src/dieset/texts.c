/* Items and entries as texts: filled, copied, changed. Nothing here is understood. */

#include "dieset/texts.h"

#include <stdlib.h>
#include <string.h>

int texts_find(const struct texts *t, const char *item)
{
    for (size_t i = 0; i < t->items.count; i++)
        if (strcmp(t->items.at[i].name, item) == 0)
            return (int)i;
    return -1;
}

static int entry_index(const struct text_item *item, const char *path)
{
    for (size_t i = 0; i < item->entries.count; i++)
        if (strcmp(item->entries.at[i].path, path) == 0)
            return (int)i;
    return -1;
}

const char *texts_entry(const struct text_item *item, const char *path)
{
    int i = entry_index(item, path);
    return i < 0 ? NULL : item->entries.at[i].text;
}

static void add_item(struct texts *t, const char *kind, const char *name)
{
    struct text_item item = {.kind = base_arena_copy(&t->memory, kind),
                             .name = base_arena_copy(&t->memory, name)};
    base_vec_push(&t->items, item);
}

static void add_entry(struct texts *t, int item, const char *path, const char *text)
{
    struct text_item *i = &t->items.at[item];
    struct typed_entry e = {i->name, base_arena_copy(&t->memory, path), base_arena_copy(&t->memory, text)};
    base_vec_push(&i->entries, e);
}

enum base_err texts_fill(struct texts *t, const struct typed_item *items, int n_items,
                         const struct typed_entry *entries, int n_entries, struct base_diag *why)
{
    *t = (struct texts){0};
    for (int i = 0; i < n_items; i++)
        add_item(t, items[i].kind, items[i].name);
    int item = -1; /* entries come item by item: mostly it is the last one again */
    for (int i = 0; i < n_entries; i++) {
        if (item < 0 || strcmp(t->items.at[item].name, entries[i].item) != 0)
            item = texts_find(t, entries[i].item);
        if (item < 0) {
            base_fail(why, BASE_REFUSED, "%s.%s: there is no item of this name.", entries[i].item,
                      entries[i].path);
            texts_done(t);
            return BASE_REFUSED;
        }
        add_entry(t, item, entries[i].path, entries[i].text);
    }
    return BASE_OK;
}

void texts_copy(struct texts *out, const struct texts *from)
{
    *out = (struct texts){0};
    for (size_t i = 0; i < from->items.count; i++) {
        const struct text_item *item = &from->items.at[i];
        add_item(out, item->kind, item->name);
        for (size_t k = 0; k < item->entries.count; k++)
            add_entry(out, (int)i, item->entries.at[k].path, item->entries.at[k].text);
    }
}

void texts_done(struct texts *t)
{
    for (size_t i = 0; i < t->items.count; i++)
        base_vec_done(&t->items.at[i].entries);
    base_vec_done(&t->items);
    base_arena_done(&t->memory);
}

/* ---- changes --------------------------------------------------------------------- */

void texts_put(struct texts *t, int item, const char *path, const char *text)
{
    struct text_item *i = &t->items.at[item];
    int at = entry_index(i, path);
    if (at < 0 && text) {
        add_entry(t, item, path, text);
    } else if (at >= 0 && text) {
        i->entries.at[at].text = base_arena_copy(&t->memory, text);
    } else if (at >= 0) {
        memmove(&i->entries.at[at], &i->entries.at[at + 1],
                (i->entries.count - (size_t)at - 1) * sizeof *i->entries.at);
        i->entries.count--;
    }
}

static void remove_item(struct texts *t, int item)
{
    base_vec_done(&t->items.at[item].entries);
    memmove(&t->items.at[item], &t->items.at[item + 1],
            (t->items.count - (size_t)item - 1) * sizeof *t->items.at);
    t->items.count--;
}

/* Move element FROM of an array to place TO, the others closing up. */
static void move_element(void *array, size_t size, size_t count, int from, int to)
{
    to = to < 0 ? 0 : to >= (int)count ? (int)count - 1 : to;
    char *a = array, *held = base_alloc(size);
    memcpy(held, a + (size_t)from * size, size);
    if (from < to)
        memmove(a + (size_t)from * size, a + (size_t)(from + 1) * size, (size_t)(to - from) * size);
    else
        memmove(a + (size_t)(to + 1) * size, a + (size_t)to * size, (size_t)(from - to) * size);
    memcpy(a + (size_t)to * size, held, size);
    free(held);
}

static void rename_item(struct texts *t, int item, const char *now)
{
    struct text_item *i = &t->items.at[item];
    i->name = base_arena_copy(&t->memory, now);
    for (size_t k = 0; k < i->entries.count; k++)
        i->entries.at[k].item = i->name;
}

static enum base_err apply_item(struct texts *t, const struct typed_change *c, int item,
                                struct base_diag *why)
{
    if (!c->after) {
        if (item < 0)
            return base_fail(why, BASE_UNKNOWN, "There is no item %s.", c->item);
        remove_item(t, item);
    } else if (item >= 0) {
        return base_fail(why, BASE_REFUSED, "There is an item %s already.", c->item);
    } else {
        add_item(t, c->after, c->item);
    }
    return BASE_OK;
}

enum base_err texts_apply(struct texts *t, const struct typed_change *c, struct base_diag *why)
{
    int item = texts_find(t, c->item);
    if (c->what == TYPED_ITEM)
        return apply_item(t, c, item, why);
    if (item < 0)
        return base_fail(why, BASE_UNKNOWN, "There is no item %s.", c->item);
    struct text_item *i = &t->items.at[item];
    switch (c->what) {
    case TYPED_ENTRY:
        texts_put(t, item, c->path, c->after);
        break;
    case TYPED_NAME:
        if (texts_find(t, c->after) >= 0)
            return base_fail(why, BASE_REFUSED, "There is an item %s already.", c->after);
        rename_item(t, item, c->after);
        break;
    case TYPED_PLACE:
        move_element(t->items.at, sizeof *t->items.at, t->items.count, item, atoi(c->after ? c->after : "0"));
        break;
    case TYPED_ORDER: {
        int at = entry_index(i, c->path);
        if (at < 0)
            return base_fail(why, BASE_UNKNOWN, "%s.%s: nothing is typed there.", c->item, c->path);
        move_element(i->entries.at, sizeof *i->entries.at, i->entries.count, at,
                     atoi(c->after ? c->after : "0"));
        break;
    }
    case TYPED_ITEM:
        break;
    }
    return BASE_OK;
}
