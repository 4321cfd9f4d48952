/* Hole charts: the places of a plate with what is made at each.
 *
 * Depths are from the face that the hole is made from; an empty depth means right through. Under a hole
 * that has an outline stand its sides, in order, each as the place where it ends. Rows go by letter, then
 * by figure; what a letter stands for is told once, above them.
 */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- rows --------------------------------------------------------------------------- */

static void put_depth(struct report_paper *p, const struct report_chart *c, const struct dieset_hole *h)
{
    words_length(p, c->d, h->through ? NAN : words_depth(c, h));
    if (h->through)
        report_text(p, "through");
    else
        words_length(p, c->d, words_depth(c, h));
}

/* A hole has a fit or a thread, so the text form shows them in one column. */
static void put_fit(struct report_paper *p, const struct report_chart *c, const struct dieset_hole *h)
{
    struct base_text t = {0};
    report_text(p, h->fit);
    report_text(p, h->thread);
    base_text_add(&t, h->thread);
    if (*h->thread && h->thread_depth > 0) {
        base_text_add(&t, " ");
        words_number(c->d, h->thread_depth, &t);
        base_text_add(&t, " deep");
    }
    if (*h->fit) {
        base_text_add(&t, *h->thread ? ", " : "");
        words_fit(c->d, h->fit, words_round(h) ? h->diameter : NAN, &t);
    }
    report_text(p, base_text_get(&t));
    base_text_done(&t);
}

/* What every row of a place begins with. */
static void put_place(const struct report_chart *c, const struct report_place *e, double x, double y,
                      struct report_paper *p)
{
    char mark[16];
    report_text(p, dieset_item_name(c->d, c->plate));
    report_number(p, e->number, 0);
    report_text(p, report_mark(e, mark, sizeof mark));
    report_text(p, dieset_item_name(c->d, e->hole.item));
    report_text(p, dieset_item_title(c->d, e->hole.item));
    words_length(p, c->d, x);
    words_length(p, c->d, y);
}

/* The columns of data alone. */
static void put_data(const struct report_chart *c, const struct report_place *e, struct report_paper *p)
{
    const struct dieset_hole *h = &e->hole;
    struct base_text on = {0}, with = {0};
    char mark[16];
    double lower = NAN, upper = NAN;
    report_text(p, report_mark(e, mark, sizeof mark));
    if (*h->fit && words_round(h) && report_limits(c->d, h->fit, h->diameter, &lower, &upper)) {
        lower += h->diameter;
        upper += h->diameter;
    }
    words_length(p, c->d, lower);
    words_length(p, c->d, upper);
    words_other_plates(c, h, false, &on);
    words_other_plates(c, h, true, &with);
    report_text(p, base_text_get(&on));
    report_text(p, base_text_get(&with));
    report_text(p, words_hardening(c, h));
    base_text_done(&on);
    base_text_done(&with);
    double degree = unit_display(UNIT_ANGLE, dieset_system(c->d)).factor;
    words_length(p, c->d, h->length > 0 ? h->length : NAN);
    words_length(p, c->d, h->length > 0 ? h->width : NAN);
    words_length(p, c->d, h->length > 0 ? h->corner : NAN);
    report_number(p, words_round(h) ? NAN : h->turn / degree, 3);
    words_length(p, c->d, h->relief > 0 ? h->land : NAN);
    report_number(p, h->relief > 0 ? h->relief / degree : NAN, 3);
    words_length(p, c->d, *h->thread ? (h->thread_depth > 0 ? h->thread_depth : words_depth(c, h)) : NAN);
}

static void hole_row(const struct report_chart *c, const struct report_place *e, struct report_paper *p)
{
    struct base_text words = {0};
    words_operation(c, &e->hole, &words);
    put_place(c, e, e->x, e->y, p);
    report_text(p, e->hole.from_top ? "top" : "bottom");
    report_text(p, base_text_get(&words));
    words_length(p, c->d, words_round(&e->hole) ? e->hole.diameter : NAN);
    put_depth(p, c, &e->hole);
    put_fit(p, c, &e->hole);
    put_data(c, e, p);
    base_text_done(&words);
}

/* "to", or "arc 5.0 left to": seen along it, as it is told from the chart's corner. */
static char *side_words(const struct report_chart *c, const struct shape_side *s)
{
    struct base_text t = {0};
    if (s->radius > 0) {
        base_text_add(&t, "arc ");
        words_number(c->d, s->radius, &t);
        base_text_add(&t, s->way * c->from.way_x * c->from.way_y > 0 ? " left" : " right");
        base_text_add(&t, s->sweep > 3.14159265358979323846 * (1 + 1e-9) ? ", long, to" : " to");
    } else {
        base_text_add(&t, "line to");
    }
    return base_text_take(&t);
}

/* A row of an outline: a place, and how one gets there. */
static void side_row(const struct report_chart *c, const struct report_place *e, double x, double y,
                     const char *words, struct report_paper *p)
{
    put_place(c, e, (e->hole.x + x - c->from.x) * c->from.way_x, (e->hole.y + y - c->from.y) * c->from.way_y,
              p);
    report_text(p, "");
    report_text(p, words);
    words_length(p, c->d, NAN);
    words_length(p, c->d, NAN);
    for (int i = 0; i < 3; i++)
        report_text(p, "");
    report_text(p, words);
    put_data(c, e, p);
}

static void outline_rows(const struct report_chart *c, const struct report_place *e, struct report_paper *p)
{
    if (!words_by_outline(&e->hole))
        return;
    if (e->hole.n_sides)
        side_row(c, e, e->hole.sides[0].x0, e->hole.sides[0].y0, "from", p);
    for (int i = 0; i < e->hole.n_sides; i++) {
        char *words = side_words(c, &e->hole.sides[i]);
        side_row(c, e, e->hole.sides[i].x1, e->hole.sides[i].y1, words, p);
        free(words);
    }
}

/* ---- heads ------------------------------------------------------------------------------ */

static void head(const struct report_chart *c, struct report_paper *p)
{
    struct dieset_plate plate = dieset_plate(c->d, c->plate, c->state);
    const double sizes[] = {plate.length, plate.width, plate.thickness};
    struct base_text t = {0};
    for (size_t i = 0; i < COUNT_OF(sizes); i++) {
        base_text_add(&t, i ? " x " : "");
        words_number(c->d, sizes[i], &t);
    }
    base_text_addf(&t, " %s", unit_display(UNIT_LENGTH, dieset_system(c->d)).name);
    static const char *const words[] = {"material", "hardness"};
    for (size_t i = 0; i < COUNT_OF(words); i++) {
        const char *word = dieset_text(c->d, c->plate, words[i]);
        base_text_addf(&t, "%s%s", *word ? ", " : "", word);
    }
    report_line_within(p, "%s: %s%s", dieset_item_title(c->d, c->plate), base_text_get(&t),
                       c->state == DIESET_GROUND ? ", as it is when fully ground" : "");
    report_line_within(p, "x and y from %s", c->from.name);
    base_text_done(&t);
}

/* Above the places, what each letter stands for. */
static void put_letters(const struct report_chart *c, struct report_paper *p)
{
    for (int i = 0; i < c->letters; i++) {
        struct base_text words = {0};
        char letter[8];
        report_machining(c, i, &words);
        report_line_within(p, "%s  %d x %s", report_letter(i, letter, sizeof letter),
                           report_letter_places(c, i), base_text_get(&words));
        base_text_done(&words);
    }
}

static void chart_rows(const struct report_chart *c, struct report_paper *p)
{
    const struct report_place **rows = words_by_mark(c);
    for (int i = 0; i < c->n; i++) {
        hole_row(c, rows[i], p);
        outline_rows(c, rows[i], p);
    }
    free(rows);
}

static enum base_err chart(struct dieset *d, int plate, enum dieset_state s, const char *from,
                           struct report_paper *p, struct base_diag *why)
{
    struct report_chart c;
    struct report_datum datum;
    enum base_err err = report_datum_named(d, plate, s, from, &datum, why);
    if (err)
        return err;
    report_chart_make(d, plate, s, &datum, &c);
    head(&c, p);
    put_letters(&c, p);
    chart_rows(&c, p);
    report_chart_done(&c);
    return BASE_OK;
}

static enum base_err all_charts(struct dieset *d, enum dieset_state s, const char *from,
                                struct report_paper *p, struct base_diag *why)
{
    struct dieset_layer layers[64];
    int n = dieset_stack(d, s, layers, COUNT_OF(layers)), charted = 0;
    for (int i = 0; i < n; i++)
        charted += chart(d, layers[i].plate, s, from, p, why) == BASE_OK;
    if (n && !charted)
        return BASE_REFUSED;
    for (int i = 0; charted < n && i < n; i++) {
        struct report_datum datum;
        if (report_datum_named(d, layers[i].plate, s, from, &datum, NULL))
            (void)!chart(d, layers[i].plate, s, NULL, p, NULL);
    }
    return BASE_OK;
}

enum base_err report_holes(struct dieset *d, int plate, enum dieset_state s, const char *from,
                           struct report_paper *p, struct base_diag *why)
{
    const struct report_column columns[] = {
        {"plate", NULL, false},     {"hole", NULL, true},       {NULL, "hole", false},
        {"group", NULL, false},     {NULL, "group", false},     {"x", "x", true},           {"y", "y", true},
        {"face", "face", false},    {"operation", NULL, false}, {"diameter", "dia", true},
        {"depth", NULL, true},      {NULL, "depth", true},      {"fit", NULL, false},
        {"thread", NULL, false},    {NULL, "thread or fit", false}, {"mark", NULL, false},
        {"lower", NULL, true}, {"upper", NULL, true}, {"goes_on", NULL, false}, {"together", NULL, false},
        {"hardening", NULL, false}, {"length", NULL, true}, {"width", NULL, true}, {"corner", NULL, true},
        {"turn", NULL, true}, {"land", NULL, true}, {"relief", NULL, true}, {"thread_depth", NULL, true},
    };
    report_begin(p, columns, COUNT_OF(columns));
    enum base_err err = plate >= 0 ? chart(d, plate, s, from, p, why) : all_charts(d, s, from, p, why);
    if (err) {
        report_done(p);
        return err;
    }
    report_line_above(p, "x and y in %s, seen from above; depths from the face named",
                      unit_display(UNIT_LENGTH, dieset_system(d)).name);
    words_elsewhere(p, d);
    return BASE_OK;
}
