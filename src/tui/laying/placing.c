/* tui/laying/placing.c - what is being placed: tried, taken, dropped */

#include "tui/laying/placing.h"

#include "tui/edits.h"
#include "tui/plan.h"

#include <stdio.h>

struct placing *placing_at_hand(const struct tui *t)
{
    return (struct placing *)tui_level_of(t, AT_PLACING);
}

void placing_catch_up(struct tui *t)
{
    struct placing *p = placing_at_hand(t);
    if (!p || !p->due)
        return;
    p->due = false;
    place_try(&p->l);
    tui_changed(t);
}

/* Off the pile with all that lies on it; the plan's cursor goes to the point. */
static void leave_to_point(struct tui *t)
{
    struct placing *p = placing_at_hand(t);
    char item[80], point[48], plate[80], message[900];
    bool trouble = tui_complained(t);
    snprintf(item, sizeof item, "%s", *p->from ? p->from : p->l.item);
    snprintf(point, sizeof point, "%s", p->l.point);
    snprintf(plate, sizeof plate, "%s", p->plate);
    snprintf(message, sizeof message, "%s", tui_said(t));
    while (placing_at_hand(t))
        tui_pop(t);
    tui_settle(t);
    int shown = dieset_find_item(t->d, plate), laid = dieset_find_item(t->d, item);
    t->plan->plate = t->plan->shown = shown >= 0 ? shown : t->plan->plate;
    if (laid >= 0)
        points_go(t, laid, point);
    if (trouble)
        tui_complain(t, "%s", message);
    else
        tui_say(t, "%s", message);
}

bool placing_take(struct tui *t)
{
    placing_catch_up(t);
    struct placing *p = placing_at_hand(t);
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

void placing_drop(struct tui *t)
{
    edit_drop(t);
    tui_say(t, "left as it was");
    leave_to_point(t);
}

const struct handbook_kind *placing_kind(const struct tui *t, int item)
{
    int kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    return kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
}

bool placing_may(const struct tui *t)
{
    const struct handbook_kind *k = placing_kind(t, *t->item ? dieset_find_item(t->d, t->item) : -1);
    return k && k->lays;
}

void placing_look_about(struct tui *t, struct placing *p, double column_mm)
{
    const double reach[PLACE_AXES] = {column_mm / 2, column_mm * t->cell_ratio / 2};
    place_near(&p->l, t->plan->shown, t->state, reach, &p->near);
}
