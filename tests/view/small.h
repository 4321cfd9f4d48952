/* tests/view/small.h - die sets from record text, for pictures and papers */
#ifndef DIEWRIGHT_TESTS_SMALL_H
#define DIEWRIGHT_TESTS_SMALL_H

#include "diewright/dieset.h"

/* The small handbook of tests/view/small-handbook.txt, read once; never freed. */
const struct handbook *small_handbook(void);

/* A die set from a job's text file. EDITS: up to the first without a path, "item.path" replaced by a text,
 * for sets that differ in little; where the path is "", an item of the kind TEXT is added. Yours to free. */
struct small_edit { const char *item, *path, *text; };
struct dieset *small_dieset(const struct handbook *h, const char *file, const struct small_edit *edits);

/* Compare TEXT with a kept file; with KEEP set in the environment the file is written instead. */
void matches_kept(const char *text, const char *file);

#endif
