/* Pairs that are near each other, by a grid: what has a box lies in every cell that the box, widened by half
 * the distance asked for, touches. Two that are near each other share a cell; they are told in the lowest one
 * they share.
 */

#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>

struct span { int left, right, front, back; }; /* cells */

struct grid {
    double x, y, step;
    int columns, rows;
    int *first;   /* columns * rows + 1: where what is in a cell starts in ALL */
    int *all;
};

static struct shape_box widened(const struct shape_box *b, double by)
{
    return (struct shape_box){b->left - by, b->right + by, b->front - by, b->back + by};
}

static int cell_at(double place, double origin, double step, int count)
{
    double c = floor((place - origin) / step);
    return c < 0 ? 0 : c >= count ? count - 1 : (int)c;
}

static struct span grid_span(const struct grid *g, const struct shape_box *o)
{
    return (struct span){cell_at(o->left, g->x, g->step, g->columns),
                         cell_at(o->right, g->x, g->step, g->columns),
                         cell_at(o->front, g->y, g->step, g->rows), cell_at(o->back, g->y, g->step, g->rows)};
}

/* Cells about as large as a box, and about as many as there are boxes. */
static void grid_size(struct grid *g, const struct shape_box *o, int n)
{
    struct shape_box all = o[0];
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

static void grid_fill(struct grid *g, const struct shape_box *o, int n)
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
                        g->all[g->first[c + 1]++] = i;
                }
        }
        if (pass == 0) {
            for (size_t c = 2; c < cells + 2; c++)
                g->first[c] += g->first[c - 1];
            g->all = base_alloc(((size_t)g->first[cells + 1] + 1) * sizeof *g->all);
        }
    }
}

struct pair { int a, b; double wall; };

static int by_numbers(const void *x, const void *y)
{
    const struct pair *p = x, *q = y;
    if (p->a != q->a)
        return p->a < q->a ? -1 : 1;
    return (p->b > q->b) - (p->b < q->b);
}

struct search {
    const struct span *spans;
    double within;
    shape_wall_fn *wall;
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
    pair.wall = s->wall(s->arg, pair.a, pair.b);
    if (pair.wall < s->within)
        base_vec_push(&s->found, pair);
}

static void search_grid(struct search *s, const struct grid *g)
{
    for (int c = 0; c < g->columns * g->rows; c++)
        for (int i = g->first[c]; i < g->first[c + 1]; i++)
            for (int k = i + 1; k < g->first[c + 1]; k++)
                try_pair(s, g, c, g->all[i], g->all[k]);
}

void shape_pairs(const struct shape_box *boxes, int n, double within, shape_wall_fn *wall,
                 shape_pair_fn *visit, void *arg)
{
    if (n < 2)
        return;
    struct shape_box *wide = base_alloc((size_t)n * sizeof *wide);
    struct span *spans = base_alloc((size_t)n * sizeof *spans);
    for (int i = 0; i < n; i++)
        wide[i] = widened(&boxes[i], fmax(within, 0) / 2 + 1e-6);
    struct grid g = {0};
    grid_size(&g, wide, n);
    grid_fill(&g, wide, n);
    for (int i = 0; i < n; i++)
        spans[i] = grid_span(&g, &wide[i]);
    struct search search = {.spans = spans, .within = within, .wall = wall, .arg = arg};
    search_grid(&search, &g);
    if (search.found.count)
        qsort(search.found.at, search.found.count, sizeof *search.found.at, by_numbers);
    for (size_t i = 0; i < search.found.count; i++)
        visit(arg, search.found.at[i].a, search.found.at[i].b, search.found.at[i].wall);
    base_vec_done(&search.found);
    free(g.first);
    free(g.all);
    free(spans);
    free(wide);
}
