/* join.c - two copies of a job that were edited apart: what differs
 *
 * Both files begin with the same edits, which their sums tell. What both had then is put in memory beside
 * what each has now, the names of all three are brought in line, and whatever differs is told once, net, with
 * who changed it last. Where the two were joined before, what was settled then is what both had.
 */

#include "job/join.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool join_is_words(const struct job *j, int item) { return item >= 0 && dieset_item_words(j->dieset, item); }

static bool same(const char *a, const char *b) { return a && b ? strcmp(a, b) == 0 : a == b; }

/* ---- since when ------------------------------------------------------------------------------ */

/* How many edits both begin with. */
static long common_edits(struct job *a, struct job *b)
{
    long n = store_event_count(a->store), m = store_event_count(b->store), low = 0, high = n < m ? n : m;
    while (low < high) {
        long middle = (low + high + 1) / 2;
        if (store_event_sum(a->store, middle) == store_event_sum(b->store, middle))
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

/* Up to which edit of OTHER, LAST at the most, J was joined with it; *AT: the edit of J that says so; 0: it
 * was not. */
static long joined_up_to(struct job *j, struct job *other, long last, long *at)
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, INT_MAX);
    for (int i = 0; i < n; i++)
        for (int c = 0; c < e[i].n_changes; c++) {
            const struct typed_change *x = &e[i].changes[c];
            long edit;
            unsigned long long sum;
            if (x->what != TYPED_ENTRY || strcmp(x->path, "copy") != 0 || !x->after ||
                strncmp(x->item, DIESET_JOINED, strlen(DIESET_JOINED)) != 0 ||
                sscanf(x->after, "%ld %llx", &edit, &sum) != 2 || edit > last ||
                store_event_sum(other->store, edit) != sum)
                continue;
            *at = e[i].seq;
            return edit;
        }
    return 0;
}

/* From which edits on each has something of its own: both left the same. *SIDE: whose state that was. */
static void parted_at(struct job_join *jj, long from[JOB_SIDES], enum job_side *side)
{
    long at_mine = 0, at_theirs = 0, theirs = joined_up_to(jj->mine, jj->theirs, jj->upto, &at_mine),
         mine = joined_up_to(jj->theirs, jj->mine, store_event_count(jj->mine->store), &at_theirs);
    if (at_theirs > jj->upto)
        mine = 0;
    from[JOB_MINE] = from[JOB_THEIRS] = jj->common;
    *side = JOB_MINE;
    if (mine && mine >= at_mine) { /* theirs took in mine, after mine had taken in theirs, if it did */
        from[JOB_MINE] = mine;
        from[JOB_THEIRS] = at_theirs;
    } else if (theirs) {
        from[JOB_MINE] = at_mine;
        from[JOB_THEIRS] = theirs;
        *side = JOB_THEIRS;
    }
}

static void keep_events(struct job_join *jj, enum job_side s, struct job *j, long last)
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, (int)(store_event_count(j->store) - jj->common)), kept = 0;
    struct typed_event *copies = base_arena_alloc(&jj->memory, (size_t)(n + 1) * sizeof *copies);
    for (int i = 0; i < n; i++)
        if (e[i].seq <= last)
            copies[kept++] = job_copy_event(&jj->memory, &e[i]);
    jj->events[s] = copies;
    jj->n_events[s] = kept;
}

/* ---- names ----------------------------------------------------------------------------------- */

/* What item NAME of edit AFTER is called now. */
static const char *name_now(const struct job_join *jj, enum job_side s, long after, const char *name)
{
    for (int i = jj->n_events[s]; i-- > 0;)
        for (int c = 0; c < jj->events[s][i].n_changes; c++) {
            const struct typed_change *x = &jj->events[s][i].changes[c];
            if (jj->events[s][i].seq > after && x->what == TYPED_NAME && strcmp(x->item, name) == 0)
                name = x->after;
        }
    return name;
}

/* What item NAME of edit UPTO was called when the copies parted; NULL: it came since. */
static const char *name_then(const struct job_join *jj, enum job_side s, long upto, const char *name)
{
    for (int i = 0; i < jj->n_events[s]; i++)
        for (int c = jj->events[s][i].n_changes; c-- > 0;) {
            const struct typed_change *x = &jj->events[s][i].changes[c];
            if (jj->events[s][i].seq > upto)
                continue;
            if (x->what == TYPED_NAME && strcmp(x->after, name) == 0)
                name = x->item;
            if (x->what == TYPED_ITEM && !x->before && strcmp(x->item, name) == 0)
                return NULL;
        }
    return name;
}

static const char *entry(const struct job *j, int item, const char *path)
{
    const char *text = dieset_entry(j->dieset, item, path);
    return text ? text : "";
}

/* Were words A of mine and B of theirs, added in each, said once: by the same at the same moment, of the
   same finding? */
static bool are_one(const struct job *a, int i, const struct job *b, int k)
{
    static const char *const lines[] = {"by", "on", "says", "letter", "sum", "copy"};
    if (dieset_item_kind(a->dieset, i) != dieset_item_kind(b->dieset, k))
        return false;
    const char *finding = entry(a, i, "finding");
    const struct handbook_kind *kind = handbook_kind(a->handbook, dieset_item_kind(a->dieset, i));
    if (strcmp(kind->name, DIESET_WAIVER) == 0)
        return strcmp(finding, entry(b, k, "finding")) == 0;
    for (size_t l = 0; l < COUNT_OF(lines); l++)
        if (strcmp(entry(a, i, lines[l]), entry(b, k, lines[l])) != 0)
            return false;
    return true;
}

/* The row of an item that both added; NULL: mine has none of it. */
static struct join_row *added_in_both(struct job_join *jj, int item)
{
    const struct job *a = jj->copy[JOB_MINE], *b = jj->copy[JOB_THEIRS];
    bool words = join_is_words(b, item);
    for (size_t i = 0; i < jj->rows.count; i++) {
        struct join_row *r = &jj->rows.at[i];
        if (r->was || !r->own[JOB_MINE] || r->own[JOB_THEIRS])
            continue;
        int mine = dieset_find_item(a->dieset, r->own[JOB_MINE]);
        bool both_words = words && join_is_words(a, mine);
        if (both_words ? are_one(a, mine, b, item)
                       : strcmp(r->own[JOB_MINE], dieset_item_name(b->dieset, item)) == 0 &&
                             words == join_is_words(a, mine))
            return r;
    }
    return NULL;
}

/* What side S calls item I of what both had, which stood so in the file of side BASE; NULL: it has gone.
   Words keep no name: both count them, and they are known by what they say. */
static const char *called_now(struct job_join *jj, enum job_side s, enum job_side base,
                              const long from[JOB_SIDES], int i)
{
    struct job *j = jj->copy[s];
    const char *was = dieset_item_name(jj->base->dieset, i), *then = NULL;
    if (join_is_words(jj->base, i)) {
        for (int k = 0; k < dieset_item_count(j->dieset); k++)
            if (join_is_words(j, k) && are_one(jj->base, i, j, k))
                return dieset_item_name(j->dieset, k);
        return NULL;
    }
    if (s != base)
        then = name_then(jj, base, from[base], was);
    const char *now = then ? name_now(jj, s, jj->common, then) : name_now(jj, s, from[s], was);
    return dieset_find_item(j->dieset, now) >= 0 ? now : NULL;
}

static void common_rows(struct job_join *jj, enum job_side base, const long from[JOB_SIDES])
{
    struct dieset *d = jj->base->dieset;
    for (int i = 0; i < dieset_item_count(d); i++) {
        struct join_row r = {0};
        r.was = r.name = base_arena_copy(&jj->memory, dieset_item_name(d, i));
        for (int s = 0; s < JOB_SIDES; s++)
            r.own[s] = base_arena_copy(&jj->memory, called_now(jj, (enum job_side)s, base, from, i));
        base_vec_push(&jj->rows, r);
    }
}

static bool has_row(const struct job_join *jj, enum job_side s, const char *name)
{
    bool found = false;
    for (size_t i = 0; i < jj->rows.count && !found; i++)
        found = jj->rows.at[i].own[s] && strcmp(jj->rows.at[i].own[s], name) == 0;
    return found;
}

static void added_rows(struct job_join *jj, enum job_side s)
{
    struct dieset *d = jj->copy[s]->dieset;
    for (int i = 0; i < dieset_item_count(d); i++) {
        const char *name = base_arena_copy(&jj->memory, dieset_item_name(d, i));
        if (has_row(jj, s, name))
            continue;
        struct join_row *both = s == JOB_THEIRS ? added_in_both(jj, i) : NULL, r = {.name = name};
        r.own[s] = name;
        if (both)
            both->own[s] = name;
        else
            base_vec_push(&jj->rows, r);
    }
}

static bool is_name_of_other(const struct job_join *jj, const struct join_row *row, const char *name)
{
    for (size_t i = 0; i < jj->rows.count; i++) {
        const struct join_row *r = &jj->rows.at[i];
        if (r != row && (strcmp(r->name, name) == 0 || same(r->own[JOB_MINE], name)))
            return true;
    }
    return false;
}

/* "remark_3": free in both. */
static const char *free_words_name(struct job_join *jj, const struct join_row *row)
{
    int item = dieset_find_item(jj->copy[JOB_THEIRS]->dieset, row->own[JOB_THEIRS]);
    const struct handbook_kind *k = job_kind_of(jj->copy[JOB_THEIRS], item);
    for (int n = 1;; n++) {
        const char *name = base_arena_format(&jj->memory, "%s_%d", k->name, n);
        if (!is_name_of_other(jj, row, name) && !has_row(jj, JOB_THEIRS, name))
            return name;
    }
}

/* What each row is called in all three. */
static enum base_err settle_names(struct job_join *jj, struct base_diag *why)
{
    for (size_t i = 0; i < jj->rows.count; i++) {
        struct join_row *r = &jj->rows.at[i];
        r->name = r->own[JOB_MINE] ? r->own[JOB_MINE] : r->was ? r->was : r->own[JOB_THEIRS];
    }
    for (size_t i = 0; i < jj->rows.count; i++) {
        struct join_row *r = &jj->rows.at[i];
        if (r->own[JOB_MINE] || !r->own[JOB_THEIRS] || r->was || !is_name_of_other(jj, r, r->name))
            continue;
        int item = dieset_find_item(jj->copy[JOB_THEIRS]->dieset, r->own[JOB_THEIRS]);
        if (!join_is_words(jj->copy[JOB_THEIRS], item))
            return base_fail(why, BASE_REFUSED,
                             "%s is one item here and another one in the other copy: rename one of the two, "
                             "then join again.",
                             r->name);
        r->name = free_words_name(jj, r);
    }
    return BASE_OK;
}

/* Words keep no formula, but an answer names what it answers. */
static enum base_err rename_words(struct job *j, const char *from, const char *to, struct base_diag *why)
{
    struct job_changes c = {0};
    job_changes_add(&c, TYPED_NAME, from, "", from, to);
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        if (join_is_words(j, i) && same(dieset_entry(j->dieset, i, "answers"), from))
            job_changes_add(&c, TYPED_ENTRY, dieset_item_name(j->dieset, i), "answers", from, to);
    return job_try(j, &c, base_copy(to), why);
}

static enum base_err rename_in(struct job *j, const char *from, const char *to, struct base_diag *why)
{
    bool words = join_is_words(j, dieset_find_item(j->dieset, from));
    enum base_err err = words ? rename_words(j, from, to, why) : job_rename(j, from, to, why);
    return err ? err : job_take(j, why);
}

/* Bring the items of J, called OF(row) there, to the names of the rows. Who holds a name that another one is
   to have goes first. */
static enum base_err rename_all(struct job_join *jj, struct job *j, const char *const *of,
                                struct base_diag *why)
{
    size_t n = jj->rows.count, left = n;
    bool *done = base_alloc(n + 1);
    enum base_err err = BASE_OK;
    for (bool more = true; more && !err;) {
        more = false;
        for (size_t i = 0; i < n && !err; i++) {
            const char *to = jj->rows.at[i].name;
            if (done[i] || (of[i] && strcmp(of[i], to) != 0 && dieset_find_item(j->dieset, to) >= 0))
                continue;
            if (of[i] && strcmp(of[i], to) != 0)
                err = rename_in(j, of[i], to, why);
            done[i] = more = true;
            left--;
        }
    }
    free(done);
    if (!err && left)
        err = base_fail(why, BASE_REFUSED,
                        "Items were renamed to each other's names: rename them one by one, then join.");
    return err;
}

static enum base_err rename_copies(struct job_join *jj, struct base_diag *why)
{
    size_t n = jj->rows.count;
    const char **of = base_alloc((n + 1) * sizeof *of);
    enum base_err err = BASE_OK;
    for (int s = 0; s <= JOB_SIDES && !err; s++) {
        struct job *j = s == JOB_SIDES ? jj->base : jj->copy[s];
        for (size_t i = 0; i < n; i++)
            of[i] = s == JOB_SIDES ? jj->rows.at[i].was : jj->rows.at[i].own[s];
        err = rename_all(jj, j, of, why);
    }
    free(of);
    return err;
}

/* ---- who changed it last ----------------------------------------------------------------------- */

static bool touches(const struct typed_change *x, const struct join_unit *u, const char *name)
{
    bool here = strcmp(x->item, name) == 0;
    switch (u->what) {
    case JOIN_RENAME:
        return x->what == TYPED_NAME && strcmp(x->after, name) == 0;
    case JOIN_ORDER:
        return x->what == TYPED_PLACE;
    case JOIN_ENTRY:
        return here && (x->what == TYPED_ITEM ||
                        (x->what == TYPED_ENTRY && (!*u->path || typed_belongs(x->path, u->path))));
    default:
        return here && (x->what == TYPED_ITEM || x->what == TYPED_ENTRY);
    }
}

/* The last edit of side S that changed U, whose item is called NAME there. NULL: none since they parted. */
static const struct typed_event *last_of(const struct job_join *jj, enum job_side s,
                                         const struct join_unit *u, const char *name)
{
    for (int i = 0; i < jj->n_events[s]; i++) {
        const struct typed_event *e = &jj->events[s][i];
        const char *before = name;
        for (int c = e->n_changes; c-- > 0;) {
            const struct typed_change *x = &e->changes[c];
            if (touches(x, u, before))
                return e;
            if (x->what == TYPED_NAME && strcmp(x->after, before) == 0)
                before = x->item;
        }
        name = before;
    }
    return NULL;
}

/* ---- what differs ---------------------------------------------------------------------------- */

/* What stands at PATH belongs together: an outline, a list of sizes, a value with its reason. */
static const char *part_of(struct job_join *jj, const char *path)
{
    struct typed_path p = typed_path_read(path);
    bool all = p.place == TYPED_AT_LINE || p.place == TYPED_AT_ROW;
    return base_arena_copy_n(&jj->memory, path, all ? strcspn(path, "/") : p.base);
}

const char *join_text(struct job_join *jj, struct job *j, int item, const char *path)
{
    const struct typed_entry *e;
    struct base_text out = {0};
    int n = item < 0 ? 0 : dieset_entries(j->dieset, item, &e);
    for (int i = 0; i < n; i++) {
        if (*path && !typed_belongs(e[i].path, path))
            continue;
        bool own = *path && strcmp(e[i].path, path) == 0;
        const char *under = own ? "" : *path ? e[i].path + strlen(path) + 1 : e[i].path;
        base_text_addf(&out, "%s%s%s%s", out.length ? "; " : "", under, own ? "" : " ", e[i].text);
    }
    const char *text = out.length ? base_arena_copy(&jj->memory, base_text_get(&out)) : NULL;
    base_text_done(&out);
    return text;
}

/* What is said in words, as people tell it: "remark on posts: longer is safer". */
static const char *shown(struct job_join *jj, struct job *j, int item, const char *text)
{
    if (!text || !join_is_words(j, item))
        return text;
    const char *on = entry(j, item, "finding"), *letter = entry(j, item, "letter"),
               *done = entry(j, item, "done_by"), *gone = entry(j, item, "because");
    on = *on ? on : entry(j, item, "item");
    return base_arena_format(&jj->memory, "%s%s%s: %s%s%s%s%s", *letter ? letter : "", *on ? "on " : "", on,
                             entry(j, item, "says"), *done ? "; done, says " : "", done,
                             *gone ? "; withdrawn: " : "", gone);
}

static void add_unit(struct job_join *jj, struct join_unit u, bool by_mine, bool by_theirs)
{
    const struct join_row *r = u.row < 0 ? NULL : &jj->rows.at[u.row];
    u.title = "";
    for (int s = 0; s < JOB_SIDES; s++) {
        const char *own = r ? r->own[s] ? r->own[s] : r->name : "";
        const struct typed_event *e = (s == JOB_MINE ? by_mine : by_theirs)
                                          ? last_of(jj, (enum job_side)s, &u, own)
                                          : NULL;
        u.told.who[s] = e ? e->who : "";
        u.told.when[s] = e ? e->when : "";
        if (s == JOB_THEIRS && e) {
            u.seq = e->seq;
            u.title = e->title;
        }
    }
    u.told.clash = by_mine && by_theirs;
    u.told.side = u.told.clash ? -1 : by_theirs ? JOB_THEIRS : JOB_MINE;
    base_vec_push(&jj->units, u);
}

/* A value of an item that is in both, or, PATH "", all of it. */
static void compare_part(struct job_join *jj, int row, const int item[], int was, const char *path)
{
    struct join_unit u = {.what = JOIN_ENTRY, .row = row, .path = path};
    const char *mine = join_text(jj, jj->copy[JOB_MINE], item[JOB_MINE], path),
               *theirs = join_text(jj, jj->copy[JOB_THEIRS], item[JOB_THEIRS], path),
               *both = join_text(jj, jj->base, was, path);
    if (same(mine, theirs))
        return;
    char *name = typed_known(jj->rows.at[row].name, path);
    u.told = (struct job_joined){.name = base_arena_copy(&jj->memory, name)};
    free(name);
    u.told.was = shown(jj, jj->base, was, both);
    u.told.is[JOB_MINE] = shown(jj, jj->copy[JOB_MINE], item[JOB_MINE], mine);
    u.told.is[JOB_THEIRS] = shown(jj, jj->copy[JOB_THEIRS], item[JOB_THEIRS], theirs);
    add_unit(jj, u, !same(mine, both), !same(theirs, both));
}

static bool differ(struct job_join *jj, const int item[], int was, const char *path)
{
    const char *mine = join_text(jj, jj->copy[JOB_MINE], item[JOB_MINE], path),
               *theirs = join_text(jj, jj->copy[JOB_THEIRS], item[JOB_THEIRS], path);
    return !same(mine, theirs) || !same(mine, join_text(jj, jj->base, was, path));
}

/* Each value of either once. Where the pattern was changed, all that lays the item out is one thing. */
static void compare_values(struct job_join *jj, int row, const int item[], int was)
{
    struct base_map seen = {0};
    bool laid = dieset_entry(jj->copy[JOB_MINE]->dieset, item[JOB_MINE], "lay") &&
                differ(jj, item, was, "lay");
    bool pattern = laid && !(same(dieset_entry(jj->copy[JOB_MINE]->dieset, item[JOB_MINE], "lay"),
                                  dieset_entry(jj->copy[JOB_THEIRS]->dieset, item[JOB_THEIRS], "lay")) &&
                             was >= 0 &&
                             same(dieset_entry(jj->copy[JOB_MINE]->dieset, item[JOB_MINE], "lay"),
                                  dieset_entry(jj->base->dieset, was, "lay")));
    for (int s = 0; s < JOB_SIDES; s++) {
        const struct typed_entry *e;
        int n = dieset_entries(jj->copy[s]->dieset, item[s], &e);
        for (int i = 0; i < n; i++) {
            bool lies = strcmp(e[i].path, "lay") == 0 || typed_is_laid(e[i].path);
            const char *part = pattern && lies ? "lay" : part_of(jj, e[i].path);
            if (strcmp(part, "lay") == 0 && !pattern)
                continue; /* all of the same pattern: its measures tell it */
            if (base_map_get(&seen, part, NULL))
                continue;
            base_map_put(&seen, part, 1);
            compare_part(jj, row, item, was, part);
        }
    }
    base_map_done(&seen);
}

static const char *kind_title(const struct job *j, int item)
{
    int k = dieset_item_kind(j->dieset, item);
    return k < 0 ? "factor" : handbook_kind(j->handbook, k)->name;
}

/* The item is not in both any more, or only in theirs. */
static void compare_there(struct job_join *jj, int row, const int item[], int was)
{
    enum job_side there = item[JOB_MINE] >= 0 ? JOB_MINE : JOB_THEIRS;
    struct job *j = jj->copy[there];
    const char *text = join_text(jj, j, item[there], ""), *both = join_text(jj, jj->base, was, "");
    bool changed = was >= 0 && !same(text, both);
    struct join_unit u = {.what = there == JOB_MINE ? JOIN_REMOVE : JOIN_ADD, .row = row, .path = ""};
    u.told = (struct job_joined){.name = jj->rows.at[row].name};
    u.told.was = was < 0 ? NULL : kind_title(j, item[there]);
    const char *kind = kind_title(j, item[there]);
    const struct typed_entry *e;
    int typed = dieset_entries(j->dieset, item[there], &e);
    if (join_is_words(j, item[there]))
        u.told.is[there] = base_arena_format(&jj->memory, "%s %s", kind, shown(jj, j, item[there], text));
    else
        u.told.is[there] = base_arena_format(&jj->memory, "%s, %d typed%s", kind, typed,
                                             changed ? ", changed" : "");
    bool revision = there == JOB_THEIRS && job_is_revision(j, item[there]);
    struct review_revision known;
    if (revision && *entry(j, item[there], "withdrawn") &&
        review_find(jj->copy[JOB_MINE]->dieset, entry(j, item[there], "letter"), &known))
        return; /* the letter stands for what was issued here */
    u.issues = revision && !*entry(j, item[there], "withdrawn");
    if (was < 0)
        add_unit(jj, u, there == JOB_MINE, there == JOB_THEIRS);
    else
        add_unit(jj, u, there == JOB_THEIRS || changed, there == JOB_MINE || changed);
}

/* That the two were joined is each copy's own word. */
static bool is_joined(const struct job *j, int item)
{
    return item >= 0 && strcmp(kind_title(j, item), DIESET_JOINED) == 0;
}

static void compare_name(struct job_join *jj, int row)
{
    const struct join_row *r = &jj->rows.at[row];
    const char *mine = r->own[JOB_MINE], *theirs = r->own[JOB_THEIRS];
    struct join_unit u = {.what = JOIN_RENAME, .row = row, .path = ""};
    if (strcmp(mine, theirs) == 0)
        return;
    u.told = (struct job_joined){.name = base_arena_format(&jj->memory, "name of %s", r->was), .was = r->was};
    u.told.is[JOB_MINE] = mine;
    u.told.is[JOB_THEIRS] = theirs;
    add_unit(jj, u, strcmp(mine, r->was) != 0, strcmp(theirs, r->was) != 0);
}

static void compare_row(struct job_join *jj, int row)
{
    const struct join_row *r = &jj->rows.at[row];
    int item[JOB_SIDES], was = dieset_find_item(jj->base->dieset, r->name);
    for (int s = 0; s < JOB_SIDES; s++)
        item[s] = dieset_find_item(jj->copy[s]->dieset, r->name);
    if (is_joined(jj->copy[JOB_MINE], item[JOB_MINE]) || is_joined(jj->copy[JOB_THEIRS], item[JOB_THEIRS]))
        return;
    if (r->was && item[JOB_MINE] >= 0 && item[JOB_THEIRS] >= 0 && !join_is_words(jj->base, was))
        compare_name(jj, row);
    if (item[JOB_MINE] < 0 && item[JOB_THEIRS] < 0)
        return;
    if (item[JOB_MINE] < 0 || item[JOB_THEIRS] < 0) {
        compare_there(jj, row, item, was);
        return;
    }
    const struct handbook_kind *k = job_kind_of(jj->copy[JOB_MINE], item[JOB_MINE]);
    bool whole = (k && k->n_words) || (was < 0 && k && !k->single);
    if (whole)
        compare_part(jj, row, item, was, "");
    else
        compare_values(jj, row, item, was);
}

/* ---- the order of what is in all three ---- */

/* The names of J's items that all three have, in its order. */
static const char *common_order(struct job_join *jj, const struct job *j)
{
    struct base_text out = {0};
    for (int i = 0; i < dieset_item_count(j->dieset); i++) {
        const char *name = dieset_item_name(j->dieset, i);
        bool all = !join_is_words(j, i) && dieset_find_item(jj->base->dieset, name) >= 0;
        for (int s = 0; s < JOB_SIDES && all; s++)
            all = dieset_find_item(jj->copy[s]->dieset, name) >= 0;
        if (all)
            base_text_addf(&out, "%s%s", out.length ? " " : "", name);
    }
    const char *text = base_arena_copy(&jj->memory, base_text_get(&out));
    base_text_done(&out);
    return text;
}

static void compare_order(struct job_join *jj)
{
    struct join_unit u = {.what = JOIN_ORDER, .row = -1, .path = ""};
    const char *mine = common_order(jj, jj->copy[JOB_MINE]), *theirs = common_order(jj, jj->copy[JOB_THEIRS]),
               *both = common_order(jj, jj->base);
    if (strcmp(mine, theirs) == 0)
        return;
    u.told = (struct job_joined){.name = "order of items", .was = both};
    u.told.is[JOB_MINE] = mine;
    u.told.is[JOB_THEIRS] = theirs;
    add_unit(jj, u, strcmp(mine, both) != 0, strcmp(theirs, both) != 0);
}

/* ---- revisions ------------------------------------------------------------------------------- */

static const char *issued_by(struct job_join *jj, enum job_side s, struct review_revision *out)
{
    struct review_revision r[100];
    struct job *j = jj->copy[s];
    int n = review_revisions(j->dieset, r, COUNT_OF(r));
    for (int i = n < (int)COUNT_OF(r) ? n : (int)COUNT_OF(r); i-- > 0;)
        if (!*r[i].withdrawn && dieset_find_item(jj->base->dieset, r[i].name) < 0 &&
            dieset_find_item(jj->copy[!s]->dieset, r[i].name) < 0) {
            *out = r[i];
            return r[i].letter;
        }
    return NULL;
}

/* Nothing that computes was changed in mine since the two parted. */
static bool mine_is_as_it_was(struct job_join *jj)
{
    char *mine = dieset_text_write_set(jj->copy[JOB_MINE]->dieset),
         *was = dieset_text_write_set(jj->base->dieset);
    bool is = strcmp(mine, was) == 0;
    free(mine);
    free(was);
    return is;
}

static enum base_err check_revisions(struct job_join *jj, struct base_diag *why)
{
    struct review_revision mine, theirs;
    bool here = issued_by(jj, JOB_MINE, &mine), there = issued_by(jj, JOB_THEIRS, &theirs);
    if (here && there)
        return base_fail(why, BASE_REFUSED,
                         "Both copies were issued since they parted: %s here (%s, %.10s), %s there (%s, "
                         "%.10s). Withdraw the one that nothing is built by, then join.",
                         mine.letter, mine.by, mine.when, theirs.letter, theirs.by, theirs.when);
    if (there && !mine_is_as_it_was(jj))
        return base_fail(
            why, BASE_REFUSED,
            "Revision %s was issued in the other copy (%s, %.10s), and this one was edited since "
            "they parted: what was issued stands in that copy, so join this one into it.",
            theirs.letter, theirs.by, theirs.when);
    return BASE_OK;
}

/* The edits that brought the revisions. */
static void find_issues(struct job_join *jj)
{
    for (int i = 0; i < jj->n_events[JOB_THEIRS]; i++) {
        const struct typed_event *e = &jj->events[JOB_THEIRS][i];
        for (size_t u = 0; u < jj->units.count; u++)
            if (jj->units.at[u].issues)
                for (int c = 0; c < e->n_changes; c++)
                    if (e->changes[c].what == TYPED_ITEM && !e->changes[c].before &&
                        same(e->changes[c].item, jj->rows.at[jj->units.at[u].row].own[JOB_THEIRS]))
                        base_vec_push(&jj->issued, *e);
    }
}

/* ---- made ------------------------------------------------------------------------------------ */

static int rank(const struct join_unit *u) { return u->told.clash ? 0 : u->told.side == JOB_THEIRS ? 1 : 2; }

/* Stable: the order of rows is kept. */
static void sort_units(struct job_join *jj)
{
    for (size_t i = 1; i < jj->units.count; i++)
        for (size_t k = i; k > 0 && rank(&jj->units.at[k]) < rank(&jj->units.at[k - 1]); k--) {
            struct join_unit held = jj->units.at[k];
            jj->units.at[k] = jj->units.at[k - 1];
            jj->units.at[k - 1] = held;
        }
}

static void tell_parted(struct job_join *jj, const long from[JOB_SIDES])
{
    const struct typed_event *e;
    int n = store_history(jj->mine->store, &e, (int)(store_event_count(jj->mine->store) - jj->common) + 1),
        since[JOB_SIDES] = {0};
    const char *when = n ? e[n - 1].when : "";
    char *last = base_format("%.10s %.5s", when, strlen(when) > 11 ? when + 11 : "");
    for (int s = 0; s < JOB_SIDES; s++)
        for (int i = 0; i < jj->n_events[s]; i++)
            since[s] += jj->events[s][i].seq > from[s];
    bool joined = from[JOB_MINE] != jj->common || from[JOB_THEIRS] != jj->common;
    jj->parted = base_format("%ld edit%s in common until %s; since %s %d here, %d there", jj->common,
                             jj->common == 1 ? "" : "s", last, joined ? "joined" : "then", since[JOB_MINE],
                             since[JOB_THEIRS]);
    free(last);
}

static enum base_err make_copies(struct job_join *jj, const long from[JOB_SIDES], enum job_side side,
                                 struct base_diag *why)
{
    enum base_err err = job_after(jj->mine, store_event_count(jj->mine->store), &jj->copy[JOB_MINE], why);
    err = err ? err : job_after(jj->theirs, jj->upto, &jj->copy[JOB_THEIRS], why);
    err = err ? err : job_after(side == JOB_MINE ? jj->mine : jj->theirs, from[side], &jj->base, why);
    return err;
}

enum base_err join_make(struct job *mine, struct job *theirs, long upto, const long *given,
                        struct job_join **out, struct base_diag *why)
{
    struct job_join *jj = base_alloc(sizeof *jj);
    long from[JOB_SIDES];
    enum job_side side = JOB_MINE;
    *jj = (struct job_join){.mine = mine, .theirs = theirs};
    jj->seen = store_event_count(mine->store);
    jj->upto = upto ? upto : store_event_count(theirs->store);
    jj->common = common_edits(mine, theirs);
    *out = NULL;
    enum base_err err = BASE_OK;
    if (!jj->common)
        err = base_fail(why, BASE_REFUSED,
                        "These are no copies of one job: they have no edit in common. Compare puts them side "
                        "by side.");
    if (!err) {
        parted_at(jj, from, &side);
        if (given) {
            memcpy(from, given, sizeof from);
            side = JOB_THEIRS;
        }
        keep_events(jj, JOB_MINE, mine, jj->seen);
        keep_events(jj, JOB_THEIRS, theirs, jj->upto);
        err = make_copies(jj, from, side, why);
    }
    if (!err) {
        common_rows(jj, side, from);
        added_rows(jj, JOB_MINE);
        added_rows(jj, JOB_THEIRS);
        err = settle_names(jj, why);
        err = err ? err : rename_copies(jj, why);
    }
    err = err ? err : check_revisions(jj, why);
    for (size_t i = 0; !err && i < jj->rows.count; i++)
        compare_row(jj, (int)i);
    if (!err) {
        compare_order(jj);
        sort_units(jj);
        find_issues(jj);
        tell_parted(jj, from);
        *out = jj;
    } else {
        job_join_free(jj);
    }
    return err;
}

void job_join_free(struct job_join *jj)
{
    if (!jj)
        return;
    for (int s = 0; s < JOB_SIDES; s++)
        job_close(jj->copy[s]);
    job_close(jj->base);
    free(jj->parted);
    base_vec_done(&jj->rows);
    base_vec_done(&jj->units);
    base_vec_done(&jj->issued);
    base_arena_done(&jj->memory);
    free(jj);
}
