/* Grammar: what reads as what, and where a fault is marked. */

#include "formula.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct formula_tree *parsed(const char *text)
{
    struct formula_tree *t;
    struct base_diag why;
    ck_assert_msg(formula_parse(text, &t, &why) == BASE_OK, "%s: %s", text, why.message);
    ck_assert_str_eq(formula_text(t), text);
    return t;
}

/* ---- numbers -------------------------------------------------------------------------- */

static const struct { const char *text; double value;
} readings[] = {
    {"25 mm", 25},
    {"25mm", 25},
    {"2.5 cm", 25},
    {"1/2 in", 12.7},
    {"1 1/4 in", 31.75},
    {"3/8 in", 9.525},
    {"3/16 in", 4.7625},
    {"11/4 in", 69.85},
    {"2 13/16 in", 71.4375},
    {".25 in", 6.35},
    {"10 thou", 0.254},
    {"41.2 N/mm", 41.2},
    {"82 N*m", 82000},
    {"10 /min", 10.0 / 60},
    {"10/min", 10.0 / 60},
    {"8 %", 0.08},
    {"7850 kg/m3", 7.85e-9},
    {"1e3", 1000},
    {"1.5e-2 mm", 0.015},
    {"180 deg", 3.14159265358979323846},
    {"2 mm2", 2},
    {"10 mm / 4", 2.5},
    {"1/4", 0.25},
    {"yes", 1},
    {"no", 0},
    {"pi", 3.14159265358979323846},
    {"2 kN", 2000},
    /* precedence */
    {"2 + 3 * 4", 14},
    {"(2 + 3) * 4", 20},
    {"-2^2", -4},
    {"(-2)^2", 4},
    {"2^3^2", 512},
    {"2^-1", 0.5},
    {"8 / 4 / 2", 1},
    {"8 - 4 - 2", 2},
    {"2 * -3", -6},
    {"--3", 3},
    {"6 / 2 * 3", 9},
    {"-3 + 5", 2},
    {"2 * 3^2", 18},
    {"not yes or yes", 1},
    {"not (yes or yes)", 0},
    {"yes or no and no", 1},
    {"1 + 1 = 2", 1},
    {"1 < 2 and 2 < 3", 1},
    {"not 1 = 2", 1},
    {"(2 mm)^2 = 4 mm2", 1},
    {"3 >= 3", 1},
    {"3 != 3", 0},
    {"2 > 3", 0},
    {"  7  ", 7},
};

START_TEST(a_formula_reads_as_it_is_written)
{
    struct formula_value v = value_of(readings[_i].text);
    ck_assert_int_eq(v.error, FORMULA_FINE);
    ck_assert_msg(v.number >= readings[_i].value - 1e-12 && v.number <= readings[_i].value + 1e-12,
                  "%s gives %.17g", readings[_i].text, v.number);
}
END_TEST

/* ---- faults ------------------------------------------------------------------------------ */

/* WORDS: what the sentence must say; START: column of the mark, from 0; MARKED: what stands
   there, a column at least. */
static const struct { const char *text, *words; int start; const char *marked;
} faults[] = {
    {"2 mm^2", "2 mm2", 2, "mm^2"},
    {"1,5 + 2", "write 1.5, or 1, 5", 0, "1,5"},
    {"2 + max(1,25 mm, 2 mm)", "write 1.25, or 1, 25", 8, "1,25"},
    {"1.000,5 mm", "one point", 0, "1.000,5"},
    {"1,000.5 mm", "one point", 0, "1,000"},
    {"1,000,000 mm", "one point", 0, "1,000"},
    {"1 < 2 < 3", "a < b and b < c", 6, "<"},
    {"1 = 1 = 1", "a < b and b < c", 6, "="},
    {"1 == 2", "\"=\"", 2, "=="},
    {"(1 + 2", "not closed", 0, "("},
    {"max(1, 2", "not closed", 0, "max("},
    {"1 + 2)", "closes nothing", 5, ")"},
    {"\"M8", "quote", 0, "\"M8"},
    {"5 furlongs", "furlongs", 2, "furlongs"},
    {"3 a", "no unit", 2, "a"},
    {"a b", "operator", 2, "b"},
    {"1 2", "operator", 2, "2"},
    {"a.", "name", 1, "."},
    {"* 2", "value", 0, "*"},
    {"min(1, )", "value", 7, ")"},
    {"area(long: 2 mm, 3 mm)", "name", 17, "3"},
    {"1 # 2", "operator", 2, "#"},
    {"", "nothing here", 0, ""},
    {"   ", "value", 2, " "},
};

START_TEST(a_fault_is_named_and_marked)
{
    struct base_diag why = refusal_of(faults[_i].text, NULL);
    ck_assert_msg(strcasestr(why.message, faults[_i].words), "%s: \"%s\" does not say \"%s\"",
                  faults[_i].text, why.message, faults[_i].words);
    ck_assert_msg(why.start == faults[_i].start, "%s: marked at %d, not %d (%s)", faults[_i].text, why.start,
                  faults[_i].start, why.message);
    ck_assert_str_eq(why.source, faults[_i].text);
}
END_TEST

/* A sign with nothing behind it: the mark stands on the last byte, which is where the value is missed. */
START_TEST(nothing_behind_an_operator_is_refused)
{
    static const char *const texts[] = {"1 +", "2 *", "a and", "not", "-", "2 ^", "1 <", "max(", "("};
    for (size_t i = 0; i < COUNT_OF(texts); i++) {
        struct base_diag why = refusal_of(texts[i], NULL);
        ck_assert_msg(strstr(why.message, "wanted") || strstr(why.message, "closed"), "%s: %s", texts[i],
                      why.message);
        ck_assert_int_le(why.start, (int)strlen(texts[i]));
    }
}
END_TEST

static char *repeated(const char *piece, int times, const char *end)
{
    struct base_text t = {0};
    for (int i = 0; i < times; i++)
        base_text_add(&t, piece);
    base_text_add(&t, end);
    return base_text_take(&t);
}

START_TEST(hostile_depth_and_length_are_refused)
{
    static const struct { const char *piece; int times; const char *end;
    } hostile[] = {
        {"(", 990, "1"},  {"-", 990, "1"},  {"not ", 240, "yes"}, {"max(1,", 160, "1"},
        {"2^", 490, "2"}, {"1+", 600, "1"}, {"(", 100000, ""},
    };
    for (size_t i = 0; i < COUNT_OF(hostile); i++) {
        char *text = repeated(hostile[i].piece, hostile[i].times, hostile[i].end);
        struct base_diag why = refusal_of(text, NULL);
        ck_assert_msg(strstr(why.message, "deep") || strstr(why.message, "1000"), "%s", why.message);
        free(text);
    }
    char *longest = repeated("1+", 499, "1");
    ck_assert(value_of(longest).number == 500);
    free(longest);
}
END_TEST

/* ---- what a tree tells ----------------------------------------------------------------------- */

static const struct { const char *text; bool bare, literal; double number;
} shapes[] = {
    {"25", true, true, 25},     {"-25", true, true, -25}, {"25 mm", false, true, 0},
    {"\"M8\"", false, true, 0}, {"yes", false, true, 0},  {"25 + 1", false, false, 0},
    {"a", false, false, 0},     {"-a", false, false, 0},  {"max(1, 2)", false, false, 0},
};

START_TEST(bare_numbers_and_literals_are_told)
{
    double number = 0;
    struct formula_tree *t = parsed(shapes[_i].text);
    ck_assert_int_eq(formula_is_bare_number(t, &number), shapes[_i].bare);
    if (shapes[_i].bare)
        ck_assert(number == shapes[_i].number);
    ck_assert_int_eq(formula_is_literal(t), shapes[_i].literal);
    formula_tree_free(t);
}
END_TEST

/* NULL: not one number alone. */
START_TEST(one_number_alone_is_told_without_its_comma)
{
    static const struct { const char *text; bool fraction; const char *reads; bool bare;
    } rows[] = {
        {"12,5", false, "12.5", true},          {" 12,5 mm ", false, "12.5 mm", false},
        {"-12,5mm", false, "-12.5mm", false},   {"- 3", false, "-3", true},
        {"12.5", false, "12.5", true},          {"1,250 in", false, "1.250 in", false},
        {"1 1/4", true, "1 1/4", true},         {"1 1/4", false, NULL, true},
        {"3/8", true, "3/8", true},             {"3/8", false, NULL, true},
        {"3/8 in", false, "3/8 in", false},     {"1,5, 2", false, NULL, true},
        {"1.000,5", false, NULL, true},         {"1,000.5", false, NULL, true},
        {"12, 5", false, NULL, true},           {",5", false, NULL, true},
        {"12,", false, NULL, true},             {"12,5 + 1", false, NULL, true},
        {"12,5 furlong", false, NULL, true},    {"t", false, NULL, true},
        {"", false, NULL, true},                {"1e999", false, NULL, true},
        {"12,5 N/mm2", false, "12.5 N/mm2", false},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        bool bare = true;
        char *reads = formula_number_alone(rows[i].text, rows[i].fraction, &bare);
        ck_assert_msg(!reads == !rows[i].reads, "%s: %s", rows[i].text, reads ? reads : "(none)");
        if (reads)
            ck_assert_str_eq(reads, rows[i].reads);
        ck_assert_msg(bare == rows[i].bare, "%s", rows[i].text);
        free(reads);
    }
}
END_TEST

START_TEST(what_is_parsed_later_says_the_same)
{
    struct base_diag reason = {0}, at_once = {0};
    struct formula_tree *t = formula_parse_later("12 mm"), *wrong = formula_parse_later("12 mm +"), *none;
    const char *name;
    ck_assert_str_eq(formula_text(t), "12 mm");
    ck_assert(formula_is_literal(t) && !formula_is_name(t, &name));
    ck_ok(formula_parse_now(t, why));
    /* what is no formula says nothing, and why it is none when it is asked */
    ck_assert(!formula_is_name(wrong, &name));
    ck_assert_int_eq(formula_parse_now(wrong, &reason), formula_parse("12 mm +", &none, &at_once));
    ck_assert_str_eq(reason.message, at_once.message);
    ck_assert_int_eq(reason.start, at_once.start);
    formula_tree_free(t);
    formula_tree_free(wrong);
}
END_TEST

START_TEST(lone_names_and_texts_are_told)
{
    const char *word = NULL;
    struct formula_tree *name = parsed("die_plate "), *path = parsed("die_plate.thickness"),
                        *text = parsed("\"M8 x 1\"");
    ck_assert(formula_is_name(name, &word));
    ck_assert_str_eq(word, "die_plate");
    ck_assert(!formula_is_name(path, &word));
    ck_assert(formula_is_text(text, &word));
    ck_assert_str_eq(word, "M8 x 1");
    ck_assert(!formula_is_text(name, &word));
    formula_tree_free(name);
    formula_tree_free(path);
    formula_tree_free(text);
}
END_TEST

static void list_name(const char *path, int start, void *arg) { base_text_addf(arg, "%s@%d ", path, start); }

static const struct { const char *text, *names, *columns;
} listings[] = {
    {"a + b.c.d * 2", "a@0 b.c.d@4 ", ""},
    {"a+a", "a@0 a@2 ", ""},
    {"a + a ", "a@0 a@4 ", ""},
    {"25 mm", "", ""},
    {"cutting_force(cut: edge, strip: t)", "edge@19 t@32 ", ""},
    {"listed(steel.density, name = material)", "material@29 ", "steel.density@7 "},
    {"total(plate.mass, order > one.order)", "one.order@26 ", "plate.mass@6 "},
    {"size_over(screw.length, grip + 2 mm, size = this.size)", "grip@24 this.size@44 ", "screw.length@10 "},
    {"count(plate)", "", "plate@6 "},
    {"a + 2 * max(total(springs.force), b)", "a@0 b@34 ", "springs.force@18 "},
    {"if(on, max(a, b), c)", "on@3 a@11 b@14 c@18 ", ""},
    {"(x) + ( y )", "x@1 y@8 ", ""},
};

START_TEST(names_and_columns_are_listed_apart)
{
    struct base_text out = {0};
    struct formula_tree *t = parsed(listings[_i].text);
    formula_names(t, list_name, &out);
    ck_assert_str_eq(base_text_get(&out), listings[_i].names);
    base_text_clear(&out);
    formula_columns(t, list_name, &out);
    ck_assert_str_eq(base_text_get(&out), listings[_i].columns);
    base_text_done(&out);
    formula_tree_free(t);
}
END_TEST

static const struct { const char *text, *old, *property, *now, *after; } renamings[] = {
    {"plate_a.x + plate_a.y", "plate_a", NULL, "top", "top.x + top.y"},
    {"aa + a.b + b.a", "a", NULL, "long_name", "aa + long_name.b + b.a"},
    {"  a+a  ", "a", NULL, "b", "  b+b  "},
    {"g.reach + g.other + h.reach", "g", "reach", "far", "g.far + g.other + h.reach"},
    {"cost(a: a)", "a", NULL, "b", "cost(a: b)"},
    {"listed(steel.name, name = name)", "name", NULL, "called", "listed(steel.name, name = called)"},
    {"\"a\" = a", "a", NULL, "b", "\"a\" = b"}, {"a(a)", "a", NULL, "b", "a(b)"},
    {"x + y", "a", NULL, "b", NULL}, {"g + g.x", "g", "reach", "far", NULL},
};

START_TEST(renaming_changes_the_name_and_nothing_else)
{
    struct formula_tree *t = parsed(renamings[_i].text);
    char *now = formula_renamed(t, renamings[_i].old, renamings[_i].property, renamings[_i].now);
    if (renamings[_i].after)
        ck_assert_str_eq(now, renamings[_i].after);
    else
        ck_assert_ptr_null(now);
    free(now);
    formula_tree_free(t);
}
END_TEST

static void print_name(void *arg, const char *path, struct base_text *out)
{
    base_text_addf(out, "%s%s!", (const char *)arg, path);
}

START_TEST(filled_text_has_values_for_names)
{
    char prefix[] = "=";
    struct base_text out = {0};
    struct formula_tree *t = parsed("2 * a + listed(steel.density, name = b.c) / 3 mm");
    formula_filled(t, print_name, prefix, &out);
    ck_assert_str_eq(base_text_get(&out), "2 * =a! + listed(steel.density, name = =b.c!) / 3 mm");
    base_text_done(&out);
    formula_tree_free(t);
}
END_TEST

/* What a formula takes of its arms: conditions that name `so` hold, of those that name `unknown` none can
   be told. */
static const struct { const char *text, *taken, *dead; } arms[] = {
    {"if(so, a, b)", "a", " b"},
    {"if(not_, a, b + c)", "b + c", " a"},
    {"2 * if(so, a + d, b)", "2 * (a + d)", " b"},
    {"2 * if(not_, a, if(so, b - c, d))", "2 * (b - c)", " d a"},
    {"max(if(so, a + d, b), e)", "max(a + d, e)", " b"},
    {"if(unknown, if(so, a, b), c)", "if(unknown, a, c)", " b"},
    {"if(so, listed(steel.density, name = if(not_, x, y)), 1 mm)", "listed(steel.density, name = y)", " x"},
    {"if(so, a)", NULL, ""},
    {"a + b", NULL, ""},
};

static int told_by_its_name(void *arg, const char *condition)
{
    (void)arg;
    return strcmp(condition, "unknown") == 0 ? -1 : strcmp(condition, "so") == 0;
}

static void note_name(const char *path, int start, void *arg)
{
    (void)start;
    base_text_addf(arg, " %s", path);
}

START_TEST(an_if_gives_way_to_the_arm_that_it_takes)
{
    struct base_text out = {0}, dead = {0};
    struct formula_tree *t = parsed(arms[_i].text);
    ck_assert(formula_taken(t, told_by_its_name, note_name, &dead, &out) == (arms[_i].taken != NULL));
    ck_assert_str_eq(base_text_get(&out), arms[_i].taken ? arms[_i].taken : arms[_i].text);
    ck_assert_str_eq(base_text_get(&dead), arms[_i].dead);
    base_text_done(&out);
    base_text_done(&dead);
    formula_tree_free(t);
}
END_TEST

START_TEST(a_call_is_told_with_what_it_is_given)
{
    struct formula_given given[3];
    const char *name;
    struct formula_tree *t = parsed("reach(a + 1 mm, (b), lead: 3 mm)"), *sum = parsed("reach(a) + 1 mm");
    ck_assert_int_eq(formula_call(t, &name, given, 3), 3);
    ck_assert_str_eq(name, "reach");
    ck_assert_str_eq(given[0].name, "");
    ck_assert_int_eq(given[0].start, 6);
    ck_assert_int_eq(given[0].length, 8);
    ck_assert_str_eq(given[2].name, "lead");
    ck_assert_int_eq(formula_call(t, &name, given, 2), -1);
    ck_assert_int_eq(formula_call(sum, &name, given, 3), -1);
    formula_tree_free(t);
    formula_tree_free(sum);
}
END_TEST

TCase *parse_cases(void)
{
    TCase *t = tcase_create("parse");
    tcase_add_loop_test(t, a_formula_reads_as_it_is_written, 0, COUNT_OF(readings));
    tcase_add_loop_test(t, a_fault_is_named_and_marked, 0, COUNT_OF(faults));
    tcase_add_test(t, nothing_behind_an_operator_is_refused);
    tcase_add_test(t, hostile_depth_and_length_are_refused);
    tcase_add_loop_test(t, bare_numbers_and_literals_are_told, 0, COUNT_OF(shapes));
    tcase_add_test(t, one_number_alone_is_told_without_its_comma);
    tcase_add_test(t, what_is_parsed_later_says_the_same);
    tcase_add_test(t, lone_names_and_texts_are_told);
    tcase_add_loop_test(t, names_and_columns_are_listed_apart, 0, COUNT_OF(listings));
    tcase_add_loop_test(t, renaming_changes_the_name_and_nothing_else, 0, COUNT_OF(renamings));
    tcase_add_test(t, filled_text_has_values_for_names);
    tcase_add_loop_test(t, an_if_gives_way_to_the_arm_that_it_takes, 0, COUNT_OF(arms));
    tcase_add_test(t, a_call_is_told_with_what_it_is_given);
    return t;
}
