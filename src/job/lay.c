/* Where a group stands: another pattern, and all of a placing in one edit. */

#include "job/job.h"

#include <stdlib.h>
#include <string.h>

/* What stays typed when an item is laid anew: what the new pattern asks for too, and freed points that it has
 * by the same name. All else would be refused. */
static bool stays_laid(const struct handbook_pattern *p, const char *entry)
{
    struct typed_path at = typed_path_read(entry);
    bool stays = p && typed_path_names(&at, "turn");
    for (int i = 0; p && i < p->n_takes; i++)
        stays = stays || typed_path_names(&at, p->takes[i].name);
    for (int i = 0; p && !p->repeat && i < p->n_points; i++)
        stays = stays || typed_path_names(&at, p->points[i].name);
    return stays;
}

static const struct handbook_pattern *pattern_of(struct job *j, const char *lay)
{
    char word[64];
    record_word(lay, word, sizeof word);
    int p = handbook_find_pattern(j->handbook, word);
    return p < 0 ? NULL : handbook_pattern(j->handbook, p);
}

static void change_lay(struct job *j, struct job_changes *c, int i, const char *lay)
{
    char word[64], word_before[64];
    const char *before = dieset_entry(j->dieset, i, "lay"), *item = dieset_item_name(j->dieset, i);
    const struct handbook_pattern *pattern = pattern_of(j, lay);
    const struct typed_entry *entries;
    int n = dieset_entries(j->dieset, i, &entries);
    record_word(lay, word, sizeof word);
    record_word(before ? before : "", word_before, sizeof word_before);
    for (int e = 0; e < n && strcmp(word, word_before) != 0; e++)
        if (typed_is_laid(entries[e].path) && !stays_laid(pattern, entries[e].path))
            job_changes_add(c, TYPED_ENTRY, item, entries[e].path, entries[e].text, NULL);
    job_change_entry(j, c, item, "lay", lay);
}

static enum base_err find_laid(struct job *j, const char *item, int *i, struct base_diag *why)
{
    enum base_err err = job_find_item(j, item, i, why);
    const struct handbook_kind *k = err ? NULL : job_kind_of(j, *i);
    if (!err && (!k || !k->lays))
        return base_fail(why, BASE_REFUSED, "%s does not stand at points: there is nothing to lay out.",
                         item);
    return err;
}

enum base_err job_lay(struct job *j, const char *item, const char *pattern_on_plate, struct base_diag *why)
{
    return job_lay_out(j, &(struct job_laying){.item = item, .lay = pattern_on_plate}, why);
}

/* ---- all of a placing ------------------------------------------------------------------ */

static bool is_given(const struct job_laying *l, const char *path)
{
    for (int i = 0; i < l->n; i++)
        if (strcmp(l->entries[i].path, path) == 0)
            return true;
    return typed_is_laid(path) || typed_path_read(path).place == TYPED_AT_LAY;
}

/* What is typed in LIKE, but not where it stands; what the new one is given is not typed twice. */
static enum base_err copy_like(struct job *j, struct job_changes *c, const struct job_laying *l, int *place,
                               struct base_diag *why)
{
    int i;
    const struct typed_entry *entries;
    enum base_err err = job_find_item(j, l->like, &i, why);
    if (err)
        return err;
    *place = i + 1;
    int n = dieset_entries(j->dieset, i, &entries);
    for (int e = 0; e < n; e++)
        if (!is_given(l, entries[e].path) && strcmp(entries[e].path, "title") != 0)
            job_changes_add(c, TYPED_ENTRY, l->item, entries[e].path, NULL, entries[e].text);
    return BASE_OK;
}

static void begin_item(struct job *j, struct job_changes *c, const struct job_laying *l,
                       const struct handbook_kind *k)
{
    struct job_changes begun = {0};
    job_begin_item(j, k, l->item, &begun);
    for (size_t i = 0; i < begun.at.count; i++)
        if (!is_given(l, begun.at.at[i].path))
            job_changes_add(c, TYPED_ENTRY, l->item, begun.at.at[i].path, NULL, begun.at.at[i].after);
    job_changes_done(&begun);
}

static enum base_err add_laid(struct job *j, struct job_changes *c, const struct job_laying *l,
                              struct base_diag *why)
{
    int kind = handbook_find_kind(j->handbook, l->kind), count = dieset_item_count(j->dieset);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(j->handbook, kind);
    if (!k || !k->lays || k->single)
        return base_fail(why, BASE_UNKNOWN, "The handbook has no kind \"%s\" that stands at points.",
                         l->kind);
    enum base_err err = job_check_name(j, l->item, why);
    if (err)
        return err;
    int last = job_last_of_kind(j, l->kind), place = last < 0 ? count : last + 1;
    job_changes_add(c, TYPED_ITEM, l->item, "", NULL, l->kind);
    if (l->like)
        err = copy_like(j, c, l, &place, why);
    else
        begin_item(j, c, l, k);
    job_changes_add(c, TYPED_ENTRY, l->item, "lay", NULL, l->lay);
    for (int e = 0; e < l->n && !err; e++)
        if (l->entries[e].text)
            job_changes_add(c, TYPED_ENTRY, l->item, l->entries[e].path, NULL, l->entries[e].text);
    job_place_at(j, c, l->item, count, place < count ? place : count);
    return err;
}

static void change_entries(struct job *j, struct job_changes *c, const struct job_laying *l,
                           struct base_text *title)
{
    int i = dieset_find_item(j->dieset, l->item);
    for (int e = 0; e < l->n; e++) {
        const struct job_typed *t = &l->entries[e];
        const char *stands = dieset_entry(j->dieset, i, t->path);
        if (!l->lay && (t->text ? stands && strcmp(stands, t->text) == 0 : !stands))
            continue; /* as it stands */
        char *reason = typed_of_reason(t->path), *path = typed_known(l->item, t->path);
        char *one = typed_is_reason(t->path) ? base_format("reason %s", t->text)
                                            : job_value_title(j, path, t->text);
        if (!t->text)
            job_change_entry(j, c, l->item, reason, NULL);
        job_change_entry(j, c, l->item, t->path, t->text);
        if (!l->lay)
            base_text_addf(title, "%s%s", title->length ? ", " : "", one);
        free(one);
        free(path);
        free(reason);
    }
}

/* What is typed with it has to be used and within its range, as anywhere. */
static enum base_err try_laid(struct job *j, const struct job_laying *l, struct job_changes *c, char *title,
                              struct base_diag *why)
{
    enum base_err err = job_try(j, c, title, why);
    for (int e = 0; e < l->n && !err; e++) {
        char *path = typed_known(l->item, l->entries[e].path);
        err = job_check_typed(j, path, l->entries[e].text, why);
        free(path);
    }
    if (err)
        job_drop(j);
    return err;
}

enum base_err job_lay_out(struct job *j, const struct job_laying *l, struct base_diag *why)
{
    int i;
    job_drop(j);
    struct job_changes c = {0};
    struct base_text title = {0};
    enum base_err err = l->kind ? add_laid(j, &c, l, why) : find_laid(j, l->item, &i, why);
    if (err) {
        job_changes_done(&c);
        return err;
    }
    if (l->kind) {
        base_text_addf(&title, "%s added, %s", l->item, l->lay);
    } else {
        if (l->lay) {
            change_lay(j, &c, i, l->lay);
            base_text_addf(&title, "%s laid %s", l->item, l->lay);
        }
        change_entries(j, &c, l, &title);
    }
    if (c.at.count)
        return try_laid(j, l, &c, base_text_take(&title), why);
    base_text_done(&title);
    return BASE_OK;
}
