/* place/asks.c - what is asked for with a place: a reason, a pattern, the items that a new group names */

#include "place/own.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- reasons ---- */

/* Does entry E type a point's own place over that in its group, with no reason beside it? */
static bool lacks(const struct place *p, const struct job_typed *e)
{
    struct typed_path at = typed_path_read(e->path);
    if (at.place != TYPED_AT_POINT || at.detail != TYPED_ITSELF || !e->text)
        return false;
    char *path = typed_known(p->item, e->path);
    int q = dieset_find(p->d, path), item = place_item(p);
    free(path);
    if (q >= 0 && !dieset_quantity(p->d, q)->usual)
        return false; /* asked for, not typed over anything */
    char *reason = typed_of_reason(e->path);
    bool none = !place_typed(p, reason) && !(item >= 0 && dieset_entry(p->d, item, reason));
    free(reason);
    return none;
}

bool place_lacks_reason(const struct place *p)
{
    for (size_t i = 0; i < p->typed.count; i++)
        if (lacks(p, &p->typed.at[i]))
            return true;
    return false;
}

void place_give_reason(struct place *p, const char *text)
{
    size_t n = p->typed.count, many = 0;
    char **paths = base_alloc((n + 1) * sizeof *paths);
    for (size_t i = 0; i < n && *text; i++)
        if (lacks(p, &p->typed.at[i]))
            paths[many++] = typed_of_reason(p->typed.at[i].path);
    for (size_t i = 0; i < many; i++) {
        place_put(p, paths[i], text);
        free(paths[i]);
    }
    free(paths);
}

/* ---- a group that is added ---- */

static const struct handbook_kind *kind_named(const struct place *p, const char *name)
{
    const struct handbook *h = dieset_handbook(p->d);
    int kind = handbook_find_kind(h, name);
    return kind < 0 ? NULL : handbook_kind(h, kind);
}

const char *place_first_pattern(const struct place *p)
{
    int like = *p->like ? dieset_find_item(p->d, p->like) : -1;
    const struct handbook_kind *k = kind_named(p, p->kind);
    if (like >= 0)
        return dieset_entry(p->d, like, "lay");
    for (int i = 0; k && i < k->n_begun; i++)
        if (k->begun[i].pattern)
            return k->begun[i].pattern;
    return NULL;
}

bool place_asks_item(const struct handbook_property *q)
{
    return q->how == HANDBOOK_ASKED && !q->tree && q->type.sort == HANDBOOK_ITEM && q->type.type.kind >= 0;
}

bool place_stands_in(const struct dieset *d, int item, int plate, enum dieset_state s)
{
    int first = 0, n = plate < 0 ? 0 : dieset_plate_holes(d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, s, &h);
        if (h.item == item)
            return true;
    }
    return false;
}

int place_likely_item(const struct place *p, const struct handbook_property *q, int plate,
                      enum dieset_state s)
{
    const struct handbook_kind *k = kind_named(p, p->kind);
    int number = handbook_find_kind(dieset_handbook(p->d), p->kind);
    for (int i = 0; i < dieset_item_count(p->d); i++)
        if (dieset_item_kind(p->d, i) == number && place_stands_in(p->d, i, plate, s))
            return dieset_reference(p->d, i, q->name);
    for (int i = 0; k && i < k->n_begun; i++)
        if (strcmp(k->begun[i].entry, q->name) == 0) {
            struct formula_value v = dieset_get(p->d, formula_text(k->begun[i].tree), DIESET_NEW);
            return v.error ? plate : (int)v.number;
        }
    return plate;
}

int place_items(const struct dieset *d, int kind, enum dieset_state s, int *out, int room)
{
    struct dieset_layer layers[64];
    int n = 0;
    if (kind == handbook_find_kind(dieset_handbook(d), DIESET_PLATE)) {
        n = dieset_stack(d, s, layers, room < 64 ? room : 64);
        for (int i = 0; i < n; i++)
            out[i] = layers[i].plate;
        return n;
    }
    for (int i = 0; i < dieset_item_count(d) && n < room; i++)
        if (dieset_item_kind(d, i) == kind)
            out[n++] = i;
    return n;
}
