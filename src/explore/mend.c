/* What would clear a finding: values tried one after the other, the nearest first, until the finding is gone.
 *
 * Three ways to step, by what the value is: through a list (sizes of a table, choices, items), by ones (counts), or along the
 * numbers, doubling the step until the finding clears and then halving back to the smallest change that does. The grid of the
 * numbers is the last digit that screens show, so that what is proposed is what would be typed.
 */

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    FURTHEST = 24,  /* listed values tried on each side */
    DOUBLINGS = 15, /* of the smallest step */
};

struct trial {
    struct findings *f;
    struct dieset *d;
    const char *key, *path;
};

/* ---- one try ---- */

static bool stands(struct findings *f, const char *key)
{
    const struct finding *list;
    int n = findings_judge(f, &list);
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return true;
    return false;
}

/* A number at an end of its range, error when there is none. */
static struct formula_value end_of_range(const struct dieset *d, const struct dieset_quantity *q, const struct formula_tree *tree)
{
    struct formula_value v = {.error = FORMULA_EMPTY};
    if (tree && handbook_eval_tree(dieset_handbook(d), tree, &q->type.type, &v, NULL, NULL) != BASE_OK)
        v.error = FORMULA_EMPTY;
    return v;
}

static bool in_range(const struct dieset *d, int q)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    struct formula_value is = dieset_value(d, q, DIESET_NEW);
    if (!v->property || v->type.type.sort != FORMULA_NUMBER)
        return true;
    struct formula_value low = end_of_range(d, v, v->property->low), high = end_of_range(d, v, v->property->high);
    double noise = 1e-9 * fabs(is.number);
    return !is.error && (low.error || is.number >= low.number - noise) && (high.error || is.number <= high.number + noise);
}

/* Type TEXT at the value in a try, which stays open when it is taken. */
static bool type(struct trial *t, const char *text)
{
    struct store_change changes[2];
    int n = explore_changes(t->d, dieset_find(t->d, t->path), text, changes);
    if (dieset_try(t->d, changes, n, NULL) != BASE_OK)
        return false;
    int q = dieset_find(t->d, t->path);
    if (q >= 0 && in_range(t->d, q))
        return true;
    dieset_drop(t->d);
    return false;
}

/* Does TEXT clear the finding? */
static bool clears(struct trial *t, const char *text)
{
    bool gone = text && type(t, text) && !stands(t->f, t->key);
    dieset_drop(t->d);
    return gone;
}

/* ---- through a list ---- */

struct listed { char *text; double number; };
typedef BASE_VEC(struct listed) listed_vec;

static void forget(listed_vec *v)
{
    for (size_t i = 0; i < v->count; i++)
        free(v->at[i].text);
    base_vec_done(v);
}

static int by_number(const void *a, const void *b)
{
    double x = ((const struct listed *)a)->number, y = ((const struct listed *)b)->number;
    return (x > y) - (x < y);
}

static char *cell_text(struct dieset *d, const struct table_column_spec *c, const struct table_cell *cell)
{
    return c->is_text ? base_format("\"%s\"", base_pool_text(handbook_pool(dieset_handbook(d)), cell->text))
                      : unit_typed(c->dim, dieset_system(d), cell->number);
}

/* The sizes of table rows, each once: numbers ascending, names as they are listed. */
static void list_sizes(struct dieset *d, const struct explore_listed *l, listed_vec *out)
{
    const struct table_set *set = dieset_tables(d);
    const struct table_column_spec *c = &table_spec(set, l->table)->columns[l->column];
    for (int i = 0; i < l->n; i++) {
        const struct table_cell *cell = table_cell(set, l->table, l->rows ? l->rows[i] : i, l->column);
        double number = c->is_text ? cell->text : cell->number;
        bool there = cell->empty;
        for (size_t k = 0; k < out->count && !there; k++)
            there = out->at[k].number == number;
        if (!there)
            base_vec_push(out, ((struct listed){cell_text(d, c, cell), number}));
    }
    if (!c->is_text && out->count)
        qsort(out->at, out->count, sizeof *out->at, by_number);
}

static void list_others(struct dieset *d, const struct dieset_quantity *q, listed_vec *out)
{
    if (q->type.sort == HANDBOOK_YESNO) {
        base_vec_push(out, ((struct listed){base_copy("no"), 0}));
        base_vec_push(out, ((struct listed){base_copy("yes"), 1}));
    } else if (q->type.sort == HANDBOOK_CHOICE && q->property) {
        for (int i = 0; i < q->property->n_choices; i++) {
            const char *choice = q->property->choices[i];
            base_vec_push(out, ((struct listed){base_format("\"%s\"", choice), base_pool_put(handbook_pool(dieset_handbook(d)), choice)}));
        }
    } else if (q->type.sort == HANDBOOK_ITEM) {
        for (int i = 0; i < dieset_item_count(d); i++)
            if (dieset_item_kind(d, i) == q->type.type.kind)
                base_vec_push(out, ((struct listed){base_copy(dieset_item_name(d, i)), i}));
    }
}

/* Where the value stands in the list: the first not below it; *EXACT: it is this one. */
static int place_in(const listed_vec *v, struct formula_value now, bool ordered, bool *exact)
{
    *exact = false;
    for (size_t i = 0; i < v->count; i++) {
        if (now.error ? true : ordered ? v->at[i].number >= now.number - 1e-6 : v->at[i].number == now.number) {
            *exact = !now.error && fabs(v->at[i].number - now.number) <= 1e-6;
            return (int)i;
        }
    }
    return ordered ? (int)v->count : 0;
}

/* Outward from where it stands, up and down in turn. */
static char *through_list(struct trial *t, const listed_vec *v, struct formula_value now, bool ordered)
{
    bool exact;
    int at = place_in(v, now, ordered, &exact), up = at + exact, down = at - 1;
    for (int k = 0; k < FURTHEST; k++, up++, down--) {
        const int sides[] = {up, down};
        for (int s = 0; s < 2; s++)
            if (sides[s] >= 0 && sides[s] < (int)v->count && clears(t, v->at[sides[s]].text))
                return base_copy(v->at[sides[s]].text);
    }
    return NULL;
}

/* ---- along the numbers ---- */

struct grid { struct unit_dim dim; enum unit_system system; double step; bool whole; };

static char *at_grid(const struct grid *g, double number)
{
    char whole[24];
    snprintf(whole, sizeof whole, "%.0f", number);
    return g->whole ? base_copy(whole) : unit_typed(g->dim, g->system, number);
}

/* FROM, a number on the grid, and K steps further, TEXT of it yours to free(). */
static char *steps_away(const struct grid *g, double from, double k)
{
    return at_grid(g, (from + k) * g->step);
}

static bool clears_at(struct trial *t, const struct grid *g, double from, double k)
{
    char *text = steps_away(g, from, k);
    bool gone = clears(t, text);
    free(text);
    return gone;
}

/* It clears at FAR steps and not at NEAR: the fewest between that do. */
static double fewest(struct trial *t, const struct grid *g, double from, double near, double far)
{
    while (fabs(far - near) > 1) {
        double middle = trunc((near + far) / 2);
        if (middle == near || middle == far)
            break;
        if (clears_at(t, g, from, middle))
            far = middle;
        else
            near = middle;
    }
    return far;
}

static char *along_numbers(struct trial *t, const struct grid *g, double now)
{
    double from = round(now / g->step), last = 0;
    for (int i = 0; i < DOUBLINGS; i++) {
        double k = i == 0 ? 1 : 2 * last;
        for (int sign = 1; sign >= -1; sign -= 2)
            if (clears_at(t, g, from, sign * k))
                return steps_away(g, from, fewest(t, g, from, sign * last, sign * k));
        last = k;
    }
    return NULL;
}

/* The last digit that screens show, of what is not zero there; of a plain number a hundredth. */
static struct grid grid_of(const struct dieset *d, const struct dieset_quantity *q)
{
    struct unit_display u = unit_display(q->type.type.dim, dieset_system(d));
    struct grid g = {q->type.type.dim, dieset_system(d), 1, q->type.sort == HANDBOOK_COUNT};
    int decimals = q->property && q->property->decimals >= 0 ? q->property->decimals : u.decimals;
    if (!g.whole)
        g.step = u.factor * pow(10, -(unit_same(g.dim, UNIT_NUMBER) && decimals < 2 && !*u.name ? 2 : decimals));
    return g;
}

/* ---- one value ---- */

/* The nearest text that clears the finding, NULL when none does; yours to free(). */
static char *nearest_cure(struct trial *t, int q, bool *sized)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    struct formula_value now = dieset_value(t->d, q, DIESET_NEW);
    struct explore_listed l;
    listed_vec list = {0};
    char *text = NULL;
    *sized = explore_listed(t->d, q, &l);
    if (*sized)
        list_sizes(t->d, &l, &list);
    else
        list_others(t->d, v, &list);
    bool number = v->type.type.sort == FORMULA_NUMBER;
    if (list.count) {
        text = through_list(t, &list, now, number);
    } else if (number && v->type.sort != HANDBOOK_YESNO) {
        struct grid g = grid_of(t->d, v);
        text = along_numbers(t, &g, now.error ? 0 : now.number);
    }
    forget(&list);
    return text;
}

/* ---- what it brings along ---- */

static void add_finding(struct base_text *out, const struct finding *x)
{
    base_text_addf(out, "%s%s %s", out->length ? "; " : "", handbook_grade_text(x->grade), x->key);
}

static void tell_findings(struct trial *t, const struct findings_kept *before, struct explore_mend *m, struct explore_proposal *p)
{
    const struct finding *now, *old;
    int n_now = findings_list(t->f, &now), n_old = findings_kept_list(before, &old);
    bool *came = base_alloc((size_t)n_now + 1), *went = base_alloc((size_t)n_old + 1);
    struct base_text comes = {0}, goes = {0};
    findings_compare(before, t->f, came, went);
    for (int i = 0; i < n_now; i++)
        if (came[i]) {
            p->came[now[i].grade]++;
            add_finding(&comes, &now[i]);
        }
    for (int i = 0; i < n_old; i++)
        if (went[i] && strcmp(old[i].key, t->key) != 0)
            add_finding(&goes, &old[i]);
    p->comes = base_arena_copy(&m->memory, base_text_get(&comes));
    p->goes = base_arena_copy(&m->memory, base_text_get(&goes));
    base_text_done(&comes);
    base_text_done(&goes);
    free(came);
    free(went);
}

static void tell_moves(struct trial *t, struct explore_mend *m, struct explore_proposal *p)
{
    const struct dieset_move *moves;
    const struct handbook *h = dieset_handbook(t->d);
    struct base_text sizes = {0};
    int n = dieset_moves(t->d, &moves);
    for (int i = 0; i < n; i++) {
        char was[80], is[80];
        handbook_print(h, moves[i].was, moves[i].type, dieset_system(t->d), was, sizeof was);
        handbook_print(h, moves[i].is, moves[i].type, dieset_system(t->d), is, sizeof is);
        if (strcmp(moves[i].path, t->path) == 0 || strcmp(was, is) == 0)
            continue;
        p->moved++;
        if (dieset_mark(t->d, dieset_find(t->d, moves[i].path)) == DIESET_PICKED)
            base_text_addf(&sizes, "%s%s %s -> %s", sizes.length ? "; " : "", moves[i].path, was, is);
    }
    p->sizes = base_arena_copy(&m->memory, base_text_get(&sizes));
    base_text_done(&sizes);
}

static void propose(struct trial *t, struct explore_mend *m, const char *text, bool sized)
{
    char buf[120];
    struct base_arena *a = &m->memory;
    int q = dieset_find(t->d, t->path);
    struct explore_proposal p = {.path = t->path, .listed = sized, .text = base_arena_copy(a, text),
                                 .title = base_arena_copy(a, dieset_quantity(t->d, q)->title),
                                 .was = base_arena_copy(a, dieset_print(t->d, q, DIESET_NEW, buf, sizeof buf))};
    findings_judge(t->f, NULL);
    struct findings_kept *before = findings_keep(t->f);
    if (type(t, text)) {
        findings_judge(t->f, NULL);
        p.is = base_arena_copy(a, dieset_print(t->d, dieset_find(t->d, t->path), DIESET_NEW, buf, sizeof buf));
        tell_findings(t, before, m, &p);
        tell_moves(t, m, &p);
        base_vec_push(&m->at, p);
    }
    dieset_drop(t->d);
    findings_kept_free(before);
}

/* ---- all of them ---- */

/* Does the rule itself name cures? Without them a finding offers what it hangs on, of which only a free number is worth a try: nobody
 * turns a blanked hole into a formed one to be rid of a thin wall. */
static bool names_cures(const struct handbook *h, const char *rule)
{
    int i = handbook_find_rule(h, rule);
    return i < 0 || handbook_rule(h, i)->n_mends > 0; /* what cannot be judged names its origin */
}

struct explore_mend *explore_mend_new(struct findings *f, const char *key)
{
    const struct finding *list;
    const struct dieset *d = findings_dieset(f);
    int n = findings_list(f, &list), at = 0;
    while (at < n && strcmp(list[at].key, key) != 0)
        at++;
    if (at == n)
        return NULL;
    struct explore_mend *m = base_alloc(sizeof *m);
    m->key = base_arena_copy(&m->memory, key);
    bool named = names_cures(dieset_handbook(d), list[at].rule);
    for (int i = list[at].n_mends; i-- > 0;) {
        const struct dieset_quantity *q = dieset_quantity(d, list[at].mends[i]);
        bool free_number = q->typed && q->type.sort == HANDBOOK_NUMBER;
        if (q->can_type && (named || free_number))
            base_vec_push(&m->left, base_arena_copy(&m->memory, q->path));
    }
    return m;
}

bool explore_mend_more(struct findings *f, struct explore_mend *m)
{
    if (!m->left.count)
        return false;
    struct trial t = {f, findings_dieset(f), m->key, m->left.at[--m->left.count]};
    bool sized = false;
    int q = dieset_find(t.d, t.path);
    char *text = q >= 0 ? nearest_cure(&t, q, &sized) : NULL;
    if (text)
        propose(&t, m, text, sized);
    else
        base_vec_push(&m->hopeless, t.path);
    free(text);
    findings_judge(f, NULL);
    return true;
}

void explore_mend_free(struct explore_mend *m)
{
    if (!m)
        return;
    base_vec_done(&m->at);
    base_vec_done(&m->hopeless);
    base_vec_done(&m->left);
    base_arena_done(&m->memory);
    free(m);
}
