/* tui/stock.c - see stock.h */

#include "tui/stock.h"

#include "tui/tui.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_name(const struct explore_size *z)
{
    return *z->text == '"';
}

bool stock_of_another(struct tui *t, const struct explore_sizes *s, int standing, int i)
{
    const struct table_set *set = dieset_tables(t->d);
    const char *here, *there;
    if (standing < 0 || !is_name(&s->at.at[i]))
        return false;
    table_row_place(set, s->table, s->at.at[standing].row, &here, NULL);
    table_row_place(set, s->table, s->at.at[i].row, &there, NULL);
    return strcmp(here, there) != 0;
}

/* Names of the series that the one now standing belongs to first: a metric set asks for metric screws. */
static void put_own_first(struct tui *t, const char *path, struct explore_sizes *s)
{
    int n = (int)s->at.count, at = stock_standing(t, path, s), k = 0;
    struct explore_size *in_order = base_alloc((size_t)(n + 1) * sizeof *in_order);
    for (int other = 0; other < 2; other++)
        for (int i = 0; i < n; i++)
            if (stock_of_another(t, s, at, i) == (bool)other)
                in_order[k++] = s->at.at[i];
    memcpy(s->at.at, in_order, (size_t)n * sizeof *in_order);
    free(in_order);
}

bool stock_gather(struct tui *t, const char *path, struct explore_sizes *out)
{
    int q = dieset_find(t->d, path);
    if (q < 0 || !dieset_quantity(t->d, q)->can_type || !explore_sizes(t->d, q, t->state, out))
        return false;
    put_own_first(t, path, out);
    return true;
}

int stock_standing(struct tui *t, const char *path, const struct explore_sizes *s)
{
    struct formula_value v = dieset_get(t->d, path, t->state);
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
        struct formula_value v = dieset_get(t->d, path, t->state);
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
