/* tests/screen/thrift.c - what a key sends to the terminal, held under figures somewhat above what it is
 *
 * Told apart are the bytes at once and all of them, with those of the panes that follow when the cursor
 * rests. A busy machine may run both into one: then the walk, which leads back to where it began, is gone
 * again, and the lesser count of each step holds.
 */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

enum { AT_ONCE_MS = 30, RESTED_MS = 110, ROUNDS = 3, STEPS = 40, FIRST_PICTURE = 3500 };

struct most { long middle, peak; };
static const struct walk {
    const char *what, *there, *keys; /* keys: those of one round, parted by blanks */
    struct most at_once, all;
} walks[] = {
#define DOWN "\033OB "
#define UP "\033OA "
    {"in the stack",
     "",
     DOWN DOWN DOWN DOWN DOWN DOWN DOWN DOWN DOWN DOWN UP UP UP UP UP UP UP UP UP UP,
     {80, 1320},
     {500, 1720}},
    {"in the form", "\t", DOWN DOWN DOWN DOWN DOWN DOWN DOWN UP UP UP UP UP UP UP, {95, 450}, {95, 450}},
    {"over the plan",
     "\t\t",
     "\033OC \033OC \033OB \033OD \033OD \033OA \033OC \033OC",
     {155, 175},
     {620, 710}},
    {"among the findings", "\t\t\t", DOWN DOWN DOWN DOWN UP UP UP UP, {90, 285}, {260, 435}},
    /* with 32 in it, so that what is typed passes over what stands, whatever the job has */
    {"in a field",
     ":set die_plate.thickness=32\r:go-to die_plate.thickness\r\r\025",
     "3 2 . 5 \177 \177 6 \177 4 . 2 \177 \177 \177 \177 \177",
     {255, 360},
     {700, 880}},
    {"from pane to pane", "", "\r \033[Z \t \t \t", {180, 195}, {180, 195}},
    {"down a why", ":go-to stack.shut_height\rw", DOWN DOWN DOWN UP UP UP, {75, 80}, {225, 380}},
};

static int compare(const void *a, const void *b)
{
    return (*(const long *)a > *(const long *)b) - (*(const long *)a < *(const long *)b);
}

/* One round of KEYS; the lesser counts are kept. Returns the steps. */
static int go_round(struct bed *b, const char *keys, bool first, long *at_once, long *all)
{
    int n = 0;
    for (const char *at = keys + strspn(keys, " "); *at && n < STEPS; n++) {
        size_t length = strcspn(at, " ");
        bed_raw(b, at, length);
        bed_settle(b, AT_ONCE_MS);
        long now = bed_quiet(b, 0);
        bed_settle(b, RESTED_MS);
        long whole = now + bed_quiet(b, 0);
        at_once[n] = first || now < at_once[n] ? now : at_once[n];
        all[n] = first || whole < all[n] ? whole : all[n];
        at += length + strspn(at + length, " ");
    }
    return n;
}

static struct most most_of(const long *bytes, int n)
{
    long sorted[STEPS];
    memcpy(sorted, bytes, (size_t)n * sizeof *bytes);
    qsort(sorted, (size_t)n, sizeof *sorted, compare);
    return (struct most){sorted[n / 2], sorted[n - 1]};
}

static bool within(struct most is, struct most limit)
{
    return is.middle <= limit.middle && is.peak <= limit.peak;
}

START_TEST(a_key_sends_few_bytes)
{
    const struct walk *w = &walks[_i];
    long at_once[STEPS] = {0}, all[STEPS] = {0};
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    int n = 0;
    for (const char *p = w->there; *p; p++) {
        bed_raw(b, p, 1);
        bed_settle(b, AT_ONCE_MS);
    }
    bed_settle(b, RESTED_MS);
    bed_quiet(b, 0);
    bool good = false;
    struct most now = {0}, whole = {0};
    for (int i = 0; i < ROUNDS && !good; i++) {
        n = go_round(b, w->keys, i == 0, at_once, all);
        now = most_of(at_once, n);
        whole = most_of(all, n);
        good = within(now, w->at_once) && within(whole, w->all);
    }
    ck_assert_msg(
        good,
        "a key %s sends %ld bytes at once (most %ld), %ld in all (most %ld); held are %ld (%ld), %ld (%ld)",
        w->what, now.middle, now.peak, whole.middle, whole.peak, w->at_once.middle, w->at_once.peak,
        w->all.middle, w->all.peak);
    bed_close(b);
}
END_TEST

START_TEST(the_first_picture_is_sent_once)
{
    struct bed *b = bed_open(&(struct bed_start){.argv = (const char *const[]){program(), demo_job(), NULL}});
    bed_wait(b, "? help");
    bed_settle(b, RESTED_MS);
    ck_assert_int_le((int)bed_quiet(b, 0), FIRST_PICTURE);
    leave(b);
}
END_TEST

/* The screen with what is bold, reversed, underlined or coloured: all that one sees. */
static char *seen(struct bed *b)
{
    struct base_text out = {0};
    base_text_add(&out, bed_screen(b));
    for (int y = 0; y < 24; y++)
        for (int x = 0; x < 80; x++) {
            struct bed_cell c = bed_cell(b, y, x);
            if (c.ch && c.ch != ' ')
                base_text_addf(&out, "%d%d%d%d ", c.bold, c.reverse, c.underline, c.colour);
        }
    return base_text_take(&out);
}

/* What waits is painted all the same: after a rest the screen is as if it had been drawn whole. */
START_TEST(what_waited_comes)
{
    static const char *const roads[] = {"jjjjjj", "\tjj", "\t\tll", "\t\t\tj", "\t\r\025" "6"};
    struct bed *b = screens(demo_job(), 24, 80, NULL, NULL);
    for (const char *p = roads[_i]; *p; p++) {
        bed_raw(b, p, 1);
        bed_settle(b, AT_ONCE_MS);
    }
    bed_settle(b, RESTED_MS);
    char *rested = seen(b);
    bed_control(b, 'L');
    bed_settle(b, RESTED_MS);
    char *whole = seen(b);
    ck_assert_str_eq(rested, whole);
    free(rested);
    free(whole);
    bed_close(b);
}
END_TEST

void add_thrift(Suite *s)
{
    TCase *t = tcase_create("thrift");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, a_key_sends_few_bytes, 0, COUNT_OF(walks));
    tcase_add_test(t, the_first_picture_is_sent_once);
    tcase_add_loop_test(t, what_waited_comes, 0, 5);
    suite_add_tcase(s, t);
}
