/* What every picture and paper asks of plates, the strip and the stack, by the names of the contract. */

#include "dieset/build.h"

#include <math.h>
#include <string.h>

static enum dieset_moves moves_of(const char *word)
{
    return strcmp(word, DIESET_ON_SLIDE) == 0      ? DIESET_MOVES_SLIDE
           : strcmp(word, DIESET_ON_STRIPPER) == 0 ? DIESET_MOVES_STRIPPER
                                                   : DIESET_MOVES_BED;
}

/* NULL: ITEM is no plate. */
static const struct cell *plate_cell(const struct build *b, int item, int property)
{
    bool is = item >= 0 && b->items.at[item].kind == b->d->contract.plate;
    return is ? b->items.at[item].properties[property] : NULL;
}

enum dieset_moves plate_moves(const struct build *b, int plate)
{
    const struct cell *c = plate_cell(b, plate, b->d->contract.moves);
    return moves_of(!c || c->constant[0].error ? "" : base_pool_text(b->d->pool, (int)c->constant[0].number));
}

double only_way(const struct build *b, int kind, int property, enum dieset_state s)
{
    const struct cell *c = only_cell(b, kind, property);
    double amount = c ? cell_amount(b, c, s) : NAN;
    return isfinite(amount) ? fmax(0, amount) : 0;
}

static double only_amount(const struct build *b, int kind, int property, enum dieset_state s)
{
    const struct cell *c = only_cell(b, kind, property);
    return c ? cell_amount(b, c, s) : NAN;
}

int dieset_die_plate(const struct dieset *d)
{
    const struct cell *c = d->now ? only_cell(d->now, d->contract.stack, d->contract.die_plate) : NULL;
    return !c || c->constant[0].error ? -1 : (int)c->constant[0].number;
}

double dieset_shut_height(const struct dieset *d, enum dieset_state s)
{
    return d->now ? only_amount(d->now, d->contract.stack, d->contract.shut_height, s) : NAN;
}

struct dieset_plate dieset_plate(const struct dieset *d, int item, enum dieset_state s)
{
    struct dieset_plate out;
    const struct contract *k = &d->contract;
    const struct {
        int property;
        double *to;
    } fields[] = {
        {k->length, &out.length},     {k->width, &out.width},       {k->thickness, &out.thickness},
        {k->thickness_now, &out.thickness_now},
        {k->bottom, &out.bottom},     {k->top, &out.top},           {k->left, &out.left},
        {k->right, &out.right},       {k->front, &out.front},       {k->back, &out.back},
        {k->middle_x, &out.middle_x}, {k->middle_y, &out.middle_y},
    };
    bool is = d->now && plate_cell(d->now, item, k->length) != NULL;
    for (size_t i = 0; i < COUNT_OF(fields); i++) {
        const struct cell *c = is ? d->now->items.at[item].properties[fields[i].property] : NULL;
        *fields[i].to = c ? cell_amount(d->now, c, s) : NAN;
    }
    out.moves = is ? plate_moves(d->now, item) : DIESET_MOVES_BED;
    out.strip = is && (out.moves == DIESET_MOVES_STRIPPER || item == dieset_die_plate(d));
    return out;
}

bool stripper_is_below(const struct build *b)
{
    const struct contract *k = &b->d->contract;
    const struct cell *c = k->blank_die >= 0 ? only_cell(b, k->stack, k->blank_die) : NULL;
    return c && !c->constant[0].error;
}

/* One above lies on the strip until the slide has used up its travel; one below comes up with the slide until
 * its own is used up. */
static double stripper_rise(const struct dieset *d, enum dieset_state s, double ram)
{
    double travel = only_way(d->now, d->contract.stack, d->contract.travel, s);
    return stripper_is_below(d->now) ? fmin(ram, travel) : fmax(0, ram - travel);
}

double dieset_rise(const struct dieset *d, int plate, enum dieset_state s, double ram)
{
    enum dieset_moves moves = plate_moves(d->now, plate);
    return moves == DIESET_MOVES_SLIDE      ? ram
           : moves == DIESET_MOVES_STRIPPER ? stripper_rise(d, s, ram)
                                            : 0;
}

/* How far over the die face a stripper from below holds the strip. */
static double held_up(const struct dieset *d, enum dieset_state s, double ram)
{
    const struct rows *plates = &d->now->rows[d->contract.plate];
    double up = 0, face = dieset_plate(d, dieset_die_plate(d), s).top;
    for (size_t i = 0; i < plates->items.count; i++) {
        struct dieset_plate p = dieset_plate(d, plates->items.at[i], s);
        if (p.moves == DIESET_MOVES_STRIPPER && isfinite(p.top))
            up = fmax(up, p.top + stripper_rise(d, s, ram) - face);
    }
    return up;
}

/* On the die face, or as high as lifters hold it and the stripper lets it, or as a stripper from below holds
   it. */
struct dieset_strip dieset_strip(const struct dieset *d, enum dieset_state s, double ram)
{
    const struct contract *k = &d->contract;
    double lift = only_amount(d->now, k->strip, k->strip_lift, s);
    struct dieset_strip out = {.item = dieset_item_of_kind(d, DIESET_STRIP),
                               .thickness = only_amount(d->now, k->strip, k->strip_thickness, s),
                               .width = only_amount(d->now, k->strip, k->strip_width, s)};
    double up = isfinite(lift) ? fmin(lift, stripper_rise(d, s, ram)) : 0;
    if (stripper_is_below(d->now))
        up = held_up(d, s, ram);
    out.low = dieset_plate(d, dieset_die_plate(d), s).top + up;
    out.high = out.low + out.thickness;
    if (!isfinite(out.high))
        out.low = NAN;
    return out;
}
