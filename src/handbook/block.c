/* The names that a rule's block adds to those of its subject: what is said of a hole, of two, of two bodies,
 * of a typed value, of a table. The one list that both the check of the handbook and the rooms that try rules
 * go by.
 */

#include "diewright/handbook.h"

static const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}};
static const struct formula_type text_type = {.sort = FORMULA_TEXT};
static const struct formula_type yesno_type = {.sort = FORMULA_YESNO};
static const struct formula_type any_item = {.sort = FORMULA_ITEM, .kind = -1};

enum { HOLE_NAMES = 17 };

static const char *const hole_names[3][HOLE_NAMES] = {
    {"hole.x", "hole.y", "hole.diameter", "hole.depth", "hole.start", "hole.edge", "hole.rim", "hole.nominal",
     "hole.room", "hole.operation", "hole.fit", "hole.thread", "hole.through", "hole.rectangular",
     "hole.item", "hole.title", "hole.left"},
    {"a.x", "a.y", "a.diameter", "a.depth", "a.start", "a.edge", "a.rim", "a.nominal", "a.room",
     "a.operation", "a.fit", "a.thread", "a.through", "a.rectangular", "a.item", "a.title", "a.left"},
    {"b.x", "b.y", "b.diameter", "b.depth", "b.start", "b.edge", "b.rim", "b.nominal", "b.room",
     "b.operation", "b.fit", "b.thread", "b.through", "b.rectangular", "b.item", "b.title", "b.left"},
};
static const struct formula_type *const hole_types[HOLE_NAMES] = {
    &length_type, &length_type, &length_type, &length_type, &length_type, &length_type,
    &length_type, &length_type, &length_type, &text_type,   &text_type,   &text_type,
    &yesno_type,  &yesno_type,  &any_item,    &text_type,   &length_type};

static const struct handbook_name pair_names[] = {
    {"wall", {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}},
    {"shared", {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}},
    {"largest_hole", {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}},
    {"same_item", {.sort = FORMULA_YESNO}},
    {"a_inside", {.sort = FORMULA_YESNO}},
    {"b_inside", {.sort = FORMULA_YESNO}},
};
#define LENGTH {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}}
static const struct handbook_name bodies_names[] = {
    {"a.x", LENGTH}, {"a.y", LENGTH}, {"a.diameter", LENGTH}, {"a.low", LENGTH}, {"a.high", LENGTH},
    {"a.item", {.sort = FORMULA_ITEM, .kind = -1}}, {"a.title", {.sort = FORMULA_TEXT}},
    {"b.x", LENGTH}, {"b.y", LENGTH}, {"b.diameter", LENGTH}, {"b.low", LENGTH}, {"b.high", LENGTH},
    {"b.item", {.sort = FORMULA_ITEM, .kind = -1}}, {"b.title", {.sort = FORMULA_TEXT}},
    {"wall", LENGTH}, {"shared", LENGTH}, {"low", LENGTH}, {"high", LENGTH}, {"ram", LENGTH},
};
static const struct handbook_name joint_names[] = {
    {"screw_gap", LENGTH},
    {"screw_spread", {.sort = FORMULA_NUMBER}},
};
static const struct handbook_name typed_names[] = {
    {"typed_over", {.sort = FORMULA_TEXT}}, {"typed_text", {.sort = FORMULA_TEXT}},
    {"usual_text", {.sort = FORMULA_TEXT}}, {"has_reason", {.sort = FORMULA_YESNO}},
};
static const struct handbook_name weak_names[] = {
    {"table", {.sort = FORMULA_TEXT}},
    {"standard", {.sort = FORMULA_TEXT}},
    {"quantities", {.sort = FORMULA_TEXT}},
};
static const struct handbook_name guess_names[] = {
    {"figure", {.sort = FORMULA_TEXT}},
    {"sureness", {.sort = FORMULA_TEXT}},
    {"rules", {.sort = FORMULA_TEXT}},
};

/* Names are written while there is room; the count is told whole. */
struct list { struct handbook_name *out; int count, room; };

static void add(struct list *l, const char *name, struct formula_type type)
{
    if (l->count < l->room)
        l->out[l->count] = (struct handbook_name){name, type};
    l->count++;
}

static void add_all(struct list *l, const struct handbook_name *names, size_t n)
{
    for (size_t i = 0; i < n; i++)
        add(l, names[i].name, names[i].type);
}

static void add_hole(struct list *l, int which)
{
    for (int i = 0; i < HOLE_NAMES; i++)
        add(l, hole_names[which][i], *hole_types[i]);
}

static void add_measures(struct list *l, const struct handbook_kind *k)
{
    for (int i = 0; i < k->n_properties; i++)
        if (k->properties[i].how == HANDBOOK_MEASURE)
            add(l, k->properties[i].name, k->properties[i].type.type);
}

int handbook_rule_names(const struct handbook *h, const struct handbook_rule *r, struct handbook_name *out,
                        int room)
{
    struct list l = {out, 0, room};
    switch (r->over) {
    case HANDBOOK_ONCE:
        break;
    case HANDBOOK_EACH_KIND:
        add_measures(&l, handbook_kind(h, r->kind));
        break;
    case HANDBOOK_EACH_JOINT:
        add_all(&l, joint_names, COUNT_OF(joint_names));
        break;
    case HANDBOOK_EACH_HOLE:
        add_hole(&l, 0);
        break;
    case HANDBOOK_EACH_PAIR:
        add_hole(&l, 1);
        add_hole(&l, 2);
        add_all(&l, pair_names, COUNT_OF(pair_names));
        break;
    case HANDBOOK_EACH_BODIES:
        add_all(&l, bodies_names, COUNT_OF(bodies_names));
        break;
    case HANDBOOK_EACH_TYPED:
        add_all(&l, typed_names, COUNT_OF(typed_names));
        break;
    case HANDBOOK_EACH_WEAK:
    case HANDBOOK_ALL_WEAK:
        add_all(&l, weak_names, COUNT_OF(weak_names));
        break;
    case HANDBOOK_EACH_GUESS:
        add_all(&l, guess_names, COUNT_OF(guess_names));
        break;
    }
    return l.count;
}
