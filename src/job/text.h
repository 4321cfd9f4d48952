/* job/text.h - a job as record text: reading and writing */
#ifndef DIEWRIGHT_JOB_TEXT_H
#define DIEWRIGHT_JOB_TEXT_H

#include "diewright/dieset.h"

/* Items and entries read from record text, with the line of each for reasons. */
struct job_text {
    BASE_VEC(struct store_item) items;
    BASE_VEC(struct store_entry) entries;
    BASE_VEC(int) lines, item_lines; /* one an entry, one an item */
    struct base_arena memory;
    const char *name;
};

NODISCARD enum base_err job_text_read(const struct handbook *h, const char *text, const char *name,
                                      struct job_text *out, struct base_diag *why);
void job_text_done(struct job_text *t);

/* Give a reason that begins with "item.entry:" or the item's name the line in which that stands. */
void job_text_place(const struct job_text *t, struct base_diag *why);

/* The whole die set as record text, stable in order. Yours to free(). */
char *job_text_write(const struct dieset *d);

#endif
