/* What a plate's solid has to be by the job: its volume, and the axes and radii of its holes.
 *
 * Between two heights at which a hole begins or ends, what is cut away is the area of those holes that lie in
 * no wider one, each by its own formula: circle, rectangle with round corners, outline.
 */

#include "solid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const double near = 1e-6; /* mm */

struct holes { struct dieset_hole *at; int n; double length, width, thickness, left, front; };

static void read_holes(struct dieset *d, int plate, enum dieset_state s, struct holes *out)
{
    struct dieset_plate p = dieset_plate(d, plate, s);
    int first;
    *out = (struct holes){.n = dieset_plate_holes(d, plate, &first), .length = p.length, .width = p.width,
                          .thickness = p.thickness_now, .left = p.left, .front = p.front};
    out->at = base_alloc((size_t)(out->n + 1) * sizeof *out->at);
    for (int i = 0; i < out->n; i++)
        dieset_hole(d, first + i, s, &out->at[i]);
}

static bool is_round(const struct dieset_hole *h) { return !h->n_sides && !(h->length > 0 && h->width > 0); }

/* All round; of a slot that is open at the plate's edge the half round end lies outside. */
static double area_of(const struct dieset_hole *h)
{
    if (is_round(h))
        return pi * h->diameter * h->diameter / 4;
    if (h->length > 0 && h->width > 0)
        return h->length * h->width - (4 - pi) * h->corner * h->corner -
               (h->rim < 0 ? pi * h->corner * h->corner / 2 : 0);
    return fabs(shape_area(h->sides, h->n_sides));
}

/* Does A lie in B, or is it the same and told later? */
static bool lies_in(const struct dieset_hole *a, const struct dieset_hole *b, bool later)
{
    double x = a->x + (a->n_sides ? a->sides[0].x0 : 0), y = a->y + (a->n_sides ? a->sides[0].y0 : 0);
    double p = area_of(a), q = area_of(b);
    return dieset_covers(b, x, y) && (p < q - near || (p <= q + near && later));
}

static int by_height(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return p < q ? -1 : p > q;
}

static bool stands(const struct dieset_hole *h, double low, double high)
{
    return h->low < (low + high) / 2 && h->high > (low + high) / 2;
}

static double cut_between(const struct holes *h, double low, double high)
{
    double area = 0;
    for (int i = 0; i < h->n; i++) {
        bool hidden = !stands(&h->at[i], low, high);
        for (int k = 0; k < h->n && !hidden; k++)
            hidden = k != i && stands(&h->at[k], low, high) && lies_in(&h->at[i], &h->at[k], i > k);
        area += hidden ? 0 : area_of(&h->at[i]);
    }
    return area * (high - low);
}

/* What a tip takes below the floor of its hole, beside a narrower hole on its axis, as far as it stays in the
 * plate: what is left of a cone, less what the narrower one has taken of that already. */
static double tip_of(const struct holes *h, int i)
{
    const struct dieset_hole *a = &h->at[i];
    double left = a->from_top ? a->low : h->thickness - a->high, r = a->diameter / 2, q = 0;
    double z = a->from_top ? a->low - 1e-3 : a->high + 1e-3;
    double out = a->tip > left ? r * (1 - left / a->tip) : 0;
    for (int k = 0; k < h->n; k++) {
        const struct dieset_hole *b = &h->at[k];
        if (k == i || b->low > z || b->high < z)
            continue;
        if (lies_in(a, b, false))
            return 0; /* it ends in a wider one */
        if (is_round(b) && hypot(b->x - a->x, b->y - a->y) < near)
            q = fmax(q, b->diameter / 2);
    }
    out = fmax(out, q); /* its radius where it ends */
    double tall = a->tip * (1 - out / r);
    return pi * tall * (r * r + r * out + out * out) / 3 - pi * q * q * tall;
}

/* By how much the square of the offset counts in the area of an outline that is grown with its corners kept:
 * half the angle of its arcs, and the tangent of half the turn at each sharp corner. */
static double bends_of(const struct dieset_hole *h)
{
    if (is_round(h))
        return pi;
    if (h->length > 0 && h->width > 0)
        return h->corner > 0 ? pi : 4;
    double out = 0;
    for (int i = 0; i < h->n_sides; i++) {
        const struct shape_side *s = &h->sides[i];
        double ax, ay, bx, by;
        shape_side_direction(s, true, &ax, &ay);
        shape_side_direction(&h->sides[(i + 1) % h->n_sides], false, &bx, &by);
        out += s->radius > 0 ? s->way * s->sweep / 2 : 0;
        out += tan(atan2(ax * by - ay * bx, ax * bx + ay * by) / 2);
    }
    return out;
}

static double length_of(const struct dieset_hole *h)
{
    return is_round(h)       ? pi * h->diameter
           : h->length > 0 && h->width > 0 ? 2 * (h->length + h->width) - (8 - 2 * pi) * h->corner
                             : shape_length(h->sides, h->n_sides);
}

/* Does an arc meet its neighbour at an angle? Then the area is no polynomial of the offset. */
static bool meets_at_angle(const struct dieset_hole *h)
{
    for (int i = 0; i < h->n_sides; i++) {
        const struct shape_side *s = &h->sides[i], *t = &h->sides[(i + 1) % h->n_sides];
        double ax, ay, bx, by;
        shape_side_direction(s, true, &ax, &ay);
        shape_side_direction(t, false, &bx, &by);
        if ((s->radius > 0 || t->radius > 0) && fabs(ax * by - ay * bx) > 1e-6)
            return true;
    }
    return false;
}

/* The same by Simpson's rule over the outlines in between, which the room of shapes makes. */
static double by_steps(const struct dieset_hole *h, double k, double far, double over)
{
    enum { STEPS = 400 };
    struct shape_side *s = base_alloc((size_t)h->n_sides * sizeof *s);
    double out = 0, step = (far - over) / STEPS;
    for (int i = 0; i <= STEPS; i++) {
        ck_assert(shape_offset_sharp(h->sides, h->n_sides, k * (over + i * step), s));
        out += (i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2) *
               (shape_area(s, h->n_sides) - shape_area(h->sides, h->n_sides));
    }
    free(s);
    return out * step / 3;
}

/* What an opening takes below its land beyond its straight part: the integral of P g + c g2 down from
   there. */
static double relief_of(const struct dieset_hole *h)
{
    double k = tan(h->relief), far = h->high - h->low - h->land, over = fmax(0, -h->land);
    if (!(k > 0) || !(far > 0))
        return 0;
    if (h->n_sides && meets_at_angle(h))
        return by_steps(h, k, far, over);
    double p = length_of(h), c = bends_of(h);
    return p * k * (far * far - over * over) / 2 + c * k * k * (far * far * far - over * over * over) / 3;
}

double model_volume(struct dieset *d, int plate, enum dieset_state s)
{
    struct holes h;
    read_holes(d, plate, s, &h);
    double *at = base_alloc((size_t)(2 * h.n + 2) * sizeof *at), volume = h.length * h.width * h.thickness;
    int n = 0;
    at[n++] = 0, at[n++] = h.thickness;
    for (int i = 0; i < h.n; i++) {
        at[n++] = fmin(fmax(h.at[i].low, 0), h.thickness);
        at[n++] = fmin(fmax(h.at[i].high, 0), h.thickness);
    }
    qsort(at, (size_t)n, sizeof *at, by_height);
    for (int i = 0; i + 1 < n; i++)
        if (at[i + 1] - at[i] > 1e-9)
            volume -= cut_between(&h, at[i], at[i + 1]);
    for (int i = 0; i < h.n; i++)
        volume -= (is_round(&h.at[i]) ? tip_of(&h, i) : 0) + relief_of(&h.at[i]);
    free(at);
    free(h.at);
    return volume;
}

/* ---- holes and faces ------------------------------------------------------------------------- */

/* Is it wholly within a wider hole? Then it has no face of its own. */
static bool is_hidden(const struct holes *h, int i)
{
    for (int k = 0; k < h->n; k++)
        if (k != i && lies_in(&h->at[i], &h->at[k], i > k) && h->at[k].low <= h->at[i].low + near &&
            h->at[k].high >= h->at[i].high - near)
            return true;
    return false;
}

static bool is_face_of(const struct holes *h, const struct dieset_hole *a, const struct round_face *r)
{
    return !r->cone && r->inward && hypot(a->x - h->left - r->x, a->y - h->front - r->y) < near &&
           fabs(a->diameter / 2 - r->radius) < near && r->low > a->low - near && r->high < a->high + near;
}

/* An arc of its outline, or a corner of its rectangle: turned ones have sides. */
static bool is_corner_of(const struct holes *h, const struct dieset_hole *a, const struct round_face *r)
{
    double x = r->x - a->x + h->left, y = r->y - a->y + h->front;
    if (r->low < a->low - near || r->high > a->high + near || is_round(a))
        return false;
    for (int i = 0; i < a->n_sides; i++)
        if (a->sides[i].radius > 0 && hypot(a->sides[i].cx - x, a->sides[i].cy - y) < 1e-4 &&
            fabs(a->sides[i].radius - r->radius) < 1e-4)
            return true;
    return !a->n_sides && fabs(fabs(x) - a->length / 2 + a->corner) < near &&
           fabs(fabs(y) - a->width / 2 + a->corner) < near && fabs(a->corner - r->radius) < near;
}

/* The tip of a drill, or the relief of an opening: its axis, how it leans, and its radius where it begins. */
static bool is_taper_of(const struct holes *h, const struct dieset_hole *a, const struct round_face *r)
{
    double x = a->x - h->left, y = a->y - h->front, far = a->high - a->low - a->land;
    if (!r->cone)
        return false;
    if (a->tip > 0 && hypot(x - r->x, y - r->y) < near && r->inward)
        return fabs(tan(r->angle) - a->diameter / 2 / a->tip) < 1e-9 &&
               fabs(r->radius - a->diameter / 2) < near &&
               fabs(r->z - (a->from_top ? a->low : a->high)) < near;
    if (!(a->relief > 0) || fabs(r->angle - a->relief) > 1e-9)
        return false;
    if (is_round(a))
        return hypot(x - r->x, y - r->y) < near && r->inward &&
               fabs(r->radius - a->diameter / 2 - fmax(0, far) * tan(a->relief)) < near;
    for (int i = 0; i < a->n_sides; i++)
        if (a->sides[i].radius > 0 && hypot(a->sides[i].cx + x - r->x, a->sides[i].cy + y - r->y) < 1e-4)
            return true;
    return !a->n_sides && fabs(fabs(r->x - x) - a->length / 2 + a->corner) < near &&
           fabs(fabs(r->y - y) - a->width / 2 + a->corner) < near;
}

static void match_hole(const struct holes *h, int i, const struct round_faces *faces, struct base_text *wrong)
{
    int own = 0;
    for (size_t k = 0; k < faces->at.count; k++)
        own += is_face_of(h, &h->at[i], &faces->at.at[k]);
    if (!own)
        base_text_addf(wrong, "no face of a hole of %g at %g %g; ", h->at[i].diameter, h->at[i].x,
                       h->at[i].y);
}

void model_match(struct dieset *d, int plate, enum dieset_state s, const struct round_faces *faces,
                 struct base_text *wrong)
{
    struct holes h;
    read_holes(d, plate, s, &h);
    for (int i = 0; i < h.n; i++)
        if (is_round(&h.at[i]) && !is_hidden(&h, i))
            match_hole(&h, i, faces, wrong);
    for (size_t k = 0; k < faces->at.count; k++) {
        const struct round_face *r = &faces->at.at[k];
        bool own = false;
        for (int i = 0; i < h.n && !own; i++)
            own = is_taper_of(&h, &h.at[i], r) || is_corner_of(&h, &h.at[i], r) ||
                  (is_round(&h.at[i]) && is_face_of(&h, &h.at[i], r));
        if (!own)
            base_text_addf(wrong, "a face of radius %g at %g %g, %g to %g, that is no hole's (%s); ",
                           r->radius, r->x, r->y, r->low, r->high, r->name);
    }
    free(h.at);
}
