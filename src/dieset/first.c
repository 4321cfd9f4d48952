/* The first strokes: where the strip's end stands, and what cuts it with a part of its edge only.
 *
 * All stations repeat by the pitch, so that a cut meets the strip's end at some stroke exactly where the end,
 * whole pitches left out, lies within the cut (own derivation). Places here are counted the way that the
 * strip is fed, from station 1. */

#include "dieset/strip.h"

#include <math.h>
#include <stdlib.h>

static const double near = 1e-3; /* mm: what the strip's end may be off */

struct lead {
    const struct strip *s;
    double first; /* the plan's X of station 1 */
    double end;   /* the strip's end at the first stroke */
};

static double from_of(const struct lead *l, const struct tool *t)
{
    return l->s->way > 0 ? t->box.left - l->first : l->first - t->box.right;
}

static double to_of(const struct lead *l, const struct tool *t)
{
    return l->s->way > 0 ? t->box.right - l->first : l->first - t->box.left;
}

static bool parts(const struct lead *l, const struct tool *t)
{
    return t->box.back >= l->s->width / 2 - near && t->box.front <= near - l->s->width / 2;
}

/* The stroke at which the strip's end, END at the first, lies within the cut; 0: at none. A cut across the
 * whole strip is one-sided too where the end lies on its far edge. */
static int half_at(const struct lead *l, const struct tool *t, double end)
{
    double from = from_of(l, t), to = to_of(l, t) + (parts(l, t) ? 2 * near : 0), p = l->s->pitch,
           stroke = fmax(1, 1 + ceil((from + near - end) / p));
    bool within = t->n && end + (stroke - 1) * p < to - near;
    return within && stroke < STRIP_FAR ? (int)stroke : 0;
}

/* The stroke at which the strip's end has first come past all of the cut. */
static int whole_at(const struct lead *l, const struct tool *t)
{
    return (int)fmin(STRIP_FAR, fmax(1, 1 + ceil((to_of(l, t) - near - l->end) / l->s->pitch)));
}

static int halves(const struct lead *l, double end)
{
    int n = 0;
    for (size_t i = 0; i < l->s->tools.count; i++)
        n += half_at(l, &l->s->tools.at[i], end) > 0;
    return n;
}

/* How far before END no cut is met, at most a pitch. */
static double free_before(const struct lead *l, double end)
{
    double least = l->s->pitch;
    for (size_t i = 0; i < l->s->tools.count; i++) {
        double back = fmod(end - to_of(l, &l->s->tools.at[i]), l->s->pitch);
        least = fmin(least, back < -near ? back + l->s->pitch : fmax(0, back));
    }
    return least;
}

/* Where nothing is cut with half an edge: flush with the cut that parts the strip, else in the middle of the
 * widest metal between cuts; where there is no such place, before the cut that leaves the fewest halves. */
static double best_end(const struct lead *l)
{
    const struct strip *s = l->s;
    double best = 0, first = INFINITY;
    int fewest = -1;
    double widest = -1;
    for (size_t i = 0; i < s->tools.count; i++) {
        const struct tool *t = &s->tools.at[i];
        double end = from_of(l, t), room = parts(l, t) ? 2 * s->pitch : free_before(l, end);
        int n = halves(l, end - 1000 * s->pitch);
        first = fmin(first, to_of(l, t));
        if (fewest < 0 || n < fewest || (n == fewest && room > widest)) {
            best = end - (parts(l, t) ? 0 : room / 2);
            fewest = n;
            widest = room;
        }
    }
    /* as near as the first of them cuts at once */
    return best + ceil((first - near - best) / s->pitch) * s->pitch;
}

static bool lead_of(const struct build *b, struct lead *out)
{
    const struct contract *k = &b->d->contract;
    const struct cell *first = k->strip_first < 0 ? NULL : only_cell(b, k->strip, k->strip_first),
                      *start = k->strip_start < 0 ? NULL : only_cell(b, k->strip, k->strip_start);
    *out = (struct lead){.s = strip_of(b), .first = first ? cell_amount(b, first, DIESET_NEW) : NAN};
    for (size_t i = 0; i < out->s->tools.count; i++)
        if (!out->s->tools.at[i].known)
            return false;
    if (!isfinite(out->first) || !(out->s->pitch > 0) || !out->s->tools.count)
        return false;
    double typed = start ? cell_amount(b, start, DIESET_NEW) : NAN;
    out->end = isfinite(typed) ? typed : best_end(out);
    return true;
}

/* The strip's end at the first stroke, from station 1 on the way that the strip is fed. */
bool first_start(const struct build *b, int item, double *out)
{
    struct lead l;
    (void)item;
    bool known = lead_of(b, &l);
    *out = l.end;
    return known;
}

/* The first stroke at which ITEM cuts. */
bool first_stroke(const struct build *b, int item, double *out)
{
    struct lead l;
    *out = INFINITY;
    bool known = lead_of(b, &l);
    for (size_t i = 0; known && i < l.s->tools.count; i++) {
        const struct tool *t = &l.s->tools.at[i];
        int half = t->item == item ? half_at(&l, t, l.end) : 0;
        if (t->item == item)
            *out = fmin(*out, half ? half : whole_at(&l, t));
    }
    return isfinite(*out);
}

/* The first stroke at which ITEM cuts with a part of its edge; 0: there is none. */
bool first_half(const struct build *b, int item, double *out)
{
    struct lead l;
    *out = 0;
    bool known = lead_of(b, &l);
    for (size_t i = 0; known && i < l.s->tools.count; i++) {
        int half = l.s->tools.at[i].item == item ? half_at(&l, &l.s->tools.at[i], l.end) : 0;
        *out = half && (*out == 0 || half < *out) ? half : *out;
    }
    return known;
}
