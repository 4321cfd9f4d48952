/* tests/fuzz/targets.h - readers of text from outside, each fed with any bytes
 *
 * A target takes LENGTH bytes, has them read and lets go of all that came of it. It aborts when something
 * holds that never may: a reason that would reach a terminal raw, a text that is not read back as it was
 * written. Crashes, leaks and hangs are seen by whoever calls: the fuzzer (`make fuzz`), or check_fuzz with
 * what the fuzzer has kept.
 */
#ifndef DIEWRIGHT_TESTS_FUZZ_TARGETS_H
#define DIEWRIGHT_TESTS_FUZZ_TARGETS_H

#include <stddef.h>

typedef void fuzz_fn(const unsigned char *bytes, size_t length);

fuzz_fn fuzz_formula; /* a formula typed: parsed, a name in it changed, worked out by the handbook */
fuzz_fn fuzz_record;  /* record text: handbook and jobs */
fuzz_fn fuzz_csv;     /* a parts table imported into a job */
fuzz_fn fuzz_job;     /* a job as text: loaded, judged, written and loaded again */

/* The shipped handbook, read once. */
const struct handbook *fuzz_handbook(void);
/* Abort when SENTENCE holds a byte that a terminal would obey. */
void fuzz_visible(const char *sentence);

#endif
