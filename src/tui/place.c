/* tui/place.c - laying out on the plan: a group, or one point of it, is moved while the outcome is shown
 *
 *     die plate 315 x 200 from above   8 mm/col 16 mm/row
 *     plan, as it would be           | what is laid, where it stands, lines it may stand on, walls, findings
 *
 * Keys only note where it goes; it is tried once when no further key waits.
 */

#include "tui/place.h"

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

/* ---- the head ---- */

static void size_of(const struct tui *t, int plate, char *buf, size_t size)
{
    char length[40], width[40];
    enum unit_system s = dieset_system(t->d);
    unit_print_number(dieset_number(t->d, plate, "length", t->state), UNIT_LENGTH, s, length, sizeof length);
    unit_print_number(dieset_number(t->d, plate, "width", t->state), UNIT_LENGTH, s, width, sizeof width);
    snprintf(buf, size, "%s x %s", length, width);
}

static void draw_head(struct tui *t, struct area a, double scale)
{
    char size[90], column[40], row[40];
    enum unit_system s = dieset_system(t->d);
    size_of(t, t->plan_shown, size, sizeof size);
    view_scale_text(scale, s, column, sizeof column);
    view_scale_text(scale * t->cell_ratio, s, row, sizeof row);
    paint_format(&t->p, a, 0, 1, INK_PLAIN, "%s %s from %s   %s/col %s/row", dieset_item_title(t->d, t->plan_shown), size,
                 t->from_below ? "below" : "above", column, row);
}

/* ---- the column ---- */

enum { SECOND = 20, FIRST_END = 17, SECOND_END = 36, ROOMY = 26 };

/* "right_back" as people say it. */
static void point_words(const char *name, char *buf, size_t size)
{
    snprintf(buf, size, "%s", name);
    for (char *c = buf; *c; c++)
        if (*c == '_')
            *c = ' ';
}

static void place_of_kind(const struct tui *t, int item, char *buf, size_t size)
{
    int n = 0, at = 0;
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        n += dieset_item_kind(t->d, i) == dieset_item_kind(t->d, item);
        at = i == item ? n : at;
    }
    snprintf(buf, size, n > 1 ? ", %d of %d" : "", at, n);
}

static int draw_what(struct tui *t, const struct placing *p, struct area a)
{
    struct dieset_point at;
    char text[120] = "";
    int item = laying_item(t, &p->l), plate = laying_plate(t, &p->l), number;
    const struct handbook_pattern *pattern = laying_has(t, &p->l);
    if (item >= 0)
        place_of_kind(t, item, text, sizeof text);
    paint_format(&t->p, a, 0, 1, INK_STRONG, "laying %s%s", item >= 0 ? dieset_item_title(t->d, item) : p->l.item, text);
    if (pattern && plate >= 0)
        paint_format(&t->p, a, 1, 1, INK_PLAIN, "%s on %s", pattern->title, dieset_item_title(t->d, plate));
    if (!laying_point(t, &p->l, &at, &number))
        return 2;
    point_words(at.name, text, sizeof text);
    paint_format(&t->p, a, 2, 1, INK_PLAIN, "%s, %s%s", text, p->l.alone ? "alone" : "with its group", at.freed ? ", freed" : "");
    if (fabs(at.turn) > 1e-9)
        paint_format(&t->p, a, 2, 28, INK_PLAIN, "%g deg", round(at.turn * 90 / acos(0) * 1e6) / 1e6);
    return 3;
}

static void draw_pair(struct tui *t, struct area a, int y, const char *first, double one, const char *second, double two)
{
    char text[60];
    paint_text(&t->p, a, y, 1, INK_PLAIN, first);
    paint_right(&t->p, a, y, FIRST_END, INK_PLAIN, unit_print_number(one, UNIT_LENGTH, dieset_system(t->d), text, sizeof text));
    paint_text(&t->p, a, y, SECOND, INK_PLAIN, second);
    paint_right(&t->p, a, y, SECOND_END, INK_PLAIN, unit_print_number(two, UNIT_LENGTH, dieset_system(t->d), text, sizeof text));
}

/* Where the point stands on the plate shown. */
static int draw_distances(struct tui *t, const struct placing *p, struct area a, int y)
{
    struct dieset_point at;
    int plate = t->plan_shown;
    if (!laying_point(t, &p->l, &at, NULL) || at.broken)
        return y;
    double left = dieset_number(t->d, plate, "left", t->state), right = dieset_number(t->d, plate, "right", t->state);
    double front = dieset_number(t->d, plate, "front", t->state), back = dieset_number(t->d, plate, "back", t->state);
    draw_pair(t, a, y, "along", at.x, "across", at.y);
    draw_pair(t, a, y + 1, "left", at.x - left, "front", at.y - front);
    draw_pair(t, a, y + 2, "right", right - at.x, "back", back - at.y);
    draw_pair(t, a, y + 3, "centre", at.x - (left + right) / 2, "centre", at.y - (front + back) / 2);
    return y + 4;
}

/* What is typed for it: the pattern's own measures, or the way from the point's place in the group, or from an edge. */
static int draw_measures(struct tui *t, const struct placing *p, struct area a, int y)
{
    for (int axis = ALONG; axis <= ACROSS; axis++) {
        const struct laying_way *w = &p->l.ways[axis];
        char text[60], title[80];
        if (!w->moves) {
            paint_format(&t->p, a, y++, 1, INK_DIM, "%s: the pattern holds it", axis ? "across" : "along");
            continue;
        }
        laying_from(t, &p->l, axis, w->from, title, sizeof title);
        unit_print_number(laying_measured(t, &p->l, axis, w->from), UNIT_LENGTH, dieset_system(t->d), text, sizeof text);
        struct area left = {a.y, a.x, a.h, SECOND_END - paint_width(text) - 1};
        paint_text(&t->p, left, y, 1, INK_PLAIN, title);
        paint_right(&t->p, a, y++, SECOND_END, INK_STRONG, text);
        if (w->formula && w->from == FROM_OWN && fabs(w->at - w->start) > 1e-6)
            paint_format(&t->p, a, y++, 1, INK_DIM, "  over %s", w->formula);
    }
    return y;
}

static void line_words(const struct tui *t, const struct near_line *n, int axis, char *buf, size_t size)
{
    char at[60];
    unit_print_number(n->at, UNIT_LENGTH, dieset_system(t->d), at, sizeof at);
    if (n->letter)
        snprintf(buf, size, "%s of %c at %s", axis ? "row" : "column", n->letter, at);
    else
        snprintf(buf, size, "centre line at %s", at);
}

static int draw_lines(struct tui *t, const struct placing *p, struct area a, int y)
{
    bool hints = false;
    for (int axis = ALONG; axis <= ACROSS; axis++) {
        char words[100];
        const struct near_line *hint = &p->near.hint[axis], *on = &p->near.on[axis];
        if (hint->there && !on->there) {
            line_words(t, hint, axis, words, sizeof words);
            paint_format(&t->p, a, y++, 1, INK_STRONG, "lines up? %s", words);
            hints = true;
        } else if (on->there) {
            line_words(t, on, axis, words, sizeof words);
            paint_format(&t->p, a, y++, 1, INK_DIM, "on the %s", words);
        }
    }
    if (hints)
        paint_text(&t->p, a, y++, 1, INK_STRONG, "Enter takes it; e: exact, as it is");
    return y;
}

static int draw_walls(struct tui *t, const struct placing *p, struct area a, int y)
{
    char text[60];
    enum unit_system s = dieset_system(t->d);
    int x = paint_text(&t->p, a, y, 1, INK_PLAIN, "walls");
    if (p->near.n_walls == 0)
        paint_text(&t->p, a, y, x, INK_DIM, "  none at its depth");
    for (int i = 0; i < p->near.n_walls; i++) {
        const struct near_wall *w = &p->near.walls[i];
        unit_print_number(w->wall, UNIT_LENGTH, s, text, sizeof text);
        x = paint_format(&t->p, a, y, x, w->wall < 0 ? INK_TROUBLE : INK_PLAIN, "  %c %s", w->letter, text);
    }
    const struct near_wall *w = &p->near.other;
    if (w->plate < 0)
        return y + 1;
    unit_print_number(w->wall, UNIT_LENGTH, s, text, sizeof text);
    paint_format(&t->p, a, y + 1, 1, w->wall < 0 ? INK_TROUBLE : INK_PLAIN, "  %c %s in %s", w->letter, text, dieset_item_title(t->d, w->plate));
    return y + 2;
}

/* A paragraph whose later lines are set in; the row after it. */
static int draw_paragraph(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text)
{
    while (*text && y < a.h) {
        size_t skip, n = paint_wrap(text, a.w - x - 1, &skip);
        paint_format(&t->p, a, y++, x, ink, "%.*s", (int)n, text);
        text += n + skip;
    }
    return y;
}

static int draw_finding(struct tui *t, struct area a, int y, char sign, const struct finding *f)
{
    char text[1200];
    const char *state = states_text(f->states);
    snprintf(text, sizeof text, "%s: %s%s%s", f->title, state, *state ? ": " : "", f->message);
    paint_format(&t->p, a, y, 1, INK_STRONG, "%c%s", sign, findings_mark(f));
    return draw_paragraph(t, a, y, 5, INK_PLAIN, text);
}

/* What comes and goes with it, down to the end of the column. */
static void draw_outcome(struct tui *t, const struct placing *p, struct area a, int y)
{
    if (p->l.refused) {
        draw_paragraph(t, a, y, 1, INK_TROUBLE, p->l.why.message);
        return;
    }
    if (!job_trying(t->job)) {
        paint_text(&t->p, a, y, 1, INK_DIM, "as it stands");
        return;
    }
    const struct job_outcome *o = job_outcome(t->job);
    if (o->n_came + o->n_went == 0)
        paint_format(&t->p, a, y, 1, INK_DIM, "%d moved, no finding comes or goes", o->n_moves);
    for (int i = 0; i < o->n_came && y < a.h; i++)
        y = draw_finding(t, a, y, '+', &o->came[i]);
    for (int i = 0; i < o->n_went && y < a.h; i++)
        y = draw_finding(t, a, y, '-', &o->went[i]);
}

static void draw_column(struct tui *t, struct placing *p, struct area a)
{
    int y = draw_what(t, p, a) + 1;
    y = draw_distances(t, p, a, y) + (a.h > ROOMY);
    if (p->fields) {
        p->place = (struct area){a.y + y, a.x, p->fields, a.w};
        y += p->fields;
    } else {
        y = draw_lines(t, p, a, draw_measures(t, p, a, y));
    }
    y = draw_walls(t, p, a, y + (a.h > ROOMY));
    draw_outcome(t, p, a, y + (a.h > ROOMY));
}

/* ---- the level ---- */

/* The group whose points ITEM stands at: its own, or those that it stands with. */
static int own_points(const struct tui *t, int item)
{
    const char *lay;
    for (int n = 0; n < 20 && item >= 0 && (lay = dieset_entry(t->d, item, "lay")) && strncmp(lay, "with ", 5) == 0; n++)
        item = dieset_find_item(t->d, lay + 5);
    return item;
}

/* Whose letters stand out: the group's, or in a plate that it does not reach, those of what stands with it. */
static int seen_item(const struct tui *t, int laid)
{
    int first = 0, n = dieset_plate_holes(t->d, t->plan_shown, &first), with = laid;
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(t->d, i, t->state, &h);
        if (h.item == laid)
            return laid;
        if (own_points(t, h.item) == laid)
            with = h.item;
    }
    return with;
}

static void draw_legend(struct tui *t)
{
    struct base_text text = {0};
    view_legend(t->d, t->plan_shown, &text);
    paint_text(&t->p, t->at.message, 0, 1, INK_DIM, base_text_get(&text));
    base_text_done(&text);
}

static void draw(struct tui *t, struct level *level)
{
    struct placing *p = (struct placing *)level;
    struct area a = t->at.body;
    int column = a.w * 3 / 10 < 37 ? 37 : a.w * 3 / 10 > 60 ? 60 : a.w * 3 / 10, row, at;
    struct area picture = {a.y + 1, a.x, a.h - 1, a.w - column - 1}, side = {a.y + 1, a.x + a.w - column, a.h - 1, column};
    struct dieset_point grabbed = {.x = NAN, .y = NAN};
    int number = -1;
    if (t->plan_shown < 0)
        return;
    bool there = laying_point(t, &p->l, &grabbed, &number);
    struct view_options o = plan_options(t);
    o.item = seen_item(t, laying_item(t, &p->l));
    o.point = p->l.alone ? number : -1;
    double scale = plan_picture(t, picture, &o, grabbed.x, grabbed.y, &row, &at);
    t->plan_follow = false;
    near_find(t, &p->l, t->plan_shown, scale, &p->near);
    draw_head(t, a, scale);
    paint_bar(&t->p, side.x - 1, side.y, side.h, INK_DIM);
    draw_column(t, p, side);
    draw_legend(t);
    if (there && row >= 0)
        tui_cursor(t, picture, row, at);
    else
        tui_cursor(t, side, 0, 0);
}

/* The plate shown is kept by name: a group that is tried may stand before it. */
static void settle(struct tui *t, struct level *level)
{
    int plate = dieset_find_item(t->d, ((struct placing *)level)->plate);
    if (plate >= 0)
        t->plan_plate = t->plan_shown = plate;
}

static void step(struct tui *t, struct placing *p, enum move m, double mm)
{
    int axis = m == MOVE_LEFT || m == MOVE_RIGHT ? ALONG : ACROSS;
    double way = m == MOVE_LEFT || m == MOVE_DOWN ? -mm : mm;
    if (m > MOVE_RIGHT)
        return;
    if (axis == ALONG && t->from_below)
        way = -way;
    if (!laying_move(t, &p->l, axis, way)) {
        tui_say(t, "the pattern holds it %s; f frees this point, p chooses another pattern", axis == ALONG ? "along the feed" : "across the feed");
        return;
    }
    base_text_clear(&t->message);
    t->plan_follow = true;
    p->due = true;
}

static void shift(struct tui *t, struct level *level, enum move m)
{
    step(t, (struct placing *)level, m, dieset_system(t->d) == UNIT_INCH ? 25.4 / 32 : 1);
}

static void far(struct tui *t, struct level *level, enum move m)
{
    step(t, (struct placing *)level, m, dieset_system(t->d) == UNIT_INCH ? 25.4 / 4 : 5);
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

static const struct level_ops ops = {.place = PLACE_PLACING, .full = true, .draw = draw, .move = shift, .far = far, .enter = enter,
                                     .leave = leave, .tab = tab, .settle = settle, .catch_up = catch_up, .done = done};

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

/* ---- keys ---- */

/* A group that stands nowhere yet begins with its pattern. False: the item at the cursor is no such group. */
static bool open_unplaced(struct tui *t)
{
    struct dieset_point at = {.broken = true};
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1, kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    if (kind < 0 || !handbook_kind(dieset_handbook(t->d), kind)->lays || own_points(t, item) != item)
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
    int item = own_points(t, s.item);
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
    else
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
        if (h.nowhere || own_points(t, h.item) != item || h.point < 0)
            continue;
        dieset_point(t->d, h.item, h.point, &at);
        if (hypot(h.x - at.x, h.y - at.y) > 1e-6)
            return true;
    }
    return false;
}

void act_turn(struct tui *t)
{
    struct placing *p = place_at_hand(t);
    if (!p && !(p = open_here(t, false)))
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
