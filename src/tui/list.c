/* tui/list.c - see list.h */

#include "tui/list.h"

void list_move(struct list *l, enum move m, int page)
{
    int step = page > 2 ? page - 1 : 1;
    switch (m) {
    case MOVE_UP: l->at--; break;
    case MOVE_DOWN: l->at++; break;
    case MOVE_PAGE_UP: l->at -= step; break;
    case MOVE_PAGE_DOWN: l->at += step; break;
    case MOVE_FIRST: l->at = 0; break;
    case MOVE_LAST: l->at = l->n - 1; break;
    default: break;
    }
    if (l->at >= l->n)
        l->at = l->n - 1;
    if (l->at < 0)
        l->at = 0;
}

void list_fit(struct list *l, int rows)
{
    list_move(l, MOVE_LEFT, 0);
    if (rows <= 0)
        return;
    int stays = rows / 4; /* the lines scroll seldom and by many at once: each time is a pane full of bytes */
    if (l->at < l->top)
        l->top = l->at == l->top - 1 ? l->at + 1 + stays - rows : l->at;
    if (l->at >= l->top + rows)
        l->top = l->at == l->top + rows ? l->at - stays : l->at - rows + 1;
    if (l->top > l->n - rows)
        l->top = l->n - rows;
    if (l->top < 0)
        l->top = 0;
}

enum hit list_hit(struct list *l, struct area body, int y, int x)
{
    int i = l->top + y - body.y;
    if (y < body.y || y >= body.y + body.h || x < body.x || x >= body.x + body.w || i >= l->n)
        return HIT_NOTHING;
    if (i == l->at)
        return HIT_HERE;
    l->at = i;
    return HIT_MOVED;
}
