/* tests/report/report.h - what the files of this suite share */
#ifndef DIEWRIGHT_TESTS_REPORT_H
#define DIEWRIGHT_TESTS_REPORT_H

#include "../common.h"

#include "diewright/report.h"

/* CSV by RFC 4180, read back: fields of all records in a row. Fails the test where the text breaks the
   standard. */
struct csv { char *text; BASE_VEC(char *) fields; int columns, records; };
void parse_csv(struct csv *c, const char *text);
const char *csv_at(const struct csv *c, int record, int column);
int parsed_column(const struct csv *c, const char *name);
void parsed_done(struct csv *c);

/* JSON by RFC 8259: the length of the value at the start of TEXT, 0 when it is none. */
size_t json_value_length(const char *text);
void json_check(const char *text);

int widest_line(const char *text); /* in code points */

TCase *paper_case(void);
TCase *lists_case(void);
TCase *stroke_case(void);
TCase *sharpening_case(void);
TCase *told_case(void);

#endif
