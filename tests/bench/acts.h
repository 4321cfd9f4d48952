/* tests/bench/acts.h - what each act costs, on a demo job and on a large set; how that grows */
#ifndef DIEWRIGHT_TESTS_BENCH_ACTS_H
#define DIEWRIGHT_TESTS_BENCH_ACTS_H

#include "../common.h"

/* Processor time of each act beside its goal, bytes and memory. */
void bench_acts(void);
/* Sets of 10 stations and more: reading, judging, an edit, memory; the exponents of their growth. */
void bench_growth(void);

#endif
