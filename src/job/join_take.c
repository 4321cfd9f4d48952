/* join_take.c - two copies of a job brought together: chosen, tried, taken
 *
 * What is chosen is tried in mine's copy in memory; nothing of the file is touched before it is taken. Then
 * it goes into the file edit by edit, in the order in which theirs made them, each as any other edit: tried,
 * judged, one durable event. Where one of them cannot stand without the next, they go in as one.
 */

#include "job/join.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- changes that bring theirs ----------------------------------------------------------------- */

/* The job J, as mine is called, as it becomes: which items it has, in their order. */
struct becoming {
    struct job_join *jj;
    struct job *j;
    struct job_changes *out;
    BASE_VEC(const char *) order;
};

static int place_of(const struct becoming *b, const char *name)
{
    int i = (int)b->order.count;
    while (i-- > 0 && strcmp(b->order.at[i], name) != 0)
        ;
    return i;
}

static void put_at(struct becoming *b, const char *name, int to)
{
    int from = place_of(b, name);
    job_place_at(b->j, b->out, name, from, to);
    memmove(b->order.at + from, b->order.at + from + 1,
            (b->order.count - (size_t)from - 1) * sizeof *b->order.at);
    memmove(b->order.at + to + 1, b->order.at + to, (b->order.count - (size_t)to - 1) * sizeof *b->order.at);
    b->order.at[to] = name;
}

/* All that stands under PATH as theirs has it; the last line first where there are fewer now. */
static void put_part(struct becoming *b, const char *name, const char *path)
{
    struct job *theirs = b->jj->copy[JOB_THEIRS];
    int here = dieset_find_item(b->j->dieset, name), there = dieset_find_item(theirs->dieset, name);
    const struct typed_entry *e;
    int n = here < 0 ? 0 : dieset_entries(b->j->dieset, here, &e);
    for (int i = n; i-- > 0;)
        if ((!*path || typed_belongs(e[i].path, path)) &&
            (there < 0 || !dieset_entry(theirs->dieset, there, e[i].path)))
            job_changes_add(b->out, TYPED_ENTRY, name, e[i].path, e[i].text, NULL);
    n = there < 0 ? 0 : dieset_entries(theirs->dieset, there, &e);
    for (int i = 0; i < n; i++) {
        const char *is = here < 0 ? NULL : dieset_entry(b->j->dieset, here, e[i].path);
        if ((!*path || typed_belongs(e[i].path, path)) && (!is || strcmp(is, e[i].text) != 0))
            job_changes_add(b->out, TYPED_ENTRY, name, e[i].path, is, e[i].text);
    }
}

static const char *kind_word(const struct job *j, int item)
{
    int k = dieset_item_kind(j->dieset, item);
    return k < 0 ? "factor" : handbook_kind(j->handbook, k)->name;
}

/* Below what it stands below in theirs, as far as that is here. */
static void put_item(struct becoming *b, const char *name)
{
    struct dieset *theirs = b->jj->copy[JOB_THEIRS]->dieset;
    int item = dieset_find_item(theirs, name), under = item;
    job_changes_add(b->out, TYPED_ITEM, name, "", NULL, kind_word(b->jj->copy[JOB_THEIRS], item));
    put_part(b, name, "");
    base_vec_push(&b->order, name);
    while (--under >= 0 && place_of(b, dieset_item_name(theirs, under)) < 0)
        ;
    put_at(b, name, under < 0 ? 0 : place_of(b, dieset_item_name(theirs, under)) + 1);
}

static void drop_item(struct becoming *b, const char *name)
{
    int item = dieset_find_item(b->j->dieset, name), last = (int)b->order.count - 1;
    put_part(b, name, ""); /* it is not in theirs */
    put_at(b, name, last);
    job_changes_add(b->out, TYPED_ITEM, name, "", kind_word(b->j, item), NULL);
    b->order.count--;
}

/* What all have stands as in theirs, the rest where it stood among it. */
static void put_order(struct becoming *b, const char *names)
{
    int at = -1;
    for (const char *w = names; *w;) {
        size_t n = strcspn(w, " ");
        char *name = base_copy_n(w, n);
        int from = place_of(b, name);
        if (from >= 0 && from < at)
            put_at(b, b->order.at[from], at);
        else if (from >= 0)
            at = from;
        free(name);
        w += n + strspn(w + n, " ");
    }
}

static void put_unit(struct becoming *b, const struct join_unit *u)
{
    const char *name = u->row < 0 ? "" : b->jj->rows.at[u->row].name;
    switch (u->what) {
    case JOIN_ADD:
        put_item(b, name);
        break;
    case JOIN_ENTRY:
        put_part(b, name, u->path);
        break;
    case JOIN_ORDER:
        put_order(b, u->told.is[JOB_THEIRS]);
        break;
    case JOIN_REMOVE:
        drop_item(b, name);
        break;
    case JOIN_RENAME:
        break; /* the last of all: everything here is called as mine calls it */
    }
}

/* The changes of J for all units that are MARKED: what comes first, what goes last. */
static void make_changes(struct job_join *jj, struct job *j, const bool *marked, struct job_changes *out)
{
    struct becoming b = {.jj = jj, .j = j, .out = out};
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        base_vec_push(&b.order, base_arena_copy(&jj->memory, dieset_item_name(j->dieset, i)));
    for (int what = JOIN_ADD; what <= JOIN_REMOVE; what++)
        for (size_t i = 0; i < jj->units.count; i++)
            if (marked[i] && (int)jj->units.at[i].what == what)
                put_unit(&b, &jj->units.at[i]);
    base_vec_done(&b.order);
}

/* ---- trying ---------------------------------------------------------------------------------- */

/* What is chosen of theirs; yours to free(). */
static bool *chosen(const struct job_join *jj)
{
    bool *marked = base_alloc(jj->units.count + 1);
    for (size_t i = 0; i < jj->units.count; i++)
        marked[i] = jj->units.at[i].told.side == JOB_THEIRS;
    return marked;
}

/* All that is MARKED, as a try of mine's copy; none is open where it would change nothing. */
static enum base_err try_marked(struct job_join *jj, const bool *marked, struct base_diag *why)
{
    struct job *j = jj->copy[JOB_MINE];
    struct job_changes c = {0};
    job_drop(j);
    make_changes(jj, j, marked, &c);
    if (c.at.count)
        return job_try(j, &c, base_copy(""), why);
    job_changes_done(&c);
    return BASE_OK;
}

/* What theirs changed and cannot stand with what is here is asked, with the reason. */
static void find_stuck(struct job_join *jj)
{
    struct base_diag why = {0};
    bool *all = chosen(jj), *marked = base_alloc(jj->units.count + 1);
    if (try_marked(jj, all, &why) != BASE_OK)
        for (int what = JOIN_ADD; what <= JOIN_REMOVE; what++)
            for (size_t i = 0; i < jj->units.count; i++) {
                struct join_unit *u = &jj->units.at[i];
                if (!all[i] || (int)u->what != what)
                    continue;
                marked[i] = true;
                if (try_marked(jj, marked, &why) == BASE_OK)
                    continue;
                marked[i] = false;
                u->told.clash = true;
                u->told.side = -1;
                u->told.stuck = base_arena_copy(&jj->memory, why.message);
            }
    job_drop(jj->copy[JOB_MINE]);
    free(all);
    free(marked);
}

enum base_err job_join_new(struct job *mine, struct job *theirs, struct job_join **out, struct base_diag *why)
{
    enum base_err err = join_make(mine, theirs, 0, NULL, out, why);
    if (!err)
        find_stuck(*out);
    return err;
}

int job_join_count(const struct job_join *jj) { return (int)jj->units.count; }
struct job_joined job_join_at(const struct job_join *jj, int i) { return jj->units.at[i].told; }
const char *job_join_words(const struct job_join *jj) { return jj->parted; }

int job_join_open(const struct job_join *jj)
{
    int n = 0;
    for (size_t i = 0; i < jj->units.count; i++)
        n += jj->units.at[i].told.side < 0;
    return n;
}

int job_join_taken(const struct job_join *jj)
{
    int n = 0;
    for (size_t i = 0; i < jj->units.count; i++)
        n += jj->units.at[i].told.side == JOB_THEIRS;
    return n;
}

static enum base_err no_such(const struct job_join *jj, const char *name, struct base_diag *why)
{
    const char **names = base_alloc((jj->units.count + 1) * sizeof *names);
    struct base_text near = {0};
    for (size_t i = 0; i < jj->units.count; i++)
        names[i] = jj->units.at[i].told.name;
    base_nearest(&near, name, names, jj->units.count);
    enum base_err err = base_fail(why, BASE_UNKNOWN, "The two copies do not differ in \"%s\"%s%s.", name,
                                  near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    free(names);
    return err;
}

enum base_err job_join_choose(struct job_join *jj, const char *name, enum job_side side,
                              struct base_diag *why)
{
    size_t n = jj->units.count, found = 0;
    bool all = strcmp(name, "all") == 0;
    int *held = base_alloc((n + 1) * sizeof *held);
    for (size_t i = 0; i < n; i++) {
        struct job_joined *t = &jj->units.at[i].told;
        held[i] = t->side;
        if (all ? t->clash : strcmp(t->name, name) == 0) {
            t->side = side;
            found++;
        }
    }
    bool *marked = chosen(jj);
    enum base_err err = found || all ? try_marked(jj, marked, why) : no_such(jj, name, why);
    for (size_t i = 0; err && i < n; i++)
        jj->units.at[i].told.side = held[i];
    job_drop(jj->copy[JOB_MINE]);
    free(marked);
    free(held);
    return err;
}

/* ---- findings of either ------------------------------------------------------------------------ */

/* The findings that are open with what is MARKED, as "fault overlap die_plate", in M; the reason alone where
 * it cannot stand. How many. */
static int open_with(struct job_join *jj, const bool *marked, struct base_arena *m, const char ***out)
{
    struct base_diag why = {0};
    struct job *j = jj->copy[JOB_MINE];
    const struct finding *list;
    bool stands = try_marked(jj, marked, &why) == BASE_OK;
    int n = stands ? (job_outcome(j), findings_list(j->findings, &list)) : 1, kept = 0;
    const char **words = *out = base_arena_alloc(m, (size_t)(n + 1) * sizeof *words);
    if (!stands)
        words[kept++] = base_arena_copy(m, why.message);
    for (int i = 0; stands && i < n; i++)
        if (!list[i].waiver)
            words[kept++] = base_arena_format(m, "%s %s", handbook_grade_text(list[i].grade), list[i].key);
    job_drop(j);
    return kept;
}

static bool holds(const char *const *words, int n, const char *word)
{
    int i = 0;
    while (i < n && strcmp(words[i], word) != 0)
        i++;
    return i < n;
}

void job_join_brings(struct job_join *jj, int at, struct base_text out[JOB_SIDES])
{
    struct base_arena memory = {0};
    const char **words[JOB_SIDES];
    int n[JOB_SIDES];
    bool *marked = chosen(jj);
    for (int s = 0; s < JOB_SIDES; s++) {
        marked[at] = s == JOB_THEIRS;
        n[s] = open_with(jj, marked, &memory, &words[s]);
    }
    for (int s = 0; s < JOB_SIDES; s++)
        for (int i = 0; i < n[s]; i++)
            if (!holds(words[!s], n[!s], words[s][i]))
                base_text_addf(&out[s], "%s%s", out[s].length ? "; " : "", words[s][i]);
    free(marked);
    base_arena_done(&memory);
}

/* ---- taking ---------------------------------------------------------------------------------- */

/* "die_plate.thickness 32 mm -> 36 mm", or, of what is said, as its edit told it. */
static void phrase(const struct job_join *jj, const struct join_unit *u, struct base_text *out)
{
    const struct job_joined *t = &u->told;
    const struct job *theirs = jj->copy[JOB_THEIRS];
    int item = u->row < 0 ? -1 : dieset_find_item(theirs->dieset, jj->rows.at[u->row].name);
    if (join_is_words(theirs, item) && *u->title)
        base_text_add(out, u->title);
    else if (u->what == JOIN_ADD || u->what == JOIN_REMOVE)
        base_text_addf(out, "%s %s", t->name, u->what == JOIN_ADD ? "added" : "taken out");
    else if (u->what == JOIN_ORDER || !*u->path)
        base_text_add(out, t->name);
    else
        base_text_addf(out, "%s %.120s -> %.120s", t->name, t->is[JOB_MINE] ? t->is[JOB_MINE] : "usual",
                       t->is[JOB_THEIRS] ? t->is[JOB_THEIRS] : "usual");
}

/* "joined, eva@ws2 2026-11-24 14:02: " */
static void add_origin(const struct job_joined *t, struct base_text *out)
{
    const char *when = t->when[JOB_THEIRS], *who = t->who[JOB_THEIRS];
    base_text_addf(out, "joined, %s %.10s %.5s: ", *who ? who : "somebody", when,
                   strlen(when) > 11 ? when + 11 : "");
}

/* Where it comes from and what it changes; yours to free(). */
static char *title_of(const struct job_join *jj, const bool *group)
{
    enum { MOST = 3 };
    struct base_text out = {0};
    int n = 0;
    for (size_t i = 0; i < jj->units.count; i++) {
        const struct job_joined *t = &jj->units.at[i].told;
        if (!group[i] || ++n > MOST)
            continue;
        if (n == 1)
            add_origin(t, &out);
        else
            base_text_add(&out, ", ");
        phrase(jj, &jj->units.at[i], &out);
    }
    if (n > MOST)
        base_text_addf(&out, " and %d more", n - MOST);
    return base_text_take(&out);
}

/* The next group of those LEFT: all that one edit of theirs brought last. False: none is left. ISSUES: those
 * that bring a revision, which stands on all else. */
static bool next_group(const struct job_join *jj, bool *left, bool *group, bool issues)
{
    long first = -1;
    for (size_t i = 0; i < jj->units.count; i++) {
        const struct join_unit *u = &jj->units.at[i];
        if (left[i] && u->issues == issues && u->what != JOIN_RENAME && (first < 0 || u->seq < first))
            first = u->seq;
    }
    for (size_t i = 0; i < jj->units.count; i++) {
        const struct join_unit *u = &jj->units.at[i];
        if (left[i] && u->issues == issues && u->what != JOIN_RENAME && u->seq == first) {
            group[i] = true;
            left[i] = false;
        }
    }
    return first >= 0;
}

static enum base_err take_groups(struct job_join *jj, bool *left, bool issues, int *taken,
                                 struct base_diag *why)
{
    bool *group = base_alloc(jj->units.count + 1);
    enum base_err err = BASE_OK;
    bool waits = false; /* what was put off until what it needs is there */
    while (next_group(jj, left, group, issues) || waits) {
        struct job_changes c = {0};
        make_changes(jj, jj->mine, group, &c);
        bool changes = c.at.count > 0, last = true;
        for (size_t i = 0; i < jj->units.count; i++)
            last = last &&
                   !(left[i] && jj->units.at[i].issues == issues && jj->units.at[i].what != JOIN_RENAME);
        err = changes ? job_try(jj->mine, &c, title_of(jj, group), why) : BASE_OK;
        job_changes_done(&c);
        waits = err && !last;
        if (waits)
            continue;
        if (!err && changes)
            err = job_take(jj->mine, why);
        if (err)
            break;
        *taken += changes;
        memset(group, 0, jj->units.count * sizeof *group);
    }
    free(group);
    return err;
}

static enum base_err take_names(struct job_join *jj, const bool *marked, int *taken, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < jj->units.count && !err; i++) {
        const struct join_unit *u = &jj->units.at[i];
        if (!marked[i] || u->what != JOIN_RENAME)
            continue;
        const struct join_row *r = &jj->rows.at[u->row];
        err = job_rename(jj->mine, r->name, r->own[JOB_THEIRS], why);
        if (err)
            break;
        struct base_text title = {0};
        add_origin(&u->told, &title);
        base_text_addf(&title, "%s renamed %s", r->name, r->own[JOB_THEIRS]);
        free(jj->mine->title);
        jj->mine->title = base_text_take(&title);
        err = job_take(jj->mine, why);
        *taken += !err;
    }
    return err;
}

static enum base_err take_chosen(struct job_join *jj, int *taken, struct base_diag *why)
{
    bool *marked = chosen(jj), *left = chosen(jj);
    enum base_err err = take_groups(jj, left, false, taken, why);
    err = err ? err : take_names(jj, marked, taken, why);
    err = err ? err : take_groups(jj, left, true, taken, why);
    free(marked);
    free(left);
    return err;
}

/* From now on it is known that the two were joined, and what was settled. */
static enum base_err keep_joined(struct job_join *jj, struct base_diag *why)
{
    char name[40], now[40];
    struct job *j = jj->mine;
    struct job_changes c = {0};
    bool any = false;
    for (size_t i = 0; i < jj->units.count; i++)
        any = any || jj->units.at[i].told.clash || jj->units.at[i].told.side == JOB_THEIRS;
    if (!any || job_join_open(jj) || handbook_find_kind(j->handbook, DIESET_JOINED) < 0)
        return BASE_OK;
    job_free_name(j, DIESET_JOINED, name, sizeof name);
    char *copy = base_format("%ld %016llx", jj->upto,
                             (unsigned long long)store_event_sum(jj->theirs->store, jj->upto));
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, DIESET_JOINED);
    job_changes_add(&c, TYPED_ENTRY, name, "copy", NULL, copy);
    if (*j->who)
        job_changes_add(&c, TYPED_ENTRY, name, "by", NULL, j->who);
    job_changes_add(&c, TYPED_ENTRY, name, "on", NULL, store_now(now, sizeof now));
    job_changes_add(&c, TYPED_ENTRY, name, "says", NULL, jj->theirs->name);
    free(copy);
    enum base_err err = job_try(j, &c,
                                base_format("joined with %s up to its edit %ld", jj->theirs->name, jj->upto),
                                why);
    return err ? err : job_take(j, why);
}

/* ---- revisions of theirs, each where it was issued ------------------------------------------------ */

static enum base_err check_whole(const struct job_join *jj, struct base_diag *why)
{
    for (size_t i = 0; i < jj->units.count; i++) {
        const struct job_joined *t = &jj->units.at[i].told;
        if (*t->who[JOB_THEIRS] && !*t->who[JOB_MINE] && t->side != JOB_THEIRS)
            return base_fail(why, BASE_REFUSED,
                             "%s is of what was issued in the other copy: that is taken as a whole.",
                             t->name);
    }
    return BASE_OK;
}

/* Theirs as it was when it was issued, then what came after it: so each revision stands in the history of
   mine as it was issued. */
static enum base_err take_issued(struct job_join *jj, int *taken, struct base_diag *why)
{
    long from[JOB_SIDES];
    const long *since = NULL;
    enum base_err err = check_whole(jj, why);
    for (size_t i = jj->issued.count + 1; i-- > 0 && !err;) {
        struct job_join *part;
        long upto = i ? jj->issued.at[i - 1].seq : jj->upto;
        err = join_make(jj->mine, jj->theirs, upto, since, &part, why);
        if (err)
            break;
        for (size_t u = 0; u < jj->units.count; u++)
            if (jj->units.at[u].told.clash && jj->units.at[u].told.side >= 0)
                (void)!job_join_choose(part, jj->units.at[u].told.name,
                                       (enum job_side)jj->units.at[u].told.side, NULL);
        err = take_chosen(part, taken, why);
        job_join_free(part);
        from[JOB_MINE] = store_event_count(jj->mine->store);
        from[JOB_THEIRS] = upto;
        since = from;
    }
    return err;
}

enum base_err job_join_take(struct job_join *jj, int *taken, struct base_diag *why)
{
    *taken = 0;
    if (job_readonly(jj->mine))
        return base_fail(why, BASE_REFUSED, "%s is open for looking only: nothing can be changed.",
                         job_file(jj->mine));
    if (job_refresh(jj->mine) || store_event_count(jj->mine->store) != jj->seen)
        return base_fail(why, BASE_CONFLICT,
                         "Somebody has edited the job meanwhile: it is shown as it is now. Look at that "
                         "first, then join.");
    enum base_err err = jj->issued.count ? take_issued(jj, taken, why) : take_chosen(jj, taken, why);
    err = err ? err : keep_joined(jj, why);
    jj->seen = store_event_count(jj->mine->store);
    return err;
}
