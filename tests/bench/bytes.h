/* tests/bench/bytes.h - bytes a key */
#ifndef DIEWRIGHT_TESTS_BENCH_BYTES_H
#define DIEWRIGHT_TESTS_BENCH_BYTES_H

#include "../common.h"

void bench_bytes(void);

#endif
