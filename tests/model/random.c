/* Random graphs and edits, one seed a round: what is recomputed step by step is what computing all gives. */

#include "model.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SLOTS = 120, EDITS = 250, ROUNDS = 6 };

static unsigned long long seed;

static int random_below(int n)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (int)((seed >> 33) % (unsigned)n);
}

/* A formula over up to three of the slots below LIMIT; some arise in errors, some do not change with their
   slots. */
static void random_formula(int limit, char *text, size_t size)
{
    int among = limit ? limit : 1, a = random_below(among), b = random_below(among), c = random_below(among);
    switch (limit ? random_below(9) : 0) {
    case 0: snprintf(text, size, "%d", random_below(9) - 3); break;
    case 1: snprintf(text, size, "q%d + q%d / 7", a, b); break;
    case 2: snprintf(text, size, "q%d / (q%d - q%d)", a, b, c); break;
    case 3: snprintf(text, size, "sqrt(q%d) + q%d", a, b); break;
    case 4: snprintf(text, size, "if(q%d > q%d, q%d, %d)", a, b, c, random_below(5)); break;
    case 5: snprintf(text, size, "whole(q%d / 3)", a); break;
    case 6: snprintf(text, size, "if(known(q%d), q%d, q%d)", a, a, b); break;
    case 7: snprintf(text, size, "min(q%d, q%d, 100) - max(q%d, 0 - 100)", a, b, c); break;
    default: snprintf(text, size, "q%d * 0.5", a);
    }
}

typedef char formula_texts[SLOTS][80];

static void check_against_all(struct model *m, formula_texts texts)
{
    struct model *fresh = numbers(SLOTS);
    for (int i = 0; i < SLOTS; i++)
        if (texts[i][0])
            must_set(fresh, i, texts[i]);
    must_settle(fresh);
    for (int i = 0; i < SLOTS; i++) {
        struct formula_value a = model_value(m, i), b = model_value(fresh, i);
        ck_assert_msg(same_value(a, b), "q%d = %s: %g (%d, from %d), but all over %g (%d, from %d)", i,
                      texts[i], a.number, a.error, a.origin, b.number, b.error, b.origin);
    }
    model_free(fresh);
}

static void random_edit(struct model *m, formula_texts texts, int *refused)
{
    char text[80];
    int slot = random_below(SLOTS), kind = random_below(10);
    if (kind == 0) {
        ck_ok(model_set_code(m, slot, NULL, why));
        texts[slot][0] = '\0';
        return;
    }
    random_formula(kind < 5 ? slot : SLOTS, text, sizeof text);
    struct base_diag why = {0};
    if (set(m, slot, text, &why) != BASE_OK) {
        ck_assert_msg(strstr(why.message, " -> "), "%s", why.message);
        ++*refused;
        return;
    }
    strcpy(texts[slot], text);
}

START_TEST(step_by_step_is_the_same_as_all_over)
{
    static formula_texts texts;
    int refused = 0;
    seed = 4711 + (unsigned)_i;
    struct model *m = numbers(SLOTS);
    for (int i = 0; i < SLOTS; i++) {
        random_formula(i, texts[i], sizeof texts[i]);
        must_set(m, i, texts[i]);
    }
    must_settle(m);
    for (int e = 0; e < EDITS; e++) {
        random_edit(m, texts, &refused);
        if (e % 3 == 0)
            continue; /* now and then several edits in one wave */
        ck_assert_int_le(model_recalculate(m), SLOTS);
        if (e % 5 == 0)
            check_against_all(m, texts);
    }
    model_recalculate(m);
    check_against_all(m, texts);
    ck_assert_int_gt(refused, 5);
    model_free(m);
}
END_TEST

START_TEST(random_previews_dropped_leave_every_bit)
{
    static formula_texts texts, tried;
    struct formula_value before[SLOTS];
    int refused = 0;
    seed = 815 + (unsigned)_i;
    struct model *m = numbers(SLOTS);
    for (int i = 0; i < SLOTS; i++) {
        random_formula(i, texts[i], sizeof texts[i]);
        must_set(m, i, texts[i]);
    }
    must_settle(m);
    for (int round = 0; round < 40; round++) {
        for (int i = 0; i < SLOTS; i++)
            before[i] = model_value(m, i);
        memcpy(tried, texts, sizeof tried);
        model_preview_begin(m);
        for (int e = 0, n = 1 + random_below(5); e < n; e++) {
            random_edit(m, tried, &refused);
            if (random_below(2))
                model_recalculate(m);
        }
        if (round % 4 == 3) {
            model_recalculate(m);
            model_preview_keep(m);
            memcpy(texts, tried, sizeof texts);
        } else {
            model_preview_drop(m);
            for (int i = 0; i < SLOTS; i++)
                ck_assert_msg(same_value(before[i], model_value(m, i)), "q%d after round %d", i, round);
        }
        ck_assert_int_eq(model_recalculate(m), 0);
        check_against_all(m, texts);
    }
    model_free(m);
}
END_TEST

TCase *random_cases(void)
{
    TCase *t = tcase_create("random");
    tcase_add_loop_test(t, step_by_step_is_the_same_as_all_over, 0, ROUNDS);
    tcase_add_loop_test(t, random_previews_dropped_leave_every_bit, 0, ROUNDS);
    return t;
}
