/* tests/screen/typing.c - what begins to type, what is typed and not done, and that nothing of it is
   dropped */

#include "screen.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];
static char *before; /* the job's text as it was */
static struct bed *b;

static void begin(void) { b = demo_screens(job, sizeof job, &before); }
static void finish(void) { free(before); }

static void as_it_was(void)
{
    bed_settle(b, 30);
    ck_assert_str_eq(dumped(job), before);
}

/* On a value: what is pressed, and what then stands in the message row of the field. */
static const struct { const char *path, *row, *keys, *shows; } begun[] = {
    {"die_plate.thickness", "> thickness", "40", "not yet taken"},
    {"die_plate.thickness", "> thickness", "4", "> 4"},
    {"die_plate.thickness", "> thickness", "-", "> -"},
    {"die_plate.thickness", "> thickness", "+", "> +"},
    {"die_plate.thickness", "> thickness", ".5", "> .5"},
    {"die_plate.thickness", "> thickness", "(20 mm + 5 mm)", "not yet taken"},
    {"die_plate.thickness", "> thickness", "\"no\"", "> \"no\""},
    {"die_plate.length", "> length", "5", "> 5"},        /* a formula stands there, and is not added to */
    {"die_plate.moves", "> moves", "5", "none has \"5\""}, /* a list opens there */
    {"die_plate.moves", "> moves", "\"", "no closing quote"},
};

START_TEST(a_figure_on_a_value_begins_to_type_there)
{
    go(b, begun[_i].path, begun[_i].row);
    bed_type(b, begun[_i].keys);
    bed_wait(b, begun[_i].shows);
    bed_wait(b, "Esc leave");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "Esc leave");
    as_it_was();
    leave(b);
}
END_TEST

/* Three hundred letters that wait when the program comes to look are one text: tried once, or where a part of
   them had come before, a few times, not three hundred. A paste is one key. */
START_TEST(letters_that_wait_are_tried_as_one_text)
{
    char counts[500], more[540], text[301];
    const char *env[] = {more, NULL};
    long parsed = 0, tried[2] = {0}, bound = 0, judged = 0;
    snprintf(counts, sizeof counts, "%s.counts", job);
    snprintf(more, sizeof more, "DIEWRIGHT_COUNTS=%s", counts);
    for (size_t i = 0; i < sizeof text - 1; i++)
        text[i] = "25 + "[i % 5];
    text[sizeof text - 1] = '\0';
    for (int way = 0; way < 2; way++) {
        struct bed *own = screens(job, 24, 80, env, NULL);
        go(own, "die_plate.thickness", "> thickness");
        bed_type(own, "1");
        bed_wait(own, "not yet taken");
        if (way) {
            bed_paste(own, text);
        } else {
            bed_signal(own, SIGSTOP);
            bed_raw(own, text, sizeof text - 1);
            bed_signal(own, SIGCONT);
        }
        bed_wait(own, "25 + 25");
        bed_key(own, VTERM_KEY_ESCAPE);
        bed_wait(own, "left as it was");
        leave(own);
        FILE *f = fopen(counts, "r");
        ck_assert_ptr_nonnull(f);
        ck_assert_int_eq(fscanf(f, "%ld %ld %ld %ld", &parsed, &tried[way], &bound, &judged), 4);
        fclose(f);
    }
    ck_assert_msg(tried[0] < 10 && tried[1] <= 3, "tried %ld times, pasted %ld", tried[0], tried[1]);
    leave(b);
}
END_TEST

/* On an item the form has the keys: its first value is meant. */
START_TEST(after_going_somewhere_the_form_has_the_keys)
{
    bed_type(b, ":go-to die_plate\r40");
    bed_wait(b, "not yet taken");
    bed_wait(b, "40 mm");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":go-to die_plate.thickness stripper.thickness\r");
    bed_wait(b, "go-to has no use for \"stripper.thickness\"");
    as_it_was();
    leave(b);
}
END_TEST

START_TEST(taking_away_has_a_key_of_its_own)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "40\r");
    bed_wait(b, "taken: ");
    bed_wait(b, "> length");
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, "> thickness");
    bed_key(b, VTERM_KEY_DEL);
    bed_wait(b, "-> usual");
    bed_type(b, "uu");
    bed_wait(b, "undone: ");
    bed_wait(b, " mm -> 40 mm; ");
    as_it_was();
    leave(b);
}
END_TEST

/* Somewhere to type, and what stands there while it is so. */
static const struct { const char *road, *there;
} places[] = {
    {"40", "not yet taken"}, {":set die_plate.thickness=40", ":set die_plate"},
    {"/die", "/die"},        {"?", "type to search"},
    {"a", "add an item"},
};

START_TEST(alt_with_a_letter_while_typing_is_no_command)
{
    bed_type(b, ":set die_plate.thickness=33\r");
    bed_wait(b, "taken: ");
    char *taken = base_copy(dumped(job));
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, places[_i].road);
    bed_wait(b, places[_i].there);
    for (const char *c = "uDqxrEWPa4:/"; *c; c++) {
        char alt[2] = {'\033', *c};
        bed_raw(b, alt, 2);
        bed_settle(b, 40);
        ck_assert_msg(bed_shows(b, places[_i].there), "Alt-%c:\n%s", *c, bed_screen(b));
    }
    ck_assert(!bed_ended(b));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_settle(b, 40);
    ck_assert_str_eq(dumped(job), taken);
    free(taken);
    leave(b);
}
END_TEST

START_TEST(set_takes_as_many_as_are_given)
{
    bed_type(b, ":set die_plate.thickness=33 die_backing.thickness=13 upper_shoe.thickness=51 "
                "lower_shoe.thickness=52 punch_plate.thickness=21 ");
    bed_type(b, "punch_backing.thickness=11 stripper.thickness=22 job.plan_step=2 job.ram_step=3 "
                "job.plan_stride=17\r");
    bed_wait(b, "taken: ");
    const char *now = dumped(job);
    static const char *const all[] = {
        "= 33 mm", "= 13 mm", "= 51 mm",          "= 52 mm",         "= 21 mm",
        "= 11 mm", "= 22 mm", "plan_step = 2 mm", "ram_step = 3 mm", "plan_stride = 17 mm"};
    for (size_t i = 0; i < COUNT_OF(all); i++)
        ck_assert_msg(strstr(now, all[i]) != NULL, "%s is missing", all[i]);
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    as_it_was();
    leave(b);
}
END_TEST

static const struct { const char *line, *says; } surplus[] = {
    {":unset die_plate.thickness stripper.thickness\r", "unset has no use for \"stripper.thickness\""},
    {":remove risers lifters\r", "remove has no use for \"lifters\""},
    {":rename die_plate plate_a plate_b\r", "rename has no use for \"plate_b\""},
    {":copy die_plate plate_a plate_b\r", "copy has no use for \"plate_b\""},
    {":why-of die_plate.thickness stripper.thickness\r", "why-of has no use for \"stripper.thickness\""},
};

START_TEST(what_a_command_has_no_use_for_is_not_dropped_in_silence)
{
    bed_type(b, surplus[_i].line);
    bed_wait(b, surplus[_i].says);
    as_it_was();
    leave(b);
}
END_TEST

/* Half a value is another value. */
START_TEST(a_paste_that_is_too_long_is_not_taken_in_part)
{
    static char text[6001];
    size_t n = _i ? 6000 : 950;
    memset(text, '1', n);
    text[n] = '\0';
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "4");
    bed_wait(b, "> 4");
    bed_paste(b, text);
    bed_wait(b, "longer than a line takes; nothing of it was taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_type(b, ":");
    bed_paste(b, text);
    bed_wait(b, "longer than a line takes; nothing of it was taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    as_it_was();
    leave(b);
}
END_TEST

/* What there is once is asked for before it goes, and `a` has it again. */
START_TEST(what_is_there_once_is_asked_for_and_comes_back)
{
    static const char *const once[] = {"strip", "stack", "press"};
    bed_type(b, ":go-to ");
    bed_type(b, once[_i]);
    bed_type(b, "\r");
    bed_wait(b, "Enter change");
    bed_type(b, "D");
    bed_wait(b, "and all typed in it? y");
    bed_type(b, "\r");
    bed_wait(b, " stays");
    as_it_was();
    bed_type(b, "D");
    bed_wait(b, "and all typed in it? y");
    bed_type(b, "y\r");
    bed_settle(b, 60);
    bool refused = bed_shows(b, "cannot be taken out");
    if (!refused) {
        bed_wait(b, "taken: ");
        bed_type(b, "a");
        bed_wait(b, "add an item");
        bed_type(b, once[_i]);
        bed_settle(b, 30);
        bed_type(b, "\r");
        bed_wait(b, " added; ");
        ck_assert(strstr(dumped(job), once[_i]) != NULL);
        bed_type(b, "u");
        bed_wait(b, "undone: ");
        bed_settle(b, 30);
        bed_type(b, "u");
        bed_wait(b, " taken out; ");
    }
    as_it_was();
    leave(b);
}
END_TEST

void add_typing(Suite *s)
{
    TCase *c = tcase_create("typing");
    tcase_set_timeout(c, 300);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, letters_that_wait_are_tried_as_one_text);
    tcase_add_loop_test(c, a_figure_on_a_value_begins_to_type_there, 0, (int)COUNT_OF(begun));
    tcase_add_test(c, after_going_somewhere_the_form_has_the_keys);
    tcase_add_test(c, taking_away_has_a_key_of_its_own);
    tcase_add_loop_test(c, alt_with_a_letter_while_typing_is_no_command, 0, (int)COUNT_OF(places));
    tcase_add_test(c, set_takes_as_many_as_are_given);
    tcase_add_loop_test(c, what_a_command_has_no_use_for_is_not_dropped_in_silence, 0,
                        (int)COUNT_OF(surplus));
    tcase_add_loop_test(c, a_paste_that_is_too_long_is_not_taken_in_part, 0, 2);
    tcase_add_loop_test(c, what_is_there_once_is_asked_for_and_comes_back, 0, 3);
    suite_add_tcase(s, c);
}
