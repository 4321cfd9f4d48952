/* tests/tui/keys.c - the one table of keys */

#include "../common.h"
#include "parts.h"

#include "diewright/tui.h"
#include "tui/command.h"
#include "tui/keys.h"
#include "tui/open.h"
#include "tui/settings.h"
#include "diewright/terminal.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST(no_key_has_two_meanings_at_one_place)
{
    int n;
    const struct key_row *r = keys_table(&n);
    for (int a = 0; a < n; a++)
        for (int b = a + 1; b < n; b++)
            for (int i = 0; i < KEYS_EACH && r[a].keys[i]; i++)
                for (int k = 0; k < KEYS_EACH && r[b].keys[k]; k++)
                    ck_assert_msg(r[a].keys[i] != r[b].keys[k] || !(r[a].places & r[b].places),
                                  "\"%s\" and \"%s\" share a key and a place", r[a].name, r[b].name);
}
END_TEST

static bool is_an_action(const char *name)
{
    int found = 0;
    for (int i = 0; i < tui_names.n_actions; i++)
        found += strcmp(tui_names.actions[i].name, name) == 0 && tui_names.actions[i].run;
    return found == 1;
}

static bool is_a_view(const char *name)
{
    int found = 0;
    for (int i = 0; i < tui_names.n_views; i++)
        found += strcmp(tui_names.views[i].name, name) == 0 && tui_names.views[i].open;
    return found == 1;
}

START_TEST(every_row_has_a_name_of_its_own_a_help_and_something_to_run)
{
    int n, m;
    const struct key_row *r = keys_table(&n);
    const struct command *c = command_table(&m);
    for (int a = 0; a < n; a++) {
        ck_assert(r[a].name && *r[a].name && !strchr(r[a].name, ' '));
        ck_assert(r[a].help && *r[a].help);
        ck_assert_msg(is_an_action(r[a].action), "\"%s\" does \"%s\", which nobody knows", r[a].name,
                      r[a].action);
        ck_assert(r[a].places);
        for (int b = a + 1; b < n; b++)
            ck_assert_str_ne(r[a].name, r[b].name);
        for (int b = 0; b < m; b++)
            ck_assert_str_ne(r[a].name, c[b].name);
    }
}
END_TEST

START_TEST(every_command_runs_or_opens_a_view_that_there_is)
{
    int n;
    const struct command *c = command_table(&n);
    for (int i = 0; i < n; i++) {
        ck_assert_msg(!c[i].run != !c[i].opens, "\"%s\" does one thing", c[i].name);
        ck_assert_msg(!c[i].opens || is_a_view(c[i].opens), "\"%s\" opens what nobody knows", c[i].name);
    }
}
END_TEST

/* An action that no key runs is left over. */
START_TEST(every_action_hangs_on_a_key)
{
    int n;
    const struct key_row *r = keys_table(&n);
    for (int i = 0; i < tui_names.n_actions; i++) {
        bool any = false;
        for (int k = 0; k < n; k++)
            any = any || strcmp(r[k].action, tui_names.actions[i].name) == 0;
        ck_assert_msg(any, "no key runs \"%s\"", tui_names.actions[i].name);
    }
}
END_TEST

START_TEST(keys_that_many_keyboards_lack_are_never_the_only_ones)
{
    int n;
    const struct key_row *r = keys_table(&n);
    for (int a = 0; a < n; a++)
        for (int i = 0; i < KEYS_EACH && r[a].keys[i]; i++) {
            ck_assert_msg(!strchr("[]{}@\\", r[a].keys[i]) || r[a].keys[i] > 127,
                          "\"%s\" hangs on a key that needs AltGr", r[a].name);
            ck_assert_msg(r[a].keys[i] != ('S' & 31) && r[a].keys[i] != ('Q' & 31),
                          "\"%s\" hangs on a key of flow control", r[a].name);
        }
    ck_assert(!keys_find(AT_FORM, 'S' & 31));
}
END_TEST

static const struct {
    unsigned place;
    int key;
    const char *name;
} bound[] = {
    {AT_STACK, TERMINAL_UP, "up"},
    {AT_STACK, 'k', "up"},
    {AT_STACK, '\r', "enter"},
    {AT_FORM, '\r', "change"},
    {AT_REVIEW, 'n', "next-part"},
    {AT_FORM, 'n', "find-next"},
    {AT_REVIEW, 'W', "waive"},
    {AT_STACK, 'R', "remark-here"},
    {AT_FINDINGS, '\r', "cause"},
    {AT_FIELD, '\r', "take"},
    {AT_FIELD, 27, "leave"},
    {AT_FIELD, 3, "leave"},
    {AT_STACK, '\t', "next"},
    {AT_FIELD, '\t', "complete"},
    {AT_WHY, '?', "help"},
    {AT_STACK, 'L' & 31, "repaint"},
    {AT_STACK, 'u', "undo-last"},
    {AT_STACK, 'R' & 31, "redo-last"},
    {AT_SMALL, 'q', "quit"},
    {AT_FORM, 's', "sizes"},
    {AT_CHOICE, TERMINAL_DOWN, "line-down"},
    {AT_SIZES, TERMINAL_HOME, "first-line"},
    {AT_CHOICE, '?', "help"},
    {AT_FORM, KEY_CLICK, "click"},
    {AT_PLACING, KEY_CLICK, "click"},
    {AT_HELP, KEY_WHEEL_UP, "wheel-up"},
    {AT_WHY, 'C', "mouse"},
    {AT_FORM, '4', "type-here"},
    {AT_FORM, '-', "type-here"},
    {AT_FORM, '"', "type-here"},
    {AT_FORM, '.', "type-here"},
    {AT_FORM, TERMINAL_DELETE, "usual"},
    {AT_STACK, 'T', "stroke"},
    {AT_FINDING, 'a', "try"},
    {AT_PLAN, 'p', "place"},
    {AT_PLACING, 'p', "pattern"},
    {AT_STACK, 'p', "place-here"},
    {AT_FORM, 't', "turn-here"},
    {AT_FORM, 'f', "free-here"},
    {AT_PLAN, 'H', "far-left"},
    {AT_PLACING, 'H', "stride-left"},
    {AT_PLACING, '\r', "put"},
    {AT_EXACT, '\t', "next-edge"},
    {AT_EXACT, 27, "leave"},
    {AT_PLACING, 'f', "free"},
};

START_TEST(a_key_finds_its_row_by_place)
{
    const struct key_row *r = keys_find(bound[_i].place, bound[_i].key);
    ck_assert_ptr_nonnull(r);
    ck_assert_str_eq(r->name, bound[_i].name);
    ck_assert_ptr_eq(r, keys_named(bound[_i].name));
}
END_TEST

START_TEST(letters_do_nothing_of_their_own_where_something_is_typed)
{
    for (int key = ' '; key < 127; key++) {
        ck_assert_ptr_null(keys_find(AT_FIELD, key));
        ck_assert_ptr_null(keys_find(AT_EXACT, key));
        ck_assert_ptr_null(keys_find(AT_COMMAND, key));
        ck_assert_ptr_null(keys_find(AT_HELP, key));
        ck_assert(key == '?' || !keys_find(AT_PICK, key));
    }
}
END_TEST

static const struct {
    int key;
    const char *label;
} labels[] = {
    {'\r', "Enter"}, {27, "Esc"}, {'\t', "Tab"},       {'T' & 31, "Ctrl-T"}, {TERMINAL_PAGE_UP, "PgUp"},
    {'?', "?"},      {'a', "a"},  {TERMINAL_F1, "F1"},
};

/* On a value of the form they begin to type there: no view and no act may stand in their way on a
   neighbouring screen either. */
START_TEST(what_begins_a_value_is_no_command_on_the_main_screen)
{
    for (const char *c = "0123456789\"+-.("; *c; c++) {
        ck_assert(keys_begins_value(*c));
        ck_assert_str_eq(keys_find(AT_FORM, *c)->name, "type-here");
        ck_assert_ptr_null(keys_find(AT_STACK, *c));
        ck_assert_ptr_null(keys_find(AT_FINDINGS, *c));
        ck_assert_ptr_null(keys_find(AT_FINDING, *c));
    }
    for (int key = 'A'; key <= 'z'; key++)
        ck_assert(!keys_begins_value(key));
}
END_TEST

START_TEST(keys_are_called_what_stands_on_them)
{
    char buf[20];
    ck_assert_str_eq(keys_label(labels[_i].key, buf, sizeof buf), labels[_i].label);
}
END_TEST

/* What holds on all panes is not told as if it were this one's own. */
START_TEST(help_lists_no_key_of_the_whole_screen_as_one_of_a_place)
{
    int n, of[KEY_USES] = {0};
    const struct key_row *r = keys_table(&n);
    for (int i = 0; i < n; i++) {
        of[keys_use(&r[i])]++;
        ck_assert_msg((r[i].places & AT_MAIN) != AT_MAIN || keys_use(&r[i]) != KEY_HERE, "\"%s\"", r[i].name);
        ck_assert_msg(!r[i].edits || keys_use(&r[i]) == KEY_CHANGES || keys_use(&r[i]) == KEY_SHOWS ||
                          keys_use(&r[i]) == KEY_GOES,
                      "\"%s\"", r[i].name);
    }
    for (int use = 0; use < KEY_USES; use++)
        ck_assert_int_gt(of[use], 3);
}
END_TEST

START_TEST(the_manual_gets_every_key_and_every_command)
{
    struct base_text out = {0}, complaints = {0};
    int n, m, lines = 0;
    tui_keys(NULL, &out, &complaints);
    ck_assert_uint_eq(complaints.length, 0);
    keys_table(&n);
    command_table(&m);
    for (const char *p = out.data; *p; p++)
        lines += *p == '\n';
    ck_assert_int_eq(lines, n + m);
    ck_assert_ptr_nonnull(strstr(
        out.data, "u\tmain screen, why, review, finding, lists\tundo-last\ttake your last edit back\n"));
    ck_assert_ptr_nonnull(strstr(out.data, ":set NAME=FORMULA ...\t"));
    base_text_done(&out);
}
END_TEST

/* Lines of a person's own file, and what is complained of; where nothing is, WHAT has the key AT a place. */
static const struct {
    const char *lines, *complaint, *name;
    unsigned at;
    int key;
} settings[] = {
    {"keys\n  undo-last u Ctrl-U\n", "", "undo-last", AT_STACK, 'U' & 31},
    {"keys\n  undo-last Y\n  clip u\n", "", "clip", AT_STACK, 'u'}, /* the two have changed places */
    {"keys\n  undo-last u Y\n", ":2: undo-last cannot have Y: that is clip in main screen.", "clip", AT_STACK,
     'Y'},
    {"keys\n  undo-last 4\n", ":2: undo-last cannot have 4: that is ", "undo-last", AT_STACK, 'u'},
    {"keys\n  undo_last U\n", "called \"undo_last\"; near it: undo-last", "undo-last", AT_STACK, 'u'},
    {"keys\n  undo-last\n", ":2: undo-last would have no key.", "undo-last", AT_STACK, 'u'},
    {"keys\n  undo-last Ctrl-u\n", "\"Ctrl-u\" is no key", "undo-last", AT_STACK, 'u'},
    {"keys\n  undo-last F G H I J K\n", "undo-last has more than 5 keys.", "undo-last", AT_STACK, 'u'},
    {"keys\n  undo-last u\ncolours\n  fault red\n  listed 40\n  caution plain\n", "", "undo-last", AT_STACK,
     'u'},
    {"colours\n  fault crimson\n", ":2: \"crimson\" is no colour", "undo-last", AT_STACK, 'u'},
    {"colours\n  note red\n", ":2: \"note\" has no colour of its own", "undo-last", AT_STACK, 'u'},
    {"colours\n  fault 256\n", ":2: \"256\" is no colour", "undo-last", AT_STACK, 'u'},
    {"units\n  length in\n", ":1: Own settings are of keys or of colours.", "undo-last", AT_STACK, 'u'},
    {"keys\n\tundo-last u\n", ":2: There is a tab here", "undo-last", AT_STACK, 'u'},
};

START_TEST(keys_and_colours_may_be_ones_own)
{
    char *path = base_format("%s/screens.txt", fresh_folder());
    short colours[PAINT_OWN];
    struct base_text complaints = {0};
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fputs(settings[_i].lines, f);
    ck_assert_int_eq(fclose(f), 0);
    settings_read(path, colours, &complaints);
    const char *said = base_text_get(&complaints);
    ck_assert_msg(*settings[_i].complaint ? strstr(said, settings[_i].complaint) != NULL : !*said, "%s",
                  said);
    const struct key_row *r = keys_find(settings[_i].at, settings[_i].key);
    ck_assert_ptr_nonnull(r);
    ck_assert_str_eq(r->name, settings[_i].name);
    if (strstr(settings[_i].lines, "fault red")) {
        ck_assert_int_eq(colours[PAINT_OWN_FAULT], 1);
        ck_assert_int_eq(colours[PAINT_OWN_LISTED], 40);
        ck_assert_int_eq(colours[PAINT_OWN_CAUTION], PAINT_PLAIN);
    }
    settings_read(NULL, colours, &complaints);
    ck_assert_str_eq(keys_find(AT_STACK, 'u')->name, "undo-last");
    ck_assert_int_eq(colours[PAINT_OWN_FAULT], PAINT_SHIPPED);
    base_text_done(&complaints);
    free(path);
}
END_TEST

void add_keys(Suite *s)
{
    TCase *c = tcase_create("keys");
    tcase_add_test(c, no_key_has_two_meanings_at_one_place);
    tcase_add_test(c, every_row_has_a_name_of_its_own_a_help_and_something_to_run);
    tcase_add_test(c, every_command_runs_or_opens_a_view_that_there_is);
    tcase_add_test(c, every_action_hangs_on_a_key);
    tcase_add_test(c, keys_that_many_keyboards_lack_are_never_the_only_ones);
    tcase_add_loop_test(c, a_key_finds_its_row_by_place, 0, (int)COUNT_OF(bound));
    tcase_add_test(c, letters_do_nothing_of_their_own_where_something_is_typed);
    tcase_add_test(c, what_begins_a_value_is_no_command_on_the_main_screen);
    tcase_add_loop_test(c, keys_are_called_what_stands_on_them, 0, (int)COUNT_OF(labels));
    tcase_add_test(c, help_lists_no_key_of_the_whole_screen_as_one_of_a_place);
    tcase_add_loop_test(c, keys_and_colours_may_be_ones_own, 0, (int)COUNT_OF(settings));
    tcase_add_test(c, the_manual_gets_every_key_and_every_command);
    suite_add_tcase(s, c);
}
