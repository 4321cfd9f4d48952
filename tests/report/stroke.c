/* The stroke sheet: rows that are whole in data, one line a value in the text form. Figures by hand from the
 * demo job: lead 0.5, strip 1.5, entry 1, lifters 6, pilots 3 ahead: pilots 11.5, stripper 9, punches 2.5,
 * cut through 1.9. */

#include "report.h"

#include "../view/small.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct handbook *shipped(void)
{
    static struct handbook *h;
    if (!h)
        ck_ok(handbook_load("data", &h, why));
    return h;
}

struct sheet { struct dieset *d; char *text; struct csv csv; };

static void open_sheet(struct sheet *s, const char *job, const struct small_edit *edits)
{
    struct report_paper p;
    struct base_text forms[3] = {{0}};
    s->d = small_dieset(shipped(), job, edits);
    report_stroke(s->d, &p);
    for (int f = 0; f < 3; f++)
        report_write(&p, (enum report_format)f, &forms[f]);
    parse_csv(&s->csv, base_text_get(&forms[REPORT_CSV]));
    json_check(base_text_get(&forms[REPORT_JSON]));
    s->text = base_text_take(&forms[REPORT_TEXT]);
    base_text_done(&forms[REPORT_CSV]);
    base_text_done(&forms[REPORT_JSON]);
    report_done(&p);
}

static void close_sheet(struct sheet *s)
{
    parsed_done(&s->csv);
    free(s->text);
    dieset_free(s->d);
}

static void fits_the_paper(const char *text)
{
    for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
        ck_assert_msg(strcspn(line, "\n") <= 80, "too wide: %.100s", line);
}

static const char DEMO[] = "data/demo/cover-plate.txt";

static const char *cell(const struct sheet *s, int record, const char *column)
{
    return csv_at(&s->csv, record, parsed_column(&s->csv, column));
}

/* The record of EVENT in STATE. */
static int event_at(const struct sheet *s, const char *state, const char *event)
{
    for (int r = 1; r < s->csv.records; r++)
        if (strcmp(cell(s, r, "state"), state) == 0 && strcmp(cell(s, r, "event"), event) == 0)
            return r;
    return -1;
}

/* What stands for WHAT of ITEM at the next rows of values behind record R. */
static double value_behind(const struct sheet *s, int r, const char *item, const char *what)
{
    while (*cell(s, r, "event"))
        r++;
    for (; r < s->csv.records && !*cell(s, r, "event"); r++)
        if (strcmp(cell(s, r, "item"), item) == 0 && strcmp(cell(s, r, "what"), what) == 0)
            return strtod(cell(s, r, "value"), NULL);
    ck_abort_msg("no %s of %s there", what, item);
    return 0;
}

static const struct { const char *state, *event; double height;
} happened[] = {
    {"new", "top of the stroke", 100},
    {"new", "pilots meet the strip", 11.5},
    {"new", "stripper meets the strip", 9.6},
    {"new", "punches meet the strip", 2},
    {"new", "cut through", 1.52},
    {"new", "shut", 0},
    {"ground", "pilots meet the strip", 14.5},
    {"ground", "stripper meets the strip", 12.6},
    {"ground", "punches meet the strip", 2},
    {"ground", "shut", 0},
};

START_TEST(each_event_stands_at_its_height)
{
    struct sheet s;
    open_sheet(&s, DEMO, NULL);
    int r = event_at(&s, happened[_i].state, happened[_i].event);
    ck_assert_int_gt(r, 0);
    ck_assert_double_eq_tol(strtod(cell(&s, r, "height"), NULL), happened[_i].height, 1e-9);
    ck_assert_str_eq(cell(&s, r, "what"), "");
    ck_assert_str_eq(cell(&s, r, "value"), "");
    close_sheet(&s);
}
END_TEST

/* Springs: preload 14.4 and travel 2.6, ground 5.6. */
START_TEST(values_stand_behind_their_event)
{
    struct sheet s;
    open_sheet(&s, DEMO, NULL);
    ck_assert_double_eq_tol(
        value_behind(&s, event_at(&s, "new", "shut"), "stripper_springs", "pressed together"), 17.0, 1e-9);
    ck_assert_double_eq_tol(
        value_behind(&s, event_at(&s, "ground", "shut"), "stripper_springs", "pressed together"), 20.0, 1e-9);
    ck_assert_double_eq_tol(value_behind(&s, event_at(&s, "new", "cut through"), "stripper_springs",
                                         "pressed together"),
                            15.48, 1e-9);
    double open = value_behind(&s, event_at(&s, "new", "shut"), "stack", "between the shoes");
    ck_assert_double_eq_tol(value_behind(&s, event_at(&s, "new", "pilots meet the strip"), "stack",
                                         "between the shoes"),
                            open + 11.5, 1e-9);
    ck_assert_double_eq_tol(value_behind(&s, event_at(&s, "ground", "shut"), "stack", "between the shoes"),
                            open - 7.5, 1e-9);
    close_sheet(&s);
}
END_TEST

START_TEST(rows_come_down_and_no_value_is_told_twice)
{
    struct sheet s;
    open_sheet(&s, DEMO, NULL);
    ck_assert_int_gt(s.csv.records, 60);
    for (int r = 1; r < s.csv.records; r++) {
        if (r > 1 && strcmp(cell(&s, r, "state"), cell(&s, r - 1, "state")) == 0)
            ck_assert_double_le(strtod(cell(&s, r, "height"), NULL), strtod(cell(&s, r - 1, "height"), NULL));
        for (int k = 1; k < r; k++) {
            bool same = true;
            for (int c = 0; c < 5; c++)
                same = same && strcmp(csv_at(&s.csv, r, c), csv_at(&s.csv, k, c)) == 0;
            ck_assert_msg(!same, "record %d tells what %d told", r, k);
        }
    }
    close_sheet(&s);
}
END_TEST

/* Pilots 0.6 ahead meet the strip with the stripper: both are told, then how things stand, once. */
START_TEST(events_at_one_height_share_their_values)
{
    static const struct small_edit level[] = {{"pilots", "ahead", "0.6 mm"}, {NULL, NULL, NULL}};
    struct sheet s;
    open_sheet(&s, DEMO, level);
    int stripper = event_at(&s, "new", "stripper meets the strip"),
        pilots = event_at(&s, "new", "pilots meet the strip");
    ck_assert_int_eq(pilots, stripper + 1);
    ck_assert_str_eq(cell(&s, pilots, "height"), cell(&s, stripper, "height"));
    ck_assert_ptr_nonnull(strstr(s.text, "  9.6                stripper meets the strip\n                    "
                                         "                pilots meet the strip\n"));
    close_sheet(&s);
}
END_TEST

START_TEST(the_text_form_tells_a_height_once)
{
    struct sheet s;
    open_sheet(&s, DEMO, NULL);
    fits_the_paper(s.text);
    ck_assert_ptr_nonnull(strstr(s.text, "\nnew            100.0                top of the stroke\n"));
    ck_assert_ptr_nonnull(strstr(s.text, "\nground         100.0                top of the stroke\n"));
    ck_assert_ptr_nonnull(strstr(s.text, "\n                 9.6                stripper meets the strip\n   "
                                         "                    132.8    mm    between the shoes\n"));
    ck_assert_ptr_nonnull(strstr(s.text, "  mm    in the bushings (posts)\n"));
    ck_assert_ptr_nonnull(
        strstr(s.text, "What can hurt is told on: setting sheet, assembly sheet, sharpening card."));
    ck_assert_ptr_nonnull(strstr(s.text, "a check, not a permit to run"));
    ck_assert_ptr_null(strstr(s.text, "cannot be worked out"));
    close_sheet(&s);
}
END_TEST

START_TEST(long_titles_stay_on_the_paper)
{
    static const struct small_edit titled[] = {
        {"posts", "title",
         "the four guide posts of the lower shoe that came from the old set of the other press"},
        {"stripper_springs", "title",
         "springs, springs, springs, springs, springs, springs, springs, springs, springs"},
        {NULL, NULL, NULL}};
    struct sheet s;
    open_sheet(&s, DEMO, titled);
    fits_the_paper(s.text);
    ck_assert_ptr_nonnull(strstr(s.text, "the four guide posts"));
    close_sheet(&s);
}
END_TEST

/* The inch demo: the same sheet in inches, its heights as in millimetres. */
START_TEST(an_inch_job_has_an_inch_sheet)
{
    static const struct small_edit metric[] = {{"job", "unit", "\"mm\""}, {NULL, NULL, NULL}};
    struct sheet inch, mm;
    open_sheet(&inch, "data/demo/spacer-plate.txt", NULL);
    open_sheet(&mm, "data/demo/spacer-plate.txt", metric);
    ck_assert_int_eq(inch.csv.records, mm.csv.records);
    for (int r = 1; r < mm.csv.records; r++) {
        ck_assert_double_eq_tol(strtod(cell(&inch, r, "height"), NULL) * 25.4,
                                strtod(cell(&mm, r, "height"), NULL), 2e-3);
        if (strcmp(cell(&mm, r, "unit"), "mm") == 0) {
            ck_assert_str_eq(cell(&inch, r, "unit"), "in");
            ck_assert_double_eq_tol(strtod(cell(&inch, r, "value"), NULL) * 25.4,
                                    strtod(cell(&mm, r, "value"), NULL), 2e-3);
        }
    }
    ck_assert_ptr_nonnull(strstr(inch.text, "in above shut"));
    ck_assert_ptr_nonnull(strstr(mm.text, "mm above shut"));
    close_sheet(&inch);
    close_sheet(&mm);
}
END_TEST

START_TEST(a_press_that_is_not_known_leaves_out_its_force)
{
    static const struct small_edit unknown[] = {{"press", "size", "\"none of these\""},
                                                {"press", "stroke", "100 mm / 0"},
                                                {NULL, NULL, NULL}};
    struct sheet s;
    open_sheet(&s, DEMO, unknown);
    ck_assert_int_lt(event_at(&s, "new", "top of the stroke"), 0);
    ck_assert_int_gt(event_at(&s, "new", "posts enter their bushings"), 0);
    ck_assert_ptr_null(strstr(s.text, "press may give"));
    ck_assert_ptr_null(strstr(s.text, "cannot be worked out"));
    for (int r = 1; r < s.csv.records; r++)
        ck_assert(*cell(&s, r, "height") && (*cell(&s, r, "event") || *cell(&s, r, "value")));
    close_sheet(&s);
}
END_TEST

/* A height that hangs on an error is told last and named; the rest of the sheet stands. */
START_TEST(a_height_that_cannot_be_worked_out_is_told)
{
    static const struct small_edit broken[] = {{"posts", "length", "100 mm / 0"}, {NULL, NULL, NULL}};
    struct sheet s;
    open_sheet(&s, DEMO, broken);
    int r = event_at(&s, "new", "posts enter their bushings");
    ck_assert_int_gt(r, event_at(&s, "new", "shut"));
    ck_assert_str_eq(cell(&s, r, "height"), "");
    ck_assert_ptr_nonnull(
        strstr(s.text, "New: posts enter their bushings, at a height that cannot be worked out."));
    ck_assert_ptr_nonnull(strstr(s.text, formula_error_text(FORMULA_DIVISION)));
    ck_assert_double_eq_tol(
        value_behind(&s, event_at(&s, "new", "shut"), "stripper_springs", "pressed together"), 17.0, 1e-9);
    close_sheet(&s);
}
END_TEST

TCase *stroke_case(void)
{
    TCase *t = tcase_create("stroke");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, each_event_stands_at_its_height, 0, COUNT_OF(happened));
    tcase_add_test(t, values_stand_behind_their_event);
    tcase_add_test(t, rows_come_down_and_no_value_is_told_twice);
    tcase_add_test(t, events_at_one_height_share_their_values);
    tcase_add_test(t, the_text_form_tells_a_height_once);
    tcase_add_test(t, long_titles_stay_on_the_paper);
    tcase_add_test(t, an_inch_job_has_an_inch_sheet);
    tcase_add_test(t, a_press_that_is_not_known_leaves_out_its_force);
    tcase_add_test(t, a_height_that_cannot_be_worked_out_is_told);
    return t;
}
