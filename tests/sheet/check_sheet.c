/* Sheets: what the hole chart tells is on the paper at its place and size, and all words can be read. */

#include "../common.h"

#include "diewright/sheet.h"

#include "../view/small.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct sheet_title titled = {.job = "A set of our own",
                                          .number = "TEST",
                                          .standing = "not issued",
                                          .revision = "",
                                          .date = "",
                                          .made_by = "",
                                          .checked_by = "",
                                          .sums = "",
                                          .faults = 2};

/* Jobs of the program with its own handbook, and the small one of the tests. */
static const char *const jobs[] = {"data/demo/cover-plate.txt", "data/demo/spacer-plate.txt",
                                   "data/templates/spring-stripper.txt", "data/templates/fixed-stripper.txt",
                                   "data/templates/spring-stripper-inch.txt"};

static const struct handbook *shipped(void)
{
    static struct handbook *h;
    if (!h)
        ck_ok(handbook_load("data", &h, why));
    return h;
}

static struct dieset *loaded(const char *file)
{
    char *text = NULL;
    struct dieset_text read;
    struct dieset *d = NULL;
    ck_ok(base_read_file(file, &text, NULL, why));
    ck_ok(dieset_new(shipped(), NULL, &d, why));
    ck_ok(dieset_text_read(shipped(), text, file, &read, why));
    ck_ok(dieset_text_load(&read, d, why));
    dieset_text_done(&read);
    free(text);
    return d;
}

/* ---- marks read back from what the writers wrote -------------------------------------------- */

struct ring { double x, y, r; };
struct stroke { double x, y, x1, y1; };
struct read { BASE_VEC(struct ring) rings; BASE_VEC(struct stroke) wide; };

static double value_of(const char *tag, const char *name)
{
    char want[24];
    snprintf(want, sizeof want, " %s=\"", name);
    const char *at = strstr(tag, want), *end = strchr(tag, '>');
    ck_assert_msg(at && at < end, "no %s in %.60s", name, tag);
    return strtod(at + strlen(want), NULL);
}

/* Y upwards again. */
static void read_svg(const char *svg, double height, struct read *out)
{
    *out = (struct read){0};
    for (const char *at = svg; (at = strstr(at, "<circle ")); at++)
        base_vec_push(&out->rings,
                      ((struct ring){value_of(at, "cx"), height - value_of(at, "cy"), value_of(at, "r")}));
    for (const char *at = svg; (at = strstr(at, "<line class=\"wide\"")); at++)
        base_vec_push(&out->wide, ((struct stroke){value_of(at, "x1"), height - value_of(at, "y1"),
                                                   value_of(at, "x2"), height - value_of(at, "y2")}));
}

/* The page's stream: moves, lines, curves; a ring is eight curves that end where they began, its middle
 * half way to where the fourth ends. */
static void read_pdf(const char *pdf, struct read *out)
{
    const char *at = strstr(strstr(pdf, "/MediaBox"), "stream\n") + 7, *end = strstr(at, "endstream");
    double x = 0, y = 0, far_x = 0, far_y = 0, width = 0;
    int curves = 0;
    *out = (struct read){0};
    for (; at < end; at = strchr(at, '\n') + 1) {
        double v[6] = {0};
        char operator[16] = "";
        int n = 0;
        char *next;
        const char *p = at;
        for (double is = strtod(p, &next); next != p && n < 6; is = strtod(p, &next)) {
            v[n++] = is;
            p = next;
        }
        (void)!sscanf(p, "%15s", operator);
        if (strcmp(operator, "w") == 0)
            width = v[0];
        else if (strcmp(operator, "m") == 0) {
            x = v[0];
            y = v[1];
            curves = 0;
        } else if (strcmp(operator, "l") == 0 && width == 0.5)
            base_vec_push(&out->wide, ((struct stroke){x, y, v[0], v[1]}));
        else if (strcmp(operator, "c") == 0 && ++curves == 4) {
            far_x = v[4];
            far_y = v[5];
        } else if (strcmp(operator, "s") == 0 && curves == 8)
            base_vec_push(&out->rings,
                          ((struct ring){(x + far_x) / 2, (y + far_y) / 2, hypot(x - far_x, y - far_y) / 2}));
    }
}

static void read_done(struct read *r)
{
    base_vec_done(&r->rings);
    base_vec_done(&r->wide);
}

/* The plan's back edge: of the wide lines as long as the plate the highest. Its left end. */
static void plan_corner(const struct read *r, double length, double *x, double *back)
{
    *back = -1;
    for (size_t i = 0; i < r->wide.count; i++) {
        const struct stroke *s = &r->wide.at[i];
        if (fabs(s->y - s->y1) < 1e-6 && fabs(fabs(s->x1 - s->x) - length) < 1e-3 && s->y > *back) {
            *back = s->y;
            *x = fmin(s->x, s->x1);
        }
    }
    ck_assert_msg(*back > 0, "no edge of %g mm", length);
}

static bool has_ring(const struct read *r, double x, double y, double radius)
{
    for (size_t i = 0; i < r->rings.count; i++)
        if (hypot(r->rings.at[i].x - x, r->rings.at[i].y - y) < 2e-3 &&
            fabs(r->rings.at[i].r - radius) < 2e-3)
            return true;
    return false;
}

static double scale_of(const struct sheet_book *b)
{
    double scale = 0;
    for (size_t i = 0; i < b->at.at[0].marks.count; i++) {
        const char *text = b->at.at[0].marks.at[i].text,
                   *at = text ? strstr(text, "seen from above, 1:") : NULL;
        if (at)
            scale = 1 / strtod(at + strlen("seen from above, 1:"), NULL);
    }
    ck_assert_double_gt(scale, 0);
    return scale;
}

/* Every round hole of the chart is a circle at its place from the datum, and as large. */
static void holes_are_there(struct dieset *d, int plate, double scale, const struct read *r)
{
    struct report_datum from;
    struct report_chart c;
    struct dieset_plate p = dieset_plate(d, plate, DIESET_NEW);
    double left = 0, back = 0;
    ck_ok(report_datum_named(d, plate, DIESET_NEW, "left front", &from, why));
    report_chart_make(d, plate, DIESET_NEW, &from, &c);
    plan_corner(r, p.length * scale, &left, &back);
    for (int i = 0; i < c.n; i++) {
        const struct dieset_hole *h = &c.at[i].hole;
        if (!h->n_sides && !(h->length > 0))
            ck_assert_msg(has_ring(r, left + c.at[i].x * scale, back - (p.width - c.at[i].y) * scale,
                                   h->diameter / 2 * scale),
                          "%s: no circle of %g at %g %g", dieset_item_name(d, plate), h->diameter, c.at[i].x,
                          c.at[i].y);
    }
    report_chart_done(&c);
}

START_TEST(every_round_hole_is_drawn_at_its_place)
{
    struct dieset *d = loaded(jobs[_i]);
    struct dieset_layer layers[64];
    int n = dieset_stack(d, DIESET_NEW, layers, 64);
    ck_assert_int_gt(n, 3);
    for (int i = 0; i < n; i++) {
        struct sheet_book b;
        struct base_text svg = {0}, pdf = {0};
        struct read r;
        ck_ok(sheet_plate(d, layers[i].plate, DIESET_NEW, NULL, &titled, &b, why));
        draw_svg(b.at.at, 1, b.title, &svg);
        draw_pdf(b.at.at, 1, b.title, &pdf);
        read_svg(base_text_get(&svg), b.at.at[0].height, &r);
        holes_are_there(d, layers[i].plate, scale_of(&b), &r);
        read_done(&r);
        read_pdf(base_text_get(&pdf), &r);
        holes_are_there(d, layers[i].plate, scale_of(&b), &r);
        read_done(&r);
        base_text_done(&svg);
        base_text_done(&pdf);
        sheet_done(&b);
    }
    dieset_free(d);
}
END_TEST

/* ---- words --------------------------------------------------------------------------------------- */

/* Fields are named in the rim, all else stands inside of the frame. */
static void in_frame(const struct draw_sheet *s, const struct draw_mark *m)
{
    struct draw_box b = draw_words_box(m);
    bool rim = strlen(m->text) < 3 &&
               (b.right < 20 || b.left > s->width - 10 || b.back < 10 || b.front > s->height - 10);
    double edge = rim ? 5 : 10, left = rim ? 15 : 20;
    ck_assert_msg(b.left > left - 1e-6 && b.right < s->width - edge + 1e-6 && b.front > edge - 1e-6 &&
                      b.back < s->height - edge + 1e-6,
                  "\"%s\" at %g %g is out of the frame", m->text, m->x, m->y);
}

static void words_apart(const struct draw_sheet *s)
{
    BASE_VEC(struct draw_box) boxes = {0};
    BASE_VEC(const char *) texts = {0};
    for (size_t i = 0; i < s->marks.count; i++) {
        if (s->marks.at[i].sort != DRAW_WORDS)
            continue;
        in_frame(s, &s->marks.at[i]);
        base_vec_push(&boxes, draw_words_box(&s->marks.at[i]));
        base_vec_push(&texts, s->marks.at[i].text);
    }
    ck_assert_uint_gt(boxes.count, 50);
    for (size_t i = 0; i < boxes.count; i++)
        for (size_t k = 0; k < i; k++) {
            struct draw_box a = boxes.at[i], b = boxes.at[k];
            double x = fmin(a.right, b.right) - fmax(a.left, b.left),
                   y = fmin(a.back, b.back) - fmax(a.front, b.front);
            ck_assert_msg(x < 0.05 || y < 0.05, "\"%s\" at %g %g lies over \"%s\"", texts.at[i], a.left,
                          a.front, texts.at[k]);
        }
    base_vec_done(&boxes);
    base_vec_done(&texts);
}

static bool says(const struct sheet_book *b, const char *text)
{
    for (size_t i = 0; i < b->at.count; i++)
        for (size_t k = 0; k < b->at.at[i].marks.count; k++)
            if (b->at.at[i].marks.at[k].text && strcmp(b->at.at[i].marks.at[k].text, text) == 0)
                return true;
    return false;
}

static bool mentions(const struct sheet_book *b, const char *words)
{
    for (size_t k = 0; k < b->at.at[0].marks.count; k++)
        if (b->at.at[0].marks.at[k].text && strstr(b->at.at[0].marks.at[k].text, words))
            return true;
    return false;
}

/* What a screw's play allows is told as the inspection list has it, for each size by itself. */
START_TEST(places_of_screws_are_told_letter_by_letter)
{
    struct dieset *d = loaded("data/demo/cover-plate.txt");
    struct sheet_book b;
    ck_ok(sheet_plate(d, dieset_find_item(d, "upper_shoe"), DIESET_NEW, NULL, &titled, &b, why));
    ck_assert(mentions(&b, "\u00b10.17 mm"));
    ck_assert(mentions(&b, "G \u00b10.08 mm"));
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

/* The numbers of the parts stand off the walls of what they number. */
START_TEST(numbers_of_parts_stand_off_the_openings)
{
    struct dieset *d = loaded("data/demo/cover-plate.txt");
    struct sheet_book b;
    int found = 0;
    ck_ok(sheet_set(d, DIESET_NEW, &titled, &b, why));
    const struct draw_sheet *s = &b.at.at[0];
    for (size_t i = 0; i < s->marks.count; i++) {
        if (!s->marks.at[i].text || strcmp(s->marks.at[i].text, "18, 19") != 0)
            continue;
        struct draw_box box = draw_words_box(&s->marks.at[i]);
        found++;
        for (size_t k = 0; k < s->marks.count; k++) {
            const struct draw_mark *m = &s->marks.at[k];
            bool wall = m->sort == DRAW_LINE && m->pen == DRAW_WIDE && fabs(m->x - m->x1) < 1e-6;
            ck_assert(!wall || m->x < box.left || m->x > box.right || fmax(m->y, m->y1) < box.front ||
                      fmin(m->y, m->y1) > box.back);
        }
    }
    ck_assert_int_eq(found, 2);
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

START_TEST(words_are_in_the_frame_and_apart)
{
    struct dieset *d = loaded(jobs[_i]);
    struct dieset_layer layers[64];
    struct sheet_book b;
    int n = dieset_stack(d, DIESET_NEW, layers, 64);
    for (int i = 0; i < n; i++) {
        ck_ok(sheet_plate(d, layers[i].plate, DIESET_NEW, i % 2 ? "right back" : NULL, &titled, &b, why));
        for (size_t k = 0; k < b.at.count; k++)
            words_apart(&b.at.at[k]);
        ck_assert(says(&b, "NOT TO BE MADE BY: 2 FAULTS OPEN"));
        sheet_done(&b);
    }
    ck_ok(sheet_set(d, DIESET_NEW, &titled, &b, why));
    for (size_t k = 0; k < b.at.count; k++)
        words_apart(&b.at.at[k]);
    sheet_done(&b);
    if (sheet_strip(d, &titled, &b, &(struct base_diag){0}) == BASE_OK) {
        words_apart(&b.at.at[0]);
        sheet_done(&b);
    }
    dieset_free(d);
}
END_TEST

/* Is there a circle round the words NUMBER? */
static bool ballooned(const struct draw_sheet *s, const char *number)
{
    for (size_t i = 0; i < s->marks.count; i++) {
        const struct draw_mark *m = &s->marks.at[i];
        if (!m->text || strcmp(m->text, number) != 0)
            continue;
        struct draw_box b = draw_words_box(m);
        for (size_t k = 0; k < s->marks.count; k++) {
            const struct draw_mark *c = &s->marks.at[k];
            if (c->sort == DRAW_ARC && fabs(c->x - (b.left + b.right) / 2) < 0.1 &&
                fabs(c->y - (b.front + b.back) / 2) < 0.5 && c->radius > (b.right - b.left) / 2)
                return true;
        }
    }
    return false;
}

/* Plates, punches, what holds them, lifters with their springs, clamps with their screws: all but the risers,
   which stand below the set. */
START_TEST(each_line_of_the_order_list_has_its_number_in_the_view)
{
    struct dieset *d = loaded("data/templates/bend-and-part.txt");
    struct dieset_orders orders;
    struct sheet_book b;
    struct base_text unseen = {0};
    dieset_orders(d, &orders);
    ck_ok(sheet_set(d, DIESET_NEW, &titled, &b, why));
    ck_assert_int_ge(orders.count, 20);
    for (int i = 0; i < orders.count; i++) {
        char number[16];
        snprintf(number, sizeof number, "%d", i + 1);
        if (strcmp(orders.at[i].designation, "Riser") == 0)
            base_text_addf(&unseen, "Parts without a number in the views: %d", i + 1);
        else
            ck_assert_msg(ballooned(&b.at.at[0], number), "%s %s", number, orders.at[i].designation);
    }
    ck_assert_msg(unseen.length && says(&b, base_text_get(&unseen)), "%s", base_text_get(&unseen));
    ck_assert(says(&b, "Upper half seen from below, its back edge at the foot"));
    base_text_done(&unseen);
    sheet_done(&b);
    dieset_orders_free(&orders);
    dieset_free(d);
}
END_TEST

/* A cup is drawn in the set by both its faces, not as a box: from the front its walls run down from the
 * strip, leaning by what is between its bottom and its rim. */
START_TEST(a_cup_stands_in_the_set_as_it_is_drawn)
{
    struct dieset *d = loaded("data/templates/draw-and-part.txt");
    struct sheet_book b;
    int leaning = 0;
    ck_ok(sheet_set(d, DIESET_NEW, &titled, &b, why));
    for (size_t i = 0; i < b.at.at[0].marks.count; i++) {
        const struct draw_mark *m = &b.at.at[0].marks.at[i];
        leaning += m->sort == DRAW_LINE && m->pen == DRAW_NARROW && fabs(m->x1 - m->x) > 0.5 &&
                   fabs(m->y1 - m->y) > 0.5 && m->x1 > 100;
    }
    ck_assert_int_eq(leaning, 4 * 2 * 2); /* stations, walls, faces */
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

/* What the strip drawing tells of the part, in mm from its left front corner, and of the stations. A blank of
 * 28 x 40 with a hole in its middle, two 28 apart across, dimples 14 x 18 apart; what is parted off a strip
 * of 48 every 52, with ties 9 long cut away. */
static const struct { const char *job, *says[8]; int wide_rings; } strips[] = {
    {"data/demo/cover-plate.txt",
     {"28.0", "40.0", "14.0", "6.0", "34.0", "29.0", "pilot holes", "idle"},
     /* pilot holes, the part's holes, its corners as they are cut; the same of the part */
     2 + 3 + 1 + 3 + 1},
    {"data/templates/bend-and-part.txt",
     {"43.0", "48.0", "21.5", "24.0", "156.0", "legs", "parting",
      "In section across the feed, from the front"},
     2},
};

START_TEST(the_strip_shows_its_stations_and_the_part)
{
    struct dieset *d = loaded(strips[_i].job);
    struct sheet_book b;
    double turns = 0;
    ck_ok(sheet_strip(d, &titled, &b, why));
    for (size_t i = 0; i < COUNT_OF(strips[_i].says); i++)
        ck_assert_msg(says(&b, strips[_i].says[i]), "%s: no \"%s\"", strips[_i].job, strips[_i].says[i]);
    for (size_t i = 0; i < b.at.at[0].marks.count; i++) {
        const struct draw_mark *m = &b.at.at[0].marks.at[i];
        turns += m->sort == DRAW_ARC && m->pen == DRAW_WIDE ? fabs(m->sweep) / (2 * acos(-1)) : 0;
    }
    ck_assert_double_eq_tol(turns, strips[_i].wide_rings, 1e-3);
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

/* Beside the letters of a plate with die openings, once; in no other plate. */
START_TEST(land_and_relief_are_shown_where_there_are_any)
{
    static const char *const plates[] = {"die_plate", "stripper"};
    struct dieset *d = loaded("data/demo/cover-plate.txt");
    for (size_t i = 0; i < COUNT_OF(plates); i++) {
        struct sheet_book b;
        ck_ok(sheet_plate(d, dieset_find_item(d, plates[i]), DIESET_NEW, NULL, &titled, &b, why));
        ck_assert_int_eq(says(&b, "land 7.0 mm") && says(&b, "relief 0.5 deg a side"), i == 0);
        sheet_done(&b);
    }
    dieset_free(d);
}
END_TEST

/* The fields of a frame are counted from its corner, on each size of sheet. */
START_TEST(fields_begin_with_the_first)
{
    struct dieset *d = loaded("data/demo/cover-plate.txt");
    struct sheet_book b;
    ck_ok(sheet_plate(d, dieset_find_item(d, "upper_shoe"), DIESET_NEW, NULL, &titled, &b, why)); /* A1 */
    ck_assert(says(&b, "1") && says(&b, "16") && !says(&b, "17"));
    ck_assert_str_eq(sheet_paper_name(&b.at.at[0]), "A1");
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

/* Each mark of the chart stands in the plan or the tables, each letter with its machining. */
START_TEST(marks_are_those_of_the_chart)
{
    struct dieset *d = loaded(jobs[0]);
    int plate = dieset_find_item(d, "die_plate");
    struct report_datum from;
    struct report_chart c;
    struct sheet_book b;
    char mark[16];
    ck_ok(report_datum_named(d, plate, DIESET_NEW, "die_dowels", &from, why));
    report_chart_make(d, plate, DIESET_NEW, &from, &c);
    ck_ok(sheet_plate(d, plate, DIESET_NEW, "die_dowels", &titled, &b, why));
    for (int i = 0; i < c.n; i++) {
        char x[40];
        ck_assert(says(&b, report_mark(&c.at[i], mark, sizeof mark)));
        ck_assert(says(&b, unit_print_number(c.at[i].x, UNIT_LENGTH, UNIT_METRIC, x, sizeof x)));
    }
    ck_assert(says(&b, "TEST-05"));
    sheet_done(&b);
    report_chart_done(&c);
    dieset_free(d);
}
END_TEST

/* ---- the outside: other readers of PDF, where they are installed ------------------------------------- */

static bool installed(const char *program)
{
    char *line = base_format("command -v %s >/dev/null 2>&1", program);
    bool is = system(line) == 0;
    free(line);
    if (!is)
        fprintf(stderr, "lacks %s: not asked about the PDF\n", program);
    return is;
}

START_TEST(other_readers_take_the_pdf)
{
    struct dieset *d = loaded(jobs[0]);
    struct sheet_book b;
    struct base_text pdf = {0};
    char path[] = "/tmp/diewright-sheet-XXXXXX";
    int file = mkstemp(path);
    ck_assert_int_ge(file, 0);
    ck_ok(sheet_plate(d, dieset_find_item(d, "die_plate"), DIESET_NEW, NULL, &titled, &b, why));
    draw_pdf(b.at.at, (int)b.at.count, b.title, &pdf);
    FILE *f = fdopen(file, "w");
    ck_assert_uint_eq(fwrite(base_text_get(&pdf), 1, pdf.length, f), pdf.length);
    fclose(f);
    static const char *const asked[][2] = {
        {"qpdf", "qpdf --check %s >/dev/null 2>&1"},
        {"pdftotext", "pdftotext -layout %s - 2>&1 | grep -q '94.333 *38.0'"},
        {"pdftotext", "test -z \"$(pdftotext %s /dev/null 2>&1)\""},
        {"pdftotext", "pdftotext %s - | grep -q 'NOT TO BE MADE BY: 2 FAULTS OPEN'"},
        {"pdftocairo", "test -z \"$(pdftocairo -png -r 20 -singlefile %s - 2>&1 >/dev/null)\""},
    };
    for (size_t i = 0; i < COUNT_OF(asked); i++) {
        if (!installed(asked[i][0]))
            continue;
        char *line = base_format(asked[i][1], path);
        ck_assert_msg(system(line) == 0, "%s", line);
        free(line);
    }
    unlink(path);
    base_text_done(&pdf);
    sheet_done(&b);
    dieset_free(d);
}
END_TEST

/* ---- the outside: limits as the standards print them (ISO 286-2 and ISO 2768-1, from memory) ---------- */

static const struct { const char *fit; double size, lower, upper; } limits[] = {
    {"H7", 10, 0, 0.015},    {"H7", 10.001, 0, 0.018}, {"H7", 3, 0, 0.010},    {"H6", 32, 0, 0.016},
    {"m6", 10, 0.006, 0.015}, {"m6", 25, 0.008, 0.021}, {"g6", 32, -0.025, -0.009}, {"H7/m6", 12, 0, 0.018},
};
static const struct { const char *class; double size, off;
} general[] = {
    {"medium", 30, 0.2},  {"medium", 30.1, 0.3}, {"fine", 250, 0.2},
    {"coarse", 100, 0.8}, {"medium", 400, 0.5},
};

START_TEST(limits_are_those_of_the_standards)
{
    struct dieset *d = loaded(jobs[0]);
    double lower, upper, off;
    for (size_t i = 0; i < COUNT_OF(limits); i++) {
        ck_assert_msg(report_limits(d, limits[i].fit, limits[i].size, &lower, &upper), "%s", limits[i].fit);
        ck_assert_double_eq_tol(lower, limits[i].lower, 1e-9);
        ck_assert_double_eq_tol(upper, limits[i].upper, 1e-9);
    }
    ck_assert(!report_limits(d, "H7", 10000, &lower, &upper));
    ck_assert(!report_limits(d, "Q9", 10, &lower, &upper));
    for (size_t i = 0; i < COUNT_OF(general); i++) {
        ck_assert(report_general(d, general[i].class, general[i].size, &off));
        ck_assert_double_eq_tol(off, general[i].off, 1e-9);
    }
    ck_assert(!report_general(d, "not told", 30, &off));
    dieset_free(d);
}
END_TEST

/* A hardened die plate: taps before, fits and openings after; its dowels are reamed through no hard steel,
 * those of the soft punch plate and upper shoe together. */
START_TEST(letters_tell_hardening_and_what_is_made_together)
{
    struct dieset *d = loaded(jobs[0]);
    static const struct { const char *plate, *has, *lacks; } told[] = {
        {"die_plate", "tap M8, drill \u00d86.8, through, from below; before hardening; goes on in", "after"},
        {"die_plate", "ream \u00d810.0 H7 +0.015/0", "together with"},
        {"die_plate", "through, land 7.0 mm, relieved 0.5 deg a side below it; after hardening", "before"},
        {"upper_shoe", "; drift hole together with punch plate; goes on in punch backing", "hardening"},
    };
    for (size_t i = 0; i < COUNT_OF(told); i++) {
        int plate = dieset_find_item(d, told[i].plate), found = 0;
        struct report_datum from;
        struct report_chart c;
        ck_ok(report_datum_named(d, plate, DIESET_NEW, NULL, &from, why));
        report_chart_make(d, plate, DIESET_NEW, &from, &c);
        for (int k = 0; k < c.letters; k++) {
            struct base_text words = {0};
            report_machining(&c, k, &words);
            bool is = strstr(base_text_get(&words), told[i].has) != NULL;
            ck_assert_msg(!is || !strstr(base_text_get(&words), told[i].lacks), "%s", base_text_get(&words));
            found += is;
            base_text_done(&words);
        }
        ck_assert_msg(found > 0, "%s: no letter is \"%s\"", told[i].plate, told[i].has);
        report_chart_done(&c);
    }
    dieset_free(d);
}
END_TEST

/* ---- refusals ------------------------------------------------------------------------------------------ */

START_TEST(what_cannot_be_drawn_is_told)
{
    static const struct small_edit broken[] = {{"die_plate", "thickness", "40 mm / 0"}, {NULL, NULL, NULL}},
                                   large[] = {{"die_plate", "length", "30 m"}, {NULL, NULL, NULL}};
    struct sheet_book b;
    struct base_diag why = {0};
    struct dieset *d = small_dieset(small_handbook(), "tests/view/small-job.txt", broken);
    int plate = dieset_find_item(d, "die_plate");
    ck_assert_int_eq(sheet_plate(d, plate, DIESET_NEW, NULL, &titled, &b, &why), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(why.message, "die_plate cannot be drawn"));
    ck_assert_int_eq(sheet_set(d, DIESET_NEW, &titled, &b, &why), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(why.message, "The set cannot be drawn"));
    ck_assert_int_eq(sheet_strip(d, &titled, &b, &why), BASE_REFUSED); /* its stations bear no numbers */
    ck_assert_ptr_nonnull(strstr(why.message, "The strip cannot be drawn"));
    dieset_free(d);
    d = small_dieset(small_handbook(), "tests/view/small-job.txt", large);
    ck_assert_int_eq(sheet_plate(d, plate, DIESET_NEW, NULL, &titled, &b, &why), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(why.message, "too large for the largest sheet"));
    ck_assert_int_eq(sheet_plate(d, plate, DIESET_NEW, "nowhere", &titled, &b, &why), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(why.message, "cannot be counted from \"nowhere\""));
    dieset_free(d);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("sheet");
    TCase *t = tcase_create("sheet");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, every_round_hole_is_drawn_at_its_place, 0, (int)COUNT_OF(jobs));
    tcase_add_test(t, places_of_screws_are_told_letter_by_letter);
    tcase_add_test(t, numbers_of_parts_stand_off_the_openings);
    tcase_add_loop_test(t, words_are_in_the_frame_and_apart, 0, (int)COUNT_OF(jobs));
    tcase_add_test(t, each_line_of_the_order_list_has_its_number_in_the_view);
    tcase_add_test(t, a_cup_stands_in_the_set_as_it_is_drawn);
    tcase_add_loop_test(t, the_strip_shows_its_stations_and_the_part, 0, (int)COUNT_OF(strips));
    tcase_add_test(t, land_and_relief_are_shown_where_there_are_any);
    tcase_add_test(t, fields_begin_with_the_first);
    tcase_add_test(t, marks_are_those_of_the_chart);
    tcase_add_test(t, other_readers_take_the_pdf);
    tcase_add_test(t, limits_are_those_of_the_standards);
    tcase_add_test(t, letters_tell_hardening_and_what_is_made_together);
    tcase_add_test(t, what_cannot_be_drawn_is_told);
    suite_add_tcase(s, t);
    return run_suite(s);
}
