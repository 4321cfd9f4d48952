/* Undo and redo: which edit, whether it may be taken back, and by which changes.
 *
 * They are a person's own: the last edit that one made oneself is taken back, wherever it stands among those
 * of others, and somebody else's only when it is asked for by its number. What is said of a job (remarks,
 * waivers, revisions) is no step: it is taken out or withdrawn by an act of its own. What another edit stands
 * on is not pulled out from under it.
 */

#include "job/job.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- which edit ---- */

struct found { struct typed_event event; bool own; struct base_arena memory; };

static bool is_step(const struct job *j, const struct typed_event *e)
{
    return !job_is_beginning(e) && !job_only_said(j, e);
}

/* Edit EDIT; 0: one's own last, else the last of all. False: none. */
static bool find(struct job *j, bool back, long edit, struct found *out)
{
    *out = (struct found){0};
    for (int room = 16;; room = room < INT_MAX / 16 ? room * 16 : INT_MAX) {
        const struct typed_event *e;
        int n = back ? store_standing(j->store, &e, room) : store_taken_back(j->store, &e, room), at = -1;
        for (int i = 0; i < n && !out->own; i++) {
            bool own = job_same_person(back ? e[i].who : e[i].by, j->who);
            if ((edit && e[i].seq != edit) || !is_step(j, &e[i]) || (at >= 0 && !own))
                continue;
            at = i;
            out->own = own;
        }
        if (at < 0 && n == room)
            continue;
        if (at >= 0 && !out->own && !edit && n == room)
            continue; /* one's own may stand further back */
        if (at >= 0)
            out->event = job_copy_event(&out->memory, &e[at]);
        return at >= 0;
    }
}

static enum base_err refuse_none(struct job *j, bool back, long edit, struct base_diag *why)
{
    const struct typed_event *e;
    int n = edit ? store_history(j->store, &e, INT_MAX) : 0;
    for (int i = 0; i < n; i++) {
        if (e[i].seq != edit)
            continue;
        if (!e[i].edit || job_is_beginning(&e[i]))
            return base_fail(why, BASE_REFUSED, "%ld is no edit that is taken back: %.200s.", edit,
                             e[i].title);
        if (job_only_said(j, &e[i]))
            return base_fail(
                why, BASE_REFUSED,
                "%ld is no step of undo: %.200s. A remark or a waiver is taken out, a revision withdrawn.",
                edit, e[i].title);
        return base_fail(why, BASE_UNKNOWN,
                         back ? "%ld is taken back already: %.200s." : "%ld cannot be made again: %.200s.",
                         edit, e[i].title);
    }
    if (edit)
        return base_fail(why, BASE_UNKNOWN, "The history has no edit %ld.", edit);
    if (!back)
        return base_fail(why, BASE_UNKNOWN, "There is nothing to redo.");
    n = store_standing(j->store, &e, 2);
    bool begun = n && job_is_beginning(&e[0]);
    return base_fail(why, BASE_UNKNOWN,
                     begun ? "This is where the job began: there is nothing before it."
                           : "There is nothing to undo: this is where the job began, but for what was said.");
}

bool job_step_next(struct job *j, bool back, long edit, struct job_step *out)
{
    struct found f;
    *out = (struct job_step){0};
    if (!find(j, back, edit, &f))
        return false;
    const struct typed_event *e = &f.event;
    const char *who = back ? e->who : e->by, *when = back ? e->when : e->at;
    *out = (struct job_step){.edit = e->seq, .own = f.own};
    snprintf(out->who, sizeof out->who, "%s", *who ? who : "somebody");
    snprintf(out->when, sizeof out->when, "%.10s %.5s", when, strlen(when) > 11 ? when + 11 : "");
    snprintf(out->title, sizeof out->title, "%s", e->title);
    base_arena_done(&f.memory);
    return true;
}

/* ---- what stands on it ---- */

/* A rename is taken back by renaming: what was typed since is no obstacle, the name follows in it. */
static bool is_rename(const struct typed_event *e)
{
    int names = 0;
    for (int i = 0; i < e->n_changes; i++) {
        const struct typed_change *c = &e->changes[i];
        if (c->what != TYPED_NAME && (c->what != TYPED_ENTRY || !c->before || !c->after))
            return false;
        names += c->what == TYPED_NAME;
    }
    return names == 1;
}

static void follow_text(struct base_arena *m, const char *path, const char **text,
                        const struct typed_change *name)
{
    char *now = *text ? job_text_renamed(path, *text, name->item, name->after) : NULL;
    if (now)
        *text = base_arena_copy(m, now);
    free(now);
}

/* The N changes C as they are to be found after event E, which may rename items. */
static void follow(struct base_arena *m, const struct typed_event *e, struct typed_change *c, int n)
{
    for (int i = 0; i < e->n_changes; i++) {
        const struct typed_change *name = &e->changes[i];
        for (int k = 0; k < n && name->what == TYPED_NAME; k++) {
            if (strcmp(c[k].item, name->item) == 0)
                c[k].item = name->after;
            if (c[k].what == TYPED_ENTRY) {
                follow_text(m, c[k].path, &c[k].before, name);
                follow_text(m, c[k].path, &c[k].after, name);
            }
        }
    }
}

/* Would taking C back take back what L changed later? */
static bool stands_on(const struct typed_change *l, const struct typed_change *c)
{
    bool other = l->what == TYPED_ITEM || l->what == TYPED_NAME;
    if (c->what == TYPED_NAME && other && strcmp(l->what == TYPED_ITEM ? l->item : l->after, c->before) == 0)
        return true; /* the name that it had is another's now */
    if (strcmp(l->item, c->item) != 0)
        return false;
    if (c->what == TYPED_ITEM || l->what == TYPED_ITEM)
        return true;
    if (l->what == TYPED_ENTRY && c->what == TYPED_ENTRY)
        return typed_belongs(l->path, c->path);
    if (l->what == TYPED_ENTRY && c->what == TYPED_ORDER)
        return strcmp(l->path, c->path) == 0 && !l->after;
    return l->what == c->what && (l->what != TYPED_ORDER || strcmp(l->path, c->path) == 0);
}

/* Of a rename the name alone counts, its own and the later one's: the texts follow. */
static bool any_stands_on(struct job *j, const struct typed_event *l, const struct typed_event *e,
                          const struct typed_change *c)
{
    bool later = is_rename(l), rename = is_rename(e);
    for (int i = 0; i < l->n_changes; i++)
        for (int k = 0; k < e->n_changes; k++) {
            bool counts = (!later || l->changes[i].what == TYPED_NAME) &&
                          (!rename || c[k].what == TYPED_NAME);
            if (counts && !job_says(j, l, &l->changes[i]) && !job_says(j, e, &e->changes[k]) &&
                stands_on(&l->changes[i], &c[k]))
                return true;
        }
    return false;
}

/* What is done to the job since event AFTER, the newest first, and of that what stands: copies in M. */
static int events_since(struct job *j, long after, bool standing, const struct typed_event **out,
                        struct base_arena *m)
{
    const struct typed_event *e;
    int n = 0, all = standing ? store_standing(j->store, &e, INT_MAX)
                              : store_history(j->store, &e, (int)(store_event_count(j->store) - after));
    while (n < all && (!standing || e[n].last > after))
        n++;
    struct typed_event *copies = base_arena_alloc(m, (size_t)(n + 1) * sizeof *copies);
    for (int i = 0; i < n; i++)
        copies[i] = job_copy_event(m, &e[i]);
    *out = copies;
    return n;
}

/* Did K, which stands now, stand before the N events of LOG too? Then it was taken back and made again among
 * them, as often as not, and the job is as it left it. */
static bool stood_before(const struct typed_event *k, const struct typed_event *log, int n)
{
    int steps = 0;
    for (int i = 0; i < n; i++) {
        if (log[i].seq == k->seq)
            return false;
        steps += !log[i].edit && log[i].of == k->seq;
    }
    return steps % 2 == 0;
}

/* *CHANGES: those of E as they are to be found now. The last edit that stands on E, NULL: none. */
static const struct typed_event *last_on(struct job *j, const struct typed_event *e,
                                         struct typed_change **changes, struct base_arena *m)
{
    const struct typed_event *log, *standing, *found = NULL;
    int n_standing = events_since(j, e->last, true, &standing, m),
        n = events_since(j, e->last, false, &log, m);
    struct typed_change *c = *changes = base_arena_alloc(m, (size_t)(e->n_changes + 1) * sizeof *c);
    for (int i = 0; i < e->n_changes; i++) {
        c[i] = e->changes[i];
        if (c[i].what == TYPED_NAME)
            c[i].item = c[i].after;
    }
    for (int i = n; i-- > 0;) {
        for (int k = 0; k < n_standing; k++)
            if (standing[k].last == log[i].seq && !stood_before(&standing[k], log, n) &&
                any_stands_on(j, &log[i], e, c))
                found = &standing[k];
        follow(m, &log[i], c, e->n_changes);
    }
    return found;
}

/* ---- taking it back, or again ---- */

static enum base_err refuse_under(struct job *j, bool back, const struct typed_event *e,
                                  const struct typed_event *on, struct base_diag *why)
{
    char *whose = job_same_person(on->who, j->who) ? base_copy("an own")
                                                   : base_format("%s's", *on->who ? on->who : "somebody");
    enum base_err err = base_fail(why, BASE_REFUSED,
                                  "%.200s cannot be %s: %s edit of %.10s %.5s stands on it (%.200s).",
                                  e->title, back ? "taken back" : "made again", whose, on->when,
                                  strlen(on->when) > 11 ? on->when + 11 : "", on->title);
    free(whose);
    return err;
}

static void turned_changes(struct job *j, const struct typed_event *e, const struct typed_change *c,
                           struct job_changes *out)
{
    for (int i = e->n_changes; i-- > 0;) {
        /* others may have shifted it: it goes back to where it stood */
        bool place = c[i].what == TYPED_PLACE || c[i].what == TYPED_ORDER;
        if (!job_says(j, e, &e->changes[i]))
            job_changes_add(out, c[i].what, c[i].item, c[i].path, place ? NULL : c[i].after, c[i].before);
    }
}

/* The try that takes E back, or does again what it took back. */
static enum base_err try_step(struct job *j, bool back, const struct typed_event *e,
                              const struct typed_change *c, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    char *title = base_format("%s: %s", back ? "undone" : "done again", e->title);
    if (is_rename(e)) {
        int i = 0;
        while (c[i].what != TYPED_NAME)
            i++;
        err = job_rename(j, c[i].item, c[i].before, why);
        if (!err) {
            free(j->title);
            j->title = title;
            return err;
        }
        free(title);
        return err;
    }
    struct job_changes turned = {0};
    turned_changes(j, e, c, &turned);
    return job_try(j, &turned, title, why);
}

enum base_err job_step_take(struct job *j, bool back, long edit, struct base_diag *why)
{
    struct found f;
    struct base_diag inner = {0};
    job_drop(j);
    if (!job_saved(j))
        return base_fail(why, BASE_NOT_SAVED,
                         "Some edits are not saved yet: save them to another place first, then %s.",
                         back ? "undo" : "redo");
    if (!find(j, back, edit, &f))
        return refuse_none(j, back, edit, why);
    const struct typed_event *e = &f.event;
    struct typed_change *changes;
    const struct typed_event *on = last_on(j, e, &changes, &f.memory);
    enum base_err err = on ? refuse_under(j, back, e, on, why) : BASE_OK;
    if (!err && try_step(j, back, e, changes, &inner))
        err = base_fail(why, inner.code, "%.200s cannot be %s as the job is now: %s", e->title,
                        back ? "taken back" : "made again", inner.message);
    if (!err)
        err = job_take_step(j, back, e->seq, why);
    base_arena_done(&f.memory);
    return err;
}

enum base_err job_step_refuse(const struct job_step *s, bool back, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "%.200s is no edit of yours: %s %s at %s.", s->title, s->who,
                     back ? "made it" : "took it back", s->when);
}
