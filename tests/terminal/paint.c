/* tests/terminal/paint.c - widths, cutting and wrapping of texts */

#include "parts.h"

#include "diewright/terminal.h"

#include <locale.h>
#include <string.h>

static void in_utf8(void)
{
    ck_assert_ptr_nonnull(setlocale(LC_CTYPE, "C.UTF-8"));
}

static const struct { const char *text; int width; } widths[] = {
    {"", 0}, {"abc", 3}, {"\xc3\xb8 12", 4}, {"\xe6\xbf\x80", 2}, {"e\xcc\x81", 1}, {"\xff\xff", 2},
};

START_TEST(a_text_is_as_wide_as_its_columns)
{
    ck_assert_int_eq(paint_width(widths[_i].text), widths[_i].width);
}
END_TEST

static const struct { const char *text; int width; size_t bytes;
} cuts[] = {
    {"abcdef", 3, 3},       {"abcdef", 9, 6},     {"abc", 0, 0}, {"\xe6\xbf\x80\xe6\xbf\x80", 3, 3},
    {"\xe6\xbf\x80", 1, 0}, {"e\xcc\x81x", 1, 3},
};

START_TEST(a_text_is_cut_by_columns_never_inside_a_character)
{
    ck_assert_uint_eq(paint_fit(cuts[_i].text, cuts[_i].width), cuts[_i].bytes);
}
END_TEST

static const struct { const char *text; int width; size_t bytes, skip;
} wraps[] = {
    {"one two three", 7, 7, 1}, {"one two three", 8, 7, 1}, {"one two three", 20, 13, 0},
    {"onetwothree", 4, 4, 0},   {"one  two", 4, 4, 1},      {"\xe6\xbf\x80", 1, 3, 0},
};

START_TEST(a_paragraph_breaks_at_blanks_where_it_can)
{
    size_t skip;
    ck_assert_uint_eq(paint_wrap(wraps[_i].text, wraps[_i].width, &skip), wraps[_i].bytes);
    ck_assert_uint_eq(skip, wraps[_i].skip);
}
END_TEST

START_TEST(wrapping_always_comes_to_an_end)
{
    const char *text = "a bb ccc \xe6\xbf\x80\xe6\xbf\x80 dddddddddddddd   e";
    for (int width = -1; width < 40; width++) {
        int lines = 0;
        for (const char *at = text; *at; lines++) {
            size_t skip, n = paint_wrap(at, width, &skip);
            ck_assert_uint_gt(n + skip, 0);
            at += n + skip;
            ck_assert_int_lt(lines, 100);
        }
    }
}
END_TEST

void add_paint(Suite *s)
{
    TCase *c = tcase_create("paint");
    tcase_add_checked_fixture(c, in_utf8, NULL);
    tcase_add_loop_test(c, a_text_is_as_wide_as_its_columns, 0, (int)COUNT_OF(widths));
    tcase_add_loop_test(c, a_text_is_cut_by_columns_never_inside_a_character, 0, (int)COUNT_OF(cuts));
    tcase_add_loop_test(c, a_paragraph_breaks_at_blanks_where_it_can, 0, (int)COUNT_OF(wraps));
    tcase_add_test(c, wrapping_always_comes_to_an_end);
    suite_add_tcase(s, c);
}
