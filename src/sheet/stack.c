/* The stack from the front, small, to show where a plate belongs; what stands at the foot of a sheet. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOST = 64 };

static double scale_to(struct unit_system u, double wide, double high, double room_wide, double room_high)
{
    static const double metric[] = {2, 5, 10, 20, 50, 100}, inch[] = {2, 4, 8, 16, 32, 64};
    const double *list = unit_is_inch(u) ? inch : metric;
    size_t i = 0;
    while (i + 1 < COUNT_OF(metric) && (wide / list[i] > room_wide || high / list[i] > room_high))
        i++;
    return 1 / list[i];
}

struct layers { struct dieset_plate at[MOST]; int item[MOST]; int n; double left, right, high; };

static void find(struct dieset *d, enum dieset_state state, struct layers *out)
{
    struct dieset_layer list[MOST];
    int n = dieset_stack(d, state, list, MOST);
    *out = (struct layers){.left = INFINITY, .right = -INFINITY};
    for (int i = 0; i < n; i++) {
        struct dieset_plate p = dieset_plate(d, list[i].plate, state);
        if (!isfinite(p.bottom + p.top + p.left + p.right))
            continue;
        out->at[out->n] = p;
        out->item[out->n++] = list[i].plate;
        out->left = fmin(out->left, p.left);
        out->right = fmax(out->right, p.right);
        out->high = fmax(out->high, p.top);
    }
}

static void names(struct draw_sheet *s, struct dieset *d, const struct layers *l, double scale, int plate,
                  double x, double y, double high)
{
    double wanted[MOST], out[MOST], letters = l->n * 3.7 <= high ? SHEET_LETTERS : SHEET_CAPTION;
    double pitch = fmin(letters * 1.48, high / fmax(1, l->n));
    for (int i = 0; i < l->n; i++) /* from the lowest up, as the spreading wants it */
        wanted[i] = y + (l->at[l->n - 1 - i].bottom + l->at[l->n - 1 - i].top) / 2 * scale;
    draw_spread(wanted, l->n, pitch, out);
    double down = l->n ? fmin(0, out[0] - letters / 2 - y) : 0; /* they begin no lower than the picture */
    for (int i = 0; i < l->n; i++) {
        int k = l->n - 1 - i;
        char size[40];
        unit_print_number(l->at[k].thickness_now, UNIT_LENGTH, dieset_system(d), size, sizeof size);
        char *words = base_format("%s %s%s", dieset_item_title(d, l->item[k]), size,
                                  l->item[k] == plate ? ", this sheet" : "");
        double edge = x + (l->at[k].right - l->left) * scale, foot = out[i] - down;
        draw_line(s, DRAW_FINE, edge, wanted[i], x + (l->right - l->left) * scale + 2, wanted[i]);
        draw_line(s, DRAW_FINE, x + (l->right - l->left) * scale + 2, wanted[i],
                  x + (l->right - l->left) * scale + 6, foot);
        draw_words(s, x + (l->right - l->left) * scale + 7, foot - letters / 2, letters, DRAW_LEFT, 44,
                   words);
        free(words);
    }
}

void sheet_stack(struct draw_sheet *s, struct dieset *d, enum dieset_state state, int plate, double x,
                 double y, double wide, double high)
{
    struct layers l;
    char text[16];
    find(d, state, &l);
    if (!l.n)
        return;
    double scale = scale_to(dieset_system(d), l.right - l.left, l.high, wide - 52, high - 6);
    char *heading = base_format("Place in the set, %s", sheet_scale_text(scale, text, sizeof text));
    draw_words(s, x, y + high - SHEET_LETTERS, SHEET_LETTERS, DRAW_LEFT, wide, heading);
    free(heading);
    for (int i = 0; i < l.n; i++) {
        struct draw_box b = {x + (l.at[i].left - l.left) * scale, x + (l.at[i].right - l.left) * scale,
                             y + l.at[i].bottom * scale, y + l.at[i].top * scale};
        draw_rectangle(s, DRAW_NARROW, b.left, b.front, b.right, b.back);
        if (l.item[i] == plate)
            draw_hatch(s, &b, NULL, 0, 0.8);
    }
    names(s, d, &l, scale, plate, x, y, high - 6);
}

void sheet_foot(struct draw_sheet *s, const struct dieset *d, const struct sheet_title *t, double x, double y)
{
    bool inches = unit_is_inch(dieset_system(d));
    double step = inches ? 25.4 / 2 : 10, whole = inches ? 4 * 25.4 : 100;
    int n = (int)lround(whole / step);
    draw_line(s, DRAW_NARROW, x, y + 5, x + whole, y + 5);
    for (int i = 0; i <= n; i++)
        draw_line(s, DRAW_NARROW, x + i * step, y + 5, x + i * step, y + (i % 5 ? 6.2 : 7));
    draw_words(s, x, y, SHEET_LETTERS, DRAW_LEFT, whole,
               inches ? "4 in: measure this line before measuring the print"
                      : "100 mm: measure this line before measuring the print");
    draw_words(s, x, y + 9, SHEET_LETTERS, DRAW_LEFT, whole, "Views in third angle projection");
    draw_words(s, x, y + 13, SHEET_LETTERS, DRAW_LEFT, whole, "A check, not a permit to make or to run");
    if (t->sums && *t->sums)
        draw_words(s, x, y + 17, SHEET_LETTERS, DRAW_LEFT, whole, t->sums);
}
