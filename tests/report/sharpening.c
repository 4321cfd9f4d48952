/* The sharpening card of the demo job, by hand: 222 high, regrind 4 off either edge; two pages take 0.25 and
 * 0.2 off the punches, 0.15 and 0.2 off the die plate, and put 0.45 behind the punches. */

#include "report.h"

#include <math.h>
#include <stdlib.h>

#include "../view/small.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void write_card(const char *job, const struct small_edit *edits, struct base_text forms[3])
{
    static struct handbook *h;
    struct report_paper p;
    if (!h)
        ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, job, edits);
    report_told(d, handbook_paper(h, handbook_find_paper(h, "sharpening")), &p);
    for (int f = 0; f < 3; f++)
        report_write(&p, (enum report_format)f, &forms[f]);
    report_done(&p);
    dieset_free(d);
}

static void forms_done(struct base_text forms[3])
{
    for (int f = 0; f < 3; f++)
        base_text_done(&forms[f]);
}

static const char DEMO[] = "data/demo/cover-plate.txt";

#define PAGES                                                                                               \
    {"first", "", "sharpening"}, {"first", "note", "Burr after a double hit."},                             \
        {"first", "date", "\"2026-02-03\""}, {"first", "strokes", "41000"},                                 \
        {"first", "off_punches", "0.25 mm"}, {"first", "off_die", "0.15 mm"}, {"second", "", "sharpening"}, \
        {"second", "date", "\"2026-03-20\""}, {"second", "strokes", "38000"},                               \
        {"second", "off_punches", "0.2 mm"},                                                                \
    {                                                                                                       \
        "second", "under_punches", "0.45 mm"                                                                \
    }

/* Texts as they are, numbers by their value. */
static void is_the_same(const char *got, const char *wanted)
{
    char *end;
    double number = strtod(wanted, &end);
    if (*wanted && !*end)
        ck_assert_msg(fabs(strtod(got, NULL) - number) < 1e-9, "'%s' is not %s", got, wanted);
    else
        ck_assert_str_eq(got, wanted);
}

START_TEST(each_page_has_its_row_and_the_end_tells_how_the_set_stands)
{
    static const struct { const char *column, *first, *second;
    } wanted[] = {
        {"page", "first", "second"},
        {"date", "2026-02-03", "2026-03-20"},
        {"strokes", "41000", "38000"},
        {"off_punches", "0.25", "0.2"},
        {"under_punches", "0", "0.45"},
        {"punches_left", "2.75", "2.55"},
        {"off_die", "0.15", "0.2"},
        {"under_die", "0", "0"},
        {"die_left", "4.35", "4.15"},
        {"shut_height", "223.8", "223.85"},
        {"note", "Burr after a double hit.", ""},
    };
    static const struct small_edit pages[] = {PAGES, {"second", "off_die", "0.2 mm"}, {NULL, NULL, NULL}};
    struct base_text forms[3] = {{0}};
    struct csv csv;
    write_card(DEMO, pages, forms);
    parse_csv(&csv, base_text_get(&forms[REPORT_CSV]));
    json_check(base_text_get(&forms[REPORT_JSON]));
    ck_assert_int_eq(csv.records, 3);
    for (size_t i = 0; i < COUNT_OF(wanted); i++) {
        is_the_same(csv_at(&csv, 1, parsed_column(&csv, wanted[i].column)), wanted[i].first);
        is_the_same(csv_at(&csv, 2, parsed_column(&csv, wanted[i].column)), wanted[i].second);
    }
    const char *text = base_text_get(&forms[REPORT_TEXT]);
    ck_assert_int_le(widest_line(text), 80);
    ck_assert_ptr_nonnull(strstr(text, "\n    Burr after a double hit.\n"));
    ck_assert_ptr_nonnull(
        strstr(text, "Off the punches 0.45 mm in all, 2.55 mm left; off the die plate 0.35 mm, 4.15"));
    ck_assert_ptr_nonnull(strstr(text, "Strokes counted 79000, 39500 to a grind."));
    ck_assert_ptr_nonnull(strstr(text, "Lock the press out"));
    ck_assert_ptr_nonnull(strstr(text, "a check, not a permit to run"));
    parsed_done(&csv);
    forms_done(forms);
}
END_TEST

START_TEST(a_book_without_a_page_says_so)
{
    struct base_text forms[3] = {{0}};
    write_card(DEMO, NULL, forms);
    ck_assert_ptr_nonnull(
        strstr(base_text_get(&forms[REPORT_TEXT]),
               "New: shut height 224.2 mm; 3.0 mm may be ground off the punches, 4.5 mm off"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&forms[REPORT_TEXT]), "no page yet"));
    ck_assert_ptr_null(strstr(base_text_get(&forms[REPORT_TEXT]), "Now:"));
    /* lines to write the next grinds in; what hurts at the bench and not what hurts at the press */
    ck_assert_ptr_nonnull(
        strstr(base_text_get(&forms[REPORT_TEXT]), "\nOn ________, ________ strokes: punches - ____ +"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&forms[REPORT_TEXT]), "A spring under preload throws parts."));
    ck_assert_ptr_null(strstr(base_text_get(&forms[REPORT_TEXT]), "Keep fingers off the risers"));
    forms_done(forms);
}
END_TEST

/* What cannot be worked out is no number in data and says why on paper; the rest of the card stands. */
START_TEST(a_value_that_is_not_known_leaves_its_cell_open)
{
    static const struct small_edit broken[] = {PAGES, {"second", "off_die", "1 mm / 0"}, {NULL, NULL, NULL}};
    struct base_text forms[3] = {{0}};
    struct csv csv;
    write_card(DEMO, broken, forms);
    parse_csv(&csv, base_text_get(&forms[REPORT_CSV]));
    ck_assert_str_eq(csv_at(&csv, 1, parsed_column(&csv, "die_left")), "4.35");
    ck_assert_str_eq(csv_at(&csv, 2, parsed_column(&csv, "die_left")), "");
    ck_assert_str_eq(csv_at(&csv, 2, parsed_column(&csv, "punches_left")), "2.55");
    ck_assert_ptr_nonnull(strstr(base_text_get(&forms[REPORT_TEXT]), "      ?  0.0     ?"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&forms[REPORT_TEXT]), "Now: shut height ?"));
    parsed_done(&csv);
    forms_done(forms);
}
END_TEST

TCase *sharpening_case(void)
{
    TCase *t = tcase_create("sharpening");
    tcase_add_test(t, each_page_has_its_row_and_the_end_tells_how_the_set_stands);
    tcase_add_test(t, a_book_without_a_page_says_so);
    tcase_add_test(t, a_value_that_is_not_known_leaves_its_cell_open);
    return t;
}
