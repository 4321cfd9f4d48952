/* What the fuzzer has kept, read by each target once: tests/fuzz/corpus/TARGET. `make fuzz` looks for
   more. */

#include "common.h"
#include "suites.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

#include "targets.h"

static const struct { const char *name; fuzz_fn *target; } targets[] = {
    {"formula", fuzz_formula}, {"record", fuzz_record}, {"csv", fuzz_csv}, {"job", fuzz_job},
};

START_TEST(kept)
{
    char folder[100], path[400];
    int n = 0;
    snprintf(folder, sizeof folder, "tests/fuzz/corpus/%s", targets[_i].name);
    DIR *d = opendir(folder);
    ck_assert_ptr_nonnull(d);
    for (struct dirent *e; (e = readdir(d));) {
        char *text = NULL;
        size_t length = 0;
        if (e->d_name[0] == '.')
            continue;
        snprintf(path, sizeof path, "%s/%s", folder, e->d_name);
        ck_ok(base_read_file(path, &text, &length, why));
        targets[_i].target((const unsigned char *)text, length);
        free(text);
        n++;
    }
    closedir(d);
    ck_assert_int_ge(n, 10);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("fuzz");
    TCase *c = tcase_create("kept");
    tcase_add_loop_test(c, kept, 0, COUNT_OF(targets));
    suite_add_tcase(s, c);
    suite_add_tcase(s, fuzz_mutated_case());
    return run_suite(s);
}
