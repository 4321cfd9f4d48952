/* Rows of somebody's own behind those of a shipped table. */

#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const from_key[] = {"key"}, *const from_rated[] = {"rated_kn"},
                         *const from_wide[] = {"bed_length_mm"}, *const from_long[] = {"bed_width_mm"},
                         *const from_sizes[] = {"sizes_mm"};
/* The file calls the length a width: names of shipped files must not count in own rows. */
static const struct table_column_spec press_columns[] = {
    {"key", true, {0}, from_key, 1, false, NULL}, {"rated", false, {0}, from_rated, 1, false, NULL},
    {"bed_length", false, {0}, from_long, 1, false, NULL},
    {"bed_width", false, {0}, from_wide, 1, false, NULL},
};
static const struct table_column_spec stock_columns[] = {
    {"key", true, {0}, from_key, 1, false, NULL}, {"size", false, {0}, from_sizes, 1, true, NULL},
};
static const char *const press_files[] = {"presses.csv"}, *const stock_files[] = {"stock.csv"};
static const char *const press_keys[] = {"key"}, *const stock_keys[] = {"key", "size"};

static const char presses[] =
    "# source: shipped\n# confidence: "
    "invented\nkey,rated_kn,bed_width_mm,bed_length_mm\nA,100,500,300\nB,200,600,400\nC,300,700,500\n";
static const char stock[] = "# source: shipped\n# confidence: memory\nkey,sizes_mm\nx,10 20 30\n";

static struct table_column_spec presses_of[4], stock_of[2];

static struct table_set *shipped(struct base_pool *pool)
{
    struct table_set *s = table_set_new(pool);
    int number;
    memcpy(presses_of, press_columns, sizeof presses_of);
    memcpy(stock_of, stock_columns, sizeof stock_of);
    presses_of[1].dim = UNIT_FORCE;
    presses_of[2].dim = presses_of[3].dim = stock_of[1].dim = UNIT_LENGTH;
    const struct table_spec press = {.name = "press",
                                     .files = press_files,
                                     .n_files = 1,
                                     .columns = presses_of,
                                     .n_columns = 4,
                                     .keys = press_keys,
                                     .n_keys = 1};
    const struct table_spec stocks = {.name = "stock",
                                      .files = stock_files,
                                      .n_files = 1,
                                      .columns = stock_of,
                                      .n_columns = 2,
                                      .keys = stock_keys,
                                      .n_keys = 2};
    ck_ok(table_set_file(s, "presses.csv", presses, strlen(presses), why));
    ck_ok(table_set_file(s, "stock.csv", stock, strlen(stock), why));
    ck_ok(table_set_declare(s, &press, &number, why));
    ck_ok(table_set_declare(s, &stocks, &number, why));
    return s;
}

static struct table_set *with(struct table_set *s, const struct table_own *own, int n)
{
    struct table_own sized[4];
    struct table_set *out;
    for (int i = 0; i < n; i++) {
        sized[i] = own[i];
        sized[i].length = strlen(own[i].csv);
    }
    ck_ok(table_set_with(s, sized, n, &out, why));
    return out;
}

static double cell(struct table_set *s, const char *table, const char *key, const char *column)
{
    int t = table_find(s, table), k = table_column(s, t, "key"), found = -1;
    for (int r = 0; r < table_rows(s, t); r++)
        if (strcmp(base_pool_text(table_pool(s), table_cell(s, t, r, k)->text), key) == 0) {
            ck_assert_msg(found < 0, "%s stands twice", key);
            found = r;
        }
    ck_assert_msg(found >= 0, "no row %s", key);
    const struct table_cell *c = table_cell(s, t, found, table_column(s, t, column));
    return c->empty ? NAN : c->number;
}

#define STATED "# source: name plate\n# confidence: published\n"

START_TEST(own_rows_are_added_and_stand_in_the_place_of_those_with_their_key)
{
    struct base_pool *pool = base_pool_new();
    struct table_set *base = shipped(pool);
    const struct table_own own[] = {
        {"press", "first", STATED "key,rated_kN,bed_length_in,bed_width_mm\nD,400,40,900\nB,250,,650\n", 0},
        {"press", "second", "key,rated_ton_us,confidence,source\nD,50,memory,told by phone\n", 0},
        {"stock", "third", STATED "key,size_mm\nx,20 25\ny,5\n", 0},
    };
    struct table_set *s = with(base, own, 3);
    int t = table_find(s, "press");
    /* A, C, B anew, D of the second */
    ck_assert_int_eq(table_rows(s, t), 4);
    ck_assert_double_eq(cell(s, "press", "A", "rated"), 100000);
    /* the shipped file's own way of naming */
    ck_assert_double_eq(cell(s, "press", "A", "bed_length"), 500);
    ck_assert_double_eq(cell(s, "press", "B", "rated"), 250000);
    /* nothing of the row it replaces is left */
    ck_assert(isnan(cell(s, "press", "B", "bed_length")));
    ck_assert_double_eq(cell(s, "press", "B", "bed_width"), 650);
    ck_assert_double_eq_tol(cell(s, "press", "D", "rated"), 50 * 8896.443230521, 1e-6);
    ck_assert_int_eq(table_row_confidence(s, t, 2), TABLE_PUBLISHED);
    ck_assert_str_eq(table_row_source(s, t, 2), "name plate");
    ck_assert_int_eq(table_row_confidence(s, t, 3), TABLE_MEMORY);
    ck_assert_str_eq(table_row_source(s, t, 3), "told by phone");
    ck_assert_int_eq(table_rows(s, table_find(s, "stock")), 5);               /* x 10, 30, 20 anew, 25; y 5 */
    ck_assert_int_eq(table_rows(base, table_find(base, "press")), 3);         /* the other set is as it was */
    /* and a look-up finds them */
    struct table_key key = {table_column(s, t, "key"), TABLE_EQUAL};
    double value = base_pool_put(pool, "D"), out;
    int query = table_query(s, t, table_column(s, t, "rated"), TABLE_LISTED, &key, 1), row;
    ck_assert_int_eq(table_run(s, query, &value, &out, &row), TABLE_FOUND);
    ck_assert_double_eq_tol(out, 50 * 8896.443230521, 1e-6);
    const char *file;
    int line;
    table_row_place(s, t, row, &file, &line);
    ck_assert_str_eq(file, "second");
    ck_assert_int_eq(line, 2);
    table_set_free(s);
    table_set_free(base);
    base_pool_free(pool);
}
END_TEST

static const struct { const char *table, *csv; int line; const char *says;
} refused[] = {
    {"pres", STATED "key,rated_kN\nD,1\n", 0, "There is no parts table \"pres\"; near it: press."},
    {"press", STATED "key,rated_kN\n", 3, "No row stands under the names of the columns."},
    {"press", STATED "key,ratd_kN\nD,1\n", 3,
     "Column 2, ratd_kN: the table press has no such column; near it: rated."},
    {"press", STATED "key,rated_kN,rated_lbf\nD,1,1\n", 3,
     "Column 3, rated_lbf: column 2, rated_kN, is the same one."},
    {"press", STATED "key,rated_kg\nD,1\n", 3,
     "rated_kg is to be a force, but kg at the end of its name gives a mass."},
    {"press", STATED "key,rated\nD,1\n", 3, "no unit at the end of its name"},
    {"press", STATED "key_mm,rated_kN\nD,1\n", 3, "Column 1, key_mm"},
    {"press", STATED "rated_kN\n1\n", 3, "The column key is missing: it tells the rows of press apart."},
    {"press", STATED "key,rated_kN\n\n,1\n", 5,
     "Column 1, key: this tells the rows apart and is empty here."},
    {"press", STATED "key,rated_kN\nD,1O0\n", 4, "Column 2, rated_kN: \"1O0\" is no number."},
    {"press", STATED "key,rated_kN\nD,\"1,5\"\n", 4, "Column 2, rated_kN: \"1,5\" is no number."},
    {"press", STATED "key,rated_kN\nD,1\nE,2\nD,3\n", 6, "This row stands here already, in line 4."},
    {"press", STATED "key,rated_kN\nD,1,2\n", 4, "The line has 3 cells, the header 2."},
    {"press", "# confidence: memory\nkey,rated_kN\nD,1\n", 3, "No source is stated for this row"},
    {"press", "# source:\n# confidence: memory\nkey,rated_kN\nD,1\n", 4, "No source is stated for this row"},
    {"press", "# source: x\nkey,rated_kN\nD,1\n", 3, "How sure this row is, is not stated"},
    {"press", "# source: x\n# confidence: sure\nkey,rated_kN\nD,1\n", 4,
     "How sure this row is, is not stated"},
    {"press", "key,rated_kN,source,confidence\nD,1,x,memory\nE,2,,memory\n", 3,
     "No source is stated for this row"},
    {"press", "key,rated_kN,source,confidence\nD,1,x,memory\nE,2,x,surely\n", 3,
     "How sure this row is, is not stated"},
    {"stock", STATED "key,size_mm\nx,10 2o\n", 4, "Column 2, size_mm: \"10 2o\" is no number."},
    {"stock", STATED "key,size_mm\nx,10 10\n", 4, "This row stands here already, in line 4."},
    {"stock", STATED "key,size_mm\nx,\n", 4,
     "Column 2, size_mm: this tells the rows apart and is empty here."},
};

START_TEST(a_slip_in_own_rows_is_told_by_line_and_column)
{
    struct base_pool *pool = base_pool_new();
    struct table_set *base = shipped(pool), *out = base;
    struct table_own own = {refused[_i].table, "mine.csv", refused[_i].csv, strlen(refused[_i].csv)};
    struct base_diag why = {0};
    ck_assert_int_ne(table_set_with(base, &own, 1, &out, &why), BASE_OK);
    ck_assert_ptr_null(out);
    ck_assert_msg(strstr(why.message, refused[_i].says), "\"%s\" does not say \"%s\"", why.message,
                  refused[_i].says);
    ck_assert_int_eq(why.line, refused[_i].line);
    if (refused[_i].line)
        ck_assert_str_eq(why.file, "mine.csv");
    table_set_free(base);
    base_pool_free(pool);
}
END_TEST

TCase *own_tests(void)
{
    TCase *t = tcase_create("own");
    tcase_add_test(t, own_rows_are_added_and_stand_in_the_place_of_those_with_their_key);
    tcase_add_loop_test(t, a_slip_in_own_rows_is_told_by_line_and_column, 0, (int)COUNT_OF(refused));
    return t;
}
