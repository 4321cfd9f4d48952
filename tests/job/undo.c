/* Undo among several: one's own last edit, nobody else's unasked, nothing from under what another did. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define JOB "tests/job/all-sorts.txt"

/* The same file open twice, by two people. */
struct two { struct job *ann, *bea; char *path; };

static void open_two(struct two *t, const char *ann, const char *bea)
{
    t->ann = bench_disk(fresh_folder(), "two", JOB, &t->path);
    ck_ok(job_open(bench_handbook, t->path, false, &t->bea, why));
    job_set_who(t->ann, ann);
    job_set_who(t->bea, bea);
}

static void close_two(struct two *t)
{
    job_close(t->ann);
    job_close(t->bea);
    free(t->path);
}

/* J, having looked, types it. */
static void types(struct job *j, const char *path, const char *formula)
{
    job_refresh(j);
    bench_set(j, path, formula);
}

static void take(struct job *j, enum base_err err, const struct base_diag *reason)
{
    ck_assert_msg(err == BASE_OK, "%s", reason->message);
    bench_take(j);
}

static void refused(struct job *j, enum base_err (*step)(struct job *, struct base_diag *),
                    enum base_err code, const char *says)
{
    struct base_diag reason = {0};
    job_refresh(j);
    char *before = job_dump(j);
    ck_assert_int_eq(step(j, &reason), code);
    ck_assert_msg(strstr(reason.message, says), "%s", reason.message);
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
}

static void undone(struct job *j) { job_refresh(j); ck_ok(job_undo(j, why)); }
static void redone(struct job *j) { job_refresh(j); ck_ok(job_redo(j, why)); }

/* Two edits of one value, both taken back, are both made again: the first, made again, is no obstacle to the
   second. */
START_TEST(two_edits_of_one_value_go_back_and_forth)
{
    struct two t;
    open_two(&t, "ann@ws1", "bea@ws2");
    const char *path = "stack.punch_length";
    char *begun = job_dump(t.ann);
    types(t.ann, path, "66 mm");
    types(t.ann, path, "67 mm");
    char *last = job_dump(t.ann);
    for (int turn = 0; turn < 2; turn++) {
        undone(t.ann);
        undone(t.ann);
        char *now = job_dump(t.ann);
        ck_assert_str_eq(now, begun);
        free(now);
        redone(t.ann);
        redone(t.ann);
        now = job_dump(t.ann);
        ck_assert_str_eq(now, last);
        free(now);
    }
    free(begun);
    free(last);
    close_two(&t);
}
END_TEST

START_TEST(ones_own_last_edit_is_taken_back_from_among_others)
{
    struct two t;
    open_two(&t, "ann@ws1", "bea@ws2");
    types(t.ann, "die_plate.thickness", "36 mm");
    types(t.bea, "stripper.thickness", "22 mm");
    types(t.bea, "strip.width", "66 mm");
    undone(t.ann);
    ck_assert_str_eq(job_outcome(t.ann)->title, "undone: die_plate.thickness 32 mm -> 36 mm");
    ck_assert_str_eq(bench_print(t.ann, "die_plate.thickness"), "32.0 mm");
    ck_assert_str_eq(bench_print(t.ann, "stripper.thickness"), "22.0 mm");
    refused(t.ann, job_undo, BASE_REFUSED,
            "strip.width 64 mm -> 66 mm is no edit of yours: bea@ws2 made it at 2");
    redone(t.ann); /* which bea's edits did not end */
    ck_assert_str_eq(bench_print(t.ann, "die_plate.thickness"), "36.0 mm");
    undone(t.bea);
    undone(t.bea);
    ck_assert_str_eq(bench_print(t.bea, "stripper.thickness"), "20.0 mm");
    ck_assert_str_eq(bench_print(t.bea, "die_plate.thickness"), "36.0 mm");
    refused(t.bea, job_undo, BASE_REFUSED, "ann@ws1 made it at 2");
    bench_same_when_fresh(t.bea);
    close_two(&t);
}
END_TEST

START_TEST(somebody_elses_edit_is_taken_back_only_when_named)
{
    struct two t;
    struct job_step s;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    ck_assert(!job_step_next(t.ann, true, 0, &s)); /* the beginning is no edit */
    types(t.ann, "die_plate.thickness", "36 mm");
    job_refresh(t.bea);
    ck_assert(job_step_next(t.bea, true, 0, &s) && !s.own && s.edit == 2);
    ck_assert_str_eq(s.who, "ann@ws1");
    ck_assert_uint_eq(strlen(s.when), strlen("2024-05-01 10:20"));
    ck_ok(job_step_take(t.bea, true, s.edit, why));
    ck_assert_str_eq(bench_print(t.bea, "die_plate.thickness"), "32.0 mm");
    ck_assert_int_eq(job_step_take(t.bea, true, s.edit, &reason), BASE_UNKNOWN);
    ck_assert_str_eq(reason.message, "2 is taken back already: die_plate.thickness 32 mm -> 36 mm.");
    refused(t.ann, job_redo, BASE_REFUSED,
            "die_plate.thickness 32 mm -> 36 mm is no edit of yours: bea@ws2 took it back at 2");
    redone(t.bea); /* who took it back may make it again */
    ck_assert(job_step_next(t.bea, true, 0, &s) && !s.own); /* and it is ann's still */
    ck_assert_int_eq(job_step_take(t.bea, true, 99, &reason), BASE_UNKNOWN);
    ck_assert_int_eq(job_step_take(t.bea, true, 1, &reason), BASE_REFUSED);
    close_two(&t);
}
END_TEST

START_TEST(what_another_edit_stands_on_stays)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    types(t.ann, "die_plate.thickness", "36 mm");
    types(t.bea, "die_plate.thickness", "38 mm");
    refused(t.ann, job_undo, BASE_REFUSED,
            "die_plate.thickness 32 mm -> 36 mm cannot be taken back: bea@ws2's edit of 2");
    refused(t.ann, job_undo, BASE_REFUSED, " stands on it (die_plate.thickness 36 mm -> 38 mm).");
    undone(t.bea);
    undone(t.ann);
    types(t.bea, "die_plate.thickness", "40 mm");
    refused(t.ann, job_redo, BASE_REFUSED, "cannot be made again: bea@ws2's edit of 2");
    job_refresh(t.ann);
    take(t.ann, job_add(t.ann, "plate", "rails", -1, &reason), &reason);
    types(t.bea, "rails.thickness", "20 mm");
    refused(t.ann, job_undo, BASE_REFUSED, "rails added cannot be taken back: bea@ws2's edit of 2");
    undone(t.bea);
    close_two(&t);
}
END_TEST

START_TEST(what_another_formula_names_stays_too)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    take(t.ann, job_add(t.ann, "plate", "rails", -1, &reason), &reason);
    types(t.ann, "rails.thickness", "20 mm");
    types(t.bea, "punch_backing.thickness", "rails.thickness / 2");
    undone(t.ann);
    refused(t.ann, job_undo, BASE_REFUSED, "rails added cannot be taken back as the job is now: ");
    close_two(&t);
}
END_TEST

START_TEST(undo_follows_renames_and_takes_them_back_with_what_names_them)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    types(t.ann, "die_plate.thickness", "36 mm");
    job_refresh(t.bea);
    take(t.bea, job_rename(t.bea, "die_plate", "matrix", &reason), &reason);
    undone(t.ann); /* under the name that it has now */
    ck_assert_str_eq(bench_print(t.ann, "matrix.thickness"), "32.0 mm");
    redone(t.ann);
    ck_assert_str_eq(bench_print(t.ann, "matrix.thickness"), "36.0 mm");
    types(t.ann, "lower_shoe.thickness", "matrix.thickness + 10 mm"); /* names it by the new one */
    take(t.ann, job_remark(t.ann, "matrix", "why so?", &reason), &reason);
    undone(t.bea);
    ck_assert_str_eq(bench_print(t.bea, "lower_shoe.thickness"), "46.0 mm");
    char *text = job_dump(t.bea);
    ck_assert_msg(strstr(text, "thickness = die_plate.thickness + 10 mm") &&
                      strstr(text, "\n  item die_plate\n"),
                  "%s", text);
    free(text);
    bench_same_when_fresh(t.bea);
    undone(t.ann);
    undone(t.ann);
    ck_assert_str_eq(bench_print(t.ann, "die_plate.thickness"), "32.0 mm");
    close_two(&t);
}
END_TEST

START_TEST(places_that_others_shifted_are_no_obstacle)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    take(t.ann, job_add(t.ann, "plate", "rails", 9, &reason), &reason);
    job_refresh(t.bea);
    take(t.bea, job_add(t.bea, "plate", "spacer", 6, &reason), &reason);
    undone(t.ann);
    ck_assert_int_lt(dieset_find_item(job_dieset(t.ann), "rails"), 0);
    redone(t.ann);
    undone(t.bea);
    undone(t.ann);
    char *now = job_dump(t.ann);
    struct job *first = bench_file(JOB);
    char *was = job_dump(first);
    ck_assert_str_eq(now, was);
    free(now);
    free(was);
    job_close(first);
    close_two(&t);
}
END_TEST

START_TEST(what_is_said_is_no_step_and_is_taken_out_by_who_said_it)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    types(t.ann, "die_plate.thickness", "36 mm");
    take(t.ann, job_remark(t.ann, "die_plate", "thicker", &reason), &reason);
    undone(t.ann);
    ck_assert_str_eq(job_outcome(t.ann)->title, "undone: die_plate.thickness 32 mm -> 36 mm");
    refused(t.ann, job_undo, BASE_UNKNOWN, "There is nothing to undo: ");
    job_refresh(t.bea);
    ck_assert_int_eq(job_step_take(t.bea, true, 3, &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, "3 is no step of undo: remark on die_plate: thicker."), "%s",
                  reason.message);
    ck_assert_int_eq(job_unremark(t.bea, "remark_1", &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, "remark_1 is not yours: ann@ws1 said it at 2"), "%s",
                  reason.message);
    ck_assert_int_eq(job_remove(t.bea, "remark_1", &reason), BASE_REFUSED);
    ck_assert_int_eq(job_unsay(t.bea, "remark_1", true, &reason), BASE_REFUSED); /* who was told as well */
    ck_assert_ptr_nonnull(strstr(reason.message, "Only who said it takes it out"));
    job_refresh(t.ann);
    take(t.ann, job_unremark(t.ann, "remark_1", &reason), &reason);
    close_two(&t);
}
END_TEST

static struct review_remark remark_in(struct job *j, int at)
{
    struct review_remark list[8];
    ck_assert_int_gt(review_remarks(job_dieset(j), list, 8), at);
    return list[at];
}

/* Ann asks, Bea answers and says that it is done, Ann opens it again; answers are of what was asked. */
START_TEST(a_remark_is_answered_done_and_open_again)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    take(t.ann, job_remark(t.ann, "die_plate.thickness", "thicker", &reason), &reason);
    take(t.bea, job_remark(t.bea, "remark_1", "no room", &reason), &reason);
    take(t.bea, job_remark(t.bea, "remark_2", "but by 2 mm", &reason), &reason);
    for (int i = 1; i <= 2; i++) {
        ck_assert_str_eq(remark_in(t.bea, i).on_item, "die_plate.thickness");
        ck_assert_str_eq(remark_in(t.bea, i).answers, "remark_1");
    }
    ck_assert_int_eq(review_open_remarks(job_dieset(t.bea), NULL, NULL), 1);
    ck_assert_int_eq(review_open_remarks(job_dieset(t.bea), NULL, "die_plate"), 1);
    ck_assert_int_eq(review_open_remarks(job_dieset(t.bea), NULL, "die_plate.thickness"), 1);
    ck_assert_int_eq(review_open_remarks(job_dieset(t.bea), NULL, "die_plate.length"), 0);
    take(t.bea, job_remark_done(t.bea, "remark_3", true, &reason), &reason);
    ck_assert_str_eq(job_outcome(t.bea)->title, "remark_1 done: thicker");
    ck_assert_str_eq(remark_in(t.bea, 0).done_by, "bea@ws2");
    ck_assert_int_eq(review_open_remarks(job_dieset(t.bea), NULL, NULL), 0);
    ck_assert_int_eq(job_remark_done(t.bea, "remark_1", true, &reason), BASE_REFUSED);
    ck_assert_str_eq(reason.message, "remark_1 is done already.");
    take(t.ann, job_remark_done(t.ann, "remark_1", false, &reason), &reason);
    ck_assert_int_eq(review_open_remarks(job_dieset(t.ann), NULL, "die_plate"), 1);
    ck_assert_str_eq(remark_in(t.ann, 0).done, "");
    ck_assert_int_eq(job_remark_done(t.ann, "die_plate", true, &reason), BASE_UNKNOWN);
    close_two(&t);
}
END_TEST

/* An old file tells the account alone. */
static const struct { const char *a, *b; bool same; } people[] = {
    {"mh@ws1", "mh@ws1", true}, {"mh", "mh@ws1", true}, {"mh@ws1", "mh", true},  {"mh@ws1", "mh@ws2", false},
    {"mh", "mhx", false},       {"", "mh@ws1", false},  {"mh@ws1", "", false},   {"", "", true},
};

START_TEST(who_is_account_and_host_and_old_names_read_on)
{
    struct two t;
    struct job_step s;
    open_two(&t, people[_i].a, people[_i].b);
    types(t.ann, "die_plate.thickness", "36 mm");
    job_refresh(t.bea);
    ck_assert(job_step_next(t.bea, true, 0, &s));
    ck_assert_int_eq(s.own, people[_i].same);
    close_two(&t);
}
END_TEST

START_TEST(what_stands_since_a_revision_knows_what_was_taken_back_from_under_it)
{
    struct two t;
    struct base_diag reason = {0};
    struct job *was;
    const struct typed_event *e;
    open_two(&t, "ann@ws1", "bea@ws2");
    const struct finding *list;
    types(t.ann, "die_plate.thickness", "36 mm");
    for (int n = findings_list(job_findings(t.ann), &list), i = 0; i < n; i++)
        if (list[i].grade == HANDBOOK_FAULT && !list[i].waiver) {
            take(t.ann, job_waive(t.ann, list[i].key, "another press", &reason), &reason);
            n = findings_list(job_findings(t.ann), &list);
            i = -1;
        }
    char *issued = job_dump(t.ann);
    take(t.ann, job_issue(t.ann, NULL, NULL, &reason), &reason);
    ck_assert(job_is_issued(t.ann));
    undone(t.ann);
    ck_assert(!job_is_issued(t.ann));
    ck_assert_int_eq(job_since(t.ann, "A", &e, &reason), 1);
    ck_assert_str_eq(e->title, "undone: die_plate.thickness 32 mm -> 36 mm");
    ck_assert_int_eq(job_edits_since(t.ann, "A"), 1);
    ck_ok(job_revision(t.ann, "A", &was, why)); /* as it was */
    ck_assert_str_eq(bench_print(was, "die_plate.thickness"), "36.0 mm");
    job_close(was);
    redone(t.ann);
    ck_assert(job_is_issued(t.ann));
    ck_assert_int_eq(job_edits_since(t.ann, "A"), 0);
    free(issued);
    close_two(&t);
}
END_TEST

START_TEST(nothing_is_issued_that_somebody_changed_between_looking_and_taking)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t, "ann@ws1", "bea@ws2");
    const struct finding *list;
    for (int n = findings_list(job_findings(t.ann), &list), i = 0; i < n; i++)
        if (list[i].grade == HANDBOOK_FAULT && !list[i].waiver) {
            take(t.ann, job_waive(t.ann, list[i].key, "another press", &reason), &reason);
            n = findings_list(job_findings(t.ann), &list);
            i = -1;
        }
    ck_ok(job_issue(t.ann, NULL, NULL, why));
    types(t.bea, "strip.width", "66 mm");
    ck_assert_int_eq(job_take(t.ann, &reason), BASE_CONFLICT);
    ck_assert_msg(strstr(reason.message, "bea@ws2 has edited meanwhile"), "%s", reason.message);
    char *text = job_dump(t.ann);
    ck_assert_ptr_null(strstr(text, "revision_1"));
    free(text);
    close_two(&t);
}
END_TEST

TCase *undo_tests(void)
{
    TCase *t = tcase_create("undo");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_test(t, two_edits_of_one_value_go_back_and_forth);
    tcase_add_test(t, ones_own_last_edit_is_taken_back_from_among_others);
    tcase_add_test(t, somebody_elses_edit_is_taken_back_only_when_named);
    tcase_add_test(t, what_another_edit_stands_on_stays);
    tcase_add_test(t, what_another_formula_names_stays_too);
    tcase_add_test(t, undo_follows_renames_and_takes_them_back_with_what_names_them);
    tcase_add_test(t, places_that_others_shifted_are_no_obstacle);
    tcase_add_test(t, what_is_said_is_no_step_and_is_taken_out_by_who_said_it);
    tcase_add_test(t, a_remark_is_answered_done_and_open_again);
    tcase_add_loop_test(t, who_is_account_and_host_and_old_names_read_on, 0, COUNT_OF(people));
    tcase_add_test(t, what_stands_since_a_revision_knows_what_was_taken_back_from_under_it);
    tcase_add_test(t, nothing_is_issued_that_somebody_changed_between_looking_and_taking);
    return t;
}
