/* The plan view of one plate.
 *
 * Drawn from the back to the front: outline, centre lines, strip edges, holes of the plates below, bodies,
 * openings, the rounds of holes, letters. The outline stands on the cells that hold the plate's edges, so
 * that it too is true
 * within half a cell. `owner` remembers the hole that took a cell (its number and 1), which is how two
 * letters in one cell are noticed.
 */

#include "view/frame.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct plan {
    struct dieset *d;
    int plate;
    const struct view_options *o;
    struct view_canvas *c;
    struct frame f;
    const struct glyphs *g;
    struct dieset_plate edges;
    int column_l, column_r, row_t, row_b;      /* the outline's cells */
    int *owner;
};

/* ---- scale and place ---------------------------------------------------------- */

static bool measure(struct plan *p)
{
    const struct dieset_plate *e = &p->edges;
    p->edges = dieset_plate(p->d, p->plate, p->o->state);
    return e->left < e->right && e->front < e->back &&
           isfinite(e->right - e->left) && isfinite(e->back - e->front);
}

static long cells(double mm, double cell_mm) { return lround(mm / cell_mm); }

/* The smallest step at which the outline fits; the coarsest that there is when nothing does. */
static double fitting(const struct plan *p, int width, int height)
{
    double ratio = cell_ratio(p->o), unit = view_scale_unit(dieset_system(p->d)), scale = unit;
    for (;; scale = view_scale_next(scale, 1, unit)) {
        double row = scale * ratio;
        bool fits = cells(p->edges.right, scale) - cells(p->edges.left, scale) + 1 <= width &&
                    cells(p->edges.back, row) - cells(p->edges.front, row) + 1 <= height;
        if (fits || view_scale_next(scale, 1, unit) == scale)
            return scale;
    }
}

static int half(long n) { return (int)floor((double)n / 2); }

/* Fitted, the plate stands at the top, in the middle; with a scale given, the point panned to is in the
   canvas's middle. */
static void place(struct plan *p, int width, int height)
{
    const struct view_options *o = p->o;
    bool fit = !(o->scale > 0);
    double scale = fit ? fitting(p, width, height) : o->scale;
    p->f = (struct frame){.column_mm = scale, .row_mm = scale * cell_ratio(o), .way = o->from_below ? -1 : 1};
    if (fit) {
        long both = cells(p->edges.left, scale) + cells(p->edges.right, scale);
        p->f.column0 = half(width - 1 - p->f.way * both);
        p->f.row0 = (int)cells(p->edges.back, p->f.row_mm);
    } else {
        p->f.column0 = half(width - 1);
        p->f.row0 = half(height - 1);
        p->f.column0 -= frame_column(&p->f, o->pan_x) - p->f.column0;
        p->f.row0 -= frame_row(&p->f, o->pan_y) - p->f.row0;
    }
    int a = frame_column(&p->f, p->edges.left), b = frame_column(&p->f, p->edges.right);
    p->column_l = a < b ? a : b;
    p->column_r = a < b ? b : a;
    p->row_t = frame_row(&p->f, p->edges.back);
    p->row_b = frame_row(&p->f, p->edges.front);
}

static bool begin(struct plan *p, struct dieset *d, int plate, const struct view_options *o, int width,
                  int height)
{
    *p = (struct plan){.d = d, .plate = plate, .o = o, .g = frame_glyphs(o->ascii)};
    if (!measure(p))
        return false;
    place(p, width, height);
    return true;
}

/* ---- lines ---------------------------------------------------------------------- */

static int larger(int a, int b) { return a > b ? a : b; }
static int smaller(int a, int b) { return a < b ? a : b; }

static void outline(const struct plan *p)
{
    const struct glyphs *g = p->g;
    for (int x = larger(p->column_l, 0); x <= smaller(p->column_r, p->c->width - 1); x++) {
        view_put(p->c, x, p->row_t, g->across, VIEW_LINE);
        view_put(p->c, x, p->row_b, g->across, VIEW_LINE);
    }
    for (int y = larger(p->row_t, 0); y <= smaller(p->row_b, p->c->height - 1); y++) {
        view_put(p->c, p->column_l, y, g->down, VIEW_LINE);
        view_put(p->c, p->column_r, y, g->down, VIEW_LINE);
    }
    view_put(p->c, p->column_l, p->row_t, g->left_top, VIEW_LINE);
    view_put(p->c, p->column_r, p->row_t, g->right_top, VIEW_LINE);
    view_put(p->c, p->column_l, p->row_b, g->left_bottom, VIEW_LINE);
    view_put(p->c, p->column_r, p->row_b, g->right_bottom, VIEW_LINE);
}

static bool inside(const struct plan *p, int x, int y)
{
    return x > p->column_l && x < p->column_r && y > p->row_t && y < p->row_b;
}

/* Every second cell of a row, counted from the origin so that both sides look alike. */
static void dashes(const struct plan *p, double height, uint32_t ch)
{
    int y = frame_row(&p->f, height);
    for (int x = larger(p->column_l + 1, 0); x < smaller(p->column_r, p->c->width); x++)
        if ((x - p->f.column0) % 2 == 0 && inside(p, x, y))
            view_put(p->c, x, y, ch, VIEW_LINE);
}

static void centre_lines(const struct plan *p)
{
    double x = p->edges.middle_x, y = p->edges.middle_y;
    if (isfinite(y))
        dashes(p, y, p->g->middle);
    if (!isfinite(x))
        return;
    int column = frame_column(&p->f, x);
    for (int row = larger(p->row_t + 1, 0); row < smaller(p->row_b, p->c->height); row++)
        if (inside(p, column, row))
            view_put(p->c, column, row, p->g->middle, VIEW_LINE);
}

/* Where the strip runs over the plate: on the die plate and on strippers. */
static void strip_edges(const struct plan *p)
{
    struct dieset_strip strip = dieset_strip(p->d, p->o->state, 0);
    if (!p->edges.strip || !isfinite(strip.width))
        return;
    dashes(p, strip.width / 2, p->g->edge);
    dashes(p, -strip.width / 2, p->g->edge);
}

/* ---- holes ---------------------------------------------------------------------- */

static bool drawable(const struct dieset_hole *h) { return isfinite(h->x) && isfinite(h->y); }

/* What a hole is called on this plan: CAPS when it is a head's or a seat's and made from the face one looks
   at. */
static int plan_letter(const struct plan *p, const struct dieset_hole *h)
{
    int letter = h->letter ? h->letter : '+';
    bool facing = h->from_top != p->o->from_below;
    return letter_is_caps(letter) && !facing ? letter_small(letter) : letter;
}

static bool one_axis(const struct dieset_hole *a, const struct dieset_hole *b)
{
    return a->item == b->item && fabs(a->x - b->x) < 1e-6 && fabs(a->y - b->y) < 1e-6;
}

static bool is_freed(const struct plan *p, const struct dieset_hole *h)
{
    struct dieset_point at;
    if (h->point < 0 || h->point >= dieset_point_count(p->d, h->item))
        return false;
    dieset_point(p->d, h->item, h->point, &at);
    return at.freed;
}

static void put_hole(const struct plan *p, int hole, const struct dieset_hole *h, int x, int y)
{
    struct view_cell *cell = canvas_cell(p->c, x, y);
    if (!cell)
        return;
    int *owner = &p->owner[(size_t)y * (size_t)p->c->width + (size_t)x];
    bool strong = h->item == p->o->item && (p->o->point < 0 || p->o->point == h->point);
    int letter = plan_letter(p, h);
    if (*owner == 0) {
        canvas_letter(p->c, x, y, (uint32_t)letter, h->item, strong);
        cell->freed = is_freed(p, h);
        *owner = hole + 1;
        return;
    }
    cell->freed = cell->freed || is_freed(p, h);
    struct dieset_hole before;
    dieset_hole(p->d, *owner - 1, p->o->state, &before);
    if (!one_axis(h, &before))
        canvas_letter(p->c, x, y, '*', h->item, strong || cell->strong);
    else if (letter_is_caps(letter) && cell->ch != '*')
        canvas_letter(p->c, x, y, (uint32_t)letter, h->item, strong || cell->strong);
}

/* Openings are drawn by their shape, everything else by one letter at its middle. */
static bool fills(const struct dieset_hole *h)
{
    return h->n_sides || (h->length > 0 && h->width > 0) || letter_small(h->letter) == 'o';
}

/* False when it covers the middle of no cell. */
static bool fill_hole(const struct plan *p, int hole, const struct dieset_hole *h)
{
    if (!isfinite(h->right - h->left) || !isfinite(h->back - h->front))
        return false;
    int a = frame_column(&p->f, h->left), b = frame_column(&p->f, h->right);
    int top = larger(frame_row(&p->f, h->back), 0);
    int bottom = smaller(frame_row(&p->f, h->front), p->c->height - 1);
    bool any = false;
    for (int y = top; y <= bottom; y++) {
        for (int x = larger(smaller(a, b), 0); x <= smaller(larger(a, b), p->c->width - 1); x++) {
            /* a slot is open at the edge */
            bool metal = x >= p->column_l && x <= p->column_r && y >= p->row_t && y <= p->row_b;
            if (!metal || !dieset_covers(h, frame_x(&p->f, x), frame_y(&p->f, y)))
                continue;
            put_hole(p, hole, h, x, y);
            any = true;
        }
    }
    return any;
}

enum { UPPER_HALF = 0x2580, LOWER_HALF = 0x2584, FULL = 0x2588 };

/* What the half blocks UPPER and LOWER make together with what stands in a cell. */
static uint32_t halves(uint32_t there, bool upper, bool lower)
{
    upper = upper || there == UPPER_HALF || there == FULL;
    lower = lower || there == LOWER_HALF || there == FULL;
    return upper && lower ? FULL : upper ? UPPER_HALF : LOWER_HALF;
}

/* A round hole where it takes more than the cell of its letter, true within half a cell; without blocks its
 * sides stand in brackets. */
static void round_hole(const struct plan *p, const struct dieset_hole *h)
{
    int middle = frame_column(&p->f, h->x), row = frame_row(&p->f, h->y);
    if (!isfinite(h->right - h->left) || !isfinite(h->back - h->front))
        return;
    int a = frame_column(&p->f, h->left), b = frame_column(&p->f, h->right);
    int left = larger(smaller(a, b), p->column_l + 1), right = smaller(larger(a, b), p->column_r - 1);
    if (p->o->ascii && a != middle && b != middle && inside(p, left, row) && inside(p, right, row)) {
        view_put(p->c, left, row, '(', VIEW_LINE);
        view_put(p->c, right, row, ')', VIEW_LINE);
    }
    int top = larger(larger(frame_row(&p->f, h->back), p->row_t + 1), 0);
    int bottom = smaller(smaller(frame_row(&p->f, h->front), p->row_b - 1), p->c->height - 1);
    for (int y = top; y <= bottom && !p->o->ascii; y++)
        for (int x = larger(left, 0); x <= smaller(right, p->c->width - 1); x++) {
            double at = frame_x(&p->f, x), up = frame_y(&p->f, y), quarter = p->f.row_mm / 4;
            bool upper = dieset_covers(h, at, up + quarter), lower = dieset_covers(h, at, up - quarter);
            struct view_cell *cell = canvas_cell(p->c, x, y);
            if ((upper || lower) && (x != middle || y != row) &&
                !p->owner[(size_t)y * (size_t)p->c->width + (size_t)x])
                view_put(p->c, x, y, halves(cell->ch, upper, lower), VIEW_METAL);
        }
}

static void rounds(const struct plan *p)
{
    int first = 0, n = dieset_plate_holes(p->d, p->plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(p->d, i, p->o->state, &h);
        if (drawable(&h) && !fills(&h))
            round_hole(p, &h);
    }
}

static void holes(const struct plan *p, bool filling)
{
    int first = 0, n = dieset_plate_holes(p->d, p->plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(p->d, i, p->o->state, &h);
        if (!drawable(&h) || fills(&h) != filling)
            continue;
        if (!filling || !fill_hole(p, i, &h))
            put_hole(p, i, &h, frame_column(&p->f, h.x), frame_row(&p->f, h.y));
    }
}

/* Holes of the plates under this one, dim, where nothing else is drawn. */
static void holes_below(const struct plan *p)
{
    struct dieset_layer layers[64];
    int n = dieset_stack(p->d, p->o->state, layers, COUNT_OF(layers)), at = 0;
    while (at < n && layers[at].plate != p->plate)
        at++;
    for (int l = at + 1; l < n; l++) {
        int first = 0, many = dieset_plate_holes(p->d, layers[l].plate, &first);
        for (int i = first; i < first + many; i++) {
            struct dieset_hole h;
            dieset_hole(p->d, i, p->o->state, &h);
            if (!drawable(&h))
                continue;
            int x = frame_column(&p->f, h.x), y = frame_row(&p->f, h.y);
            if (inside(p, x, y))
                view_put(p->c, x, y, (uint32_t)letter_small(h.letter ? h.letter : '+'), VIEW_LINE);
        }
    }
}

/* ---- what stands on the plate ----------------------------------------------------- */

/* Flanges, clamps: bodies that have a letter of their own and stand out of a face. */
static bool stands_on(struct dieset *d, int body, int plate, enum dieset_state s, struct dieset_body *out)
{
    dieset_body(d, body, s, out);
    return out->plan.spec->letter && out->plan.plate == plate && !out->plan.nowhere &&
           !(out->high - out->low <= 1e-6);
}

static bool covered(const struct plan *p, const struct dieset_body *b, int x, int y)
{
    return dieset_covers(&b->plan, frame_x(&p->f, x), frame_y(&p->f, y));
}

/* Its rim: cells with one beside them that it does not cover. The plate's own outline stays. */
static void put_rim(const struct plan *p, const struct dieset_body *b, int x, int y)
{
    bool across = x >= p->column_l && x <= p->column_r, along = y >= p->row_t && y <= p->row_b;
    bool outlined = (across && (y == p->row_t || y == p->row_b)) ||
                    (along && (x == p->column_l || x == p->column_r));
    bool within = covered(p, b, x - 1, y) && covered(p, b, x + 1, y) && covered(p, b, x, y - 1) &&
                  covered(p, b, x, y + 1);
    if (!outlined && !within)
        view_put(p->c, x, y, (uint32_t)letter_small(b->plan.spec->letter), VIEW_LINE);
}

static void body(const struct plan *p, const struct dieset_body *b)
{
    int a = frame_column(&p->f, b->plan.left), z = frame_column(&p->f, b->plan.right);
    int top = larger(frame_row(&p->f, b->plan.back), 0),
        bottom = smaller(frame_row(&p->f, b->plan.front), p->c->height - 1);
    for (int y = top; y <= bottom; y++)
        for (int x = larger(smaller(a, z), 0); x <= smaller(larger(a, z), p->c->width - 1); x++)
            if (covered(p, b, x, y))
                put_rim(p, b, x, y);
}

static void bodies(const struct plan *p)
{
    for (int i = 0; i < dieset_body_count(p->d); i++) {
        struct dieset_body b;
        if (stands_on(p->d, i, p->plate, p->o->state, &b))
            body(p, &b);
    }
}

/* ---- the public calls ------------------------------------------------------------ */

double view_plan(struct dieset *d, int plate, const struct view_options *o, struct view_canvas *c)
{
    struct plan p;
    if (!begin(&p, d, plate, o, c->width, c->height)) {
        view_text(c, 0, 0, "no plan: the plate's size is not known", VIEW_TROUBLE);
        return 0;
    }
    p.c = c;
    size_t n = (size_t)c->width * (size_t)c->height;
    p.owner = base_alloc(n * sizeof *p.owner);
    outline(&p);
    centre_lines(&p);
    strip_edges(&p);
    if (o->see_through)
        holes_below(&p);
    bodies(&p);
    holes(&p, true);
    rounds(&p);
    holes(&p, false);
    free(p.owner);
    return p.f.column_mm;
}

bool view_plan_cell(struct dieset *d, int plate, const struct view_options *o, const struct view_canvas *c,
                    double x, double y, int *column, int *row)
{
    struct plan p;
    if (!isfinite(x) || !isfinite(y) || !begin(&p, d, plate, o, c->width, c->height))
        return false;
    *column = frame_column(&p.f, x);
    *row = frame_row(&p.f, y);
    return canvas_cell(c, *column, *row) != NULL;
}

bool view_plan_point(struct dieset *d, int plate, const struct view_options *o, const struct view_canvas *c,
                     int column, int row, double *x, double *y)
{
    struct plan p;
    if (!canvas_cell(c, column, row) || !begin(&p, d, plate, o, c->width, c->height))
        return false;
    *x = frame_x(&p.f, column);
    *y = frame_y(&p.f, row);
    return true;
}

/* ---- legend ------------------------------------------------------------------------ */

/* The letter's words: the kind's own when it is the kind's letter, else the hole's. */
static const char *letter_words(struct dieset *d, const struct dieset_hole *h)
{
    int kind = dieset_item_kind(d, h->item);
    const struct handbook_kind *k = kind >= 0 ? handbook_kind(dieset_handbook(d), kind) : NULL;
    if (k && letter_small(k->letter) == letter_small(h->letter))
        return k->title ? k->title : k->name;
    return h->spec && h->spec->title ? h->spec->title : h->operation;
}

void view_legend(struct dieset *d, int plate, struct base_text *out)
{
    view_plan_legend(d, plate, NULL, out);
}

static bool shows(const struct view_canvas *c, int ch)
{
    for (size_t i = 0; c && i < (size_t)c->width * (size_t)c->height; i++)
        if (c->cells[i].ch == (uint32_t)ch)
            return true;
    return false;
}

struct legend {
    struct dieset *d;
    const struct view_canvas *c;
    struct base_text *out;
    size_t start;
    bool seen[256], caps;
};

/* Letters of PLATE's holes: all of them, or of a plate BELOW those that the canvas shows. */
static void plate_letters(struct legend *l, int plate, bool below)
{
    int first = 0, n = dieset_plate_holes(l->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(l->d, i, DIESET_NEW, &h);
        int letter = letter_small(h.letter ? h.letter : '+');
        l->caps = l->caps || (!below && letter_is_caps(h.letter));
        if (l->seen[letter & 0xff] || (below && !shows(l->c, letter)))
            continue;
        l->seen[letter & 0xff] = true;
        base_text_addf(l->out, "%s%c %s", l->out->length > l->start ? "  " : "", letter,
                       letter_words(l->d, &h));
    }
}

/* Letters of what stands on PLATE, as far as the canvas shows them. */
static void body_letters(struct legend *l, int plate)
{
    for (int i = 0; i < dieset_body_count(l->d); i++) {
        struct dieset_body b;
        if (!stands_on(l->d, i, plate, DIESET_NEW, &b))
            continue;
        int letter = letter_small(b.plan.spec->letter);
        if (l->seen[letter & 0xff] || (l->c && !shows(l->c, letter)))
            continue;
        l->seen[letter & 0xff] = true;
        base_text_addf(l->out, "%s%c %s", l->out->length > l->start ? "  " : "", letter, b.plan.spec->title);
    }
}

void view_plan_legend(struct dieset *d, int plate, const struct view_canvas *c, struct base_text *out)
{
    struct legend l = {.d = d, .c = c, .out = out, .start = out->length};
    struct dieset_layer layers[64];
    plate_letters(&l, plate, false);
    body_letters(&l, plate);
    for (int i = 0, n = c ? dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers)) : 0; i < n; i++)
        plate_letters(&l, layers[i].plate, layers[i].plate != plate);
    if (shows(c, '*'))
        base_text_add(out, "  * several");
    if (l.caps)
        base_text_add(out, "  CAPS = head, seated or driven from this face");
}
