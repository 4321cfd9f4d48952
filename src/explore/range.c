/* range.c - ranges that people would have typed: round steps about a value */

#include "explore/explore.h"

#include <math.h>

/* The steps of a scale, counted: 0 is 1, 1 is 2, 2 is 5, 3 is 10, -1 is 0.5 ... */
static double step_at(int number)
{
    static const double steps[] = {1, 2, 5};
    int ten = number >= 0 ? number / 3 : -((2 - number) / 3);
    return steps[number - 3 * ten] * pow(10, ten);
}

/* The nearest one at or over X. */
static int step_over(double x)
{
    int number = 3 * (int)floor(log10(x)) - 1;
    while (step_at(number) < x * (1 - 1e-9))
        number++;
    return number;
}

/* N points by STEP about ABOUT, all in the job's unit. What is more than nothing never runs down to
   nothing. */
static void spread(struct explore_ask *ask, struct unit_display u, double about, double step, int n)
{
    double from = about - (n / 2) * step;
    if (about > 0)
        while (from < step / 2)
            from += step;
    else if (about == 0)
        from = 0;
    ask->from = from * u.factor;
    ask->step = step * u.factor;
    ask->to = (from + (n - 1) * step) * u.factor;
    ask->points = NULL;
}

enum base_err explore_propose(struct dieset *d, const char *path, int around, struct explore_ask *out,
                              struct base_diag *why)
{
    enum { STEPS = 20 }; /* of the value itself */
    *out = (struct explore_ask){.quantity = -1};
    enum base_err err = explore_find(d, path, &out->quantity, why);
    if (err)
        return err;
    const struct dieset_quantity *q = dieset_quantity(d, out->quantity);
    struct formula_value v = dieset_value(d, out->quantity, DIESET_NEW);
    struct unit_display u = unit_display(q->type.type.dim, dieset_system(d));
    if (v.error)
        return base_fail(why, BASE_REFUSED,
                         "%s has no value to run about: %s. Tell the range: vary %s FROM TO STEP.", path,
                         formula_error_text((enum formula_error)v.error), path);
    double now = v.number / u.factor;
    bool count = unit_same(q->type.type.dim, UNIT_NUMBER) && now == round(now) && fabs(now) < STEPS;
    double step = count ? 1 : now == 0 ? pow(10, 1 - u.decimals) : step_at(step_over(fabs(now) / STEPS));
    spread(out, u, now, step, 2 * around + 1);
    return BASE_OK;
}

void explore_zoom(const struct dieset *d, struct explore_ask *ask, double about, int by)
{
    struct unit_display u = unit_display(dieset_quantity(d, ask->quantity)->type.type.dim, dieset_system(d));
    int n = ask->points ? ask->n_points : (int)((ask->to - ask->from) / ask->step + 1.5);
    double now = ask->step / u.factor;
    int over = step_over(now);
    bool on_it = step_at(over) <= now * (1 + 1e-9); /* else it lies between two of the scale */
    spread(ask, u, about / u.factor, step_at(by < 0 ? over - 1 : on_it ? over + 1 : over), n);
}
