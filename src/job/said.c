/* Which events are words, a remark's, a waiver's, a revision's, and who said them. */

#include "job/job.h"

#include <string.h>

static struct typed_change copy_change(struct base_arena *m, const struct typed_change *c)
{
    return (struct typed_change){c->what, base_arena_copy(m, c->item), base_arena_copy(m, c->path),
                                 base_arena_copy(m, c->before), base_arena_copy(m, c->after)};
}

struct typed_event job_copy_event(struct base_arena *m, const struct typed_event *e)
{
    struct typed_event copy = *e;
    struct typed_change *changes = base_arena_alloc(m, (size_t)(e->n_changes + 1) * sizeof *changes);
    copy.title = base_arena_copy(m, e->title);
    copy.who = base_arena_copy(m, e->who);
    copy.when = base_arena_copy(m, e->when);
    copy.by = base_arena_copy(m, e->by);
    copy.at = base_arena_copy(m, e->at);
    for (int i = 0; i < e->n_changes; i++)
        changes[i] = copy_change(m, &e->changes[i]);
    copy.changes = changes;
    return copy;
}

static bool are_words(const struct job *j, int kind)
{
    return kind >= 0 && handbook_kind(dieset_handbook(j->dieset), kind)->n_words > 0;
}

/* Words that have gone leave their names: "remark_2", with the lines of their kind. */
static bool were_words(const struct job *j, const struct typed_change *c)
{
    const struct handbook *h = dieset_handbook(j->dieset);
    for (int k = 0; k < handbook_kind_count(h); k++) {
        const struct handbook_kind *kind = handbook_kind(h, k);
        size_t n = strlen(kind->name);
        if (!kind->n_words || strncmp(c->item, kind->name, n) != 0 || c->item[n] != '_' ||
            strspn(c->item + n + 1, "0123456789") != strlen(c->item + n + 1))
            continue;
        if (handbook_word_line(kind, c->path) >= 0)
            return true;
    }
    return false;
}

bool job_says(const struct job *j, const struct typed_event *e, const struct typed_change *c)
{
    for (int i = 0; i < e->n_changes; i++) {
        const struct typed_change *x = &e->changes[i];
        if (x->what == TYPED_ITEM && strcmp(x->item, c->item) == 0) /* its lines come or go with it */
            return are_words(j,
                             handbook_find_kind(dieset_handbook(j->dieset), x->after ? x->after : x->before));
    }
    int item = dieset_find_item(j->dieset, c->item);
    return item >= 0 ? dieset_item_words(j->dieset, item) : c->what == TYPED_ENTRY && were_words(j, c);
}

bool job_only_said(const struct job *j, const struct typed_event *e)
{
    bool said = e->n_changes > 0;
    for (int i = 0; i < e->n_changes && said; i++)
        said = job_says(j, e, &e->changes[i]);
    return said;
}

bool job_same_person(const char *a, const char *b)
{
    size_t n = strcspn(a, "@"), m = strcspn(b, "@");
    if (n != m || strncmp(a, b, n) != 0)
        return false;
    return !a[n] || !b[m] || strcmp(a, b) == 0; /* old files name the account alone */
}

const char job_begun[] = "begun from "; /* the first event of every job */

bool job_is_beginning(const struct typed_event *e)
{
    return strncmp(e->title, job_begun, strlen(job_begun)) == 0;
}
