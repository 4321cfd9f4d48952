/* What is made: the sizes of a job that have limits, and what stays as it is drawn whatever they are. */

#include "tolerance/tolerance.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool tolerance_limits(struct dieset *d, const struct handbook_limits *limits, int item, double *low,
                      double *high)
{
    struct formula_type type;
    if (!limits->high)
        return false;
    struct formula_value up = dieset_run(d, limits->high, item, DIESET_NEW, &type), down = up;
    down.number = -up.number;
    if (limits->low)
        down = dieset_run(d, limits->low, item, DIESET_NEW, &type);
    *low = down.number;
    *high = up.number;
    return !up.error && !down.error && *low < *high;
}

const char *tolerance_title(const struct dieset *d, int q, struct base_arena *a)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    return v->property && v->item >= 0
               ? base_arena_format(a, "%s of %s", v->property->title, dieset_item_title(d, v->item))
               : base_arena_copy(a, v->path);
}

static void add(struct dieset *d, struct tolerance_made *m, int q, double low, double high,
                const char *source)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    struct findings_size z = {.slots = {v->slot[DIESET_NEW], v->slot[DIESET_GROUND]},
                              .n_slots = v->slot[DIESET_NEW] == v->slot[DIESET_GROUND] ? 1 : 2,
                              .low = low,
                              .high = high};
    struct made made = {q, z, source};
    int before = m->of[z.slots[0]];
    for (int i = 0; i < z.n_slots; i++)
        m->of[z.slots[i]] = before < 0 ? (int)m->at.count : before;
    if (before < 0)
        base_vec_push(&m->at, made);
    else
        m->at.at[before] = made;
}

/* Has anybody typed what the limits of Q are made of? Then they are the shop's own. */
static const char *source_of(struct dieset *d, int q)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    const char *name;
    char path[200];
    if (!formula_is_name(v->property->limits.high, &name))
        return "usual";
    snprintf(path, sizeof path, "%s.%s", dieset_item_name(d, v->item), name);
    int off = dieset_find(d, path);
    return off >= 0 && dieset_quantity(d, off)->typed ? "typed" : "usual";
}

/* An item of the kind of limits: what it is of, and how far that may be off. */
static enum base_err add_own(struct dieset *d, struct tolerance_made *m, int item, struct base_diag *why)
{
    int q;
    const char *of = dieset_text(d, item, "of");
    struct base_diag unheard = {0};
    if (dieset_named(d, of, &q, &unheard) != BASE_OK)
        return base_fail(why, BASE_REFUSED, "%s.of: %s", dieset_item_name(d, item), unheard.message);
    const struct dieset_quantity *v = dieset_quantity(d, q);
    double share = dieset_number(d, item, "share", DIESET_NEW),
           low = dieset_number(d, item, "lower", DIESET_NEW),
           high = dieset_number(d, item, "upper", DIESET_NEW);
    struct formula_value drawn = dieset_value(d, q, DIESET_NEW);
    if (v->type.type.sort != FORMULA_NUMBER || drawn.error)
        return base_fail(why, BASE_REFUSED, "%s.of: %s is no number as the job stands, and has no limits.",
                         dieset_item_name(d, item), of);
    if (isfinite(share)) {
        high = share * fabs(drawn.number);
        low = -high;
    } else if (!unit_same(v->type.type.dim, UNIT_LENGTH) || !isfinite(low) || !isfinite(high)) {
        return base_fail(
            why, BASE_REFUSED,
            "%s: limits of a length are lower and upper, those of anything else a share; type %s.",
            dieset_item_name(d, item),
            unit_same(v->type.type.dim, UNIT_LENGTH) ? "both, or a share" : "a share");
    }
    if (low > high)
        return base_fail(why, BASE_REFUSED, "%s: the lower limit is over the upper one.",
                         dieset_item_name(d, item));
    add(d, m, q, low, high, "own");
    return BASE_OK;
}

/* Is TEXT nothing but the name of another size? */
static bool is_name(const char *text)
{
    return text && strchr(text, '.') &&
           text[strspn(text, "abcdefghijklmnopqrstuvwxyz_0123456789.")] == '\0' &&
           !(*text >= '0' && *text <= '9');
}

/* What is typed, usual or picked out of a table stands as it is drawn. But what is another size by its name
 * alone is that size (as deep as a plate is thick), and a variable of the job's own is a part of a formula.
 * */
static bool is_drawn(struct dieset *d, int slot)
{
    const struct formula_code *code = model_code(dieset_model(d), slot);
    int q = dieset_of_slot(d, slot, NULL);
    const struct dieset_quantity *v = q < 0 ? NULL : dieset_quantity(d, q);
    int kind = v && v->item >= 0 ? dieset_item_kind(d, v->item) : -1;
    bool variable = kind >= 0 && handbook_kind(dieset_handbook(d), kind)->values;
    return (v && !variable && ((v->can_type && !is_name(v->text)) || (v->property && v->property->drawn))) ||
           (code && formula_code_picks(code));
}

enum base_err tolerance_made(struct dieset *d, struct tolerance_made *out, struct base_diag *why)
{
    int slots = model_count(dieset_model(d)), kind = handbook_find_kind(dieset_handbook(d), DIESET_LIMITS), n;
    const int *own = NULL;
    *out = (struct tolerance_made){.stays = base_alloc((size_t)slots + 1),
                                   .of = base_alloc(((size_t)slots + 1) * sizeof *out->of)};
    for (int s = 0; s < slots; s++) {
        out->stays[s] = is_drawn(d, s);
        out->of[s] = -1;
    }
    for (int q = 0; q < dieset_quantity_count(d); q++) {
        const struct dieset_quantity *v = dieset_quantity(d, q);
        double low, high;
        if (v->property && v->item >= 0 && v->property->limits.high && dieset_applies(d, q) &&
            !dieset_value(d, q, DIESET_NEW).error &&
            tolerance_limits(d, &v->property->limits, v->item, &low, &high))
            add(d, out, q, low, high, source_of(d, q));
    }
    enum base_err err = BASE_OK;
    n = kind < 0 ? 0 : dieset_items_of_kind(d, kind, &own);
    for (int i = 0; i < n && !err; i++)
        err = add_own(d, out, own[i], why);
    for (int s = 0; s < slots; s++)
        out->stays[s] = out->stays[s] || out->of[s] >= 0;
    return err;
}

void tolerance_made_done(struct tolerance_made *m)
{
    base_vec_done(&m->at);
    free(m->stays);
    free(m->of);
}
