/* The model: what is computed, how often, in which order, and what an edit may not do. */

#include "model.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum base_err name_of(void *arg, const char *name, bool in_body, struct formula_found *out,
                             struct base_diag *why)
{
    (void)arg;
    (void)in_body;
    (void)why;
    *out = (struct formula_found){.how = FORMULA_SLOT,
                                  .type = {.sort = FORMULA_NUMBER},
                                  .index = atoi(name + 1)};
    if (name[0] == 'p')
        out->how = FORMULA_ARGUMENT;
    return name[0] == 'q' || name[0] == 'p' ? BASE_OK : BASE_UNKNOWN;
}

static int no_kind(void *arg, const char *name)
{
    (void)arg;
    (void)name;
    return -1;
}

static int one_table(void *arg, const char *name)
{
    (void)arg;
    return strcmp(name, "stock") == 0 ? 3 : -1;
}

static bool one_column(void *arg, int table, const char *name, struct formula_column *out)
{
    (void)arg;
    (void)table;
    *out = (struct formula_column){{.sort = FORMULA_NUMBER}, 1};
    return strcmp(name, "length") == 0;
}

static int pick_number(void *arg, const struct formula_pick *pick)
{
    (void)arg;
    (void)pick;
    return 9;
}

/* Stock stands at every ten up to 100. */
static void stock(void *arg, const struct formula_pick *pick, const double *values, struct formula_value *out)
{
    (void)arg;
    double need = values[pick->n_keys];
    *out = (struct formula_value){.origin = -1};
    for (out->number = 10; out->number < need; out->number += 10)
        ;
    if (out->number > 100)
        out->error = FORMULA_NO_ROW;
}

struct formula_code *code_for(const char *text)
{
    static const struct formula_scope scope = {
        .name = name_of, .kind = no_kind, .table = one_table, .column = one_column, .pick = pick_number};
    struct formula_tree *t;
    struct formula_code *code;
    struct base_diag why;
    ck_assert_msg(formula_parse(text, &t, &why) == BASE_OK, "%s: %s", text, why.message);
    ck_assert_msg(formula_compile(t, &scope, NULL, &code, &why) == BASE_OK, "%s: %s", text, why.message);
    formula_tree_free(t);
    return code;
}

struct model *numbers(int count)
{
    static char names[100000][12]; /* the model keeps none */
    struct model *m = model_new(stock, NULL);
    ck_assert_int_le(count, (int)COUNT_OF(names));
    for (int i = 0; i < count; i++) {
        snprintf(names[i], sizeof names[i], "q%d", i);
        ck_assert_int_eq(model_add(m, names[i], (struct formula_type){.sort = FORMULA_NUMBER}), i);
    }
    return m;
}

enum base_err set(struct model *m, int slot, const char *text, struct base_diag *why)
{
    return model_set_code(m, slot, code_for(text), why);
}

void must_set(struct model *m, int slot, const char *text)
{
    struct base_diag why = {0};
    ck_assert_msg(set(m, slot, text, &why) == BASE_OK, "%s: %s", text, why.message);
}

void must_settle(struct model *m)
{
    struct base_diag why = {0};
    ck_assert_msg(model_settle(m, &why) == BASE_OK, "%s", why.message);
}

double number_of(struct model *m, int slot)
{
    struct formula_value v = model_value(m, slot);
    ck_assert_msg(v.error == FORMULA_FINE, "%s: %s", model_name(m, slot), formula_error_text(v.error));
    return v.number;
}

bool same_value(struct formula_value a, struct formula_value b)
{
    return memcmp(&a.number, &b.number, sizeof a.number) == 0 && a.error == b.error && a.origin == b.origin;
}

int main(void)
{
    Suite *s = suite_create("model");
    TCase *cases[] = {graph_cases(), preview_cases(), why_cases(), random_cases()};
    for (size_t i = 0; i < COUNT_OF(cases); i++) {
        tcase_set_timeout(cases[i], 60);
        suite_add_tcase(s, cases[i]);
    }
    return run_suite(s);
}
