/* Edits: tried, kept, dropped; what moves; how much is worked out again. */

#include "bench.h"
#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Everything that can be read of a die set, as one text. */
static char *picture(const struct bench *b)
{
    struct base_text t = {0};
    char buf[80];
    for (int q = 0; q < dieset_quantity_count(b->d); q++) {
        const struct dieset_quantity *d = dieset_quantity(b->d, q);
        base_text_addf(&t, "%s = %s %s %d %s", d->path, d->text ? d->text : "-", d->reason ? d->reason : "-",
                       d->typed, d->usual ? d->usual : "-");
        for (int s = 0; s < DIESET_STATES; s++)
            base_text_addf(&t, " %s", dieset_print(b->d, q, (enum dieset_state)s, buf, sizeof buf));
        base_text_add(&t, "\n");
    }
    for (int i = 0; i < dieset_item_count(b->d); i++) {
        const struct typed_entry *e;
        int n = dieset_entries(b->d, i, &e);
        base_text_addf(&t, "%s: %s\n", dieset_item_name(b->d, i), dieset_item_title(b->d, i));
        for (int k = 0; k < n; k++)
            base_text_addf(&t, "  %s %s\n", e[k].path, e[k].text);
    }
    for (int h = 0; h < dieset_hole_count(b->d); h++) {
        struct dieset_hole hole;
        dieset_hole(b->d, h, DIESET_GROUND, &hole);
        base_text_addf(&t, "%d %d %s %.6f %.6f %.6f %.6f %.6f\n", hole.plate, hole.item, hole.operation,
                       hole.x, hole.y, hole.diameter, hole.low, hole.high);
    }
    return base_text_take(&t);
}

/* Each edit; ANEW: it changes the build. */
static const struct { const char *item, *path, *text; bool anew; } edits[] = {
    {"die_plate", "thickness", "36 mm", false},
    {"die_plate", "thickness", "strip.thickness * 20", false},
    {"die_plate", "thickness", NULL, false},
    {"die_plate", "material", "\"1.2379\"", false},
    {"die_plate", "hardened", "no", true},
    {"die_plate", "title", "Cutting plate", false},
    {"die_plate", "note", "order early", false},
    {"die_plate", "thickness/reason", "on the shelf", false},
    {"posts", "lay/right_back/x", "usual - 12 mm", false},
    {"posts", "lay/right_back/x", NULL, true},
    {"posts", "lay/left_back/x", "usual + 2 mm", true},
    {"posts", "lay/right_back/x/reason", NULL, false},
    {"posts", "lay/end", "30 mm", false},
    {"posts", "length", "160 mm", true},
    {"posts", "clamps", "3", true},
    {"die_screws", "size", "\"M8\"", false},
    {"die_screws", "head_in", "die_backing", true},
    {"die_screws", "lay", "corners on die_plate", true},
    {"margins", "reach", "margins.spare * 3", false},
    {"margins", "reach", "stack.gap", true},
    {"margins", "third", "1", true},
    {"job", "unit", "\"in\"", true},
};

START_TEST(a_dropped_edit_leaves_no_trace)
{
    struct bench b;
    bench_open(&b);
    char *before = picture(&b);
    long binding = dieset_binding(b.d), evaluations = model_evaluations(dieset_model(b.d));
    ck_ok(bench_try(&b, edits[_i].item, edits[_i].path, edits[_i].text, why));
    ck_assert(dieset_trying(b.d));
    ck_assert_int_eq(dieset_binding(b.d) != binding, edits[_i].anew);
    char *during = picture(&b);
    ck_assert_str_ne(before, during);
    dieset_drop(b.d);
    ck_assert(!dieset_trying(b.d));
    char *after = picture(&b);
    ck_assert_str_eq(before, after);
    ck_assert_int_eq(dieset_binding(b.d), binding);
    if (edits[_i].anew)
        ck_assert_int_eq(model_evaluations(dieset_model(b.d)), evaluations);
    free(before);
    free(during);
    free(after);
    bench_close(&b);
}
END_TEST

START_TEST(a_kept_edit_is_what_a_load_would_give)
{
    struct bench b, fresh;
    bench_open(&b);
    bench_open(&fresh);
    bench_set(&b, edits[_i].item, edits[_i].path, edits[_i].text);
    BASE_VEC(struct typed_item) items = {0};
    BASE_VEC(struct typed_entry) entries = {0};
    for (int i = 0; i < dieset_item_count(b.d); i++) {
        const struct typed_entry *e;
        struct typed_item item = {handbook_kind(b.h, dieset_item_kind(b.d, i))->name,
                                  dieset_item_name(b.d, i)};
        base_vec_push(&items, item);
        for (int k = 0, n = dieset_entries(b.d, i, &e); k < n; k++)
            base_vec_push(&entries, e[k]);
    }
    ck_ok(dieset_load(fresh.d, items.at, (int)items.count, entries.at, (int)entries.count, why));
    char *kept = picture(&b), *loaded = picture(&fresh);
    ck_assert_str_eq(kept, loaded);
    free(kept);
    free(loaded);
    base_vec_done(&items);
    base_vec_done(&entries);
    bench_close(&b);
    bench_close(&fresh);
}
END_TEST

static const struct { const char *item, *path, *text, *says; } refused[] = {
    {"die_plate", "thickness", "36 kN", "die_plate.thickness: "},
    {"die_plate", "thickness", "36", "write 36 mm"},
    {"die_plate", "thickness", "36 mm +", "die_plate.thickness: "},
    {"die_plate", "thickness", "die_plate.top", "at_new()"},
    {"die_plate", "thickness", "at_new(die_plate.top)", "die_plate.thickness -> "},
    {"die_plate", "thickness", "lower_shoe.thicknes", "die_plate.thickness: "},
    {"margins", "spare", "margins.reach + posts.diameter", NULL},
    {"posts", "diameter", "margins.reach", "posts.diameter -> "},
    {"die_screws", "head_in", "nothing", "die_screws.head_in: "},
    {"die_screws", "grip", "3 mm", "die_screws.grip: "},
    {"die_screws", "lay", "six on nothing", "die_screws.lay: "},
    {"die_screws", "lay", "diagonal on die_plate", NULL},
};

START_TEST(a_refused_edit_leaves_no_trace)
{
    struct bench b;
    struct base_diag reason = {0};
    bench_open(&b);
    char *before = picture(&b);
    enum base_err err = bench_try(&b, refused[_i].item, refused[_i].path, refused[_i].text, &reason);
    if (!refused[_i].says) {
        ck_assert_msg(err == BASE_OK, "%s", reason.message);
        dieset_drop(b.d);
    } else {
        ck_assert_int_ne(err, BASE_OK);
        ck_assert_msg(strstr(reason.message, refused[_i].says) != NULL, "%s", reason.message);
        ck_assert_str_eq(reason.file, "");
    }
    ck_assert(!dieset_trying(b.d));
    char *after = picture(&b);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
    bench_close(&b);
}
END_TEST

static const struct dieset_move *move_of(struct bench *b, const char *path)
{
    const struct dieset_move *moves;
    int n = dieset_moves(b->d, &moves);
    for (int i = 0; i < n; i++)
        if (strcmp(moves[i].path, path) == 0)
            return &moves[i];
    return NULL;
}

START_TEST(moves_tell_was_and_is_by_rank)
{
    struct bench b;
    const struct dieset_move *moves;
    bench_open(&b);
    ck_ok(bench_try(&b, "die_backing", "thickness", "16 mm", why));
    int n = dieset_moves(b.d, &moves);
    ck_assert_str_eq(moves[0].path, "die_backing.thickness");
    near_to(moves[0].was.number, 10);
    near_to(moves[0].is.number, 16);
    ck_assert_str_eq(move_of(&b, "stack.shut_height")->path, "stack.shut_height");
    near_to(move_of(&b, "stack.shut_height")->is.number, 210);
    near_to(move_of(&b, "die_screws.length")->is.number, 80); /* need 70.5 */
    ck_assert_ptr_null(move_of(&b, "posts.length"));
    ck_assert_ptr_null(move_of(&b, "punch_screws.length"));
    int screw = -1, need = -1;
    for (int i = 0; i < n; i++) {
        screw = strcmp(moves[i].path, "die_screws.length") == 0 ? i : screw;
        need = strcmp(moves[i].path, "die_screws.length_need") == 0 ? i : need;
    }
    ck_assert_int_lt(need, screw);
    dieset_keep(b.d);
    ck_assert_int_eq(dieset_moves(b.d, &moves), 0);
    bench_close(&b);
}
END_TEST

START_TEST(a_move_in_the_ground_state_only_is_told_so)
{
    struct bench b;
    bench_open(&b);
    ck_ok(bench_try(&b, "die_plate", "regrind", "5 mm", why));
    const struct dieset_move *m = move_of(&b, "die_plate.top");
    ck_assert_ptr_nonnull(m);
    ck_assert_int_eq(m->state, DIESET_GROUND);
    ck_assert(m->stateful);
    near_to(m->was.number, 86);
    near_to(m->is.number, 85);
    ck_assert_int_eq(move_of(&b, "die_plate.regrind")->state, DIESET_NEW);
    bench_close(&b);
}
END_TEST

START_TEST(an_inserted_plate_changes_every_screw_through_it)
{
    struct bench b;
    bench_open(&b);
    struct typed_change changes[] = {
        {.what = TYPED_ITEM, .item = "spacer", .after = "plate"},
        {.what = TYPED_PLACE, .item = "spacer", .after = "5"},
        {.what = TYPED_ENTRY, .item = "spacer", .path = "moves", .after = "\"with the slide\""},
        {.what = TYPED_ENTRY, .item = "spacer", .path = "length", .after = "200 mm"},
        {.what = TYPED_ENTRY, .item = "spacer", .path = "width", .after = "160 mm"},
        {.what = TYPED_ENTRY, .item = "spacer", .path = "thickness", .after = "12 mm"},
    };
    ck_ok(dieset_try(b.d, changes, COUNT_OF(changes), why));
    ck_assert_int_eq(dieset_find_item(b.d, "spacer"), 5);
    near_to(move_of(&b, "punch_screws.length_need")->is.number, 63.25);
    near_to(move_of(&b, "punch_screws.length")->is.number, 65);
    ck_assert_ptr_null(move_of(&b, "die_screws.length"));
    ck_assert_ptr_null(move_of(&b, "punch_screws.head_in")); /* another number, the same plate */
    ck_assert_int_eq(bench_count_holes(&b, "spacer", "punch_screws", "clear"), 4);
    near_to(bench_value(&b, "stack.shut_height", DIESET_NEW), 216);
    dieset_drop(b.d);
    ck_assert_int_eq(dieset_find_item(b.d, "spacer"), -1);
    bench_close(&b);
}
END_TEST

START_TEST(corners_stay_in_their_corners_when_the_plate_grows)
{
    static const struct { const char *point; double x, y; } points[] = {
        {"left_front", -105, -55}, {"middle_front", 0, -55}, {"right_front", 105, -55},
        {"left_back", -105, 55}, {"middle_back", 0, 55}, {"right_back", 105, 55}};
    struct bench b;
    struct dieset_point p;
    bench_open(&b);
    bench_set(&b, "die_plate", "length", "260 mm");
    int item = dieset_find_item(b.d, "die_screws");
    for (int i = 0; i < 6; i++) {
        dieset_point(b.d, item, i, &p);
        ck_assert_str_eq(p.name, points[i].point);
        near_to(p.x, points[i].x);
        near_to(p.y, points[i].y);
    }
    bench_close(&b);
}
END_TEST

START_TEST(what_stands_with_another_follows_its_freed_point)
{
    struct bench b;
    struct dieset_point post, bushing;
    bench_open(&b);
    bench_set(&b, "posts", "lay/right_back/x", "usual - 14 mm");
    int posts = dieset_find_item(b.d, "posts"), bushings = dieset_find_item(b.d, "bushings");
    ck_assert_int_eq(dieset_point_count(b.d, bushings), 4);
    for (int i = 0; i < 4; i++) {
        dieset_point(b.d, posts, i, &post);
        dieset_point(b.d, bushings, i, &bushing);
        near_to(post.x, bushing.x);
        near_to(post.y, bushing.y);
        ck_assert_int_eq(post.freed, i == 3);
    }
    near_to(post.x, 108.5);
    bench_close(&b);
}
END_TEST

START_TEST(the_post_follows_the_first_touch)
{
    struct bench b;
    bench_open(&b);
    near_to(bench_value(&b, "posts.length_need", DIESET_NEW), 185.5);
    bench_set(&b, "stack", "lead", "3 mm");
    near_to(bench_value(&b, "posts.length_need", DIESET_NEW), 187.5);
    near_to(bench_value(&b, "posts.entry", DIESET_NEW), 50);
    bench_close(&b);
}
END_TEST

/* How many slots an edit works out again: the value itself and what hangs on it, no more. */
static const struct { const char *item, *path, *text; int least, most; } walks[] = {
    {"die_screws", "class", "\"8.8\"", 1, 1},
    {"die_plate", "material", "\"steel \"", 1, 1},
    {"margins", "spare", "11 mm", 1, 1},
    /* the point, the mean, the measures of posts and shoe */
    {"posts", "lay/right_back/x", "usual - 11 mm", 2, 8},
    {"punch_screws", "sunk", "11 mm", 3, 12},
};

START_TEST(an_edit_works_out_again_only_what_hangs_on_it)
{
    struct bench b;
    bench_open(&b);
    struct model *m = dieset_model(b.d);
    long before = model_evaluations(m);
    ck_ok(bench_try(&b, walks[_i].item, walks[_i].path, walks[_i].text, why));
    ck_assert_ptr_eq(dieset_model(b.d), m);
    long count = model_evaluations(m) - before;
    ck_assert_msg(count >= walks[_i].least && count <= walks[_i].most, "%s.%s: %ld", walks[_i].item,
                  walks[_i].path, count);
    before = model_evaluations(m);
    dieset_drop(b.d);
    ck_assert_int_eq(model_evaluations(m), before);
    bench_close(&b);
}
END_TEST

START_TEST(several_changes_are_one_edit)
{
    struct bench b;
    bench_open(&b);
    /* taken one by one, the first of these would close a circle */
    struct typed_change changes[] = {
        {.what = TYPED_ENTRY, .item = "margins", .path = "spare", .after = "margins.reach + 1 mm"},
        {.what = TYPED_ENTRY, .item = "margins", .path = "reach", .after = "20 mm"},
    };
    bench_set(&b, "margins", "reach", "margins.spare * 2");
    ck_ok(dieset_try(b.d, changes, 2, why));
    near_to(bench_value(&b, "margins.spare", DIESET_NEW), 21);
    dieset_drop(b.d);
    near_to(bench_value(&b, "margins.reach", DIESET_NEW), 20);
    near_to(bench_value(&b, "margins.spare", DIESET_NEW), 10);
    struct typed_change half[] = {
        {.what = TYPED_ENTRY, .item = "margins", .path = "spare", .after = "5 mm"},
        {.what = TYPED_ENTRY, .item = "die_plate", .path = "thickness", .after = "5 kN"},
    };
    struct base_diag reason = {0};
    ck_assert_int_ne(dieset_try(b.d, half, 2, &reason), BASE_OK);
    near_to(bench_value(&b, "margins.spare", DIESET_NEW), 10);
    bench_close(&b);
}
END_TEST

START_TEST(items_come_go_and_move)
{
    struct bench b;
    bench_open(&b);
    struct base_diag reason = {0};
    struct typed_change gone = {.what = TYPED_ITEM, .item = "bushings", .before = "bushings"};
    ck_ok(dieset_try(b.d, &gone, 1, why));
    ck_assert_int_eq(dieset_find_item(b.d, "bushings"), -1);
    dieset_keep(b.d);
    struct typed_change needed = {.what = TYPED_ITEM, .item = "posts", .before = "posts"};
    ck_assert_int_ne(dieset_try(b.d, &needed, 1, &reason), BASE_OK); /* margins.reach names them */
    ck_assert_msg(strstr(reason.message, "margins.reach: ") == reason.message, "%s", reason.message);
    struct typed_change moved = {.what = TYPED_PLACE, .item = "die_backing", .after = "3"};
    ck_ok(dieset_try(b.d, &moved, 1, why));
    ck_assert_int_eq(dieset_find_item(b.d, "die_backing"), 3);
    dieset_drop(b.d);
    struct typed_change order = {.what = TYPED_ORDER, .item = "margins", .path = "spare", .after = "0"};
    ck_ok(dieset_try(b.d, &order, 1, why));
    int first;
    dieset_item_quantities(b.d, dieset_find_item(b.d, "margins"), &first);
    ck_assert_str_eq(dieset_quantity(b.d, first)->name, "spare");
    dieset_keep(b.d);
    bench_close(&b);
}
END_TEST

START_TEST(many_tries_while_typing_end_as_the_last_one)
{
    struct bench b;
    struct base_diag reason = {0};
    bench_open(&b);
    static const char text[] = "strip.thickness * 18 + 1 mm";
    char typed[sizeof text];
    for (int round = 0; round < 50; round++)
        for (size_t n = 1; n < sizeof text; n++) {
            snprintf(typed, sizeof typed, "%.*s", (int)n, text);
            if (bench_try(&b, "die_plate", "thickness", typed, &reason) != BASE_OK)
                near_to(bench_value(&b, "die_plate.thickness", DIESET_NEW), round ? 37 : 30);
            else if (n == sizeof text - 1)
                dieset_keep(b.d);
        }
    near_to(bench_value(&b, "die_plate.thickness", DIESET_NEW), 37);
    ck_assert_str_eq(dieset_entry(b.d, dieset_find_item(b.d, "die_plate"), "thickness"), text);
    bench_close(&b);
}
END_TEST

/* A group being placed: another pattern, and with each step other lengths of it, values of other items,
   points that are freed and given back. What the last step made is gone on with where it can be; each is what
   a try of its own makes. NULL ends a step; the pattern stays. */
#define ENTRY(item, path, text) {TYPED_ENTRY, item, path, NULL, text}
static const struct { struct typed_change changes[4]; bool fails; } steps[] = {
    {{ENTRY("die_screws", "lay/end", "20 mm")}, false},
    {{ENTRY("die_screws", "lay/end", "21 mm")}, false},
    {{ENTRY("die_screws", "lay/end", "22 mm"), ENTRY("die_plate", "thickness", "36 mm")}, false},
    {{{.item = NULL}}, false},
    {{ENTRY("die_screws", "lay/end", "20 mm"), ENTRY("die_screws", "lay/left_front/x", "usual + 3 mm")},
     false},
    {{ENTRY("die_screws", "lay/end", "20 mm"), ENTRY("die_screws", "lay/left_front/x", "usual + 4 mm")},
     false},
    {{ENTRY("die_screws", "lay/end", "20 kN")}, true},
    {{ENTRY("die_screws", "lay/end", "19 mm")}, false},
    {{ENTRY("die_screws", "lay/end", "stripper.lay")}, true},
    {{ENTRY("die_screws", "lay/end", "die_plate.thickness"), ENTRY("die_screws", "size", "\"M8\"")}, false},
    {{ENTRY("die_screws", "lay/end", "18 mm"), ENTRY("die_screws", "lay/end", "17 mm")}, false},
    {{ENTRY("die_plate", "hardened", "no"), ENTRY("die_screws", "lay/end", "17 mm")}, false},
    {{{TYPED_ITEM, "more", "", NULL, "screws"}, ENTRY("more", "lay", "one on stripper")}, false},
    {{ENTRY("die_screws", "lay/side", "17 mm")}, false},
    {{{TYPED_NAME, "stripper_springs", "", "stripper_springs", "coils"}, ENTRY("coils", "lay/end", "36 mm")},
     false},
    {{{TYPED_NAME, "stripper_springs", "", "stripper_springs", "coils"}, ENTRY("coils", "lay/side", "36 mm")},
     false},
};

static enum base_err take_step(struct bench *b, int step, struct base_diag *why)
{
    struct typed_change all[5] = {ENTRY("die_screws", "lay", "corners on die_plate")};
    int n = 1;
    for (int i = 0; i < 4 && steps[step].changes[i].item; i++)
        all[n++] = steps[step].changes[i];
    return dieset_try(b->d, all, n, why);
}

START_TEST(a_try_gone_on_with_is_a_try_of_its_own)
{
    struct bench b;
    bench_open(&b);
    char *begun = picture(&b);
    for (int step = 0; step < (int)COUNT_OF(steps); step++) {
        struct bench own;
        struct base_diag why_on = {0}, why_own = {0};
        bench_open(&own);
        if (step % 3 == 1)
            dieset_drop(b.d); /* as a job does between two tries */
        enum base_err err = take_step(&b, step, &why_on);
        ck_assert_int_eq(take_step(&own, step, &why_own), err);
        ck_assert_str_eq(why_on.message, why_own.message);
        ck_assert_int_eq(err != BASE_OK, steps[step].fails);
        char *gone_on = picture(&b), *alone = picture(&own);
        ck_assert_msg(strcmp(gone_on, alone) == 0, "step %d", step);
        const struct dieset_move *moves, *of_own;
        int n = dieset_moves(b.d, &moves);
        ck_assert_int_eq(dieset_moves(own.d, &of_own), n);
        for (int i = 0; i < n; i++)
            ck_assert(strcmp(moves[i].path, of_own[i].path) == 0 &&
                      moves[i].is.number == of_own[i].is.number);
        free(gone_on);
        free(alone);
        bench_close(&own);
    }
    dieset_drop(b.d);
    char *ended = picture(&b);
    ck_assert_str_eq(begun, ended);
    ck_ok(take_step(&b, 0, why));
    ck_ok(take_step(&b, 1, why));
    dieset_keep(b.d);
    near_to(bench_value(&b, "die_screws.lay.end", DIESET_NEW), 21);
    free(begun);
    free(ended);
    bench_close(&b);
}
END_TEST

TCase *edit_tests(void)
{
    TCase *t = tcase_create("edit");
    tcase_set_timeout(t, 30);
    tcase_add_loop_test(t, a_dropped_edit_leaves_no_trace, 0, COUNT_OF(edits));
    tcase_add_loop_test(t, a_kept_edit_is_what_a_load_would_give, 0, COUNT_OF(edits));
    tcase_add_loop_test(t, a_refused_edit_leaves_no_trace, 0, COUNT_OF(refused));
    tcase_add_test(t, a_try_gone_on_with_is_a_try_of_its_own);
    tcase_add_test(t, moves_tell_was_and_is_by_rank);
    tcase_add_test(t, a_move_in_the_ground_state_only_is_told_so);
    tcase_add_test(t, an_inserted_plate_changes_every_screw_through_it);
    tcase_add_test(t, corners_stay_in_their_corners_when_the_plate_grows);
    tcase_add_test(t, what_stands_with_another_follows_its_freed_point);
    tcase_add_test(t, the_post_follows_the_first_touch);
    tcase_add_loop_test(t, an_edit_works_out_again_only_what_hangs_on_it, 0, COUNT_OF(walks));
    tcase_add_test(t, several_changes_are_one_edit);
    tcase_add_test(t, items_come_go_and_move);
    tcase_add_test(t, many_tries_while_typing_end_as_the_last_one);
    return t;
}
