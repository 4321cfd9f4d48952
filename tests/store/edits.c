/* Edits, undo and redo, history, conflicts, parts tables. */

#include "store/inside.h"
#include "../common.h"
#include "shim.h"
#include "suites.h"
#include "work.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *path_in_fresh_folder(const char *name) { return base_format("%s/%s", fresh_folder(), name); }

static void expect_state(struct store *s, const char *want)
{
    char *state = work_state(s);
    ck_assert_str_eq(state, want);
    free(state);
}

static const char *const thickness_text[] = {"32 mm", "36 mm", "40 mm", "44 mm"};

static enum base_err thickness(struct store *s, int from, int to, const char *who, struct base_diag *why)
{
    struct typed_change c = {TYPED_ENTRY, "die_plate", "thickness", thickness_text[from], thickness_text[to]};
    char *title = base_format("die_plate.thickness %s -> %s", c.before, c.after);
    enum base_err err = store_take(s, title, who, &c, 1, why);
    free(title);
    return err;
}

static const char begun[] =
    "strip strip\n  thickness = 2 mm\nplate die_plate\n  moves = \"with the bed\"\n  thickness = 32 mm\n";

START_TEST(what_is_taken_is_read_back_after_closing)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_assert_str_eq(store_path(s), path);
    ck_assert(!store_readonly(s));
    ck_assert_str_eq(store_warning(s), "");
    ck_ok(work_begin(s, why));
    expect_state(s, begun);
    store_close(s);
    ck_ok(store_open(path, false, &s, why));
    expect_state(s, begun);
    ck_assert_int_eq(store_event_count(s), 1);
    store_close(s);
    char *journal = base_format("%s-journal", path);
    ck_assert_int_ne(remove(journal), 0); /* one file is the whole job */
    free(journal);
    free(path);
}
END_TEST

START_TEST(a_job_in_memory_does_the_same)
{
    struct store *s = store_open_memory();
    ck_assert_str_eq(store_path(s), "");
    ck_ok(work_begin(s, why));
    for (int i = 1; i < 40; i++) {
        ck_ok(work_edit(s, i, why));
        work_check(s);
    }
    store_close(s);
}
END_TEST

START_TEST(undo_and_redo_go_all_the_way_and_survive_closing)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *s;
    const struct typed_event *e;
    char *states[8];
    ck_ok(store_create(path, &s, why));
    states[0] = work_state(s);
    ck_ok(work_begin(s, why));
    states[1] = work_state(s);
    for (int i = 1; i < 5; i++) {
        ck_ok(work_edit(s, i, why));
        states[i + 1] = work_state(s);
    }
    for (int i = 4; i >= 0; i--) {
        store_close(s);
        ck_ok(store_open(path, false, &s, why));
        ck_assert_int_eq(store_standing(s, &e, 1), 1);
        ck_assert_int_eq(e->seq, i + 1);
        ck_ok(work_undo(s, "bea", why));
        expect_state(s, states[i]);
        work_check(s);
    }
    ck_assert_int_eq(store_standing(s, &e, 1), 0);
    for (int i = 0; i < 5; i++) {
        store_close(s);
        ck_ok(store_open(path, false, &s, why));
        ck_assert_int_eq(store_taken_back(s, &e, 1), 1);
        ck_assert(e->undone);
        ck_ok(work_redo(s, "bea", why));
        expect_state(s, states[i + 1]);
    }
    ck_assert_int_eq(store_taken_back(s, &e, 1), 0);
    ck_assert_int_eq(store_event_count(s), 15);
    work_check(s);
    store_close(s);
    for (int i = 0; i < 6; i++)
        free(states[i]);
    free(path);
}
END_TEST

START_TEST(nothing_to_undo_is_said)
{
    struct store *s = store_open_memory();
    struct base_diag cause = {0};
    ck_assert_int_eq(work_undo(s, "ann", &cause), BASE_UNKNOWN);
    ck_assert_str_eq(cause.message, "There is nothing to undo.");
    ck_assert_int_eq(work_redo(s, "ann", &cause), BASE_UNKNOWN);
    ck_assert_str_eq(cause.message, "There is nothing to redo.");
    store_close(s);
}
END_TEST

START_TEST(an_edit_after_undo_ends_the_writers_redo_but_not_history)
{
    struct store *s = store_open_memory();
    const struct typed_event *h;
    ck_ok(work_begin(s, why));
    ck_ok(thickness(s, 0, 1, "ann", why));
    ck_ok(thickness(s, 1, 2, "ann", why));
    ck_ok(work_undo(s, "bea", why));
    ck_assert_int_eq(store_taken_back(s, &h, 9), 1);
    ck_assert_str_eq(h->title, "die_plate.thickness 36 mm -> 40 mm");
    ck_assert_str_eq(h->who, "ann");
    ck_assert_str_eq(h->by, "bea");
    ck_assert_int_eq(h->n_changes, 1);
    ck_assert_str_eq(h->changes[0].before, "40 mm");
    ck_assert_str_eq(h->changes[0].after, "36 mm");
    ck_ok(thickness(s, 1, 3, "ann", why));
    ck_assert_int_eq(store_taken_back(s, &h, 9), 1); /* it was bea who took that back */
    ck_ok(thickness(s, 3, 1, "bea", why));
    ck_assert_int_eq(store_taken_back(s, &h, 9), 0);
    ck_ok(thickness(s, 1, 3, "bea", why));
    ck_assert_int_eq(store_history(s, &h, 100), 7);
    ck_assert_str_eq(h[0].title, "die_plate.thickness 36 mm -> 44 mm");
    ck_assert_str_eq(h[3].title, "undone: die_plate.thickness 36 mm -> 40 mm");
    ck_assert_str_eq(h[3].who, "bea");
    ck_assert(h[4].undone && !h[5].undone && !h[0].undone);
    ck_assert_int_eq(h[3].of, 3);
    ck_assert_int_eq(h[6].seq, 1);
    ck_assert_uint_eq(strlen(h[0].when), strlen("2024-05-01T10:20:30+02:00"));
    ck_assert(h[0].when[4] == '-' && h[0].when[10] == 'T' && h[0].when[22] == ':');
    ck_assert_int_eq(store_history(s, &h, 2), 2);
    ck_assert_int_eq(h[1].seq, 6);
    for (int i = 0; i < 4; i++) /* and undo passes the edit that is out of reach by */
        ck_ok(work_undo(s, "ann", why));
    expect_state(s, begun);
    store_close(s);
}
END_TEST

START_TEST(an_edit_is_taken_back_from_under_others)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *s;
    struct base_diag cause = {0};
    const struct typed_event *e;
    const struct typed_change wide = {TYPED_ENTRY, "die_plate", "width", NULL, "160 mm"},
                              gone = {TYPED_ENTRY, "die_plate", "width", "160 mm", NULL};
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    ck_ok(store_take(s, "width", "ann", &wide, 1, why)); /* 2 */
    ck_ok(thickness(s, 0, 1, "bea", why));
    ck_ok(thickness(s, 1, 2, "bea", why));
    ck_ok(store_undo(s, 2, "ann", &gone, 1, why));
    ck_assert_int_eq(store_undo(s, 2, "ann", &gone, 1, &cause), BASE_UNKNOWN);
    store_close(s);
    ck_ok(store_open(path, false, &s, why)); /* the log reads on */
    ck_assert_int_eq(store_standing(s, &e, 9), 3);
    ck_assert(e[0].seq == 4 && e[1].seq == 3 && e[2].seq == 1);
    ck_assert_int_eq(store_taken_back(s, &e, 9), 1);
    ck_assert(e->seq == 2 && e->last == 5);
    ck_ok(store_redo(s, 2, "ann", &wide, 1, why));
    ck_assert_int_eq(store_standing(s, &e, 9), 4);
    ck_assert(e->seq == 2 && e->last == 6);
    work_check(s);
    store_close(s);
    free(path);
}
END_TEST

START_TEST(an_item_taken_out_comes_back_whole_where_it_stood)
{
    struct store *s = store_open_memory();
    const struct typed_change drop = {TYPED_ITEM, "strip", "", "strip", NULL};
    ck_ok(work_begin(s, why));
    ck_ok(store_take(s, "strip taken out", "ann", &drop, 1, why));
    expect_state(s, "plate die_plate\n  moves = \"with the bed\"\n  thickness = 32 mm\n");
    ck_ok(work_undo(s, "ann", why));
    expect_state(s, begun);
    store_close(s);
}
END_TEST

START_TEST(an_entry_taken_out_comes_back_where_it_stood)
{
    struct store *s = store_open_memory();
    const struct typed_change drop = {TYPED_ENTRY, "die_plate", "moves", "\"with the bed\"", NULL};
    ck_ok(work_begin(s, why));
    ck_ok(store_take(s, "moves blank", "ann", &drop, 1, why));
    ck_ok(work_undo(s, "ann", why));
    expect_state(s, begun);
    store_close(s);
}
END_TEST

START_TEST(changes_of_one_event_build_on_each_other)
{
    struct store *s = store_open_memory();
    const struct typed_change c[] = {
        {TYPED_NAME, "die_plate", "", "die_plate", "lower_plate"},
        {TYPED_ENTRY, "lower_plate", "thickness", "32 mm", "36 mm"},
        {TYPED_ITEM, "lower_plate", "", "plate", "riser"},
        {TYPED_PLACE, "lower_plate", "", "1", "0"},
        {TYPED_ORDER, "lower_plate", "thickness", "1", "-5"}, /* beyond the ends means the end */
    };
    ck_ok(work_begin(s, why));
    ck_ok(store_take(s, "many", "ann", c, COUNT_OF(c), why));
    expect_state(s, "riser lower_plate\n  thickness = 36 mm\n  moves = \"with the bed\"\nstrip strip\n  "
                    "thickness = 2 mm\n");
    ck_ok(work_undo(s, "ann", why));
    expect_state(s, begun);
    store_close(s);
}
END_TEST

START_TEST(an_event_that_changes_nothing_is_not_kept)
{
    struct store *s = store_open_memory();
    ck_ok(work_begin(s, why));
    ck_ok(thickness(s, 0, 0, "ann", why));
    ck_ok(store_take(s, "nothing", "ann", NULL, 0, why));
    ck_assert_int_eq(store_event_count(s), 1);
    store_close(s);
}
END_TEST

/* ---- conflicts ------------------------------------------------------------------------------ */

static const struct { struct typed_change c; const char *says;
} conflicts[] = {
    {{TYPED_ENTRY, "die_plate", "thickness", "31 mm", "36 mm"},
     "die_plate.thickness has changed meanwhile: \"32 mm\" stands there now (ann, "},
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"}, ", not nothing. Your edit was not taken."},
    {{TYPED_ENTRY, "die_plate", "thickness/reason", "x", NULL},
     "die_plate.thickness.reason has changed meanwhile: nothing stands there now, not \"x\"."},
    {{TYPED_ENTRY, "riser", "thickness", NULL, "36 mm"}, "There is no riser (any more)."},
    {{TYPED_ITEM, "die_plate", "", NULL, "plate"},
     "die_plate has changed meanwhile: \"plate\" stands there now"},
    {{TYPED_ITEM, "die_plate", "", "screws", NULL}, "die_plate has changed meanwhile"},
    {{TYPED_ITEM, "riser", "", "plate", NULL}, "There is no riser (any more)."},
    {{TYPED_NAME, "die_plate", "", "die_plate", "strip"}, "There is an item strip already."},
    {{TYPED_NAME, "riser", "", "riser", "x"}, "There is no riser (any more)."},
    {{TYPED_PLACE, "die_plate", "", "0", "1"},
     "die_plate has been moved meanwhile: it stands at place 1 now, not 0."},
    {{TYPED_ORDER, "die_plate", "thickness", "0", "1"},
     "die_plate.thickness has been moved meanwhile: it stands at place 1 now, not 0."},
    {{TYPED_ORDER, "die_plate", "width", "0", "1"}, "There is no die_plate.width (any more)."},
};

START_TEST(a_before_that_does_not_hold_takes_nothing)
{
    struct store *s = store_open_memory();
    struct base_diag cause = {0};
    ck_ok(work_begin(s, why));
    const struct typed_change c[] = {{TYPED_ENTRY, "strip", "thickness", "2 mm", "3 mm"}, conflicts[_i].c};
    ck_assert_int_eq(store_take(s, "two", "bea", c, 2, &cause), BASE_CONFLICT);
    ck_assert_msg(strstr(cause.message, conflicts[_i].says) != NULL, "%s", cause.message);
    expect_state(s, begun);
    ck_assert_int_eq(store_event_count(s), 1);
    store_close(s);
}
END_TEST

START_TEST(two_who_edit_one_file_see_each_other)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *a, *b;
    struct base_diag cause = {0};
    ck_ok(store_create(path, &a, why));
    ck_ok(work_begin(a, why));
    ck_ok(store_open(path, false, &b, why));
    ck_assert(!store_changed(a) && !store_changed(b));
    ck_ok(thickness(a, 0, 1, "ann", why));
    ck_assert(!store_changed(a)); /* one's own edit is no news */
    ck_assert_int_eq(thickness(b, 0, 2, "bea", &cause), BASE_CONFLICT);
    ck_assert_ptr_nonnull(strstr(cause.message, "\"36 mm\" stands there now (ann, "));
    ck_assert(store_changed(b) && !store_changed(b));

    /* Never one that was not looked at. */
    ck_assert_int_eq(work_undo(b, "bea", &cause), BASE_CONFLICT);
    ck_assert_str_eq(
        cause.message,
        "ann has edited meanwhile (die_plate.thickness 32 mm -> 36 mm). Look at that first, then undo.");
    char *state = work_state(b);
    ck_ok(work_undo(b, "bea", why));
    ck_assert(store_changed(a));
    expect_state(a, begun);
    ck_ok(thickness(a, 0, 3, "ann", why));
    free(state);
    work_check(b);
    store_close(a);
    store_close(b);
    free(path);
}
END_TEST

static enum base_err tried_between;

/* Somebody else adds a plate just before the entries are read, as soon as the items are. */
static int add_between(unsigned event, void *arg, void *statement, void *sql)
{
    static const struct typed_change come[] = {{TYPED_ITEM, "guide", "", NULL, "plate"},
                                               {TYPED_ENTRY, "guide", "thickness", NULL, "8 mm"}};
    struct store *other = arg;
    (void)event, (void)statement;
    if (strstr(sql, "JOIN entry"))
        tried_between = store_take(other, "guide added", "bea", come, 2, NULL);
    return 0;
}

/* Items and entries are those of one edit: who edits between the two waits. */
START_TEST(what_is_read_is_what_one_edit_left)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *a, *b;
    struct store_state is;
    ck_ok(store_create(path, &a, why));
    ck_ok(work_begin(a, why));
    ck_ok(store_open(path, false, &b, why));
    sqlite3_busy_timeout(b->db, 0);
    sqlite3_trace_v2(a->db, SQLITE_TRACE_STMT, add_between, b);
    tried_between = BASE_OK;
    ck_ok(store_read(a, &is, why));
    ck_assert_int_eq(is.n_items, 2);
    ck_assert_int_eq(is.n_entries, 3);
    ck_assert_int_eq(tried_between, BASE_NOT_SAVED);
    sqlite3_trace_v2(a->db, 0, NULL, NULL);
    store_close(b);
    work_check(a);
    store_close(a);
    free(path);
}
END_TEST

START_TEST(an_edit_elsewhere_in_the_job_is_no_conflict)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *a, *b;
    const struct typed_change c = {TYPED_ENTRY, "strip", "thickness", "2 mm", "3 mm"};
    ck_ok(store_create(path, &a, why));
    ck_ok(work_begin(a, why));
    ck_ok(store_open(path, false, &b, why));
    ck_ok(thickness(a, 0, 1, "ann", why));
    ck_ok(store_take(b, "strip.thickness", "bea", &c, 1, why));
    work_check(a);
    char *one = work_state(a), *other = work_state(b);
    ck_assert_str_eq(one, other);
    free(one);
    free(other);
    store_close(a);
    store_close(b);
    free(path);
}
END_TEST

/* ---- parts tables ------------------------------------------------------------------------------ */

static const char screws_csv[] =
    "# title: screws\n# source: invented\nsize,length_mm,note\nM8,30,\nM8,35,\"long, \"\"best\"\"\"\n";

START_TEST(parts_tables_are_kept_as_text_and_as_rows)
{
    char *path = path_in_fresh_folder("a.diejob");
    struct store *s;
    struct store_table t;
    uint64_t want = base_hash(screws_csv, strlen(screws_csv));
    ck_ok(store_create(path, &s, why));
    ck_ok(store_put_table(s, "screws.csv", "size\nM6\n", 8, 1, true, why));
    ck_ok(store_put_table(s, "holes.csv", "size\nM6\n", 8, 1, true, why));
    /* in place of the first */
    ck_ok(store_put_table(s, "screws.csv", screws_csv, strlen(screws_csv), want, false, why));
    store_close(s);
    ck_ok(store_open(path, true, &s, why));
    ck_assert_int_eq(store_table_count(s), 2);
    ck_assert(store_table(s, "screws.csv", &t));
    ck_assert_str_eq(t.file, "screws.csv");
    ck_assert_str_eq(t.csv, screws_csv);
    ck_assert_uint_eq(t.length, strlen(screws_csv));
    ck_assert(t.checksum == want && !t.shipped);
    ck_assert(!store_table(s, "posts.csv", &t));
    ck_assert(store_table_after(s, "", &t) && strcmp(t.file, "holes.csv") == 0 && t.shipped);
    ck_assert(store_table_after(s, "holes.csv", &t) && strcmp(t.file, "screws.csv") == 0);
    ck_assert(!store_table_after(s, "screws.csv", &t));
    store_close(s);

    /* what a person sees with the sqlite3 tool */
    sqlite3 *db;
    sqlite3_stmt *st;
    ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
    ck_assert_int_eq(sqlite3_prepare_v2(
                         db, "SELECT line, cells ->> 'note' FROM part_row WHERE cells ->> 'length_mm' = '35'",
                         -1, &st, NULL),
                     SQLITE_OK);
    ck_assert_int_eq(sqlite3_step(st), SQLITE_ROW);
    ck_assert_int_eq(sqlite3_column_int(st, 0), 5);
    ck_assert_str_eq((const char *)sqlite3_column_text(st, 1), "long, \"best\"");
    ck_assert_int_eq(sqlite3_step(st), SQLITE_DONE);
    sqlite3_finalize(st);
    sqlite3_close(db);
    free(path);
}
END_TEST

START_TEST(a_table_that_does_not_read_is_refused_whole)
{
    struct store *s = store_open_memory();
    struct base_diag cause = {0};
    ck_assert_int_eq(store_put_table(s, "a.csv", "size,d\nM8\n", 10, 1, false, &cause), BASE_UNREADABLE);
    ck_assert_str_eq(cause.file, "a.csv");
    ck_assert_int_eq(cause.line, 2);
    ck_assert_int_eq(store_table_count(s), 0);
    ck_ok(work_begin(s, why));
    char *huge = base_alloc(1000001);
    memset(huge, 'a', 1000000);
    ck_assert_int_eq(store_put_table(s, "b.csv", huge, 1000000, 1, false, &cause), BASE_REFUSED);
    const struct typed_change c = {TYPED_ENTRY, "strip", "note", NULL, huge};
    ck_assert_int_eq(store_take(s, "long", "ann", &c, 1, &cause), BASE_REFUSED);
    expect_state(s, begun);
    free(huge);
    store_close(s);
}
END_TEST

/* What asking for one of N tables costs, in steps of SQLite's machine. */
static int steps_among(int n)
{
    struct store *s = store_open_memory();
    struct store_table *tables = base_alloc((size_t)n * sizeof *tables), t;
    for (int i = 0; i < n; i++)
        tables[i] = (struct store_table){base_format("t%05d.csv", i), "size\nM6\n", 8, 1, true};
    ck_ok(store_put_tables(s, tables, n, why));
    ck_assert(store_table(s, tables[n - 1].file, &t));
    ck_assert(store_table_after(s, tables[n - 2].file, &t));
    int steps = sqlite3_stmt_status(s->statements[SQL_TABLE], SQLITE_STMTSTATUS_VM_STEP, 1) +
                sqlite3_stmt_status(s->statements[SQL_TABLE_AFTER], SQLITE_STMTSTATUS_VM_STEP, 1);
    for (int i = 0; i < n; i++)
        free((void *)(uintptr_t)tables[i].file);
    free(tables);
    store_close(s);
    return steps;
}

START_TEST(a_table_among_many_is_found_in_as_many_steps_as_among_few)
{
    int few = steps_among(20), many = steps_among(2000);
    ck_assert_msg(many <= few + 10, "%d steps among 20 tables, %d among 2000", few, many);
}
END_TEST

/* A job of N edits more, every fourth one taken back, written by one and read by another. */
static struct store *among_edits(const char *path, int n)
{
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    for (int i = 0; i < n; i++)
        ck_ok(thickness(s, i % 2, 1 - i % 2, "ann", why));
    for (int i = 0; i < n / 4 * 2; i++)
        ck_ok(work_undo(s, "ann", why));
    store_close(s);
    ck_ok(store_open(path, false, &s, why));
    return s;
}

static int runs_of(struct store *s, enum sql which)
{
    return sqlite3_stmt_status(s->statements[which], SQLITE_STMTSTATUS_RUN, 1);
}

/* Each run of a statement outside of a transaction locks the file anew, and takes longer than its rows. */
START_TEST(events_are_read_at_one_look_however_many_they_are)
{
    char *path = path_in_fresh_folder("a.diejob");
    const struct typed_event *e;
    shim_install();
    struct store *s = among_edits(path, 40);
    ck_assert_int_eq(runs_of(s, SQL_EVENTS_AFTER) + runs_of(s, SQL_CHANGES_AFTER), 2);
    long before = shim_locks();
    ck_assert_int_eq(store_history(s, &e, 1000), 61);
    long once = shim_locks() - before;
    ck_assert_int_eq(runs_of(s, SQL_EVENTS_DOWN) + runs_of(s, SQL_CHANGES_DOWN), 2);
    ck_assert_int_eq(store_standing(s, &e, 1000), 21);
    ck_assert_int_eq(shim_locks() - before, 2 * once);
    ck_assert_int_eq(store_taken_back(s, &e, 1000), 20);
    ck_assert_int_eq(shim_locks() - before, 3 * once);
    store_close(s);
    shim_remove();
    free(path);
}
END_TEST

/* What is lent of each event when all are read at once is what is lent of it alone. */
START_TEST(history_read_at_once_tells_each_event_as_it_is)
{
    struct store *s = store_open_memory();
    const struct typed_event *e;
    ck_ok(work_begin(s, why));
    for (int i = 0; i < 40; i++)
        ck_ok(work_edit(s, i, why));
    int n = store_history(s, &e, 1000);
    ck_assert_int_eq(n, store_event_count(s));
    n = store_history(s, &e, 1000);
    struct base_text all = {0}, one = {0};
    for (int i = 0; i < n; i++) {
        ck_assert_int_eq(e[i].seq, n - i);
        base_text_addf(&all, "%ld %s %s %d\n", e[i].seq, e[i].title, e[i].who, e[i].undone);
        for (int c = 0; c < e[i].n_changes; c++)
            base_text_addf(&all, " %d %s %s %s %s\n", (int)e[i].changes[c].what, e[i].changes[c].item,
                           e[i].changes[c].path, e[i].changes[c].before ? e[i].changes[c].before : "-",
                           e[i].changes[c].after ? e[i].changes[c].after : "-");
    }
    sqlite3_stmt *st, *ch;
    static const char events[] = "SELECT seq, title, who FROM event ORDER BY seq DESC",
                      changes[] = "SELECT what, item, path, coalesce(before, '-'), coalesce(after, '-')"
                                  " FROM change WHERE seq = ?1 ORDER BY n";
    static const char *const kinds[] = {"entry", "item", "name", "place", "order"};
    ck_assert_int_eq(sqlite3_prepare_v2(s->db, events, -1, &st, NULL), SQLITE_OK);
    ck_assert_int_eq(sqlite3_prepare_v2(s->db, changes, -1, &ch, NULL), SQLITE_OK);
    while (sqlite3_step(st) == SQLITE_ROW) {
        int64_t seq = sqlite3_column_int64(st, 0);
        base_text_addf(&one, "%ld %s %s %d\n", (long)seq, sqlite3_column_text(st, 1),
                       sqlite3_column_text(st, 2), s->taken_back.at[seq - 1]);
        sqlite3_bind_int64(ch, 1, seq);
        while (sqlite3_step(ch) == SQLITE_ROW) {
            int kind = 0;
            while (strcmp(kinds[kind], (const char *)sqlite3_column_text(ch, 0)) != 0)
                kind++;
            base_text_addf(&one, " %d", kind);
            for (int column = 1; column < 5; column++)
                base_text_addf(&one, " %s", sqlite3_column_text(ch, column));
            base_text_add(&one, "\n");
        }
        sqlite3_reset(ch);
    }
    sqlite3_finalize(st);
    sqlite3_finalize(ch);
    ck_assert_str_eq(base_text_get(&all), base_text_get(&one));
    base_text_done(&all);
    base_text_done(&one);
    store_close(s);
}
END_TEST

TCase *store_edits_case(void)
{
    TCase *t = tcase_create("edits");
    tcase_add_test(t, events_are_read_at_one_look_however_many_they_are);
    tcase_add_test(t, history_read_at_once_tells_each_event_as_it_is);
    tcase_add_test(t, a_table_among_many_is_found_in_as_many_steps_as_among_few);
    tcase_add_test(t, what_is_taken_is_read_back_after_closing);
    tcase_add_test(t, a_job_in_memory_does_the_same);
    tcase_add_test(t, undo_and_redo_go_all_the_way_and_survive_closing);
    tcase_add_test(t, nothing_to_undo_is_said);
    tcase_add_test(t, an_edit_after_undo_ends_the_writers_redo_but_not_history);
    tcase_add_test(t, an_edit_is_taken_back_from_under_others);
    tcase_add_test(t, an_item_taken_out_comes_back_whole_where_it_stood);
    tcase_add_test(t, an_entry_taken_out_comes_back_where_it_stood);
    tcase_add_test(t, changes_of_one_event_build_on_each_other);
    tcase_add_test(t, an_event_that_changes_nothing_is_not_kept);
    tcase_add_loop_test(t, a_before_that_does_not_hold_takes_nothing, 0, COUNT_OF(conflicts));
    tcase_add_test(t, two_who_edit_one_file_see_each_other);
    tcase_add_test(t, what_is_read_is_what_one_edit_left);
    tcase_add_test(t, an_edit_elsewhere_in_the_job_is_no_conflict);
    tcase_add_test(t, parts_tables_are_kept_as_text_and_as_rows);
    tcase_add_test(t, a_table_that_does_not_read_is_refused_whole);
    tcase_set_timeout(t, 30);
    return t;
}
