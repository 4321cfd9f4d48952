/* tests/screen/looks.c - what stands where, in colour and without, in lines and in plain characters, at three
   sizes */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static const struct { int rows, columns; const char *words[12];
} sizes[] = {
    {24,
     80,
     {"Cover plate", "stack, shut, new", "upper shoe", "die plate", "lower shoe", "findings", "mm/col",
      "saved", "? help", NULL}},
    {30,
     100,
     {"Cover plate", "stack, shut, new", "upper shoe", "shut height", "die plate", "findings", "mm/col",
      "? help", NULL}},
    {60,
     200,
     {"Cover plate", "stack, shut, new", "shut height", "hangs on", "section, ram", "findings", "mm/col",
      "1 row =", "? help", NULL}},
};

START_TEST(the_main_screen_shows_stack_form_plan_and_findings_at_once)
{
    struct bed *b = screens(demo_job(), sizes[_i].rows, sizes[_i].columns, NULL, NULL);
    for (int i = 0; sizes[_i].words[i]; i++)
        ck_assert_msg(bed_shows(b, sizes[_i].words[i]), "\"%s\" is missing:\n%s", sizes[_i].words[i],
                      bed_screen(b));
    ck_assert(bed_shows(b, "!!"));
    leave(b);
}
END_TEST

START_TEST(the_cursor_is_seen_and_stands_on_the_marked_row)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    int row, column;
    for (int i = 0; i < 4; i++) {
        bed_cursor(b, &row, &column);
        ck_assert(bed_cursor_visible(b));
        ck_assert_msg(bed_cell(b, row, column).ch == '>',
                      "pane %d: the cursor stands at %d,%d on no mark:\n%s", i, row, column, bed_screen(b));
        bed_type(b, "\t");
        bed_quiet(b, 40);
    }
    leave(b);
}
END_TEST

/* Everything on the screen is plain ASCII. */
static void all_plain(struct bed *b)
{
    for (const char *p = bed_screen(b); *p; p++)
        ck_assert_msg((unsigned char)*p < 127, "not plain:\n%s", bed_screen(b));
}

START_TEST(a_c_locale_gets_plain_characters)
{
    const char *argv[] = {program(), demo_job(), NULL};
    struct bed *b = bed_open(&(struct bed_start){.argv = argv, .locale = "C"});
    bed_wait(b, "? help");
    bed_quiet(b, 40);
    all_plain(b);
    ck_assert(bed_shows(b, "----------"));
    bed_type(b, "S");
    bed_quiet(b, 40);
    all_plain(b);
    leave(b);
}
END_TEST

START_TEST(ascii_can_be_asked_for)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, "--ascii");
    all_plain(b);
    leave(b);
}
END_TEST

START_TEST(a_utf8_locale_gets_lines_and_blocks)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    ck_assert(bed_shows(b, "\xe2\x94\x80\xe2\x94\x80\xe2\x94\x80"));
    ck_assert(bed_shows(b, "\xe2\x96\x91"));
    leave(b);
}
END_TEST

static bool any_strong(struct bed *b)
{
    for (int y = 0; y < 24; y++)
        for (int x = 0; x < 80; x++)
            if (bed_cell(b, y, x).bold)
                return true;
    return false;
}

static const struct { const char *more[2]; const char *option; bool colour; } colours[] = {
    {{NULL}, NULL, true},
    {{"NO_COLOR=1", NULL}, NULL, false},
    {{"NO_COLOR=", NULL}, NULL, true}, /* empty does not count: no-color.org */
    {{NULL}, "--color=never", false},
};

START_TEST(colour_goes_where_it_is_not_wanted_and_marks_stay)
{
    struct bed *b = screens(demo_job(), 24, 80, colours[_i].more, colours[_i].option);
    ck_assert_int_eq(bed_any_colour(b), colours[_i].colour);
    ck_assert(any_strong(b));
    ck_assert(bed_shows(b, "!!"));
    leave(b);
}
END_TEST

START_TEST(only_two_colours_are_used)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    int faults = bed_find(b, "!!", NULL);
    ck_assert_int_ge(faults, 0);
    /* names in the rows are in the terminal's own colour */
    int column, row = bed_find(b, "upper shoe", &column);
    ck_assert_int_ge(row, 0);
    ck_assert(!bed_cell(b, row, column).coloured);
    leave(b);
}
END_TEST

START_TEST(each_pane_can_have_the_whole_screen)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    char *before = base_copy(bed_screen(b));
    bed_type(b, "z");
    bed_wait_gone(b, "mm/col");
    bed_type(b, "z");
    bed_wait(b, "mm/col");
    bed_type(b, "\t\tz");
    bed_wait_gone(b, "stack, shut");
    ck_assert(bed_shows(b, "mm/col"));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "stack, shut");
    bed_type(b, "\t\t");
    bed_quiet(b, 50);
    ck_assert_str_eq(bed_screen(b), before);
    free(before);
    leave(b);
}
END_TEST

START_TEST(form_plan_and_section_change_places)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    bed_type(b, "S");
    bed_wait(b, "section, ram");
    bed_type(b, "P");
    bed_wait_gone(b, "section, ram");
    bed_wait(b, "mm/col");
    bed_type(b, "F");
    bed_quiet(b, 50);
    bed_type(b, "x");
    bed_wait(b, "shut, ground");
    bed_type(b, "x");
    bed_wait(b, "stack, shut, new");
    leave(b);
}
END_TEST

void add_looks(Suite *s)
{
    TCase *c = tcase_create("looks");
    tcase_set_timeout(c, 120);
    tcase_add_loop_test(c, the_main_screen_shows_stack_form_plan_and_findings_at_once, 0,
                        (int)COUNT_OF(sizes));
    tcase_add_test(c, the_cursor_is_seen_and_stands_on_the_marked_row);
    tcase_add_test(c, a_c_locale_gets_plain_characters);
    tcase_add_test(c, ascii_can_be_asked_for);
    tcase_add_test(c, a_utf8_locale_gets_lines_and_blocks);
    tcase_add_loop_test(c, colour_goes_where_it_is_not_wanted_and_marks_stay, 0, (int)COUNT_OF(colours));
    tcase_add_test(c, only_two_colours_are_used);
    tcase_add_test(c, each_pane_can_have_the_whole_screen);
    tcase_add_test(c, form_plan_and_section_change_places);
    suite_add_tcase(s, c);
}
