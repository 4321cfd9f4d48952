/* tui/laying/near.c - see near.h */

#include "tui/laying/near.h"

#include <math.h>

#define SAME 1e-6 /* mm: on the line */

struct search { const struct tui *t; const struct laying *l; int item, point; };

static bool is_moving(const struct search *s, const struct dieset_hole *h)
{
    return laying_owner(s->t, h->item) == s->item && (!s->l->alone || h->point == s->point);
}

static bool is_grabbed(const struct search *s, const struct dieset_hole *h)
{
    return h->point == s->point && laying_owner(s->t, h->item) == s->item;
}

/* A letter's words stand with the small one. */
static char small(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter ? letter : '+';
}

/* ---- lines ---- */

static void offer(struct near_all *out, const struct laying *l, int axis, double at, char letter,
                  double reach)
{
    const struct laying_way *w = &l->ways[axis];
    double off = fabs(at - w->at);
    if (!isfinite(at) || off > reach + SAME)
        return;
    if (off < SAME) {
        if (!out->on[axis].there || !letter)
            out->on[axis] = (struct near_line){true, at, letter};
    } else if (fabs(w->at - w->start) > SAME) {
        double best = out->hint[axis].there ? fabs(out->hint[axis].at - w->at) : INFINITY;
        /* on one line with holes, the centre line is named */
        if (off < best - SAME || (off < best + SAME && !letter))
            out->hint[axis] = (struct near_line){true, at, letter};
    }
}

static void find_lines(const struct search *s, int plate, double column_mm, struct near_all *out)
{
    double reach[2] = {column_mm / 2, column_mm * s->t->cell_ratio / 2};
    int first = 0, n = dieset_plate_holes(s->t->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(s->t->d, i, s->t->state, &h);
        if (h.nowhere || is_moving(s, &h))
            continue;
        offer(out, s->l, 0, h.x, small(h.letter), reach[0]);
        offer(out, s->l, 1, h.y, small(h.letter), reach[1]);
    }
    offer(out, s->l, 0, dieset_number(s->t->d, plate, "middle_x", s->t->state), 0, reach[0]);
    offer(out, s->l, 1, dieset_number(s->t->d, plate, "middle_y", s->t->state), 0, reach[1]);
}

/* ---- walls ---- */

/* The thinnest first, each letter once. */
static void keep_wall(struct near_all *out, const struct near_wall *w)
{
    int i = 0;
    while (i < out->n_walls && out->walls[i].letter != w->letter)
        i++;
    if (i < out->n_walls && out->walls[i].wall <= w->wall)
        return;
    if (i == out->n_walls && out->n_walls == NEAR_WALLS && out->walls[--i].wall <= w->wall)
        return;
    out->n_walls += i == out->n_walls;
    for (; i > 0 && out->walls[i - 1].wall > w->wall; i--)
        out->walls[i] = out->walls[i - 1];
    out->walls[i] = *w;
}

typedef void wall_fn(struct near_all *out, const struct near_wall *w);

static void keep_other(struct near_all *out, const struct near_wall *w)
{
    if (out->other.plate < 0 || w->wall < out->other.wall)
        out->other = *w;
}

/* Walls between a hole of the grabbed point and all others of its plate that share depth with it. */
static void walls_of(const struct search *s, int plate, const struct dieset_hole *own, struct near_all *out,
                     wall_fn *keep)
{
    int first = 0, n = dieset_plate_holes(s->t->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        double shared = 0;
        dieset_hole(s->t->d, i, s->t->state, &h);
        if (h.nowhere || is_grabbed(s, &h))
            continue;
        double wall = dieset_wall(own, &h, &shared);
        if (shared > 0 && isfinite(wall))
            keep(out, &(struct near_wall){wall, small(h.letter), h.item, plate});
    }
}

static void find_walls(const struct search *s, int plate, struct near_all *out, wall_fn *keep)
{
    int first = 0, n = dieset_plate_holes(s->t->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole own;
        dieset_hole(s->t->d, i, s->t->state, &own);
        if (!own.nowhere && is_grabbed(s, &own))
            walls_of(s, plate, &own, out, keep);
    }
}

void near_find(const struct tui *t, const struct laying *l, int plate, double column_mm, struct near_all *out)
{
    struct dieset_point at;
    struct dieset_layer layers[64];
    struct search s = {.t = t, .l = l, .item = laying_item(t, l)};
    *out = (struct near_all){.other.plate = -1};
    if (plate < 0 || !laying_point(t, l, &at, &s.point))
        return;
    find_lines(&s, plate, column_mm, out);
    find_walls(&s, plate, out, keep_wall);
    for (int i = 0, n = dieset_stack(t->d, t->state, layers, COUNT_OF(layers)); i < n; i++)
        if (layers[i].plate != plate)
            find_walls(&s, layers[i].plate, out, keep_other);
    if (out->other.plate >= 0 && out->n_walls && out->walls[0].wall <= out->other.wall)
        out->other.plate = -1;
}
