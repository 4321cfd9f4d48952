/* The shell of a plate, level by level.
 *
 * At a level walls end that come from above, and walls that come from below; two of one shape go over into
 * each other, with one ring between them. Of the others a ring from above is the rim of a floor, with the
 * rings from below in it as holes, and a ring from below the rim of a ceiling. The faces of the plate are
 * floor and ceiling without a rim of an opening. So each ring is used twice, in opposite senses.
 */

#include "solid/shell.h"

#include <math.h>
#include <stdlib.h>

struct level_ring { struct ring r; int above, below; }; /* walls that use it, -1: none */

struct level { BASE_VEC(struct level_ring) at; };

struct shell {
    const struct openings *o;
    struct body *body;
    struct level *levels;
    int (*rings)[2]; /* of each wall, in its low and its high level */
};

static bool is_open(const struct openings *o, int piece) { return piece_opening(o, piece)->open; }

/* ---- rings of a level ------------------------------------------------------------------------ */

static enum base_err no_ring(const struct openings *o, int piece, struct base_diag *why)
{
    const struct opening *w = piece_opening(o, piece);
    return base_fail(why, BASE_REFUSED,
                     "In %s an opening of %s cannot be widened as far as it is to be: a side of it would "
                     "vanish.",
                     dieset_item_name(o->d, o->plate), dieset_item_name(o->d, w->hole.item));
}

/* A ring of a wall from below that is one with a wall's from above. */
static int shared_ring(const struct shell *s, int level, int piece)
{
    const struct level *l = &s->levels[level];
    for (size_t i = 0; i < l->at.count; i++)
        if (l->at.at[i].below < 0 &&
            section_relation(s->o, l->at.at[i].r.piece, piece, s->o->levels.at[level]) == SAME)
            return (int)i;
    return -1;
}

static enum base_err add_ring(struct shell *s, int wall, int level, bool above, struct base_diag *why)
{
    const struct wall *w = &s->o->walls.at[wall];
    struct level *l = &s->levels[level];
    int ring = above ? -1 : shared_ring(s, level, w->piece);
    if (ring < 0) {
        struct level_ring made = {.above = -1, .below = -1};
        if (!ring_new(s->o, w->piece, s->o->levels.at[level], s->body, &made.r))
            return no_ring(s->o, w->piece, why);
        ring = (int)l->at.count;
        base_vec_push(&l->at, made);
    }
    if (above)
        l->at.at[ring].above = wall;
    else
        l->at.at[ring].below = wall;
    s->rings[wall][above ? 0 : 1] = ring;
    return BASE_OK;
}

/* Those from above first, so that those from below find them. */
static enum base_err add_rings(struct shell *s, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (int above = 1; above >= 0; above--)
        for (int i = 0; i < (int)s->o->walls.count && !err; i++) {
            const struct wall *w = &s->o->walls.at[i];
            if (!is_open(s->o, w->piece))
                err = add_ring(s, i, above ? w->low : w->high, above != 0, why);
        }
    return err;
}

static void add_walls(struct shell *s)
{
    for (size_t i = 0; i < s->o->walls.count; i++) {
        const struct wall *w = &s->o->walls.at[i];
        if (!is_open(s->o, w->piece))
            ring_walls(s->o, w->piece, &s->levels[w->low].at.at[s->rings[i][0]].r,
                       &s->levels[w->high].at.at[s->rings[i][1]].r, s->body);
    }
}

/* ---- what lies flat -------------------------------------------------------------------------- */

static void flat_face(struct body *b, double z, bool up, const char *name)
{
    body_face(b, (struct body_face){.surface = BODY_FLAT, .at = {0, 0, z}, .normal = {0, 0, up ? 1 : -1},
                                    .name = name});
}

/* Is it the rim of a face, or in one? Not where its walls go over into each other, nor a tip. */
static bool ends_here(const struct level_ring *l) { return (l->above < 0 || l->below < 0) && !l->r.point; }

static void loop_of(struct body *b, const struct ring *r, bool forward)
{
    body_loop(b);
    body_uses(b, r->uses, r->n, forward);
}

/* RIM from above: a floor; from below: a ceiling. In it the rings of the other side that it holds. */
static enum base_err ring_face(const struct shell *s, int level, int rim, bool *held, struct base_diag *why)
{
    const struct level *l = &s->levels[level];
    const struct level_ring *out = &l->at.at[rim];
    bool up = out->above >= 0;
    double z = s->o->levels.at[level];
    flat_face(s->body, z, up, piece_opening(s->o, out->r.piece)->name);
    loop_of(s->body, &out->r, up);
    for (int i = 0; i < (int)l->at.count; i++) {
        const struct level_ring *in = &l->at.at[i];
        if (i == rim || !ends_here(in) || (in->above >= 0) == up)
            continue;
        enum relation r = section_relation(s->o, out->r.piece, in->r.piece, z);
        if (r == CUTS)
            return openings_refuse(s->o, out->r.piece, in->r.piece, why);
        if (r == HOLDS) {
            loop_of(s->body, &in->r, !up);
            held[i] = true;
        }
    }
    return BASE_OK;
}

/* Is it held by one of the other side? */
static enum base_err find_held(const struct shell *s, int level, int ring, bool *held, struct base_diag *why)
{
    const struct level *l = &s->levels[level];
    const struct level_ring *in = &l->at.at[ring];
    for (int i = 0; i < (int)l->at.count; i++) {
        const struct level_ring *out = &l->at.at[i];
        if (i == ring || !ends_here(out) || (out->above >= 0) == (in->above >= 0))
            continue;
        enum relation r = section_relation(s->o, out->r.piece, in->r.piece, s->o->levels.at[level]);
        if (r == CUTS)
            return openings_refuse(s->o, out->r.piece, in->r.piece, why);
        *held = *held || r == HOLDS;
    }
    return BASE_OK;
}

static enum base_err lie(const struct shell *s, int level, struct base_diag *why)
{
    const struct level *l = &s->levels[level];
    bool *held = base_alloc(l->at.count + 1);
    enum base_err err = BASE_OK;
    for (int i = 0; i < (int)l->at.count && !err; i++)
        if (ends_here(&l->at.at[i]))
            err = find_held(s, level, i, &held[i], why);
    for (int i = 0; i < (int)l->at.count && !err; i++)
        if (ends_here(&l->at.at[i]) && !held[i])
            err = ring_face(s, level, i, held, why);
    free(held);
    return err;
}

/* Top or bottom of the plate, with all that opens there. */
static void plate_face(const struct shell *s, bool top, const struct body_use *rim, int n)
{
    int level = top ? (int)s->o->levels.count - 1 : 0;
    const struct level *l = &s->levels[level];
    flat_face(s->body, s->o->levels.at[level], top, top ? "top" : "bottom");
    body_loop(s->body);
    body_uses(s->body, rim, n, top);
    for (size_t i = 0; i < l->at.count; i++)
        if (!l->at.at[i].r.point)
            loop_of(s->body, &l->at.at[i].r, !top);
}

/* An opening that ends at the height of an open slot's floor must lie beside the slot. */
static enum base_err beside_slots(const struct openings *o, struct base_diag *why)
{
    for (size_t i = 0; i < o->walls.count; i++)
        for (size_t k = 0; k < o->walls.count; k++) {
            const struct wall *a = &o->walls.at[i], *b = &o->walls.at[k];
            bool under = a->low == b->high, over = a->high == b->low;
            if (i == k || !is_open(o, a->piece) || !(under || over))
                continue;
            double z = o->levels.at[under ? a->low : a->high];
            enum relation r = section_relation(o, a->piece, b->piece, z);
            if (is_open(o, b->piece) ? r == CUTS : r != APART)
                return openings_refuse(o, a->piece, b->piece, why);
        }
    return BASE_OK;
}

static enum base_err build(struct shell *s, struct base_diag *why)
{
    struct body_use *top = NULL, *bottom = NULL;
    int n_top, n_bottom, last = (int)s->o->levels.count - 1;
    enum base_err err = beside_slots(s->o, why);
    if (!err)
        err = rim_build(s->o, s->body, &top, &n_top, &bottom, &n_bottom, why);
    if (!err)
        err = add_rings(s, why);
    if (!err) {
        plate_face(s, true, top, n_top);
        plate_face(s, false, bottom, n_bottom);
        add_walls(s);
    }
    for (int i = 1; i < last && !err; i++)
        err = lie(s, i, why);
    free(top);
    free(bottom);
    return err;
}

enum base_err shell_build(const struct openings *o, struct body *body, struct base_diag *why)
{
    struct shell s = {.o = o, .body = body};
    s.levels = base_alloc(o->levels.count * sizeof *s.levels);
    s.rings = base_alloc((o->walls.count + 1) * sizeof *s.rings);
    enum base_err err = build(&s, why);
    for (size_t i = 0; i < o->levels.count; i++) {
        for (size_t k = 0; k < s.levels[i].at.count; k++)
            ring_done(&s.levels[i].at.at[k].r);
        base_vec_done(&s.levels[i].at);
    }
    free(s.levels);
    free(s.rings);
    return err;
}
