/* What is formed of the strip, as it lies in the flat and as it stands in section. */

#include "dieset/strip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- as it lies -------------------------------------------------------------------------------------- */

bool fold_is(const struct hole *h, const char *what) { return strcmp(h->spec->operation, what) == 0; }

bool fold_lying_of(const struct build *b, const struct hole *h, struct fold_lying *out)
{
    struct dieset_hole told = {.origin = -1};
    double turn = hole_field(b, h, FIELD_TURN, DIESET_NEW, 0, &told);
    *out = (struct fold_lying){.x = hole_field(b, h, FIELD_X, DIESET_NEW, 0, &told),
                               .y = hole_field(b, h, FIELD_Y, DIESET_NEW, 0, &told),
                               .along = hole_field(b, h, FIELD_LENGTH, DIESET_NEW, 0, &told) / 2,
                               .across = hole_field(b, h, FIELD_WIDTH, DIESET_NEW, 0, &told) / 2,
                               .ux = cos(turn),
                               .uy = sin(turn),
                               .vx = -sin(turn),
                               .vy = cos(turn)};
    return h->spec->length && !told.broken;
}

double fold_off(const struct build *b, const struct hole *h, const struct fold_lying *l)
{
    const struct point *p = &item_points(b, h->item)->points[h->point];
    double x = cell_amount(b, p->x, DIESET_NEW) - l->x, y = cell_amount(b, p->y, DIESET_NEW) - l->y;
    return x * l->vx + y * l->vy;
}

static double number_of(struct dieset *d, int item, const char *property)
{
    return dieset_number(d, item, property, DIESET_NEW);
}

static bool round_of(const struct build *b, const struct hole *h, struct dieset_fold *out)
{
    struct dieset_hole told = {.origin = -1};
    out->x = hole_field(b, h, FIELD_X, DIESET_NEW, 0, &told);
    out->y = hole_field(b, h, FIELD_Y, DIESET_NEW, 0, &told);
    out->along = out->across = hole_field(b, h, FIELD_DIAMETER, DIESET_NEW, 0, &told) / 2;
    return h->spec->diameter && !told.broken;
}

static bool fold_of(struct dieset *d, const struct hole *h, struct dieset_fold *out)
{
    const struct build *b = d->now;
    double way = strcmp(dieset_text(d, h->item, "goes"), "up") == 0 ? 1 : -1;
    struct fold_lying l;
    *out = (struct dieset_fold){.item = h->item, .point = h->point, .what = h->spec->operation};
    if (fold_lying_of(b, h, &l)) {
        out->x = l.x, out->y = l.y, out->along = l.along, out->across = l.across;
        out->turn = atan2(l.uy, l.ux);
        double off = fold_off(b, h, &l);
        out->base = fabs(off) < SHAPE_NEAR ? 0 : off < 0 ? -1 : 1;
    } else if (!round_of(b, h, out)) {
        return false;
    }
    bool bend = fold_is(h, HANDBOOK_FOLD_BEND);
    out->angle = bend ? way * number_of(d, h->item, "angle") : 0;
    out->radius = bend ? number_of(d, h->item, "radius") : 0;
    out->height = bend || fold_is(h, HANDBOOK_FOLD_LEG) ? 0 : way * number_of(d, h->item, "height");
    return isfinite(out->angle + out->radius + out->height);
}

struct dieset_fold *dieset_folds(struct dieset *d, int *n)
{
    size_t most = d->now ? d->now->folds.count : 0;
    struct dieset_fold *out = base_alloc((most + 1) * sizeof *out);
    *n = 0;
    for (size_t i = 0; i < most; i++)
        *n += fold_of(d, &d->now->folds.at[i], &out[*n]);
    return out;
}

double dieset_formed_share(struct dieset *d, int item, double ram)
{
    double touch = number_of(d, item, "touch");
    return isfinite(touch) && touch > 0 ? fmin(1, fmax(0, 1 - ram / touch)) : 1;
}

/* ---- in section ---------------------------------------------------------------------------------------- */

/* What the line crosses, from a place on it to a place: a bend turns the metal by ANGLE; else it stands as
 * HIGH from BOTTOM on to as far before its end, and is open there if it is a collar. */
struct crossed {
    double from, to, angle, radius, high, bottom;
    bool open;
};
typedef BASE_VEC(struct crossed) crossed_vec;

/* Half of what of a fold lies on the line whose middle is OFF beside its own; negative: nothing does. */
static double half_on(const struct dieset_fold *f, double off, bool round)
{
    if (fabs(off) > f->along + SHAPE_NEAR)
        return -1;
    return round ? sqrt(fmax(0, f->along * f->along - off * off)) : f->across;
}

static bool is(const struct dieset_fold *f, const char *what) { return strcmp(f->what, what) == 0; }

/* Half of the flat bottom of the form F on the line; none: a point. */
static double bottom_on(const struct dieset_fold *folds, int n, const struct dieset_fold *f, double off)
{
    for (int i = 0; i < n; i++)
        if (folds[i].item == f->item && folds[i].point == f->point && is(&folds[i], HANDBOOK_FOLD_BOTTOM))
            return fmax(0, half_on(&folds[i], off, folds[i].along == folds[i].across));
    return 0;
}

static void add_crossed(const struct dieset_fold *folds, int n, const struct dieset_fold *f,
                        const struct dieset_ray *l, double share, crossed_vec *out)
{
    static const double about = 0.02; /* rad */
    bool bend = is(f, HANDBOOK_FOLD_BEND), round = !bend && f->along == f->across;
    double at = (f->x - l->x) * l->along + (f->y - l->y) * l->across,
           off = (f->y - l->y) * l->along - (f->x - l->x) * l->across,
           lies = -sin(f->turn) * l->along + cos(f->turn) * l->across, half = half_on(f, off, round);
    bool form = is(f, HANDBOOK_FOLD_FORM) || is(f, HANDBOOK_FOLD_COLLAR);
    if (half < 0 || (!bend && !form) || (bend && fabs(lies) < cos(about)))
        return;
    if (bend && f->base == 0) { /* from its middle on each side turns by half of it, and back up */
        for (int side = -1; side < 2; side += 2)
            base_vec_push(out, ((struct crossed){fmin(at, at + side * half), fmax(at, at + side * half),
                                                 -share * f->angle / 2, f->radius, 0, 0, false}));
    } else if (bend) {
        base_vec_push(out,
                      ((struct crossed){at - half, at + half, share * f->angle, f->radius, 0, 0, false}));
    } else {
        double wall = fmax(0, half - bottom_on(folds, n, f, off));
        bool open = is(f, HANDBOOK_FOLD_COLLAR);
        base_vec_push(out, ((struct crossed){at - half, at + half, 0, 0, share * f->height,
                                             open ? half : wall, open}));
    }
}

static int by_place(const void *a, const void *b)
{
    double x = ((const struct crossed *)a)->from, y = ((const struct crossed *)b)->from;
    return (x > y) - (x < y);
}

/* Where the pen is, the way it goes: WAY along the line, TURNED up. */
struct pen {
    double off, high, flat, turned;
    int way, n;
    struct dieset_bent *out;
};

static void put(struct pen *p)
{
    if (p->n < DIESET_BENT_MOST / 2)
        p->out[p->n++] = (struct dieset_bent){p->off, p->high, p->flat};
}

static void draw_straight(struct pen *p, double by)
{
    if (by <= 0)
        return;
    p->off += p->way * by * cos(p->turned);
    p->high += by * sin(p->turned);
    p->flat += p->way * by;
    put(p);
}

static void draw_bend(struct pen *p, const struct crossed *c, double thick)
{
    enum { STEPS = 12 };
    double radius = c->radius + thick / 2, flat = (c->to - c->from) / STEPS,
           chord = 2 * radius * sin(fabs(c->angle) / STEPS / 2);
    for (int i = 0; i < STEPS; i++) {
        double by = fabs(c->angle) > 1e-6 ? chord : flat;
        p->turned += c->angle / STEPS / 2;
        p->off += p->way * by * cos(p->turned);
        p->high += by * sin(p->turned);
        p->turned += c->angle / STEPS / 2;
        p->flat += p->way * flat;
        put(p);
    }
}

/* What stands out does so square to the metal as it lies there. */
static void draw_form(struct pen *p, const struct crossed *c)
{
    double wide = c->to - c->from, wall = fmin(c->bottom, wide / 2);
    const double along[] = {c->open ? 0 : wall, wide - (c->open ? 0 : wall), wide},
                 high[] = {c->high, c->high, 0};
    struct pen from = *p;
    for (int i = 0; i < 3; i++) {
        if (c->open && i == 1)
            p->off = NAN, put(p);
        p->off = from.off + p->way * (along[i] * cos(p->turned) - high[i] * sin(p->turned));
        p->high = from.high + along[i] * sin(p->turned) + high[i] * cos(p->turned);
        p->flat = from.flat + p->way * along[i];
        put(p);
    }
}

/* From the place 0 of the line one way, as far as FAR. */
static int draw_half(const crossed_vec *all, int way, double far, double thick, struct dieset_bent *out)
{
    struct pen p = {.way = way, .out = out};
    put(&p);
    for (size_t k = 0; k < all->count; k++) {
        const struct crossed *c = &all->at[way > 0 ? k : all->count - 1 - k];
        double near = way > 0 ? c->from : -c->to, end = way > 0 ? c->to : -c->from, here = way * p.flat;
        if (near < here - SHAPE_NEAR || near > way * far)
            continue;
        draw_straight(&p, near - here);
        if (c->angle != 0 || c->radius > 0)
            draw_bend(&p, c, thick);
        else if (end <= way * far + SHAPE_NEAR)
            draw_form(&p, c);
    }
    draw_straight(&p, way * (far - p.flat));
    return p.n;
}

int dieset_profile(const struct dieset_fold *folds, int n, const struct dieset_ray *line, double from,
                   double to, double thick, double share, struct dieset_bent out[DIESET_BENT_MOST])
{
    struct dieset_bent back[DIESET_BENT_MOST / 2];
    crossed_vec all = {0};
    for (int i = 0; i < n; i++)
        add_crossed(folds, n, &folds[i], line, share, &all);
    if (all.count)
        qsort(all.at, all.count, sizeof *all.at, by_place);
    int n_back = draw_half(&all, -1, from, thick, back), n_out = 0;
    for (int i = n_back - 1; i > 0; i--)
        out[n_out++] = back[i];
    n_out += draw_half(&all, 1, to, thick, out + n_out);
    base_vec_done(&all);
    return n_out;
}

/* ---- the part in section --------------------------------------------------------------------------- */

/* Each of the N folds where it lies in the part that BOX outlines; those of it. */
static int bring(struct dieset *d, const struct shape_box *box, struct dieset_fold *folds, int n)
{
    int strip = dieset_item_of_kind(d, DIESET_STRIP), kept = 0;
    double pitch = number_of(d, strip, "pitch"), way = number_of(d, strip, "way"),
           middle = (box->left + box->right) / 2;
    for (int i = 0; i < n; i++) {
        double pitches = round(way * (middle - folds[i].x) / pitch);
        folds[i].x += way * pitches * pitch;
        bool inside = fabs(folds[i].x - middle) <= (box->right - box->left) / 2 && folds[i].y >= box->front &&
                      folds[i].y <= box->back;
        if (inside && pitches >= 0)
            folds[kept++] = folds[i];
    }
    return kept;
}

/* Is F bent, or formed, so that a section along the feed, or ACROSS it, shows how? */
static bool shows(const struct dieset_fold *f, bool across)
{
    return is(f, HANDBOOK_FOLD_BEND) ? fabs(across ? cos(f->turn) : sin(f->turn)) > 0.9
                                     : !across && !is(f, HANDBOOK_FOLD_LEG) && !is(f, HANDBOOK_FOLD_BOTTOM);
}

/* The line along the feed, or ACROSS it, through F, its place 0 just outside where it is flat. *BY: so far
 * off F; 0: all of F swings. */
static struct dieset_ray ray_through(const struct dieset_fold *f, bool across, double *by)
{
    static const double beside = 0.001; /* mm */
    *by = is(f, HANDBOOK_FOLD_BEND) ? f->base * (across ? cos(f->turn) : -sin(f->turn)) * (f->across + beside)
                                    : -fmax(f->along, f->across) - beside;
    return (struct dieset_ray){across ? f->x : f->x + *by, across ? f->y + *by : f->y, !across, across};
}

int dieset_part_profile(struct dieset *d, const struct shape_box *box, bool across,
                        struct dieset_bent out[DIESET_BENT_MOST])
{
    int strip = dieset_item_of_kind(d, DIESET_STRIP), n = 0, at = 0;
    struct dieset_fold *folds = dieset_folds(d, &n);
    n = strip < 0 ? 0 : bring(d, box, folds, n);
    while (at < n && !shows(&folds[at], across))
        at++;
    if (at < n) {
        double by;
        struct dieset_ray line = ray_through(&folds[at], across, &by);
        n = dieset_profile(folds, n, &line, across ? box->front - line.y : box->left - line.x,
                           across ? box->back - line.y : box->right - line.x,
                           number_of(d, strip, "thickness"), 1, out);
    } else {
        n = 0;
    }
    free(folds);
    return n;
}

/* ---- where it stands in the set ------------------------------------------------------------------------ */

/* Those of the N folds that FORMED is of, carried on to where it stands; how many. */
static int carry(struct dieset *d, const struct dieset_hole *formed, struct dieset_fold *folds, int n)
{
    double pitch = number_of(d, dieset_item_of_kind(d, DIESET_STRIP), "pitch");
    struct dieset_point at;
    int kept = 0;
    dieset_point(d, formed->item, formed->point, &at);
    double by = at.broken ? NAN : round((formed->x - at.x) / pitch) * pitch;
    for (int i = 0; i < n && isfinite(by); i++)
        if (folds[i].item == formed->item && folds[i].point == formed->point) {
            folds[kept] = folds[i];
            folds[kept++].x += by;
        }
    return kept;
}

/* A V is pushed down, or up, where it is bent; all else hangs on what stays flat. */
static double flat_at(const struct dieset_fold *f, const struct dieset_body *formed, double low, double thick)
{
    if (!is(f, HANDBOOK_FOLD_BEND) || f->base != 0)
        return low + thick / 2;
    return f->angle < 0 ? formed->low + thick / 2 : formed->high - thick / 2;
}

int dieset_formed_profile(struct dieset *d, const struct dieset_body *formed, double low, double share,
                          struct dieset_bent out[DIESET_BENT_MOST])
{
    const struct dieset_fold *f = NULL;
    double left = INFINITY, right = -INFINITY, x = formed->plan.x,
           thick = number_of(d, dieset_item_of_kind(d, DIESET_STRIP), "thickness");
    int n = 0;
    struct dieset_fold *folds = dieset_folds(d, &n);
    n = carry(d, &formed->plan, folds, n);
    for (int i = 0; i < n; i++) {
        const struct dieset_fold *o = &folds[i];
        double half = fabs(cos(o->turn)) * o->along + fabs(sin(o->turn)) * o->across;
        left = fmin(left, o->x - half), right = fmax(right, o->x + half);
        if (shows(o, false) && (!f || fabs(o->x - x) < fabs(f->x - x)))
            f = o;
    }
    n = f ? n : 0;
    if (f) {
        double by, flat = flat_at(f, formed, low, thick);
        struct dieset_ray line = ray_through(f, false, &by);
        bool bend = is(f, HANDBOOK_FOLD_BEND);
        n = dieset_profile(folds, n, &line, bend && by < 0 ? 0 : left - line.x,
                           bend && by > 0 ? 0 : right - line.x, thick, share, out);
        for (int i = 0; i < n; i++)
            out[i].off += line.x, out[i].high += flat;
    }
    free(folds);
    return n;
}
