/* tui/stock.c - see stock.h */

#include "tui/stock.h"

#include "tui/tui.h"

#include <math.h>

bool stock_gather(struct tui *t, const char *path, struct explore_sizes *out)
{
    int q = dieset_find(t->d, path);
    return q >= 0 && dieset_quantity(t->d, q)->can_type && explore_sizes(t->d, q, t->state, out);
}

int stock_standing(struct tui *t, const char *path, const struct explore_sizes *s)
{
    struct formula_value v = dieset_value(t->d, dieset_find(t->d, path), t->state);
    for (int i = 0; i < (int)s->at.count && !v.error; i++)
        if (fabs(s->at.at[i].number - v.number) < 1e-6)
            return i;
    return -1;
}

char *stock_step(struct tui *t, const char *path, int by)
{
    struct explore_sizes s = {0};
    char *out = NULL;
    if (stock_gather(t, path, &s) && s.at.count > 0) {
        int n = (int)s.at.count, at = stock_standing(t, path, &s), next = at + by;
        struct formula_value v = dieset_value(t->d, dieset_find(t->d, path), t->state);
        if (at < 0) { /* between sizes: the next one on that side */
            for (next = 0; next < n && s.at.at[next].number < v.number; next++)
                ;
            next = by > 0 ? next : next - 1;
        }
        if (next >= 0 && next < n)
            out = base_copy(s.at.at[next].text);
    }
    explore_sizes_done(&s);
    return out;
}
