/* Guesses: estimated and invented figures of parts tables, what hangs on each, and what holds by less than
 * one may be out.
 *
 * Followed down the model's own edges from the slots that such a cell is picked into, so that a figure typed
 * over, or another row, counts at once. Whether a rule would turn is not estimated from its margin: its
 * formulas are run with the figure at both ends of its spread, which takes care of roots, squares and sums.
 * Rules over holes and measures of geometry are not followed.
 */

#include "findings/findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { GUESSES = 64, ENDS = 2, TOLD = 3 };

/* One figure: its slot, the quantity that shows it. */
struct guess { int slot, q, table, row, column; double spread; char sureness[60]; };

struct findings_guesses {
    struct guess at[GUESSES];
    int n;
    uint64_t *of; /* one a slot: which of them its value hangs on */
    /* one a trial, once it is asked for: which of them it hangs on, and what it holds by as a share of its
       figures; as far off as can be where no guess turns it */
    struct { bool known; uint64_t on; double left; } *trials;
    struct model_lanes *lanes; /* NULL: none was wanted yet */
};

struct findings_guesses *findings_guesses_new(struct findings *f)
{
    struct model *m = dieset_model(f->d);
    const struct table_set *set = dieset_tables(f->d);
    struct findings_guesses *g = base_alloc(sizeof *g);
    int slots = model_count(m), table, row, column, *reach = base_alloc((size_t)(slots + 1) * sizeof *reach);
    g->of = base_alloc((size_t)(slots + 1) * sizeof *g->of);
    for (int slot = 0; slot < slots && g->n < GUESSES; slot++) {
        int q = dieset_of_slot(f->d, slot, NULL);
        if (q < 0 || !model_code(m, slot) || !formula_code_picks(model_code(m, slot)) ||
            !dieset_slot_cell(f->d, slot, &table, &row, &column))
            continue;
        double spread = table_cell_spread(set, table, row, column);
        if (spread == 0 || table_spec(set, table)->columns[column].is_text) /* no guess, or no figure */
            continue;
        struct guess *to = &g->at[g->n];
        *to = (struct guess){slot, q, table, row, column, spread, ""};
        table_cell_sureness(set, table, row, column, to->sureness, sizeof to->sureness);
        uint64_t bit = UINT64_C(1) << g->n++;
        g->of[slot] |= bit;
        for (int i = model_reach(m, slot, reach) - 1; i >= 0; i--)
            g->of[reach[i]] |= bit;
    }
    free(reach);
    return g;
}

void findings_guesses_free(struct findings_guesses *g)
{
    if (g) {
        free(g->of);
        free(g->trials);
        model_lanes_free(g->lanes);
    }
    free(g);
}

static uint64_t code_leans(const struct findings_guesses *g, const struct formula_code *c)
{
    int n = 0;
    uint64_t on = 0;
    const int *reads = c ? formula_code_reads(c, &n) : NULL;
    for (int i = 0; i < n; i++)
        on |= g->of[reads[i]];
    return on;
}

static uint64_t trial_leans(const struct findings_guesses *g, const struct findings_trial *t)
{
    uint64_t on = code_leans(g, t->value);
    for (int i = 0; i < t->rule->n_rungs; i++)
        on |= code_leans(g, t->rungs[i]);
    return on;
}

void findings_say_quantity(const struct findings *f, int q, struct base_text *out)
{
    const struct dieset_quantity *quantity = dieset_quantity(f->d, q);
    if (quantity->property && quantity->item >= 0)
        base_text_addf(out, "%s of %s", quantity->property->title, dieset_item_title(f->d, quantity->item));
    else
        base_text_add(out, quantity->path);
}

/* Is the Ith the figure of a cell that one before it, of those ON, has told of? Two groups of one size. */
static bool is_told(const struct findings_guesses *g, uint64_t on, int i)
{
    const struct guess *x = &g->at[i];
    for (int k = 0; k < i; k++)
        if (on >> k & 1 && g->at[k].table == x->table && g->at[k].row == x->row &&
            g->at[k].column == x->column)
            return true;
    return false;
}

void findings_say_guesses(const struct findings *f, const struct findings_guesses *g,
                          const struct findings_trial *t, struct base_text *out)
{
    uint64_t on = trial_leans(g, t);
    int told = 0, more = 0;
    for (int i = 0; i < g->n; i++) {
        if (!(on >> i & 1) || is_told(g, on, i))
            continue;
        if (told == TOLD) {
            more++;
            continue;
        }
        base_text_add(out, told++ ? ", " : " Leans on ");
        findings_say_quantity(f, g->at[i].q, out);
        base_text_addf(out, " (%s)", g->at[i].sureness);
    }
    if (more)
        base_text_addf(out, " and %d more", more);
    base_text_add(out, told ? "." : "");
}

/* ---- what a guess could turn ------------------------------------------------------------------- */

/* Does T, which holds, fail at one end of the spread? */
static bool turns(struct model_lanes *l, const struct findings_trial *t, const struct findings_subject *s)
{
    struct findings_verdict v[ENDS];
    findings_verdicts(l, ENDS, t, s, v);
    return v[0].fails || v[1].fails;
}

/* What T holds by, beside the figures that it compares. */
static double share_left(const struct findings_verdict *v)
{
    double whole = fmax(fabs(v->value), fabs(v->limit));
    return whole > 0 ? fabs(v->margin) / whole : 0;
}

static void look_at_trials(struct findings *f, struct findings_guesses *g)
{
    size_t n = f->now->trials.count;
    g->trials = base_alloc((n + 1) * sizeof *g->trials);
    for (size_t k = 0; k < n && !base_give_up(); k++) {
        const struct findings_trial *t = &f->now->trials.at[k];
        if (t->rule->over == HANDBOOK_ONCE || t->rule->over == HANDBOOK_EACH_KIND)
            g->trials[k].on = trial_leans(g, t);
    }
}

/* What trial K holds by; infinite where it does not hold or is not measured. */
static double trial_left(struct findings *f, struct findings_guesses *g, size_t k)
{
    if (g->trials[k].known)
        return g->trials[k].left;
    const struct findings_trial *t = &f->now->trials.at[k];
    struct findings_subject s;
    findings_fill(f, t, &s);
    struct findings_verdict v = findings_verdict_of(f, t, &s);
    bool holds = v.applies && !v.fails && !v.blocked && v.measured;
    g->trials[k].known = true;
    return g->trials[k].left = holds ? share_left(&v) : INFINITY;
}

static void say_rule(const struct findings *f, const struct findings_trial *t, double share, int told,
                     struct base_text *out)
{
    base_text_addf(out, "%s%s%s%s, ", told ? "; " : "", t->rule->name, t->item >= 0 ? " of " : "",
                   t->item >= 0 ? dieset_item_title(f->d, t->item) : "");
    /* with as many digits as tell it from none */
    if (share < 1e-9)
        base_text_add(out, "just at its limit");
    else
        base_text_addf(out, "by %.*f %%", (int)fmax(1, ceil(-log10(100 * share))), 100 * share);
}

/* Names of what guess I could turn, into OUT; how many rules. A rule in both states is one. */
static int turned_by(struct findings *f, struct findings_guesses *g, int i, struct base_text *out)
{
    /* A margin that is many times the spread is not run: a figure that goes in with its fifth power does not
       turn it either. */
    enum { POWERS = 5 };
    struct model *m = dieset_model(f->d);
    const struct handbook_rule *last = NULL;
    int n = 0, last_item = -1;
    bool aimed = false;
    double at = model_value(m, g->at[i].slot).number,
           ends[ENDS] = {at * (1 - g->at[i].spread), at * (1 + g->at[i].spread)};
    for (size_t k = 0; k < f->now->trials.count && isfinite(g->at[i].spread); k++) {
        const struct findings_trial *t = &f->now->trials.at[k];
        if (!(g->trials[k].on >> i & 1) || (t->rule == last && t->item == last_item))
            continue;
        if (base_give_up())
            break;
        if (!(trial_left(f, g, k) <= POWERS * g->at[i].spread))
            continue;
        if (!g->lanes)
            g->lanes = model_lanes_new(m, ENDS);
        if (!aimed) {
            model_lanes_aim(g->lanes, &g->at[i].slot, 1, NULL);
            model_lanes_run(g->lanes, ends, ENDS);
        }
        aimed = true;
        struct findings_subject s;
        findings_fill(f, t, &s);
        if (!turns(g->lanes, t, &s))
            continue;
        last = t->rule;
        last_item = t->item;
        if (n < TOLD)
            say_rule(f, t, trial_left(f, g, k), n, out);
        n++;
    }
    if (n > TOLD)
        base_text_addf(out, "; and %d more", n - TOLD);
    return n;
}

void findings_each_guess(struct findings *f, struct findings_guesses *g, findings_guess_fn *tell, void *arg)
{
    if (!g->trials)
        look_at_trials(f, g);
    for (int i = 0; i < g->n; i++) {
        struct base_text rules = {0};
        if (model_value(dieset_model(f->d), g->at[i].slot).error == FORMULA_FINE &&
            turned_by(f, g, i, &rules) > 0)
            tell(arg, g->at[i].q, g->at[i].sureness, base_text_get(&rules));
        base_text_done(&rules);
    }
}
