/* Stack, order lines, events, and formulas of rooms above. */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <string.h>

START_TEST(the_stack_stands_from_the_top_down)
{
    static const struct { const char *plate; double bottom, top;
    } layers[] = {{"upper_shoe", 164, 204}, {"punch_backing", 154, 164}, {"punch_plate", 134, 154},
                  {"stripper", 92, 112},    {"die_plate", 60, 90},       {"die_backing", 50, 60},
                  {"lower_shoe", 0, 50}};
    struct bench b;
    struct dieset_layer stack[20];
    bench_open(&b);
    ck_assert_int_eq(dieset_stack(b.d, DIESET_NEW, stack, 20), COUNT_OF(layers));
    for (size_t i = 0; i < COUNT_OF(layers); i++) {
        ck_assert_str_eq(dieset_item_name(b.d, stack[i].plate), layers[i].plate);
        near_to(stack[i].bottom, layers[i].bottom);
        near_to(stack[i].top, layers[i].top);
        near_to(stack[i].thickness, layers[i].top - layers[i].bottom);
    }
    ck_assert_int_eq(dieset_stack(b.d, DIESET_NEW, stack, 2), 2);
    bench_close(&b);
}
END_TEST

static const struct dieset_order *line_of(const struct dieset_orders *o, const char *designation,
                                          const char *size)
{
    for (int i = 0; i < o->count; i++)
        if (strcmp(o->at[i].designation, designation) == 0 && strcmp(o->at[i].size, size) == 0)
            return &o->at[i];
    return NULL;
}

START_TEST(equal_parts_are_ordered_together)
{
    struct bench b;
    struct dieset_orders o;
    bench_open_with(&b, "screws more\n  head_in = upper_shoe\n  thread_in = punch_plate\n  lay diagonal on "
                        "punch_plate\n    end = 60 mm\n"
                        "    side = 25 mm\nscrews none\n  head_in = upper_shoe\n  thread_in = punch_plate\n");
    dieset_orders(b.d, &o);
    near_to(line_of(&o, "Cap screw", "M8 x 55")->pieces, 6);
    near_to(line_of(&o, "Cap screw", "M10 x 65")->pieces, 6);
    near_to(line_of(&o, "Guide post", "25 x 200")->pieces, 4);
    ck_assert_int_eq(line_of(&o, "Cap screw", "M8 x 55")->item, dieset_find_item(b.d, "punch_screws"));
    ck_assert_str_eq(line_of(&o, "Plate", "200 x 160 x 30")->material, "steel");
    near_to(line_of(&o, "Plate", "200 x 160 x 10")->pieces, 2);
    near_to(line_of(&o, "Plate", "200 x 160 x 20")->pieces, 2);
    for (int i = 0; i < o.count; i++)
        ck_assert(!o.at[i].broken);
    dieset_orders_free(&o);
    bench_close(&b);
}
END_TEST

START_TEST(a_part_without_size_is_ordered_as_broken)
{
    struct bench b;
    struct dieset_orders o;
    bench_open(&b);
    bench_set(&b, "posts", "bush_below", "-100 mm");
    dieset_orders(b.d, &o);
    int broken = 0;
    for (int i = 0; i < o.count; i++)
        if (o.at[i].broken) {
            broken++;
            ck_assert_str_eq(o.at[i].designation, "Guide post");
        }
    ck_assert_int_eq(broken, 1);
    dieset_orders_free(&o);
    bench_close(&b);
}
END_TEST

START_TEST(events_stand_in_the_order_of_the_stroke)
{
    static const struct { const char *title; double fresh, ground;
    } rows[] = {{"guide posts enter their bushings", 56, 64},
                {"Stripper touches the strip", 4, 8},
                {"Punches touch the strip", 3, 3}};
    struct bench b;
    struct dieset_event e[10];
    bench_open_with(&b, "posts late\n  title unready posts\n  lay one on lower_shoe\n");
    bench_set(&b, "posts", "title", "guide posts");
    for (int s = 0; s < DIESET_STATES; s++) {
        ck_assert_int_eq(dieset_events(b.d, (enum dieset_state)s, e, 10), 4);
        for (int i = 0; i < 3; i++) {
            ck_assert_str_eq(e[i].title, rows[i].title);
            near_to(e[i].at, s ? rows[i].ground : rows[i].fresh);
            ck_assert(!e[i].broken);
        }
        ck_assert_str_eq(e[3].title, "unready posts enter their bushings");
        ck_assert(e[3].broken);
    }
    bench_close(&b);
}
END_TEST

/* A rule's formulas are bound as the item's own text, with the block's names as arguments. */
START_TEST(formulas_of_rules_read_items_holes_and_states)
{
    static const char *const names[] = {"value", "hole.x", "hole.operation"};
    const struct formula_type types[] = {{.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH},
                                         {.sort = FORMULA_NUMBER, .dim = UNIT_LENGTH},
                                         {.sort = FORMULA_TEXT}};
    struct dieset_block block = {.names = names, .types = types, .count = 3};
    static const struct { const char *text; enum dieset_state state; double want;
    } rows[] = {
        {"thickness_now", DIESET_NEW, 30},  {"thickness_now", DIESET_GROUND, 26},
        {"stack.gap", DIESET_GROUND, 40},   {"at_new(thickness_now)", DIESET_GROUND, 30},
        {"value + hole.x", DIESET_NEW, 7},  {"hole.plate.thickness", DIESET_NEW, 10},
        {"plate.length", DIESET_NEW, 200},  {"turned_miss", DIESET_NEW, hypot(200, 160)},
        {"this.thickness", DIESET_NEW, 30}, {"if(hole.operation = \"tap\", 1 mm, 2 mm)", DIESET_NEW, 1},
    };
    struct bench b;
    bench_open(&b);
    double arguments[] = {3, 4, base_pool_put(handbook_pool(b.h), "tap")};
    unsigned char errors[] = {0, 0, 0};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        struct formula_tree *tree;
        struct formula_code *code;
        ck_ok(formula_parse(rows[i].text, &tree, why));
        ck_ok(dieset_compile(b.d, tree, dieset_find_item(b.d, "die_plate"),
                             dieset_find_item(b.d, "die_backing"), rows[i].state, &block, &types[0], &code,
                             why));
        struct formula_value v = model_run(dieset_model(b.d), code, arguments, errors);
        ck_assert_int_eq(v.error, 0);
        ck_assert_msg(fabs(v.number - rows[i].want) < 1e-9, "%s: %g", rows[i].text, v.number);
        formula_code_free(code);
        formula_tree_free(tree);
    }
    bench_close(&b);
}
END_TEST

START_TEST(words_print_values_as_people_read_them)
{
    struct bench b;
    bench_open(&b);
    const struct handbook_kind *screws = handbook_kind(b.h, handbook_find_kind(b.h, "screws"));
    struct dieset_words *w;
    ck_ok(dieset_words_new(b.d, &screws->orders[0].size, dieset_find_item(b.d, "die_screws"), -1, DIESET_NEW,
                           NULL, &w, why));
    struct base_text t = {0};
    dieset_words_print(b.d, w, NULL, NULL, &t);
    ck_assert_str_eq(base_text_get(&t), "M10 x 65");
    bench_set(&b, "die_backing", "thickness", "15 mm"); /* the words stay bound */
    base_text_clear(&t);
    dieset_words_print(b.d, w, NULL, NULL, &t);
    ck_assert_str_eq(base_text_get(&t), "M10 x 70");
    base_text_done(&t);
    dieset_words_free(w);
    bench_close(&b);
}
END_TEST

START_TEST(short_hands_read_items)
{
    struct bench b;
    bench_open(&b);
    int screws = dieset_find_item(b.d, "die_screws");
    near_to(dieset_number(b.d, dieset_find_item(b.d, "die_plate"), "top", DIESET_GROUND), 86);
    ck_assert(isnan(dieset_number(b.d, screws, "nothing", DIESET_NEW)));
    ck_assert_str_eq(dieset_text(b.d, screws, "size"), "M10");
    ck_assert_str_eq(dieset_text(b.d, screws, "length"), "");
    ck_assert_int_eq(dieset_reference(b.d, screws, "head_in"), dieset_find_item(b.d, "lower_shoe"));
    ck_assert_int_eq(dieset_reference(b.d, screws, "size"), -1);
    ck_assert_int_eq(dieset_item_of_kind(b.d, "plate"), dieset_find_item(b.d, "upper_shoe"));
    struct base_text t = {0};
    dieset_nearest(b.d, "die_plate.thicknes", &t);
    ck_assert_msg(strstr(base_text_get(&t), "die_plate.thickness") != NULL, "%s", base_text_get(&t));
    base_text_done(&t);
    bench_close(&b);
}
END_TEST

TCase *paper_tests(void)
{
    TCase *t = tcase_create("papers");
    tcase_set_timeout(t, 30);
    tcase_add_test(t, the_stack_stands_from_the_top_down);
    tcase_add_test(t, equal_parts_are_ordered_together);
    tcase_add_test(t, a_part_without_size_is_ordered_as_broken);
    tcase_add_test(t, events_stand_in_the_order_of_the_stroke);
    tcase_add_test(t, formulas_of_rules_read_items_holes_and_states);
    tcase_add_test(t, words_print_values_as_people_read_them);
    tcase_add_test(t, short_hands_read_items);
    return t;
}
