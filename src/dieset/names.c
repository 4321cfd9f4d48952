/* What the names of a formula stand for, from where it is read.
 *
 * In this order, first found wins: names of the block (a rule's, a lay's, a hole's); properties of the item
 * itself; `ground`; factors; single kinds; and in what somebody typed, the items of the job. A handbook
 * function's body sees the last three only.
 */

#include "dieset/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define POINTS_TABLE "points_of_lay"

static const struct formula_type number_type = {.sort = FORMULA_NUMBER};

struct formula_found found_constant(struct formula_type t, double number)
{
    return (struct formula_found){.how = FORMULA_CONSTANT, .type = t, .index = -1, .constant = number};
}

static struct formula_found found_empty(struct formula_type t)
{
    struct formula_found f = found_constant(t, t.sort == FORMULA_ITEM ? -1 : 0);
    f.error = FORMULA_EMPTY;
    return f;
}

static struct formula_found found_item(int kind, int item)
{
    return found_constant((struct formula_type){.sort = FORMULA_ITEM, .kind = kind}, item);
}

static enum base_err found_cell(struct frame *f, struct cell *c, struct formula_found *out,
                                struct base_diag *why)
{
    int s = f->told >= 0 ? f->told : f->variant;
    if (f->types_only) {
        *out = found_empty(c->type.type);
        return BASE_OK;
    }
    enum base_err err = bind_need(f->b, c, s, why);
    if (err)
        return err;
    if (c->stateful && f->told < 0) {
        f->stateful = true;
        f->asked = f->asked ? f->asked : c->path;
    }
    s = c->stateful ? s : 0;
    *out = (struct formula_found){.how = FORMULA_SLOT, .type = c->type.type, .index = c->slot[s]};
    if (c->folded[s]) {
        *out = found_constant(c->type.type, c->constant[s].number);
        out->error = c->constant[s].error;
        out->arisen = c->constant[s].origin + 1;
    }
    return BASE_OK;
}

static int kind_property(const struct dieset *d, int kind, const char *name)
{
    int n;
    return kind >= 0 && base_map_get(&d->properties[kind], name, &n) ? n : -1;
}

/* ---- properties of an item, a lay, a point, a block --------------------------------------- */

static enum base_err point_property(struct frame *f, int number, const char *name, struct formula_found *out,
                                    struct base_diag *why)
{
    struct point_place at = f->b->points.at[number];
    const struct point *p = &f->b->items.at[at.item].points[at.point];
    bool sine = strcmp(name, "sine") == 0;
    if (sine || strcmp(name, "cosine") == 0)
        return found_cell(f, point_share(f->b, at.item, at.point, sine), out, why);
    struct cell *c = strcmp(name, "x") == 0      ? p->x
                     : strcmp(name, "y") == 0    ? p->y
                     : strcmp(name, "turn") == 0 ? p->turn
                                                 : NULL;
    return c ? found_cell(f, c, out, why) : BASE_UNKNOWN;
}

static enum base_err take(struct frame *f, int item, const char *name, struct formula_found *out,
                          struct base_diag *why)
{
    if (item < 0)
        return BASE_UNKNOWN;
    const struct item *it = &f->b->items.at[item];
    for (int i = 0; it->pattern && i < it->pattern->n_takes; i++)
        if (strcmp(it->pattern->takes[i].name, name) == 0)
            return found_cell(f, it->takes[i], out, why);
    return BASE_UNKNOWN;
}

static enum base_err lay_property(struct frame *f, int item, const char *name, struct formula_found *out,
                                  struct base_diag *why)
{
    struct cell *turn = f->b->items.at[item].turn_all;
    return turn && strcmp(name, "turn") == 0 ? found_cell(f, turn, out, why) : take(f, item, name, out, why);
}

/* What a rule's block says of "hole.x": its names hold the whole path. */
static enum base_err block_property(struct frame *f, int first, const char *name, struct formula_found *out)
{
    const char *head = f->block->names[first];
    size_t n = strcspn(head, ".") + 1;
    for (int i = 0; i < f->block->count; i++)
        if (strncmp(f->block->names[i], head, n) == 0 && strcmp(f->block->names[i] + n, name) == 0) {
            *out = (struct formula_found){.how = FORMULA_ARGUMENT, .type = f->block->types[i], .index = i};
            return BASE_OK;
        }
    if (strcmp(name, "plate") != 0)
        return BASE_UNKNOWN;
    *out = found_item(f->b->d->contract.plate, f->plate);
    return BASE_OK;
}

/* A column of a side, for sums over the outline. */
static enum base_err side_property(struct frame *f, int number, const char *name, struct formula_found *out,
                                   struct base_diag *why)
{
    struct side_place at = f->b->sides.at[number];
    int column = side_column(name);
    return column < 0 ? BASE_UNKNOWN
                      : found_cell(f, f->b->items.at[at.item].sides[at.side].columns[column], out, why);
}

/* Whether NAME can be a point's, told without counting them. */
static bool names_point(const struct build *b, const struct item *own, const char *name)
{
    const char *tail = own->framed ? strrchr(name, '_') : NULL;
    if (tail && strspn(tail + 1, "0123456789") == strlen(tail + 1) && tail[1]) {
        char stem[100];
        snprintf(stem, sizeof stem, "%.*s", (int)(tail - name), name);
        struct item first = *own;
        first.framed = false;
        if (names_point(b, &first, stem))
            return true;
    }
    if (!own->pattern)
        return own->with >= 0 && names_point(b, item_points(b, own->with), name);
    if (own->pattern->repeat)
        return name[0] == 'p' && name[1] >= '1' && name[1] <= '9';
    for (int i = 0; i < own->pattern->n_points; i++)
        if (strcmp(own->pattern->points[i].name, name) == 0)
            return true;
    return false;
}

/* `points`, `mean_x`, a point by its name, `lay`: of items that stand at points. */
static enum base_err laid_property(struct frame *f, int item, const char *name, struct formula_found *out,
                                   struct base_diag *why)
{
    struct build *b = f->b;
    const struct item *it = &b->items.at[item];
    if (it->kind < 0 || !handbook_kind(b->d->h, it->kind)->lays)
        return BASE_UNKNOWN;
    if (strcmp(name, "mean_x") == 0)
        return found_cell(f, it->mean_x, out, why);
    if (strcmp(name, "mean_y") == 0)
        return found_cell(f, it->mean_y, out, why);
    if (strcmp(name, "mean_cos") == 0 || strcmp(name, "mean_sin") == 0)
        return found_cell(f, point_share(b, item, -1, name[5] == 's'), out, why);
    if (strcmp(name, "lay") == 0) {
        *out = found_item(-1, LAY_ITEMS + item);
        return BASE_OK;
    }
    const struct item *own = item_points(b, item);
    bool count = strcmp(name, "points") == 0;
    if (!count && !names_point(b, own, name))
        return BASE_UNKNOWN;
    if (count && f->types_only) {
        *out = found_empty(number_type);
        return BASE_OK;
    }
    enum base_err err = build_points(b, item, why);
    if (err)
        return err;
    if (count) {
        *out = found_constant(number_type, own->n_points);
        return BASE_OK;
    }
    for (int p = 0; p < own->n_points; p++)
        if (strcmp(own->points[p].name, name) == 0) {
            *out = found_item(-1, own->point_numbers[p]);
            return BASE_OK;
        }
    return BASE_UNKNOWN;
}

/* Of some item of KIND, when only its type is asked: never filled in. */
static enum base_err kind_only(struct frame *f, int kind, const char *name, struct formula_found *out)
{
    const struct dieset *d = f->b->d;
    struct formula_type type;
    if (kind == handbook_kind_count(d->h) + 1) {
        if (handbook_side_type(name, &type))
            *out = found_empty(type);
        return handbook_side_type(name, &type) ? BASE_OK : BASE_UNKNOWN;
    }
    int p = kind < handbook_kind_count(d->h) ? kind_property(d, kind, name) : -1;
    if (p >= 0)
        *out = found_empty(handbook_kind(d->h, kind)->properties[p].type.type);
    else if (kind == handbook_kind_count(d->h) && (strcmp(name, "x") == 0 || strcmp(name, "y") == 0))
        *out = found_empty((struct formula_type){.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH});
    else if (kind == handbook_kind_count(d->h) && (strcmp(name, "cosine") == 0 || strcmp(name, "sine") == 0))
        *out = found_empty(number_type);
    else if (kind >= 0 && (strcmp(name, "mean_cos") == 0 || strcmp(name, "mean_sin") == 0))
        *out = found_empty(number_type);
    else if (kind >= 0 && (strcmp(name, "order") == 0 || strcmp(name, "points") == 0))
        *out = found_empty(number_type);
    else if (kind >= 0 && (strcmp(name, "mean_x") == 0 || strcmp(name, "mean_y") == 0))
        *out = found_empty((struct formula_type){.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH});
    else
        return BASE_UNKNOWN;
    return BASE_OK;
}

static enum base_err item_property(struct frame *f, int item, const char *name, struct formula_found *out,
                                   struct base_diag *why)
{
    struct build *b = f->b;
    const struct item *it = &b->items.at[item];
    int p = kind_property(b->d, it->kind, name);
    if (p >= 0) {
        if (it->properties[p]->what == CELL_MEASURE && f->where != IN_RULE &&
            !handbook_kind(b->d->h, it->kind)->properties[p].first)
            return base_fail(why, BASE_REFUSED,
                             "%s is worked out by geometry: rules may read it, formulas may not.",
                             it->properties[p]->path);
        return found_cell(f, it->properties[p], out, why);
    }
    if (strcmp(name, "order") == 0) {
        *out = found_constant(number_type, it->place);
        return BASE_OK;
    }
    for (size_t i = 0; i < it->values.count; i++)
        if (strcmp(it->values.at[i]->name, name) == 0)
            return found_cell(f, it->values.at[i], out, why);
    return laid_property(f, item, name, out, why);
}

static enum base_err property_of(void *arg, int item, int kind, const char *name, struct formula_found *out,
                                 struct base_diag *why)
{
    struct frame *f = arg;
    if (item < 0)
        return kind_only(f, kind, name, out);
    if (item >= BLOCK_ITEMS)
        return block_property(f, item - BLOCK_ITEMS, name, out);
    if (item >= SIDE_ITEMS)
        return side_property(f, item - SIDE_ITEMS, name, out, why);
    if (item >= LAY_ITEMS)
        return lay_property(f, item - LAY_ITEMS, name, out, why);
    if (item >= POINT_ITEMS)
        return point_property(f, item - POINT_ITEMS, name, out, why);
    return item_property(f, item, name, out, why);
}

/* ---- leading names ---------------------------------------------------------------------- */

typedef enum base_err name_fn(struct frame *f, const char *name, struct formula_found *out,
                              struct base_diag *why);

static enum base_err block_name(struct frame *f, const char *name, struct formula_found *out,
                                struct base_diag *why)
{
    (void)why;
    size_t n = strlen(name);
    for (int i = 0; f->block && i < f->block->count; i++) {
        if (strcmp(f->block->names[i], name) == 0) {
            *out = (struct formula_found){.how = FORMULA_ARGUMENT, .type = f->block->types[i], .index = i};
            return BASE_OK;
        }
        if (strncmp(f->block->names[i], name, n) == 0 && f->block->names[i][n] == '.') {
            *out = found_item(-1, BLOCK_ITEMS + i);
            return BASE_OK;
        }
    }
    for (int i = 0; f->block && i < f->block->n_items; i++)
        if (strcmp(f->block->items[i].name, name) == 0) {
            int item = f->block->items[i].item;
            *out = found_item(f->b->items.at[item].kind, item);
            return BASE_OK;
        }
    return BASE_UNKNOWN;
}

/* The edges and middle of the plate that a lay is dimensioned from. */
static enum base_err edge_name(struct frame *f, const char *name, struct formula_found *out,
                               struct base_diag *why)
{
    const struct contract *k = &f->b->d->contract;
    const struct { const char *name; int property; } edges[] = {
        {"left", k->left}, {"right", k->right}, {"front", k->front}, {"back", k->back},
        {"middle_x", k->middle_x}, {"middle_y", k->middle_y}, {"length", k->length}, {"width", k->width},
    };
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        if (strcmp(edges[i].name, name) == 0)
            return f->plate < 0
                       ? kind_only(f, k->plate, name, out)
                       : found_cell(f, f->b->items.at[f->plate].properties[edges[i].property], out, why);
    return BASE_UNKNOWN;
}

static enum base_err turn_name(struct frame *f, const char *name, struct formula_found *out,
                               struct base_diag *why)
{
    const struct item *it = &f->b->items.at[f->item];
    if (strcmp(name, "turn_all") == 0 && it->turn_all)
        return found_cell(f, it->turn_all, out, why);
    if (strcmp(name, "turn_here") == 0 && f->point >= 0) {
        const struct point *p = &it->points[f->point];
        return found_cell(f, it->framed && p->own_turn ? p->own_turn : p->turn, out, why);
    }
    if (strcmp(name, "turn_own") == 0 && f->point >= 0 && it->points[f->point].own_turn)
        return found_cell(f, it->points[f->point].own_turn, out, why);
    return BASE_UNKNOWN;
}

/* with_x, with_y: the place of the first frame of the item that this one stands with; the plan's origin where
   there is none. */
static enum base_err with_name(struct frame *f, const char *name, struct formula_found *out,
                               struct base_diag *why)
{
    const struct formula_type length = {.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH};
    const struct item *it = &f->b->items.at[f->item];
    const struct item *with = it->with < 0 ? NULL : item_points(f->b, it->with);
    if (with && with->framed && with->n_frames)
        return found_cell(f, name[5] == 'x' ? with->frames[0].x : with->frames[0].y, out, why);
    *out = found_constant(length, 0);
    return BASE_OK;
}

static enum base_err frame_name(struct frame *f, const char *name, struct formula_found *out,
                                struct base_diag *why)
{
    if (strcmp(name, "with_x") == 0 || strcmp(name, "with_y") == 0)
        return with_name(f, name, out, why);
    if (strcmp(name, "index") != 0 || f->index < 0)
        return BASE_UNKNOWN;
    *out = found_constant(number_type, f->index);
    return BASE_OK;
}

/* In the formulas of a point in a frame. */
static enum base_err framed_name(struct frame *f, const char *name, struct formula_found *out,
                                 struct base_diag *why)
{
    const struct item *it = &f->b->items.at[f->item];
    if (!it->framed || f->point < 0)
        return BASE_UNKNOWN;
    const struct point *p = &it->points[f->point];
    const struct point_frame *at = &it->frames[p->frame];
    const struct { const char *name; struct cell *cell;
    } own[] = {{"frame_x", at->x}, {"frame_y", at->y}, {"frame_turn", at->turn},
               {"place_x", p->place_x}, {"place_y", p->place_y}};
    for (size_t i = 0; i < COUNT_OF(own); i++)
        if (strcmp(own[i].name, name) == 0 && own[i].cell)
            return found_cell(f, own[i].cell, out, why);
    if (strcmp(name, "with_x") == 0 || strcmp(name, "with_y") == 0)
        return with_name(f, name, out, why);
    if (p->beside < 0 || strncmp(name, "with_point_", 11) != 0)
        return BASE_UNKNOWN;
    const struct item *with = item_points(f->b, it->with);
    return point_property(f, with->point_numbers[p->beside] - POINT_ITEMS, name + 11, out, why);
}

static enum base_err lay_name(struct frame *f, const char *name, struct formula_found *out,
                              struct base_diag *why)
{
    enum base_err err = take(f, f->item, name, out, why);
    if (err == BASE_UNKNOWN)
        err = edge_name(f, name, out, why);
    if (err == BASE_UNKNOWN && strcmp(name, "index") == 0 && f->index >= 0) {
        *out = found_constant(number_type, f->index);
        err = BASE_OK;
    }
    if (err == BASE_UNKNOWN && f->where == IN_PATTERN)
        err = strcmp(name, "points") == 0 ? laid_property(f, f->item, name, out, why)
                                          : turn_name(f, name, out, why);
    return err == BASE_UNKNOWN && f->where == IN_PATTERN ? framed_name(f, name, out, why) : err;
}

static enum base_err hole_name(struct frame *f, const char *name, struct formula_found *out,
                               struct base_diag *why)
{
    if (strcmp(name, "plate") == 0) {
        *out = found_item(f->b->d->contract.plate, f->plate);
        return BASE_OK;
    }
    if (strcmp(name, "index") == 0 && f->index >= 0) {
        f->at_point = true;
        *out = found_constant(number_type, f->index);
        return BASE_OK;
    }
    if (f->point < 0)
        return BASE_UNKNOWN;
    static const char *const names[][2] = {
        {"x", "x"}, {"y", "y"}, {"turn", "turn"}, {"point_x", "x"}, {"point_y", "y"}};
    for (size_t i = 0; i < COUNT_OF(names); i++)
        if (strcmp(names[i][0], name) == 0) {
            f->at_point = true;
            return point_property(f, item_points(f->b, f->item)->point_numbers[f->point] - POINT_ITEMS,
                                  names[i][1], out, why);
        }
    return BASE_UNKNOWN;
}

/* In the formulas of a side: what is known of it and, with "before_", of the side before. */
static enum base_err side_name(struct frame *f, const char *name, struct formula_found *out,
                               struct base_diag *why)
{
    const struct side *s = &f->b->items.at[f->item].sides[f->index];
    bool before = strncmp(name, "before_", 7) == 0;
    int column = side_cell(before ? name + 7 : name);
    if (column >= 0)
        return found_cell(f, s[before ? -1 : 0].columns[column], out, why);
    if (strcmp(name, "turns") == 0)
        *out = found_constant(number_type, s->line.left ? 1 : -1);
    else if (strcmp(name, "bends") == 0)
        *out = found_constant(number_type, s->line.long_way ? -1 : 1);
    else
        return BASE_UNKNOWN;
    return BASE_OK;
}

static enum base_err place_name(struct frame *f, const char *name, struct formula_found *out,
                                struct base_diag *why)
{
    if (strcmp(name, "usual") == 0 && f->usual)
        return found_cell(f, f->usual, out, why);
    switch (f->where) {
    case IN_LAY:
    case IN_PATTERN:
        return lay_name(f, name, out, why);
    case IN_FRAME:
        return frame_name(f, name, out, why);
    case IN_HOLE:
        return hole_name(f, name, out, why);
    case IN_SIDE:
        return side_name(f, name, out, why);
    case IN_RULE:
        if (strcmp(name, "plate") != 0 || f->plate < 0)
            return BASE_UNKNOWN;
        *out = found_item(f->b->d->contract.plate, f->plate);
        return BASE_OK;
    case IN_KIND:
    case IN_JOB:
        break;
    }
    return BASE_UNKNOWN;
}

static enum base_err own_name(struct frame *f, const char *name, struct formula_found *out,
                              struct base_diag *why)
{
    if (f->item < 0 || f->where == IN_PATTERN)
        return BASE_UNKNOWN;
    enum base_err err = item_property(f, f->item, name, out, why);
    if (err != BASE_UNKNOWN || (strcmp(name, "this") != 0 && strcmp(name, "name") != 0))
        return err;
    *out = found_item(f->b->items.at[f->item].kind, f->item);
    return BASE_OK;
}

static enum base_err ground_name(struct frame *f, const char *name, struct formula_found *out,
                                 struct base_diag *why)
{
    (void)why;
    if (strcmp(name, "ground") != 0)
        return BASE_UNKNOWN;
    if (f->told < 0) {
        f->stateful = true;
        f->asked = f->asked ? f->asked : name;
    }
    *out = found_constant(number_type, f->told >= 0 ? f->told : f->variant);
    return BASE_OK;
}

static enum base_err factor_name(struct frame *f, const char *name, struct formula_found *out,
                                 struct base_diag *why)
{
    int n;
    if (!base_map_get(&f->b->d->factors, name, &n))
        return BASE_UNKNOWN;
    return found_cell(f, f->b->factors[n], out, why);
}

static enum base_err single_name(struct frame *f, const char *name, struct formula_found *out,
                                 struct base_diag *why)
{
    (void)why;
    int kind;
    if (!base_map_get(&f->b->d->kinds, name, &kind) || !handbook_kind(f->b->d->h, kind)->single)
        return BASE_UNKNOWN;
    const struct rows *r = &f->b->rows[kind];
    *out = r->items.count ? found_item(kind, r->items.at[0])
                          : found_empty((struct formula_type){.sort = FORMULA_ITEM, .kind = kind});
    return BASE_OK;
}

static enum base_err job_name(struct frame *f, const char *name, struct formula_found *out,
                              struct base_diag *why)
{
    (void)why;
    int item;
    bool typed = f->where == IN_JOB || f->where == IN_LAY || f->where == IN_RULE;
    if (!typed || !base_map_get(&f->b->item_names, name, &item))
        return BASE_UNKNOWN;
    *out = found_item(f->b->items.at[item].kind, item);
    return BASE_OK;
}

static enum base_err name_of(void *arg, const char *name, bool in_body, struct formula_found *out,
                             struct base_diag *why)
{
    static name_fn *const order[] = {block_name,  place_name,  own_name, ground_name,
                                     factor_name, single_name, job_name};
    enum base_err err = BASE_UNKNOWN;
    for (size_t i = in_body ? 3 : 0; i < COUNT_OF(order) && err == BASE_UNKNOWN; i++)
        err = order[i](arg, name, out, why);
    return err;
}

/* ---- tables, functions, states -------------------------------------------------------------- */

static const struct formula_function *function_of(void *arg, const char *name)
{
    const struct dieset *d = ((struct frame *)arg)->b->d;
    int n;
    return base_map_get(&d->functions, name, &n) ? &handbook_function(d->h, n)->f : NULL;
}

static bool outlines(const struct build *b, int item)
{
    return b->items.at[item].kind >= 0 && handbook_kind(b->d->h, b->items.at[item].kind)->outlines;
}

static int kind_of(void *arg, const char *name)
{
    const struct frame *f = arg;
    int n;
    if (f->where == IN_PATTERN && f->point < 0 && strcmp(name, POINTS_TABLE) == 0)
        return handbook_kind_count(f->b->d->h);
    if (f->item >= 0 && f->where != IN_PATTERN && strcmp(name, "outline") == 0 && outlines(f->b, f->item))
        return handbook_kind_count(f->b->d->h) + 1;
    return base_map_get(&f->b->d->kinds, name, &n) ? n : -1;
}

static int rows_of(void *arg, int kind, const int **items)
{
    const struct frame *f = arg;
    if (kind == handbook_kind_count(f->b->d->h)) {
        const struct item *own = item_points(f->b, f->item);
        *items = own->point_numbers;
        return own->n_points;
    }
    if (kind == handbook_kind_count(f->b->d->h) + 1) {
        *items = f->b->items.at[f->item].side_numbers;
        return f->b->items.at[f->item].n_sides ? f->b->items.at[f->item].n_sides - 1 : 0;
    }
    *items = f->b->rows[kind].items.at;
    return (int)f->b->rows[kind].items.count;
}

static int kinds_of(void *arg) { return handbook_kind_count(((struct frame *)arg)->b->d->h); }

/* Items stand in the order of their places; of points and sides nothing is known. */
static bool is_ascending(void *arg, int kind, const char *column)
{
    const struct dieset *d = ((const struct frame *)arg)->b->d;
    return kind < handbook_kind_count(d->h) && strcmp(column, "order") == 0 &&
           kind_property(d, kind, column) < 0;
}

/* Cells of sums are made while the job is bound; what is compiled later adds up for itself what was not made
   by then. */
static enum base_err shared_sum(void *arg, const char *formula, struct formula_type type,
                                struct formula_found *out, struct base_diag *why)
{
    struct frame *f = arg;
    struct build *b = f->b;
    int id;
    if (f->types_only)
        return BASE_UNKNOWN;
    if (!base_map_get(&b->sums, formula, &id)) {
        const char *text = base_arena_copy(&b->memory, formula);
        struct cell c = {.what = CELL_SUM,
                         .item = -1,
                         .number = -1,
                         .point = -1,
                         .index = -1,
                         .plate = -1,
                         .type = {HANDBOOK_NUMBER, type},
                         .path = text,
                         .name = text,
                         .entry = "",
                         .title = text};
        if (b->bound || formula_parse(text, &c.parsed, NULL) != BASE_OK)
            return BASE_UNKNOWN;
        id = build_cell(b, &c)->id;
        base_map_put(&b->sums, formula, id);
    }
    return found_cell(f, b->cells.at[id], out, why);
}

static int *kept_tally(void *arg, const char *text, int count)
{
    struct build *b = ((struct frame *)arg)->b;
    int at;
    if (base_map_get(&b->tallies, text, &at))
        return b->tallied.at[at];
    int *fresh = base_arena_alloc(&b->memory, (size_t)count * sizeof *fresh);
    base_map_put(&b->tallies, text, (int)b->tallied.count);
    base_vec_push(&b->tallied, fresh);
    return fresh;
}

static int table_of(void *arg, const char *name)
{
    return table_find(((struct frame *)arg)->b->tables, name);
}

static bool column_of(void *arg, int table, const char *name, struct formula_column *out)
{
    const struct table_set *t = ((struct frame *)arg)->b->tables;
    int n = table_column(t, table, name);
    if (n < 0)
        return false;
    const struct table_column_spec *c = &table_spec(t, table)->columns[n];
    *out = (struct formula_column){{.sort = c->is_text ? FORMULA_TEXT : FORMULA_NUMBER, .dim = c->dim}, n};
    return true;
}

static int pick_of(void *arg, const struct formula_pick *pick)
{
    _Static_assert((int)FORMULA_LISTED == (int)TABLE_LISTED && (int)FORMULA_COUNT == (int)TABLE_COUNT,
                   "one numbering of modes");
    _Static_assert((int)FORMULA_EQUAL == (int)TABLE_EQUAL && (int)FORMULA_AT_LEAST == (int)TABLE_AT_LEAST,
                   "one numbering of relations");
    struct table_key keys[16];
    int n = pick->n_keys < (int)COUNT_OF(keys) ? pick->n_keys : (int)COUNT_OF(keys);
    for (int i = 0; i < n; i++)
        keys[i] = (struct table_key){pick->keys[i].column, (enum table_relation)pick->keys[i].relation};
    return table_query(((struct frame *)arg)->b->tables, pick->table, pick->column,
                       (enum table_mode)pick->mode, keys, n);
}

static int tell_state(void *arg, int state)
{
    struct frame *f = arg;
    int before = f->told;
    f->told = state;
    return before;
}

static int ask_types_only(void *arg, int on)
{
    struct frame *f = arg;
    int before = f->types_only;
    f->types_only = on;
    return before;
}

static void near_names(void *arg, const char *name, struct base_text *out)
{
    const struct frame *f = arg;
    const struct build *b = f->b;
    BASE_VEC(const char *) names = {0};
    if (f->item >= 0 && b->items.at[f->item].kind >= 0) {
        const struct handbook_kind *k = handbook_kind(b->d->h, b->items.at[f->item].kind);
        for (int i = 0; i < k->n_properties; i++)
            base_vec_push(&names, k->properties[i].name);
    }
    for (int i = 0; i < handbook_factor_count(b->d->h); i++)
        base_vec_push(&names, handbook_factor(b->d->h, i)->name);
    for (size_t i = 0; i < b->items.count && f->where != IN_KIND; i++)
        base_vec_push(&names, b->items.at[i].name);
    base_nearest(out, name, names.at, names.count);
    base_vec_done(&names);
}

static const struct formula_tree *apart_of(void *arg, int table)
{
    return handbook_apart(((struct frame *)arg)->b->d->h, table);
}

void frame_scope(struct frame *f, struct formula_scope *out)
{
    *out = (struct formula_scope){
        .arg = f,
        .name = name_of,
        .property = property_of,
        .function = function_of,
        .nearest = near_names,
        .kind = kind_of,
        .rows = rows_of,
        .kinds = kinds_of,
        .table = table_of,
        .column = column_of,
        .apart = apart_of,
        .pick = pick_of,
        .state = tell_state,
        .types_only = ask_types_only,
        .ascending = is_ascending,
        .shared = shared_sum,
        .kept = kept_tally,
        .pool = f->b->d->pool,
    };
}

/* ---- formulas of rooms above ------------------------------------------------------------------ */

enum base_err dieset_compile(struct dieset *d, const struct formula_tree *tree, int item, int plate,
                             enum dieset_state s, const struct dieset_block *block,
                             const struct formula_type *want, struct formula_code **out,
                             struct base_diag *why)
{
    struct frame f = {.b = d->now,
                      .where = IN_RULE,
                      .item = item,
                      .plate = plate,
                      .point = -1,
                      .index = -1,
                      .block = block,
                      .variant = s,
                      .told = -1};
    struct formula_scope scope;
    frame_scope(&f, &scope);
    d->now->failed = false;
    *out = NULL;
    return formula_compile(tree, &scope, want, out, why);
}
