/* What is refused: the exit status, one plain sentence that says what and where, and nothing changed. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* A copy whose blank is cut by its outline. */
#define OUTLINED "cp cp.diejob o.diejob; d set o 'blank.shape=\"outline\"' >o.txt 2>&1; "

static const struct { const char *line; int status; const char *says;
} refusals[] = {
    /* names */
    {"d set cp strip.thicknes=2", 2, "The job has no \"strip.thicknes\"; near it: strip.thickness"},
    {"d show cp strip.widht", 2, "The job has no \"strip.widht\"; near it: strip.width"},
    {"d show cp die_plte", 2, "near it: die_plate"},
    {"d set cp 'die_plate.thickness=die_backin.thickness'", 2, "die_backin"},
    {"d set cp die_screws.head_in=lower_sho", 2, "die_screws.head_in: "},
    {"d plan cp diplate", 2, "The job has no plate \"diplate\"; its plates: upper_shoe"},
    {"d completion fish", 2, "There is completion for bash and zsh, not for \"fish\"."},
    {"d solid cp posts", 2, "The job has no plate \"posts\"; its plates: upper_shoe"},
    {"d holes cp posts", 2, "The job has no plate \"posts\"; its plates: upper_shoe"},
    {"d handbook cuting_force", 2, "The handbook does not speak of \"cuting_force\"; near it: cutting_force"},
    {"d parts guide_pst", 2, "There is no parts table \"guide_pst\"; near it: guide_post"},
    {"d new other --like ''", 2, "Like what? The name of a start"},
    {"d new other --like nix", 2, "There is no start \"nix\"."},
    {"d new other --like nix --data nix", 2, "There are no starts in nix; say where they are with --data"},
    {"d new --data nix", 2, "There are no starts in nix; say where they are with --data FOLDER."},
    {"d outline cp die_plate 'at 0, 0'", 2, "die_plate has no outline."},
    {"d outline cp nobody", 2, "The job has no item \"nobody\"."},
    {OUTLINED "d outline o blank 'at 0, 0' 'line to 5, 0'", 2, "blank.outline: it encloses nothing"},
    {OUTLINED "d outline o blank 'at 0, 0' 'line to 5, 5' 'line to 5, 0' 'line to 0, 4'", 2,
     "blank.outline: it crosses or touches itself at 2.222 mm, 2.222 mm."},
    {OUTLINED "d outline o blank 'at 0, 0' 'arc to 5, 0 radius 2 left'", 2,
     "blank.outline: the arc of line 2 cannot reach"},
    {"d outline cp blank 'at 0, 0' 'line up 5, 0'", 2,
     "blank.outline.2: Say where it goes: \"to X, Y\" from the outline's origin, or \"by X, Y\" from the "
     "line before.\n  line up 5, 0\n  ^^^^^^^^^^^^\n"},
    {"d set cp blank.outline.3='line to 0, 0'", 2,
     "blank.outline: its lines are counted from 1 without a gap; line 1 is missing."},
    /* units, with the fault marked */
    {"d set cp 'strip.thickness=2 kN'", 2,
     "strip.thickness: A length is wanted here, and this gives a force.\n  2 kN\n  ^^^^\n"},
    {"d set cp 'die_plate.thickness=30 mm + 2 kN'", 2, "  30 mm + 2 kN\n  ^^^^^^^^^^^^\n"},
    {"d eval '25 mm + 3 kN'", 2, "A length and a force cannot be added.\n  25 mm + 3 kN\n  ^^^^^^^^^^^^\n"},
    {"d eval '2 furlong'", 2, "^"},
    {"d eval 'sin(30)'", 2, "^"},
    /* texts that are no formula */
    {"d set cp 'die_plate.thickness=('", 2,
     "die_plate.thickness: A value is wanted behind this.\n  (\n  ^\n"},
    {"d eval '2 +'", 2, "A value is wanted behind this.\n  2 +\n    ^\n"},
    {"d eval ''", 2, "There is nothing here"},
    {"d eval '1 mm / 0'", 2, "This has no value: division by zero."},
    {"d eval 'sqrt(-1)'", 2, "This has no value: "},
    /* circles, named link by link */
    {"d set cp 'die_plate.thickness=die_plate.mass / 1 kg * 1 mm'", 2,
     "die_plate.thickness -> die_plate.mass -> die_plate.thickness"},
    {"d set cp die_plate.thickness=die_backing.thickness die_backing.thickness=die_plate.thickness", 2,
     "die_backing.thickness -> die_plate.thickness -> die_backing.thickness"},
    /* what cannot be typed */
    {"d set cp 'stack.travel=5 mm'", 2, "stack.travel follows from other values"},
    {"d set cp strip.thickness=stack.travel", 2, "say at_new() or at_ground()"},
    {"d set cp die_plate.thickness", 2, "\"die_plate.thickness\" is no change: write NAME=FORMULA"},
    {"d set cp 'die_plate.thickness=36 mm' 'die_plate.thickness=40 mm'", 2,
     "\"die_plate.thickness\" is given twice"},
    {"d set cp 'die_plate.hardened=perhaps'", 2, "die_plate.hardened: "},
    {"d set cp 'die_plate.moves=\"sideways\"'", 2, "die_plate.moves"},
    {"d set cp 'die_plate.thickness=-5 mm'", 2,
     "die_plate.thickness would be -5.0 mm; the handbook allows 0.5 mm to "},
    {"d set cp 'die_plate.thickness=die_backing.thickness - 20 mm'", 2,
     "die_plate.thickness would be -8.0 mm"},
    {"d set cp bushings.clamps=10000", 2, "bushings.clamps would be 10000; the handbook allows 0 to 24."},
    {"d set cp strip.stations=2.5", 2, "strip.stations: 2.5 is no whole number of pieces."},
    {"d undo cp 99999999999999999999", 2, "\"99999999999999999999\" is no number of an edit"},
    /* counts of a pattern, however they are written */
    {"d set cp stripper_springs.lay.columns=0", 2,
     "stripper_springs.lay.columns would be 0; the handbook allows 1 to 1000."},
    {"d set cp stripper_springs.lay.columns=-1", 2,
     "stripper_springs.lay.columns would be -1; the handbook allows 1 to 1000."},
    {"d set cp stripper_springs.lay.columns=2.5", 2,
     "stripper_springs.lay.columns: 2.5 is no whole number of pieces."},
    {"d set cp stripper_springs.lay.rows=100000", 2,
     "stripper_springs.lay.rows would be 100000; the handbook allows 1 to 1000."},
    {"d set cp stripper_springs.lay.rows=1e9", 2,
     "stripper_springs.lay.rows would be 1000000000; the handbook allows 1 to 1000."},
    {"d set cp 'stripper_springs.lay.columns=stripper_springs.lay.rows * 600'", 2,
     "would be 1200; the handbook allows 1 to 1000."},
    {"d set cp stripper_springs.lay.columns=1000 stripper_springs.lay.rows=1000", 2,
     "the job would have more than 40000 points, which is beyond use."},
    {"d set cp job.unit=furlong", 2, "job.unit: "},
    /* what cannot be added */
    {"d add cp plate $(printf '%080d' 0 | tr 0 a)", 2,
     "is too long for the name of an item: 79 letters are the most."},
    {"printf 'job\n\nplate %080d\n' 0 | tr 0 a >long.txt; d load long long.txt", 2,
     "is too long for the name of an item"},
    {"d kinds screw", 2, "The handbook has no kind \"screw\"; near it: screws"},
    {"d add cp sharpen grind", 2, "The handbook has no kind \"sharpen\""},
    {"d add cp sharpening die_plate", 2, "There is a \"die_plate\" already: choose another name."},
    {"d add cp sharpening grind off_dye=1", 2, "The job has no \"grind.off_dye\"; near it: grind.off_die"},
    {"d add cp sharpening grind off_die=1 off_punches=1kN", 2,
     "grind.off_punches: A length is wanted here, and this gives a force."},
    {"d add cp sharpening grind off_die=80", 2,
     "grind.off_die would be 80.0 mm; the handbook allows -50 mm to 50 mm."},
    {"d add cp sharpening grind off_die", 2, "\"off_die\" is no change: write NAME=FORMULA"},
    {"d add cp sharpening grind punches_left=1", 2, "grind.punches_left follows from other values"},
    {"d add cp sharpening", 2,
     "The command add needs more than stands here.\nUsage: diewright add JOB KIND NAME"},
    /* rows of a shop's own: by line and column */
    {"printf '# source: x\\n# confidence: memory\\nkey,rated_kN\\nD,8oo\\n' >r.csv; d parts press_size --job "
     "cp --import r.csv",
     2, "r.csv:4: Column 2, rated_kN: \"8oo\" is no number."},
    {"printf '# source: x\\n# confidence: memory\\nkey,ratd_kN\\nD,8\\n' >r.csv; d parts press_size --job cp "
     "--import r.csv",
     2, "r.csv:3: Column 2, ratd_kN: the table press_size has no such column; near it: rated"},
    {"printf 'key,rated_kN\\nD,8\\n' >r.csv; d parts press_size --job cp --import r.csv", 2,
     "r.csv:2: No source is stated for this row"},
    {"printf 'key,rated_kN\\nD\\n' >r.csv; d parts press_size --job cp --import r.csv", 2,
     "r.csv:2: The line has 1 cells, the header 2."},
    {"printf 'key\\nD\\n' >r.csv; d parts pres_size --job cp --import r.csv", 2,
     "There is no parts table \"pres_size\"; near it: press_size"},
    {"d parts press_size --import r.csv", 2, "name the table, and the job behind --job."},
    {"d parts press_size --job cp --try", 2, "The option --try goes with --import or --refresh."},
    {"d parts press_size --job cp --refresh", 2, "All tables of a job are taken over at once"},
    {"d parts --job cp --refresh", 2,
     "The job's parts tables are those that are shipped: there is nothing to take over."},
    {"d parts press_size --job cp --import", 2,
     "The option --import needs a value behind it: a file of comma-separated values."},
    /* all or none */
    {"d set cp 'die_plate.thickness=36 mm' strip.thicknes=2", 2, "The job has no \"strip.thicknes\""},
    /* usage */
    {"d section cp --ram x", 2, "There is no \"x\" here."},
    {"d section cp --ram '3 kN'", 2, "\"3 kN\" is no height of the ram above shut"},
    {"d section cp --ram=-3", 2, "\"-3\" is no height of the ram above shut"},
    {"d solid cp --ram x", 2, "There is no \"x\" here."},
    {"d solid cp --ram=-3", 2, "\"-3\" is no height of the ram above shut"},
    {"d solid cp die_plate --ram 3", 2,
     "One plate is the same wherever the ram stands: --ram goes with the whole set.\nUsage: diewright solid "
     "JOB"},
    {"d solid cp --curves", 2, "Curves are of one plate: name it for --curves.\nUsage: diewright solid JOB"},
    {"d solid cp die_plate lower_shoe", 2, "The command solid has no use for \"lower_shoe\"."},
    {"d section cp --ram", 2,
     "The option --ram needs a value behind it: a height above shut, such as 12mm.\nUsage: diewright section "
     "JOB"},
    {"d check cp --format xml", 2,
     "There is no format \"xml\": it is text, csv or json.\nUsage: diewright check JOB"},
    {"d holes cp die_plate --datum middle", 2,
     "Places of die_plate cannot be counted from \"middle\": it takes a corner (\"left front\", \"right "
     "front\", "
     "\"left back\", \"right back\"), \"centre lines\", or a group or point with a hole in the plate, such "
     "as a "
     "dowel's."},
    {"d drawing cp die_plate --datum middle", 2, "Places of die_plate cannot be counted from \"middle\""},
    {"d inspection cp no_plate", 2, "The job has no plate \"no_plate\"; its plates:"},
    {"d drawing cp no_plate", 2, "The job has no plate \"no_plate\"; its plates:"},
    {"d drawing cp --datum 'left back'", 2, "The drawings of set and strip have no datum to choose"},
    {"d order cp --datum 'left back'", 2, "The command order has no option --datum."},
    {"d check cp --why", 2, "The command check has no option --why.\nUsage: diewright check JOB"},
    {"d show cp die_plate --why=yes", 2, "The option --why takes no value."},
    {"d show cp --why", 2, "Which value is to be explained?"},
    {"d check", 2, "The command check needs more than stands here.\nUsage: diewright check JOB"},
    {"d compare cp", 2, "The command compare needs more than stands here."},
    {"d compare cp nowhere", 3, "There is no job file nowhere.diejob."},
    {"d tolerance cp stack-hight", 2, "There is no \"hight\" here."},
    {"d tolerance cp punch-to-opening die_plate", 2,
     "The chain punch-to-opening is not there as the job stands, for die_plate."},
    {"d tolerance cp posts.length now", 2, "posts.length is no chain: \"now\" says nothing to it."},
    {"d tolerance cp die_plate.material", 2, "only a number has limits."},
    {"d tolerance cp stack-height --seed x", 2, "stands a whole number from 0 to 2000000000, not \"x\"."},
    {"d tolerance cp stack-height --worst", 2,
     "--worst asks all rules; \"stack-height\" says nothing to it."},
    {"d vary cp die_plate.thickness 20 40", 2, "The command vary needs more than stands here."},
    {"d vary cp strip.pitch listed", 2, "No parts table stands behind strip.pitch"},
    {"d vary cp posts.length 200,180", 2, "Values of a list ascend; 180 does not."},
    {"d vary cp posts.length 180,200 --across 'posts.length 1 2 1'", 2, "posts.length runs already"},
    {"d vary cp posts.length 180,200 --across posts.lead", 2, "What runs is NAME FROM TO STEP"},
    {"d vary cp posts.length 180,200 --sort stack.open", 2, "--show stack.open."},
    {"d vary cp die_plate.thickness 40 20 1", 2, "The range ends before it begins: from 40.0 mm to 20.0 mm."},
    {"d vary cp die_plate.thickness 20 40 1e-3", 2, "5000 are the most."},
    {"d vary cp die_plate.material 20 40 1", 2, "die_plate.material is no number"},
    {"d vary cp die_plate.thickness 20 40 1 --show die_plate.tickness", 2, "near it: die_plate.thickness"},
    {"d vary cp die_plate.thickness 20 40 1 posts.length", 2, "stand behind --show."},
    {"d vary cp die_plate.thickness 20 40 1 --show", 2,
     "The option --show needs a value behind it: names of values."},
    {"d mend cp turn-prof", 2, "No finding \"turn-prof\" stands; near it: turn-proof."},
    {"d mend cp guess-decides", 2, "findings are called \"guess-decides\": say which, "},
    {"d compare cp A B", 2, "The job has no revision \"A\": none was issued yet."},
    {"d remark cp die_plte hello", 2,
     "The job has no item, value or open finding \"die_plte\"; near it: die_plate"},
    {"d remark cp die_plate", 2, "What does the remark say?"},
    {"d remark cp --back", 2, "One remark is taken back, done or open again; it is named as remark_1."},
    {"d remark cp remark_9 --back", 2, "The job has no remark \"remark_9\""},
    {"d remark cp die_plate \"$(printf 'two\\nlines')\"", 2, "there is a line break in this one"},
    {"d waive cp turn-prof x", 2, "No finding \"turn-prof\" stands; near it: turn-proof."},
    {"d waive cp guess-decides x", 2, "findings are called \"guess-decides\": say which, \"guess-decides "},
    {"d waive cp turn-proof --back", 2, "turn-proof is not waived."},
    {"d waive cp --back", 2, "Which finding is to be open again?"},
    {"d issue cp 7", 2, "\"7\" is no revision: it is one or two letters, such as A."},
    {"d issue cp A B", 2, "The command issue has no use for \"B\"."},
    {"d history cp --since A", 2, "The job has no revision \"A\": none was issued yet."},
    {"d history cp --since", 2, "The option --since needs a value behind it: the letter of a revision."},
    {"d chekc cp", 2, "There is no command \"chekc\". Near it: check"},
    {"d --foo", 2, "There is no option --foo."},
    {"d", 2, "diewright - a workbench for press-tool die sets"},
    {"d --data", 2, "The option --data needs a folder behind it."},
    {"$P --data /nowhere check cp", 3,
     "There is no handbook in /nowhere/handbook; say where it is with --data FOLDER."},
    {"d help chekc", 2,
     "No command, option or key is called \"chekc\", and the handbook does not speak of it; near it: check"},
    {"d help no such word at all", 2,
     "is called \"no such word at all\", and the handbook does not speak of it."},
    {"d help :unod", 2, "near it: undo"},
    {"d help --gruond", 2, "near it: ground"},
    /* the screens want a terminal */
    {"d cp", 2, "a terminal"},
    {"d cp | cat; d cp", 2, "a terminal"},
    {"unset TERM; d cp", 2, "a terminal"},
    {"d cp --look", 2, "a terminal"},
};

/* "diewright: Words of a sentence." on the first line; but for the help, which is one as a whole. */
static void is_a_sentence(const char *said)
{
    size_t n = strcspn(said, "\n");
    if (strncmp(said, "diewright - ", 12) == 0)
        return;
    ck_assert_msg(strncmp(said, "diewright: ", 11) == 0 && n > 20, "%s", said);
    ck_assert_msg(strchr(".?:)", said[n - 1]) || strstr(said, ": diewright "), "%s", said);
}

START_TEST(what_is_refused_is_told_in_a_whole_sentence_and_leaves_the_file_as_it_is)
{
    char *path = base_format("%s/cp.diejob", bench.folder), *before, *after;
    size_t n, m;
    ck_ok(base_read_file(path, &before, &n, why));
    struct said s = bench_want(&bench, refusals[_i].line, refusals[_i].status);
    ck_ok(base_read_file(path, &after, &m, why));
    ck_assert_msg(n == m && memcmp(before, after, n) == 0, "%s touched the job", refusals[_i].line);
    ck_assert_msg(strstr(s.err, refusals[_i].says) != NULL, "%s said:\n%s", refusals[_i].line, s.err);
    ck_assert_str_eq(s.out, "");
    is_a_sentence(s.err);
    free(path);
    free(before);
    free(after);
    said_done(&s);
}
END_TEST

static const struct { const char *line, *says;
} greetings[] = {
    {"d --help", "diewright JOB [--look]"},
    {"d -h", "diewright check JOB"},
    {"d check --help", "diewright check JOB...\n  findings, of one job or several; exit status 1"},
    {"d help", "diewright - a workbench"},
    {"d help", "  diewright help [WORD]"},
    {"d help set", "diewright set JOB NAME=FORMULA...\n"},
    {"d vary --help", "--show                   what else is told at each point: names of values"},
    {"d vary cp x 1 2 3 --help", "diewright vary JOB"},
    {"d help --ground", "  goes with: show, plan, section, holes, drawing, solid, paper, tolerance\n"},
    {"d help ground", "  goes with: show, plan"},
    {"d help color", "--color=never"},
    {"d help ground", "  x            :ground  new or fully ground"},
    {"d help undo", "\nOn the screens:\n  :undo [NUMBER]"},
    {"d help Ctrl-R", ":redo-last  make it again"},
    {"d help compare", "\nOn the screens:\n  :compare EDITS|REV|FILE"},
    {"d help :set", "  :set NAME=FORMULA"},
    {"d help shut height", "(elsewhere: die height"},
    {"d help cutting_force", "function  cutting_force(cut: length"},
    {"d help die height", "word      shut height"},
    {"d help help", "diewright help [WORD]"},
    {"d --version", "diewright 0."},
    {"d --keys", "undo"},
};

START_TEST(help_version_and_keys_go_to_the_output_with_exit_status_0)
{
    struct said s = bench_want(&bench, greetings[_i].line, 0);
    ck_assert_msg(strstr(s.out, greetings[_i].says) != NULL, "%s", s.out);
    ck_assert_str_eq(s.err, "");
    said_done(&s);
}
END_TEST

START_TEST(a_refused_template_names_those_that_are_there)
{
    struct said s = bench_want(
        &bench, "d new other --like nix; ls \"$DATA\"/templates \"$DATA\"/demo | sed -n 's/[.]txt$//p'", 0);
    ck_assert_int_gt((int)strlen(s.out), 10);
    for (char *word = strtok(s.out, "\n"); word; word = strtok(NULL, "\n"))
        ck_assert_msg(strstr(s.err, word) != NULL, "%s is not named in %s", word, s.err);
    said_done(&s);
}
END_TEST

TCase *refusal_tests(void)
{
    TCase *t = tcase_create("refusals");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, what_is_refused_is_told_in_a_whole_sentence_and_leaves_the_file_as_it_is, 0,
                        COUNT_OF(refusals));
    tcase_add_loop_test(t, help_version_and_keys_go_to_the_output_with_exit_status_0, 0, COUNT_OF(greetings));
    tcase_add_test(t, a_refused_template_names_those_that_are_there);
    return t;
}
