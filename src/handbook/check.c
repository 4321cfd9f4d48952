/* Every formula of the handbook against declared types, with no job at hand.
 *
 * The scope here knows types only, and nothing may be folded away, or an arm of an `if` would go unchecked.
 * So a property is a slot that is never run; a reference is an item that is not filled in, so that what is
 * asked of it is not known either; the item at hand and single kinds are some item of their kind (number -1).
 * A kind as a table has one row or none: each formula is compiled with both, because count(kind) needs no
 * look at a row. What a block adds (a hole's x, a rule's value) stands in a small list of names. A first part
 * of such a name ("hole", "a") is an item of a pseudo kind whose properties are the names behind the point.
 */

#include "handbook/scope.h"

#include <stdlib.h>
#include <string.h>

/* pseudo kinds count from here; SIDES: those of an outline */
enum { PSEUDO = 100000, SIDES = PSEUDO - 1, MOST_NAMES = 80 };

struct name { const char *name; struct formula_type type; };

struct checking {
    struct handbook *h;
    const struct handbook_kind *kind; /* whose properties are in reach, NULL none */
    bool measures;                    /* measures too: in rules */
    bool empty;                       /* kinds have no rows */
    int summed;                       /* asked which sums read a row of this kind (+ 1), 0: not asked */
    struct name names[MOST_NAMES];
    int n_names;
    struct base_diag *why;
};

static const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}};
static const struct formula_type angle_type = {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}};
static const struct formula_type number_type = {.sort = FORMULA_NUMBER};
static const struct formula_type text_type = {.sort = FORMULA_TEXT};
static const struct formula_type yesno_type = {.sort = FORMULA_YESNO};

static void add(struct checking *c, const char *name, struct formula_type type)
{
    c->names[c->n_names++] = (struct name){name, type};
}

bool handbook_side_type(const char *column, struct formula_type *out)
{
    static const struct { const char *name; int power;
    } columns[] = {
        {"x", 1},      {"y", 1},      {"length", 1}, {"cut", 1},   {"cut_x", 2}, {"cut_y", 2}, {"area", 2},
        {"area_x", 3}, {"area_y", 3}, {"left", 1},   {"right", 1}, {"front", 1}, {"back", 1},  {"reach", 1},
    };
    for (size_t i = 0; i < COUNT_OF(columns); i++)
        if (strcmp(columns[i].name, column) == 0) {
            *out = number_type;
            out->dim.length = (signed char)(columns[i].power * UNIT_POWER);
            return true;
        }
    return false;
}

/* ---- the scope ---------------------------------------------------------------------------------- */

static enum base_err found(struct formula_type type, struct formula_found *out)
{
    bool item = type.sort == FORMULA_ITEM;
    *out = (struct formula_found){.how = item ? FORMULA_CONSTANT : FORMULA_SLOT, .type = type, .constant = -1,
                                  .error = item ? FORMULA_EMPTY : FORMULA_FINE};
    return BASE_OK;
}

/* The item at hand, or the only one of its kind: its properties are slots. */
static enum base_err found_own(int kind, struct formula_found *out)
{
    *out = (struct formula_found){.how = FORMULA_CONSTANT,
                                  .type = {.sort = FORMULA_ITEM, .kind = kind},
                                  .constant = -1};
    return BASE_OK;
}

static enum base_err no_property(const struct handbook_kind *k, const char *name, struct base_diag *why)
{
    const char **names = base_alloc(((size_t)k->n_properties + 1) * sizeof *names);
    for (int i = 0; i < k->n_properties; i++)
        names[i] = k->properties[i].name;
    struct base_text near = {0};
    base_nearest(&near, name, names, (size_t)k->n_properties);
    base_fail(why, BASE_UNKNOWN, "The kind %s has no \"%s\"%s%s.", k->name, name,
              near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    free(names);
    return BASE_UNKNOWN;
}

static enum base_err property_of(const struct handbook_kind *k, bool measures, const char *name,
                                 struct formula_found *out, struct base_diag *why)
{
    int i = handbook_find_property(k, name);
    if (i >= 0 && k->properties[i].how == HANDBOOK_LET && k->properties[i].type.type.kind == BOOK_UNTOLD)
        return base_fail(why, BASE_REFUSED, "%s stands further down: a let may use those before it.", name);
    if (i >= 0 && k->properties[i].how == HANDBOOK_MEASURE && !k->properties[i].first && !measures)
        return base_fail(why, BASE_REFUSED,
                         "%s is worked out by geometry: rules may read it, formulas may not.", name);
    if (i >= 0)
        return found(k->properties[i].type.type, out);
    if (strcmp(name, "order") == 0 || (k->lays && strcmp(name, "points") == 0))
        return found(number_type, out);
    if (k->lays && (strcmp(name, "mean_x") == 0 || strcmp(name, "mean_y") == 0))
        return found(length_type, out);
    if (k->lays && (strcmp(name, "mean_cos") == 0 || strcmp(name, "mean_sin") == 0))
        return found(number_type, out);
    return BASE_UNKNOWN;
}

static enum base_err block_name(const struct checking *c, const char *name, struct formula_found *out)
{
    size_t n = strlen(name);
    for (int i = 0; i < c->n_names; i++) {
        if (strcmp(c->names[i].name, name) == 0)
            return found(c->names[i].type, out);
        if (strncmp(c->names[i].name, name, n) == 0 && c->names[i].name[n] == '.') {
            *out = (struct formula_found){.how = FORMULA_CONSTANT,
                                          .constant = -1,
                                          .type = {.sort = FORMULA_ITEM, .kind = PSEUDO + i}};
            return BASE_OK;
        }
    }
    return BASE_UNKNOWN;
}

static enum base_err find_name(void *arg, const char *name, bool in_body, struct formula_found *out,
                               struct base_diag *why)
{
    struct checking *c = arg;
    int i;
    if (!in_body && block_name(c, name, out) == BASE_OK)
        return BASE_OK;
    if (!in_body && c->kind) {
        enum base_err err = property_of(c->kind, c->measures, name, out, why);
        if (err != BASE_UNKNOWN)
            return err;
        if (strcmp(name, "this") == 0 || strcmp(name, "name") == 0)
            return found_own((int)(c->kind - c->h->kinds.at), out);
    }
    if (strcmp(name, "ground") == 0)
        return found(number_type, out);
    if (base_map_get(&c->h->factor_names, name, &i))
        return found(c->h->factors.at[i].type.type, out);
    if (base_map_get(&c->h->kind_names, name, &i) && c->h->kinds.at[i].single)
        return found_own(i, out);
    return BASE_UNKNOWN;
}

static enum base_err property_by_type(struct checking *c, int kind, const char *property,
                                      struct formula_found *out, struct base_diag *why)
{
    if (kind >= PSEUDO) {
        const char *head = c->names[kind - PSEUDO].name;
        size_t n = strcspn(head, ".") + 1;
        for (int i = 0; i < c->n_names; i++)
            if (strncmp(c->names[i].name, head, n) == 0 && strcmp(c->names[i].name + n, property) == 0)
                return found(c->names[i].type, out);
        return BASE_UNKNOWN;
    }
    if (kind == SIDES) {
        struct formula_type type;
        return handbook_side_type(property, &type) ? found(type, out) : BASE_UNKNOWN;
    }
    if (kind < 0)
        return base_fail(why, BASE_REFUSED,
                         "Of which kind this item is cannot be known here: its \"%s\" cannot be read.",
                         property);
    const struct handbook_kind *k = &c->h->kinds.at[kind];
    int let = handbook_find_property(k, property);
    if (let >= 0 && k->properties[let].how == HANDBOOK_LET && k != c->kind)
        return base_fail(why, BASE_REFUSED, "\"%s\" is a let of the kind %s: only its own text reads it.",
                         property, k->name);
    enum base_err err = property_of(k, c->measures, property, out, why);
    return err == BASE_UNKNOWN ? no_property(&c->h->kinds.at[kind], property, why) : err;
}

enum { SOME_ROW = -2 }; /* the one item of a kind as a table, told from all others */

static enum base_err find_property(void *arg, int item, int kind, const char *property,
                                   struct formula_found *out, struct base_diag *why)
{
    struct checking *c = arg;
    enum base_err err = property_by_type(c, kind, property, out, why);
    if (!err && c->summed && out->how == FORMULA_SLOT && (item != SOME_ROW || kind != c->summed - 1))
        out->how = FORMULA_ARGUMENT;
    return err;
}

static enum base_err find_leading(void *arg, const char *name, bool in_body, struct formula_found *out,
                                  struct base_diag *why)
{
    enum base_err err = find_name(arg, name, in_body, out, why);
    if (!err && ((struct checking *)arg)->summed && out->how == FORMULA_SLOT)
        out->how = FORMULA_ARGUMENT;
    return err;
}

static int find_kind(void *arg, const char *name)
{
    const struct checking *c = arg;
    int i;
    if (c->kind && c->kind->outlines && strcmp(name, "outline") == 0)
        return SIDES;
    return base_map_get(&c->h->kind_names, name, &i) ? i : -1;
}

static int count_kinds(void *arg) { return (int)((struct checking *)arg)->h->kinds.count; }

static int one_row_or_none(void *arg, int kind, const int **items)
{
    static const int some = SOME_ROW;
    (void)kind;
    *items = &some;
    return ((struct checking *)arg)->empty ? 0 : 1;
}

static const struct formula_function *find_function(void *arg, const char *name)
{
    return scope_function(((struct checking *)arg)->h, name);
}
static int find_table(void *arg, const char *name) { return scope_table(((struct checking *)arg)->h, name); }

static bool column(void *arg, int table, const char *name, struct formula_column *out)
{
    return scope_column(((struct checking *)arg)->h, table, name, out);
}

static int no_query(void *arg, const struct formula_pick *p)
{
    (void)arg, (void)p;
    return 0;
}

static int no_state(void *arg, int s)
{
    (void)arg, (void)s;
    return -1;
}

static void nearest(void *arg, const char *name, struct base_text *out)
{
    struct checking *c = arg;
    size_t n = 0, room = (size_t)c->n_names + (c->kind ? (size_t)c->kind->n_properties : 0) +
                         c->h->factors.count + 1;
    const char **names = base_alloc(room * sizeof *names);
    for (int i = 0; i < c->n_names; i++)
        names[n++] = c->names[i].name;
    for (int i = 0; c->kind && i < c->kind->n_properties; i++)
        names[n++] = c->kind->properties[i].name;
    for (size_t i = 0; i < c->h->factors.count; i++)
        names[n++] = c->h->factors.at[i].name;
    base_nearest(out, name, names, n);
    free(names);
}

/* ---- checks of one formula ------------------------------------------------------------------------- */

/* Show the reason in the line that T stands in; that of its record when T is none of the handbook's. */
static void show(struct checking *c, const struct formula_tree *t, struct handbook_place place)
{
    for (size_t i = 0; i < c->h->spots.count; i++)
        if (c->h->spots.at[i].tree == t)
            place = (struct handbook_place){c->h->spots.at[i].file, c->h->spots.at[i].line};
    book_show(c->h, place.file, place.line, c->why);
}

static const struct formula_tree *apart(void *arg, int table)
{
    return handbook_apart(((struct checking *)arg)->h, table);
}

static struct formula_scope scope_of(struct checking *c)
{
    return (struct formula_scope){.arg = c,
                                  .name = find_leading,
                                  .property = find_property,
                                  .function = find_function,
                                  .nearest = nearest,
                                  .kind = find_kind,
                                  .rows = one_row_or_none,
                                  .kinds = count_kinds,
                                  .table = find_table,
                                  .column = column,
                                  .apart = apart,
                                  .pick = no_query,
                                  .state = no_state,
                                  .pool = c->h->pool};
}

static enum base_err check(struct checking *c, struct handbook_place place, const struct formula_tree *t,
                           const struct formula_type *want, struct formula_type *type)
{
    struct formula_scope scope = scope_of(c);
    enum base_err err = BASE_OK;
    for (int empty = 0; empty < 2 && t && !err; empty++) {
        struct formula_code *code;
        c->empty = empty;
        err = formula_compile(t, &scope, want, &code, c->why);
        if (err)
            show(c, t, place);
        else if (type && !empty)
            *type = formula_code_type(code);
        formula_code_free(code);
    }
    return err;
}

static enum base_err check_template(struct checking *c, struct handbook_place place,
                                    const struct handbook_template *t)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < t->n_pieces && !err; i++) {
        struct formula_type type;
        const struct handbook_piece *p = &t->pieces[i];
        if (!p->tree)
            continue;
        static const struct formula_type yesno = {.sort = FORMULA_YESNO};
        err = check(c, place, p->tree, p->only ? &yesno : NULL, &type);
        struct unit_dim dim;
        struct unit_display display;
        if (!err && p->as &&
            (!unit_display_named(p->as, &dim, &display) || type.sort != FORMULA_NUMBER ||
             !unit_same(type.dim, dim))) {
            err = base_fail(c->why, BASE_REFUSED, "\"%s\" cannot be told in %s.", formula_text(p->tree),
                            p->as);
            base_diag_mark(c->why, formula_text(p->tree), 0, (int)strlen(formula_text(p->tree)));
            show(c, p->tree, place);
        }
    }
    return err;
}

/* ---- records ------------------------------------------------------------------------------------------ */

static enum base_err check_factor(struct checking *c, const struct handbook_factor *f)
{
    enum base_err err = check(c, f->place, f->tree, &f->type.type, NULL);
    if (!err)
        err = check(c, f->place, f->low, &f->type.type, NULL);
    return err ? err : check(c, f->place, f->high, &f->type.type, NULL);
}

/* Factors may name each other; a circle shows when one is worked out. */
static enum base_err try_factor(struct checking *c, const struct handbook_factor *f)
{
    struct formula_value value;
    enum base_err err = handbook_eval_tree(c->h, f->tree, &f->type.type, &value, NULL, c->why);
    if (!err && value.error) {
        err = base_fail(c->why, BASE_REFUSED, "The factor %s has no value: %s.", f->name,
                        formula_error_text(value.error));
        base_diag_mark(c->why, formula_text(f->tree), 0, (int)strlen(formula_text(f->tree)));
    }
    if (err)
        show(c, f->tree, f->place);
    return err;
}

/* A function's parts and result, with its arguments as names; each part may use those before. */
static enum base_err check_function(struct checking *c, const struct handbook_function *f)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < f->f.n_parameters && !err; i++)
        err = check(c, f->place, f->f.parameters[i].usual, &f->f.parameters[i].type, NULL);
    for (int i = 0; i < f->f.n_parameters; i++)
        add(c, f->f.parameters[i].name, f->f.parameters[i].type);
    for (int i = 0; i < f->f.n_lets && !err; i++) {
        struct formula_type type;
        err = check(c, f->place, f->f.lets[i].tree, NULL, &type);
        if (!err)
            add(c, f->f.lets[i].name, type);
    }
    return err ? err : check(c, f->place, f->f.gives, &f->f.type, NULL);
}

static enum base_err check_pattern(struct checking *c, const struct handbook_pattern *p)
{
    static const char *const edges[] = {"left",     "right",    "front",  "back",
                                        "middle_x", "middle_y", "length", "width"};
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        add(c, edges[i], length_type);
    for (int i = 0; i < p->n_takes; i++) {
        err = err ? err : check(c, p->place, p->takes[i].usual, &p->takes[i].type.type, NULL);
        err = err ? err : check(c, p->place, p->takes[i].start, &p->takes[i].type.type, NULL);
        err = err ? err : check(c, p->place, p->takes[i].low, &p->takes[i].type.type, NULL);
        err = err ? err : check(c, p->place, p->takes[i].high, &p->takes[i].type.type, NULL);
        add(c, p->takes[i].name, p->takes[i].type.type);
    }
    if (!err)
        err = check(c, p->place, p->repeat, &number_type, NULL);
    if (p->repeat)
        add(c, "index", number_type);
    for (int i = 0; i < p->n_points && !err; i++) {
        err = check(c, p->place, p->points[i].x, &length_type, NULL);
        err = err ? err : check(c, p->place, p->points[i].y, &length_type, NULL);
        err = err ? err : check(c, p->place, p->points[i].turn, &angle_type, NULL);
    }
    return err;
}

static enum base_err check_limits(struct checking *c, struct handbook_place place,
                                  const struct handbook_limits *l, const struct formula_type *type)
{
    enum base_err err = check(c, place, l->low, type, NULL);
    return err ? err : check(c, place, l->high, type, NULL);
}

static enum base_err check_property(struct checking *c, const struct handbook_property *p)
{
    const char *name;
    bool bare_reference = p->type.sort == HANDBOOK_ITEM && p->tree && formula_is_name(p->tree, &name);
    enum base_err err = bare_reference ? BASE_OK : check(c, p->place, p->tree, &p->type.type, NULL);
    if (!err)
        err = check(c, p->place, p->low, &p->type.type, NULL);
    err = err ? err : check(c, p->place, p->high, &p->type.type, NULL);
    err = err ? err : check_limits(c, p->place, &p->limits, &p->type.type);
    return err ? err : check(c, p->place, p->when, &yesno_type, NULL);
}

/* The type of a let is that of its formula. */
static enum base_err tell_let(struct checking *c, const struct handbook_kind *k, int i)
{
    static const struct { enum formula_sort formula; enum handbook_sort sort; } sorts[] = {
        {FORMULA_NUMBER, HANDBOOK_NUMBER}, {FORMULA_TEXT, HANDBOOK_TEXT}, {FORMULA_YESNO, HANDBOOK_YESNO}};
    struct handbook_property *p = (struct handbook_property *)&k->properties[i]; /* the handbook's own */
    struct formula_type type;
    enum base_err err = check(c, p->place, p->tree, NULL, &type);
    for (size_t s = 0; s < COUNT_OF(sorts) && !err; s++)
        if (sorts[s].formula == type.sort) {
            p->type = (struct handbook_type){sorts[s].sort, type};
            return BASE_OK;
        }
    if (!err) {
        err = base_fail(c->why, BASE_REFUSED, "A let is a number, a text, or yes or no.");
        base_diag_mark(c->why, formula_text(p->tree), 0, (int)strlen(formula_text(p->tree)));
        show(c, p->tree, p->place);
    }
    return err;
}

static enum base_err tell_lets(struct checking *c, const struct handbook_kind *k)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < k->n_properties && !err; i++)
        if (k->properties[i].how == HANDBOOK_LET)
            err = tell_let(c, k, i);
    return err;
}

static void add_place_names(struct checking *c)
{
    static const char *const lengths[] = {"x", "y", "point_x", "point_y"};
    for (size_t i = 0; i < COUNT_OF(lengths); i++)
        if (handbook_find_property(c->kind, lengths[i]) < 0)
            add(c, lengths[i], length_type);
    if (handbook_find_property(c->kind, "turn") < 0)
        add(c, "turn", angle_type);
    add(c, "index", number_type);
    int plate = find_kind(c, "plate");
    add(c, "plate", (struct formula_type){.sort = FORMULA_ITEM, .kind = plate});
}

/* "order > head_in.order": the left side is a property of the kind, the right side of the same type. */
static enum base_err check_match(struct checking *c, const struct handbook_hole *h,
                                 const struct handbook_match *m)
{
    const struct handbook_kind *k = &c->h->kinds.at[find_kind(c, h->each)];
    struct formula_found left;
    enum base_err err = property_of(k, false, m->column, &left, c->why);
    if (err == BASE_UNKNOWN)
        err = no_property(k, m->column, c->why);
    if (!err && left.type.sort != FORMULA_NUMBER && m->relation > FORMULA_UNEQUAL)
        err = base_fail(c->why, BASE_REFUSED, "%s is no number: it is only = or != another.", m->column);
    if (err) {
        base_diag_mark(c->why, m->column, 0, (int)strlen(m->column));
        show(c, m->tree, h->place);
        return err;
    }
    return check(c, h->place, m->tree, &left.type, NULL);
}

static enum base_err check_hole(struct checking *c, const struct handbook_hole *h)
{
    const struct { const struct formula_tree *tree; const struct formula_type *type;
    } fields[] = {
        {h->when, &yesno_type},     {h->repeat, &number_type},   {h->x, &length_type},
        {h->y, &length_type},       {h->diameter, &length_type}, {h->from_top, &yesno_type},
        {h->start, &length_type},   {h->depth, &length_type},    {h->thread_depth, &length_type},
        {h->fit, &text_type},       {h->thread, &text_type},     {h->nominal, &length_type},
        {h->length, &length_type},  {h->width, &length_type},    {h->corner, &length_type},
        {h->outline, &length_type}, {h->turn, &angle_type},      {h->room, &length_type},
        {h->tip, &length_type},     {h->land, &length_type},     {h->relief, &angle_type},
        {h->from, &length_type},    {h->to, &length_type},       {h->bore, &length_type},
    };
    int before = c->n_names;
    add_place_names(c);
    struct formula_type plate = {.sort = FORMULA_ITEM, .kind = find_kind(c, "plate")};
    enum base_err err = check(c, h->place, h->in, &plate, NULL);
    if (!err)
        err = check(c, h->place, h->end_on, &plate, NULL);
    for (size_t i = 0; i < COUNT_OF(fields) && !err; i++)
        err = check(c, h->place, fields[i].tree, fields[i].type, NULL);
    for (int i = 0; i < h->n_matches && !err; i++)
        err = check_match(c, h, &h->matches[i]);
    c->n_names = before;
    return err ? err : check_template(c, h->place, &h->note);
}

static enum base_err check_order(struct checking *c, const struct handbook_order *o,
                                 struct handbook_place place)
{
    const struct formula_type mass = {.sort = FORMULA_NUMBER, .dim = UNIT_MASS};
    enum base_err err = check(c, place, o->when, &yesno_type, NULL);
    err = err ? err : check(c, place, o->pieces, &number_type, NULL);
    err = err ? err : check(c, place, o->mass, &mass, NULL);
    err = err ? err : check_template(c, place, &o->designation);
    err = err ? err : check_template(c, place, &o->size);
    err = err ? err : check_template(c, place, &o->material);
    const struct handbook_template *const words[] = {&o->note, &o->raw, &o->finish, &o->hardness,
                                                     &o->wanted, &o->remark, &o->prices};
    for (size_t i = 0; i < COUNT_OF(words) && !err; i++)
        err = check_template(c, place, words[i]);
    err = err ? err : check(c, place, o->spares, &number_type, NULL);
    err = err ? err : check(c, place, o->price, &number_type, NULL);
    if (!err && o->table && c->h->folder && table_find(c->h->tables, o->table) < 0) {
        err = base_fail(c->why, BASE_REFUSED, "There is no table \"%s\".", o->table);
        show(c, NULL, place);
    }
    return err;
}

static enum base_err check_motion(struct checking *c, const struct handbook_motion *m)
{
    const struct formula_type *type = &m->type.type;
    const struct { const struct formula_tree *tree; const struct formula_type *type;
    } lines[] = {
        {m->tree, type},  {m->least, type},       {m->most, type},
        {m->whole, type}, {m->when, &yesno_type}, {m->judged, &yesno_type},
    };
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < COUNT_OF(lines) && !err; i++)
        err = check(c, m->place, lines[i].tree, lines[i].type, NULL);
    return err ? err : check_template(c, m->place, &m->note);
}

/* The type that a value typed at ENTRY of K has, in *OUT. */
static enum base_err begun_type(struct checking *c, const struct handbook_kind *k,
                                const struct handbook_begun *b, int pattern, struct formula_type *out)
{
    struct formula_found found;
    const struct handbook_pattern *p = pattern < 0 ? NULL : &c->h->patterns.at[pattern];
    *out = (struct formula_type){.sort = FORMULA_ITEM, .kind = find_kind(c, "plate")};
    struct typed_path at = typed_path_read(b->entry);
    if (at.place == TYPED_AT_LAY)
        return p && k->lays ? BASE_OK
                            : base_fail(c->why, BASE_UNKNOWN,
                                        "There is no pattern \"%s\" for items of this kind.", b->pattern);
    if (at.place != TYPED_AT_TAKE) {
        enum base_err err = property_of(k, false, b->entry, &found, c->why);
        *out = found.type;
        return err == BASE_UNKNOWN ? no_property(k, b->entry, c->why) : err;
    }
    for (int i = 0; p && i < p->n_takes; i++)
        if (typed_path_names(&at, p->takes[i].name)) {
            *out = p->takes[i].type.type;
            return BASE_OK;
        }
    return base_fail(c->why, BASE_UNKNOWN, "The pattern takes no \"%.*s\".", (int)at.length, at.name);
}

static enum base_err check_begun(struct checking *c, const struct handbook_kind *k)
{
    enum base_err err = BASE_OK;
    int pattern = -1;
    for (int i = 0; i < k->n_begun && !err; i++) {
        const struct handbook_begun *b = &k->begun[i];
        struct formula_type type;
        if (b->pattern && !base_map_get(&c->h->pattern_names, b->pattern, &pattern))
            pattern = -1;
        err = begun_type(c, k, b, pattern, &type);
        if (err)
            show(c, NULL, b->place);
        else
            err = check(c, b->place, b->tree, &type, NULL);
    }
    return err;
}

static enum base_err check_cell(struct checking *c, const struct handbook_paper_row *row,
                                const struct handbook_template *cell, bool number)
{
    struct formula_type type = {0};
    if (!number || !cell->n_pieces)
        return check_template(c, row->place, cell);
    bool bare = cell->n_pieces == 1 && cell->pieces[0].tree && !cell->pieces[0].as;
    enum base_err err = bare ? check(c, row->place, cell->pieces[0].tree, NULL, &type) : BASE_OK;
    if (err || (bare && type.sort == FORMULA_NUMBER))
        return err;
    err = base_fail(c->why, BASE_REFUSED, "In a column of numbers stands one number: {formula}.");
    show(c, NULL, row->place);
    return err;
}

static enum base_err check_paper(struct checking *c, const struct handbook_paper *p)
{
    enum base_err err = BASE_OK;
    c->kind = NULL;
    for (int i = 0; i < p->n_above && !err; i++)
        err = check_template(c, p->place, &p->above[i]);
    for (int i = 0; i < p->n_below && !err; i++) {
        c->kind = p->below[i].kind < 0 ? NULL : &c->h->kinds.at[p->below[i].kind];
        err = check_template(c, p->place, &p->below[i].says);
    }
    for (int i = 0; i < p->n_rows && !err; i++) {
        const struct handbook_paper_row *row = &p->rows[i];
        c->kind = row->kind < 0 ? NULL : &c->h->kinds.at[row->kind];
        err = check(c, row->place, row->when, &yesno_type, NULL);
        for (int k = 0; k < p->n_columns && !err; k++)
            err = check_cell(c, row, &row->cells[k], p->columns[k].number);
    }
    c->kind = NULL;
    return err;
}

static enum base_err check_frame(struct checking *c, const struct handbook_frame *f)
{
    static const char *const lengths[] = {"with_x", "with_y"};
    int before = c->n_names;
    enum base_err err = check(c, f->place, f->repeat, &number_type, NULL);
    for (size_t i = 0; i < COUNT_OF(lengths); i++)
        add(c, lengths[i], length_type);
    add(c, "index", number_type);
    err = err ? err : check(c, f->place, f->x, &length_type, NULL);
    err = err ? err : check(c, f->place, f->y, &length_type, NULL);
    err = err ? err : check(c, f->place, f->turn, &angle_type, NULL);
    c->n_names = before;
    return err;
}

/* A name that no paper has would hide what can hurt. */
static enum base_err check_cautions(struct checking *c, const struct handbook_kind *k)
{
    enum base_err err = BASE_OK;
    char name[80];
    for (int i = 0; i < k->n_cautions && !err; i++)
        for (const char *on = k->cautions[i].on; on && *on && !err;) {
            on = record_word(on, name, sizeof name);
            if (handbook_find_paper(c->h, name) >= 0)
                continue;
            err = base_fail(c->why, BASE_REFUSED, "A caution is told on \"%s\", and there is no such paper.",
                            name);
            show(c, NULL, k->place);
        }
    return err;
}

static enum base_err check_kind(struct checking *c, const struct handbook_kind *k)
{
    enum base_err err = check_begun(c, k);
    err = err ? err : check_cautions(c, k);
    c->kind = k;
    err = err ? err : tell_lets(c, k);
    for (int i = 0; i < k->n_properties && !err; i++)
        err = k->properties[i].how == HANDBOOK_LET ? BASE_OK : check_property(c, &k->properties[i]);
    err = err ? err : check_frame(c, &k->frame);
    err = err ? err : check(c, k->place, k->outlines_when, &yesno_type, NULL);
    for (int i = 0; i < k->n_holes && !err; i++)
        err = check_hole(c, &k->holes[i]);
    for (int i = 0; i < k->n_bodies && !err; i++)
        err = check_hole(c, &k->bodies[i]);
    for (int i = 0; i < k->n_cuts && !err; i++)
        err = check_hole(c, &k->cuts[i]);
    for (int i = 0; i < k->n_folds && !err; i++)
        err = check_hole(c, &k->folds[i]);
    for (int i = 0; i < k->n_orders && !err; i++)
        err = check_order(c, &k->orders[i], k->place);
    for (int i = 0; i < k->n_events && !err; i++) {
        err = check(c, k->place, k->events[i].at, &length_type, NULL);
        err = err ? err : check(c, k->place, k->events[i].when, &yesno_type, NULL);
        err = err ? err : check_template(c, k->place, &k->events[i].title);
    }
    for (int i = 0; i < k->n_unjudged && !err; i++) {
        err = check(c, k->place, k->unjudged[i].when, &yesno_type, NULL);
        err = err ? err : check_template(c, k->place, &k->unjudged[i].says);
    }
    err = err ? err : check_template(c, k->place, &k->stamp);
    add(c, "ram", length_type);
    for (int i = 0; i < k->n_motions && !err; i++)
        err = check_motion(c, &k->motions[i]);
    return err;
}

/* -- rules ----------------------------------------------------------------------------------------------- */

static void add_rule_names(struct checking *c, const struct handbook_rule *r)
{
    static const char *const plates[] = {"plate", "hole.plate", "a.plate", "b.plate"},
                      *const joined[] = {"upper", "lower", "member", "base"};
    const struct formula_type plate = {.sort = FORMULA_ITEM, .kind = find_kind(c, "plate")};
    struct handbook_name names[MOST_NAMES];
    int n = handbook_rule_names(c->h, r, names, MOST_NAMES / 2);
    for (int i = 0; i < n && i < MOST_NAMES / 2; i++)
        add(c, names[i].name, names[i].type);
    for (size_t i = 0; i < COUNT_OF(plates); i++)
        if (r->over == HANDBOOK_EACH_PAIR ? i != 1 : r->over == HANDBOOK_EACH_HOLE && i < 2)
            add(c, plates[i], plate);
    for (size_t i = 0; i < COUNT_OF(joined) && r->over == HANDBOOK_EACH_JOINT; i++)
        add(c, joined[i], plate);
    c->measures = r->over == HANDBOOK_EACH_KIND;
    c->kind = c->measures ? &c->h->kinds.at[r->kind] : NULL;
}

static enum base_err check_rule(struct checking *c, const struct handbook_rule *r)
{
    struct formula_type type = number_type;
    add_rule_names(c, r);
    enum base_err err = check(c, r->place, r->when, &yesno_type, NULL);
    err = err ? err : check(c, r->place, r->within, &length_type, NULL);
    err = err ? err : check(c, r->place, r->value, NULL, &type);
    if (!err && r->value) {
        add(c, "value", type);
        add(c, "limit", type);
    }
    for (int i = 0; i < r->n_rungs && !err; i++) {
        const struct handbook_rung *g = &r->rungs[i];
        if (!g->yesno && !r->value) {
            err = base_fail(c->why, BASE_REFUSED, "The rule %s compares a value, but has no line \"value\".",
                            r->name);
            show(c, NULL, r->place);
        }
        err = err ? err : check(c, r->place, g->tree, g->yesno ? &yesno_type : &type, NULL);
        err = err ? err : check_template(c, r->place, &g->says);
    }
    err = err ? err : check_template(c, r->place, &r->tells);
    return err ? err : check_template(c, r->place, &r->says);
}

static enum base_err check_chain(struct checking *c, const struct handbook_chain *k)
{
    struct formula_type type = number_type;
    c->kind = k->kind < 0 ? NULL : &c->h->kinds.at[k->kind];
    enum base_err err = check(c, k->place, k->when, &yesno_type, NULL);
    err = err ? err : check(c, k->place, k->value, NULL, &type);
    if (!err && type.sort != FORMULA_NUMBER) {
        err = base_fail(c->why, BASE_REFUSED, "The chain %s comes to no number.", k->name);
        show(c, NULL, k->place);
    }
    for (int i = 0; i < k->n_links && !err; i++)
        err = check_limits(c, k->links[i].place, &k->links[i].limits, &type);
    return err;
}

static enum base_err check_example(struct checking *c, const struct handbook_example *e)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < e->n_tries && !err && !e->like; i++) {
        struct formula_type type;
        err = check(c, e->place, e->tries[i].tree, NULL, &type);
        err = err ? err : check(c, e->place, e->tries[i].expect, &type, NULL);
        err = err ? err : check(c, e->place, e->tries[i].within, &type, NULL);
    }
    return err;
}

enum base_err book_tell_lets(struct handbook *h, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < h->kinds.count && !err; i++) {
        struct checking c = {.h = h, .why = why, .kind = &h->kinds.at[i]};
        err = tell_lets(&c, c.kind);
    }
    return err;
}

#define CHECK_ALL(list, check_one)                                       \
    for (size_t i = 0; i < h->list.count && !err; i++) {                 \
        struct checking c = {.h = h, .why = why};                        \
        err = check_one(&c, &h->list.at[i]);                             \
    }

enum base_err book_check(struct handbook *h, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    CHECK_ALL(factors, check_factor)
    CHECK_ALL(functions, check_function)
    CHECK_ALL(factors, try_factor)
    CHECK_ALL(patterns, check_pattern)
    CHECK_ALL(kinds, check_kind)
    CHECK_ALL(papers, check_paper)
    CHECK_ALL(chains, check_chain)
    CHECK_ALL(rules, check_rule)
    CHECK_ALL(examples, check_example)
    return err;
}

/* ---- who is summed up ------------------------------------------------------------------------------- */

struct summing { const struct handbook *h; int kind, of; bool *seen, found; };

static void sum_property(struct summing *s, int property);

static void sum_name(const char *path, int start, void *arg)
{
    struct summing *s = arg;
    (void)start;
    int property = handbook_find_property(&s->h->kinds.at[s->kind], path);
    if (property >= 0 && !s->seen[property])
        sum_property(s, property);
}

/* Its own formula, in which all but the rows of the kind in question is no slot; then what it names. */
static void sum_property(struct summing *s, int property)
{
    const struct handbook_kind *k = &s->h->kinds.at[s->kind];
    const struct formula_tree *t = k->properties[property].tree;
    struct base_diag unheard = {0};
    struct checking c = {
        .h = (struct handbook *)(uintptr_t)s->h, .kind = k, .summed = s->of + 1, .why = &unheard};
    struct formula_scope scope = scope_of(&c);
    struct formula_code *code = NULL;
    int reads = 0;
    s->seen[property] = true;
    if (!t)
        return;
    if (formula_compile(t, &scope, NULL, &code, &unheard) == BASE_OK)
        formula_code_reads(code, &reads);
    formula_code_free(code);
    s->found = s->found || reads > 0;
    formula_names(t, sum_name, s);
}

bool handbook_sums(const struct handbook *h, int kind, int property, int of)
{
    struct summing s = {.h = h, .kind = kind, .of = of,
                        .seen = base_alloc((size_t)h->kinds.at[kind].n_properties + 1)};
    sum_property(&s, property);
    free(s.seen);
    return s.found;
}
