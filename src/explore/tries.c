/* One try a point, judged as an edit is. */

#include "explore/explore.h"

#include <stdlib.h>

static void take_values(struct making *m, int point)
{
    for (int i = 0; i < m->x->n_shown; i++)
        for (int s = 0; s < DIESET_STATES; s++)
            making_value(m, i, (enum dieset_state)s, point,
                         dieset_get(m->d, m->x->shown[i].path, (enum dieset_state)s));
}

static void take_findings(struct making *m, int point)
{
    const struct finding *list;
    int n = findings_judge_bare(m->f, &list);
    for (int i = 0; i < n; i++)
        making_finding(m, point, &list[i]);
}

void explore_by_tries(struct making *m)
{
    for (int i = 0; i < m->x->n && making_goes_on(m, i); i++) {
        struct typed_change changes[4];
        struct base_diag why = {0};
        int n = explore_changes(m->d, m->ask->quantity, m->x->text[i], changes);
        if (m->ask->across)
            n += explore_changes(m->d, m->ask->across->quantity, m->x->across.text[i / m->x->columns],
                                 changes + n);
        if (dieset_try(m->d, changes, n, &why) == BASE_OK) {
            take_values(m, i);
            take_findings(m, i);
        } else {
            m->x->refused[i] = base_arena_copy(&m->x->memory, why.message);
        }
        dieset_drop(m->d);
        m->x->done = base_given_up() ? i : i + 1;
    }
}
