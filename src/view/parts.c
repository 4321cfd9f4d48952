/* What stands where in the section: plates, the strip, and of every item the holes and the bodies that the
 * handbook's records give it. Nothing here knows a kind by its name.
 *
 * A body is seen whole, through the plates that it stands in. Where several stand behind one another, as
 * corners of a pattern do, one is enough; where parts of different items do, the slimmer stands before.
 */

#include "view/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "view/frame.h"

struct scene {
    struct dieset *d;
    enum dieset_state state;
    double ram;
    struct parts *out;
};

/* ---- plates and strip --------------------------------------------------------------- */

static void find_plates(struct scene *s)
{
    struct dieset_layer layers[VIEW_ROWS / 2];
    int n = dieset_stack(s->d, s->state, layers, COUNT_OF(layers));
    for (int i = 0; i < n; i++) {
        struct dieset_plate plate = dieset_plate(s->d, layers[i].plate, s->state);
        double up = dieset_rise(s->d, layers[i].plate, s->state, s->ram);
        struct part p = {.low = plate.bottom + up,
                         .high = plate.top + up,
                         .left = plate.left,
                         .right = plate.right,
                         .item = layers[i].plate};
        if (isfinite(p.low) && isfinite(p.high) && isfinite(p.left) && isfinite(p.right))
            s->out->plates[s->out->n_plates++] = p;
    }
}

static const struct part *plate_part(const struct scene *s, int plate)
{
    for (int i = 0; i < s->out->n_plates; i++)
        if (s->out->plates[i].item == plate)
            return &s->out->plates[i];
    return NULL;
}

static void find_strip(struct scene *s)
{
    struct dieset_strip strip = dieset_strip(s->d, s->state, s->ram);
    s->out->strip = (struct part){.low = strip.low, .high = strip.high, .item = strip.item};
}

/* ---- holes and bodies ------------------------------------------------------------------ */

static bool is_same(const struct part *a, const struct part *b)
{
    return a->item == b->item && a->coil == b->coil && fabs(a->low - b->low) < 1e-6 &&
           fabs(a->high - b->high) < 1e-6 && fabs(a->left - b->left) < 1e-6 &&
           fabs(a->right - b->right) < 1e-6;
}

static void add(part_list *to, struct part p)
{
    if (!(p.low < p.high) || !(p.left < p.right) || !isfinite(p.high - p.low) || !isfinite(p.right - p.left))
        return;
    for (size_t i = 0; i < to->count; i++)
        if (is_same(&to->at[i], &p))
            return;
    base_vec_push(to, p);
}

static struct part part_of(const struct dieset_hole *h)
{
    return (struct part){.left = h->left, .right = h->right, .item = h->item};
}

static void find_holes(struct scene *s)
{
    for (int i = 0; i < dieset_hole_count(s->d); i++) {
        struct dieset_hole h;
        dieset_hole(s->d, i, s->state, &h);
        const struct part *plate = plate_part(s, h.plate);
        struct part p = part_of(&h);
        if (!plate || h.nowhere)
            continue;
        p.low = plate->low + h.low;
        p.high = plate->low + h.high;
        add(&s->out->holes, p);
    }
}

/* Does the body stand where its item works, not where what that has formed has been carried on to? */
static bool at_work(const struct scene *s, const struct dieset_hole *h)
{
    double pitch = dieset_number(s->d, dieset_item_of_kind(s->d, DIESET_STRIP), "pitch", s->state);
    for (int i = 0; i < dieset_point_count(s->d, h->item); i++) {
        struct dieset_point at;
        dieset_point(s->d, h->item, i, &at);
        if (!at.broken && fabs(h->x - at.x) < pitch / 2)
            return true;
    }
    return false;
}

static bool is_formed(const struct scene *s, const struct dieset_hole *h)
{
    return dieset_has_folds(s->d, h->item) && strcmp(h->operation, "formed") == 0 &&
           isfinite(s->out->strip.low);
}

static double share_of(const struct scene *s, const struct dieset_hole *h)
{
    return at_work(s, h) ? dieset_formed_share(s->d, h->item, s->ram) : 1;
}

/* What is formed rises with the strip; where it is being formed it stands out as far as the ram has come. */
static void raise_formed(const struct scene *s, const struct dieset_hole *h, struct part *p)
{
    struct dieset_strip shut = dieset_strip(s->d, s->state, 0);
    double up = s->out->strip.low - shut.low, share = share_of(s, h);
    if (p->high < shut.high)
        p->low = p->high - share * (p->high - p->low);
    else
        p->high = p->low + share * (p->high - p->low);
    p->low += up, p->high += up;
}

static void bend_formed(const struct scene *s, const struct dieset_body *b, struct part *p)
{
    struct dieset_bent bent[DIESET_BENT_MOST];
    struct dieset_body there = *b;
    there.low = p->low, there.high = p->high;
    p->n_bent = dieset_formed_profile(s->d, &there, s->out->strip.low, share_of(s, &b->plan), bent);
    if (p->n_bent) {
        p->bent = base_alloc((size_t)p->n_bent * sizeof *p->bent);
        memcpy(p->bent, bent, (size_t)p->n_bent * sizeof *p->bent);
    }
}

static void find_bodies(struct scene *s)
{
    for (int i = 0; i < dieset_body_count(s->d); i++) {
        struct dieset_body b;
        dieset_body_raised(s->d, i, s->state, s->ram, &b);
        struct part p = part_of(&b.plan);
        p.low = b.low;
        p.high = b.high;
        p.letter = (char)letter_small(b.plan.letter);
        p.coil = b.end_plate != b.plan.plate;
        size_t before = s->out->bodies.count;
        bool formed = b.known && is_formed(s, &b.plan);
        if (formed)
            raise_formed(s, &b.plan, &p);
        if (b.known)
            add(&s->out->bodies, p);
        if (formed && s->out->bodies.count > before)
            bend_formed(s, &b, &s->out->bodies.at[before]);
    }
}

/* ---- what stands before what ------------------------------------------------------------- */

static double breadth(const struct part *p) { return p->right - p->left; }

/* Coils behind all else, then the broad behind the slim; what is alike as it came. */
static int back_first(const void *a, const void *b)
{
    const struct part *p = a, *q = b;
    if (p->coil != q->coil)
        return p->coil ? -1 : 1;
    double more = breadth(p) - breadth(q);
    return more > 1e-6 ? -1 : more < -1e-6 ? 1 : (p->item > q->item) - (p->item < q->item);
}

/* Of the parts of an item on one axis the longest bears the letter, unless another has one of its own: a head
   and its shank are one screw. */
static void share_letters(part_list *all)
{
    for (size_t i = 0; i < all->count; i++)
        for (size_t k = 0; k < all->count; k++) {
            struct part *p = &all->at[i];
            const struct part *o = &all->at[k];
            bool one = p->item == o->item && p->letter == o->letter &&
                       fabs(p->left + p->right - o->left - o->right) < 1e-6;
            if (i != k && one && o->high - o->low > p->high - p->low + 1e-6)
                p->shares = true;
        }
}

void parts_find(struct dieset *d, double ram, enum dieset_state state, struct parts *out)
{
    *out = (struct parts){.strip.low = NAN};
    struct scene s = {.d = d, .state = state, .ram = ram, .out = out};
    find_plates(&s);
    find_strip(&s);
    find_holes(&s);
    find_bodies(&s);
    share_letters(&out->bodies);
    if (out->bodies.count)
        qsort(out->bodies.at, out->bodies.count, sizeof *out->bodies.at, back_first);
}

void parts_done(struct parts *p)
{
    for (size_t i = 0; i < p->bodies.count; i++)
        free(p->bodies.at[i].bent);
    base_vec_done(&p->holes);
    base_vec_done(&p->bodies);
}
