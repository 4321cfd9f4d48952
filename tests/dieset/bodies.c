/* Bodies: what they are, and where two of them meet on the way of the ram.
 *
 * Worked by hand on the job of this folder: lower shoe 0 to 50, die backing to 60, die plate to 90, strip 2;
 * stripper from 92 to 112, punch plate from 90 + 43 on.
 */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A block of 20 by name, plate, heights, place along; MORE: further lines. */
static void add_block(struct base_text *t, const char *name, const char *plate, double bottom, double top,
                      double x, const char *more)
{
    base_text_addf(t,
                   "\nblocks %s\n  stands_on = %s\n  bottom = %g mm\n  top = %g mm\n%s  lay one on "
                   "lower_shoe\n    at_x = %g mm\n",
                   name, plate, bottom, top, more, x);
}

struct seen { int n; struct dieset_meeting last; };

static void see(void *arg, const struct dieset_meeting *m)
{
    struct seen *s = arg;
    s->n++;
    s->last = *m;
}

static struct seen meetings(const struct bench *b, double within)
{
    int n = dieset_body_count(b->d);
    struct dieset_body *bodies = base_alloc((size_t)(n + 1) * sizeof *bodies);
    struct seen s = {0};
    for (int i = 0; i < n; i++)
        dieset_body(b->d, i, DIESET_NEW, &bodies[i]);
    dieset_meetings(b->d, bodies, DIESET_NEW, within, see, &s);
    free(bodies);
    return s;
}

static const struct {
    const char *plate_a; double bottom_a, top_a;
    const char *plate_b; double bottom_b, top_b, x_b; /* A stands at 0 */
    const char *stroke;                               /* NULL: not told */
    bool meet;
    double wall, low, high, ram;
} pairs[] = {
    /* riding together: only the heights count */
    {"lower_shoe", 50, 80, "lower_shoe", 70, 100, 15, NULL, true, -5, 70, 80, 0},
    {"lower_shoe", 50, 80, "lower_shoe", 80, 100, 15, NULL, false, 0, 0, 0, 0},       /* one over the other */
    {"lower_shoe", 50, 80, "die_plate", 70, 75, 19, NULL, true, -1, 70, 75, 0},
    /* within 2 of each other */
    {"lower_shoe", 50, 80, "lower_shoe", 70, 100, 21, NULL, true, 1, 70, 80, 0},
    {"lower_shoe", 50, 80, "lower_shoe", 70, 100, 22, NULL, false, 0, 0, 0, 0},
    {"upper_shoe", 300, 310, "punch_plate", 305, 330, 0, "60 mm", true, -20, 305, 310, 0},
    /* the slide's goes up: at shut it is worst when it stands over the other */
    {"lower_shoe", 50, 100, "upper_shoe", 90, 200, 10, "60 mm", true, -10, 90, 100, 0},
    {"lower_shoe", 50, 100, "upper_shoe", 101, 200, 10, "60 mm", false, 0, 0, 0, 0},
    /* under the other at shut it has to pass: 10 high, it is beside it all from 40 up on */
    {"lower_shoe", 100, 150, "upper_shoe", 50, 60, 10, "60 mm", true, -10, 100, 110, 50},
    {"lower_shoe", 100, 150, "upper_shoe", 50, 60, 10, "44 mm", true, -10, 100, 104, 44},
    {"lower_shoe", 100, 150, "upper_shoe", 50, 60, 10, "40 mm", false, 0, 0, 0, 0},
    /* the way is not known */
    {"lower_shoe", 100, 150, "upper_shoe", 50, 60, 10, NULL, false, 0, 0, 0, 0},
    {"upper_shoe", 50, 60, "lower_shoe", 100, 150, 10, "60 mm", true, -10, 100, 110, 50},
    /* the bed's never passes what is over it, however far that rises */
    {"lower_shoe", 50, 60, "upper_shoe", 100, 150, 10, "200 mm", false, 0, 0, 0, 0},
    /* the stripper's stays for its travel of 4 (lead 1, strip 2, entry 1), then it goes too */
    {"lower_shoe", 100, 150, "stripper", 50, 60, 10, "54 mm", true, -10, 100, 110, 54},
    {"lower_shoe", 100, 150, "stripper", 50, 60, 10, "50 mm", true, -10, 100, 106, 50},
    {"lower_shoe", 100, 150, "stripper", 50, 60, 10, "44 mm", false, 0, 0, 0, 0},
    /* slide against stripper: no more than the travel */
    {"stripper", 100, 150, "punch_plate", 50, 97, 10, "60 mm", true, -10, 100, 101, 4},
    {"stripper", 100, 150, "punch_plate", 50, 96, 10, "60 mm", false, 0, 0, 0, 0},
    {"stripper", 100, 150, "punch_plate", 50, 97, 10, "3 mm", false, 0, 0, 0, 0},
};

START_TEST(two_bodies_meet_where_they_have_a_height_in_common)
{
    struct base_text t = {0};
    add_block(&t, "one", pairs[_i].plate_a, pairs[_i].bottom_a, pairs[_i].top_a, 0, "");
    add_block(&t, "two", pairs[_i].plate_b, pairs[_i].bottom_b, pairs[_i].top_b, pairs[_i].x_b, "");
    base_text_addf(&t, "\npress press\n%s%s\n", pairs[_i].stroke ? "  stroke = " : "",
                   pairs[_i].stroke ? pairs[_i].stroke : "");
    struct bench b;
    bench_open_with(&b, base_text_get(&t));
    struct seen s = meetings(&b, 2);
    ck_assert_int_eq(s.n, pairs[_i].meet);
    if (s.n) {
        near_to(s.last.wall, pairs[_i].wall);
        near_to(s.last.low, pairs[_i].low);
        near_to(s.last.high, pairs[_i].high);
        near_to(s.last.ram, pairs[_i].ram);
    }
    bench_close(&b);
    base_text_done(&t);
}
END_TEST

/* Extra lines of two blocks that stand 0 and X along, both from 40 to 100 on the die plate. */
static int met(const char *one, const char *two, double x)
{
    struct base_text t = {0};
    struct bench b;
    add_block(&t, "one", "die_plate", 40, 100, 0, one);
    add_block(&t, "two", "die_plate", 40, 100, x, two);
    bench_open_with(&b, base_text_get(&t));
    struct seen s = meetings(&b, 0);
    bench_close(&b);
    base_text_done(&t);
    return s.n;
}

START_TEST(what_stands_in_a_bore_does_not_meet)
{
    ck_assert_int_eq(met("", "  size = 8 mm\n", 0), 1);
    ck_assert_int_eq(met("  inside = 10 mm\n", "  size = 8 mm\n", 0), 0);
    ck_assert_int_eq(met("  inside = 10 mm\n", "  size = 10 mm\n", 0), 0);      /* as large as the bore */
    ck_assert_int_eq(met("  inside = 10 mm\n", "  size = 10.1 mm\n", 0), 1);
    /* 1 off the axis, to the bore's wall */
    ck_assert_int_eq(met("  inside = 10 mm\n", "  size = 8 mm\n", 1), 0);
    ck_assert_int_eq(met("  inside = 10 mm\n", "  size = 8 mm\n", 1.1), 1);
    ck_assert_int_eq(met("  size = 8 mm\n", "  inside = 10 mm\n", 0), 0);
}
END_TEST

/* Between 60 and 90 each is in a bore of the die plate: holes tell of that. Over and under it they are
   free. */
START_TEST(inside_a_plate_that_is_drilled_for_it_a_body_meets_nothing)
{
    struct base_text t = {0};
    struct bench b;
    add_block(&t, "one", "die_plate", 62, 88, 0, "  drilled = yes\n");
    add_block(&t, "two", "die_plate", 40, 100, 15, "  drilled = yes\n");
    add_block(&t, "three", "die_plate", 40, 70, 30, "");
    bench_open_with(&b, base_text_get(&t));
    struct seen s = meetings(&b, 0);
    ck_assert_int_eq(s.n, 1); /* the third is in no bore, so below the plate it meets the second */
    near_to(s.last.low, 40);
    near_to(s.last.high, 60);
    bench_set(&b, "one", "top", "95 mm");
    s = meetings(&b, 0);
    ck_assert_int_eq(s.n, 2);
    bench_close(&b);
    base_text_done(&t);
}
END_TEST

START_TEST(parts_of_one_thing_do_not_meet)
{
    struct base_text t = {0};
    struct bench b;
    add_block(&t, "one", "die_plate", 40, 100, 0, "  many = 3\n  size = 150 mm\n");
    bench_open_with(&b, base_text_get(&t));
    ck_assert_int_eq(dieset_body_count(b.d), 3);
    ck_assert_int_eq(meetings(&b, 0).n, 0); /* 100 apart, but round one point */
    bench_close(&b);
    base_text_done(&t);
}
END_TEST

START_TEST(a_body_without_its_heights_is_not_known)
{
    struct bench b;
    struct base_text t = {0};
    add_block(&t, "one", "die_plate", 40, 100, 0, "");
    base_text_add(&t, "\nblocks two\n  stands_on = die_plate\n  bottom = 40 mm\n  lay one on die_plate\n");
    bench_open_with(&b, base_text_get(&t));
    struct dieset_body body;
    dieset_body(b.d, 1, DIESET_NEW, &body);
    ck_assert(!body.known);
    int q = dieset_of_slot(b.d, body.plan.origin, NULL);
    ck_assert_str_eq(q < 0 ? "" : dieset_quantity(b.d, q)->path, "two.top");
    ck_assert_int_eq(meetings(&b, 0).n, 0);
    bench_set(&b, "two", "top", "50 mm");
    dieset_body(b.d, 1, DIESET_NEW, &body);
    ck_assert(body.known);
    near_to(body.low, 40);
    near_to(body.high, 50);
    ck_assert_int_eq(meetings(&b, 0).n, 1);
    bench_close(&b);
    base_text_done(&t);
}
END_TEST

TCase *body_tests(void)
{
    TCase *c = tcase_create("bodies");
    tcase_add_loop_test(c, two_bodies_meet_where_they_have_a_height_in_common, 0, (int)COUNT_OF(pairs));
    tcase_add_test(c, what_stands_in_a_bore_does_not_meet);
    tcase_add_test(c, inside_a_plate_that_is_drilled_for_it_a_body_meets_nothing);
    tcase_add_test(c, parts_of_one_thing_do_not_meet);
    tcase_add_test(c, a_body_without_its_heights_is_not_known);
    return c;
}
