/* tests/bench/set.h - a die set of any size, made for measuring */
#ifndef DIEWRIGHT_TESTS_BENCH_SET_H
#define DIEWRIGHT_TESTS_BENCH_SET_H

/* The set that the table of acts is about: sound, some 300 items and 2,600 holes. */
enum { BENCH_STATIONS = 40, BENCH_IN_STATION = 6 };

/* A job as record text: STATIONS that pierce, IN_STATION groups of punches in each. It is free of faults up
 * to BENCH_STATIONS of BENCH_IN_STATION; larger ones are longer than any press. Yours to free(). */
char *bench_set(int stations, int in_station);

#endif
