/* tests/screen/check_bed.c - the bed itself, tried on small programs of the system */

#include "bed.h"
#include "screen.h"

#include <signal.h>
#include <string.h>

#include "../common.h"

static struct bed *shell(const char *script)
{
    const char *argv[] = {"sh", "-c", script, NULL};
    return bed_open(&(struct bed_start){.argv = argv});
}

START_TEST(what_a_program_prints_is_seen_where_it_was_put)
{
    struct bed *b = shell("printf 'one\\r\\n\\033[5;10H\\033[1mtwo\\033[0m \\033[7;33mthree'; read x");
    bed_wait(b, "three");
    int column;
    ck_assert_int_eq(bed_find(b, "one", &column), 0);
    ck_assert_int_eq(column, 0);
    ck_assert_int_eq(bed_find(b, "two", &column), 4);
    ck_assert_int_eq(column, 9);
    ck_assert(bed_cell(b, 4, 9).bold);
    ck_assert(!bed_cell(b, 4, 9).coloured);
    ck_assert(!bed_cell(b, 4, 13).bold);
    ck_assert(bed_cell(b, 4, 13).reverse);
    ck_assert(bed_cell(b, 4, 13).coloured);
    ck_assert(bed_any_colour(b));
    bed_close(b);
}
END_TEST

START_TEST(what_is_typed_reaches_the_program_and_its_end_is_told)
{
    struct bed *b = shell("read x; echo \"got <$x>\"; exit 7");
    bed_type(b, "a word\r");
    bed_wait(b, "got <a word>");
    ck_assert_int_eq(bed_wait_end(b), 7);
    ck_assert(bed_modes_restored(b));
    bed_close(b);
}
END_TEST

START_TEST(modes_left_changed_are_noticed)
{
    struct bed *b = shell("stty -echo -icanon");
    ck_assert_int_eq(bed_wait_end(b), 0);
    ck_assert(!bed_modes_restored(b));
    bed_close(b);
}
END_TEST

START_TEST(alternate_screen_cursor_and_paste_mode_are_noticed)
{
    struct bed *b = shell("printf '\\033[?1049h\\033[?25l\\033[?2004hA'; read x; printf "
                          "'\\033[?2004l\\033[?25h\\033[?1049lB'; read x");
    bed_wait(b, "A");
    ck_assert(bed_alternate(b));
    ck_assert(!bed_cursor_visible(b));
    ck_assert(bed_paste_asked(b));
    bed_type(b, "\r");
    bed_wait(b, "B");
    ck_assert(!bed_alternate(b));
    ck_assert(bed_cursor_visible(b));
    ck_assert(!bed_paste_asked(b));
    bed_close(b);
}
END_TEST

START_TEST(a_new_size_and_signals_reach_the_program)
{
    struct bed *b = shell(
        "trap 'stty size' WINCH; trap 'exit 9' TERM; echo ready; while :; do sleep 0.05; done");
    bed_wait(b, "ready");
    bed_resize(b, 30, 100);
    bed_wait(b, "30 100");
    bed_signal(b, SIGTERM);
    ck_assert_int_eq(bed_wait_end(b), 9);
    bed_close(b);
}
END_TEST

START_TEST(quiet_counts_the_bytes)
{
    struct bed *b = shell("printf 12345; read x; printf 678; read x");
    bed_wait(b, "12345");
    ck_assert_int_eq(bed_quiet(b, 50), 5);
    ck_assert_int_eq(bed_quiet(b, 50), 0);
    bed_close(b);
}
END_TEST

void add_bed(Suite *s)
{
    TCase *c = tcase_create("bed");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, what_a_program_prints_is_seen_where_it_was_put);
    tcase_add_test(c, what_is_typed_reaches_the_program_and_its_end_is_told);
    tcase_add_test(c, modes_left_changed_are_noticed);
    tcase_add_test(c, alternate_screen_cursor_and_paste_mode_are_noticed);
    tcase_add_test(c, a_new_size_and_signals_reach_the_program);
    tcase_add_test(c, quiet_counts_the_bytes);
    suite_add_tcase(s, c);
}
