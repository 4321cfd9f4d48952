/* tests/model/model.h - models of plain numbers, and the parts of the suite
 *
 * Slots are called q0, q1 ... by their numbers; a formula may name any of them.
 */
#ifndef DIEWRIGHT_TESTS_MODEL_H
#define DIEWRIGHT_TESTS_MODEL_H

#include "../common.h"

#include "diewright/model.h"

struct model *numbers(int count);              /* COUNT slots of plain numbers, without code */
struct formula_code *code_for(const char *text);
enum base_err set(struct model *m, int slot, const char *text, struct base_diag *why);
void must_set(struct model *m, int slot, const char *text);
void must_settle(struct model *m);
double number_of(struct model *m, int slot);   /* must be no error */
bool same_value(struct formula_value a, struct formula_value b); /* bit for bit */

TCase *graph_cases(void);
TCase *preview_cases(void);
TCase *why_cases(void);
TCase *random_cases(void);

#endif
