/* What would clear a finding: values tried one after the other, the nearest first, until the finding is gone.
 *
 * Three ways to step, by what the value is: through a list (sizes of a table, choices, items), by ones
 * (counts), or along the numbers, in growing strides until the finding clears and then halving back to the
 * smallest change that does. The numbers are first those that a shop would write down, then the last digit
 * that screens show. What stands at a point or is given by a formula is stepped as that formula and so much
 * more, so that it goes on following its plate.
 *
 * What clears the finding and brings or worsens a fault, or brings another finding of the same grade, is no
 * cure: it is proposed behind all others, with the reason, and so is what changes what the job is given, what
 * the table of its size states, or what somebody typed with a reason.
 *
 * A try asks first whether the finding itself still stands, then whether what spoiled the last try comes
 * again; only what is through both is judged whole. Nobody waits for a search without end: a finding has so
 * many tries and so many steps of work, and what was not tried to the end for want of them is told. Halving
 * back, once something clears, takes a handful more: what is proposed is the smallest change.
 */

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    FURTHEST = 24,  /* listed values tried on each side */
    STRIDES = 22,   /* each a third farther than the one before */
    TRIES = 400,    /* of one finding */
    STEPS = 450000, /* of base_steps(), for one finding */
};

/* What spoiled a try: the same spoils most others in that direction. */
struct spoiler { char *rule, *key; int item, plate; };

struct trial {
    struct findings *f;
    struct dieset *d;
    struct explore_mend *m;
    const char *key, *path;
    const char *rule;                    /* of the finding, and what it is about */
    int item, plate;
    enum handbook_grade grade;           /* of the finding */
    const struct findings_kept *before;  /* what stands without the proposal */
    struct spoiler spoiler;
    long begun;                          /* base_steps() then */
    bool halving;                        /* something clears: it is brought back to the smallest that does */
    bool cut;                            /* there were no more tries for this value */
};

/* What a text at the value makes of the finding. */
enum outcome { STANDS, CLEARS, CURES }; /* CLEARS: by something as bad */

/* ---- one try ---- */

/* Does X speak of how a value was typed, or of where a figure is read: it comes with any edit. */
static bool about_typing(const struct dieset *d, const struct finding *x)
{
    int r = handbook_find_rule(dieset_handbook(d), x->rule);
    enum handbook_over over = r < 0 ? HANDBOOK_ONCE : handbook_rule(dieset_handbook(d), r)->over;
    return over == HANDBOOK_EACH_TYPED || over == HANDBOOK_EACH_WEAK;
}

/* The grade that KEY was open with before, -1: it was not. */
static int grade_before(const struct trial *t, const char *key)
{
    const struct finding *old;
    for (int n = findings_kept_list(t->before, &old); n-- > 0;)
        if (strcmp(old[n].key, key) == 0)
            return old[n].waiver ? -1 : (int)old[n].grade;
    return -1;
}

/* X, of the list as it is now, is as bad as what it would cure: a fault that came or fails by more than it
 * did, or another finding of no lower grade that came. */
static bool is_as_bad(const struct trial *t, const struct finding *x)
{
    if ((x->grade != HANDBOOK_FAULT && x->grade < t->grade) || about_typing(t->d, x) ||
        !findings_worse(t->before, x))
        return false;
    return x->grade == HANDBOOK_FAULT || (int)x->grade > grade_before(t, x->key);
}

static void forget_spoiler(struct spoiler *s)
{
    free(s->rule);
    free(s->key);
    *s = (struct spoiler){0};
}

static void note_spoiler(struct trial *t, const struct finding *x)
{
    forget_spoiler(&t->spoiler);
    if (strcmp(x->rule, FINDINGS_UNJUDGED) != 0)
        t->spoiler = (struct spoiler){base_copy(x->rule), base_copy(x->key), x->item, x->plate};
}

/* Does the finding stand, by its own rule; what cannot be judged stands in the way of many. */
static bool stands_alone(const struct trial *t)
{
    return strcmp(t->rule, FINDINGS_UNJUDGED) != 0 &&
           findings_judge_one(t->f, t->rule, t->key, t->item, t->plate);
}

static bool spoiled_again(const struct trial *t)
{
    const struct spoiler *s = &t->spoiler;
    const struct finding *x = s->key ? findings_judge_one(t->f, s->rule, s->key, s->item, s->plate) : NULL;
    return x && is_as_bad(t, x);
}

/* CURES is the last that matters to the caller: what cannot be one is not asked about further. */
static enum outcome judged(struct trial *t)
{
    if (stands_alone(t))
        return STANDS;
    if (strcmp(t->rule, FINDINGS_UNJUDGED) != 0 && spoiled_again(t))
        return CLEARS;
    const struct finding *list, *bad = NULL;
    int n = findings_judge_bare(t->f, &list);
    for (int i = 0; i < n; i++) {
        if (strcmp(list[i].key, t->key) == 0)
            return STANDS;
        if (!bad && is_as_bad(t, &list[i]))
            bad = &list[i];
    }
    if (bad)
        note_spoiler(t, bad);
    return bad ? CLEARS : CURES;
}

/* A number at an end of its range, error when there is none. */
static struct formula_value end_of_range(const struct dieset *d, const struct dieset_quantity *q,
                                         const struct formula_tree *tree)
{
    struct formula_value v = {.error = FORMULA_EMPTY};
    if (tree && handbook_eval_tree(dieset_handbook(d), tree, &q->type.type, &v, NULL, NULL) != BASE_OK)
        v.error = FORMULA_EMPTY;
    return v;
}

/* How a text is taken: not, or out of the value's range on this side. */
enum taken { TAKEN, REFUSED, BELOW, ABOVE };

static enum taken within(const struct dieset *d, const struct dieset_quantity *v, double is)
{
    struct formula_value low = end_of_range(d, v, v->property->low),
                         high = end_of_range(d, v, v->property->high);
    double noise = 1e-9 * fabs(is);
    return !low.error && is < low.number - noise     ? BELOW
           : !high.error && is > high.number + noise ? ABOVE
                                                     : TAKEN;
}

static enum taken in_range(const struct dieset *d, int q)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    struct formula_value is = dieset_value(d, q, DIESET_NEW);
    if (!v->property || v->type.type.sort != FORMULA_NUMBER)
        return TAKEN;
    return is.error ? REFUSED : within(d, v, is.number);
}

/* Type TEXT at the value in a try, which stays open when it is taken. */
static enum taken type(struct trial *t, const char *text)
{
    struct typed_change changes[2];
    int n = explore_changes(t->d, dieset_find(t->d, t->path), text, changes);
    if (dieset_try(t->d, changes, n, NULL) != BASE_OK)
        return REFUSED;
    int q = dieset_find(t->d, t->path);
    enum taken how = q >= 0 ? in_range(t->d, q) : REFUSED;
    if (how != TAKEN)
        dieset_drop(t->d);
    return how;
}

/* There is one more try for this finding. */
static bool one_more(struct trial *t)
{
    struct explore_mend *m = t->m;
    bool spent = m->tries >= TRIES || m->steps + base_steps() - t->begun >= STEPS;
    t->cut = t->cut || (spent && !t->halving);
    m->tries += !t->cut;
    return !t->cut && !base_given_up();
}

static enum outcome outcome_of(struct trial *t, const char *text, enum taken *how)
{
    enum outcome out = STANDS;
    *how = REFUSED;
    if (!text || !one_more(t))
        return STANDS;
    *how = type(t, text);
    if (*how == TAKEN)
        out = judged(t);
    dieset_drop(t->d);
    return out;
}

/* The better of two texts; the other is freed. */
static char *better(char *old, enum outcome *had, char *text, enum outcome has)
{
    if (has <= *had) {
        free(text);
        return old;
    }
    free(old);
    *had = has;
    return text;
}

/* ---- through a list ---- */

static void list_others(struct dieset *d, const struct dieset_quantity *q, struct explore_sizes *out)
{
    if (q->type.sort == HANDBOOK_YESNO) {
        base_vec_push(&out->at, ((struct explore_size){base_copy("no"), 0, -1}));
        base_vec_push(&out->at, ((struct explore_size){base_copy("yes"), 1, -1}));
    } else if (q->type.sort == HANDBOOK_CHOICE && q->property) {
        for (int i = 0; i < q->property->n_choices; i++) {
            const char *choice = q->property->choices[i];
            int number = base_pool_put(handbook_pool(dieset_handbook(d)), choice);
            base_vec_push(&out->at, ((struct explore_size){base_format("\"%s\"", choice), number, -1}));
        }
    } else if (q->type.sort == HANDBOOK_ITEM) {
        for (int i = 0; i < dieset_item_count(d); i++)
            if (dieset_item_kind(d, i) == q->type.type.kind)
                base_vec_push(&out->at, ((struct explore_size){base_copy(dieset_item_name(d, i)), i, -1}));
    }
}

/* Where the value stands in the list: the first not below it; *EXACT: it is this one. */
static int place_in(const struct explore_sizes *v, struct formula_value now, bool ordered, bool *exact)
{
    *exact = false;
    for (size_t i = 0; i < v->at.count; i++) {
        if (now.error ? true
            : ordered ? v->at.at[i].number >= now.number - 1e-6
                      : v->at.at[i].number == now.number) {
            *exact = !now.error && fabs(v->at.at[i].number - now.number) <= 1e-6;
            return (int)i;
        }
    }
    return ordered ? (int)v->at.count : 0;
}

/* Outward from where it stands, up and down in turn. */
static char *through_list(struct trial *t, const struct explore_sizes *v, struct formula_value now,
                          bool ordered, enum outcome *how)
{
    bool exact;
    enum taken taken;
    int at = place_in(v, now, ordered, &exact), up = at + exact, down = at - 1;
    char *best = NULL;
    for (int k = 0; k < FURTHEST && *how < CURES; k++, up++, down--) {
        const int sides[] = {up, down};
        for (int s = 0; s < 2 && *how < CURES; s++)
            if (sides[s] >= 0 && sides[s] < (int)v->at.count)
                best = better(best, how, base_copy(v->at.at[sides[s]].text),
                              outcome_of(t, v->at.at[sides[s]].text, &taken));
    }
    return best;
}

/* ---- along the numbers ---- */

/* Numbers BASE + K steps; with a text of BASE they are written as that formula and so much more. */
struct grid {
    struct unit_dim dim;
    struct unit_system system;
    double step, base;
    const char *base_text;
    bool whole;
};

/* Step K of the grid as it would be typed, yours to free(). */
static char *at_step(const struct grid *g, double k)
{
    if (g->whole)
        return base_format("%.0f", k);
    char *number = unit_typed(g->dim, g->system, g->base_text ? fabs(k) * g->step : k * g->step);
    char *text = !g->base_text ? number
                 : k == 0      ? base_copy(g->base_text)
                               : base_format("%s %c %s", g->base_text, k < 0 ? '-' : '+', number);
    if (g->base_text)
        free(number);
    return text;
}

/* A whole number or a plain one out of range is told so before anything is bound for it. */
static enum taken plainly(const struct trial *t, const struct grid *g, double k)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, dieset_find(t->d, t->path));
    return g->base_text || !v->property ? TAKEN : within(t->d, v, k * g->step);
}

static enum outcome outcome_at(struct trial *t, const struct grid *g, double k, enum taken *how)
{
    *how = plainly(t, g, k);
    if (*how != TAKEN)
        return STANDS;
    char *text = at_step(g, k);
    enum outcome out = outcome_of(t, text, how);
    free(text);
    return out;
}

/* At step FAR it is as good as *LEAST, at NEAR not: the nearest between that is, and how good it is. */
static double fewest(struct trial *t, const struct grid *g, double near, double far, enum outcome *least)
{
    enum outcome wanted = *least;
    t->halving = true;
    while (fabs(far - near) > 1 && !base_given_up()) {
        enum taken taken;
        double middle = trunc((near + far) / 2);
        if (middle == near || middle == far)
            break;
        enum outcome there = outcome_at(t, g, middle, &taken);
        if (there >= wanted) {
            far = middle;
            *least = there;
        } else {
            near = middle;
        }
    }
    t->halving = false;
    return far;
}

/* Beyond an end of its range, and where a count is not taken, there is nothing farther on that side. */
static bool is_end(const struct grid *g, int sign, enum taken how)
{
    return how == (sign > 0 ? ABOVE : BELOW) || (how == REFUSED && g->whole);
}

/* The nearest step to NOW that cures, else the nearest that clears; up to so many strides away. */
static char *along_numbers(struct trial *t, const struct grid *g, double now, int strides, enum outcome *how)
{
    double from = round((now - g->base) / g->step), last = 0;
    bool ended[2] = {false, false};
    char *best = NULL;
    for (int i = 0; i < strides && !(ended[0] && ended[1]); i++) {
        double k = last + fmax(1, floor(last / 3));
        for (int sign = 1; sign >= -1; sign -= 2) {
            enum taken taken;
            bool *end = &ended[sign < 0];
            enum outcome far = *end ? STANDS : outcome_at(t, g, from + sign * k, &taken);
            *end = *end || t->cut || is_end(g, sign, taken);
            if (far <= *how)
                continue;
            double step = fewest(t, g, from + sign * last, from + sign * k, &far);
            best = better(best, how, at_step(g, step), far);
            if (*how == CURES)
                return best;
        }
        last = k;
    }
    return best;
}

/* The last digit that screens show, of what is not zero there; of a plain number a hundredth. */
static double finest_step(const struct dieset *d, const struct dieset_quantity *q)
{
    struct unit_display u = unit_display(q->type.type.dim, dieset_system(d));
    int decimals = q->property && q->property->decimals >= 0 ? q->property->decimals : u.decimals;
    return u.factor *
           pow(10, -(unit_same(q->type.type.dim, UNIT_NUMBER) && decimals < 2 && !*u.name ? 2 : decimals));
}

/* What a shop would write down beside NOW: of a place the plan's own step; of other lengths half and whole
 * millimetres or sixteenths of an inch, of small ones and of all else two digits. */
static double shop_step(const struct dieset *d, const struct dieset_quantity *q, double now, bool place)
{
    struct unit_display u = unit_display(q->type.type.dim, dieset_system(d));
    struct formula_value plan = dieset_get(d, "job.plan_step", DIESET_NEW);
    double size = fabs(now) / u.factor, finest = finest_step(d, q);
    if (unit_same(q->type.type.dim, UNIT_LENGTH)) {
        if (place && !plan.error && plan.number > 0)
            return fmax(plan.number, finest);
        bool inch = unit_is_inch(dieset_system(d));
        if (place || size >= (inch ? 0.5 : 10))
            return fmax(finest, (inch ? 1.0 / 16 : size >= 100 ? 1 : 0.5) * u.factor);
    }
    return size > 0 ? fmax(finest, pow(10, floor(log10(size)) - 1) * u.factor) : finest;
}

static bool is_coordinate(const struct dieset_quantity *q)
{
    struct typed_path at = typed_path_read(q->entry);
    return at.place == TYPED_AT_POINT && (at.axis == TYPED_X || at.axis == TYPED_Y);
}

/* What a try of TEXT makes of the value, NaN: it is not taken. */
static double worth(struct trial *t, const char *text)
{
    double out = NAN;
    if (type(t, text) == TAKEN) {
        struct formula_value v = dieset_get(t->d, t->path, DIESET_NEW);
        out = v.error ? NAN : v.number;
    }
    dieset_drop(t->d);
    return out;
}

static bool is_formula(const struct dieset_quantity *q)
{
    struct formula_tree *tree;
    if (!q->typed || !q->text || formula_parse(q->text, &tree, NULL) != BASE_OK)
        return false;
    bool literal = formula_is_literal(tree);
    formula_tree_free(tree);
    return !literal;
}

static char *through_numbers(struct trial *t, int q, double now, enum outcome *how)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    struct grid g = {.dim = v->type.type.dim,
                     .system = dieset_system(t->d),
                     .step = 1,
                     .whole = v->type.sort == HANDBOOK_COUNT};
    if (g.whole)
        return along_numbers(t, &g, now, STRIDES, how);
    bool coordinate = is_coordinate(v), place = coordinate || typed_is_laid(v->entry);
    double usual = coordinate ? worth(t, "usual") : NAN;
    if (!isnan(usual))
        g.base = usual, g.base_text = "usual";
    else if (unit_same(g.dim, UNIT_LENGTH) && is_formula(v))
        g.base = now, g.base_text = v->text;
    else if (coordinate)
        return NULL; /* a bare place would stay behind when its plate grows */
    char *text = base_copy(g.base_text);
    g.base_text = text;
    double finest = finest_step(t->d, v);
    g.step = shop_step(t->d, v, now, place);
    char *best = along_numbers(t, &g, now, STRIDES, how);
    if (*how < CURES && g.step > 1.5 * finest) { /* the way through may be narrower than a shop's step */
        enum outcome finer = *how;
        g.step = finest;
        char *fine = along_numbers(t, &g, now, STRIDES / 2, &finer);
        best = better(best, how, fine, fine ? finer : STANDS);
    }
    free(text);
    return best;
}

/* ---- one value ---- */

/* The nearest text that clears the finding, NULL when none does; yours to free(). */
static char *nearest_cure(struct trial *t, int q, bool *sized)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    struct formula_value now = dieset_value(t->d, q, DIESET_NEW);
    struct explore_sizes list;
    char *text = NULL;
    enum outcome how = STANDS;
    *sized = explore_sizes(t->d, q, DIESET_NEW, &list);
    if (!*sized)
        list_others(t->d, v, &list);
    bool number = v->type.type.sort == FORMULA_NUMBER;
    if (list.at.count)
        text = through_list(t, &list, now, number, &how);
    else if (number && v->type.sort != HANDBOOK_YESNO)
        text = through_numbers(t, q, now.error ? 0 : now.number, &how);
    explore_sizes_done(&list);
    return text;
}

/* ---- why it is none to take unseen ---- */

/* Its usual formula is one look-up by key: what the row of a table states. A size picked by need is none. */
static bool is_stated(const struct dieset_quantity *q)
{
    return q->usual && strncmp(q->usual, "listed(", 7) == 0 &&
           strchr(q->usual, ')') == q->usual + strlen(q->usual) - 1;
}

/* With the proposal typed. Q: its value as it was before. */
static const char *against(const struct trial *t, const struct dieset_quantity *q, struct base_arena *memory)
{
    const struct finding *list;
    int n = findings_list(t->f, &list);
    struct base_text out = {0};
    for (int i = 0; i < n; i++)
        if (is_as_bad(t, &list[i]))
            base_text_addf(&out, "%s%s %s %s", out.length ? "; " : "",
                           grade_before(t, list[i].key) < 0 ? "brings" : "worsens",
                           handbook_grade_text(list[i].grade), list[i].key);
    int kind = q->item < 0 ? -1 : dieset_item_kind(t->d, q->item);
    if ((q->property && q->property->given) ||
        (kind >= 0 && handbook_kind(dieset_handbook(t->d), kind)->given))
        base_text_addf(&out, "%sit is given with the job", out.length ? "; " : "");
    else if (is_stated(q))
        base_text_addf(&out, "%sit is what its table states", out.length ? "; " : "");
    if (q->typed && q->reason)
        base_text_addf(&out, "%styped with a reason: %s", out.length ? "; " : "", q->reason);
    if (t->cut)
        base_text_addf(&out, "%sthe search ended before a nearer or a better one", out.length ? "; " : "");
    const char *text = base_arena_copy(memory, base_text_get(&out));
    base_text_done(&out);
    return text;
}

/* ---- what it brings along ---- */

static void add_finding(struct base_text *out, const struct finding *x)
{
    base_text_addf(out, "%s%s %s", out->length ? "; " : "", handbook_grade_text(x->grade), x->key);
}

static void tell_findings(struct trial *t, struct explore_mend *m, struct explore_proposal *p)
{
    const struct finding *now, *old;
    int n_now = findings_list(t->f, &now), n_old = findings_kept_list(t->before, &old);
    bool *came = base_alloc((size_t)n_now + 1), *went = base_alloc((size_t)n_old + 1);
    struct base_text comes = {0}, goes = {0};
    findings_compare(t->before, t->f, came, went);
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
    struct explore_proposal p = {.path = t->path,
                                 .listed = sized,
                                 .text = base_arena_copy(a, text),
                                 .title = base_arena_copy(a, dieset_quantity(t->d, q)->title),
                                 .was = base_arena_copy(a,
                                                        dieset_print(t->d, q, DIESET_NEW, buf, sizeof buf))};
    struct dieset_quantity was = *dieset_quantity(t->d, q);
    if (type(t, text) == TAKEN) {
        findings_judge(t->f, NULL);
        p.against = against(t, &was, a);
        p.is = base_arena_copy(a,
                               dieset_print(t->d, dieset_find(t->d, t->path), DIESET_NEW, buf, sizeof buf));
        bool formula = dieset_quantity(t->d, dieset_find(t->d, t->path))->type.sort == HANDBOOK_NUMBER &&
                       (text[0] < '0' || text[0] > '9') && text[0] != '-';
        p.shown = formula ? p.text : p.is;
        tell_findings(t, m, &p);
        tell_moves(t, m, &p);
        if (*p.against)
            base_vec_push(&m->behind, p);
        else
            base_vec_push(&m->at, p);
    }
    dieset_drop(t->d);
}

/* ---- all of them ---- */

/* Does the rule itself name cures? Without them a finding offers what it hangs on, of which only a free
 * number is worth a try: nobody turns a blanked hole into a formed one to be rid of a thin wall. */
static bool names_cures(const struct handbook *h, const char *rule)
{
    int i = handbook_find_rule(h, rule);
    return i < 0 || handbook_rule(h, i)->n_mends > 0; /* what cannot be judged names its origin */
}

struct explore_mend *explore_mend_new(struct findings *f, const char *key)
{
    const struct finding *list;
    struct dieset *d = findings_dieset(f);
    int n = findings_list(f, &list), at = 0;
    while (at < n && strcmp(list[at].key, key) != 0)
        at++;
    if (at == n)
        return NULL;
    struct explore_mend *m = base_alloc(sizeof *m);
    m->key = base_arena_copy(&m->memory, key);
    m->grade = list[at].grade;
    bool named = names_cures(dieset_handbook(d), list[at].rule);
    for (int i = list[at].n_mends; i-- > 0;) {
        const struct dieset_quantity *q = dieset_quantity(d, list[at].mends[i]);
        bool free_number = q->typed && q->type.sort == HANDBOOK_NUMBER;
        if (q->can_type && (named || free_number) && dieset_applies(d, list[at].mends[i]))
            base_vec_push(&m->left, base_arena_copy(&m->memory, q->path));
    }
    return m;
}

/* All are tried: those with something against them stand behind the others. */
static void close_up(struct explore_mend *m)
{
    for (size_t i = 0; i < m->behind.count; i++)
        base_vec_push(&m->at, m->behind.at[i]);
    m->behind.count = 0;
}

/* The finding as it stands; false: it is gone, by somebody's edit. */
static bool aim(struct trial *t)
{
    const struct finding *list;
    int n = findings_kept_list(t->before, &list), i = 0;
    while (i < n && strcmp(list[i].key, t->key) != 0)
        i++;
    if (i == n)
        return false;
    t->rule = list[i].rule;
    t->item = list[i].item;
    t->plate = list[i].plate;
    return true;
}

bool explore_mend_more(struct findings *f, struct explore_mend *m)
{
    if (!m->left.count)
        return false;
    struct findings_kept *before = findings_keep(f);
    struct trial t = {.f = f,
                      .d = findings_dieset(f),
                      .m = m,
                      .key = m->key,
                      .path = m->left.at[--m->left.count],
                      .grade = m->grade,
                      .before = before,
                      .begun = base_steps()};
    bool sized = false;
    int q = aim(&t) ? dieset_find(t.d, t.path) : -1;
    char *text = q >= 0 ? nearest_cure(&t, q, &sized) : NULL;
    if (base_given_up())
        m->left.count++; /* to be tried anew */
    else if (text)
        propose(&t, m, text, sized);
    else if (t.cut)
        base_vec_push(&m->untried, t.path);
    else
        base_vec_push(&m->hopeless, t.path);
    m->steps += base_steps() - t.begun;
    forget_spoiler(&t.spoiler);
    free(text);
    findings_restore(f, before);
    findings_kept_free(before);
    if (!m->left.count)
        close_up(m);
    return true;
}

void explore_mend_free(struct explore_mend *m)
{
    if (!m)
        return;
    base_vec_done(&m->at);
    base_vec_done(&m->behind);
    base_vec_done(&m->hopeless);
    base_vec_done(&m->untried);
    base_vec_done(&m->left);
    base_arena_done(&m->memory);
    free(m);
}
