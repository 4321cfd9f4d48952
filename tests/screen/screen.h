/* tests/screen/screen.h - the parts of the end-to-end suite, and a job on a screen */
#ifndef DIEWRIGHT_TESTS_SCREEN_SCREEN_H
#define DIEWRIGHT_TESTS_SCREEN_SCREEN_H

#include <check.h>

#include "bed.h"
#include "play.h"

void add_bed(Suite *s);
void add_stories(Suite *s);
void add_typing(Suite *s);
void add_acts(Suite *s);
void add_lessons(Suite *s);
void add_looks(Suite *s);
void add_ends(Suite *s);
void add_placing(Suite *s);
void add_storms(Suite *s);
void add_fuzz(Suite *s);
void add_cases(Suite *s);

/* The same numbers on every machine (xorshift). */
struct dice { uint32_t state; };
uint32_t roll(struct dice *d, uint32_t n);
void add_runs(Suite *s);
void add_review(Suite *s);
void add_mouse(Suite *s);
void add_thrift(Suite *s);
void add_cautions(Suite *s);

/* The program under test, in the build folder. */
const char *program(void);
/* A job made from a text file, in a fresh folder; its path. Static buffer. */
const char *job_from(const char *text);
/* A fresh copy of the demo job in a fresh folder; its path. Static buffer. */
const char *demo_job(void);
/* The screens of JOB at this size, waited for; MORE as in bed.h; OPTION one more argument or NULL. */
struct bed *screens(const char *job, int rows, int columns, const char *const *more, const char *option);
/* Where most stories begin: the demo job on a screen of 24 x 80; its path in JOB, its text as it was in
   *BEFORE, to be freed. */
struct bed *demo_screens(char *job, size_t size, char **before);
/* To the value or item PATH, until ROW is on the screen. */
void go(struct bed *b, const char *path, const char *row);
/* The job's text as `diewright dump` writes it; static buffer. */
const char *dumped(const char *job);
/* Leave with q; the program ends with 0 and the terminal is as before. Closes the bed. */
void leave(struct bed *b);

#endif
