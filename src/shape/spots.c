/* Spots in the plan: a pattern laid over itself, the two farthest, the widest span between neighbours. */

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct shape_spot shape_spot_moved(struct shape_spot s, double middle_x, double middle_y, enum shape_way way)
{
    double x = s.x - middle_x, y = s.y - middle_y;
    static const struct { int xx, xy, yx, yy;
    } ways[SHAPE_WAYS] = {
        [SHAPE_TURN_HALF] = {-1, 0, 0, -1},  [SHAPE_TURN_LEFT] = {0, -1, 1, 0},
        [SHAPE_TURN_RIGHT] = {0, 1, -1, 0},  [SHAPE_OVER_LENGTH] = {1, 0, 0, -1},
        [SHAPE_OVER_WIDTH] = {-1, 0, 0, 1},  [SHAPE_OVER_LEFT] = {0, 1, 1, 0},
        [SHAPE_OVER_RIGHT] = {0, -1, -1, 0},
    };
    s.x = middle_x + ways[way].xx * x + ways[way].xy * y;
    s.y = middle_y + ways[way].yx * x + ways[way].yy * y;
    return s;
}

static int by_class_and_x(const void *a, const void *b)
{
    const struct shape_spot *p = a, *q = b;
    if (p->class != q->class)
        return p->class < q->class ? -1 : 1;
    return (p->x > q->x) - (p->x < q->x);
}

/* The first of the sorted spots that does not stand before S. */
static size_t lower(const struct shape_spot *sorted, size_t n, struct shape_spot s)
{
    size_t low = 0, high = n;
    while (low < high) {
        size_t mid = (low + high) / 2;
        if (by_class_and_x(&sorted[mid], &s) < 0)
            low = mid + 1;
        else
            high = mid;
    }
    return low;
}

static double nearest(const struct shape_spot *sorted, size_t n, struct shape_spot s)
{
    double best = INFINITY;
    size_t at = lower(sorted, n, s);
    for (size_t i = at; i < n && sorted[i].class == s.class && sorted[i].x - s.x < best; i++)
        best = fmin(best, hypot(sorted[i].x - s.x, sorted[i].y - s.y));
    for (size_t i = at; i > 0 && sorted[i - 1].class == s.class && s.x - sorted[i - 1].x < best; i--)
        best = fmin(best, hypot(sorted[i - 1].x - s.x, sorted[i - 1].y - s.y));
    return best;
}

double shape_spots_miss(const struct shape_spot *spots, const struct shape_spot *images, size_t n)
{
    if (n == 0)
        return 0;
    struct shape_spot *sorted = base_alloc(n * sizeof *sorted);
    memcpy(sorted, spots, n * sizeof *sorted);
    qsort(sorted, n, sizeof *sorted, by_class_and_x);
    double worst = 0;
    for (size_t i = 0; i < n; i++)
        worst = fmax(worst, nearest(sorted, n, images[i]));
    free(sorted);
    return worst;
}

/* ---- the two farthest: both are corners of the hull ------------------------------------------------- */

static double side(struct shape_spot o, struct shape_spot a, struct shape_spot b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static int by_x_and_y(const void *a, const void *b)
{
    const struct shape_spot *p = a, *q = b;
    if (p->x != q->x)
        return p->x < q->x ? -1 : 1;
    return (p->y > q->y) - (p->y < q->y);
}

static size_t hull(struct shape_spot *sorted, size_t n, struct shape_spot *out)
{
    size_t count = 0;
    for (int pass = 0; pass < 2; pass++) {
        size_t base = count;
        for (size_t i = 0; i < n; i++) {
            struct shape_spot s = sorted[pass ? n - 1 - i : i];
            while (count >= base + 2 && side(out[count - 2], out[count - 1], s) <= 0)
                count--;
            out[count++] = s;
        }
        count--;
    }
    return count;
}

double shape_spots_farthest(const struct shape_spot *spots, size_t n)
{
    if (n < 2)
        return 0;
    struct shape_spot *sorted = base_alloc(n * sizeof *sorted),
                *corners = base_alloc((2 * n + 2) * sizeof *corners);
    memcpy(sorted, spots, n * sizeof *sorted);
    qsort(sorted, n, sizeof *sorted, by_x_and_y);
    size_t count = hull(sorted, n, corners);
    double far = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++)
            far = fmax(far, hypot(corners[i].x - corners[k].x, corners[i].y - corners[k].y));
    free(sorted);
    free(corners);
    return far;
}

/* Spots join the linked ones nearest first; REACH is how far each stands from those. */
double shape_spots_widest_span(const struct shape_spot *spots, size_t n)
{
    double *reach = base_alloc((n + 1) * sizeof *reach), widest = 0;
    for (size_t i = 0; i < n; i++)
        reach[i] = INFINITY;
    for (size_t linked = 0, at = 0; n && linked + 1 < n; linked++) {
        size_t next = at;
        double least = INFINITY;
        reach[at] = -1; /* linked */
        for (size_t i = 0; i < n; i++) {
            if (reach[i] < 0)
                continue;
            reach[i] = fmin(reach[i], hypot(spots[i].x - spots[at].x, spots[i].y - spots[at].y));
            if (reach[i] < least)
                least = reach[i], next = i;
        }
        widest = fmax(widest, least);
        at = next;
    }
    free(reach);
    return widest;
}
