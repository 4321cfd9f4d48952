/* What one letter in a field costs, counted: its text is read once, tried once, and the list judged once. */

#include "bench.h"

#include "counts.h"

#include <stdlib.h>
#include <string.h>

static struct job *j;

static void begin(void) { j = bench_file("data/demo/cover-plate.txt"); }
static void finish(void) { job_close(j); }

/* What a person has typed so far, letter by letter: a plain value, a bare number, a formula. */
static const struct { const char *path, *text; } typed[] = {
    {"die_plate.thickness", "36 mm"},
    {"die_plate.thickness", "40"},
    {"stripper.thickness", "die_plate.thickness / 2"},
    {"strip.thickness", "1.25 mm"},
};

/* A text that cannot be read, or be taken, is read once as well, and nothing is judged for it: the list of
   before is put back. */
START_TEST(a_letter_is_read_tried_and_judged_once)
{
    const char *text = typed[_i].text;
    struct base_diag ignored;
    for (size_t n = 1; n <= strlen(text); n++) {
        char *so_far = base_copy_n(text, n);
        counts = (struct counts){0};
        bool taken = job_set(j, typed[_i].path, so_far, &ignored) == BASE_OK;
        if (taken)
            job_outcome(j);
        ck_assert_msg(counts.parsed == 1 && counts.tried == 1 && counts.bound <= 1 && counts.judged == taken,
                      "\"%s\": read %ld times, tried %ld, bound %ld, judged %ld", so_far, counts.parsed,
                      counts.tried, counts.bound, counts.judged);
        free(so_far);
    }
}
END_TEST

START_TEST(a_try_that_is_dropped_is_not_judged_again)
{
    const struct finding *list;
    int before = findings_list(job_findings(j), &list);
    ck_ok(job_set(j, "die_plate.thickness", "12 mm", why));
    ck_assert_int_ne(job_outcome(j)->n_came, 0);
    counts = (struct counts){0};
    job_drop(j);
    ck_assert_int_eq(findings_list(job_findings(j), &list), before);
    ck_assert_int_eq(counts.judged + counts.bound + counts.tried + counts.parsed, 0);
}
END_TEST

/* What was judged when it was tried is not judged anew when it is taken. */
START_TEST(taking_what_was_seen_costs_nothing_more)
{
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    job_outcome(j);
    counts = (struct counts){0};
    ck_ok(job_take(j, why));
    ck_assert_int_eq(counts.judged + counts.bound + counts.tried + counts.parsed, 0);
}
END_TEST

/* With values of its own: a bare number gets the unit of the job, nothing typed is the usual formula. */
START_TEST(values_of_a_new_item_are_completed)
{
    const char *names[] = {"date", "off_punches", "off_die"}, *texts[] = {"2026-02-03", "0.25", ""};
    char shown[40];
    ck_ok(job_add_with(j, "sharpening", "grind_9", -1, names, texts, 3, why));
    ck_ok(job_take(j, why));
    ck_assert_str_eq(dieset_entry(job_dieset(j), dieset_find_item(job_dieset(j), "grind_9"), "off_punches"),
                     "0.25 mm");
    dieset_print(job_dieset(j), dieset_find(job_dieset(j), "grind_9.off_punches"), DIESET_NEW, shown,
                 sizeof shown);
    ck_assert_str_eq(shown, "0.25 mm");
}
END_TEST

TCase *counted_tests(void)
{
    TCase *t = tcase_create("counted");
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, begin, finish);
    tcase_add_loop_test(t, a_letter_is_read_tried_and_judged_once, 0, (int)COUNT_OF(typed));
    tcase_add_test(t, values_of_a_new_item_are_completed);
    tcase_add_test(t, a_try_that_is_dropped_is_not_judged_again);
    tcase_add_test(t, taking_what_was_seen_costs_nothing_more);
    return t;
}
