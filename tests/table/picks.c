/* Picking: against a plain search on random tables, the forgiveness of 1 nm, and the sentences. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- against a plain search ---------------------------------------------------- */

struct dice { unsigned state; };

static unsigned roll(struct dice *d, unsigned sides)
{
    d->state = d->state * 1664525u + 1013904223u;
    return (d->state >> 10) % sides;
}

/* Columns: kind (text), bore_mm, order (number without unit is text here, so a share), value_mm.
 * Sizes lie on a grid of 0.5 mm, some 0.5 nm over it; some cells are empty. */
static char *random_csv(struct dice *d)
{
    struct base_text csv = {0};
    base_text_add(&csv, "kind,bore_mm,share_pct,value_mm\n");
    int rows = (int)roll(d, 60);
    for (int i = 0; i < rows; i++) {
        base_text_addf(&csv, "%s,",
                       ((const char *const[]){"light", "heavy", "odd", ""})[roll(d, 8) ? roll(d, 3) : 3]);
        if (roll(d, 12))
            base_text_addf(&csv, "%.9f", 10 + 0.5 * roll(d, 4) + 0.5e-6 * roll(d, 2));
        base_text_addf(&csv, ",%u,", 10 * roll(d, 6));
        if (roll(d, 10))
            base_text_addf(&csv, "%.9f", 0.5 * roll(d, 12) + 0.5e-6 * roll(d, 2));
        base_text_add(&csv, "\n");
    }
    return base_text_take(&csv);
}

static bool holds(double x, enum table_relation relation, double y, double slack)
{
    switch (relation) {
    case TABLE_EQUAL: return fabs(x - y) <= slack;
    case TABLE_UNEQUAL: return fabs(x - y) > slack;
    case TABLE_LESS: return x < y - slack;
    case TABLE_AT_MOST: return x <= y + slack;
    case TABLE_MORE: return x > y + slack;
    case TABLE_AT_LEAST: return x >= y - slack;
    }
    return false;
}

struct question { int column; enum table_mode mode; struct table_key keys[3]; double values[4]; int n_keys; };

enum { KIND, BORE, SHARE, VALUE };
static const double NANOMETRE = 1.001e-6;

static bool row_fits(const struct bench *b, int t, int row, const struct question *q)
{
    for (int i = 0; i < q->n_keys; i++) {
        const struct table_cell *cell = table_cell(b->set, t, row, q->keys[i].column);
        bool text = q->keys[i].column == KIND;
        double slack = text ? 0 : q->keys[i].column == SHARE ? 1e-9 * fabs(q->values[i]) : NANOMETRE;
        if (cell->empty || !holds(text ? cell->text : cell->number, q->keys[i].relation, q->values[i], slack))
            return false;
    }
    return true;
}

/* Is X a better answer than BEST to the question's mode? */
static bool better(enum table_mode mode, double x, double best, double need)
{
    switch (mode) {
    case TABLE_OVER: return x >= need - NANOMETRE && !(x >= best);
    case TABLE_UNDER: return x <= need + NANOMETRE && !(x <= best);
    case TABLE_NEAR: return !(fabs(x - need) >= fabs(best - need));
    case TABLE_LARGEST: return !(x <= best);
    case TABLE_SMALLEST: return !(x >= best);
    default: return false;
    }
}

/* Near takes the greatest of those that are as near as NEAREST. */
static double greatest_near(const struct bench *b, int t, const struct question *q, double nearest)
{
    double need = q->values[q->n_keys], best = nearest;
    for (int row = 0; row < table_rows(b->set, t); row++) {
        const struct table_cell *cell = table_cell(b->set, t, row, q->column);
        if (row_fits(b, t, row, q) && !cell->empty && cell->number > best
            && fabs(cell->number - need) <= fabs(nearest - need) + NANOMETRE)
            best = cell->number;
    }
    return best;
}

static enum table_result plain_search(const struct bench *b, int t, const struct question *q, double *out)
{
    int fitting = 0, empty = 0;
    bool differ = false;
    double best = NAN, total = 0, first = NAN;
    for (int row = 0; row < table_rows(b->set, t); row++) {
        if (!row_fits(b, t, row, q))
            continue;
        const struct table_cell *cell = table_cell(b->set, t, row, q->column);
        fitting++;
        empty += cell->empty;
        if (cell->empty)
            continue;
        total += cell->number;
        first = isnan(first) ? cell->number : first;
        differ = differ || fabs(cell->number - first) > NANOMETRE;
        if (better(q->mode, cell->number, best, q->values[q->n_keys]))
            best = cell->number;
    }
    if (q->mode == TABLE_NEAR)
        best = greatest_near(b, t, q, best);
    bool sum = q->mode == TABLE_TOTAL || q->mode == TABLE_LARGEST || q->mode == TABLE_SMALLEST;
    *out = q->mode == TABLE_COUNT    ? fitting
           : q->mode == TABLE_TOTAL  ? total
           : q->mode == TABLE_LISTED ? first
                                     : best;
    if (q->mode == TABLE_COUNT)
        return TABLE_FOUND;
    if (q->mode == TABLE_LISTED && fitting)
        return differ || (empty && empty < fitting) ? TABLE_SEVERAL : empty ? TABLE_EMPTY_CELL : TABLE_FOUND;
    if (sum && empty)
        return TABLE_EMPTY_CELL;
    return q->mode == TABLE_TOTAL || !isnan(*out) ? TABLE_FOUND : TABLE_NO_ROW;
}

static struct question random_question(struct dice *d, const struct bench *b)
{
    static const char *const kinds[] = {"light", "heavy", "odd", "never"};
    struct question q = {.column = VALUE, .mode = (enum table_mode)roll(d, 8), .n_keys = (int)roll(d, 4)};
    for (int i = 0; i < q.n_keys; i++) {
        int column = (int)roll(d, 4);
        enum table_relation relation = (enum table_relation)(roll(d, 2) ? 0
                                                                        : roll(d, column == KIND ? 2 : 6));
        double off = ((const double[]){0, 0.4e-6, -0.4e-6, 0.2})[roll(d, 6) ? roll(d, 3) : 3];
        q.keys[i] = (struct table_key){column, relation};
        q.values[i] = column == KIND ? base_pool_find(b->pool, kinds[roll(d, 4)])
                    : column == SHARE ? 0.1 * roll(d, 6)
                    : column == BORE ? 10 + 0.5 * roll(d, 4) + off : 0.5 * roll(d, 12) + off;
    }
    q.values[q.n_keys] = 0.25 * roll(d, 26) + 0.4e-6 * ((int)roll(d, 3) - 1);
    return q;
}

START_TEST(pick_agrees_with_a_plain_search)
{
    struct dice d = {77u + (unsigned)_i};
    struct bench b;
    bench_open(&b);
    char *csv = random_csv(&d);
    int t = bench_table(&b, "random.csv", csv);
    for (int i = 0; i < 300; i++) {
        struct question q = random_question(&d, &b);
        double out = NAN, want = NAN;
        int row = -2;
        int query = table_query(b.set, t, q.column, q.mode, q.keys, q.n_keys);
        ck_assert_int_eq(query, table_query(b.set, t, q.column, q.mode, q.keys, q.n_keys));
        enum table_result got = table_run(b.set, query, q.values, &out, &row);
        enum table_result expected = plain_search(&b, t, &q, &want);
        ck_assert_msg(got == expected, "question %d of mode %d: %d, a plain search %d\n%s",
                      i, q.mode, got, expected, csv);
        if (got == TABLE_FOUND)
            ck_assert_msg(fabs(out - want) <= NANOMETRE, "question %d of mode %d: %.9f, a plain search %.9f",
                          i, q.mode, out, want);
        if (got == TABLE_FOUND && row >= 0) {
            ck_assert(row_fits(&b, t, row, &q));
            ck_assert_double_eq(table_cell(b.set, t, row, q.column)->number, out);
        }
        ck_assert_int_eq(got == TABLE_FOUND && row < 0,
                         got == TABLE_FOUND && (q.mode == TABLE_TOTAL || q.mode == TABLE_COUNT));
    }
    free(csv);
    bench_close(&b);
}
END_TEST

/* More equal keys than an index takes are still all asked. */
START_TEST(many_equal_keys_all_count)
{
    struct bench b;
    bench_open(&b);
    int t = bench_table(&b, "wide.csv",
                        "a,b,c,d,e,f,g,h,i,value_mm\n1,1,1,1,1,1,1,1,1,5\n1,1,1,1,1,1,1,1,2,6\n");
    struct table_key keys[9];
    double values[9], out = 0;
    for (int i = 0; i < 9; i++) {
        keys[i] = (struct table_key){i, TABLE_EQUAL};
        values[i] = base_pool_put(b.pool, i == 8 ? "2" : "1");
    }
    int query = table_query(b.set, t, 9, TABLE_LISTED, keys, 9);
    ck_assert_int_eq(table_run(b.set, query, values, &out, NULL), TABLE_FOUND);
    ck_assert_double_eq(out, 6);
    bench_close(&b);
}
END_TEST

/* ---- 1 nm, ties, candidates -------------------------------------------------------- */

static const char lengths[] =
    "# standard: S\ntype,diameter_mm,length_mm,rate_n_per_mm\n"
    "plain,32,140,5\nplain,32,160,5\nplain,32,180,4\nflanged,32,200,\nplain,40,315,abc\n";

static const struct {
    enum table_mode mode;
    double need;
    enum table_result result;
    double out;
} forgiven[] = {
    {TABLE_OVER, 160, TABLE_FOUND, 160},         {TABLE_OVER, 160.000001, TABLE_FOUND, 160},
    {TABLE_OVER, 160.0000011, TABLE_FOUND, 180}, {TABLE_OVER, 180.000001, TABLE_FOUND, 180},
    {TABLE_OVER, 180.01, TABLE_NO_ROW, 0},       {TABLE_OVER, -5, TABLE_FOUND, 140},
    {TABLE_UNDER, 159.999999, TABLE_FOUND, 160}, {TABLE_UNDER, 159.9999989, TABLE_FOUND, 140},
    {TABLE_UNDER, 139.9, TABLE_NO_ROW, 0},       {TABLE_UNDER, 1e9, TABLE_FOUND, 180},
    {TABLE_NEAR, 150, TABLE_FOUND, 160},         {TABLE_NEAR, 149.9999999, TABLE_FOUND, 160},
    {TABLE_NEAR, 149.9, TABLE_FOUND, 140},       {TABLE_NEAR, 1000, TABLE_FOUND, 180},
    {TABLE_NEAR, 0, TABLE_FOUND, 140},           {TABLE_OVER, NAN, TABLE_NO_ROW, 0},
    {TABLE_UNDER, NAN, TABLE_NO_ROW, 0},         {TABLE_NEAR, NAN, TABLE_NO_ROW, 0},
    {TABLE_OVER, INFINITY, TABLE_NO_ROW, 0},     {TABLE_OVER, -INFINITY, TABLE_FOUND, 140},
    {TABLE_UNDER, INFINITY, TABLE_FOUND, 180},
};

START_TEST(one_nanometre_is_forgiven_and_no_more)
{
    struct bench b;
    bench_open(&b);
    int t = bench_table(&b, "posts.csv", lengths);
    const struct table_key keys[] = {{1, TABLE_EQUAL}, {0, TABLE_EQUAL}};
    const double values[] = {32, base_pool_put(b.pool, "plain"), forgiven[_i].need};
    double out = 0;
    int query = table_query(b.set, t, 2, forgiven[_i].mode, keys, 2);
    ck_assert_int_eq(table_run(b.set, query, values, &out, NULL), forgiven[_i].result);
    ck_assert_double_eq(out, forgiven[_i].out);
    bench_close(&b);
}
END_TEST

START_TEST(candidates_stand_in_order)
{
    struct bench b;
    bench_open(&b);
    int t = bench_table(&b, "mixed.csv", "size,length_mm\nM8,30\nM6,10\nM8,\nM8,12\nM8,20\n"), column = -1;
    const struct table_key key = {0, TABLE_EQUAL};
    const double m8 = base_pool_put(b.pool, "M8"), m9 = base_pool_put(b.pool, "M9");
    const int *rows, want[] = {3, 4, 0, 2};
    int query = table_query(b.set, t, 1, TABLE_OVER, &key, 1);
    ck_assert_int_eq(table_query_table(b.set, query, &column), t);
    ck_assert_int_eq(column, 1);
    ck_assert_int_eq(table_candidates(b.set, query, &m8, &rows), 4);
    ck_assert_mem_eq(rows, want, sizeof want);
    ck_assert_int_eq(table_candidates(b.set, query, &m9, &rows), 0);
    bench_close(&b);
}
END_TEST

/* ---- sentences ---------------------------------------------------------------------- */

static const struct {
    enum table_mode mode;
    int column;
    struct table_key keys[2];
    const char *texts[2];
    double values[3];
    int n_keys;
    const char *says;
} sentences[] = {
    {TABLE_OVER,
     2,
     {{0, TABLE_EQUAL}, {1, TABLE_EQUAL}},
     {"plain", NULL},
     {0, 32, 468},
     2,
     "no length_mm of posts.csv reaches 468.0 mm (type = \"plain\", diameter_mm = 32.0 mm): the longest is "
     "180.0 mm"},
    {TABLE_UNDER,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {32, 100},
     1,
     "no length_mm of posts.csv is as small as 100.0 mm (diameter_mm = 32.0 mm): the shortest is 140.0 mm"},
    {TABLE_UNDER,
     2,
     {{1, TABLE_EQUAL}, {2, TABLE_AT_LEAST}},
     {NULL, NULL},
     {32, 170, 175},
     2,
     "no length_mm of posts.csv is as small as 175.0 mm (diameter_mm = 32.0 mm, length_mm >= 170.0 mm): the "
     "shortest is 180.0 mm"},
    {TABLE_OVER,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {33, 100},
     1,
     "no row of posts.csv has diameter_mm = 33.0 mm: there is 32.0 mm and 40.0 mm"},
    {TABLE_OVER,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {50, 100},
     1,
     "no row of posts.csv has diameter_mm = 50.0 mm: there is 40.0 mm"},
    {TABLE_LISTED,
     2,
     {{0, TABLE_EQUAL}, {1, TABLE_EQUAL}},
     {"plane", NULL},
     {0, 40},
     2,
     "no row of posts.csv has type = \"plane\" (diameter_mm = 40.0 mm): there is plain"},
    {TABLE_LISTED,
     2,
     {{0, TABLE_EQUAL}},
     {"xyz", NULL},
     {0},
     1,
     "no row of posts.csv has type = \"xyz\": there is plain and flanged"},
    {TABLE_LISTED,
     2,
     {{1, TABLE_MORE}},
     {NULL},
     {40},
     1,
     "no row of posts.csv has diameter_mm > 40.0 mm: the largest is 40.0 mm"},
    {TABLE_LISTED,
     2,
     {{1, TABLE_EQUAL}, {2, TABLE_AT_MOST}},
     {NULL, NULL},
     {32, 20},
     2,
     "no row of posts.csv has length_mm <= 20.0 mm (diameter_mm = 32.0 mm): the smallest is 140.0 mm"},
    {TABLE_LISTED,
     2,
     {{0, TABLE_EQUAL}, {1, TABLE_EQUAL}},
     {"none", NULL},
     {0, 7},
     2,
     "no row of posts.csv fits (type = \"none\", diameter_mm = 7.0 mm)"},
    {TABLE_LISTED,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {32},
     1,
     "4 rows of posts.csv fit (diameter_mm = 32.0 mm) and differ in length_mm: 140.0 mm, 160.0 mm, 180.0 mm "
     "and others"},
    {TABLE_LISTED,
     3,
     {{0, TABLE_EQUAL}, {1, TABLE_EQUAL}},
     {"plain", NULL},
     {0, 32},
     2,
     "3 rows of posts.csv fit (type = \"plain\", diameter_mm = 32.0 mm) and differ in rate_n_per_mm: 5.0 "
     "N/mm and 4.0 N/mm"},
    {TABLE_LISTED,
     0,
     {{1, TABLE_EQUAL}},
     {NULL},
     {32},
     1,
     "4 rows of posts.csv fit (diameter_mm = 32.0 mm) and differ in type: \"plain\" and \"flanged\""},
    {TABLE_LISTED,
     3,
     {{0, TABLE_EQUAL}},
     {"flanged"},
     {0},
     1,
     "rate_n_per_mm of posts.csv is not filled in (type = \"flanged\"): posts.csv, line 6"},
    {TABLE_LISTED,
     3,
     {{1, TABLE_EQUAL}},
     {NULL},
     {40},
     1,
     "rate_n_per_mm of posts.csv is not filled in (diameter_mm = 40.0 mm): posts.csv, line 7, has \"abc\" "
     "there"},
    {TABLE_OVER,
     3,
     {{1, TABLE_EQUAL}},
     {NULL},
     {40, 3},
     1,
     "no rate_n_per_mm of posts.csv is filled in (diameter_mm = 40.0 mm)"},
    {TABLE_OVER,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {32, 150},
     1,
     "length_mm of posts.csv (diameter_mm = 32.0 mm) is 160.0 mm"},
    {TABLE_COUNT, -1, {{1, TABLE_EQUAL}}, {NULL}, {32}, 1, "4 rows of posts.csv fit (diameter_mm = 32.0 mm)"},
    {TABLE_TOTAL,
     2,
     {{1, TABLE_EQUAL}},
     {NULL},
     {32},
     1,
     "the total of length_mm of posts.csv (diameter_mm = 32.0 mm) is 680.0 mm"},
};

START_TEST(sentence_says_what_was_wanted_and_what_is_there)
{
    struct bench b;
    struct base_text out = {0};
    double values[3];
    bench_open(&b);
    int t = bench_table(&b, "posts.csv", lengths);
    memcpy(values, sentences[_i].values, sizeof values);
    for (int i = 0; i < 2; i++)
        if (sentences[_i].texts[i])
            values[i] = base_pool_put(b.pool, sentences[_i].texts[i]);
    int query = table_query(b.set, t, sentences[_i].column, sentences[_i].mode, sentences[_i].keys,
                            sentences[_i].n_keys);
    table_explain(b.set, query, values, UNIT_METRIC, &out);
    ck_assert_str_eq(base_text_get(&out), sentences[_i].says);
    base_text_done(&out);
    bench_close(&b);
}
END_TEST

START_TEST(sentence_is_in_inches_when_asked)
{
    struct bench b;
    struct base_text out = {0};
    const double need = 508;
    bench_open(&b);
    int query = table_query(b.set, bench_table(&b, "posts.csv", lengths), 2, TABLE_OVER, NULL, 0);
    table_explain(b.set, query, &need, UNIT_INCH, &out);
    ck_assert_ptr_nonnull(strstr(base_text_get(&out), "reaches 20.000 in: the longest is 12.40"));
    base_text_done(&out);
    bench_close(&b);
}
END_TEST

TCase *pick_tests(void)
{
    TCase *t = tcase_create("picks");
    tcase_add_loop_test(t, pick_agrees_with_a_plain_search, 0, 60);
    tcase_add_test(t, many_equal_keys_all_count);
    tcase_add_loop_test(t, one_nanometre_is_forgiven_and_no_more, 0, COUNT_OF(forgiven));
    tcase_add_test(t, candidates_stand_in_order);
    tcase_add_loop_test(t, sentence_says_what_was_wanted_and_what_is_there, 0, COUNT_OF(sentences));
    tcase_add_test(t, sentence_is_in_inches_when_asked);
    return t;
}
