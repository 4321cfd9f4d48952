/* Outlines: typed lines to cells, cells back to sides.
 *
 * Each line is parted into formulas (line.c); they and all that follows from them, up to lengths and areas,
 * are cells, so that cutting force and load centre hang on an outline as on any other value. `trees` below is
 * the whole geometry of one side. Areas are by Green's theorem: the triangle from the origin to the side, and
 * an arc's bulge. The origin is the station's point; the outline is first mirrored (front to back), then
 * turned about it.
 *
 * What no formula says well - offsets, crossings, walls - is worked out from the same cells by the room
 * shape.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_LINES = 500 };

#define LENGTH(n) {HANDBOOK_NUMBER, {.sort = FORMULA_NUMBER, .dim = {.length = (n) * UNIT_POWER}}}
static const struct handbook_type column_types[SIDE_COLUMNS] = {
    [SIDE_BY_X] = LENGTH(1),
    [SIDE_BY_Y] = LENGTH(1),
    [SIDE_AT_X] = LENGTH(1),
    [SIDE_AT_Y] = LENGTH(1),
    [SIDE_RADIUS] = LENGTH(1),
    [SIDE_X] = LENGTH(1),
    [SIDE_Y] = LENGTH(1),
    [SIDE_WAY] = LENGTH(0),
    [SIDE_CHORD] = LENGTH(1),
    [SIDE_RISE] = LENGTH(1),
    [SIDE_ROUND] = LENGTH(1),
    [SIDE_SWEEP] = {HANDBOOK_NUMBER, {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}}},
    [SIDE_CENTRE_X] = LENGTH(1),
    [SIDE_CENTRE_Y] = LENGTH(1),
    [SIDE_LENGTH] = LENGTH(1),
    [SIDE_CUT] = LENGTH(1),
    [SIDE_CUT_X] = LENGTH(2),
    [SIDE_CUT_Y] = LENGTH(2),
    [SIDE_AREA] = LENGTH(2),
    [SIDE_AREA_X] = LENGTH(3),
    [SIDE_AREA_Y] = LENGTH(3),
    [SIDE_LEFT] = LENGTH(1),
    [SIDE_RIGHT] = LENGTH(1),
    [SIDE_FRONT] = LENGTH(1),
    [SIDE_BACK] = LENGTH(1),
    [SIDE_REACH] = LENGTH(1),
};

static const char *const column_names[SIDE_COLUMNS] = {
    "by_x", "by_y",   "at_x",   "at_y",     "radius",   "x",      "y",    "way",   "chord",
    "rise", "round",  "sweep",  "centre_x", "centre_y", "length", "cut",  "cut_x", "cut_y",
    "area", "area_x", "area_y", "left",     "right",    "front",  "back", "reach",
};

/* ---- the geometry of a side ------------------------------------------------------------------- */

#define BOTH(column, text) {SIDE_STRAIGHT, column, text}, {SIDE_ARC, column, text}
/* The arc goes through its circle's farthest place in a direction when that place is on the other side of the
   chord than it turns. */
#define BULGES(px, py) \
    "way * ((x - before_x) * (" py " - before_y) - (y - before_y) * (" px " - before_x)) < 0 mm2"

static const struct { enum side_sort sort; enum side_column column; const char *text;
} trees[] = {
    {SIDE_START, SIDE_X, "at_x * cos(outline_turn) - if(outline_mirrored, -at_y, at_y) * sin(outline_turn)"},
    {SIDE_START, SIDE_Y, "at_x * sin(outline_turn) + if(outline_mirrored, -at_y, at_y) * cos(outline_turn)"},
    BOTH(SIDE_AT_X, "before_at_x + by_x"),
    BOTH(SIDE_AT_Y, "before_at_y + by_y"),
    BOTH(SIDE_X, "at_x * cos(outline_turn) - if(outline_mirrored, -at_y, at_y) * sin(outline_turn)"),
    BOTH(SIDE_Y, "at_x * sin(outline_turn) + if(outline_mirrored, -at_y, at_y) * cos(outline_turn)"),
    BOTH(SIDE_CHORD, "sqrt((x - before_x)^2 + (y - before_y)^2)"),

    {SIDE_STRAIGHT, SIDE_LENGTH, "chord"},
    {SIDE_STRAIGHT, SIDE_CUT, "length"},
    {SIDE_STRAIGHT, SIDE_CUT_X, "cut * (before_x + x) / 2"},
    {SIDE_STRAIGHT, SIDE_CUT_Y, "cut * (before_y + y) / 2"},
    {SIDE_STRAIGHT, SIDE_AREA, "(before_x * y - x * before_y) / 2"},
    {SIDE_STRAIGHT, SIDE_AREA_X, "area * (before_x + x) / 3"},
    {SIDE_STRAIGHT, SIDE_AREA_Y, "area * (before_y + y) / 3"},
    {SIDE_STRAIGHT, SIDE_LEFT, "min(before_x, x)"},
    {SIDE_STRAIGHT, SIDE_RIGHT, "max(before_x, x)"},
    {SIDE_STRAIGHT, SIDE_FRONT, "min(before_y, y)"},
    {SIDE_STRAIGHT, SIDE_BACK, "max(before_y, y)"},
    {SIDE_STRAIGHT, SIDE_REACH, "0 mm"},

    {SIDE_ARC, SIDE_WAY, "if(outline_mirrored, -turns, turns)"},
    {SIDE_ARC, SIDE_REACH, "if(chord > 0 mm, radius - chord / 2, -radius)"},
    /* from the chord to the middle; a miss within the rounding of typed figures is none */
    {SIDE_ARC, SIDE_RISE,
     "bends * sqrt(if(reach < -0.0000001 mm, reach * chord, max(0 mm2, radius^2 - chord^2 / 4)))"},
    {SIDE_ARC, SIDE_ROUND, "sqrt(rise^2 + chord^2 / 4)"},
    {SIDE_ARC, SIDE_SWEEP, "2 * atan2(chord / 2, rise)"},
    {SIDE_ARC, SIDE_CENTRE_X, "(before_x + x) / 2 - way * rise * (y - before_y) / chord"},
    {SIDE_ARC, SIDE_CENTRE_Y, "(before_y + y) / 2 + way * rise * (x - before_x) / chord"},
    {SIDE_ARC, SIDE_LENGTH, "round * sweep / 1 rad"},
    {SIDE_ARC, SIDE_CUT, "length"},
    {SIDE_ARC, SIDE_CUT_X, "cut * centre_x + round * way * (y - before_y)"},
    {SIDE_ARC, SIDE_CUT_Y, "cut * centre_y - round * way * (x - before_x)"},
    {SIDE_ARC, SIDE_AREA,
     "(before_x * y - x * before_y) / 2 + way * round^2 * (sweep / 1 rad - sin(sweep)) / 2"},
    {SIDE_ARC, SIDE_AREA_X,
     "(before_x * y - x * before_y) * (before_x + x) / 6"
     " + way * round^2 * (sweep / 1 rad - sin(sweep)) / 2 * centre_x + chord^2 * (y - before_y) / 12"},
    {SIDE_ARC, SIDE_AREA_Y,
     "(before_x * y - x * before_y) * (before_y + y) / 6"
     " + way * round^2 * (sweep / 1 rad - sin(sweep)) / 2 * centre_y - chord^2 * (x - before_x) / 12"},
    {SIDE_ARC, SIDE_LEFT,
     "min(before_x, x, if(" BULGES("(centre_x - round)", "centre_y") ", centre_x - round, x))"},
    {SIDE_ARC, SIDE_RIGHT,
     "max(before_x, x, if(" BULGES("(centre_x + round)", "centre_y") ", centre_x + round, x))"},
    {SIDE_ARC, SIDE_FRONT,
     "min(before_y, y, if(" BULGES("centre_x", "(centre_y - round)") ", centre_y - round, y))"},
    {SIDE_ARC, SIDE_BACK,
     "max(before_y, y, if(" BULGES("centre_x", "(centre_y + round)") ", centre_y + round, y))"},

    {SIDE_STRAIGHT_FREE, SIDE_CUT, "0 mm"},
    {SIDE_STRAIGHT_FREE, SIDE_CUT_X, "0 mm2"},
    {SIDE_STRAIGHT_FREE, SIDE_CUT_Y, "0 mm2"},
    {SIDE_ARC_FREE, SIDE_CUT, "0 mm"},
    {SIDE_ARC_FREE, SIDE_CUT_X, "0 mm2"},
    {SIDE_ARC_FREE, SIDE_CUT_Y, "0 mm2"},
};

int side_cell(const char *name)
{
    for (int i = 0; i < SIDE_COLUMNS; i++)
        if (strcmp(column_names[i], name) == 0)
            return i;
    return -1;
}

int side_column(const char *name)
{
    struct formula_type ignored;
    return handbook_side_type(name, &ignored) ? side_cell(name) : -1;
}

static enum base_err parse_trees(struct build *b, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    if (b->side_trees[SIDE_START][SIDE_X])
        return BASE_OK;
    for (size_t i = 0; i < COUNT_OF(trees) && !err; i++)
        err = formula_parse(trees[i].text, &b->side_trees[trees[i].sort][trees[i].column], why);
    return err;
}

void build_outlines_done(struct build *b)
{
    for (int s = 0; s < SIDE_SORTS; s++)
        for (int c = 0; c < SIDE_COLUMNS; c++)
            formula_tree_free(b->side_trees[s][c]);
}

/* What a side that is not cut along says otherwise stands under its own sort; the rest is that of its sort
   when cut. */
static const struct formula_tree *tree_of(const struct build *b, enum side_sort sort, enum side_column column)
{
    const struct formula_tree *own = b->side_trees[sort][column];
    bool is_free = sort == SIDE_STRAIGHT_FREE || sort == SIDE_ARC_FREE;
    return own || !is_free ? own : b->side_trees[sort - 1][column];
}

/* ---- lines to cells ----------------------------------------------------------------------------- */

/* How many lines are typed: entries outline/1, outline/2 ... without a gap. */
static enum base_err count_lines(struct build *b, int i, int *count, struct base_diag *why)
{
    const struct text_item *t = &b->texts.items.at[i];
    int typed = 0;
    for (size_t k = 0; k < t->entries.count; k++) {
        struct typed_path at = typed_path_read(t->entries.at[k].path);
        typed += at.place == TYPED_AT_LINE && at.detail == TYPED_ITSELF;
    }
    if (typed > MOST_LINES)
        return bind_fail(b, why, "%s.outline: %d lines are the most.", t->name, MOST_LINES);
    for (*count = 0; *count < typed; (*count)++) {
        char *path = typed_of_line(*count + 1);
        bool there = texts_entry(t, path) != NULL;
        free(path);
        if (!there)
            return bind_fail(b, why,
                             "%s.outline: its lines are counted from 1 without a gap; line %d is missing.",
                             t->name, *count + 1);
    }
    return BASE_OK;
}

static struct cell *add_line(struct build *b, int i, int line)
{
    struct item *it = &b->items.at[i];
    const char *name = base_arena_format(&b->memory, "outline.%d", line + 1);
    struct cell c = {.what = CELL_LINE,
                     .item = i,
                     .number = line,
                     .point = -1,
                     .index = line,
                     .plate = -1,
                     .type = {HANDBOOK_TEXT, {.sort = FORMULA_TEXT}},
                     .path = base_arena_format(&b->memory, "%s.%s", it->name, name),
                     .name = name,
                     .title = base_arena_format(&b->memory, "%d", line + 1),
                     .can_type = true};
    char *entry = typed_of_line(line + 1);
    c.entry = base_arena_copy(&b->memory, entry);
    c.typed = texts_entry(&b->texts.items.at[i], c.entry);
    free(entry);
    return build_cell(b, &c);
}

/* The cell of COLUMN: of what is typed as PART of the line's text, or by the geometry's own formula. */
static struct cell *add_column(struct build *b, int i, int number, enum side_column column, const char *typed)
{
    const struct side *s = &b->items.at[i].sides[number];
    const struct formula_tree *tree = typed ? NULL : tree_of(b, s->sort, column);
    if (!typed && !tree)
        return NULL;
    struct cell c = {.what = CELL_SIDE,
                     .item = i,
                     .number = (int)column,
                     .point = -1,
                     .index = number,
                     .plate = -1,
                     .type = column_types[column],
                     .name = column_names[column],
                     .entry = "",
                     .title = column_names[column],
                     .typed = typed,
                     .tree = tree,
                     .size = typed != NULL};
    const struct item *it = &b->items.at[i];
    c.path = number < it->n_lines ? base_arena_format(&b->memory, "%s.%s", it->lines[number]->path, c.name)
                                  : base_arena_format(&b->memory, "%s.outline.close.%s", it->name, c.name);
    return build_cell(b, &c);
}

static const char *part_text(struct build *b, const struct cell *line, const struct side *s,
                             enum dieset_line_part part)
{
    int length = s->line.parts[part].length;
    return length ? base_arena_copy_n(&b->memory, line->typed + s->line.parts[part].start, (size_t)length)
                  : NULL;
}

static void add_columns(struct build *b, int i, int number)
{
    struct item *it = &b->items.at[i];
    struct side *s = &it->sides[number];
    bool closes = number == it->n_lines;
    const char *typed[SIDE_COLUMNS] = {NULL};
    if (!closes) {
        const struct cell *line = it->lines[number];
        typed[s->line.by ? SIDE_BY_X : SIDE_AT_X] = part_text(b, line, s, DIESET_PART_X);
        typed[s->line.by ? SIDE_BY_Y : SIDE_AT_Y] = part_text(b, line, s, DIESET_PART_Y);
        typed[SIDE_RADIUS] = part_text(b, line, s, DIESET_PART_RADIUS);
    }
    for (int c = 0; c < SIDE_COLUMNS; c++) {
        bool of_start = closes && (c == SIDE_AT_X || c == SIDE_AT_Y || c == SIDE_X || c == SIDE_Y);
        bool typed_at = !s->line.by && (c == SIDE_AT_X || c == SIDE_AT_Y);
        s->columns[c] = of_start                ? it->sides[0].columns[c]
                        : typed_at && !typed[c] ? NULL
                                                : add_column(b, i, number, (enum side_column)c, typed[c]);
    }
}

static enum base_err read_lines(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    for (int l = 0; l < it->n_lines; l++) {
        struct side *s = &it->sides[l];
        struct base_diag inner = {0};
        if (dieset_read_line(it->lines[l]->typed, &s->line, &inner) != BASE_OK)
            return bind_fail_at(b, it->lines[l]->path, &inner, why);
        if ((s->line.sort == DIESET_AT) != (l == 0))
            return bind_fail(
                b, why,
                l ? "%s: only the first line of an outline is \"at\"; this one is a line or an arc."
                  : "%s: an outline begins with the place where it starts: \"at X, Y\".",
                it->lines[l]->path);
        s->sort = l == 0                       ? SIDE_START
                  : s->line.sort == DIESET_ARC ? (s->line.cuts ? SIDE_ARC : SIDE_ARC_FREE)
                  : s->line.cuts               ? SIDE_STRAIGHT
                                               : SIDE_STRAIGHT_FREE;
    }
    it->sides[it->n_lines] = (struct side){.sort = SIDE_STRAIGHT,
                                           .line = {.sort = DIESET_STRAIGHT, .cuts = true}};
    return BASE_OK;
}

enum base_err build_outline(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    enum base_err err = count_lines(b, i, &it->n_lines, why);
    if (err || !it->n_lines)
        return err;
    it->lines = base_arena_alloc(&b->memory, (size_t)it->n_lines * sizeof *it->lines);
    it->sides = base_arena_alloc(&b->memory, (size_t)(it->n_lines + 1) * sizeof *it->sides);
    it->side_numbers = base_arena_alloc(&b->memory, (size_t)it->n_lines * sizeof *it->side_numbers);
    for (int l = 0; l < it->n_lines; l++)
        it->lines[l] = add_line(b, i, l);
    err = read_lines(b, i, why);
    if (!err)
        err = parse_trees(b, why);
    if (err)
        return err;
    it->n_sides = it->n_lines + 1;
    for (int s = 0; s <= it->n_lines; s++)
        add_columns(b, i, s);
    for (int s = 1; s < it->n_sides; s++) {
        struct side_place place = {i, s};
        it->side_numbers[s - 1] = SIDE_ITEMS + (int)b->sides.count;
        base_vec_push(&b->sides, place);
    }
    return BASE_OK;
}

/* ---- cells back to sides -------------------------------------------------------------------------- */

/* What the geometry of an outline hangs on: the ends of all sides, radii, and by how much it is grown. */
static void make_key(const struct build *b, const struct item *it, enum dieset_state s, double grow,
                     double *key)
{
    int n = 0;
    key[n++] = grow;
    for (int i = 0; i < it->n_sides; i++) {
        const struct side *side = &it->sides[i];
        key[n++] = cell_amount(b, side->columns[SIDE_X], s);
        key[n++] = cell_amount(b, side->columns[SIDE_Y], s);
        key[n++] = side->columns[SIDE_RADIUS] ? cell_amount(b, side->columns[SIDE_RADIUS], s) : 0;
        key[n++] = side->columns[SIDE_WAY] ? cell_amount(b, side->columns[SIDE_WAY], s) : 0;
    }
}

enum { KEY_EACH = 4 };
static int key_size(const struct item *it) { return 1 + KEY_EACH * it->n_sides; }

/* The sides as the key tells them; 0: a value is missing, or an arc cannot reach. */
static int typed_sides(const struct item *it, const double *key, struct shape_side *out)
{
    int n = 0;
    for (int i = 0; i < key_size(it); i++)
        if (!isfinite(key[i]))
            return 0;
    for (int i = 1; i < it->n_sides; i++) {
        const double *from = key + 1 + KEY_EACH * (i - 1), *to = from + KEY_EACH;
        const struct dieset_line *line = &it->sides[i].line;
        if (line->sort == DIESET_ARC) {
            if (!shape_arc(from[0], from[1], to[0], to[1], to[2], (int)to[3], line->long_way, &out[n]))
                return 0;
        } else if (hypot(to[0] - from[0], to[1] - from[1]) > SHAPE_NEAR) {
            out[n] = shape_straight(from[0], from[1], to[0], to[1]);
        } else {
            continue;
        }
        out[n++].cuts = line->cuts;
    }
    return n;
}

/* The same anticlockwise; 0 also when nothing is enclosed. */
static int make_sides(const struct item *it, const double *key, struct shape_side *out)
{
    int n = typed_sides(it, key, out);
    double area = n > 1 ? shape_area(out, n) : 0;
    if (area < 0)
        shape_reverse(out, n);
    return fabs(area) > SHAPE_NEAR ? n : 0;
}

struct grown *grown_new(struct build *b, int item)
{
    const struct item *it = &b->items.at[item];
    struct grown *g = base_arena_alloc(&b->memory, sizeof *g);
    *g = (struct grown){.item = item};
    g->key = base_arena_alloc(&b->memory, (size_t)(2 * key_size(it)) * sizeof *g->key);
    g->sides = base_arena_alloc(&b->memory, (size_t)(3 * it->n_sides + 1) * sizeof *g->sides);
    g->key[0] = NAN;
    return g;
}

int grown_sides(const struct build *b, struct grown *g, enum dieset_state s, double grow,
                const struct shape_side **out)
{
    const struct item *it = &b->items.at[g->item];
    int size = key_size(it), first, second;
    double *key = g->key + size;
    struct shape_side *plain = g->sides + 2 * it->n_sides;
    make_key(b, it, s, grow, key);
    *out = g->sides;
    if (memcmp(key, g->key, (size_t)size * sizeof *key) == 0)
        return g->n;
    memcpy(g->key, key, (size_t)size * sizeof *key);
    g->n = make_sides(it, key, plain);
    if (g->n && shape_crossings(plain, g->n, &first, &second))
        g->n = 0;
    if (g->n)
        g->n = shape_offset(plain, g->n, grow, g->sides);
    return g->n;
}

bool outline_any(const struct build *b, int item, cell_fn *is, void *arg)
{
    static const enum side_column ends[] = {SIDE_X, SIDE_Y, SIDE_RADIUS, SIDE_WAY};
    const struct item *it = &b->items.at[item];
    for (int i = 0; i < it->n_sides; i++)
        for (size_t k = 0; k < COUNT_OF(ends); k++) {
            const struct cell *c = it->sides[i].columns[ends[k]];
            if (c && is(b, c, arg))
                return true;
        }
    return false;
}

int outline_origin(const struct build *b, int item, enum dieset_state s)
{
    struct cell_origin origin = {s, -1};
    return outline_any(b, item, cell_is_broken, &origin) ? origin.slot : -1;
}

/* ---- measures ----------------------------------------------------------------------------------------- */

/* The sides of ITEM's outline by MAKE; yours to free(). NULL: none. */
static struct shape_side *sides_by(const struct build *b, int item, int *n,
                                    int (*make)(const struct item *, const double *, struct shape_side *))
{
    const struct item *it = &b->items.at[item];
    *n = 0;
    if (!it->n_sides)
        return NULL;
    double *key = base_alloc((size_t)key_size(it) * sizeof *key);
    struct shape_side *sides = base_alloc((size_t)it->n_sides * sizeof *sides);
    make_key(b, it, DIESET_NEW, 0, key);
    *n = make(it, key, sides);
    free(key);
    if (*n)
        return sides;
    free(sides);
    return NULL;
}

/* The outline of ITEM as it is drawn; yours to free(). NULL: none, or a value is missing. */
static struct shape_side *drawn(const struct build *b, int item, int *n)
{
    return sides_by(b, item, n, make_sides);
}

struct shape_side *outline_typed(const struct build *b, int item, int *n)
{
    return sides_by(b, item, n, typed_sides);
}

bool outline_crossings(const struct build *b, int item, double *out)
{
    int n, first, second;
    struct shape_side *s = drawn(b, item, &n);
    *out = s ? shape_crossings(s, n, &first, &second) : 0;
    free(s);
    return n > 0;
}

bool outline_inside_corner(const struct build *b, int item, double *out)
{
    int n;
    struct shape_side *s = drawn(b, item, &n);
    *out = s ? shape_inside_corner(s, n) : 0;
    free(s);
    return n > 0 && isfinite(*out);
}

/* The outline grown by what the item's property says. */
static struct shape_side *grown(const struct build *b, int item, int property, int *n)
{
    int plain, first, second;
    double grow = cell_amount(b, b->items.at[item].properties[property], DIESET_NEW);
    struct shape_side *s = isnan(grow) ? NULL : drawn(b, item, &plain), *out = NULL;
    *n = 0;
    if (s && shape_crossings(s, plain, &first, &second) == 0) {
        out = base_alloc((size_t)(2 * plain) * sizeof *out);
        *n = shape_offset(s, plain, grow, out);
    }
    free(s);
    return out;
}

/* Its length, or its area. */
static bool grown_amount(const struct build *b, int item, int property, bool area, double *out)
{
    int n;
    struct shape_side *s = grown(b, item, property, &n);
    *out = n ? (area ? shape_area(s, n) : shape_length(s, n)) : 0;
    free(s);
    return n > 0;
}

static const struct outline_contract *contract_of(const struct build *b, int item)
{
    return &b->d->contract.outlines[b->items.at[item].kind];
}

bool outline_opening_length(const struct build *b, int item, double *out)
{
    return grown_amount(b, item, contract_of(b, item)->opening_grow, false, out);
}
bool outline_opening_area(const struct build *b, int item, double *out)
{
    return grown_amount(b, item, contract_of(b, item)->opening_grow, true, out);
}
bool outline_punch_length(const struct build *b, int item, double *out)
{
    return grown_amount(b, item, contract_of(b, item)->punch_grow, false, out);
}
bool outline_punch_area(const struct build *b, int item, double *out)
{
    return grown_amount(b, item, contract_of(b, item)->punch_grow, true, out);
}

/* How many of opening and punch cannot be made of a good outline. */
bool outline_lost(const struct build *b, int item, double *out)
{
    const struct outline_contract *k = contract_of(b, item);
    double crossings, ignored;
    if (!outline_crossings(b, item, &crossings) || crossings > 0)
        return false;
    *out = !grown_amount(b, item, k->opening_grow, false, &ignored) +
           !grown_amount(b, item, k->punch_grow, false, &ignored);
    return true;
}

/* ---- for those who edit -------------------------------------------------------------------------------- */

int dieset_outline_lines(const struct dieset *d, int item)
{
    return item >= 0 ? d->now->items.at[item].n_lines : 0;
}

int dieset_line_slots(const struct dieset *d, int q, int out[DIESET_PARTS])
{
    static const enum side_column typed[] = {SIDE_BY_X, SIDE_BY_Y, SIDE_AT_X, SIDE_AT_Y, SIDE_RADIUS};
    const struct cell *c = d->now->quantity_cells[q];
    int n = 0;
    for (size_t i = 0; i < COUNT_OF(typed) && c->what == CELL_LINE; i++) {
        const struct cell *column = d->now->items.at[c->item].sides[c->number].columns[typed[i]];
        if (column && column->typed && n < DIESET_PARTS)
            out[n++] = column->slot[DIESET_NEW];
    }
    return n;
}

/* The first arc whose radius cannot reach, as a line's number; 0: none. */
static int first_short(const struct build *b, const struct item *it)
{
    for (int i = 1; i < it->n_lines; i++)
        if (it->sides[i].line.sort == DIESET_ARC && it->n_sides &&
            cell_amount(b, it->sides[i].columns[SIDE_REACH], DIESET_NEW) < -SHAPE_NEAR)
            return i + 1;
    return 0;
}

static void tell_crossing(const struct build *b, const struct item *it, const struct shape_side *one,
                          const struct shape_side *other, struct base_text *out)
{
    double x[2], y[2];
    char a[40], c[40];
    if (!shape_sides_meet(one, other, false, x, y))
        return;
    unit_print(x[0], UNIT_LENGTH, b->system, a, sizeof a);
    unit_print(y[0], UNIT_LENGTH, b->system, c, sizeof c);
    base_text_addf(out, "%s.outline: it crosses or touches itself at %s, %s.", it->name, a, c);
}

bool dieset_outline_flaw(const struct dieset *d, int item, struct base_text *out)
{
    const struct build *b = d->now;
    const struct item *it = &b->items.at[item];
    int n, first = 0, second = 0, arc = it->n_lines ? first_short(b, it) : 0;
    size_t before = out->length;
    double lost;
    struct shape_side *s = drawn(b, item, &n);
    if (it->n_lines && arc)
        base_text_addf(out,
                       "%s.outline: the arc of line %d cannot reach: its radius is less than half of the way "
                       "it has to go.",
                       it->name, arc);
    else if (it->n_lines && !n)
        base_text_addf(out,
                       "%s.outline: it encloses nothing; three lines, or a line and an arc, are the least.",
                       it->name);
    else if (n && shape_crossings(s, n, &first, &second))
        tell_crossing(b, it, &s[first], &s[second], out);
    else if (n && outline_lost(b, item, &lost) && lost > 0)
        base_text_addf(
            out,
            "%s.outline: the clearance leaves nothing of a narrow place; opening or punch cannot be made.",
            it->name);
    free(s);
    return out->length > before;
}
