/* Which tables from memory do fault-grade rules lean on? Followed down the reads of every such rule, so that
 * the answer is the why-tree's, not a list kept by hand. */

#include "findings/findings.h"

#include <stdlib.h>

enum { TOLD = 4 }; /* quantities named for one table */

struct walk { struct findings *f; int *stack; bool *seen; int depth; };

static void push_reads(struct walk *w, const int *reads, int n)
{
    for (int i = 0; i < n; i++)
        if (!w->seen[reads[i]]) {
            w->seen[reads[i]] = true;
            w->stack[w->depth++] = reads[i];
        }
}

static void push_code(struct walk *w, const struct formula_code *c)
{
    int n = 0;
    const int *reads = c ? formula_code_reads(c, &n) : NULL;
    push_reads(w, reads, n);
}

/* Quantity Q (-1: none that people see) leans on TABLE. */
static void note(struct findings *f, struct findings_weak *out, int *count, int room, int table, int q)
{
    int at = 0;
    while (at < *count && out[at].table != table)
        at++;
    if (at == room)
        return;
    if (at == *count)
        out[(*count)++] = (struct findings_weak){.table = table, .last = -1};
    struct findings_weak *w = &out[at];
    if (q < 0 || q == w->last)
        return;
    w->last = q;
    if (w->told < TOLD)
        base_text_addf(&w->quantities, "%s%s", w->told ? ", " : "", dieset_quantity(f->d, q)->path);
    else if (w->told == TOLD)
        base_text_add(&w->quantities, " and others");
    w->told++;
}

static void look(struct findings *f, int slot, int q, struct findings_weak *out, int *count, int room)
{
    int table, row, column;
    if (dieset_slot_cell(f->d, slot, &table, &row, &column) &&
        table_cell_confidence(dieset_tables(f->d), table, row, column) == TABLE_MEMORY)
        note(f, out, count, room, table, q);
}

static bool leans_to_fault(const struct findings_trial *t)
{
    return t->rule->n_rungs > 0 && t->rule->rungs[0].grade == HANDBOOK_FAULT;
}

static bool *walk_down(struct findings *f)
{
    int slots = model_count(dieset_model(f->d));
    struct walk w = {f, base_alloc((size_t)(slots + 1) * sizeof(int)), base_alloc((size_t)slots + 1), 0};
    for (size_t i = 0; i < f->now->trials.count; i++) {
        const struct findings_trial *t = &f->now->trials.at[i];
        if (!leans_to_fault(t))
            continue;
        push_code(&w, t->when);
        push_code(&w, t->value);
        for (int g = 0; g < t->rule->n_rungs; g++)
            push_code(&w, t->rungs[g]);
    }
    while (w.depth > 0) {
        int n;
        const int *reads = model_reads(dieset_model(f->d), w.stack[--w.depth], &n);
        push_reads(&w, reads, n);
    }
    free(w.stack);
    return w.seen;
}

/* The slots that may lean on a table, anew where formulas have changed. */
static void find_leaning(struct findings *f)
{
    struct model *m = dieset_model(f->d);
    struct findings_bound *b = f->now;
    if (b->leaning.when && !model_codes_moved(m, b->leaning.when))
        return;
    bool *seen = walk_down(f);
    for (int slot = 0; slot < model_count(m); slot++)
        seen[slot] = seen[slot] && model_code(m, slot) && formula_code_picks(model_code(m, slot));
    b->leaning.at.count = 0;
    for (int q = 0; q < dieset_quantity_count(f->d); q++)
        for (int s = 0; s < DIESET_STATES; s++) {
            int slot = dieset_quantity(f->d, q)->slot[s]; /* -1: geometry's */
            if (slot >= 0 && seen[slot])
                base_vec_push(&b->leaning.at, ((struct findings_leaning){slot, q}));
        }
    for (int slot = 0; slot < model_count(m); slot++)
        if (seen[slot] && dieset_of_slot(f->d, slot, NULL) < 0)
            base_vec_push(&b->leaning.at, ((struct findings_leaning){slot, -1}));
    free(seen);
    b->leaning.when = model_now(m);
}

/* Told in the job's order, not in that of the walk. */
int findings_weak_tables(struct findings *f, struct findings_weak *out, int room)
{
    int count = 0;
    find_leaning(f);
    for (size_t i = 0; i < f->now->leaning.at.count; i++)
        look(f, f->now->leaning.at.at[i].slot, f->now->leaning.at.at[i].q, out, &count, room);
    return count;
}
