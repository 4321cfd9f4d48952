/* What stands in a handbook that is read: counts, records, names. */

#include "handbook/book.h"

#include <string.h>

struct base_pool *handbook_pool(const struct handbook *h) { return h->pool; }
struct table_set *handbook_tables(const struct handbook *h) { return h->tables; }

static int find(const struct base_map *m, const char *name)
{
    int i;
    return base_map_get(m, name, &i) ? i : -1;
}

int handbook_factor_count(const struct handbook *h) { return (int)h->factors.count; }
const struct handbook_factor *handbook_factor(const struct handbook *h, int i) { return &h->factors.at[i]; }
int handbook_find_factor(const struct handbook *h, const char *name) { return find(&h->factor_names, name); }
int handbook_function_count(const struct handbook *h) { return (int)h->functions.count; }
const struct handbook_function *handbook_function(const struct handbook *h, int i)
{
    return &h->functions.at[i];
}
int handbook_find_function(const struct handbook *h, const char *name)
{
    return find(&h->function_names, name);
}
int handbook_pattern_count(const struct handbook *h) { return (int)h->patterns.count; }
const struct handbook_pattern *handbook_pattern(const struct handbook *h, int i)
{
    return &h->patterns.at[i];
}
int handbook_find_pattern(const struct handbook *h, const char *name)
{
    return find(&h->pattern_names, name);
}
int handbook_kind_count(const struct handbook *h) { return (int)h->kinds.count; }
const struct handbook_kind *handbook_kind(const struct handbook *h, int i) { return &h->kinds.at[i]; }
int handbook_find_kind(const struct handbook *h, const char *name) { return find(&h->kind_names, name); }
int handbook_caution_count(const struct handbook *h) { return (int)h->cautions.count; }
const struct handbook_caution *handbook_caution(const struct handbook *h, int i)
{
    return &h->cautions.at[i];
}
int handbook_paper_count(const struct handbook *h) { return (int)h->papers.count; }
const struct handbook_paper *handbook_paper(const struct handbook *h, int i) { return &h->papers.at[i]; }
int handbook_find_paper(const struct handbook *h, const char *name)
{
    int i = (int)h->papers.count - 1;
    while (i >= 0 && strcmp(h->papers.at[i].name, name) != 0)
        i--;
    return i;
}
int handbook_chain_count(const struct handbook *h) { return (int)h->chains.count; }
const struct handbook_chain *handbook_chain(const struct handbook *h, int i) { return &h->chains.at[i]; }
int handbook_find_chain(const struct handbook *h, const char *name)
{
    int i = (int)h->chains.count - 1;
    while (i >= 0 && strcmp(h->chains.at[i].name, name) != 0)
        i--;
    return i;
}
int handbook_rule_count(const struct handbook *h) { return (int)h->rules.count; }
const struct handbook_rule *handbook_rule(const struct handbook *h, int i) { return &h->rules.at[i]; }
int handbook_find_rule(const struct handbook *h, const char *name) { return find(&h->rule_names, name); }
bool handbook_mends_nothing(const struct handbook_rule *rule)
{
    return rule->n_mends == 1 && strcmp(rule->mends[0], "none") == 0;
}

int handbook_example_count(const struct handbook *h) { return (int)h->examples.count; }
const struct handbook_example *handbook_example(const struct handbook *h, int i)
{
    return &h->examples.at[i];
}
int handbook_word_count(const struct handbook *h) { return (int)h->words.count; }
const struct handbook_word *handbook_word(const struct handbook *h, int i) { return &h->words.at[i]; }
int handbook_difference_count(const struct handbook *h) { return (int)h->differences.count; }
const struct handbook_difference *handbook_difference(const struct handbook *h, int i)
{
    return &h->differences.at[i];
}

void handbook_difference_text(const struct handbook_difference *d, struct base_text *out)
{
    base_text_addf(out, "%s Taken: %s.", d->help, d->taken);
    for (int i = 0; i < d->n_chosen_by; i++)
        base_text_addf(out, "%s %s", i ? "," : " Choose by:", d->chosen_by[i]);
    base_text_add(out, d->n_chosen_by ? "." : "");
}

int handbook_word_line(const struct handbook_kind *k, const char *name)
{
    for (int i = 0; i < k->n_words; i++)
        if (strcmp(k->words[i], name) == 0)
            return i;
    return -1;
}

int handbook_find_property(const struct handbook_kind *k, const char *name)
{
    for (int i = 0; i < k->n_properties; i++)
        if (strcmp(k->properties[i].name, name) == 0)
            return i;
    return -1;
}
