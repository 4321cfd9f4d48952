/* The plan view: true to scale, symmetric, inside its canvas. */

#include "small.h"
#include "view.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const JOB = "tests/view/small-job.txt";

static struct view_options plain(void) { return (struct view_options){.item = -1, .point = -1}; }

static char *drawn(struct dieset *d, const char *plate, const struct view_options *o, int width, int height)
{
    struct view_canvas c;
    struct base_text out = {0};
    view_canvas_init(&c, width, height);
    double scale = view_plan(d, dieset_find_item(d, plate), o, &c);
    base_text_addf(&out, "%g mm a column\n", scale);
    view_print(&c, &out);
    view_plan_legend(d, dieset_find_item(d, plate), &c, &out);
    base_text_add(&out, "\n");
    view_canvas_done(&c);
    return base_text_take(&out);
}

static const struct {
    const char *plate, *kept;
    bool ascii, below, through;
    int width, height;
} pictures[] = {
    {"die_plate", "tests/view/kept/die-plate.txt", false, false, false, 61, 21},
    {"die_plate", "tests/view/kept/die-plate-ascii.txt", true, false, false, 61, 21},
    {"die_plate", "tests/view/kept/die-plate-from-below.txt", false, true, false, 61, 21},
    {"die_plate", "tests/view/kept/die-plate-small.txt", false, false, false, 30, 9},
    {"stripper", "tests/view/kept/stripper-through.txt", false, false, true, 61, 21},
    {"upper_shoe", "tests/view/kept/upper-shoe.txt", false, false, false, 81, 24},
    {"lower_shoe", "tests/view/kept/lower-shoe-from-below.txt", true, true, false, 81, 24},
    {"stripper", "tests/view/kept/stripper.txt", false, false, false, 61, 21},
};

START_TEST(plan_is_as_kept)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = plain();
    o.ascii = pictures[_i].ascii;
    o.from_below = pictures[_i].below;
    o.see_through = pictures[_i].through;
    char *text = drawn(d, pictures[_i].plate, &o, pictures[_i].width, pictures[_i].height);
    matches_kept(text, pictures[_i].kept);
    for (const char *t = text; *t && o.ascii; t++)
        ck_assert_int_lt((unsigned char)*t, 0x80);
    free(text);
    dieset_free(d);
}
END_TEST

/* A half disc of 30 with a half disc of 15 bitten out, and an L turned by 30 deg: drawn by their shapes, not
   by the boxes round them. */
static const struct small_edit outlined[] = {
    {"blank", "shape", "\"outline\""},
    {"blank", "outline/1", "at 30 mm, -15 mm"},
    {"blank", "outline/2", "arc to -30 mm, -15 mm radius 30 mm left"},
    {"blank", "outline/3", "line to -15 mm, -15 mm"},
    {"blank", "outline/4", "arc to 15 mm, -15 mm radius 15 mm right"},
    {"pierce", "shape", "\"outline\""},
    {"pierce", "outline_turn", "30 deg"},
    {"pierce", "outline/1", "at -20 mm, -20 mm"},
    {"pierce", "outline/2", "line by 40 mm, 0 mm"},
    {"pierce", "outline/3", "line by 0 mm, 12 mm"},
    {"pierce", "outline/4", "line to -8 mm, -8 mm"},
    {"pierce", "outline/5", "line to -8 mm, 20 mm"},
    {"pierce", "outline/6", "line by -12 mm, 0 mm"},
    {NULL, NULL, NULL},
};

START_TEST(an_outline_is_drawn_as_it_is)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, outlined);
    struct view_options o = plain();
    char *text = drawn(d, "die_plate", &o, 81, 31);
    matches_kept(text, "tests/view/kept/die-plate-outlines.txt");
    free(text);
    dieset_free(d);
}
END_TEST

/* Each hole's cell is within half a cell of the hole, both ways, and shows its letter or "*". */
static void holes_are_where_they_are(struct dieset *d, int plate, const struct view_options *o,
                                     const struct view_canvas *c, double scale)
{
    double ratio = o->cell_ratio > 0 ? o->cell_ratio : 2;
    int first = 0, n = dieset_plate_holes(d, plate, &first), column, row;
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, o->state, &h);
        ck_assert(view_plan_cell(d, plate, o, c, h.x, h.y, &column, &row));
        double x, y;
        ck_assert(view_plan_point(d, plate, o, c, column, row, &x, &y));
        ck_assert_double_le(fabs(x - h.x), scale / 2 + 1e-9);
        ck_assert_double_le(fabs(y - h.y), scale * ratio / 2 + 1e-9);
        uint32_t ch = c->cells[row * c->width + column].ch;
        ck_assert_msg(ch == '*' || tolower((int)ch) == tolower(h.letter), "%s %s: %c for %c",
                      dieset_item_name(d, plate), dieset_item_name(d, h.item), (int)ch, h.letter);
    }
}

/* The jobs that are shown with the program, with the whole handbook. */
static const char *const demos[] = {"data/demo/cover-plate.txt", "data/demo/spacer-plate.txt"};

START_TEST(demo_jobs_are_drawn_true)
{
    struct handbook *h;
    ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, demos[_i], NULL);
    struct dieset_layer layers[32];
    int n = dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers));
    ck_assert_int_eq(n, 7);
    for (int i = 0; i < n; i++) {
        struct view_options o = plain();
        struct view_canvas c;
        view_canvas_init(&c, 160, 70);
        double scale = view_plan(d, layers[i].plate, &o, &c);
        ck_assert(scale >= 1 && scale <= 8);
        holes_are_where_they_are(d, layers[i].plate, &o, &c, scale);
        view_canvas_done(&c);
    }
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    for (int c = 0; c < m.n_columns; c++) {
        bool somewhere = false;
        for (int r = 0; r < m.n_rows; r++)
            somewhere = somewhere || isalpha((unsigned char)m.cells[r][c]);
        ck_assert_msg(somewhere, "column %c is empty", m.columns[c].letter);
    }
    dieset_free(d);
    handbook_free(h);
}
END_TEST

/* Cells of LETTER; each at most FAR from the nearest of the places, and at least NEAR. */
static int rim_cells(const struct view_canvas *c, struct dieset *d, const struct view_options *o, int plate,
                     int letter, const double (*at)[2], int n, double near, double far)
{
    int cells = 0;
    for (int row = 0; row < c->height; row++)
        for (int column = 0; column < c->width; column++) {
            double x, y, least = INFINITY;
            const struct view_cell *cell = &c->cells[row * c->width + column];
            if (cell->ch != (uint32_t)letter || cell->item >= 0)
                continue;
            ck_assert(view_plan_point(d, plate, o, c, column, row, &x, &y));
            for (int i = 0; i < n; i++)
                least = fmin(least, hypot(x - at[i][0], y - at[i][1]));
            ck_assert_msg(least >= near && least <= far, "%c at %g, %g: %g from the axis", letter, x, y,
                          least);
            ck_assert_int_eq(cell->role, VIEW_LINE);
            cells++;
        }
    return cells;
}

/* The cover plate's bushings, flanged and turned by 60 degrees: posts 42 from the ends and 50 from the sides
 * of shoes of 400 x 306, one 8 further out. A flange of 8 more than the outside, its clamps on a circle of 16
 * more. */
START_TEST(flanges_and_clamps_are_drawn_where_they_stand)
{
    static const double axes[][2] = {{-158, -111}, {158, -103}, {-158, 103}, {158, 103}};
    double clamps[12][2];
    struct handbook *h;
    ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, demos[0], NULL);
    int shoe = dieset_find_item(d, "upper_shoe");
    double outside = dieset_number(d, dieset_find_item(d, "bushings"), "outside", DIESET_NEW),
           circle = (outside + 16) / 2;
    for (int i = 0; i < 12; i++) {
        double turn = (60 + i % 3 * 120) * acos(-1) / 180;
        clamps[i][0] = axes[i / 3][0] + circle * cos(turn),
        clamps[i][1] = axes[i / 3][1] + circle * sin(turn);
    }
    struct view_options o = plain();
    struct view_canvas c;
    struct base_text legend = {0};
    o.scale = 2;
    view_canvas_init(&c, 201, 81);
    ck_assert_double_eq(view_plan(d, shoe, &o, &c), 2);
    double cell = hypot(2, 4);
    ck_assert_int_gt(rim_cells(&c, d, &o, shoe, 'f', axes, 4, (outside + 8) / 2 - cell, (outside + 8) / 2),
                     60);
    ck_assert_int_gt(rim_cells(&c, d, &o, shoe, 'j', clamps, 12, 9 - cell, 9), 60); /* three times M6 */
    view_plan_legend(d, shoe, &c, &legend);
    ck_assert_ptr_nonnull(strstr(base_text_get(&legend), "  f flange  j clamp"));
    view_canvas_done(&c);
    base_text_clear(&legend);
    view_legend(d, dieset_find_item(d, "lower_shoe"), &legend);
    ck_assert_ptr_null(strstr(base_text_get(&legend), "flange"));
    base_text_done(&legend);
    dieset_free(d);
    handbook_free(h);
}
END_TEST

static const struct { int width, height; double ratio; bool below;
} sizes[] = {
    {61, 21, 0, false},  {62, 22, 0, true},   {200, 60, 1.6, false},
    {35, 16, 2.3, true}, {300, 90, 0, false}, {21, 9, 0, false},
};

START_TEST(cells_times_scale_are_millimetres)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    for (int i = 0; i < dieset_item_count(d); i++) {
        int first;
        if (dieset_plate_holes(d, i, &first) == 0)
            continue;
        struct view_options o = plain();
        o.cell_ratio = sizes[_i].ratio;
        o.from_below = sizes[_i].below;
        struct view_canvas c;
        view_canvas_init(&c, sizes[_i].width, sizes[_i].height);
        double scale = view_plan(d, i, &o, &c);
        ck_assert(scale >= 1);
        holes_are_where_they_are(d, i, &o, &c, scale);
        view_canvas_done(&c);
    }
    dieset_free(d);
}
END_TEST

START_TEST(letters_of_freed_points_are_told_apart)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = plain();
    struct view_canvas c;
    int plate = dieset_find_item(d, "lower_shoe"), posts = dieset_find_item(d, "posts"), freed = 0;
    view_canvas_init(&c, 120, 50);
    view_plan(d, plate, &o, &c);
    for (int p = 0; p < dieset_point_count(d, posts); p++) {
        struct dieset_point at;
        int x, y;
        dieset_point(d, posts, p, &at);
        ck_assert(view_plan_cell(d, plate, &o, &c, at.x, at.y, &x, &y));
        ck_assert_int_eq(c.cells[y * c.width + x].freed, at.freed);
        freed += at.freed;
    }
    ck_assert_int_eq(freed, 1); /* one post stands off, so that the halves go together one way */
    view_canvas_done(&c);
    dieset_free(d);
}
END_TEST

/* The same set mirrored at X 0: stations, the freed post and the dowels change sides. */
static const struct small_edit mirrored[] = {
    {"pierce", "lay/at_x", "48 mm"}, {"blank", "lay/at_x", "-48 mm"},
    {"die_dowels", "lay/left_front/x", "80 mm"}, {"die_dowels", "lay/right_back/x", "-80 mm"},
    {"posts", "lay/right_back/x", "155 mm"}, {"posts", "lay/left_back/x", "-145 mm"},
    {NULL, NULL, NULL},
};

static const char *const plates[] = {"upper_shoe", "punch_plate", "stripper",
                                     "die_plate",  "die_backing", "lower_shoe"};

/* From below the picture is turned over: the same cells mirrored, capitals of the other face. */
START_TEST(mirrored_job_gives_mirrored_picture)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL),
                  *m = small_dieset(small_handbook(), JOB, mirrored);
    for (int below = 0; below < 2; below++) {
        struct view_options o = plain(), p = plain();
        o.ascii = p.ascii = true;
        p.from_below = below;
        struct view_canvas a, b;
        view_canvas_init(&a, 79, 23);
        view_canvas_init(&b, 79, 23);
        double one = view_plan(d, dieset_find_item(d, plates[_i]), &o, &a);
        double other = view_plan(below ? d : m, dieset_find_item(d, plates[_i]), &p, &b);
        ck_assert_double_eq(one, other);
        for (int y = 0; y < a.height; y++) {
            for (int x = 0; x < a.width; x++) {
                uint32_t here = a.cells[y * a.width + x].ch,
                         there = b.cells[y * a.width + a.width - 1 - x].ch;
                there = there == '(' ? ')' : there == ')' ? '(' : there; /* the sides of a round hole */
                if (below)
                    ck_assert_int_eq(tolower((int)here), tolower((int)there));
                else
                    ck_assert_uint_eq(here, there);
            }
        }
        view_canvas_done(&a);
        view_canvas_done(&b);
    }
    dieset_free(d);
    dieset_free(m);
}
END_TEST

START_TEST(an_opening_covers_its_area)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = plain();
    o.scale = 1;
    o.pan_x = 48;
    struct view_canvas c;
    view_canvas_init(&c, 61, 41);
    ck_assert_double_eq(view_plan(d, dieset_find_item(d, "die_plate"), &o, &c), 1);
    int cells = 0, blank = dieset_find_item(d, "blank");
    for (int i = 0; i < c.width * c.height; i++)
        cells += c.cells[i].item == blank;
    /* 26 x 44 less the corners of radius 5: 1144 - (4 - pi) 25; a cell is 1 x 2 mm */
    double area = 26 * 44 - (4 - acos(-1)) * 25;
    ck_assert_double_le(fabs(cells * 2 - area), 2 * (26 + 44) * 1.0);
    ck_assert_uint_eq(c.cells[20 * 61 + 30].ch, 'o');
    ck_assert_uint_ne(c.cells[20 * 61 + 30 + 14].ch, 'o');
    view_canvas_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(letters_of_the_item_at_the_cursor_stand_out)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_options o = plain();
    o.item = dieset_find_item(d, "die_screws");
    struct view_canvas c;
    int strong = 0;
    for (int point = -1; point < 4; point++) {
        o.point = point;
        view_canvas_init(&c, 61, 21);
        view_plan(d, dieset_find_item(d, "die_plate"), &o, &c);
        strong = 0;
        for (int i = 0; i < c.width * c.height; i++) {
            strong += c.cells[i].strong;
            if (c.cells[i].strong)
                ck_assert_int_eq(c.cells[i].item, o.item);
        }
        ck_assert_int_eq(strong, point < 0 ? 4 : 1);
        view_canvas_done(&c);
    }
    dieset_free(d);
}
END_TEST

START_TEST(legend_names_only_letters_present)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct base_text out = {0};
    view_legend(d, dieset_find_item(d, "stripper"), &out);
    ck_assert_str_eq(base_text_get(&out), "");
    view_legend(d, dieset_find_item(d, "die_plate"), &out);
    ck_assert_str_eq(base_text_get(&out), "o die opening  s screw  d dowel");
    base_text_clear(&out);
    view_legend(d, dieset_find_item(d, "upper_shoe"), &out);
    ck_assert_str_eq(base_text_get(&out), "s screw  c spring  CAPS = head, seated or driven from this face");
    base_text_done(&out);
    dieset_free(d);
}
END_TEST

/* A canvas with cells behind it that nobody may touch. */
enum { GUARD = 256, MAGIC = 0x5eed };

static void guarded(struct view_canvas *c, int width, int height)
{
    view_canvas_init(c, width, height);
    size_t n = (size_t)c->width * (size_t)c->height;
    c->cells = base_grow(c->cells, (n + GUARD) * sizeof *c->cells);
    for (size_t i = n; i < n + GUARD; i++)
        c->cells[i] = (struct view_cell){.ch = MAGIC, .item = -1};
}

static void guard_holds(const struct view_canvas *c)
{
    size_t n = (size_t)c->width * (size_t)c->height;
    for (size_t i = n; i < n + GUARD; i++)
        ck_assert_uint_eq(c->cells[i].ch, MAGIC);
}

START_TEST(no_size_of_canvas_is_too_small)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct view_matrix m;
    view_matrix(d, DIESET_NEW, &m);
    for (int n = 0; n < 420; n++) {
        int width = n * 7919 % 97, height = n * 104729 % 41;
        struct view_options o = plain();
        o.ascii = n % 2;
        o.from_below = n % 3 == 0;
        o.see_through = n % 5 == 0;
        o.item = n % dieset_item_count(d);
        o.scale = n % 4 == 1 ? 0.05 * n : 0;
        o.pan_x = n - 200;
        o.pan_y = 3 * n - 600;
        o.cell_ratio = n % 7 ? 0 : 1.7;
        struct view_canvas c;
        int rows[64];
        guarded(&c, width, height);
        view_plan(d, dieset_find_item(d, plates[n % (int)COUNT_OF(plates)]), &o, &c);
        view_section(d, n - 5, &o, &c);
        view_stack(d, &m, &o, &c, rows);
        guard_holds(&c);
        view_canvas_done(&c);
    }
    dieset_free(d);
}
END_TEST

static const struct small_edit blank_plate[] = {{"die_plate", "length", "0 mm"},
                                                {"die_backing", "thickness", "0 mm / 0"},
                                                {NULL, NULL, NULL}};

START_TEST(a_plate_without_size_is_told)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, blank_plate);
    struct view_options o = plain();
    struct view_canvas c;
    view_canvas_init(&c, 61, 21);
    ck_assert_double_eq(view_plan(d, dieset_find_item(d, "die_plate"), &o, &c), 0);
    int column, row;
    ck_assert(!view_plan_cell(d, dieset_find_item(d, "die_plate"), &o, &c, 0, 0, &column, &row));
    view_canvas_done(&c);
    dieset_free(d);
}
END_TEST

TCase *plan_case(void)
{
    TCase *t = tcase_create("plan");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, an_outline_is_drawn_as_it_is);
    tcase_add_loop_test(t, plan_is_as_kept, 0, (int)COUNT_OF(pictures));
    tcase_add_loop_test(t, demo_jobs_are_drawn_true, 0, (int)COUNT_OF(demos));
    tcase_add_test(t, flanges_and_clamps_are_drawn_where_they_stand);
    tcase_add_loop_test(t, cells_times_scale_are_millimetres, 0, (int)COUNT_OF(sizes));
    tcase_add_loop_test(t, mirrored_job_gives_mirrored_picture, 0, (int)COUNT_OF(plates));
    tcase_add_test(t, letters_of_freed_points_are_told_apart);
    tcase_add_test(t, an_opening_covers_its_area);
    tcase_add_test(t, letters_of_the_item_at_the_cursor_stand_out);
    tcase_add_test(t, legend_names_only_letters_present);
    tcase_add_test(t, no_size_of_canvas_is_too_small);
    tcase_add_test(t, a_plate_without_size_is_told);
    return t;
}
