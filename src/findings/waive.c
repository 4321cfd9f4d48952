/* Waivers: items of the job that let a finding stand.
 *
 * A waiver holds as long as its finding is no graver, fails in no further state and is short by no more than
 * when it was waived; then the finding is kept in the list with the waiver's name, and is not open. What
 * cannot be judged is never waived: nobody knows what that would let pass.
 */

#include "findings/findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const state_words[] = {
    [HANDBOOK_NEW] = "new", [HANDBOOK_GROUND] = "ground", [HANDBOOK_BOTH] = "both"};

const char *findings_states_word(enum handbook_states s) { return state_words[s]; }

static const char *entry(const struct findings *f, int item, const char *path)
{
    const char *text = dieset_entry(f->d, item, path);
    return text ? text : "";
}

/* ---- margins as they stand in a waiver: "-2 mm", a bare number where no unit is written ---- */

static bool typed_unit(struct unit_dim dim, struct unit_system system, struct unit_display *out)
{
    struct unit_dim has;
    double factor;
    *out = unit_display(dim, system);
    return *out->name && unit_scan(out->name, &has, &factor) == strlen(out->name) && unit_same(has, dim);
}

char *findings_margin_text(const struct finding *x, struct unit_system system)
{
    char number[40];
    struct unit_display u;
    if (!x->measured || x->type.sort != FORMULA_NUMBER || !isfinite(x->margin))
        return NULL;
    if (!typed_unit(x->type.dim, system, &u))
        return base_copy(unit_print_plain(x->margin, number, sizeof number));
    return base_format("%s %s", unit_print_plain(x->margin / u.factor, number, sizeof number), u.name);
}

static bool read_margin(const char *text, struct unit_dim dim, double *out)
{
    struct unit_dim has;
    double factor = 1;
    char *end;
    *out = strtod(text, &end);
    if (end == text || !isfinite(*out))
        return false;
    end += strspn(end, " ");
    if (*end && (unit_scan(end, &has, &factor) != strlen(end) || !unit_same(has, dim)))
        return false;
    *out *= factor;
    return true;
}

/* 1 nm and float noise are forgiven, as in rules. */
static bool no_less(const struct finding *x, const char *waived)
{
    double margin, noise;
    if (!x->measured)
        return true;
    if (!read_margin(waived, x->type.dim, &margin))
        return false;
    noise = 1e-9 * (fabs(margin) + fabs(x->limit));
    if (unit_same(x->type.dim, UNIT_LENGTH) && noise < 1e-6)
        noise = 1e-6;
    return x->margin >= margin - noise;
}

/* ---- which waiver holds ---- */

static int grade_named(const char *word)
{
    for (int g = HANDBOOK_NOTE; g <= HANDBOOK_FAULT; g++)
        if (strcmp(handbook_grade_text((enum handbook_grade)g), word) == 0)
            return g;
    return -1;
}

static unsigned states_named(const char *word)
{
    for (unsigned s = HANDBOOK_NEW; s <= HANDBOOK_BOTH; s++)
        if (strcmp(state_words[s], word) == 0)
            return s;
    return 0;
}

static bool holds(const struct findings *f, int item, const struct finding *x)
{
    return strcmp(x->rule, FINDINGS_UNJUDGED) != 0 && (int)x->grade <= grade_named(entry(f, item, "grade")) &&
           (x->states & ~states_named(entry(f, item, "states"))) == 0 &&
           no_less(x, entry(f, item, "margin")) && (x->grade != HANDBOOK_FAULT || *entry(f, item, "says"));
}

int findings_waiver(const struct findings *f, const struct finding *x)
{
    int kind = handbook_find_kind(dieset_handbook(f->d), DIESET_WAIVER);
    for (int i = 0; kind >= 0 && i < dieset_item_count(f->d); i++)
        if (dieset_item_kind(f->d, i) == kind && strcmp(entry(f, i, "finding"), x->key) == 0 &&
            holds(f, i, x))
            return i;
    return -1;
}

void findings_waive(struct findings *f)
{
    if (dieset_item_of_kind(f->d, DIESET_WAIVER) < 0)
        return;
    for (size_t k = 0; k < f->list.count; k++) {
        int item = findings_waiver(f, &f->list.at[k]);
        if (item >= 0)
            f->list.at[k].waiver = base_arena_copy(&f->memory, dieset_item_name(f->d, item));
    }
}

/* ---- findings by name ---- */

/* Do the words of TEXT begin those of KEY? */
static bool begins(const char *key, const char *text)
{
    size_t n = strlen(text);
    return strncmp(key, text, n) == 0 && (key[n] == '\0' || key[n] == ' ');
}

/* "edge-distance die_screws" is also found by the item alone behind the rule, and by a word of the finding's
   own item. */
static bool meant(const struct findings *f, const struct finding *x, const char *text)
{
    char *short_key = base_format("%s %s", x->rule, x->item >= 0 ? dieset_item_name(f->d, x->item) : "");
    bool found = begins(x->key, text) || (x->item >= 0 && strcmp(short_key, text) == 0);
    free(short_key);
    return found;
}

static enum base_err refuse_several(const struct findings *f, const char *text, int found,
                                    struct base_diag *why)
{
    struct base_text keys = {0};
    int told = 0;
    for (size_t i = 0; i < f->list.count && told < 4; i++)
        if (meant(f, &f->list.at[i], text))
            base_text_addf(&keys, "%s\"%s\"", told++ ? ", " : "", f->list.at[i].key);
    enum base_err err = base_fail(why, BASE_REFUSED, "%d findings are called \"%s\": say which, %s%s.", found,
                                  text, base_text_get(&keys), found > told ? " ..." : "");
    base_text_done(&keys);
    return err;
}

static enum base_err refuse_none(const struct findings *f, const char *text, struct base_diag *why)
{
    struct base_text near = {0};
    const char **keys = base_alloc((f->list.count + 1) * sizeof *keys);
    for (size_t i = 0; i < f->list.count; i++)
        keys[i] = f->list.at[i].rule;
    base_nearest(&near, text, keys, f->list.count);
    enum base_err err = base_fail(
        why, BASE_UNKNOWN,
        "No finding \"%s\" stands%s%s. A finding is named by its rule and its item, as check prints them.",
        text, near.length ? "; near it: " : "", base_text_get(&near));
    free(keys);
    base_text_done(&near);
    return err;
}

enum base_err findings_named(const struct findings *f, const char *text, const struct finding **out,
                             struct base_diag *why)
{
    int found = 0;
    *out = NULL;
    for (size_t i = 0; i < f->list.count; i++) {
        const struct finding *x = &f->list.at[i];
        if (strcmp(x->key, text) == 0) {
            *out = x;
            return BASE_OK;
        }
        if (meant(f, x, text)) {
            found++;
            *out = x;
        }
    }
    if (found == 1)
        return BASE_OK;
    *out = NULL;
    return found ? refuse_several(f, text, found, why) : refuse_none(f, text, why);
}
