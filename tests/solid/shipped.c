/* Every plate of every job that is shipped, and of the bases of the designs: read back, and held against the
   job. */

#include "suites.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const files[] = {
    "data/demo/cover-plate.txt",
    "data/demo/spacer-plate.txt",
    "data/templates/spring-stripper.txt",
    "data/templates/spring-stripper-inch.txt",
    "data/templates/fixed-stripper.txt",
    "tests/designs/bases/spring.txt",
    "tests/designs/bases/inch.txt",
    "tests/designs/bases/fixed.txt",
    "tests/designs/bases/one.txt",
    "tests/designs/bases/strip.txt",
    "tests/findings/base.txt",
    "tests/every-kind.txt",
};

static const struct solid_head head = {"A set of the tests", "not issued", "2 faults are open", ""};

/* Where a plate is refused a rule calls what is named there a fault; all others are right. */
static void try_plate(struct dieset *d, int plate, enum dieset_state s, const char *file, int *refused)
{
    struct base_text out = {0}, wrong = {0};
    struct base_diag why = {0};
    enum base_err err = solid_plate(d, plate, s, &head, &out, &why);
    if (err) {
        ++*refused;
        ck_assert_int_eq(err, BASE_REFUSED);
        ck_assert_ptr_nonnull(strstr(why.message, dieset_item_name(d, plate)));
        ck_assert_uint_eq(out.length, 0);
    } else {
        judge_plate(d, plate, s, base_text_get(&out), &wrong);
        ck_assert_msg(!wrong.length, "%s, %s: %s", file, dieset_item_name(d, plate), base_text_get(&wrong));
    }
    base_text_done(&out);
    base_text_done(&wrong);
}

static int try_plates(const struct bed *b, const char *file)
{
    struct dieset_layer layers[64];
    int refused = 0;
    for (int s = 0; s < DIESET_STATES; s++) {
        int n = dieset_stack(b->d, (enum dieset_state)s, layers, 64);
        for (int i = 0; i < n; i++)
            try_plate(b->d, layers[i].plate, (enum dieset_state)s, file, &refused);
    }
    return refused;
}

START_TEST(each_plate_is_a_solid)
{
    struct bed b;
    bed_open(&b, files[_i]);
    int refused = try_plates(&b, files[_i]);
    bool faulty = strstr(files[_i], "spacer-plate") || strstr(files[_i], "every-kind");
    ck_assert_msg(faulty ? refused > 0 : refused == 0, "%s: %d plates are refused", files[_i], refused);
    bed_close(&b);
}
END_TEST

static const char more[] = "tests/solid/jobs/openings.txt";

/* Slots open at two sorts of edges, a T-slot, holes from both faces, on one axis and beside it in one
 * another, a tip that comes out below, an outline whose corners are sharp and whose arcs bulge both ways,
 * with relief. */
START_TEST(openings_of_every_sort)
{
    struct bed b;
    bed_open_more(&b, "tests/designs/bases/spring.txt", more);
    ck_assert_int_eq(try_plates(&b, more), 0);
    bed_close(&b);
}
END_TEST

/* An outline's relief leans by up to ten degrees, and is as exact: corners between arcs are conics. */
START_TEST(relief_that_leans_far)
{
    struct bed b;
    const struct typed_change lean[] = {
        {.what = TYPED_ENTRY, .item = "stack", .path = "relief", .after = "6 deg"}};
    bed_open_more(&b, "tests/designs/bases/spring.txt", more);
    ck_ok(dieset_try(b.d, lean, 1, why));
    ck_assert_int_eq(try_plates(&b, more), 0);
    char *text = plate_text(b.d, "die_plate", DIESET_NEW);
    ck_assert_ptr_nonnull(strstr(text, "RATIONAL_B_SPLINE_CURVE"));
    ck_assert_ptr_nonnull(strstr(text, "CONICAL_SURFACE"));
    free(text);
    dieset_drop(b.d);
    bed_close(&b);
}
END_TEST

/* ---- the set --------------------------------------------------------------------------------- */

/* The occurrence NAME: its record; the place it has in its parent. */
static int occurrence(const struct step_file *f, const char *name)
{
    for (int at = 0; (at = step_next(f, "NEXT_ASSEMBLY_USAGE_OCCURRENCE", at));)
        if (strcmp(step_text_at(f, at, 1), name) == 0)
            return at;
    ck_abort_msg("nothing called %s stands in the set", name);
    return 0;
}

static double height_of(const struct step_file *f, const char *name, struct vec *place)
{
    int use = occurrence(f, name), at = 0, shape = 0, found = 0;
    while ((shape = step_next(f, "PRODUCT_DEFINITION_SHAPE", shape)) && step_reference(f, shape, 0) != use)
        ;
    while ((at = step_next(f, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", at)))
        if (step_reference(f, at, 1) == shape)
            found = step_reference(f, at, 0);
    ck_assert_int_gt(found, 0);
    int moved = step_reference(f, found, 2);
    ck_assert(step_is(f, moved, "ITEM_DEFINED_TRANSFORMATION"));
    *place = step_point(f, step_reference(f, step_reference(f, moved, 1), 0));
    return place->z;
}

/* Each body that is known stands in the file, its lower end as high as the die set has it there. */
static void parts_stand(struct bed *b, const struct step_file *f, double ram, double upper, double lower)
{
    int found = 0;
    for (int i = 0; i < dieset_body_count(b->d); i++) {
        struct dieset_body x;
        struct vec place;
        dieset_body_raised(b->d, i, DIESET_NEW, ram, &x);
        if (!x.known || !(x.high - x.low > 1e-6) || x.plan.point > 0 || x.plan.index > 0)
            continue;
        bool bed = dieset_plate(b->d, x.plan.plate, DIESET_NEW).moves == DIESET_MOVES_BED;
        char *name = base_format("%s %s:1", dieset_item_name(b->d, x.plan.item), x.plan.operation);
        double z = (bed ? lower : upper) + height_of(f, name, &place);
        if (fabs(place.x - x.plan.x) + fabs(place.y - x.plan.y) + fabs(z - x.low) < 1e-9)
            found++;
        free(name);
    }
    ck_assert_int_gt(found, 10);
}

START_TEST(halves_part_as_the_ram_rises)
{
    struct bed b;
    static const double rams[] = {0, 12.5, 80};
    bed_open(&b, "data/demo/cover-plate.txt");
    for (size_t r = 0; r < COUNT_OF(rams); r++) {
        struct base_text out = {0};
        struct step_file f;
        struct vec place;
        ck_ok(solid_set(b.d, DIESET_NEW, rams[r], &head, &out, why));
        step_read(&f, base_text_get(&out));
        ck_assert_msg(!f.wrong, "%s", f.wrong);
        double upper = height_of(&f, "upper half", &place), lower = height_of(&f, "lower half", &place);
        ck_assert_double_eq_tol(upper, rams[r], 1e-12);
        ck_assert_double_eq_tol(lower, 0, 1e-12);
        struct dieset_layer layers[64];
        int n = dieset_stack(b.d, DIESET_NEW, layers, 64), shells = 0;
        for (int i = 0; i < n; i++) {
            struct dieset_plate p = dieset_plate(b.d, layers[i].plate, DIESET_NEW);
            double half = p.moves == DIESET_MOVES_BED ? lower : upper;
            double z = half + height_of(&f, dieset_item_name(b.d, layers[i].plate), &place);
            double rise = dieset_rise(b.d, layers[i].plate, DIESET_NEW, rams[r]);
            ck_assert_double_eq_tol(z, p.bottom + rise, 1e-9);
            ck_assert_double_eq_tol(place.x, p.left, 1e-9);
            ck_assert_double_eq_tol(place.y, p.front, 1e-9);
        }
        for (int at = 0; (at = step_next(&f, "CLOSED_SHELL", at)); shells++) {
            struct judged j;
            if (r > 0) /* the same shells, placed elsewhere */
                continue;
            judge_shell(&f, at, &j);
            ck_assert_str_eq(j.wrong, "");
        }
        ck_assert_int_gt(shells, n); /* parts alike share one */
        parts_stand(&b, &f, rams[r], upper, lower);
        step_done(&f);
        base_text_done(&out);
    }
    bed_close(&b);
}
END_TEST

START_TEST(same_bytes_and_the_revisions_day)
{
    struct bed b;
    bed_open(&b, "data/demo/cover-plate.txt");
    char *one = plate_text(b.d, "die_plate", DIESET_NEW), *two = plate_text(b.d, "die_plate", DIESET_NEW);
    ck_assert_str_eq(one, two);
    ck_assert_ptr_nonnull(strstr(one, "FILE_NAME('A set of the tests','2031-05-17',"));
    ck_assert_ptr_nonnull(strstr(one, "FILE_SCHEMA(('AUTOMOTIVE_DESIGN"));
    free(one);
    free(two);
    bed_close(&b);
}
END_TEST

TCase *shipped_tests(void)
{
    TCase *t = tcase_create("shipped");
    tcase_set_timeout(t, 600);
    tcase_add_loop_test(t, each_plate_is_a_solid, 0, (int)COUNT_OF(files));
    tcase_add_test(t, openings_of_every_sort);
    tcase_add_test(t, relief_that_leans_far);
    tcase_add_test(t, halves_part_as_the_ram_rises);
    tcase_add_test(t, same_bytes_and_the_revisions_day);
    return t;
}
