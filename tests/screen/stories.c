/* tests/screen/stories.c - what a designer does, key by key, and what the file holds afterwards */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static char job[400];
static char *before; /* the job's text as it was */
static struct bed *b;

static void begin(void) { b = demo_screens(job, sizeof job, &before); }
static void finish(void) { free(before); }

/* The text typed in place of what stands in the field. */
static void retype(const char *text)
{
    bed_control(b, 'U');
    bed_type(b, text);
}

/* What is said, SAID first, when the thickness of the die plate becomes TO. Static buffer. */
static const char *thickness(const char *said, const char *to)
{
    static char line[200];
    static const char name[] = "thickness = ";
    const char *was = strstr(strstr(before, "plate die_plate\n"), name) + strlen(name);
    snprintf(line, sizeof line, "%s: die_plate.thickness %.*s -> %s", said, (int)strcspn(was, "\n"), was, to);
    return line;
}

/* ---- outlines ---- */

/* `a` begins an outline and asks for line after line, each tried as it is typed; a line is changed in its
   row, taken out by Del. */
START_TEST(an_outline_is_typed_line_by_line)
{
    go(b, "blank.shape", "> shape");
    bed_type(b, ":set blank.shape=\"outline\"\r");
    bed_wait(b, "taken: blank.shape");
    bed_type(b, "a");
    bed_wait(b, "line 1 of the outline:");
    retype("at -13, -22");
    bed_wait(b, "it encloses nothing");
    bed_type(b, "\r");
    bed_wait(b, "line 2 of the outline:");
    bed_type(b, "line by 26, 0\r");
    bed_wait(b, "line 3 of the outline:");
    bed_type(b, "arc by -26, 0 radius 12 left");
    bed_wait(b, "cannot reach");
    retype("arc by -26, 0 radius 13 left");
    bed_wait(b, "would move ");
    bed_type(b, "\r");
    bed_wait(b, "line 4 of the outline:");
    bed_type(b, "\r");
    bed_wait(b, "the outline has 3 lines");
    bed_wait(b, "> 3  arc by");
    ck_assert_ptr_nonnull(
        strstr(dumped(job), "    line by 26 mm, 0 mm\n    arc by -26 mm, 0 mm radius 13 mm left\n"));
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("line to 13, 22");
    bed_wait(b, "would move ");
    bed_type(b, "\r");
    bed_wait(b, "taken: blank.outline.3");
    go(b, "blank.outline.3", "> 3  line to");
    bed_key(b, VTERM_KEY_DEL);
    bed_wait(b, "blank.outline.3 taken out");
    ck_assert_ptr_null(strstr(dumped(job), "line to 13 mm"));
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    ck_assert_ptr_nonnull(strstr(dumped(job), "line to 13 mm, 22 mm"));
    bed_type(b, ":outline blank at 0, 0; line to 9, 9; line to 9, 0; line to 0, 8\r");
    bed_wait(b, "crosses or touches itself");
    bed_type(b, ":outline blank at 0, 0; line to 9, 9; line to 9, 0\r");
    bed_wait(b, "taken: outline of blank");
    ck_assert_ptr_nonnull(strstr(dumped(job), "    line to 9 mm, 9 mm\n    line to 9 mm, 0 mm\n"));
    leave(b);
}
END_TEST

/* ---- walking ---- */

START_TEST(the_form_follows_the_cursor_in_the_stack)
{
    ck_assert(bed_shows(b, ">upper shoe"));
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, ">punch backing");
    bed_type(b, "j");
    bed_wait(b, ">punch plate");
    bed_type(b, "k");
    bed_wait(b, ">punch backing");
    bed_wait(b, "plate 2 of 7");
    bed_type(b, "G");
    bed_wait_gone(b, ">punch backing");
    bed_type(b, "g");
    bed_wait(b, ">upper shoe");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(every_item_is_reached_by_walking_down)
{
    for (int i = 0; i < 60 && !bed_shows(b, ">die screws"); i++) {
        bed_key(b, VTERM_KEY_DOWN);
        bed_quiet(b, 20);
    }
    ck_assert_msg(bed_shows(b, ">die screws"), "%s", bed_screen(b));
    bed_type(b, "\r");
    bed_wait(b, "size");
    leave(b);
}
END_TEST

START_TEST(a_cell_of_the_matrix_is_a_group_and_its_form)
{
    bed_key(b, VTERM_KEY_RIGHT);
    bed_wait_gone(b, "plate 1 of 7");
    bed_key(b, VTERM_KEY_LEFT);
    bed_wait(b, "plate 1 of 7");
    leave(b);
}
END_TEST

/* ---- typing ---- */

START_TEST(the_outcome_is_there_before_enter_and_esc_leaves_all_as_it_was)
{
    go(b, "die_plate.thickness", "> thickness");
    char *screen = base_copy(bed_screen(b));
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_wait(b, "not yet taken");
    bed_wait(b, "would move ");
    bed_wait(b, "?"); /* what moved carries its mark */
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "left as it was");
    bed_quiet(b, 50);
    ck_assert_str_eq(bed_screen(b), screen);
    free(screen);
    leave(b);
    ck_assert_str_eq(dumped(job), before);
}
END_TEST

START_TEST(enter_takes_it_and_the_file_holds_it_undo_and_redo_say_what_they_did)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_wait(b, "not yet taken");
    bed_type(b, "\r");
    bed_wait(b, thickness("taken", "36 mm"));
    bed_wait(b, "saved");
    char *after = base_copy(dumped(job));
    ck_assert_str_ne(after, before);
    ck_assert_ptr_nonnull(strstr(after, "thickness = 36 mm"));
    bed_type(b, "u");
    bed_wait(b, "undone: ");
    ck_assert_str_eq(dumped(job), before);
    bed_control(b, 'R');
    bed_wait(b, "done again: ");
    ck_assert_str_eq(dumped(job), after);
    free(after);
    leave(b);
}
END_TEST

static const struct { const char *typed, *says;
} refused[] = {
    {"25 mm + 3 kN", "a force"},
    {"25 mm +", "A value is wanted"},
    {"no_such_name * 2", "\"no_such_name\""},
    {"stack.shut_height", "may not hang on"},
};

START_TEST(what_cannot_be_taken_is_said_in_a_sentence_and_enter_does_not_take_it)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype(refused[_i].typed);
    bed_wait(b, refused[_i].says);
    ck_assert(!bed_shows(b, "not yet taken"));
    bed_type(b, "\r");
    bed_quiet(b, 60);
    ck_assert(bed_shows(b, "Enter take"));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* A count beyond its range, and two in theirs that together are more points than a job may have. */
static const struct { const char *typed, *says; } beyond[] = {
    {":set dimples.lay.columns=1001", "the handbook allows 1 to 1000"},
    {":set dimples.lay.columns=300 dimples.lay.rows=200", "60000"},
};

START_TEST(a_count_beyond_the_limits_is_refused_while_it_is_typed)
{
    bed_type(b, beyond[_i].typed);
    bed_wait(b, beyond[_i].says);
    bed_type(b, "\r");
    bed_wait_gone(b, ":set");
    ck_assert_msg(bed_shows(b, beyond[_i].says), "%s", bed_screen(b));
    leave(b);
    ck_assert_str_eq(dumped(job), before);
}
END_TEST

START_TEST(ctrl_c_leaves_one_level_and_ends_nothing)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_wait(b, "not yet taken");
    bed_control(b, 'C');
    bed_wait(b, "left as it was");
    bed_control(b, 'C');
    bed_control(b, 'C');
    bed_quiet(b, 40);
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(all_that_would_move_can_be_read_before_it_is_taken)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("40");
    bed_wait(b, "not yet taken");
    bed_control(b, 'T');
    bed_wait(b, "not yet taken: die_plate.thickness");
    bed_wait(b, "stack.shut_height");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "Enter take");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(a_value_typed_over_its_formula_asks_why)
{
    go(b, "stack.land", "> land");
    go(b, "die_plate.length", "> length");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("260");
    bed_wait(b, "not yet taken");
    bed_type(b, "\r");
    bed_wait(b, "because:");
    bed_type(b, "from stock\r");
    bed_wait(b, "taken: die_plate.length usual -> 260 mm; "); /* what it did stands there yet */
    bed_wait(b, " because:");
    bed_wait(b, " from stock. u takes the reason back");
    const char *after = dumped(job);
    ck_assert_ptr_nonnull(strstr(after, "length = 260 mm"));
    ck_assert_ptr_nonnull(strstr(after, "reason from stock"));
    bed_wait(b, "> width"); /* Enter has gone on */
    bed_key(b, VTERM_KEY_UP);
    bed_key(b, VTERM_KEY_DEL);
    bed_wait(b, "-> usual");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(a_choice_shows_its_outcome_as_the_cursor_moves)
{
    go(b, "die_plate.hardened", "> hardened");
    bed_type(b, "\r");
    bed_wait(b, "die_plate.hardened, now yes");
    bed_key(b, VTERM_KEY_DOWN);
    bed_wait(b, "not yet taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, "\r");
    bed_wait(b, "now yes");
    bed_type(b, "n");
    bed_wait(b, "with \"n\": 1 of ");
    bed_wait(b, "not yet taken");
    bed_type(b, "z");
    bed_wait(b, "none has \"nz\"");
    bed_type(b, "\177");
    bed_wait_gone(b, "with \"n\"");
    bed_type(b, "no\r");
    bed_wait(b, "taken: die_plate.hardened");
    ck_assert_str_ne(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(pasted_text_is_data_in_a_field_and_nothing_elsewhere)
{
    bed_paste(b, "qqq");
    bed_wait(b, "pasted text is taken only where");
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    bed_control(b, 'U');
    bed_paste(b, "30 mm\n+ 6 mm");
    bed_wait(b, "30 mm + 6 mm");
    bed_wait(b, "not yet taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    leave(b);
}
END_TEST

START_TEST(a_field_survives_a_new_size)
{
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_wait(b, "not yet taken");
    bed_resize(b, 40, 130);
    bed_wait(b, "hangs on");
    bed_resize(b, 10, 40);
    bed_wait(b, "40x10");
    bed_resize(b, 24, 80);
    bed_wait(b, "not yet taken");
    bed_type(b, ".5\r");
    bed_wait(b, thickness("taken", "36.5 mm"));
    ck_assert_ptr_nonnull(strstr(dumped(job), "thickness = 36.5 mm"));
    leave(b);
}
END_TEST

/* All lists narrow alike: kinds, sizes, commands. */
START_TEST(every_list_to_choose_from_narrows_to_what_is_typed)
{
    bed_type(b, "ashoulder");
    bed_wait(b, "with \"shoulder\": 1 of ");
    bed_wait(b, ">shoulder screw");
    bed_type(b, "\r");
    bed_wait(b, "shoulder screws: head in");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "shoulder screws: head in");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "laying shoulder screws");
    go(b, "die_screws.length", "> length");
    bed_type(b, "s6");
    bed_wait(b, "with \"6\": ");
    bed_wait(b, "> 60 mm");
    bed_type(b, "9"); /* no size of 69 .. */
    bed_wait(b, "none has \"69\"");
    bed_control(b, 'U');
    bed_wait(b, "  40 mm");
    bed_type(b, "8\r");
    bed_wait(b, "because:");
    ck_assert_ptr_nonnull(strstr(dumped(job), "length = 80 mm"));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    bed_type(b, ":name"); /* what begins so, then what holds it */
    bed_wait(b, "rename  value-rename");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    leave(b);
}
END_TEST

/* ---- why, sizes, findings ---- */

START_TEST(why_unfolds_goes_there_and_comes_back)
{
    go(b, "stack.shut_height", "> shut height");
    bed_type(b, "w");
    bed_wait(b, "why  stack.shut_height");
    bed_wait(b, "it comes from");
    bed_key(b, VTERM_KEY_DOWN);
    bed_key(b, VTERM_KEY_RIGHT);
    bed_quiet(b, 40);
    bed_type(b, "\t");
    bed_wait(b, "it reaches");
    bed_type(b, "\t");
    bed_wait(b, "it comes from");
    bed_type(b, "\r");
    bed_wait_gone(b, "it comes from");
    bed_type(b, "<");
    bed_wait(b, "> shut height");
    leave(b);
}
END_TEST

START_TEST(standard_sizes_are_judged_before_one_is_taken)
{
    go(b, "posts.length", "> length");
    bed_type(b, "s");
    bed_wait(b, "sizes  posts.length");
    bed_wait(b, "spare");
    bed_key(b, VTERM_KEY_DOWN);
    bed_quiet(b, 60);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "sizes  posts.length");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(up_and_down_step_through_stock_sizes_while_typing)
{
    go(b, "posts.length", "> length");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, "not yet taken");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "left as it was");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(enter_on_a_finding_goes_to_its_cause)
{
    bed_type(b, "\t\t\t");
    bed_quiet(b, 40);
    bed_type(b, "i");
    bed_wait(b, "rule: ");
    bed_wait(b, "source: ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "stack, shut");
    bed_type(b, "\r");
    bed_wait(b, "< goes back");
    bed_type(b, "<");
    bed_quiet(b, 40);
    leave(b);
}
END_TEST

/* ---- finding things, doing things by name ---- */

START_TEST(help_lists_this_screen_first_and_runs_what_it_lists)
{
    bed_type(b, "?");
    bed_wait(b, "help: stack");
    bed_type(b, "ground");
    bed_wait(b, "new or fully ground");
    bed_type(b, "\r");
    bed_wait(b, "shut, ground");
    bed_key(b, VTERM_KEY_FUNCTION(1));
    bed_wait(b, "help: stack");
    bed_type(b, "\t");
    bed_wait(b, "help: all screens");
    bed_type(b, "\t");
    bed_wait(b, "words: here");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait(b, "shut, ground");
    leave(b);
}
END_TEST

START_TEST(words_of_other_shops_lead_to_those_of_this_one)
{
    bed_type(b, ":words\r");
    bed_wait(b, "words: here, and in other shops");
    bed_type(b, "/leader pin"); /* as another shop says */
    bed_wait(b, "> guide post");
    bed_wait(b, "leader pin, guide pin");
    bed_wait(b, "pressed into one shoe");
    bed_wait(b, "source: ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "words: here");
    bed_type(b, "/leader pin\r"); /* no item is called so */
    bed_wait(b, "> guide post");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "words: here");
    leave(b);
}
END_TEST

/* What is to be stamped stands with stack and press, a caution with springs; what the sources differ about is
   one of the words. */
START_TEST(forms_bear_the_cautions_of_what_they_show)
{
    go(b, "stack.stripping_form", "Local codes and");
    bed_wait(b, "Block the slide up");
    bed_type(b, "!");
    bed_wait(b, "cautions: what can hurt");
    bed_wait(b, "Block the slide up before hands go between the halves.");
    bed_wait(b, "This is a check, not a permit to run.");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "cautions: what can hurt");
    go(b, "press.rated", "operation before the first");
    go(b, "stripper_springs.rate", "preload throws parts. ! more");
    bed_type(b, "?sources differ");
    bed_wait(b, "work of a cut  sources differ; taken: 1/2");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "sources differ");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(search_goes_from_place_to_place)
{
    bed_type(b, "/pocket\r");
    bed_wait(b, "with \"pocket\"");
    char *first = base_copy(bed_row(b, 22));
    bed_type(b, "n");
    bed_quiet(b, 60);
    ck_assert_str_ne(bed_row(b, 22), first);
    bed_type(b, "N");
    bed_quiet(b, 60);
    ck_assert_str_eq(bed_row(b, 22), first);
    free(first);
    bed_type(b, "/zzzzzz\r");
    bed_wait(b, "no item and no value");
    leave(b);
}
END_TEST

START_TEST(a_command_shows_its_outcome_while_typed_and_completes_names)
{
    bed_type(b, ":set die_plate.thick\t");
    bed_wait(b, "die_plate.thickness");
    bed_type(b, "=36");
    bed_wait(b, "would move ");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "would move ");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, ":set die_plate.thickness=36 die_backing.thickness=12\r");
    bed_wait(b, "taken: ");
    ck_assert_ptr_nonnull(strstr(dumped(job), "thickness = 36 mm"));
    ck_assert_ptr_nonnull(strstr(dumped(job), "thickness = 12 mm"));
    bed_type(b, ":undo\r");
    bed_wait(b, "undone: ");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, ":");
    bed_key(b, VTERM_KEY_UP);
    bed_key(b, VTERM_KEY_UP);
    bed_wait(b, ":set die_plate.thickness=36 die_backing.thickness=12");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 40);
    bed_type(b, ":remov die_screws\r");
    bed_wait(b, "near it: ");
    bed_type(b, ":eval 25 mm * 4\r");
    bed_wait(b, "= 100.0 mm");
    leave(b);
}
END_TEST

START_TEST(items_are_added_copied_taken_out_and_come_back)
{
    go(b, "die_screws", ":die screws");
    bed_type(b, "y");
    bed_wait(b, "name of the item like die_screws:");
    bed_type(b, "\r");
    bed_wait(b, "taken: die_screws_2 added");
    bed_wait(b, ":die screws 2"); /* its form has the keys */
    ck_assert_ptr_nonnull(strstr(dumped(job), "screws die_screws_2"));
    bed_type(b, "D");
    bed_wait(b, "die_screws_2 taken out");
    ck_assert_str_eq(dumped(job), before);
    bed_type(b, "a");
    bed_wait(b, "add an item");
    bed_type(b, "\r");
    bed_wait(b, "name of the new");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "name of the new");
    bed_type(b, ":remove upper_shoe\r");
    bed_wait(b, "cannot be taken out");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

/* Terminals often send other bytes than their description says; none of them may be taken for Esc. */
START_TEST(a_key_that_nobody_knows_does_not_leave_what_is_typed)
{
    static const char *const strange[] = {"\033[23~", "\033[1;5Q", "\033Ow", "\033[>0n"};
    go(b, "die_plate.thickness", "thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    bed_type(b, "41");
    for (size_t i = 0; i < COUNT_OF(strange); i++) {
        bed_raw(b, strange[i], strlen(strange[i]));
        bed_wait(b, "41");
        bed_quiet(b, 40);
        ck_assert_msg(bed_shows(b, "Enter take"), "%s left the field:\n%s", strange[i] + 1, bed_screen(b));
    }
    bed_raw(b, "\033[1~", 4);
    bed_type(b, "1");
    bed_wait(b, "141");
    bed_raw(b, "\033[4~", 4);
    bed_type(b, "5");
    bed_wait(b, "1415");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "Enter take");
    ck_assert_str_eq(dumped(job), before);
    leave(b);
}
END_TEST

START_TEST(save_as_writes_a_whole_copy)
{
    char keys[600], copy[500];
    snprintf(copy, sizeof copy, "%.*s/copy", (int)(strrchr(job, '/') - job), job);
    snprintf(keys, sizeof keys, ":save-as %s\r", copy);
    bed_type(b, keys);
    bed_wait(b, "saved as");
    leave(b);
    strcat(copy, ".diejob");
    ck_assert_str_eq(dumped(copy), before);
}
END_TEST

/* ---- two people ---- */

START_TEST(who_only_looks_changes_nothing_and_sees_what_others_do)
{
    struct bed *looker = screens(job, 24, 80, NULL, "--look");
    ck_assert(bed_shows(looker, "looking"));
    bed_type(looker, "u");
    bed_wait(looker, "looking only");
    bed_type(looker, ":set die_plate.thickness=20\r");
    bed_wait(looker, "looking only");
    ck_assert_str_eq(dumped(job), before);
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_type(b, "\r");
    bed_wait(b, "taken: ");
    bed_wait(looker, thickness("meanwhile", "36 mm"));
    bed_wait(looker, "36.0");
    bed_type(looker, "R"); /* and is heard */
    bed_wait(looker, "remark on ");
    bed_type(looker, "have it in stock\r");
    bed_wait(looker, "lies beside the job");
    bed_wait(b, "taken in: have it in stock");
    leave(looker);
    leave(b);
}
END_TEST

/* The review of one who may write is no picture of what was: the lead reads it while the colleague works. */
START_TEST(what_others_did_since_the_last_visit_is_listed)
{
    char command[900], state[400];
    int status;
    leave(b);
    char *folder = realpath(fresh_folder(), NULL); /* one that is not whole is none */
    ck_assert_ptr_nonnull(folder);
    snprintf(state, sizeof state, "XDG_STATE_HOME=%s/a/b", folder); /* folders that are not there */
    free(folder);
    const char *more[] = {state, NULL};
    struct bed *first = screens(job, 24, 80, more, NULL);
    bed_type(first, ":new\r");
    bed_wait(first, "not been in this job before");
    leave(first);
    snprintf(command, sizeof command,
             "USER=mh ASAN_OPTIONS=detect_leaks=0 %s set %s die_plate.thickness=36 2>&1", program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    struct bed *again = screens(job, 24, 80, more, NULL);
    bed_wait(again, "1 edit or remark of others since you were here last, the latest by mh");
    bed_type(again, ":new\r");
    bed_wait(again, "new since you were here last");
    bed_wait(again, "die_plate.thickness 34 mm -> 36");
    bed_type(again, "\r");
    bed_wait(again, "> thickness");
    leave(again);
}
END_TEST

START_TEST(who_writes_sees_what_others_do_too)
{
    char command[900];
    int status;
    bed_type(b, "r");
    bed_wait(b, "issue: may be, with 2 cautions open on its papers");
    snprintf(command, sizeof command,
             "USER=mh ASAN_OPTIONS=detect_leaks=0 %s set %s die_plate.thickness=40 2>&1", program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    bed_wait(b, thickness("mh meanwhile", "40 mm"));
    bed_wait(b, "issue: no, 1 fault open");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "issue: no");
    leave(b);
}
END_TEST

/* There is nothing left that Enter could take it over: what was typed is told, and the line is closed. */
START_TEST(a_value_whose_item_another_renames_is_no_more_typed_in)
{
    char command[900];
    int status;
    bed_type(b, ":go-to die_dowels.diameter\r\r12");
    bed_wait(b, "-> 12");
    snprintf(command, sizeof command,
             "USER=mh ASAN_OPTIONS=detect_leaks=0 %s rename %s die_dowels low_pins 2>&1", program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    bed_type(b, "\r");
    bed_wait(b, "Your edit was not taken.");
    bed_wait(b, "It was: 12");
    bed_type(b, "r"); /* a key again, no letter */
    bed_wait(b, "not issued yet");
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, "not issued yet");
    leave(b);
}
END_TEST

/* One by mail, one at the bench. */
START_TEST(a_copy_that_was_edited_apart_is_joined_on_the_screen)
{
    char command[2200], copy[500], keys[600];
    int status;
    snprintf(copy, sizeof copy, "%.*s/mail.diejob", (int)(strrchr(job, '/') - job), job);
    snprintf(command, sizeof command,
             "cp %s %s && USER=mh ASAN_OPTIONS=detect_leaks=0 %s set %s die_plate.thickness=36 "
             "die_backing.thickness=16 2>&1",
             job, copy, program(), copy);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    bed_type(b, ":set die_plate.thickness=40\r");
    bed_wait(b, "taken: ");
    snprintf(keys, sizeof keys, ":join %s\r", copy);
    bed_type(b, keys);
    bed_wait(b, "since then 1 here, 1 there");
    bed_wait(b, "> die_plate.thickness");
    bed_wait(b, "choose");
    bed_wait(b, "both had  34 mm");
    bed_wait(b, "theirs    mh");
    bed_type(b, "t");
    bed_wait_gone(b, "choose");
    bed_wait(b, "2 of theirs");
    bed_type(b, "\r");
    bed_wait(b, "taken in of the other copy");
    leave(b);
    const char *text = dumped(job);
    ck_assert_ptr_nonnull(strstr(text, "  thickness = 16 mm"));
    ck_assert_ptr_nonnull(strstr(text, "  thickness = 36 mm"));
    ck_assert_ptr_nonnull(strstr(text, "joined joined_1"));
}
END_TEST

START_TEST(an_edit_that_came_second_is_not_taken_over_the_first)
{
    char command[900];
    int status;
    go(b, "die_plate.thickness", "> thickness");
    bed_type(b, "\r");
    bed_wait(b, "Enter take");
    retype("36");
    bed_wait(b, "not yet taken");
    snprintf(command, sizeof command, "ASAN_OPTIONS=detect_leaks=0 %s set %s die_plate.thickness=38 2>&1",
             program(), job);
    output_of(command, &status);
    ck_assert_int_eq(status, 0);
    bed_type(b, "\r");
    bed_wait(b, "38");
    bed_quiet(b, 60);
    ck_assert_ptr_nonnull(strstr(dumped(job), "thickness = 38 mm"));
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_quiet(b, 60);
    ck_assert(bed_shows(b, "38.0"));
    leave(b);
}
END_TEST

void add_stories(Suite *s)
{
    TCase *c = tcase_create("stories");
    tcase_set_timeout(c, 120);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, the_form_follows_the_cursor_in_the_stack);
    tcase_add_test(c, every_item_is_reached_by_walking_down);
    tcase_add_test(c, a_cell_of_the_matrix_is_a_group_and_its_form);
    tcase_add_test(c, the_outcome_is_there_before_enter_and_esc_leaves_all_as_it_was);
    tcase_add_test(c, enter_takes_it_and_the_file_holds_it_undo_and_redo_say_what_they_did);
    tcase_add_loop_test(c, what_cannot_be_taken_is_said_in_a_sentence_and_enter_does_not_take_it, 0,
                        (int)COUNT_OF(refused));
    tcase_add_loop_test(c, a_count_beyond_the_limits_is_refused_while_it_is_typed, 0, (int)COUNT_OF(beyond));
    tcase_add_test(c, ctrl_c_leaves_one_level_and_ends_nothing);
    tcase_add_test(c, all_that_would_move_can_be_read_before_it_is_taken);
    tcase_add_test(c, a_value_typed_over_its_formula_asks_why);
    tcase_add_test(c, a_choice_shows_its_outcome_as_the_cursor_moves);
    tcase_add_test(c, every_list_to_choose_from_narrows_to_what_is_typed);
    tcase_add_test(c, pasted_text_is_data_in_a_field_and_nothing_elsewhere);
    tcase_add_test(c, a_field_survives_a_new_size);
    tcase_add_test(c, why_unfolds_goes_there_and_comes_back);
    tcase_add_test(c, standard_sizes_are_judged_before_one_is_taken);
    tcase_add_test(c, up_and_down_step_through_stock_sizes_while_typing);
    tcase_add_test(c, enter_on_a_finding_goes_to_its_cause);
    tcase_add_test(c, help_lists_this_screen_first_and_runs_what_it_lists);
    tcase_add_test(c, words_of_other_shops_lead_to_those_of_this_one);
    tcase_add_test(c, search_goes_from_place_to_place);
    tcase_add_test(c, a_command_shows_its_outcome_while_typed_and_completes_names);
    tcase_add_test(c, an_outline_is_typed_line_by_line);
    tcase_add_test(c, items_are_added_copied_taken_out_and_come_back);
    tcase_add_test(c, a_key_that_nobody_knows_does_not_leave_what_is_typed);
    tcase_add_test(c, forms_bear_the_cautions_of_what_they_show);
    tcase_add_test(c, save_as_writes_a_whole_copy);
    tcase_add_test(c, who_only_looks_changes_nothing_and_sees_what_others_do);
    tcase_add_test(c, who_writes_sees_what_others_do_too);
    tcase_add_test(c, a_value_whose_item_another_renames_is_no_more_typed_in);
    tcase_add_test(c, what_others_did_since_the_last_visit_is_listed);
    tcase_add_test(c, an_edit_that_came_second_is_not_taken_over_the_first);
    suite_add_tcase(s, c);
    c = tcase_create("joining");
    tcase_set_timeout(c, 120);
    tcase_add_checked_fixture(c, begin, finish);
    tcase_add_test(c, a_copy_that_was_edited_apart_is_joined_on_the_screen);
    suite_add_tcase(s, c);
}
