/* The findings bench: a die set from record text, edits in words, findings by rule and subject. */
#ifndef DIEWRIGHT_TESTS_FINDINGS_BENCH_H
#define DIEWRIGHT_TESTS_FINDINGS_BENCH_H

#include "common.h"
#include "diewright/findings.h"

struct bench {
    struct handbook *h;
    struct dieset *d;
    struct findings *f;
};

/* A handbook of one text with FOLDER's parts (may be NULL), and a job. */
/* The same of N texts, and the parts tables of FOLDER. */
void bench_open_texts(struct bench *b, const char *const *texts, const char *const *names, int n,
                      const char *folder, const char *job);
void bench_open(struct bench *b, const char *handbook, const char *folder, const char *job);
/* The shipped handbook with the job in FILE. */
void bench_open_shipped(struct bench *b, const char *file);
void bench_close(struct bench *b);
/* The same with a handbook that stays the caller's; bench_leave() ends it. */
void bench_open_on(struct bench *b, struct handbook *h, const char *file);
void bench_leave(struct bench *b);

/* Try edits, parted by ";":  "posts.length = 160 mm"   a value; "posts.length.reason = words" too
 *                            "posts.length = "          nothing typed any more
 *                            "factor screw_reserve = 4"  a factor typed over
 *                            "+ risers risers"          an item put in
 *                            "- bushings"               an item taken out
 *                            "dowels lay one on die_plate"
 * Leaves the try open; "" opens none. */
void bench_try(struct bench *b, const char *edits);
/* The same, refused where it is refused. */
NODISCARD enum base_err bench_may_try(struct bench *b, const char *edits, struct base_diag *why);
/* Judge, and end the try by dropping it when one is open. */
void bench_drop(struct bench *b);

/* The gravest finding of RULE about SUBJECT ("" any: an item, a typed path, a table), nearest to VALUE where
 * that is no NaN; NULL when there is none. */
const struct finding *bench_find(struct bench *b, const char *rule, const char *subject, double value);

/* All findings as lines "grade key states value limit margin message", for comparing lists. Yours to
   free(). */
char *bench_list(struct bench *b);

TCase *machine_tests(void);
TCase *rule_tests(void);
TCase *joint_tests(void);
TCase *usual_tests(void);
TCase *design_tests(void);
TCase *moved_tests(void);

#endif
