/* tui/panes/side.c - what hangs on the value at the cursor, what that comes from, and the last change */

#include "tui/panes.h"

#include "tui/edits.h"
#include "tui/form.h"
#include "tui/found.h"

#include <stdlib.h>

/* "  path        value" */
static void side_value(struct tui *t, struct area a, int y, int x, const char *path, const char *value)
{
    struct area left = {a.y, a.x, a.h, a.w - paint_width(value) - 3};
    bool moved = base_map_get(&t->found->moved, path, NULL);
    paint_text(&t->p, left, y, x, INK_PLAIN, path);
    paint_right(&t->p, a, y, a.w - 2, moved ? INK_STRONG : INK_PLAIN, value);
    if (moved)
        paint_text(&t->p, a, y, a.w - 2, INK_STRONG, "?");
}

/* A choice or a reference that no formula reads settles which values and holes there are. */
static bool settles(const struct dieset_quantity *q) { return q->can_type && handbook_settled(q->type); }

static int side_reaches(struct tui *t, struct area a, int y, int end)
{
    enum { MOST = 200 };
    int reached[MOST], q = form_quantity(t), n = job_reaches(t->job, q, reached, MOST), i = 0;
    paint_format(&t->p, a, y++, 1, INK_PLAIN, "hangs on %s", t->path);
    for (; i < n && y < end - (n > end - y); i++, y++) {
        char value[80];
        dieset_print(t->d, reached[i], t->state, value, sizeof value);
        side_value(t, a, y, 2, dieset_quantity(t->d, reached[i])->path, value);
    }
    if (n == 0)
        paint_text(&t->p, a, y++, 2, INK_DIM,
                   settles(dieset_quantity(t->d, q)) ? "what the item is made of, and what follows from that"
                                                     : "nothing");
    else if (i < n)
        paint_format(&t->p, a, y++, 2, INK_DIM, "and %d more", n - i);
    return y;
}

/* With its numbers put in; what was only typed stands there already. */
static int side_formula(struct tui *t, struct area a, int y, int indent, const struct job_why_line *line)
{
    if (!*line->filled || line->seen)
        return y;
    paint_format(&t->p, a, y, indent + 2, INK_DIM, "= %s", line->filled);
    return y + 1;
}

static int side_comes_from(struct tui *t, struct area a, int y, int end)
{
    enum { MOST = 60 };
    struct job_why_line *lines = base_alloc(MOST * sizeof *lines);
    int n = job_why(t->job, form_quantity(t), t->state, 3, lines, MOST);
    if (n > 1) {
        paint_text(&t->p, a, y++, 1, INK_PLAIN, "comes from");
        y = side_formula(t, a, y, 2, &lines[0]);
    }
    for (int i = 1; i < n && y < end; i++) {
        side_value(t, a, y++, 2 * lines[i].depth, lines[i].label, lines[i].value);
        y = y < end ? side_formula(t, a, y, 2 * lines[i].depth, &lines[i]) : y;
    }
    free(lines);
    return y;
}

void side_draw(struct tui *t, struct area a)
{
    if (form_quantity(t) < 0)
        return;
    bool tall = a.h >= 24;
    int y = side_reaches(t, a, 0, tall ? a.h / 3 : a.h * 3 / 5) + 1;
    if (tall)
        y = side_comes_from(t, a, y, a.h * 3 / 4) + 1;
    if (t->last->n == 0 || y + 2 >= a.h)
        return;
    paint_format(&t->p, a, y++, 1, INK_PLAIN, "last change: %s", base_text_get(&t->last->title));
    for (int i = 0; i < t->last->n && y < a.h; i++)
        paint_text(&t->p, a, y++, 2, INK_PLAIN, t->last->moves[i]);
}
