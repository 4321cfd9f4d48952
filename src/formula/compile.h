/* formula/compile.h - what the compiler's files share
 *
 * compile.c knows the grammar and asks call.c, which asks pick.c; all three write by emit.c, and gather.c
 * keeps what came of it.
 *
 * A *result* is what a piece of a formula came to while compiling: a constant (no code yet) or a register.
 * A *frame* is one handbook function being laid open: its arguments and lets as results.
 */
#ifndef DIEWRIGHT_FORMULA_COMPILE_H
#define DIEWRIGHT_FORMULA_COMPILE_H

#include "formula/code.h"
#include "formula/tree.h"

struct result {
    struct formula_type type;
    bool constant, zero;    /* zero: a literal 0, which fits any dimension */
    double number;
    unsigned char error;
    int origin;             /* of a constant's error: the slot it arose in, -1 */
    int reg;                /* when not constant */
};

struct frame {
    const struct formula_function *function;
    const struct node *call; /* where it is called, for marks */
    struct result *names;    /* parameters, then lets */
    int known;               /* so many of them stand */
    struct frame *up;
};

struct compiler {
    const struct formula_scope *scope;
    const struct formula_tree *tree; /* the outermost */
    struct frame *frame;             /* NULL outside functions */
    BASE_VEC(struct op) ops;
    /* operations that may be the same, by what they read: the latest of each class, counted from 1, and for
       each operation the one before it in its class; 0: none */
    int latest[64];
    BASE_VEC(int) before;
    BASE_VEC(struct op_pick) picks;
    /* A formula inside of a formula (an argument, a match): calls and picks ask for it here and know no
       grammar. */
    bool (*node)(struct compiler *c, const struct node *n, struct result *out);
    struct base_diag *why;
    int depth;
};

/* All return false when the reason stands in c->why. */
bool compile_call(struct compiler *c, const struct node *n, struct result *out);           /* call.c */
/* pick.c */
bool compile_rows(struct compiler *c, const struct node *n, enum formula_pick_mode mode, struct result *out);

/* Complain with N marked (or the call, inside a function's body). Returns false. */
bool compile_refuse(struct compiler *c, const struct node *n, const char *fmt, ...) PRINTF_LIKE(3, 4);
/* Keep a reason that a lower call gave, with N marked when it has no mark. Returns false. */
bool compile_pass(struct compiler *c, const struct node *n);

int compile_register(struct compiler *c, struct result *r); /* emits a constant when needed */
struct result compile_constant(struct formula_type type, double number, unsigned char error);
/* One operation; folded when all its operands are constants. B, CC may be NULL. */
struct result compile_emit(struct compiler *c, enum op_what what, struct formula_type type, struct result *a,
                           struct result *b, struct result *cc);
struct formula_type compile_number(struct unit_dim dim);
extern const struct formula_type compile_yesno;
const char *compile_type_name(struct formula_type t, char *buf, size_t size); /* "a length", "a text" */
bool compile_found(struct compiler *c, const struct node *n, const struct formula_found *f,
                   struct result *out);
/* A and B may be joined, compared, chosen between: the same type, a literal 0 taking the other's
   dimension. */
bool compile_alike(struct compiler *c, const struct node *n, struct result *a, struct result *b,
                   const char *what);

/* gather.c: the code that R hangs on, yours; the keys of picks that it took are its own now. */
struct formula_code *compile_gather(struct compiler *c, struct result *r);
void compile_free_keys(struct op_pick *picks, size_t n);

#endif
