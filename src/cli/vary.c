/* vary: a value over a range. */

#include "cli/cli.h"

#include "diewright/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOVERS = 3, MOST_ROWS = 24, POINT_ROWS = 10, MOST_SHOWN = 60 };

/* ---- what is shown ---- */

enum { RANGE = 5 }; /* words before further names */

static int find(struct dieset *d, const char *name, struct base_diag *why)
{
    int q;
    return dieset_named(d, name, &q, why) == BASE_OK ? q : -1;
}

/* The names behind --show; -1: one is not there. */
static int named(struct cli_call *c, struct dieset *d, int *out, struct base_diag *why)
{
    int n = 0;
    if (c->n_words - RANGE + 1 > MOST_SHOWN) {
        base_fail(why, BASE_REFUSED, "%d values are the most that are shown at once.", MOST_SHOWN);
        return -1;
    }
    out[n++] = find(d, c->show, why);
    for (int i = RANGE; i < c->n_words && out[n - 1] >= 0; i++)
        out[n++] = find(d, c->words[i], why);
    return out[n - 1] < 0 ? -1 : n;
}

/* Those that move most, as far as their columns stand side by side. */
static int moving(struct cli_call *c, struct dieset *d, const struct explore_ask *ask, int *out)
{
    enum { REST = 26 }; /* columns of the point, the state, what is open */
    int n = explore_movers(d, ask, out, MOVERS), kept = 0, width = REST;
    while (kept < n && (width += (int)strlen(dieset_quantity(d, out[kept])->path) + 2) <= c->options->width)
        kept++;
    return kept;
}

/* ---- as data: at,state,name,value,unit,findings ---- */

static const char *state_word(const struct explore_shown *s, int state)
{
    return !s->stateful ? "" : state == DIESET_NEW ? "new" : "ground";
}

static void put_value(const struct explore *x, int shown, int state, int point, struct report_paper *p)
{
    struct formula_value v = explore_value(x, shown, (enum dieset_state)state, point);
    struct formula_type t = x->shown[shown].type.type;
    struct unit_display u = unit_display(t.dim, x->system);
    char buf[200];
    if (t.sort == FORMULA_NUMBER)
        report_number(p, v.error ? NAN : v.number / u.factor, -1);
    else
        report_text(p, v.error ? NULL
                               : explore_print(x, shown, (enum dieset_state)state, point, buf, sizeof buf));
    report_text(p, t.sort == FORMULA_NUMBER ? u.name : NULL);
}

static void put_point(const struct explore *x, int point, struct report_paper *p)
{
    double at = x->at[point] / unit_display(x->type.type.dim, x->system).factor;
    struct base_text findings = {0};
    if (x->refused[point])
        base_text_addf(&findings, "refused: %s", x->refused[point]);
    else
        explore_findings_at(x, point, &findings);
    for (int i = 0; i < x->n_shown; i++)
        for (int s = 0; s < (x->shown[i].stateful ? DIESET_STATES : 1); s++) {
            report_number(p, at, -1);
            report_text(p, state_word(&x->shown[i], s));
            report_text(p, x->shown[i].path);
            put_value(x, i, s, point, p);
            report_text(p, base_text_get(&findings));
        }
    base_text_done(&findings);
}

static void print_data(struct cli_call *c, const struct explore *x)
{
    static const struct report_column columns[] = {
        {"at", "at", true},       {"state", "state", false}, {"name", "name", false},
        {"value", "value", true}, {"unit", "unit", false},   {"findings", "findings", false},
    };
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; i < x->n; i++)
        put_point(x, i, &p);
    cli_print(&p, c->format);
}

/* ---- for people: the plot, then the points at which something begins or ends ---- */

static bool turns(const struct explore *x, int point)
{
    if (point == 0 || point == x->n - 1 || x->n <= MOST_ROWS)
        return true;
    if (!x->refused[point] != !x->refused[point - 1])
        return true;
    for (size_t i = 0; i < x->findings.count; i++)
        if (x->findings.at[i].grades[point] != x->findings.at[i].grades[point - 1])
            return true;
    return false;
}

static int above_note(const struct explore *x, int point)
{
    int n = 0;
    for (size_t i = 0; i < x->findings.count; i++)
        n += x->findings.at[i].grades[point] >= (int)HANDBOOK_CAUTION;
    return n;
}

/* Values that no state changes stand in the row of the new set only. */
static void put_row(const struct explore *x, int point, int state, bool states, struct report_paper *p)
{
    char buf[80];
    report_text(p, state == DIESET_NEW ? x->text[point] : NULL);
    if (states)
        report_text(p, state == DIESET_NEW ? "new" : "ground");
    for (int i = 0; i < x->n_shown; i++)
        report_text(p, x->refused[point] || (state == DIESET_GROUND && !x->shown[i].stateful)
                           ? NULL : explore_print(x, i, (enum dieset_state)state, point, buf, sizeof buf));
    if (x->refused[point])
        report_text(p, state == DIESET_NEW ? "not taken" : NULL);
    else
        report_number(p, state == DIESET_NEW ? above_note(x, point) : NAN, 0);
}

static void print_points(struct cli_call *c, const struct explore *x)
{
    struct report_column columns[MOST_SHOWN + 3];
    struct report_paper p;
    int n = 0;
    bool states = false;
    columns[n++] = (struct report_column){"at", "at", true};
    for (int i = 0; i < x->n_shown; i++)
        states = states || x->shown[i].stateful;
    if (states)
        columns[n++] = (struct report_column){"state", "state", false};
    for (int i = 0; i < x->n_shown; i++)
        columns[n++] = (struct report_column){x->shown[i].path, x->shown[i].path, true};
    columns[n++] = (struct report_column){"open", "open", true};
    report_begin(&p, columns, n);
    for (int i = 0; i < x->n; i++)
        for (int s = 0; turns(x, i) && s < (states ? DIESET_STATES : 1); s++)
            put_row(x, i, s, states, &p);
    cli_print(&p, c->format);
}

static void print_plot(struct cli_call *c, const struct explore *x)
{
    struct base_text out = {0};
    explore_plot(x, x->n_shown ? 0 : -1, c->options->width, POINT_ROWS, &out);
    base_text_add(&out, "\n");
    cli_out(&out);
    print_points(c, x);
}

/* ---- the command ---- */

static int vary(struct cli_call *c, struct job *j)
{
    int shown[MOST_SHOWN];
    struct explore_ask ask;
    struct explore *x = NULL;
    struct base_diag why = {0};
    struct dieset *d = job_dieset(j);
    enum base_err err = explore_read(d, c->words[1], c->words[2], c->words[3], c->words[4], &ask, &why);
    if (err)
        return cli_complain(&why);
    ask.n_show = c->show ? named(c, d, shown, &why) : moving(c, d, &ask, shown);
    if (!ask.n_show)
        shown[ask.n_show++] = ask.quantity; /* nothing moves: the points still have findings */
    ask.show = shown;
    if (ask.n_show < 0 || explore_run(job_findings(j), &ask, &x, &why))
        return cli_complain(&why);
    if (c->format == REPORT_TEXT)
        print_plot(c, x);
    else
        print_data(c, x);
    explore_free(x);
    return CLI_DONE;
}

int cli_vary(struct cli_call *c)
{
    if (!c->show && c->n_words > RANGE)
        return cli_usage(
            c, "The command vary has no use for \"%s\"; names of values to show stand behind --show.",
            c->words[RANGE]);
    return cli_with_job(c, true, vary);
}
