/* The job behind the formulas under test: names, three plates, one parts table. */

#include "formula.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LENGTH {.length = UNIT_POWER}

const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = LENGTH};
const struct formula_type force_type = {.sort = FORMULA_NUMBER, .dim = {.force = UNIT_POWER}};
const struct formula_type number_type = {.sort = FORMULA_NUMBER};
const struct formula_type angle_type = {.sort = FORMULA_NUMBER, .dim = {.angle = UNIT_POWER}};
const struct formula_type yesno_type = {.sort = FORMULA_YESNO};
const struct formula_type text_type = {.sort = FORMULA_TEXT};
enum { PLATE, STATION };
const struct formula_type plate_type = {.sort = FORMULA_ITEM, .kind = PLATE};

double job_values[SLOTS];
unsigned char job_errors[SLOTS];
int job_origins[SLOTS];

static struct base_pool *pool;
static struct base_text asked;
static struct formula_tree *trees[16];
static int n_trees, told = -1;
static struct formula_scope scope;

/* ---- slots and names --------------------------------------------------------------- */

static const struct { const char *name; int slot; const struct formula_type *type; } names[] = {
    {"a", A, &length_type}, {"b", B, &length_type}, {"force", FORCE, &force_type}, {"n", N, &number_type},
    {"m", M, &number_type}, {"turn", TURN, &angle_type}, {"on", YES, &yesno_type}, {"off", NO, &yesno_type},
    {"size", SIZE, &text_type}, {"empty", EMPTY, &length_type}, {"broken", BROKEN, &length_type},
    {"blank", EMPTY_YESNO, &yesno_type},
};

static struct formula_found constant(struct formula_type t, double number)
{
    return (struct formula_found){.how = FORMULA_CONSTANT, .type = t, .index = -1, .constant = number};
}

static struct formula_found slot(struct formula_type t, int n)
{
    return (struct formula_found){.how = FORMULA_SLOT, .type = t, .index = n};
}

static struct formula_found empty_constant(struct formula_type t)
{
    struct formula_found f = constant(t, t.sort == FORMULA_ITEM ? -1 : 0);
    f.error = FORMULA_EMPTY;
    return f;
}

static bool item_named(const char *name, struct formula_found *out)
{
    static const char *const items[] = {"top", "middle", "low"};
    for (int i = 0; i < 3; i++)
        if (strcmp(items[i], name) == 0) {
            *out = constant(plate_type, i);
            return true;
        }
    if (strcmp(name, "nobody") != 0)
        return false;
    *out = empty_constant(plate_type);
    return true;
}

static enum base_err name_of(void *arg, const char *name, bool in_body, struct formula_found *out,
                             struct base_diag *why)
{
    (void)arg;
    base_text_addf(&asked, "<%s>", name);
    if (strcmp(name, "circle") == 0)
        return base_fail(why, BASE_REFUSED, "circle hangs on itself");
    if (strcmp(name, "share") == 0) {
        *out = constant(number_type, 0.25);
        return BASE_OK;
    }
    if (in_body)
        return BASE_UNKNOWN;
    for (size_t i = 0; i < COUNT_OF(names); i++)
        if (strcmp(names[i].name, name) == 0) {
            *out = slot(*names[i].type, names[i].slot + (told == 1 && names[i].slot == A ? 1 : 0));
            return BASE_OK;
        }
    if (strcmp(name, "this") == 0)
        *out = constant(plate_type, 1);
    else if (strcmp(name, "moves") == 0)
        *out = constant(text_type, base_pool_put(pool, "bed"));
    else if (!item_named(name, out))
        return BASE_UNKNOWN;
    return BASE_OK;
}

/* ---- plates ----------------------------------------------------------------------------- */

static enum base_err property_of(void *arg, int item, int kind, const char *property,
                                 struct formula_found *out, struct base_diag *why)
{
    (void)arg;
    (void)why;
    base_text_addf(&asked, "<%d.%s>", item, property);
    if (strcmp(property, "order") == 0)
        *out = constant(number_type, item + 1);
    else if (strcmp(property, "moves") == 0 && kind == PLATE)
        *out = constant(text_type, base_pool_put(pool, item == 0 ? "slide" : "bed"));
    else if (strcmp(property, "thickness") == 0)
        *out = slot(length_type, T0 + item);
    else if (strcmp(property, "fits") == 0)
        *out = slot(yesno_type, FIT0 + item);
    else
        return BASE_UNKNOWN;
    if (item < 0)
        *out = empty_constant(out->type);
    return BASE_OK;
}

static int kind_of(void *arg, const char *name)
{
    (void)arg;
    return strcmp(name, "plate") == 0 ? PLATE : strcmp(name, "station") == 0 ? STATION : -1;
}

static int rows_of(void *arg, int kind, const int **items)
{
    static const int plates[] = {0, 1, 2};
    (void)arg;
    *items = plates;
    return kind == PLATE ? 3 : 0;
}

static int kinds_of(void *arg)
{
    (void)arg;
    return STATION + 1;
}

/* ---- the table ----------------------------------------------------------------------------- */

enum { COLUMN_SIZE, COLUMN_LENGTH, COLUMN_HEAD };

static const struct { const char *size; double length, head;
} rows[] = {
    {"M6", 16, 6}, {"M6", 20, 6}, {"M6", 25, 6}, {"M8", 20, 8},
    {"M8", 25, 8}, {"M8", 30, 8}, {"M8", 40, 8}, {"M10", 40, 10},
};

static int table_of(void *arg, const char *name)
{
    (void)arg;
    return strcmp(name, "screw") == 0 ? 7 : -1;
}

static bool column_of(void *arg, int table, const char *name, struct formula_column *out)
{
    (void)arg;
    ck_assert_int_eq(table, 7);
    if (strcmp(name, "size") == 0)
        *out = (struct formula_column){text_type, COLUMN_SIZE};
    else if (strcmp(name, "length") == 0)
        *out = (struct formula_column){length_type, COLUMN_LENGTH};
    else if (strcmp(name, "head") == 0)
        *out = (struct formula_column){length_type, COLUMN_HEAD};
    else
        return false;
    return true;
}

static int pick_of(void *arg, const struct formula_pick *pick)
{
    (void)arg;
    return 100 + pick->n_keys;
}

static double cell(int row, int column)
{
    return column == COLUMN_SIZE     ? base_pool_put(pool, rows[row].size)
           : column == COLUMN_LENGTH ? rows[row].length
                                     : rows[row].head;
}

static bool related(double a, enum formula_relation r, double b)
{
    switch (r) {
    case FORMULA_EQUAL: return a == b;
    case FORMULA_UNEQUAL: return a != b;
    case FORMULA_LESS: return a < b;
    case FORMULA_AT_MOST: return a <= b;
    case FORMULA_MORE: return a > b;
    case FORMULA_AT_LEAST: return a >= b;
    }
    return false;
}

/* One row more: is V better than what was found? */
static bool better(enum formula_pick_mode mode, double v, double found, double need)
{
    switch (mode) {
    case FORMULA_OVER: return v >= need && v < found;
    case FORMULA_UNDER: return v <= need && v > found;
    case FORMULA_NEAR: return fabs(v - need) < fabs(found - need);
    case FORMULA_LARGEST: return v > found;
    case FORMULA_SMALLEST: return v < found;
    default: return false;
    }
}

static void lookup(void *arg, const struct formula_pick *p, const double *values, struct formula_value *out)
{
    (void)arg;
    ck_assert_int_eq(p->query, 100 + p->n_keys);
    double need = p->mode == FORMULA_OVER || p->mode == FORMULA_UNDER || p->mode == FORMULA_NEAR
                      ? values[p->n_keys]
                      : 0;
    double found = p->mode == FORMULA_UNDER || p->mode == FORMULA_LARGEST ? -1e9 : 1e9, total = 0;
    int n = 0, good = 0;
    *out = (struct formula_value){.origin = -1};
    for (size_t r = 0; r < COUNT_OF(rows); r++) {
        bool fits = true;
        for (int k = 0; k < p->n_keys; k++)
            fits = fits && related(cell((int)r, p->keys[k].column), p->keys[k].relation, values[k]);
        if (!fits)
            continue;
        double v = p->column < 0 ? 1 : cell((int)r, p->column);
        if (p->mode == FORMULA_LISTED && n && v != found)
            out->error = FORMULA_SEVERAL;
        n++;
        total += v;
        if (p->mode == FORMULA_LISTED || better(p->mode, v, found, need)) {
            found = v;
            good++;
        }
    }
    bool sums = p->mode == FORMULA_TOTAL || p->mode == FORMULA_COUNT;
    out->number = sums ? total : found;
    if (!sums && !good)
        out->error = FORMULA_NO_ROW;
}

/* ---- functions -------------------------------------------------------------------------------- */

static struct formula_tree *tree(const char *text)
{
    struct base_diag why;
    ck_assert_msg(formula_parse(text, &trees[n_trees], &why) == BASE_OK, "%s: %s", text, why.message);
    return trees[n_trees++];
}

static struct formula_parameter area_takes[2], x_takes[1], two_plates[2];
static struct formula_let lets[2];
static struct formula_function functions[7];

static void make_functions(void)
{
    area_takes[0] = (struct formula_parameter){"long", length_type, NULL};
    area_takes[1] = (struct formula_parameter){"wide", length_type, tree("2 mm")};
    x_takes[0] = (struct formula_parameter){"x", length_type, NULL};
    two_plates[0] = (struct formula_parameter){"one", plate_type, NULL};
    two_plates[1] = (struct formula_parameter){"other", plate_type, NULL};
    lets[0] = (struct formula_let){"down",
                                   tree("total(plate.thickness, order > one.order, order < other.order)")};
    lets[1] = (struct formula_let){"up",
                                   tree("total(plate.thickness, order > other.order, order < one.order)")};
    functions[0] = (struct formula_function){"area",
                                             area_takes,
                                             2,
                                             NULL,
                                             0,
                                             {.sort = FORMULA_NUMBER, .dim = {.length = 2 * UNIT_POWER}},
                                             tree("long * wide")};
    functions[1] = (struct formula_function){
        "twice", x_takes, 1, NULL, 0, length_type, tree("2 * x + share * 0 mm")};
    functions[2] = (struct formula_function){"spin", x_takes, 1, NULL, 0, length_type, tree("spun(x)")};
    functions[3] = (struct formula_function){"spun", x_takes, 1, NULL, 0, length_type, tree("spin(x)")};
    functions[4] = (struct formula_function){"between",   two_plates,       2, lets, 2,
                                             length_type, tree("down + up")};
    functions[5] = (struct formula_function){"bad", x_takes, 1, NULL, 0, length_type, tree("x + 1 N")};
    functions[6] = (struct formula_function){"reaches_out", x_takes, 1, NULL, 0, length_type, tree("x + a")};
}

static const struct formula_function *function_of(void *arg, const char *name)
{
    (void)arg;
    for (size_t i = 0; i < COUNT_OF(functions); i++)
        if (strcmp(functions[i].name, name) == 0)
            return &functions[i];
    return NULL;
}

static void nearest(void *arg, const char *name, struct base_text *out)
{
    (void)arg;
    const char *known[COUNT_OF(names)];
    for (size_t i = 0; i < COUNT_OF(names); i++)
        known[i] = names[i].name;
    base_nearest(out, name, known, COUNT_OF(known));
}

static int tell_state(void *arg, int state)
{
    (void)arg;
    int before = told;
    told = state;
    return before;
}

/* ---- the whole ------------------------------------------------------------------------------------ */

void job_start(void)
{
    static const double values[SLOTS] = {
        [A] = 3, [B] = 4, [FORCE] = 100, [N] = 2, [M] = 5, [TURN] = 3.14159265358979323846 / 6, [YES] = 1,
        [T0] = 10, [T1] = 20, [T2] = 30, [FIT0] = 1, [FIT1] = 0, [FIT2] = 1,
    };
    if (!pool) {
        pool = base_pool_new();
        make_functions();
        scope = (struct formula_scope){.name = name_of,
                                       .property = property_of,
                                       .function = function_of,
                                       .nearest = nearest,
                                       .kind = kind_of,
                                       .rows = rows_of,
                                       .kinds = kinds_of,
                                       .table = table_of,
                                       .column = column_of,
                                       .pick = pick_of,
                                       .state = tell_state,
                                       .pool = pool};
    }
    memcpy(job_values, values, sizeof values);
    memset(job_errors, 0, sizeof job_errors);
    for (int i = 0; i < SLOTS; i++)
        job_origins[i] = -1;
    job_values[SIZE] = base_pool_put(pool, "M8");
    job_errors[EMPTY] = job_errors[EMPTY_YESNO] = FORMULA_EMPTY;
    job_origins[EMPTY] = EMPTY;
    job_origins[EMPTY_YESNO] = EMPTY_YESNO;
    job_errors[BROKEN] = FORMULA_DIVISION;
    job_origins[BROKEN] = A;
    base_text_clear(&asked);
    told = -1;
}

const struct formula_scope *job_scope(void) { return &scope; }

bool job_asked_name(const char *name)
{
    char key[80];
    snprintf(key, sizeof key, "<%s>", name);
    return strstr(base_text_get(&asked), key) != NULL;
}

bool job_asked_property(int item, const char *property)
{
    char key[80];
    snprintf(key, sizeof key, "<%d.%s>", item, property);
    return strstr(base_text_get(&asked), key) != NULL;
}

struct formula_code *code_of(const char *text, const struct formula_type *want)
{
    struct formula_tree *t;
    struct formula_code *code;
    struct base_diag why = {0};
    ck_assert_msg(formula_parse(text, &t, &why) == BASE_OK, "%s: %s", text, why.message);
    ck_assert_msg(formula_compile(t, &scope, want, &code, &why) == BASE_OK, "%s: %s", text, why.message);
    formula_tree_free(t);
    return code;
}

struct formula_value run_code(const struct formula_code *code, struct formula_memory *m)
{
    static double registers[4096];
    static unsigned char errors[4096];
    static int origins[4096];
    struct formula_value out;
    ck_assert_int_le(formula_code_registers(code), 4096);
    *m = (struct formula_memory){.lanes = 1,
                                 .values = job_values,
                                 .errors = job_errors,
                                 .origins = job_origins,
                                 .lookup = lookup,
                                 .registers = registers,
                                 .register_errors = errors,
                                 .register_origins = origins};
    formula_run(code, m, &out);
    return out;
}

struct formula_value value_of(const char *text)
{
    struct formula_memory m;
    struct formula_code *code = code_of(text, NULL);
    struct formula_value v = run_code(code, &m);
    formula_code_free(code);
    return v;
}

struct base_diag refusal_of(const char *text, const struct formula_type *want)
{
    struct formula_tree *t;
    struct formula_code *code = NULL;
    struct base_diag why = {0};
    if (formula_parse(text, &t, &why) != BASE_OK) {
        ck_assert_ptr_null(t);
        return why;
    }
    ck_assert_msg(formula_compile(t, &scope, want, &code, &why) != BASE_OK, "accepted: %s", text);
    ck_assert_ptr_null(code);
    formula_tree_free(t);
    return why;
}
