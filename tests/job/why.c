/* Why a value is what it is, and what hangs on it. */

#include "bench.h"

#include <stdlib.h>
#include <string.h>

enum { ROOM = 400 };

static int quantity(struct job *j, const char *path)
{
    int q = dieset_find(job_dieset(j), path);
    ck_assert_msg(q >= 0, "there is no %s", path);
    return q;
}

static const struct job_why_line *line_of(const struct job_why_line *lines, int n, const char *label)
{
    for (int i = 0; i < n; i++)
        if (strcmp(lines[i].label, label) == 0)
            return &lines[i];
    return NULL;
}

START_TEST(a_screws_length_is_told_down_to_its_plates)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *lines = base_alloc(ROOM * sizeof *lines);
    int n = job_why(j, quantity(j, "punch_screws.length"), DIESET_NEW, 12, lines, ROOM);
    ck_assert_int_gt(n, 8);
    ck_assert_str_eq(lines[0].label, "punch_screws.length");
    ck_assert_int_eq(lines[0].depth, 0);
    static const char *const below[] = {"punch_screws.length_need", "punch_screws.grip",
                                        "upper_shoe.thickness",     "punch_backing.thickness",
                                        "punch_screws.head_depth",  "punch_screws.diameter"};
    for (size_t i = 0; i < COUNT_OF(below); i++)
        ck_assert_msg(line_of(lines, n, below[i]), "%s is not told", below[i]);
    /* 50 thick, 10 sunk, 12 between: M8 reaches 52 and 12 of thread and a pitch of 1.25 further */
    const struct job_why_line *need = line_of(lines, n, "punch_screws.length_need");
    ck_assert_str_eq(need->value, "65.25 mm");
    ck_assert_str_eq(need->formula, "screw_need(grip, diameter, pitch, thread_in.thread_wanted)");
    ck_assert_str_eq(need->filled, "screw_need(52.0 mm, 8.0 mm, 1.250 mm, 1.5)");
    ck_assert_str_eq(line_of(lines, n, "punch_screws.head_depth")->source,
                     "heads well below the face that the slide bears on");
    for (int i = 1; i < n; i++)
        ck_assert(lines[i].depth >= 1 && lines[i].depth <= lines[i - 1].depth + 1);
    free(lines);
    job_close(j);
}
END_TEST

/* A let of a kind's text stands in the tree by its name, and nowhere that values are shown or typed. */
START_TEST(a_let_is_told_by_its_name)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *lines = base_alloc(ROOM * sizeof *lines);
    int let = quantity(j, "stack.between_across"),
        n = job_why(j, quantity(j, "stack.ledge"), DIESET_NEW, 3, lines, ROOM);
    const struct job_why_line *line = line_of(lines, n, "stack.between_across");
    ck_assert_ptr_nonnull(line);
    ck_assert_str_eq(line->value, lines[0].value);
    ck_assert_ptr_nonnull(strstr(line->formula, "min(smallest(plate.front"));
    ck_assert_ptr_null(line_of(lines, n, "stack.between_along")); /* the arm that is not taken */
    ck_assert(dieset_applies(job_dieset(j), let) && !dieset_shown(job_dieset(j), let));
    ck_assert(!dieset_quantity(job_dieset(j), let)->can_type);
    struct base_text near = {0};
    dieset_nearest(job_dieset(j), "stack.between_acros", &near);
    ck_assert_ptr_null(strstr(base_text_get(&near), "between_across"));
    base_text_done(&near);
    free(lines);
    job_close(j);
}
END_TEST

START_TEST(the_tree_ends_where_asked_and_tells_that_it_goes_on)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line lines[60];
    int q = quantity(j, "posts.length");
    int n = job_why(j, q, DIESET_NEW, 0, lines, 60);
    ck_assert_int_eq(n, 1);
    ck_assert(lines[0].more);
    n = job_why(j, q, DIESET_NEW, 1, lines, 60);
    ck_assert_int_gt(n, 1);
    for (int i = 0; i < n; i++)
        ck_assert_int_le(lines[i].depth, 1);
    ck_assert(!lines[0].more);
    ck_assert_int_eq(job_why(j, q, DIESET_NEW, 50, lines, 5), 5); /* room is kept to */
    job_close(j);
}
END_TEST

START_TEST(what_was_unfolded_above_is_not_unfolded_again)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *lines = base_alloc(5000 * sizeof *lines);
    int n = job_why(j, quantity(j, "posts.entry"), DIESET_GROUND, 40, lines, 5000);
    int seen = 0;
    for (int i = 0; i < n; i++) {
        seen += lines[i].seen;
        for (int k = 0; k < i; k++)
            ck_assert(lines[i].quantity != lines[k].quantity || lines[i].seen);
        ck_assert(!lines[i].seen || i + 1 == n || lines[i + 1].depth <= lines[i].depth);
    }
    ck_assert_int_gt(seen, 0);
    free(lines);
    job_close(j);
}
END_TEST

static bool is_text(struct job *j, int q)
{
    return dieset_quantity(job_dieset(j), q)->type.type.sort == FORMULA_TEXT;
}

/* Every line of every quantity, on both demo jobs and in both states: nothing is out of bounds, every value
   is told. */
START_TEST(every_quantity_can_be_asked_why)
{
    static const char *const files[] = {"data/demo/cover-plate.txt", "data/demo/spacer-plate.txt",
                                        "tests/job/all-sorts.txt"};
    struct job *j = bench_file(files[_i]);
    struct job_why_line *lines = base_alloc(ROOM * sizeof *lines);
    int reached[ROOM];
    for (int q = 0; q < dieset_quantity_count(job_dieset(j)); q++) {
        struct base_text words = {0};
        for (int s = 0; s < DIESET_STATES; s++) {
            int n = job_why(j, q, (enum dieset_state)s, 6, lines, ROOM);
            ck_assert_int_ge(n, 1);
            ck_assert_int_eq(lines[0].quantity, q);
            for (int i = 0; i < n; i++)
                ck_assert_msg(lines[i].label[0] && (lines[i].value[0] || is_text(j, lines[i].quantity)), "%s",
                              lines[i].label);
        }
        int n = job_reaches(j, q, reached, ROOM);
        for (int i = 0; i < n; i++)
            ck_assert(reached[i] >= 0 && reached[i] != q);
        job_describe(j, q, &words);
        base_text_done(&words);
    }
    free(lines);
    job_close(j);
}
END_TEST

START_TEST(force_and_middle_hang_on_a_line_of_an_outline)
{
    struct job *j = bench_file("tests/job/all-sorts.txt");
    static const char *const wanted[] = {"cover.cut", "cover.x", "cover.force", "stack.cut_force"};
    int reached[ROOM], n = job_reaches(j, quantity(j, "cover.outline.2"), reached, ROOM);
    for (size_t w = 0; w < COUNT_OF(wanted); w++) {
        bool told = false;
        for (int i = 0; i < n; i++)
            told = told || strcmp(dieset_quantity(job_dieset(j), reached[i])->path, wanted[w]) == 0;
        ck_assert_msg(told, "%s", wanted[w]);
    }
    job_close(j);
}
END_TEST

START_TEST(what_hangs_on_a_thickness_is_told_nearest_first)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    int reached[ROOM], n = job_reaches(j, quantity(j, "punch_backing.thickness"), reached, ROOM);
    int grip = -1, length = -1;
    for (int i = 0; i < n; i++) {
        const char *path = dieset_quantity(job_dieset(j), reached[i])->path;
        if (strcmp(path, "punch_screws.grip") == 0)
            grip = i;
        if (strcmp(path, "punch_screws.length") == 0)
            length = i;
        for (int k = 0; k < i; k++)
            ck_assert_int_ne(reached[i], reached[k]);
    }
    ck_assert(grip >= 0 && length > grip);
    job_close(j);
}
END_TEST

/* Names in a point's formula are those of its pattern and of its plate, not of the item that has the points:
 * a station has a size along of its own. */
START_TEST(a_points_formula_is_filled_with_what_it_reads)
{
    static const struct { const char *path, *filled; } rows[] = {
        {"blank.middle.x", "85.0 mm + 0.0 mm"}, /* its station's place, and from there */
        {"dimples.p2.x", "51.0 mm + 7.0 mm"},
        {"die_dowels.left.y", "0.0 mm + -11.0 mm"},
        {"die_screws.left_front.x", "-132.0 mm + 19.0 mm"},
        {"posts.left_front.y", "-103.0 mm - 8 mm"}, /* usual - 8 mm: 153 less 50 from the side */
    };
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line line;
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        ck_assert_int_eq(job_why(j, quantity(j, rows[i].path), DIESET_NEW, 0, &line, 1), 1);
        ck_assert_str_eq(line.filled, rows[i].filled);
    }
    job_close(j);
}
END_TEST

/* Both trees say the same: what a value reads reaches it. */
START_TEST(what_a_value_reaches_reads_it)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *up = base_alloc(ROOM * sizeof *up), *down = base_alloc(ROOM * sizeof *down);
    static const char *const paths[] = {"lower_shoe.thickness", "die_screws.length", "stack.punch_length",
                                        "strip.thickness"};
    for (size_t p = 0; p < COUNT_OF(paths); p++) {
        int n = job_reach(j, quantity(j, paths[p]), DIESET_NEW, 1, up, ROOM);
        ck_assert_int_gt(n, 2);
        ck_assert_str_eq(up[0].label, paths[p]);
        for (int i = 1; i < n; i++) {
            int below = job_why(j, up[i].quantity, DIESET_NEW, 1, down, ROOM);
            ck_assert_int_eq(up[i].depth, 1);
            ck_assert_msg(line_of(down, below, paths[p]) != NULL, "%s is said to hang on %s", up[i].label,
                          paths[p]);
        }
    }
    free(up);
    free(down);
    job_close(j);
}
END_TEST

START_TEST(unfolded_far_enough_all_that_is_reached_is_told)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *up = base_alloc(ROOM * sizeof *up);
    int reached[ROOM], q = quantity(j, "die_screws.length"), many = job_reaches(j, q, reached, ROOM),
                       n = job_reach(j, q, DIESET_NEW, 20, up, ROOM);
    for (int i = 0; i < many; i++)
        ck_assert_msg(line_of(up, n, dieset_quantity(job_dieset(j), reached[i])->path) != NULL, "%s",
                      dieset_quantity(job_dieset(j), reached[i])->path);
    for (int i = 0; i < n; i++)
        ck_assert(!up[i].more);
    ck_assert(job_reach(j, q, DIESET_NEW, 0, up, ROOM) == 1 && up[0].more);
    free(up);
    job_close(j);
}
END_TEST

START_TEST(a_value_is_described_by_the_handbooks_words)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct base_text words = {0};
    job_describe(j, quantity(j, "stack.punch_regrind"), &words);
    ck_assert_msg(strstr(base_text_get(&words), "May be ground off the punches"), "%s",
                  base_text_get(&words));
    base_text_clear(&words);
    job_describe(j, quantity(j, "press_reserve"), &words);
    ck_assert_msg(strstr(base_text_get(&words), "common practice: 1.2 to 1.5 on the press"), "%s",
                  base_text_get(&words));
    base_text_clear(&words);
    job_describe(j, quantity(j, "posts.left_front.y"), &words); /* typed over: both are told */
    ck_assert_str_eq(
        base_text_get(&words),
        "Source: the odd post: the upper half does not go on turned round. Usual: front + side.");
    base_text_done(&words);
    job_close(j);
}
END_TEST

static const struct { const char *path, *taken, *filled, *worked; } told[] = {
    {"die_screws.length_need", "", "screw_need(53.0 mm, 8.0 mm, 1.250 mm, 1.5)",
     "53.0 mm + 1.5 * 8.0 mm + 1.25 mm"},
    {"upper_shoe.bottom", "stack.die_face + stack.gap - stack.under_punch_plate + under",
     "97.0 mm + 43.2 mm - 0.0 mm + 34.0 mm", ""},
    {"stack.travel", "stripper_travel(lead, strip.thickness, entry, ground_off)",
     "stripper_travel(0.6 mm, 1.2 mm, 0.8 mm, 0.0 mm)", "0.6 mm + 0.0 mm + 1.2 mm + 0.8 mm"},
    {"die_screws.length", "", "size_over(cap_screw_length.length, 66.25 mm, size = M8)", ""},
};

START_TEST(a_formula_is_told_as_it_holds_and_its_function_as_a_sum)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line line;
    ck_assert_int_eq(job_why(j, quantity(j, told[_i].path), DIESET_NEW, 0, &line, 1), 1);
    ck_assert_str_eq(line.taken, told[_i].taken);
    ck_assert_str_eq(line.filled, told[_i].filled);
    ck_assert_str_eq(line.worked, told[_i].worked);
    job_close(j);
}
END_TEST

/* What only an arm reads that is not taken is named and goes no deeper; what a condition reads is asked. */
START_TEST(arms_not_taken_are_folded_away)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct job_why_line *lines = base_alloc(ROOM * sizeof *lines);
    int n = job_why(j, quantity(j, "die_plate.thread_least"), DIESET_NEW, 12, lines, ROOM);
    ck_assert(line_of(lines, n, "engagement_aluminium")->folded);
    ck_assert(line_of(lines, n, "engagement_iron")->folded);
    ck_assert(!line_of(lines, n, "engagement_least")->folded);
    ck_assert(!line_of(lines, n, "die_plate.material_group")->folded);
    for (int i = 0; i + 1 < n; i++)
        ck_assert_msg(!lines[i].folded || lines[i + 1].depth <= lines[i].depth, "%s", lines[i].label);
    free(lines);
    job_close(j);
}
END_TEST

TCase *why_tests(void)
{
    TCase *c = tcase_create("why");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_test(c, a_screws_length_is_told_down_to_its_plates);
    tcase_add_test(c, a_let_is_told_by_its_name);
    tcase_add_loop_test(c, a_formula_is_told_as_it_holds_and_its_function_as_a_sum, 0, (int)COUNT_OF(told));
    tcase_add_test(c, arms_not_taken_are_folded_away);
    tcase_add_test(c, the_tree_ends_where_asked_and_tells_that_it_goes_on);
    tcase_add_test(c, what_was_unfolded_above_is_not_unfolded_again);
    tcase_add_loop_test(c, every_quantity_can_be_asked_why, 0, 3);
    tcase_add_test(c, force_and_middle_hang_on_a_line_of_an_outline);
    tcase_add_test(c, what_hangs_on_a_thickness_is_told_nearest_first);
    tcase_add_test(c, what_a_value_reaches_reads_it);
    tcase_add_test(c, a_points_formula_is_filled_with_what_it_reads);
    tcase_add_test(c, unfolded_far_enough_all_that_is_reached_is_told);
    tcase_add_test(c, a_value_is_described_by_the_handbooks_words);
    return c;
}
