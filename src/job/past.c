/* The job as it was: the history played backwards in a die set of its own.
 *
 * The file keeps what stands now and every event since the beginning; an event taken back change by change
 * gives what stood before it. Events of undo and redo are events like the others here.
 */

#include "job/job.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct job_past {
    struct dieset *d;               /* as it stood before the events gone back so far */
    const struct typed_event *events; /* newest first; ours */
    int n, at;
    BASE_VEC(struct dieset_move) moves;
    struct base_arena memory, step;
};

/* What takes C back. */
static struct typed_change turned(const struct typed_change *c)
{
    return (struct typed_change){c->what, c->what == TYPED_NAME ? c->after : c->item, c->path, c->after,
                                 c->before};
}

static enum base_err fresh(struct job *j, struct dieset **out, struct base_diag *why)
{
    if (!job_saved(j))
        return base_fail(why, BASE_NOT_SAVED,
                         "Some edits are not saved yet: save them to another place first.");
    enum base_err err = dieset_new(j->handbook, j->tables, out, why);
    if (!err)
        err = job_load_into(j, *out, why);
    if (err) {
        dieset_free(*out);
        *out = NULL;
    }
    return err;
}

/* ---- revisions ---- */

/* The event that brought revision LETTER in, the first where it stood there at the beginning; -1: there is no
   such revision. */
static long event_of(struct job *j, const char *letter, struct base_diag *why)
{
    struct review_revision r, latest;
    const struct typed_event *events;
    if (!review_find(j->dieset, letter, &r)) {
        if (review_latest(j->dieset, &latest))
            base_fail(why, BASE_UNKNOWN, "The job has no revision \"%s\"; the latest is %s.", letter,
                      latest.letter);
        else
            base_fail(why, BASE_UNKNOWN, "The job has no revision \"%s\": none was issued yet.", letter);
        return -1;
    }
    int n = store_history(j->store, &events, INT_MAX);
    for (int i = 0; i < n; i++)
        for (int c = 0; c < events[i].n_changes; c++) {
            const struct typed_change *change = &events[i].changes[c];
            if (change->what == TYPED_ITEM && !change->before && strcmp(change->item, r.name) == 0)
                return events[i].seq;
        }
    return 1;
}

/* Of N events that came after event AFTER, the newest first: which stand, or change what stood then? */
static void mark_standing(const struct typed_event *events, int n, long after, bool *stands)
{
    enum { ODD = 1, TOLD = 2 };
    long newest = n ? events[0].seq : 0;
    unsigned char *steps = base_alloc((size_t)newest + 1); /* back and forth, of each edit */
    for (int i = 0; i < n; i++)
        if (!events[i].edit)
            steps[events[i].of] ^= ODD;
    for (int i = 0; i < n; i++) {
        unsigned char *step = &steps[events[i].of];
        if (events[i].edit) {
            stands[i] = !events[i].undone;
            continue;
        }
        stands[i] = *step == ODD && events[i].of <= after; /* the latest step tells it */
        *step |= TOLD;
    }
    free(steps);
}

int job_since(struct job *j, const char *letter, const struct typed_event **events, struct base_diag *why)
{
    long after = event_of(j, letter, why);
    if (after < 0)
        return -1;
    int n = store_history(j->store, events, (int)(store_event_count(j->store) - after)), kept = 0;
    /* a moment ago, and each stays or goes to the front */
    struct typed_event *lent = (struct typed_event *)*events;
    bool *stands = base_alloc((size_t)n + 1);
    mark_standing(lent, n, after, stands);
    for (int i = 0; i < n; i++)
        if (stands[i])
            lent[kept++] = lent[i];
    free(stands);
    return kept;
}

/* What was taken in for somebody else is new to whoever did that as well. */
static bool is_news(const struct job *j, const struct typed_event *e)
{
    for (int i = 0; i < e->n_changes; i++)
        if (e->changes[i].what == TYPED_ENTRY && strcmp(e->changes[i].path, "note") == 0)
            return true;
    return !job_same_person(e->who ? e->who : "", j->who);
}

int job_new_since(struct job *j, long seen, const struct typed_event **events)
{
    long all = store_event_count(j->store);
    int n = seen < 0 || seen >= all ? 0 : store_history(j->store, events, (int)(all - seen)), kept = 0;
    struct typed_event *lent = n ? (struct typed_event *)*events : NULL; /* a moment ago */
    for (int i = 0; i < n; i++)
        if (is_news(j, &lent[i]))
            lent[kept++] = lent[i];
    return kept;
}

static enum base_err hold_against(const struct dieset *d, const char *letter, const char *sum,
                                  struct base_diag *why)
{
    char is[20];
    char *text = dieset_text_write_set(d);
    snprintf(is, sizeof is, "%016llx", (unsigned long long)base_hash(text, strlen(text)));
    free(text);
    if (strcmp(is, sum) == 0)
        return BASE_OK;
    return base_fail(why, BASE_UNKNOWN,
                     "Revision %s cannot be shown from this file: it was begun from a text in which the job "
                     "had been edited "
                     "since, and the job as it was issued stands in the file in which that was done.",
                     letter);
}

bool job_is_issued(struct job *j)
{
    struct review_revision r;
    return review_latest(j->dieset, &r) && hold_against(j->dieset, r.letter, r.sum, NULL) == BASE_OK;
}

int job_edits_since(struct job *j, const char *letter)
{
    const struct typed_event *events;
    int edits = 0, n = job_since(j, letter, &events, NULL);
    for (int i = 0; i < n; i++)
        edits += !job_only_said(j, &events[i]);
    return edits;
}

/* Items that WAS has are called what they are called now: a rename is none of what differs. */
static void rename_as_now(struct job *j, long event, struct job *was)
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, (int)(store_event_count(j->store) - event));
    for (int i = n; i-- > 0;)
        for (int c = 0; c < e[i].n_changes; c++) {
            const struct typed_change *x = &e[i].changes[c];
            struct base_diag ignored = {0};
            if (x->what != TYPED_NAME || dieset_find_item(was->dieset, x->item) < 0)
                continue;
            if (job_rename(was, x->item, x->after, &ignored) == BASE_OK)
                (void)!job_take(was, &ignored);
        }
    findings_judge(was->findings, NULL);
}

enum base_err job_revision(struct job *j, const char *letter, struct job **out, struct base_diag *why)
{
    struct review_revision r;
    *out = NULL;
    long event = event_of(j, letter, why);
    if (event < 0)
        return BASE_UNKNOWN;
    enum base_err err = job_after(j, event, out, why);
    if (err)
        return err;
    review_find(j->dieset, letter, &r);
    err = hold_against((*out)->dieset, r.letter, r.sum, why);
    if (err) {
        job_close(*out);
        *out = NULL;
    }
    return err;
}

enum base_err job_revision_as_now(struct job *j, const char *letter, struct job **out, struct base_diag *why)
{
    enum base_err err = job_revision(j, letter, out, why);
    if (!err)
        rename_as_now(j, event_of(j, letter, why), *out);
    return err;
}

/* ---- event by event ---- */

enum base_err job_past_new(struct job *j, struct job_past **out, struct base_diag *why)
{
    struct job_past *p = base_alloc(sizeof *p);
    const struct typed_event *events;
    *out = NULL;
    enum base_err err = fresh(j, &p->d, why);
    if (err) {
        free(p);
        return err;
    }
    p->n = store_history(j->store, &events, INT_MAX);
    struct typed_event *mine = base_arena_alloc(&p->memory, (size_t)(p->n + 1) * sizeof *mine);
    for (int i = 0; i < p->n; i++)
        mine[i] = job_copy_event(&p->memory, &events[i]);
    p->events = mine;
    *out = p;
    return BASE_OK;
}

void job_past_free(struct job_past *p)
{
    if (!p)
        return;
    dieset_free(p->d);
    base_vec_done(&p->moves);
    base_arena_done(&p->memory);
    base_arena_done(&p->step);
    free(p);
}

bool job_past_back(struct job_past *p, struct job_past_step *out)
{
    *out = (struct job_past_step){0};
    if (p->at == p->n - 1) { /* the one with which the job begins: nothing stood before it */
        out->event = &p->events[p->at++];
        return true;
    }
    if (p->at >= p->n)
        return false;
    BASE_VEC(struct typed_change) changes = {0};
    const struct typed_event *e = &p->events[p->at];
    for (int c = e->n_changes; c-- > 0;) {
        struct typed_change change = turned(&e->changes[c]);
        base_vec_push(&changes, change);
    }
    enum base_err err = dieset_try(p->d, changes.at, (int)changes.count, NULL);
    base_vec_done(&changes);
    if (err)
        return false;
    const struct dieset_move *moves;
    int n = dieset_moves(p->d, &moves);
    base_arena_done(&p->step);
    p->moves.count = 0;
    for (int i = 0; i < n; i++) {
        struct dieset_move m = moves[i];
        m.path = base_arena_copy(&p->step, m.path);
        m.was = moves[i].is;
        m.is = moves[i].was;
        base_vec_push(&p->moves, m);
    }
    dieset_keep(p->d);
    p->at++;
    *out = (struct job_past_step){e, p->moves.at, n};
    return true;
}
