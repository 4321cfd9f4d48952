/* tui/laying/place.c - laying out on the plan: a group, or one point of it, is moved while the outcome is
 * shown
 *
 * Keys only note where it goes; it is tried once when no further key waits.
 */

#include "tui/laying/place.h"

#include "tui/act.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ALONG, ACROSS };

static const struct level_ops ops;

struct placing *place_at_hand(const struct tui *t)
{
    for (int i = t->n_levels - 1; i >= 0; i--)
        if (t->levels[i]->ops == &ops)
            return (struct placing *)t->levels[i];
    return NULL;
}

/* ---- trying, taking, leaving ---- */

void place_catch_up(struct tui *t)
{
    struct placing *p = place_at_hand(t);
    if (!p || !p->due)
        return;
    p->due = false;
    laying_try(t, &p->l);
}

static void catch_up(struct tui *t, struct level *level)
{
    (void)level;
    place_catch_up(t);
}

/* Off the pile with all that lies on it; the plan's cursor goes to the point. */
static void leave_to_point(struct tui *t)
{
    struct placing *p = place_at_hand(t);
    char item[80], point[48], plate[80], message[900];
    bool trouble = t->trouble;
    snprintf(item, sizeof item, "%s", *p->from ? p->from : p->l.item);
    snprintf(point, sizeof point, "%s", p->l.point);
    snprintf(plate, sizeof plate, "%s", p->plate);
    snprintf(message, sizeof message, "%s", base_text_get(&t->message));
    while (place_at_hand(t))
        tui_pop(t);
    tui_settle(t);
    int shown = dieset_find_item(t->d, plate), laid = dieset_find_item(t->d, item);
    t->plan_plate = t->plan_shown = shown >= 0 ? shown : t->plan_plate;
    if (laid >= 0)
        points_go(t, laid, point);
    if (trouble)
        tui_complain(t, "%s", message);
    else
        tui_say(t, "%s", message);
}

bool place_take(struct tui *t)
{
    place_catch_up(t);
    struct placing *p = place_at_hand(t);
    if (p->l.refused) {
        tui_complain(t, "%s", p->l.why.message);
        return false;
    }
    if (!job_trying(t->job)) {
        tui_say(t, "it stands so already: nothing to take");
        leave_to_point(t);
        return true;
    }
    bool taken = edit_take(t);
    if (!taken && job_saved(t->job)) { /* somebody was quicker: tried again over theirs */
        p->due = true;
        return false;
    }
    leave_to_point(t);
    return true;
}

void place_drop(struct tui *t)
{
    edit_drop(t);
    tui_say(t, "left as it was");
    leave_to_point(t);
}

/* ---- the level ---- */

/* The plate shown is kept by name: a group that is tried may stand before it. */
static void settle(struct tui *t, struct level *level)
{
    int plate = dieset_find_item(t->d, ((struct placing *)level)->plate);
    if (plate >= 0)
        t->plan_plate = t->plan_shown = plate;
}

static void step(struct tui *t, struct placing *p, enum move m, const char *size)
{
    int axis = m == MOVE_LEFT || m == MOVE_RIGHT ? ALONG : ACROSS;
    double mm = m > MOVE_RIGHT ? 0 : tui_step(t, size), way = m == MOVE_LEFT || m == MOVE_DOWN ? -mm : mm;
    if (mm <= 0)
        return;
    if (axis == ALONG && t->from_below)
        way = -way;
    if (!laying_move(t, &p->l, axis, way)) {
        tui_say(t, "the pattern holds it %s; f frees this point, p chooses another pattern",
                axis == ALONG ? "along the feed" : "across the feed");
        return;
    }
    base_text_clear(&t->message);
    t->plan_follow = true;
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
static bool step_to(struct tui *t, struct placing *p, int axis, double mm, double size)
{
    const struct laying_way *w = &p->l.ways[axis];
    double by = round((mm - w->at) / size) * size;
    if (!w->moves)
        return false;
    if (by != 0)
        laying_move(t, &p->l, axis, by);
    return true;
}

/* A click moves what is placed to the cell; where it stands already it is Enter. */
static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct placing *p = (struct placing *)level;
    struct area a = place_picture(t);
    struct view_options o = plan_options(t);
    struct view_canvas c;
    struct dieset_point now;
    double along, across, size = tui_step(t, "plan_step");
    int row, column;
    place_catch_up(t);
    tui_settle(t);
    view_canvas_init(&c, a.w, a.h);
    bool inside = t->plan_shown >= 0 &&
                  view_plan_point(t->d, t->plan_shown, &o, &c, x - a.x, y - a.y, &along, &across);
    bool here = inside && laying_point(t, &p->l, &now, NULL) &&
                view_plan_cell(t->d, t->plan_shown, &o, &c, now.x, now.y, &column, &row) && row == y - a.y &&
                column == x - a.x;
    view_canvas_done(&c);
    if (here || !inside || size <= 0)
        return here ? HIT_HERE : HIT_NOTHING;
    bool moves = step_to(t, p, ALONG, along, size);
    moves = step_to(t, p, ACROSS, across, size) || moves;
    base_text_clear(&t->message);
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
    place_catch_up(t);
    tui_settle(t);
    near_find(t, &p->l, t->plan_shown, t->plan_drawn, &p->near);
    for (int axis = ALONG; axis <= ACROSS; axis++)
        if (p->near.hint[axis].there && !p->near.on[axis].there)
            lined |= laying_move(t, &p->l, axis, p->near.hint[axis].at - p->l.ways[axis].at);
    if (lined)
        p->due = true;
    else
        exact_open(t);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    place_drop(t);
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct placing *p = (struct placing *)level;
    place_catch_up(t);
    laying_next(t, &p->l, by);
    t->plan_follow = true;
}

static void done(struct level *level)
{
    struct placing *p = (struct placing *)level;
    laying_done(&p->l);
    free(p);
}

static const struct level_ops ops = {.place = PLACE_PLACING,
                                     .full = true,
                                     .draw = place_draw,
                                     .move = shift,
                                     .far = far,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .at = at,
                                     .settle = settle,
                                     .catch_up = catch_up,
                                     .done = done};

struct placing *place_open(struct tui *t, const char *item)
{
    struct placing *p = base_alloc(sizeof *p);
    p->level.ops = &ops;
    snprintf(p->l.item, sizeof p->l.item, "%s", item);
    snprintf(p->plate, sizeof p->plate, "%s", dieset_item_name(t->d, t->plan_shown));
    base_text_clear(&t->message);
    t->plan_follow = true;
    tui_push(t, &p->level);
    return p;
}

/* ---- from stack and form to the plan ---- */

static const struct handbook_kind *kind_of(const struct tui *t, int item)
{
    int kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    return kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
}

bool place_may(const struct tui *t)
{
    const struct handbook_kind *k = kind_of(t, *t->item ? dieset_find_item(t->d, t->item) : -1);
    return k && k->lays;
}

/* The plate whose edges and centre lines ITEM is laid out from, where it has holes in it; -1: none. */
static int laid_on(const struct tui *t, int item)
{
    const char *lay = dieset_entry(t->d, item, "lay"), *on = lay ? strstr(lay, " on ") : NULL;
    int plate = on ? dieset_find_item(t->d, on + strlen(" on ")) : -1;
    return plate >= 0 && points_in(t, item, plate) ? plate : -1;
}

/* The plate at the cursor of the stack where ITEM has holes in it, else the one it is laid out on, else the
 * first that it is fixed in, else the first that it passes; -1: none. */
static int plate_with(const struct tui *t, int item)
{
    int passed = -1, laid = t->column < 0 ? laid_on(t, item) : -1;
    if (laid >= 0 || points_in(t, item, t->plan_plate))
        return laid >= 0 ? laid : t->plan_plate;
    for (int r = 0; r < t->matrix.n_rows; r++) {
        int plate = t->matrix.rows[r].plate;
        bool fixed = false;
        if (!points_in(t, item, plate))
            continue;
        for (int c = 0; c < t->matrix.n_columns; c++)
            fixed = fixed || (t->matrix.items[r][c] == item && t->matrix.cells[r][c] != '|');
        if (fixed)
            return plate;
        passed = passed < 0 ? plate : passed;
    }
    return passed;
}

/* What is taken hold of: the point whose value the form's cursor is on ("lay/left_back/x"), else the group of
 * ITEM, so no freed point as long as another goes with it. */
static void grab_value(struct tui *t, int item)
{
    int q = tui_pane(t, t->focus) == &form_pane ? form_quantity(t) : -1;
    const char *entry = q < 0 ? NULL : dieset_quantity(t->d, q)->entry;
    const char *name = entry && strncmp(entry, "lay/", 4) == 0 ? entry + 4 : NULL, *with = NULL;
    if (name && strchr(name, '/')) {
        snprintf(t->plan_point, sizeof t->plan_point, "%.*s", (int)strcspn(name, "/"), name);
        return;
    }
    int owner = laying_owner(t, item), n = dieset_point_count(t->d, owner);
    bool freed = false;
    for (int i = 0; i < n; i++) {
        struct dieset_point at;
        dieset_point(t->d, owner, i, &at);
        freed = i == 0 || strcmp(at.name, t->plan_point) == 0 ? at.freed : freed;
        if (!with && !at.freed)
            with = at.name;
    }
    if (freed && with)
        snprintf(t->plan_point, sizeof t->plan_point, "%s", with);
}

/* Keys go to the plan of the plate that the item at the cursor is, or stands in. False: nothing of it is
   placed, which is said. */
static bool to_plan(struct tui *t)
{
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1, plate = -1;
    const struct handbook_kind *k = kind_of(t, item);
    bool is_plate = k && strcmp(k->name, DIESET_PLATE) == 0;
    if (t->n_levels || tui_pane(t, t->focus) == &plan_pane)
        return true;
    if (!is_plate && !place_may(t)) {
        tui_say(t, "%s stands on no plan: groups of holes, stations and guides are placed",
                item < 0 ? "what is chosen" : dieset_item_title(t->d, item));
        return false;
    }
    go_remember(t);
    if (!is_plate)
        grab_value(t, item);
    plate = is_plate ? item : plate_with(t, item);
    t->plan_plate = t->plan_shown = plate >= 0 ? plate : t->plan_plate;
    t->focus = t->swap == SWAP_PLAN ? PANE_SWAP : PANE_PLAN;
    t->zoomed = false;
    t->plan_follow = true;
    if (is_plate)
        tui_say(t, "the plan of %s: arrows walk its points, p places one, a adds a group",
                dieset_item_title(t->d, item));
    return !is_plate;
}

/* ---- keys ---- */

/* A group that stands nowhere yet begins with its pattern. False: the item at the cursor is no such group. */
static bool open_unplaced(struct tui *t)
{
    struct dieset_point at = {.broken = true};
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1,
        kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    if (kind < 0 || !handbook_kind(dieset_handbook(t->d), kind)->lays || laying_owner(t, item) != item)
        return false;
    if (dieset_point_count(t->d, item) > 0)
        dieset_point(t->d, item, 0, &at);
    if (!at.broken)
        return false;
    place_open(t, t->item);
    place_choose_pattern(t);
    return true;
}

/* Open at the plan's cursor. NULL: nothing stands there, which is said. */
static struct placing *open_here(struct tui *t, bool alone)
{
    struct plan_spot s;
    struct dieset_point at;
    if (t->plan_shown < 0) {
        tui_say(t, "no plate yet to place anything on");
        return NULL;
    }
    if (!points_here(t, &s)) {
        if (!alone && open_unplaced(t))
            return NULL;
        tui_say(t, "the cursor is on no point: arrows walk them, a adds a group");
        return NULL;
    }
    char title[100], from[80], name[48];
    snprintf(from, sizeof from, "%s", dieset_item_name(t->d, s.item));
    snprintf(title, sizeof title, "%s", dieset_item_title(t->d, s.item));
    dieset_point(t->d, s.item, s.point, &at);
    snprintf(name, sizeof name, "%s", at.name);
    int item = laying_owner(t, s.item);
    struct placing *p = place_open(t, dieset_item_name(t->d, item));
    p->l.alone = alone;
    snprintf(p->from, sizeof p->from, "%s", from);
    laying_grab(t, &p->l, name);
    if (item != s.item)
        tui_say(t, "%s stand with %s: both move", title, dieset_item_title(t->d, item));
    return p;
}

void act_place(struct tui *t)
{
    if (place_at_hand(t))
        place_choose_pattern(t);
    else if (to_plan(t))
        open_here(t, false);
}

/* In the plan: a point with its group is freed and moved, a freed one goes back at once. */
static void free_here(struct tui *t)
{
    struct plan_spot s;
    struct dieset_point at = {0};
    if (points_here(t, &s))
        dieset_point(t->d, s.item, s.point, &at);
    bool freed = at.freed;
    struct placing *p = open_here(t, true);
    if (!p || !freed)
        return;
    laying_give_back(t, &p->l);
    p->due = true;
    place_take(t);
}

void act_free(struct tui *t)
{
    struct placing *p = place_at_hand(t);
    struct dieset_point at;
    char name[48];
    if (!p) {
        if (to_plan(t))
            free_here(t);
        return;
    }
    place_catch_up(t);
    snprintf(name, sizeof name, "%s", p->l.point);
    bool freed = laying_point(t, &p->l, &at, NULL) && at.freed;
    if (p->l.alone && freed)
        laying_give_back(t, &p->l);
    else
        p->l.alone = !p->l.alone;
    laying_try(t, &p->l);
    laying_grab(t, &p->l, name);
    if (p->l.alone)
        tui_say(t, "%s alone: what is moved now is its own", name);
}

/* Has the group anything that a turn would move: holes beside its axes, or such that are not round? */
static bool turns(const struct tui *t, int item)
{
    int n = dieset_hole_count(t->d);
    for (int i = 0; i < n; i++) {
        struct dieset_hole h;
        struct dieset_point at;
        dieset_hole(t->d, i, t->state, &h);
        if (h.nowhere || laying_owner(t, h.item) != item || h.point < 0)
            continue;
        dieset_point(t->d, h.item, h.point, &at);
        if (hypot(h.x - at.x, h.y - at.y) > 1e-6 || (h.spec->turn && (h.n_sides || h.length > 0)))
            return true;
    }
    return false;
}

void act_turn(struct tui *t)
{
    struct placing *p = place_at_hand(t);
    if (!p && (!to_plan(t) || !(p = open_here(t, false))))
        return;
    place_catch_up(t);
    if (!turns(t, laying_item(t, &p->l))) {
        tui_say(t, "nothing of it lies beside its axes: a turn would change nothing");
        return;
    }
    laying_turn(t, &p->l);
    p->due = true;
}

void act_exact(struct tui *t)
{
    exact_open(t);
}
