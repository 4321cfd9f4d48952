/* What is said of a job and what it was: words that follow renames, two people at once, revisions had again
   out of the history. */

#include "bench.h"

#include <stdlib.h>
#include <string.h>

#define JOB "tests/job/all-sorts.txt"

static void take(struct job *j, enum base_err err, const struct base_diag *reason)
{
    ck_assert_msg(err == BASE_OK, "%s", reason->message);
    bench_take(j);
}

static void waive(struct job *j, const char *finding, const char *reason)
{
    struct base_diag why = {0};
    take(j, job_waive(j, finding, reason, &why), &why);
}

static void waive_faults(struct job *j)
{
    const struct finding *list;
    int n = findings_list(job_findings(j), &list), i = 0;
    while (i < n) {
        if (list[i].grade != HANDBOOK_FAULT || list[i].waiver) {
            i++;
            continue;
        }
        waive(j, list[i].key, "another press is meant");
        n = findings_list(job_findings(j), &list);
        i = 0;
    }
}

static void issue(struct job *j, const char *letter, const char *note)
{
    struct base_diag why = {0};
    take(j, job_issue(j, letter, note, &why), &why);
}

static void expect_line(struct job *j, const char *line, bool there)
{
    char *text = job_dump(j);
    ck_assert_msg(!strstr(text, line) == !there, "%s in\n%s", line, text);
    free(text);
}

static const char *waiver_of(struct job *j, const char *key)
{
    const struct finding *x;
    ck_ok(findings_named(job_findings(j), key, &x, why));
    return x->waiver;
}

START_TEST(a_second_person_issues_where_the_job_asks_for_one)
{
    struct base_diag reason = {0};
    struct review_revision r;
    struct job *j = bench_file("data/demo/cover-plate.txt");
    job_set_who(j, "ann@ws1");
    bench_set(j, "job.second_person", "yes");
    bench_set(j, "die_backing.thickness", "16 mm");
    ck_assert_int_eq(job_issue(j, NULL, "", &reason), BASE_REFUSED);
    ck_assert_ptr_nonnull(
        strstr(reason.message, "asks for a second person (job.second_person), and you edited"));
    ck_assert_ptr_nonnull(strstr(reason.message, "die_backing.thickness 12 mm -> 16 mm"));
    bench_set(j, "job.second_person", "no"); /* one's own question may be dropped ... */
    ck_ok(job_issue(j, NULL, "", why));
    job_drop(j);
    job_set_who(j, "lea@ws2");
    bench_set(j, "job.second_person", "yes");
    job_set_who(j, "ann@ws1");
    bench_set(j, "job.second_person", "no"); /* ... another's is no way round it */
    ck_assert_int_eq(job_issue(j, NULL, "", &reason), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(reason.message, "you said yourself"));
    bench_set(j, "job.second_person", "yes");
    bench_set(j, "die_backing.thickness", "14 mm");
    bench_set(j, "die_backing.thickness", "16 mm");
    job_set_who(j, "lea@ws2");
    ck_ok(job_remark(j, "posts", "looked over", why)); /* words are no edit */
    bench_take(j);
    ck_ok(job_issue(j, NULL, "", why));
    bench_take(j);
    ck_assert(review_latest(job_dieset(j), &r));
    ck_assert_str_eq(r.made_by, "ann@ws1");
    ck_assert_str_eq(r.by, "lea@ws2");
    job_close(j);
}
END_TEST

START_TEST(what_was_ordered_is_marked_with_who_and_when)
{
    struct base_diag reason = {0};
    struct review_revision r;
    struct job *j = bench_file("data/demo/cover-plate.txt");
    job_set_who(j, "ann@ws1");
    ck_assert_int_eq(job_ordered(j, NULL, false, &reason), BASE_REFUSED);
    ck_ok(job_issue(j, NULL, "", why));
    bench_take(j);
    ck_assert(!review_ordered(job_dieset(j), &r));
    ck_assert_int_eq(job_ordered(j, NULL, true, &reason), BASE_REFUSED);
    ck_ok(job_ordered(j, NULL, false, why));
    bench_take(j);
    ck_assert_int_eq(job_ordered(j, "A", false, &reason), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(reason.message, "by ann@ws1, already"));
    bench_set(j, "die_backing.thickness", "16 mm");
    ck_ok(job_issue(j, NULL, "", why));
    bench_take(j);
    ck_assert(review_ordered(job_dieset(j), &r)); /* B is issued; what is on its way is A's */
    ck_assert_str_eq(r.letter, "A");
    ck_assert_str_eq(r.ordered_by, "ann@ws1");
    ck_ok(job_ordered(j, "A", true, why));
    bench_take(j);
    ck_assert(!review_ordered(job_dieset(j), &r));
    ck_ok(job_ordered(j, "A", false, why));
    bench_take(j);
    ck_ok(job_withdraw(j, "A", "wrong steel", why));
    bench_take(j);
    ck_assert(review_ordered(job_dieset(j), &r)); /* withdrawn, its parts are on their way all the same */
    ck_assert_str_eq(r.letter, "A");
    ck_ok(job_ordered(j, "A", true, why));
    bench_take(j);
    ck_assert(!review_ordered(job_dieset(j), &r));
    ck_assert_int_eq(job_ordered(j, "A", false, &reason), BASE_REFUSED);
    job_close(j);
}
END_TEST

START_TEST(a_waiver_opens_again_by_an_edit_and_closes_with_it)
{
    struct job *j = bench_file(JOB);
    waive(j, "press-window", "risers come later");
    ck_assert_str_eq(waiver_of(j, "press-window"), "waiver_1");
    bench_set(j, "die_plate.thickness", "36 mm"); /* nearer to what the press wants */
    ck_assert_str_eq(waiver_of(j, "press-window"), "waiver_1");
    bench_set(j, "die_plate.thickness", "31 mm"); /* further from it than when it was waived */
    ck_assert_int_eq(job_outcome(j)->n_came, 1);
    ck_assert_str_eq(job_outcome(j)->came[0].key, "press-window");
    ck_assert_ptr_null(waiver_of(j, "press-window"));
    waive(j, "press-window", "also so"); /* the same waiver, brought up to now */
    ck_assert_str_eq(waiver_of(j, "press-window"), "waiver_1");
    expect_line(j, "  margin -47 mm\n", true);
    expect_line(j, "waiver waiver_2", false);
    ck_ok(job_undo(j, why)); /* of what was typed: what is said is no step */
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "36.0 mm");
    ck_assert_str_eq(waiver_of(j, "press-window"), "waiver_1");
    struct base_diag reason = {0};
    take(j, job_unwaive(j, "press-window", false, &reason), &reason);
    ck_assert_ptr_null(waiver_of(j, "press-window"));
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

START_TEST(words_follow_a_rename_and_keep_nothing_from_being_taken_out)
{
    struct job *j = bench_file(JOB);
    struct base_diag reason = {0};
    waive(j, "post-turn posts", "marked");
    take(j, job_remark(j, "posts.length", "one longer?", &reason), &reason);
    take(j, job_rename(j, "posts", "pillars", &reason), &reason);
    expect_line(j, "  finding post-turn pillars\n", true);
    expect_line(j, "  item pillars.length\n", true);
    ck_assert_str_eq(waiver_of(j, "post-turn pillars"), "waiver_1");
    take(j, job_remove(j, "bushings", &reason), &reason);
    take(j, job_remove(j, "pillars", &reason), &reason);
    expect_line(j, "  item pillars.length\n", true); /* the words stay said */
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

/* ---- two people ---- */

START_TEST(two_who_remark_at_once_both_have_theirs_and_one_waives_first)
{
    char *path;
    struct base_diag reason = {0};
    struct job *j = bench_disk(fresh_folder(), "two", JOB, &path), *other;
    ck_ok(job_open(bench_handbook, path, false, &other, why));
    job_set_who(j, "anna");
    job_set_who(other, "bert");
    ck_ok(job_remark(j, "die_plate", "first", why));
    bench_take(j);
    ck_ok(job_remark(other, "die_plate", "second", why)); /* sees the first before it takes a number */
    bench_take(other);
    job_refresh(j);
    expect_line(j, "remark remark_1\n  item die_plate\n  by anna\n", true);
    expect_line(j, "remark remark_2\n  item die_plate\n  by bert\n", true);
    ck_ok(job_waive(j, "press-window", "mine", why));
    ck_ok(job_waive(other, "press-window", "his", why));
    bench_take(j);
    ck_assert_int_eq(job_take(other, &reason), BASE_CONFLICT);
    ck_assert_msg(strstr(reason.message, "waiver_1 has changed meanwhile"), "%s", reason.message);
    expect_line(other, "  says mine\n", true); /* and is shown what stands */
    job_close(j);
    job_close(other);
    free(path);
}
END_TEST

START_TEST(nothing_is_released_unseen)
{
    char *path;
    struct base_diag reason = {0};
    struct job *j = bench_disk(fresh_folder(), "unseen", JOB, &path), *other;
    waive_faults(j);
    ck_ok(job_open(bench_handbook, path, false, &other, why));
    bench_set(other, "die_plate.thickness", "36 mm");
    ck_assert_int_eq(job_issue(j, "A", NULL, &reason), BASE_CONFLICT);
    ck_assert_msg(strstr(reason.message, "Look at that first, then issue."), "%s", reason.message);
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "36.0 mm");
    issue(j, "A", NULL);
    job_close(j);
    job_close(other);
    free(path);
}
END_TEST

/* ---- what it was ---- */

/* All values of D as lines. */
static char *values_of(struct dieset *d)
{
    struct base_text out = {0};
    char buf[200];
    for (int q = 0; q < dieset_quantity_count(d); q++)
        for (int s = 0; s < DIESET_STATES; s++)
            base_text_addf(&out, "%s %d %s %s\n", dieset_quantity(d, q)->path, s,
                           dieset_print(d, q, (enum dieset_state)s, buf, sizeof buf),
                           dieset_quantity(d, q)->text ? dieset_quantity(d, q)->text : "");
    return base_text_take(&out);
}

/* Every sort of change, so that each is taken back: values, reasons, items in, out, renamed, moved, laid, own
   values. */
static void change_all(struct job *j)
{
    struct base_diag reason = {0};
    bench_set(j, "die_plate.thickness", "36 mm");
    take(j, job_unset(j, "die_plate.width", &reason), &reason);
    take(j, job_rename(j, "punch_plate", "holder", &reason), &reason);
    take(j, job_add(j, "plate", "rails", 2, &reason), &reason);
    bench_set(j, "rails.thickness", "20 mm");
    take(j, job_rename(j, "rails", "beams", &reason), &reason);
    take(j, job_remove(j, "bushings", &reason), &reason);
    take(j, job_move(j, "lower_shoe", 0, &reason), &reason);
    ck_ok(job_undo(j, why));
    take(j, job_lay(j, "die_screws", "corners on die_plate", &reason), &reason);
    take(j, job_value_rename(j, "heights", "free", "clear", &reason), &reason);
    take(j, job_set(j, "penetration", "0.35", &reason), &reason);
    take(j, job_remark(j, "beams", "are they wanted?", &reason), &reason);
    ck_ok(job_undo(j, why));
    ck_ok(job_redo(j, why));
}

START_TEST(a_revision_is_had_again_out_of_the_history)
{
    char *path;
    struct job *j = bench_disk(fresh_folder(), "again", JOB, &path);
    struct base_diag reason = {0};
    struct job *was;
    waive_faults(j);
    char *first = values_of(job_dieset(j));
    issue(j, NULL, "to the shop");
    expect_line(j, "  letter A\n", true);
    change_all(j);
    char *second = values_of(job_dieset(j));
    ck_assert_str_ne(first, second);
    waive(j, "press-window", "still");
    waive_faults(j); /* whatever the changes brought */
    issue(j, "b", NULL);
    bench_set(j, "die_plate.thickness", "40 mm");
    job_close(j);
    ck_ok(job_open(bench_handbook, path, true, &j, why)); /* also by one who only looks */
    const char *const *letters = (const char *const[]){"a", "B"};
    char *const wanted[] = {first, second};
    for (int i = 0; i < 2; i++) {
        ck_assert_msg(job_revision(j, letters[i], &was, &reason) == BASE_OK, "%s", reason.message);
        char *had = values_of(job_dieset(was));
        ck_assert_str_eq(had, wanted[i]);
        free(had);
        job_close(was);
    }
    ck_assert_int_eq(job_revision(j, "C", &was, &reason), BASE_UNKNOWN);
    ck_assert_str_eq(reason.message, "The job has no revision \"C\"; the latest is B.");
    ck_assert_ptr_null(was);
    free(first);
    free(second);
    free(path);
    job_close(j);
}
END_TEST

START_TEST(a_text_edited_since_does_not_pass_for_what_was_released)
{
    struct job *j = bench_file(JOB);
    struct base_diag reason = {0};
    struct job *was;
    waive_faults(j);
    issue(j, "A", NULL);
    char *text = job_dump(j);
    struct job *same = bench_text(text);
    ck_ok(job_revision(same, "A", &was, why)); /* dumped as it was issued: it is that text still */
    job_close(was);
    bench_set(same, "die_plate.thickness", "36 mm");
    ck_ok(job_revision(same, "A", &was, why));
    job_close(was);
    bench_set(j, "die_plate.thickness", "36 mm");
    free(text);
    text = job_dump(j);
    struct job *later = bench_text(text);
    ck_assert_int_eq(job_revision(later, "A", &was, &reason), BASE_UNKNOWN);
    ck_assert_msg(strstr(reason.message, "Revision A cannot be shown from this file"), "%s", reason.message);
    free(text);
    job_close(j);
    job_close(same);
    job_close(later);
}
END_TEST

START_TEST(an_issued_revision_is_not_undone_and_its_letter_not_given_again)
{
    struct job *j = bench_file(JOB), *again;
    struct base_diag reason = {0};
    char letter[REVIEW_LETTER];
    waive_faults(j);
    issue(j, "A", "first");
    enum base_err (*const tries[])(struct job *, const char *, const char *,
                                   struct base_diag *) = {job_rename, job_add_like};
    for (size_t i = 0; i < COUNT_OF(tries); i++)
        ck_assert_int_eq(tries[i](j, "revision_1", "other", &reason), BASE_REFUSED);
    ck_assert_int_eq(job_remove(j, "revision_1", &reason), BASE_REFUSED);
    ck_assert_str_eq(reason.message, "revision_1 is an issued revision: it stays as it was said.");
    ck_assert_int_eq(job_entry(j, "revision_1", "says", "other", &reason), BASE_REFUSED);
    ck_assert_int_eq(job_issue(j, "A", NULL, &reason), BASE_REFUSED);
    ck_assert_int_eq(job_undo(j, &reason), BASE_UNKNOWN);
    ck_assert_str_eq(reason.message,
                     "There is nothing to undo: this is where the job began, but for what was said.");
    expect_line(j, "\nrevision revision_1\n", true);
    ck_assert_int_eq(job_withdraw(j, "a", "", &reason), BASE_REFUSED);
    ck_assert_str_eq(reason.message, "Revision A is withdrawn only with a reason.");
    take(j, job_withdraw(j, "a", "a wrong steel", &reason), &reason);
    expect_line(j, "  because a wrong steel\n", true);
    ck_assert_int_eq(job_withdraw(j, "A", "again", &reason), BASE_REFUSED);
    ck_assert_int_eq(job_undo(j, &reason), BASE_UNKNOWN);
    ck_assert(!job_is_issued(j));
    ck_assert_str_eq(job_next_letter(j, letter), "B");
    ck_assert_int_eq(job_issue(j, "A", NULL, &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, " and withdrawn on 2"), "%s", reason.message);
    struct base_text words = {0};
    job_issued_words(j, &words);
    ck_assert_msg(strncmp(words.data, "not issued; revision A was withdrawn on 2", 41) == 0 &&
                      strstr(words.data, "somebody: a wrong steel"),
                  "%s", words.data);
    base_text_done(&words);
    char *text = job_dump(j); /* and across a text of it */
    ck_ok(job_from_text(bench_handbook, text, "again", &again, why));
    ck_assert_str_eq(job_next_letter(again, letter), "B");
    free(text);
    job_close(again);
    job_close(j);
}
END_TEST

START_TEST(the_past_is_walked_event_by_event_with_what_each_moved)
{
    struct job *j = bench_file(JOB);
    struct job_past *p;
    struct job_past_step s;
    bench_set(j, "die_plate.thickness", "36 mm");
    struct base_diag reason = {0};
    take(j, job_remark(j, "die_plate", "thicker", &reason), &reason);
    bench_set(j, "strip.thickness", "2 mm");
    ck_ok(job_past_new(j, &p, why));
    static const struct {
        const char *title, *path;
        double was, is;
    } steps[] = {
        {"strip.thickness 1.5 mm -> 2 mm", "strip.thickness", 1.5, 2},
        {"remark on die_plate: thicker", NULL, 0, 0},
        {"die_plate.thickness 32 mm -> 36 mm", "die_plate.thickness", 32, 36},
    };
    for (size_t i = 0; i < COUNT_OF(steps); i++) {
        ck_assert(job_past_back(p, &s));
        ck_assert_str_eq(s.event->title, steps[i].title);
        bool told = !steps[i].path && s.n_moves == 0;
        for (int m = 0; m < s.n_moves && steps[i].path; m++)
            told = told || (strcmp(s.moves[m].path, steps[i].path) == 0 &&
                            s.moves[m].was.number == steps[i].was && s.moves[m].is.number == steps[i].is);
        ck_assert_msg(told, "%s", steps[i].title);
    }
    ck_assert(job_past_back(p, &s)); /* the job begins */
    ck_assert_int_eq(s.event->seq, 1);
    ck_assert(!job_past_back(p, &s));
    job_past_free(p);
    job_close(j);
}
END_TEST

TCase *review_tests(void)
{
    TCase *t = tcase_create("review");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_test(t, a_second_person_issues_where_the_job_asks_for_one);
    tcase_add_test(t, what_was_ordered_is_marked_with_who_and_when);
    tcase_add_test(t, a_waiver_opens_again_by_an_edit_and_closes_with_it);
    tcase_add_test(t, words_follow_a_rename_and_keep_nothing_from_being_taken_out);
    tcase_add_test(t, two_who_remark_at_once_both_have_theirs_and_one_waives_first);
    tcase_add_test(t, nothing_is_released_unseen);
    tcase_add_test(t, a_revision_is_had_again_out_of_the_history);
    tcase_add_test(t, a_text_edited_since_does_not_pass_for_what_was_released);
    tcase_add_test(t, an_issued_revision_is_not_undone_and_its_letter_not_given_again);
    tcase_add_test(t, the_past_is_walked_event_by_event_with_what_each_moved);
    return t;
}
