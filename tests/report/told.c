/* Papers of the handbook: rows as a record says, and those that are shipped, of the demo job. */

#include "report.h"

#include "../view/small.h"

#include <stdlib.h>
#include <string.h>

static const char *const JOB = "tests/view/small-job.txt", *const DEMO = "data/demo/cover-plate.txt";

static struct base_text forms_of(struct dieset *d, const char *name, struct base_text *csv)
{
    struct report_paper p;
    struct base_text text = {0};
    const struct handbook *h = dieset_handbook(d);
    int paper = handbook_find_paper(h, name);
    ck_assert_int_ge(paper, 0);
    report_told(d, handbook_paper(h, paper), &p);
    report_write(&p, REPORT_TEXT, &text);
    report_write(&p, REPORT_CSV, csv);
    report_done(&p);
    return text;
}

/* The paper own_list of the small handbook: parts, a row that does not hold, rows of each plate that is
   thicker than 20 mm with its exact number, an empty column. */
START_TEST(a_paper_is_told_as_its_record_says)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct base_text csv = {0}, text = forms_of(d, "own_list", &csv);
    ck_assert_str_eq(base_text_get(&csv), "part,step,what,thick,by\r\n"
                                          "Thick ones,1,plate upper shoe,40,\r\n"
                                          "Thick ones,2,plate punch plate,32,\r\n"
                                          "Thick ones,3,plate stripper,25,\r\n"
                                          "Thick ones,4,plate die plate,40,\r\n"
                                          "Thick ones,5,plate lower shoe,63,\r\n"
                                          "Whole,6,shut height,246,\r\n");
    ck_assert_ptr_nonnull(strstr(base_text_get(&text), "Whole\n   6  shut height"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&text), "Made in mm."));
    ck_assert_ptr_null(strstr(base_text_get(&text), "never"));
    base_text_done(&csv);
    base_text_done(&text);
    dieset_free(d);
}
END_TEST

static struct handbook *shipped(void)
{
    static struct handbook *h;
    if (!h)
        ck_ok(handbook_load("data", &h, why));
    return h;
}

static const char *field(const struct csv *c, int record, const char *column)
{
    return csv_at(c, record, parsed_column(c, column));
}

/* The row whose WHAT is told as VALUE under PART. */
static const struct {
    const char *part, *what, *value;
} set[] = {
    {"The set", "The press must give", "196.1 kN, near the bottom of its stroke"},
    {"The press", "SET THE SLIDE TO this height over the bolster", "279.2 mm, new"}, /* on risers of 55 */
    {"The press", "of that: the set itself, new", "224.2 mm"},
    {"The press", "the set itself, fully ground", "216.7 mm"},
    {"The press", "Slide can still come down; go up", "29.2 mm; 25.8 mm"}, /* from 250 to 305 */
    {"The strip", "Strip guided by", "the shop's own rails on the die plate"},
    {"The strip", "Feed length, the pitch", "34.0 mm"},
    {"When it is sharpened: in this order, filled in as it is done", "3  Ground off the die plate",
     "at most 4.5 mm in all"},
    {"In this order", "1  Power off, locked out; slide blocked", ""},
};

/* Cutting 100.74, forming 7, slugs 30.22 and springs 15.12 kN when ground; masses as the demo's own sheet has
   them. */
static const char *const foot[] = {
    "\nTo be stamped: force 153.1 kN, stroke 100.0 mm, upper half 72.3 kg, set",
    "\nNot counted in these masses: Strip guides (strip); Bushing clamp (bushings);", "Riser (risers).\n",
    "29 CFR 1910.217(d)(6)", "Guard the point of operation"};

START_TEST(the_setting_sheet_tells_the_press_what_the_set_wants)
{
    struct dieset *d = small_dieset(shipped(), DEMO, NULL);
    struct base_text csv = {0}, text = forms_of(d, "setting", &csv);
    struct csv c;
    parse_csv(&c, base_text_get(&csv));
    for (size_t i = 0; i < COUNT_OF(set); i++) {
        int r = 1;
        while (r < c.records && strcmp(field(&c, r, "what"), set[i].what) != 0)
            r++;
        ck_assert_msg(r < c.records, "no row %s", set[i].what);
        ck_assert_str_eq(field(&c, r, "part"), set[i].part);
        ck_assert_str_eq(field(&c, r, "value"), set[i].value);
        ck_assert_str_eq(field(&c, r, "set"), "");
    }
    ck_assert_int_le(widest_line(base_text_get(&text)), 80);
    ck_assert_ptr_null(strstr(base_text_get(&text), "sharpening book")); /* it has no page */
    for (size_t i = 0; i < COUNT_OF(foot); i++)
        ck_assert_msg(strstr(base_text_get(&text), foot[i]), "%s", foot[i]);
    ck_assert_ptr_null(strstr(base_text_get(&text), "Die spring"));
    ck_assert_ptr_null(strstr(base_text_get(&csv), "?"));
    parsed_done(&c);
    base_text_done(&csv);
    base_text_done(&text);
    dieset_free(d);
}
END_TEST

/* The row of SHEET whose text begins with WHAT; that it is there is asserted. */
static int step_of(const struct csv *c, const char *what)
{
    int r = 1;
    while (r < c->records && !strstr(field(c, r, "what"), what))
        r++;
    ck_assert_msg(r < c->records, "no row %s", what);
    return r;
}

/* An order that hands can follow: what has a head is put in before its plate is closed, what hangs on screws
   from behind after that, and dowel bores are reamed while the plates are bare. */
START_TEST(the_assembly_goes_in_an_order_that_can_be_done)
{
    static const char *const before[][2] = {
        {"bore 8.0 mm H7 for the dowels of punch plate", "guide post"},
        {"bore 8.0 mm H7 for the dowels of die plate", "lifter 6.5 mm"},
        {"lifter 6.5 mm", "lower shoe to die plate"},
        {"2 x dowel 8.0 mm x 40.0 mm: die plate", "lower shoe to die plate"},
        {"punch of middle hole", "upper shoe to punch plate"},
        {"pilot 5.97 mm", "upper shoe to punch plate"},
        {"upper shoe to punch plate", "forming punch of legs"},
        {"forming punch of legs", "spring 32.0 mm"},
        {"spring 32.0 mm", "shoulder screw 10.0 mm"},
    };
    struct dieset *d = small_dieset(shipped(), "data/templates/bend-and-part.txt", NULL);
    struct base_text csv = {0}, text = forms_of(d, "assembly", &csv);
    struct csv c;
    parse_csv(&c, base_text_get(&csv));
    for (size_t i = 0; i < COUNT_OF(before); i++)
        ck_assert_msg(step_of(&c, before[i][0]) < step_of(&c, before[i][1]), "%s comes before %s",
                      before[i][0], before[i][1]);
    ck_assert_ptr_nonnull(strstr(base_text_get(&csv), "parted, each reamed from the face they meet on"));
    parsed_done(&c);
    base_text_done(&csv);
    base_text_done(&text);
    dieset_free(d);
}
END_TEST

/* Each group that is screwed or pinned has its row, numbered through. */
START_TEST(the_assembly_sheet_has_a_row_for_each_group)
{
    static const char *const kinds[] = {"screws", "dowels", "springs", "posts", "plate"};
    struct dieset *d = small_dieset(shipped(), DEMO, NULL);
    struct base_text csv = {0}, text = forms_of(d, "assembly", &csv);
    struct csv c;
    int groups = 0, told = 0;
    parse_csv(&c, base_text_get(&csv));
    for (int i = 0; i < dieset_item_count(d); i++)
        for (size_t k = 0; k < COUNT_OF(kinds); k++)
            groups += strcmp(handbook_kind(shipped(), dieset_item_kind(d, i))->name, kinds[k]) == 0;
    for (int r = 1; r < c.records; r++) {
        const char *what = field(&c, r, "what");
        ck_assert_int_eq(atoi(field(&c, r, "step")), r);
        told += strstr(what, " x screw ") || strstr(what, " x dowel ") || strstr(what, " x spring ") ||
                strstr(what, " x guide post ") || strstr(what, ": thickness measured");
    }
    ck_assert_int_eq(told, groups);
    ck_assert_ptr_nonnull(
        strstr(base_text_get(&csv), "each plate by itself to the places of the hole chart"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&csv), "drift hole drilled through both in one go"));
    ck_assert_ptr_null(strstr(base_text_get(&csv), "?"));
    ck_assert_int_le(widest_line(base_text_get(&text)), 80);
    parsed_done(&c);
    base_text_done(&csv);
    base_text_done(&text);
    dieset_free(d);
}
END_TEST

TCase *told_case(void)
{
    TCase *t = tcase_create("told");
    tcase_add_test(t, a_paper_is_told_as_its_record_says);
    tcase_add_test(t, the_setting_sheet_tells_the_press_what_the_set_wants);
    tcase_add_test(t, the_assembly_goes_in_an_order_that_can_be_done);
    tcase_add_test(t, the_assembly_sheet_has_a_row_for_each_group);
    return t;
}
