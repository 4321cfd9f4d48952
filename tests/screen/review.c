/* tests/screen/review.c - the lead's two minutes: what is open, edited, typed over; remarks, waivers,
   issuing; a finding mended */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];

static void begin(void)
{
    snprintf(job, sizeof job, "%s", demo_job());
}

/* A command of the program on the job. */
static void run(const char *command, const char *words)
{
    char *line = base_format("USER=mh %s --data data %s %s %s >/dev/null 2>&1", program(), command, job,
                             words);
    ck_assert_msg(system(line) == 0, "%s", line);
    free(line);
}

static void edited_since_a_release(void)
{
    run("waive", "turn-proof 'front is marked'");
    run("issue", "--note 'first issue'");
    run("set", "'die_backing.thickness=16 mm'");
    run("set", "'die_plate.thickness=40 mm'");
    run("remark", "die_plate.thickness 'why not 36'");
}

static const struct {
    int rows, columns;
    const char *locale;
} sizes[] = {{24, 80, NULL}, {24, 80, "C"}, {60, 200, NULL}};

START_TEST(a_released_job_opens_for_looking_with_its_review)
{
    edited_since_a_release();
    const char *argv[] = {program(), job, "--look", NULL};
    struct bed *b = bed_open(&(struct bed_start){
        .argv = argv, .rows = sizes[_i].rows, .columns = sizes[_i].columns, .locale = sizes[_i].locale});
    static const char *const words[] = {
        "rev A issued 20",
        " mh  \"first issue\"",
        "looking",
        "issue: no, 1 fault open",
        "!! post end",
        " ~ turned",
        "mh: front is marked",
        "since A   2 edits, 1 remark",
        "die_plate.thickness 34 mm -> 40",
        "why not 36",
        "press   new 289.2 mm",
        "Enter go there",
        "d differences",
    };
    for (size_t i = 0; i < COUNT_OF(words); i++)
        bed_wait(b, words[i]);
    bed_wait(b, "posts.length 200.0 -> 224.0"); /* what the edit moved */
    ck_assert_msg(!bed_shows(b, "E issue") && !bed_shows(b, "W waive"), "offered to one who only looks:\n%s",
                  bed_screen(b));
    bed_type(b, "W");
    bed_wait(b, "looking only: nothing is changed here");
    for (const char *p = bed_screen(b); *p && sizes[_i].locale; p++)
        ck_assert_msg((unsigned char)*p < 127, "not plain:\n%s", bed_screen(b));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, ">upper shoe");
    bed_type(b, "\t");
    bed_wait(b, "> thickness");
    ck_assert_msg(!bed_shows(b, "Enter change"), "offered to one who only looks: %s",
                  bed_row(b, sizes[_i].rows - 1));
    ck_assert(bed_shows(b, "w why"));
    leave(b);
}
END_TEST

START_TEST(from_the_review_one_goes_to_what_it_tells)
{
    edited_since_a_release();
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_type(b, "r");
    bed_wait(b, "since A");
    ck_assert(bed_find(b, ">", NULL) >= 0);
    bed_type(b, "\r");
    bed_wait(b, "would clear it:");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "since A");
    bed_type(b, "n"); /* the remarks */
    bed_quiet(b, 40);
    bed_type(b, "\r");
    bed_wait(b, "> thickness");
    bed_type(b, "/why not 36\r"); /* a remark that is found leads to what it speaks of */
    bed_wait(b, "why not 36   1 of 1 with");
    bed_wait(b, "> thickness");
    bed_type(b, "r");
    bed_wait(b, "since A");
    bed_type(b, "d");
    bed_wait(b, "revision A beside the job as it is");
    bed_wait(b, "die_plate.thickness");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "since A");
    bed_type(b, ":review\r"); /* it is one of the main screen's */
    bed_wait(b, "review works in: ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, ">");
    leave(b);
}
END_TEST

START_TEST(remarks_waivers_and_a_release_are_said_on_the_screen)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_type(b, "r");
    bed_wait(b, "not issued yet");
    bed_wait(b, "issue: may be, with 2 cautions open on its papers");
    bed_type(b, "R");
    bed_wait(b, "remark on wall, blank:");
    bed_type(b, "ask the shop\r");
    bed_wait(b, "taken: remark on opening-wall-straight blank: ask the shop");
    bed_wait(b, "1 remark");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "stack, shut");
    bed_type(b, "/ask the shop\r");
    bed_wait(b, "rule: opening-wall-straight");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "stack, shut");
    bed_type(b, "r");
    bed_wait(b, "1 remark");
    bed_type(b, "W");
    bed_wait(b, "waive wall, blank, because:");
    bed_type(b, "used so for years\r");
    bed_wait(b, "taken: waived opening-wall-straight");
    bed_wait(b, ": used so for years");
    bed_wait(b, " ~ 1");
    bed_type(b, "E");
    bed_wait(b, "issue as revision: A");
    bed_type(b, "\r");
    bed_wait(b, "issue as A, with the note:");
    bed_type(b, "for quotation\r");
    bed_wait(b, "rev A issued 20");
    char *text = base_copy(dumped(job));
    ck_assert_msg(strstr(text, "\nremark remark_1\n  finding opening-wall-straight blank\n") &&
                      strstr(text, "\n  says used so for years\n") &&
                      strstr(text, "\nrevision revision_1\n  letter A\n") &&
                      strstr(text, "\n  says for quotation\n"),
                  "%s", text);
    free(text);
    bed_type(b, "u");
    bed_wait(b, "There is nothing to undo: ");
    ck_assert(bed_shows(b, "rev A issued 20"));
    bed_type(b, "nn"); /* remarks, revisions */
    bed_type(b, "D");
    bed_wait(b, "withdraw revision A, because:");
    bed_type(b, "a wrong steel\r");
    bed_wait(b, "taken: revision A withdrawn: a wrong steel");
    bed_wait(b, "not issued  rev A withdrawn");
    bed_wait(b, "withdrawn 20");
    bed_type(b, "E");
    bed_wait(b, "issue as revision: B");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "rev A withdrawn");
    bed_type(b, ":remark die_plate.thickness why so thin\r");
    bed_wait(b, "taken: remark on die_plate.thickness: why so thin");
    bed_type(b, ":go-to stripper\r:remark wait for the steel\r"); /* what is at the cursor */
    bed_wait(b, "taken: remark on stripper.thickness: wait for");
    bed_type(b, ":remark die_plate\r");
    bed_wait(b, "what does the remark on die_plate say?");
    leave(b);
}
END_TEST

START_TEST(somebody_elses_edit_is_undone_only_once_it_is_named)
{
    struct bed *b = screens(job, 24, 80, (const char *const[]){"USER=lea", NULL}, NULL);
    bed_type(b, ":set stripper.thickness=22\r");
    bed_wait(b, "taken: stripper.thickness");
    run("set", "'die_plate.thickness=36 mm'"); /* by mh */
    bed_wait(b, "mh meanwhile: ");
    bed_type(b, "u");
    bed_wait(b, "undone: stripper.thickness");
    bed_type(b, "u");
    bed_wait(b, "mh edited at 20");
    bed_wait(b, "y takes it back:");
    bed_type(b, "n\r");
    bed_wait(b, "nothing taken back");
    bed_type(b, "u");
    bed_wait(b, "y takes it back:");
    bed_type(b, "y\r");
    bed_wait(b, "undone: die_plate.thickness 34 mm -> 36 mm");
    bed_type(b, ":set die_plate.thickness=35\r");
    bed_wait(b, "taken: die_plate.thickness");
    run("set", "'die_plate.thickness=36 mm'");
    bed_wait(b, "mh meanwhile: ");
    bed_type(b, "u");
    bed_wait(b, "cannot be taken back: mh's edit of");
    leave(b);
}
END_TEST

/* The numbers are those that the history tells. */
START_TEST(an_edit_is_taken_back_by_its_number)
{
    struct bed *b = screens(job, 24, 80, (const char *const[]){"USER=lea", NULL}, NULL);
    bed_type(b, ":set stripper.thickness=22\r");
    bed_wait(b, "taken: stripper.thickness");
    bed_type(b, ":set die_plate.thickness=36\r");
    bed_wait(b, "taken: die_plate.thickness");
    run("set", "'lower_shoe.thickness=56 mm'"); /* by mh */
    bed_wait(b, "mh meanwhile: ");
    bed_type(b, ":history\r");
    bed_wait(b, "  3  20");
    bed_wait(b, "  2  20");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "history, newest first");
    bed_type(b, ":undo 2\r");
    bed_wait(b, "undone: stripper.thickness 18 mm -> 22 mm");
    bed_type(b, ":undo 2\r");
    bed_wait(b, "2 is taken back already: stripper.thickness");
    bed_type(b, ":undo 4\r");
    bed_wait(b, "mh edited at 20");
    bed_type(b, "y\r");
    bed_wait(b, "undone: lower_shoe.thickness");
    bed_type(b, ":redo 2\r");
    bed_wait(b, "done again: stripper.thickness");
    bed_type(b, ":undo two\r");
    bed_wait(b, "\"two\" is no number of an edit; :history tells them");
    bed_type(b, ":undo 99\r");
    bed_wait(b, "The history has no edit 99.");
    bed_type(b, ":undo\r"); /* what was done last, be it again */
    bed_wait(b, "undone: stripper.thickness 18 mm -> 22 mm");
    leave(b);
}
END_TEST

START_TEST(a_waiver_that_lapsed_says_so_on_the_screens)
{
    run("set", "'die_plate.thickness=42 mm'");
    run("waive", "post-end cut away there");
    run("set", "'die_plate.thickness=44 mm'");
    struct bed *b = screens(job, 50, 120, NULL, NULL);
    bed_wait(b, "open again: waived by mh on 20");
    bed_type(b, ":go-to posts.length\r");
    bed_wait(b, "post end open again: waived by mh on"); /* the form */
    bed_type(b, "r");
    bed_wait(b, "open again: waived by mh");
    bed_type(b, "g\r");
    bed_wait(b, "would clear it:");
    bed_wait(b, "open again: waived by mh on 20");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "typed over a formula");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "typed over a formula");
    leave(b);
}
END_TEST

START_TEST(a_release_over_an_open_fault_is_refused_in_a_sentence)
{
    run("set", "'die_plate.thickness=40 mm'");
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_type(b, "r");
    bed_wait(b, "issue: no, 1 fault open");
    bed_type(b, "E");
    bed_wait(b, "Not issued: 1 fault is open, first post-end");
    bed_type(b, "W\r"); /* a fault without a reason */
    bed_wait(b, "post-end posts is a fault: it is waived only with a reason.");
    bed_key(b, VTERM_KEY_ESCAPE);
    leave(b);
}
END_TEST

START_TEST(a_finding_lists_what_clears_it_and_a_letter_tries_it)
{
    run("set", "'die_plate.thickness=40 mm'");
    char *before = base_copy(dumped(job));
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_type(b, "\t\t\tm");
    bed_wait(b, "would clear it:");
    bed_wait(b, "b posts.sunk");
    bed_wait_gone(b, "still trying");
    bed_type(b, "9");
    bed_wait(b, "9 does nothing here");
    bed_type(b, "e");
    bed_wait(b, "there is no proposal e");
    bed_type(b, "b");
    bed_wait(b, "not yet taken");
    bed_wait(b, "sizes: posts.length 224.0 mm -> 200.0 mm");
    bed_wait(b, "would move ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, "b");
    bed_wait(b, "would move ");
    bed_type(b, "\r");
    bed_wait(b, "taken: posts.sunk 2 mm -> 2.7 mm");
    bed_wait(b, "this finding is gone");
    ck_assert_ptr_nonnull(strstr(dumped(job), "  sunk = 2.7 mm\n"));
    bed_type(b, "u");
    bed_wait(b, "undone: posts.sunk");
    bed_wait(b, "would clear it:");
    ck_assert_str_eq(dumped(job), before);
    free(before);
    bed_key(b, VTERM_KEY_ESCAPE);
    leave(b);
}
END_TEST

void add_review(Suite *s)
{
    TCase *t = tcase_create("review");
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, begin, NULL);
    tcase_add_loop_test(t, a_released_job_opens_for_looking_with_its_review, 0, COUNT_OF(sizes));
    tcase_add_test(t, from_the_review_one_goes_to_what_it_tells);
    tcase_add_test(t, remarks_waivers_and_a_release_are_said_on_the_screen);
    tcase_add_test(t, an_edit_is_taken_back_by_its_number);
    tcase_add_test(t, somebody_elses_edit_is_undone_only_once_it_is_named);
    tcase_add_test(t, a_waiver_that_lapsed_says_so_on_the_screens);
    tcase_add_test(t, a_release_over_an_open_fault_is_refused_in_a_sentence);
    tcase_add_test(t, a_finding_lists_what_clears_it_and_a_letter_tries_it);
    suite_add_tcase(s, t);
}
