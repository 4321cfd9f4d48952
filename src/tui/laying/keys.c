/* tui/laying/keys.c - placing begun from stack, form or plan: place, free, turn, exact values */

#include "tui/laying/placing.h"

#include "tui/act.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/plan.h"
#include "tui/stack.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The plate whose edges and centre lines ITEM is laid out from, where it has holes in it; -1: none. */
static int laid_on(const struct tui *t, int item)
{
    const char *lay = dieset_entry(t->d, item, "lay"), *on = lay ? strstr(lay, " on ") : NULL;
    int plate = on ? dieset_find_item(t->d, on + strlen(" on ")) : -1;
    return plate >= 0 && place_stands_in(t->d, item, plate, t->state) ? plate : -1;
}

/* The plate at the cursor of the stack where ITEM has holes in it, else the one it is laid out on, else the
 * first that it is fixed in, else the first that it passes; -1: none. */
static int plate_with(const struct tui *t, int item)
{
    int passed = -1, laid = t->stack->column < 0 ? laid_on(t, item) : -1;
    if (laid >= 0 || place_stands_in(t->d, item, t->plan->plate, t->state))
        return laid >= 0 ? laid : t->plan->plate;
    for (int r = 0; r < t->stack->matrix.n_rows; r++) {
        int plate = t->stack->matrix.rows[r].plate;
        bool fixed = false;
        if (!place_stands_in(t->d, item, plate, t->state))
            continue;
        for (int c = 0; c < t->stack->matrix.n_columns; c++)
            fixed = fixed || (t->stack->matrix.items[r][c] == item && t->stack->matrix.cells[r][c] != '|');
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
    int q = tui_pane_has_keys(t, AT_FORM) ? form_quantity(t) : -1;
    const char *entry = q < 0 ? NULL : dieset_quantity(t->d, q)->entry;
    const char *with = NULL;
    struct typed_path path = typed_path_read(entry ? entry : "");
    if (path.place == TYPED_AT_POINT) {
        snprintf(t->plan->point, sizeof t->plan->point, "%.*s", (int)path.length, path.name);
        return;
    }
    int owner = place_owner(t->d, item), n = dieset_point_count(t->d, owner);
    bool freed = false;
    for (int i = 0; i < n; i++) {
        struct dieset_point at;
        dieset_point(t->d, owner, i, &at);
        freed = i == 0 || strcmp(at.name, t->plan->point) == 0 ? at.freed : freed;
        if (!with && !at.freed)
            with = at.name;
    }
    if (freed && with)
        snprintf(t->plan->point, sizeof t->plan->point, "%s", with);
}

/* Keys go to the plan of the plate that the item at the cursor is, or stands in. False: nothing of it is
   placed, which is said. */
static bool to_plan(struct tui *t)
{
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1, plate = -1;
    const struct handbook_kind *k = placing_kind(t, item);
    bool is_plate = k && strcmp(k->name, DIESET_PLATE) == 0;
    if (tui_depth(t) || tui_pane_has_keys(t, AT_PLAN))
        return true;
    if (!is_plate && !placing_may(t)) {
        tui_say(t, "%s stands on no plan: groups of holes, stations and guides are placed",
                item < 0 ? "what is chosen" : dieset_item_title(t->d, item));
        return false;
    }
    go_remember(t);
    if (!is_plate)
        grab_value(t, item);
    plate = is_plate ? item : plate_with(t, item);
    t->plan->plate = t->plan->shown = plate >= 0 ? plate : t->plan->plate;
    t->focus = t->swap == SWAP_PLAN ? PANE_SWAP : PANE_PLAN;
    t->zoomed = false;
    t->plan->follow = true;
    if (is_plate)
        tui_say(t, "the plan of %s: arrows walk its points, p places one, a adds a group",
                dieset_item_title(t->d, item));
    return !is_plate;
}

/* A group that stands nowhere yet begins with its pattern. False: the item at the cursor is no such group. */
static bool open_unplaced(struct tui *t)
{
    struct dieset_point at = {.broken = true};
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1,
        kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    if (kind < 0 || !handbook_kind(dieset_handbook(t->d), kind)->lays || place_owner(t->d, item) != item)
        return false;
    if (dieset_point_count(t->d, item) > 0)
        dieset_point(t->d, item, 0, &at);
    if (!at.broken)
        return false;
    placing_open(t, t->item);
    placing_choose_pattern(t);
    return true;
}

/* Open at the plan's cursor. NULL: nothing stands there, which is said. */
static struct placing *open_here(struct tui *t, bool alone)
{
    struct plan_spot s;
    struct dieset_point at;
    if (t->plan->shown < 0) {
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
    int item = place_owner(t->d, s.item);
    struct placing *p = placing_open(t, dieset_item_name(t->d, item));
    p->l.alone = alone;
    snprintf(p->from, sizeof p->from, "%s", from);
    place_grab(&p->l, name);
    tui_changed(t);
    if (item != s.item)
        tui_say(t, "%s stand with %s: both move", title, dieset_item_title(t->d, item));
    return p;
}

void act_place(struct tui *t)
{
    if (placing_at_hand(t))
        placing_choose_pattern(t);
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
    place_give_back(&p->l);
    p->due = true;
    placing_take(t);
}

void act_free(struct tui *t)
{
    struct placing *p = placing_at_hand(t);
    if (!p) {
        if (to_plan(t))
            free_here(t);
        return;
    }
    placing_catch_up(t);
    place_free(&p->l);
    tui_changed(t);
    if (p->l.alone)
        tui_say(t, "%s alone: what is moved now is its own", p->l.point);
}

static void turn_by(struct tui *t, double deg)
{
    struct placing *p = placing_at_hand(t);
    if (!p && (!to_plan(t) || !(p = open_here(t, false))))
        return;
    placing_catch_up(t);
    if (!place_turns(&p->l, t->state)) {
        tui_say(t, "nothing of it lies beside its axes: a turn would change nothing");
        return;
    }
    place_turn(&p->l, deg);
    p->due = true;
}

void act_turn(struct tui *t) { turn_by(t, 90); }
void act_turn_half(struct tui *t) { turn_by(t, 45); }
void act_turn_little(struct tui *t) { turn_by(t, 15); }

void act_exact(struct tui *t)
{
    exact_open(t);
}
