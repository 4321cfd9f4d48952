/* The papers of a die set: headers as promised, figures by hand from the small job (see
   tests/view/small-job.txt). */

#include "report.h"

#include "../view/small.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const JOB = "tests/view/small-job.txt";
static const struct small_edit inches[] = {{"job", "unit", "\"in\""}, {NULL, NULL, NULL}};

static char *written(const struct report_paper *p, enum report_format f)
{
    struct base_text out = {0};
    report_write(p, f, &out);
    return base_text_take(&out);
}

/* P in all three forms; CSV read back into C, JSON judged, the text form returned. */
static char *all_forms(struct report_paper *p, struct csv *c)
{
    char *text = written(p, REPORT_TEXT), *csv = written(p, REPORT_CSV), *json = written(p, REPORT_JSON);
    parse_csv(c, csv);
    json_check(json);
    ck_assert_int_eq(c->records, report_rows(p) + 1);
    ck_assert_int_le(widest_line(text), 80);
    free(csv);
    free(json);
    report_done(p);
    return text;
}

static void has_header(const struct csv *c, const char *header)
{
    struct base_text t = {0};
    for (int i = 0; i < c->columns; i++)
        base_text_addf(&t, "%s%s", i ? "," : "", csv_at(c, 0, i));
    ck_assert_str_eq(base_text_get(&t), header);
    base_text_done(&t);
}

static void ends_in_caution(const char *text)
{
    ck_assert_ptr_nonnull(strstr(text, "a check, not a permit to run"));
    ck_assert_ptr_nonnull(strstr(text, "decide."));
}

/* The first record in which COLUMN holds TEXT. */
static int record_with(const struct csv *c, const char *column, const char *text)
{
    for (int r = 1; r < c->records; r++)
        if (strcmp(csv_at(c, r, parsed_column(c, column)), text) == 0)
            return r;
    ck_abort_msg("no record with %s = %s", column, text);
    return -1;
}

static const char *field(const struct csv *c, int record, const char *column)
{
    return csv_at(c, record, parsed_column(c, column));
}

/* ---- values ------------------------------------------------------------------------ */

static const struct {
    const char *name, *state, *value, *unit;
} shown[] = {
    {"stack.shut_height", "new", "246", "mm"}, {"stack.shut_height", "ground", "238", "mm"},
    {"die_plate.thickness", "", "40", "mm"},   {"die_plate.moves", "", "with the bed", ""},
    {"die_plate.hardened", "", "no", ""},      {"stack.die_plate", "", "die_plate", ""},
    {"posts.lay.end", "", "45", "mm"},
};

static void show(struct dieset *d, const char *name, struct report_paper *p)
{
    int q = dieset_find(d, name);
    ck_assert_msg(q >= 0, "no %s", name);
    report_show(d, &q, 1, p);
}

START_TEST(show_gives_values_exactly)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_paper p;
    struct csv c;
    show(d, shown[_i].name, &p);
    free(all_forms(&p, &c));
    has_header(&c, "name,state,value,unit,formula");
    int r = record_with(&c, "state", shown[_i].state);
    ck_assert_str_eq(field(&c, r, "name"), shown[_i].name);
    ck_assert_str_eq(field(&c, r, "value"), shown[_i].value);
    ck_assert_str_eq(field(&c, r, "unit"), shown[_i].unit);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(show_keeps_full_precision_in_inches)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, inches);
    struct report_paper p;
    struct csv c;
    show(d, "die_plate.thickness", &p);
    char *text = all_forms(&p, &c);
    ck_assert_double_eq_tol(strtod(field(&c, 1, "value"), NULL), 40 / 25.4, 1e-11);
    ck_assert_str_eq(field(&c, 1, "unit"), "in");
    ck_assert_str_eq(field(&c, 1, "formula"), "40 mm");
    ck_assert_ptr_nonnull(strstr(text, "1.5748"));
    ck_assert_ptr_null(strstr(text, "1.57480"));
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

static const struct small_edit broken[] = {{"die_plate", "thickness", "40 mm / 0"}, {NULL, NULL, NULL}};

START_TEST(an_error_is_null_in_data_and_words_in_text)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, broken);
    struct report_paper p;
    struct csv c;
    show(d, "stack.shut_height", &p);
    char *json = written(&p, REPORT_JSON);
    ck_assert_ptr_nonnull(strstr(json, "\"value\": null"));
    free(json);
    char *text = all_forms(&p, &c);
    ck_assert_str_eq(field(&c, 1, "value"), "");
    ck_assert_ptr_nonnull(strstr(text, formula_error_text(FORMULA_DIVISION)));
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(moves_tell_was_and_is)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct typed_change change = {TYPED_ENTRY, "die_backing", "thickness", "12 mm", "16.5 mm"};
    ck_ok(dieset_try(d, &change, 1, why));
    const struct dieset_move *moves;
    int n = dieset_moves(d, &moves);
    struct report_paper p;
    struct csv c;
    report_moves(d, moves, n, &p);
    char *text = all_forms(&p, &c);
    has_header(&c, "name,state,was,is,unit");
    int r = record_with(&c, "name", "stack.shut_height");
    ck_assert_str_eq(field(&c, r, "was"), "246");
    ck_assert_str_eq(field(&c, r, "is"), "250.5");
    r = record_with(&c, "name", "die_backing.thickness");
    ck_assert_str_eq(field(&c, r, "was"), "12");
    ck_assert_str_eq(field(&c, r, "is"), "16.5");
    free(text);
    parsed_done(&c);
    dieset_drop(d);
    dieset_free(d);
}
END_TEST

/* ---- findings ----------------------------------------------------------------------- */

START_TEST(check_tells_all_of_a_finding)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct findings *f = findings_new(d);
    const struct finding *list;
    findings_judge(f, &list);
    struct report_paper p;
    struct csv c;
    report_check(f, &p);
    char *text = all_forms(&p, &c);
    has_header(&c, "grade,rule,item,state,value,limit,margin,message,source,read");
    int r = record_with(&c, "rule", "press-window");
    ck_assert_int_eq(r, 1); /* the gravest first */
    ck_assert_str_eq(field(&c, r, "grade"), "fault");
    ck_assert_str_eq(field(&c, r, "state"), "ground");
    ck_assert_str_eq(field(&c, r, "value"), "238");
    ck_assert_str_eq(field(&c, r, "limit"), "240");
    ck_assert_str_eq(field(&c, r, "margin"), "-2");
    ck_assert_str_eq(field(&c, r, "source"), "handbook of the test");
    r = record_with(&c, "item", "punch_backing");
    ck_assert_str_eq(field(&c, r, "grade"), "caution");
    ck_assert_ptr_nonnull(strstr(field(&c, r, "message"), "\"or more\", as shops say"));
    ck_assert_int_eq(strncmp(text, "1 fault, 2 cautions, 0 notes\n", 29), 0);
    ck_assert_ptr_nonnull(strstr(text, "\n!! fault"));
    ck_assert_ptr_nonnull(strstr(text, "\n ! caution"));
    matches_kept(text, "tests/report/kept/check.txt");
    ends_in_caution(text);
    free(text);
    parsed_done(&c);
    findings_free(f);
    dieset_free(d);
}
END_TEST

START_TEST(a_corner_is_named)
{
    static const struct {
        const char *text;
        double x, y;
    } named[] = {
        {"left front", -125, -80},   {"right front", 125, -80}, {"left-back", -125, 80},
        {"right back", 125, 80},     {"right-back", 125, 80},   {"centre lines", 0, 0},
        {"pierce", -48, 0},          {"right", NAN, 0},         {"right ", NAN, 0},
        {"back right", NAN, 0},      {"right back ", NAN, 0},   {"", NAN, 0},
        {"r back", NAN, 0},          {"rightback", NAN, 0},     {"no_group", NAN, 0},
        {"pierce.no_point", NAN, 0}, {"punch_screws", NAN, 0},
    };
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    int plate = dieset_find_item(d, "die_plate");
    for (size_t i = 0; i < COUNT_OF(named); i++) {
        struct report_datum at;
        struct base_diag why = {0};
        enum base_err err = report_datum_named(d, plate, DIESET_NEW, named[i].text, &at, &why);
        ck_assert_msg((err == BASE_OK) == isfinite(named[i].x), "\"%s\"", named[i].text);
        ck_assert_msg(err || (fabs(at.x - named[i].x) < 1e-9 && fabs(at.y - named[i].y) < 1e-9), "\"%s\"",
                      named[i].text);
        ck_assert(!err || strstr(why.message, "centre lines"));
    }
    dieset_free(d);
}
END_TEST

/* One letter for one machining, whatever the group; figures by x, then y; and no I, O or Q. */
START_TEST(letters_stand_for_machining)
{
    static const struct {
        const char *group, *mark;
        double x, y;
    } marked[] = {
        {"die_screws", "A1", 25, 20},   {"die_screws", "A2", 25, 140}, {"die_screws", "A3", 225, 20},
        {"die_screws", "A4", 225, 140}, {"die_dowels", "B1", 45, 20},  {"die_dowels", "B2", 205, 140},
        {"pierce", "C1", 77, 80},       {"blank", "D1", 173, 80},
    };
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_datum at;
    struct report_chart c;
    char buf[16];
    int plate = dieset_find_item(d, "die_plate");
    ck_ok(report_datum_named(d, plate, DIESET_NEW, NULL, &at, why));
    report_chart_make(d, plate, DIESET_NEW, &at, &c);
    ck_assert_int_eq(c.letters, 4);
    ck_assert_int_eq(report_letter_places(&c, 0), 4);
    for (size_t i = 0; i < COUNT_OF(marked); i++) {
        int k = 0;
        while (k < c.n && (fabs(c.at[k].x - marked[i].x) > 1e-6 || fabs(c.at[k].y - marked[i].y) > 1e-6))
            k++;
        ck_assert_int_lt(k, c.n);
        ck_assert_str_eq(dieset_item_name(d, c.at[k].hole.item), marked[i].group);
        ck_assert_str_eq(report_mark(&c.at[k], buf, sizeof buf), marked[i].mark);
    }
    ck_assert_str_eq(report_letter(7, buf, sizeof buf), "H");
    ck_assert_str_eq(report_letter(8, buf, sizeof buf), "J");
    ck_assert_str_eq(report_letter(13, buf, sizeof buf), "P");
    ck_assert_str_eq(report_letter(14, buf, sizeof buf), "R");
    ck_assert_str_eq(report_letter(22, buf, sizeof buf), "Z");
    ck_assert_str_eq(report_letter(23, buf, sizeof buf), "AA");
    report_chart_done(&c);
    dieset_free(d);
}
END_TEST

/* ---- hole chart ------------------------------------------------------------------------ */

/* Die plate 250 x 160: screws 25 from the ends and 20 from the sides, dowels 45 and 20, punches on the centre
   line. */
static const struct {
    const char *corner, *hole, *group, *operation, *x, *y;
} charted[] = {
    {"left front", "1", "die_screws", "tapped hole", "25", "20"},
    {"left front", "2", "die_screws", "tapped hole", "25", "140"},
    {"left front", "3", "die_dowels", "reamed hole", "45", "20"},
    {"left front", "4", "pierce", "die opening", "77", "80"},
    {"left front", "5", "blank", "die opening 26.0 x 44.0 corner 5.0", "173", "80"},
    {"left front", "6", "die_dowels", "reamed hole", "205", "140"},
    {"left front", "7", "die_screws", "tapped hole", "225", "20"},
    {"left front", "8", "die_screws", "tapped hole", "225", "140"},
    {"right back", "3", "die_dowels", "reamed hole", "45", "20"},
    {"right back", "4", "blank", "die opening 26.0 x 44.0 corner 5.0", "77", "80"},
    {"right front", "3", "die_dowels", "reamed hole", "45", "140"},
    {"left back", "3", "die_dowels", "reamed hole", "45", "140"},
};

START_TEST(chart_counts_from_the_corner)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, dieset_find_item(d, "die_plate"), DIESET_NEW, charted[_i].corner, &p, why));
    char *text = all_forms(&p, &c);
    has_header(&c, "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,"
                   "together,hardening,length,width,corner,turn,land,relief,thread_depth");
    ck_assert_int_eq(c.records, 9);
    int r = record_with(&c, "hole", charted[_i].hole);
    ck_assert_str_eq(field(&c, r, "plate"), "die_plate");
    ck_assert_str_eq(field(&c, r, "group"), charted[_i].group);
    ck_assert_str_eq(field(&c, r, "operation"), charted[_i].operation);
    ck_assert_double_eq_tol(strtod(field(&c, r, "x"), NULL), strtod(charted[_i].x, NULL), 1e-9);
    ck_assert_double_eq_tol(strtod(field(&c, r, "y"), NULL), strtod(charted[_i].y, NULL), 1e-9);
    char *named = base_format("%s corner", charted[_i].corner);
    ck_assert_ptr_nonnull(strstr(text, named));
    free(named);
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

/* The blank as a half disc of 20 about 48, 0, its opening 0.5 larger; seen from the right front corner all is
   mirrored. */
START_TEST(an_outline_stands_in_the_chart_side_by_side)
{
    static const struct small_edit half_disc[] = {
        {"blank", "shape", "\"outline\""},
        {"blank", "outline/1", "at 20 mm, 0 mm"},
        {"blank", "outline/2", "arc to -20 mm, 0 mm radius 20 mm left"},
        {NULL, NULL, NULL},
    };
    struct dieset *d = small_dieset(small_handbook(), JOB, half_disc);
    int plate = dieset_find_item(d, "die_plate");
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, plate, DIESET_NEW, "left front", &p, why));
    char *text = all_forms(&p, &c);
    matches_kept(text, "tests/report/kept/holes-outline.txt");
    free(text);
    int r = record_with(&c, "operation", "die opening by its outline");
    ck_assert_str_eq(field(&c, r, "diameter"), "");
    ck_assert_str_eq(field(&c, r + 1, "operation"), "from");
    ck_assert_str_eq(field(&c, r + 2, "operation"), "arc 20.5 left to");
    ck_assert_str_eq(field(&c, r + 3, "operation"), "arc 0.5 left to");
    ck_assert_str_eq(field(&c, r + 4, "operation"), "line to");
    ck_assert_str_eq(field(&c, r + 1, "hole"), field(&c, r, "hole"));
    ck_assert_double_eq_tol(strtod(field(&c, r + 1, "x"), NULL), strtod(field(&c, r, "x"), NULL) + 20.5,
                            1e-9);
    ck_assert_double_eq_tol(strtod(field(&c, r + 2, "x"), NULL), strtod(field(&c, r, "x"), NULL) - 20.5,
                            1e-9);
    ck_assert_double_eq_tol(strtod(field(&c, r + 4, "y"), NULL), strtod(field(&c, r, "y"), NULL) - 0.5, 1e-9);
    parsed_done(&c);
    ck_ok(report_holes(d, plate, DIESET_NEW, "right front", &p, why));
    text = all_forms(&p, &c);
    ck_assert_str_eq(field(&c, record_with(&c, "operation", "from") + 1, "operation"), "arc 20.5 right to");
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

/* What of a rectangle is rounded as far as it can be is an obround, told by length and width, whichever is
   the longer; what is rounded less has its corners told. The small handbook's openings have corners of 5. */
static const struct {
    const char *along, *across, *operation;
} rounded[] = {
    {"10 mm", "44 mm", "die opening obround 10.0 x 44.0"},
    {"26 mm", "10 mm", "die opening obround 26.0 x 10.0"},
    {"26 mm", "10.1 mm", "die opening 26.0 x 10.1 corner 5.0"},
    {"10.1 mm", "44 mm", "die opening 10.1 x 44.0 corner 5.0"},
};

START_TEST(an_obround_is_told_by_both_its_sides)
{
    const struct small_edit edits[] = {{"blank", "along", rounded[_i].along},
                                       {"blank", "across", rounded[_i].across},
                                       {NULL, NULL, NULL}};
    struct dieset *d = small_dieset(small_handbook(), JOB, edits);
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, dieset_find_item(d, "die_plate"), DIESET_NEW, "left front", &p, why));
    char *text = all_forms(&p, &c);
    ck_assert_str_eq(field(&c, record_with(&c, "group", "blank"), "operation"), rounded[_i].operation);
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

/* A micrometre apart are two axes, in x and in y alike; less than a nanometre is one. */
static const struct {
    const char *x, *y;
    bool one;
} axes[] = {
    {"0.0000001 mm", "0 mm", true},
    {"0 mm", "0.0000001 mm", true},
    {"0.00001 mm", "0 mm", false},
    {"0 mm", "0.00001 mm", false},
};

/* Two screws of one item, the second brought to the first at -100, -60. */
START_TEST(holes_a_trace_apart_are_not_on_one_axis)
{
    char *x = base_format("-100 mm + %s", axes[_i].x), *y = base_format("-60 mm + %s", axes[_i].y);
    const struct small_edit edits[] = {{"die_screws", "lay/right_front/x", x},
                                       {"die_screws", "lay/right_front/y", y},
                                       {NULL, NULL, NULL}};
    struct dieset *d = small_dieset(small_handbook(), JOB, edits);
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, dieset_find_item(d, "die_plate"), DIESET_NEW, "left front", &p, why));
    char *text = all_forms(&p, &c);
    int first = record_with(&c, "group", "die_screws");
    ck_assert_str_eq(field(&c, first + 1, "group"), "die_screws");
    ck_assert_int_eq(strcmp(field(&c, first, "hole"), field(&c, first + 1, "hole")) == 0, axes[_i].one);
    free(text);
    parsed_done(&c);
    dieset_free(d);
    free(x);
    free(y);
}
END_TEST

START_TEST(one_axis_is_one_number)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, dieset_find_item(d, "upper_shoe"), DIESET_NEW, "left front", &p, why));
    char *text = all_forms(&p, &c);
    int r = record_with(&c, "operation", "counterbore");
    ck_assert_str_eq(field(&c, r + 1, "operation"), "clear hole");
    ck_assert_str_eq(field(&c, r, "hole"), field(&c, r + 1, "hole"));
    ck_assert_str_eq(field(&c, r, "depth"), "12");
    ck_assert_str_eq(field(&c, r, "face"), "top");
    ck_assert_str_eq(field(&c, r + 1, "depth"), ""); /* right through */
    r = record_with(&c, "operation", "spring pocket");
    ck_assert_str_eq(field(&c, r, "face"), "bottom");
    ck_assert_str_eq(field(&c, r, "depth"), "20");
    matches_kept(text, "tests/report/kept/holes-upper-shoe.txt");
    ends_in_caution(text);
    ck_assert_ptr_nonnull(strstr(text, "Springs are loaded"));
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(chart_of_all_plates_has_all_holes)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_paper p;
    struct csv c;
    ck_ok(report_holes(d, -1, DIESET_NEW, "left front", &p, why));
    ck_assert_int_eq(report_rows(&p), dieset_hole_count(d));
    char *text = all_forms(&p, &c);
    ck_assert_str_eq(field(&c, 1, "plate"), "upper_shoe");
    ck_assert_str_eq(field(&c, c.records - 1, "plate"), "lower_shoe");
    ck_assert_ptr_nonnull(strstr(text, "die plate: 250.0 x 160.0 x 40.0 mm, 1.2379"));
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

/* ---- what is printed reads back ------------------------------------------------------------ */

/* Does TEXT, as far as its digits go, say NUMBER? */
static bool says(const char *text, double number)
{
    const char *point = strchr(text, '.');
    int decimals = point ? (int)strspn(point + 1, "0123456789") : 0;
    return fabs(strtod(text, NULL) - number) <= 0.5000001 * pow(10, -decimals);
}

/* The next word of the row at *AT holds what the data has in COLUMN; nothing stands there for nothing. */
static void reads_as(char **rest, const struct csv *c, int record, const char *column)
{
    const char *data = field(c, record, column);
    if (!*data)
        return;
    char *word = strtok_r(NULL, " ", rest);
    ck_assert_msg(word && says(word, strtod(data, NULL)), "record %d: %s is printed as %s, not %s", record,
                  column, word, data);
}

/* Do the next words of the row at *AT say the item NAME, in words? */
static bool names_group(char **rest, const char *name)
{
    char *words = base_copy(name), *inner = NULL;
    bool said = true;
    for (char *word = strtok_r(words, "_", &inner); word && said; word = strtok_r(NULL, "_", &inner)) {
        char *next = strtok_r(NULL, " ", rest);
        said = next && strcmp(next, word) == 0;
    }
    free(words);
    return said;
}

/* TEXT's row for each record of C, in their order: "A3 die screws 94.333 38.0 bottom 6.8 through". */
static void rows_read_as(char *text, const struct csv *c)
{
    int record = 1;
    char *lines = NULL, *rest = NULL;
    for (char *line = strtok_r(text, "\n", &lines); line && record < c->records;
         line = strtok_r(NULL, "\n", &lines)) {
        char *copy = base_copy(line), *mark = strtok_r(copy, " ", &rest);
        if (mark && strcmp(mark, field(c, record, "mark")) == 0 &&
            names_group(&rest, field(c, record, "group"))) {
            reads_as(&rest, c, record, "x");
            reads_as(&rest, c, record, "y");
            ck_assert_str_eq(strtok_r(NULL, " ", &rest), field(c, record, "face"));
            reads_as(&rest, c, record, "diameter");
            reads_as(&rest, c, record, "depth");
            record++;
        }
        free(copy);
    }
    ck_assert_int_eq(record, c->records);
}

static bool is_at(double value, double unit, const char *data)
{
    return fabs(value / unit - strtod(data, NULL)) < (unit > 1 ? 0.5e-4 : 0.5e-3) + 1e-9;
}

/* Each hole of PLATE is one record, counted from the plate's left front corner. */
static void holes_are_in(const struct dieset *d, int plate, enum dieset_state s, const struct csv *c)
{
    double unit = unit_display(UNIT_LENGTH, dieset_system(d)).factor;
    struct dieset_plate at = dieset_plate(d, plate, s);
    int first, n = dieset_plate_holes(d, plate, &first);
    bool *taken = base_alloc((size_t)c->records + 1);
    ck_assert_int_eq(n, c->records - 1);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, s, &h);
        bool round = h.length <= 0 && !h.sides;
        int r = 1;
        while (r < c->records &&
               (taken[r] || strcmp(field(c, r, "group"), dieset_item_name(d, h.item)) != 0 ||
                strncmp(field(c, r, "operation"), h.spec->title, strlen(h.spec->title)) != 0 ||
                !is_at(h.x - at.left, unit, field(c, r, "x")) ||
                !is_at(h.y - at.front, unit, field(c, r, "y")) ||
                (round && !is_at(h.diameter, unit, field(c, r, "diameter"))) ||
                (*field(c, r, "depth") && !is_at(h.depth, unit, field(c, r, "depth")))))
            r++;
        ck_assert_msg(r < c->records, "%s in %s at %g, %g is in no record", dieset_item_name(d, h.item),
                      dieset_item_name(d, plate), h.x, h.y);
        taken[r] = true;
    }
    free(taken);
}

static const char *const read_back[] = {"data/demo/cover-plate.txt", "data/demo/spacer-plate.txt"};

/* Data holds every figure of the model, and print holds the data to its last printed digit. */
START_TEST(every_figure_of_the_hole_charts_reads_back)
{
    struct handbook *h;
    ck_ok(handbook_load("data", &h, why));
    struct dieset *d = small_dieset(h, read_back[_i / DIESET_STATES], NULL);
    enum dieset_state s = (enum dieset_state)(_i % DIESET_STATES);
    int plates = 0;
    for (int i = 0; i < dieset_item_count(d); i++) {
        struct report_paper p;
        struct csv c;
        int first;
        if (dieset_plate_holes(d, i, &first) == 0)
            continue;
        ck_ok(report_holes(d, i, s, "left front", &p, why));
        char *text = all_forms(&p, &c);
        holes_are_in(d, i, s, &c);
        rows_read_as(text, &c);
        free(text);
        parsed_done(&c);
        plates++;
    }
    ck_assert_int_ge(plates, 6);
    dieset_free(d);
    handbook_free(h);
}
END_TEST

/* ---- order list --------------------------------------------------------------------------- */

/* The figures of a plate's size, "400 x 306 x 50.013 mm", are the model's, to the last that is printed. */
static void is_size_of(const struct dieset *d, int plate, const char *size)
{
    static const char *const sides[] = {"length", "width", "thickness"};
    double unit = unit_display(UNIT_LENGTH, dieset_system(d)).factor, most = unit > 1 ? 0.00006 : 0.00051;
    char *copy = base_copy(size), *rest = NULL, *word = strtok_r(copy, "x", &rest);
    for (size_t i = 0; i < COUNT_OF(sides); i++, word = strtok_r(NULL, "x", &rest)) {
        char *path = base_format("%s.%s", dieset_item_name(d, plate), sides[i]);
        double value = dieset_value(d, dieset_find(d, path), DIESET_NEW).number;
        ck_assert_msg(word && fabs(strtod(word, NULL) - value / unit) < most, "%s is ordered as %s", path,
                      size);
        free(path);
    }
    free(copy);
}

/* The row of TEXT that begins with the record's line and pieces ends in its mass, if that is known. */
static void row_reads_as(const char *text, const struct csv *c, int record)
{
    int line, pieces, want = atoi(field(c, record, "line")),
        want_pieces = atoi(field(c, record, "quantity"));
    const char *at = text, *mass = field(c, record, "mass");
    while (at && (sscanf(at, "%d %d", &line, &pieces) != 2 || line != want || pieces != want_pieces))
        at = (at = strchr(at, '\n')) ? at + 1 : NULL;
    ck_assert_msg(at, "line %d of %d pieces is not printed", want, want_pieces);
    char *row = base_copy_n(at, strcspn(at, "\n")), *last = strrchr(row, ' ');
    ck_assert_msg(!*mass || (last && says(last + 1, strtod(mass, NULL))), "%s, not %s", row, mass);
    free(row);
}

/* Data holds what the model has, and print holds the data to its last printed digit. */
START_TEST(every_figure_of_the_order_list_reads_back)
{
    struct handbook *h;
    struct report_paper p;
    struct csv c;
    ck_ok(handbook_load("data", &h, why));
    struct small_edit edits[] = {{"upper_shoe", "thickness", "50.0135 mm"}, {NULL, NULL, NULL}};
    struct dieset *d = small_dieset(h, read_back[_i], edits);
    report_order(d, NULL, NULL, &p);
    char *text = all_forms(&p, &c);
    int plates = 0;
    for (int r = 1; r < c.records; r++) {
        int item = dieset_find_item(d, field(&c, r, "item"));
        row_reads_as(text, &c, r);
        if (strncmp(field(&c, r, "designation"), "Plate, ", 7) != 0)
            continue;
        is_size_of(d, item, field(&c, r, "size"));
        plates++;
    }
    ck_assert_int_ge(plates, 6);
    free(text);
    parsed_done(&c);
    dieset_free(d);
    handbook_free(h);
}
END_TEST

/* A foil of 200 x 160 x 0.5 mm weighs 0.126 kg: no less in the list, and in its sum, than a plate. */
START_TEST(a_line_under_a_kilogram_counts)
{
    static const struct small_edit edits[] = {{"foil", "", "plate"},
                                              {"foil", "thickness", "0.5 mm"},
                                              {"die_plate", "thickness", "0.4 mm"},
                                              {NULL, NULL, NULL}};
    struct dieset *d = small_dieset(small_handbook(), JOB, edits);
    struct report_paper p;
    struct csv c;
    report_order(d, NULL, NULL, &p);
    char *text = all_forms(&p, &c);
    double foil = strtod(field(&c, record_with(&c, "item", "foil"), "mass"), NULL);
    ck_assert_double_eq_tol(foil, 0.2 * 0.16 * 0.0005 * 7850, 0.5e-3);
    ck_assert_double_eq_tol(strtod(field(&c, record_with(&c, "item", "die_plate"), "mass"), NULL),
                            0.25 * 0.16 * 0.0004 * 7850, 0.5e-3);
    /* shoes 400 x 250 x 103, plates 250 x 160 x 81.4, and the foil */
    double total = (0.4 * 0.25 * 0.103 + 0.25 * 0.16 * 0.0814) * 7850 + foil;
    char *says = base_format("total mass %.1f kg", total);
    ck_assert_msg(strstr(text, says), "%s\n%s", says, text);
    free(says);
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

START_TEST(order_list_counts_and_weighs)
{
    struct dieset *d = small_dieset(small_handbook(), JOB, NULL);
    struct report_paper p;
    struct csv c;
    report_order(d, NULL, NULL, &p);
    char *text = all_forms(&p, &c);
    has_header(&c,
               "line,quantity,designation,size,material,mass,item,hardness,finish,raw,spares,used_in,price,"
               "price_all,wanted_by,remark,change");
    double total = 0;
    for (int r = 1; r < c.records; r++) {
        ck_assert_int_eq(atoi(field(&c, r, "line")), r);
        total += strtod(field(&c, r, "mass"), NULL);
    }
    int r = record_with(&c, "item", "die_plate");
    /* 250 x 160 x 40 mm at 7850 kg/m3 */
    ck_assert_double_eq_tol(strtod(field(&c, r, "mass"), NULL), 0.25 * 0.16 * 0.04 * 7850, 1e-9);
    /* shoes 400 x 250 x 103, plates 250 x 160 x 121 */
    ck_assert_double_eq_tol(total, (0.4 * 0.25 * 0.103 + 0.25 * 0.16 * 0.121) * 7850, 1e-9);
    ck_assert_ptr_nonnull(strstr(text, "total mass 118.8 kg"));
    r = record_with(&c, "item", "springs");
    ck_assert_str_eq(field(&c, r, "quantity"), "4");
    ck_assert_str_eq(field(&c, r, "designation"), "Spring (rate by the maker's sheet)");
    ck_assert_str_eq(field(&c, r, "mass"), "");
    matches_kept(text, "tests/report/kept/order.txt");
    ends_in_caution(text);
    free(text);
    parsed_done(&c);
    dieset_free(d);
}
END_TEST

/* ---- handbook ------------------------------------------------------------------------------- */

START_TEST(examples_are_tried)
{
    struct report_paper p;
    struct csv c;
    int failed = -1;
    report_examples(small_handbook(), &p, &failed);
    char *text = all_forms(&p, &c);
    has_header(&c, "example,tried,computed,printed,within,agrees,source,read");
    ck_assert_int_eq(failed, 0);
    ck_assert_int_eq(c.records, 3);
    ck_assert_str_eq(field(&c, 1, "tried"), "2 mm + 3 mm");
    ck_assert_str_eq(field(&c, 1, "agrees"), "yes");
    ck_assert_str_eq(field(&c, 2, "agrees"), "differs, a slip in the source");
    free(text);
    parsed_done(&c);
}
END_TEST

static const char PARTS[] =
    "# title: Pins and their springs\n# standard: S 7\n# source: invented\n# confidence: invented\n"
    "# note: Check against the sheet.\n"
    "size,length_mm,rate_n_per_mm\nM8,30,41.2\n\"M10, fine\",35.5,\n";

START_TEST(parts_come_with_units_and_confidence)
{
    struct base_pool *pool = base_pool_new();
    struct table_set *t = table_set_new(pool);
    ck_ok(table_set_file(t, "pins.csv", PARTS, strlen(PARTS), why));
    static const char *const size[] = {"size"}, *const length[] = {"length_mm"},
                             *const rate[] = {"rate_n_per_mm"}, *const files[] = {"pins.csv"};
    const struct table_column_spec columns[] = {
        {"size", true, {0, 0, 0, 0}, size, 1, false, NULL},
        {"length", false, UNIT_LENGTH, length, 1, false, NULL},
        {"rate", false, UNIT_RATE, rate, 1, false, NULL},
    };
    const struct table_spec spec = {"pin", "Pins of the test.", files, 1, columns, 3, NULL, NULL, 0};
    int table;
    ck_ok(table_set_declare(t, &spec, &table, why));
    struct report_paper p;
    struct csv c;
    report_parts(t, table, &p);
    char *text = all_forms(&p, &c);
    ck_assert_msg(strstr(text, "pin: Pins of the test.") && strstr(text, "Pins and their springs.") &&
                      strstr(text, "Check against the sheet."),
                  "%s", text);
    free(text);
    has_header(&c, "size,length_mm,rate_n_per_mm,confidence,standard,source");
    ck_assert_str_eq(field(&c, 1, "standard"), "S 7");
    ck_assert_str_eq(field(&c, 1, "rate_n_per_mm"), "41.2");
    ck_assert_str_eq(field(&c, 2, "size"), "M10, fine");
    ck_assert_str_eq(field(&c, 2, "length_mm"), "35.5");
    ck_assert_str_eq(field(&c, 2, "rate_n_per_mm"), "");
    ck_assert_str_eq(field(&c, 2, "confidence"), table_confidence_text(TABLE_INVENTED));
    parsed_done(&c);
    report_parts(t, -1, &p);
    free(all_forms(&p, &c));
    has_header(&c, "table,rows,standard,confidence,help");
    ck_assert_str_eq(field(&c, 1, "table"), "pin");
    ck_assert_str_eq(field(&c, 1, "rows"), "2");
    parsed_done(&c);
    table_set_free(t);
    base_pool_free(pool);
}
END_TEST

TCase *lists_case(void)
{
    TCase *t = tcase_create("lists");
    tcase_add_loop_test(t, show_gives_values_exactly, 0, (int)COUNT_OF(shown));
    tcase_add_test(t, show_keeps_full_precision_in_inches);
    tcase_add_test(t, an_error_is_null_in_data_and_words_in_text);
    tcase_add_test(t, moves_tell_was_and_is);
    tcase_add_test(t, check_tells_all_of_a_finding);
    tcase_add_test(t, a_corner_is_named);
    tcase_add_test(t, letters_stand_for_machining);
    tcase_add_loop_test(t, chart_counts_from_the_corner, 0, (int)COUNT_OF(charted));
    tcase_add_test(t, an_outline_stands_in_the_chart_side_by_side);
    tcase_add_test(t, one_axis_is_one_number);
    tcase_add_loop_test(t, an_obround_is_told_by_both_its_sides, 0, COUNT_OF(rounded));
    tcase_add_loop_test(t, holes_a_trace_apart_are_not_on_one_axis, 0, COUNT_OF(axes));
    tcase_add_test(t, a_line_under_a_kilogram_counts);
    tcase_add_test(t, chart_of_all_plates_has_all_holes);
    tcase_add_loop_test(t, every_figure_of_the_hole_charts_reads_back, 0,
                        COUNT_OF(read_back) * DIESET_STATES);
    tcase_add_loop_test(t, every_figure_of_the_order_list_reads_back, 0, COUNT_OF(read_back));
    tcase_add_test(t, order_list_counts_and_weighs);
    tcase_add_test(t, examples_are_tried);
    tcase_add_test(t, parts_come_with_units_and_confidence);
    return t;
}
