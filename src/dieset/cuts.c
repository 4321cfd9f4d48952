/* The strip followed over its stations: what each tool cuts of it, what is gone before, what is left.
 *
 * A tool is a line `cut` of a kind at one point of an item. As the strip is fed by a pitch with each stroke,
 * what a tool meets is the band of the strip without all tools that stand one pitch or more before it, each
 * shifted on by so many pitches; of tools that meet in one stroke the one that is told first cuts first.
 * What of a tool's line lies in that metal is cut, and nothing else.
 *
 * All of it hangs on places, sizes, width, pitch and way alone: these are gathered, and nothing is worked out
 * again while they are the same.
 */

#include "dieset/strip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- what stands there ------------------------------------------------------------------------------ */

struct shape_side *strip_line_sides(const struct build *b, const struct hole *h, int *n)
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
    if (shape_area(sides, *n) < 0)
        shape_reverse(sides, *n);
    return sides;
}

static double strip_amount(const struct build *b, int property)
{
    const struct cell *c = only_cell(b, b->d->contract.strip, property);
    return c ? cell_amount(b, c, DIESET_NEW) : NAN;
}

static void tools_done(tools_vec *tools)
{
    for (size_t i = 0; i < tools->count; i++)
        free(tools->at[i].sides);
    base_vec_done(tools);
}

static bool can_follow(const struct shape_side *sides, int n, double pitch)
{
    struct shape_box box = shape_box(sides, n);
    return !(box.right - box.left + 2 * STRIP_BESIDE > STRIP_LONGEST * pitch);
}

static void gather_tool(const struct build *b, const struct hole *h, double pitch, tools_vec *out)
{
    int first, second;
    struct tool t = {.item = h->item};
    t.sides = strip_line_sides(b, h, &t.n);
    if (t.sides && !can_follow(t.sides, t.n, pitch)) {
        free(t.sides);
        t.sides = NULL;
    }
    t.x = cell_amount(b, h->fields[FIELD_X], DIESET_NEW);
    t.y = cell_amount(b, h->fields[FIELD_Y], DIESET_NEW);
    t.n = t.sides ? t.n : 0;
    t.box = shape_box(t.sides, t.n);
    t.crosses = h->spec->outline && shape_crossings(t.sides, t.n, &first, &second) > 0;
    for (int i = 0; i < t.n; i++)
        t.line += t.sides[i].cuts ? shape_side_length(&t.sides[i]) : 0;
    base_vec_push(out, t);
}

static void gather(const struct build *b, struct strip *out)
{
    const struct contract *k = &b->d->contract;
    double way = strip_amount(b, k->strip_way);
    *out = (struct strip){.width = strip_amount(b, k->strip_width), .pitch = strip_amount(b, k->strip_pitch)};
    out->way = way < 0 ? -1 : 1;
    out->banded = only_cell(b, k->strip, k->strip_width) != NULL;
    for (size_t i = 0; i < b->cuts.count; i++)
        gather_tool(b, &b->cuts.at[i], out->pitch, &out->tools);
    for (size_t i = 0; i < b->folds.count; i++)
        gather_tool(b, &b->folds.at[i], out->pitch, &out->folds);
}

static bool same_number(double a, double b) { return a == b || (isnan(a) && isnan(b)); }

static bool same_side(const struct shape_side *a, const struct shape_side *b)
{
    return a->x0 == b->x0 && a->y0 == b->y0 && a->x1 == b->x1 && a->y1 == b->y1 && a->cx == b->cx &&
           a->cy == b->cy && a->radius == b->radius && a->way == b->way && a->cuts == b->cuts;
}

static bool same_tool(const struct tool *a, const struct tool *b)
{
    bool same = a->item == b->item && a->n == b->n && same_number(a->x, b->x) && same_number(a->y, b->y);
    for (int i = 0; i < a->n && same; i++)
        same = same_side(&a->sides[i], &b->sides[i]);
    return same;
}

static bool same_tools(const tools_vec *a, const tools_vec *b)
{
    bool same = a->count == b->count;
    for (size_t i = 0; i < a->count && same; i++)
        same = same_tool(&a->at[i], &b->at[i]);
    return same;
}

static bool same_strip(const struct strip *a, const struct strip *b)
{
    return same_number(a->width, b->width) && same_number(a->pitch, b->pitch) && a->way == b->way &&
           same_tools(&a->tools, &b->tools) && same_tools(&a->folds, &b->folds);
}

/* ---- what a tool meets --------------------------------------------------------------------------------- */

/* Tools that have cut before, where they come to lie: parts to be taken off, their sides yours to free. */
typedef BASE_VEC(struct shape_part) parts_vec;

static void parts_done(parts_vec *parts)
{
    for (size_t i = 0; i < parts->count; i++)
        free((void *)parts->at[i].sides);
    base_vec_done(parts);
}

void strip_add_shifted(const struct tool *t, double by, struct shape_part *out)
{
    struct shape_side *sides = base_alloc((size_t)t->n * sizeof *sides);
    memcpy(sides, t->sides, (size_t)t->n * sizeof *sides);
    shape_shift(sides, t->n, by, 0);
    *out = (struct shape_part){sides, t->n, true};
}

int strip_pitches(const struct strip *s, const struct tool *t, double left, double right, int *first)
{
    double low = s->way > 0 ? left - t->box.right : t->box.left - right,
           high = s->way > 0 ? right - t->box.left : t->box.right - left;
    if (!(s->pitch > 0) || !isfinite(low) || !isfinite(high)) {
        *first = 0;
        return high >= 0 && low <= 0 ? 0 : -1;
    }
    *first = (int)fmax(fmin(ceil(low / s->pitch), STRIP_FAR), -STRIP_FAR);
    return (int)fmax(fmin(floor(high / s->pitch), STRIP_FAR), -STRIP_FAR);
}

/* What tool I's box meets of what was cut before it. */
static void add_before(const struct strip *s, size_t i, parts_vec *out)
{
    const struct tool *t = &s->tools.at[i];
    for (size_t k = 0; k < s->tools.count; k++) {
        const struct tool *o = &s->tools.at[k];
        if (o->spares || o->n == 0 || o->box.front > t->box.back || o->box.back < t->box.front)
            continue;
        int first, last = strip_pitches(s, o, t->box.left, t->box.right, &first), least = k < i ? 0 : 1;
        for (int p = first > least ? first : least; p <= last; p++) {
            struct shape_part part;
            strip_add_shifted(o, p ? p * s->way * s->pitch : 0, &part);
            base_vec_push(out, part);
        }
    }
}

/* The strip, as far along the feed as the tool asks; a handbook without its width has one without edges. */
static bool band_round(const struct strip *s, const struct tool *t, struct shape_side band[8])
{
    double beyond = 1 + fmax(t->box.right - t->box.left, t->box.back - t->box.front), width = s->width;
    if (!s->banded)
        width = 2 * (beyond + fmax(fabs(t->box.front), fabs(t->box.back)));
    if (!(width > 0) || !isfinite(beyond))
        return false;
    shape_rectangle((t->box.right - t->box.left) / 2 + beyond, width / 2, 0, band);
    shape_shift(band, 4, (t->box.left + t->box.right) / 2, 0);
    return true;
}

/* A side that is not cut and lies in metal holds what is outlined: it stays in the strip. */
static bool holds(const shape_rims *rims, int of)
{
    for (size_t i = 0; i < rims->count; i++)
        if (rims->at[i].of == of && !rims->at[i].side.cuts)
            return true;
    return false;
}

static void cut_tool(struct strip *s, size_t i)
{
    struct tool *t = &s->tools.at[i];
    struct shape_side band[8];
    parts_vec parts = {0};
    shape_rims rims = {0};
    t->known = t->n > 0 && band_round(s, t, band);
    if (!t->known)
        return;
    struct shape_part whole[2] = {{band, 4, false}, {t->sides, t->n, false}};
    shape_common(whole, 2, &rims);
    t->in_band = shape_rims_cut(&rims, 1).length;
    t->in = shape_rims_cut(&rims, 1);
    t->slug = shape_rims_area(&rims, -1);
    add_before(s, i, &parts);
    if (parts.count) {
        int own = (int)parts.count + 1;
        rims.count = 0;
        base_vec_push(&parts, whole[0]);
        base_vec_push(&parts, whole[1]);
        shape_common(parts.at, own + 1, &rims);
        t->in = shape_rims_cut(&rims, own);
        t->slug = shape_rims_area(&rims, -1);
        parts.count -= 2;
        t->spares = t->crosses || holds(&rims, own);
    } else {
        t->spares = t->crosses || holds(&rims, 1);
    }
    t->slug = t->spares ? 0 : t->slug;
    base_vec_done(&rims);
    parts_done(&parts);
}

/* ---- kept with the build ------------------------------------------------------------------------------- */

static void sum_items(const struct build *b, struct strip *s)
{
    s->items = base_alloc((b->items.count + 1) * sizeof *s->items);
    for (size_t i = 0; i < b->items.count; i++)
        s->items[i].known = true;
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        struct strip_item *sum = &s->items[t->item];
        sum->known = sum->known && t->known;
        sum->points++;
        sum->x += t->x, sum->y += t->y;
        sum->line += t->line, sum->in_band += t->in_band, sum->slug += t->slug;
        sum->in.length += t->in.length, sum->in.along += t->in.along, sum->in.across += t->in.across;
        sum->in.chord_x += t->in.chord_x, sum->in.chord_y += t->in.chord_y;
        sum->side = fmax(sum->side, hypot(t->in.chord_x, t->in.chord_y));
    }
}

/* Tools in the order of the feed: one that spares what it outlines is known before those that come after. */
static int by_feed(const void *a, const void *b)
{
    const struct tool *p = *(struct tool *const *)a, *q = *(struct tool *const *)b;
    return p->order != q->order ? (p->order > q->order) - (p->order < q->order) : (p > q) - (p < q);
}

static void cut_all(struct strip *s)
{
    struct tool **order = base_alloc((s->tools.count + 1) * sizeof *order);
    for (size_t i = 0; i < s->tools.count; i++) {
        order[i] = &s->tools.at[i];
        order[i]->order = isnan(order[i]->x) ? INFINITY : s->way * order[i]->x;
    }
    if (s->tools.count)
        qsort(order, s->tools.count, sizeof *order, by_feed);
    for (size_t i = 0; i < s->tools.count; i++)
        cut_tool(s, (size_t)(order[i] - s->tools.at));
    free(order);
}

static void strip_done(struct strip *s)
{
    tools_done(&s->tools);
    tools_done(&s->folds);
    base_vec_done(&s->rest);
    free(s->loops);
    free(s->items);
    *s = (struct strip){0};
}

bool strip_follow(const struct build *b)
{
    struct strip now, *kept = b->strip;
    gather(b, &now);
    kept->fresh = true;
    if (kept->items && same_strip(&now, kept)) {
        tools_done(&now.tools);
        tools_done(&now.folds);
        return false;
    }
    strip_done(kept);
    *kept = now;
    kept->fresh = true;
    cut_all(kept);
    sum_items(b, kept);
    return true;
}

void strip_stale(const struct build *b) { b->strip->fresh = false; }

const struct strip *strip_of(const struct build *b)
{
    if (!b->strip->fresh)
        strip_follow(b);
    return b->strip;
}

void strip_new(struct build *b) { b->strip = base_alloc(sizeof *b->strip); }

void strip_free(struct build *b)
{
    if (b->strip)
        strip_done(b->strip);
    free(b->strip);
}

/* ---- measures ------------------------------------------------------------------------------------------ */

static const double rounding = 1e-9; /* of sums of lengths, mm */

static double not_rounding(double x) { return x > rounding ? x : 0; }

static const struct strip_item *item_of(const struct build *b, int item, bool *known)
{
    const struct strip_item *c = &strip_of(b)->items[item];
    *known = c->known;
    return c;
}

bool cut_off_strip(const struct build *b, int item, double *out)
{
    bool known;
    const struct strip_item *c = item_of(b, item, &known);
    *out = c->points ? not_rounding((c->line - c->in.length) / c->points) : 0;
    return known;
}

bool cut_before(const struct build *b, int item, double *out)
{
    bool known;
    const struct strip_item *c = item_of(b, item, &known);
    *out = c->points ? not_rounding((c->in_band - c->in.length) / c->points) : 0;
    return known;
}

bool cut_slug(const struct build *b, int item, double *out)
{
    bool known;
    const struct strip_item *c = item_of(b, item, &known);
    *out = not_rounding(c->slug);
    return known;
}

/* The middle of what is cut; where nothing is, that of the points. */
bool cut_middle_x(const struct build *b, int item, double *out)
{
    bool known;
    const struct strip_item *c = item_of(b, item, &known);
    *out = c->in.length > SHAPE_NEAR ? c->in.along / c->in.length : c->points ? c->x / c->points : 0;
    return known && c->points;
}

bool cut_middle_y(const struct build *b, int item, double *out)
{
    bool known;
    const struct strip_item *c = item_of(b, item, &known);
    *out = c->in.length > SHAPE_NEAR ? c->in.across / c->in.length : c->points ? c->y / c->points : 0;
    return known && c->points;
}

/* What is cut is on the left of its line, so the metal that stays pushes the punch to there: square to the
 * chord, as a cut that is closed is pushed nowhere. */
bool cut_side_line(const struct build *b, int item, double *out)
{
    bool known;
    *out = not_rounding(item_of(b, item, &known)->side);
    return known;
}

static double rounded(double x) { return fabs(x) > rounding ? x : 0; }

bool cut_side_x(const struct build *b, int item, double *out)
{
    bool known;
    *out = rounded(-item_of(b, item, &known)->in.chord_y);
    return known;
}

bool cut_side_y(const struct build *b, int item, double *out)
{
    bool known;
    *out = rounded(item_of(b, item, &known)->in.chord_x);
    return known;
}

/* ---- what they hang on --------------------------------------------------------------------------------- */

static bool any_of_line(const struct build *b, const struct hole *h, cell_fn *is, void *arg)
{
    for (int f = 0; f < FIELD_COUNT; f++)
        if (h->fields[f] && is(b, h->fields[f], arg))
            return true;
    return h->spec->outline && outline_any(b, h->item, is, arg);
}

/* Where its end stands at first need not be told, and breaks nothing then. */
static bool any_of_strip(const struct build *b, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int properties[] = {k->strip_width, k->strip_pitch, k->strip_way, k->strip_first, k->strip_start};
    size_t n = COUNT_OF(properties) - (is == cell_is_broken);
    for (size_t i = 0; i < n; i++) {
        const struct cell *c = only_cell(b, k->strip, properties[i]);
        if (c && is(b, c, arg))
            return true;
    }
    return false;
}

/* Are the measures of ITEM of the strip's kind, or of one that has lines `cut`? */
static bool follows_strip(const struct build *b, int item)
{
    int kind = b->items.at[item].kind;
    return kind >= 0 && (kind == b->d->contract.strip || handbook_kind(b->d->h, kind)->n_cuts > 0 ||
                         handbook_kind(b->d->h, kind)->n_folds > 0);
}

bool cuts_any(const struct build *b, int item, cell_fn *is, void *arg)
{
    bool found = follows_strip(b, item) && any_of_strip(b, is, arg);
    for (size_t i = 0; i < b->cuts.count && !found && follows_strip(b, item); i++)
        found = any_of_line(b, &b->cuts.at[i], is, arg);
    return found;
}

/* Does a tool of ITEM meet what one of OTHER has cut before it? */
static bool meets_item(const struct strip *s, int item, int other)
{
    for (size_t i = 0; i < s->tools.count; i++)
        for (size_t k = 0; s->tools.at[i].item == item && k < s->tools.count; k++) {
            const struct tool *t = &s->tools.at[i], *o = &s->tools.at[k];
            if (o->item != other || o->box.front > t->box.back || o->box.back < t->box.front)
                continue;
            int first, last = strip_pitches(s, o, t->box.left, t->box.right, &first), least = k < i ? 0 : 1;
            if (last >= (first > least ? first : least))
                return true;
        }
    return false;
}

bool cuts_any_met(const struct build *b, int item, cell_fn *is, void *arg)
{
    const struct strip *s = strip_of(b);
    bool all = b->items.at[item].kind == b->d->contract.strip,
         found = follows_strip(b, item) && any_of_strip(b, is, arg);
    for (size_t i = 0; i < b->cuts.count && !found && follows_strip(b, item); i++) {
        const struct hole *h = &b->cuts.at[i];
        found = any_of_line(b, h, is, arg) && (all || h->item == item || meets_item(s, item, h->item));
    }
    return found;
}
