/* The drawing of the strip: station by station as the tools find it, and the part that comes of it, flat
 * and in section. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double LEFT = 36, RIGHT = 12, ABOVE = 16, FIGURES = 26, HEADING = 14, FOOT = 44, ROWS = 40,
                    NAME_ROW = 4;
static const double STEP = 0.4, BESIDE = 0.03; /* mm of the strip: along a line, and to either side of it */

struct strip_work {
    struct dieset *d;
    struct dieset_strip strip;
    double pitch, way, from, to; /* drawn from its place in the plan to its place */
    struct dieset_station *stations;
    int n_stations;
    struct sheet_page *page;
    struct sheet_view view, part_view;
    struct draw_box part, found;     /* in the plan; empty: none is found */
    BASE_VEC(struct sheet_dim) x, y; /* of the part */
    bool of_part, measuring;         /* MEASURING: nothing is drawn, PART is the box of what would be */
};

/* ---- what is where ---------------------------------------------------------------------- */

enum place { NOTHING, METAL, CUT, PART };

static enum place at(const struct strip_work *w, double x, double y)
{
    int item;
    switch (dieset_strip_at(w->d, x, y, &item)) {
    case DIESET_WHOLE:
        return METAL;
    case DIESET_LOOSE:
        return PART;
    case DIESET_CUT:
        return strcmp(dieset_text(w->d, item, "does"), "blank") == 0 ? PART : CUT;
    default:
        return NOTHING;
    }
}

/* The pen between two places, DRAW_PENS: nothing is drawn there. */
static enum draw_pen pen_between(const struct strip_work *w, enum place a, enum place b)
{
    if (w->of_part)
        return (a == PART) != (b == PART) ? DRAW_WIDE : DRAW_PENS;
    if (a == b)
        return DRAW_PENS;
    if (a == NOTHING || b == NOTHING)
        return a == CUT || b == CUT ? DRAW_FINE : DRAW_NARROW;
    return DRAW_WIDE; /* cut here */
}

/* Is anything of a line across the strip part? */
static bool part_across(const struct strip_work *w, double x)
{
    enum { LINES = 40 };
    for (int k = 0; k < LINES; k++)
        if (at(w, x, w->strip.width * ((k + 0.5) / LINES - 0.5)) == PART)
            return true;
    return false;
}

/* Where along the strip the first part begins and ends, the way that the strip runs; false: there is none. */
static bool first_part(const struct strip_work *w, double *begin, double *end)
{
    const double look = 0.25, from = w->way > 0 ? w->from : w->to, most = w->to - w->from + 3 * w->pitch;
    double by = 0;
    while (by < most && !part_across(w, from + w->way * by))
        by += look;
    *begin = from + w->way * (by - look);
    while (by < most && part_across(w, from + w->way * by))
        by += look;
    *end = from + w->way * by;
    return by < most;
}

static bool has_part(const struct strip_work *w) { return w->part.left < w->part.right; }

/* ---- lines ---------------------------------------------------------------------- */

/* A part of a side, from the share FROM of it to the share TO. */
static void draw_piece(const struct strip_work *w, enum draw_pen pen, const struct shape_side *s, double by,
                       double from, double to)
{
    const struct sheet_view *v = w->of_part ? &w->part_view : &w->view;
    struct draw_sheet *sheet = w->page->s;
    if (w->measuring)
        return;
    if (s->radius > 0) {
        double start = atan2(s->y0 - s->cy, s->x0 - s->cx), turn = s->sweep * (s->way > 0 ? 1 : -1);
        draw_arc(sheet, pen, sheet_at_x(v, s->cx + by), sheet_at_y(v, s->cy), s->radius * v->scale,
                 start + from * turn, (to - from) * turn);
    } else {
        double dx = s->x1 - s->x0, dy = s->y1 - s->y0;
        draw_line(sheet, pen, sheet_at_x(v, s->x0 + by + from * dx), sheet_at_y(v, s->y0 + from * dy),
                  sheet_at_x(v, s->x0 + by + to * dx), sheet_at_y(v, s->y0 + to * dy));
    }
}

/* The place of a share of a side, and the way that is square to it. */
static void place_on(const struct shape_side *s, double by, double share, double *x, double *y, double *nx,
                     double *ny)
{
    if (s->radius > 0) {
        double angle = atan2(s->y0 - s->cy, s->x0 - s->cx) + share * s->sweep * (s->way > 0 ? 1 : -1);
        *nx = cos(angle);
        *ny = sin(angle);
        *x = s->cx + s->radius * *nx + by;
        *y = s->cy + s->radius * *ny;
    } else {
        double dx = s->x1 - s->x0, dy = s->y1 - s->y0, long_by = hypot(dx, dy);
        *x = s->x0 + share * dx + by;
        *y = s->y0 + share * dy;
        *nx = -dy / long_by;
        *ny = dx / long_by;
    }
}

static enum draw_pen pen_at(const struct strip_work *w, const struct shape_side *s, double by, double share)
{
    double x, y, nx, ny;
    place_on(s, by, share, &x, &y, &nx, &ny);
    if (w->of_part ? x < w->part.left - BESIDE || x > w->part.right + BESIDE : x < w->from || x > w->to)
        return DRAW_PENS;
    return pen_between(w, at(w, x + BESIDE * nx, y + BESIDE * ny), at(w, x - BESIDE * nx, y - BESIDE * ny));
}

/* Where between two shares of a side, at the first of which PEN draws, it ends to. */
static double change(const struct strip_work *w, const struct shape_side *s, double by, double from,
                     double to, enum draw_pen pen)
{
    for (int i = 0; i < 12; i++) {
        double middle = (from + to) / 2;
        if (pen_at(w, s, by, middle) == pen)
            from = middle;
        else
            to = middle;
    }
    return (from + to) / 2;
}

static void measure(struct draw_box *box, const struct shape_side *s, double by, double from, double to)
{
    enum { PLACES = 64 };
    for (int i = 0; i <= PLACES; i++) {
        double x, y, nx, ny;
        place_on(s, by, from + (to - from) * i / PLACES, &x, &y, &nx, &ny);
        *box = (struct draw_box){fmin(box->left, x), fmax(box->right, x), fmin(box->front, y),
                                 fmax(box->back, y)};
    }
}

/* What of a side, shifted BY along the strip, parts two kinds of places. True: something of it does. */
static bool trace(struct strip_work *w, const struct shape_side *s, double by, struct draw_box *box)
{
    double long_by = s->radius > 0 ? s->radius * fabs(s->sweep) : hypot(s->x1 - s->x0, s->y1 - s->y0),
           begun = 0;
    int n = (int)ceil(long_by / STEP);
    enum draw_pen pen = DRAW_PENS;
    bool any = false;
    for (int i = 0; i <= n && long_by > 1e-6; i++) {
        enum draw_pen here = i < n ? pen_at(w, s, by, (i + 0.5) / n) : DRAW_PENS;
        if (here == pen)
            continue;
        double end = i == 0 ? 0 : i == n ? 1 : change(w, s, by, (i - 0.5) / n, (i + 0.5) / n, pen);
        if (pen != DRAW_PENS) {
            draw_piece(w, pen, s, by, begun, end);
            measure(box, s, by, begun, end);
            any = true;
        }
        pen = here;
        begun = end;
    }
    return any;
}

static const struct draw_box nowhere = {INFINITY, -INFINITY, INFINITY, -INFINITY};

/* Places of the part that a line has to do with are dimensioned: its middle. */
static void note_place(struct strip_work *w, double x, double y)
{
    if (x < w->part.left || x > w->part.right || y < w->part.front || y > w->part.back)
        return;
    base_vec_push(&w->x, ((struct sheet_dim){sheet_at_x(&w->part_view, x), x - w->part.left}));
    base_vec_push(&w->y, ((struct sheet_dim){sheet_at_y(&w->part_view, y), y - w->part.front}));
}

static void cut_line(void *arg, int item, const struct shape_side *sides, int n)
{
    struct strip_work *w = arg;
    struct shape_box whole = shape_box(sides, n);
    (void)item;
    for (double by = 0; fabs(by) < w->to - w->from + 4 * w->pitch; by += w->way * w->pitch) {
        struct draw_box box = nowhere;
        for (int i = 0; i < n && !base_give_up(); i++)
            trace(w, &sides[i], by, &box);
        if (w->measuring)
            w->found = (struct draw_box){fmin(w->found.left, box.left), fmax(w->found.right, box.right),
                                         fmin(w->found.front, box.front), fmax(w->found.back, box.back)};
        else if (w->of_part && box.left <= box.right)
            note_place(w, (whole.left + whole.right) / 2 + by, (whole.front + whole.back) / 2);
    }
}

/* Bends, legs and forms, dashed, from their station on. */
static void formed_line(void *arg, int item, const struct shape_side *sides, int n)
{
    struct strip_work *w = arg;
    struct shape_box b = shape_box(sides, n);
    (void)item;
    for (double by = 0; fabs(by) < w->to - w->from + 4 * w->pitch; by += w->way * w->pitch) {
        double x = (b.left + b.right) / 2 + by, y = (b.front + b.back) / 2;
        enum place here = at(w, x, y);
        bool outside = w->of_part ? x < w->part.left || x > w->part.right || here != PART
                                  : x < w->from || x > w->to || here == NOTHING;
        if (outside)
            continue;
        for (int i = 0; i < n && !base_give_up(); i++)
            draw_piece(w, DRAW_HIDDEN, &sides[i], by, 0, 1);
    }
}

/* A round form, from its station on. */
static void formed_round(struct strip_work *w, const struct dieset_hole *p)
{
    const struct sheet_view *v = w->of_part ? &w->part_view : &w->view;
    for (double by = 0; fabs(by) < w->to - w->from + 4 * w->pitch; by += w->way * w->pitch) {
        double x = p->x + by;
        enum place here = at(w, x, p->y);
        bool outside = w->of_part ? x < w->part.left || x > w->part.right || here != PART
                                  : x < w->from || x > w->to || here == NOTHING;
        if (outside)
            continue;
        draw_circle(w->page->s, DRAW_HIDDEN, sheet_at_x(v, x), sheet_at_y(v, p->y),
                    p->diameter / 2 * v->scale);
        if (w->of_part)
            note_place(w, x, p->y);
    }
}

/* Pilots, and punches that press: where they meet the strip. */
static void bodies(struct strip_work *w)
{
    for (int i = 0; i < dieset_body_count(w->d); i++) {
        struct dieset_body b;
        dieset_body(w->d, i, DIESET_NEW, &b);
        const struct dieset_hole *p = &b.plan;
        bool pilot = strcmp(p->operation, "pilot") == 0,
             form = strcmp(dieset_text(w->d, p->item, "does"), "form") == 0;
        double x = sheet_at_x(&w->view, p->x), y = sheet_at_y(&w->view, p->y),
               r = p->diameter / 2 * w->view.scale;
        if (!b.known || (!pilot && !form) || p->length > 0 || p->n_sides)
            continue;
        if (form)
            formed_round(w, p);
        if (form || w->of_part)
            continue;
        draw_circle(w->page->s, DRAW_NARROW, x, y, r);
        for (int k = 0; k < 2; k++)
            draw_line(w->page->s, DRAW_CENTRE, x - (k ? 0 : r + 1.5), y - (k ? r + 1.5 : 0),
                      x + (k ? 0 : r + 1.5), y + (k ? r + 1.5 : 0));
    }
}

static void edges(struct strip_work *w)
{
    for (int way = -1; way < 2; way += 2) {
        double y = way * w->strip.width / 2, beyond = w->of_part ? 4 * w->pitch : 0;
        struct shape_side s = shape_straight(w->from - beyond, y, w->to + beyond, y);
        trace(w, &s, 0, &w->found);
    }
}

static void metal(struct strip_work *w, bool of_part)
{
    w->of_part = of_part;
    dieset_strip_lines(w->d, false, cut_line, w);
    edges(w);
    if (w->measuring)
        return;
    dieset_strip_lines(w->d, true, formed_line, w);
    bodies(w);
}

/* The first part's box: what outlines it within a pitch of where it begins. */
static void find_part(struct strip_work *w)
{
    double begin, end;
    w->part = w->found = nowhere;
    if (!first_part(w, &begin, &end))
        return;
    w->part.left = fmin(begin, end);
    w->part.right = fmax(begin, end);
    w->measuring = true;
    metal(w, true);
    w->measuring = false;
    w->part = w->found;
}

/* ---- words ---------------------------------------------------------------------- */

static void station_names(struct strip_work *w)
{
    struct draw_sheet *s = w->page->s;
    double top = sheet_at_y(&w->view, w->strip.width / 2), low = sheet_at_y(&w->view, -w->strip.width / 2),
           most = w->pitch * w->view.scale - 1;
    struct sheet_dim *dims = base_alloc((size_t)w->n_stations * sizeof *dims + 1);
    int n = 0, row = 0;
    for (int i = 0; i < w->n_stations; i++) {
        const struct dieset_station *t = &w->stations[i];
        char number[12];
        double x = sheet_at_x(&w->view, t->x);
        bool first = i == 0 || t->number != t[-1].number;
        row = first ? 0 : row + 1;
        if (!t->number)
            continue;
        if (first) {
            snprintf(number, sizeof number, "%d", t->number);
            draw_words(s, x, top + 3, SHEET_HEADING, DRAW_MIDDLE, 0, number);
            draw_line(s, DRAW_CENTRE, x, low - 3, x, top + 2);
            dims[n++] = (struct sheet_dim){x, fabs(t->x - w->stations[0].x)};
        }
        draw_words(s, x, low - FIGURES - 4 - row * NAME_ROW, SHEET_LETTERS, DRAW_MIDDLE, most,
                   t->item < 0 ? "idle" : dieset_item_title(w->d, t->item));
    }
    sheet_dims_x(s, w->d, dims, n, low - 3, SHEET_LEFT + 3, s->width - SHEET_EDGE - SHEET_COLUMN);
    struct sheet_dim across[] = {{low, 0}, {top, w->strip.width}};
    sheet_dims_y(s, w->d, across, 2, sheet_at_x(&w->view, w->from), low - 12, top + 12);
    free(dims);
}

static void part_figures(struct strip_work *w)
{
    const struct draw_box *b = &w->part;
    const struct sheet_view *v = &w->part_view;
    const struct sheet_dim x[] = {{sheet_at_x(v, b->left), 0}, {sheet_at_x(v, b->right), b->right - b->left}},
                           y[] = {{sheet_at_y(v, b->front), 0}, {sheet_at_y(v, b->back), b->back - b->front}};
    for (int i = 0; i < 2; i++) {
        base_vec_push(&w->x, x[i]);
        base_vec_push(&w->y, y[i]);
    }
    struct draw_sheet *s = w->page->s;
    sheet_dims_x(s, w->d, w->x.at, (int)w->x.count, sheet_at_y(v, b->front), SHEET_LEFT + 3,
                 s->width - SHEET_EDGE - SHEET_COLUMN);
    sheet_dims_y(s, w->d, w->y.at, (int)w->y.count, sheet_at_x(v, b->left), sheet_at_y(v, b->front) - 12,
                 sheet_at_y(v, b->back) + 12);
}

/* Beside the flat part, the one across the feed first; what has no room there is left out. */
static void sections(struct strip_work *w)
{
    static const double gap = 40;
    const struct draw_box *b = &w->part;
    const struct sheet_view *v = &w->part_view;
    const struct shape_box part = {b->left, b->right, b->front, b->back};
    double left = sheet_at_x(v, b->right) + gap,
           middle = (sheet_at_y(v, b->front) + sheet_at_y(v, b->back)) / 2,
           most = w->page->s->width - SHEET_EDGE - SHEET_COLUMN,
           ceiling = w->view.y - FIGURES - HEADING - ROWS;
    for (int along = 0; along < 2; along++) {
        struct dieset_bent bent[DIESET_BENT_MOST];
        int n = dieset_part_profile(w->d, &part, !along, bent);
        struct draw_box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
        for (int i = 0; i < n; i++)
            box = (struct draw_box){fmin(box.left, bent[i].off), fmax(box.right, bent[i].off),
                                    fmin(box.front, bent[i].high), fmax(box.back, bent[i].high)};
        double wide = fmax((box.right - box.left) * v->scale, 60), high = (box.back - box.front) * v->scale,
               low = fmax(middle - high / 2, SHEET_EDGE + FOOT);
        if (n == 0 || left + wide > most || low + high > ceiling)
            continue;
        struct sheet_view at = {left, low, v->scale, box.left, box.front};
        sheet_metal(w->page->s, &at, bent, n, w->strip.thickness, DRAW_WIDE);
        draw_words(w->page->s, left, low + high + 5, SHEET_HEADING, DRAW_LEFT, 0,
                   along ? "In section along the feed, from left"
                         : "In section across the feed, from the front");
        left += wide + gap;
    }
}

/* The table of stations, by the columns of the list that has it. */
static void table(struct sheet_flow *f, struct dieset *d)
{
    static const struct {
        const char *column, *heading;
        double wide;
        bool right;
    } shown[] = {{"station", "no", 8, true},
                 {"item", "name", 28, false},
                 {"does", "does", 14, false},
                 {"points", "of", 8, true},
                 {"size", "size", 30, false}};
    struct sheet_cell cells[COUNT_OF(shown)];
    struct report_paper p;
    report_stations(d, &p);
    sheet_flow_heading(f, "Stations", 3);
    for (int row = -1; row < report_rows(&p); row++) {
        char words[COUNT_OF(shown)][60];
        for (size_t i = 0; i < COUNT_OF(shown); i++) {
            int column = 0;
            while (column + 1 < p.n_columns &&
                   (!p.columns[column].name || strcmp(p.columns[column].name, shown[i].column) != 0))
                column++;
            char buf[60];
            const char *text = row < 0 ? shown[i].heading
                                       : report_cell_words(&p, row, column, buf, sizeof buf);
            cells[i] = (struct sheet_cell){text, shown[i].wide, shown[i].right};
            snprintf(words[i], sizeof words[i], "%s", cells[i].text ? cells[i].text : "");
            for (char *c = words[i]; *c; c++)
                *c = *c == '_' ? ' ' : *c;
            cells[i].text = words[i];
        }
        sheet_flow_row(f, cells, COUNT_OF(shown));
    }
    report_done(&p);
}

static const char *fed(const struct strip_work *w) { return w->way > 0 ? "to the right" : "to the left"; }

static void notes(struct sheet_flow *f, struct strip_work *w)
{
    char width[40], thick[40], pitch[40];
    struct unit_system u = dieset_system(w->d);
    sheet_flow_heading(f, "Notes", 3);
    char *strip = base_format("Strip %s, %s x %s, pitch %s, fed %s.",
                              dieset_text(w->d, w->strip.item, "material"),
                              unit_print(w->strip.thickness, UNIT_LENGTH, u, thick, sizeof thick),
                              unit_print(w->strip.width, UNIT_LENGTH, u, width, sizeof width),
                              unit_print(w->pitch, UNIT_LENGTH, u, pitch, sizeof pitch), fed(w));
    const char *const lines[] = {
        strip,
        "Seen from above, as the tools find it when they come down. Wide lines: cut there. Narrow: cut "
        "before. "
        "Dashed: bent or formed there. Circles with a cross: pilots.",
        has_part(w)
            ? "The part is drawn flat and in section, as the tools leave it; its own drawing has its limits."
            : "Nothing comes loose of the strip but slugs: there is no part to draw.",
        "Running dimensions are from the first station, and of the part from its left front corner."};
    for (size_t i = 0; i < COUNT_OF(lines); i++)
        sheet_flow_words(f, 3, lines[i]);
    free(strip);
}

/* ---- the sheet ---------------------------------------------------------------------- */

static enum base_err find(struct strip_work *w, struct base_diag *why)
{
    w->strip = dieset_strip(w->d, DIESET_NEW, 0);
    int item = dieset_item_of_kind(w->d, DIESET_STRIP), room = dieset_item_count(w->d) + DIESET_MOST_STATIONS;
    w->pitch = item < 0 ? NAN : dieset_number(w->d, item, "pitch", DIESET_NEW);
    w->way = item < 0 ? 1 : dieset_number(w->d, item, "way", DIESET_NEW);
    w->stations = base_alloc((size_t)room * sizeof *w->stations);
    w->n_stations = dieset_stations(w->d, w->stations, room);
    w->from = INFINITY;
    w->to = -INFINITY;
    for (int i = 0; i < w->n_stations; i++)
        if (w->stations[i].number) {
            w->from = fmin(w->from, w->stations[i].x - (w->way > 0 ? 1 : 1.5) * w->pitch);
            w->to = fmax(w->to, w->stations[i].x + (w->way > 0 ? 1.5 : 1) * w->pitch);
        }
    if (!(w->pitch > 0 && fabs(w->way) == 1 && w->strip.width > 0 && w->from < w->to &&
          w->to - w->from < 1e5))
        return base_fail(why, BASE_REFUSED,
                         "The strip cannot be drawn: its width, its pitch or the numbers of its stations are "
                         "not known.");
    find_part(w);
    return BASE_OK;
}

static enum base_err draw(struct strip_work *w, struct sheet_book *out, struct base_diag *why)
{
    struct sheet_page *page = w->page;
    double part_high = has_part(w) ? w->part.back - w->part.front : 0;
    if (!sheet_choose(w->d, SHEET_ANY, w->to - w->from, w->strip.width + part_high,
                      LEFT + RIGHT + SHEET_COLUMN, ABOVE + 2 * FIGURES + 2 * HEADING + ROWS + FOOT,
                      &page->size, &page->scale))
        return base_fail(why, BASE_REFUSED,
                         "The strip is too long for the largest sheet at the smallest scale.");
    char scale[16];
    sheet_begin(out, page);
    double top = page->size->height - SHEET_EDGE - ABOVE - w->strip.width * page->scale;
    w->view = (struct sheet_view){SHEET_LEFT + LEFT, top, page->scale, w->from, -w->strip.width / 2};
    w->part_view = (struct sheet_view){SHEET_LEFT + LEFT, SHEET_EDGE + FOOT + FIGURES, page->scale,
                                       w->part.left, w->part.front};
    char *heading = base_format("The strip from above, fed %s, %s", fed(w),
                                sheet_scale_text(page->scale, scale, sizeof scale));
    draw_words(page->s, w->view.x, page->size->height - SHEET_EDGE - 7, SHEET_HEADING, DRAW_LEFT, 0, heading);
    free(heading);
    metal(w, false);
    station_names(w);
    if (has_part(w)) {
        draw_words(page->s, w->part_view.x, sheet_at_y(&w->part_view, w->part.back) + 5, SHEET_HEADING,
                   DRAW_LEFT, 0, "The part, flat");
        metal(w, true);
        part_figures(w);
        sections(w);
    }
    return base_give_up() ? base_fail_given_up(why) : BASE_OK;
}

enum base_err sheet_strip(struct dieset *d, const struct sheet_title *t, struct sheet_book *out,
                          struct base_diag *why)
{
    struct sheet_page page = {.title = "strip and part", .kind = "strip drawing", .item = -1};
    struct strip_work w = {.d = d, .page = &page};
    *out = (struct sheet_book){0};
    snprintf(page.number, sizeof page.number, "%.40s-strip", t->number);
    enum base_err err = find(&w, why);
    err = err ? err : draw(&w, out, why);
    if (!err) {
        sheet_foot(page.s, d, t, SHEET_LEFT + 5, SHEET_EDGE + 3);
        struct sheet_flow f = sheet_flow_beside(out, &page);
        table(&f, d);
        notes(&f, &w);
        sheet_title_blocks(out, &page, d, t);
    } else {
        sheet_done(out);
    }
    free(w.stations);
    base_vec_done(&w.x);
    base_vec_done(&w.y);
    return err;
}
