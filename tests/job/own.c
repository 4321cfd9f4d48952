/* Holes, blocks and die buttons of the set's own: told by records alone, they are drilled, drawn, held
 * against others, weighed, ordered and listed as all else. Sizes by hand, density by the handbook. */

#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char own[] =
    "\nown_hole air\n  purpose = \"air\"\n  in_plate = die_plate\n  to_plate = lower_shoe\n"
    "  stations = \"3, 4\"\n  holds = \"air fitting\"\n  lay pair on die_plate\n    apart = 30 mm\n"
    "\nown_hole jack\n  purpose = \"jack screw\"\n  in_plate = upper_shoe\n  thread = \"M12\"\n"
    "  lay one on upper_shoe\n    along = -30 mm\n    across = 84 mm\n"
    "\nown_hole slit\n  purpose = \"pry slot\"\n  in_plate = lower_shoe\n  depth = 6 mm\n"
    "  lay one on lower_shoe\n    across = -90 mm\n"
    "\nown_block heel\n  on = lower_shoe\n  along = 50 mm\n  sits = \"in a pocket\"\n"
    "  lay one on lower_shoe\n    along = -150 mm\n    across = -60 mm\n    turn = 90 deg\n"
    "\nown_block stop\n  purpose = \"stop\"\n  on = lower_shoe\n  form = \"round\"\n  diameter = 30 mm\n"
    "  screws = 1\n  dowels = 0\n  held_reason = \"the shop's own\"\n"
    "  lay one on lower_shoe\n    along = -150 mm\n    across = 60 mm\n"
    "\ndie_button button\n  of = middle_hole\n  lay with middle_hole\n";

static struct job *owned(void)
{
    char *demo = read_text("data/demo/cover-plate.txt"), *text = base_format("%s%s", demo, own);
    struct job *j = bench_text(text);
    free(text);
    free(demo);
    return j;
}

/* The holes of ITEM in PLATE: place, size and depth of each, in order. */
struct drilled { const char *item, *plate; int n; double at[4][4]; };
static const struct drilled drilled[] = {
    /* stations 3 and 4 of a pitch of 34 from -85 on, 15 to either side, right through 34 */
    {"air", "die_plate", 4, {{-17, -15, 5, 34}, {-17, 15, 5, 34}, {17, -15, 5, 34}, {17, 15, 5, 34}}},
    {"air", "die_backing", 4, {{-17, -15, 5, 12}, {-17, 15, 5, 12}, {17, -15, 5, 12}, {17, 15, 5, 12}}},
    {"air", "lower_shoe", 4, {{-17, -15, 5, 51}, {-17, 15, 5, 51}, {17, -15, 5, 51}, {17, 15, 5, 51}}},
    {"air", "stripper", 0, {{0}}},
    {"jack", "upper_shoe", 1, {{-30, 84, 10.2, NAN}}}, /* ISO 2306: tap drill of M12 */
    {"slit", "lower_shoe", 1, {{0, -90, 8, 6}}},       /* its width */
    {"button", "die_plate", 1, {{-51, 0, 18, 34}}},    /* 11.144 and twice 0.3 of it, in whole mm */
};

static double across(const struct dieset_hole *h) { return h->length > 0 ? h->width : h->diameter; }

START_TEST(own_holes_are_drilled)
{
    struct job *j = owned();
    struct dieset *d = job_dieset(j);
    const struct drilled *w = &drilled[_i];
    int found = 0, first, n = dieset_plate_holes(d, dieset_find_item(d, w->plate), &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, DIESET_NEW, &h);
        if (h.item != dieset_find_item(d, w->item))
            continue;
        ck_assert_int_lt(found, w->n);
        const double *want = w->at[found++], is[] = {h.x, h.y, across(&h), h.depth};
        for (int k = 0; k < 4; k++)
            ck_assert_msg(isnan(want[k]) || fabs(is[k] - want[k]) < 1e-9, "%s in %s, %d: %g, not %g", w->item,
                          w->plate, k, is[k], want[k]);
    }
    ck_assert_int_eq(found, w->n);
    job_close(j);
}
END_TEST

/* A new pitch takes along what goes with the strip, and leaves what stays in its plate. */
START_TEST(own_holes_go_with_their_stations)
{
    struct job *j = owned();
    bench_set(j, "strip.pitch", "36 mm");
    ck_assert_double_eq_tol(number(j, "air.front.x"), -18, 1e-9);
    ck_assert_double_eq_tol(number(j, "button.mean_x"), -54, 1e-9);
    ck_assert_double_eq_tol(number(j, "slit.middle.x"), 0, 1e-9);
    ck_assert_double_eq_tol(number(j, "heel.middle.x"), -150, 1e-9);
    job_close(j);
}
END_TEST

/* A block of 50 x 20 x 25 and a round one of 30 x 25; 8 of the first sit in the shoe. */
START_TEST(own_blocks_stand_weigh_and_meet)
{
    static const double steel = 7.85e-9; /* t/mm3 */
    struct job *j = owned(), *plain = bench_file("data/demo/cover-plate.txt");
    struct dieset *d = job_dieset(j);
    double heel = 50 * 20 * 25 * steel, stop = acos(-1) / 4 * 30 * 30 * 25 * steel;
    ck_assert_double_eq_tol(number(j, "heel.mass"), heel, 1e-9);
    ck_assert_double_eq_tol(number(j, "stack.lower_mass") - number(plain, "stack.lower_mass"), heel + stop,
                            1e-9);
    double high = NAN, low = NAN;
    for (int i = 0; i < dieset_body_count(d); i++) {
        struct dieset_body b;
        dieset_body(d, i, DIESET_NEW, &b);
        if (b.plan.item == dieset_find_item(d, "heel"))
            low = b.low, high = b.high;
    }
    ck_assert_double_eq_tol(high - number(j, "lower_shoe.top"), 17, 1e-9);
    ck_assert_double_eq_tol(low, number(j, "lower_shoe.top"), 1e-9);
    /* the stop is pushed into the heel, 25 / 2 + 30 / 2 from its middle: 7 over lap */
    ck_ok(job_set(j, "stop.lay.across", "-60 mm + 25 mm + 15 mm - 7 mm", why));
    bool met = false;
    for (int i = 0; i < job_outcome(j)->n_came; i++)
        met = met || (strcmp(job_outcome(j)->came[i].rule, "bodies-meet") == 0 &&
                      fabs(job_outcome(j)->came[i].value + 7) < 1e-6);
    ck_assert(met);
    job_close(plain);
    job_close(j);
}
END_TEST

/* Two sections of the demo's die plate, six stations 34 apart from -85 on; its ends 30 beyond. */
START_TEST(die_sections_follow_the_stations)
{
    static const char *const parted =
        "\ndie_section one\n  from_station = 1\n  to_station = 2\n  lay one on die_plate\n"
        "\ndie_section two\n  from_station = 3\n  to_station = 6\n  lay one on die_plate\n";
    char *demo = read_text("data/demo/cover-plate.txt"), *text = base_format("%s%s", demo, parted);
    struct job *j = bench_text(text);
    struct dieset_orders orders;
    int plates = 0, sections = 0;
    double mass = 0;
    ck_assert_double_eq_tol(number(j, "one.left"), -85 - 17 - 30, 1e-9);
    ck_assert_double_eq_tol(number(j, "one.right"), -85 + 1.5 * 34, 1e-9);
    ck_assert_double_eq_tol(number(j, "two.left"), number(j, "one.right"), 1e-9);
    ck_assert_double_eq_tol(number(j, "two.right"), 85 + 17 + 30, 1e-9);
    bench_set(j, "strip.pitch", "36 mm");
    ck_assert_double_eq_tol(number(j, "one.right"), -90 + 1.5 * 36, 1e-9);
    ck_assert_double_eq_tol(number(j, "two.left"), number(j, "one.right"), 1e-9);
    ck_assert_double_eq_tol(number(j, "two.middle.x"), (number(j, "two.left") + number(j,
                            "two.right")) / 2, 1e-9);
    bench_set(j, "strip.feed", "\"to the left\"");
    ck_assert_double_eq_tol(number(j, "one.left"), 90 - 1.5 * 36, 1e-9);
    ck_assert_double_eq_tol(number(j, "one.right"), 90 + 18 + 30, 1e-9);
    dieset_orders(job_dieset(j), &orders);
    for (int i = 0; i < orders.count; i++) {
        plates += strcmp(orders.at[i].designation, "Plate, die plate") == 0;
        bool section = strncmp(orders.at[i].designation, "Die section, ", 13) == 0;
        sections += section;
        mass += section ? orders.at[i].mass : 0;
    }
    ck_assert_int_eq(plates, 0);
    ck_assert_int_eq(sections, 2);
    double area = number(j, "die_plate.length") * number(j, "die_plate.width");
    ck_assert_double_eq_tol(mass, area * number(j, "die_plate.thickness") * number(j, "die_plate.density"),
                            1e-9);
    ck_assert_double_eq_tol(number(j, "die_plate.mass"), 0, 1e-9);
    dieset_orders_free(&orders);
    free(text);
    free(demo);
    job_close(j);
}
END_TEST

/* Lines of the order list: what, its size, material, pieces, and the mass of one. */
struct line { const char *what, *size, *material; int pieces; double mass; };
static const struct line lines[] = {
    {"air fitting", "for its hole", "", 4, 0},
    {"Block, heel", "50 x 20 x 25 mm", "1.2842", 1, 50 * 20 * 25 * 7.85e-9},
    {"Block, stop", "30.0 mm x 25.0 mm", "1.2842", 1, 3.14159265358979 / 4 * 30 * 30 * 25 * 7.85e-9},
    {"Die button, button", "18.0 mm x 34.0 mm", "1.2379 60..62 HRC", 1, 0},
    {"Socket head cap screw, ISO 4762", "M4", "", 2, 0}, /* the heel is under 60, the stop under 40 */
    {"Socket head cap screw, ISO 4762", "M3", "", 1, 0},
    {"Dowel pin", "4 mm", "", 2, 0},
};

START_TEST(own_things_are_ordered)
{
    struct job *j = owned();
    struct dieset_orders orders;
    const struct line *w = &lines[_i];
    dieset_orders(job_dieset(j), &orders);
    bool found = false;
    for (int i = 0; i < orders.count; i++) {
        const struct dieset_order *o = &orders.at[i];
        if (strcmp(o->designation, w->what) != 0 || strcmp(o->size, w->size) != 0)
            continue;
        found = true;
        ck_assert_double_eq_tol(o->pieces, w->pieces, 1e-9);
        ck_assert_str_eq(o->material ? o->material : "", w->material);
        if (w->mass > 0)
            ck_assert_double_eq_tol(o->mass, w->mass, 1e-9);
    }
    ck_assert_msg(found, "no %s %s", w->what, w->size);
    dieset_orders_free(&orders);
    job_close(j);
}
END_TEST

/* Limits have a place. EN 10131 (from memory): 0.06 to either side of 1.2, 0.03 of 0.5. */
START_TEST(limits_have_usual_values)
{
    static const struct { const char *path; double mm; } rows[] = {
        {"strip.deviation_thickness", 0.06}, {"strip.deviation_width", 0.2}, {"strip.deviation_feed", 0.05},
        {"die_plate.deviation_thickness", 0.02}, {"die_plate.deviation_places", 0.01},
    };
    struct job *j = bench_file("data/demo/cover-plate.txt");
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        ck_assert_msg(fabs(number(j, rows[i].path) - rows[i].mm) < 1e-9, "%s", rows[i].path);
    bench_set(j, "strip.thickness", "0.5 mm");
    ck_assert_double_eq_tol(number(j, "strip.deviation_thickness"), 0.03, 1e-9);
    bench_set(j, "strip.deviation_thickness", "0.1 mm"); /* of the coil's certificate */
    bench_set(j, "strip.thickness", "1.2 mm");
    ck_assert_double_eq_tol(number(j, "strip.deviation_thickness"), 0.1, 1e-9);
    job_close(j);
}
END_TEST

/* What a set makes of figures worked by hand: TL-46, two equal posts change places about the middle between
 * them, (5, 7.5), and the halves shift by twice that; TL-48, four springs at -72.25 and two at 72.25, then
 * four; TL-66, a wiped leg of 40 needs 2 + 3 + 6 and 3 of depth, not its whole length. */
START_TEST(sets_agree_with_hand_work)
{
    struct job *j = bench_file("data/templates/one-station.txt");
    ck_ok(job_lay(j, "posts", "diagonal on lower_shoe", why));
    bench_take(j);
    bench_set(j, "posts.left_front.x", "-135 mm");
    bench_set(j, "posts.left_front.y", "-90 mm");
    bench_set(j, "posts.right_back.x", "145 mm");
    bench_set(j, "posts.right_back.y", "105 mm");
    ck_assert_double_eq_tol(number(j, "posts.all_turned_miss"), 0, 1e-9);
    ck_assert_double_eq_tol(number(j, "posts.all_turned_shift"), hypot(10, 15), 1e-9);
    job_close(j);
    j = bench_file("data/templates/spring-stripper.txt");
    ck_ok(job_lay(j, "stripper_springs", "places on stripper", why));
    bench_take(j);
    bench_set(j, "stripper_springs.lay.pitch", "20 mm");
    bench_set(j, "stripper_springs.lay.columns", "4");
    bench_set(j, "stripper_springs.lay.across", "-72.25 mm");
    ck_ok(job_add_like(j, "stripper_springs", "more", why));
    bench_take(j);
    bench_set(j, "more.lay.across", "72.25 mm");
    bench_set(j, "more.lay.columns", "2");
    ck_assert_double_eq_tol(number(j, "stack.springs_y"), -24.083, 0.001);
    bench_set(j, "more.lay.columns", "4");
    ck_assert_double_eq_tol(number(j, "stack.springs_y"), 0, 1e-9);
    job_close(j);
    j = bench_file("data/templates/bend-and-part.txt");
    bench_set(j, "strip.thickness", "2 mm");
    bench_set(j, "legs.radius", "3 mm");
    bench_set(j, "legs.edge_radius", "6 mm");
    bench_set(j, "legs.leg", "40 mm");
    ck_assert_double_eq_tol(number(j, "legs.depth"), 14, 1e-9);
    job_close(j);
}
END_TEST

TCase *own_thing_tests(void)
{
    TCase *t = tcase_create("own");
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(t, own_holes_are_drilled, 0, (int)COUNT_OF(drilled));
    tcase_add_test(t, own_holes_go_with_their_stations);
    tcase_add_test(t, own_blocks_stand_weigh_and_meet);
    tcase_add_test(t, die_sections_follow_the_stations);
    tcase_add_test(t, limits_have_usual_values);
    tcase_add_test(t, sets_agree_with_hand_work);
    tcase_add_loop_test(t, own_things_are_ordered, 0, (int)COUNT_OF(lines));
    return t;
}
