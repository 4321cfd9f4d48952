/* Bodies other than plates: posts, bushings, screws, dowels, springs, punches, blocks. Each is upright
 * between its two ends, round or by its outline, with the bore that its record names.
 */

#include "solid/parts.h"

#include <math.h>
#include <stdlib.h>

static const struct body_corner up = {0, 0, 1}, down = {0, 0, -1};

static void flat(struct body *b, double z, struct body_corner normal)
{
    body_face(b, (struct body_face){.surface = BODY_FLAT, .at = {0, 0, z}, .normal = normal, .name = ""});
}

/* ---- round ---- */

struct round {
    int low, high, seam;
};

static struct round circles(struct body *b, double radius, double high)
{
    int foot = body_corner(b, radius, 0, 0), head = body_corner(b, radius, 0, high);
    return (struct round){body_circle(b, foot, 0, 0, radius), body_circle(b, head, 0, 0, radius),
                          body_straight(b, foot, head)};
}

static void wall(struct body *b, const struct round *r, double radius, bool inward)
{
    body_face(b, (struct body_face){
                     .surface = BODY_CYLINDER, .normal = up, .radius = radius, .inward = inward, .name = ""});
    body_loop(b);
    body_use(b, inward ? r->high : r->low, true);
    body_use(b, r->seam, !inward);
    body_use(b, inward ? r->low : r->high, false);
    body_use(b, r->seam, inward);
}

static void end(struct body *b, double z, bool top, int outer, int inner)
{
    flat(b, z, top ? up : down);
    body_loop(b);
    body_use(b, outer, top);
    if (inner < 0)
        return;
    body_loop(b);
    body_use(b, inner, !top);
}

static void round_part(struct body *b, double diameter, double bore, double high)
{
    bool hollow = bore > SHAPE_NEAR && bore < diameter - SHAPE_NEAR;
    struct round out = circles(b, diameter / 2, high), in = {-1, -1, -1};
    if (hollow)
        in = circles(b, bore / 2, high);
    wall(b, &out, diameter / 2, false);
    if (hollow)
        wall(b, &in, bore / 2, true);
    end(b, 0, false, out.low, in.low);
    end(b, high, true, out.high, in.high);
}

/* ---- by an outline ---- */

static struct body_face side_wall(const struct shape_side *s)
{
    double x, y;
    if (s->radius > 0)
        return (struct body_face){.surface = BODY_CYLINDER,
                                  .at = {s->cx, s->cy, 0},
                                  .normal = up,
                                  .radius = s->radius,
                                  .inward = s->way < 0,
                                  .name = ""};
    shape_side_direction(s, false, &x, &y);
    return (
        struct body_face){.surface = BODY_FLAT, .at = {s->x0, s->y0, 0}, .normal = {y, -x, 0}, .name = ""};
}

/* SIDES go round anticlockwise. */
static void outlined_part(struct body *b, const struct shape_side *sides, int n, double high)
{
    int *posts = base_alloc((size_t)n * sizeof *posts), *feet = base_alloc((size_t)n * sizeof *feet),
        *heads = base_alloc((size_t)n * sizeof *heads);
    struct body_use *low = base_alloc((size_t)n * sizeof *low), *top = base_alloc((size_t)n * sizeof *top);
    for (int i = 0; i < n; i++) {
        feet[i] = body_corner(b, sides[i].x0, sides[i].y0, 0);
        heads[i] = body_corner(b, sides[i].x0, sides[i].y0, high);
        posts[i] = body_straight(b, feet[i], heads[i]);
    }
    for (int i = 0; i < n; i++) {
        low[i] = body_side(b, feet[i], feet[(i + 1) % n], &sides[i]);
        top[i] = body_side(b, heads[i], heads[(i + 1) % n], &sides[i]);
    }
    for (int i = 0; i < n; i++) {
        body_face(b, side_wall(&sides[i]));
        body_loop(b);
        body_uses(b, &low[i], 1, true);
        body_use(b, posts[(i + 1) % n], true);
        body_uses(b, &top[i], 1, false);
        body_use(b, posts[i], false);
    }
    flat(b, 0, down);
    body_loop(b);
    body_uses(b, low, n, false);
    flat(b, high, up);
    body_loop(b);
    body_uses(b, top, n, true);
    free(posts);
    free(feet);
    free(heads);
    free(low);
    free(top);
}

bool part_build(const struct dieset_body *d, struct body *out)
{
    double high = d->high - d->low;
    const struct dieset_hole *h = &d->plan;
    struct shape_side corners[8], *sides = corners;
    int n = h->sides ? h->n_sides : 0;
    if (!d->known || !(high > SHAPE_NEAR))
        return false;
    if (!h->sides && !(h->length > 0)) {
        if (h->diameter > 2 * SHAPE_NEAR)
            round_part(out, h->diameter, d->bore, high);
        return h->diameter > 2 * SHAPE_NEAR;
    }
    if (h->sides) {
        sides = base_alloc((size_t)n * sizeof *sides);
        for (int i = 0; i < n; i++)
            sides[i] = h->sides[i];
    } else {
        n = shape_rectangle(h->length / 2, h->width / 2, h->corner, sides);
    }
    bool whole = n > 1 && shape_crossings(sides, n, NULL, NULL) == 0 && shape_area(sides, n) != 0;
    if (whole && shape_area(sides, n) < 0)
        shape_reverse(sides, n);
    if (whole)
        outlined_part(out, sides, n, high);
    if (sides != corners)
        free(sides);
    return whole;
}

bool part_alike(const struct dieset_body *a, const struct dieset_body *b)
{
    const struct dieset_hole *p = &a->plan, *q = &b->plan;
    return p->spec == q->spec && p->item == q->item && fabs(p->diameter - q->diameter) < 1e-9 &&
           fabs(p->length - q->length) < 1e-9 && fabs(p->width - q->width) < 1e-9 &&
           fabs(p->turn - q->turn) < 1e-12 && fabs(a->bore - b->bore) < 1e-9 &&
           fabs(a->high - a->low - (b->high - b->low)) < 1e-9;
}
