/* The stack seen from the front with the ram raised: an elevation, true to scale in height.
 *
 * Heights are over the lower shoe's bottom face. What moves with the slide is raised by the ram; a stripper
 * stays on the strip until its travel is used up and hangs from there on; the rest stays. Everything drawn is
 * a `part`: a box between two heights and two places along the feed. Plates come first, then what is cut out
 * of them, then what stands in them and out of them.
 *
 * A row shows the plate that covers most of it; a plate thinner than a row keeps the row of its middle.
 */

#include "view/frame.h"
#include "view/parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LABELS = 22, LABELS_FROM = 56 }; /* names stand at the left when the canvas is that wide */

struct picture {
    struct dieset *d;
    const struct view_options *o;
    struct view_canvas *c;
    const struct glyphs *g;
    struct frame f;   /* the origin: plan X 0, height 0 at the top edge of row0 */
    int left;         /* first column of the drawing */
    int *plate_at;    /* of each row: its layer and 1, 0 none */
    int *body_at;     /* of each cell: the body that is seen there and 1, 0 none */
    const struct parts *p;
};

/* ---- rows -------------------------------------------------------------------- */

/* Heights at the edges of a row. */
static double row_top(const struct picture *w, int row) { return (w->f.row0 - row) * w->f.row_mm; }
static double row_bottom(const struct picture *w, int row) { return row_top(w, row) - w->f.row_mm; }
/* The row that holds a height. */
static int row_of(const struct picture *w, double height)
{
    return w->f.row0 - 1 - (int)floor(height / w->f.row_mm);
}

static double shared(const struct picture *w, int row, double low, double high)
{
    return fmin(row_top(w, row), high) - fmax(row_bottom(w, row), low);
}

/* Which layer each row shows: first what covers most of it, then thin plates at their middles. */
static void share_rows(const struct picture *w)
{
    for (int y = 0; y < w->c->height; y++) {
        double most = w->f.row_mm / 2 - 1e-9;
        w->plate_at[y] = 0;
        for (int i = 0; i < w->p->n_plates; i++) {
            double covered = shared(w, y, w->p->plates[i].low, w->p->plates[i].high);
            if (covered > most) {
                most = covered;
                w->plate_at[y] = i + 1;
            }
        }
    }
    for (int i = 0; i < w->p->n_plates; i++) {
        bool seen = false;
        for (int y = 0; y < w->c->height; y++)
            seen = seen || w->plate_at[y] == i + 1;
        int y = row_of(w, (w->p->plates[i].low + w->p->plates[i].high) / 2);
        if (!seen && y >= 0 && y < w->c->height)
            w->plate_at[y] = i + 1;
    }
}

/* ---- scale -------------------------------------------------------------------- */

static void extent(const struct parts *p, double *left, double *right, double *top)
{
    *left = INFINITY;
    *right = -INFINITY;
    *top = 0;
    for (int i = 0; i < p->n_plates; i++) {
        *left = fmin(*left, p->plates[i].left);
        *right = fmax(*right, p->plates[i].right);
        *top = fmax(*top, p->plates[i].high);
    }
}

static bool place(struct picture *w)
{
    double left, right, top;
    extent(w->p, &left, &right, &top);
    int height = w->c->height, width = w->c->width;
    w->left = width >= LABELS_FROM ? LABELS : 0;
    if (w->p->n_plates == 0 || !isfinite(left) || !isfinite(right) || height < 1 || width < 1)
        return false;
    double unit = view_scale_unit(dieset_system(w->d));
    double row = fmax(scale_fit(top, height, unit), w->o->least_row);
    double column = scale_fit(right - left, width - w->left - 1, unit);
    if (w->o->scale > 0) {
        column = w->o->scale;
        row = column * cell_ratio(w->o);
    }
    w->f = (struct frame){.row_mm = row, .column_mm = column, .way = 1};
    int rows = (int)ceil(fmin(top / row, 4096) - 1e-9);
    w->f.row0 = rows < height ? rows : height; /* the picture stands at the top of the canvas */
    w->f.column0 = w->left + (width - w->left - 1) / 2 - (int)lround((left + right) / 2 / column);
    return true;
}

/* ---- drawing --------------------------------------------------------------------- */

static void draw_plate_row(const struct picture *w, int y)
{
    int i = w->plate_at[y] - 1;
    const struct part *plate = &w->p->plates[i];
    int a = frame_column(&w->f, plate->left), b = frame_column(&w->f, plate->right);
    uint32_t ch = i % 2 ? w->g->other_metal : w->g->metal;
    for (int x = a > w->left ? a : w->left; x < b && x < w->c->width; x++)
        view_put(w->c, x, y, ch, VIEW_METAL);
}

static void draw_strip(const struct picture *w)
{
    if (!isfinite(w->p->strip.low))
        return;
    int y = row_of(w, (w->p->strip.low + w->p->strip.high) / 2);
    for (int x = w->left; x < w->c->width; x++) {
        struct view_cell *cell = canvas_cell(w->c, x, y);
        if (cell && cell->ch == ' ')
            view_put(w->c, x, y, w->g->across, VIEW_LINE);
    }
}

/* The cells of a part: rows FROM ... TO, columns A ... Z. */
struct box { int from, to, a, z; };

static struct box box_of(const struct picture *w, const struct part *p)
{
    double half = w->f.row_mm / 2 - 1e-6; /* as with plates: rows of which it fills half, or its middle's */
    struct box b = {row_of(w, p->high - half), row_of(w, p->low + half), frame_column(&w->f, p->left),
                    frame_column(&w->f, p->right)};
    if (b.from > b.to)
        b.from = b.to = row_of(w, (p->low + p->high) / 2);
    b.from = b.from < 0 ? 0 : b.from;
    b.to = b.to < w->c->height ? b.to : w->c->height - 1;
    return b;
}

static int centre_of(const struct picture *w, const struct part *p)
{
    return frame_column(&w->f, (p->left + p->right) / 2);
}

/* A hole is what is missing of the metal; one slimmer than a cell is not seen. */
static void draw_hole(const struct picture *w, const struct part *h)
{
    struct box b = box_of(w, h);
    for (int y = b.from; y <= b.to; y++)
        for (int x = b.a + 1; x < b.z; x++) {
            struct view_cell *cell = canvas_cell(w->c, x, y);
            if (cell && cell->role == VIEW_METAL)
                view_put(w->c, x, y, ' ', VIEW_PLAIN);
        }
}

/* What is broad enough has two sides and room between them; what is slim, a screw's shank or a pin, is one
   solid line. */
static void draw_row(const struct picture *w, const struct part *p, const struct box *b, int y)
{
    uint32_t side = p->coil ? (uint32_t)((b->to - y) % 2 ? '/' : '\\') : w->g->down;
    bool slim = b->z - b->a < 2;
    int centre = centre_of(w, p), a = slim ? centre : b->a, z = slim ? centre : b->z;
    for (int x = a > 0 ? a : 0; x <= z && x < w->c->width; x++) {
        view_put(w->c, x, y, slim ? w->g->solid : x == a || x == z ? side : ' ',
                 slim || x == a || x == z ? VIEW_LINE : VIEW_PLAIN);
        w->body_at[y * w->c->width + x] = (int)(p - w->p->bodies.at) + 1;
    }
}

/* The metal from A to B as a line, as the strip is one; the wall of a collar ends where a place is NaN. */
static void draw_bent(const struct picture *w, const struct part *p, const struct dieset_bent *a,
                      const struct dieset_bent *b)
{
    double dx = b->off - a->off, dz = b->high - a->high, by = hypot(dx, dz),
           fine = fmin(w->f.column_mm, w->f.row_mm) / 4;
    for (double at = 0; at <= by; at += fine) {
        int x = frame_column(&w->f, a->off + dx * at / by), y = row_of(w, a->high + dz * at / by);
        if (x < w->left || x >= w->c->width || y < 0 || y >= w->c->height)
            continue;
        view_put(w->c, x, y, fabs(dz) > fabs(dx) ? w->g->solid : w->g->across, VIEW_LINE);
        w->body_at[y * w->c->width + x] = (int)(p - w->p->bodies.at) + 1;
    }
}

static void draw_body(const struct picture *w, const struct part *p)
{
    struct box b = box_of(w, p);
    for (int i = 0; i + 1 < p->n_bent; i++)
        draw_bent(w, p, &p->bent[i], &p->bent[i + 1]);
    if (p->n_bent)
        return;
    for (int y = b.from; y <= b.to; y++)
        draw_row(w, p, &b, y);
}

/* Its letter on its axis, as near to its middle as it is seen there; none where all of it is hidden. */
static void draw_letter(const struct picture *w, const struct part *p)
{
    struct box b = box_of(w, p);
    int x = centre_of(w, p), best = -1, off = 0;
    for (int y = b.from; y <= b.to && x >= 0 && x < w->c->width; y++) {
        int from_middle = abs(2 * y - b.from - b.to);
        bool seen = w->body_at[y * w->c->width + x] == (int)(p - w->p->bodies.at) + 1;
        if (seen && (best < 0 || from_middle < off)) {
            best = y;
            off = from_middle;
        }
    }
    if (best >= 0 && p->letter && !p->shares)
        canvas_letter(w->c, x, best, (uint32_t)p->letter, p->item, p->item == w->o->item);
}

static void label(const struct picture *w, int y, const char *text, double value)
{
    char number[40] = "?";
    view_text(w->c, 1, y, text, VIEW_NAME);
    if (isfinite(value))
        unit_print_number(value, UNIT_LENGTH, dieset_system(w->d), number, sizeof number);
    for (int x = LABELS - 8; x < LABELS; x++)
        view_put(w->c, x, y, ' ', VIEW_PLAIN);
    view_text(w->c, LABELS - 1 - (int)strlen(number), y, number, VIEW_PLAIN);
}

/* Each plate's name on its first row with the height of its top face; the strip's where a row is left. */
static void draw_labels(const struct picture *w)
{
    if (w->left == 0)
        return;
    for (int y = 0; y < w->c->height; y++) {
        int i = w->plate_at[y] - 1;
        if (i >= 0 && (y == 0 || w->plate_at[y - 1] != i + 1))
            label(w, y, dieset_item_title(w->d, w->p->plates[i].item), w->p->plates[i].high);
    }
    int y = isfinite(w->p->strip.low) ? row_of(w, (w->p->strip.low + w->p->strip.high) / 2) : -1;
    if (y >= 0 && y < w->c->height && !w->plate_at[y])
        label(w, y, "  strip", w->p->strip.high);
}

double view_section(struct dieset *d, double ram, const struct view_options *o, struct view_canvas *c)
{
    struct parts parts;
    parts_find(d, isfinite(ram) && ram > 0 ? ram : 0, o->state, &parts);
    struct picture w = {.d = d, .o = o, .c = c, .g = frame_glyphs(o->ascii), .p = &parts};
    double scale = 0;
    if (!place(&w)) {
        view_text(c, 0, 0, "no section: the stack's heights are not known", VIEW_TROUBLE);
    } else {
        w.plate_at = base_alloc((size_t)c->height * sizeof *w.plate_at);
        w.body_at = base_alloc((size_t)c->height * (size_t)c->width * sizeof *w.body_at);
        share_rows(&w);
        for (int y = 0; y < c->height; y++)
            if (w.plate_at[y])
                draw_plate_row(&w, y);
        draw_strip(&w);
        for (size_t i = 0; i < parts.holes.count; i++)
            draw_hole(&w, &parts.holes.at[i]);
        for (size_t i = 0; i < parts.bodies.count; i++)
            draw_body(&w, &parts.bodies.at[i]);
        for (size_t i = 0; i < parts.bodies.count; i++)
            draw_letter(&w, &parts.bodies.at[i]);
        draw_labels(&w);
        free(w.plate_at);
        free(w.body_at);
        scale = w.f.row_mm;
    }
    parts_done(&parts);
    return scale;
}
