/* What is no solid is refused with its names, to the last thousandth; what is just one is judged. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct solid_head head = {"A set of the tests", "not issued", NULL, ""};

/* Up to two more items of the lower shoe, 328 x 310 x 50 about 0, 0, and what is said; NULL: it is a
   solid. */
struct hole_told { const char *made, *along, *across, *depth, *face, *x, *y; };
static const struct { struct hole_told holes[2]; const char *says;
} cases[] = {
    {{{"slot", "20 mm", "12 mm", NULL, "top", "0 mm", "-120 mm"},
      {"slot", "20 mm", "12 mm", NULL, "top", "20 mm", "-120 mm"}},
     "In lower_shoe a hole of one (own slot) at 0.0 mm, -120.0 mm and a hole of two (own slot) at 20.0 mm, "
     "-120.0 mm touch or cut each other"},
    {{{"slot", "20 mm", "12 mm", NULL, "top", "0 mm", "-120 mm"},
      {"slot", "20 mm", "12 mm", NULL, "top", "20.001 mm", "-120 mm"}},
     NULL},
    {{{"slot", "20 mm", "12 mm", "10 mm", "top", "0 mm", "-120 mm"},
      {"slot", "20 mm", "12 mm", "40 mm", "bottom", "5 mm", "-120 mm"}},
     "touch or cut each other"}, /* they meet at one height, across each other */
    {{{"slot", "20 mm", "12 mm", "10 mm", "top", "0 mm", "-120 mm"},
      {"slot", "20 mm", "12 mm", "39.9 mm", "bottom", "5 mm", "-120 mm"}},
     NULL},
    {{{"window", "20 mm", "12 mm", "10 mm", "top", "0 mm", "-120 mm"},
      {"window", "10 mm", "6 mm", "40 mm", "bottom", "0 mm", "-120 mm"}},
     NULL}, /* one opens in the floor of the other */
    {{{"window", "20 mm", "12 mm", "10 mm", "top", "0 mm", "-120 mm"},
      {"window", "20 mm", "6 mm", "40 mm", "bottom", "0 mm", "-120 mm"}},
     "touch or cut each other"}, /* as long as that floor */
    {{{"window", "20 mm", "12 mm", "20 mm", "top", "0 mm", "-120 mm"},
      {"window", "20 mm", "12 mm", "30 mm", "bottom", "0 mm", "-120 mm"}},
     NULL}, /* one opening of two */
    {{{"slot", "20 mm", "12 mm", NULL, "top", "0 mm", "-149 mm"}},
     "In lower_shoe a hole of one (own slot) at 0.0 mm, -149.0 mm breaks the edge of the plate, or has "
     "nothing left beside it: move it inwards."},
    {{{"slot", "20 mm", "12 mm", NULL, "top", "0 mm", "-148.999 mm"}}, NULL},
    {{{"slot", "20 mm", "12 mm / 0", NULL, "top", "0 mm", "-120 mm"}},
     "has a value that cannot be worked out; check tells which"},
};

static void put(struct typed_change *c, int *n, const char *item, const char *path, const char *text)
{
    if (text)
        c[(*n)++] = (struct typed_change){.what = TYPED_ENTRY, .item = item, .path = path, .after = text};
}

static void add_hole(struct typed_change *c, int *n, const char *item, const struct hole_told *h)
{
    static char quoted[8][40];
    static int next;
    char *made = quoted[next++ % 8], *face = quoted[next++ % 8];
    snprintf(made, sizeof quoted[0], "\"%s\"", h->made);
    snprintf(face, sizeof quoted[0], "\"%s\"", h->face);
    c[(*n)++] = (struct typed_change){.what = TYPED_ITEM, .item = item, .after = "own_hole"};
    put(c, n, item, "in_plate", "lower_shoe");
    put(c, n, item, "made", made);
    put(c, n, item, "face", face);
    put(c, n, item, "along", h->along);
    put(c, n, item, "across", h->across);
    put(c, n, item, "corner", "0 mm");
    put(c, n, item, "depth", h->depth);
    put(c, n, item, "lay", "one on lower_shoe");
    put(c, n, item, "lay/along", h->x);
    put(c, n, item, "lay/across", h->y);
}

START_TEST(what_is_no_solid_is_refused)
{
    struct bed b;
    struct base_diag told = {0};
    struct base_text out = {0}, wrong = {0};
    struct typed_change changes[32];
    int n = 0;
    bed_open(&b, "tests/designs/bases/spring.txt");
    for (int i = 0; i < 2; i++)
        if (cases[_i].holes[i].made)
            add_hole(changes, &n, i ? "two" : "one", &cases[_i].holes[i]);
    ck_ok(dieset_try(b.d, changes, n, why));
    int plate = dieset_find_item(b.d, "lower_shoe");
    enum base_err err = solid_plate(b.d, plate, DIESET_NEW, &head, &out, &told);
    if (cases[_i].says) {
        ck_assert_int_eq(err, BASE_REFUSED);
        ck_assert_msg(strstr(told.message, cases[_i].says) != NULL, "it says: %s", told.message);
        ck_assert_uint_eq(out.length, 0);
        ck_assert_int_eq(solid_set(b.d, DIESET_NEW, 0, &head, &out, &told), BASE_REFUSED);
        if (_i == 0) /* curves are of what goes through, and need no shell */
            ck_assert_int_eq(solid_curves(b.d, plate, DIESET_NEW, &head, &out, &told), BASE_REFUSED);
        ck_assert_uint_eq(out.length, 0);
    } else {
        ck_assert_msg(!err, "it says: %s", told.message);
        judge_plate(b.d, plate, DIESET_NEW, base_text_get(&out), &wrong);
        ck_assert_str_eq(base_text_get(&wrong), "");
    }
    dieset_drop(b.d);
    base_text_done(&out);
    base_text_done(&wrong);
    bed_close(&b);
}
END_TEST

TCase *refusal_tests(void)
{
    TCase *t = tcase_create("refusals");
    tcase_set_timeout(t, 600);
    tcase_add_loop_test(t, what_is_no_solid_is_refused, 0, (int)COUNT_OF(cases));
    return t;
}
