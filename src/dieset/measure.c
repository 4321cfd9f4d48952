/* Measures: lengths that geometry works out under a property's name.
 *
 * plate.holes_in       holes that hold or locate something in the plate
 * plate.turned_miss    by how much these holes miss themselves when the plate is put on turned: see swaps.c
 * plate.mirrored_miss  the same for the plate turned over
 * plate.pair_distance  the greatest distance between two reamed holes
 * all_turned_miss      of all points of all items of the kind, when one half is turned: see swaps.c
 * all_turned_shift     how far the half then lies beside its place
 * found_miss, found_size, all_first, all_last, all_step: see along.c
 * farthest             the greatest distance between two points of an item
 * widest_span          the widest span between neighbouring points of an item
 * outline_crossings    how often an outline crosses or touches itself
 * outline_lost         how many of its opening and its punch the clearance leaves no room for
 * inside_corner        the smallest radius of its inside corners, as wire and cutter see them; 0 when one is
 * sharp
 * lane_left            from what stands in the die to the cuts that pass over it, see strip.c
 * off_strip, cut_before, slug_area, cut_x, cut_y, side_line, side_x, side_y: of what is cut of the strip,
 * see cuts.c; first_stroke, half_stroke, start_at: see first.c
 * web_left, edge_left, meets_by, overcut, finds_none, found_cut; parted_area, narrowest, narrowest_at of the
 * strip: of what is left of it, see strip.c
 * hole_left, cut_later, bottom_cut, widens, relief_left, leg_tied, in_steel: of what is formed, see forms.c
 * opening_length, opening_area, punch_length, punch_area: of the outline grown to be a die opening, and a
 * punch They hang on plan sizes only, which no state changes.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool holes_in(const struct build *b, int plate, double *out)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    *out = 0;
    for (int i = range->first; i < range->first + range->count; i++)
        *out += b->holes.at[i].spec->fastens;
    return true;
}

static bool pair_distance(const struct build *b, int plate, double *out)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    struct shape_spot *spots = base_alloc((size_t)(range->count + 1) * sizeof *spots);
    size_t n = 0;
    for (int i = range->first; i < range->first + range->count; i++) {
        if (strcmp(b->holes.at[i].spec->operation, "ream") != 0)
            continue;
        const struct dieset_hole *h = build_hole(b, i, DIESET_NEW);
        if (!h->broken)
            spots[n++] = (struct shape_spot){h->x, h->y, 0};
    }
    *out = shape_spots_farthest(spots, n);
    free(spots);
    return n >= 2;
}

/* ---- measures of an item's points ----------------------------------------------------------------- */

static bool farthest(const struct build *b, int item, double *out)
{
    spots_vec spots = {0};
    bool known = points_spots(b, item, 0, &spots) && spots.count >= 2;
    *out = known ? shape_spots_farthest(spots.at, spots.count) : 0;
    base_vec_done(&spots);
    return known;
}

static bool widest_span(const struct build *b, int item, double *out)
{
    enum { MOST = 2000 }; /* every spot is held against every other one */
    spots_vec spots = {0};
    bool known = points_spots(b, item, 0, &spots) && spots.count >= 2 && spots.count <= MOST;
    *out = known ? shape_spots_widest_span(spots.at, spots.count) : 0;
    base_vec_done(&spots);
    return known;
}

/* ---- measures of what an item cuts ------------------------------------------------------------------ */

enum cut_side { CUT_LEFT, CUT_RIGHT, CUT_FRONT, CUT_BACK, CUT_RIM };

static double side_of(const struct dieset_hole *h, enum cut_side side)
{
    const double sides[] = {h->left, -h->right, h->front, -h->back, h->rim};
    return sides[side];
}

/* The farthest to a side of its holes of OPERATION in PLATE, -1: in all; or the least of their rims to the
   plate's edge. */
static bool farthest_cut(const struct build *b, int item, const char *operation, int plate,
                         enum cut_side side, double *out)
{
    const struct rows *plates = &b->rows[b->d->contract.plate];
    double least = INFINITY;
    bool known = true;
    for (size_t p = 0; p < plates->items.count; p++) {
        int first, n = plate >= 0 && plates->items.at[p] != plate
                           ? 0
                           : build_item_holes(b, plates->items.at[p], item, &first);
        for (int i = 0; i < n && known; i++) {
            if (strcmp(b->holes.at[first + i].spec->operation, operation) != 0)
                continue;
            const struct dieset_hole *h = build_hole(b, first + i, DIESET_NEW);
            known = !h->nowhere && !isnan(side_of(h, side));
            least = fmin(least, side_of(h, side));
        }
    }
    *out = side == CUT_RIGHT || side == CUT_BACK ? -least : least;
    return known && isfinite(least);
}

static bool opening_at(const struct build *b, int item, enum cut_side side, double *out)
{
    return farthest_cut(b, item, "opening", -1, side, out);
}

static bool slug_at(const struct build *b, int item, enum cut_side side, double *out)
{
    const struct rows *plates = &b->rows[b->d->contract.plate];
    return plates->items.count &&
           farthest_cut(b, item, "slug", plates->items.at[plates->items.count - 1], side, out);
}

static bool opening_rim(const struct build *b, int item, double *out)
{
    return opening_at(b, item, CUT_RIM, out);
}
static bool opening_left(const struct build *b, int item, double *out)
{
    return opening_at(b, item, CUT_LEFT, out);
}
static bool opening_right(const struct build *b, int item, double *out)
{
    return opening_at(b, item, CUT_RIGHT, out);
}
static bool opening_front(const struct build *b, int item, double *out)
{
    return opening_at(b, item, CUT_FRONT, out);
}
static bool opening_back(const struct build *b, int item, double *out)
{
    return opening_at(b, item, CUT_BACK, out);
}
static bool slug_left(const struct build *b, int item, double *out)
{
    return slug_at(b, item, CUT_LEFT, out);
}
static bool slug_right(const struct build *b, int item, double *out)
{
    return slug_at(b, item, CUT_RIGHT, out);
}
static bool slug_front(const struct build *b, int item, double *out)
{
    return slug_at(b, item, CUT_FRONT, out);
}
static bool slug_back(const struct build *b, int item, double *out)
{
    return slug_at(b, item, CUT_BACK, out);
}

/* ---- by name ---------------------------------------------------------------------------------------- */

enum measure_of { OF_LAID = false, OF_PLATE = true, OF_STRIP };
typedef bool measure_fn(const struct build *b, int item, double *out);
static const struct { const char *name; enum measure_of of; measure_fn *work_out; bool first;
} measures[] = {
    {"off_strip", OF_LAID, cut_off_strip, true},
    {"cut_before", OF_LAID, cut_before, true},
    {"slug_area", OF_LAID, cut_slug, true},
    {"cut_x", OF_LAID, cut_middle_x, true},
    {"cut_y", OF_LAID, cut_middle_y, true},
    {"side_line", OF_LAID, cut_side_line, true},
    {"side_x", OF_LAID, cut_side_x, true},
    {"side_y", OF_LAID, cut_side_y, true},
    {"parted_area", OF_STRIP, strip_parted, true},
    {"start_at", OF_STRIP, first_start, true},
    {"first_stroke", OF_LAID, first_stroke, true},
    {"half_stroke", OF_LAID, first_half, true},
    {"narrowest", OF_STRIP, strip_narrowest, false},
    {"narrowest_at", OF_STRIP, strip_narrowest_at, false},
    {"lane_left", OF_LAID, strip_lane, false},
    {"web_left", OF_LAID, strip_web, false},
    {"edge_left", OF_LAID, strip_edge, false},
    {"meets_by", OF_LAID, strip_meets, false},
    {"overcut", OF_LAID, strip_over, false},
    {"finds_none", OF_LAID, strip_misses, false},
    {"found_cut", OF_LAID, strip_found_cut, false},
    {"hole_left", OF_LAID, form_hole_left, false},
    {"cut_later", OF_LAID, form_cut_later, false},
    {"bottom_cut", OF_LAID, form_bottom_cut, false},
    {"widens", OF_LAID, form_widens, false},
    {"relief_left", OF_LAID, form_relief, false},
    {"leg_tied", OF_LAID, form_leg_tied, false},
    {"in_steel", OF_LAID, form_in_steel, false},
    {"turned_miss", OF_PLATE, swap_turned, false},
    {"mirrored_miss", OF_PLATE, swap_flipped, false},
    {"holes_in", OF_PLATE, holes_in, false},
    {"holes_share", OF_PLATE, taken_share, false},
    {"pair_distance", OF_PLATE, pair_distance, false},
    {"all_turned_miss", OF_LAID, swap_all, false},
    {"all_turned_shift", OF_LAID, swap_all_shift, false},
    {"found_miss", OF_LAID, along_found_miss, false},
    {"found_size", OF_LAID, along_found_size, false},
    {"all_first", OF_LAID, along_first, false},
    {"all_last", OF_LAID, along_last, false},
    {"all_step", OF_LAID, along_step, false},
    {"farthest", OF_LAID, farthest, false},
    {"widest_span", OF_LAID, widest_span, false},
    {"outline_crossings", OF_LAID, outline_crossings, false},
    {"outline_lost", OF_LAID, outline_lost, false},
    {"inside_corner", OF_LAID, outline_inside_corner, false},
    {"opening_length", OF_LAID, outline_opening_length, false},
    {"opening_area", OF_LAID, outline_opening_area, false},
    {"punch_length", OF_LAID, outline_punch_length, false},
    {"punch_area", OF_LAID, outline_punch_area, false},
    {"opening_rim", OF_LAID, opening_rim, false},
    {"opening_left", OF_LAID, opening_left, false},
    {"opening_right", OF_LAID, opening_right, false},
    {"opening_front", OF_LAID, opening_front, false},
    {"opening_back", OF_LAID, opening_back, false},
    {"slug_left", OF_LAID, slug_left, false},
    {"slug_right", OF_LAID, slug_right, false},
    {"slug_front", OF_LAID, slug_front, false},
    {"slug_back", OF_LAID, slug_back, false},
};

static int find_measure(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(measures); i++)
        if (measures[i].name[0] == *name && strcmp(measures[i].name, name) == 0)
            return (int)i;
    return -1;
}

bool measure_known(const char *name) { return find_measure(name) >= 0; }

bool measure_is_first(const char *name)
{
    int m = find_measure(name);
    return m >= 0 && measures[m].first;
}

static bool work_out(const struct build *b, int item, const char *name, double *out)
{
    int m = find_measure(name), kind = b->items.at[item].kind;
    if (m < 0 || kind < 0)
        return false;
    bool fits = measures[m].of == OF_PLATE   ? kind == b->d->contract.plate
                : measures[m].of == OF_STRIP ? kind == b->d->contract.strip
                                             : handbook_kind(b->d->h, kind)->lays;
    return fits && measures[m].work_out(b, item, out);
}

/* The property of ITEM that shows measure NAME, and is kept up with it; NULL: none does. */
static const struct cell *measure_cell(const struct build *b, int item, const char *name)
{
    const struct item *it = &b->items.at[item];
    int p;
    if (it->kind < 0 || !base_map_get(&b->d->properties[it->kind], name, &p))
        return NULL;
    const struct cell *c = it->properties[p];
    return c->what == CELL_MEASURE && c->slot[0] >= 0 ? c : NULL;
}

bool dieset_measure(const struct dieset *d, int item, const char *name, enum dieset_state s, double *out)
{
    (void)s; /* plan sizes are the same in both */
    *out = NAN;
    const struct cell *c = d->now && item >= 0 ? measure_cell(d->now, item, name) : NULL;
    if (!c)
        return d->now && item >= 0 && work_out(d->now, item, name, out);
    struct formula_value v = model_value(d->now->model, c->slot[0]);
    if (!v.error)
        *out = v.number;
    return !v.error;
}

bool dieset_measure_moved(const struct dieset *d, int item, const char *name, long since)
{
    const struct cell *c = d->now && item >= 0 ? measure_cell(d->now, item, name) : NULL;
    return !c || model_moved(d->now->model, c->slot[0], since);
}

/* --- their slots in the model --------------------------------------------------------------------------- */

/* Is any so of the points of the items of KIND, of their size and the plate that they stand on? */
static bool any_of_kind(const struct build *b, int kind, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int sizes[] = {k->length, k->width, k->middle_x, k->middle_y};
    for (size_t i = 0; i < b->rows[kind].items.count; i++) {
        int item = b->rows[kind].items.at[i], diameter = swap_size(b, item);
        const struct item *own = item_points(b, item);
        for (int p = 0; p < own->n_points; p++)
            if (is(b, own->points[p].x, arg) || is(b, own->points[p].y, arg))
                return true;
        if (diameter >= 0 && is(b, b->items.at[item].properties[diameter], arg))
            return true;
        for (size_t f = 0; f < COUNT_OF(sizes) && own->plate >= 0; f++)
            if (is(b, b->items.at[own->plate].properties[sizes[f]], arg))
                return true;
    }
    return false;
}

static bool has_measure(const struct build *b, int kind, measure_fn *which)
{
    const struct handbook_kind *k = handbook_kind(b->d->h, kind);
    for (size_t m = 0; m < COUNT_OF(measures); m++)
        for (int p = 0; measures[m].work_out == which && p < k->n_properties; p++)
            if (k->properties[p].how == HANDBOOK_MEASURE &&
                strcmp(measures[m].name, k->properties[p].name) == 0)
                return true;
    return false;
}

/* Is any so of the outline of ITEM, as opening and as punch? */
static bool any_of_outline(const struct build *b, int item, cell_fn *is, void *arg)
{
    const struct item *it = &b->items.at[item];
    if (!it->n_sides)
        return false;
    const struct outline_contract *k = &b->d->contract.outlines[it->kind];
    return outline_any(b, item, is, arg) || is(b, it->properties[k->opening_grow], arg) ||
           is(b, it->properties[k->punch_grow], arg);
}

/* Is any of the cells so that ITEM's measures are worked out of? */
static bool any_cell(const struct build *b, int item, cell_fn *is, void *arg)
{
    const struct item *own = item_points(b, item), *it = &b->items.at[item];
    for (int i = 0; i < own->n_points; i++)
        if (is(b, own->points[i].x, arg) || is(b, own->points[i].y, arg))
            return true;
    if (any_of_outline(b, item, is, arg) || cuts_any(b, item, is, arg) || form_any(b, item, is, arg))
        return true;
    if ((it->kind == b->d->contract.plate || has_measure(b, it->kind, swap_all)) && swap_any(b, is, arg))
        return true;
    bool of_all = has_measure(b, it->kind, swap_all) || has_measure(b, it->kind, along_step);
    bool of_cuts = has_measure(b, it->kind, along_found_miss) || has_measure(b, it->kind, strip_lane);
    if ((of_all && any_of_kind(b, it->kind, is, arg)) || (of_cuts && along_any(b, is, arg)))
        return true;
    const struct rows *plates = &b->rows[b->d->contract.plate];
    for (size_t p = 0; p < plates->items.count && handbook_kind(b->d->h, it->kind)->outlines; p++) {
        int first, n = build_item_holes(b, plates->items.at[p], item, &first);
        for (int i = first; i < first + n; i++)
            if (hole_any(b, &b->holes.at[i], is, arg))
                return true;
    }
    int plate = it->kind == b->d->contract.plate ? item : own->plate;
    if (plate < 0)
        return false;
    const struct contract *k = &b->d->contract;
    /* a hole goes through or not */
    const int edges[] = {k->length, k->width, k->middle_x, k->middle_y, k->thickness_now};
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        if (is(b, b->items.at[plate].properties[edges[i]], arg))
            return true;
    const struct plate_holes *range = &b->plate_holes[item];
    for (int i = range->first; i < range->first + range->count; i++) {
        const struct hole *h = &b->holes.at[i];
        if (any_of_outline(b, h->item, is, arg))
            return true;
        for (int f = 0; f < FIELD_COUNT; f++)
            if (h->fields[f] && is(b, h->fields[f], arg))
                return true;
    }
    return false;
}

bool measures_hang(const struct build *b, int item, const bool *changed)
{
    return any_cell(b, item, cell_is_changed, (void *)changed);
}

int dieset_measure_origin(const struct dieset *d, int item, enum dieset_state s)
{
    struct cell_origin origin = {s, -1};
    if (!d->now || item < 0)
        return -1;
    if (any_cell(d->now, item, cell_is_broken, &origin))
        return origin.slot;
    /* a field that is an error whatever is typed elsewhere has forgotten where it arose: what is typed
       knows */
    const struct item *it = &d->now->items.at[item];
    int n = it->kind < 0 ? 0 : handbook_kind(d->h, it->kind)->n_properties;
    for (int p = 0; p < n; p++)
        if (it->properties[p]->typed && cell_is_broken(d->now, it->properties[p], &origin))
            return origin.slot;
    return -1;
}

static void set_measure(const struct build *b, const struct cell *c)
{
    double now;
    bool known = work_out(b, c->item, c->name, &now);
    struct formula_value was = model_value(b->model, c->slot[0]);
    if (known && (was.error || was.number != now))
        model_set_constant(b->model, c->slot[0], now);
    else if (!known && !was.error && model_set_code(b->model, c->slot[0], NULL, NULL) != BASE_OK)
        return; /* a slot without code closes no circle */
}

/* Visit the measures of ITEM that come first. */
static const struct cell *first_measure(const struct build *b, int item, int *p)
{
    const struct item *it = &b->items.at[item];
    const struct handbook_kind *k = it->kind < 0 ? NULL : handbook_kind(b->d->h, it->kind);
    for (; k && *p < k->n_properties; (*p)++)
        if (k->properties[*p].first)
            return it->properties[(*p)++];
    return NULL;
}

static void set_measures(struct build *b, bool first, const bool *changed)
{
    for (int i = 0; i < (int)b->items.count && !base_give_up(); i++) {
        const struct item *it = &b->items.at[i];
        const struct handbook_kind *k = it->kind < 0 ? NULL : handbook_kind(b->d->h, it->kind);
        if (!k || (changed && !measures_hang(b, i, changed)))
            continue;
        for (int p = 0; p < k->n_properties; p++)
            if (it->properties[p]->what == CELL_MEASURE && k->properties[p].first == first)
                set_measure(b, it->properties[p]);
    }
    model_recalculate(b->model);
}

/* A place may hang on what is cut at another one: so the strip is followed until nothing moves any more. */
void build_measures(struct build *b, bool first, const bool *changed)
{
    enum { ROUNDS = 8 };
    strip_stale(b);
    strip_follow(b);
    if (!first)
        set_measures(b, false, changed);
    for (int round = 0; first && round < ROUNDS && !base_give_up(); round++) {
        set_measures(b, true, NULL);
        if (!strip_follow(b))
            break;
    }
}

/* CHANGED[slot] of what hangs on the measures of ITEM that come first, themselves left out; how many. */
static int mark_readers(const struct build *b, int item, int *reach, bool *changed)
{
    int n = 0, p = 0;
    for (const struct cell *c; (c = first_measure(b, item, &p));)
        for (int i = model_reach(b->model, c->slot[0], reach); i > 0; i--, n++)
            changed[reach[i - 1]] = true;
    return n;
}

enum base_err build_circle(struct build *b, struct base_diag *why)
{
    size_t slots = (size_t)model_count(b->model) + 1;
    int *reach = base_alloc(slots * sizeof *reach), circle = -1;
    bool *changed = base_alloc(slots);
    for (int i = 0; i < (int)b->items.count && circle < 0; i++) {
        if (!mark_readers(b, i, reach, changed))
            continue;
        if (cuts_any_met(b, i, cell_is_changed, changed))
            circle = i;
        memset(changed, 0, slots);
    }
    free(reach);
    free(changed);
    return circle < 0 ? BASE_OK
                      : base_fail(why, BASE_REFUSED,
                                  "This would go in a circle: what %s cuts of the strip hangs on its places, "
                                  "sizes and the strip's width, and one of these on what it cuts.",
                                  b->items.at[circle].name);
}
