/* A job's life on disk: taken is on disk, undo runs across closing, two people at one file, saving under
   another name. */

#include "bench.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>

#define JOB "tests/job/all-sorts.txt"

static struct job *again(const char *path)
{
    struct job *j;
    ck_ok(job_open(bench_handbook, path, false, &j, why));
    return j;
}

START_TEST(what_is_taken_another_opening_sees)
{
    char *path;
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path);
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    struct job *other = again(path);
    ck_assert_str_eq(bench_print(other, "die_plate.thickness"), "32.0 mm"); /* a try is nobody else's */
    ck_assert(!job_refresh(other));
    bench_take(j);
    ck_assert(job_saved(j));
    struct job *third = again(path);
    ck_assert_str_eq(bench_print(third, "die_plate.thickness"), "36.0 mm");
    ck_assert(job_refresh(other));
    ck_assert_str_eq(bench_print(other, "die_plate.thickness"), "36.0 mm");
    ck_assert(!job_refresh(other));
    char *a = job_dump(j), *b = job_dump(other);
    ck_assert_str_eq(a, b);
    free(a);
    free(b);
    job_close(j);
    job_close(other);
    job_close(third);
    free(path);
}
END_TEST

START_TEST(a_drop_leaves_the_file_as_it_was)
{
    char *path, *before, *after;
    size_t n, m;
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path);
    ck_ok(base_read_file(path, &before, &n, why));
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    job_drop(j);
    ck_ok(job_add(j, "plate", "rails", 3, why));
    job_drop(j);
    ck_ok(base_read_file(path, &after, &m, why));
    ck_assert(n == m && memcmp(before, after, n) == 0);
    free(before);
    free(after);
    job_close(j);
    free(path);
}
END_TEST

/* ---- undo ------------------------------------------------------------------------------------------ */

static const char *const steps[][2] = {
    {"die_plate.thickness", "36 mm"}, {"strip.thickness", "2 mm"},
    {"penetration", "0.3"},           {"die_screws.middle_back.x", "usual + 3 mm"},
    {"stripping_share", "9 %"},       {"heights.free", "52 mm"},
    {"die_plate.width", "300 mm"},    {"stack.punch_plate", "punch_backing"},
};

/* DUMPS[i]: after i steps. */
static void walk_steps(struct job *j, char **dumps)
{
    dumps[0] = job_dump(j);
    for (size_t i = 0; i < COUNT_OF(steps); i++) {
        bench_set(j, steps[i][0], steps[i][1]);
        dumps[i + 1] = job_dump(j);
    }
}

static void is_now(struct job *j, const char *dump)
{
    char *now = job_dump(j);
    ck_assert_str_eq(now, dump);
    free(now);
}

START_TEST(undo_and_redo_run_the_whole_way_across_closing)
{
    char *path, *dumps[COUNT_OF(steps) + 1];
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path);
    int n = (int)COUNT_OF(steps);
    struct base_diag reason = {0};
    walk_steps(j, dumps);
    for (int i = n; i > 0; i--) {
        job_close(j);
        j = again(path);
        ck_ok(job_undo(j, why));
        is_now(j, dumps[i - 1]);
        bench_same_when_fresh(j);
    }
    ck_assert_int_ne(job_undo(j, &reason), BASE_OK);
    ck_assert(strlen(reason.message) > 10);
    is_now(j, dumps[0]);
    for (int i = 1; i <= n; i++) {
        job_close(j);
        j = again(path);
        ck_ok(job_redo(j, why));
        is_now(j, dumps[i]);
    }
    ck_assert_int_ne(job_redo(j, &reason), BASE_OK);
    /* back half, then another way: what was undone is gone, what stood before is not */
    for (int i = n; i > n / 2; i--)
        ck_ok(job_undo(j, why));
    bench_set(j, "press.stroke", "80 mm");
    ck_assert_int_ne(job_redo(j, &reason), BASE_OK);
    ck_ok(job_undo(j, why));
    is_now(j, dumps[n / 2]);
    ck_ok(job_undo(j, why));
    is_now(j, dumps[n / 2 - 1]);
    job_close(j);
    for (int i = 0; i <= n; i++)
        free(dumps[i]);
    free(path);
}
END_TEST

START_TEST(undo_tells_what_moved_back)
{
    struct job *j = bench_file(JOB);
    bench_set(j, "die_plate.thickness", "36 mm");
    ck_ok(job_undo(j, why));
    const struct job_outcome *o = job_outcome(j);
    bool back = false;
    for (int i = 0; i < o->n_moves; i++)
        back = back || (strcmp(o->moves[i].path, "die_plate.thickness") == 0 &&
                        o->moves[i].was.number == 36 && o->moves[i].is.number == 32);
    ck_assert(back);
    ck_assert_str_eq(o->title, "undone: die_plate.thickness 32 mm -> 36 mm");
    const struct typed_event *events;
    job_set_who(j, "someone");
    bench_set(j, "strip.thickness", "2 mm");
    int n = job_history(j, &events, 10);
    ck_assert_int_ge(n, 3);
    ck_assert_str_eq(events[0].title, "strip.thickness 1.5 mm -> 2 mm");
    ck_assert_str_eq(events[0].who, "someone");
    job_close(j);
}
END_TEST

START_TEST(undo_drops_an_open_try_first)
{
    struct job *j = bench_file(JOB);
    bench_set(j, "die_plate.thickness", "36 mm");
    ck_ok(job_set(j, "strip.thickness", "2 mm", why));
    ck_ok(job_undo(j, why));
    ck_assert(!job_trying(j));
    ck_assert_str_eq(bench_print(j, "strip.thickness"), "1.5 mm");
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "32.0 mm");
    job_close(j);
}
END_TEST

/* ---- two people ---------------------------------------------------------------------------------------- */

START_TEST(the_second_of_two_who_typed_over_one_value_is_told_and_shown)
{
    char *path;
    struct job *a = bench_disk(fresh_folder(), "set", JOB, &path), *b = again(path);
    ck_ok(job_set(b, "die_plate.thickness", "40 mm", why));
    bench_set(a, "die_plate.thickness", "36 mm");
    struct base_diag reason = {0};
    ck_assert_int_eq(job_take(b, &reason), BASE_CONFLICT);
    ck_assert_msg(strstr(reason.message, "36 mm"), "%s", reason.message);
    ck_assert(!job_trying(b) && job_saved(b));
    ck_assert_str_eq(bench_print(b, "die_plate.thickness"), "36.0 mm");
    bench_same_when_fresh(b);
    /* from there on it works as always */
    bench_set(b, "die_plate.thickness", "40 mm");
    ck_assert(job_refresh(a));
    ck_assert_str_eq(bench_print(a, "die_plate.thickness"), "40.0 mm");
    job_close(a);
    job_close(b);
    free(path);
}
END_TEST

START_TEST(two_who_typed_different_values_both_have_theirs)
{
    char *path;
    struct job *a = bench_disk(fresh_folder(), "set", JOB, &path), *b = again(path);
    ck_ok(job_set(b, "strip.thickness", "2 mm", why));
    bench_set(a, "die_plate.thickness", "36 mm");
    bench_take(b);
    job_close(a);
    a = again(path);
    ck_assert_str_eq(bench_print(a, "strip.thickness"), "2.0 mm");
    ck_assert_str_eq(bench_print(a, "die_plate.thickness"), "36.0 mm");
    ck_assert(job_refresh(b)); /* the other's edit came into the file too */
    ck_assert_str_eq(bench_print(b, "die_plate.thickness"), "36.0 mm");
    bench_same_when_fresh(b);
    job_close(a);
    job_close(b);
    free(path);
}
END_TEST

START_TEST(nothing_is_undone_unseen)
{
    char *path;
    struct job *a = bench_disk(fresh_folder(), "set", JOB, &path), *b = again(path);
    struct base_diag reason = {0};
    bench_set(a, "die_plate.thickness", "36 mm");
    ck_assert_int_eq(job_undo(b, &reason), BASE_CONFLICT);
    struct job *c = again(path);
    ck_assert_str_eq(bench_print(c, "die_plate.thickness"), "36.0 mm");
    ck_assert(job_refresh(b));
    ck_ok(job_undo(b, why)); /* now it is seen */
    ck_assert_str_eq(bench_print(b, "die_plate.thickness"), "32.0 mm");
    job_close(a);
    job_close(b);
    job_close(c);
    free(path);
}
END_TEST

/* ---- looking, saving elsewhere ------------------------------------------------------------------------- */

START_TEST(one_who_only_looks_changes_nothing)
{
    char *path;
    struct job *a = bench_disk(fresh_folder(), "set", JOB, &path), *b;
    struct base_diag reason = {0};
    ck_ok(job_open(bench_handbook, path, true, &b, why));
    ck_assert(job_readonly(b));
    ck_assert_int_eq(job_set(b, "die_plate.thickness", "36 mm", &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, "looking only"), "%s", reason.message);
    bench_set(a, "die_plate.thickness", "36 mm");
    ck_assert(job_refresh(b)); /* and follows */
    ck_assert_str_eq(bench_print(b, "die_plate.thickness"), "36.0 mm");
    job_close(a);
    job_close(b);
    free(path);
}
END_TEST

START_TEST(a_job_saved_elsewhere_goes_on_there)
{
    const char *folder = fresh_folder();
    char *path, *elsewhere = base_format("%s/second.diejob", folder);
    struct job *j = bench_disk(folder, "set", JOB, &path);
    bench_set(j, "die_plate.thickness", "36 mm");
    ck_ok(job_save_as(j, elsewhere, why));
    ck_assert_str_eq(job_file(j), elsewhere);
    bench_set(j, "strip.thickness", "2 mm");
    ck_ok(job_undo(j, why));
    ck_ok(job_undo(j, why)); /* the history went with it */
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "32.0 mm");
    struct job *old = again(path);
    ck_assert_str_eq(bench_print(old, "die_plate.thickness"), "36.0 mm");
    ck_assert_str_eq(bench_print(old, "strip.thickness"), "1.5 mm");
    struct base_diag reason = {0};
    ck_assert_int_ne(job_save_as(j, path, &reason), BASE_OK); /* something is there */
    ck_assert_str_eq(job_file(j), elsewhere);
    job_close(old);
    job_close(j);
    free(elsewhere);
    free(path);
}
END_TEST

/* No file of this process may grow past SIZE bytes: what a full disk does to it. A job is larger from the
 * start, the test's own notes stay far below. */
static void let_files_grow(rlim_t size)
{
    struct rlimit limit;
    signal(SIGXFSZ, SIG_IGN);
    getrlimit(RLIMIT_FSIZE, &limit);
    limit.rlim_cur = size;
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
}

START_TEST(edits_that_cannot_be_saved_stay_and_go_with_the_next_that_can)
{
    char *path, *before, *after;
    size_t n, m;
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path);
    struct base_diag reason = {0};
    ck_ok(base_read_file(path, &before, &n, why));
    let_files_grow(16 * 1024);
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    ck_assert_int_eq(job_take(j, &reason), BASE_NOT_SAVED);
    ck_assert(!job_saved(j) && !job_trying(j));
    ck_ok(job_set(j, "strip.thickness", "2 mm", why));
    ck_assert_int_eq(job_take(j, &reason), BASE_NOT_SAVED);
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "36.0 mm");
    ck_assert_str_eq(bench_print(j, "strip.thickness"), "2.0 mm");
    bench_same_when_fresh(j);
    ck_assert_int_eq(job_undo(j, &reason), BASE_NOT_SAVED); /* what is not on disk cannot be undone there */
    ck_assert_msg(strstr(reason.message, "not saved"), "%s", reason.message);
    let_files_grow(RLIM_INFINITY);
    ck_ok(base_read_file(path, &after, &m, why));
    ck_assert(n == m && memcmp(before, after, n) == 0); /* the file is as it was */
    bench_set(j, "penetration", "0.3");
    ck_assert(job_saved(j));
    struct job *other = again(path);
    ck_assert_str_eq(bench_print(other, "die_plate.thickness"), "36.0 mm");
    ck_assert_str_eq(bench_print(other, "strip.thickness"), "2.0 mm");
    ck_assert_double_eq_tol(number(other, "penetration"), 0.3, 1e-12);
    job_close(other);
    job_close(j);
    free(before);
    free(after);
    free(path);
}
END_TEST

START_TEST(edits_that_cannot_be_saved_go_with_the_job_to_another_place)
{
    const char *folder = fresh_folder();
    char *path, *elsewhere = base_format("%s/second.diejob", folder);
    struct job *j = bench_disk(folder, "set", JOB, &path);
    struct base_diag reason = {0};
    let_files_grow(16 * 1024);
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    ck_assert_int_eq(job_take(j, &reason), BASE_NOT_SAVED);
    ck_assert_int_ne(job_save_as(j, elsewhere, &reason), BASE_OK);
    ck_assert(!job_saved(j));
    let_files_grow(RLIM_INFINITY);
    ck_ok(job_save_as(j, elsewhere, why));
    ck_assert(job_saved(j));
    struct job *first = again(path), *second = again(elsewhere);
    ck_assert_str_eq(bench_print(first, "die_plate.thickness"), "32.0 mm");
    ck_assert_str_eq(bench_print(second, "die_plate.thickness"), "36.0 mm");
    ck_ok(job_undo(j, why));
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "32.0 mm");
    job_close(first);
    job_close(second);
    job_close(j);
    free(elsewhere);
    free(path);
}
END_TEST

START_TEST(a_file_that_is_none_is_refused_by_name)
{
    const char *folder = fresh_folder();
    char *path = base_format("%s/no.diejob", folder);
    struct job *j = (struct job *)1;
    struct base_diag reason = {0};
    ck_assert_int_eq(job_open(bench_handbook, path, false, &j, &reason), BASE_UNREADABLE);
    ck_assert_ptr_null(j);
    FILE *f = fopen(path, "w");
    fputs("no job at all", f);
    fclose(f);
    ck_assert_int_eq(job_open(bench_handbook, path, false, &j, &reason), BASE_UNREADABLE);
    ck_assert_ptr_null(j);
    ck_assert_msg(strstr(reason.message, "no.diejob") || strstr(reason.file, "no.diejob"), "%s",
                  reason.message);
    free(path);
}
END_TEST

/* A handbook without what the program reads by name is refused before a job is looked at, with its folder
   where there is no line to point at. */
START_TEST(a_handbook_that_lacks_what_is_read_is_refused_with_its_folder)
{
    const char *folder = fresh_folder();
    char *file = base_format("%s/handbook/own.txt", folder), *parent = base_format("%s/handbook", folder);
    struct handbook *h;
    struct base_diag reason = {0};
    ck_assert_int_eq(mkdir(parent, 0700), 0);
    FILE *f = fopen(file, "w");
    ck_assert_ptr_nonnull(f);
    fputs("kind job\n  asked unit : text\n", f);
    fclose(f);
    ck_assert_int_eq(job_open_handbook(folder, &h, &reason), BASE_REFUSED);
    ck_assert_ptr_null(h);
    ck_assert_str_eq(reason.file, "own.txt");
    ck_assert_int_eq(reason.line, 2);
    f = fopen(file, "w");
    fputs("kind plate\n  asked length : length\n", f);
    fclose(f);
    reason = (struct base_diag){0};
    ck_assert_int_eq(job_open_handbook(folder, &h, &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, "lacks the kind job") && strstr(reason.message, parent), "%s",
                  reason.message);
    free(file);
    free(parent);
}
END_TEST

START_TEST(names_of_files_have_the_suffix_once)
{
    static const char *const names[][2] = {{"cover", "cover.diejob"},
                                           {"cover.diejob", "cover.diejob"},
                                           {"a/b.c", "a/b.c.diejob"},
                                           {"diejob", "diejob.diejob"}};
    for (size_t i = 0; i < COUNT_OF(names); i++) {
        char *path = job_path(names[i][0]);
        ck_assert_str_eq(path, names[i][1]);
        free(path);
    }
}
END_TEST

/* ---- the job as it was some edits ago ---- */

static void edit_some(struct job *j, int i)
{
    switch (i) {
    case 0: ck_ok(job_set(j, "die_plate.thickness", "36 mm", why)); break;
    case 1: ck_ok(job_add(j, "plate", "rails", 3, why)); break;
    case 2: ck_ok(job_rename(j, "die_plate", "die", why)); break;
    case 3: ck_ok(job_move(j, "rails", 0, why)); break;
    case 4: ck_ok(job_set(j, "die.thickness", "30 mm", why)); break;
    case 5: ck_ok(job_reason(j, "die.thickness", "from the shelf", why)); break;
    case 6: ck_ok(job_remove(j, "rails", why)); break;
    default: ck_ok(job_entry(j, "die", "title", "die", why)); break;
    }
    bench_take(j);
}

/* Each state that edits of all sorts went through comes back, from disk too, and the job stays as it is. */
START_TEST(the_job_as_it_was_is_the_text_it_had)
{
    enum { EDITS = 8 };
    char *path, *was[EDITS + 1];
    struct base_diag reason;
    struct job *before, *j = bench_disk(fresh_folder(), "set", JOB, &path);
    const struct typed_event *events;
    ck_assert_int_eq(job_standing(j, &events, 10), 0);
    for (int i = 0; i < EDITS; i++) {
        was[i] = job_dump(j);
        edit_some(j, i);
    }
    was[EDITS] = job_dump(j);
    job_close(j);
    j = again(path);
    ck_assert_int_eq(job_standing(j, &events, 100), EDITS);
    ck_assert_str_eq(events[EDITS - 1].title, "die_plate.thickness 32 mm -> 36 mm");
    ck_assert_int_eq(job_standing(j, &events, 3), 3);
    for (int n = 1; n <= EDITS; n++) {
        ck_ok(job_before(j, n, &before, why));
        char *text = job_dump(before);
        ck_assert_str_eq(text, was[EDITS - n]);
        free(text);
        job_close(before);
    }
    ck_assert_int_eq(job_before(j, EDITS + 1, &before, &reason), BASE_UNKNOWN);
    ck_assert_ptr_null(before);
    ck_assert_str_eq(reason.message, "Only 8 edits stand in this job.");
    char *text = job_dump(j);
    ck_assert_str_eq(text, was[EDITS]);
    free(text);
    for (int i = 0; i <= EDITS; i++)
        free(was[i]);
    job_close(j);
    free(path);
}
END_TEST

/* What was taken back does not count: A, B taken back, C leaves A and C. */
START_TEST(edits_taken_back_are_not_among_those_that_stand)
{
    struct job *before, *j = bench_file(JOB);
    const struct typed_event *events;
    bench_set(j, "die_plate.thickness", "36 mm");
    bench_set(j, "die_plate.thickness", "40 mm");
    ck_ok(job_undo(j, why));
    bench_set(j, "stripper.thickness", "21 mm");
    ck_assert_int_eq(job_standing(j, &events, 10), 2);
    ck_ok(job_before(j, 1, &before, why));
    ck_assert_str_eq(bench_print(before, "die_plate.thickness"), "36.0 mm");
    job_close(before);
    ck_ok(job_before(j, 2, &before, why));
    ck_assert_str_eq(bench_print(before, "die_plate.thickness"), "32.0 mm");
    bench_same_when_fresh(before);
    job_close(before);
    ck_ok(job_set(j, "die_plate.thickness", "50 mm", why)); /* an open try is no edit */
    ck_ok(job_before(j, 1, &before, why));
    ck_assert_str_eq(bench_print(before, "die_plate.thickness"), "36.0 mm");
    job_close(before);
    ck_assert(job_trying(j));
    job_close(j);
}
END_TEST

TCase *life_tests(void)
{
    TCase *c = tcase_create("life");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_test(c, the_job_as_it_was_is_the_text_it_had);
    tcase_add_test(c, edits_taken_back_are_not_among_those_that_stand);
    tcase_add_test(c, what_is_taken_another_opening_sees);
    tcase_add_test(c, a_drop_leaves_the_file_as_it_was);
    tcase_add_test(c, undo_and_redo_run_the_whole_way_across_closing);
    tcase_add_test(c, undo_tells_what_moved_back);
    tcase_add_test(c, undo_drops_an_open_try_first);
    tcase_add_test(c, the_second_of_two_who_typed_over_one_value_is_told_and_shown);
    tcase_add_test(c, two_who_typed_different_values_both_have_theirs);
    tcase_add_test(c, nothing_is_undone_unseen);
    tcase_add_test(c, one_who_only_looks_changes_nothing);
    tcase_add_test(c, a_job_saved_elsewhere_goes_on_there);
    tcase_add_test(c, edits_that_cannot_be_saved_stay_and_go_with_the_next_that_can);
    tcase_add_test(c, edits_that_cannot_be_saved_go_with_the_job_to_another_place);
    tcase_add_test(c, a_file_that_is_none_is_refused_by_name);
    tcase_add_test(c, a_handbook_that_lacks_what_is_read_is_refused_with_its_folder);
    tcase_add_test(c, names_of_files_have_the_suffix_once);
    return c;
}
