/* Spots in the plan: a pattern laid over itself, the two farthest, the widest span between neighbours. */

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct shape_spot shape_spot_moved(struct shape_spot s, double middle_x, double middle_y, enum shape_way way)
{
    double x = s.x - middle_x, y = s.y - middle_y;
    static const struct {
        int xx, xy, yx, yy;
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

/* The distance to the nearest of S's class, *WHICH it is; infinite when there is none. */
static double nearest(const struct shape_spot *sorted, size_t n, struct shape_spot s, size_t *which)
{
    double best = INFINITY;
    size_t at = lower(sorted, n, s);
    for (size_t i = at; i < n && sorted[i].class == s.class && sorted[i].x - s.x < best; i++) {
        double d = shape_distance(sorted[i].x - s.x, sorted[i].y - s.y);
        if (d < best)
            best = d, *which = i;
    }
    for (size_t i = at; i > 0 && sorted[i - 1].class == s.class && s.x - sorted[i - 1].x < best; i--) {
        double d = shape_distance(sorted[i - 1].x - s.x, sorted[i - 1].y - s.y);
        if (d < best)
            best = d, *which = i - 1;
    }
    return best;
}

static struct shape_spot *sorted_copy(const struct shape_spot *spots, size_t n)
{
    struct shape_spot *sorted = base_alloc((n + 1) * sizeof *sorted);
    if (n)
        memcpy(sorted, spots, n * sizeof *sorted); /* of none there is no address to copy from */
    qsort(sorted, n, sizeof *sorted, by_class_and_x);
    return sorted;
}

double shape_spots_miss(const struct shape_spot *spots, const struct shape_spot *images, size_t n)
{
    struct shape_spot *sorted = sorted_copy(spots, n);
    double worst = 0;
    size_t which;
    for (size_t i = 0; i < n; i++)
        worst = fmax(worst, nearest(sorted, n, images[i], &which));
    free(sorted);
    return worst;
}

/* ---- the best fit of a pattern laid over itself, wherever it then lies --------------------------------- */

struct circle {
    double x, y, r;
};

static bool outside(struct circle c, struct shape_spot p)
{
    return shape_distance(p.x - c.x, p.y - c.y) > c.r + 1e-9;
}

static struct circle on_two(struct shape_spot a, struct shape_spot b)
{
    return (struct circle){(a.x + b.x) / 2, (a.y + b.y) / 2, shape_distance(a.x - b.x, a.y - b.y) / 2};
}

static struct circle on_three(struct shape_spot a, struct shape_spot b, struct shape_spot c)
{
    double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y, d = 2 * (bx * cy - by * cx);
    if (fabs(d) < 1e-12) /* in line: two of them hold the third */
        return on_two(a, c);
    double bb = bx * bx + by * by, cc = cx * cx + cy * cy;
    double x = (cy * bb - by * cc) / d, y = (bx * cc - cx * bb) / d;
    return (struct circle){a.x + x, a.y + y, shape_distance(x, y)};
}

/* The least circle round N spots, each put in in turn: a spot outside of the circle so far lies on the next
   one. In no order of their own, so that few are outside. */
static struct circle least_circle(struct shape_spot *p, size_t n)
{
    unsigned seed = 1;
    for (size_t i = n; i > 1; i--) {
        size_t k = (seed = seed * 1103515245u + 12345u) / 65536 % i;
        struct shape_spot other = p[k];
        p[k] = p[i - 1], p[i - 1] = other;
    }
    struct circle c = {p[0].x, p[0].y, 0};
    for (size_t i = 1; i < n; i++) {
        if (!outside(c, p[i]))
            continue;
        c = (struct circle){p[i].x, p[i].y, 0};
        for (size_t j = 0; j < i; j++) {
            if (!outside(c, p[j]))
                continue;
            c = on_two(p[i], p[j]);
            for (size_t k = 0; k < j; k++)
                if (outside(c, p[k]))
                    c = on_three(p[i], p[j], p[k]);
        }
    }
    return c;
}

struct fit {
    const struct shape_spot *sorted, *images;
    size_t n;
    struct shape_spot *off;
};

/* Shifts about X, Y as is best for the spots that are nearest then; the miss that is left. */
static double settle(const struct fit *f, double *x, double *y)
{
    double miss = INFINITY;
    for (int round = 0; round < 4; round++) {
        size_t which = 0;
        for (size_t i = 0; i < f->n; i++) {
            struct shape_spot s = f->images[i];
            s.x += *x, s.y += *y;
            if (isinf(nearest(f->sorted, f->n, s, &which)))
                return INFINITY;
            f->off[i] = (struct shape_spot){f->sorted[which].x - f->images[i].x,
                                            f->sorted[which].y - f->images[i].y, 0};
        }
        struct circle c = least_circle(f->off, f->n);
        if (c.r > miss - 1e-9)
            break;
        miss = c.r, *x = c.x, *y = c.y;
    }
    return miss;
}

static int by_shift(const void *a, const void *b)
{
    const struct shape_spot *p = a, *q = b;
    double d = shape_distance(p->x, p->y) - shape_distance(q->x, q->y);
    return (d > 0) - (d < 0);
}

/* The first of the class of which there are fewest. */
static size_t rarest(const struct shape_spot *sorted, size_t n)
{
    size_t best = 0, fewest = n + 1;
    for (size_t i = 0, k; i < n; i = k) {
        for (k = i; k < n && sorted[k].class == sorted[i].class;)
            k++;
        if (k - i < fewest)
            fewest = k - i, best = i;
    }
    return best;
}

/* The shifts of at most MOST that bring the first image of the rarest class onto a spot of it, least first */
static size_t shifts_of(const struct fit *f, double most, struct shape_spot *out)
{
    size_t first = rarest(f->sorted, f->n), count = 0, at = 0;
    int class = f->sorted[first].class;
    while (at < f->n && f->images[at].class != class)
        at++;
    for (size_t i = first; i < f->n && f->sorted[i].class == class && at < f->n; i++) {
        struct shape_spot s = {f->sorted[i].x - f->images[at].x, f->sorted[i].y - f->images[at].y, 0};
        if (shape_distance(s.x, s.y) <= most)
            out[count++] = s;
    }
    qsort(out, count, sizeof *out, by_shift);
    return count;
}

double shape_spots_fit(const struct shape_spot *spots, const struct shape_spot *images, size_t n, double most,
                       double *x, double *y)
{
    enum { TRIED = 64 };
    struct shape_spot *sorted = sorted_copy(spots, n), *off = base_alloc((n + 1) * sizeof *off),
                      *shifts = base_alloc((n + 1) * sizeof *shifts);
    struct fit f = {sorted, images, n, off};
    double miss = n ? INFINITY : 0;
    *x = *y = 0;
    size_t count = n ? shifts_of(&f, most, shifts) : 0;
    for (size_t i = 0; i < count && i < TRIED; i++) {
        double sx = shifts[i].x, sy = shifts[i].y, left = settle(&f, &sx, &sy);
        if (left < miss - 1e-9)
            miss = left, *x = sx, *y = sy;
    }
    free(shifts);
    free(off);
    free(sorted);
    return miss;
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
    if (n)
        memcpy(sorted, spots, n * sizeof *sorted); /* of none there is no address to copy from */
    qsort(sorted, n, sizeof *sorted, by_x_and_y);
    size_t count = hull(sorted, n, corners);
    double far = 0;
    for (size_t i = 0; i < count; i++)
        for (size_t k = i + 1; k < count; k++)
            far = fmax(far, shape_distance(corners[i].x - corners[k].x, corners[i].y - corners[k].y));
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
            reach[i] = fmin(reach[i], shape_distance(spots[i].x - spots[at].x, spots[i].y - spots[at].y));
            if (reach[i] < least)
                least = reach[i], next = i;
        }
        widest = fmax(widest, least);
        at = next;
    }
    free(reach);
    return widest;
}
