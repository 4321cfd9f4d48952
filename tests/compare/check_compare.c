/* Two die sets side by side: the demo job and the demo job with one thing changed, figures by hand. */

#include "common.h"

#include "diewright/compare.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "../view/small.c"

static struct handbook *book;
static void open_book(void) { ck_ok(handbook_load("data", &book, why)); }
static void close_book(void) { handbook_free(book); }

struct side { struct dieset *d; struct findings *f; };

static void side_judge(struct side *s)
{
    s->f = findings_new(s->d);
    findings_judge(s->f, NULL);
}

/* The demo job after CHANGES, and the comparison of the job with it. */
struct pair { struct side a, b; struct compare c; };

static void pair_open(struct pair *p, const struct typed_change *changes, int n)
{
    p->a.d = small_dieset(book, "data/demo/cover-plate.txt", NULL);
    p->b.d = small_dieset(book, "data/demo/cover-plate.txt", NULL);
    if (n) {
        ck_ok(dieset_try(p->b.d, changes, n, why));
        dieset_keep(p->b.d);
    }
    side_judge(&p->a);
    side_judge(&p->b);
    compare_sets(p->a.f, p->b.f, &p->c);
}

static void pair_close(struct pair *p)
{
    compare_done(&p->c);
    findings_free(p->a.f);
    findings_free(p->b.f);
    dieset_free(p->a.d);
    dieset_free(p->b.d);
}

static const struct compare_row *find(const struct compare *c, enum compare_what what, const char *name,
                                      enum dieset_state s)
{
    for (size_t i = 0; i < c->rows.count; i++) {
        const struct compare_row *r = &c->rows.at[i];
        if (r->what == what && strcmp(r->name, name) == 0 && (!r->stateful || r->state == s))
            return r;
    }
    return NULL;
}

static bool says(const char *text, const char *wanted)
{
    return wanted ? text && strcmp(text, wanted) == 0 : !text;
}

static void row_is(const struct compare *c, enum compare_what what, const char *name, enum dieset_state s,
                   const char *first, const char *second)
{
    const struct compare_row *r = find(c, what, name, s);
    ck_assert_msg(r != NULL, "no %s %s", compare_what_text(what), name);
    ck_assert_msg(says(r->text[COMPARE_FIRST], first) && says(r->text[COMPARE_SECOND], second),
                  "%s: '%s' '%s'", name, r->text[COMPARE_FIRST], r->text[COMPARE_SECOND]);
}

/* ---- nothing ---- */

START_TEST(a_job_beside_itself_differs_in_nothing)
{
    struct pair p;
    pair_open(&p, NULL, 0);
    ck_assert_uint_eq(p.c.rows.count, 0);
    for (int w = 0; w < COMPARE_WHATS; w++)
        ck_assert_int_eq(p.c.counts[w], 0);
    pair_close(&p);
}
END_TEST

/* ---- one change each, and the row that tells it ---- */

/* Die plate 34 -> 36: all above it rises by 2, shut height 224.2 -> 226.2, ground 216.7 -> 218.7. Posts 200
 * -> 180: entry at the first touch 53.3 -> 33.3 where 48 is wanted. */
static const struct {
    struct typed_change change;
    enum compare_what what;
    const char *name;
    enum dieset_state state;
    const char *first, *second;
} told[] = {
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
     COMPARE_TYPED,
     "die_plate.thickness",
     0,
     "34 mm",
     "36 mm"},
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
     COMPARE_VALUE,
     "die_plate.thickness",
     0,
     "34.0 mm",
     "36.0 mm"},
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
     COMPARE_VALUE,
     "stack.shut_height",
     DIESET_NEW,
     "224.2 mm",
     "226.2 mm"},
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
     COMPARE_VALUE,
     "stack.shut_height",
     DIESET_GROUND,
     "216.7 mm",
     "218.7 mm"},
    {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
     COMPARE_ORDER,
     "die_plate: Plate, die plate",
     0,
     "1 x 264 x 170 x 34 mm, 1.2379 60..62 HRC",
     "1 x 264 x 170 x 36 mm, 1.2379 60..62 HRC"},
    {{TYPED_ENTRY, "posts", "length", NULL, "180 mm"}, COMPARE_TYPED, "posts.length", 0, NULL, "180 mm"},
    {{TYPED_ENTRY, "posts", "length", NULL, "180 mm"},
     COMPARE_VALUE,
     "posts.entry",
     DIESET_NEW,
     "53.3 mm",
     "33.3 mm"},
    {{TYPED_ENTRY, "posts", "length", NULL, "180 mm"},
     COMPARE_ORDER,
     "posts: Guide post, straight, ISO 9182",
     0,
     "4 x 32 x 200, hardened steel 60..64 HRC",
     "4 x 32 x 180, hardened steel 60..64 HRC"},
    {{TYPED_ENTRY, "posts", "length/reason", NULL, "shelf"},
     COMPARE_TYPED,
     "posts.length reason",
     0,
     NULL,
     "shelf"},
    {{TYPED_ENTRY, "posts", "lay/left_front/y", NULL, "usual - 9 mm"},
     COMPARE_TYPED,
     "posts.left_front.y",
     0,
     "usual - 8 mm",
     "usual - 9 mm"},
    {{TYPED_ENTRY, "die_plate", "title", NULL, "die"}, COMPARE_TYPED, "die_plate.title", 0, NULL, "die"},
    {{TYPED_ENTRY, "die_plate", "material", NULL, "\"1.2842\""},
     COMPARE_VALUE,
     "die_plate.material",
     0,
     "1.2379",
     "1.2842"},
    {{TYPED_ITEM, "risers", "", "risers", NULL}, COMPARE_ITEM, "risers", 0, "risers", NULL},
    {{TYPED_ITEM, "feet", "", NULL, "plate"}, COMPARE_ITEM, "feet", 0, NULL, "plate"},
};

START_TEST(a_change_is_told_where_it_shows)
{
    struct pair p;
    pair_open(&p, &told[_i].change, 1);
    row_is(&p.c, told[_i].what, told[_i].name, told[_i].state, told[_i].first, told[_i].second);
    pair_close(&p);
}
END_TEST

/* Turned round, every row turns round, and there are as many. */
START_TEST(the_sides_can_be_exchanged)
{
    static const struct typed_change changes[] = {
        {TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
        {TYPED_ENTRY, "posts", "length", NULL, "180 mm"},
        {TYPED_ITEM, "feet", "", NULL, "plate"},
    };
    struct pair p;
    struct compare back;
    pair_open(&p, changes, COUNT_OF(changes));
    compare_sets(p.b.f, p.a.f, &back);
    ck_assert_uint_gt(p.c.rows.count, 20);
    ck_assert_uint_eq(p.c.rows.count, back.rows.count);
    for (size_t i = 0; i < p.c.rows.count; i++) {
        const struct compare_row *r = &p.c.rows.at[i];
        row_is(&back, r->what, r->name, r->state, r->text[COMPARE_SECOND], r->text[COMPARE_FIRST]);
    }
    compare_done(&back);
    pair_close(&p);
}
END_TEST

/* Values that no change reaches are not told: posts stand on their own. */
START_TEST(only_what_differs_is_told)
{
    static const struct typed_change change = {TYPED_ENTRY, "die_plate", "title", NULL, "die"};
    struct pair p;
    pair_open(&p, &change, 1);
    ck_assert_int_eq(p.c.counts[COMPARE_TYPED], 1);
    ck_assert_int_eq(p.c.counts[COMPARE_VALUE], 0);
    ck_assert_int_eq(p.c.counts[COMPARE_FINDING], 0);
    ck_assert_int_eq(p.c.counts[COMPARE_ITEM], 0);
    pair_close(&p);
}
END_TEST

/* ---- findings ---- */

START_TEST(findings_that_only_one_has_are_told_with_grade_and_words)
{
    static const struct typed_change change = {TYPED_ENTRY, "posts", "length", NULL, "180 mm"};
    struct pair p;
    const struct finding *was, *is;
    pair_open(&p, &change, 1);
    int n = findings_list(p.a.f, &was), m = findings_list(p.b.f, &is), only = 0;
    for (int i = 0; i < m; i++) {
        bool there = false;
        for (int k = 0; k < n; k++)
            there = there || strcmp(was[k].key, is[i].key) == 0;
        only += !there;
    }
    ck_assert_int_ge(only, 2);
    ck_assert_int_eq(p.c.counts[COMPARE_FINDING], only);
    const struct compare_row *r = find(&p.c, COMPARE_FINDING, "post-entry posts", 0);
    ck_assert_ptr_nonnull(r);
    ck_assert_ptr_null(r->text[COMPARE_FIRST]);
    ck_assert_ptr_nonnull(
        strstr(r->text[COMPARE_SECOND], "fault: posts: only 33.3 mm of post is in the bushing"));
    pair_close(&p);
}
END_TEST

START_TEST(a_finding_that_one_side_waives_is_told)
{
    static const struct typed_change changes[] = {
        {TYPED_ITEM, "waiver_1", "", NULL, "waiver"},
        {TYPED_ENTRY, "waiver_1", "finding", NULL, "turn-proof die_plate"},
        {TYPED_ENTRY, "waiver_1", "grade", NULL, "caution"},
        {TYPED_ENTRY, "waiver_1", "states", NULL, "new"},
        {TYPED_ENTRY, "waiver_1", "margin", NULL, "-1 mm"},
        {TYPED_ENTRY, "waiver_1", "says", NULL, "known"},
    };
    struct pair p;
    pair_open(&p, changes, COUNT_OF(changes));
    ck_assert_int_eq(p.c.counts[COMPARE_FINDING], 1);
    const struct compare_row *r = find(&p.c, COMPARE_FINDING, "turn-proof die_plate", 0);
    ck_assert_ptr_nonnull(r);
    ck_assert_int_eq(strncmp(r->text[COMPARE_FIRST], "caution: ", 9), 0);
    ck_assert_int_eq(strncmp(r->text[COMPARE_SECOND], "waived caution: ", 16), 0);
    pair_close(&p);
}
END_TEST

/* ---- order of items, units ---- */

START_TEST(an_item_that_moved_is_told_among_its_kind)
{
    static const struct typed_change swap = {TYPED_PLACE, "die_screws", "", NULL, "0"};
    struct pair p;
    pair_open(&p, &swap, 1);
    row_is(&p.c, COMPARE_ITEM, "die_screws", 0, "screws 2 of 2", "screws 1 of 2");
    row_is(&p.c, COMPARE_ITEM, "punch_screws", 0, "screws 1 of 2", "screws 2 of 2");
    ck_assert_int_eq(p.c.counts[COMPARE_ITEM], 2);
    pair_close(&p);
}
END_TEST

/* 32 mm are 1.2598 in: both sides are told in the first one's unit, so the same lengths do not differ. */
START_TEST(both_sides_are_told_in_one_unit)
{
    static const struct typed_change changes[] = {{TYPED_ENTRY, "job", "unit", NULL, "\"in\""},
                                                  {TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"}};
    struct pair p;
    pair_open(&p, changes, 2);
    row_is(&p.c, COMPARE_VALUE, "die_plate.thickness", 0, "34.0 mm", "36.0 mm");
    ck_assert_ptr_null(find(&p.c, COMPARE_VALUE, "upper_shoe.thickness", DIESET_NEW));
    const struct compare_row *r = find(&p.c, COMPARE_VALUE, "die_plate.thickness", 0);
    ck_assert(r->is_number);
    ck_assert_double_eq_tol(r->number[COMPARE_FIRST], 34, 1e-9);
    ck_assert_double_eq_tol(r->number[COMPARE_SECOND], 36, 1e-9);
    pair_close(&p);
}
END_TEST

/* ---- lines ---- */

struct read { struct base_text all; int width, headings; bool paths_hold; const struct dieset *d; };

static void read_line(void *arg, const char *line, const char *path)
{
    struct read *r = arg;
    int columns = 0;
    for (const char *p = line; *p; p++)
        columns += ((unsigned char)*p & 0xc0) != 0x80;
    r->width = columns > r->width ? columns : r->width;
    r->headings += *line && *line != ' ';
    if (path && dieset_find(r->d, path) < 0 && dieset_find_item(r->d, path) < 0 && strchr(path, '.') == NULL)
        r->paths_hold = false;
    base_text_addf(&r->all, "%s\n", line);
}

START_TEST(lines_keep_to_the_width_and_stand_under_headings)
{
    static const int widths[] = {60, 76, 116, 196};
    static const char *const names[] = {"as it was", "as it is"};
    static const struct typed_change changes[] = {{TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"},
                                                  {TYPED_ENTRY, "posts", "length", NULL, "180 mm"}};
    struct pair p;
    pair_open(&p, changes, 2);
    struct read r = {.paths_hold = true, .d = p.b.d};
    compare_lines(&p.c, names, widths[_i], read_line, &r);
    ck_assert_int_le(r.width, widths[_i]);
    ck_assert_int_eq(r.headings, 4);
    ck_assert(r.paths_hold);
    ck_assert_ptr_nonnull(strstr(base_text_get(&r.all), "typed differently: 2"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&r.all), "findings only in: as it is"));
    ck_assert_ptr_null(strstr(base_text_get(&r.all), "findings only in: as it was"));
    ck_assert_ptr_nonnull(strstr(base_text_get(&r.all), "order lines that differ: 3"));
    base_text_done(&r.all);
    pair_close(&p);
}
END_TEST

START_TEST(nothing_is_said_in_words)
{
    static const char *const names[] = {"a", "b"};
    struct pair p;
    pair_open(&p, NULL, 0);
    struct read r = {.d = p.a.d};
    compare_lines(&p.c, names, 80, read_line, &r);
    ck_assert_str_eq(base_text_get(&r.all), "nothing differs\n");
    base_text_done(&r.all);
    pair_close(&p);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("compare");
    TCase *t = tcase_create("sets");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_book, close_book);
    tcase_add_test(t, a_job_beside_itself_differs_in_nothing);
    tcase_add_loop_test(t, a_change_is_told_where_it_shows, 0, COUNT_OF(told));
    tcase_add_test(t, the_sides_can_be_exchanged);
    tcase_add_test(t, only_what_differs_is_told);
    tcase_add_test(t, findings_that_only_one_has_are_told_with_grade_and_words);
    tcase_add_test(t, a_finding_that_one_side_waives_is_told);
    tcase_add_test(t, an_item_that_moved_is_told_among_its_kind);
    tcase_add_test(t, both_sides_are_told_in_one_unit);
    tcase_add_loop_test(t, lines_keep_to_the_width_and_stand_under_headings, 0, 4);
    tcase_add_test(t, nothing_is_said_in_words);
    suite_add_tcase(s, t);
    return run_suite(s);
}
