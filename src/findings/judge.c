/* Running trials: the first rung that fails speaks; states and like holes are joined into one finding. */

#include "findings/findings.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- findings out of verdicts -------------------------------------------------------------- */

/* What the formulas of T did not ask for. */
static void fill_rest(const struct findings *f, const struct findings_trial *t, struct findings_subject *s)
{
    for (int i = 0; i < findings_measures(t); i++)
        if (!(t->asks >> i & 1) && !dieset_measure(f->d, t->item, t->block->names[i], t->state, &s->args[i]))
            s->errors[i] = FORMULA_EMPTY;
}

static const char *printed(struct findings *f, const struct findings_trial *t, int which,
                           const struct findings_subject *s)
{
    struct base_text text = {0};
    struct findings_subject whole = *s;
    const struct dieset_words *w = findings_words(f->d, t, which, NULL);
    if (t->rule->over == HANDBOOK_ONCE || t->rule->over == HANDBOOK_EACH_KIND)
        fill_rest(f, t, &whole);
    if (w)
        dieset_words_print(f->d, w, whole.args, whole.errors, &text);
    const char *out = base_arena_copy(&f->memory, base_text_get(&text));
    base_text_done(&text);
    return out;
}

static struct findings_guesses *guesses_of(struct findings_pass *p)
{
    if (!p->guesses)
        p->guesses = findings_guesses_new(p->f);
    return p->guesses;
}

/* The rule's sentence, and what it leans on that is a guess. */
static const char *message_of(struct findings_pass *p, const struct findings_trial *t,
                              const struct findings_subject *s, const struct findings_verdict *v)
{
    struct findings *f = p->f;
    bool own = t->rule->rungs[v->rung].says.n_pieces > 0;
    const char *says = printed(f, t, own ? FINDINGS_RUNG + v->rung : FINDINGS_SAYS, s);
    struct base_text guesses = {0};
    findings_say_guesses(f, guesses_of(p), t, &guesses);
    const char *out = guesses.length ? base_arena_format(&f->memory, "%s%s", says, base_text_get(&guesses))
                                     : says;
    base_text_done(&guesses);
    return out;
}

/* The item that HEAD stands for in a text of ITEM: what its reference names, an item of the job, the first of
   a kind. */
static int item_named(const struct findings *f, int item, const char *head)
{
    int found = item >= 0 ? dieset_reference(f->d, item, head) : -1;
    if (found < 0)
        found = dieset_find_item(f->d, head);
    return found < 0 ? dieset_item_of_kind(f->d, head) : found;
}

/* A cure as rules write it: "length", "stack.risers", "stack.die_plate.thickness", "springs.free_length". */
static int quantity_named(const struct findings *f, int item, const char *name)
{
    char path[200];
    const char *dot = strchr(name, '.');
    if (item >= 0) {
        snprintf(path, sizeof path, "%s.%s", dieset_item_name(f->d, item), name);
        int q = dieset_find(f->d, path);
        if (q >= 0)
            return q;
    }
    if (!dot || dot - name >= (long)sizeof path)
        return dieset_find(f->d, name);
    snprintf(path, sizeof path, "%.*s", (int)(dot - name), name);
    int behind = item_named(f, item, path);
    return behind < 0 ? -1 : quantity_named(f, behind, dot + 1);
}

/* The first value typed by a person, near before far, that CODE hangs on. */
static int first_typed(struct findings *f, const struct formula_code *code)
{
    struct model *m = dieset_model(f->d);
    if (!code)
        return -1;
    int room = model_count(m), head = 0, tail = 0, found = -1, n;
    if (room > f->walk.room) {
        f->walk.queue = base_grow(f->walk.queue, (size_t)room * sizeof *f->walk.queue);
        f->walk.round = base_grow(f->walk.round, (size_t)room * sizeof *f->walk.round);
        memset(f->walk.round + f->walk.room, 0, (size_t)(room - f->walk.room) * sizeof *f->walk.round);
        f->walk.room = room;
    }
    int *queue = f->walk.queue, *round = f->walk.round, now = ++f->walk.rounds;
    const int *reads = formula_code_reads(code, &n);
    for (;;) {
        for (int i = 0; i < n; i++)
            if (round[reads[i]] != now) {
                round[reads[i]] = now;
                queue[tail++] = reads[i];
            }
        if (head == tail || found >= 0)
            break;
        int slot = queue[head++];
        int q = dieset_of_slot(f->d, slot, NULL);
        if (q >= 0 && dieset_quantity(f->d, q)->can_type && dieset_quantity(f->d, q)->typed)
            found = q;
        reads = model_reads(m, slot, &n);
    }
    return found;
}

/* What moves the points of ITEM: the lengths its pattern asks for, and its last point along the feed, which
 * breaks the pattern's symmetry. At most ROOM into OUT; how many. */
static int movers_of(const struct findings *f, int item, int *out, int room)
{
    char path[200];
    int count = dieset_point_count(f->d, item), owner = dieset_points_owner(f->d, item), first, n = 0;
    int quantities = dieset_item_quantities(f->d, owner, &first);
    for (int q = first; q < first + quantities && count && n < room - 1; q++) {
        const struct dieset_quantity *v = dieset_quantity(f->d, q);
        bool measure = typed_path_read(v->entry).place == TYPED_AT_TAKE;
        if (measure && v->can_type && v->type.type.sort == FORMULA_NUMBER &&
            unit_same(v->type.type.dim, UNIT_LENGTH))
            out[n++] = q;
    }
    if (!count || n >= room)
        return n;
    struct dieset_point p;
    dieset_point(f->d, item, count - 1, &p);
    snprintf(path, sizeof path, "%s.%s.x", dieset_item_name(f->d, owner), p.name);
    int q = dieset_find(f->d, path);
    if (q >= 0)
        out[n++] = q;
    return n;
}

static bool is_among(const int *list, int n, int q)
{
    for (int i = 0; i < n; i++)
        if (list[i] == q)
            return true;
    return false;
}

/* "mend points": the item's own; of a plate, those of each group that holds or locates it. */
static int points_of(const struct findings *f, int item, int *out, int room)
{
    int first, holes = dieset_plate_holes(f->d, item, &first), n = movers_of(f, item, out, room), seen = -1;
    for (int i = first; i < first + holes && n < room; i++) {
        struct dieset_hole h;
        dieset_hole(f->d, i, DIESET_NEW, &h);
        if (!h.spec->fastens || h.item == seen)
            continue;
        int more[8], m = movers_of(f, seen = h.item, more, (int)COUNT_OF(more));
        for (int k = 0; k < m && n < room; k++)
            if (!is_among(out, n, more[k]))
                out[n++] = more[k];
    }
    return n;
}

static void add_cures(struct findings *f, const struct findings_trial *t, struct finding *x)
{
    enum { MOVERS = 16 };
    const struct handbook_rule *r = t->rule;
    int *mends = base_arena_alloc(&f->memory, (size_t)(r->n_mends + MOVERS) * sizeof *mends);
    int n = 0;
    for (int i = 0; i < r->n_mends; i++) {
        if (strcmp(r->mends[i], "points") == 0) {
            n += points_of(f, x->item, mends + n, r->n_mends + MOVERS - n);
            continue;
        }
        int q = quantity_named(f, x->item, r->mends[i]);
        if (q >= 0)
            mends[n++] = q;
    }
    x->cause = n ? mends[0] : first_typed(f, t->value ? t->value : t->rungs[0]);
    if (x->cause < 0 && x->item >= 0 && dieset_item_quantities(f->d, x->item, &x->cause) == 0)
        x->cause = -1;
    if (!n && x->cause >= 0 && !handbook_mends_nothing(r))
        mends[n++] = x->cause;
    x->mends = mends;
    x->n_mends = n;
}

static struct finding finding_of(const struct findings_trial *t, const struct findings_subject *s,
                                  const struct findings_verdict *v)
{
    const struct handbook_rule *r = t->rule;
    const struct handbook_rung *g = &r->rungs[v->rung];
    return (struct finding){
        .rule = r->name, .title = r->title, .grade = g->grade, .item = s->item, .plate = t->plate,
        .states = t->state == DIESET_NEW ? HANDBOOK_NEW : HANDBOOK_GROUND,
        .measured = !g->yesno, .type = t->type, .value = v->value, .limit = v->limit, .margin = v->margin,
        .source = r->source, .seen = r->seen, .help = r->help,
    };
}

/* Of two holes or bodies: the rule and the two items, whatever their places. One collision is one finding. */
static void add_key_of_two(const struct findings *f, const char *rule, const struct findings_subject *s,
                           struct base_text *out)
{
    int a = s->a->item < s->b->item ? s->a->item : s->b->item, b = s->a->item + s->b->item - a;
    base_text_addf(out, "%s %s %s", rule, dieset_item_name(f->d, a), dieset_item_name(f->d, b));
}

/* Is it the first time that the two meet so: in this plate, or with this of each? */
static bool is_new_place(struct findings_pass *p, const struct findings_trial *t,
                         const struct findings_subject *s)
{
    char *place = base_format("%s %d %s %d %s %d", t->rule->name, s->a->item, s->a->operation, s->b->item,
                              s->b->operation, t->plate);
    bool is_new = !base_map_get(&p->spots, place, NULL);
    if (is_new)
        base_map_put(&p->spots, place, 0);
    free(place);
    return is_new;
}

static void add_key(const struct findings *f, const struct findings_trial *t,
                    const struct findings_subject *s, struct base_text *out)
{
    const char *plate = t->plate < 0 ? "" : dieset_item_name(f->d, t->plate);
    if (s->b)
        add_key_of_two(f, t->rule->name, s, out);
    else if (s->a)
        base_text_addf(out, "%s %s %s %s", t->rule->name, dieset_item_name(f->d, s->a->item), s->a->operation,
                       plate);
    else if (t->rule->over == HANDBOOK_EACH_JOINT)
        base_text_addf(out, "%s %s %s", t->rule->name, dieset_item_name(f->d, t->joint.upper),
                       dieset_item_name(f->d, t->joint.lower));
    else
        base_text_addf(out, "%s%s%s", t->rule->name, *s->like ? " " : "", s->like);
}

static const char *key_of(struct findings *f, const struct findings_trial *t,
                          const struct findings_subject *s)
{
    struct base_text key = {0};
    add_key(f, t, s, &key);
    const char *out = base_arena_copy(&f->memory, base_text_get(&key));
    base_text_done(&key);
    return out;
}

bool findings_graver(const struct finding *a, const struct finding *b)
{
    return a->grade != b->grade ? a->grade > b->grade
                                : a->measured && b->measured && a->margin < b->margin - 1e-9;
}

/* Is X, a fault, told by that of another rule that has spoken of the same two? That one counts the place. */
static bool told_already(struct findings_pass *p, const struct findings_trial *t,
                         const struct findings_subject *s, const struct finding *x)
{
    int at;
    if (!s->b || !t->rule->told_with || x->grade < HANDBOOK_FAULT)
        return false;
    base_text_clear(&p->key);
    add_key_of_two(p->f, t->rule->told_with, s, &p->key);
    if (!base_map_get(&p->places, base_text_get(&p->key), &at) || p->f->list.at[at].grade < x->grade)
        return false;
    p->f->list.at[at].more += is_new_place(p, t, s);
    return true;
}

static void add(struct findings_pass *p, const struct findings_trial *t, const struct findings_subject *s,
                const struct findings_verdict *v)
{
    struct findings *f = p->f;
    struct finding x = finding_of(t, s, v);
    int at;
    if (told_already(p, t, s, &x))
        return;
    bool elsewhere = s->b && is_new_place(p, t, s);
    base_text_clear(&p->key);
    add_key(f, t, s, &p->key);
    if (!base_map_get(&p->places, base_text_get(&p->key), &at)) {
        x.key = base_arena_copy(&f->memory, base_text_get(&p->key));
        if (!p->bare) {
            x.message = message_of(p, t, s, v);
            add_cures(f, t, &x);
        }
        base_map_put(&p->places, x.key, (int)f->list.count);
        base_vec_push(&f->list, x);
        return;
    }
    struct finding *old = &f->list.at[at];
    enum handbook_states states = old->states | x.states;
    old->more += elsewhere;
    if (findings_graver(&x, old)) {
        x.message = p->bare ? NULL : message_of(p, t, s, v);
        x.mends = old->mends;
        x.n_mends = old->n_mends;
        x.cause = old->cause;
        x.more = old->more;
        x.key = old->key;
        *old = x;
    }
    old->states = states;
}

static void blocked_by(const struct findings_trial *t, const struct findings_subject *s,
                         const struct findings_verdict *v, struct findings_blocked *out)
{
    *out = (struct findings_blocked){v->origin, v->error, 1, t->rule->rungs[0].grade, t->rule, {
        .rule = t->rule->name, .item = s->item, .plate = t->plate, .title = t->rule->title,
        .states = t->state == DIESET_NEW ? HANDBOOK_NEW : HANDBOOK_GROUND}};
}

/* One line for each origin of errors, however many rules it stands in the way of. */
static void add_blocked(struct findings_pass *p, const struct findings_trial *t,
                        const struct findings_subject *s, const struct findings_verdict *v)
{
    enum handbook_grade grade = t->rule->rungs[0].grade; /* rungs stand gravest first */
    for (size_t i = 0; i < p->blocked.count; i++) {
        struct findings_blocked *b = &p->blocked.at[i];
        if (b->origin != v->origin || b->error != v->error ||
            (v->origin < 0 && b->sample.rule != t->rule->name))
            continue;
        b->count += b->last != t->rule; /* trials come rule by rule */
        b->last = t->rule;
        if (grade > b->grade)
            b->grade = grade;
        b->sample.states |= t->state == DIESET_NEW ? HANDBOOK_NEW : HANDBOOK_GROUND;
        return;
    }
    struct findings_blocked b;
    blocked_by(t, s, v, &b);
    base_vec_push(&p->blocked, b);
}

/* ORIGIN is a field of a hole, which has no name: a value of the job that fails in the same way on the same
 * ground tells what is wrong. ORIGIN itself where there is none. */
static int named_origin(const struct findings *f, int origin)
{
    const struct model *m = dieset_model(f->d);
    int n, readers, best = -1;
    const int *reads = model_reads(m, origin, &n);
    for (int i = 0; i < n; i++) {
        const int *slots = model_readers(m, reads[i], &readers);
        for (int k = 0; k < readers; k++) {
            struct formula_value v = model_value(m, slots[k]);
            int q = dieset_of_slot(f->d, slots[k], NULL);
            if (q >= 0 && v.error == model_value(m, origin).error && v.origin == slots[k] &&
                (best < 0 || q < dieset_of_slot(f->d, best, NULL)))
                best = slots[k];
        }
    }
    return best < 0 ? origin : best;
}

/* A hole and a measure tell a rule only that they are not known: what left them unknown is asked of the die
 * set, so that there is one finding for it and not one more for each rule. */
void findings_trace(const struct findings *f, const struct findings_trial *t,
                    const struct findings_subject *s, struct findings_verdict *v)
{
    int q = v->blocked && v->origin >= 0 ? dieset_of_slot(f->d, v->origin, NULL) : -1;
    bool measured = q >= 0 && dieset_quantity(f->d, q)->property &&
                    dieset_quantity(f->d, q)->property->how == HANDBOOK_MEASURE;
    if (!v->blocked || (v->origin >= 0 && !measured))
        return;
    int origin = measured             ? dieset_measure_origin(f->d, dieset_quantity(f->d, q)->item, t->state)
                 : s->a && s->a->origin >= 0 ? s->a->origin
                 : s->b                      ? s->b->origin
                                             : -1;
    if (!measured && !s->a && findings_measures(t))
        origin = dieset_measure_origin(f->d, s->item, t->state);
    if (origin < 0)
        return;
    v->origin = dieset_of_slot(f->d, origin, NULL) < 0 ? named_origin(f, origin) : origin;
    v->error = (enum formula_error)model_value(dieset_model(f->d), origin).error;
}

static void settle(struct findings_pass *p, const struct findings_trial *t, struct findings_subject *s)
{
    if (base_give_up())
        return;
    struct findings_verdict v = findings_verdict_of(p->f, t, s);
    findings_trace(p->f, t, s, &v);
    p->said += v.blocked || (v.applies && v.fails);
    if (v.blocked)
        add_blocked(p, t, s, &v);
    else if (v.applies && v.fails)
        add(p, t, s, &v);
}

/* ---- subjects -------------------------------------------------------------------------------- */

static int text_number(const struct findings *f, const char *text)
{
    return base_pool_put(handbook_pool(dieset_handbook(f->d)), text ? text : "");
}

/* Arguments in the order of handbook_rule_names(). A field that is an error spoils only what reads it. */
static int fill_hole(const struct findings_drilled *d, struct findings_subject *s, int at)
{
    const struct dieset_hole *h = &d->hole;
    const double here = h->nowhere ? NAN : 0;
    const double values[FINDINGS_HOLE] = {h->x + here,
                                          h->y + here,
                                          h->diameter + here,
                                          h->depth,
                                          h->start,
                                          h->edge,
                                          h->rim,
                                          h->nominal,
                                          h->room,
                                          d->operation,
                                          d->fit,
                                          d->thread,
                                          h->through,
                                          h->length > 0,
                                          h->item,
                                          d->title,
                                          h->left_under};
    for (int i = 0; i < FINDINGS_HOLE; i++) {
        s->args[at + i] = values[i];
        s->errors[at + i] = isfinite(values[i]) ? FORMULA_FINE : FORMULA_EMPTY;
    }
    return at + FINDINGS_HOLE;
}

static const struct findings_drilled *drilled(struct findings_pass *p, int hole, enum dieset_state s)
{
    if (!p->drilled[s]) {
        size_t n = (size_t)dieset_hole_count(p->f->d) + 1;
        p->drilled[s] = base_alloc(n * sizeof *p->drilled[s]);
        p->is_drilled[s] = base_alloc(n);
    }
    struct findings_drilled *out = &p->drilled[s][hole];
    if (!p->is_drilled[s][hole]) {
        dieset_hole(p->f->d, hole, s, &out->hole);
        out->operation = text_number(p->f, out->hole.operation);
        out->fit = text_number(p->f, out->hole.fit);
        out->thread = text_number(p->f, out->hole.thread);
        out->title = text_number(p->f, out->hole.spec->title);
        p->is_drilled[s][hole] = true;
    }
    return out;
}

static void forget_bodies(struct findings_pass *p)
{
    for (int s = 0; s < DIESET_STATES; s++) {
        free(p->bodies[s]);
        p->bodies[s] = NULL;
    }
}

static void forget_guesses(struct findings_pass *p)
{
    findings_guesses_free(p->guesses);
    p->guesses = NULL;
}

void findings_pass_done(struct findings_pass *p)
{
    base_vec_done(&p->blocked);
    base_map_done(&p->places);
    base_map_done(&p->spots);
    base_text_done(&p->key);
    for (int s = 0; s < DIESET_STATES; s++) {
        free(p->drilled[s]);
        free(p->is_drilled[s]);
    }
    forget_guesses(p);
    forget_bodies(p);
    free(p->plates_moved);
}

/* ---- what has moved ---------------------------------------------------------------------------- */

static bool plate_moved(struct findings_pass *p, int plate)
{
    if (!p->plates_moved)
        p->plates_moved = base_alloc((size_t)dieset_item_count(p->f->d) + 1);
    signed char *moved = &p->plates_moved[plate];
    if (!*moved)
        *moved = dieset_holes_moved(p->f->d, plate, p->f->now->judged) ? 1 : -1;
    return *moved > 0;
}

static bool bodies_moved(struct findings_pass *p)
{
    if (!p->bodies_moved)
        p->bodies_moved = dieset_bodies_moved(p->f->d, p->f->now->judged) ? 1 : -1;
    return p->bodies_moved > 0;
}

static bool measures_moved(const struct findings *f, const struct findings_trial *t)
{
    for (int i = 0; i < findings_measures(t); i++)
        if (t->asks >> i & 1 &&
            (t->rule->over == HANDBOOK_EACH_JOINT ||
             dieset_measure_moved(f->d, t->item, t->block->names[i], f->now->judged)))
            return true;
    return false;
}

bool findings_moved(struct findings_pass *p, const struct findings_trial *t)
{
    const struct model *m = dieset_model(p->f->d);
    const struct formula_code *codes[] = {t->when, t->value, t->within};
    for (size_t i = 0; i < COUNT_OF(codes); i++)
        if (model_code_moved(m, codes[i], p->f->now->judged))
            return true;
    for (int i = 0; i < t->rule->n_rungs; i++)
        if (model_code_moved(m, t->rungs[i], p->f->now->judged))
            return true;
    switch (t->rule->over) {
    case HANDBOOK_ONCE:
    case HANDBOOK_EACH_KIND:
    case HANDBOOK_EACH_JOINT:
        return measures_moved(p->f, t);
    case HANDBOOK_EACH_HOLE:
    case HANDBOOK_EACH_PAIR:
        return plate_moved(p, t->plate);
    case HANDBOOK_EACH_BODIES:
        return bodies_moved(p);
    case HANDBOOK_EACH_TYPED:
    case HANDBOOK_EACH_WEAK:
    case HANDBOOK_ALL_WEAK:
    case HANDBOOK_EACH_GUESS:
        break;
    }
    return true;
}

/* ---- over all subjects -------------------------------------------------------------------------- */

static void over_item(struct findings_pass *p, const struct findings_trial *t)
{
    struct findings_subject s;
    findings_fill(p->f, t, &s);
    settle(p, t, &s);
}

static void over_holes(struct findings_pass *p, const struct findings_trial *t)
{
    int first, n = dieset_plate_holes(p->f->d, t->plate, &first);
    for (int i = first; i < first + n; i++) {
        const struct findings_drilled *h = drilled(p, i, t->state);
        struct findings_subject s = {.item = h->hole.item, .a = &h->hole};
        fill_hole(h, &s, 0);
        settle(p, t, &s);
    }
}

struct pair_pass { struct findings_pass *p; const struct findings_trial *t; double largest; };

static void over_pair(void *arg, int a, int b, double wall, double shared)
{
    struct pair_pass *pp = arg;
    const struct findings_drilled *ha = drilled(pp->p, a, pp->t->state),
                                  *hb = drilled(pp->p, b, pp->t->state);
    struct findings_subject s = {.item = ha->hole.item, .a = &ha->hole, .b = &hb->hole};
    int at = fill_hole(hb, &s, fill_hole(ha, &s, 0));
    s.args[at++] = wall;
    s.args[at++] = shared;
    s.args[at++] = pp->largest;
    s.args[at++] = ha->hole.item == hb->hole.item;
    s.args[at++] = wall < 0 && dieset_lies_in(&ha->hole, &hb->hole);
    s.args[at++] = wall < 0 && dieset_lies_in(&hb->hole, &ha->hole);
    settle(pp->p, pp->t, &s);
}

static void over_pairs(struct findings_pass *p, const struct findings_trial *t)
{
    struct findings *f = p->f;
    struct pair_pass pp = {p, t, 0};
    int first, n = dieset_plate_holes(f->d, t->plate, &first);
    for (int i = first; i < first + n; i++)
        pp.largest = fmax(pp.largest, drilled(p, i, t->state)->hole.diameter);
    struct findings_subject s = {0};
    for (int i = 0; i < t->block->count; i++)
        if (strcmp(t->block->names[i], "largest_hole") == 0)
            s.args[i] = pp.largest;
    struct formula_value within = t->within ? findings_value(f, t->within, &s)
                                            : (struct formula_value){.number = 2 * pp.largest};
    dieset_pairs(f->d, t->plate, t->state, within.error ? 2 * pp.largest : within.number, over_pair, &pp);
}

/* ---- two bodies -------------------------------------------------------------------------------- */

static const struct dieset_body *bodies_of(struct findings_pass *p, enum dieset_state s)
{
    int n = dieset_body_count(p->f->d);
    if (p->bodies[s])
        return p->bodies[s];
    p->bodies[s] = base_alloc((size_t)(n + 1) * sizeof *p->bodies[s]);
    for (int i = 0; i < n; i++)
        dieset_body(p->f->d, i, s, &p->bodies[s][i]);
    return p->bodies[s];
}

static int fill_body(const struct findings *f, const struct dieset_body *b, struct findings_subject *s,
                     int at)
{
    const double values[] = {b->plan.x,
                             b->plan.y,
                             b->plan.diameter,
                             b->low,
                             b->high,
                             b->plan.item,
                             text_number(f, b->plan.spec->title)};
    memcpy(s->args + at, values, sizeof values);
    return at + (int)COUNT_OF(values);
}

static void over_meeting(void *arg, const struct dieset_meeting *m)
{
    struct pair_pass *pp = arg;
    const struct dieset_body *bodies = bodies_of(pp->p, pp->t->state), *a = &bodies[m->a], *b = &bodies[m->b];
    struct findings_subject s = {.item = a->plan.item, .a = &a->plan, .b = &b->plan};
    int at = fill_body(pp->p->f, b, &s, fill_body(pp->p->f, a, &s, 0));
    const double values[] = {m->wall, m->high - m->low, m->low, m->high, m->ram};
    memcpy(s.args + at, values, sizeof values);
    settle(pp->p, pp->t, &s);
}

/* A body whose place, size or heights are not known is not judged, and that is told. */
static void over_bodies(struct findings_pass *p, const struct findings_trial *t)
{
    struct pair_pass pp = {p, t, 0};
    struct findings_subject none = {0};
    const struct dieset_body *bodies = bodies_of(p, t->state);
    for (int i = 0; i < dieset_body_count(p->f->d); i++)
        if (!bodies[i].known) {
            struct findings_subject s = {.item = bodies[i].plan.item, .a = &bodies[i].plan};
            struct findings_verdict v = {.blocked = true, .origin = -1, .error = FORMULA_EMPTY};
            findings_trace(p->f, t, &s, &v);
            add_blocked(p, t, &s, &v);
            p->said++;
        }
    struct formula_value within = findings_value(p->f, t->within, &none);
    if (!within.error)
        dieset_meetings(p->f->d, bodies, t->state, within.number, over_meeting, &pp);
}

/* Typed over a usual formula: of a property, a factor or a freed point. The measures of a pattern are there
   to be typed. */
static bool is_typed_over(const struct dieset_quantity *q)
{
    bool measure = typed_path_read(q->entry).place == TYPED_AT_TAKE;
    return q->typed && q->usual && q->text && !measure;
}

static void over_typed(struct findings_pass *p, const struct findings_trial *t)
{
    struct findings *f = p->f;
    for (int i = 0; i < dieset_quantity_count(f->d); i++) {
        const struct dieset_quantity *q = dieset_quantity(f->d, i);
        if (!is_typed_over(q) || !dieset_applies(f->d, i) ||
            (q->property && q->property->how != HANDBOOK_USUAL))
            continue;
        struct findings_subject s = {.item = q->item, .like = q->path};
        s.args[0] = text_number(f, q->path);
        s.args[1] = text_number(f, q->text);
        s.args[2] = text_number(f, q->usual);
        s.args[3] = q->reason != NULL;
        size_t before = f->list.count;
        settle(p, t, &s);
        if (f->list.count > before)
            f->list.at[before].cause = i;
    }
}

static void settle_weak(struct findings_pass *p, const struct findings_trial *t, const char *like,
                        const char *table, const char *standard, const char *quantities)
{
    struct findings_subject s = {.item = -1, .like = like};
    s.args[0] = text_number(p->f, table);
    s.args[1] = text_number(p->f, standard);
    s.args[2] = text_number(p->f, quantities);
    settle(p, t, &s);
}

/* "steel; guide_post", and what is read from each: "steel: die_plate.density; guide_post: ..." */
static void run_all_weak(struct findings_pass *p, const struct findings_trial *t,
                         const struct findings_weak *weak, int n)
{
    struct table_set *set = dieset_tables(p->f->d);
    struct base_text tables = {0}, standards = {0}, quantities = {0};
    for (int i = 0; i < n; i++) {
        const char *name = table_spec(set, weak[i].table)->name, *parted = i ? "; " : "";
        base_text_addf(&tables, "%s%s", parted, name);
        base_text_addf(&standards, "%s%s", parted, table_standard(set, weak[i].table));
        base_text_addf(&quantities, "%s%s%s%s", parted, name, weak[i].quantities.length ? ": " : "",
                       base_text_get(&weak[i].quantities));
    }
    if (n)
        settle_weak(p, t, "", base_text_get(&tables), base_text_get(&standards), base_text_get(&quantities));
    base_text_done(&tables);
    base_text_done(&standards);
    base_text_done(&quantities);
}

static void run_weak(struct findings_pass *p, const struct findings_trial *t,
                       const struct findings_weak *weak, int n)
{
    struct table_set *set = dieset_tables(p->f->d);
    if (t->rule->over == HANDBOOK_ALL_WEAK)
        run_all_weak(p, t, weak, n);
    else
        for (int i = 0; i < n; i++) {
            const char *name = table_spec(set, weak[i].table)->name;
            settle_weak(p, t, name, name, table_standard(set, weak[i].table),
                        base_text_get(&weak[i].quantities));
        }
}

struct guess_pass { struct findings_pass *p; const struct findings_trial *t; };

static void over_guess(void *arg, int q, const char *sureness, const char *rules)
{
    struct guess_pass *gp = arg;
    struct findings *f = gp->p->f;
    const struct dieset_quantity *quantity = dieset_quantity(f->d, q);
    struct findings_subject s = {.item = quantity->item, .like = quantity->path};
    struct base_text figure = {0};
    findings_say_quantity(f, q, &figure);
    s.args[0] = text_number(f, base_text_get(&figure));
    s.args[1] = text_number(f, sureness);
    s.args[2] = text_number(f, rules);
    base_text_done(&figure);
    size_t before = f->list.count;
    settle(gp->p, gp->t, &s);
    if (f->list.count > before)
        f->list.at[before].cause = q;
}

static void over_weak(struct findings_pass *p, const struct findings_trial *t)
{
    struct findings_weak weak[FINDINGS_WEAK];
    int n = findings_weak_tables(p->f, weak, FINDINGS_WEAK);
    run_weak(p, t, weak, n);
    for (int i = 0; i < n; i++)
        base_text_done(&weak[i].quantities);
}

void findings_run(struct findings_pass *p, const struct findings_trial *t)
{
    switch (t->rule->over) {
    case HANDBOOK_ONCE:
    case HANDBOOK_EACH_KIND:
    case HANDBOOK_EACH_JOINT:
        over_item(p, t);
        break;
    case HANDBOOK_EACH_HOLE:
        over_holes(p, t);
        break;
    case HANDBOOK_EACH_PAIR:
        over_pairs(p, t);
        break;
    case HANDBOOK_EACH_BODIES:
        over_bodies(p, t);
        break;
    case HANDBOOK_EACH_TYPED:
        over_typed(p, t);
        break;
    case HANDBOOK_EACH_WEAK:
    case HANDBOOK_ALL_WEAK:
        over_weak(p, t);
        break;
    case HANDBOOK_EACH_GUESS:
        findings_each_guess(p->f, guesses_of(p), over_guess, &(struct guess_pass){p, t});
        break;
    }
}

bool findings_stand(struct findings *f, const struct findings_trial *t, struct finding *out)
{
    struct findings_subject s;
    findings_fill(f, t, &s);
    struct findings_verdict v = findings_verdict_of(f, t, &s);
    if (v.blocked || !v.applies || !t->value)
        return false;
    *out = finding_of(t, &s, &v);
    out->key = key_of(f, t, &s);
    out->message = printed(f, t, FINDINGS_TELLS, &s);
    return true;
}
