/* tests/start/check_start.c - what jobs are begun from: the shelves, their pages, one's own */

#include "parts.h"

#include "diewright/start.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../common.h"

static struct handbook *handbook;

static void open_book(void) { ck_ok(job_open_handbook("data", &handbook, why)); }
static void close_book(void) { handbook_free(handbook); }

static void put_file(const char *folder, const char *name, const char *text)
{
    char path[1000];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fputs(text, f);
    ck_assert_int_eq(fclose(f), 0);
}

static struct job *open_start(const struct start *s)
{
    struct job *j;
    char *text = read_text(s->path);
    ck_ok(job_from_text(handbook, text, s->name, &j, why));
    free(text);
    return j;
}

/* ---- the shelves ---- */

START_TEST(every_shipped_start_says_when_to_take_it)
{
    struct start_list all;
    int shipped = 0;
    start_list_read("data", NULL, &all);
    ck_assert_ptr_nonnull(start_find(&all, start_usual));
    for (size_t i = 0; i < all.at.count; i++) {
        const struct start *s = &all.at.at[i];
        struct start_paragraph p[START_PARAGRAPHS];
        if (s->shelf == START_DEMO)
            ck_assert_int_eq(start_page_text(s, p), 1); /* the note of its job */
        if (s->shelf != START_SHIPPED)
            continue;
        shipped++;
        ck_assert_msg(strlen(s->line) <= 55, "%s: its line has %zu columns", s->name, strlen(s->line));
        ck_assert_int_eq(start_page_text(s, p), START_PARAGRAPHS - 1); /* all but the note of a job */
    }
    ck_assert_int_ge(shipped, 8);
    start_list_done(&all);
}
END_TEST

/* Those of the names of LIST that the job uses as it stands; each must be one of its own. */
static int used_of(struct job *j, const char *list)
{
    char copy[1000], *rest = copy;
    int n = 0;
    snprintf(copy, sizeof copy, "%s", list);
    for (char *name; (name = strtok_r(NULL, ", ", &rest));) {
        int q = dieset_find(job_dieset(j), name);
        ck_assert_msg(q >= 0, "a page names %s, which the job has not", name);
        n += dieset_applies(job_dieset(j), q);
    }
    return n;
}

/* What a page asks can be typed, and what it tells has a value; each name of both is one of the job's. What
 * is not used, as the sides of a round blank, is not asked before it is. */
START_TEST(every_page_asks_and_tells_what_its_job_has)
{
    struct start_list all;
    start_list_read("data", NULL, &all);
    for (size_t i = 0; i < all.at.count; i++) {
        const struct start *s = &all.at.at[i];
        if (s->shelf != START_SHIPPED)
            continue;
        struct job *j = open_start(s);
        struct dieset *d = job_dieset(j);
        struct start_page page;
        start_page(j, &page);
        char *text = read_text(s->path);
        struct record_document doc;
        ck_ok(record_read(text, strlen(text), s->path, &doc, why));
        const char *asks = record_text(doc.first, "asks", ""), *tells = record_text(doc.first, "tells", "");
        ck_assert_int_eq(page.n_asks, used_of(j, asks));
        ck_assert_int_eq(page.n_tells, used_of(j, tells));
        for (int k = 0; k < page.n_asks; k++) {
            const struct dieset_quantity *q = dieset_quantity(d, page.asks[k]);
            /* copies: an edit ends the job's own */
            char *path = base_copy(q->path), *typed = q->text ? base_copy(q->text) : NULL;
            ck_ok(job_set(j, path, typed, why));
            free(path);
            free(typed);
        }
        job_drop(j);
        for (int k = 0; k < page.n_tells; k++)
            ck_assert_msg(!dieset_value(d, page.tells[k], DIESET_NEW).error,
                          "%s tells %s, which has no value", s->name,
                          dieset_quantity(d, page.tells[k])->path);
        if (strstr(asks, "blank.shape") && dieset_find(d, "blank.shape") >= 0) {
            int round = page.n_asks;
            ck_ok(job_set(j, "blank.shape", "\"rectangle\"", why));
            start_page(j, &page);
            ck_assert_int_eq(page.n_asks, round + 2); /* along, across, corner in place of the diameter */
            job_drop(j);
        }
        record_done(&doc);
        free(text);
        job_close(j);
    }
    start_list_done(&all);
}
END_TEST

START_TEST(own_starts_come_first_and_what_cannot_be_read_says_so)
{
    const char *own = fresh_folder();
    struct start_list all;
    put_file(own, "fixed-stripper.txt", "start page\n  line ours\n\njob\n  title Ours\n");
    put_file(own, "broken.txt", "start page\n\tline with a tab\n");
    put_file(own, "bare.txt", "job\n  title A bare job\n");
    put_file(own, "notes.md", "no start\n");
    start_list_read("data", own, &all);
    const struct start *s = start_find(&all, "fixed-stripper");
    ck_assert_int_eq(s->shelf, START_OWN);
    ck_assert_str_eq(s->line, "ours");
    ck_assert_str_eq(start_find(&all, "bare")->line, "A bare job");
    ck_assert_ptr_nonnull(strstr(start_find(&all, "broken")->line, "cannot be read: "));
    ck_assert_ptr_null(start_find(&all, "notes"));
    start_list_done(&all);
}
END_TEST

/* ---- beginning ---- */

static enum base_err begin(const char *path, const char *const *paths, const char *const *formulas, int n,
                           struct job **out, struct base_diag *why)
{
    char *text = read_text("data/templates/spring-stripper.txt");
    enum base_err err = start_begin(handbook, path, text, "spring-stripper", paths, formulas, n, out, why);
    free(text);
    return err;
}

START_TEST(a_job_begins_with_what_is_asked)
{
    static const char *const paths[] = {"strip.thickness", "blank.size"}, *const formulas[] = {"2 mm",
                                                                                               "36 mm"};
    char path[1000];
    struct job *j;
    const struct typed_event *events;
    snprintf(path, sizeof path, "%s/asked.diejob", fresh_folder());
    ck_ok(begin(path, paths, formulas, 2, &j, why));
    ck_assert_str_eq(dieset_quantity(job_dieset(j), dieset_find(job_dieset(j), "blank.size"))->text, "36 mm");
    ck_assert_int_eq(job_history(j, &events, 10), 1);
    ck_assert_int_eq(access(path, F_OK), 0);
    job_close(j);
}
END_TEST

START_TEST(what_is_refused_leaves_no_file)
{
    static const char *const paths[] = {"strip.thickness", "strip.thicknes"}, *const formulas[] = {"2 mm",
                                                                                                   "3 mm"};
    char path[1000];
    struct job *j;
    struct base_diag because = {0};
    snprintf(path, sizeof path, "%s/refused.diejob", fresh_folder());
    ck_assert_int_ne(begin(path, paths, formulas, 2, &j, &because), BASE_OK);
    ck_assert_ptr_null(j);
    ck_assert_ptr_nonnull(strstr(because.message, "strip.thicknes"));
    ck_assert_int_ne(access(path, F_OK), 0);
}
END_TEST

/* ---- one's own ---- */

START_TEST(a_kept_start_begins_the_same_set)
{
    struct start_list all;
    char own[1000], *path;
    struct base_diag because = {0};
    snprintf(own, sizeof own, "%s/a/b", fresh_folder());
    start_list_read("data", NULL, &all);
    struct job *j = open_start(start_find(&all, "notch-and-part")), *again;
    ck_ok(job_set(j, "strip.pitch", "31 mm", why));
    ck_ok(job_take(j, why));
    ck_ok(start_keep(j, "data", own, "our-strap", "Our strap", "", &path, why));
    start_list_done(&all);
    start_list_read("data", own, &all);
    const struct start *s = start_find(&all, "our-strap");
    ck_assert_str_eq(s->path, path);
    ck_assert_str_eq(s->line, "Our strap");
    ck_assert_str_eq(s->take, "");
    again = open_start(s);
    char *was = dieset_text_write_set(job_dieset(j)), *is = dieset_text_write_set(job_dieset(again));
    ck_assert_str_eq(is, was);
    struct start_page page, kept;
    start_page(j, &page);
    start_page(again, &kept);
    ck_assert_int_eq(kept.n_asks, page.n_asks);
    ck_assert_int_eq(kept.n_tells, page.n_tells);
    free(path);
    /* not over one that stands, own or shipped; nor under a name that is a path; nor without a line */
    ck_assert_int_eq(start_keep(j, "data", own, "our-strap", "Another", "", &path, &because), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(because.message, "There is a start our-strap already"));
    ck_assert_int_eq(start_keep(j, "data", own, "fixed-stripper", "Ours", "", &path, &because), BASE_REFUSED);
    ck_assert_int_eq(start_keep(j, "data", own, "../x", "Ours", "", &path, &because), BASE_REFUSED);
    ck_assert_int_eq(start_keep(j, "data", own, "x", "", "", &path, &because), BASE_REFUSED);
    ck_assert_int_eq(start_keep(j, "data", own, "x", "two\nlines", "", &path, &because), BASE_REFUSED);
    ck_assert_int_eq(start_keep(j, "data", NULL, "x", "Ours", "", &path, &because), BASE_NOT_SAVED);
    ck_assert_ptr_null(path);
    free(was);
    free(is);
    job_close(j);
    job_close(again);
    start_list_done(&all);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("start");
    TCase *c = tcase_create("starts");
    tcase_add_unchecked_fixture(c, open_book, close_book);
    tcase_add_test(c, every_shipped_start_says_when_to_take_it);
    tcase_add_test(c, every_page_asks_and_tells_what_its_job_has);
    tcase_add_test(c, own_starts_come_first_and_what_cannot_be_read_says_so);
    tcase_add_test(c, a_job_begins_with_what_is_asked);
    tcase_add_test(c, what_is_refused_leaves_no_file);
    tcase_add_test(c, a_kept_start_begins_the_same_set);
    suite_add_tcase(s, c);
    suite_add_tcase(s, path_tests());
    return run_suite(s);
}
