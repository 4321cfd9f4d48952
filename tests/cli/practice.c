/* Practice from the command line: the question, answers, hints, a mend, and exercises by word and by line. */

#include "suites.h"

#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_folder(void) { bench_open(&bench, NULL); }

/* Exit status 1: not that, or not right yet. */
static const struct { const char *line; int status; const char *says[3];
} steps[] = {
    {"d practice", 0, {"turned", "Will it go together one way only?", "changes no job"}},
    {"d practice turned --format text </dev/null",
     0,
     {"Find what lets it go on the wrong way.", "diewright practice turned --hint 1"}},
    {"d practice 21 posts.length", 1, {"not that: \"short\" of posts holds with 5.3 mm to spare"}},
    {"d practice turned die_dowels.right.y", 0, {"found: die_dowels.right.y", "Now mend it"}},
    {"d practice turned --hint 2", 0, {"hint 1  ", "hint 2  "}},
    {"d practice turned 'die_dowels.lay.right_across=11.1 mm'", 1, {"not mended yet: "}},
    {"d practice turned die_dowels.lay.right_across='6 mm'",
     0,
     {"- caution: ", "mended, and nothing else has come.", "learnt  A plate that fits two ways"}},
    {"d practice short-post 'posts.length=260 mm'", 1, {"- fault: ", "+ fault: ", "something else has come"}},
    {"d practice turned 'stripper.thickness=20.5 mm'",
     1,
     {"not mended yet, and nothing that was changed is what is wrong"}},
    {"d practice first-set",
     0,
     {" 1  The strip is to be thicker", "here: 'strip.thickness = 2 mm'",
      "-> The clearance went along to 0.12 mm"}},
    {"d practice first-set 'strip.thickness=2 mm'",
     1,
     {" 1 done  The clearance went along", "step 3 of 11", "choose extra heavy"}},
    {"d practice first-set strip.thickness='2 mm' 'stripper_springs.load=\"extra heavy\"' "
     "stripper_springs.preload_wanted='9 mm' stripper_springs.pocket_depth='25 mm' lower_shoe.thickness='56 "
     "mm' "
     "die_screws.length='60 mm' die_screws.length= stack.margin_out='60 mm'",
     0,
     {"11 done  Lengths, sizes", "All 11 steps are done."}},
    {"d practice strip-moves --hint 3", 0, {"stations insert 3"}},
    {"d practice strip-moves 'strip.pitch=32 mm' 'stations insert 3'", 1, {"step 4 of 9"}},
    {"d practice --exercise", 0, {" 1  force to blank a disc"}},
    {"d practice --exercise 1 175.9 kN", 0, {"right: 175929 N.", "(280 MPa)", "source: "}},
    {"d practice --exercise 1 175929", 1, {"of what? The answer is a force"}},
    {"printf '3 mm\\n175.9 kN\\n' | $P --data \"$DATA\" practice --exercise 1",
     0,
     {"asked: ", "that is a length", "right: "}},
    {"echo | $P --data \"$DATA\" practice --exercise 1", 1, {"asked: ", "= 175.9 kN"}},
};

START_TEST(practice_goes_step_by_step)
{
    struct said s = bench_want(&bench, steps[_i].line, steps[_i].status);
    for (size_t i = 0; i < COUNT_OF(steps[_i].says) && steps[_i].says[i]; i++)
        ck_assert_msg(strstr(s.out, steps[_i].says[i]) != NULL, "%s: no \"%s\" in\n%s", steps[_i].line,
                      steps[_i].says[i], s.out);
    said_done(&s);
}
END_TEST
static const struct { const char *line, *says; } refusals[] = {
    {"d practice tuned", "There is no practice job \"tuned\", near it: turned"},
    {"d practice turned --hint 4", "There is no hint \"4\": they are 1 to 3."},
    {"d practice first-set --hint 12", "There is no step \"12\": they are 1 to 11."},
    {"d practice first-set strip.thickness", "\"strip.thickness\" is no change: write NAME=FORMULA"},
    {"d practice first-set strip.thicknes=2", "near it: strip.thickness"},
    {"d practice --hint 1", "A hint for which practice job?"},
    {"d practice turned posts.length strip.width", "One value at a time"},
    {"d practice turned posts.lenth=3", "The job has no \"posts.lenth\"; near it: posts.length"},
    {"d practice --exercise 0", "There is no exercise \"0\": they are 1 to "},
    {"d practice --exercise 1 --hint 2", "an exercise has one, its formula"},
    {"d practice --exercise --hint 1", "A hint for which exercise?"},
};

START_TEST(what_practice_cannot_do_is_said)
{
    struct said s = bench_want(&bench, refusals[_i].line, 2);
    ck_assert_msg(strstr(s.err, refusals[_i].says) != NULL, "%s", s.err);
    said_done(&s);
}
END_TEST

/* No file is made or touched by any of it. */
START_TEST(practice_leaves_no_file)
{
    bench_do(&bench,
             "d practice turned die_dowels.lay.right_across='6 mm' && d practice turned posts.length; ! ls "
             "-A | grep job",
             0);
}
END_TEST

TCase *practice_tests(void)
{
    TCase *t = tcase_create("practice");
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, open_folder, NULL);
    tcase_add_loop_test(t, practice_goes_step_by_step, 0, COUNT_OF(steps));
    tcase_add_loop_test(t, what_practice_cannot_do_is_said, 0, COUNT_OF(refusals));
    tcase_add_test(t, practice_leaves_no_file);
    return t;
}
