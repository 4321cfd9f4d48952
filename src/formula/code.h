/* formula/code.h - compiled formulas
 *
 * Straight-line operations; operation i writes register i, operands are registers before it. Picks keep their
 * operands in a list of their own. The last operation is the result.
 *
 *     [0] load  slot 12           strip.thickness
 *     [1] const 0.06
 *     [2] times 0 1               the result
 */
#ifndef DIEWRIGHT_FORMULA_CODE_H
#define DIEWRIGHT_FORMULA_CODE_H

#include "diewright/formula.h"

enum op_what {
    OP_CONST,    /* number; error and the slot a that it arose in, -1 */
    OP_LOAD,     /* slot a */
    OP_ARGUMENT, /* argument a */
    OP_ADD, OP_SUBTRACT, OP_MULTIPLY, OP_DIVIDE, OP_POWER, OP_MINUS,
    OP_EQUAL, OP_UNEQUAL, OP_LESS, OP_AT_MOST, OP_MORE, OP_AT_LEAST, /* c: of two lengths, forgiving 1 nm */
    OP_AND, OP_OR, OP_NOT, OP_KNOWN,
    OP_SELECT,   /* a ? b : c */
    OP_MIN, OP_MAX, OP_ABS, OP_SQRT, OP_LOG10, OP_SIN, OP_COS, OP_TAN, OP_ATAN2, OP_RISE, OP_DROP, OP_WHOLE,
    OP_REST,
    OP_PICK,     /* pick a */
    /* rows of a kind, folded one after the other: a so far, b whether the row fits, c its value */
    OP_SUM_IF, OP_MAX_IF, OP_MIN_IF, OP_ONE_IF,
    OP_CLOSE,    /* a; where that is no row at all, b */
};

/* Inside a chain of OP_..._IF: no row so far. Never leaves it. */
enum { OP_NOTHING_YET = 255 };

enum { PICK_OPERANDS = 16 };

/* A large job has a million: NUMBER of a constant lies where the others have operands. */
struct op { unsigned char what, error; int a; union { struct { int b, c; }; double number; }; };
_Static_assert(sizeof(struct op) == 16, "an operation is as small as it was made");

struct op_pick { struct formula_pick pick; int registers[PICK_OPERANDS]; int n; };

/* The slots read lie behind the operations in the same piece of memory: code_reads(). */
struct formula_code {
    struct formula_type type;
    int n_ops, n_picks, n_reads;
    struct op_pick *picks;
    struct op ops[];
};
static inline int *code_reads(const struct formula_code *c) { return (int *)(uintptr_t)(c->ops + c->n_ops); }

/* How many registers an operation reads (a pick has a list of its own). */
int op_arity(enum op_what what);

/* Run one operation over lanes; operands are read and the result written in the memory's registers. */
void op_run(const struct op *op, int to, const struct op_pick *picks, const struct formula_memory *m);

#endif
