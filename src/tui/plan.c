/* tui/plan.c - which plate the plan shows, how large, and its picture */

#include "tui/plan.h"

#include "tui/tui.h"

#include <math.h>

struct view_options plan_options(const struct tui *t)
{
    struct view_options o = tui_view(t);
    o.scale = t->plan->scale;
    o.pan_x = t->plan->x;
    o.pan_y = t->plan->y;
    o.see_through = t->plan->see_through;
    o.from_below = t->plan->from_below;
    return o;
}

/* Is the cell well inside, so that one sees where the next steps lead? */
static bool well_inside(const struct area *a, int row, int column)
{
    int across = a->h / 6, along = a->w / 8;
    return row >= across && row < a->h - across && column >= along && column < a->w - along;
}

static bool cell_of(struct tui *t, const struct view_options *o, const struct view_canvas *c, double x,
                    double y, int *row, int *column)
{
    *row = *column = -1;
    return view_plan_cell(t->d, t->plan->shown, o, c, x, y, column, row);
}

double plan_picture(struct tui *t, struct area a, const struct view_options *o, double x, double y, int *row,
                    int *column)
{
    struct view_options own = *o;
    struct view_canvas c;
    view_canvas_init(&c, a.w, a.h);
    bool seen = cell_of(t, &own, &c, x, y, row, column);
    if (t->plan->follow && t->plan->scale > 0 && isfinite(x) && isfinite(y) &&
        !(seen && well_inside(&a, *row, *column))) {
        own.pan_x = t->plan->x = x;
        own.pan_y = t->plan->y = y;
        seen = cell_of(t, &own, &c, x, y, row, column);
    }
    if (!seen)
        *row = *column = -1;
    t->plan->drawn = view_plan(t->d, t->plan->shown, &own, &c);
    paint_canvas(&t->p, a, &c, 0);
    view_canvas_done(&c);
    return t->plan->drawn;
}

void plan_reset(struct tui *t)
{
    struct plan *p = t->plan;
    p->ram = 0;
    p->plate = p->shown = -1;
    p->scale = p->x = p->y = 0;
}
