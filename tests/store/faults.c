/* A disk that refuses: every call once, in turn, and a disk that is full. */

#include "../common.h"
#include "shim.h"
#include "suites.h"
#include "work.h"

#include <errno.h>
#include <sched.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static const struct {
    const char *name;
    bool full, for_good;
} faults[] = {
    {"disk full once", true, false},
    {"disk full", true, true},
    {"fault once", false, false},
    {"fault for good", false, true},
};

static const char csv[] = "size,d_mm\nM8,8\nM10,10\n";

static enum base_err do_edit(struct store *s, struct base_diag *why) { return work_edit(s, 8, why); }
static enum base_err do_undo(struct store *s, struct base_diag *why) { return work_undo(s, "ann", why); }
static enum base_err do_table(struct store *s, struct base_diag *why)
{
    return store_put_table(s, "screws.csv", csv, strlen(csv), base_hash(csv, strlen(csv)), true, why);
}

static enum base_err (*const deeds[])(struct store *, struct base_diag *) = {do_edit, do_undo, do_table};

static char *all_of(struct store *s)
{
    char *state = work_state(s);
    char *all = base_format("%s%d tables", state, store_table_count(s));
    free(state);
    return all;
}

/* What the file holds, opened anew. */
static char *reopened(const char *path)
{
    struct store *s;
    ck_ok(store_open(path, false, &s, why));
    work_check(s);
    char *all = all_of(s);
    store_close(s);
    return all;
}

/* Refuse the AT-th call during the deed; false when it has no such call. */
static bool refuse_one(const char *path, struct bytes good, int deed, int fault, long at, const char *old,
                       const char *new)
{
    struct store *s;
    struct base_diag cause = {0};
    char *journal = base_format("%s-journal", path);
    unlink(journal);
    free(journal);
    work_save(path, good.at, good.length);
    ck_ok(store_open(path, false, &s, why));
    shim_fail(at, faults[fault].full, faults[fault].for_good);
    enum base_err err = deeds[deed](s, &cause);
    bool hit = shim_hit();
    shim_fail(0, false, false);
    ck_assert(hit || err == BASE_OK);
    if (err) {
        ck_assert_int_eq(err, BASE_NOT_SAVED);
        ck_assert_int_eq(strncmp(cause.message, "not saved: ", 11), 0);
    }
    char *now = all_of(s);
    if (err == BASE_OK)
        ck_assert_str_eq(now, new);
    else if (!faults[fault].for_good)
        ck_assert_str_eq(now, old);
    else
        ck_assert(strcmp(now, old) == 0 || strcmp(now, new) == 0);
    work_check(s);
    ck_ok(work_edit(s, 16, why)); /* and it goes on */
    free(now);
    now = all_of(s);
    store_close(s);
    char *later = reopened(path);
    ck_assert_str_eq(later, now);
    free(later);
    free(now);
    return hit;
}

START_TEST(a_refused_call_leaves_the_old_state_or_the_new)
{
    int deed = _i / (int)COUNT_OF(faults), fault = _i % (int)COUNT_OF(faults);
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    for (int i = 1; i < 8; i++)
        ck_ok(work_edit(s, i, why));
    char *old = all_of(s);
    store_close(s);
    struct bytes good = work_load(path);
    ck_ok(store_open(path, false, &s, why));
    ck_ok(deeds[deed](s, why));
    char *new = all_of(s);
    store_close(s);
    ck_assert_str_ne(old, new);
    shim_install();
    long at = 1;
    while (refuse_one(path, good, deed, fault, at, old, new))
        at++;
    ck_assert_int_gt(at, 8); /* an edit opens, writes, syncs and truncates more often than that */
    shim_remove();
    free(old);
    free(new);
    free(good.at);
    free(path);
}
END_TEST

/* ---- a disk that refuses again and again, through a whole run of edits ----------------------------- */

static const struct {
    const char *name;
    bool full, half;
} pests[] = {
    {"full", true, false},
    {"fault", false, false},
    {"half of it written, then full", true, true},
    {"half of it written, then a fault", false, true},
};

/* Two rounds of edits, each tried TRIES times while every N-th call is refused; how many were taken. What was
   told as not saved is not there, or it is whole: only putting the journal away was refused. */
static int run_of_edits(const char *path, long n, int pest)
{
    enum { EDITS = 16, TRIES = 4 };
    struct store *s;
    int taken = 0, i = 1;
    long events = 1;
    ck_ok(store_open(path, false, &s, why));
    for (int t = 0; i < 1 + EDITS && t < TRIES; t++) {
        struct base_diag cause = {0};
        char *old = work_state(s);
        shim_fail_every(n, pests[pest].full, pests[pest].half);
        enum base_err err = work_edit(s, i, &cause);
        shim_fail(0, false, false);
        long now = store_event_count(s);
        char *state = work_state(s);
        ck_assert_msg(err == BASE_OK || err == BASE_NOT_SAVED, "%s, every %ld: %d %s", pests[pest].name, n,
                      err, cause.message);
        ck_assert_int_ge(now, events + (err == BASE_OK));
        ck_assert_int_le(now, events + 1);
        if (now == events)
            ck_assert_str_eq(state, old);
        if (now > events) {
            i++;
            t = -1;
            taken++;
        }
        work_check(s);
        events = now;
        free(old);
        free(state);
    }
    char *now = all_of(s);
    store_close(s);
    char *later = reopened(path);
    ck_assert_str_eq(later, now);
    free(later);
    free(now);
    return taken;
}

START_TEST(a_run_goes_on_over_a_disk_that_refuses_every_so_often)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    const char *wanted = getenv("DIEWRIGHT_KILLS"); /* the long run, too */
    long most = wanted ? 200 : 40, step = wanted ? 1 : 3, whole = 0;
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    store_close(s);
    struct bytes good = work_load(path);
    shim_install();
    for (long n = 1; n <= most; n += step) {
        work_save(path, good.at, good.length);
        int taken = run_of_edits(path, n, _i);
        ck_assert_msg(n > 1 || taken == 0, "every call refused, and %d edits were taken", taken);
        whole += taken == 16;
    }
    ck_assert_int_gt(whole,
                     1); /* an edit has some dozen calls: one that is refused leaves time for the next */
    shim_remove();
    free(good.at);
    free(path);
}
END_TEST

static const struct {
    int error;
    bool for_good;
} refusals[] = {{ENOSPC, false}, {ENOSPC, true}, {EIO, false}, {EIO, true}};

static int files_in(const char *folder)
{
    char *list = base_format("ls -A %s | wc -l", folder);
    int n = atoi(output_of(list, NULL));
    free(list);
    return n;
}

START_TEST(a_refused_call_while_copying_leaves_no_half_copy)
{
    char *folder = base_copy(fresh_folder()), *path = base_format("%s/a.diejob", folder),
         *copy = base_format("%s.copy", path);
    struct store *s;
    struct stat st;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    char *want = all_of(s);
    for (long at = 1;; at++) {
        struct base_diag cause = {0};
        shim_refuse(at, refusals[_i].error, refusals[_i].for_good);
        enum base_err err = store_copy(s, copy, &cause);
        bool hit = shim_hit();
        shim_refuse(0, 0, false);
        if (err) {
            ck_assert_int_eq(err, BASE_NOT_SAVED);
            ck_assert_int_eq(strncmp(cause.message, "not saved: ", 11), 0);
            ck_assert_int_ne(stat(copy, &st), 0);
        } else {
            char *have = reopened(copy);
            ck_assert_str_eq(have, want);
            free(have);
            ck_assert_int_eq(unlink(copy), 0);
        }
        work_check(s);
        ck_assert_int_le(files_in(folder), 2); /* the job, and its empty journal while it is open */
        if (!hit) {
            /* it writes, brings to the disk, names, and brings the folder to the disk */
            ck_assert_int_ge(at, 4);
            break;
        }
    }
    store_close(s);
    free(want);
    free(folder);
    free(path);
    free(copy);
}
END_TEST

START_TEST(a_refused_call_while_opening_is_told)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    struct base_diag cause = {0};
    ck_ok(store_create(path, &s, why));
    store_close(s);
    shim_install();
    shim_fail(1, false, false);
    ck_assert_int_eq(store_open(path, false, &s, &cause), BASE_UNREADABLE);
    ck_assert(shim_hit());
    ck_ok(store_open(path, false, &s, why));
    store_close(s);
    shim_remove();
    free(path);
}
END_TEST

/* An edit cut off half way leaves a journal that whoever comes next rolls back, be it only to look. */
START_TEST(half_an_edit_is_never_shown)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *journal = base_format("%s-journal", path);
    char *cut = base_format("%s.cut", path), *cut_journal = base_format("%s-journal", cut);
    struct store *s, *half;
    int cut_off = 0;
    shim_install();
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    char *want = all_of(s);
    for (long at = 1;; at++) {
        struct base_diag cause = {0};
        shim_fail(at, false, true);
        enum base_err err = work_edit(s, 8, &cause);
        struct bytes a = work_load(path), b = work_load(access(journal, F_OK) == 0 ? journal : "/dev/null");
        shim_fail(0, false, false);
        work_save(cut, a.at, a.length);
        work_save(cut_journal, b.at, b.length);
        free(a.at);
        free(b.at);
        if (err == BASE_OK)
            break;
        cut_off++;
        ck_ok(store_open(cut, true, &half, why));
        work_check(half);
        store_close(half);
        char *have = reopened(cut), *now = all_of(s);
        ck_assert_str_eq(have, now);
        bool last = strcmp(now, want) != 0; /* only putting the journal away was refused */
        free(have);
        free(now);
        if (last)
            break;
    }
    ck_assert_int_gt(cut_off, 2);
    store_close(s);
    shim_remove();
    free(want);
    free(path);
    free(journal);
    free(cut);
    free(cut_journal);
}
END_TEST

/* ---- full disks ---------------------------------------------------------------------------------- */

static enum base_err take_note(struct store *s, int i, const char *text, struct base_diag *why)
{
    char path[32];
    snprintf(path, sizeof path, "note_%d", i);
    const struct typed_change c = {TYPED_ENTRY, "strip", path, NULL, text};
    return store_take(s, path, "ann", &c, 1, why);
}

/* Fill the disk below FOLDER with edits until one is refused, and see that nothing else is lost. */
static void fill_up(const char *folder)
{
    char *path = base_format("%s/a.diejob", folder), *elsewhere = base_format("%s/b.diejob", fresh_folder());
    char *text = base_alloc(20001);
    memset(text, 'x', 20000);
    struct store *s;
    struct base_diag cause = {0};
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    int i = 0;
    while (take_note(s, i, text, &cause) == BASE_OK)
        ck_assert_int_lt(++i, 1000);
    ck_assert_int_gt(i, 2);
    ck_assert_ptr_nonnull(strstr(cause.message, "not saved: the disk is full. "));
    ck_assert_ptr_nonnull(strstr(cause.message, "save the job to another place."));
    ck_assert_int_eq(store_event_count(s), i + 1);
    work_check(s);
    struct base_diag full = {0};
    char *copy = base_format("%s/copy.diejob", folder);
    ck_assert_int_eq(store_copy(s, copy, &full), BASE_NOT_SAVED);
    ck_assert_ptr_nonnull(strstr(full.message, "not saved: the disk is full."));
    ck_ok(store_copy(s, elsewhere, why));
    store_close(s);
    ck_ok(store_open(elsewhere, false, &s, why));
    ck_ok(take_note(s, i, text, why));
    work_check(s);
    store_close(s);
    free(copy);
    free(text);
    free(path);
    free(elsewhere);
}

START_TEST(a_full_disk_keeps_what_was_saved)
{
    char *folder = base_copy(fresh_folder());
    if (geteuid() == 0 && unshare(CLONE_NEWNS) == 0 &&
        mount("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) == 0 &&
        mount("none", folder, "tmpfs", 0, "size=500k") == 0) {
        fill_up(folder);
        ck_assert_int_eq(umount(folder), 0);
    } else { /* nobody may mount a small disk here: let the writing say it */
        char *path = base_format("%s/a.diejob", folder);
        struct store *s;
        struct base_diag cause = {0};
        shim_install();
        ck_ok(store_create(path, &s, why));
        ck_ok(work_begin(s, why));
        shim_fail(1, true, true);
        ck_assert_int_eq(take_note(s, 0, "x", &cause), BASE_NOT_SAVED);
        shim_fail(0, false, false);
        ck_assert_int_eq(store_event_count(s), 1);
        store_close(s);
        shim_remove();
        free(path);
    }
    free(folder);
}
END_TEST

START_TEST(somebody_who_writes_too_long_is_told)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    sqlite3 *db;
    struct base_diag cause = {0};
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    ck_assert_int_eq(work_edit(s, 8, &cause), BASE_NOT_SAVED);
    ck_assert_ptr_nonnull(strstr(cause.message, "somebody else has been writing to "));
    work_check(s); /* reading goes on */
    ck_assert_int_eq(sqlite3_close(db), SQLITE_OK);
    ck_ok(work_edit(s, 8, why));
    store_close(s);
    free(path);
}
END_TEST

/* ---- where files lie ------------------------------------------------------------------------------ */

START_TEST(a_place_without_locks_is_told_as_what_it_is)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    struct base_diag cause = {0};
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    shim_no_locks(_i ? ENOLCK : EOPNOTSUPP);
    ck_assert_int_eq(work_edit(s, 8, &cause), BASE_NOT_SAVED);
    ck_assert_ptr_nonnull(strstr(cause.message, "lies where files cannot be locked"));
    store_close(s);
    for (int readonly = 0; readonly < 2; readonly++) {
        ck_assert_int_eq(store_open(path, readonly, &s, &cause), BASE_UNREADABLE);
        ck_assert_ptr_nonnull(strstr(cause.message, "lies where files cannot be locked"));
    }
    shim_no_locks(0);
    ck_ok(store_open(path, false, &s, why));
    store_close(s);
    free(path);
}
END_TEST

static const struct {
    long type;
    const char *says;
} file_systems[] = {
    {0x6969, "(NFS)"},    {0xFF534D42, "(SMB)"}, {0xFE534D42, "(SMB)"}, {0x65735546, "(FUSE)"},
    {0x01021997, "(9P)"}, {0x9123683E, NULL},    {0xEF53, NULL},
};

START_TEST(a_disk_of_another_machine_is_told)
{
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct store *s;
    ck_ok(store_create(path, &s, why));
    store_close(s);
    shim_file_system(file_systems[_i].type);
    for (int readonly = 0; readonly < 2; readonly++) {
        ck_ok(store_open(path, readonly, &s, why));
        if (file_systems[_i].says)
            ck_assert_ptr_nonnull(strstr(store_warning(s), file_systems[_i].says));
        else
            ck_assert_str_eq(store_warning(s), "");
        store_close(s);
    }
    shim_file_system(0);
    free(path);
}
END_TEST

TCase *store_faults_case(void)
{
    TCase *t = tcase_create("faults");
    tcase_add_loop_test(t, a_refused_call_leaves_the_old_state_or_the_new, 0,
                        COUNT_OF(faults) * COUNT_OF(deeds));
    tcase_add_loop_test(t, a_run_goes_on_over_a_disk_that_refuses_every_so_often, 0, COUNT_OF(pests));
    tcase_add_loop_test(t, a_refused_call_while_copying_leaves_no_half_copy, 0, COUNT_OF(refusals));
    tcase_add_test(t, a_refused_call_while_opening_is_told);
    tcase_add_test(t, half_an_edit_is_never_shown);
    tcase_add_test(t, a_full_disk_keeps_what_was_saved);
    tcase_add_test(t, somebody_who_writes_too_long_is_told);
    tcase_add_loop_test(t, a_place_without_locks_is_told_as_what_it_is, 0, 2);
    tcase_add_loop_test(t, a_disk_of_another_machine_is_told, 0, COUNT_OF(file_systems));
    tcase_set_timeout(t, 60);
    return t;
}
