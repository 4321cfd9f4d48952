/* The strip by station numbers: all that stands on it follows the pitch, the feed and the numbers, and
 * jobs of before are told so without anything moved. */

#include "bench.h"

#include "counts.h"
#include "diewright/store.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const sets[] = {
    "data/demo/cover-plate.txt",          "data/demo/spacer-plate.txt",
    "data/templates/spring-stripper.txt", "data/templates/spring-stripper-inch.txt",
    "data/templates/fixed-stripper.txt",  "data/templates/one-station.txt",
    "data/templates/notch-and-part.txt",  "data/templates/first-estimate.txt",
    "data/templates/bend-and-part.txt",   "data/templates/draw-and-part.txt",
    "data/templates/compound.txt",
};

static double of(struct job *j, const char *item, const char *property)
{
    char path[120];
    snprintf(path, sizeof path, "%s.%s", item, property);
    return number(j, path);
}

/* ---- the pitch: 20 percent more and less ------------------------------------------------------ */

/* What a new pitch may have to say: the bridge, walls, what hangs on the plates' length, the strip's use
 * and the press's table. */
static const char *const may_speak[] = {
    "strip-bridge", "strip-bridge-size", "strip-use", "strip-twice", "strip-cross",      /* bridge, use */
    "hole-wall",    "opening-wall", "opening-web",   "dowel-screw-wall", "bodies-meet", /* walls */
    "screw-pitch",  "joint-gap",    "joint-spread",  "post-size",     "post-edge",        "lift-hole",
    "lift-set",     "guard-note",                    /* length, mass */
    "bolster-fit", "bolster-over",  "slug-path",    "slug-opening", "guess-decides",  /* the press's table */
    "spring-balance",                                                /* blanks that run into each other */
};

static bool may(const char *rule)
{
    for (size_t i = 0; i < COUNT_OF(may_speak); i++)
        if (strcmp(may_speak[i], rule) == 0)
            return true;
    return false;
}

struct stands { double off[4000]; int n; };

/* Where each point on the strip stands, counted from its station's place, in pitches where it is half of
 * one. */
static void off_stations(struct job *j, struct stands *out)
{
    struct dieset *d = job_dieset(j);
    double first = number(j, "strip.first"), pitch = number(j, "strip.pitch"), way = number(j, "strip.way");
    out->n = 0;
    for (int i = 0; i < dieset_item_count(d); i++) {
        int list[40], n = dieset_station_list(d, i, list, 40), points = dieset_point_count(d, i);
        if (n < 0 && dieset_has_number(d, i))
            list[0] = dieset_station_number(d, i), n = 1;
        for (int p = 0; p < points && n > 0; p++) {
            struct dieset_point at;
            dieset_point(d, i, p, &at);
            double off = at.x - (first + way * (list[p / (points / n)] - 1) * pitch);
            out->off[out->n++] = fabs(fabs(off) - pitch / 2) < 1e-6 ? 0.5 : off;
        }
    }
}

START_TEST(strip_follows_its_pitch)
{
    struct job *j = bench_file(sets[_i / 2]);
    struct stands *before = base_alloc(sizeof *before), *now = base_alloc(sizeof *now);
    char pitch[60];
    off_stations(j, before);
    /* of a compound set the die plate is no longer than the blank */
    const char *plate = dieset_find_item(job_dieset(j), "die_plate") < 0 ? "stripper" : "die_plate";
    double length = of(j, plate, "length"), thick = of(j, plate, "thickness"),
           step = number(j, "strip.pitch"),
           last = number(j, "strip.stations");
    ck_assert(before->n >= 1);
    snprintf(pitch, sizeof pitch, "%.9g mm", step * (_i % 2 ? 1.2 : 0.8));
    ck_ok(job_set(j, "strip.pitch", pitch, why));
    off_stations(j, now);
    ck_assert_int_eq(now->n, before->n);
    for (int i = 0; i < now->n; i++)
        ck_assert_msg(fabs(now->off[i] - before->off[i]) < 1e-6,
                      "point %d of %s stood %g off its station, now %g", i, sets[_i / 2], before->off[i],
                      now->off[i]);
    /* as many pitches longer as there are stations, where nothing of it goes by the force */
    if (of(j, plate, "thickness") == thick)
        ck_assert_double_eq_tol(of(j, plate, "length") - length, last * step * (_i % 2 ? 0.2 : -0.2),
                                1e-6);
    const struct job_outcome *o = job_outcome(j);
    for (int i = 0; i < o->n_came; i++)
        ck_assert_msg(may(o->came[i].rule), "%s: %s", o->came[i].rule, o->came[i].message);
    for (int i = 0; i < o->n_went; i++)
        ck_assert_msg(may(o->went[i].rule), "%s went: %s", o->went[i].rule, o->went[i].message);
    free(before);
    free(now);
    job_close(j);
}
END_TEST

/* ---- numbers, feed, frames -------------------------------------------------------------------------- */

START_TEST(feed_turns_the_order_round)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    double u[2], at = of(j, "dimples", "p1.x");
    u[0] = at - of(j, "dimples", "mean_x");
    bench_set(j, "strip.feed", "\"to the left\"");
    ck_assert_double_eq_tol(of(j, "pilot_holes", "x"), 85, 1e-9);
    ck_assert_double_eq_tol(of(j, "blank", "x"), -85, 1e-9);
    ck_assert_double_eq_tol(of(j, "notches", "x"), 0, 1e-9); /* half a pitch on, the other way */
    u[1] = of(j, "dimples", "p1.x") - of(j, "dimples", "mean_x");
    ck_assert_double_eq_tol(u[1], u[0], 1e-9); /* the part is not mirrored */
    /* the lead-in's margin lies at the right now */
    bench_set(j, "stack.margin_in", "40 mm");
    ck_assert_double_eq_tol(of(j, "die_plate", "right"), 85 + 17 + 40, 1e-9);
    ck_assert_double_eq_tol(of(j, "die_plate", "left"), -85 - 17 - 30, 1e-9);
    job_close(j);
}
END_TEST

/* What hangs over the strip's edge: the middle of what is cut goes with its station, unmirrored. The notch is
 * turned by 30 deg and half of it is out, so that this middle lies beside the station's place. */
START_TEST(feed_takes_the_middle_of_a_cut_along)
{
    static const char *const feeds[] = {"\"to the right\"", "\"to the left\""};
    struct job *j = bench_file("data/demo/cover-plate.txt");
    double off[2], across[2];
    ck_ok(job_lay(j, "notches", "one on die_plate", why));
    bench_take(j);
    bench_set(j, "notches.lay.across", "30 mm");
    bench_set(j, "notches.middle.turn", "30 deg");
    for (int i = 0; i < 2; i++) {
        bench_set(j, "strip.feed", feeds[i]);
        ck_assert(number(j, "notches.off_strip") > 1);
        off[i] = of(j, "notches", "x") - of(j, "notches", "middle.x");
        across[i] = of(j, "notches", "y");
        ck_assert_double_eq_tol(of(j, "notches", "middle.x"), i ? 85 - 2.5 * 34 : -85 + 2.5 * 34, 1e-9);
    }
    ck_assert(fabs(off[0]) > 0.1);
    ck_assert_double_eq_tol(off[1], off[0], 1e-9);
    ck_assert_double_eq_tol(across[1], across[0], 1e-9);
    /* 2.5 pitches of 40 from station 1, which lies 100 from the middle */
    bench_set(j, "strip.pitch", "40 mm");
    ck_assert_double_eq_tol(of(j, "notches", "x") - off[0], 0, 1e-9);
    bench_set(j, "notches.number", "1");
    ck_assert_double_eq_tol(of(j, "notches", "x") - off[0], 100 - 20, 1e-9);
    job_close(j);
}
END_TEST

START_TEST(pilots_stand_over_their_holes)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    bench_set(j, "pilot_holes.size", "6 mm");
    ck_assert_double_eq_tol(of(j, "pilots", "strip_hole"), 6, 1e-9);
    bench_set(j, "pilot_holes.lay.apart", "48 mm");
    ck_assert_double_eq_tol(of(j, "pilots", "front.y"), -24, 1e-9);
    bench_set(j, "pilot_holes.lay.along", "2 mm");
    ck_assert_double_eq_tol(of(j, "pilots", "front.x"), -51 + 2, 1e-9);
    bench_set(j, "pilots.stations", "\"2, 4 to 6\"");
    ck_assert_double_eq_tol(of(j, "pilots", "back_4.x"), 85 + 2, 1e-9);
    ck_assert_int_eq(dieset_point_count(job_dieset(j), dieset_find_item(job_dieset(j), "pilots")), 8);
    /* a freed point goes with its station */
    bench_set(j, "pilot_holes.front.x", "usual + 3 mm");
    ck_assert_double_eq_tol(of(j, "pilots", "front.x"), -51 + 2 + 3, 1e-9);
    struct base_diag why = {0};
    ck_assert(job_set(j, "pilots.stations", "\"5 to 2\"", &why) != BASE_OK);
    ck_assert_str_eq(why.message,
                     "pilots.stations: \"5 to 2\" lists no numbers in rising order; write them as "
                     "\"2, 3, 5 to 8\".");
    job_close(j);
}
END_TEST

/* Two parts of a pitch, every second one turned half round about its own frame. */
START_TEST(two_parts_of_a_pitch)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    double use = number(j, "strip.use"), force = number(j, "blank.force"), edge = number(j, "strip.beside");
    static const char *const paths[] = {"strip.parts", "strip.parts_across", "strip.parts_lie",
                                        "strip.width", "notches.serves"};
    static const char *const texts[] = {"2", "44 mm", "\"every second turned round\"", "104 mm",
                                        "\"the strip\""};
    bench_set(j, "pilot_holes.lay.apart", "8 mm"); /* not on the rim of another part */
    bench_set(j, "notches.lay.apart", "102 mm");
    ck_ok(job_set_many(j, paths, texts, COUNT_OF(paths), why));
    bench_take(j);
    ck_assert_double_eq_tol(number(j, "blank.force"), 2 * force, 1e-6);
    ck_assert_double_eq_tol(number(j, "strip.use"), 2 * use * 60 / 104, 1e-9);
    ck_assert_double_eq_tol(number(j, "strip.beside"), edge, 1e-9); /* 44 wider, 44 more */
    ck_assert_double_eq_tol(number(j, "blank.middle.y"), -22, 1e-9);
    ck_assert_double_eq_tol(number(j, "blank.middle_2.y"), 22, 1e-9);
    /* the first hole of a pair lies at the other side in the part that is turned */
    ck_assert_double_eq_tol(number(j, "small_holes.front_2.y"), 22 + 14, 1e-9);
    ck_assert_double_eq_tol(number(j, "small_holes.front_2.turn"), acos(-1), 1e-9);
    /* what serves the strip stands once */
    bench_set(j, "pilot_holes.serves", "\"the strip\"");
    ck_assert_double_eq_tol(number(j, "pilot_holes.front.y"), -4, 1e-9);
    ck_assert_int_eq(dieset_point_count(job_dieset(j), dieset_find_item(job_dieset(j), "pilots")), 8);
    job_close(j);
}
END_TEST

/* ---- moved, swapped, put in, closed up, copied ------------------------------------------------------ */

static void say(struct job *j, const char *text)
{
    char copy[100];
    const char *words[8];
    int n = 0;
    snprintf(copy, sizeof copy, "%s", text);
    for (char *rest = NULL, *w = strtok_r(copy, " ", &rest); w; w = strtok_r(NULL, " ", &rest))
        words[n++] = w;
    ck_ok(job_station_words(j, words, n, why));
    ck_assert(job_outcome(j)->n_moves > 0); /* shown first */
    bench_take(j);
}

static void numbers_are(struct job *j, const char *text)
{
    struct base_text now = {0};
    struct dieset *d = job_dieset(j);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_has_number(d, i))
            base_text_addf(&now, "%s%s %d", now.length ? ", " : "", dieset_item_name(d, i),
                           dieset_station_number(d, i));
    base_text_addf(&now, "; %s", dieset_text(d, dieset_find_item(d, "pilots"), "stations"));
    ck_assert_str_eq(base_text_get(&now), text);
    base_text_done(&now);
}

#define BEGINS "pilot_holes 1, middle_hole 2, small_holes 2, notches 3, idle 4, dimples 5, blank 6; 2 to 5"

START_TEST(stations_by_words)
{
    static const struct { const char *words, *come;
    } cases[] = {
        {"move small_holes 4",
         "pilot_holes 1, middle_hole 2, small_holes 4, notches 3, idle 4, dimples 5, blank 6; 2 to 5"},
        {"move 2 3",
         "pilot_holes 1, middle_hole 3, small_holes 3, notches 3, idle 4, dimples 5, blank 6; 2 to 5"},
        {"swap 2 3",
         "pilot_holes 1, middle_hole 3, small_holes 3, notches 2, idle 4, dimples 5, blank 6; 2 to 5"},
        {"insert 3",
         "pilot_holes 1, middle_hole 2, small_holes 2, notches 4, idle 5, dimples 6, blank 7, idle_2 3; "
         "2, 4 to 6"},
        {"close 4", "pilot_holes 1, middle_hole 2, small_holes 2, notches 3, dimples 4, blank 5; 2 to 4"},
        {"copy small_holes 4",
         "pilot_holes 1, middle_hole 2, small_holes 2, small_holes_4 4, notches 3, idle 4, "
         "dimples 5, blank 6; 2 to 5"},
    };
    struct job *j = bench_file("data/demo/cover-plate.txt");
    char *before = job_dump(j);
    numbers_are(j, BEGINS);
    say(j, cases[_i].words);
    numbers_are(j, cases[_i].come);
    bench_same_when_fresh(j);
    ck_ok(job_undo(j, why)); /* one edit */
    char *after = job_dump(j);
    ck_assert_str_eq(after, before);
    free(before);
    free(after);
    job_close(j);
}
END_TEST

static const struct { const char *words[4]; int n; const char *says;
} refusals[] = {
    {{"move", "pilots", "3"}, 3, "pilots names the stations that it stands in: type pilots.stations."},
    {{"move", "die_plate", "3"}, 3, "die_plate works in no station."},
    {{"move", "9", "3"}, 3, "Nothing works in station 9."},
    {{"move", "4294967298", "3"}, 3, "Nothing works in station 4294967298."},
    {{"move", "blank", "0"}, 3, "A station's number is a whole one from 1 to 999."},
    {{"close", "3"}, 2, "notches works in station 3: only an idle one is taken out."},
    {{"close", "9"}, 2, "There is no station 9."},
    {{"copy", "blank", "7", "blank"}, 4, "There is a \"blank\" already: choose another name."},
    {{"number"}, 1, "The stations have their numbers."},
    {{"turn"},
     1,
     "Stations: move ITEM or NUMBER TO, swap A B, insert NUMBER, close NUMBER, copy ITEM TO [NAME], "
     "or number."},
};

START_TEST(stations_refused)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct base_diag why = {0};
    ck_assert(job_station_words(j, refusals[_i].words, refusals[_i].n, &why) != BASE_OK);
    ck_assert_str_eq(why.message, refusals[_i].says);
    ck_assert(!job_trying(j));
    job_close(j);
}
END_TEST

/* ---- jobs of before ------------------------------------------------------------------------------------ */

#define OLD "tests/job/strip-by-places.txt"

static int holes_at(struct job *j, double *sum)
{
    struct dieset *d = job_dieset(j);
    *sum = 0;
    for (int i = 0; i < dieset_hole_count(d); i++) {
        struct dieset_hole h;
        dieset_hole(d, i, DIESET_NEW, &h);
        *sum += h.x * (i % 7 + 1) + h.y * (i % 5 + 1) + h.diameter;
    }
    return dieset_hole_count(d);
}

/* The demo job as it was once told, by places along the plan: read, it is the one of today. */
START_TEST(old_text_is_told_by_number)
{
    struct job *j = bench_file(OLD), *new = bench_file("data/demo/cover-plate.txt");
    char *told = job_dump(j), *wanted = job_dump(new);
    ck_assert_str_eq(told, wanted);
    free(told);
    free(wanted);
    job_close(j);
    job_close(new);
}
END_TEST

/* A file as the program wrote it before stations had numbers. */
static void write_old(const char *path)
{
    struct dieset_text text;
    struct store *s = store_open_memory();
    BASE_VEC(struct typed_change) c = {0};
    char *file = read_text(OLD);
    ck_ok(dieset_text_read(bench_handbook, file, OLD, &text, why));
    for (size_t i = 0; i < text.items.count; i++)
        base_vec_push(&c, ((struct typed_change){TYPED_ITEM, text.items.at[i].name, "", NULL,
                                                 text.items.at[i].kind}));
    for (size_t i = 0; i < text.entries.count; i++)
        base_vec_push(&c, ((struct typed_change){TYPED_ENTRY, text.entries.at[i].item,
                                                 text.entries.at[i].path, NULL, text.entries.at[i].text}));
    ck_ok(store_take(s, "begun from " OLD, "mh", c.at, (int)c.count, why));
    ck_ok(store_copy(s, path, why));
    store_close(s);
    base_vec_done(&c);
    dieset_text_done(&text);
    free(file);
}

/* All that is found, a line each; yours to free(). */
static char *found(struct job *j)
{
    struct base_text out = {0};
    const struct finding *list;
    int n = findings_list(job_findings(j), &list);
    for (int i = 0; i < n; i++)
        base_text_addf(&out, "%s: %s\n", list[i].key, list[i].message);
    return base_text_take(&out);
}

/* What an opened job has to say is said of the job as it is shown. */
static void found_as_it_stands(struct job *j)
{
    char *opened = found(j);
    findings_judge(job_findings(j), NULL);
    char *judged = found(j);
    ck_assert_str_eq(opened, judged);
    free(opened);
    free(judged);
}

/* As it is looked at, and as it is worked at. */
START_TEST(old_file_is_told_by_number)
{
    char *path = base_format("%s/old.diejob", fresh_folder());
    struct job *j, *new = bench_file("data/demo/cover-plate.txt");
    double sum, same;
    write_old(path);
    char *wanted = job_dump(new);
    for (int look = 1; look >= 0; look--) {
        counts = (struct counts){0};
        ck_ok(job_open(bench_handbook, path, look, &j, why));
        if (look)
            ck_assert_msg(counts.judged == 1 && counts.bound == 3 && counts.tried == 1,
                          "judged %ld times, bound %ld, tried %ld", counts.judged, counts.bound,
                          counts.tried);
        found_as_it_stands(j);
        char *told = job_dump(j);
        ck_assert_str_eq(told, wanted);
        ck_assert_int_eq(holes_at(j, &sum), holes_at(new, &same));
        ck_assert_double_eq_tol(sum, same, 1e-6);
        free(told);
        const struct typed_event *events;
        ck_assert_int_eq(job_history(j, &events, 10), look ? 1 : 2);
        job_close(j);
    }
    ck_ok(job_open(bench_handbook, path, false, &j, why)); /* once */
    bench_set(j, "strip.pitch", "36 mm");
    const struct typed_event *events;
    ck_assert_int_eq(job_history(j, &events, 10), 3);
    job_close(j);
    job_close(new);
    free(wanted);
    free(path);
}
END_TEST

/* Off the pitch, freed, loose, in the plate: nothing moves, and what is left is said. */
START_TEST(odd_places_are_told_too)
{
    char *text = read_text("data/templates/spring-stripper.txt"), *at = strstr(text, "station pierce");
    ck_assert(at != NULL);
    *at = '\0';
    char *old = base_format(
        "%sstation a\n  lay one on die_plate\n    along = -30 mm\n\n"
        "station b\n  lay pair on die_plate\n    along = -30 mm + strip.pitch + 1 mm\n"
        "    apart = 20 mm\n    point front\n      x = 11 mm\n\n"
        "station c\n  lay loose on die_plate\n    many = 1\n    point p1\n      x = 50 mm\n\n"
        "lifters l\n  lay with a\n",
        text);
    struct job *j = bench_text(old);
    ck_assert_double_eq_tol(number(j, "a.middle.x"), -30, 1e-9);
    ck_assert_double_eq_tol(number(j, "b.back.x"), 9, 1e-9);
    ck_assert_double_eq_tol(number(j, "b.front.x"), 11, 1e-9);
    ck_assert_double_eq_tol(number(j, "c.p1.x"), 50, 1e-9);
    ck_assert_double_eq_tol(number(j, "a.number"), 1, 1e-9);
    ck_assert_double_eq_tol(number(j, "b.number"), 2, 1e-9);
    ck_assert_double_eq_tol(number(j, "c.number"), 3, 1e-9);
    ck_assert_double_eq_tol(number(j, "strip.first"), -30, 1e-9);
    ck_assert_double_eq_tol(number(j, "l.middle.x"), -30, 1e-9);
    ck_assert_str_eq(dieset_text(job_dieset(j), dieset_find_item(job_dieset(j), "l"), "stations"), "1");
    bench_set(j, "strip.pitch", "40 mm");
    ck_assert_double_eq_tol(number(j, "b.front.x"), 13, 1e-9);
    ck_assert_double_eq_tol(number(j, "c.p1.x"), 54, 1e-9);
    job_close(j);
    free(old);
    free(text);
}
END_TEST

TCase *station_tests(void)
{
    TCase *t = tcase_create("stations");
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(t, strip_follows_its_pitch, 0, 2 * (int)COUNT_OF(sets));
    tcase_add_test(t, feed_turns_the_order_round);
    tcase_add_test(t, feed_takes_the_middle_of_a_cut_along);
    tcase_add_test(t, pilots_stand_over_their_holes);
    tcase_add_test(t, two_parts_of_a_pitch);
    tcase_add_loop_test(t, stations_by_words, 0, 6);
    tcase_add_loop_test(t, stations_refused, 0, COUNT_OF(refusals));
    tcase_add_test(t, old_text_is_told_by_number);
    tcase_add_test(t, old_file_is_told_by_number);
    tcase_add_test(t, odd_places_are_told_too);
    return t;
}
