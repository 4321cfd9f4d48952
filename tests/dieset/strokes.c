/* The set in motion: events and values along the stroke, with numbers worked out by hand.
 *
 * The set is the shipped template with the figures of the handbook's chain: plates 50 10 30 | 20 | 20 10 40
 * from the bottom up, punches 65, strip 2, entry 1, lead 1, both regrinds 4. Gap 44, between the shoes 114,
 * stripper travel 4; ground 40, 106, 8. Posts stand 136 above their shoe, bushings 20 out of theirs. Four
 * springs of 50 N/mm, 8 pressed together.
 */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct { const char *item, *path, *text;
} figures[] = {
    {"stack", "punch_length", "65 mm"},
    {"stack", "entry", "1 mm"},
    {"stack", "lead", "1 mm"},
    {"strip", "thickness", "2 mm"},
    {"die_plate", "thickness", "30 mm"},
    {"upper_shoe", "thickness", "40 mm"},
    {"lower_shoe", "thickness", "50 mm"},
    {"punch_backing", "thickness", "10 mm"},
    {"punch_plate", "thickness", "20 mm"},
    {"stripper", "thickness", "20 mm"},
    {"die_backing", "thickness", "10 mm"},
    {"pierce", "size", "9 mm"},
    {"blank", "size", "30 mm"},
    {"press", "stroke", "80 mm"},
    {"press", "rated", "600 kN"},
    {"press", "rated_height", "10 mm"},
    {"posts", "diameter", "25 mm"},
    {"posts", "sunk", "0 mm"},
    {"posts", "lead", "0 mm"},
    {"posts", "length", "186 mm"},
    {"bushings", "length", "60 mm"},
    {"bushings", "seat_length", "40 mm"},
    {"stripper_springs", "pocket_depth", "25 mm"},
    {"stripper_springs", "free_length", "89 mm"},
    {"stripper_springs", "rate", "50 N/mm"},
};

static const char PILOTS[] = "pilots pilots\n  ahead = 4 mm\n  lay one on die_plate\n    along = -18 mm\n";
static const char LIFTERS[] =
    "lifters lifters\n  lift = 8 mm\n  seat_in = lower_shoe\n  lay one on die_plate\n    across = 30 mm\n";

static void open_stroke(struct bench *b, const char *pilots, const char *lifters)
{
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    char *job = read_text("data/templates/spring-stripper.txt"),
         *text = base_format("%s\n%s\n%s", job, pilots, lifters);
    ck_ok(bench_load(b->d, text, why));
    for (size_t i = 0; i < COUNT_OF(figures); i++)
        bench_set(b, figures[i].item, figures[i].path, figures[i].text);
    free(job);
    free(text);
}

/* NaN: there is no such value at that height, or it has an error. */
static double motion(const struct bench *b, const char *item, const char *name, enum dieset_state s,
                     double ram)
{
    struct dieset_motion m[40];
    int n = dieset_motions(b->d, s, ram, m, 40);
    ck_assert_int_lt(n, 40);
    for (int i = 0; i < n; i++)
        if (strcmp(m[i].motion->name, name) == 0 && strcmp(dieset_item_name(b->d, m[i].item), item) == 0)
            return m[i].value.error ? NAN : m[i].value.number;
    return NAN;
}

/* ---- values -------------------------------------------------------------------------------------------- */

/* Heights 80 42 10 4 3 0: top of the stroke, posts at their bushings, the press's rating, stripper, punches,
   shut. */
enum { HEIGHTS = 6 };
static const double heights[HEIGHTS] = {80, 42, 10, 4, 3, 0};
static const struct { const char *item, *name; enum dieset_state state; double at[HEIGHTS]; } moving[] = {
    {"stack", "between_shoes", DIESET_NEW, {194, 156, 124, 118, 117, 114}},
    {"stack", "between_shoes", DIESET_GROUND, {186, 148, 116, 110, 109, 106}},
    {"stack", "room_at", DIESET_NEW, {26, 26, 26, 26, 25, 22}},
    {"stack", "room_at", DIESET_GROUND, {26, 26, 26, 22, 21, 18}},
    {"stack", "tip_over", DIESET_NEW, {77, 39, 7, 1, 0, -3}},
    {"stack", "tip_over", DIESET_GROUND, {77, 39, 7, 1, 0, -3}},
    {"posts", "engaged", DIESET_NEW, {0, 0, 32, 38, 39, 42}}, /* HB-31: 38 as the stripper touches */
    {"posts", "engaged", DIESET_GROUND, {0, 8, 40, 46, 47, 50}},
    {"stripper_springs", "pressed_at", DIESET_NEW, {8, 8, 8, 8, 9, 12}},
    {"stripper_springs", "pressed_at", DIESET_GROUND, {8, 8, 8, 12, 13, 16}}, /* HB-56: 16 in all */
    {"stripper_springs", "pushing", DIESET_NEW, {1600, 1600, 1600, 1600, 1800, 2400}},
    {"stripper_springs", "pushing", DIESET_GROUND, {1600, 1600, 1600, 2400, 2600, 3200}},
    /* torque of a crank: 600 kN at 10 of 80; half the stroke and more counts as half */
    {"stack", "available", DIESET_NEW, {396862.7, 396862.7, 600000, 600000, 600000, 600000}},
};

START_TEST(what_moves_is_where_the_chain_puts_it)
{
    struct bench b;
    open_stroke(&b, "", "");
    for (int h = 0; h < HEIGHTS; h++) {
        double is = motion(&b, moving[_i].item, moving[_i].name, moving[_i].state, heights[h]);
        ck_assert_msg(fabs(is - moving[_i].at[h]) < 0.05, "%s of %s at %g: %.9g for %g", moving[_i].name,
                      moving[_i].item, heights[h], is, moving[_i].at[h]);
    }
    bench_close(&b);
}
END_TEST

START_TEST(a_chamfer_and_a_short_bushing_count)
{
    struct bench b;
    open_stroke(&b, "", "");
    bench_set(&b, "posts", "lead", "3 mm");
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 4), 35);
    bench_set(&b, "bushings", "length", "50 mm"); /* stands 10 out */
    bench_set(&b, "bushings", "seat_length", "30 mm");
    bench_set(&b, "posts", "length", "200 mm"); /* 150 above: 150 - 114 + 20 - 3 = 53 */
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 0), 50);
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 10), 43);
    bench_close(&b);
}
END_TEST

/* ---- limits and loads ---------------------------------------------------------------------------------- */

static struct dieset_motion moment(const struct bench *b, const char *item, const char *name,
                                   enum dieset_state s, double ram)
{
    struct dieset_motion m[40];
    int n = dieset_motions(b->d, s, ram, m, 40);
    for (int i = 0; i < n; i++)
        if (strcmp(m[i].motion->name, name) == 0 && strcmp(dieset_item_name(b->d, m[i].item), item) == 0)
            return m[i];
    ck_abort_msg("no %s of %s", name, item);
    return m[0];
}

/* Wanted entry 1.5 x 25 = 37.5 from the first touch on: at 4 when new, at 8 when ground. 600 kN at 10 of 80
   mm. */
static const struct {
    const char *item, *name;
    enum dieset_state state;
    double ram, least, most, whole;
    bool judged;
    double spare;
} limits[] = {
    {"posts", "engaged", DIESET_NEW, 4, 37.5, NAN, 60, true, 0.5},
    {"posts", "engaged", DIESET_NEW, 4.5, 37.5, NAN, 60, false, 0},
    {"posts", "engaged", DIESET_NEW, 10, 37.5, NAN, 60, false, -5.5},
    {"posts", "engaged", DIESET_GROUND, 8, 37.5, NAN, 60, true, 4.5},
    {"posts", "engaged", DIESET_GROUND, 8.5, 37.5, NAN, 60, false, 4},
    {"stack", "load", DIESET_NEW, 80, NAN, 396862.7, 600000, true, 396862.7},
    {"stack", "load", DIESET_NEW, 10, NAN, 600000, 600000, true, 600000},
    {"stack", "tip_over", DIESET_NEW, 10, NAN, NAN, NAN, true, NAN},
};

static bool same(double a, double b) { return (isnan(a) && isnan(b)) || fabs(a - b) < 0.05; }

START_TEST(a_limit_stands_beside_its_value_where_it_is_judged)
{
    struct bench b;
    open_stroke(&b, "", "");
    struct dieset_motion m = moment(&b, limits[_i].item, limits[_i].name, limits[_i].state, limits[_i].ram);
    ck_assert_msg(same(m.least, limits[_i].least), "least %g", m.least);
    ck_assert_msg(same(m.most, limits[_i].most), "most %g", m.most);
    ck_assert_msg(same(m.whole, limits[_i].whole), "whole %g", m.whole);
    ck_assert_msg(same(m.spare, limits[_i].spare), "spare %g", m.spare);
    ck_assert(m.judged == limits[_i].judged);
    bench_close(&b);
}
END_TEST

/* Where the rule looks, the bar says what the rule says. */
START_TEST(a_limit_is_that_of_its_rule)
{
    struct bench b;
    open_stroke(&b, "", "");
    struct dieset_motion posts = moment(&b, "posts", "engaged", DIESET_NEW,
                                        bench_value(&b, "stack.first_touch", DIESET_NEW));
    near_to(posts.value.number, bench_value(&b, "posts.entry", DIESET_NEW));
    near_to(posts.least, bench_value(&b, "posts.entry_wanted", DIESET_NEW));
    double touch = bench_value(&b, "stack.punch_touch", DIESET_NEW);
    struct dieset_motion load = moment(&b, "stack", "load", DIESET_NEW, touch);
    near_to(load.value.number, bench_value(&b, "stack.force_at_cut", DIESET_NEW));
    near_to(load.most, bench_value(&b, "stack.available_at_cut", DIESET_NEW));
    struct dieset_motion strip = moment(&b, "stack", "stripping_push", DIESET_NEW, touch);
    near_to(strip.value.number, bench_value(&b, "stripper_springs.force_leave", DIESET_NEW));
    near_to(strip.least, bench_value(&b, "stack.stripping", DIESET_NEW));
    ck_assert(strip.judged && !moment(&b, "stack", "stripping_push", DIESET_NEW, touch + 0.1).judged);
    struct dieset_motion spring = moment(&b, "stripper_springs", "pressed_at", DIESET_GROUND, 0);
    near_to(spring.most, 89 * bench_value(&b, "stripper_springs.life_share", DIESET_GROUND));
    near_to(spring.value.number, bench_value(&b, "stripper_springs.pressed", DIESET_GROUND));
    struct base_text note = {0};
    dieset_motion_note(b.d, &spring, DIESET_GROUND, 0, &note);
    ck_assert_ptr_nonnull(strstr(base_text_get(&note), "percent of the free length"));
    base_text_clear(&note);
    struct dieset_motion plain = moment(&b, "stack", "between_shoes", DIESET_NEW, 0);
    dieset_motion_note(b.d, &plain, DIESET_NEW, 0, &note);
    ck_assert_str_eq(base_text_get(&note), "");
    base_text_done(&note);
    bench_close(&b);
}
END_TEST

/* The blanking punch 1.2 shorter: piercing from 3 to 2.2, blanking from 1.8 to 1.0 (0.4 of a strip of 2).
 * Springs 200 N/mm in all, 1600 N until they give way at 4, ground 8; slugs from the first cut on. */
static const struct {
    enum dieset_state state;
    double ram;
    int pierce, blank, slugs;
    double springs;
} loads[] = {
    {DIESET_NEW, 80, 0, 0, 0, 0},      {DIESET_NEW, 4.1, 0, 0, 0, 0},     {DIESET_NEW, 4, 0, 0, 0, 1600},
    {DIESET_NEW, 3, 1, 0, 0, 1800},    {DIESET_NEW, 2.5, 1, 0, 1, 1900},  {DIESET_NEW, 2.2, 0, 0, 1, 1960},
    {DIESET_NEW, 1.8, 0, 1, 1, 2040},  {DIESET_NEW, 1, 0, 0, 1, 2200},    {DIESET_NEW, 0, 0, 0, 1, 2400},
    {DIESET_GROUND, 8, 0, 0, 0, 1600}, {DIESET_GROUND, 3, 1, 0, 0, 2600}, {DIESET_GROUND, 0, 0, 0, 1, 3200},
};

START_TEST(the_press_bears_what_works_at_that_height)
{
    struct bench b;
    open_stroke(&b, "", "");
    bench_set(&b, "blank", "stagger", "1.2 mm");
    double pierce = bench_value(&b, "pierce.cutting", DIESET_NEW),
           blank = bench_value(&b, "blank.cutting", DIESET_NEW);
    double push = bench_value(&b, "stack.push", DIESET_NEW);
    ck_assert_double_gt(pierce, 1000);
    near_to(blank / pierce, 30. / 9);
    double wanted = loads[_i].pierce * pierce + loads[_i].blank * blank + loads[_i].slugs * push +
                    loads[_i].springs;
    ck_assert_double_eq_tol(motion(&b, "stack", "load", loads[_i].state, loads[_i].ram), wanted, 0.01);
    bench_close(&b);
}
END_TEST

/* With a shear of 1 the piercing punch is through at 3 - 1 - 0.8 = 1.2; a forming punch of depth 2 works from
   2 to the bottom. */
START_TEST(shear_draws_the_cut_out_and_forming_goes_on_until_shut)
{
    struct bench b;
    open_stroke(&b, "", "");
    bench_set(&b, "pierce", "slope", "1 mm");
    bench_set(&b, "blank", "does", "\"form\"");
    bench_set(&b, "blank", "forming_force", "7 kN");
    bench_set(&b, "blank", "depth", "2 mm");
    double pierce = bench_value(&b, "pierce.cutting", DIESET_NEW),
           push = bench_value(&b, "stack.push", DIESET_NEW);
    near_to(bench_value(&b, "pierce.through", DIESET_NEW), 1.2);
    near_to(motion(&b, "stack", "load", DIESET_NEW, 2.5), 1900 + push + pierce);
    near_to(motion(&b, "stack", "load", DIESET_NEW, 2), 2000 + push + pierce + 7000);
    near_to(motion(&b, "stack", "load", DIESET_NEW, 1.2), 2160 + push + 7000);
    near_to(motion(&b, "stack", "load", DIESET_NEW, 0), 2400 + push + 7000);
    bench_close(&b);
}
END_TEST

/* Asking for many heights leaves no trace, and in any order. */
START_TEST(a_height_asked_for_changes_nothing)
{
    struct bench b;
    open_stroke(&b, PILOTS, LIFTERS);
    long binding = dieset_binding(b.d);
    double before = motion(&b, "posts", "engaged", DIESET_GROUND, 12);
    for (int ram = 80; ram >= 0; ram--)
        near_to(motion(&b, "stack", "between_shoes", DIESET_NEW, ram), 114 + ram);
    near_to(motion(&b, "posts", "engaged", DIESET_GROUND, 12), before);
    ck_assert_int_eq(dieset_binding(b.d), binding);
    ck_assert(!dieset_trying(b.d));
    struct dieset_motion one[1];
    ck_assert_int_eq(dieset_motions(b.d, DIESET_NEW, 0, one, 1), 1);
    bench_close(&b);
}
END_TEST

/* ---- events -------------------------------------------------------------------------------------------- */

struct happening { const char *title; double at; };
enum { MOST = 8 };

/* With pilots 4 ahead the strip is met at 7 (HB-52), with lifters of 8 at 15 and by the stripper at 12
 * (HB-53), and by the punches at 3 all the same. Ground, pilots left long gain 4, the stripper's travel too,
 * and posts enter 8 sooner. */
static const struct {
    const char *pilots, *lifters;
    enum dieset_state state;
    struct happening list[MOST];
} strokes[] = {
    {"",
     "",
     DIESET_NEW,
     {{"top of the stroke", 80},
      {"posts enter their bushings", 42},
      {"stripper meets the strip", 4},
      {"punches meet the strip", 3},
      {"cut through", 2.2},
      {"shut", 0}}},
    {"",
     "",
     DIESET_GROUND,
     {{"top of the stroke", 80},
      {"posts enter their bushings", 50},
      {"stripper meets the strip", 8},
      {"punches meet the strip", 3},
      {"cut through", 2.2},
      {"shut", 0}}},
    {PILOTS,
     "",
     DIESET_NEW,
     {{"top of the stroke", 80},
      {"posts enter their bushings", 42},
      {"pilots meet the strip", 7},
      {"stripper meets the strip", 4},
      {"punches meet the strip", 3},
      {"cut through", 2.2},
      {"shut", 0}}},
    {PILOTS,
     LIFTERS,
     DIESET_NEW,
     {{"top of the stroke", 80},
      {"posts enter their bushings", 42},
      {"pilots meet the strip", 15},
      {"stripper meets the strip", 12},
      {"punches meet the strip", 3},
      {"cut through", 2.2},
      {"shut", 0}}},
    {PILOTS,
     LIFTERS,
     DIESET_GROUND,
     {{"top of the stroke", 80},
      {"posts enter their bushings", 50},
      {"pilots meet the strip", 19},
      {"stripper meets the strip", 16},
      {"punches meet the strip", 3},
      {"cut through", 2.2},
      {"shut", 0}}},
};

static void stroke_is(const struct bench *b, enum dieset_state s, const struct happening *list)
{
    struct dieset_event e[20];
    int n = dieset_events(b->d, s, e, 20), wanted = 0;
    while (wanted < MOST && list[wanted].title)
        wanted++;
    ck_assert_int_eq(n, wanted);
    for (int i = 0; i < n; i++) {
        ck_assert_str_eq(e[i].title, list[i].title);
        ck_assert(!e[i].broken);
        near_to(e[i].at, list[i].at);
    }
}

START_TEST(events_follow_pilots_lifters_and_grinding)
{
    struct bench b;
    open_stroke(&b, strokes[_i].pilots, strokes[_i].lifters);
    stroke_is(&b, strokes[_i].state, strokes[_i].list);
    bench_close(&b);
}
END_TEST

/* Pilots 1 ahead meet the strip with the stripper: the stack stands before the pilots in the job. */
START_TEST(events_at_one_height_stand_in_the_jobs_order)
{
    static const struct happening list[MOST] = {{"top of the stroke", 80},
                                                {"posts enter their bushings", 42},
                                                {"stripper meets the strip", 4},
                                                {"pilots meet the strip", 4},
                                                {"punches meet the strip", 3},
                                                {"cut through", 2.2},
                                                {"shut", 0}};
    struct bench b;
    open_stroke(&b, PILOTS, "");
    bench_set(&b, "pilots", "ahead", "1 mm");
    stroke_is(&b, DIESET_NEW, list);
    bench_set(&b, "pilots", "ahead", "1/3 mm + 2/3 mm + 0.0000000001 mm"); /* one height all the same */
    struct dieset_event e[20];
    dieset_events(b.d, DIESET_NEW, e, 20);
    ck_assert_str_eq(e[2].title, "stripper meets the strip");
    bench_close(&b);
}
END_TEST

/* ---- fixed stripper ------------------------------------------------------------------------------------ */

/* HB-49: tunnel 5, stripper 20, entry 1: the punches enter it at 26; its gap is 19 at shut, ground 15. It
 * stands on the bed, so the room opens with the ram, and springs have no way. */
START_TEST(under_a_fixed_stripper_the_room_opens_with_the_ram)
{
    static const struct happening list[MOST] = {{"top of the stroke", 80},
                                                {"posts enter their bushings", 42},
                                                {"punches enter the fixed stripper", 26},
                                                {"punches meet the strip", 3},
                                                {"cut through", 2.2},
                                                {"shut", 0}};
    struct bench b;
    open_stroke(&b, "", "");
    bench_set(&b, "stripper", "moves", "\"with the bed\"");
    bench_set(&b, "stack", "tunnel", "5 mm");
    stroke_is(&b, DIESET_NEW, list);
    near_to(motion(&b, "stack", "room_at", DIESET_NEW, 0), 19);
    near_to(motion(&b, "stack", "room_at", DIESET_GROUND, 0), 15);
    near_to(motion(&b, "stack", "room_at", DIESET_NEW, 26), 45);
    near_to(motion(&b, "stack", "room_at", DIESET_NEW, 80), 99);
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 26), 16);
    bench_close(&b);
}
END_TEST

/* In a stroke of 24 the punches never leave the fixed stripper, nor the posts their bushings. */
START_TEST(what_never_parts_does_not_meet)
{
    static const struct happening list[MOST] = {
        {"top of the stroke", 24}, {"punches meet the strip", 3}, {"cut through", 2.2}, {"shut", 0}};
    struct bench b;
    open_stroke(&b, "", "");
    bench_set(&b, "stripper", "moves", "\"with the bed\"");
    bench_set(&b, "stack", "tunnel", "5 mm");
    bench_set(&b, "press", "stroke", "24 mm");
    stroke_is(&b, DIESET_NEW, list);
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 24), 18);
    bench_close(&b);
}
END_TEST

/* ---- without a press ----------------------------------------------------------------------------------- */

START_TEST(without_a_press_only_its_force_is_left_out)
{
    struct bench b;
    open_stroke(&b, "", "");
    struct dieset_motion with[40], without[40];
    int n = dieset_motions(b.d, DIESET_NEW, 4, with, 40);
    static const char *const typed[] = {"size", "stroke", "rated", "rated_height"};
    for (size_t i = 0; i < COUNT_OF(typed); i++)
        bench_set(&b, "press", typed[i], NULL);
    ck_assert_int_eq(dieset_motions(b.d, DIESET_NEW, 4, without, 40), n - 1);
    ck_assert(isnan(motion(&b, "stack", "available", DIESET_NEW, 4)));
    near_to(motion(&b, "posts", "engaged", DIESET_NEW, 4), 38);
    for (int i = 0; i < n - 1; i++)
        ck_assert(!without[i].value.error);
    stroke_is(&b, DIESET_NEW, strokes[0].list + 1); /* nor is there a top of the stroke */
    bench_close(&b);
}
END_TEST

TCase *stroke_tests(void)
{
    TCase *t = tcase_create("strokes");
    tcase_set_timeout(t, 30);
    tcase_add_loop_test(t, what_moves_is_where_the_chain_puts_it, 0, COUNT_OF(moving));
    tcase_add_test(t, a_chamfer_and_a_short_bushing_count);
    tcase_add_loop_test(t, a_limit_stands_beside_its_value_where_it_is_judged, 0, COUNT_OF(limits));
    tcase_add_test(t, a_limit_is_that_of_its_rule);
    tcase_add_loop_test(t, the_press_bears_what_works_at_that_height, 0, COUNT_OF(loads));
    tcase_add_test(t, shear_draws_the_cut_out_and_forming_goes_on_until_shut);
    tcase_add_test(t, a_height_asked_for_changes_nothing);
    tcase_add_loop_test(t, events_follow_pilots_lifters_and_grinding, 0, COUNT_OF(strokes));
    tcase_add_test(t, events_at_one_height_stand_in_the_jobs_order);
    tcase_add_test(t, under_a_fixed_stripper_the_room_opens_with_the_ram);
    tcase_add_test(t, what_never_parts_does_not_meet);
    tcase_add_test(t, without_a_press_only_its_force_is_left_out);
    return t;
}
