/* tests/formula/formula.h - a small job to bind formulas to, and the parts of the suite */
#ifndef DIEWRIGHT_TESTS_FORMULA_H
#define DIEWRIGHT_TESTS_FORMULA_H

#include "../common.h"

#include "diewright/formula.h"

/* The slots of the job, by number. */
enum {
    A,
    B,
    FORCE,
    N,
    M,
    TURN,
    YES,
    NO,
    SIZE,
    EMPTY,
    BROKEN,
    EMPTY_YESNO,
    T0,
    T1,
    T2,
    FIT0,
    FIT1,
    FIT2,
    SLOTS
};

/* Forget what was asked and set every slot to its value. The job:
 *   slots    a 3 mm, b 4 mm, force 100 N, n 2, m 5, turn 30 deg, on yes, off no, size "M8",
 *            empty (a length, not filled in), broken (a length, division by zero in slot a), blank (yes or
 *            no, not filled in)
 *   constants share 0.25, moves "bed"
 *   items    top, middle, low of kind plate: order 1 2 3, thickness 10 20 30 mm (slots), fits yes no yes
 *   (slots), moves
 *            "slide" "bed" "bed"; `this` is middle; nobody is a plate that is not filled in; kind station has
 *            no items
 *   table    screw: size, length, head (see rows in scope.c)
 *   functions area(long, wide = 2 mm), twice(x), spin(x) which calls itself through spun(x), between(one,
 *   other),
 *            bad(x) which adds a force to a length */
void job_start(void);
const struct formula_scope *job_scope(void);

extern double job_values[SLOTS];
extern unsigned char job_errors[SLOTS];
extern int job_origins[SLOTS];
extern bool job_asked_name(const char *name); /* the scope was asked for this leading name */
extern bool job_asked_property(int item, const char *property);

/* Compile TEXT, which must be accepted; yours to free. */
struct formula_code *code_of(const char *text, const struct formula_type *want);
/* Run CODE on the job's slots, one lane. Registers stay for formula_code_need and _pick. */
struct formula_value run_code(const struct formula_code *code, struct formula_memory *m);
struct formula_value value_of(const char *text);
/* Parse and compile TEXT, which must be refused. */
struct base_diag refusal_of(const char *text, const struct formula_type *want);

extern const struct formula_type length_type, force_type, number_type, angle_type, yesno_type, text_type,
    plate_type;

TCase *parse_cases(void);
TCase *type_cases(void);
TCase *value_cases(void);
TCase *error_cases(void);
TCase *pick_cases(void);
TCase *outside_cases(void);

#endif
