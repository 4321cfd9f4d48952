/* Values along the ram's travel: bound when asked for, run with the ram's height as their argument. */

#include "diewright/dieset.h"

#include <math.h>

static const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}};
static const struct formula_type yesno_type = {.sort = FORMULA_YESNO};
static const char *const names[] = {"ram"};
static const struct dieset_block block = {.names = names, .types = &length_type, .count = 1};
static const unsigned char fine = FORMULA_FINE;

/* Where one item stands at one height. */
struct moment { struct dieset *d; int item; enum dieset_state state; double ram; };

/* Text of the handbook, checked when it was loaded: what does not bind has no value. */
static struct formula_value run(const struct moment *at, const struct formula_tree *tree,
                                const struct formula_type *want)
{
    struct formula_code *code;
    if (!tree || dieset_compile(at->d, tree, at->item, -1, at->state, &block, want, &code, NULL) != BASE_OK)
        return (struct formula_value){.error = FORMULA_EMPTY, .origin = -1};
    struct formula_value v = model_run(dieset_model(at->d), code, &at->ram, &fine);
    formula_code_free(code);
    return v;
}

static double number(const struct moment *at, const struct formula_tree *tree,
                     const struct formula_type *want)
{
    struct formula_value v = run(at, tree, want);
    return v.error ? NAN : v.number;
}

/* A condition that is not there holds. */
static bool holds(const struct moment *at, const struct formula_tree *condition)
{
    return !condition || number(at, condition, &yesno_type) > 0;
}

static struct dieset_motion look(const struct moment *at, const struct handbook_motion *m)
{
    const struct formula_type *type = &m->type.type;
    struct dieset_motion out = {.item = at->item, .motion = m, .value = run(at, m->tree, type)};
    out.least = number(at, m->least, type);
    out.most = number(at, m->most, type);
    out.whole = number(at, m->whole, type);
    out.judged = holds(at, m->judged);
    out.spare = out.value.error ? NAN : fmin(out.value.number - out.least, out.most - out.value.number);
    return out;
}

int dieset_motions(struct dieset *d, enum dieset_state s, double ram, struct dieset_motion *out, int room)
{
    int n = 0;
    for (int item = 0; item < dieset_item_count(d); item++) {
        int kind = dieset_item_kind(d, item);
        const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(d), kind);
        const struct moment at = {d, item, s, ram};
        for (int i = 0; k && i < k->n_motions && n < room; i++)
            if (holds(&at, k->motions[i].when))
                out[n++] = look(&at, &k->motions[i]);
    }
    return n;
}

void dieset_motion_note(struct dieset *d, const struct dieset_motion *m, enum dieset_state s, double ram,
                        struct base_text *out)
{
    struct dieset_words *w;
    if (!m->motion->note.n_pieces ||
        dieset_words_new(d, &m->motion->note, m->item, -1, s, &block, &w, NULL) != BASE_OK)
        return;
    dieset_words_print(d, w, &ram, &fine, out);
    dieset_words_free(w);
}
