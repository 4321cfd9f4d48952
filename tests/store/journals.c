/* What may lie beside a job under the name of its journal, and what comes of it at opening. */

#include "../common.h"
#include "shim.h"
#include "store/inside.h"
#include "suites.h"
#include "work.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

struct bed { char *folder, *path, *journal, *victim; };

static struct bed bed_new(void)
{
    struct bed b = {.folder = base_copy(fresh_folder())};
    b.path = base_format("%s/a.diejob", b.folder);
    b.journal = base_format("%s-journal", b.path);
    b.victim = base_format("%s/victim.txt", b.folder);
    work_save(b.victim, (const unsigned char *)"my thesis\n", 10);
    return b;
}

static void bed_done(struct bed *b)
{
    free(b->folder);
    free(b->path);
    free(b->journal);
    free(b->victim);
}

static void make_job(const char *path, int edits)
{
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    for (int i = 1; i <= edits; i++)
        ck_ok(work_edit(s, i, why));
    store_close(s);
}

static bool exists(const char *path)
{
    struct stat st;
    return lstat(path, &st) == 0;
}

/* A program that ends in the middle of an edit, half of whose pages are in the file already. */
static void leave_half_an_edit(const char *path)
{
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        sqlite3 *db;
        int rc = sqlite3_open(path, &db);
        rc = rc ? rc
                : sqlite3_exec(db,
                               "PRAGMA journal_mode = TRUNCATE; PRAGMA cache_size = 1; BEGIN IMMEDIATE;"
                               "UPDATE entry SET text = '77 mm';"
                               "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 400)"
                               " INSERT INTO item SELECT 'x' || i, 'plate', 100 + i FROM n;"
                               "UPDATE seal SET sum = sum + 1; UPDATE event SET who = who || 'x'",
                               NULL, NULL, NULL);
        _exit(rc);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
}

static void copy(const char *from, const char *to)
{
    struct bytes b = work_load(from);
    work_save(to, b.at, b.length);
    free(b.at);
}

static char *state_of(const char *path, bool readonly, char **warning)
{
    struct store *s;
    ck_ok(store_open(path, readonly, &s, why));
    work_check(s);
    char *state = work_state(s);
    if (warning)
        *warning = base_copy(store_warning(s));
    store_close(s);
    return state;
}

static void same_state(const char *path, bool readonly, const char *want, char **warning)
{
    char *have = state_of(path, readonly, warning);
    ck_assert_str_eq(have, want);
    free(have);
}

static void victim_stands(const struct bed *b)
{
    work_same_bytes(b->victim, (struct bytes){(unsigned char *)"my thesis\n", 10});
}

/* The trailer by which a journal names a super-journal, as SQLite writes it. */
static void name_another(const char *journal, const char *victim)
{
    static const unsigned char magic[8] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};
    struct bytes j = work_load(journal);
    size_t n = strlen(victim);
    unsigned char *all = base_alloc(j.length + n + 20), *p = all + j.length;
    uint32_t sum = 0, page = 0x40000000 / 4096 + 1;
    memcpy(all, j.at, j.length);
    memcpy(p + 4, victim, n);
    for (size_t i = 0; i < n; i++)
        sum += (uint32_t)(signed char)victim[i];
    for (int i = 0; i < 4; i++) {
        p[i] = (unsigned char)(page >> (24 - 8 * i));
        p[4 + n + (size_t)i] = (unsigned char)((uint32_t)n >> (24 - 8 * i));
        p[8 + n + (size_t)i] = (unsigned char)(sum >> (24 - 8 * i));
    }
    memcpy(p + n + 12, magic, 8);
    work_save(journal, all, j.length + n + 20);
    free(all);
    free(j.at);
}

/* ---- the job's own ------------------------------------------------------------------------ */

START_TEST(half_an_edit_is_taken_back_by_whoever_comes_first)
{
    struct bed b = bed_new();
    make_job(b.path, 9);
    char *want = state_of(b.path, false, NULL), *alone = base_format("%s.alone", b.path), *warning;
    leave_half_an_edit(b.path);
    copy(b.path, alone);
    struct store *s;
    ck_assert_int_eq(store_open(alone, false, &s, NULL), BASE_UNREADABLE); /* it needs its journal */
    same_state(b.path, _i != 0, want, &warning);
    ck_assert_str_eq(warning, "");
    ck_assert(!exists(b.journal));
    copy(b.path, alone);
    same_state(alone, true, want, NULL); /* the file itself was put right */
    free(warning);
    free(alone);
    free(want);
    bed_done(&b);
}
END_TEST

/* In a child, for the superuser may write everywhere: no assertions, only an exit status. */
static int look_at(const char *path, bool readonly, const char *want, const char *says)
{
    struct store *s;
    if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
        return 9;
    if (store_open(path, readonly, &s, NULL) != BASE_OK)
        return 2;
    char *state = work_state(s);
    if (strcmp(state, want) != 0 || !store_readonly(s))
        return 3;
    if (!strstr(store_warning(s), says))
        return 4;
    free(state);
    store_close(s);
    return 0;
}

static void look_without_leave(const char *path, bool readonly, const char *want, const char *says)
{
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        _exit(look_at(path, readonly, want, says));
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "step %d failed", WEXITSTATUS(status));
}

static const struct { mode_t file, folder; } closed[] = {{0444, 0555}, {0666, 0555}, {0444, 0777}};

START_TEST(who_may_not_put_it_right_sees_a_copy_without_it)
{
    struct bed b = bed_new();
    char folder[] = P_tmpdir "/diewright-XXXXXX"; /* where anybody may go */
    ck_assert_ptr_nonnull(mkdtemp(folder));
    char *path = base_format("%s/a.diejob", folder), *journal = base_format("%s-journal", path);
    make_job(path, 9);
    char *want = state_of(path, false, NULL);
    leave_half_an_edit(path);
    struct bytes job = work_load(path), j = work_load(journal);
    chmod(path, closed[_i].file);
    chmod(journal, 0444);
    chmod(folder, closed[_i].folder);
    for (int readonly = 0; readonly < 2; readonly++)
        look_without_leave(
            path, readonly, want,
            "was cut off half way, and it cannot be put right from here: a copy without that edit is shown");
    work_same_bytes(path, job);
    work_same_bytes(journal, j);
    chmod(folder, 0777);
    chmod(path, 0666);
    same_state(path, false, want, NULL);
    ck_assert_int_eq(unlink(path), 0);
    ck_assert_int_eq(rmdir(folder), 0);
    free(job.at);
    free(j.at);
    free(want);
    free(path);
    free(journal);
    bed_done(&b);
}
END_TEST

/* ---- of something else ----------------------------------------------------------------------- */

START_TEST(a_journal_that_names_another_file_deletes_nothing)
{
    struct bed b = bed_new();
    char *warning, *aside = base_format("%s.aside", b.journal);
    make_job(b.path, 9);
    char *want = state_of(b.path, false, NULL);
    leave_half_an_edit(b.path);
    name_another(b.journal, b.victim);
    same_state(b.path, _i != 0, want, &warning);
    victim_stands(&b);
    ck_assert_ptr_nonnull(strstr(
        warning,
        "a.diejob-journal lay beside the job and named another file to be deleted. That was not done"));
    ck_assert(exists(aside));
    ck_assert(!exists(b.journal));
    free(warning);
    same_state(b.path, false, want, &warning);
    ck_assert_str_eq(warning, "");
    free(warning);
    free(aside);
    free(want);
    bed_done(&b);
}
END_TEST

/* A backup laid over a job whose last edit was cut off: of an earlier state, of the last one, and of a later
   one. */
START_TEST(a_good_copy_laid_over_half_an_edit_stays_good)
{
    struct bed b = bed_new();
    char *good = base_format("%s.good", b.path), *warning, *aside = base_format("%s.aside", b.journal);
    struct store *s;
    make_job(b.path, 6);
    copy(b.path, good);
    ck_ok(store_open(_i % 3 == 2 ? good : b.path, false, &s, why));
    for (int i = 7; i < 12 && _i % 3 != 1; i++)
        ck_ok(work_edit(s, i, why));
    store_close(s);
    char *want = state_of(good, false, NULL);
    leave_half_an_edit(b.path);
    struct bytes journal = work_load(b.journal);
    copy(good, b.path);
    same_state(b.path, _i >= 3, want, &warning);
    if (_i % 3 != 1) { /* taking the cut edit back from the last state gives that state again */
        ck_assert_str_eq(warning, "a.diejob-journal lay beside the job and is not of it; the job is whole "
                                  "without it. It was put aside as "
                                  "a.diejob-journal.aside.");
        work_same_bytes(aside, journal);
    }
    ck_assert(!exists(b.journal));
    free(warning);
    ck_ok(store_open(b.path, false, &s, why));
    ck_ok(work_edit(s, 16, why));
    work_check(s);
    store_close(s);
    free(journal.at);
    free(want);
    free(good);
    free(aside);
    bed_done(&b);
}
END_TEST

static void lay_folder(const struct bed *b) { ck_assert_int_eq(mkdir(b->journal, 0777), 0); }
static void lay_pipe(const struct bed *b) { ck_assert_int_eq(mkfifo(b->journal, 0666), 0); }
static void lay_link(const struct bed *b) { ck_assert_int_eq(symlink(b->victim, b->journal), 0); }
static void lay_second_name(const struct bed *b) { ck_assert_int_eq(link(b->victim, b->journal), 0); }
static void lay_nowhere(const struct bed *b) { ck_assert_int_eq(symlink("/no/such/place", b->journal), 0); }
static void lay_text(const struct bed *b) { copy(b->victim, b->journal); }
static void lay_zeros(const struct bed *b)
{
    static const unsigned char zeros[3000];
    work_save(b->journal, zeros, sizeof zeros);
}
static void lay_of_another_job(const struct bed *b)
{
    char *other = base_format("%s/other.diejob", b->folder), *journal = base_format("%s-journal", other);
    make_job(other, 5);
    leave_half_an_edit(other);
    ck_assert_int_eq(rename(journal, b->journal), 0);
    free(other);
    free(journal);
}
static void lay_naming(const struct bed *b)
{
    lay_of_another_job(b);
    name_another(b->journal, b->victim);
}
static void lay_sparse(const struct bed *b)
{
    lay_text(b);
    ck_assert_int_eq(truncate(b->journal, 1LL << 40), 0);
}

static void (*const lay[])(const struct bed *) = {
    lay_folder, lay_pipe,  lay_link,           lay_second_name, lay_nowhere,
    lay_text,   lay_zeros, lay_of_another_job, lay_naming,      lay_sparse,
};

START_TEST(what_is_no_journal_of_the_job_is_put_aside)
{
    struct bed b = bed_new();
    char *aside = base_format("%s.aside", b.journal), *second = base_format("%s-2", aside), *warning;
    make_job(b.path, 6);
    work_save(aside, (const unsigned char *)"older\n", 6);
    char *want = state_of(b.path, false, NULL);
    struct bytes before = work_load(b.path);
    lay[_i](&b);
    same_state(b.path, true, want, &warning);
    work_same_bytes(b.path, before);
    ck_assert_ptr_nonnull(strstr(
        warning, "is not of it; the job is whole without it. It was put aside as a.diejob-journal.aside-2."));
    work_same_bytes(aside, (struct bytes){(unsigned char *)"older\n", 6});
    ck_assert(exists(second));
    struct store *s;
    ck_ok(store_open(b.path, false, &s, why));
    ck_ok(work_edit(s, 16, why));
    store_close(s);
    victim_stands(&b);
    free(before.at);
    free(warning);
    free(want);
    free(aside);
    free(second);
    bed_done(&b);
}
END_TEST

/* It may also turn up while the job is open, left by somebody who edits another file of that name. */
START_TEST(a_journal_that_turns_up_later_is_put_aside_too)
{
    struct bed b = bed_new();
    struct store *s;
    make_job(b.path, 6);
    ck_ok(store_open(b.path, false, &s, why));
    lay_naming(&b);
    ck_ok(work_edit(s, 16, why));
    work_check(s);
    ck_assert_ptr_nonnull(strstr(store_warning(s), "It was put aside as a.diejob-journal.aside."));
    store_close(s);
    victim_stands(&b);
    bed_done(&b);
}
END_TEST

START_TEST(what_is_whole_neither_way_is_left_byte_for_byte)
{
    struct bed b = bed_new();
    struct base_diag cause = {0};
    struct store *s;
    make_job(b.path, 9);
    leave_half_an_edit(b.path);
    unlink(b.journal);
    if (_i)
        lay_naming(&b);
    else
        lay_of_another_job(&b);
    struct bytes job = work_load(b.path), journal = work_load(b.journal);
    for (int readonly = 0; readonly < 2; readonly++) {
        ck_assert_int_eq(store_open(b.path, readonly, &s, &cause), BASE_UNREADABLE);
        ck_assert_ptr_nonnull(strstr(cause.message, "It was left as it is"));
        work_same_bytes(b.path, job);
        work_same_bytes(b.journal, journal);
    }
    victim_stands(&b);
    free(job.at);
    free(journal.at);
    bed_done(&b);
}
END_TEST

START_TEST(a_write_ahead_log_beside_a_job_is_refused)
{
    static const char *const suffixes[] = {"-wal", "-shm"};
    struct bed b = bed_new();
    struct base_diag cause = {0};
    struct store *s;
    char *log = base_format("%s%s", b.path, suffixes[_i]), *link_to = base_format("%s/link.diejob", b.folder);
    make_job(b.path, 2);
    copy(b.victim, log);
    ck_assert_int_eq(symlink("a.diejob", link_to), 0);
    struct bytes job = work_load(b.path);
    for (int i = 0; i < 4; i++) {
        ck_assert_int_eq(store_open(i / 2 ? link_to : b.path, i % 2, &s, &cause), BASE_UNREADABLE);
        ck_assert_ptr_nonnull(strstr(cause.message, suffixes[_i]));
        ck_assert_ptr_nonnull(
            strstr(cause.message,
                   " lies beside the job: another program has had the job open, or left that file behind."));
        work_same_bytes(b.path, job);
    }
    ck_assert(exists(log));
    free(job.at);
    free(log);
    free(link_to);
    bed_done(&b);
}
END_TEST

/* Under a link the journal lies where the job is. */
START_TEST(half_an_edit_is_taken_back_through_a_link)
{
    struct bed b = bed_new();
    char *link_to = base_format("%s/link.diejob", b.folder), *warning;
    make_job(b.path, 9);
    char *want = state_of(b.path, false, NULL);
    leave_half_an_edit(b.path);
    ck_assert_int_eq(symlink("a.diejob", link_to), 0);
    same_state(link_to, true, want, &warning);
    ck_assert_str_eq(warning, "");
    free(warning);
    free(link_to);
    free(want);
    bed_done(&b);
}
END_TEST

START_TEST(a_second_name_of_the_file_is_told)
{
    struct bed b = bed_new();
    char *other = base_format("%s/b.diejob", b.folder), *warning;
    make_job(b.path, 2);
    ck_assert_int_eq(link(b.path, other), 0);
    free(state_of(b.path, false, &warning));
    ck_assert_ptr_nonnull(strstr(warning, "has another name as well (a hard link)"));
    free(warning);
    free(other);
    bed_done(&b);
}
END_TEST

/* ---- written over while it is open ----------------------------------------------------------- */

static void cut(const struct bed *b, const char *other)
{
    (void)other;
    ck_assert_int_eq(truncate(b->path, 0), 0);
}
static void halve(const struct bed *b, const char *other)
{
    (void)other;
    ck_assert_int_eq(truncate(b->path, 8192), 0);
}
static void pour_junk(const struct bed *b, const char *other)
{
    FILE *f = fopen(b->path, "r+b");
    (void)other;
    ck_assert_ptr_nonnull(f);
    for (int i = 0; i < 20000; i++)
        fputc(i * 7 % 251, f);
    ck_assert_int_eq(fclose(f), 0);
}
static void take_away(const struct bed *b, const char *other)
{
    (void)other;
    ck_assert_int_eq(unlink(b->path), 0);
}
static void put_other(const struct bed *b, const char *other) { ck_assert_int_eq(rename(other, b->path), 0); }
static void pour_other(const struct bed *b, const char *other) { copy(other, b->path); }

static void (*const harms[])(const struct bed *, const char *) = {cut,       halve,     pour_junk,
                                                                  take_away, put_other, pour_other};

START_TEST(what_was_open_is_rescued_with_its_history)
{
    struct bed b = bed_new();
    char *other = base_format("%s/other.diejob", b.folder), *saved = base_format("%s/saved.diejob", b.folder);
    struct base_diag cause = {0};
    struct store *s;
    make_job(b.path, 9);
    make_job(other, 3);
    ck_ok(store_open(b.path, false, &s, why));
    ck_ok(work_edit(s, 16, why));
    char *want = work_state(s);
    harms[_i](&b, other);
    struct bytes harmed = {0};
    if (exists(b.path))
        harmed = work_load(b.path);
    enum base_err err = work_edit(s, 24, &cause);
    ck_assert_int_eq(err, BASE_NOT_SAVED);
    ck_assert_int_eq(strncmp(cause.message, "not saved: ", 11), 0);
    if (exists(b.path))
        work_same_bytes(b.path, harmed);
    ck_ok(store_copy(s, saved, why));
    store_close(s);
    same_state(saved, false, want, NULL);
    ck_ok(store_open(saved, false, &s, why));
    ck_assert_int_eq(store_event_count(s), 11);
    store_close(s);
    free(harmed.at);
    free(want);
    free(other);
    free(saved);
    bed_done(&b);
}
END_TEST

TCase *store_journals_case(void)
{
    TCase *t = tcase_create("journals");
    tcase_add_loop_test(t, half_an_edit_is_taken_back_by_whoever_comes_first, 0, 2);
    tcase_add_loop_test(t, who_may_not_put_it_right_sees_a_copy_without_it, 0, COUNT_OF(closed));
    tcase_add_loop_test(t, a_journal_that_names_another_file_deletes_nothing, 0, 2);
    tcase_add_loop_test(t, a_good_copy_laid_over_half_an_edit_stays_good, 0, 6);
    tcase_add_loop_test(t, what_is_no_journal_of_the_job_is_put_aside, 0, COUNT_OF(lay));
    tcase_add_test(t, a_journal_that_turns_up_later_is_put_aside_too);
    tcase_add_loop_test(t, what_is_whole_neither_way_is_left_byte_for_byte, 0, 2);
    tcase_add_loop_test(t, a_write_ahead_log_beside_a_job_is_refused, 0, 2);
    tcase_add_test(t, half_an_edit_is_taken_back_through_a_link);
    tcase_add_test(t, a_second_name_of_the_file_is_told);
    tcase_add_loop_test(t, what_was_open_is_rescued_with_its_history, 0, COUNT_OF(harms));
    tcase_set_timeout(t, 60);
    return t;
}
