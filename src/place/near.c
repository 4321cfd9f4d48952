/* place/near.c - lines that a point may stand on, and the walls between it and other holes */

#include "place/own.h"

#include <math.h>

struct search { const struct place *p; enum dieset_state state; int item, point; };

static bool is_moving(const struct search *s, const struct dieset_hole *h)
{
    return place_owner(s->p->d, h->item) == s->item && (!s->p->alone || h->point == s->point);
}

static bool is_grabbed(const struct search *s, const struct dieset_hole *h)
{
    return h->point == s->point && place_owner(s->p->d, h->item) == s->item;
}

/* A letter's words stand with the small one. */
static char small(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter ? letter : '+';
}

/* ---- lines ---- */

static void offer(struct place_near *out, const struct place *p, int axis, double at, char letter,
                  double reach)
{
    const struct place_way *w = &p->ways[axis];
    double off = fabs(at - w->at);
    if (!isfinite(at) || off > reach + PLACE_SAME)
        return;
    if (off < PLACE_SAME) {
        if (!out->on[axis].there || !letter)
            out->on[axis] = (struct place_line){true, at, letter};
    } else if (fabs(w->at - w->start) > PLACE_SAME) {
        double best = out->hint[axis].there ? fabs(out->hint[axis].at - w->at) : INFINITY;
        /* on one line with holes, the centre line is named */
        if (off < best - PLACE_SAME || (off < best + PLACE_SAME && !letter))
            out->hint[axis] = (struct place_line){true, at, letter};
    }
}

static void find_lines(const struct search *s, int plate, const double reach[PLACE_AXES],
                       struct place_near *out)
{
    int first = 0, n = dieset_plate_holes(s->p->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(s->p->d, i, s->state, &h);
        if (h.nowhere || is_moving(s, &h))
            continue;
        offer(out, s->p, 0, h.x, small(h.letter), reach[0]);
        offer(out, s->p, 1, h.y, small(h.letter), reach[1]);
    }
    offer(out, s->p, 0, dieset_number(s->p->d, plate, "middle_x", s->state), 0, reach[0]);
    offer(out, s->p, 1, dieset_number(s->p->d, plate, "middle_y", s->state), 0, reach[1]);
}

/* ---- walls ---- */

/* The thinnest first, each letter once. */
static void keep_wall(struct place_near *out, const struct place_wall *w)
{
    int i = 0;
    while (i < out->n_walls && out->walls[i].letter != w->letter)
        i++;
    if (i < out->n_walls && out->walls[i].wall <= w->wall)
        return;
    if (i == out->n_walls && out->n_walls == PLACE_WALLS && out->walls[--i].wall <= w->wall)
        return;
    out->n_walls += i == out->n_walls;
    for (; i > 0 && out->walls[i - 1].wall > w->wall; i--)
        out->walls[i] = out->walls[i - 1];
    out->walls[i] = *w;
}

typedef void wall_fn(struct place_near *out, const struct place_wall *w);

static void keep_other(struct place_near *out, const struct place_wall *w)
{
    if (out->other.plate < 0 || w->wall < out->other.wall)
        out->other = *w;
}

/* Walls between a hole of the grabbed point and all others of its plate that share depth with it. */
static void walls_of(const struct search *s, int plate, const struct dieset_hole *own, struct place_near *out,
                     wall_fn *keep)
{
    int first = 0, n = dieset_plate_holes(s->p->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        double shared = 0;
        dieset_hole(s->p->d, i, s->state, &h);
        if (h.nowhere || is_grabbed(s, &h))
            continue;
        double wall = dieset_wall(own, &h, &shared);
        if (shared > 0 && isfinite(wall))
            keep(out, &(struct place_wall){wall, small(h.letter), h.item, plate});
    }
}

static void find_walls(const struct search *s, int plate, struct place_near *out, wall_fn *keep)
{
    int first = 0, n = dieset_plate_holes(s->p->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole own;
        dieset_hole(s->p->d, i, s->state, &own);
        if (!own.nowhere && is_grabbed(s, &own))
            walls_of(s, plate, &own, out, keep);
    }
}

void place_near(const struct place *p, int plate, enum dieset_state state, const double reach[PLACE_AXES],
                struct place_near *out)
{
    struct dieset_point at;
    struct dieset_layer layers[64];
    struct search s = {.p = p, .state = state, .item = place_item(p)};
    *out = (struct place_near){.other.plate = -1};
    if (plate < 0 || !place_point(p, &at, &s.point))
        return;
    find_lines(&s, plate, reach, out);
    find_walls(&s, plate, out, keep_wall);
    for (int i = 0, n = dieset_stack(p->d, state, layers, COUNT_OF(layers)); i < n; i++)
        if (layers[i].plate != plate)
            find_walls(&s, layers[i].plate, out, keep_other);
    if (out->other.plate >= 0 && out->n_walls && out->walls[0].wall <= out->other.wall)
        out->other.plate = -1;
}
