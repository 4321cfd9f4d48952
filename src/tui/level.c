/* tui/level.c - see level.h */

#include "tui/level.h"

#include "tui/tui.h"

void tui_push(struct tui *t, struct level *l)
{
    if (t->pile.n < LEVELS)
        t->pile.levels[t->pile.n++] = l;
    else if (l->ops->done)
        l->ops->done(l);
}

void tui_pop(struct tui *t)
{
    struct level *l = tui_top(t);
    if (!l)
        return;
    t->pile.n--;
    if (l->ops->done)
        l->ops->done(l);
}

void tui_clear(struct tui *t)
{
    while (t->pile.n)
        tui_pop(t);
}

int tui_depth(const struct tui *t) { return t->pile.n; }

struct level *tui_level(const struct tui *t, int i) { return t->pile.levels[i]; }

struct level *tui_top(const struct tui *t) { return t->pile.n ? t->pile.levels[t->pile.n - 1] : NULL; }

struct level *tui_level_of(const struct tui *t, unsigned place)
{
    for (int i = t->pile.n - 1; i >= 0; i--)
        if (t->pile.levels[i]->ops->place & place)
            return t->pile.levels[i];
    return NULL;
}
