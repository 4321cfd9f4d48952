/* tui/laying/draw.c - the picture of a placing
 *
 *     die plate 315 x 200 from above   8 mm/col 16 mm/row
 *     plan, as it would be           | what is laid, where it stands, lines it may stand on, walls, findings
 */

#include "tui/laying/placing.h"

#include "tui/found.h"
#include "tui/plan.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- the head ---- */

static void size_of(const struct tui *t, int plate, char *buf, size_t size)
{
    char length[40], width[40];
    struct unit_system s = dieset_system(t->d);
    struct dieset_plate p = dieset_plate(t->d, plate, t->state);
    unit_print_number(p.length, UNIT_LENGTH, s, length, sizeof length);
    unit_print_number(p.width, UNIT_LENGTH, s, width, sizeof width);
    snprintf(buf, size, "%s x %s", length, width);
}

static void draw_head(struct tui *t, struct area a, double scale)
{
    char size[90], column[40], row[40];
    struct unit_system s = dieset_system(t->d);
    size_of(t, t->plan->shown, size, sizeof size);
    view_scale_text(scale, s, column, sizeof column);
    view_scale_text(scale * t->cell_ratio, s, row, sizeof row);
    paint_format(&t->p, a, 0, 1, INK_PLAIN, "%s %s from %s   %s/col %s/row",
                 dieset_item_title(t->d, t->plan->shown), size, t->plan->from_below ? "below" : "above",
                 column, row);
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
    buf[0] = '\0';
    if (n > 1)
        snprintf(buf, size, ", %d of %d", at, n);
}

static int draw_what(struct tui *t, const struct placing *p, struct area a)
{
    struct dieset_point at;
    char text[120] = "", name[80];
    int item = place_item(&p->l), plate = place_plate(&p->l), number;
    const struct handbook_pattern *pattern = place_has(&p->l);
    if (item >= 0)
        place_of_kind(t, item, text, sizeof text);
    point_words(p->l.item, name, sizeof name);
    paint_format(&t->p, a, 0, 1, INK_STRONG, "laying %s%s", item >= 0 ? dieset_item_title(t->d, item) : name,
                 text);
    if (pattern && plate >= 0)
        paint_format(&t->p, a, 1, 1, INK_PLAIN, "%s on %s", pattern->title, dieset_item_title(t->d, plate));
    if (!place_point(&p->l, &at, &number))
        return 2;
    point_words(at.name, name, sizeof name);
    snprintf(text, sizeof text, "%s, %s%s", name, p->l.alone ? "alone" : "with its group",
             at.freed ? ", freed" : "");
    paint_text(&t->p, a, 2, 1, INK_PLAIN, text);
    if (fabs(at.turn) <= 1e-9)
        return 3;
    int end = 1 + paint_width(text), y = 2;
    snprintf(text, sizeof text, "%g deg", round(at.turn * 90 / acos(0) * 1e6) / 1e6);
    if (SECOND_END - paint_width(text) <= end) /* a long name: the turn stands below it */
        paint_text(&t->p, a, ++y, 1, INK_PLAIN, "turned");
    paint_right(&t->p, a, y, SECOND_END, INK_PLAIN, text);
    return y + 1;
}

static void draw_pair(struct tui *t, struct area a, int y, const char *first, double one, const char *second,
                      double two)
{
    char text[60];
    paint_text(&t->p, a, y, 1, INK_PLAIN, first);
    paint_right(&t->p, a, y, FIRST_END, INK_PLAIN,
                unit_print_number(one, UNIT_LENGTH, dieset_system(t->d), text, sizeof text));
    paint_text(&t->p, a, y, SECOND, INK_PLAIN, second);
    paint_right(&t->p, a, y, SECOND_END, INK_PLAIN,
                unit_print_number(two, UNIT_LENGTH, dieset_system(t->d), text, sizeof text));
}

/* Where the point stands on the plate shown. */
static int draw_distances(struct tui *t, const struct placing *p, struct area a, int y)
{
    struct dieset_point at;
    int plate = t->plan->shown;
    if (!place_point(&p->l, &at, NULL) || at.broken)
        return y;
    struct dieset_plate e = dieset_plate(t->d, plate, t->state);
    draw_pair(t, a, y, "along", at.x, "across", at.y);
    draw_pair(t, a, y + 1, "left", at.x - e.left, "front", at.y - e.front);
    draw_pair(t, a, y + 2, "right", e.right - at.x, "back", e.back - at.y);
    draw_pair(t, a, y + 3, "centre", at.x - (e.left + e.right) / 2, "centre",
              at.y - (e.front + e.back) / 2);
    return y + 4;
}

/* What is typed for it: the pattern's own measures, or the way from the point's place in the group, or from
   an edge. */
static int draw_measures(struct tui *t, const struct placing *p, struct area a, int y)
{
    for (int axis = PLACE_ALONG; place_has(&p->l) && axis <= PLACE_ACROSS; axis++) {
        const struct place_way *w = &p->l.ways[axis];
        char text[60], title[80];
        if (!w->moves) {
            paint_format(&t->p, a, y++, 1, INK_DIM, "%s: the pattern holds it", axis ? "across" : "along");
            continue;
        }
        place_from_words(&p->l, axis, w->from, title, sizeof title);
        unit_print_number(place_measured(&p->l, axis, w->from), UNIT_LENGTH, dieset_system(t->d), text,
                          sizeof text);
        struct area left = {a.y, a.x, a.h, SECOND_END - paint_width(text) - 1};
        paint_text(&t->p, left, y, 1, INK_PLAIN, title);
        paint_right(&t->p, a, y++, SECOND_END, INK_STRONG, text);
        if (w->formula && w->from == PLACE_FROM_OWN && fabs(w->at - w->start) > 1e-6)
            paint_format(&t->p, a, y++, 1, INK_DIM, "  over %s", w->formula);
    }
    return y;
}

static void line_words(const struct tui *t, const struct place_line *n, int axis, char *buf, size_t size)
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
    for (int axis = PLACE_ALONG; axis <= PLACE_ACROSS; axis++) {
        char words[100];
        const struct place_line *hint = &p->near.hint[axis], *on = &p->near.on[axis];
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

/* "  s 15.5", or "  s cut by 2.0" where one hole cuts into the other. */
static int draw_wall(struct tui *t, struct area a, int y, int x, const struct place_wall *w)
{
    char text[60];
    unit_print_number(fabs(w->wall), UNIT_LENGTH, dieset_system(t->d), text, sizeof text);
    return paint_format(&t->p, a, y, x, w->wall < 0 ? INK_TROUBLE : INK_PLAIN, "  %c %s%s", w->letter,
                        w->wall < 0 ? "cut by " : "", text);
}

static int draw_walls(struct tui *t, const struct placing *p, struct area a, int y)
{
    int x = paint_text(&t->p, a, y, 1, INK_PLAIN, "walls");
    if (p->near.n_walls == 0)
        paint_text(&t->p, a, y, x, INK_DIM, "  none at its depth");
    for (int i = 0; i < p->near.n_walls; i++)
        x = draw_wall(t, a, y, x, &p->near.walls[i]);
    const struct place_wall *w = &p->near.other;
    if (w->plate < 0)
        return y + 1;
    x = draw_wall(t, a, y + 1, 1, w);
    paint_format(&t->p, a, y + 1, x, w->wall < 0 ? INK_TROUBLE : INK_PLAIN, " in %s",
                 dieset_item_title(t->d, w->plate));
    return y + 2;
}

static int draw_finding(struct tui *t, struct area a, int y, char sign, const struct finding *f)
{
    char text[1200];
    const char *state = states_text(f->states);
    snprintf(text, sizeof text, "%s: %s%s%s", f->title, state, *state ? ": " : "", f->message);
    paint_format(&t->p, a, y, 1, INK_STRONG, "%c%s", sign, findings_mark(f));
    return tui_paragraph(t, a, y, 5, INK_PLAIN, text);
}

/* What comes and goes with it, down to the end of the column. */
static void draw_outcome(struct tui *t, const struct placing *p, struct area a, int y)
{
    if (p->l.refused) {
        tui_paragraph(t, a, y, 1, INK_TROUBLE, p->l.why.message);
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

/* ---- all of it ---- */

/* Whose letters stand out: the group's, or in a plate that it does not reach, those of what stands with
   it. */
static int seen_item(const struct tui *t, int laid)
{
    int first = 0, n = dieset_plate_holes(t->d, t->plan->shown, &first), with = laid;
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(t->d, i, t->state, &h);
        if (h.item == laid)
            return laid;
        if (place_owner(t->d, h.item) == laid)
            with = h.item;
    }
    return with;
}

static void draw_legend(struct tui *t)
{
    struct base_text text = {0};
    view_legend(t->d, t->plan->shown, &text);
    paint_text(&t->p, t->at.message, 0, 1, INK_DIM, base_text_get(&text));
    base_text_done(&text);
}

static int column_of(struct area a) { return a.w * 3 / 10 < 37 ? 37 : a.w * 3 / 10 > 60 ? 60 : a.w * 3 / 10; }

struct area placing_picture(const struct tui *t)
{
    struct area a = t->at.body;
    return (struct area){a.y + 1, a.x, a.h - 1, a.w - column_of(a) - 1};
}

void placing_draw(struct tui *t, struct level *level)
{
    struct placing *p = (struct placing *)level;
    struct area a = t->at.body;
    int column = column_of(a), row, at;
    struct area picture = placing_picture(t), side = {a.y + 1, a.x + a.w - column, a.h - 1, column};
    struct dieset_point grabbed = {.x = NAN, .y = NAN};
    int number = -1;
    if (t->plan->shown < 0)
        return;
    bool there = place_point(&p->l, &grabbed, &number);
    struct view_options o = plan_options(t);
    o.item = seen_item(t, place_item(&p->l));
    o.point = p->l.alone ? number : -1;
    double scale = plan_picture(t, picture, &o, grabbed.x, grabbed.y, &row, &at);
    t->plan->follow = false;
    placing_look_about(t, p, scale);
    draw_head(t, a, scale);
    paint_bar(&t->p, side.x - 1, side.y, side.h, INK_DIM);
    draw_column(t, p, side);
    draw_legend(t);
    if (there && row >= 0)
        tui_cursor(t, picture, row, at);
    else
        tui_cursor(t, side, 0, 0);
}
