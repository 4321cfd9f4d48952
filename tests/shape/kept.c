/* Outlines drawn at random, against figures that a general-purpose geometry library reckoned:
 * tests/shape/judge.py makes tests/shape/kept.txt with shapely of Debian (python3-shapely, over GEOS) and
 * tells what a line means. `make check` needs the kept file alone; `make check-long` reckons it anew.
 */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 20 };

struct outline { struct shape_side sides[MOST]; int n, wanted; };

static void check_offset(const struct outline *o, const double *f)
{
    struct shape_side out[2 * MOST];
    int n = shape_offset(o->sides, o->n, f[0], out);
    ck_assert_int_gt(n, 0);
    ck_assert_double_eq_tol(shape_length(out, n), f[1], f[3]);
    ck_assert_double_eq_tol(shape_area(out, n), f[2], f[3]);
}

static void check_box(const struct outline *o, const double *f)
{
    struct shape_box b = shape_box(o->sides, o->n);
    ck_assert_double_eq_tol(b.left, f[0], f[4]);
    ck_assert_double_eq_tol(b.right, f[1], f[4]);
    ck_assert_double_eq_tol(b.front, f[2], f[4]);
    ck_assert_double_eq_tol(b.back, f[3], f[4]);
}

/* What NOW takes of a strip from -20 to 20 after the other one, shifted. */
static void check_taken(const struct outline *now, const struct outline *before, const double *f)
{
    struct shape_side strip[4], other[MOST];
    shape_rims rims = {0};
    shape_rectangle(200, 20, 0, strip);
    memcpy(other, before->sides, sizeof other);
    shape_shift(other, before->n, f[0], f[1]);
    const struct shape_part parts[] = {
        {strip, 4, false}, {other, before->n, true}, {now->sides, now->n, false}};
    shape_common(parts, 3, &rims);
    ck_assert_double_eq_tol(shape_rims_cut(&rims, 2).length, f[2], f[4]);
    ck_assert_double_eq_tol(shape_rims_area(&rims, -1), f[3], f[4]);
    shape_loops(&rims);
    ck_assert_double_eq_tol(shape_rims_area(&rims, -1), f[3], f[4]);
    base_vec_done(&rims);
}

/* One line of the file; *NOW is the outline it tells of, *BEFORE the one before. */
static void check_line(const char *word, const double *f, struct outline *now, struct outline *before)
{
    int first, second;
    if (strcmp(word, "outline") == 0) {
        *before = *now;
        *now = (struct outline){.wanted = (int)f[0]};
        ck_assert_int_lt(now->wanted, MOST);
    } else if (strcmp(word, "line") == 0) {
        now->sides[now->n++] = shape_straight(f[0], f[1], f[2], f[3]);
    } else if (strcmp(word, "arc") == 0) {
        ck_assert(shape_arc(f[0], f[1], f[2], f[3], f[4], (int)f[5], false, &now->sides[now->n++]));
    } else if (strcmp(word, "length") == 0) {
        ck_assert_int_eq(now->n, now->wanted);
        ck_assert_int_eq(shape_crossings(now->sides, now->n, &first, &second), 0);
        ck_assert_double_eq_tol(shape_length(now->sides, now->n), f[0], f[1]);
    } else if (strcmp(word, "area") == 0) {
        ck_assert_double_eq_tol(shape_area(now->sides, now->n), f[0], f[1]);
    } else if (strcmp(word, "box") == 0) {
        check_box(now, f);
    } else if (strcmp(word, "offset") == 0) {
        check_offset(now, f);
    } else if (strcmp(word, "place") == 0) {
        ck_assert_int_eq(shape_inside(now->sides, now->n, f[0], f[1]), (int)f[2]);
        ck_assert_double_eq_tol(shape_from(now->sides, now->n, f[0], f[1]), f[3], f[4]);
    } else if (strcmp(word, "taken") == 0) {
        check_taken(now, before, f);
    } else {
        ck_assert_str_eq(word, "apart");
        ck_assert_double_eq_tol(shape_apart(now->sides, now->n, before->sides, before->n, f[0], f[1]), f[2],
                                f[3]);
    }
}

START_TEST(outlines_are_as_another_library_reckons_them)
{
    char *text = read_text("tests/shape/kept.txt"), *rest = NULL;
    struct outline now = {.n = 0}, before = {.n = 0};
    int lines = 0, number = 0;
    for (char *l = strtok_r(text, "\n", &rest); l; l = strtok_r(NULL, "\n", &rest)) {
        char word[20];
        double f[6] = {0};
        number++;
        if (l[0] == '#')
            continue;
        int n = sscanf(l, "%19s %lf %lf %lf %lf %lf %lf", word, &f[0], &f[1], &f[2], &f[3], &f[4], &f[5]);
        ck_assert_msg(n >= 2, "kept.txt:%d: %s", number, l);
        mark_point();
        check_line(word, f, &now, &before);
        lines++;
    }
    ck_assert_int_gt(lines, 1000);
    free(text);
}
END_TEST

TCase *kept_tests(void)
{
    TCase *t = tcase_create("kept");
    tcase_add_test(t, outlines_are_as_another_library_reckons_them);
    return t;
}
