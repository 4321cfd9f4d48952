/* The strip seen from above, station by station: what is gone, what is cut here, what remains, what is loose;
 * pilots and lifters, what is formed, the stations' numbers and names. */

#include "view/frame.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 400, ABOVE = 2 }; /* stations; rows over the strip: the numbers, and a free one */

struct drawn {
    struct dieset *d;
    const struct view_options *o;
    struct view_canvas *c;
    double pitch, width, column_mm, row_mm;
    double left, back; /* the plan's X at the canvas' left edge, its Y at the upper edge of the metal */
    int above, rows;   /* ABOVE: rows over the metal */
    bool part;         /* what comes off the strip alone */
    struct dieset_station stations[MOST];
    int n, first, last;
};

static double of_strip(struct dieset *d, const char *property)
{
    return dieset_number(d, dieset_item_of_kind(d, DIESET_STRIP), property, DIESET_NEW);
}

static int column_of(const struct drawn *s, double x) { return (int)floor((x - s->left) / s->column_mm); }
static int row_of(const struct drawn *s, double y)
{
    return s->above + (int)floor((s->back - y) / s->row_mm);
}

/* ---- metal -------------------------------------------------------------------------------------------- */

static bool goes_up(const struct drawn *s, int item)
{
    return strcmp(dieset_text(s->d, item, "goes"), "up") == 0;
}

/* What is formed in a cell, looked for on both lines through its middle; a bend before all else. */
static const char *formed_in(const struct drawn *s, double x, double y, int *item)
{
    enum { PLACES = 4 };
    const char *found = NULL;
    for (int i = 0; i < 2 * PLACES; i++) {
        int at;
        double off = (i % PLACES + 0.5) / PLACES - 0.5;
        const char *what = i < PLACES ? dieset_formed_at(s->d, x, y + off * s->row_mm, &at)
                                      : dieset_formed_at(s->d, x + off * s->column_mm, y, &at);
        if (what && (!found || strcmp(what, HANDBOOK_FOLD_BEND) == 0)) {
            found = what;
            *item = at;
        }
    }
    return found;
}

/* Bends as dashed lines the way that they are long, all else by the way that it points. */
static void draw_formed(const struct drawn *s, int column, int row)
{
    int item, beside;
    double x = s->left + (column + 0.5) * s->column_mm, y = s->back - (row + 0.5) * s->row_mm;
    const char *what = formed_in(s, x, y, &item);
    if (!what)
        return;
    const char *next = formed_in(s, x + s->column_mm, y, &beside),
               *before = formed_in(s, x - s->column_mm, y, &beside);
    bool along = (next && strcmp(next, what) == 0) || (before && strcmp(before, what) == 0);
    uint32_t ch = strcmp(what, HANDBOOK_FOLD_BEND) != 0 ? goes_up(s, item) ? '^' : 'v' : along ? '-' : '|';
    canvas_letter(s->c, column, row + s->above, ch, item, item == s->o->item);
}

/* Of so many places in a cell, how many are what; ITEM: of what is cut there. */
struct seen {
    int of[DIESET_METALS];
    int item;
};

static void look(const struct drawn *s, int column, int row, struct seen *out)
{
    enum { PLACES = 4 };
    *out = (struct seen){.item = -1};
    for (int i = 0; i < PLACES * PLACES; i++) {
        int item;
        double x = s->left + (column + (i % PLACES + 0.5) / PLACES) * s->column_mm,
               y = s->back - (row + ((int)(i / PLACES) + 0.5) / PLACES) * s->row_mm;
        out->of[dieset_strip_at(s->d, x, y, &item)]++;
        out->item = item >= 0 ? item : out->item;
    }
}

static bool is_blank(struct dieset *d, int item)
{
    return item >= 0 && strcmp(dieset_text(d, item, "does"), "blank") == 0;
}

static void draw_cell(const struct drawn *s, int column, int row)
{
    enum { QUARTER = 4, HALF = 8 }; /* of the places in a cell */
    const struct glyphs *g = frame_glyphs(s->o->ascii);
    struct seen at;
    look(s, column, row, &at);
    if (s->part) {
        at.of[DIESET_WHOLE] = at.of[DIESET_LOOSE] + (is_blank(s->d, at.item) ? at.of[DIESET_CUT] : 0);
        at.of[DIESET_NO_STRIP] = 2 * (HALF - at.of[DIESET_WHOLE]);
        at.of[DIESET_CUT] = at.of[DIESET_GONE] = at.of[DIESET_LOOSE] = 0;
    }
    if (at.of[DIESET_CUT] >= QUARTER) {
        canvas_letter(s->c, column, row + s->above, '#', at.item, at.item == s->o->item);
        return;
    }
    bool none = at.of[DIESET_NO_STRIP] > HALF || at.of[DIESET_GONE] >= QUARTER;
    if (!none)
        view_put(s->c, column, row + s->above, at.of[DIESET_LOOSE] > HALF ? g->other_metal : g->metal,
                 at.of[DIESET_LOOSE] > HALF ? VIEW_LINE : VIEW_METAL);
    if (!none)
        draw_formed(s, column, row);
}

/* ---- what stands in the stations ----------------------------------------------------------------------- */

static bool in_sight(const struct drawn *s, double x)
{
    return column_of(s, x) >= 0 && column_of(s, x) < s->c->width;
}

static void put_points(const struct drawn *s, int item, uint32_t ch)
{
    for (int p = 0; p < dieset_point_count(s->d, item); p++) {
        struct dieset_point at;
        dieset_point(s->d, item, p, &at);
        if (!at.broken && in_sight(s, at.x))
            canvas_letter(s->c, column_of(s, at.x), row_of(s, at.y), ch, item, item == s->o->item);
    }
}

/* Pilots and lifters by the letters of their kinds; what a station forms. */
static void draw_standing(const struct drawn *s)
{
    for (int i = 0; i < dieset_item_count(s->d); i++) {
        int list[1], kind = dieset_item_kind(s->d, i);
        if (kind >= 0 && dieset_station_list(s->d, i, list, 1) >= 0)
            put_points(s, i, (uint32_t)letter_small(handbook_kind(dieset_handbook(s->d), kind)->letter));
    }
    for (int i = 0; i < s->n; i++) {
        int item = s->stations[i].item;
        if (item >= 0 && !dieset_cuts_strip(s->d, item) && !dieset_has_folds(s->d, item) &&
            strcmp(dieset_text(s->d, item, "does"), "idle") != 0)
            put_points(s, item, '~');
    }
}

/* ---- numbers and names --------------------------------------------------------------------------------- */

static void put_middle(const struct drawn *s, double x, int row, const char *text, int room,
                       enum view_role role)
{
    char *cut = base_copy_n(text, strlen(text) < (size_t)room ? strlen(text) : (size_t)room);
    view_text(s->c, column_of(s, x) - (int)strlen(cut) / 2, row, cut, role);
    free(cut);
}

/* Does the item at the cursor work in the station? */
static bool is_at_cursor(const struct drawn *s, int number)
{
    for (int i = 0; i < s->n; i++)
        if (s->stations[i].number == number && s->stations[i].item == s->o->item)
            return s->o->item >= 0;
    return false;
}

static void draw_names(const struct drawn *s)
{
    int room = (int)(s->pitch / s->column_mm) - 1, row = 0, before = -1;
    double way = of_strip(s->d, "way");
    for (int i = 0; i < s->n; i++) {
        const struct dieset_station *at = &s->stations[i];
        char number[16];
        if (at->number < s->first || at->number > s->last)
            continue;
        snprintf(number, sizeof number, is_at_cursor(s, at->number) ? ">%d<" : "%d", at->number);
        row = at->number == before ? row + 1 : 0;
        before = at->number;
        put_middle(s, at->x, 0, number, room, VIEW_NAME);
        put_middle(s, at->x, s->above + s->rows + 1 + row,
                   at->item < 0 ? "idle" : dieset_item_name(s->d, at->item), room,
                   at->item >= 0 && at->item == s->o->item ? VIEW_CURSOR : VIEW_NAME);
    }
    view_text(s->c, way > 0 ? 0 : s->c->width - 6, 0, way > 0 ? "feed >" : "< feed", VIEW_PLAIN);
}

/* ---- all of it ----------------------------------------------------------------------------------------- */

enum { BELOW = 8 }; /* rows for the names */

static bool measure(struct drawn *s)
{
    double low = INFINITY, high = -INFINITY;
    s->n = dieset_stations(s->d, s->stations, MOST);
    for (int i = 0; i < s->n; i++)
        if (s->stations[i].number >= s->first && s->stations[i].number <= s->last) {
            low = fmin(low, s->stations[i].x);
            high = fmax(high, s->stations[i].x);
        }
    if (!(s->pitch > 0) || !(s->width > 0) || !isfinite(low) || !isfinite(high))
        return false;
    double wide = high - low + 2 * s->pitch, ratio = cell_ratio(s->o);
    int tall = s->c->height - ABOVE - BELOW;
    /* nothing is measured in it: as large as there is room, on no round scale */
    s->column_mm = fmax(wide / s->c->width, s->width / ratio / (tall > 2 ? tall : 2));
    s->row_mm = s->column_mm * ratio;
    s->rows = (int)ceil(s->width / s->row_mm - 1e-9);
    s->left = (low + high) / 2 - s->c->width / 2.0 * s->column_mm;
    s->above = ABOVE;
    s->back = s->rows * s->row_mm / 2;
    return true;
}

double view_strip(struct dieset *d, int first, int last, const struct view_options *o, struct view_canvas *c)
{
    struct drawn s = {.d = d,
                      .o = o,
                      .c = c,
                      .first = first,
                      .last = last,
                      .pitch = of_strip(d, "pitch"),
                      .width = of_strip(d, "width")};
    if (!measure(&s))
        return 0;
    for (int row = 0; row < s.rows; row++)
        for (int column = 0; column < c->width; column++)
            draw_cell(&s, column, row);
    draw_standing(&s);
    draw_names(&s);
    return s.column_mm;
}

/* What the letters in the pictures stand for. */
static void add_letters(struct dieset *d, struct base_text *out)
{
    for (int k = 0; k < handbook_kind_count(dieset_handbook(d)); k++) {
        const struct handbook_kind *kind = handbook_kind(dieset_handbook(d), k);
        bool stands = false;
        for (int i = 0; i < dieset_item_count(d); i++)
            stands = stands || (dieset_item_kind(d, i) == k && dieset_point_count(d, i) > 0 &&
                                dieset_station_list(d, i, NULL, 0) >= 0);
        if (stands)
            base_text_addf(out, "  %c %s", letter_small(kind->letter), kind->title);
    }
}

void view_strip_bands(struct dieset *d, const struct view_options *o, int width, struct base_text *out)
{
    enum { TALLEST = 40, LEAST_COLUMNS = 10 };
    int last = (int)of_strip(d, "stations"), most = width / LEAST_COLUMNS - 2, bands;
    most = most < 1 ? 1 : most;
    bands = (last + most - 1) / most;
    most = bands > 1 ? (last + bands - 1) / bands : most;
    for (int first = 1; first <= last; first += most) {
        struct view_canvas canvas;
        view_canvas_init(&canvas, width, TALLEST);
        if (view_strip(d, first, first + most - 1 < last ? first + most - 1 : last, o, &canvas) > 0) {
            view_print(&canvas, out);
            base_text_add(out, "\n");
        }
        view_canvas_done(&canvas);
    }
    const struct glyphs *g = frame_glyphs(o->ascii);
    char whole[8] = "", loose[8] = "";
    base_char_write(whole, g->metal);
    base_char_write(loose, g->other_metal);
    bool folds = false;
    for (int i = 0; i < dieset_item_count(d); i++)
        folds = folds || dieset_has_folds(d, i);
    base_text_addf(out, "# cut here  %s strip  %s parted from it  %s", whole, loose,
                   folds ? "- | bend  v down  ^ up" : "~ formed");
    add_letters(d, out);
    base_text_add(out, "\n");
}

/* ---- the part that comes of it ------------------------------------------------------------------------- */

struct found {
    struct dieset *d;
    struct shape_box box;
};

static void find_blank(void *arg, int item, const struct shape_side *sides, int n)
{
    struct found *f = arg;
    if (is_blank(f->d, item) && !(f->box.left < f->box.right))
        f->box = shape_box(sides, n);
}

/* Where a part lies: the first piece that is parted from the strip, or what is blanked; false: none comes. */
static bool find_part(struct dieset *d, struct shape_box *out)
{
    struct found f = {.d = d};
    if (!dieset_parted_box(d, &f.box))
        dieset_strip_lines(d, false, find_blank, &f);
    *out = f.box;
    return out->left < out->right;
}

enum { PART_TALLEST = 16 };

static void draw_flat(struct dieset *d, const struct view_options *o, const struct shape_box *box,
                      double column_mm, int width, struct base_text *out)
{
    struct view_canvas c;
    double row_mm = column_mm * cell_ratio(o);
    struct drawn s = {.d = d,
                      .o = o,
                      .c = &c,
                      .pitch = of_strip(d, "pitch"),
                      .width = of_strip(d, "width"),
                      .column_mm = column_mm,
                      .row_mm = row_mm,
                      .left = box->left,
                      .back = box->back,
                      .rows = (int)ceil((box->back - box->front) / row_mm - 1e-9),
                      .part = true};
    int columns = (int)ceil((box->right - box->left) / column_mm - 1e-9);
    view_canvas_init(&c, width, s.rows);
    for (int row = 0; row < s.rows; row++)
        for (int column = 0; column < columns; column++)
            draw_cell(&s, column, row);
    view_print(&c, out);
    view_canvas_done(&c);
}

/* The metal between two places, so THICK, as the cells that it lies in. */
static void draw_metal(struct view_canvas *c, uint32_t ch, const struct dieset_bent *a,
                       const struct dieset_bent *b, const struct drawn *s)
{
    enum { ACROSS = 4 };
    double dx = b->off - a->off, dz = b->high - a->high, by = hypot(dx, dz), fine = s->column_mm / 4;
    if (!(by > 0))
        return;
    for (double at = 0; at <= by; at += fine)
        for (int i = 0; i <= ACROSS; i++) {
            double off = s->width * ((double)i / ACROSS - 0.5) * 0.999,
                   x = a->off + dx * at / by - dz / by * off, z = a->high + dz * at / by + dx / by * off;
            view_put(c, column_of(s, x), row_of(s, z), ch, VIEW_METAL);
        }
}

static void draw_profile(struct dieset *d, const struct view_options *o, const struct dieset_bent *at, int n,
                         double column_mm, int width, struct base_text *out)
{
    struct shape_box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    double thick = of_strip(d, "thickness"), row_mm = column_mm * cell_ratio(o);
    for (int i = 0; i < n; i++)
        box = (struct shape_box){fmin(box.left, at[i].off), fmax(box.right, at[i].off),
                                 fmin(box.front, at[i].high), fmax(box.back, at[i].high)};
    struct view_canvas c;
    struct drawn s = {.width = thick,
                      .column_mm = column_mm,
                      .row_mm = row_mm,
                      .left = box.left - thick / 2,
                      .back = box.back + thick / 2 + row_mm / 4};
    view_canvas_init(&c, width, (int)ceil((box.back - box.front + thick) / row_mm) + 1);
    for (int i = 0; i + 1 < n; i++)
        draw_metal(&c, frame_glyphs(o->ascii)->metal, &at[i], &at[i + 1], &s);
    view_print(&c, out);
    view_canvas_done(&c);
}

static void draw_section(struct dieset *d, const struct view_options *o, const struct shape_box *box,
                         bool across, double column_mm, int width, struct base_text *out)
{
    struct dieset_bent bent[DIESET_BENT_MOST];
    int n = dieset_part_profile(d, box, across, bent);
    if (n == 0)
        return;
    base_text_add(out, across ? "\nin section across the feed, from front to back\n\n"
                              : "\nin section along the feed, from left to right\n\n");
    draw_profile(d, o, bent, n, column_mm, width, out);
}

bool view_part(struct dieset *d, const struct view_options *o, int width, struct base_text *out)
{
    struct shape_box box;
    char long_by[40], wide_by[40];
    if (!find_part(d, &box))
        return false;
    double along = box.right - box.left, across = box.back - box.front, ratio = cell_ratio(o);
    double column_mm = fmax(fmax(along, across) / (width < 72 ? width : 72), across / ratio / PART_TALLEST);
    struct unit_system u = dieset_system(d);
    base_text_addf(out, "the part, flat: %s along the feed, %s across\n\n",
                   unit_print(along, UNIT_LENGTH, u, long_by, sizeof long_by),
                   unit_print(across, UNIT_LENGTH, u, wide_by, sizeof wide_by));
    draw_flat(d, o, &box, column_mm, width, out);
    for (int i = 0; i < 2; i++)
        draw_section(d, o, &box, i == 0, column_mm, width, out);
    return true;
}
