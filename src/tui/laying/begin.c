/* tui/laying/begin.c - what is placed: a group that is not there yet, and the pattern that it stands in
 *
 * A new group: its kind (or the group that it is to be like), the plates that it is to hold, each from a
 * list, then the pattern; from there on it is moved as any other. All of it is one edit, taken with the
 * place.
 */

#include "tui/laying/placing.h"

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/edits.h"
#include "tui/items.h"
#include "tui/plan.h"
#include "tui/views.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef BASE_VEC(struct choice) choice_vec;

static void add_choice(choice_vec *v, const char *label, char *value)
{
    base_vec_push(v, ((struct choice){base_copy(label), value, NULL}));
}

static void dropped(struct tui *t, const char *subject, const struct choice *c)
{
    (void)subject;
    (void)c;
    placing_drop(t);
}

/* ---- patterns ---- */

static void clear_lay(struct place *l)
{
    for (size_t i = l->typed.count; i > 0; i--)
        if (typed_is_laid(l->typed.at[i - 1].path))
            place_forget(l, l->typed.at[i - 1].path);
    l->lay[0] = '\0';
}

static void pattern_name(const char *lay, char *buf, size_t size)
{
    record_word(lay ? lay : "", buf, size);
}

/* As the job has it when nothing is tried. */
static const char *stands(struct tui *t, const struct place *l)
{
    edit_drop(t);
    int item = *l->kind ? -1 : place_item(l);
    return item < 0 ? NULL : dieset_entry(t->d, item, "lay");
}

static bool is_with(const char *lay) { return strncmp(lay, "with ", 5) == 0; }

static void pattern_tried(struct tui *t, const char *plate, const struct choice *c)
{
    struct placing *p = placing_at_hand(t);
    char now[100];
    clear_lay(&p->l);
    pattern_name(stands(t, &p->l), now, sizeof now);
    p->due = false;
    if (is_with(c->value))
        snprintf(p->l.lay, sizeof p->l.lay, "%s", c->value);
    if (is_with(c->value) || (strcmp(now, c->value) == 0 && !p->unplaced))
        place_try(&p->l);
    else
        place_pattern(&p->l, c->value, plate);
    if (p->l.refused)
        tui_complain(t, "%s", p->l.why.message);
    p->l.alone = false;
    place_grab(&p->l, "");
    tui_changed(t);
}

static void pattern_dropped(struct tui *t, const char *plate, const struct choice *c)
{
    struct placing *p = placing_at_hand(t);
    char before[100];
    if (!*p->was || p->unplaced) {
        dropped(t, plate, c);
        return;
    }
    pattern_name(p->was, before, sizeof before);
    struct choice was = {before, before, NULL};
    pattern_tried(t, plate, &was);
    place_grab(&p->l, p->was_point);
    tui_changed(t);
}

static void pattern_taken(struct tui *t, const char *plate, const struct choice *c)
{
    struct placing *p = placing_at_hand(t);
    if (p->l.refused) {
        pattern_dropped(t, plate, c);
        return;
    }
    if (is_with(c->value)) { /* its points are another's: there is nothing to place */
        placing_take(t);
        return;
    }
    p->unplaced = false;
    t->plan->follow = true;
}

/* A group may stand on the points of what it names: bushings on those of posts, pilots over the holes. */
static void add_owners(const struct tui *t, const struct place *l, choice_vec *v)
{
    const struct handbook *h = dieset_handbook(t->d);
    int own = place_item(l), k = *l->kind ? handbook_find_kind(h, l->kind) : dieset_item_kind(t->d, own);
    for (int i = 0; k >= 0 && i < handbook_kind(h, k)->n_properties; i++) {
        const struct handbook_property *q = &handbook_kind(h, k)->properties[i];
        const char *name = place_typed(l, q->name);
        if (!name && own >= 0)
            name = dieset_entry(t->d, own, q->name);
        int item = name && place_asks_item(q) ? dieset_find_item(t->d, name) : -1;
        if (item < 0 || item == own || !handbook_kind(h, dieset_item_kind(t->d, item))->lays)
            continue;
        char *label = base_format("with %s", dieset_item_title(t->d, item));
        add_choice(v, label, base_format("with %s", name));
        free(label);
    }
}

void placing_choose_pattern(struct tui *t)
{
    struct placing *p = placing_at_hand(t);
    const struct handbook *h = dieset_handbook(t->d);
    choice_vec v = {0};
    char now[100], plate[80];
    int at = 0, on = place_plate(&p->l), item = place_item(&p->l);
    const char *lay = *p->l.lay ? p->l.lay : item >= 0 ? dieset_entry(t->d, item, "lay") : NULL;
    snprintf(p->was, sizeof p->was, "%s", lay ? lay : "");
    snprintf(p->was_point, sizeof p->was_point, "%s", p->l.point);
    snprintf(plate, sizeof plate, "%s", on >= 0 ? dieset_item_name(t->d, on) : p->plate);
    pattern_name(lay ? lay : place_first_pattern(&p->l), now, sizeof now);
    add_owners(t, &p->l, &v);
    for (int i = 0; i < handbook_pattern_count(h); i++) {
        const struct handbook_pattern *pattern = handbook_pattern(h, i);
        if (strcmp(pattern->name, now) == 0)
            at = (int)v.count;
        add_choice(&v, pattern->title, base_copy(pattern->name));
    }
    struct dieset_point point;
    struct choice first = v.at[at];
    p->unplaced = !place_point(&p->l, &point, NULL) || point.broken;
    if (p->unplaced)
        pattern_tried(t, plate, &first);
    choice_open(t, "pattern", plate, v.at, (int)v.count, at, pattern_tried, pattern_taken, pattern_dropped);
}

/* ---- plates that a new group holds, and other items that it asks for ---- */

static void ask_next_item(struct tui *t);

static void item_chosen(struct tui *t, const char *property, const struct choice *c)
{
    struct placing *p = placing_at_hand(t);
    place_put(&p->l, property, c->value);
    p->asked++;
    ask_next_item(t);
}

/* False: the job has no such item, so it stays to be filled in. */
static bool open_items(struct tui *t, const struct handbook_kind *k, const struct handbook_property *q)
{
    enum { MOST = 200 };
    choice_vec v = {0};
    int items[MOST], n = place_items(t->d, q->type.type.kind, t->state, items, MOST), at = 0,
                     likely = place_likely_item(&placing_at_hand(t)->l, q, t->plan->shown, t->state);
    for (int i = 0; i < n; i++) {
        at = items[i] == likely ? i : at;
        add_choice(&v, dieset_item_title(t->d, items[i]), base_copy(dieset_item_name(t->d, items[i])));
    }
    if (n == 0)
        return false;
    char *title = base_format("%s: %s", k->title, q->title);
    choice_open(t, title, q->name, v.at, (int)v.count, at, NULL, item_chosen, dropped);
    free(title);
    return true;
}

static void ask_next_item(struct tui *t)
{
    struct placing *p = placing_at_hand(t);
    const struct handbook *h = dieset_handbook(t->d);
    const struct handbook_kind *k = handbook_kind(h, handbook_find_kind(h, p->l.kind));
    while (!*p->l.like && p->asked < k->n_properties) {
        const struct handbook_property *q = &k->properties[p->asked];
        if (place_asks_item(q) && open_items(t, k, q))
            return;
        p->asked++;
    }
    placing_choose_pattern(t);
}

/* ---- which group ---- */

static void begin(struct tui *t, const char *kind, const char *like)
{
    char name[80];
    item_free_name(t, *like ? like : kind, name, sizeof name);
    struct placing *p = placing_open(t, name);
    snprintf(p->l.kind, sizeof p->l.kind, "%s", kind);
    snprintf(p->l.like, sizeof p->l.like, "%s", like);
    ask_next_item(t);
}

void group_open(struct tui *t, const char *kind)
{
    char copy[80];
    int plate = dieset_find_item(t->d, t->item);
    snprintf(copy, sizeof copy, "%s", kind);
    if (plate >= 0)
        t->plan->plate = t->plan->shown = plate;
    begin(t, copy, "");
}

static void group_chosen(struct tui *t, const char *subject, const struct choice *c)
{
    char kind[80], like[80] = "";
    const struct handbook *h = dieset_handbook(t->d);
    (void)subject;
    if (c->value[0] == '=') {
        snprintf(like, sizeof like, "%s", c->value + 1);
        int item = dieset_find_item(t->d, like);
        snprintf(kind, sizeof kind, "%s",
                 item < 0 ? "" : handbook_kind(h, dieset_item_kind(t->d, item))->name);
    } else {
        snprintf(kind, sizeof kind, "%s", c->value);
    }
    begin(t, kind, like);
}

void act_new_group(struct tui *t)
{
    const struct handbook *h = dieset_handbook(t->d);
    choice_vec v = {0};
    if (t->plan->shown < 0) {
        tui_say(t, "no plate yet to place anything on");
        return;
    }
    for (int i = 0; i < handbook_kind_count(h); i++) {
        const struct handbook_kind *k = handbook_kind(h, i);
        if (k->lays && !k->single)
            add_choice(&v, k->title, base_copy(k->name));
    }
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        int kind = dieset_item_kind(t->d, i);
        if (kind < 0 || !handbook_kind(h, kind)->lays || !place_stands_in(t->d, i, t->plan->shown, t->state))
            continue;
        char *label = base_format("like %s", dieset_item_title(t->d, i));
        add_choice(&v, label, base_format("=%s", dieset_item_name(t->d, i)));
        free(label);
    }
    choice_open(t, "add on this plate", "", v.at, (int)v.count, 0, NULL, group_chosen, NULL);
}
