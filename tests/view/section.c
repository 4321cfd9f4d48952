/* The section: what stands where as the ram goes up. Numbers by hand from the small job: die face 115, strip
 * 1.5, entry 1, lead 1, so travel 3.5, when ground 7.5 (shoulder screws left alone); ground 4 off the die
 * plate and 4 off the punches. */

#include "small.h"
#include "view.h"

#include "view/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const JOB = "tests/view/small-job.txt";

static const struct {
    enum dieset_state state;
    double ram, upper_shoe, stripper, die_plate, tip; /* lower faces; the punches' tips */
} places[] = {
    {DIESET_NEW, 0, 206, 116.5, 75, 114},
    {DIESET_NEW, 1, 207, 116.5, 75, 115},
    {DIESET_NEW, 3.5, 209.5, 116.5, 75, 117.5},
    {DIESET_NEW, 5, 211, 118, 75, 119},
    {DIESET_NEW, 100, 306, 213, 75, 214},
    {DIESET_GROUND, 0, 198, 112.5, 75, 110},
    {DIESET_GROUND, 7.5, 205.5, 112.5, 75, 117.5},
    {DIESET_GROUND, 10, 208, 115, 75, 120},
};

static double low_of(const struct dieset *d, const struct parts *p, const char *name)
{
    for (int i = 0; i < p->n_plates; i++)
        if (strcmp(dieset_item_name(d, p->plates[i].item), name) == 0)
            return p->plates[i].low;
    for (size_t i = 0; i < p->bodies.count; i++)
        if (strcmp(dieset_item_name(d, p->bodies.at[i].item), name) == 0)
            return p->bodies.at[i].low;
    ck_abort_msg("no %s in the section", name);
    return NAN;
}

START_TEST(plates_stand_where_the_ram_puts_them)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct parts p;
    parts_find(d, places[_i].ram, places[_i].state, &p);
    ck_assert_double_eq_tol(low_of(d, &p, "upper_shoe"), places[_i].upper_shoe, 1e-9);
    ck_assert_double_eq_tol(low_of(d, &p, "stripper"), places[_i].stripper, 1e-9);
    ck_assert_double_eq_tol(low_of(d, &p, "die_plate"), places[_i].die_plate, 1e-9);
    ck_assert_double_eq_tol(low_of(d, &p, "pierce"), places[_i].tip, 1e-9);
    ck_assert_double_eq_tol(low_of(d, &p, "blank"), places[_i].tip, 1e-9);
    /* 2 above the shoe's bottom */
    ck_assert_double_eq_tol(low_of(d, &p, "posts"), 2, 1e-9);
    ck_assert_double_eq_tol(low_of(d, &p, "springs"), places[_i].stripper + 25, 1e-9); /* on the stripper */
    parts_done(&p);
    dieset_free(d);
}
END_TEST

/* Nothing overlaps, at any height of the ram: each plate's lower face is not under the upper face of the
   next. */
START_TEST(plates_never_overlap)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    for (int ram = 0; ram <= 60; ram++) {
        struct parts p;
        parts_find(d, ram / 4.0, _i, &p);
        ck_assert_int_eq(p.n_plates, 7);
        for (int i = 1; i < p.n_plates; i++)
            ck_assert_double_ge(p.plates[i - 1].low, p.plates[i].high - 1e-9);
        parts_done(&p);
    }
    dieset_free(d);
}
END_TEST

static const struct {
    const char *kept;
    double ram;
    int width, height;
    bool ascii;
    enum dieset_state state;
} pictures[] = {
    {"tests/view/kept/section-shut.txt", 0, 80, 40, false, DIESET_NEW},
    {"tests/view/kept/section-open.txt", 60, 80, 40, false, DIESET_NEW},
    {"tests/view/kept/section-ground.txt", 10, 80, 22, true, DIESET_GROUND},
    {"tests/view/kept/section-narrow.txt", 30, 41, 22, false, DIESET_NEW},
};

START_TEST(section_is_as_kept)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = {
        .item = -1, .point = -1, .ascii = pictures[_i].ascii, .state = pictures[_i].state};
    struct view_canvas c;
    struct base_text out = {0};
    view_canvas_init(&c, pictures[_i].width, pictures[_i].height);
    base_text_addf(&out, "%g mm a row\n", view_section(d, pictures[_i].ram, &o, &c));
    view_print(&c, &out);
    matches_kept(base_text_get(&out), pictures[_i].kept);
    base_text_done(&out);
    view_canvas_done(&c);
    dieset_free(d);
}
END_TEST

static int bodies_of(const struct dieset *d, const struct parts *p, const char *name, double breadth)
{
    int n = 0;
    for (size_t i = 0; i < p->bodies.count; i++)
        n += strcmp(dieset_item_name(d, p->bodies.at[i].item), name) == 0 &&
             fabs(p->bodies.at[i].right - p->bodies.at[i].left - breadth) < 1e-9;
    return n;
}

/* Two columns of screws: of each a shank of 10 and a head of 16; a spring's ends move with two plates. */
START_TEST(bodies_of_all_kinds_are_there)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct parts p;
    parts_find(d, 10, DIESET_NEW, &p);
    ck_assert_int_eq(bodies_of(d, &p, "punch_screws", 10), 2);
    ck_assert_int_eq(bodies_of(d, &p, "punch_screws", 16), 2);
    ck_assert_int_eq(bodies_of(d, &p, "die_dowels", 10), 2);
    ck_assert_int_eq(bodies_of(d, &p, "springs", 32), 2);
    for (size_t i = 0; i < p.bodies.count; i++) {
        const char *name = dieset_item_name(d, p.bodies.at[i].item);
        ck_assert(p.bodies.at[i].coil == (strcmp(name, "springs") == 0));
        ck_assert(p.bodies.at[i].shares == (strstr(name, "screws") && p.bodies.at[i].right -
                                                                          p.bodies.at[i].left > 10 + 1e-9));
    }
    parts_done(&p);
    dieset_free(d);
}
END_TEST

static int letters(const struct view_canvas *c, uint32_t ch)
{
    int n = 0;
    for (int i = 0; i < c->width * c->height; i++)
        n += c->cells[i].ch == ch && (c->cells[i].role == VIEW_MARK || c->cells[i].role == VIEW_LINE);
    return n;
}

/* A kind that no line of the program knows: told by its record alone. On the lower shoe, 63 high, a tower of
   60 stands up to 123, and moves with the bed. */
static const struct small_edit tower[] = {
    {"towers", "", "towers"},
    {"towers", "seat_in", "lower_shoe"},
    {"towers", "lay", "one on lower_shoe"},
    {"towers", "lay/at_x", "-180 mm"},
    {0},
};

START_TEST(a_shops_own_kind_is_drawn)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, tower);
    struct dieset *without = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = {.item = -1, .point = -1};
    struct view_canvas c, plain, plan;
    struct parts p;
    view_canvas_init(&c, 80, 40);
    view_canvas_init(&plain, 80, 40);
    view_canvas_init(&plan, 70, 24);
    ck_assert(view_section(d, 60, &o, &c) > 0 && view_section(without, 60, &o, &plain) > 0);
    ck_assert_int_eq(letters(&c, 't'), letters(&plain, 't') + 1);
    ck_assert(view_plan(d, dieset_find_item(d, "lower_shoe"), &o, &plan) > 0);
    ck_assert_int_gt(letters(&plan, 't'), 4); /* its rim */
    parts_find(d, 60, DIESET_NEW, &p);
    ck_assert_double_eq_tol(low_of(d, &p, "towers"), 63, 1e-9);
    ck_assert_int_eq(bodies_of(d, &p, "towers", 40), 1);
    parts_done(&p);
    view_canvas_done(&c);
    view_canvas_done(&plain);
    view_canvas_done(&plan);
    dieset_free(d);
    dieset_free(without);
}
END_TEST

/* The rows of metal times the scale are the plate's height, within a row; seen in the first column of the
   plate. */
START_TEST(rows_times_scale_are_millimetres)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = {.item = -1, .point = -1, .ascii = true};
    for (int height = 8; height < 90; height += 3) {
        struct view_canvas c;
        view_canvas_init(&c, 50, height);
        double scale = view_section(d, 0, &o, &c);
        ck_assert(scale > 0);
        int left = c.width, rows = 0;
        for (int i = 0; i < c.width * c.height; i++)
            if (c.cells[i].role == VIEW_METAL && i % c.width < left)
                left = i % c.width;
        for (int y = 0; y < c.height; y++)
            rows += c.cells[y * c.width + left].role == VIEW_METAL;
        /* the shoes, 40 and 63 high, are the widest; a rounding of half a row at each of four faces */
        ck_assert_double_le(fabs(rows * scale - (40 + 63)), 2 * scale);
        view_canvas_done(&c);
    }
    dieset_free(d);
}
END_TEST

/* Legs that stand 10.5 below a die face at 98: at shut in the die, later with the strip, lifted by 12.5, over
 * it; where they are being bent nothing stands out before the punch touches. */
START_TEST(what_is_formed_rises_with_the_strip)
{
    static const struct { double ram, low; } legs[] = {{0, 87.5}, {100, 100}};
    struct handbook *h;
    ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, "data/templates/bend-and-part.txt", NULL);
    int item = dieset_find_item(d, "legs");
    for (size_t i = 0; i < COUNT_OF(legs); i++) {
        struct parts p;
        double low = INFINITY;
        parts_find(d, legs[i].ram, DIESET_NEW, &p);
        for (size_t k = 0; k < p.bodies.count; k++)
            low = p.bodies.at[k].item == item ? fmin(low, p.bodies.at[k].low) : low;
        ck_assert_double_eq_tol(low, legs[i].low, 1e-6);
        parts_done(&p);
    }
    ck_assert_double_eq_tol(dieset_formed_share(d, item, 0), 1, 1e-9);
    ck_assert_double_eq_tol(dieset_formed_share(d, item, 100), 0, 1e-9);
    dieset_free(d);
    handbook_free(h);
}
END_TEST

/* A cup 4 deep, and two legs whose bends lie across the feed: what is drawn of them begins where the strip is
 * flat and ends where their bodies do; the middle of a leg's metal stands in the middle of its body. */
static const struct { const char *job, *item; struct small_edit edits[3]; int at_shut; } formed[] = {
    {"data/templates/draw-and-part.txt", "cup", {{0}}, 4},
    {"data/templates/bend-and-part.txt",
     "legs",
     {{"legs", "lay/turn", "90 deg"}, {"legs", "line", "20 mm"}},
     6},
};

START_TEST(what_is_formed_is_seen_as_it_is_bent)
{
    struct handbook *h;
    int seen = 0;
    ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, formed[_i].job, formed[_i].edits);
    int item = dieset_find_item(d, formed[_i].item);
    double half = dieset_number(d, dieset_item_of_kind(d, DIESET_STRIP), "thickness", DIESET_NEW) / 2;
    struct parts p;
    parts_find(d, 0, DIESET_NEW, &p);
    for (size_t k = 0; k < p.bodies.count; k++) {
        const struct part *b = &p.bodies.at[k];
        double low = INFINITY, high = -INFINITY, swung = (b->left + b->right) / 2;
        bool hangs = false;
        if (!b->bent)
            continue;
        ck_assert_int_eq(b->item, item);
        seen++;
        for (int i = 0; i < b->n_bent; i++) {
            low = fmin(low, b->bent[i].high);
            high = fmax(high, b->bent[i].high);
            hangs = hangs || fabs(b->bent[i].off - swung) < 1e-6;
        }
        ck_assert_double_eq_tol(low, b->low + (_i == 0 ? half : 0), 1e-6);
        ck_assert_double_eq_tol(high, p.strip.low + half, 1e-6);
        ck_assert(_i == 0 || hangs);
    }
    ck_assert_int_eq(seen, formed[_i].at_shut);
    parts_done(&p);
    dieset_free(d);
    handbook_free(h);
}
END_TEST

TCase *section_case(void)
{
    TCase *t = tcase_create("section");
    tcase_add_loop_test(t, plates_stand_where_the_ram_puts_them, 0, (int)COUNT_OF(places));
    tcase_add_loop_test(t, plates_never_overlap, 0, DIESET_STATES);
    tcase_add_loop_test(t, section_is_as_kept, 0, (int)COUNT_OF(pictures));
    tcase_add_test(t, bodies_of_all_kinds_are_there);
    tcase_add_test(t, a_shops_own_kind_is_drawn);
    tcase_add_test(t, rows_times_scale_are_millimetres);
    tcase_add_test(t, what_is_formed_rises_with_the_strip);
    tcase_add_loop_test(t, what_is_formed_is_seen_as_it_is_bent, 0, (int)COUNT_OF(formed));
    return t;
}
