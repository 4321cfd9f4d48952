/* place/move.c - a point in hand moved, turned, given back to its group */

#include "place/own.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What the way is worth now, among the entries; back where it was grabbed, what was typed then. */
static void retype(struct place *p, int axis)
{
    struct place_way *w = &p->ways[axis];
    char *path = place_entry(p, axis);
    if (fabs(w->at - w->start) < PLACE_SAME) {
        if (w->held)
            place_put(p, path, w->held);
        else
            place_forget(p, path);
        free(path);
        return;
    }
    char *number = place_length(p, place_measured(p, axis, w->from));
    char *text = place_text(p, axis, w->from, number);
    if (!text && (place_item(p) < 0 || !dieset_entry(p->d, place_item(p), path)))
        place_forget(p, path);
    else
        place_put(p, path, text);
    free(text);
    free(number);
    free(path);
}

bool place_move(struct place *p, int axis, double mm)
{
    if (!p->ways[axis].moves)
        return false;
    p->ways[axis].at += mm;
    retype(p, axis);
    return true;
}

/* A turn that is usual is not typed. */
void place_turn(struct place *p, double by_deg)
{
    struct dieset_point at;
    if (!place_point(p, &at, NULL))
        return;
    double degree = acos(0) / 90, all = p->alone ? place_value(p, "lay.turn").number / degree : 0;
    double turn = fmod(round((at.turn / degree + by_deg) * 1e6) / 1e6, 360);
    char *path = p->alone ? typed_of_point(p->point, TYPED_TURN) : typed_of_take("turn");
    char *text = base_format("%g deg", turn);
    bool usual = fabs(turn - all) < 1e-6;
    if (usual)
        place_take_away(p, path);
    else
        place_put(p, path, text);
    free(text);
    free(path);
}

void place_give_back(struct place *p)
{
    for (int axis = 0; axis < TYPED_AXES; axis++) {
        char *path = typed_of_point(p->point, (enum typed_axis)axis);
        place_take_away(p, path);
        free(path);
    }
    p->alone = false;
}

void place_free(struct place *p)
{
    struct dieset_point at;
    char name[48];
    snprintf(name, sizeof name, "%s", p->point);
    bool freed = place_point(p, &at, NULL) && at.freed;
    if (p->alone && freed)
        place_give_back(p);
    else
        p->alone = !p->alone;
    place_try(p);
    place_grab(p, name);
}

static enum base_err not_from_there(const struct place *p, int axis, enum place_from from,
                                    struct base_diag *why)
{
    char words[120];
    if (!p->ways[axis].moves)
        return base_fail(why, BASE_REFUSED, "The pattern holds %s of %s %s the feed: freed it may be moved.",
                         p->point, p->item, axis ? "across" : "along");
    place_from_words(p, axis, from, words, sizeof words);
    return base_fail(why, BASE_REFUSED,
                     "The pattern does not measure %s of %s %s: alone it may be measured from any edge.",
                     p->point, p->item, words);
}

enum base_err place_measure(struct place *p, int axis, enum place_from from, const char *measured,
                            struct base_diag *why)
{
    if (!place_may(p, axis, from))
        return not_from_there(p, axis, from, why);
    char *entry = place_entry(p, axis), *text = *measured ? place_text(p, axis, from, measured) : NULL;
    p->ways[axis].from = from;
    place_put(p, entry, text);
    free(text);
    free(entry);
    return BASE_OK;
}

void place_take(struct place *p, const char *name, const char *text)
{
    char path[PLACE_PATH], *entry = typed_of_take(name);
    snprintf(path, sizeof path, "%s.lay.%s", p->item, name);
    char *whole = *text ? dieset_complete(p->d, path, text) : NULL;
    place_put(p, entry, whole && *whole ? whole : NULL);
    free(whole);
    free(entry);
}
