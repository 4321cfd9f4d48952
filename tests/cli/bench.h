/* tests/cli/bench.h - the program as a child: one command line in, what it printed and its exit status out
 *
 * The calls of the program that a line begins with are run without a shell, each in a child of this process
 * with the program's own main() and a handbook that is read already (straight.c); all else goes to the shell.
 *
 * The program is $DIEWRIGHT, or diewright of the folder that $B names (build); its data is $DATA (data). A
 * line is one for the shell, run in the bench's own folder; "d" stands for the program with its data.
 */
#ifndef DIEWRIGHT_TESTS_CLI_BENCH_H
#define DIEWRIGHT_TESTS_CLI_BENCH_H

#include "common.h"

struct bench { char folder[300]; };
struct said { int status; char *out, *err; };

/* Run LINE in FOLDER, if it is calls "d ..." with && or ; between them, perhaps with a filter behind the
   last, which SHELL (what makes one ready) then runs; what they print goes to the files out and err there.
   -1: it is none such; else the exit status. DATA: the folder that each is given. */
int straight_run(const char *folder, const char *line, const char *data, const char *shell);

/* A fresh folder; where JOB is named ("cover-plate"), it stands there as cp.diejob. */
void bench_open(struct bench *b, const char *job);

/* Run LINE; each result is ended by said_done(). */
struct said bench_run(const struct bench *b, const char *line);
void said_done(struct said *s);
/* Run LINE and hold its exit status. */
struct said bench_want(const struct bench *b, const char *line, int status);
/* The same for lines whose output does not matter. */
void bench_do(const struct bench *b, const char *line, int status);

/* The row of a CSV text whose first cells are FIRST and SECOND (NULL: any); cell COLUMN of it, yours to
   free(); NULL: no such row. */
char *rows_find(const char *csv, const char *first, const char *second, int column);
/* The next cell at *AT, which then stands behind its comma (*MORE) or at the line's end; yours to free(). */
char *rows_cell(const char **at, bool *more);
/* The next cell of a row that is known to have it. */
#define rows_take(at) rows_cell(at, &(bool){false})
void rows_next(const char **at); /* from a line's end to the next row */
int rows_count(const char *csv);   /* the heading not counted */
int rows_columns(const char *csv);

/* Is TEXT one JSON value and nothing else? */
bool json_valid(const char *text);

#endif
