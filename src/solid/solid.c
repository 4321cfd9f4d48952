/* Files of one plate and of the whole set. */

#include "solid/shell.h"
#include "solid/step.h"

#include <math.h>
#include <stdlib.h>

static enum base_err plate_body(struct dieset *d, int plate, enum dieset_state s, struct openings *o,
                                struct body *body, struct base_diag *why)
{
    enum base_err err = openings_read(d, plate, s, o, why);
    if (err)
        return err;
    err = shell_build(o, body, why);
    if (err) {
        body_done(body);
        openings_done(o);
    }
    return err;
}

/* The plate's product; its names are kept with the openings, so both go together. */
static enum base_err write_plate(struct step *step, struct dieset *d, int plate, enum dieset_state s,
                                 struct step_product *out, struct base_diag *why)
{
    struct openings o;
    struct body body = {0};
    enum base_err err = plate_body(d, plate, s, &o, &body, why);
    if (err)
        return err;
    *out = step_solid(step, &body, dieset_item_name(d, plate), dieset_item_title(d, plate));
    body_done(&body);
    openings_done(&o);
    return BASE_OK;
}

/* What was begun in OWN is added to OUT when it came to its end. */
static enum base_err finish(struct step *step, struct base_text *own, enum base_err err,
                            struct base_text *out)
{
    if (!err) {
        step_end(step);
        base_text_add(out, base_text_get(own));
    }
    base_text_done(own);
    return err;
}

enum base_err solid_plate(struct dieset *d, int plate, enum dieset_state s, const struct solid_head *head,
                          struct base_text *out, struct base_diag *why)
{
    struct base_text own = {0};
    struct step step;
    struct step_product product;
    step_begin(&step, head, dieset_item_title(d, plate), &own);
    return finish(&step, &own, write_plate(&step, d, plate, s, &product, why), out);
}

/* ---- the set --------------------------------------------------------------------------------- */

enum { MOST_PLATES = 64 };

struct half {
    const char *name;
    bool upper;
    double rise;           /* its place in the set */
    int n, items[MOST_PLATES], places[MOST_PLATES];
    struct step_product at[MOST_PLATES];
};

static enum base_err no_height(struct dieset *d, int plate, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "The height at which %s stands is not known; check tells why.",
                     dieset_item_name(d, plate));
}

/* Where the plate stands in its half: as at shut, but for what it has moved beside it. */
static enum base_err add_plate(struct step *step, struct dieset *d, int plate, enum dieset_state s,
                               double ram, struct half *h, struct base_diag *why)
{
    struct dieset_plate p = dieset_plate(d, plate, s);
    double rise = dieset_rise(d, plate, s, ram);
    if (!isfinite(p.bottom + rise))
        return no_height(d, plate, why);
    enum base_err err = write_plate(step, d, plate, s, &h->at[h->n], why);
    if (err)
        return err;
    h->items[h->n] = plate;
    h->places[h->n] = step_axes(step, p.left, p.front, p.bottom + rise - h->rise);
    h->n++;
    return BASE_OK;
}

static struct step_product close_half(struct step *step, struct dieset *d, const struct half *h)
{
    struct step_product out = step_assembly(step, h->name, h->name, h->places, h->n);
    for (int i = 0; i < h->n; i++)
        step_place(step, out, h->at[i], h->places[i], dieset_item_name(d, h->items[i]));
    return out;
}

static enum base_err write_set(struct step *step, struct dieset *d, enum dieset_state s, double ram,
                               const char *job, struct base_diag *why)
{
    struct dieset_layer layers[MOST_PLATES];
    struct half halves[] = {{.name = "upper half", .upper = true, .rise = ram}, {.name = "lower half"}};
    int n = dieset_stack(d, s, layers, MOST_PLATES), places[COUNT_OF(halves)];
    struct step_product products[COUNT_OF(halves)];
    if (n == 0)
        return base_fail(why, BASE_REFUSED, "The job has no plates yet.");
    for (int i = 0; i < n; i++) {
        bool lower = dieset_plate(d, layers[i].plate, s).moves == DIESET_MOVES_BED;
        enum base_err err = add_plate(step, d, layers[i].plate, s, ram, &halves[lower], why);
        if (err)
            return err;
    }
    for (size_t i = 0; i < COUNT_OF(halves); i++) {
        products[i] = close_half(step, d, &halves[i]);
        places[i] = step_axes(step, 0, 0, halves[i].rise);
    }
    struct step_product set = step_assembly(step, "set", job, places, COUNT_OF(halves));
    for (size_t i = 0; i < COUNT_OF(halves); i++)
        step_place(step, set, products[i], places[i], halves[i].name);
    return BASE_OK;
}

enum base_err solid_set(struct dieset *d, enum dieset_state s, double ram, const struct solid_head *head,
                        struct base_text *out, struct base_diag *why)
{
    struct base_text own = {0};
    struct step step;
    step_begin(&step, head, head->job, &own);
    return finish(&step, &own, write_set(&step, d, s, ram, head->job, why), out);
}
