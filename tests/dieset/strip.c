/* The strip followed over its stations: what is gone is not cut again, what comes loose is the part.
 *
 * Own arithmetic for a part 40 apart on a strip of 70: two holes of 6, one of 12.2, two notches 16 by 7, a
 * parting slug of 8 across: slugs 56.55 + 116.90 + 224 + 560 = 957.4 of 2 800, so the part has 1 842.6, 65.8
 * percent; the notch cuts 30, the parting 140.
 */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static const char stations[] =
    "\nstation holes\n  number = 1\n  does = \"pierce\"\n  size = 6 mm\n"
    "  lay pair on die_plate\n    along = -10 mm\n    apart = 40 mm\n"
    "\nstation middle\n  number = 2\n  does = \"pierce\"\n  size = 12.2 mm\n  lay one on die_plate\n"
    "\nstation notches\n  number = 3\n  does = \"notch\"\n  shape = \"rectangle\"\n  along = 16 mm\n"
    "  across = 10 mm\n"
    "  lay pair on die_plate\n    apart = 66 mm\n"
    "\nstation parting\n  number = 4\n  half_pitch = yes\n  does = \"trim\"\n  shape = \"rectangle\"\n"
    "  along = 8 mm\n  across = 74 mm\n  lay one on die_plate\n"
    "\nstation later\n  number = 4\n  does = \"pierce\"\n  size = 4 mm\n  lay one on die_plate\n"
    "    along = 12 mm\n    across = 20 mm\n"
    "\nlifters pins\n  stations = \"2\"\n  seat_in = lower_shoe\n  lay pair on die_plate\n    apart = 54 mm\n"
    "\npilots pilots\n  of = holes\n  stations = \"2 to 4\"\n  lay with holes\n";

static void open_strip(struct bench *b)
{
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    char *demo = read_text("data/demo/cover-plate.txt"), *cut = strstr(demo, "\nstation pilot_holes");
    ck_assert_ptr_nonnull(cut);
    *cut = '\0';
    char *all = base_format("%s%s", demo, stations);
    ck_ok(bench_load(b->d, all, why));
    bench_set(b, "strip", "width", "70 mm");
    bench_set(b, "strip", "pitch", "40 mm");
    free(demo);
    free(all);
}

/* EDITS "item.path = text; ...", taken one after the other. */
static void edit(struct bench *b, const char *edits)
{
    char *copy = base_copy(edits), *rest = NULL;
    for (char *e = strtok_r(copy, ";", &rest); e; e = strtok_r(NULL, ";", &rest)) {
        e += strspn(e, " ");
        char *dot = strchr(e, '.'), *equals = strstr(e, " = ");
        ck_assert(dot && equals);
        *dot = *equals = '\0';
        bench_set(b, e, dot + 1, equals + 3);
    }
    free(copy);
}

static const double slugs = 2 * PI * 9 + PI * 6.1 * 6.1 + 2 * 112 + 560 + PI * 4;

static const struct figure {
    const char *edits, *path;
    double value;
} figures[] = {
    {"", "notches.cut", 30},
    {"", "notches.slug_area", 2 * 112},
    {"", "parting.cut", 140},
    {"", "parting.slug_area", 560},
    {"", "parting.x", 80},
    {"", "holes.cut", 6 * PI},
    {"", "holes.slug_area", 2 * 9 * PI},
    {"", "strip.parted_area", 2800 - slugs},
    {"", "strip.part_metal", 2800 - slugs},
    /* the printed account has no hole of 4: that is idle */
    {"later.does = \"idle\"", "strip.use", 1842.6 / 2800},
    /* 2800 mm2 of 1.2 mm, 7850 kg/m3; in tonnes */
    {"", "strip.thousand_mass", 2800 * 1.2 * 7850e-12 * 1000},
    {"later.does = \"idle\"", "strip.part_mass", 1842.56 * 1.2 * 7850e-12},
    {"later.does = \"idle\"", "strip.scrap_mass", 957.44 * 1.2 * 7850e-12},
    /* the strip runs to the left: the same */
    {"strip.feed = \"to the left\"", "strip.parted_area", 2800 - slugs},
    {"strip.feed = \"to the left\"", "parting.cut", 140},
    {"strip.feed = \"to the left\"", "strip.narrowest", 70 - 14 - 12.2},
    /* between the notches and through the hole of 12.2 */
    {"", "strip.narrowest", 70 - 14 - 12.2},
    {"middle.size = 55 mm", "strip.narrowest", 70 - 14 - 55},
    /* the same hole once more, and half over it: two circles of 4, the second 2 further on */
    {"later.lay/along = 0 mm; later.lay/across = 0 mm", "later.cut", 0},
    {"later.lay/along = 0 mm; later.lay/across = 0 mm", "later.finds_none", 1},
    {"later.lay/along = 0 mm; later.lay/across = 0 mm; later.size = 12.2 mm", "later.cut", 0},
    {"later.lay/along = 6.1 mm; later.lay/across = 0 mm; later.size = 12.2 mm", "later.cut_before",
     12.2 * PI / 3},
    {"later.lay/along = 6.1 mm; later.lay/across = 0 mm; later.size = 12.2 mm", "later.cut",
     12.2 * PI * 2 / 3},
    {"", "later.finds_none", 0},
    /* after the parting: what it works on is loose */
    {"later.number = 6", "later.finds_none", 1},
    {"later.number = 7", "later.finds_none", 1},
    {"later.number = 6; later.does = \"form\"", "later.finds_none", 1},
    /* of a long strip the last pitches are looked at */
    {"later.number = 800", "strip.parted_area", 2800 - slugs},
    {"later.number = 800", "later.finds_none", 1},
    /* in the stroke that parts it, the part still hangs there */
    {"later.number = 5", "later.finds_none", 0},
    {"later.does = \"form\"", "later.finds_none", 0},
    /* what is formed where the hole of 12.2 is finds nothing; over its edge it does */
    {"later.does = \"form\"; later.lay/along = 0 mm; later.lay/across = 0 mm", "later.finds_none", 1},
    {"later.does = \"form\"; later.lay/along = 0 mm; later.lay/across = 0 mm; later.size = 20 mm",
     "later.finds_none", 0},
    /* notches that together part the strip: 30 deep from either side */
    {"notches.across = 73 mm; later.number = 5", "later.finds_none", 1},
    /* metal between: hole of 12.2 to the parting at 16; hole of 6 to the edge; notch over it by 3 */
    {"", "middle.web_left", 9.9},
    {"", "holes.edge_left", 35 - 23},
    {"", "notches.overcut", 3},
    {"", "parting.overcut", 2},
    {"parting.across = 70 mm", "parting.overcut", 0},
    {"parting.across = 69.6 mm", "parting.overcut", -0.2},
    {"notches.lay/apart = 59.6 mm", "notches.overcut", -0.2},
    {"notches.lay/apart = 60 mm", "notches.overcut", 0},
    {"notches.lay/apart = 60 mm", "notches.cut", 16 + 2 * 10},
    /* a notch that ends where the parting begins: from 0 to 16; then 0.4 over it */
    {"notches.lay/along = 8 mm", "notches.meets_by", 0},
    {"notches.lay/along = 8.4 mm", "notches.meets_by", 0.4},
    {"notches.lay/along = 8 mm", "parting.cut", 140 - 2 * 7},
    {"notches.lay/along = 7.5 mm", "notches.web_left", 0.5},
    /* pilots' holes that a notch runs into, or swallows: seen by those of station 4 */
    {"", "pilots.found_cut", 0},
    {"notches.across = 25 mm; notches.lay/along = -5 mm", "pilots.found_cut", 2},
    {"notches.across = 40 mm; notches.lay/along = -5 mm", "pilots.found_cut", 2},
    /* the notch is open at the strip's edge over 16, the parting at both ends; one notch alone is pushed to
       its edge, away from the metal that stays */
    {"", "notches.side_line", 16},
    {"", "notches.side_y", 0},
    {"", "parting.side_line", 0},
    {"", "holes.side_line", 0},
    {"notches.lay/across = 66 mm", "notches.side_y", 16},
    {"notches.lay/across = -66 mm", "notches.side_y", -16},
    /* notches 16 long in the middle of the pitch, the parting from 16 to 24: flush with it nothing is cut
       half; further on the parting is, on one side only where its front edge lies on the strip's end; 5: the
       notch */
    {"", "strip.start_at", 16},
    {"", "holes.first_stroke", 1},
    {"", "notches.first_stroke", 3},
    {"", "notches.half_stroke", 0},
    {"", "parting.half_stroke", 0},
    {"strip.start = 20 mm", "parting.half_stroke", 4},
    {"strip.start = 24 mm", "parting.half_stroke", 4},
    {"strip.start = 20 mm", "notches.half_stroke", 0},
    {"strip.start = 5 mm", "notches.half_stroke", 3},
    {"strip.start = 8 mm", "notches.half_stroke", 0},
    /* fed to the left the end comes from the other side: the hole at 10 to 14 off its place, then at 26
       to 30 */
    {"strip.start = 12 mm", "later.half_stroke", 4},
    {"strip.start = 28 mm", "later.half_stroke", 0},
    {"strip.feed = \"to the left\"; strip.start = 12 mm", "later.half_stroke", 0},
    {"strip.feed = \"to the left\"; strip.start = 28 mm", "later.half_stroke", 3},
    /* pins of 8 behind the second station, in the lanes of holes of 6 at 20; of one of 12.2 in the middle */
    {"pins.lay/apart = 54 mm", "pins.lane_left", 0},
    {"pins.lay/apart = 55 mm", "pins.lane_left", 0.5},
    {"pins.lay/apart = 52 mm", "pins.lane_left", -1},
    {"pins.lay/apart = 40 mm", "pins.lane_left", -6},
    {"pins.lay/apart = 22 mm", "pins.lane_left", 0.9},
    {"pins.lay/apart = 0 mm", "pins.lane_left", -8},
    /* before the second station nothing has been cut in the middle */
    {"pins.stations = \"1\"; pins.lay/apart = 0 mm", "pins.lane_left", 13},
    {"strip.feed = \"to the left\"; pins.lay/apart = 0 mm", "pins.lane_left", -8},
};

START_TEST(the_strip_is_followed)
{
    const struct figure *f = &figures[_i];
    struct bench b;
    open_strip(&b);
    edit(&b, f->edits);
    double value = bench_value(&b, f->path, DIESET_NEW);
    ck_assert_msg(fabs(value - f->value) <= 1e-4 * fmax(1, fabs(f->value)), "%s: %s is %.9g, not %.9g",
                  f->edits, f->path, value, f->value);
    bench_close(&b);
}
END_TEST

/* Legs of 20 and 30, outside, of a strip of 2 bent by 90 degrees round 3: cut 45.87 long (own arithmetic by
 * the k-factor of DIN 6935), and when it is bent its middle ends half a thickness inside of both legs'
 * ends. */
START_TEST(a_bend_stands_in_section_as_it_is_drawn)
{
    double half = PI / 2, k = (0.65 + 0.5 * log10(3 / 2.0)) / 2, allowance = half * (3 + k * 2),
           base = 20 - 5, leg = 30 - 5;
    struct dieset_fold bend = {.what = HANDBOOK_FOLD_BEND,
                               .x = base + allowance / 2,
                               .turn = half,
                               .along = 10,
                               .across = allowance / 2,
                               .base = 1,
                               .angle = half,
                               .radius = 3};
    const struct dieset_ray line = {0, 0, 1, 0};
    struct dieset_bent bent[DIESET_BENT_MOST];
    ck_assert_double_eq_tol(base + allowance + leg, 45.87, 0.005);
    for (int up = -1; up < 2; up += 2) {
        bend.angle = up * half;
        int n = dieset_profile(&bend, 1, &line, 0, base + allowance + leg, 2, 1, bent);
        ck_assert_double_eq_tol(bent[0].off, 0, 1e-9);
        ck_assert_double_eq_tol(bent[n - 1].off, 20 - 1, 0.02);
        ck_assert_double_eq_tol(bent[n - 1].high, up * (30 - 1), 0.02);
    }
    /* half formed, and not at all */
    int n = dieset_profile(&bend, 1, &line, 0, base + allowance + leg, 2, 0.5, bent);
    ck_assert_double_eq_tol(atan2(bent[n - 1].high - bent[n - 2].high, bent[n - 1].off - bent[n - 2].off),
                            half / 2, 1e-9);
    n = dieset_profile(&bend, 1, &line, 0, base + allowance + leg, 2, 0, bent);
    ck_assert_double_eq_tol(bent[n - 1].off, base + allowance + leg, 1e-9);
    /* beside it the line runs straight on */
    const struct dieset_ray past = {0, 11, 1, 0};
    n = dieset_profile(&bend, 1, &past, 0, 45, 2, 1, bent);
    ck_assert_int_eq(n, 2);
    ck_assert_double_eq_tol(bent[1].high, 0, 1e-9);
}
END_TEST

/* A cup of 20, 6 high, and a collar: a line through the middle goes out, over and back; a collar is open. */
START_TEST(what_is_drawn_stands_out_in_section)
{
    const struct dieset_ray line = {-30, 0, 1, 0};
    struct dieset_fold cup[] = {{.what = HANDBOOK_FOLD_FORM, .along = 10, .across = 10, .height = -6},
                                {.what = HANDBOOK_FOLD_BOTTOM, .along = 8, .across = 8, .height = -6}};
    struct dieset_bent bent[DIESET_BENT_MOST];
    int n = dieset_profile(cup, 2, &line, 0, 60, 1, 1, bent);
    static const double off[] = {0, 20, 22, 38, 40, 60}, high[] = {0, 0, -6, -6, 0, 0};
    ck_assert_int_eq(n, 6);
    for (int i = 0; i < 6; i++) {
        ck_assert_double_eq_tol(bent[i].off, off[i], 1e-9);
        ck_assert_double_eq_tol(bent[i].high, high[i], 1e-9);
    }
    cup[0].what = HANDBOOK_FOLD_COLLAR;
    n = dieset_profile(cup, 1, &line, 0, 60, 1, 1, bent);
    bool open = false;
    for (int i = 0; i < n; i++)
        open = open || isnan(bent[i].off);
    ck_assert(open);
}
END_TEST

/* Place by place: station 4 stands at 60, the parting at 80; what lies a pitch behind it is loose. */
START_TEST(each_place_of_the_strip_is_told)
{
    static const struct {
        double x, y;
        enum dieset_metal is;
        const char *by;
    } places[] = {
        {-110, 0, DIESET_WHOLE, NULL},  {0, 36, DIESET_NO_STRIP, NULL},  {-20, 0, DIESET_CUT, "middle"},
        {20, 0, DIESET_GONE, NULL},     {20, 30, DIESET_CUT, "notches"}, {60, 30, DIESET_GONE, NULL},
        {-70, 20, DIESET_CUT, "holes"}, {-30, 20, DIESET_GONE, NULL},    {80, 10, DIESET_CUT, "parting"},
        {70, 0, DIESET_WHOLE, NULL},    {120, 10, DIESET_GONE, NULL},    {140, 20, DIESET_LOOSE, NULL},
    };
    struct bench b;
    open_strip(&b);
    for (size_t i = 0; i < COUNT_OF(places); i++) {
        int item;
        enum dieset_metal is = dieset_strip_at(b.d, places[i].x, places[i].y, &item);
        ck_assert_msg(is == places[i].is, "%g, %g is %d", places[i].x, places[i].y, (int)is);
        ck_assert_int_eq(item, places[i].by ? dieset_find_item(b.d, places[i].by) : -1);
    }
    ck_assert(dieset_cuts_strip(b.d, dieset_find_item(b.d, "holes")));
    ck_assert(!dieset_cuts_strip(b.d, dieset_find_item(b.d, "pilots")));
    bench_close(&b);
}
END_TEST

/* Work that is undone leaves what was before: nothing of a try stays in what is kept of the strip. */
START_TEST(a_try_leaves_the_strip_as_it_was)
{
    struct bench b;
    open_strip(&b);
    double area = bench_value(&b, "strip.parted_area", DIESET_NEW);
    for (int i = 0; i < 2; i++) {
        ck_ok(bench_try(&b, "parting", "along", "10 mm", why));
        ck_assert_double_eq_tol(bench_value(&b, "strip.parted_area", DIESET_NEW), area - 2 * 70, 1e-6);
        dieset_drop(b.d);
        ck_assert_double_eq_tol(bench_value(&b, "strip.parted_area", DIESET_NEW), area, 1e-9);
    }
    bench_close(&b);
}
END_TEST

/* A place may hang on what is cut at another one, which moves with what is cut before it. */
START_TEST(places_that_hang_on_what_is_cut_settle)
{
    struct bench b;
    open_strip(&b);
    edit(&b, "parting.lay/along = (notches.cut - 30 mm) / 10");
    near_to(bench_value(&b, "parting.x", DIESET_NEW), 80);
    edit(&b, "notches.lay/apart = 65 mm"); /* 7.5 deep: 31 */
    near_to(bench_value(&b, "notches.cut", DIESET_NEW), 31);
    near_to(bench_value(&b, "parting.x", DIESET_NEW), 80.1);
    near_to(bench_value(&b, "parting.cut_x", DIESET_NEW), 80.1);
    bench_close(&b);
}
END_TEST

static bool is_told(const struct bench *b, const char *path)
{
    return !dieset_value(b->d, dieset_find(b->d, path), DIESET_NEW).error;
}

/* Half typed: a pitch of 0.0001 mm, a cut of a thousand kilometres. To follow each stroke takes minutes and
 * all memory. */
START_TEST(what_is_hundreds_of_pitches_long_is_not_followed)
{
    struct bench b;
    open_strip(&b);
    edit(&b, "strip.pitch = 0.0001 mm");
    ck_assert(!is_told(&b, "notches.cut") && !is_told(&b, "strip.parted_area"));
    edit(&b, "strip.pitch = 40 mm");
    ck_assert(is_told(&b, "notches.cut") && is_told(&b, "strip.parted_area"));
    edit(&b, "parting.along = 1000000000 mm");
    ck_assert(!is_told(&b, "parting.cut") && !is_told(&b, "strip.parted_area") && is_told(&b, "notches.cut"));
    bench_close(&b);
}
END_TEST

TCase *strip_tests(void)
{
    TCase *t = tcase_create("strip");
    tcase_add_loop_test(t, the_strip_is_followed, 0, COUNT_OF(figures));
    tcase_add_test(t, each_place_of_the_strip_is_told);
    tcase_add_test(t, a_try_leaves_the_strip_as_it_was);
    tcase_add_test(t, places_that_hang_on_what_is_cut_settle);
    tcase_add_test(t, what_is_hundreds_of_pitches_long_is_not_followed);
    tcase_add_test(t, a_bend_stands_in_section_as_it_is_drawn);
    tcase_add_test(t, what_is_drawn_stands_out_in_section);
    return t;
}
