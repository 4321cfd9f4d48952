/* tests/place/asks.c - places asked for by words: edges by name, freed points, reasons, new groups */

#include "parts.h"

#include "diewright/place.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static struct handbook *handbook;
static struct job *job;
static struct dieset *d;
static struct place p;

static void begin(void)
{
    char *text = read_text("data/demo/cover-plate.txt");
    ck_ok(job_open_handbook("data", &handbook, why));
    ck_ok(job_from_text(handbook, text, "demo", &job, why));
    d = job_dieset(job);
    place_init(&p, job, "die_screws");
    free(text);
}

static void end(void)
{
    place_done(&p);
    job_close(job);
    handbook_free(handbook);
}

START_TEST(every_edge_has_a_word_and_every_word_its_edge)
{
    for (int axis = PLACE_ALONG; axis < PLACE_AXES; axis++)
        for (int from = PLACE_FROM_OWN; from < PLACE_FROMS; from++) {
            int found;
            enum place_from edge;
            ck_assert(place_from_named(place_from_name(axis, (enum place_from)from), &found, &edge));
            ck_assert_int_eq(found, axis);
            ck_assert_int_eq((int)edge, from);
        }
    ck_assert(!place_from_named("above", &(int){0}, &(enum place_from){0}));
}
END_TEST

/* By hand: the die plate is 264 x 170 about its middle, so 40 from its left edge is -92, 45 from its front
 * edge -40, 30 from the right 102. */
START_TEST(a_freed_point_stands_where_it_is_measured)
{
    struct dieset_point at;
    p.alone = true;
    place_grab(&p, "left_front");
    ck_ok(place_measure(&p, PLACE_ALONG, PLACE_FROM_LOW, "40", why));
    ck_ok(place_measure(&p, PLACE_ACROSS, PLACE_FROM_LOW, "45 mm", why));
    ck_assert_str_eq(place_typed(&p, "lay/left_front/x"), "left + 40 mm");
    ck_assert(place_try(&p) && place_point(&p, &at, NULL));
    ck_assert(fabs(at.x + 92) < 1e-9 && fabs(at.y + 40) < 1e-9 && at.freed);
    ck_ok(place_measure(&p, PLACE_ALONG, PLACE_FROM_HIGH, "30 mm", why));
    ck_assert(place_try(&p) && place_point(&p, &at, NULL));
    ck_assert(fabs(at.x - 102) < 1e-9);
}
END_TEST

START_TEST(what_the_pattern_holds_is_refused_in_a_sentence)
{
    ck_assert(place_pattern(&p, "six", "die_plate"));
    place_grab(&p, "middle_back");
    struct base_diag because = {0};
    ck_assert_int_eq(place_measure(&p, PLACE_ALONG, PLACE_FROM_LOW, "40", &because), BASE_REFUSED);
    ck_assert_str_eq(because.message, "The pattern holds middle_back of die_screws along the feed: freed it "
                                      "may be moved.");
    ck_assert_int_eq(place_measure(&p, PLACE_ACROSS, PLACE_FROM_ORIGIN, "40", &because), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(because.message, "alone it may be measured from any edge"));
    ck_assert_ptr_null(place_typed(&p, "lay/middle_back/x"));
}
END_TEST

START_TEST(a_point_is_freed_and_given_back)
{
    place_grab(&p, "left_front");
    ck_assert(!p.alone);
    place_free(&p);
    ck_assert(p.alone);
    ck_assert(place_move(&p, PLACE_ALONG, 4) && place_try(&p));
    place_free(&p);
    ck_assert(!p.alone && !job_trying(job));
}
END_TEST

START_TEST(a_point_off_its_group_lacks_a_reason_until_one_is_given)
{
    ck_assert(!place_lacks_reason(&p));
    p.alone = true;
    place_grab(&p, "left_front");
    ck_assert(place_move(&p, PLACE_ALONG, 4) && place_try(&p));
    ck_assert(place_lacks_reason(&p));
    place_give_reason(&p, "");
    ck_assert(place_lacks_reason(&p));
    place_give_reason(&p, "a slug chute lies below it");
    ck_assert(!place_lacks_reason(&p));
    ck_assert_str_eq(place_typed(&p, "lay/left_front/x/reason"), "a slug chute lies below it");
    ck_assert_msg(place_try(&p), "%s", p.why.message);
}
END_TEST

START_TEST(another_measure_of_the_pattern_is_typed_by_its_name)
{
    ck_assert(place_pattern(&p, "corners", "die_plate"));
    place_take(&p, "end", "25");
    ck_assert_str_eq(place_typed(&p, "lay/end"), "25 mm");
    place_take(&p, "end", "");
    ck_assert_ptr_null(place_typed(&p, "lay/end"));
}
END_TEST

/* A new group of screws asks which plates it holds together; those beside it tell what is likely. */
START_TEST(a_new_group_begins_as_those_beside_it)
{
    int plate = dieset_find_item(d, "die_plate"), asked = 0;
    const struct handbook_kind *k = handbook_kind(handbook, handbook_find_kind(handbook, "screws"));
    place_done(&p);
    place_init(&p, job, "more_screws");
    snprintf(p.kind, sizeof p.kind, "screws");
    ck_assert_ptr_nonnull(place_first_pattern(&p));
    for (int i = 0; i < k->n_properties; i++) {
        const struct handbook_property *q = &k->properties[i];
        if (!place_asks_item(q))
            continue;
        int item = place_likely_item(&p, q, plate, DIESET_NEW);
        ck_assert_int_ge(item, 0);
        ck_assert_int_eq(dieset_item_kind(d, item), q->type.type.kind);
        place_put(&p, q->name, dieset_item_name(d, item));
        asked++;
    }
    ck_assert_int_ge(asked, 1);
    ck_assert_msg(place_pattern(&p, "corners", "die_plate"), "%s", p.why.message);
    ck_assert_int_eq(dieset_point_count(d, place_item(&p)), 4);
    ck_assert(place_stands_in(d, place_item(&p), dieset_find_item(d, "die_plate"), DIESET_NEW));
    job_drop(job);
    ck_assert_int_lt(dieset_find_item(d, "more_screws"), 0);
}
END_TEST

/* From the top down, as the stack lies. */
START_TEST(plates_are_offered_in_the_order_of_the_stack)
{
    struct dieset_layer layers[64];
    int items[64], kind = handbook_find_kind(handbook, DIESET_PLATE);
    int n = place_items(d, kind, DIESET_NEW, items, 64), m = dieset_stack(d, DIESET_NEW, layers, 64);
    ck_assert_int_eq(n, m);
    for (int i = 0; i < n; i++)
        ck_assert_int_eq(items[i], layers[i].plate);
    ck_assert_int_eq(place_items(d, kind, DIESET_NEW, items, 2), 2);
}
END_TEST

void add_asks(Suite *s)
{
    TCase *c = tcase_create("asks");
    tcase_add_checked_fixture(c, begin, end);
    tcase_set_timeout(c, 60);
    tcase_add_test(c, every_edge_has_a_word_and_every_word_its_edge);
    tcase_add_test(c, a_freed_point_stands_where_it_is_measured);
    tcase_add_test(c, what_the_pattern_holds_is_refused_in_a_sentence);
    tcase_add_test(c, a_point_is_freed_and_given_back);
    tcase_add_test(c, a_point_off_its_group_lacks_a_reason_until_one_is_given);
    tcase_add_test(c, another_measure_of_the_pattern_is_typed_by_its_name);
    tcase_add_test(c, a_new_group_begins_as_those_beside_it);
    tcase_add_test(c, plates_are_offered_in_the_order_of_the_stack);
    suite_add_tcase(s, c);
}
