/* Drawings: the list of marks, and what the writers make of it. */

#include "../common.h"

#include "diewright/draw.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

/* ---- words ------------------------------------------------------------------------- */

START_TEST(words_stand_by_their_anchor)
{
    struct draw_sheet s;
    draw_begin(&s, 100, 100);
    draw_words(&s, 50, 50, 2.5, DRAW_LEFT, 0, "Plate 12.5");
    draw_words(&s, 50, 40, 2.5, DRAW_MIDDLE, 0, "Plate 12.5");
    draw_words(&s, 50, 30, 2.5, DRAW_RIGHT, 0, "Plate 12.5");
    draw_words_up(&s, 20, 50, 2.5, DRAW_RIGHT, "Plate 12.5");
    double wide = draw_width("Plate 12.5", 2.5);
    ck_assert_double_gt(wide, 10);
    ck_assert_double_eq_tol(draw_width("Plate 12.5", 5), 2 * wide, 1e-9);
    struct draw_box b = draw_words_box(&s.marks.at[1]);
    ck_assert_double_eq_tol(s.marks.at[0].x, 50, 1e-9);
    ck_assert_double_eq_tol((b.left + b.right) / 2, 50, 1e-9);
    ck_assert_double_eq_tol(draw_words_box(&s.marks.at[2]).right, 50, 1e-9);
    b = draw_words_box(&s.marks.at[3]);
    ck_assert_double_eq_tol(b.back, 50, 1e-9);
    ck_assert_double_eq_tol(b.back - b.front, wide, 1e-9);
    ck_assert_double_eq_tol(b.left, 17.5, 1e-9);
    draw_done(&s);
}
END_TEST

START_TEST(words_are_squeezed_and_then_cut)
{
    struct draw_sheet s;
    const char *text = "a title that is somewhat long for its cell";
    double wide = draw_width(text, 3.5);
    draw_begin(&s, 100, 100);
    draw_words(&s, 0, 0, 3.5, DRAW_LEFT, wide * 0.8, text);
    draw_words(&s, 0, 0, 3.5, DRAW_LEFT, wide * 0.4, text);
    ck_assert_str_eq(s.marks.at[0].text, text);
    ck_assert_double_eq_tol(s.marks.at[0].squeeze, 0.8, 1e-9);
    size_t n = strlen(s.marks.at[1].text);
    ck_assert_str_eq(s.marks.at[1].text + n - 2, "..");
    ck_assert_double_ge(s.marks.at[1].squeeze, DRAW_TIGHTEST - 1e-9);
    ck_assert_double_le(draw_words_box(&s.marks.at[1]).right, wide * 0.4 + 1e-9);
    draw_done(&s);
}
END_TEST

START_TEST(every_letter_is_drawn_or_told_by_its_code)
{
    struct draw_sheet s;
    draw_begin(&s, 100, 100);
    draw_words(&s, 0, 0, 2.5, DRAW_LEFT, 0, "K\u00f6rper \u0158ez \u00d810 \u00b10.5\u00b0 \u4e2d\u202e\x9b");
    ck_assert_str_eq(s.marks.at[0].text,
                     "K\u00f6rper \u0158ez \u00d810 \u00b10.5\u00b0 <U+4E2D><U+202E><9B>");
    for (int ch = 33; ch < 127; ch++) {
        char text[2] = {(char)ch, '\0'};
        struct base_text out = {0};
        struct draw_sheet one;
        draw_begin(&one, 10, 10);
        draw_words(&one, 0, 0, 5, DRAW_LEFT, 0, text);
        ck_assert_str_eq(one.marks.at[0].text, text);
        draw_svg(&one, 1, "t", &out);
        char *want = base_format("<path id=\"l%d\" d=\"M", ch);
        ck_assert_msg(strstr(base_text_get(&out), want), "no strokes of %s", text);
        free(want);
        base_text_done(&out);
        draw_done(&one);
    }
    draw_done(&s);
}
END_TEST

START_TEST(lines_are_broken_at_blanks)
{
    const char *text = "one two three";
    ck_assert_uint_eq(draw_fit(text, 2.5, draw_width(text, 2.5)), strlen(text));
    ck_assert_uint_eq(draw_fit(text, 2.5, draw_width("one two", 2.5) + 0.1), 7);
    ck_assert_uint_eq(draw_fit(text, 2.5, 0.1), 3); /* a word at least */
}
END_TEST

/* ---- figures apart, hatches ---------------------------------------------------------------- */

/* The figures of a worked case by hand: 50.5 and 53 at a pitch of 4 move alike, to 49.75 and 53.75; three
 * alike stand round their place. */
START_TEST(figures_are_moved_apart_as_little_as_can_be)
{
    const double a[] = {20, 50.5, 53, 90}, b[] = {10, 10, 10};
    double out[4];
    draw_spread(a, 4, 4, out);
    ck_assert_double_eq_tol(out[0], 20, 1e-9);
    ck_assert_double_eq_tol(out[1], 49.75, 1e-9);
    ck_assert_double_eq_tol(out[2], 53.75, 1e-9);
    ck_assert_double_eq_tol(out[3], 90, 1e-9);
    draw_spread(b, 3, 4, out);
    ck_assert_double_eq_tol(out[0], 6, 1e-9);
    ck_assert_double_eq_tol(out[1], 10, 1e-9);
    ck_assert_double_eq_tol(out[2], 14, 1e-9);
}
END_TEST

/* All hatch lines together are the area over their pitch, but for what their ends differ by; none runs into
 * what is cut out. */
START_TEST(a_hatch_fills_what_is_left)
{
    struct draw_sheet s;
    const struct draw_box box = {10, 110, 5, 45}, out[] = {{30, 50, 5, 45}, {40, 70, 20, 30}};
    draw_begin(&s, 200, 100);
    draw_hatch(&s, &box, out, 2, 0.5);
    double length = 0, area = 100 * 40 - 20 * 40 - 20 * 10;
    for (size_t i = 0; i < s.marks.count; i++) {
        const struct draw_mark *m = &s.marks.at[i];
        double x = (m->x + m->x1) / 2, y = (m->y + m->y1) / 2;
        length += hypot(m->x1 - m->x, m->y1 - m->y);
        ck_assert_double_eq_tol(m->x1 - m->x, m->y1 - m->y, 1e-9);
        ck_assert(m->x > 10 - 1e-9 && m->x1 < 110 + 1e-9 && m->y > 5 - 1e-9 && m->y1 < 45 + 1e-9);
        ck_assert(!(x > 30 && x < 50) && !(x > 40 && x < 70 && y > 20 && y < 30));
    }
    ck_assert_double_eq_tol(length * 0.5, area, area * 0.01);
    draw_done(&s);
}
END_TEST

/* ---- writers ----------------------------------------------------------------------------------- */

static void fill(struct draw_sheet *s)
{
    draw_begin(s, 420, 297);
    draw_line(s, DRAW_WIDE, 10, 20, 110.125, 20);
    draw_circle(s, DRAW_NARROW, 50, 60, 12.5);
    draw_arc(s, DRAW_HIDDEN, 80, 60, 5, 0, -PI / 2);
    draw_blank(s, 1, 2, 3, 4);
    draw_words(s, 5, 6, 2.5, DRAW_LEFT, 0, "\u00d810 <H7> & \u010d");
    draw_words_up(s, 5, 60, 2.5, DRAW_LEFT, "12.5");
}

/* Each entry of the table of objects is where its object begins, and each stream is as long as it says. */
START_TEST(pdf_holds_together)
{
    struct draw_sheet s[2];
    struct base_text out = {0};
    fill(&s[0]);
    fill(&s[1]);
    draw_pdf(s, 2, "T\u00fcr", &out);
    const char *pdf = base_text_get(&out), *xref = strstr(pdf, "\nxref\n0 ");
    ck_assert_int_eq(strncmp(pdf, "%PDF-1.4\n", 9), 0);
    ck_assert_ptr_nonnull(xref);
    ck_assert_int_eq(strtol(strstr(pdf, "startxref\n") + 10, NULL, 10), xref + 1 - pdf);
    int n = (int)strtol(xref + 8, NULL, 10);
    const char *row = strchr(xref + 8, '\n') + 1;
    for (int i = 1; i < n; i++) {
        char head[24];
        row += 20;
        snprintf(head, sizeof head, "%d 0 obj\n", i);
        ck_assert_msg(strncmp(pdf + strtol(row, NULL, 10), head, strlen(head)) == 0, "object %d", i);
    }
    int streams = 0;
    for (const char *at = pdf; (at = strstr(at, "<</Length ")); streams++) {
        long length = strtol(at + 10, NULL, 10);
        at = strstr(at, "stream\n") + 7;
        ck_assert_int_eq(strncmp(at + length, "\nendstream\n", 11), 0);
    }
    ck_assert_int_gt(streams, 90); /* two pages, the letters, their map */
    ck_assert_ptr_nonnull(strstr(pdf, "/Count 2"));
    ck_assert_ptr_nonnull(strstr(pdf, "/MediaBox [0 0 1190.5512 841.8898]")); /* A3 */
    ck_assert_ptr_nonnull(strstr(pdf, "<FEFF005400FC0072>"));
    ck_assert_ptr_nonnull(strstr(pdf, "10 20 m\n110.125 20 l S\n"));
    ck_assert_ptr_nonnull(strstr(pdf, "62.5 60 m\n"));
    ck_assert_ptr_nonnull(strstr(pdf, "<00D8>")); /* the map knows the letters that are no ASCII */
    ck_assert_ptr_nonnull(strstr(pdf, "<010D>"));
    for (const char *at = pdf; *at; at++)
        ck_assert_msg((*at >= 32 && *at < 127) || *at == '\n', "byte %d", *at);
    struct base_text again = {0};
    draw_pdf(s, 2, "T\u00fcr", &again);
    ck_assert_str_eq(pdf, base_text_get(&again));
    base_text_done(&again);
    base_text_done(&out);
    draw_done(&s[0]);
    draw_done(&s[1]);
}
END_TEST

START_TEST(svg_has_the_marks_downwards)
{
    struct draw_sheet s;
    struct base_text out = {0};
    fill(&s);
    draw_svg(&s, 1, "A <title>", &out);
    const char *svg = base_text_get(&out);
    ck_assert_ptr_nonnull(strstr(svg, "width=\"420mm\" height=\"297mm\" viewBox=\"0 0 420 297\""));
    ck_assert_ptr_nonnull(strstr(svg, "<title>A &#60;title&#62;</title>"));
    ck_assert_ptr_nonnull(
        strstr(svg, "<line class=\"wide\" x1=\"10\" y1=\"277\" x2=\"110.125\" y2=\"277\"/>"));
    ck_assert_ptr_nonnull(strstr(svg, "<circle class=\"narrow\" cx=\"50\" cy=\"237\" r=\"12.5\"/>"));
    ck_assert_ptr_nonnull(strstr(svg, "d=\"M85 237 A5 5 0 0 1 80 242\""));
    ck_assert_ptr_nonnull(strstr(svg, ">&#216;10 &#60;H7&#62; &#38; &#269;</text>"));
    ck_assert_ptr_nonnull(strstr(svg, "rotate(-90)"));
    base_text_done(&out);
    draw_done(&s);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("draw");
    TCase *t = tcase_create("draw");
    tcase_add_test(t, words_stand_by_their_anchor);
    tcase_add_test(t, words_are_squeezed_and_then_cut);
    tcase_add_test(t, every_letter_is_drawn_or_told_by_its_code);
    tcase_add_test(t, lines_are_broken_at_blanks);
    tcase_add_test(t, figures_are_moved_apart_as_little_as_can_be);
    tcase_add_test(t, a_hatch_fills_what_is_left);
    tcase_add_test(t, pdf_holds_together);
    tcase_add_test(t, svg_has_the_marks_downwards);
    suite_add_tcase(s, t);
    return run_suite(s);
}
