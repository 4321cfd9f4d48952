/* Binding a job: values of the chain, names, states, circles, refusals. */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The height chain with the numbers of a self-check: 50 + 10 + 30 + G + 20 + 10 + 40, G = 65 - 20 - 1. HB-26
 * is M10 from below through a shoe of 50 (head 12 deep) and a backing of 10: 48 clamped. Own arithmetic. */
static const struct { const char *path; double fresh, ground; } values[] = {
    {"stack.gap", 44, 40},
    {"stack.shut_height", 204, 196},
    {"stack.open", 114, 106},
    {"stack.travel", 4, 8},
    {"stack.stripper_room", 22, 18},
    {"die_plate.thickness_now", 30, 26},
    {"die_plate.bottom", 60, 60},
    {"die_plate.top", 90, 86},
    {"stripper.bottom", 92, 88},
    {"punch_plate.bottom", 134, 126},
    {"upper_shoe.top", 204, 196},
    {"die_screws.grip", 48, 48},
    {"die_screws.length_need", 64.5, 64.5},
    {"die_screws.length", 65, 65},
    {"die_screws.engagement", 15.5, 15.5},
    {"punch_screws.grip", 38, 38},
    {"punch_screws.length", 55, 55},
    {"posts.length_need", 185.5, 185.5}, /* 118 - 20 + 37.5 + 50 */
    {"posts.length", 200, 200},
    {"posts.above_shoe", 150, 150},
    {"posts.right_back.x", 113.5, 113.5}, /* 157.5 - 35, freed by 9 */
    {"posts.right_back.y", 65, 65},
    {"posts.lay.end", 35, 35},
    {"posts.mean_x", -2.25, -2.25},
    {"bushings.bore", 25, 25},
    {"margins.reach", 37.5, 37.5},
    {"engagement_wanted", 1.5, 1.5},
};

START_TEST(values_follow_the_chain)
{
    struct bench b;
    bench_open(&b);
    ck_assert_double_eq_tol(bench_value(&b, values[_i].path, DIESET_NEW), values[_i].fresh, 1e-9);
    ck_assert_double_eq_tol(bench_value(&b, values[_i].path, DIESET_GROUND), values[_i].ground, 1e-9);
    bench_close(&b);
}
END_TEST

START_TEST(only_what_hangs_on_the_state_has_two_slots)
{
    static const struct { const char *path; bool stateful;
    } rows[] = {
        {"stack.gap", true},
        {"die_plate.top", true},
        {"posts.entry", true},
        {"upper_shoe.thickness_now", true},
        {"die_plate.thickness", false},
        {"posts.length", false},
        {"posts.length_need", false},
        {"die_screws.grip", false},
        {"lower_shoe.bottom", false},
        {"margins.reach", false},
    };
    struct bench b;
    bench_open(&b);
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        int q = dieset_find(b.d, rows[i].path);
        ck_assert_int_ge(q, 0);
        const struct dieset_quantity *d = dieset_quantity(b.d, q);
        ck_assert_msg((d->slot[0] != d->slot[1]) == rows[i].stateful, "%s", rows[i].path);
        for (int s = 0; s < DIESET_STATES; s++) {
            enum dieset_state told = DIESET_NEW;
            ck_assert_int_eq(dieset_of_slot(b.d, d->slot[s], &told), q);
            ck_assert_int_eq(told, rows[i].stateful ? s : 0);
        }
    }
    ck_assert_str_eq(model_name(dieset_model(b.d),
                                dieset_quantity(b.d, dieset_find(b.d, "stack.gap"))->slot[1]),
                     "stack.gap (ground)");
    bench_close(&b);
}
END_TEST

/* What is added to the job, and what the refusal begins with and says. */
static const struct { const char *extra, *begins, *says;
} refusals[] = {
    {"values a\n  one = 2 * three\n  two = one + 1\n  three = two\n", "a.",
     "a.one -> a.three -> a.two -> a.one"},
    {"values a\n  one = one + 1\n", "a.one: ", "a.one -> a.one"},
    {"values a\n  one = 1 +\n", "a.one: ", ""},
    {"values a\n  one = 1 mm\n", "a.one: ", "a length"},
    {"values a\n  one = 25\n    type length\n", "a.one: ", "write 25 mm"},
    {"values a\n  one = 30\n    type angle\n", "a.one: ", "write 30 deg"},
    {"values a\n  one = nothing\n", "a.one: ", "\"nothing\""},
    {"values a\n  one = 1\n    type nonsense\n", "a.one: ", "nonsense"},
    {"values a\n  kg = 1\n", "a.kg", "no name"},
    {"plate mm\n", "\"mm\"", "in formulas it is a unit"},
    {"plate hole\n", "\"hole\"", "in formulas it is a word of its own. Call it \"hole_1\""},
    {"plate entry_wanted\n", "\"entry_wanted\"", "factor"},
    {"factor nothing = 3\n", "nothing", "no factor"},
    {"plate p\n  lenght = 10 mm\n", "p.lenght", "length"},
    {"plate p\n  top = 10 mm\n", "p.top: ", "cannot be typed"},
    {"plate p\n  turned_miss = 10 mm\n", "p.turned_miss: ", "cannot be typed"},
    {"plate p\n  moves = \"up\"\n", "p.moves: ", "with the slide"},
    {"plate p\n  moves = if(ground = 0, \"stripper\", \"with the bed\")\n", "p.moves: ", "at_new()"},
    {"plate p\n  thickness = 10 mm - ground * 1 mm\n", "p.thickness: ", "at_new() or at_ground()"},
    {"plate p\n  thickness = die_plate.thickness_now\n", "p.thickness: ", "at_new() or at_ground()"},
    {"plate p\n  length = die_plate.turned_miss\n", "p.length: ", "rules may read it"},
    {"screws sc\n  head_in = die_plat\n", "sc.head_in: ", "die_plate"},
    {"screws sc\n  head_in = posts\n", "sc.head_in: ", "no plate"},
    {"screws sc\n  head_in = if(yes, die_plate, lower_shoe)\n", "sc.head_in: ", "name of an item"},
    {"screws sc\n  lay sixx on die_plate\n", "sc.lay: ", "six"},
    {"screws sc\n  lay six on posts\n", "sc.lay: ", "no plate"},
    {"screws sc\n  lay six\n", "sc.lay: ", "pattern"},
    {"screws sc\n  lay with die_plate\n", "sc.lay: ", "die_plate"},
    {"plate p\n  lay six on die_plate\n", "p.lay: ", "does not stand at points"},
    {"screws sc\n  lay corners on die_plate\n    point middle\n      x = 1 mm\n", "sc.middle.x: ", "corners"},
    {"screws sc\n  lay with posts\n    point right_back\n      x = 1 mm\n", "sc.right_back.x: ", "posts"},
    {"screws sc\n  lay with r\nscrews r\n  lay with sc\n", "sc.lay: ", "itself"},
    {"screws sc\n  lay rows on die_plate\n    columns = -1\n    end = 1 mm\n    side = 1 mm\n",
     "sc.lay.columns: ", "whole number"},
    {"screws sc\n  lay rows on die_plate\n    columns = 2.5\n    end = 1 mm\n    side = 1 mm\n",
     "sc.lay.columns: ", "whole number"},
    {"screws sc\n  lay rows on die_plate\n    columns = whole(die_plate.length / 50 mm)\n",
     "sc.lay.columns: ", "without working"},
};

START_TEST(a_wrong_job_is_refused_by_path)
{
    const char *message = bench_refusal(refusals[_i].extra);
    ck_assert_msg(strncmp(message, refusals[_i].begins, strlen(refusals[_i].begins)) == 0, "%s", message);
    ck_assert_msg(strstr(message, refusals[_i].says) != NULL, "%s", message);
}
END_TEST

/* What no job's text can say is refused by the die set itself: a file may hold it all the same. */
static const struct { struct typed_item item; const char *begins, *says; } wrong_items[] = {
    {{"plate", "die_plate"}, "die_plate: ", "two items"},
    {{"plate", "Big"}, "\"Big\"", "cannot be the name"},
    {{"strip", "other"}, "other", "one strip"},
    {{"sheet", "one"}, "one", "no kind sheet"},
};

START_TEST(a_wrong_item_is_refused_by_name)
{
    struct bench b;
    struct dieset_text t;
    struct base_diag reason = {0};
    bench_open(&b);
    char *job = read_text("tests/dieset/job.txt");
    ck_ok(dieset_text_read(b.h, job, "job", &t, why));
    base_vec_push(&t.items, wrong_items[_i].item);
    ck_assert_int_ne(dieset_load(b.d, t.items.at, (int)t.items.count, t.entries.at, (int)t.entries.count,
                                 &reason),
                     BASE_OK);
    ck_assert_msg(strncmp(reason.message, wrong_items[_i].begins, strlen(wrong_items[_i].begins)) == 0, "%s",
                  reason.message);
    ck_assert_msg(strstr(reason.message, wrong_items[_i].says) != NULL, "%s", reason.message);
    dieset_text_done(&t);
    free(job);
    bench_close(&b);
}
END_TEST

START_TEST(a_refused_load_leaves_all_as_it_was)
{
    struct bench b;
    struct base_diag why = {0};
    bench_open(&b);
    long binding = dieset_binding(b.d);
    ck_assert_int_ne(bench_load(b.d, "plate p\n  thickness = 1 kN\n", &why), BASE_OK);
    ck_assert_int_gt(why.length, 0);
    near_to(bench_value(&b, "stack.shut_height", DIESET_NEW), 204);
    ck_assert_int_eq(dieset_binding(b.d), binding);
    bench_close(&b);
}
END_TEST

START_TEST(a_bare_number_takes_the_jobs_unit_on_entry)
{
    static const struct { const char *path, *text, *completed;
    } rows[] = {
        {"die_plate.thickness", "25", "25 mm"},
        {"die_plate.thickness", "-2.5", "-2.5 mm"},
        {"die_plate.thickness", "25 in", "25 in"},
        {"die_plate.thickness", "12 + 3", "12 mm + 3 mm"},
        {"die_plate.thickness", "40 - 4*2", "40 mm - 4 mm*2"},
        {"die_plate.thickness", "2*stack.shut_height-22", "2*stack.shut_height-22 mm"},
        {"die_plate.thickness", "max(30, 2 + 3 mm) / 2", "max(30, 2 + 3 mm) / 2"},
        {"die_plate.thickness", "if(2 > 1, -30, 0)", "if(2 > 1, -30 mm, 0)"},
        {"die_plate.thickness", "1/2", "1 mm/2"},
        {"die_plate.thickness", "2 * stack.shut_height", "2 * stack.shut_height"},
        {"die_plate.thickness", "1 in + 3", "1 in + 3 mm"},
        {"posts.lay.turn", "45", "45 deg"},
        {"posts.clamps", "3", "3"},
        {"die_plate.thickness", "12,5", "12.5 mm"},
        {"die_plate.thickness", "12,5 in", "12.5 in"},
        {"die_plate.thickness", "1 1/4", "1 1/4"},
        {"die_plate.thickness", "max(1,5 mm, 2 mm)", "max(1,5 mm, 2 mm)"},
        {"entry_wanted", "2,5", "2.5"},
        {"die_plate.thickness", "1 +", "1 +"},
        {"entry_wanted", "2", "2"},
        {"nothing.at_all", "2", "2"},
        {"die_plate.material", "1.2379", "\"1.2379\""},
        {"die_plate.material", "2026-02-03", "\"2026-02-03\""},
        {"die_plate.material", "\"1.2379\"", "\"1.2379\""},
        {"die_plate.material", "press.size", "press.size"},
        {"die_plate.material", "X155", "\"X155\""},
        {"die_plate.material", "tool steel", "\"tool steel\""},
        {"die_plate.material", "thickness", "thickness"},
        {"die_plate.material", "1 = 1 and \"x\" = \"x\"", "1 = 1 and \"x\" = \"x\""},
    };
    struct bench b;
    bench_open(&b);
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *text = dieset_complete(b.d, rows[i].path, rows[i].text);
        ck_assert_str_eq(text, rows[i].completed);
        free(text);
    }
    bench_set(&b, "job", "unit", "\"in\"");
    ck_assert_str_eq(dieset_system(b.d).length, "in");
    static const char *const inches[][2] = {{"1.25", "1.25 in"}, {"1 1/4", "1 1/4 in"}, {"3/8", "3/8 in"},
                                            {"1,25", "1.25 in"}, {"3/8 + 1", "3 in/8 + 1 in"}};
    for (size_t i = 0; i < COUNT_OF(inches); i++) {
        char *text = dieset_complete(b.d, "die_plate.thickness", inches[i][0]);
        ck_assert_str_eq(text, inches[i][1]);
        free(text);
    }
    bench_close(&b);
}
END_TEST

START_TEST(a_factor_typed_over_moves_what_hangs_on_it)
{
    struct bench b;
    bench_open_with(&b, "factor entry_wanted = 3\n  reason long strip\n");
    near_to(bench_value(&b, "posts.length_need", DIESET_NEW), 223);
    int q = dieset_find(b.d, "entry_wanted");
    const struct dieset_quantity *d = dieset_quantity(b.d, q);
    ck_assert_int_eq(d->item, dieset_find_item(b.d, "entry_wanted"));
    ck_assert_int_eq(dieset_item_kind(b.d, d->item), -1);
    ck_assert_str_eq(d->reason, "long strip");
    ck_assert_str_eq(d->usual, "1.5");
    ck_assert_int_eq(dieset_mark(b.d, q), DIESET_TYPED_OVER);
    near_to(model_value(dieset_model(b.d), d->usual_slot).number, 1.5);
    ck_assert_int_eq(dieset_quantity(b.d, dieset_find(b.d, "engagement_wanted"))->item, -1);
    bench_close(&b);
}
END_TEST

START_TEST(a_typed_over_value_keeps_its_usual_beside_it)
{
    struct bench b;
    bench_open(&b);
    int q = dieset_find(b.d, "posts.right_back.x");
    const struct dieset_quantity *d = dieset_quantity(b.d, q);
    ck_assert_str_eq(d->text, "usual - 9 mm");
    ck_assert_str_eq(d->usual, "right - end");
    ck_assert_str_eq(d->reason, "shifted against turning");
    ck_assert_str_eq(d->entry, "lay/right_back/x");
    near_to(model_value(dieset_model(b.d), d->usual_slot).number, 122.5);
    bench_set(&b, "die_screws", "length", "usual + 10 mm");
    near_to(bench_value(&b, "die_screws.length", DIESET_NEW), 75);
    bench_set(&b, "lower_shoe", "thickness", "60 mm");
    near_to(bench_value(&b, "die_screws.length", DIESET_NEW), 90); /* need 74.5, stock 80 */
    bench_close(&b);
}
END_TEST

START_TEST(marks_tell_where_a_value_comes_from)
{
    static const struct { const char *path; enum dieset_mark mark;
    } rows[] = {
        {"die_plate.thickness", DIESET_TYPED},
        {"margins.reach", DIESET_FORMULA},
        {"die_plate.top", DIESET_FORMULA},
        {"die_screws.length", DIESET_PICKED},
        {"posts.right_back.x", DIESET_TYPED_OVER},
        {"die_screws.head_in", DIESET_TYPED},
        {"p.length", DIESET_BLANK},
        {"p.right", DIESET_BROKEN},
    };
    struct bench b;
    bench_open_with(&b, "plate p\n  thickness = 10 mm\n");
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        ck_assert_msg(dieset_mark(b.d, dieset_find(b.d, rows[i].path)) == rows[i].mark, "%s: %d",
                      rows[i].path, dieset_mark(b.d, dieset_find(b.d, rows[i].path)));
    double spare, need;
    ck_assert(dieset_spare(b.d, dieset_find(b.d, "die_screws.length"), &spare, &need));
    near_to(spare, 0.5);
    near_to(need, 64.5);
    ck_assert(!dieset_spare(b.d, dieset_find(b.d, "die_plate.thickness"), &spare, &need));
    bench_close(&b);
}
END_TEST

/* A job whose values are errors still binds; each sentence names where the error arose. */
static const struct { const char *extra, *path, *says[3];
} errors[] = {
    {"plate p\n  width = 10 mm\n", "p.right", {"p.right", "p.length is not filled in"}},
    {"plate p\n  width = 10 mm\n", "p.length", {"p.length is not filled in."}},
    {"screws sc\n  head_in = lower_shoe\n", "sc.grip", {"sc.grip", "sc.thread_in is not filled in"}},
    {"values a\n  one = 1 / (margins.spare / 1 mm - 10)\n  two = one + 1\n",
     "a.two",
     {"a.two", "a.one: division by zero"}},
    {"posts q\n  seat_in = lower_shoe\n  bush_below = -40 mm\n",
     "q.above_shoe",
     {"q.above_shoe", "q.length: ", "200"}},
};

START_TEST(an_error_is_explained_by_its_origin)
{
    struct bench b;
    bench_open_with(&b, errors[_i].extra);
    struct base_text t = {0};
    dieset_explain_error(b.d, dieset_find(b.d, errors[_i].path), DIESET_NEW, &t);
    for (int i = 0; i < 3 && errors[_i].says[i]; i++)
        ck_assert_msg(strstr(base_text_get(&t), errors[_i].says[i]) != NULL, "%s", base_text_get(&t));
    base_text_done(&t);
    bench_close(&b);
}
END_TEST

/* What is not filled in is no circle: both arms of an `if` that asks for it are dead. */
START_TEST(a_blank_reference_leaves_errors_and_no_circle)
{
    struct bench b;
    bench_open_with(
        &b, "screws sc\n  thread_in = die_plate\n"
            "values a\n  one = if(sc.head_in.order > 3, two, 5)\n  two = if(sc.head_in.order > 3, 4, one)\n");
    int head = dieset_find(b.d, "sc.head_in");
    static const char *const paths[] = {"sc.head_in",    "sc.above", "sc.grip", "sc.length",
                                        "sc.engagement", "a.one",    "a.two"};
    for (size_t i = 0; i < COUNT_OF(paths); i++) {
        struct formula_value v = dieset_get(b.d, paths[i], DIESET_NEW);
        ck_assert_int_eq(v.error, FORMULA_EMPTY);
        ck_assert_int_eq(dieset_of_slot(b.d, v.origin, NULL), head);
    }
    bench_close(&b);
}
END_TEST

START_TEST(values_are_printed_as_people_read_them)
{
    static const struct { const char *path, *text;
    } rows[] = {
        {"die_plate.thickness", "30.0 mm"},
        {"die_plate.hardened", "yes"},
        {"die_plate.moves", "with the bed"},
        {"die_screws.head_in", "lower shoe"},
        {"posts.clamps", "0"},
        {"p.length", "not filled in"},
    };
    struct bench b;
    char buf[80];
    bench_open_with(&b, "plate p\n");
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        ck_assert_str_eq(dieset_print(b.d, dieset_find(b.d, rows[i].path), DIESET_NEW, buf, sizeof buf),
                         rows[i].text);
    bench_close(&b);
}
END_TEST

START_TEST(long_chains_bind_and_long_circles_are_named)
{
    enum { LINKS = 3000 };
    struct base_text t = {0};
    base_text_add(&t, "values chain\n");
    for (int i = 1; i < LINKS; i++)
        base_text_addf(&t, "  v%d = v%d + 1\n", i, i + 1);
    base_text_addf(&t, "  v%d = 1\n", LINKS);
    struct bench b;
    bench_open_with(&b, base_text_get(&t));
    near_to(bench_value(&b, "chain.v1", DIESET_NEW), LINKS);
    bench_close(&b);
    t.length = strlen(t.data) - strlen("1\n");
    base_text_add(&t, "v1 + 1\n");
    const char *message = bench_refusal(base_text_get(&t));
    ck_assert_msg(strstr(message, "hang on itself") != NULL && strstr(message, " more) -> chain.v") != NULL,
                  "%s", message);
    base_text_done(&t);
}
END_TEST

START_TEST(a_folded_arm_makes_no_circle)
{
    struct bench b;
    bench_open_with(&b, "values a\n  one = if(die_plate.moves = \"stripper\", two, 5)\n  two = one + 1\n");
    near_to(bench_value(&b, "a.two", DIESET_NEW), 6);
    ck_assert_int_ne(bench_try(&b, "die_plate", "moves", "\"stripper\"", NULL), BASE_OK);
    bench_close(&b);
}
END_TEST

START_TEST(entries_come_in_the_order_of_a_dump)
{
    static const char *const wanted[] = {"note",
                                         "seat_in",
                                         "diameter",
                                         "diameter/reason",
                                         "lay",
                                         "lay/end",
                                         "lay/side",
                                         "lay/turn",
                                         "lay/left_front/y",
                                         "lay/right_back/x",
                                         "lay/right_back/x/reason"};
    struct bench b;
    bench_open(&b);
    const struct { const char *path, *text;
    } typed[] = {{"lay/left_front/y", "usual + 1 mm"},
                 {"lay/turn", "45 deg"},
                 {"diameter/reason", "shop's usual"},
                 {"diameter", "25 mm"},
                 {"note", "four posts"}};
    for (size_t i = 0; i < COUNT_OF(typed); i++)
        bench_set(&b, "posts", typed[i].path, typed[i].text);
    const struct typed_entry *entries;
    int n = dieset_entries(b.d, dieset_find_item(b.d, "posts"), &entries);
    ck_assert_int_eq(n, COUNT_OF(wanted));
    for (int i = 0; i < n; i++)
        ck_assert_str_eq(entries[i].path, wanted[i]);
    ck_assert_str_eq(dieset_entry(b.d, dieset_find_item(b.d, "posts"), "note"), "four posts");
    ck_assert_str_eq(dieset_item_title(b.d, dieset_find_item(b.d, "job")), "Chain HB-19, own numbers");
    ck_assert_str_eq(dieset_item_title(b.d, dieset_find_item(b.d, "die_plate")), "die plate");
    bench_close(&b);
}
END_TEST

START_TEST(points_turn_with_their_lay)
{
    struct bench b;
    struct dieset_point p;
    bench_open_with(
        &b, "posts ring\n  seat_in = lower_shoe\n  lay ring on lower_shoe\n    many = 4\n    across = 80 mm\n"
            "    turn = 10 deg\n    point p3\n      turn = usual + 5 deg\n");
    static const double turns[] = {10, 100, 195, 280};
    int item = dieset_find_item(b.d, "ring");
    ck_assert_int_eq(dieset_point_count(b.d, item), 4);
    for (int i = 0; i < 4; i++) {
        dieset_point(b.d, item, i, &p);
        ck_assert_double_eq_tol(p.turn * 180 / acos(-1), turns[i], 1e-9);
        ck_assert_int_eq(p.freed, i == 2);
    }
    dieset_point(b.d, item, 1, &p);
    ck_assert_str_eq(p.name, "p2");
    ck_assert_double_eq_tol(p.y, 40, 1e-9);
    bench_set(&b, "posts", "lay/turn", "45 deg");
    near_to(bench_value(&b, "posts.left_front.turn", DIESET_NEW), acos(-1) / 4);
    bench_close(&b);
}
END_TEST

START_TEST(a_handbook_without_what_is_read_is_refused)
{
    const char *text = "kind plate\n  help A plate.\n  asked length : length\n", *name = "h";
    struct handbook *h;
    struct dieset *d;
    struct base_diag reason = {0};
    ck_ok(handbook_read(&text, &name, 1, NULL, &h, why));
    ck_assert_int_ne(dieset_new(h, NULL, &d, &reason), BASE_OK);
    ck_assert_ptr_null(d);
    ck_assert_msg(strstr(reason.message, "lacks the kind job") != NULL, "%s", reason.message);
    handbook_free(h);
}
END_TEST

TCase *bind_tests(void)
{
    TCase *t = tcase_create("bind");
    tcase_set_timeout(t, 30);
    tcase_add_loop_test(t, values_follow_the_chain, 0, COUNT_OF(values));
    tcase_add_test(t, only_what_hangs_on_the_state_has_two_slots);
    tcase_add_loop_test(t, a_wrong_item_is_refused_by_name, 0, COUNT_OF(wrong_items));
    tcase_add_loop_test(t, a_wrong_job_is_refused_by_path, 0, COUNT_OF(refusals));
    tcase_add_test(t, a_refused_load_leaves_all_as_it_was);
    tcase_add_test(t, a_bare_number_takes_the_jobs_unit_on_entry);
    tcase_add_test(t, a_factor_typed_over_moves_what_hangs_on_it);
    tcase_add_test(t, a_typed_over_value_keeps_its_usual_beside_it);
    tcase_add_test(t, marks_tell_where_a_value_comes_from);
    tcase_add_loop_test(t, an_error_is_explained_by_its_origin, 0, COUNT_OF(errors));
    tcase_add_test(t, a_blank_reference_leaves_errors_and_no_circle);
    tcase_add_test(t, values_are_printed_as_people_read_them);
    tcase_add_test(t, long_chains_bind_and_long_circles_are_named);
    tcase_add_test(t, a_folded_arm_makes_no_circle);
    tcase_add_test(t, entries_come_in_the_order_of_a_dump);
    tcase_add_test(t, points_turn_with_their_lay);
    tcase_add_test(t, a_handbook_without_what_is_read_is_refused);
    return t;
}
