/* tests/screen/runs.c - the stroke, a value over a range, two jobs side by side: looked at, nothing taken but
 * by Enter
 *
 * Figures by hand from the demo job: stroke 100; posts enter at 151 + 40 - 123.2 = 67.8, ground 75.3; pilots
 * 11.5, stripper 2.6 + 7 = 9.6, punches 0.8 + 1.2 = 2.0, through 0.8 + 0.6 * 1.2 = 1.52; load then 126 N/mm *
 * 6 * 15.48 of springs and 30.22 kN of slugs.
 */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];
static char *before;

static void begin(void)
{
    snprintf(job, sizeof job, "%s", demo_job());
    before = base_copy(dumped(job));
}

static void finish(void)
{
    ck_assert_str_eq(dumped(job), before);
    free(before);
}

static void press(struct bed *b, const char *text, const char *wanted)
{
    bed_type(b, text);
    bed_wait(b, wanted);
    bed_quiet(b, 30); /* the rest of the picture */
}

static void press_key(struct bed *b, VTermKey key, const char *wanted)
{
    bed_key(b, key);
    bed_wait(b, wanted);
    bed_quiet(b, 30);
}

/* A large screen is more than a message of a failed check may hold. */
static void shows(struct bed *b, const char *text)
{
    ck_assert_msg(bed_shows(b, text), "no \"%s\":\n%.2000s", text, bed_screen(b));
}

static struct bed *sized(int rows, int columns, bool ascii)
{
    const char *argv[] = {program(), job, NULL};
    struct bed *b = bed_open(
        &(struct bed_start){.argv = argv, .rows = rows, .columns = columns, .locale = ascii ? "C" : NULL});
    bed_wait(b, "? help");
    bed_quiet(b, 30);
    return b;
}

/* ---- the stroke ---- */

START_TEST(the_ram_steps_goes_from_event_to_event_and_esc_leaves_the_screen_as_it_was)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_quiet(b, 100);
    char *screen = base_copy(bed_screen(b));
    press(b, "T", "ram 100.0 mm above shut   new");
    shows(b, "> top of the stroke            100.0  100.0");
    shows(b, "posts enter their bushings    67.8   75.3");
    shows(b, "least 48.0 later");
    press(b, "l", "ram 99.0 mm");
    press(b, "h", "ram 100.0 mm");
    press(b, "h", "> top of the stroke"); /* no higher */
    static const char *const heights[] = {"ram 67.8 mm", "ram 11.5 mm", "ram 9.6 mm",
                                          "ram 2.0 mm",  "ram 1.52 mm", "ram 0.0 mm"};
    for (size_t i = 0; i < COUNT_OF(heights); i++) {
        press_key(b, VTERM_KEY_PAGEDOWN, heights[i]);
    }
    press_key(b, VTERM_KEY_PAGEUP, "> cut through");
    shows(b, "41.9 kN most 630.0, spare 588.1");
    press(b, "h", "ram 1.6 mm"); /* finer near what happens */
    press(b, "x", "ram 1.6 mm above shut   ground");
    press(b, "G", "ram 0.0 mm");
    press(b, "g", "ram 100.0 mm");
    press(b, "x", "above shut   new");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "ram 100.0 mm");
    bed_quiet(b, 100);
    ck_assert_str_eq(bed_screen(b), screen);
    free(screen);
    leave(b);
}
END_TEST

START_TEST(gliding_stops_at_what_happens_and_on_any_key_also_in_a_new_size)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, "T", "ram 100.0 mm");
    bed_quiet(b, 100);
    ck_assert_int_eq(bed_quiet(b, 300), 0); /* no clock while it stands */
    bed_type(b, "o");
    bed_wait(b, "gliding");
    bed_resize(b, 30, 100);
    bed_wait(b, "ram 85.0 mm");
    bed_resize(b, 12, 50);
    bed_wait(b, "50x12");
    bed_quiet(b, 100);
    ck_assert_int_eq(bed_quiet(b, 250), 0); /* nothing moves unseen */
    bed_resize(b, 24, 80);
    bed_wait(b, "gliding");
    bed_wait_gone(b, "gliding");
    shows(b, "ram 67.8 mm");
    press(b, "o", "gliding");
    bed_type(b, " ");
    bed_wait_gone(b, "gliding");
    shows(b, "stroke   ram");
    press(b, "o", "gliding");
    bed_key(b, VTERM_KEY_END); /* stops, and does what it does */
    bed_wait(b, "ram 0.0 mm");
    press_key(b, VTERM_KEY_PAGEUP, "ram 1.52 mm");
    for (int i = 0; i < 3; i++)
        bed_key(b, VTERM_KEY_PAGEUP);
    bed_wait(b, "ram 11.5 mm");
    bed_quiet(b, 100);
    bed_type(b, "o"); /* 11, 10, 9.9 and three more fine steps */
    bed_wait(b, "ram 9.6 mm");
    bed_wait_gone(b, "gliding");
    long bytes = bed_quiet(b, 100);
    ck_assert_msg(bytes < 6 * 350, "six steps took %ld bytes", bytes);
    press_key(b, VTERM_KEY_END, "ram 0.0 mm");
    press(b, "o", "gliding"); /* from shut it begins at the top */
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "gliding");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "above shut");
    leave(b);
}
END_TEST

/* What each size shows; ASCII holds no other characters. */
static const struct { int rows, columns; bool ascii; const char *shows[4];
} strokes[] = {
    {24, 80, true, {"> pilots meet the strip", "[========|==", "53.3 mm least 48.0, spare 5.3"}},
    {40, 120, false, {"new   10 mm/row", "ground   10 mm/row", "> pilots meet the strip", "to strip it"}},
    {60,
     200,
     false,
     {"new   8 mm/row", "ground   8 mm/row", "die plate   5 mm/col", "from the first touch on"}},
};

START_TEST(the_stroke_fills_every_size)
{
    struct bed *b = sized(strokes[_i].rows, strokes[_i].columns, strokes[_i].ascii);
    bed_type(b, ":stroke\r");
    bed_wait(b, "ram 100.0 mm");
    bed_key(b, VTERM_KEY_PAGEDOWN);
    press_key(b, VTERM_KEY_PAGEDOWN, "ram 11.5 mm");
    for (int i = 0; i < 4 && strokes[_i].shows[i]; i++)
        shows(b, strokes[_i].shows[i]);
    for (const char *p = bed_screen(b); strokes[_i].ascii && *p; p++)
        ck_assert_msg((unsigned char)*p < 128, "%.20s", p);
    bed_type(b, "q");
    bed_wait_gone(b, "ram 11.5 mm");
    leave(b);
}
END_TEST

/* A post of 180 is 20 shorter than the job's 200: 53.3 - 20 = 33.3 at the first touch, 14.7 short of 48. */
START_TEST(a_bar_that_does_not_keep_its_limit_says_so)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, ":set posts.length=180\r", "taken: ");
    press(b, "T", "ram 100.0 mm");
    bed_key(b, VTERM_KEY_PAGEDOWN);
    press_key(b, VTERM_KEY_PAGEDOWN, "> pilots meet the strip");
    shows(b, "33.3 mm least 48.0 !! short 14.7");
    bed_type(b, "q");
    bed_wait_gone(b, "> pilots");
    press(b, "u", "undone");
    leave(b);
}
END_TEST

START_TEST(an_inch_job_steps_by_a_sixteenth)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, ":set job.unit=\"in\"\r", "taken: ");
    press(b, "T", "ram 3.937 in"); /* 100 mm */
    press(b, "l", "ram 3.875 in");
    press(b, "l", "ram 3.812");
    bed_type(b, "q");
    bed_wait_gone(b, "above shut");
    press(b, "S", "section, ram 0.000 in above shut"); /* the section steps as far */
    press(b, "\t+", "section, ram 0.0625 in above shut");
    press(b, "+", "section, ram 0.125 in above shut");
    press(b, "u", "undone");
    leave(b);
}
END_TEST

/* ---- a value over a range ---- */

/* Posts of 200 run from 100 to 300; entry at the first touch 53.3, 48 wanted; each millimetre of post is one
   of entry. */
START_TEST(a_value_runs_over_a_range_and_a_point_of_it_is_typed_in_the_form)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, "V", "upper_shoe.thickness  5 .. 105 by 5 mm");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "stack, shut");
    press(b, ":go-to posts.length\r", "> length");
    press(b, "V", "posts.length  100 .. 300 by 10 mm");
    shows(b, "entry at least 48.0");
    shows(b, "entry  XXXXXXXXXX...........  fault: posts, new");
    shows(b, "at 200 mm   posts.entry 53.3 mm, ground 57.8 mm; entry at least 48.0, 5.3 mm");
    press(b, "h", "at 190 mm   posts.entry 43.3 mm, ground 47.8 mm; entry at least 48.0 !!");
    press(b, "l", "at 200 mm");
    press(b, "+", "posts.length  150 .. 250 by 5 mm");
    press(b, "-", "posts.length  100 .. 300 by 10 mm");
    press(b, "\t", "at 200 mm   posts.above_shoe 151.0 mm");
    press(b, "t", "posts.length  100 .. 280 mm, 10 sizes"); /* R20 */
    press(b, "t", "by 10 mm");
    press(b, "c", "marked 200 mm");
    press_key(b, VTERM_KEY_END, "at 300 mm");
    press(b, "c", "200 mm beside 300 mm");
    shows(b, "posts.above_shoe                                151.0 mm            251.0 mm");
    bed_resize(b, 24, 104);
    bed_wait(b, "posts.above_shoe                                                  151.0 mm");
    bed_resize(b, 24, 80);
    bed_wait(b, "posts.above_shoe                                151.0 mm            251.0 mm");
    bed_quiet(b, 60);
    press_key(b, VTERM_KEY_ESCAPE, "at 300 mm");
    press(b, "g", "at 100 mm");
    press_key(b, VTERM_KEY_ESCAPE, "> length");
    ck_assert_str_eq(dumped(job), before);
    press(b, ":vary posts.length 200 260 10\r", "by 10 mm");
    press(b, "l\r", "not yet taken");
    shows(b, "210 mm");
    press_key(b, VTERM_KEY_ESCAPE, "left as it was");
    leave(b);
}
END_TEST

static const struct { int rows, columns; bool ascii; const char *shows[3];
} varies[] = {
    {40,
     120,
     false,
     {"       80 |  ",
      "at 210 mm   posts.entry 63.3 mm, ground 67.8 mm; entry at least 48.0, 15.3 mm to spare"}},
    {60, 200, true, {"side by side", "200 mm                   210 mm", "posts.entry, ground"}},
};

START_TEST(a_run_fills_every_size_and_large_ones_show_two_points_at_once)
{
    struct bed *b = sized(varies[_i].rows, varies[_i].columns, varies[_i].ascii);
    press(b, ":vary posts.length\r", "posts.length  100 .. 300 by 10 mm");
    press(b, "c", "at 200 mm");
    press(b, "l", "at 210 mm");
    for (int i = 0; i < 3 && varies[_i].shows[i]; i++)
        shows(b, varies[_i].shows[i]);
    for (const char *p = bed_screen(b); varies[_i].ascii && *p; p++)
        ck_assert_msg((unsigned char)*p < 128, "%.20s", p);
    press_key(b, VTERM_KEY_ESCAPE, "? help");
    bed_wait_gone(b, "at 210 mm");
    leave(b);
}
END_TEST

/* A waiver holds as far as it goes: the wall of 33 was short by 9.5 with a plate of 34 (1.25 times that is
   wanted), and what is short by more is open. */
START_TEST(a_run_marks_what_is_waived)
{
    char command[900];
    int status;
    snprintf(command, sizeof command,
             "ASAN_OPTIONS=detect_leaks=0 %s waive %s 'opening-wall-straight blank' 'a soft strip' 2>&1",
             program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    free(before);
    before = base_copy(dumped(job)); /* a waiver is no step: it outlasts the u below */
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, ":vary die_plate.thickness 26 38 1\r", "by 1 mm");
    shows(b, "wall  .  ~  ~  ~  ~  ~  ~  ~  ~  X  X  X  X  caution: blank, new");
    shows(b, "~ waived");
    shows(b, "; 1 waived");
    press_key(b, VTERM_KEY_ESCAPE, ">upper shoe");
    ck_assert_ptr_nonnull(strstr(before, "\n  says a soft strip\n"));
    press(b, "u", "There is nothing to undo: ");
    leave(b);
}
END_TEST

/* Some thousands of tries take a minute and more: a key breaks in at once. */
START_TEST(a_long_run_lets_any_key_in)
{
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, ":vary die_plate.material 1 2 1\r", "is no number");
    bed_type(b, ":vary dimples.lay.columns 1 400 0.1\r");
    bed_wait(b, "points tried; any key breaks in");
    if (_i)
        bed_control(b, 'C');
    else
        bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "any key breaks in");
    bed_wait(b, ">upper shoe");
    leave(b);
}
END_TEST

/* ---- two jobs side by side ---- */

/* At another width the sentences are broken elsewhere and the columns stand elsewhere; the cursor stays with
   its sentence. */
static void lines_are_laid_out_anew(struct bed *b)
{
    while (!bed_shows(b, ">   fault: posts: 180.0 mm long"))
        press(b, "j", "beside itself before");
    char *narrow = base_copy(bed_screen(b));
    shows(b, "is in the bushing when the first thing\n       touches, 11.5 mm above shut");
    bed_resize(b, 30, 140);
    bed_wait(b, "when the first thing touches, 11.5 mm above shut");
    bed_settle(b, 60);
    shows(b, ">   fault: posts: 180.0 mm long");
    shows(b, "     die_plate.thickness                                                           "
             "                 34 mm");
    bed_resize(b, 24, 80);
    bed_wait(b, "when the first thing\n");
    bed_settle(b, 60);
    ck_assert_str_eq(bed_screen(b), narrow);
    free(narrow);
    press(b, "g", "> typed differently: 2");
}

START_TEST(the_job_stands_beside_itself_as_it_was_and_beside_another)
{
    char keys[600];
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    press(b, "c", "nothing has been edited yet");
    press(b, ":compare nowhere\r", "nowhere.diejob");
    /* edits go on in the copy */
    snprintf(keys, sizeof keys, ":save-as %.*s/other\r", (int)(strrchr(job, '/') - job), job);
    press(b, keys, "saved as");
    press(b, ":set die_plate.thickness=36\r", "taken: ");
    press(b, ":set posts.length=180\r", "taken: ");
    press(b, "c", "beside the job as it was before");
    shows(b, ">posts.length usual -> 180 mm");
    bed_key(b, VTERM_KEY_DOWN);
    press(b, "\r", "the job beside itself before: die_plate.thickness 34 mm -> 36 mm");
    shows(b, "typed differently: 2                            as it was           as it is");
    shows(b, "findings only in: as it is");
    shows(b, "> typed differently: 2");
    lines_are_laid_out_anew(b);
    press(b, "jj\r", "> length"); /* a line goes to its value */
    press(b, ":compare 1\r", "the job beside itself before: posts.length");
    shows(b, "typed differently: 1");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "beside itself");
    press(b, ":compare 9\r", "Only 2 edits stand in this job.");
    snprintf(keys, sizeof keys, ":compare %s\r", job);
    press(b, keys, "beside this job");
    shows(b, "typed differently: 2                            the other           this job");
    bed_type(b, "q");
    bed_wait_gone(b, "beside this job");
    bed_type(b, "uu"); /* no fault is open then */
    bed_wait(b, "undone: die_plate");
    leave(b);
    char command[900];
    int status;
    snprintf(command, sizeof command,
             "ASAN_OPTIONS=detect_leaks=0 %s issue %.*s/other 2>&1 && ASAN_OPTIONS=detect_leaks=0 %s set "
             "%.*s/other "
             "risers.height=70 2>&1",
             program(), (int)(strrchr(job, '/') - job), job, program(), (int)(strrchr(job, '/') - job), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    snprintf(command, sizeof command, "%.*s/other.diejob", (int)(strrchr(job, '/') - job), job);
    b = screens(command, 24, 80, NULL, NULL);
    press(b, ":compare A\r", "revision A beside the job as it is");
    shows(b, "risers.height                                     55 mm              70 mm");
    press_key(b, VTERM_KEY_ESCAPE, ">upper shoe");
    leave(b);
}
END_TEST

/* ---- what takes long ---- */

/* The demo job and so many plates more that its work is looked up from. */
static const char *large_job(void)
{
    struct base_text text = {0};
    char *demo = read_text("data/demo/cover-plate.txt");
    base_text_add(&text, demo);
    for (int i = 0; i < 600; i++)
        base_text_addf(&text, "\nplate more%d\n  thickness = 20 mm\n  moves = \"with the bed\"\n", i);
    char file[500];
    snprintf(file, sizeof file, "%s/large.txt", fresh_folder());
    FILE *f = fopen(file, "w");
    ck_assert_ptr_nonnull(f);
    ck_assert_int_ge(fputs(base_text_get(&text), f), 0);
    ck_assert_int_eq(fclose(f), 0);
    base_text_done(&text);
    free(demo);
    return job_from(file);
}

/* Esc stands in the line before the work is done, whatever the machine; so does what was typed before it. */
START_TEST(long_work_is_given_up_by_esc_and_the_job_stays)
{
    char path[400];
    snprintf(path, sizeof path, "%s", large_job());
    char *text = base_copy(dumped(path));
    struct bed *b = screens(path, 24, 80, NULL, NULL);
    bed_type(b, ":rename more7 other\rjj\033");
    bed_wait(b, "given up; the job is as it was before");
    bed_quiet(b, 30);
    shows(b, ">upper shoe");
    ck_assert_str_eq(dumped(path), text);
    bed_type(b, ":rename more7 other\r");
    bed_wait(b, "taken: ");
    leave(b);
    ck_assert_str_ne(dumped(path), text);
    free(text);
}
END_TEST

void add_runs(Suite *s)
{
    TCase *c = tcase_create("runs");
    tcase_set_timeout(c, 120);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, the_ram_steps_goes_from_event_to_event_and_esc_leaves_the_screen_as_it_was);
    tcase_add_test(c, gliding_stops_at_what_happens_and_on_any_key_also_in_a_new_size);
    tcase_add_loop_test(c, the_stroke_fills_every_size, 0, (int)COUNT_OF(strokes));
    tcase_add_test(c, a_bar_that_does_not_keep_its_limit_says_so);
    tcase_add_test(c, an_inch_job_steps_by_a_sixteenth);
    tcase_add_test(c, a_value_runs_over_a_range_and_a_point_of_it_is_typed_in_the_form);
    tcase_add_loop_test(c, a_run_fills_every_size_and_large_ones_show_two_points_at_once, 0,
                        (int)COUNT_OF(varies));
    tcase_add_test(c, a_run_marks_what_is_waived);
    tcase_add_loop_test(c, a_long_run_lets_any_key_in, 0, 2);
    tcase_add_test(c, the_job_stands_beside_itself_as_it_was_and_beside_another);
    suite_add_tcase(s, c);
    TCase *large = tcase_create("long");
    tcase_add_test(large, long_work_is_given_up_by_esc_and_the_job_stays);
    suite_add_tcase(s, large);
}
