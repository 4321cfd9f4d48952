/* tui/laying/exact.c - the exact values of a place, typed over the column of the placing below
 *
 * A row for along and across, each measured from an edge that Tab changes, then the pattern's other measures.
 * Every text is tried as it is typed; Enter takes all, Esc leaves all.
 */

#include "tui/laying/placing.h"

#include "tui/line.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS = 12, TEXT_AT = 23 };

struct row {
    int axis;           /* -1: a measure of the pattern */
    enum place_from from;
    char name[100];     /* of that measure */
    char title[80], help[160];
    struct field *field;
};
struct exact { struct level level; struct row rows[ROWS]; int n, at; };

/* ---- rows ---- */

static void name_axis(const struct placing *p, struct row *r)
{
    const struct handbook_pattern *pattern = place_has(&p->l);
    int take = p->l.ways[r->axis].take;
    const char *help = r->from == PLACE_FROM_OWN && !p->l.alone && pattern && take >= 0
                           ? pattern->takes[take].help
                           : NULL;
    place_from_words(&p->l, r->axis, r->from, r->title, sizeof r->title);
    snprintf(r->help, sizeof r->help, "%s: %s; Tab measures from another edge", r->axis ? "across" : "along",
             help ? help : r->title);
}

static void fill(struct row *r, const char *text)
{
    field_free(r->field);
    r->field = field_new(text);
    field_offer(r->field);
}

/* The formula that stands at ENTRY, while the point has not been moved from it. */
static const char *standing(const struct tui *t, const struct placing *p, const char *entry)
{
    char *path = typed_known(p->l.item, entry);
    int q = dieset_find(t->d, path);
    free(path);
    return q < 0 ? NULL : dieset_quantity(t->d, q)->text;
}

static void fill_axis(struct tui *t, struct placing *p, struct row *r, bool as_it_stands)
{
    char *entry = place_entry(&p->l, r->axis);
    const struct place_way *w = &p->l.ways[r->axis];
    const char *text = as_it_stands && !p->l.alone && r->from == PLACE_FROM_OWN && w->at == w->start
                           ? standing(t, p, entry)
                           : NULL;
    char *length = place_length(&p->l, place_measured(&p->l, r->axis, r->from));
    name_axis(p, r);
    fill(r, text ? text : length);
    free(length);
    free(entry);
}

static void add_axes(struct tui *t, struct placing *p, struct exact *e)
{
    for (int axis = 0; axis < 2; axis++) {
        if (!p->l.ways[axis].moves)
            continue;
        struct row *r = &e->rows[e->n++];
        *r = (struct row){.axis = axis, .from = p->l.ways[axis].from};
        fill_axis(t, p, r, true);
    }
}

static bool is_moved(const struct placing *p, int take)
{
    return (p->l.ways[0].moves && p->l.ways[0].take == take) ||
           (p->l.ways[1].moves && p->l.ways[1].take == take);
}

static void add_takes(struct tui *t, struct placing *p, struct exact *e)
{
    const struct handbook_pattern *pattern = place_has(&p->l);
    for (int k = 0; pattern && !p->l.alone && k < pattern->n_takes && e->n < ROWS; k++) {
        const struct handbook_take *take = &pattern->takes[k];
        if (is_moved(p, k))
            continue;
        struct row *r = &e->rows[e->n++];
        *r = (struct row){.axis = -1};
        snprintf(r->name, sizeof r->name, "%s", take->name);
        snprintf(r->title, sizeof r->title, "%s", take->title);
        snprintf(r->help, sizeof r->help, "%s", take->help ? take->help : take->title);
        char *entry = typed_of_take(r->name);
        const char *text = standing(t, p, entry);
        fill(r, text ? text : "");
        free(entry);
    }
}

/* ---- what is typed ---- */

static void changed(struct tui *t, struct placing *p, struct row *r)
{
    struct base_diag why = {0};
    const char *text = field_text(r->field) + strspn(field_text(r->field), " ");
    tui_hush(t);
    if (r->axis < 0)
        place_take(&p->l, r->name, text);
    else if (place_measure(&p->l, r->axis, r->from, text, &why))
        tui_complain(t, "%s", why.message);
    p->due = true;
}

static void done(struct level *level)
{
    struct exact *e = (struct exact *)level;
    for (int i = 0; i < e->n; i++)
        field_free(e->rows[i].field);
    free(e);
}

/* ---- drawing ---- */

static void draw_row(struct tui *t, struct area a, int y, struct row *r, bool here)
{
    struct area title = {a.y, a.x, a.h, TEXT_AT - 1};
    paint_text(&t->p, title, y, 2, here ? INK_STRONG : INK_PLAIN, r->title);
    if (here) {
        paint_text(&t->p, a, y, 0, INK_STRONG, ">");
        field_place(r->field, a.y + y, a.x + TEXT_AT, a.w - TEXT_AT - 1, 1);
        tui_live(t, r->field);
    } else {
        field_hide(r->field);
        paint_text(&t->p, a, y, TEXT_AT, INK_PLAIN, field_text(r->field));
    }
}

static void draw(struct tui *t, struct level *level)
{
    struct exact *e = (struct exact *)level;
    struct placing *p = placing_at_hand(t);
    bool told = tui_told(t);
    for (int i = 0; i < e->n; i++)
        draw_row(t, p->place, i, &e->rows[i], i == e->at);
    tui_message_row(t, told && tui_complained(t) ? INK_TROUBLE : INK_PLAIN,
                    told ? tui_said(t) : e->rows[e->at].help);
}

/* ---- keys ---- */

static bool event(struct tui *t, struct level *level, const struct terminal_event *ev)
{
    struct exact *e = (struct exact *)level;
    struct row *r = &e->rows[e->at];
    enum field_did did = ev->what == TERMINAL_PASTE ? field_paste(r->field, ev->text)
                                                    : field_key(r->field, ev->key);
    if (did == FIELD_CHANGED)
        changed(t, placing_at_hand(t), r);
    return did != FIELD_NOTHING || ev->what == TERMINAL_PASTE;
}

/* A row that is come back to is typed over, as one that was never typed in. */
static void go_to_row(struct exact *e, int row)
{
    e->at = row;
    field_offer(e->rows[row].field);
}

static void shift(struct tui *t, struct level *level, enum move m)
{
    struct exact *e = (struct exact *)level;
    (void)t;
    go_to_row(e, (e->at + (m == MOVE_UP ? -1 : 1) + e->n) % e->n);
}

/* A click on the row at hand leaves it as it is: Enter would take all. */
static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct exact *e = (struct exact *)level;
    struct area a = placing_at_hand(t)->place;
    struct list rows = {.at = e->at, .n = e->n};
    if (list_hit(&rows, a, y, x) != HIT_MOVED)
        return HIT_NOTHING;
    go_to_row(e, rows.at);
    return HIT_MOVED;
}

/* The same place, from the edge of R. False: the plate follows the point, as it does its stations, so that it
   would hang on itself. */
static bool measured_from(struct tui *t, struct placing *p, struct row *r)
{
    fill_axis(t, p, r, false);
    changed(t, p, r);
    placing_catch_up(t);
    return !p->l.refused;
}

/* The same place, from the next edge. */
static void tab(struct tui *t, struct level *level, int by)
{
    struct exact *e = (struct exact *)level;
    struct placing *p = placing_at_hand(t);
    struct row *r = &e->rows[e->at];
    struct dieset_point at;
    placing_catch_up(t);
    if (r->axis < 0 || p->l.refused || !place_point(&p->l, &at, NULL) || at.broken) {
        tui_say(t, r->axis < 0 ? "this value is measured from nowhere"
                               : "first a place that can be taken, then another edge to measure it from");
        return;
    }
    enum place_from was = r->from;
    p->l.ways[r->axis].at = r->axis ? at.y : at.x;
    bool refused = false;
    for (int tries = 1; tries < PLACE_FROMS; tries++) {
        r->from = (enum place_from)((r->from + PLACE_FROMS + by) % PLACE_FROMS);
        if (!place_may(&p->l, r->axis, r->from))
            continue;
        if (measured_from(t, p, r))
            return;
        refused = true;
    }
    r->from = was;
    if (refused) {
        fill_axis(t, p, r, true);
        changed(t, p, r);
    }
    tui_say(t,
            refused
                ? "the plate's edges follow this place: it is measured from there only"
                : "the pattern measures this point from there only; alone it may be measured from any edge");
}

/* ---- taking ---- */

static void reason_given(struct tui *t, const char *subject, const char *text)
{
    struct placing *p = placing_at_hand(t);
    (void)subject;
    place_give_reason(&p->l, text);
    p->due = true;
    placing_take(t);
}

static void enter(struct tui *t, struct level *level)
{
    struct placing *p = placing_at_hand(t);
    (void)level;
    placing_catch_up(t);
    if (!place_lacks_reason(&p->l) || p->l.refused || !job_trying(t->job)) {
        placing_take(t);
        return;
    }
    p->due = true; /* tried again when one comes back from there */
    ask_open(t, "stands off its group, because: ", "", "", reason_given);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    placing_drop(t);
}

static void catch_up(struct tui *t, struct level *level)
{
    (void)level;
    placing_catch_up(t);
}

static const struct level_ops ops = {.place = AT_EXACT,
                                     .draw = draw,
                                     .event = event,
                                     .move = shift,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .at = at,
                                     .catch_up = catch_up,
                                     .done = done};

void exact_open(struct tui *t)
{
    placing_catch_up(t);
    struct placing *p = placing_at_hand(t);
    struct exact *e = base_alloc(sizeof *e);
    e->level.ops = &ops;
    add_axes(t, p, e);
    add_takes(t, p, e);
    if (e->n == 0) {
        done(&e->level);
        tui_say(t, "the pattern has no measure to type; p chooses another, f frees the point");
        return;
    }
    p->fields = e->n;
    tui_push(t, &e->level);
}
