/* Crossings, inside, distances; pairs by the grid against plain looking. */

#include "suites.h"

#include <stdlib.h>
#include <string.h>

START_TEST(where_sides_meet)
{
    struct shape_side line = shape_straight(-20, 3, 20, 3), away = shape_straight(-20, 11, 20, 11), arc,
                      other;
    double x[2], y[2];
    ck_assert(shape_arc(10, 0, -10, 0, 10, 1, false, &arc));
    ck_assert_int_eq(shape_sides_meet(&line, &arc, false, x, y), 2);
    near_to(fabs(x[0]), sqrt(91)); /* 10^2 - 3^2 */
    near_to(y[0], 3);
    near_to(x[1], -x[0]);
    ck_assert_int_eq(shape_sides_meet(&away, &arc, false, x, y), 0);
    away = shape_straight(-20, -3, 20, -3); /* meets the circle, but not the half that is there */
    ck_assert_int_eq(shape_sides_meet(&away, &arc, false, x, y), 0);
    ck_assert_int_eq(shape_sides_meet(&away, &arc, true, x, y), 2);
    away = shape_straight(-20, 10, 20, 10); /* touches */
    ck_assert_int_eq(shape_sides_meet(&away, &arc, false, x, y), 1);
    ck_assert(shape_arc(22, 0, 2, 0, 10, 1, false, &other)); /* a lens of two circles 12 apart: 8 high */
    ck_assert_int_eq(shape_sides_meet(&arc, &other, false, x, y), 1);
    near_to(x[0], 6);
    near_to(y[0], 8);
}
END_TEST

START_TEST(what_crosses_itself_is_counted)
{
    static const double bow[4][2] = {{0, 0}, {10, 10}, {10, 0}, {0, 10}},
                        square[4][2] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    struct shape_side s[4];
    int first = -1, second = -1;
    polygon(bow, 4, s);
    ck_assert_int_eq(shape_crossings(s, 4, &first, &second), 1);
    ck_assert_int_eq(first, 0);
    ck_assert_int_eq(second, 2);
    polygon(square, 4, s);
    ck_assert_int_eq(shape_crossings(s, 4, &first, &second), 0);
}
END_TEST

START_TEST(inside_and_from_the_rim)
{
    struct shape_side s[4];
    ck_assert(shape_arc(10, 0, -10, 0, 10, 1, false, &s[0])); /* a half disc with a bite of 4 */
    s[1] = shape_straight(-10, 0, -4, 0);
    ck_assert(shape_arc(-4, 0, 4, 0, 4, -1, false, &s[2]));
    s[3] = shape_straight(4, 0, 10, 0);
    near_to(shape_area(s, 4), 42 * PI);
    ck_assert(shape_inside(s, 4, 0, 7));
    near_to(shape_from(s, 4, 0, 7), 3);
    ck_assert(!shape_inside(s, 4, 0, 3));
    near_to(shape_from(s, 4, 0, 3), 1);
    ck_assert(!shape_inside(s, 4, 0, -1));
    near_to(shape_from(s, 4, 0, -1), hypot(4, 1));
    ck_assert(!shape_inside(s, 4, 0, 12));
    near_to(shape_from(s, 4, 0, 12), 2);
}
END_TEST

START_TEST(shapes_apart_and_into_each_other)
{
    struct shape_side a[8], b[8];
    int n = shape_rectangle(20, 10, 0, a), m = shape_rectangle(5, 5, 5, b);
    near_to(shape_apart(a, n, b, m, 30, 0), 5);
    near_to(shape_apart(a, n, b, m, 20 + 6, 10 + 8), 5); /* corner to circle: 10 less 5 */
    near_to(shape_apart(b, m, b, m, 6, 8), 0);
    ck_assert_double_lt(shape_apart(a, n, b, m, 0, 0), -4.9); /* it lies inside */
    near_to(shape_apart(a, n, b, m, 22, 0), -3);
}
END_TEST

static const struct { struct shape_round a, b; double apart; } rounds[] = {
    {{0, 0, 0, 0, 5}, {20, 0, 0, 0, 3}, 12},
    {{0, 0, 0, 0, 5}, {3, 4, 0, 0, 2}, -2},
    {{0, 0, 0, 0, 5}, {13, 14, 10, 10, 0}, 0},
    {{0, 0, 5, 5, 0}, {13, 14, 5, 5, 0}, 5},
    {{0, 0, 5, 5, 0}, {8, 3, 5, 5, 0}, -2},
    {{0, 0, 3, 3, 2}, {13, 14, 3, 3, 2}, 0},
};

START_TEST(boxes_with_round_corners)
{
    double apart = _i == 5 ? hypot(7, 8) - 4 : rounds[_i].apart;
    near_to(shape_rounds_apart(&rounds[_i].a, &rounds[_i].b), apart);
    near_to(shape_rounds_apart(&rounds[_i].b, &rounds[_i].a), apart);
}
END_TEST

/* ---- pairs ---- */

struct field { struct shape_round at[300]; int pairs; double sum; int last; };

static double wall(void *arg, int i, int k)
{
    struct field *f = arg;
    ck_assert_int_lt(i, k);
    return (i + k) % 7 == 0 ? INFINITY : shape_rounds_apart(&f->at[i], &f->at[k]);
}

static void see(void *arg, int i, int k, double apart)
{
    struct field *f = arg;
    ck_assert_int_gt(i * 1000 + k, f->last);
    f->last = i * 1000 + k;
    f->pairs++;
    f->sum += apart * (i + 2 * k);
}

START_TEST(the_grid_finds_what_plain_looking_finds)
{
    static const double within[] = {-1, 0, 0.5, 4, 60, 1000};
    enum { MANY = 300 };
    struct field f = {.last = -1}, plain = {.last = -1};
    struct shape_box boxes[MANY];
    srand(7);
    for (int i = 0; i < MANY; i++) {
        struct shape_round r = {rand() % 2000 / 10., rand() % 400 / 10., rand() % 30 / 10., rand() % 30 / 10.,
                                1};
        f.at[i] = plain.at[i] = r;
        boxes[i] = (struct shape_box){r.x - r.along - 1, r.x + r.along + 1, r.y - r.across - 1,
                                      r.y + r.across + 1};
    }
    shape_pairs(boxes, MANY, within[_i], wall, see, &f);
    for (int i = 0; i < MANY; i++)
        for (int k = i + 1; k < MANY; k++)
            if (wall(&plain, i, k) < within[_i])
                see(&plain, i, k, wall(&plain, i, k));
    ck_assert_int_eq(f.pairs, plain.pairs);
    ck_assert_int_gt(f.pairs, 0);
    near_to(f.sum, plain.sum);
    shape_pairs(boxes, 1, within[_i], wall, see, &f);
    ck_assert_int_eq(f.pairs, plain.pairs); /* one alone has no neighbour */
}
END_TEST

TCase *near_tests(void)
{
    TCase *t = tcase_create("near");
    tcase_add_test(t, where_sides_meet);
    tcase_add_test(t, what_crosses_itself_is_counted);
    tcase_add_test(t, inside_and_from_the_rim);
    tcase_add_test(t, shapes_apart_and_into_each_other);
    tcase_add_loop_test(t, boxes_with_round_corners, 0, COUNT_OF(rounds));
    tcase_add_loop_test(t, the_grid_finds_what_plain_looking_finds, 0, 6);
    return t;
}
