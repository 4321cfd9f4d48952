/* Tests of the tests: a file that was spoilt in one place is found wrong. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* TEXT with the first WAS behind FROM, a text of it, put another way; yours to free(). */
static char *spoilt(const char *text, const char *from, const char *was, const char *is)
{
    const char *at = strstr(text, from);
    ck_assert_msg(at != NULL, "there is no %s", from);
    at = strstr(at, was);
    ck_assert_msg(at != NULL, "there is no %s", was);
    return base_format("%.*s%s%s", (int)(at - text), text, is, at + strlen(was));
}

static void must_notice(struct bed *b, char *text, const char *what)
{
    struct base_text wrong = {0};
    judge_plate(b->d, dieset_find_item(b->d, "die_plate"), DIESET_NEW, text, &wrong);
    ck_assert_msg(wrong.length > 0, "nobody notices that %s", what);
    base_text_done(&wrong);
    free(text);
}

/* The place that the first record of KIND refers to first, moved by BY along x. */
static char *moved(const char *text, const char *kind, double by)
{
    char *at = strstr(text, kind);
    ck_assert_ptr_nonnull(at);
    at = strchr(at, '#');
    char *point = base_format("\n%.*s=CARTESIAN_POINT('',(", (int)strcspn(at, ",)"), at);
    const char *line = strstr(text, point);
    ck_assert_msg(line != NULL, "there is no %s", point + 1);
    line += strlen(point);
    char *out = base_format("%.*s%.10f%s", (int)(line - text), text, strtod(line, NULL) + by,
                            line + strcspn(line, ","));
    free(point);
    return out;
}

/* The shell without its last face. */
static char *without_face(const char *text)
{
    const char *at = strstr(text, "CLOSED_SHELL(");
    ck_assert_ptr_nonnull(at);
    const char *end = strstr(at, "));"), *last = end;
    while (*last != ',')
        last--;
    return base_format("%.*s%s", (int)(last - text), text, end);
}

/* All of one hole moved by BY along x: each place whose x is that of its axis, or of its seam. */
static char *hole_moved(const char *text, double x, double y, double radius, double by)
{
    struct base_text out = {0};
    const char *t = text;
    for (const char *at; (at = strstr(t, "CARTESIAN_POINT('',("));) {
        double px, py, pz;
        int n = 0;
        at += strlen("CARTESIAN_POINT('',(");
        base_text_add_n(&out, t, (size_t)(at - t));
        t = at;
        bool is = sscanf(at, "%lf,%lf,%lf%n", &px, &py, &pz, &n) == 3 && py > y - 1e-6 && py < y + 1e-6 &&
                  px > x - 1e-6 && px < x + radius + 1e-6;
        if (is) {
            base_text_addf(&out, "%.10f,%.10f,%.10f", px + by, py, pz);
            t = at + n;
        }
    }
    base_text_add(&out, t);
    return base_text_take(&out);
}

START_TEST(spoilt_files_are_noticed)
{
    struct bed b;
    bed_open(&b, "data/demo/cover-plate.txt");
    char *text = plate_text(b.d, "die_plate", DIESET_NEW);
    struct base_text wrong = {0};
    judge_plate(b.d, dieset_find_item(b.d, "die_plate"), DIESET_NEW, text, &wrong);
    ck_assert_str_eq(base_text_get(&wrong), "");
    must_notice(&b, spoilt(text, "ADVANCED_FACE('die_screws", ",.F.)", ",.T.)"), "a hole's face is flipped");
    must_notice(&b, spoilt(text, "ADVANCED_FACE('top'", ",.T.)", ",.F.)"), "the top is flipped");
    must_notice(&b, spoilt(text, "ORIENTED_EDGE", ".T.)", ".F.)"), "an edge is turned round");
    must_notice(&b, spoilt(text, "FACE_OUTER_BOUND", "FACE_OUTER_BOUND", "FACE_BOUND"),
                "no bound is the outer one");
    must_notice(&b, moved(text, "AXIS2_PLACEMENT_3D", 0.01), "an axis is moved");
    must_notice(&b, moved(text, "VERTEX_POINT", 0.01), "a corner is moved");
    must_notice(&b, spoilt(text, "CYLINDRICAL_SURFACE", ".", ".01"), "a radius is another");
    must_notice(&b, without_face(text), "a face is left out");
    free(text);
    base_text_done(&wrong);
    bed_close(&b);
}
END_TEST

/* A file of the plate as it was before its dowels were put in: sound, and yet not this plate's. */
START_TEST(lost_holes_are_noticed)
{
    struct bed b;
    const struct typed_change out = {.what = TYPED_ITEM, .item = "die_dowels", .before = "dowels"};
    bed_open(&b, "data/demo/cover-plate.txt");
    ck_ok(dieset_try(b.d, &out, 1, why));
    char *text = plate_text(b.d, "die_plate", DIESET_NEW);
    dieset_drop(b.d);
    must_notice(&b, text, "the dowels' holes are lost");
    bed_close(&b);
}
END_TEST

/* A hole that is a hundredth off, whole and closed as it is. */
START_TEST(other_holes_are_noticed)
{
    struct bed b;
    int first;
    bed_open(&b, "data/demo/cover-plate.txt");
    int plate = dieset_find_item(b.d, "die_plate"), n = dieset_plate_holes(b.d, plate, &first);
    char *text = plate_text(b.d, "die_plate", DIESET_NEW);
    struct dieset_plate p = dieset_plate(b.d, plate, DIESET_NEW);
    int tried = 0;
    for (int i = 0; i < n; i++) {
        struct dieset_hole h;
        dieset_hole(b.d, first + i, DIESET_NEW, &h);
        if (h.n_sides || h.length > 0)
            continue;
        must_notice(&b, hole_moved(text, h.x - p.left, h.y - p.front, h.diameter / 2, 0.01),
                    "a hole is moved");
        tried++;
    }
    ck_assert_int_gt(tried, 10);
    free(text);
    bed_close(&b);
}
END_TEST

TCase *mutation_tests(void)
{
    TCase *t = tcase_create("mutations");
    tcase_set_timeout(t, 600);
    tcase_add_test(t, spoilt_files_are_noticed);
    tcase_add_test(t, lost_holes_are_noticed);
    tcase_add_test(t, other_holes_are_noticed);
    return t;
}
