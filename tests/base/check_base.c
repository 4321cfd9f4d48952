/* Strings, maps, pools, arenas and nearness. */

#include "../common.h"
#include "characters.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST(map_keeps_what_it_was_given)
{
    struct base_map m = {0};
    char key[16];
    for (int i = 0; i < 5000; i++) {
        snprintf(key, sizeof key, "k%d", i);
        base_map_put(&m, key, i);
    }
    for (int i = 0; i < 5000; i++) {
        int value = -1;
        snprintf(key, sizeof key, "k%d", i);
        ck_assert(base_map_get(&m, key, &value));
        ck_assert_int_eq(value, i);
    }
    ck_assert(!base_map_get(&m, "k5000", NULL));
    ck_assert_uint_eq(m.count, 5000);
    base_map_done(&m);
}
END_TEST

START_TEST(map_put_replaces)
{
    struct base_map m = {0};
    base_map_put(&m, "die_plate", 1);
    base_map_put(&m, "die_plate", 7);
    int value = 0;
    ck_assert(base_map_get(&m, "die_plate", &value));
    ck_assert_int_eq(value, 7);
    ck_assert_uint_eq(m.count, 1);
    base_map_done(&m);
    ck_assert(!base_map_get(&m, "die_plate", NULL));
}
END_TEST

START_TEST(pool_gives_one_number_a_text)
{
    struct base_pool *p = base_pool_new();
    ck_assert_int_eq(base_pool_put(p, ""), 0);
    int m8 = base_pool_put(p, "M8");
    ck_assert_int_ne(m8, 0);
    ck_assert_int_eq(base_pool_put(p, "M8"), m8);
    ck_assert_int_eq(base_pool_find(p, "M10"), -1);
    ck_assert_str_eq(base_pool_text(p, m8), "M8");
    ck_assert_str_eq(base_pool_text(p, 99), "");
    base_pool_free(p);
}
END_TEST

START_TEST(arena_is_zeroed_aligned_and_large)
{
    struct base_arena a = {0};
    for (size_t size = 1; size < 20000; size = size * 3 + 1) {
        unsigned char *p = base_arena_alloc(&a, size);
        ck_assert_uint_eq((uintptr_t)p % _Alignof(max_align_t), 0);
        for (size_t i = 0; i < size; i++)
            ck_assert_int_eq(p[i], 0);
        memset(p, 0xff, size);
    }
    ck_assert_str_eq(base_arena_format(&a, "%s x %d", "M8", 30), "M8 x 30");
    base_arena_done(&a);
    ck_assert_ptr_null(a.blocks);
}
END_TEST

START_TEST(text_grows_and_is_handed_over)
{
    struct base_text t = {0};
    ck_assert_str_eq(base_text_get(&t), "");
    for (int i = 0; i < 1000; i++)
        base_text_addf(&t, "%d,", i % 10);
    ck_assert_uint_eq(t.length, 2000);
    char *mine = base_text_take(&t);
    ck_assert_uint_eq(strlen(mine), 2000);
    free(mine);
    ck_assert_str_eq(base_text_get(&t), "");
}
END_TEST

static const struct { const char *word, *other; int far; } distances[] = {
    {"", "", 0},           {"post", "post", 0},     {"post", "posts", 1},
    {"thicknes", "thickness", 1}, {"kitten", "sitting", 3}, {"", "abc", 3},
};

/* Which years are leap years: Gregorian calendar, as ISO 8601 has it. */
START_TEST(a_date_is_a_day_of_the_calendar)
{
    static const struct { const char *text; bool day;
    } dates[] = {
        {"2026-11-24", true},  {"2024-02-29", true},  {"2000-02-29", true},  {"2025-12-31", true},
        {"1900-02-29", false}, {"2025-02-29", false}, {"2026-04-31", false}, {"2026-13-01", false},
        {"2026-00-10", false}, {"2026-01-00", false}, {"2026-1-10", false},  {"2026-11-24 ", false},
        {"26-11-24", false},   {"2026/11/24", false}, {"", false},           {"2026-11-2", false},
        {"2026-13-45", false},
    };
    for (size_t i = 0; i < COUNT_OF(dates); i++)
        ck_assert_msg(base_is_date(dates[i].text) == dates[i].day, "%s", dates[i].text);
}
END_TEST

START_TEST(distance_counts_single_letter_edits)
{
    ck_assert_int_eq(base_distance(distances[_i].word, distances[_i].other), distances[_i].far);
    ck_assert_int_eq(base_distance(distances[_i].other, distances[_i].word), distances[_i].far);
}
END_TEST

START_TEST(nearest_names_come_nearest_first)
{
    static const char *const names[] = {"width", "thickness", "length", "thickness_now", "under"};
    struct base_text t = {0};
    base_nearest(&t, "thicknes", names, COUNT_OF(names));
    ck_assert_str_eq(base_text_get(&t), "thickness or thickness_now");
    base_text_clear(&t);
    base_nearest(&t, "zzzzzz", names, COUNT_OF(names));
    ck_assert_str_eq(base_text_get(&t), "");
    base_text_done(&t);
}
END_TEST

/* Published test vectors of FNV-1a, 64 bits (the hash's reference page, from memory). */
START_TEST(hash_is_fnv_1a)
{
    ck_assert(base_hash("", 0) == 0xcbf29ce484222325u);
    ck_assert(base_hash("a", 1) == 0xaf63dc4c8601ec8cu);
    ck_assert(base_hash("foobar", 6) == 0x85944171f73967e8u);
}
END_TEST

static bool at_five(void *arg) { return ++*(int *)arg == 2; }

START_TEST(long_work_is_asked_about_by_its_steps_and_stays_given_up_until_the_next)
{
    int asked = 0;
    for (int i = 0; i < 100; i++)
        ck_assert(!base_give_up()); /* nobody asks */
    base_on_long_work(at_five, &asked, 3, 2);
    for (int i = 1; i <= 4; i++) {
        ck_assert(!base_give_up());
        ck_assert_int_eq(asked, i >= 3);
    }
    for (int i = 0; i < 3; i++)
        ck_assert(base_give_up());
    ck_assert(base_given_up());
    ck_assert_int_eq(asked, 2); /* and not again */
    base_go_on();
    ck_assert(!base_given_up() && !base_give_up() && !base_give_up() && asked == 2);
    ck_assert_int_eq(base_steps(), 2);
    base_on_long_work(NULL, NULL, 0, 0);
}
END_TEST

START_TEST(missing_file_is_one_sentence)
{
    char *text = NULL;
    struct base_diag why = {0};
    ck_assert_int_eq(base_read_file("no/such/file", &text, NULL, &why), BASE_UNREADABLE);
    ck_assert_ptr_null(text);
    ck_assert_str_eq(why.message, "no/such/file cannot be read: No such file or directory.");
}
END_TEST

START_TEST(first_reason_keeps_its_place)
{
    struct base_diag why;
    ck_assert_int_eq(base_fail(&why, BASE_REFUSED, "%s is no unit.", "mmm"), BASE_REFUSED);
    base_diag_mark(&why, "25 mmm", 3, 3);
    base_diag_place(&why, "a.txt", 4);
    base_diag_place(&why, "b.txt", 9);
    ck_assert_str_eq(why.file, "a.txt");
    ck_assert_int_eq(why.line, 4);
    ck_assert_int_eq(why.start, 3);
    ck_assert_int_eq(base_fail(NULL, BASE_REFUSED, "unheard"), BASE_REFUSED);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("base");
    TCase *t = tcase_create("base");
    tcase_add_test(t, map_keeps_what_it_was_given);
    tcase_add_test(t, map_put_replaces);
    tcase_add_test(t, pool_gives_one_number_a_text);
    tcase_add_test(t, arena_is_zeroed_aligned_and_large);
    tcase_add_test(t, text_grows_and_is_handed_over);
    tcase_add_loop_test(t, distance_counts_single_letter_edits, 0, COUNT_OF(distances));
    tcase_add_test(t, nearest_names_come_nearest_first);
    tcase_add_test(t, a_date_is_a_day_of_the_calendar);
    tcase_add_test(t, hash_is_fnv_1a);
    tcase_add_test(t, long_work_is_asked_about_by_its_steps_and_stays_given_up_until_the_next);
    tcase_add_test(t, missing_file_is_one_sentence);
    tcase_add_test(t, first_reason_keeps_its_place);
    suite_add_tcase(s, t);
    suite_add_tcase(s, character_tests());
    return run_suite(s);
}
