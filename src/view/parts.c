/* What stands where in the section.
 *
 * Plates come from the stack. Bodies come from properties that a kind may have, whatever it is called:
 *   above_shoe, length, seat_in       a post: in that plate, standing out of it by so much
 *   outside, length, stands, seat_in  a bushing: in that plate, standing out of it towards the posts by so
 *   much
 *   stands_on                         a spring: from its blind pocket to that plate
 *   touch                             a punch: its tip meets the strip at that ram height
 *   touch, below                      a pilot: its tip is that far under the die face at shut
 * Where they stand and how thick they are is told by their holes.
 */

#include "view/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "view/frame.h"
#include "view/matrix.h"

struct scene {
    struct dieset *d;
    enum dieset_state state;
    double ram, stripper_up; /* how far slide and stripper are above their places at shut */
    struct parts *out;
};

/* ---- motion ---------------------------------------------------------------------- */

static double raised(const struct scene *s, int plate)
{
    const char *moves = dieset_text(s->d, plate, "moves");
    return strcmp(moves, DIESET_ON_SLIDE) == 0      ? s->ram
           : strcmp(moves, DIESET_ON_STRIPPER) == 0 ? s->stripper_up
                                                    : 0;
}

static bool on_bed(const struct scene *s, int plate)
{
    return strcmp(dieset_text(s->d, plate, "moves"), DIESET_ON_BED) == 0;
}

static double stack_number(const struct scene *s, const char *name)
{
    int stack = dieset_item_of_kind(s->d, DIESET_STACK);
    return stack < 0 ? NAN : dieset_number(s->d, stack, name, s->state);
}

/* The stripper lies on the strip until the slide has used up its travel. */
static double stripper_rise(const struct scene *s)
{
    double travel = stack_number(s, "travel");
    return isfinite(travel) ? fmax(0, s->ram - travel) : s->ram;
}

/* ---- plates and strip --------------------------------------------------------------- */

static void find_plates(struct scene *s)
{
    struct dieset_layer layers[VIEW_ROWS / 2];
    int n = dieset_stack(s->d, s->state, layers, COUNT_OF(layers));
    for (int i = 0; i < n; i++) {
        int plate = layers[i].plate;
        double up = raised(s, plate);
        struct part p = {
            .low = layers[i].bottom + up,
            .high = layers[i].top + up,
            .item = plate,
            .left = dieset_number(s->d, plate, "left", s->state),
            .right = dieset_number(s->d, plate, "right", s->state),
        };
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

static double die_face(const struct scene *s)
{
    int stack = dieset_item_of_kind(s->d, DIESET_STACK);
    const struct part *die = stack < 0 ? NULL : plate_part(s, dieset_reference(s->d, stack, "die_plate"));
    return die ? die->high : NAN;
}

/* On the die face, or as high as lifters hold it and the stripper lets it. */
static void find_strip(struct scene *s)
{
    int strip = dieset_item_of_kind(s->d, DIESET_STRIP);
    double face = die_face(s), thickness = stack_strip(s->d, s->state);
    double lift = strip < 0 ? NAN : dieset_number(s->d, strip, "lift", s->state);
    double up = isfinite(lift) ? fmin(lift, s->stripper_up) : 0;
    s->out->strip = (struct part){.low = face + up, .high = face + up + thickness, .item = strip};
    if (!isfinite(s->out->strip.high))
        s->out->strip.low = NAN;
}

/* ---- bodies -------------------------------------------------------------------------- */

/* Once where several stand behind one another; the slimmer where one axis has several holes (a punch and its
   head). */
static void add_body(struct scene *s, struct part b)
{
    if (!(b.low < b.high) || !isfinite(b.left) || !isfinite(b.right))
        return;
    for (size_t i = 0; i < s->out->bodies.count; i++) {
        struct part *o = &s->out->bodies.at[i];
        if (o->item != b.item || fabs(o->left + o->right - b.left - b.right) > 1e-6 ||
            fabs(o->low - b.low) > 1e-6)
            continue;
        if (b.right - b.left < o->right - o->left)
            *o = b;
        return;
    }
    base_vec_push(&s->out->bodies, b);
}

/* Not one of several round a point, as the taps of clamps are. */
static bool on_axis(const struct scene *s, const struct dieset_hole *h)
{
    struct dieset_point p;
    if (h->point < 0 || h->point >= dieset_point_count(s->d, h->item))
        return true;
    dieset_point(s->d, h->item, h->point, &p);
    return fabs(p.x - h->x) < 1e-6 && fabs(p.y - h->y) < 1e-6;
}

/* The heights of a body of ITEM in PLATE at rest in the ram's position; false when it is none. */
static bool post_heights(const struct scene *s, int item, int plate, double *low, double *high)
{
    double above = dieset_number(s->d, item, "above_shoe", s->state),
           length = dieset_number(s->d, item, "length", s->state);
    const struct part *seat = plate_part(s, plate);
    if (!isfinite(above) || !isfinite(length) || !seat || dieset_reference(s->d, item, "seat_in") != plate)
        return false;
    *low = on_bed(s, plate) ? seat->high + above - length : seat->low - above;
    *high = *low + length;
    return true;
}

static bool bushing_heights(const struct scene *s, int item, int plate, double *low, double *high)
{
    double length = dieset_number(s->d, item, "length", s->state),
           stands = dieset_number(s->d, item, "stands", s->state);
    const struct part *seat = plate_part(s, plate);
    if (!isfinite(dieset_number(s->d, item, "outside", s->state)) || !isfinite(length) || !isfinite(stands) ||
        !seat || dieset_reference(s->d, item, "seat_in") != plate)
        return false;
    *low = on_bed(s, plate) ? seat->high + stands - length : seat->low - stands;
    *high = *low + length;
    return true;
}

static bool spring_heights(const struct scene *s, int item, const struct dieset_hole *h, double *low,
                           double *high)
{
    const struct part *seat = plate_part(s, h->plate);
    const struct part *floor = plate_part(s, dieset_reference(s->d, item, "stands_on"));
    if (!seat || !floor || h->plate == floor->item || h->through || h->from_top)
        return false;
    *low = floor->high;
    *high = seat->low + h->high;
    return true;
}

static bool punch_heights(const struct scene *s, int item, int plate, double *low, double *high)
{
    double touch = dieset_number(s->d, item, "touch", s->state),
           below = dieset_number(s->d, item, "below", s->state);
    const struct part *holder = plate_part(s, plate);
    int stack = dieset_item_of_kind(s->d, DIESET_STACK);
    if (!isfinite(touch) || !holder || stack < 0 || dieset_reference(s->d, stack, "punch_plate") != plate)
        return false;
    *high = holder->high;
    *low = die_face(s) + s->ram + (isfinite(below) ? -below : stack_strip(s->d, s->state) - touch);
    return isfinite(*low);
}

static void hole_body(struct scene *s, const struct dieset_hole *h, bool coils)
{
    double low, high;
    int kind = dieset_item_kind(s->d, h->item);
    char letter = kind < 0 ? 0 : handbook_kind(dieset_handbook(s->d), kind)->letter;
    struct part b = {.item = h->item,
                     .letter = letter ? letter : (char)letter_small(h->letter),
                     .left = h->left,
                     .right = h->right};
    bool is_coil = spring_heights(s, h->item, h, &low, &high);
    if (is_coil != coils)
        return;
    if (!is_coil && !post_heights(s, h->item, h->plate, &low, &high) &&
        !bushing_heights(s, h->item, h->plate, &low, &high) &&
        !punch_heights(s, h->item, h->plate, &low, &high))
        return;
    b.low = low;
    b.high = high;
    b.coil = is_coil;
    add_body(s, b);
}

/* Springs first, so that punches and posts stand before them. */
static void find_bodies(struct scene *s)
{
    for (int coils = 1; coils >= 0; coils--) {
        for (int i = 0; i < dieset_hole_count(s->d); i++) {
            struct dieset_hole h;
            dieset_hole(s->d, i, s->state, &h);
            if (isfinite(h.x) && on_axis(s, &h))
                hole_body(s, &h, coils);
        }
    }
}

void parts_find(struct dieset *d, double ram, enum dieset_state state, struct parts *out)
{
    *out = (struct parts){.strip.low = NAN};
    struct scene s = {.d = d, .state = state, .ram = ram, .out = out};
    s.stripper_up = stripper_rise(&s);
    find_plates(&s);
    find_strip(&s);
    find_bodies(&s);
}

void parts_done(struct parts *p)
{
    base_vec_done(&p->bodies);
}
