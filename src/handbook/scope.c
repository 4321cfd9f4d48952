/* Names that the handbook knows by itself, and look-ups in its tables. */

#include "handbook/scope.h"

#include <stdlib.h>
#include <string.h>

const struct formula_function *scope_function(const struct handbook *h, const char *name)
{
    int i;
    return base_map_get(&h->function_names, name, &i) ? &h->functions.at[i].f : NULL;
}

int scope_table(const struct handbook *h, const char *name) { return table_find(h->tables, name); }

bool scope_column(const struct handbook *h, int table, const char *name, struct formula_column *out)
{
    int column = table_column(h->tables, table, name);
    if (column < 0)
        return false;
    const struct table_column_spec *spec = &table_spec(h->tables, table)->columns[column];
    *out = (struct formula_column){
        .type = {.sort = spec->is_text ? FORMULA_TEXT : FORMULA_NUMBER, .dim = spec->dim}, .index = column};
    return true;
}

const struct formula_tree *handbook_apart(const struct handbook *h, int table)
{
    for (size_t i = 0; i < h->aparts.count; i++)
        if (h->aparts.at[i].table == table)
            return h->aparts.at[i].match;
    return NULL;
}

/* The two rooms count modes and relations alike; neither knows the other. */
_Static_assert((int)FORMULA_LISTED == (int)TABLE_LISTED && (int)FORMULA_COUNT == (int)TABLE_COUNT,
               "pick modes");
_Static_assert((int)FORMULA_EQUAL == (int)TABLE_EQUAL && (int)FORMULA_AT_LEAST == (int)TABLE_AT_LEAST,
               "relations");

int scope_pick(const struct handbook *h, const struct formula_pick *pick)
{
    struct table_key *keys = base_alloc((size_t)(pick->n_keys + 1) * sizeof *keys);
    for (int i = 0; i < pick->n_keys; i++)
        keys[i] = (struct table_key){pick->keys[i].column, (enum table_relation)pick->keys[i].relation};
    int query = table_query(h->tables, pick->table, pick->column, (enum table_mode)pick->mode, keys,
                            pick->n_keys);
    free(keys);
    return query;
}

void scope_nearest(const struct handbook *h, const char *name, struct base_text *out)
{
    size_t n = 0, room = h->factors.count + h->functions.count + h->kinds.count;
    const char **names = base_alloc((room + 1) * sizeof *names);
    for (size_t i = 0; i < h->factors.count; i++)
        names[n++] = h->factors.at[i].name;
    for (size_t i = 0; i < h->functions.count; i++)
        names[n++] = h->functions.at[i].f.name;
    for (size_t i = 0; i < h->kinds.count; i++)
        names[n++] = h->kinds.at[i].name;
    base_nearest(out, name, names, n);
    free(names);
}

void scope_lookup(void *handbook, const struct formula_pick *pick, const double *values,
                  struct formula_value *out)
{
    const struct handbook *h = handbook;
    double number = 0;
    switch (table_run(h->tables, pick->query, values, &number, NULL)) {
    case TABLE_FOUND:
        *out = (struct formula_value){number, FORMULA_FINE, -1};
        break;
    case TABLE_NO_ROW:
        *out = (struct formula_value){0, FORMULA_NO_ROW, -1};
        break;
    case TABLE_SEVERAL:
        *out = (struct formula_value){0, FORMULA_SEVERAL, -1};
        break;
    case TABLE_EMPTY_CELL:
        *out = (struct formula_value){0, FORMULA_EMPTY, -1};
        break;
    }
}
