/* tui/panes/plan.c - the plan of the plate at the cursor, and the section of the whole stack */

#include "tui/panes.h"

#include "tui/caution.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/plan.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- plan ---- */

/* What the plan's cursor is on while the plan has the keys, else what its letters mean. */
void plan_legend(struct tui *t, struct area a, int y)
{
    struct plan_spot s;
    struct base_text text = {0};
    if (t->plan->shown < 0)
        return;
    if (tui_pane_has_keys(t, AT_PLAN) && points_here(t, &s)) {
        char x_text[40], y_text[40];
        points_title(t, &s, &text);
        unit_print(s.x, UNIT_LENGTH, dieset_system(t->d), x_text, sizeof x_text);
        unit_print(s.y, UNIT_LENGTH, dieset_system(t->d), y_text, sizeof y_text);
        base_text_addf(&text, "   at %s, %s", x_text, y_text);
        paint_text(&t->p, a, y, 1, INK_PLAIN, base_text_get(&text));
    } else {
        view_legend(t->d, t->plan->shown, &text);
        paint_text(&t->p, a, y, 1, INK_DIM, base_text_get(&text));
    }
    base_text_done(&text);
}

/* The legend stands in the message row; with the whole screen to itself the plan shows it below. Cautions
 * stand under a large plan; beside a small one they stand in the form or under the section. */
static struct area plan_area(struct tui *t, struct area a, bool draw)
{
    struct area left = {a.y, a.x, a.h - tui_alone(t), a.w};
    struct base_text words = {0};
    if (tui_alone(t) || t->swap == SWAP_PLAN) {
        caution_words(t, t->plan->shown, true, &words);
        left.h -= caution_foot(t, left, base_text_get(&words), a.h / 6, draw);
    }
    base_text_done(&words);
    return (struct area){left.y + 1, left.x, left.h - 1, left.w};
}

static void plan_draw(struct tui *t, struct area a, bool focus)
{
    int row, column;
    char title[120], right[60], step[40];
    if (focus)
        tui_cursor(t, a, 0, 0);
    if (t->plan->shown < 0 || a.h < 3) {
        tui_head(t, a, focus, "no plate yet: a adds one", "");
        if (focus)
            paint_text(&t->p, a, 0, 0, INK_HERE, ">");
        return;
    }
    struct view_options o = plan_options(t);
    struct area picture = plan_area(t, a, true);
    struct plan_spot s = {.x = NAN, .y = NAN};
    bool here = focus && points_here(t, &s);
    double scale = plan_picture(t, picture, &o, s.x, s.y, &row, &column);
    t->plan->follow = false;
    snprintf(title, sizeof title, "%s%s", dieset_item_title(t->d, t->plan->shown),
             o.from_below ? ", from below" : "");
    snprintf(right, sizeof right, "%s/col", view_scale_text(scale, dieset_system(t->d), step, sizeof step));
    tui_head(t, a, focus, title, right);
    if (focus)
        paint_text(&t->p, a, 0, 0, INK_HERE, ">");
    if (here)
        tui_cursor(t, picture, row, column);
    if (tui_alone(t))
        plan_legend(t, a, a.h - 1);
}

/* From all of the plate one goes nearer to the point at the cursor, or to the plate's middle. */
void plan_zoom(struct tui *t, int by)
{
    struct plan_spot s;
    if (by == 0) {
        t->plan->scale = t->plan->x = t->plan->y = 0;
        return;
    }
    if (t->plan->scale <= 0) {
        bool here = points_here(t, &s);
        t->plan->x = here ? s.x : dieset_number(t->d, t->plan->shown, "middle_x", t->state);
        t->plan->y = here ? s.y : dieset_number(t->d, t->plan->shown, "middle_y", t->state);
        t->plan->scale = t->plan->drawn > 0 ? t->plan->drawn : 1;
    }
    t->plan->scale = view_scale_next(t->plan->scale, by, view_scale_unit(dieset_system(t->d)));
    t->plan->follow = true;
}

static double within(double n, double low, double high)
{
    return !isfinite(low) || !isfinite(high) ? n : n < low ? low : n > high ? high : n;
}

/* A quarter of a small pane at a time; the middle of the picture stays on the plate. */
void plan_pan(struct tui *t, enum move m)
{
    enum { COLUMNS = 8, ROWS = 4 };
    int plate = t->plan->shown, way = t->plan->from_below ? -1 : 1;
    if (t->plan->scale <= 0 || plate < 0) {
        tui_say(t, "all of the plate is shown; + makes it larger");
        return;
    }
    double along = way * COLUMNS * t->plan->scale, across = ROWS * t->plan->scale * t->cell_ratio;
    t->plan->x += m == MOVE_LEFT ? -along : m == MOVE_RIGHT ? along : 0;
    t->plan->y += m == MOVE_DOWN ? -across : m == MOVE_UP ? across : 0;
    t->plan->x = within(t->plan->x, dieset_number(t->d, plate, "left", t->state),
                       dieset_number(t->d, plate, "right", t->state));
    t->plan->y = within(t->plan->y, dieset_number(t->d, plate, "front", t->state),
                       dieset_number(t->d, plate, "back", t->state));
}

/* A freed point has values of its own in the form. */
static void plan_enter(struct tui *t)
{
    struct plan_spot s;
    struct dieset_point p = {0};
    char item[80], path[PATH_MOST];
    if (points_here(t, &s))
        dieset_point(t->d, s.item, s.point, &p);
    if (!p.freed) {
        form_take_keys(t);
        return;
    }
    snprintf(item, sizeof item, "%s", dieset_item_name(t->d, s.item));
    snprintf(path, sizeof path, "%s.%s.x", item, p.name);
    if (dieset_find(t->d, path) < 0 || !go_to(t, item, path))
        form_take_keys(t);
}

static enum hit plan_at(struct tui *t, struct area a, int y, int x)
{
    struct plan_spot s, was;
    struct dieset_point p;
    struct view_options o = plan_options(t);
    struct area picture = t->plan->shown < 0 ? a : plan_area(t, a, false);
    if (t->plan->shown < 0 || y >= picture.y + picture.h ||
        !points_near(t, &o, picture.w, picture.h, y - picture.y, x - picture.x, &s))
        return HIT_NOTHING;
    if (points_here(t, &was) && was.item == s.item && was.point == s.point)
        return HIT_HERE;
    dieset_point(t->d, s.item, s.point, &p);
    tui_hush(t); /* what the point is stands there */
    points_go(t, s.item, p.name);
    return HIT_MOVED;
}

const struct pane_ops plan_pane = {AT_PLAN, plan_draw, points_move, plan_enter, plan_at, false};

/* ---- section ---- */

static void section_draw(struct tui *t, struct area a, bool focus)
{
    struct view_options o = tui_view(t);
    struct view_canvas c;
    char ram[60], title[120], right[60] = "", row[40];
    if (a.h < 3)
        return;
    struct area left = caution_below(t, a, -1, false, a.h / 6);
    struct area picture = {a.y + 1, a.x, left.h - 1, a.w};
    view_canvas_init(&c, picture.w, picture.h);
    double scale = view_section(t->d, t->plan->ram, &o, &c);
    unit_print(t->plan->ram, UNIT_LENGTH, dieset_system(t->d), ram, sizeof ram);
    snprintf(title, sizeof title, "section, ram %s above shut", ram);
    if (scale > 0)
        snprintf(right, sizeof right, "%s/row", view_scale_text(scale, dieset_system(t->d), row, sizeof row));
    tui_head(t, a, focus, title, right);
    if (focus)
        paint_text(&t->p, a, 0, 0, INK_HERE, ">");
    paint_canvas(&t->p, picture, &c, 0);
    if (focus)
        tui_cursor(t, a, 0, 0);
    view_canvas_done(&c);
}

/* The next thing that happens above (by 1) or below the ram's place. */
static void to_event(struct tui *t, int by)
{
    struct dieset_event events[64];
    int n = dieset_events(t->d, t->state, events, 64), best = -1;
    for (int i = 0; i < n; i++) {
        if (events[i].broken ||
            (by > 0 ? events[i].at <= t->plan->ram + 1e-6 : events[i].at >= t->plan->ram - 1e-6))
            continue;
        if (best < 0 || (by > 0 ? events[i].at < events[best].at : events[i].at > events[best].at))
            best = i;
    }
    if (best < 0)
        return;
    char at[60];
    t->plan->ram = events[best].at;
    tui_say(t, "%s, %s above shut", events[best].title,
            unit_print(t->plan->ram, UNIT_LENGTH, dieset_system(t->d), at, sizeof at));
}

static void section_move(struct tui *t, enum move m)
{
    switch (m) {
    case MOVE_UP: t->plan->ram += tui_step(t, "ram_step"); break;
    case MOVE_DOWN: t->plan->ram -= tui_step(t, "ram_step"); break;
    case MOVE_PAGE_UP: to_event(t, 1); break;
    case MOVE_PAGE_DOWN: to_event(t, -1); break;
    case MOVE_FIRST: {
        struct formula_value v = dieset_get(t->d, "press.stroke", t->state);
        t->plan->ram = v.error ? t->plan->ram : v.number;
        break;
    }
    case MOVE_LAST: t->plan->ram = 0; break;
    default: break;
    }
    if (t->plan->ram < 0)
        t->plan->ram = 0;
}

const struct pane_ops section_pane = {AT_SECTION, section_draw, section_move, form_take_keys, NULL, false};
