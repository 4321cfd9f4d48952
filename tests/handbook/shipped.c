/* The shipped handbook: it loads, says where it has things from, agrees with the published examples, and
 * would not if one of its formulas were wrong. */

#include "book.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct handbook *shipped(void)
{
    struct handbook *h;
    ck_ok(handbook_load("data", &h, why));
    return h;
}

START_TEST(it_loads_and_each_entry_names_its_source)
{
    struct handbook *h = shipped();
    for (int i = 0; i < handbook_factor_count(h); i++)
        ck_assert_msg(handbook_factor(h, i)->source, "%s", handbook_factor(h, i)->name);
    for (int i = 0; i < handbook_function_count(h); i++)
        ck_assert_msg(handbook_function(h, i)->source && handbook_function(h, i)->help, "%s",
                      handbook_function(h, i)->f.name);
    for (int i = 0; i < handbook_rule_count(h); i++)
        ck_assert_msg(*handbook_rule(h, i)->source && handbook_rule(h, i)->help, "%s",
                      handbook_rule(h, i)->name);
    for (int i = 0; i < handbook_example_count(h); i++)
        ck_assert_msg(*handbook_example(h, i)->source, "%s", handbook_example(h, i)->name);
    for (int i = 0; i < handbook_kind_count(h); i++)
        ck_assert_msg(handbook_kind(h, i)->help, "%s", handbook_kind(h, i)->name);
    handbook_free(h);
}
END_TEST

/* The build's end checks what it writes into the program; other texts have another sum, whatever is changed,
   and are checked when they are read. */
START_TEST(what_is_shipped_is_known_by_its_sum)
{
    struct handbook *h = shipped();
    ck_ok(handbook_check(h, why));
    handbook_free(h);
    struct texts t;
    texts_read(&t);
    const char *const *texts = (const char *const *)t.text;
    uint64_t sum = handbook_sum(texts, t.n);
    ck_assert(handbook_sum(texts, t.n - 1) != sum);
    ck_assert(handbook_sum(texts + 1, t.n - 1) != sum);
    t.text[t.n - 1][0]++;
    ck_assert(handbook_sum(texts, t.n) != sum);
    t.text[t.n - 1][0]--;
    ck_assert(handbook_sum(texts, t.n) == sum);
    texts_done(&t);
}
END_TEST

/* Whatever leans on a source, of the shipped texts each is of a class; tests/sources.sh counts them without
   this reader. */
START_TEST(each_source_is_of_a_class_and_most_prints_were_seen)
{
    struct handbook *h = shipped();
    int prints = 0, seen = 0;
    for (int i = 0; i < handbook_source_count(h); i++) {
        const struct handbook_source *s = handbook_source(h, i);
        ck_assert_msg(s->class != HANDBOOK_UNSORTED, "%s:%d: %s", s->place.file, s->place.line, s->text);
        ck_assert_int_eq(handbook_is_print(s->class), s->seen != HANDBOOK_NO_PRINT);
        prints += handbook_is_print(s->class);
        seen += handbook_is_print(s->class) && s->seen != HANDBOOK_MEMORY;
    }
    ck_assert_int_gt(prints, 100);
    ck_assert_msg(seen * 10 >= prints * 6, "%d of %d prints were seen", seen, prints);
    handbook_free(h);
}
END_TEST

/* Whatever is made, bought or stood at can hurt: the first words of all defer, and each kind of such things
   says what keeps it from hurting. */
START_TEST(each_kind_that_can_hurt_has_its_caution)
{
    struct handbook *h = shipped();
    const struct handbook_caution *first = handbook_caution(h, 0);
    const char *codes = strstr(first->text, "ocal codes"), *who = strstr(first->text, "licensed person");
    ck_assert(codes && who && who < strchr(first->text, '.'));
    for (int i = 0; i < handbook_caution_count(h); i++)
        ck_assert_ptr_nonnull(handbook_caution(h, i)->source);
    for (int i = 0; i < handbook_kind_count(h); i++) {
        const struct handbook_kind *k = handbook_kind(h, i);
        static const char *const by_hand[] = {"strip", "press", "stack", "plate", "sharpening"};
        bool hurts = k->n_holes || k->n_bodies || k->lays || k->n_orders || k->n_events;
        for (size_t n = 0; n < COUNT_OF(by_hand); n++)
            hurts = hurts || strcmp(k->name, by_hand[n]) == 0;
        ck_assert_msg(hurts == (k->n_cautions > 0), "%s", k->name);
        for (int c = 0; c < k->n_cautions; c++) {
            ck_assert_msg(k->cautions[c].source, "%s", k->cautions[c].text);
            ck_assert_msg(!strstr(k->cautions[c].text, "ocal codes"), "%s: that is said with every kind",
                          k->cautions[c].text);
        }
    }
    handbook_free(h);
}
END_TEST

START_TEST(a_factor_lies_in_its_own_range)
{
    struct handbook *h = shipped();
    for (int i = 0; i < handbook_factor_count(h); i++) {
        const struct handbook_factor *f = handbook_factor(h, i);
        struct formula_value v, low, high;
        if (!f->low)
            continue;
        ck_ok(handbook_eval_tree(h, f->tree, &f->type.type, &v, NULL, why));
        ck_ok(handbook_eval_tree(h, f->low, &f->type.type, &low, NULL, why));
        ck_ok(handbook_eval_tree(h, f->high, &f->type.type, &high, NULL, why));
        ck_assert_msg(low.number <= v.number && v.number <= high.number, "%s: %g not in %g .. %g", f->name,
                      v.number, low.number, high.number);
    }
    handbook_free(h);
}
END_TEST

/* How many tries of example NAME do not come out as they should: "" of all; NULL of all, and the test fails
   at the first. */
static int failures(const struct handbook *h, const char *name, int *tried)
{
    int failed = 0;
    *tried = 0;
    for (int i = 0; i < handbook_example_count(h); i++) {
        const struct handbook_example *e = handbook_example(h, i);
        if (e->like || (name && *name && strcmp(e->name, name) != 0))
            continue;
        for (int k = 0; k < e->n_tries; k++, (*tried)++) {
            struct formula_value got;
            struct formula_type type;
            double expected;
            bool agrees = handbook_try_run(h, &e->tries[k], &got, &expected, &type);
            failed += !agrees;
            if (!name)
                ck_assert_msg(agrees, "%s: %s gives %.10g, expected %.10g", e->name,
                              formula_text(e->tries[k].tree), got.number, expected);
        }
    }
    return failed;
}

START_TEST(every_published_example_agrees)
{
    struct handbook *h = shipped();
    int tried;
    ck_assert_int_eq(failures(h, NULL, &tried), 0);
    ck_assert_int_ge(tried, 100);
    handbook_free(h);
}
END_TEST

static bool counts(const struct handbook *h, const char *name)
{
    int stack = handbook_find_kind(h, "stack"),
        whole = handbook_find_property(handbook_kind(h, stack), "whole_mass");
    return handbook_sums(h, stack, whole, handbook_find_kind(h, name));
}

/* What weighs is in the mass of the set, of which paper and lifting speak: told from what the sum reads. */
START_TEST(each_kind_that_has_a_mass_is_counted_in_the_set)
{
    struct handbook *h = shipped();
    int weigh = 0;
    for (int k = 0; k < handbook_kind_count(h); k++) {
        const struct handbook_kind *kind = handbook_kind(h, k);
        bool mass = handbook_find_property(kind, "mass") >= 0;
        weigh += mass;
        ck_assert_msg(counts(h, kind->name) == mass, "%s: its mass counts nowhere", kind->name);
    }
    ck_assert_int_ge(weigh, 10);
    handbook_free(h);
    struct texts t;
    texts_read(&t);
    t.text[t.n] = base_copy(
        "kind anvil\n  asked mass : mass = 3 kg\n"
        "kind sledge\n  asked mass : mass = 3 kg\n  asked rides : text = \"with the bed\"\n");
    t.name[t.n++] = base_copy("99-own.txt");
    ck_ok(texts_load(&t, &h, why));
    ck_assert(!counts(h, "anvil"));
    ck_assert(counts(h, "sledge"));
    handbook_free(h);
    texts_done(&t);
}
END_TEST

/* Where WORD begins a line of an example, or stands in a line of the manual as a word of the format. */
static bool manual_names(const char *manual, const char *word)
{
    size_t n = strlen(word);
    for (const char *p = manual; (p = strstr(p, word)); p += n) {
        const char *line = p;
        while (line > manual && line[-1] != '\n')
            line--;
        bool ends = strchr(" \n,", p[n]) != NULL;
        bool begins = strspn(line, " ") == (size_t)(p - line), named = *line == '.' && p[-1] == ' ';
        if (ends && (begins || named))
            return true;
    }
    return false;
}

static bool data_have(const struct texts *t, const char *word)
{
    bool there = false;
    for (int i = 0; i < t->n; i++)
        there = there || manual_names(t->text[i], word);
    return there;
}

/* Every word that may stand below a record is told by the manual, and the shipped texts use it. */
START_TEST(each_word_of_the_format_stands_in_the_manual_and_is_used)
{
    char *manual = read_text("man/diewright-handbook.5");
    struct texts t;
    texts_read(&t);
    int words = 0, records = 0;
    for (; handbook_vocabulary(records, -1, NULL); records++)
        for (int w = 0; handbook_vocabulary(records, w, NULL); w++, words++) {
            const char *word = handbook_vocabulary(records, w, NULL),
                       *of = handbook_vocabulary(records, -1, NULL);
            ck_assert_msg(manual_names(manual, word), "the manual does not tell \"%s\" of %s", word, of);
            ck_assert_msg(data_have(&t, word), "\"%s\" of %s stands nowhere in the shipped texts", word, of);
            for (int again = 0; again < w; again++)
                ck_assert_str_ne(handbook_vocabulary(records, again, NULL), word);
        }
    ck_assert_int_ge(records, 25);
    ck_assert_int_ge(words, 150);
    ck_assert(!manual_names(manual, "hlep") && !data_have(&t, "hlep"));
    texts_done(&t);
    free(manual);
}
END_TEST

/* Functions that no example tries to one percent: they need a job's plates, or have no published figures. All
 * but the first three have rows of their own below. */
static const char *const untried[] = {
    "thickness_between", "thickness_under", "distance_between", "push_force",  "slugs_in_land", "arc_centre",
    "pad_force",         "force_at_height", "crank_lever",      "land_holds",  "slug_wider",    "die_block",
    "beam_sag_spread",   "longest_punch",   "spring_coils",
};

static bool is_untried(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(untried); i++)
        if (strcmp(untried[i], name) == 0)
            return true;
    return false;
}

/* Put "1.01 * (" and ")" round what function number N gives, in a copy of the texts. */
static void slip(struct texts *t, const struct handbook_function *f)
{
    int i = 0;
    while (strcmp(t->name[i], f->place.file) != 0)
        i++;
    char *head = base_format("\nfunction %s\n", f->f.name), *at = strstr(t->text[i], head);
    char *gives = at ? strstr(at, "\n  gives ") : NULL, *equals = gives ? strstr(gives, " = ") : NULL;
    ck_assert_msg(equals, "%s", f->f.name);
    char *end = strchr(equals, '\n'), *from = equals + 3;
    while (strncmp(end, "\n      ", 7) == 0) /* what goes on */
        end = strchr(end + 1, '\n');
    char *now = base_format("%.*s1.01 * (%.*s)%s", (int)(from - t->text[i]), t->text[i], (int)(end - from),
                            from, end);
    free(t->text[i]);
    t->text[i] = now;
    free(head);
}

/* A function that gives one percent too much is noticed by an example. */
START_TEST(a_slip_in_a_function_fails_an_example)
{
    enum { SHARE = 8 };
    struct handbook *right = shipped();
    for (int i = _i; i < handbook_function_count(right); i += SHARE) {
        const struct handbook_function *f = handbook_function(right, i);
        struct texts t;
        struct handbook *wrong;
        int tried;
        texts_read(&t);
        slip(&t, f);
        ck_ok(texts_load(&t, &wrong, why));
        bool noticed = failures(wrong, "", &tried) > 0;
        ck_assert_int_gt(tried, 0);
        ck_assert_msg(noticed != is_untried(f->f.name), "%s: %s", f->f.name,
                      noticed ? "is tried by an example: take it off the list" : "no example notices");
        handbook_free(wrong);
        texts_done(&t);
    }
    handbook_free(right);
}
END_TEST

/* Worked by hand, or held against another function. The arc's middle is 2 r / pi for half a circle, the
 * second moment pi d4 / 64 and the sag under a spread load 5/8 of that under a middle load: tables of
 * mechanics. A round bar of 10 mm has 0.617 kg a metre (tables of bars after EN 10060, from memory). At
 * mid-stroke a crank's force is that at the rated height times its sine: own arithmetic. The longest punch
 * buckles under the force that it cuts with. */
static const struct {
    const char *try, *expect, *within;
} rows[] = {
    {"push_force(100 kN, 4)", "20 kN", "1 N"},
    {"slugs_in_land(6 mm, 1.5 mm)", "4", "0"},
    {"slugs_in_land(6 mm, 4 mm)", "2", "0"},
    {"slugs_in_land(6 mm, 4.1 mm)", "1", "0"},
    {"root_clearance(2 mm, 400 MPa)", "0.128 mm", "0.0001 mm"},
    {"arc_centre(20 mm, 90 deg)", "40 mm / pi", "0.0001 mm"},
    {"arc_centre(20 mm, 180 deg)", "0 mm", "0.0001 mm"},
    {"pad_force(30 kN)", "10 kN", "1 N"},
    {"force_at_height(630 kN, 5 mm, 80 mm, 2 mm)", "630 kN", "1 N"},
    {"force_at_height(630 kN, 5 mm, 80 mm, 5 mm)", "630 kN", "1 N"},
    {"force_at_height(630 kN, 5 mm, 80 mm, 40 mm)", "304.997 kN", "1 N"},
    {"force_at_height(630 kN, 5 mm, 80 mm, 70 mm)", "304.997 kN", "1 N"},
    {"crank_lever(100 mm, 50 mm)", "1", "0.000001"},
    {"land_holds(\"tapered\", 0.5 deg, 6 mm, 30 mm)", "6 mm", "0 mm"},
    {"land_holds(\"tapered\", 0 deg, 6 mm, 30 mm)", "30 mm", "0 mm"},
    {"land_holds(\"a step\", 0 deg, 6 mm, 30 mm)", "6 mm", "0 mm"},
    {"slug_wider(\"tapered\", 0 mm, 0.5 deg, 6 mm, 30 mm, 2)", "3 mm", "0 mm"},
    {"slug_wider(\"tapered\", 0 mm, 3 deg, 6 mm, 30 mm, 1)", "2.5156 mm", "0.0001 mm"},
    {"slug_wider(\"a step\", 1.5 mm, 3 deg, 6 mm, 30 mm, 1)", "3 mm", "0 mm"},
    {"die_block(100 kN)", "21.544 mm", "0.001 mm"},
    {"beam_sag_spread(2 kN, 500 mm, 40 mm, 8 mm) / beam_sag(2 kN, 500 mm, 40 mm, 8 mm)", "0.625", "0.000001"},
    {"round_mass(10 mm, 1 m)", "0.617 kg", "0.0005 kg"},
    {"round_mass(20 mm, 1 m, 10 mm)", "3 * round_mass(10 mm, 1 m)", "0.000001 kg"},
    {"round_moment(20 mm)", "7853.98 mm4", "0.01 mm4"},
    {"buckling_force(round_moment(4 mm), longest_punch(4 mm, 2 mm, 350 MPa), 2)",
     "cutting_force(pi * 4 mm, 2 mm, 350 MPa)", "0.01 N"},
    {"dowel_shear(10 kN, 2, 8 mm)", "99.472 MPa", "0.001 MPa"},
    {"post_diameter_for_shoe(200 mm)", "20 mm", "0 mm"},
    {"post_diameter_for_shoe(201 mm)", "25 mm", "0 mm"},
    {"post_diameter_for_shoe(400 mm)", "32 mm", "0 mm"},
    {"post_diameter_for_shoe(401 mm)", "40 mm", "0 mm"},
    {"post_diameter_for_shoe(501 mm)", "50 mm", "0 mm"},
    {"spring_coils(7 mm, 42 mm, 1250 N, 30 mm, 81370 MPa)", "7.911", "0.001"},
};

START_TEST(functions_without_examples_agree_with_hand_work)
{
    struct handbook *h = shipped();
    struct formula_value got, expected, within;
    struct formula_type type, same;
    ck_ok(handbook_eval(h, rows[_i].try, &got, &type, why));
    ck_ok(handbook_eval(h, rows[_i].expect, &expected, &same, why));
    ck_ok(handbook_eval(h, rows[_i].within, &within, NULL, why));
    ck_assert(unit_same(type.dim, same.dim));
    ck_assert_int_eq(got.error, 0);
    ck_assert_msg(fabs(got.number - expected.number) <= within.number + 1e-9 * fabs(expected.number),
                  "%s: %.10g, not %.10g", rows[_i].try, got.number, expected.number);
    handbook_free(h);
}
END_TEST

/* A form that can be chosen by name is one of those that the sources differ about, so the list of these is
   whole. */
START_TEST(each_form_to_choose_stands_in_the_list_of_what_sources_differ_about)
{
    struct handbook *h = shipped();
    int forms = 0;
    for (int k = 0; k < handbook_kind_count(h); k++) {
        const struct handbook_kind *kind = handbook_kind(h, k);
        for (int p = 0; p < kind->n_properties; p++) {
            size_t n = strlen(kind->properties[p].name);
            if (n < 5 || strcmp(kind->properties[p].name + n - 5, "_form") != 0)
                continue;
            char *path = base_format("%s.%s", kind->name, kind->properties[p].name);
            bool listed = false;
            for (int w = 0; w < handbook_difference_count(h); w++)
                for (int i = 0; i < handbook_difference(h, w)->n_chosen_by; i++)
                    listed = listed || strcmp(handbook_difference(h, w)->chosen_by[i], path) == 0;
            ck_assert_msg(listed, "%s is not told of", path);
            ck_assert_msg(kind->properties[p].source, "%s has no source", path);
            free(path);
            forms++;
        }
    }
    ck_assert_int_ge(forms, 7);
    handbook_free(h);
}
END_TEST

START_TEST(a_slip_in_a_factor_fails_an_example)
{
    struct texts t;
    struct handbook *h;
    int tried;
    texts_read(&t);
    texts_change(&t, "factor dull_edge : number = 1\n", "factor dull_edge : number = 1.1\n");
    ck_ok(texts_load(&t, &h, why));
    ck_assert_int_gt(failures(h, "HB-01", &tried), 0);
    handbook_free(h);
    texts_done(&t);
}
END_TEST

/* The line after *AT (or the first) that declares "usual|follows NAME : length = ..."; its colon's type in
   *TYPE. */
static char *next_length(char *at, char **type)
{
    static const char *const keys[] = {"\n  usual ", "\n  follows "};
    char *first = NULL;
    for (size_t i = 0; i < COUNT_OF(keys); i++)
        for (char *p = at; (p = strstr(p, keys[i])); p++) {
            char *colon = strstr(p, " : "), *end = strchr(p + 1, '\n');
            if (!colon || colon > end || strncmp(colon, " : length = ", 12) != 0)
                continue;
            if (!first || p < first) {
                first = p;
                *type = colon + 3;
            }
            break;
        }
    return first;
}

/* Each property of a length that has a formula, declared a number instead: the fault shows, in its line or
   where it is read. */
START_TEST(a_property_of_another_dimension_is_never_taken)
{
    struct texts t;
    int changed = 0;
    texts_read(&t);
    if (_i < t.n && strstr(t.name[_i], "kinds")) {
        int least = strstr(t.name[_i], "kinds-life") ? 3 : 11; /* the sharpening book is short */
        char *type = NULL;
        for (char *p = t.text[_i]; (p = next_length(p, &type)); p++, changed++) {
            struct handbook *h;
            struct base_diag why = {0};
            memcpy(type, "number", 6);
            enum base_err err = texts_load(&t, &h, &why);
            ck_assert_msg(err == BASE_REFUSED || err == BASE_UNKNOWN, "%s: taken: %.60s", t.name[_i], p + 1);
            ck_assert_int_gt(why.line, 0);
            ck_assert_int_ne(why.file[0], '\0');
            memcpy(type, "length", 6);
        }
        ck_assert_int_ge(changed, least);
    }
    texts_done(&t);
}
END_TEST

TCase *shipped_case(void)
{
    TCase *t = tcase_create("shipped");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, it_loads_and_each_entry_names_its_source);
    tcase_add_test(t, what_is_shipped_is_known_by_its_sum);
    tcase_add_test(t, each_source_is_of_a_class_and_most_prints_were_seen);
    tcase_add_test(t, each_kind_that_can_hurt_has_its_caution);
    tcase_add_test(t, a_factor_lies_in_its_own_range);
    tcase_add_test(t, every_published_example_agrees);
    tcase_add_test(t, each_kind_that_has_a_mass_is_counted_in_the_set);
    tcase_add_test(t, each_word_of_the_format_stands_in_the_manual_and_is_used);
    tcase_add_loop_test(t, a_slip_in_a_function_fails_an_example, 0, 8);
    tcase_add_test(t, each_form_to_choose_stands_in_the_list_of_what_sources_differ_about);
    tcase_add_test(t, a_slip_in_a_factor_fails_an_example);
    tcase_add_loop_test(t, functions_without_examples_agree_with_hand_work, 0, COUNT_OF(rows));
    tcase_add_loop_test(t, a_property_of_another_dimension_is_never_taken, 0, 32);
    return t;
}
