/* A small handbook, a small job, and short hands for both. */
#ifndef DIESET_BENCH_H
#define DIESET_BENCH_H

#include "common.h"

#include "diewright/dieset.h"

struct bench { struct handbook *h; struct dieset *d; };

/* The handbook and the job of this folder. */
void bench_open(struct bench *b);
/* The job's text with EXTRA behind it. */
void bench_open_with(struct bench *b, const char *extra);
/* Only this text. */
void bench_open_text(struct bench *b, const char *text);
void bench_close(struct bench *b);

/* Record text as items and entries into D. */
enum base_err bench_load(struct dieset *d, const char *text, struct base_diag *why);
/* The job's text with EXTRA behind it: refused; the reason. */
const char *bench_refusal(const char *extra);

/* "die_plate.thickness" -> 32 mm; NaN for errors and names that are not there. */
double bench_value(const struct bench *b, const char *path, enum dieset_state s);
/* Try one entry: ITEM, PATH, TEXT (NULL: take out). */
enum base_err bench_try(struct bench *b, const char *item, const char *path, const char *text,
                        struct base_diag *why);
/* Try and keep; fails the test when refused. */
void bench_set(struct bench *b, const char *item, const char *path, const char *text);

/* The first hole of OPERATION that ITEM makes in PLATE. */
bool bench_hole(const struct bench *b, const char *plate, const char *item, const char *operation,
                enum dieset_state s, struct dieset_hole *out);
int bench_count_holes(const struct bench *b, const char *plate, const char *item, const char *operation);

#define near_to(got, wanted) ck_assert_double_eq_tol(got, wanted, 1e-9)

#endif
