/* Binding: cells to slots of the model, depth first.
 *
 * A cell that is met while its own formula is being bound closes a circle, which is refused by name. A
 * chain longer than DEEP is not followed on the machine's stack: the way there is given up, the
 * cell at its end is bound from the outermost level, and the way is gone again.
 */

#include "dieset/build.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DEEP = 60, LOOP_HEAD = 6, LOOP_TAIL = 2 }; /* a longer loop is told by its ends */

static const char *name_in_state(struct build *b, const struct cell *c, int s)
{
    return s == DIESET_GROUND ? base_arena_format(&b->memory, "%s (ground)", c->path) : c->path;
}

/* "a -> b -> a", from where the circle closes. */
static enum base_err fail_circle(struct build *b, const struct cell *c, int s, struct base_diag *why)
{
    BASE_VEC(struct bound_name) way = {0};
    for (size_t i = 0; i < b->trail.count; i++)
        base_vec_push(&way, b->trail.at[i]);
    for (size_t i = 0; i < b->path.count; i++)
        base_vec_push(&way, b->path.at[i]);
    size_t first = 0;
    for (size_t i = 0; i < way.count; i++)
        if (way.at[i].cell == c && (way.at[i].state == s || way.at[first].cell != c))
            first = i;
    struct base_text loop = {0};
    for (size_t i = first; i < way.count; i++) {
        if (i == first + LOOP_HEAD && i + LOOP_TAIL < way.count) {
            base_text_addf(&loop, "(%zu more) -> ", way.count - LOOP_TAIL - i);
            i = way.count - LOOP_TAIL;
        }
        base_text_addf(&loop, "%s -> ", name_in_state(b, way.at[i].cell, way.at[i].state));
    }
    base_text_add(&loop, name_in_state(b, c, s));
    bind_fail(b, why, "%s: it would hang on itself: %s.", c->path, base_text_get(&loop));
    base_text_done(&loop);
    base_vec_done(&way);
    return BASE_REFUSED;
}

/* ---- one formula ---------------------------------------------------------------------------- */

enum base_err bind_parse(struct build *b, struct cell *c, struct base_diag *why)
{
    struct base_diag inner = {0};
    if (c->parsed || !c->typed || c->what == CELL_LINE ||
        formula_parse(c->typed, &c->parsed, &inner) == BASE_OK)
        return BASE_OK;
    return bind_fail_at(b, c->path, &inner, why);
}

bool cell_bare(const struct build *b, const struct cell *c, struct base_diag *why)
{
    double number;
    struct formula_type t = c->type.type;
    if (!c->parsed || t.sort != FORMULA_NUMBER || unit_same(t.dim, UNIT_NUMBER) ||
        !formula_is_bare_number(c->parsed, &number) || number == 0)
        return false;
    char dim[80];
    struct unit_display unit = unit_display(t.dim, b->system);
    base_fail(why, BASE_REFUSED, "%s is wanted: write %s %s.", unit_dim_name(t.dim, dim, sizeof dim),
              c->typed, unit.name);
    base_diag_mark(why, c->typed, 0, (int)strlen(c->typed));
    return true;
}

static void frame_of(struct build *b, const struct cell *c, int s, struct frame *f)
{
    bool in_lay = c->what >= CELL_TAKE && c->what <= CELL_MEAN_SIN;
    *f = (struct frame){.b = b,
                        .item = c->what == CELL_FACTOR || c->what == CELL_SUM ? -1 : c->item,
                        .plate = c->plate,
                        .point = c->point,
                        .index = c->index,
                        .usual = c->usual,
                        .variant = s,
                        .told = -1};
    f->where = c->what == CELL_FIELD               ? IN_HOLE
               : c->what >= CELL_FRAME_X && c->what <= CELL_FRAME_TURN ? IN_FRAME
               : c->what == CELL_SIDE && !c->typed ? IN_SIDE
               : c->typed                          ? (in_lay ? IN_LAY : IN_JOB)
               : in_lay                            ? IN_PATTERN
                                                   : IN_KIND;
}

enum base_err bind_compile(struct build *b, struct cell *c, int s, struct frame *f, struct formula_code **out,
                           struct base_diag *why)
{
    struct base_diag inner = {0};
    struct formula_scope scope;
    frame_of(b, c, s, f);
    b->asks->scope(f, &scope);
    *out = NULL;
    if (cell_bare(b, c, &inner))
        return bind_fail_at(b, c->path, &inner, why);
    enum base_err err = formula_compile(c->parsed ? c->parsed : c->tree, &scope, &c->type.type, out, &inner);
    if (!err && f->stateful && c->size) {
        formula_code_free(*out);
        *out = NULL;
        return bind_fail(b, why,
                         "%s: a size that is bought, cut or drilled may not hang on how far the set is "
                         "ground, as %s does: "
                         "say at_new() or at_ground() about it, such as at_new(%s).",
                         c->path, f->asked, f->asked);
    }
    if (!err || b->late)
        return err;
    return bind_fail_at(b, c->path, &inner, why);
}

enum base_err bind_settled(struct frame *f, const struct formula_tree *t, struct formula_type want,
                           const char *what, struct formula_value *out, struct base_diag *why)
{
    struct build *b = f->b;
    struct base_diag inner = {0};
    struct formula_scope scope;
    struct formula_code *code = NULL;
    b->asks->scope(f, &scope);
    enum base_err err = formula_compile(t, &scope, &want, &code, &inner);
    if (err)
        return b->late ? err : bind_fail_at(b, what, &inner, why);
    bool constant = formula_code_constant(code, out);
    formula_code_free(code);
    if (!constant || f->stateful)
        return bind_fail(b, why, "%s: it must be known without working anything out, but \"%s\" is not.",
                         what, formula_text(t));
    return BASE_OK;
}

/* ---- settled values --------------------------------------------------------------------------- */

static enum base_err check_choice(struct build *b, const struct cell *c, struct formula_value v,
                                  struct base_diag *why)
{
    const struct handbook_property *p = NULL;
    if (c->what == CELL_PROPERTY)
        p = &handbook_kind(b->d->h, b->items.at[c->item].kind)->properties[c->number];
    if (!p || !p->n_choices)
        return BASE_OK;
    const char *text = base_pool_text(b->d->pool, (int)v.number);
    struct base_text list = {0};
    for (int i = 0; i < p->n_choices; i++) {
        if (strcmp(p->choices[i], text) == 0) {
            base_text_done(&list);
            return BASE_OK;
        }
        base_text_addf(&list, "%s\"%s\"", i ? ", " : "", p->choices[i]);
    }
    bind_fail(b, why, "%s: \"%s\" is none of %s.", c->path, text, base_text_get(&list));
    base_text_done(&list);
    return BASE_REFUSED;
}

/* Counts make holes and bodies, so one that is beyond use is refused before anything is made of it. */
static enum base_err check_count(struct build *b, const struct cell *c, double number, struct base_diag *why)
{
    const struct formula_tree *least, *most;
    double low = 0, high = INFINITY;
    cell_range(b, c, &least, &most);
    bool bounded = least && most && formula_is_bare_number(least, &low) &&
                   formula_is_bare_number(most, &high);
    if (bounded && (number < low || number > high))
        return bind_fail(b, why, "%s would be %.15g; the handbook allows %.15g to %.15g.", c->path, number,
                         low, high);
    if (number < 0 || number != floor(number))
        return bind_fail(b, why, "%s: %.15g is no whole number of pieces.", c->path, number);
    return BASE_OK;
}

static enum base_err check_numbers(struct build *b, const struct cell *c, struct formula_value v,
                                   struct base_diag *why)
{
    const char *text = base_pool_text(b->d->pool, (int)v.number);
    if (formula_numbers(text, NULL, 0) >= 0)
        return BASE_OK;
    return bind_fail(b, why, "%s: \"%s\" lists no numbers in rising order; write them as \"2, 3, 5 to 8\".",
                     c->path, text);
}

static enum base_err check_settled(struct build *b, const struct cell *c, const struct formula_code *code,
                                   struct formula_value *v, struct base_diag *why)
{
    if (!formula_code_constant(code, v))
        return bind_fail(b, why, "%s: it must be known without working anything out.", c->path);
    if (v->error)
        return BASE_OK;
    if (c->type.sort == HANDBOOK_CHOICE)
        return check_choice(b, c, *v, why);
    if (c->type.sort == HANDBOOK_NUMBERS)
        return check_numbers(b, c, *v, why);
    return c->type.sort == HANDBOOK_COUNT ? check_count(b, c, v->number, why) : BASE_OK;
}

/* A reference that somebody typed: the bare name of an item of the kind that is asked for. */
static enum base_err bind_reference(struct build *b, struct cell *c, struct formula_value *out,
                                    struct base_diag *why)
{
    const char *name, *kind = "";
    int item, want = c->type.type.kind;
    if (want >= 0)
        kind = handbook_kind(b->d->h, want)->name;
    if (!formula_is_name(c->parsed, &name))
        return bind_fail(b, why, "%s: write the name of an item (%s).", c->path, kind);
    if (!base_map_get(&b->item_names, name, &item)) {
        struct base_text near = {0};
        BASE_VEC(const char *) names = {0};
        for (size_t i = 0; i < b->items.count; i++)
            if (want < 0 || b->items.at[i].kind == want)
                base_vec_push(&names, b->items.at[i].name);
        base_nearest(&near, name, names.at, names.count);
        bind_fail(b, why, "%s: there is no item %s%s%s.", c->path, name, near.length ? "; near it: " : "",
                  base_text_get(&near));
        base_text_done(&near);
        base_vec_done(&names);
        return BASE_REFUSED;
    }
    if (want >= 0 && b->items.at[item].kind != want)
        return bind_fail(b, why, "%s: %s is no %s.", c->path, name, kind);
    *out = (struct formula_value){.number = item, .origin = -1};
    return BASE_OK;
}

/* ---- one cell ------------------------------------------------------------------------------------ */

static void fold(struct cell *c, int s, struct formula_value v)
{
    v.origin = !v.error ? -1 : v.origin >= 0 ? v.origin : c->slot[s];
    for (int k = s; k < (c->stateful ? s + 1 : DIESET_STATES); k++) {
        c->folded[k] = true;
        c->constant[k] = v;
    }
}

/* Whether readers are to see the constant: what cannot change without binding anew. */
static bool folds(const struct cell *c)
{
    return handbook_settled(c->type) || c->type.type.sort == FORMULA_YESNO || c->what == CELL_FIELD ||
           c->what == CELL_FRAME_TURN || (c->what == CELL_PROPERTY && !c->can_type);
}

static void add_slot(struct build *b, struct cell *c, int s)
{
    c->slot[s] = model_add(b->model, name_in_state(b, c, s), c->type.type);
    if (s == DIESET_NEW)
        c->slot[DIESET_GROUND] = c->slot[s];
}

static enum base_err bind_blank(struct build *b, struct cell *c)
{
    add_slot(b, c, DIESET_NEW);
    if (folds(c))
        fold(c, DIESET_NEW,
             (struct formula_value){c->type.type.sort == FORMULA_ITEM ? -1 : 0, FORMULA_EMPTY, -1});
    return BASE_OK;
}

static enum base_err bind_code(struct build *b, struct cell *c, int s, struct base_diag *why)
{
    struct frame f;
    struct formula_code *code;
    struct formula_value v;
    enum base_err err = bind_compile(b, c, s, &f, &code, why);
    if (err)
        return err;
    if (handbook_settled(c->type) && (err = check_settled(b, c, code, &v, why)) != BASE_OK) {
        formula_code_free(code);
        return err;
    }
    c->stateful = c->stateful || f.stateful;
    c->at_point = c->at_point || f.at_point;
    bool constant = formula_code_constant(code, &v) && folds(c);
    if (constant && c->what == CELL_FIELD) {
        formula_code_free(code);
        fold(c, s, v);
        return BASE_OK;
    }
    add_slot(b, c, s);
    if (constant)
        fold(c, s, v);
    return model_set_code(b->model, c->slot[s], code, why);
}

/* A line of an outline is a text that nothing computes. */
static enum base_err bind_line(struct build *b, struct cell *c)
{
    double text = base_pool_put(b->d->pool, c->typed);
    add_slot(b, c, DIESET_NEW);
    model_set_constant(b->model, c->slot[DIESET_NEW], text);
    fold(c, DIESET_NEW, (struct formula_value){.number = text, .origin = -1});
    return BASE_OK;
}

static bool is_mean(const struct cell *c) { return c->what >= CELL_MEAN_X && c->what <= CELL_MEAN_SIN; }

static bool is_blank(const struct build *b, const struct cell *c)
{
    if (c->what == CELL_MEASURE || (!c->parsed && !c->tree))
        return true;
    return is_mean(c) && item_points(b, c->item)->n_points == 0;
}

static enum base_err bind_state(struct build *b, struct cell *c, int s, struct base_diag *why)
{
    enum base_err err = bind_parse(b, c, why);
    if (!err && is_mean(c))
        err = b->asks->points(b, c->item, why);
    if (err)
        return err;
    if (c->what == CELL_LINE)
        return bind_line(b, c);
    if (is_blank(b, c))
        return bind_blank(b, c);
    if (!c->typed || c->type.sort != HANDBOOK_ITEM)
        return bind_code(b, c, s, why);
    struct formula_value v;
    err = bind_reference(b, c, &v, why);
    if (err)
        return err;
    add_slot(b, c, s);
    model_set_constant(b->model, c->slot[s], v.number);
    fold(c, s, v);
    return BASE_OK;
}

static enum base_err bind_one(struct build *b, struct cell *c, int s, struct base_diag *why)
{
    if (c->progress[s] == CELL_BOUND)
        return BASE_OK;
    if (c->progress[s] == CELL_BINDING)
        return fail_circle(b, c, s, why);
    if (base_give_up())
        return bind_fail_given_up(b, why);
    struct bound_name at = {c, s};
    if (b->path.count >= DEEP) {
        b->late = c;
        for (size_t i = 0; i < b->path.count; i++)
            base_vec_push(&b->trail, b->path.at[i]);
        return BASE_REFUSED;
    }
    c->progress[s] = CELL_BINDING;
    base_vec_push(&b->path, at);
    enum base_err err = bind_state(b, c, s, why);
    b->path.count--;
    c->progress[s] = err ? CELL_UNBOUND : CELL_BOUND;
    return err;
}

enum base_err bind_need(struct build *b, struct cell *c, int s, struct base_diag *why)
{
    enum base_err err = bind_one(b, c, DIESET_NEW, why);
    return err || s == DIESET_NEW || !c->stateful ? err : bind_one(b, c, s, why);
}

/* ---- all cells ------------------------------------------------------------------------------------- */

static enum base_err bind_cell(struct build *b, int i, struct base_diag *why)
{
    return bind_need(b, b->cells.at[i], DIESET_GROUND, why);
}

enum base_err bind_step(struct build *b, build_step *step, int i, struct base_diag *why)
{
    for (;;) {
        size_t mark = b->trail.count;
        enum base_err err = step(b, i, why);
        struct cell *c = b->late;
        if (!err || !c)
            return err;
        b->late = NULL;
        if (c->waiting)
            return fail_circle(b, c, DIESET_NEW, why);
        c->waiting = true;
        err = bind_step(b, bind_cell, c->id, why);
        c->waiting = false;
        b->trail.count = mark;
        if (err)
            return err;
    }
}

enum base_err bind_cells(struct build *b, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < (int)b->items.count && !err; i++)
        err = bind_step(b, b->asks->points, i, why);
    for (int i = 0; i < (int)b->cells.count && !err; i++)
        err = bind_step(b, bind_cell, i, why);
    return err;
}
