/* tests/store/work.h - edits to make, and what must come of them by an account of our own */
#ifndef DIEWRIGHT_TESTS_STORE_WORK_H
#define DIEWRIGHT_TESTS_STORE_WORK_H

#include "diewright/store.h"

/* A new file, opened. */
NODISCARD enum base_err store_create(const char *path, struct store **out, struct base_diag *why);
/* One parts table; how many there are. */
NODISCARD enum base_err store_put_table(struct store *s, const char *file, const char *csv, size_t length,
                                        uint64_t checksum, bool shipped, struct base_diag *why);
int store_table_count(struct store *s);
/* A die plate 32 mm thick and a strip, one event. */
NODISCARD enum base_err work_begin(struct store *s, struct base_diag *why);
/* Take back the edit that was done last, or do again the one that was taken back last. */
enum base_err work_undo(struct store *s, const char *who, struct base_diag *why);
enum base_err work_redo(struct store *s, const char *who, struct base_diag *why);
/* The I-th edit of a round that sets, adds, orders, renames, takes out, undoes and redoes. One event each. */
NODISCARD enum base_err work_edit(struct store *s, int i, struct base_diag *why);

/* Items and entries as text; "" and a failed test when they cannot be read. Yours to free(). */
char *work_state(struct store *s);
/* The same from the log alone: all its changes done in order to a list of our own. */
char *work_replay(struct store *s);
/* Fail the test unless the two agree. */
void work_check(struct store *s);
/* The log as text. */
char *work_log(struct store *s);

/* The file's bytes; and a file of these bytes. */
struct bytes { unsigned char *at; size_t length; };
struct bytes work_load(const char *path);
void work_save(const char *path, const unsigned char *bytes, size_t length);
void work_same_bytes(const char *path, struct bytes want);

/* All sums of a job's file made anew, as the program would: what another program wrote looks like ours. */
void work_reseal(const char *path);

/* Numbers that are the same in every run. */
unsigned work_random(unsigned *seed);

#endif
