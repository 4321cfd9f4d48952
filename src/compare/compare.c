/* Two die sets side by side: what each file of the room has to tell, in the order of the paper. */

#include "compare/compare.h"

#include <stdlib.h>

const char *compare_what_text(enum compare_what w)
{
    static const char *const words[] = {"item", "typed", "value", "finding", "order"};
    return words[w];
}

void compare_sets(struct findings *first, struct findings *second, struct compare *out)
{
    struct comparing c = {.c = out,
                          .f = {first, second},
                          .d = {findings_dieset(first), findings_dieset(second)}};
    *out = (struct compare){0};
    comparing_items(&c);
    comparing_typed(&c);
    comparing_values(&c);
    comparing_findings(&c);
    comparing_orders(&c);
}

void compare_done(struct compare *c)
{
    base_vec_done(&c->rows);
    base_arena_done(&c->memory);
}
