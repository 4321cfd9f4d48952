/* One row of a comparison, written down. */

#include "compare/compare.h"

#include <math.h>

struct compare_row *comparing_add(struct comparing *c, enum compare_what what, const char *name,
                                  const char *first, const char *second)
{
    struct base_arena *m = &c->c->memory;
    struct compare_row row = {.what = what, .name = base_arena_copy(m, name), .number = {NAN, NAN}};
    row.text[COMPARE_FIRST] = first ? base_arena_copy(m, first) : NULL;
    row.text[COMPARE_SECOND] = second ? base_arena_copy(m, second) : NULL;
    base_vec_push(&c->c->rows, row);
    c->c->counts[what]++;
    return &c->c->rows.at[c->c->rows.count - 1];
}

void comparing_add_only(struct comparing *c, enum compare_what what, const char *name, enum compare_side side,
                        const char *text)
{
    comparing_add(c, what, name, side == COMPARE_FIRST ? text : NULL, side == COMPARE_SECOND ? text : NULL);
}
