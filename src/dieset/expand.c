/* Texts to cells: what each item has by its kind, what was typed where, the points of each lay. */

#include "dieset/build.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Of all items together: a perforating tool has some thousands of punches. What is more is a slip, refused
   before anything is made of it. */
enum { MOST_POINTS = 40000, LONGEST_NAME = 79 };

static const struct handbook_type length_type = {HANDBOOK_NUMBER,
                                                 {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}};
static const struct handbook_type angle_type = {HANDBOOK_NUMBER,
                                                {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}}};

/* NAME behind the item's name, with blanks for "_" and "." in its title. */
static const char *with_blanks(struct build *b, const char *name)
{
    char *t = base_arena_copy(&b->memory, name);
    for (char *p = t; *p; p++)
        if (*p == '_' || *p == '.')
            *p = ' ';
    return t;
}

/* TEXT, which is given away, in the build's memory. */
static const char *kept(struct build *b, char *text)
{
    const char *copy = base_arena_copy(&b->memory, text);
    free(text);
    return copy;
}

static const char *path_of(struct build *b, int item, const char *name)
{
    return base_arena_format(&b->memory, "%s.%s", b->items.at[item].name, name);
}

/* ---- items ------------------------------------------------------------------------------ */

/* A word that formulas have a meaning for. */
static bool is_word(const char *name)
{
    static const char *const words[] = {"this",  "name",  "order", "points", "ground", "usual",
                                        "index", "value", "limit", "hole",   "lay",    "yes",
                                        "no",    "pi",    "and",   "or",     "not",    "factor"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strcmp(words[i], name) == 0)
            return true;
    return false;
}

static enum base_err item_kind(struct build *b, const struct text_item *t, struct item *out,
                               struct base_diag *why)
{
    struct dieset *d = b->d;
    out->kind = out->factor = -1;
    if (strcmp(t->kind, "factor") == 0) {
        if (!base_map_get(&d->factors, t->name, &out->factor))
            return bind_fail(b, why, "%s: the handbook has no factor of this name.", t->name);
        return BASE_OK;
    }
    if (!base_map_get(&d->kinds, t->kind, &out->kind))
        return bind_fail(b, why, "%s: the handbook has no kind %s.", t->name, t->kind);
    if (strlen(t->name) > LONGEST_NAME)
        return bind_fail(
            b, why,
            "%.40s ... is too long for the name of an item: %d letters are the most. A title may be longer.",
            t->name, LONGEST_NAME);
    if (!record_is_name(t->name))
        return bind_fail(b, why,
                         "\"%s\" cannot be the name of an item: a name has small letters, digits and "
                         "\"_\", and begins with a letter.",
                         t->name);
    if (is_word(t->name) || unit_is_word(t->name))
        return bind_fail(b, why,
                         "\"%s\" cannot be the name of an item: in formulas it is %s. Call it \"%s_1\", "
                         "say, or by what it is for.",
                         t->name, is_word(t->name) ? "a word of its own" : "a unit", t->name);
    if (base_map_get(&d->factors, t->name, NULL))
        return bind_fail(b, why, "\"%s\" is the name of a factor; an item needs another.", t->name);
    int single;
    if (base_map_get(&d->kinds, t->name, &single) && single != out->kind &&
        handbook_kind(d->h, single)->single)
        return bind_fail(b, why, "%s is the name of the one %s of a job; another item needs another.",
                         t->name, t->name);
    if (handbook_kind(d->h, out->kind)->single &&
        (strcmp(t->kind, t->name) != 0 || b->rows[out->kind].items.count))
        return bind_fail(b, why, "%s: a job has one %s, named %s.", t->name, t->kind, t->kind);
    return BASE_OK;
}

static enum base_err add_item(struct build *b, int i, struct base_diag *why)
{
    const struct text_item *t = &b->texts.items.at[i];
    struct item it = {.name = t->name, .with = -1, .plate = -1};
    enum base_err err = item_kind(b, t, &it, why);
    if (err)
        return err;
    if (base_map_get(&b->item_names, t->name, NULL))
        return bind_fail(b, why, "%s: there are two items of this name.", t->name);
    base_map_put(&b->item_names, t->name, i);
    if (it.kind >= 0) {
        base_vec_push(&b->rows[it.kind].items, i);
        it.place = (int)b->rows[it.kind].items.count;
    }
    base_vec_push(&b->items, it);
    return BASE_OK;
}

static void add_properties(struct build *b, int i)
{
    struct item *it = &b->items.at[i];
    const struct handbook_kind *k = handbook_kind(b->d->h, it->kind);
    it->properties = base_arena_alloc(&b->memory, (size_t)k->n_properties * sizeof *it->properties + 1);
    for (int p = 0; p < k->n_properties; p++) {
        const struct handbook_property *q = &k->properties[p];
        bool typable = q->how == HANDBOOK_ASKED || q->how == HANDBOOK_USUAL;
        struct cell c = {.what = q->how == HANDBOOK_MEASURE ? CELL_MEASURE : CELL_PROPERTY,
                         .item = i,
                         .number = p,
                         .point = -1,
                         .index = -1,
                         .plate = -1,
                         .type = q->type,
                         .path = path_of(b, i, q->name),
                         .name = q->name,
                         .entry = q->name,
                         .title = q->title,
                         .tree = q->tree,
                         .size = typable,
                         .can_type = typable};
        it->properties[p] = build_cell(b, &c);
    }
    if (!k->lays)
        return;
    struct cell mean = {.what = CELL_MEAN_X,
                        .item = i,
                        .number = -1,
                        .point = -1,
                        .index = -1,
                        .plate = -1,
                        .type = length_type,
                        .path = path_of(b, i, "mean_x"),
                        .name = "mean_x",
                        .entry = "",
                        .title = "mean x",
                        .tree = b->mean_x};
    it->mean_x = build_cell(b, &mean);
    mean.what = CELL_MEAN_Y, mean.path = path_of(b, i, "mean_y"), mean.name = "mean_y", mean.title = "mean y",
    mean.tree = b->mean_y;
    it->mean_y = build_cell(b, &mean);
}

static void add_factors(struct build *b)
{
    int n = handbook_factor_count(b->d->h);
    b->factors = base_arena_alloc(&b->memory, (size_t)n * sizeof *b->factors + 1);
    for (int i = 0; i < n; i++) {
        const struct handbook_factor *f = handbook_factor(b->d->h, i);
        struct cell c = {.what = CELL_FACTOR,
                         .item = -1,
                         .number = i,
                         .point = -1,
                         .index = -1,
                         .plate = -1,
                         .type = f->type,
                         .path = f->name,
                         .name = f->name,
                         .entry = "value",
                         .title = f->title,
                         .tree = f->tree,
                         .size = true,
                         .can_type = true};
        b->factors[i] = build_cell(b, &c);
    }
}

/* ---- own values --------------------------------------------------------------------------- */

static struct cell *own_value(const struct item *it, const char *name)
{
    for (size_t i = 0; i < it->values.count; i++)
        if (strcmp(it->values.at[i]->name, name) == 0)
            return it->values.at[i];
    return NULL;
}

static enum base_err add_values(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    const struct text_item *t = &b->texts.items.at[i];
    for (size_t k = 0; k < t->entries.count; k++) {
        const char *path = t->entries.at[k].path;
        struct typed_path at = typed_path_read(path);
        if (is_text_path(b, i, path) && at.detail == TYPED_ITSELF)
            continue;
        char *name = base_arena_copy_n(&b->memory, path, at.base);
        if (own_value(it, name))
            continue;
        if (!record_is_name(name) || is_word(name) || unit_is_word(name))
            return bind_fail(b, why, "%s.%s is no name for a value.", it->name, name);
        char *of_type = typed_of_detail(name, TYPED_TYPE);
        const char *type = texts_entry(t, of_type);
        free(of_type);
        struct cell c = {.what = CELL_VALUE,
                         .item = i,
                         .number = (int)it->values.count,
                         .point = -1,
                         .index = -1,
                         .plate = -1,
                         .path = path_of(b, i, name),
                         .name = name,
                         .entry = name,
                         .title = with_blanks(b, name),
                         .can_type = true};
        struct base_diag inner = {0};
        if (handbook_parse_type(b->d->h, type ? type : "number", &c.type, &inner) != BASE_OK)
            return bind_fail_at(b, c.path, &inner, why);
        base_vec_push(&it->values, build_cell(b, &c));
    }
    return BASE_OK;
}

/* ---- where an item lays --------------------------------------------------------------------- */

static enum base_err lay_with(struct build *b, int i, const char *name, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    int other;
    if (!base_map_get(&b->item_names, name, &other) || b->items.at[other].kind < 0 ||
        !handbook_kind(b->d->h, b->items.at[other].kind)->lays)
        return bind_fail(b, why, "%s.lay: there is no item %s that stands at points.", it->name, name);
    it->with = other;
    it->framed = handbook_kind(b->d->h, it->kind)->frame.x != NULL;
    return BASE_OK;
}

static enum base_err lay_on(struct build *b, int i, const char *pattern, const char *plate,
                            struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    int n;
    if (!base_map_get(&b->d->patterns, pattern, &n)) {
        struct base_text near = {0};
        BASE_VEC(const char *) names = {0};
        for (int k = 0; k < handbook_pattern_count(b->d->h); k++)
            base_vec_push(&names, handbook_pattern(b->d->h, k)->name);
        base_nearest(&near, pattern, names.at, names.count);
        bind_fail(b, why, "%s.lay: there is no pattern %s%s%s.", it->name, pattern,
                  near.length ? "; near it: " : "", base_text_get(&near));
        base_text_done(&near);
        base_vec_done(&names);
        return BASE_REFUSED;
    }
    if (!base_map_get(&b->item_names, plate, &it->plate) ||
        b->items.at[it->plate].kind != b->d->contract.plate)
        return bind_fail(b, why, "%s.lay: there is no plate %s.", it->name, plate);
    it->pattern = handbook_pattern(b->d->h, n);
    it->framed = it->pattern->framed && handbook_kind(b->d->h, it->kind)->frame.x;
    return BASE_OK;
}

static void add_takes(struct build *b, int i)
{
    struct item *it = &b->items.at[i];
    const struct handbook_pattern *p = it->pattern;
    it->takes = base_arena_alloc(&b->memory, (size_t)p->n_takes * sizeof *it->takes + 1);
    for (int k = 0; k < p->n_takes; k++) {
        const struct handbook_take *t = &p->takes[k];
        const char *name = base_arena_format(&b->memory, "lay.%s", t->name);
        struct cell c = {.what = CELL_TAKE,
                         .item = i,
                         .number = k,
                         .point = -1,
                         .index = -1,
                         .plate = it->plate,
                         .type = t->type,
                         .path = path_of(b, i, name),
                         .name = name,
                         .entry = kept(b, typed_of_take(t->name)),
                         .title = t->title ? t->title : with_blanks(b, t->name),
                         .tree = t->usual,
                         .size = true,
                         .can_type = true};
        it->takes[k] = build_cell(b, &c);
    }
    struct cell turn = {.what = CELL_TURN_ALL,
                        .item = i,
                        .number = -1,
                        .point = -1,
                        .index = -1,
                        .plate = it->plate,
                        .type = angle_type,
                        .path = path_of(b, i, "lay.turn"),
                        .name = "lay.turn",
                        .entry = kept(b, typed_of_take("turn")),
                        .title = "turn of all",
                        .tree = b->turn_none,
                        .size = true,
                        .can_type = true};
    it->turn_all = build_cell(b, &turn);
}

static enum base_err add_lay(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    const char *text = texts_entry(&b->texts.items.at[i], "lay");
    if (!text)
        return BASE_OK;
    if (it->kind < 0 || !handbook_kind(b->d->h, it->kind)->lays)
        return bind_fail(b, why, "%s.lay: an item of this kind does not stand at points.", it->name);
    struct typed_lay lay;
    bool good = typed_lay_read(text, &lay);
    it->lays = true;
    if (!good)
        return bind_fail(
            b, why,
            "%s.lay: say a pattern and its plate, as \"corners on die_plate\", or \"with\" another item.",
            it->name);
    enum base_err err = lay.with ? lay_with(b, i, lay.on, why) : lay_on(b, i, lay.pattern, lay.on, why);
    if (!err && it->pattern)
        add_takes(b, i);
    return err;
}

/* Stand-withs must end at an item that has points of its own; it gives them its plate. */
static enum base_err end_with(struct build *b, int i, struct base_diag *why)
{
    int at = i;
    for (size_t n = 0; b->items.at[at].with >= 0; n++, at = b->items.at[at].with)
        if (n > b->items.count)
            return bind_fail(b, why, "%s.lay: it stands with itself, by way of %s.", b->items.at[i].name,
                             b->items.at[b->items.at[i].with].name);
    b->items.at[i].plate = b->items.at[at].plate;
    return BASE_OK;
}

/* ---- points -------------------------------------------------------------------------------- */

/* The handbook's name of a point: of frames behind the first with their number. */
static const char *point_name(struct build *b, const struct item *it, int number, int places)
{
    int frame = number / places;
    const struct item *own = it->pattern ? it : item_points(b, it->with);
    if (it->pattern && it->pattern->repeat)
        return base_arena_format(&b->memory, "p%d", number + 1);
    const char *name = it->pattern ? it->pattern->points[number % places].name
                                   : own->points[number % places].name;
    return frame ? base_arena_format(&b->memory, "%s_%d", name, frame + 1) : name;
}

static struct cell *coordinate(struct build *b, int i, int number, enum cell_what what, enum typed_axis axis,
                               const struct formula_tree *tree)
{
    const struct item *it = &b->items.at[i];
    const char *point = it->points[number].name,
               *name = base_arena_format(&b->memory, "%s.%s", point, typed_axis_name(axis));
    struct cell c = {.what = what,
                     .item = i,
                     .number = -1,
                     .point = number,
                     .index = number,
                     .plate = it->plate,
                     .type = what == CELL_TURN ? angle_type : length_type,
                     .path = path_of(b, i, name),
                     .name = name,
                     .entry = kept(b, typed_of_point(point, axis)),
                     .title = with_blanks(b, name),
                     .tree = tree,
                     .size = true,
                     .can_type = true};
    return build_cell(b, &c);
}

/* Its place in its frame: by the pattern, or beside a point of the item that it stands with. */
static struct cell *place_in_frame(struct build *b, int i, int number, bool across,
                                   const struct handbook_point *hp)
{
    const struct item *it = &b->items.at[i];
    const struct formula_tree *tree = !hp               ? across ? b->beside_y : b->beside_x
                                      : it->pattern->free ? b->no_length
                                      : across            ? hp->y
                                                          : hp->x;
    struct cell *c = coordinate(b, i, number, across ? CELL_PLACE_Y : CELL_PLACE_X,
                                across ? TYPED_Y : TYPED_X, tree);
    c->path = base_arena_format(&b->memory, "%s (in its frame)", c->path);
    c->index = it->pattern ? number % (it->n_points / it->n_frames) : number;
    c->can_type = false;
    return c;
}

static void add_framed(struct build *b, int i, int number, const struct handbook_point *hp)
{
    const struct item *it = &b->items.at[i];
    struct point *p = &it->points[number];
    bool turned = it->frames[p->frame].turn != NULL;
    p->place_x = place_in_frame(b, i, number, false, hp);
    p->place_y = place_in_frame(b, i, number, true, hp);
    p->x = coordinate(b, i, number, CELL_X, TYPED_X, turned ? b->turned_x : b->framed_x);
    p->y = coordinate(b, i, number, CELL_Y, TYPED_Y, turned ? b->turned_y : b->framed_y);
}

static void add_point(struct build *b, int i, int number, int places)
{
    struct item *it = &b->items.at[i];
    const struct handbook_pattern *pattern = it->pattern;
    const struct handbook_point *hp = pattern ? &pattern->points[pattern->repeat ? 0 : number % places]
                                              : NULL;
    struct point *p = &it->points[number];
    p->name = point_name(b, it, number, places);
    p->frame = it->framed ? number / places : -1;
    p->beside = pattern ? -1 : number % places;
    if (it->framed) {
        add_framed(b, i, number, hp);
    } else {
        p->x = coordinate(b, i, number, CELL_X, TYPED_X, hp->x);
        p->y = coordinate(b, i, number, CELL_Y, TYPED_Y, hp->y);
    }
    bool framed_turn = it->framed && it->frames[p->frame].turn;
    const struct formula_tree *turn = !hp ? b->beside_turn : hp->turn ? hp->turn : b->turn_all;
    p->turn = coordinate(b, i, number, CELL_TURN, TYPED_TURN, turn);
    if (framed_turn || (hp && hp->turn && it->turn_all->typed)) {
        struct cell own = *p->turn;
        own.what = CELL_OWN_TURN;
        own.path = base_arena_format(&b->memory, "%s (of the pattern)", own.path);
        own.can_type = false;
        p->own_turn = build_cell(b, &own);
        p->turn->tree = !framed_turn ? b->turn_sum : b->turn_framed;
    }
    it->point_numbers[number] = POINT_ITEMS + (int)b->points.count;
    struct point_place place = {i, number};
    base_vec_push(&b->points, place);
}

/* ---- frames -------------------------------------------------------------------------------- */

static struct cell *frame_cell(struct build *b, int i, int number, enum cell_what what, const char *name,
                               const struct formula_tree *tree)
{
    struct cell c = {.what = what,
                     .item = i,
                     .number = -1,
                     .point = -1,
                     .index = number,
                     .plate = b->items.at[i].plate,
                     .type = what == CELL_FRAME_TURN ? angle_type : length_type,
                     .path = base_arena_format(&b->memory, "%s (frame %d, %s)", b->items.at[i].name,
                                               number + 1, name),
                     .name = name,
                     .entry = "",
                     .title = name,
                     .tree = tree,
                     .size = true};
    return build_cell(b, &c);
}

static enum base_err add_frames(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    const struct handbook_frame *h = &handbook_kind(b->d->h, it->kind)->frame;
    struct formula_value v = {.number = 1};
    struct frame f = {
        .b = b, .where = IN_FRAME, .item = i, .plate = it->plate, .point = -1, .index = -1, .told = -1};
    enum base_err err = h->repeat ? bind_settled(&f, h->repeat, (struct formula_type){.sort = FORMULA_NUMBER},
                                                 path_of(b, i, "lay"), &v, why)
                                  : BASE_OK;
    if (err)
        return err;
    if (!v.error && (v.number < 0 || v.number > MOST_POINTS || v.number != (int)v.number))
        return bind_fail(b, why, "%s.lay: it cannot stand at %g places of the strip.", it->name, v.number);
    it->n_frames = v.error ? 0 : (int)v.number;
    it->frames = base_arena_alloc(&b->memory, (size_t)it->n_frames * sizeof *it->frames + 1);
    for (int n = 0; n < it->n_frames && !err; n++) {
        it->frames[n].x = frame_cell(b, i, n, CELL_FRAME_X, "along", h->x);
        it->frames[n].y = frame_cell(b, i, n, CELL_FRAME_Y, "across", h->y);
        struct cell *turn = h->turn ? frame_cell(b, i, n, CELL_FRAME_TURN, "turn", h->turn) : NULL;
        err = turn ? bind_need(b, turn, DIESET_NEW, why) : BASE_OK;
        bool none = !err && turn && turn->folded[0] && !turn->constant[0].error &&
                    turn->constant[0].number == 0;
        it->frames[n].turn = none ? NULL : turn;
    }
    return err;
}

struct cell *point_share(struct build *b, int i, int point, bool sine)
{
    struct item *it = &b->items.at[i];
    struct cell **out = point < 0 ? sine ? &it->mean_sin : &it->mean_cos
                        : sine    ? &it->points[point].sine
                                  : &it->points[point].cosine;
    if (*out)
        return *out;
    const char *name = point < 0 ? sine ? "mean_sin" : "mean_cos"
                                 : base_arena_format(&b->memory, "%s.%s", it->points[point].name,
                                                     sine ? "sine" : "cosine");
    struct cell c = {.item = i,
                     .number = -1,
                     .point = point,
                     .index = point,
                     .plate = -1,
                     .type = {HANDBOOK_NUMBER, {.sort = FORMULA_NUMBER}},
                     .path = path_of(b, i, name),
                     .name = name,
                     .entry = "",
                     .title = name};
    c.what = point < 0 ? sine ? CELL_MEAN_SIN : CELL_MEAN_COS : sine ? CELL_SINE : CELL_COSINE;
    c.tree = point < 0 ? sine ? b->mean_sin : b->mean_cos : sine ? b->turn_sin : b->turn_cos;
    return *out = build_cell(b, &c);
}

static int find_point(const struct item *it, const char *name)
{
    if (it->pattern && it->pattern->repeat) {
        char *end, text[24];
        long n = name[0] == 'p' ? strtol(name + 1, &end, 10) : 0;
        snprintf(text, sizeof text, "p%ld", n);
        return n >= 1 && n <= it->n_points && strcmp(text, name) == 0 ? (int)n - 1 : -1;
    }
    for (int p = 0; p < it->n_points; p++)
        if (strcmp(it->points[p].name, name) == 0)
            return p;
    return -1;
}

bool asks_usual(const char *text) { return strstr(text, "usual") != NULL; }

/* What is typed over keeps the handbook's formula beside it; a starting value is kept only where the text
   asks for it. */
static void type_over(struct build *b, struct cell *c, const char *text)
{
    if (c->tree && (has_usual(b, c) || asks_usual(text))) {
        c->usual = build_cell(b, c);
        c->usual->path = base_arena_format(&b->memory, "%s (usual)", c->path);
        c->usual->typed = NULL;
    }
    c->typed = text;
}

/* An entry as the path under which people know its value: "pins.lay.end", "pins.right_back.x". */
static const char *known_as(struct build *b, int i, const char *entry)
{
    return kept(b, typed_known(b->items.at[i].name, entry));
}

static enum base_err unknown_entry(struct build *b, int i, const char *path, struct base_diag *why)
{
    const struct item *it = &b->items.at[i];
    if (it->kind < 0)
        return bind_fail(b, why, "%s: a factor has a value and a reason, nothing else.",
                         known_as(b, i, path));
    if (typed_is_laid(path) && it->pattern)
        return bind_fail(b, why, "%s: the pattern %s does not ask for this.", known_as(b, i, path),
                         it->pattern->name);
    if (typed_is_laid(path))
        return bind_fail(b, why, "%s: it does not stand by a pattern.", known_as(b, i, path));
    const struct handbook_kind *k = handbook_kind(b->d->h, it->kind);
    BASE_VEC(const char *) names = {0};
    for (int p = 0; p < k->n_properties; p++)
        if (k->properties[p].how == HANDBOOK_ASKED || k->properties[p].how == HANDBOOK_USUAL)
            base_vec_push(&names, k->properties[p].name);
    for (int w = 0; w < k->n_words; w++)
        base_vec_push(&names, k->words[w]);
    struct base_text near = {0};
    base_nearest(&near, path, names.at, names.count);
    bind_fail(b, why, "%s: %s have nothing of this name to type%s%s.", known_as(b, i, path),
              k->plural ? k->plural : k->name, near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    base_vec_done(&names);
    return BASE_REFUSED;
}

/* The path without its reason. */
static const char *without_reason(struct build *b, const char *path)
{
    struct typed_path at = typed_path_read(path);
    return at.detail == TYPED_REASON ? base_arena_copy_n(&b->memory, path, at.base) : path;
}

static struct cell *point_cell(const struct item *it, const struct typed_path *at)
{
    char name[100];
    snprintf(name, sizeof name, "%.*s", (int)at->length, at->name);
    int point = it->pattern || it->framed ? find_point(it, name) : -1;
    const struct point *p = point < 0 ? NULL : &it->points[point];
    return !p                       ? NULL
           : at->axis == TYPED_X    ? p->x
           : at->axis == TYPED_Y    ? p->y
           : at->axis == TYPED_TURN ? p->turn
                                    : NULL;
}

struct cell *item_cell(const struct build *b, int item, const char *entry)
{
    const struct item *it = &b->items.at[item];
    int p;
    if (it->kind < 0)
        return strcmp(entry, "value") == 0 ? b->factors[it->factor] : NULL;
    if (base_map_get(&b->d->properties[it->kind], entry, &p))
        return it->properties[p];
    struct typed_path at = typed_path_read(entry);
    if (at.detail != TYPED_ITSELF)
        return NULL;
    switch (at.place) {
    case TYPED_AT_LINE:
        return at.number >= 1 && at.number <= it->n_lines ? it->lines[at.number - 1] : NULL;
    case TYPED_AT_POINT:
        return point_cell(it, &at);
    case TYPED_AT_TAKE:
        for (int k = 0; it->pattern && k < it->pattern->n_takes; k++)
            if (typed_path_names(&at, it->pattern->takes[k].name))
                return it->takes[k];
        return typed_path_names(&at, "turn") ? it->turn_all : NULL;
    default:
        return own_value(it, entry);
    }
}

/* Freed points: what is typed at lay/POINT/x and its like. */
static enum base_err free_points(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    const struct text_item *t = &b->texts.items.at[i];
    for (size_t k = 0; k < t->entries.count; k++) {
        struct typed_path at = typed_path_read(t->entries.at[k].path);
        const char *base = without_reason(b, t->entries.at[k].path);
        if (at.place != TYPED_AT_POINT)
            continue;
        struct cell *c = item_cell(b, i, base);
        if (!c && it->with >= 0 && !it->framed)
            return bind_fail(b, why, "%s: it stands with %s; free the point there.", known_as(b, i, base),
                             b->items.at[it->with].name);
        if (!c)
            return bind_fail(b, why, "%s: %s has no such point.", known_as(b, i, base),
                             it->pattern ? it->pattern->name : "it");
        if (at.detail == TYPED_REASON) {
            c->reason = t->entries.at[k].text;
        } else {
            type_over(b, c, t->entries.at[k].text);
            it->points[c->point].freed = !it->pattern || !it->pattern->free;
        }
    }
    return BASE_OK;
}

static enum base_err too_many_points(struct build *b, const struct item *it, double n, struct base_diag *why)
{
    return bind_fail(b, why,
                     "%s.lay: with these %.15g the job would have more than %d points, which is beyond use.",
                     it->name, n, MOST_POINTS);
}

static enum base_err count_points(struct build *b, int i, int *out, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    *out = it->pattern ? it->pattern->n_points : 0;
    if (!it->pattern || !it->pattern->repeat)
        return BASE_OK;
    struct frame f = {
        .b = b, .where = IN_PATTERN, .item = i, .plate = it->plate, .point = 0, .index = -1, .told = -1};
    struct formula_value v;
    enum base_err err = bind_settled(&f, it->pattern->repeat, (struct formula_type){.sort = FORMULA_NUMBER},
                                     path_of(b, i, "lay"), &v, why);
    if (err)
        return err;
    if (!v.error && (v.number < 0 || v.number != floor(v.number)))
        return bind_fail(b, why, "%s.lay: %.15g is no number of points.", it->name, v.number);
    if (!v.error && (double)b->points.count + v.number > MOST_POINTS)
        return too_many_points(b, it, v.number, why);
    *out = v.error ? 0 : (int)v.number;
    return BASE_OK;
}

enum base_err build_points(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    if (it->counted == POINTS_KNOWN)
        return BASE_OK;
    if (it->counted == POINTS_COUNTING)
        return bind_fail(b, why, "%s.lay: the number of its points hangs on itself.", it->name);
    it->counted = POINTS_COUNTING;
    int n = 0;
    enum base_err err = it->with >= 0 ? build_points(b, it->with, why) : count_points(b, i, &n, why);
    if (!err && it->framed)
        err = add_frames(b, i, why);
    it->counted = err ? POINTS_UNKNOWN : POINTS_KNOWN;
    if (err)
        return err;
    if (it->framed && it->with >= 0) {
        const struct item *own = item_points(b, it->with);
        n = own->framed ? own->n_points / (own->n_frames ? own->n_frames : 1) : own->n_points;
    }
    int places = n;
    if (it->framed)
        n *= it->n_frames;
    if (b->points.count + (size_t)n > MOST_POINTS)
        return too_many_points(b, it, n, why);
    it->points = base_arena_alloc(&b->memory, (size_t)n * sizeof *it->points + 1);
    it->point_numbers = base_arena_alloc(&b->memory, (size_t)n * sizeof *it->point_numbers + 1);
    it->n_points = n;
    for (int p = 0; p < n; p++)
        add_point(b, i, p, places);
    return free_points(b, i, why);
}

/* A line of a kind that holds words alone. */
static bool is_word_path(const struct build *b, const struct item *it, const char *path)
{
    return it->kind >= 0 && handbook_word_line(handbook_kind(b->d->h, it->kind), path) >= 0;
}

/* ---- entries --------------------------------------------------------------------------------- */

bool is_text_path(const struct build *b, int item, const char *path)
{
    const struct item *it = &b->items.at[item];
    if (it->kind >= 0 && handbook_kind(b->d->h, it->kind)->n_words)
        return is_word_path(b, it, path);
    if (typed_is_reason(path))
        return true;
    if (strcmp(path, "title") != 0 && strcmp(path, "note") != 0)
        return false;
    return it->kind < 0 || !base_map_get(&b->d->properties[it->kind], path, NULL);
}

/* "reach/type" and its like, of own values. */
static bool is_value_detail(const struct build *b, int i, const struct typed_path *at)
{
    const struct item *it = &b->items.at[i];
    return it->kind >= 0 && handbook_kind(b->d->h, it->kind)->values && at->detail != TYPED_ITSELF &&
           at->detail != TYPED_REASON;
}

static enum base_err put_entry(struct build *b, int i, const struct typed_entry *e, struct base_diag *why)
{
    struct typed_path at = typed_path_read(e->path);
    bool reason = at.detail == TYPED_REASON;
    const char *base = without_reason(b, e->path);
    if (is_row_entry(b, i, e->path))
        return BASE_OK;
    if (at.place == TYPED_AT_LAY || at.place == TYPED_AT_POINT || is_value_detail(b, i, &at) ||
        (!reason && is_text_path(b, i, base)))
        return BASE_OK;
    struct cell *c = item_cell(b, i, base);
    if (!c)
        return unknown_entry(b, i, base, why);
    if (!c->can_type)
        return bind_fail(b, why, "%s: it follows from other values and cannot be typed.", c->path);
    if (reason)
        c->reason = e->text;
    else if (c->what != CELL_LINE)
        type_over(b, c, e->text);
    if (c->what == CELL_FACTOR)
        c->item = i;
    return BASE_OK;
}

static enum base_err put_entries(struct build *b, int i, struct base_diag *why)
{
    const struct text_item *t = &b->texts.items.at[i];
    enum base_err err = BASE_OK;
    for (size_t k = 0; k < t->entries.count && !err; k++)
        err = put_entry(b, i, &t->entries.at[k], why);
    return err;
}

/* ---- the order of a dump ----------------------------------------------------------------------- */

struct ranked { long long rank; size_t at; struct typed_entry entry; };

static int by_rank(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    if (x->rank != y->rank)
        return x->rank < y->rank ? -1 : 1;
    return (x->at > y->at) - (x->at < y->at);
}

static long long entry_rank(struct build *b, int i, const char *path)
{
    enum { TITLE, NOTE, PROPERTIES, OUTLINE, LAY, POINTS, GROUP = 40, ENTRY = 4 };
    const struct item *it = &b->items.at[i];
    struct typed_path at = typed_path_read(path);
    bool reason = at.detail == TYPED_REASON;
    if (is_word_path(b, it, path))
        return handbook_word_line(handbook_kind(b->d->h, it->kind), path);
    if (is_row_entry(b, i, path))
        return ((long long)PROPERTIES << GROUP) + at.number;
    if (!reason && is_text_path(b, i, path))
        return (long long)(strcmp(path, "title") == 0 ? TITLE : NOTE) << GROUP;
    if (at.place == TYPED_AT_LAY)
        return ((long long)LAY << GROUP) + reason;
    const char *base = at.detail == TYPED_ITSELF ? path : base_arena_copy_n(&b->memory, path, at.base);
    const struct cell *c = item_cell(b, i, base);
    long long group = PROPERTIES, number = c ? c->number : 0;
    if (c && c->what == CELL_LINE)
        group = OUTLINE;
    if (c && (c->what == CELL_TAKE || c->what == CELL_TURN_ALL)) {
        group = LAY;
        number = c->what == CELL_TAKE ? c->number + 1 : 1000;
    } else if (c && c->point >= 0) {
        group = POINTS;
        number = c->point * 3LL + (c->what - CELL_X);
    }
    return (group << GROUP) + (number << ENTRY) + at.detail;
}

void build_entries(struct build *b, int i)
{
    struct item *it = &b->items.at[i];
    const struct text_item *t = &b->texts.items.at[i];
    size_t n = t->entries.count;
    struct ranked *r = base_alloc((n + 1) * sizeof *r);
    for (size_t k = 0; k < n; k++)
        r[k] = (struct ranked){entry_rank(b, i, t->entries.at[k].path), k, t->entries.at[k]};
    if (n)
        qsort(r, n, sizeof *r, by_rank);
    it->entries = base_arena_alloc(&b->memory, (n + 1) * sizeof *it->entries);
    it->n_entries = (int)n;
    for (size_t k = 0; k < n; k++)
        it->entries[k] = r[k].entry;
    free(r);
}

const char *build_title(struct build *b, int i)
{
    const struct item *it = &b->items.at[i];
    const char *title = is_text_path(b, i, "title") ? texts_entry(&b->texts.items.at[i], "title") : NULL;
    size_t n = title ? strlen(title) : 0;
    if (n >= 2 && title[0] == '"' && title[n - 1] == '"')
        return base_arena_copy_n(&b->memory, title + 1, n - 2);
    return n ? title : with_blanks(b, it->name);
}

/* ---- all of it ----------------------------------------------------------------------------------- */

static enum base_err parse_own(struct build *b)
{
    const struct { const char *text; struct formula_tree **out;
    } own[] = {
        {"total(points_of_lay.x) / points", &b->mean_x},
        {"total(points_of_lay.y) / points", &b->mean_y},
        {"total(points_of_lay.cosine) / points", &b->mean_cos},
        {"total(points_of_lay.sine) / points", &b->mean_sin},
        {"cos(turn_here)", &b->turn_cos},
        {"sin(turn_here)", &b->turn_sin},
        {"turn_all", &b->turn_all},
        {"turn_own + turn_all", &b->turn_sum},
        {"0 deg", &b->turn_none},
        {"0 mm", &b->no_length},
        {"frame_x + place_x", &b->framed_x},
        {"frame_y + place_y", &b->framed_y},
        {"frame_x + cos(frame_turn) * place_x - sin(frame_turn) * place_y", &b->turned_x},
        {"frame_y + sin(frame_turn) * place_x + cos(frame_turn) * place_y", &b->turned_y},
        {"turn_own + frame_turn", &b->turn_framed},
        {"with_point_x - with_x", &b->beside_x},
        {"with_point_y - with_y", &b->beside_y},
        {"with_point_turn", &b->beside_turn},
    };
    for (size_t i = 0; i < COUNT_OF(own); i++) {
        enum base_err err = formula_parse(own[i].text, own[i].out, NULL);
        if (err)
            return err;
    }
    return BASE_OK;
}

static enum base_err expand_item(struct build *b, int i, struct base_diag *why)
{
    struct item *it = &b->items.at[i];
    it->title = build_title(b, i);
    if (it->kind < 0)
        return BASE_OK;
    add_properties(b, i);
    enum base_err err = handbook_kind(b->d->h, it->kind)->values ? add_values(b, i, why) : BASE_OK;
    if (!err && handbook_kind(b->d->h, it->kind)->outlines)
        err = build_outline(b, i, why);
    return err ? err : add_lay(b, i, why);
}

enum base_err build_expand(struct build *b, struct base_diag *why)
{
    int n = (int)b->texts.items.count;
    enum base_err err = parse_own(b);
    b->rows = base_alloc((size_t)(handbook_kind_count(b->d->h) + 1) * sizeof *b->rows);
    for (int i = 0; i < n && !err; i++)
        err = add_item(b, i, why);
    if (err)
        return err;
    add_factors(b);
    build_step *const steps[] = {expand_item, end_with, put_entries};
    for (size_t s = 0; s < COUNT_OF(steps) && !err; s++)
        for (int i = 0; i < n && !err; i++)
            err = steps[s](b, i, why);
    return err;
}
