/* One value as it is made: what each size that is made does to it alone, all at their worst, the root of
 * squares, and sampled. */

#include "tolerance/tolerance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LANES = 64 };

/* A size of those that are made, where its slots begin, and whether its upper limit takes away from the
 * value. */
struct moved {
    int size;
    size_t first;
    bool turned;
};

/* What moves the value, and the lanes in which it is worked out. */
struct run {
    struct dieset *d;
    struct tolerance *t;
    struct tolerance_made made;
    struct formula_code *code;
    struct model_lanes *lanes;
    BASE_VEC(struct moved) sizes;
    BASE_VEC(int) slots; /* theirs, one size behind the other */
    double *numbers;     /* one a slot and lane */
    struct base_diag *why;
};

/* Which sizes CODE hangs on, near and far; what it does not hang on stays. */
static void find_sizes(struct run *r)
{
    struct model *m = dieset_model(r->d);
    int slots = model_count(m), n, *queue = base_alloc(((size_t)slots + 1) * sizeof *queue), tail = 0;
    bool *seen = base_alloc((size_t)slots + 1), *is_size = base_alloc(r->made.at.count + 1);
    const int *reads = formula_code_reads(r->code, &n);
    for (int head = -1; head < tail; head++) {
        if (head >= 0)
            reads = model_reads(m, queue[head], &n);
        for (int i = 0; i < n; i++) {
            int slot = reads[i], size = r->made.of[slot];
            if (size >= 0 && !is_size[size]) {
                is_size[size] = true;
                base_vec_push(&r->sizes, ((struct moved){size, r->slots.count, false}));
                for (int k = 0; k < r->made.at.at[size].size.n_slots; k++)
                    base_vec_push(&r->slots, r->made.at.at[size].size.slots[k]);
            }
            if (seen[slot] || r->made.stays[slot])
                continue;
            seen[slot] = true;
            queue[tail++] = slot;
        }
    }
    for (int s = 0; s < slots; s++)
        r->made.stays[s] = !seen[s];
    free(queue);
    free(seen);
    free(is_size);
}

static const struct findings_size *size_at(const struct run *r, size_t i)
{
    return &r->made.at.at[r->sizes.at[i].size].size;
}

/* The Ith size is OFF in lane LANE. */
static void put(struct run *r, size_t i, int lane, double off)
{
    for (int k = 0; k < size_at(r, i)->n_slots; k++)
        r->numbers[(r->sizes.at[i].first + (size_t)k) * LANES + (size_t)lane] =
            model_value(dieset_model(r->d), size_at(r, i)->slots[k]).number + off;
}

static void all_as_drawn(struct run *r)
{
    for (size_t i = 0; i < r->sizes.count; i++)
        for (int lane = 0; lane < LANES; lane++)
            put(r, i, lane, 0);
}

/* The value in all lanes; false: in one it is none. */
static bool work_out(struct run *r, double *out)
{
    struct formula_value v[LANES];
    model_lanes_run(r->lanes, r->numbers, LANES);
    model_lanes_code(r->lanes, r->code, NULL, NULL, v);
    for (int i = 0; i < LANES; i++) {
        if (v[i].error) {
            (void)base_fail(r->why, BASE_REFUSED, "%s has no value where all is at its limits: %s.",
                            r->t->title, formula_error_text((enum formula_error)v[i].error));
            return false;
        }
        out[i] = v[i].number;
    }
    return !base_given_up();
}

/* ---- what each does alone, and all together -------------------------------------------------------- */

static struct tolerance_part part_of(struct run *r, size_t i)
{
    const struct made *m = &r->made.at.at[r->sizes.at[i].size];
    const struct dieset_quantity *q = dieset_quantity(r->d, m->q);
    struct base_arena *a = &r->t->memory;
    return (struct tolerance_part){.title = tolerance_title(r->d, m->q, a),
                                   .path = base_arena_copy(a, q->path),
                                   .source = m->source,
                                   .type = q->type.type,
                                   .drawn = dieset_value(r->d, m->q, DIESET_NEW).number,
                                   .low = m->size.low,
                                   .high = m->size.high};
}

/* Half of the lanes hold lower limits, half upper ones. */
static bool sizes_alone(struct run *r)
{
    double v[LANES];
    for (size_t from = 0; from < r->sizes.count; from += LANES / 2) {
        size_t n = r->sizes.count - from < LANES / 2 ? r->sizes.count - from : LANES / 2;
        all_as_drawn(r);
        for (size_t i = 0; i < n; i++) {
            put(r, from + i, (int)i, size_at(r, from + i)->low);
            put(r, from + i, (int)i + LANES / 2, size_at(r, from + i)->high);
        }
        if (!work_out(r, v))
            return false;
        for (size_t i = 0; i < n; i++) {
            struct tolerance_part p = part_of(r, from + i);
            double low = v[i] - r->t->drawn, high = v[i + LANES / 2] - r->t->drawn;
            r->sizes.at[from + i].turned = high < low;
            p.down = fmin(low, high);
            p.up = fmax(low, high);
            base_vec_push(&r->t->parts, p);
        }
    }
    return true;
}

/* Lane 0 with each size where it takes most away, lane 1 where it adds most. */
static bool sizes_together(struct run *r)
{
    double v[LANES];
    all_as_drawn(r);
    for (size_t i = 0; i < r->sizes.count; i++) {
        const struct findings_size *m = size_at(r, i);
        put(r, i, 0, r->sizes.at[i].turned ? m->high : m->low);
        put(r, i, 1, r->sizes.at[i].turned ? m->low : m->high);
    }
    if (!work_out(r, v))
        return false;
    r->t->worst_low = v[0];
    r->t->worst_high = v[1];
    return true;
}

/* ---- links of a chain ------------------------------------------------------------------------------- */

static void add_links(struct run *r, const struct tolerance_ask *ask)
{
    const struct handbook_chain *c = ask->expression ? NULL
                                                     : handbook_chain(dieset_handbook(r->d), ask->chain);
    for (int i = 0; c && i < c->n_links; i++) {
        struct tolerance_part p = {
            .title = c->links[i].title, .path = "", .source = "chain", .type = r->t->type, .drawn = NAN};
        if (!tolerance_limits(r->d, &c->links[i].limits, ask->item, &p.low, &p.high))
            continue;
        p.down = p.low;
        p.up = p.high;
        r->t->worst_low += p.low;
        r->t->worst_high += p.high;
        base_vec_push(&r->t->parts, p);
    }
}

static int most_first(const void *a, const void *b)
{
    const struct tolerance_part *p = a, *q = b;
    double x = p->up - p->down, y = q->up - q->down;
    return fabs(x - y) > 1e-12 ? (x > y ? -1 : 1) : strcmp(p->title, q->title);
}

static void sum_up(struct tolerance *t)
{
    double whole = 0, squares = 0;
    size_t kept = 0;
    t->middle = t->drawn;
    for (size_t i = 0; i < t->parts.count; i++) /* what does nothing to it is no part of it */
        if (t->parts.at[i].up - t->parts.at[i].down > 1e-9)
            t->parts.at[kept++] = t->parts.at[i];
    t->parts.count = kept;
    for (size_t i = 0; i < t->parts.count; i++) {
        const struct tolerance_part *p = &t->parts.at[i];
        t->middle += (p->down + p->up) / 2;
        whole += p->up - p->down;
        squares += (p->up - p->down) * (p->up - p->down);
    }
    t->root = sqrt(squares) / 2;
    for (size_t i = 0; i < t->parts.count; i++) {
        struct tolerance_part *p = &t->parts.at[i];
        p->share = whole > 0 ? (p->up - p->down) / whole : 0;
        p->squares = squares > 0 ? (p->up - p->down) * (p->up - p->down) / squares : 0;
    }
}

/* ---- samples ---------------------------------------------------------------------------------------- */

/* Evenly from 0 to 1: a counter whose bits are well mixed (splitmix64, after Steele, Lea and Flood, Fast
 * splittable pseudorandom number generators, 2014), so that a seed tells the whole row. */
static double draw(uint64_t *state)
{
    uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return (double)((z ^ z >> 31) >> 11) / 9007199254740992.0;
}

static double within(uint64_t *state, double low, double high) { return low + (high - low) * draw(state); }

static int ascending(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void tell_samples(struct tolerance *t, double *v, int n)
{
    const double beyond =
        0.00135; /* the share of a normal figure past three standard deviations, at one end */
    int cut = (int)(beyond * n);
    double squares = 0;
    qsort(v, (size_t)n, sizeof *v, ascending);
    for (int i = 0; i < n; i++)
        t->mean += v[i] / n;
    for (int i = 0; i < n; i++)
        squares += (v[i] - t->mean) * (v[i] - t->mean);
    t->deviation = n > 1 ? sqrt(squares / (n - 1)) : 0;
    t->least = v[0];
    t->most = v[n - 1];
    t->nearly_low = v[cut];
    t->nearly_high = v[n - 1 - cut];
}

static bool sample(struct run *r, const struct tolerance_ask *ask)
{
    double v[LANES], *all = base_alloc((size_t)(ask->samples + LANES) * sizeof *all);
    uint64_t state = ask->seed;
    bool fine = true;
    for (int done = 0; done < ask->samples && fine; done += LANES) {
        for (int lane = 0; lane < LANES; lane++)
            for (size_t i = 0; i < r->sizes.count; i++)
                put(r, i, lane, within(&state, size_at(r, i)->low, size_at(r, i)->high));
        fine = work_out(r, v);
        for (int lane = 0; lane < LANES && fine; lane++) {
            for (size_t i = r->sizes.count; i < r->t->parts.count; i++)
                v[lane] += within(&state, r->t->parts.at[i].low, r->t->parts.at[i].high);
            all[done + lane] = v[lane];
        }
    }
    if (fine && ask->samples)
        tell_samples(r->t, all, ask->samples);
    free(all);
    return fine;
}

/* A corner is the worst only where no size moves the value both ways between its limits: what a sample finds
 * beyond it counts. */
static void widen(struct tolerance *t)
{
    if (!t->samples)
        return;
    t->worst_low = fmin(t->worst_low, t->least);
    t->worst_high = fmax(t->worst_high, t->most);
}

/* ---- the whole ---------------------------------------------------------------------------------------- */

static enum base_err compile_asked(struct dieset *d, const char *text, enum dieset_state s,
                                   struct formula_code **out, struct base_diag *why)
{
    struct formula_tree *tree = NULL;
    enum base_err err = formula_parse(text, &tree, why);
    err = err ? err : dieset_compile(d, tree, -1, -1, s, NULL, NULL, out, why);
    formula_tree_free(tree);
    if (!err && formula_code_type(*out).sort != FORMULA_NUMBER)
        err = base_fail(why, BASE_REFUSED, "%s is no number: only a number has limits.", text);
    return err;
}

static enum base_err compile_chain(struct dieset *d, const struct tolerance_ask *ask,
                                   struct formula_code **out, struct base_diag *why)
{
    const struct handbook_chain *c = handbook_chain(dieset_handbook(d), ask->chain);
    return dieset_compile(d, c->value, ask->item, -1, ask->state, NULL, NULL, out, why);
}

static void begin(struct run *r, const struct tolerance_ask *ask)
{
    struct tolerance *t = r->t;
    const struct handbook_chain *c = ask->expression ? NULL
                                                     : handbook_chain(dieset_handbook(r->d), ask->chain);
    t->seed = ask->seed;
    t->samples = ask->samples;
    if (c) {
        t->title = ask->item < 0 ? c->title
                                 : base_arena_format(&t->memory, "%s, %s", c->title,
                                                     dieset_item_title(r->d, ask->item));
        t->help = c->help;
        t->source = c->source;
    } else {
        t->title = base_arena_copy(&t->memory, ask->expression);
    }
}

static enum base_err work(struct run *r, const struct tolerance_ask *ask)
{
    struct tolerance *t = r->t;
    begin(r, ask);
    enum base_err err = tolerance_made(r->d, &r->made, r->why);
    if (!err)
        err = ask->expression ? compile_asked(r->d, ask->expression, ask->state, &r->code, r->why)
                              : compile_chain(r->d, ask, &r->code, r->why);
    if (err)
        return err;
    struct formula_value drawn = model_run(dieset_model(r->d), r->code, NULL, NULL);
    if (drawn.error)
        return base_fail(r->why, BASE_REFUSED, "%s has no value as drawn: %s.", t->title,
                         formula_error_text((enum formula_error)drawn.error));
    t->type = formula_code_type(r->code);
    t->drawn = drawn.number;
    find_sizes(r);
    r->numbers = base_alloc((r->slots.count * LANES + 1) * sizeof *r->numbers);
    r->lanes = model_lanes_new(dieset_model(r->d), LANES);
    model_lanes_aim(r->lanes, r->slots.at, (int)r->slots.count, r->made.stays);
    if (!sizes_alone(r) || !sizes_together(r))
        return base_given_up() ? base_fail_given_up(r->why) : BASE_REFUSED;
    add_links(r, ask);
    if (!sample(r, ask))
        return base_given_up() ? base_fail_given_up(r->why) : BASE_REFUSED;
    widen(t);
    sum_up(t);
    if (t->parts.count)
        qsort(t->parts.at, t->parts.count, sizeof *t->parts.at, most_first);
    return BASE_OK;
}

enum base_err tolerance_run(struct dieset *d, const struct tolerance_ask *ask, struct tolerance **out,
                            struct base_diag *why)
{
    struct run r = {.d = d, .t = base_alloc(sizeof *r.t), .why = why};
    enum base_err err = work(&r, ask);
    tolerance_made_done(&r.made);
    formula_code_free(r.code);
    model_lanes_free(r.lanes);
    base_vec_done(&r.sizes);
    base_vec_done(&r.slots);
    free(r.numbers);
    *out = err ? NULL : r.t;
    if (err)
        tolerance_free(r.t);
    return err;
}

void tolerance_free(struct tolerance *t)
{
    if (!t)
        return;
    base_vec_done(&t->parts);
    base_arena_done(&t->memory);
    free(t);
}
