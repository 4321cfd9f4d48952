/* tests/tui/narrow.c - lists that narrow to what is typed */

#include "parts.h"

#include "tui/narrow.h"

#include <stdlib.h>
#include <string.h>

static const char *const kinds[] = {"dowels",      "screws",   "shoulder screws", "springs",
                                    "guide posts", "Bushings", "\xc3\xb8 rings"};

/* Beside the first stands "for plates, screwed on". */
static enum fit fit(const void *whose, int i, const char *text)
{
    enum fit f = narrow_fit(((const char *const *)whose)[i], text);
    return f || i || !strstr("for plates, screwed on", text) ? f : FIT_BESIDE;
}

/* TYPED: "<" is Backspace, "#" clears all. LEFT: the numbers of the entries; the cursor began on AT. */
static const struct { int at; const char *typed, *text, *left; int cursor; } cases[] = {
    {0, "", "", "0123456", 0},
    {0, "s", "s", "0123456", 1},           /* all hold it; the cursor goes to the first that begins with it */
    {2, "s", "s", "0123456", 2},           /* ... and stays where that one begins so */
    {3, "scr", "scr", "12", 1},
    {0, "screws", "screws", "12", 1},
    {0, "SPR", "SPR", "3", 3},
    {0, "bu", "bu", "5", 5},
    {0, "posts", "posts", "4", 4},
    {5, "ring", "ring", "36", 3},          /* neither begins so: the first */
    {6, "ring", "ring", "36", 6},          /* ... or where the cursor was */
    {0, "xscrzew", "screw", "12", 1},      /* what would leave none is not taken */
    {3, "plate", "plate", "0", 0},         /* beside a label, where no label has it */
    {0, "screwe", "screwe", "0", 0},
    {0, "screw", "screw", "12", 1},
    {0, "scr<<", "s", "0123456", 1},
    {0, "scr<<<<", "", "0123456", 1},
    {0, "spr#", "", "0123456", 3},
    {0, "\xc3\xb8", "\xc3\xb8", "6", 6},
    {0, "\xc3\xb8 r<<<", "", "0123456", 6}, /* a letter of two bytes goes as one */
    {0, " er s", "er s", "2", 2},          /* blanks within, none before */
};

static void press(struct tui *t, struct narrow *n, int key)
{
    struct terminal_event e = {.what = TERMINAL_KEY, .key = key};
    ck_assert(narrow_event(t, n, &e, fit, kinds));
}

static void type(struct tui *t, struct narrow *n, const char *typed)
{
    for (const char *p = typed; *p; p++)
        if ((unsigned char)*p == 0xc3) /* of two-byte letters these alone */
            press(t, n, 0xc0 | (*++p & 0x3f));
        else
            press(t, n, *p == '<' ? TERMINAL_BACKSPACE : *p == '#' ? 'U' & 31 : *p);
}

START_TEST(what_is_typed_leaves_what_holds_it)
{
    struct tui t = {0};
    struct narrow n;
    char left[20] = "";
    narrow_init(&n, COUNT_OF(kinds), cases[_i].at);
    type(&t, &n, cases[_i].typed);
    for (int i = 0; i < n.list.n; i++)
        left[i] = (char)('0' + n.shown[i]);
    ck_assert_str_eq(n.text, cases[_i].text);
    ck_assert_str_eq(left, cases[_i].left);
    ck_assert_int_eq(narrow_at(&n), cases[_i].cursor);
    narrow_done(&n);
    base_text_done(&t.message.text);
}
END_TEST

START_TEST(a_paste_narrows_as_far_as_it_leaves_any_and_other_keys_go_on)
{
    struct tui t = {0};
    struct narrow n;
    struct terminal_event paste = {.what = TERMINAL_PASTE, .text = "screwdriver"};
    static const int others[] = {'\r', 27, '\t', '?', TERMINAL_DOWN, TERMINAL_HOME, 'L' & 31};
    narrow_init(&n, COUNT_OF(kinds), 0);
    ck_assert(narrow_event(&t, &n, &paste, fit, kinds));
    ck_assert_str_eq(n.text, "screw");
    for (size_t i = 0; i < COUNT_OF(others); i++) {
        struct terminal_event e = {.what = TERMINAL_KEY, .key = others[i]};
        ck_assert_msg(!narrow_event(&t, &n, &e, fit, kinds), "key %d", others[i]);
    }
    ck_assert_str_eq(n.text, "screw");
    type(&t, &n, "z");
    ck_assert_ptr_nonnull(strstr(base_text_get(&t.message.text), "none has \"screwz\""));
    narrow_done(&n);
    base_text_done(&t.message.text);
}
END_TEST

START_TEST(a_text_longer_than_there_is_room_for_ends_in_a_whole_letter)
{
    struct tui t = {0};
    struct narrow n;
    char *label = base_alloc(401);
    for (int i = 0; i < 200; i++)
        memcpy(label + 2 * i, "\xc3\xb8", 2);
    const char *const own[] = {label};
    struct terminal_event paste = {.what = TERMINAL_PASTE, .text = label};
    narrow_init(&n, 1, 0);
    ck_assert(narrow_event(&t, &n, &paste, fit, own));
    ck_assert_uint_eq(strlen(n.text), sizeof n.text - 2); /* an odd number of bytes is free */
    ck_assert_int_eq(n.list.n, 1);
    narrow_done(&n);
    free(label);
}
END_TEST

void add_narrow(Suite *s)
{
    TCase *c = tcase_create("narrow");
    tcase_add_loop_test(c, what_is_typed_leaves_what_holds_it, 0, (int)COUNT_OF(cases));
    tcase_add_test(c, a_paste_narrows_as_far_as_it_leaves_any_and_other_keys_go_on);
    tcase_add_test(c, a_text_longer_than_there_is_room_for_ends_in_a_whole_letter);
    suite_add_tcase(s, c);
}
