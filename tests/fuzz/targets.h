/* tests/fuzz/targets.h - readers of text from outside, each fed with any bytes
 *
 * A target takes LENGTH bytes, has them read and lets go of all that came of it. It aborts when something
 * holds that never may: a reason that is no sentence, a text that goes out with a byte that a terminal obeys
 * or is not read back as it was written. Crashes, leaks and hangs are seen by whoever calls: the fuzzer
 * (`make fuzz`), or check_fuzz with what the fuzzer has kept, and with what it changes itself.
 */
#ifndef DIEWRIGHT_TESTS_FUZZ_TARGETS_H
#define DIEWRIGHT_TESTS_FUZZ_TARGETS_H

#include <stddef.h>

typedef void fuzz_fn(const unsigned char *bytes, size_t length);

fuzz_fn fuzz_formula; /* a formula typed: parsed, a name in it changed, worked out by the handbook */
fuzz_fn fuzz_record;  /* record text: handbook and jobs */
fuzz_fn fuzz_csv;     /* a parts table imported into a job */
fuzz_fn fuzz_job;     /* a job as text: loaded, judged, written and loaded again */
fuzz_fn fuzz_file;    /* a job's file: opened, judged, shown; what is not opened stays byte for byte */

/* How many were taken so far; the others were refused. */
extern long fuzz_taken;
/* The shipped handbook, read once. */
const struct handbook *fuzz_handbook(void);
/* The file that fuzz_file writes and opens. */
void fuzz_file_at(const char *path);
#endif
