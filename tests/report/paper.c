/* One paper, three forms. */

#include "report.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct report_column columns[] = {
    {"name", "name", false}, {"value", "value", true}, {"unit", "unit", false}, {"note", "note", false},
};

/* Texts that are hard on a writer; each must come back from CSV byte by byte. */
static const char *const hard[] = {
    "plain",      "a,b",          "she said \"no\"", "\"",           "\"\"",        ",",
    "two\nlines", "two\r\nlines", " blank before",   "blank after ", "\xc3\x98 32", "back\\slash",
    "[1,2]",      "null",         "1/2 in",          "-8.0",         "+5",          "-1.5e3",
};

/* Texts that a spreadsheet would run, or that hide something: told in a form that does neither. */
static const struct { const char *text, *in_csv;
} disarmed[] = {
    {"=1+1", "'=1+1"},
    {"+A1", "'+A1"},
    {"-2 mm", "'-2 mm"},
    {"-", "'-"},
    {"@SUM(A1)", "'@SUM(A1)"},
    {"-inf", "'-inf"},
    {"-0x1p3", "'-0x1p3"},
    {"\t=1", "'<U+0009>=1"},
    {"\r=1", "'<U+000D>=1"},
    {"x\x01y", "x<U+0001>y"},
    {"\x7f", "<U+007F>"},
    {"a\xe2\x80\xae"
     "b",
     "a<U+202E>b"},
    {"tab\there", "tab<U+0009>here"},
    {"\xff", "<FF>"},
    {"a\rb", "a<U+000D>b"},
};

static char *written(const struct report_paper *p, enum report_format f)
{
    struct base_text out = {0};
    report_write(p, f, &out);
    return base_text_take(&out);
}

static void one_row(struct report_paper *p, const char *name, double value, const char *note)
{
    report_text(p, name);
    report_number(p, value, 1);
    report_text(p, "mm");
    report_text(p, note);
}

/* To a thousandth or as far as the text goes; what is smaller is not lost. */
START_TEST(data_is_no_finer_than_a_shop_can_measure)
{
    static const struct { double is; int decimals; const char *told; } figures[] = {
        {5.05067567732, 1, "5.051"}, {5.05067567732, 4, "5.0507"}, {94.3333333333, 3, "94.333"},
        {1 / 3.0, -1, "0.333333333333"}, {0.00012345, 1, "0.00012345"}, {-0.0004, 0, "-0.0004"}, {2, 0, "2"}};
    for (size_t i = 0; i < COUNT_OF(figures); i++) {
        struct report_paper p;
        struct csv c;
        report_begin(&p, columns, COUNT_OF(columns));
        report_text(&p, "a");
        report_number(&p, figures[i].is, figures[i].decimals);
        report_text(&p, "mm");
        report_text(&p, "");
        char *text = written(&p, REPORT_CSV);
        parse_csv(&c, text);
        ck_assert_str_eq(csv_at(&c, 1, 1), figures[i].told);
        parsed_done(&c);
        free(text);
        report_done(&p);
    }
}
END_TEST

START_TEST(csv_comes_back_as_it_was)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    p.exact = true;
    one_row(&p, hard[_i], 1.0 / 3, hard[_i]);
    char *text = written(&p, REPORT_CSV);
    struct csv c;
    parse_csv(&c, text);
    ck_assert_int_eq(c.records, 2);
    ck_assert_str_eq(csv_at(&c, 0, parsed_column(&c, "unit")), "unit");
    ck_assert_str_eq(csv_at(&c, 1, 0), hard[_i]);
    ck_assert_str_eq(csv_at(&c, 1, 3), hard[_i]);
    ck_assert_double_eq_tol(strtod(csv_at(&c, 1, 1), NULL), 1.0 / 3, 1e-12);
    parsed_done(&c);
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(csv_runs_nothing_and_hides_nothing)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    one_row(&p, disarmed[_i].text, -8, disarmed[_i].text);
    char *text = written(&p, REPORT_CSV);
    struct csv c;
    parse_csv(&c, text);
    ck_assert_str_eq(csv_at(&c, 1, 0), disarmed[_i].in_csv);
    ck_assert_str_eq(csv_at(&c, 1, 1), "-8"); /* a number stays one */
    ck_assert_str_eq(csv_at(&c, 1, 3), disarmed[_i].in_csv);
    parsed_done(&c);
    free(text);
    text = written(&p, REPORT_JSON);
    json_check(text);
    for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n')
        ck_assert(!has_hidden(at, strcspn(at, "\n")));
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(json_holds_for_hard_texts)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    one_row(&p, hard[_i], -0.0, hard[_i]);
    one_row(&p, "bytes \xff\xc3(\xed\xa0\x80", 12.5, NULL);
    char *text = written(&p, REPORT_JSON);
    json_check(text);
    ck_assert_ptr_nonnull(strstr(text, "\"value\": 0,"));
    ck_assert_ptr_nonnull(strstr(text, "\"value\": 12.5,"));
    ck_assert_ptr_nonnull(strstr(text, "\"note\": null"));
    ck_assert_ptr_nonnull(strstr(text, "bytes \\ufffd"));
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(nothing_steers_the_terminal)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    report_line_above(&p, "%s", "\x1b[2J head");
    one_row(&p, "a\x1b]0;x\x07", 1, "b\xc2\x9b" "31m\rc");
    char *text = written(&p, REPORT_TEXT);
    for (const char *t = text; *t; t++)
        ck_assert_msg((unsigned char)*t >= 0x20 || *t == '\n', "byte %d", *t);
    ck_assert_ptr_null(strstr(text, "\xc2\x9b"));
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(numbers_stand_on_the_point)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    static const struct {
        double value;
        int decimals;
    } rows[] = {{40, 1}, {246, 1}, {12.25, 2}, {-0.04, 1}, {6, 0}};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        report_text(&p, "r");
        report_number(&p, rows[i].value, rows[i].decimals);
        report_text(&p, "mm");
        report_text(&p, NULL);
    }
    char *text = written(&p, REPORT_TEXT);
    ck_assert_str_eq(text, "name   value  unit  note\n"
                           "r      40.0   mm\n"
                           "r     246.0   mm\n"
                           "r      12.25  mm\n"
                           "r       0.0   mm\n"
                           "r       6     mm\n");
    free(text);
    report_done(&p);
}
END_TEST

int widest_line(const char *text)
{
    int most = 0, at = 0;
    for (; *text; text++) {
        at = *text == '\n' ? 0 : at + (((unsigned char)*text & 0xc0) != 0x80);
        most = at > most ? at : most;
    }
    return most;
}

static const char *const longs[] = {
    "The set stands 238.0 mm high after the last regrind; the press closes no lower than 240.0 mm on the "
    "bolster, that is 2.0 mm too low.",
    "if(moves = \"with the bed\", under, if(moves = \"stripper\", stack.strip_top + under, stack.die_face + "
    "stack.gap + under))",
    "averylongwordwithoutanyblankthatgoesonandonandonandonandonandonandonandonandonandonandonandonandonandon",
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4"
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4"
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4"
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4"
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4"
    "\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4",
};

/* All of NEEDLE's letters in order in TEXT, whatever blanks and line ends stand between. */
static bool all_there(const char *text, const char *needle)
{
    for (; *needle; needle++) {
        if (*needle == ' ')
            continue;
        text = strchr(text, *needle);
        if (!text)
            return false;
        text++;
    }
    return true;
}

START_TEST(long_texts_are_wrapped_whole)
{
    for (int fold = 0; fold < 2; fold++) {
        struct report_paper p;
        report_begin(&p, columns, COUNT_OF(columns));
        if (fold)
            report_fold(&p, 3);
        one_row(&p, "die_plate.thickness", 32, longs[_i]);
        char *text = written(&p, REPORT_TEXT);
        ck_assert_int_le(widest_line(text), 80);
        const char *row = strchr(text, '\n') + 1;
        ck_assert_msg(all_there(row, longs[_i]), "%s", text);
        if (fold)
            ck_assert_int_eq(strncmp(strchr(row, '\n') + 1, "    note", 8), 0);
        free(text);
        report_done(&p);
    }
}
END_TEST

/* Three columns that are too wide together: the widest give way, no name is broken, nothing is lost. */
START_TEST(wide_columns_give_way)
{
    static const struct report_column wide[] = {
        {"item", "item", false}, {"words", "words", false}, {"more", "more", false}, {"x", "x", true}};
    static const char *const texts[] = {
        "a_name_that_must_stay_in_one_piece", "some words that may be broken at any blank between them",
        "other words, as many as it takes to get over eighty cells of a line"};
    struct report_paper p;
    report_begin(&p, wide, COUNT_OF(wide));
    for (int row = 0; row < 2; row++) {
        for (size_t i = 0; i < COUNT_OF(texts); i++)
            report_text(&p, row ? "short" : texts[i]);
        report_number(&p, 12.5, 1);
    }
    char *text = written(&p, REPORT_TEXT);
    ck_assert_int_le(widest_line(text), 80);
    ck_assert_ptr_nonnull(strstr(text, texts[0]));
    /* cells of several lines stand beside one another: both have their last words in the row above "short" */
    char *end = strstr(text, "\nshort");
    ck_assert_ptr_nonnull(end);
    *end = '\0';
    static const char *const words[] = {"broken", "between", "them", "eighty", "cells", "line", "12.5"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        ck_assert_msg(strstr(text, words[i]) != NULL, "%s is lost in\n%s", words[i], text);
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(a_column_may_be_cut_to_one_line)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    report_cut(&p);
    one_row(&p, "die_plate.thickness", 32, longs[_i]);
    char *text = written(&p, REPORT_TEXT);
    ck_assert_int_le(widest_line(text), 80);
    size_t n = strlen(text);
    ck_assert_str_eq(text + n - 4, " ..\n");
    ck_assert_ptr_eq(strchr(strchr(text, '\n') + 1, '\n'), text + n - 1); /* heading and one line */
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(lines_within_stand_before_their_rows)
{
    struct report_paper p;
    static const struct report_column one[] = {{"x", "x", false}};
    report_begin(&p, one, COUNT_OF(one));
    report_line_within(&p, "first %s", "plate");
    report_text(&p, "a");
    report_text(&p, "b");
    report_line_within(&p, "second");
    report_text(&p, "c");
    char *text = written(&p, REPORT_TEXT), *csv = written(&p, REPORT_CSV);
    ck_assert_str_eq(text, "x\nfirst plate\na\nb\n\nsecond\nc\n");
    ck_assert_str_eq(csv, "x\r\na\r\nb\r\nc\r\n");
    free(text);
    free(csv);
    report_done(&p);
}
END_TEST

START_TEST(decimals_of_the_text_form)
{
    struct report_paper p;
    static const struct report_column one[] = {{"x", "x", true}};
    report_begin(&p, one, COUNT_OF(one));
    report_number(&p, 1.0 / 8, -1);
    report_number(&p, 1.0 / 8, 2);
    char *text = written(&p, REPORT_TEXT);
    ck_assert_str_eq(text, "    x\n0.125\n0.12\n");
    free(text);
    report_done(&p);
}
END_TEST

START_TEST(columns_for_one_form_only)
{
    static const struct report_column mixed[] = {{"exact", NULL, true},
                                                 {NULL, "shown", true},
                                                 {"unit", "unit", false}};
    struct report_paper p;
    report_begin(&p, mixed, COUNT_OF(mixed));
    report_number(&p, NAN, 1);
    report_text(&p, "no row fits");
    report_text(&p, "mm");
    char *text = written(&p, REPORT_TEXT), *csv = written(&p, REPORT_CSV), *json = written(&p, REPORT_JSON);
    ck_assert_str_eq(text, "      shown  unit\nno row fits  mm\n");
    ck_assert_str_eq(csv, "exact,unit\r\n,mm\r\n");
    ck_assert_str_eq(json, "[\n {\"exact\": null, \"unit\": \"mm\"}\n]\n");
    free(text);
    free(csv);
    free(json);
    report_done(&p);
}
END_TEST

START_TEST(an_empty_paper_is_whole)
{
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    report_line_above(&p, "%d findings", 0);
    char *text = written(&p, REPORT_TEXT), *csv = written(&p, REPORT_CSV), *json = written(&p, REPORT_JSON);
    ck_assert_str_eq(text, "0 findings\n");
    ck_assert_str_eq(csv, "name,value,unit,note\r\n");
    json_check(json);
    free(text);
    free(csv);
    free(json);
    report_done(&p);
}
END_TEST

static const struct { const char *name; bool known; enum report_format format;
} formats[] = {
    {"text", true, REPORT_TEXT}, {"csv", true, REPORT_CSV}, {"json", true, REPORT_JSON}, {"", false, 0},
    {"CSV", false, 0},           {"xml", false, 0},
};

START_TEST(formats_by_name)
{
    enum report_format f;
    ck_assert_int_eq(report_format_named(formats[_i].name, &f), formats[_i].known);
    if (formats[_i].known)
        ck_assert_int_eq(f, formats[_i].format);
}
END_TEST

/* The judge itself must be able to say no. */
static const struct { const char *text; bool good;
} json[] = {
    {"[]", true},
    {"[1, -2.5e3, \"a\\u00e4\"]", true},
    {"{\"a\": null}", true},
    {"[1,]", false},
    {"[01]", false},
    {"{a: 1}", false},
    {"[\"\n\"]", false},
    {"[\"\\x\"]", false},
    {"[nan]", false},
    {"[1.]", false},
    {"[-]", false},
    {"", false},
};

START_TEST(judge_of_json_can_say_no)
{
    size_t n = json_value_length(json[_i].text);
    ck_assert_int_eq(n > 0 && json[_i].text[n] == '\0', json[_i].good);
}
END_TEST

/* Of a page of eight lines five are text: neither a row nor a heading and its row are parted. */
START_TEST(pages_end_between_rows)
{
    struct report_paper p;
    struct base_text out = {0};
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; i < 4; i++) {
        if (i == 2)
            report_line_within(&p, "Heading");
        report_text(&p, i == 3 ? "two\nlines" : "row");
        report_number(&p, i, 0);
        report_text(&p, "mm");
        report_text(&p, NULL);
    }
    report_paged(&p, "paper", 8, &out);
    ck_assert_str_eq(base_text_get(&out), "paper, page 1 of 2\n\nname              value  unit  note\n"
                                          "row                   0  mm\nrow                   1  mm\n"
                                          "\fpaper, page 2 of 2\n\nHeading\nrow                   2  mm\n"
                                          "two                   3  mm\nlines\n");
    base_text_done(&out);
    report_done(&p);
}
END_TEST

TCase *paper_case(void)
{
    TCase *t = tcase_create("paper");
    tcase_add_test(t, pages_end_between_rows);
    tcase_add_test(t, data_is_no_finer_than_a_shop_can_measure);
    tcase_add_loop_test(t, csv_comes_back_as_it_was, 0, (int)COUNT_OF(hard));
    tcase_add_loop_test(t, csv_runs_nothing_and_hides_nothing, 0, (int)COUNT_OF(disarmed));
    tcase_add_loop_test(t, json_holds_for_hard_texts, 0, (int)COUNT_OF(hard));
    tcase_add_test(t, nothing_steers_the_terminal);
    tcase_add_test(t, numbers_stand_on_the_point);
    tcase_add_loop_test(t, long_texts_are_wrapped_whole, 0, (int)COUNT_OF(longs));
    tcase_add_test(t, wide_columns_give_way);
    tcase_add_loop_test(t, a_column_may_be_cut_to_one_line, 0, (int)COUNT_OF(longs));
    tcase_add_test(t, lines_within_stand_before_their_rows);
    tcase_add_test(t, decimals_of_the_text_form);
    tcase_add_test(t, columns_for_one_form_only);
    tcase_add_test(t, an_empty_paper_is_whole);
    tcase_add_loop_test(t, formats_by_name, 0, (int)COUNT_OF(formats));
    tcase_add_loop_test(t, judge_of_json_can_say_no, 0, (int)COUNT_OF(json));
    return t;
}
