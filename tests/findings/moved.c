/* What has not moved is not judged again: after each edit, and after it was dropped, the list is that of
   somebody who judges all of it for the first time. */

#include "bench.h"

#include <stdlib.h>
#include <string.h>

static void is_as_judged_whole(struct bench *b, const char *what)
{
    struct bench anew = {b->h, b->d, findings_new(b->d)};
    char *kept = bench_list(b), *whole = bench_list(&anew);
    size_t same = 0;
    while (kept[same] && kept[same] == whole[same])
        same++;
    ck_assert_msg(kept[same] == whole[same], "%s: judged again\n%.300s\n--- judged whole\n%.300s", what,
                  kept + same, whole + same);
    findings_free(anew.f);
    free(kept);
    free(whole);
}

static void edit_and_drop(struct bench *b, const char *edit)
{
    bench_try(b, edit);
    is_as_judged_whole(b, edit);
    bench_drop(b);
}

static const char *const edits[] = {
    "die_plate.thickness = 20 mm",      "die_screws.lay.end = 12 mm",     "middle_hole.size = 30 mm",
    "strip.pitch = 30 mm",              "stripper_springs.lay.end = 40 mm", "blank.across = 56 mm",
    "posts.sunk = 30 mm",               "press.stroke = 20 mm",           "stack.die_regrind = 12 mm",
    "lifters.diameter = 12 mm",         "die_dowels.lay.end = 12 mm",     "punch_screws.size = \"M12\"",
    "posts.lay.left_front.y = usual",   "- risers",                       "strip.thickness = 1 mm / 0",
    "stripper_springs.free_length = 40 mm",
};

START_TEST(what_is_judged_again_is_as_judged_whole)
{
    struct bench b;
    bench_open_shipped(&b, "data/demo/cover-plate.txt");
    findings_judge(b.f, NULL);
    for (size_t i = 0; i < COUNT_OF(edits); i++) {
        edit_and_drop(&b, edits[i]);
        if (i % 5 == 0)
            is_as_judged_whole(&b, "after it was dropped");
    }
    bench_close(&b);
}
END_TEST

START_TEST(one_edit_follows_on_another_without_a_list_between)
{
    struct bench b;
    bench_open_shipped(&b, "data/demo/cover-plate.txt");
    findings_judge(b.f, NULL);
    bench_try(&b, "die_screws.lay.end = 12 mm");
    findings_judge(b.f, NULL);
    dieset_drop(b.d);
    bench_try(&b, "lifters.diameter = 12 mm"); /* and the screws stand again as they stood */
    is_as_judged_whole(&b, "the second");
    dieset_keep(b.d);
    is_as_judged_whole(&b, "once it is taken");
    bench_try(&b, "lifters.diameter = 5 mm");
    is_as_judged_whole(&b, "and set back");
    bench_close(&b);
}
END_TEST

TCase *moved_tests(void)
{
    TCase *t = tcase_create("moved");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, what_is_judged_again_is_as_judged_whole);
    tcase_add_test(t, one_edit_follows_on_another_without_a_list_between);
    return t;
}
