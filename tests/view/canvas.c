/* Cells, characters and scale steps. */

#include "view.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct { const char *text, *shown; } texts[] = {
    {"die plate", "die plate"},
    {"\xc3\x98 32", "\xc3\x98 32"},                 /* two bytes, one cell */
    {"\xe2\x96\x91\xe2\x94\x82", "\xe2\x96\x91\xe2\x94\x82"},
    {"a\tb\x1b[2Jc", "a?b?[2Jc"},                    /* nothing steers the terminal */
    {"x\xc2\x9by", "x?y"},
    {"n\xcc\x83o", "no"},                            /* a combining mark takes no cell */
    {"\xe6\x9d\xbf t", "? t"},                       /* a wide letter would shift all behind it */
    {"a\xff\xc3" "b", "a??b"},                       /* bytes that are no text */
    {"\xc0\xaf", "??"},                              /* too long a form of "/" */
    {"\xf0\x9f\x98\x80.", "?."},
    {"0123456789012345678901234567890123456789x", "0123456789012345678901234567890123456789"}, /* 40 wide */
};

START_TEST(a_text_takes_a_cell_a_character)
{
    struct view_canvas c;
    view_canvas_init(&c, 40, 1);
    view_text(&c, 0, 0, texts[_i].text, VIEW_PLAIN);
    struct base_text out = {0};
    view_print(&c, &out);
    ck_assert_uint_eq(out.data[out.length - 1], '\n');
    out.data[--out.length] = '\0';
    ck_assert_str_eq(base_text_get(&out), texts[_i].shown);
    base_text_done(&out);
    view_canvas_done(&c);
}
END_TEST

START_TEST(nothing_is_put_outside)
{
    for (int w = -1; w < 4; w++) {
        for (int h = -1; h < 4; h++) {
            struct view_canvas c;
            view_canvas_init(&c, w, h);
            for (int y = -3; y < 7; y++)
                for (int x = -3; x < 7; x++)
                    view_put(&c, x, y, '#', VIEW_METAL);
            view_text(&c, -2, 0, "over both ends", VIEW_NAME);
            struct base_text out = {0};
            view_print(&c, &out);
            int lines = 0;
            for (size_t i = 0; i < out.length; i++)
                lines += out.data[i] == '\n';
            ck_assert_int_eq(lines, h < 0 || w < 1 ? 0 : h);
            base_text_done(&out);
            view_canvas_done(&c);
        }
    }
}
END_TEST

START_TEST(blanks_at_the_ends_are_cut)
{
    struct view_canvas c;
    view_canvas_init(&c, 10, 3);
    view_text(&c, 1, 1, "ab  ", VIEW_PLAIN);
    struct base_text out = {0};
    view_print(&c, &out);
    ck_assert_str_eq(out.data, "\n ab\n");
    base_text_done(&out);
    view_canvas_done(&c);
}
END_TEST

static const double steps[] = {0.8, 1,  1.25, 2,  2.5, 4,  5,   8,   10,  12.5,
                               16,  20, 25,   40, 50,  80, 100, 125, 160, 200};

START_TEST(steps_follow_each_other)
{
    if (_i > 0)
        ck_assert_double_eq_tol(view_scale_next(steps[_i], -1, 1), steps[_i - 1], 1e-9);
    if (_i + 1 < (int)COUNT_OF(steps)) {
        ck_assert_double_eq_tol(view_scale_next(steps[_i], 1, 1), steps[_i + 1], 1e-9);
        double between = (steps[_i] + steps[_i + 1]) / 2;
        ck_assert_double_eq_tol(view_scale_next(between, 1, 1), steps[_i + 1], 1e-9);
        ck_assert_double_eq_tol(view_scale_next(between, -1, 1), steps[_i], 1e-9);
    }
}
END_TEST

/* Where lengths are in inches the same steps count in 1/25 in, and are told so. */
START_TEST(inches_have_steps_of_their_own)
{
    char text[40];
    double unit = view_scale_unit(UNIT_INCH);
    ck_assert_double_eq_tol(view_scale_next(25.4, -1, unit), 0.8 * 25.4, 1e-9);
    ck_assert_double_eq_tol(view_scale_next(12.7, 1, unit), 0.64 * 25.4, 1e-9);
    ck_assert_str_eq(view_scale_text(25.4, UNIT_INCH, text, sizeof text), "1 in");
    ck_assert_str_eq(view_scale_text(view_scale_next(5 * unit, -1, unit), UNIT_INCH, text, sizeof text),
                     "0.16 in");
    ck_assert_str_eq(view_scale_text(12.5, UNIT_METRIC, text, sizeof text), "12.5 mm");
}
END_TEST

START_TEST(steps_have_ends)
{
    double fine = 1, coarse = 1;
    for (int i = 0; i < 200; i++) {
        fine = view_scale_next(fine, -1, 1);
        coarse = view_scale_next(coarse, 1, 1);
    }
    ck_assert(fine > 0 && fine < 0.1);
    ck_assert(isfinite(coarse) && coarse > 1e5);
}
END_TEST

TCase *canvas_case(void)
{
    TCase *t = tcase_create("canvas");
    tcase_add_loop_test(t, a_text_takes_a_cell_a_character, 0, (int)COUNT_OF(texts));
    tcase_add_test(t, nothing_is_put_outside);
    tcase_add_test(t, blanks_at_the_ends_are_cut);
    tcase_add_loop_test(t, steps_follow_each_other, 0, (int)COUNT_OF(steps));
    tcase_add_test(t, inches_have_steps_of_their_own);
    tcase_add_test(t, steps_have_ends);
    return t;
}
