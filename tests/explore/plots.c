/* The plot: read back letter by letter. */

#include "explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;
static void open_cover(void) { bench_open(&bench, "data/demo/cover-plate.txt"); }
static void close_bench(void) { bench_close(&bench); }

static const struct { const char *path, *from, *to, *step, *show; } plots[] = {
    {"die_plate.thickness", "20", "50", "1", "stack.height_on_bolster"},
    {"die_backing.thickness", "6", "20", "0.01", "posts.end_room"},   /* many points in one column */
    {"risers.height", "60", "60", "1", "stack.height_on_bolster"},    /* one point */
    {"risers.height", "0", "160", "80", "stack.shut_height"},         /* a value that stands still */
    {"dimples.lay.columns", "0", "6", "0.5", "stack.shut_height"},
    {"stripper_springs.rate", "20", "400", "10", "stack.need"},
    {"strip.thickness", "0.1", "8", "0.1", "strip.clearance"},
    {"posts.length", "160", "315", "5", "posts.end_room"},
    {"press.stroke", "-40", "160", "10", ""},
};

static const int widths[] = {20, 60, 80, 81, 132, 200};

static void holds_lines(const char *text, int width, const char *path)
{
    for (const char *line = text; *line;) {
        size_t n = strcspn(line, "\n");
        ck_assert_msg(line[n] == '\n', "%s: the last line does not end", path);
        ck_assert_msg((int)n <= width, "%s: a line of %zu in %d columns: %.*s", path, n, width, (int)n, line);
        ck_assert_msg(!n || line[n - 1] != ' ', "%s: '%.*s' ends in a blank", path, (int)n, line);
        for (size_t i = 0; i < n; i++)
            ck_assert_msg(line[i] >= ' ' && line[i] <= '~', "%s: not ASCII: %.*s", path, (int)n, line);
        line += n + 1;
    }
}

START_TEST(any_plot_keeps_to_its_width_in_ascii)
{
    struct explore *x = bench_run(&bench, plots[_i].path, plots[_i].from, plots[_i].to, plots[_i].step,
                                  plots[_i].show);
    for (size_t w = 0; w < COUNT_OF(widths); w++)
        for (int height = 1; height <= 30; height += 7) {
            struct base_text t = {0};
            explore_plot(x, x->n_shown - 1, widths[w], height, &t);
            holds_lines(base_text_get(&t), widths[w] < 60 ? 60 : widths[w], plots[_i].path);
            base_text_done(&t);
        }
    explore_free(x);
}
END_TEST

START_TEST(names_in_any_writing_take_one_column_a_letter)
{
    const struct typed_change change = {TYPED_ENTRY, "posts", "title", NULL, "S\xc3\xa4ulen \xe6\x9f\xb1"};
    ck_ok(dieset_try(bench.d, &change, 1, why));
    dieset_keep(bench.d);
    struct explore *x = bench_run(&bench, "die_backing.thickness", "6", "20", "0.5", "posts.end_room");
    struct base_text t = {0};
    explore_plot(x, 0, 80, 8, &t);
    holds_lines(base_text_get(&t), 80, "posts");
    ck_assert_ptr_nonnull(strstr(base_text_get(&t), "fault: S?ulen ?, ground"));
    base_text_done(&t);
    explore_free(x);
}
END_TEST

/* New 224.2 mm and the risers, ground 7.5 mm less: at risers of 30 mm 254.2 and 246.7, the nearest rows are
   260 and 240. */
START_TEST(the_plot_of_a_riser_is_drawn_as_worked_out_by_hand)
{
    static const char wanted[] =
        "risers.height  20 .. 100 by 10 mm\n"
        "stack.height_on_bolster, mm: * new  o ground  @ both\n"
        "  320 |                                   *    @\n"
        "  300 |-------------------------*----@----o-----  press at most 305.0\n"
        "  280 |               *    @    o\n"
        "  260 |-----*----@----o-------------------------  press at least 250.0\n"
        "  240 |@    o\n"
        "   mm  20   30   40   50   60   70   80   90   100\n"
        "press  X    X    .    .    .    .    .    X    X  fault\n"
        "guess  .    X    X    .    .    X    X    .    .  note: press and 1 more, new\n"
        "  all  .    .    .    .    .    .    .    .    .  # nothing above note\n"
        "                         ^                        now 55.0 mm\n";
    struct explore *x = bench_run(&bench, "risers.height", "20", "100", "10", "stack.height_on_bolster");
    struct base_text t = {0};
    explore_plot(x, 0, 80, 7, &t);
    ck_assert_msg(strncmp(base_text_get(&t), wanted, strlen(wanted)) == 0, "wanted\n%sdrawn\n%s", wanted,
                  base_text_get(&t));
    base_text_done(&t);
    explore_free(x);
}
END_TEST

/* The line that begins with LABEL, from the column of the first point on. */
static const char *row_of(const char *text, const char *label, char *buf, size_t size)
{
    for (const char *line = text; *line; line += strcspn(line, "\n") + (line[strcspn(line, "\n")] == '\n')) {
        const char *at = line + strspn(line, " ");
        size_t n = strlen(label);
        if (strncmp(at, label, n) == 0 && at[n] == ' ') {
            snprintf(buf, size, "%.*s", (int)strcspn(at + n + 2, "\n"), at + n + 2);
            return buf;
        }
    }
    return NULL;
}

START_TEST(letters_tell_at_which_points_a_rule_fails)
{
    struct explore *x = bench_run(&bench, "die_plate.thickness", "20", "50", "1", "stack.height_on_bolster");
    struct base_text t = {0};
    char row[200];
    int bands = 0;
    explore_plot(x, 0, 80, 8, &t);
    for (size_t i = 0; i < x->findings.count; i++) {
        const struct explore_finding *f = &x->findings.at[i];
        int same = 0;
        for (size_t k = 0; k < x->findings.count; k++)
            same += strcmp(x->findings.at[k].title, f->title) == 0;
        if (same > 1 || f->count == x->n)
            continue;
        ck_assert_msg(row_of(base_text_get(&t), f->title, row, sizeof row), "no band %s", f->title);
        for (int p = 0; p < x->n; p++)
            ck_assert_msg(row[p] == (f->grades[p] >= 0 ? 'X' : '.'), "%s at %s: '%c'", f->key, x->text[p],
                          row[p]);
        bands++;
    }
    ck_assert_int_ge(bands, 4);
    ck_assert_ptr_nonnull(row_of(base_text_get(&t), "all", row, sizeof row));
    for (int p = 0; p < x->n; p++)
        ck_assert_int_eq(row[p], explore_clear(x, p) ? '#' : '.');
    ck_assert_ptr_nonnull(row_of(base_text_get(&t), "listed", row, sizeof row));
    for (int i = 0; i < x->n_stock; i++)
        if (x->stock[i] >= 20 && x->stock[i] <= 50)
            ck_assert_int_eq(row[lround(x->stock[i]) - 20], 'x');
    base_text_done(&t);
    explore_free(x);
}
END_TEST

START_TEST(a_column_of_several_points_says_when_they_differ)
{
    struct explore *x = bench_run(&bench, "risers.height", "0", "160", "0.1", "stack.height_on_bolster");
    struct base_text t = {0};
    char row[200];
    explore_plot(x, 0, 80, 8, &t);
    ck_assert_ptr_nonnull(row_of(base_text_get(&t), "press", row, sizeof row));
    ck_assert_int_eq(row[0], 'X');
    ck_assert_ptr_nonnull(strstr(row, "Xx..."));  /* from 250 mm on */
    ck_assert_ptr_nonnull(strstr(row, "..xXX"));  /* until 305 mm */
    base_text_done(&t);
    explore_free(x);
}
END_TEST

START_TEST(a_point_that_is_not_taken_is_a_question_mark)
{
    struct explore *x = bench_run(&bench, "dimples.lay.columns", "0", "6", "0.5", "stack.shut_height");
    struct base_text t = {0};
    explore_plot(x, 0, 80, 8, &t);
    ck_assert_msg(strstr(base_text_get(&t), "Not taken at 7 of 13 points; at 0: "), "%s",
                  base_text_get(&t));
    base_text_done(&t);
    explore_free(x);
}
END_TEST

START_TEST(two_points_stand_side_by_side)
{
    struct explore *x = bench_run(&bench, "risers.height", "60", "100", "40",
                                  "stack.height_on_bolster stack.shut_height");
    struct base_text t = {0};
    explore_beside(x, 0, 1, 72, &t);
    static const char *const wanted[] = {
        "60 mm",    "100 mm",   "stack.height_on_bolster, new", "284.2 mm", "324.2 mm",
        "276.7 mm", "316.7 mm", "100 mm: fault press\n"};
    for (size_t i = 0; i < COUNT_OF(wanted); i++)
        ck_assert_msg(strstr(base_text_get(&t), wanted[i]), "'%s' is missing in\n%s", wanted[i],
                      base_text_get(&t));
    ck_assert_ptr_null(strstr(base_text_get(&t), "60 mm: fault"));
    holds_lines(base_text_get(&t), 72, "beside");
    base_text_done(&t);
    explore_free(x);
}
END_TEST

/* The same set: press 250 to 305; at a riser of 20 244.2 and 236.7, of 40 264.2 and 256.7, of 100 324.2 and
   316.7. */
static const struct { int point; const char *says;
} at_points[] = {
    {0, "at 20 mm   stack.height_on_bolster 244.2 mm, ground 236.7 mm; press at most 305.0, 60.8 mm to "
        "spare; press at least 250.0 !! short by 13.3 mm\n"
        "fault press; "},
    {2, "at 40 mm   stack.height_on_bolster 264.2 mm, ground 256.7 mm; press at most 305.0, 40.8 mm to "
        "spare; press at least 250.0, 6.7 mm to spare\n"
        "caution "},
    {8, "at 100 mm   stack.height_on_bolster 324.2 mm, ground 316.7 mm; press at most 305.0 !! over by 19.2 "
        "mm; press at least 250.0, 66.7 mm to spare\n"
        "fault press; "},
};

START_TEST(a_point_is_told_in_sentences_as_worked_out_by_hand)
{
    struct explore *x = bench_run(&bench, "risers.height", "20", "100", "10",
                                  "stack.shut_height stack.height_on_bolster");
    struct base_text t = {0};
    ck_assert_int_eq(explore_closest(x, 2), 1); /* no limit is set to the other */
    explore_point(x, 1, at_points[_i].point, &t);
    ck_assert_msg(strncmp(base_text_get(&t), at_points[_i].says, strlen(at_points[_i].says)) == 0, "%s",
                  base_text_get(&t));
    ck_assert_ptr_nonnull(strstr(base_text_get(&t), "\nstack.shut_height 224.2 mm, ground 216.7 mm\n"));
    base_text_done(&t);
    explore_free(x);
}
END_TEST

/* Where the plot has its letters, there is the column: read back from the plot itself. */
START_TEST(the_column_of_a_point_is_where_its_letters_stand)
{
    struct explore *x = bench_run(&bench, "risers.height", "20", "100", "10", "stack.height_on_bolster");
    for (size_t w = 0; w < COUNT_OF(widths); w++) {
        struct base_text t = {0};
        explore_plot(x, 0, widths[w], 9, &t);
        const char *band = strstr(base_text_get(&t), "\npress  ") + 1;
        for (int i = 0; i < x->n; i++) {
            bool fails = x->at[i] < 33.3 || x->at[i] > 80.8; /* ground 216.7 under 250; new 224.2 over 305 */
            ck_assert_int_eq(band[explore_plot_column(x, 0, widths[w], 9, i)], fails ? 'X' : '.');
        }
        base_text_done(&t);
    }
    explore_free(x);
}
END_TEST

TCase *plot_tests(void)
{
    TCase *t = tcase_create("plots");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_checked_fixture(t, open_cover, close_bench);
    tcase_add_loop_test(t, any_plot_keeps_to_its_width_in_ascii, 0, (int)COUNT_OF(plots));
    tcase_add_test(t, names_in_any_writing_take_one_column_a_letter);
    tcase_add_test(t, the_plot_of_a_riser_is_drawn_as_worked_out_by_hand);
    tcase_add_loop_test(t, a_point_is_told_in_sentences_as_worked_out_by_hand, 0, (int)COUNT_OF(at_points));
    tcase_add_test(t, the_column_of_a_point_is_where_its_letters_stand);
    tcase_add_test(t, letters_tell_at_which_points_a_rule_fails);
    tcase_add_test(t, a_column_of_several_points_says_when_they_differ);
    tcase_add_test(t, a_point_that_is_not_taken_is_a_question_mark);
    tcase_add_test(t, two_points_stand_side_by_side);
    return t;
}
