/* The calculator, the handbook and the parts tables from the command line. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* Worked out by hand from the units' definitions (international inch and pound, standard gravity, ISO 80000-3
   and -4). */
static const struct { const char *expression, *value, *unit; } sums[] = {
    {"1 in", "25.4", "mm"},
    {"1/2 in + 12.3 mm", "25", "mm"},
    {"2 + 3 * 4", "14", ""},
    {"2^3^2", "512", ""},
    {"-2^2", "-4", ""},
    {"100 mm * 20 mm", "2000", "mm2"},
    {"1 lbf", "0.0044482216152605", "kN"},
    {"1 ton_us", "8.896443230521", "kN"},
    {"360 MPa * 100 mm2", "36", "kN"},
    {"sin(30 deg)", "0.5", ""},
    {"cutting_force(cut: 62.8 mm, strip: 2 mm, shear: 280 MPa)", "35.168", "kN"},
    {"max(3 mm, 1/8 in)", "3.175", "mm"},
    {"rise_to(11.2 mm, 0.5 mm)", "11.5", "mm"},
};

START_TEST(the_calculator_gives_value_and_unit)
{
    char *line = base_format("d eval '%s' --format csv", sums[_i].expression), *word = NULL;
    struct said s = bench_want(&bench, line, 0);
    const char *at = strchr(s.out, '\n') + 1;
    word = rows_take(&at);
    char *unit = rows_take(&at);
    double wanted = strtod(sums[_i].value, NULL);
    ck_assert_msg(fabs(strtod(word, NULL) - wanted) <= 1e-9 * fabs(wanted), "%s is %s, not %s",
                  sums[_i].expression, word, sums[_i].value);
    ck_assert_str_eq(unit, sums[_i].unit);
    free(line);
    free(word);
    free(unit);
    said_done(&s);
}
END_TEST

static const struct { const char *line, *out;
} plain[] = {
    {"d eval '1 in'", "25.4 mm\n"},     {"d eval 1/2 in '+' 12.3 mm", "25 mm\n"}, {"d eval '3 > 2'", "yes\n"},
    {"d eval '\"a\" = \"b\"'", "no\n"}, {"d eval -- '-2 mm'", "-2 mm\n"},
};

START_TEST(the_calculator_prints_one_line)
{
    struct said s = bench_want(&bench, plain[_i].line, 0);
    ck_assert_str_eq(s.out, plain[_i].out);
    said_done(&s);
}
END_TEST

/* Each source once, with what leans on it; the counts add up to the sentence below the list. */
START_TEST(the_sources_are_listed_with_what_leans_on_them)
{
    struct said s = bench_want(&bench, "d handbook --sources --format csv", 0);
    int cited = 0, memory = 0;
    ck_assert_ptr_nonnull(strstr(s.out, "\nregulation,29 CFR 1910.217(d)(4),4,0,\"word guard note (seen)"));
    char *rest = NULL, *book = NULL;
    for (char *line = strtok_r(s.out, "\r\n", &rest); line; line = strtok_r(NULL, "\r\n", &rest)) {
        bool quoted = line[strcspn(line, ",") + 1] == '"';
        char *at = quoted ? strstr(line, "\",") + 1 : strchr(strchr(line, ',') + 1, ',');
        cited += atoi(at + 1);
        memory += atoi(strchr(at + 1, ',') + 1);
        if (strncmp(line, "book,\"P. C. Sharma", 18) == 0)
            book = line;
    }
    ck_assert_ptr_nonnull(book);
    ck_assert_ptr_nonnull(strstr(book, "force_with_shear_mean (answer seen: examples 2.6 and 2.7, p. 135)"));
    said_done(&s);
    s = bench_want(&bench, "d handbook --sources", 0);
    char *times = base_format("%d times a source is cited", cited),
         *last = base_format("%d rest on memory.", memory);
    const char *below = strstr(s.out, times);
    ck_assert_msg(below && strstr(below, last), "%s, %s", times, last);
    free(times);
    free(last);
    said_done(&s);
}
END_TEST

static const struct { const char *word, *says[3]; } looks[] = {
    {"cutting_force", {"function  cutting_force(cut: length, strip: length, shear: pressure) =", "source: "}},
    {"shut height", {"word      shut height", "source: "}},
    {"SHUT HEIGHT", {"word      shut height"}},
    {"die height", {"word      shut height (elsewhere: die height", "source: "}},
    {"leader pin", {"word      guide post"}},
    {"stripping_share", {"factor    stripping_share = "}},
    {"screw-engagement", {"rule      screw-engagement", "judges engagement", "source: "}},
    {"corners", {"pattern   corners: end, from the ends; side, from the sides"}},
    {"parts_across", {"value     strip.parts_across: "}},
    {"parts across", {"value     strip.parts_across: "}},
    {"length", {"value     plate.length: length"}},
    {"plate", {"kind      plate"}},
};

START_TEST(the_handbook_is_looked_up_by_a_word)
{
    char *line = base_format("d handbook '%s'", looks[_i].word);
    struct said s = bench_want(&bench, line, 0);
    for (size_t i = 0; i < COUNT_OF(looks[_i].says) && looks[_i].says[i]; i++)
        ck_assert_msg(strstr(s.out, looks[_i].says[i]) != NULL,
                      "no \"%s\" in\n%.300s", looks[_i].says[i], s.out);
    free(line);
    /* what is called so stands before all that only speaks of it */
    ck_assert_msg(strncmp(s.out, looks[_i].says[0], strlen(looks[_i].says[0])) == 0 ||
                      strncmp(s.out, "word", 4) == 0 || strncmp(s.out, "caution", 7) == 0,
                  "%.300s", s.out);
    said_done(&s);
}
END_TEST

START_TEST(the_words_alone_with_what_other_shops_say)
{
    struct said s = bench_want(&bench, "d handbook --words --format csv", 0);
    int words = 0, named_elsewhere = 0;
    for (const char *at = strchr(s.out, '\n') + 1; *at; words++) {
        char *what = rows_take(&at), *name = rows_take(&at), *also = rows_take(&at), *help = rows_take(&at),
             *source = rows_take(&at), *read = rows_take(&at);
        ck_assert_str_eq(what, "word");
        ck_assert_msg(strlen(help) > 40 && *source, "%s: %s (%s)", name, help, source);
        named_elsewhere += *also != '\0';
        free(what);
        free(name);
        free(also);
        free(help);
        free(source);
        free(read);
        rows_next(&at);
    }
    ck_assert_int_ge(words, 25);
    ck_assert_int_ge(named_elsewhere, 25);
    said_done(&s);
}
END_TEST

/* Lines of the handbook's files that begin with two blanks and KEY. */
static int lines_of_the_handbook(const char *pattern)
{
    char *line = base_format("cat \"$DATA\"/handbook/*.txt | grep -c '%s'", pattern);
    struct said s = bench_want(&bench, line, 0);
    int n = atoi(s.out);
    free(line);
    said_done(&s);
    return n;
}

START_TEST(every_worked_example_is_worked_and_agrees)
{
    struct said s = bench_want(&bench, "d handbook --examples --format csv", 0);
    ck_assert_int_eq(rows_count(s.out), lines_of_the_handbook("^  try "));
    ck_assert_ptr_null(strstr(s.out, ",no,"));
    said_done(&s);
    s = bench_want(&bench, "d handbook --examples", 0);
    ck_assert_ptr_nonnull(strstr(s.out, " tried, 0 do not agree\n"));
    ck_assert_ptr_nonnull(strstr(s.out, " tried on whole sets, 0 do not agree\n"));
    said_done(&s);
}
END_TEST

START_TEST(everything_in_the_handbook_names_its_source)
{
    struct said s = bench_want(&bench, "d handbook --format csv", 0);
    ck_assert_int_eq(
        rows_count(s.out),
        lines_of_the_handbook(
            "^word \\|^differ \\|^factor \\|^function \\|^rule \\|^kind \\|^pattern \\|^ *caution [A-Z]"));
    const char *at = s.out;
    while (*at) {
        char *what = rows_take(&at), *name = rows_take(&at), *text = rows_take(&at), *help = rows_take(&at),
             *source = rows_take(&at);
        bool cited = strcmp(what, "factor") == 0 || strcmp(what, "function") == 0 ||
                     strcmp(what, "rule") == 0;
        ck_assert_msg(!cited || *source, "%s %s has no source", what, name);
        free(what);
        free(name);
        free(text);
        free(help);
        free(source);
        rows_next(&at);
    }
    said_done(&s);
}
END_TEST

/* A handbook spoilt in one place: the examples must tell, or the loading. CHANGE is for sed on all its
   files. */
static const struct { const char *change; int status; const char *says;
} spoilt[] = {
    {"s/gives force = dull_edge \\* cut \\* strip \\* shear/gives force = dull_edge * cut * strip * shear * "
     "1.01/",
     2, "not agree"},
    {"s/gives force = share \\* force/gives force = 2 * share * force/", 2, "not agree"},
    {"s/^factor dull_edge : number = .*/factor dull_edge : number = 1.2/", 2, "not agree"},
    {"/^kind plate/,/^kind / s/thickness - ground \\* regrind/thickness + ground * regrind/", 2, "not agree"},
    {"s/gives force = dull_edge \\* cut \\* strip \\* shear/gives force = dull_edge * cut * shear/", 2,
     "30-functions.txt:"},
    {"s/^factor dull_edge /factr dull_edge /", 2, ".txt:"},
};

START_TEST(a_spoilt_handbook_makes_its_worked_examples_fail)
{
    char *line = base_format("rm -rf spoilt; cp -r \"$DATA\" spoilt && sed -i '%s' spoilt/handbook/*.txt && "
                             "! diff -r \"$DATA\" spoilt >/dev/null",
                             spoilt[_i].change);
    bench_do(&bench, line, 0);
    struct said s = bench_run(&bench, "$P --data spoilt handbook --examples");
    ck_assert_msg(s.status == spoilt[_i].status, "%s: exit status %d: %s", spoilt[_i].change, s.status,
                  s.err);
    ck_assert_msg(strstr(s.err, spoilt[_i].says) != NULL, "%s: %s", spoilt[_i].change, s.err);
    free(line);
    said_done(&s);
}
END_TEST

/* A shop's own rule and own table, as DEVELOPERS.md and the manual tell it. */
START_TEST(a_shop_adds_a_rule_in_four_lines)
{
    static const char add[] =
        "rm -rf own; cp -r \"$DATA\" own && cat >own/handbook/90-own.txt <<'X'\n"
        "rule own-die-plate\n  once\n  value stack.die_plate.thickness\n  caution unless at least 35 mm\n"
        "  says Our die plates are {limit} or thicker; this one is {value}.\n  source own rule\nX\n";
    bench_do(&bench, add, 0);
    struct said s = bench_want(&bench, "$P --data own check cp --format csv", 1);
    ck_assert_msg(strstr(s.out, "\ncaution,own-die-plate,") != NULL, "%s%s", s.out, s.err);
    ck_assert_ptr_nonnull(strstr(s.out, "Our die plates are 35.0 mm or thicker; this one is 34.0 mm."));
    said_done(&s);
}
END_TEST

/* A kind of a shop's own, told by records alone: it stands in the section and on the plan, and runs into what
   stands there. Its letter is one that the demo job has nowhere else. */
START_TEST(a_shop_adds_a_kind_with_a_body)
{
    static const char add[] =
        "rm -rf own; cp -r \"$DATA\" own && cat >own/handbook/90-own.txt <<'X'\n"
        "kind towers\n  title tower\n  help Carries a sensor.\n  letter z\n  lay\n"
        "  asked seat_in : plate\n    help Stands on it.\n"
        "  asked height : length = 60 mm\n    help Over the plate.\n"
        "  body tower\n    letter z\n    on seat_in\n    diameter = 40 mm\n"
        "    from = seat_in.top\n    to = seat_in.top + height\nX\n"
        "d new own-job --like cover-plate --data own >/dev/null 2>&1; "
        "d dump own-job --data own >own-job.txt; printf 'towers towers\n  seat_in = lower_shoe\n"
        "  lay one on lower_shoe\n    along = -128 mm\n    across = -111 mm\n' >>own-job.txt; "
        "$P --data own load with-tower own-job.txt >/dev/null";
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, add, 0);
    struct said s = bench_run(&b, "$P --data own check with-tower --format csv");
    ck_assert_msg(strstr(s.out, "bodies-meet,posts") && strstr(s.out, "towers (tower)"), "%s%s", s.out,
                  s.err);
    said_done(&s);
    s = bench_want(&b, "$P --data own section with-tower", 0);
    ck_assert_msg(strstr(s.out, " z ") != NULL, "%s", s.out);
    said_done(&s);
    s = bench_want(&b, "$P --data own plan with-tower lower_shoe", 0);
    ck_assert_msg(strstr(s.out, "zz") != NULL, "%s", s.out);
    said_done(&s);
}
END_TEST

START_TEST(every_parts_table_is_listed_with_standard_and_confidence_and_prints_its_rows)
{
    struct said s = bench_want(&bench, "d parts --format csv", 0);
    const char *at = strchr(s.out, '\n') + 1;
    while (*at) {
        char *table = rows_take(&at), *rows = rows_take(&at), *standard = rows_take(&at),
             *confidence = rows_take(&at), *help = rows_take(&at);
        char *line = base_format("d parts %s --format csv", table);
        struct said one = bench_want(&bench, line, 0);
        ck_assert_msg(rows_count(one.out) == atoi(rows), "%s: %d rows, not %s", table, rows_count(one.out),
                      rows);
        ck_assert_msg(*confidence && *help, "%s", table);
        said_done(&one);
        free(line);
        free(table);
        free(rows);
        free(standard);
        free(confidence);
        free(help);
        rows_next(&at);
    }
    said_done(&s);
}
END_TEST

/* Lengths of ISO 4762 M10 screws, and that the job's own tables are the shipped ones. */
START_TEST(a_job_carries_the_parts_tables_it_was_made_with)
{
    bench_do(&bench,
             "d parts cap_screw_length --format csv >shipped.csv; d parts cap_screw_length --job cp --format "
             "csv >own.csv; cmp shipped.csv own.csv",
             0);
    bench_do(&bench, "d parts cap_screw_length --format csv | grep -q '^M10,65,'", 0);
}
END_TEST

static const char our_press[] = "printf '# source: name plate, invented\\n# confidence: published\\n"
                                "key,frame,rated_kN,most_height_mm,adjustment_mm,stroke_in\\nnumber 7,open "
                                "front,800,330,80,4\\n' >our-press.csv; ";

/* A press of the shop, seen first, then taken; the job has it, the shipped tables have not. */
START_TEST(a_shops_own_press_is_imported_and_picked)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *line = base_format("%sd parts press_size --job cp --import our-press.csv --try", our_press);
    struct said s = bench_want(&b, line, 0);
    ck_assert_ptr_nonnull(strstr(s.err, "our_press: 1 row of press_size, not taken."));
    said_done(&s);
    free(line);
    s = bench_want(&b, "d parts press_size --job cp --format csv", 0);
    ck_assert_ptr_null(strstr(s.out, "number 7"));
    said_done(&s);
    s = bench_want(&b, "d parts press_size --job cp --import our-press.csv", 0);
    ck_assert_ptr_nonnull(strstr(s.err, "our_press: 1 row of press_size.\n"));
    said_done(&s);
    s = bench_want(&b, "d parts press_size --job cp --format csv", 0);
    ck_assert_ptr_nonnull(strstr(
        s.out, "\nnumber 7,open front,800,,330,80,101.6,,,,,,,,published,,\"name plate, invented\"\r\n"));
    said_done(&s);
    s = bench_want(&b, "d set cp 'press.size=\"number 7\"' --format csv", 0);
    char *is = rows_find(s.out, "press.rated", NULL, 3);
    ck_assert(is && strtod(is, NULL) == 800);
    free(is);
    said_done(&s);
    s = bench_want(&b, "d parts press_size --format csv", 0);
    ck_assert_ptr_null(strstr(s.out, "number 7"));
    said_done(&s);
    /* the job as text carries the row along; exported rows are imported again as they are */
    bench_do(&b, "d dump cp >a.txt && d load two a.txt && d dump two >b.txt && cmp a.txt b.txt", 0);
    bench_do(
        &b,
        "d parts press_size --job two --format csv >all.csv && d parts press_size --job cp --import all.csv",
        0);
}
END_TEST

/* The program comes with newer tables: the job keeps its own until it is told to take them over, and its own
   rows then too. */
START_TEST(newer_tables_are_taken_over_when_asked_for)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *line = base_format("%sd parts press_size --job cp --import our-press.csv", our_press);
    bench_do(&b, line, 0);
    free(line);
    bench_do(&b,
             "rm -rf newer; cp -r \"$DATA\" newer && sed -i 's/^open front 630 kN,open front,630,/open front "
             "630 kN,open front,640,/' newer/parts/presses.csv",
             0);
    static const struct { const char *line, *rated, *err;
    } steps[] = {
        {"$P --data newer show cp press.rated --format csv", "630", ""},
        {"$P --data newer parts --job cp --refresh --try --format csv", NULL,
         "presses.csv: 1 row that the job's copy has not, 1 that only the copy has.\n"},
        {"$P --data newer show cp press.rated --format csv", "630", ""},
        {"$P --data newer parts --job cp --refresh --format csv", NULL,
         "presses.csv: 1 row that the job's copy has not, 1 that only the copy has.\n"},
        {"$P --data newer show cp press.rated --format csv", "640", ""},
        /* the job carries it, also where the program is older */
        {"d show cp press.rated --format csv", "640", ""},
    };
    for (size_t i = 0; i < COUNT_OF(steps); i++) {
        struct said s = bench_want(&b, steps[i].line, 0);
        char *rated = rows_find(s.out, "press.rated", NULL, steps[i].rated ? 2 : 3);
        ck_assert_msg(rated && strcmp(rated, steps[i].rated ? steps[i].rated : "640") == 0, "%s: %s",
                      steps[i].line, s.out);
        ck_assert_str_eq(s.err, steps[i].err);
        free(rated);
        said_done(&s);
    }
    bench_do(&b, "$P --data newer parts press_size --job cp --format csv | grep -q '^number 7,'", 0);
    bench_do(&b, "$P --data newer parts --job cp --refresh", 2);
}
END_TEST

/* A shop's own folder of a version before: it knows no kind "joined", and a revision of fewer lines. */
START_TEST(a_handbook_of_before_issues_and_joins_what_it_knows)
{
    bench_do(&bench,
             "rm -rf before; cp -r \"$DATA\" before && sed -i '/^kind joined/,/^$/d; "
             "s/ made_by withdrawn/ withdrawn/; s/ ordered ordered_by$//; /^  asked second_person/,+2d' "
             "before/handbook/6*.txt && $P --data before new early --like cover-plate && "
             "cp early.diejob mail.diejob && "
             "$P --data before set mail risers.height=70 && $P --data before join early mail --take && "
             "$P --data before issue early",
             0);
    struct said s = bench_want(&bench, "$P --data before dump early", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "height = 70"));
    ck_assert_ptr_nonnull(strstr(s.out, "letter A"));
    ck_assert_ptr_null(strstr(s.out, "joined"));
    said_done(&s);
    s = bench_want(&bench, "$P --data before ordered early", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "The handbook's kind \"revision\" has no line \"ordered\""));
    said_done(&s);
}
END_TEST

TCase *book_tests(void)
{
    TCase *t = tcase_create("books");
    tcase_add_test(t, a_handbook_of_before_issues_and_joins_what_it_knows);
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, the_calculator_gives_value_and_unit, 0, COUNT_OF(sums));
    tcase_add_loop_test(t, the_calculator_prints_one_line, 0, COUNT_OF(plain));
    tcase_add_test(t, the_sources_are_listed_with_what_leans_on_them);
    tcase_add_loop_test(t, the_handbook_is_looked_up_by_a_word, 0, COUNT_OF(looks));
    tcase_add_test(t, every_worked_example_is_worked_and_agrees);
    tcase_add_test(t, the_words_alone_with_what_other_shops_say);
    tcase_add_test(t, everything_in_the_handbook_names_its_source);
    tcase_add_loop_test(t, a_spoilt_handbook_makes_its_worked_examples_fail, 0, COUNT_OF(spoilt));
    tcase_add_test(t, a_shop_adds_a_rule_in_four_lines);
    tcase_add_test(t, a_shop_adds_a_kind_with_a_body);
    tcase_add_test(t, every_parts_table_is_listed_with_standard_and_confidence_and_prints_its_rows);
    tcase_add_test(t, a_job_carries_the_parts_tables_it_was_made_with);
    tcase_add_test(t, a_shops_own_press_is_imported_and_picked);
    tcase_add_test(t, newer_tables_are_taken_over_when_asked_for);
    return t;
}
