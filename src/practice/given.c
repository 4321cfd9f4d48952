/* What may not be changed to mend a mistake: what the job is given, figures that are facts, and what is
 * there.
 *
 * A fault can also be talked away: another press is written down, less life asked for, a figure of a table or
 * a factor of the handbook typed over, the thing that fails taken out. How the planted job stood is kept, and
 * held against what stands now.
 */

#include "practice/practice.h"

#include <stdlib.h>
#include <string.h>

bool practice_named(const char *name, const char *path)
{
    size_t n = strlen(name);
    return strncmp(name, path, n) == 0 && (path[n] == '\0' || path[n] == '.');
}

bool practice_among(const char *const *names, int n, const char *path)
{
    for (int i = 0; i < n; i++)
        if (practice_named(names[i], path))
            return true;
    return false;
}

static bool is_given(const struct practice_job *p, const char *path)
{
    return practice_among(p->base->given, p->base->n_given, path) &&
           !practice_among(p->found, p->n_found, path);
}

/* Its usual formula is one look-up by key: what the row of a table states. A size picked by need is none. */
static bool is_listed(const struct dieset_quantity *q)
{
    return q->usual && strncmp(q->usual, "listed(", 7) == 0 &&
           strchr(q->usual, ')') == q->usual + strlen(q->usual) - 1;
}

static const char *text_of(const struct dieset_quantity *q) { return q->text ? q->text : ""; }

void practice_keep(struct practice_kept *k, struct job *j)
{
    struct dieset *d = job_dieset(j);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_item_kind(d, i) >= 0)
            base_vec_push(&k->items, ((struct practice_item){base_copy(dieset_item_name(d, i)),
                                                             dieset_item_kind(d, i)}));
    for (int i = 0; i < dieset_quantity_count(d); i++) {
        const struct dieset_quantity *q = dieset_quantity(d, i);
        if (!q->can_type)
            continue;
        base_map_put(&k->at, q->path, (int)k->texts.count);
        base_vec_push(&k->texts, base_copy(text_of(q)));
    }
}

void practice_kept_done(struct practice_kept *k)
{
    for (size_t i = 0; i < k->items.count; i++)
        free(k->items.at[i].name);
    for (size_t i = 0; i < k->texts.count; i++)
        free(k->texts.at[i]);
    base_vec_done(&k->items);
    base_vec_done(&k->texts);
    base_map_done(&k->at);
}

static int count_kind(const struct dieset *d, int kind)
{
    int n = 0;
    for (int i = 0; i < dieset_item_count(d); i++)
        n += dieset_item_kind(d, i) == kind;
    return n;
}

static int kept_of_kind(const struct practice_kept *k, int kind)
{
    int n = 0;
    for (size_t i = 0; i < k->items.count; i++)
        n += k->items.at[i].kind == kind;
    return n;
}

/* An item that is no longer there, nor another of its kind in its place (it may have been renamed, or be two
   now). */
static const char *gone(const struct practice_kept *k, const struct dieset *d)
{
    for (size_t i = 0; i < k->items.count; i++)
        if (dieset_find_item(d, k->items.at[i].name) < 0 &&
            count_kind(d, k->items.at[i].kind) < kept_of_kind(k, k->items.at[i].kind))
            return k->items.at[i].name;
    return NULL;
}

static const char *own_rows(const struct dieset *d)
{
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_item_kind(d, i) >= 0 && handbook_kind(dieset_handbook(d), dieset_item_kind(d, i))->rows)
            return dieset_item_name(d, i);
    return NULL;
}

/* Value Q may not stand as it does now: SAYS gets the reason. */
static bool refused(const struct practice_kept *k, const struct practice_job *p, const struct dieset *d,
                    const struct dieset_quantity *q, struct base_text *says)
{
    int at;
    bool kept = base_map_get(&k->at, q->path, &at);
    if (!q->can_type || (kept && strcmp(k->texts.at[at], text_of(q)) == 0))
        return false;
    if (q->item >= 0 && dieset_item_kind(d, q->item) < 0)
        base_text_addf(
            says, "%s is a factor that all jobs are judged by; to change it mends nothing. u brings it back.",
            q->path);
    else if (is_given(p, q->path))
        base_text_addf(
            says,
            "%s is given in this job and has to stay as it was; mend the set instead. u brings it back.",
            q->path);
    else if (kept && is_listed(q))
        base_text_addf(
            says,
            "%s is what the table states; choose another size instead of typing over it. u brings it back.",
            q->path);
    else
        return false;
    return true;
}

bool practice_talked_away(const struct practice_kept *k, const struct practice_job *p, struct job *j,
                          struct base_text *says)
{
    const struct dieset *d = job_dieset(j);
    const char *lost = gone(k, d), *rows = own_rows(d);
    if (lost)
        base_text_addf(says, "%s is gone, and the question with it: u brings it back.", lost);
    else if (rows)
        base_text_addf(says, "%s states parts of your own: nobody makes them here. u takes it out.", rows);
    for (int i = 0; !lost && !rows && i < dieset_quantity_count(d); i++)
        if (refused(k, p, d, dieset_quantity(d, i), says))
            return true;
    return lost || rows;
}
