/* tests/screen/ends.c - every road out gives the terminal back, and some roads are never taken in */

#include "screen.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "../common.h"

static const struct { int signal, status;
} told[] = {
    {SIGTERM, 128 + SIGTERM}, {SIGHUP, 128 + SIGHUP},   {SIGINT, 128 + SIGINT},   {SIGSEGV, 128 + SIGSEGV},
    {SIGABRT, 128 + SIGABRT}, {SIGBUS, 128 + SIGBUS},   {SIGFPE, 128 + SIGFPE},   {SIGQUIT, 128 + SIGQUIT},
    {SIGUSR1, 128 + SIGUSR1}, {SIGUSR2, 128 + SIGUSR2}, {SIGXCPU, 128 + SIGXCPU}, {SIGTRAP, 128 + SIGTRAP},
    {SIGSYS, 128 + SIGSYS},
};

static void given_back(struct bed *b)
{
    ck_assert(bed_modes_restored(b));
    ck_assert(!bed_alternate(b));
    ck_assert(!bed_paste_asked(b));
    ck_assert(!bed_mouse_asked(b));
    ck_assert(bed_cursor_visible(b));
    bed_close(b);
}

START_TEST(a_signal_ends_it_and_the_terminal_is_as_before)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    ck_assert(bed_alternate(b));
    ck_assert(bed_paste_asked(b));
    bed_signal(b, told[_i].signal);
    ck_assert_int_eq(bed_wait_end(b), told[_i].status);
    given_back(b);
}
END_TEST

/* Continued from outside while it never stopped, or after a stop that it knew nothing of: the modes to give
 * back stay those of the beginning. */
START_TEST(a_signal_to_go_on_changes_nothing_of_what_is_given_back)
{
    static const int ends[] = {0, SIGTERM, SIGSEGV};
    struct bed *b = screens(demo_job(), 24, 80, NULL, "--mouse");
    char *before = base_copy(bed_screen(b));
    if (_i % 2)
        bed_signal(b, SIGSTOP);
    bed_signal(b, SIGCONT);
    bed_signal(b, SIGWINCH);
    bed_settle(b, 60);
    ck_assert_str_eq(bed_screen(b), before);
    free(before);
    if (ends[_i / 2])
        bed_signal(b, ends[_i / 2]);
    else
        bed_type(b, "q");
    ck_assert_int_eq(bed_wait_end(b), ends[_i / 2] ? 128 + ends[_i / 2] : 0);
    given_back(b);
}
END_TEST

/* Ctrl-S is pressed, and what comes then waits for Ctrl-Q: an end does not. */
START_TEST(a_terminal_that_is_held_does_not_hold_the_end)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    bed_control(b, 'S');
    if (_i < (int)COUNT_OF(told)) {
        while (!bed_blocked(b) && !bed_ended(b))
            bed_type(b, "\t");
        bed_signal(b, told[_i].signal);
        ck_assert_int_eq(bed_wait_end(b), told[_i].status);
    } else {
        bed_type(b, "q");
        ck_assert_int_eq(bed_wait_end(b), 0);
    }
    given_back(b);
}
END_TEST

/* Nobody reads what is written: the end comes all the same, and the modes with it. */
START_TEST(a_terminal_that_takes_nothing_does_not_hold_the_end)
{
    static const int ends[] = {SIGTERM, SIGHUP, SIGINT, SIGSEGV};
    struct bed *b = screens(demo_job(), 60, 200, NULL, NULL);
    while (!bed_blocked(b))
        bed_raw(b, "\f", 1);
    bed_signal(b, ends[_i]);
    ck_assert_int_eq(bed_wait_end_unread(b), 128 + ends[_i]);
    ck_assert(bed_modes_restored(b));
    bed_close(b);
}
END_TEST

START_TEST(several_signals_at_once_are_one_end)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, "--mouse");
    static const int all[] = {SIGWINCH, SIGCONT, SIGTERM, SIGHUP, SIGINT, SIGTSTP, SIGWINCH, SIGTERM};
    for (int i = 0; i < 20; i++)
        bed_signal(b, SIGWINCH);
    for (size_t i = 0; i < COUNT_OF(all); i++)
        bed_signal(b, all[(i + (size_t)_i) % COUNT_OF(all)]);
    int status = bed_wait_end(b);
    ck_assert_msg(status == 128 + SIGTERM || status == 128 + SIGHUP || status == 128 + SIGINT,
                  "it ended with %d", status);
    given_back(b);
}
END_TEST

/* What the call that meets it tells is no reason to end. */
START_TEST(a_full_file_or_a_pipe_nobody_reads_ends_nothing)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    bed_signal(b, SIGXFSZ);
    bed_signal(b, SIGPIPE);
    bed_settle(b, 30);
    leave(b);
}
END_TEST

/* Wherever the shell's modes hold, the terminal makes Ctrl-C a signal: it is the key that was pressed all the
   same. */
START_TEST(ctrl_c_is_a_key_whoever_has_the_modes)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    for (int i = 0; i < 10; i++) {
        bed_type(b, ":");
        bed_wait(b, "Esc leave");
        bed_typed_signal(b, SIGINT);
        bed_wait_gone(b, "Esc leave");
    }
    leave(b);
}
END_TEST

START_TEST(ctrl_c_behind_q_is_not_what_ended_it)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    bed_type(b, "q");
    while (!bed_ended(b)) {
        bed_typed_signal(b, SIGINT);
        bed_type(b, ""); /* takes what has come, waits for nothing */
    }
    ck_assert_int_eq(bed_wait_end(b), 0);
    ck_assert(bed_modes_restored(b));
    bed_close(b);
}
END_TEST

START_TEST(a_signal_while_typing_takes_nothing)
{
    char job[400];
    snprintf(job, sizeof job, "%s", demo_job());
    char *before = base_copy(dumped(job));
    struct bed *b = screens(job, 24, 80, NULL, NULL);
    bed_type(b, ":go-to die_plate.thickness\r");
    bed_wait(b, "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Esc leave");
    bed_control(b, 'U');
    bed_type(b, "41");
    bed_wait(b, "not yet taken");
    bed_signal(b, SIGTERM);
    ck_assert_int_eq(bed_wait_end(b), 128 + SIGTERM);
    ck_assert(bed_modes_restored(b));
    ck_assert_str_eq(dumped(job), before);
    free(before);
    bed_close(b);
}
END_TEST

START_TEST(a_line_that_is_gone_ends_it)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    bed_hang_up(b);
    ck_assert_int_eq(bed_wait_end(b), 128 + SIGHUP);
    bed_close(b);
}
END_TEST

START_TEST(a_stop_from_outside_that_nobody_could_continue_just_draws_again)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    char *before = base_copy(bed_screen(b));
    bed_signal(b, SIGTSTP);
    bed_quiet(b, 100);
    bed_wait(b, "? help");
    bed_control(b, 'Z');
    bed_quiet(b, 100);
    bed_wait(b, "? help");
    ck_assert_str_eq(bed_screen(b), before);
    ck_assert(bed_paste_asked(b));
    free(before);
    leave(b);
}
END_TEST

static const struct { const char *term, *says;
} refused[] = {
    {"", "TERM is not set"},
    {"dumb", "cannot move its cursor"},
    {"no-such-terminal", "is not known here"},
    {"unknown", "is not known here"},
};

START_TEST(a_terminal_that_cannot_show_screens_is_told_so_in_a_sentence)
{
    const char *argv[] = {program(), demo_job(), NULL};
    struct bed *b = bed_open(&(struct bed_start){.argv = argv, .term = refused[_i].term});
    bed_wait(b, refused[_i].says);
    ck_assert_int_eq(bed_wait_end(b), 2);
    ck_assert(bed_modes_restored(b));
    ck_assert(!bed_alternate(b));
    bed_close(b);
}
END_TEST

static const char *const spoken[] = {"vt100", "linux", "screen", "xterm-mono", "xterm"};

START_TEST(other_terminals_show_the_same_words)
{
    const char *argv[] = {program(), demo_job(), NULL};
    struct bed *b = bed_open(&(struct bed_start){.argv = argv, .term = spoken[_i]});
    bed_wait(b, "die plate");
    bed_wait(b, "? help");
    leave(b);
}
END_TEST

static const struct { const char *before, *after; } pipes[] = {
    {"", "</dev/null 2>&1"}, {"", "2>&1 | cat"}, {"echo q |", "2>&1"},
};

START_TEST(without_a_terminal_nothing_is_drawn)
{
    char command[1200];
    int status;
    const char *job = demo_job();
    snprintf(command, sizeof command,
             "TERM=xterm; export TERM; ASAN_OPTIONS=detect_leaks=0; export ASAN_OPTIONS; %s %s %s %s",
             pipes[_i].before, program(), job, pipes[_i].after);
    const char *out = output_of(command, &status);
    ck_assert_ptr_nonnull(strstr(out, "need a terminal"));
    ck_assert_ptr_null(strchr(out, '\033'));
    if (_i != 1) /* that one ends with cat's */
        ck_assert_int_eq(status, 2);
}
END_TEST

/* While the shell's modes hold, Ctrl-C is a signal: it must not end what was only to be stopped. Between the
 * two keys passes another time in each round, for the moment in question is short. */
START_TEST(ctrl_c_right_behind_ctrl_z_ends_nothing)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    for (long i = 0; i < 200 && !bed_ended(b); i++) {
        bed_control(b, 'Z');
        nanosleep(&(struct timespec){.tv_nsec = i % 40 * 50000}, NULL);
        bed_control(b, 'C');
        bed_quiet(b, 4);
    }
    ck_assert(!bed_ended(b));
    leave(b);
}
END_TEST

START_TEST(lines_and_columns_in_the_environment_do_not_hide_the_real_size)
{
    static const char *const more[] = {"LINES=50", "COLUMNS=200", NULL};
    struct bed *b = screens(demo_job(), 24, 80, more, NULL);
    ck_assert_int_gt((int)strlen(bed_row(b, 23)), 20);
    bed_resize(b, 20, 59);
    bed_wait(b, "59x20: diewright needs 60x16");
    bed_resize(b, 24, 80);
    bed_wait(b, "? help");
    bed_wait(b, "die plate");
    leave(b);
}
END_TEST

START_TEST(too_small_says_so_down_to_one_cell_and_comes_back)
{
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    char *before = base_copy(bed_screen(b));
    bed_resize(b, 15, 60);
    bed_wait(b, "60x15: diewright needs 60x16. q quit");
    bed_type(b, "xzu:/"); /* nothing works but quit and help */
    bed_type(b, "?");
    bed_wait(b, "make the terminal larger");
    for (int n = 10; n >= 1; n--) {
        bed_resize(b, n, n);
        bed_quiet(b, 20);
    }
    bed_resize(b, 24, 80);
    bed_wait(b, "? help");
    bed_key(b, VTERM_KEY_ESCAPE); /* the message */
    bed_wait_gone(b, "make the terminal larger");
    bed_quiet(b, 50);
    ck_assert_str_eq(bed_screen(b), before);
    free(before);
    bed_resize(b, 5, 30);
    bed_wait(b, "30x5: diewright");
    leave(b);
}
END_TEST

void add_ends(Suite *s)
{
    TCase *c = tcase_create("ends");
    tcase_set_timeout(c, 120);
    tcase_add_loop_test(c, a_signal_ends_it_and_the_terminal_is_as_before, 0, (int)COUNT_OF(told));
    tcase_add_loop_test(c, a_signal_to_go_on_changes_nothing_of_what_is_given_back, 0, 6);
    tcase_add_loop_test(c, a_terminal_that_is_held_does_not_hold_the_end, 0, (int)COUNT_OF(told) + 1);
    tcase_add_loop_test(c, a_terminal_that_takes_nothing_does_not_hold_the_end, 0, 4);
    tcase_add_loop_test(c, several_signals_at_once_are_one_end, 0, 6);
    tcase_add_test(c, a_full_file_or_a_pipe_nobody_reads_ends_nothing);
    tcase_add_test(c, ctrl_c_is_a_key_whoever_has_the_modes);
    tcase_add_loop_test(c, ctrl_c_behind_q_is_not_what_ended_it, 0, 10);
    tcase_add_test(c, a_signal_while_typing_takes_nothing);
    tcase_add_test(c, a_line_that_is_gone_ends_it);
    tcase_add_test(c, a_stop_from_outside_that_nobody_could_continue_just_draws_again);
    tcase_add_loop_test(c, a_terminal_that_cannot_show_screens_is_told_so_in_a_sentence, 0,
                        (int)COUNT_OF(refused));
    tcase_add_loop_test(c, other_terminals_show_the_same_words, 0, (int)COUNT_OF(spoken));
    tcase_add_loop_test(c, without_a_terminal_nothing_is_drawn, 0, (int)COUNT_OF(pipes));
    tcase_add_test(c, ctrl_c_right_behind_ctrl_z_ends_nothing);
    tcase_add_test(c, lines_and_columns_in_the_environment_do_not_hide_the_real_size);
    tcase_add_test(c, too_small_says_so_down_to_one_cell_and_comes_back);
    suite_add_tcase(s, c);
}
