/* The shipped parts tables: that they read whole, say where they come from, agree with
 * themselves, and hold what a die set asks of them. */

#include "bench.h"

#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const shipped[] = {
    "backing-plates.csv", "bend-limits.csv", "bushings-inch.csv", "bushings-shouldered.csv", "bushings.csv",
    "cap-screws-inch.csv",
    "cap-screws-metric.csv", "die-set-areas.csv", "die-sets-rear-posts.csv",
    "die-springs-inch.csv", "die-springs.csv",
    "dowels-inch.csv", "dowels-metric.csv", "dowels-pull-out.csv", "eyebolts.csv", "fits.csv",
    "general-tolerances-angle.csv", "general-tolerances.csv", "guide-posts-inch.csv",
    "hardness-bands.csv",
    "guide-posts-ten-steps.csv",
    "guide-posts.csv", "plates-inch.csv", "plates.csv", "preferred-lengths-inch.csv",
    "preferred-lengths-metric.csv",
    "presses.csv", "screw-classes-inch.csv", "screw-classes-metric.csv", "screw-holes-inch.csv",
    "screw-holes-metric.csv", "shoulder-screws-inch.csv", "shoulder-screws.csv", "steels.csv",
    "strip-materials.csv",
    "stripping-shares.csv",
};

START_TEST(every_file_is_in_the_list)
{
    DIR *d = opendir("data/parts");
    ck_assert_ptr_nonnull(d);
    size_t found = 0;
    for (struct dirent *e; (e = readdir(d));) {
        if (e->d_name[0] == '.')
            continue;
        bool known = false;
        for (size_t i = 0; i < COUNT_OF(shipped); i++)
            known = known || strcmp(shipped[i], e->d_name) == 0;
        ck_assert_msg(known, "%s is tested by nothing", e->d_name);
        found++;
    }
    closedir(d);
    ck_assert_uint_eq(found, COUNT_OF(shipped));
}
END_TEST

/* A unit at the end of a column's name promises a number in every cell that is filled. */
START_TEST(every_number_reads)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, shipped[_i]);
    const struct table_spec *spec = table_spec(b.set, t);
    ck_assert_int_gt(table_rows(b.set, t), 0);
    for (int c = 0; c < spec->n_columns; c++) {
        int filled = 0;
        for (int row = 0; row < table_rows(b.set, t); row++) {
            const struct table_cell *cell = table_cell(b.set, t, row, c);
            filled += !cell->empty;
            ck_assert_msg(!cell->empty || cell->text == 0, "%s: %s of row %d does not read: %s",
                          shipped[_i], spec->columns[c].name, row, base_pool_text(b.pool, cell->text));
        }
        ck_assert_msg(filled > 0, "%s: nothing in %s", shipped[_i], spec->columns[c].name);
    }
    bench_close(&b);
}
END_TEST

static bool is_word_of_confidence(const char *word)
{
    static const char *const words[] = {
        "", "published", "confirmed", "common practice", "derived", "estimate", "memory", "invented"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strcmp(words[i], word) == 0)
            return true;
    return false;
}

START_TEST(every_file_says_where_it_comes_from)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, shipped[_i]);
    const struct table_spec *spec = table_spec(b.set, t);
    ck_assert(table_title(b.set, t)[0] && table_row_source(b.set, t, 0)[0]);
    for (int c = 0; c < spec->n_columns; c++) {
        const char *end = strstr(spec->columns[c].name, "confidence");
        for (int row = 0; end && row < table_rows(b.set, t); row++) {
            const char *word = bench_text(&b, t, row, spec->columns[c].name);
            ck_assert_msg(is_word_of_confidence(word), "%s: %s", shipped[_i], word);
        }
    }
    const char *name, *csv;
    size_t length;
    uint64_t checksum;
    table_file(b.set, 0, &name, &csv, &length, &checksum);
    ck_assert_ptr_nonnull(strstr(csv, "\n# confidence: "));
    static const char *const foreign[] = {"http", "www.", "github", ".com", "(TM)", "\xC2\xAE", "catalog"};
    for (size_t i = 0; i < COUNT_OF(foreign); i++)
        ck_assert_msg(!strstr(csv, foreign[i]), "%s names %s", shipped[_i], foreign[i]);
    bench_close(&b);
}
END_TEST

/* A guess says by how much it may be out, for each column that has one; and what is said is said of columns
   that there are. */
START_TEST(every_guess_states_its_spread)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, shipped[_i]);
    const struct table_spec *spec = table_spec(b.set, t);
    for (int c = 0; c < spec->n_columns; c++)
        for (int row = 0; row < table_rows(b.set, t); row++) {
            double spread = table_cell_spread(b.set, t, row, c);
            enum table_confidence sure = table_cell_confidence(b.set, t, row, c);
            ck_assert_msg(!isnan(spread), "%s: %s is %s, and its spread is not stated", shipped[_i],
                          spec->columns[c].name, table_confidence_text(sure));
            ck_assert(spread >= 0 && spread <= 0.5);
            ck_assert(spread == 0 || sure == TABLE_DERIVED || sure == TABLE_INVENTED);
        }
    const char *csv;
    table_file(b.set, 0, NULL, &csv, NULL, NULL);
    const char *said = strstr(csv, "# spread: ");
    for (said = said ? said + 10 : ""; *said && *said != '\n';
         said += strcspn(said, ",\n"), said += strspn(said, ", ")) {
        char *name = base_copy_n(said, strcspn(said, " ,\n"));
        ck_assert_msg(strcmp(name, "all") == 0 || table_column(b.set, t, name) >= 0,
                      "%s: there is no column %s to be spread", shipped[_i], name);
        free(name);
    }
    bench_close(&b);
}
END_TEST

/* ---- confidence of what is leaned on most -------------------------------------------- */

static const struct { const char *file, *column; enum table_confidence worst; } leaned[] = {
    {"cap-screws-metric.csv", "head_height_mm", TABLE_CONFIRMED},
    {"cap-screws-metric.csv", "stress_area_mm2", TABLE_CONFIRMED},
    {"cap-screws-metric.csv", "lengths_mm", TABLE_MEMORY},
    {"screw-holes-metric.csv", "clear_medium_mm", TABLE_CONFIRMED},
    {"screw-holes-inch.csv", "counterbore_diameter_in", TABLE_MEMORY},
    {"screw-holes-inch.csv", "tap_drill_in", TABLE_CONFIRMED},
    {"guide-posts.csv", "length_mm", TABLE_MEMORY},
    {"bushings.csv", "outside_mm", TABLE_MEMORY},
    {"die-springs.csv", "rate_n_per_mm", TABLE_DERIVED},
    {"die-springs-inch.csv", "rate_lbf_per_in", TABLE_DERIVED},
    {"plates-inch.csv", "thicknesses_in", TABLE_PRACTICE},
    {"dowels-inch.csv", "diameter_in", TABLE_MEMORY},
    {"guide-posts-inch.csv", "length_in", TABLE_PRACTICE},
    {"bushings-inch.csv", "outside_in", TABLE_PRACTICE},
    {"shoulder-screws-inch.csv", "head_diameter_in", TABLE_PUBLISHED},
    {"shoulder-screws-inch.csv", "thread_length_in", TABLE_MEMORY},
    {"fits.csv", "upper_um", TABLE_CONFIRMED},
    {"presses.csv", "rated_kn", TABLE_INVENTED},
    {"backing-plates.csv", "thickness_mm", TABLE_PRACTICE},
};

START_TEST(confidence_is_as_marked)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, leaned[_i].file), c = table_column(b.set, t, leaned[_i].column);
    bool reached = false;
    for (int row = 0; row < table_rows(b.set, t); row++) {
        enum table_confidence is = table_cell_confidence(b.set, t, row, c);
        ck_assert_int_le(is, leaned[_i].worst);
        reached = reached || is == leaned[_i].worst;
    }
    ck_assert(reached);
    bench_close(&b);
}
END_TEST

/* ---- what a die set asks for ------------------------------------------------------------ */

static const struct {
    const char *file, *column;
    struct { const char *column, *text; double number; } keys[3];
    double need; /* NAN: listed */
    double out;
} asked[] = {
    {"bushings.csv",
     "outside_mm",
     {{"form", "flanged", 0}, {"bore_mm", NULL, 32}, {"length_mm", NULL, 80}},
     NAN,
     48},
    {"bushings.csv",
     "seat_length_mm",
     {{"form", "flanged", 0}, {"bore_mm", NULL, 32}, {"length_mm", NULL, 80}},
     NAN,
     40},
    {"die-springs.csv", "free_length_mm", {{"load", "heavy", 0}, {"hole_mm", NULL, 32}}, 95, 102},
    {"die-springs.csv", "free_length_mm", {{"load", "medium", 0}, {"hole_mm", NULL, 25}}, 60, 64},
    {"die-springs.csv", "long_life_share_pct", {{"load", "heavy", 0}, {"hole_mm", NULL, 32}}, NAN, 0.20},
    {"die-springs-inch.csv",
     "free_length_in",
     {{"load", "heavy", 0}, {"hole_in", NULL, 31.75}},
     95,
     4 * 25.4},
    {"plates-inch.csv", "length_in", {{"width_in", NULL, 8 * 25.4}}, 230, 10 * 25.4},
    {"shoulder-screws.csv", "lengths_mm", {{"shoulder_mm", NULL, 10}}, 85, 90},
    {"eyebolts.csv", "thread_length_mm", {{"load_kg", NULL, 0.7}}, NAN, 27},
    {"shoulder-screws.csv", "head_height_mm", {{"shoulder_mm", NULL, 10}, {"thread", "M8", 0}}, NAN, 7},
    /* ASME B18.3, table of shoulder screws: greatest head, its height, thread */
    {"shoulder-screws-inch.csv", "head_diameter_in", {{"shoulder_in", NULL, 12.7}}, NAN, 0.75 * 25.4},
    {"shoulder-screws-inch.csv", "head_height_in", {{"shoulder_in", NULL, 31.75}}, NAN, 0.75 * 25.4},
    {"shoulder-screws-inch.csv", "lengths_in", {{"shoulder_in", NULL, 9.525}}, 2.1 * 25.4, 2.5 * 25.4},
    {"shoulder-screws-inch.csv", "pitch_in", {{"thread", "3/8-16", 0}}, NAN, 25.4 / 16},
    {"guide-posts-inch.csv",
     "length_in",
     {{"form", "straight", 0}, {"diameter_in", NULL, 31.75}},
     175,
     177.8},
    {"guide-posts-inch.csv", "diameter_in", {{"form", "flanged", 0}}, 2.1 * 25.4, 2.5 * 25.4},
    {"bushings-inch.csv",
     "outside_in",
     {{"post_diameter_in", NULL, 31.75}, {"length_in", NULL, 82.55}},
     NAN,
     41.275},
    {"guide-posts.csv", "length_mm", {{"form", "straight", 0}, {"diameter_mm", NULL, 32}}, 201, 224},
    {"guide-posts.csv", "length_mm", {{"form", "flanged", 0}, {"diameter_mm", NULL, 25}}, 100, 125},
    {"preferred-lengths-metric.csv", "lengths_mm", {{"series", "R20", 0}}, 226, 250},
    {"preferred-lengths-metric.csv", "lengths_mm", {{"series", "R20", 0}}, 250, 250},
    {"preferred-lengths-inch.csv", "lengths_in", {{"series", "steps of 1/2 in", 0}}, 8.6 * 25.4, 9 * 25.4},
    {"preferred-lengths-inch.csv", "lengths_in", {{"series", "steps of 1/2 in", 0}}, 20 * 25.4, 20 * 25.4},
    {"cap-screws-inch.csv", "lengths_in", {{"size", "3/8-16", 0}}, 2.1 * 25.4, 2.25 * 25.4},
    {"cap-screws-inch.csv", "pitch_in", {{"size", "3/8-16", 0}}, NAN, 25.4 / 16},
    {"screw-holes-inch.csv", "tap_drill_in", {{"size", "3/8-16", 0}}, NAN, 0.3125 * 25.4},
    {"cap-screws-metric.csv", "lengths_mm", {{"size", "M10", 0}}, 61, 65},
    {"screw-holes-metric.csv", "counterbore_depth_mm", {{"size", "M10", 0}}, NAN, 10.6},
    {"dowels-metric.csv", "lengths_mm", {{"diameter_mm", NULL, 10}}, 50, 50},
    {"dowels-inch.csv", "lengths_in", {{"diameter_in", NULL, 0.375 * 25.4}}, 1.9 * 25.4, 2 * 25.4},
    {"screw-classes-metric.csv", "proof_mpa", {{"class", "12.9", 0}}, NAN, 970},
    {"steels.csv", "density_kg_m3", {{"number", "1.0577", 0}}, NAN, 7850e-12},
    {"steels.csv", "density_kg_m3", {{"name", "90MnCrV8", 0}}, NAN, 7850e-12},
    {"steels.csv", "density_kg_m3", {{"number", "1.1730", 0}}, NAN, 7850e-12},
    {"steels.csv", "density_kg_m3", {{"number", "1.2312", 0}}, NAN, 7830e-12},
    {"steels.csv", "density_kg_m3", {{"number", "1.2379", 0}}, NAN, 7700e-12},
    {"strip-materials.csv", "tensile_most_mpa", {{"key", "DC01", 0}}, NAN, 410},
    {"strip-materials.csv", "shear_most_mpa", {{"key", "DC01", 0}}, NAN, 328},
    {"strip-materials.csv", "clearance_pct", {{"key", "DC01", 0}}, NAN, 0.06},
    {"presses.csv", "rated_kn", {{"key", "open front 630 kN", 0}}, NAN, 630e3},
    {"presses.csv", "shut_height_most_mm", {{"key", "open front 250 kN", 0}}, NAN, 230},
    {"plates.csv", "thickness_mm", {{"length_mm", NULL, 250}, {"width_mm", NULL, 160}}, 30, 32},
};

START_TEST(what_a_die_set_asks_for_can_be_picked)
{
    struct bench b;
    bench_open(&b);
    int t = bench_shipped(&b, asked[_i].file), n = 0;
    struct table_key keys[3];
    double values[4], out = 0;
    for (; n < 3 && asked[_i].keys[n].column; n++) {
        const char *text = asked[_i].keys[n].text;
        keys[n] = (struct table_key){table_column(b.set, t, asked[_i].keys[n].column), TABLE_EQUAL};
        values[n] = text ? base_pool_put(b.pool, text) : asked[_i].keys[n].number;
    }
    values[n] = asked[_i].need;
    int query = table_query(b.set, t, table_column(b.set, t, asked[_i].column),
                            isnan(asked[_i].need) ? TABLE_LISTED : TABLE_OVER, keys, n);
    struct base_text told = {0};
    if (table_run(b.set, query, values, &out, NULL) != TABLE_FOUND)
        table_explain(b.set, query, values, UNIT_METRIC, &told);
    ck_assert_msg(told.length == 0, "%s", base_text_get(&told));
    ck_assert_double_eq_tol(out, asked[_i].out, 1e-9 * asked[_i].out);
    bench_close(&b);
}
END_TEST

/* A steel is found by its number and by its short name. */
static const struct { const char *by, *number; } found_by[] = {
    {"1.0577", "1.0577"}, {"S355J2", "1.0577"}, {"1.2842", "1.2842"}, {"90MnCrV8", "1.2842"},
    {"1.1730", "1.1730"}, {"C45U", "1.1730"}, {"1.2312", "1.2312"}, {"40CrMnMoS8-6", "1.2312"},
    {"1.2379", "1.2379"}, {"X153CrMoV12", "1.2379"}, {"EN-GJL-250", ""}, {"AW-7075-T651", ""},
};

START_TEST(steel_is_found_by_number_or_name)
{
    static const char *const names[] = {"names"}, *const number[] = {"number"},
                             *const files[] = {"steels.csv"};
    static const struct table_column_spec columns[] = {
        {"name", true, {0, 0, 0, 0}, names, 1, true, NULL},
        {"number", true, {0, 0, 0, 0}, number, 1, false, NULL}};
    static const struct table_spec spec = {"steel", "", files, 1, columns, 2, NULL, NULL, 0};
    struct bench b;
    int t;
    double out, name;
    bench_open(&b);
    bench_shipped(&b, "steels.csv");
    ck_ok(table_set_declare(b.set, &spec, &t, why));
    const struct table_key key = {0, TABLE_EQUAL};
    name = base_pool_put(b.pool, found_by[_i].by);
    int row, query = table_query(b.set, t, 1, TABLE_LISTED, &key, 1);
    enum table_result result = table_run(b.set, query, &name, &out, &row);
    ck_assert_int_eq(result, found_by[_i].number[0] ? TABLE_FOUND : TABLE_EMPTY_CELL);
    ck_assert_str_eq(base_pool_text(b.pool, (int)out), found_by[_i].number);
    bench_close(&b);
}
END_TEST

/* ---- springs: one smooth law, so they must agree with themselves ---------------------------- */

static int spring_class(const char *load)
{
    static const char *const classes[] = {"light", "medium", "heavy", "extra heavy"};
    for (int i = 0; i < 4; i++)
        if (strcmp(load, classes[i]) == 0)
            return i;
    ck_abort_msg("no load class %s", load);
    return -1;
}

static double column(struct bench *b, int table, int row, const char *name, const char *unit)
{
    char full[60];
    snprintf(full, sizeof full, "%s_%s", name, unit);
    return bench_number(b, table, row, full);
}

START_TEST(springs_agree_with_themselves)
{
    /* shares of free length by class, from memory of the standard: rules of this shop's handbook */
    static const double life[] = {0.30, 0.25, 0.20, 0.17}, most[] = {0.40, 0.375, 0.30, 0.25};
    struct bench b;
    bench_open(&b);
    static const char *const files[] = {"die-springs.csv", "die-springs-inch.csv"};
    const char *in = _i ? "in" : "mm";
    int t = bench_shipped(&b, files[_i]);
    for (int row = 0; row < table_rows(b.set, t); row++) {
        double rate = bench_number(&b, t, row, _i ? "rate_lbf_per_in" : "rate_n_per_mm"),
               free_length = column(&b, t, row, "free_length", in);
        double deflection = column(&b, t, row, "most_deflection", in);
        int class = spring_class(bench_text(&b, t, row, "load"));
        ck_assert_double_eq(bench_number(&b, t, row, "long_life_share_pct"), life[class]);
        ck_assert_double_eq(bench_number(&b, t, row, "most_share_pct"), most[class]);
        ck_assert_double_eq_tol(deflection, free_length * most[class], 0.0501);
        double most_force = bench_number(&b, t, row, _i ? "force_at_most_lbf" : "force_at_most_n");
        ck_assert_double_eq_tol(most_force, rate * deflection, _i ? 0.006 * most_force : 0.501);
        ck_assert(column(&b, t, row, "rod", in) < column(&b, t, row, "hole", in));
        if (row > 0 && strcmp(bench_text(&b, t, row, "load"), bench_text(&b, t, row - 1, "load")) == 0
            && column(&b, t, row, "hole", in) == column(&b, t, row - 1, "hole", in)) {
            ck_assert(free_length > column(&b, t, row - 1, "free_length", in));
            ck_assert_msg(rate < bench_number(&b, t, row - 1, _i ? "rate_lbf_per_in" : "rate_n_per_mm"),
                          "row %d: a longer spring is softer", row);
        }
    }
    bench_close(&b);
}
END_TEST

TCase *shipped_tests(void)
{
    TCase *t = tcase_create("shipped");
    tcase_add_test(t, every_file_is_in_the_list);
    tcase_add_loop_test(t, every_number_reads, 0, COUNT_OF(shipped));
    tcase_add_loop_test(t, every_file_says_where_it_comes_from, 0, COUNT_OF(shipped));
    tcase_add_loop_test(t, every_guess_states_its_spread, 0, COUNT_OF(shipped));
    tcase_add_loop_test(t, confidence_is_as_marked, 0, COUNT_OF(leaned));
    tcase_add_loop_test(t, what_a_die_set_asks_for_can_be_picked, 0, COUNT_OF(asked));
    tcase_add_loop_test(t, steel_is_found_by_number_or_name, 0, COUNT_OF(found_by));
    tcase_add_loop_test(t, springs_agree_with_themselves, 0, 2);
    return t;
}
