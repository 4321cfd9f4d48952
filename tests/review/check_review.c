/* Remarks, waivers and revisions as they stand in a job: read, held against the findings, letters counted on.
 *
 * The handbook is the small one of tests/findings, with the shipped kinds of words behind it. Its rule
 * "reach" wants 30 mm of the pins called first: a caution under 30 mm, a fault under 20 mm; what is worn is
 * taken off in the ground state. */

#include "common.h"

#include "diewright/review.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct handbook *h;
static struct dieset *d;
static struct findings *f;
static struct base_arena memory;
static BASE_VEC(struct typed_item) items;
static BASE_VEC(struct typed_entry) entries;

static void add_entry(const char *item, const char *path, const char *text)
{
    struct typed_entry e = {base_arena_copy(&memory, item), base_arena_copy(&memory, path),
                            base_arena_copy(&memory, text)};
    base_vec_push(&entries, e);
}

static void add_item(const char *kind, const char *name)
{
    struct typed_item i = {base_arena_copy(&memory, kind), base_arena_copy(&memory, name)};
    base_vec_push(&items, i);
}

static void open_small(void)
{
    char *const texts[] = {read_text("tests/findings/small-handbook.txt"),
                           read_text("data/handbook/66-review.txt")};
    const char *const both[] = {texts[0], texts[1]}, *const names[] = {"small-handbook.txt", "66-review.txt"};
    ck_ok(handbook_read(both, names, 2, "tests/findings", &h, why));
    ck_ok(dieset_new(h, NULL, &d, why));
    free(texts[0]);
    free(texts[1]);
    f = findings_new(d);
    add_item("job", "job");
    add_entry("job", "unit", "\"mm\"");
    add_item("strip", "strip");
    add_item("stack", "stack");
    add_entry("stack", "die_plate", "die_plate");
    add_item("plate", "die_plate");
    add_item("pins", "first");
    add_entry("first", "seat_in", "die_plate");
    add_entry("first", "wanted", "3 mm");
    add_entry("first", "lay", "corners on die_plate");
    add_entry("first", "lay/end", "20 mm");
    add_entry("first", "lay/side", "20 mm");
}

static void close_small(void)
{
    findings_free(f);
    dieset_free(d);
    handbook_free(h);
    base_vec_done(&items);
    base_vec_done(&entries);
    base_arena_done(&memory);
}

static void load(void)
{
    ck_ok(dieset_load(d, items.at, (int)items.count, entries.at, (int)entries.count, why));
    findings_judge(f, NULL);
}

/* ---- waivers ---- */

/* What was waived, what stands now, and whether the finding is open. */
static const struct { const char *grade, *states, *margin, *says, *length, *worn; bool open; } waived[] = {
    {"caution", "both", "-1 mm", "stock", "29 mm", NULL, false},
    {"caution", "both", "-1 mm", NULL, "29 mm", NULL, false},       /* a caution may go without a reason */
    {"caution", "both", "-1 mm", "stock", "29.5 mm", NULL, false},  /* better than it was */
    {"caution", "both", "-1 mm", "stock", "28.9 mm", NULL, true},   /* short by more */
    {"caution", "both", "-1 mm", "stock", "28.9999999 mm", NULL, false}, /* float noise is forgiven */
    {"caution", "both", "-0.1 cm", "stock", "29 mm", NULL, false},  /* any unit of the kind */
    {"caution", "both", "-1 kN", "stock", "29 mm", NULL, true},
    /* a margin that was not kept lets nothing stand */
    {"caution", "both", NULL, "stock", "29 mm", NULL, true},
    {"caution", "both", "-20 mm", "stock", "19 mm", NULL, true},    /* a fault now */
    {"fault", "both", "-1 mm", "stock", "19 mm", NULL, false},
    {"fault", "both", "-1 mm", NULL, "19 mm", NULL, true},          /* a fault needs its reason */
    {"fault", "both", "-12 mm", "stock", "29 mm", NULL, false},     /* milder than what was waived */
    {"caution", "ground", "-3 mm", "stock", "32 mm", "5 mm", false},
    {"caution", "ground", "-6 mm", "stock", "29 mm", "5 mm", true}, /* fails when new as well */
    {"grave", "both", "-1 mm", "stock", "29 mm", NULL, true},
    {"caution", "always", "-1 mm", "stock", "29 mm", NULL, true},
};

static void add_waiver(int i)
{
    add_item("waiver", "waiver_1");
    add_entry("waiver_1", "finding", "reach first");
    add_entry("waiver_1", "grade", waived[i].grade);
    add_entry("waiver_1", "states", waived[i].states);
    if (waived[i].margin)
        add_entry("waiver_1", "margin", waived[i].margin);
    if (waived[i].says)
        add_entry("waiver_1", "says", waived[i].says);
}

START_TEST(a_waiver_holds_while_nothing_is_worse_than_it_was)
{
    add_entry("first", "length", waived[_i].length);
    if (waived[_i].worn)
        add_entry("first", "worn", waived[_i].worn);
    add_waiver(_i);
    load();
    const struct finding *x;
    struct review_waiver w;
    int counts[3];
    ck_ok(findings_named(f, "reach first", &x, why));
    ck_assert_msg(!x->waiver == waived[_i].open, "%s: %s", waived[_i].length, x->message);
    findings_counts(f, counts);
    ck_assert_int_eq(counts[HANDBOOK_FAULT] + counts[HANDBOOK_CAUTION], waived[_i].open);
    ck_assert_int_eq(findings_waived(f), !waived[_i].open);
    ck_assert_int_eq(review_waivers(f, &w, 1), 1);
    ck_assert(w.stands && w.holds == !waived[_i].open);
    ck_assert_int_eq(review_waiver_of(d, "reach first"), w.item);
    ck_assert_int_eq(review_waiver_of(d, "reach"), -1);
}
END_TEST

START_TEST(the_margin_that_is_kept_reads_back_as_the_same)
{
    const struct finding *x;
    add_entry("first", "length", "28.123456789 mm");
    load();
    ck_ok(findings_named(f, "reach first", &x, why));
    char *metric = findings_margin_text(x, UNIT_METRIC), *inch = findings_margin_text(x, UNIT_INCH);
    ck_assert_msg(strncmp(metric, "-1.8765432", 10) == 0 && strstr(metric, " mm"), "%s", metric);
    ck_assert_msg(strncmp(inch, "-0.07387965", 11) == 0 && strstr(inch, " in"), "%s", inch);
    free(metric);
    free(inch);
}
END_TEST

/* What subtracting leaves behind the last digit is nobody's figure. */
START_TEST(a_margin_is_told_in_four_figures)
{
    static const struct { const char *kept, *told; } margins[] = {
        {"-6.44777188464 mm", "-6.448 mm"}, {"-0.5 mm", "-0.5 mm"}, {"-0.0715730337079", "-0.07157"},
        {"", ""}};
    char buf[60];
    for (size_t i = 0; i < COUNT_OF(margins); i++)
        ck_assert_str_eq(review_margin(&(struct review_waiver){.margin = margins[i].kept}, buf, sizeof buf),
                         margins[i].told);
}
END_TEST

START_TEST(a_margin_is_kept_without_noise)
{
    struct finding x = {.measured = true, .type = {.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH}};
    const struct { double margin; struct unit_system system; const char *text; } margins[] = {
        {79.7 - 81, UNIT_METRIC, "-1.3 mm"},
        {0.1 + 0.2 - 0.4, UNIT_METRIC, "-0.1 mm"},
        {(1.1 - 1.4) * 25.4, UNIT_INCH, "-0.3 in"},
    };
    for (size_t i = 0; i < COUNT_OF(margins); i++) {
        x.margin = margins[i].margin;
        char *text = findings_margin_text(&x, margins[i].system);
        ck_assert_str_eq(text, margins[i].text);
        free(text);
    }
    x.type.dim = (struct unit_dim)UNIT_NUMBER;
    x.margin = 1.1 - 1.3;
    char *text = findings_margin_text(&x, UNIT_METRIC);
    ck_assert_str_eq(text, "-0.2");
    free(text);
}
END_TEST

START_TEST(came_and_went_are_told_of_open_findings)
{
    add_entry("first", "length", "29 mm");
    load();
    struct findings_kept *open = findings_keep(f);
    add_waiver(0);
    load();
    const struct finding *list;
    bool came[20], went[20];
    int n = findings_list(f, &list), kept = findings_kept_list(open, &list);
    ck_assert(n < 20 && kept == n);
    findings_compare(open, f, came, went);
    for (int i = 0; i < n; i++)
        ck_assert(!came[i]);
    ck_assert(went[0]); /* the gravest: it is waived now */
    struct findings_kept *let = findings_keep(f);
    for (size_t i = 0; i < entries.count; i++)
        if (strcmp(entries.at[i].path, "length") == 0)
            entries.at[i].text = "28 mm";
    load();
    findings_compare(let, f, came, went);
    ck_assert(came[0]); /* open again */
    for (int i = 0; i < kept; i++)
        ck_assert(!went[i]);
    findings_kept_free(open);
    findings_kept_free(let);
}
END_TEST

/* ---- what may be waived and issued ---- */

static const struct { const char *length, *finding, *reason, *says; } asked[] = {
    {"29 mm", "reach first", "", NULL},
    {"19 mm", "reach first", "the stock is there", NULL},
    {"19 mm", "reach first", "", "reach first is a fault: it is waived only with a reason."},
};

START_TEST(a_fault_is_waived_only_with_a_reason)
{
    const struct finding *x;
    struct base_diag reason = {0};
    add_entry("first", "length", asked[_i].length);
    load();
    ck_ok(findings_named(f, asked[_i].finding, &x, why));
    enum base_err err = review_may_waive(x, asked[_i].reason, &reason);
    ck_assert_int_eq(err != BASE_OK, asked[_i].says != NULL);
    ck_assert_str_eq(reason.message, asked[_i].says ? asked[_i].says : "");
}
END_TEST

START_TEST(what_cannot_be_judged_is_not_waived)
{
    struct finding x = {.rule = FINDINGS_UNJUDGED,
                        .key = "cannot-judge first.length",
                        .message = "Two rules cannot be judged."};
    struct base_diag reason = {0};
    ck_assert_int_eq(review_may_waive(&x, "let it be", &reason), BASE_REFUSED);
    ck_assert_msg(strstr(reason.message, "What cannot be judged cannot be waived") &&
                      strstr(reason.message, x.message),
                  "%s", reason.message);
}
END_TEST

START_TEST(a_release_is_refused_while_a_fault_is_open_and_only_then)
{
    struct base_diag reason = {0};
    add_entry("first", "length", _i == 0 ? "19 mm" : _i == 1 ? "29 mm" : "19 mm");
    if (_i == 2)
        add_waiver(9);
    load();
    ck_assert_int_eq(review_may_issue(f, &reason), _i == 0 ? BASE_REFUSED : BASE_OK);
    ck_assert_msg(_i || strstr(reason.message,
                               "Not issued: 1 fault is open, first reach: first: 19.0 mm is under the least"),
                  "%s", reason.message);
}
END_TEST

static const struct { const char *text; enum base_err err; const char *says;
} names[] = {
    {"reach first", BASE_OK, NULL},
    {"reach second", BASE_OK, NULL},
    {"reach", BASE_REFUSED, "2 findings are called \"reach\": say which, \"reach first\", \"reach second\"."},
    {"raech", BASE_UNKNOWN, "near it: reach"},
    {"reach firs", BASE_UNKNOWN, "No finding \"reach firs\" stands"},
    {"rea", BASE_UNKNOWN, "No finding"},
};

START_TEST(a_finding_is_named_by_whole_words_of_its_key)
{
    const struct finding *x;
    struct base_diag reason = {0};
    add_entry("first", "length", "29 mm");
    add_item("pins", "second");
    add_entry("second", "seat_in", "die_plate");
    add_entry("second", "wanted", "3 mm");
    add_entry("second", "length", "29 mm");
    add_entry("second", "lay", "with first");
    load();
    ck_assert_int_eq(findings_named(f, names[_i].text, &x, &reason), names[_i].err);
    ck_assert(!x == (names[_i].err != BASE_OK));
    ck_assert_msg(!names[_i].says || strstr(reason.message, names[_i].says), "%s", reason.message);
}
END_TEST

/* ---- revisions ---- */

/* ASME Y14.35: the letters I, O, Q, S, X and Z are not used; AA comes after Y (from memory). */
static const struct { const char *latest, *next;
} next_letters[] = {
    {NULL, "A"}, {"A", "B"}, {"H", "J"},  {"N", "P"},   {"P", "R"},
    {"R", "T"},  {"W", "Y"}, {"Y", "AA"}, {"AH", "AJ"}, {"AY", "BA"},
};

START_TEST(letters_follow_one_another)
{
    char buf[REVIEW_LETTER];
    if (next_letters[_i].latest) {
        add_item("revision", "revision_1");
        add_entry("revision_1", "letter", next_letters[_i].latest);
    }
    load();
    ck_assert_str_eq(review_next_letter(d, "", buf), next_letters[_i].next);
    ck_ok(review_letter(d, "", next_letters[_i].next, buf, why));
}
END_TEST

static const struct { const char *letter, *stands, *says;
} letter_rows[] = {
    {"c", "C", NULL},
    {"AA", "AA", NULL},
    {"B", NULL, "Revision B was issued on 2024-05-02: the next comes after it, such as C."},
    {"a", NULL, "the next comes after it"},
    {"", NULL, "A revision has a letter, such as C."},
    {"B2", NULL, "\"B2\" is no revision"},
    {"ABC", NULL, "one or two letters"},
    {"\xc3\x84", NULL, "is no revision"},
};

START_TEST(a_revision_is_a_letter_later_than_those_before)
{
    static const char *const there[] = {"B", "A"}; /* the order in the job does not matter */
    char buf[REVIEW_LETTER] = "";
    struct base_diag reason = {0};
    struct review_revision r;
    for (size_t i = 0; i < COUNT_OF(there); i++) {
        char name[20];
        snprintf(name, sizeof name, "revision_%zu", i + 1);
        add_item("revision", name);
        add_entry(name, "letter", there[i]);
        add_entry(name, "on", i ? "2024-05-01T08:00:00+02:00" : "2024-05-02T08:00:00+02:00");
    }
    load();
    ck_assert_int_eq(review_letter(d, "", letter_rows[_i].letter, buf, &reason) == BASE_OK,
                     letter_rows[_i].stands != NULL);
    if (letter_rows[_i].stands)
        ck_assert_str_eq(buf, letter_rows[_i].stands);
    ck_assert_msg(!letter_rows[_i].says || strstr(reason.message, letter_rows[_i].says), "%s",
                  reason.message);
    ck_assert(review_latest(d, &r) && strcmp(r.letter, "B") == 0);
    ck_assert(review_find(d, "a", &r) && strcmp(r.name, "revision_2") == 0);
    ck_assert(!review_find(d, "C", &r));
    ck_assert_int_eq(review_revisions(d, NULL, 0), 2);
}
END_TEST

/* ---- remarks, typed over ---- */

START_TEST(remarks_are_counted_by_what_they_speak_of)
{
    static const char *const subjects[][2] = {
        {"item", "first"}, {"item", "first.length"}, {"item", "first_of_all"}, {"finding", "reach first"}};
    for (size_t i = 0; i < COUNT_OF(subjects); i++) {
        char name[20];
        snprintf(name, sizeof name, "remark_%zu", i + 1);
        add_item("remark", name);
        add_entry(name, subjects[i][0], subjects[i][1]);
        add_entry(name, "says", "\"look\" = here");
    }
    load();
    struct review_remark r[2];
    ck_assert_int_eq(review_remarks(d, r, 2), 4);
    ck_assert_str_eq(r[1].on_item, "first.length");
    ck_assert_str_eq(r[1].finding, "");
    ck_assert_str_eq(r[1].says, "\"look\" = here");
    ck_assert_int_eq(review_remarks_of(d, NULL, dieset_find_item(d, "first")), 2);
    ck_assert_int_eq(review_remarks_of(d, "reach first", -1), 1);
    ck_assert_int_eq(review_remarks_of(d, NULL, dieset_find_item(d, "die_plate")), 0);
}
END_TEST

START_TEST(words_have_no_values_and_take_no_others)
{
    struct base_diag reason = {0};
    add_item("remark", "remark_1");
    add_entry("remark_1", "says", "look");
    load();
    int item = dieset_find_item(d, "remark_1"), first;
    ck_assert_int_eq(dieset_item_quantities(d, item, &first), 0);
    add_entry("remark_1", "say", "look");
    ck_assert_int_ne(dieset_load(d, items.at, (int)items.count, entries.at, (int)entries.count, &reason),
                     BASE_OK);
    ck_assert_msg(strstr(reason.message,
                         "remark_1.say: remarks have nothing of this name to type; near it: says"),
                  "%s", reason.message);
}
END_TEST

START_TEST(what_is_typed_over_is_told_with_what_its_formula_gives)
{
    int list[4];
    char buf[60];
    add_entry("first", "length", "29 mm");
    load();
    int n = review_typed_over(d, list, 4);
    ck_assert_int_eq(n, 1);
    review_usual(d, list[0], buf, sizeof buf);
    entries.at[entries.count - 1].text = buf;
    load();
    ck_assert_int_eq(review_typed_over(d, list, 4), 0);
    entries.at[entries.count - 1].text = "29 mm";
    load();
    ck_assert_int_eq(review_typed_over(d, list, 4), 1);
    ck_assert_str_eq(dieset_quantity(d, list[0])->path, "first.length");
    int usual = dieset_quantity(d, list[0])->usual_slot;
    ck_assert_int_ge(usual, 0);
    struct formula_value v = model_value(dieset_model(d), usual);
    review_usual(d, list[0], buf, sizeof buf);
    ck_assert_msg(!v.error && strtod(buf, NULL) == v.number && strstr(buf, " mm"), "%s", buf);
}
END_TEST

static struct base_text changes;

static void note_change(void *arg, const char *what, const char *was, const char *now)
{
    (void)arg;
    base_text_addf(&changes, "%s: %s -> %s\n", what, was ? was : "none", now ? now : "none");
}

START_TEST(two_verdicts_are_told_apart_thing_by_thing)
{
    ck_assert_int_eq(review_verdicts_differ("wall blank = caution | stack.need = 1 kN | edge = note",
                                            "stack.need = 2 kN | edge = note | wall = fault", note_change,
                                            NULL),
                     3);
    ck_assert_str_eq(base_text_get(&changes), "wall blank: caution -> none\nstack.need: 1 kN -> 2 kN\n"
                                              "wall: none -> fault\n");
    base_text_clear(&changes);
    ck_assert_int_eq(review_verdicts_differ("a = 1", "a = 1", note_change, NULL), 0);
    ck_assert_int_eq(review_verdicts_differ("", "", note_change, NULL), 0);
    ck_assert_int_eq(review_verdicts_differ("", "a = b = 1", note_change, NULL), 1);
    ck_assert_str_eq(base_text_get(&changes), "a = b: none -> 1\n");
    base_text_done(&changes);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("review");
    TCase *t = tcase_create("review");
    tcase_add_checked_fixture(t, open_small, close_small);
    tcase_add_loop_test(t, a_waiver_holds_while_nothing_is_worse_than_it_was, 0, COUNT_OF(waived));
    tcase_add_test(t, the_margin_that_is_kept_reads_back_as_the_same);
    tcase_add_test(t, a_margin_is_kept_without_noise);
    tcase_add_test(t, a_margin_is_told_in_four_figures);
    tcase_add_test(t, came_and_went_are_told_of_open_findings);
    tcase_add_loop_test(t, a_fault_is_waived_only_with_a_reason, 0, COUNT_OF(asked));
    tcase_add_test(t, what_cannot_be_judged_is_not_waived);
    tcase_add_loop_test(t, a_release_is_refused_while_a_fault_is_open_and_only_then, 0, 3);
    tcase_add_loop_test(t, a_finding_is_named_by_whole_words_of_its_key, 0, COUNT_OF(names));
    tcase_add_loop_test(t, letters_follow_one_another, 0, COUNT_OF(next_letters));
    tcase_add_loop_test(t, a_revision_is_a_letter_later_than_those_before, 0, COUNT_OF(letter_rows));
    tcase_add_test(t, remarks_are_counted_by_what_they_speak_of);
    tcase_add_test(t, words_have_no_values_and_take_no_others);
    tcase_add_test(t, what_is_typed_over_is_told_with_what_its_formula_gives);
    tcase_add_test(t, two_verdicts_are_told_apart_thing_by_thing);
    suite_add_tcase(s, t);
    return run_suite(s);
}
