/* tests/screen/cautions.c - what can hurt: wherever it is shown the words that defer come first and are
   whole, and the rest can be read */

#include "screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

static const struct { int rows, columns; } sizes[] = {{16, 60}, {24, 80}, {40, 120}, {60, 200}};
enum { SIZES = sizeof sizes / sizeof sizes[0] };

static struct shipped_caution all[80];
static int n_all;
static const char *deferring;
static struct bed *b; /* the screens of a job with an item of each kind that has a caution, in size _i */

static void open_at(int size)
{
    n_all = shipped_cautions(all, COUNT_OF(all));
    deferring = NULL;
    for (int i = n_all; i-- > 0;)
        deferring = all[i].kind[0] ? deferring : all[i].text;
    b = screens(job_from("tests/every-kind.txt"), sizes[size].rows, sizes[size].columns, NULL, NULL);
}

/* The terminal has no room for the program, which says so and nothing else. */
static bool too_small(void) { return bed_shows(b, ": diewright needs "); }

/* What stands from ROW, COLUMN down to the bottom of its pane, as one line; yours to free(). */
static char *pane_text(int size, int row, int column)
{
    enum { BAR = 0x2502, RULE = 0x2500, TEE = 0x252c };
    struct base_text out = {0};
    for (; row < sizes[size].rows; row++) {
        for (int x = column; x < sizes[size].columns; x++) {
            uint32_t ch = bed_cell(b, row, x).ch;
            if (ch == BAR)
                break;
            if (ch == RULE || ch == TEE)
                row = sizes[size].rows;
            base_text_addf(&out, "%c", ch >= ' ' && ch < 127 ? (char)ch : ch ? '?' : ' ');
        }
        base_text_add(&out, "\n");
    }
    char *line = on_one_line(base_text_get(&out));
    base_text_done(&out);
    return line;
}

/* The words that defer stand somewhere, whole; behind them come cautions, whole sentences of them, or where
   more is to be read. */
static void defers(int size, const char *where)
{
    int column, row = bed_find(b, "Local ", &column);
    ck_assert_msg(row >= 0, "%s: nothing defers\n%s", where, bed_screen(b));
    char *text = pane_text(size, row, column);
    size_t n = strlen(deferring);
    ck_assert_msg(strncmp(text, deferring, n) == 0, "%s: %s\n%s", where, text, bed_screen(b));
    bool told = strncmp(text + n, " ! more", 7) == 0;
    for (int i = 0; i < n_all; i++)
        told = told || strncmp(text + n + 1, all[i].text, strcspn(all[i].text, ".")) == 0;
    ck_assert_msg(told, "%s: %s\n%s", where, text, bed_screen(b));
    free(text);
}

/* The list behind `!`, read line by line to its end and left again; as one line, yours to free(). */
static char *whole_list(void)
{
    struct base_text out = {0};
    char *last = base_copy("");
    bed_type(b, "!");
    bed_wait(b, " cautions: what can hurt");
    bed_quiet(b, 30);
    for (bool more = true; more;) {
        int column, row = bed_find(b, " > ", &column);
        ck_assert_int_ge(row, 0);
        char *line = base_copy(strchr(bed_row(b, row), '>') + 1);
        more = strcmp(line, last) != 0;
        if (more)
            base_text_addf(&out, "%s\n", line);
        free(last);
        last = line;
        bed_key(b, VTERM_KEY_DOWN);
        bed_quiet(b, 10);
    }
    free(last);
    bed_key(b, VTERM_KEY_ESCAPE);
    bed_wait_gone(b, " cautions: what can hurt");
    bed_quiet(b, 30);
    char *line = on_one_line(base_text_get(&out));
    base_text_done(&out);
    return line;
}

START_TEST(all_cautions_can_be_read_whole)
{
    open_at(_i);
    if (!too_small()) {
        char *text = whole_list();
        for (int i = 0; i < n_all; i++)
            ck_assert_msg(times_in(text, all[i].text) == 1, "%d times: %s\n%s", times_in(text, all[i].text),
                          all[i].text, text);
        ck_assert_int_eq(strncmp(text, deferring, strlen(deferring)), 0);
        ck_assert_ptr_nonnull(strstr(text, "To be stamped: force "));
        free(text);
    }
    leave(b);
}
END_TEST

/* Names of the job's items, in the order of its text: "kind name", or a kind alone that stands once. */
static int items_of(char *text, char *names[], int room)
{
    int n = 0;
    char *rest = NULL;
    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        char kind[40] = "";
        sscanf(line, "%39s", kind);
        for (int i = 0; i < n_all && *line != ' ' && n < room; i++)
            if (strcmp(all[i].kind, kind) == 0) {
                names[n++] = line[strlen(kind)] ? line + strlen(kind) + 1 : line;
                break;
            }
    }
    return n;
}

START_TEST(each_form_defers_first)
{
    char *text = read_text("tests/every-kind.txt"), *names[40];
    open_at(_i);
    int n = items_of(text, names, COUNT_OF(names));
    ck_assert_int_gt(n, 18);
    for (int i = 0; i < n && !too_small(); i++) {
        char *keys = base_format(":go-to %s\r", names[i]);
        bed_type(b, keys);
        bed_quiet(b, 30);
        defers(_i, names[i]);
        free(keys);
    }
    free(text);
    leave(b);
}
END_TEST

static const struct { const char *keys, *waited; bool leaves;
} places[] = {
    {"S", "section", false}, {"\tz", ">section", false}, {"P", "/col", false},
    {"z", "/col", false},    {"T", "stroke ", true},     {"r", "review ", true},
};

START_TEST(each_picture_and_the_review_defer_first)
{
    open_at(_i);
    for (size_t i = 0; i < COUNT_OF(places) && !too_small(); i++) {
        bed_type(b, places[i].keys);
        bed_wait(b, places[i].waited);
        bed_quiet(b, 30);
        defers(_i, places[i].keys);
        if (strchr(places[i].keys, 'z'))
            bed_type(b, "z");
        if (places[i].leaves)
            bed_key(b, VTERM_KEY_ESCAPE);
        bed_quiet(b, 60);
    }
    leave(b);
}
END_TEST

/* In the form of the item at hand its own stand before those of the rest of the job. */
START_TEST(the_cautions_at_hand_come_before_the_others)
{
    open_at(_i);
    if (!too_small()) {
        bed_type(b, ":go-to hangers\r");
        bed_quiet(b, 30);
        char *text = whole_list(), *own = strstr(text, "Taking shoulder screws out"),
             *other = strstr(text, "Sheared edges cut");
        ck_assert(own && other && own < other);
        free(text);
    }
    leave(b);
}
END_TEST

void add_cautions(Suite *s)
{
    TCase *t = tcase_create("cautions");
    tcase_add_loop_test(t, all_cautions_can_be_read_whole, 0, SIZES);
    tcase_add_loop_test(t, each_form_defers_first, 0, SIZES);
    tcase_add_loop_test(t, each_picture_and_the_review_defer_first, 0, SIZES);
    tcase_add_loop_test(t, the_cautions_at_hand_come_before_the_others, 0, SIZES);
    suite_add_tcase(s, t);
}
