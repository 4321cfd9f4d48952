/* place/grab.c - taking hold of a point: which measure of its pattern moves it is found by trying */

#include "place/own.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool in_step(double moved, double aside)
{
    return fabs(moved) > PLACE_SAME && fabs(aside) < PLACE_SAME;
}

/* How far the point goes when the measure grows by one mm. */
static bool probe(struct place *p, const struct handbook_take *take, double moved[2])
{
    struct dieset_point before, after;
    struct formula_value v = place_take_value(p, take);
    if (v.error || !place_point(p, &before, NULL))
        return false;
    char *path = typed_of_take(take->name), *text = place_length(p, v.number + 1);
    char *was = place_typed(p, path) ? base_copy(place_typed(p, path)) : NULL;
    place_put(p, path, text);
    bool there = place_try(p) && place_point(p, &after, NULL) && !after.broken;
    double step = there ? place_take_value(p, take).number - v.number : 1;
    moved[0] = there ? (after.x - before.x) / step : 0;
    moved[1] = there ? (after.y - before.y) / step : 0;
    if (was)
        place_put(p, path, was);
    else
        place_forget(p, path);
    place_try(p);
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
static void find_base(struct place_way *w, const struct handbook_pattern *has, int number, int axis,
                      const char *measure)
{
    const struct handbook_point *at = &has->points[has->repeat ? 0 : number % has->n_points];
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
static bool stands_off(const struct place *p, int axis)
{
    struct dieset_point at;
    const struct place_way *w = &p->ways[axis];
    double zero = *w->base ? dieset_number(p->d, place_plate(p), w->base, DIESET_NEW) : 0;
    return place_point(p, &at, NULL) && fabs((axis ? at.y : at.x) - zero - w->per * w->own) < PLACE_SAME;
}

/* The measure that moves the point this way and no other; one that does so mm for mm is taken before one that
   stretches. */
static void find_ways(struct place *p, const struct handbook_pattern *has, int number)
{
    for (int k = 0; k < has->n_takes; k++) {
        double moved[2];
        if (!place_is_length(&has->takes[k]) || !probe(p, &has->takes[k], moved))
            continue;
        for (int a = 0; a < PLACE_AXES; a++) {
            struct place_way *w = &p->ways[a];
            bool whole = fabs(fabs(moved[a]) - 1) < PLACE_SAME;
            if (!in_step(moved[a], moved[!a]) ||
                (w->moves && (!whole || fabs(fabs(w->per) - 1) < PLACE_SAME)))
                continue;
            place_forget_way(w);
            w->moves = true;
            w->take = k;
            w->per = moved[a];
            w->own = place_take_value(p, &has->takes[k]).number;
            if (whole)
                find_base(w, has, number, a, has->takes[k].name);
            if (w->base && stands_off(p, a)) {
                free(w->rest);
                w->rest = NULL;
            }
        }
    }
}

static double place_in_group(const struct place *p, int axis)
{
    char path[PLACE_PATH];
    snprintf(path, sizeof path, "%s.%s.%c", p->item, p->point, axis ? 'y' : 'x');
    int q = dieset_find(p->d, path);
    if (q < 0)
        return NAN;
    const struct dieset_quantity *v = dieset_quantity(p->d, q);
    struct formula_value is = v->usual_slot >= 0 ? model_value(dieset_model(p->d), v->usual_slot)
                                                 : dieset_value(p->d, q, DIESET_NEW);
    return is.error ? NAN : is.number;
}

/* Nothing of the pattern moves a loose point: its nearer edge is then what it is dimensioned from. */
static enum place_from nearer_edge(const struct place *p, int axis)
{
    return place_measured(p, axis, PLACE_FROM_LOW) <= place_measured(p, axis, PLACE_FROM_HIGH)
               ? PLACE_FROM_LOW
               : PLACE_FROM_HIGH;
}

static void hold(struct place *p, int axis, const struct dieset_point *at, bool loose)
{
    struct place_way *w = &p->ways[axis];
    w->start = w->at = axis ? at->y : at->x;
    char *path = place_entry(p, axis);
    int item = place_item(p);
    const char *typed = place_typed(p, path), *stands = *p->kind ? NULL : dieset_entry(p->d, item, path);
    w->held = typed ? base_copy(typed) : NULL;
    const char *text = typed ? typed : stands;
    w->formula = !typed && stands && !place_is_simple(stands) ? base_copy(stands) : NULL;
    w->from = text ? place_from_of(p, axis, text) : loose ? nearer_edge(p, axis) : PLACE_FROM_OWN;
    free(path);
}

static bool in_frames(const struct place *p, const struct handbook_pattern *has)
{
    const struct handbook *h = dieset_handbook(p->d);
    int item = place_item(p), kind = *p->kind  ? handbook_find_kind(h, p->kind)
                                     : item >= 0 ? dieset_item_kind(p->d, item)
                                                 : -1;
    return has && has->framed && kind >= 0 && handbook_kind(h, kind)->frame.x;
}

/* Across the feed a frame lies on the plan's own line, and is not turned, unless parts lie beside each other:
 * a place there may be measured from the plate's edges too. */
static bool on_centre_line(const struct place *p, const struct dieset_point *at)
{
    char *path = base_format("%s.%s.y", p->item, at->name);
    int q = dieset_find(p->d, path), slot = q < 0 ? -1 : dieset_point_part(p->d, q, "frame_y");
    bool turned = q >= 0 && dieset_point_part(p->d, q, "frame_turn") >= 0;
    struct formula_value y = {.error = FORMULA_EMPTY};
    if (slot >= 0)
        y = model_value(dieset_model(p->d), slot);
    free(path);
    return !turned && !y.error && fabs(y.number) < 1e-9;
}

void place_grab(struct place *p, const char *point)
{
    struct dieset_point at;
    int number = 0, item = place_item(p);
    const struct handbook_pattern *has = place_has(p);
    if (*point)
        snprintf(p->point, sizeof p->point, "%s", point);
    for (int a = 0; a < PLACE_AXES; a++)
        place_forget_way(&p->ways[a]);
    p->framed[PLACE_ALONG] = p->framed[PLACE_ACROSS] = in_frames(p, has);
    if (!place_point(p, &at, &number)) {
        if (!has || item < 0 || dieset_point_count(p->d, item) == 0)
            return;
        dieset_point(p->d, item, 0, &at);
        snprintf(p->point, sizeof p->point, "%s", at.name);
    }
    p->framed[PLACE_ACROSS] = p->framed[PLACE_ACROSS] && !on_centre_line(p, &at);
    if (has && !p->alone && !at.freed) /* laid with those of another group it has no pattern of its own */
        find_ways(p, has, number);
    bool loose = !p->ways[0].moves && !p->ways[1].moves && !at.freed && !p->alone;
    place_point(p, &at, &number); /* names belong to the last binding */
    p->alone = p->alone || at.freed || loose;
    for (int a = 0; a < PLACE_AXES; a++) {
        struct place_way *w = &p->ways[a];
        if (p->alone) {
            place_forget_way(w);
            w->moves = true;
            w->own = place_in_group(p, a);
        }
        if (w->moves)
            hold(p, a, &at, loose);
        else
            w->start = w->at = a ? at.y : at.x;
    }
}

void place_next(struct place *p, int by)
{
    struct dieset_point at;
    char name[48];
    int number, item = place_item(p), n = item < 0 ? 0 : dieset_point_count(p->d, item);
    if (!place_point(p, &at, &number))
        return;
    dieset_point(p->d, item, (number + by + n) % n, &at);
    snprintf(name, sizeof name, "%s", at.name);
    p->alone = false;
    place_grab(p, name);
}
