/* diewright/formula.h - formula text to checked, flat, compiled code
 *
 * Knows grammar, dimensions and the arithmetic: no items, no tables, no screen. Names are
 * resolved by the caller through struct formula_scope. Uses: unit, base.
 *
 * A formula goes text -> tree (formula_parse) -> code (formula_compile) -> value
 * (formula_run). Trees and code own their memory. Code is straight-line: each operation
 * writes one register, both arms of `if` are computed and one is taken, so the same code
 * runs over many lanes at once. What is constant when compiling is folded; an `if` or a match
 * whose condition is constant keeps only the live arm, and only that arm's names are read.
 *
 * Error values are data: a value with an error passes through every operation unchanged and
 * remembers the quantity (slot) it arose in. `if` passes only the arm taken; "no and error"
 * is no, "yes or error" is yes; known(x) is yes or no.
 */
#ifndef DIEWRIGHT_FORMULA_H
#define DIEWRIGHT_FORMULA_H

#include "diewright/unit.h"

/* ---- types and values ---------------------------------------------------- */

enum formula_sort {
    FORMULA_NUMBER, /* a number with a dimension */
    FORMULA_TEXT,   /* number of a text in the pool */
    FORMULA_YESNO,  /* 1 or 0 */
    FORMULA_ITEM,   /* number of an item; `kind` says of which kind */
};

struct formula_type {
    enum formula_sort sort;
    struct unit_dim dim; /* of FORMULA_NUMBER */
    int kind;            /* of FORMULA_ITEM; -1: any */
};

enum formula_error {
    FORMULA_FINE = 0,
    FORMULA_EMPTY,   /* not filled in */
    FORMULA_NO_ROW,  /* no row fits */
    FORMULA_SEVERAL, /* several rows fit */
    FORMULA_DIVISION,
    FORMULA_ROOT,  /* no such root */
    FORMULA_LARGE, /* too large, or not a number */
    FORMULA_IMPOSSIBLE, /* if() without a second arm, where its condition does not hold */
};
const char *formula_error_text(enum formula_error e); /* "not filled in" ... */

struct formula_value {
    double number;
    unsigned char error; /* enum formula_error */
    int origin;          /* slot in which the error arose, -1: in this formula itself */
};

/* ---- trees --------------------------------------------------------------- */

struct formula_tree;

/* Parse TEXT. On failure *OUT is NULL and *WHY has the sentence and the marked span. */
NODISCARD enum base_err formula_parse(const char *text, struct formula_tree **out, struct base_diag *why);
/* TEXT, which is known to be a formula (formula_parse() has taken it before): it is parsed when it is first
 * asked what it says. */
struct formula_tree *formula_parse_later(const char *text);
/* Parse T if it is not yet. BASE_REFUSED, and *WHY as formula_parse() has it: it is no formula. */
NODISCARD enum base_err formula_parse_now(const struct formula_tree *t, struct base_diag *why);
void formula_tree_free(struct formula_tree *t);
const char *formula_text(const struct formula_tree *t); /* as typed */

/* The whole formula is one bare number (perhaps signed), without unit. */
bool formula_is_bare_number(const struct formula_tree *t, double *number);
/* TEXT as it reads in a formula when it is one number and no more, perhaps with a unit: "12.5 mm" of
 * "12,5 mm", the comma of a number alone being its point. With FRACTION "1 1/4" and "3/8" are numbers without
 * their unit too, not quotients. *BARE: it has no unit. Yours to free(); NULL: it is more, or none. */
char *formula_number_alone(const char *text, bool fraction, bool *bare);
/* TEXT with UNIT behind each bare number that a sum, a difference, a least, a most or a choice of that unit's
 * dimension can only mean so: "40 mm - 4 mm" of "40 - 4", "2*pitch - 22 mm" of "2*pitch - 22". Yours to
 * free(); NULL: there is none, or TEXT is no formula. */
char *formula_with_unit(const char *text, const char *unit);
/* The whole formula is one literal: a quantity, a bare number, a text, yes or no. */
bool formula_is_literal(const struct formula_tree *t);
/* The whole formula is one name without dots: *NAME points into the tree. */
bool formula_is_name(const struct formula_tree *t, const char **name);
/* The whole formula is one text: *TEXT points into the tree. */
bool formula_is_text(const struct formula_tree *t, const char **text);

/* The whole numbers (1 to 9999) that a text lists in rising order, "2, 3, 5 to 8": at most ROOM of them into
 * OUT. Returns how many it lists; -1: it is no such list. */
int formula_numbers(const char *text, int *out, int room);
/* The text of such a list, three in a row and more as "5 to 8"; added to OUT. */
void formula_numbers_text(const int *numbers, int n, struct base_text *out);
/* The least and the most figure in TEXT: 58 and 60 of "58..60 HRC", 59 and 61 of "60 +-1 HRC". False, and
   nothing written: there is none in it. */
bool formula_figures(const char *text, double *least, double *most);

/* A word of the language or a built-in function: nothing else may be named so. */
bool formula_is_reserved(const char *name);

/* Each name or path read, in order of appearance: PATH as "a" or "a.b.c", START its byte
 * offset in the text. Names of arguments, functions and columns of matches are not visited. */
typedef void formula_name_fn(const char *path, int start, void *arg);
void formula_names(const struct formula_tree *t, formula_name_fn *visit, void *arg);
/* Each column that a pick or a sum reads, "springs.force" of total(springs.force, stands_on = this), or the
   table counted. */
void formula_columns(const struct formula_tree *t, formula_name_fn *visit, void *arg);

/* The text with leading name OLD (and, when OLD_PROPERTY is not NULL, its second part)
 * replaced; yours to free(); NULL when nothing changes. */
char *formula_renamed(const struct formula_tree *t, const char *old, const char *old_property,
                      const char *now);

/* ---- names, rows and functions that the caller knows ---------------------- */

enum formula_how { FORMULA_SLOT, FORMULA_ARGUMENT, FORMULA_CONSTANT };

/* What a name stands for. */
struct formula_found {
    enum formula_how how;
    struct formula_type type;
    int index;           /* slot or argument */
    double constant;     /* of FORMULA_CONSTANT: number, text, yes/no or item */
    unsigned char error; /* of FORMULA_CONSTANT: an error value, if not 0 */
    int arisen;          /* of such an error: the slot it arose in plus 1; 0: in this formula itself */
};

struct formula_parameter {
    const char *name;
    struct formula_type type;
    const struct formula_tree *usual; /* NULL: must be given */
};
struct formula_let { const char *name; const struct formula_tree *tree; };
struct formula_function {
    const char *name;
    const struct formula_parameter *parameters; int n_parameters;
    const struct formula_let *lets; int n_lets; /* in order, each may use those before */
    struct formula_type type;
    const struct formula_tree *gives;
};

/* A column of a table; a table is one of the parts tables or a kind with its items. */
struct formula_column { struct formula_type type; int index; };

enum formula_pick_mode { FORMULA_LISTED, FORMULA_OVER, FORMULA_UNDER, FORMULA_NEAR,
                         FORMULA_TOTAL, FORMULA_LARGEST, FORMULA_SMALLEST, FORMULA_COUNT };
enum formula_relation {
    FORMULA_EQUAL,
    FORMULA_UNEQUAL,
    FORMULA_LESS,
    FORMULA_AT_MOST,
    FORMULA_MORE,
    FORMULA_AT_LEAST
};

/* A pick from a parts table, as bound by the caller (see pick in the scope). */
struct formula_pick_key { int column; enum formula_relation relation; };
struct formula_pick {
    enum formula_pick_mode mode;
    int table, column;       /* column -1 for count */
    int n_keys;
    const struct formula_pick_key *keys;
    int query;               /* whatever the scope's pick returned */
};

struct formula_scope {
    void *arg;
    /* A leading name. IN_BODY: inside a handbook function's text, where the properties of
     * the item at hand are out of reach (factors and single kinds are not). BASE_UNKNOWN
     * when there is no such name (the compiler then says so with the nearest); any other
     * failure ends the compilation with *WHY as the reason. */
    enum base_err (*name)(void *arg, const char *name, bool in_body, struct formula_found *out,
                          struct base_diag *why);
    /* PROPERTY of item ITEM (-1: some item of KIND, when only types are checked). */
    enum base_err (*property)(void *arg, int item, int kind, const char *property, struct formula_found *out,
                              struct base_diag *why);
    const struct formula_function *(*function)(void *arg, const char *name);
    /* Names near NAME, "a, b or c"; may leave OUT empty. */
    void (*nearest)(void *arg, const char *name, struct base_text *out);
    /* A kind as a table: its number, -1 when NAME is no kind. Then its N rows are items (when only
     * types are checked: one row, item -1). */
    int (*kind)(void *arg, const char *name);
    int (*rows)(void *arg, int kind, const int **items);
    /* How many kinds there are: total(all.mass, ...) runs over the items of those that have each column
       named. NULL: no "all". */
    int (*kinds)(void *arg);
    /* A parts table: its number, -1 when NAME is none; a column of it. */
    int (*table)(void *arg, const char *name);
    bool (*column)(void *arg, int table, const char *name, struct formula_column *out);
    /* The match that sizes of TABLE are picked by where the formula has none of its column, "series =
     * job.series"; NULL as an answer, or here: none. */
    const struct formula_tree *(*apart)(void *arg, int table);
    /* Bind a pick; the number is kept in formula_pick.query and handed to the look-up. */
    int (*pick)(void *arg, const struct formula_pick *pick);
    /* at_new (0) and at_ground (1): all names resolved until the matching state(arg, old) are
     * meant in that state. Returns the state before; -1 is the natural one. */
    int (*state)(void *arg, int state);
    /* From here on (1) names are asked for their types alone and nothing need be bound for them; returns what
     * was before. For arms that are never taken. NULL: they are resolved as all others. */
    int (*types_only)(void *arg, int on);
    /* Do the rows of KIND stand in ascending order of COLUMN, a constant of each? Then rows out of reach are
       not looked at. NULL: no. */
    bool (*ascending)(void *arg, int kind, const char *column);
    /* FORMULA, a sum over rows that hangs on nothing of the place that asks: bound once for all that ask for
     * the same text. BASE_UNKNOWN: not here, sum them up yourself. NULL: never. */
    enum base_err (*shared)(void *arg, const char *formula, struct formula_type type,
                            struct formula_found *out, struct base_diag *why);
    /* COUNT numbers, zero at first, kept for all that ask for the same TEXT. NULL: none are kept. */
    int *(*kept)(void *arg, const char *text, int count);
    struct base_pool *pool; /* texts */
};

/* ---- code ---------------------------------------------------------------- */

struct formula_code;

/* Compile T. WANT NULL: any type; else the result must be of this type (a literal 0 fits any
 * dimension). On failure *OUT is NULL, and *WHY has the sentence and the marked span (of T's
 * text; for a fault inside a function's body, of the call). */
NODISCARD enum base_err formula_compile(const struct formula_tree *t, const struct formula_scope *scope,
                                        const struct formula_type *want, struct formula_code **out,
                                        struct base_diag *why);
void formula_code_free(struct formula_code *c);
/* Do A and B work out the same from the same slots? Of code that picks from tables it is not known: false. */
bool formula_code_same(const struct formula_code *a, const struct formula_code *b);
/* Code that is one plain value. */
struct formula_code *formula_code_of_constant(struct formula_type type, double number);

struct formula_type formula_code_type(const struct formula_code *c);
/* The slots read, each once, in order of first reading. */
const int *formula_code_reads(const struct formula_code *c, int *count);
/* The arguments that it reads: a bit for each of the first 64. */
uint64_t formula_code_asked(const struct formula_code *c);
int formula_code_picks(const struct formula_code *c); /* how many picks from parts tables it has */
/* Folded to one constant. */
bool formula_code_constant(const struct formula_code *c, struct formula_value *out);
int formula_code_length(const struct formula_code *c); /* operations */
int formula_code_registers(const struct formula_code *c);

/* The look-up of parts tables: VALUES holds the keys in order, then the need (over, under,
 * near); fills *OUT (its origin is set by the caller). */
typedef void formula_lookup_fn(void *arg, const struct formula_pick *pick, const double *values,
                               struct formula_value *out);

/* What running needs. Slot s of lane l stands at [s * lanes + l]; so do arguments. */
struct formula_memory {
    int lanes;
    const double *values; const unsigned char *errors; const int *origins;
    const double *arguments; const unsigned char *argument_errors; /* may be NULL */
    formula_lookup_fn *lookup; void *lookup_arg;
    /* scratch of at least formula_code_registers() * lanes each */
    double *registers; unsigned char *register_errors; int *register_origins;
};

/* Run C; the result of lane l goes to out[l]. Allocates nothing. */
void formula_run(const struct formula_code *c, const struct formula_memory *m, struct formula_value *out);

/* After formula_run of one lane on the same memory: when the result came from a size pick (as it
 * stands, or through `if`, a function's body, + - of nothing), the need that was asked for. The
 * spare is the result less the need. */
bool formula_code_need(const struct formula_code *c, const struct formula_memory *m, double *need);
/* The pick that failed or that the result came from, with its key values and need, for a
 * sentence; NULL when there is none. VALUES (room for 16) as handed to the look-up. */
const struct formula_pick *formula_code_pick(const struct formula_code *c, const struct formula_memory *m,
                                             double *values);

/* Each slot read, with the bit of source text that read it (for "formula with its values"):
 * the formula's text with every name replaced by its value as PRINT gives it. */
typedef void formula_print_fn(void *arg, const char *path, struct base_text *out);
void formula_filled(const struct formula_tree *t, formula_print_fn *print, void *arg, struct base_text *out);

/* The whole formula is one call: *NAME (pointing into the tree), and the text of each argument with the name
 * that it is given by, "" none, in order; at most ROOM of them. Returns how many; -1: it is none, or more. */
struct formula_given { const char *name; int start, length; };
int formula_call(const struct formula_tree *t, const char **name, struct formula_given *out, int room);

/* Does CONDITION hold: 1 yes, 0 no, -1 that cannot be told. */
typedef int formula_holds_fn(void *arg, const char *condition);
/* T's text with each `if` of which HOLDS can tell replaced by the arm that it takes, added to OUT; names that
 * stand in the other arm go to DEAD (may be NULL). False: no `if` was replaced. */
bool formula_taken(const struct formula_tree *t, formula_holds_fn *holds, formula_name_fn *dead, void *arg,
                   struct base_text *out);

#endif
