/* Runs: what is asked, the points, and what is taken down at each. */

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- what is asked ------------------------------------------------------------------------------------ */

enum base_err explore_find(struct dieset *d, const char *path, int *q, struct base_diag *why)
{
    enum base_err err = dieset_named(d, path, q, why);
    if (err)
        return err;
    if (!dieset_applies(d, *q))
        return base_fail(why, BASE_REFUSED,
                         "%s is not used as the job stands: over a range it would move nothing.", path);
    const struct dieset_quantity *quantity = dieset_quantity(d, *q);
    if (quantity->type.type.sort != FORMULA_NUMBER)
        return base_fail(why, BASE_REFUSED, "%s is no number: only a number can run over a range.", path);
    if (!quantity->can_type)
        return base_fail(why, BASE_REFUSED, "%s follows from other values (%s) and cannot be typed.", path,
                         quantity->text ? quantity->text : "geometry");
    return BASE_OK;
}

/* WHAT is "range's start" and so on. */
enum base_err explore_number(struct dieset *d, int q, const char *what, const char *text, double *out,
                             struct base_diag *why)
{
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    struct formula_type want = quantity->type.type;
    struct formula_tree *tree = NULL;
    struct formula_code *code = NULL;
    char *whole = dieset_complete(d, quantity->path, text);
    enum base_err err = formula_parse(whole, &tree, why);
    if (!err)
        err = dieset_compile(d, tree, -1, -1, DIESET_NEW, NULL, &want, &code, why);
    if (!err) {
        struct formula_value v = model_run(dieset_model(d), code, NULL, NULL);
        *out = v.number;
        if (v.error)
            err = base_fail(why, BASE_REFUSED, "The %s, %s, has no value: %s.", what, text,
                            formula_error_text((enum formula_error)v.error));
    }
    formula_code_free(code);
    formula_tree_free(tree);
    free(whole);
    return err;
}

static double points_of(const struct explore_ask *a)
{
    return a->points ? a->n_points : floor((a->to - a->from) / a->step + 1e-9) + 1;
}

static enum base_err check_range(const struct dieset *d, const struct explore_ask *a, struct base_diag *why)
{
    struct unit_dim dim = dieset_quantity(d, a->quantity)->type.type.dim;
    struct unit_system system = dieset_system(d);
    char from[60], to[60], step[60];
    unit_print(a->from, dim, system, from, sizeof from);
    unit_print(a->to, dim, system, to, sizeof to);
    unit_print(a->step, dim, system, step, sizeof step);
    if (a->points)
        return a->n_points > 0 && a->n_points <= EXPLORE_MOST
                   ? BASE_OK
                   : base_fail(why, BASE_REFUSED, "A run has 1 to %d points, not %d.", EXPLORE_MOST,
                               a->n_points);
    if (!isfinite(a->from) || !isfinite(a->to) || !isfinite(a->step))
        return base_fail(why, BASE_REFUSED,
                         "A range runs between two numbers by a third; one of them is none.");
    if (a->step <= 0)
        return base_fail(why, BASE_REFUSED, "The step must be more than nothing; it is %s.", step);
    if (a->from > a->to)
        return base_fail(why, BASE_REFUSED, "The range ends before it begins: from %s to %s.", from, to);
    if (points_of(a) > EXPLORE_MOST)
        return base_fail(why, BASE_REFUSED, "From %s to %s by %s are %.0f points; %d are the most.", from, to,
                         step, points_of(a), EXPLORE_MOST);
    return BASE_OK;
}

enum base_err explore_read(struct dieset *d, const char *path, const char *from, const char *to,
                           const char *step, struct explore_ask *out, struct base_diag *why)
{
    *out = (struct explore_ask){.quantity = -1};
    enum base_err err = explore_find(d, path, &out->quantity, why);
    if (!err)
        err = explore_number(d, out->quantity, "range's start", from, &out->from, why);
    if (!err)
        err = explore_number(d, out->quantity, "range's end", to, &out->to, why);
    if (!err)
        err = explore_number(d, out->quantity, "step", step, &out->step, why);
    return err ? err : check_range(d, out, why);
}

/* ---- what moves most ---------------------------------------------------------------------------------- */

struct mover { int quantity; bool plain; double low[DIESET_STATES], high[DIESET_STATES]; };

/* Coordinates and measures of patterns are many and say little. */
static bool may_show(const struct dieset_quantity *q)
{
    return q->item >= 0 && q->property && q->property->how != HANDBOOK_LET &&
           q->type.type.sort == FORMULA_NUMBER && q->type.sort == HANDBOOK_NUMBER;
}

static void widen(struct mover *v, int state, struct formula_value x)
{
    if (x.error)
        return;
    v->low[state] = fmin(v->low[state], x.number);
    v->high[state] = fmax(v->high[state], x.number);
}

/* By which share of itself, in the state in which it moves more. */
static double moved(const struct mover *v)
{
    double most = 0;
    for (int s = 0; s < DIESET_STATES; s++) {
        double size = fmax(fabs(v->low[s]), fabs(v->high[s])), by = v->high[s] - v->low[s];
        if (isfinite(by) && by > 1e-9 && by > 1e-9 * size)
            most = fmax(most, by / size);
    }
    return most;
}

static int most_moved_first(const void *a, const void *b)
{
    const struct mover *p = a, *q = b;
    double x = moved(p), y = moved(q);
    if (p->plain != q->plain)
        return p->plain ? -1 : 1;
    return x != y ? (x > y ? -1 : 1) : (p->quantity > q->quantity) - (p->quantity < q->quantity);
}

/* Look at the die set with VALUE typed. */
static void sample(struct dieset *d, const struct explore_ask *ask, double value, struct mover *all, int n)
{
    struct typed_change changes[2];
    char *text = unit_typed(dieset_quantity(d, ask->quantity)->type.type.dim, dieset_system(d), value);
    int count = explore_changes(d, ask->quantity, text, changes);
    const char **paths = base_alloc((size_t)(n + 1) * sizeof *paths);
    for (int i = 0; i < n; i++)
        paths[i] = base_copy(dieset_quantity(d, all[i].quantity)->path);
    if (dieset_try(d, changes, count, NULL) == BASE_OK)
        for (int i = 0; i < n; i++)
            for (int s = 0; s < DIESET_STATES; s++)
                widen(&all[i], s, dieset_get(d, paths[i], (enum dieset_state)s));
    dieset_drop(d);
    for (int i = 0; i < n; i++)
        free((void *)(uintptr_t)paths[i]);
    free(paths);
    free(text);
}

int explore_movers(struct dieset *d, const struct explore_ask *ask, int *out, int room)
{
    int n = 0;
    struct mover *all = base_alloc((size_t)(dieset_quantity_count(d) + 1) * sizeof *all);
    for (int q = 0; q < dieset_quantity_count(d); q++)
        if (q != ask->quantity && may_show(dieset_quantity(d, q)) && dieset_applies(d, q))
            all[n++] = (struct mover){
                q, dieset_quantity(d, q)->property->plain, {INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
    sample(d, ask, ask->from, all, n);
    sample(d, ask, (ask->from + ask->to) / 2, all, n);
    sample(d, ask, ask->to, all, n);
    qsort(all, (size_t)n, sizeof *all, most_moved_first);
    int count = 0;
    for (int i = 0; i < n && count < room &&
                    (all[i].plain || count == 0 || !dieset_quantity(d, out[0])->property->plain);
         i++)
        if (moved(&all[i]) > 0)
            out[count++] = all[i].quantity;
    free(all);
    return count;
}

/*  points ------------------------------------------------------------------------------------------------ */

/* Point I of ASK: what is typed, and where it stands. */
static const char *point_text(struct making *m, const struct explore_ask *ask, int i, double *at)
{
    struct formula_value v;
    struct formula_type t;
    *at = ask->points ? ask->points[i] : ask->from + i * ask->step;
    if (ask->texts)
        return base_arena_copy(&m->x->memory, ask->names ? ask->names[i] : ask->texts[i]);
    char *text = unit_typed(dieset_quantity(m->d, ask->quantity)->type.type.dim, m->x->system, *at);
    /* the number is the one that the text reads back as */
    if (handbook_eval(dieset_handbook(m->d), text, &v, &t, NULL) == BASE_OK && !v.error)
        *at = v.number;
    const char *kept = base_arena_copy(&m->x->memory, text);
    free(text);
    return kept;
}

static void make_across(struct making *m)
{
    struct explore *x = m->x;
    const struct explore_ask *ask = m->ask->across;
    const struct dieset_quantity *q = dieset_quantity(m->d, ask->quantity);
    x->across.path = base_arena_copy(&x->memory, q->path);
    x->across.type = q->type;
    x->across.n = (int)points_of(ask);
    x->across.at = base_arena_alloc(&x->memory, (size_t)x->across.n * sizeof *x->across.at);
    x->across.text = base_arena_alloc(&x->memory, (size_t)x->across.n * sizeof *x->across.text);
    for (int i = 0; i < x->across.n; i++)
        x->across.text[i] = point_text(m, ask, i, &x->across.at[i]);
}

static void make_points(struct making *m)
{
    struct explore *x = m->x;
    x->columns = (int)points_of(m->ask);
    if (m->ask->across)
        make_across(m);
    x->n = x->columns * (m->ask->across ? x->across.n : 1);
    x->even = !m->ask->points;
    x->named = m->ask->names != NULL;
    x->at = base_arena_alloc(&x->memory, (size_t)x->n * sizeof *x->at);
    x->text = base_arena_alloc(&x->memory, (size_t)x->n * sizeof *x->text);
    x->refused = base_arena_alloc(&x->memory, (size_t)x->n * sizeof *x->refused);
    for (int i = 0; i < x->n; i++) {
        if (i < x->columns)
            x->text[i] = point_text(m, m->ask, i, &x->at[i]);
        x->text[i] = x->text[i % x->columns];
        x->at[i] = x->at[i % x->columns];
    }
}

static const char *title_of(struct explore *x, const struct dieset_quantity *q)
{
    return base_arena_copy(&x->memory, q->title && *q->title ? q->title : q->name);
}

static bool stateful(const struct dieset_quantity *q)
{
    return q->slot[DIESET_NEW] != q->slot[DIESET_GROUND];
}

static void make_shown(struct making *m)
{
    struct explore *x = m->x;
    x->n_shown = m->ask->n_show;
    x->shown = base_arena_alloc(&x->memory, (size_t)(x->n_shown + 1) * sizeof *x->shown);
    for (int i = 0; i < x->n_shown; i++) {
        const struct dieset_quantity *q = dieset_quantity(m->d, m->ask->show[i]);
        x->shown[i] = (struct explore_shown){base_arena_copy(&x->memory, q->path), title_of(x, q), q->type,
                                             q->property ? q->property->decimals : -1, stateful(q)};
    }
    size_t n = (size_t)x->n * (size_t)(x->n_shown + 1) * DIESET_STATES;
    x->values = base_arena_alloc(&x->memory, n * sizeof *x->values);
    for (size_t i = 0; i < n; i++)
        x->values[i] = (struct formula_value){.error = FORMULA_EMPTY, .origin = -1};
}

/* ---- findings ------------------------------------------------------------------------------------------ */

/* Once all is told: where a waiver of the job lets a finding stand it is not open. */
static void waive(struct making *m)
{
    for (size_t i = 0; i < m->told.count; i++) {
        struct explore_finding *f = &m->x->findings.at[i];
        for (int point = 0; point < m->x->n; point++) {
            struct finding x = making_told_at(m, (int)i, point);
            if (f->grades[point] < 0 || findings_waiver(m->f, &x) < 0)
                continue;
            f->grades[point] = EXPLORE_WAIVED;
            f->waived++;
        }
        free(m->told.at[i].at);
    }
    base_vec_done(&m->told);
}

struct ordered { struct explore_finding f; int rule; };

static int gravest_first(const void *a, const void *b)
{
    const struct ordered *p = a, *q = b;
    if (p->f.grade != q->f.grade)
        return p->f.grade > q->f.grade ? -1 : 1;
    return p->rule != q->rule ? p->rule - q->rule : strcmp(p->f.key, q->f.key);
}

static void sort_findings(struct making *m)
{
    size_t n = m->x->findings.count;
    struct ordered *all = base_alloc((n + 1) * sizeof *all);
    for (size_t i = 0; i < n; i++)
        all[i] = (struct ordered){m->x->findings.at[i],
                                  handbook_find_rule(dieset_handbook(m->d), m->x->findings.at[i].rule)};
    qsort(all, n, sizeof *all, gravest_first);
    for (size_t i = 0; i < n; i++)
        m->x->findings.at[i] = all[i].f;
    free(all);
}

/* ---- the run ------------------------------------------------------------------------------------------- */

static enum base_err take_points(struct making *m, struct base_diag *why)
{
    explore_by_tries(m);
    for (int i = m->x->done; i < m->x->n; i++)
        m->x->refused[i] = "broken off before it was tried";
    return m->x->done ? BASE_OK
                      : base_fail(why, BASE_REFUSED, "Broken off before any of the %d points was taken down.",
                                  m->x->n);
}

static void begin(struct making *m)
{
    struct explore *x = m->x;
    const struct dieset_quantity *q = dieset_quantity(m->d, m->ask->quantity);
    struct formula_value now = dieset_value(m->d, m->ask->quantity, DIESET_NEW);
    x->d = m->d;
    x->path = base_arena_copy(&x->memory, q->path);
    x->title = title_of(x, q);
    x->type = q->type;
    x->decimals = q->property ? q->property->decimals : -1;
    x->system = dieset_system(m->d);
    x->now = now.error ? NAN : now.number;
}

enum base_err explore_run(struct findings *f, const struct explore_ask *ask, struct explore **out,
                          struct base_diag *why)
{
    struct making m = {.x = base_alloc(sizeof *m.x), .d = findings_dieset(f), .f = f, .ask = ask};
    struct findings_kept *before = findings_keep(f);
    begin(&m);
    enum base_err err = check_range(m.d, ask, why);
    err = err || !ask->across ? err : check_range(m.d, ask->across, why);
    if (!err && ask->across && points_of(ask) * points_of(ask->across) > EXPLORE_MOST)
        err = base_fail(why, BASE_REFUSED, "%.0f by %.0f points are too many; %d are the most.",
                        points_of(ask), points_of(ask->across), EXPLORE_MOST);
    if (!err) {
        make_points(&m);
        make_shown(&m);
        if (m.x->type.type.sort == FORMULA_NUMBER && !m.x->named)
            explore_stock(&m);
        err = take_points(&m, why);
    }
    waive(&m);
    if (!err) {
        sort_findings(&m);
        if (!ask->across && m.x->type.type.sort == FORMULA_NUMBER && !m.x->named)
            explore_limits(&m);
    }
    findings_restore(f, before);
    findings_kept_free(before);
    base_map_done(&m.keys);
    *out = err ? NULL : m.x;
    if (err)
        explore_free(m.x);
    return err;
}

void explore_free(struct explore *x)
{
    if (!x)
        return;
    base_vec_done(&x->findings);
    base_vec_done(&x->limits);
    base_arena_done(&x->memory);
    free(x);
}

/* ---- reading it ---------------------------------------------------------------------------------------- */

const char *explore_print(const struct explore *x, int shown, enum dieset_state s, int point, char *buf,
                          size_t size)
{
    struct formula_value v = explore_value(x, shown, s, point);
    struct formula_type t = x->shown[shown].type.type;
    if (!v.error && t.sort == FORMULA_ITEM) {
        snprintf(buf, size, "%s", dieset_item_title(x->d, (int)v.number));
        return buf;
    }
    return handbook_print(dieset_handbook(x->d), v, t, x->system, buf, size);
}

const char *explore_grade_text(int grade)
{
    return grade == EXPLORE_WAIVED ? "waived" : handbook_grade_text((enum handbook_grade)grade);
}

bool explore_clear(const struct explore *x, int point)
{
    bool clear = !x->refused[point];
    for (size_t i = 0; i < x->findings.count && clear; i++)
        clear = x->findings.at[i].grades[point] < (int)HANDBOOK_CAUTION;
    return clear;
}

int explore_nearest(const struct explore *x, double value)
{
    int best = 0;
    for (int i = 1; i < x->n; i++)
        if (fabs(x->at[i] - value) < fabs(x->at[best] - value))
            best = i;
    return best;
}

void explore_findings_at(const struct explore *x, int point, struct base_text *out)
{
    for (int g = HANDBOOK_FAULT; g >= EXPLORE_WAIVED; g--)
        for (size_t i = 0; i < x->findings.count; i++) {
            const char *key = x->findings.at[i].key;
            int n = (int)strlen(key);
            if (x->findings.at[i].grades[point] != g)
                continue;
            while (n > 0 && key[n - 1] == ' ') /* of the die set as a whole */
                n--;
            base_text_addf(out, "%s%s %.*s", out->length ? "; " : "", explore_grade_text(g), n, key);
        }
}
