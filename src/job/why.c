/* Why a value is what it is: the formula, the formula with its numbers put in, what it
 * hangs on, what hangs on it, and the handbook's words. Unfolded depth first from the model's reads.
 */

#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct unfolding {
    struct job *j;
    struct job_why_line *out;
    int count, room, deepest;
    bool *seen; /* by quantity */
};

/* ---- names in formulas as values ------------------------------------------------- */

struct filling {
    struct job *j;
    int quantity, item;
    enum dieset_state state;
};

/* A point's formula speaks of its pattern's measures and of the plate that it lies on ("middle_y +
 * left_across"): of what it reads, the one that ends so. -1: none, or several. */
static int meant_of_layout(struct job *j, int q, const char *path)
{
    struct dieset *d = j->dieset;
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    int n = 0, found = -1;
    const int *reads = !quantity->property && quantity->item >= 0 && quantity->slot[0] >= 0
                           ? model_reads(dieset_model(d), quantity->slot[0], &n)
                           : NULL;
    for (int i = 0; i < n; i++) {
        int r = dieset_of_slot(d, reads[i], NULL);
        const char *whole = r >= 0 ? dieset_quantity(d, r)->path : "";
        size_t long_by = strlen(whole) > strlen(path) ? strlen(whole) - strlen(path) : 0;
        if (!long_by || whole[long_by - 1] != '.' || strcmp(whole + long_by, path) != 0)
            continue;
        if (found >= 0)
            return -1;
        found = r;
    }
    return found;
}

/* What PATH of a text of ITEM means: its own property, a property behind a reference, a job's path, a
   factor. */
static int meant(struct job *j, int item, const char *path)
{
    char own[240];
    if (item >= 0) {
        snprintf(own, sizeof own, "%s.%s", dieset_item_name(j->dieset, item), path);
        int q = dieset_find(j->dieset, own);
        if (q >= 0)
            return q;
        const char *dot = strchr(path, '.');
        char *first = dot ? base_copy_n(path, (size_t)(dot - path)) : base_copy(path);
        int behind = dot ? dieset_reference(j->dieset, item, first) : -1;
        if (dot && strcmp(first, "this") == 0)
            behind = item;
        free(first);
        if (behind >= 0)
            return meant(j, behind, dot + 1);
        /* stack.die_plate.top: a reference of a single kind */
        int single = -1;
        if (dot) {
            char *name = base_copy_n(path, (size_t)(dot - path));
            single = dieset_find_item(j->dieset, name);
            free(name);
        }
        if (single >= 0 && single != item && strchr(dot + 1, '.'))
            return meant(j, single, dot + 1);
    }
    return dieset_find(j->dieset, path);
}

static int meant_by(const struct filling *f, const char *path)
{
    int q = meant_of_layout(f->j, f->quantity, path);
    return q >= 0 ? q : meant(f->j, f->item, path);
}

static void put_value(void *arg, const char *path, struct base_text *out)
{
    struct filling *f = arg;
    char buf[80];
    const struct dieset_quantity *of = dieset_quantity(f->j->dieset, f->quantity);
    if (strcmp(path, "usual") == 0 && of->usual_slot >= 0) {
        base_text_add(out,
                      handbook_print(f->j->handbook, model_value(dieset_model(f->j->dieset), of->usual_slot),
                                     of->type.type, dieset_system(f->j->dieset), buf, sizeof buf));
        return;
    }
    int part = dieset_point_part(f->j->dieset, f->quantity, path);
    if (part >= 0) {
        struct formula_type type = of->type.type;
        base_text_add(out, handbook_print(f->j->handbook, model_value(dieset_model(f->j->dieset), part), type,
                                          dieset_system(f->j->dieset), buf, sizeof buf));
        return;
    }
    int q = meant_by(f, path);
    base_text_add(out, q < 0 ? path : dieset_print(f->j->dieset, q, f->state, buf, sizeof buf));
}

/* ---- what holds of it ------------------------------------------------------------------- */

/* TEXT as the item of F has it, worked out. */
static struct formula_value run_text(const struct filling *f, const char *text, struct formula_type *type)
{
    struct formula_value v = {.error = FORMULA_IMPOSSIBLE};
    struct formula_tree *tree;
    if (formula_parse(text, &tree, NULL) != BASE_OK)
        return v;
    v = dieset_run(f->j->dieset, tree, f->item, f->state, type);
    formula_tree_free(tree);
    return v;
}

/* Quantities that a formula reads: those asked as things stand, and those in arms that are not taken. */
struct reads {
    BASE_VEC(int) live, dead;
};

/* Which arm a formula takes: that of a value (CALL NULL), or that of a function which it calls. */
struct asking {
    struct filling of;
    const struct handbook_call *call;
    struct reads *reads;
};

static void note_dead(const char *path, int start, void *arg)
{
    const struct asking *a = arg;
    (void)start;
    base_vec_push(&a->reads->dead, meant_by(&a->of, path));
}

static void note_live(const char *path, int start, void *arg)
{
    const struct asking *a = arg;
    (void)start;
    base_vec_push(&a->reads->live, meant_by(&a->of, path));
}

static bool is_dead(const struct reads *r, int q)
{
    bool dead = false;
    for (size_t i = 0; i < r->dead.count; i++)
        dead = dead || r->dead.at[i] == q;
    for (size_t i = 0; i < r->live.count && dead; i++)
        dead = r->live.at[i] != q;
    return dead;
}

static void put_given(void *arg, const char *path, struct base_text *out);

static int holds(void *arg, const char *condition)
{
    struct asking *a = arg;
    struct formula_type type;
    struct formula_tree *tree;
    struct base_text text = {0};
    if (formula_parse(condition, &tree, NULL) != BASE_OK)
        return -1;
    if (a->call)
        formula_filled(tree, put_given, a, &text);
    else
        base_text_add(&text, condition), formula_names(tree, note_live, a);
    struct formula_value v = run_text(&a->of, base_text_get(&text), &type);
    formula_tree_free(tree);
    base_text_done(&text);
    return v.error ? -1 : v.number != 0;
}

/* ---- a function's sum ------------------------------------------------------------------- */

static const struct formula_parameter *parameter_of(const struct handbook_call *c, const char *path, int *at)
{
    const struct formula_function *f = &c->function->f;
    for (*at = 0; *at < f->n_parameters && *at < HANDBOOK_ARGUMENTS; ++*at)
        if (strcmp(f->parameters[*at].name, path) == 0)
            return &f->parameters[*at];
    return NULL;
}

static const char *given_for(const struct handbook_call *c, const struct formula_parameter *p, int at)
{
    return c->arguments[at] ? c->arguments[at] : p->usual ? formula_text(p->usual) : p->name;
}

static const struct formula_tree *let_of(const struct handbook_call *c, const char *path)
{
    for (int i = 0; i < c->function->f.n_lets; i++)
        if (strcmp(c->function->f.lets[i].name, path) == 0)
            return c->function->f.lets[i].tree;
    return NULL;
}

/* A name of the function's body as the text that was given for it, for a condition to be worked out. */
static void put_given(void *arg, const char *path, struct base_text *out)
{
    struct asking *a = arg;
    int at;
    const struct formula_parameter *p = parameter_of(a->call, path, &at);
    const struct formula_tree *let = p ? NULL : let_of(a->call, path);
    if (!p && !let) {
        base_text_add(out, path);
        return;
    }
    base_text_add(out, "(");
    if (p)
        base_text_add(out, given_for(a->call, p, at));
    else
        formula_filled(let, put_given, a, out);
    base_text_add(out, ")");
}

static void put_worked(struct asking *a, const struct formula_tree *t, struct base_text *out);

/* ... and as the value that it has. */
static void put_argument(void *arg, const char *path, struct base_text *out)
{
    struct asking *a = arg;
    struct formula_type type = {0};
    char buf[80];
    int at;
    const struct formula_parameter *p = parameter_of(a->call, path, &at);
    const struct formula_tree *let = p ? NULL : let_of(a->call, path);
    if (let) {
        base_text_add(out, "(");
        put_worked(a, let, out);
        base_text_add(out, ")");
        return;
    }
    struct formula_value v = run_text(&a->of, p ? given_for(a->call, p, at) : path, &type);
    base_text_add(out, v.error ? path
                               : handbook_print(a->of.j->handbook, v, type, dieset_system(a->of.j->dieset),
                                                buf, sizeof buf));
}

static void put_worked(struct asking *a, const struct formula_tree *t, struct base_text *out)
{
    struct base_text text = {0};
    struct formula_tree *taken;
    formula_taken(t, holds, NULL, a, &text);
    if (formula_parse(base_text_get(&text), &taken, NULL) == BASE_OK) {
        formula_filled(taken, put_argument, a, out);
        formula_tree_free(taken);
    }
    base_text_done(&text);
}

/* Only a body of sums and products reads as a sum; one that asks tables is told by its source. */
static void fill_worked(const struct filling *f, const struct formula_tree *tree, struct job_why_line *line)
{
    struct handbook_call call;
    if (handbook_call(f->j->handbook, tree, &call) && call.function->f.gives) {
        struct asking a = {*f, &call, NULL};
        struct base_text text = {0};
        put_worked(&a, call.function->f.gives, &text);
        if (strlen(base_text_get(&text)) < sizeof line->worked)
            snprintf(line->worked, sizeof line->worked, "%s", base_text_get(&text));
        base_text_done(&text);
    }
    handbook_call_done(&call);
}

/* TEXT into OUT; what has no room is cut before a whole letter, and says so. */
static void put_text(char *out, size_t size, const char *text)
{
    size_t n = strlen(text), cut = size - sizeof " ..";
    while (n >= size && cut && ((unsigned char)text[cut] & 0xC0) == 0x80)
        cut--;
    snprintf(out, size, n < size ? "%.*s" : "%.*s ..", (int)(n < size ? n : cut), text);
}

/* The formula as it holds, with its values; the value that was asked for also with what its function adds
   up. */
static void fill_formula(struct job *j, int quantity, enum dieset_state s, struct job_why_line *line,
                         struct reads *reads)
{
    const struct dieset_quantity *q = dieset_quantity(j->dieset, quantity);
    struct filling f = {j, quantity, q->item, s};
    struct asking a = {f, NULL, reads};
    struct base_text text = {0};
    struct formula_tree *tree, *taken;
    if (!q->text || formula_parse(q->text, &tree, NULL) != BASE_OK)
        return;
    /* a point's formula speaks of its pattern's measures, which the item's own names may hide */
    bool point = !q->property && q->item >= 0;
    if (point)
        base_text_add(&text, q->text);
    else if (formula_taken(tree, holds, note_dead, &a, &text))
        put_text(line->taken, sizeof line->taken, base_text_get(&text));
    if (formula_parse(base_text_get(&text), &taken, NULL) == BASE_OK) {
        base_text_clear(&text);
        formula_names(taken, note_live, &a);
        if (!formula_is_literal(taken)) {
            formula_filled(taken, put_value, &f, &text);
            put_text(line->filled, sizeof line->filled, base_text_get(&text));
        }
        if (line->depth == 0)
            fill_worked(&f, taken, line);
        formula_tree_free(taken);
    }
    formula_tree_free(tree);
    base_text_done(&text);
}

/* ---- lines -------------------------------------------------------------------------- */

static const char *source_of(struct job *j, const struct dieset_quantity *q, const char **read)
{
    *read = "";
    if (q->typed)
        return q->reason ? q->reason : q->usual ? "typed over" : "typed";
    int table, row, column;
    if (dieset_slot_cell(j->dieset, q->slot[DIESET_NEW], &table, &row, &column))
        return table_row_source(dieset_tables(j->dieset), table, row);
    if (q->property && q->property->source) {
        *read = q->property->seen;
        return q->property->source;
    }
    int factor = handbook_find_factor(j->handbook, q->path);
    if (factor >= 0 && handbook_factor(j->handbook, factor)->source) {
        *read = handbook_factor(j->handbook, factor)->seen;
        return handbook_factor(j->handbook, factor)->source;
    }
    /* the first handbook function that its formula calls */
    for (int i = 0; q->text && i < handbook_function_count(j->handbook); i++) {
        const struct handbook_function *f = handbook_function(j->handbook, i);
        const char *at = strstr(q->text, f->f.name);
        if (at && at[strlen(f->f.name)] == '(' && f->source) {
            *read = f->seen;
            return f->source;
        }
    }
    return "";
}

/* A figure that stands in a parts table: which table, and how sure it is. */
static void tell_pick(struct job *j, int slot, char *out, size_t size)
{
    struct table_set *set = dieset_tables(j->dieset);
    int table, row, column;
    char sure[60];
    if (dieset_slot_cell(j->dieset, slot, &table, &row, &column))
        snprintf(out, size, "%s: %s", table_spec(set, table)->name,
                 table_cell_sureness(set, table, row, column, sure, sizeof sure));
}

/* READS gets what its formula asks and does not ask; yours to empty. */
static void fill_line(struct job *j, int q, enum dieset_state s, struct job_why_line *line,
                      struct reads *reads)
{
    const struct dieset_quantity *quantity = dieset_quantity(j->dieset, q);
    snprintf(line->label, sizeof line->label, "%s", quantity->path);
    dieset_print(j->dieset, q, s, line->value, sizeof line->value);
    put_text(line->formula, sizeof line->formula, quantity->text ? quantity->text : "");
    fill_formula(j, q, s, line, reads);
    snprintf(line->source, sizeof line->source, "%s", source_of(j, quantity, &line->read));
    if (!quantity->typed)
        tell_pick(j, quantity->slot[s], line->pick, sizeof line->pick);
}

static void unfold(struct unfolding *u, int q, enum dieset_state s, int depth, bool dead);

/* The place of the frame of a point, or the point's place in that: no values of their own, what they read
 * is. */
static bool is_point_part(const struct dieset *d, int q, int slot)
{
    static const char *const parts[] = {"frame_x", "frame_y", "frame_turn", "place_x", "place_y"};
    for (size_t i = 0; i < COUNT_OF(parts); i++)
        if (dieset_point_part(d, q, parts[i]) == slot)
            return true;
    return false;
}

/* What slot SLOT of Q reads, a level down; what its usual formula reads where the typed one says `usual`. */
static void unfold_reads(struct unfolding *u, int q, int slot, enum dieset_state s, int depth,
                         const struct reads *asked)
{
    int n;
    const int *reads = model_reads(dieset_model(u->j->dieset), slot, &n);
    for (int i = 0; i < n; i++) {
        enum dieset_state below = s;
        int next = dieset_of_slot(u->j->dieset, reads[i], &below);
        bool usual = reads[i] == dieset_quantity(u->j->dieset, q)->usual_slot;
        if (next < 0 && (usual || is_point_part(u->j->dieset, q, reads[i])) && reads[i] != slot)
            unfold_reads(u, q, reads[i], s, depth, &(struct reads){{0}, {0}}); /* a formula of its own */
        if (next < 0 || !dieset_applies(u->j->dieset, next))
            continue;
        /* a value that does not hang on the state is told in the state that was asked for */
        const struct dieset_quantity *nq = dieset_quantity(u->j->dieset, next);
        unfold(u, next, nq->slot[0] == nq->slot[1] ? s : below, depth + 1, is_dead(asked, next));
    }
}

/* DEAD: only an arm that is not taken reads it; it is named and goes no deeper. */
static void unfold(struct unfolding *u, int q, enum dieset_state s, int depth, bool dead)
{
    if (u->count == u->room)
        return;
    struct job_why_line *line = &u->out[u->count++];
    struct reads asked = {{0}, {0}};
    *line = (struct job_why_line){
        .depth = depth, .quantity = q, .state = s, .seen = u->seen[q] && !dead, .folded = dead};
    fill_line(u->j, q, s, line, &asked);
    int n = 0, slot = dieset_quantity(u->j->dieset, q)->slot[s]; /* -1: geometry's, reads nothing */
    if (slot >= 0)
        model_reads(dieset_model(u->j->dieset), slot, &n);
    if (!u->seen[q] && !dead) {
        u->seen[q] = true;
        if (depth == u->deepest)
            line->more = n > 0;
        else if (slot >= 0)
            unfold_reads(u, q, slot, s, depth, &asked);
    }
    base_vec_done(&asked.live);
    base_vec_done(&asked.dead);
}

int job_why(struct job *j, int q, enum dieset_state s, int depth, struct job_why_line *out, int room)
{
    struct unfolding u = {j, out, 0, room, depth, base_alloc((size_t)dieset_quantity_count(j->dieset) + 1)};
    unfold(&u, q, s, 0, false);
    free(u.seen);
    return u.count;
}

int job_reaches(struct job *j, int q, int *out, int room)
{
    struct model *m = dieset_model(j->dieset);
    const struct dieset_quantity *quantity = dieset_quantity(j->dieset, q);
    int n_all = model_count(m), count = 0, head = 0, tail = 0;
    int *queue = base_alloc((size_t)(n_all + 2) * sizeof *queue);
    bool *seen = base_alloc((size_t)n_all + 1);
    bool *told = base_alloc((size_t)dieset_quantity_count(j->dieset) + 1);
    told[q] = true;
    for (int s = 0; s < DIESET_STATES; s++)
        if (quantity->slot[s] >= 0 && !seen[quantity->slot[s]]) {
            seen[quantity->slot[s]] = true;
            queue[tail++] = quantity->slot[s];
        }
    int parts[DIESET_PARTS];
    /* a line itself is a text that nothing reads */
    for (int p = dieset_line_slots(j->dieset, q, parts) - 1; p >= 0; p--)
        seen[queue[tail++] = parts[p]] = true;
    while (head < tail) {
        int n;
        const int *readers = model_readers(m, queue[head++], &n);
        for (int i = 0; i < n; i++) {
            if (seen[readers[i]])
                continue;
            seen[readers[i]] = true;
            queue[tail++] = readers[i];
            int r = dieset_of_slot(j->dieset, readers[i], NULL);
            if (r >= 0 && !told[r] && count < room && dieset_applies(j->dieset, r)) {
                told[r] = true;
                out[count++] = r;
            }
        }
    }
    free(queue);
    free(seen);
    free(told);
    return count;
}

/* ---- the other way -------------------------------------------------------------------- */

/* Quantities that read Q with no other quantity between, in the model's order; how many. */
static int readers_of(struct job *j, int q, int *out, int room)
{
    struct model *m = dieset_model(j->dieset);
    const struct dieset_quantity *quantity = dieset_quantity(j->dieset, q);
    int tail = 0, count = 0, *queue = base_alloc((size_t)(model_count(m) + 2 + DIESET_PARTS) * sizeof *queue);
    bool *seen = base_alloc((size_t)model_count(m) + 1),
         *told = base_alloc((size_t)dieset_quantity_count(j->dieset) + 1);
    told[q] = true;
    for (int s = 0; s < DIESET_STATES; s++)
        if (quantity->slot[s] >= 0 && !seen[quantity->slot[s]])
            seen[queue[tail++] = quantity->slot[s]] = true;
    int parts[DIESET_PARTS];
    for (int p = dieset_line_slots(j->dieset, q, parts) - 1; p >= 0; p--)
        seen[queue[tail++] = parts[p]] = true;
    for (int head = 0; head < tail; head++) {
        int n;
        const int *readers = model_readers(m, queue[head], &n);
        for (int i = 0; i < n; i++) {
            int slot = readers[i], r = dieset_of_slot(j->dieset, slot, NULL);
            if (seen[slot])
                continue;
            seen[slot] = true;
            if (r < 0 || r == q)
                queue[tail++] = slot;
            else if (!told[r] && count < room && dieset_applies(j->dieset, r))
                out[count++] = r;
            if (r >= 0)
                told[r] = true;
        }
    }
    free(queue);
    free(seen);
    free(told);
    return count;
}

static void unfold_up(struct unfolding *u, int q, enum dieset_state s, int depth)
{
    enum { MOST = 400 };
    if (u->count == u->room)
        return;
    struct job_why_line *line = &u->out[u->count++];
    *line = (struct job_why_line){.depth = depth, .quantity = q, .state = s, .seen = u->seen[q]};
    struct reads asked = {{0}, {0}};
    fill_line(u->j, q, s, line, &asked);
    base_vec_done(&asked.live);
    base_vec_done(&asked.dead);
    if (u->seen[q])
        return;
    u->seen[q] = true;
    int *readers = base_alloc(MOST * sizeof *readers), n = readers_of(u->j, q, readers, MOST);
    line->more = depth == u->deepest && n > 0;
    for (int i = 0; i < n && depth < u->deepest; i++)
        unfold_up(u, readers[i], s, depth + 1);
    free(readers);
}

int job_reach(struct job *j, int q, enum dieset_state s, int depth, struct job_why_line *out, int room)
{
    struct unfolding u = {j, out, 0, room, depth, base_alloc((size_t)dieset_quantity_count(j->dieset) + 1)};
    unfold_up(&u, q, s, 0);
    free(u.seen);
    return u.count;
}

void job_describe(struct job *j, int q, struct base_text *out)
{
    const struct dieset_quantity *quantity = dieset_quantity(j->dieset, q);
    int factor = handbook_find_factor(j->handbook, quantity->path);
    const char *help = quantity->property ? quantity->property->help : NULL;
    if (!help && factor >= 0)
        help = handbook_factor(j->handbook, factor)->help;
    if (help)
        base_text_addf(out, "%s", help);
    const char *read, *source = source_of(j, quantity, &read);
    if (*source)
        base_text_addf(out, "%sSource: %s.", help ? " " : "", source);
    if (quantity->typed && quantity->usual)
        base_text_addf(out, "%sUsual: %s.", out->length ? " " : "", quantity->usual);
    if (!dieset_applies(j->dieset, q))
        base_text_addf(out, "%sNot used as the job stands: it is kept, and counts again when it is.",
                       out->length ? " " : "");
}
