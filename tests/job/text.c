/* A job as record text: out and in again, and what is refused where. */

#include "bench.h"

#include "diewright/store.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char *const files[] = {
    "data/demo/cover-plate.txt",
    "data/demo/spacer-plate.txt",
    "data/templates/spring-stripper.txt",
    "data/templates/fixed-stripper.txt",
    "tests/job/all-sorts.txt",
};

START_TEST(a_dump_loaded_gives_the_same_dump_values_and_findings)
{
    struct job *j = bench_file(files[_i]);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

/* Shipped texts stand as a dump writes them, comments apart: no line of theirs is lost or moved. */
START_TEST(a_dump_of_a_well_written_text_is_that_text)
{
    struct job *j = bench_file("tests/job/all-sorts.txt");
    char *dump = job_dump(j), *text = read_text("tests/job/all-sorts.txt");
    ck_assert_str_eq(dump, text);
    free(dump);
    free(text);
    job_close(j);
}
END_TEST

/* A factor answers by the name that it had before: in formulas, when it is set, in a text. What is written
   bears today's name. */
START_TEST(a_factor_answers_by_its_former_name)
{
    struct job *j = NULL;
    ck_ok(job_from_text(
        bench_handbook,
        "job\n  unit = \"mm\"\n\nvalues own\n  a : number = press_safety * 10\n\nfactor screw_safety = 3\n",
        "old", &j, why));
    struct dieset *d = job_dieset(j);
    ck_assert_double_eq_tol(dieset_get(d, "own.a", DIESET_NEW).number, 13, 1e-9);
    ck_assert_double_eq_tol(dieset_get(d, "screw_reserve", DIESET_NEW).number, 3, 1e-9);
    ck_ok(job_set(j, "press_safety", "1.4", why));
    ck_ok(job_take(j, why));
    ck_ok(job_set(j, "screw_safety", "2.5", why));
    ck_ok(job_take(j, why));
    char *dump = job_dump(j);
    ck_assert_msg(strstr(dump, "factor press_reserve = 1.4\n") &&
                      strstr(dump, "factor screw_reserve = 2.5\n"),
                  "%s", dump);
    ck_assert_ptr_null(strstr(dump, "screw_safety"));
    ck_assert_double_eq_tol(dieset_get(d, "own.a", DIESET_NEW).number, 14, 1e-9);
    free(dump);
    job_close(j);
}
END_TEST

#define SET                                                                                                \
    "stack\n  upper_shoe = top\n  punch_plate = top\n  stripper = top\n  die_plate = top\n  lower_shoe = " \
    "top\n\nplate top\n  length = 200 mm\n  width = 100 mm\n"

static const struct refusal { const char *text; int line; const char *says;
} refusals[] = {
    {"job\n\nplates top\n", 3, "kind \"plates\"; near it: plate"},
    {"job\n\nplate Top\n", 3, "\"kind name\""},
    {"job mine\n", 1, "leave the name out"},
    {"job\n  unit \"mm\"\n", 2, "\"name = formula\""},
    {"plate top\n  thickness = 20\n", 2, "thickness"},
    {"plate top\n  thickness = 20 kN\n", 2, "length"},
    {"plate top\n  thickness = 20 mm +\n", 2, ""},
    {"plate top\n  thicknes = 20 mm\n", 2, "thickness"},
    {"plate top\n  top = 20 mm\n", 2, "top"},
    {"plate top\n  thickness = thin.thickness\n", 2, "thin"},
    {"plate top\n  thickness = 20 mm\n  thickness = 21 mm\n", 3, "twice"},
    {"plate top\n\nplate top\n", 3, "already"},
    {"plate top\n  moves = \"sideways\"\n", 2, "sideways"},
    {"plate top\n\tthickness = 20 mm\n", 2, "tab"},
    {"plate top\n    thickness = 20 mm\n", 2, "two blanks deeper"},
    {"factor no_such = 3\n", 1, "no_such"},
    {"factor press_reserve\n", 1, "\"factor NAME = formula\""},
    {SET "station cut_out\n  outline\n    at 0 mm, 0 mm\n    line to 3 mm\n", 14, "Two coordinates"},
    {SET "station cut_out\n  outline\n    at 0 mm, 0 mm\n    line to 3 mm, nothing\n", 14, "nothing"},
    {SET "station cut_out\n  outline\n    from 0 mm, 0 mm\n", 13, "begins with"},
    {SET "station cut_out\n  outline of it\n    at 0 mm, 0 mm\n", 12, "Nothing can stand behind"},
    {SET "station cut_out\n  outline\n    at 0 mm, 0 mm\n      because of it\n", 14, ""},
    {SET "plate p\n  outline\n    at 0 mm, 0 mm\n", 13, ""},
    {SET "dowels pins\n  lay fives on top\n", 12, "fives"},
    {SET "dowels pins\n  lay six on bottom\n", 12, "bottom"},
    {SET "dowels pins\n  lay six on top\n    side = 2\n", 13, "side"},
    {SET "dowels pins\n  lay six on top\n    depth = 2 mm\n", 13, "depth"},
    {SET "dowels pins\n  lay six on top\n    point nowhere\n      x = 2 mm\n", 14, "nowhere"},
    {SET
     "dowels pins\n  lay six on top\n    end = 2 mm\n    side = 2 mm\n    point right_back\n      x = 2 s\n",
     16, "pins.right_back.x"},
    {SET
     "dowels pins\n  lay six on top\n    end = 2 mm\n    side = 2 mm\n    point right_back\n      z = 2 mm\n",
     16, "pins.right_back.z"},
    {SET "dowels pins\n  lay six on top\n    point Nowhere\n      x = 2 mm\n", 13, "\"point NAME\""},
    {SET "values mine\n  reach = 12 mm\n", 12, ""},
    {SET "values mine\n  reach : lenght = 12 mm\n", 12, "lenght"},
    {SET "values mine\n  reach : length = 12 s\n", 12, "length"},
    {SET "values mine\n  a : length = mine.b\n  b : length = mine.a\n", 12, "mine.a"},
    {SET "screws few\n  head_in = stack\n", 12, "plate"},
    {SET "plate mm\n", 11, "mm"},
    {SET "plate hole\n", 11, "hole"},
    {SET "plate press_reserve\n", 11, "factor"},
};

START_TEST(a_refused_text_names_its_line)
{
    const struct refusal *r = &refusals[_i];
    struct job *j = (struct job *)1;
    struct base_diag why = {0};
    enum base_err err = job_from_text(bench_handbook, r->text, "mine.txt", &j, &why);
    ck_assert_msg(err == BASE_REFUSED || err == BASE_UNKNOWN, "'%s' was read", r->text);
    ck_assert_ptr_null(j);
    ck_assert_msg(strcmp(why.file, "mine.txt") == 0 && why.line == r->line,
                  "'%s' is refused at %s:%d, not %d: %s", r->text, why.file, why.line, r->line, why.message);
    ck_assert_msg(strstr(why.message, r->says), "'%s': %s", r->says, why.message);
    size_t n = strlen(why.message);
    ck_assert_msg(n > 10 && why.message[n - 1] == '.', "no sentence: %s", why.message);
}
END_TEST

START_TEST(a_refused_text_leaves_no_file)
{
    const char *folder = fresh_folder();
    char *path = base_format("%s/new.diejob", folder), *text;
    struct job *j;
    struct base_diag why = {0};
    ck_assert_int_ne(job_create(bench_handbook, path, refusals[_i].text, "mine.txt", &j, &why), BASE_OK);
    ck_assert_int_ne(base_read_file(path, &text, NULL, NULL), BASE_OK);
    free(path);
}
END_TEST

/* What the language could mistake for something else goes through a dump unharmed. */
static const char *const odd_words[] = {
    "= 25 mm",
    "\"in quotes\"",
    "it's \"half\" quoted",
    "ends in \\",
    "# no comment",
    "a = b",
    "Gr\xc3\xbc\xc3\x9fung",
    "{braces}",
    "on die_plate",
    "\"",
    "\"\"",
};

START_TEST(odd_words_survive)
{
    struct job *j = bench_file("tests/job/all-sorts.txt");
    ck_ok(job_entry(j, "die_plate", "title", odd_words[_i], why));
    bench_take(j);
    ck_ok(job_entry(j, "die_plate", "note", odd_words[_i], why));
    bench_take(j);
    ck_ok(job_reason(j, "die_plate.width", odd_words[_i], why));
    bench_take(j);
    bench_same_when_fresh(j);
    char *dump = job_dump(j);
    struct job *fresh = bench_text(dump);
    int plate = dieset_find_item(job_dieset(fresh), "die_plate");
    ck_assert_str_eq(dieset_entry(job_dieset(fresh), plate, "note"), odd_words[_i]);
    ck_assert_str_eq(dieset_entry(job_dieset(fresh), plate, "width/reason"), odd_words[_i]);
    free(dump);
    job_close(fresh);
    job_close(j);
}
END_TEST

static const struct unkept { const char *text, *says; } unkept[] = {
    {"two\nlines", "line break"},
    {"two\rlines", "line break"},
    {"a\ttab", "tab"},
    {"a bell\a", "control character"},
    {"not UTF-8: \xff", "UTF-8"},
    {NULL, "longer than 900 bytes"},
};

START_TEST(what_a_line_cannot_hold_is_refused)
{
    struct job *j = bench_file("tests/job/all-sorts.txt");
    struct base_diag why = {0};
    char longest[1000];
    memset(longest, 'a', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    char *before = job_dump(j);
    ck_assert_int_eq(job_entry(j, "die_plate", "note", unkept[_i].text ? unkept[_i].text : longest, &why),
                     BASE_REFUSED);
    ck_assert_msg(strstr(why.message, unkept[_i].says), "%s", why.message);
    ck_assert(!job_trying(j));
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
    job_close(j);
}
END_TEST

/* What is beyond use, typed and as a job of another program brings it. */
static const struct { const char *entries[3][3]; /* item, path, text */ const char *says; } beyond[] = {
    {{{"dimples", "lay/columns", "100000"}},
     "dimples.lay.columns would be 100000; the handbook allows 1 to 1000."},
    {{{"dimples", "lay/columns", "0"}}, "dimples.lay.columns would be 0; the handbook allows 1 to 1000."},
    {{{"dimples", "lay/rows", "2.5"}}, "dimples.lay.rows: 2.5 is no whole number of pieces."},
    {{{"bushings", "clamps", "10000"}}, "bushings.clamps would be 10000; the handbook allows 0 to 24."},
    {{{"dimples", "lay/columns", "1000"}, {"dimples", "lay/rows", "1000"}},
     "dimples.lay: with these 1000000 the job would have more than 40000 points, which is beyond use."},
    {{{"dimples", "lay/columns", "1000"}, {"dimples", "lay/rows", "40"}},
     "dimples.lay: with these 40000 the job would have more than 40000 points, which is beyond use."},
    {{{"die_screws", "lay", "rows on die_plate"},
      {"die_screws", "lay/columns", "1000"},
      {"die_screws", "lay/rows", "39"}},
     "with these 39000 the job would have more than 200000 holes and bodies, which is beyond use."},
};

static int entries_of(int i)
{
    int n = 0;
    while (n < 3 && beyond[i].entries[n][0])
        n++;
    return n;
}

static void refused_with(enum base_err err, const struct base_diag *why, const char *says, const char *door)
{
    ck_assert_msg(err != BASE_OK, "%s: taken", door);
    ck_assert_msg(strstr(why->message, says) != NULL, "%s: %s", door, why->message);
}

/* Typed into an open job: it stays as it was. */
static void at_typing(int i)
{
    if (strcmp(beyond[i].entries[0][1], "lay") == 0)
        return; /* a pattern is laid, not typed */
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct base_diag why = {0};
    const char *paths[3], *texts[3];
    char *before = job_dump(j), *held[3] = {NULL};
    int n = entries_of(i);
    for (int k = 0; k < n; k++) {
        paths[k] = held[k] = typed_known(beyond[i].entries[k][0], beyond[i].entries[k][1]);
        texts[k] = beyond[i].entries[k][2];
    }
    long steps = base_steps();
    refused_with(job_set_many(j, paths, texts, n, &why), &why, beyond[i].says, "typed");
    ck_assert_int_lt(base_steps() - steps, 400000); /* each thing made of the job is one */
    ck_assert(!job_trying(j));
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    for (int k = 0; k < n; k++)
        free(held[k]);
    free(before);
    free(after);
    job_close(j);
}

/* In a file that another program wrote, with all its sums right: it is not opened, nor changed; and its text
   begins no job. */
static void at_opening(int i)
{
    char *path, *folder = base_copy(fresh_folder());
    job_close(bench_disk(folder, "job", "data/demo/cover-plate.txt", &path));
    struct store *s;
    struct job *j;
    struct base_diag reason = {0};
    ck_ok(store_open(path, false, &s, why));
    for (int k = 0; k < entries_of(i); k++) {
        const char *const *e = beyond[i].entries[k];
        struct store_state is;
        const char *before = NULL;
        ck_ok(store_read(s, &is, why));
        for (int m = 0; m < is.n_entries; m++)
            if (strcmp(is.entries[m].item, e[0]) == 0 && strcmp(is.entries[m].path, e[1]) == 0)
                before = is.entries[m].text;
        struct typed_change c = {TYPED_ENTRY, e[0], e[1], before ? base_copy(before) : NULL, e[2]};
        ck_ok(store_take(s, "from outside", "x", &c, 1, why));
        free((void *)(uintptr_t)c.before);
    }
    store_close(s);
    char *keep = base_format("cp '%s' '%s.was'", path, path),
         *same = base_format("cmp '%s' '%s.was'", path, path);
    int status;
    output_of(keep, &status);
    ck_assert_int_eq(status, 0);
    for (int look = 0; look < 2; look++)
        refused_with(job_open(bench_handbook, path, look, &j, &reason), &reason, beyond[i].says, "opened");
    output_of(same, &status);
    ck_assert_int_eq(status, 0);
    free(keep);
    free(same);
    free(folder);
    free(path);
}

/* The text of a job, loaded in memory and to a new file, which is not there afterwards. */
static void at_loading(int i)
{
    char *demo = read_text("data/demo/cover-plate.txt"), *path = base_format("%s/new.diejob", fresh_folder());
    struct base_text text = {0};
    struct base_diag why = {0};
    struct job *j;
    const char *const *e = beyond[i].entries[0];
    base_text_add(&text, demo);
    if (strcmp(e[0], "dimples") == 0) {
        base_text_add(&text, "\nstation beyond\n  does = \"pierce\"\n  size = 1 mm\n"
                             "  lay places on die_plate\n    pitch = 2 mm\n");
        for (int k = 0; k < entries_of(i); k++)
            base_text_addf(&text, "    %s = %s\n", strchr(beyond[i].entries[k][1], '/') + 1,
                           beyond[i].entries[k][2]);
        const char *says = strchr(beyond[i].says, '.');
        refused_with(job_from_text(bench_handbook, base_text_get(&text), "text", &j, &why), &why, says,
                     "loaded");
        refused_with(job_create(bench_handbook, path, base_text_get(&text), "text", &j, &why), &why, says,
                     "begun");
        ck_assert_int_ne(access(path, F_OK), 0);
    }
    base_text_done(&text);
    free(demo);
    free(path);
}

START_TEST(what_is_beyond_use_is_refused_at_each_door)
{
    at_typing(_i);
    at_opening(_i);
    at_loading(_i);
}
END_TEST

TCase *text_tests(void)
{
    TCase *c = tcase_create("text");
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(c, a_dump_loaded_gives_the_same_dump_values_and_findings, 0, (int)COUNT_OF(files));
    tcase_add_test(c, a_dump_of_a_well_written_text_is_that_text);
    tcase_add_test(c, a_factor_answers_by_its_former_name);
    tcase_add_loop_test(c, a_refused_text_names_its_line, 0, (int)COUNT_OF(refusals));
    tcase_add_loop_test(c, a_refused_text_leaves_no_file, 0, 5);
    tcase_add_loop_test(c, odd_words_survive, 0, (int)COUNT_OF(odd_words));
    tcase_add_loop_test(c, what_is_beyond_use_is_refused_at_each_door, 0, (int)COUNT_OF(beyond));
    tcase_add_loop_test(c, what_a_line_cannot_hold_is_refused, 0, (int)COUNT_OF(unkept));
    return c;
}
