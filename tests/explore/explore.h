/* The explore bench: a shipped job with its findings, and runs over it. */
#ifndef DIEWRIGHT_TESTS_EXPLORE_H
#define DIEWRIGHT_TESTS_EXPLORE_H

#include "common.h"
#include "diewright/explore.h"

struct bench {
    const struct handbook *h; /* the shipped one */
    struct dieset *d;
    struct findings *f;
};

/* Once a case, before its tests: reading the handbook takes longer than most of them. */
void bench_open_handbook(void);
void bench_close_handbook(void);
/* JOB: a file of record text. */
void bench_open(struct bench *b, const char *job);
void bench_close(struct bench *b);
/* Read and run; fails the test when refused. SHOW: paths parted by blanks. Yours: explore_free(). */
struct explore *bench_run(struct bench *b, const char *path, const char *from, const char *to,
                          const char *step, const char *show);

TCase *run_tests(void);
TCase *point_tests(void);
TCase *plot_tests(void);
TCase *mend_tests(void);
TCase *small_mend_tests(void);

#endif
