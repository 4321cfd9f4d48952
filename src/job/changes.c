/* What is meant by a name, and the changes that an edit is made of. */

#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void job_changes_done(struct job_changes *c)
{
    base_vec_done(&c->at);
    base_arena_done(&c->memory);
}

void job_changes_add(struct job_changes *c, enum typed_what what, const char *item, const char *path,
                     const char *before, const char *after)
{
    struct base_arena *m = &c->memory;
    struct typed_change change = {what, base_arena_copy(m, item), base_arena_copy(m, path),
                                  base_arena_copy(m, before), base_arena_copy(m, after)};
    base_vec_push(&c->at, change);
}

enum base_err job_no_such(struct job *j, const char *path, struct base_diag *why)
{
    struct base_text near = {0};
    dieset_nearest(j->dieset, path, &near);
    const char *words = base_text_get(&near);
    enum base_err err = base_fail(why, BASE_UNKNOWN, "The job has no \"%s\"%s%s.", path,
                                  *words ? "; near it: " : "", words);
    base_text_done(&near);
    return err;
}

enum base_err job_find_item(struct job *j, const char *name, int *item, struct base_diag *why)
{
    *item = dieset_find_item(j->dieset, name);
    return *item < 0 ? job_no_such(j, name, why) : BASE_OK;
}

const struct handbook_kind *job_kind_of(struct job *j, int item)
{
    int kind = dieset_item_kind(j->dieset, item);
    return kind < 0 ? NULL : handbook_kind(j->handbook, kind);
}

/* What was issued stays on record. */
bool job_is_revision(struct job *j, int item)
{
    const struct handbook_kind *k = job_kind_of(j, item);
    return k && strcmp(k->name, DIESET_REVISION) == 0;
}

static const char *entry_now(struct job *j, const char *item, const char *entry)
{
    int i = dieset_find_item(j->dieset, item);
    return i < 0 ? NULL : dieset_entry(j->dieset, i, entry);
}

void job_change_entry(struct job *j, struct job_changes *c, const char *item, const char *entry,
                      const char *after)
{
    const char *before = entry_now(j, item, entry);
    if (!before && !after)
        return;
    job_changes_add(c, TYPED_ENTRY, item, entry, before, after);
}

/* "die_plate.thickness 32 mm -> 36 mm" */
char *job_value_title(struct job *j, const char *path, const char *formula)
{
    int n = dieset_find(j->dieset, path);
    const struct dieset_quantity *q = n < 0 ? NULL : dieset_quantity(j->dieset, n);
    /* what is asked for may begin with a text */
    const char *was = q && !q->typed && q->usual ? "usual" : q ? q->text : NULL;
    return base_format("%s %s -> %s", path, was ? was : "not filled in",
                       formula && *formula ? formula : "usual");
}

void job_place_at(struct job *j, struct job_changes *c, const char *name, int from, int to)
{
    (void)j;
    if (from == to)
        return;
    char a[16], b[16];
    snprintf(a, sizeof a, "%d", from);
    snprintf(b, sizeof b, "%d", to);
    job_changes_add(c, TYPED_PLACE, name, "", a, b);
}

int job_last_of_kind(struct job *j, const char *kind)
{
    int wanted = handbook_find_kind(j->handbook, kind), last = -1;
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        if (dieset_item_kind(j->dieset, i) == wanted)
            last = i;
    return last;
}
