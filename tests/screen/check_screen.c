/* tests/screen/check_screen.c - the real program on a terminal in memory, from the first key to the last */

#include "screen.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../common.h"

const char *program(void)
{
    static char path[300];
    const char *b = getenv("B");
    snprintf(path, sizeof path, "%s/diewright-test", b ? b : "build");
    ck_assert_msg(access(path, X_OK) == 0, "%s is not built", path);
    return path;
}

const char *job_from(const char *text)
{
    static char path[400];
    char command[900];
    int status;
    snprintf(path, sizeof path, "%s/cover.diejob", fresh_folder());
    snprintf(command, sizeof command, "ASAN_OPTIONS=detect_leaks=0 %s load %s %s 2>&1", program(), path,
             text);
    const char *out = output_of(command, &status);
    ck_assert_msg(status == 0, "%s: %s", command, out);
    return path;
}

uint32_t roll(struct dice *d, uint32_t n)
{
    d->state ^= d->state << 13;
    d->state ^= d->state >> 17;
    d->state ^= d->state << 5;
    return d->state % n;
}

const char *demo_job(void) { return job_from("data/demo/cover-plate.txt"); }

struct bed *screens(const char *job, int rows, int columns, const char *const *more, const char *option)
{
    const char *argv[] = {program(), job, option, NULL};
    struct bed *b = bed_open(
        &(struct bed_start){.argv = argv, .rows = rows, .columns = columns, .more = more});
    bed_wait(b, "? help");
    bed_quiet(b, 30);
    return b;
}

struct bed *demo_screens(char *job, size_t size, char **before)
{
    snprintf(job, size, "%s", demo_job());
    *before = base_copy(dumped(job));
    return screens(job, 24, 80, NULL, NULL);
}

void go(struct bed *b, const char *path, const char *row)
{
    char keys[200];
    snprintf(keys, sizeof keys, ":go-to %s\r", path);
    bed_type(b, keys);
    bed_wait(b, row);
    bed_quiet(b, 30);
}

const char *dumped(const char *job)
{
    char command[900];
    int status;
    snprintf(command, sizeof command, "ASAN_OPTIONS=detect_leaks=0 %s dump '%s'", program(), job);
    const char *out = output_of(command, &status);
    ck_assert_int_eq(status, 0);
    return out;
}

void leave(struct bed *b)
{
    bed_type(b, "q");
    ck_assert_int_eq(bed_wait_end(b), 0);
    ck_assert(bed_modes_restored(b));
    ck_assert(!bed_alternate(b));
    ck_assert(!bed_paste_asked(b));
    ck_assert(!bed_mouse_asked(b));
    ck_assert(bed_cursor_visible(b));
    bed_close(b);
}

int main(void)
{
    Suite *s = suite_create("screen");
    setlocale(LC_CTYPE, "C.UTF-8");
    /* two whole screens fit; here only, for libcheck gets as much for every message */
    setenv("CK_MAX_MSG_SIZE", "100000", 0);
    add_bed(s);
    add_ends(s);
    add_looks(s);
    add_stories(s);
    add_typing(s);
    add_acts(s);
    add_placing(s);
    add_lessons(s);
    add_storms(s);
    add_cases(s);
    add_fuzz(s);
    add_runs(s);
    add_review(s);
    add_mouse(s);
    add_thrift(s);
    add_cautions(s);
    return run_suite(s);
}
