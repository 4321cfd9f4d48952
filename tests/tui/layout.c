/* tests/tui/layout.c - rectangles at every size */

#include "parts.h"

#include "tui/layout.h"

static bool inside(struct area a, int rows, int columns)
{
    return a.y >= 0 && a.x >= 0 && a.h >= 0 && a.w >= 0 && (a.h == 0 || a.y + a.h <= rows) &&
           (a.w == 0 || a.x + a.w <= columns);
}

static bool overlap(struct area a, struct area b)
{
    if (a.h == 0 || a.w == 0 || b.h == 0 || b.w == 0)
        return false;
    return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

static void all_of(const struct layout *l, struct area out[8])
{
    const struct area all[8] = {l->title,   l->stack, l->swap,     l->side,
                                l->section, l->plan,  l->findings, l->message};
    for (int i = 0; i < 8; i++)
        out[i] = all[i];
}

START_TEST(nothing_is_negative_outside_or_overlapping_at_any_size)
{
    static const int wishes[] = {0, 11, 25, 200};
    for (int rows = 1; rows <= 70; rows++)
        for (int columns = 1; columns <= 250; columns++)
            for (int w = 0; w < 4; w++) {
                struct layout l = layout_main(rows, columns, wishes[w]);
                struct area all[8];
                all_of(&l, all);
                if (l.alone) /* one of the panes is there, and each has the body */
                    all[2] = all[5] = all[6] = (struct area){0};
                /* millions of them: libcheck writes a line down for every assertion */
                for (int i = 0; i < 8; i++) {
                    if (!inside(all[i], rows, columns))
                        ck_abort_msg("area %d leaves %dx%d", i, columns, rows);
                    for (int k = i + 1; k < 8; k++)
                        if (overlap(all[i], all[k]))
                            ck_abort_msg("areas %d and %d meet at %dx%d", i, k, columns, rows);
                }
                if (!inside(l.hint, rows, columns) || !inside(l.body, rows, columns))
                    ck_abort_msg("the hint line or the body leaves %dx%d", columns, rows);
            }
}
END_TEST

START_TEST(under_80x24_there_is_one_pane_under_60x16_only_a_line)
{
    ck_assert(layout_main(15, 200, 20).small);
    ck_assert(layout_main(60, 59, 20).small);
    ck_assert(!layout_main(16, 60, 20).small);
    ck_assert_int_eq(layout_main(15, 79, 20).stack.w, 0);
    ck_assert(layout_main(23, 200, 20).alone);
    ck_assert(layout_main(60, 79, 20).alone);
    ck_assert(!layout_main(24, 80, 20).alone);
    struct layout l = layout_main(16, 60, 20);
    ck_assert(l.alone && l.stack.w == 60 && l.findings.w == 60 && l.plan.h == 13 && l.side.w == 0);
}
END_TEST

static const struct { int rows, columns; int stack, form, plan, findings; bool side, section; } sizes[] = {
    {24, 80, 40, 30, 25, 45, false, false},
    {30, 100, 40, 40, 30, 55, false, false},
    {40, 120, 40, 35, 40, 60, true, false},
    {60, 200, 50, 40, 60, 100, true, true},
};

START_TEST(every_pane_has_room_to_be_read)
{
    struct layout l = layout_main(sizes[_i].rows, sizes[_i].columns, 30);
    ck_assert_int_ge(l.stack.w, sizes[_i].stack);
    ck_assert_int_ge(l.swap.w, sizes[_i].form);
    ck_assert_int_ge(l.plan.w, sizes[_i].plan);
    ck_assert_int_ge(l.findings.w, sizes[_i].findings);
    ck_assert_int_ge(l.stack.h, 12);
    ck_assert_int_ge(l.findings.h, 8);
    ck_assert_int_eq(l.side.w > 20, sizes[_i].side);
    ck_assert_int_eq(l.section.w > 30, sizes[_i].section);
}
END_TEST

void add_layout(Suite *s)
{
    TCase *c = tcase_create("layout");
    tcase_set_timeout(c, 60);
    tcase_add_test(c, nothing_is_negative_outside_or_overlapping_at_any_size);
    tcase_add_test(c, under_80x24_there_is_one_pane_under_60x16_only_a_line);
    tcase_add_loop_test(c, every_pane_has_room_to_be_read, 0, (int)(sizeof sizes / sizeof *sizes));
    suite_add_tcase(s, c);
}
