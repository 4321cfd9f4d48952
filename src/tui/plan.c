/* tui/plan.c - the plan of the plate at the cursor, and the section of the whole stack */

#include "tui/tui.h"

#include "diewright/report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- plan ---- */

static struct view_options plan_options(const struct tui *t)
{
    struct view_options o = tui_view(t);
    o.scale = t->plan_scale;
    o.pan_x = t->plan_x;
    o.pan_y = t->plan_y;
    o.see_through = t->see_through;
    o.from_below = t->from_below;
    return o;
}

void plan_legend(struct tui *t, struct area a, int y)
{
    if (t->plan_shown < 0)
        return;
    struct base_text legend = {0};
    view_legend(t->d, t->plan_shown, &legend);
    paint_text(&t->p, a, y, 1, INK_DIM, base_text_get(&legend));
    base_text_done(&legend);
}

/* The legend stands in the message row; with the whole screen to itself the plan shows it below. */
static void plan_draw(struct tui *t, struct area a, bool focus)
{
    int plate = t->plan_shown, below = t->zoomed;
    char title[120], right[60];
    if (focus)
        tui_cursor(t, a, 0, 0);
    if (plate < 0 || a.h < 3) {
        tui_head(t, a, focus, "no plate yet: a adds one", "");
        return;
    }
    struct view_options o = plan_options(t);
    struct view_canvas c;
    view_canvas_init(&c, a.w, a.h - 1 - below);
    double scale = view_plan(t->d, plate, &o, &c);
    struct area picture = {a.y + 1, a.x, a.h - 1 - below, a.w};
    snprintf(title, sizeof title, "%s%s", dieset_item_title(t->d, plate), o.from_below ? ", from below" : "");
    snprintf(right, sizeof right, "%g mm/col", scale);
    tui_head(t, a, focus, title, right);
    paint_canvas(&t->p, picture, &c, 0);
    if (below)
        plan_legend(t, a, a.h - 1);
    view_canvas_done(&c);
}

void plan_zoom(struct tui *t, int by)
{
    if (by == 0) {
        t->plan_scale = t->plan_x = t->plan_y = 0;
        return;
    }
    if (t->plan_scale <= 0) {
        struct view_canvas c;
        struct view_options o = plan_options(t);
        struct area a = t->zoomed ? t->at.body : t->swap == SWAP_PLAN ? t->at.swap : t->at.plan;
        view_canvas_init(&c, a.w, a.h - 1);
        t->plan_scale = t->plan_shown < 0 ? 1 : view_plan(t->d, t->plan_shown, &o, &c);
        view_canvas_done(&c);
    }
    t->plan_scale = view_scale_next(t->plan_scale, by);
}

static void plan_move(struct tui *t, enum move m)
{
    double step = t->plan_scale > 0 ? t->plan_scale * 4 : 0;
    switch (m) {
    case MOVE_LEFT: t->plan_x -= step; break;
    case MOVE_RIGHT: t->plan_x += step; break;
    case MOVE_UP: t->plan_y += step; break;
    case MOVE_DOWN: t->plan_y -= step; break;
    default: plan_zoom(t, 0); return;
    }
    if (step <= 0)
        tui_say(t, "all of the plate is shown; + makes it larger");
}

static void to_form(struct tui *t)
{
    t->zoomed = false;
    if (t->swap == SWAP_PLAN)
        t->focus = PANE_PLAN;
    else {
        t->swap = SWAP_FORM;
        t->focus = PANE_SWAP;
    }
}

const struct pane_ops plan_pane = {PLACE_PLAN, plan_draw, plan_move, to_form};

/* ---- section ---- */

/* The first sentence of the caution, where all of it has no room. */
static void draw_caution(struct tui *t, struct area a)
{
    const char *caution = report_caution();
    size_t n = strlen(caution), skip;
    if (paint_width(caution) > a.w - 2)
        n = strcspn(caution, ".");
    if ((int)n > a.w - 2)
        n = paint_wrap(caution, a.w - 2, &skip);
    paint_format(&t->p, a, a.h - 1, 1, INK_DIM, "%.*s", (int)n, caution);
}

static void section_draw(struct tui *t, struct area a, bool focus)
{
    struct view_options o = tui_view(t);
    struct view_canvas c;
    char ram[60], title[120], right[60] = "";
    if (a.h < 3)
        return;
    view_canvas_init(&c, a.w, a.h - 2);
    double scale = view_section(t->d, t->ram, &o, &c);
    struct area picture = {a.y + 1, a.x, a.h - 2, a.w};
    unit_print(t->ram, UNIT_LENGTH, dieset_system(t->d), ram, sizeof ram);
    snprintf(title, sizeof title, "section, ram %s above shut", ram);
    if (scale > 0)
        snprintf(right, sizeof right, "%g mm/row", scale);
    tui_head(t, a, focus, title, right);
    paint_canvas(&t->p, picture, &c, 0);
    draw_caution(t, a);
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
        if (events[i].broken || (by > 0 ? events[i].at <= t->ram + 1e-6 : events[i].at >= t->ram - 1e-6))
            continue;
        if (best < 0 || (by > 0 ? events[i].at < events[best].at : events[i].at > events[best].at))
            best = i;
    }
    if (best < 0)
        return;
    char at[60];
    t->ram = events[best].at;
    tui_say(t, "%s, %s above shut", events[best].title, unit_print(t->ram, UNIT_LENGTH, dieset_system(t->d), at, sizeof at));
}

static void section_move(struct tui *t, enum move m)
{
    switch (m) {
    case MOVE_UP: t->ram += 1; break;
    case MOVE_DOWN: t->ram -= 1; break;
    case MOVE_PAGE_UP: to_event(t, 1); break;
    case MOVE_PAGE_DOWN: to_event(t, -1); break;
    case MOVE_FIRST: {
        struct formula_value v = dieset_get(t->d, "press.stroke", t->state);
        t->ram = v.error ? t->ram : v.number;
        break;
    }
    case MOVE_LAST: t->ram = 0; break;
    default: break;
    }
    if (t->ram < 0)
        t->ram = 0;
}

const struct pane_ops section_pane = {PLACE_SECTION, section_draw, section_move, to_form};
