/* Rows of the job's own for parts tables: imported, undone, seen by others, in the text of the job. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define JOB "data/demo/cover-plate.txt"
#define STATED "# source: name plate\n# confidence: published\n"

static const char two[] = STATED
    "key,frame,rated_kN,most_height_mm,adjustment_mm,stroke_in\r\nnumber 7,open front,800,330,80,4\r\n\r\n"
    "open front 630 kN,open front,600,300,60,3\r\n";
static const char one[] = STATED "key,frame,rated_kN,most_height_mm\nnumber 7,open front,820,340\n";

static enum base_err import(struct job *j, const char *file, const char *csv, struct base_diag *why)
{
    return job_import(j, "press_size", file, csv, strlen(csv), why);
}

START_TEST(an_imported_row_is_picked_and_can_be_taken_back)
{
    struct job *j = bench_file(JOB); /* in the shipped press of 630 kN */
    char *before = job_dump(j);
    ck_ok(import(j, "shop/Our presses-2.csv", two, why));
    ck_assert_str_eq(job_outcome(j)->title, "our_presses_2: rows of press_size from shop/Our presses-2.csv");
    /* stands in the place of the shipped one */
    ck_assert_double_eq_tol(number(j, "press.rated"), 600000, 1e-6);
    bool told = false;
    for (int i = 0; i < job_outcome(j)->n_moves; i++)
        told = told || strcmp(job_outcome(j)->moves[i].path, "press.most_height") == 0;
    ck_assert(told);
    job_drop(j);
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6);
    ck_ok(import(j, "shop/Our presses-2.csv", two, why));
    bench_take(j);
    bench_set(j, "press.size", "\"number 7\"");
    ck_assert_double_eq_tol(number(j, "press.rated"), 800000, 1e-6);
    ck_assert_double_eq_tol(number(j, "press.least"), 330 - 80 + 10, 1e-9);
    bench_same_when_fresh(j);
    ck_ok(job_undo(j, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 600000, 1e-6);
    ck_ok(job_undo(j, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6);
    char *back = job_dump(j);
    ck_assert_str_eq(before, back);
    ck_ok(job_redo(j, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 600000, 1e-6);
    bench_same_when_fresh(j);
    free(before);
    free(back);
    job_close(j);
}
END_TEST

START_TEST(the_same_file_again_takes_the_place_of_what_it_brought)
{
    struct job *j = bench_file(JOB);
    ck_ok(import(j, "our.csv", two, why));
    bench_take(j);
    ck_ok(import(j, "our.csv", one, why));
    bench_take(j);
    char *dump = job_dump(j);
    ck_assert_ptr_nonnull(strstr(
        dump,
        "\nown_sizes our\n  table press_size\n  line # source: name plate\n  line # confidence: published\n"
        "  line key,frame,rated_kN,most_height_mm\n  line number 7,open front,820,340\n"));
    ck_assert_ptr_null(strstr(dump, "stroke_in"));
    free(dump);
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6); /* the shipped row stands again */
    /* of two own ones the later holds */
    ck_ok(import(j, "other.csv", STATED "key,rated_kN\nnumber 7,1000\n", why));
    bench_take(j);
    bench_set(j, "press.size", "\"number 7\"");
    ck_assert_double_eq_tol(number(j, "press.rated"), 1e6, 1e-6);
    ck_ok(job_remove(j, "other", why));
    bench_take(j);
    ck_assert_double_eq_tol(number(j, "press.rated"), 820000, 1e-6);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

START_TEST(own_rows_stand_in_the_file_and_others_see_them)
{
    char *path;
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path), *other, *third;
    ck_ok(job_open(bench_handbook, path, false, &other, why));
    ck_ok(import(j, "our.csv", two, why));
    bench_take(j);
    ck_assert(job_refresh(other));
    ck_assert_double_eq_tol(number(other, "press.rated"), 600000, 1e-6);
    ck_ok(import(other, "our.csv", one, why)); /* and may change them in turn */
    bench_take(other);
    bench_set(j, "strip.width", "60 mm"); /* an edit of something else goes through meanwhile */
    job_refresh(j);
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6);
    ck_ok(job_open(bench_handbook, path, true, &third, why));
    char *a = job_dump(j), *b = job_dump(third);
    ck_assert_str_eq(a, b);
    free(a);
    free(b);
    job_close(j);
    job_close(other);
    job_close(third);
    free(path);
}
END_TEST

static struct handbook *newer_handbook(const char *folder)
{
    struct handbook *h;
    char *copy = base_format("cp -r data '%s/data' && sed -i 's/^open front 630 kN,open front,630,/open "
                             "front 630 kN,open front,640,/' '%s/data/parts/presses.csv'",
                             folder, folder),
         *data = base_format("%s/data", folder);
    ck_assert_int_eq(system(copy), 0);
    ck_ok(job_open_handbook(data, &h, why));
    free(copy);
    free(data);
    return h;
}

static void count_tables(void *arg, const char *file, int more, int gone)
{
    ck_assert_str_eq(file, "presses.csv");
    ck_assert_int_eq(more, 1);
    ck_assert_int_eq(gone, 1);
    ++*(int *)arg;
}

/* A job begun with older tables: the newer ones are tried, dropped, taken; who has the job open sees them,
   own rows stay. */
START_TEST(newer_tables_are_taken_over_as_a_whole)
{
    char *path, folder[200];
    struct base_diag cause = {0};
    snprintf(folder, sizeof folder, "%s", fresh_folder());
    struct job *first = bench_disk(folder, "set", JOB, &path), *j, *other;
    ck_ok(import(first, "our.csv", one, why));
    bench_take(first);
    ck_assert_int_eq(job_renew(first, &cause), BASE_REFUSED);
    job_close(first);
    struct handbook *h = newer_handbook(folder);
    ck_ok(job_open(h, path, false, &j, why));
    ck_ok(job_open(h, path, false, &other, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6);
    int tables = 0;
    job_renewals(j, count_tables, &tables);
    ck_assert_int_eq(tables, 1);
    ck_ok(job_renew(j, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 640000, 1e-6);
    ck_assert_int_gt(job_outcome(j)->n_moves, 0);
    job_drop(j);
    ck_assert_double_eq_tol(number(j, "press.rated"), 630000, 1e-6);
    bench_set(j, "strip.width", "60 mm"); /* edits go on over either */
    ck_ok(job_renew(j, why));
    ck_ok(job_take(j, why));
    ck_assert(job_saved(j));
    bench_set(j, "press.size", "\"number 7\"");
    ck_assert_double_eq_tol(number(j, "press.rated"), 820000, 1e-6);
    ck_ok(job_undo(j, why));
    ck_assert_double_eq_tol(number(j, "press.rated"), 640000, 1e-6);
    ck_assert(job_refresh(other));
    ck_assert_double_eq_tol(number(other, "press.rated"), 640000, 1e-6);
    ck_assert_int_eq(job_renew(other, &cause), BASE_REFUSED);
    job_close(j);
    job_close(other);
    handbook_free(h);
    free(path);
}
END_TEST

/* Whoever types into one list what another has changed meanwhile is told so. */
START_TEST(two_imports_of_one_file_at_once_are_a_conflict)
{
    char *path;
    struct base_diag cause = {0};
    struct job *j = bench_disk(fresh_folder(), "set", JOB, &path), *other;
    ck_ok(import(j, "our.csv", two, why));
    bench_take(j);
    ck_ok(job_open(bench_handbook, path, false, &other, why));
    ck_ok(import(other, "our.csv", one, why));
    ck_ok(import(j, "our.csv", STATED "key,rated_kN\nnumber 9,1\n", why));
    bench_take(j);
    ck_assert_int_eq(job_take(other, &cause), BASE_CONFLICT);
    ck_assert_ptr_nonnull(strstr(cause.message, "has changed meanwhile"));
    char *a = job_dump(j), *b = job_dump(other);
    ck_assert_str_eq(a, b);
    free(a);
    free(b);
    job_close(j);
    job_close(other);
    free(path);
}
END_TEST

static const struct { const char *table, *file, *csv, *says; int line;
} refused[] = {
    {"press_size", "a.csv", STATED "key,rated_kN\nD,8oo\n", "Column 2, rated_kN: \"8oo\" is no number.", 4},
    {"press_size", "a.csv", "", "There is no header line", 1},
    {"press_size", "a.csv", STATED "key\tframe\nD\n", "", 3},
    {"press_size", "a.csv", STATED "key,frame\nD,\"open\n", "never closed", 4},
    {"press_size", "a.csv", STATED "key,frame\nD,\x01\n", "control character", 4},
    {"press_size", "a.csv", STATED "key,frame\nD,\xff\n", "not UTF-8", 4},
    {"pres_size", "a.csv", STATED "key\nD\n", "There is no parts table \"pres_size\"; near it: press_size",
     0},
    {"press_size", "die_plate.csv", STATED "key\nD\n", "an item \"die_plate\" that holds no sizes", 0},
    {"press_size", "steels.csv", STATED "key\nD\n", "steels holds rows of steel, not of press_size", 0},
    {"press_size", "stack.csv", STATED "key\nD\n", "", 0},
    /* no word of the language is in the way of an item's name */
    {"press_size", "sin.csv", STATED "key\nD\n", "", -1},
};

START_TEST(what_is_refused_changes_nothing)
{
    struct job *j = bench_file(JOB);
    const char *steel = STATED "called,density_kg_m3\n1.0000,7800\n";
    ck_ok(job_import(j, "steel", "steels.csv", steel, strlen(steel), why));
    bench_take(j);
    char *before = job_dump(j);
    struct base_diag cause = {0};
    enum base_err err = job_import(j, refused[_i].table, refused[_i].file, refused[_i].csv,
                                   strlen(refused[_i].csv), &cause);
    if (refused[_i].line >= 0) {
        ck_assert(err == BASE_REFUSED || err == BASE_UNKNOWN);
        ck_assert_msg(strstr(cause.message, refused[_i].says), "%s", cause.message);
        ck_assert_int_eq(cause.line, refused[_i].line);
        ck_assert(!job_trying(j));
    }
    job_drop(j);
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
    job_close(j);
}
END_TEST

START_TEST(a_line_too_long_for_the_job_is_told)
{
    struct job *j = bench_file(JOB);
    struct base_diag cause = {0};
    char *csv = base_format("%skey,frame\nD,%0950d\n", STATED, 7);
    ck_assert_int_eq(job_import(j, "press_size", "a.csv", csv, strlen(csv), &cause), BASE_REFUSED);
    ck_assert_int_eq(cause.line, 4);
    free(csv);
    job_close(j);
}
END_TEST

/* In a text from a stranger the rows are held to the same. */
static const struct { const char *rows, *says;
} texts[] = {
    {"own_sizes our\n  table press_size\n  line # source: x\n  line # confidence: memory\n  line "
     "key,rated_kN\n  line D,8oo\n",
     "our.line.4: Column 2, rated_kN: \"8oo\" is no number."},
    {"own_sizes our\n  table pres\n  line key\n  line D\n", "There is no parts table \"pres\""},
    {"own_sizes our\n  line key\n  line D\n", "There is no parts table \"\""},
    {"own_sizes our\n  table press_size\n", "our"},
    {"own_sizes our\n  row D\n", "is written"},
    {"own_sizes our\n  table press_size\n  table press_size\n", "said twice"},
};

START_TEST(rows_in_a_text_are_held_to_the_same)
{
    char *job = read_text(JOB), *text = base_format("%s\n%s", job, texts[_i].rows);
    struct job *j;
    struct base_diag cause = {0};
    ck_assert_int_ne(job_from_text(bench_handbook, text, "text", &j, &cause), BASE_OK);
    ck_assert_msg(strstr(cause.message, texts[_i].says), "%s", cause.message);
    free(job);
    free(text);
}
END_TEST

START_TEST(an_empty_list_is_no_fault)
{
    struct job *j = bench_file(JOB);
    ck_ok(job_add(j, "own_sizes", "to_come", -1, why));
    bench_take(j);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

TCase *own_size_tests(void)
{
    TCase *c = tcase_create("own_sizes");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_test(c, an_imported_row_is_picked_and_can_be_taken_back);
    tcase_add_test(c, the_same_file_again_takes_the_place_of_what_it_brought);
    tcase_add_test(c, own_rows_stand_in_the_file_and_others_see_them);
    tcase_add_test(c, newer_tables_are_taken_over_as_a_whole);
    tcase_add_test(c, two_imports_of_one_file_at_once_are_a_conflict);
    tcase_add_loop_test(c, what_is_refused_changes_nothing, 0, (int)COUNT_OF(refused));
    tcase_add_test(c, a_line_too_long_for_the_job_is_told);
    tcase_add_loop_test(c, rows_in_a_text_are_held_to_the_same, 0, (int)COUNT_OF(texts));
    tcase_add_test(c, an_empty_list_is_no_fault);
    return c;
}
