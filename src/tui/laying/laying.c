/* tui/laying/laying.c - see laying.h */

#include "tui/laying/laying.h"

#include "tui/edits.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NEAR 1e-6 /* mm: the same place */

/* ---- entries ---- */

void laying_forget(struct laying *l, const char *path)
{
    for (size_t i = 0; i < l->typed.count; i++)
        if (strcmp(l->typed.at[i].path, path) == 0) {
            free((char *)l->typed.at[i].path);
            free((char *)l->typed.at[i].text);
            l->typed.at[i] = l->typed.at[--l->typed.count];
            return;
        }
}

void laying_put(struct laying *l, const char *path, const char *text)
{
    char *copy = base_copy(path);
    laying_forget(l, path);
    struct job_typed e = {copy, text ? base_copy(text) : NULL};
    base_vec_push(&l->typed, e);
}

const char *laying_typed(const struct laying *l, const char *path)
{
    for (size_t i = 0; i < l->typed.count; i++)
        if (strcmp(l->typed.at[i].path, path) == 0)
            return l->typed.at[i].text;
    return NULL;
}

static void forget_way(struct laying_way *w)
{
    free(w->held);
    free(w->formula);
    free(w->rest);
    *w = (struct laying_way){.take = -1, .per = 1};
}

void laying_done(struct laying *l)
{
    while (l->typed.count)
        laying_forget(l, l->typed.at[0].path);
    base_vec_done(&l->typed);
    for (int a = 0; a < 2; a++)
        forget_way(&l->ways[a]);
}

bool laying_try(struct tui *t, struct laying *l)
{
    struct job_laying all = {.item = l->item,
                             .kind = *l->kind ? l->kind : NULL,
                             .like = *l->like ? l->like : NULL,
                             .lay = *l->lay ? l->lay : NULL,
                             .entries = l->typed.at,
                             .n = (int)l->typed.count};
    l->refused = false;
    l->why = (struct base_diag){0};
    tui_changed(t);
    if (!all.kind && !all.lay && !all.n) {
        edit_drop(t);
        return true;
    }
    if (all.kind && !all.lay)
        return true; /* nothing to show yet */
    l->refused = job_lay_out(t->job, &all, &l->why) != BASE_OK;
    return !l->refused;
}

/* ---- what is there ---- */

int laying_item(const struct tui *t, const struct laying *l)
{
    return dieset_find_item(t->d, l->item);
}

/* The layout's words: "six", "on", "die_plate". */
static void lay_words(const struct tui *t, const struct laying *l, char *pattern, char *plate, size_t size)
{
    char on[40];
    int item = laying_item(t, l);
    const char *text = *l->lay ? l->lay : item >= 0 ? dieset_entry(t->d, item, "lay") : NULL;
    record_word(record_word(record_word(text ? text : "", pattern, size), on, sizeof on), plate, size);
}

int laying_plate(const struct tui *t, const struct laying *l)
{
    char pattern[100], plate[100];
    lay_words(t, l, pattern, plate, sizeof plate);
    return dieset_find_item(t->d, plate);
}

const struct handbook_pattern *laying_has(const struct tui *t, const struct laying *l)
{
    char pattern[100], plate[100];
    lay_words(t, l, pattern, plate, sizeof plate);
    int p = handbook_find_pattern(dieset_handbook(t->d), pattern);
    return p < 0 ? NULL : handbook_pattern(dieset_handbook(t->d), p);
}

bool laying_point(const struct tui *t, const struct laying *l, struct dieset_point *out, int *number)
{
    int item = laying_item(t, l), n = item < 0 ? 0 : dieset_point_count(t->d, item);
    for (int p = 0; p < n; p++) {
        dieset_point(t->d, item, p, out);
        if (strcmp(out->name, l->point) != 0)
            continue;
        if (number)
            *number = p;
        return true;
    }
    return false;
}

static struct formula_value value_at(const struct tui *t, const struct laying *l, const char *name)
{
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s.%s", l->item, name);
    return dieset_get(t->d, path, DIESET_NEW);
}

static struct formula_value take_value(const struct tui *t, const struct laying *l,
                                       const struct handbook_take *take)
{
    char name[100];
    snprintf(name, sizeof name, "lay.%s", take->name);
    return value_at(t, l, name);
}

static bool is_length(const struct handbook_take *take)
{
    return take->type.sort == HANDBOOK_NUMBER && unit_same(take->type.type.dim, UNIT_LENGTH);
}

char *laying_length(const struct tui *t, double mm)
{
    enum unit_system s = dieset_system(t->d);
    double factor = unit_display(UNIT_LENGTH, s).factor;
    double rounded = round(mm / factor * 1e6) / 1e6 * factor;
    return unit_typed(UNIT_LENGTH, s, rounded == 0 ? 0 : rounded);
}

/* ---- patterns ---- */

/* A start is worked out by the job itself, then typed as a round figure. */
static void round_start(struct tui *t, struct laying *l, const struct handbook_take *take, const char *path)
{
    struct formula_value v = take_value(t, l, take);
    double step = v.error || !is_length(take) ? 0 : tui_step(t, "plan_stride");
    if (step <= 0)
        return;
    double rounded = round(v.number / step) * step;
    char *text = laying_length(t, rounded > 0 ? rounded : v.number);
    laying_put(l, path, text);
    free(text);
}

bool laying_pattern(struct tui *t, struct laying *l, const char *pattern, const char *plate)
{
    const struct handbook_take *begun[64];
    int n = 0;
    snprintf(l->lay, sizeof l->lay, "%s on %s", pattern, plate);
    const struct handbook_pattern *p = laying_has(t, l);
    if (!p || !laying_try(t, l))
        return false;
    for (int i = 0; i < p->n_takes; i++) {
        const struct handbook_take *take = &p->takes[i];
        if (take_value(t, l, take).error && take->start)
            begun[n++] = take;
    }
    for (int i = 0; i < n; i++) {
        char *path = base_format("lay/%s", begun[i]->name);
        laying_put(l, path, formula_text(begun[i]->start));
        free(path);
    }
    if (n == 0 || !laying_try(t, l))
        return n == 0;
    for (int i = 0; i < n; i++) {
        char *path = base_format("lay/%s", begun[i]->name);
        round_start(t, l, begun[i], path);
        free(path);
    }
    return laying_try(t, l);
}

/* ---- from where ---- */

static const char *const edge_names[2][FROMS] = {
    [0] = {[FROM_LOW] = "left", [FROM_HIGH] = "right", [FROM_CENTRE] = "middle_x"},
    [1] = {[FROM_LOW] = "front", [FROM_HIGH] = "back", [FROM_CENTRE] = "middle_y"},
};

bool laying_may(const struct laying *l, int axis, enum from from)
{
    const struct laying_way *w = &l->ways[axis];
    return w->moves && (from == FROM_OWN || l->alone || (w->base && from != FROM_ORIGIN));
}

void laying_from(const struct tui *t, const struct laying *l, int axis, enum from from, char *buf,
                 size_t size)
{
    static const char *const edges[2][FROMS] = {
        {"off its place along", "from the left edge", "from the right edge", "along, centre line",
         "along, plan's zero"},
        {"off its place across", "from the front edge", "from the back edge", "across, centre line",
         "across, plan's zero"},
    };
    const struct handbook_pattern *p = laying_has(t, l);
    bool own = from == FROM_OWN && !l->alone && p && l->ways[axis].take >= 0 &&
               l->ways[axis].take < p->n_takes;
    snprintf(buf, size, "%s", own ? p->takes[l->ways[axis].take].title : edges[axis][from]);
}

double laying_measured(const struct tui *t, const struct laying *l, int axis, enum from from)
{
    const struct laying_way *w = &l->ways[axis];
    const char *edge = edge_names[axis][from];
    double zero = edge ? dieset_number(t->d, laying_plate(t, l), edge, DIESET_NEW) : 0;
    switch (from) {
    case FROM_OWN: return l->alone ? w->at - w->own : w->own + (w->at - w->start) / w->per;
    case FROM_HIGH: return zero - w->at;
    default: return w->at - zero;
    }
}

/* Is TEXT one value, which needs no brackets? */
static bool is_simple(const char *text)
{
    struct formula_tree *tree;
    if (formula_parse(text, &tree, NULL) != BASE_OK)
        return false;
    bool simple = formula_is_literal(tree);
    formula_tree_free(tree);
    return simple;
}

/* "left" + "45 mm": the sign is that of what is measured. */
static char *joined(const char *edge, bool against, const char *measured)
{
    bool minus = measured[0] == '-' && is_simple(measured + 1);
    const char *sign = minus != against ? "-" : "+";
    if (minus)
        measured++;
    return base_format(is_simple(measured) ? "%s %s %s" : "%s %s (%s)", edge, sign, measured);
}

/* A bare number gets the job's unit. */
static char *with_unit(const struct tui *t, const char *text)
{
    char *end, *copy = base_copy(text + strspn(text, " "));
    for (size_t n = strlen(copy); n > 0 && copy[n - 1] == ' ';)
        copy[--n] = '\0';
    strtod(copy, &end);
    if (end == copy || *end)
        return copy;
    char *out = base_format("%s %s", copy, unit_display(UNIT_LENGTH, dieset_system(t->d)).name);
    free(copy);
    return out;
}

static bool is_nought(const char *text)
{
    char *end;
    return strtod(text, &end) == 0 && end != text && (!*end || is_simple(text)) && !strpbrk(text, "+*/(");
}

/* " - apart / 2 + shift" with its signs turned. Yours to free(). */
static char *turned(const char *rest)
{
    char *out = base_copy(rest);
    int depth = 0;
    for (char *c = out; *c; c++) {
        depth += (*c == '(') - (*c == ')');
        if (depth == 0 && c > out && c[-1] == ' ' && c[1] == ' ' && (*c == '+' || *c == '-'))
            *c = *c == '+' ? '-' : '+';
    }
    return out;
}

/* Where the point is to stand, as the pattern's measure: counted from the edge that the pattern holds it
 * from, without what else it adds. TARGET is adopted. */
static char *as_measure(const struct laying_way *w, char *target)
{
    const char *rest = w->rest ? w->rest : "";
    char *back = turned(rest), *out;
    if (w->per > 0)
        out = base_format("%s%s%s%s", target, *w->base ? " - " : "", w->base, back);
    else if (*w->base)
        out = base_format("%s%s - (%s)", w->base, rest, target);
    else
        out = base_format("-(%s)%s", target, rest);
    free(back);
    free(target);
    return out;
}

char *laying_text(const struct tui *t, int axis, const struct laying *l, enum from from, const char *measured)
{
    const struct laying_way *w = &l->ways[axis];
    char *v = with_unit(t, measured), *out;
    const char *edge = from == FROM_OWN && l->alone ? "usual" : edge_names[axis][from];
    if (!edge)
        return v;
    if (!is_nought(v))
        out = joined(edge, from == FROM_HIGH, v);
    else
        out = from == FROM_OWN ? NULL : base_copy(edge);
    free(v);
    return out && !l->alone ? as_measure(w, out) : out;
}

/* What stands typed already tells from where it was dimensioned: it begins with the edge, or is what would be
   typed now. */
static enum from from_of(const struct tui *t, const struct laying *l, int axis, const char *text)
{
    for (int f = FROM_LOW; text && f <= FROM_CENTRE; f++) {
        const char *edge = edge_names[axis][f];
        size_t n = strlen(edge);
        if (!laying_may(l, axis, (enum from)f))
            continue;
        char *number = laying_length(t, laying_measured(t, l, axis, (enum from)f)),
             *now = laying_text(t, axis, l, (enum from)f, number);
        bool begins = (l->alone || !*l->ways[axis].base) && strncmp(text, edge, n) == 0 &&
                      (text[n] == ' ' || !text[n]);
        bool same = now && strcmp(now, text) == 0;
        free(number);
        free(now);
        if (begins || same)
            return (enum from)f;
    }
    return l->alone && text && strncmp(text, "usual", 5) != 0 ? FROM_ORIGIN : FROM_OWN;
}

char *laying_entry(const struct tui *t, const struct laying *l, int axis)
{
    int take = l->ways[axis].take;
    const struct handbook_pattern *p = laying_has(t, l);
    if (l->alone || take < 0 || !p)
        return base_format("lay/%s/%c", l->point, axis ? 'y' : 'x');
    return base_format("lay/%s", p->takes[take].name);
}

/* ---- taking hold ---- */

static bool in_step(double moved, double aside) { return fabs(moved) > NEAR && fabs(aside) < NEAR; }

/* How far the point goes when the measure grows by one mm. */
static bool probe(struct tui *t, struct laying *l, const struct handbook_take *take, double moved[2])
{
    struct dieset_point before, after;
    struct formula_value v = take_value(t, l, take);
    if (v.error || !laying_point(t, l, &before, NULL))
        return false;
    char *path = base_format("lay/%s", take->name), *text = laying_length(t, v.number + 1);
    char *was = laying_typed(l, path) ? base_copy(laying_typed(l, path)) : NULL;
    laying_put(l, path, text);
    bool there = laying_try(t, l) && laying_point(t, l, &after, NULL) && !after.broken;
    double step = there ? take_value(t, l, take).number - v.number : 1;
    moved[0] = there ? (after.x - before.x) / step : 0;
    moved[1] = there ? (after.y - before.y) / step : 0;
    if (was)
        laying_put(l, path, was);
    else
        laying_forget(l, path);
    laying_try(t, l);
    free(was);
    free(path);
    free(text);
    return there;
}

struct reads { const char *measure; bool it, points; };

static void see_name(const char *path, int start, void *arg)
{
    struct reads *r = arg;
    (void)start;
    r->it = r->it || strcmp(path, r->measure) == 0;
    r->points = r->points || strcmp(path, "points") == 0;
}

static void put_name(void *arg, const char *path, struct base_text *out)
{
    const int *number = arg;
    if (strcmp(path, "index") == 0)
        base_text_addf(out, "%d", *number);
    else
        base_text_add(out, path);
}

/* A term beside the measure, as it may be typed for point NUMBER. False: it cannot stand apart from the
   measure. */
static bool add_rest(struct base_text *rest, bool minus, const char *term, const char *measure, int number)
{
    struct formula_tree *tree;
    struct reads r = {.measure = measure};
    if (formula_parse(term, &tree, NULL) != BASE_OK)
        return false;
    formula_names(tree, see_name, &r);
    base_text_add(rest, minus ? " - " : " + ");
    formula_filled(tree, put_name, &number, rest);
    formula_tree_free(tree);
    return !r.it && !r.points;
}

/* The next summand of TEXT, without its sign. False: there is none. */
static bool next_term(const char **text, bool *minus, char *term, size_t size)
{
    const char *from = *text + strspn(*text, " ");
    int depth = 0;
    if (!*from)
        return false;
    *minus = *from == '-';
    from += *from == '-' || *from == '+';
    from += strspn(from, " ");
    size_t n = 0;
    for (; from[n]; n++) {
        depth += (from[n] == '(') - (from[n] == ')');
        if (depth == 0 && from[n] == ' ' && (from[n + 1] == '+' || from[n + 1] == '-') && from[n + 2] == ' ')
            break;
    }
    snprintf(term, size, "%.*s", (int)n, from);
    *text = from + n;
    return n < size;
}

static const char *edge_named(const char *term)
{
    static const char *const edges[] = {"left", "right", "front", "back", "middle_x", "middle_y"};
    for (size_t i = 0; i < COUNT_OF(edges); i++)
        if (strcmp(edges[i], term) == 0)
            return edges[i];
    return NULL;
}

/* Parts the pattern's own formula: an edge, the measure, and what else there is. */
static void find_base(struct laying_way *w, const struct handbook_pattern *p, int number, int axis,
                      const char *measure)
{
    const struct handbook_point *at = &p->points[p->repeat ? 0 : number];
    const char *text = formula_text(axis ? at->y : at->x), *base = "", *edge;
    char term[200];
    bool minus, measured = false, apart = true;
    struct base_text rest = {0};
    while (apart && *text && (apart = next_term(&text, &minus, term, sizeof term)))
        if (strcmp(term, measure) == 0 && !measured)
            apart = measured = minus == (w->per < 0);
        else if ((edge = edge_named(term)) && !minus && !*base)
            base = edge;
        else
            apart = add_rest(&rest, minus, term, measure, number);
    w->base = apart && measured ? base : NULL;
    w->rest = base_text_take(&rest);
}

/* Does nothing but the measure lie between that edge and the point, as things stand? Then the rest goes
   without saying. */
static bool stands_off(const struct tui *t, const struct laying *l, int axis)
{
    struct dieset_point at;
    const struct laying_way *w = &l->ways[axis];
    double zero = *w->base ? dieset_number(t->d, laying_plate(t, l), w->base, DIESET_NEW) : 0;
    return laying_point(t, l, &at, NULL) && fabs((axis ? at.y : at.x) - zero - w->per * w->own) < NEAR;
}

/* The measure that moves the point this way and no other; one that does so mm for mm is taken before one that
   stretches. */
static void find_ways(struct tui *t, struct laying *l, const struct handbook_pattern *p, int number)
{
    for (int k = 0; k < p->n_takes; k++) {
        double moved[2];
        if (!is_length(&p->takes[k]) || !probe(t, l, &p->takes[k], moved))
            continue;
        for (int a = 0; a < 2; a++) {
            struct laying_way *w = &l->ways[a];
            bool whole = fabs(fabs(moved[a]) - 1) < NEAR;
            if (!in_step(moved[a], moved[!a]) || (w->moves && (!whole || fabs(fabs(w->per) - 1) < NEAR)))
                continue;
            forget_way(w);
            w->moves = true;
            w->take = k;
            w->per = moved[a];
            w->own = take_value(t, l, &p->takes[k]).number;
            if (whole)
                find_base(w, p, number, a, p->takes[k].name);
            if (w->base && stands_off(t, l, a)) {
                free(w->rest);
                w->rest = NULL;
            }
        }
    }
}

static double place_in_group(const struct tui *t, const struct laying *l, int axis)
{
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s.%s.%c", l->item, l->point, axis ? 'y' : 'x');
    int q = dieset_find(t->d, path);
    if (q < 0)
        return NAN;
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    struct formula_value is = v->usual_slot >= 0 ? model_value(dieset_model(t->d), v->usual_slot)
                                                 : dieset_value(t->d, q, DIESET_NEW);
    return is.error ? NAN : is.number;
}

/* Nothing of the pattern moves a loose point: its nearer edge is then what it is dimensioned from. */
static enum from nearer_edge(const struct tui *t, const struct laying *l, int axis)
{
    return laying_measured(t, l, axis, FROM_LOW) <= laying_measured(t, l, axis, FROM_HIGH) ? FROM_LOW
                                                                                           : FROM_HIGH;
}

static void hold(struct tui *t, struct laying *l, int axis, const struct dieset_point *at, bool loose)
{
    struct laying_way *w = &l->ways[axis];
    w->start = w->at = axis ? at->y : at->x;
    char *path = laying_entry(t, l, axis);
    int item = laying_item(t, l);
    const char *typed = laying_typed(l, path), *stands = *l->kind ? NULL : dieset_entry(t->d, item, path);
    w->held = typed ? base_copy(typed) : NULL;
    const char *text = typed ? typed : stands;
    w->formula = !typed && stands && !is_simple(stands) ? base_copy(stands) : NULL;
    w->from = text ? from_of(t, l, axis, text) : loose ? nearer_edge(t, l, axis) : FROM_OWN;
    free(path);
}

/* The group whose points ITEM stands at: its own, or those that it stands with. */
int laying_owner(const struct tui *t, int item)
{
    const char *lay;
    for (int n = 0;
         n < 20 && item >= 0 && (lay = dieset_entry(t->d, item, "lay")) && strncmp(lay, "with ", 5) == 0; n++)
        item = dieset_find_item(t->d, lay + 5);
    return item;
}

void laying_grab(struct tui *t, struct laying *l, const char *point)
{
    struct dieset_point at;
    int number = 0, item = laying_item(t, l);
    const struct handbook_pattern *p = laying_has(t, l);
    if (*point)
        snprintf(l->point, sizeof l->point, "%s", point);
    for (int a = 0; a < 2; a++)
        forget_way(&l->ways[a]);
    if (!laying_point(t, l, &at, &number)) {
        if (!p || item < 0 || dieset_point_count(t->d, item) == 0)
            return;
        dieset_point(t->d, item, 0, &at);
        snprintf(l->point, sizeof l->point, "%s", at.name);
    }
    if (!l->alone && !at.freed)
        find_ways(t, l, p, number);
    bool loose = !l->ways[0].moves && !l->ways[1].moves && !at.freed && !l->alone;
    laying_point(t, l, &at, &number); /* names belong to the last binding */
    l->alone = l->alone || at.freed || loose;
    for (int a = 0; a < 2; a++) {
        struct laying_way *w = &l->ways[a];
        if (l->alone) {
            forget_way(w);
            w->moves = true;
            w->own = place_in_group(t, l, a);
        }
        if (w->moves)
            hold(t, l, a, &at, loose);
        else
            w->start = w->at = a ? at.y : at.x;
    }
}

void laying_next(struct tui *t, struct laying *l, int by)
{
    struct dieset_point at;
    char name[48];
    int number, item = laying_item(t, l), n = item < 0 ? 0 : dieset_point_count(t->d, item);
    if (!laying_point(t, l, &at, &number))
        return;
    dieset_point(t->d, item, (number + by + n) % n, &at);
    snprintf(name, sizeof name, "%s", at.name);
    l->alone = false;
    laying_grab(t, l, name);
}

/* ---- moving ---- */

/* What the way is worth now, among the entries; back where it was grabbed, what was typed then. */
static void retype(struct tui *t, struct laying *l, int axis)
{
    struct laying_way *w = &l->ways[axis];
    char *path = laying_entry(t, l, axis);
    if (fabs(w->at - w->start) < NEAR) {
        if (w->held)
            laying_put(l, path, w->held);
        else
            laying_forget(l, path);
        free(path);
        return;
    }
    char *number = laying_length(t, laying_measured(t, l, axis, w->from));
    char *text = laying_text(t, axis, l, w->from, number);
    if (!text && (laying_item(t, l) < 0 || !dieset_entry(t->d, laying_item(t, l), path)))
        laying_forget(l, path);
    else
        laying_put(l, path, text);
    free(text);
    free(number);
    free(path);
}

bool laying_move(struct tui *t, struct laying *l, int axis, double mm)
{
    if (!l->ways[axis].moves)
        return false;
    l->ways[axis].at += mm;
    retype(t, l, axis);
    return true;
}

/* A turn that is usual is not typed. */
void laying_turn(struct tui *t, struct laying *l)
{
    struct dieset_point at;
    if (!laying_point(t, l, &at, NULL))
        return;
    double degree = acos(0) / 90, all = l->alone ? value_at(t, l, "lay.turn").number / degree : 0;
    double turn = fmod(round((at.turn / degree + 90) * 1e6) / 1e6, 360);
    char *path = l->alone ? base_format("lay/%s/turn", l->point) : base_copy("lay/turn");
    char *text = base_format("%g deg", turn);
    bool usual = fabs(turn - all) < 1e-6;
    bool stands = !*l->kind && laying_item(t, l) >= 0 && dieset_entry(t->d, laying_item(t, l), path);
    if (!usual)
        laying_put(l, path, text);
    else if (stands)
        laying_put(l, path, NULL);
    else
        laying_forget(l, path);
    free(text);
    free(path);
}

void laying_give_back(struct tui *t, struct laying *l)
{
    static const char *const own[] = {"x", "y", "turn"};
    int item = laying_item(t, l);
    for (size_t i = 0; i < COUNT_OF(own); i++) {
        char *path = base_format("lay/%s/%s", l->point, own[i]);
        bool stands = !*l->kind && item >= 0 && dieset_entry(t->d, item, path);
        if (stands)
            laying_put(l, path, NULL);
        else
            laying_forget(l, path);
        free(path);
    }
    l->alone = false;
}
