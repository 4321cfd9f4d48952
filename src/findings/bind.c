/* Binding rules to the die set as it is built: each subject and state gets its code. */

#include "findings/findings.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static const struct formula_type length_type = {.sort = FORMULA_NUMBER, .dim = {.length = UNIT_POWER}};
static const struct formula_type number_type = {.sort = FORMULA_NUMBER};
static const struct formula_type yesno_type = {.sort = FORMULA_YESNO};

/* ---- blocks ------------------------------------------------------------------------------------ */

static void name(struct findings_block *b, const char *text, struct formula_type type)
{
    b->names[b->count] = text;
    b->types[b->count++] = type;
}

/* Two places are left for value and limit. */
static void block_of(const struct handbook *h, const struct handbook_rule *r, struct findings_block *b)
{
    struct handbook_name names[FINDINGS_NAMES - 2];
    int n = handbook_rule_names(h, r, names, (int)COUNT_OF(names));
    assert(n <= (int)COUNT_OF(names));
    *b = (struct findings_block){.value = -1, .limit = -1};
    for (int i = 0; i < n; i++)
        name(b, names[i].name, names[i].type);
}

/* The block of rule after rule is one for all of its trials. */
static const struct findings_block *keep_block(struct findings_bound *out, const struct findings_block *b)
{
    size_t n = out->blocks.count;
    if (n > 0 && memcmp(out->blocks.at[n - 1], b, sizeof *b) == 0)
        return out->blocks.at[n - 1];
    struct findings_block *kept = base_alloc(sizeof *kept);
    memcpy(kept, b, sizeof *kept);
    base_vec_push(&out->blocks, kept);
    return kept;
}

/* ---- trials ---------------------------------------------------------------------------------- */

static int n_words(const struct findings_trial *t) { return FINDINGS_RUNG + t->rule->n_rungs; }

/* The Ith code of T, NULL behind the last. */
static struct formula_code **code_of(struct findings_trial *t, int i)
{
    struct formula_code **const own[] = {&t->when, &t->value, &t->within};
    if (i < (int)COUNT_OF(own))
        return own[i];
    i -= (int)COUNT_OF(own);
    return t->rungs && i < t->rule->n_rungs ? &t->rungs[i] : NULL;
}

static void trial_done(struct findings_trial *t)
{
    struct formula_code **code;
    for (int i = 0; (code = code_of(t, i)); i++)
        if (i >= 32 || !(t->lent >> i & 1))
            formula_code_free(*code);
    for (int i = 0; t->words && i < n_words(t); i++)
        dieset_words_free(t->words[i]);
    free(t->rungs); /* and the words behind them */
}

/* Item after item a rule mostly comes to the same code: it is kept once. The two trials before T are looked
   at, for states take turns. */
static void share_codes(const struct findings_bound *b, struct findings_trial *t)
{
    for (int back = 1; back <= 2 && t - b->trials.at >= back; back++) {
        struct findings_trial *before = t - back;
        struct formula_code **own, **other;
        if (before->rule != t->rule || before->how != FINDINGS_READY)
            continue;
        for (int i = 0; i < 32 && (own = code_of(t, i)) && (other = code_of(before, i)); i++)
            if (*own != *other && !(t->lent >> i & 1) && formula_code_same(*own, *other)) {
                formula_code_free(*own);
                *own = *other;
                t->lent |= 1u << i;
            }
    }
}

enum { JOINT_NAMES = 4 };

/* The block as the die set reads it, in ROOM the plates of a joint. */
static struct dieset_block block_in(const struct findings_trial *t, struct dieset_named room[JOINT_NAMES])
{
    room[0] = (struct dieset_named){"upper", t->joint.upper};
    room[1] = (struct dieset_named){"lower", t->joint.lower};
    room[2] = (struct dieset_named){"member", t->joint.member};
    room[3] = (struct dieset_named){"base", t->joint.base};
    return (struct dieset_block){t->block->names, t->block->types, t->block->count, room,
                                 t->rule->over == HANDBOOK_EACH_JOINT ? JOINT_NAMES : 0};
}

static enum base_err compile(struct dieset *d, struct findings_trial *t, const struct formula_tree *tree,
                             const struct formula_type *want, struct formula_code **out,
                             struct base_diag *why)
{
    struct dieset_named named[JOINT_NAMES];
    struct dieset_block block = block_in(t, named);
    *out = NULL;
    enum base_err err = tree ? dieset_compile(d, tree, t->item, t->plate, t->state, &block, want, out, why)
                             : BASE_OK;
    t->asks |= *out ? formula_code_asked(*out) : 0;
    return err;
}

static const struct handbook_template *template_of(const struct handbook_rule *r, int which)
{
    return which == FINDINGS_SAYS    ? &r->says
           : which == FINDINGS_TELLS ? &r->tells
                                     : &r->rungs[which - FINDINGS_RUNG].says;
}

const struct dieset_words *findings_words(struct dieset *d, const struct findings_trial *t, int which,
                                          struct base_diag *why)
{
    const struct handbook_template *says = template_of(t->rule, which);
    struct dieset_named named[JOINT_NAMES];
    struct dieset_block block = block_in(t, named);
    if (says->n_pieces && !t->words[which] &&
        dieset_words_new(d, says, t->item, t->plate, t->state, &block, &t->words[which], why) != BASE_OK)
        t->words[which] = NULL;
    return t->words[which];
}

static enum base_err bind_rungs(struct dieset *d, struct findings_trial *t, struct base_diag *why)
{
    const struct handbook_rule *r = t->rule;
    enum base_err err = BASE_OK;
    for (int i = 0; i < r->n_rungs && !err; i++)
        err = compile(d, t, r->rungs[i].tree,
                      r->rungs[i].yesno ? &yesno_type
                      : r->value        ? &t->type
                                        : NULL,
                      &t->rungs[i], why);
    return err;
}

/* B: room for the block while it grows. */
static enum base_err bind_trial(struct dieset *d, struct findings_trial *t, struct findings_block *b,
                                struct base_diag *why)
{
    const struct handbook_rule *r = t->rule;
    t->rungs = base_alloc((size_t)(r->n_rungs + 1) * sizeof *t->rungs +
                          (size_t)n_words(t) * sizeof *t->words);
    t->words = (struct dieset_words **)(t->rungs + r->n_rungs + 1);
    block_of(dieset_handbook(d), r, b);
    t->block = b;
    enum base_err err = compile(d, t, r->when, &yesno_type, &t->when, why);
    if (!err)
        err = compile(d, t, r->within, &length_type, &t->within, why);
    if (!err)
        err = compile(d, t, r->value, NULL, &t->value, why);
    if (err)
        return err;
    t->type = t->value ? formula_code_type(t->value) : number_type;
    if (t->value) {
        b->value = b->count;
        name(b, "value", t->type);
        b->limit = b->count;
        name(b, "limit", t->type);
    }
    return bind_rungs(d, t, why);
}

bool findings_ready(struct dieset *d, struct findings_bound *b, struct findings_trial *t)
{
    struct base_diag why = {0};
    struct findings_block block;
    if (t->how != FINDINGS_UNTRIED)
        return t->how == FINDINGS_READY;
    bool binds = bind_trial(d, t, &block, &why) == BASE_OK;
    t->how = binds ? FINDINGS_READY : FINDINGS_UNBOUND;
    t->block = keep_block(b, &block);
    if (binds)
        share_codes(b, t);
    if (!binds)
        base_text_addf(&b->faults, "%s: %s\n", t->rule->name, why.message);
    return binds;
}

void findings_ready_all(struct dieset *d, struct findings_bound *b)
{
    size_t kept = 0;
    bool given_up = false;
    for (size_t i = 0; i < b->trials.count && !b->whole; i++) {
        struct findings_trial *t = &b->trials.at[i];
        given_up = given_up || base_give_up();
        if (given_up || findings_ready(d, b, t))
            b->trials.at[kept++] = *t;
        else
            trial_done(t);
    }
    b->trials.count = b->whole ? b->trials.count : kept;
    b->whole = !given_up;
}

static void bind_in(struct findings_bound *out, const struct handbook_rule *r, int item, int plate,
                    struct dieset_joint joint)
{
    for (int s = 0; s < DIESET_STATES; s++)
        if (r->states & (s == DIESET_NEW ? HANDBOOK_NEW : HANDBOOK_GROUND))
            base_vec_push(&out->trials,
                          ((struct findings_trial){.rule = r,
                                                   .item = item,
                                                   .plate = plate,
                                                   .joint = joint,
                                                   .state = (unsigned)s}));
}

static void bind_one(struct findings_bound *out, const struct handbook_rule *r, int item, int plate)
{
    bind_in(out, r, item, plate, (struct dieset_joint){-1, -1, -1, -1});
}

static void bind_joints(const struct dieset *d, struct findings_bound *out, const struct handbook_rule *r)
{
    struct dieset_joint joint;
    for (int at = 0; dieset_joint(d, &at, &joint);)
        bind_in(out, r, -1, -1, joint);
}

static void bind_each(struct dieset *d, struct findings_bound *out, const struct handbook_rule *r, int kind,
                      bool as_plate)
{
    const int *items;
    int n = dieset_items_of_kind(d, kind, &items);
    for (int i = 0; i < n; i++)
        bind_one(out, r, as_plate ? -1 : items[i], as_plate ? items[i] : -1);
}

void findings_bind(struct dieset *d, struct findings_bound *out)
{
    const struct handbook *h = dieset_handbook(d);
    int plate = handbook_find_kind(h, DIESET_PLATE);
    for (int i = 0; i < handbook_rule_count(h); i++) {
        const struct handbook_rule *r = handbook_rule(h, i);
        if (r->over == HANDBOOK_EACH_KIND)
            bind_each(d, out, r, r->kind, false);
        else if (r->over == HANDBOOK_EACH_JOINT)
            bind_joints(d, out, r);
        else if (r->over == HANDBOOK_EACH_HOLE || r->over == HANDBOOK_EACH_PAIR)
            bind_each(d, out, r, plate, true);
        else
            bind_one(out, r, -1, -1);
    }
    out->binding = dieset_binding(d);
}

void findings_unbind(struct findings_bound *b)
{
    for (size_t i = 0; i < b->trials.count; i++)
        trial_done(&b->trials.at[i]);
    base_vec_done(&b->trials);
    for (size_t i = 0; i < b->blocks.count; i++)
        free(b->blocks.at[i]);
    base_vec_done(&b->blocks);
    base_text_done(&b->faults);
    base_vec_done(&b->leaning.at);
    b->leaning.when = b->judged = 0;
    b->binding = -1;
    b->whole = b->worded = false;
}
