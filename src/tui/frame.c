/* tui/frame.c - see frame.h */

#include "tui/frame.h"

#include "tui/tui.h"

#include <stdlib.h>

void tui_quick(struct tui *t) { t->frame.quick = true; }

bool tui_stays(struct tui *t, struct area a)
{
    if (t->frame.whole)
        return false;
    paint_again(&t->p, a);
    t->frame.behind = true;
    return true;
}

void tui_cursor(struct tui *t, struct area a, int y, int x)
{
    if (y < 0 || y >= a.h || x < 0 || x >= a.w)
        return;
    t->frame.cursor_y = a.y + y;
    t->frame.cursor_x = a.x + x;
}

void tui_live(struct tui *t, struct field *f) { t->frame.live = f; }

void tui_on_panel(struct tui *t) { t->frame.on_panel = true; }

void tui_head(struct tui *t, struct area a, bool focus, const char *title, const char *right)
{
    int x = paint_text(&t->p, a, 0, 0, focus ? INK_HERE : INK_PLAIN, " ");
    x = paint_cut(&t->p, a, 0, x, a.w - 1, focus ? INK_HERE : INK_PLAIN, title);
    paint_text(&t->p, a, 0, x, focus ? INK_HERE : INK_PLAIN, " ");
    int at = a.w - 2 - paint_width(right);
    if (*right && at > x + 1)
        paint_format(&t->p, a, 0, at, INK_PLAIN, " %s ", right);
}

int tui_paragraph(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text)
{
    while (text && *text && y < a.h) {
        size_t skip, n = paint_wrap(text, a.w - x - 1, &skip);
        char *line = base_copy_n(text, n);
        paint_text(&t->p, a, y++, x, ink, line);
        free(line);
        text += n + skip;
    }
    return y;
}
