/* place/from.c - from which edge a place is measured, and what is typed then */

#include "place/own.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* As formulas name them; NULL: no edge. */
static const char *const edge_names[PLACE_AXES][PLACE_FROMS] = {
    [PLACE_ALONG] =
        {[PLACE_FROM_LOW] = "left", [PLACE_FROM_HIGH] = "right", [PLACE_FROM_CENTRE] = "middle_x"},
    [PLACE_ACROSS] =
        {[PLACE_FROM_LOW] = "front", [PLACE_FROM_HIGH] = "back", [PLACE_FROM_CENTRE] = "middle_y"},
};

const char *place_from_name(int axis, enum place_from from)
{
    const char *edge = edge_names[axis][from];
    return edge                         ? edge
           : from == PLACE_FROM_ORIGIN ? axis ? "y" : "x"
           : axis                       ? "across"
                                        : "along";
}

bool place_from_named(const char *word, int *axis, enum place_from *from)
{
    for (int i = 0; i < PLACE_AXES * PLACE_FROMS; i++) {
        *axis = i / PLACE_FROMS;
        *from = (enum place_from)(i % PLACE_FROMS);
        if (strcmp(place_from_name(*axis, *from), word) == 0)
            return true;
    }
    return false;
}

bool place_may(const struct place *p, int axis, enum place_from from)
{
    const struct place_way *w = &p->ways[axis];
    if (p->framed[axis] && !p->alone && from != PLACE_FROM_OWN)
        return false; /* its measures count from its station, and not from the plate */
    return w->moves && (from == PLACE_FROM_OWN || p->alone || (w->base && from != PLACE_FROM_ORIGIN));
}

void place_from_words(const struct place *p, int axis, enum place_from from, char *buf, size_t size)
{
    static const char *const edges[2][PLACE_FROMS] = {
        {"off its place along", "from the left edge", "from the right edge", "along, centre line",
         "along, plan's zero"},
        {"off its place across", "from the front edge", "from the back edge", "across, centre line",
         "across, plan's zero"},
    };
    const struct handbook_pattern *has = place_has(p);
    bool own = from == PLACE_FROM_OWN && !p->alone && has && p->ways[axis].take >= 0 &&
               p->ways[axis].take < has->n_takes;
    snprintf(buf, size, "%s", own ? has->takes[p->ways[axis].take].title : edges[axis][from]);
}

double place_measured(const struct place *p, int axis, enum place_from from)
{
    const struct place_way *w = &p->ways[axis];
    const char *edge = edge_names[axis][from];
    double zero = edge ? dieset_number(p->d, place_plate(p), edge, DIESET_NEW) : 0;
    switch (from) {
    case PLACE_FROM_OWN: return p->alone ? w->at - w->own : w->own + (w->at - w->start) / w->per;
    case PLACE_FROM_HIGH: return zero - w->at;
    default: return w->at - zero;
    }
}

bool place_is_simple(const char *text)
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
    bool minus = measured[0] == '-' && place_is_simple(measured + 1);
    const char *sign = minus != against ? "-" : "+";
    if (minus)
        measured++;
    return base_format(place_is_simple(measured) ? "%s %s %s" : "%s %s (%s)", edge, sign, measured);
}

/* A bare number gets the job's unit. */
static char *with_unit(const struct place *p, const char *text)
{
    char *end, *copy = base_copy(text + strspn(text, " "));
    for (size_t n = strlen(copy); n > 0 && copy[n - 1] == ' ';)
        copy[--n] = '\0';
    strtod(copy, &end);
    if (end == copy || *end)
        return copy;
    char *out = base_format("%s %s", copy, unit_display(UNIT_LENGTH, dieset_system(p->d)).name);
    free(copy);
    return out;
}

static bool is_nought(const char *text)
{
    char *end;
    return strtod(text, &end) == 0 && end != text && (!*end || place_is_simple(text)) &&
           !strpbrk(text, "+*/(");
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
static char *as_measure(const struct place_way *w, char *target)
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

char *place_text(const struct place *p, int axis, enum place_from from, const char *measured)
{
    const struct place_way *w = &p->ways[axis];
    char *v = with_unit(p, measured), *out;
    const char *edge = from == PLACE_FROM_OWN && p->alone ? "usual" : edge_names[axis][from];
    if (!edge)
        return v;
    if (!is_nought(v))
        out = joined(edge, from == PLACE_FROM_HIGH, v);
    else
        out = from == PLACE_FROM_OWN ? NULL : base_copy(edge);
    free(v);
    return out && !p->alone ? as_measure(w, out) : out;
}

/* It begins with the edge, or is what would be typed now. */
enum place_from place_from_of(const struct place *p, int axis, const char *text)
{
    for (int f = PLACE_FROM_LOW; text && f <= PLACE_FROM_CENTRE; f++) {
        const char *edge = edge_names[axis][f];
        size_t n = strlen(edge);
        if (!place_may(p, axis, (enum place_from)f))
            continue;
        char *number = place_length(p, place_measured(p, axis, (enum place_from)f)),
             *now = place_text(p, axis, (enum place_from)f, number);
        bool begins = (p->alone || !*p->ways[axis].base) && strncmp(text, edge, n) == 0 &&
                      (text[n] == ' ' || !text[n]);
        bool same = now && strcmp(now, text) == 0;
        free(number);
        free(now);
        if (begins || same)
            return (enum place_from)f;
    }
    return p->alone && text && strncmp(text, "usual", 5) != 0 ? PLACE_FROM_ORIGIN : PLACE_FROM_OWN;
}

char *place_entry(const struct place *p, int axis)
{
    int take = p->ways[axis].take;
    const struct handbook_pattern *has = place_has(p);
    if (p->alone || take < 0 || !has)
        return typed_of_point(p->point, axis ? TYPED_Y : TYPED_X);
    return typed_of_take(has->takes[take].name);
}
