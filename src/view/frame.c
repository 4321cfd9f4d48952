/* Scale steps, projection and glyphs. */

#include "view/frame.h"

#include <math.h>
#include <stdio.h>

/* 1 1.25 2 2.5 4 5 8, then from ten up 10 12.5 16 20 25 40 50 80 in each decade. Under 1 the first seven, by
   tenths. */
double scale_step(int i)
{
    static const double low[] = {1, 1.25, 2, 2.5, 4, 5, 8};
    static const double high[] = {10, 12.5, 16, 20, 25, 40, 50, 80};
    enum { LOW = COUNT_OF(low), HIGH = COUNT_OF(high) };
    if (i >= LOW)
        return high[(i - LOW) % HIGH] * pow(10, (i - LOW) / HIGH);
    if (i >= 0)
        return low[i];
    int under = -1 - i;
    return low[LOW - 1 - under % LOW] / pow(10, 1 + under / LOW);
}

enum { FINEST = -14, COARSEST = 47 }; /* 0.01 mm, 800 m */

/* 25 becomes an inch, 12.5 half of one: steps that an inch rule has, at nearly the same size. */
double view_scale_unit(struct unit_system s) { return unit_is_inch(s) ? 25.4 / 25 : 1; }

double view_scale_next(double scale, int by, double unit)
{
    scale /= unit;
    int i = FINEST;
    while (i < COARSEST && scale_step(i) < scale * (1 - 1e-9))
        i++;
    bool between = scale_step(i) > scale * (1 + 1e-9);
    i += by > 0 && between ? by - 1 : by;
    return scale_step(i < FINEST ? FINEST : i > COARSEST ? COARSEST : i) * unit;
}

const char *view_scale_text(double scale, struct unit_system s, char *buf, size_t size)
{
    struct unit_display u = unit_display(UNIT_LENGTH, s);
    snprintf(buf, size, "%.6g %s", scale / u.factor, u.name);
    return buf;
}

double scale_fit(double length, int room, double unit)
{
    int i = 0;
    while (i < COARSEST && !(length / (scale_step(i) * unit) <= room))
        i++;
    return scale_step(i) * unit;
}

double cell_ratio(const struct view_options *o)
{
    return o->cell_ratio > 0.1 && o->cell_ratio < 20 ? o->cell_ratio : 2.0;
}

/* Far outside every canvas is far enough: keeps the arithmetic of cells inside an int. */
static int cells(double n)
{
    return n > 1e6 ? 1000000 : n < -1e6 ? -1000000 : (int)lround(n);
}

int frame_column(const struct frame *f, double x) { return f->column0 + f->way * cells(x / f->column_mm); }
int frame_row(const struct frame *f, double y) { return f->row0 - cells(y / f->row_mm); }
double frame_x(const struct frame *f, int column) { return f->way * (column - f->column0) * f->column_mm; }
double frame_y(const struct frame *f, int row) { return (f->row0 - row) * f->row_mm; }

const struct glyphs *frame_glyphs(bool ascii)
{
    static const struct glyphs plain = {'-', '|', '+', '+', '+', '+', '.', ':', '.', '-', '!'};
    static const struct glyphs lines = {0x2500, 0x2502, 0x250c, 0x2510, 0x2514,
                                        0x2518, 0x2591, 0x2592, 0xb7,   '-',    0x2503};
    return ascii ? &plain : &lines;
}

struct view_cell *canvas_cell(const struct view_canvas *c, int x, int y)
{
    if (x < 0 || y < 0 || x >= c->width || y >= c->height)
        return NULL;
    return &c->cells[(size_t)y * (size_t)c->width + (size_t)x];
}

void canvas_letter(struct view_canvas *c, int x, int y, uint32_t ch, int item, bool strong)
{
    view_put(c, x, y, ch, strong ? VIEW_CURSOR : VIEW_MARK);
    struct view_cell *cell = canvas_cell(c, x, y);
    if (!cell)
        return;
    cell->strong = strong;
    cell->item = (short)item;
}

bool letter_is_caps(int ch) { return ch >= 'A' && ch <= 'Z'; }
int letter_small(int ch) { return letter_is_caps(ch) ? ch - 'A' + 'a' : ch; }
int letter_caps(int ch) { return ch >= 'a' && ch <= 'z' ? ch - 'a' + 'A' : ch; }
