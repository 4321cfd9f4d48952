/* A die set from its texts: made, loaded, given back; texts made ready to be stored. */

#include "dieset/build.h"

#include <stdlib.h>
#include <string.h>

enum base_err dieset_new(const struct handbook *h, struct table_set *tables, struct dieset **out,
                         struct base_diag *why)
{
    struct dieset *d = base_alloc(sizeof *d);
    d->h = h;
    d->tables = tables ? tables : handbook_tables(h);
    d->pool = handbook_pool(h);
    dieset_map_names(d);
    enum base_err err = contract_find(h, &d->contract, why);
    if (!err)
        err = dieset_load(d, NULL, 0, NULL, 0, why);
    if (err)
        dieset_free(d);
    *out = err ? NULL : d;
    return err;
}

void dieset_free(struct dieset *d)
{
    if (!d)
        return;
    dieset_drop(d);
    spare_free(d);
    build_free(d->now);
    for (int i = 0; i < handbook_kind_count(d->h); i++)
        base_map_done(&d->properties[i]);
    free(d->properties);
    free(d->contract.outlines);
    base_map_done(&d->factors);
    base_map_done(&d->functions);
    base_map_done(&d->kinds);
    base_map_done(&d->patterns);
    base_vec_done(&d->undo_cells);
    base_vec_done(&d->undo_items);
    base_vec_done(&d->moves);
    free(d);
}

enum base_err dieset_load(struct dieset *d, const struct typed_item *items, int n_items,
                          const struct typed_entry *entries, int n_entries, struct base_diag *why)
{
    struct texts texts;
    enum base_err err = texts_fill(&texts, items, n_items, entries, n_entries, why);
    if (err)
        return err;
    struct base_diag reason = {0};
    struct build *b = build_new(d, &texts, &reason);
    if (!b) {
        if (why)
            *why = reason;
        return reason.code ? reason.code : BASE_REFUSED;
    }
    dieset_drop(d);
    spare_free(d);
    build_free(d->now);
    d->now = b;
    d->binding = ++d->bindings;
    return BASE_OK;
}

/* --- completing what is typed --------------------------------------------------------------------------- */

static bool wanted_dim(const struct dieset *d, const char *path, struct unit_dim *out)
{
    int q = dieset_find(d, path);
    if (q < 0 || d->now->quantities[q].type.type.sort != FORMULA_NUMBER)
        return false;
    *out = d->now->quantities[q].type.type.dim;
    return true;
}

/* Words where words are wanted: what begins with a digit, what is no formula, and a name that stands for
 * nothing. No formula that begins with a digit gives a text. */
static bool is_bare_words(const struct dieset *d, const struct dieset_quantity *q, const char *text)
{
    enum handbook_sort sort = q->type.sort;
    struct formula_tree *tree;
    const char *name = NULL;
    if ((sort != HANDBOOK_TEXT && sort != HANDBOOK_DATE && sort != HANDBOOK_NUMBERS &&
         sort != HANDBOOK_FIGURES) ||
        strchr(text, '"'))
        return false;
    if (*text >= '0' && *text <= '9')
        return true;
    if (formula_parse(text, &tree, NULL) != BASE_OK)
        return true;
    bool words = false;
    if (formula_is_name(tree, &name)) {
        char *own = base_format("%s.%s", q->item >= 0 ? dieset_item_name(d, q->item) : "", name);
        words = dieset_find(d, name) < 0 && dieset_find(d, own) < 0 && dieset_find_item(d, name) < 0;
        free(own);
    }
    formula_tree_free(tree);
    return words;
}

/* One of the words that are to be chosen from, however it is written; NULL: none. */
static char *chosen_word(const struct dieset_quantity *q, const char *text)
{
    static const char *const answers[] = {"yes", "no"};
    const struct handbook_property *p = q->property;
    for (size_t i = 0; q->type.sort == HANDBOOK_YESNO && i < COUNT_OF(answers); i++)
        if (strcasecmp(text, answers[i]) == 0 ||
            (strlen(text) == 1 && strcasecmp(text, (char[]){*answers[i], 0}) == 0))
            return base_copy(answers[i]);
    for (int i = 0; q->type.sort == HANDBOOK_CHOICE && p && i < p->n_choices; i++)
        if (strcasecmp(text, p->choices[i]) == 0)
            return base_format("\"%s\"", p->choices[i]);
    return NULL;
}

/* A bare number gets its unit of DIM behind it, and so does each in a sum; the comma of a number alone is
 * its point. */
static char *complete_number(const struct dieset *d, const char *text, struct unit_dim dim)
{
    struct unit_dim has;
    double factor;
    bool bare, length = unit_same(dim, UNIT_LENGTH);
    char *number = formula_number_alone(text, length && unit_is_inch(d->now->system), &bare);
    const char *unit = unit_display(dim, d->now->system).name;
    if ((number && !bare) || !*unit || unit_scan(unit, &has, &factor) != strlen(unit) || !unit_same(has, dim))
        return number ? number : base_copy(text);
    char *out = number ? base_format("%s %s", number, unit) : formula_with_unit(text, unit);
    free(number);
    return out ? out : base_copy(text);
}

/* A line of an outline: each of its formulas. */
static char *complete_line(const struct dieset *d, const char *text)
{
    struct dieset_line line;
    struct base_text out = {0};
    int done = 0;
    if (dieset_read_line(text, &line, NULL) != BASE_OK)
        return base_copy(text);
    for (int p = 0; p < DIESET_PARTS; p++) {
        if (!line.parts[p].length)
            continue;
        char *part = base_copy_n(text + line.parts[p].start, (size_t)line.parts[p].length),
             *formula = complete_number(d, part, UNIT_LENGTH);
        free(part);
        base_text_addf(&out, "%.*s%s", line.parts[p].start - done, text + done, formula);
        done = line.parts[p].start + line.parts[p].length;
        free(formula);
    }
    base_text_add(&out, text + done);
    return base_text_take(&out);
}

char *dieset_complete(const struct dieset *d, const char *path, const char *text)
{
    if (strstr(path, ".outline."))
        return complete_line(d, text);
    int q = dieset_find(d, path);
    char *word = q < 0 ? NULL : chosen_word(&d->now->quantities[q], text);
    if (word)
        return word;
    if (q >= 0 && is_bare_words(d, &d->now->quantities[q], text))
        return base_format("\"%s\"", text);
    struct unit_dim want;
    return wanted_dim(d, path, &want) ? complete_number(d, text, want) : base_copy(text);
}
