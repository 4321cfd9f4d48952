/* values.c - values that both sides have and that differ */

#include "compare/compare.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PRINTED = 300 };

static bool stateful(const struct dieset_quantity *q)
{
    return q->slot[DIESET_NEW] != q->slot[DIESET_GROUND];
}

/* In the first one's unit, whichever side it is from; items by name, so that another title is no other
   item. */
static void print(struct comparing *c, enum compare_side side, int q, enum dieset_state s, char *buf)
{
    struct formula_value v = dieset_value(c->d[side], q, s);
    if (!dieset_applies(c->d[side], q)) {
        snprintf(buf, PRINTED, "not used");
        return;
    }
    const struct formula_type *type = &dieset_quantity(c->d[side], q)->type.type;
    if (!v.error && type->sort == FORMULA_NUMBER)
        unit_print(v.number, type->dim, dieset_system(c->d[COMPARE_FIRST]), buf, PRINTED);
    else if (!v.error && type->sort == FORMULA_ITEM && v.number >= 0)
        snprintf(buf, PRINTED, "%s", dieset_item_name(c->d[side], (int)v.number));
    else
        dieset_print(c->d[side], q, s, buf, PRINTED);
}

/* Less than anybody reads is no difference. True when it differs. */
static bool compare_state(struct comparing *c, int first, int second, enum dieset_state s, bool one_state)
{
    char texts[COMPARE_SIDES][PRINTED];
    const int q[] = {first, second};
    for (enum compare_side side = COMPARE_FIRST; side < COMPARE_SIDES; side++)
        print(c, side, q[side], s, texts[side]);
    if (strcmp(texts[COMPARE_FIRST], texts[COMPARE_SECOND]) == 0)
        return false;
    const struct dieset_quantity *quantity = dieset_quantity(c->d[COMPARE_FIRST], first);
    struct compare_row *row = comparing_add(c, COMPARE_VALUE, quantity->path, texts[COMPARE_FIRST],
                                            texts[COMPARE_SECOND]);
    row->stateful = one_state;
    row->state = s;
    row->is_number = quantity->type.type.sort == FORMULA_NUMBER &&
                     dieset_quantity(c->d[COMPARE_SECOND], second)->type.type.sort == FORMULA_NUMBER;
    row->dim = quantity->type.type.dim;
    for (enum compare_side side = COMPARE_FIRST; side < COMPARE_SIDES && row->is_number; side++) {
        struct formula_value v = dieset_value(c->d[side], q[side], s);
        row->number[side] = v.error || !dieset_applies(c->d[side], q[side]) ? NAN : v.number;
    }
    return true;
}

void comparing_values(struct comparing *c)
{
    for (int q = 0; q < dieset_quantity_count(c->d[COMPARE_FIRST]); q++) {
        const struct dieset_quantity *first = dieset_quantity(c->d[COMPARE_FIRST], q);
        int there = dieset_find(c->d[COMPARE_SECOND], first->path);
        if (there < 0 || !(dieset_shown(c->d[COMPARE_FIRST], q) || dieset_shown(c->d[COMPARE_SECOND], there)))
            continue;
        bool states = stateful(first) || stateful(dieset_quantity(c->d[COMPARE_SECOND], there));
        compare_state(c, q, there, DIESET_NEW, states);
        if (states)
            compare_state(c, q, there, DIESET_GROUND, true);
    }
}
