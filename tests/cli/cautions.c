/* What can hurt, on the papers and in the look-up: the words that defer first, each caution whole and
   once. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;
static struct shipped_caution all[80];
static int n_all;

/* A job of the test's own, with an item of each kind that has a caution. */
static void open_job(void)
{
    bench_open(&bench, NULL);
    n_all = shipped_cautions(all, COUNT_OF(all));
    char *text = read_text("tests/every-kind.txt"), *path = base_format("%s/every-kind.txt", bench.folder);
    for (int i = 0; i < n_all; i++) {
        char *item = base_format("\n%s", all[i].kind);
        ck_assert_msg(strstr(text, item) || !all[i].kind[0], "tests/every-kind.txt has no %s", all[i].kind);
        free(item);
    }
    FILE *f = fopen(path, "w");
    ck_assert(f && fputs(text, f) >= 0 && fclose(f) == 0);
    free(text);
    free(path);
    bench_do(&bench, "d load each every-kind.txt", 0);
}

static const char *deferring(void)
{
    int i = 0;
    while (all[i].kind[0])
        i++;
    return all[i].text;
}

/* What LINE prints, as one line. */
static char *told(const char *line)
{
    struct said s = bench_want(&bench, line, 0);
    char *text = on_one_line(s.out);
    said_done(&s);
    return text;
}

static void once(const char *line, const char *text, const char *words)
{
    ck_assert_msg(times_in(text, words) == 1, "%s: %d times: %s\n%s", line, times_in(text, words), words,
                  text);
    ck_assert_msg(strstr(text, words) >= strstr(text, deferring()), "%s: before the words that defer: %s",
                  line, words);
}

static const char *const papers[] = {
    "d section each",
    "COLUMNS=60 d section each",
    "COLUMNS=200 d section each",
};

START_TEST(a_paper_ends_in_all_cautions_of_its_job)
{
    char *text = told(papers[_i]);
    for (int i = 0; i < n_all; i++)
        once(papers[_i], text, all[i].text);
    free(text);
}
END_TEST

/* At the press, at the bench, at the grinder: each caution stands where its work is done. */
START_TEST(the_papers_of_the_work_tell_all_cautions)
{
    static const char *const work[] = {"d paper each setting", "d paper each assembly",
                                       "d sharpening each"};
    char *texts[COUNT_OF(work)];
    for (size_t k = 0; k < COUNT_OF(work); k++)
        texts[k] = told(work[k]);
    for (int i = 0; i < n_all; i++) {
        int times = 0;
        for (size_t k = 0; k < COUNT_OF(work); k++) {
            times += times_in(texts[k], all[i].text);
            if (strstr(texts[k], all[i].text))
                once(work[k], texts[k], all[i].text);
        }
        ck_assert_msg(times > 0, "told on no paper: %s", all[i].text);
    }
    ck_assert_ptr_null(strstr(texts[0], "A spring under preload throws parts."));
    ck_assert_ptr_nonnull(strstr(texts[0], "Guard the point of operation"));
    for (size_t k = 0; k < COUNT_OF(work); k++)
        free(texts[k]);
}
END_TEST

/* Lists that are bought, machined and read by end in the words that defer, and in where the rest stands. */
START_TEST(a_list_says_where_cautions_are_told)
{
    static const char *const lists[] = {"d order each", "d holes each", "d holes each die", "d stroke each",
                                        "d review each"};
    char *text = told(lists[_i]);
    for (int i = 0; i < n_all; i++)
        if (all[i].kind[0])
            ck_assert_msg(!strstr(text, all[i].text), "%s: %s", lists[_i], all[i].text);
    once(lists[_i], text, deferring());
    once(lists[_i], text, "What can hurt is told on: setting sheet, assembly sheet, sharpening card.");
    free(text);
}
END_TEST

static const char *const plans[] = {"d plan each die", "COLUMNS=60 d plan each die",
                                    "COLUMNS=200 d plan each die --below"};

/* Of a plate those of what is drilled in it: no springs, no risers in the die plate. */
START_TEST(a_plan_has_the_cautions_of_its_plate)
{
    static const char *const in_it[] = {"",        "plate",  "station", "pilots",
                                        "lifters", "screws", "dowels",  "sub_posts",
                                        "guide_pins", "own_hole", "die_button", "forming"};
    char *text = told(plans[_i]);
    for (int i = 0; i < n_all; i++) {
        bool there = false;
        for (size_t k = 0; k < COUNT_OF(in_it); k++)
            there = there || strcmp(all[i].kind, in_it[k]) == 0;
        if (there)
            once(plans[_i], text, all[i].text);
        else
            ck_assert_msg(!strstr(text, all[i].text), "%s: %s", plans[_i], all[i].text);
    }
    free(text);
}
END_TEST

START_TEST(the_handbook_tells_the_cautions_of_a_kind)
{
    static const int widths[] = {60, 80, 200};
    for (int i = 0; i < n_all; i++) {
        char *line = base_format("COLUMNS=%d d handbook %s", widths[i % (int)COUNT_OF(widths)],
                                 all[i].kind[0] ? all[i].kind : "'permit to run'");
        char *text = told(line);
        once(line, text, all[i].text);
        once(line, text, deferring());
        free(text);
        free(line);
    }
}
END_TEST

/* A word of the caution finds it, too; in data it is a row with its source. */
START_TEST(a_caution_is_found_by_its_words)
{
    char *text = told("d handbook 'soft drift'");
    ck_assert_int_eq(times_in(text, "caution dowels Hardened dowels splinter"), 1);
    once("soft drift", text, deferring());
    free(text);
    text = told("d handbook 'soft drift' --format csv");
    ck_assert_ptr_nonnull(
        strstr(text, "caution,dowels,,\"Hardened dowels splinter when driven: wear eye protection. "));
    free(text);
    text = told("d check each >check.txt; cat check.txt");
    once("check", text, deferring());
    once("check", text, "This is a check, not a permit to run.");
    free(text);
}
END_TEST

TCase *caution_tests(void)
{
    TCase *t = tcase_create("cautions");
    tcase_add_checked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, a_paper_ends_in_all_cautions_of_its_job, 0, COUNT_OF(papers));
    tcase_add_test(t, the_papers_of_the_work_tell_all_cautions);
    tcase_add_loop_test(t, a_list_says_where_cautions_are_told, 0, 5);
    tcase_add_loop_test(t, a_plan_has_the_cautions_of_its_plate, 0, COUNT_OF(plans));
    tcase_add_test(t, the_handbook_tells_the_cautions_of_a_kind);
    tcase_add_test(t, a_caution_is_found_by_its_words);
    return t;
}
