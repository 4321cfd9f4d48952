/* What is cut of the strip: the lines `cut` of a kind, at each point of the item, as far as they lie in
 * metal.
 *
 * The strip is a band along the feed, its middle on Y 0. What hangs over its edges cuts nothing; what runs
 * along an edge cuts nothing either.
 */

#include "dieset/build.h"
#include "diewright/shape.h"

#include <math.h>
#include <stdlib.h>

/* All of an item's points together: what their lines are in all, and what of them is cut. */
struct strip_cut { struct shape_cut whole, in; double x, y; int points; };

/* The sides of one line at its place, yours to free(); NULL: a value is missing. */
static struct shape_side *line_sides(const struct build *b, const struct hole *h, int *n)
{
    enum { RECTANGLE = 8 };
    struct dieset_hole told = {.origin = -1};
    double x = hole_field(b, h, FIELD_X, DIESET_NEW, 0, &told),
           y = hole_field(b, h, FIELD_Y, DIESET_NEW, 0, &told),
           turn = hole_field(b, h, FIELD_TURN, DIESET_NEW, 0, &told), along, across, corner;
    struct shape_side *sides = NULL;
    if (h->spec->outline) {
        sides = outline_typed(b, h->item, n);
    } else {
        along = hole_field(b, h, h->spec->diameter ? FIELD_DIAMETER : FIELD_LENGTH, DIESET_NEW, 0, &told) / 2;
        across = h->spec->diameter ? along : hole_field(b, h, FIELD_WIDTH, DIESET_NEW, 0, &told) / 2;
        corner = h->spec->diameter ? along : hole_field(b, h, FIELD_CORNER, DIESET_NEW, 0, &told);
        sides = base_alloc(RECTANGLE * sizeof *sides);
        *n = shape_rectangle(along, across, fmin(corner, fmin(along, across)), sides);
    }
    if (!sides || told.broken) {
        free(sides);
        return NULL;
    }
    shape_turn(sides, *n, turn);
    shape_shift(sides, *n, x, y);
    return sides;
}

/* The strip, as far along the feed as the sides ask; a handbook without its width has one without edges. */
static bool strip_round(const struct build *b, const struct shape_side *sides, int n,
                        struct shape_side strip[8])
{
    const struct contract *k = &b->d->contract;
    struct shape_box box = shape_box(sides, n);
    const struct cell *c = only_cell(b, k->strip, k->strip_width);
    double beyond = 1 + fmax(box.right - box.left, box.back - box.front), width;
    width = c ? cell_amount(b, c, DIESET_NEW) : 2 * (beyond + fmax(fabs(box.front), fabs(box.back)));
    if (!(width > 0) || !isfinite(beyond))
        return false;
    shape_rectangle((box.right - box.left) / 2 + beyond, width / 2, 0, strip);
    shape_shift(strip, 4, (box.left + box.right) / 2, 0);
    return true;
}

static void add_cut(struct shape_cut *sum, struct shape_cut c)
{
    sum->length += c.length, sum->along += c.along, sum->across += c.across;
}

static bool add_line(const struct build *b, const struct hole *h, struct strip_cut *out)
{
    int n;
    struct shape_side strip[8], *sides = line_sides(b, h, &n);
    bool known = sides && strip_round(b, sides, n, strip);
    for (int i = 0; known && i < n; i++)
        out->whole.length += sides[i].cuts ? shape_side_length(&sides[i]) : 0;
    if (known) {
        add_cut(&out->in, shape_cut_in(sides, n, strip, 4));
        out->x += cell_amount(b, h->fields[FIELD_X], DIESET_NEW);
        out->y += cell_amount(b, h->fields[FIELD_Y], DIESET_NEW);
        out->points++;
    }
    free(sides);
    return known;
}

/* False: a value that it is worked out of is missing. An item without such lines cuts nothing. */
static bool cut_of(const struct build *b, int item, struct strip_cut *out)
{
    bool known = true;
    *out = (struct strip_cut){.points = 0};
    for (size_t i = 0; i < b->cuts.count && known; i++)
        if (b->cuts.at[i].item == item)
            known = add_line(b, &b->cuts.at[i], out);
    return known;
}

bool cut_off_strip(const struct build *b, int item, double *out)
{
    static const double rounding = 1e-9; /* of sums of lengths, mm */
    struct strip_cut c;
    bool known = cut_of(b, item, &c);
    double off = c.points ? (c.whole.length - c.in.length) / c.points : 0;
    *out = off > rounding ? off : 0;
    return known;
}

/* The middle of what is cut; where nothing is, that of the points. */
bool cut_middle_x(const struct build *b, int item, double *out)
{
    struct strip_cut c;
    bool known = cut_of(b, item, &c) && c.points;
    *out = !known ? 0 : c.in.length > SHAPE_NEAR ? c.in.along / c.in.length : c.x / c.points;
    return known;
}

bool cut_middle_y(const struct build *b, int item, double *out)
{
    struct strip_cut c;
    bool known = cut_of(b, item, &c) && c.points;
    *out = !known ? 0 : c.in.length > SHAPE_NEAR ? c.in.across / c.in.length : c.y / c.points;
    return known;
}

bool cuts_any(const struct build *b, int item, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const struct cell *width = only_cell(b, k->strip, k->strip_width);
    bool any = false, found = false;
    for (size_t i = 0; i < b->cuts.count && !found; i++) {
        const struct hole *h = &b->cuts.at[i];
        if (h->item != item)
            continue;
        any = true;
        for (int f = 0; f < FIELD_COUNT && !found; f++)
            found = h->fields[f] && is(b, h->fields[f], arg);
        found = found || (h->spec->outline && outline_any(b, item, is, arg));
    }
    return found || (any && width && is(b, width, arg));
}
