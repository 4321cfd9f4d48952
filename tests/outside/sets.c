/* Whole sets: an origin moved, a set mirrored, another unit, more and more ground off. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct job *open_job(const char *name)
{
    struct job *j = NULL;
    char *text = read_text(name);
    ck_ok(job_from_text(outside_handbook(), text, name, &j, why));
    free(text);
    return j;
}

static const char DEMO[] = "data/demo/cover-plate.txt";

struct edit { const char *path, *formula; };

/* All edits at once; the outcome is open until taken. */
static void try_edits(struct job *j, const struct edit *edits, int n)
{
    const char *paths[40], *formulas[40];
    for (int i = 0; i < n; i++) {
        paths[i] = edits[i].path;
        formulas[i] = edits[i].formula;
    }
    ck_ok(job_set_many(j, paths, formulas, n, why));
}

/* ---- holes of a set ------------------------------------------------------------------------------------ */

static bool same_text(const char *a, const char *b) { return strcmp(a, b) == 0; }

static bool near(double a, double b) { return fabs(a - b) < 1e-6; }

/* The same but for its place. */
static bool same_work(const struct dieset_hole *a, const struct dieset_hole *b)
{
    return a->plate == b->plate && a->item == b->item && same_text(a->operation, b->operation) &&
           same_text(a->fit, b->fit) && same_text(a->thread, b->thread) && near(a->diameter, b->diameter) &&
           near(a->length, b->length) && near(a->width, b->width) && near(a->start, b->start) &&
           near(a->depth, b->depth) && a->from_top == b->from_top && near(a->edge, b->edge);
}

/* How places change: x -> SIGN_X x + SHIFT_X, y -> SIGN_Y y. */
struct change { double sign_x, shift_x, sign_y; };

static bool takes_place(const struct dieset_hole *was, const struct dieset_hole *is, struct change c)
{
    return same_work(was, is) && near(is->x, c.sign_x * was->x + c.shift_x) && near(is->y, c.sign_y * was->y);
}

/* Every hole of BEFORE is in AFTER at its changed place, each once. */
static void holes_have_moved(const struct dieset *before, const struct dieset *after, enum dieset_state s,
                             struct change c)
{
    int n = dieset_hole_count(before);
    ck_assert_int_gt(n, 100);
    ck_assert_int_eq(n, dieset_hole_count(after));
    bool *taken = base_alloc((size_t)n);
    for (int i = 0; i < n; i++) {
        struct dieset_hole was, is;
        dieset_hole(before, i, s, &was);
        int k = 0;
        for (; k < n; k++) {
            dieset_hole(after, k, s, &is);
            if (!taken[k] && takes_place(&was, &is, c))
                break;
        }
        ck_assert_msg(k < n, "%s of %s in %s at %g, %g has no fellow", was.operation,
                      dieset_item_name(before, was.item), dieset_item_name(before, was.plate), was.x, was.y);
        taken[k] = true;
    }
    free(taken);
}

/* ---- places in a quantity's name ----------------------------------------------------------------------- */

/* Does PATH tell a place in the plan (and so may move when the plan does)? */
static bool tells_a_place(const char *path)
{
    static const char *const ends[] = {".x",
                                       ".y",
                                       ".mean_x",
                                       ".mean_y",
                                       ".left",
                                       ".right",
                                       ".front",
                                       ".back",
                                       ".middle_x",
                                       ".middle_y",
                                       ".offset_along",
                                       ".off_press_along",
                                       ".off_press_across",
                                       ".moment_x",
                                       ".moment_y",
                                       ".strip_moment_x",
                                       ".strip_moment_y",
                                       ".leave_x",
                                       ".leave_y",
                                       ".touch_x",
                                       ".touch_y",
                                       ".springs_x",
                                       ".springs_y",
                                       ".centre_x",
                                       ".centre_y",
                                       ".strip_x",
                                       ".strip_y",
                                       ".cut_x",
                                       ".cut_y",
                                       ".narrowest_at",
                                       ".all_first",
                                       ".all_last",
                                       ".opening_left",
                                       ".opening_right",
                                       ".opening_front",
                                       ".opening_back",
                                       ".slug_left",
                                       ".slug_right",
                                       ".slug_front",
                                       ".slug_back",
                                       ".plate_middle",
                                       ".first",
                                       ".last",
                                       ".feed",
                                       ".fed_to",
                                       ".way",
                                       ".offset",
                                       ".first_end",
                                       ".last_end",
                                       ".along",
                                       ".across",
                                       ".turn",
                                       ".left_across",
                                       ".right_across"};
    size_t length = strlen(path);
    for (size_t i = 0; i < COUNT_OF(ends); i++)
        if (length > strlen(ends[i]) && same_text(path + length - strlen(ends[i]), ends[i]))
            return true;
    return false;
}

static void only_places_have_moved(struct job *j, int least)
{
    const struct job_outcome *o = job_outcome(j);
    ck_assert_int_ge(o->n_moves, least);
    for (int m = 0; m < o->n_moves; m++) {
        const struct dieset_move *v = &o->moves[m];
        ck_assert_msg(tells_a_place(v->path) ||
                          (v->type.sort == FORMULA_NUMBER && near(v->was.number, v->is.number)),
                      "%s was %.9g, is %.9g", v->path, v->was.number, v->is.number);
    }
    for (int c = 0; c < o->n_came; c++) /* the reason for the shifted post stood with the point before */
        ck_assert_msg(strstr(o->came[c].key, "unreasoned"), "%s: %s", o->came[c].key, o->came[c].message);
    ck_assert_int_eq(o->n_went, 0);
}

/* ---- an origin moved ----------------------------------------------------------------------------------- */

/* The plan's origin 7 to the left: all that counts from it stands 7 further. */
static const struct edit moved[] = {
    {"strip.first", "-78 mm"},
    {"stack.set_along", "-7 mm"}, /* the set stays where it is in the press */
};

START_TEST(an_origin_moved_moves_nothing_else)
{
    struct job *before = open_job(DEMO), *after = open_job(DEMO);
    try_edits(after, moved, COUNT_OF(moved));
    const struct job_outcome *o = job_outcome(after);
    ck_assert_int_gt(o->n_moves, 20);
    for (int m = 0; m < o->n_moves; m++) {
        const struct dieset_move *v = &o->moves[m];
        ck_assert_msg(tells_a_place(v->path) || same_text(v->path, "stack.set_along") ||
                          near(v->was.number, v->is.number),
                      "%s was %.9g, is %.9g", v->path, v->was.number, v->is.number);
        if (tells_a_place(v->path) && unit_same(v->type.dim, UNIT_LENGTH))
            ck_assert_msg(near(v->is.number - v->was.number, 7), "%s was %.9g, is %.9g", v->path,
                          v->was.number, v->is.number);
    }
    for (int c = 0; c < o->n_came; c++) /* nobody has said why station 1 is not where it would lie even */
        ck_assert_msg(strstr(o->came[c].key, "unreasoned"), "%s: %s", o->came[c].key, o->came[c].message);
    ck_assert_int_eq(o->n_went, 0);
    for (int s = 0; s < DIESET_STATES; s++)
        holes_have_moved(job_dieset(before), job_dieset(after), (enum dieset_state)s,
                         (struct change){1, 7, 1});
    job_close(before);
    job_close(after);
}
END_TEST

/* A plate set off by itself takes its own holes along, counted from its corner, and its neighbours stay. */
START_TEST(a_plate_set_off_keeps_what_lies_on_it)
{
    static const struct edit edits[] = {{"stripper.offset_along", "stack.plate_middle + 3 mm"},
                                        {"stripper.offset_across", "2 mm"}};
    struct job *j = open_job(DEMO);
    struct dieset *d = job_dieset(j);
    struct dieset_hole hole;
    int bolts = dieset_find_item(d, "stripper_bolts"), plate = dieset_find_item(d, "stripper"), first;
    double was[20][2];
    int count = 0, n = dieset_plate_holes(d, plate, &first);
    for (int i = first; i < first + n; i++) {
        dieset_hole(d, i, DIESET_NEW, &hole);
        if (hole.item == bolts && count < 20) {
            was[count][0] = hole.x - dieset_number(d, plate, "left", DIESET_NEW);
            was[count++][1] = hole.y - dieset_number(d, plate, "front", DIESET_NEW);
        }
    }
    ck_assert_int_eq(count, 4);
    double die_left = dieset_get(d, "die_plate.left", DIESET_NEW).number;
    try_edits(j, edits, 2);
    d = job_dieset(j);
    count = 0;
    n = dieset_plate_holes(d, plate, &first);
    for (int i = first; i < first + n; i++) {
        dieset_hole(d, i, DIESET_NEW, &hole);
        if (hole.item != bolts)
            continue;
        ck_assert_double_eq_tol(hole.x - dieset_number(d, plate, "left", DIESET_NEW), was[count][0], 1e-9);
        ck_assert_double_eq_tol(hole.y - dieset_number(d, plate, "front", DIESET_NEW), was[count++][1], 1e-9);
    }
    ck_assert_int_eq(count, 4);
    ck_assert_double_eq(dieset_get(d, "die_plate.left", DIESET_NEW).number, die_left);
    job_close(j);
}
END_TEST

/* ---- mirrored ------------------------------------------------------------------------------------------ */

static const struct edit front_to_back[] = {
    {"punch_dowels.lay.left_across", "13 mm"},
    {"punch_dowels.lay.right_across", "-9 mm"},
    {"die_dowels.lay.left_across", "11 mm"},
    {"die_dowels.lay.right_across", "-11 mm"},
    {"posts.left_front.y", "usual"},
    {"posts.left_back.y", "usual + 8 mm"},
    /* three clamps round a bushing, the first towards the back: mirrored it stands towards the front */
    {"posts.lay.turn", "-60 deg"},
};
static const struct edit left_to_right[] = {
    {"strip.feed", "\"to the left\""},
    {"punch_dowels.lay.left_across", "9 mm"},
    {"punch_dowels.lay.right_across", "-13 mm"},
    {"die_dowels.lay.left_across", "11 mm"},
    {"die_dowels.lay.right_across", "-11 mm"},
    {"posts.left_front.y", "usual"},
    {"posts.right_front.y", "usual - 8 mm"},
    {"posts.lay.turn", "120 deg"},
};
static const struct { const struct edit *edits; int n; struct change change;
} mirrors[] = {
    {front_to_back, COUNT_OF(front_to_back), {1, 0, -1}},
    {left_to_right, COUNT_OF(left_to_right), {-1, 0, 1}},
};

START_TEST(a_mirrored_set_has_mirrored_holes_and_the_same_findings)
{
    struct job *before = open_job(DEMO), *after = open_job(DEMO);
    try_edits(after, mirrors[_i].edits, mirrors[_i].n);
    only_places_have_moved(after, mirrors[_i].n - 1);
    for (int s = 0; s < DIESET_STATES; s++)
        holes_have_moved(job_dieset(before), job_dieset(after), (enum dieset_state)s, mirrors[_i].change);
    double was = dieset_get(job_dieset(before), "stack.centre_x", DIESET_NEW).number,
           is = dieset_get(job_dieset(after), "stack.centre_x", DIESET_NEW).number;
    ck_assert_double_gt(fabs(was), 1);
    ck_assert_double_eq_tol(is, mirrors[_i].change.sign_x * was, 1e-9);
    job_close(before);
    job_close(after);
}
END_TEST

/* ---- another unit -------------------------------------------------------------------------------------- */

/* The screens' cursors step by parts of an inch then; nothing else may change. */
START_TEST(a_set_shown_in_inches_is_the_same_set)
{
    static const struct edit inch[] = {{"job.shown", "\"in\""}};
    static const char *const steps[] = {"job.shown", "job.plan_step", "job.plan_stride", "job.ram_step",
                                        "job.ram_fine"};
    struct job *j = open_job(DEMO);
    try_edits(j, inch, (int)COUNT_OF(inch));
    const struct job_outcome *o = job_outcome(j);
    ck_assert_int_gt(o->n_moves, 0);
    for (int m = 0; m < o->n_moves; m++) {
        const char *path = o->moves[m].path;
        bool known = false;
        for (size_t i = 0; i < COUNT_OF(steps); i++)
            known = known || strcmp(path, steps[i]) == 0;
        ck_assert_msg(known, "%s was %.9g, is %.9g", path, o->moves[m].was.number, o->moves[m].is.number);
    }
    job_close(j);
}
END_TEST

/* ---- more and more ground off -------------------------------------------------------------------------- */

/* WAY: 1 never shrinks, -1 never grows, as the ground state is ground further. */
static const struct { const char *path; int way;
} worn[] = {
    {"stack.shut_height", -1},
    {"stack.height_on_bolster", -1},
    {"stack.open", -1},
    {"stack.gap", -1},
    {"stack.stripper_room", -1},
    {"stack.travel", 1},
    {"stack.die_face", -1},
    {"stack.feed_line", -1},
    {"stack.punch_now", -1},
    {"stack.spring_push", 1},
    {"stack.need", 1},
    {"stripper_springs.pressed", 1},
    {"stripper_springs.shut_length", -1},
    {"stripper_springs.share", 1},
    {"stripper_springs.force_leave", 1},
    {"posts.end_room", -1},
    {"posts.shut_entry", 1},
    {"posts.enters", 1},
    {"die_screws.engagement", -1},
    {"die_screws.end_room", -1},
    {"die_dowels.end_room", -1},
    {"stripper_bolts.room", -1},
    {"pilots.below", 1},
    {"pilots.clear_left", -1},
    {"die_plate.thickness_now", -1},
};

/* The shoulder's length is picked for the travel when all is ground: it is held here. */
static const struct edit held = {"stripper_bolts.length", "90 mm"};
static const char *const wearing[] = {"stack.punch_regrind", "stack.die_regrind"};

START_TEST(what_is_ground_off_works_one_way)
{
    struct job *j = open_job(DEMO);
    int last = -1;
    double before[COUNT_OF(worn)] = {0};
    for (int tenths = 0; tenths <= 60; tenths += 5, last = tenths) {
        char amount[20];
        snprintf(amount, sizeof amount, "%d.%d mm", tenths / 10, tenths % 10);
        const struct edit edits[] = {{wearing[_i % 2], amount},
                                     {wearing[1 - _i % 2], _i < 2 ? "2 mm" : amount},
                                     held};
        try_edits(j, edits, COUNT_OF(edits));
        for (size_t w = 0; w < COUNT_OF(worn); w++) {
            struct formula_value v = dieset_get(job_dieset(j), worn[w].path, DIESET_GROUND);
            ck_assert_msg(!v.error, "%s with %s ground off: %s", worn[w].path, amount,
                          formula_error_text((enum formula_error)v.error));
            ck_assert_msg(last < 0 || worn[w].way * (v.number - before[w]) >= -1e-9,
                          "%s with %s ground off: %.9g after %.9g", worn[w].path, amount, v.number,
                          before[w]);
            before[w] = v.number;
        }
    }
    job_close(j);
}
END_TEST

/* A new set does not know what will be ground off. */
START_TEST(a_new_set_is_the_same_whatever_will_be_ground_off)
{
    static const char *const paths[] = {"stack.shut_height",
                                        "stack.travel",
                                        "stack.first_touch",
                                        "posts.length",
                                        "posts.entry",
                                        "stripper_springs.free_length",
                                        "stripper_springs.preload",
                                        "die_screws.length",
                                        "die_dowels.length",
                                        "stripper_bolts.length",
                                        "stack.need"};
    static const struct edit edits[] = {{"stack.punch_regrind", "4 mm"}, {"stack.die_regrind", "1 mm"}};
    struct job *j = open_job(DEMO);
    double was[COUNT_OF(paths)];
    for (size_t i = 0; i < COUNT_OF(paths); i++)
        was[i] = dieset_get(job_dieset(j), paths[i], DIESET_NEW).number;
    try_edits(j, edits, 2);
    for (size_t i = 0; i < COUNT_OF(paths); i++) {
        struct formula_value v = dieset_get(job_dieset(j), paths[i], DIESET_NEW);
        ck_assert_msg(!v.error && near(v.number, was[i]), "%s was %.9g, is %.9g", paths[i], was[i], v.number);
    }
    job_close(j);
}
END_TEST

/* With nothing to grind off, both states are one. */
START_TEST(nothing_ground_off_leaves_one_state)
{
    static const struct edit edits[] = {{"stack.punch_regrind", "0 mm"}, {"stack.die_regrind", "0 mm"}};
    struct job *j = open_job(DEMO);
    try_edits(j, edits, 2);
    struct dieset *d = job_dieset(j);
    for (int q = 0; q < dieset_quantity_count(d); q++) {
        struct formula_value fresh = dieset_value(d, q, DIESET_NEW),
                             ground = dieset_value(d, q, DIESET_GROUND);
        ck_assert_msg(fresh.error == ground.error && (fresh.error || near(fresh.number, ground.number)),
                      "%s: new %.9g, ground %.9g", dieset_quantity(d, q)->path, fresh.number, ground.number);
    }
    job_close(j);
}
END_TEST

TCase *set_tests(void)
{
    TCase *t = tcase_create("sets");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, outside_load, outside_unload);
    tcase_add_test(t, an_origin_moved_moves_nothing_else);
    tcase_add_test(t, a_plate_set_off_keeps_what_lies_on_it);
    tcase_add_loop_test(t, a_mirrored_set_has_mirrored_holes_and_the_same_findings, 0, COUNT_OF(mirrors));
    tcase_add_test(t, a_set_shown_in_inches_is_the_same_set);
    tcase_add_loop_test(t, what_is_ground_off_works_one_way, 0, 4);
    tcase_add_test(t, a_new_set_is_the_same_whatever_will_be_ground_off);
    tcase_add_test(t, nothing_ground_off_leaves_one_state);
    return t;
}
