/* Curves for wire and laser: each path read back, its area held against the hole that it is of. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
static const struct solid_head head = {"A <set> & more", "not issued", NULL, ""};

/* What stands in a path's data: the area inside, y upwards again; the box round its ends. */
struct curve { double area, left, right, front, back; int arcs, lines; char name[200]; };

/* An arc of SVG: ends, radius and two flags (the picture's own way of telling its middle: SVG 1.1, F.6.5). */
static double arc_area(double x0, double y0, double x1, double y1, double r, int large, int sweep)
{
    double chord = hypot(x1 - x0, y1 - y0), half = asin(fmin(1, chord / 2 / r)), turn = 2 * half;
    if (large)
        turn = 2 * pi - turn;
    return (sweep ? 1 : -1) * r * r * (turn - sin(turn)) / 2;
}

static const char *read_curve(const char *d, struct curve *c)
{
    double x = 0, y = 0, x0 = 0, y0 = 0, r, s;
    int n = 0, large, sweep;
    *c = (struct curve){.left = INFINITY, .right = -INFINITY, .front = INFINITY, .back = -INFINITY};
    ck_assert_int_eq(sscanf(d, "M%lf %lf%n", &x0, &y0, &n), 2);
    x = x0, y = y0;
    for (d += n; *d != 'Z'; d += n) {
        double u, v;
        if (sscanf(d, "A%lf %lf 0 %d %d %lf %lf%n", &r, &s, &large, &sweep, &u, &v, &n) == 6) {
            ck_assert_double_eq(r, s);
            c->area += arc_area(x, y, u, v, r, large, sweep);
            c->arcs++;
        } else {
            ck_assert_int_eq(sscanf(d, "L%lf %lf%n", &u, &v, &n), 2);
            c->lines++;
        }
        c->area += (x * v - u * y) / 2;
        x = u, y = v;
        c->left = fmin(c->left, x), c->right = fmax(c->right, x);
        c->front = fmin(c->front, y), c->back = fmax(c->back, y);
    }
    c->area = -(c->area + (x * y0 - x0 * y) / 2); /* y counts downwards there */
    const char *name = strstr(d, "<title>") + strlen("<title>");
    snprintf(c->name, sizeof c->name, "%.*s", (int)(strstr(name, "</title>") - name), name);
    return d;
}

static double least_area(const struct dieset_hole *h)
{
    return !h->n_sides && !(h->length > 0) ? pi * h->diameter * h->diameter / 4
           : h->length > 0 ? h->length * h->width - (4 - pi) * h->corner * h->corner
                           : fabs(shape_area(h->sides, h->n_sides));
}

/* The areas of what goes right through PLATE, the wider of two in one another left out. */
static double through_area(struct dieset *d, int plate)
{
    int first, n = dieset_plate_holes(d, plate, &first);
    double area = 0;
    for (int i = 0; i < n; i++) {
        struct dieset_hole h, other;
        dieset_hole(d, first + i, DIESET_NEW, &h);
        bool counts = h.through && h.start < 1e-9 && !h.spec->open;
        for (int k = 0; k < n && counts; k++) {
            dieset_hole(d, first + k, DIESET_NEW, &other);
            counts = k == i || !other.through || other.start > 1e-9 || other.spec->open ||
                     !dieset_covers(&other, h.x, h.y) || other.diameter < h.diameter;
        }
        area += counts ? least_area(&h) : 0;
    }
    return area;
}

/* Is there a hole that reaches as far to the left and to the right, and whose middle is as far from the
   front? */
static bool has_hole(struct dieset *d, int plate, const struct curve *c)
{
    struct dieset_plate p = dieset_plate(d, plate, DIESET_NEW);
    int first, n = dieset_plate_holes(d, plate, &first);
    for (int i = 0; i < n; i++) {
        struct dieset_hole h;
        dieset_hole(d, first + i, DIESET_NEW, &h);
        if (fabs(h.left - p.left - c->left) + fabs(h.right - p.left - c->right) < 1e-6 &&
            fabs(p.width - h.y + p.front - c->front) < 1e-6)
            return true;
    }
    return false;
}

/* The first path is the rim, which goes round the other way than the openings do in their plate. */
static void try_plate(struct dieset *d, const char *plate)
{
    struct base_text out = {0};
    struct curve c;
    int item = dieset_find_item(d, plate);
    struct dieset_plate p = dieset_plate(d, item, DIESET_NEW);
    ck_ok(solid_curves(d, item, DIESET_NEW, &head, &out, why));
    const char *at = strstr(base_text_get(&out), "<path d=\"");
    at = read_curve(at + strlen("<path d=\""), &c);
    ck_assert_str_eq(c.name, plate);
    ck_assert_double_le(c.area, p.length * p.width + 1e-6);
    ck_assert_double_eq_tol(c.left, 0, 1e-9);
    ck_assert_double_eq_tol(c.back, p.width, 1e-9);
    double area = 0;
    while ((at = strstr(at, "<path d=\""))) {
        at = read_curve(at + strlen("<path d=\""), &c);
        ck_assert_msg(c.area > 0 && c.left > 0 && c.right < p.length && c.front > 0 && c.back < p.width,
                      "%s: %s", plate, c.name);
        area += c.area;
        ck_assert_msg(c.arcs != 2 || c.lines || has_hole(d, item, &c), "%s: %s", plate, c.name);
    }
    ck_assert_double_eq_tol(area, through_area(d, item), 1e-3); /* half circles, by the root of their chord */
    ck_assert_ptr_nonnull(strstr(base_text_get(&out), "A &lt;set&gt; &amp; more"));
    base_text_done(&out);
}

START_TEST(curves_have_the_areas_of_their_holes)
{
    struct bed b;
    struct dieset_layer layers[64];
    bed_open_more(&b, "tests/designs/bases/spring.txt", _i ? "tests/solid/jobs/openings.txt" : NULL);
    int n = dieset_stack(b.d, DIESET_NEW, layers, 64);
    for (int i = 0; i < n; i++)
        try_plate(b.d, dieset_item_name(b.d, layers[i].plate));
    bed_close(&b);
}
END_TEST

/* The areas of slots that are open are off the rim; a T-slot does not go through and is not. */
START_TEST(open_slots_are_in_the_rim)
{
    struct bed b;
    struct base_text out = {0};
    struct curve c;
    bed_open_more(&b, "tests/designs/bases/spring.txt", "tests/solid/jobs/openings.txt");
    static const char *const shoes[] = {"upper_shoe", "lower_shoe"};
    for (int i = 0; i < 2; i++) {
        int item = dieset_find_item(b.d, shoes[i]), first, n = dieset_plate_holes(b.d, item, &first);
        struct dieset_plate p = dieset_plate(b.d, item, DIESET_NEW);
        double area = p.length * p.width;
        for (int k = 0; k < n; k++) {
            struct dieset_hole h;
            dieset_hole(b.d, first + k, DIESET_NEW, &h);
            area -= h.spec->open && h.through ? least_area(&h) - pi * h.corner * h.corner / 2 : 0;
        }
        base_text_clear(&out);
        ck_ok(solid_curves(b.d, item, DIESET_NEW, &head, &out, why));
        read_curve(strstr(base_text_get(&out), "<path d=\"") + strlen("<path d=\""), &c);
        ck_assert_double_eq_tol(c.area, area, 1e-5);
        ck_assert_int_eq(c.arcs, i ? 0 : 4);
    }
    base_text_done(&out);
    bed_close(&b);
}
END_TEST

TCase *curve_tests(void)
{
    TCase *t = tcase_create("curves");
    tcase_set_timeout(t, 600);
    tcase_add_loop_test(t, curves_have_the_areas_of_their_holes, 0, 2);
    tcase_add_test(t, open_slots_are_in_the_rim);
    return t;
}
