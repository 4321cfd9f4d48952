/* diewright/model.h - quantities, their graph, recalculation, preview and why
 *
 * Quantities are numbered slots in flat arrays. Each has a formula's code (a constant is code
 * too). All are ordered by rank, so that a slot stands after all it reads; an edit recomputes only what
 * hangs on it, in that order, and stops where a result is unchanged. Nothing allocates while
 * recalculating. Knows no items, no trade. Uses: formula, base.
 */
#ifndef DIEWRIGHT_MODEL_H
#define DIEWRIGHT_MODEL_H

#include "diewright/formula.h"

struct model;

struct model *model_new(formula_lookup_fn *lookup, void *lookup_arg);
void model_free(struct model *m);

/* A new slot, without code (its value is "not filled in"). NAME is the caller's and stays as long as the
 * model; slots count from 0. */
int model_add(struct model *m, const char *name, struct formula_type type);
int model_count(const struct model *m);
const char *model_name(const struct model *m, int slot);

/* Give SLOT its code (adopted; NULL: not filled in). Refused with the loop named slot by slot
 * ("a -> b -> a") when it would make a circle; then CODE is freed and the old code stays. Before
 * model_settle() circles are not looked for. Marks the slot as needing recalculation. */
NODISCARD enum base_err model_set_code(struct model *m, int slot, struct formula_code *code,
                                       struct base_diag *why);
/* A plain value, with no formula behind it. */
void model_set_constant(struct model *m, int slot, double number);
const struct formula_code *model_code(const struct model *m, int slot);

/* After building: lay code and edges flat, order all, compute all. Circles are refused here. */
NODISCARD enum base_err model_settle(struct model *m, struct base_diag *why);

/* Recompute what is marked and what hangs on it. Returns the number of evaluations. */
int model_recalculate(struct model *m);
long model_evaluations(const struct model *m); /* since model_new */

struct formula_value model_value(const struct model *m, int slot);

/* ---- what has moved ------------------------------------------------------------- */

/* This moment, to be told later to model_moved(): has the value of SLOT been another since, be it the same
 * again? 0 is before all. */
long model_now(struct model *m);
bool model_moved(const struct model *m, int slot, long since);
bool model_any_moved(const struct model *m, long since);
/* Has any that CODE (NULL: none) reads? Has any slot got or lost a formula that reads others? */
bool model_code_moved(const struct model *m, const struct formula_code *code, long since);
bool model_codes_moved(const struct model *m, long since);

/* ---- edits that can be dropped ----------------------------------------------- */

/* From here on old values and codes are kept. One at a time. */
void model_preview_begin(struct model *m);
/* The slots whose value differs from before, in rank order, with the old value. Valid until the end. */
int model_preview_changes(const struct model *m, const int **slots);
struct formula_value model_preview_old(const struct model *m, int slot);
void model_preview_drop(struct model *m); /* all as it was, without evaluating */
void model_preview_keep(struct model *m);

/* ---- why ---------------------------------------------------------------------- */

const int *model_reads(const struct model *m, int slot, int *count);   /* what its value hangs on */
const int *model_readers(const struct model *m, int slot, int *count); /* what hangs directly on it */
/* All that hang on it, near and far, in rank order, into SLOTS (room for model_count()). */
int model_reach(const struct model *m, int slot, int *slots);
/* N SLOTS in rank order. */
void model_rank(const struct model *m, int *slots, int n);
/* The need of a size pick at the root of SLOT's formula; false when it is none. */
bool model_need(struct model *m, int slot, double *need);
/* The pick behind the value or the error of SLOT, with keys and need. */
const struct formula_pick *model_pick(struct model *m, int slot, double *values);

/* Run CODE against the present values, with ARGUMENTS (may be NULL). */
struct formula_value model_run(struct model *m, const struct formula_code *code, const double *arguments,
                               const unsigned char *argument_errors);

/* ---- many variants at once ------------------------------------------------------ */

/* Slots in LANES variants, each a plain number, with all that hangs on them; what does not is as it stands in
 * M, and so are all as long as none is aimed at. The model is settled and its codes stay as they are while
 * the lanes live. */
struct model_lanes;
struct model_lanes *model_lanes_new(struct model *m, int lanes);
void model_lanes_free(struct model_lanes *l);
/* From now on the N SLOTS (each once) are varied, and those before them stand again as in M. What STAYS says
 * (one a slot; NULL: nothing) is as it stands in M though it hang on them, and so is what hangs on that. */
void model_lanes_aim(struct model_lanes *l, const int *slots, int n, const bool *stays);
/* What hangs on them and does not stay, in rank order; till they are aimed at others. */
const int *model_lanes_reach(const struct model_lanes *l, int *n);
/* The first N lanes get NUMBERS, slot I's in lane K at [I * N + K]; all that hangs on them is computed. Lanes
 * behind N are as lane N - 1. Once base_given_up() says so, lanes are not whole, from model_lanes_new() on.
 * */
void model_lanes_run(struct model_lanes *l, const double *numbers, int n);
/* Run CODE in all lanes into OUT, one a lane. Argument a of lane k stands at [a * lanes + k]; may be NULL. */
void model_lanes_code(struct model_lanes *l, const struct formula_code *code, const double *arguments,
                      const unsigned char *argument_errors, struct formula_value *out);
#endif
