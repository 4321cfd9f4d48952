/* The job bench: jobs in memory and on disk, edits in one word each. */
#ifndef DIEWRIGHT_TESTS_JOB_BENCH_H
#define DIEWRIGHT_TESTS_JOB_BENCH_H

#include "common.h"
#include "diewright/job.h"

/* The shipped handbook, loaded once. */
extern struct handbook *bench_handbook;
void bench_open_handbook(void);
void bench_close_handbook(void);

struct job *bench_text(const char *text); /* in memory */
struct job *bench_file(const char *file); /* in memory, from a text of the tree */
/* A new file NAME in FOLDER, from a text of the tree. *PATH is yours to free(). */
struct job *bench_disk(const char *folder, const char *name, const char *file, char **path);

/* Set and take; fails the test when refused. */
void bench_set(struct job *j, const char *path, const char *formula);
void bench_take(struct job *j);
/* A number in base units; fails the test when there is none. */
double bench_number(struct job *j, const char *path, enum dieset_state s);
#define number(j, path) bench_number(j, path, DIESET_NEW)
/* "25.0 mm" */
const char *bench_print(struct job *j, const char *path);

/* All values of all quantities in both states, a line each; yours to free(). */
char *bench_values(struct job *j);
/* The job's values and findings equal those of a job freshly loaded from its dump, and so does the dump. */
void bench_same_when_fresh(struct job *j);

/* One's own last edit taken back, or made again, as the faces do it. */
enum base_err job_undo(struct job *j, struct base_diag *why);
enum base_err job_redo(struct job *j, struct base_diag *why);

TCase *text_tests(void);
TCase *edit_tests(void);
TCase *life_tests(void);
TCase *why_tests(void);
TCase *counted_tests(void);
TCase *fuzz_tests(void);
TCase *trade_tests(void);
TCase *sharpening_tests(void);
TCase *review_tests(void);
TCase *undo_tests(void);
TCase *beside_tests(void);
TCase *join_tests(void);
TCase *own_size_tests(void);
TCase *station_tests(void);
TCase *own_thing_tests(void);

#endif
