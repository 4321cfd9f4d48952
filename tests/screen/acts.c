/* tests/screen/acts.c - what is done most, counted in keys from the first screen on; and at the least size */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../common.h"

static char job[400];
static char *before;
static struct bed *b;

static void begin(void) { b = demo_screens(job, sizeof job, &before); }
static void finish(void) { free(before); }

#define DOWN "\033OB"

/* MOST: keys that it may take; each letter is one, and so is Enter. */
static const struct { const char *what, *keys, *says, *then; int most; } acts[] = {
    {"a thickness", "/dt\r36\r", "taken: die_plate.thickness 34 mm -> 36 mm", "thickness = 36 mm", 7},
    {"a station moved", "/mid\rm1\r", "taken: ", "number = 1", 8},
    {"two stations swapped", "/mid\rmswap 4\r", "taken: ", "number = 4", 13},
    {"a hole copied", "/mid\rmcopy 4\r", "taken: ", "number = 4", 13},
    {"one size for two groups", "/punch scr\r " DOWN " /dss\r\rM10\r", "punch_screws.size \"M8\" -> \"M10\"",
     "size = \"M10\"", 25},
};

static int keys_of(const char *keys)
{
    int n = 0;
    for (; *keys; keys += *keys == '\033' ? 3 : 1)
        n++;
    return n;
}

START_TEST(an_act_takes_few_keys)
{
    ck_assert_int_le(keys_of(acts[_i].keys), acts[_i].most);
    for (const char *at = acts[_i].keys; *at;) {
        size_t n = *at == '\033' ? 3 : 1;
        bed_raw(b, at, n);
        at += n;
        if (at[-1] == '\r' || n == 3)
            bed_quiet(b, 30);
    }
    bed_wait(b, acts[_i].says);
    char *now = base_copy(dumped(job));
    ck_assert_str_ne(now, before);
    ck_assert_msg(strstr(now, acts[_i].then), "%s: no \"%s\" in\n%s", acts[_i].what, acts[_i].then, now);
    free(now);
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(the_strip_is_drawn_into_a_file)
{
    char *drawing = base_format("%s.svg", job), *keys = base_format(":drawing strip %s\r", drawing);
    bed_type(b, keys);
    bed_wait(b, "written: ");
    ck_assert_int_eq(access(drawing, R_OK), 0);
    ck_assert_int_eq(unlink(drawing), 0);
    free(keys);
    free(drawing);
    leave(b);
}
END_TEST

/* The value typed last, once more elsewhere: one key. */
START_TEST(the_last_value_is_typed_again_by_one_key)
{
    bed_type(b, "/dt\r36\r");
    bed_wait(b, "taken: die_plate.thickness");
    bed_type(b, ":go-to stripper\r");
    bed_wait(b, "plate 4 of 7");
    bed_type(b, ";");
    bed_wait(b, "taken: stripper.thickness 18 mm -> 36 mm");
    bed_type(b, "u");
    bed_wait(b, "undone: stripper");
    bed_type(b, ":go-to punch_plate.length\r"); /* where a formula stands it is asked why */
    bed_wait(b, "> length");
    bed_type(b, ":set die_plate.length=250 mm\r");
    bed_wait(b, "taken: die_plate.length");
    bed_type(b, ";");
    bed_wait(b, "typed over its formula, because:");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 60);
    for (int i = 0; i < 3; i++)
        bed_type(b, "u");
    bed_wait(b, "undone: die_plate.thickness");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* One pane at a time, and all that can be done. */
START_TEST(sixty_columns_and_sixteen_rows_are_enough)
{
    bed_resize(b, 16, 60);
    bed_wait(b, "Tab: >stack<");
    bed_type(b, "\t");
    bed_wait(b, ">form<");
    bed_type(b, "\t");
    bed_wait(b, ">plan<");
    bed_type(b, "\t");
    bed_wait(b, ">findings<");
    bed_type(b, "/dt\r36\r");
    bed_wait(b, "taken: die_plate.thickness");
    bed_type(b, "S");
    bed_wait(b, ">section");
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    ck_assert_str_eq(dumped(job), before);
    bed_resize(b, 24, 80);
    bed_wait(b, "? help");
    leave(b);
}
END_TEST

/* What was typed and where one was are there again the next time. */
START_TEST(the_next_time_begins_where_this_one_ended)
{
    const char *argv[] = {program(), job, NULL};
    char folder[300];
    leave(b);
    snprintf(folder, sizeof folder, "%s", fresh_folder());
    const struct bed_start start = {.argv = argv, .folder = folder};
    for (int time = 0; time < 2; time++) {
        b = bed_open(&start);
        bed_wait(b, "? help");
        if (time == 0) {
            bed_type(b, ":eval 2 + 3\r");
            bed_wait(b, "= 5");
            bed_type(b, "/dt\r");
            bed_wait(b, "> thickness");
        } else {
            bed_wait(b, "die plate            plate 5 of 7");
            bed_wait(b, "> thickness");
            bed_type(b, "/");
            bed_wait(b, "> dt");
            bed_key(b, VTERM_KEY_ESCAPE);
            bed_wait_gone(b, "> dt");
            bed_type(b, ":\033OA");
            bed_wait(b, ":eval 2 + 3");
            bed_key(b, VTERM_KEY_ESCAPE);
            bed_wait_gone(b, ":eval");
        }
        leave(b);
    }
    ck_assert_str_eq(dumped(job), before);
}
END_TEST

void add_acts(Suite *s)
{
    TCase *c = tcase_create("acts");
    tcase_set_timeout(c, 300);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_loop_test(c, an_act_takes_few_keys, 0, (int)COUNT_OF(acts));
    tcase_add_test(c, the_strip_is_drawn_into_a_file);
    tcase_add_test(c, the_last_value_is_typed_again_by_one_key);
    tcase_add_test(c, sixty_columns_and_sixteen_rows_are_enough);
    tcase_add_test(c, the_next_time_begins_where_this_one_ended);
    suite_add_tcase(s, c);
}
