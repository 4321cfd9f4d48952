/* What the shipped handbook's usual formulas give, worked out by hand for known sizes: each figure that
 * stands in a factor and reaches a form or a hole. All are common practice or own derivation, as its
 * record says; where a factor is tried by a rule it stands in rules.c. */

#include "bench.h"

#include <string.h>

static struct bench bench;

static void open_base(void) { bench_open_shipped(&bench, "tests/findings/base.txt"); }
static void close_base(void) { bench_close(&bench); }

#define ALUMINIUM "lower_shoe.material = \"AW-7075-T651\""
#define GREY "lower_shoe.material = \"EN-GJL-250\""
#define SPHEROIDAL "lower_shoe.material = \"EN-GJS-400-15\""

/* In base units: mm, N, MPa. */
static const struct { const char *edit, *path; double value; } values[] = {
    /* thread in steel as long as it is thick, in iron and aluminium longer */
    {"", "lower_shoe.thread_least", 1},
    {GREY, "lower_shoe.thread_least", 1.5},
    {SPHEROIDAL, "lower_shoe.thread_least", 1.5},
    {ALUMINIUM, "lower_shoe.thread_least", 2},
    {"", "lower_shoe.thread_shear", 280},
    {GREY, "lower_shoe.thread_shear", 150},
    {SPHEROIDAL, "lower_shoe.thread_shear", 150},
    {ALUMINIUM, "lower_shoe.thread_shear", 185},
    /* hole to edge, in diameters */
    {"lower_shoe.hardened = no", "lower_shoe.edge_least", 1.5},
    {"lower_shoe.hardened = yes", "lower_shoe.edge_least", 2},
    /* a head 3 mm over the shank */
    {"", "pierce.head", 10 + 3},
    {"pierce.shank = 12 mm", "pierce.head", 12 + 3},
    /* right through: 1 mm short of the far face; blind: a pitch, 1.25 mm of M8 */
    {"", "punch_screws.end_wanted", 1},
    {"", "die_screws.end_wanted", 1.25},
    /* M8, 36.6 mm2, class 12.9: to three quarters of 970 MPa by the torque factor 0.2; at 0.3, the greatest,
       the same torque gives two thirds of that */
    {"", "die_screws.tightened", 0.75 * 36.6 * 970},
    {"", "die_screws.preload_least", 0.75 * 36.6 * 970 * 0.2 / 0.3},
    {"", "die_dowels.first_wanted", 2 * 8},
    {"die_dowels.diameter = 10 mm", "die_dowels.second_wanted", 2 * 10},
    {"", "posts.seat_least", 1.25 * 25},
    {"", "posts.seat_wanted", 1.5 * 25},
    {"posts.form = \"flanged\"", "posts.seat_least", 25},
    {"posts.form = \"flanged\"", "posts.seat_wanted", 25},
    /* a bushing of 2.5 post diameters, 62.5 mm, by the next listed length */
    {"", "bushings.length", 63},
    /* an eyebolt of M12 at least, whatever it lifts */
    {"", "set_holes.enough", 12},
};

START_TEST(a_usual_value_is_what_it_is_by_hand)
{
    bench_try(&bench, values[_i].edit);
    struct formula_value v = dieset_get(bench.d, values[_i].path, DIESET_NEW);
    ck_assert_msg(!v.error, "%s after '%s': %s", values[_i].path, values[_i].edit,
                  formula_error_text(v.error));
    ck_assert_msg(v.number > values[_i].value - 1e-6 && v.number < values[_i].value + 1e-6,
                  "%s after '%s' is %.9g, by hand %.9g", values[_i].path, values[_i].edit, v.number,
                  values[_i].value);
}
END_TEST

/* Diameters of round holes, length and width of others. */
static const struct { const char *edit, *item, *operation, *plate; double size, across; } holes[] = {
    /* a dowel's way through a plate 0.5 mm over it; driven out through 1 mm less */
    {"", "punch_dowels", "clear", "punch_backing", 8.5, 0},
    {"", "die_dowels", "drift", "lower_shoe", 7, 0},
    /* a shoulder 10 mm through its plate */
    {"", "bolts", "clear shoulder", "upper_shoe", 10.5, 0},
    /* slugs fall through 2 mm over the opening, and 1 mm more for each plate further down: one put in as
       the last item of the job lies next to the shoe, whatever stands between the two in the job */
    {"", "pierce", "slug", "lower_shoe", 10.1 + 2, 0},
    {"+ plate base; base.thickness = 20 mm", "pierce", "slug", "base", 10.1 + 2 + 1, 0},
    {"pierce.shape = \"rectangle\"; pierce.along = 12 mm; pierce.across = 6 mm", "pierce", "slug",
     "lower_shoe", 12.1 + 2, 6.1 + 2},
};

START_TEST(a_hole_is_as_large_as_it_is_by_hand)
{
    bench_try(&bench, holes[_i].edit);
    int item = dieset_find_item(bench.d, holes[_i].item), plate = dieset_find_item(bench.d, holes[_i].plate);
    int found = 0;
    for (int i = 0; i < dieset_hole_count(bench.d); i++) {
        struct dieset_hole h;
        dieset_hole(bench.d, i, DIESET_NEW, &h);
        if (h.item != item || h.plate != plate || strcmp(h.spec->operation, holes[_i].operation) != 0)
            continue;
        found++;
        ck_assert_double_eq_tol(h.length > 0 ? h.length : h.diameter, holes[_i].size, 1e-6);
        ck_assert_double_eq_tol(holes[_i].across ? h.width : 0, holes[_i].across, 1e-6);
    }
    ck_assert_msg(found > 0, "%s makes no %s in %s", holes[_i].item, holes[_i].operation, holes[_i].plate);
}
END_TEST

TCase *usual_tests(void)
{
    TCase *t = tcase_create("usual");
    tcase_add_checked_fixture(t, open_base, close_base);
    tcase_add_loop_test(t, a_usual_value_is_what_it_is_by_hand, 0, COUNT_OF(values));
    tcase_add_loop_test(t, a_hole_is_as_large_as_it_is_by_hand, 0, COUNT_OF(holes));
    return t;
}
