/* The job's texts as the store gives them: items in order, each with what was typed in it. */
#ifndef DIESET_TEXTS_H
#define DIESET_TEXTS_H

#include "diewright/typed.h"

struct text_item {
    const char *kind, *name;
    BASE_VEC(struct typed_entry) entries; /* in the store's order */
};

/* All strings lie in MEMORY; what is replaced stays there until the whole goes. */
struct texts {
    struct base_arena memory;
    BASE_VEC(struct text_item) items;
};

NODISCARD enum base_err texts_fill(struct texts *t, const struct typed_item *items, int n_items,
                                   const struct typed_entry *entries, int n_entries, struct base_diag *why);
void texts_copy(struct texts *out, const struct texts *from);
void texts_done(struct texts *t);

int texts_find(const struct texts *t, const char *item); /* -1: none */
/* What is typed at PATH, NULL when nothing is. */
const char *texts_entry(const struct text_item *item, const char *path);
/* Set (TEXT NULL: take out) one entry. */
void texts_put(struct texts *t, int item, const char *path, const char *text);
/* One change of any sort. */
NODISCARD enum base_err texts_apply(struct texts *t, const struct typed_change *c, struct base_diag *why);

#endif
