/* Rules over many variants. A trial that does not hang on the varied value is judged once; one that hangs on
 * it through formulas alone is run over all lanes; what asks for holes, pairs or measures is run lane by
 * lane, each shown.
 */

#include "findings/findings.h"

#include <stdlib.h>
#include <string.h>

enum how { FIXED, OVER_LANES, WHEN_SHOWN };

struct findings_lanes {
    struct findings *f;
    struct dieset_lanes *lanes;
    struct model_lanes *model;
    int n_lanes;
    unsigned char *how; /* one a trial */
    bool any_shown, told, guess_hangs;
    /* tables from memory: those that stand in every lane, and the slots that may lean on one */
    struct findings_weak weak[FINDINGS_WEAK];
    int n_weak;
    BASE_VEC(int) weak_slots;
    /* scratch, one a lane: arguments by number as formulas read them, values, verdicts */
    double *args;
    unsigned char *errors;
    struct formula_value *value, *limit;
    struct findings_verdict *verdict;
    bool *settled;
};

/* ---- what hangs on the value ------------------------------------------------------------------------- */

static enum dieset_hang code_hangs(const struct findings_lanes *l, const struct formula_code *c)
{
    int n = 0;
    enum dieset_hang worst = DIESET_HANGS_NOT;
    const int *reads = c ? formula_code_reads(c, &n) : NULL;
    for (int i = 0; i < n; i++) {
        enum dieset_hang hang = dieset_lanes_hang(l->lanes, reads[i]);
        worst = hang > worst ? hang : worst;
    }
    return worst;
}

static enum dieset_hang trial_hangs(const struct findings_lanes *l, const struct findings_trial *t)
{
    const struct formula_code *codes[] = {t->when, t->value, t->within};
    enum dieset_hang worst = DIESET_HANGS_NOT;
    for (size_t i = 0; i < COUNT_OF(codes) + (size_t)t->rule->n_rungs; i++) {
        enum dieset_hang hang = code_hangs(l, i < COUNT_OF(codes) ? codes[i] : t->rungs[i - COUNT_OF(codes)]);
        worst = hang > worst ? hang : worst;
    }
    return worst;
}

static bool trial_asks(const struct findings_trial *t, int argument) { return t->asks >> argument & 1; }

static bool asks_measure(const struct findings_trial *t)
{
    for (int i = 0; i < findings_measures(t); i++)
        if (trial_asks(t, i))
            return true;
    return false;
}

static enum how how_of(const struct findings_lanes *l, const struct findings_trial *t)
{
    enum dieset_hang hang = trial_hangs(l, t);
    switch (t->rule->over) {
    case HANDBOOK_ONCE:
    case HANDBOOK_EACH_KIND:
        if (hang == DIESET_HANGS_SHOWN || (dieset_lanes_measures(l->lanes, t->item) && asks_measure(t)))
            return WHEN_SHOWN;
        return hang == DIESET_HANGS_NOT ? FIXED : OVER_LANES;
    case HANDBOOK_EACH_JOINT:
        if (hang == DIESET_HANGS_SHOWN || (dieset_lanes_holes(l->lanes, t->joint.member) && asks_measure(t)))
            return WHEN_SHOWN;
        return hang == DIESET_HANGS_NOT ? FIXED : OVER_LANES;
    case HANDBOOK_EACH_HOLE:
    case HANDBOOK_EACH_PAIR:
        return hang != DIESET_HANGS_NOT || dieset_lanes_holes(l->lanes, t->plate) ? WHEN_SHOWN : FIXED;
    case HANDBOOK_EACH_BODIES:
        return hang != DIESET_HANGS_NOT || dieset_lanes_bodies(l->lanes) ? WHEN_SHOWN : FIXED;
    case HANDBOOK_EACH_TYPED:
        return hang == DIESET_HANGS_NOT ? FIXED : WHEN_SHOWN;
    case HANDBOOK_EACH_WEAK:
    case HANDBOOK_ALL_WEAK:
        return hang == DIESET_HANGS_NOT && !l->weak_slots.count ? FIXED : WHEN_SHOWN;
    case HANDBOOK_EACH_GUESS:
        return l->guess_hangs ? WHEN_SHOWN : FIXED;
    }
    return WHEN_SHOWN;
}

/* A rule that judges the very text typed, or names quantities by which tables are leant on, is no matter of
   numbers. */
static bool asks_words(const struct findings_trial *t)
{
    enum { TYPED_TEXT = 1, WEAK_QUANTITIES = 2 };
    return (t->rule->over == HANDBOOK_EACH_TYPED && trial_asks(t, TYPED_TEXT)) ||
           ((t->rule->over == HANDBOOK_EACH_WEAK || t->rule->over == HANDBOOK_ALL_WEAK ||
             t->rule->over == HANDBOOK_EACH_GUESS) &&
            trial_asks(t, WEAK_QUANTITIES));
}

/* ---- making -------------------------------------------------------------------------------------------- */

/* Slots that hang on the value lean on this table or that as it varies; the others lean on the same one
   throughout. */
static void part_weak(struct findings_lanes *l)
{
    struct model *m = dieset_model(l->f->d);
    bool *seen = findings_weak_walk(l->f);
    for (int slot = 0; slot < model_count(m); slot++) {
        if (!seen[slot])
            continue;
        if (dieset_lanes_hang(l->lanes, slot) == DIESET_HANGS_NOT)
            findings_weak_look(l->f, slot, -1, l->weak, &l->n_weak, FINDINGS_WEAK);
        else if (model_code(m, slot) && formula_code_picks(model_code(m, slot)))
            base_vec_push(&l->weak_slots, slot);
    }
    free(seen);
}

/* Does what a guess could turn hang on the value? Also where the guess itself does not. */
/* Is U a rule over two holes or bodies that is judged together with T: the same, or told with it? */
static bool together(const struct handbook_rule *t, const struct handbook_rule *u)
{
    return t->within && u->within &&
           (t == u || (t->told_with && strcmp(t->told_with, u->name) == 0) ||
            (u->told_with && strcmp(u->told_with, t->name) == 0));
}

/* Of two items that meet one finding is told, whichever plate it is in: what is judged together is judged in
   each lane as soon as one of it hangs on them. */
static void join_pairs(struct findings_lanes *l)
{
    size_t n = l->f->now->trials.count;
    for (size_t i = 0; i < n; i++) {
        const struct handbook_rule *r = l->f->now->trials.at[i].rule;
        for (size_t k = 0; r->within && l->how[i] == WHEN_SHOWN && k < n; k++)
            if (together(r, l->f->now->trials.at[k].rule))
                l->how[k] = WHEN_SHOWN;
    }
}

static bool guesses_hang(const struct findings_lanes *l)
{
    struct findings_guesses *g = findings_guesses_new(l->f);
    bool hang = false;
    for (size_t i = 0; i < l->f->now->trials.count && !hang; i++) {
        const struct findings_trial *t = &l->f->now->trials.at[i];
        if (base_give_up())
            break;
        hang = trial_hangs(l, t) != DIESET_HANGS_NOT ||
               (dieset_lanes_measures(l->lanes, t->item) && asks_measure(t));
        hang = hang && (findings_leans(g, t) || t->rule->over == HANDBOOK_EACH_GUESS);
    }
    findings_guesses_free(g);
    return hang;
}

struct findings_lanes *findings_lanes_new(struct findings *f, struct dieset_lanes *lanes)
{
    findings_bind_now(f);
    for (size_t i = 0; i < f->now->trials.count; i++)
        if (asks_words(&f->now->trials.at[i]))
            return NULL;
    struct findings_lanes *l = base_alloc(sizeof *l);
    *l = (struct findings_lanes){.f = f, .lanes = lanes, .model = dieset_lanes_model(lanes)};
    l->n_lanes = model_lanes_count(l->model);
    part_weak(l);
    l->guess_hangs = guesses_hang(l);
    l->how = base_alloc(f->now->trials.count + 1);
    for (size_t i = 0; i < f->now->trials.count && !base_give_up(); i++) {
        l->how[i] = (unsigned char)how_of(l, &f->now->trials.at[i]);
        l->any_shown = l->any_shown || l->how[i] == WHEN_SHOWN;
    }
    join_pairs(l);
    size_t n = (size_t)l->n_lanes;
    l->args = base_alloc(FINDINGS_NAMES * n * sizeof *l->args);
    l->errors = base_alloc(FINDINGS_NAMES * n);
    l->value = base_alloc(n * sizeof *l->value);
    l->limit = base_alloc(n * sizeof *l->limit);
    l->verdict = base_alloc(n * sizeof *l->verdict);
    l->settled = base_alloc(n);
    return l;
}

void findings_lanes_free(struct findings_lanes *l)
{
    if (!l)
        return;
    base_vec_done(&l->weak_slots);
    free(l->how);
    free(l->args);
    free(l->errors);
    free(l->value);
    free(l->limit);
    free(l->verdict);
    free(l->settled);
    free(l);
}

/* -- one trial over all lanes ---------------------------------------------------------------------------- */

static void fill(struct findings_lanes *l, const struct findings_trial *t, struct findings_subject *s)
{
    findings_fill(l->f, t, s);
    for (int a = 0; a < findings_measures(t); a++)
        for (int lane = 0; lane < l->n_lanes; lane++) {
            l->args[a * l->n_lanes + lane] = s->args[a];
            l->errors[a * l->n_lanes + lane] = s->errors[a];
        }
}

/* False: all lanes are settled. */
static bool run_when(struct findings_lanes *l, const struct findings_trial *t, int n)
{
    bool open = false;
    if (t->when)
        model_lanes_code(l->model, t->when, l->args, l->errors, l->value);
    for (int lane = 0; lane < n; lane++) {
        l->verdict[lane] = (struct findings_verdict){.applies = true};
        l->settled[lane] = t->when && !findings_verdict_when(&l->verdict[lane], l->value[lane]);
        open = open || !l->settled[lane];
    }
    return open;
}

static void run_value(struct findings_lanes *l, const struct findings_trial *t, int n)
{
    if (!t->value) {
        memset(l->value, 0, (size_t)l->n_lanes * sizeof *l->value);
        return;
    }
    model_lanes_code(l->model, t->value, l->args, l->errors, l->value);
    for (int lane = 0; lane < l->n_lanes; lane++) {
        l->args[t->block->value * l->n_lanes + lane] = l->value[lane].number;
        l->errors[t->block->value * l->n_lanes + lane] = l->value[lane].error;
        if (lane < n)
            l->verdict[lane].value = l->value[lane].number;
    }
}

static bool run_rung(struct findings_lanes *l, const struct findings_trial *t, int rung, int n)
{
    bool open = false;
    model_lanes_code(l->model, t->rungs[rung], l->args, l->errors, l->limit);
    for (int lane = 0; lane < n; lane++) {
        if (!l->settled[lane])
            l->settled[lane] = !findings_verdict_rung(t, rung, l->value[lane], l->limit[lane],
                                                      &l->verdict[lane]);
        open = open || !l->settled[lane];
    }
    return open;
}

static void run_trial(struct findings_lanes *l, struct findings_pass *p, const struct findings_trial *t,
                      int n, findings_tell_fn *tell, void *arg)
{
    struct findings_subject s;
    fill(l, t, &s);
    if (run_when(l, t, n)) {
        run_value(l, t, n);
        for (int i = 0; i < t->rule->n_rungs; i++)
            if (!run_rung(l, t, i, n))
                break;
    }
    const char *key = NULL;
    for (int lane = 0; lane < n; lane++) {
        struct findings_verdict *v = &l->verdict[lane];
        findings_trace(p->f, t, &s, v);
        if (v->blocked) {
            struct findings_blocked b;
            findings_blocked_by(t, &s, v, &b);
            struct finding x = findings_unjudged(p->f, &b, true);
            tell(arg, lane, &x);
        } else if (v->applies && v->fails) {
            struct finding x = findings_of(t, &s, v);
            x.key = key = key ? key : findings_key(p->f, t, &s);
            tell(arg, lane, &x);
        }
    }
}

/* ---- all trials ---------------------------------------------------------------------------------------- */

/* What the pass has found so far, told and forgotten. */
static void tell_pass(struct findings_pass *p, int lane, findings_tell_fn *tell, void *arg)
{
    for (size_t i = 0; i < p->f->list.count; i++)
        tell(arg, lane, &p->f->list.at[i]);
    for (size_t i = 0; i < p->blocked.count; i++) {
        struct finding x = findings_unjudged(p->f, &p->blocked.at[i], true);
        tell(arg, lane, &x);
    }
    base_vec_done(&p->blocked);
    base_map_done(&p->places);
    base_map_done(&p->spots);
    findings_forget(p->f);
    findings_pass_next(p);
}

static void run_weak(struct findings_lanes *l, struct findings_pass *p, const struct findings_trial *t)
{
    struct findings_weak weak[FINDINGS_WEAK];
    int n = l->n_weak;
    memcpy(weak, l->weak, sizeof weak);
    for (size_t i = 0; i < l->weak_slots.count; i++)
        findings_weak_look(l->f, l->weak_slots.at[i], -1, weak, &n, FINDINGS_WEAK);
    findings_run_weak(p, t, weak, n);
}

static void run_how(struct findings_lanes *l, struct findings_pass *p, enum how how)
{
    for (size_t i = 0; i < l->f->now->trials.count && !base_give_up(); i++) {
        const struct findings_trial *t = &l->f->now->trials.at[i];
        if (l->how[i] != (unsigned char)how)
            continue;
        if (t->rule->over == HANDBOOK_EACH_WEAK || t->rule->over == HANDBOOK_ALL_WEAK)
            run_weak(l, p, t);
        else
            findings_run(p, t);
    }
}

void findings_lanes_judge(struct findings_lanes *l, int n, findings_tell_fn *tell, void *arg)
{
    struct findings_pass p = {.f = l->f, .bare = true};
    findings_forget(l->f);
    if (!l->told) {
        run_how(l, &p, FIXED);
        tell_pass(&p, -1, tell, arg);
        l->told = true;
    }
    for (size_t i = 0; i < l->f->now->trials.count && !base_give_up(); i++)
        if (l->how[i] == OVER_LANES)
            run_trial(l, &p, &l->f->now->trials.at[i], n, tell, arg);
    findings_forget(l->f);
    for (int lane = 0; lane < n && l->any_shown && !base_given_up(); lane++) {
        dieset_lanes_show(l->lanes, lane);
        run_how(l, &p, WHEN_SHOWN);
        tell_pass(&p, lane, tell, arg);
    }
    findings_pass_done(&p);
}
