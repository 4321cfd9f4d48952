/* place/pattern.c - another pattern, with what the handbook begins it with */

#include "place/own.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* The job's large step of the plan, 0: it has none. */
static double stride(const struct place *p)
{
    int job = dieset_item_of_kind(p->d, DIESET_JOB);
    double mm = job < 0 ? NAN : dieset_number(p->d, job, "plan_stride", DIESET_NEW);
    return isfinite(mm) && mm > 0 ? mm : 0;
}

/* A start is worked out by the job itself, then typed as a round figure. */
static void round_start(struct place *p, const struct handbook_take *take, const char *path)
{
    struct formula_value v = place_take_value(p, take);
    double step = v.error || !place_is_length(take) ? 0 : stride(p);
    if (step <= 0)
        return;
    double rounded = round(v.number / step) * step;
    char *text = place_length(p, rounded > 0 ? rounded : v.number);
    place_put(p, path, text);
    free(text);
}

bool place_pattern(struct place *p, const char *pattern, const char *plate)
{
    const struct handbook_take *begun[64];
    int n = 0;
    snprintf(p->lay, sizeof p->lay, "%s on %s", pattern, plate);
    const struct handbook_pattern *has = place_has(p);
    if (!has || !place_try(p))
        return false;
    for (int i = 0; i < has->n_takes; i++) {
        const struct handbook_take *take = &has->takes[i];
        if (place_take_value(p, take).error && take->start)
            begun[n++] = take;
    }
    for (int i = 0; i < n; i++) {
        char *path = typed_of_take(begun[i]->name);
        place_put(p, path, formula_text(begun[i]->start));
        free(path);
    }
    if (n == 0 || !place_try(p))
        return n == 0;
    for (int i = 0; i < n; i++) {
        char *path = typed_of_take(begun[i]->name);
        round_start(p, begun[i], path);
        free(path);
    }
    return place_try(p);
}
