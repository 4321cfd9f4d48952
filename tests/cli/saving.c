/* What is saved, what is begun, and what comes after a sudden end. Each test has a job of its own. */

#include "suites.h"

#include "diewright/store.h"

#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/inotify.h>
#include <sys/wait.h>
#include <unistd.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* What was changed is saved before it is told, and is told to be. */
static const char *const changing[] = {
    "set cp 'die_plate.thickness=37 mm'",
    "add cp values mine",
    "remark cp die_plate look at this",
    "add cp sharpening page date=2026-02-03",
};

START_TEST(what_is_saved_and_not_printed_is_told_with_exit_status_5)
{
    char *line = base_format("d %s >/dev/full", changing[_i]);
    struct said before = bench_want(&bench, "d dump cp", 0), s = bench_want(&bench, line, 5);
    ck_assert_ptr_nonnull(strstr(s.err, "What was changed is saved; only the printing failed."));
    struct said after = bench_want(&bench, "d dump cp", 0);
    ck_assert_str_ne(before.out, after.out);
    said_done(&before);
    said_done(&after);
    said_done(&s);
    free(line);
}
END_TEST

START_TEST(a_new_job_is_like_another_one)
{
    static const char *const names[] = {"./cp.diejob", "cp.diejob", "cp", "sub/../cp"};
    bench_do(&bench, "mkdir sub; d set cp 'die_plate.thickness=37 mm'; d remark cp die_plate look at this",
             0);
    bench_do(&bench, "cksum cp.diejob >sum", 0);
    for (size_t i = 0; i < COUNT_OF(names); i++) {
        char *line = base_format("d new other --like %s && d show other die_plate.thickness --format csv",
                                 names[i]);
        struct said s = bench_want(&bench, line, 0);
        ck_assert_ptr_nonnull(strstr(s.out, "37"));
        said_done(&s);
        s = bench_want(&bench, "d dump other; rm other.diejob", 0);
        /* what was said of the one is not said of the other */
        ck_assert_ptr_null(strstr(s.out, "look at this"));
        said_done(&s);
        free(line);
    }
    bench_do(&bench, "cksum cp.diejob | cmp - sum", 0);
    bench_do(&bench, "d new other --like ./nosuch.diejob", 3);
}
END_TEST

START_TEST(a_name_of_two_lines_is_no_job)
{
    struct said s = bench_want(&bench, "d new 'a\nb'", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "A job's name stands on one line"));
    said_done(&s);
    bench_do(&bench, "test $(ls -- *.diejob | wc -l) = 1", 0);
}
END_TEST

static const char *const no_dates[] = {"2026-13-45", "2026-00-01", "2026-02-30",  "2025-02-29", "1900-02-29",
                                       "26-02-03",   "2026-2-3",   "2026-02-03x", "03.02.2026"};

START_TEST(a_date_is_a_day_of_the_calendar)
{
    bench_do(&bench, "d add cp sharpening grind_1 date=2024-02-29", 0);
    for (size_t i = 0; i < COUNT_OF(no_dates); i++) {
        char *line = base_format("d set cp grind_1.date=%s", no_dates[i]);
        struct said s = bench_want(&bench, line, 2);
        said_done(&s);
        free(line);
        line = base_format("d dump cp | sed 's/2024-02-29/%s/' >x.txt; d load x x.txt", no_dates[i]);
        s = bench_want(&bench, line, 2);
        ck_assert_ptr_nonnull(
            strstr(s.err, "is no day of the calendar: a date is written as year-month-day"));
        said_done(&s);
        free(line);
    }
    bench_do(&bench, "test ! -e x.diejob; d set cp grind_1.date=", 0);
}
END_TEST

/* The least that a job file can hold: no item, no event. */
START_TEST(a_job_without_anything_says_nothing_of_null)
{
    static const char *const commands[] = {
        "show x",       "check x",      "review x",  "stroke x",     "order x",   "holes x",
        "sharpening x", "mend x",       "remark x",  "waive x",      "history x", "history x --format json",
        "dump x",       "compare x cp", "section x", "parts --job x", "solid x"};
    char *path = base_format("%s/x.diejob", bench.folder);
    struct store *s;
    s = store_open_memory();
    ck_ok(store_copy(s, path, why));
    store_close(s);
    for (size_t i = 0; i < COUNT_OF(commands); i++) {
        char *line = base_format("d %s", commands[i]);
        struct said said = bench_run(&bench, line);
        ck_assert_msg(said.status >= 0 && said.status < 6, "%s: %d", line, said.status);
        ck_assert_msg(!strstr(said.out, "(null)") && !strstr(said.err, "(null)"), "%s", line);
        said_done(&said);
        free(line);
    }
    free(path);
}
END_TEST

/* ---- after a sudden end --------------------------------------------------------------- */

static const char *const readers[] = {
    "show cp",         "check cp",          "review cp",
    "stroke cp",       "order cp",          "holes cp",
    "section cp",      "plan cp die_plate", "sharpening cp",
    "solid cp",
    "mend cp",         "remark cp",         "waive cp",
    "history cp",      "dump cp",           "compare cp cp",
    "parts --job cp",  "outline cp blank",  "vary cp die_plate.thickness 30mm 32mm 1mm",
    "new y --like cp",
};

static void leave_half_an_edit(const char *path)
{
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        sqlite3 *db;
        int rc = sqlite3_open(path, &db);
        rc = rc ? rc
                : sqlite3_exec(db,
                               "PRAGMA journal_mode = TRUNCATE; PRAGMA cache_size = 1; BEGIN IMMEDIATE; "
                               "UPDATE entry SET text = '77 mm';"
                               "UPDATE seal SET sum = sum + 1; UPDATE part_row SET cells = cells || ' '",
                               NULL, NULL, NULL);
        _exit(rc != 0);
    }
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
}

/* Whoever comes first puts it right, whatever is asked; and all at once do. */
START_TEST(every_reading_command_opens_a_job_that_was_cut_off)
{
    char *path = base_format("%s/cp.diejob", bench.folder), *line = base_format("d %s", readers[_i]);
    struct said want = bench_run(&bench, line);
    bench_do(&bench, "rm -f y.diejob; cp cp.diejob good", 0);
    leave_half_an_edit(path);
    if (_i == 0) /* what was left is no whole job without its journal */
        bench_do(&bench, "cp cp.diejob alone.diejob; ! d check alone 2>/dev/null", 0);
    bench_do(&bench, "test -s cp.diejob-journal", 0);
    struct said s = bench_run(&bench, line);
    ck_assert_int_eq(s.status, want.status);
    ck_assert_str_eq(s.out, want.out);
    ck_assert_ptr_null(strstr(s.err, "cut off"));
    bench_do(&bench, "test ! -e cp.diejob-journal && cmp cp.diejob good", 0);
    said_done(&want);
    said_done(&s);
    free(path);
    free(line);
}
END_TEST

/* Loads a text of so many plates that it takes seconds, from a pipe; returns when all of it has been read. */
static pid_t begin_long_load(void)
{
    struct said p = bench_want(&bench, "mkfifo text && printf '%s' \"$P\"", 0),
                data = bench_want(&bench, "printf '%s' \"$DATA\"", 0);
    char *demo = read_text("data/demo/cover-plate.txt"), *pipe = base_format("%s/text", bench.folder);
    struct base_text text = {0};
    base_text_add(&text, demo);
    for (int i = 0; i < 2000; i++)
        base_text_addf(&text, "\nplate x%d\n", i);
    int watch = inotify_init1(IN_CLOEXEC);
    ck_assert_int_ge(inotify_add_watch(watch, pipe, IN_CLOSE_NOWRITE), 0);
    pid_t child = fork();
    if (child == 0) {
        signal(SIGINT, SIG_DFL);
        if (chdir(bench.folder) == 0)
            execl(p.out, p.out, "--data", data.out, "load", "many", "text", (char *)NULL);
        _exit(127);
    }
    FILE *out = fopen(pipe, "w");
    ck_assert_ptr_nonnull(out);
    fputs(base_text_get(&text), out);
    ck_assert_int_eq(fclose(out), 0);
    struct inotify_event closed;
    ck_assert_int_gt(read(watch, &closed, sizeof closed), 0);
    close(watch);
    base_text_done(&text);
    free(demo);
    free(pipe);
    said_done(&p);
    said_done(&data);
    return child;
}

/* Who waits for the screens of a large job is told so before there are any; of others nothing is said. */
START_TEST(what_takes_long_to_read_is_said_before_the_screens)
{
    struct said s = bench_want(&bench, "{ d dump cp; i=0; while [ $i -lt 700 ]; do echo; echo plate x$i; "
                                       "i=$((i + 1)); done; } >text && d load many text", 0);
    said_done(&s);
    s = bench_want(&bench, "d many", 2); /* no terminal: no screens */
    ck_assert_ptr_eq(strstr(s.err, "diewright: Reading many.diejob takes a while; Ctrl-C ends it.\n"), s.err);
    said_done(&s);
    s = bench_want(&bench, "d cp", 2);
    ck_assert_ptr_null(strstr(s.err, "Reading"));
    said_done(&s);
}
END_TEST

START_TEST(long_work_ends_at_once_and_leaves_nothing_half_made)
{
    static const int ends[] = {SIGINT, SIGTERM};
    pid_t child = begin_long_load();
    int status;
    ck_assert_int_eq(kill(child, ends[_i]), 0);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    /* either is 130 (or 143) to a shell */
    ck_assert_msg((WIFSIGNALED(status) && WTERMSIG(status) == ends[_i]) ||
                      (WIFEXITED(status) && WEXITSTATUS(status) == 128 + ends[_i]),
                  "%x", status);
    struct said left = bench_want(&bench, "ls -A -I out -I err", 0);
    ck_assert_str_eq(left.out, "cp.diejob\ntext\n");
    said_done(&left);
}
END_TEST

/* A folder that has one of them already gets none. */
START_TEST(variants_are_kept_as_jobs_of_their_own)
{
    bench_do(&bench, "mkdir sub; d remark cp die_plate look at this; "
                     "printf 'variant,die_plate.thickness,posts.length\\n' >v.csv; "
                     "printf 'thin,24,\\nlong,38,224\\nno,x,\\n' >>v.csv",
             0);
    struct said s = bench_want(&bench, "d vary cp --rows v.csv --save sub && ls sub", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "2 of 3 variants saved in sub.\nlong.diejob\nthin.diejob\n"));
    said_done(&s);
    s = bench_want(&bench, "d show sub/long die_plate posts --format csv; d remark sub/long", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "die_plate.thickness,,38,"));
    ck_assert_ptr_nonnull(strstr(s.out, "posts.length,,224,"));
    ck_assert_ptr_null(strstr(s.out, "look at this"));
    said_done(&s);
    s = bench_want(&bench, "rm sub/thin.diejob; d vary cp --rows v.csv --save sub", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "sub/long.diejob exists already: name another folder."));
    said_done(&s);
    bench_do(&bench, "test ! -e sub/thin.diejob", 0);
}
END_TEST

TCase *saving_tests(void)
{
    TCase *t = tcase_create("saving");
    tcase_set_timeout(t, 120);
    tcase_add_checked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, what_is_saved_and_not_printed_is_told_with_exit_status_5, 0, COUNT_OF(changing));
    tcase_add_test(t, variants_are_kept_as_jobs_of_their_own);
    tcase_add_test(t, a_new_job_is_like_another_one);
    tcase_add_loop_test(t, long_work_ends_at_once_and_leaves_nothing_half_made, 0, 2);
    tcase_add_test(t, what_takes_long_to_read_is_said_before_the_screens);
    tcase_add_test(t, a_name_of_two_lines_is_no_job);
    tcase_add_test(t, a_date_is_a_day_of_the_calendar);
    tcase_add_test(t, a_job_without_anything_says_nothing_of_null);
    tcase_add_loop_test(t, every_reading_command_opens_a_job_that_was_cut_off, 0, COUNT_OF(readers));
    return t;
}
