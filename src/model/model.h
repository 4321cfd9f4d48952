/* model/model.h - what the files of this room share
 *
 * Quantities in flat arrays, their graph, and recalculation in the order of ranks.
 *
 * Slot s has its value in value[s], error[s], origin[s]; the arrays are what formulas read. rank[s] is its
 * place in an order in which a slot stands after all it reads; slot_at[] is the inverse. readers[s] are the
 * slots whose code reads s. Between edits the queue is empty and no slot is marked.
 *
 * Recalculation takes marked slots off a heap by rank: each is computed once, after all it reads, and its
 * readers are marked only when its value changed. A preview keeps, for each slot, the value it had before.
 */
#ifndef DIEWRIGHT_MODEL_MODEL_H
#define DIEWRIGHT_MODEL_MODEL_H

#include "diewright/model.h"

struct slot {
    const char *name; /* the caller's */
    struct formula_code *code;
    BASE_VEC(int) readers;
    struct formula_type type;
    bool marked;  /* waits in the queue */
    bool kept;    /* its value before the preview is in the journal */
};

struct old_value { int slot; struct formula_value value; };
struct old_code { int slot; struct formula_code *code; };

struct model {
    BASE_VEC(struct slot) slots;
    double *value;
    unsigned char *error;
    int *origin;
    long *stamp; /* when it was put, by TICK; see model_now() */
    long tick, put, codes; /* PUT: when the last value was; CODES: when a formula was that reads others */
    int *rank, *slot_at, *queue;
    size_t room;
    int queued;
    bool settled, previewing;
    long evaluations;
    formula_lookup_fn *lookup;
    void *lookup_arg;
    /* scratch of the longest code */
    double *registers;
    unsigned char *register_errors;
    int *register_origins;
    int n_registers;
    BASE_VEC(struct old_value) journal;
    BASE_VEC(struct old_code) old_codes;
    int *changes;
};

/* Put V at SLOT, in a preview with its old value kept; false when it stands there already. */
bool model_put(struct model *m, int slot, struct formula_value v);

#endif
