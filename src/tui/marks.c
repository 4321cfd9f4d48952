/* tui/marks.c - see marks.h */

#include "tui/marks.h"

#include "tui/act.h"
#include "tui/form.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int find(const struct tui *t, const char *item)
{
    for (size_t i = 0; i < t->marks->items.count; i++)
        if (strcmp(t->marks->items.at[i], item) == 0)
            return (int)i;
    return -1;
}

bool marks_has(const struct tui *t, const char *item) { return find(t, item) >= 0; }

const char *marks_behind(const char *path)
{
    const char *dot = strchr(path, '.');
    return dot ? dot + 1 : NULL;
}

static bool may_type(const struct tui *t, const char *path)
{
    int q = dieset_find(t->d, path);
    return q >= 0 && dieset_quantity(t->d, q)->can_type && dieset_shown(t->d, q);
}

int marks_paths(const struct tui *t, const char *path, char **out, int room)
{
    int n = 0, q = dieset_find(t->d, path);
    const char *rest = marks_behind(path);
    int item = q < 0 ? -1 : dieset_quantity(t->d, q)->item;
    out[n++] = base_copy(path);
    if (item < 0 || !rest || !marks_has(t, dieset_item_name(t->d, item)))
        return n;
    for (size_t i = 0; i < t->marks->items.count && n < room; i++) {
        char *other = base_format("%s.%s", t->marks->items.at[i], rest);
        if (strcmp(other, path) != 0 && may_type(t, other))
            out[n++] = other;
        else
            free(other);
    }
    return n;
}

void marks_took(struct tui *t, const char *path, const char *text)
{
    snprintf(t->marks->path, sizeof t->marks->path, "%s", path);
    snprintf(t->marks->text, sizeof t->marks->text, "%s", text);
}

void marks_clear(struct tui *t)
{
    for (size_t i = 0; i < t->marks->items.count; i++)
        free(t->marks->items.at[i]);
    t->marks->items.count = 0;
}

void marks_done(struct tui *t)
{
    marks_clear(t);
    base_vec_done(&t->marks->items);
}

/* ---- keys ---- */

void act_mark(struct tui *t)
{
    struct marks *m = t->marks;
    const char *item = form_item(t);
    int at = find(t, item);
    if (!*item)
        return;
    if (at >= 0) {
        free(m->items.at[at]);
        m->items.at[at] = m->items.at[--m->items.count];
        tui_say(t, "%s is no longer marked; %d are", item, (int)m->items.count);
        return;
    }
    base_vec_push(&m->items, base_copy(item));
    if (m->items.count == 1)
        tui_say(t, "%s is marked; mark more: a value typed in one is then meant for all. Esc clears", item);
    else
        tui_say(t, "%d are marked: a value typed in one of them is meant for all. Esc clears",
                (int)m->items.count);
}
