/* What the program reads of a handbook by name: a handbook of nothing else is taken, and refused by file,
 * line and name when one of it is not there, or is something else. The manual names each. */

#include "suites.h"

#include "common.h"

#include "diewright/dieset.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The lines of such a handbook. NEEDED: refused without it. NAME: what the refusal calls it. OTHER: the line
   as something else, and what that refusal says it ought to be. */
static const struct line { const char *line; bool needed; const char *name, *other, *ought; } lines[] = {
    {"factor seen_off : number = 10 %", false, NULL, "factor seen_off : length = 1 mm", "number"},
    {"factor square_within : length = 2 mm", false, NULL, "factor square_within : number = 2", "length"},
    {"factor one_size_within : length = 1 mm", false, NULL, "factor one_size_within : area = 1 mm2",
     "length"},
    {"kind job", false, NULL, NULL, NULL},
    {"  asked unit : choice = \"mm\"\n    choices \"mm\", \"in\"", true, "job lacks unit",
     "  asked unit : choice = \"mm\"\n    choices \"mm\", \"cm\"",
     "job.unit has the choice \"cm\", which values cannot be shown in"},
    {"  asked force_unit : choice = \"kN\"\n    choices \"kN\", \"lbf\"", false, NULL,
     "  asked force_unit : choice = \"N\"\n    choices \"N\", \"lbf\"",
     "job.force_unit has no choice \"kN\""},
    {"  asked pressure_unit : choice = \"MPa\"\n    choices \"MPa\", \"psi\"", false, NULL,
     "  asked pressure_unit : text", "choice"},
    {"  asked mass_unit : choice = \"kg\"\n    choices \"kg\", \"lb\"", false, NULL,
     "  asked mass_unit : choice = \"kg\"\n    choices \"kg\", \"stone\"",
     "job.mass_unit has the choice \"stone\""},
    {"  asked torque_unit : choice = \"N m\"\n    choices \"N m\"", false, NULL,
     "  asked torque_unit : mass", "choice"},
    {"  asked series : choice = \"metric\"\n    choices \"metric\", \"inch\"", false, NULL,
     "  asked series : text", "choice"},
    {"  asked plan_step : length", false, NULL, "  asked plan_step : force", "length"},
    {"  asked plan_stride : length", false, NULL, "  asked plan_stride : text", "length"},
    {"  asked ram_step : length", false, NULL, "  asked ram_step : yesno", "length"},
    {"  asked ram_fine : length", false, NULL, "  asked ram_fine : number", "length"},
    {"  asked customer : text", false, NULL, "  asked customer : number", "text"},
    {"  asked owner : text", false, NULL, "  asked owner : number", "text"},
    {"  asked department : text", false, NULL, "  asked department : number", "text"},
    {"  asked sheets : choice = \"ISO 216\"\n    choices \"ISO 216\", \"ASME Y14.1\"", false, NULL,
     "  asked sheets : length", "choice"},
    {"  asked part : text", false, NULL, "  asked part : number", "text"},
    {"  asked made_by : text", false, NULL, "  asked made_by : number", "text"},
    {"  asked checked_by : text", false, NULL, "  asked checked_by : number", "text"},
    {"  asked second_person : yesno", false, NULL, "  asked second_person : text", "yesno"},
    {"  asked set_number : text", false, NULL, "  asked set_number : number", "text"},
    {"  asked tolerances : choice = \"a\"\n    choices \"a\"", false, NULL, "  asked tolerances : length",
     "choice"},
    {"  asked surface_ground : text", false, NULL, "  asked surface_ground : number", "text"},
    {"  asked surface_else : text", false, NULL, "  asked surface_else : number", "text"},
    {"  asked edges : text", false, NULL, "  asked edges : number", "text"},
    {"kind strip", false, NULL, NULL, NULL},
    {"  asked thickness : length", true, "strip lacks thickness", "  asked thickness : area", "length"},
    {"  asked width : length", false, NULL, "  asked width : number", "length"},
    {"  asked lift : length", false, NULL, "  asked lift : angle", "length"},
    {"  asked pitch : length", false, NULL, "  asked pitch : angle", "length"},
    {"  asked first : length", false, NULL, "  asked first : number", "length"},
    {"  asked start : length", false, NULL, "  asked start : number", "length"},
    {"  asked start_at : length", false, NULL, "  asked start_at : number", "length"},
    {"  asked way : number", false, NULL, "  asked way : length", "number"},
    {"  asked stations : number", false, NULL, "  asked stations : count", "number"},
    {"  asked use : number", false, NULL, "  asked use : length", "number"},
    {"  asked part_metal : area", false, NULL, "  asked part_metal : length", "area"},
    {"  asked part_mass : mass", false, NULL, "  asked part_mass : length", "mass"},
    {"  asked scrap_mass : mass", false, NULL, "  asked scrap_mass : number", "mass"},
    {"  asked thousand_mass : mass", false, NULL, "  asked thousand_mass : text", "mass"},
    {"  asked side_force : force", false, NULL, "  asked side_force : mass", "force"},
    {"kind station", false, NULL, NULL, NULL},
    {"  asked number : count", false, NULL, "  asked number : number", "count"},
    {"  asked does : choice = \"idle\"\n    choices \"pierce\", \"blank\", \"form\", \"idle\"", false,
     NULL,
     "  asked does : choice = \"idle\"\n    choices \"pierce\", \"form\", \"idle\"",
     "station.does has no choice \"blank\""},
    {"  asked shape : choice = \"round\"\n    choices \"round\"", false, NULL, "  asked shape : length",
     "choice"},
    {"  asked size_along : length", false, NULL, "  asked size_along : number", "length"},
    {"  asked size_across : length", false, NULL, "  asked size_across : number", "length"},
    {"  asked first_stroke : number", false, NULL, "  asked first_stroke : length", "number"},
    {"  asked half_stroke : number", false, NULL, "  asked half_stroke : length", "number"},
    {"  asked cut : length", false, NULL, "  asked cut : number", "length"},
    {"  asked force : force", false, NULL, "  asked force : length", "force"},
    {"  asked stagger : length", false, NULL, "  asked stagger : number", "length"},
    {"  asked x : length", false, NULL, "  asked x : number", "length"},
    {"kind stack", false, NULL, NULL, NULL},
    {"  asked die_plate : plate", true, "stack lacks die_plate", "  asked die_plate : text", "plate"},
    {"  asked blank_die : plate", false, NULL, "  asked blank_die : text", "plate"},
    {"  asked shut_height : length", true, "stack lacks shut_height", "  asked shut_height : mass", "length"},
    {"  asked travel : length", false, NULL, "  asked travel : force", "length"},
    {"  asked whole_mass : mass", false, NULL, "  asked whole_mass : length", "mass"},
    {"  asked deviation_relief : angle", false, NULL, "  asked deviation_relief : number", "angle"},
    {"  asked margin_out : length", false, NULL, "  asked margin_out : number", "length"},
    {"kind press", false, NULL, NULL, NULL},
    {"  asked stroke : length", false, NULL, "  asked stroke : number", "length"},
    {"  asked size : text", false, NULL, "  asked size : number", "text"},
    {"kind plate", false, NULL, NULL, NULL},
    {"  asked length : length", true, "plate lacks length", "  asked length : mass", "length"},
    {"  asked width : length", true, "plate lacks width", "  asked width : mass", "length"},
    {"  asked thickness : length", true, "plate lacks thickness,", "  asked thickness : mass", "length"},
    {"  asked thickness_now : length", true, "plate lacks thickness_now", "  asked thickness_now : mass",
     "length"},
    {"  asked top : length", true, "plate lacks top", "  asked top : mass", "length"},
    {"  asked bottom : length", true, "plate lacks bottom", "  asked bottom : mass", "length"},
    {"  asked left : length", true, "plate lacks left", "  asked left : mass", "length"},
    {"  asked right : length", true, "plate lacks right", "  asked right : mass", "length"},
    {"  asked front : length", true, "plate lacks front", "  asked front : mass", "length"},
    {"  asked back : length", true, "plate lacks back", "  asked back : mass", "length"},
    {"  asked middle_x : length", true, "plate lacks middle_x", "  asked middle_x : mass", "length"},
    {"  asked middle_y : length", true, "plate lacks middle_y", "  asked middle_y : mass", "length"},
    {"  asked moves : choice = \"with the bed\"\n"
     "    choices \"with the bed\", \"with the slide\", \"stripper\"",
     true, "plate lacks moves",
     "  asked moves : choice = \"with the bed\"\n"
     "    choices \"with the bed\", \"with the ram\", \"stripper\"",
     "plate.moves has no choice \"with the slide\""},
    {"  asked material : text", false, NULL, "  asked material : number", "text"},
    {"  asked hardness : figures", false, NULL, "  asked hardness : number", "figures"},
    {"  asked hardness_least : number", false, NULL, "  asked hardness_least : length", "number"},
    {"  asked hardness_most : number", false, NULL, "  asked hardness_most : length", "number"},
    {"  asked deviation_thickness : length", false, NULL, "  asked deviation_thickness : number", "length"},
    {"  asked deviation_places : length", false, NULL, "  asked deviation_places : number", "length"},
    {"  asked deviation_openings : length", false, NULL, "  asked deviation_openings : number", "length"},
    {"  asked parallel : length", false, NULL, "  asked parallel : number", "length"},
    {"kind forming", false, NULL, NULL, NULL},
    {"  asked goes : choice = \"up\"\n    choices \"down\", \"up\"", false, NULL,
     "  asked goes : choice = \"up\"\n    choices \"over\", \"up\"", "forming.goes has no choice \"down\""},
    {"  asked angle : angle", false, NULL, "  asked angle : length", "angle"},
    {"  asked radius : length", false, NULL, "  asked radius : number", "length"},
    {"  asked height : length", false, NULL, "  asked height : number", "length"},
    {"  asked touch : length", false, NULL, "  asked touch : number", "length"},
    {"kind profile\n  outline", false, NULL, NULL, NULL},
    {"  asked outline_turn : angle", true, "profile lacks outline_turn", "  asked outline_turn : length",
     "angle"},
    {"  asked outline_mirrored : yesno", true, "profile lacks outline_mirrored",
     "  asked outline_mirrored : text", "yesno"},
    {"  asked opening_grow : length", true, "profile lacks opening_grow", "  asked opening_grow : number",
     "length"},
    {"  asked punch_grow : length", true, "profile lacks punch_grow", "  asked punch_grow : number",
     "length"},
    {"kind remark\n  words item finding by on says", false, NULL, "kind remark\n  words item finding by says",
     "kind remark lacks the line on"},
    {"kind waiver\n  words finding grade states margin by on says", false, NULL,
     "kind waiver\n  words finding grade states by on says", "kind waiver lacks the line margin"},
    {"kind revision\n  words letter by on says sum withdrawn withdrawn_by because", false, NULL,
     "kind revision\n  words letter by on says withdrawn withdrawn_by because",
     "kind revision lacks the line sum"},
    {"kind joined\n  words copy by on says", false, NULL, "kind joined\n  words copy by on",
     "kind joined lacks the line says"},
    {"kind start\n  words line take leave first asks tells", false, NULL,
     "kind start\n  words line take leave first asks", "kind start lacks the line tells"},
};

/* The handbook without line LEFT_OUT, with another one in the place of OTHERWISE; -1: none. Held against the
   program's list; WHY gets the reason. */
static enum base_err held(int left_out, int otherwise, struct base_diag *reason)
{
    struct base_text text = {0};
    struct handbook *h;
    const char *name = "own.txt";
    for (int i = 0; i < (int)COUNT_OF(lines); i++)
        if (i != left_out)
            base_text_addf(&text, "%s\n", i == otherwise ? lines[i].other : lines[i].line);
    const char *whole = base_text_get(&text);
    ck_ok(handbook_read(&whole, &name, 1, NULL, &h, why));
    *reason = (struct base_diag){0};
    enum base_err err = dieset_check_handbook(h, reason);
    handbook_free(h);
    base_text_done(&text);
    return err;
}

START_TEST(what_is_read_by_name_is_all_that_a_handbook_needs)
{
    struct base_diag reason;
    ck_assert_msg(held(-1, -1, &reason) == BASE_OK, "%s", reason.message);
}
END_TEST

START_TEST(a_handbook_without_it_is_refused_by_name)
{
    const struct line *l = &lines[_i];
    struct base_diag reason;
    if (l->line[0] == 'k' && !l->other) /* kinds of other lines: see below */
        return;
    enum base_err err = held(_i, -1, &reason);
    ck_assert_msg((err == BASE_REFUSED) == l->needed, "%s: %s", l->line, reason.message);
    if (l->needed) {
        ck_assert_msg(strstr(reason.message, l->name) != NULL, "%s: %s", l->line, reason.message);
        ck_assert_str_eq(reason.file, "own.txt");
        ck_assert_int_gt(reason.line, 0);
    }
}
END_TEST

START_TEST(something_else_of_that_name_is_refused_in_its_line)
{
    const struct line *l = &lines[_i];
    struct base_diag reason;
    if (!l->other)
        return;
    ck_assert_int_eq(held(-1, _i, &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, l->ought) != NULL, "%s: %s", l->other, reason.message);
    int line = 1;
    for (int i = 0; i < _i; i++)
        for (const char *c = lines[i].line; c; c = strchr(c, '\n'), c = c ? c + 1 : NULL)
            line++;
    ck_assert_int_eq(reason.line, line);
}
END_TEST

static const char *const kinds[] = {"job", "strip", "stack", "plate"};

/* Without the lines of that kind; the stack goes with the plate that it names. */
START_TEST(a_handbook_without_the_kind_says_what_it_is_for)
{
    struct base_text text = {0};
    struct base_diag reason = {0};
    struct handbook *h;
    const char *name = "own.txt", *whole;
    bool out = false;
    for (size_t i = 0; i < COUNT_OF(lines); i++) {
        char kind[40] = "";
        if (sscanf(lines[i].line, "kind %39s", kind) == 1)
            out = strcmp(kind, kinds[_i]) == 0;
        if (!out && !(strstr(lines[i].line, "blank_die") && _i == 3))
            base_text_addf(&text, "%s\n", strstr(lines[i].line, ": plate") && _i == 3
                                               ? "  asked die_plate : strip"
                                               : lines[i].line);
    }
    char *lacks = base_format("lacks the kind %s, which the program reads for ", kinds[_i]);
    whole = base_text_get(&text);
    ck_ok(handbook_read(&whole, &name, 1, NULL, &h, why));
    ck_assert_int_eq(dieset_check_handbook(h, &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, lacks) != NULL, "%s", reason.message);
    free(lacks);
    handbook_free(h);
    base_text_done(&text);
}
END_TEST

START_TEST(the_manual_names_each)
{
    char *page;
    ck_ok(base_read_file("man/diewright-handbook.5", &page, NULL, why));
    const char *section = strstr(page, ".Sh NAMES THAT THE PROGRAM READS");
    ck_assert_ptr_nonnull(section);
    for (size_t i = 0; i < COUNT_OF(lines); i++) {
        char word[40], name[40];
        sscanf(lines[i].line, "%39s %39s", word, name);
        char *there = strstr(section, name), *end = strstr(section, ".Sh PRACTICE");
        ck_assert_msg(there && (!end || there < end), "%s", name);
    }
    free(page);
}
END_TEST

TCase *contract_tests(void)
{
    TCase *t = tcase_create("contract");
    tcase_add_test(t, what_is_read_by_name_is_all_that_a_handbook_needs);
    tcase_add_loop_test(t, a_handbook_without_it_is_refused_by_name, 0, COUNT_OF(lines));
    tcase_add_loop_test(t, something_else_of_that_name_is_refused_in_its_line, 0, COUNT_OF(lines));
    tcase_add_loop_test(t, a_handbook_without_the_kind_says_what_it_is_for, 0, COUNT_OF(kinds));
    tcase_add_test(t, the_manual_names_each);
    return t;
}
