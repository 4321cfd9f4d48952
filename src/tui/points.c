/* tui/points.c - the plan's cursor: it walks the points that have a hole in the plate shown
 *
 * It is kept by names, as every cursor: the group is the item at the stack's cursor (so the form follows),
 * `plan->point` one of its points. Arrows go to the nearest point on that side; PgUp and PgDn go through all
 * of them in the job's order, also where several stand on one spot.
 */

#include "tui/plan.h"

#include "tui/stack.h"
#include "tui/tui.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef BASE_VEC(struct plan_spot) spot_vec;

static int by_order(const void *a, const void *b)
{
    const struct plan_spot *x = a, *y = b;
    return x->item != y->item ? x->item - y->item : x->point - y->point;
}

static void gather(const struct tui *t, spot_vec *out)
{
    int first = 0, n = t->plan->shown < 0 ? 0 : dieset_plate_holes(t->d, t->plan->shown, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        struct dieset_point p;
        dieset_hole(t->d, i, t->state, &h);
        if (h.point < 0 || h.point >= dieset_point_count(t->d, h.item))
            continue;
        dieset_point(t->d, h.item, h.point, &p);
        struct plan_spot s = {h.item, h.point, p.x, p.y};
        bool there = false;
        for (size_t k = out->count; k > 0 && !there; k--)
            there = by_order(&out->at[k - 1], &s) == 0;
        if (!there && !p.broken)
            base_vec_push(out, s);
    }
    if (out->count)
        qsort(out->at, out->count, sizeof *out->at, by_order);
}

static bool is_named(const struct tui *t, const struct plan_spot *s, const char *point)
{
    struct dieset_point p;
    dieset_point(t->d, s->item, s->point, &p);
    return p.name && strcmp(p.name, point) == 0;
}

/* -1: the item at the cursor has no point here. */
static int find_here(const struct tui *t, const spot_vec *all)
{
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1, at = -1;
    for (size_t i = 0; i < all->count; i++)
        if (all->at[i].item == item && (at < 0 || is_named(t, &all->at[i], t->plan->point)))
            at = (int)i;
    return at;
}

bool points_here(const struct tui *t, struct plan_spot *out)
{
    spot_vec all = {0};
    gather(t, &all);
    int at = find_here(t, &all);
    if (at >= 0)
        *out = all.at[at];
    base_vec_done(&all);
    return at >= 0;
}

bool points_near(struct tui *t, const struct view_options *o, int width, int height, int row, int column,
                 struct plan_spot *out)
{
    enum { FAR = 4 };
    spot_vec all = {0};
    struct view_canvas c;
    int best = FAR;
    gather(t, &all);
    view_canvas_init(&c, width, height);
    for (size_t i = 0; i < all.count; i++) {
        int y, x;
        if (!view_plan_cell(t->d, t->plan->shown, o, &c, all.at[i].x, all.at[i].y, &x, &y) ||
            abs(y - row) > 1 || abs(x - column) > 1)
            continue;
        int off = 2 * abs(y - row) + abs(x - column);
        if (off < best || (off == best && strcmp(dieset_item_name(t->d, all.at[i].item), t->item) == 0)) {
            best = off;
            *out = all.at[i];
        }
    }
    view_canvas_done(&c);
    base_vec_done(&all);
    return best < FAR;
}

void points_title(const struct tui *t, const struct plan_spot *s, struct base_text *out)
{
    struct dieset_point p;
    dieset_point(t->d, s->item, s->point, &p);
    base_text_addf(out, "%s, ", dieset_item_title(t->d, s->item));
    for (const char *c = p.name; *c; c++)
        base_text_addf(out, "%c", *c == '_' ? ' ' : *c);
    base_text_addf(out, ", %d of %d%s", s->point + 1, dieset_point_count(t->d, s->item),
                   p.freed ? ", freed" : "");
}

void points_go(struct tui *t, int item, const char *point)
{
    snprintf(t->plan->point, sizeof t->plan->point, "%s", point);
    t->plan->follow = true;
    if (strcmp(dieset_item_name(t->d, item), t->item) != 0)
        stack_show(t, item);
}

/* ---- moving ---- */

/* How far S lies on the side M of X, Y; what lies aside counts double. Negative: not on that side. */
static double reach(const struct tui *t, const struct plan_spot *s, double x, double y, enum move m)
{
    double dx = (s->x - x) * (t->plan->from_below ? -1 : 1), dy = s->y - y;
    double ahead = m == MOVE_LEFT ? -dx : m == MOVE_RIGHT ? dx : m == MOVE_UP ? dy : -dy;
    double aside = m == MOVE_LEFT || m == MOVE_RIGHT ? fabs(dy) : fabs(dx);
    return ahead > 1e-6 ? ahead + 2 * aside : -1;
}

static int nearest(const struct tui *t, const spot_vec *all, int at, enum move m)
{
    double x = at >= 0 ? all->at[at].x : dieset_number(t->d, t->plan->shown, "middle_x", t->state);
    double y = at >= 0 ? all->at[at].y : dieset_number(t->d, t->plan->shown, "middle_y", t->state);
    double best = INFINITY;
    int found = at;
    for (size_t i = 0; i < all->count; i++) {
        double r = reach(t, &all->at[i], x, y, m);
        bool own = at >= 0 && all->at[i].item == all->at[at].item;
        /* of two on one spot that of the same group */
        if (r >= 0 && (r < best - 1e-6 || (r < best + 1e-6 && own))) {
            best = r < best ? r : best;
            found = (int)i;
        }
    }
    return found;
}

void points_move(struct tui *t, enum move m)
{
    spot_vec all = {0};
    gather(t, &all);
    int n = (int)all.count, at = find_here(t, &all), to = at;
    switch (m) {
    case MOVE_PAGE_UP: to = at <= 0 ? n - 1 : at - 1; break;
    case MOVE_PAGE_DOWN: to = at + 1 < n ? at + 1 : 0; break;
    case MOVE_FIRST: to = 0; break;
    case MOVE_LAST: to = n - 1; break;
    default: to = nearest(t, &all, at, m); break;
    }
    if (n == 0) {
        tui_say(t, "no hole in this plate yet; a adds screws, dowels, posts");
    } else if (to >= 0 && to < n) {
        struct dieset_point p;
        dieset_point(t->d, all.at[to].item, all.at[to].point, &p);
        tui_hush(t); /* what the point is stands there */
        points_go(t, all.at[to].item, p.name);
    }
    base_vec_done(&all);
}
