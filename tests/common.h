/* tests/common.h - what every room's test program shares */
#ifndef DIEWRIGHT_TESTS_COMMON_H
#define DIEWRIGHT_TESTS_COMMON_H

#include <check.h>
#include <stdbool.h>

#include "diewright/base.h"

/* Each check that holds writes its place to a file, for the report of a test that dies. That takes longer
   than most checks, and in one process nobody is left to report: there it is left out. */
extern bool test_marks;
#define _mark_point(file, line) (test_marks ? (_mark_point)(file, line) : (void)0)

/* Run SUITE the usual way and return the exit status of main(). */
int run_suite(Suite *suite);

/* A text file of the tree under test, whole; fails the test when it is missing. PATH is
 * relative to the top of the tree (tests run from there). Yours to free(). */
char *read_text(const char *path);

/* A fresh folder for this test; tests/run.sh says where and removes those of its run. Static buffer. */
const char *fresh_folder(void);

/* What a command prints, first 64 KiB; its exit status in *STATUS (may be NULL). Static buffer. */
const char *output_of(const char *command, int *status);

/* The cautions that data/handbook has, in its order: of a kind, or of none (""). At most ROOM; returns how
   many. */
struct shipped_caution { char kind[40], text[300]; };
int shipped_cautions(struct shipped_caution *out, int room);
/* TEXT with one blank for all blanks and ends of lines between two words; yours to free(). */
char *on_one_line(const char *text);
/* N bytes of TEXT have something that would not be seen as it is, or a stray byte. */
bool has_hidden(const char *text, size_t n);
/* How often WORDS stand in TEXT. */
int times_in(const char *text, const char *words);

#define ck_ok(call)                                                                                  \
    do {                                                                                             \
        struct base_diag ck_why_ = {0};                                                              \
        struct base_diag *why = &ck_why_;                                                            \
        enum base_err ck_err_ = (call);                                                              \
        ck_assert_msg(ck_err_ == BASE_OK, "%s: %s [%s:%d '%s' at %d]", #call, ck_why_.message,       \
                      ck_why_.file, ck_why_.line, ck_why_.source, ck_why_.start);                    \
        (void)why;                                                                                   \
    } while (0)

#endif
