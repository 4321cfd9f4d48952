/* before.c - the job as it was some edits ago, beside the job as it is
 *
 * A copy in memory of items, entries and the job's own tables, from which the newest events are taken back
 * one by one.
 */

#include "job/job.h"

#include <stdlib.h>

int job_standing(struct job *j, const struct typed_event **events, int room)
{
    int n = store_standing(j->store, events, room);
    return n && job_is_beginning(&(*events)[n - 1]) ? n - 1 : n;
}

static enum base_err copy_tables(struct store *from, struct store *to, struct base_diag *why)
{
    BASE_VEC(struct store_table) tables = {0};
    struct base_arena memory = {0};
    struct store_table t = {.file = ""};
    while (store_table_after(from, t.file, &t)) {
        t.file = base_arena_copy(&memory, t.file); /* lent until the next call */
        t.csv = base_arena_copy_n(&memory, t.csv, t.length);
        base_vec_push(&tables, t);
    }
    enum base_err err = tables.count ? store_put_tables(to, tables.at, (int)tables.count, why) : BASE_OK;
    base_vec_done(&tables);
    base_arena_done(&memory);
    return err;
}

static enum base_err copy_items(struct store *from, struct store *to, struct base_diag *why)
{
    struct job_changes c = {0};
    struct store_state is;
    enum base_err err = store_read(from, &is, why);
    for (int i = 0; !err && i < is.n_items; i++)
        job_changes_add(&c, TYPED_ITEM, is.items[i].name, "", NULL, is.items[i].kind);
    for (int i = 0; !err && i < is.n_entries; i++)
        job_changes_add(&c, TYPED_ENTRY, is.entries[i].item, is.entries[i].path, NULL, is.entries[i].text);
    err = err ? err : store_take(to, "as it is", "", c.at.at, (int)c.at.count, why);
    job_changes_done(&c);
    return err;
}

/* All events after event LAST, whatever they were, so that what stood then stands there again. */
static enum base_err take_back(struct job *j, long last, struct store *from, struct base_diag *why)
{
    const struct typed_event *events;
    int n = store_history(j->store, &events, (int)(store_event_count(j->store) - last));
    enum base_err err = BASE_OK;
    for (int i = 0; i < n && !err; i++) {
        store_turn_round((struct typed_change *)events[i].changes, events[i].n_changes);
        err = store_take(from, events[i].title, "", events[i].changes, events[i].n_changes, why);
    }
    return err;
}

enum base_err job_after(struct job *j, long event, struct job **out, struct base_diag *why)
{
    *out = NULL;
    if (!job_saved(j))
        return base_fail(why, BASE_NOT_SAVED,
                         "Some edits are not saved yet: save them to another place first, then compare.");
    struct store *store = store_open_memory();
    enum base_err err = copy_tables(j->store, store, why);
    err = err ? err : copy_items(j->store, store, why);
    err = err ? err : take_back(j, event, store, why);
    if (err) {
        store_close(store);
        return err;
    }
    err = job_adopt(j->handbook, store, out, why);
    if (!err)
        err = job_load(*out, why);
    if (err && *out) {
        job_close(*out);
        *out = NULL;
    }
    return err;
}

enum base_err job_before(struct job *j, int edits, struct job **out, struct base_diag *why)
{
    const struct typed_event *events;
    *out = NULL;
    int n = job_standing(j, &events, edits);
    if (n < edits)
        return base_fail(why, BASE_UNKNOWN, "Only %d edit%s stand in this job.", n, n == 1 ? "" : "s");
    return job_after(j, edits > 0 ? events[edits - 1].last - 1 : store_event_count(j->store), out, why);
}
