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

/* Five holes 40 apart and more, the images of four of them off by the corners of a square of 2 h, that of the
 * fifth, alone of its class, not at all; all of them shifted. What is off lies in a circle of h sqrt 2. */
START_TEST(a_shift_brings_the_images_as_near_as_can_be)
{
    static const double off[5][2] = {{1, 1}, {-1, 1}, {-1, -1}, {1, -1}, {0, 0}}, h = 0.25;
    struct shape_spot s[5] = {{0, 0, 1}, {50, 0, 1}, {50, 40, 1}, {0, 40, 1}, {90, 90, 0}}, images[5];
    double x, y;
    for (int i = 0; i < 5; i++)
        images[i] = (struct shape_spot){s[i].x + 3 + h * off[i][0], s[i].y - 2 + h * off[i][1], s[i].class};
    near_to(shape_spots_fit(s, images, 5, 4, &x, &y), h * sqrt(2));
    near_to(x, -3);
    near_to(y, 2);
    images[1].x += 0.6; /* now the two that are farthest apart hold the circle */
    double far = 0;
    for (int i = 0; i < 5; i++)
        for (int k = 0; k < i; k++)
            far = fmax(far, hypot(images[i].x - s[i].x - images[k].x + s[k].x,
                                  images[i].y - s[i].y - images[k].y + s[k].y));
    near_to(shape_spots_fit(s, images, 5, 4, &x, &y), far / 2);
    ck_assert(isinf(shape_spots_fit(s, images, 5, 3, &x, &y))); /* the first would have to go further */
    for (int class = 0; class < 9; class += 8) {
        images[4].class = class == 0 ? 1 : class; /* nothing of its class is there */
        ck_assert(isinf(shape_spots_fit(s, images, 5, 100, &x, &y)));
    }
    near_to(shape_spots_fit(s, images, 0, 4, &x, &y), 0);
    near_to(x, 0);
    near_to(y, 0);
}
END_TEST

/* Held by three: the corners of a triangle with equal sides lie on the circle. */
START_TEST(the_shift_may_be_held_by_three)
{
    struct shape_spot s[3] = {{0, 0, 0}, {60, 0, 0}, {0, 70, 0}}, images[3];
    double x, y;
    for (int i = 0; i < 3; i++)
        images[i] = (struct shape_spot){s[i].x + 0.3 * cos(2 * PI / 3 * i + 0.2) + 0.5,
                                        s[i].y + 0.3 * sin(2 * PI / 3 * i + 0.2) - 0.1, 0};
    near_to(shape_spots_fit(s, images, 3, 2, &x, &y), 0.3);
    near_to(x, -0.5);
    near_to(y, 0.1);
}
END_TEST

TCase *spot_tests(void)
{
    TCase *t = tcase_create("spots");
    tcase_add_test(t, two_half_turns_and_two_overs_come_back);
    tcase_add_test(t, the_miss_is_the_worst_of_the_nearest);
    tcase_add_test(t, the_two_farthest);
    tcase_add_test(t, the_widest_span_just_links_them);
    tcase_add_test(t, a_shift_brings_the_images_as_near_as_can_be);
    tcase_add_test(t, the_shift_may_be_held_by_three);
    return t;
}
