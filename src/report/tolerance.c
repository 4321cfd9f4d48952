/* What is made within limits, and what comes of it: one value whole, all chains, rules at the worst case. */

#include "report/words.h"

#include <stdlib.h>

/* One more than screens show: limits are small beside what they belong to. */
static int decimals_of(const struct dieset *d, struct formula_type type)
{
    struct unit_display u = unit_display(type.dim, dieset_system(d));
    return unit_same(type.dim, UNIT_LENGTH) ? (unit_is_inch(dieset_system(d)) ? 4 : 3) : u.decimals + 1;
}

static void number(const struct dieset *d, double v, struct formula_type type, struct report_paper *p)
{
    report_number(p, v / unit_display(type.dim, dieset_system(d)).factor, decimals_of(d, type));
}

static void three(const struct dieset *d, double drawn, double low, double high, struct formula_type type,
                  struct report_paper *p)
{
    number(d, drawn, type, p);
    number(d, low, type, p);
    number(d, high, type, p);
}

/* ---- one value ----------------------------------------------------------------------------------------- */

static void result(const struct dieset *d, const struct tolerance *t, const char *what, double low,
                   double high, struct report_paper *p)
{
    report_text(p, t->title);
    report_text(p, what);
    three(d, t->drawn, low, high, t->type, p);
    report_text(p, unit_display(t->type.dim, dieset_system(d)).name);
    for (int i = 0; i < 4; i++)
        report_text(p, NULL);
}

static void part(const struct dieset *d, const struct tolerance *t, const struct tolerance_part *part,
                 struct report_paper *p)
{
    report_text(p, t->title);
    report_text(p, part->title);
    three(d, part->drawn, part->low, part->high, part->type, p);
    report_text(p, unit_display(part->type.dim, dieset_system(d)).name);
    number(d, part->up - part->down, t->type, p);
    report_number(p, 100 * part->share, 1);
    report_number(p, 100 * part->squares, 1);
    report_text(p, part->source);
}

static void whole(const struct dieset *d, const struct tolerance *t, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"of", NULL, false},         {"what", "what", false},  {"drawn", "drawn", true},
        {"lower", "lower", true},    {"upper", "upper", true}, {"unit", "unit", false},
        {"by", "by", true},          {"share", "%", true},     {"squares", NULL, true},
        {"limits", "limits", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_line_above(p, "%s, in %s%s%s", t->title, unit_display(t->type.dim, dieset_system(d)).name,
                      t->help ? ". " : "", t->help ? t->help : "");
    result(d, t, "worst case", t->worst_low, t->worst_high, p);
    result(d, t, "root of squares", t->middle - t->root, t->middle + t->root, p);
    if (t->samples) {
        result(d, t, "sampled, all", t->least, t->most, p);
        result(d, t, "sampled, 99.73 %", t->nearly_low, t->nearly_high, p);
    }
    if (t->parts.count)
        report_line_within(p, "What moves it, most first: by so much from its lower to its upper limit");
    for (size_t i = 0; i < t->parts.count; i++)
        part(d, t, &t->parts.at[i], p);
    if (!t->parts.count)
        report_line_below(p, "Nothing that is made within limits moves it.");
    report_line_below(p,
                      "One set is built once: the worst case is what fits and clearances must bear; the root "
                      "of squares is for information.");
    if (t->samples)
        report_line_below(p,
                          "Sampled: %d sets, seed %u, each size evenly between its limits, no matter what "
                          "the others are.",
                          t->samples, t->seed);
}

/* ---- all chains --------------------------------------------------------------------------------------- */

static void chains_begin(struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"chain", "chain", false},      {"item", "of", false},       {"drawn", "drawn", true},
        {"worst_lower", "worst", true}, {"worst_upper", "to", true}, {"root_lower", "root sq", true},
        {"root_upper", "to", true},     {"unit", "unit", false},     {"most", "moves it most", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_cut(p);
    report_line_below(p, "One of them whole: its name, and its item's.");
}

static void chains_row(const struct dieset *d, const struct tolerance_ask *ask, const struct tolerance *t,
                       struct report_paper *p)
{
    report_text(p, handbook_chain(dieset_handbook(d), ask->chain)->name);
    report_text(p, ask->item < 0 ? NULL : dieset_item_name(d, ask->item));
    three(d, t->drawn, t->worst_low, t->worst_high, t->type, p);
    number(d, t->middle - t->root, t->type, p);
    number(d, t->middle + t->root, t->type, p);
    report_text(p, unit_display(t->type.dim, dieset_system(d)).name);
    report_text(p, t->parts.count ? t->parts.at[0].title : NULL);
}

/* ---- rules at the worst case -------------------------------------------------------------------------- */

static void put_rules(const struct dieset *d, const struct tolerance_worst *w, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"grade", "grade", false}, {"rule", "rule", false},        {"item", "item", false},
        {"state", "state", false}, {"drawn", "spare drawn", true}, {"worst", "at worst", true},
        {"unit", "unit", false},   {"takes", "by: ", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    for (size_t i = 0; i < w->at.count; i++) {
        const struct findings_turned *t = &w->at.at[i].f;
        report_text(p, handbook_grade_text(t->grade));
        report_text(p, t->rule->name);
        report_text(p, t->item < 0 ? NULL : dieset_item_name(d, t->item));
        report_text(p, t->state == DIESET_NEW ? "new" : "ground");
        number(d, t->margin, t->type, p);
        number(d, t->worst, t->type, p);
        report_text(p, unit_display(t->type.dim, dieset_system(d)).name);
        report_text(p, *w->at.at[i].parts ? w->at.at[i].parts : NULL);
    }
    report_line_above(
        p,
        "Rules that hold as drawn, or fail by a lower grade, and do not with each of %d sizes at "
        "the worse of its limits",
        w->sizes);
    if (!w->at.count)
        report_line_below(p, "No rule turns.");
    report_line_below(p, "Rules over holes, over what geometry measures, and of yes and no are as drawn.");
}

enum base_err report_worst(struct findings *f, struct report_paper *p, struct base_diag *why)
{
    struct tolerance_worst w;
    enum base_err err = tolerance_rules(f, &w, why);
    if (!err)
        put_rules(findings_dieset(f), &w, p);
    tolerance_worst_done(&w);
    return err;
}

/* ---- what words ask for ------------------------------------------------------------------------------- */

enum { MOST_ASKED = 1000 };

/* All that is meant, into OUT, which holds MOST_ASKED. */
static enum base_err asked_for(struct dieset *d, const char *name, const char *item,
                               struct tolerance_ask *out, int *n, struct base_diag *why)
{
    struct base_diag absent = {0};
    *n = 0;
    if (*name)
        return tolerance_read(d, name, *item ? item : NULL, out, MOST_ASKED, n, why);
    for (int i = 0; i < handbook_chain_count(dieset_handbook(d)); i++) {
        const char *chain = handbook_chain(dieset_handbook(d), i)->name;
        int more = 0;
        if (tolerance_read(d, chain, NULL, out + *n, MOST_ASKED - *n, &more, &absent) == BASE_OK)
            *n += more; /* else it is not there as the job stands */
    }
    return BASE_OK;
}

static enum base_err put_asked(struct dieset *d, const struct tolerance_ask *asked, int n, bool list,
                               struct report_paper *p, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (int i = 0; i < n && !err; i++) {
        struct tolerance *t;
        err = tolerance_run(d, &asked[i], &t, why);
        if (!err && list)
            chains_row(d, &asked[i], t, p);
        else if (!err)
            whole(d, t, p);
        tolerance_free(t);
    }
    return err;
}

enum base_err report_tolerance(struct dieset *d, const char *name, const char *item,
                               const struct tolerance_ask *how, struct report_paper *p, struct base_diag *why)
{
    int n;
    struct tolerance_ask *asked = base_alloc(MOST_ASKED * sizeof *asked);
    enum base_err err = asked_for(d, name, item, asked, &n, why);
    bool list = n != 1;
    for (int i = 0; i < n; i++) {
        asked[i].state = how->state;
        asked[i].seed = how->seed;
        asked[i].samples = list ? 0 : how->samples;
    }
    if (!err) {
        if (list)
            chains_begin(p);
        err = put_asked(d, asked, n, list, p, why);
        if (err && list)
            report_done(p);
    }
    free(asked);
    return err;
}
