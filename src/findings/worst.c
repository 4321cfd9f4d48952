/* Rules at the worst case: every size that is made at the worse of its limits.
 *
 * Which limit is the worse one is asked of each size alone, by the rule's margin; then all that a rule hangs
 * on stand there at once. A rule whose margin is more than twice what all of them take together is not tried.
 * Rules over holes, measures of geometry, and rules that only say yes or no are as drawn.
 */

#include "findings/findings.h"

#include <math.h>
#include <stdlib.h>

enum { ENDS = 2 };

/* What a size does to a trial at its worse end. */
struct effect {
    int size;
    bool high;
    double takes;
};

struct tried {
    bool known, may; /* may: it applies as drawn, and has a margin */
    struct findings_subject s;
    struct findings_verdict drawn;
    BASE_VEC(struct effect) effects;
};

/* For each slot the trials that read it, as a list: the first of it, and the next of each entry. */
struct reader {
    int trial, next;
};
struct readers {
    int *first;
    BASE_VEC(struct reader) at;
};

struct worst {
    struct findings *f;
    const struct findings_off *off;
    struct tried *tried;
    struct readers readers;
    int *stamp; /* one a trial: the size that it was asked for last */
};

static void add_reads(struct worst *w, int trial, const struct formula_code *c)
{
    int n = 0;
    const int *reads = c ? formula_code_reads(c, &n) : NULL;
    for (int i = 0; i < n; i++) {
        base_vec_push(&w->readers.at, ((struct reader){trial, w->readers.first[reads[i]]}));
        w->readers.first[reads[i]] = (int)w->readers.at.count - 1;
    }
}

static void find_readers(struct worst *w)
{
    int slots = model_count(dieset_model(w->f->d));
    w->readers.first = base_alloc(((size_t)slots + 1) * sizeof *w->readers.first);
    for (int i = 0; i < slots; i++)
        w->readers.first[i] = -1;
    for (size_t k = 0; k < w->f->now->trials.count; k++) {
        const struct findings_trial *t = &w->f->now->trials.at[k];
        w->stamp[k] = -1;
        if (t->rule->over != HANDBOOK_ONCE && t->rule->over != HANDBOOK_EACH_KIND)
            continue;
        add_reads(w, (int)k, t->when);
        add_reads(w, (int)k, t->value);
        for (int i = 0; i < t->rule->n_rungs; i++)
            add_reads(w, (int)k, t->rungs[i]);
    }
}

/* The grade at which V fails; under all of them: it does not. */
static int grade_of(const struct findings_trial *t, const struct findings_verdict *v)
{
    return v->applies && !v->blocked && v->fails ? (int)t->rule->rungs[v->rung].grade : -1;
}

static struct tried *tried_of(struct worst *w, int k)
{
    struct tried *x = &w->tried[k];
    if (!x->known) {
        const struct findings_trial *t = &w->f->now->trials.at[k];
        findings_fill(w->f, t, &x->s);
        x->drawn = findings_verdict_of(w->f, t, &x->s);
        x->may = x->drawn.applies && !x->drawn.blocked && x->drawn.measured;
        x->known = true;
    }
    return x;
}

static void ask_alone(struct worst *w, struct model_lanes *l, int size, int k)
{
    const struct findings_trial *t = &w->f->now->trials.at[k];
    struct findings_verdict v[ENDS];
    struct tried *x = tried_of(w, k);
    if (w->stamp[k] == size || !x->may)
        return;
    w->stamp[k] = size;
    findings_verdicts(l, ENDS, t, &x->s, v);
    if (!v[0].measured || !v[1].measured)
        return;
    double low = x->drawn.margin - v[0].margin, high = x->drawn.margin - v[1].margin;
    if (fabs(low) > 1e-12 || fabs(high) > 1e-12)
        base_vec_push(&x->effects, ((struct effect){size, high > low, fmax(low, high)}));
}

/* Each size alone at both of its limits. */
static void each_alone(struct worst *w)
{
    struct model *m = dieset_model(w->f->d);
    struct model_lanes *l = model_lanes_new(m, ENDS);
    for (int size = 0; size < w->off->n && !base_give_up(); size++) {
        const struct findings_size *z = &w->off->at[size];
        double numbers[DIESET_STATES * ENDS];
        int n;
        for (int i = 0; i < z->n_slots; i++) {
            numbers[i * ENDS] = model_value(m, z->slots[i]).number + z->low;
            numbers[i * ENDS + 1] = model_value(m, z->slots[i]).number + z->high;
        }
        model_lanes_aim(l, z->slots, z->n_slots, w->off->stays);
        model_lanes_run(l, numbers, ENDS);
        const int *reach = model_lanes_reach(l, &n);
        for (int i = -z->n_slots; i < n; i++)
            for (int r = w->readers.first[i < 0 ? z->slots[-i - 1] : reach[i]]; r >= 0;
                 r = w->readers.at.at[r].next)
                ask_alone(w, l, size, w->readers.at.at[r].trial);
    }
    model_lanes_free(l);
}

/* ---- all at once ------------------------------------------------------------------------------------- */

/* May trial K fail at the worst case by a graver grade than as drawn? */
static bool is_near(const struct worst *w, size_t k)
{
    const struct tried *x = &w->tried[k];
    double takes = 0;
    for (size_t i = 0; i < x->effects.count; i++)
        takes += fabs(x->effects.at[i].takes);
    return x->effects.count && (x->drawn.fails || x->drawn.margin <= 2 * takes);
}

static struct findings_turned turned_of(const struct worst *w, int k, const struct findings_verdict *v)
{
    const struct findings_trial *t = &w->f->now->trials.at[k];
    const struct tried *x = &w->tried[k];
    return (struct findings_turned){.rule = t->rule,
                                    .item = t->item,
                                    .state = (enum dieset_state)t->state,
                                    .grade = t->rule->rungs[v->rung].grade,
                                    .type = t->type,
                                    .margin = x->drawn.margin,
                                    .worst = v->margin,
                                    .value = v->value,
                                    .limit = v->limit};
}

/* The sizes that take most from the margin of trial K, most first. */
static void add_sizes(const struct worst *w, int k, struct findings_turned *out)
{
    const struct tried *x = &w->tried[k];
    for (size_t i = 0; i < x->effects.count; i++) {
        int at = out->n_sizes < FINDINGS_TOLD ? out->n_sizes++ : FINDINGS_TOLD;
        while (at > 0 && out->takes[at - 1] < x->effects.at[i].takes) {
            if (at < FINDINGS_TOLD) {
                out->sizes[at] = out->sizes[at - 1];
                out->takes[at] = out->takes[at - 1];
            }
            at--;
        }
        if (at < FINDINGS_TOLD && x->effects.at[i].takes > 0) {
            out->sizes[at] = x->effects.at[i].size;
            out->takes[at] = x->effects.at[i].takes;
        }
    }
    while (out->n_sizes > 0 && out->takes[out->n_sizes - 1] <= 0)
        out->n_sizes--;
    out->n_all = (int)x->effects.count;
}

/* The N trials of BATCH, one a lane: each with its own sizes at their worse ends, the others as drawn. */
static void judge_batch(struct worst *w, struct model_lanes *l, const int *first, const int *batch, int n,
                        double *numbers, findings_turned_fn *tell, void *arg)
{
    struct model *m = dieset_model(w->f->d);
    for (int size = 0; size < w->off->n; size++)
        for (int i = 0; i < w->off->at[size].n_slots; i++)
            for (int lane = 0; lane < FINDINGS_LANES; lane++)
                numbers[(first[size] + i) * FINDINGS_LANES + lane] = model_value(m, w->off->at[size].slots[i])
                                                                         .number;
    for (int lane = 0; lane < n; lane++)
        for (size_t i = 0; i < w->tried[batch[lane]].effects.count; i++) {
            const struct effect *e = &w->tried[batch[lane]].effects.at[i];
            const struct findings_size *z = &w->off->at[e->size];
            for (int k = 0; k < z->n_slots; k++)
                numbers[(first[e->size] + k) * FINDINGS_LANES + lane] += e->high ? z->high : z->low;
        }
    model_lanes_run(l, numbers, FINDINGS_LANES);
    for (int lane = 0; lane < n && !base_given_up(); lane++) {
        struct findings_verdict v[FINDINGS_LANES];
        const struct findings_trial *t = &w->f->now->trials.at[batch[lane]];
        struct tried *x = &w->tried[batch[lane]];
        findings_verdicts(l, FINDINGS_LANES, t, &x->s, v);
        if (grade_of(t, &v[lane]) <= grade_of(t, &x->drawn))
            continue;
        struct findings_turned told = turned_of(w, batch[lane], &v[lane]);
        add_sizes(w, batch[lane], &told);
        tell(arg, &told);
    }
}

static void all_at_once(struct worst *w, findings_turned_fn *tell, void *arg)
{
    int slots = 0, n = 0, batch[FINDINGS_LANES], *first = base_alloc(((size_t)w->off->n + 1) * sizeof *first),
        *all = base_alloc(((size_t)w->off->n * DIESET_STATES + 1) * sizeof *all);
    struct model_lanes *l = model_lanes_new(dieset_model(w->f->d), FINDINGS_LANES);
    for (int size = 0; size < w->off->n; size++) {
        first[size] = slots;
        for (int i = 0; i < w->off->at[size].n_slots; i++)
            all[slots++] = w->off->at[size].slots[i];
    }
    double *numbers = base_alloc(((size_t)slots * FINDINGS_LANES + 1) * sizeof *numbers);
    model_lanes_aim(l, all, slots, w->off->stays);
    for (size_t k = 0; k < w->f->now->trials.count && !base_give_up(); k++) {
        if (is_near(w, k))
            batch[n++] = (int)k;
        if (n == FINDINGS_LANES || (n && k + 1 == w->f->now->trials.count)) {
            judge_batch(w, l, first, batch, n, numbers, tell, arg);
            n = 0;
        }
    }
    model_lanes_free(l);
    free(numbers);
    free(first);
    free(all);
}

void findings_at_limits(struct findings *f, const struct findings_off *off, findings_turned_fn *tell,
                        void *arg)
{
    findings_bind_now(f);
    size_t n = f->now->trials.count;
    struct worst w = {.f = f,
                      .off = off,
                      .tried = base_alloc((n + 1) * sizeof *w.tried),
                      .stamp = base_alloc((n + 1) * sizeof *w.stamp)};
    find_readers(&w);
    each_alone(&w);
    all_at_once(&w, tell, arg);
    for (size_t k = 0; k < n; k++)
        base_vec_done(&w.tried[k].effects);
    base_vec_done(&w.readers.at);
    free(w.readers.first);
    free(w.tried);
    free(w.stamp);
}
