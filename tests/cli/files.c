/* Files: what is no job file, what cannot be written, and texts that come back as the same bytes. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* PREPARE makes x.diejob; the file must be the same afterwards. SETTLED: an edit says the same. */
static const struct { const char *prepare, *says;
} unreadable[] = {
    {"true", "There is no job file x.diejob. To begin one: diewright new x."},
    {": >x.diejob", "x.diejob is empty."},
    {"head -c 5000 cp.diejob >x.diejob", "x.diejob is cut short: 5000 bytes of "},
    {"head -c 200 cp.diejob >x.diejob", "x.diejob is cut short: 200 bytes of "},
    {"head -c 50 cp.diejob >x.diejob", "x.diejob"},
    {"echo plain words, no job >x.diejob", "x.diejob is not a job file"},
    {"head -c 100000 /dev/zero >x.diejob", "x.diejob is not a job file"},
    {"cp cp.diejob x.diejob; printf 'ZZZZ' | dd of=x.diejob bs=1 seek=68 conv=notrunc 2>/dev/null",
     "x.diejob is not a job file: it is a database of another program."},
    {"cp cp.diejob x.diejob; printf '\\0\\0\\0\\143' | dd of=x.diejob bs=1 seek=60 conv=notrunc 2>/dev/null",
     "x.diejob was written by a newer version of diewright"},
    {"mkdir x.diejob", "x.diejob is a folder, not a job file."},
};

START_TEST(what_is_no_job_file_exits_3_and_is_left_as_it_is)
{
    static const char *const commands[] = {"show x", "check x", "set x 'strip.width=65 mm'",
                                           "dump x", "x",       "parts --job x"};
    char *line = base_format("rm -rf x.diejob; %s; cksum x.diejob >sum 2>/dev/null || true",
                             unreadable[_i].prepare);
    bench_do(&bench, line, 0);
    for (size_t k = 0; k < COUNT_OF(commands); k++) {
        char *command = base_format("d %s", commands[k]);
        struct said s = bench_want(&bench, command, 3);
        ck_assert_msg(strstr(s.err, unreadable[_i].says) != NULL, "%s: %s said %s", unreadable[_i].prepare,
                      command, s.err);
        ck_assert_str_eq(s.out, "");
        said_done(&s);
        free(command);
    }
    bench_do(&bench, "cksum x.diejob 2>/dev/null | cmp - sum; rm -rf x.diejob", 0);
    free(line);
}
END_TEST

START_TEST(a_byte_turned_over_in_a_job_file_is_noticed_or_harmless)
{
    static const long places[] = {100, 5000, 20011, 60007, 120001, 200003};
    struct said good = bench_want(&bench, "d dump cp", 0);
    char *line = base_format(
        "cp cp.diejob y.diejob; printf '\\377' | dd of=y.diejob bs=1 seek=%ld conv=notrunc 2>/dev/null",
        places[_i]);
    bench_do(&bench, line, 0);
    struct said s = bench_run(&bench, "d dump y");
    ck_assert_msg(s.status == 3 || (s.status == 0 && strcmp(s.out, good.out) == 0),
                  "byte %ld: exit status %d: %s", places[_i], s.status, s.err);
    free(line);
    said_done(&good);
    said_done(&s);
}
END_TEST

/* ---- writing ------------------------------------------------------------------------- */

START_TEST(a_full_output_is_told_with_exit_status_4)
{
    static const char *const lines[] = {"d show cp >/dev/full", "d dump cp >/dev/full",
                                        "d check cp --format json >/dev/full", "d --help >/dev/full",
                                        "d --keys >/dev/full"};
    for (size_t i = 0; i < COUNT_OF(lines); i++)
        bench_do(&bench, lines[i], 4);
}
END_TEST

START_TEST(a_job_that_cannot_be_made_is_told_with_exit_status_4)
{
    struct said s = bench_want(&bench, "d new nowhere/x", 4);
    ck_assert_ptr_nonnull(strstr(s.err, "nowhere/x.diejob"));
    said_done(&s);
    s = bench_want(&bench, "d new cp", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "cp.diejob exists already"));
    said_done(&s);
}
END_TEST

/* A file that nobody may write: by its mode, or for root by the attribute that holds root too. */
START_TEST(a_job_file_that_may_not_be_written_is_shown_but_not_changed)
{
    bench_do(&bench, "cp cp.diejob ro.diejob; chmod a-w ro.diejob", 0);
    bool root = geteuid() == 0;
    struct said made = bench_run(&bench, root ? "chattr +i ro.diejob" : "true");
    if (made.status == 0) { /* some file systems have no such attribute: then root writes on */
        bench_do(&bench, "d show ro strip.width", 0);
        struct said s = bench_run(&bench, "d set ro 'strip.width=65 mm'");
        ck_assert_msg(s.status == 2 || s.status == 4, "%d %s", s.status, s.err);
        ck_assert_msg(strstr(s.err, "ro.diejob") != NULL, "%s", s.err);
        bench_do(&bench, "cmp ro.diejob cp.diejob", 0);
        said_done(&s);
    }
    said_done(&made);
    bench_do(&bench, root ? "chattr -i ro.diejob; rm -f ro.diejob" : "rm -f ro.diejob", 0);
}
END_TEST

/* Needs a small disk to fill: root makes one in memory, others test the output alone (above). */
START_TEST(a_full_disk_is_told_with_exit_status_4_and_the_job_stands_as_before)
{
    struct bench own;
    bench_open(&own, "cover-plate");
    struct said made = bench_run(&own, "mkdir disk && mount -t tmpfs -o size=1m none disk");
    if (made.status == 0) {
        bench_do(&own,
                 "cp cp.diejob disk/cp.diejob; dd if=/dev/zero of=disk/filler bs=1k 2>/dev/null || true", 0);
        struct said s = bench_run(&own, "d set disk/cp 'die_plate.thickness=36 mm'; code=$?; rm disk/filler; "
                                        "d show disk/cp die_plate.thickness --format csv; exit $code");
        ck_assert_msg(s.status == 4, "exit status %d: %s%s", s.status, s.out, s.err);
        ck_assert_msg(strstr(s.err, "not saved") || strstr(s.err, "Not saved"), "%s", s.err);
        ck_assert_msg(strstr(s.out, "die_plate.thickness,,34,mm,34 mm") != NULL, "%s", s.out);
        said_done(&s);
        s = bench_run(&own, "dd if=/dev/zero of=disk/filler bs=1k 2>/dev/null; d new disk/other; code=$?; ls "
                            "disk; exit $code");
        ck_assert_msg(s.status == 4, "exit status %d: %s", s.status, s.err);
        said_done(&s);
        bench_do(&own, "umount disk", 0);
    }
    said_done(&made);
}
END_TEST

/* The starts had longer names: they answer, and today's is told and kept. */
static const struct { const char *was, *is; } former[] = {
    {"four-posts-seven-plates-spring-stripper", "spring-stripper"},
    {"four-posts-seven-plates-fixed-stripper", "fixed-stripper"},
    {"four-posts-seven-plates-inch", "spring-stripper-inch"},
};

START_TEST(a_former_name_of_a_start_answers_and_tells_the_new_one)
{
    char *line = base_format("d new former --like %s && d new now --like %s && d dump former >a.txt && "
                             "d dump now >b.txt && cmp a.txt b.txt && "
                             "d history former | grep -c 'posts-seven'",
                             former[_i].was, former[_i].is),
         *says = base_format("former.diejob begun from %s.\n%s is called %s now.\n", former[_i].is,
                            former[_i].was, former[_i].is);
    struct said s = bench_run(&bench, line);
    ck_assert_str_eq(s.out, "0\n");
    ck_assert_msg(strstr(s.err, says) != NULL, "%s", s.err);
    ck_assert(!strstr(strstr(s.err, "now.diejob"), "called"));
    said_done(&s);
    bench_do(&bench, "rm former.diejob now.diejob", 0);
    free(line);
    free(says);
}
END_TEST

/* What a killed run left on a disk without nameless files is told when its name is taken again. */
START_TEST(what_a_killed_run_left_is_named)
{
    struct said s = bench_run(&bench, "echo half >left.diejob.part; d new left");
    ck_assert_int_eq(s.status, 0);
    ck_assert_msg(strstr(s.err, "left.diejob.part was left behind") != NULL, "%s", s.err);
    said_done(&s);
    s = bench_run(&bench, "rm left.diejob left.diejob.part; d new left");
    ck_assert_msg(!strstr(s.err, "left behind"), "%s", s.err);
    said_done(&s);
    bench_do(&bench, "rm left.diejob", 0);
}
END_TEST

/* ---- texts ---------------------------------------------------------------------------- */

static const char *const shelves[] = {"cover-plate", "spacer-plate", "spring-stripper", "fixed-stripper"};

START_TEST(dump_of_load_of_dump_is_the_same_bytes_and_the_same_numbers)
{
    struct bench own;
    bench_open(&own, shelves[_i]);
    bench_do(&own, "d set cp 'die_plate.thickness=usual * 1.5' 'punch_screws.length=usual + 1/8 in'", 0);
    bench_do(&own,
             "d dump cp >one.txt && d load again one.txt && d dump again >two.txt && cmp one.txt two.txt", 0);
    bench_do(&own, "d show cp --format csv >one.csv; d show again --format csv >two.csv; cmp one.csv two.csv",
             0);
    bench_do(&own,
             "d check cp --format csv >one.csv; d check again --format csv >two.csv; cmp one.csv two.csv", 0);
    bench_do(&own, "d load again one.txt", 2);
}
END_TEST

/* PREPARE makes job.txt from one.txt, a good dump. */
static const struct { const char *prepare; int status; const char *says; } texts[] = {
    {"rm -f job.txt", 3, "job.txt cannot be read"},
    {"mkdir -p job.txt", 3, "job.txt"},
    {": >job.txt", 2, "job.txt is empty."},
    {"sed 's/^  thickness = 34 mm/  thicknes = 34 mm/' one.txt >job.txt", 2, "thicknes"},
    {"sed 's/^  thickness = 34 mm/  thickness = 34/' one.txt >job.txt", 2, "job.txt:"},
    {"sed 's/^  thickness = 34 mm/  thickness = 34 kN/' one.txt >job.txt", 2, "die_plate"},
    {"sed 's/^plate die_plate/plat die_plate/' one.txt >job.txt", 2, "job.txt:"},
    {"sed 's/^  thickness/\\t thickness/' one.txt >job.txt", 2, "job.txt:"},
    {"sed 's/^plate die_backing/plate die_plate/' one.txt >job.txt", 2, "job.txt:"},
    {"head -c 3000 /dev/urandom >job.txt", 2, "job.txt"},
};

START_TEST(a_text_that_is_no_job_is_refused_with_its_place_and_makes_no_file)
{
    char *line = base_format("d dump cp >one.txt; rm -rf job.txt; %s", texts[_i].prepare);
    bench_do(&bench, line, 0);
    struct said s = bench_run(&bench, "d load made job.txt");
    ck_assert_msg(s.status == texts[_i].status, "%s: exit status %d: %s", texts[_i].prepare, s.status, s.err);
    ck_assert_msg(strstr(s.err, texts[_i].says) != NULL, "%s: %s", texts[_i].prepare, s.err);
    bench_do(&bench, "test ! -e made.diejob; rm -rf job.txt", 0);
    free(line);
    said_done(&s);
}
END_TEST

START_TEST(new_begins_from_each_template_and_demo_job)
{
    struct bench own;
    bench_open(&own, NULL);
    char *line = base_format("d new x --like %s && d check x >/dev/null; test $? -le 1", shelves[_i]);
    bench_do(&own, line, 0);
    bench_do(&own, "test -f x.diejob", 0);
    free(line);
}
END_TEST

TCase *file_tests(void)
{
    TCase *t = tcase_create("files");
    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, what_is_no_job_file_exits_3_and_is_left_as_it_is, 0, COUNT_OF(unreadable));
    tcase_add_loop_test(t, a_byte_turned_over_in_a_job_file_is_noticed_or_harmless, 0, 6);
    tcase_add_test(t, a_full_output_is_told_with_exit_status_4);
    tcase_add_test(t, a_job_that_cannot_be_made_is_told_with_exit_status_4);
    tcase_add_test(t, a_job_file_that_may_not_be_written_is_shown_but_not_changed);
    tcase_add_test(t, a_full_disk_is_told_with_exit_status_4_and_the_job_stands_as_before);
    tcase_add_loop_test(t, a_former_name_of_a_start_answers_and_tells_the_new_one, 0, COUNT_OF(former));
    tcase_add_test(t, what_a_killed_run_left_is_named);
    tcase_add_loop_test(t, dump_of_load_of_dump_is_the_same_bytes_and_the_same_numbers, 0, COUNT_OF(shelves));
    tcase_add_loop_test(t, a_text_that_is_no_job_is_refused_with_its_place_and_makes_no_file, 0,
                        COUNT_OF(texts));
    tcase_add_loop_test(t, new_begins_from_each_template_and_demo_job, 0, COUNT_OF(shelves));
    return t;
}
