/* The stack as a matrix of plates and groups. Heights by hand: 63+12+40 = 115 die face; gap 80-32-1 = 47,
 * less 1.5 strip and 25 stripper = 20.5; 115+47+32+12+40 = 246. */

#include "small.h"
#include "view.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const JOB = "tests/view/small-job.txt";

static const struct {
    const char *title;
    enum view_row_what what;
    double height, top;
    const char *cells;
} rows[] = {
    /* columns: p s d g c */
    {"upper shoe", VIEW_ROW_PLATE, 40, 246, " S gC"},  {"punch backing", VIEW_ROW_PLATE, 12, 206, " | ||"},
    {"punch plate", VIEW_ROW_PLATE, 32, 194, "ps ||"}, {"gap", VIEW_ROW_GAP, 20.5, 162, "|  ||"},
    {"stripper", VIEW_ROW_PLATE, 25, 141.5, "|  |c"},  {"strip", VIEW_ROW_STRIP, 1.5, 116.5, "|  | "},
    {"die plate", VIEW_ROW_PLATE, 40, 115, "osd| "},   {"die backing", VIEW_ROW_PLATE, 12, 75, " ||| "},
    {"lower shoe", VIEW_ROW_PLATE, 63, 63, " SDG "},
};

START_TEST(matrix_says_who_stands_where)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    ck_assert_int_eq(m.n_rows, (int)COUNT_OF(rows));
    ck_assert_str_eq(m.rows[_i].title, rows[_i].title);
    ck_assert_int_eq(m.rows[_i].what, rows[_i].what);
    ck_assert_double_eq_tol(m.rows[_i].height, rows[_i].height, 1e-9);
    ck_assert_double_eq_tol(m.rows[_i].top, rows[_i].top, 1e-9);
    char cells[VIEW_COLUMNS + 1] = "", letters[VIEW_COLUMNS + 1] = "";
    for (int c = 0; c < m.n_columns; c++) {
        char ch = m.cells[_i][c];
        cells[c] = ch ? ch : ' ';
        letters[c] = m.columns[c].letter;
    }
    ck_assert_str_eq(letters, "psdgc");
    ck_assert_str_eq(cells, rows[_i].cells);
    dieset_free(d);
}
END_TEST

START_TEST(one_column_holds_both_screw_groups)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    ck_assert_int_eq(m.items[0][1], dieset_find_item(d, "punch_screws"));
    ck_assert_int_eq(m.items[8][1], dieset_find_item(d, "die_screws"));
    ck_assert_int_eq(m.items[3][1], -1);
    dieset_free(d);
}
END_TEST

/* Two groups that fasten in one plate get a column each. */
static const struct small_edit meeting[] = {{"die_screws", "thread_in", "punch_plate"}, {NULL, NULL, NULL}};

START_TEST(groups_that_meet_stand_apart)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, meeting);
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    int screws = 0;
    for (int c = 0; c < m.n_columns; c++)
        screws += m.columns[c].letter == 's';
    ck_assert_int_eq(screws, 2);
    dieset_free(d);
}
END_TEST

static const struct small_edit inches[] = {{"job", "unit", "\"in\""}, {NULL, NULL, NULL}};

static const struct {
    const char *kept;
    int width, height;
    bool ascii;
    enum dieset_state state;
    double scale;
    const struct small_edit *edits;
} pictures[] = {
    {"tests/view/kept/stack.txt", 46, 11, false, DIESET_NEW, 0, NULL},
    {"tests/view/kept/stack-inch.txt", 46, 11, false, DIESET_NEW, 0, inches},
    {"tests/view/kept/stack-ascii.txt", 46, 11, true, DIESET_GROUND, 0, NULL},
    {"tests/view/kept/stack-wide.txt", 80, 12, false, DIESET_NEW, 0, NULL},
    {"tests/view/kept/stack-tall.txt", 60, 36, false, DIESET_NEW, 8, NULL},
    {"tests/view/kept/stack-short.txt", 46, 5, false, DIESET_NEW, 0, NULL},
};

START_TEST(stack_is_as_kept)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, pictures[_i].edits);
    struct view_matrix m;
    view_matrix(d, pictures[_i].state, &m);
    struct view_options o = {.item = dieset_find_item(d, "die_plate"),
                             .point = -1,
                             .ascii = pictures[_i].ascii,
                             .state = pictures[_i].state};
    struct view_canvas c;
    struct base_text out = {0};
    int row_at[64];
    view_canvas_init(&c, pictures[_i].width, pictures[_i].height);
    ck_assert_double_eq(view_stack(d, &m, &o, &c, row_at), pictures[_i].scale);
    view_print(&c, &out);
    matches_kept(base_text_get(&out), pictures[_i].kept);
    bool cursor = false;
    for (int y = 0; y < c.height; y++) {
        ck_assert(row_at[y] >= -1 && row_at[y] < m.n_rows);
        cursor = cursor || (row_at[y] >= 0 && m.rows[row_at[y]].plate == o.item);
    }
    ck_assert_msg(cursor, "the plate at the cursor is not among the lines");
    base_text_done(&out);
    view_canvas_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(rows_to_scale_take_their_height)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    struct view_options o = {.item = -1, .point = -1};
    for (int height = 20; height < 60; height++) {
        struct view_canvas c;
        int row_at[64], lines[VIEW_ROWS] = {0};
        view_canvas_init(&c, 60, height);
        double scale = view_stack(d, &m, &o, &c, row_at);
        for (int y = 0; y < height; y++)
            if (row_at[y] >= 0)
                lines[row_at[y]]++;
        for (int r = 0; r < m.n_rows; r++) {
            ck_assert_int_ge(lines[r], 1);
            if (scale > 0 && lines[r] > 1)
                ck_assert_double_le(lines[r] * scale, m.rows[r].height + scale / 2);
        }
        view_canvas_done(&c);
    }
    dieset_free(d);
}
END_TEST

TCase *stack_case(void)
{
    TCase *t = tcase_create("stack");
    tcase_add_loop_test(t, matrix_says_who_stands_where, 0, (int)COUNT_OF(rows));
    tcase_add_test(t, one_column_holds_both_screw_groups);
    tcase_add_test(t, groups_that_meet_stand_apart);
    tcase_add_loop_test(t, stack_is_as_kept, 0, (int)COUNT_OF(pictures));
    tcase_add_test(t, rows_to_scale_take_their_height);
    return t;
}
