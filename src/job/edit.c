/* The edit commands: each turns words into changes and opens a try. */

#include "job/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- finding what is meant ----------------------------------------------------- */

static enum base_err find_quantity(struct job *j, const char *path, const struct dieset_quantity **out,
                                   struct base_diag *why)
{
    int q = dieset_find(j->dieset, path);
    if (q < 0)
        return job_no_such(j, path, why);
    *out = dieset_quantity(j->dieset, q);
    return BASE_OK;
}

static enum base_err refuse_revision(const char *item, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "%s is an issued revision: it stays as it was said.", item);
}

static int factor_item(struct job *j, const char *name)
{
    int item = dieset_find_item(j->dieset, name);
    return item >= 0 && dieset_item_kind(j->dieset, item) < 0 ? item : -1;
}

/* The item and entry that type Q. A factor has an item of its own only while it is typed over. */
static void entry_of(struct job *j, const struct dieset_quantity *q, const char **item, const char **entry)
{
    *item = q->item >= 0 ? dieset_item_name(j->dieset, q->item) : q->path;
    *entry = q->item >= 0 ? q->entry : "value";
}

/* ---- values --------------------------------------------------------------------- */

/* A value of the job's own is its formula: without one it would be in no text of the job. */
static enum base_err check_unset(struct job *j, const struct dieset_quantity *q, struct base_diag *why)
{
    const struct handbook_kind *k = q->item < 0 ? NULL : job_kind_of(j, q->item);
    if (!k || !k->values)
        return BASE_OK;
    return base_fail(
        why, BASE_REFUSED,
        "%s is a value of the job's own and has no usual formula: type another one, or take the value out.",
        q->path);
}

/* A line of an outline, there already or the next. */
static enum base_err change_line(struct job *j, struct job_changes *c, const char *path, const char *item,
                                 int line, const char *text, struct base_diag *why)
{
    if (!text)
        return base_fail(why, BASE_REFUSED,
                         "%s: a line of an outline is taken out by itself, not together with other changes.",
                         path);
    char *entry = typed_of_line(line);
    job_change_entry(j, c, item, entry, text);
    free(entry);
    return BASE_OK;
}

/* What is typed at PATH, complete; NULL: nothing is, so the usual formula is meant. Yours to free(). */
static char *complete(struct job *j, const char *path, const char *formula)
{
    return formula && *formula ? dieset_complete(j->dieset, path, formula) : NULL;
}

/* TEXT is complete; NULL: back to the usual formula. */
static enum base_err change_value(struct job *j, struct job_changes *c, const char *path, const char *text,
                                  struct base_diag *why)
{
    const struct dieset_quantity *q = NULL;
    const char *drawn;
    int line;
    if (job_outline_line(j, path, &drawn, &line))
        return change_line(j, c, path, drawn, line, text, why);
    enum base_err err = find_quantity(j, path, &q, why);
    if (err)
        return err;
    if (!q->can_type)
        return base_fail(why, BASE_REFUSED, "%s follows from other values (%s) and cannot be typed.", path,
                         q->text ? q->text : "geometry");
    if (!text)
        err = check_unset(j, q, why);
    if (err)
        return err;
    const char *item, *entry;
    entry_of(j, q, &item, &entry);
    if (q->item < 0 && text && factor_item(j, q->path) < 0)
        job_changes_add(c, TYPED_ITEM, q->path, "", NULL, "factor");
    job_change_entry(j, c, item, entry, text);
    return BASE_OK;
}

/* A bare number that the handbook tells without decimals is one of pieces: half a station would be told as if
   it were a whole one. */
static bool is_whole(const struct dieset_quantity *q, double number)
{
    return !q->property || q->property->decimals != 0 || q->type.sort != HANDBOOK_NUMBER ||
           !unit_same(q->type.type.dim, UNIT_NUMBER) || fabs(number - round(number)) < 1e-9;
}

/* What was typed lies in the range that the handbook allows; the try is dropped otherwise. */
static enum base_err check_range(struct job *j, const char *path, struct base_diag *why)
{
    int n = dieset_find(j->dieset, path);
    const struct dieset_quantity *q = n < 0 ? NULL : dieset_quantity(j->dieset, n);
    struct formula_value a, b,
        v = q ? dieset_value(j->dieset, n, DIESET_NEW) : (struct formula_value){.error = FORMULA_EMPTY};
    if (q && !v.error && !is_whole(q, v.number))
        return base_fail(why, BASE_REFUSED, "%s: %.15g is no whole number of pieces.", path, v.number);
    if (!q || !q->low || !q->high || v.error ||
        handbook_eval_tree(j->handbook, q->low, &q->type.type, &a, NULL, NULL) ||
        handbook_eval_tree(j->handbook, q->high, &q->type.type, &b, NULL, NULL) || a.error || b.error)
        return BASE_OK;
    double noise = 1e-9 * (fabs(a.number) + fabs(b.number));
    if (v.number >= a.number - noise && v.number <= b.number + noise)
        return BASE_OK;
    char shown[60];
    dieset_print(j->dieset, n, DIESET_NEW, shown, sizeof shown);
    return base_fail(why, BASE_REFUSED, "%s would be %s; the handbook allows %s to %s.", path, shown,
                     formula_text(q->low), formula_text(q->high));
}

enum base_err job_check_typed(struct job *j, const char *path, const char *formula, struct base_diag *why)
{
    enum base_err err = formula && *formula ? job_check_used(j, path, why) : BASE_OK;
    return err ? err : check_range(j, path, why);
}

enum base_err job_set_many(struct job *j, const char *const *paths, const char *const *formulas, int n,
                           struct base_diag *why)
{
    job_drop(j);
    struct job_changes c = {0};
    enum base_err err = BASE_OK;
    const char *drawn;
    int line;
    if (n == 1 && (!formulas[0] || !*formulas[0]) && job_outline_line(j, paths[0], &drawn, &line))
        return job_outline_remove(j, drawn, line, why);
    struct base_text title = {0};
    for (int i = 0; i < n && !err; i++) {
        char *text = complete(j, paths[i], formulas[i]);
        err = change_value(j, &c, paths[i], text, why);
        char *one = job_value_title(j, paths[i], text);
        base_text_addf(&title, "%s%s", i ? ", " : "", one);
        free(one);
        free(text);
    }
    if (err) {
        job_changes_done(&c);
        base_text_done(&title);
        return err;
    }
    err = job_try(j, &c, base_text_take(&title), why);
    for (int i = 0; i < n && !err; i++)
        err = job_check_typed(j, paths[i], formulas[i], why);
    if (err)
        job_drop(j);
    return err;
}

enum base_err job_set(struct job *j, const char *path, const char *formula, struct base_diag *why)
{
    return job_set_many(j, &path, &formula, 1, why);
}

enum base_err job_unset(struct job *j, const char *path, struct base_diag *why)
{
    job_drop(j);
    const struct dieset_quantity *q = NULL;
    const char *drawn;
    int line;
    if (job_outline_line(j, path, &drawn, &line))
        return job_outline_remove(j, drawn, line, why);
    enum base_err err = find_quantity(j, path, &q, why);
    if (err)
        return err;
    if (!q->typed)
        return base_fail(why, BASE_REFUSED, "%s has nothing typed over it.", path);
    err = check_unset(j, q, why);
    if (err)
        return err;
    struct job_changes c = {0};
    const char *item, *entry;
    entry_of(j, q, &item, &entry);
    char *reason = typed_of_reason(entry);
    job_change_entry(j, &c, item, reason, NULL);
    free(reason);
    job_change_entry(j, &c, item, entry, NULL);
    if (factor_item(j, item) >= 0)
        job_changes_add(&c, TYPED_ITEM, item, "", "factor", NULL);
    return job_try(j, &c, job_value_title(j, path, NULL), why);
}

enum base_err job_reason(struct job *j, const char *path, const char *text, struct base_diag *why)
{
    job_drop(j);
    const struct dieset_quantity *q = NULL;
    enum base_err err = find_quantity(j, path, &q, why);
    if (err)
        return err;
    if (!q->typed)
        return base_fail(why, BASE_REFUSED,
                         "%s is not typed over: a reason stands beside a value that was typed.", path);
    struct job_changes c = {0};
    const char *item, *entry;
    entry_of(j, q, &item, &entry);
    char *reason = typed_of_reason(entry);
    job_change_entry(j, &c, item, reason, text && *text ? text : NULL);
    free(reason);
    return job_try(j, &c, base_format("%s: reason %s", path, text && *text ? text : "taken away"), why);
}

enum base_err job_entry(struct job *j, const char *item, const char *entry, const char *text,
                        struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = job_find_item(j, item, &i, why);
    if (err)
        return err;
    if (job_is_revision(j, i))
        return refuse_revision(item, why);
    struct job_changes c = {0};
    job_change_entry(j, &c, item, entry, text && *text ? text : NULL);
    char *path = typed_known(item, entry);
    err = job_try(j, &c, base_format("%s: %s %s", item, entry, text && *text ? text : "taken away"), why);
    err = err ? err : job_check_typed(j, path, text, why);
    if (err)
        job_drop(j);
    free(path);
    return err;
}

/* ---- items ------------------------------------------------------------------------ */

/* A name for a person's new item must be a name, free, and no word of the language. */
enum base_err job_check_name(struct job *j, const char *name, struct base_diag *why)
{
    if (!record_is_name(name))
        return base_fail(why, BASE_REFUSED,
                         "\"%s\" cannot be a name: small letters, digits and \"_\", beginning with a letter.",
                         name);
    if (unit_is_word(name))
        return base_fail(why, BASE_REFUSED, "\"%s\" is a unit and cannot be a name.", name);
    if (dieset_find_item(j->dieset, name) >= 0)
        return base_fail(why, BASE_REFUSED, "There is a \"%s\" already: choose another name.", name);
    if (handbook_find_factor(j->handbook, name) >= 0)
        return base_fail(why, BASE_REFUSED, "\"%s\" is a factor of the handbook: choose another name.", name);
    return BASE_OK;
}

enum base_err job_add(struct job *j, const char *kind, const char *name, int place, struct base_diag *why)
{
    job_drop(j);
    int k = handbook_find_kind(j->handbook, kind);
    if (k < 0)
        return base_fail(why, BASE_UNKNOWN, "The handbook has no kind \"%s\".", kind);
    if (handbook_kind(j->handbook, k)->n_words)
        return base_fail(why, BASE_REFUSED, "A %s is not added as items are: %s.", kind,
                         "remark, waive and issue write them");
    enum base_err err = job_check_name(j, name, why);
    if (err)
        return err;
    int count = dieset_item_count(j->dieset), last = job_last_of_kind(j, kind);
    if (place < 0)
        place = last < 0 ? count : last + 1;
    struct job_changes c = {0};
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, kind);
    job_begin_item(j, handbook_kind(j->handbook, k), name, &c);
    job_place_at(j, &c, name, count, place < count ? place : count);
    return job_try(j, &c, base_format("%s %s added", handbook_kind(j->handbook, k)->title, name), why);
}

/* What is typed needs the item there: it is added as a try, and that try is opened anew with the values
   behind it. */
enum base_err job_add_with(struct job *j, const char *kind, const char *name, int place,
                           const char *const *names, const char *const *formulas, int n,
                           struct base_diag *why)
{
    enum base_err err = job_add(j, kind, name, place, why);
    if (err || n == 0)
        return err;
    struct job_changes c = {0};
    for (size_t i = 0; i < j->tried.at.count; i++) {
        const struct typed_change *x = &j->tried.at.at[i];
        job_changes_add(&c, x->what, x->item, x->path, x->before, x->after);
    }
    char **paths = base_alloc((size_t)n * sizeof *paths), *title = base_copy(j->title);
    for (int i = 0; i < n; i++)
        paths[i] = base_format("%s.%s", name, names[i]);
    for (int i = 0; i < n && !err; i++) {
        char *text = complete(j, paths[i], formulas[i]);
        err = change_value(j, &c, paths[i], text, why);
        free(text);
    }
    if (!err) {
        err = job_try(j, &c, title, why);
    } else {
        job_changes_done(&c);
        free(title);
    }
    for (int i = 0; i < n && !err; i++)
        err = job_check_typed(j, paths[i], formulas[i], why);
    if (err)
        job_drop(j);
    for (int i = 0; i < n; i++)
        free(paths[i]);
    free(paths);
    return err;
}

/* ITEM's number into *I, and NAME may be given to an item; no try is open afterwards. */
static enum base_err find_and_name(struct job *j, const char *item, const char *name, int *i,
                                   struct base_diag *why)
{
    job_drop(j);
    enum base_err err = job_find_item(j, item, i, why);
    return err ? err : job_check_name(j, name, why);
}

enum base_err job_add_like(struct job *j, const char *item, const char *name, struct base_diag *why)
{
    int i;
    enum base_err err = find_and_name(j, item, name, &i, why);
    if (err)
        return err;
    const struct handbook_kind *k = job_kind_of(j, i);
    if (k && k->n_words)
        return base_fail(why, BASE_REFUSED,
                         "%s holds words, said once: there is nothing to make another like it.", item);
    if (!k || k->single)
        return base_fail(why, BASE_REFUSED, "There can be only one %s in a job.", item);
    struct job_changes c = {0};
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, k->name);
    const struct typed_entry *entries;
    int n = dieset_entries(j->dieset, i, &entries);
    for (int e = 0; e < n; e++)
        job_changes_add(&c, TYPED_ENTRY, name, entries[e].path, NULL, entries[e].text);
    job_place_at(j, &c, name, dieset_item_count(j->dieset), i + 1);
    return job_try(j, &c, base_format("%s added, like %s", name, item), why);
}

/* Who names OLD, an item, or PROPERTY of OLD, a group of own values; with CHANGES, NOW is put in its place.
 * What stands at the item SKIP is passed over. */
struct mention {
    const char *old, *property, *now;
    struct job_changes *changes;
    struct base_text *users;
    int found;
    int skip;
};

/* Only formulas, references and layouts name things; the rest is words. */
static bool is_words(const struct typed_entry *e)
{
    return typed_path_read(e->path).detail != TYPED_ITSELF || strcmp(e->path, "title") == 0 ||
           strcmp(e->path, "note") == 0;
}

/* TEXT with the name changed; NULL when it does not name it or is no formula. */
static char *renamed(const char *text, const char *old, const char *property, const char *now)
{
    struct formula_tree *t;
    if (formula_parse(text, &t, NULL) != BASE_OK)
        return NULL;
    char *out = formula_renamed(t, old, property, now);
    formula_tree_free(t);
    return out;
}

/* In its own group a value is also named bare and behind `this`. */
static char *renamed_in_group(const char *text, const struct mention *m)
{
    const char *const ways[][2] = {{m->old, m->property}, {"this", m->property}, {m->property, NULL}};
    char *held = NULL;
    for (size_t i = 0; i < COUNT_OF(ways); i++) {
        char *next = renamed(held ? held : text, ways[i][0], ways[i][1], m->now);
        if (!next)
            continue;
        free(held);
        held = next;
    }
    return held;
}

static char *renamed_lay(const char *text, const struct mention *m)
{
    struct typed_lay lay;
    if (m->property || !typed_lay_read(text, &lay) || strcmp(lay.on, m->old) != 0)
        return NULL;
    return lay.with ? typed_lay_with(m->now) : typed_lay_on(lay.pattern, m->now);
}

static bool is_reference(const struct handbook_kind *k, const char *path)
{
    int p = k && !k->values ? handbook_find_property(k, path) : -1;
    return p >= 0 && k->properties[p].type.sort == HANDBOOK_ITEM;
}

/* A property of the item itself, or a value of its group, hides an item of that name. */
static bool hides(struct job *j, int item, const struct handbook_kind *k, const char *name)
{
    return k &&
           (k->values ? dieset_entry(j->dieset, item, name) != NULL : handbook_find_property(k, name) >= 0);
}

/* What is said of an item, or of a finding on it, goes on speaking of it under its new name. The first word
 * of a finding's key is its rule, the others name items, values and operations. */
static char *renamed_words(const struct mention *m, const struct typed_entry *e)
{
    bool key = strcmp(e->path, "finding") == 0, found = false;
    if (m->property || (!key && strcmp(e->path, "item") != 0))
        return NULL;
    struct base_text out = {0};
    size_t n = strlen(m->old);
    for (const char *at = e->text; *at;) {
        size_t word = strcspn(at, " "), head = strcspn(at, " .");
        bool names = head == n && strncmp(at, m->old, n) == 0 && (!key || at != e->text);
        if (names)
            base_text_addf(&out, "%s%.*s", m->now, (int)(word - head), at + head);
        else
            base_text_add_n(&out, at, word);
        found = found || names;
        at += word;
        if (*at)
            base_text_add_n(&out, at++, 1);
    }
    char *now = base_text_take(&out);
    if (found)
        return now;
    free(now);
    return NULL;
}

static char *renamed_part(const char *formula, const void *arg)
{
    const struct mention *m = arg;
    return renamed(formula, m->old, m->property, m->now);
}

char *job_text_renamed(const char *path, const char *text, const char *old, const char *now)
{
    struct mention m = {.old = old, .now = now};
    struct typed_entry e = {NULL, path, text};
    if (is_words(&e))
        return NULL;
    enum typed_place at = typed_path_read(path).place;
    return at == TYPED_AT_LAY    ? renamed_lay(text, &m)
           : at == TYPED_AT_LINE ? job_line_renamed(text, renamed_part, &m)
                                 : renamed(text, old, NULL, now);
}

static char *renamed_entry(struct job *j, const struct mention *m, int item, const struct typed_entry *e)
{
    const struct handbook_kind *k = job_kind_of(j, item);
    if (k && k->n_words)
        return m->changes ? renamed_words(m, e) : NULL; /* words keep nothing from being taken out */
    if (is_words(e))
        return NULL;
    if (strcmp(e->path, "lay") == 0)
        return renamed_lay(e->text, m);
    if (is_reference(k, e->path))
        return !m->property && strcmp(e->text, m->old) == 0 ? base_copy(m->now) : NULL;
    if (m->property && strcmp(dieset_item_name(j->dieset, item), m->old) == 0)
        return renamed_in_group(e->text, m);
    if (hides(j, item, k, m->old))
        return NULL;
    if (typed_path_read(e->path).place == TYPED_AT_LINE && k && k->outlines)
        return job_line_renamed(e->text, renamed_part, m);
    return renamed(e->text, m->old, m->property, m->now);
}

static void tell_user(struct mention *m, const char *item, const char *path)
{
    char *known = typed_known(item, path);
    base_text_addf(m->users, "%s%s", m->found > 1 ? ", " : "", known);
    free(known);
}

static void look_at(struct job *j, struct mention *m, int item, const struct typed_entry *e)
{
    char *now = renamed_entry(j, m, item, e);
    if (!now)
        return;
    m->found++;
    const char *name = dieset_item_name(j->dieset, item);
    if (m->changes)
        job_changes_add(m->changes, TYPED_ENTRY, name, e->path, e->text, now);
    if (m->users && m->found <= 3)
        tell_user(m, name, e->path);
    free(now);
}

static void look_through(struct job *j, struct mention *m)
{
    for (int i = 0; i < dieset_item_count(j->dieset); i++) {
        if (i == m->skip)
            continue;
        const struct typed_entry *entries;
        int n = dieset_entries(j->dieset, i, &entries);
        for (int e = 0; e < n; e++)
            look_at(j, m, i, &entries[e]);
    }
}

static enum base_err refuse_used(struct job *j, const char *what, struct mention *m, struct base_diag *why)
{
    struct base_text users = {0};
    m->users = &users;
    m->now = "_";
    look_through(j, m);
    enum base_err err = BASE_OK;
    if (m->found)
        err = base_fail(why, BASE_REFUSED, "%s cannot be taken out: %s%s name%s it. Change %s first.", what,
                        base_text_get(&users), m->found > 3 ? " and others" : "", m->found == 1 ? "s" : "",
                        m->found == 1 ? "that" : "those");
    base_text_done(&users);
    return err;
}

enum base_err job_take_out_with(struct job *j, struct job_changes *c, int i, struct base_diag *why)
{
    const char *item = dieset_item_name(j->dieset, i);
    struct mention m = {.old = item, .skip = i};
    enum base_err err = refuse_used(j, item, &m, why);
    if (err)
        return err;
    const struct typed_entry *entries;
    int n = dieset_entries(j->dieset, i, &entries);
    for (int e = 0; e < n; e++)
        job_changes_add(c, TYPED_ENTRY, item, entries[e].path, entries[e].text, NULL);
    const struct handbook_kind *k = job_kind_of(j, i);
    /* moved to the end first, so that taking this back puts it where it stood */
    job_place_at(j, c, item, i, dieset_item_count(j->dieset) - 1);
    job_changes_add(c, TYPED_ITEM, item, "", k ? k->name : "factor", NULL);
    return BASE_OK;
}

enum base_err job_take_out(struct job *j, const char *item, struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = job_find_item(j, item, &i, why);
    if (err)
        return err;
    if (job_is_revision(j, i))
        return refuse_revision(item, why);
    struct job_changes c = {0};
    err = job_take_out_with(j, &c, i, why);
    return err ? err : job_try(j, &c, base_format("%s taken out", item), why);
}

enum base_err job_rename(struct job *j, const char *item, const char *name, struct base_diag *why)
{
    int i;
    enum base_err err = find_and_name(j, item, name, &i, why);
    if (err)
        return err;
    const struct handbook_kind *k = job_kind_of(j, i);
    if (job_is_revision(j, i))
        return refuse_revision(item, why);
    if (!k || k->single)
        return base_fail(why, BASE_REFUSED,
                         "%s is named after its kind and keeps that name; its title may be changed.", item);
    if (k->n_words) /* undo passes by what is said: under a name of its own it would stand in the way */
        return base_fail(why, BASE_REFUSED, "%s is a %s and keeps the name that it was given.", item,
                         k->name);
    struct job_changes c = {0};
    struct mention m = {.old = item, .now = name, .changes = &c, .skip = -1};
    look_through(j, &m);
    job_changes_add(&c, TYPED_NAME, item, "", item, name);
    return job_try(j, &c, base_format("%s renamed %s", item, name), why);
}

enum base_err job_move(struct job *j, const char *item, int place, struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = job_find_item(j, item, &i, why);
    if (err)
        return err;
    int last = dieset_item_count(j->dieset) - 1;
    if (place < 0 || place > last)
        return base_fail(why, BASE_REFUSED, "%s cannot go to place %d: the job has places 0 to %d.", item,
                         place, last);
    struct job_changes c = {0};
    job_place_at(j, &c, item, i, place);
    int above = place > i ? place : place - 1; /* what it stands below then */
    const char *name = above >= 0 ? dieset_item_name(j->dieset, above) : NULL;
    return job_try(j, &c, base_format("%s put %s%s", item, name ? "below " : "first", name ? name : ""), why);
}

/* ---- the job's own values ----------------------------------------------------------- */

static enum base_err find_group(struct job *j, const char *group, int *item, struct base_diag *why)
{
    enum base_err err = job_find_item(j, group, item, why);
    if (err)
        return err;
    const struct handbook_kind *k = job_kind_of(j, *item);
    return k && k->values ? BASE_OK
                          : base_fail(why, BASE_REFUSED, "%s is no group of the job's own values.", group);
}

enum base_err job_value_add(struct job *j, const char *group, const char *name, const char *type,
                            const char *formula, struct base_diag *why)
{
    job_drop(j);
    int item;
    enum base_err err = find_group(j, group, &item, why);
    if (err)
        return err;
    if (!record_is_name(name) || unit_is_word(name))
        return base_fail(
            why, BASE_REFUSED,
            "\"%s\" cannot be a name: small letters, digits and \"_\", beginning with a letter, and no unit.",
            name);
    if (dieset_entry(j->dieset, item, name))
        return base_fail(why, BASE_REFUSED, "%s has a value \"%s\" already.", group, name);
    struct job_changes c = {0};
    char *type_path = typed_of_detail(name, TYPED_TYPE);
    job_changes_add(&c, TYPED_ENTRY, group, name, NULL, formula);
    job_changes_add(&c, TYPED_ENTRY, group, type_path, NULL, type);
    free(type_path);
    return job_try(j, &c, base_format("%s.%s added", group, name), why);
}

enum base_err job_value_rename(struct job *j, const char *group, const char *name, const char *now,
                               struct base_diag *why)
{
    job_drop(j);
    int item;
    enum base_err err = find_group(j, group, &item, why);
    if (err)
        return err;
    if (!dieset_entry(j->dieset, item, name))
        return base_fail(why, BASE_UNKNOWN, "%s has no value \"%s\".", group, name);
    if (!record_is_name(now) || unit_is_word(now) || dieset_entry(j->dieset, item, now))
        return base_fail(why, BASE_REFUSED, "\"%s\" cannot be the new name: it is no name, a unit, or taken.",
                         now);
    struct job_changes c = {0};
    struct mention m = {.old = group, .property = name, .now = now, .changes = &c, .skip = -1};
    look_through(j, &m);
    const struct typed_entry *entries;
    int n = dieset_entries(j->dieset, item, &entries);
    for (int e = 0; e < n; e++) {
        if (!typed_belongs(entries[e].path, name))
            continue;
        const char *text = entries[e].text, *before = text;
        for (size_t i = 0; i < c.at.count; i++) /* its own formula may name its own group */
            if (strcmp(c.at.at[i].item, group) == 0 && strcmp(c.at.at[i].path, entries[e].path) == 0)
                before = text = c.at.at[i].after;
        char *path = base_format("%s%s", now, entries[e].path + strlen(name));
        job_changes_add(&c, TYPED_ENTRY, group, entries[e].path, before, NULL);
        job_changes_add(&c, TYPED_ENTRY, group, path, NULL, text);
        free(path);
    }
    return job_try(j, &c, base_format("%s.%s renamed %s", group, name, now), why);
}

enum base_err job_value_remove(struct job *j, const char *group, const char *name, struct base_diag *why)
{
    job_drop(j);
    int item;
    enum base_err err = find_group(j, group, &item, why);
    if (err)
        return err;
    struct mention m = {.old = group, .property = name, .skip = -1};
    char *what = base_format("%s.%s", group, name);
    err = refuse_used(j, what, &m, why);
    free(what);
    if (err)
        return err;
    struct job_changes c = {0};
    const struct typed_entry *entries;
    int n = dieset_entries(j->dieset, item, &entries);
    for (int e = 0; e < n; e++)
        if (typed_belongs(entries[e].path, name))
            job_changes_add(&c, TYPED_ENTRY, group, entries[e].path, entries[e].text, NULL);
    if (!c.at.count)
        return base_fail(why, BASE_UNKNOWN, "%s has no value \"%s\".", group, name);
    return job_try(j, &c, base_format("%s.%s taken out", group, name), why);
}
