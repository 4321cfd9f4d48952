/* tui/laying/moving.c - laying out on the plan: a group, or one point of it, is moved while the outcome is
 * shown
 *
 * Keys only note where it goes; it is tried once when no further key waits.
 */

#include "tui/laying/placing.h"

#include "tui/plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void catch_up(struct tui *t, struct level *level)
{
    (void)level;
    placing_catch_up(t);
}

/* The plate shown is kept by name: a group that is tried may stand before it. */
static void settle(struct tui *t, struct level *level)
{
    int plate = dieset_find_item(t->d, ((struct placing *)level)->plate);
    if (plate >= 0)
        t->plan->plate = t->plan->shown = plate;
}

static void step(struct tui *t, struct placing *p, enum move m, const char *size)
{
    int axis = m == MOVE_LEFT || m == MOVE_RIGHT ? PLACE_ALONG : PLACE_ACROSS;
    double mm = m > MOVE_RIGHT ? 0 : tui_step(t, size), way = m == MOVE_LEFT || m == MOVE_DOWN ? -mm : mm;
    if (mm <= 0)
        return;
    if (axis == PLACE_ALONG && t->plan->from_below)
        way = -way;
    if (!place_move(&p->l, axis, way)) {
        tui_say(t, "the pattern holds it %s; f frees this point, p chooses another pattern",
                axis == PLACE_ALONG ? "along the feed" : "across the feed");
        return;
    }
    tui_hush(t);
    t->plan->follow = true;
    p->due = true;
}

static void shift(struct tui *t, struct level *level, enum move m)
{
    step(t, (struct placing *)level, m, "plan_step");
}

static void far(struct tui *t, struct level *level, enum move m)
{
    step(t, (struct placing *)level, m, "plan_stride");
}

/* By whole steps to what lies nearest to MM of the plan. False: the pattern holds it. */
static bool step_to(struct placing *p, int axis, double mm, double size)
{
    const struct place_way *w = &p->l.ways[axis];
    double by = round((mm - w->at) / size) * size;
    if (!w->moves)
        return false;
    if (by != 0)
        place_move(&p->l, axis, by);
    return true;
}

/* A click moves what is placed to the cell; where it stands already it is Enter. */
static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct placing *p = (struct placing *)level;
    struct area a = placing_picture(t);
    struct view_options o = plan_options(t);
    struct view_canvas c;
    struct dieset_point now;
    double along, across, size = tui_step(t, "plan_step");
    int row, column;
    placing_catch_up(t);
    tui_settle(t);
    view_canvas_init(&c, a.w, a.h);
    bool inside = t->plan->shown >= 0 &&
                  view_plan_point(t->d, t->plan->shown, &o, &c, x - a.x, y - a.y, &along, &across);
    bool here = inside && place_point(&p->l, &now, NULL) &&
                view_plan_cell(t->d, t->plan->shown, &o, &c, now.x, now.y, &column, &row) && row == y - a.y &&
                column == x - a.x;
    view_canvas_done(&c);
    if (here || !inside || size <= 0)
        return here ? HIT_HERE : HIT_NOTHING;
    bool moves = step_to(p, PLACE_ALONG, along, size);
    moves = step_to(p, PLACE_ACROSS, across, size) || moves;
    tui_hush(t);
    if (!moves)
        tui_say(t, "the pattern holds it; f frees this point, p chooses another pattern");
    p->due = true;
    return HIT_MOVED;
}

/* The lines offered first; then the values. */
static void enter(struct tui *t, struct level *level)
{
    struct placing *p = (struct placing *)level;
    bool lined = false;
    placing_catch_up(t);
    tui_settle(t);
    placing_look_about(t, p, t->plan->drawn);
    for (int axis = PLACE_ALONG; axis <= PLACE_ACROSS; axis++)
        if (p->near.hint[axis].there && !p->near.on[axis].there)
            lined |= place_move(&p->l, axis, p->near.hint[axis].at - p->l.ways[axis].at);
    if (lined)
        p->due = true;
    else
        exact_open(t);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    placing_drop(t);
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct placing *p = (struct placing *)level;
    placing_catch_up(t);
    place_next(&p->l, by);
    tui_changed(t);
    t->plan->follow = true;
}

static void done(struct level *level)
{
    struct placing *p = (struct placing *)level;
    place_done(&p->l);
    free(p);
}

static const struct level_ops ops = {.place = AT_PLACING,
                                     .full = true,
                                     .draw = placing_draw,
                                     .move = shift,
                                     .far = far,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .at = at,
                                     .settle = settle,
                                     .catch_up = catch_up,
                                     .done = done};

struct placing *placing_open(struct tui *t, const char *item)
{
    struct placing *p = base_alloc(sizeof *p);
    p->level.ops = &ops;
    place_init(&p->l, t->job, item);
    snprintf(p->plate, sizeof p->plate, "%s", dieset_item_name(t->d, t->plan->shown));
    tui_hush(t);
    t->plan->follow = true;
    tui_push(t, &p->level);
    return p;
}
