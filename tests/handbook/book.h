/* tests/handbook/book.h - the cases of the room and what they share */
#ifndef DIEWRIGHT_TESTS_HANDBOOK_BOOK_H
#define DIEWRIGHT_TESTS_HANDBOOK_BOOK_H

#include "../common.h"

#include "diewright/handbook.h"

/* A handbook of a few lines that is sound; names end in what it is made of. */
extern const char small_book[];

/* The small handbook and TEXT as a second file "more.txt"; fails the test when it is refused. */
struct handbook *read_more(const char *text);
/* The same, refused; the reason in *WHY. */
void read_refused(const char *text, struct base_diag *why);

/* The shipped texts, in the order of their names; free with texts_done(). */
struct texts { char *text[64], *name[64]; int n; };
void texts_read(struct texts *t);
void texts_done(struct texts *t);
/* Put NOW in place of OLD in the text that holds it; fails the test when none or several places do. Returns
   which text. */
int texts_change(struct texts *t, const char *old, const char *now);
enum base_err texts_load(const struct texts *t, struct handbook **out, struct base_diag *why);

TCase *records_case(void);
TCase *refusals_case(void);
TCase *types_case(void);
TCase *eval_case(void);
TCase *shipped_case(void);

#endif
