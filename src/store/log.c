/* The log of events: taking one, undo and redo, history.
 *
 * Rows are only ever added. An undo is an event that does an edit's changes backwards, a redo one
 * that does them again; which edits hold at present follows from reading the log in order:
 *
 *     edit E    pushes E on `done` and forgets what its writer has in `undone` (it stays in the history,
 *     taken back)
 *     undo of E moves E from `done` to the end of `undone`: it need not have been the last
 *     redo of E moves it back, to the end of `done`
 *
 * Each event's sum covers the one before, so that no event can be lost, altered or exchanged unseen.
 */

#include "store/inside.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const char *const what_words[] = {
    [TYPED_ENTRY] = "entry", [TYPED_ITEM] = "item",   [TYPED_NAME] = "name",
    [TYPED_PLACE] = "place", [TYPED_ORDER] = "order",
};

static bool find_what(const char *word, enum typed_what *out)
{
    for (size_t i = 0; i < COUNT_OF(what_words); i++)
        if (strcmp(word, what_words[i]) == 0) {
            *out = (enum typed_what)i;
            return true;
        }
    return false;
}

/* ---- reading on ---------------------------------------------------------------------- */

static const char undo_role[] = "undo", redo_role[] = "redo";

/* Where EDIT is among N that stand in V (were taken back), -1: nowhere. */
static int stand_of(const struct stand *v, size_t n, int64_t edit)
{
    int i = (int)n - 1;
    while (i >= 0 && v[i].edit != edit)
        i--;
    return i;
}

static void forget_undone_by(struct store *s, uint64_t who)
{
    size_t kept = 0;
    for (size_t i = 0; i < s->undone.count; i++)
        if (s->undone.at[i].who != who)
            s->undone.at[kept++] = s->undone.at[i];
    s->undone.count = kept;
}

#define TAKE_FROM(v, i) \
    (memmove((v)->at + (i), (v)->at + (i) + 1, ((v)->count - (size_t)(i)-1) * sizeof *(v)->at), (v)->count--)

/* Play one row of the log; false when it cannot follow from those before. */
static bool play(struct store *s, int64_t seq, const char *role, int64_t edit, const char *writer)
{
    uint64_t who = base_hash(writer, strlen(writer));
    bool back = strcmp(role, undo_role) == 0;
    int at = back ? stand_of(s->done.at, s->done.count, edit) : stand_of(s->undone.at, s->undone.count, edit);
    struct stand by = {edit, seq, who};
    if (seq != (int64_t)s->taken_back.count + 1)
        return false;
    if (strcmp(role, "edit") == 0) {
        forget_undone_by(s, who);
        by.edit = seq;
        base_vec_push(&s->done, by);
    } else if (back && at >= 0) {
        TAKE_FROM(&s->done, at);
        base_vec_push(&s->undone, by);
        s->taken_back.at[edit - 1] = true;
    } else if (strcmp(role, redo_role) == 0 && at >= 0) {
        TAKE_FROM(&s->undone, at);
        base_vec_push(&s->done, by);
        s->taken_back.at[edit - 1] = false;
    } else {
        return false;
    }
    base_vec_push(&s->taken_back, false);
    return true;
}

/* What another program wrote may be no change at all: each kind asks for its texts. */
static bool makes_sense(sqlite3_stmt *row)
{
    enum typed_what what;
    const char *path = sql_text(row, 3);
    bool before = sqlite3_column_type(row, 4) != SQLITE_NULL,
         after = sqlite3_column_type(row, 5) != SQLITE_NULL;
    if (!find_what(sql_text(row, 1), &what) ||
        (*path != '\0') != (what == TYPED_ENTRY || what == TYPED_ORDER))
        return false;
    return what == TYPED_ENTRY || what == TYPED_ITEM ? before || after : before && after;
}

/* The rows of the changes of several events, read once beside those of the events: a statement for each event
   costs more than its rows. ST is NULL behind the last row. */
struct changes { sqlite3_stmt *st; };

static void changes_next(struct store *s, struct changes *c)
{
    if (!sql_row(s, c->st))
        c->st = NULL;
}

static struct changes changes_begin(struct store *s, enum sql which, int64_t seq)
{
    struct changes c = {sql_get(s, which, "i", seq)};
    changes_next(s, &c);
    return c;
}

/* Is the row that is read next one of event SEQ? */
static bool changes_of(const struct changes *c, int64_t seq)
{
    return c->st && sqlite3_column_int64(c->st, CHANGE_SEQ) == seq;
}

static void changes_end(struct changes *c)
{
    if (c->st)
        sqlite3_reset(c->st);
}

/* The sum of the event in ROW, a row of SQL_EVENTS_AFTER, and its changes. T is room to write in. */
static uint64_t sum_event(struct store *s, sqlite3_stmt *row, struct changes *c, struct base_text *t)
{
    int64_t seq = sqlite3_column_int64(row, 0);
    base_text_clear(t);
    base_text_addf(t, "%016llx", (unsigned long long)s->chain);
    seal_row(t, row, 6);
    for (; changes_of(c, seq); changes_next(s, c)) {
        seal_row(t, c->st, CHANGE_SEQ);
        if (!makes_sense(c->st))
            s->rc = SQLITE_CORRUPT;
    }
    return base_hash(t->data, t->length);
}

static uint64_t sum_of(struct store *s, size_t event)
{
    return event ? (uint64_t)sql_number(s, SQL_EVENT_SUM_OF, 0, "i", (int64_t)event) : 0;
}

bool log_holds(struct store *a, const struct store *s)
{
    a->rc = SQLITE_OK;
    return a->taken_back.count >= s->taken_back.count && sum_of(a, s->taken_back.count) == s->chain &&
           a->rc == SQLITE_OK;
}

bool log_follows(struct store *a, struct store *b)
{
    return log_holds(a, b) && a->taken_back.count <= b->taken_back.count + 1;
}

void log_catch_up(struct store *s)
{
    /* Another job, or an older copy of this one, may have been written over the file while it was open. */
    if (s->rc == SQLITE_OK && sum_of(s, s->taken_back.count) != s->chain && s->rc == SQLITE_OK)
        s->rc = SQLITE_READONLY_DBMOVED;
    struct base_text room = {0};
    sqlite3_stmt *st = sql_get(s, SQL_EVENTS_AFTER, "i", (int64_t)s->taken_back.count);
    struct changes c = {0};
    while (sql_row(s, st)) {
        /* not before there is an event: it stands in the same view of the file as its changes */
        if (!c.st)
            c = changes_begin(s, SQL_CHANGES_AFTER, sqlite3_column_int64(st, 0) - 1);
        uint64_t sum = sum_event(s, st, &c, &room);
        if (s->rc != SQLITE_OK)
            continue;
        if (sum == (uint64_t)sqlite3_column_int64(st, 6) &&
            play(s, sqlite3_column_int64(st, 0), sql_text(st, 1), sqlite3_column_int64(st, 2),
                 sql_text(st, 4)))
            s->chain = sum;
        else
            s->rc = SQLITE_CORRUPT;
    }
    if (c.st && s->rc == SQLITE_OK)
        s->rc = SQLITE_CORRUPT; /* a change of no event */
    changes_end(&c);
    base_text_done(&room);
}

/* ---- adding -------------------------------------------------------------------------- */

/* "2024-05-01T10:20:30+02:00" */
const char *store_now(char *out, size_t size) { return store_time(time(NULL), out, size); }

const char *store_time(time_t now, char *out, size_t size)
{
    struct tm local;
    char zone[8] = "+0000";
    localtime_r(&now, &local);
    strftime(zone, sizeof zone, "%z", &local);
    size_t n = strftime(out, size, "%Y-%m-%dT%H:%M:%S", &local);
    snprintf(out + n, size - n, "%.3s:%.2s", zone, zone + 3);
    return out;
}

/* The title and the signature of an event are read by people alone: they go into the file in their visible
   form. */
static void add_event(struct store *s, int64_t seq, const char *role, int64_t edit, const char *title,
                      const char *who)
{
    char now[40];
    struct base_text seen = {0}, signature = {0};
    base_text_add_visible(&seen, title, strlen(title), false);
    base_text_add_visible(&signature, who, strlen(who), false);
    sql_do(s, SQL_EVENT_ADD, "itittt", seq, role, edit, base_text_get(&seen), base_text_get(&signature),
           store_now(now, sizeof now));
    base_text_done(&seen);
    base_text_done(&signature);
}

/* Add the event and bring all sums up to date. The log as read (done, undone, chain) follows only after the
   commit. */
static uint64_t append(struct store *s, const char *role, int64_t edit, const char *title, const char *who,
                       const struct applied *a)
{
    int64_t seq = (int64_t)s->taken_back.count + 1;
    add_event(s, seq, role, edit, title, who);
    for (size_t i = 0; i < a->at.count; i++) {
        const struct typed_change *c = &a->at.at[i];
        sql_do(s, SQL_CHANGE_ADD, "iittttt", seq, (int64_t)i, what_words[c->what], c->item, c->path,
               c->before, c->after);
    }
    sqlite3_stmt *st = sql_get(s, SQL_EVENTS_AFTER, "i", seq - 1);
    struct changes c = changes_begin(s, SQL_CHANGES_AFTER, seq - 1);
    struct base_text room = {0};
    uint64_t sum = 0;
    if (sql_row(s, st)) {
        sum = sum_event(s, st, &c, &room);
        sqlite3_reset(st);
    }
    changes_end(&c);
    base_text_done(&room);
    sql_do(s, SQL_EVENT_SUM, "ii", seq, (int64_t)sum);
    seal_put(s, "log", sum);
    seal_put(s, "state", seal_of_state(s));
    return sum;
}

static enum base_err finish(struct store *s, enum base_err err, uint64_t sum, struct base_diag *why)
{
    if (!err && !(sum ? seal_commit(s, "log", s->chain, sum) : sql_do(s, SQL_COMMIT, "")))
        err = sql_not_saved(s, why);
    if (err) {
        store_rollback(s);
        return err;
    }
    bool all_seen = s->seen == s->taken_back.count;
    log_catch_up(s);
    if (all_seen)
        s->seen = s->taken_back.count;
    store_keep(s);
    return BASE_OK;
}

/* Open a transaction that has read the log to its end. */
static enum base_err begin(struct store *s, struct base_diag *why)
{
    enum base_err err = store_begin_write(s, why);
    if (err)
        return err;
    log_catch_up(s);
    if (s->rc == SQLITE_OK)
        return BASE_OK;
    err = sql_not_saved(s, why);
    store_rollback(s);
    return err;
}

static enum base_err refuse_unseen(struct store *s, const char *then, struct base_diag *why);

static enum base_err take(struct store *s, const char *title, const char *who,
                          const struct typed_change *changes, int n, bool seen, struct base_diag *why)
{
    struct applied a = {0};
    uint64_t sum = 0;
    enum base_err err = begin(s, why);
    if (err)
        return err;
    if (seen && s->seen != s->taken_back.count)
        err = refuse_unseen(s, "try again", why);
    for (int i = 0; i < n && !err; i++)
        err = apply_change(s, &changes[i], &a, why);
    if (!err && a.at.count)
        sum = append(s, "edit", 0, title ? title : "", who ? who : "", &a);
    if (!err && s->rc != SQLITE_OK)
        err = sql_not_saved(s, why);
    err = finish(s, err, sum, why);
    applied_done(&a);
    return err;
}

enum base_err store_take(struct store *s, const char *title, const char *who,
                         const struct typed_change *changes, int n, struct base_diag *why)
{
    return take(s, title, who, changes, n, false, why);
}

enum base_err store_take_seen(struct store *s, const char *title, const char *who,
                              const struct typed_change *changes, int n, struct base_diag *why)
{
    return take(s, title, who, changes, n, true, why);
}

/* ---- lending events -------------------------------------------------------------------- */

/* A column's text; once only where it is as LIKE, which was lent before it. */
static const char *lend_text(struct store *s, sqlite3_stmt *st, int column, const char *like)
{
    return like && strcmp(sql_text(st, column), like) == 0 ? like : sql_copy(&s->lent, st, column);
}

/* The rows of the changes stand from the last to the first. */
static int lend_changes(struct store *s, int64_t seq, struct changes *rows, const struct typed_change **out)
{
    BASE_VEC(struct typed_change) v = {0};
    struct base_arena *m = &s->lent;
    const char *item = NULL, *path = NULL;
    for (; changes_of(rows, seq); changes_next(s, rows)) {
        sqlite3_stmt *st = rows->st;
        item = lend_text(s, st, 2, item);
        path = lend_text(s, st, 3, path);
        struct typed_change c = {TYPED_ENTRY, item, path, sql_copy(m, st, 4), sql_copy(m, st, 5)};
        if (!find_what(sql_text(st, 1), &c.what))
            s->rc = SQLITE_CORRUPT;
        base_vec_push(&v, c);
    }
    int n = (int)v.count;
    struct typed_change *lent = base_arena_alloc(m, (v.count + 1) * sizeof *lent);
    for (int i = 0; i < n; i++)
        lent[i] = v.at[n - 1 - i];
    base_vec_done(&v);
    *out = lent;
    return n;
}

/* The event in ST without its changes; LIKE was lent before it. */
static struct typed_event lend_row(struct store *s, sqlite3_stmt *st, const struct typed_event *like)
{
    struct typed_event e = {.seq = (long)sqlite3_column_int64(st, 0)};
    e.title = sql_copy(&s->lent, st, 1);
    e.who = lend_text(s, st, 2, like->who);
    e.when = lend_text(s, st, 3, like->when);
    e.edit = strcmp(sql_text(st, 4), "edit") == 0;
    e.of = (long)sqlite3_column_int64(st, 5);
    e.undone = s->taken_back.at[e.seq - 1];
    return e;
}

/* Event SEQ; its changes are those of event FROM, which is it or did it last. */
static bool lend_event_as(struct store *s, int64_t seq, int64_t from, struct typed_event *out)
{
    sqlite3_stmt *st = sql_get(s, SQL_EVENTS_DOWN, "i", seq);
    *out = (struct typed_event){.seq = (long)seq};
    if (!sql_row(s, st))
        return false;
    *out = lend_row(s, st, out);
    sqlite3_reset(st);
    struct changes rows = changes_begin(s, SQL_CHANGES_DOWN, from);
    out->n_changes = lend_changes(s, from, &rows, &out->changes);
    changes_end(&rows);
    return s->rc == SQLITE_OK;
}

static bool lend_event(struct store *s, int64_t seq, struct typed_event *out)
{
    return lend_event_as(s, seq, seq, out);
}

/* The newest of N first, at most ROOM. */
static int lend_stands(struct store *s, const struct stand *v, size_t n, const struct typed_event **events,
                       int room)
{
    int most = (int)n > room ? room < 0 ? 0 : room : (int)n;
    struct typed_event *lent = base_arena_alloc(&s->lent, (size_t)(most + 1) * sizeof *lent);
    *events = lent;
    for (int i = 0; i < most; i++) {
        const struct stand *at = &v[n - 1 - (size_t)i];
        struct typed_event by;
        if (!lend_event_as(s, at->edit, at->by, &lent[i]) || !lend_event(s, at->by, &by))
            return i;
        lent[i].by = by.who;
        lent[i].at = by.when;
        lent[i].last = (long)at->by;
    }
    return most;
}

/* ---- undo and redo ----------------------------------------------------------------------- */

/* What takes the changes back: the last first, before and after exchanged. */
void store_turn_round(struct typed_change *c, int n)
{
    for (int i = 0, j = n - 1; i < j; i++, j--) {
        struct typed_change held = c[i];
        c[i] = c[j];
        c[j] = held;
    }
    for (int i = 0; i < n; i++) {
        const char *before = c[i].before;
        if (c[i].what == TYPED_NAME)
            c[i].item = c[i].after;
        c[i].before = c[i].after;
        c[i].after = before;
    }
}

static enum base_err refuse_unseen(struct store *s, const char *then, struct base_diag *why)
{
    struct typed_event newest;
    if (!lend_event(s, (int64_t)s->taken_back.count, &newest))
        return sql_not_saved(s, why);
    return base_fail(why, BASE_CONFLICT, "%s has edited meanwhile (%.200s). Look at that first, then %s.",
                     *newest.who ? newest.who : "Somebody", newest.title, then);
}

static enum base_err turn(struct store *s, bool back, long edit, const char *who,
                          const struct typed_change *c, int n, uint64_t *sum, struct base_diag *why)
{
    struct typed_event e;
    if (s->seen != s->taken_back.count)
        return refuse_unseen(s, back ? undo_role : redo_role, why);
    if ((back ? stand_of(s->done.at, s->done.count, edit) : stand_of(s->undone.at, s->undone.count, edit)) <
        0)
        return base_fail(why, BASE_UNKNOWN, back ? "There is nothing to undo." : "There is nothing to redo.");
    if (!lend_event(s, edit, &e))
        return sql_not_saved(s, why);
    struct applied a = {0};
    enum base_err err = BASE_OK;
    for (int i = 0; i < n && !err; i++)
        err = apply_change(s, &c[i], &a, why);
    if (!err) {
        char *title = base_format("%s: %s", back ? "undone" : "done again", e.title);
        *sum = append(s, back ? undo_role : redo_role, edit, title, who ? who : "", &a);
        free(title);
    }
    applied_done(&a);
    return err || s->rc == SQLITE_OK ? err : sql_not_saved(s, why);
}

static enum base_err step(struct store *s, bool back, long edit, const char *who,
                          const struct typed_change *c, int n, struct base_diag *why)
{
    uint64_t sum = 0;
    enum base_err err = begin(s, why);
    if (err)
        return err;
    err = turn(s, back, edit, who, c, n, &sum, why);
    return finish(s, err, sum, why);
}

enum base_err store_undo(struct store *s, long edit, const char *who, const struct typed_change *changes,
                         int n, struct base_diag *why)
{
    return step(s, true, edit, who, changes, n, why);
}

enum base_err store_redo(struct store *s, long edit, const char *who, const struct typed_change *changes,
                         int n, struct base_diag *why)
{
    return step(s, false, edit, who, changes, n, why);
}

/* ---- history ------------------------------------------------------------------------------- */

/* One look at the file for all that is read: else each statement takes and leaves its locks. */
static void begin_reading(struct store *s)
{
    store_begin(s);
    sql_do(s, SQL_READ, "");
    log_catch_up(s);
}

int store_history(struct store *s, const struct typed_event **events, int room)
{
    begin_reading(s);
    int n = (int)s->taken_back.count, i = 0;
    if (n > room)
        n = room < 0 ? 0 : room;
    struct typed_event *lent = base_arena_alloc(&s->lent, (size_t)(n + 1) * sizeof *lent);
    *events = lent;
    int64_t newest = (int64_t)s->taken_back.count;
    sqlite3_stmt *st = n ? sql_get(s, SQL_EVENTS_DOWN, "i", newest) : NULL;
    struct changes rows = {0};
    if (n)
        rows = changes_begin(s, SQL_CHANGES_DOWN, newest);
    for (; i < n && sql_row(s, st); i++) {
        lent[i] = lend_row(s, st, &lent[i ? i - 1 : 0]);
        lent[i].n_changes = lend_changes(s, lent[i].seq, &rows, &lent[i].changes);
    }
    if (st)
        sqlite3_reset(st);
    changes_end(&rows);
    store_rollback(s);
    return s->rc == SQLITE_OK ? i : 0;
}

int store_standing(struct store *s, const struct typed_event **events, int room)
{
    begin_reading(s);
    int n = lend_stands(s, s->done.at, s->done.count, events, room);
    store_rollback(s);
    return n;
}

int store_taken_back(struct store *s, const struct typed_event **events, int room)
{
    begin_reading(s);
    int n = lend_stands(s, s->undone.at, s->undone.count, events, room);
    store_rollback(s);
    return n;
}

uint64_t store_event_sum(struct store *s, long event)
{
    s->rc = SQLITE_OK;
    return sum_of(s, event > 0 ? (size_t)event : 0);
}

long store_event_count(struct store *s)
{
    s->rc = SQLITE_OK;
    log_catch_up(s);
    return (long)s->taken_back.count;
}
