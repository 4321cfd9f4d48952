/* Spots against what their words say, looked for plainly. */

#include "suites.h"

#include <stdlib.h>

enum { MANY = 120 };

static void scatter(struct shape_spot *s, int classes)
{
    srand(11);
    for (int i = 0; i < MANY; i++)
        s[i] = (struct shape_spot){rand() % 1000 / 7., rand() % 1000 / 9., rand() % classes};
}

static double between(const struct shape_spot *a, const struct shape_spot *b)
{
    return hypot(a->x - b->x, a->y - b->y);
}

START_TEST(two_half_turns_and_two_overs_come_back)
{
    static const enum shape_way back[SHAPE_WAYS] = {SHAPE_TURN_HALF,   SHAPE_TURN_RIGHT, SHAPE_TURN_LEFT,
                                                    SHAPE_OVER_LENGTH, SHAPE_OVER_WIDTH, SHAPE_OVER_LEFT,
                                                    SHAPE_OVER_RIGHT};
    struct shape_spot s = {7, -3, 2};
    for (int w = 0; w < SHAPE_WAYS; w++) {
        struct shape_spot moved = shape_spot_moved(s, 10, 20, (enum shape_way)w);
        near_to(hypot(moved.x - 10, moved.y - 20), hypot(s.x - 10, s.y - 20));
        moved = shape_spot_moved(moved, 10, 20, back[w]);
        near_to(moved.x, s.x);
        near_to(moved.y, s.y);
        ck_assert_int_eq(moved.class, 2);
    }
}
END_TEST

START_TEST(the_miss_is_the_worst_of_the_nearest)
{
    struct shape_spot s[MANY], images[MANY];
    double worst = 0;
    scatter(s, 3);
    for (int i = 0; i < MANY; i++)
        images[i] = shape_spot_moved(s[i], 70, 55, SHAPE_TURN_HALF);
    for (int i = 0; i < MANY; i++) {
        double best = INFINITY;
        for (int k = 0; k < MANY; k++)
            if (s[k].class == images[i].class)
                best = fmin(best, between(&s[k], &images[i]));
        worst = fmax(worst, best);
    }
    near_to(shape_spots_miss(s, images, MANY), worst);
    near_to(shape_spots_miss(s, s, MANY), 0);
    images[0].class = 9;
    ck_assert(isinf(shape_spots_miss(s, images, MANY)));
    near_to(shape_spots_miss(s, images, 0), 0);
}
END_TEST

START_TEST(the_two_farthest)
{
    struct shape_spot s[MANY];
    double far = 0;
    scatter(s, 1);
    for (int i = 0; i < MANY; i++)
        for (int k = 0; k < i; k++)
            far = fmax(far, between(&s[i], &s[k]));
    near_to(shape_spots_farthest(s, MANY), far);
    near_to(shape_spots_farthest(s, 2), between(&s[0], &s[1]));
    near_to(shape_spots_farthest(s, 1), 0);
}
END_TEST

/* The widest link is the least distance with which all hang together. */
START_TEST(the_widest_span_just_links_them)
{
    struct shape_spot s[MANY];
    scatter(s, 1);
    double span = shape_spots_widest_span(s, MANY);
    for (int pass = 0; pass < 2; pass++) {
        double reach = pass ? span + 1e-9 : span - 1e-9;
        int group[MANY], groups = MANY;
        for (int i = 0; i < MANY; i++)
            group[i] = i;
        for (int i = 0; i < MANY; i++)
            for (int k = 0; k < MANY; k++)
                if (between(&s[i], &s[k]) <= reach && group[i] != group[k]) {
                    int was = group[k];
                    for (int j = 0; j < MANY; j++)
                        group[j] = group[j] == was ? group[i] : group[j];
                    groups--;
                }
        ck_assert_int_eq(groups == 1, pass);
    }
}
END_TEST

TCase *spot_tests(void)
{
    TCase *t = tcase_create("spots");
    tcase_add_test(t, two_half_turns_and_two_overs_come_back);
    tcase_add_test(t, the_miss_is_the_worst_of_the_nearest);
    tcase_add_test(t, the_two_farthest);
    tcase_add_test(t, the_widest_span_just_links_them);
    return t;
}
