/* How narrow an area gets: what is left of it on lines across. See diewright/shape.h.
 *
 * Between two places where a side ends or an arc is farthest from its middle line, each strand's width is a
 * sum of straight lines and arcs, none of which turns round; where arcs are among them the least may lie
 * between, and is searched by thirds.
 */

#include "shape/side.h"

#include <math.h>
#include <stdlib.h>

struct spans {
    const shape_rims *rims;
    struct shape_box *boxes; /* of each piece */
    BASE_VEC(int) here;      /* pieces that the lines at hand can meet */
    BASE_VEC(double) heights;
    bool round;              /* one of these is an arc */
};

static int by_height(const void *a, const void *b)
{
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

/* Where the piece meets the line at X: at most two heights. */
static void add_heights(struct spans *s, const struct shape_side *side, double x)
{
    if (!(side->radius > 0)) {
        double share = (x - side->x0) / (side->x1 - side->x0);
        base_vec_push(&s->heights, side->y0 + share * (side->y1 - side->y0));
        return;
    }
    double off = x - side->cx, rise = sqrt(fmax(0, side->radius * side->radius - off * off));
    for (int way = -1; way <= 1; way += 2)
        if (side_from(side, x, side->cy + way * rise) <= SHAPE_NEAR)
            base_vec_push(&s->heights, side->cy + way * rise);
}

static struct shape_section section_at(struct spans *s, double x)
{
    struct shape_section out = {.x = x, .narrow = INFINITY};
    s->heights.count = 0;
    for (size_t i = 0; i < s->here.count; i++)
        add_heights(s, &s->rims->at[s->here.at[i]].side, x);
    if (s->heights.count)
        qsort(s->heights.at, s->heights.count, sizeof *s->heights.at, by_height);
    for (size_t i = 1; i < s->heights.count; i += 2) {
        double wide = s->heights.at[i] - s->heights.at[i - 1];
        out.wide += wide, out.narrow = fmin(out.narrow, wide), out.strands++;
    }
    return out;
}

/* The pieces that cross all of LEFT to RIGHT. */
static void find_here(struct spans *s, double left, double right)
{
    s->here.count = 0;
    s->round = false;
    for (size_t i = 0; i < s->rims->count; i++)
        if (s->boxes[i].left <= left && s->boxes[i].right >= right) {
            base_vec_push(&s->here, (int)i);
            s->round = s->round || s->rims->at[i].side.radius > 0;
        }
}

static void keep_least(struct shape_section *least, struct shape_section s)
{
    if (s.wide < least->wide - 1e-9)
        *least = s;
}

static void keep_at(struct shape_section *least, struct shape_section s, double x)
{
    s.x = x;
    keep_least(least, s);
}

/* The least between two neighbouring places. */
static void search(struct spans *s, double left, double right, struct shape_section *least)
{
    enum { ROUNDS = 40 };
    static const double aside = 1e-6; /* mm: not on a side that stands across */
    double low = left + aside, high = right - aside;
    if (high < low)
        return;
    find_here(s, low, high);
    keep_at(least, section_at(s, low), left);
    keep_at(least, section_at(s, high), right);
    for (int i = 0; i < ROUNDS && s->round; i++) {
        double a = low + (high - low) / 3, b = high - (high - low) / 3;
        if (section_at(s, a).wide < section_at(s, b).wide)
            high = b;
        else
            low = a;
    }
    if (s->round)
        keep_least(least, section_at(s, (low + high) / 2));
}

bool shape_narrowest(const shape_rims *rims, double from, double to, struct shape_section *out)
{
    double left = fmin(from, to), right = fmax(from, to);
    struct spans s = {.rims = rims, .boxes = base_alloc((rims->count + 1) * sizeof *s.boxes)};
    BASE_VEC(double) places = {0};
    base_vec_push(&places, left);
    base_vec_push(&places, right);
    for (size_t i = 0; i < rims->count; i++) {
        const struct shape_side *side = &rims->at[i].side;
        s.boxes[i] = shape_box(side, 1);
        const double at[] = {s.boxes[i].left, s.boxes[i].right, side->radius > 0 ? side->cx : left};
        for (size_t k = 0; k < COUNT_OF(at); k++)
            if (at[k] > left && at[k] < right)
                base_vec_push(&places, at[k]);
    }
    qsort(places.at, places.count, sizeof *places.at, by_height);
    *out = (struct shape_section){.wide = INFINITY};
    for (size_t i = 1; i < places.count; i++) {
        size_t at = from <= to ? i : places.count - i;
        search(&s, places.at[at - 1], places.at[at], out);
    }
    base_vec_done(&places);
    base_vec_done(&s.here);
    base_vec_done(&s.heights);
    free(s.boxes);
    return isfinite(out->wide);
}
