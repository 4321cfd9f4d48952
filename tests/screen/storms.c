/* tests/screen/storms.c - every key everywhere, many sizes: it neither falls over nor chatters */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static void still_alive(struct bed *b, unsigned seed, int step)
{
    bed_quiet(b, 5);
    if (bed_ended(b))
        ck_abort_msg("seed %u ended the program at key %d; the screen was\n%s", seed, step, bed_screen(b));
}

START_TEST(hundreds_of_sizes_end_in_the_same_picture)
{
    struct dice d = {99};
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    char *before = base_copy(bed_screen(b));
    for (int i = 0; i < 500; i++) {
        bed_resize(b, 1 + (int)roll(&d, 70), 1 + (int)roll(&d, 250));
        if (i % 25 == 0)
            still_alive(b, 99, i);
    }
    bed_resize(b, 24, 80);
    bed_quiet(b, 100);
    ck_assert_str_eq(bed_screen(b), before);
    free(before);
    leave(b);
}
END_TEST

/* The second size is told before the program has looked at the first: it never learns of it, but the terminal
   has cut its rows. */
START_TEST(a_size_that_goes_there_and_back_leaves_no_remains)
{
    struct bed *b = screens(demo_job(), 30, 100, NULL, NULL);
    char *before = base_copy(bed_screen(b));
    for (int i = 0; i < 20; i++) {
        bed_resize(b, 12, 50);
        bed_resize(b, 30, 100);
        bed_quiet(b, 60);
        ck_assert_str_eq(bed_screen(b), before);
    }
    free(before);
    leave(b);
}
END_TEST

/* The places of the program, each with what was seen there. */
static const char *const roads[] = {"",  "\t",      "\t\t", "\t\t\t", "P\t", "S\t", "z",    "w",  "\tw",
                                    "?", "\t\t\ti", "r",    ":",      "/",   "a",   "\t\r", "\ts"};

START_TEST(every_key_at_every_place_leaves_it_running)
{
    char job[400];
    snprintf(job, sizeof job, "%s", demo_job());
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    for (int key = 1; key < 127; key++) {
        char c[2] = {(char)key, '\0'};
        if (key == 17 || key == 19 || key == 26 || key == 28 || key == 'q')
            continue;
        bed_type(b, roads[_i]);
        bed_type(b, c);
        bed_raw(b, "\033\033\033\033", 4); /* as they come: what is behind may be taken with Alt */
        bed_quiet(b, 1);
        bed_type(b, "F");
    }
    still_alive(b, 0, 0);
    for (int i = 0; i < 14; i++)
        bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 60);
    leave(b);
}
END_TEST

START_TEST(idle_sends_nothing)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, _i ? "--look" : NULL);
    bed_quiet(b, 200);
    ck_assert_int_eq((int)bed_quiet(b, 2500), 0);
    leave(b);
}
END_TEST

START_TEST(the_plan_follows_when_the_cursor_rests)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    ck_assert_ptr_nonnull(strstr(bed_row(b, 13), "upper shoe"));
    bed_key(b, VTERM_KEY_DOWN);
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, " punch plate \xe2\x94\x80");
    leave(b);
}
END_TEST

void add_storms(Suite *s)
{
    TCase *c = tcase_create("storms");
    tcase_set_timeout(c, 300);
    tcase_add_test(c, hundreds_of_sizes_end_in_the_same_picture);
    tcase_add_test(c, a_size_that_goes_there_and_back_leaves_no_remains);
    tcase_add_loop_test(c, every_key_at_every_place_leaves_it_running, 0, (int)COUNT_OF(roads));
    tcase_add_loop_test(c, idle_sends_nothing, 0, 2);
    tcase_add_test(c, the_plan_follows_when_the_cursor_rests);
    suite_add_tcase(s, c);
}
