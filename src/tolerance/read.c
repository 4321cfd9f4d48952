/* Which chain, or which expression, is meant. */

#include "tolerance/tolerance.h"

#include <string.h>

bool tolerance_applies(struct dieset *d, int chain, int item)
{
    const struct handbook_chain *c = handbook_chain(dieset_handbook(d), chain);
    struct formula_type type;
    if (c->when) {
        struct formula_value when = dieset_run(d, c->when, item, DIESET_NEW, &type);
        if (when.error || when.number == 0)
            return false;
    }
    return !dieset_run(d, c->value, item, DIESET_NEW, &type).error;
}

enum base_err tolerance_read(struct dieset *d, const char *word, const char *item, struct tolerance_ask *out,
                             int room, int *n, struct base_diag *why)
{
    int chain = handbook_find_chain(dieset_handbook(d), word), kind = -1, count = 1;
    const int *items = NULL, once = -1;
    *n = 0;
    if (chain < 0 && item)
        return base_fail(why, BASE_REFUSED, "%s is no chain: \"%s\" says nothing to it.", word, item);
    if (chain < 0) {
        out[(*n)++] = (struct tolerance_ask){.expression = word, .chain = -1, .item = -1};
        return BASE_OK;
    }
    kind = handbook_chain(dieset_handbook(d), chain)->kind;
    if (kind < 0)
        items = &once;
    else
        count = dieset_items_of_kind(d, kind, &items);
    for (int i = 0; i < count && *n < room; i++)
        if ((!item || (items[i] >= 0 && strcmp(dieset_item_name(d, items[i]), item) == 0)) &&
            tolerance_applies(d, chain, items[i]))
            out[(*n)++] = (struct tolerance_ask){.chain = chain, .item = items[i]};
    return *n ? BASE_OK
              : base_fail(why, BASE_REFUSED, "The chain %s is not there as the job stands%s%s.", word,
                          item ? ", for " : "", item ? item : "");
}
