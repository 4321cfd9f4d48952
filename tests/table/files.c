/* Reading files: CSV, numbers, units of columns, remarks, confidence, and what is refused. */

#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "table/cell.h"

/* ---- cells ------------------------------------------------------------------ */

static const struct { const char *text; double number; } numbers[] = {
    {"12", 12}, {"-0.5", -0.5}, {"+3", 3}, {".25", 0.25}, {"7.", 7}, {"1e3", 1000}, {"2.5E-2", 0.025},
    {"5/32", 0.15625}, {"1 1/64", 1.015625}, {"-1/2", -0.5}, {"1/24", 1 / 24.0}, {"0", 0},
};

START_TEST(number_reads)
{
    double n = NAN;
    ck_assert_msg(cell_read_number(numbers[_i].text, &n), "%s", numbers[_i].text);
    ck_assert_double_eq(n, numbers[_i].number);
}
END_TEST

static const char *const no_numbers[] = {
    "", " ", "-", ".", "1,5", "1 5", "12mm", "12 ", " 12", "0x10", "inf", "nan", "1e999", "1e", "--1",
    "1/0", "1/", "/2", "1 1", "1/2/3", "1.5/2", "5/-3", "1  1/2", "62..64", "least 60", "1_000",
};

START_TEST(no_number_does_not_read)
{
    double n;
    ck_assert_msg(!cell_read_number(no_numbers[_i], &n), "\"%s\" read as %g", no_numbers[_i], n);
}
END_TEST

static const struct unit_dim frequency = {0, 0, -UNIT_POWER, 0};
static const struct { const char *name, *stem; double factor; const struct unit_dim *dim;
} endings[] = {
    {"length_mm", "length", 1, &UNIT_LENGTH},
    {"length_MM", "length", 1, &UNIT_LENGTH},
    {"pitch_in", "pitch", 25.4, &UNIT_LENGTH},
    {"upper_um", "upper", 0.001, &UNIT_LENGTH},
    {"stress_area_mm2", "stress_area", 1, &UNIT_AREA},
    {"stress_area_in2", "stress_area", 25.4 * 25.4, &UNIT_AREA},
    {"proof_MPa", "proof", 1, &UNIT_PRESSURE},
    {"proof_mpa", "proof", 1, &UNIT_PRESSURE},
    {"modulus_gpa", "modulus", 1000, &UNIT_PRESSURE},
    {"proof_psi", "proof", 0.0068947572931683613, &UNIT_PRESSURE},
    {"rated_kN", "rated", 1000, &UNIT_FORCE},
    {"force_n", "force", 1, &UNIT_FORCE},
    {"rated_ton_us", "rated", 8896.443230521, &UNIT_FORCE},
    {"rate_n_per_mm", "rate", 1, &UNIT_RATE},
    {"rate_lbf_per_in", "rate", 0.17512683524647636, &UNIT_RATE},
    {"upper_mass_kg", "upper_mass", 0.001, &UNIT_MASS},
    {"density_kg_m3", "density", 1e-12, &UNIT_DENSITY},
    {"tilt_deg", "tilt", 0.017453292519943295, &UNIT_ANGLE},
    {"tilt_arcmin", "tilt", 0.017453292519943295 / 60, &UNIT_ANGLE},
    {"share_pct", "share", 0.01, &UNIT_NUMBER},
    {"strokes_per_min", "strokes", 1 / 60.0, &frequency},
    {"torque_n_m", "torque", 1000, &UNIT_WORK},
    /* no unit: the whole name */
    {"size", "size", 1, &UNIT_NUMBER},
    {"threads_per_inch", "threads_per_inch", 1, &UNIT_NUMBER},
    {"strokes_min", "strokes_min", 1, &UNIT_NUMBER},
    {"hardness_hrc", "hardness_hrc", 1, &UNIT_NUMBER},
    {"mm", "mm", 1, &UNIT_NUMBER},
    {"_mm", "_mm", 1, &UNIT_NUMBER},
    {"trim", "trim", 1, &UNIT_NUMBER},
};

START_TEST(unit_stands_at_the_end_of_the_name)
{
    struct unit_dim dim;
    double factor;
    size_t n = cell_column_unit(endings[_i].name, &dim, &factor);
    ck_assert_msg(n == strlen(endings[_i].stem), "%s: %zu", endings[_i].name, n);
    ck_assert_msg(unit_same(dim, *endings[_i].dim), "%s", endings[_i].name);
    ck_assert_double_eq_tol(factor, endings[_i].factor, 1e-12 * endings[_i].factor);
}
END_TEST

/* ---- text ---------------------------------------------------------------------- */

static const struct { const char *csv, *cell; } texts[] = {
    {"a,b\nx,y\n", "y"},
    {"a,b\r\nx,y\r\n", "y"},
    {"a,b\nx,y", "y"},
    {"\xEF\xBB\xBF" "a,b\nx,y\n", "y"},
    {"# title: t\n#\n\na,b\n\nx,y\n\n", "y"},
    {"a,b\nx,\"y, z\"\n", "y, z"},
    {"a,b\nx,\"say \"\"y\"\"\"\n", "say \"y\""},
    {"a,b\nx,\"two\nlines\"\n", "two\nlines"},
    {"a,b\nx,\" y \"\n", " y "},
    {"a,b\nx,  y \n", "y"},
    {"a,b\nx,\n", ""},
    {"a,b\n#10-24,y\n", "y"},
    {"b\n\"\"\n", ""},
    /* the apostrophe of our own CSV is no part of the cell, any other is */
    {"a,b\nx,'=1+1\n", "=1+1"},
    {"a,b\nx,\"'-A, 2\"\n", "-A, 2"},
    {"a,b\nx,'-2\n", "'-2"},
    {"a,b\nx,'tis\n", "'tis"},
    {"b\n\xC3\x97\n", "\xC3\x97"},
};

START_TEST(cell_is_what_was_written)
{
    struct bench b;
    bench_open(&b);
    int t = bench_table(&b, "f.csv", texts[_i].csv[0] == '\xEF' ? "a,b\nx,y\n" : texts[_i].csv);
    if (texts[_i].csv[0] == '\xEF') {
        const char *from[] = {"a"}, *files[] = {"g.csv"};
        struct table_column_spec column = {.name = "a", .is_text = true, .from = from, .n_from = 1};
        struct table_spec spec = {
            .name = "g", .files = files, .n_files = 1, .columns = &column, .n_columns = 1};
        ck_ok(table_set_file(b.set, "g.csv", texts[_i].csv, strlen(texts[_i].csv), why));
        ck_ok(table_set_declare(b.set, &spec, &t, why));
        ck_assert_str_eq(bench_text(&b, t, 0, "a"), "x");
    } else {
        ck_assert_int_eq(table_rows(b.set, t), 1);
        ck_assert_str_eq(bench_text(&b, t, 0, "b"), texts[_i].cell);
    }
    bench_close(&b);
}
END_TEST

static const struct { const char *csv; int line; const char *says; } bad[] = {
    {"", 1, "no header"},
    {"# title: only remarks\n", 2, "no header"},
    {"a,b\nx\n", 2, "has 1 cells, the header 2"},
    {"a,b\nx,y\n\nx,y,z\n", 4, "has 3 cells, the header 2"},
    {"a,b\nx,\"y\nx,y\n", 2, "never closed"},
    {"a,b\nx,\"y\"z\n", 2, "something other than a comma"},
    {"a,b\nx,y\"z\"\n", 2, "inside a cell"},
    {"a,b\nx,\"p\nq\"\nx\n", 4, "has 1 cells"},
    {"a,a\nx,y\n", 1, "Two columns are named a"},
    {"a,,c\nx,y,z\n", 1, "no name"},
    {"a,b\nx,\xFF\n", 2, "not UTF-8"},
    {"a,b\nx,\xC0\x80\n", 2, "not UTF-8"},
    {"a,b\nx,\xED\xA0\x80\n", 2, "not UTF-8"},
    {"a,b\nx,\xE2\x82\n", 2, "not UTF-8"},
    {"a,b\n\nx,\x1B[2J\n", 3, "control character"},
    {"a,b\nx\ry,z\n", 2, "carriage return"},
};

START_TEST(bad_text_is_refused_with_its_line)
{
    struct bench b;
    struct base_diag why = {0};
    bench_open(&b);
    ck_assert_int_eq(table_set_file(b.set, "bad.csv", bad[_i].csv, strlen(bad[_i].csv), &why),
                     BASE_UNREADABLE);
    ck_assert_str_eq(why.file, "bad.csv");
    ck_assert_int_eq(why.line, bad[_i].line);
    ck_assert_msg(strstr(why.message, bad[_i].says) != NULL, "%s", why.message);
    ck_assert_int_eq(table_file_count(b.set), 0);
    bench_close(&b);
}
END_TEST

START_TEST(zero_byte_is_refused)
{
    struct bench b;
    struct base_diag why = {0};
    bench_open(&b);
    ck_assert_int_eq(table_set_file(b.set, "z.csv", "a\nx\0y\n", 6, &why), BASE_UNREADABLE);
    ck_assert_int_eq(why.line, 2);
    bench_close(&b);
}
END_TEST

/* Any bytes at all are read or refused, and a refusal always has its place. */
START_TEST(damaged_text_never_hurts)
{
    static const char good[] = "# title: t\nsize,length_mm\n\"M\"\"8\",12 16\r\nM10,\"20\"\n";
    unsigned seed = 12345u + (unsigned)_i;
    for (int round = 0; round < 200; round++) {
        char text[sizeof good];
        memcpy(text, good, sizeof good);
        for (int hit = 0; hit < 3; hit++) {
            seed = seed * 1103515245u + 12345u;
            text[(seed >> 8) % (sizeof good - 1)] = "\",\n\r#\xC3 x\x01"[(seed >> 20) % 9];
        }
        struct base_pool *pool = base_pool_new();
        struct table_set *set = table_set_new(pool);
        struct base_diag why = {0};
        if (table_set_file(set, "f", text, sizeof good - 1, &why) != BASE_OK)
            ck_assert(why.line >= 1 && why.line <= 8 && why.message[0]);
        table_set_free(set);
        base_pool_free(pool);
    }
}
END_TEST

/* ---- tables over files ------------------------------------------------------------- */

static const char metric[] =
    "# title: Screws\n# title: metric\n# standard: S 1\n# source: book one\n# confidence: confirmed\n"
    "# note: first\n# note: second\n"
    "size,diameter_mm,lengths_mm,lengths_confidence\nM8,8,12 16  20,memory\nM10,10,,\nM12,twelve,20 x,\n";
static const char inch[] =
    "# standard: S 2\n# source: book two\n"
    "size,diameter_in,lengths_in,grade,confidence,source\n"
    "3/8-16,0.375,1/2 0.625,fine,published,\"own, sheet\"\n";

static const char *const from_size[] = {"size"}, *const from_grade[] = {"grade"};
static const char *const from_diameter[] = {"diameter_mm", "diameter_in"};
static const char *const from_lengths[] = {"lengths_mm", "lengths_in"};
static const char *const two_files[] = {"metric.csv", "inch.csv"};
static const struct table_column_spec screw_columns[] = {
    {"size", true, {0, 0, 0, 0}, from_size, 1, false, NULL},
    {"diameter", false, {UNIT_POWER, 0, 0, 0}, from_diameter, 2, false, NULL},
    {"length", false, {UNIT_POWER, 0, 0, 0}, from_lengths, 2, true, NULL},
    {"grade", true, {0, 0, 0, 0}, from_grade, 1, false, NULL},
};
static const struct table_spec screws = {"screws", "h", two_files, 2, screw_columns, 4, NULL, NULL, 0};
static const struct table_spec sizes = {"sizes", "h", two_files, 2, screw_columns, 2, NULL, NULL, 0};

static int open_screws(struct bench *b, const struct table_spec *spec)
{
    int t = -1;
    bench_open(b);
    ck_ok(table_set_file(b->set, "metric.csv", metric, strlen(metric), why));
    ck_ok(table_set_file(b->set, "inch.csv", inch, strlen(inch), why));
    ck_ok(table_set_declare(b->set, spec, &t, why));
    return t;
}

START_TEST(files_feed_one_table_row_by_row)
{
    static const struct {
        const char *size;
        double diameter, length;
        bool no_diameter, no_length;
        const char *grade;
    } want[] = {
        {"M8", 8, 12, false, false, ""},
        {"M8", 8, 16, false, false, ""},
        {"M8", 8, 20, false, false, ""},
        {"M12", 0, 20, true, false, ""},
        {"M12", 0, 0, true, true, ""},
        {"3/8-16", 9.525, 12.7, false, false, "fine"},
        {"3/8-16", 9.525, 15.875, false, false, "fine"},
    };
    struct bench b;
    int t = open_screws(&b, &screws);
    ck_assert_int_eq(table_rows(b.set, t), (int)COUNT_OF(want));
    for (int row = 0; row < (int)COUNT_OF(want); row++) {
        const struct table_cell *diameter = table_cell(b.set, t, row, 1),
                                *length = table_cell(b.set, t, row, 2);
        ck_assert_str_eq(bench_text(&b, t, row, "size"), want[row].size);
        ck_assert_str_eq(bench_text(&b, t, row, "grade"), want[row].grade);
        ck_assert_int_eq(table_cell(b.set, t, row, 3)->empty, want[row].grade[0] == '\0');
        ck_assert_int_eq(diameter->empty, want[row].no_diameter);
        ck_assert_int_eq(length->empty, want[row].no_length);
        ck_assert_double_eq_tol(diameter->number, want[row].diameter, 1e-12);
        ck_assert_double_eq_tol(length->number, want[row].length, 1e-12);
    }
    ck_assert_str_eq(bench_text(&b, t, 4, "length"), "x");
    ck_assert_str_eq(bench_text(&b, t, 5, "length"), "1/2");
    bench_close(&b);
}
END_TEST

START_TEST(row_tells_source_standard_confidence_and_place)
{
    struct bench b;
    const char *file;
    int line, lengths = open_screws(&b, &screws), plain = -1;
    ck_ok(table_set_declare(b.set, &sizes, &plain, why));
    ck_assert_str_eq(table_title(b.set, lengths), "Screws metric");
    ck_assert_str_eq(table_note(b.set, lengths), "first second");
    ck_assert_str_eq(table_standard(b.set, lengths), "S 1; S 2");
    ck_assert_str_eq(table_row_standard(b.set, lengths, 0), "S 1");
    ck_assert_str_eq(table_row_standard(b.set, lengths, 5), "S 2");
    ck_assert_str_eq(table_row_source(b.set, lengths, 0), "book one");
    ck_assert_str_eq(table_row_source(b.set, lengths, 5), "own, sheet");
    table_row_place(b.set, lengths, 5, &file, &line);
    ck_assert_str_eq(file, "inch.csv");
    ck_assert_int_eq(line, 4);
    /* lengths_confidence speaks for the lengths alone; an empty one leaves it to the file */
    ck_assert_int_eq(table_cell_confidence(b.set, lengths, 0, 1), TABLE_CONFIRMED);
    ck_assert_int_eq(table_cell_confidence(b.set, lengths, 0, 2), TABLE_MEMORY);
    ck_assert_int_eq(table_row_confidence(b.set, lengths, 0), TABLE_MEMORY);
    ck_assert_int_eq(table_row_confidence(b.set, lengths, 3), TABLE_CONFIRMED);
    ck_assert_int_eq(table_row_confidence(b.set, lengths, 5), TABLE_PUBLISHED);
    ck_assert_int_eq(table_worst_confidence(b.set, lengths), TABLE_MEMORY);
    ck_assert_int_eq(table_row_confidence(b.set, plain, 0), TABLE_CONFIRMED);
    ck_assert_int_eq(table_worst_confidence(b.set, plain), TABLE_PUBLISHED);
    bench_close(&b);
}
END_TEST

START_TEST(files_are_kept_as_they_were_given)
{
    struct bench b;
    const char *name, *csv;
    size_t length;
    uint64_t checksum;
    open_screws(&b, &screws);
    ck_assert_int_eq(table_file_count(b.set), 2);
    table_file(b.set, 1, &name, &csv, &length, &checksum);
    ck_assert_str_eq(name, "inch.csv");
    ck_assert_str_eq(csv, inch);
    ck_assert_uint_eq(length, strlen(inch));
    ck_assert(checksum == base_hash(inch, strlen(inch)));
    ck_assert_int_eq(table_set_file(b.set, "inch.csv", inch, strlen(inch), NULL), BASE_REFUSED);
    bench_close(&b);
}
END_TEST

static const struct { const char *text; enum table_confidence means; } confidences[] = {
    {"published", TABLE_PUBLISHED}, {"Confirmed", TABLE_CONFIRMED}, {"common practice", TABLE_PRACTICE},
    {"practice", TABLE_PRACTICE}, {"derived", TABLE_DERIVED}, {"derived, from tensile", TABLE_DERIVED},
    {"estimate", TABLE_DERIVED}, {"memory", TABLE_MEMORY}, {"memory; conflict", TABLE_MEMORY},
    {"invented demo", TABLE_INVENTED}, {"", TABLE_MEMORY}, {"publishedish", TABLE_MEMORY},
    {"certain", TABLE_MEMORY},
};

START_TEST(confidence_is_read_from_words)
{
    ck_assert_int_eq(cell_confidence(confidences[_i].text), confidences[_i].means);
    const char *text = table_confidence_text(confidences[_i].means);
    ck_assert_int_eq(cell_confidence(text), confidences[_i].means);
}
END_TEST

static const char *const from_pitch[] = {"pich_mm"}, *const no_files[] = {"wood.csv"};
static const struct table_column_spec area_column = {"diameter",    false, {2 * UNIT_POWER, 0, 0, 0},
                                                     from_diameter, 1,     false, NULL};
static const struct table_column_spec bare_column = {"size",    false, {UNIT_POWER, 0, 0, 0},
                                                     from_size, 1,     false, NULL};
static const struct table_column_spec pitch_column = {"pitch",    false, {UNIT_POWER, 0, 0, 0},
                                                      from_pitch, 1,     false, NULL};
static const struct table_column_spec twice[] = {
    {"size", true, {0, 0, 0, 0}, from_size, 1, false, NULL},
    {"size", true, {0, 0, 0, 0}, from_size, 1, false, NULL}};
static const struct table_column_spec two_lists[] = {
    {"size", true, {0, 0, 0, 0}, from_size, 1, true, NULL},
    {"length", false, {UNIT_POWER, 0, 0, 0}, from_lengths, 2, true, NULL}};

static const struct { struct table_spec spec; const char *says; } refused[] = {
    {{"t", "", two_files, 1, &area_column, 1, NULL, NULL, 0}, "diameter_mm is to be an area, but mm"},
    {{"t", "", two_files, 1, &bare_column, 1, NULL, NULL, 0}, "size is to be a length, but no unit"},
    {{"t", "", two_files, 2, &pitch_column, 1, NULL, NULL, 0}, "no file has a column pich_mm"},
    {{"t", "", no_files, 1, screw_columns, 1, NULL, NULL, 0}, "wood.csv is not there"},
    {{"screws", "", two_files, 1, screw_columns, 1, NULL, NULL, 0}, "Two tables are named screws"},
    {{"t", "", two_files, 1, twice, 2, NULL, NULL, 0}, "two columns named size"},
    {{"t", "", two_files, 1, two_lists, 2, NULL, NULL, 0}, "only one column may say each"},
    {{"t", "", two_files, 0, screw_columns, 1, NULL, NULL, 0}, "names no file"},
    {{"t", "", two_files, 1, screw_columns, 0, NULL, NULL, 0}, "names no column"},
};

START_TEST(wrong_declaration_is_refused)
{
    struct bench b;
    struct base_diag why = {0};
    open_screws(&b, &screws);
    int t = 0, before = table_count(b.set);
    ck_assert_int_ne(table_set_declare(b.set, &refused[_i].spec, &t, &why), BASE_OK);
    ck_assert_msg(strstr(why.message, refused[_i].says) != NULL, "%s", why.message);
    ck_assert_int_eq(t, -1);
    ck_assert_int_eq(table_count(b.set), before);
    bench_close(&b);
}
END_TEST

struct seen { int rows, last_line; struct base_text text; };

static void note_row(void *arg, int line, const char *const *names, const char *const *cells, int n)
{
    struct seen *s = arg;
    s->rows++;
    s->last_line = line;
    for (int i = 0; i < n; i++)
        base_text_addf(&s->text, "%s=%s;", names[i], cells[i]);
}

START_TEST(rows_can_be_walked_without_a_table)
{
    struct seen s = {0};
    ck_ok(table_each_row("inch.csv", inch, strlen(inch), note_row, &s, why));
    ck_assert_int_eq(s.rows, 1);
    ck_assert_int_eq(s.last_line, 4);
    ck_assert_str_eq(base_text_get(&s.text), "size=3/8-16;diameter_in=0.375;lengths_in=1/2 0.625;grade=fine;"
                                             "confidence=published;source=own, sheet;");
    ck_assert_int_eq(table_each_row("bad.csv", "a,b\nx\n", 6, note_row, &s, NULL), BASE_UNREADABLE);
    ck_assert_int_eq(s.rows, 1);
    base_text_done(&s.text);
}
END_TEST

/* To the last bit, with the point at each place among one to eighteen figures. */
START_TEST(a_decimal_in_a_cell_is_what_the_c_library_reads)
{
    uint64_t any = 88172645463325252u;
    for (int n = 0; n < 20000; n++) {
        char text[24];
        int figures = 1 + n % 18, point = n / 18 % (figures + 2), at = 0;
        double read;
        for (int i = 0; i < figures; i++) {
            any ^= any << 13, any ^= any >> 7, any ^= any << 17;
            if (i == point)
                text[at++] = '.';
            text[at++] = (char)('0' + any % 10);
        }
        text[at] = '\0';
        ck_assert(cell_read_number(text, &read));
        ck_assert_msg(read == strtod(text, NULL), "%s: %.17g", text, read);
    }
}
END_TEST

TCase *file_tests(void)
{
    TCase *t = tcase_create("files");
    tcase_add_loop_test(t, number_reads, 0, COUNT_OF(numbers));
    tcase_add_loop_test(t, no_number_does_not_read, 0, COUNT_OF(no_numbers));
    tcase_add_loop_test(t, unit_stands_at_the_end_of_the_name, 0, COUNT_OF(endings));
    tcase_add_loop_test(t, cell_is_what_was_written, 0, COUNT_OF(texts));
    tcase_add_loop_test(t, bad_text_is_refused_with_its_line, 0, COUNT_OF(bad));
    tcase_add_test(t, zero_byte_is_refused);
    tcase_add_loop_test(t, damaged_text_never_hurts, 0, 8);
    tcase_add_test(t, a_decimal_in_a_cell_is_what_the_c_library_reads);
    tcase_add_test(t, files_feed_one_table_row_by_row);
    tcase_add_test(t, row_tells_source_standard_confidence_and_place);
    tcase_add_test(t, rows_can_be_walked_without_a_table);
    tcase_add_test(t, files_are_kept_as_they_were_given);
    tcase_add_loop_test(t, confidence_is_read_from_words, 0, COUNT_OF(confidences));
    tcase_add_loop_test(t, wrong_declaration_is_refused, 0, COUNT_OF(refused));
    return t;
}
