/* vary: a value over a range. */

#include "cli/cli.h"

#include "diewright/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { MOVERS = 3, MOST_ROWS = 24, POINT_ROWS = 10, MAP_ROWS = 20, MOST_SHOWN = 60 };

/* ---- what is shown ---- */

/* Does what runs stand in two words: NAME listed, or NAME and values parted by commas? */
static bool is_list(const char *word)
{
    return strcmp(word, "listed") == 0 || (strchr(word, ',') && !strchr(word, '('));
}

/* Words before further names: the job alone, where the rows of a file run. */
static int range_words(const struct cli_call *c)
{
    return c->rows ? 1 : c->n_words > 2 && is_list(c->words[2]) ? 3 : 5;
}

static int find(struct dieset *d, const char *name, struct base_diag *why)
{
    int q;
    return dieset_named(d, name, &q, why) == BASE_OK ? q : -1;
}

/* The names behind --show; -1: one is not there. */
static int named(struct cli_call *c, struct dieset *d, int *out, struct base_diag *why)
{
    int n = 0;
    int range = range_words(c);
    if (c->n_words - range + 1 > MOST_SHOWN) {
        base_fail(why, BASE_REFUSED, "%d values are the most that are shown at once.", MOST_SHOWN);
        return -1;
    }
    out[n++] = find(d, c->show, why);
    for (int i = range; i < c->n_words && out[n - 1] >= 0; i++)
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

/* Where a point stands: a number in the job's unit, or what is typed there. */
static void put_at(const struct explore *x, struct handbook_type type, double at, const char *text,
                   struct report_paper *p)
{
    if (type.type.sort == FORMULA_NUMBER && !x->named)
        report_number(p, at / unit_display(type.type.dim, x->system).factor, -1);
    else
        report_text(p, text);
}

static void put_point(const struct explore *x, int point, struct report_paper *p)
{
    int row = point / x->columns;
    struct base_text findings = {0};
    if (x->refused[point])
        base_text_addf(&findings, "refused: %s", x->refused[point]);
    else
        explore_findings_at(x, point, &findings);
    for (int i = 0; i < x->n_shown; i++)
        for (int s = 0; s < (x->shown[i].stateful ? DIESET_STATES : 1); s++) {
            if (x->across.n)
                put_at(x, x->across.type, x->across.at[row], x->across.text[row], p);
            put_at(x, x->type, x->at[point], x->text[point], p);
            report_text(p, state_word(&x->shown[i], s));
            report_text(p, x->shown[i].path);
            put_value(x, i, s, point, p);
            report_text(p, base_text_get(&findings));
        }
    base_text_done(&findings);
}

static void print_data(struct cli_call *c, const struct explore *x, const int *order)
{
    static const struct report_column columns[] = {
        {"across", "across", true}, {"at", "at", true},
        {"state", "state", false},  {"name", "name", false},
        {"value", "value", true}, {"unit", "unit", false},   {"findings", "findings", false},
    };
    struct report_paper p;
    int skip = x->across.n ? 0 : 1;
    report_begin(&p, columns + skip, (int)COUNT_OF(columns) - skip);
    for (int i = 0; i < x->n; i++)
        put_point(x, order[i], &p);
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
    if (x->across.n)
        report_text(p, state == DIESET_NEW ? x->across.text[point / x->columns] : NULL);
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

static void print_points(struct cli_call *c, const struct explore *x, const int *order)
{
    struct report_column columns[MOST_SHOWN + 4];
    struct report_paper p;
    int n = 0;
    bool states = false;
    if (x->across.n)
        columns[n++] = (struct report_column){"across", "across", true};
    columns[n++] = x->named ? (struct report_column){"variant", "variant", false}
                            : (struct report_column){"at", "at", true};
    for (int i = 0; i < x->n_shown; i++)
        states = states || x->shown[i].stateful;
    if (states)
        columns[n++] = (struct report_column){"state", "state", false};
    for (int i = 0; i < x->n_shown; i++)
        columns[n++] = (struct report_column){x->shown[i].path, x->shown[i].path, true};
    columns[n++] = (struct report_column){"open", "open", true};
    report_begin(&p, columns, n);
    for (int i = 0; i < x->n; i++)
        for (int s = 0; (c->sort || x->named || turns(x, i)) && s < (states ? DIESET_STATES : 1); s++)
            put_row(x, order[i], s, states, &p);
    cli_print(&p, c->format);
}

/* What each variant brings, in the shop's words, below the table. */
static void print_variants(struct cli_call *c, const struct explore *x, const int *order)
{
    struct base_text out = {0};
    for (int i = 0; i < x->n; i++) {
        int point = order[i];
        char *first = base_format("%s: ", x->text[point]);
        if (x->refused[point])
            cli_wrap(&out, first, x->refused[point], 2, c->options->width);
        for (size_t k = 0; k < x->findings.count; k++) {
            const struct explore_finding *f = &x->findings.at[k];
            if (f->grades[point] < (int)HANDBOOK_CAUTION)
                continue;
            char *line = base_format("%s %s%s%s", explore_grade_text(f->grades[point]), f->title,
                                     *f->subject ? ", " : "", f->subject);
            cli_wrap(&out, first, line, 2, c->options->width);
            free(line);
        }
        free(first);
    }
    cli_out(&out);
}

static void print_plot(struct cli_call *c, const struct explore *x, const int *order)
{
    struct base_text out = {0};
    if (x->named) {
        print_points(c, x, order);
        print_variants(c, x, order);
        return;
    }
    if (x->across.n)
        explore_map(x, c->options->width, MAP_ROWS, &out);
    else if (x->type.type.sort == FORMULA_NUMBER)
        explore_plot(x, x->n_shown ? 0 : -1, c->options->width, POINT_ROWS, &out);
    if (!x->across.n || c->sort || x->n <= MOST_ROWS) {
        base_text_add(&out, out.length ? "\n" : "");
        cli_out(&out);
        print_points(c, x, order);
    } else {
        cli_out(&out);
    }
}

/* ---- sorted ---- */

struct ranked { int point; double by; };

/* What has no value stands last; what is the same, as it was tried. */
static int least_first(const void *a, const void *b)
{
    const struct ranked *p = a, *q = b;
    if (isnan(p->by) != isnan(q->by))
        return isnan(p->by) ? 1 : -1;
    return p->by < q->by ? -1 : p->by > q->by ? 1 : p->point - q->point;
}

/* The points in the order in which they are told, by shown value SHOWN as it is new (-1: as they were
 * tried). */
static int *ordered(const struct explore *x, int shown)
{
    struct ranked *all = base_alloc((size_t)x->n * sizeof *all + 1);
    int *order = base_alloc((size_t)x->n * sizeof *order + 1);
    for (int i = 0; i < x->n; i++) {
        struct formula_value v = shown < 0 ? (struct formula_value){0} : explore_value(x, shown, DIESET_NEW,
        i); all[i] = (struct ranked){i, v.error ? NAN : v.number};
    }
    qsort(all, (size_t)x->n, sizeof *all, least_first);
    for (int i = 0; i < x->n; i++)
        order[i] = all[i].point;
    free(all);
    return order;
}

static int shown_named(const struct explore *x, const char *name)
{
    int i = x->n_shown - 1;
    while (i >= 0 && strcmp(x->shown[i].path, name) != 0)
        i--;
    return i;
}

/* ---- the command ---- */

static int print_run(struct cli_call *c, const struct explore *x)
{
    int by = c->sort ? shown_named(x, c->sort) : -1;
    if (c->sort && by < 0)
        return cli_usage(c, "What is sorted by is one of the values shown: --show %s.", c->sort);
    int *order = ordered(x, by);
    if (c->format == REPORT_TEXT)
        print_plot(c, x, order);
    else
        print_data(c, x, order);
    free(order);
    return CLI_DONE;
}

/* ---- variants kept as jobs ---- */

/* Variant POINT of A as the job PATH, begun like J. */
static int save_one(struct job *j, const struct explore_axis *a, int point, const char *path)
{
    struct base_diag why = {0};
    const char *paths[1 + EXPLORE_VALUES], *texts[1 + EXPLORE_VALUES];
    struct job *variant = NULL;
    int n = 0;
    for (int k = -1; k < a->ask.n_also; k++) {
        int q = k < 0 ? a->ask.quantity : a->ask.also[k].quantity;
        texts[n] = k < 0 ? a->ask.texts[point] : a->ask.also[k].texts[point];
        paths[n] = dieset_quantity(job_dieset(j), q)->path;
        n += *texts[n] != '\0';
    }
    char *text = dieset_text_write_set(job_dieset(j));
    enum base_err err = start_begin(dieset_handbook(job_dieset(j)), path, text, job_file(j), paths, texts, n,
                                    &variant, &why);
    job_close(variant);
    free(text);
    return err ? cli_complain(&why) : CLI_DONE;
}

/* A name that is a path, or one that is there, is refused before anything is written. */
static int check_names(const struct cli_call *c, const struct explore *x)
{
    for (int i = 0; i < x->n; i++) {
        char *path = base_format("%s/%s.diejob", c->save, x->text[i]);
        bool there = access(path, F_OK) == 0;
        free(path);
        if (strchr(x->text[i], '/') || x->text[i][0] == '.')
            return cli_usage(c, "The variant %s cannot be the name of a file.", x->text[i]);
        if (there && !x->refused[i])
            return cli_usage(c, "%s/%s.diejob exists already: name another folder.", c->save, x->text[i]);
    }
    return CLI_DONE;
}

static int save_all(struct cli_call *c, struct job *j, const struct explore_axis *a, const struct explore *x)
{
    int status = check_names(c, x), saved = 0;
    for (int i = 0; i < x->n && !status; i++) {
        char *path = base_format("%s/%s.diejob", c->save, x->text[i]);
        if (!x->refused[i]) {
            status = save_one(j, a, i, path);
            saved += !status;
        }
        free(path);
    }
    if (!status && c->format == REPORT_TEXT)
        cli_say(stdout, "%d of %d variants saved in %s.\n", saved, x->n, c->save);
    return status;
}

/* What variants differ in. */
static int differing(const struct explore_ask *ask, int *out)
{
    int n = 0;
    out[n++] = ask->quantity;
    for (int i = 0; i < ask->n_also; i++)
        out[n++] = ask->also[i].quantity;
    return n;
}

/* The values that are shown, into SHOWN; then the run. */
static int run(struct cli_call *c, struct job *j, const struct explore_axis *axis)
{
    struct explore_ask copy = axis->ask, *ask = &copy;
    int shown[MOST_SHOWN];
    struct explore *x = NULL;
    struct base_diag why = {0};
    struct dieset *d = job_dieset(j);
    bool even = !ask->points;
    ask->n_show = c->show      ? named(c, d, shown, &why)
                  : ask->names ? differing(ask, shown)
                  : even       ? moving(c, d, ask, shown)
                               : 0;
    if (!ask->n_show)
        shown[ask->n_show++] = ask->quantity; /* nothing moves: the points still have findings */
    ask->show = shown;
    if (ask->n_show < 0 || explore_run(job_findings(j), ask, &x, &why))
        return cli_complain(&why);
    int status = print_run(c, x);
    if (!status && c->save)
        status = save_all(c, j, axis, x);
    explore_free(x);
    return status;
}

static enum base_err read_rows(const char *file, struct dieset *d, struct explore_axis *out,
                               struct base_diag *why)
{
    char *text = NULL;
    size_t length = 0;
    *out = (struct explore_axis){0};
    enum base_err err = base_read_file(file, &text, &length, why);
    if (!err)
        err = explore_axis_rows(d, file, text, length, out, why);
    free(text);
    return err;
}

static int vary(struct cli_call *c, struct job *j)
{
    struct explore_axis along, across = {0};
    struct base_diag why = {0};
    struct dieset *d = job_dieset(j);
    enum base_err err =
        c->rows ? read_rows(c->rows, d, &along, &why)
                : explore_axis_read(d, (const char *const *)c->words + 1, range_words(c) - 1, &along, &why);
    if (!err && c->across) {
        err = explore_axis_text(d, c->across, &across, &why);
        along.ask.across = &across.ask;
        if (!err && across.ask.quantity == along.ask.quantity)
            err = base_fail(&why, BASE_REFUSED, "%s runs already: the second value is another one.",
    c->words[1]); }
    int status = err ? cli_complain(&why) : run(c, j, &along);
    explore_axis_done(&along);
    explore_axis_done(&across);
    return status;
}

int cli_vary(struct cli_call *c)
{
    int range = range_words(c);
    if (c->n_words < range)
        return cli_usage(c, "The command vary needs more than stands here.");
    if (c->rows ? c->across != NULL : c->save != NULL)
        return cli_usage(c, c->rows ? "The rows of a file run alone: leave --across out."
                                    : "What --save keeps are variants: name their file with --rows.");
    if (!c->show && c->n_words > range)
        return cli_usage(
            c, "The command vary has no use for \"%s\"; names of values to show stand behind --show.",
            c->words[range]);
    return cli_with_job(c, true, vary);
}
