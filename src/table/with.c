/* A set with rows of somebody's own beside what it holds. */

#include "table/set.h"

#include <stdlib.h>

static enum base_err no_table(const struct table_set *s, const char *name, struct base_diag *why)
{
    BASE_VEC(const char *) names = {0};
    struct base_text near = {0};
    for (int i = 0; i < table_count(s); i++)
        base_vec_push(&names, table_spec(s, i)->name);
    base_nearest(&near, name, names.at, names.count);
    base_fail(why, BASE_UNKNOWN, "There is no parts table \"%s\"%s%s.", name,
              near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    base_vec_done(&names);
    return BASE_UNKNOWN;
}

static enum base_err add_own(const struct table_set *s, struct table_set *to, const struct table_own *own,
                             struct base_diag *why)
{
    int table = table_find(s, own->table);
    if (table < 0)
        return no_table(s, own->table, why);
    return set_add_file(to, own->name, own->csv, own->length, table_spec(s, table)->name, why);
}

enum base_err table_set_with(const struct table_set *s, const struct table_own *own, int n,
                             struct table_set **out, struct base_diag *why)
{
    struct table_set *to = table_set_new(s->pool);
    enum base_err err = BASE_OK;
    int number;
    for (size_t i = 0; i < s->files.count && !err; i++)
        err = table_set_file(to, s->files.at[i]->name, s->files.at[i]->csv, s->files.at[i]->length, why);
    for (int i = 0; i < n && !err; i++)
        err = add_own(s, to, &own[i], why);
    for (int i = 0; i < table_count(s) && !err; i++)
        err = table_set_declare(to, table_spec(s, i), &number, why);
    if (err) {
        table_set_free(to);
        to = NULL;
    }
    *out = to;
    return err;
}
