/* The plate cut along a line of its length: metal hatched, holes as they are met. */

#include "sheet/inside.h"

#include <math.h>
#include <stdlib.h>

static bool crosses(const struct dieset_hole *h, double y)
{
    return !h->nowhere && y > h->front + 1e-6 && y < h->back - 1e-6;
}

/* Letters met along y, and in the last place how many holes. */
static double worth(const struct report_chart *c, double y, double middle)
{
    bool *met = base_alloc((size_t)c->letters * sizeof *met + 1);
    double sum = -fabs(y - middle) * 1e-6;
    for (int i = 0; i < c->n; i++) {
        if (!crosses(&c->at[i].hole, y))
            continue;
        bool on_axis = fabs(c->at[i].hole.y - y) < 1e-6;
        sum += (met[c->at[i].letter] ? 0 : 1) + (on_axis ? 0.01 : 0);
        met[c->at[i].letter] = true;
    }
    free(met);
    return sum;
}

double sheet_cut_line(const struct report_chart *c, double middle)
{
    double best = middle, most = worth(c, middle, middle);
    for (int i = 0; i < c->n; i++) {
        double y = c->at[i].hole.y, is = c->at[i].hole.nowhere ? -1 : worth(c, y, middle);
        if (is > most + 1e-12) {
            most = is;
            best = y;
        }
    }
    return best;
}

/* ---- what the line cuts out ---------------------------------------------------------------- */

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Where the line y meets the sides: pairs of x, in order; how many. */
static int meet_sides(const struct dieset_hole *h, double y, double *out, int room)
{
    struct shape_side line = shape_straight(h->left - h->x - 1, y - h->y, h->right - h->x + 1, y - h->y);
    int n = 0;
    for (int i = 0; i < h->n_sides; i++) {
        double x[2], at[2];
        int m = shape_sides_meet(&line, &h->sides[i], false, x, at);
        for (int k = 0; k < m && n < room; k++)
            out[n++] = h->x + x[k];
    }
    if (n)
        qsort(out, (size_t)n, sizeof *out, by_value);
    int kept = 0; /* corners are met twice */
    for (int i = 0; i < n; i++)
        if (!kept || out[i] - out[kept - 1] > 1e-6)
            out[kept++] = out[i];
    return kept - kept % 2;
}

static int meet(const struct dieset_hole *h, double y, double *out, int room)
{
    double half = 0, dy = fabs(y - h->y);
    if (h->n_sides)
        return meet_sides(h, y, out, room);
    if (h->length > 0 && h->width > 0) {
        double in = dy - (h->width / 2 - h->corner); /* into the round corner */
        half = h->length / 2 - (in > 0 ? h->corner - sqrt(fmax(0, h->corner * h->corner - in * in)) : 0);
    } else {
        half = sqrt(fmax(0, h->diameter * h->diameter / 4 - dy * dy));
    }
    out[0] = h->x - half;
    out[1] = h->x + half;
    return 2;
}

typedef BASE_VEC(struct draw_box) box_list;

static void cut_out(const struct sheet_view *v, const struct report_chart *c, double cut, box_list *out)
{
    for (int i = 0; i < c->n; i++) {
        const struct dieset_hole *h = &c->at[i].hole;
        double x[64];
        int n = crosses(h, cut) ? meet(h, cut, x, COUNT_OF(x)) : 0;
        for (int k = 0; k + 1 < n; k += 2)
            base_vec_push(out, ((struct draw_box){sheet_at_x(v, x[k]), sheet_at_x(v, x[k + 1]),
                                                  v->y + h->low * v->scale, v->y + h->high * v->scale}));
    }
}

/* ---- drawing ----------------------------------------------------------------------------------- */

/* Sides of what is cut out, and its ends inside of the metal. */
static void rims(struct draw_sheet *s, const struct draw_box *b, double low, double high)
{
    draw_line(s, DRAW_WIDE, b->left, b->front, b->left, b->back);
    draw_line(s, DRAW_WIDE, b->right, b->front, b->right, b->back);
    if (b->front > low + 1e-6)
        draw_line(s, DRAW_WIDE, b->left, b->front, b->right, b->front);
    if (b->back < high - 1e-6)
        draw_line(s, DRAW_WIDE, b->left, b->back, b->right, b->back);
}

/* The edge of a face runs from opening to opening; behind the opening stands its far rim, drawn alike. */
static void axes(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c, double cut,
                 double high)
{
    for (int i = 0; i < c->n; i++) {
        const struct dieset_hole *h = &c->at[i].hole;
        if (!crosses(h, cut) || !c->at[i].first)
            continue;
        double x = sheet_at_x(v, h->x);
        draw_line(s, DRAW_CENTRE, x, v->y - 2, x, high + 2);
    }
    for (int i = 0; i < c->n; i++) {
        const struct dieset_hole *h = &c->at[i].hole;
        if (!crosses(h, cut) || !*h->thread || h->nominal <= h->diameter || fabs(h->y - cut) > 1e-6)
            continue;
        double low = v->y + h->low * v->scale, top = v->y + h->high * v->scale, r = h->nominal / 2 * v->scale,
               x = sheet_at_x(v, h->x), deep = h->thread_depth * v->scale;
        if (deep > 0 && h->from_top)
            low = top - deep;
        else if (deep > 0)
            top = low + deep;
        draw_line(s, DRAW_NARROW, x - r, low, x - r, top);
        draw_line(s, DRAW_NARROW, x + r, low, x + r, top);
    }
}

/* Marks of the places that are cut, over the face. */
static void names(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c, double cut,
                  double high)
{
    char mark[16];
    for (int i = 0; i < c->n; i++) {
        if (!crosses(&c->at[i].hole, cut) || !c->at[i].first)
            continue;
        report_mark(&c->at[i], mark, sizeof mark);
        double wide = draw_width(mark, SHEET_LETTERS), x = sheet_at_x(v, c->at[i].hole.x) - wide / 2;
        struct draw_box b = {x, x + wide, high + 2.5, high + 2.5 + SHEET_LETTERS};
        if (sheet_words_free(s, &b))
            draw_words(s, x, b.front, SHEET_LETTERS, DRAW_LEFT, 0, mark);
    }
}

static void thickness(struct draw_sheet *s, const struct report_chart *c, double x, double low, double high)
{
    char buf[40];
    unit_print_number(c->thickness, UNIT_LENGTH, dieset_system(c->d), buf, sizeof buf);
    double at = x - 10, middle = (low + high) / 2, tip = fmin(3, (high - low) / 3);
    draw_line(s, DRAW_NARROW, x - 1, low, at - 2, low);
    draw_line(s, DRAW_NARROW, x - 1, high, at - 2, high);
    draw_line(s, DRAW_NARROW, at, low, at, high);
    for (int end = 0; end < 2; end++)
        for (int way = -1; way < 2; way += 2)
            draw_line(s, DRAW_NARROW, at, end ? high : low, at + way * tip / 5, end ? high - tip : low + tip);
    draw_words_up(s, at - 1, middle, SHEET_LETTERS, DRAW_MIDDLE, buf);
}

void sheet_section(struct draw_sheet *s, const struct sheet_view *v, const struct report_chart *c, double cut,
                   double length)
{
    struct draw_box plate = {v->x, v->x + length * v->scale, v->y, v->y + c->thickness * v->scale};
    box_list out = {0};
    cut_out(v, c, cut, &out);
    draw_hatch(s, &plate, out.at, (int)out.count, 3.5);
    draw_rectangle(s, DRAW_WIDE, plate.left, plate.front, plate.right, plate.back);
    for (size_t i = 0; i < out.count; i++)
        rims(s, &out.at[i], plate.front, plate.back);
    axes(s, v, c, cut, plate.back);
    names(s, v, c, cut, plate.back);
    thickness(s, c, plate.left, plate.front, plate.back);
    base_vec_done(&out);
}
