/* set: what moved and which findings came or went; the demo's three changes against an independent
   calculation. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the demo's changes ------------------------------------------------------------------ */

/* One change each from the demo job as it is. MOVES: "name was is" in mm, new state; STAYS: names that must
 * not be told. Stock sizes: ISO 4762 lengths 65, 70, 80; ISO 8734 lengths 50, 55, 60; ISO 3 R20 lengths 200,
 * 224. */
static const struct { const char *change, *moves[9], *stays[8], *came, *went;
} changes[] = {
    {"die_backing.thickness=16 mm",
     {"die_backing.thickness 12 16", "die_screws.grip 53 57", "die_screws.length 70 80",
      "die_dowels.length 55 60", "stack.shut_height 224.2 228.2", "posts.length_need 194.7 198.7",
      "posts.entry 53.3 49.3", "posts.end_room 22.2 26.2"},
     {"posts.length", "punch_screws.length", "punch_dowels.length", "stripper_bolts.length", "die_plate.mass",
      "stripper_springs.free_length"},
     NULL,
     NULL},
    {"die_plate.thickness=36 mm",
     {"die_plate.thickness 34 36", "stack.die_face 97 99", "stack.shut_height 224.2 226.2",
      "stack.height_on_bolster 279.2 281.2", "posts.length_need 194.7 196.7"},
     {"posts.length", "die_screws.length", "die_dowels.length", "punch_screws.length", "punch_dowels.length",
      "stripper_bolts.length", "stripper_springs.free_length"},
     NULL,
     NULL},
    {"die_plate.thickness=40 mm",
     {"die_plate.thickness 34 40", "stack.shut_height 224.2 230.2", "posts.length_need 194.7 200.7",
      "posts.length 200 224", "posts.end_room 22.2 4.2"},
     {"die_screws.length", "die_dowels.length", "punch_screws.length", "punch_dowels.length",
      "stripper_bolts.length"},
     "+ fault: posts: the posts' ends stand 3.3 mm out of upper shoe when all is ground",
     NULL},
};

static void moved(const char *csv, const char *move)
{
    char name[80], *was, *is;
    double before, after;
    ck_assert_int_eq(sscanf(move, "%79s %lf %lf", name, &before, &after), 3);
    was = rows_find(csv, name, NULL, 2);
    is = rows_find(csv, name, NULL, 3);
    ck_assert_msg(was && is, "%s did not move in\n%s", name, csv);
    ck_assert_msg(fabs(strtod(was, NULL) - before) < 1e-6 && fabs(strtod(is, NULL) - after) < 1e-6,
                  "%s moved from %s to %s, not as %s", name, was, is, move);
    free(was);
    free(is);
}

START_TEST(a_change_of_the_demo_moves_what_it_must_and_nothing_else)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *line = base_format("d set cp '%s' --format csv", changes[_i].change);
    struct said s = bench_want(&b, line, 0);
    for (size_t i = 0; i < COUNT_OF(changes[_i].moves) && changes[_i].moves[i]; i++)
        moved(s.out, changes[_i].moves[i]);
    for (size_t i = 0; i < COUNT_OF(changes[_i].stays) && changes[_i].stays[i]; i++)
        ck_assert_msg(!rows_find(s.out, changes[_i].stays[i], NULL, 0), "%s moved", changes[_i].stays[i]);
    ck_assert_msg(!changes[_i].came || strstr(s.err, changes[_i].came), "%s", s.err);
    ck_assert_msg(strstr(s.err, "+ fault") == NULL || changes[_i].came, "%s", s.err);
    free(line);
    said_done(&s);
}
END_TEST

/* A whole outline, a line of it, and what it prints: a rectangle of 26 x 44 with a half circle on it. Of
   its line 26 + 2 x 44 is cut, and of the half circle what lies on the strip, whose edge stands 8 over its
   middle: twice 13 asin(8 / 13). */
START_TEST(an_outline_is_typed_printed_and_changed)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d set cp 'blank.shape=\"outline\"'", 0);
    bench_do(
        &b, "d outline cp blank 'at -13, -22' 'line by 26, 0' 'line by 0, 44' 'arc by -26, 0 radius 13 left'",
        0);
    struct said s = bench_want(&b, "d outline cp blank", 0);
    ck_assert_str_eq(s.out, "at -13 mm, -22 mm\nline by 26 mm, 0 mm\nline by 0 mm, 44 mm\narc by -26 mm, 0 "
                            "mm radius 13 mm left\n");
    said_done(&s);
    s = bench_want(&b, "d show cp blank.cut blank.cut_before --format csv", 0);
    char *cut = rows_find(s.out, "blank.cut", NULL, 2), *gone = rows_find(s.out, "blank.cut_before", NULL, 2);
    /* the arc bulges beyond the strip; some of the rest has been cut before */
    ck_assert_double_gt(strtod(gone, NULL), 0);
    ck_assert_double_eq_tol(strtod(cut, NULL) + strtod(gone, NULL), 114 + 26 * asin(8.0 / 13), 1e-6);
    free(cut);
    free(gone);
    said_done(&s);
    s = bench_want(&b, "d set cp 'blank.outline.3=line by 0, 40' --format csv", 0);
    moved(s.out, "blank.size_across 57 53");
    said_done(&s);
    bench_do(&b, "d set cp blank.outline.4=", 0);
    s = bench_want(&b, "d dump cp", 0);
    ck_assert_ptr_nonnull(strstr(
        s.out,
        "  outline\n    at -13 mm, -22 mm\n    line by 26 mm, 0 mm\n    line by 0 mm, 40 mm\n  lay one"));
    said_done(&s);
}
END_TEST

/* Stations by words: tried alone nothing is kept; taken it is one edit. The pitch is 34, of six stations. */
START_TEST(stations_are_moved_by_their_numbers)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(&b, "d stations cp insert 3 --try --format csv", 0);
    moved(s.out, "strip.stations 6 7");
    moved(s.out, "die_plate.length 264 298");
    said_done(&s);
    s = bench_want(&b, "d history cp --format csv", 0);
    ck_assert_int_eq(rows_count(s.out), 1);
    said_done(&s);
    s = bench_want(&b, "d stations cp move small_holes 4 --format csv", 0);
    moved(s.out, "small_holes.number 2 4");
    moved(s.out, "small_holes.x -51 17");
    said_done(&s);
    bench_do(&b, "d stations cp insert 3", 0);
    s = bench_want(&b, "d stations cp --format csv", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "\n3,-34,idle_2,idle,1,,,,,\r\n"));
    ck_assert_ptr_nonnull(strstr(s.out, "\n5,34,small_holes,pierce,2,4.5,"));
    ck_assert_ptr_nonnull(strstr(s.out, "\n2,-68,middle_hole,pierce,1,11.0,")); /* and who stands there */
    ck_assert_ptr_nonnull(strstr(s.out, ",\"pilots, lifters\"\r\n"));
    said_done(&s);
    s = bench_want(&b, "d history cp --format csv", 0);
    ck_assert_int_eq(rows_count(s.out), 3);
    said_done(&s);
    static const char *const refused[][2] = {
        {"d stations cp turn 3", "Stations: move ITEM or NUMBER TO, swap A B, insert NUMBER"},
        {"d stations cp close 2", "only an idle one is taken out"},
        {"d stations cp move small_holes 0", "a whole one from 1 to 999"},
        {"d stations cp copy pilots 3", "pilots names the stations that it stands in"},
    };
    for (size_t i = 0; i < COUNT_OF(refused); i++) {
        s = bench_want(&b, refused[i][0], 2);
        ck_assert_msg(strstr(s.err, refused[i][1]), "%s", s.err);
        said_done(&s);
    }
}
END_TEST

/* ---- against the sheet ---------------------------------------------------------------------- */

static const struct { const char *job, *change, *sheet; } sheets[] = {
    {"cover-plate", NULL, ""},
    {"cover-plate", "die_backing.thickness=16 mm", "die_backing=16"},
    {"cover-plate", "die_plate.thickness=36 mm", "die_plate=36"},
    {"cover-plate", "die_plate.thickness=40 mm", "die_plate=40"},
    {"cover-plate", "punch_backing.thickness=12.5 mm", "punch_backing=12.5"},
    {"spacer-plate", NULL, ""},
    {"spacer-plate", "die_backing.thickness=0.5 in", "die_backing=12.7"},
    {"spacer-plate", "job.unit=\"mm", ""}, /* the same job read in mm */
};

/* The sheet counts in mm, N, kg. */
static double factor_of(const char *unit)
{
    static const struct { const char *unit; double factor; } factors[] = {
        {"", 1}, {"mm", 1}, {"in", 25.4}, {"N", 1}, {"kN", 1000}, {"kg", 1}, {"N/mm", 1}, {"%", 0.01},
    };
    for (size_t i = 0; i < COUNT_OF(factors); i++)
        if (strcmp(factors[i].unit, unit) == 0)
            return factors[i].factor;
    ck_abort_msg("no factor for the unit \"%s\"", unit);
    return 0;
}

/* Holds one row of the sheet against `show` in STATE. */
static void agrees(const char *shown, const char *name, const char *state, double wanted)
{
    char *value = rows_find(shown, name, state, 2), *unit = rows_find(shown, name, state, 3);
    if (!value) { /* it does not hang on the state */
        value = rows_find(shown, name, "", 2);
        unit = rows_find(shown, name, "", 3);
    }
    ck_assert_msg(value && unit, "show has no %s", name);
    double got = strtod(value, NULL) * factor_of(unit);
    ck_assert_msg(*value && fabs(got - wanted) <= 1e-6 * fmax(1, fabs(wanted)),
                  "%s, %s: %.9g, on the sheet %.9g", name, state, got, wanted);
    free(value);
    free(unit);
}

START_TEST(every_name_of_the_independent_sheet_shows_the_same_figure)
{
    struct bench b;
    int status, compared = 0;
    bench_open(&b, sheets[_i].job);
    if (sheets[_i].change) {
        char *line = base_format("d set cp '%s%s'", sheets[_i].change,
                                 strchr(sheets[_i].change, '"') ? "\"" : "");
        bench_do(&b, line, 0);
        free(line);
    }
    struct said shown = bench_want(&b, "d show cp --format csv", 0);
    char *command = base_format("python3 tests/demo/expected.py %s %s", sheets[_i].job, sheets[_i].sheet);
    char *sheet = base_copy(output_of(command, &status));
    ck_assert_int_eq(status, 0);
    for (const char *at = sheet; *at; rows_next(&at)) {
        char *name = rows_take(&at), *state = rows_take(&at), *value = rows_take(&at);
        if (strncmp(name, "wanted.", 7) != 0) { /* else a rule's limit, below */
            for (int k = 0; k < 2; k++)
                if (strcmp(state, k ? "new" : "ground") != 0)
                    agrees(shown.out, name, k ? "ground" : "new", strtod(value, NULL)), compared++;
        }
        free(name);
        free(state);
        free(value);
    }
    ck_assert_int_gt(compared, 130);
    free(command);
    free(sheet);
    said_done(&shown);
}
END_TEST

/* ---- what is told ------------------------------------------------------------------------------ */

START_TEST(findings_that_come_and_go_are_told_and_undone_edits_tell_them_the_other_way)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(&b, "d set cp 'die_plate.thickness=40 mm'", 0);
    ck_assert_msg(strstr(s.out, "+ fault: posts: ") == s.out, "%s", s.out); /* before what moved */
    said_done(&s);
    s = bench_want(&b, "d set cp 'die_plate.thickness=34 mm'", 0);
    ck_assert_msg(strstr(s.out, "- fault: posts: ") == s.out, "%s", s.out);
    said_done(&s);
}
END_TEST

static int lines_of(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += *text == '\n';
    return n;
}

/* For people the first lines of what moved, and how many more; all of it when asked, and for programs. */
START_TEST(twenty_lines_of_what_moved_are_told_and_all_when_asked)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "cp cp.diejob two.diejob && cp cp.diejob three.diejob", 0);
    struct said some = bench_want(&b, "d set cp 'die_plate.thickness=36 mm'", 0),
                all = bench_want(&b, "d set two 'die_plate.thickness=36 mm' --all", 0),
                csv = bench_want(&b, "d set three 'die_plate.thickness=36 mm' --format csv", 0);
    const char *moved = strstr(some.out, "name  "), *whole = strstr(all.out, "name  ");
    ck_assert_int_eq(lines_of(moved), 22);
    int more = lines_of(whole) - 21;
    char *foot = base_format("%d more moved: --all lists them.\n", more);
    ck_assert_int_gt(more, 5);
    ck_assert_msg(strstr(moved, foot) != NULL, "%s", moved);
    ck_assert_ptr_null(strstr(whole, "more moved"));
    ck_assert_int_eq(lines_of(csv.out), lines_of(whole));
    free(foot);
    said_done(&some);
    said_done(&all);
    said_done(&csv);
}
END_TEST

/* One edit each, which undo takes back; what others name stays. */
START_TEST(items_are_taken_out_and_renamed_as_one_edit)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d dump cp >before", 0);
    struct said s = bench_want(&b, "d remove cp die_plate", 2);
    ck_assert_msg(strstr(s.err, "die_plate cannot be taken out: stack.die_plate, ") != NULL, "%s", s.err);
    said_done(&s);
    s = bench_want(&b, "d remove cp end_lifter", 2);
    ck_assert_msg(strstr(s.err, "near it: end_lifters") != NULL, "%s", s.err);
    said_done(&s);
    bench_do(&b, "d dump cp | cmp - before && d rename cp lifters rails", 0);
    s = bench_want(&b, "d dump cp", 0);
    ck_assert_ptr_null(strstr(s.out, " lifters\n"));
    ck_assert_ptr_nonnull(strstr(s.out, "lift = rails.lift"));
    said_done(&s);
    s = bench_want(&b, "d remove cp end_lifters", 0);
    ck_assert_msg(strstr(s.out, "end_lifters") == s.out, "%s", s.out);
    said_done(&s);
    s = bench_want(&b, "d dump cp", 0);
    ck_assert_ptr_null(strstr(s.out, "end_lifters"));
    said_done(&s);
    bench_do(&b, "d undo cp && d undo cp && d dump cp | cmp - before", 0);
}
END_TEST

START_TEST(data_formats_keep_findings_out_of_the_data)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(&b, "d set cp 'die_plate.thickness=40 mm' --format json", 0);
    ck_assert(json_valid(s.out));
    ck_assert_msg(strstr(s.err, "+ fault: posts: ") != NULL, "%s", s.err);
    said_done(&s);
}
END_TEST

/* TYPED: what is typed, SHOWN: the cells value, unit and formula of `show` afterwards. */
static const struct { const char *typed, *name, *shown[3];
} entries[] = {
    {"die_plate.thickness=36", "die_plate.thickness", {"36", "mm", "36 mm"}},
    {"die_plate.thickness = 36", "die_plate.thickness", {"36", "mm", "36 mm"}},
    {"die_plate.thickness=1 1/4 in", "die_plate.thickness", {"31.75", "mm", "1 1/4 in"}},
    {"die_plate.thickness=2 * die_backing.thickness + 12 mm",
     "die_plate.thickness",
     {"36", "mm", "2 * die_backing.thickness + 12 mm"}},
    {"die_screws.length=usual + 5 mm", "die_screws.length", {"75", "mm", "usual + 5 mm"}},
    {"job.unit=\"in\"", "die_plate.thickness", {"1.33858267716535", "in", "34 mm"}},
    {"stripping_share=8 %", "stripping_share", {"0.08", "", "8 %"}},
};

START_TEST(what_is_typed_is_kept_as_typed_and_bare_numbers_get_the_unit)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *line = base_format("d set cp '%s' >/dev/null && d show cp %s --format csv", entries[_i].typed,
                             entries[_i].name);
    struct said s = bench_want(&b, line, 0);
    char *value = rows_find(s.out, entries[_i].name, NULL, 2),
         *unit = rows_find(s.out, entries[_i].name, NULL, 3),
         *formula = rows_find(s.out, entries[_i].name, NULL, 4);
    ck_assert_msg(value != NULL, "%s", s.out);
    ck_assert_msg(fabs(strtod(value, NULL) - strtod(entries[_i].shown[0], NULL)) < 1e-9, "%s", s.out);
    ck_assert_str_eq(unit, entries[_i].shown[1]);
    ck_assert_str_eq(formula, entries[_i].shown[2]);
    free(line);
    free(value);
    free(unit);
    free(formula);
    said_done(&s);
}
END_TEST

/* A size that nothing reaches is an error value with its reason, a finding, and no stock size picked in
   silence. */
static const struct { const char *typed, *says, *name;
} impossible[] = {
    {"die_plate.thickness=490 mm' 'die_backing.thickness=490 mm",
     "posts.length: no length of preferred_length reaches ", "posts.length"},
    {"die_screws.size=\"M11\"", "there is M10, M12 or M14", "die_screws.length"},
};

START_TEST(a_size_that_no_row_has_is_a_fault_that_names_the_nearest)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *line = base_format("d set cp '%s'", impossible[_i].typed);
    struct said s = bench_want(&b, line, 0);
    ck_assert_msg(strstr(s.out, impossible[_i].says) != NULL && strstr(s.out, "+ fault: "), "%s", s.out);
    said_done(&s);
    free(line);
    line = base_format("d show cp %s --format csv", impossible[_i].name);
    s = bench_want(&b, line, 0);
    char *value = rows_find(s.out, impossible[_i].name, NULL, 2);
    ck_assert_str_eq(value, "");
    bench_do(&b, "d check cp >/dev/null", 1);
    free(value);
    free(line);
    said_done(&s);
}
END_TEST

START_TEST(an_empty_formula_goes_back_to_the_usual)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d set cp die_screws.length=80", 0);
    struct said s = bench_want(&b, "d set cp die_screws.length= --format csv", 0);
    moved(s.out, "die_screws.length 80 70");
    said_done(&s);
}
END_TEST

START_TEST(what_is_added_with_its_values_stands_in_the_text_and_moves_what_hangs_on_it)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(
        &b, "d add cp sharpening grind_1 date=2026-02-03 off_punches=0.25 'off_die=0.15 mm' --format csv", 0);
    moved(s.out, "stack.now_shut 224.2 223.8");
    moved(s.out, "stripper_springs.now_pressed 17 17.25");
    ck_assert_ptr_null(rows_find(s.out, "stack.shut_height", NULL, 0)); /* the set stays as it was laid out */
    said_done(&s);
    s = bench_want(&b, "d dump cp", 0);
    ck_assert_ptr_nonnull(strstr(
        s.out,
        "\nsharpening grind_1\n  date = \"2026-02-03\"\n  off_punches = 0.25 mm\n  off_die = 0.15 mm\n"));
    said_done(&s);
    s = bench_want(&b, "d sharpening cp", 0);
    ck_assert_ptr_nonnull(
        strstr(s.out, "\ngrind 1  2026-02-03        0       0.25  0.0  2.75   0.15  0.0  4.35  223.8\n"));
    said_done(&s);
}
END_TEST

START_TEST(an_edit_that_moves_nothing_says_so)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(&b, "d set cp 'die_plate.thickness=30 mm + 4 mm'", 0);
    ck_assert_str_eq(s.out, "Taken; no value moved.\n");
    said_done(&s);
    s = bench_want(&b, "d set cp 'die_plate.thickness=30 mm + 4 mm'", 0);
    ck_assert_str_eq(s.out, "It stands so already: nothing is taken.\n");
    said_done(&s);
    s = bench_want(&b, "d history cp --format csv | wc -l", 0); /* heading, begun, the first edit */
    ck_assert_int_eq(atoi(s.out), 3);
    said_done(&s);
}
END_TEST

/* ---- why --------------------------------------------------------------------------------------- */

START_TEST(why_tells_the_need_the_spare_and_what_it_reaches)
{
    static const char *const wanted[] = {"die_screws.length", "die_screws.length_need",
                                         "die_backing.thickness", "need 66.25 mm, spare 3.75 mm",
                                         "reaches: "};
    struct bench b;
    bench_open(&b, "cover-plate");
    struct said s = bench_want(&b, "d show cp die_screws.length --why", 0);
    for (size_t i = 0; i < COUNT_OF(wanted); i++)
        ck_assert_msg(strstr(s.out, wanted[i]) != NULL, "no \"%s\" in\n%s", wanted[i], s.out);
    said_done(&s);
}
END_TEST

TCase *edit_tests(void)
{
    TCase *t = tcase_create("edits");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, stations_are_moved_by_their_numbers);
    tcase_add_test(t, an_outline_is_typed_printed_and_changed);
    tcase_add_loop_test(t, a_change_of_the_demo_moves_what_it_must_and_nothing_else, 0, COUNT_OF(changes));
    tcase_add_loop_test(t, every_name_of_the_independent_sheet_shows_the_same_figure, 0, COUNT_OF(sheets));
    tcase_add_test(t, findings_that_come_and_go_are_told_and_undone_edits_tell_them_the_other_way);
    tcase_add_test(t, twenty_lines_of_what_moved_are_told_and_all_when_asked);
    tcase_add_test(t, items_are_taken_out_and_renamed_as_one_edit);
    tcase_add_test(t, data_formats_keep_findings_out_of_the_data);
    tcase_add_loop_test(t, what_is_typed_is_kept_as_typed_and_bare_numbers_get_the_unit, 0,
                        COUNT_OF(entries));
    tcase_add_loop_test(t, a_size_that_no_row_has_is_a_fault_that_names_the_nearest, 0, COUNT_OF(impossible));
    tcase_add_test(t, an_empty_formula_goes_back_to_the_usual);
    tcase_add_test(t, an_edit_that_moves_nothing_says_so);
    tcase_add_test(t, what_is_added_with_its_values_stands_in_the_text_and_moves_what_hangs_on_it);
    tcase_add_test(t, why_tells_the_need_the_spare_and_what_it_reaches);
    return t;
}
