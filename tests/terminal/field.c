/* tests/terminal/field.c - a line being typed, on a screen that is nowhere */

#include "parts.h"

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <locale.h>
#include <panel.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static SCREEN *screen;
static FILE *nowhere[2];

static void open_screen(void)
{
    setlocale(LC_CTYPE, "C.UTF-8");
    setenv("LINES", "24", 1);
    setenv("COLUMNS", "80", 1);
    nowhere[0] = fopen("/dev/null", "w");
    nowhere[1] = fopen("/dev/null", "r");
    screen = newterm("xterm", nowhere[0], nowhere[1]);
    ck_assert_ptr_nonnull(screen);
}

static void close_screen(void)
{
    endwin();
    delscreen(screen);
    fclose(nowhere[0]);
    fclose(nowhere[1]);
}

enum { LEFT = TERMINAL_LEFT, RIGHT = TERMINAL_RIGHT, HOME = TERMINAL_HOME, END = TERMINAL_END,
       BACK = TERMINAL_BACKSPACE, DEL = TERMINAL_DELETE };

/* In keys: characters stand for themselves, the rest by letters after "~". */
static int named_key(char c)
{
    switch (c) {
    case 'l': return LEFT;
    case 'r': return RIGHT;
    case 'h': return HOME;
    case 'e': return END;
    case 'b': return BACK;
    case 'd': return DEL;
    case 'w': return 'W' & 31;
    case 'u': return 'U' & 31;
    case 'k': return 'K' & 31;
    case 'B': return KEY_ALT + 'b';
    case 'F': return KEY_ALT + 'f';
    case 'D': return KEY_ALT + 'd';
    case 'X': return KEY_ALT + 127;
    case 'U': return KEY_ALT + 'u'; /* nothing */
    case 'o': return 0xf8; /* a letter beyond ASCII */
    default: return 0;
    }
}

static void type(struct field *f, const char *keys)
{
    for (const char *p = keys; *p; p++)
        field_key(f, *p == '~' ? named_key(*++p) : *p);
}

static const struct { const char *start, *keys, *text; int cursor; } rows[] = {
    {"", "25 mm", "25 mm", 5},
    {"32 mm", "", "32 mm", 5},
    {"32 mm", "~b~b~bx", "32x", 3},
    {"32 mm", "~h4", "432 mm", 1},
    {"32 mm", "~h~d~d25", "25 mm", 2},
    {"32 mm", "~l~l~lx", "32x mm", 3},
    {"32 mm", "~h~l~l", "32 mm", 0},
    {"32 mm", "~r~r", "32 mm", 5},
    {"a bb ccc", "~w", "a bb ", 5},
    {"a bb ccc", "~w~w", "a ", 2},
    {"a bb ccc", "~l~l~l~k", "a bb ", 5},
    {"a bb ccc", "~u", "", 0},
    {"a bb ccc", "~l~l~l~u", "ccc", 0},
    {"a bb ccc", "~B~Bx", "a xbb ccc", 3},
    {"a bb ccc", "~h~F~Fx", "a bbx ccc", 5},
    {"a bb ccc", "~h~D~D", " ccc", 0},
    {"a bb ccc", "~X", "a bb ", 5},
    {"a bb ccc", "~U", "a bb ccc", 8},
    {"", "a  b ", "a  b ", 5},
    {"", "~b~d~w~u~k", "", 0},
    {"ab", "~l~o", "a\xc3\xb8" "b", 3},
    {"a\xc3\xb8", "~b", "a", 1},
    {"a\xc3\xb8", "~l~d", "a", 1},
    /* wider than the field */
    {"if(a < 3 mm, b.c * 2, max(d, e))", "~h~e ", "if(a < 3 mm, b.c * 2, max(d, e)) ", 33},
};

START_TEST(keys_edit_the_line)
{
    struct field *f = field_new(rows[_i].start);
    field_place(f, 3, 10, 12, 1);
    type(f, rows[_i].keys);
    ck_assert_str_eq(field_text(f), rows[_i].text);
    ck_assert_int_eq(field_cursor(f), rows[_i].cursor);
    field_free(f);
}
END_TEST

/* An offered text gives way to a character or a paste; a key that goes into it keeps it. */
static const struct { const char *keys, *text;
} offers[] = {
    {"", "32 mm"},     {"4", "4"},   {"~r5", "32 mm5"},  {"~b", "32 m"},
    {"~h4", "432 mm"}, {"~u7", "7"}, {"~o", "\xc3\xb8"}, {"45", "45"},
};

START_TEST(an_offered_text_gives_way)
{
    struct field *f = field_new("32 mm");
    field_offer(f);
    if (_i % 2)
        field_place(f, 3, 10, 12, 1);
    type(f, offers[_i].keys);
    ck_assert_str_eq(field_text(f), offers[_i].text);
    field_free(f);
    f = field_new("32 mm");
    field_offer(f);
    field_paste(f, "1 in");
    ck_assert_str_eq(field_text(f), "1 in");
    field_free(f);
    f = field_new("32 mm"); /* what is not the field's to answer leaves it offered */
    field_offer(f);
    ck_assert_int_eq(field_key(f, 'L' & 31), FIELD_NOTHING);
    ck_assert(field_offered(f));
    field_free(f);
}
END_TEST

START_TEST(the_text_outlives_a_new_place_and_no_room_at_all)
{
    struct field *f = field_new("die_plate.thickness + 3 mm");
    field_place(f, 0, 0, 5, 1);
    type(f, "~l~l~l1");
    field_place(f, 10, 70, 40, 1); /* outside: not shown, but typed keys count */
    ck_assert_int_eq(field_key(f, 'x'), FIELD_CHANGED);
    type(f, "~b");
    field_place(f, 23, 0, 80, 1);
    ck_assert_str_eq(field_text(f), "die_plate.thickness + 31 mm");
    type(f, "~b");
    ck_assert_str_eq(field_text(f), "die_plate.thickness + 3 mm");
    field_free(f);
}
END_TEST

/* A level under another is not drawn: its field still lies where it lay on the larger screen. Sent so, the
   library would write beside the rows that are left. */
START_TEST(a_field_outside_of_a_smaller_screen_is_not_sent)
{
    struct field *f = field_new("32 mm");
    struct paint p = {.window = stdscr, .utf8 = true};
    field_place(f, 3, 60, 15, 1);
    field_show(f);
    ck_assert_ptr_nonnull(panel_above(NULL));
    ck_assert_int_eq(resize_term(5, 12), OK);
    paint_send(&p, 0, 0, NULL, false);
    ck_assert_ptr_null(panel_above(NULL));
    ck_assert_int_eq(resize_term(24, 80), OK); /* as wide as before, but what the library cut stays cut */
    field_place(f, 3, 60, 15, 1);
    paint_send(&p, 0, 0, f, false);
    const WINDOW *shown = panel_window(panel_above(NULL));
    ck_assert_int_eq(getmaxx(shown), 15);
    ck_assert_int_eq(getbegx(shown), 60);
    ck_assert_str_eq(field_text(f), "32 mm");
    field_free(f);
}
END_TEST

/* As wide as the screen, the library widens the form's window with it; the form's buffer stays as it was, and
   what it reads and writes then lies beside it. */
START_TEST(a_field_on_a_wider_screen_is_built_anew)
{
    struct field *f = field_new("32 mm");
    ck_assert_int_eq(resize_term(10, 6), OK);
    field_key(f, '1'); /* before the first picture: as wide as the screen */
    ck_assert_int_eq(resize_term(40, 200), OK);
    ck_assert_int_eq(field_column(f, 0), -1);
    field_key(f, '2');
    const WINDOW *shown = panel_window(panel_above(NULL));
    ck_assert_int_eq(getmaxx(shown), 20);
    type(f, " + die_plate.thickness");
    ck_assert_str_eq(field_text(f), "32 mm12 + die_plate.thickness");
    field_free(f);
}
END_TEST

/* The library tells a wide character as one cell: what is behind it stands further right than counted. */
START_TEST(a_blank_between_alike_letters_looks_like_them_behind_wide_ones_too)
{
    struct paint p = {.window = stdscr, .utf8 = true, .dim = true};
    struct area row = {0, 0, 1, 12};
    erase();
    paint_text(&p, row, 0, 0, INK_DIM, "\xe6\xbf\x80\xe6\xbf\x80");
    paint_text(&p, row, 0, 5, INK_DIM, "x");
    paint_text(&p, row, 0, 7, INK_STRONG, "y");
    paint_blanks(&p);
    static const attr_t want[] = {A_DIM, A_DIM, A_DIM, A_DIM, A_DIM, A_DIM, A_NORMAL, A_BOLD, A_NORMAL};
    for (int x = 0; x < (int)COUNT_OF(want); x++) {
        cchar_t cell;
        wchar_t text[CCHARW_MAX + 1] = {0};
        attr_t attributes;
        short pair;
        ck_assert_int_eq(mvwin_wch(stdscr, 0, x, &cell), OK);
        ck_assert_int_eq(getcchar(&cell, text, &attributes, &pair, NULL), OK);
        ck_assert_msg(attributes == want[x], "column %d: %lx", x, (unsigned long)attributes);
    }
}
END_TEST

START_TEST(keys_typed_before_the_first_picture_are_not_lost)
{
    struct field *f = field_new("3");
    type(f, "2 mm~h1");
    ck_assert_str_eq(field_text(f), "132 mm");
    field_place(f, 2, 2, 20, 1);
    ck_assert_str_eq(field_text(f), "132 mm");
    ck_assert_int_eq(field_cursor(f), 1);
    field_free(f);
}
END_TEST

START_TEST(a_key_says_whether_it_changed_anything)
{
    struct field *f = field_new("ab");
    field_place(f, 0, 0, 10, 1);
    ck_assert_int_eq(field_key(f, RIGHT), FIELD_NOTHING);
    ck_assert_int_eq(field_key(f, LEFT), FIELD_MOVED);
    ck_assert_int_eq(field_key(f, 'x'), FIELD_CHANGED);
    ck_assert_int_eq(field_key(f, 27), FIELD_NOTHING);
    ck_assert_int_eq(field_key(f, TERMINAL_UP), FIELD_NOTHING);
    ck_assert_str_eq(field_text(f), "axb");
    field_free(f);
}
END_TEST

START_TEST(a_paste_goes_in_at_the_cursor_and_never_over_the_limit)
{
    struct field *f = field_new("()");
    field_place(f, 0, 0, 10, 1);
    type(f, "~l");
    ck_assert_int_eq(field_paste(f, "1 + 2"), FIELD_CHANGED);
    ck_assert_str_eq(field_text(f), "(1 + 2)");
    char *long_text = base_alloc(3000);
    memset(long_text, 'x', 2999);
    ck_assert_int_eq(field_paste(f, long_text), FIELD_NOTHING); /* half of it would be another value */
    ck_assert_str_eq(field_text(f), "(1 + 2)");
    for (int i = 0; i < 20; i++)
        field_key(f, 'y');
    ck_assert_uint_le(strlen(field_text(f)), FIELD_MOST);
    free(long_text);
    field_free(f);
}
END_TEST

START_TEST(a_place_in_the_text_has_a_column_on_the_screen)
{
    struct field *f = field_new("25 mm + 3 kN");
    field_place(f, 4, 20, 30, 1);
    ck_assert_int_eq(field_column(f, 0), 20);
    ck_assert_int_eq(field_column(f, 8), 28);
    ck_assert_int_eq(field_column(f, 99), -1);
    field_place(f, 4, 20, 6, 1);
    ck_assert_int_eq(field_column(f, 0), -1); /* scrolled out */
    field_free(f);
}
END_TEST

void add_field(Suite *s)
{
    TCase *c = tcase_create("field");
    tcase_add_checked_fixture(c, open_screen, close_screen);
    tcase_add_loop_test(c, keys_edit_the_line, 0, (int)COUNT_OF(rows));
    tcase_add_test(c, a_field_outside_of_a_smaller_screen_is_not_sent);
    tcase_add_test(c, a_field_on_a_wider_screen_is_built_anew);
    tcase_add_test(c, a_blank_between_alike_letters_looks_like_them_behind_wide_ones_too);
    tcase_add_loop_test(c, an_offered_text_gives_way, 0, (int)COUNT_OF(offers));
    tcase_add_test(c, the_text_outlives_a_new_place_and_no_room_at_all);
    tcase_add_test(c, keys_typed_before_the_first_picture_are_not_lost);
    tcase_add_test(c, a_key_says_whether_it_changed_anything);
    tcase_add_test(c, a_paste_goes_in_at_the_cursor_and_never_over_the_limit);
    tcase_add_test(c, a_place_in_the_text_has_a_column_on_the_screen);
    suite_add_tcase(s, c);
}
