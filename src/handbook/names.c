/* Names against each other, and what records say of other records, once all are read. */

#include "handbook/book.h"

#include <string.h>

/* A fault of the record that begins at PLACE. */
#define fault(r, place, ...)                                                       \
    do {                                                                           \
        const struct record at_ = {.key = "", .rest = "", .line = (place).line};  \
        (r)->file = (place).file;                                                  \
        book_refuse((r), &at_, __VA_ARGS__);                                       \
    } while (0)

/* In a kind's text these words mean something else (handbook.h, at its end). */
static bool is_own_word(const char *name)
{
    static const char *const words[] = {"name",     "order",    "points",  "mean_x", "mean_y",
                                        "mean_cos", "mean_sin", "outline", "ground", "usual",
                                        "lay",      "value",    "limit",   "ram"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strcmp(words[i], name) == 0)
            return true;
    return false;
}

static bool is_factor(const struct book_reader *r, const char *name)
{
    return base_map_get(&r->h->factor_names, name, NULL);
}

static void check_function(struct book_reader *r, const struct handbook_function *f)
{
    for (int i = 0; i < f->f.n_parameters; i++)
        if (is_factor(r, f->f.parameters[i].name))
            fault(r, f->place, "The argument \"%s\" is named like a factor: choose another name.",
                  f->f.parameters[i].name);
    for (int i = 0; i < f->f.n_lets; i++)
        if (is_factor(r, f->f.lets[i].name))
            fault(r, f->place, "The part \"%s\" is named like a factor: choose another name.",
                  f->f.lets[i].name);
}

static void check_pattern(struct book_reader *r, const struct handbook_pattern *p)
{
    for (int i = 0; i < p->n_takes; i++)
        if (is_factor(r, p->takes[i].name))
            fault(r, p->place, "The measure \"%s\" is named like a factor: choose another name.",
                  p->takes[i].name);
}

static void check_kind(struct book_reader *r, const struct handbook_kind *k)
{
    if (is_factor(r, k->name))
        fault(r, k->place, "The kind \"%s\" is named like a factor: choose another name.", k->name);
    if (table_find(r->h->tables, k->name) >= 0)
        fault(r, k->place, "The kind \"%s\" is named like a table; picks could not tell them apart.",
              k->name);
    for (int i = 0; i < k->n_properties; i++) {
        const struct handbook_property *p = &k->properties[i];
        if (is_factor(r, p->name))
            fault(r, p->place, "The property \"%s\" is named like a factor: choose another name.", p->name);
        if (is_own_word(p->name))
            fault(r, p->place, "\"%s\" means something else in the text of a kind: choose another name.",
                  p->name);
    }
    for (int i = 0; i < k->n_motions; i++)
        if (is_factor(r, k->motions[i].name) || is_own_word(k->motions[i].name))
            fault(r, k->motions[i].place,
                  "The motion \"%s\" is named like something else: choose another name.", k->motions[i].name);
}

/* The property that PATH ends in: of the kind the rule is over, or of the kind that its first name is. */
static const struct handbook_property *follow(const struct handbook *h, int kind, const char *path)
{
    const struct handbook_property *p = NULL;
    char word[80];
    for (int first = 1; *path; first = 0) {
        size_t n = strcspn(path, "."), kept = n < sizeof word ? n : sizeof word - 1;
        memcpy(word, path, kept);
        word[kept] = '\0';
        path += n + (path[n] == '.');
        int i = kind >= 0 ? handbook_find_property(&h->kinds.at[kind], word) : -1;
        if (i < 0) {
            if (!first || !base_map_get(&h->kind_names, word, &kind))
                return NULL;
            continue;
        }
        p = &h->kinds.at[kind].properties[i];
        kind = p->type.sort == HANDBOOK_ITEM ? p->type.type.kind : -1;
    }
    return p;
}

static bool is_typed(const struct handbook_property *p)
{
    return p->how == HANDBOOK_ASKED || p->how == HANDBOOK_USUAL;
}

static void check_mends(struct book_reader *r, const struct handbook_rule *rule)
{
    if (handbook_mends_nothing(rule))
        return;
    for (int i = 0; i < rule->n_mends; i++) {
        const struct handbook_kind *kind = rule->over == HANDBOOK_EACH_KIND ? &r->h->kinds.at[rule->kind]
                                                                            : NULL;
        bool stands = rule->over == HANDBOOK_EACH_HOLE || rule->over == HANDBOOK_EACH_JOINT ||
                      (kind && (kind->lays || strcmp(kind->name, "plate") == 0));
        if (stands && strcmp(rule->mends[i], "points") == 0)
            continue; /* its own, those of the hole's item, of the groups that hold or locate the plate, the
                         joint's member */
        const struct handbook_property *p = follow(r->h, rule->kind, rule->mends[i]);
        if (!p)
            fault(r, rule->place, "The rule %s mends \"%s\", which is no quantity.", rule->name,
                  rule->mends[i]);
        else if (!is_typed(p))
            fault(r, rule->place, "The rule %s mends \"%s\", which cannot be typed.", rule->name,
                  rule->mends[i]);
    }
}

/* What makes a disputed figure another can be typed somewhere: a factor, a property, a table. */
static void check_chosen(struct book_reader *r, const struct handbook_difference *w)
{
    for (int i = 0; i < w->n_chosen_by; i++) {
        const struct handbook_property *p = follow(r->h, -1, w->chosen_by[i]);
        bool typed = p && is_typed(p);
        if (!typed && !is_factor(r, w->chosen_by[i]) && table_find(r->h->tables, w->chosen_by[i]) < 0)
            fault(r, w->place,
                  "\"%s\" is chosen by \"%s\", which is no factor, no table and nothing that can be typed.",
                  w->name, w->chosen_by[i]);
    }
}

void book_check_names(struct book_reader *r)
{
    const struct handbook *h = r->h;
    for (size_t i = 0; i < h->functions.count; i++)
        check_function(r, &h->functions.at[i]);
    for (size_t i = 0; i < h->patterns.count; i++)
        check_pattern(r, &h->patterns.at[i]);
    for (size_t i = 0; i < h->kinds.count; i++)
        check_kind(r, &h->kinds.at[i]);
    for (size_t i = 0; i < h->rules.count; i++)
        check_mends(r, &h->rules.at[i]);
    for (size_t i = 0; i < h->differences.count; i++)
        check_chosen(r, &h->differences.at[i]);
}
