/* Distances in the plan: walls between holes, pairs of neighbours, patterns laid over themselves.
 *
 * A hole is a box with round corners - a circle is a box without extent whose corner is its radius - or an
 * outline of lines and arcs. Held against an outline a circle stays a circle, any other box becomes an
 * outline itself.
 */

#include "dieset/geometry.h"

#include "dieset/build.h"
#include "dieset/shape.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- walls -------------------------------------------------------------------------------- */

struct box { double along, across, corner; }; /* half extents inside the corner radius */

static struct box hole_box(const struct dieset_hole *h)
{
    if (h->length <= 0 || h->width <= 0)
        return (struct box){0, 0, h->diameter / 2};
    return (struct box){h->length / 2 - h->corner, h->width / 2 - h->corner, h->corner};
}

/* A has an outline. */
static double outline_wall(const struct dieset_hole *a, const struct dieset_hole *b)
{
    double x = b->x - a->x, y = b->y - a->y;
    struct box q = hole_box(b);
    struct dieset_side sides[8];
    if (b->n_sides)
        return shapes_apart(a->sides, a->n_sides, b->sides, b->n_sides, x, y);
    if (q.along > 0 || q.across > 0)
        return shapes_apart(a->sides, a->n_sides, sides,
                            shape_rectangle(q.along + q.corner, q.across + q.corner, q.corner, sides), x, y);
    double from = shape_from(a->sides, a->n_sides, x, y);
    return (shape_inside(a->sides, a->n_sides, x, y) ? -from : from) - q.corner;
}

bool dieset_covers(const struct dieset_hole *h, double x, double y)
{
    static const double rim = 1e-9;
    if (h->n_sides)
        return shape_inside(h->sides, h->n_sides, x - h->x, y - h->y) ||
               shape_from(h->sides, h->n_sides, x - h->x, y - h->y) <= rim;
    struct box b = hole_box(h);
    return hypot(fmax(fabs(x - h->x) - b.along, 0), fmax(fabs(y - h->y) - b.across, 0)) <= b.corner + rim;
}

static double shared_depth(const struct dieset_hole *p, const struct dieset_hole *q)
{
    return fmax(0, fmin(p->high, q->high) - fmax(p->low, q->low));
}

double dieset_wall(const struct dieset_hole *a, const struct dieset_hole *b, double *shared)
{
    if (shared)
        *shared = shared_depth(a, b);
    if (a->n_sides || b->n_sides)
        return a->n_sides ? outline_wall(a, b) : outline_wall(b, a);
    struct box p = hole_box(a), q = hole_box(b);
    double along = fabs(a->x - b->x) - p.along - q.along;
    double across = fabs(a->y - b->y) - p.across - q.across;
    double apart = hypot(fmax(along, 0), fmax(across, 0)) + fmin(fmax(along, across), 0);
    return apart - p.corner - q.corner;
}

/* ---- pairs by a grid -------------------------------------------------------------------------
 * A hole lies in every cell that its outline, widened by half the distance asked for, touches. Two
 * holes that are near each other share a cell; they are told in the lowest one they share. */

struct outline { double left, right, front, back; };
struct span { int left, right, front, back; }; /* cells */

struct grid {
    double x, y, step;
    int columns, rows;
    int *first;   /* columns * rows + 1: where a cell's holes start in HOLES */
    int *holes;
};

static struct outline hole_outline(const struct dieset_hole *h, double widen)
{
    return (struct outline){h->left - widen, h->right + widen, h->front - widen, h->back + widen};
}

static int cell_at(double place, double origin, double step, int count)
{
    double c = floor((place - origin) / step);
    return c < 0 ? 0 : c >= count ? count - 1 : (int)c;
}

static struct span grid_span(const struct grid *g, const struct outline *o)
{
    return (struct span){cell_at(o->left, g->x, g->step, g->columns),
                         cell_at(o->right, g->x, g->step, g->columns),
                         cell_at(o->front, g->y, g->step, g->rows), cell_at(o->back, g->y, g->step, g->rows)};
}

/* Cells about as large as a hole, and about as many as there are holes. */
static void grid_size(struct grid *g, const struct outline *o, int n)
{
    struct outline all = o[0];
    double extent = 0;
    for (int i = 0; i < n; i++) {
        all.left = fmin(all.left, o[i].left), all.right = fmax(all.right, o[i].right);
        all.front = fmin(all.front, o[i].front), all.back = fmax(all.back, o[i].back);
        extent += fmax(o[i].right - o[i].left, o[i].back - o[i].front) / n;
    }
    double length = all.right - all.left, width = all.back - all.front;
    double spread = fmax(sqrt(length * width / n), fmax(length, width) / (4.0 * n));
    g->x = all.left, g->y = all.front;
    g->step = fmax(fmax(extent, spread), 1e-3);
    g->columns = (int)(length / g->step) + 1;
    g->rows = (int)(width / g->step) + 1;
}

static void grid_fill(struct grid *g, const struct outline *o, int n)
{
    size_t cells = (size_t)g->columns * (size_t)g->rows;
    g->first = base_alloc((cells + 2) * sizeof *g->first);
    for (int pass = 0; pass < 2; pass++) {
        for (int i = 0; i < n; i++) {
            struct span s = grid_span(g, &o[i]);
            for (int row = s.front; row <= s.back; row++)
                for (int column = s.left; column <= s.right; column++) {
                    size_t c = (size_t)row * (size_t)g->columns + (size_t)column;
                    if (pass == 0)
                        g->first[c + 2]++;
                    else
                        g->holes[g->first[c + 1]++] = i;
                }
        }
        if (pass == 0) {
            for (size_t c = 2; c < cells + 2; c++)
                g->first[c] += g->first[c - 1];
            g->holes = base_alloc(((size_t)g->first[cells + 1] + 1) * sizeof *g->holes);
        }
    }
}

struct pair { int a, b; double wall; };

static int by_holes(const void *x, const void *y)
{
    const struct pair *p = x, *q = y;
    if (p->a != q->a)
        return p->a < q->a ? -1 : 1;
    return (p->b > q->b) - (p->b < q->b);
}

struct search {
    const struct dieset_hole *const *holes;
    const struct span *spans;
    double within;
    near_accept_fn *accept;
    void *arg;
    BASE_VEC(struct pair) found;
};

static void try_pair(struct search *s, const struct grid *g, int cell, int i, int k)
{
    struct span p = s->spans[i], q = s->spans[k];
    int row = p.front > q.front ? p.front : q.front, column = p.left > q.left ? p.left : q.left;
    if (row * g->columns + column != cell)
        return;
    struct pair pair = {.a = i < k ? i : k, .b = i < k ? k : i};
    if (!s->accept(s->arg, pair.a, pair.b))
        return;
    pair.wall = dieset_wall(s->holes[pair.a], s->holes[pair.b], NULL);
    if (pair.wall < s->within)
        base_vec_push(&s->found, pair);
}

static void search_grid(struct search *s, const struct grid *g)
{
    for (int c = 0; c < g->columns * g->rows; c++)
        for (int i = g->first[c]; i < g->first[c + 1]; i++)
            for (int k = i + 1; k < g->first[c + 1]; k++)
                try_pair(s, g, c, g->holes[i], g->holes[k]);
}

void near_pairs(const struct dieset_hole *const *at, int n, double within, near_accept_fn *accept,
                near_pair_fn *visit, void *arg)
{
    if (n < 2)
        return;
    struct outline *outlines = base_alloc((size_t)n * sizeof *outlines);
    struct span *spans = base_alloc((size_t)n * sizeof *spans);
    for (int i = 0; i < n; i++)
        outlines[i] = hole_outline(at[i], fmax(within, 0) / 2 + 1e-6);
    struct grid g = {0};
    grid_size(&g, outlines, n);
    grid_fill(&g, outlines, n);
    for (int i = 0; i < n; i++)
        spans[i] = grid_span(&g, &outlines[i]);
    struct search search = {.holes = at, .spans = spans, .within = within, .accept = accept, .arg = arg};
    search_grid(&search, &g);
    if (search.found.count)
        qsort(search.found.at, search.found.count, sizeof *search.found.at, by_holes);
    for (size_t i = 0; i < search.found.count; i++)
        visit(arg, search.found.at[i].a, search.found.at[i].b, search.found.at[i].wall);
    base_vec_done(&search.found);
    free(g.first);
    free(g.holes);
    free(spans);
    free(outlines);
}

/* ---- pairs of holes of a plate ------------------------------------------------------------------- */

struct plate_pairs {
    const struct build *b;
    const struct dieset_hole *holes;
    int first;
    dieset_pair_fn *visit;
    void *arg;
};

/* One fastener on one axis: a counterbore and the clear hole under it, a bushing round its post. */
static bool one_axis(const struct build *b, const struct dieset_hole *p, const struct dieset_hole *q)
{
    bool same = p->item == q->item ||
                (p->point >= 0 && q->point >= 0 && item_points(b, p->item) == item_points(b, q->item));
    return same && p->point == q->point && hypot(p->x - q->x, p->y - q->y) < 1e-6;
}

static bool share_depth(void *arg, int i, int k)
{
    const struct plate_pairs *pp = arg;
    const struct dieset_hole *p = &pp->holes[i], *q = &pp->holes[k];
    return shared_depth(p, q) > 0 && !p->nowhere && !q->nowhere && !one_axis(pp->b, p, q);
}

static void visit_pair(void *arg, int i, int k, double wall)
{
    const struct plate_pairs *pp = arg;
    pp->visit(pp->arg, pp->first + i, pp->first + k, wall, shared_depth(&pp->holes[i], &pp->holes[k]));
}

void dieset_pairs(const struct dieset *d, int plate, enum dieset_state s, double within,
                  dieset_pair_fn *visit, void *arg)
{
    int first, n = dieset_plate_holes(d, plate, &first);
    if (n < 2)
        return;
    struct dieset_hole *holes = base_alloc((size_t)n * sizeof *holes);
    const struct dieset_hole **at = base_alloc((size_t)n * sizeof(*at));
    for (int i = 0; i < n; i++) {
        dieset_hole(d, first + i, s, &holes[i]);
        at[i] = &holes[i];
    }
    struct plate_pairs pairs = {d->now, holes, first, visit, arg};
    near_pairs(at, n, within, share_depth, visit_pair, &pairs);
    free(at);
    free(holes);
}

/* ---- a pattern laid over itself ------------------------------------------------------------------ */

struct spot spot_moved(struct spot s, double middle_x, double middle_y, enum way way)
{
    double x = s.x - middle_x, y = s.y - middle_y;
    static const struct { int xx, xy, yx, yy;
    } ways[WAY_COUNT] = {
        [TURN_HALF] = {-1, 0, 0, -1},  [TURN_LEFT] = {0, -1, 1, 0},  [TURN_RIGHT] = {0, 1, -1, 0},
        [OVER_LENGTH] = {1, 0, 0, -1}, [OVER_WIDTH] = {-1, 0, 0, 1}, [OVER_LEFT] = {0, 1, 1, 0},
        [OVER_RIGHT] = {0, -1, -1, 0},
    };
    s.x = middle_x + ways[way].xx * x + ways[way].xy * y;
    s.y = middle_y + ways[way].yx * x + ways[way].yy * y;
    return s;
}

static int by_class_and_x(const void *a, const void *b)
{
    const struct spot *p = a, *q = b;
    if (p->class != q->class)
        return p->class < q->class ? -1 : 1;
    return (p->x > q->x) - (p->x < q->x);
}

/* The first of the sorted spots that does not stand before S. */
static size_t lower(const struct spot *sorted, size_t n, struct spot s)
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

static double nearest(const struct spot *sorted, size_t n, struct spot s)
{
    double best = INFINITY;
    size_t at = lower(sorted, n, s);
    for (size_t i = at; i < n && sorted[i].class == s.class && sorted[i].x - s.x < best; i++)
        best = fmin(best, hypot(sorted[i].x - s.x, sorted[i].y - s.y));
    for (size_t i = at; i > 0 && sorted[i - 1].class == s.class && s.x - sorted[i - 1].x < best; i--)
        best = fmin(best, hypot(sorted[i - 1].x - s.x, sorted[i - 1].y - s.y));
    return best;
}

double spots_miss(const struct spot *spots, const struct spot *images, size_t n)
{
    if (n == 0)
        return 0;
    struct spot *sorted = base_alloc(n * sizeof *sorted);
    memcpy(sorted, spots, n * sizeof *sorted);
    qsort(sorted, n, sizeof *sorted, by_class_and_x);
    double worst = 0;
    for (size_t i = 0; i < n; i++)
        worst = fmax(worst, nearest(sorted, n, images[i]));
    free(sorted);
    return worst;
}

/* ---- the two farthest: both are corners of the hull ------------------------------------------------- */

static double side(struct spot o, struct spot a, struct spot b)
{
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static int by_x_and_y(const void *a, const void *b)
{
    const struct spot *p = a, *q = b;
    if (p->x != q->x)
        return p->x < q->x ? -1 : 1;
    return (p->y > q->y) - (p->y < q->y);
}

static size_t hull(struct spot *sorted, size_t n, struct spot *out)
{
    size_t count = 0;
    for (int pass = 0; pass < 2; pass++) {
        size_t base = count;
        for (size_t i = 0; i < n; i++) {
            struct spot s = sorted[pass ? n - 1 - i : i];
            while (count >= base + 2 && side(out[count - 2], out[count - 1], s) <= 0)
                count--;
            out[count++] = s;
        }
        count--;
    }
    return count;
}

double spots_farthest(const struct spot *spots, size_t n)
{
    if (n < 2)
        return 0;
    struct spot *sorted = base_alloc(n * sizeof *sorted),
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
double spots_widest_span(const struct spot *spots, size_t n)
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
