/* Characters: UTF-8, widths, and what must not be hidden. */

#include "../common.h"
#include "characters.h"

#include <stdlib.h>
#include <string.h>

/* Well-formed and ill-formed sequences: RFC 3629, sections 3 and 4, and table 3-7 of the Unicode standard. */
static const struct { const char *bytes; size_t n; uint32_t ch;
} sequences[] = {
    {"A", 1, 'A'},
    {"\xc2\x80", 2, 0x80},
    {"\xdf\xbf", 2, 0x7ff},
    {"\xe0\xa0\x80", 3, 0x800},
    {"\xe2\x89\xa2", 3, 0x2262},
    {"\xed\x9f\xbf", 3, 0xd7ff},
    {"\xee\x80\x80", 3, 0xe000},
    {"\xf0\x90\x80\x80", 4, 0x10000},
    {"\xf4\x8f\xbf\xbf", 4, 0x10ffff},
    {"\x80", 0, 0},
    {"\xc0\x80", 0, 0},
    {"\xc1\xbf", 0, 0},
    {"\xe0\x9f\xbf", 0, 0},
    {"\xed\xa0\x80", 0, 0},
    {"\xf0\x8f\xbf\xbf", 0, 0},
    {"\xf4\x90\x80\x80", 0, 0},
    {"\xf5\x80\x80\x80", 0, 0},
    {"\xff", 0, 0},
    {"\xe2\x89", 0, 0},
    {"\xc3(", 0, 0},
    {"", 0, 0},
};

START_TEST(a_sequence_is_one_character_or_none)
{
    uint32_t ch = 0;
    ck_assert_uint_eq(base_char(sequences[_i].bytes, strlen(sequences[_i].bytes), &ch), sequences[_i].n);
    ck_assert_uint_eq(ch, sequences[_i].ch);
    if (sequences[_i].n) {
        char out[5];
        ck_assert_uint_eq(base_char_write(out, ch), sequences[_i].n);
        ck_assert_str_eq(out, sequences[_i].bytes);
        ck_assert_uint_eq(base_char_start(sequences[_i].bytes, sequences[_i].n), 0);
        ck_assert_uint_eq(base_char_fit(sequences[_i].bytes, sequences[_i].n - 1), 0);
    }
}
END_TEST

/* Columns: East Asian Width (Unicode Standard Annex 11) of those that are seen; the visible form's of those
   that are not. */
static const struct { const char *text, *visible; int columns;
} texts[] = {
    {"plain", "plain", 5},
    {"\xc3\x98 32", "\xc3\x98 32", 4},
    {"\xe6\xbc\xa2\xe5\xad\x97", "\xe6\xbc\xa2\xe5\xad\x97", 4},
    {"e\xcc\x81", "e\xcc\x81", 1},
    {"\x1b[2J", "<U+001B>[2J", 11},
    {"\x7f", "<U+007F>", 8},
    {"\xc2\x9b"
     "31m",
     "<U+009B>31m", 11},
    {"a\xe2\x80\xae"
     "b",
     "a<U+202E>b", 10},
    {"\xe2\x81\xa6", "<U+2066>", 8},
    {"\xe2\x80\x8b", "<U+200B>", 8},
    {"\xef\xbb\xbf", "<U+FEFF>", 8},
    {"\xd8\x9c", "<U+061C>", 8},
    {"\xc2\xad", "<U+00AD>", 8},
    {"\xf3\xa0\x81\x81", "<U+E0041>", 9},
    {"\xff\xfe", "<FF><FE>", 8},
    {"\xe2\x82", "<E2><82>", 8},
    {"tab\there", "tab<U+0009>here", 15},
    {"a\rb", "a<U+000D>b", 10},
};

START_TEST(what_is_hidden_is_made_visible)
{
    size_t n = strlen(texts[_i].text);
    struct base_text t = {0};
    base_text_add_visible(&t, texts[_i].text, n, true);
    ck_assert_str_eq(base_text_get(&t), texts[_i].visible);
    ck_assert_int_eq(base_columns(texts[_i].text, n), texts[_i].columns);
    ck_assert_int_eq(base_columns(base_text_get(&t), t.length), texts[_i].columns);
    ck_assert(!has_hidden(base_text_get(&t), t.length));
    for (const char *at = texts[_i].text; *at;)
        ck_assert(!base_char_hidden(base_next_char(&at)));
    base_text_done(&t);
}
END_TEST

/* Each byte at each place among eight and one either side of them. */
START_TEST(plain_bytes_are_counted_up_to_the_first_other)
{
    for (int byte = 0; byte < 256; byte++)
        for (size_t at = 0; at < 18; at++) {
            char text[18];
            memset(text, '~', sizeof text);
            text[at] = (char)byte;
            bool plain = byte >= ' ' && byte <= '~';
            ck_assert_uint_eq(base_plain(text, sizeof text), plain ? sizeof text : at);
            ck_assert_uint_eq(base_plain(text, at), at);
        }
}
END_TEST

START_TEST(ends_of_lines_stay_where_lines_are_wanted)
{
    struct base_text t = {0};
    base_text_add_visible(&t, "a\nb\r\nc\rd", 8, true);
    ck_assert_str_eq(base_text_get(&t), "a\nb\r\nc<U+000D>d");
    base_text_clear(&t);
    base_text_add_visible(&t, "a\nb\r\n", 5, false);
    ck_assert_str_eq(base_text_get(&t), "a<U+000A>b<U+000D><U+000A>");
    base_text_done(&t);
}
END_TEST

START_TEST(a_reason_is_cut_between_two_characters)
{
    struct base_diag why;
    struct base_text t = {0};
    for (int i = 0; i < 500; i++)
        base_text_add(&t, "\xe6\xbc\xa2");
    for (int from = 0; from < 4; from++) {
        char *text = base_format("%.*s%s", from, "abcd", base_text_get(&t));
        base_fail(&why, BASE_REFUSED, "%s", text);
        base_diag_mark(&why, text, 0, 1);
        ck_assert(!has_hidden(why.message, strlen(why.message)));
        ck_assert(!has_hidden(why.source, strlen(why.source)));
        ck_assert_uint_gt(strlen(why.message), 580);
        free(text);
    }
    base_text_done(&t);
}
END_TEST

TCase *character_tests(void)
{
    TCase *t = tcase_create("characters");
    tcase_add_loop_test(t, a_sequence_is_one_character_or_none, 0, COUNT_OF(sequences));
    tcase_add_loop_test(t, what_is_hidden_is_made_visible, 0, COUNT_OF(texts));
    tcase_add_test(t, plain_bytes_are_counted_up_to_the_first_other);
    tcase_add_test(t, ends_of_lines_stay_where_lines_are_wanted);
    tcase_add_test(t, a_reason_is_cut_between_two_characters);
    return t;
}
