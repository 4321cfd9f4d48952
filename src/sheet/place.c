/* Words beside what they name, where nothing else is written. */

#include "sheet/inside.h"

#include <math.h>

static bool boxes_meet(const struct draw_box *a, const struct draw_box *b, double apart)
{
    return a->left < b->right + apart && b->left < a->right + apart && a->front < b->back + apart &&
           b->front < a->back + apart;
}

bool sheet_words_free(const struct draw_sheet *s, const struct draw_box *b)
{
    for (size_t i = 0; i < s->marks.count; i++) {
        if (s->marks.at[i].sort != DRAW_WORDS)
            continue;
        struct draw_box other = draw_words_box(&s->marks.at[i]);
        if (boxes_meet(b, &other, 0.5))
            return false;
    }
    return true;
}

static bool in_frame(const struct draw_sheet *s, const struct draw_box *b)
{
    return b->left > SHEET_LEFT + 1 && b->right < s->width - SHEET_EDGE - 1 && b->front > SHEET_EDGE + 1 &&
           b->back < s->height - SHEET_EDGE - 1;
}

/* How much of BUSY a label there would lie on; further off is worse. */
static double cost(const struct draw_box *b, const struct draw_box *busy, int n, int ring, int way)
{
    static const double ways[] = {0, 0.3, 0.2, 0.4, 0.6, 0.6, 0.7, 0.7}; /* right above is read best */
    double sum = ring * 3 + ways[way];
    for (int i = 0; i < n; i++)
        sum += boxes_meet(b, &busy[i], 0.3) ? 4 : 0;
    return sum;
}

enum { WAYS = 8, RINGS = 9 };

/* The box of a text WIDE long, whose nearest corner or side is R off in the direction WAY. */
static struct draw_box box_at(double x, double y, double r, int way, double wide)
{
    static const double dx[WAYS] = {1, -1, 1, -1, 1, -1, 0, 0}, dy[WAYS] = {1, 1, -1, -1, 0, 0, 1, -1};
    double k = dx[way] != 0 && dy[way] != 0 ? 0.75 : 1, cx = x + dx[way] * r * k, cy = y + dy[way] * r * k;
    double left = dx[way] > 0 ? cx : dx[way] < 0 ? cx - wide : cx - wide / 2;
    double front = dy[way] > 0 ? cy : dy[way] < 0 ? cy - SHEET_LETTERS : cy - SHEET_LETTERS / 2;
    return (struct draw_box){left, left + wide, front, front + SHEET_LETTERS};
}

bool sheet_label(struct draw_sheet *s, double x, double y, double reach, const char *text,
                 const struct draw_box *busy, int n)
{
    double wide = draw_width(text, SHEET_LETTERS), best = INFINITY;
    struct draw_box at = {0};
    int far = 0;
    for (int ring = 0; ring < RINGS && best > ring * 3; ring++)
        for (int way = 0; way < WAYS; way++) {
            struct draw_box b = box_at(x, y, reach + 0.6 + ring * 2.5, way, wide);
            double is = cost(&b, busy, n, ring, way);
            if (is >= best || !in_frame(s, &b) || !sheet_words_free(s, &b))
                continue;
            best = is;
            at = b;
            far = ring;
        }
    if (!isfinite(best))
        return false;
    draw_words(s, at.left, at.front, SHEET_LETTERS, DRAW_LEFT, 0, text);
    if (far) {
        double ex = fmin(fmax(x, at.left), at.right), ey = fmin(fmax(y, at.front), at.back);
        double away = hypot(ex - x, ey - y);
        if (away > reach)
            draw_line(s, DRAW_FINE, x + (ex - x) * reach / away, y + (ey - y) * reach / away, ex, ey);
    }
    return true;
}
