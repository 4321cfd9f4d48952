/* Blocks of points through the compiled formulas. The value is typed once, in one try that is dropped at the
 * end; then its slot alone varies.
 */

#include "explore/explore.h"

enum { LANES = 64 };

struct block { struct making *m; int first; };

static void tell(void *arg, int lane, const struct finding *x)
{
    const struct block *b = arg;
    making_finding(b->m, lane < 0 ? -1 : b->first + lane, x);
}

static void take_values(struct making *m, struct model_lanes *lanes, int first, int n)
{
    for (int i = 0; i < m->x->n_shown; i++) {
        int q = dieset_find(m->d, m->x->shown[i].path);
        for (int s = 0; s < DIESET_STATES && q >= 0; s++) {
            int slot = dieset_quantity(m->d, q)->slot[s];
            for (int lane = 0; lane < n; lane++)
                making_value(m, i, (enum dieset_state)s, first + lane,
                             slot >= 0 ? model_lanes_value(lanes, slot, lane)
                                       : dieset_value(m->d, q, (enum dieset_state)s));
        }
    }
}

/* A measure is right only where its point is shown. */
static void take_measures(struct making *m, struct dieset_lanes *lanes, int first, int n)
{
    for (int i = 0; i < m->x->n_shown; i++) {
        int q = dieset_find(m->d, m->x->shown[i].path),
            slot = q < 0 ? -1 : dieset_quantity(m->d, q)->slot[DIESET_NEW];
        if (slot < 0 || dieset_lanes_hang(lanes, slot) != DIESET_HANGS_SHOWN)
            continue;
        for (int lane = 0; lane < n; lane++) {
            dieset_lanes_show(lanes, lane);
            for (int s = 0; s < DIESET_STATES; s++)
                making_value(m, i, (enum dieset_state)s, first + lane,
                             dieset_value(m->d, q, (enum dieset_state)s));
        }
    }
}

static void run_blocks(struct making *m, struct dieset_lanes *lanes, struct findings_lanes *rules)
{
    struct model_lanes *model = dieset_lanes_model(lanes);
    for (int first = 0; first < m->x->n && making_goes_on(m, first); first += LANES) {
        int n = m->x->n - first < LANES ? m->x->n - first : LANES;
        struct block block = {m, first};
        model_lanes_run(model, m->x->at + first, n);
        take_values(m, model, first, n);
        take_measures(m, lanes, first, n);
        findings_lanes_judge(rules, n, tell, &block);
    }
}

bool explore_by_lanes(struct making *m)
{
    struct typed_change changes[2];
    int n = explore_changes(m->d, m->ask->quantity, m->x->text[0], changes);
    struct dieset_lanes *lanes = NULL;
    struct findings_lanes *rules = NULL;
    if (dieset_try(m->d, changes, n, NULL) == BASE_OK) {
        int q = dieset_find(m->d, m->x->path);
        lanes = q < 0 ? NULL : dieset_lanes_new(m->d, q, m->x->n < LANES ? m->x->n : LANES);
    }
    if (lanes)
        rules = findings_lanes_new(m->f, lanes);
    if (rules)
        run_blocks(m, lanes, rules);
    bool done = rules != NULL;
    findings_lanes_free(rules);
    dieset_lanes_free(lanes);
    dieset_drop(m->d);
    return done;
}
