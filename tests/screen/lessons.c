/* tests/screen/lessons.c - practice and exercises, key by key */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../common.h"

static struct bed *b;

static void type(const char *keys, const char *words)
{
    bed_type(b, keys);
    bed_wait(b, words);
}

/* The three steps; SIZES has them narrow in blocks and wide in ASCII. */
static const struct {
    int rows, columns;
    const char *locale;
} sizes[] = {{24, 80, "C.UTF-8"}, {60, 200, "C"}};

START_TEST(a_mistake_is_found_mended_and_learnt_from)
{
    const char *argv[] = {program(), "practice", "turned", NULL};
    b = bed_open(&(struct bed_start){
        .argv = argv, .rows = sizes[_i].rows, .columns = sizes[_i].columns, .locale = sizes[_i].locale});
    bed_wait(b, "practice 21 of 24");
    bed_wait(b, "a copy");
    bed_wait(b, "step 1 of 3");
    bed_wait(b, "Held back until found: 1 caution");
    ck_assert_msg(!bed_shows(b, "turned half round"), "%s", bed_screen(b)); /* what the finding says */
    type(":set die_dowels.lay.right_across=6\r", "first find it");
    go(b, "posts.length", "> length");
    type("\r", "not that: \"short\" of posts holds with 5.3 mm to spare");
    type("i", "hint 1 of 3: ");
    bed_wait(b, "tried 1");
    type("\t\t", "i hint"); /* the findings pane has the keys: nothing more to be had there */
    ck_assert(!bed_shows(b, "i in full"));
    go(b, "die_dowels.right.y", "> right y");
    type("\r", "found: die_dowels.right.y, 11.0 mm.");
    bed_wait(b, "step 2 of 3");
    bed_wait(b, "turned half round");
    type(":set die_dowels.lay.right_across=11.2\r", "not mended yet: ");
    type("u", "not mended yet: ");
    type(":set die_dowels.lay.right_across=6\r", "step 3 of 3");
    bed_wait(b, "A. Hedrick");
    bed_wait(b, "1 of 26 done.");
    type("\r", "practice 22 of 24");
    bed_quiet(b, 30);
    leave(b);
}
END_TEST

START_TEST(the_findings_pane_gives_nothing_away)
{
    b = screens("practice", 24, 80, NULL, "short-post");
    bed_type(b, "\t\t\t");
    bed_quiet(b, 30);
    type("i", "hint 1 of 3"); /* not the finding in full */
    type(":vary posts.length\r", "waits until the mistake is found");
    bed_type(b, "\rm");
    bed_quiet(b, 30);
    ck_assert_msg(!bed_shows(b, "only 33.3 mm"), "%s", bed_screen(b));
    go(b, "posts.length", "> length");
    type("\r", "found: posts.length");
    bed_wait(b, "only 33.3 mm"); /* what it says is that, once found */
    leave(b);
}
END_TEST

/* Every key and word that would show the findings, what differs or what was typed. Behind a blank at the end
 * goes a file in a folder of the test's own. */
static const char *const doors[] = {
    "r",
    ":review\r",
    "c",
    ":compare-before\r",
    ":compare 1\r",
    ":compare data/demo/cover-plate\r",
    ":history\r",
    ":save-as ",
    ":vary-value\r",
    ":vary risers.height\r",
};

START_TEST(no_key_and_no_word_gives_the_mistake_away)
{
    char keys[500];
    bool wants_file = doors[_i][strlen(doors[_i]) - 1] == ' ';
    snprintf(keys, sizeof keys, "%s%s%s", doors[_i], wants_file ? fresh_folder() : "",
             wants_file ? "/kept\r" : "");
    b = screens("practice", 24, 80, NULL, "window");
    go(b, "risers.height", "> height");
    type(keys, "waits until the mistake is found");
    ck_assert(!bed_shows(b, "closes no lower"));
    bed_type(b, ":go-to risers.height\r");
    type("\r", "found: risers.height");
    bed_wait(b, "closes no lower");
    bed_type(b, keys);
    bed_settle(b, 50);
    ck_assert_msg(!bed_shows(b, "waits until the mistake is found"), "%s", bed_screen(b));
    bed_close(b);
}
END_TEST

START_TEST(ones_own_job_stays_as_it_is_behind_practice)
{
    char job[400];
    snprintf(job, sizeof job, "%s", demo_job());
    char *before = base_copy(dumped(job));
    b = screens(job, 24, 80, NULL, NULL);
    go(b, "die_plate.thickness", "> thickness");
    type(":practice\r", "begin here: guides, then mistakes to find; 0 of 26 done");
    type("knocks\r", "practice 11 of 24");
    go(b, "stripper.thickness", "> thickness");
    type("\r", "found: stripper.thickness, 40.0 mm.");
    type(":set stripper.thickness=18\r", "step 3 of 3");
    bed_wait(b, "1 of 26 done."); /* below the title: both are there before they go */
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "1 of 26 done.");
    type("q", "back in Cover plate");
    bed_wait(b, "saved");
    bed_quiet(b, 30);
    leave(b);
    ck_assert_str_eq(dumped(job), before);
    free(before);
}
END_TEST

/* From the first screen to a guide and back; a step passes once it is done, what it asks to look at once it
   was looked at, and what is done is known in the next run. */
START_TEST(a_guide_goes_on_as_its_steps_are_done)
{
    char job[400];
    snprintf(job, sizeof job, "%s/first", fresh_folder());
    b = screens(job, 24, 80, NULL, NULL);
    bed_wait(b, "new to it: a first set in steps");
    type("begin here", "1 of ");
    type("\r", "0 of 26 done");
    type("\r", "step 1 of 11");
    bed_wait(b, "The strip is to be thicker");
    type("i", "/strip.thickness Enter goes there at once");
    type(":set strip.thickness=1.9\r", "takes it back");
    bed_wait(b, "step 1 of 11");
    type(":set strip.thickness=2\r", "The clearance went along to 0.12 mm");
    bed_wait(b, "step 2 of 11");
    bed_wait(b, "1 fault"); /* nothing is held back */
    type(":why-of stack.stripping\r", "Each value tells its formula");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "step 3 of 11");
    type("q", "is not there yet: begin it from");
    bed_quiet(b, 30);
    type("q", "");
    bed_close(b);
}
END_TEST

START_TEST(what_is_done_is_known_in_the_next_run)
{
    char folder[300];
    const char *argv[] = {program(), "practice", "window", NULL};
    snprintf(folder, sizeof folder, "%s", fresh_folder());
    for (int run = 0; run < 2; run++) {
        b = bed_open(&(struct bed_start){.argv = argv, .rows = 24, .columns = 80, .folder = folder});
        bed_wait(b, "step 1 of 3");
        type(":practice\r", run ? "1 of 26 done" : "0 of 26 done");
        if (run)
            bed_wait(b, "done  1 plates");
        bed_key(b, VTERM_KEY_ESCAPE);
        bed_wait_gone(b, "begin here:");
        if (!run) {
            go(b, "risers.height", "> height");
            type("\r", "found: risers.height");
            type(":set risers.height=55\r", "1 of 26 done.");
            bed_key(b, VTERM_KEY_ESCAPE);
            bed_wait_gone(b, "1 of 26 done.");
        }
        bed_quiet(b, 30);
        leave(b);
    }
}
END_TEST

START_TEST(a_practice_copy_is_saved_under_a_new_name_only)
{
    char keys[500], taken[400];
    snprintf(taken, sizeof taken, "%s", demo_job());
    char *before = base_copy(dumped(taken));
    b = screens("practice", 24, 80, NULL, "window");
    type(":save\r", "a practice copy is not saved");
    go(b, "risers.height", "> height");
    type("\r", "found: risers.height"); /* before that it is held back */
    snprintf(keys, sizeof keys, ":save-as %s\r", taken);
    bed_type(b, keys);
    bed_quiet(b, 100);
    bed_wait(b, "a copy");
    snprintf(keys, sizeof keys, ":save-as %s/kept\r", fresh_folder());
    type(keys, "saved as ");
    bed_quiet(b, 30);
    leave(b);
    ck_assert_str_eq(dumped(taken), before);
    free(before);
}
END_TEST

START_TEST(an_exercise_is_answered_with_its_unit)
{
    b = screens(demo_job(), 24, 80, NULL, NULL);
    type(":exercise\r", "exercise 1 of ");
    bed_wait(b, "asked: cutting_force, a force");
    type("175929\r", "175929 of what? The answer is a force");
    bed_control(b, 'U');
    type("175.929 N\r", "the number is right in kN");
    ck_assert(!bed_shows(b, "source: "));
    bed_control(b, 'U');
    type("175.9 kN\r", "right: 175929 N.");
    bed_wait(b, "(pi * 100 mm) * (2 mm) * (280 MPa)");
    bed_wait(b, "P. C. Sharma");
    type("\r", "exercise 2 of ");
    type("\t", "the formula:"); /* first that, then the working */
    type("\t", "source: ");
    bed_key(b, VTERM_KEY_PAGEUP);
    bed_wait(b, "exercise 1 of ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "exercise 1 of ");
    type(":exercise 9999\r", "there is no exercise \"9999\"");
    bed_quiet(b, 30);
    leave(b);
}
END_TEST

START_TEST(an_unknown_practice_job_is_told_before_anything_is_drawn)
{
    const char *argv[] = {program(), "practice", "tuned", NULL};
    b = bed_open(&(struct bed_start){.argv = argv});
    bed_wait(b, "There is no practice job \"tuned\", near it: turned");
    ck_assert_int_eq(bed_wait_end(b), 2);
    bed_close(b);
}
END_TEST

void add_lessons(Suite *s)
{
    TCase *c = tcase_create("lessons");
    tcase_set_timeout(c, 120);
    tcase_add_loop_test(c, a_mistake_is_found_mended_and_learnt_from, 0, COUNT_OF(sizes));
    tcase_add_test(c, the_findings_pane_gives_nothing_away);
    tcase_add_loop_test(c, no_key_and_no_word_gives_the_mistake_away, 0, COUNT_OF(doors));
    tcase_add_test(c, ones_own_job_stays_as_it_is_behind_practice);
    tcase_add_test(c, a_guide_goes_on_as_its_steps_are_done);
    tcase_add_test(c, what_is_done_is_known_in_the_next_run);
    tcase_add_test(c, a_practice_copy_is_saved_under_a_new_name_only);
    tcase_add_test(c, an_exercise_is_answered_with_its_unit);
    tcase_add_test(c, an_unknown_practice_job_is_told_before_anything_is_drawn);
    suite_add_tcase(s, c);
}
