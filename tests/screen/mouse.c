/* tests/screen/mouse.c - clicks and the wheel, as reports that a terminal sends; and nothing of it unless it
   is asked for */

#include "screen.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];
static char *before;
static struct bed *b;

static void begin(void)
{
    snprintf(job, sizeof job, "%s", demo_job());
    before = base_copy(dumped(job));
    b = screens(job, 24, 80, NULL, "--mouse");
    ck_assert(bed_mouse_asked(b));
}

static void finish(void) { free(before); }

/* On the cell INTO columns behind the place where TEXT is first seen. */
static void click_on(const char *text, int into)
{
    int column, row = bed_find(b, text, &column);
    ck_assert_msg(row >= 0, "no \"%s\" to click on:\n%s", text, bed_screen(b));
    bed_click(b, row, column + into);
}

START_TEST(unasked_for_nothing_is_sent_and_no_report_is_heard)
{
    struct bed *plain = screens(job, 24, 80, NULL, NULL);
    bed_type(plain, ":go-to die_plate.thickness\r");
    bed_wait(plain, "> thickness");
    bed_type(plain, "\r");
    bed_wait(plain, "Enter take");
    bed_click(plain, 4, 5); /* nobody sends it then; it leaves nothing and types nothing */
    bed_wheel(plain, 4, 5, 1);
    bed_type(plain, "\033[M !!");
    bed_control(plain, 'U');
    bed_type(plain, "40");
    bed_wait(plain, "not yet taken");
    bed_key(plain, VTERM_KEY_ESCAPE);
    bed_wait(plain, "left as it was");
    bed_resize(plain, 40, 130);
    bed_wait(plain, "hangs on");
    ck_assert_int_eq(bed_mouse_told(plain), 0);
    bed_type(plain, "q");
    ck_assert_int_eq(bed_wait_end(plain), 0);
    ck_assert_int_eq(bed_mouse_told(plain), 0);
    bed_close(plain);
    leave(b);
}
END_TEST

START_TEST(it_is_turned_on_and_off_by_key_and_by_name)
{
    bed_type(b, "C");
    bed_wait(b, "mouse off");
    ck_assert(!bed_mouse_asked(b));
    bed_quiet(b, 60);
    char *screen = base_copy(bed_screen(b));
    click_on("punch plate", 2);
    bed_settle(b, 100);
    ck_assert_str_eq(bed_screen(b), screen);
    free(screen);
    bed_type(b, ":mouse\r");
    bed_wait(b, "mouse on");
    ck_assert(bed_mouse_asked(b));
    click_on("punch plate", 2);
    bed_wait(b, ">punch plate");
    bed_type(b, ":click\r");
    bed_wait(b, "it is the mouse that clicks");
    leave(b);
}
END_TEST

START_TEST(a_click_is_the_cursor_and_a_second_one_is_enter)
{
    click_on("punch plate", 2);
    bed_wait(b, ">punch plate");
    bed_wait(b, "plate 3 of 7");
    click_on(">punch plate", 2);
    bed_wait(b, "> thickness           22.0");
    click_on("  width", 4);
    bed_wait(b, "> width");
    click_on("> width", 4);
    bed_wait(b, "Enter take");
    bed_click(b, 4, 3); /* while something is typed a click does nothing */
    bed_quiet(b, 60);
    ck_assert(bed_shows(b, "Enter take"));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    click_on("! turned", 3);
    bed_wait(b, ">  ! turned");
    click_on(">  ! turned", 6);
    bed_wait(b, "< goes back");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* A cell of the matrix is a group in a plate; the first click only brings the keys where another pane has
   them. */
START_TEST(cells_points_and_panes_are_clicked)
{
    int column, row = bed_find(b, "S", &column);
    bed_click(b, row, column);
    bed_wait(b, "punch screws        screws 1 of 2");
    bed_type(b, "\t");
    bed_wait(b, "Enter change");
    bed_click(b, row, column);
    bed_wait(b, "Enter form  w why");
    bed_quiet(b, 60);
    bed_click(b, row, column);
    bed_wait(b, "Enter change");
    bed_type(b, ":go-to die_plate\r");
    bed_wait(b, "die plate ");
    bed_quiet(b, 150); /* the plan follows */
    row = bed_find(b, "\xe2\x94\x82 s ", &column);
    bed_click(b, row, column + 2);
    bed_wait(b, "die screws, left back, 5 of 8");
    bed_click(b, row, column + 2);
    bed_wait(b, "screws 2 of 2");
    bed_wait(b, "Enter change");
    leave(b);
}
END_TEST

/* A report comes in pieces, without its end, or with buttons and numbers that nobody wants: the next key is
 * heard all the same, and so is a signal. */
START_TEST(torn_and_strange_reports_stop_nothing)
{
    static const char *const strange[] = {"\033[<",       "\033[<0;5",      "\033[<0;5;\033[<0;6;",
                                          "\033[<2;6;5M", "\033[<35;6;5M",  "\033[<99999999999;6;5M",
                                          "\033[<0;0;0M", "\033[<0;6;999M", "\033[<0;6;5m",
                                          "\033[<;;M",    "\033[<0;6;5;7M", "\033[M"};
    for (size_t i = 0; i < COUNT_OF(strange); i++) {
        bed_raw(b, strange[i], strlen(strange[i]));
        bed_settle(b, 300);
        bed_type(b, "j");
        bed_wait(b, ">punch backing");
        bed_type(b, "k");
        bed_wait(b, ">upper shoe");
        bed_key(b, VTERM_KEY_ESCAPE);
        bed_quiet(b, 40);
    }
    bed_raw(b, "\033[<0;6", 6);
    bed_quiet(b, 60);
    bed_raw(b, ";5M", 3);
    bed_wait(b, ">punch plate");
    bed_click(b, 2, 3);
    bed_wait(b, ">upper shoe");
    bed_raw(b, "\033[<0;6", 6);
    bed_signal(b, SIGTERM);
    ck_assert_int_eq(bed_wait_end(b), 128 + SIGTERM);
    ck_assert(!bed_mouse_asked(b));
    bed_close(b);
}
END_TEST

START_TEST(two_clicks_that_come_at_once_are_two_in_their_order)
{
    static const char both[] = "\033[<0;6;5M\033[<0;6;5m\033[<0;6;9M\033[<0;6;9m\033[<0;6;9M\033[<0;6;9m";
    int row = bed_find(b, "die plate", NULL);
    ck_assert_int_eq(row, 8); /* the ninth from above: what the reports say */
    bed_raw(b, both, sizeof both - 1);
    bed_wait(b, "> thickness           34.0"); /* there, and Enter */
    bed_wait(b, "plate 5 of 7");
    leave(b);
}
END_TEST

START_TEST(lists_are_clicked_and_turned)
{
    go(b, "die_screws.length", "> length");
    bed_type(b, "s");
    bed_wait(b, "sizes  die_screws.length");
    bed_quiet(b, 60);
    click_on("80 mm", 1);
    bed_wait(b, "> 80 mm");
    bed_wheel(b, 8, 10, -1);
    bed_wait(b, "> 60 mm");
    click_on("> 60 mm", 3);
    bed_wait(b, "because:");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    bed_type(b, ":add screws\r"); /* no name: refused */
    bed_quiet(b, 40);
    go(b, "die_plate.hardened", "> hardened");
    bed_type(b, "\r");
    bed_wait(b, "die_plate.hardened, now yes");
    bed_quiet(b, 60);
    int column, row = bed_find(b, ">yes", &column);
    bed_click(b, row + 1, column + 1);
    bed_wait(b, "not yet taken");
    bed_click(b, row + 1, column + 1);
    bed_wait(b, "taken: die_plate.hardened");
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    go(b, "die_plate.hardened", "> hardened");
    bed_type(b, "w");
    bed_wait(b, "why  die_plate.hardened");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_type(b, "?");
    bed_wait(b, "help: form");
    bed_wheel(b, 10, 10, 1);
    bed_wheel(b, 10, 10, 1);
    bed_quiet(b, 60);
    ck_assert(!bed_shows(b, "> Enter"));
    bed_type(b, "fully ground");
    bed_wait(b, "> x ");
    bed_quiet(b, 60);
    click_on("> x ", 3);
    bed_wait(b, "  ground   mm");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(the_review_and_lines_to_read_are_clicked)
{
    bed_type(b, "r");
    bed_wait(b, "n next  d differences");
    bed_quiet(b, 100);
    click_on("! turned", 20);
    bed_wait(b, ">  ! turned");
    click_on("! turned", 20);
    bed_wait(b, "rule: turn");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    bed_type(b, ":set die_plate.thickness=36\r");
    bed_wait(b, "taken: ");
    bed_type(b, "M");
    bed_wait(b, "moved by: ");
    bed_quiet(b, 60);
    click_on("stack.shut_height", 3);
    bed_wait(b, "> stack.shut_height");
    click_on("stack.shut_height", 3);
    bed_wait(b, "> shut height");
    leave(b);
}
END_TEST

START_TEST(points_of_a_range_and_proposals_are_clicked)
{
    go(b, "posts.length", "> length");
    bed_type(b, "V");
    bed_wait(b, "at 200 mm");
    bed_quiet(b, 100);
    int column, row = bed_find(b, "^", &column);
    bed_click(b, row - 3, column + 1);
    bed_wait(b, "at 210 mm");
    bed_quiet(b, 60);
    bed_click(b, row - 3, column + 1);
    bed_wait(b, "Enter take");
    bed_wait(b, "210 mm");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":set posts.length=180\r");
    bed_wait(b, "taken: ");
    bed_type(b, "\t\tgi");
    bed_wait(b, "would clear it:");
    bed_wait(b, "  a posts.length");
    bed_wait_gone(b, "still trying");
    bed_quiet(b, 60);
    click_on("  a posts.length", 6);
    bed_wait(b, "not yet taken");
    bed_quiet(b, 60);
    click_on("  a posts.length", 6);
    bed_wait(b, "taken: posts.length");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "Enter cause");
    leave(b);
}
END_TEST

/* The wheel moves the list below it; a plan stays as it is, and so does the ram. */
START_TEST(the_wheel_moves_the_list_below_it)
{
    bed_wheel(b, 5, 5, 1);
    bed_wait(b, ">  gap");
    bed_wheel(b, 5, 60, 1); /* the form's cursor; the keys stay where they are */
    bed_quiet(b, 150);
    ck_assert(bed_shows(b, ">  gap"));
    bed_wheel(b, 5, 5, -1);
    bed_wait(b, ">upper shoe");
    bed_settle(b, 300); /* the plan follows */
    char *screen = base_copy(bed_screen(b));
    bed_wheel(b, 18, 10, 1); /* the plan */
    bed_wheel(b, 0, 10, 1);
    bed_wheel(b, 23, 10, 1);
    bed_quiet(b, 150);
    ck_assert_str_eq(bed_screen(b), screen);
    bed_wheel(b, 18, 60, 1);
    bed_wait_gone(b, ":  ! wall");
    free(screen);
    leave(b);
}
END_TEST

/* 8 mm a column and 16 a row, counted from the plate's middle: to the middle of the cell, by whole steps of 1
   mm from -113, -47. */
START_TEST(what_is_placed_goes_where_one_clicks)
{
    go(b, "die_screws", ":die screws");
    bed_type(b, "p");
    bed_wait(b, "left front, with its group");
    bed_quiet(b, 60);
    int row, column;
    bed_cursor(b, &row, &column);
    bed_click(b, row + 1, column + 2);
    bed_wait(b, "along      -96.0   across     -64.0"); /* -12 * 8, -4 * 16 */
    bed_quiet(b, 60);
    bed_cursor(b, &row, &column);
    bed_click(b, row, column);
    bed_wait(b, "> from the ends        36 mm");
    click_on("from the sides", 3);
    bed_wait(b, "> from the sides       21 mm");
    click_on("> from the sides", 3); /* would be Enter and take all: not while something is typed */
    bed_quiet(b, 60);
    ck_assert(bed_shows(b, "> from the sides"));
    bed_type(b, "\r");
    bed_wait(b, "taken: ");
    const char *text = dumped(job);
    ck_assert_ptr_nonnull(strstr(text, "    end = 36 mm\n    side = 21 mm\n"));
    leave(b);
}
END_TEST

static const struct {
    int signal, status;
} told[] = {
    {SIGTERM, 128 + SIGTERM}, {SIGHUP, 128 + SIGHUP}, {SIGSEGV, 128 + SIGSEGV}, {SIGABRT, 128 + SIGABRT}};

START_TEST(a_signal_gives_the_mouse_back)
{
    bed_click(b, 5, 5);
    bed_wait(b, ">  gap");
    bed_signal(b, told[_i].signal);
    ck_assert_int_eq(bed_wait_end(b), told[_i].status);
    ck_assert(bed_modes_restored(b));
    ck_assert(!bed_mouse_asked(b));
    ck_assert(!bed_alternate(b));
    bed_close(b);
}
END_TEST

/* Terminals of other descriptions: the short form of a report, and none at all. */
START_TEST(terminals_that_report_otherwise_or_not_at_all)
{
    const char *argv[] = {program(), job, "--mouse", NULL};
    struct bed *other = bed_open(&(struct bed_start){.argv = argv, .term = "screen-256color"});
    bed_wait(other, "? help");
    ck_assert(bed_mouse_asked(other));
    bed_raw(other, "\033[M &%\033[M#&%", 12); /* button, column 6, row 5, each 32 up; then let go */
    bed_wait(other, ">punch plate");
    leave(other);
    other = bed_open(&(struct bed_start){.argv = argv, .term = "vt100"});
    bed_wait(other, "? help");
    ck_assert_int_eq(bed_mouse_told(other), 0);
    bed_type(other, "C");
    bed_wait(other, "knows of no mouse (TERM=vt100)");
    leave(other);
    leave(b);
}
END_TEST

START_TEST(a_click_sends_few_bytes)
{
    bed_settle(b, 200);
    bed_quiet(b, 50);
    click_on("punch backing", 2);
    bed_wait(b, ">punch backing");
    long bytes = bed_quiet(b, 200);
    /* form and plan change with the plate */
    ck_assert_msg(bytes > 0 && bytes < 900, "a click sent %ld bytes", bytes);
    leave(b);
}
END_TEST

void add_mouse(Suite *s)
{
    TCase *c = tcase_create("mouse");
    tcase_set_timeout(c, 120);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, unasked_for_nothing_is_sent_and_no_report_is_heard);
    tcase_add_test(c, it_is_turned_on_and_off_by_key_and_by_name);
    tcase_add_test(c, a_click_is_the_cursor_and_a_second_one_is_enter);
    tcase_add_test(c, cells_points_and_panes_are_clicked);
    tcase_add_test(c, torn_and_strange_reports_stop_nothing);
    tcase_add_test(c, two_clicks_that_come_at_once_are_two_in_their_order);
    tcase_add_test(c, lists_are_clicked_and_turned);
    tcase_add_test(c, the_review_and_lines_to_read_are_clicked);
    tcase_add_test(c, points_of_a_range_and_proposals_are_clicked);
    tcase_add_test(c, the_wheel_moves_the_list_below_it);
    tcase_add_test(c, what_is_placed_goes_where_one_clicks);
    tcase_add_loop_test(c, a_signal_gives_the_mouse_back, 0, (int)COUNT_OF(told));
    tcase_add_test(c, terminals_that_report_otherwise_or_not_at_all);
    tcase_add_test(c, a_click_sends_few_bytes);
    suite_add_tcase(s, c);
}
