/* Files that are foreign, damaged, older, newer, not writable; copies. */

#include "../common.h"
#include "store/inside.h"
#include "suites.h"
#include "work.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static const char table_csv[] = "# source: invented\nsize,length_mm\nM8,30\nM8,35\n";

/* A job of a few events and one table at PATH, closed. */
static void make_job(const char *path, int edits)
{
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    for (int i = 1; i <= edits; i++)
        ck_ok(work_edit(s, i, why));
    ck_ok(store_put_table(s, "screws.csv", table_csv, strlen(table_csv),
                          base_hash(table_csv, strlen(table_csv)), true, why));
    store_close(s);
}

static void run_sql(const char *path, const char *sql)
{
    sqlite3 *db;
    char *message = NULL;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_exec(db, sql, NULL, NULL, &message);
    ck_assert_msg(!message, "%s: %s", sql, message);
    ck_assert_int_eq(sqlite3_close(db), SQLITE_OK);
}

/* ---- refused, each with its sentence ------------------------------------------------------ */

static void make_text(const char *path) { work_save(path, (const unsigned char *)"thickness = 32 mm\n", 18); }
static void make_longer_text(const char *path)
{
    unsigned char text[5000];
    memset(text, 'x', sizeof text);
    work_save(path, text, sizeof text);
}
static void make_empty(const char *path) { work_save(path, NULL, 0); }
static void make_folder(const char *path) { ck_assert_int_eq(mkdir(path, 0777), 0); }
static void make_pipe(const char *path) { ck_assert_int_eq(mkfifo(path, 0666), 0); }
static void make_nothing(const char *path) { (void)path; }
static void make_foreign(const char *path) { run_sql(path, "CREATE TABLE t (x)"); }
static void make_formless(const char *path)
{
    run_sql(path, "PRAGMA application_id = 1146571330; CREATE TABLE t (x)");
}
static void make_stranger(const char *path)
{
    run_sql(path, "PRAGMA application_id = 1146571330; PRAGMA user_version = 2; CREATE TABLE t (x)");
}

static void make_newer(const char *path)
{
    make_job(path, 1);
    run_sql(path, "PRAGMA user_version = 3");
}

static void make_with_view(const char *path)
{
    make_job(path, 1);
    run_sql(path, "CREATE VIEW v AS SELECT 1");
}

static void make_wal(const char *path)
{
    make_job(path, 1);
    run_sql(path, "PRAGMA journal_mode = WAL");
}

static void make_touched(const char *path)
{
    make_job(path, 1);
    run_sql(path, "UPDATE entry SET text = '33 mm' WHERE path = 'thickness'");
}

static void make_rewritten(const char *path)
{
    make_job(path, 1);
    run_sql(path, "UPDATE event SET who = 'bea' WHERE seq = 1");
}

static void make_forgetful(const char *path)
{
    make_job(path, 1);
    run_sql(path, "DELETE FROM change WHERE seq = 2; DELETE FROM event WHERE seq = 2");
}

static void make_other_part(const char *path)
{
    make_job(path, 1);
    run_sql(path, "UPDATE part_table SET csv = replace(csv, '35', '36')");
}

static void cut(const char *path, size_t left)
{
    make_job(path, 1);
    struct bytes b = work_load(path);
    work_save(path, b.at, left ? left : b.length / 2);
    free(b.at);
}
static void make_half(const char *path) { cut(path, 0); }
static void make_stump(const char *path) { cut(path, 50); }

static const struct { void (*make)(const char *path); const char *says;
} refused[] = {
    {make_text, "%s is not a job file: it does not begin like one."},
    {make_longer_text, "%s is not a job file: it does not begin like one."},
    {make_empty, "%s is empty. A job file never is: take the last good copy, or begin a new job."},
    {make_folder, "%s is a folder, not a job file."},
    {make_pipe, "%s is not an ordinary file."},
    {make_nothing, "%s cannot be read: No such file or directory."},
    {make_foreign, "%s is not a job file: it is a database of another program."},
    {make_formless, "%s is damaged: it does not say which form it has."},
    {make_stranger, "%s is damaged, or another program has altered its tables. It was left as it is; take "
                    "the last good copy."},
    {make_newer, "%s was written by a newer version of diewright (form 3; this version knows forms up to 2). "
                 "Open it with that version."},
    {make_with_view, "%s is damaged, or another program has altered its tables. It was left as it is; take "
                     "the last good copy."},
    {make_wal, "%s is set to keep its edits in a second file beside it, which a job file never is."},
    {make_touched,
     "%s is damaged: it does not hold together. It was left as it is; take the last good copy."},
    {make_rewritten,
     "%s is damaged: it does not hold together. It was left as it is; take the last good copy."},
    {make_forgetful,
     "%s is damaged: it does not hold together. It was left as it is; take the last good copy."},
    {make_other_part,
     "%s is damaged: it does not hold together. It was left as it is; take the last good copy."},
    {make_half, "%s is cut short: "},
    {make_stump, "%s is cut short: only 50 bytes are left. Take the last good copy."},
};

START_TEST(what_is_no_whole_job_is_refused_and_left_alone)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    refused[_i].make(path);
    struct stat st;
    bool file = stat(path, &st) == 0 && S_ISREG(st.st_mode);
    struct bytes before = {0};
    if (file)
        before = work_load(path);
    for (int readonly = 0; readonly < 2; readonly++) {
        struct store *s;
        struct base_diag cause = {0};
        ck_assert_int_eq(store_open(path, readonly, &s, &cause), BASE_UNREADABLE);
        ck_assert_ptr_null(s);
        const char *rest = refused[_i].says + 2;
        ck_assert_int_eq(strncmp(cause.message, path, strlen(path)), 0);
        ck_assert_msg(strncmp(cause.message + strlen(path), rest, strlen(rest)) == 0, "%s", cause.message);
        if (file)
            work_same_bytes(path, before);
    }
    free(before.at);
    free(path);
}
END_TEST

START_TEST(a_new_file_takes_no_name_that_is_taken)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    struct base_diag cause = {0};
    make_text(path);
    ck_assert_int_eq(store_create(path, &s, &cause), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(cause.message, "a.diejob exists already: choose another name."));
    char *text = read_text(path);
    ck_assert_str_eq(text, "thickness = 32 mm\n");
    free(text);
    free(path);
    ck_assert_int_eq(store_create("no/such/folder/a.diejob", &s, &cause), BASE_NOT_SAVED);
    ck_assert_str_eq(cause.message, "not saved: no/such/folder/a.diejob cannot be made: No such file or "
                                    "directory. Choose another place.");
}
END_TEST

/* ---- contents that another program wrote, with sums that are right --------------------------------- */

static void refused_unharmed(const char *path, const char *what)
{
    struct bytes before = work_load(path);
    for (int readonly = 0; readonly < 2; readonly++) {
        struct store *s;
        struct base_diag cause = {0};
        ck_assert_msg(store_open(path, readonly, &s, &cause) == BASE_UNREADABLE, "%s was taken", what);
        ck_assert_msg(strstr(cause.message, "It was left as it is") != NULL, "%s: %s", what, cause.message);
    }
    work_same_bytes(path, before);
    free(before.at);
}

/* Changes that are none: each kind asks for a text before, one after, or either. */
static const char *const no_changes[] = {
    "UPDATE change SET before = NULL, after = NULL WHERE what = 'entry' AND seq = 1",
    "UPDATE change SET before = NULL, after = NULL WHERE what = 'item' AND seq = 1",
    "UPDATE change SET before = NULL WHERE what = 'name'",
    "UPDATE change SET after = NULL WHERE what = 'name'",
    "UPDATE change SET before = NULL WHERE what = 'place'",
    "UPDATE change SET after = NULL WHERE what = 'order'",
    "UPDATE change SET what = 'plate' WHERE seq = 1",
    "UPDATE change SET path = '' WHERE what = 'entry' AND seq = 1",
    "UPDATE change SET path = 'thickness' WHERE what = 'item' AND seq = 1",
};

START_TEST(a_change_that_is_none_is_refused)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    make_job(path, 4);
    work_reseal(path);
    ck_ok(store_open(path, false, &s, why)); /* else the sums would be what is refused */
    work_check(s);
    store_close(s);
    run_sql(path, no_changes[_i]);
    work_reseal(path);
    refused_unharmed(path, no_changes[_i]);
    free(path);
}
END_TEST

/* Nothing, or bytes, where the schema says text: written while another schema stood there. */
static const struct { const char *table, *column;
} texts[] = {
    {"item", "kind"},   {"entry", "text"},     {"event", "role"},          {"event", "title"},
    {"event", "who"},   {"event", "at"},       {"change", "what"},         {"change", "item"},
    {"change", "path"}, {"part_table", "csv"}, {"part_table", "checksum"}, {"part_row", "cells"},
};

START_TEST(a_text_that_is_none_is_refused)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    int number = _i / 2;
    const char *table = texts[number].table, *column = texts[number].column,
               *value = _i % 2 ? "x'ff00'" : "NULL";
    make_job(path, 4);
    char *sql = base_format(
        "PRAGMA writable_schema = ON; CREATE TABLE kept AS SELECT sql FROM sqlite_schema WHERE name = '%s';"
        "UPDATE sqlite_schema SET sql = replace(replace(replace(sql, '%s TEXT NOT NULL', '%s'), ') STRICT, "
        "', ') '), ') STRICT', ')')"
        " WHERE name = '%s'",
        table, column, column, table);
    run_sql(path, sql);
    free(sql);
    sql = base_format("UPDATE %s SET %s = %s", table, column, value);
    run_sql(path, sql);
    free(sql);
    sql = base_format("PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = (SELECT sql FROM kept) "
                      "WHERE name = '%s'; DROP TABLE kept",
                      table);
    run_sql(path, sql);
    free(sql);
    refused_unharmed(path, column);
    free(path);
}
END_TEST

/* ---- flipped bytes ---------------------------------------------------------------------------- */

static char *everything(struct store *s)
{
    struct store_table t = {.csv = "no table"};
    char *state = work_state(s), *log = work_log(s);
    int tables = store_table_count(s);
    store_table_after(s, "", &t);
    char *all = base_format("%s%s%d %s", state, log, tables, t.csv);
    free(state);
    free(log);
    return all;
}

START_TEST(a_flipped_byte_is_noticed_or_does_no_harm)
{
    char *good = base_format("%s/a.diejob", fresh_folder()), *bad = base_format("%s.bad", good);
    make_job(good, 16);
    struct store *s;
    ck_ok(store_open(good, true, &s, why));
    char *want = everything(s);
    store_close(s);
    struct bytes b = work_load(good);
    unsigned seed = 7;
    int noticed = 0;
    for (int i = 0; i < 200; i++) {
        /* every fourth in the header or the first page, where a byte matters most */
        size_t at = work_random(&seed) % (i % 4 ? b.length : 4096);
        unsigned char flip = (unsigned char)(work_random(&seed) % 255 + 1);
        b.at[at] ^= flip;
        work_save(bad, b.at, b.length);
        enum base_err err = store_open(bad, i % 2, &s, NULL);
        if (err) {
            ck_assert_int_eq(err, BASE_UNREADABLE);
            work_same_bytes(bad, b);
            noticed++;
        } else {
            char *have = everything(s);
            ck_assert_msg(strcmp(have, want) == 0, "byte %zu changed what is read", at);
            free(have);
            store_close(s);
        }
        b.at[at] ^= flip;
    }
    ck_assert_int_gt(noticed, 20);
    free(b.at);
    free(want);
    free(good);
    free(bad);
}
END_TEST

/* ---- without leave to write -------------------------------------------------------------------- */

/* Run CALL as a person to whom permissions apply; the superuser is no such person. */
static void as_ordinary_person(void (*call)(const char *folder), const char *folder)
{
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(9);
        call(folder);
        _exit(0);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "step %d failed", WEXITSTATUS(status));
}

/* In a child: no assertions of the test library, only an exit status. */
static void look_without_leave(const char *folder)
{
    char *path = base_format("%s/a.diejob", folder);
    const struct typed_change c = {TYPED_ENTRY, "strip", "thickness", "2 mm", "3 mm"};
    struct store *s;
    struct base_diag cause = {0};
    if (access(path, W_OK) == 0 && access(folder, W_OK) == 0)
        _exit(2);
    if (store_open(path, false, &s, &cause) != BASE_OK)
        _exit(3);
    if (!store_readonly(s) || store_event_count(s) != 9)
        _exit(4);
    if (store_take(s, "x", "ann", &c, 1, &cause) != BASE_NOT_SAVED ||
        strncmp(cause.message, "not saved: ", 11) != 0)
        _exit(5);
    store_close(s);
    free(path);
}

static const struct { mode_t file, folder; } closed[] = {{0444, 0555}, {0666, 0555}, {0444, 0777}};

START_TEST(a_file_or_folder_without_leave_to_write_opens_for_looking)
{
    char folder[] = P_tmpdir "/diewright-XXXXXX"; /* where anybody may go, which holds for no other folder */
    ck_assert_ptr_nonnull(mkdtemp(folder));
    char *path = base_format("%s/a.diejob", folder);
    make_job(path, 8);
    struct bytes before = work_load(path);
    chmod(path, closed[_i].file);
    chmod(folder, closed[_i].folder);
    as_ordinary_person(look_without_leave, folder);
    work_same_bytes(path, before);
    chmod(folder, 0777);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(rmdir(folder), 0); /* nothing else was left there */
    free(before.at);
    free(path);
}
END_TEST

START_TEST(opened_for_looking_it_takes_nothing)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *copy = base_format("%s.copy", path);
    struct store *s;
    struct base_diag cause = {0};
    make_job(path, 8);
    struct bytes before = work_load(path);
    ck_ok(store_open(path, true, &s, why));
    ck_assert(store_readonly(s));
    ck_assert_int_eq(work_edit(s, 8, &cause), BASE_NOT_SAVED);
    ck_assert_ptr_nonnull(
        strstr(cause.message, "is open for looking only. Save the job to another place to keep the edit."));
    ck_assert_int_eq(work_undo(s, "ann", &cause), BASE_NOT_SAVED);
    ck_assert_int_eq(store_put_table(s, "a.csv", "a\n1\n", 4, 1, false, &cause), BASE_NOT_SAVED);
    ck_ok(store_copy(s, copy, why));
    store_close(s);
    work_same_bytes(path, before);
    ck_ok(store_open(copy, false, &s, why));
    ck_ok(work_edit(s, 8, why));
    store_close(s);
    free(before.at);
    free(path);
    free(copy);
}
END_TEST

START_TEST(a_file_put_aside_while_open_is_told)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *other = base_format("%s.old", path);
    struct store *s;
    struct base_diag cause = {0};
    make_job(path, 1);
    ck_ok(store_open(path, false, &s, why));
    ck_assert_int_eq(rename(path, other), 0);
    ck_assert_int_eq(work_edit(s, 2, &cause), BASE_NOT_SAVED);
    ck_assert_ptr_nonnull(
        strstr(cause.message,
               "has been moved, removed or replaced since it was opened. Save the job to another place."));
    ck_ok(store_copy(s, path, why));
    store_close(s);
    ck_ok(store_open(path, false, &s, why));
    work_check(s);
    store_close(s);
    free(path);
    free(other);
}
END_TEST

/* ---- copies --------------------------------------------------------------------------------------- */

START_TEST(a_copy_holds_everything_and_lives_on_its_own)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *copy = base_format("%s.copy", path);
    struct store *a, *b;
    struct base_diag cause = {0};
    make_job(path, 21);
    ck_ok(store_open(path, false, &a, why));
    ck_ok(store_copy(a, copy, why));
    ck_assert_int_eq(store_copy(a, copy, &cause), BASE_REFUSED);
    ck_ok(store_open(copy, false, &b, why));
    char *one = everything(a), *other = everything(b);
    ck_assert_str_eq(one, other);
    ck_ok(work_edit(b, 24, why));
    ck_assert_int_eq(store_event_count(a), 22);
    ck_assert_int_eq(store_event_count(b), 23);
    store_close(a);
    store_close(b);
    free(one);
    free(other);
    free(path);
    free(copy);
}
END_TEST

START_TEST(a_job_in_memory_is_saved_to_a_file)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s = store_open_memory();
    ck_ok(work_begin(s, why));
    ck_ok(work_edit(s, 1, why));
    char *want = work_state(s);
    ck_ok(store_copy(s, path, why));
    store_close(s);
    ck_ok(store_open(path, false, &s, why));
    char *have = work_state(s);
    ck_assert_str_eq(have, want);
    store_close(s);
    free(want);
    free(have);
    free(path);
}
END_TEST

/* ---- forms ------------------------------------------------------------------------------------------ */

#define REMARKS "CREATE TABLE remark (item TEXT NOT NULL, says TEXT NOT NULL) STRICT;"
#define WAIVERS "CREATE TABLE waiver (rule TEXT NOT NULL) STRICT;"

/* Two forms to come. */
static const struct schema_step to_come[] = {
    {2, REMARKS "INSERT INTO remark SELECT name, kind FROM item;"},
    {3, WAIVERS},
};

START_TEST(an_older_form_is_brought_up_to_date_and_the_old_file_kept)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *old = base_format("%s.form2", path);
    char *sql = base_format("%s %s %s PRAGMA user_version = 4;", store_schema.sql, REMARKS, WAIVERS);
    const struct schema fourth = {.form = 4, .sql = sql, .steps = to_come, .n_steps = 2};
    struct store *s;
    struct base_diag cause = {0};
    make_job(path, 5);
    struct bytes before = work_load(path);
    ck_assert_int_eq(store_open_as(path, true, &fourth, &s, &cause), BASE_UNREADABLE);
    ck_assert_ptr_nonnull(
        strstr(cause.message, "has an older form. Open it once for editing, which brings it up to date."));
    work_same_bytes(path, before);

    ck_ok(store_open_as(path, false, &fourth, &s, why));
    ck_ok(work_edit(s, 8, why));
    work_check(s);
    store_close(s);
    work_same_bytes(old, before);
    ck_ok(store_open_as(path, true, &fourth, &s, why));
    ck_assert_int_eq(store_event_count(s), 7);
    store_close(s);
    /* and this version does not touch it again */
    ck_assert_int_eq(store_open(path, false, &s, &cause), BASE_UNREADABLE);
    ck_assert_ptr_nonnull(strstr(cause.message, "newer version of diewright (form 4"));
    free(before.at);
    free(sql);
    free(old);
    free(path);
}
END_TEST

static const struct schema_step bad_step[] = {
    {2, "CREATE TABLE remark (x INTEGER) STRICT; INSERT INTO remark VALUES ('not a number')"}};
static const struct schema_step gap[] = {{3, WAIVERS}};
static const struct schema_step other_result[] = {{2, WAIVERS}};
static const struct { const struct schema_step *steps; const char *says; } bad_steps[] = {
    {bad_step, "cannot be brought from form 2 to form 3 ("},
    {gap, "has form 2, and no way leads from there to form 3."},
    {other_result, "cannot be brought up to date: it would not read back as it should."},
};

START_TEST(an_upgrade_that_fails_leaves_the_file_as_it_was)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    char *sql = base_format("%s %s PRAGMA user_version = 3;", store_schema.sql, REMARKS);
    const struct schema third = {.form = 3, .sql = sql, .steps = bad_steps[_i].steps, .n_steps = 1};
    struct store *s;
    struct base_diag cause = {0};
    make_job(path, 5);
    struct bytes before = work_load(path);
    ck_assert_int_ne(store_open_as(path, false, &third, &s, &cause), BASE_OK);
    ck_assert_msg(strstr(cause.message, bad_steps[_i].says) != NULL, "%s", cause.message);
    work_same_bytes(path, before);
    char *list = base_format("ls %s* | wc -l", path);
    ck_assert_int_eq(atoi(output_of(list, NULL)), 1);
    free(list);
    free(before.at);
    free(sql);
    free(path);
}
END_TEST

/* The first form as it was published: it is read as it is for ever, and edited it becomes the newest, the old
   file kept. */
START_TEST(a_file_of_the_first_form_is_read_on)
{
    bool readonly = _i != 0;
    struct bytes form = work_load("tests/store/form1.diejob");
    char *path = base_format("%s/a.diejob", fresh_folder()), *old = base_format("%s.form1", path);
    work_save(path, form.at, form.length);
    struct store *s;
    ck_ok(store_open(path, readonly, &s, why));
    char *state = work_state(s);
    ck_assert_str_eq(
        state,
        "strip strip\n  thickness = 2 mm\nplate die_plate\n  moves = \"with the bed\"\n  thickness = 8.5 mm\n"
        "screws bolts_1\n  lay/end = 25 mm\n  lay = six\n");
    struct store_table table;
    ck_assert(store_table_after(s, "", &table));
    ck_assert_str_eq(table.csv, table_csv);
    ck_assert_int_eq(store_event_count(s), 10);
    work_check(s);
    store_close(s);
    work_same_bytes(readonly ? path : old, form);
    free(state);
    free(form.at);
    free(old);
    free(path);
}
END_TEST

/* The log of form 2 may take an edit back from among others, which a program of form 1 would call damage: it
   refuses the file instead. */
START_TEST(a_program_of_the_first_form_leaves_a_newer_file_alone)
{
    const struct schema first = {.form = 1, .sql = store_schema.sql};
    struct store *s;
    struct base_diag cause = {0};
    char *path = base_format("%s/a.diejob", fresh_folder());
    make_job(path, 5);
    struct bytes before = work_load(path);
    ck_assert_int_eq(store_open_as(path, false, &first, &s, &cause), BASE_UNREADABLE);
    ck_assert_ptr_nonnull(
        strstr(cause.message,
               "was written by a newer version of diewright (form 2; this version knows forms up to 1)."));
    work_same_bytes(path, before);
    free(before.at);
    free(path);
}
END_TEST

TCase *store_files_case(void)
{
    TCase *t = tcase_create("files");
    tcase_add_loop_test(t, what_is_no_whole_job_is_refused_and_left_alone, 0, COUNT_OF(refused));
    tcase_add_loop_test(t, a_change_that_is_none_is_refused, 0, COUNT_OF(no_changes));
    tcase_add_loop_test(t, a_text_that_is_none_is_refused, 0, 2 * COUNT_OF(texts));
    tcase_add_test(t, a_new_file_takes_no_name_that_is_taken);
    tcase_add_test(t, a_flipped_byte_is_noticed_or_does_no_harm);
    tcase_add_loop_test(t, a_file_or_folder_without_leave_to_write_opens_for_looking, 0, COUNT_OF(closed));
    tcase_add_test(t, opened_for_looking_it_takes_nothing);
    tcase_add_test(t, a_file_put_aside_while_open_is_told);
    tcase_add_test(t, a_copy_holds_everything_and_lives_on_its_own);
    tcase_add_test(t, a_job_in_memory_is_saved_to_a_file);
    tcase_add_test(t, an_older_form_is_brought_up_to_date_and_the_old_file_kept);
    tcase_add_loop_test(t, an_upgrade_that_fails_leaves_the_file_as_it_was, 0, COUNT_OF(bad_steps));
    tcase_add_loop_test(t, a_file_of_the_first_form_is_read_on, 0, 2);
    tcase_add_test(t, a_program_of_the_first_form_leaves_a_newer_file_alone);
    tcase_set_timeout(t, 60);
    return t;
}
