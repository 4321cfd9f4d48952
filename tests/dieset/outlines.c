/* Outlines of lines and arcs, on the shipped handbook: against figures of school geometry, against Steiner's
 * formula, moved, turned and mirrored, and walls against those of circles and rectangles that are no
 * outlines.
 *
 * One die set is opened a test; a station `shape` cuts what a row says at a point of its own.
 */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

static const char station[] =
    "\nstation shape\n  does = \"pierce\"\n  shape = \"outline\"\n  lay one on die_plate\n    along = 20 "
    "mm\n    across = -30 mm\n"
    "\nstation box\n  does = \"pierce\"\n  shape = \"rectangle\"\n  along = 24 mm\n  across = 10 mm\n  lay "
    "one on die_plate\n    along = 20 mm\n    across = 30 mm\n";

static void open_shape(struct bench *b)
{
    ck_ok(handbook_load("data", &b->h, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    char *text = read_text("data/demo/cover-plate.txt"), *all = base_format("%s%s", text, station);
    ck_ok(bench_load(b->d, all, why));
    bench_set(b, "strip", "pitch", "1000 mm"); /* nothing has cut before it there */
    bench_set(b, "strip", "first", "-2400 mm");
    bench_set(b, "strip", "width", "400 mm"); /* all that is cut lies in it */
    free(text);
    free(all);
}

/* LINES, parted by ";", as the outline of `shape`; what stood there before goes. */
static enum base_err draw(struct bench *b, const char *lines, struct base_diag *why)
{
    enum { MOST = 60 };
    struct typed_change changes[2 * MOST];
    char paths[MOST][24], *copy = base_copy(lines), *rest = NULL, *line = strtok_r(copy, ";", &rest);
    int was = dieset_outline_lines(b->d, dieset_find_item(b->d, "shape")), n = 0;
    for (int i = 0; i < MOST && (line || i < was); i++) {
        snprintf(paths[i], sizeof paths[i], "outline/%d", i + 1);
        changes[n++] = (struct typed_change){.what = TYPED_ENTRY,
                                             .item = "shape",
                                             .path = paths[i],
                                             .after = line ? line + strspn(line, " ") : NULL};
        line = line ? strtok_r(NULL, ";", &rest) : NULL;
    }
    enum base_err err = dieset_try(b->d, changes, n, why);
    free(copy);
    return err;
}

static void drawn(struct bench *b, const char *lines)
{
    ck_ok(draw(b, lines, why));
    dieset_keep(b->d);
}

static double of_shape(const struct bench *b, const char *property)
{
    char path[60];
    snprintf(path, sizeof path, "shape.%s", property);
    return bench_value(b, path, DIESET_NEW);
}

static struct dieset_hole opening(const struct bench *b, const char *item)
{
    struct dieset_hole h;
    ck_assert(bench_hole(b, "die_plate", item, "opening", DIESET_NEW, &h));
    return h;
}

/* ---- figures of school geometry ------------------------------------------------------------------- */

static const struct figure {
    const char *lines;
    double length, cut, area, x, y, along, across, corner;
} figures[] = {
    /* a circle of two half circles, either way round */
    {"at -10 mm, 0 mm; arc to 10 mm, 0 mm radius 10 mm left; arc to -10 mm, 0 mm radius 10 mm left", 20 * PI,
     20 * PI, 100 * PI, 0, 0, 20, 20, 10},
    {"at -10 mm, 0 mm; arc to 10 mm, 0 mm radius 10 mm right; arc to -10 mm, 0 mm radius 10 mm right",
     20 * PI, 20 * PI, 100 * PI, 0, 0, 20, 20, 10},
    /* a circle of an arc of three quarters and one of a quarter */
    {"at 10 mm, 0 mm; arc to 0 mm, -10 mm radius 10 mm left long; arc to 10 mm, 0 mm radius 10 mm left",
     20 * PI, 20 * PI, 100 * PI, 0, 0, 20, 20, 10},
    /* a half disc: the line's middle is r / (pi + 2) x 2 up, straight side and arc together */
    {"at 10 mm, 0 mm; arc to -10 mm, 0 mm radius 10 mm left", 10 * PI + 20, 10 * PI + 20, 50 * PI, 0,
     200 / (10 * PI + 20), 20, 10, 0},
    /* an obround of 30 x 10: a rectangle and a circle */
    {"at -10 mm, -5 mm; line by 20 mm, 0 mm; arc by 0 mm, 10 mm radius 5 mm left; line by -20 mm, 0 mm; arc "
     "by 0 mm, -10 mm radius 5 mm left",
     40 + 10 * PI, 40 + 10 * PI, 200 + 25 * PI, 0, 0, 30, 10, 5},
    /* a rectangle of 40 x 20 with round corners of 4 */
    {"at -16 mm, -10 mm; line to 16 mm, -10 mm; arc by 4 mm, 4 mm radius 4 mm left; line to 20 mm, 6 mm; arc "
     "by -4 mm, 4 mm radius 4 mm left;"
     "line to -16 mm, 10 mm; arc by -4 mm, -4 mm radius 4 mm left; line to -20 mm, -6 mm; arc by 4 mm, -4 mm "
     "radius 4 mm left",
     120 - 32 + 8 * PI, 120 - 32 + 8 * PI, 800 - 64 + 16 * PI, 0, 0, 40, 20, 4},
    /* a right triangle 3, 4, 5: sides' middles (2, 0), (2, 1.5), (0, 1.5) */
    {"at 0 mm, 0 mm; line to 4 mm, 0 mm; line to 0 mm, 3 mm", 12, 12, 6, 18 / 12., 12 / 12., 4, 3, 0},
    /* the same, its long side not cut: middles (2, 0) by 4 and (0, 1.5) by 3 */
    {"at 0 mm, 0 mm; line to 4 mm, 0 mm; line to 0 mm, 3 mm no cut", 12, 7, 6, 8 / 7., 4.5 / 7, 4, 3, 0},
    /* a trim along one round edge only: a half circle's middle is 2 r / pi from its chord */
    {"at 10 mm, 0 mm; arc to -10 mm, 0 mm radius 10 mm left; line to 10 mm, 0 mm no cut", 10 * PI + 20,
     10 * PI, 50 * PI, 0, 20 / PI, 20, 10, 0},
    /* an L of 20 x 20 with legs of 5; its inward corner is none for the cutter */
    {"at 0 mm, 0 mm; line to 20 mm, 0 mm; line to 20 mm, 5 mm; line to 5 mm, 5 mm; line to 5 mm, 20 mm; line "
     "to 0 mm, 20 mm",
     80, 80, 175, (200 + 100 + 15 * 12.5 + 15 * 5 + 5 * 2.5) / 80,
     (200 + 100 + 15 * 12.5 + 15 * 5 + 5 * 2.5) / 80, 20, 20, 0},
    /* a half disc with a half disc of 4 bitten out of its straight side */
    {"at 10 mm, 0 mm; arc to -10 mm, 0 mm radius 10 mm left; line to -4 mm, 0 mm; arc to 4 mm, 0 mm radius 4 "
     "mm right",
     14 * PI + 12, 14 * PI + 12, 42 * PI, 0, (200 + 32) / (14 * PI + 12), 20, 10, 0},
};

START_TEST(school_geometry_holds)
{
    const struct figure *f = &figures[_i];
    struct bench b;
    open_shape(&b);
    drawn(&b, f->lines);
    near_to(of_shape(&b, "perimeter"), f->length);
    near_to(of_shape(&b, "cut"), f->cut);
    near_to(of_shape(&b, "product_area"), f->area);
    near_to(of_shape(&b, "middle_along"), f->x);
    near_to(of_shape(&b, "middle_across"), f->y);
    near_to(of_shape(&b, "size_along"), f->along);
    near_to(of_shape(&b, "size_across"), f->across);
    near_to(of_shape(&b, "inside_corner"), f->corner);
    near_to(of_shape(&b, "outline_crossings"), 0);
    near_to(of_shape(&b, "x"), 20 + f->x);
    near_to(of_shape(&b, "plain_force"), bench_value(&b, "strip.shear", DIESET_NEW) *
                                             bench_value(&b, "strip.thickness", DIESET_NEW) * f->cut *
                                             bench_value(&b, "dull_edge", DIESET_NEW));
    struct dieset_hole h = opening(&b, "shape");
    double gap = of_shape(&b, "gap");
    ck_assert(!h.broken);
    near_to(h.right - h.left, f->along + 2 * gap);
    near_to(h.back - h.front, f->across + 2 * gap);
    bench_close(&b);
}
END_TEST

/* A regular polygon of N corners on a circle of 10, as lines. */
static char *polygon(int n)
{
    struct base_text t = {0};
    for (int i = 0; i < n; i++)
        base_text_addf(&t, "%s 10 mm * cos(%d * 360 deg / %d), 10 mm * sin(%d * 360 deg / %d)",
                       i ? "; line to" : "at", i, n, i, n);
    return base_text_take(&t);
}

START_TEST(polygons_and_their_openings_by_steiner)
{
    struct bench b;
    open_shape(&b);
    double gap = of_shape(&b, "gap");
    ck_assert_double_gt(gap, 0.01);
    for (int n = 3; n <= 12; n++) {
        char *lines = polygon(n);
        double length = 20 * n * sin(PI / n), area = 50 * n * sin(2 * PI / n);
        drawn(&b, lines);
        near_to(of_shape(&b, "perimeter"), length);
        near_to(of_shape(&b, "product_area"), area);
        near_to(of_shape(&b, "middle_along"), 0);
        near_to(of_shape(&b, "opening_length"), length + 2 * PI * gap);
        near_to(of_shape(&b, "opening_area"), area + length * gap + PI * gap * gap);
        near_to(of_shape(&b, "punch_length"), length);
        /* a blank's punch keeps its corners sharp: it is the same polygon, each side nearer to the middle by
           the gap */
        double share = 1 - gap / (10 * cos(PI / n));
        bench_set(&b, "shape", "does", "\"blank\"");
        near_to(of_shape(&b, "opening_length"), length);
        near_to(of_shape(&b, "punch_length"), length * share);
        near_to(of_shape(&b, "punch_area"), area * share * share);
        bench_set(&b, "shape", "does", "\"pierce\"");
        free(lines);
    }
    bench_close(&b);
}
END_TEST

START_TEST(a_punch_between_round_and_inward_corners)
{
    struct bench b;
    open_shape(&b);
    double gap = of_shape(&b, "gap");
    bench_set(&b, "shape", "does", "\"blank\"");
    drawn(&b, figures[5].lines); /* round corners give way as Steiner says, inwards too */
    near_to(of_shape(&b, "punch_length"), 88 + 8 * PI - 2 * PI * gap);
    near_to(of_shape(&b, "punch_area"), 736 + 16 * PI - (88 + 8 * PI) * gap + PI * gap * gap);
    /* the L: five sharp corners lose 2 gap each, the inward one gets an arc of a quarter */
    drawn(&b, figures[9].lines);
    near_to(of_shape(&b, "punch_length"), 80 - 10 * gap + PI / 2 * gap);
    near_to(of_shape(&b, "punch_area"), 175 - 80 * gap + (5 - PI / 4) * gap * gap);
    bench_set(&b, "shape", "does", "\"pierce\""); /* its opening: five arcs, and the inward corner cut back */
    near_to(of_shape(&b, "opening_length"), 80 + 5 * PI / 2 * gap - 2 * gap);
    near_to(of_shape(&b, "opening_area"), 175 + 80 * gap + (5 * PI / 4 - 1) * gap * gap);
    bench_close(&b);
}
END_TEST

/* ---- moved, turned, mirrored ------------------------------------------------------------------------ */

static const struct motion { const char *turn, *mirrored; double x, y;
} motions[] = {
    {"0 deg", "no", 0, 0},      {"30 deg", "no", 3, -7}, {"90 deg", "no", 0, 0},
    {"-135 deg", "no", -11, 2}, {"0 deg", "yes", 0, 0},  {"77 deg", "yes", 5, 5},
};

START_TEST(an_outline_keeps_its_figures_when_moved_turned_mirrored)
{
    static const char *const lines = "at 0 mm + %g mm, 0 mm + %g mm; line by 20 mm, 0 mm; arc by 5 mm, 5 mm "
                                     "radius 7 mm left; line by 1 mm, 12 mm no cut;"
                                     "arc by -14 mm, 3 mm radius 9 mm right; line by -9 mm, -5 mm";
    struct bench b;
    char text[400];
    open_shape(&b);
    snprintf(text, sizeof text, lines, 0., 0.);
    drawn(&b, text);
    double length = of_shape(&b, "perimeter"), cut = of_shape(&b, "cut"), area = of_shape(&b, "product_area");
    double mx = of_shape(&b, "middle_along"), my = of_shape(&b, "middle_across"),
           corner = of_shape(&b, "inside_corner");
    double opening_length = of_shape(&b, "opening_length");
    for (size_t i = 0; i < COUNT_OF(motions); i++) {
        const struct motion *m = &motions[i];
        double angle = atof(m->turn) * PI / 180, x = mx + m->x,
               y = (my + m->y) * (strcmp(m->mirrored, "yes") == 0 ? -1 : 1);
        snprintf(text, sizeof text, lines, m->x, m->y);
        drawn(&b, text);
        bench_set(&b, "shape", "outline_turn", m->turn);
        bench_set(&b, "shape", "outline_mirrored", m->mirrored);
        near_to(of_shape(&b, "perimeter"), length);
        near_to(of_shape(&b, "cut"), cut);
        near_to(of_shape(&b, "product_area"), area);
        near_to(of_shape(&b, "inside_corner"), corner);
        near_to(of_shape(&b, "opening_length"), opening_length);
        near_to(of_shape(&b, "middle_along"), x * cos(angle) - y * sin(angle));
        near_to(of_shape(&b, "middle_across"), x * sin(angle) + y * cos(angle));
        ck_assert(!opening(&b, "shape").broken);
    }
    bench_close(&b);
}
END_TEST

/* ---- walls -------------------------------------------------------------------------------------------- */

/* An outline that is the opening of `box`, and one that is a circle, have the walls of those. */
START_TEST(outlines_have_the_walls_of_the_shapes_they_are)
{
    struct bench b;
    open_shape(&b);
    drawn(&b, "at -12 mm, -5 mm; line by 24 mm, 0 mm; line by 0 mm, 10 mm; line by -24 mm, 0 mm");
    bench_set(&b, "shape", "does", "\"blank\"");
    bench_set(&b, "box", "does", "\"blank\"");
    struct dieset_hole box = opening(&b, "box"), outline = opening(&b, "shape");
    ck_assert_int_eq(outline.n_sides, 4);
    ck_assert_int_eq(box.n_sides, 0);
    int first, n = dieset_plate_holes(b.d, dieset_find_item(b.d, "die_plate"), &first), near = 0, cut = 0;
    outline.x = box.x, outline.y = box.y;
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(b.d, i, DIESET_NEW, &h);
        for (double turn = 0; turn < 6.2; turn += 0.31) { /* the other hole, led round */
            struct dieset_hole g = h;
            g.x = box.x + 17 * cos(turn), g.y = box.y + 11 * sin(turn);
            double wall = dieset_wall(&box, &g, NULL), by_outline = dieset_wall(&outline, &g, NULL);
            near_to(dieset_wall(&g, &outline, NULL), by_outline);
            if (wall > 0 || (!g.n_sides && g.length <= 0))
                near_to(by_outline, wall);
            else
                ck_assert_double_le(by_outline, 0);
            near += wall > 0;
            cut += wall <= 0;
        }
    }
    ck_assert_int_gt(near, 20);
    ck_assert_int_gt(cut, 20);
    bench_close(&b);
}
END_TEST

/* A place on the rim of a side, found by stepping along it. */
static void step_along(const struct shape_side *s, double share, double *x, double *y)
{
    double from = atan2(s->y0 - s->cy, s->x0 - s->cx) + s->way * share * s->sweep;
    *x = s->radius > 0 ? s->cx + s->radius * cos(from) : s->x0 + share * (s->x1 - s->x0);
    *y = s->radius > 0 ? s->cy + s->radius * sin(from) : s->y0 + share * (s->y1 - s->y0);
}

/* The least distance of the rims of two outlines, B shifted, by stepping along both. */
static double by_steps(const struct dieset_hole *a, const struct dieset_hole *b, int steps)
{
    double least = INFINITY, x, y, u, v;
    for (int i = 0; i < a->n_sides * steps; i++) {
        step_along(&a->sides[i / steps], i % steps / (double)steps, &x, &y);
        for (int k = 0; k < b->n_sides * steps; k++) {
            step_along(&b->sides[k / steps], k % steps / (double)steps, &u, &v);
            least = fmin(least, hypot(a->x + x - b->x - u, a->y + y - b->y - v));
        }
    }
    return least;
}

START_TEST(walls_between_outlines_are_the_least_distance)
{
    enum { STEPS = 150 };
    struct bench b;
    open_shape(&b);
    drawn(&b, figures[10].lines);
    struct dieset_hole a = opening(&b, "shape"), other = a;
    for (double turn = 0.1; turn < 6.2; turn += 0.8) {
        other.x = a.x + 26 * cos(turn), other.y = a.y + 26 * sin(turn);
        double wall = dieset_wall(&a, &other, NULL), stepped = by_steps(&a, &other, STEPS);
        ck_assert_double_le(wall, stepped + 1e-9);
        ck_assert_double_ge(wall, stepped - 0.05); /* half a step on either rim */
        near_to(dieset_wall(&other, &a, NULL), wall);
    }
    other.x = a.x, other.y = a.y + 1; /* one over the other */
    ck_assert_double_lt(dieset_wall(&a, &other, NULL), -0.9);
    bench_close(&b);
}
END_TEST

START_TEST(places_are_covered_or_not)
{
    struct bench b;
    open_shape(&b);
    bench_set(&b, "shape", "does", "\"blank\"");
    drawn(&b, figures[10].lines); /* the bitten half disc, from 20, -30 on */
    struct dieset_hole h = opening(&b, "shape");
    const struct { double x, y; bool covered;
    } places[] = {
        {0, 5, true},       {0, 9.99, true},     {0, 10.01, false}, {0, 4.01, true},   {0, 3.99, false},
        {0, -1, false},     {-4, 0, true},       {7, 0.01, true},   {7, -0.01, false}, {7.1, 7.1, false},
        {7.07, 7.07, true}, {-9.99, 0.01, true}, {30, 5, false},
    };
    for (size_t i = 0; i < COUNT_OF(places); i++)
        ck_assert_msg(dieset_covers(&h, h.x + places[i].x, h.y + places[i].y) == places[i].covered,
                      "place %zu", i);
    near_to(h.left, 10);
    near_to(h.back, -20);
    near_to(h.rim, fmin(fmin(h.left - bench_value(&b, "die_plate.left", DIESET_NEW),
                             bench_value(&b, "die_plate.right", DIESET_NEW) - h.right),
                        fmin(h.front - bench_value(&b, "die_plate.front", DIESET_NEW),
                             bench_value(&b, "die_plate.back", DIESET_NEW) - h.back)));
    bench_close(&b);
}
END_TEST

START_TEST(an_obround_is_a_rectangle_and_a_circle)
{
    struct bench b;
    open_shape(&b);
    bench_set(&b, "box", "shape", "\"obround\"");
    near_to(bench_value(&b, "box.cut", DIESET_NEW), 28 + 10 * PI);
    near_to(bench_value(&b, "box.product_area", DIESET_NEW), 140 + 25 * PI);
    struct dieset_hole h = opening(&b, "box"), slug;
    double gap = bench_value(&b, "box.gap", DIESET_NEW);
    near_to(h.length, 24 + 2 * gap);
    near_to(h.width, 10 + 2 * gap);
    near_to(h.corner, 5 + gap);
    ck_assert(dieset_covers(&h, h.x + 12 + gap, h.y) && !dieset_covers(&h, h.x + 11.9, h.y + 2));
    ck_assert(bench_hole(&b, "die_backing", "box", "slug", DIESET_NEW, &slug));
    near_to(slug.corner, slug.width / 2);
    /* beside a circle of 4, 20 along from its middle: 20 - 7 from the middle of its end, less both radii */
    struct dieset_hole pin = {.x = h.x + 20, .y = h.y, .diameter = 4, .high = 1};
    near_to(dieset_wall(&h, &pin, NULL), 13 - 5 - gap - 2);
    pin.y = h.y + 20, pin.x = h.x + 7 + 15;
    near_to(dieset_wall(&h, &pin, NULL), 25 - 5 - gap - 2);
    bench_set(&b, "box", "shape", "\"rectangle\""); /* round corners take the clearance too */
    bench_set(&b, "box", "corner", "2 mm");
    near_to(opening(&b, "box").corner, 2 + gap);
    bench_close(&b);
}
END_TEST

/* -- what stations do ------------------------------------------------------------------------------------ */

START_TEST(every_work_of_a_station_has_its_force_at_its_middle)
{
    static const struct { const char *does; bool cuts; int openings;
    } works[] = {
        {"pierce", true, 1}, {"blank", true, 1}, {"notch", true, 1}, {"trim", true, 1},
        {"form", false, 0},  {"bend", false, 0}, {"idle", false, 0},
    };
    struct bench b;
    open_shape(&b);
    drawn(&b, figures[8].lines); /* half round edge cut, chord not */
    bench_set(&b, "shape", "forming_force", "12 kN");
    for (size_t i = 0; i < COUNT_OF(works); i++) {
        char does[20];
        snprintf(does, sizeof does, "\"%s\"", works[i].does);
        bench_set(&b, "shape", "does", does);
        double area_middle = 40 / (3 * PI), force = of_shape(&b, "force");
        near_to(of_shape(&b, "cut"), works[i].cuts ? 10 * PI : 0);
        near_to(of_shape(&b, "y"), -30 + (works[i].cuts ? 20 / PI : area_middle));
        near_to(force, works[i].cuts                        ? of_shape(&b, "plain_force")
                       : strcmp(works[i].does, "idle") == 0 ? 0
                                                            : 12000);
        ck_assert_int_eq(bench_count_holes(&b, "die_plate", "shape", "opening"), works[i].openings);
    }
    bench_close(&b);
}
END_TEST

/* ---- flaws and refusals -------------------------------------------------------------------------------- */

static const struct { const char *lines, *flaw;
} flaws[] = {
    {"at 0 mm, 0 mm; line to 10 mm, 0 mm; line to 10 mm, 10 mm", ""},
    {"at 0 mm, 0 mm", "encloses nothing"},
    {"at 0 mm, 0 mm; line to 10 mm, 0 mm", "encloses nothing"},
    {"at 0 mm, 0 mm; line to 10 mm, 0 mm; line to 5 mm, 0 mm", "encloses nothing"},
    {"at 0 mm, 0 mm; arc to 10 mm, 0 mm radius 4.9 mm left", "arc of line 2 cannot reach"},
    {"at 0 mm, 0 mm; line to 10 mm, 0 mm; arc to 10 mm, 0 mm radius 4 mm left", "arc of line 3 cannot reach"},
    {"at 0 mm, 0 mm; line to 10 mm, 10 mm; line to 10 mm, 0 mm; line to 0 mm, 4 mm",
     "crosses or touches itself at 2.857 mm, 2.857 mm"},
    {"at 0 mm, 0 mm; line to 10 mm, 0 mm; line to 10 mm, 10 mm; line to 5 mm, 0 mm; line to 0 mm, 10 mm",
     "touches itself at 5.0 mm, 0.0 mm"},
    /* dips to the front side */
    {"at 0 mm, 0 mm; line to 20 mm, 0 mm; line to 20 mm, 10 mm; arc to 0 mm, 10 mm radius 10 mm right",
     "touches itself at 10.0 mm, 0.0 mm"},
    /* a neck of 0.1 that the gap closes */
    {"at 0 mm, 0 mm; line to 20 mm, 0 mm; line to 20 mm, 10.1 mm; arc to 0 mm, 10.1 mm radius 10 mm right",
     "leaves nothing of a narrow place"},
};

START_TEST(a_flaw_is_told_in_one_sentence)
{
    struct bench b;
    open_shape(&b);
    bench_set(&b, "shape", "does", "\"blank\"");
    int item = dieset_find_item(b.d, "shape");
    for (size_t i = 0; i < COUNT_OF(flaws); i++) {
        struct base_text out = {0};
        ck_ok(draw(&b, flaws[i].lines, why));
        bool is = dieset_outline_flaw(b.d, item, &out);
        ck_assert_msg(is == (*flaws[i].flaw != '\0') && strstr(base_text_get(&out), flaws[i].flaw),
                      "%s: \"%s\"", flaws[i].lines, base_text_get(&out));
        /* the last one's opening can be made, its punch cannot */
        ck_assert(is == opening(&b, "shape").broken || i + 1 == COUNT_OF(flaws));
        base_text_done(&out);
        dieset_drop(b.d);
    }
    bench_close(&b);
}
END_TEST

static const struct { const char *lines, *says; int start;
} wrong[] = {
    {"line to 0 mm, 0 mm", "shape.outline.1: an outline begins with the place where it starts", -1},
    {"at 0 mm, 0 mm; at 1 mm, 1 mm", "shape.outline.2: only the first line of an outline is \"at\"", -1},
    {"at 0 mm", "shape.outline.1: Two coordinates are wanted", 3},
    {"at 0 mm,", "shape.outline.1: The coordinate across the feed is missing", 8},
    {"at , 0 mm", "shape.outline.1: The coordinate along the feed is missing", 3},
    {"at 0 mm, 0 mm; lines to 1 mm, 1 mm", "shape.outline.2: A line of an outline begins with", 0},
    {"at 0 mm, 0 mm; line 1 mm, 1 mm", "shape.outline.2: Say where it goes", 0},
    {"at 0 mm, 0 mm; arc to 1 mm, 1 mm radius 2 mm", "shape.outline.2: An arc says to which side it turns",
     -1},
    {"at 0 mm, 0 mm; arc to 1 mm, 1 mm left", "shape.outline.2: An arc has a radius", -1},
    {"at 0 mm, 0 mm; arc to 1 mm, 1 mm radius left", "shape.outline.2: An arc has a radius", -1},
    {"at 0 mm, 0 mm; line to 1 mm + 2 s, 1 mm", "shape.outline.2.at_x: ", -1},
    {"at 0 mm, 0 mm; line to 1, 1 mm", "shape.outline.2.at_x: a length is wanted: write 1 mm", -1},
    {"at 0 mm, 0 mm; line by box.length, 1 mm", "shape.outline.2.by_x: ", -1},
    {"at 0 mm, 0 mm; line by cut, 1 mm", "it would hang on itself", -1},
};

START_TEST(a_line_that_is_none_is_refused_with_its_place)
{
    struct bench b;
    struct base_diag why = {0};
    open_shape(&b);
    drawn(&b, figures[6].lines);
    for (size_t i = 0; i < COUNT_OF(wrong); i++) {
        why = (struct base_diag){0};
        ck_assert_int_ne(draw(&b, wrong[i].lines, &why), BASE_OK);
        ck_assert_msg(strstr(why.message, wrong[i].says), "%s: %s", wrong[i].lines, why.message);
        if (wrong[i].start >= 0)
            ck_assert_int_eq(why.start, wrong[i].start);
    }
    near_to(of_shape(&b, "cut"), 12); /* all as before */
    ck_assert_int_ne(bench_try(&b, "shape", "outline/9", "line to 1 mm, 1 mm", &why), BASE_OK);
    ck_assert_str_eq(why.message,
                     "shape.outline: its lines are counted from 1 without a gap; line 4 is missing.");
    ck_assert_int_ne(bench_try(&b, "die_plate", "outline/1", "at 1 mm, 1 mm", &why), BASE_OK);
    bench_close(&b);
}
END_TEST

/* What a line's formulas hang on moves the outline without binding anew. */
START_TEST(a_line_follows_the_values_it_names)
{
    struct bench b;
    open_shape(&b);
    drawn(&b, "at 0 mm, 0 mm; line to along, 0 mm; line by 0 mm, max(across, 2 * strip.thickness); line by "
              "-along, 0 mm");
    bench_set(&b, "shape", "along", "30 mm");
    bench_set(&b, "shape", "across", "10 mm");
    near_to(of_shape(&b, "cut"), 80);
    long binding = dieset_binding(b.d);
    ck_ok(bench_try(&b, "shape", "along", "40 mm", why));
    ck_assert_int_eq(dieset_binding(b.d), binding);
    near_to(of_shape(&b, "cut"), 100);
    near_to(of_shape(&b, "opening_length"), 100 + 2 * PI * of_shape(&b, "gap"));
    struct dieset_hole h = opening(&b, "shape");
    near_to(h.right - h.left, 40 + 2 * of_shape(&b, "gap"));
    dieset_drop(b.d);
    near_to(of_shape(&b, "opening_length"), 80 + 2 * PI * of_shape(&b, "gap"));
    near_to(opening(&b, "shape").right - opening(&b, "shape").left, 30 + 2 * of_shape(&b, "gap"));
    bench_close(&b);
}
END_TEST

TCase *outline_tests(void)
{
    TCase *t = tcase_create("outlines");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, school_geometry_holds, 0, COUNT_OF(figures));
    tcase_add_test(t, polygons_and_their_openings_by_steiner);
    tcase_add_test(t, a_punch_between_round_and_inward_corners);
    tcase_add_test(t, an_outline_keeps_its_figures_when_moved_turned_mirrored);
    tcase_add_test(t, outlines_have_the_walls_of_the_shapes_they_are);
    tcase_add_test(t, walls_between_outlines_are_the_least_distance);
    tcase_add_test(t, places_are_covered_or_not);
    tcase_add_test(t, an_obround_is_a_rectangle_and_a_circle);
    tcase_add_test(t, every_work_of_a_station_has_its_force_at_its_middle);
    tcase_add_test(t, a_flaw_is_told_in_one_sentence);
    tcase_add_test(t, a_line_that_is_none_is_refused_with_its_place);
    tcase_add_test(t, a_line_follows_the_values_it_names);
    return t;
}
