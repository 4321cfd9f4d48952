/* Files of one plate and of the whole set. */

#include "solid/parts.h"
#include "solid/shell.h"
#include "solid/step.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

/* What stands in a half: its product, its place there, what it is called. */
struct piece_of {
    struct step_product product;
    int place;
    char *name;
};

struct half {
    const char *name;
    double rise; /* its place in the set */
    BASE_VEC(struct piece_of) at;
};

static void half_done(struct half *h)
{
    for (size_t i = 0; i < h->at.count; i++)
        free(h->at.at[i].name);
    base_vec_done(&h->at);
}

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
    struct piece_of piece = {0};
    enum base_err err = write_plate(step, d, plate, s, &piece.product, why);
    if (err)
        return err;
    piece.place = step_axes(step, p.left, p.front, p.bottom + rise - h->rise);
    piece.name = base_copy(dieset_item_name(d, plate));
    base_vec_push(&h->at, piece);
    return BASE_OK;
}

/* ---- what is no plate ---- */

struct made {
    struct dieset_body like;
    struct step_product product;
};
typedef BASE_VEC(struct made) made_list;

/* The product of one alike, or a new one; false: it is no solid. */
static bool part_product(struct step *step, struct dieset *d, const struct dieset_body *b, made_list *made,
                         struct step_product *out)
{
    for (size_t i = 0; i < made->count; i++)
        if (part_alike(&made->at[i].like, b)) {
            *out = made->at[i].product;
            return true;
        }
    struct body body = {0};
    bool built = part_build(b, &body);
    if (built) {
        char *name = base_format("%s %s", dieset_item_name(d, b->plan.item), b->plan.operation);
        char *title = base_format("%s, %s", dieset_item_title(d, b->plan.item), b->plan.operation);
        *out = step_solid(step, &body, name, title);
        base_vec_push(made, ((struct made){*b, *out}));
        free(name);
        free(title);
    }
    body_done(&body);
    return built;
}

/* All bodies whose place and size are known, but for what is a plate already, each in the half of the plate
   that it moves with. */
static void add_parts(struct step *step, struct dieset *d, enum dieset_state s, double ram,
                      struct half *halves)
{
    made_list made = {0};
    for (int i = 0; i < dieset_body_count(d); i++) {
        struct dieset_body b;
        struct piece_of piece = {0};
        dieset_body_raised(d, i, s, ram, &b);
        if (!b.known || strcmp(b.plan.operation, HANDBOOK_BODY_PLATE) == 0 ||
            !part_product(step, d, &b, &made, &piece.product))
            continue;
        struct half *h = &halves[dieset_plate(d, b.plan.plate, s).moves == DIESET_MOVES_BED];
        piece.place = step_axes(step, b.plan.x, b.plan.y, b.low - h->rise);
        piece.name = base_format("%s %s:%d", dieset_item_name(d, b.plan.item), b.plan.operation,
                                 b.plan.point + 1);
        base_vec_push(&h->at, piece);
    }
    base_vec_done(&made);
}

static struct step_product close_half(struct step *step, const struct half *h)
{
    int *places = base_alloc(h->at.count * sizeof *places + 1);
    for (size_t i = 0; i < h->at.count; i++)
        places[i] = h->at.at[i].place;
    struct step_product out = step_assembly(step, h->name, h->name, places, (int)h->at.count);
    for (size_t i = 0; i < h->at.count; i++)
        step_place(step, out, h->at.at[i].product, h->at.at[i].place, h->at.at[i].name);
    free(places);
    return out;
}

static enum base_err add_plates(struct step *step, struct dieset *d, enum dieset_state s, double ram,
                                struct half *halves, struct base_diag *why)
{
    struct dieset_layer layers[MOST_PLATES];
    int n = dieset_stack(d, s, layers, MOST_PLATES);
    enum base_err err = n ? BASE_OK : base_fail(why, BASE_REFUSED, "The job has no plates yet.");
    for (int i = 0; i < n && !err; i++) {
        bool lower = dieset_plate(d, layers[i].plate, s).moves == DIESET_MOVES_BED;
        err = add_plate(step, d, layers[i].plate, s, ram, &halves[lower], why);
    }
    return err;
}

static enum base_err write_set(struct step *step, struct dieset *d, enum dieset_state s, double ram,
                               const char *job, struct base_diag *why)
{
    struct half halves[] = {{.name = "upper half", .rise = ram}, {.name = "lower half"}};
    int places[COUNT_OF(halves)];
    struct step_product products[COUNT_OF(halves)];
    enum base_err err = add_plates(step, d, s, ram, halves, why);
    if (!err)
        add_parts(step, d, s, ram, halves);
    for (size_t i = 0; i < COUNT_OF(halves) && !err; i++) {
        products[i] = close_half(step, &halves[i]);
        places[i] = step_axes(step, 0, 0, halves[i].rise);
    }
    struct step_product set = {0};
    if (!err)
        set = step_assembly(step, "set", job, places, COUNT_OF(halves));
    for (size_t i = 0; i < COUNT_OF(halves); i++) {
        if (!err)
            step_place(step, set, products[i], places[i], halves[i].name);
        half_done(&halves[i]);
    }
    return err;
}

enum base_err solid_set(struct dieset *d, enum dieset_state s, double ram, const struct solid_head *head,
                        struct base_text *out, struct base_diag *why)
{
    struct base_text own = {0};
    struct step step;
    step_begin(&step, head, head->job, &own);
    return finish(&step, &own, write_set(&step, d, s, ram, head->job, why), out);
}
