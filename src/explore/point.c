/* point.c - what stands at one point of a run, in sentences */

#include "explore/explore.h"

#include <math.h>
#include <string.h>

/* "stack.shut_height 222.0 mm, ground 214.0 mm" */
static void put_value(const struct explore *x, int shown, int point, struct base_text *out)
{
    char is_new[200], ground[200];
    explore_print(x, shown, DIESET_NEW, point, is_new, sizeof is_new);
    explore_print(x, shown, DIESET_GROUND, point, ground, sizeof ground);
    base_text_addf(out, "%s %s", x->shown[shown].path, is_new);
    if (x->shown[shown].stateful && strcmp(is_new, ground) != 0)
        base_text_addf(out, ", ground %s", ground);
}

static bool is_least(const struct explore_limit *l)
{
    return l->relation == FORMULA_AT_LEAST || l->relation == FORMULA_MORE;
}

static double spare_to(const struct explore_limit *l, double value)
{
    return is_least(l) ? value - l->limit : l->limit - value;
}

/* What value SHOWN has to spare to limit I at POINT; false: it is not set to it, or has no figure there. */
static bool find_spare(const struct explore *x, size_t i, int shown, int point, double *out)
{
    const struct explore_limit *l = &x->limits.at[i];
    struct formula_value v = explore_value(x, shown, l->state, point);
    if (l->shown != shown || v.error || l->relation == FORMULA_EQUAL || l->relation == FORMULA_UNEQUAL)
        return false;
    *out = spare_to(l, v.number);
    return true;
}

/* Of the limits of one rule that look the same way, grades and states, the nearest is told. */
static bool is_nearest(const struct explore *x, size_t i, int shown, int point, double spare)
{
    const struct explore_limit *l = &x->limits.at[i];
    for (size_t k = 0; k < x->limits.count; k++) {
        const struct explore_limit *o = &x->limits.at[k];
        double other;
        if (k != i && strcmp(o->rule, l->rule) == 0 && o->relation == l->relation &&
            find_spare(x, k, shown, point, &other) && (other < spare || (other == spare && k < i)))
            return false;
    }
    return true;
}

static void put_spare(const struct explore *x, int shown, int point, struct base_text *out)
{
    for (size_t i = 0; i < x->limits.count; i++) {
        double spare;
        char by[60], limit[60];
        const struct explore_limit *l = &x->limits.at[i];
        struct unit_dim dim = x->shown[shown].type.type.dim;
        if (!find_spare(x, i, shown, point, &spare) || !is_nearest(x, i, shown, point, spare))
            continue;
        unit_print(fabs(spare), dim, x->system, by, sizeof by);
        base_text_addf(out, "; %s %s %s", l->title, explore_relation(l->relation),
                       unit_print_number(l->limit, dim, x->system, limit, sizeof limit));
        base_text_addf(out, spare < 0 ? " !! %s by %s" : ", %.0s%s to spare", is_least(l) ? "short" : "over",
                       by);
    }
}

int explore_closest(const struct explore *x, int point)
{
    int best = 0;
    double least = INFINITY;
    for (size_t i = 0; i < x->limits.count; i++) {
        const struct explore_limit *l = &x->limits.at[i];
        double spare, size = fabs(l->limit);
        if (size > 0 && find_spare(x, i, l->shown, point, &spare) && fabs(spare) / size < least) {
            least = fabs(spare) / size;
            best = l->shown;
        }
    }
    return best;
}

static void put_findings(const struct explore *x, int point, struct base_text *out)
{
    int notes = 0, waived = 0, n = 0;
    for (size_t i = 0; i < x->findings.count; i++) {
        const struct explore_finding *f = &x->findings.at[i];
        notes += f->grades[point] == HANDBOOK_NOTE;
        waived += f->grades[point] == EXPLORE_WAIVED;
        if (f->grades[point] <= (int)HANDBOOK_NOTE)
            continue;
        base_text_addf(out, "%s%s %s%s%s", n++ ? "; " : "", explore_grade_text(f->grades[point]), f->title,
                       *f->subject ? ", " : "", f->subject);
    }
    if (!n)
        base_text_add(out, "nothing above note");
    if (notes)
        base_text_addf(out, "; %d note%s", notes, notes == 1 ? "" : "s");
    if (waived)
        base_text_addf(out, "; %d waived", waived);
}

void explore_point(const struct explore *x, int shown, int point, struct base_text *out)
{
    base_text_addf(out, "at %s", x->text[point]);
    if (x->refused[point]) {
        base_text_addf(out, "   not taken: %s\n", x->refused[point]);
        return;
    }
    if (shown >= 0 && shown < x->n_shown) {
        base_text_add(out, "   ");
        put_value(x, shown, point, out);
        put_spare(x, shown, point, out);
    }
    base_text_add(out, "\n");
    put_findings(x, point, out);
    base_text_add(out, "\n");
    int n = 0;
    for (int i = 0; i < x->n_shown; i++) {
        if (i == shown)
            continue;
        base_text_add(out, n++ ? "; " : "");
        put_value(x, i, point, out);
    }
    base_text_add(out, n ? "\n" : "");
}
