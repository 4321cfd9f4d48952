/* tests/counts.h - how often the program did what takes time, counted where one room calls another
 *
 * Linked with --wrap of the four: each call is counted and then made.
 */
#ifndef DIEWRIGHT_TESTS_COUNTS_H
#define DIEWRIGHT_TESTS_COUNTS_H

struct counts { long parsed, tried, bound, judged; };
extern struct counts counts;

#endif
