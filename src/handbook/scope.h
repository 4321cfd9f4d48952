/* handbook/scope.h - what the handbook itself can resolve: factors, functions, tables */
#ifndef DIEWRIGHT_HANDBOOK_SCOPE_H
#define DIEWRIGHT_HANDBOOK_SCOPE_H

#include "handbook/book.h"

/* Scope functions that need only the handbook; ARG is a struct handbook pointer's holder (see check.c,
   eval.c). */
const struct formula_function *scope_function(const struct handbook *h, const char *name);
int scope_table(const struct handbook *h, const char *name);
bool scope_column(const struct handbook *h, int table, const char *name, struct formula_column *out);
int scope_pick(const struct handbook *h, const struct formula_pick *pick);
void scope_nearest(const struct handbook *h, const char *name, struct base_text *out);
void scope_lookup(void *handbook, const struct formula_pick *pick, const double *values,
                  struct formula_value *out);

#endif
