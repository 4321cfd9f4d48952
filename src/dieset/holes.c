/* Holes and bodies: derived from the items that make them, holes plate by plate.
 *
 * Each line `hole` of a kind, in each plate it names, at each point of the item, as often as it says; a line
 * `body` likewise on its plate. A field's formula is bound once for all points, unless it asks for the point
 * or the index.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_HOLES = 200000, OFTEN = 1000 /* holes between two looks at the keys */ };

/* One hole line in one plate, before anything is made of it: all are counted first, so that what is beyond
   use is told at once. */
struct lot {
    int item, plate, end_plate, points, repeat;
    const struct handbook_hole *spec;
    const char *path;
};
struct lots { BASE_VEC(struct lot) at; double holes; };

struct making { /* one hole line in one plate */
    struct build *b;
    struct lots *lots;
    int item, plate, end_plate;
    const struct handbook_hole *spec;
    const char *path; /* "die_screws.tap" */
    struct cell *shared[FIELD_COUNT];
    struct grown *grown[DIESET_STATES];
};

static const struct formula_tree *field_tree(const struct handbook_hole *h, enum hole_field f)
{
    const struct formula_tree *const trees[FIELD_COUNT] = {
        [FIELD_X] = h->x,
        [FIELD_Y] = h->y,
        [FIELD_DIAMETER] = h->diameter,
        [FIELD_FROM_TOP] = h->from_top,
        [FIELD_START] = h->start,
        [FIELD_DEPTH] = h->depth,
        [FIELD_THREAD_DEPTH] = h->thread_depth,
        [FIELD_FIT] = h->fit,
        [FIELD_THREAD] = h->thread,
        [FIELD_NOMINAL] = h->nominal,
        [FIELD_LENGTH] = h->length,
        [FIELD_WIDTH] = h->width,
        [FIELD_CORNER] = h->corner,
        [FIELD_OUTLINE] = h->outline,
        [FIELD_TURN] = h->turn,
        [FIELD_ROOM] = h->room,
        [FIELD_TIP] = h->tip,
        [FIELD_LAND] = h->land,
        [FIELD_RELIEF] = h->relief,
        [FIELD_FROM] = h->from,
        [FIELD_TO] = h->to,
        [FIELD_BORE] = h->bore,
    };
    return trees[f];
}

static struct handbook_type field_type(enum hole_field f)
{
    switch (f) {
    case FIELD_FROM_TOP:
        return (struct handbook_type){HANDBOOK_YESNO, {.sort = FORMULA_YESNO}};
    case FIELD_FIT:
    case FIELD_THREAD:
        return (struct handbook_type){HANDBOOK_TEXT, {.sort = FORMULA_TEXT}};
    case FIELD_TURN:
    case FIELD_RELIEF:
        return (struct handbook_type){HANDBOOK_NUMBER,
                                      {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}}};
    default:
        return (struct handbook_type){HANDBOOK_NUMBER,
                                      {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}};
    }
}

static struct frame hole_frame(const struct making *m, int point, int index)
{
    return (struct frame){.b = m->b,
                          .where = IN_HOLE,
                          .item = m->item,
                          .plate = m->plate,
                          .point = point,
                          .index = index,
                          .told = -1};
}

/* ---- fields ---------------------------------------------------------------------------------- */

static const char *const field_names[FIELD_COUNT] = {
    "x",      "y",     "diameter", "from_top", "start", "depth", "thread_depth", "fit", "thread", "nominal",
    "length", "width", "corner",   "outline",  "turn",  "room",  "tip",          "land", "relief", "from",
    "to",     "bore"};

static struct cell *new_field(struct making *m, enum hole_field f, const struct formula_tree *tree, int point,
                              int index)
{
    struct cell c = {.what = CELL_FIELD,
                     .item = m->item,
                     .number = (int)f,
                     .point = point,
                     .index = index,
                     .plate = m->plate,
                     .type = field_type(f),
                     .name = field_names[f],
                     .entry = "",
                     .tree = tree};
    c.path = base_arena_format(&m->b->memory, "%s in %s, %s", m->path, m->b->items.at[m->plate].name,
                               field_names[f]);
    c.title = c.name;
    return build_cell(m->b, &c);
}

static enum base_err bind_field_step(struct build *b, int id, struct base_diag *why)
{
    return bind_need(b, b->cells.at[id], DIESET_GROUND, why);
}

/* The place of a hole without formulas of its own: the point's, or the item's own x and y. */
static struct cell *usual_place(const struct making *m, enum hole_field f, int point)
{
    if (f != FIELD_X && f != FIELD_Y)
        return NULL;
    if (point >= 0) {
        const struct point *p = &item_points(m->b, m->item)->points[point];
        return f == FIELD_X ? p->x : p->y;
    }
    const struct item *it = &m->b->items.at[m->item];
    int n;
    return base_map_get(&m->b->d->properties[it->kind], field_names[f], &n) ? it->properties[n] : NULL;
}

/* "turn = turn", the point's own. */
static bool turns_with_point(const struct hole *h, enum hole_field f)
{
    const char *name;
    return f == FIELD_TURN && h->point >= 0 && h->spec->turn && formula_is_name(h->spec->turn, &name) &&
           strcmp(name, "turn") == 0;
}

static enum base_err make_field(struct making *m, struct hole *h, enum hole_field f, struct base_diag *why)
{
    const struct formula_tree *tree = field_tree(h->spec, f);
    if (turns_with_point(h, f)) {
        h->fields[f] = item_points(m->b, m->item)->points[h->point].turn;
        return BASE_OK;
    }
    if (!tree || m->shared[f]) {
        h->fields[f] = tree ? m->shared[f] : usual_place(m, f, h->point);
        return BASE_OK;
    }
    struct cell *c = new_field(m, f, tree, h->point, h->index);
    enum base_err err = bind_step(m->b, bind_field_step, c->id, why);
    if (!err && !c->at_point)
        m->shared[f] = c;
    h->fields[f] = c;
    return err;
}

static enum base_err make_hole(struct making *m, int point, int index, struct base_diag *why)
{
    struct hole h = {.plate = m->plate, .item = m->item, .point = point, .index = index,
                     .end_plate = m->end_plate, .spec = m->spec};
    memcpy(h.grown, m->grown, sizeof h.grown);
    if (m->spec->turn && !m->spec->cuts && !m->spec->folds) {
        h.turned = base_arena_alloc(&m->b->memory, sizeof *h.turned);
        *h.turned = (struct turned){{NULL}};
    }
    enum base_err err = BASE_OK;
    for (int f = 0; f < FIELD_COUNT && !err; f++)
        err = make_field(m, &h, (enum hole_field)f, why);
    if (!err && m->spec->cuts)
        base_vec_push(&m->b->cuts, h);
    else if (!err && m->spec->folds)
        base_vec_push(&m->b->folds, h);
    else if (!err && m->spec->from)
        base_vec_push(&m->b->bodies, h);
    else if (!err)
        base_vec_push(&m->b->holes, h);
    return err;
}

/* ---- how many, and where ---------------------------------------------------------------------------- */

static enum base_err settled(const struct making *m, const struct formula_tree *t, enum formula_sort sort,
                             struct formula_value *v, struct base_diag *why)
{
    struct frame f = hole_frame(m, -1, -1);
    return bind_settled(&f, t, (struct formula_type){.sort = sort, .kind = m->b->d->contract.plate}, m->path,
                        v, why);
}

static enum base_err count_in_plate(struct making *m, struct base_diag *why)
{
    struct formula_value when = {.number = 1}, repeat = {.number = 1};
    enum base_err err = m->spec->when ? settled(m, m->spec->when, FORMULA_YESNO, &when, why) : BASE_OK;
    if (!err && m->spec->repeat)
        err = settled(m, m->spec->repeat, FORMULA_NUMBER, &repeat, why);
    if (err || when.error || !(when.number != 0) || repeat.error)
        return err;
    bool lays = handbook_kind(m->b->d->h, m->b->items.at[m->item].kind)->lays;
    int points = lays ? item_points(m->b, m->item)->n_points : -1;
    double more = floor(fmax(0, repeat.number)) * (lays ? points : 1);
    m->lots->holes += more;
    if (m->lots->holes > MOST_HOLES)
        return bind_fail(m->b, why,
                         "%s: with these %.0f the job would have more than %d holes and bodies, which is "
                         "beyond use.",
                         m->path, more, MOST_HOLES);
    if (more > 0)
        base_vec_push(&m->lots->at, ((struct lot){m->item, m->plate, m->end_plate, points, (int)repeat.number,
                                                  m->spec, m->path}));
    return BASE_OK;
}

static enum base_err make_lot(struct build *b, const struct lot *l, struct base_diag *why)
{
    struct making m = {.b = b, .item = l->item, .plate = l->plate, .end_plate = l->end_plate,
                       .spec = l->spec, .path = l->path};
    enum base_err err = BASE_OK;
    for (int s = 0; s < DIESET_STATES; s++)
        m.grown[s] = l->spec->outline && !l->spec->cuts ? grown_new(b, l->item) : NULL;
    for (int p = 0, n = 0; p < (l->points < 0 ? 1 : l->points) && !err; p++)
        for (int i = 0; i < l->repeat && !err; i++)
            err = ++n % OFTEN == 0 && base_give_up() ? base_fail_given_up(why)
                                                     : make_hole(&m, l->points < 0 ? -1 : p, i, why);
    return err;
}

static bool related(double a, enum formula_relation r, double b)
{
    switch (r) {
    case FORMULA_EQUAL: return a == b;
    case FORMULA_UNEQUAL: return a != b;
    case FORMULA_LESS: return a < b;
    case FORMULA_AT_MOST: return a <= b;
    case FORMULA_MORE: return a > b;
    case FORMULA_AT_LEAST: return a >= b;
    }
    return false;
}

/* A column of a match in the row of item ROW: its place, or a settled property. */
static enum base_err match_column(const struct making *m, int row, const char *column,
                                  struct formula_type *type, double *out, bool *known, struct base_diag *why)
{
    struct build *b = m->b;
    const struct item *it = &b->items.at[row];
    int p;
    *known = true;
    if (strcmp(column, "order") == 0) {
        *type = (struct formula_type){.sort = FORMULA_NUMBER};
        *out = it->place;
        return BASE_OK;
    }
    if (!base_map_get(&b->d->properties[it->kind], column, &p))
        return bind_fail(b, why, "%s: a %s has no %s.", m->path, handbook_kind(b->d->h, it->kind)->name,
                         column);
    struct cell *c = it->properties[p];
    if (!c->folded[0])
        return bind_fail(b, why, "%s: %s must be known without working anything out.", m->path, c->path);
    *type = c->type.type;
    *out = c->constant[0].number;
    *known = c->constant[0].error == FORMULA_FINE;
    return BASE_OK;
}

static enum base_err row_fits(struct making *m, int row, bool *fits, struct base_diag *why)
{
    *fits = true;
    for (int i = 0; i < m->spec->n_matches && *fits; i++) {
        const struct handbook_match *match = &m->spec->matches[i];
        struct formula_type type;
        struct formula_value v;
        double column = 0;
        bool known = true;
        enum base_err err = match_column(m, row, match->column, &type, &column, &known, why);
        struct frame f = hole_frame(m, -1, -1);
        f.plate = row;
        if (!err)
            err = bind_settled(&f, match->tree, type, m->path, &v, why);
        if (err)
            return err;
        *fits = known && !v.error && related(column, match->relation, v.number);
    }
    return BASE_OK;
}

static enum base_err count_in_each(struct making *m, struct base_diag *why)
{
    struct build *b = m->b;
    int kind;
    if (!base_map_get(&b->d->kinds, m->spec->each, &kind) || kind != b->d->contract.plate)
        return bind_fail(b, why, "%s: holes are made in plates, not in each %s.", m->path, m->spec->each);
    enum base_err err = BASE_OK;
    for (size_t r = 0; r < b->rows[kind].items.count && !err; r++) {
        bool fits = false;
        err = row_fits(m, b->rows[kind].items.at[r], &fits, why);
        m->plate = b->rows[kind].items.at[r];
        if (!err && fits)
            err = count_in_plate(m, why);
    }
    return err;
}

static enum base_err count_line(struct build *b, int item, const struct handbook_hole *spec,
                                struct lots *lots, struct base_diag *why)
{
    struct making m = {.b = b, .lots = lots, .item = item, .plate = -1, .spec = spec};
    m.path = base_arena_format(&b->memory, "%s.%s", b->items.at[item].name, spec->operation);
    if (spec->each)
        return count_in_each(&m, why);
    struct formula_value in, end = {.error = FORMULA_EMPTY};
    enum base_err err = settled(&m, spec->in, FORMULA_ITEM, &in, why);
    if (err || in.error || in.number < 0)
        return err;
    m.plate = (int)in.number;
    if (spec->end_on)
        err = settled(&m, spec->end_on, FORMULA_ITEM, &end, why);
    if (err)
        return err;
    m.end_plate = end.error || end.number < 0 ? m.plate : (int)end.number;
    return count_in_plate(&m, why);
}

/* ---- plate by plate ------------------------------------------------------------------------------------ */

/* Counting sort by plate; within a plate the order of items, lines and points stays. */
static void sort_holes(struct build *b)
{
    size_t n = b->holes.count, items = b->items.count;
    struct hole *sorted = base_alloc((n + 1) * sizeof *sorted);
    b->plate_holes = base_alloc((items + 1) * sizeof *b->plate_holes);
    b->tapped = base_alloc(items + 1);
    for (size_t i = 0; i < n; i++) {
        const struct hole *h = &b->holes.at[i];
        b->plate_holes[h->plate].count++;
        b->tapped[h->item] = b->tapped[h->item] || strcmp(h->spec->operation, "tap") == 0;
    }
    int first = 0;
    for (size_t i = 0; i < items; i++) {
        b->plate_holes[i].first = first;
        first += b->plate_holes[i].count;
        b->plate_holes[i].count = 0;
    }
    for (size_t i = 0; i < n; i++) {
        struct plate_holes *p = &b->plate_holes[b->holes.at[i].plate];
        sorted[p->first + p->count++] = b->holes.at[i];
    }
    if (n)
        memcpy(b->holes.at, sorted, n * sizeof *sorted);
    free(sorted);
    b->made = base_alloc(sizeof *b->made);
}

static enum base_err count_item(struct build *b, int i, struct lots *lots, struct base_diag *why)
{
    const struct handbook_kind *k = handbook_kind(b->d->h, b->items.at[i].kind);
    enum base_err err = BASE_OK;
    for (int h = 0; h < k->n_holes && !err; h++)
        err = count_line(b, i, &k->holes[h], lots, why);
    for (int h = 0; h < k->n_bodies && !err; h++)
        err = count_line(b, i, &k->bodies[h], lots, why);
    for (int h = 0; h < k->n_cuts && !err; h++)
        err = count_line(b, i, &k->cuts[h], lots, why);
    for (int h = 0; h < k->n_folds && !err; h++)
        err = count_line(b, i, &k->folds[h], lots, why);
    return err;
}

enum base_err build_holes(struct build *b, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    struct lots lots = {0};
    for (int i = 0; i < (int)b->items.count && !err; i++)
        if (b->items.at[i].kind >= 0)
            err = base_give_up() ? base_fail_given_up(why) : count_item(b, i, &lots, why);
    for (size_t i = 0; i < lots.at.count && !err; i++)
        err = make_lot(b, &lots.at.at[i], why);
    base_vec_done(&lots.at);
    if (!err)
        sort_holes(b);
    return err;
}

/* ---- one hole as it is --------------------------------------------------------------------------------- */

int dieset_hole_count(const struct dieset *d) { return d->now ? (int)d->now->holes.count : 0; }

int dieset_plate_holes(const struct dieset *d, int plate, int *first)
{
    if (!d->now || plate < 0 || plate >= (int)d->now->items.count)
        return *first = 0;
    *first = d->now->plate_holes[plate].first;
    return d->now->plate_holes[plate].count;
}

int build_item_holes(const struct build *b, int plate, int item, int *first)
{
    const struct plate_holes *range = &b->plate_holes[plate];
    int n = 0, end = range->first + range->count;
    *first = range->first;
    for (int high = end; *first < high;) { /* within a plate they stand in the order of items */
        int middle = *first + (high - *first) / 2;
        if (b->holes.at[middle].item < item)
            *first = middle + 1;
        else
            high = middle;
    }
    while (*first + n < end && b->holes.at[*first + n].item == item)
        n++;
    return n;
}

int dieset_item_holes(const struct dieset *d, int plate, int item, int *first)
{
    if (!d->now || plate < 0 || plate >= (int)d->now->items.count)
        return *first = 0;
    return build_item_holes(d->now, plate, item, first);
}

/* The value of C for hole OUT, which remembers where its first error arose; ABSENT where there is one. */
static double amount(const struct build *b, const struct cell *c, enum dieset_state s, double absent,
                     struct dieset_hole *out)
{
    struct formula_value v = cell_outcome(b, c, s);
    if (v.error && out->origin < 0)
        out->origin = v.origin;
    return v.error ? absent : v.number;
}

double hole_field(const struct build *b, const struct hole *h, enum hole_field f, enum dieset_state s,
                  double absent, struct dieset_hole *out)
{
    if (!h->fields[f])
        return absent;
    double v = amount(b, h->fields[f], s, NAN, out);
    out->broken = out->broken || isnan(v);
    return isnan(v) ? absent : v;
}

static const char *field_text(const struct build *b, const struct hole *h, enum hole_field f,
                              enum dieset_state s)
{
    if (!h->fields[f])
        return "";
    struct formula_value v = cell_outcome(b, h->fields[f], s);
    return v.error ? "" : base_pool_text(b->d->pool, (int)v.number);
}


/* Depth from the face it is made from, and the same as heights. */
static void fill_depth(const struct build *b, const struct hole *h, enum dieset_state s,
                       struct dieset_hole *out)
{
    static const double nanometre = 1e-6;
    double thickness = amount(b, b->items.at[h->plate].properties[b->d->contract.thickness_now], s, 0, out);
    out->from_top = hole_field(b, h, FIELD_FROM_TOP, s, 1, out) != 0;
    out->start = hole_field(b, h, FIELD_START, s, 0, out);
    double far = fmax(0, thickness - out->start);
    out->depth = hole_field(b, h, FIELD_DEPTH, s, far, out);
    out->left_under = thickness - out->start - out->depth;
    out->through = out->depth >= far - nanometre;
    if (out->through)
        out->depth = far;
    out->thread_depth = hole_field(b, h, FIELD_THREAD_DEPTH, s, 0, out);
    double near = out->from_top ? thickness - out->start : out->start;
    double end = out->from_top ? near - out->depth : near + out->depth;
    out->low = fmin(near, end);
    out->high = fmax(near, end);
    out->tip = out->through ? 0 : hole_field(b, h, FIELD_TIP, s, 0, out);
    out->land = hole_field(b, h, FIELD_LAND, s, out->depth, out);
    out->relief = hole_field(b, h, FIELD_RELIEF, s, 0, out);
}

static void fill_edge(const struct build *b, const struct hole *h, enum dieset_state s,
                      struct dieset_hole *out)
{
    const struct contract *k = &b->d->contract;
    int faces[] = {k->left, k->right, k->front, k->back};
    double at[COUNT_OF(faces)];
    bool unknown = out->nowhere;
    for (size_t i = 0; i < COUNT_OF(faces); i++) {
        at[i] = amount(b, b->items.at[h->plate].properties[faces[i]], s, NAN, out);
        unknown = unknown || isnan(at[i]);
    }
    out->edge = unknown ? NAN
                        : fmin(fmin(out->x - at[0], at[1] - out->x), fmin(out->y - at[2], at[3] - out->y));
    out->rim = unknown ? NAN
                       : fmin(fmin(out->left - at[0], at[1] - out->right),
                              fmin(out->front - at[2], at[3] - out->back));
}

/* The item's outline, and the box round it. */
static void fill_outline(const struct build *b, const struct hole *h, enum dieset_state s,
                         struct dieset_hole *out)
{
    double grow = hole_field(b, h, FIELD_OUTLINE, s, 0, out);
    out->n_sides = grown_sides(b, h->grown[s], s, grow, &out->sides);
    out->broken = out->broken || out->n_sides == 0;
    if (out->n_sides == 0 && out->origin < 0)
        out->origin = outline_origin(b, h->item, s);
    struct shape_box box = out->n_sides ? shape_box(out->sides, out->n_sides)
                                        : (struct shape_box){0, 0, 0, 0};
    out->left = out->x + box.left, out->right = out->x + box.right;
    out->front = out->y + box.front, out->back = out->y + box.back;
    out->diameter = hypot(box.right - box.left, box.back - box.front);
}

static void fill_size(const struct build *b, const struct hole *h, enum dieset_state s,
                      struct dieset_hole *out)
{
    out->diameter = h->fields[FIELD_DIAMETER] ? hole_field(b, h, FIELD_DIAMETER, s, 0, out) : 0;
    double along = out->diameter / 2, across = along;
    if (h->spec->length && h->spec->width) {
        out->length = hole_field(b, h, FIELD_LENGTH, s, 0, out);
        out->width = hole_field(b, h, FIELD_WIDTH, s, 0, out);
        out->corner = fmin(hole_field(b, h, FIELD_CORNER, s, 0, out), fmin(out->length, out->width) / 2);
        out->diameter = hypot(out->length, out->width);
        along = out->length / 2, across = out->width / 2;
    }
    out->left = out->x - along, out->right = out->x + along;
    out->front = out->y - across, out->back = out->y + across;
}

/* What is not round, turned about its place: from then on it is told by its sides. */
static void turn_shape(const struct build *b, const struct hole *h, enum dieset_state s,
                       struct dieset_hole *out)
{
    static const double half_turn = 3.14159265358979323846, none = 1e-12;
    enum { RECTANGLE = 8 };
    struct shape_side **sides = &h->turned->sides[s];
    out->turn = hole_field(b, h, FIELD_TURN, s, 0, out);
    if (out->broken || fabs(remainder(out->turn, h->grown[s] ? 2 * half_turn : half_turn)) <= none)
        return;
    if (!*sides)
        *sides = base_alloc((size_t)(h->grown[s] ? 2 * b->items.at[h->item].n_sides : RECTANGLE) *
                            sizeof **sides);
    if (h->grown[s])
        memcpy(*sides, out->sides, (size_t)out->n_sides * sizeof **sides);
    else
        out->n_sides = shape_rectangle(out->length / 2, out->width / 2, out->corner, *sides);
    out->sides = *sides;
    shape_turn(*sides, out->n_sides, out->turn);
    struct shape_box box = shape_box(out->sides, out->n_sides);
    out->left = out->x + box.left, out->right = out->x + box.right;
    out->front = out->y + box.front, out->back = out->y + box.back;
}

void build_holes_done(struct build *b)
{
    for (size_t i = 0; i < b->holes.count + b->bodies.count; i++) {
        const struct hole *h = i < b->holes.count ? &b->holes.at[i] : &b->bodies.at[i - b->holes.count];
        for (int s = 0; s < DIESET_STATES && h->turned; s++)
            free(h->turned->sides[s]);
    }
    for (int s = 0; s < DIESET_STATES && b->made; s++) {
        free(b->made->at[s]);
        free(b->made->when[s]);
    }
    free(b->made);
    base_vec_done(&b->holes);
    base_vec_done(&b->bodies);
    base_vec_done(&b->cuts);
    base_vec_done(&b->folds);
}

void hole_shape(const struct build *b, const struct hole *h, enum dieset_state s, struct dieset_hole *out)
{
    *out = (struct dieset_hole){.plate = h->plate,
                                .item = h->item,
                                .point = h->point,
                                .index = h->index,
                                .spec = h->spec,
                                .operation = h->spec->operation,
                                .origin = -1};
    out->x = hole_field(b, h, FIELD_X, s, 0, out);
    out->y = hole_field(b, h, FIELD_Y, s, 0, out);
    if (h->grown[s])
        fill_outline(b, h, s, out);
    else
        fill_size(b, h, s, out);
    if (h->turned)
        turn_shape(b, h, s, out);
    out->nowhere = out->broken;
    out->letter = h->spec->letter ? h->spec->letter
                                  : handbook_kind(b->d->h, b->items.at[h->item].kind)->letter;
}

bool hole_any(const struct build *b, const struct hole *h, cell_fn *is, void *arg)
{
    const struct contract *k = &b->d->contract;
    const int edges[] = {k->left, k->right, k->front, k->back, k->thickness_now};
    for (int f = 0; f < FIELD_COUNT; f++)
        if (h->fields[f] && is(b, h->fields[f], arg))
            return true;
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        if (is(b, b->items.at[h->plate].properties[edges[i]], arg))
            return true;
    return h->grown[DIESET_NEW] && outline_any(b, h->item, is, arg);
}

static void make_now(const struct build *b, const struct hole *h, enum dieset_state s,
                     struct dieset_hole *out)
{
    hole_shape(b, h, s, out);
    out->nominal = hole_field(b, h, FIELD_NOMINAL, s, 0, out);
    out->room = hole_field(b, h, FIELD_ROOM, s, 0, out);
    out->fit = field_text(b, h, FIELD_FIT, s);
    out->thread = field_text(b, h, FIELD_THREAD, s);
    fill_depth(b, h, s, out);
    fill_edge(b, h, s, out);
}

const struct dieset_hole *build_hole(const struct build *b, int hole, enum dieset_state s)
{
    struct made_holes *made = b->made;
    if (!made->at[s]) {
        made->at[s] = base_alloc(b->holes.count * sizeof *made->at[s]);
        made->when[s] = base_alloc(b->holes.count * sizeof *made->when[s]);
    }
    struct dieset_hole *out = &made->at[s][hole];
    long *when = &made->when[s][hole];
    if (*when && !model_any_moved(b->model, *when))
        return out;
    if (!*when || hole_any(b, &b->holes.at[hole], cell_has_moved, when))
        make_now(b, &b->holes.at[hole], s, out);
    *when = model_now(b->model);
    return out;
}

void dieset_hole(const struct dieset *d, int hole, enum dieset_state s, struct dieset_hole *out)
{
    *out = *build_hole(d->now, hole, s);
}

bool dieset_holes_moved(const struct dieset *d, int plate, long since)
{
    const struct plate_holes *range = &d->now->plate_holes[plate];
    for (int i = range->first; i < range->first + range->count; i++)
        if (hole_any(d->now, &d->now->holes.at[i], cell_has_moved, &since))
            return true;
    return false;
}
