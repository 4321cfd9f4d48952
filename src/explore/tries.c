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

/* All that is typed at POINT. */
static int changes_at(const struct making *m, int point, struct typed_change *changes)
{
    const struct explore_ask *ask = m->ask;
    int along = point % m->x->columns, n = 0;
    const char *text = ask->names ? ask->texts[along] : m->x->text[point];
    if (*text)
        n += explore_changes(m->d, ask->quantity, text, changes);
    for (int k = 0; k < ask->n_also; k++)
        if (*ask->also[k].texts[along])
            n += explore_changes(m->d, ask->also[k].quantity, ask->also[k].texts[along], changes + n);
    if (ask->across)
        n += explore_changes(m->d, ask->across->quantity, m->x->across.text[point / m->x->columns],
                             changes + n);
    return n;
}

void explore_by_tries(struct making *m)
{
    struct typed_change *changes = base_alloc(2 * (size_t)(m->ask->n_also + 2) * sizeof *changes);
    for (int i = 0; i < m->x->n && making_goes_on(m, i); i++) {
        struct base_diag why = {0};
        int n = changes_at(m, i, changes);
        if (dieset_try(m->d, changes, n, &why) == BASE_OK) {
            take_values(m, i);
            take_findings(m, i);
        } else {
            m->x->refused[i] = base_arena_copy(&m->x->memory, why.message);
        }
        dieset_drop(m->d);
        m->x->done = base_given_up() ? i : i + 1;
    }
    free(changes);
}
