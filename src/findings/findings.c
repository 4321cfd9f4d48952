/* The list of findings: judged, ordered, frozen and compared. */

#include "findings/findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct findings *findings_new(struct dieset *d)
{
    struct findings *f = base_alloc(sizeof *f);
    f->d = d;
    f->bound[0].binding = f->bound[1].binding = -1;
    return f;
}

void findings_forget(struct findings *f)
{
    f->list.count = 0;
    base_arena_done(&f->memory);
}

void findings_free(struct findings *f)
{
    if (!f)
        return;
    findings_forget(f);
    base_vec_done(&f->list);
    free(f->walk.queue);
    free(f->walk.round);
    findings_unbind(&f->bound[0]);
    findings_unbind(&f->bound[1]);
    free(f);
}

struct dieset *findings_dieset(const struct findings *f) { return f->d; }

/* Rules bound to the die set as it stands. Two bindings are kept, so that dropping a try costs nothing. */
void findings_begin_now(struct findings *f)
{
    long binding = dieset_binding(f->d);
    for (int i = 0; i < 2; i++)
        if (f->bound[i].binding == binding) {
            f->latest = i;
            f->now = &f->bound[i];
            return;
        }
    f->latest = !f->latest;
    f->now = &f->bound[f->latest];
    findings_unbind(f->now);
    findings_bind(f->d, f->now);
}

void findings_bind_now(struct findings *f)
{
    findings_begin_now(f);
    findings_ready_all(f->d, f->now);
    if (base_given_up())
        findings_unbind(f->now);
}

/* What went wrong in a rule's own formulas, where no quantity of the job has the error. */
static const char *own_error(enum formula_error e)
{
    switch (e) {
    case FORMULA_EMPTY:
        return "something that it asks for is not filled in";
    case FORMULA_NO_ROW:
        return "no row of a table fits";
    case FORMULA_SEVERAL:
        return "several rows of a table fit";
    case FORMULA_DIVISION:
        return "it divides by zero";
    case FORMULA_ROOT:
        return "it takes a root that there is not";
    case FORMULA_IMPOSSIBLE:
        return "what it asks for is not possible";
    default:
        return "a number in it grows too large";
    }
}

static void say_blocked(struct findings *f, const struct findings_blocked *b, int q, enum dieset_state state,
                        struct base_text *out)
{
    const struct finding *x = &b->sample;
    if (q < 0 && x->item >= 0)
        base_text_addf(out, "%s: ", dieset_item_title(f->d, x->item));
    if (q >= 0 && b->count > 1)
        base_text_addf(out, "%d rules cannot be judged: ", b->count);
    else
        base_text_addf(out, "%s rule \"%s\" cannot be judged: ", out->length ? "the" : "The", x->title);
    if (q >= 0)
        dieset_explain_error(f->d, q, state, out);
    else
        base_text_addf(out, "%s.", own_error(b->error));
}

struct finding findings_unjudged(struct findings *f, const struct findings_blocked *b, bool bare)
{
    struct finding x = b->sample;
    enum dieset_state state = DIESET_NEW;
    int q = b->origin >= 0 ? dieset_of_slot(f->d, b->origin, &state) : -1;
    x.grade = b->grade;
    x.rule = FINDINGS_UNJUDGED;
    x.title = "unjudged";
    x.key = base_arena_format(&f->memory, FINDINGS_UNJUDGED " %s",
                              q >= 0 ? dieset_quantity(f->d, q)->path : b->sample.rule);
    x.source = "";
    x.item = q >= 0 ? dieset_quantity(f->d, q)->item : x.item;
    x.cause = q;
    if (bare)
        return x;
    struct base_text text = {0};
    say_blocked(f, b, q, state, &text);
    x.message = base_arena_copy(&f->memory, base_text_get(&text));
    base_text_done(&text);
    int *mends = base_arena_alloc(&f->memory, sizeof *mends);
    mends[0] = q;
    x.mends = mends;
    x.n_mends = q >= 0;
    return x;
}

struct ordered { struct finding x; int place; };

static int by_grade(const void *a, const void *b)
{
    const struct ordered *p = a, *q = b;
    if (!p->x.waiver != !q->x.waiver)
        return p->x.waiver ? 1 : -1;
    if (p->x.grade != q->x.grade)
        return p->x.grade > q->x.grade ? -1 : 1;
    return p->place - q->place;
}

static void sort(struct findings *f)
{
    size_t n = f->list.count;
    struct ordered *rows = base_alloc((n ? n : 1) * sizeof *rows);
    for (size_t i = 0; i < n; i++)
        rows[i] = (struct ordered){f->list.at[i], (int)i};
    qsort(rows, n, sizeof *rows, by_grade);
    for (size_t i = 0; i < n; i++)
        f->list.at[i] = rows[i].x;
    free(rows);
}

static void say_places(struct findings *f, struct finding *x)
{
    if (x->more)
        x->message = base_arena_format(&f->memory, "%s The same in %d more place%s.", x->message, x->more,
                                       x->more == 1 ? "" : "s");
}

static void judge(struct findings *f, bool bare)
{
    findings_bind_now(f);
    findings_forget(f);
    struct findings_pass p = {.f = f, .bare = bare};
    struct findings_bound *now = f->now;
    for (size_t i = 0; i < now->trials.count && !base_given_up(); i++) {
        struct findings_trial *t = &now->trials.at[i];
        if (now->judged && t->quiet && !findings_moved(&p, t))
            continue;
        long said = p.said;
        findings_run(&p, t);
        t->quiet = p.said == said;
    }
    now->judged = base_given_up() ? 0 : model_now(dieset_model(f->d));
    for (size_t i = 0; i < f->list.count && !bare; i++)
        say_places(f, &f->list.at[i]);
    for (size_t i = 0; i < p.blocked.count && !base_given_up(); i++) {
        struct finding x = findings_unjudged(f, &p.blocked.at[i], bare);
        base_vec_push(&f->list, x);
    }
    findings_pass_done(&p);
    findings_waive(f);
}

int findings_judge(struct findings *f, const struct finding **list)
{
    judge(f, false);
    sort(f);
    return findings_list(f, list);
}

int findings_judge_bare(struct findings *f, const struct finding **list)
{
    judge(f, true);
    return findings_list(f, list);
}

/* Rules over what other rules hang on want all of them ready. */
static bool follows_others(const struct findings *f, const char *rule)
{
    int r = handbook_find_rule(dieset_handbook(f->d), rule);
    enum handbook_over over = r < 0 ? HANDBOOK_ONCE : handbook_rule(dieset_handbook(f->d), r)->over;
    return over == HANDBOOK_EACH_WEAK || over == HANDBOOK_ALL_WEAK || over == HANDBOOK_EACH_GUESS;
}

/* Can T be what a finding of RULE over ITEM and PLATE comes from? */
static bool may_tell(const struct findings_trial *t, const char *rule, int item, int plate)
{
    bool own = t->rule->over != HANDBOOK_EACH_KIND || t->item == item;
    bool there = t->rule->over == HANDBOOK_EACH_PAIR || t->plate == plate; /* of two in whichever plate */
    return own && there && strcmp(t->rule->name, rule) == 0;
}

const struct finding *findings_judge_one(struct findings *f, const char *rule, const char *key, int item,
                                         int plate)
{
    if (follows_others(f, rule))
        findings_bind_now(f);
    else
        findings_begin_now(f);
    findings_forget(f);
    struct findings_pass p = {.f = f, .bare = true};
    for (size_t i = 0; i < f->now->trials.count && !base_given_up(); i++) {
        struct findings_trial *t = &f->now->trials.at[i];
        if (may_tell(t, rule, item, plate) && findings_ready(f->d, f->now, t))
            findings_run(&p, t);
    }
    findings_pass_done(&p);
    findings_waive(f);
    for (size_t i = 0; i < f->list.count; i++)
        if (strcmp(f->list.at[i].key, key) == 0)
            return &f->list.at[i];
    return NULL;
}

int findings_list(const struct findings *f, const struct finding **list)
{
    if (list)
        *list = f->list.at;
    return (int)f->list.count;
}

void findings_counts(const struct findings *f, int counts[3])
{
    counts[0] = counts[1] = counts[2] = 0;
    for (size_t i = 0; i < f->list.count; i++)
        counts[f->list.at[i].grade] += !f->list.at[i].waiver;
}

int findings_waived(const struct findings *f)
{
    int n = 0;
    for (size_t i = 0; i < f->list.count; i++)
        n += f->list.at[i].waiver != NULL;
    return n;
}

const char *findings_unbound(struct findings *f)
{
    findings_bind_now(f);
    for (size_t i = 0; i < f->now->trials.count && !f->now->worded; i++) {
        const struct findings_trial *t = &f->now->trials.at[i];
        for (int which = 0; which < FINDINGS_RUNG + t->rule->n_rungs; which++) {
            struct base_diag why = {0};
            if (!findings_words(f->d, t, which, &why) && why.code)
                base_text_addf(&f->now->faults, "%s: %s\n", t->rule->name, why.message);
        }
    }
    f->now->worded = true;
    return base_text_get(&f->now->faults);
}

/* ---- frozen lists ------------------------------------------------------------------------------ */

struct findings_kept { BASE_VEC(struct finding) list; struct base_arena memory; struct base_map keys; };

/* Strings of a list that are its own, once more in MEMORY. */
static struct finding copy(struct base_arena *memory, struct finding x)
{
    int *mends = base_arena_alloc(memory, (size_t)(x.n_mends + 1) * sizeof *mends);
    for (int m = 0; m < x.n_mends; m++)
        mends[m] = x.mends[m];
    x.mends = mends;
    x.message = base_arena_copy(memory, x.message);
    x.key = base_arena_copy(memory, x.key);
    x.waiver = base_arena_copy(memory, x.waiver);
    return x;
}

struct findings_kept *findings_keep(const struct findings *f)
{
    struct findings_kept *k = base_alloc(sizeof *k);
    for (size_t i = 0; i < f->list.count; i++) {
        struct finding x = copy(&k->memory, f->list.at[i]);
        base_map_put(&k->keys, x.key, (int)i);
        base_vec_push(&k->list, x);
    }
    return k;
}

void findings_restore(struct findings *f, const struct findings_kept *k)
{
    findings_forget(f);
    for (size_t i = 0; i < k->list.count; i++) {
        struct finding x = copy(&f->memory, k->list.at[i]);
        base_vec_push(&f->list, x);
    }
}

void findings_kept_free(struct findings_kept *k)
{
    if (!k)
        return;
    base_vec_done(&k->list);
    base_arena_done(&k->memory);
    base_map_done(&k->keys);
    free(k);
}

int findings_kept_list(const struct findings_kept *k, const struct finding **list)
{
    *list = k->list.at;
    return (int)k->list.count;
}

void findings_compare(const struct findings_kept *k, const struct findings *f, bool *came, bool *went)
{
    for (size_t i = 0; i < k->list.count; i++)
        went[i] = !k->list.at[i].waiver;
    for (size_t i = 0; i < f->list.count; i++) {
        int at;
        const struct finding *x = &f->list.at[i];
        bool known = base_map_get(&k->keys, x->key, &at);
        came[i] = !x->waiver && (!known || x->grade > k->list.at[at].grade || k->list.at[at].waiver);
        if (known && !x->waiver)
            went[at] = false;
    }
}

bool findings_worse(const struct findings_kept *k, const struct finding *x)
{
    int at;
    if (x->waiver)
        return false;
    if (!base_map_get(&k->keys, x->key, &at))
        return true;
    const struct finding *old = &k->list.at[at];
    double noise = 1e-6 * fmax(1, fabs(x->limit));
    return old->waiver || x->grade > old->grade ||
           (x->grade == old->grade && x->measured && old->measured && x->margin < old->margin - noise);
}

bool findings_standing(struct findings *f, const char *rule, int item, enum dieset_state s,
                       struct finding *out)
{
    findings_begin_now(f);
    for (size_t i = 0; i < f->now->trials.count; i++) {
        struct findings_trial *t = &f->now->trials.at[i];
        bool single = t->rule->over == HANDBOOK_ONCE || t->rule->over == HANDBOOK_EACH_KIND;
        if (single && t->item == item && t->state == s && strcmp(t->rule->name, rule) == 0)
            return findings_ready(f->d, f->now, t) && findings_stand(f, t, out);
    }
    return false;
}

static bool has_percent(const struct handbook_template *says)
{
    for (int i = 0; i < says->n_pieces; i++)
        if (says->pieces[i].as && strcmp(says->pieces[i].as, "%") == 0)
            return true;
    return false;
}

/* Is X a bare number that the sentence of its rule, or of one of its rungs, tells in percent? */
static bool in_percent(const struct handbook *h, const struct finding *x)
{
    int r = handbook_find_rule(h, x->rule);
    if (r < 0 || x->type.sort != FORMULA_NUMBER || !unit_same(x->type.dim, (struct unit_dim){0}))
        return false;
    const struct handbook_rule *rule = handbook_rule(h, r);
    bool percent = has_percent(&rule->says);
    for (int i = 0; i < rule->n_rungs; i++)
        percent = percent || has_percent(&rule->rungs[i].says);
    return percent;
}

const char *findings_print(const struct dieset *d, const struct finding *x, double value, char *buf,
                           size_t size)
{
    const struct handbook *h = dieset_handbook(d);
    /* a margin is told from none */
    double other = value == x->value ? x->limit : value == x->limit ? x->value : 0;
    other = value != 0 && fabs(value) < fabs(value - other) ? 0 : other;
    if (isfinite(value) && in_percent(h, x)) {
        char number[40];
        snprintf(buf, size, "%s %%", unit_print_in(value, other, "%", number, sizeof number));
        return buf;
    }
    if (x->type.sort == FORMULA_NUMBER)
        return unit_print_apart(value, other, x->type.dim, dieset_system(d), -1, buf, size);
    return handbook_print(h, (struct formula_value){.number = value, .origin = -1}, x->type, dieset_system(d),
                          buf, size);
}
