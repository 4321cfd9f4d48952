/* The drawing of one plate. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* mm of paper round the plan: figures and heading left, above, right and below it; the foot of the sheet. */
static const double LEFT = 36, RIGHT = 12, ABOVE = 12, FIGURES = 30, HEADING = 14, FOOT = 44;

struct work {
    struct dieset *d;
    struct report_chart chart;
    struct dieset_plate plate;
    struct sheet_view plan, section;
    struct sheet_page *page;
    const struct sheet_title *title;
    double cut;
};

static int order_of(struct dieset *d, enum dieset_state s, int plate)
{
    struct dieset_layer list[64];
    int n = dieset_stack(d, s, list, COUNT_OF(list));
    for (int i = 0; i < n; i++)
        if (list[i].plate == plate)
            return i + 1;
    return 0;
}

/* ---- views ------------------------------------------------------------------------------ */

static void plan(struct work *w)
{
    struct draw_sheet *s = w->page->s;
    double right = sheet_at_x(&w->plan, w->plate.right), back = sheet_at_y(&w->plan, w->plate.back);
    char scale[16];
    char *heading = base_format("%s seen from above, %s", w->page->title,
                                sheet_scale_text(w->page->scale, scale, sizeof scale));
    draw_words(s, w->plan.x, back + 5, SHEET_HEADING, DRAW_LEFT, 0, heading);
    free(heading);
    draw_rectangle(s, DRAW_WIDE, w->plan.x, w->plan.y, right, back);
    for (int i = 0; i < w->chart.n; i++)
        sheet_plan_hole(s, &w->plan, &w->chart.at[i].hole, w->chart.thickness);
}

/* Thick ends of the cutting plane, arrows the way one looks: to the back. */
static void cut_ends(struct work *w)
{
    struct draw_sheet *s = w->page->s;
    double y = sheet_at_y(&w->plan, w->cut), right = sheet_at_x(&w->plan, w->plate.right);
    draw_line(s, DRAW_CENTRE, w->plan.x, y, right, y);
    for (int end = 0; end < 2; end++) {
        double x = end ? right : w->plan.x, way = end ? 1 : -1, at = x + way * 7;
        draw_line(s, DRAW_FRAME, x + way * 1, y, at, y);
        draw_line(s, DRAW_NARROW, at, y, at, y + 4);
        draw_line(s, DRAW_NARROW, at, y + 4, at - 0.5, y + 2);
        draw_line(s, DRAW_NARROW, at, y + 4, at + 0.5, y + 2);
        draw_blank(s, at - 2, y + 4.5, at + 2, y + 5.5 + SHEET_HEADING);
        draw_words(s, at, y + 5, SHEET_HEADING, DRAW_MIDDLE, 0, "A");
    }
}

/* Places of holes, and the plate's edges, as they are read from the datum. */
static bool dimensions(struct work *w, bool along_x)
{
    const struct report_chart *c = &w->chart;
    struct sheet_dim *at = base_alloc((size_t)(c->n + 3) * sizeof *at);
    double edges[] = {along_x ? w->plate.left : w->plate.front, along_x ? w->plate.right : w->plate.back,
                      along_x ? c->from.x : c->from.y};
    int n = 0, way = along_x ? c->from.way_x : c->from.way_y;
    for (int i = 0; i < c->n + 3; i++) {
        double place = i < 3 ? edges[i] : along_x ? c->at[i - 3].hole.x : c->at[i - 3].hole.y;
        if (isfinite(place))
            at[n++] = (struct sheet_dim){along_x ? sheet_at_x(&w->plan, place) : sheet_at_y(&w->plan, place),
                                         (place - (along_x ? c->from.x : c->from.y)) * way};
    }
    const struct draw_sheet *s = w->page->s;
    bool done = along_x ? sheet_dims_x(w->page->s, w->d, at, n, w->plan.y, SHEET_LEFT + 3,
                                       s->width - SHEET_EDGE - SHEET_COLUMN - 2)
                        : sheet_dims_y(w->page->s, w->d, at, n, w->plan.x, w->plan.y - FIGURES + 6,
                                       s->height - SHEET_EDGE - 4);
    free(at);
    return done;
}

static void datum(struct work *w)
{
    struct draw_sheet *s = w->page->s;
    double x = sheet_at_x(&w->plan, w->chart.from.x), y = sheet_at_y(&w->plan, w->chart.from.y);
    draw_circle(s, DRAW_NARROW, x, y, 1.5);
    sheet_label(s, x, y, 3, "datum", NULL, 0);
}

static void section(struct work *w)
{
    char y[40], scale[16];
    double place = (w->cut - w->chart.from.y) * w->chart.from.way_y;
    unit_print_number(place, UNIT_LENGTH, dieset_system(w->d), y, sizeof y);
    char *heading = base_format("A \u2013 A, %s, at y %s",
                                sheet_scale_text(w->page->scale, scale, sizeof scale), y);
    draw_words(w->page->s, w->section.x, w->section.y + w->chart.thickness * w->section.scale + 7,
               SHEET_HEADING, DRAW_LEFT, 0, heading);
    free(heading);
    sheet_section(w->page->s, &w->section, &w->chart, w->cut, w->plate.length);
}

/* ---- tables ----------------------------------------------------------------------------------- */

static void letters(struct sheet_flow *f, const struct report_chart *c)
{
    sheet_flow_heading(f, "What each letter is", c->letters < 4 ? c->letters : 4);
    sheet_flow_row(f, (struct sheet_cell[]){{"", 9, false}, {"pcs", 9, true}, {"machining", 70, false}}, 3);
    for (int i = 0; i < c->letters; i++) {
        struct base_text words = {0};
        char name[8], count[16];
        report_machining(c, i, &words);
        snprintf(count, sizeof count, "%d", report_letter_places(c, i));
        sheet_flow_row(f,
                       (struct sheet_cell[]){{report_letter(i, name, sizeof name), 9, false},
                                             {count, 9, true},
                                             {base_text_get(&words), 70, false}},
                       3);
        base_text_done(&words);
    }
}

/* The first rows of places in the order of their marks. */
static const struct report_place **by_mark(const struct report_chart *c, int *n)
{
    const struct report_place **out = base_alloc((size_t)c->n * sizeof *out + 1);
    *n = 0;
    for (int letter = 0; letter < c->letters; letter++)
        for (int i = 0; i < c->n; i++)
            if (c->at[i].first && c->at[i].letter == letter)
                out[(*n)++] = &c->at[i];
    return out;
}

struct place_words { char mark[16], x[40], y[40]; };

static void place_words(const struct report_chart *c, const struct report_place *p, struct place_words *out)
{
    *out = (struct place_words){.x = "?", .y = "?"};
    if (!p) {
        out->x[0] = out->y[0] = '\0';
        return;
    }
    report_mark(p, out->mark, sizeof out->mark);
    if (isfinite(p->x))
        unit_print_number(p->x, UNIT_LENGTH, dieset_system(c->d), out->x, sizeof out->x);
    if (isfinite(p->y))
        unit_print_number(p->y, UNIT_LENGTH, dieset_system(c->d), out->y, sizeof out->y);
}

/* Two places in a row, read down the row's left half and then its right one. */
static void places(struct sheet_flow *f, const struct report_chart *c)
{
    int n;
    const struct report_place **list = by_mark(c, &n);
    char *heading = base_format("Holes (%s from the datum)",
                                unit_display(UNIT_LENGTH, dieset_system(c->d)).name);
    sheet_flow_heading(f, heading, n < 12 ? n / 2 : 6);
    static const struct sheet_cell head[] = {{"hole", 12, false}, {"X", 16, true}, {"Y", 16, true},
                                             {"hole", 12, false}, {"X", 16, true}, {"Y", 16, true}};
    sheet_flow_row(f, head, 6);
    int half = (n + 1) / 2;
    for (int i = 0; i < half; i++) {
        struct place_words a, b;
        place_words(c, list[i], &a);
        place_words(c, half + i < n ? list[half + i] : NULL, &b);
        sheet_flow_row(f,
                       (struct sheet_cell[]){{a.mark, 12, false},
                                             {a.x, 16, true},
                                             {a.y, 16, true},
                                             {b.mark, 12, false},
                                             {b.x, 16, true},
                                             {b.y, 16, true}},
                       6);
    }
    free(heading);
    free(list);
}

static void note(struct sheet_flow *f, const char *fmt, ...) PRINTF_LIKE(2, 3);
static void note(struct sheet_flow *f, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    char *text = base_format_args(fmt, args);
    va_end(args);
    sheet_flow_words(f, 3, text);
    free(text);
}

static void size_note(struct sheet_flow *f, const struct work *w)
{
    const double sizes[] = {w->plate.length, w->plate.width, w->chart.thickness};
    struct base_text t = {0};
    char mass[40];
    for (size_t i = 0; i < COUNT_OF(sizes); i++) {
        base_text_add(&t, i ? " x " : "");
        unit_print_number(sizes[i], UNIT_LENGTH, dieset_system(w->d), mass, sizeof mass);
        base_text_add(&t, mass);
    }
    base_text_addf(&t, " %s", unit_display(UNIT_LENGTH, dieset_system(w->d)).name);
    double kg = dieset_number(w->d, w->chart.plate, "mass", w->chart.state);
    if (isfinite(kg))
        base_text_addf(&t, ", mass %s before its holes are made",
                       unit_print(kg, UNIT_MASS, dieset_system(w->d), mass, sizeof mass));
    note(f, "Size %s.", base_text_get(&t));
    base_text_done(&t);
}

/* " (usual)" behind what nobody has typed. */
static const char *usual(const struct work *w, int item, const char *entry)
{
    return item >= 0 && dieset_entry(w->d, item, entry) ? "" : " (usual)";
}

/* PROPERTY of the plate as a length with SAYS before it; nothing where the handbook has none. */
static void limit_note(struct sheet_flow *f, const struct work *w, const char *property, const char *says)
{
    char text[40];
    double mm = dieset_number(w->d, w->chart.plate, property, w->chart.state);
    if (isfinite(mm))
        note(f, "%s %s%s.", says, unit_print(mm, UNIT_LENGTH, dieset_system(w->d), text, sizeof text),
             usual(w, w->chart.plate, property));
}

static void text_note(struct sheet_flow *f, const struct work *w, const char *property, const char *says)
{
    int job = dieset_item_of_kind(w->d, DIESET_JOB);
    const char *text = job < 0 ? "" : dieset_text(w->d, job, property);
    if (*text)
        note(f, "%s %s%s.", says, text, usual(w, job, property));
}

/* Letter by letter: what a screw's play allows is another figure for each size. */
static void screw_note(struct sheet_flow *f, const struct work *w)
{
    struct base_text t = {0};
    for (int letter = 0; letter < w->chart.letters; letter++) {
        char text[40], name[16];
        double least = NAN;
        for (int i = 0; i < w->chart.n; i++)
            if (w->chart.at[i].letter == letter)
                least = fmin(least, report_screw_share(&w->chart, &w->chart.at[i].hole));
        if (least > 0)
            base_text_addf(&t, "%s%s \u00b1%s", t.length ? ", " : "",
                           report_letter(letter, name, sizeof name),
                           unit_print(least, UNIT_LENGTH, dieset_system(w->d), text, sizeof text));
    }
    if (t.length)
        note(f, "Places of screws' holes from the datum: %s, or a screw may not enter.", base_text_get(&t));
    base_text_done(&t);
}

static void limit_notes(struct sheet_flow *f, const struct work *w)
{
    limit_note(f, w, "deviation_thickness", "Thickness \u00b1");
    limit_note(f, w, "parallel", "Both faces parallel within");
    limit_note(f, w, "deviation_openings", "Die openings and seats cut by wire \u00b1");
    limit_note(f, w, "deviation_places",
               "Places of reamed, bored, ground and wire-cut holes from the datum \u00b1");
    screw_note(f, w);
    text_note(f, w, "surface_ground", "Both faces ground,");
    text_note(f, w, "surface_else", "Other surfaces");
    text_note(f, w, "edges", "Edges");
}

/* The wall of the first opening that is relieved, half of it and not to scale: how deep it is straight, and
 * by how much it leans from there on. All of a plate are alike. */
static void land_detail(struct sheet_flow *f, const struct work *w)
{
    static const double WALL = 34, TALL = 24, LAND = 8, LEANS = 5, NEED = 38;
    const struct report_place *e = NULL;
    char land[40], relief[40];
    for (int i = 0; i < w->chart.n && !e; i++)
        if (w->chart.at[i].hole.relief > 0)
            e = &w->chart.at[i];
    if (!e)
        return;
    sheet_room(f, NEED);
    struct draw_sheet *s = f->page->s;
    double x = f->x + WALL, top = f->y - 10, low = top - TALL, at = top - LAND;
    struct unit_system u = dieset_system(w->d);
    draw_words(s, f->x, f->y - 6, SHEET_HEADING, DRAW_LEFT, SHEET_COLUMN - 4,
               "Land and relief, half an opening, not to scale");
    draw_hatch(s, &(struct draw_box){f->x + 4, x - LEANS, low, top}, NULL, 0, 4);
    draw_line(s, DRAW_WIDE, f->x + 4, top, x, top);
    draw_line(s, DRAW_WIDE, x, top, x, at);
    draw_line(s, DRAW_WIDE, x, at, x - LEANS, low);
    draw_line(s, DRAW_WIDE, x - LEANS, low, f->x + 4, low);
    draw_line(s, DRAW_NARROW, x + 1.5, top, x + 8, top);
    draw_line(s, DRAW_NARROW, x + 1.5, at, x + 8, at);
    draw_line(s, DRAW_NARROW, x + 6, top, x + 6, at);
    draw_line(s, DRAW_NARROW, x, at - 1.5, x, low);
    char *words = base_format("land %s", unit_print(e->hole.land, UNIT_LENGTH, u, land, sizeof land)),
         *leans = base_format("relief %s a side",
                              unit_print(e->hole.relief, UNIT_ANGLE, u, relief, sizeof relief));
    draw_words(s, x + 10, (top + at) / 2 - 1, SHEET_LETTERS, DRAW_LEFT, SHEET_COLUMN - WALL - 14, words);
    draw_words(s, x + 4, (at + low) / 2 - 1, SHEET_LETTERS, DRAW_LEFT, SHEET_COLUMN - WALL - 8, leans);
    free(leans);
    free(words);
    f->y -= NEED;
}

static void notes(struct sheet_flow *f, const struct work *w, bool dims)
{
    const char *material = dieset_text(w->d, w->chart.plate, "material"),
               *hardness = dieset_text(w->d, w->chart.plate, "hardness");
    int job = dieset_item_of_kind(w->d, DIESET_JOB);
    const char *class = job < 0 ? "" : dieset_text(w->d, job, "tolerances");
    sheet_flow_heading(f, "Notes", 4);
    if (*material)
        note(f, "Material %s%s%s.", material, *hardness ? ", " : "", hardness);
    else
        note(f, "Material not told.");
    size_note(f, w);
    limit_notes(f, w);
    if (w->chart.state == DIESET_GROUND)
        note(f, "Drawn as it is when fully ground.");
    note(f, "The datum is %s; right, back and above are as seen here.", w->chart.from.name);
    if (!dims)
        note(f, "Running dimensions do not go in here: the table of holes has all places.");
    note(f, "Dashed: from below. Depths are from the face that a hole is made from.");
    if (*class && strcmp(class, "not told") != 0)
        note(f, "Sizes without limits: ISO 2768-1 %s%s.", class, usual(w, job, "tolerances"));
    else
        note(f, "Sizes without limits: no class is told for them.");
}

/* ---- the sheet ----------------------------------------------------------------------------------- */

static enum base_err start(struct work *w, struct sheet_page *page, struct base_diag *why)
{
    const struct dieset_plate *p = &w->plate;
    if (!isfinite(p->length + p->width + w->chart.thickness + p->left + p->front))
        return base_fail(
            why, BASE_REFUSED,
            "%s cannot be drawn while its length, width, thickness or place is unknown; check tells why.",
            dieset_item_name(w->d, w->chart.plate));
    if (!sheet_choose(w->d, SHEET_ANY, p->length, p->width + w->chart.thickness, LEFT + RIGHT + SHEET_COLUMN,
                      ABOVE + FIGURES + HEADING + FOOT, &page->size, &page->scale))
        return base_fail(why, BASE_REFUSED, "%s is too large for the largest sheet at the smallest scale.",
                         dieset_item_name(w->d, w->chart.plate));
    return BASE_OK;
}

static void lay_out(struct work *w)
{
    double scale = w->page->scale, foot = SHEET_EDGE + FOOT;
    w->section = (struct sheet_view){SHEET_LEFT + LEFT, foot, scale, w->plate.left, 0};
    double thick = w->chart.thickness * scale;
    /* what the sheet has to spare stands above and below the section alike */
    double spare = w->page->size->height - SHEET_EDGE - ABOVE - w->plate.width * scale - FIGURES - HEADING -
                   thick - foot;
    w->section.y += fmax(0, spare) / 3;
    w->plan = (struct sheet_view){SHEET_LEFT + LEFT,
                                  w->page->size->height - SHEET_EDGE - ABOVE - w->plate.width * scale, scale,
                                  w->plate.left, w->plate.front};
}

static void fill(struct work *w, struct sheet_book *out)
{
    struct sheet_page *page = w->page;
    sheet_begin(out, page);
    lay_out(w);
    plan(w);
    bool dims = dimensions(w, true);
    dims = dimensions(w, false) && dims;
    cut_ends(w);
    section(w);
    datum(w);
    sheet_plan_marks(page->s, &w->plan, &w->chart, w->cut);
    sheet_stack(page->s, w->d, w->chart.state, w->chart.plate, SHEET_LEFT + 3, SHEET_EDGE + 3, 104, 38);
    sheet_foot(page->s, w->d, w->title, page->size->width - SHEET_EDGE - SHEET_BLOCK_WIDE - 104,
               SHEET_EDGE + 3);
    struct sheet_flow f = sheet_flow_beside(out, page);
    f.free = sheet_at_x(&w->plan, w->plate.right) + RIGHT;
    letters(&f, &w->chart);
    land_detail(&f, w);
    notes(&f, w, dims);
    places(&f, &w->chart);
}

enum base_err sheet_plate(struct dieset *d, int plate, enum dieset_state s, const char *from,
                          const struct sheet_title *t, struct sheet_book *out, struct base_diag *why)
{
    struct report_datum at;
    struct work w = {.d = d, .plate = dieset_plate(d, plate, s), .title = t};
    *out = (struct sheet_book){0};
    enum base_err err = report_datum_named(d, plate, s, from, &at, why);
    if (err)
        return err;
    struct sheet_page page = {.title = dieset_item_title(d, plate), .kind = "part drawing", .item = plate};
    snprintf(page.number, sizeof page.number, "%.40s-%02d", t->number, order_of(d, s, plate));
    report_chart_make(d, plate, s, &at, &w.chart);
    w.page = &page;
    w.cut = sheet_cut_line(&w.chart, w.plate.middle_y);
    err = start(&w, &page, why);
    if (!err) {
        fill(&w, out);
        sheet_title_blocks(out, &page, d, t);
    }
    report_chart_done(&w.chart);
    return err;
}
