/* One change done to items and entries.
 *
 * Places count from 0 without a gap, for items in the job and for entries in their item; what is
 * added stands last. What is taken out is moved to the end first, and an item's entries go
 * before it, each as a change of its own: so the list of what was done, read
 * backwards with before and after exchanged, puts everything back where it stood.
 */

#include "store/inside.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void applied_add(struct applied *a, enum typed_what what, const char *item, const char *path,
                 const char *before, const char *after)
{
    struct base_arena *m = &a->memory;
    struct typed_change c = {what, base_arena_copy(m, item), base_arena_copy(m, path),
                             base_arena_copy(m, before), base_arena_copy(m, after)};
    base_vec_push(&a->at, c);
}

void applied_done(struct applied *a)
{
    base_vec_done(&a->at);
    base_arena_done(&a->memory);
}

static void note_move(struct applied *done, enum typed_what what, const char *item, const char *path,
                      int64_t from, int64_t to)
{
    char a[24], b[24];
    snprintf(a, sizeof a, "%lld", (long long)from);
    snprintf(b, sizeof b, "%lld", (long long)to);
    applied_add(done, what, item, path, a, b);
}

static bool same(const char *a, const char *b) { return a && b ? strcmp(a, b) == 0 : a == b; }

/* ---- conflicts ------------------------------------------------------------------- */

static void add_quoted(struct base_text *t, const char *text)
{
    if (text)
        base_text_addf(t, "\"%.150s\"", text);
    else
        base_text_add(t, "nothing");
}

static enum base_err conflict(struct store *s, const struct typed_change *c, const char *now,
                              struct base_diag *why)
{
    struct base_text t = {0};
    char *name = typed_known(c->item, c->path);
    base_text_addf(&t, "%s has changed meanwhile: ", name);
    add_quoted(&t, now);
    base_text_add(&t, " stands there now");
    sqlite3_stmt *st = sql_get(s, SQL_LAST_CHANGE, "tt", c->item, c->path);
    if (sql_row(s, st)) {
        base_text_addf(&t, " (%s, %.16s)", *sql_text(st, 0) ? sql_text(st, 0) : "somebody", sql_text(st, 1));
        sqlite3_reset(st);
    }
    base_text_add(&t, ", not ");
    add_quoted(&t, c->before);
    base_text_add(&t, ". Your edit was not taken.");
    base_fail(why, BASE_CONFLICT, "%s", base_text_get(&t));
    base_text_done(&t);
    free(name);
    return s->rc == SQLITE_OK ? BASE_CONFLICT : sql_not_saved(s, why);
}

static enum base_err gone(const char *item, struct base_diag *why)
{
    return base_fail(why, BASE_CONFLICT, "There is no %s (any more). Your edit was not taken.", item);
}

static enum base_err moved(const char *name, int64_t place, const char *before, struct base_diag *why)
{
    return base_fail(
        why, BASE_CONFLICT,
        "%s has been moved meanwhile: it stands at place %lld now, not %s. Your edit was not taken.", name,
        (long long)place, before);
}

/* ---- looking --------------------------------------------------------------------- */

struct found {
    bool there;
    int64_t place;
    char *text; /* an item's kind, an entry's text; yours to free() */
};

static struct found look(struct store *s, sqlite3_stmt *st)
{
    struct found f = {0};
    if (!sql_row(s, st))
        return f;
    f = (struct found){true, sqlite3_column_int64(st, 0), base_copy(sql_text(st, 1))};
    sqlite3_reset(st);
    return f;
}

static struct found look_item(struct store *s, const char *item)
{
    return look(s, sql_get(s, SQL_ITEM, "t", item));
}

/* ---- entries ----------------------------------------------------------------------- */

static void move_entry(struct store *s, const char *item, const char *path, int64_t from, int64_t to,
                       struct applied *done)
{
    if (from == to)
        return;
    sql_do(s, from < to ? SQL_ENTRIES_DOWN : SQL_ENTRIES_UP, "tii", item, from < to ? from : to,
           from < to ? to : from);
    sql_do(s, SQL_ENTRY_PLACE, "tti", item, path, to);
    note_move(done, TYPED_ORDER, item, path, from, to);
}

static void drop_entry(struct store *s, const char *item, const char *path, const struct found *f,
                       struct applied *done)
{
    move_entry(s, item, path, f->place, sql_number(s, SQL_ENTRY_COUNT, 1, "t", item) - 1, done);
    sql_do(s, SQL_ENTRY_DROP, "tt", item, path);
    applied_add(done, TYPED_ENTRY, item, path, f->text, NULL);
}

static enum base_err change_entry(struct store *s, const struct typed_change *c, struct applied *done,
                                  struct base_diag *why)
{
    struct found f = look(s, sql_get(s, SQL_ENTRY, "tt", c->item, c->path));
    enum base_err err = BASE_OK;
    if (!same(f.text, c->before)) {
        err = conflict(s, c, f.text, why);
    } else if (f.there && !c->after) {
        drop_entry(s, c->item, c->path, &f, done);
    } else if (!same(f.text, c->after)) {
        if (f.there)
            sql_do(s, SQL_ENTRY_TEXT, "ttt", c->item, c->path, c->after);
        else
            sql_do(s, SQL_ENTRY_ADD, "ttti", c->item, c->path, c->after,
                   sql_number(s, SQL_ENTRY_COUNT, 0, "t", c->item));
        applied_add(done, TYPED_ENTRY, c->item, c->path, c->before, c->after);
    }
    free(f.text);
    return err;
}

static int64_t within(const char *text, int64_t count)
{
    long long place = text ? strtoll(text, NULL, 10) : 0;
    return place < 0 ? 0 : place >= count ? count - 1 : place;
}

static enum base_err order_entry(struct store *s, const struct typed_change *c, struct applied *done,
                                 struct base_diag *why)
{
    struct found f = look(s, sql_get(s, SQL_ENTRY, "tt", c->item, c->path));
    free(f.text);
    char *name = typed_known(c->item, c->path);
    enum base_err err = BASE_OK;
    if (!f.there)
        err = gone(name, why);
    else if (c->before && strtoll(c->before, NULL, 10) != f.place)
        err = moved(name, f.place, c->before, why);
    else
        move_entry(s, c->item, c->path, f.place,
                   within(c->after, sql_number(s, SQL_ENTRY_COUNT, 1, "t", c->item)), done);
    free(name);
    return err;
}

/* ---- items ------------------------------------------------------------------------- */

static void move_item(struct store *s, const char *item, int64_t from, int64_t to, struct applied *done)
{
    if (from == to)
        return;
    sql_do(s, from < to ? SQL_ITEMS_DOWN : SQL_ITEMS_UP, "ii", from < to ? from : to, from < to ? to : from);
    sql_do(s, SQL_ITEM_PLACE, "ti", item, to);
    note_move(done, TYPED_PLACE, item, "", from, to);
}

static enum base_err place_item(struct store *s, const struct typed_change *c, const struct found *f,
                                struct applied *done, struct base_diag *why)
{
    if (c->before && strtoll(c->before, NULL, 10) != f->place)
        return moved(c->item, f->place, c->before, why);
    move_item(s, c->item, f->place, within(c->after, sql_number(s, SQL_ITEM_COUNT, 1, "")), done);
    return BASE_OK;
}

static void drop_item(struct store *s, const char *item, const struct found *f, struct applied *done)
{
    sqlite3_stmt *st;
    while (st = sql_get(s, SQL_ENTRY_LAST, "t", item), sql_row(s, st)) {
        char *path = base_copy(sql_text(st, 0)), *text = base_copy(sql_text(st, 1));
        sqlite3_reset(st);
        sql_do(s, SQL_ENTRY_DROP, "tt", item, path);
        applied_add(done, TYPED_ENTRY, item, path, text, NULL);
        free(path);
        free(text);
    }
    move_item(s, item, f->place, sql_number(s, SQL_ITEM_COUNT, 1, "") - 1, done);
    sql_do(s, SQL_ITEM_DROP, "t", item);
    applied_add(done, TYPED_ITEM, item, "", f->text, NULL);
}

static enum base_err change_item(struct store *s, const struct typed_change *c, const struct found *f,
                                 struct applied *done, struct base_diag *why)
{
    if (!f->there && c->before)
        return gone(c->item, why);
    if (!same(f->text, c->before))
        return conflict(s, c, f->text, why);
    if (f->there && !c->after) {
        drop_item(s, c->item, f, done);
    } else if (!same(f->text, c->after)) {
        if (f->there)
            sql_do(s, SQL_ITEM_KIND, "tt", c->item, c->after);
        else
            sql_do(s, SQL_ITEM_ADD, "tti", c->item, c->after, sql_number(s, SQL_ITEM_COUNT, 0, ""));
        applied_add(done, TYPED_ITEM, c->item, "", c->before, c->after);
    }
    return BASE_OK;
}

/* The new row comes first and the old one goes last, so that the entries always have an item. */
static enum base_err rename_item(struct store *s, const struct typed_change *c, const struct found *f,
                                 struct applied *done, struct base_diag *why)
{
    if (same(c->item, c->after))
        return BASE_OK;
    struct found other = look_item(s, c->after);
    free(other.text);
    if (other.there)
        return base_fail(why, BASE_CONFLICT, "There is an item %s already. Your edit was not taken.",
                         c->after);
    sql_do(s, SQL_ITEM_ADD, "tti", c->after, f->text, f->place);
    sql_do(s, SQL_ENTRIES_RENAME, "tt", c->item, c->after);
    sql_do(s, SQL_ITEM_DROP, "t", c->item);
    applied_add(done, TYPED_NAME, c->item, "", c->item, c->after);
    return BASE_OK;
}

enum base_err apply_change(struct store *s, const struct typed_change *c, struct applied *done,
                           struct base_diag *why)
{
    assert(c->item && (c->path || (c->what != TYPED_ENTRY && c->what != TYPED_ORDER)) &&
           (c->after || c->what != TYPED_NAME));
    struct found f = look_item(s, c->item);
    enum base_err err = BASE_OK;
    if (s->rc != SQLITE_OK)
        err = BASE_OK; /* told below */
    else if (c->what == TYPED_ITEM)
        err = change_item(s, c, &f, done, why);
    else if (!f.there)
        err = gone(c->item, why);
    else if (c->what == TYPED_ENTRY)
        err = change_entry(s, c, done, why);
    else if (c->what == TYPED_ORDER)
        err = order_entry(s, c, done, why);
    else if (c->what == TYPED_NAME)
        err = rename_item(s, c, &f, done, why);
    else
        err = place_item(s, c, &f, done, why);
    free(f.text);
    return s->rc == SQLITE_OK ? err : sql_not_saved(s, why);
}
